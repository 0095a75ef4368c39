//! Whether a page, read again, makes the fabric that it was written from.

use std::collections::BTreeSet;

use super::Became;
use crate::compiled::{Compiled, compile, errors};
use crate::fabric::{Foot, Graph, GraphRow, Node, On, What, graph_up_to};
use crate::limits;
use crate::page::{self, Edition};
use crate::pattern::model::{ItemKind, Pattern, Piece};
use crate::stitch::StitchId;
use crate::syntax::NOT_READ;

/// What came of reading a page again.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReadBack {
    /// Rows and rounds of the source, over all sizes and pieces of the page.
    pub rows: usize,
    /// Those that are the same.
    pub same: usize,
    /// Stitches of the source.
    pub stitches: usize,
    /// How many sizes the page has.
    pub sizes: usize,
    /// Lines of the page that could not be read, or were read and are other work, with why.
    pub differences: Vec<Difference>,
    /// The first line of the page that could not be read.
    pub unread: Option<String>,
    /// What was read, in the notation.
    pub notation: String,
    /// The page is too large to be read again, and nothing of it was.
    pub too_large: bool,
}

/// A row that is not the same.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The piece.
    pub piece: String,
    /// The size, where there are several.
    pub size: String,
    /// The number of the row, if it is one.
    pub row: Option<u32>,
    /// Whether it is a round.
    pub round: bool,
    /// Whether it could be read at all.
    pub read: bool,
}

impl ReadBack {
    /// Whether the page makes the same fabric in every size.
    #[must_use]
    pub fn is_same(&self) -> bool {
        !self.too_large && self.differences.is_empty() && self.rows == self.same
    }
}

/// Reads the Markdown page again.
#[must_use]
pub fn markdown(compiled: &Compiled, edition: &Edition) -> ReadBack {
    of_page(compiled, edition, &page::markdown(compiled, edition))
}

/// Reads the page in plain text again.
#[must_use]
pub fn plain(compiled: &Compiled, edition: &Edition) -> ReadBack {
    of_page(compiled, edition, &page::plain(compiled, edition))
}

/// Compares what a page says with what it was written from.
#[must_use]
pub fn of_page(compiled: &Compiled, edition: &Edition, page: &str) -> ReadBack {
    let sizes = edition.sizes_for(&compiled.pattern);
    if is_too_large(compiled, &sizes, page) {
        return ReadBack { sizes: sizes.len(), too_large: true, ..ReadBack::default() };
    }
    let reading = super::read(page);
    let own = own_words(&compiled.pattern);
    let notation = without_own_words(&reading.notation, &own);
    let again = compile(&notation);
    let left = |one: &super::Instruction| one.became != Became::Work && !is_own(&one.words, &own);
    let unread = reading.instructions.into_iter().find(left).map(|one| one.words);
    let mut back = ReadBack { sizes: sizes.len(), notation, unread, ..ReadBack::default() };
    let mut at_fault = !errors(&again.findings).is_empty();
    let of_page = |piece: &Piece| sizes.iter().any(|size| piece.is_made_in(*size));
    for (at, size) in sizes.iter().copied().enumerate() {
        let before = Worked::of(&compiled.pattern, size, &of_page);
        let after = Worked::of(&again.pattern, at, &|_| true);
        at_fault &= !before.compare(&after, compiled, size, &mut back);
    }
    // What is not read without a fault is never called the same.
    if at_fault && back.differences.is_empty() {
        back.differences.push(Difference {
            piece: String::new(),
            size: String::new(),
            row: None,
            round: false,
            read: false,
        });
    }
    back
}

/// The designer's words for the maker, which a page gives as they are: whatever work they speak of, none of it is in the fabric.
fn own_words(pattern: &Pattern) -> BTreeSet<String> {
    let head = &pattern.head;
    let told = head.about.iter().cloned().chain(head.notes.iter().map(|note| note.text.clone()));
    let items = pattern.pieces.iter().flat_map(|piece| &piece.items);
    let words = items.filter_map(|item| match &item.kind {
        ItemKind::Words(words) => Some(words.text.clone()),
        _ => None,
    });
    let how = pattern.stitches.iter().filter_map(|(_, stitch)| stitch.how.clone().filter(|_| stitch.own));
    told.chain(words).chain(how).flat_map(|text| sentences(&text)).collect()
}

/// What was read, with no mark on what are the designer's own words.
fn without_own_words(notation: &str, own: &BTreeSet<String>) -> String {
    let marked_own = |line: &&str| {
        let marked = line.trim_start().trim_start_matches('#').trim_start().strip_prefix(NOT_READ);
        marked.and_then(|rest| rest.split_once("”: ")).is_some_and(|(_, text)| is_own(text, own))
    };
    notation.split_inclusive('\n').filter(|line| !marked_own(line)).collect()
}

/// Whether each sentence of a text is one of the designer's own.
fn is_own(text: &str, own: &BTreeSet<String>) -> bool {
    let said = sentences(text);
    !said.is_empty() && said.iter().all(|sentence| own.contains(sentence))
}

/// The sentences of a text by their letters and digits alone, whatever marks stand between them.
fn sentences(text: &str) -> Vec<String> {
    let letters = |sentence: &str| sentence.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
    text.split(['.', '!', '?']).map(letters).filter(|sentence| !sentence.is_empty()).collect()
}

/// Whether to read a page again would take longer, or more room, than anybody waits for or has.
fn is_too_large(compiled: &Compiled, sizes: &[usize], page: &str) -> bool {
    let stitches = |size: &usize| -> u64 {
        let rows = compiled.fabric.pieces.iter().filter_map(|piece| piece.sizes.get(*size)).flat_map(|size| &size.rows);
        rows.map(|row| u64::from(row.ledger.stitches).saturating_add(u64::from(row.ledger.chains))).sum()
    };
    let each: Vec<u64> = sizes.iter().map(stitches).collect();
    let bytes = u64::try_from(page.len()).unwrap_or(u64::MAX);
    let all = each.iter().fold(bytes.saturating_mul(5), |all, size| all.saturating_add(size.saturating_mul(2)));
    all > limits::MOST_READ_BACK || each.iter().any(|size| *size > limits::MOST_SHOWN / 2)
}

/// A graph with the pattern that gives its stitches their names.
struct Worked<'p> {
    pattern: &'p Pattern,
    graph: Graph,
    /// Nothing of it was too large to be worked.
    whole: bool,
    /// Of each piece, the nodes that it begins with.
    bases: Vec<Vec<usize>>,
    /// Of each piece, its rows among all of them.
    rows: Vec<Vec<usize>>,
    /// The pieces that stand on the page, in order.
    told: Vec<usize>,
    /// Of each piece, its place among these.
    places: Vec<Option<usize>>,
}

/// A node, by what any pattern calls it and by where it stands.
#[derive(Debug, PartialEq, Eq)]
struct Same<'p> {
    what: (u8, &'p str, &'p str),
    yarn: &'p str,
    loops: Option<crate::pattern::model::LoopOnly>,
    on_edge: bool,
    closes: bool,
    feet: Vec<(On, Option<Standing>, bool)>,
}

/// Where a node stands: the number of its row, its piece among those of the page, and its place in them.
type Standing = (Option<u32>, usize, usize);

impl<'p> Worked<'p> {
    fn of(pattern: &'p Pattern, size: usize, of_page: &dyn Fn(&Piece) -> bool) -> Self {
        let (graph, whole) = graph_up_to(limits::MOST_STITCHES, pattern, size);
        let of_each = |pieces: &mut dyn Iterator<Item = (usize, usize)>| {
            let mut each = vec![Vec::new(); pattern.pieces.len()];
            for (at, piece) in pieces {
                if let Some(of) = each.get_mut(piece) {
                    of.push(at);
                }
            }
            each
        };
        let nodes = graph.nodes.iter().enumerate().filter(|(_, node)| node.row.is_none());
        let bases = of_each(&mut nodes.map(|(at, node)| (at, node.piece)));
        let rows = of_each(&mut graph.rows.iter().enumerate().map(|(at, row)| (at, row.piece)));
        let pieces = pattern.pieces.iter().enumerate().filter(|(_, piece)| of_page(piece));
        let told: Vec<usize> = pieces.map(|(at, _)| at).collect();
        let mut places = vec![None; pattern.pieces.len()];
        for (place, piece) in told.iter().enumerate() {
            if let Some(of) = places.get_mut(*piece) {
                *of = Some(place);
            }
        }
        Self { pattern, graph, whole, bases, rows, told, places }
    }

    fn rows_of(&self, piece: usize) -> impl Iterator<Item = &GraphRow> {
        self.rows.get(piece).into_iter().flatten().filter_map(|row| self.graph.rows.get(*row))
    }

    /// Compares with another one; whether all of it is the same.
    fn compare(&self, other: &Self, compiled: &Compiled, size: usize, back: &mut ReadBack) -> bool {
        let mut all = self.whole && other.whole && self.told.len() == other.told.len();
        for (there, at) in self.told.iter().copied().enumerate() {
            let Some(piece) = self.pattern.pieces.get(at) else { continue };
            let there = other.told.get(there).copied().unwrap_or(usize::MAX);
            let mut others = other.rows_of(there).peekable();
            let mut difference = |row: Option<&GraphRow>, read: bool| {
                back.differences.push(Difference {
                    piece: piece.name.clone(),
                    size: compiled.pattern.sizes.get(size).cloned().unwrap_or_default(),
                    row: row.map(|row| row.number),
                    round: piece.way.rounds(),
                    read,
                });
            };
            let made = |worked: &Self, at: usize| worked.pattern.pieces.get(at).map(|piece| piece.copies);
            if self.base(at) != other.base(there) || made(self, at) != made(other, there) {
                difference(None, other.rows_of(there).next().is_some());
                all = false;
            }
            for row in self.rows_of(at) {
                back.rows += 1;
                // A row that could not be read is missing; those behind it have numbers of their own.
                let again = others.next_if(|again| again.number <= row.number);
                let stitches = self.graph.nodes.get(row.nodes.clone()).unwrap_or_default();
                back.stitches +=
                    stitches.iter().filter(|node| matches!(node.what, What::Stitch(_) | What::CountedLead(_))).count();
                if again.is_some_and(|again| self.is_same(row, other, again)) {
                    back.same += 1;
                } else {
                    difference(Some(row), again.is_some());
                    all = false;
                }
            }
            if others.next().is_some() {
                difference(None, true);
                all = false;
            }
        }
        all
    }

    /// What a piece begins with. A source need not say the yarn of a starting chain, which a page always does.
    fn base(&self, piece: usize) -> Vec<Same<'_>> {
        let nodes = self.bases.get(piece).into_iter().flatten().filter_map(|node| self.graph.nodes.get(*node));
        nodes.map(|node| Same { yarn: "", ..self.named(node) }).collect()
    }

    fn is_same(&self, row: &GraphRow, other: &Self, again: &GraphRow) -> bool {
        let nodes = |worked: &'_ Self, row: &GraphRow| -> usize {
            worked.graph.nodes.get(row.nodes.clone()).map_or(0, <[Node]>::len)
        };
        (row.number, row.right_side, row.closing) == (again.number, again.right_side, again.closing)
            && nodes(self, row) == nodes(other, again)
            && self.nodes(row).zip(other.nodes(again)).all(|(one, other)| one == other)
    }

    fn nodes(&self, row: &GraphRow) -> impl Iterator<Item = Same<'_>> {
        self.graph.nodes.get(row.nodes.clone()).unwrap_or_default().iter().map(|node| self.named(node))
    }

    fn named(&self, node: &Node) -> Same<'_> {
        let yarn = node.yarn.and_then(|yarn| self.pattern.head.yarns.get(yarn)).map_or("", |yarn| yarn.name.as_str());
        let feet =
            self.graph.feet(node).iter().map(|foot: &Foot| (foot.on, foot.node.map(|at| self.place(at)), foot.fresh));
        Same {
            what: self.what(node.what),
            yarn,
            loops: node.loops,
            on_edge: node.on_edge,
            closes: node.closes_round(),
            feet: feet.collect(),
        }
    }

    /// Where a node stands: its row, its piece, and its place in them.
    fn place(&self, at: usize) -> Standing {
        let Some(node) = self.graph.nodes.get(at) else { return (None, 0, at) };
        let told = |piece: usize| self.places.get(piece).copied().flatten().unwrap_or(usize::MAX);
        match node.row.and_then(|row| self.graph.rows.get(row)) {
            Some(row) => (Some(row.number), told(row.piece), at.saturating_sub(row.nodes.start)),
            None => {
                let begins = self.bases.get(node.piece).and_then(|base| base.first()).copied();
                (None, told(node.piece), at.saturating_sub(begins.unwrap_or(0)))
            }
        }
    }

    fn what(&self, what: What) -> (u8, &str, &str) {
        match what {
            What::Stitch(id) => (0, self.stitch(id), ""),
            What::Chain => (1, "", ""),
            What::CountedLead(id) => (2, self.stitch(id), ""),
            What::Lead => (3, "", ""),
            What::Slip => (4, "", ""),
            What::JoinTo(piece) => (5, "", self.pattern.pieces.get(piece).map_or("", |piece| piece.name.as_str())),
            What::Base => (6, "", ""),
            What::Foundation(id) => (7, self.stitch(id), ""),
            What::Ring => (8, "", ""),
            What::Thing => (9, "", ""),
        }
    }

    fn stitch(&self, id: StitchId) -> &str {
        self.pattern.stitches.get(id).map_or("", |stitch| stitch.us.short.as_str())
    }
}
