//! What the rows of a piece are measured by, and how tall each is by what it is made of.

pub mod heights;

pub use crate::pattern::model::{Scale, Source, gauge_for};

use crate::pattern::model::{Kind, Pattern, Piece, StitchId, Terms};
use crate::standards::usual_gauge;
use crate::units::{Length, Reckoned};

impl Scale {
    /// By the piece's own gauge, or else by the weight of its yarn.
    #[must_use]
    pub fn of(pattern: &Pattern, piece: &Piece) -> Option<Self> {
        Self::at(pattern, piece, 0)
    }

    /// The same for a row that an item says: another hook may be in use from some row on.
    #[must_use]
    pub fn at(pattern: &Pattern, piece: &Piece, item: usize) -> Option<Self> {
        let using = piece.using_at(item);
        let swatch = Self::by_swatch(&pattern.head, &pattern.stitches, pattern.terms, using);
        swatch.or_else(|| Self::by_weight(pattern, piece))
    }

    fn by_weight(pattern: &Pattern, piece: &Piece) -> Option<Self> {
        let yarns = &pattern.head.yarns;
        let named = piece.yarn.as_deref().and_then(|name| yarns.get(yarns.place_of(name)?));
        let weight = named.or(yarns.first())?.weight_number?;
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

/// The gauges of a piece as they are written, in the order of its rows: `17 sts x 19 rows in sc = 10 cm, then …`. Empty where
/// it has none.
#[must_use]
pub fn said(pattern: &Pattern, piece: &Piece) -> String {
    let later = piece.hooks().skip(usize::from(piece.using.is_some())).map(Some);
    let names = std::iter::once(piece.using.as_deref()).chain(later);
    let said = names.filter_map(|name| gauge_for(&pattern.head, name)).map(|(_, gauge)| gauge.to_string());
    said.collect::<Vec<_>>().join(", then ")
}

/// How tall a row is: the height of the stitch that there is most of, the taller one of two; how far others differ from
/// it is doubt. A row of arches is as tall as they stand. The row has so many stitches, and was made of so many of each kind.
#[must_use]
pub fn row_height(
    pattern: &Pattern,
    scale: &Scale,
    stitches: u32,
    made: impl Iterator<Item = (Kind, u32)> + Clone,
) -> Reckoned {
    if let Some(arch) = arch(scale, stitches, made.clone()) {
        return arch;
    }
    let is_steps = |id| pattern.definitions.iter().any(|definition| definition.stitch == id);
    let made = made.filter_map(|(kind, count)| match kind {
        Kind::Stitch(id) if !is_steps(id) => Some((count, scale.row_of(pattern, id))),
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
fn arch(scale: &Scale, stitches: u32, made: impl Iterator<Item = (Kind, u32)> + Clone) -> Option<Reckoned> {
    let chains = in_spaces(made.clone(), 3);
    let arches = made.filter(|(kind, _)| matches!(kind, Kind::Space(3..)));
    let arches = f64::from(arches.map(|(_, count)| count).sum::<u32>());
    if scale.of.is_none() || chains <= stitches {
        return None;
    }
    let (each, height) = (f64::from(chains) / arches, heights::arch());
    let width = scale.stitch;
    let give = width.length * (height.give * each) + width.give * (height.widths * each);
    Some(Reckoned::new(width.length * (height.widths * each), give))
}

/// Chains of those spaces of a row that are at least so long, by what the row was made of.
pub(crate) fn in_spaces(made: impl Iterator<Item = (Kind, u32)>, least: u32) -> u32 {
    let spaces = made.filter_map(|(kind, count)| match kind {
        Kind::Space(chains) if chains >= least => Some(chains.saturating_mul(count)),
        _ => None,
    });
    spaces.fold(0, u32::saturating_add)
}
