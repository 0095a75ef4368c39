//! What shape the fabric takes: whether rounds lie flat, cup or ruffle, the profile of a piece in the round, and the outline
//! of a piece.
//!
//! All of it follows from counts and gauge by geometry. It is told and never an error: a cap cups on purpose.

mod outline;
mod table;

pub use outline::Drawing;
pub use table::table;

use std::f64::consts::PI;

use crate::fabric::{Fabric, Row};
use crate::measure::rows::{PieceMeasure, RowMeasure, pieces};
use crate::pattern::model::{Kind, Pattern, Piece, Start};
use crate::units::Reckoned;

/// How a round lies beside the one before, or a piece so far beside a flat circle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lie {
    /// It has fewer stitches than the round before: the fabric closes in.
    ClosesIn,
    /// It goes straight up, as a tube.
    StraightUp,
    /// It grows, but by less than a flat circle: the fabric cups.
    Cups,
    /// By a little less than a flat circle.
    CupsALittle,
    /// As a flat circle does, as far as the gauge can tell.
    Flat,
    /// By more than a flat circle, but no more than a flat square.
    FlatWithCorners,
    /// By more than either: the fabric ruffles.
    Ruffles,
}

impl Lie {
    /// From the growth beside that of a flat circle, and the doubt of both.
    fn of(ratio: f64, doubt: f64) -> Self {
        /// A tube's rounds differ by a stitch or two.
        const STRAIGHT: f64 = 0.1;
        /// A square's edge grows by eight heights of a row where a circle's grows by 2 pi of them.
        const SQUARE: f64 = 4.0 / PI;
        if ratio < -STRAIGHT {
            Self::ClosesIn
        } else if ratio <= STRAIGHT {
            Self::StraightUp
        } else if ratio < 1.0 - 2.0 * doubt {
            Self::Cups
        } else if ratio < 1.0 - doubt {
            Self::CupsALittle
        } else if ratio <= 1.0 + doubt {
            Self::Flat
        } else if ratio <= SQUARE + doubt {
            Self::FlatWithCorners
        } else {
            Self::Ruffles
        }
    }
}

/// A round and how it lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// Its number in this size.
    pub number: u32,
    /// Its stitches and the chains of its spaces.
    pub stitches: u32,
    /// By how many it differs from the round before.
    pub grows: i64,
    /// By how many a flat circle would grow here: 2 pi row heights.
    pub flat: f64,
    /// How this round lies beside the one before.
    pub lie: Lie,
    /// How the piece lies with it beside a flat circle of its length from the middle out; nothing when it does not begin
    /// in its middle, and from where it closes in.
    pub so_far: Option<Lie>,
    /// Its radius in millimetres, when it is round.
    pub radius: f64,
    /// How tall it is, in millimetres.
    pub tall: f64,
    /// How far the piece is out from its middle along the surface, in millimetres.
    pub along: f64,
    /// How high it stands above the start in millimetres: what the height of the round leaves when the radius has grown.
    pub up: f64,
}

/// The shapes of the pieces of a pattern.
#[derive(Debug, Clone)]
pub struct Shapes<'a> {
    pattern: &'a Pattern,
    fabric: &'a Fabric,
    /// How every piece is measured, in the order of the pattern.
    measured: Vec<Option<PieceMeasure>>,
}

impl<'a> Shapes<'a> {
    /// Measures every row of a pattern.
    #[must_use]
    pub fn of(pattern: &'a Pattern, fabric: &'a Fabric) -> Self {
        Self { pattern, fabric, measured: pieces(pattern, fabric) }
    }

    /// The rounds of a piece in a size; nothing for a piece in rows, without a gauge, or along both sides of a chain.
    #[must_use]
    pub fn rounds(&self, index: usize, size: usize) -> Option<Vec<Round>> {
        let piece = self.pattern.pieces.get(index).filter(|piece| is_round(piece))?;
        let worked = self.fabric.pieces.get(index)?.sizes.get(size)?;
        let measure = self.measured.get(index)?.as_ref()?;
        let mut walk = Walk::from(worked.start, piece, measure);
        let rows = worked.rows.iter().zip(measure.sizes.get(size)?);
        Some(rows.map(|(row, measured)| walk.round(row, measured)).collect())
    }
}

impl Shapes<'_> {
    /// The rounds that a piece begins with, up to its first row.
    pub(super) fn first_rounds(&self, index: usize, size: usize) -> Option<Vec<Round>> {
        let piece = self.pattern.pieces.get(index).filter(|piece| begins_round(piece))?;
        let worked = self.fabric.pieces.get(index)?.sizes.get(size)?;
        let measure = self.measured.get(index)?.as_ref()?;
        let mut walk = Walk::from(worked.start, piece, measure);
        let rows = worked.rows.iter().zip(measure.sizes.get(size)?).take_while(|(row, _)| row.round);
        Some(rows.map(|(row, measured)| walk.round(row, measured)).collect())
    }
}

fn is_round(piece: &Piece) -> bool {
    begins_round(piece) && !piece.goes_over()
}

/// Whether the rounds that a piece begins with lie round its start.
fn begins_round(piece: &Piece) -> bool {
    piece.way.rounds()
        && !matches!(
            piece.start,
            Start::Chain(_) | Start::Around(_) | Start::Several(_) | Start::Unsaid | Start::Thing(..)
        )
}

/// From round to round.
struct Walk {
    stitch: Reckoned,
    stitches: u32,
    radius: f64,
    along: f64,
    up: f64,
    /// It began in its middle and has only grown.
    grows: bool,
}

impl Walk {
    fn from(start: u32, piece: &Piece, measure: &PieceMeasure) -> Self {
        let start = if piece.start == Start::Ring { 0 } else { start };
        let stitch = measure.scale.stitch;
        let radius = f64::from(start) * stitch.length.mm() / (2.0 * PI);
        let grows = matches!(piece.start, Start::Ring | Start::ChainRing(_));
        Self { stitch, stitches: start, radius, along: radius, up: 0.0, grows }
    }

    fn round(&mut self, row: &Row, measured: &RowMeasure) -> Round {
        let stitches = stitches(row);
        let (width, height) = (self.stitch, measured.height);
        let doubt = width.give.mm() / width.length.mm() + height.give.mm() / height.length.mm();
        let radius = f64::from(stitches) * width.length.mm() / (2.0 * PI);
        let out = radius - self.radius;
        let tall = height.length.mm();
        self.along += tall;
        self.up += (tall * tall - out * out).max(0.0).sqrt();
        let lie = Lie::of(out / tall, doubt);
        self.grows &= lie != Lie::ClosesIn;
        let round = Round {
            number: row.number,
            stitches,
            grows: i64::from(stitches) - i64::from(self.stitches),
            flat: 2.0 * PI * tall / width.length.mm(),
            lie,
            so_far: self.grows.then(|| Lie::of(radius / self.along, doubt)),
            radius,
            tall,
            along: self.along,
            up: self.up,
        };
        (self.stitches, self.radius) = (stitches, radius);
        round
    }
}

/// Stitches and the chains of spaces, which lie beside each other on the edge.
fn stitches(row: &Row) -> u32 {
    let chains = row.ledger.made.iter().map(|tally| match tally.kind {
        Kind::Space(chains) => chains.saturating_mul(tally.count),
        Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Stitch(_) | Kind::Yarn(_) => 0,
    });
    chains.fold(row.ledger.stitches, u32::saturating_add)
}

/// The counts that a ball of so many equal rounds has: it is as far round at each as its distance from the top asks for.
/// `height` is the height of a round in widths of a stitch. With the middle of the first and of the last round one height
/// from the poles, round i of n has 2 (n + 1) height x sin(i pi / (n + 1)) stitches.
#[must_use]
pub fn ball(rounds: u32, height: f64) -> Vec<f64> {
    let steps = f64::from(rounds) + 1.0;
    (1..=rounds).map(|round| 2.0 * steps * height * (f64::from(round) * PI / steps).sin()).collect()
}

/// The counts of a ball beside those of a piece that is closed at both ends; nothing for any other piece.
#[must_use]
pub fn beside_a_ball(rounds: &[Round]) -> Option<Vec<f64>> {
    let (first, last) = (rounds.first()?, rounds.last()?);
    let widest = rounds.iter().map(|round| round.stitches).max()?;
    // A round that is drawn shut has about as many stitches as one that begins a circle.
    let is_closed = |round: &Round| f64::from(round.stitches) <= 1.6 * round.flat && round.stitches * 2 < widest;
    if !(is_closed(first) && is_closed(last)) {
        return None;
    }
    let count = u32::try_from(rounds.len()).ok()?;
    let height = rounds.iter().map(|round| round.flat).sum::<f64>() / f64::from(count) / (2.0 * PI);
    Some(ball(count, height))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Lie, Round, Shapes, ball, beside_a_ball};

    fn worked(gauge: &str, piece: &str) -> Vec<Round> {
        let text =
            format!("pattern Disc\nterms US\ngauge {gauge} = 10 cm\npiece Disc, in a spiral\nstart ring\n{piece}");
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        Shapes::of(&compiled.pattern, &compiled.fabric).rounds(0, 0).unwrap()
    }

    /// A circle that grows by the same number in each of five rounds.
    fn circle(gauge: &str, stitch: &str, by: u32) -> Vec<Round> {
        let mut piece = format!("rnd 1: {by} {stitch} in ring\n");
        for round in 1..5 {
            let over = by * round;
            piece += &format!("rnd {}: {by} {stitch}inc evenly in {stitch} to end = {}\n", round + 1, over + by);
        }
        worked(gauge, &piece.replace("scinc", "inc"))
    }

    fn lies(gauge: &str, stitch: &str, by: u32) -> Lie {
        let rounds = circle(gauge, stitch, by);
        let lie = rounds[4].lie;
        assert!(rounds.iter().all(|round| round.lie == lie && round.so_far == Some(lie)), "{rounds:?}");
        lie
    }

    /// The rules of thumb for flat circles (start 6, 8 and 12; `flat circle` in handbook pages by craftymaria and
    /// garturstitchfarm), at gauges that yarn companies print: CAC0116-029868M, PAC0116-030195M, CAC0129-029329M,
    /// RHC0101-021719M. The last one, BRC0129-030555M, is so long in its rows that 6 is too many.
    #[test]
    fn the_rules_of_thumb_lie_flat_at_printed_gauges() {
        assert_eq!(lies("14 sts x 15 rows in sc", "sc", 6), Lie::Flat);
        assert_eq!(lies("22 sts x 24 rows in sc", "sc", 6), Lie::Flat);
        assert_eq!(lies("13 sts x 10 rows in hdc", "hdc", 8), Lie::Flat);
        assert_eq!(lies("16 sts x 8 rows in dc", "dc", 12), Lie::Flat);
        assert_eq!(lies("16 sts x 20 rows in sc", "sc", 6), Lie::FlatWithCorners);
    }

    /// The natural growth that follows from those gauges.
    #[test]
    fn a_flat_circle_grows_by_two_pi_heights() {
        let printed =
            [("14 sts x 15 rows in sc", 5.9), ("22 sts x 24 rows in sc", 5.8), ("16 sts x 20 rows in sc", 5.0)];
        for (gauge, grows) in printed {
            assert!((circle(gauge, "sc", 6)[2].flat - grows).abs() < 0.05, "{gauge}");
        }
    }

    #[test]
    fn too_few_cup_and_too_many_ruffle() {
        assert_eq!(lies("14 sts x 15 rows in sc", "sc", 4), Lie::Cups);
        assert_eq!(lies("14 sts x 15 rows in sc", "sc", 5), Lie::CupsALittle);
        // Eight are a flat square; mkcarroll has a circle of eight ruffle at a firm gauge.
        assert_eq!(lies("14 sts x 15 rows in sc", "sc", 8), Lie::FlatWithCorners);
        assert_eq!(lies("14 sts x 15 rows in sc", "sc", 10), Lie::Ruffles);
    }

    #[test]
    fn a_tube_goes_straight_up_and_is_as_high_as_its_rounds() {
        let piece = "rnd 1: 6 sc in ring\nrnd 2: [inc] to end\nrnds 3-12: sc to end\nrnd 13: [sc2tog] to end = 6\n";
        let rounds = worked("20 sts x 20 rows in sc", piece);
        assert_eq!(rounds[5].lie, Lie::StraightUp);
        assert!((rounds[11].up - rounds[1].up - 50.0).abs() < 1e-6);
        assert_eq!(rounds[12].lie, Lie::ClosesIn);
    }

    #[test]
    fn a_flat_circle_has_no_height_and_its_radius_is_its_length() {
        let rounds = circle("20 sts x 18.85 rows in sc", "sc", 20);
        assert!(rounds.iter().all(|round| round.up.abs() < 1e-6 && round.radius > round.along));
        // 6.667 stitches a round is 2 pi times 10 / 18.85 over 0.5.
        assert!((rounds[0].flat - 6.667).abs() < 1e-3);
    }

    /// The counts of a ball of twelve rounds, 25.2 sin(i pi / 13) rounded, as makers of mathematical crochet hand them on
    /// (from memory; the source was not at hand).
    #[test]
    fn a_ball_of_twelve_rounds_has_the_counts_of_the_sine() {
        let counts: Vec<f64> = ball(12, 25.2 / 26.0).iter().map(|count| count.round()).collect();
        assert_eq!(counts, [6.0, 12.0, 17.0, 21.0, 24.0, 25.0, 25.0, 24.0, 21.0, 17.0, 12.0, 6.0]);
    }

    #[test]
    fn a_ball_by_the_sine_is_as_wide_as_it_is_high() {
        let counts = ball(30, 0.95);
        let (mut up, mut before) = (0.0, 0.0_f64);
        for count in &counts {
            let radius = count / (2.0 * std::f64::consts::PI);
            up += (0.95_f64.powi(2) - (radius - before).powi(2)).max(0.0).sqrt();
            before = radius;
        }
        let wide = counts.iter().copied().fold(0.0, f64::max) / std::f64::consts::PI;
        assert!((up / wide - 1.0).abs() < 0.07, "{up} {wide}");
    }

    /// The body of a toy by elrincondemaryjoe (January 2015), 6 to 24 and back, as published: a short egg and no ball.
    #[test]
    fn a_closed_piece_is_held_beside_a_ball() {
        let piece = "rnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\nrnd 3: [sc, inc] to end = 18\nrnd 4: [sc 2, inc] to end = 24\n\
                     rnds 5-7: sc to end = 24\nrnd 8: [sc 2, sc2tog] to end = 18\nrnd 9: [sc, sc2tog] to end = 12\n";
        let rounds = worked("16 sts x 17 rows in sc", &format!("{piece}rnd 10: [sc2tog] to end = 6\n"));
        let ball = beside_a_ball(&rounds).unwrap();
        assert!((ball[0] - 5.8).abs() < 0.2 && ball[4] > 20.0 && ball[4] < 21.0, "{ball:?}");
        assert!(beside_a_ball(&worked("16 sts x 17 rows in sc", piece)).is_none());
    }

    fn told(text: &str) -> Option<String> {
        let compiled = crate::compile(&format!("pattern Thing\nterms US\n{text}"));
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let shapes = Shapes::of(&compiled.pattern, &compiled.fabric);
        shapes.drawing(0, &[0], crate::stitch::Terms::Us).map(|drawing| drawing.told)
    }

    /// A square of 20 cm that is begun at a corner has a diagonal of 28 cm; the rest is plain geometry, and what the designer states.
    #[test]
    fn what_can_not_be_reckoned_is_drawn_by_what_is_stated() {
        let gauge = "gauge 16 sts x 18 rows in sc = 10 cm\n";
        let lace = "piece Mat, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring\nrnd 2: [sc, ch 9] to end\n\
                    rnd 3: [sc in next ch-9 sp, ch 12] 8 times\n";
        assert_eq!(told(&format!("{gauge}{lace}")), None);
        let disc = told(&format!("{gauge}finished diameter 15 cm\n{lace}")).unwrap_or_default();
        assert_eq!(disc, "Outline: a flat circle, 6 in / 15 cm across.");
        // Rows that grow at both ends from one point run along the long side; a shawl of 4 stitches more a row on a slope begins in its middle.
        let rows = "piece Shawl, in rows\nlead ch 1\nstart ring\nrow 1: 3 sc in ring\nrow 2: 2 sc in next, sc to last 1, 2 sc in last\n\
                    again row 2 until row 30\n";
        let up = told(&format!("{gauge}finished width 38 cm\n{rows}")).unwrap_or_default();
        assert!(up.ends_with("the work begins at the bottom of the drawing."), "{up}");
        let middle = told(&format!("{gauge}finished width 47 cm\n{rows}")).unwrap_or_default();
        assert!(middle.ends_with("23.5 cm deep; the work begins in the middle of the long side."), "{middle}");
        assert_eq!(told(&format!("{gauge}finished width 90 cm\n{rows}")), None);
    }

    #[test]
    fn a_pot_stands_on_its_base_and_a_long_ring_is_no_flat_circle() {
        let pot = "gauge 16 sts x 16 rows in sc = 10 cm\nfor home\npiece Pot, in a spiral\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: inc to end\n\
                   rnd 3: [sc, inc] to end\nrnd 4: [sc 2, inc] to end\nrnd 5: [sc 3, inc] to end\nrnds 6-21: sc to end\n";
        let base = told(pot).unwrap_or_default();
        // Sixteen rounds of 6.25 mm rise from the base.
        assert!(base.contains("and 4 in / 10 cm high; the work begins at the bottom"), "{base}");
        let hat = told(&pot.replace("for home", "for adult")).unwrap_or_default();
        assert!(hat.contains("from its closed end to its edge; the work begins at the top"), "{hat}");
        let yoke = "gauge 16 sts x 18 rows in sc = 10 cm\npiece Yoke, in joined rounds\nlead ch 1\nstart ch 60 joined\nrnd 1: sc to end\n\
                    rnd 2: 24 inc evenly in sc to end\nrnd 3: 24 inc evenly in sc to end\n";
        assert!(!told(yoke).unwrap_or_default().contains("flat"), "{:?}", told(yoke));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]

        #[test]
        fn up_and_out_make_up_the_height_of_a_round(by in 1_u32..12, gauge in 10_u32..30) {
            let rounds = circle(&format!("{gauge} sts x {gauge} rows in sc"), "sc", by);
            let tall = 100.0 / f64::from(gauge);
            for pair in rounds.windows(2) {
                let (out, up) = (pair[1].radius - pair[0].radius, pair[1].up - pair[0].up);
                if out <= tall {
                    prop_assert!((out.hypot(up) - tall).abs() < 1e-6);
                } else {
                    prop_assert!(up.abs() < 1e-9);
                }
            }
        }
    }
}
