//! How much yarn there has to be, for the list of materials.

use crate::check::stated_yarn::balls_in;
use crate::pattern::model::{Terms, Yarn};
use crate::units::{Length, Unit};
use crate::yarn::{Basis, Estimate, Range, YarnNeed};

use super::names::Voice;
use super::phrase::Phrase;

/// The yarns that are worked with.
#[must_use]
pub fn names(voice: &Voice<'_>, estimate: &Estimate) -> Vec<Phrase> {
    used(estimate)
        .map(|need| voice.pattern.head.yarns.get(need.yarn).map_or_else(|| Phrase::of("Yarn"), name))
        .collect()
}

/// A row for each size that is shown: its name, and about how much it takes of each yarn.
#[must_use]
pub fn rows(voice: &Voice<'_>, estimate: &Estimate) -> Vec<Vec<Phrase>> {
    let row = |&size: &usize| {
        let name = voice.pattern.sizes.get(size).filter(|name| !name.is_empty());
        let name = name.map_or_else(|| Phrase::of("To buy"), Phrase::quoted);
        std::iter::once(name).chain(used(estimate).map(|need| amount(voice, need, size))).collect()
    };
    voice.sizes.iter().map(row).collect()
}

/// Whether the table says how many balls there have to be of a yarn of the head.
#[must_use]
pub fn counts_balls(estimate: &Estimate, yarn: usize) -> bool {
    used(estimate).any(|need| need.yarn == yarn && need.ball.is_some())
}

fn used(estimate: &Estimate) -> impl Iterator<Item = &YarnNeed> {
    estimate.yarns.iter().filter(|need| need.is_used())
}

fn name(yarn: &Yarn) -> Phrase {
    Phrase::of("Yarn ").then(Phrase::quoted(&yarn.name))
}

/// `2 balls (51–109 yd / 46–99 m, 21–45 g)`: as many as are enough even at the upper end, and no fewer than the designer lists;
/// where she lists fewer, that is said.
fn amount(voice: &Voice<'_>, need: &YarnNeed, size: usize) -> Phrase {
    let whole = need.whole(size);
    if whole.high <= 0.0 {
        return Phrase::of("none");
    }
    let range = |range: Range, unit: &str| Phrase::of(format!("{range} {unit}").replace('-', "–")).tied();
    let metres = range(whole, "m");
    let yards = range(whole.scaled(Length::millimetres(1000.0).to(Unit::Yard)), "yd");
    let (first, second) = match voice.terms {
        Terms::Us => (yards, metres),
        Terms::Uk => (metres, yards),
    };
    let length = first.say(" / ").then(second);
    let told = match need.grams(size) {
        Some(grams) => length.say(", ").then(range(grams, "g")),
        None => length,
    };
    let yarn = voice.pattern.head.yarns.get(need.yarn);
    let listed = yarn.and_then(|yarn| yarn.more.iter().find_map(|text| balls_in(text))).and_then(|all| all.get(size));
    match need.balls(size) {
        Some(balls) => {
            let listed = listed.map(f64::ceil);
            let balls = listed.map_or(balls, |listed| listed.max(balls));
            let word = if balls <= 1.0 { "ball" } else { "balls" };
            let fewer = listed.filter(|listed| *listed > 0.0 && *listed < balls);
            let listed = fewer.map(|listed| format!("; the designer lists {listed:.0}")).unwrap_or_default();
            Phrase::of(format!("{balls:.0} {word}")).tied().say(" (").then(told).say(&listed).say(")")
        }
        None => told,
    }
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
    let balls = if (0..estimate.yarns.len()).any(|at| counts_balls(estimate, at)) {
        " Balls are enough for the larger amount."
    } else {
        ""
    };
    Some(Phrase::of(format!(
        "The amounts of yarn are reckoned from {from}; one stitch may take {percent} percent more or less in your hands.{balls}"
    )))
}
