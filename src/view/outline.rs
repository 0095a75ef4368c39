//! The parts of a file, for folding and for finding one's way.

use serde::{Serialize, Serializer};

use super::Shown;
use crate::diagnostic::Span;
use crate::syntax::tree::{Header, Line, LineKind};

/// A part of a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Part {
    /// Its name; that of the head is the title.
    pub name: String,
    /// What it is.
    pub kind: PartKind,
    /// Where its first line begins.
    pub from: u32,
    /// Where its last line ends that is not blank.
    pub to: u32,
    /// Its first line, from 0.
    pub line: u32,
    /// Its last line.
    pub last_line: u32,
}

/// What a part of a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartKind {
    /// What stands before the first piece.
    Head,
    /// A grid, which is a part of the head.
    Grid,
    /// A piece.
    Piece,
}

impl Serialize for PartKind {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(match self {
            Self::Head => "head",
            Self::Grid => "grid",
            Self::Piece => "piece",
        })
    }
}

pub(super) fn outline(shown: Shown<'_>) -> Vec<Part> {
    let lines = &shown.compiled.tree.lines;
    let is_piece = |line: &&Line| matches!(line.kind, LineKind::Piece(_));
    let first_piece = lines.iter().position(|line| is_piece(&line)).unwrap_or(lines.len());
    let (head, rest) = lines.split_at_checked(first_piece).unwrap_or_default();
    let title = &shown.compiled.pattern.head.title;
    // A file of rows alone has no head.
    let has_head = head.iter().any(|line| matches!(line.kind, LineKind::Header(_)));
    let mut parts: Vec<Part> =
        has_head.then(|| part(shown, title.clone(), PartKind::Head, head)).flatten().into_iter().collect();
    parts.extend(grids(shown, head));
    let mut rest = rest;
    while let Some((first, below)) = rest.split_first() {
        let next = below.iter().position(|line| is_piece(&line)).unwrap_or(below.len());
        let (piece, after) = rest.split_at_checked(next + 1).unwrap_or_default();
        if let LineKind::Piece(line) = &first.kind {
            parts.extend(part(shown, line.name.text.clone(), PartKind::Piece, piece));
        }
        rest = after;
    }
    parts
}

fn grids(shown: Shown<'_>, head: &[Line]) -> Vec<Part> {
    let mut parts = Vec::new();
    for (at, line) in head.iter().enumerate() {
        let LineKind::Header(Header::Grid(grid)) = &line.kind else { continue };
        let of_grid = |line: &&Line| {
            matches!(line.kind, LineKind::Header(Header::Legend(_) | Header::Squares(_)) | LineKind::Remark)
        };
        let below = head.get(at + 1..).unwrap_or_default().iter().take_while(of_grid).count();
        let lines = head.get(at..=at + below).unwrap_or_default();
        parts.extend(part(shown, grid.name.text.clone(), PartKind::Grid, lines));
    }
    parts
}

/// A part from its first line to the last that is neither blank nor a remark on what comes after.
fn part(shown: Shown<'_>, name: String, kind: PartKind, lines: &[Line]) -> Option<Part> {
    let of_it = |line: &&Line| !matches!(line.kind, LineKind::Blank | LineKind::Remark);
    let first = lines.iter().find(of_it)?;
    let last = lines.iter().rfind(of_it)?;
    let whole = shown.trim(Span::new(first.span.start, last.span.end));
    let (from, to) = shown.from_to(whole);
    let (line, last_line) = (shown.places.line(whole.start), shown.places.line(whole.end));
    Some(Part { name, kind, from, to, line, last_line })
}
