//! The whole text: which block is a title, a material, a piece, a row or words for the maker.

use std::collections::BTreeMap;

use pest::Parser;
use pest::iterators::Pair;
use ringtrue_grammar::Prose;
use ringtrue_grammar::prose::Rule;

use super::blocks::{Block, Kind};
use super::choose::Way;
use super::edges::{self, Intro};
use super::head::{Head, copies, is_heading, section};
use super::label::{Label, label};
use super::lexicon::{Lexicon, line_of};
use super::piece::{Draft, Written};
use super::repeats;
use super::told::{Result, Teller, Unread, amount};
use super::{Became, Instruction, Reading};
use crate::stitch::Stitches;
use crate::syntax::NOT_READ;

/// `Rnd 17 (18) as Rnd 15 (16): 188 (200) sts` stands below a line that says rows again, and gives the counts of each of them.
fn tells_counts(text: &str) -> bool {
    let said = text.split_once(" as R").and_then(|(_, said)| said.split_once(": "));
    said.is_some_and(|(_, count)| count.starts_with(|c: char| c.is_ascii_digit() || c == '–'))
}

/// Reads a text in one way.
pub(super) fn read(blocks: &[Block], head: &Head, stitches: &Stitches, way: &Way) -> Reading {
    let mut reader = Reader::new(head, stitches, way);
    let below = blocks.get(head.instructions..).unwrap_or_default();
    for (at, block) in below.iter().enumerate() {
        if is_heading(block, below.get(at + 1), stitches) {
            reader.heading(&block.text);
        } else {
            reader.goes_on = below.get(at + 1).and_then(|next| label(&reader.lexicon.read(&next.text)));
            reader.block(block);
        }
    }
    reader.flush();
    let mut lines = head.notation(&reader.lexicon, reader.counts_chains);
    lines.extend(reader.out);
    Reading { notation: lines.join("\n") + "\n", instructions: reader.instructions, chosen: Vec::new() }
}

/// What stands below the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum After {
    /// How the work is finished.
    Finishing,
    /// Cautions, versions and the like.
    Other,
}

struct Reader<'a> {
    head: &'a Head,
    way: &'a Way,
    lexicon: Lexicon<'a>,
    piece: Draft,
    out: Vec<String>,
    instructions: Vec<Instruction>,
    counts_chains: bool,
    /// The label of the next part of the text, if it has one.
    goes_on: Option<Label>,
    /// The yarn that each piece ends with.
    yarns: BTreeMap<String, String>,
    /// Whether the pieces are over, and whether what follows is still for the maker.
    after: Option<After>,
}

impl<'a> Reader<'a> {
    fn new(head: &'a Head, stitches: &'a Stitches, way: &'a Way) -> Self {
        let lexicon = head.lexicon(stitches);
        let mut reader = Self {
            head,
            way,
            lexicon,
            piece: Draft::default(),
            out: Vec::new(),
            instructions: Vec::new(),
            counts_chains: head.counts_chains,
            goes_on: None,
            yarns: BTreeMap::new(),
            after: None,
        };
        reader.begin(&head.title);
        reader
    }

    fn begin(&mut self, name: &str) {
        let (name, copies) = copies(name);
        let (way, lead, turned) = (self.head.way, self.head.lead.clone(), self.head.turned);
        let says_turns = self.head.says_turns;
        self.piece = Draft { name, way, turned, says_turns, copies, lead, ..Draft::default() };
    }

    fn flush(&mut self) {
        let piece = std::mem::take(&mut self.piece);
        let changed = piece.lines.iter().rev().find_map(|line| line.strip_prefix("change to "));
        if let Some(yarn) = changed.map(str::to_owned).or_else(|| piece.yarn.clone()) {
            self.yarns.insert(piece.name.clone(), yarn);
        }
        if piece.start.is_some() || !piece.lines.is_empty() {
            self.out.push(String::new());
            self.out.extend(piece.notation());
        }
    }

    fn block(&mut self, block: &Block) {
        match block.kind {
            Kind::TableRow => self.table_row(block),
            Kind::Heading(_) => self.remark(&block.text),
            Kind::Paragraph | Kind::Item => match self.after {
                Some(After::Finishing) => self.words(&block.text),
                Some(After::Other) => self.remark(&block.text),
                None => self.paragraph(block),
            },
        }
    }

    /// A row of a table that begins with a label is a line.
    fn table_row(&mut self, block: &Block) {
        let cells: Vec<&str> = block.text.trim_matches('|').split('|').map(str::trim).collect();
        let words = cells.join(" ");
        if self.after.is_none() && label(&self.lexicon.read(&words)).is_some() {
            return self.paragraph(&Block { text: words, ..block.clone() });
        }
        self.remark(&block.text);
    }

    fn heading(&mut self, text: &str) {
        let name = text.trim();
        match section(name) {
            Some("instructions") => {}
            Some(part @ ("finishing" | "other")) => {
                self.after = Some(if part == "finishing" { After::Finishing } else { After::Other });
                self.remark(name);
            }
            _ => {
                self.after = None;
                self.flush();
                self.begin(name);
            }
        }
    }

    fn remark(&mut self, text: &str) {
        self.piece.lines.push(format!("# {text}"));
    }

    fn words(&mut self, text: &str) {
        // A line that only says again what the rows say.
        let line = if text.starts_with("Outline: ") { format!("# {text}") } else { format!("> {}", maker_words(text)) };
        self.piece.lines.push(line);
    }

    fn paragraph(&mut self, block: &Block) {
        let text = block.text.as_str();
        self.lexicon.concerned = self.sizes_named(text);
        let tokens = self.lexicon.read(text);
        if let Some(label) = label(&tokens) {
            if tells_counts(text) {
                return self.remark(text);
            }
            let body = text.get(label.ends..).unwrap_or_default().trim();
            return self.line(block, label, body);
        }
        if (self.piece.start.is_none() || goes_over(text)) && self.intro(text) {
            return;
        }
        if let Some(layout) = parsed(Rule::layout, &line_of(&tokens)).and_then(edges::layout) {
            self.piece.layout = Some(layout);
            return self.told(block, Became::Work);
        }
        if self.piece.start.is_none() && self.first_unlabelled(block, &line_of(&tokens)) {
            return;
        }
        let common = line_of(&self.lexicon.of_the_trade_alone().read(text));
        for words in [line_of(&tokens), common] {
            if self.start_or_ending(&words) {
                return self.told(block, Became::Work);
            }
        }
        self.words(text);
    }

    /// What stands above the second round without a label is the start with the first one: `Ch 5, join to form a ring, ch 3, 11 dc
    /// in ring, join.`
    fn first_unlabelled(&mut self, block: &Block, words: &str) -> bool {
        let second = self.goes_on.as_ref().filter(|label| {
            self.piece.written.is_empty() && label.spans.iter().all(|span| span.is_some_and(|(from, _)| from == 2))
        });
        let Some(second) = second else { return false };
        let spans = vec![Some((1, 1)); self.lexicon.sizes.max(1)];
        let mut first = Label { round: second.round, spans, short: false, side: "", ends: 0 };
        let parts: Vec<&str> = words.split(" , ").collect();
        for length in (1..=parts.len().min(3)).rev() {
            let (begins, rest) = (parts.get(..length).unwrap_or_default(), parts.get(length..).unwrap_or_default());
            if rest.is_empty() || rest.iter().any(|part| part.contains("from hook")) {
                continue;
            }
            let begins = begins.join(" , ");
            let Some(start) = parsed(Rule::start, &begins) else { continue };
            let Ok(begun) = edges::start(start, &self.head.pieces) else { continue };
            if begun.start != "ring" && !begun.start.ends_with("joined") {
                continue;
            }
            self.piece.start = Some(begun.start);
            self.piece.on_chain = begun.on_chain;
            first.round = true;
            let Some(body) = self.text_from(&block.text, length) else { return false };
            self.line(block, first, body);
            return true;
        }
        let from_hook = words.starts_with("ch ") && words.contains("from hook");
        if from_hook {
            self.line(block, first, &block.text);
        }
        from_hook
    }

    /// A text without its first parts between commas.
    fn text_from<'t>(&self, text: &'t str, parts: usize) -> Option<&'t str> {
        let (at, _) = text.match_indices(',').nth(parts.checked_sub(1)?)?;
        Some(text.get(at + 1..)?.trim())
    }

    fn start_or_ending(&mut self, words: &str) -> bool {
        if self.piece.start.is_none()
            && let Some(start) = parsed(Rule::start, words)
            && let Ok(begun) = edges::start(start, &self.head.pieces)
        {
            self.piece.start = Some(begun.start);
            self.piece.on_chain = begun.on_chain;
            self.piece.corner = begun.corner;
            self.piece.first_steps = begun.first_steps;
            let goes_on = begun.goes_on.and_then(|piece| self.yarns.get(&piece).cloned());
            self.piece.yarn = begun.yarn.or(goes_on).or(self.piece.yarn.take());
            return true;
        }
        let ending = parsed(Rule::ending, words).and_then(|pair| edges::ending(pair, &self.head.pieces));
        let read = ending.is_some();
        self.piece.lines.extend(ending);
        read
    }

    /// The sentences that are said of a piece before it begins.
    fn intro(&mut self, text: &str) -> bool {
        let sentences: Vec<&str> = text.split_inclusive(". ").collect();
        let read = |sentence: &&str| {
            let words = line_of(&self.lexicon.read(sentence.trim()));
            parsed(Rule::intro, &words).and_then(edges::intro)
        };
        let Some(intros) = sentences.iter().map(read).collect::<Option<Vec<Intro>>>() else { return false };
        let (mut unturned, mut goes_on) = ("", false);
        for intro in intros {
            match intro {
                Intro::Copies(copies) => self.piece.copies = Some(copies),
                // How such rows go back is explained behind it.
                Intro::Way(_) if goes_on || self.piece.way == Some("in Tunisian rows") => {}
                Intro::Way(way) => self.piece.way = Some(way),
                Intro::RowsSayTurns => {
                    self.piece.way = Some("in rows");
                    self.piece.says_turns = true;
                }
                Intro::Turned => {
                    self.piece.way = Some("in joined rounds");
                    self.piece.turned = true;
                }
                Intro::Unturned => unturned = ", without turning",
                Intro::Now(way) => {
                    self.piece.goes_on(way, std::mem::take(&mut unturned));
                    goes_on = true;
                }
                Intro::Lead(lead) if goes_on => self.piece.goes_on_with(lead),
                Intro::Lead(lead) => self.piece.lead = lead,
                Intro::Stripes(stripes) => self.piece.stripes = Some(stripes),
                Intro::Nothing => {}
            }
        }
        true
    }

    fn told(&mut self, block: &Block, became: Became) {
        self.instructions.push(Instruction { span: block.span, words: block.text.clone(), became });
    }

    fn line(&mut self, block: &Block, mut label: Label, body: &str) {
        let sizes = self.lexicon.sizes;
        if let ([span], true) = (label.spans.as_slice(), sizes > 1) {
            label.spans = vec![*span; sizes];
        }
        // What begins on a chain that is no ring goes to and fro.
        if label.short
            && self.piece.start.as_deref().is_some_and(|start| start.starts_with("ch ") && !start.ends_with("joined"))
        {
            label.round = false;
        }
        if self.says_counts(&label, body) {
            return self.remark(&block.text);
        }
        let (only, body) = self.only(body);
        for (size, span) in label.spans.iter_mut().enumerate() {
            if only.as_ref().is_some_and(|only| only.get(size) == Some(&false)) {
                *span = None;
            }
        }
        // `4–5 (6)` may be one row in the second size; rows follow one another.
        for (size, span) in label.spans.iter_mut().enumerate() {
            if let Some((from, to)) = span
                && let next = self.piece.last_number(size).saturating_add(1)
                && *from != next
                && *to == next
            {
                *from = next;
            }
        }
        match self.written(&label, only.as_deref(), body) {
            Ok(lines) => {
                self.piece.lines.extend(lines);
                self.told(block, Became::Work);
            }
            Err(Unread(what)) => {
                self.remark(&format!("{NOT_READ}{what}”: {}", block.text));
                self.piece.written.push(Written { spans: label.spans, round: label.round, ..Written::default() });
                self.told(block, Became::Remark(what));
            }
        }
    }

    /// Whether it only gives the counts of rows that were said before.
    fn says_counts(&self, label: &Label, body: &str) -> bool {
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
        let numeric = first.starts_with(|c: char| c.is_ascii_digit() || c == '–');
        known && !self.piece.written.is_empty() && (first.is_empty() || first == "as" || (numeric && is_count))
    }

    /// The sizes that a line is for, where it says so.
    fn only<'t>(&self, body: &'t str) -> (Option<Vec<bool>>, &'t str) {
        match (self.lexicon.concerned.clone(), body.split_once(" only:")) {
            (Some(concerned), Some((_, rest))) => (Some(concerned), rest.trim()),
            _ => (None, body),
        }
    }

    /// The sizes that a text says it is for behind its label: `Size small only:`, `Sizes medium (large) only:`.
    fn sizes_named(&self, text: &str) -> Option<Vec<bool>> {
        let (_, list) = text.split_once(": Sizes ").or_else(|| text.split_once(": Size "))?;
        let (names, _) = list.split_once(" only:")?;
        let named = |name: &String| {
            let behind = names.strip_prefix(name.as_str());
            let begins = behind.is_some_and(|rest| rest.is_empty() || rest.starts_with([',', ' ']));
            let within = [format!("({name})"), format!("({name}, "), format!(", {name}, "), format!(", {name})")];
            let listed = [format!(" and {name}"), format!(", {name} and ")];
            begins
                || within.iter().any(|one| names.contains(one.as_str()))
                || names.ends_with(listed[0].as_str())
                || names.contains(listed[1].as_str())
        };
        let concerned: Vec<bool> = self.head.sizes.iter().map(named).collect();
        concerned.contains(&true).then_some(concerned)
    }

    /// The lines of the notation for one line.
    fn written(&mut self, label: &Label, only: Option<&[bool]>, body: &str) -> Result<Vec<String>> {
        let mut words = line_of(&self.lexicon.read(body));
        if self.piece.written.is_empty() {
            words = self.begun_in_line(words);
        }
        let line = Prose::parse(Rule::line, &words).map_err(|fault| unread(&words, &fault))?.next();
        let Some(line) = line else { return Err(Unread::new(body)) };
        let parts: Vec<Pair<'_, Rule>> = line.into_inner().collect();
        let count =
            parts.iter().find(|part| part.as_rule() == Rule::count).map(|count| self.count(count)).transpose()?;
        let count = count.flatten();
        let prefix = only.map(|only| self.only_prefix(only)).unwrap_or_default();
        let turns_first = parts.iter().any(|part| {
            part.as_rule() == Rule::remark
                && part.clone().into_inner().flatten().any(|part| part.as_rule() == Rule::turns_first)
        });
        for part in parts {
            match part.as_rule() {
                Rule::as_line => {
                    let lines = self.said_again(label, part, turns_first)?;
                    return Ok(repeats::counted(lines, &prefix, count.as_deref()));
                }
                Rule::steps => {
                    let steps = self.worked(label, part, &words, only.is_some())?;
                    return Ok(repeats::labelled(label, &prefix, &steps, count.as_deref()));
                }
                _ => {}
            }
        }
        Err(Unread::new(body))
    }

    /// A line that says others again.
    fn said_again(&mut self, label: &Label, part: Pair<'_, Rule>, turns_first: bool) -> Result<Vec<String>> {
        if !turns_first && repeats::cites_unturned(&self.piece, &part) {
            return Err(Unread::new(UNTURNED));
        }
        let lines = repeats::again(&self.piece, &self.head.pieces, label, part)?;
        let steps = repeats::steps_again(&self.piece, label);
        let (spans, round) = (label.spans.clone(), label.round);
        let turns = steps.rsplit(", ").take(2).any(|step| step == "turn");
        self.piece.written.push(Written { spans, round, steps, turned: true, turns });
        Ok(lines)
    }

    /// The steps of a line.
    fn worked(&mut self, label: &Label, part: Pair<'_, Rule>, words: &str, only: bool) -> Result {
        let first = self.piece.written.is_empty();
        let mut teller = Teller {
            lead: self.piece.later_lead.as_ref().unwrap_or(&self.piece.lead).clone(),
            round: label.round,
            on_chain: first && self.piece.on_chain,
            pieces: &self.head.pieces,
            opening: true,
            on_ring: first && self.piece.start.as_deref() == Some("ring"),
            begins_at: self.piece.corner.clone().filter(|_| first),
            more: self.way.more,
            assumed: self.piece.assumed,
            ..Teller::default()
        };
        self.piece.turns |= words.starts_with("turn") || words.contains('%') && words.contains(" , turn , ");
        self.piece.joined |= words.contains("join with ~sl_st in") || words.contains(", join");
        let (turned, turns) = turning(words);
        let turned = turned || self.piece.written.last().is_some_and(|below| below.turns);
        let steps = teller.steps(part)?;
        if self.piece.says_turns && !(turned || first || only || label.round || steps.starts_with("rsc")) {
            return Err(Unread::new(UNTURNED));
        }
        let steps = self.opened(&steps, &teller, first);
        let (spans, round) = (label.spans.clone(), label.round);
        self.piece.written.push(Written { spans, round, steps: steps.clone(), turned, turns });
        Ok(steps)
    }

    /// The first row of a piece may say what it starts on: `Ch 21, sc in 2nd ch from hook`, `6 sc in magic ring`. What every row
    /// starts with is then left to be found.
    fn begun_in_line(&mut self, words: String) -> String {
        if self.piece.way.is_none() && self.piece.lead == super::told::Lead::None {
            self.piece.lead = self.way.lead.clone();
            self.piece.assumed = true;
        }
        if self.piece.start.is_some() {
            return words;
        }
        let chains = words.strip_prefix("ch ").and_then(|rest| rest.split_once(" , "));
        if let Some((number, rest)) = chains.filter(|(_, rest)| rest.contains("from hook")) {
            self.piece.start = Some(format!("ch {}", number.replace('/', " / ")));
            self.piece.on_chain = true;
            return rest.to_owned();
        }
        if words.split(' ').any(|word| word == "ring") {
            self.piece.start = Some("ring".to_owned());
            for begun in ["make ring , ", "ring , ", "in ring , ", "start with ring , "] {
                if let Some(rest) = words.strip_prefix(begun) {
                    return rest.to_owned();
                }
            }
        }
        words
    }

    /// A line with what it starts with.
    fn opened(&mut self, steps: &str, teller: &Teller<'_>, first: bool) -> String {
        let mut all: Vec<String> = if first { std::mem::take(&mut self.piece.first_steps) } else { Vec::new() };
        all.extend(teller.moved_to.as_ref().map(|corner| format!("move to next {corner}")));
        let steps = moved_along(steps);
        // The loop on the hook is the first stitch of a Tunisian row.
        let tunisian = self.piece.way == Some("in Tunisian rows") && !first;
        let steps = steps.strip_prefix("skip 1, ").filter(|_| tunisian).map(str::to_owned).unwrap_or(steps);
        let (lead, rest): (Vec<&str>, Vec<&str>) = steps.split(", ").partition(|step| step.starts_with("lead ch "));
        let none =
            lead.is_empty() && !teller.led && teller.lead != super::told::Lead::None && !(first && self.piece.on_chain);
        let lead = lead.first().map(|lead| (*lead).to_owned()).or(none.then(|| "no lead".to_owned()));
        all.extend(rest.into_iter().map(str::to_owned));
        lead.into_iter().chain(all).collect::<Vec<_>>().join(", ")
    }

    fn only_prefix(&self, only: &[bool]) -> String {
        let names =
            self.head.sizes.iter().zip(only).filter(|(_, concerned)| **concerned).map(|(name, _)| name.as_str());
        format!("only {}: ", names.collect::<Vec<_>>().join(", "))
    }

    /// The stated count; nothing where it is only that of the last of several rows.
    fn count(&mut self, pair: &Pair<'_, Rule>) -> Result<Option<String>> {
        let mut told = Vec::new();
        let mut last = false;
        let teller = Teller::default();
        for part in pair.clone().into_inner().flat_map(Pair::into_inner) {
            match part.as_rule() {
                Rule::counted => {
                    let inner: Vec<Pair<'_, Rule>> = part.into_inner().collect();
                    let number = inner.first().map(amount).unwrap_or_default();
                    let kind = inner.get(1).map(|kind| kind_counted(&teller, kind)).transpose()?.unwrap_or_default();
                    told.push(format!("{number}{kind}"));
                }
                Rule::chains_counted => self.counts_chains = true,
                Rule::in_last => last = true,
                _ => {}
            }
        }
        Ok((!last && !told.is_empty()).then(|| told.join(" + ")))
    }
}

/// What is missing in a row where rows say themselves that they are turned.
const UNTURNED: &str = "whether the work is turned before it";

/// Whether a line turns the work before it begins, and whether it ends with turning.
fn turning(words: &str) -> (bool, bool) {
    let told = words.split(" . ").next().unwrap_or_default();
    let says = |part: &&str| *part == "turn" || part.starts_with("turn (") || part.starts_with("turn .");
    let before = |part: &&str| {
        says(part)
            || ["with %", "change to", "join %", "fasten off", "working in", "ch "]
                .iter()
                .any(|one| part.starts_with(one))
    };
    let first = told.split(" , ").take_while(before).any(|part| says(&part));
    (first, told.rsplit(" , ").take(2).any(|part| says(&part)))
}

/// Slip stitches before a chain that counts only bring the hook to where the round begins.
fn moved_along(steps: &str) -> String {
    let all: Vec<&str> = steps.split(", ").collect();
    let slips = all.iter().take_while(|step| step.starts_with("sl st")).count();
    let counts = all.get(slips).is_some_and(|step| step.starts_with("ch ") && step.contains(" as "));
    let Some(last) = slips.checked_sub(1).and_then(|at| all.get(at)).filter(|_| counts) else {
        return steps.to_owned();
    };
    let along = match last.strip_prefix("sl st in next ") {
        Some(place) => format!("move to next {place}"),
        None => {
            let number = |step: &&str| step.strip_prefix("sl st").map_or("", str::trim).parse::<u32>().unwrap_or(1);
            format!("move {}", all.iter().take(slips).map(number).sum::<u32>())
        }
    };
    std::iter::once(along.as_str()).chain(all.into_iter().skip(slips)).collect::<Vec<_>>().join(", ")
}

fn kind_counted(teller: &Teller<'_>, kind: &Pair<'_, Rule>) -> Result {
    let words = kind.as_str().trim();
    if let Some(yarn) = words.strip_prefix("st in %") {
        return Ok(format!(" {}", yarn.replace('_', " ")));
    }
    Ok(teller.noun(kind)?.map(|kind| format!(" {kind}")).unwrap_or_default())
}

/// Reads words by one rule of the grammar.
pub(super) fn parsed(rule: Rule, words: &str) -> Option<Pair<'_, Rule>> {
    Prose::parse(rule, words).ok()?.next()
}

/// Where reading stopped, in the words of the text as they are spelt for reading.
pub(super) fn unread(words: &str, fault: &pest::error::Error<Rule>) -> Unread {
    let at = match fault.location {
        pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
    };
    let rest = words.get(at..).unwrap_or_default();
    let few: Vec<&str> = rest.split(' ').take(6).collect();
    Unread::new(&few.join(" ").replace(['~', '%', '@'], "").replace('_', " "))
}

/// Words for the maker: what would mean something in the notation is kept apart.
fn maker_words(text: &str) -> String {
    text.replace(['{', '}'], "")
}

/// Whether a text says how a piece goes on that goes over from rounds to rows, or from rows to rounds.
fn goes_over(text: &str) -> bool {
    ["From here on work ", "Do not turn after the last row:"].iter().any(|begin| text.starts_with(begin))
}
