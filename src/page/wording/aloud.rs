//! A phrase as it is read out by a machine: no sign but digits and full stops, every step a sentence.

use crate::pattern::model::Terms;

use super::names::Voice;
use super::phrase::{Bit, Number, Numbers, Phrase, capital};

/// A phrase without signs. The designer's own words stay as they are.
#[must_use]
pub fn aloud(voice: &Voice<'_>, phrase: &Phrase) -> Phrase {
    let mut reading = Reading { voice, told: Phrase::default(), begins: true, in_clause: false };
    reading.bits(&phrase.0);
    let mut told = reading.told;
    // Two stops in a row, or one after a space, come from signs side by side.
    for bit in &mut told.0 {
        if let Bit::Words(words) = bit {
            *words = tidy(words);
        }
    }
    told
}

/// Label, what to do and count as sentences of one paragraph.
#[must_use]
pub fn paragraph(voice: &Voice<'_>, label: Option<&Phrase>, sentence: &Phrase, count: Option<&Phrase>) -> Phrase {
    let count = count.map(|count| Phrase::of("that makes ").then(count.clone()));
    let mut whole = Phrase::default();
    for part in [label, Some(sentence), count.as_ref()].into_iter().flatten().filter(|part| !part.is_empty()) {
        let part = aloud(voice, part);
        let ends = part.plain().trim_end().ends_with('.');
        let part = if ends { part } else { part.say(".") };
        whole = if whole.is_empty() { part } else { whole.say(" ").then(part) };
    }
    whole
}

struct Reading<'v, 'p> {
    voice: &'v Voice<'p>,
    told: Phrase,
    /// The next word begins a sentence.
    begins: bool,
    /// The sentence begins with a clause, `where corners meet`, that ends with a comma and says nothing by itself.
    in_clause: bool,
}

impl Reading<'_, '_> {
    fn bits(&mut self, bits: &[Bit]) {
        for bit in bits {
            match bit {
                Bit::Words(text) | Bit::Term(_, text) => self.words(text),
                Bit::Stitch(id, text) => match self.voice.pattern.stitches.get(*id) {
                    Some(stitch) if stitch.own => self.own(Bit::Stitch(*id, self.at_beginning(text))),
                    Some(_) | None => self.words(text),
                },
                Bit::Quoted(text) => self.own(Bit::Quoted(text.clone())),
                Bit::Numbers(numbers) => self.numbers(numbers),
                Bit::Tied(phrase) | Bit::Several(phrase) => self.bits(&phrase.0),
            }
        }
    }

    /// Words of the designer's.
    fn own(&mut self, bit: Bit) {
        if self.begins && !self.told.is_empty() && !self.told.plain().ends_with(' ') {
            self.told = std::mem::take(&mut self.told).say(" ");
        }
        self.told.0.push(bit);
        self.begins = false;
    }

    fn at_beginning(&self, text: &str) -> String {
        if self.begins { capital(text) } else { text.to_owned() }
    }

    fn words(&mut self, text: &str) {
        let (text, mut out) = (units(self.voice.terms, text), String::new());
        // A number behind our own stop is no decimal.
        if self.begins && text.starts_with(|c: char| c.is_ascii_digit()) && self.told.plain().ends_with('.') {
            out.push(' ');
        }
        for (at, c) in text.char_indices() {
            if self.begins && c.is_alphabetic() {
                let begun = text.get(at..).and_then(|rest| rest.split(' ').next());
                self.in_clause = begun.is_some_and(|word| word.eq_ignore_ascii_case("where"));
            }
            match c {
                ',' if self.in_clause => self.in_clause = false,
                // What only goes on with a sentence is no step of its own.
                ',' if goes_on(text.get(at + 1..).unwrap_or_default()) => {}
                '/' => out.push_str("or"),
                ',' | ';' | ':' | '.' | '(' => {
                    out.push('.');
                    self.begins = true;
                }
                '–' => out.push_str(" to "),
                '-' => out.push(' '),
                '=' => out.push_str("is"),
                ' ' | '’' | '\'' => out.push(c),
                c if c.is_alphanumeric() => {
                    if self.begins {
                        out.extend(c.to_uppercase());
                    } else {
                        out.push(c);
                    }
                    self.begins = false;
                }
                // Brackets that close, quotation marks and stars have no sound.
                _ => {}
            }
        }
        self.told = std::mem::take(&mut self.told).say(&out);
    }

    /// `18 for small and 24 for large`.
    fn numbers(&mut self, numbers: &Numbers) {
        if let Some(single) = numbers.single() {
            return self.words(single);
        }
        let told = numbers.each().iter().filter_map(|Number { size, text }| Some((size, text.as_deref()?)));
        for (at, (size, text)) in told.enumerate() {
            self.words(if at == 0 { "" } else { " and " });
            self.words(text);
            self.words(" for ");
            let name = self.voice.pattern.sizes.get(*size).map_or("", String::as_str);
            self.own(Bit::Quoted(name.to_owned()));
        }
    }
}

/// Whether the words behind a comma belong to those before it.
fn goes_on(rest: &str) -> bool {
    const WORDS: [&str; 11] =
        ["and", "each", "ending", "joining", "leaving", "so", "taking", "until", "which", "with", "one"];
    rest.split_whitespace().next().is_some_and(|word| WORDS.contains(&word))
}

/// Units of length and weight as words.
fn units(terms: Terms, text: &str) -> String {
    let us = terms == Terms::Us;
    let named = |unit: &str| match unit {
        "cm" => Some(if us { "centimeters" } else { "centimetres" }),
        "mm" => Some(if us { "millimeter" } else { "millimetre" }),
        "yd" => Some("yards"),
        "m" => Some(if us { "meters" } else { "metres" }),
        "g" => Some(if us { "grams" } else { "grammes" }),
        "oz" => Some("ounces"),
        _ => None,
    };
    let mut before_is_number = true;
    let mut out = String::new();
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        let bare = word.trim_end_matches([',', '.', ';', ')', ':']);
        let sign = word.get(bare.len()..).unwrap_or_default();
        let unit = named(bare).filter(|_| before_is_number);
        // `in` is mostly no unit.
        let inches = (bare == "in" && before_is_number && words.peek() == Some(&"/")).then_some("inches");
        out.push_str(unit.or(inches).unwrap_or(bare));
        out.push_str(sign);
        if words.peek().is_some() {
            out.push(' ');
        }
        before_is_number = word.is_empty() || bare.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
    }
    out
}

/// Single stops, each with a space after it and none before it.
fn tidy(words: &str) -> String {
    let mut out = String::new();
    for c in words.chars() {
        let last = out.chars().next_back();
        match c {
            '.' => {
                while out.ends_with(' ') {
                    out.pop();
                }
                if !out.ends_with('.') {
                    out.push('.');
                }
            }
            ' ' if last == Some(' ') => {}
            ' ' => out.push(' '),
            c => {
                // A decimal point has none; our own stops stand before a word.
                if last == Some('.') && !c.is_ascii_digit() {
                    out.push(' ');
                }
                out.push(c);
            }
        }
    }
    out
}
