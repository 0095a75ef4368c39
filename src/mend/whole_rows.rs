//! Repairs that make a whole row another one: no designer makes them where a small change closes as well.

use crate::diagnostic::{Edit, Fix};
use crate::stitch::{Stitches, Terms};

/// So many stitches side by side are no small change.
const SEVERAL: u64 = 4;

/// Whether a repair adds stitches to the end of a row where other steps end it, or makes all stitches of a run increases or
/// decreases.
pub(super) fn is_of_one(text: &str, fix: &Fix, (stitches, terms): (&Stitches, Terms)) -> bool {
    let [edit] = fix.edits.as_slice() else { return false };
    is_row_more(edit) || is_row_shaped(text, edit, stitches, terms)
}

/// `, sc to end` put in, or `, sc to last 2`.
fn is_row_more(edit: &Edit) -> bool {
    let words = edit.text.trim_start_matches([',', ' ']);
    let is_put_in = edit.span.start == edit.span.end && words.len() < edit.text.len();
    let goes_on = words.ends_with(" to end") || words.contains(" to last ");
    is_put_in && goes_on && !words.contains('[')
}

/// `inc` for the `sc` of `sc to end`, or of `sc 12`.
fn is_row_shaped(text: &str, edit: &Edit, stitches: &Stitches, terms: Terms) -> bool {
    let shapes = |name: &str| {
        let stitch = stitches.find(name, terms).and_then(|id| stitches.get(id));
        stitch.map(|stitch| usize::try_from(stitch.takes).unwrap_or(usize::MAX) != stitch.makes.len())
    };
    let old = text.get(edit.span.start..edit.span.end).unwrap_or_default();
    if shapes(old) != Some(false) || shapes(&edit.text) != Some(true) {
        return false;
    }
    let rest = text.get(edit.span.end..).unwrap_or_default();
    let digits: String = rest.trim_start().chars().take_while(char::is_ascii_digit).collect();
    rest.starts_with(" to end") || rest.starts_with(" to last") || digits.parse::<u64>().is_ok_and(|run| run >= SEVERAL)
}
