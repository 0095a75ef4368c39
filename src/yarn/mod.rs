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

use std::collections::BTreeMap;

use crate::fabric::Fabric;
use crate::gauge::{self, Source};
use crate::pattern::model::{Ball, Pattern, Piece, SomeYarn, StitchId, Weighed};
use crate::units::{Length, Mass, Unit, number};
use walk::{Part, each_part, walk};

/// Yarn of a single crochet, in widths of a stitch. Three motifs of 1941 whose publisher printed the yards of thread they need
/// give 11 to 13 (`tests/published/yarn.rs`); such figures allow for some waste. Cloths and blankets of cotton and wool give
/// 6 to 11, from memory. The bar of [`Basis::Gauge`] reaches over nearly all of that.
pub(crate) const SC_WIDTHS: f64 = 9.5;

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
            Self::Gauge => 0.35,
            Self::Weight | Self::Hook => 0.45,
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
pub fn estimate(pattern: &Pattern, fabric: &Fabric) -> Option<Estimate> {
    let scales = Scales::of(pattern);
    let mut yarns: Vec<YarnNeed> = (0..pattern.head.yarns.len().max(1)).map(|yarn| need(pattern, yarn)).collect();
    let mut rough = Vec::new();
    for size in 0..pattern.sizes.len() {
        for (index, piece) in pattern.pieces.iter().enumerate() {
            let worked = fabric.pieces.get(index).and_then(|worked| worked.sizes.get(size));
            let Some(worked) = worked else { continue };
            let mut known = true;
            each_part(pattern, piece, size, worked, &mut |part| {
                let Some(scale) = scales.get(part.yarn, index) else {
                    known = false;
                    return;
                };
                let metres = scale.metres(pattern, &part).times(piece.copies);
                note_rough(pattern, &part, scale, &mut rough);
                let Some(need) = yarns.get_mut(part.yarn) else { return };
                need.basis = need.basis.max(Some(scale.basis));
                if let Some(sum) = need.pieces.get_mut(size).and_then(|pieces| pieces.get_mut(index)) {
                    *sum += metres;
                }
            });
            if !known {
                return None;
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
    /// Where in the piece.
    pub at: Point,
    /// The yarn, by its place in the head.
    pub yarn: usize,
    /// Metres used by then in this size, all pieces before included.
    pub used: Range,
}

/// A point in the making of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Point {
    /// Before the first row or round.
    Start,
    /// After a row or round, by its index in the fabric.
    Row(usize),
    /// After the rows that were worked so far: fastening off, sewing, what is put on.
    Finishing,
    /// The second and further copies.
    Copies,
}

/// How much of each yarn is used by the end of each row or round of a size.
#[must_use]
pub fn going_down(pattern: &Pattern, fabric: &Fabric, size: usize) -> Option<Vec<Left>> {
    let scales = Scales::of(pattern);
    let mut used = vec![Range::default(); pattern.head.yarns.len().max(1)];
    let mut all: Vec<Left> = Vec::new();
    for (index, piece) in pattern.pieces.iter().enumerate() {
        let worked = fabric.pieces.get(index).and_then(|worked| worked.sizes.get(size));
        let parts = worked.map(|fabric| walk(pattern, piece, size, fabric)).unwrap_or_default();
        let further = (1..piece.copies).flat_map(|_| parts.iter().map(|part| (Point::Copies, part)));
        for (at, part) in points(&parts).chain(further) {
            let scale = scales.get(part.yarn, index)?;
            let Some(sum) = used.get_mut(part.yarn) else { continue };
            *sum += scale.metres(pattern, part);
            let left = Left { piece: index, at, yarn: part.yarn, used: *sum };
            match all.last_mut().filter(|last| (last.piece, last.at, last.yarn) == (index, at, part.yarn)) {
                Some(last) => *last = left,
                None => all.push(left),
            }
        }
    }
    Some(all)
}

/// The parts of a piece with where they are.
fn points(parts: &[Part]) -> impl Iterator<Item = (Point, &Part)> {
    let first = parts.iter().position(|part| part.row.is_some()).unwrap_or(parts.len());
    parts.iter().enumerate().map(move |(at, part)| match part.row {
        Some(row) => (Point::Row(row), part),
        None if at < first => (Point::Start, part),
        None => (Point::Finishing, part),
    })
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
        let weight = |yarn: usize| pattern.head.yarns.get(yarn).and_then(|yarn| yarn.weight.as_deref());
        let mut by_weight: BTreeMap<Option<&str>, Scale> = BTreeMap::new();
        for (yarn, scale) in own.iter().enumerate().filter_map(|(yarn, scale)| Some((yarn, (*scale)?))) {
            by_weight.entry(weight(yarn)).or_insert(Scale { basis: Basis::OtherSwatch, ..scale });
        }
        let borrowed = |yarn: usize| by_weight.get(&weight(yarn)).copied();
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
        sum.of_about(self.metres, self.basis.bar()) + part.metres
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

#[cfg(test)]
mod tests {
    use super::{Basis, Estimate, HOOKS_A_STITCH, Range, estimate, going_down, some_yarn};
    use crate::pattern::model::SomeYarn;

    fn reckoned(head: &str, pieces: &str) -> Estimate {
        let compiled = crate::compile(&format!("pattern Strip\nterms US\n{head}\n{pieces}"));
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        estimate(&compiled.pattern, &compiled.fabric).unwrap()
    }

    fn whole(head: &str, pieces: &str) -> Range {
        reckoned(head, pieces).yarns[0].whole(0)
    }

    fn holds(range: Range, metres: f64) -> bool {
        range.low <= metres && metres <= range.high
    }

    const BALL: &str = "yarn A \"oat\", weight 4, 50 g = 110 m";
    const SWATCH: &str = "swatch 20 sts x 20 rows in sc = 7.3 g";

    fn strip(rows: u32, more: &str) -> String {
        format!(
            "piece Strip, in rows\nwith A\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
             row 2: sc to end\nagain row 2 until row {rows}\nfasten off\n{more}\n"
        )
    }

    /// The swatch itself, worked as a piece, takes what it weighed, but for its two tails.
    #[test]
    fn a_swatch_takes_what_it_weighed() {
        let metres = 7.3 * 110.0 / 50.0;
        let range = whole(&format!("{BALL}\n{SWATCH}"), &strip(20, ""));
        let tails = Range { low: 0.2, high: 0.4 };
        assert!((f64::midpoint(range.low, range.high) - metres - 0.3).abs() < 0.01, "{range:?}");
        assert!(range.high - tails.high <= metres * 1.06 && range.low - tails.low >= metres * 0.94, "{range:?}");
    }

    #[test]
    fn twice_the_rows_take_twice_the_yarn() {
        let head = format!("{BALL}\n{SWATCH}");
        let of = |rows| whole(&head, &strip(rows, ""));
        let (twenty, forty, sixty) = (of(20), of(40), of(60));
        assert!((forty.high - twenty.high - (sixty.high - forty.high)).abs() < 1e-6);
        assert!((forty.low - twenty.low - (sixty.low - forty.low)).abs() < 1e-6);
    }

    #[test]
    fn a_measured_swatch_is_as_good_as_a_weighed_one_and_units_don_t_matter() {
        let metres = 7.3 * 110.0 / 50.0;
        let yards = metres / 0.9144;
        let weighed = whole(&format!("{BALL}\n{SWATCH}"), &strip(40, ""));
        for took in [format!("{metres:.6} m"), format!("{yards:.6} yd"), "0.257500 oz".to_owned()] {
            let head = format!("{BALL}\nswatch A 20 sts x 20 rows in sc = {took}");
            let range = whole(&head, &strip(40, ""));
            assert!((range.high - weighed.high).abs() < 0.05, "{took}: {range:?} {weighed:?}");
        }
    }

    #[test]
    fn the_range_is_the_wider_the_less_is_known() {
        let part = |head: &str| {
            let need = reckoned(head, &strip(40, "")).yarns.remove(0);
            let range = need.whole(0);
            ((range.high - range.low) / (range.high + range.low), need.basis)
        };
        let heads = [
            (format!("{BALL}\n{SWATCH}"), Basis::Swatch),
            (
                format!("{BALL}\nyarn B, weight 4, 50 g = 110 m\nswatch B 20 sts x 20 rows in sc = 7.3 g"),
                Basis::OtherSwatch,
            ),
            (format!("{BALL}\ngauge 16 sts x 18 rows in sc = 10 cm"), Basis::Gauge),
            (BALL.to_owned(), Basis::Weight),
            ("yarn A\nhook 5 mm".to_owned(), Basis::Hook),
        ];
        let mut last = 0.0;
        for (head, basis) in heads {
            let (width, found) = part(&head);
            assert_eq!(found, Some(basis));
            assert!(width >= last - 1e-3, "{basis:?}: {width} {last}");
            last = width;
        }
        let bare = crate::compile("pattern X\nterms US\npiece X, in a spiral\nstart ring\nrnd 1: 6 sc in ring\n");
        assert!(estimate(&bare.pattern, &bare.fabric).is_none());
    }

    /// A swatch says the same of a dc cloth whichever stitch it was worked in, within the bars of the table.
    #[test]
    fn a_swatch_in_another_stitch_has_a_wider_bar() {
        let cloth = "piece Cloth, in rows\nwith A\nlead ch 3 as dc\nstart ch 22\nrow 1: dc in 4th ch from hook, dc to end = 20\n\
                     row 2: dc to end\nagain row 2 until row 20\nfasten off\n";
        let width = |swatch: &str| {
            let range = whole(&format!("{BALL}\n{swatch}"), cloth);
            (range.high - range.low) / (range.high + range.low)
        };
        assert!(width("swatch 20 sts x 20 rows in dc = 13 g") < 0.07);
        assert!(width(SWATCH) > 0.14);
    }

    #[test]
    fn what_is_put_on_is_counted_by_its_length() {
        let head = format!("{BALL}\nyarn B \"rope\", weight 4, 50 g = 110 m\n{SWATCH}");
        let need = |trim: &str| reckoned(&head, &strip(3, trim)).yarns[1].whole(0);
        // 120 turns of 8 cm and a tie; 40 strands of 30 cm.
        assert!(holds(need("pompon 120 wraps round 8 cm in B"), 9.6 + 0.3));
        assert!(holds(need("fringe 40 strands of 30 cm in B"), 12.0));
        let (chain, back) = (need("cord 60 cm of ch in B"), need("cord 60 cm of sc in B"));
        // Common practice, no source: a chain takes about three times its length.
        assert!(holds(chain, 1.8 + 0.3), "{chain:?}");
        assert!(back.low > chain.low && back.high > 2.0 * chain.high, "{back:?}");
        assert!(
            (need("pompon 120 wraps round 80 mm in B").high - need("pompon 120 wraps round 8 cm in B").high).abs()
                < 1e-9
        );
    }

    #[test]
    fn a_colour_that_is_changed_to_has_tails_of_its_own() {
        let head = format!("{BALL}\nyarn B \"rope\", weight 4, 50 g = 110 m\n{SWATCH}");
        let striped = strip(8, "").replace("lead ch 1", "lead ch 1\nstripe A 2, B 2");
        let estimate = reckoned(&head, &striped);
        let (a, b) = (estimate.yarns[0].whole(0), estimate.yarns[1].whole(0));
        // Four rows of 20 and four chains each, but the starting chain is A's.
        let row = |range: Range| f64::midpoint(range.low, range.high);
        assert!(row(a) > row(b) && row(b) > 2.5, "{a:?} {b:?}");
        // Carried or cut where B comes again: up to two tails of 20 cm.
        assert!(b.high - b.low > 0.4, "{b:?}");
    }

    #[test]
    fn copies_are_counted_and_the_last_point_has_used_it_all() {
        let head = format!("{BALL}\n{SWATCH}");
        let once = whole(&head, &strip(10, ""));
        let text = format!("pattern Strip\nterms US\n{head}\n{}", strip(10, "").replace("in rows", "in rows, make 3"));
        let compiled = crate::compile(&text);
        let thrice = estimate(&compiled.pattern, &compiled.fabric).unwrap().yarns[0].whole(0);
        assert!((thrice.high - 3.0 * once.high).abs() < 1e-9);
        let points = going_down(&compiled.pattern, &compiled.fabric, 0).unwrap();
        assert!(points.is_sorted_by(|a, b| a.used.high <= b.used.high));
        assert!(points.last().is_some_and(|last| (last.used.high - thrice.high).abs() < 1e-9));
    }

    /// Craft Yarn Council, Standard Yarn Weight System: hooks in mm, and single crochets in 4 inches.
    #[test]
    fn hook_and_stitch_go_together_as_in_the_standard() {
        let weights = [
            (2.25, 3.5, 21.0, 32.0),
            (3.5, 4.5, 16.0, 20.0),
            (4.5, 5.5, 12.0, 17.0),
            (5.5, 6.5, 11.0, 14.0),
            (6.5, 9.0, 8.0, 11.0),
        ];
        for (thin, thick, few, many) in weights {
            let width = 101.6 / f64::midpoint(few, many) / f64::midpoint(thin, thick);
            assert!((width - HOOKS_A_STITCH).abs() < 0.05, "{width}");
        }
    }

    #[test]
    fn amounts_are_read_in_the_units_of_the_band() {
        assert!(matches!(some_yarn("50g"), Some(SomeYarn::Mass(mass)) if (mass.g() - 50.0).abs() < 1e-9));
        assert!(matches!(some_yarn("1.75 oz"), Some(SomeYarn::Mass(mass)) if (mass.g() - 49.6).abs() < 0.1));
        assert!(matches!(some_yarn("120 yd"), Some(SomeYarn::Length(length)) if (length.mm() - 109_728.0).abs() < 1.0));
        assert_eq!(["", "50", "g", "x g", "50 kg"].map(some_yarn), [None; 5]);
    }
}
