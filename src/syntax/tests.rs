//! Every form of `grammar/guide.md`, and the slips that have a message of their own.

#![expect(clippy::wildcard_enum_match_arm, reason = "a test fails on every kind but one")]

use super::tree::{
    AgainExtent, Body, Ending, Extent, Header, KindWhat, Lead, LineKind, LoopOnly, Place, RepeatBody, SeamSide,
    Setting, Start, StepKind, StitchBody, TermValue, Till, Way, Where,
};
use super::{codes, parse};
use crate::diagnostic::{Code, Diagnostic};

/// The one line of a text that must be without findings.
fn clean(text: &str) -> LineKind {
    let (file, findings) = parse(text);
    assert!(findings.is_empty(), "{text}: {findings:#?}");
    assert_eq!(file.lines.len(), 1, "{text}");
    file.lines.into_iter().next().unwrap().kind
}

fn header(text: &str) -> Header {
    match clean(text) {
        LineKind::Header(header) => header,
        other => panic!("{text}: {other:?}"),
    }
}

fn steps(text: &str) -> Vec<StepKind> {
    let line = format!("rnd 1: {text}");
    match clean(&line) {
        LineKind::Work(work) => match work.body {
            Body::Steps(steps) => steps.into_iter().map(|s| s.kind).collect(),
            other => panic!("{line}: {other:?}"),
        },
        other => panic!("{line}: {other:?}"),
    }
}

fn step(text: &str) -> StepKind {
    let mut steps = steps(text);
    assert_eq!(steps.len(), 1, "{text}");
    steps.remove(0)
}

/// Every line of the guide's tables.
const LINES: &[&str] = &[
    "pattern Tern Point Bonnet",
    "by Wren Hollow",
    "about A bonnet worked from the crown down.",
    "sizes 0-6 months / 6-12 months",
    "terms US",
    "terms UK",
    "for baby",
    "skill easy",
    "hook 4.5 mm",
    "meant lead-height because the edge is worked over later",
    "meant unused-yarn, unsaid because it is an exercise",
    "hook band 4 mm",
    "yarn A \"oat\", weight 3, 50 g = 110 m",
    "gauge 17 sts x 19 rows in sc = 10 cm",
    "gauge band 18 sts x 20 rows in sc = 10 cm",
    "finished around 46 / 50 cm",
    "finished length 20 cm",
    "fits head 48-52 cm",
    "notion stitch marker",
    "set rim = 60 / 66 / 72",
    "counts stitches",
    "counts stitches and chains",
    "stitch vst \"V-stitch\": (dc, ch 1, dc) in next",
    "stitch loop \"loop stitch\": takes 1, makes 1",
    "stitch loop \"loop stitch\": takes 1, makes 1 > Wrap the yarn round two fingers.",
    "note Work loosely.",
    "version 2 of 2026-03-01",
    "piece Crown, in joined rounds",
    "piece Band, in rows",
    "piece Ball, in a spiral",
    "piece Ear, in a spiral, make 2",
    "with A",
    "using band",
    "lead ch 1",
    "lead ch 3 as dc",
    "lead none",
    "stripe A 2, B 1",
    "start ring",
    "start ch 7",
    "start ch 4 joined",
    "start 24 fsc",
    "start edge of Band",
    "start other side of Band",
    "start top of Band",
    "fasten off",
    "gather 16",
    "seam row 1 to row 40",
    "seam first 12 to last 12",
    "sew Ear to Crown over 12",
    "rnd 7: sc = 6",
    "row 7: sc",
    "rnds 8-12: sc to end",
    "row: sc",
    "row 2 ws: sc",
    "rnd 1 rs: sc",
    "rnd 11: as rnd 4",
    "again rnds 2-3 until rnd 12",
    "again rows 3-4, 4 times",
    "again rnd 9 until 18 cm",
    "again rows 3-4 until 18 sts",
    "only toddler, child: rnd 7: sc = 6",
    "# a remark",
    "> Place a marker in the *first* stitch.",
    "rnd 1: 6 sc in ring   = 6",
    "rnd 1: sc = 12 dc + 4 ch-2 sp",
    "rnd 1: sc = 18 / 24 / 30",
    "Rnd 3: [SC, Inc] To End",
];

/// Every step of its table of steps.
const STEPS: &[&str] = &[
    "sc",
    "sc 4",
    "sc to end",
    "sc to last 2",
    "dc to next ch-2 sp",
    "sc to neck",
    "sc in next 4",
    "sc in next 3 ch",
    "dc in next 2 dc",
    "sc in each st to end",
    "2 sc in each ch-1 sp to last 2",
    "3 dc in next",
    "sc in same",
    "6 sc in ring",
    "sc in first",
    "sc in last",
    "sc in lead",
    "dc in next ch-2 sp",
    "in next dc",
    "dc in next ch sp",
    "dc in 4th ch from hook, dc to end",
    "(2 dc, ch 2, 2 dc) in next ch-2 sp",
    "(dc, ch 1, dc) in each ch-1 sp to end",
    "(dc, fpdc) together",
    "sc2tog",
    "dc3tog 4",
    "[sc 2, inc] 6 times",
    "[sc 2, inc] to end",
    "[sc 2, inc] to last 3",
    "[sc 2, inc] to next ch-2 sp",
    "[dc, ** ch 1, skip 1] to end",
    "[on dc: fpdc; on fpdc: dc] to end",
    "blo sc 6",
    "flo dc",
    "fpdc",
    "bpdc 2",
    "sc 2 rows below",
    "ch 3",
    "skip 2",
    "skip next ch-2 sp",
    "sl st 2",
    "leave 4",
    "leave rest",
    "ch 3 as dc",
    "ch 3 as dc, ch 1",
    "turning ch 5 as dc + ch-2 sp",
    "move 2",
    "move to next ch-2 sp",
    "turn",
    "other side",
    "no lead",
    "lead ch 2",
    "mark neck",
    "in neck",
    "change to B",
    "fasten off",
    "rejoin B in next ch-2 sp",
    "close with ch 2 and dc",
    "sc {rim / 6 - 1}",
    "sc 10 / 12 / 14",
    "sc {a} / {b} / 4",
    "sc {(rim + 2) * 3}",
    "sc in next st",
    "sc in next stitch, 2 sc in next",
    "[[sc 2, inc] 2 times, (sc, ch 1) in next] 3 times",
];

#[test]
fn every_form_of_the_guide_is_read() {
    for line in LINES {
        clean(line);
    }
    for line in STEPS {
        steps(line);
    }
}

// ---- What the tree holds

#[test]
fn header_lines_keep_their_parts() {
    let Header::Yarn { name, colour, weight, ball, more } =
        header("yarn A “oat, light”, weight 3, 50 g = 110 m, 4 balls")
    else {
        panic!()
    };
    assert_eq!(name.text, "A");
    assert_eq!(colour.unwrap().text, "oat, light");
    assert_eq!(weight.unwrap().text, "3");
    let (mass, length) = ball.unwrap();
    assert_eq!((mass.number.as_str(), mass.unit.as_str()), ("50", "g"));
    assert_eq!((length.number.as_str(), length.unit.as_str()), ("110", "m"));
    assert_eq!(more[0].text, "4 balls");

    let Header::Gauge { name, stitches, rows, stitch, over } =
        header("gauge band 17.5 sts × 19 rnds in [sc, ch 1] = 4 in")
    else {
        panic!()
    };
    assert_eq!(name.unwrap().text, "band");
    assert_eq!((stitches.text.as_str(), rows.text.as_str()), ("17.5", "19"));
    assert_eq!(stitch.unwrap().text, "[sc, ch 1]");
    assert_eq!((over.number.as_str(), over.unit.as_str()), ("4", "in"));

    let Header::Finished { what, numbers, unit, at } = header("finished around 46 / 50.5 cm at Left Cuff") else {
        panic!()
    };
    assert_eq!((what.text.as_str(), unit.text.as_str()), ("around", "cm"));
    assert_eq!(numbers.iter().map(|n| n.text.as_str()).collect::<Vec<_>>(), ["46", "50.5"]);
    assert_eq!(at.unwrap().text, "Left Cuff");

    let Header::Hook { name, size, letter } = header("hook band 4.5 mm (US G-6)") else { panic!() };
    assert_eq!((name.unwrap().text.as_str(), size.unwrap().text.as_str()), ("band", "4.5"));
    assert_eq!(letter.unwrap().text, "US G-6");

    let Header::Sizes(sizes) = header("sizes 0-6 months / 6-12 months") else { panic!() };
    assert_eq!(sizes[1].text, "6-12 months");

    assert!(matches!(header("counts stitches and chains"), Header::Counts { chains: true, .. }));
    assert!(matches!(header("counts stitches"), Header::Counts { chains: false, .. }));

    let Header::Note(note) = header("note  Work   loosely.  # a remark") else { panic!() };
    assert_eq!(note.text.text, "Work loosely.");
}

#[test]
fn own_stitches_are_steps_or_a_unit_with_words() {
    let Header::Stitch(own) = header("stitch vst \"V-stitch\": (dc, ch 1, dc) in next") else { panic!() };
    assert_eq!((own.name.text.as_str(), own.full.unwrap().text.as_str()), ("vst", "V-stitch"));
    assert!(matches!(own.body, StitchBody::Steps(steps) if matches!(steps[0].kind, StepKind::Group { .. })));
    let Header::Stitch(own) = header("stitch loop: takes 1, makes 2 > Wrap the yarn # twice.") else { panic!() };
    assert!(matches!(own.body, StitchBody::Unit { takes, makes } if takes.value == 1 && makes.value == 2));
    assert_eq!(own.words.unwrap().text, "Wrap the yarn # twice.");
}

#[test]
fn pieces_settings_starts_and_endings_keep_their_parts() {
    let LineKind::Piece(piece) = clean("piece Left Ear, in a spiral, make 2") else { panic!() };
    assert_eq!(piece.name.text, "Left Ear");
    assert_eq!((piece.way, piece.copies.unwrap().value), (Some(Way::Spiral), 2));
    assert!(matches!(clean("piece A"), LineKind::Piece(piece) if piece.way.is_none()));
    assert!(matches!(clean("lead none"), LineKind::Setting(Setting::Lead(Lead::None))));
    let LineKind::Setting(Setting::Lead(Lead::Chain { chains, counts_as })) = clean("lead ch 3 as dc") else {
        panic!()
    };
    assert_eq!((chains.value, counts_as.unwrap().text.as_str()), (3, "dc"));
    let LineKind::Setting(Setting::Stripe(stripes)) = clean("stripe A 2, B 1") else { panic!() };
    assert_eq!((stripes[0].0.text.as_str(), stripes[0].1.value, stripes[1].1.value), ("A", 2, 1));
    assert!(matches!(clean("start ring"), LineKind::Start(Start::Ring)));
    assert!(matches!(clean("start ch 4 joined"), LineKind::Start(Start::Chain { joined: true, .. })));
    assert!(matches!(clean("start ch 4"), LineKind::Start(Start::Chain { joined: false, .. })));
    let LineKind::Start(Start::Foundation { count, stitch }) = clean("start 24 / 30 fsc") else { panic!() };
    assert_eq!((count.terms.len(), stitch.text.as_str()), (2, "fsc"));
    assert!(
        matches!(clean("start other side of Left Ear"), LineKind::Start(Start::OtherSide(n)) if n.text == "Left Ear")
    );
    assert!(matches!(clean("gather"), LineKind::Ending(Ending::Gather(None))));
    assert!(matches!(
        clean("seam start to row 40"),
        LineKind::Ending(Ending::Seam(SeamSide::Start, SeamSide::Row(n))) if n.terms[0].value == TermValue::Number(40)
    ));
    let LineKind::Ending(Ending::Sew { piece, to, over }) = clean("sew Left Ear to Crown over 12") else { panic!() };
    assert_eq!((piece.text.as_str(), to.text.as_str()), ("Left Ear", "Crown"));
    assert!(over.is_some());
    assert!(matches!(clean("change to B"), LineKind::Ending(Ending::ChangeTo(yarn)) if yarn.text == "B"));
}

#[test]
fn labels_and_counts_keep_their_parts() {
    let LineKind::Work(work) = clean("rnds 8–12 ws: sc to end = 12 dc + 4 ch-2 sp") else { panic!() };
    assert!(work.label.round);
    assert_eq!((work.label.from.unwrap().value, work.label.to.unwrap().value), (8, 12));
    assert_eq!(work.label.right_side, Some(false));
    let parts = work.stated.unwrap().parts;
    assert_eq!(parts[0].kind.as_ref().unwrap().what, KindWhat::Stitch("dc".to_owned()));
    assert_eq!(parts[1].kind.as_ref().unwrap().what, KindWhat::Space(2));
    let LineKind::Work(work) = clean("row: sc = 18 / 24 / 30") else { panic!() };
    assert!(!work.label.round && work.label.from.is_none());
    assert_eq!(work.stated.unwrap().parts[0].amount.terms.len(), 3);
    assert!(matches!(
        clean("rnd 11: as rnd 4"),
        LineKind::Work(work) if matches!(work.body, Body::As { round: true, number, .. } if number.value == 4)
    ));
    let LineKind::Again(again) = clean("again rows 3-4, 4 / 5 times = 18") else { panic!() };
    assert_eq!((again.from.value, again.to.value), (3, 4));
    assert!(matches!(again.extent, AgainExtent::Times(times) if times.terms.len() == 2));
    assert!(again.stated.is_some());
    let LineKind::Again(again) = clean("again rnd 9 until 18 / 19.5 cm") else { panic!() };
    assert!(matches!(again.extent, AgainExtent::UntilLength { numbers, .. } if numbers[1].text == "19.5"));
    let until = |text| match clean(text) {
        LineKind::Again(again) => again.extent,
        other => panic!("{other:?}"),
    };
    assert!(matches!(until("again rnds 2-3 until rnd 12"), AgainExtent::UntilLine(_)));
    assert!(matches!(until("again rows 3-4 until 18 sts"), AgainExtent::UntilStitches(_)));
}

#[test]
fn sizes_in_front_of_a_line_are_kept() {
    let (file, findings) = parse("only toddler, child: rnd 7: sc = 6");
    assert!(findings.is_empty());
    let names: Vec<_> = file.lines[0].only.iter().map(|name| name.text.as_str()).collect();
    assert_eq!(names, ["toddler", "child"]);
}

#[test]
fn arithmetic_binds_as_usual() {
    let StepKind::Work(work) = step("sc {rim + 2 * 3 - (a - 1) / 2} / 4") else { panic!() };
    let Where::Count { amount, .. } = work.places else { panic!() };
    assert_eq!(amount.terms.len(), 2);
    let TermValue::Sum(sum) = &amount.terms[0].value else { panic!() };
    assert_eq!(shown(sum), "((rim+(2*3))-((a-1)/2))");
}

fn shown(sum: &super::tree::Sum) -> String {
    use super::tree::Sum;
    match sum {
        Sum::Number(n) => n.value.to_string(),
        Sum::Name(name) => name.text.clone(),
        Sum::Of { sign, left, right, .. } => format!("({}{sign}{})", shown(left), shown(right)),
    }
}

/// The places of a single stitch.
fn places(text: &str) -> Where {
    match step(text) {
        StepKind::Work(work) => work.places,
        other => panic!("{text}: {other:?}"),
    }
}

#[test]
fn every_place_is_told_apart() {
    assert_eq!(places("sc"), Where::Bare);
    assert!(matches!(places("sc 4"), Where::Count { kind: None, .. }));
    assert!(matches!(places("sc in next 4"), Where::Count { kind: None, .. }));
    assert!(matches!(places("sc in next 3 ch"), Where::Count { kind: Some(k), .. } if k.what == KindWhat::Chain));
    assert!(matches!(places("sc to end"), Where::Till(Till::End)));
    assert!(matches!(places("sc to last 2"), Where::Till(Till::Last(_))));
    assert!(matches!(places("dc to next ch-2 sp"), Where::Till(Till::Next(k)) if k.what == KindWhat::Space(2)));
    assert!(matches!(places("sc to neck"), Where::Till(Till::Mark(name)) if name.text == "neck"));
    assert!(
        matches!(places("sc in each st to end"), Where::Each { kind, till: Till::End } if kind.what == KindWhat::AnyStitch)
    );
    assert!(matches!(places("sc in next"), Where::In(Place::Next)));
    assert!(
        matches!(places("dc in next sl st"), Where::In(Place::NextOf(k)) if k.what == KindWhat::Stitch("sl st".to_owned()))
    );
    assert!(matches!(places("dc in next ch sp"), Where::In(Place::NextOf(k)) if k.what == KindWhat::AnySpace));
    assert!(matches!(places("sc in same st"), Where::In(Place::Same(Some(super::tree::Called::Stitch)))));
    assert!(matches!(places("sc in ring"), Where::In(Place::Ring)));
    assert!(matches!(places("sc in first"), Where::In(Place::First)));
    assert!(matches!(places("sc in last"), Where::In(Place::Last)));
    assert!(matches!(places("sc in lead"), Where::In(Place::Lead)));
    assert!(matches!(places("sc in 4th ch from hook"), Where::In(Place::FromHook(n)) if n.value == 4));
    assert!(matches!(places("sc in neck"), Where::In(Place::Mark(name)) if name.text == "neck"));
}

#[test]
fn stitches_keep_loop_rows_below_and_number() {
    let StepKind::Work(work) = step("3 / 4 blo sc 2 rows below in next 4") else { panic!() };
    assert_eq!(work.each.unwrap().terms.len(), 2);
    assert_eq!((work.loop_only, work.below.unwrap().value), (Some(LoopOnly::Back), 2));
    let StepKind::Work(work) = step("sl  st 2") else { panic!() };
    assert_eq!(work.stitch.text, "sl st");
    assert!(matches!(step("flo dc"), StepKind::Work(work) if work.loop_only == Some(LoopOnly::Front)));
}

#[test]
fn every_other_step_is_told_apart() {
    assert!(matches!(step("(dc, fpdc) together"), StepKind::Together(steps) if steps.len() == 2));
    assert!(matches!(step("(2 dc, ch 2) in next ch-2 sp"), StepKind::Group { place: Where::In(_), .. }));
    assert!(matches!(step("(dc, ch 1, dc) in each ch-1 sp to end"), StepKind::Group { place: Where::Each { .. }, .. }));
    assert!(matches!(step("ch 3 as dc"), StepKind::ChainAs { stitch, .. } if stitch.text == "dc"));
    assert!(matches!(step("turning ch 5 as dc + ch-2 sp"), StepKind::TurningAs { space: Some(n), .. } if n.value == 2));
    assert!(matches!(step("skip 2"), StepKind::Skip { amount: Some(_), kind: None }));
    assert!(matches!(step("skip next ch-2 sp"), StepKind::Skip { amount: None, kind: Some(_) }));
    assert!(matches!(step("skip 3 dc"), StepKind::Skip { amount: Some(_), kind: Some(_) }));
    assert!(matches!(step("leave rest"), StepKind::Leave(None)));
    assert!(matches!(step("leave 4"), StepKind::Leave(Some(_))));
    assert!(matches!(step("move 2"), StepKind::Move(Where::Count { .. })));
    assert!(matches!(step("move to next ch-2 sp"), StepKind::Move(Where::Till(Till::Next(_)))));
    assert_eq!(step("turn"), StepKind::Turn);
    assert_eq!(step("other side"), StepKind::OtherSide);
    assert_eq!(step("no lead"), StepKind::Lead(Lead::None));
    assert!(matches!(step("lead ch 2"), StepKind::Lead(Lead::Chain { counts_as: None, .. })));
    assert!(matches!(step("mark neck"), StepKind::Mark(name) if name.text == "neck"));
    assert!(matches!(step("in neck"), StepKind::Go(Place::Mark(_))));
    assert!(matches!(step("change to B"), StepKind::ChangeTo(yarn) if yarn.text == "B"));
    assert_eq!(step("fasten off"), StepKind::FastenOff);
    assert!(matches!(step("rejoin B in next ch-2 sp"), StepKind::Rejoin { yarn: Some(_), place: Place::NextOf(_) }));
    assert!(matches!(step("rejoin in next"), StepKind::Rejoin { yarn: None, place: Place::Next }));
    assert!(matches!(step("close with ch 2 and dc"), StepKind::Close { stitch, .. } if stitch.text == "dc"));
}

#[test]
fn repeats_keep_their_stars_arms_and_extent() {
    let StepKind::Repeat(repeat) = step("[dc, ** ch 1, skip 1] to last 3") else { panic!() };
    assert!(matches!(repeat.body, RepeatBody::Steps { steps, stop: Some(1) } if steps.len() == 3));
    assert!(matches!(repeat.extent, Extent::Till(Till::Last(_))));
    let StepKind::Repeat(repeat) = step("[on dc: fpdc; on ch-1 sp: dc, ch 1] 6 times") else { panic!() };
    let RepeatBody::On(arms) = repeat.body else { panic!() };
    assert_eq!(arms[1].0.what, KindWhat::Space(1));
    assert_eq!(arms[1].1.len(), 2);
    assert!(matches!(repeat.extent, Extent::Times(_)));
}

// ---- Lines

#[test]
fn an_indented_line_goes_on_with_the_one_above() {
    let text = "rnd 3: [sc 2, # two\r\n  # all the same\r\n    inc] 6 times # so far\r\n\r\n# end\r\n";
    let (file, findings) = parse(text);
    assert!(findings.is_empty(), "{findings:#?}");
    assert!(matches!(file.lines[0].kind, LineKind::Work(_)));
    let remark = file.lines[0].remark.unwrap();
    assert_eq!(text.get(remark.start..remark.end), Some("# so far"));
    assert_eq!(file.lines[1].kind, LineKind::Blank);
    assert_eq!(file.lines[2].kind, LineKind::Remark);
    assert_eq!(file.lines.len(), 3);
}

#[test]
fn words_for_the_maker_stay_raw_and_apart() {
    let (file, findings) = parse("> Use *two* strands # not one\n  of yarn.\n> And a bead.");
    assert!(findings.is_empty());
    assert!(matches!(&file.lines[0].kind, LineKind::Words(w) if w.text.text == "Use *two* strands # not one of yarn."));
    assert!(matches!(&file.lines[1].kind, LineKind::Words(w) if w.text.text == "And a bead."));
}

#[test]
fn a_byte_order_mark_and_odd_white_space_are_let_pass() {
    let (file, findings) = parse("\u{feff}rnd 1:\u{a0}sc\t4 = 4");
    assert!(findings.is_empty(), "{findings:#?}");
    assert!(matches!(file.lines[0].kind, LineKind::Work(_)));
}

#[test]
fn a_number_sign_with_a_number_is_a_word_and_no_remark() {
    let Header::Note(note) = header("note Use a #7 hook, or #b.  # a remark") else { panic!() };
    assert_eq!(note.text.text, "Use a #7 hook, or #b.");
    let (file, findings) = parse("notion Pins\n  #2 and\n  # not this\n  #3\n# nor this\n  #4 stands below no line");
    assert!(matches!(&file.lines[0].kind, LineKind::Header(Header::Notion(text)) if text.text == "Pins #2 and #3"));
    assert_eq!(file.lines[1].kind, LineKind::Remark);
    assert!(findings.is_empty() || file.lines.len() == 3, "{findings:#?}");
}

#[test]
fn words_for_some_sizes_are_words() {
    let (file, findings) = parse("only Small, Tall: > Sew on {rim} pins # now,\n  both of them.");
    assert!(findings.is_empty(), "{findings:#?}");
    let [line] = file.lines.as_slice() else { panic!() };
    assert_eq!(line.only.iter().map(|name| name.text.as_str()).collect::<Vec<_>>(), ["Small", "Tall"]);
    let LineKind::Words(words) = &line.kind else { panic!() };
    assert_eq!(words.text.text, "Sew on {rim} pins # now, both of them.");
    let number = &words.numbers[0];
    assert_eq!(words.text.text.get(number.from..number.to), Some("{rim}"));
}

#[test]
fn a_quotation_mark_hides_a_remark_sign() {
    let Header::Yarn { colour, .. } = header("yarn A \"shade #4\"  # a remark") else { panic!() };
    assert_eq!(colour.unwrap().text, "shade #4");
}

// ---- Slips

/// The findings of a text that has some.
fn found(text: &str) -> Vec<Diagnostic> {
    let (_, findings) = parse(text);
    assert!(!findings.is_empty(), "{text}");
    findings
}

/// The codes of what is found in a line, in order, and what its fixes make of it.
fn mended(text: &str) -> (Vec<Code>, String) {
    let findings = found(text);
    let edits = findings.iter().filter_map(|f| f.fixes.first()).flat_map(|fix| fix.edits.clone()).collect();
    let all = crate::diagnostic::Fix { title: String::new(), edits, safety: crate::diagnostic::Safety::KeepsFabric };
    (findings.iter().map(|f| f.code).collect(), all.apply(text))
}

/// What is written, and how it is spelt here.
const SPELLINGS: &[(&str, &str)] = &[
    ("rnd 3: sc (18)", "rnd 3: sc = 18"),
    ("rnd 3: sc (18 sts)", "rnd 3: sc = 18"),
    ("rnd 3: sc [18]", "rnd 3: sc = 18"),
    ("rnd 3: sc - 18", "rnd 3: sc = 18"),
    ("rnd 3: sc – 18 sts.", "rnd 3: sc = 18"),
    ("rnd 3: sc = 18.", "rnd 3: sc = 18"),
    ("rnd 3: dc (12 dc, 4 ch-2 sp)", "rnd 3: dc = 12 dc + 4 ch-2 sp"),
    ("rnd 3: dc = 12 dc, 4 ch-2 sp", "rnd 3: dc = 12 dc + 4 ch-2 sp"),
    ("rnd 3: [sc 2, inc] x 6", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: [sc 2, inc] x6", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: [sc 2, inc] 6x", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: [sc 2, inc] * 6", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: [sc 2, inc] 6", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: (sc 2, inc) twice", "rnd 3: [sc 2, inc] twice"),
    ("rnd 3: [sc 2, inc] 6 times. Sc 4", "rnd 3: [sc 2, inc] 6 times, Sc 4"),
    ("rnd 1: 6 sc in MR", "rnd 1: 6 sc in ring"),
    ("rnd 1: 6 sc in the magic circle", "rnd 1: 6 sc in ring"),
    ("3. [sc 2, inc] 6 times", "rnd 3: [sc 2, inc] 6 times"),
    ("4-6: sc to end", "rnds 4-6: sc to end"),
    ("rnd 3: esc3", "rnd 3: esc 3"),
    ("rnd 3: fpdtr3", "rnd 3: fpdtr 3"),
    ("rnd 3: sc 18 = 18, ch 1", "rnd 3: sc 18, ch 1 = 18"),
    ("rnd 3: sc 6 #six", "rnd 3: sc 6 # six"),
    ("rnd 3: 1 sc to end", "rnd 3: sc to end"),
    ("rnd 3: sc to end, sl st to first sc", "rnd 3: sc to end"),
    ("rnd 3: singel crochet 6", "rnd 3: single crochet 6"),
    ("rnd 3: sc 3, behind rnd 2, sc to end", "rnd 3: behind rnd 2, sc 3, sc to end"),
    ("rnd 3: (sc 2, inc) x 6", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: (sc 2, inc) 6 times", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: (sc 2, inc) around", "rnd 3: [sc 2, inc] to end"),
    ("rnd 3: (sc 2, inc) to end", "rnd 3: [sc 2, inc] to end"),
    ("rnd 3: *sc 2, inc; rep from * around", "rnd 3: [sc 2, inc] to end"),
    ("rnd 3: *sc 2, inc, repeat from * to end", "rnd 3: [sc 2, inc] to end"),
    ("rnd 3: *sc 2, inc* 6 times", "rnd 3: [sc 2, inc] 6 times"),
    ("rnd 3: inc x6", "rnd 3: inc 6"),
    ("rnd 3: inc 6 times", "rnd 3: inc 6"),
    ("rnd 3: sc in each st around", "rnd 3: sc in each st to end"),
    ("rnd 3: sc to the end", "rnd 3: sc to end"),
    ("rnd 3: sc until end", "rnd 3: sc to end"),
    ("rnd 3: sc across", "rnd 3: sc to end"),
    ("rnd 3: sc to last st, inc", "rnd 3: sc to last 1, inc"),
    ("rnd 3: sk 1, miss 2", "rnd 3: skip 1, skip 2"),
    ("rnd 3: sc, fo", "rnd 3: sc, fasten off"),
    ("rnd 3: chain 3", "rnd 3: ch 3"),
    ("rnd 3: ch3, sc3, 6sc in next", "rnd 3: ch 3, sc 3, 6 sc in next"),
    ("rnd 3: sc in the next st", "rnd 3: sc in next st"),
    ("rnd 3: sc in each of the next 4 sts", "rnd 3: sc in next 4 sts"),
    ("rnd 3: sc; inc", "rnd 3: sc, inc"),
    ("rnd 3: dc in next ch2 sp", "rnd 3: dc in next ch-2 sp"),
    ("rnd 3: dc in next 2-ch sp", "rnd 3: dc in next ch-2 sp"),
    ("rnd 3: dc in next sp", "rnd 3: dc in next ch sp"),
    ("rnd 3: sc 6 in back loops only", "rnd 3: blo sc 6"),
    ("rnd 3: sc in flo to end", "rnd 3: flo sc to end"),
    ("rnd 3: sc to end, join with sl st to first sc", "rnd 3: sc to end"),
    ("rnd 3: 2 sc to end", "rnd 3: [2 sc in next] to end"),
    ("rnd 3: 2 blo sc 4", "rnd 3: [2 blo sc in next] 4 times"),
    ("rnd 1: 6 sc in magic ring", "rnd 1: 6 sc in ring"),
    ("Round 3: sc", "rnd 3: sc"),
    ("Rnd. 3: sc", "rnd 3: sc"),
    ("R3: sc", "rnd 3: sc"),
    ("Row3: sc", "row 3: sc"),
    ("Rnds 3 to 5: sc", "rnds 3-5: sc"),
    ("rnd 3 (RS): sc", "rnd 3 rs: sc"),
    ("rnd 3. sc", "rnd 3: sc"),
    ("rnd 3 sc", "rnd 3: sc"),
    ("ruond 3: sc", "rnd 3: sc"),
    ("pice Ear, in rows", "piece Ear, in rows"),
    ("yran A", "yarn A"),
    ("set brim = rim / 6", "set brim = {rim / 6}"),
    ("pattern: Tern", "pattern Tern"),
    ("start chain 7", "start ch 7"),
    ("start ch7", "start ch 7"),
    ("start adjustable ring", "start ring"),
    ("again rows 3-4 x 4", "again rows 3-4 4 times"),
    ("only small rnd 3: sc", "only small: rnd 3: sc"),
    ("rnd 3: sc 2 in each st around", "rnd 3: 2 sc in each st to end"),
    ("rnd 3: sc 2 in next, sc", "rnd 3: 2 sc in next, sc"),
    ("rnd 3: sc in ch-2 sp", "rnd 3: sc in next ch-2 sp"),
    ("rnd 3: sc into next st", "rnd 3: sc in next st"),
    ("rnd 3: sc in every st to end", "rnd 3: sc in each st to end"),
    ("rnd 3: sc 5 sts", "rnd 3: sc 5"),
    ("rnd 3: 2sctog, 3-dctog 4", "rnd 3: sc2tog, dc3tog 4"),
    ("rnd 3: [sc, inc] rep to end", "rnd 3: [sc, inc] to end"),
    ("rnd 3: repeat rnd 2", "rnd 3: as rnd 2"),
    ("rnd 3: same as rnd 2", "rnd 3: as rnd 2"),
    ("rnd 3: change to yarn B", "rnd 3: change to B"),
    ("with colour B", "with B"),
    ("lead ch3", "lead ch 3"),
    ("lead 3 ch as dc", "lead ch 3 as dc"),
    ("hook 4,5 mm", "hook 4.5 mm"),
    ("gauge 17 sts by 19 rows = 10 cm", "gauge 17 sts x 19 rows = 10 cm"),
    ("sizes small, large", "sizes small / large"),
    ("piece Crown in joined rounds", "piece Crown, in joined rounds"),
    ("piece Left Ear in a spiral, make 2", "piece Left Ear, in a spiral, make 2"),
    ("piece Crown, joined rounds", "piece Crown, in joined rounds"),
    ("piece Crown, in spiral", "piece Crown, in a spiral"),
    ("piece Crown, rows", "piece Crown, in rows"),
    ("seam first 12 and last 12", "seam first 12 to last 12"),
    ("sew Ear onto Crown", "sew Ear to Crown"),
];

#[test]
fn slips_with_a_certain_meaning_are_read_as_meant_and_mended() {
    for (written, better) in SPELLINGS {
        let (_, result) = mended(written);
        assert_eq!(result, *better, "{written}");
        let (file, findings) = parse(&result);
        assert!(findings.is_empty(), "{result}: {findings:#?}");
        let (before, _) = parse(written);
        let (before, after) = (bare(&before.lines[0].kind), bare(&file.lines[0].kind));
        // Where something can't be read, there is nothing to compare.
        let told_otherwise = written.starts_with("rnd 3: 2 ") || before.contains("body: Unread");
        assert!(told_otherwise || before == after, "{written}\n{before}\n{after}");
    }
}

/// A tree without its places in the text.
fn bare(kind: &LineKind) -> String {
    let shown = format!("{kind:?}");
    let mut parts = shown.split("Span { start: ");
    let first = parts.next().unwrap().to_owned();
    parts.filter_map(|part| part.split_once('}')).fold(first, |out, (_, rest)| out + "_" + rest)
}

#[test]
fn steps_with_two_readings_offer_both() {
    for (written, readings) in [
        ("rnd 3: 3 sc", ["rnd 3: sc 3", "rnd 3: 3 sc in next"]),
        ("rnd 3: [sc, inc] 3 more times", ["rnd 3: [sc, inc] 3 times", "rnd 3: [sc, inc] 4 times"]),
        ("rnd 3: [sc, inc] 3 times more", ["rnd 3: [sc, inc] 3 times", "rnd 3: [sc, inc] 4 times"]),
        ("rnd 3: *sc, inc; rep from * 5 times", ["rnd 3: [sc, inc] 6 times", "rnd 3: [sc, inc] 5 times"]),
        ("piece Ear, in rounds", ["piece Ear, in joined rounds", "piece Ear, in a spiral"]),
    ] {
        let findings = found(written);
        assert_eq!(findings.len(), 1, "{written}");
        assert_eq!(findings[0].code, codes::TWO_READINGS);
        let offered: Vec<_> = findings[0].fixes.iter().map(|fix| fix.apply(written)).collect();
        assert_eq!(offered, readings, "{written}");
        for reading in readings {
            clean(reading);
        }
    }
}

#[test]
fn an_ambiguous_number_stays_in_the_tree() {
    let (file, _) = parse("rnd 3: 3 sc = 3");
    let LineKind::Work(work) = &file.lines[0].kind else { panic!() };
    let Body::Steps(steps) = &work.body else { panic!() };
    let StepKind::Work(stitch) = &steps[0].kind else { panic!() };
    assert!(stitch.ambiguous && stitch.places == Where::Bare && stitch.each.is_some());
}

#[test]
fn faults_are_said_once_and_by_their_own_code() {
    for (text, code) in [
        ("rnd 3: [sc, inc 6 times", codes::BRACKET),
        ("rnd 3: sc, inc] 6 times", codes::BRACKET),
        ("rnd 3: (sc, inc] 6 times", codes::BRACKET),
        ("rnd 3: sc {rim", codes::BRACKET),
        ("rnd 3: sc 10 / / 12", codes::LIST_GAP),
        ("sizes small / / large", codes::LIST_GAP),
        ("rnd 3: sc 1000001", codes::NUMBER),
        ("rnd 3: sc 99999999999999999999999", codes::NUMBER),
        ("rnd 3: [sc, inc]", codes::NO_EXTENT),
        ("rnd 3: sc in each st", codes::NO_EXTENT),
        ("rnd 3: (dc, ch 1, dc)", codes::BARE_GROUP),
        ("rnd 3: sc 2 inc", codes::READING),
        ("rnd 3: sc, inc, repeat around", codes::REPEAT_STYLE),
        ("rnd 3: 6sc", codes::TWO_READINGS),
        ("rnd 3: sc, ??, sc = 18", codes::READING),
        ("rnd 3: sc = many", codes::READING),
        ("rnd 3:", codes::EMPTY),
        ("with", codes::EMPTY),
        ("only small:", codes::EMPTY),
        ("Place a marker.", codes::LINE_KIND),
        ("sc 4, inc", codes::LINE_KIND),
        ("hook 4.5", codes::READING),
        ("]]]] 17", codes::LINE_KIND),
    ] {
        let findings = found(text);
        assert_eq!(findings.len(), 1, "{text}: {findings:#?}");
        assert_eq!(findings[0].code, code, "{text}: {findings:#?}");
    }
}

#[test]
fn a_list_is_no_longer_than_there_can_be_sizes() {
    let list = vec!["1"; crate::limits::MOST_SIZES + 1].join(" / ");
    assert_eq!(found(&format!("rnd 3: sc {list}"))[0].code, codes::LIST_GAP);
}

#[test]
fn what_is_stated_outlives_steps_that_cannot_be_read() {
    let (file, findings) = parse("rnd 3: sc, ??, sc = 18");
    assert_eq!(findings.len(), 1);
    let LineKind::Work(work) = &file.lines[0].kind else { panic!() };
    assert_eq!(work.body, Body::Unread);
    assert!(work.stated.is_some());
}

#[test]
fn deep_brackets_and_long_lines_are_refused_and_not_followed() {
    for open in ["[", "(", "{(", "[("] {
        let text = format!("rnd 3: {}", open.repeat(4_000));
        assert_eq!(found(&text)[0].code, codes::TOO_LONG, "{open}");
    }
    let stars = format!("rnd 3: {}", "*sc, ".repeat(1_500));
    assert_eq!(found(&stars).len(), 1);
    let sum = format!("set rim = {{{}1}}", "1 + ".repeat(1_000));
    assert_eq!(found(&sum)[0].code, codes::TOO_LONG);
    let long = format!("rnd 3: {}", "sc, ".repeat(5_000));
    assert_eq!(found(&long)[0].code, codes::TOO_LONG);
}

#[test]
fn ten_bad_lines_are_ten_findings() {
    let text = "rnd 1: ??\n".repeat(10);
    let (file, findings) = parse(&text);
    assert_eq!((file.lines.len(), findings.len()), (10, 10));
}

#[test]
fn a_habit_is_said_once_with_one_fix_for_all() {
    let text: String = (1..=20).map(|n| format!("rnd {n}: sc 6 (6)\n")).collect();
    let findings = found(&text);
    assert_eq!(findings.len(), 1);
    assert!(findings[0].notes[0].starts_with("the same in lines 2, 3"), "{:?}", findings[0].notes);
    let better: String = (1..=20).map(|n| format!("rnd {n}: sc 6 = 6\n")).collect();
    assert_eq!(findings[0].fixes[0].apply(&text), better);
}

#[test]
fn an_indented_row_does_not_vanish_in_the_line_above() {
    let text = "> Words.\n  rnd 3: sc to end\n";
    let (file, findings) = parse(text);
    assert_eq!(findings[0].code, codes::INDENT);
    assert!(matches!(file.lines[1].kind, LineKind::Work(_)));
    assert_eq!(findings[0].fixes[0].apply(text), "> Words.\nrnd 3: sc to end\n");
}

#[test]
fn a_misspelt_word_inside_a_line_gets_its_nearest() {
    let findings = found("rnd 3: [sc, inc] 6 tmies");
    assert_eq!(findings[0].fixes[0].apply("rnd 3: [sc, inc] 6 tmies"), "rnd 3: [sc, inc] 6 times");
}

#[test]
fn a_name_of_a_number_without_braces_gets_them() {
    let text = "set rim = 60\nrnd 3: sc rim";
    let findings = found(text);
    assert_eq!(findings[0].code, codes::SPELLING);
    assert_eq!(findings[0].fixes[0].apply(text), "set rim = 60\nrnd 3: sc {rim}");
}

#[test]
fn a_sign_that_was_left_out_is_offered() {
    for (text, better) in [
        ("rnd 3: sc 2 inc", "rnd 3: sc 2, inc"),
        ("set rim 60", "set rim = 60"),
        ("yarn A \"oat\" weight 3", "yarn A \"oat\", weight 3"),
        ("seam row 1 row 40", "seam row 1 to row 40"),
    ] {
        assert_eq!(found(text)[0].fixes[0].apply(text), better);
    }
}

#[test]
fn no_name_of_the_grammar_reaches_a_reader() {
    let texts =
        ["rnd 3: sc 2 inc", "rnd 3: sc to", "hook 4", "gauge 3", "start", "seam row", "set a", "stitch a", "sew a"];
    for text in texts {
        for finding in found(text) {
            let shown = format!("{} {} {:?}", finding.message, finding.primary.text, finding.help);
            assert!(!shown.contains('_') && !shown.contains("Rule"), "{shown}");
        }
    }
}

// ---- Pages

/// The code block under a heading of a page.
fn block<'p>(page: &'p str, heading: &str) -> &'p str {
    let (_, rest) = page.split_once(heading).unwrap();
    let (_, rest) = rest.split_once("```text\n").unwrap();
    rest.split_once("```").unwrap().0
}

#[test]
fn the_example_of_each_page_has_the_fault_and_the_other_lines_do_not() {
    for (code, page) in super::PAGES {
        let (_, faults) = parse(block(page, "## Example"));
        assert!(faults.iter().any(|f| f.code == *code), "{}: {faults:#?}", code.0);
        let (_, rest) = parse(block(page, "## Instead"));
        assert!(rest.is_empty(), "{}: {rest:#?}", code.0);
    }
}

// ---- Any text at all

/// Every place that a tree or a finding names.
fn spans_of(shown: &str) -> Vec<(usize, usize)> {
    shown
        .split("Span { start: ")
        .skip(1)
        .filter_map(|rest| {
            let (start, rest) = rest.split_once(", end: ")?;
            let (end, _) = rest.split_once(" }")?;
            Some((start.parse().ok()?, end.parse().ok()?))
        })
        .collect()
}

fn holds_together(text: &str) {
    let (file, findings) = parse(text);
    let shown = format!("{file:?}{findings:?}");
    for (start, end) in spans_of(&shown) {
        assert!(start <= end && end <= text.len(), "{start}..{end} in {text:?}");
        assert!(text.is_char_boundary(start) && text.is_char_boundary(end), "{start}..{end} in {text:?}");
    }
    let mut at = 0;
    for line in &file.lines {
        assert!(line.span.start >= at, "lines overlap in {text:?}");
        at = line.span.end;
        let unread = match &line.kind {
            LineKind::Bad(_) => true,
            LineKind::Work(work) => work.body == Body::Unread,
            _ => false,
        };
        let said =
            |found: &Diagnostic| found.primary.span.start >= line.span.start && found.primary.span.end <= line.span.end;
        assert!(!unread || findings.iter().any(said), "nothing is said about {:?} in {text:?}", line.span);
    }
    for fix in findings.iter().flat_map(|found| &found.fixes) {
        let _ = fix.apply(text);
    }
}

/// Bits of notation, of print and of nonsense.
const BITS: &[&str] = &[
    "rnd 3:",
    "row 4 ws:",
    "rnds 2-5:",
    "Round 7.",
    "R8:",
    "[",
    "]",
    "(",
    ")",
    "{",
    "}",
    "sc",
    "sc 4",
    "3 dc",
    "inc",
    "sl st",
    "ch 3",
    "ch3",
    "ch-2 sp",
    "in",
    "next",
    "each",
    "to",
    "end",
    "last",
    "2",
    "/",
    ",",
    ";",
    "=",
    "18",
    "*",
    "**",
    "x 6",
    "times",
    "more",
    "together",
    "as",
    "dc",
    "on dc:",
    "turn",
    "skip",
    "leave rest",
    "again",
    "until",
    "cm",
    "piece",
    "start",
    "set",
    "stitch",
    "yarn",
    "\"",
    "“",
    ">",
    "#",
    "\n",
    "\n  ",
    "\r\n",
    "\t",
    "é",
    "…",
    "only",
    ":",
    "+",
    "-",
    "–",
    "rim",
    "99999999999999999999",
    "\u{feff}",
    "\u{a0}",
    "from",
    "hook",
    "4th",
    "rep from *",
    "(18)",
    "join with sl st",
];

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_text_gives_a_tree(text in "\\PC{0,200}") {
        holds_together(&text);
    }

    #[test]
    fn any_mixture_of_bits_gives_a_tree(picks in proptest::collection::vec((0..BITS.len(), 0..2usize), 0..60)) {
        let text: String = picks.iter().map(|(bit, space)| format!("{}{}", BITS[*bit], " ".repeat(*space))).collect();
        holds_together(&text);
    }
}

#[test]
fn only_stands_apart_from_the_names_of_sizes() {
    let (file, findings) = parse("only>small: rnd 1: sc\n");
    assert_eq!(file.lines[0].only, []);
    assert!(!findings.is_empty());
    let (file, _) = parse("only small: rnd 1: sc\n");
    assert_eq!(file.lines[0].only.len(), 1);
}

#[test]
fn what_is_placed_is_read_with_its_numbers() {
    let LineKind::Ending(Ending::Place(placing)) = clean("place 2 safety eyes between rnds 12 and 13, 8 apart") else {
        panic!()
    };
    assert_eq!((placing.what.text.as_str(), placing.round, placing.numbers().count()), ("safety eyes", true, 4));
    let LineKind::Ending(Ending::Place(placing)) = clean("Place Left Arm on Body in row 3 at sts 4 and 16") else {
        panic!()
    };
    let on = placing.on.as_ref().map(|on| on.text.as_str());
    assert_eq!((placing.what.text.as_str(), on, placing.stitches.len()), ("Left Arm", Some("Body"), 2));
    assert!(matches!(clean("place 5 buttons evenly from row 3 to row 35"), LineKind::Ending(Ending::Place(_))));
}

#[test]
fn a_list_of_whole_numbers_in_words_is_found_and_a_fraction_is_not() {
    let numbers = |text: &str| match clean(text) {
        LineKind::Words(words) => {
            words.numbers.iter().map(|n| words.text.text.get(n.from..n.to).unwrap().to_owned()).collect::<Vec<_>>()
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(numbers("> Fold 3 / 4 rows over, then 10 / 12."), ["3 / 4", "10 / 12"]);
    assert_eq!(numbers("> Fold {2} and 3 / 4 / 5, not 1/2 and not 3.5 / 4 cm or and / or."), ["{2}", "3 / 4 / 5"]);
}
