//! A step forgotten, a step doubled, brackets forgotten.

use std::collections::BTreeSet;

use super::candidates::{Above, Candidate, Editor, Missing, candidate};
use super::habits::{Habits, framed};
use super::spots::{ListEnd, ListSpot, Spots, numbers};
use crate::Compiled;
use crate::diagnostic::{Edit, Fix, Safety, Span};
use crate::pattern::model::Item;
use crate::stitch::StitchId;
use crate::syntax::tree::{Body, Extent, LineKind, Place, RepeatBody, Start, Step, StepKind, Till, Where, WorkLine};

/// Steps of the file that are tried as forgotten ones at most, and how long one is at most.
const MOST_FILLERS: usize = 60;
const LONGEST: usize = 100;

/// A forgotten step is tried with numbers up to this one.
pub(super) const MOST_OF_A_STEP: u64 = 6;

/// So many stitches are tried in one place at most.
const MOST_IN_A_PLACE: u64 = 8;

/// It may be forgotten where it stands nowhere else in the file.
const REST: &str = "leave rest";
const OTHER_SIDE: &str = "other side";

/// That a step stands beside others which it follows elsewhere says less than that a number is a little off.
const UNSURE: u32 = 1;

/// A skip is seldom forgotten where no chain goes over it.
const NOTHING_OVER: u32 = 3;

/// Edits that are thought of for one fault at most, before the likeliest of them are tried.
const MOST_EDITS: usize = 20_000;

/// What is longer is not put in brackets.
const LONGEST_IN_BRACKETS: usize = 400;

/// Of lists of more steps only so many at a time are tried in brackets.
const MOST_IN_BRACKETS: usize = 9;
const MOST_OF_A_LONG_LINE: usize = 3;
const MOST_BESIDE_LONG: usize = 3;

/// How many numbers of times are tried that would use what a line leaves, or make what it lacks.
const MOST_TIMES: usize = 12;

/// That so many steps stay outside of the brackets is no more unusual than that fewer do.
const MOST_LEFT_OUT: u32 = 5;

impl Editor<'_> {
    /// A step less.
    pub(super) fn drop_one(&self, steps: &[Span], found: &mut Vec<Candidate>) {
        if steps.len() < 2 {
            return;
        }
        for (at, step) in steps.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|n| steps.get(n));
            let span = match (before, steps.get(at + 1)) {
                (Some(before), _) => Span::new(before.end, step.end),
                (None, Some(next)) => Span::new(step.start, next.start),
                (None, None) => continue,
            };
            let twin = |other: &&Span| self.slice(**other) == self.slice(*step);
            let which = match before {
                Some(before) if steps.iter().filter(twin).count() > 1 => format!(" after `{}`", self.called(*before)),
                None if steps.iter().filter(twin).count() > 1 => " at the beginning".to_owned(),
                _ => String::new(),
            };
            let twice = before.is_some_and(|before| self.slice(*before) == self.slice(*step));
            let title = if twice {
                format!("leave out the second `{}`", self.called(*step))
            } else {
                format!("leave out `{}`{which}", self.called(*step))
            };
            // A whole repeat is hardly one too many.
            let rare = if self.slice(*step).starts_with('[') { 6 } else { 0 };
            found.push(candidate(Edit { span, text: String::new() }, title, if twice { 10 } else { 15 + rare }));
        }
    }

    /// A step in a title: its words, or the first of them where there are many.
    fn called(&self, step: Span) -> String {
        const MOST_LETTERS: usize = 120;
        let words = self.slice(step);
        if words.len() <= MOST_LETTERS {
            return words.to_owned();
        }
        let first: String = words.chars().take(MOST_LETTERS / 2).collect();
        format!("{} …", first.rsplit_once(' ').map_or(first.as_str(), |(whole, _)| whole))
    }

    /// A step more: one of those that the file uses.
    pub(super) fn add_one(
        &self,
        ListSpot { steps, end }: &ListSpot,
        fillers: &[(String, u32)],
        habits: &Habits,
        found: &mut Vec<Candidate>,
    ) {
        let simple = |filler: &&(String, u32)| *end != ListEnd::Place || fits_in_a_place(&filler.0);
        // What is long stands nowhere else.
        let short = |step: &Span| Some(self.slice(*step)).filter(|words| words.len() <= LONGEST_IN_BRACKETS);
        let words: Vec<String> = steps.iter().map(|step| short(step).map_or_else(String::new, in_lists)).collect();
        let end = match end {
            ListEnd::Line => "|",
            ListEnd::Brackets => "]",
            ListEnd::Place => ")",
        };
        let end = end.to_owned();
        // Nothing is worked before the yarn is there and the row has been begun.
        let begun = words.iter().take_while(|words| begins(words)).count();
        for (filler, weight) in fillers.iter().filter(simple) {
            // Nothing is left behind what goes to the end, and a round is closed once, at its end.
            let closes = filler.starts_with("close with ");
            if closes && steps.iter().any(|step| self.slice(*step).starts_with("close with ")) {
                continue;
            }
            let listed = in_lists(filler);
            let last = if filler.ends_with("to end") { framed(&words).end } else { steps.len() };
            let from = if closes {
                steps.len()
            } else if filler.ends_with("to end") {
                last
            } else if begins(filler) {
                0
            } else {
                begun
            };
            for at in from..=steps.len() {
                if filler.contains(" from hook") && at > begun && !is_chain(words.get(at - 1)) {
                    continue;
                }
                if found.len() >= MOST_EDITS {
                    return;
                }
                let before = at.checked_sub(1).and_then(|n| words.get(n)).unwrap_or(&end);
                let after = words.get(at).unwrap_or(&end);
                let joints = |pair: [&String; 2]| habits.joint(&pair.map(Clone::clone));
                let unlike = joints([before, &listed]) + joints([&listed, after]);
                let bare =
                    filler.starts_with("skip") && ![before, after].iter().any(|beside| beside.starts_with("ch "));
                let weight = weight + if bare { NOTHING_OVER } else { 0 };
                let Some((edit, title)) = self.added(steps, at, filler) else { continue };
                let fix = Fix { title, edits: vec![edit], safety: Safety::ChangesFabric };
                found.push(Candidate { fix, weight, order: weight + unlike + UNSURE });
            }
        }
    }

    /// A step put in before the one of this number, or behind the last; with what is said of it.
    pub(super) fn added(&self, steps: &[Span], at: usize, words: &str) -> Option<(Edit, String)> {
        match (at.checked_sub(1).and_then(|n| steps.get(n)), steps.first()) {
            (Some(step), _) => Some((
                Edit { span: Span::new(step.end, step.end), text: format!(", {words}") },
                format!("add `{words}` after `{}`", self.called(*step)),
            )),
            (None, Some(first)) => Some((
                Edit { span: Span::new(first.start, first.start), text: format!("{words}, ") },
                format!("add `{words}` before `{}`", self.called(*first)),
            )),
            (None, None) => None,
        }
    }

    /// Steps that may have been forgotten, with how uncommon it is: those of the piece, the nearest lines first, then those
    /// of other pieces; and those that only have another number.
    #[expect(clippy::too_many_lines, reason = "one sort of step after the other, the likeliest first")]
    pub(super) fn fillers(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        compiled: &Compiled,
        missing: &Missing,
    ) -> Vec<(String, u32)> {
        let mut seen: BTreeSet<String> = BTreeSet::new();
        let mut fillers: Vec<(String, u32)> = missing.wanted.iter().map(|words| (words.clone(), 12)).collect();
        seen.extend(missing.wanted.iter().cloned());
        fillers.extend(self.under_chains(line).filter(|words| seen.insert(words.clone())).map(|words| (words, 12)));
        fillers.extend(self.unworked(compiled).filter(|words| seen.insert(words.clone())).map(|words| (words, 12)));
        let passed = self.passed_spaces(line, above, compiled);
        fillers.extend(passed.into_iter().filter(|(words, _)| seen.insert(words.clone())));
        fillers.extend(self.closed_chains(line).filter(|words| seen.insert(words.clone())).map(|words| (words, 15)));
        fillers.extend(self.written(line, above, compiled, &mut seen));
        let mut more: Vec<(String, u32)> =
            nowhere_else(line, above).filter(|(words, _)| seen.insert(words.clone())).collect();
        for (words, weight) in fillers.iter().filter(|(words, _)| !words.starts_with("lead ")) {
            // What goes on to the end in one line is there once in another.
            if let Some(once) =
                words.strip_suffix(" to end").filter(|once| !once.ends_with(']') && !once.contains(" in each "))
            {
                more.extend(
                    Some(once.to_owned()).filter(|once| seen.insert(once.clone())).map(|once| (once, weight + 2)),
                );
            }
            if let Some(words) = words.strip_suffix("to end") {
                let last = (1..=2).map(|n| format!("{words}to last {n}")).filter(|words| seen.insert(words.clone()));
                more.extend(last.map(|words| (words, weight + 3)));
            }
            more.extend(
                turned_round(words)
                    .into_iter()
                    .filter(|words| seen.insert(words.clone()))
                    .map(|words| (words, weight + 2)),
            );
            more.extend(other_times(words).filter(|words| seen.insert(words.clone())).map(|words| (words, weight + 2)));
            more.extend(
                in_other_numbers(words).filter(|words| seen.insert(words.clone())).map(|words| (words, weight + 2)),
            );
            more.extend(
                in_other_places(words).filter(|words| seen.insert(words.clone())).map(|words| (words, weight + 2)),
            );
            let (stitch, number) = words.rsplit_once(' ').unwrap_or((words, ""));
            let counted = !number.is_empty() && number.chars().all(|digit| digit.is_ascii_digit());
            let alone = !words.contains([' ', '[', '(']) && self.stitches.find(words, self.terms).is_some();
            let stitch = if counted { stitch } else { words.as_str() };
            if !(counted || alone) || stitch.contains('[') {
                continue;
            }
            let alike = (1..=MOST_OF_A_STEP).map(|n| match n {
                // `inc in next 3` once is `inc`.
                1 if stitch != "ch" && stitch != "skip" => stitch.trim_end_matches(" in next").to_owned(),
                n => format!("{stitch} {n}"),
            });
            more.extend(alike.filter(|words| seen.insert(words.clone())).map(|words| (words, weight + 2)));
            let long = missing.steps.iter().map(|missing| format!("{stitch} {missing}"));
            // To pass over so many is hardly what was forgotten.
            let rare = if matches!(stitch, "leave" | "skip" | "move") { 8 } else { 3 };
            more.extend(long.filter(|words| seen.insert(words.clone())).map(|words| (words, weight + rare)));
        }
        fillers.extend(more);
        fillers.extend(self.shaping(line).into_iter().filter(|(words, _)| seen.insert(words.clone())));
        let of_others = self.into_places(above).into_iter().map(|words| (words, 17));
        let of_below = self.into_made(line, above, compiled).into_iter().map(|words| (words, 20));
        fillers.extend(of_others.chain(of_below).filter(|(words, _)| seen.insert(words.clone())));
        fillers
    }

    /// What the chains of a line lie over, as many places as they are long.
    fn under_chains(&self, line: &WorkLine) -> impl Iterator<Item = String> {
        self.chains(line).into_iter().map(|chains| format!("skip {chains}"))
    }

    /// What makes more of the stitches of a line, or fewer; likelier in words that the file has.
    fn shaping(&self, line: &WorkLine) -> Vec<(String, u32)> {
        const KNOWN: u32 = 15;
        const IN_PLAIN_WORDS: u32 = 16;
        const STRANGE: u32 = 18;
        let plain: BTreeSet<StitchId> = Spots::of(line)
            .works
            .iter()
            .filter_map(|(work, _)| self.base(self.stitches.find(&work.stitch.text, self.terms)?))
            .collect();
        let of = |plain: StitchId| {
            let shaped = self.more_or_fewer(plain).into_iter().filter(|(_, rare)| *rare == 0);
            let by_name = shaped.map(|(name, _)| {
                let known = self.text.split(|letter: char| !letter.is_alphanumeric()).any(|word| word == name);
                (name, if known { KNOWN } else { STRANGE })
            });
            by_name.chain(self.short(plain).map(|name| {
                let words = format!("2 {name} in next");
                let weight = if self.text.contains(&words) { KNOWN } else { IN_PLAIN_WORDS };
                (words, weight)
            }))
        };
        plain.into_iter().flat_map(of).collect()
    }

    /// A space that is passed over: likelier where the line works into others of its kind.
    fn passed_spaces(&self, line: &WorkLine, above: &Above<'_>, compiled: &Compiled) -> Vec<(String, u32)> {
        const BESIDE_OTHERS: u32 = 11;
        const ALONE: u32 = 15;
        let is_first = above.lines.first().is_some_and(|first| first.label.span == line.label.span);
        let made = if is_first { Vec::new() } else { self.made_below(line, compiled) };
        let named: Vec<&str> = Spots::of(line).kinds.iter().map(|(span, ..)| self.slice(*span)).collect();
        let weight = |kind: &String| if named.contains(&kind.as_str()) { BESIDE_OTHERS } else { ALONE };
        let spaces = made.into_iter().filter(|kind| kind.ends_with(" sp"));
        spaces.map(|kind| (format!("skip next {kind}"), weight(&kind))).collect()
    }

    /// What makes a picot of the chains of a line.
    fn closed_chains(&self, line: &WorkLine) -> impl Iterator<Item = String> {
        /// No picot has fewer (common practice, no source).
        const SHORTEST_PICOT: u64 = 3;
        let chains = self.chains(line).into_iter().filter(|chains| *chains >= SHORTEST_PICOT);
        let nth = |chains: u64| crate::words::ordinal(u32::try_from(chains).unwrap_or(u32::MAX));
        chains.map(move |chains| format!("sl st in {} ch from hook", nth(chains)))
    }

    /// How many chains lie side by side in a line.
    fn chains(&self, line: &WorkLine) -> BTreeSet<u64> {
        let mut chains: BTreeSet<u64> = BTreeSet::new();
        for step in Spots::of(line).lists.iter().flat_map(|list| &list.steps) {
            let number = self.slice(*step).strip_prefix("ch ").and_then(|number| number.parse::<u64>().ok());
            chains.extend(number.filter(|number| *number <= MOST_OF_A_STEP));
        }
        chains
    }

    /// Stitches of the designer's own that no line works: one of them was hardly made for nothing.
    fn unworked(&self, compiled: &Compiled) -> impl Iterator<Item = String> {
        let own = self.stitches.iter().filter(|(_, stitch)| stitch.own).map(|(_, stitch)| stitch);
        let mut names: BTreeSet<String> = own.map(|stitch| stitch.names(self.terms).short.clone()).collect();
        let work = compiled.tree.lines.iter().filter(|line| matches!(line.kind, LineKind::Work(_)));
        for line in work {
            let words = self.slice(line.span).split(|letter: char| !letter.is_alphanumeric());
            for word in words.filter(|word| !word.is_empty()) {
                names.remove(word);
            }
        }
        names.into_iter()
    }

    /// Steps that are written in the file, each once.
    fn written(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        compiled: &Compiled,
        seen: &mut BTreeSet<String>,
    ) -> Vec<(String, u32)> {
        let mut fillers: Vec<(String, u32)> = Vec::new();
        let elsewhere = compiled.tree.lines.iter().filter_map(|line| match &line.kind {
            LineKind::Work(work) => Some(work),
            _ => None,
        });
        // The nearest lines come first, the line itself before all.
        let mut near: Vec<&WorkLine> = above.lines.clone();
        let at = |work: &WorkLine| work.label.span.start;
        near.sort_by_key(|work| at(work).abs_diff(at(line)));
        let here = near.into_iter().map(|work| (work, 13));
        for (work, weight) in here.chain(elsewhere.map(|work| (work, 16))) {
            for step in Spots::of(work).lists.iter().flat_map(|list| &list.steps) {
                let words = self.slice(*step);
                // The ring is there for the first round.
                let gone = words.ends_with(" in ring") && above.lines.first().is_none_or(|first| at(first) != at(line));
                if gone || words.len() > LONGEST || fillers.len() >= MOST_FILLERS {
                    continue;
                }
                let words = squeezed(words);
                if seen.insert(words.clone()) {
                    // The lead is said for the whole piece, as a rule; and a whole repeat is seldom forgotten.
                    let rare = words.starts_with("lead ") || words == "no lead" || words.contains('[');
                    // What is left at the end of one line is there in another one only where it is shaped likewise.
                    let more = if rare || words.starts_with("leave ") { 6 } else { 0 };
                    fillers.push((words, weight + more));
                }
            }
        }
        fillers
    }

    /// The stitches of the piece, gone into the sorts of place that it makes.
    fn into_places(&self, above: &Above<'_>) -> Vec<String> {
        const MOST_STITCHES: usize = 3;
        const MOST_PLACES: usize = 7;
        let mut stitches: Vec<&str> = Vec::new();
        let mut places: Vec<String> = ["same", "last"].map(|place| format!("in {place}")).to_vec();
        for work in &above.lines {
            let spots = Spots::of(work);
            for (work, _) in spots.works {
                if !stitches.contains(&work.stitch.text.as_str()) && stitches.len() < MOST_STITCHES {
                    stitches.push(&work.stitch.text);
                }
            }
            for (kind, ..) in spots.kinds {
                let place = format!("in next {}", self.slice(kind));
                if !places.contains(&place) && places.len() < MOST_PLACES {
                    places.push(place);
                }
            }
        }
        let into = stitches.iter().flat_map(|stitch| places.iter().map(move |place| format!("{stitch} {place}")));
        // A row may have been forgotten but for its first step.
        let whole = stitches.iter().flat_map(|stitch| {
            [
                format!("2 {stitch} in each st to end"),
                format!("[2 {stitch} in next] to end"),
                format!("{stitch} to end"),
            ]
        });
        into.chain(whole).collect()
    }

    /// The stitches of the line, gone into what the row below made.
    fn into_made(&self, line: &WorkLine, above: &Above<'_>, compiled: &Compiled) -> Vec<String> {
        let is_first = above.lines.first().is_some_and(|first| first.label.span == line.label.span);
        let made = if is_first { Vec::new() } else { self.made_below(line, compiled) };
        let stitches: BTreeSet<&str> =
            Spots::of(line).works.iter().map(|(work, _)| work.stitch.text.as_str()).collect();
        stitches
            .into_iter()
            .flat_map(|stitch| made.iter().map(move |kind| format!("{stitch} in next {kind}")))
            .collect()
    }

    /// The kinds of stitch and of space that the row below a line made.
    fn made_below(&self, line: &WorkLine, compiled: &Compiled) -> Vec<String> {
        const MOST_KINDS: usize = 5;
        let here = |item: &Item| item.span.start <= line.label.span.start && line.label.span.end <= item.span.end;
        let below = compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces).find_map(|(piece, fabric)| {
            let item = piece.items.iter().position(here)?;
            fabric.sizes.iter().find_map(|size| size.rows.iter().rev().find(|row| row.item < item))
        });
        let made = below.iter().flat_map(|row| &row.ledger.made);
        made.filter_map(|made| self.kind_words(made.kind)).take(MOST_KINDS).collect()
    }

    /// Steps that were to be repeated. In a repeat they are so some times: a pass that goes to the end leaves nothing for the
    /// next one.
    pub(super) fn brackets(&self, steps: &[Step], inside: bool, extents: &[(String, u32)], found: &mut Vec<Candidate>) {
        for step in steps {
            if let StepKind::Repeat(repeat) = &step.kind
                && let RepeatBody::Steps { steps, .. } = &repeat.body
            {
                self.brackets(steps, true, extents, found);
            }
        }
        let long = steps.len() > MOST_IN_BRACKETS;
        // Of many steps, a few side by side, nearly all of them, or all up to one of them or from it on.
        let is_tried = |from: usize, to: usize| {
            let length = to + 1 - from;
            let nearly_all = steps.len() - length <= MOST_BESIDE_LONG;
            !long || length <= MOST_OF_A_LONG_LINE || nearly_all || from == 0 || to + 1 == steps.len()
        };
        for from in 0..steps.len() {
            for to in (from..steps.len()).filter(|to| is_tried(from, *to)) {
                let (Some(first), Some(last)) = (steps.get(from), steps.get(to)) else { continue };
                let whole = from == 0 && to + 1 == steps.len();
                if inside && whole
                    || !steps.get(from..=to).is_some_and(can_be_repeated)
                    || from == to && self.is_plain(first)
                {
                    continue;
                }
                let span = first.span.to(last.span);
                if span.end - span.start > LONGEST_IN_BRACKETS || found.len() >= MOST_EDITS {
                    continue;
                }
                let left_out = u32::try_from(steps.len() - (to + 1 - from)).unwrap_or(0).min(MOST_LEFT_OUT);
                // A row is joined once, as a rule, when all its repeats are done.
                let joined = matches!(last.kind, StepKind::JoinTo { .. });
                let left_out = left_out + u32::from(joined) * MOST_LEFT_OUT;
                // Of what stays in one place few are worked side by side.
                let stays = !steps.get(from..=to).is_some_and(|steps| steps.iter().any(goes_on));
                let is_too_often = |extent: &str| {
                    let times = extent.split(' ').next().and_then(|times| times.parse::<u64>().ok());
                    stays && times.is_none_or(|times| times > MOST_OF_A_STEP)
                };
                let fits = |extent: &str| (!inside || extent.ends_with("times")) && !is_too_often(extent);
                for (extent, weight) in extents.iter().filter(|(extent, _)| fits(extent)) {
                    let text = format!("[{}] {extent}", self.slice(span));
                    let title = format!("repeat it: `{text}`");
                    found.push(candidate(Edit { span, text }, title, weight + left_out));
                }
            }
        }
    }
}

/// Steps that may have been forgotten though they stand nowhere else in the file.
fn nowhere_else(line: &WorkLine, above: &Above<'_>) -> impl Iterator<Item = (String, u32)> {
    let is_first = above.lines.first().is_some_and(|first| first.label.span == line.label.span);
    let round_the_chain = is_first && matches!(above.start, Some((Start::Chain { .. }, _)));
    let other_side = round_the_chain.then(|| (OTHER_SIDE.to_owned(), 15));
    std::iter::once((REST.to_owned(), 17)).chain(other_side)
}

/// `(hdc, ch 1) in next ch-1 sp` where `(ch 1, hdc) in next ch-1 sp` is worked: the other half of a corner.
fn turned_round(words: &str) -> Option<String> {
    let (inside, place) = words.strip_prefix('(')?.split_once(')')?;
    let mut steps: Vec<&str> = inside.split(", ").collect();
    steps.reverse();
    let turned = steps.join(", ");
    (turned != inside && !inside.contains(['(', '['])).then(|| format!("({turned}){place}"))
}

/// Whether a line begins with a step, and with nothing but such steps before it.
fn begins(step: impl AsRef<str>) -> bool {
    let step = step.as_ref();
    step == "no lead" || ["lead ", "move ", "rejoin ", "turning "].iter().any(|word| step.starts_with(word))
}

/// A step as it stands among the others of its list: of a repeat only how often or how far.
fn in_lists(words: &str) -> String {
    let repeat = words.strip_prefix('[').and_then(|words| words.rsplit_once(']'));
    repeat.map_or_else(|| squeezed(words), |(_, extent)| format!("[] {}", squeezed(extent)))
}

fn is_chain(step: Option<&String>) -> bool {
    step.is_some_and(|step| step.starts_with("ch "))
}

/// Whether a step takes the hook to another place.
fn goes_on(step: &Step) -> bool {
    match &step.kind {
        StepKind::Work(work) => work.places != Where::In(Place::Same),
        StepKind::Group { place, .. } => *place != Where::In(Place::Same),
        StepKind::Chain(_) => false,
        _ => true,
    }
}

/// Whether a step can be one of several in one place: it doesn't go to another one.
fn fits_in_a_place(step: &str) -> bool {
    let goes_on = ["skip", "leave", "to end", "to last", "move", "rejoin"];
    !step.contains(" in ") && !step.starts_with('[') && !goes_on.iter().any(|words| step.contains(words))
}

/// `sc in next 2 ch` where `sc in next ch` or `sc in next 3 ch` is worked.
fn in_other_places(words: &str) -> impl Iterator<Item = String> {
    let (before, place) = words.split_once(" in next ").unwrap_or_default();
    let (number, kind) = place.split_once(' ').unwrap_or(("", place));
    let counted = number.parse::<u64>().is_ok();
    let kind = if counted { kind } else { place };
    let most = if kind.is_empty() || kind.parse::<u64>().is_ok() || kind.contains([' ', ']', ')']) {
        0
    } else {
        MOST_OF_A_STEP
    };
    (1..=most).map(move |number| match number {
        1 => format!("{before} in next {kind}"),
        number => format!("{before} in next {number} {kind}"),
    })
}

/// `5 tr in next ch-4 sp` where `4 tr in next ch-4 sp` is worked.
fn in_other_numbers(words: &str) -> impl Iterator<Item = String> {
    let (number, rest) = words.split_once(' ').unwrap_or_default();
    let several = !number.is_empty() && number.chars().all(|digit| digit.is_ascii_digit()) && rest.contains(" in ");
    let most = if several { MOST_IN_A_PLACE } else { 0 };
    (2..=most).map(move |number| format!("{number} {rest}"))
}

/// `[sc, inc] 5 times` where `[sc, inc] 6 times` is worked.
fn other_times(words: &str) -> impl Iterator<Item = String> {
    let repeat = words.strip_suffix(" times").and_then(|words| words.rsplit_once("] "));
    let (held, times) = repeat.map_or(("", None), |(held, times)| (held, times.parse::<u64>().ok()));
    let near = times.into_iter().flat_map(|times| times.saturating_sub(2).max(2)..=times + 2);
    near.map(move |times| format!("{held}] {times} times"))
}

/// Whether steps are such as stand in brackets: stitches, chains and what is skipped, none of them at a place that is there
/// once. One step alone is in brackets where it has no number of its own.
fn can_be_repeated(steps: &[Step]) -> bool {
    let goes_on = |places: &Where| {
        !matches!(
            places,
            Where::In(Place::First | Place::Last | Place::Lead | Place::FromHook(_) | Place::Mark(_))
                | Where::Till(Till::End | Till::Last(_) | Till::LastOf(_) | Till::Mark(_))
        )
    };
    let fits = |step: &Step| match &step.kind {
        StepKind::Work(work) => goes_on(&work.places),
        StepKind::Group { place, .. } => goes_on(place),
        StepKind::Chain(_)
        | StepKind::Skip { .. }
        | StepKind::Together(_)
        | StepKind::Repeat(_)
        | StepKind::JoinTo { .. } => true,
        _ => false,
    };
    let makes = |step: &Step| matches!(step.kind, StepKind::Work(_) | StepKind::Group { .. } | StepKind::Together(_));
    match steps {
        [Step { kind: StepKind::Work(work), .. }] => {
            (work.each.is_some() || work.places == Where::Bare) && goes_on(&work.places)
        }
        [Step { kind: StepKind::Group { place, .. }, .. }] => goes_on(place),
        [_] => false,
        steps => steps.iter().all(fits) && steps.iter().any(makes),
    }
}

/// How often, or how far, the lines of a piece repeat, and what would use all that is left over; with how uncommon each is.
pub(super) fn extents(lines: &[&WorkLine], left_over: &[u64], editor: &Editor<'_>) -> Vec<(String, u32)> {
    const WRITTEN: u32 = 9;
    const UNWRITTEN: u32 = 12;
    let mut written: Vec<(String, usize)> = Vec::new();
    let mut see = |step: &Step| {
        let StepKind::Repeat(repeat) = &step.kind else { return };
        let words = match &repeat.extent {
            Extent::Times(amount) => match numbers(amount, step.span).as_slice() {
                [one] if amount.terms.len() == 1 => format!("{} times", one.value),
                _ => editor.slice(repeat.extent_span).to_owned(),
            },
            Extent::Till(_) => editor.slice(repeat.extent_span).to_owned(),
        };
        match written.iter_mut().find(|(known, _)| *known == words) {
            Some((_, often)) => *often += 1,
            None => written.push((words, 1)),
        }
    };
    for line in lines {
        if let Body::Steps(steps) = &line.body {
            steps.iter().for_each(&mut see);
        }
    }
    // What most lines of the piece do is likelier than what one does.
    let most = written.iter().map(|(_, often)| *often).max().unwrap_or_default();
    let mut extents: Vec<(String, u32)> =
        written.into_iter().map(|(words, often)| (words, WRITTEN + u32::from(often < most))).collect();
    let mut add = |words: String, weight: u32| {
        if !extents.iter().any(|(known, _)| *known == words) {
            extents.push((words, weight));
        }
    };
    add("to end".to_owned(), WRITTEN + 1);
    (2..=8).for_each(|times| add(format!("{times} times"), UNWRITTEN));
    for left in left_over {
        let more = (1..=*left).filter(|more| left.is_multiple_of(*more)).take(MOST_TIMES);
        more.for_each(|more| add(format!("{} times", more + 1), UNWRITTEN + 1));
    }
    extents
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
