//! Hook, yarn, gauge and measurements of the head: as written, and as lengths and masses.

use super::super::model::{
    Ball, Ease, Finished, FitRange, FitTable, Fits, Gauge, Hook, Slack, SomeYarn, Swatch, Weighed, Yarn,
};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Span};
use crate::limits;
use crate::standards;
use crate::syntax::tree::{Header, Measure, Text};
use crate::units::{Length, Mass, Unit, number};

impl Lower {
    /// A header line about hook, yarn, gauge or a finished measurement.
    pub(super) fn material(&mut self, header: &Header, span: Span) {
        match header {
            Header::Hook { name, size, letter } => self.hook(name.as_ref(), size.as_ref(), letter.as_ref(), span),
            Header::Yarn { .. } => self.yarn_line(header, span),
            Header::Gauge { .. } => self.gauge(header, span),
            Header::Finished { what, numbers, unit, at } => self.finished(what, numbers, unit, at.as_ref(), span),
            _ => {}
        }
    }

    /// A swatch whose yarn was weighed or measured.
    pub(super) fn weighed(&mut self, header: &Header, span: Span) {
        let Header::Swatch { yarn, stitches, rows, stitch, took } = header else { return };
        let name = yarn.as_ref().map(|name| self.yarn(name));
        let yarn = match name {
            Some(name) => self.head.yarns.place_of(&name),
            None => (!self.head.yarns.is_empty()).then_some(0),
        };
        let stitch = self.stitch(&stitch.text, stitch.span);
        let (stitches, rows) = (self.number(*stitches), self.number(*rows));
        let heavy = mass(took).filter(|mass| mass.g() > 0.0).map(SomeYarn::Mass);
        let long = || length(took).filter(|length| length.mm() > 0.0).map(SomeYarn::Length);
        match heavy.or_else(long).filter(|_| stitches > 0 && rows > 0) {
            Some(took) => self.head.weighed.push(Weighed { yarn, stitches, rows, stitch, took, span }),
            None => {
                let help = "weigh a swatch of some rows, as `swatch 20 sts x 20 rows in sc = 7.3 g`";
                self.no_measure("there is nothing of this swatch to reckon with", span, help);
            }
        }
    }

    fn hook(&mut self, name: Option<&Text>, size: Option<&Text>, letter: Option<&Text>, span: Span) {
        let width = size.and_then(|size| number(&size.text));
        let diameter = width.filter(|mm| *mm > 0.0).map(Length::millimetres);
        if let Some(size) = size.filter(|_| diameter.is_none()) {
            self.no_measure("this is no size of a hook", size.span, "give the width of its shaft, as `hook 4.5 mm`");
        }
        self.head.hooks.push(Hook {
            name: name.map(|t| t.text.clone()),
            millimetres: size.map(|size| size.text.clone()),
            diameter,
            letter: letter.map(|t| t.text.clone()),
            span,
        });
    }

    fn yarn_line(&mut self, header: &Header, span: Span) {
        let Header::Yarn { name, colour, weight, ball, more } = header else { return };
        let weight_number = weight.as_ref().and_then(|weight| self.weight(weight));
        let ball_size = ball.as_ref().and_then(|(one, other)| self.ball(one, other));
        self.head.yarns.add(Yarn {
            name: name.text.clone(),
            colour: colour.as_ref().map(|t| t.text.clone()),
            weight: weight.as_ref().map(|t| t.text.clone()),
            weight_number,
            ball: ball.as_ref().map(|(one, other)| format!("{} = {}", written(one), written(other))),
            ball_size,
            more: more.iter().map(|t| t.text.clone()).collect(),
            span,
        });
    }

    /// A weight number. Source: Craft Yarn Council, Standard Yarn Weight System.
    fn weight(&mut self, weight: &Text) -> Option<u8> {
        let number = weight.text.parse().ok().filter(|number: &u8| *number <= 7);
        if number.is_none() {
            let help = "the weights go from 0, lace, to 7, jumbo; write the number, as `weight 3`";
            self.no_measure(&format!("there is no yarn weight `{}`", weight.text), weight.span, help);
        }
        number
    }

    /// What a ball weighs and how long it is, whichever comes first.
    fn ball(&mut self, one: &Measure, other: &Measure) -> Option<Ball> {
        let read = mass(one).zip(length(other)).or_else(|| mass(other).zip(length(one)));
        let ball = read.filter(|(mass, length)| mass.g() > 0.0 && length.mm() > 0.0);
        if ball.is_none() {
            let help = "give what a ball weighs and how long it is, as `50 g = 110 m` or `1.75 oz = 120 yd`";
            self.no_measure("this is no ball of yarn", one.span.to(other.span), help);
        }
        ball.map(|(mass, length)| Ball { mass, length })
    }

    fn gauge(&mut self, header: &Header, span: Span) {
        let Header::Gauge { name, stitches, rows, stitch, over } = header else { return };
        let above = |text: &Text| number(&text.text).filter(|n| *n > 0.0);
        let swatch = above(stitches).zip(above(rows)).zip(length(over).filter(|length| length.mm() > 0.0));
        if swatch.is_none() {
            let at = stitches.span.to(over.span);
            let help = "count the stitches and rows in a square of the fabric, as `17 sts x 19 rows in sc = 10 cm`";
            self.no_measure("this is no gauge", at, help);
        }
        self.head.gauges.push(Gauge {
            name: name.as_ref().map(|t| t.text.clone()),
            stitches: stitches.text.clone(),
            rows: rows.text.clone(),
            stitch: stitch.as_ref().map(|t| t.text.clone()),
            over: written(over),
            swatch: swatch.map(|((stitches, rows), over)| Swatch { stitches, rows, over }),
            span,
        });
    }

    fn finished(&mut self, what: &Text, numbers: &[Text], unit: &Text, at: Option<&Text>, span: Span) {
        if self.too_many(self.head.finished.len(), span) {
            return;
        }
        let sizes = self.size_count();
        self.see_list(numbers.len());
        if numbers.len() != 1 && numbers.len() != sizes {
            self.wrong_length("measurement", numbers.len(), span);
        }
        // In one size 0 means, as everywhere, that there is nothing of it.
        if numbers.iter().all(|text| number(&text.text).is_none_or(|n| n <= 0.0)) {
            let at = numbers.first().map_or(span, |text| text.span);
            self.no_measure("a finished measurement is more than 0", at, "say what you measured");
        }
        let numbers_span = numbers.iter().map(|text| text.span).reduce(Span::to).unwrap_or(span);
        let numbers: Vec<String> = self.one_a_size(numbers.iter().map(|t| t.text.clone()).collect());
        let lengths = numbers.iter().map(|text| positive(text, &unit.text)).collect();
        let (at, at_row) = at.map(|at| place(&at.text)).unwrap_or_default();
        self.head.finished.push(Finished {
            what: what.text.clone(),
            numbers,
            unit: unit.text.clone(),
            lengths,
            at,
            at_row,
            numbers_span,
            span,
        });
    }

    /// `fits head 46-49 / 53-56 cm around the brow`: a range for each size. Words without a number are kept as they are.
    pub(super) fn fits(&mut self, text: &Text) {
        if let Some(name) = after(&text.text, "by table") {
            return self.fit_table(name, text.span);
        }
        if let Some(ease) = after(&text.text, "with ease") {
            return self.ease(ease, text.span);
        }
        if self.too_many(self.head.fits.len(), text.span) {
            return;
        }
        let (what, ranges, unit) = taken_apart(&text.text);
        let spans: Vec<Option<FitRange>> = ranges.iter().map(|range| fit_range(range, &unit)).collect();
        let ill = !ranges.is_empty() && spans.iter().any(Option::is_none);
        let sizes = self.size_count();
        self.see_list(ranges.len());
        let several = !matches!(ranges.len(), 0 | 1) && ranges.len() != sizes;
        if ill {
            let help =
                "write what it fits, from, to and the unit, as `fits head 48-52 cm`; a stroke stands between sizes";
            self.no_measure("no measurement can be read here", text.span, help);
        } else if several {
            let message = format!("{} here for {}", count(ranges.len(), "range"), count(sizes, "size"));
            self.no_measure(&message, text.span, "give one range a size, or one for all");
        }
        let keep = !ill && !several;
        self.head.fits.push(Fits {
            text: text.text.clone(),
            what,
            ranges: if keep { self.one_a_size(ranges) } else { Vec::new() },
            unit,
            spans: if keep { self.one_a_size(spans) } else { Vec::new() },
            span: text.span,
        });
    }

    /// `fits by table knit heads`.
    fn fit_table(&mut self, name: &str, span: Span) {
        match standards::names().into_iter().find(|known| known.eq_ignore_ascii_case(name)) {
            Some(known) => self.head.fit_table = Some(FitTable { name: known.to_owned(), span }),
            None => {
                let help = format!("there are {}", crate::words::list(&standards::names()));
                self.no_measure(&format!("there is no table of sizes called `{name}`"), span, &help);
            }
        }
    }

    /// `fits with ease standard`, `fits with ease -5 to 0 cm`, `fits with ease -10 to -5 %`.
    fn ease(&mut self, text: &str, span: Span) {
        let ease = standards::ease(text).or_else(|| ease(text));
        if ease.is_none() {
            let names = standards::eases();
            let help =
                format!("write it as `-5 to 0 cm` or `-10 to -5 %`, or by a name: {}", crate::words::list(&names));
            self.no_measure("no ease can be read here", span, &help);
        }
        self.head.ease = ease.or(self.head.ease.take());
    }

    /// Whether there are as many measurements as there may be; said once.
    fn too_many(&mut self, there: usize, span: Span) -> bool {
        let message = format!("there are more than {} measurements", limits::MOST_MEASUREMENTS);
        let told = self.findings.iter().any(|finding| finding.message == message);
        let many = there >= limits::MOST_MEASUREMENTS;
        if many && !told {
            self.no_measure(&message, span, "state the main ones");
        }
        many
    }

    /// One entry for each size, out of a list with one for all or one a size. An empty list stays empty.
    fn one_a_size<T: Clone>(&self, list: Vec<T>) -> Vec<T> {
        match list.as_slice() {
            [one] => vec![one.clone(); self.size_count()],
            _ => list,
        }
    }

    fn no_measure(&mut self, message: &str, span: Span, help: &str) {
        let finding = Diagnostic::warning(codes::MEASURE, message, span, "nothing is measured by this");
        self.findings.push(finding.with_help(help));
    }
}

fn count(number: usize, noun: &str) -> String {
    crate::words::count(number, noun)
}

/// `Body`, `Body row 12` or `row 12`: the piece and the row.
fn place(text: &str) -> (Option<String>, Option<u32>) {
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let is_row = |word: &str| ["row", "rnd", "round"].iter().any(|row| row.eq_ignore_ascii_case(word));
    let row = match words.as_slice() {
        [.., word, number] if is_row(word) => number.parse().ok(),
        _ => None,
    };
    if row.is_some() {
        words.truncate(words.len().saturating_sub(2));
    }
    let piece = words.join(" ");
    let piece = piece.strip_suffix(',').unwrap_or(&piece).to_owned();
    ((!piece.is_empty()).then_some(piece), row)
}

/// What is measured, the ranges as written, and their unit. Words after the unit belong to what is measured.
fn taken_apart(text: &str) -> (String, Vec<String>, String) {
    let text = apart(text);
    let words: Vec<&str> = text.split_whitespace().collect();
    let starts_with = |is: fn(&char) -> bool| move |word: &&str| word.chars().next().as_ref().is_some_and(is);
    let first = words.iter().position(starts_with(char::is_ascii_digit)).unwrap_or(words.len());
    let (what, rest) = words.split_at_checked(first).unwrap_or_default();
    let end = rest.iter().position(starts_with(|c| c.is_alphabetic())).unwrap_or(rest.len());
    let (numbers, words) = rest.split_at_checked(end).unwrap_or_default();
    let (unit, more) = words.split_first().map_or(("", [].as_slice()), |(unit, more)| (*unit, more));
    let numbers = numbers.join(" ");
    let ranges = numbers.split('/').map(|range| range.trim().to_owned()).filter(|_| !numbers.is_empty());
    ([what, more].concat().join(" "), ranges.collect(), unit.to_owned())
}

/// Numbers and units with a space between them, and inches by their name.
fn apart(text: &str) -> String {
    let mut out = String::new();
    for sign in text.chars() {
        let glued = sign.is_alphabetic() && out.ends_with(|before: char| before.is_ascii_digit());
        match sign {
            '"' | '″' | '”' => out.push_str(" in "),
            _ if glued => out.extend([' ', sign]),
            _ => out.push(sign),
        }
    }
    out
}

/// What follows these words, if a text begins with them; spaces and capitals don't matter.
fn after<'t>(text: &'t str, words: &str) -> Option<&'t str> {
    words.split(' ').try_fold(text.trim_start(), |rest, word| {
        let (first, rest) = rest.split_once(char::is_whitespace)?;
        first.eq_ignore_ascii_case(word).then(|| rest.trim())
    })
}

/// `-5 to 0 cm`, `5 cm`, `-10 to -5 %`.
fn ease(text: &str) -> Option<Ease> {
    let apart = apart(text).replace('%', " %");
    let words: Vec<&str> = apart.split_whitespace().collect();
    let (low, high, unit) = match words.as_slice() {
        [low, to, high, unit] if to.eq_ignore_ascii_case("to") => (low, high, unit),
        [one, unit] => (one, one, unit),
        _ => return None,
    };
    let slack = |text: &str| {
        let (sign, digits) = match text.strip_prefix(['-', '−']) {
            Some(digits) => (-1.0, digits),
            None => (1.0, text),
        };
        let number = number(digits)? * sign;
        match *unit {
            "%" => Some(Slack::Share(number / 100.0)),
            unit => Length::of(number, Unit::named(unit)?).map(Slack::Length),
        }
    };
    Some(Ease { text: text.to_owned(), low: Some(slack(low)?), high: Some(slack(high)?), source: None })
}

/// `46-49`, or one number.
fn fit_range(text: &str, unit: &str) -> Option<FitRange> {
    let (low, high) = text.split_once(['-', '–']).unwrap_or((text, text));
    let (low, high) = (positive(low, unit)?, positive(high, unit)?);
    (low <= high).then_some(FitRange { low, high })
}

fn positive(text: &str, unit: &str) -> Option<Length> {
    let length = Length::of(number(text)?, Unit::named(unit)?)?;
    (length.mm() > 0.0).then_some(length)
}

fn length(measure: &Measure) -> Option<Length> {
    Length::of(number(&measure.number)?, Unit::named(&measure.unit)?)
}

fn mass(measure: &Measure) -> Option<Mass> {
    Mass::of(number(&measure.number)?, Unit::named(&measure.unit)?)
}

fn written(measure: &Measure) -> String {
    format!("{} {}", measure.number, measure.unit)
}
