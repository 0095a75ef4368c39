//! One word taken for another: a stitch, the number in its name, the place it goes into.

use std::collections::BTreeSet;

use super::candidates::{Candidate, Editor};
use super::spots::Spots;
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::fabric::{Fault, FaultKind};
use crate::pattern::model::Kind;
use crate::stitch::{Sort, Stitch, StitchId};
use crate::syntax::tree::{KindWhat, Place, Step, StepKind, Text, Where, Work, WorkLine};

/// Numbers that stitches have in their names.
const IN_NAMES: std::ops::RangeInclusive<u64> = 2..=6;

/// So many stitches were to go into one place at most, where their number was forgotten.
const MOST_FORGOTTEN: u64 = 4;

/// What a stitch saves that stands in one place of the file alone, for one that stands in many.
const KNOWN: u32 = 3;

/// A stitch that was forgotten to be counted is worked so often at most.
const MOST_COUNTED: u64 = 8;

impl Editor<'_> {
    /// Another stitch: an increase, a plain one or a decrease for what is there, or one that is a step taller or lower.
    pub(super) fn swap(&self, work: &Work, span: Span, found: &mut Vec<Candidate>) {
        let along = matches!(work.places, Where::Bare | Where::Count { .. } | Where::Till(_) | Where::In(Place::Next));
        let Some(id) = self.stitches.find(&work.stitch.text, self.terms) else { return };
        let Some((plain, base)) = self.base(id).and_then(|plain| Some((plain, self.short(plain)?))) else {
            for other in self.own_for(id).into_iter().filter(|other| *other != work.stitch.text) {
                found.push(self.shown(Edit { span: work.stitch.span, text: other }, span, 13));
            }
            return;
        };
        let doubled = work.each.is_some() && work.places == Where::In(Place::Next);
        if doubled {
            let edit = Edit { span, text: base.clone() };
            found.push(self.shown(edit, span, 13));
        }
        let mut others = vec![(base.clone(), 12)];
        if along {
            // A whole row of increases is hardly meant where a plain one is written.
            let more = if matches!(work.places, Where::Till(_)) { 22 } else { 13 };
            others.extend(self.more_or_fewer(plain).into_iter().map(|(name, rare)| (name, more + rare)));
        }
        if plain == id {
            others.extend(self.near_in_height(plain).into_iter().map(|name| (name, 14)));
            let behind = self.stitches.get(id).and_then(|stitch| self.short(stitch.from_behind?));
            others.extend(behind.map(|name| (name, 15)));
        }
        for (other, weight) in others.into_iter().filter(|(other, _)| *other != work.stitch.text) {
            let known = if self.is_alone(&work.stitch.text, &other) { KNOWN } else { 0 };
            let edit = Edit { span: work.stitch.span, text: other };
            found.push(self.shown(edit, span, weight - known));
        }
        if work.each.is_some() || work.below.is_some() || self.is_round_a_post(id) {
            return;
        }
        let several = Span::new(work.stitch.span.start, work.stitch.span.start);
        match &work.places {
            Where::Bare => found.push(self.shown(Edit { span, text: format!("2 {base} in next") }, span, 14)),
            Where::In(Place::Next) => found.push(self.shown(Edit { span: several, text: "2 ".to_owned() }, span, 11)),
            // Into a place that is named there go a few as well as one.
            Where::In(Place::NextOf(_)) => {
                let numbers = (2..=MOST_FORGOTTEN).zip(13..);
                found.extend(numbers.map(|(number, weight)| {
                    self.shown(Edit { span: several, text: format!("{number} ") }, span, weight)
                }));
            }
            _ => {}
        }
    }

    /// Whether a stitch is named in this one place, and another one in several: it was hardly meant.
    fn is_alone(&self, stitch: &str, other: &str) -> bool {
        const SEVERAL: usize = 3;
        let named = |name: &str| {
            self.text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| *word == name).take(SEVERAL).count()
        };
        named(stitch) == 1 && named(other) == SEVERAL
    }

    /// Another stitch where one is only named: what a chain counts as, what a round is closed with, what is spread evenly.
    pub(super) fn named(&self, stitch: &Text, span: Span, found: &mut Vec<Candidate>) {
        let Some(id) = self.stitches.find(&stitch.text, self.terms) else { return };
        let Some(plain) = self.base(id) else { return };
        let pair = self.more_or_fewer(plain).into_iter().map(|(name, _)| name);
        let near = if plain == id { self.near_in_height(plain) } else { Vec::new() };
        let others = near.into_iter().chain(self.short(plain)).chain(pair);
        for other in others.filter(|other| *other != stitch.text) {
            found.push(self.shown(Edit { span: stitch.span, text: other }, span, 13));
        }
    }

    fn is_round_a_post(&self, id: StitchId) -> bool {
        self.stitches.get(id).is_some_and(|stitch| stitch.around_post)
    }

    /// What could have been meant by a stitch of the designer's own: another one of them, or the plain one of its height.
    fn own_for(&self, id: StitchId) -> Vec<String> {
        let Some(stitch) = self.stitches.get(id).filter(|stitch| stitch.own) else { return Vec::new() };
        let own = self.stitches.iter().filter(|(_, other)| other.own).map(|(other, _)| other);
        own.chain(self.stitches.plain(stitch.height)).filter_map(|other| self.short(other)).collect()
    }

    /// What makes more of a stitch than it takes, or fewer: two in one place, and two or three together, by every name that
    /// the trade and the designer have for it; with how much rarer than the commonest each is.
    pub(super) fn more_or_fewer(&self, single: StitchId) -> Vec<(String, u32)> {
        const ANOTHER_WORD: u32 = 2;
        const THREE: u32 = 3;
        const OWN: u32 = 1;
        let (two, three) = (self.stitches.together(single, 2), self.stitches.together(single, 3));
        let twice = self.stitches.in_one_place(single, 2);
        let rare = |(id, stitch): (StitchId, &Stitch)| {
            let fewer = stitch.takes > 1 && stitch.makes.len() == 1;
            let more = stitch.takes == 1 && stitch.makes.len() > 1;
            match id {
                id if Some(id) == two || Some(id) == twice => Some(0),
                id if Some(id) == three => Some(THREE),
                _ if stitch.own && (fewer || more) => Some(OWN),
                _ if fewer && stitch.takes == 2 && self.stitches.answers(id, single) => Some(ANOTHER_WORD),
                _ => None,
            }
        };
        let found = self.stitches.iter().filter_map(|(id, stitch)| Some((id, rare((id, stitch))?)));
        let mut all: Vec<(String, u32)> = found.filter_map(|(id, rare)| Some((self.short(id)?, rare))).collect();
        all.sort_by_key(|(_, rare)| *rare);
        all
    }

    pub(super) fn short(&self, id: StitchId) -> Option<String> {
        self.stitches.get(id).map(|s| s.names(self.terms).short.clone())
    }

    /// The stitches of the same sort that a word of the other terms could stand for: a step taller, a step lower. The half
    /// step between single and double has a word of its own.
    fn near_in_height(&self, single: StitchId) -> Vec<String> {
        let Some(stitch) = self.stitches.get(single) else { return Vec::new() };
        let height = stitch.height;
        let hook = stitch.symbol.as_ref().and_then(|symbol| symbol.hook);
        let steps: &[i64] = match height {
            1 => &[2, 1],
            3 => &[-2, 1, -1],
            _ => &[-1, 1],
        };
        let heights = steps.iter().filter_map(|by| u32::try_from(i64::from(height) + by).ok());
        let alike = |other: &Stitch| other.around_post && other.symbol.as_ref().and_then(|symbol| symbol.hook) == hook;
        let of_height = |height| match (stitch.around_post, stitch.sort) {
            (true, _) => {
                let mut posts = self.stitches.iter().filter(|(_, other)| other.takes == 1 && alike(other));
                posts.find(|(_, other)| other.height == height).map(|(id, _)| id)
            }
            (false, Sort::Plain) => self.stitches.plain(height),
            (false, _) => None,
        };
        heights.filter_map(|height| self.short(of_height(height)?)).collect()
    }

    /// All stitches of one name in the line are another one, as where the words of the other terms were used.
    pub(super) fn other_terms(&self, spots: &Spots<'_>, found: &mut Vec<Candidate>) {
        let names: BTreeSet<&str> = spots.works.iter().map(|(work, _)| work.stitch.text.as_str()).collect();
        for name in names {
            let places: Vec<Span> = spots
                .works
                .iter()
                .filter(|(work, _)| work.stitch.text == name)
                .map(|(work, _)| work.stitch.span)
                .collect();
            let plain = self.stitches.find(name, self.terms).filter(|id| self.base(*id) == Some(*id));
            let Some(plain) = plain.filter(|_| places.len() > 1) else { continue };
            for other in self.near_in_height(plain) {
                let edits = places.iter().map(|span| Edit { span: *span, text: other.clone() }).collect();
                let title = format!("`{name}` to `{other}` in each place of the line");
                let fix = Fix { title, edits, safety: Safety::ChangesFabric };
                found.push(Candidate { fix, weight: 15, order: 19 });
            }
        }
    }

    /// `sc3tog` for `sc2tog`, `dc4cl` for `dc3cl`.
    pub(super) fn number_in_name(&self, work: &Work, span: Span, found: &mut Vec<Candidate>) {
        let name = &work.stitch.text;
        let Some((before, rest)) = name.split_once(|letter: char| letter.is_ascii_digit()) else { return };
        let Some(old) = name.get(before.len()..name.len() - rest.len()).and_then(|digit| digit.parse::<u64>().ok())
        else {
            return;
        };
        for number in IN_NAMES.filter(|number| *number != old) {
            let other = format!("{before}{number}{rest}");
            if self.stitches.find(&other, self.terms).is_some() {
                let more = u32::try_from(number.abs_diff(old)).unwrap_or(0);
                found.push(self.shown(Edit { span: work.stitch.span, text: other }, span, 11 + more));
            }
        }
    }

    /// `sc` where `sc 5` was meant.
    pub(super) fn count_forgotten(&self, work: &Work, span: Span, found: &mut Vec<Candidate>) {
        if work.places != Where::Bare || work.each.is_some() {
            return;
        }
        let end = Span::new(span.end, span.end);
        for number in 2..=MOST_COUNTED {
            let more = u32::try_from(number).unwrap_or(0) / 2;
            found.push(self.shown(Edit { span: end, text: format!(" {number}") }, span, 12 + more));
        }
    }

    /// Another place than the one named, of those that the pattern makes: a space, or a stitch.
    pub(super) fn kinds(&self, line: &WorkLine, compiled: &Compiled, found: &mut Vec<Candidate>) {
        let rows = compiled.fabric.pieces.iter().flat_map(|p| &p.sizes).flat_map(|s| &s.rows);
        let made: BTreeSet<Kind> = rows.flat_map(|row| &row.ledger.made).map(|made| made.kind).collect();
        let spaces = made.iter().filter_map(|kind| match kind {
            Kind::Space(length) => Some(format!("ch-{length} sp")),
            _ => None,
        });
        let stitches = made.iter().filter_map(|kind| match kind {
            Kind::Stitch(id) => self.short(*id),
            _ => None,
        });
        let named = Spots::of(line).kinds;
        let stated = line.stated.as_ref().map(|stated| stated.span);
        for new in spaces {
            let is_space = |what: &KindWhat| matches!(what, KindWhat::Space(_));
            self.other_kind(&new, &named, is_space, (12, stated), found);
        }
        for new in stitches {
            let is_stitch = |what: &KindWhat| matches!(what, KindWhat::Stitch(_));
            self.other_kind(&new, &named, is_stitch, (13, stated), found);
        }
    }

    /// What the fault itself shows: what was made instead of what is stated, or lies ahead instead of what is looked for.
    pub(super) fn kinds_there(
        &self,
        line: &WorkLine,
        compiled: &Compiled,
        finding: &Diagnostic,
        found: &mut Vec<Candidate>,
    ) {
        /// Nothing that was made of the kind, and as many of another one: hardly anything else was meant.
        const PLAIN: u32 = 13;
        /// What else lies ahead.
        const AHEAD: u32 = 11;
        /// They are tried before most others, and don't end the search.
        const SOON: u32 = 12;
        let named = Spots::of(line).kinds;
        for fault in compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span) {
            let (wanted, others, weight) = match &fault.kind {
                FaultKind::Count { kind: Some(wanted), made: 0, stated, .. } => {
                    (*wanted, made_instead(compiled, fault, *stated), PLAIN)
                }
                FaultKind::NoPlace { wanted, there } => (*wanted, there.iter().map(|(kind, _)| *kind).collect(), AHEAD),
                _ => continue,
            };
            let Some(old) = self.kind_words(wanted) else { continue };
            for new in others.into_iter().filter_map(|kind| self.kind_words(kind)) {
                let here = named.iter().filter(|(span, ..)| self.slice(*span) == old);
                for (span, _, around) in here {
                    let Candidate { fix, weight, .. } =
                        self.shown(Edit { span: *span, text: new.clone() }, *around, weight);
                    found.push(Candidate { fix, weight, order: SOON });
                }
            }
        }
    }

    pub(super) fn kind_words(&self, kind: Kind) -> Option<String> {
        match kind {
            Kind::Space(length) => Some(format!("ch-{length} sp")),
            Kind::Stitch(id) => self.short(id),
            Kind::AnyStitch | Kind::Chain | Kind::AnySpace | Kind::Yarn(_) => None,
        }
    }

    fn other_kind(
        &self,
        new: &str,
        named: &[(Span, &KindWhat, Span)],
        alike: impl Fn(&KindWhat) -> bool,
        (weight, stated): (u32, Option<Span>),
        found: &mut Vec<Candidate>,
    ) {
        // What is worked is more often another stitch than what is counted.
        let more = |at: &Span| if stated.is_some_and(|stated| stated.start <= at.start) { 4 } else { 0 };
        let others: Vec<_> = named.iter().filter(|(span, what, _)| alike(what) && self.slice(*span) != new).collect();
        for (span, _, around) in &others {
            found.push(self.shown(Edit { span: *span, text: new.to_owned() }, *around, weight + more(span)));
        }
        if others.len() > 1 {
            let edits = others.iter().map(|(span, ..)| Edit { span: *span, text: new.to_owned() }).collect();
            let title = format!("`{new}` in each place of the line that names another");
            let fix = Fix { title, edits, safety: Safety::ChangesFabric };
            found.push(Candidate { fix, weight: weight + 2, order: weight + 6 });
        }
    }

    /// Whether a step is a plain stitch alone, which goes to the end without brackets.
    pub(super) fn is_plain(&self, step: &Step) -> bool {
        match &step.kind {
            StepKind::Work(work) if work.each.is_none() => {
                self.stitches.find(&work.stitch.text, self.terms).is_some_and(|id| self.base(id) == Some(id))
            }
            _ => false,
        }
    }

    /// The single stitch that a stitch is a form of: a plain one, or one round the post.
    pub(super) fn base(&self, id: StitchId) -> Option<StitchId> {
        let part = self.stitches.several(id).filter(|(_, number)| *number == 2).map_or(id, |(part, _)| part);
        let single = |stitch: &Stitch| stitch.sort == Sort::Plain || stitch.around_post && stitch.takes == 1;
        let mut singles = self.stitches.iter().filter(|(_, stitch)| single(stitch)).map(|(single, _)| single);
        singles.find(|single| self.stitches.answers(part, *single))
    }

    /// A repeat that leaves a few over, worked up to them, and they by themselves.
    pub(super) fn to_the_last(
        &self,
        line: &WorkLine,
        compiled: &Compiled,
        finding: &Diagnostic,
        found: &mut Vec<Candidate>,
    ) {
        const BY_THEMSELVES: u32 = 12;
        let here = compiled.fabric.faults.iter().filter(|fault| fault.span == finding.primary.span);
        let over: BTreeSet<u32> = here
            .map(|fault| match fault.kind {
                FaultKind::Unfit { over, .. } => over,
                _ => 0,
            })
            .collect();
        let Some(over) = over.first().copied().filter(|least| over.len() == 1 && *least > 0) else { return };
        let spots = Spots::of(line);
        for (span, _, around) in spots.tills.iter().filter(|(span, last, around)| last.is_none() && span != around) {
            let works = spots.works.iter().filter(|(_, at)| around.start <= at.start && at.end <= around.end);
            let plain = works.filter_map(|(work, _)| self.base(self.stitches.find(&work.stitch.text, self.terms)?));
            let stitches: BTreeSet<String> = plain.filter_map(|plain| self.short(plain)).collect();
            for stitch in stitches {
                let number = if over == 1 { String::new() } else { format!(" {over}") };
                let text = format!("to last {over}, {stitch}{number}");
                found.push(self.shown(Edit { span: *span, text }, *around, BY_THEMSELVES));
            }
        }
    }

    /// `to end` for `to last n`, and the other way round.
    pub(super) fn till(&self, span: Span, last: Option<u64>, around: Span, found: &mut Vec<Candidate>) {
        const TO_THE_END: u32 = 11;
        const TO_THE_LAST: u32 = 14;
        let Some(span) = self.extent_in(span, last.is_some(), around) else { return };
        if last.is_some() {
            found.push(self.shown(Edit { span, text: "to end".to_owned() }, around, TO_THE_END));
        } else {
            for n in 1..=3 {
                found.push(self.shown(Edit { span, text: format!("to last {n}") }, around, TO_THE_LAST));
            }
        }
    }

    /// Where a step says how far it goes, at its end; a repeat says so behind its brackets.
    fn extent_in(&self, span: Span, to_last: bool, around: Span) -> Option<Span> {
        if span != around {
            return Some(span);
        }
        let words = if to_last { " to last " } else { " to end" };
        let at = self.slice(span).rfind(words)?;
        Some(Span::new(span.start + at + 1, span.end))
    }
}

/// Kinds of which the row of a fault made so many.
fn made_instead(compiled: &Compiled, fault: &Fault, count: u32) -> Vec<Kind> {
    let size = compiled.fabric.pieces.get(fault.piece).and_then(|piece| piece.sizes.get(fault.size));
    let row = size.and_then(|size| size.rows.get(fault.row?));
    let made = row.iter().flat_map(|row| &row.ledger.made).filter(|made| made.count == count);
    made.map(|made| made.kind).collect()
}
