//! A step with two readings: which of them close the line.

use crate::diagnostic::{Code, Diagnostic};
use crate::fabric::{Fabric, Reading};
use crate::pattern::model::Pattern;

/// What is added to the edit that alone closes a line.
pub(crate) const ONLY_THIS_CLOSES: &str = ": only this closes the line";

/// Marks among the two edits of such a finding the one that closes its line in every size, if only one does. The first
/// edit is one in each place, the second all in one.
pub(super) fn mark(code: Code, pattern: &Pattern, fabric: &Fabric, findings: &mut [Diagnostic]) {
    for finding in findings.iter_mut().filter(|f| f.code == code && f.fixes.len() == 2) {
        let here = fabric.readings.iter().filter(|two| {
            let item = pattern.pieces.get(two.piece).and_then(|p| p.items.get(two.item));
            item.is_some_and(|i| (i.span.start..i.span.end).contains(&finding.primary.span.start))
        });
        let here: Vec<_> = here.collect();
        let closes = |reading: Reading| !here.is_empty() && here.iter().all(|two| two.closes.contains(&reading));
        let at = match (closes(Reading::OneInEach), closes(Reading::AllInOne)) {
            (true, false) => 0,
            (false, true) => 1,
            _ => continue,
        };
        if let Some(fix) = finding.fixes.get_mut(at) {
            fix.title.push_str(ONLY_THIS_CLOSES);
        }
        finding.fixes.rotate_left(at);
    }
}
