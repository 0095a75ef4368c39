//! How much yarn there has to be, for the list of materials.

use crate::check::stated_yarn::balls_in;
use crate::pattern::model::{Terms, Yarn};
use crate::units::{Length, Unit};
use crate::yarn::{Basis, Estimate, Range, YarnNeed};

use super::names::Voice;
use super::phrase::Phrase;

/// The yarns that are worked with, and those that the designer lists balls of beside them, for what is embroidered or tied.
#[must_use]
pub fn names(voice: &Voice<'_>, estimate: &Estimate) -> Vec<Phrase> {
    let name_of = |at: usize| voice.pattern.head.yarns.get(at).map_or_else(|| Phrase::of("Yarn"), name);
    listed(voice, estimate).map(|(at, _)| name_of(at)).collect()
}

/// A row for each size that is shown: its name, and about how much it takes of each yarn.
#[must_use]
pub fn rows(voice: &Voice<'_>, estimate: &Estimate) -> Vec<Vec<Phrase>> {
    let row = |&size: &usize| {
        let name = voice.pattern.sizes.get(size).filter(|name| !name.is_empty());
        let name = name.map_or_else(|| Phrase::of("To buy"), Phrase::quoted);
        let amounts = listed(voice, estimate).map(|(at, need)| match need {
            Some(need) => amount(voice, need, size),
            None => stated(voice, at, size).map_or_else(Phrase::default, balls),
        });
        std::iter::once(name).chain(amounts).collect()
    };
    voice.sizes.iter().map(row).collect()
}

/// Whether the table says how many balls there have to be of a yarn of the head.
#[must_use]
pub fn counts_balls(voice: &Voice<'_>, estimate: &Estimate, yarn: usize) -> bool {
    is_listed(voice, estimate, yarn) && reckoned(estimate, yarn).is_none_or(|need| need.ball.is_some())
}

/// The yarns of the table, by their places in the head: what is reckoned for each, where anything is.
fn listed<'e>(voice: &'e Voice<'_>, estimate: &'e Estimate) -> impl Iterator<Item = (usize, Option<&'e YarnNeed>)> {
    let used = estimate.yarns.iter().filter(|need| need.is_used());
    let all =
        used.map(|need| need.yarn.saturating_add(1)).max().map_or(0, |last| last.max(voice.pattern.head.yarns.len()));
    (0..all).filter(move |at| is_listed(voice, estimate, *at)).map(move |at| (at, reckoned(estimate, at)))
}

/// What is reckoned for a yarn.
fn reckoned(estimate: &Estimate, yarn: usize) -> Option<&YarnNeed> {
    estimate.yarns.iter().find(|need| need.yarn == yarn && need.is_used())
}

/// Whether a yarn stands in the table: something is reckoned for it, or the designer lists balls of it.
fn is_listed(voice: &Voice<'_>, estimate: &Estimate, yarn: usize) -> bool {
    let any = || estimate.yarns.iter().any(YarnNeed::is_used);
    reckoned(estimate, yarn).is_some() || stated(voice, yarn, 0).is_some() && any()
}

/// How many balls of a yarn the designer lists.
fn stated(voice: &Voice<'_>, yarn: usize, size: usize) -> Option<f64> {
    let yarn = voice.pattern.head.yarns.get(yarn)?;
    yarn.more.iter().find_map(|text| balls_in(text))?.get(size).map(f64::ceil)
}

/// `2 balls`.
fn balls(count: f64) -> Phrase {
    Phrase::of(format!("{count:.0} {}", if count <= 1.0 { "ball" } else { "balls" })).tied()
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
    // Nobody can use nothing at all.
    let little = whole.low < 1.0;
    let range = |range: Range, unit: &str| {
        let (low, high) = range.whole();
        let told = if little || low < 1.0 { format!("under {high} {unit}") } else { format!("{low}–{high} {unit}") };
        Phrase::of(told).tied()
    };
    let metres = range(whole, "m");
    let yards = range(whole.scaled(Length::millimetres(1000.0).to(Unit::Yard)), "yd");
    let (first, second) = match voice.terms {
        Terms::Us => (yards, metres),
        Terms::Uk => (metres, yards),
    };
    let length = first.say(" /").tied().say(" ").then(second);
    let told = match need.grams(size) {
        Some(grams) => length.say(", ").then(range(grams, "g")),
        None => length,
    };
    let listed = stated(voice, need.yarn, size);
    match need.balls(size) {
        Some(count) => {
            let count = listed.map_or(count, |listed| listed.max(count));
            let fewer = listed.filter(|listed| *listed > 0.0 && *listed < count);
            let listed = fewer.map(|listed| format!("; the designer lists {listed:.0}")).unwrap_or_default();
            balls(count).say(" (").then(told).say(&listed).say(")")
        }
        None => told,
    }
}

/// What the amounts rest on.
#[must_use]
pub fn basis(voice: &Voice<'_>, estimate: &Estimate) -> Option<Phrase> {
    let used = estimate.yarns.iter().filter(|need| need.is_used());
    let basis = used.filter_map(|need| need.basis).max()?;
    let from = match basis {
        Basis::Swatch => "a weighed swatch",
        Basis::OtherSwatch => "a weighed swatch of one yarn",
        Basis::Gauge => match voice.terms {
            Terms::Us => "the gauge",
            Terms::Uk => "the tension",
        },
        Basis::Weight => "the weight of the yarn",
        Basis::Hook => "the hook",
    };
    let percent = (basis.bar() * 100.0).round();
    let balls = if (0..estimate.yarns.len()).any(|at| counts_balls(voice, estimate, at)) {
        " Balls are enough for the larger amount."
    } else {
        ""
    };
    let hundredths = match voice.terms {
        Terms::Us => "percent",
        Terms::Uk => "per cent",
    };
    Some(Phrase::of(format!(
        "The amounts of yarn are reckoned from {from}; one stitch may take {percent} {hundredths} more or less in your hands.{balls}"
    )))
}
