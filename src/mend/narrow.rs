//! One line read and looked up without the others of its piece, so that many wordings of it are tried in little time.

use super::line_of;
use crate::compiled::Compiled;
use crate::diagnostic::{Diagnostic, Severity, Span};
use crate::pattern;
use crate::pattern::model::Pattern;
use crate::syntax::ReadOnce;
use crate::syntax::tree::{Body, File, Header, Line, LineKind, Part, Place, Step, StepKind, Till, WorkLine};

/// What a line needs of its file: the names and numbers of the head, the pieces above with their starts, and the line.
pub(super) struct Narrow {
    text: String,
    /// The line among those that are kept.
    at: usize,
}

impl Narrow {
    /// Nothing where the line needs other lines of its piece: it names them, or marks that are made in them.
    pub(super) fn of(text: &str, compiled: &Compiled, line: &Line) -> Option<Self> {
        let LineKind::Work(work) = &line.kind else { return None };
        if !matches!(work.body, Body::Steps(_)) || needs_others(&compiled.tree, line) {
            return None;
        }
        let mut kept = String::new();
        let mut lines = 0_usize;
        for other in compiled.tree.lines.iter().take_while(|other| other.span.start <= line.span.start) {
            if other.span != line.span && !keeps(&other.kind) {
                continue;
            }
            kept.push_str(text.get(other.span.start..other.span.end)?);
            kept.push('\n');
            lines += 1;
        }
        Some(Self { text: kept, at: lines.checked_sub(1)? })
    }

    /// Makes ready to read the line in other words.
    pub(super) fn reader(&self) -> ReadOnce<'_> {
        ReadOnce::new(&self.text)
    }

    /// The pattern in which the line is the first of its piece; nothing when it can't be read in these words.
    pub(super) fn worded(&self, reader: &ReadOnce<'_>, words: &str) -> Option<Pattern> {
        let (file, findings) = reader.with_lines(&[(self.at, words.to_owned())]);
        let line = file.lines.get(self.at)?.span;
        let (pattern, more) = pattern::lower(&file);
        let inside = |f: &&Diagnostic| f.severity == Severity::Error && within(line, f.primary.span);
        findings.iter().chain(&more).find(inside).is_none().then_some(pattern)
    }
}

fn within(line: Span, span: Span) -> bool {
    (line.start..=line.end).contains(&span.start)
}

/// Whether a line has to be read with other lines of its piece.
fn needs_others(tree: &File, line: &Line) -> bool {
    let Some(at) = line_of(tree, line.span) else { return true };
    let mut from = at;
    while from > 0 && !matches!(tree.lines.get(from).map(|l| &l.kind), Some(LineKind::Piece(_))) {
        from -= 1;
    }
    // Turning chains say the lead of their piece.
    let turning = |line: &Line| work(line).is_some_and(|work| !work.turning.is_empty());
    let says_lead = |line: &Line| matches!(&line.kind, LineKind::Piece(piece) if piece.turning_lead.is_some());
    let piece = tree.lines.iter().skip(from + 1).take_while(|l| !matches!(l.kind, LineKind::Piece(_)));
    // What another line goes back to behind the work has to be kept.
    let goes_behind = |line: &Line| match work(line).map(|work| &work.body) {
        Some(Body::Steps(steps)) => matches!(steps.first().map(|step| &step.kind), Some(StepKind::Behind { .. })),
        _ => false,
    };
    let says_lead = tree.lines.iter().skip(from).take(1).any(says_lead);
    if says_lead || piece.clone().any(|line| turning(line) || goes_behind(line)) {
        return true;
    }
    match work(line).map(|work| &work.body) {
        Some(Body::Steps(steps)) => names_others(steps),
        Some(Body::As { .. } | Body::Unread) | None => true,
    }
}

/// Whether steps go to what other lines have marked or made, or mark it for them.
fn names_others(steps: &[Step]) -> bool {
    let mut names = false;
    for step in steps {
        names |= matches!(step.kind, StepKind::Behind { .. } | StepKind::Mark(_));
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => names |= names_others(steps),
            Part::Place(Place::Mark(_)) | Part::Till(Till::Mark(_)) => names = true,
            Part::Places(places) => {
                places.each_part(&mut |part| {
                    names |= matches!(part, Part::Place(Place::Mark(_)) | Part::Till(Till::Mark(_)));
                });
            }
            _ => {}
        });
    }
    names
}

fn work(line: &Line) -> Option<&WorkLine> {
    match &line.kind {
        LineKind::Work(work) => Some(work),
        _ => None,
    }
}

fn keeps(kind: &LineKind) -> bool {
    match kind {
        LineKind::Header(header) => matches!(
            header,
            Header::Sizes(_)
                | Header::Terms(_)
                | Header::Counts { .. }
                | Header::Set { .. }
                | Header::Stitch(_)
                | Header::Grid(_)
                | Header::Legend(_)
                | Header::Squares(_)
                | Header::Yarn { .. }
        ),
        LineKind::Piece(_) | LineKind::Setting(_) | LineKind::Start(_) => true,
        _ => false,
    }
}
