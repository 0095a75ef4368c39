//! The tree of a file: what is written, line by line, with places in the text and nothing looked up yet.

mod parts;

pub use parts::Part;

use crate::diagnostic::Span;

/// A whole file, in the order of its lines.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct File {
    /// Every line, blank ones and remarks included.
    pub lines: Vec<Line>,
}

/// One line, continuation lines included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The line without its line break; a remark at its end is inside.
    pub span: Span,
    /// Sizes named by `only`; empty for all.
    pub only: Vec<Text>,
    /// What the line is.
    pub kind: LineKind,
    /// The remark at the end of the line, `#` included.
    pub remark: Option<Span>,
}

impl Line {
    /// Whether it, or what is worked in it, could not be read.
    #[must_use]
    pub fn is_unread(&self) -> bool {
        match &self.kind {
            LineKind::Bad(_) => true,
            LineKind::Work(work) => work.body == Body::Unread,
            _ => false,
        }
    }
}

/// A piece of text as it stands, trimmed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Text {
    /// Where it stands.
    pub span: Span,
    /// The text.
    pub text: String,
}

/// Words for the maker, in which numbers that differ by size stand in braces or as a list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Words {
    /// The words as they stand, on one line.
    pub text: Text,
    /// What stands in braces, and lists, in order.
    pub numbers: Vec<NumberInWords>,
}

/// A number in words for the maker.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberInWords {
    /// Where its opening brace or its first digit stands in the words, in bytes.
    pub from: usize,
    /// Where it ends there.
    pub to: usize,
    /// The number.
    pub amount: Amount,
}

/// What a line is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LineKind {
    /// Nothing on it.
    Blank,
    /// Only a remark.
    Remark,
    /// `>`: words for the maker, in Markdown.
    Words(Words),
    /// A header line.
    Header(Header),
    /// `piece …`.
    Piece(PieceLine),
    /// A line that sets something for the piece.
    Setting(Setting),
    /// `start …`.
    Start(Start),
    /// `rnd 3: …`.
    Work(WorkLine),
    /// `again …`.
    Again(Again),
    /// `fasten off`, `seam …` and the like.
    Ending(Ending),
    /// `meant unused-yarn because …`.
    Meant(Meant),
    /// A line that could not be read; a finding says why.
    Bad(Unread),
}

/// A line that could not be read, and what can be seen of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Unread {
    /// What it may have been, by its first word or the beginning of it; empty where that word is nearly none of ours.
    pub may_be: Vec<Sort>,
    /// The name that it gives, as far as it is written.
    pub name: Option<Text>,
}

impl Unread {
    /// Whether it may begin a piece.
    #[must_use]
    pub fn may_begin_a_piece(&self) -> bool {
        self.may_be.is_empty() || self.may_be.contains(&Sort::Piece)
    }
}

/// What a line is about, as far as other lines rest on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// `sizes`, `terms`, `counts`: every line rests on it.
    Ground,
    /// `set`.
    Number,
    /// `stitch`.
    Stitch,
    /// `yarn`.
    Yarn,
    /// `hook`.
    Hook,
    /// `gauge`.
    Gauge,
    /// `piece`.
    Piece,
    /// `grid`, `legend` and the rows of a grid.
    Grid,
    /// `lead`.
    Lead,
    /// `start`.
    Start,
    /// Rows or rounds: `rnd 3:`, `again rnd 3, 2 times`.
    Rows,
    /// A line of the head that no other line rests on.
    Head,
    /// A line of a piece that no other line rests on.
    OfPiece,
}

/// A line that says of warnings that all is as it was meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meant {
    /// The names of the warnings.
    pub codes: Vec<Text>,
    /// Why.
    pub reason: Text,
}

/// A header line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Header {
    /// `pattern TITLE`.
    Pattern(Text),
    /// `by NAME`.
    By(Text),
    /// `about WORDS`.
    About(Text),
    /// `note WORDS`.
    Note(Words),
    /// `version WORDS`.
    Version(Text),
    /// `notion WORDS`.
    Notion(Text),
    /// `picture FILE "WORDS"`.
    Picture {
        /// The name of the file.
        file: Text,
        /// What is to be seen, for those who don't see it.
        words: Option<Text>,
    },
    /// `caution WORDS`.
    Caution(Text),
    /// `correction 2026-03-01 WORDS`.
    Correction(Text),
    /// `for AUDIENCE`.
    For(Text),
    /// `skill LEVEL`.
    Skill(Text),
    /// `sizes A / B`.
    Sizes(Vec<Text>),
    /// `terms US`.
    Terms(Text),
    /// `counts stitches`.
    Counts {
        /// Whether chains are counted too.
        chains: bool,
        /// The words after `counts`.
        span: Span,
    },
    /// `hook [NAME] 4.5 mm [(G)]`.
    Hook {
        /// The name, for `using`.
        name: Option<Text>,
        /// Diameter in mm, as written; nothing for a steel hook that has only a number.
        size: Option<Text>,
        /// A letter or number in brackets, or the number of a steel hook with the word.
        letter: Option<Text>,
    },
    /// `yarn A "oat", weight 3, 50 g = 110 m`.
    Yarn {
        /// The letter or name that work lines use.
        name: Text,
        /// Colour or description in quotes.
        colour: Option<Text>,
        /// Weight number 0 to 7.
        weight: Option<Text>,
        /// A ball: its mass and length.
        ball: Option<(Measure, Measure)>,
        /// Anything further.
        more: Vec<Text>,
    },
    /// `gauge [NAME] 17 sts x 19 rows in sc = 10 cm`.
    Gauge {
        /// The name, for `using`.
        name: Option<Text>,
        /// Stitches across, as written (may have a decimal point).
        stitches: Text,
        /// Rows or rounds.
        rows: Text,
        /// The stitch or stitch pattern.
        stitch: Option<Text>,
        /// Over which length.
        over: Measure,
    },
    /// `blocks ch 3, 3 dc`: blocks that are worked from corner to corner.
    Blocks {
        /// The chains of a block.
        chains: Number,
        /// Its stitches.
        each: Number,
        /// What they are.
        stitch: Text,
    },
    /// `swatch [YARN] 20 sts x 20 rows in sc = 7.3 g`.
    Swatch {
        /// The yarn; the first one unless said.
        yarn: Option<Text>,
        /// Stitches across.
        stitches: Number,
        /// Rows.
        rows: Number,
        /// The stitch it is worked in.
        stitch: Text,
        /// The mass or length of the yarn in it.
        took: Measure,
    },
    /// `finished around 46 / 50 cm [at PIECE]`.
    Finished {
        /// `around`, `length`, `width`, …
        what: Text,
        /// One number for all sizes or one a size, as written.
        numbers: Vec<Text>,
        /// `cm` or `in`.
        unit: Text,
        /// Where it is measured.
        at: Option<Text>,
    },
    /// `fits head 48-52 cm`.
    Fits(Text),
    /// `set NAME = …`.
    Set {
        /// The name.
        name: Text,
        /// The number.
        amount: Amount,
    },
    /// `stitch NAME "full name": …`.
    Stitch(StitchLine),
    /// `grid NAME, filet`.
    Grid(GridLine),
    /// `legend . = A, x = bobble in B`.
    Legend(Vec<LegendEntry>),
    /// `|..xx..|`: a row of a grid.
    Squares(Squares),
}

/// How a grid begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GridLine {
    /// Its name.
    pub name: Text,
    /// How it is worked.
    pub technique: Technique,
    /// The stitch of its squares, where it is said.
    pub stitch: Option<Text>,
    /// How many squares of each sort it has in all.
    pub stated: Option<Stated>,
}

/// How the squares of a grid are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Technique {
    /// A square is a stitch.
    Plain,
    /// Mosaic from one side: a row a colour, and long stitches into front loops two rows below.
    Overlay,
    /// Mosaic to and fro: two rows a colour, with chains over stitches that are worked long two rows later.
    Inset,
    /// A square is two places and the stitch after them, open or filled.
    Filet,
    /// A square is a block on the diagonal.
    Corner,
}

/// What a sign of a grid means.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LegendEntry {
    /// The sign.
    pub sign: Text,
    /// A yarn, a stitch, `open` or `filled`.
    pub what: Text,
    /// The yarn of a stitch.
    pub yarn: Option<Text>,
}

/// A row of a grid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Squares {
    /// All of it.
    pub span: Span,
    /// Its signs from left to right.
    pub signs: Vec<Text>,
    /// How many of each sort it has.
    pub stated: Option<Stated>,
}

/// A length or mass with its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measure {
    /// All of it.
    pub span: Span,
    /// The number as written.
    pub number: String,
    /// `g`, `oz`, `m`, `yd`, `cm`, `in`, `mm`.
    pub unit: String,
}

/// A stitch of the designer's own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StitchLine {
    /// Abbreviation.
    pub name: Text,
    /// Full name.
    pub full: Option<Text>,
    /// How it is made.
    pub body: StitchBody,
    /// Words after `>`.
    pub words: Option<Text>,
}

/// How a designer's stitch is made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StitchBody {
    /// From steps.
    Steps(Vec<Step>),
    /// One unit.
    Unit {
        /// Places it stands on.
        takes: Number,
        /// Stitches it makes.
        makes: Number,
    },
}

/// `piece NAME, in joined rounds, make 2`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceLine {
    /// The name.
    pub name: Text,
    /// How it is worked, where it is said.
    pub way: Option<Way>,
    /// How many copies.
    pub copies: Option<Number>,
    /// The piece that it is the mirror image of.
    pub mirror: Option<Text>,
    /// The piece whose lines it begins with, and up to which row or round.
    pub like: Option<(Text, Option<Amount>)>,
    /// Where `turned` stands: its rounds are turned when they are joined.
    pub turned: Option<Span>,
    /// Where `flat` stands: it is to lie flat.
    pub flat: Option<Span>,
    /// Its copies lie side by side: `in a layout of 5 x 4`.
    pub layout: Option<LayoutLine>,
    /// The lead that its turning chains say, where it has no `lead` line.
    pub turning_lead: Option<Lead>,
}

/// What a piece line says of a layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayoutLine {
    /// Where `in a layout of 5 x 4` stands; nothing where only the rest is said.
    pub span: Option<Span>,
    /// How many lie side by side, and how many one below the other.
    pub across: Option<Number>,
    /// How many lie one below the other.
    pub down: Option<Number>,
    /// `joined in ch-1 sp`: chains of the spaces along a side; nothing where the copies are sewn.
    pub joined: Option<Number>,
    /// `corners in ch-3 sp`: chains of the spaces at the corners.
    pub corners: Option<Number>,
}

/// How a piece is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Back and forth.
    Rows,
    /// In rows that all go the same way, with yarn joined anew at each beginning or stitches worked backwards.
    RowsFromOneSide,
    /// In rows that go there and back without a turn: the loops stay on the hook until the way back (Tunisian crochet).
    TunisianRows,
    /// Each round closed with a slip stitch.
    JoinedRounds,
    /// On and on, without a join.
    Spiral,
}

impl Way {
    /// Whether the work goes to and fro or always one way, with row ends at both sides.
    #[must_use]
    pub fn rows(self) -> bool {
        !self.rounds()
    }

    /// Whether its rows all begin at the same edge.
    #[must_use]
    pub fn one_sided(self) -> bool {
        matches!(self, Self::RowsFromOneSide | Self::TunisianRows)
    }

    /// Whether the work goes round.
    #[must_use]
    pub fn rounds(self) -> bool {
        matches!(self, Self::JoinedRounds | Self::Spiral)
    }
}

/// A setting of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Setting {
    /// `with A`.
    With(Text),
    /// `using band`.
    Using(Text),
    /// `lead …`.
    Lead(Lead),
    /// `stripe A 2, B 1`.
    Stripe(Vec<(Text, Number)>),
    /// `colours apart`.
    Colours(ColourWork),
    /// `now in rows`.
    Now(Now),
}

/// How a piece goes on from the next row or round on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Now {
    /// Rows, joined rounds or a spiral.
    pub way: Way,
    /// The rounds are turned when they are joined.
    pub turned: Option<Span>,
    /// The chain that every line starts with from there on, where it is another one.
    pub lead: Option<(Lead, Span)>,
    /// The work isn't turned before the first of them.
    pub without_turning: Option<Span>,
}

/// What is done with the colours of a line that are not in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum ColourWork {
    /// They lie along the stitches, which are worked over them: tapestry.
    #[default]
    Carried,
    /// They lie behind the stitches.
    Stranded,
    /// Each area has a ball of its own, and nothing is carried: intarsia.
    Apart,
}

/// The chain that a line starts with.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lead {
    /// `none`.
    None,
    /// `ch 3 as dc`, or `ch 1`.
    Chain {
        /// How many chains.
        chains: Number,
        /// The stitch it counts as.
        counts_as: Option<Text>,
    },
}

/// Where a piece begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Start {
    /// `start ring`.
    Ring,
    /// `start ch 7` and `start ch 4 joined`.
    Chain {
        /// How many.
        chains: Amount,
        /// Joined into a ring.
        joined: bool,
    },
    /// `start 24 fsc`.
    Foundation {
        /// How many.
        count: Amount,
        /// The foundation stitch.
        stitch: Text,
    },
    /// `start edge of NAME`.
    Edge(Text),
    /// `start other side of NAME`.
    OtherSide(Text),
    /// `start top of NAME`.
    Top(Text),
    /// `start around NAME`: its top, one side, the other side of its start, the second side.
    Around(Text),
    /// `start again top of NAME`: worked into once more.
    Again(Box<Start>),
    /// `start top of Back + edge of Front`: one after the other.
    Several(Vec<Start>),
    /// `start first 12 of top of Back`: a part of an edge.
    Part(PartOf, Amount, Box<Start>),
    /// `start rest of top of Back`: what earlier pieces have left of an edge.
    Rest(Box<Start>),
    /// `start left edge of NAME`: a side as the piece lies, with its right side up.
    Side(Side, Text),
    /// `start around left sleeve of Yoke`, `start stitches of …`, `start chain of …`: an opening, or one side of it.
    Opening(Text, Rim),
    /// `start front loops of rnd 7 of Sole`: what the line above it has left free.
    Loops {
        /// Which loops.
        loops: LoopOnly,
        /// The row or round.
        number: Number,
        /// The piece.
        name: Text,
    },
    /// `start through top of Front and top of Back`: both at once.
    Through(Box<Start>, Box<Start>),
    /// `start 60 places on the hem`, `start on a curtain ring`: something that is not crocheted.
    Thing {
        /// How many places it has; nothing where it is worked over like a ring.
        places: Option<Amount>,
        /// What it is, in the designer's words.
        name: Text,
    },
}

/// A side of a piece in rows as it lies with its right side up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// On the left.
    Left,
    /// On the right.
    Right,
}

/// What of an opening is worked along.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rim {
    /// All round it.
    Around {
        /// Where the first place is.
        from: RimFrom,
        /// How many places lie at each corner, between the stitches and the chain; none unless said.
        corners: Option<Amount>,
    },
    /// The stitches that were set aside.
    Stitches,
    /// The free side of the chain over them.
    Chain,
}

/// Where the way round an opening begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RimFrom {
    /// At the first of the stitches that were set aside.
    Stitches,
    /// At the first chain.
    Chain,
    /// In the middle of the chain.
    MiddleOfChain,
}

/// Which part of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartOf {
    /// Its first places.
    First,
    /// Its last places.
    Last,
    /// Those in its middle: as many lie before them as behind.
    Middle,
}

/// A whole number, or one that differs by size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amount {
    /// All of it.
    pub span: Span,
    /// One term for all sizes, or one a size.
    pub terms: Vec<Term>,
}

impl Amount {
    /// Every number that is written in it, those of its arithmetic as well.
    #[must_use]
    pub fn numbers(&self) -> Vec<Number> {
        let mut all = Vec::new();
        for term in &self.terms {
            match &term.value {
                TermValue::Number(value) => all.push(Number { span: term.span, value: *value }),
                TermValue::Sum(sum) => sum.numbers(&mut all),
            }
        }
        all
    }

    /// The names of numbers that it asks for.
    pub(crate) fn names(&self) -> Vec<&str> {
        let mut all = Vec::new();
        for term in &self.terms {
            if let TermValue::Sum(sum) = &term.value {
                sum.names(&mut all);
            }
        }
        all
    }
}

/// One number of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// Where it stands.
    pub span: Span,
    /// The number or the arithmetic.
    pub value: TermValue,
}

/// A number or arithmetic on names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TermValue {
    /// Digits.
    Number(u64),
    /// `{rim / 6 - 1}`.
    Sum(Sum),
}

/// Arithmetic inside braces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sum {
    /// Digits.
    Number(Number),
    /// A name that `set` gave.
    Name(Text),
    /// Two sides and what joins them: `+`, `-`, `*` or `/`.
    Of {
        /// The sign.
        sign: char,
        /// Left side.
        left: Box<Sum>,
        /// Right side.
        right: Box<Sum>,
        /// All of it.
        span: Span,
    },
}

impl Sum {
    /// Where it stands, without brackets around all of it.
    #[must_use]
    pub fn span(&self) -> Span {
        match self {
            Self::Number(number) => number.span,
            Self::Name(name) => name.span,
            Self::Of { span, .. } => *span,
        }
    }

    fn numbers(&self, all: &mut Vec<Number>) {
        match self {
            Self::Number(number) => all.push(*number),
            Self::Name(_) => {}
            Self::Of { left, right, .. } => {
                left.numbers(all);
                right.numbers(all);
            }
        }
    }

    fn names<'s>(&'s self, all: &mut Vec<&'s str>) {
        match self {
            Self::Number(_) => {}
            Self::Name(name) => all.push(&name.text),
            Self::Of { left, right, .. } => {
                left.names(all);
                right.names(all);
            }
        }
    }
}

/// A whole number that is the same in every size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Number {
    /// Where it stands.
    pub span: Span,
    /// The number.
    pub value: u64,
}

/// A work line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkLine {
    /// `rnd 7`, `rnds 8-12`, `row`.
    pub label: Label,
    /// What is worked.
    pub body: Body,
    /// The stated count.
    pub stated: Option<Stated>,
    /// Turning chains that are written in the line, as print does. They are none of its steps.
    pub turning: Vec<Turning>,
}

/// A turning chain that is written at the end of a line, where it begins the next one, or with a `turn` at the beginning
/// of its own. A finding says where it belongs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turning {
    /// `ch 1, turn`.
    pub span: Span,
    /// The same with the comma that parts it from the steps that stay.
    pub cut: Span,
    /// Its chains; none of a mere `turn`.
    pub chains: Option<Number>,
    /// The stitch that it counts as, where that is said.
    pub counts_as: Option<Text>,
    /// It stands at the end, and so is the next line's.
    pub at_end: bool,
    /// Its `turn` stays among the steps: a round turns only where it says so, and a row may turn before its end.
    pub turn_stays: bool,
    /// It is a mere chain at the beginning of its row, and no turn stands beside it.
    pub alone: bool,
}

/// The part before the colon.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// All of it, without the colon.
    pub span: Span,
    /// `rnd` and not `row`.
    pub round: bool,
    /// First number.
    pub from: Option<Number>,
    /// Last number, of a range.
    pub to: Option<Number>,
    /// `rs` (true) or `ws` (false), where it is said.
    pub right_side: Option<bool>,
}

/// What a work line says to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Body {
    /// Steps.
    Steps(Vec<Step>),
    /// Steps that could not be read; a finding says why.
    Unread,
    /// `as rnd 4`.
    As {
        /// `rnd` and not `row`.
        round: bool,
        /// Which one, or the first of several.
        number: Number,
        /// The last of several.
        to: Option<Number>,
        /// The piece that they are in, if it is another one.
        piece: Option<Text>,
    },
}

/// `again …`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Again {
    /// All of it.
    pub span: Span,
    /// `rnds` and not `rows`.
    pub round: bool,
    /// First one that is done again.
    pub from: Number,
    /// Last one; the same as `from` for a single one.
    pub to: Number,
    /// How many of those above, where no number names them; `from` and `to` then only say where that is written.
    pub above: Option<Number>,
    /// How often or how far.
    pub extent: AgainExtent,
    /// The count that each line (or the last one) makes, if stated.
    pub stated: Option<Stated>,
}

/// How often or how far lines are done again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AgainExtent {
    /// `4 times`.
    Times(Amount),
    /// `until rnd 12`.
    UntilLine(Amount),
    /// `until 18 cm`, `until 32 cm from underarm`; numbers as written, one or one a size.
    UntilLength {
        /// The numbers.
        numbers: Vec<Text>,
        /// `cm` or `in`.
        unit: Text,
        /// Where the length is measured from; the beginning of the piece unless said.
        from: Option<LengthFrom>,
    },
    /// `until 18 sts`.
    UntilStitches(Amount),
}

/// Where a length is measured from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthFrom {
    /// `from rnd 12`.
    Line(Number),
    /// `from underarm`: the line in which that place is marked, or that opening left.
    Named(Text),
}

/// A stated count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stated {
    /// From the `=` to the end.
    pub span: Span,
    /// One entry a kind; without a kind it is the bare count.
    pub parts: Vec<StatedPart>,
}

/// One number of a stated count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatedPart {
    /// Number.
    pub amount: Amount,
    /// What is counted.
    pub kind: Option<Kind>,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// All of it.
    pub span: Span,
    /// What to do.
    pub kind: StepKind,
}

/// What a step says to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StepKind {
    /// A stitch in one or more places.
    Work(Work),
    /// `(…) in next ch-2 sp`, `(…) in each ch-1 sp to end`.
    Group {
        /// What is worked into the place.
        steps: Vec<Step>,
        /// The place or places.
        place: Where,
    },
    /// `(dc, fpdc) together`.
    Together(Vec<Step>),
    /// `through front loops of rnd 5`: the line is worked through them as well.
    Through {
        /// Which loops.
        loops: LoopOnly,
        /// A round and not a row.
        round: bool,
        /// Its number.
        number: Number,
    },
    /// `(sc 6, turn, sc 6, turn, sc 6) to and fro`: a small piece within the line.
    ToAndFro {
        /// What is worked, with each turn.
        steps: Vec<Step>,
        /// `with row ends`: they are places afterwards.
        row_ends: bool,
    },
    /// `[…] 6 times`.
    Repeat(Repeat),
    /// `ch 3`.
    Chain(Amount),
    /// `ch 3 as dc`.
    ChainAs {
        /// How many chains.
        chains: Amount,
        /// The stitch it counts as.
        stitch: Text,
    },
    /// `turning ch 5 as dc + ch-2 sp`.
    TurningAs {
        /// How many chains.
        chains: Amount,
        /// The stitch the first of them count as; none where they are a space alone.
        stitch: Option<Text>,
        /// Chains of the space after it.
        space: Option<Number>,
    },
    /// `skip 2`, `skip next ch-2 sp` (one such place), `skip 3 dc`.
    Skip {
        /// How many.
        amount: Option<Amount>,
        /// Of which kind.
        kind: Option<Kind>,
    },
    /// `set aside next 30 as left sleeve`: passed over, and worked along later.
    SetAside {
        /// Which places.
        places: Where,
        /// What the opening is called.
        name: Text,
    },
    /// `leave 4`; nothing for `leave rest`.
    Leave(Option<Amount>),
    /// `move 2`, `move to next ch-2 sp`.
    Move(Where),
    /// `turn`.
    Turn,
    /// `other side`.
    OtherSide,
    /// `lead …` and `no lead` as a line's first step.
    Lead(Lead),
    /// `mark neck`.
    Mark(Text),
    /// `in neck`, `in next ch-2 sp`, alone: go there.
    Go(Place),
    /// `change to B`.
    ChangeTo(Text),
    /// `fasten off`.
    FastenOff,
    /// `rejoin B in next ch-2 sp`.
    Rejoin {
        /// The yarn, if it is said.
        yarn: Option<Text>,
        /// Where.
        place: Place,
    },
    /// `close with ch 2 and dc`.
    Close {
        /// How many chains.
        chains: Amount,
        /// The tall stitch.
        stitch: Text,
    },
    /// `6 inc evenly in sc to end`.
    Evenly {
        /// How many.
        amount: Amount,
        /// The stitch that is spread.
        special: Text,
        /// The stitch between.
        plain: Text,
        /// How far.
        till: Till,
    },
    /// `join to Motif in ch-5 sp`: slip stitch to another piece as it is worked.
    JoinTo {
        /// The other piece.
        piece: Text,
        /// Which of them, counted from the first that is free.
        nth: Option<Number>,
        /// The kind of place on it.
        kind: Option<Kind>,
    },
    /// `behind rnd 2`: the line is worked on that earlier one.
    Behind {
        /// `rnd` and not `row`.
        round: bool,
        /// Its number.
        number: Number,
    },
    /// `sc 4 A, 3 B`: one stitch in several colours.
    Colours {
        /// `blo` or `flo`.
        loop_only: Option<LoopOnly>,
        /// The stitch.
        stitch: Text,
        /// Run after run.
        runs: Vec<Run>,
    },
    /// `grid Gulls to end`: a row of a grid.
    Grid {
        /// The grid.
        name: Text,
        /// How often or how far; once unless said.
        extent: Option<(Extent, Span)>,
    },
}

/// Stitches of one colour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// All of it.
    pub span: Span,
    /// The places.
    pub places: Where,
    /// The yarn.
    pub yarn: Text,
}

/// A stitch and where it goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Work {
    /// How many in each place: the number before the stitch.
    pub each: Option<Amount>,
    /// `blo` or `flo`.
    pub loop_only: Option<LoopOnly>,
    /// The stitch as written (`sc`, `sl st`, `fpdc`, `sc2tog`, a stitch of the designer's own).
    pub stitch: Text,
    /// `2 rows below`.
    pub below: Option<Number>,
    /// The places.
    pub places: Where,
    /// `3 sc` without a place: has two readings, and a finding says so.
    pub ambiguous: bool,
}

/// Which loop the hook goes under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LoopOnly {
    /// `blo`.
    Back,
    /// `flo`.
    Front,
}

/// Where a stitch or a group goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Where {
    /// The next place: nothing is written.
    Bare,
    /// The next so many: `4`, `in next 4`, `in next 3 ch`.
    Count {
        /// How many.
        amount: Amount,
        /// Of which kind.
        kind: Option<Kind>,
        /// They are sent there by words, `in next`, and not only counted.
        sent: bool,
    },
    /// `to end`, `to last 2`, `to next ch-2 sp`, `to neck`: in each place till there.
    Till(Till),
    /// `in each dc to end`.
    Each {
        /// Of which kind.
        kind: Kind,
        /// How far.
        till: Till,
    },
    /// `in 2 skipped in front`: back into the first so many of those skipped last.
    Skipped {
        /// How many.
        amount: Amount,
        /// On which side of what was made since.
        crossing: Option<Crossing>,
    },
    /// One place that is named: `in next`, `in ring`.
    In(Place),
}

/// On which side of the stitches just made those lie that go back to skipped places, as the maker sees them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Crossing {
    /// `in front`.
    Front,
    /// `behind`.
    Behind,
}

/// How far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Till {
    /// `to end`.
    End,
    /// `to last 2`.
    Last(Amount),
    /// `to next ch-2 sp`.
    Next(Kind),
    /// `to last ch-2 sp`.
    LastOf(Kind),
    /// `to neck`.
    Mark(Text),
}

/// What `in same st` and `in same sp` say of a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Called {
    /// A stitch.
    Stitch,
    /// A space.
    Space,
    /// One of a kind, as `in same ch-2 sp`.
    Kind(Kind),
}

/// One place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// `in next`, whatever comes.
    Next,
    /// `in next ch-2 sp`: the next of a kind.
    NextOf(Kind),
    /// `in same`, and what that place is called.
    Same(Option<Called>),
    /// `in ring`.
    Ring,
    /// `in first`.
    First,
    /// `in last`.
    Last,
    /// `in first dc`: the first of a kind.
    FirstOf(Kind),
    /// `in last ch-2 sp`: the last of a kind.
    LastOf(Kind),
    /// `in lead`: the top of the chain that the line below started with.
    Lead,
    /// `in 4th ch from hook`.
    FromHook(Number),
    /// `in 5th st`, `in 3rd ch-5 sp`: so far on, of a kind.
    Nth(Number, Kind),
    /// `in 3rd ch of next ch-7 sp`: a chain of the next space of a kind; without a kind of the space that the hook was in last.
    ChainOf(Number, Option<Kind>),
    /// `in next gap`: between the next place and the one after it.
    Gap,
    /// `in first gap`: between the first place and the second.
    FirstGap,
    /// `in sc just made`: on top of the stitch that this line made last.
    JustMade(Kind),
    /// `in skipped`: the first of those just skipped that has not been gone back to.
    Skipped,
    /// `in neck`.
    Mark(Text),
}

/// A kind of place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kind {
    /// All of it.
    pub span: Span,
    /// Which one.
    pub what: KindWhat,
}

/// Which kind of place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KindWhat {
    /// `st`.
    AnyStitch,
    /// `ch`.
    Chain,
    /// `ch-2 sp`.
    Space(u64),
    /// `ch sp`: of any length.
    AnySpace,
    /// A stitch by its name.
    Stitch(String),
}

/// A repeat.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Repeat {
    /// What is repeated.
    pub body: RepeatBody,
    /// How often or how far.
    pub extent: Extent,
    /// Where the extent stands in the text.
    pub extent_span: Span,
}

/// What a repeat holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RepeatBody {
    /// Steps; `stop` is the number of steps before `**`.
    Steps {
        /// The steps.
        steps: Vec<Step>,
        /// How many of them the last repeat does.
        stop: Option<usize>,
    },
    /// `on dc: …; on fpdc: …`.
    On(Vec<(Kind, Vec<Step>)>),
}

/// How often or how far a repeat goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Extent {
    /// `6 times`.
    Times(Amount),
    /// `to end` and the like.
    Till(Till),
}

/// What ends a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ending {
    /// `fasten off`.
    FastenOff,
    /// `gather 16`.
    Gather(Option<Amount>),
    /// `seam row 1 to row 40`, `seam first 12 to last 12`.
    Seam(SeamSide, SeamSide),
    /// `seam left edge of Front to right edge of Back, easing 2`.
    SeamEdges {
        /// One edge.
        one: Start,
        /// The other.
        other: Start,
        /// How many places more the longer one has.
        easing: Option<Amount>,
    },
    /// `sew Ear to Crown over 12`.
    Sew {
        /// What is sewn.
        piece: Text,
        /// To what.
        to: Text,
        /// Over how many stitches.
        over: Option<Amount>,
    },
    /// `change to B`, between lines.
    ChangeTo(Text),
    /// Something made of yarn that is put on.
    Trim(Trim),
    /// `surface 24 sl st along rnd 12 in B`.
    Surface(Surface),
    /// `place 2 eyes between rnds 12 and 13, 8 apart`.
    Place(Placing),
}

/// A line of stitches on the face of the fabric, through the stitches of a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Surface {
    /// How many, one through each stitch.
    pub amount: Amount,
    /// Which stitch.
    pub stitch: Text,
    /// Whether the row is a round.
    pub round: bool,
    /// The row or round.
    pub row: Number,
    /// On which piece; the one that the line stands in unless said.
    pub on: Option<Text>,
    /// The stitch that it begins at; the first unless said.
    pub from: Option<Amount>,
    /// The yarn.
    pub yarn: Option<Text>,
}

/// Where something is put on, by rows and stitches.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Placing {
    /// How many of it.
    pub number: Option<Amount>,
    /// What it is, in words.
    pub what: Text,
    /// On which piece; the one that the line stands in unless said.
    pub on: Option<Text>,
    /// At which rows or rounds.
    pub rows: PlacedRows,
    /// Whether these are rounds.
    pub round: bool,
    /// At which stitches of the row, or of the lower one of two.
    pub stitches: Vec<Amount>,
    /// How many stitches, or rows, it is from each to the next.
    pub apart: Option<Amount>,
}

impl Placing {
    /// Every number.
    pub fn numbers(&self) -> impl Iterator<Item = &Amount> {
        let rows: Vec<&Amount> = match &self.rows {
            PlacedRows::Between(one, other) | PlacedRows::Evenly(one, other) => vec![one, other],
            PlacedRows::At(rows) => rows.iter().collect(),
        };
        self.number.iter().chain(rows).chain(&self.stitches).chain(&self.apart)
    }
}

/// The rows that something is placed at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlacedRows {
    /// `between rnds 12 and 13`.
    Between(Amount, Amount),
    /// `in rows 3, 11 and 19`.
    At(Vec<Amount>),
    /// `evenly from row 3 to row 35`: in the first, in the last, and spread between.
    Evenly(Amount, Amount),
}

/// Something made of yarn that is put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trim {
    /// What it is.
    pub what: TrimKind,
    /// One length for all sizes or one a size, as written: of a turn, a strand or the cord.
    pub lengths: Vec<Text>,
    /// `cm`, `mm` or `in`.
    pub unit: Text,
    /// Its yarn; the one that the piece begins with unless said.
    pub yarn: Option<Text>,
}

/// What is put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TrimKind {
    /// `pompon 120 wraps round 8 cm`.
    Pompon {
        /// How often the yarn is wrapped round.
        wraps: Amount,
    },
    /// `fringe 40 strands of 30 cm`.
    Fringe {
        /// How many strands are cut.
        strands: Amount,
    },
    /// `cord 60 cm of ch`.
    Cord {
        /// The stitch it is made of.
        stitch: Text,
    },
}

/// One side of a seam.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SeamSide {
    /// The stitches of a row: `row 40`; `row 0` or `start` is the starting edge.
    Row(Amount),
    /// The starting edge.
    Start,
    /// The first so many stitches of the last row.
    First(Amount),
    /// The last so many.
    Last(Amount),
}
