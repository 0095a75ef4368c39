//! The words that may come next: those of the tables, and those that the file names.

use std::collections::{BTreeMap, BTreeSet};

use super::super::lines::Work;
use super::super::{NameKind, Shown, half};
use super::line::Before;
use super::table::{self, Form};
use crate::compiled::compile;
use crate::diagnostic::{Severity, Span};
use crate::pattern::model::{Kind, Pattern, Yarn};
use crate::stitch::{Sort, StitchId};
use crate::{explain, standards, tally, words};

/// A word or form that is offered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Offer {
    pub write: String,
    pub shown: String,
    pub how: String,
    /// Other words by which it is found.
    also: String,
}

impl Offer {
    fn of(write: impl Into<String>, how: impl Into<String>) -> Self {
        let write = write.into();
        Self { shown: write.clone(), write, how: how.into(), also: String::new() }
    }

    /// How well it goes with what is typed, 0 best; nothing where it doesn't.
    pub fn fit(&self, typed: &str) -> Option<u8> {
        let begins = |text: &str| text.to_lowercase().starts_with(typed);
        if begins(&self.write) {
            return Some(0);
        }
        self.write.split(' ').chain(self.also.split(' ')).any(begins).then_some(1)
    }
}

impl From<&Form> for Offer {
    fn from(form: &Form) -> Self {
        Self::of(form.write, form.does)
    }
}

/// Where words come from.
pub(super) struct Sources<'a> {
    pub shown: Shown<'a>,
    pub before: &'a Before,
}

impl Sources<'_> {
    /// The words of a group, or what a name in capitals stands for.
    pub fn of(&self, name: &str) -> Vec<Offer> {
        match name {
            "HEAD" => self.head(),
            "LABEL" => self.label().into_iter().collect(),
            "STITCHES" => self.stitches(),
            "KINDS" => self.kinds(),
            "COUNT" => self.count().into_iter().collect(),
            "SIZES" => self.names(NameKind::Size),
            "NUMBERS" => self.names(NameKind::Number),
            "YARNS" => self.pattern().head.yarns.iter().map(yarn).collect(),
            "HOOKS" => self.names(NameKind::Hook),
            "GRIDS" => self.names(NameKind::Grid),
            "PIECES" => self.names(NameKind::Piece),
            "MARKS" => self.names(NameKind::Mark),
            "OPENINGS" => self.names(NameKind::Opening),
            "TABLES" => standards::names().into_iter().map(|name| Offer::of(name, "a published table")).collect(),
            "EASES" => standards::eases().into_iter().map(|name| Offer::of(name, "a published ease")).collect(),
            "WARNINGS" => self.warnings(),
            group => table::group(group).map(Offer::from).collect(),
        }
    }

    fn pattern(&self) -> &Pattern {
        &self.shown.compiled.pattern
    }

    /// Lines of the head, those first that are not there yet.
    fn head(&self) -> Vec<Offer> {
        let lines = self.shown.compiled.tree.lines.iter().map(|line| self.shown.slice(line.span));
        let there: BTreeSet<String> =
            lines.filter_map(|line| line.split_whitespace().next()).map(str::to_lowercase).collect();
        let mut forms: Vec<&Form> = table::group("head").collect();
        forms.sort_by_key(|form| there.contains(form.write));
        forms.into_iter().map(Offer::from).collect()
    }

    /// The label of the next row or round, numbered where all sizes agree on it.
    fn label(&self) -> Option<Offer> {
        let compiled = self.shown.compiled;
        let at = compiled.pattern.pieces.iter().rposition(|piece| piece.span.start <= self.before.line)?;
        let piece = compiled.pattern.pieces.get(at)?;
        let word = if piece.way.rounds() { "rnd" } else { "row" };
        let above = |row: &&crate::fabric::Row| {
            piece.items.get(row.item).is_some_and(|item| item.span.start < self.before.line)
        };
        let sizes = compiled.fabric.pieces.get(at)?.sizes.iter();
        let next: BTreeSet<u32> =
            sizes.map(|size| size.rows.iter().rfind(above).map_or(1, |row| row.number + 1)).collect();
        let single = next.first().filter(|_| next.len() == 1);
        let write = single.map_or_else(|| format!("{word}: "), |number| format!("{word} {number}: "));
        let noun = if piece.way.rounds() { "round" } else { "row" };
        Some(Offer::of(write, format!("the next {noun}")))
    }

    /// Stitches: the designer's own, then those that the file works most, then the others as the table has them.
    fn stitches(&self) -> Vec<Offer> {
        let pattern = self.pattern();
        let mut used: BTreeMap<StitchId, usize> = BTreeMap::new();
        for word in self.shown.stitches_worked() {
            if let Some(id) = pattern.stitches.find(word, pattern.terms) {
                *used.entry(id).or_default() += 1;
            }
        }
        let reached = |id: StitchId, short: &str| pattern.stitches.find(short, pattern.terms) == Some(id);
        let mut all: Vec<_> = pattern
            .stitches
            .iter()
            .filter(|(id, stitch)| stitch.sort != Sort::Chain && reached(*id, &stitch.names(pattern.terms).short))
            .collect();
        all.sort_by_key(|(id, stitch)| (!stitch.own, std::cmp::Reverse(used.get(id).copied().unwrap_or(0)), *id));
        all.into_iter()
            .map(|(id, stitch)| {
                let names = stitch.names(pattern.terms);
                let made = pattern.stitches.how(id, pattern.terms).map(|how| format!(": {how}"));
                let how = format!("{}{}", names.full, made.unwrap_or_default());
                Offer { also: names.full.clone(), ..Offer::of(names.short.clone(), how) }
            })
            .collect()
    }

    /// The kinds of place that the row above has made.
    fn kinds(&self) -> Vec<Offer> {
        let compiled = self.shown.compiled;
        let Some(at) = compiled.pattern.pieces.iter().rposition(|piece| piece.span.start <= self.before.line) else {
            return Vec::new();
        };
        let piece = compiled.pattern.pieces.get(at);
        let above = |row: &&crate::fabric::Row| {
            let item = piece.and_then(|piece| piece.items.get(row.item));
            item.is_some_and(|item| item.span.start < self.before.line)
        };
        let rows =
            compiled.fabric.pieces.get(at).and_then(|piece| piece.sizes.first()).map(|size| size.rows.as_slice());
        let Some(row) = rows.unwrap_or_default().iter().rfind(above).filter(|row| row.judged) else {
            return Vec::new();
        };
        let made = row.ledger.made.iter();
        let counted = made.filter(|tally| !matches!(tally.kind, Kind::Chain));
        let offer = |tally: &crate::fabric::Tally| {
            Offer::of(
                tally::name(&compiled.pattern, tally.kind),
                format!("{} in the line below", words::thousands(tally.count)),
            )
        };
        counted.map(offer).collect()
    }

    /// What the line in hand makes, as far as it is written, in each size.
    fn count(&self) -> Option<Offer> {
        let shown = self.shown;
        let end = shown
            .text
            .get(self.before.place.start..)?
            .find('\n')
            .map_or(shown.text.len(), |at| self.before.place.start + at);
        let line = shown.text.get(self.before.line..self.before.place.start)?;
        let equals = self.before.line + line.rfind('=')?;
        let text = half::blanked(shown.text, &[Span::new(equals, end)]);
        let compiled = compile(&text);
        let without = Shown { compiled: &compiled, text: &text, ..shown };
        let work = Work::of(without);
        let sizes = 0..compiled.pattern.sizes.len();
        let seen = |size| work.seen(without, self.before.line, size);
        let made: Vec<Option<u32>> = sizes
            .map(|size| seen(size).filter(|seen| seen.row.judged && seen.fault.is_none()).map(|seen| seen.made()))
            .collect();
        let known: Vec<u32> = made.iter().copied().collect::<Option<_>>()?;
        let all_alike = known.iter().all(|one| known.first() == Some(one));
        let numbers: Vec<String> =
            known.iter().take(if all_alike { 1 } else { usize::MAX }).map(u32::to_string).collect();
        Some(Offer::of(numbers.join(" / "), "what this line makes"))
    }

    fn names(&self, kind: NameKind) -> Vec<Offer> {
        let named = self.shown.mentions.named().filter(|(_, named)| named.kind == kind && named.given);
        let told = |name: &str| self.shown.value(kind, name).unwrap_or_else(|| format!("a {}", kind.name()));
        named.map(|(_, named)| Offer::of(named.name.clone(), told(&named.name))).collect()
    }

    /// Warnings of the file first, then all others that there are.
    fn warnings(&self) -> Vec<Offer> {
        let found = self.shown.compiled.findings.iter().filter(|found| found.severity == Severity::Warning);
        let here = found.map(|found| Offer::of(found.code.0, found.message.clone()));
        let all = crate::check::warnings().into_iter().map(|code| Offer::of(code.0, explain::title(code)));
        here.chain(all).collect()
    }
}

fn yarn(yarn: &Yarn) -> Offer {
    Offer::of(yarn.name.clone(), yarn.colour.clone().unwrap_or_else(|| "a yarn".to_owned()))
}
