//! How much yarn each stitch takes, in single crochets.

use std::sync::LazyLock;

use crate::stitch::{Made, Sort, Stitch, StitchId, Stitches};

/// A stitch's yarn in single crochets, and by how much that may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Takes {
    /// Single crochets' worth of yarn.
    pub worth: f64,
    /// The part of it, either way, by which it may be off: 0.2 for 20 percent.
    pub bar: f64,
}

/// What a stitch takes: by the table, else the sum of what it leaves on the edge, else by its height.
#[must_use]
pub fn takes(stitches: &Stitches, id: StitchId) -> Takes {
    let Some(stitch) = stitches.get(id) else { return by_height(stitches, 1) };
    if stitch.own {
        return own(stitch);
    }
    by_table(&stitch.us.short)
        .or_else(|| by_sum(stitches, stitch, id))
        .unwrap_or_else(|| by_height(stitches, stitch.height))
}

/// What a chain takes.
#[must_use]
pub fn chain() -> Takes {
    by_table("ch").unwrap_or(Takes { worth: 0.5, bar: UNKNOWN })
}

/// What a slip stitch takes.
#[must_use]
pub fn slip() -> Takes {
    by_table("sl st").unwrap_or(Takes { worth: 0.6, bar: UNKNOWN })
}

/// The bar of a stitch that nothing but its height is known of.
const UNKNOWN: f64 = 0.35;

/// A stitch of the designer's own that is one unit: nothing is known of it but what it covers.
fn own(stitch: &Stitch) -> Takes {
    // One that goes by the name of a stitch of the trade is made much like it.
    if let Some(known) = by_table(&stitch.us.short) {
        return Takes { bar: known.bar.max(0.4), ..known };
    }
    let tops = stitch.makes.len().max(usize::try_from(stitch.takes).unwrap_or(0)).max(1);
    Takes { worth: f64::from(u32::try_from(tops).unwrap_or(1)), bar: 0.5 }
}

fn by_sum(stitches: &Stitches, stitch: &Stitch, id: StitchId) -> Option<Takes> {
    if stitch.makes.is_empty() || stitch.makes.contains(&Made::Stitch(id)) {
        return None;
    }
    let parts = stitch.makes.iter().map(|made| match made {
        Made::Stitch(part) => takes(stitches, *part),
        Made::Chains(chains) => Takes { worth: chain().worth * f64::from(*chains), ..chain() },
    });
    let (mut worth, mut off) = (0.0, 0.0);
    for part in parts {
        worth += part.worth;
        off += part.worth * part.bar;
    }
    Some(Takes { worth, bar: off / worth })
}

/// By the height in turning chains, along the plain stitches.
fn by_height(stitches: &Stitches, height: u32) -> Takes {
    let plain = stitches.iter().filter(|(_, stitch)| matches!(stitch.sort, Sort::Plain | Sort::Slip));
    let nearest = plain.filter(|(_, stitch)| stitch.height <= height).max_by_key(|(_, stitch)| stitch.height);
    let worth = nearest.and_then(|(_, stitch)| by_table(&stitch.us.short)).map_or(1.0, |takes| takes.worth);
    Takes { worth, bar: UNKNOWN }
}

fn by_table(name: &str) -> Option<Takes> {
    let digits: String = name.chars().filter(char::is_ascii_digit).collect();
    let family = (!digits.is_empty()).then(|| name.replacen(&digits, "{n}", 1));
    let rows = &*TABLE;
    if let Some(row) = rows.iter().find(|row| row.stitch == name) {
        return Some(Takes { worth: row.first, bar: row.bar });
    }
    let row = family.and_then(|family| rows.iter().find(|row| row.stitch == family))?;
    let more = digits.parse::<u32>().ok()?.saturating_sub(1);
    Some(Takes { worth: row.first + row.each_more * f64::from(more), bar: row.bar })
}

/// A row of the table.
struct Row {
    stitch: &'static str,
    first: f64,
    each_more: f64,
    bar: f64,
}

static TABLE: LazyLock<Vec<Row>> = LazyLock::new(|| read().unwrap_or_default());

/// The table; the error is the row that could not be read.
fn read() -> Result<Vec<Row>, &'static str> {
    let lines = include_str!("takes.txt").lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.skip(1).map(|line| row(line).ok_or(line)).collect()
}

fn row(line: &'static str) -> Option<Row> {
    let cells: Vec<&str> = line.split('|').map(str::trim).collect();
    let [stitch, first, each_more, bar, source] = cells.as_slice() else { return None };
    let each_more = if *each_more == "-" { 0.0 } else { each_more.parse().ok()? };
    let bar: f64 = bar.parse().ok()?;
    (!source.is_empty()).then_some(Row { stitch, first: first.parse().ok()?, each_more, bar: bar / 100.0 })
}

#[cfg(test)]
mod tests {
    use super::{read, takes};
    use crate::stitch::{Stitches, Terms};

    fn worth(name: &str) -> f64 {
        let stitches = Stitches::standard();
        stitches.find(name, Terms::Us).map_or(f64::NAN, |id| takes(&stitches, id).worth)
    }

    #[test]
    fn every_row_is_read_and_names_a_stitch() {
        let rows = read();
        assert!(rows.is_ok(), "{:?}", rows.err());
        for row in rows.into_iter().flatten() {
            let name = row.stitch.replace("{n}", "3");
            assert!(Stitches::standard().find(&name, Terms::Us).is_some(), "{name}");
        }
    }

    #[test]
    fn what_is_made_of_several_takes_what_they_take() {
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
        near(worth("inc"), 2.0 * worth("sc"));
        near(worth("vst"), 2.0 * worth("dc") + worth("ch"));
        near(worth("shell"), 5.0 * worth("dc"));
        near(worth("sc2tog"), 1.6);
        near(worth("dc3tog"), worth("dc3cl"));
    }

    #[test]
    fn a_taller_stitch_takes_more_yarn_and_no_stitch_takes_none() {
        let plain: Vec<f64> = ["ch", "sc", "hdc", "dc", "tr", "dtr", "trtr"].into_iter().map(worth).collect();
        assert!(plain.is_sorted_by(|a, b| a < b), "{plain:?}");
        let stitches = Stitches::standard();
        for (id, stitch) in stitches.iter() {
            assert!(takes(&stitches, id).worth > 0.4, "{}", stitch.us.short);
        }
    }
}
