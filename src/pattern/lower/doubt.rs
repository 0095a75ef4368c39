//! What lines that can't be read leave open: nothing is said of what rests on them.

use super::super::model::{ItemKind, Line};
use super::Lower;
use crate::diagnostic::Span;
use crate::syntax::tree::{File, LineKind, Sort, Unread, Way};
use std::collections::BTreeSet;

/// What may be declared in lines that can't be read.
#[derive(Debug, Default)]
pub(super) struct Lost {
    sorts: BTreeSet<Sort>,
    /// Stitches that are begun and can't be read, in small letters, with whether the name may go on.
    stitches: Vec<(String, bool)>,
}

impl Lost {
    /// Looks at the lines that can't be read. Above the first piece a line is one of the head, or begins a piece.
    pub(super) fn of(file: &File) -> Self {
        let mut lost = Self::default();
        let mut in_piece = false;
        for line in &file.lines {
            match &line.kind {
                LineKind::Piece(_) => in_piece = true,
                LineKind::Bad(unread) => lost.line(unread, in_piece, line.span.end),
                _ => {}
            }
        }
        lost
    }

    fn line(&mut self, unread: &Unread, in_piece: bool, end: usize) {
        for sort in &unread.may_be {
            let of_head = matches!(
                sort,
                Sort::Ground | Sort::Number | Sort::Stitch | Sort::Yarn | Sort::Hook | Sort::Gauge | Sort::Head
            );
            if !of_head || !in_piece || unread.may_be.len() == 1 {
                self.sorts.insert(*sort);
            }
        }
        if unread.may_be.contains(&Sort::Stitch) {
            let name = unread.name.as_ref();
            let open = name.is_none_or(|name| name.span.end >= end);
            self.stitches.push((name.map_or_else(String::new, |name| name.text.to_lowercase()), open));
        }
    }

    /// Whether a line that can't be read may declare something of a sort.
    pub(super) fn has(&self, sort: Sort) -> bool {
        self.sorts.contains(&sort)
    }

    /// Whether a line that can't be read may say how this stitch is made.
    fn may_make(&self, stitch: &str) -> bool {
        let name = stitch.to_lowercase();
        self.stitches.iter().any(|(begun, open)| *begun == name || *open && name.starts_with(begun))
    }
}

impl Lower {
    /// Whether a name may be declared in a line that can't be read; its place is then in doubt, and nothing is said of it.
    pub(super) fn may_be_lost(&mut self, sort: Sort, place: Span) -> bool {
        let lost = self.lost.has(sort);
        if lost {
            self.doubt.places.insert(place.start);
        }
        lost
    }

    /// Whether a line that can't be read may say how a stitch is made, known or not.
    pub(super) fn may_be_made_otherwise(&mut self, stitch: &str, known: bool, place: Span) -> bool {
        let lost = self.lost.has(Sort::Stitch) && (!known || self.lost.may_make(stitch));
        if lost {
            self.doubt.places.insert(place.start);
        }
        lost
    }

    /// A line that can't be read: it may begin a piece, or be rows or what they stand on.
    pub(super) fn unread(&mut self, unread: &Unread, next: Option<&LineKind>, span: Span) {
        let could_be = |sort| unread.may_be.contains(&sort);
        let begins = matches!(next, Some(LineKind::Setting(_) | LineKind::Start(_)));
        let new = self.pieces.last().is_none_or(|piece| piece.items.iter().any(works));
        if unread.may_be == [Sort::Piece] || begins && new && unread.may_begin_a_piece() {
            let name = unread.name.as_ref().map_or_else(String::new, |name| name.text.clone());
            let mut piece = self.empty_piece(name, Way::Rows, 1, span);
            piece.in_doubt = true;
            self.push(piece);
            self.way_unsaid = true;
            self.lost.sorts.insert(Sort::Piece);
            return;
        }
        let Some(piece) = self.pieces.last_mut() else { return };
        if could_be(Sort::Lead) && !piece.items.iter().any(works) {
            piece.in_doubt = true;
        } else if could_be(Sort::Rows) || could_be(Sort::Start) || unread.may_be.is_empty() {
            piece.unread.push(piece.items.len());
        }
    }

    /// Rows whose steps aren't known.
    pub(super) fn unread_rows(&mut self, line: Line, span: Span) {
        self.item(ItemKind::Work(Line { unread: true, ..line }), span);
    }

    /// Rows that can't be looked up stand here.
    pub(super) fn rows_not_known(&mut self) {
        if let Some(piece) = self.pieces.last_mut() {
            piece.unread.push(piece.items.len());
        }
    }

    /// A piece line that does not say how the piece is worked may end in the middle of its name.
    pub(super) fn half_a_name(&mut self) {
        self.lost.sorts.insert(Sort::Piece);
        if let Some(piece) = self.pieces.last_mut() {
            piece.in_doubt = true;
        }
    }
}

/// Whether an item works rows.
fn works(item: &super::super::model::Item) -> bool {
    matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_))
}
