//! How tall stitches are beside each other: the table `heights.txt`.

use std::sync::LazyLock;

use crate::stitch::{StitchId, Stitches, Terms};

/// The height of a stitch in widths of a stitch made with the same hook and yarn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Height {
    /// The most likely one.
    pub widths: f64,
    /// How much more or less it may be, in the same measure.
    pub give: f64,
}

/// How tall a stitch is; nothing for a stitch of the designer's own, and for one taller than the table goes.
#[must_use]
pub fn of(stitches: &Stitches, stitch: StitchId) -> Option<Height> {
    let stitch = stitches.get(stitch).filter(|stitch| !stitch.own)?;
    rows().iter().find(|row| row.chains == Some(stitch.height)).map(|row| row.height)
}

/// How tall an arch of chains is, for each of its chains.
#[must_use]
pub fn arch() -> Height {
    let row = rows().iter().find(|row| row.chains.is_none());
    row.map_or(Height { widths: 0.0, give: 0.0 }, |row| row.height)
}

/// A row of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The stitch, by its US abbreviation.
    pub stitch: &'static str,
    /// Its height in turning chains, by which others find it; nothing for an arch.
    pub chains: Option<u32>,
    /// Its height.
    pub height: Height,
    /// Where the number comes from.
    pub source: &'static str,
}

/// The whole table, the lowest stitch first.
#[must_use]
pub fn rows() -> &'static [Row] {
    static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| lines().filter_map(row).collect());
    &ROWS
}

fn lines() -> impl Iterator<Item = &'static str> {
    let lines = include_str!("heights.txt").lines().map(str::trim);
    lines.filter(|line| !line.is_empty() && !line.starts_with('#')).skip(1)
}

fn row(line: &'static str) -> Option<Row> {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    let [stitch, widths, give, source] = cells.as_slice() else { return None };
    let stitches = Stitches::standard();
    let chains = match *stitch {
        "arch" => None,
        name => Some(stitches.get(stitches.find(name, Terms::Us)?)?.height),
    };
    let height = Height { widths: widths.parse().ok()?, give: give.parse().ok()? };
    Some(Row { stitch, chains, height, source })
}

#[cfg(test)]
mod tests {
    use super::{arch, lines, of, rows};
    use crate::stitch::{Stitches, Terms};

    #[test]
    fn every_row_is_read_and_every_stitch_of_the_trade_has_a_height() {
        assert_eq!(rows().len(), lines().count());
        let stitches: Vec<_> = rows().iter().filter(|row| row.chains.is_some()).collect();
        assert!(stitches.is_sorted_by(|a, b| a.chains < b.chains && a.height.widths < b.height.widths));
        assert_eq!(arch(), rows().last().unwrap().height);
        let stitches = Stitches::standard();
        let without = stitches.iter().filter(|(id, _)| of(&stitches, *id).is_none());
        assert_eq!(without.map(|(_, stitch)| stitch.us.short.as_str()).collect::<Vec<_>>(), [""; 0]);
    }

    #[test]
    fn a_stitch_worked_together_is_as_tall_as_the_plain_one() {
        let stitches = Stitches::standard();
        let height = |name| of(&stitches, stitches.find(name, Terms::Us).unwrap());
        assert_eq!(height("dc2tog"), height("dc"));
        assert!(height("hdc").unwrap().widths > height("sc").unwrap().widths);
    }
}
