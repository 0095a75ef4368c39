//! What stands before the first piece: materials, gauge, measurements.

use crate::check::stated_yarn::balls_in;
use crate::measure::fit::{self, Wearer};
use crate::pattern::model::{Audience, Finished, FitRange, Fits, Gauge, Hook, Piece, Terms, Yarn};
use crate::pattern::plan::Plan;
use crate::units::{Fractions, Length, Unit};

use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase, capital};

/// `A “oat”: weight 3 (light), 50 g = 110 m (120 yd) a ball`. How many balls stands in the table of amounts, where there is one.
#[must_use]
pub fn yarn(voice: &Voice<'_>, yarn: &Yarn, counted_below: bool) -> Phrase {
    let mut facts: Vec<Phrase> = Vec::new();
    facts.extend(yarn.weight.as_deref().map(|number| weight(voice.terms, number)));
    facts.extend(yarn.ball.as_deref().map(|text| ball(voice.terms, text)));
    facts.extend(yarn.more.iter().filter_map(|text| match balls_in(text) {
        Some(_) if counted_below => None,
        Some(stated) if stated.numbers.len() > 1 => {
            let number = |size: usize| stated.get(size).map(|number| number.to_string());
            let numbers = Numbers::new(voice.sizes.iter().map(|&size| (size, number(size))));
            Some(Phrase::from(numbers).say(" balls"))
        }
        _ => Some(Phrase::quoted(text)),
    }));
    let name = Phrase::of("Yarn ").then(Phrase::quoted(&yarn.name));
    let name = match &yarn.colour {
        Some(colour) => name.say(" (“").then(Phrase::quoted(colour)).say("”)"),
        None => name,
    };
    if facts.is_empty() { name } else { name.say(": ").then(Phrase::list(facts, ", ")) }
}

/// `50 g = 110 m (120 yd) a ball`: the length in the reader's own unit as well.
fn ball(terms: Terms, text: &str) -> Phrase {
    const METRES_IN_A_YARD: f64 = 0.9144;
    let (mass, length) = text.split_once(" = ").unwrap_or((text, ""));
    let number = |unit: &str| length.strip_suffix(unit).and_then(|number| number.trim().parse::<f64>().ok());
    let other = match terms {
        Terms::Us => number(" m").map(|metres| format!("{:.0} yd", metres / METRES_IN_A_YARD)),
        Terms::Uk => number(" yd").map(|yards| format!("{:.0} m", yards * METRES_IN_A_YARD)),
    };
    let other = other.map(|other| Phrase::of(" (").then(Phrase::of(other).tied()).say(")")).unwrap_or_default();
    Phrase::quoted(mass).tied().say(" = ").then(Phrase::quoted(length).tied()).then(other).say(" a ball")
}

/// The name of a weight number, and of the sort of yarn that makers of UK patterns go by. Source: Craft Yarn Council, Standard Yarn
/// Weight System, names and types of yarn in each.
fn weight(terms: Terms, number: &str) -> Phrase {
    let name = match (number, terms) {
        ("3", Terms::Uk) => return Phrase::of("weight 3 (light, DK)"),
        ("4", Terms::Uk) => return Phrase::of("weight 4 (medium, aran)"),
        ("5", Terms::Uk) => return Phrase::of("weight 5 (bulky, chunky)"),
        _ => number,
    };
    let name = match name {
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
    let told = match (&hook.millimetres, &hook.letter) {
        (Some(_), Some(letter)) => hook_size(hook).say(" (").then(Phrase::quoted(letter)).say(")"),
        (Some(_), None) => hook_size(hook),
        (None, _) => hook_size(hook).say(" (makers of steel hooks differ on its width; go by the gauge)"),
    };
    told.then(purpose(voice, hook.name.as_deref()))
}

/// `4.5 mm hook`, or `hook steel 7` where only the number of a steel hook is known.
#[must_use]
pub fn hook_size(hook: &Hook) -> Phrase {
    match &hook.millimetres {
        Some(millimetres) => Phrase::quoted(millimetres).say(" mm hook"),
        None => Phrase::of("Hook ").then(Phrase::quoted(hook.letter.clone().unwrap_or_default())),
    }
}

/// `, for Band`: the pieces that use a named hook or gauge, or its name when none does.
fn purpose(voice: &Voice<'_>, name: Option<&str>) -> Phrase {
    let Some(name) = name else { return Phrase::default() };
    let pieces = voice.pattern.pieces.iter();
    let users = pieces.filter(|p| p.hooks().any(|used| used.eq_ignore_ascii_case(name)));
    // A piece that uses several is told which of them this is.
    let user = |piece: &Piece| {
        let several = piece.hooks().any(|other| !other.eq_ignore_ascii_case(name)) || piece.using.is_none();
        let told = Phrase::quoted(&piece.name);
        if several && voice.pattern.pieces.len() == 1 {
            Phrase::of("the ").then(Phrase::quoted(name))
        } else if several {
            told.say(" (").then(Phrase::quoted(name)).say(")")
        } else {
            told
        }
    };
    let users: Vec<Phrase> = users.map(user).collect();
    let users = if users.is_empty() { Phrase::quoted(name) } else { Phrase::and(users) };
    Phrase::of(", for ").then(users)
}

/// `17 sts and 19 rows in sc = 4 in / 10 cm, for Band`.
#[must_use]
pub fn gauge(voice: &Voice<'_>, gauge: &Gauge) -> Phrase {
    gauge_alone(voice, gauge).then(purpose(voice, gauge.name.as_deref()))
}

/// `17 sts and 19 rows in sc = 4 in / 10 cm`.
#[must_use]
pub fn gauge_alone(voice: &Voice<'_>, gauge: &Gauge) -> Phrase {
    let stitches = Phrase::default().with(voice.terms_of(Term::Stitch, Amount::Many));
    let told = Phrase::quoted(&gauge.stitches).say(" ").then(stitches);
    let told = told.say(" and ").then(Phrase::quoted(&gauge.rows)).say(" rows");
    let told = match &gauge.stitch {
        Some(stitch) => told.say(" in ").then(named(voice, stitch)),
        None => told,
    };
    let (_, unit) = gauge.over.split_once(' ').unwrap_or_default();
    let over = gauge.swatch.map(|swatch| swatch.over);
    let own = Phrase::quoted(&gauge.over);
    let over = match other(unit, &[over], |length, number| number(*length)) {
        Some((unit, numbers)) => in_order(voice.terms, own, unit, Phrase::of(format!("{} {unit}", numbers.concat()))),
        None => own,
    };
    told.say(" = ").then(over)
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
    /// The same in the other system of units, where it is known.
    pub other: Option<(&'static str, Vec<String>)>,
}

/// A finished measurement.
#[must_use]
pub fn finished(voice: &Voice<'_>, finished: &Finished) -> Measure {
    let what = Phrase::quoted(capital(&finished.what));
    let at: Vec<Phrase> =
        finished.at.iter().map(Phrase::quoted).chain(finished.at_row.map(|row| line(voice, finished, row))).collect();
    let what = if at.is_empty() { what } else { what.say(" (").then(Phrase::list(at, ", ")).say(")") };
    let there = |size: &usize| finished.lengths.get(*size).copied().flatten();
    let number = |size: &usize| there(size).and(finished.numbers.get(*size)).map_or("–", String::as_str).to_owned();
    let numbers = voice.sizes.iter().map(number).collect();
    let lengths: Vec<Option<Length>> = voice.sizes.iter().map(there).collect();
    let other = other(&finished.unit, &lengths, |length, number| number(*length));
    Measure { what, unit: finished.unit.clone(), numbers, other }
}

/// Lengths or ranges in the other system: inches for centimetres, centimetres for inches.
fn other<T>(
    unit: &str,
    all: &[Option<T>],
    told: impl Fn(&T, fn(Length) -> String) -> String,
) -> Option<(&'static str, Vec<String>)> {
    let (name, number): (_, fn(Length) -> String) = match Unit::named(unit)? {
        Unit::Inch => ("cm", Length::cm_number),
        Unit::Centimetre | Unit::Millimetre => ("in", |length| length.inch_number(Fractions::Typeset)),
        Unit::Metre | Unit::Yard | Unit::Gram | Unit::Ounce => return None,
    };
    let one = |one: &Option<T>| one.as_ref().map_or_else(|| "–".to_owned(), |one| told(one, number));
    Some((name, all.iter().map(one).collect()))
}

/// `46–49`, or one number.
fn range(range: FitRange, number: fn(Length) -> String) -> String {
    let (low, high) = (number(range.low), number(range.high));
    if low == high { low } else { format!("{low}–{high}") }
}

/// Whom the sizes are for by the published table that is chosen, unless the pattern says it itself.
#[must_use]
pub fn by_table(voice: &Voice<'_>) -> Option<Measure> {
    let wearers: Vec<Option<Wearer>> = voice.sizes.iter().map(|size| fit::by_table(voice.pattern, *size)).collect();
    let part = wearers.iter().flatten().next()?.measure.clone();
    // A bootie is measured itself, which its finished length says already.
    if part == "bootie" {
        return None;
    }
    if voice.pattern.head.fits.iter().any(|fits| fits.what.eq_ignore_ascii_case(&part)) {
        return None;
    }
    let ranges: Vec<Option<FitRange>> = wearers.iter().map(|wearer| wearer.as_ref().map(|w| w.range)).collect();
    let told = |one: &Option<FitRange>| one.map_or_else(|| "–".to_owned(), |one| range(one, Length::cm_number));
    let numbers = ranges.iter().map(told).collect();
    let what = Phrase::of("To fit ").then(Phrase::quoted(part));
    let other = other("cm", &ranges, |one, number| range(*one, number));
    Some(Measure { what, unit: "cm".to_owned(), numbers, other })
}

/// The table that the sizes follow, and the ease that is meant.
#[must_use]
pub fn fitting(voice: &Voice<'_>) -> Vec<Phrase> {
    let mut told = Vec::new();
    if let Some(table) = &voice.pattern.head.fit_table {
        let name = Phrase::of("Sizes follow the table “").then(Phrase::quoted(&table.name)).say("”");
        told.push(name.say("; tables of sizes differ, so measure whom it is for."));
    }
    if let Some(ease) = &voice.pattern.head.ease {
        let name = ease.source.as_ref().map(|_| Phrase::quoted(&ease.text).say(", ")).unwrap_or_default();
        told.push(Phrase::of("Ease: ").then(name).say(&ease.told(Fractions::Typeset, worn_on(voice))).say("."));
    }
    told
}

/// What it is worn on: `the head`.
fn worn_on(voice: &Voice<'_>) -> &'static str {
    let size = voice.sizes.first().copied().unwrap_or_default();
    fit::wearers(voice.pattern, size).first().map_or("the body", |wearer| fit::part(&wearer.measure))
}

/// `row 24`: the line that a measurement is taken at.
fn line(voice: &Voice<'_>, finished: &Finished, row: u32) -> Phrase {
    let pieces = &voice.pattern.pieces;
    let named = finished.at.as_ref().and_then(|at| pieces.iter().find(|piece| piece.name.eq_ignore_ascii_case(at)));
    let piece = named.or(pieces.first());
    let worked = |piece: &Piece| {
        let size = voice.sizes.first().copied().unwrap_or_default();
        let number = Plan::of(piece, size).number_of(row);
        Plan::of(piece, size).rows().find(|planned| planned.number == number).map(|planned| planned.item)
    };
    let rounds = piece.is_some_and(|piece| worked(piece).map_or(piece.way, |item| piece.way_at(item)).rounds());
    let number = |size: usize| piece.and_then(|piece| Plan::of(piece, size).number_of(row));
    let numbers = Numbers::new(voice.sizes.iter().map(|&size| (size, number(size))));
    let told = Phrase::of(if rounds { "round " } else { "row " });
    if numbers.is_nothing() { told.then(Phrase::quoted(row.to_string())) } else { told.then(numbers.into()) }
}

/// Whom it fits, in each size; as it is written where no numbers can be read out of it.
#[must_use]
pub fn fits(voice: &Voice<'_>, fits: &Fits) -> Measure {
    if fits.ranges.is_empty() {
        let whole = voice.sizes.iter().map(|_| fits.text.clone()).collect();
        return Measure { what: Phrase::of("To fit"), unit: String::new(), numbers: whole, other: None };
    }
    let written = |size: &usize| fits.ranges.get(*size).map_or("–".to_owned(), |range| range.replace('-', "–"));
    let numbers = voice.sizes.iter().map(written).collect();
    let what = Phrase::of("To fit ").then(Phrase::quoted(&fits.what));
    let ranges: Vec<_> = voice.sizes.iter().map(|size| fits.spans.get(*size).copied().flatten()).collect();
    let other = other(&fits.unit, &ranges, |one, number| range(*one, number));
    Measure { what, unit: fits.unit.clone(), numbers, other }
}

impl Measure {
    /// What it is in each size that is shown, in both systems: `18–19¼ in / 46–49 cm` on a page in US terms, the other way round
    /// on one in UK terms.
    #[must_use]
    pub fn cells(&self, terms: Terms) -> Vec<Phrase> {
        let others = self.other.as_ref().map(|(unit, numbers)| (*unit, numbers.as_slice()));
        let cell = |(at, number): (usize, &String)| {
            let own = Phrase::quoted(format!("{number} {}", self.unit).trim()).tied();
            let other = others.and_then(|(unit, numbers)| Some((unit, numbers.get(at)?)));
            match other.filter(|_| number != "–") {
                Some((unit, other)) => in_order(terms, own, unit, Phrase::of(format!("{other} {unit}")).tied()),
                None => own,
            }
        };
        self.numbers.iter().enumerate().map(cell).collect()
    }

    /// The whole of it, where there is one size: `Around (Body): 18 in / 46 cm`.
    #[must_use]
    pub fn sentence(&self, terms: Terms) -> Phrase {
        let number = self.cells(terms).into_iter().next().unwrap_or_default();
        self.what.clone().say(": ").then(number)
    }
}

/// Both measurements: inches first on a page in US terms, centimetres first on one in UK terms.
fn in_order(terms: Terms, own: Phrase, other_unit: &str, other: Phrase) -> Phrase {
    let other_first = match terms {
        Terms::Us => other_unit == "in",
        Terms::Uk => other_unit == "cm",
    };
    let (first, second) = if other_first { (other, own) } else { (own, other) };
    first.say(" /").tied().say(" ").then(second)
}

/// `7 (8, 8¾) in / 18 (20, 22) cm`: in both systems, in the order of the page; the one that is written as it is written.
#[must_use]
pub fn lengths(voice: &Voice<'_>, lengths: &[Length], unit: Unit, concerned: &[bool]) -> Phrase {
    let in_size = |size: usize| concerned.get(size).copied().unwrap_or(true);
    let told = |number: fn(&Length) -> String, unit: &'static str| {
        let length = |size: usize| lengths.get(size).filter(|_| in_size(size)).map(number);
        Phrase::from(Numbers::new(voice.sizes.iter().map(|&size| (size, length(size))))).say(unit)
    };
    let inches = || told(|length| length.inch_number(Fractions::Typeset), " in");
    match unit {
        Unit::Inch => in_order(voice.terms, inches(), "cm", told(|length| length.cm_number(), " cm")),
        _ => in_order(voice.terms, told(|length| centimetres(length.mm()), " cm"), "in", inches()),
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
            let cells: Vec<String> = measure.cells(voice.terms).iter().map(super::Phrase::plain).collect();
            format!("{}: {}", measure.what.plain(), cells.join(" | "))
        };
        assert_eq!(told("head 46-49 / 53-56 cm"), "To fit head: 18–19¼ in / 46–49 cm | 20¾–22 in / 53–56 cm");
        assert_eq!(told("head 52-56 cm"), "To fit head: 20½–22 in / 52–56 cm | 20½–22 in / 52–56 cm");
        assert_eq!(
            told("hand 18 / 20 cm around the palm"),
            "To fit hand around the palm: 7 in / 18 cm | 7¾ in / 20 cm"
        );
        assert_eq!(told("foot 1 / 2 / 3 cm"), "To fit: foot 1 / 2 / 3 cm | foot 1 / 2 / 3 cm");
        assert_eq!(told("anybody"), "To fit: anybody | anybody");
        assert_eq!(told("head 20\""), "To fit head: 20 in / 51 cm | 20 in / 51 cm");
        assert_eq!(told("head 48-52cm"), "To fit head: 19–20½ in / 48–52 cm | 19–20½ in / 48–52 cm");
    }
}
