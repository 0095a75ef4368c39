//! The charts of a piece, beside its lines.

use maud::{Markup, PreEscaped, html as markup};

use super::super::charts::PageChart;
use super::{Setter, quoted};

impl Setter<'_> {
    /// Charts of a piece: one that is the only size stands open, and of several sizes each can be opened.
    pub(super) fn charts(&self, piece: usize) -> Markup {
        let charts = &self.album.charts;
        markup! {
            @for chart in charts.of(piece) { (figure(chart)) }
        }
    }
}

/// The widest chart that can be read in one of two columns on paper: a column is 87 mm wide, and so many units make the letters of a chart
/// no smaller than five points (reckoned).
const WIDEST_IN_A_COLUMN: f64 = 620.0;

/// What can be pressed is shown by the script.
fn figure(page: &PageChart) -> Markup {
    markup! {
        details.chart data-size=[page.size] data-row-word=(page.row) open[page.size.is_none()] data-narrow[page.chart.wide <= WIDEST_IN_A_COLUMN] {
            summary { (quoted(&page.chart.title)) }
            div.turns hidden {
                button type="button" data-zooms="1" { "Larger" }
                button type="button" data-zooms="-1" disabled { "Smaller" }
                button type="button" data-steps="-1" { "Stitch before" }
                button type="button" data-steps="1" { "Next stitch" }
            }
            p.pressed aria-live="polite" hidden {}
            div.scroll tabindex="0" role="group" aria-label=(page.chart.title) { (PreEscaped(&page.chart.svg)) }
        }
    }
}
