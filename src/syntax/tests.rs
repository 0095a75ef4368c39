//! Every form of `grammar/guide.md`, and the slips that have a message of their own.

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

#[test]
fn every_form_of_the_guide_is_read() {
    for line in [
        "pattern Tern Point Bonnet",
        "by Wren Hollow",
        "about A bonnet worked from the crown down.",
        "sizes 0-6 months / 6-12 months",
        "terms US",
        "terms UK",
        "for baby",
        "skill easy",
        "hook 4.5 mm",
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
    ] {
        clean(line);
    }
    for line in [
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
    ] {
        steps(line);
    }
}
