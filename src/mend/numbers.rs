//! A number that is a little off, or that only some sizes were to have.

use std::collections::BTreeMap;

use super::candidates::{Candidate, Editor, FARTHEST, UNASKED};
use super::spots::{NumberSpot, SumSpot};
use crate::diagnostic::{Edit, Fix, Safety, Span};
use crate::syntax::tree::{Amount, Number, Term, TermValue};
use crate::words;

impl Editor<'_> {
    /// A number a little larger or smaller.
    pub(super) fn number(&self, spot: NumberSpot, farthest: u64, weight: u32, found: &mut Vec<Candidate>) {
        // `again, 4 times` writes none.
        if spot.span.start == spot.span.end || !self.may_cure(spot.size) {
            return;
        }
        for by in 1..=farthest {
            let more = u32::try_from(by).unwrap_or(u32::MAX);
            // 0 means to do nothing, which is a step less and no other number.
            let rows_below = self.text.get(spot.span.end..).is_some_and(|rest| rest.starts_with(" rows below"));
            let least = if rows_below { 2 } else { 1 };
            let values = [spot.value.checked_sub(by).filter(|v| *v >= least), spot.value.checked_add(by)];
            for value in values.into_iter().flatten() {
                let edit = self.rewritten(spot.span, value);
                found.push(self.shown(
                    edit,
                    spot.around,
                    weight + more + self.rare_number(spot, value) + self.off_the_hook(spot, value),
                ));
            }
        }
    }

    /// The numbers of the sizes from the other end: that of the largest stands first.
    pub(super) fn turned_round(&self, amount: &Amount, around: Span, found: &mut Vec<Candidate>) {
        const TURNED_ROUND: u32 = 9;
        const GROWS: u32 = 6;
        let number = |term: &Term| match term.value {
            TermValue::Number(number) => Some(number),
            TermValue::Sum(_) => None,
        };
        let Some(numbers) = amount.terms.iter().map(number).collect::<Option<Vec<u64>>>() else { return };
        let (grows, shrinks) = (numbers.is_sorted(), numbers.iter().rev().is_sorted());
        if grows == shrinks {
            return;
        }
        let all: Vec<String> = numbers.iter().rev().map(u64::to_string).collect();
        let edit = Edit { span: amount.span, text: all.join(" / ") };
        found.push(self.shown(edit, around, TURNED_ROUND + if grows { GROWS } else { 0 }));
    }

    /// Two numbers of a line that are the same and rest on each other, both a little larger or smaller: as far as the last 3, and 3
    /// left; what is done 6 times, and 6 times again.
    pub(super) fn alike(&self, spots: &[NumberSpot], found: &mut Vec<Candidate>) {
        const BOTH: u32 = 12;
        const FARTHEST_BOTH: u64 = 2;
        const MOST_PAIRS: usize = 6;
        let rests = |(at, one): (usize, &NumberSpot)| {
            let rest = self.rests_with(one)?;
            let fits = |other: &&NumberSpot| {
                let alike = other.value == one.value && other.size == one.size && other.around != one.around;
                alike && self.rests_with(other) == Some(rest)
            };
            spots.iter().skip(at + 1).find(fits).map(|other| (*one, *other))
        };
        let pairs =
            spots.iter().enumerate().filter(|(_, spot)| self.may_cure(spot.size) && spot.span.start < spot.span.end);
        for (one, other) in pairs.filter_map(rests).take(MOST_PAIRS) {
            for by in 1..=FARTHEST_BOTH {
                let values = [one.value.checked_sub(by).filter(|value| *value > 0), one.value.checked_add(by)];
                for value in values.into_iter().flatten() {
                    let [first, second] =
                        [one, other].map(|spot| self.shown(self.rewritten(spot.span, value), spot.around, 0).fix);
                    let title = format!("{} and {}", first.title, second.title);
                    let edits = [first.edits, second.edits].concat();
                    let weight = BOTH + u32::try_from(by).unwrap_or(u32::MAX);
                    let fix = Fix { title, edits, safety: Safety::ChangesFabric };
                    found.push(Candidate { fix, weight, order: weight + UNASKED });
                }
            }
        }
    }

    /// What a number says that may have to be said again elsewhere in its line: how often, or how many stay.
    fn rests_with(&self, spot: &NumberSpot) -> Option<&'static str> {
        let words = self.slice(spot.around);
        let stays = words.starts_with("leave ") || words.contains("to last ");
        if words.ends_with(" times") { Some("times") } else { stays.then_some("stay") }
    }

    /// Arithmetic without the number that is added at its end, and with one more or less.
    pub(super) fn sum(&self, sum: SumSpot, found: &mut Vec<Candidate>) {
        const ADDED: u32 = 11;
        const FORGOTTEN: u32 = 13;
        if !self.may_cure(sum.size) {
            return;
        }
        if let Some(tail) = sum.tail {
            // The number itself is changed as any other one.
            return found.push(self.shown(Edit { span: tail, text: String::new() }, sum.around, ADDED));
        }
        let end = Span::new(sum.span.end, sum.span.end);
        for (more, weight) in [(" - 1", 0), (" + 1", 0), (" - 2", 1), (" + 2", 1)] {
            found.push(self.shown(Edit { span: end, text: more.to_owned() }, sum.around, FORGOTTEN + weight));
        }
    }

    /// A number for all sizes where those that have the fault were to have one of their own.
    pub(super) fn by_size(
        &self,
        spot: NumberSpot,
        sizes: usize,
        lacks: &BTreeMap<usize, i64>,
        found: &mut Vec<Candidate>,
    ) {
        const LOST: u32 = 12;
        /// So much of what a size lacks is made good by one more.
        const MOST_FOR_ONE: i64 = 6;
        let alone = spot.size.is_none() && spot.span.start < spot.span.end;
        if !alone || lacks.is_empty() || lacks.len() >= sizes {
            return;
        }
        for (each, weight) in
            (1..=MOST_FOR_ONE).zip(LOST..).filter(|(each, _)| lacks.values().all(|lack| lack % each == 0))
        {
            for each in [each, -each] {
                let of = |size: usize| {
                    let more = lacks.get(&size).map_or(0, |lack| lack / each);
                    u64::try_from(i64::try_from(spot.value).ok()?.checked_add(more)?).ok().filter(|value| *value > 0)
                };
                let values: Option<Vec<String>> =
                    (0..sizes).map(|size| of(size).map(|value| value.to_string())).collect();
                let text = values.map(|values| values.join(" / "));
                found.extend(text.map(|text| self.shown(Edit { span: spot.span, text }, spot.around, weight)));
            }
        }
    }

    /// How much rarer a number is than another one there: nobody writes `1 sc in next`.
    fn rare_number(&self, spot: NumberSpot, value: u64) -> u32 {
        const ONE_IN_A_PLACE: u32 = 5;
        let first = spot.span.start == spot.around.start;
        let in_place = first && [" in ", " blo ", " flo "].iter().any(|word| self.slice(spot.around).contains(word));
        if value == 1 && in_place { ONE_IN_A_PLACE } else { 0 }
    }

    /// How much rarer another chain from the hook is, where the one that is written is as far as its stitch is tall; the loop on the
    /// hook comes out of the first one (common practice, no source).
    fn off_the_hook(&self, spot: NumberSpot, value: u64) -> u32 {
        const NEVER: u32 = 30;
        const SELDOM: u32 = 6;
        let behind = self.text.get(spot.span.end..).unwrap_or_default();
        if !behind.trim_start_matches(|letter: char| letter.is_ascii_alphabetic()).starts_with(" ch from hook") {
            return 0;
        }
        let words = self.slice(spot.around).split(' ');
        let stitch = words.filter_map(|word| self.stitches.find(word, self.terms)).find_map(|id| self.stitches.get(id));
        let usual = stitch.map(|stitch| u64::from(stitch.height) + 1);
        match value {
            1 => NEVER,
            _ if usual == Some(spot.value) => SELDOM,
            _ => 0,
        }
    }

    /// The number of a line that is said again; a range has a first and a last line, which differ.
    pub(super) fn number_of_range(
        &self,
        number: Number,
        other: Option<Number>,
        around: Span,
        found: &mut Vec<Candidate>,
    ) {
        let mut all = Vec::new();
        self.number(NumberSpot::alone(number, around), FARTHEST, 12, &mut all);
        let other = other.map(|other| other.value.to_string());
        found.extend(
            all.into_iter()
                .filter(|candidate| candidate.fix.edits.iter().all(|edit| Some(&edit.text) != other.as_ref())),
        );
    }

    /// By how much a repair changes numbers; a number that is far off is hardly a slip of the pen, and one of quite another
    /// size is none.
    pub(super) fn off(&self, fix: &Fix) -> u32 {
        const MOST: u64 = 8;
        const OF_ANOTHER_SIZE: u64 = 2;
        const SOME: u64 = 16;
        let values = |text: &str| -> Vec<u64> {
            text.split(|letter: char| !letter.is_ascii_digit()).filter_map(|digits| digits.parse().ok()).collect()
        };
        let farthest = fix.edits.iter().flat_map(|edit| {
            let (old, new) = (values(self.slice(edit.span)), values(&edit.text));
            let alike = old.len() == new.len();
            let off = |(old, new): (u64, u64)| {
                let (less, more) = (old.min(new).max(1), old.max(new));
                let farther = old.abs_diff(new) > SOME && more / less >= OF_ANOTHER_SIZE;
                old.abs_diff(new).min(MOST) + if farther { MOST } else { 0 }
            };
            old.into_iter().zip(new).filter(move |_| alike).map(off).collect::<Vec<u64>>()
        });
        u32::try_from(farthest.max().unwrap_or(0)).unwrap_or(0)
    }

    /// Another number in the place of one; `4th` keeps its ending.
    fn rewritten(&self, span: Span, value: u64) -> Edit {
        if matches!(self.slice(span), "once" | "twice") {
            let text = match value {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                times => format!("{times} times"),
            };
            return Edit { span, text };
        }
        let after = self.text.get(span.end..).unwrap_or_default();
        if value == 1 && after.starts_with(" times") {
            return Edit { span: Span::new(span.start, span.end + " times".len()), text: "once".to_owned() };
        }
        let letters = |text: &str| text.chars().take_while(char::is_ascii_alphabetic).count();
        let within = self.slice(span).trim_start_matches(|letter: char| letter.is_ascii_digit());
        let behind = after.get(..letters(after)).filter(|word| ["st", "nd", "rd", "th"].contains(word));
        match (within, behind) {
            ("", None) => Edit { span, text: value.to_string() },
            (_, behind) => {
                let end = span.end + behind.map_or(0, str::len);
                Edit {
                    span: Span::new(span.start, end),
                    text: words::ordinal(u32::try_from(value).unwrap_or(u32::MAX)),
                }
            }
        }
    }
}
