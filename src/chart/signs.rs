//! Signs in the squares of a chart, so that it reads without its colours.
//!
//! Stitches after the Craft Yarn Council's Crochet Chart Symbols: a cross for single crochet, and for taller ones a T with as
//! many strokes across its stem as yarns are laid over the hook.

use crate::pattern::model::{Pattern, SquareKind, StitchId};
use crate::stitch::Terms;

/// Side of a square, in units of the picture.
pub(super) const SIDE: f64 = 14.0;

/// Colours of squares, one for each yarn in their order; light, so that signs can be seen on them.
const TINTS: [&str; 8] = ["#ffffff", "#9dbccf", "#e8bfa8", "#bccba8", "#e0d19a", "#cdbbd9", "#a8d0ca", "#d4d4d4"];

/// The colour of a yarn's squares.
pub(super) fn tint(yarn: usize) -> &'static str {
    TINTS.get(yarn % TINTS.len()).copied().unwrap_or("#ffffff")
}

/// What is drawn in a square.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sign {
    /// Nothing.
    None,
    /// Lines, and whether they are filled.
    Lines(Lines),
    /// A letter of the text.
    Letter(char),
}

/// Lines within a square.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Lines {
    Dot,
    Cross,
    Ring,
    Slash,
    Peak,
    Bar,
    Block,
    /// Single crochet.
    Plus,
    /// A stem with a head, and so many strokes.
    Stem(u32),
    /// A filled square of filet.
    Filled,
    /// A long stitch of a mosaic.
    Long,
}

/// Signs of yarns in their order; the first one has none.
const OF_YARNS: [Sign; 8] = [
    Sign::None,
    Sign::Lines(Lines::Dot),
    Sign::Lines(Lines::Cross),
    Sign::Lines(Lines::Ring),
    Sign::Lines(Lines::Slash),
    Sign::Lines(Lines::Peak),
    Sign::Lines(Lines::Bar),
    Sign::Lines(Lines::Block),
];

/// The sign of a sort of square.
pub(super) fn sign(pattern: &Pattern, what: &SquareKind, letter: char) -> Sign {
    match what {
        SquareKind::Yarn(yarn) => {
            let at = pattern.head.yarns.place_of(yarn).unwrap_or_default();
            OF_YARNS.get(at % OF_YARNS.len()).cloned().unwrap_or(Sign::None)
        }
        SquareKind::Stitch(stitch, _) => of_stitch(pattern, *stitch).unwrap_or(Sign::Letter(letter)),
        SquareKind::Filled => Sign::Lines(Lines::Filled),
        SquareKind::Open | SquareKind::Unknown => Sign::None,
    }
}

/// The published sign of a plain stitch.
fn of_stitch(pattern: &Pattern, stitch: StitchId) -> Option<Sign> {
    const PLAIN: [(&str, Lines); 5] = [
        ("sc", Lines::Plus),
        ("hdc", Lines::Stem(0)),
        ("dc", Lines::Stem(1)),
        ("tr", Lines::Stem(2)),
        ("dtr", Lines::Stem(3)),
    ];
    let is_it = |(name, _): &&(&str, Lines)| pattern.stitches.find(name, Terms::Us) == Some(stitch);
    PLAIN.iter().find(is_it).map(|(_, lines)| Sign::Lines(*lines))
}

impl Lines {
    /// Whether it is filled and not only drawn.
    pub(super) fn is_filled(self) -> bool {
        matches!(self, Self::Dot | Self::Peak | Self::Block | Self::Filled)
    }

    /// A path in a square whose upper left corner is there.
    pub(super) fn path(self, x: f64, y: f64) -> String {
        let at = |dx: f64, dy: f64| format!("{} {}", shown(x + dx), shown(y + dy));
        let line = |from: (f64, f64), to: (f64, f64)| format!("M{}L{}", at(from.0, from.1), at(to.0, to.1));
        match self {
            Self::Dot => circle(&at(4.5, 7.0), 2.5),
            Self::Ring => circle(&at(3.5, 7.0), 3.5),
            Self::Cross => line((4.0, 4.0), (10.0, 10.0)) + &line((10.0, 4.0), (4.0, 10.0)),
            Self::Plus => line((7.0, 3.0), (7.0, 11.0)) + &line((3.0, 7.0), (11.0, 7.0)),
            Self::Slash => line((4.0, 10.0), (10.0, 4.0)),
            Self::Bar => line((3.5, 7.0), (10.5, 7.0)),
            Self::Long => line((7.0, 1.5), (7.0, 12.5)),
            Self::Peak => format!("M{}L{}L{}Z", at(7.0, 4.0), at(10.5, 10.0), at(3.5, 10.0)),
            Self::Block => square(&at(4.5, 4.5), 5.0),
            Self::Filled => square(&at(2.0, 2.0), 10.0),
            Self::Stem(strokes) => {
                let mut path = line((7.0, 2.5), (7.0, 12.0)) + &line((4.0, 2.5), (10.0, 2.5));
                for stroke in 0..strokes {
                    let y = 6.0 + 2.0 * f64::from(stroke);
                    path.push_str(&line((5.0, y + 1.0), (9.0, y - 1.0)));
                }
                path
            }
        }
    }
}

/// A circle that begins at its left side.
fn circle(left: &str, radius: f64) -> String {
    let (r, d) = (shown(radius), shown(2.0 * radius));
    format!("M{left}a{r} {r} 0 1 0 {d} 0a{r} {r} 0 1 0 -{d} 0Z")
}

fn square(corner: &str, side: f64) -> String {
    let side = shown(side);
    format!("M{corner}h{side}v{side}h-{side}Z")
}

/// The same number on every machine: one decimal, and none where it is 0.
pub(super) fn shown(number: f64) -> String {
    let text = format!("{:.1}", number + 0.0);
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
