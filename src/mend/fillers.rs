//! Which steps may have been forgotten, and how uncommon each is.

use std::collections::BTreeSet;

use super::candidates::{Above, Editor};
use super::missing::Missing;
use super::models::{Way, along, without_ones};
use super::one_step::MOST_OF_A_STEP;
use super::spots::Spots;
use super::squeezed;
use crate::Compiled;
use crate::pattern::model::Item;
use crate::stitch::{Sort, StitchId};
use crate::syntax::tree::{Body, LineKind, Start, Step, StepKind, Where, WorkLine};

/// Steps of the file that are tried as forgotten ones at most, and how long one is at most.
const MOST_FILLERS: usize = 60;
const LONGEST: usize = 100;

/// So many stitches are tried in one place at most.
const MOST_IN_A_PLACE: u64 = 8;

/// It may be forgotten where it stands nowhere else in the file.
const REST: &str = "leave rest";
const OTHER_SIDE: &str = "other side";

/// Steps that may have been forgotten, each once, with how uncommon it is.
#[derive(Default)]
struct Fillers {
    found: Vec<(String, u32)>,
    seen: BTreeSet<String>,
}

impl Fillers {
    fn extend(&mut self, all: impl IntoIterator<Item = String>, weight: u32) {
        for words in all {
            if self.seen.insert(words.clone()) {
                self.found.push((words, weight));
            }
        }
    }

    /// A step with another extent, number or place than it has elsewhere.
    fn otherwise(&mut self, words: &str, weight: u32) {
        // What goes on to the end in one line is there once in another.
        let once = words.strip_suffix(" to end").filter(|once| !once.ends_with(']') && !once.contains(" in each "));
        self.extend(once.map(str::to_owned), weight + 2);
        if let Some(words) = words.strip_suffix("to end") {
            self.extend((1..=2).map(|n| format!("{words}to last {n}")), weight + 3);
        }
        self.extend(turned_round(words), weight + 2);
        self.extend(other_times(words), weight + 2);
        self.extend(in_other_numbers(words), weight + 2);
        self.extend(into_the_nth(words), weight + 2);
        self.extend(in_other_places(words), weight + 2);
    }
}

impl Editor<'_> {
    /// Steps that may have been forgotten, with how uncommon it is: those of the piece, the nearest lines first, then those
    /// of other pieces; and those that only have another number.
    pub(super) fn fillers(
        &self,
        line: &WorkLine,
        above: &Above<'_>,
        compiled: &Compiled,
        missing: &Missing,
    ) -> Vec<(String, u32)> {
        let below = self.kinds_below(line, above, compiled);
        let mut all = Fillers::default();
        all.extend(missing.wanted.iter().cloned(), 12);
        all.extend(self.under_chains(line), 12);
        all.extend(self.unworked(compiled), 12);
        all.found
            .extend(self.passed_spaces(line, &below).into_iter().filter(|(words, _)| all.seen.insert(words.clone())));
        all.extend(self.closed_chains(line), 15);
        all.extend(self.as_it_begins(line, &below), 12);
        all.extend(self.between_the_rows(line, above), 12);
        all.extend(into_made(missing.stitches(), &below), 14);
        all.extend(self.into_the_ring(line, above), 10);
        all.extend(to_the_end(line), 14);
        self.written(line, above, compiled, &mut all);
        for (words, weight) in all.found.clone() {
            all.extend(into_spaces(&words, &below), weight + 1);
        }
        let known = all.found.clone();
        for (words, weight) in nowhere_else(line, above) {
            all.extend([words], weight);
        }
        for (words, weight) in known.iter().filter(|(words, _)| !words.starts_with("lead ")) {
            all.otherwise(words, *weight);
            self.in_runs(words, *weight, missing, &mut all);
        }
        for (words, weight) in self.shaping(line) {
            all.extend([words], weight);
        }
        all.extend(self.into_places(above), 17);
        let stitches: BTreeSet<&str> =
            Spots::of(line).works.iter().map(|(work, _)| work.stitch.text.as_str()).collect();
        all.extend(into_made(stitches.iter().copied(), &below), 20);
        self.strangers(&stitches, missing, &mut all.found);
        all.found
    }

    /// A step in a stitch that the line has not is rarer than one in its own; where the line has none, no stitch is stranger than
    /// another.
    fn strangers(&self, own: &BTreeSet<&str>, missing: &Missing, found: &mut [(String, u32)]) {
        const STRANGER: u32 = 2;
        // A row of other stitches seldom goes on in slip stitches.
        const SLIPPED: u32 = 6;
        if own.is_empty() {
            return;
        }
        let single = |name: &str| self.stitches.find(name, self.terms).and_then(|id| self.base(id));
        let known: BTreeSet<StitchId> = own.iter().filter_map(|name| single(name)).collect();
        for (words, weight) in found.iter_mut().filter(|(words, _)| !missing.wanted.contains(words)) {
            let mut parts = words.split(|letter: char| !letter.is_alphanumeric());
            let first = parts.find_map(single);
            if let Some(stitch) = first.filter(|stitch| !known.contains(stitch)) {
                let slips = self.stitches.get(stitch).is_some_and(|stitch| stitch.sort == Sort::Slip);
                *weight += if slips { SLIPPED } else { STRANGER };
            }
        }
    }

    /// A stitch, chains or what is passed over, with other numbers.
    fn in_runs(&self, words: &str, weight: u32, missing: &Missing, all: &mut Fillers) {
        let (stitch, number) = words.rsplit_once(' ').unwrap_or((words, ""));
        let counted = !number.is_empty() && number.chars().all(|digit| digit.is_ascii_digit());
        let alone = !words.contains([' ', '[', '(']) && self.stitches.find(words, self.terms).is_some();
        let stitch = if counted { stitch } else { words };
        if !(counted || alone) || stitch.contains('[') {
            return;
        }
        let alike = (1..=MOST_OF_A_STEP).map(|n| match n {
            // `inc in next 3` once is `inc`.
            1 if stitch != "ch" && stitch != "skip" => stitch.trim_end_matches(" in next").to_owned(),
            n => format!("{stitch} {n}"),
        });
        all.extend(alike, weight + 2);
        // To pass over so many is hardly what was forgotten.
        let rare = if matches!(stitch, "leave" | "skip" | "move") { 8 } else { 3 };
        all.extend(missing.steps.iter().map(|missing| format!("{stitch} {missing}")), weight + rare);
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
    fn passed_spaces(&self, line: &WorkLine, below: &[String]) -> Vec<(String, u32)> {
        const BESIDE_OTHERS: u32 = 11;
        const ALONE: u32 = 15;
        let named: Vec<&str> = Spots::of(line).kinds.iter().map(|(span, ..)| self.slice(*span)).collect();
        let weight = |kind: &String| if named.contains(&kind.as_str()) { BESIDE_OTHERS } else { ALONE };
        let spaces = below.iter().filter(|kind| kind.ends_with(" sp"));
        spaces.map(|kind| (format!("skip next {kind}"), weight(kind))).collect()
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
            if names.is_empty() {
                break;
            }
            let words = self.slice(line.span).split(|letter: char| !letter.is_alphanumeric());
            for word in words.filter(|word| !word.is_empty()) {
                names.remove(word);
            }
        }
        names.into_iter()
    }

    /// Steps that are written in the file, each once.
    fn written(&self, line: &WorkLine, above: &Above<'_>, compiled: &Compiled, all: &mut Fillers) {
        let most = all.found.len() + MOST_FILLERS;
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
            if all.found.len() >= most {
                return;
            }
            for step in Spots::of(work).lists.iter().flat_map(|list| &list.steps) {
                let words = self.slice(*step);
                // The ring is there for the first round.
                let gone = words.ends_with(" in ring") && above.lines.first().is_none_or(|first| at(first) != at(line));
                if gone || words.len() > LONGEST || all.found.len() >= most {
                    continue;
                }
                let words = squeezed(words);
                // The lead is said for the whole piece, as a rule; and a whole repeat is seldom forgotten, but where the line has it twice.
                let whole = words.contains('[') && at(work) != at(line);
                let rare = words.starts_with("lead ") || words == "no lead" || whole;
                // What is left at the end of one line is there in another one only where it is shaped likewise.
                let more = if rare || words.starts_with("leave ") { 6 } else { 0 };
                all.extend([words], weight + more);
            }
        }
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

    /// The groups that a line goes on with, as it begins with one whose first stitch is its chain: `(tr, ch 1, tr) in next ch-7 sp`
    /// behind `ch 4 as tr, ch 1, tr in same`.
    fn as_it_begins(&self, line: &WorkLine, below: &[String]) -> impl Iterator<Item = String> {
        let group = || {
            let Body::Steps(steps) = &line.body else { return None };
            let from = steps.iter().position(|step| matches!(step.kind, StepKind::ChainAs { .. }))?;
            let (_, first) = self.slice(steps.get(from)?.span).rsplit_once(" as ")?;
            let rest = steps.get(from + 1..)?;
            let last = rest.iter().take_while(|step| {
                self.slice(step.span).ends_with(" in same") || matches!(step.kind, StepKind::Chain(_))
            });
            let words: Vec<&str> = last.map(|step| self.slice(step.span).trim_end_matches(" in same")).collect();
            let closed = words.iter().rposition(|words| !words.starts_with("ch "))?;
            Some(format!("({first}, {})", words.get(..=closed)?.join(", ")))
        };
        let group = group();
        let into: Vec<String> = below
            .iter()
            .filter(|kind| kind.ends_with(" sp"))
            .filter_map(|kind| Some(format!("{} in next {kind}", group.as_ref()?)))
            .collect();
        into.into_iter()
    }

    /// What lies in line with the steps that two rows around a line have in the same words.
    fn between_the_rows(&self, line: &WorkLine, above: &Above<'_>) -> Vec<String> {
        const FARTHEST_ROW: usize = 4;
        let steps = |at: Option<usize>| -> Option<&[Step]> {
            match &above.lines.get(at?)?.body {
                Body::Steps(steps) => Some(steps),
                _ => None,
            }
        };
        let Some(at) = above.lines.iter().position(|other| other.label.span == line.label.span) else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for far in 1..=FARTHEST_ROW {
            let (up, down) =
                (|times: usize| steps(at.checked_sub(far * times)), |times: usize| steps(at.checked_add(far * times)));
            let pairs = [(up(1), down(1), Way::Between), (up(1), up(2), Way::Beyond), (down(1), down(2), Way::Beyond)];
            for (ones, others, way) in pairs {
                let (Some(ones), Some(others)) = (ones, others) else { continue };
                let words = |step: &Step| in_next_one(&squeezed(self.slice(step.span)));
                let numbered =
                    |words: &String| words.len() <= LONGEST && words.contains(|letter: char| letter.is_ascii_digit());
                let pairs = ones
                    .iter()
                    .map(words)
                    .filter(numbered)
                    .flat_map(|one| others.iter().map(words).map(move |other| (one.clone(), other)));
                found.extend(pairs.filter_map(|(one, other)| {
                    let says_no_one = without_ones(&one) == one && without_ones(&other) == other;
                    let words = along(&one, &other, way)?.replace(" in next 1 ", " in next ");
                    Some(if says_no_one { without_ones(&words) } else { words })
                }));
            }
        }
        found
    }

    /// The same as `made_below`; nothing is below the first row.
    pub(super) fn kinds_below(&self, line: &WorkLine, above: &Above<'_>, compiled: &Compiled) -> Vec<String> {
        let is_first = above.lines.first().is_some_and(|first| first.label.span == line.label.span);
        if is_first { Vec::new() } else { self.made_below(line, compiled) }
    }

    /// The first round as a whole, where the piece begins with a ring: as many stitches as it states, in those of the lines around it.
    fn into_the_ring(&self, line: &WorkLine, above: &Above<'_>) -> Vec<String> {
        const MOST_STITCHES: usize = 3;
        const MOST_IN_A_RING: u64 = 24;
        let is_first = above.lines.first().is_some_and(|first| first.label.span == line.label.span);
        let on_ring = matches!(above.start, Some((Start::Ring | Start::Chain { joined: true, .. }, _)));
        let steps = match &line.body {
            Body::Steps(steps) => steps.as_slice(),
            Body::As { .. } | Body::Unread => return Vec::new(),
        };
        let begun = |step: &Step| matches!(step.kind, StepKind::Lead(_) | StepKind::ChainAs { .. });
        if !is_first || !on_ring || !steps.iter().all(begun) {
            return Vec::new();
        }
        let stated = line.stated.iter().flat_map(|stated| &stated.parts).flat_map(|part| part.amount.numbers());
        let stated: Vec<u64> = stated.map(|number| number.value).collect();
        let numbers = if stated.is_empty() { (4..=MOST_IN_A_RING).collect() } else { stated };
        let mut stitches: Vec<&str> = Vec::new();
        for work in above.lines.iter().flat_map(|line| Spots::of(line).works) {
            let name = work.0.stitch.text.as_str();
            if !stitches.contains(&name) && stitches.len() < MOST_STITCHES {
                stitches.push(name);
            }
        }
        let each = |stitch: &&str| numbers.iter().map(|n| format!("{n} {stitch} in ring")).collect::<Vec<_>>();
        stitches.iter().flat_map(each).collect()
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
}

/// A row of which only the first step was written goes on in its stitch.
fn to_the_end(line: &WorkLine) -> Option<String> {
    match (Spots::of(line).works.as_slice(), &line.body) {
        ([(work, _)], Body::Steps(steps)) if steps.len() == 1 && matches!(work.places, Where::In(_)) => {
            Some(format!("{} to end", work.stitch.text))
        }
        _ => None,
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

/// Stitches gone into what the row below made.
fn into_made<'s>(stitches: impl IntoIterator<Item = &'s str>, below: &[String]) -> Vec<String> {
    stitches.into_iter().flat_map(|stitch| below.iter().map(move |kind| format!("{stitch} in next {kind}"))).collect()
}

/// `sc in next ch-4 sp` where `sc in next ch-5 sp` is worked, and the row below has only the one.
fn into_spaces(words: &str, below: &[String]) -> impl Iterator<Item = String> {
    let named = words.find("ch-").and_then(|from| {
        let end = from + words.get(from..)?.find(" sp")? + " sp".len();
        let kind = words.get(from..end)?;
        let length = kind.trim_start_matches("ch-").trim_end_matches(" sp");
        length.bytes().all(|digit| digit.is_ascii_digit()).then(|| kind.to_owned())
    });
    let is_gone = named.as_ref().is_some_and(|named| !below.contains(named));
    let others = below.iter().filter(|kind| is_gone && kind.starts_with("ch-"));
    let all: Vec<String> = others.filter_map(|kind| Some(words.replace(named.as_ref()?, kind))).collect();
    all.into_iter()
}

/// `dc in next 1 dc` for `dc in next dc`.
fn in_next_one(words: &str) -> String {
    const NEXT: &str = " in next ";
    let mut all = String::with_capacity(words.len());
    let mut rest = words;
    while let Some((before, behind)) = rest.split_once(NEXT) {
        all.push_str(before);
        all.push_str(NEXT);
        all.push_str(if behind.starts_with(|letter: char| letter.is_ascii_digit()) { "" } else { "1 " });
        rest = behind;
    }
    all + rest
}

/// `sc in 3rd tr` where `sc in 4th tr` is worked.
fn into_the_nth(words: &str) -> impl Iterator<Item = String> {
    const MOST_AWAY: u32 = 2;
    let place = words.split_once(" in ").and_then(|(stitch, place)| {
        let (nth, kind) = place.split_once(' ')?;
        let number =
            nth.strip_suffix("st").or(nth.strip_suffix("nd")).or(nth.strip_suffix("rd")).or(nth.strip_suffix("th"))?;
        Some((stitch, number.parse::<u32>().ok()?, kind)).filter(|_| !kind.ends_with("from hook"))
    });
    place.into_iter().flat_map(|(stitch, own, kind)| {
        let all = own.saturating_sub(MOST_AWAY).max(1)..=own.saturating_add(MOST_AWAY);
        all.map(move |number| format!("{stitch} in {} {kind}", crate::words::ordinal(number)))
    })
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
