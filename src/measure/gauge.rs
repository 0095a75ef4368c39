//! How wide a stitch and how tall a row is, and how wide and long that makes each row of a piece.

use std::f64::consts::FRAC_1_SQRT_2;
use std::fmt::{Display, Formatter};

use super::heights;
use super::tables::usual_gauge;
use super::units::{Length, Reckoned};
use crate::fabric::{Fabric, Row};
use crate::pattern::model::{Gauge, Head, ItemKind, Kind, Pattern, Piece, StitchId, Swatch, Yarn};
use crate::stitch::{Stitches, Terms};

/// How every piece comes out, in the order of the pattern. Nothing for a piece without any gauge to go by.
#[must_use]
pub fn pieces(pattern: &Pattern, fabric: &Fabric) -> Vec<Option<PieceMeasure>> {
    let pieces = pattern.pieces.iter().zip(&fabric.pieces);
    pieces
        .map(|(piece, worked)| {
            let scale = Scale::of(pattern, piece)?;
            let sizes = worked.sizes.iter().map(|size| rows(pattern, piece, &scale, &size.rows)).collect();
            Some(PieceMeasure { scale, sizes })
        })
        .collect()
}

/// How a piece comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceMeasure {
    /// What it is measured by.
    pub scale: Scale,
    /// Its rows or rounds, for each size.
    pub sizes: Vec<Vec<RowMeasure>>,
}

/// How a row or round comes out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowMeasure {
    /// Its number in this size, counted from 1.
    pub number: u32,
    /// How wide the row is, or how far it is round the round: its stitches and the chains that span between them.
    pub width: Reckoned,
    /// How tall it is by itself.
    pub height: Reckoned,
    /// How long the piece is with it; in a flat circle, from the middle out.
    pub length: Reckoned,
}

/// What a piece is measured by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Width of a stitch.
    pub stitch: Reckoned,
    /// Height of a row of the gauge's stitch.
    pub row: Reckoned,
    /// The stitch that the gauge names; nothing when it names none or a pattern, and holds for every row.
    pub of: Option<StitchId>,
    /// Where it comes from.
    pub source: Source,
}

/// Where a scale comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// The gauge with this index in the head.
    Swatch(usize),
    /// No gauge is given: the usual range of this yarn weight.
    Weight(u8),
}

impl Scale {
    /// By the piece's own gauge, or else by the weight of its yarn.
    #[must_use]
    pub fn of(pattern: &Pattern, piece: &Piece) -> Option<Self> {
        let using = piece.using.as_deref();
        let swatch = Self::by_swatch(&pattern.head, &pattern.stitches, pattern.terms, using);
        swatch.or_else(|| Self::by_weight(pattern, piece))
    }

    /// By the gauge of a piece that uses this one.
    pub(crate) fn by_swatch(head: &Head, stitches: &Stitches, terms: Terms, using: Option<&str>) -> Option<Self> {
        let (index, gauge) = gauge_for(head, using)?;
        let swatch = gauge.swatch?;
        let of = gauge.stitch.as_deref().and_then(|stitch| stitches.find(stitch, terms));
        let (stitch, row) = (swatch.stitch_width(), swatch.row_height());
        Some(Self { stitch, row, of, source: Source::Swatch(index) })
    }

    fn by_weight(pattern: &Pattern, piece: &Piece) -> Option<Self> {
        let named = |yarn: &&Yarn| piece.yarn.as_deref().is_some_and(|name| name.eq_ignore_ascii_case(&yarn.name));
        let yarns = &pattern.head.yarns;
        let weight = yarns.iter().find(named).or(yarns.first())?.weight_number?;
        let (least, most, stitch) = usual_gauge(weight)?;
        let of = pattern.stitches.find(&stitch, Terms::Us)?;
        let height = heights::of(&pattern.stitches, of)?;
        let per = f64::midpoint(least, most);
        let width = Length::millimetres(100.0 / per);
        let give = Length::millimetres(100.0 / least) - width;
        let off = width * height.give + give * height.widths;
        let row = Reckoned::new(width * height.widths, off);
        Some(Self { stitch: Reckoned::new(width, give), row, of: Some(of), source: Source::Weight(weight) })
    }

    /// How tall a row is that is mostly made of this stitch.
    #[must_use]
    pub fn row_of(&self, pattern: &Pattern, stitch: StitchId) -> Reckoned {
        let height = |id| heights::of(&pattern.stitches, id);
        let Some((of, wanted)) = self.of.and_then(height).zip(height(stitch)) else { return self.row };
        if self.of == Some(stitch) || of == wanted {
            return self.row;
        }
        let ratio = wanted.widths / of.widths;
        let doubt = wanted.give / wanted.widths + of.give / of.widths;
        let row = self.row.times(ratio);
        Reckoned::new(row.length, row.give + row.length * doubt)
    }
}

/// The gauge that a piece uses, and its index: the one named so, or else the one without a name, or else the first.
#[must_use]
pub fn gauge_for<'h>(head: &'h Head, using: Option<&str>) -> Option<(usize, &'h Gauge)> {
    let named = |name: Option<&str>| {
        let same = move |gauge: &Gauge| match (gauge.name.as_deref(), name) {
            (Some(one), Some(other)) => one.eq_ignore_ascii_case(other),
            (one, other) => one == other,
        };
        head.gauges.iter().enumerate().find(move |(_, gauge)| same(gauge))
    };
    named(using).or_else(|| named(None)).or_else(|| head.gauges.iter().enumerate().next())
}

/// "11 to 14 sc in 10 cm (Craft Yarn Council, Standard Yarn Weight System)".
pub(super) fn usual_for(weight: u8) -> Option<String> {
    let (least, most, stitch) = usual_gauge(weight)?;
    Some(format!("{least} to {most} US {stitch} in 10 cm (Craft Yarn Council, Standard Yarn Weight System)"))
}

impl Display for Gauge {
    /// `17 sts x 16 rows in sc = 10 cm`, as it is written.
    fn fmt(&self, f: &mut Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} sts x {} rows", self.stitches, self.rows)?;
        if let Some(stitch) = &self.stitch {
            write!(f, " in {}", stitch.trim())?;
        }
        write!(f, " = {}", self.over)
    }
}

impl Swatch {
    /// Width of a stitch. One stitch more or less in the swatch is what a maker may be off.
    #[must_use]
    pub fn stitch_width(&self) -> Reckoned {
        one_of(self.over, self.stitches)
    }

    /// Height of a row of the swatch, likewise.
    #[must_use]
    pub fn row_height(&self) -> Reckoned {
        one_of(self.over, self.rows)
    }
}

fn one_of(over: Length, number: f64) -> Reckoned {
    let one = over / number;
    Reckoned::new(one, one / number)
}

fn rows(pattern: &Pattern, piece: &Piece, scale: &Scale, rows: &[Row]) -> Vec<RowMeasure> {
    let mut length = Reckoned::default();
    let measured = rows.iter().map(|row| {
        let height = row_height(pattern, scale, row);
        if !goes_on_beside(piece, row) {
            length = length + height;
        }
        RowMeasure { number: row.number, width: width(pattern, scale, row), height, length }
    });
    measured.collect()
}

/// Whether a line is worked behind what has been made since, so that the piece gets no longer by it.
fn goes_on_beside(piece: &Piece, row: &Row) -> bool {
    use crate::pattern::model::StepKind;
    let line = piece.items.get(row.source).map(|item| &item.kind);
    matches!(line, Some(ItemKind::Work(line)) if line.steps.iter().any(|s| matches!(s.kind, StepKind::Behind(_))))
}

/// Its stitches and the chains of its spaces, side by side. Where as many stitches come in as go out, the row goes in
/// waves and is narrower, up to what a slope of 45 degrees takes away; a gauge in the pattern itself knows of it.
fn width(pattern: &Pattern, scale: &Scale, row: &Row) -> Reckoned {
    let ledger = &row.ledger;
    let width = scale.stitch.times(f64::from(ledger.stitches) + f64::from(in_spaces(row, 1)));
    let takes = |kind| match kind {
        Kind::Stitch(id) => pattern.stitches.get(id).is_some_and(|stitch| stitch.takes > 1),
        Kind::AnyStitch | Kind::Chain | Kind::Space(_) | Kind::AnySpace => false,
    };
    let waves = ledger.stitches == ledger.offered && ledger.made.iter().any(|tally| takes(tally.kind));
    if waves && scale.of.is_some() {
        return Reckoned::new(width.length, width.give + width.length * (1.0 - FRAC_1_SQRT_2));
    }
    width
}

/// Chains of those spaces of a row that are at least so long.
pub(super) fn in_spaces(row: &Row, least: u32) -> u32 {
    let spaces = row.ledger.made.iter().filter_map(|tally| match tally.kind {
        Kind::Space(chains) if chains >= least => Some(chains.saturating_mul(tally.count)),
        _ => None,
    });
    spaces.fold(0, u32::saturating_add)
}

/// How tall a row is: the height of the stitch that there is most of, the taller one of two; how far others differ from
/// it is doubt. A row of arches is as tall as they stand.
#[must_use]
pub fn row_height(pattern: &Pattern, scale: &Scale, row: &Row) -> Reckoned {
    if let Some(arch) = arch(scale, row) {
        return arch;
    }
    let is_steps = |id| pattern.definitions.iter().any(|definition| definition.stitch == id);
    let made = row.ledger.made.iter().filter_map(|tally| match tally.kind {
        Kind::Stitch(id) if !is_steps(id) => Some((tally.count, scale.row_of(pattern, id))),
        _ => None,
    });
    let made: Vec<(u32, Reckoned)> = made.collect();
    let most = made.iter().max_by(|a, b| a.0.cmp(&b.0).then(a.1.length.mm().total_cmp(&b.1.length.mm())));
    let Some((_, main)) = most else { return scale.row };
    let all: f64 = made.iter().map(|(count, _)| f64::from(*count)).sum();
    let mean = made.iter().map(|(count, each)| each.length * (f64::from(*count) / all));
    let mean = mean.fold(Length::default(), |sum, part| sum + part);
    Reckoned::new(main.length, main.give + (mean - main.length).abs())
}

/// How tall a row of arches is: one that has more chains in long spaces than it has stitches.
fn arch(scale: &Scale, row: &Row) -> Option<Reckoned> {
    let chains = in_spaces(row, 3);
    let arches = row.ledger.made.iter().filter(|tally| matches!(tally.kind, Kind::Space(3..)));
    let arches = f64::from(arches.map(|tally| tally.count).sum::<u32>());
    if scale.of.is_none() || chains <= row.ledger.stitches {
        return None;
    }
    let (each, height) = (f64::from(chains) / arches, heights::arch());
    let width = scale.stitch;
    let give = width.length * (height.give * each) + width.give * (height.widths * each);
    Some(Reckoned::new(width.length * (height.widths * each), give))
}

#[cfg(test)]
mod tests {
    use super::{Source, pieces};

    fn measured(head: &str, piece: &str) -> super::PieceMeasure {
        let compiled = crate::compile(&format!("pattern Strip\nterms US\n{head}\n{piece}\n"));
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        pieces(&compiled.pattern, &compiled.fabric).remove(0).unwrap()
    }

    const STRIP: &str = "piece Strip, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
                         row 2: sc to end\nrow 3: lead ch 3 as dc, dc to end";

    #[test]
    fn rows_are_as_wide_and_long_as_the_gauge_says() {
        let strip = measured("gauge 16 sts x 20 rows in sc = 10 cm", STRIP);
        let rows = &strip.sizes[0];
        // 20 stitches of 6.25 mm; two rows of 5 mm and one of dc.
        assert!((rows[0].width.length.mm() - 125.0).abs() < 1e-9);
        assert!((rows[1].length.length.mm() - 10.0).abs() < 1e-9);
        let tall = rows[2].height.length.mm() / rows[1].height.length.mm();
        assert!((1.75..=2.4).contains(&tall), "{tall}");
        assert!(rows[2].height.give > rows[1].height.give * 2.0);
        assert_eq!(strip.scale.source, Source::Swatch(0));
    }

    #[test]
    fn a_gauge_in_a_pattern_holds_for_every_row() {
        for stitch in ["", "in pattern", "in texture"] {
            let strip = measured(&format!("gauge 16 sts x 20 rows {stitch} = 10 cm"), STRIP);
            assert!(strip.sizes[0].iter().all(|row| (row.height.length.mm() - 5.0).abs() < 1e-9), "{stitch}");
        }
    }

    #[test]
    fn a_length_takes_rows_by_how_tall_they_are_and_whole_repeats() {
        let rows = |lines: &str| {
            let piece = format!(
                "piece Strip, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n{lines}"
            );
            measured("gauge 16 sts x 20 rows in sc = 10 cm", &piece).sizes[0].len()
        };
        assert_eq!(rows("row 2: sc to end\nagain row 2 until 18 cm"), 36);
        // A dc is about twice as tall: one row of sc, then dc of 10.3 mm.
        assert_eq!(rows("row 2: dc to end\nagain row 2 until 18 cm"), 18);
        // 36 rows would end in the middle of a repeat of three; 34 and 37 are the ways to stop.
        assert_eq!(rows("rows 2-4: sc to end\nagain rows 2-4 until 18 cm"), 37);
    }

    #[test]
    fn without_a_gauge_the_weight_of_the_yarn_says_it() {
        let strip = measured("yarn A \"fog\", weight 4", STRIP);
        assert_eq!(strip.scale.source, Source::Weight(4));
        // 12.5 in 10 cm, the middle of 11 to 14.
        assert!((strip.scale.stitch.length.mm() - 8.0).abs() < 1e-9);
        assert!(strip.scale.stitch.give.mm() > 1.0);
    }
}
