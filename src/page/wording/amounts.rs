//! How much yarn there has to be, for the list of materials.

use crate::pattern::model::Yarn;
use crate::yarn::{Basis, Estimate, YarnNeed};

use super::names::Voice;
use super::phrase::Phrase;

/// A row for each yarn that is worked with: its name and, for each size shown, about how much of it.
#[must_use]
pub fn rows(voice: &Voice<'_>, estimate: &Estimate) -> Vec<Vec<Phrase>> {
    let used = estimate.yarns.iter().filter(|need| need.is_used());
    let row = |need: &YarnNeed| {
        let name = voice.pattern.head.yarns.get(need.yarn).map_or_else(|| Phrase::of("Yarn"), name);
        std::iter::once(name).chain(voice.sizes.iter().map(|&size| amount(need, size))).collect()
    };
    used.map(row).collect()
}

fn name(yarn: &Yarn) -> Phrase {
    Phrase::of("Yarn ").then(Phrase::quoted(&yarn.name))
}

/// `46–99 m, 21–45 g`.
fn amount(need: &YarnNeed, size: usize) -> Phrase {
    let whole = need.whole(size);
    if whole.high <= 0.0 {
        return Phrase::of("–");
    }
    // A number and its unit stay on one line.
    let dashed = |text: String| text.replace('-', "–").replace(' ', "\u{a0}");
    let metres = dashed(format!("{whole} m"));
    Phrase::of(match need.grams(size) {
        Some(grams) => format!("{metres}, {}", dashed(format!("{grams} g"))),
        None => metres,
    })
}

/// What the amounts rest on.
#[must_use]
pub fn basis(estimate: &Estimate) -> Option<Phrase> {
    let used = estimate.yarns.iter().filter(|need| need.is_used());
    let basis = used.filter_map(|need| need.basis).max()?;
    let from = match basis {
        Basis::Swatch => "a weighed swatch",
        Basis::OtherSwatch => "a weighed swatch of one yarn",
        Basis::Gauge => "the gauge",
        Basis::Weight => "the weight of the yarn",
        Basis::Hook => "the hook",
    };
    let percent = (basis.bar() * 100.0).round();
    Some(Phrase::of(format!(
        "The amounts of yarn are reckoned from {from}; one stitch may take {percent} percent more or less in your hands. \
         Go by the larger number."
    )))
}
