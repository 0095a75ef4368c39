//! A row in a few words, to stand behind its line.

use super::lines::{Counts, Seen};
use crate::fabric::FaultKind;
use crate::words;

/// Repeats that are named at most.
const MOST_REPEATS: usize = 10;

/// `24 · all used`, `18 · 3 left`, `asks 2 more than there are`.
pub(super) fn told(seen: &Seen<'_>) -> String {
    let (made, ledger) = (seen.made(), &seen.row.ledger);
    match seen.fault.map(|fault| &fault.kind) {
        None if seen.is_in_ring() => format!("{made} in the ring"),
        None => format!("{made} · {}", left(ledger.left)),
        Some(FaultKind::RanOut { wanted, had, .. }) if wanted > had => {
            format!("asks {} more than there are", wanted - had)
        }
        Some(FaultKind::LeftOver { left: over }) => format!("{made} · {}", left(*over)),
        // It is worked as if the last repeat fitted, so what it made is no number to go by.
        Some(FaultKind::Unfit { over, .. }) => left(*over),
        Some(FaultKind::Count { kind, made, stated }) => {
            let kind = kind.map_or_else(String::new, |kind| format!(" {}", seen.kind_name(kind)));
            format!("{made}{kind}, not {stated} · {}", left(ledger.left))
        }
        Some(_) => format!("{} of {} used", ledger.worked.saturating_add(ledger.skipped), ledger.offered),
    }
}

/// Whether a fault is one of counts, of which the row itself tells.
pub(super) fn tells(fault: &FaultKind) -> bool {
    matches!(
        fault,
        FaultKind::RanOut { .. } | FaultKind::LeftOver { .. } | FaultKind::Unfit { .. } | FaultKind::Count { .. }
    )
}

/// The account of a row in a sentence: `24 places, 30 made, all used, 30 stated`.
pub(super) fn account(counts: &Counts) -> String {
    let stated = counts.stated.map(|stated| format!(", {stated} stated")).unwrap_or_default();
    let had = words::count(counts.had, "place");
    let verdict = if counts.closes { "" } else { ", does not ring true" };
    format!("{had}, {}, {} made{stated}{verdict}", left(counts.left), counts.made)
}

/// What is left of a row.
fn left(places: u32) -> String {
    if places == 0 { "all used".to_owned() } else { format!("{places} left") }
}

/// Which repeats a number of places holds whole: `24: repeats of 2, 3, 4, 6, 8, 12`.
pub(super) fn divides(places: u32) -> String {
    let divisors: Vec<String> =
        (2..=places / 2).filter(|by| places.is_multiple_of(*by)).take(MOST_REPEATS).map(|by| by.to_string()).collect();
    let odd = "odd number: a repeat of 2 leaves one over";
    match (divisors.is_empty(), places % 2) {
        (true, 1) if places > 2 => odd.to_owned(),
        (true, _) => String::new(),
        (false, 0) => format!("{places}: repeats of {}", divisors.join(", ")),
        (false, _) => format!("{places}: repeats of {} · {odd}", divisors.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::divides;

    #[test]
    fn repeats_that_fit_are_named() {
        assert_eq!(divides(24), "24: repeats of 2, 3, 4, 6, 8, 12");
        assert_eq!(divides(15), "15: repeats of 3, 5 · odd number: a repeat of 2 leaves one over");
        assert_eq!(divides(17), "odd number: a repeat of 2 leaves one over");
        assert_eq!([0, 1, 2].map(divides), ["", "", ""].map(str::to_owned));
    }
}
