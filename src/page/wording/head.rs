//! What stands before the first piece: materials, gauge, measurements.

use crate::measure::units::{Fractions, Length, Unit};
use crate::pattern::model::{Audience, Finished, Fits, Gauge, Hook, Terms, Yarn};

use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase, capital};

/// `A “oat”: weight 3 (light), 50 g = 110 m a ball`.
#[must_use]
pub fn yarn(yarn: &Yarn) -> Phrase {
    let mut facts: Vec<Phrase> = Vec::new();
    facts.extend(yarn.weight.as_deref().map(weight));
    facts.extend(yarn.ball.as_deref().map(ball));
    facts.extend(yarn.more.iter().map(Phrase::quoted));
    let name = Phrase::of("Yarn ").then(Phrase::quoted(&yarn.name));
    let name = match &yarn.colour {
        Some(colour) => name.say(" (“").then(Phrase::quoted(colour)).say("”)"),
        None => name,
    };
    if facts.is_empty() { name } else { name.say(": ").then(Phrase::list(facts, ", ")) }
}

/// `50 g = 110 m a ball`.
fn ball(text: &str) -> Phrase {
    let (mass, length) = text.split_once(" = ").unwrap_or((text, ""));
    Phrase::quoted(mass).say(" = ").then(Phrase::quoted(length)).say(" a ball")
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
    let stitches = Phrase::default().with(voice.terms_of(Term::Stitch, Amount::Many));
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
        Some(id) => Phrase::default().with(voice.stitch(id)),
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

/// A measurement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measure {
    /// What is measured, as `Around (Body)`.
    pub what: Phrase,
    /// `cm` or `in`; empty when the numbers say it themselves.
    pub unit: String,
    /// What it is in each size that is shown.
    pub numbers: Vec<String>,
}

/// A finished measurement.
#[must_use]
pub fn finished(voice: &Voice<'_>, finished: &Finished) -> Measure {
    let what = Phrase::quoted(capital(&finished.what));
    let at: Vec<Phrase> =
        finished.at.iter().map(Phrase::quoted).chain(finished.at_row.map(|row| line(voice, finished, row))).collect();
    let what = if at.is_empty() { what } else { what.say(" (").then(Phrase::list(at, ", ")).say(")") };
    let number = |size: &usize| finished.numbers.get(*size).map_or_else(|| "–".to_owned(), Clone::clone);
    Measure { what, unit: finished.unit.clone(), numbers: voice.sizes.iter().map(number).collect() }
}

/// `row 24`: the line that a measurement is taken at.
fn line(voice: &Voice<'_>, finished: &Finished, row: u32) -> Phrase {
    let pieces = &voice.pattern.pieces;
    let named = finished.at.as_ref().and_then(|at| pieces.iter().find(|piece| piece.name.eq_ignore_ascii_case(at)));
    let rounds = named.or(pieces.first()).is_some_and(|piece| piece.way.rounds());
    Phrase::of(if rounds { "round " } else { "row " }).then(Phrase::quoted(row.to_string()))
}

/// Whom it fits, in each size; as it is written where no numbers can be read out of it.
#[must_use]
pub fn fits(voice: &Voice<'_>, fits: &Fits) -> Measure {
    if fits.ranges.is_empty() {
        let whole = voice.sizes.iter().map(|_| fits.text.clone()).collect();
        return Measure { what: Phrase::of("To fit"), unit: String::new(), numbers: whole };
    }
    let range = |size: &usize| fits.ranges.get(*size).map_or("–", String::as_str).to_owned();
    let numbers = voice.sizes.iter().map(range).collect();
    let what = Phrase::of("To fit ").then(Phrase::quoted(&fits.what));
    Measure { what, unit: fits.unit.clone(), numbers }
}

impl Measure {
    /// What is measured and in which unit.
    #[must_use]
    pub fn label(&self) -> Phrase {
        let what = self.what.clone();
        if self.unit.is_empty() { what } else { what.say(", ").then(Phrase::quoted(&self.unit)) }
    }

    /// The whole of it, where there is one size: `Around (Body): 46 cm`.
    #[must_use]
    pub fn sentence(&self) -> Phrase {
        let number = self.numbers.first().map_or("–", String::as_str);
        self.what.clone().say(": ").then(Phrase::quoted(format!("{number} {}", self.unit).trim()))
    }
}

/// `18 (20, 22) cm / 7 (8, 8¾) in`: in both systems, the one that is written first and as it is written.
#[must_use]
pub fn lengths(voice: &Voice<'_>, lengths: &[Length], unit: Unit, concerned: &[bool]) -> Phrase {
    let in_size = |size: usize| concerned.get(size).copied().unwrap_or(true);
    let told = |number: fn(&Length) -> String, unit: &'static str| {
        let length = |size: usize| lengths.get(size).filter(|_| in_size(size)).map(number);
        Phrase::from(Numbers::new(voice.sizes.iter().map(|&size| (size, length(size))))).say(unit)
    };
    let inches = || told(|length| length.inch_number(Fractions::Typeset), " in");
    match unit {
        Unit::Inch => inches().say(" / ").then(told(|length| length.cm_number(), " cm")),
        _ => told(|length| centimetres(length.mm()), " cm").say(" / ").then(inches()),
    }
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

#[cfg(test)]
mod tests {
    use super::{Voice, fits};
    use crate::page::Edition;

    #[test]
    fn what_it_fits_is_taken_apart() {
        let told = |text: &str| {
            let head = format!("pattern Tern Mitten\nsizes small / large\nterms US\nfits {text}\n");
            let pattern = crate::compile(&head).pattern;
            let voice = Voice::new(&pattern, &Edition::default());
            let measure = fits(&voice, &pattern.head.fits[0]);
            format!("{}: {}", measure.label().plain(), measure.numbers.join(" | "))
        };
        assert_eq!(told("head 46-49 / 53-56 cm"), "To fit head, cm: 46-49 | 53-56");
        assert_eq!(told("head 52-56 cm"), "To fit head, cm: 52-56 | 52-56");
        assert_eq!(told("hand 18 / 20 cm around the palm"), "To fit hand around the palm, cm: 18 | 20");
        assert_eq!(told("foot 1 / 2 / 3 cm"), "To fit: foot 1 / 2 / 3 cm | foot 1 / 2 / 3 cm");
        assert_eq!(told("anybody"), "To fit: anybody | anybody");
        assert_eq!(told("head 20\""), "To fit head, in: 20 | 20");
        assert_eq!(told("head 48-52cm"), "To fit head, cm: 48-52 | 48-52");
    }
}
