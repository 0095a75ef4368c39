//! Laying a file out anew never changes what it says: shown over generated patterns, written as untidily as they can be.

use proptest::prelude::*;

use ringtrue::syntax::parse;
use ringtrue::syntax::tree::{Line, LineKind};
use ringtrue::tidy::{tidy, tidy_what_can_be_read};

// ---- Patterns

/// The words and signs of a line. A word in capitals stands for one of the notation's own, whose capitals don't matter;
/// all others stay as they are.
type Words = Vec<String>;

fn words(text: &str) -> Words {
    text.split_whitespace().map(str::to_owned).collect()
}

fn fixed(text: &'static str) -> BoxedStrategy<Words> {
    Just(words(text)).boxed()
}

fn one_of(texts: &'static [&'static str]) -> BoxedStrategy<Words> {
    proptest::sample::select(texts).prop_map(words).boxed()
}

fn joined(parts: Vec<BoxedStrategy<Words>>) -> BoxedStrategy<Words> {
    parts.prop_map(|parts| parts.concat()).boxed()
}

fn listed(entry: BoxedStrategy<Words>, sign: &'static str, most: usize) -> BoxedStrategy<Words> {
    let entries = proptest::collection::vec(entry, 1..=most);
    entries.prop_map(move |all| all.join(&sign.to_owned())).boxed()
}

fn number() -> BoxedStrategy<Words> {
    (1..99u32).prop_map(|n| vec![n.to_string()]).boxed()
}

fn sum() -> BoxedStrategy<Words> {
    let entry = prop_oneof![number(), one_of(&["rim", "Brim", "a2"])].boxed();
    let sign = one_of(&["+", "-", "*", "/"]);
    let flat = joined(vec![entry.clone(), sign.clone(), entry.clone()]);
    let held = joined(vec![fixed("("), flat.clone(), fixed(")"), sign, entry.clone()]);
    joined(vec![fixed("{"), prop_oneof![entry, flat, held].boxed(), fixed("}")])
}

fn amount() -> BoxedStrategy<Words> {
    listed(prop_oneof![4 => number(), 1 => sum()].boxed(), "/", 3)
}

fn stitch() -> BoxedStrategy<Words> {
    one_of(&["sc", "dc", "Shell-2", "sc2tog", "fpdc", "SL ST"])
}

fn kind() -> BoxedStrategy<Words> {
    prop_oneof![one_of(&["ST", "CH", "CH SP", "ch-2~sp", "dc", "SL ST"])].boxed()
}

fn till() -> BoxedStrategy<Words> {
    prop_oneof![
        fixed("TO END"),
        fixed("TO neck"),
        joined(vec![fixed("TO LAST"), amount()]),
        joined(vec![fixed("TO NEXT"), kind()]),
    ]
    .boxed()
}

fn place() -> BoxedStrategy<Words> {
    let named = one_of(&["SAME", "RING", "FIRST", "LAST", "LEAD", "NEXT", "4TH CH FROM HOOK", "neck"]);
    let next = joined(vec![fixed("NEXT"), kind()]);
    joined(vec![fixed("IN"), prop_oneof![named, next].boxed()])
}

/// A place that is named, so that a number can stand before the stitch.
fn places() -> BoxedStrategy<Words> {
    prop_oneof![place(), joined(vec![fixed("IN EACH"), kind(), till()]), joined(vec![fixed("IN NEXT"), amount()]),]
        .boxed()
}

fn work() -> BoxedStrategy<Words> {
    let nothing = fixed("");
    let hold = prop_oneof![3 => nothing.clone(), 1 => one_of(&["BLO", "FLO"])].boxed();
    let below = prop_oneof![5 => nothing.clone(), 1 => one_of(&["2 ROWS BELOW", "1 RND BELOW"])].boxed();
    let bare = prop_oneof![nothing, amount(), till(), places()].boxed();
    let single = joined(vec![hold.clone(), stitch(), below.clone(), bare]);
    let several = joined(vec![number(), hold, stitch(), below, places()]);
    prop_oneof![single, several].boxed()
}

fn plain_step() -> BoxedStrategy<Words> {
    prop_oneof![
        8 => work(),
        1 => joined(vec![fixed("CH"), amount()]),
        1 => joined(vec![fixed("CH 3 AS"), stitch()]),
        1 => fixed("TURNING CH 5 AS dc + ch-2~sp"),
        1 => joined(vec![fixed("SKIP"), amount()]),
        1 => joined(vec![fixed("SKIP NEXT"), kind()]),
        1 => one_of(&["LEAVE REST", "LEAVE 4", "SKIP 1 , TURN , SKIP 1", "OTHER SIDE", "NO LEAD", "LEAD CH 2", "LEAD CH 3 AS dc"]),
        1 => one_of(&["MARK Neck", "CHANGE TO B", "FASTEN OFF", "REJOIN B IN NEXT", "CLOSE WITH CH 2 AND dc"]),
        1 => one_of(&["MOVE 2", "MOVE TO NEXT ch-2~sp", "6 inc EVENLY IN sc TO END"]),
        1 => one_of(&["JOIN TO Left Motif IN ch-5~sp", "JOIN TO Motif"]),
        1 => place(),
    ]
    .boxed()
}

fn step() -> BoxedStrategy<Words> {
    plain_step()
        .prop_recursive(3, 16, 3, |inner| {
            let steps = listed(inner.clone(), ",", 3);
            let extent = prop_oneof![joined(vec![amount(), fixed("TIMES")]), till()].boxed();
            let stars = joined(vec![steps.clone(), fixed(", **"), inner]);
            let arms = joined(vec![fixed("ON"), kind(), fixed(":"), steps.clone(), fixed("; ON dc :"), steps.clone()]);
            let held = prop_oneof![3 => steps.clone(), 1 => stars, 1 => arms].boxed();
            let repeat = joined(vec![fixed("["), held, fixed("]"), extent]);
            let end = prop_oneof![places(), fixed("TOGETHER")].boxed();
            prop_oneof![repeat, joined(vec![fixed("("), steps, fixed(")"), end])].boxed()
        })
        .boxed()
}

fn stated() -> BoxedStrategy<Words> {
    let part = joined(vec![amount(), prop_oneof![fixed(""), kind()].boxed()]);
    prop_oneof![fixed(""), joined(vec![fixed("="), listed(part, "+", 3)])].boxed()
}

fn label() -> BoxedStrategy<Words> {
    let side = one_of(&["", "", "RS", "WS"]);
    joined(vec![one_of(&["RND", "ROW 7", "RNDS 8 - 12", "ROWS 3 – 4", "ROW"]), side, fixed(":")])
}

fn only() -> BoxedStrategy<Words> {
    one_of(&["", "", "", "ONLY Small , 0-6 months :"])
}

fn piece_line() -> BoxedStrategy<Words> {
    let first = one_of(&["", "", "", "BEHIND RND 2 ,"]);
    let work = joined(vec![only(), label(), first, listed(step(), ",", 4), stated()]);
    let same = joined(vec![label(), fixed("AS RND 4"), stated()]);
    let extent = prop_oneof![
        joined(vec![fixed(", "), amount(), fixed("TIMES")]),
        joined(vec![fixed("UNTIL RND"), amount()]),
        joined(vec![fixed("UNTIL"), amount(), fixed("STS")]),
        fixed("UNTIL 18 / 19.5 CM"),
        fixed(", ONCE"),
    ]
    .boxed();
    let again = joined(vec![fixed("AGAIN RNDS 2 - 3"), extent, stated()]);
    let other = one_of(&[
        "PIECE Left Ear , IN A SPIRAL , MAKE 2",
        "PIECE Band , IN ROWS FROM ONE SIDE",
        "PIECE Right Front , IN ROWS , MIRROR OF Left Front",
        "WITH A",
        "USING band",
        "LEAD NONE",
        "STRIPE A 2 , B 1",
        "START RING",
        "START CH 4 / 6 JOINED",
        "START 24 fsc",
        "START OTHER SIDE OF Left Ear",
        "START AROUND Left Front",
        "START TOP OF Back + EDGE OF Left Front",
        "RNDS 1 - 5 : AS RNDS 1 - 5 OF Large Mat",
        "GATHER 16",
        "SEAM ROW 1 TO ROW 40",
        "SEAM ROW 1 TO ROW 3 / { rim } / 5",
        "ONLY Small , 0-6 months : > Fold over {rim}  rows #2 twice.",
        "SEW Left Ear TO Crown OVER 12",
        "MEANT lead-height BECAUSE the edge is worked over  later",
    ]);
    prop_oneof![8 => work, 1 => same, 2 => again, 4 => other].boxed()
}

fn header_line() -> BoxedStrategy<Words> {
    let fixed_lines = one_of(&[
        "PATTERN Tern Point  Bonnet",
        "MEANT unused-yarn , unsaid BECAUSE B, C = for the (round) eyes",
        "ABOUT A bonnet, worked (mostly) from the crown / down.",
        "SIZES Small / 0-6 months / tall",
        "TERMS US",
        "HOOK band 4.5 MM ( US G-6 )",
        "HOOK STEEL 7",
        "YARN A \"oat,~light\" , WEIGHT 3 , 50 G = 110 M , 100% wool",
        "YARN B “slate”",
        "GAUGE 17 STS X 19 ROWS IN [sc, ch 1] = 10 CM",
        "FINISHED around 46 / 50.5 CM AT Left Ear",
        "COUNTS STITCHES AND CHAINS",
        "STITCH loop \"loop~stitch\" : TAKES 1 , MAKES 1 > Wrap it # twice.",
        "NOTE Work loosely: twice.",
        "NOTE Use a #7 hook , {rim / 2} times.",
        "YARN C ‘Wren’s~grey’ , WEIGHT 3",
        "YARN C ‘1\"~cord’ , WEIGHT 3",
    ]);
    let set = joined(vec![fixed("SET rim ="), amount()]);
    let stitch = joined(vec![fixed("STITCH vst :"), listed(step(), ",", 3)]);
    prop_oneof![4 => fixed_lines, 1 => set, 1 => stitch].boxed()
}

// ---- Untidiness

/// What may stand between two words and between a word and a sign.
#[derive(Debug, Clone, Copy)]
struct Gap(u8);

impl Gap {
    /// A gap where a space may be left out, if `tight`.
    fn text(self, tight: Tight) -> &'static str {
        match self.0 {
            0..=5 if matches!(tight, Tight::May) => "",
            0..=8 => " ",
            9 => "\t ",
            10 => "   ",
            11 => "\n   ",
            12 => "\r\n\t",
            13 => " # a Remark: [sc\n  ",
            _ => "\n  # one of its own\n    ",
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Tight {
    May,
    No,
}

/// A line with gaps of all sorts; its capitals are changed where they don't matter.
fn untidy(line: &Words, gaps: &[Gap], small: bool) -> String {
    let mut out = String::new();
    let mut gaps = gaps.iter().cycle();
    let mut raw = false;
    let mut last: Option<&str> = None;
    for word in line {
        if let Some(before) = last.replace(word) {
            let sign = |word: &str| ["(", ")", "[", "]", "{", "}", ",", ":", ";", "/", "=", "+"].contains(&word);
            let tight = if sign(before) || sign(word) { Tight::May } else { Tight::No };
            let gap = gaps.next().copied().unwrap_or(Gap(8)).text(tight);
            raw |= before == ">";
            out.push_str(if raw && gap.contains('#') { " " } else { gap });
        }
        let own = word.chars().all(|c| !c.is_lowercase()) && word.chars().count() > 1;
        let word = word.replace('~', "  ");
        out.push_str(&if own && small { word.to_lowercase() } else { word });
    }
    out
}

fn any_line() -> BoxedStrategy<Words> {
    prop_oneof![
        6 => piece_line(),
        2 => header_line(),
        1 => fixed("> Place a  marker *here* # now."),
        1 => fixed("# A remark"),
        1 => fixed(""),
    ]
    .boxed()
}

fn pattern() -> BoxedStrategy<String> {
    let gaps = proptest::collection::vec((0..16u8).prop_map(Gap), 1..12);
    let line = (any_line(), gaps, any::<bool>(), 0..3usize).prop_map(|(words, gaps, small, blanks)| {
        let raw = words.first().is_some_and(|word| word == ">" || word == "#");
        let text = if raw { words.join(" ") } else { untidy(&words, &gaps, small) };
        format!("{text}{}", "\n".repeat(blanks.max(1)))
    });
    // Below the first piece a note is no longer one of the head.
    let in_order = |mut lines: Vec<String>| {
        lines.sort_by_key(|line| !line.trim_start().to_lowercase().starts_with("note"));
        lines.concat()
    };
    proptest::collection::vec(line, 0..8).prop_map(in_order).boxed()
}

// ---- What must hold

/// The lines without blank ones and without their places in the text.
fn told(text: &str) -> Vec<String> {
    let findings = parse(text).1;
    assert!(findings.is_empty(), "{text}\n{findings:#?}");
    lines(text)
}

fn lines(text: &str) -> Vec<String> {
    let file = parse(text).0;
    let blank = |line: &&Line| line.kind != LineKind::Blank;
    file.lines.iter().filter(blank).map(|line| placeless(&format!("{:?} {:?}", line.only, line.kind))).collect()
}

fn placeless(shown: &str) -> String {
    let mut parts = shown.split("Span { start: ");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.filter_map(|part| part.split_once('}')).fold(first, |out, (_, rest)| out + "_" + rest)
}

fn remarks(text: &str) -> usize {
    text.matches('#').count()
}

fn holds(text: &str) {
    let before = told(text);
    let tidied = tidy(text);
    assert!(
        tidied.is_ok(),
        "{text}
{tidied:#?}"
    );
    let tidied = tidied.unwrap_or_default();
    assert_eq!(before, told(&tidied), "{text}\n{tidied}");
    assert_eq!(remarks(text), remarks(&tidied), "{text}\n{tidied}");
    assert_eq!(tidy(&tidied).as_ref(), Ok(&tidied), "not settled:\n{text}");
    assert!(!tidied.contains("\n\n\n") && !tidied.contains(" \n") && !tidied.contains('\r'), "{tidied:?}");
}

/// Lines that can't be read stand in the new text as they stood, the others say the same, and the layout settles.
fn holds_as_far_as_it_can_be_read(text: &str) {
    let tidied = tidy_what_can_be_read(text);
    assert!(!tidied.findings.is_empty());
    let mut from = 0;
    // A carriage return alone ends a line, and is a line feed in the new text.
    let text = text.replace("\r\n", "\0\0").replace('\r', "\n").replace("\0\0", "\r\n");
    for line in &tidied.left {
        let line = text.get(line.start..line.end).unwrap_or_default();
        let at = tidied.text.get(from..).and_then(|rest| rest.find(line));
        assert!(at.is_some(), "{line:?} is not in\n{}", tidied.text);
        from += at.unwrap_or_default() + line.len();
    }
    assert_eq!(lines(&text), lines(&tidied.text), "{text}\n{}", tidied.text);
    assert_eq!(tidy_what_can_be_read(&tidied.text).text, tidied.text, "not settled:\n{text}");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// A slip of the fingers in a pattern: what can still be read stays the same, the rest is refused.
    #[test]
    fn a_slip_changes_nothing_unseen(
        text in pattern(),
        places in proptest::collection::vec((any::<proptest::sample::Index>(), "[a-z0-9 #>(){}=,:;*/\"\n\r\u{e9}-]{0,2}"), 1..4),
    ) {
        let mut text = text;
        for (place, insert) in places {
            let at: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            if !at.is_empty() {
                let from = *place.get(&at);
                let to = text.get(from..).and_then(|rest| rest.chars().next()).map_or(from, |c| from + c.len_utf8());
                text.replace_range(from..to, &insert);
            }
        }
        if tidy(&text).is_ok() {
            holds(&text);
        } else {
            holds_as_far_as_it_can_be_read(&text);
        }
    }

    #[test]
    fn what_is_said_stays_and_the_layout_settles(text in pattern()) {
        holds(&text);
    }
}

#[test]
fn the_samples_say_the_same_when_they_are_tidied() {
    for entry in std::fs::read_dir("samples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "rnd") {
            holds(&std::fs::read_to_string(path).unwrap());
        }
    }
}

#[test]
fn a_line_that_cannot_be_read_stays_as_it_is() {
    let text = "pattern   Mat\nterms US\npiece Mat, in rows\nstart  ch 11\nrow 1:  sc  to end=10\nrw  2 :  sc   flurb   3  \nrow 3: sc to   end\n";
    let tidied = tidy_what_can_be_read(text);
    assert!(tidied.text.contains("\nrw  2 :  sc   flurb   3  \nrow 3: sc to end\n"), "{}", tidied.text);
    assert_eq!(tidied.left.len(), 1, "{:?}", tidied.left);
    holds_as_far_as_it_can_be_read(text);
}

#[test]
fn a_file_that_cannot_be_read_is_refused() {
    let findings = tidy("rnd 3: [sc, inc\n").unwrap_err();
    assert_eq!(findings.len(), 1);
}

#[test]
fn a_pattern_as_it_is_laid_out() {
    let untidy = "\
# For a gift


Pattern   Tern    Point Bonnet # working title
SIZES 0-6 months/6-12 months/
   1-3 years
yarn A “oat, light”,weight 3,50g=110m

piece Crown,in joined rounds
start ring
RND 1:6 sc in ring=6
Rnds 2–3:[2 sc in next]to end=12
 # in between
> Place a marker
   here.
rnd 4:[sc 2,2 sc in next]to end,[dc,**ch 1,skip 1] to   end, # two
  sc in next ch-2sp,sl  st 2
  =24 dc+4 ch-2 sp
only  0-6 months,1-3 years:row 5 WS:sc {(rim+2)*3}/4/4=3


";
    insta::assert_snapshot!(tidy(untidy).unwrap());
}
