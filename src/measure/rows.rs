//! How wide a stitch and how tall a row is, and how wide and long that makes each row of a piece.

use std::f64::consts::FRAC_1_SQRT_2;

use crate::fabric::{Fabric, Row, SizeFabric};
use crate::gauge::{Scale, in_spaces, row_height};
use crate::pattern::model::{ItemKind, Kind, Pattern, Piece, Start};
use crate::units::Reckoned;

/// How every piece comes out, in the order of the pattern. Nothing for a piece without any gauge to go by.
#[must_use]
pub fn pieces(pattern: &Pattern, fabric: &Fabric) -> Vec<Option<PieceMeasure>> {
    let pieces = pattern.pieces.iter().zip(&fabric.pieces);
    pieces
        .map(|(piece, worked)| {
            let scale = Scale::of(pattern, piece)?;
            let sizes = worked.sizes.iter().map(|size| rows(pattern, piece, &scale, size)).collect();
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
    /// Worked round and round.
    pub round: bool,
    /// How wide the row is, or how far it is round the round: its stitches and the chains that span between them.
    pub width: Reckoned,
    /// How tall it is by itself.
    pub height: Reckoned,
    /// How long the piece is with it; in a flat circle, from the middle out.
    pub length: Reckoned,
}

fn rows(pattern: &Pattern, piece: &Piece, scale: &Scale, worked: &SizeFabric) -> Vec<RowMeasure> {
    let rows: &[Row] = &worked.rows;
    let mut length = foundation(pattern, piece, scale, worked.start);
    // Another gauge may hold from some row on.
    let changes = piece.items.iter().any(|item| matches!(item.kind, ItemKind::Using(_)));
    let mut scale = *scale;
    let mut looked_at = None;
    let mut measured: Vec<RowMeasure> = Vec::with_capacity(rows.len());
    for row in rows {
        if changes && looked_at.replace(row.item) != Some(row.item) {
            scale = Scale::at(pattern, piece, row.item).unwrap_or(scale);
        }
        let scale = &scale;
        let height = row_height(pattern, scale, row.ledger.stitches, made(row));
        // What lies between two rounds that are worked together is folded away.
        if let Some(folded) = goes_through(piece, row).and_then(|to| measured.iter().find(|row| row.number == to)) {
            length = folded.length;
        }
        if !goes_on_beside(piece, row) {
            length = length + height;
        }
        let width = width(pattern, scale, row);
        measured.push(RowMeasure { number: row.number, round: row.round, width, height, length });
    }
    measured
}

/// How tall the foundation stitches are that a piece begins with, which are a row as well.
fn foundation(pattern: &Pattern, piece: &Piece, scale: &Scale, stitches: u32) -> Reckoned {
    let Start::Foundation(_, stitch) = &piece.start else { return Reckoned::default() };
    if pattern.stitches.get(*stitch).is_none_or(|stitch| stitch.own) {
        return Reckoned::default();
    }
    row_height(pattern, scale, stitches, std::iter::once((Kind::Stitch(*stitch), stitches)))
}

/// The row through whose free loops a row is worked as well.
fn goes_through(piece: &Piece, row: &Row) -> Option<u32> {
    use crate::pattern::model::StepKind;
    let Some(ItemKind::Work(line)) = piece.items.get(row.source).map(|item| &item.kind) else { return None };
    line.steps.iter().find_map(|step| if let StepKind::Through(number, _) = step.kind { Some(number) } else { None })
}

/// What a row was made of: so many of each kind.
pub(super) fn made(row: &Row) -> impl Iterator<Item = (Kind, u32)> + Clone {
    row.ledger.made.iter().map(|tally| (tally.kind, tally.count))
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
    let width = scale.stitch.times(f64::from(ledger.stitches) + f64::from(in_spaces(made(row), 1)));
    let takes = |kind| match kind {
        Kind::Stitch(id) => pattern.stitches.get(id).is_some_and(|stitch| stitch.takes > 1),
        Kind::AnyStitch | Kind::Chain | Kind::Space(_) | Kind::AnySpace | Kind::Yarn(_) => false,
    };
    let waves = ledger.stitches == ledger.offered && ledger.made.iter().any(|tally| takes(tally.kind));
    if waves && scale.of.is_some() {
        return Reckoned::new(width.length, width.give + width.length * (1.0 - FRAC_1_SQRT_2));
    }
    width
}

#[cfg(test)]
mod tests {
    use super::pieces;
    use crate::gauge::Source;

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
    fn another_gauge_holds_from_its_row_on_and_a_length_knows_of_it() {
        let head = "gauge rim 20 sts x 20 rows in sc = 10 cm\ngauge body 10 sts x 10 rows in sc = 10 cm";
        let piece = "piece Strip, in rows\nusing rim\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
                     rows 2-4: sc to end\nusing body\nrow 5: sc to end\nagain row 5 until 10 cm\nusing rim\nrow: sc to end";
        let strip = measured(head, piece);
        let rows = &strip.sizes[0];
        let near = |shown: f64, wanted: f64| assert!((shown - wanted).abs() < 1e-6, "{shown} and not {wanted}");
        // Four rows of 5 mm, then eight of 10 mm to 10 cm, then one of 5 mm again.
        assert_eq!(rows.len(), 13);
        near(rows[3].length.length.mm(), 20.0);
        near(rows[11].length.length.mm(), 100.0);
        near(rows[12].length.length.mm(), 105.0);
        // 20 stitches of 5 mm and of 10 mm.
        near(rows[3].width.length.mm(), 100.0);
        near(rows[4].width.length.mm(), 200.0);
        near(rows[12].width.length.mm(), 100.0);
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
