//! What every check says in the same words: which round, which sizes, over how many stitches.

use std::cell::OnceCell;
use std::collections::BTreeSet;

use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::fabric::{Fabric, Fault, Row};
use crate::pattern::model::{
    Item, ItemKind, Kind, Line, Opening, PartOf, Pattern, Piece, Rim, Side, Sized, Start, Terms,
};
use crate::syntax::tree::File;
use crate::words;

/// Faults of one kind at one place, one entry a size.
pub(super) type Group<'a> = &'a [&'a Fault];

/// The pattern and its fabric, for a check to read.
#[derive(Clone, Copy)]
pub(super) struct Context<'a> {
    pub tree: &'a File,
    pub pattern: &'a Pattern,
    pub fabric: &'a Fabric,
    /// The words of the free text, gathered when they are first asked for.
    pub vocabulary: &'a OnceCell<BTreeSet<String>>,
}

impl<'a> Context<'a> {
    /// The piece of a fault.
    pub(super) fn piece(&self, fault: &Fault) -> Option<&'a Piece> {
        self.pattern.pieces.get(fault.piece)
    }

    /// The item of a fault.
    pub(super) fn item(&self, fault: &Fault) -> Option<&'a Item> {
        self.piece(fault)?.items.get(fault.item)
    }

    /// The row where a fault is.
    pub(super) fn row(&self, fault: &Fault) -> Option<&'a Row> {
        self.rows(fault)?.get(fault.row?)
    }

    fn rows(&self, fault: &Fault) -> Option<&'a [Row]> {
        Some(&self.fabric.pieces.get(fault.piece)?.sizes.get(fault.size)?.rows)
    }

    /// The line whose steps a faulty row works.
    pub(super) fn line(&self, fault: &Fault) -> Option<&'a Line> {
        let source = self.row(fault)?.source;
        match &self.piece(fault)?.items.get(source)?.kind {
            ItemKind::Work(line) => Some(line),
            _ => None,
        }
    }

    /// "round 14", "row 3"; the number as it is written where it is.
    pub(super) fn label(&self, fault: &Fault) -> String {
        let Some(row) = self.row(fault) else { return "this line".to_owned() };
        self.label_of(fault.piece, row, row.number)
    }

    /// "round 14": a row by the number that it is given here.
    pub(super) fn label_of(&self, piece: usize, row: &Row, number: u32) -> String {
        let item = self.pattern.pieces.get(piece).and_then(|p| p.items.get(row.item)).map(|i| &i.kind);
        let (round, written) = match item {
            Some(ItemKind::Work(line)) if line.times == 1 => (line.round, line.number),
            Some(ItemKind::Work(line)) => (line.round, None),
            Some(ItemKind::Again(again)) => (again.round, None),
            _ => (true, None),
        };
        format!("{} {}", if round { "round" } else { "row" }, written.unwrap_or(number))
    }

    /// "round 13", "the starting chain": what the faulty row was worked on.
    pub(super) fn below(&self, fault: &Fault) -> String {
        if let Some(row) = self.row_below(fault) {
            return self.label_of(fault.piece, row, row.number);
        }
        self.piece(fault).map_or_else(|| "the start".to_owned(), |piece| self.edge_name(&piece.start))
    }

    /// The row that the faulty row was worked on; nothing for the start.
    pub(super) fn row_below(&self, fault: &Fault) -> Option<&'a Row> {
        let on = self.row(fault)?.on;
        self.rows(fault)?.iter().find(|row| row.number == on)
    }

    /// "the left edge of Front": what a piece starts on, or what is sewn.
    pub(super) fn edge_name(&self, start: &Start) -> String {
        match start {
            Start::Ring => "the ring".to_owned(),
            Start::Chain(_) | Start::ChainRing(_) => "the starting chain".to_owned(),
            Start::Foundation(..) => "the foundation row".to_owned(),
            Start::Edge(piece) => format!("the edge of {}", self.name(*piece)),
            Start::OtherSide(piece) => format!("the other side of {}", self.name(*piece)),
            Start::Top(piece) => format!("the top of {}", self.name(*piece)),
            Start::Around(piece) => format!("the outside of {}", self.name(*piece)),
            Start::Part(which, amount, of) => {
                let which = match which {
                    PartOf::First => "first",
                    PartOf::Last => "last",
                    PartOf::Middle => "middle",
                };
                format!("the {which} {} of {}", self.written(amount), self.edge_name(of))
            }
            Start::Several(_) | Start::Through(..) => "the edges it starts on".to_owned(),
            Start::ChainBack => "the other side of the chain".to_owned(),
            Start::Rest(of) => format!("what is left of {}", self.edge_name(of)),
            Start::Side(piece, Side::Left) => format!("the left edge of {}", self.name(*piece)),
            Start::Side(piece, Side::Right) => format!("the right edge of {}", self.name(*piece)),
            Start::Opening(opening) => {
                let of = format!("{} of {}", opening.name, self.name(opening.piece));
                match opening.rim {
                    Rim::Around { .. } => format!("the opening {of}"),
                    Rim::Stitches => format!("the stitches set aside for {of}"),
                    Rim::Chain => format!("the chain over {of}"),
                }
            }
            Start::Loops(piece, number, _) => {
                format!("the free loops of round {number} of {}", self.name(*piece))
            }
            Start::Thing(_, name) => name.clone(),
            Start::Unsaid => "the start".to_owned(),
        }
    }

    /// "the 38 stitches of round 13".
    pub(super) fn offered(&self, fault: &Fault) -> String {
        if self.below(fault) == "the ring" {
            return "the ring".to_owned();
        }
        let count = self.row(fault).map_or(0, |r| r.ledger.offered.saturating_sub(r.ledger.row_ends));
        format!("the {} of {}", self.places(fault, count), self.below(fault))
    }

    /// "38 stitches", "56 row ends", "12 chains": so many of what a faulty row is worked on.
    pub(super) fn places(&self, fault: &Fault, count: u32) -> String {
        words::count(count, self.noun(fault))
    }

    /// What one place of the edge is called.
    pub(super) fn noun(&self, fault: &Fault) -> &'static str {
        let before = self.row_below(fault);
        match (before, self.piece(fault).map(|p| &p.start)) {
            (Some(row), _) if row.ledger.chains > 0 || row.ledger.row_ends > 0 => "place",
            (None, Some(Start::Edge(_) | Start::Side(..))) => "row end",
            (None, Some(Start::Opening(Opening { rim: Rim::Around { .. }, .. }) | Start::Thing(..))) => "place",
            (
                None,
                Some(
                    Start::Chain(_)
                    | Start::ChainRing(_)
                    | Start::OtherSide(_)
                    | Start::Opening(Opening { rim: Rim::Chain, .. }),
                ),
            ) => "chain",
            (Some(_) | None, _) => "stitch",
        }
    }

    /// The last line of a fault's piece, as "round 7".
    pub(super) fn last_line(&self, fault: &Fault) -> Option<String> {
        let row = self.rows(fault)?.last()?;
        Some(self.label_of(fault.piece, row, row.number))
    }

    /// "round 7", "row 3": the first row or round that an item works; "this line" if it works none.
    pub(super) fn first_of(&self, piece: usize, item: usize) -> String {
        let sizes = self.fabric.pieces.get(piece).map(|p| p.sizes.as_slice()).unwrap_or_default();
        let row = sizes.iter().find_map(|size| size.rows.of_item(item).first());
        row.map_or_else(|| "this line".to_owned(), |row| self.label_of(piece, row, row.number))
    }

    /// Whether an item is the first row or round of its piece in some size.
    pub(super) fn is_first(&self, piece: usize, item: usize) -> bool {
        let sizes = self.fabric.pieces.get(piece).map(|p| p.sizes.as_slice()).unwrap_or_default();
        sizes.iter().any(|size| size.rows.first().is_some_and(|row| row.item == item))
    }

    /// Whether the designer puts her name to the pattern. It is then read as one that goes out to strangers, and what they
    /// will look for has to be there. Excerpts, exercises and old patterns written down again have no `by` line.
    pub(super) fn signed(&self) -> bool {
        self.pattern.head.by.is_some()
    }

    /// The name of a piece.
    pub(super) fn name(&self, piece: usize) -> String {
        self.pattern.pieces.get(piece).map(|p| p.name.clone()).unwrap_or_default()
    }

    /// The name of a kind of place in the pattern's own terms.
    pub(super) fn kind(&self, kind: Kind) -> String {
        match kind {
            Kind::AnyStitch => "st".to_owned(),
            Kind::Chain => "ch".to_owned(),
            Kind::Space(length) => format!("ch-{length} sp"),
            Kind::AnySpace => "ch sp".to_owned(),
            Kind::Stitch(id) => self.short(id),
            Kind::Yarn(yarn) => self.yarn(yarn),
        }
    }

    /// The name of a yarn, by its place in the head.
    fn yarn(&self, yarn: usize) -> String {
        self.pattern.head.yarns.get(yarn).map_or_else(String::new, |yarn| yarn.name.clone())
    }

    /// "an hdc", "a chain", "a ch-2 sp": what a step meets.
    pub(super) fn met(&self, kind: Kind) -> String {
        match kind {
            Kind::AnyStitch => "the end of a row".to_owned(),
            Kind::Chain => "a chain".to_owned(),
            Kind::Yarn(yarn) => format!("a stitch in {}", self.yarn(yarn)),
            Kind::Space(_) | Kind::AnySpace | Kind::Stitch(_) => words::with_article(&self.kind(kind)),
        }
    }

    /// "4 ch-2 sp", "1 stitch": so many of a kind, of stitches when no kind is named.
    pub(super) fn so_many(&self, count: u32, kind: Option<Kind>) -> String {
        match kind {
            None if self.pattern.counts_chains => format!("{} and chains", words::count(count, "stitch")),
            None | Some(Kind::AnyStitch) => words::count(count, "stitch"),
            Some(Kind::Yarn(yarn)) => format!("{} in {}", words::count(count, "stitch"), self.yarn(yarn)),
            Some(kind) => format!("{count} {}", self.kind(kind)),
        }
    }

    /// The abbreviation of a stitch in the pattern's own terms.
    pub(super) fn short(&self, id: crate::stitch::StitchId) -> String {
        let terms: Terms = self.pattern.terms;
        self.pattern.stitches.get(id).map(|s| s.names(terms).short.clone()).unwrap_or_default()
    }

    /// Says whom it concerns: every size, or those named.
    pub(super) fn sizes(&self, group: Group<'_>) -> Option<String> {
        let all = self.pattern.sizes.len();
        if all < 2 {
            return None;
        }
        let mut which: Vec<usize> = group.iter().map(|f| f.size).collect();
        which.sort_unstable();
        which.dedup();
        if which.len() == all {
            return Some("in every size".to_owned());
        }
        let names: Vec<&str> = which.iter().filter_map(|s| self.pattern.sizes.get(*s)).map(String::as_str).collect();
        Some(format!("in {}", words::list(&names)))
    }

    /// Starts a finding about a group: message and label from its first fault, a note for every size with other numbers.
    pub(super) fn finding(
        &self,
        code: crate::diagnostic::Code,
        group: Group<'_>,
        say: impl Fn(&Fault) -> (String, String),
    ) -> Diagnostic {
        let Some(first) = group.first() else {
            return Diagnostic::error(code, "", Span::default(), "");
        };
        let (message, label) = say(first);
        let mut finding = Diagnostic::error(code, message.clone(), first.span, label);
        if let Some(sizes) = self.sizes(group) {
            finding = finding.with_note(sizes);
        }
        for other in group.iter().skip(1) {
            let (differs, _) = say(other);
            if differs != message {
                let size = self.pattern.sizes.get(other.size).map(String::as_str).unwrap_or_default();
                finding = finding.with_note(format!("in {size}: {differs}"));
            }
        }
        finding
    }

    /// A list of numbers as it is written in the source: one number for all sizes, or one a size.
    pub(super) fn written(&self, amount: &Sized) -> String {
        let one = self.rewritten(amount, &[]);
        let alone = amount.span.end.saturating_sub(amount.span.start) <= one.len();
        if alone || amount.values.len() < 2 {
            return one;
        }
        let all: Vec<String> = amount.values.iter().map(ToString::to_string).collect();
        all.join(" / ")
    }

    /// A list of numbers with those of some sizes changed, written as short as it can be.
    pub(super) fn rewritten(&self, amount: &Sized, changes: &[(usize, u32)]) -> String {
        let mut values = amount.values.clone();
        for (size, value) in changes {
            if let Some(slot) = values.get_mut(*size) {
                *slot = *value;
            }
        }
        let same = values.windows(2).all(|w| w.first() == w.last());
        if same {
            return values.first().map(ToString::to_string).unwrap_or_default();
        }
        let written: Vec<String> = values.iter().map(ToString::to_string).collect();
        written.join(" / ")
    }
}

/// "`old` to `new`": an edit as it is offered.
pub(super) fn change(old: &str, new: &str, span: Span) -> Fix {
    Fix::change(format!("`{old}` to `{new}`"), span, new)
}
