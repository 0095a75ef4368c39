//! Where a line stops ringing true.

use super::placed::Misplaced;
use super::tape::LastInSpace;
use crate::diagnostic::Span;
use crate::pattern::model::{Kind, Side};
use crate::pattern::plan::PlanFaultKind;
use crate::stitch::StitchId;

/// A fault of one row or round in one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The piece, by its index.
    pub piece: usize,
    /// The item of the piece.
    pub item: usize,
    /// The size, by its index.
    pub size: usize,
    /// Index of the row among those worked in this size; nothing for a start or an ending.
    pub row: Option<usize>,
    /// Where in the text it breaks.
    pub span: Span,
    /// What is wrong.
    pub kind: FaultKind,
}

/// Why reverse stitches can't go back along an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoWayBack {
    /// Nothing has gone along it, so that the yarn is at its other end.
    First,
    /// The work is turned for it.
    Turned,
    /// Every row begins at the same edge.
    OneSided,
    /// Where it begins or ends is not the same from the other side: some of it is left, or waits.
    Open,
}

/// What is wrong with a small piece that is turned to and fro within a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tab {
    /// It is never turned.
    NoTurn,
    /// It is turned with nothing worked since it was turned before.
    TurnedTwice,
    /// It ends where its first row began, so that the line can't be gone on with.
    EndsAway {
        /// Its rows.
        rows: u32,
    },
    /// A row of it does not use all places of the row before.
    Left {
        /// Which row.
        row: u32,
        /// How many.
        left: u32,
    },
    /// It is within another one.
    Within,
    /// It is to go into one place.
    OnePlace,
    /// A step that ends or begins a line, or goes elsewhere.
    NoSuchStep,
    /// A repeat in it ends with a turn.
    TurnLast,
    /// It is turned in a repeat that goes as far as somewhere.
    TurnRepeated,
    /// It has places at its row ends and is in such a repeat.
    EndsRepeated,
}

/// What is wrong. All numbers are places or stitches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FaultKind {
    /// A step asks for more places than are left.
    RanOut {
        /// Places that the step asks for.
        wanted: u32,
        /// Places that were there for it.
        had: u32,
        /// In which of how many repeats it happens.
        repeat: Option<(u32, u32)>,
    },
    /// A small piece within a line that can't be worked.
    Tab(Tab),
    /// Places are left at the end of the line.
    LeftOver {
        /// How many.
        left: u32,
    },
    /// A repeat does not fit a whole number of times.
    Unfit {
        /// Places that one repeat takes.
        each: u32,
        /// How often it fits.
        times: u32,
        /// Places left over.
        over: u32,
        /// Where it was to end: so many places before the end.
        before_end: u32,
    },
    /// Rounds are to be joined to a row that some places still wait beside.
    WaitsAside {
        /// How many.
        waiting: u32,
    },
    /// A round goes back along a short row.
    GoesBack {
        /// How many places wait that it can't reach.
        waiting: u32,
    },
    /// The first row after rounds begins where the last round stopped short, and the work is not turned.
    StopsShort,
    /// The first stitch goes into a chain that is skipped as the turning chain.
    InTurning {
        /// Which chain, from the hook.
        number: u32,
        /// How many are skipped.
        turned: u32,
    },
    /// A space has fewer chains than one is counted to.
    NoSuchChain {
        /// The chain that is wanted, counted from 1.
        number: u32,
        /// Chains of the space.
        chains: u32,
    },
    /// A chain of a space lies behind the hook already.
    ChainPassed {
        /// The chain, counted from 1.
        number: u32,
    },
    /// Another chain of the same space, where the last stitch went into none.
    NoSameSpace,
    /// A repeat that should stop at its stars came out whole.
    StarsUnmet {
        /// How often it was worked.
        times: u32,
    },
    /// A repeat to the end that takes no place.
    NeverMoves,
    /// `to last n` is already passed.
    Passed {
        /// The n.
        last: u32,
        /// Places that were left.
        left: u32,
    },
    /// No such place is left.
    NoPlace {
        /// What was looked for.
        wanted: Kind,
        /// Kinds of stitch or of space that are still there, with how many of each.
        there: Vec<(Kind, u32)>,
    },
    /// A marked place is not there.
    NoMark(String),
    /// `behind rnd n` without such a round.
    NoLineBehind {
        /// The n.
        number: u32,
    },
    /// `in same` with nothing worked before it.
    NoSame,
    /// `in same sp` where that is a stitch, or `in same st` where it is a space.
    SameIsOther {
        /// What it was called, where a kind was named.
        called: Option<Kind>,
        /// What it is.
        kind: Kind,
    },
    /// A named place behind many stitches that nothing goes over.
    FarPassed {
        /// How many.
        passed: u32,
        /// The place.
        kind: Kind,
    },
    /// `in sc just made` where the line made another stitch last, or none.
    NotJustMade {
        /// What is named.
        wanted: Kind,
        /// What was made.
        made: Option<StitchId>,
    },
    /// `in skipped` with nothing skipped before it that is still free.
    NoSkipped,
    /// `in last` or `in lead` where stitches lie before that place that nothing was worked into.
    LastPassed {
        /// How many.
        passed: u32,
    },
    /// Stitches that nothing was worked into lie before the space that the line goes on to, behind others that it has worked
    /// along one by one.
    SpacePassed {
        /// How many.
        passed: u32,
    },
    /// A stitch of the designer's own that slips along to begin a line stands behind other stitches.
    MovesWithin,
    /// `move to next` such a place in a round that begins in one.
    MovesNowhere {
        /// Of which kind.
        kind: Kind,
    },
    /// Into places that are set aside, and wait for a later piece, from the row above their chain.
    WaitingTaken,
    /// `in last` or `in lead` when that place is behind the hook.
    LastTaken {
        /// It was skipped, and not worked into.
        skipped: bool,
    },
    /// `in first` when the first place is behind the hook, and the line isn't round yet.
    FirstTaken {
        /// It was skipped, and not worked into.
        skipped: bool,
    },
    /// A stitch over several places that is sent into one.
    LegsInOne {
        /// The stitch.
        stitch: StitchId,
        /// The space; none for a ring, or a stitch.
        space: Option<Kind>,
    },
    /// A stitch over several places, `in next` so many: one over them, or so many of it?
    LegsInSeveral {
        /// The stitch.
        stitch: StitchId,
        /// Places that one of it stands on.
        takes: u32,
        /// The number that is written.
        places: u32,
    },
    /// A skip ends inside a space, and the next place is none of its chains.
    SkipHalf {
        /// Chains in the space.
        chains: u32,
        /// How many of them are skipped.
        over: u32,
    },
    /// One loop of a stitch two rows below, which is not free.
    LoopUsed {
        /// The front loop, and not the back loop.
        front: bool,
    },
    /// Reverse stitches where they can't go back along the edge.
    NoWayBack(NoWayBack),
    /// The other loop of a stitch of which the piece begins on one alone.
    OtherLoop {
        /// The front loop is there, and not the back loop.
        front: bool,
    },
    /// An edge of a piece that isn't made in the size.
    NotMade {
        /// The piece, by its index.
        piece: usize,
    },
    /// `in same` behind a stitch that goes rows down.
    SameBelow,
    /// Two stitches side by side go two rows down, where they stand in one place.
    BelowTwice,
    /// So many rows below a place nothing lies.
    BelowNothing {
        /// Rows below; 1 is the line just worked.
        rows: u16,
    },
    /// So many rows below a place lie several, which were drawn together.
    BelowSeveral {
        /// Rows below; 1 is the line just worked.
        rows: u16,
    },
    /// A stitch goes rows down in a line that is worked through two layers.
    BelowLayers,
    /// Yarn is joined twice with nothing worked between.
    JoinedTwice,
    /// Chains are made at the start of the first row on a starting chain, and chains are counted from the hook beyond them.
    ChainedBefore {
        /// Chains made.
        chains: u32,
        /// The number counted from the hook.
        number: u32,
    },
    /// Chains are counted from the hook on a chain that is joined to a round.
    HookJoined,
    /// A step within a group, which goes into one place as a whole, names another place or passes places over.
    PlaceInGroup,
    /// A step among those that are worked off together is no stitch over one place.
    NoLeg,
    /// `in 1st ch from hook`, which the loop on the hook comes out of.
    HookInFirst,
    /// A marked place that is behind the hook and used up.
    MarkTaken(String),
    /// A marked place beyond others that nothing was worked into.
    MarkPassed {
        /// Name of the mark.
        name: String,
        /// How many others.
        passed: u32,
    },
    /// One name for several stitches of a line.
    MarkedTwice(String),
    /// A chain goes over an opening, and another opening begins where it ends.
    SharedChain {
        /// What the opening before the chain is called.
        first: String,
        /// And the one behind it.
        second: String,
    },
    /// `in same` behind a skip.
    SameBehindSkip,
    /// `in next gap` beside chains: what lies there is their space.
    GapInSpace {
        /// Chains of the space.
        chains: u32,
    },
    /// Several stitches `in skipped` where several places are free.
    SeveralSkipped {
        /// How many stitches.
        each: u32,
        /// How many places.
        free: u32,
    },
    /// A part of an edge that has fewer places.
    ShortEdge {
        /// Places of the part.
        wanted: u32,
        /// Places that are there.
        had: u32,
    },
    /// A piece starts on an edge that another piece does not have.
    NoEdge {
        /// That piece, by its index.
        piece: usize,
        /// Its row ends, and not the other side of its start.
        ends: bool,
    },
    /// The middle of an edge that has one place more on one side of it than on the other.
    NoMiddle {
        /// Places of the middle.
        wanted: u32,
        /// Places that are there.
        had: u32,
    },
    /// An opening in which nothing is set aside in this size.
    NoOpening {
        /// The piece that has it in other sizes, by its index.
        piece: usize,
        /// What it is called.
        name: String,
    },
    /// The chain over an opening that has none.
    NoBridge {
        /// The piece that has the opening, by its index.
        piece: usize,
        /// What it is called.
        name: String,
    },
    /// Openings of one name that have not the same numbers of stitches and chains.
    OpeningUnlike {
        /// What they are called.
        name: String,
        /// Stitches and chains of the first.
        first: (u32, u32),
        /// And of the one that is unlike it.
        here: (u32, u32),
    },
    /// Loops that no row has left free.
    NoLoops {
        /// The piece, by its index.
        piece: usize,
        /// The row or round, by its number.
        number: u32,
        /// The front loops, and not the back ones.
        front: bool,
    },
    /// Copies that lie side by side, whose last round has neither four corners nor six.
    LayoutCorners {
        /// How many it has.
        corners: u32,
        /// Chains of the spaces that are to be its corners.
        chains: u32,
    },
    /// Copies that lie side by side, of which there are none.
    LayoutEmpty {
        /// How many lie side by side.
        across: u32,
        /// How many lie one below the other.
        down: u32,
    },
    /// Copies that lie side by side, whose sides can't be joined: opposite ones are unlike, or have nothing to join in.
    LayoutSides {
        /// Places to join in along each side, in the order in which the last round makes them.
        sides: Vec<u32>,
    },
    /// Two edges that are worked through at once and have not as many places.
    Layers {
        /// Places of the one in front.
        one: u32,
        /// Places of the one behind.
        other: u32,
    },
    /// An edge, or a part of it, that is used up already.
    EdgeTaken {
        /// The piece that has it, by its index.
        piece: usize,
        /// Which edge.
        edge: EdgeName,
        /// The piece that used it before, by its index; the same one where its copies are more than the edges.
        by: usize,
    },
    /// A join to another piece where no place for it is left.
    JoinTaken {
        /// That piece, by its index.
        piece: usize,
        /// The sort of place.
        kind: Kind,
        /// How many of them there are, in all copies; where one is named by its number, in each copy.
        places: u32,
        /// The one that is named, counted from 1; 0 where it is the next free one.
        nth: u32,
    },
    /// A seam along more stitches of a row than it has.
    SeamShort {
        /// Stitches of both sides.
        wanted: u32,
        /// Stitches that are there.
        there: u32,
    },
    /// `in ring` without a ring.
    NoRing,
    /// `in lead` without a chain at the start of the line below.
    NoLead,
    /// `from hook` away from a fresh chain, or past its end.
    NoHookChain {
        /// Chains that are there.
        chains: u32,
    },
    /// The first row on a starting chain that does not say where it begins.
    ChainUnsaid {
        /// Chains in it.
        chains: u32,
    },
    /// One loop of what has no top.
    NoLoop {
        /// The space; none for a ring or a gap between stitches.
        space: Option<Kind>,
    },
    /// A post stitch that meets something without a post.
    NoPost {
        /// What is there.
        there: Option<Kind>,
    },
    /// No arm for what a stitch meets.
    NoArm(Kind),
    /// So many rows below do not exist.
    TooDeep {
        /// Rows that are there.
        rows: u32,
    },
    /// `leave n` with another number left.
    LeaveUnfit {
        /// The n.
        said: u32,
        /// Places that are left.
        left: u32,
        /// The same with each space counted as one place, which is not how `leave` counts.
        spaces_as_one: u32,
    },
    /// Something is worked after the line was turned or left.
    AfterEnd,
    /// A starting chain has no other side here.
    NoOtherSide,
    /// Makes another count than stated.
    Count {
        /// What is counted; nothing for the bare count.
        kind: Option<Kind>,
        /// Made.
        made: u32,
        /// Stated.
        stated: u32,
    },
    /// `again … until` jumps past its count, or comes no nearer to it.
    UntilPassed {
        /// Wanted.
        wanted: u32,
        /// The last line before made so many.
        before: u32,
        /// And the next so many.
        after: u32,
    },
    /// `again … until rnd n` when that round is done already.
    UntilDone {
        /// The n.
        wanted: u32,
        /// The last round worked.
        number: u32,
    },
    /// `again … until rnd n` that leaves lines of the last pass out, and nothing shows that this is meant.
    UntilInside {
        /// The n.
        wanted: u32,
        /// How many lines of the last pass are worked.
        over: u32,
        /// How many lines a pass has.
        pass: u32,
    },
    /// `again … until 18 cm` when the piece is longer already; both in millimetres.
    UntilLonger {
        /// Wanted.
        wanted: u32,
        /// How long it is.
        there: u32,
    },
    /// `gather n` with another number of stitches.
    Gather {
        /// The n.
        said: u32,
        /// Stitches that are there.
        there: u32,
    },
    /// `lead` behind stitches.
    LeadWithin,
    /// Yarn is joined behind stitches, and was not cut.
    RejoinUncut,
    /// A row is closed as a round is.
    ClosesRow,
    /// Tunisian work is turned.
    TurnsTunisian,
    /// A chain that counts as a stitch, made from the top of one.
    ChainFromTop,
    /// `join to` the piece itself, of which there is one.
    JoinsItself,
    /// A row is worked on stitches that a `gather` above has pulled together.
    Gathered,
    /// A row is worked on stitches that a seam above has sewn to one another.
    SewnShut,
    /// The two sides of a seam have different numbers.
    Seam {
        /// Stitches on one side; nothing when that row is not there.
        one: Option<u32>,
        /// Stitches on the other.
        other: Option<u32>,
    },
    /// Two edges that are sewn together and have not as many places as is said.
    Unequal {
        /// Places of one edge.
        one: u32,
        /// Places of the other.
        other: u32,
        /// How many more the longer one is said to have.
        easing: u32,
    },
    /// A piece is sewn over a number that it does not have.
    Sew {
        /// The number.
        over: u32,
        /// Stitches that the piece ends with.
        there: u32,
    },
    /// A piece that is made once is sewn to itself as if it were two.
    SewnAlone {
        /// The piece, by its index.
        piece: usize,
    },
    /// A piece is sewn on by the stitches that it ends with, and in every copy they are sewn or worked on already.
    SewnAgain {
        /// The piece, by its index.
        piece: usize,
        /// Another piece goes on from them.
        worked_on: bool,
    },
    /// A piece is sewn over a number that the other one has no room for.
    SewnBeyond {
        /// The number.
        over: u32,
        /// Stitches of the widest row or round of the other piece.
        around: u32,
    },
    /// A seam whose two sides are the same places.
    SewnToItself {
        /// The piece that has them, by its index.
        piece: usize,
        /// Which edge.
        edge: EdgeName,
        /// How many places both sides have.
        places: u32,
    },
    /// A seam whose two sides are the same row.
    RowToItself {
        /// Its number.
        row: u32,
    },
    /// Something is placed at a row or a stitch that isn't there, or at another number of places.
    Misplaced(Misplaced),
    /// The piece does not say where it begins.
    NoStart,
    /// More than a line or a piece may have.
    TooLarge,
    /// More than can be worked in all, at the line that is most of it.
    TooMuchWork,
}

/// An edge of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeName {
    /// Its last row or round.
    Top,
    /// Its row ends: of one side, or of both together where nothing says which.
    RowEnds(Option<Side>),
    /// The other side of its start.
    OtherSide,
    /// The way round all of its copies, where they lie side by side.
    Outside,
    /// One of its openings, by its place among them.
    Opening(usize),
    /// The loops of a row, by its number, that the one above has left free; the front ones or the back ones.
    Loops(u32, bool),
}

impl From<PlanFaultKind> for FaultKind {
    fn from(kind: PlanFaultKind) -> Self {
        match kind {
            PlanFaultKind::UntilDone { wanted, number } => Self::UntilDone { wanted, number },
            PlanFaultKind::UntilInside { wanted, over, pass } => Self::UntilInside { wanted, over, pass },
            PlanFaultKind::TooLarge => Self::TooLarge,
        }
    }
}

/// A question about a line that is right as far as it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Question {
    /// The piece, by its index.
    pub piece: usize,
    /// The item of the piece.
    pub item: usize,
    /// The size, by its index.
    pub size: usize,
    /// The step.
    pub span: Span,
    /// Where its line says it: another step, where this one is a part of a stitch of the designer's own.
    pub at: Span,
    /// A bare step went over the chains of a space this long.
    pub chains: u32,
    /// It is `to last n`, which ended inside that space.
    pub last: Option<LastInSpace>,
}

/// How a step with two readings was worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// One in each of so many places.
    OneInEach,
    /// So many in one place.
    AllInOne,
}

/// A line with two readings, and which of them ring true.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TwoReadings {
    /// The item of the piece.
    pub item: usize,
    /// The piece, by its index.
    pub piece: usize,
    /// Every reading that closes the line in this size.
    pub closes: Vec<Reading>,
    /// The size, by its index.
    pub size: usize,
}
