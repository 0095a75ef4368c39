//! What came of the reading, in words.

use super::back::{Difference, ReadBack};
use super::{Became, Reading};
use crate::words::{count, thousands};

/// So many lines that were not read are shown.
const MOST_SHOWN: usize = 10;

impl Reading {
    /// How many instructions were read, and which were not.
    #[must_use]
    pub fn told(&self, text: &str) -> String {
        let all = self.instructions.len();
        let left: Vec<_> = self.instructions.iter().filter(|one| one.became != Became::Work).collect();
        if all == 0 {
            return "no instruction was found; everything is kept as words\n".to_owned();
        }
        let mut told = self.told_in_short();
        let chosen: String = self.chosen.iter().map(|one| format!("{one}\n")).collect();
        if left.is_empty() {
            return told + "\n" + &chosen;
        }
        told.push_str(&format!("; {} kept as {}:\n", left.len(), if left.len() == 1 { "a remark" } else { "remarks" }));
        for one in left.iter().take(MOST_SHOWN) {
            let line = text.get(..one.span.start).unwrap_or_default().matches('\n').count() + 1;
            let what = match &one.became {
                Became::Remark(what) if !what.is_empty() => format!(", from “{what}” on"),
                Became::Remark(_) | Became::Work => String::new(),
            };
            told.push_str(&format!("  line {line}{what}: {}\n", shortened(&one.words)));
        }
        told.push_str(&chosen);
        if let Some(more) = left.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
            told.push_str(&format!("  and {more} more\n"));
        }
        told
    }
}

impl Reading {
    /// How many instructions were read, without those that were not.
    #[must_use]
    pub fn told_in_short(&self) -> String {
        format!("read {} of {}", self.read(), count(self.instructions.len(), "instruction"))
    }
}

impl ReadBack {
    /// What came of reading the page again, in a sentence.
    #[must_use]
    pub fn told(&self) -> String {
        let sizes = if self.sizes > 1 { format!(" in {} sizes", self.sizes) } else { String::new() };
        if self.is_same() {
            let stitches = if self.stitches == 1 { "stitch" } else { "stitches" };
            return format!("read back: the same {} {stitches}{sizes}", thousands(self.stitches));
        }
        if self.too_large {
            return "the page is not proved: it is too large to be read back".to_owned();
        }
        let rows = format!("{} of {}", thousands(self.same), count(thousands(self.rows), "row"));
        match (&self.unread, self.differences.first()) {
            (Some(words), _) => format!(
                "the page is not proved: read back, {rows} are the same{sizes}; the reader does not understand “{}” yet",
                shortened(words)
            ),
            (None, Some(difference)) => format!(
                "the page is not proved: read back, {rows} are the same{sizes}, and {} is other work. This is a fault of \
                 ringtrue’s and not of the pattern",
                place(difference)
            ),
            (None, None) => format!("the page is not proved: read back, {rows} are the same{sizes}"),
        }
    }
}

fn place(difference: &Difference) -> String {
    let word = if difference.round { "round" } else { "row" };
    let row = difference.row.map_or_else(|| "what it begins with".to_owned(), |row| format!("{word} {row}"));
    let of = if difference.piece.is_empty() { String::new() } else { format!(" of {}", difference.piece) };
    let size = if difference.size.is_empty() { String::new() } else { format!(" (size {})", difference.size) };
    format!("{row}{of}{size}")
}

/// The beginning of a long line.
fn shortened(words: &str) -> String {
    let most = 90;
    if words.chars().count() <= most {
        return words.to_owned();
    }
    words.chars().take(most).collect::<String>() + "…"
}
