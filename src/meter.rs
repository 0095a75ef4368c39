//! What an output may cost, so that none takes long or fills the memory however many rows there are.

use std::cell::Cell;

use crate::fabric::Fabric;
use crate::limits;
use crate::pattern::model::Pattern;
use crate::words;

/// What may still be written of one output.
#[derive(Debug)]
pub(crate) struct Meter {
    left: Cell<u64>,
    is_spent: Cell<bool>,
}

/// What a row costs, beside a stitch of a graph.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Cost {
    /// As a line of a table.
    Line,
    /// With the name of each number, for other programs.
    Named,
}

impl Meter {
    /// For one output.
    pub(crate) fn new() -> Self {
        Self { left: Cell::new(limits::MOST_SHOWN), is_spent: Cell::new(false) }
    }

    /// Whether something had to be left out.
    pub(crate) fn is_spent(&self) -> bool {
        self.is_spent.get()
    }

    /// What may still be written, in stitches of a graph.
    pub(crate) fn left(&self) -> u64 {
        self.left.get()
    }

    /// Charges so much; whether there was so much left. When there was not, nothing more is.
    pub(crate) fn charge(&self, cost: u64) -> bool {
        let left = self.left.get().checked_sub(cost).filter(|_| !self.is_spent.get());
        self.left.set(left.unwrap_or(0));
        self.is_spent.set(left.is_none());
        left.is_some()
    }

    /// Charges one row; whether there was so much left.
    pub(crate) fn charge_row(&self, cost: Cost) -> bool {
        self.charge(match cost {
            Cost::Line => 2,
            Cost::Named => 3,
        })
    }

    /// Rows, up to the first for which there is nothing left.
    pub(crate) fn rows<T>(&self, cost: Cost, rows: impl Iterator<Item = T>) -> impl Iterator<Item = T> {
        rows.take_while(move |_| self.charge_row(cost))
    }

    /// That something was left out, and which line is most of it; nothing where all is there.
    pub(crate) fn left_out(&self, pattern: &Pattern, fabric: &Fabric) -> Option<String> {
        self.is_spent.get().then(|| {
            let most = dearest(pattern, fabric).map(|most| format!("; most of it is {most}")).unwrap_or_default();
            format!("the rest is left out, since all of it is more than can be read{most}")
        })
    }
}

/// "row 2 of Mat and the 99,000 rows that are worked by it": the line that is worked most often, in all sizes.
fn dearest(pattern: &Pattern, fabric: &Fabric) -> Option<String> {
    let mut most: Option<(u64, String)> = None;
    for (piece, worked) in pattern.pieces.iter().zip(&fabric.pieces) {
        let mut times = vec![0_u64; piece.items.len()];
        for row in worked.sizes.iter().flat_map(|size| &size.rows) {
            times.get_mut(row.source).into_iter().for_each(|times| *times = times.saturating_add(1));
        }
        let all = times.into_iter().enumerate().filter(|(_, times)| *times > 0);
        let Some((source, times)) = all.max_by_key(|(at, times)| (*times, std::cmp::Reverse(*at))) else { continue };
        if most.as_ref().is_some_and(|(so_far, _)| *so_far >= times) {
            continue;
        }
        let first = worked.sizes.iter().find_map(|size| size.rows.worked_by(source).next());
        let label = first.map(|row| row.label(piece.items.get(row.item)).to_lowercase()).unwrap_or_default();
        let of = if piece.name.is_empty() { String::new() } else { format!(" of {}", piece.name) };
        let again = times.saturating_sub(1);
        let worked_by = if again == 0 {
            String::new()
        } else {
            format!(", which is worked {} times more", words::thousands(again))
        };
        most = Some((times, format!("{label}{of}{worked_by}")));
    }
    most.map(|(_, said)| said)
}

#[cfg(test)]
mod tests {
    use super::{Cost, Meter};

    #[test]
    fn what_is_left_out_is_said_with_the_line_that_is_most_of_it() {
        let text = "pattern Mat\nterms US\npiece Mat, in rows\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end\n\
                    row 2: sc to end\nagain row 2, 9 times\n";
        let compiled = crate::compile(text);
        let meter = Meter::new();
        assert_eq!(meter.left_out(&compiled.pattern, &compiled.fabric), None);
        let shown = meter.rows(Cost::Line, 0..1_000_000).count();
        assert!((100_000..1_000_000).contains(&shown), "{shown}");
        let said = meter.left_out(&compiled.pattern, &compiled.fabric).unwrap_or_default();
        assert!(said.ends_with("most of it is row 2 of Mat, which is worked 9 times more"), "{said}");
        assert!(!meter.charge(1), "what is spent stays spent");
    }
}
