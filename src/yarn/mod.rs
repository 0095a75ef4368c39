//! How much yarn a pattern takes: always a range, from the stitches that were worked in the fabric.
//!
//! A stitch's yarn is reckoned in single crochets ([`takes`]), and one single crochet in metres from a weighed swatch or,
//! failing that, from the gauge or the hook. Tails, sewing and what is put on come on top.

mod range;
mod table;
pub mod takes;
mod walk;

pub use range::Range;
pub use table::{buy, grams, left_table, metres, notes, table, told};

use crate::Compiled;
use crate::measure::gauge::{self, Source};
use crate::measure::units::{Length, Mass, Unit, number};
use crate::pattern::model::{Ball, Pattern, Piece, SomeYarn, StitchId, Weighed};
use walk::{Part, walk};

/// Yarn of a single crochet, in widths of a stitch. By geometry: once round for the loop that is drawn up to the height of
/// the row and back (twice the width or a little more), and once for the two legs at the top and the draw through both
/// loops (about three more). From memory, no published measurement was found; [`Basis::Gauge`] has a wide bar for it.
pub(crate) const SC_WIDTHS: f64 = 5.6;

/// Width of a single crochet, in diameters of the hook. Source: Craft Yarn Council, Standard Yarn Weight System; 4 inches
/// through the middle of the stitches and of the hooks that it gives for weights 1 to 5 come to 1.33 to 1.41.
const HOOKS_A_STITCH: f64 = 1.38;

/// What a yarn's estimate rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// A swatch of this yarn, weighed or measured.
    Swatch,
    /// A swatch of another yarn of the same weight.
    OtherSwatch,
    /// The width of a stitch by the gauge.
    Gauge,
    /// The usual width of a stitch for the weight of the yarn.
    Weight,
    /// The hook alone.
    Hook,
}

impl Basis {
    /// By what part one single crochet may be off either way (common practice, no source).
    #[must_use]
    pub const fn bar(self) -> f64 {
        match self {
            Self::Swatch => 0.05,
            Self::OtherSwatch => 0.15,
            Self::Gauge => 0.30,
            Self::Weight | Self::Hook => 0.40,
        }
    }
}

/// How long some yarn is; by mass only where the ball is known.
#[must_use]
pub fn length_of(yarn: SomeYarn, ball: Option<Ball>) -> Option<Length> {
    match (yarn, ball) {
        (SomeYarn::Length(length), _) => Some(length),
        (SomeYarn::Mass(mass), Some(ball)) => Some(ball.length * (mass.g() / ball.mass.g())),
        (SomeYarn::Mass(_), None) => None,
    }
}

/// Reads `50 g`, `60m`, `1.75 oz` or `120 yd`.
#[must_use]
pub fn some_yarn(text: &str) -> Option<SomeYarn> {
    let text = text.trim();
    let at = text.find(|c: char| c.is_alphabetic())?;
    let (amount, unit) = text.split_at_checked(at)?;
    let (amount, unit) = (number(amount)?, Unit::named(unit.trim())?);
    Mass::of(amount, unit).map(SomeYarn::Mass).or_else(|| Length::of(amount, unit).map(SomeYarn::Length))
}

/// The yarn that a pattern takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// One entry for each yarn of the head, in its order; a single nameless one where the head has none.
    pub yarns: Vec<YarnNeed>,
    /// Stitches whose yarn is known only roughly, by their numbers.
    pub rough: Vec<StitchId>,
}

/// What is needed of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct YarnNeed {
    /// Its place in the head.
    pub yarn: usize,
    /// Its ball.
    pub ball: Option<Ball>,
    /// What the estimate rests on; the weakest where pieces differ.
    pub basis: Option<Basis>,
    /// By size and piece, all copies together.
    pub pieces: Vec<Vec<Range>>,
}

impl YarnNeed {
    /// What a size takes in all pieces together, in metres.
    #[must_use]
    pub fn whole(&self, size: usize) -> Range {
        let pieces = self.pieces.get(size).into_iter().flatten();
        pieces.fold(Range::default(), |sum, piece| sum + *piece)
    }

    /// The same in grams, where the ball says how long a gram is.
    #[must_use]
    pub fn grams(&self, size: usize) -> Option<Range> {
        let ball = self.ball?;
        Some(self.whole(size).scaled(ball.mass.g() / metres_of(ball)))
    }

    /// How many balls are enough even at the upper end.
    #[must_use]
    pub fn balls(&self, size: usize) -> Option<f64> {
        let ball = self.ball?;
        Some((self.whole(size).high / metres_of(ball)).ceil().max(1.0))
    }

    /// Whether any size uses it.
    #[must_use]
    pub fn is_used(&self) -> bool {
        self.pieces.iter().flatten().any(|range| range.high > 0.0)
    }
}

/// Estimates the yarn of every size and piece. Nothing can be said without a swatch, a gauge or a hook.
#[must_use]
pub fn estimate(compiled: &Compiled) -> Option<Estimate> {
    let pattern = &compiled.pattern;
    let scales = Scales::of(pattern);
    let mut yarns: Vec<YarnNeed> = (0..pattern.head.yarns.len().max(1)).map(|yarn| need(pattern, yarn)).collect();
    let mut rough = Vec::new();
    for size in 0..pattern.sizes.len() {
        for (index, piece) in pattern.pieces.iter().enumerate() {
            let fabric = compiled.fabric.pieces.get(index).and_then(|worked| worked.sizes.get(size));
            for part in fabric.map(|fabric| walk(pattern, piece, size, fabric)).unwrap_or_default() {
                let scale = scales.get(part.yarn, index)?;
                let metres = scale.metres(pattern, &part).times(piece.copies);
                note_rough(pattern, &part, scale, &mut rough);
                let Some(need) = yarns.get_mut(part.yarn) else { continue };
                need.basis = need.basis.max(Some(scale.basis));
                if let Some(sum) = need.pieces.get_mut(size).and_then(|pieces| pieces.get_mut(index)) {
                    *sum += metres;
                }
            }
        }
    }
    Some(Estimate { yarns, rough })
}

fn need(pattern: &Pattern, yarn: usize) -> YarnNeed {
    let ball = pattern.head.yarns.get(yarn).and_then(|yarn| yarn.ball_size);
    let pieces = vec![vec![Range::default(); pattern.pieces.len()]; pattern.sizes.len()];
    YarnNeed { yarn, ball, basis: None, pieces }
}

/// Remembers the stitches that may be off by more than this either way.
fn note_rough(pattern: &Pattern, part: &Part, scale: Scale, rough: &mut Vec<StitchId>) {
    const ROUGH: f64 = 0.3;
    for (id, _) in &part.stitches {
        let known = Some(*id) == scale.stitch;
        if !known && takes::takes(&pattern.stitches, *id).bar >= ROUGH && !rough.contains(id) {
            rough.push(*id);
        }
    }
}

/// How the yarn goes down as a piece is worked: after each row or round what is left of what there was.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// The piece, by its index.
    pub piece: usize,
    /// The row or round, by its index in the fabric; none for what comes before, between and after them, and for the
    /// second and further copies.
    pub row: Option<usize>,
    /// The yarn, by its place in the head.
    pub yarn: usize,
    /// Metres used by then in this size, all pieces before included.
    pub used: Range,
}

/// How much of each yarn is used by the end of each row or round of a size.
#[must_use]
pub fn going_down(compiled: &Compiled, size: usize) -> Option<Vec<Left>> {
    let pattern = &compiled.pattern;
    let scales = Scales::of(pattern);
    let mut used = vec![Range::default(); pattern.head.yarns.len().max(1)];
    let mut all: Vec<Left> = Vec::new();
    for (index, piece) in pattern.pieces.iter().enumerate() {
        let fabric = compiled.fabric.pieces.get(index).and_then(|worked| worked.sizes.get(size));
        let parts = fabric.map(|fabric| walk(pattern, piece, size, fabric)).unwrap_or_default();
        let further = (1..piece.copies).flat_map(|_| parts.iter().map(|part| Part { row: None, ..part.clone() }));
        for part in parts.iter().cloned().chain(further) {
            let scale = scales.get(part.yarn, index)?;
            let Some(sum) = used.get_mut(part.yarn) else { continue };
            *sum += scale.metres(pattern, &part);
            let left = Left { piece: index, row: part.row, yarn: part.yarn, used: *sum };
            match all.last_mut().filter(|last| (last.piece, last.row, last.yarn) == (index, part.row, part.yarn)) {
                Some(last) => *last = left,
                None => all.push(left),
            }
        }
    }
    Some(all)
}

/// One single crochet in metres, for each yarn and piece.
struct Scales {
    /// By yarn, from swatches.
    swatched: Vec<Option<Scale>>,
    /// By piece, from its gauge or hook.
    unswatched: Vec<Option<Scale>>,
}

/// One single crochet in metres.
#[derive(Debug, Clone, Copy)]
struct Scale {
    metres: f64,
    basis: Basis,
    /// The stitch that the swatch was worked in: what it takes is known.
    stitch: Option<StitchId>,
}

impl Scales {
    fn of(pattern: &Pattern) -> Self {
        let yarns = pattern.head.yarns.len().max(1);
        let own: Vec<Option<Scale>> = (0..yarns).map(|yarn| swatched(pattern, yarn)).collect();
        let borrowed = |yarn: usize| {
            let weight = |yarn: usize| pattern.head.yarns.get(yarn).and_then(|yarn| yarn.weight.as_deref());
            let mut others = own.iter().enumerate().filter(|(other, _)| weight(*other) == weight(yarn));
            let scale = others.find_map(|(_, scale)| *scale)?;
            Some(Scale { basis: Basis::OtherSwatch, ..scale })
        };
        let swatched = own.iter().enumerate().map(|(yarn, scale)| scale.or_else(|| borrowed(yarn))).collect();
        Self { swatched, unswatched: pattern.pieces.iter().map(|piece| unswatched(pattern, piece)).collect() }
    }

    fn get(&self, yarn: usize, piece: usize) -> Option<Scale> {
        let swatched = self.swatched.get(yarn).copied().flatten();
        swatched.or_else(|| self.unswatched.get(piece).copied().flatten())
    }
}

impl Scale {
    /// A part's yarn in metres.
    fn metres(self, pattern: &Pattern, part: &Part) -> Range {
        let bar = |id: Option<StitchId>, bar: f64| if id.is_some() && id == self.stitch { 0.0 } else { bar };
        let worth = |id: Option<StitchId>, takes: takes::Takes, count: u32| {
            Range::about(takes.worth, bar(id, takes.bar)).times(count)
        };
        let mut sum = worth(None, takes::chain(), part.chains) + worth(None, takes::slip(), part.slips) + part.widths;
        for (id, count) in &part.stitches {
            sum += worth(Some(*id), takes::takes(&pattern.stitches, *id), *count);
        }
        let single = Range::about(self.metres, self.basis.bar());
        Range { low: sum.low * single.low, high: sum.high * single.high } + part.metres
    }
}

/// From the weighed swatch of a yarn.
fn swatched(pattern: &Pattern, yarn: usize) -> Option<Scale> {
    let ball = pattern.head.yarns.get(yarn).and_then(|yarn| yarn.ball_size);
    let mut swatches = pattern.head.weighed.iter().filter(|swatch| swatch.yarn.unwrap_or(0) == yarn);
    swatches.find_map(|swatch| {
        let length = length_of(swatch.took, ball)?;
        let metres = length.to(Unit::Metre) / worth_of(pattern, swatch);
        Some(Scale { metres, basis: Basis::Swatch, stitch: Some(swatch.stitch) })
    })
}

/// A swatch in single crochets: its stitches, its starting chain, and the chain at the beginning of every further row.
fn worth_of(pattern: &Pattern, swatch: &Weighed) -> f64 {
    let height = pattern.stitches.get(swatch.stitch).map_or(1, |stitch| stitch.height.max(1));
    let stitches = f64::from(swatch.stitches) * f64::from(swatch.rows);
    let turns = f64::from(height) * f64::from(swatch.rows.saturating_sub(1));
    let chains = f64::from(swatch.stitches.saturating_add(height)) + turns;
    takes::takes(&pattern.stitches, swatch.stitch).worth * stitches + takes::chain().worth * chains
}

/// From the gauge of a piece, its yarn's weight or its hook, in this order.
fn unswatched(pattern: &Pattern, piece: &Piece) -> Option<Scale> {
    let (width, basis) = match gauge::Scale::of(pattern, piece) {
        Some(scale) => {
            let basis = match scale.source {
                Source::Swatch(_) => Basis::Gauge,
                Source::Weight(_) => Basis::Weight,
            };
            (scale.stitch.length, basis)
        }
        None => (hook(pattern, piece)? * HOOKS_A_STITCH, Basis::Hook),
    };
    Some(Scale { metres: (width * SC_WIDTHS).to(Unit::Metre), basis, stitch: None })
}

fn hook(pattern: &Pattern, piece: &Piece) -> Option<Length> {
    let hooks = &pattern.head.hooks;
    let named = hooks.iter().find(|hook| hook.name.as_deref() == piece.using.as_deref());
    named.or(hooks.first())?.diameter
}

fn metres_of(ball: Ball) -> f64 {
    ball.length.to(Unit::Metre)
}
