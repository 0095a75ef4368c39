//! Which numbers the rows of a piece have, and rows that are said with others.

use ringtrue_grammar::prose::Rule;

use super::sentences::{looks_like_work, sentences};
use super::{Reader, Written, entry, line_of, parsed};
use crate::read::blocks::Block;
use crate::read::label::{self, Also, Label};
use crate::read::lexicon::{Token, is_amount};
use crate::read::told::{Result, Unread};

impl Reader<'_> {
    /// A label with the numbers that it has in the notation, where its text leaves them out or begins elsewhere.
    pub(super) fn numbered(&mut self, mut label: Label) -> Label {
        let next = self.piece.last_number(0).saturating_add(1);
        if label.spans.is_empty() {
            let follows_one =
                self.goes_on.as_ref().is_some_and(|next| next.spans.iter().flatten().all(|(from, _)| *from == 1));
            if label.set_up && follows_one && self.piece.written.is_empty() {
                self.piece.shift = 1;
            }
            label.spans = vec![Some((next, next))];
            let sizes = self.lexicon.sizes.max(1);
            if (1..sizes).any(|size| self.piece.last_number(size) != self.piece.last_number(0)) {
                let next = |size| self.piece.last_number(size).saturating_add(1);
                label.spans = (0..sizes).map(|size| Some((next(size), next(size)))).collect();
            }
            label.bare = self.piece.open_ended;
            if !label.next.is_empty() {
                let sizes = 0..self.lexicon.sizes.max(1);
                let span = |size: usize| {
                    let from = self.piece.last_number(size).saturating_add(1);
                    let rows = label.next.get(size).or(label.next.first()).copied().unwrap_or(1);
                    Some((from, from.saturating_add(rows).saturating_sub(1)))
                };
                label.spans = sizes.map(span).collect();
            }
            return label;
        }
        if let ([span], true) = (label.spans.as_slice(), !self.piece.shifts.is_empty()) {
            label.spans = vec![*span; self.piece.shifts.len()];
        }
        for (size, span) in label.spans.iter_mut().enumerate() {
            let Some((from, to)) = span else { continue };
            *from = from.saturating_add(self.piece.shift_in(size));
            *to = to.saturating_add(self.piece.shift_in(size));
        }
        if let Also::These(others) = &mut label.also {
            for other in others {
                *other = other.saturating_add(self.piece.shift);
            }
        }
        label
    }

    /// `3. sc around (18)`, where it is the next round.
    pub(super) fn entry(&mut self, text: &str, tokens: &[Token]) -> Option<Label> {
        let (from, to, ends) = entry(text)?;
        let (number, to) = (u32::try_from(from).ok()?, u32::try_from(to).ok()?);
        let again = self.lexicon.read(text.get(ends..)?);
        let works = tokens.iter().any(|token| token.text.starts_with('~') || token.text == "ring")
            || again.first().is_some_and(|token| matches!(token.text.as_str(), "as" | "rep"));
        let next = self.piece.last_number(0).checked_add(1)?;
        let as_piece = again.iter().take(3).any(|token| token.text.starts_with('@'));
        ((works || as_piece) && number == next).then(|| Label {
            round: true,
            short: true,
            spans: vec![Some((number, to))],
            ends,
            ..Label::default()
        })
    }

    /// `Repeat rows 3 and 4 once more.`, `Repeat Row 2 for 20 (22, 24) more rows, then Row 3 once.`; what else is said there are
    /// words for the maker.
    pub(super) fn repeats_rows(&mut self, block: &Block, tokens: &[Token]) -> bool {
        let all = sentences(&block.text);
        let Some((first, rest)) = all.split_first() else { return false };
        let said = line_of(&self.lexicon.read(first));
        let (words, count) = said_alone(&said);
        let other = self.rep_in_other_words(&words);
        if tokens.first().is_none_or(|token| token.text != "rep") && other.is_none() {
            return false;
        }
        let words = other.unwrap_or(words);
        let before = self.piece.clone();
        let (words, in_all) = rows_in_all(&words);
        let parts: Vec<&str> = words.trim_end_matches([' ', '.']).split(" , then ").collect();
        for part in parts {
            let part = if part.starts_with("rep ") { part.to_owned() } else { format!("rep {part}") };
            if !(self.repeats_until(&part) || self.repeats_times(&part)) {
                self.piece = before;
                return false;
            }
        }
        let said_again = self.piece.last_number(0).saturating_sub(before.last_number(0));
        let shifted = self.piece.last_number(0).saturating_sub(self.piece.shift);
        if in_all.is_some_and(|rows| rows != said_again && rows != shifted && rows != self.piece.last_number(0)) {
            self.piece = before;
            return false;
        }
        if let Some(count) = count {
            self.counted_last(&count);
        }
        for sentence in rest {
            let words = line_of(&self.lexicon.read(sentence));
            match count_alone(&words).or_else(|| self.total_alone(&words)) {
                Some(count) => self.counted_last(&count),
                None if looks_like_work(&self.lexicon.read(sentence)) => {
                    self.piece = before;
                    return false;
                }
                None => self.beside(sentence),
            }
        }
        true
    }

    /// `( 248 dc )`, `— 168/188 dc, 4 ch-2 sps`: a sentence that is a total by kinds.
    fn total_alone(&mut self, words: &str) -> Option<String> {
        let begins = words.trim_start_matches(['(', '[', '{', '–', '—', '-', '=', ' ']);
        begins.starts_with(|c: char| c.is_ascii_digit()).then_some(())?;
        let said = parsed(Rule::total_said, words.trim_end_matches([' ', '.']))?;
        let count = said.into_inner().find(|part| part.as_rule() == Rule::count)?;
        self.count(&count, &Label::default()).ok().flatten()
    }

    /// A count that stands behind rows that are said again.
    fn counted_last(&mut self, count: &str) {
        if let Some(line) =
            self.piece.lines.last_mut().filter(|line| line.starts_with("again ") && !line.contains(" = "))
        {
            line.push_str(" = ");
            line.push_str(count);
        }
    }

    /// `Sc in each st around for 36 rounds.`: so many rows that are all alike.
    pub(super) fn for_rows(&mut self, words: &str) -> bool {
        if self.only_for.is_some() {
            return false;
        }
        // `*fpdc, dc* around for 1 round, then *fpdc in fpdc, dc in dc* for 5 rounds`.
        let parts: Vec<&str> = words.split(" , then ").collect();
        let each = |part: &&str| [" rnd", " row"].iter().any(|word| part.contains(word)) && part.contains(" for ");
        if parts.len() > 1 && parts.iter().all(each) {
            let before = self.piece.clone();
            let read = parts.iter().all(|part| self.for_rows(part));
            if !read {
                self.piece = before;
            }
            return read;
        }
        let (words, mut count) = said_alone(words);
        let words = so_many_of(&words).unwrap_or(words);
        let begins = |steps: &str| {
            steps
                .trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, ' ' | '*' | '[' | '('))
                .starts_with('~')
        };
        // A repeat without an end goes round.
        let starred = |steps: &str| {
            let open = steps.starts_with("* ") && steps.ends_with(" *") && steps.matches('*').count() == 2;
            if open { format!("{steps} around") } else { steps.to_owned() }
        };
        let Some((steps, rest)) = words.split_once(" for ").filter(|(steps, _)| begins(steps)) else {
            return false;
        };
        let all: Vec<&str> = rest.split(' ').collect();
        let ([number, word @ ("row" | "rnd"), behind @ ..]
        | ["next", number, word @ ("row" | "rnd"), behind @ ..]
        | [number, "more" | "further", word @ ("row" | "rnd"), behind @ ..]) = all.as_slice()
        else {
            return false;
        };
        let each: Option<Vec<u32>> = number.split('/').map(|one| one.parse().ok()).collect();
        let Some(next) = each.filter(|each| !each.contains(&0) && !self.piece.written.is_empty()) else { return false };
        let behind = behind.join(" ");
        let behind = behind.trim_matches(['.', ' ', '-', '–', '—', '=']);
        count = count.or_else(|| count_alone(behind));
        if !behind.is_empty() && count.is_none() {
            return false;
        }
        let label = self.numbered(Label { round: *word == "rnd", next, ..Label::default() });
        let Ok(lines) = self.line_of(&label, None, &starred(steps)) else { return false };
        self.piece.lines.extend(lines);
        if let Some((line, count)) = self.piece.lines.last_mut().zip(count).filter(|(line, _)| !line.contains(" = ")) {
            line.push_str(" = ");
            line.push_str(&count);
        }
        true
    }

    /// `Work straight for 8 rounds`, behind a label that is for so many: one stitch in each.
    pub(super) fn straight(&self, label: &Label, words: &str) -> Option<String> {
        let rest =
            ["work straight", "work even", "straight", "even"].iter().find_map(|begins| words.strip_prefix(begins))?;
        let last = self.piece.written.last()?;
        let all: Vec<&str> = rest.trim().split(' ').collect();
        let behind = match all.as_slice() {
            ["for", number, "row" | "rnd", behind @ ..] if label.is_so_many(number) => behind,
            ["for", ..] => return None,
            behind => behind,
        };
        let stitch = super::ends::only_stitch(&last.steps)?;
        let lead = last
            .steps
            .split(", ")
            .next()
            .filter(|step| step.starts_with("lead ch ") || step.starts_with("ch ") && step.contains(" as "));
        let lead =
            lead.map(|lead| lead.trim_start_matches("lead ").split(" as ").next().unwrap_or(lead).to_owned() + " , ");
        Some(format!("{}~{stitch} in each st around {}", lead.unwrap_or_default(), behind.join(" ")))
    }

    /// `Continue to increase by 6 sts each round in the same way until you have 60 sts`, for several rounds: each goes on as the two
    /// above it do, and the last of them has to have what is said.
    pub(super) fn shaped_on(&mut self, label: &Label, words: &str) -> Option<Result<Vec<String>>> {
        let shaped = ["~inc", "~dec", "increas", "decreas"].iter().any(|word| words.contains(word));
        let other = |word: &str| word.starts_with('~') && !matches!(word, "~inc" | "~dec" | "~invdec");
        let says = GOES_ON.iter().any(|said| words.contains(said));
        let named =
            words.split(' ').any(|word| other(word) || matches!(word, "*" | "rep" | "each" | "ch") && word != "each");
        let (from, to) = label
            .spans
            .first()
            .copied()
            .flatten()
            .filter(|span| label.spans.iter().all(|other| *other == Some(*span)))?;
        if !says || !shaped || named {
            return None;
        }
        let [.., below, last] = self.piece.written.as_slice() else { return None };
        let (below, last) = (Shaped::of(&below.steps)?, Shaped::of(&last.steps)?);
        let up = below.plain + 1 == last.plain;
        let alike = last.stitch == below.stitch && last.shaping == below.shaping && last.lead == below.lead;
        if !alike || !up && last.plain + 1 != below.plain || up != last.increases() {
            return None;
        }
        let stated =
            self.piece.lines.iter().rev().find(|line| line.starts_with('r')).and_then(|line| line.split_once(" = "));
        let stated = stated.and_then(|(_, count)| count.split(' ').next()?.parse::<u32>().ok());
        let times = last.times.or_else(|| stated.map(|count| count / last.takes_up().max(1)))?;
        let rows = to.checked_sub(from)?.checked_add(1)?;
        let end = if up { last.plain.checked_add(rows)? } else { last.plain.checked_sub(rows)? };
        let total = Shaped { plain: end, ..last.clone() }.takes_up().checked_mul(times)?;
        if !words.split(' ').any(|word| word == total.to_string()) {
            return Some(Err(Unread::new("how many there are in the last of them")));
        }
        let word = if label.round { "rnd" } else { "row" };
        let mut lines = Vec::new();
        for step in 1..=rows {
            let plain = if up { last.plain.saturating_add(step) } else { last.plain.saturating_sub(step) };
            let row = Shaped { plain, ..last.clone() };
            let (number, steps) = (from.saturating_add(step).saturating_sub(1), row.told(times));
            lines.push(format!("{word} {number}: {steps} = {}", row.takes_up().saturating_mul(times)));
            let spans = vec![Some((number, number)); label.spans.len()];
            self.piece.written.push(Written { spans, round: label.round, steps, ..Written::default() });
        }
        Some(Ok(lines))
    }

    fn repeats_times(&mut self, words: &str) -> bool {
        let pattern = self.piece.pattern_row.map(|row| format!("row {row}"));
        let words = &pattern
            .map_or_else(|| words.to_owned(), |row| words.replace("patt row", &row).replace("pattern row", &row));
        let last = self.piece.last_number(0);
        let cited = self.rows_again(words);
        let Some((from, to, numbers, rows)) = cited.filter(|(from, to, ..)| *from >= 1 && from <= to && *to <= last)
        else {
            return false;
        };
        let cited = to.saturating_add(1).saturating_sub(from).max(1);
        if rows && !numbers.iter().all(|number| number.is_multiple_of(cited)) {
            return false;
        }
        let Some(written) = self.piece.with_number(0, to).cloned() else { return false };
        let mut times: Vec<u32> = numbers.iter().map(|number| if rows { number / cited } else { *number }).collect();
        // Below lines for some sizes they are said of those alone.
        if let Some(only) = self.only_for.as_ref().or(self.piece.only_for.as_ref()).filter(|_| times.len() == 1) {
            let number = times.first().copied().unwrap_or_default();
            times = only.iter().map(|is_for| if *is_for { number } else { 0 }).collect();
        }
        let told: Vec<String> = times.iter().map(u32::to_string).collect();
        let word = if written.round { "rnd" } else { "row" };
        let alike = written.spans.iter().flatten().all(|span| Some(*span) == written.spans.first().copied().flatten());
        // A number is another row where the sizes have other numbers; the last rows are the last ones in each of them.
        let range = match (alike, to == last, cited) {
            (true, ..) if from == to => format!(" {word} {from}"),
            (true, ..) => format!(" {word}s {from}-{to}"),
            (false, true, 1) => String::new(),
            (false, true, rows) => format!(" last {rows} {word}s"),
            (false, false, _) => return false,
        };
        self.piece.lines.push(format!("again{range}, {} times", told.join(" / ")));
        let spans = (0..written.spans.len()).map(|size| {
            let times = times.get(size).or(times.first()).copied().unwrap_or(1);
            let last = self.piece.last_number(size);
            (times > 0).then(|| (last.saturating_add(1), last.saturating_add(times.saturating_mul(cited))))
        });
        let spans = spans.collect();
        self.piece.written.push(Written { spans, ..written });
        true
    }

    /// `Repeat rows 4 and 5 until there are 43 rows.`
    fn repeats_until(&mut self, words: &str) -> bool {
        let words = &so_many_in_all(words);
        let until = words.contains(" until ") && words.starts_with("rep ") && !self.piece.written.is_empty();
        let Some(round) = self.piece.written.last().map(|written| written.round).filter(|_| until) else {
            return false;
        };
        let spans = (0..self.lexicon.sizes.max(1)).map(|size| {
            let next = self.piece.last_number(size).saturating_add(1);
            Some((next, next))
        });
        let label = Label { round, spans: spans.collect(), ..Label::default() };
        self.line_of(&label, None, words).is_ok_and(|lines| {
            self.piece.lines.extend(lines);
            true
        })
    }

    /// `Work even for 10 rows`, `Work 3 rows straight`: the stitch of the row above, one in each.
    pub(super) fn works_even(&mut self, words: &str) -> bool {
        let all: Vec<&str> = words.split(' ').filter(|word| *word != ".").collect();
        let even = all.iter().any(|word| matches!(*word, "even" | "straight" | "evenly"));
        // Which sizes it is for could not be said in such lines.
        if self.only_for.is_some() {
            return false;
        }
        let even = even || words.contains("without shaping");
        let named: Vec<&&str> = all.iter().filter(|word| word.starts_with('~')).collect();
        if named.len() > 1 {
            return false;
        }
        let at = all.iter().position(|word| matches!(*word, "row" | "rnd"));
        let number = at
            .and_then(|at| at.checked_sub(1))
            .and_then(|at| all.get(at))
            .map(|number| if *number == "more" { before_more(&all) } else { number });
        let numbers: Option<Vec<u32>> =
            number.and_then(|number| number.split('/').map(|one| one.parse().ok()).collect());
        let Some(numbers) =
            numbers.filter(|numbers| even && all.iter().all(|word| of_straight_rows(word)) && !numbers.contains(&0))
        else {
            return false;
        };
        let Some(last) = self.piece.written.last().cloned() else { return false };
        let only = super::ends::only_stitch(&last.steps).map(str::to_owned);
        let Some(stitch) = named.first().map(|word| word.trim_start_matches('~').replace('_', " ")).or(only) else {
            return false;
        };
        let lead = last.steps.split(", ").next().filter(|step| step.starts_with("lead ch ") || step.contains(" as "));
        let steps = lead.map(|lead| format!("{lead}, ")).unwrap_or_default() + &stitch + " to end";
        let word = if last.round { "rnd" } else { "row" };
        self.piece.lines.push(format!("{word}: {steps}"));
        if numbers.iter().any(|rows| *rows > 1) {
            let times: Vec<String> = numbers.iter().map(|rows| rows.saturating_sub(1).to_string()).collect();
            self.piece.lines.push(format!("again, {} times", times.join(" / ")));
        }
        let spans = (0..last.spans.len().max(numbers.len())).map(|size| {
            let from = self.piece.last_number(size).saturating_add(1);
            let rows = numbers.get(size).or(numbers.first()).copied().unwrap_or(1);
            Some((from, from.saturating_add(rows).saturating_sub(1)))
        });
        let spans = spans.collect();
        self.piece.written.push(Written { spans, steps, ..last });
        true
    }

    /// The first and the last of the rows that words say again, how often in each size, and whether that number is one of rows.
    fn rows_again(&self, words: &str) -> Option<(u32, u32, Vec<u32>, bool)> {
        // Where each size has other numbers, only the last rows are known by theirs.
        let other = !self.piece.shifts.is_empty() && !words.starts_with("rep last");
        let rest = words.trim_end_matches([' ', '.']).strip_prefix("rep ")?;
        let mut all = rest.split(' ');
        let last = self.piece.last_number(0);
        let (from, to) = match (all.next(), all.next()) {
            (Some("row" | "rnd"), Some(numbers)) => match label::spans(numbers).as_deref() {
                Some([Some((from, to))]) => {
                    (from.saturating_add(self.piece.shift), to.saturating_add(self.piece.shift))
                }
                _ => return None,
            },
            (Some("last"), Some("row" | "rnd")) => (last, last),
            (Some(first), Some("to" | "and" | "-" | "–")) if ordinal(first).is_some() => {
                let second = all.next().and_then(ordinal)?;
                if !matches!(all.next(), Some("row" | "rnd")) {
                    return None;
                }
                (ordinal(first)?.saturating_add(self.piece.shift), second.saturating_add(self.piece.shift))
            }
            (Some(first), Some("row" | "rnd")) if ordinal(first).is_some() => {
                let row = ordinal(first)?.saturating_add(self.piece.shift);
                (row, row)
            }
            (Some("last"), Some(number)) if matches!(all.next(), Some("row" | "rnd")) => {
                (last.saturating_add(1).saturating_sub(number.parse::<u32>().ok()?), last)
            }
            _ => return None,
        };
        let rest: Vec<&str> = all.filter(|word| *word != ",").collect();
        let (to, rest) = match rest.as_slice() {
            ["and" | "to" | "-" | "–" | "&", number, rest @ ..] => {
                (number.parse::<u32>().map_or(to, |to| to.saturating_add(self.piece.shift)), rest)
            }
            rest => (to, rest),
        };
        let (number, rows) = how_often(rest)?;
        let by = to.saturating_sub(self.piece.shift);
        let last_in = |(size, shift): (usize, &u32)| by.saturating_add(*shift) == self.piece.last_number(size);
        if other && !self.piece.shifts.iter().enumerate().all(last_in) {
            return None;
        }
        let each: Option<Vec<u32>> = number.split('/').map(|one| one.parse::<u32>().ok()).collect();
        Some((from, to, each?, rows))
    }

    /// `4–5 (6)` may be one row in the second size; rows follow one another.
    pub(super) fn follow(&self, label: &mut Label) {
        for (size, span) in label.spans.iter_mut().enumerate() {
            if let Some((from, to)) = span
                && let next = self.piece.last_number(size).saturating_add(1)
                && *from != next
                && *to == next
            {
                *from = next;
            }
        }
    }

    /// Rows that were said before for these numbers as well.
    pub(super) fn fill_up(&mut self, label: &Label) {
        let Some((from, _)) = label.spans.first().copied().flatten() else { return };
        while self.piece.last_number(0).saturating_add(1) < from && self.next_waiting() {}
        self.left_waiting(from);
    }

    /// Rows that were said with an earlier one, and whose turn never came: those between are missing, and so are they.
    pub(super) fn left_waiting(&mut self, before: u32) {
        let (left, waiting): (Vec<_>, Vec<_>) =
            std::mem::take(&mut self.piece.waiting).into_iter().partition(|(number, ..)| *number < before);
        self.piece.waiting = waiting;
        let Some((_, source, _)) = left.first() else { return };
        let numbers: Vec<String> = left.iter().map(|(number, ..)| number.to_string()).collect();
        let word = if self.piece.written.last().is_some_and(|last| last.round) { "round" } else { "row" };
        self.missed(&format!(
            "{word}s {}: as {word} {source}; the {word}s between them are not said",
            numbers.join(", ")
        ));
    }

    /// `Odd rows: …`, `All even-numbered rounds: …`, `Even rows (2–20): …`: every second row from the next such one on.
    pub(super) fn by_parity(&mut self, block: &Block, tokens: &[Token]) -> bool {
        const MOST_WORDS: usize = 9;
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let from = usize::from(matches!(word(0), "all" | "each"));
        let even = match word(from) {
            "even" | "even-numbered" => true,
            "odd" | "odd-numbered" => false,
            _ => return false,
        };
        let at = from + 1 + usize::from(word(from + 1) == "numbered");
        let round = match word(at) {
            "row" => false,
            "rnd" => true,
            _ => return false,
        };
        let Some(colon) = (at + 1..=at + MOST_WORDS).find(|at| matches!(word(*at), ":" | "–" | "—")) else {
            return false;
        };
        let Some(ends) = tokens.get(colon).map(|sign| sign.end) else { return false };
        let next = self.piece.last_number(0).saturating_add(1);
        let now = next.saturating_sub(self.piece.shift).is_multiple_of(2) == even;
        let number = if now { next } else { next.saturating_add(1) };
        let spans = vec![Some((number, number)); self.lexicon.sizes.max(1)];
        let label = Label { round, spans, ends, also: Also::EverySecond, ..Label::default() };
        if now {
            let body = block.text.get(ends..).unwrap_or_default().trim().to_owned();
            self.line(block, label, &body);
        } else {
            self.piece.said_early = Some((number, label, block.clone()));
        }
        true
    }

    /// Writes the next row, where it was said with an earlier one.
    pub(super) fn next_waiting(&mut self) -> bool {
        let next = self.piece.last_number(0).saturating_add(1);
        if let Some((_, label, block)) = self.piece.said_early.take_if(|(number, ..)| *number == next) {
            let body = block.text.get(label.ends..).unwrap_or_default().trim().to_owned();
            self.line(&block, label, &body);
            return self.piece.last_number(0) >= next;
        }
        let second = |source: &&u32| next > **source && next.abs_diff(**source).is_multiple_of(2);
        let every = self.piece.every_second.iter().rev().find(second).copied();
        let listed =
            self.piece.waiting.iter().position(|(number, ..)| *number == next).map(|at| self.piece.waiting.remove(at));
        let Some((source, count)) =
            listed.map(|(_, source, count)| (source, count)).or(every.map(|source| (source, None)))
        else {
            return false;
        };
        let Some(written) = self.piece.with_number(0, source).cloned() else { return false };
        let word = if written.round { "rnd" } else { "row" };
        let count = count.filter(|count| !count.is_empty()).map(|count| format!(" = {count}")).unwrap_or_default();
        self.piece.lines.push(format!("{word} {next}: as {word} {source}{count}"));
        let spans = vec![Some((next, next)); written.spans.len()];
        self.piece.written.push(Written { spans, ..written });
        true
    }

    /// Keeps the other numbers that a line is for.
    pub(super) fn wait_for(&mut self, label: &Label) {
        let Some((from, _)) = label.spans.first().copied().flatten() else { return };
        let counts = std::mem::take(&mut self.piece.counts);
        match &label.also {
            Also::None => {}
            Also::EverySecond => self.piece.every_second.push(from),
            Also::These(others) => {
                let counts = counts.into_iter().map(Some).chain(std::iter::repeat(None));
                self.piece.waiting.extend(others.iter().zip(counts).map(|(number, count)| (*number, from, count)));
            }
        }
    }

    /// Whether it only gives the counts of rows that were said before.
    pub(super) fn says_counts(&self, label: &Label, body: &str) -> bool {
        let known = label
            .spans
            .iter()
            .enumerate()
            .all(|(size, span)| span.is_none_or(|(_, to)| to <= self.piece.last_number(size)));
        let tokens = self.lexicon.read(body);
        let first = tokens.first().map_or("", |token| token.text.as_str());
        let is_count = tokens
            .get(1)
            .is_some_and(|token| matches!(token.text.as_str(), "st" | ";" | "ch-1") || token.text.starts_with('~'));
        // `6 sc in ring` is worked.
        let works = tokens
            .iter()
            .any(|token| matches!(token.text.as_str(), "in" | "around" | "each" | "rep" | "turn" | "×" | "times"));
        let is_count = is_count && !works;
        let numeric = first.starts_with(|c: char| c.is_ascii_digit() || c == '–');
        let works = tokens.iter().any(|token| {
            matches!(token.text.as_str(), "in" | "each" | "next" | "around" | "times" | "from" | "rep" | "to")
        });
        // A row that has been written by itself is begun anew here.
        let own = self.piece.written.iter().any(|written| written.spans == label.spans);
        // `Rnds 1-3: as size 1` is worked; what is only said again names a row.
        let cites = tokens.get(1).is_some_and(|token| {
            matches!(token.text.as_str(), "row" | "rnd" | "last")
                || token.text.starts_with(|c: char| c.is_ascii_digit())
        });
        let says = first.is_empty() || first == "as" && cites && !own || numeric && is_count && !works;
        known && !self.piece.written.is_empty() && says
    }

    /// The count of the first of several lines that have one each: `Rnds 3, 5 and 7: … (16, 24, 32)`.
    pub(super) fn counts_of_several(&mut self, label: &Label, count: Option<String>) -> Option<String> {
        self.piece.counts.clear();
        let (Also::These(others), Some(told)) = (&label.also, &count) else {
            return count.filter(|_| label.also != Also::EverySecond);
        };
        if self.piece.counts_last {
            self.piece.counts = vec![String::new(); others.len().saturating_sub(1)];
            self.piece.counts.push(told.clone());
            return None;
        }
        let mut each: Vec<String> = told.split(" + ").map(str::to_owned).collect();
        if each.len() == others.len() + 1 {
            let first = each.remove(0);
            self.piece.counts = each;
            return Some(first);
        }
        self.piece.counts = vec![told.clone(); others.len()];
        count
    }
}

/// `1 hdc in each st for 7 rnd …`, of `work 7 rounds of 1 hdc in each st, joining each round …`.
fn so_many_of(words: &str) -> Option<String> {
    let rest = ["then work ", "now work ", "work ", "make ", "crochet ", "do "]
        .iter()
        .find_map(|begins| words.strip_prefix(begins))
        .unwrap_or(words);
    let (number, rest) = rest.split_once(' ').filter(|(number, _)| is_amount(number))?;
    // `Work 20 rounds in sc`.
    let in_stitch = ["rnd in ~", "row in ~"].iter().find_map(|word| Some((word.get(..3)?, rest.strip_prefix(word)?)));
    if let Some((word, stitch)) = in_stitch {
        let (stitch, behind) = stitch.split_once(' ').unwrap_or((stitch, ""));
        return Some(format!("~{stitch} in each st around for {number} {word} {behind}").trim_end().to_owned());
    }
    let rest = ["more ", "further ", "plain ", "even "].iter().find_map(|more| rest.strip_prefix(more)).unwrap_or(rest);
    let (word, rest) =
        ["rnd of ", "row of "].iter().find_map(|word| Some((word.get(..3)?, rest.strip_prefix(word)?)))?;
    let (steps, behind) = rest.split_once(" , ").or_else(|| rest.split_once(" . ")).unwrap_or((rest, ""));
    let behind =
        ["joining each rnd", "join each rnd", "joining at end of each rnd", "turning each row", "joining as before"]
            .iter()
            .find_map(|said| behind.strip_prefix(said))
            .unwrap_or(behind)
            .trim_matches([' ', '.', ',']);
    let steps = steps.trim_end_matches([' ', '.']);
    let steps = if steps.starts_with('~') && !steps.contains(' ') {
        format!("{steps} in each st around")
    } else {
        steps.to_owned()
    };
    Some(format!("{steps} for {number} {word} {behind}").trim_end().to_owned())
}

/// A round of equal parts, each of so many plain stitches and one that shapes it: `[sc 4, inc] 6 times`.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Shaped {
    lead: String,
    stitch: String,
    plain: u32,
    shaping: String,
    times: Option<u32>,
}

impl Shaped {
    fn of(steps: &str) -> Option<Self> {
        let (lead, part) = steps.split_once('[')?;
        let (inside, extent) = part.split_once(']')?;
        let times = match extent.trim() {
            "to end" => None,
            "twice" => Some(2),
            extent => Some(extent.strip_suffix(" times")?.parse().ok()?),
        };
        let (plain, shaping) = inside.split_once(", ").filter(|(_, shaping)| !shaping.contains(", "))?;
        let (stitch, plain) = plain.split_once(' ').unwrap_or((plain, "1"));
        let shaping = shaping.to_owned();
        Some(Self { lead: lead.to_owned(), stitch: stitch.to_owned(), plain: plain.parse().ok()?, shaping, times })
    }

    fn increases(&self) -> bool {
        self.shaping.contains("inc") || self.shaping.starts_with("2 ")
    }

    /// How many stitches each part has.
    fn takes_up(&self) -> u32 {
        self.plain.saturating_add(if self.increases() { 2 } else { 1 })
    }

    fn told(&self, times: u32) -> String {
        let plain = match self.plain {
            0 => String::new(),
            1 => format!("{}, ", self.stitch),
            plain => format!("{} {plain}, ", self.stitch),
        };
        format!("{}[{plain}{}] {times} times", self.lead, self.shaping)
    }
}

/// 8, of `8 more rows`.
fn before_more<'w>(all: &[&'w str]) -> &'w str {
    let at = all.iter().position(|word| *word == "more").and_then(|at| at.checked_sub(1));
    at.and_then(|at| all.get(at)).copied().unwrap_or_default()
}

/// Whether a word may stand where rows without shaping are spoken of.
fn of_straight_rows(word: &str) -> bool {
    const WORDS: [&str; 16] = [
        "work", "continue", "even", "straight", "for", "in", "pattern", "patt", "more", "row", "rnd", "another", "on",
        "then", "st", "without",
    ];
    WORDS.contains(&word) || word == "shaping" || is_amount(word) || word.starts_with('~')
}

/// `until the scarf is as long as you'd like (mine has 180 rows)`: a number of rows that is given beside a measure is how many there are.
fn so_many_in_all(words: &str) -> String {
    let Some((before, until)) = words.split_once(" until ") else { return words.to_owned() };
    // `until there are 2 sts left on row 79`: the row is the last one.
    if let Some((word, number)) = last_row_said(until) {
        return format!("{before} until {word} {number}");
    }
    let all: Vec<&str> = until.split(' ').filter(|word| !matches!(*word, "(" | ")" | ".")).collect();
    let mut numbers = all.windows(2).filter_map(|two| match two {
        [number, "row" | "rnd"] if is_amount(number) => Some((*number, two.get(1).copied().unwrap_or_default())),
        _ => None,
    });
    match (numbers.next(), numbers.next()) {
        (Some((number, word)), None) if !all.starts_with(&["there", "are"]) => {
            format!("{before} until there are {number} {word}")
        }
        _ => words.to_owned(),
    }
}

/// The row in which there are so many stitches.
fn last_row_said(until: &str) -> Option<(&str, &str)> {
    let (_, behind) = [" on ", " in ", " at end of ", " after "].iter().find_map(|link| {
        let (said, behind) = until.rsplit_once(link)?;
        said.contains(" st").then_some((said, behind))
    })?;
    let (word, number) = behind.trim_end_matches([' ', '.']).split_once(' ')?;
    (matches!(word, "row" | "rnd") && is_amount(number)).then_some((word, number))
}

/// A sentence that says rows again without what is only said beside it, and the total at its end: `…, or until it is long enough`,
/// `… 5 times more -- 38 dc`. `Until 16 hdc remain` is until there are so many.
fn said_alone(words: &str) -> (String, Option<String>) {
    let mut words = words.trim_end_matches([' ', '.']);
    let sides = [
        " , ending with ws",
        " , ending with rs",
        " , ending after ws",
        " , ending after rs",
        " , ending on ws",
        " , ending on rs",
        " , end with ws",
        " , end with rs",
        " ending with ws",
        " ending with rs",
    ];
    for sign in [" , or ", " , so ", " , always ", " , keeping ", " or until ", " or desired "].into_iter().chain(sides)
    {
        words = words.split_once(sign).map_or(words, |(before, _)| before);
    }
    let mut count = None;
    for sign in [" - - ", " – ", " — ", " = ", " ( ", " [ "] {
        let total = words
            .rsplit_once(sign)
            .map(|(before, total)| (before, count_alone(total.trim_end_matches([' ', ')', ']']))));
        if let Some((before, Some(told))) = total {
            (words, count) = (before, Some(told));
            break;
        }
    }
    let all: Vec<&str> = words.split(' ').collect();
    let so_many = all.iter().enumerate().find_map(|(at, word)| {
        let until = *word == "until" || *word == "to" && all.get(at + 1) == Some(&"last");
        let number = at + if *word == "until" { 1 } else { 2 };
        let kind = all.get(number + 1).is_some_and(|kind| *kind == "st" || kind.starts_with('~'));
        let over =
            all.get(number + 2..).unwrap_or_default().iter().all(|word| matches!(*word, "rem" | "left" | "are" | ","));
        let number = all.get(number).filter(|number| is_amount(number))?;
        (until && kind && over)
            .then(|| format!("{} until there are {number} st", all.get(..at).unwrap_or_default().join(" ")))
    });
    (so_many.unwrap_or_else(|| words.to_owned()), count)
}

/// `Rows 3 and 4 form the pattern. Repeat them until …`: the rows said again by their numbers.
pub(super) fn forms_pattern(label: &str, body: &str) -> Option<String> {
    let first = body.split(' ').next()?.to_lowercase();
    let forms =
        matches!(first.as_str(), "form" | "forms" | "set" | "sets" | "establish" | "establishes" | "make" | "makes");
    let (said, rest) = body.split_once(". ")?;
    let speaks =
        forms && ["pattern", "patt", "lace", "ripple", "rib"].iter().any(|word| said.to_lowercase().contains(word));
    let lower = rest.to_lowercase();
    let again = [
        "repeat them",
        "rep them",
        "work them",
        "repeat it",
        "rep it",
        "work it",
        "repeat these rows",
        "rep these rows",
        "repeat these two rows",
        "rep these 2 rows",
        "repeat these rounds",
    ];
    let begins = again.iter().find(|begins| lower.starts_with(**begins)).filter(|_| speaks)?;
    let label = label.trim().trim_end_matches([':', '.', '-', '–']);
    Some(format!("Rep {label}{}", rest.get(begins.len()..)?))
}

/// `Rep rows 3–10 6 more times (58 rows)`: what is said again, and how many rows there are then.
fn rows_in_all(words: &str) -> (String, Option<u32>) {
    let parted = words.trim_end_matches([' ', '.']).strip_suffix(" )").and_then(|rest| rest.rsplit_once(" ( "));
    let number = |said: &str| match said.split(' ').collect::<Vec<_>>().as_slice() {
        [number, "row" | "rnd"] | [number, "row" | "rnd", "in", "all"] | [number, "row" | "rnd", "total"] => {
            number.parse::<u32>().ok()
        }
        _ => None,
    };
    match parted.map(|(before, said)| (before, number(said))) {
        Some((before, Some(rows))) => (before.to_owned(), Some(rows)),
        _ => (words.to_owned(), None),
    }
}

/// 2, of `2nd`.
fn ordinal(word: &str) -> Option<u32> {
    ["st", "nd", "rd", "th"].iter().find_map(|end| word.strip_suffix(end)).and_then(|number| number.parse().ok())
}

/// `14 / 17 / 20`, of `14/17/20 st .`: a sentence that only counts.
fn count_alone(words: &str) -> Option<String> {
    let words = words.trim_start_matches(['-', '–', '—', '=', ' ']);
    let (number, rest) = words.split_once(' ').unwrap_or((words, ""));
    let counts = rest.split(' ').all(|word| word.is_empty() || matches!(word, "st" | ".") || word.starts_with('~'));
    let few = rest.split(' ').filter(|word| word.starts_with('~')).count() <= 1;
    (is_amount(number) && counts && few).then(|| number.split('/').collect::<Vec<_>>().join(" / "))
}

/// Words by which shaping goes on. Common practice, no source.
const GOES_ON: [&str; 8] =
    ["same way", "same manner", "this way", "this manner", "this fashion", "as established", "as before", "continue"];

/// How often rows are said again, and whether the number is one of rows.
fn how_often<'w>(said: &[&'w str]) -> Option<(&'w str, bool)> {
    match said {
        ["once" | "1", "more"] | ["once"] => Some(("1", false)),
        ["twice", "more"] | ["twice"] => Some(("2", false)),
        [number, "more", "times"]
        | [number, "times"]
        | [number, "times", "more"]
        | ["another" | "for", number, "times"] => Some((number, false)),
        ["for", number, "more", "row" | "rnd"]
        | [number, "more", "row" | "rnd"]
        | ["for", "another", number, "row" | "rnd"]
        | ["another", number, "row" | "rnd"]
        | ["for", number, "row" | "rnd", "more"] => Some((number, true)),
        _ => None,
    }
}
