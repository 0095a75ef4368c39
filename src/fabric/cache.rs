//! Equal work is done once: a line that is met on an edge equal to one it was worked on before gives the same row.

use std::cell::{Cell, OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::edge::Edge;
use super::line::Done;
use super::piece::marks;
use super::twins::{each_number, twins};
use crate::diagnostic::Span;
use crate::pattern::model::{
    Again, Definition, Grid, Item, ItemKind, Kind, Lead, Line, Pattern, Piece, Sized, Stated, Step, StepKind, Stitches,
    Terms, Way, Yarns, each_step,
};

/// Places of edges that are kept at most, in all rows together: some 4 MB, and half as much where a row stands on one that is
/// kept as well.
const MOST_PLACES: usize = 240_000;

/// Rows that are kept at most of one line on edges of one length.
const MOST_OF_A_LINE: usize = 8;

/// The same two for a text that is worked many times over, a few of its lines otherwise each time: some 20 MB.
const MOST_PLACES_AMONG_MANY: usize = 1_000_000;
const MOST_OF_A_LINE_AMONG_MANY: usize = 24;

/// The line that is worked, and what besides its edge its row may depend on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct RowKey {
    pub piece: usize,
    pub source: usize,
    pub size: usize,
    pub rows_below: u32,
    pub posts_below: u32,
    /// It is the first row of its piece.
    pub is_first: bool,
    /// Nothing waits beside its edge.
    pub is_whole: bool,
    /// The right side faces the maker.
    pub right_side: bool,
    /// The yarn in use, where stitches are counted by their yarn.
    pub yarn: Option<usize>,
}

/// Rows that were worked.
#[derive(Debug, Default)]
pub(crate) struct Kept {
    rows: RefCell<BTreeMap<(usize, usize), OfLine>>,
    places: Cell<usize>,
    /// All sizes are worked alike.
    one_size: OnceCell<bool>,
    /// Whether a piece does rows again, piece by piece.
    again: OnceCell<Vec<bool>>,
    /// What the rows depend on by the designer's own stitches alone.
    own: OnceCell<Depends>,
    /// Whether a count is stated by yarn anywhere.
    counts_yarns: OnceCell<bool>,
    /// Rows are worked ahead, so that a line is worked once more when it has its turn.
    ahead: Cell<bool>,
    /// Where one text is worked many times over: what all of them have in common.
    among: Option<Among>,
}

/// A pattern that is worked many times over, a few of its lines otherwise each time.
#[derive(Debug)]
struct Among {
    ground: Ground,
    manners: Vec<Manner>,
    /// How many of them have been begun.
    turn: Cell<u64>,
    /// Pieces that are worked in another manner this time.
    otherwise: RefCell<BTreeSet<usize>>,
}

/// What every row of a pattern rests on.
#[derive(Debug, PartialEq)]
struct Ground {
    stitches: Stitches,
    definitions: Vec<Definition>,
    terms: Terms,
    counts_chains: bool,
    counts_yarns: bool,
    grids: Vec<Grid>,
    sizes: usize,
    yarns: Yarns,
}

/// What every row of a piece rests on besides.
#[derive(Debug, PartialEq)]
struct Manner {
    way: Way,
    turned: bool,
    lead: Lead,
    from_ring: bool,
    marks: Vec<String>,
}

/// What is kept of a line: of its words as they are, and of those that it was last worked in otherwise.
#[derive(Debug)]
struct OfLine {
    turn: u64,
    /// Whether it is worded as it was first.
    as_it_was: bool,
    first: Wording,
    otherwise: Option<Wording>,
}

/// A line in its words.
#[derive(Debug)]
struct Wording {
    /// Its steps and where they stand; none where no others can come.
    steps: Option<(Vec<Step>, Span)>,
    depends: Depends,
    /// By the length of the edge.
    rows: BTreeMap<usize, Vec<KeptRow>>,
}

#[derive(Debug)]
struct KeptRow {
    key: RowKey,
    on: Arc<Edge>,
    done: Arc<Done>,
}

/// What the row of a line depends on besides the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Depends {
    /// It names numbers that differ by size.
    size: bool,
    /// It goes into rows below.
    rows_below: bool,
    /// It is worked otherwise when the other side faces the maker.
    side: bool,
    /// It is worked once, so nothing is gained by keeping it.
    once: bool,
}

impl Kept {
    /// Keeps rows for a pattern that is going to be worked many times over, a few of its lines otherwise each time.
    pub(crate) fn among_many(pattern: &Pattern) -> Self {
        let among = Among {
            ground: Ground::of(pattern),
            manners: manners(pattern),
            turn: Cell::new(0),
            otherwise: RefCell::default(),
        };
        let counts_yarns = OnceCell::from(among.ground.counts_yarns);
        Self { among: Some(among), counts_yarns, ..Self::default() }
    }

    /// Begins with another pattern of those many; whether its rows can be kept beside theirs.
    pub(crate) fn begin(&self, pattern: &Pattern) -> bool {
        let Some(among) = &self.among else { return false };
        let manners = manners(pattern);
        if manners.len() != among.manners.len() || Ground::of(pattern) != among.ground {
            return false;
        }
        among.turn.set(among.turn.get().saturating_add(1));
        let pairs = manners.iter().zip(&among.manners).enumerate();
        *among.otherwise.borrow_mut() = pairs.filter(|(_, (now, then))| now != then).map(|(at, _)| at).collect();
        true
    }

    /// From here on rows are worked ahead.
    pub(super) fn looks_ahead(&self) {
        self.ahead.set(true);
    }

    /// A row that was worked by this line on an equal edge; one that was given up where it went wrong is enough where that is all
    /// that is asked.
    pub(super) fn find(
        &self,
        pattern: &Pattern,
        line: &Line,
        (key, gives_up): (RowKey, bool),
        edge: &Arc<Edge>,
    ) -> Option<Arc<Done>> {
        let mut rows = self.rows.borrow_mut();
        let wording = self.wording(pattern, line, key, &mut rows)?;
        let Depends { size, rows_below, side, .. } = wording.depends;
        let alike = |row: &&KeptRow| {
            (gives_up || !row.done.given_up)
                && (!size || row.key.size == key.size)
                && (!rows_below || (row.key.rows_below, row.key.posts_below) == (key.rows_below, key.posts_below))
                && (!side || row.key.right_side == key.right_side)
                && (row.key.is_first, row.key.yarn) == (key.is_first, key.yarn)
                && (Arc::ptr_eq(&row.on, edge) || row.on == *edge)
        };
        let rows = wording.rows.get(&edge.slots.len())?;
        rows.iter().rev().find(alike).map(|row| Arc::clone(&row.done))
    }

    /// What is kept of a line in the words that it has now; nothing where its piece is worked in another manner.
    fn wording<'r>(
        &self,
        pattern: &Pattern,
        line: &Line,
        key: RowKey,
        rows: &'r mut BTreeMap<(usize, usize), OfLine>,
    ) -> Option<&'r mut Wording> {
        let once = self.among.is_none() && self.is_once(pattern, line, key);
        let depends = || Depends::of(line, self.own(pattern), once);
        let written = || Wording {
            steps: self.among.is_some().then(|| (line.steps.clone(), line.steps_span)),
            depends: depends(),
            rows: BTreeMap::new(),
        };
        let begun = || OfLine { turn: 0, as_it_was: true, first: written(), otherwise: None };
        let of_line = rows.entry((key.piece, key.source)).or_insert_with(begun);
        let Some(among) = &self.among else { return Some(&mut of_line.first) };
        if among.otherwise.borrow().contains(&key.piece) {
            return None;
        }
        let turn = among.turn.get();
        if std::mem::replace(&mut of_line.turn, turn) != turn {
            of_line.as_it_was = of_line.first.says(line);
            if !of_line.as_it_was && of_line.otherwise.as_ref().is_none_or(|other| !other.says(line)) {
                let before = of_line.otherwise.replace(written());
                self.places.set(self.places.get().saturating_sub(before.map_or(0, |before| before.places())));
            }
        }
        if of_line.as_it_was { Some(&mut of_line.first) } else { of_line.otherwise.as_mut() }
    }

    fn own(&self, pattern: &Pattern) -> Depends {
        *self.own.get_or_init(|| {
            let mut own = Depends::default();
            pattern.definitions.iter().for_each(|definition| own.see(&definition.steps));
            own
        })
    }

    /// Whether stitches are counted by their yarn: a count by yarn is stated somewhere.
    pub(super) fn counts_yarns(&self, pattern: &Pattern) -> bool {
        *self.counts_yarns.get_or_init(|| counts_yarns(pattern))
    }

    /// Whether a line is worked once in all.
    fn is_once(&self, pattern: &Pattern, line: &Line, key: RowKey) -> bool {
        let says_again = |piece: &Piece| piece.items.iter().any(|item| matches!(item.kind, ItemKind::Again(_)));
        let again = self.again.get_or_init(|| pattern.pieces.iter().map(says_again).collect());
        let again = again.get(key.piece).copied().unwrap_or(true);
        let one_size = || *self.one_size.get_or_init(|| twins(pattern).iter().all(|size| *size == 0));
        line.times < 2 && !again && one_size()
    }

    /// Keeps a row; the oldest one of the line gives way.
    pub(super) fn keep(&self, key: RowKey, edge: &Arc<Edge>, done: &Arc<Done>) {
        let mut rows = self.rows.borrow_mut();
        let Some(of_line) = rows.get_mut(&(key.piece, key.source)) else { return };
        let (otherwise, most, most_places) = match &self.among {
            None => (false, MOST_OF_A_LINE, MOST_PLACES),
            Some(among) => {
                let otherwise = among.otherwise.borrow().contains(&key.piece);
                (otherwise, MOST_OF_A_LINE_AMONG_MANY, MOST_PLACES_AMONG_MANY)
            }
        };
        let wording = if of_line.as_it_was { Some(&mut of_line.first) } else { of_line.otherwise.as_mut() };
        let Some(wording) = wording.filter(|wording| !otherwise && (!wording.depends.once || self.ahead.get())) else {
            return;
        };
        let row = KeptRow { key, on: Arc::clone(edge), done: Arc::clone(done) };
        let of_length = wording.rows.entry(edge.slots.len()).or_default();
        let oldest = if of_length.len() >= most { Some(of_length.remove(0)) } else { None };
        let freed = oldest.map_or(0, |oldest| oldest.places());
        let places = self.places.get().saturating_sub(freed).saturating_add(row.places());
        if places > most_places {
            self.places.set(self.places.get().saturating_sub(freed));
            return;
        }
        self.places.set(places);
        of_length.push(row);
    }
}

impl Ground {
    fn of(pattern: &Pattern) -> Self {
        let Pattern { stitches, definitions, terms, counts_chains, grids, .. } = pattern;
        Self {
            stitches: stitches.clone(),
            definitions: definitions.clone(),
            terms: *terms,
            counts_chains: *counts_chains,
            counts_yarns: counts_yarns(pattern),
            grids: grids.clone(),
            sizes: pattern.sizes.len(),
            yarns: pattern.head.yarns.clone(),
        }
    }
}

fn manners(pattern: &Pattern) -> Vec<Manner> {
    let of = |piece: &Piece| Manner {
        way: piece.way,
        turned: piece.turned,
        lead: piece.lead.clone(),
        from_ring: piece.start.is_ring(),
        marks: marks(pattern, piece),
    };
    pattern.pieces.iter().map(of).collect()
}

/// Whether a count is stated by yarn anywhere.
fn counts_yarns(pattern: &Pattern) -> bool {
    let by_yarn = |stated: &Stated| stated.parts.iter().any(|(_, kind)| matches!(kind, Some(Kind::Yarn(_))));
    let states = |item: &Item| match &item.kind {
        ItemKind::Work(Line { stated, .. }) | ItemKind::Again(Again { stated, .. }) => {
            stated.as_ref().is_some_and(by_yarn)
        }
        _ => false,
    };
    pattern.pieces.iter().any(|piece| piece.items.iter().any(states))
}

impl Wording {
    fn says(&self, line: &Line) -> bool {
        self.steps.as_ref().is_none_or(|(steps, span)| *span == line.steps_span && *steps == line.steps)
    }

    fn places(&self) -> usize {
        self.rows.values().flatten().map(KeptRow::places).sum()
    }
}

impl KeptRow {
    fn places(&self) -> usize {
        self.on.slots.len() + self.done.after.slots.len() + self.done.rest.len()
    }
}

impl Depends {
    /// What the row of a line depends on, by its steps and by the designer's own stitches, which bring steps along.
    fn of(line: &Line, own: Self, once: bool) -> Self {
        let mut depends = Self { once, ..own };
        depends.see(&line.steps);
        depends
    }

    fn see(&mut self, steps: &[Step]) {
        each_number(steps, &mut |number: &Sized| self.size |= number.single().is_none());
        each_step(steps, &mut |step| {
            self.rows_below |= matches!(&step.kind, StepKind::Work(work) if work.below > 0);
            self.side |= matches!(step.kind, StepKind::Grid(_));
        });
    }
}
