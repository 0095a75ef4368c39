//! What stands before the first piece: materials, gauge, measurements.

use crate::pattern::model::{Audience, Finished, Gauge, Hook, Terms, Yarn};

use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase, capital};

/// `A “oat”: weight 3 (light), 50 g = 110 m a ball`.
#[must_use]
pub fn yarn(yarn: &Yarn) -> Phrase {
    let mut facts: Vec<Phrase> = Vec::new();
    facts.extend(yarn.weight.as_deref().map(weight));
    facts.extend(yarn.ball.as_deref().map(|ball| Phrase::quoted(ball).say(" a ball")));
    facts.extend(yarn.more.iter().map(Phrase::quoted));
    let name = Phrase::of("Yarn ").then(Phrase::quoted(&yarn.name));
    let name = match &yarn.colour {
        Some(colour) => name.say(" (“").then(Phrase::quoted(colour)).say("”)"),
        None => name,
    };
    if facts.is_empty() { name } else { name.say(": ").then(Phrase::list(facts, ", ")) }
}

/// The name of a weight number. Source: Craft Yarn Council, Standard Yarn Weight System.
fn weight(number: &str) -> Phrase {
    let name = match number {
        "0" => " (lace)",
        "1" => " (super fine)",
        "2" => " (fine)",
        "3" => " (light)",
        "4" => " (medium)",
        "5" => " (bulky)",
        "6" => " (super bulky)",
        "7" => " (jumbo)",
        _ => "",
    };
    Phrase::of("weight ").then(Phrase::quoted(number)).say(name)
}

/// `4.5 mm hook (7)`, with the pieces that a named one is for.
#[must_use]
pub fn hook(voice: &Voice<'_>, hook: &Hook) -> Phrase {
    let told = Phrase::quoted(&hook.millimetres).say(" mm hook");
    let told = match &hook.letter {
        Some(letter) => told.say(" (").then(Phrase::quoted(letter)).say(")"),
        None => told,
    };
    told.then(purpose(voice, hook.name.as_deref()))
}

/// `, for Band`: the pieces that use a named hook or gauge, or its name when none does.
fn purpose(voice: &Voice<'_>, name: Option<&str>) -> Phrase {
    let Some(name) = name else { return Phrase::default() };
    let pieces = voice.pattern.pieces.iter();
    let users = pieces.filter(|p| p.using.as_deref().is_some_and(|u| u.eq_ignore_ascii_case(name)));
    let users: Vec<Phrase> = users.map(|p| Phrase::quoted(&p.name)).collect();
    let users = if users.is_empty() { Phrase::quoted(name) } else { Phrase::and(users) };
    Phrase::of(", for ").then(users)
}

/// `17 sts and 19 rows in sc = 10 cm`.
#[must_use]
pub fn gauge(voice: &Voice<'_>, gauge: &Gauge) -> Phrase {
    let stitches = Phrase::default().add(voice.terms_of(Term::Stitch, Amount::Many));
    let told = Phrase::quoted(&gauge.stitches).say(" ").then(stitches);
    let told = told.say(" and ").then(Phrase::quoted(&gauge.rows)).say(" rows");
    let told = match &gauge.stitch {
        Some(stitch) => told.say(" in ").then(named(voice, stitch)),
        None => told,
    };
    told.say(" = ").then(Phrase::quoted(&gauge.over)).then(purpose(voice, gauge.name.as_deref()))
}

/// A stitch pattern as the text has it; a stitch by its name in the terms of the page.
fn named(voice: &Voice<'_>, text: &str) -> Phrase {
    match voice.pattern.stitches.find(text, voice.pattern.terms) {
        Some(id) => Phrase::default().add(voice.stitch(id)),
        None => Phrase::quoted(text),
    }
}

/// The heading for it: UK patterns say tension.
/// Source: Craft Yarn Council, US and UK terms.
#[must_use]
pub fn gauge_heading(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "Gauge",
        Terms::Uk => "Tension",
    }
}

/// What is measured, as `Around (Body)`.
#[must_use]
pub fn measured(finished: &Finished) -> Phrase {
    let what = Phrase::quoted(capital(&finished.what));
    match &finished.at {
        Some(at) => what.say(" (").then(Phrase::quoted(at)).say(")"),
        None => what,
    }
}

/// The measurement in one size, as `46 cm`.
#[must_use]
pub fn measurement(finished: &Finished, size: usize) -> Phrase {
    let number = finished.numbers.get(size).map_or("–", String::as_str);
    Phrase::quoted(number).say(" ").then(Phrase::quoted(&finished.unit))
}

/// `18 (20, 22) cm`, from millimetres.
#[must_use]
pub fn lengths(voice: &Voice<'_>, millimetres: &[f64], concerned: &[bool]) -> Phrase {
    let in_size = |size: usize| concerned.get(size).copied().unwrap_or(true);
    let length = |size: usize| millimetres.get(size).filter(|_| in_size(size)).map(|mm| centimetres(*mm));
    Phrase::from(Numbers::new(voice.sizes.iter().map(|&size| (size, length(size))))).say(" cm")
}

/// With one decimal at most.
fn centimetres(millimetres: f64) -> String {
    let text = format!("{:.1}", millimetres / 10.0);
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// Whom or what it is for, in a word.
#[must_use]
pub fn audience(audience: Audience) -> &'static str {
    match audience {
        Audience::Baby => "a baby",
        Audience::Child => "a child",
        Audience::Adult => "an adult",
        Audience::Toy => "a toy",
        Audience::Home => "the home",
        Audience::Pet => "a pet",
    }
}

/// Whom it fits: what is measured, then a range for each size that is shown. A list of another length is given whole.
#[must_use]
pub fn fits(voice: &Voice<'_>, fits: &str) -> (Phrase, Vec<Phrase>) {
    let (what, rest) = fits.split_once(' ').unwrap_or((fits, ""));
    let (ranges, unit) = rest.rsplit_once(' ').unwrap_or((rest, ""));
    let ranges: Vec<&str> = ranges.split('/').map(str::trim).collect();
    let all = voice.pattern.sizes.len();
    if ranges.len() != all && ranges.len() != 1 {
        return (Phrase::of("To fit"), voice.sizes.iter().map(|_| Phrase::quoted(fits)).collect());
    }
    let range = |size: &usize| {
        let range = if ranges.len() == 1 { ranges.first() } else { ranges.get(*size) };
        Phrase::quoted(format!("{} {unit}", range.copied().unwrap_or("–")).trim())
    };
    (Phrase::of("To fit ").then(Phrase::quoted(what)), voice.sizes.iter().map(range).collect())
}
