//! What is known while a line is told: what a place is called here, and what has gone before in it.

use crate::diagnostic::Span;
use crate::fabric::{LeadWorked, Spread};
use crate::pattern::model::{Kind, LoopOnly, Sized, StitchId};

use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase};

/// What the places are called that a bare step goes into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Noun {
    /// Stitches.
    Stitch,
    /// Chains of a starting chain.
    Chain,
    /// Ends of rows.
    RowEnd,
    /// Whatever an edge has: stitches, chains and ends of rows.
    Place,
    /// A space.
    Space,
}

/// Where in its line a step stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Position {
    /// The next place is the first of the line.
    First,
    /// A chain counted from the hook has been used, which begins the line.
    Begun,
    /// Places have been used.
    Further,
    /// So many places are left.
    Last(Numbers),
}

/// What the skipped chains of a starting chain are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Skipped {
    /// They count as this stitch.
    CountAs(StitchId),
    /// They count as nothing.
    CountForNothing,
}

/// How a line runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Course {
    /// Once round.
    Around,
    /// From end to end; so does each side of a chain that is worked on both sides.
    Across,
}

/// What steps stand in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Inside {
    /// The line; every step has its own places.
    Line,
    /// One place that everything goes into, so that no place is named.
    OnePlace,
}

/// Where a number of a line is 0 in some of the sizes that are shown.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Zero {
    /// The number of a step: it is left out.
    pub of_a_step: bool,
    /// In `to last 0`: the step goes on to the end.
    pub before_the_end: bool,
}

/// Tells one line. It remembers what was said, so that the next words fit.
#[derive(Debug, Clone)]
pub(super) struct Teller<'a> {
    pub voice: &'a Voice<'a>,
    /// Sizes that the line is for: one entry a size.
    pub concerned: &'a [bool],
    /// A round and not a row.
    pub round: bool,
    /// What a bare place is called.
    pub noun: Noun,
    /// What `to end` is called.
    pub course: Course,
    /// Where in the line we are.
    pub position: Position,
    /// The word for the first places of the line: `first`, or `next` where rounds run on.
    pub first: &'static str,
    /// What the last place was called.
    pub same: Noun,
    /// The kind of stitch of this line that the hook has gone into last.
    pub on_just_made: Option<Kind>,
    /// On a starting chain that nothing has been worked into: what its skipped chains are.
    pub in_chain: Option<Skipped>,
    /// Which side faces the maker, with the sizes in which it does.
    pub sides: Vec<(bool, Vec<usize>)>,
    /// The piece is the mirror image of another one, so that the pictures of grids are turned round.
    pub mirrored: bool,
    /// How the fabric spread stitches in this line, by size.
    pub spreads: Vec<(usize, &'a Spread)>,
    /// The piece that the line is in, by its place in the text.
    pub piece: Span,
    /// What the first place of the line is called, where it is no plain stitch: what it is, and its words.
    pub first_place: Option<(Noun, Phrase)>,
    /// The line begins with chains that it goes back along, so that it is longer there than the row below.
    pub begins_in_chains: bool,
    /// The corner that the line begins in, where its piece goes round copies that lie side by side.
    pub corner: Option<Kind>,
    /// What the place is called that the hook stands in before anything is worked.
    pub standing: Option<Noun>,
    /// The word for a place that yarn is joined in to begin the line: `any` or `first`.
    pub anew: Option<&'static str>,
    /// Where the line began, for a round that is closed with a tall stitch.
    pub began: Phrase,
    /// How the line below began: what `in lead` goes into.
    pub lead_below: Phrase,
    /// How deep in repeats we are.
    pub nest: u32,
    /// Whether places are named.
    pub inside: Inside,
    /// The loop that the whole line is worked in, said once.
    pub whole_loop: Option<LoopOnly>,
    /// The last chain along the other side of the starting chain is the one that the line began in, and is not worked again.
    pub corner_left: bool,
    /// The hook is between two stitches, in a gap that was named last.
    pub in_gap: bool,
    /// We are on that other side.
    pub on_other_side: bool,
    /// What comes first after slip stitches along goes into the place of the last of them.
    pub begins_where_it_stands: bool,
    /// The line has begun with a chain that counts as a stitch.
    pub on_counted_lead: bool,
    /// The round has begun behind slip stitches: the places of those come last.
    pub moved_on: bool,
    /// The round below was closed with a tall stitch, so that this one begins in a space.
    pub closed_below: bool,
    /// Yarn is joined with no chain after it: the stitch that stands there at once.
    pub standing_stitch: Option<StitchId>,
    /// The line is turned before its end.
    pub short: bool,
    /// Slip stitches have gone along so many places to begin further on.
    pub moved: bool,
    /// It is a part of a round in a spiral.
    pub in_part: bool,
    /// ` of what Row 5 left unworked`, until yarn is joined there.
    pub left_by: Option<Phrase>,
    /// Chains just made, where all sizes have the same.
    pub run: Option<u32>,
    /// What the place is called that chains hang from which are worked back along, and how many of them are left.
    pub hung: Option<(Noun, Option<u32>)>,
    /// How many places the last skip passed over, where all sizes have the same, and how many were gone back to.
    pub skipped: (Option<u32>, u32),
    /// The kind of space that was skipped.
    pub skipped_space: Option<Kind>,
    /// A small piece is being told that is turned within the line.
    pub in_tab: bool,
    /// The chain that its rows turn with.
    pub turned_lead: LeadWorked,
    /// A number is 0 in some size, and the maker has to be told what that means.
    pub zero: Zero,
}

impl<'a> Teller<'a> {
    /// Begins a line.
    pub fn new(voice: &'a Voice<'a>, concerned: &'a [bool], round: bool, noun: Noun) -> Self {
        Self {
            voice,
            concerned,
            round,
            noun,
            course: if round { Course::Around } else { Course::Across },
            position: Position::First,
            first: "first",
            same: noun,
            on_just_made: None,
            in_chain: None,
            sides: Vec::new(),
            mirrored: false,
            spreads: Vec::new(),
            piece: Span::default(),
            first_place: None,
            corner: None,
            standing: None,
            anew: None,
            began: Phrase::default(),
            lead_below: Phrase::default(),
            nest: 0,
            inside: Inside::Line,
            begins_in_chains: false,
            whole_loop: None,
            corner_left: false,
            in_gap: false,
            on_other_side: false,
            begins_where_it_stands: false,
            closed_below: false,
            on_counted_lead: false,
            moved_on: false,
            standing_stitch: None,
            short: false,
            moved: false,
            in_part: false,
            left_by: None,
            run: None,
            hung: None,
            skipped: (None, 0),
            skipped_space: None,
            in_tab: false,
            turned_lead: LeadWorked::None,
            zero: Zero::default(),
        }
    }

    /// The number of a step in each size that is shown.
    pub fn number(&mut self, sized: &Sized) -> Numbers {
        let numbers = self.voice.numbers(sized, self.concerned);
        self.zero.of_a_step |= numbers.has_zero() && !numbers.is_nothing();
        numbers
    }

    /// Whether a step has nothing to do in any size that is shown.
    pub fn is_nothing(&self, sized: &Sized) -> bool {
        self.voice.numbers(sized, self.concerned).is_nothing()
    }

    /// A bare place, one or several.
    pub fn place_name(&self, amount: Amount) -> Phrase {
        self.called(self.noun, amount)
    }

    /// What a place is called.
    pub fn called(&self, noun: Noun, amount: Amount) -> Phrase {
        match noun {
            Noun::Stitch => self.voice.kind(Kind::AnyStitch, amount),
            Noun::Chain => self.voice.kind(Kind::Chain, amount),
            Noun::Space => Phrase::default().with(self.voice.terms_of(Term::Space, amount)),
            Noun::RowEnd => Phrase::of(if amount == Amount::One { "row end" } else { "row ends" }),
            Noun::Place => Phrase::of(if amount == Amount::One { "place" } else { "places" }),
        }
    }

    /// `around`, or `across` for a row.
    pub fn to_the_end(&self) -> &'static str {
        match self.course {
            Course::Around => "around",
            Course::Across => "across",
        }
    }

    /// So many of the chains that are worked back along have been used.
    pub fn used_along(&mut self, chains: Option<u32>) {
        if let Some((_, left)) = &mut self.hung {
            *left = left.zip(chains).and_then(|(left, chains)| left.checked_sub(chains));
        }
    }

    /// What `same` is called: where all chains that hang from a place are used, it is that place.
    pub fn same_place(&mut self) -> Noun {
        if let Some((noun, Some(0))) = self.hung.take_if(|(_, left)| *left == Some(0)) {
            self.same = noun;
        }
        self.same
    }

    /// A place has been used.
    pub fn went_into(&mut self, noun: Noun) {
        self.same = noun;
        self.on_just_made = None;
        self.hung = self.hung.filter(|_| noun == Noun::Chain);
        self.standing = None;
        self.in_gap = false;
        self.position = Position::Further;
    }
}

/// What a place of a kind is called when it is spoken of again.
pub(super) fn noun_of(kind: Kind) -> Noun {
    match kind {
        Kind::Space(_) | Kind::AnySpace => Noun::Space,
        Kind::Chain => Noun::Chain,
        Kind::AnyStitch | Kind::Stitch(_) | Kind::Yarn(_) => Noun::Stitch,
    }
}
