//! The charts of a page: every piece in every size that is shown, as far as a page has room for them.

use std::collections::BTreeMap;

use crate::Compiled;
use crate::chart::{Asked, Chart, Extent, NoChart, of_graph};
use crate::fabric::graph_up_to;
use crate::limits;
use crate::words::{clean, list};

use super::{Edition, Hand, Telling, Wording};

/// Stitches and chains of one chart in a page: as many as can be told from each other on a sheet.
const MOST_IN_ONE: usize = 1_500;

/// Stitches and chains that are laid out for one chart, which is shortened to what repeats.
const MOST_LAID: usize = 3_000;

/// Stitches and chains of all charts of a page together. A page of so many takes at most two and a half times as long as one without.
const MOST_TOGETHER: usize = 4_000;

/// Bytes of all charts of a page together: with them a page stays below 512 kB.
const MOST_BYTES: usize = 300_000;

/// Charts of the stitches of a page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Charts {
    drawn: Vec<PageChart>,
    /// Charts that a page has no room for, by the piece.
    left_out: BTreeMap<usize, LeftOut>,
}

/// Charts of a piece that a page has no room for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct LeftOut {
    /// What is said of them.
    told: String,
    /// How they are drawn by themselves: for the designer, who has the file.
    how: String,
}

/// A piece in a size.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PageChart {
    /// The piece, by its index.
    pub piece: usize,
    /// The size, by its index; nothing where the page shows only one.
    pub size: Option<usize>,
    /// The name of its file.
    pub file: String,
    /// The word of its rows: round or row.
    pub row: &'static str,
    /// What is drawn.
    pub chart: Chart,
}

impl Charts {
    /// Those of a piece.
    pub(super) fn of(&self, piece: usize) -> impl Iterator<Item = &PageChart> {
        self.drawn.iter().filter(move |chart| chart.piece == piece)
    }

    /// Each chart as an SVG file, by its name.
    pub fn files(&self) -> impl Iterator<Item = (&str, &str)> {
        self.drawn.iter().map(|chart| (chart.file.as_str(), chart.chart.svg.as_str()))
    }

    /// What is said of charts that are not here, to the designer: a maker could do nothing about it.
    pub fn left_out(&self) -> impl Iterator<Item = String> {
        self.left_out.values().map(|left_out| format!("{} {}", left_out.told, left_out.how))
    }
}

/// Whether a page has charts: not one that is read out, and not a brief one.
pub(super) fn are_shown(edition: &Edition) -> bool {
    edition.words != Wording::Aloud && edition.telling == Telling::Whole
}

/// Draws the charts of a page. There are none while the pattern has errors, since a chart shows what rings true.
#[must_use]
pub fn charts(compiled: &Compiled, edition: &Edition) -> Charts {
    let mut charts = Charts::default();
    if compiled.has_errors() || !are_shown(edition) {
        return charts;
    }
    let pattern = &compiled.pattern;
    let sizes = edition.sizes_for(pattern);
    let (mut left, mut bytes) = (MOST_TOGETHER, MOST_BYTES);
    let mut most = limits::MOST_DRAWN_FROM;
    let mut too_large: BTreeMap<(usize, Why), Vec<usize>> = BTreeMap::new();
    for &size in &sizes {
        let (recorded, whole) = graph_up_to(most, pattern, size);
        let nodes = u64::try_from(recorded.nodes.len()).unwrap_or(u64::MAX);
        most = most.saturating_sub(nodes);
        // Of a piece that is recorded in part nothing is drawn.
        let begun = recorded.nodes.last().map_or(0, |node| node.piece);
        for piece in 0..pattern.pieces.len() {
            if !whole && piece >= begun {
                too_large.entry((piece, Why::TooLarge)).or_default().push(size);
                continue;
            }
            let asked =
                Asked { piece, size, rows: None, left_handed: edition.hand == Hand::Left, terms: edition.terms };
            let extent = Extent::Page { laid: MOST_LAID, drawn: MOST_IN_ONE.min(left) };
            match of_graph(pattern, &compiled.fabric, &recorded, &asked, extent) {
                Ok(chart) if chart.svg.len() > bytes => too_large.entry((piece, Why::NoRoom)).or_default().push(size),
                Ok(chart) => {
                    bytes -= chart.svg.len();
                    left = left.saturating_sub(chart.stitches);
                    let (size, file) = ((sizes.len() > 1).then_some(size), file(compiled, piece, size));
                    charts.drawn.push(PageChart { piece, size, file, row: row_word(compiled, piece), chart });
                }
                Err(NoChart::TooLarge(stitches)) => {
                    let why = if stitches > MOST_IN_ONE { Why::TooLarge } else { Why::NoRoom };
                    too_large.entry((piece, why)).or_default().push(size);
                }
                Err(NoChart::Empty | NoChart::NoSuchRow(_) | NoChart::Squares) => {}
            }
        }
    }
    charts.drawn.sort_by_key(|chart| (chart.piece, chart.size));
    for ((piece, why), sizes) in too_large {
        let told = left_out(compiled, (piece, why), &sizes);
        let all = charts.left_out.entry(piece).or_default();
        for (all, more) in [(&mut all.told, told.told), (&mut all.how, told.how)] {
            *all =
                [std::mem::take(all), more].into_iter().filter(|said| !said.is_empty()).collect::<Vec<_>>().join(" ");
        }
    }
    charts
}

/// Why a chart is not on a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Why {
    /// It has too many stitches.
    TooLarge,
    /// Others have taken the room.
    NoRoom,
}

fn row_word(compiled: &Compiled, piece: usize) -> &'static str {
    let is_round = compiled.pattern.pieces.get(piece).is_some_and(|piece| piece.way.rounds());
    if is_round { "round" } else { "row" }
}

/// That charts of a piece are not on a page, and how they are drawn by themselves.
fn left_out(compiled: &Compiled, (piece, why): (usize, Why), sizes: &[usize]) -> LeftOut {
    let pattern = &compiled.pattern;
    let name = pattern.pieces.get(piece).map(|piece| clean(&piece.name)).filter(|name| !name.is_empty());
    let names: Vec<String> = sizes
        .iter()
        .filter_map(|size| pattern.sizes.get(*size))
        .filter(|size| !size.is_empty())
        .map(|size| clean(size))
        .collect();
    let of = name.as_ref().map(|name| format!(" of {name}")).unwrap_or_default();
    let in_sizes = match names.len() {
        0 => String::new(),
        1 => format!(" in size {}", list(&names)),
        _ => format!(" in sizes {}", list(&names)),
    };
    let piece_asked = name.map(|name| format!(" --piece \"{name}\"")).unwrap_or_default();
    let size_asked = names.first().map(|name| format!(" --size \"{name}\"")).unwrap_or_default();
    let (told, it, part) = match why {
        Why::TooLarge => {
            let rows = format!(" --{}s 1-8", row_word(compiled, piece));
            (format!("The chart{of}{in_sizes} is too large for a page."), "A part of it", rows)
        }
        Why::NoRoom => (format!("The page has no more room for the chart{of}{in_sizes}."), "It", String::new()),
    };
    let how = format!(
        "{it} can be drawn by itself: “ringtrue chart{piece_asked}{size_asked}{part}” and the name of the pattern's file."
    );
    LeftOut { told, how }
}

/// The name of a chart's file: small letters, digits and hyphens.
fn file(compiled: &Compiled, piece: usize, size: usize) -> String {
    let pattern = &compiled.pattern;
    let names = [pattern.pieces.get(piece).map(|piece| &piece.name), pattern.sizes.get(size)];
    let mut name = format!("{}", piece + 1);
    for part in names.into_iter().flatten() {
        let words = part.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
        for word in words {
            name.push('-');
            name.push_str(&word.to_ascii_lowercase());
        }
    }
    // Names in other letters leave nothing to tell sizes by.
    if pattern.sizes.len() > 1 {
        name.push_str(&format!("-{}", size + 1));
    }
    name + ".svg"
}
