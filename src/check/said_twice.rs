//! A line stands twice, and only the last one counts, or nobody can tell the two apart.

use std::collections::BTreeMap;

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::syntax::tree::{Body, Ending, Header, LineKind, Setting, StepKind, WorkLine};

pub(super) const CODE: Code = Code("said-twice");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    // In the head, and in the present piece.
    let (mut once, mut here): (BTreeMap<Said, Span>, BTreeMap<Said, Span>) = (BTreeMap::new(), BTreeMap::new());
    let mut findings = Vec::new();
    for line in &context.tree.lines {
        if let LineKind::Piece(_) = line.kind {
            here.clear();
        }
        // After a row another hook is used from there on.
        if let LineKind::Work(_) | LineKind::Again(_) = line.kind {
            here.retain(|said, _| said.what != "`using`");
        }
        if works_on(&line.kind) {
            here.retain(|said, _| said.what != CUT);
        }
        if let Some(cut) = cut_within(&line.kind) {
            here.insert(in_piece_once(CUT, ALREADY_CUT), cut);
        }
        findings.extend(led_twice(&line.kind));
        // Sizes that are named may each have their own.
        let Some(said) = said(&line.kind).filter(|said| said.what != CUT || line.only.is_empty()) else { continue };
        let seen = if said.in_piece { &mut here } else { &mut once };
        match seen.get(&said) {
            Some(earlier) => findings.push(finding(&said, line.span, *earlier)),
            None => {
                seen.insert(said, line.span);
            }
        }
    }
    findings
}

/// Two leads of one line.
fn led_twice(kind: &LineKind) -> Option<Diagnostic> {
    let LineKind::Work(WorkLine { body: Body::Steps(steps), .. }) = kind else { return None };
    let mut leads = steps.iter().filter(|step| matches!(step.kind, StepKind::Lead(_)));
    let (first, second) = (leads.next()?, leads.next()?);
    Some(finding(&in_piece_once("the lead of this line", "only the first one counts"), second.span, first.span))
}

/// What a line says that can be said once.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Said {
    /// In a crocheter's words.
    what: String,
    /// What comes of it if it is said twice.
    result: &'static str,
    /// What to do.
    help: &'static str,
    /// Once a piece and not once a file.
    in_piece: bool,
}

/// As it is written in a line by itself.
const CUT: &str = "`fasten off`";

const ALREADY_CUT: &str = "the yarn is cut already";
const LAST_COUNTS: &str = "only the last one counts";
const NOT_APART: &str = "no piece can tell them apart";
const WHICH_HOLDS: &str = "nobody can tell which holds";
const KEEP_ONE: &str = "keep one of them";

fn said(kind: &LineKind) -> Option<Said> {
    match kind {
        LineKind::Header(header) => in_head(header),
        LineKind::Start(_) => Some(in_piece("start")),
        LineKind::Ending(Ending::FastenOff) => Some(in_piece_once(CUT, ALREADY_CUT)),
        // Each holds from where it stands.
        LineKind::Setting(Setting::Now(_)) => None,
        LineKind::Setting(setting) => Some(in_piece(match setting {
            Setting::With(_) => "with",
            Setting::Using(_) => "using",
            Setting::Lead(_) => "lead",
            Setting::Stripe(_) => "stripe",
            Setting::Colours(_) => "colours",
            Setting::Now(_) => "now",
        })),
        _ => None,
    }
}

fn in_piece(word: &str) -> Said {
    in_piece_once(&format!("`{word}`"), LAST_COUNTS)
}

fn in_piece_once(what: &str, result: &'static str) -> Said {
    Said { what: what.to_owned(), result, help: KEEP_ONE, in_piece: true }
}

/// Whether there may be yarn again after a line.
fn works_on(kind: &LineKind) -> bool {
    let stays = matches!(kind, LineKind::Blank | LineKind::Remark | LineKind::Words(_) | LineKind::Meant(_));
    !stays && !matches!(kind, LineKind::Ending(_))
}

/// Where the yarn is cut by the last step of a line.
fn cut_within(kind: &LineKind) -> Option<Span> {
    let LineKind::Work(WorkLine { body: Body::Steps(steps), .. }) = kind else { return None };
    steps.last().filter(|step| matches!(step.kind, StepKind::FastenOff)).map(|step| step.span)
}

fn in_head(header: &Header) -> Option<Said> {
    let once = |word: &str| (format!("`{word}`"), LAST_COUNTS, KEEP_ONE);
    let (what, result, help) = match header {
        Header::By(_) => once("by"),
        Header::About(_) => once("about"),
        Header::Version(_) => once("version"),
        Header::For(_) => once("for"),
        Header::Skill(_) => once("skill"),
        Header::Sizes(_) => once("sizes"),
        Header::Terms(_) => once("terms"),
        Header::Counts { .. } => once("counts"),
        Header::Hook { name: None, .. } => {
            ("a hook without a name".to_owned(), NOT_APART, "name one, as `hook band 4 mm`")
        }
        Header::Hook { name: Some(name), .. } => {
            (format!("a hook `{}`", name.text), NOT_APART, "give one another name")
        }
        Header::Yarn { name, .. } => {
            (format!("yarn {}", name.text), "only the first is ever used", "give one another letter")
        }
        Header::Gauge { name, stitch, .. } => {
            let name = name.as_ref().map_or(String::new(), |name| format!(" `{}`", name.text));
            let stitch = stitch.as_ref().map_or(String::new(), |stitch| format!(" in {}", stitch.text));
            (format!("a gauge{name}{stitch}"), WHICH_HOLDS, KEEP_ONE)
        }
        Header::Blocks { .. } => ("blocks".to_owned(), WHICH_HOLDS, KEEP_ONE),
        Header::Swatch { yarn, stitch, .. } => {
            let yarn = yarn.as_ref().map_or(String::new(), |yarn| format!(" of {}", yarn.text));
            (format!("a swatch{yarn} in {}", stitch.text), WHICH_HOLDS, KEEP_ONE)
        }
        Header::Finished { what, at, unit, .. } => {
            let at = at.as_ref().map_or(String::new(), |at| format!(" at {}", at.text));
            (format!("the finished {}{at} in {}", what.text, unit.text), WHICH_HOLDS, KEEP_ONE)
        }
        Header::Pattern(_)
        | Header::Note(_)
        | Header::Picture { .. }
        | Header::Caution(_)
        | Header::Correction(_)
        | Header::Notion(_)
        | Header::Fits(_)
        | Header::Set { .. }
        | Header::Grid(_)
        | Header::Legend(_)
        | Header::Squares(_)
        | Header::Stitch(_) => return None, // Said twice by right, or an error already.
    };
    Some(Said { what, result, help, in_piece: false })
}

fn finding(said: &Said, here: Span, earlier: Span) -> Diagnostic {
    let what = &said.what;
    let message = format!("{what} stands twice, and {}", said.result);
    Diagnostic::warning(CODE, message, here, "the second time").with_other(earlier, "the first").with_help(said.help)
}
