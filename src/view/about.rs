//! What stands at a place.

use serde::Serialize;

use super::lines::{Counts, Line};
use super::mentions::{Mention, Named};
use super::next::table;
use super::{Class, Mentions, NameKind, Places, Shown, lexer, lines, told};
use crate::compiled::compile;
use crate::diagnostic::Span;
use crate::pattern::model::Kind;
use crate::{stitch, words};

/// What there is to say of a place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct About {
    /// Where what it is about begins, in code units of UTF-16.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// What it is, in a few words.
    pub title: String,
    /// What there is to say of it, a line each.
    pub text: Vec<String>,
}

/// What stands at a place, which is in code units of UTF-16: a stitch and how it is made, a name and what it stands for in each
/// size, a row or round with what it had, made and left. Nothing where there is nothing to say.
#[must_use]
pub fn about(text: &str, at: u32) -> Option<About> {
    let text = &*words::with_line_feeds(text);
    let places = Places::new(text);
    let byte = places.byte(at);
    let compiled = compile(text);
    let mentions = Mentions::of(&compiled);
    let shown = Shown { compiled: &compiled, text, places: &places, mentions: &mentions };
    let tree = &compiled.tree.lines;
    let line = tree.get(tree.partition_point(|line| line.span.start <= byte).checked_sub(1)?)?;
    let here =
        mentions.within(line.span).iter().filter(|mention| mention.span.start <= byte && byte <= mention.span.end);
    let mention = here.min_by_key(|mention| mention.span.end - mention.span.start);
    if let Some(about) = mention.and_then(|mention| of_mention(shown, mention)) {
        return Some(about);
    }
    let in_label = mention.is_some_and(|mention| mention.class == Class::Label);
    if in_label || mentions.is_stated(byte) {
        return of_row(shown, line.span, byte);
    }
    if mention.is_some() || byte > line.span.end {
        return None;
    }
    of_word(shown, line.span, byte).or_else(|| of_row(shown, line.span, byte))
}

fn of_mention(shown: Shown<'_>, mention: &Mention) -> Option<About> {
    let (from, to) = shown.from_to(mention.span);
    let word = shown.slice(mention.span);
    if let Some(Named { kind, name, .. }) = &mention.name {
        let told = shown.value(*kind, name);
        let text = told.iter().flat_map(|told| told.lines()).map(str::to_owned).collect();
        return Some(About { from, to, title: format!("{name}, a {}", kind.name()), text });
    }
    if mention.class != Class::Stitch {
        return None;
    }
    let told = stitch::told(word, shown.compiled.pattern.terms)?;
    let mut lines = told.lines().map(str::to_owned);
    Some(About { from, to, title: lines.next()?, text: lines.collect() })
}

/// A word of the notation.
fn of_word(shown: Shown<'_>, line: Span, byte: usize) -> Option<About> {
    let (span, _) = lexer::all(shown.text, line).find(|(span, _)| span.start <= byte && byte <= span.end)?;
    let form = table::does(shown.slice(span))?;
    let (from, to) = shown.from_to(span);
    Some(About { from, to, title: form.write.to_owned(), text: vec![form.does.to_owned()] })
}

/// A row or round in each size.
fn of_row(shown: Shown<'_>, line: Span, byte: usize) -> Option<About> {
    let at = shown.places.utf16(byte);
    let start = shown.places.utf16(line.start);
    let row: Line = lines::lines(shown).into_iter().find(|row| row.from >= start && row.from <= at && at <= row.to)?;
    let sizes = &shown.compiled.pattern.sizes;
    let told = |(counts, divides): (&Option<Counts>, &String)| {
        let divides = if divides.is_empty() { String::new() } else { format!("\n{divides}") };
        counts.as_ref().map(|counts| format!("{}{divides}", told::account(counts)))
    };
    let told: Vec<Option<String>> = row.counts.iter().zip(&row.divides).map(told).collect();
    let alike = told.iter().all(|one| told.first() == Some(one));
    let named = sizes.iter().zip(told).filter_map(|(size, told)| {
        let told = told?;
        Some(if alike || size.is_empty() { told } else { format!("{size}: {told}") })
    });
    let text: Vec<String> = named.take(if alike { 1 } else { usize::MAX }).collect();
    (!text.is_empty()).then_some(About { from: row.from, to: row.to, title: row.label, text })
}

impl<'a> Shown<'a> {
    /// What a name stands for, in a few words; nothing where there is nothing to say.
    pub(super) fn value(self, kind: NameKind, name: &str) -> Option<String> {
        let pattern = &self.compiled.pattern;
        match kind {
            NameKind::Number => {
                let number = pattern.numbers.iter().find(|number| number.name.eq_ignore_ascii_case(name))?;
                Some(self.by_size(&number.values))
            }
            NameKind::Yarn => {
                let yarn = pattern.head.yarns.get(pattern.head.yarns.place_of(name)?)?;
                let weight = yarn.weight.as_ref().map(|weight| format!("weight {weight}"));
                let told: Vec<String> = yarn.colour.iter().chain(&weight).chain(&yarn.ball).cloned().collect();
                (!told.is_empty()).then(|| told.join(", "))
            }
            NameKind::Stitch => {
                let id = pattern.stitches.find(name, pattern.terms)?;
                let stitch = pattern.stitches.get(id)?;
                let takes = words::count(stitch.takes, "place");
                let made = crate::tally::name(pattern, Kind::Stitch(id));
                let how = pattern.stitches.how(id, pattern.terms).map(|how| format!("\n{how}")).unwrap_or_default();
                Some(format!("{made}: {}, takes {takes}{how}", stitch.names(pattern.terms).full))
            }
            NameKind::Piece => {
                let (at, piece) =
                    pattern.pieces.iter().enumerate().find(|(_, piece)| piece.name.eq_ignore_ascii_case(name))?;
                let rows = self.compiled.fabric.pieces.get(at)?.sizes.iter().map(|size| size.rows.len());
                let rows: Vec<u32> = rows.map(|rows| u32::try_from(rows).unwrap_or(u32::MAX)).collect();
                let noun = if piece.way.rounds() { "rounds" } else { "rows" };
                Some(format!("{noun}: {}", self.by_size(&rows)))
            }
            NameKind::Hook => {
                let of_name = |of: Option<&String>| of.is_some_and(|of| of.eq_ignore_ascii_case(name));
                let hook = pattern.head.hooks.iter().find(|hook| of_name(hook.name.as_ref()))?;
                hook.millimetres.as_ref().map(|size| format!("{size} mm"))
            }
            NameKind::Size | NameKind::Grid | NameKind::Mark | NameKind::Opening => None,
        }
    }

    /// `60`, or `child 60, adult 72`.
    fn by_size(self, values: &[u32]) -> String {
        let sizes = &self.compiled.pattern.sizes;
        let alike = values.iter().all(|value| values.first() == Some(value));
        match values.first() {
            Some(value) if alike => value.to_string(),
            _ => sizes.iter().zip(values).map(|(size, value)| format!("{size} {value}")).collect::<Vec<_>>().join(", "),
        }
    }

    /// Every stitch where it is worked or named, as it is written.
    pub(super) fn stitches_worked(self) -> impl Iterator<Item = &'a str> {
        self.mentions.stitches().map(move |span| self.slice(span))
    }
}
