//! The whole text: which block is a title, a material, a piece, a row or words for the maker.

mod begun;
mod copied;
mod diagonal;
mod ends;
mod kept;
mod numbers;
mod onward;
mod otherwise;
mod sentences;

use std::collections::BTreeMap;

use pest::iterators::Pair;
use ringtrue_grammar::Prose;
use ringtrue_grammar::prose::Rule;

pub(super) use self::diagonal::begins_block;
use self::ends::{
    all_in_one, group_of, kinds_there, lead_out_of_group, loops_first, moved_along, slipped_to_group,
    total_in_brackets, turned_before_total, turning, turning_chain_off, with_rest,
};
pub(super) use self::ends::{along, gapped};
use self::sentences::{
    FOR_MAKERS, begins_on_chain, cites_rows, ends_yarn, goes_over, has_work, lists_sizes, looks_like_work, maker_words,
    makes_chain, says_more_of_end, tells_counts,
};
pub(super) use self::sentences::{copies_said, only_tells, sentences};
use super::blocks::{Block, Kind, entry};
use super::choose::Way;
use super::colours;
use super::edges::{self, Intro};
use super::elided;
use super::head::{Head, copies, in_ring, is_heading, is_start, rounds_said, says_to_do, section};
use super::label::{self, Label, label};
use super::lexicon::{Lexicon, Token, is_amount, line_of};
use super::missed::{self, Among};
use super::named::named;
use super::piece::{Draft, Written};
use super::remarks;
use super::repeats;
use super::sizes;
use super::spoken;
use super::strangers;
use super::told::{Lead, Result, Teller, Unread, amount};
use super::{Became, Instruction, Reading};
use super::{usual, whole};
use crate::diagnostic::Span;
use crate::stitch::{Stitches, Terms};
use crate::syntax::NOT_READ;

/// Reads a text in one way.
pub(super) fn read(blocks: &[Block], head: &Head, stitches: &Stitches, way: &Way) -> Reading {
    let mut reader = Reader::new(head, stitches, way);
    reader.striped();
    for block in &head.missed {
        reader.told(block, Became::Remark(String::new()));
    }
    let below = blocks.get(head.instructions..).unwrap_or_default();
    for (at, block) in below.iter().enumerate() {
        let for_sizes = sizes::chosen(&block.text, &head.sizes).is_some();
        let rest = below.get(at + 1..).unwrap_or_default();
        if !for_sizes && is_heading(block, rest, stitches) {
            reader.heading(&block.text, rest);
        } else {
            reader.goes_on = below.get(at + 1).and_then(|next| label(&reader.lexicon.read(&next.text)));
            reader.block(block);
        }
    }
    reader.flush();
    let mut lines = head.notation(&reader.lexicon, reader.counts_chains);
    lines.extend(reader.blocks.as_ref().map(diagonal::Sort::notation));
    for piece in reader.pieces() {
        let only = piece.only_for.as_ref().map(|only| reader.only_prefix(only)).unwrap_or_default();
        let mut of_piece = piece.notation().into_iter();
        lines.push(String::new());
        lines.extend(of_piece.next().map(|first| format!("{only}{first}")));
        lines.extend(of_piece);
    }
    let chosen = head.chosen.iter().cloned().chain(reader.chosen).collect();
    Reading { notation: lines.join("\n") + "\n", instructions: reader.instructions, chosen }
}

/// Whether a text has the squares of a grid, which the lines work: `Chart Gulls: 7 squares wide and 4 rows high, seen from the right side. Row 1, …`.
fn draws_grid(text: &str) -> bool {
    let drawn = text.strip_prefix("Chart ").and_then(|rest| rest.split_once(": "));
    drawn.is_some_and(|(_, rest)| rest.contains(" squares wide and ") && rest.contains(" seen from the right side. "))
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
    /// The pieces that are done.
    finished: Vec<Draft>,
    /// How often all of it is made, where the text says it behind the last piece.
    all_copies: Option<u32>,
    instructions: Vec<Instruction>,
    counts_chains: bool,
    /// The sizes that the lines at hand are for, where a line above says so.
    only_for: Option<Vec<bool>>,
    /// The label of the next part of the text, if it has one.
    goes_on: Option<Label>,
    /// The yarn that each piece ends with.
    yarns: BTreeMap<String, String>,
    /// Whether the pieces are over, and whether what follows is still for the maker.
    after: Option<After>,
    /// The last piece that is done, and whether it is worked in rows.
    done: Option<(String, bool)>,
    /// Where in a part of the text words for the maker stand behind the end of the yarn.
    behind_end: Option<usize>,
    /// The last piece that begins with a chain.
    chained: Option<String>,
    /// Openings that a piece may go on in, and the piece that has them.
    openings: BTreeMap<String, String>,
    /// What was chosen, in words.
    chosen: Vec<String>,
    /// Where what is read stands in the text.
    at: Span,
    /// What the rows of the table at hand are called.
    columns: Option<&'static str>,
    /// The blocks that are worked from corner to corner.
    blocks: Option<diagonal::Sort>,
    /// The rows that form the pattern, by the numbers of the text.
    forms: Option<otherwise::Pattern>,
    /// The last row that has a name for its label, by the name.
    named_row: Option<String>,
    /// Rows of the piece that are called by a letter, with their numbers.
    letters: Vec<(char, u32)>,
    /// Whether words that mean nothing are left aside in the line at hand.
    leaves_aside: bool,
}

impl<'a> Reader<'a> {
    fn new(head: &'a Head, stitches: &'a Stitches, way: &'a Way) -> Self {
        let lexicon = head.lexicon(stitches);
        let mut reader = Self {
            head,
            way,
            lexicon,
            piece: Draft::default(),
            finished: Vec::new(),
            all_copies: None,
            instructions: Vec::new(),
            counts_chains: head.counts_chains || way.counts_chains,
            only_for: None,
            goes_on: None,
            yarns: BTreeMap::new(),
            after: None,
            done: None,
            behind_end: None,
            chained: None,
            openings: BTreeMap::new(),
            chosen: Vec::new(),
            at: Span::default(),
            columns: None,
            blocks: None,
            forms: None,
            letters: Vec::new(),
            leaves_aside: false,
            named_row: None,
        };
        reader.begin(&head.title);
        reader
    }

    fn begin(&mut self, name: &str) {
        let (name, copies) = copies(name);
        let copies = copies.or_else(|| self.head.copies.clone());
        let (way, lead, turned) = (self.head.way, self.head.lead.clone(), self.head.turned);
        let says_turns = self.head.says_turns;
        self.only_for = None;
        self.letters.clear();
        self.named_row = None;
        let stripes = self.head.stripes.as_ref().and_then(|(stripes, _)| stripes.clone());
        let stripes = stripes.filter(|_| self.head.pieces.len() < 2);
        self.piece = Draft { name, way, turned, says_turns, copies, lead, stripes, ..Draft::default() };
    }

    /// Stripes are worked in the only piece; of several it isn't known which are striped.
    fn striped(&mut self) {
        let Some((stripes, block)) = &self.head.stripes else { return };
        match stripes.as_ref().filter(|_| self.head.pieces.len() < 2) {
            Some(_) => self.told(block, Became::Work),
            None => self.told(block, Became::Remark(String::new())),
        }
    }

    fn flush(&mut self) {
        while (!self.piece.waiting.is_empty() || self.piece.said_early.is_some()) && self.next_waiting() {}
        self.left_waiting(u32::MAX);
        if let Some((_, _, block)) = self.piece.said_early.take() {
            self.unread(&block);
        }
        let piece = std::mem::take(&mut self.piece);
        let changed = piece.lines.iter().rev().find_map(|line| line.strip_prefix("change to "));
        if let Some(yarn) = changed.map(str::to_owned).or_else(|| piece.yarn.clone()) {
            self.yarns.insert(piece.name.clone(), yarn);
        }
        if piece.start.is_some() || piece.like.is_some() || !piece.lines.is_empty() {
            let rows = piece.written.iter().all(|written| !written.round);
            if piece.start.as_ref().is_some_and(|start| start.starts_with("ch ")) {
                self.chained = Some(piece.name.clone());
            }
            for line in piece.written.iter().flat_map(|written| written.steps.split(", ")) {
                if let Some((_, opening)) = line.split_once("set aside ").and_then(|(_, rest)| rest.split_once(" as "))
                {
                    let opening = opening.trim_end_matches(|c: char| !c.is_alphanumeric());
                    self.openings.insert(opening.split(']').next().unwrap_or(opening).to_owned(), piece.name.clone());
                }
            }
            self.done = Some((piece.name.clone(), rows && !piece.written.is_empty()));
            self.finished.push(piece);
        }
    }

    fn block(&mut self, block: &Block) {
        self.at = block.span;
        match block.kind {
            Kind::TableRow => self.table_row(block),
            Kind::Heading(_) => self.remark(&block.text),
            Kind::Paragraph | Kind::Item => match self.after {
                Some(After::Finishing) => self.words(&block.text),
                Some(After::Other) => self.kept(&block.text),
                None => self.paragraph(block),
            },
        }
    }

    /// A row of a table that begins with a label is a line.
    fn table_row(&mut self, block: &Block) {
        let cells: Vec<&str> = block.text.trim_matches('|').split('|').map(str::trim).collect();
        if let Some(word) = cells.first().and_then(|first| column_of_rows(first)) {
            self.columns = Some(word);
            return self.remark(&block.text);
        }
        let words = cells.join(" ");
        if self.after.is_none() && label(&self.lexicon.read(&words)).is_some() {
            return self.paragraph(&Block { text: words, ..block.clone() });
        }
        if let Some(row) = self.numbered_row(&cells).filter(|_| self.after.is_none()) {
            return self.paragraph(&Block { text: row, ..block.clone() });
        }
        self.kept(&block.text);
    }

    /// `| 3 | [sc, inc] x 8 | 24 |`: the next row by its number, what is worked, and the count.
    fn numbered_row(&self, cells: &[&str]) -> Option<String> {
        let (first, rest) = cells.split_first()?;
        let (work, count) = rest.split_first()?;
        let from = first.split(['-', '–']).next()?.trim().parse::<u32>().ok()?;
        let works = self
            .lexicon
            .read(work)
            .iter()
            .any(|token| token.text.starts_with('~') || matches!(token.text.as_str(), "ring" | "rep" | "as" | "*"));
        let count = count.iter().find(|cell| cell.starts_with(|c: char| c.is_ascii_digit()));
        let count = count.map(|count| format!(" ({count})")).unwrap_or_default();
        let rounds = self.piece.written.last().is_none_or(|written| written.round);
        let word = self.columns.unwrap_or(if rounds { "Rnd" } else { "Row" });
        (works && from == self.piece.last_number(0).saturating_add(1)).then(|| format!("{word} {first}: {work}{count}"))
    }

    fn heading(&mut self, text: &str, below: &[Block]) {
        let name = text.trim();
        let known = section(name)
            .filter(|part| !(self.head.pieces.iter().any(|piece| *piece == copies(name).0) && *part != "instructions"));
        match known {
            Some("instructions") => {}
            Some(part @ ("finishing" | "other")) => {
                self.after = Some(if part == "finishing" { After::Finishing } else { After::Other });
                self.remark(name);
            }
            _ if self.goes_on_below(name, below) => {
                if let Some(yarn) = self.yarn_of_heading(name) {
                    self.in_yarn(&yarn);
                }
                self.kept(name);
            }
            _ => {
                self.after = None;
                self.columns = None;
                self.flush();
                self.begin(name);
                self.piece.yarn = self.yarn_of_heading(name);
                if name.contains(['(', '[']) {
                    self.remark(name);
                }
            }
        }
    }

    /// What stands behind the sizes that it is for; where nothing does, the lines below are for them.
    fn for_sizes(&mut self, block: &Block, chosen: sizes::Chosen) {
        let rest = block.text.get(chosen.ends..).unwrap_or_default().trim();
        let some = Some(chosen.sizes).filter(|sizes| sizes.contains(&false));
        let ends = block.text.get(..chosen.ends).unwrap_or_default().trim_end().ends_with("only.");
        if ends && some.is_some() && self.piece.is_bare() && label(&self.lexicon.read(rest)).is_none() {
            self.piece.only_for = some;
            if !rest.is_empty() {
                self.paragraph(&Block { text: rest.to_owned(), ..block.clone() });
            }
            return;
        }
        if rest.is_empty() {
            self.only_for = some;
            return self.remark(&block.text);
        }
        let before = std::mem::replace(&mut self.only_for, some);
        self.paragraph(&Block { text: rest.to_owned(), ..block.clone() });
        self.only_for = before;
    }

    /// The yarn that the heading of a piece names.
    fn yarn_of_heading(&self, heading: &str) -> Option<String> {
        let tokens = self.lexicon.read(heading);
        let letter = tokens.iter().find_map(|token| token.text.strip_prefix('%')).map(|yarn| yarn.replace('_', " "));
        let called = colours::in_heading(heading).and_then(|name| self.head.yarn_called(name));
        if self.head.has_one_yarn() {
            return None;
        }
        letter.map(|yarn| self.head.yarn_called(&yarn).unwrap_or(yarn)).or(called)
    }

    /// The work goes on in a yarn, if it isn't the one at hand.
    fn in_yarn(&mut self, yarn: &str) {
        let yarn = self.head.yarn_called(yarn).unwrap_or_else(|| yarn.to_owned());
        if self.piece.is_bare() {
            self.piece.yarn = Some(yarn);
        } else if self.piece.yarn_at_hand().is_none_or(|known| known != yarn) {
            self.piece.lines.push(format!("change to {yarn}"));
        }
    }

    fn remark(&mut self, text: &str) {
        self.piece.lines.push(format!("# {text}"));
    }

    /// A remark, where it is no work.
    fn kept(&mut self, text: &str) {
        if missed::is_work(text, &self.lexicon, Among::Work) { self.missed(text) } else { self.remark(text) }
    }

    /// Words for the maker, where they are no work.
    fn words(&mut self, text: &str) {
        if missed::is_work(text, &self.lexicon, Among::Work) {
            return self.missed(text);
        }
        // A line that only says again what the rows say.
        let line = if text.starts_with("Outline: ") { format!("# {text}") } else { format!("> {}", maker_words(text)) };
        self.piece.lines.push(line);
    }

    fn paragraph(&mut self, block: &Block) {
        let text = block.text.as_str();
        let chosen = sizes::chosen(text, &self.head.sizes).or_else(|| sizes::for_some(text, &self.head.sizes));
        if let Some(chosen) = chosen {
            return self.for_sizes(block, chosen);
        }
        if let Some(rest) = spoken::for_all_sizes(text).filter(|_| self.head.sizes.len() > 1) {
            return self.paragraph(&Block { text: rest, ..block.clone() });
        }
        if self.for_labelled_sizes(block) {
            return;
        }
        if self.explains_blocks(text) || draws_grid(text) {
            return self.remark(text);
        }
        match self.with_numbers_for_letters(block).filter(|other| other.text != text) {
            Some(numbered) => self.paragraph(&numbered),
            None => self.row_or_start(block),
        }
    }

    /// A part of the text for the sizes at hand: a row, or how the piece begins or ends.
    fn row_or_start(&mut self, block: &Block) {
        if let Some(next) = label::lettered(&block.text) {
            return self.row_or_start(&Block { text: next, ..block.clone() });
        }
        let text = block.text.as_str();
        self.for_all_again(text);
        self.lexicon.concerned = self.sizes_named(text).or(self.only_for.clone()).or(self.piece.only_for.clone());
        let tokens = self.lexicon.read(text);
        let label = label(&tokens);
        if self.head.sizes.len() < 2 && lists_sizes(&tokens) && label.is_none() {
            return self.unread(block);
        }
        if self.by_parity(block, &tokens) {
            return;
        }
        if let Some(label) = label.map(|label| self.numbered(label)).or_else(|| self.entry(text, &tokens)) {
            return self.labelled(block, label);
        }
        if let Some(yarn) = in_yarn_alone(&tokens) {
            self.in_yarn(&yarn);
            return self.told(block, Became::Work);
        }
        if self.yarn_in_first(block) {
            return;
        }
        let free = self.piece.start.is_none();
        let hook = behind_hook(text, &tokens).filter(|_| free);
        let named = named(text)
            .filter(|(name, _)| free && begins_so(name))
            .and_then(|(_, rest)| behind_hook(rest, &self.lexicon.read(rest)));
        if let Some(rest) = hook.or(named).or_else(|| self.named_before(text)) {
            return self.paragraph(&Block { text: rest, ..block.clone() });
        }
        if (self.piece.start.is_none() || goes_over(text)) && self.intro(text) {
            return;
        }
        if self.as_piece_said(text, &tokens) {
            return self.told(block, Became::Work);
        }
        if let Some(layout) = parsed(Rule::layout, &line_of(&tokens)).and_then(edges::layout) {
            self.piece.layout = Some(layout);
            return self.told(block, Became::Work);
        }
        if self.begins_beside(block) {
            return;
        }
        self.begun_or_ended(block, &tokens);
    }

    /// `Switch to Yellow. This is the post for his lamp.`: a change of yarn in a sentence of its own before others.
    fn yarn_in_first(&mut self, block: &Block) -> bool {
        let all = sentences(&block.text);
        let Some((first, rest)) = all.split_first().filter(|(_, rest)| !rest.is_empty()) else { return false };
        let Some(yarn) = in_yarn_alone(&self.lexicon.read(first)) else { return false };
        self.in_yarn(&yarn);
        self.told(&Block { text: first.clone(), ..block.clone() }, Became::Work);
        self.paragraph(&Block { text: rest.join(" "), ..block.clone() });
        true
    }

    /// How a piece begins, or how it ends.
    fn begun_or_ended(&mut self, block: &Block, tokens: &[Token]) {
        let text = block.text.as_str();
        self.begun_anew(&line_of(tokens));
        if self.piece.start.is_none() && self.first_unlabelled(block, &line_of(tokens)) {
            return;
        }
        let common = line_of(&self.lexicon.of_the_trade_alone().read(text));
        for words in [line_of(tokens), common] {
            if self.start_or_ending(&words) {
                self.name_thing(text);
                return self.told(block, Became::Work);
            }
        }
        if self.joined_in_opening(tokens) {
            return self.told(block, Became::Work);
        }
        self.rest_of(block, tokens);
    }

    /// A line whose label says which sizes it is for.
    fn for_labelled_sizes(&mut self, block: &Block) -> bool {
        let Some((rest, sizes)) = self.sizes_in_label(&block.text) else { return false };
        let before = self.only_for.replace(sizes);
        self.paragraph(&Block { text: rest, ..block.clone() });
        self.only_for = before;
        true
    }

    /// A part that is joined anew beside another one, or work along a chain in a yarn of its own.
    fn begins_beside(&mut self, block: &Block) -> bool {
        if let Some(steps) = self.rejoined(&block.text).filter(|_| self.is_cut()) {
            self.piece.first_steps = steps;
            let next = self.goes_on.as_ref().and_then(|next| next.spans.first().copied().flatten());
            self.counted_on(next.map(|(from, _)| from));
            self.told(block, Became::Work);
            return true;
        }
        let begins = self.yarn_first(&block.text).filter(|(_, rest)| {
            !self.piece.begun() && (self.begins_block(rest) || in_ring(&line_of(&self.lexicon.read(rest))))
        });
        let Some((yarn, rest)) = begins else { return false };
        self.in_yarn(&yarn);
        self.paragraph(&Block { text: rest.to_owned(), ..block.clone() });
        true
    }

    /// What stands behind a label: a line, or something that is only said of rows.
    fn labelled(&mut self, block: &Block, label: Label) {
        let text = block.text.as_str();
        if tells_counts(text) {
            return self.remark(text);
        }
        let body = text.get(label.ends..).unwrap_or_default().trim();
        let before = text.get(..label.ends).unwrap_or_default().to_lowercase();
        if before.contains(" only") && self.only_for.is_none() && !before.contains("rs") && !before.contains("ws") {
            return self.unread(block);
        }
        // `Foundation row: Chain 36 (multiple of 3).`
        if label.set_up && self.piece.start.is_none() && self.start_or_ending(&line_of(&self.lexicon.read(body))) {
            // It is no row below the first one.
            self.piece.shift = 0;
            return self.told(block, Became::Work);
        }
        let begins = label.spans.iter().all(|span| span.is_some_and(|(from, _)| from == 1));
        if begins && self.as_piece_to(&label, body) {
            return self.told(block, Became::Work);
        }
        if let Some(rest) = self.names_pattern(&label, body) {
            return self.behind_pattern(block, &rest);
        }
        if let Some(again) = numbers::forms_pattern(text.get(..label.ends).unwrap_or_default(), body) {
            return self.paragraph(&Block { text: again, ..block.clone() });
        }
        // A row that is only spoken of.
        if ["are ", "is ", "has ", "have ", "was ", "were ", "go ", "goes "]
            .iter()
            .any(|begins| body.starts_with(begins))
        {
            return self.words(text);
        }
        self.line(block, label, body);
    }

    /// What stands behind the words that name the rows of the pattern.
    fn behind_pattern(&mut self, block: &Block, rest: &str) {
        if rest.is_empty() {
            return self.words(&block.text);
        }
        let end = block.text.len().saturating_sub(rest.len());
        self.words(block.text.get(..end).unwrap_or_default().trim());
        for sentence in sentences(rest) {
            self.paragraph(&Block { text: sentence, ..block.clone() });
        }
    }

    /// What is neither a row nor a start: work that could not be read, the end of the yarn, or words for the maker.
    fn rest_of(&mut self, block: &Block, tokens: &[Token]) {
        let text = block.text.as_str();
        if self.says_rounds(text, tokens) {
            return;
        }
        if let Some(all) = self.parted(text) {
            for sentence in all {
                self.paragraph(&Block { text: sentence, ..block.clone() });
            }
            return;
        }
        if ends_yarn(tokens) {
            self.piece.lines.push("fasten off".to_owned());
            if !tokens.iter().skip(2).all(|token| token.text == ".") {
                self.words(text);
            }
            return self.told(block, Became::Work);
        }
        if self.repeats_rows(block, tokens) || self.works_even(&line_of(tokens)) || self.for_rows(&line_of(tokens)) {
            return self.told(block, Became::Work);
        }
        if says_open(&line_of(tokens)) {
            self.says_open();
        }
        if self.works_around(tokens) || self.seamed(text) || self.names_yarn(text, tokens) {
            return self.told(block, Became::Work);
        }
        if self.named_rows(block) || self.copied(text) || self.made_twice(text, tokens) || self.edging(block) {
            return;
        }
        if self.slips_behind(tokens) {
            return self.told_behind(block);
        }
        if missed::is_abbreviation(text, &self.lexicon) {
            return self.remark(text);
        }
        let listed = entry(text).map(|(.., ends)| self.lexicon.read(text.get(ends..).unwrap_or_default()));
        if self.listed_row(block, listed.as_deref()) {
            return;
        }
        if self.is_unread_work(listed.as_deref().unwrap_or(tokens), tokens) || self.is_unread_start(text) {
            if !self.begins_by_meaning(block) {
                self.unread(block);
            }
            return;
        }
        self.words(text);
    }

    /// Whether work that is not read stands where a piece begins.
    fn is_unread_start(&self, text: &str) -> bool {
        let free = self.piece.start.is_none() && self.piece.like.is_none() && self.piece.written.is_empty();
        free && missed::is_work(text, &self.lexicon, Among::Work)
    }

    /// What is said of all rounds of a piece before they begin: `All rounds begin with 2 ch, not counted, and are closed with ss.`
    fn says_rounds(&mut self, text: &str, tokens: &[Token]) -> bool {
        let said = rounds_said(&line_of(tokens)).filter(|_| self.piece.written.is_empty());
        let Some(lead) = said else { return false };
        self.piece.way = Some("in joined rounds");
        if lead != Lead::None {
            self.piece.led_all = true;
            self.piece.lead = lead;
        }
        self.piece.lines.push(format!("> {}", maker_words(text)));
        true
    }

    /// A row of a numbered list that is not read keeps its number.
    fn listed_row(&mut self, block: &Block, listed: Option<&[Token]>) -> bool {
        let works = listed.is_some_and(|tokens| tokens.iter().any(|token| token.text.starts_with('~')));
        let Some((from, to, _)) = entry(&block.text).filter(|_| works && !self.piece.written.is_empty()) else {
            return false;
        };
        let number = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        let round = self.piece.written.last().is_some_and(|last| last.round);
        let spans = vec![Some((number(from), number(to))); self.lexicon.sizes.max(1)];
        self.unread(block);
        self.piece.written.push(Written { spans, round, missed: true, ..Written::default() });
        true
    }

    /// Whether words are work that is not read. A chain that could not be read as the beginning of the piece is never left to the maker,
    /// nor is one that is worked along, wherever it stands.
    fn is_unread_work(&self, line: &[Token], tokens: &[Token]) -> bool {
        let begun = !self.piece.written.is_empty();
        looks_like_work(line)
            || (begun || self.done.is_some()) && has_work(tokens)
            || self.piece.start.is_none() && !begun && makes_chain(tokens)
            || begins_on_chain(tokens)
    }

    /// `Cuff: *fpdc, dc* around for 5 rounds`.
    fn named_rows(&mut self, block: &Block) -> bool {
        let behind = named(&block.text).filter(|(name, _)| section(name).is_none() && !says_to_do(name));
        let words = behind.map(|(_, rest)| line_of(&self.lexicon.read(rest)));
        let read = words.is_some_and(|words| self.for_rows(&words));
        if read {
            self.told(block, Became::Work);
        }
        read
    }

    /// What is told behind the end of the yarn.
    fn told_behind(&mut self, block: &Block) {
        if let Some(told) = self.behind_end.take().and_then(|from| block.text.get(from..)) {
            self.words(told);
        }
        self.told(block, Became::Work);
    }

    /// The sentences of a text of which one begins a piece or ends the yarn.
    fn parted(&self, text: &str) -> Option<Vec<String>> {
        let all = sentences(text);
        let alone = |sentence: &String| {
            let tokens = self.lexicon.read(sentence);
            self.piece.start.is_none() && parsed(Rule::start, &line_of(&tokens)).is_some() || ends_yarn(&tokens)
        };
        (all.len() > 1 && all.iter().any(alone)).then_some(all)
    }

    /// `Edging: Ch 1, sc in first st, …` below rows: one more of them.
    fn edging(&mut self, block: &Block) -> bool {
        let Some((name, rest)) = named(&block.text) else { return false };
        let known = [
            "edging",
            "edge",
            "top edge",
            "lower edge",
            "hem",
            "border",
            "trim",
            "final row",
            "final round",
            "finishing row",
            "finishing round",
        ];
        let known = known.contains(&name.to_lowercase().as_str());
        let known = known || self.names_row(name, rest);
        let Some(round) = self.piece.written.last().map(|last| last.round).filter(|_| known) else { return false };
        let joins = self.lexicon.read(rest);
        if otherwise::joins_on(&joins) {
            return self.edged(block, &joins);
        }
        let (yarn, rest) = match self.yarn_first(rest) {
            Some((yarn, rest)) => (Some(yarn), rest.to_owned()),
            None => (None, rest.to_owned()),
        };
        let words = turned_before_total(&total_in_brackets(&line_of(&self.lexicon.read(&rest))));
        if parsed(Rule::line, &words)
            .is_none_or(|line| line.into_inner().next().is_none_or(|part| part.as_rule() != Rule::steps))
        {
            return false;
        }
        let label = self.numbered(Label { round, yarn, ..Label::default() });
        self.line(block, label, &rest);
        self.named_row = Some(name.to_lowercase());
        true
    }

    /// `Ribbed hem: Ch 1, sc in back loop only of each st across.`: a row that has a name for a label goes all along.
    fn names_row(&self, name: &str, rest: &str) -> bool {
        const MOST_WORDS: usize = 3;
        let words = line_of(&self.lexicon.read(rest));
        let plain =
            name.split(' ').count() <= MOST_WORDS && name.chars().all(|c| c.is_alphabetic() || matches!(c, ' ' | '-'));
        let own = self.lexicon.read(name).iter().any(|token| token.text.starts_with('~'))
            || says_to_do(name)
            || section(name).is_some();
        let told =
            ["note", "tip", "hint", "or", "repeat", "pattern"].iter().any(|word| name.to_lowercase().contains(word));
        let whole = [" in each st", " around", " to end", " across"].iter().any(|all| words.contains(all));
        plain && !own && !told && whole && words.starts_with("ch ") && !words.contains("from hook")
    }

    /// `The cuff (back to Sand)` between rows: what comes, with the yarn that it is worked in.
    fn names_yarn(&mut self, text: &str, tokens: &[Token]) -> bool {
        const MOST_WORDS: usize = 10;
        let Some(open) = tokens.iter().position(|token| token.text == "(") else { return false };
        let inside: Vec<&str> = tokens.iter().skip(open + 1).map(|token| token.text.as_str()).collect();
        let yarn = match inside.as_slice() {
            ["back" | "change", "to", yarn, ")"] | ["in" | "with", yarn, ")"] | [yarn, ")"] => yarn.strip_prefix('%'),
            _ => None,
        };
        let Some(yarn) = yarn.filter(|_| tokens.len() <= MOST_WORDS).map(|yarn| yarn.replace('_', " ")) else {
            return false;
        };
        self.in_yarn(&yarn);
        self.remark(text);
        true
    }

    /// `Join last row to foundation with sl sts.`: the piece is closed to a tube.
    fn seamed(&mut self, text: &str) -> bool {
        let all = sentences(text);
        let Some((first, rest)) = all.split_first() else { return false };
        let words = line_of(&self.lexicon.read(first));
        let joins = ["join last row to ", "~sl_st last row to "].iter().any(|begins| {
            // `Bring the short ends together and sl st the last row to the starting chain`.
            words
                .split_once(begins)
                .is_some_and(|(before, _)| !before.contains(['~', '*', '(']) && !before.contains("ch "))
        });
        let chain = ["foundation", "first row", "beg ch", "starting ch", "ch"].iter().any(|edge| words.contains(edge));
        let rows = self.piece.start.as_ref().is_some_and(|start| start.starts_with("ch "))
            && !self.piece.open_ended
            && self.piece.written.iter().all(|written| !written.round && !written.spans.is_empty());
        if !joins || !chain || !words.contains("~sl_st") || !rows || self.piece.written.is_empty() {
            return false;
        }
        let last: Vec<String> =
            (0..self.lexicon.sizes.max(1)).map(|size| self.piece.last_number(size).to_string()).collect();
        let alike = last.iter().all(|one| Some(one) == last.first());
        let last = if alike { last.first().cloned().unwrap_or_default() } else { last.join(" / ") };
        self.piece.lines.push(format!("seam row 1 to row {last}"));
        for sentence in rest {
            self.words(sentence);
        }
        true
    }

    /// `Edging: Join B to the first stitch.`: the next row begins so, and those of the edging are counted from 1.
    fn edged(&mut self, block: &Block, joins: &[Token]) -> bool {
        let yarn = joins.iter().find_map(|token| token.text.strip_prefix('%')).map(|yarn| yarn.replace('_', " "));
        let yarn = yarn.map(|yarn| self.head.yarn_called(&yarn).unwrap_or(yarn));
        let yarn = yarn.map(|yarn| format!(" {yarn}")).unwrap_or_default();
        self.piece.first_steps = vec![format!("rejoin{yarn} in next")];
        let next = self.goes_on.as_ref().and_then(|next| next.spans.first().copied().flatten());
        self.counted_on(next.map(|(from, _)| from));
        self.told(block, Became::Work);
        true
    }

    /// Work that could not be read.
    fn unread(&mut self, block: &Block) {
        self.remark(&missed::remark(&block.text));
        self.told(block, Became::Remark(String::new()));
    }

    /// `Now ch 1 and work around the base.` above a first round: the piece that is done is gone round.
    fn works_around(&mut self, tokens: &[Token]) -> bool {
        let at = tokens.windows(2).position(|two| matches!(two, [work, around] if work.text.starts_with("work") && matches!(around.text.as_str(), "around" | "rnd")));
        let behind = at.and_then(|at| tokens.get(at + 2..)).unwrap_or_default();
        let whole =
            behind.iter().all(|token| {
                matches!(
                    token.text.as_str(),
                    "all"
                        | "whole"
                        | "entire"
                        | "edge"
                        | "edges"
                        | "outside"
                        | "piece"
                        | "of"
                        | "."
                        | "4"
                        | "sides"
                        | "outer"
                ) || token.text.strip_prefix('@').is_some_and(|at| {
                    at.parse().is_ok_and(|at: usize| self.head.pieces.get(at) == Some(&self.piece.name))
                }) || token.text.eq_ignore_ascii_case(&self.piece.name)
            });
        let first = self
            .goes_on
            .as_ref()
            .is_some_and(|next| next.round && next.spans.iter().all(|span| span.is_some_and(|(from, _)| from == 1)));
        let idle = at.is_some_and(|at| {
            tokens.get(..at).is_some_and(|before| {
                !before
                    .iter()
                    .any(|token| token.text.starts_with('~') || matches!(token.text.as_str(), "join" | "rep" | "skip"))
            })
        });
        let rows = !self.piece.written.is_empty()
            && self.piece.written.iter().all(|written| !written.round && !written.spans.is_empty());
        if at.is_none() || behind.is_empty() || !whole || !first || !idle || !rows {
            return false;
        }
        let of = self.piece.name.clone();
        self.flush();
        self.begin(&format!("{of} 2"));
        self.piece.start = Some(format!("around {of}"));
        self.piece.way = Some("in joined rounds");
        true
    }

    /// The same of what stands within a part of the text.
    fn missed(&mut self, text: &str) {
        self.unread(&Block { kind: Kind::Paragraph, text: text.to_owned(), span: self.at });
    }

    /// `Cuff: Ch 9.`, `Foundation: Ch 25`: what stands behind the name of a piece or of its beginning.
    fn named_before(&mut self, text: &str) -> Option<String> {
        let (name, rest) = named(text)?;
        let tokens = self.lexicon.read(rest);
        let words = line_of(&tokens);
        let begins = parsed(Rule::start, &words).is_some()
            || is_start(&tokens) && words.contains("from hook")
            || begins_so(name) && in_ring(&words) && self.piece.start.is_none();
        if !begins || section(name).is_some() || says_to_do(name) {
            return None;
        }
        if !begins_so(name) {
            self.heading(name, &[]);
        }
        Some(rest.trim().to_owned())
    }

    /// The same, with what is only told behind it: `Work as for Back; the fabric looks alike from both sides.`
    fn as_piece_said(&mut self, text: &str, tokens: &[Token]) -> bool {
        const OTHERWISE: [&str; 14] = [
            "but",
            "except",
            "reversing",
            "reverse",
            "reversed",
            "mirror",
            "omit",
            "omitting",
            "instead",
            "until",
            "only",
            "with",
            "without",
            "to",
        ];
        let end = tokens.iter().position(|token| matches!(token.text.as_str(), "." | ";" | ","));
        let told = end.and_then(|end| tokens.get(end + 1..)).filter(|told| !told.is_empty());
        let idle = |token: &Token| {
            let word = token.text.as_str();
            !OTHERWISE.contains(&word) && !word.starts_with(['~', '%', '@']) && !is_amount(word)
        };
        let (Some(end), Some(told)) = (end, told.filter(|told| told.iter().all(idle))) else {
            return self.as_piece(tokens);
        };
        let said = self.as_piece(tokens.get(..end).unwrap_or_default());
        if let Some(rest) = told.first().and_then(|first| text.get(first.start..)).filter(|_| said) {
            self.words(rest);
        }
        said
    }

    /// `Work as for Back.`: the piece is worked as an earlier one.
    fn as_piece(&mut self, tokens: &[Token]) -> bool {
        let words = line_of(tokens);
        let words = words.trim_end_matches([' ', '.']);
        // `…. Don't cut the yarn.`
        let words = words.split_once(" . do not ").map_or(words, |(words, _)| words);
        let words = &words.replace(" through row ", " to row ").replace(" through rnd ", " to rnd ");
        let words = &rows_as(words).unwrap_or_else(|| words.clone());
        let rest = ["as for ", "as ", "rep "].iter().find_map(|begins| words.strip_prefix(begins));
        let Some((piece, to)) = rest.map(|rest| rest.split_once(" to ").unwrap_or((rest, ""))) else { return false };
        let (piece, to) = match rows_of(piece, to) {
            Some((piece, row)) => (piece, row),
            None => (piece, to.to_owned()),
        };
        let to = to.trim_end_matches(|c: char| !c.is_alphanumeric());
        let by_number =
            piece.strip_prefix('@').and_then(|at| at.parse::<usize>().ok()).and_then(|at| self.head.pieces.get(at));
        let piece = by_number.or_else(|| self.head.pieces.iter().find(|known| known.eq_ignore_ascii_case(piece)));
        let (Some(piece), true) = (piece.cloned(), self.piece.written.is_empty() && self.piece.start.is_none()) else {
            return false;
        };
        let word = if to.starts_with("rnd ") { "rnd" } else { "row" };
        let row = to.strip_prefix("row ").or(to.strip_prefix("rnd "));
        let each: Option<Vec<u32>> = row.and_then(|row| row.split('/').map(|one| one.parse().ok()).collect());
        match (each, to) {
            (Some(rows), _) => {
                let told: Vec<String> = rows.iter().map(u32::to_string).collect();
                self.piece.like = Some(format!("{piece} to {word} {}", told.join(" / ")));
                // Lines of its own are counted on from there.
                let sizes = self.lexicon.sizes.max(1);
                let spans = (0..sizes).map(|size| Some((1, rows.get(size).or(rows.first()).copied()?))).collect();
                self.piece.written.push(Written { spans, round: word == "rnd", ..Written::default() });
            }
            (None, "" | "end") => self.piece.like = Some(piece),
            (None, _) => return false,
        }
        true
    }

    /// `1) – 7) work as for the basket bottom – 49`: the first lines of a piece are those of another one.
    fn as_piece_to(&mut self, label: &Label, body: &str) -> bool {
        let words = line_of(&self.lexicon.read(body));
        let piece =
            words.split([' ']).take_while(|word| !matches!(*word, "–" | "—" | "-" | "(" | "[" | "=" | "." | ","));
        let piece = piece.collect::<Vec<_>>().join(" ");
        if !(piece.starts_with("as ") || piece.starts_with("rep ")) || piece.contains("row") || piece.contains("rnd") {
            return false;
        }
        let last: Vec<String> = label.spans.iter().flatten().map(|(_, to)| to.to_string()).collect();
        let alike = last.iter().all(|other| Some(other) == last.first());
        let to = if alike { last.first().cloned().unwrap_or_default() } else { last.join("/") };
        let word = if label.round { "rnd" } else { "row" };
        let tokens = self.lexicon.read(&format!("{piece} to {word} {to}"));
        let before = self.piece.clone();
        if self.as_piece(&tokens) {
            return true;
        }
        // A part of the piece before has no name of its own there.
        let known = self.head.pieces.iter().any(|name| piece.to_lowercase().ends_with(&name.to_lowercase()));
        self.piece = before;
        match self.done.clone().filter(|_| known) {
            Some((done, _)) => self.as_piece(&self.lexicon.read(&format!("as for {done} to {word} {to}"))),
            None => false,
        }
    }

    /// What stands above the second round without a label is the start with the first one: `Ch 5, join to form a ring, ch 3, 11 dc
    /// in ring, join.`
    fn first_unlabelled(&mut self, block: &Block, words: &str) -> bool {
        // Where no rows follow, it is all there is.
        let all = Label::default();
        let second = self.goes_on.as_ref().or(Some(&all).filter(|_| words.contains("from hook"))).filter(|label| {
            // What stands above the first row goes along the chain all the same: it is the one below it.
            let from_one = words.starts_with("ch ") && words.contains("from hook");
            let begins = |from: u32| from == 2 || from == 1 && from_one;
            self.piece.written.is_empty()
                && label.spans.iter().all(|span| span.is_some_and(|(from, _)| begins(from)))
                && !label.set_up
        });
        let Some(second) = second.cloned() else { return false };
        let rest = self.without_said_of_rounds(&block.text);
        if rest != block.text && !rest.is_empty() {
            let words = line_of(&self.lexicon.read(&rest));
            return self.first_unlabelled(&Block { text: rest, ..block.clone() }, &words);
        }
        if second.spans.iter().any(|span| span.is_some_and(|(from, _)| from == 1)) {
            self.piece.shift = 1;
        }
        let spans = vec![Some((1, 1)); self.lexicon.sizes.max(1)];
        let mut first = Label { round: second.round, spans, ..Label::default() };
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
            // `Make a ring and work 6 sc into it` has no comma.
            let Some(body) = self.text_from(&block.text, length) else {
                self.piece.start = None;
                break;
            };
            self.line(block, first, body);
            return true;
        }
        let from_hook = words.starts_with("ch ") && words.contains("from hook");
        // `6 dc in magic ring (6)` above round 2.
        let next = second.spans.is_empty() && self.goes_on.is_some();
        let ring = in_ring(words) && (next || second.spans.iter().flatten().any(|(from, _)| *from == 2));
        if from_hook || ring {
            first.round |= ring;
            self.line(block, first, &block.text);
        }
        from_hook || ring
    }

    /// A text without the sentences that say something of all rounds, which is taken up.
    fn without_said_of_rounds(&mut self, text: &str) -> String {
        let (of_all, rest): (Vec<String>, Vec<String>) = sentences(text)
            .into_iter()
            .partition(|sentence| rounds_said(&line_of(&self.lexicon.read(sentence))).is_some());
        for sentence in of_all {
            let tokens = self.lexicon.read(&sentence);
            self.says_rounds(&sentence, &tokens);
        }
        rest.join(" ")
    }

    /// A text without its first parts between commas.
    fn text_from<'t>(&self, text: &'t str, parts: usize) -> Option<&'t str> {
        let (at, _) = text.match_indices(',').nth(parts.checked_sub(1)?)?;
        Some(text.get(at + 1..)?.trim())
    }

    fn start_or_ending(&mut self, words: &str) -> bool {
        // `Ch 25, FO.`: a cord.
        let bare = words.trim_end_matches([' ', '.']);
        let cord =
            [" , fo", " , fasten off", " and fasten off", " and fo"].iter().find_map(|end| bare.strip_suffix(end));
        if let Some(chain) = cord.filter(|chain| self.piece.start.is_none() && parsed(Rule::start, chain).is_some())
            && self.start_or_ending(chain)
        {
            self.piece.lines.push("fasten off".to_owned());
            return true;
        }
        let words = words.strip_prefix("work ").filter(|rest| rest.starts_with("ch ")).unwrap_or(words);
        let told = elided::start_said(words).filter(|_| self.piece.start.is_none());
        let words = told.as_deref().unwrap_or(words);
        if self.piece.start.is_none()
            && let Some(start) = parsed(Rule::start, words)
            && let Ok(begun) = edges::start(start, &self.head.pieces)
            && let Some(start) = self.of_known_piece(begun.start)
        {
            self.piece.start = Some(start);
            self.piece.on_chain = begun.on_chain;
            self.piece.corner = begun.corner;
            self.piece.first_steps = begun.first_steps;
            let goes_on = begun.goes_on.and_then(|piece| self.yarns.get(&piece).cloned());
            self.piece.yarn = begun.yarn.or(goes_on).or(self.piece.yarn.take());
            return true;
        }
        if says_more_of_end(words) {
            return false;
        }
        let ending = parsed(Rule::ending, words).and_then(|pair| edges::ending(pair, &self.head.pieces));
        let read = ending.is_some();
        self.piece.lines.extend(ending);
        read
    }

    /// An edge whose piece isn't named is one of the piece before, or, where it is the other side of a chain, of the last one that begins
    /// with a chain.
    fn of_known_piece(&self, start: String) -> Option<String> {
        if !start.ends_with(" of ") {
            return Some(start);
        }
        let piece = if start.starts_with("other side") {
            self.chained.clone()
        } else {
            self.done.clone().map(|(done, _)| done)
        };
        piece.map(|piece| start + &piece)
    }

    /// The thing that is no crochet has its name as the text has it.
    fn name_thing(&mut self, text: &str) {
        let thing = text.split_once(" places on ").and_then(|(_, rest)| rest.split_once(" and work along"));
        if let (Some(start), Some((thing, _))) = (self.piece.start.as_mut(), thing)
            && let Some((places, _)) = start.split_once(" places on ")
        {
            *start = format!("{places} places on {thing}");
        }
    }

    /// The sentences that are said of a piece before it begins.
    fn intro(&mut self, text: &str) -> bool {
        let text = text.trim_matches(['*', '(', ')', ' ', '_']);
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

    /// The side that the label of a row says, and whether the row is that of a pattern.
    fn side_and_pattern(&mut self, label: &Label, text: &str) {
        if let ([Some((number, _)), ..], false) = (label.spans.as_slice(), label.side.is_empty() || label.round) {
            self.piece.says_side(*number, label.side);
        }
        if text.to_lowercase().starts_with("patt") {
            self.piece.pattern_row = label.spans.first().copied().flatten().map(|(row, _)| row);
        }
    }

    fn line(&mut self, block: &Block, mut label: Label, body: &str) {
        let sizes = self.lexicon.sizes;
        // `Rnds 7-10: 4 rounds: sc in each st`.
        let body = self.so_many_rows(&label, body);
        let total = spoken::totalled(body);
        let body = total.as_deref().unwrap_or(body);
        let (body, said) = self.for_makers(body);
        let mut body = body.as_str();
        if let Some((yarn, rest)) = self.yarn_first(body) {
            (label.yarn, body) = (label.yarn.or(Some(yarn)), rest);
        }
        if let Some(yarn) = label.yarn.take() {
            self.in_yarn(&yarn);
        }
        if let ([span], true) = (label.spans.as_slice(), sizes > 1) {
            label.spans = vec![*span; sizes];
        }
        label.round &=
            !(label.short && (self.goes_to_and_fro(body) || self.turns_at_end(body) || self.goes_on_flat(&label)));
        let (only, body) = self.only(body);
        for (size, span) in label.spans.iter_mut().enumerate() {
            if only.as_ref().is_some_and(|only| only.get(size) == Some(&false)) {
                *span = None;
            }
        }
        if self.says_counts(&label, body) {
            return self.remark(&block.text);
        }
        self.counted_anew(&label);
        self.fill_up(&label);
        self.follow(&mut label);
        let written = self.written_or_block(&label, only.as_deref(), body);
        match written {
            Ok(lines) => {
                let became = became_of(&lines);
                self.piece.lines.extend(lines);
                self.side_and_pattern(&label, &block.text);
                self.wait_for(&label);
                self.told(block, became);
            }
            Err(Unread(what)) => {
                self.line_missed(block, label, only.as_deref(), body, what);
            }
        }
        for one in said {
            self.said_beside(block, &one);
        }
    }

    /// A line that could not be read: its words stand beside what is known of it.
    fn line_missed(&mut self, block: &Block, label: Label, only: Option<&[bool]>, body: &str, what: String) {
        if label.round && closes_round(&line_of(&self.lexicon.read(body))) {
            self.says_joined();
        }
        self.remark(&missed::stopped(&what, &block.text));
        let kept = self.place_kept(&label, only, body);
        self.piece.lines.extend(kept);
        let (spans, round) = (label.spans, label.round);
        self.piece.written.push(Written { spans, round, missed: true, ..Written::default() });
        self.piece.pending = None;
        self.told(block, Became::Remark(what));
    }

    /// A line without the number of its rows, where its label has as many.
    fn so_many_rows<'t>(&self, label: &Label, body: &'t str) -> &'t str {
        let tokens = self.lexicon.read(body);
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let from = usize::from(word(0) == "work");
        let said =
            is_amount(word(from)) && matches!(word(from + 1), "rnd" | "row") && matches!(word(from + 2), ":" | "of");
        let behind = tokens.get(from + 2).filter(|_| said && label.is_so_many(word(from)));
        if let Some(rest) = behind.and_then(|sign| body.get(sign.end..)) {
            return rest.trim();
        }
        // `Dc all round, 3 rounds`.
        let end = tokens.len() - usize::from(tokens.last().is_some_and(|last| last.text == "."));
        let Some(at) = end.checked_sub(3) else { return body };
        let last =
            matches!(word(at), "," | ";" | ".") && is_amount(word(at + 1)) && matches!(word(at + 2), "rnd" | "row");
        let before = tokens.get(at).filter(|_| last && label.is_so_many(word(at + 1)));
        before.and_then(|sign| body.get(..sign.start)).map_or(body, str::trim)
    }

    /// A line, if it is none of blocks that are worked from corner to corner.
    fn written_or_block(&mut self, label: &Label, only: Option<&[bool]>, body: &str) -> Result<Vec<String>> {
        let before = (self.piece.clone(), self.blocks.clone());
        let blocks = self.in_blocks(&line_of(&self.lexicon.read(body))).is_some();
        (self.piece, self.blocks) = before;
        if self.head.is_diagonal() && self.begins_block(body) && !blocks {
            return Err(Unread::new("blocks that are worked from corner to corner"));
        }
        self.written(label, only, body)
    }

    /// `Ch 6, turn. Dc in 4th ch from hook and in next 2 ch`: work along a chain of its own.
    fn begins_block(&self, body: &str) -> bool {
        let words = line_of(&self.lexicon.read(body));
        let chains = words.strip_prefix("ch ").and_then(|rest| rest.split([' ', '/']).next()?.parse::<u32>().ok());
        chains.is_some_and(|chains| chains >= LEAST_OF_BLOCK) && words.contains("from hook")
    }

    /// Whether a line goes along a chain that is no ring, and not round it.
    fn goes_to_and_fro(&self, body: &str) -> bool {
        let words = line_of(&self.lexicon.read(body));
        let on_chain = |start: &str| start.starts_with("ch ") && !start.ends_with("joined");
        // What goes along both sides of it is an oval.
        let other_side = words.contains("other side") || words.contains("opposite side");
        let round = self.piece.written.last().is_some_and(|above| above.round);
        if !other_side && !round && self.piece.start.as_deref().is_some_and(on_chain) {
            return true;
        }
        self.piece.start.is_none()
            && self.piece.written.is_empty()
            && words.starts_with("ch ")
            && words.contains("from hook")
            && !goes_round(&words)
    }

    /// Whether a line goes on with the numbers of rows.
    fn goes_on_flat(&self, label: &Label) -> bool {
        let flat = self.piece.written.last().is_some_and(|above| !above.round && !above.spans.is_empty());
        let first = label.spans.iter().flatten().next().map_or(0, |(from, _)| *from);
        flat && first > 1 && first == self.piece.last_number(0).saturating_add(1)
    }

    /// Whether a line that says neither row nor round is turned at its end, or stands on stitches that are not joined.
    fn turns_at_end(&self, body: &str) -> bool {
        let words = line_of(&self.lexicon.read(body));
        let steps = words.split([' ']).take_while(|word| !matches!(*word, "=" | "–" | "["));
        let last = steps.filter(|word| word.chars().all(char::is_alphabetic)).last();
        let flat = self.piece.start.as_deref().is_some_and(|start| {
            start.ends_with("fsc")
                || start.ends_with("fdc")
                || start.ends_with("fhdc")
                || start.ends_with("fhtr")
                || start.ends_with("ftr")
        });
        let turned = words.contains(" turn .") || words.ends_with(" turn") || last == Some("turn");
        flat && self.piece.written.is_empty() || turned
    }

    /// `With B, sc in each st`: the yarn that a row begins with, and what stands behind it.
    fn yarn_first<'t>(&self, body: &'t str) -> Option<(String, &'t str)> {
        let tokens = self.lexicon.read(body);
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let joins = matches!(word(0), "join" | "attach");
        let at = usize::from(joins || matches!(word(0), "with" | "using" | "in"));
        let yarn = word(at).strip_prefix('%').filter(|_| !joins || word(2) == ".")?;
        let signed = |token: &&Token| {
            matches!(token.text.as_str(), "." | ":")
                || token.text == "," && (at > 0 || word(2) == "ch" || word(2) == "turn")
        };
        let ends = tokens.get(at + 1).filter(signed)?.end;
        Some((yarn.replace('_', " "), body.get(ends..)?.trim()))
    }

    /// Rounds that are counted anew below rows are another piece, though nothing names it.
    fn counted_anew(&mut self, label: &Label) {
        let anew = label.spans.iter().all(|span| span.is_some_and(|(from, _)| from == 1));
        let below = self.piece.written.last();
        if anew && label.round && below.is_some_and(|below| !below.round && !below.spans.is_empty()) {
            let name = format!("{} 2", self.piece.name);
            self.flush();
            self.begin(&name);
        } else if anew && self.is_cut() {
            self.next_piece();
        }
    }

    /// A sentence for the maker in a line; one that says rows again is work.
    fn said_beside(&mut self, block: &Block, sentence: &str) {
        let tokens = self.lexicon.read(sentence);
        let own = Block { text: sentence.to_owned(), ..block.clone() };
        if slips_to_end(&tokens) && self.slips_behind(&tokens) {
            self.told_behind(&own);
        } else if only_tells(&tokens) {
            self.piece.lines.push(format!("> {}", maker_words(sentence)));
        } else if !cites_rows(&tokens) {
            self.beside(sentence);
        } else if self.repeats_rows(&own, &tokens) {
            self.told(&own, Became::Work);
        } else {
            self.unread(&own);
        }
    }

    /// What the maker does when the stitches of a line are worked.
    fn beside(&mut self, sentence: &str) {
        let tokens = self.lexicon.read(sentence);
        if let Some(yarn) = changes_yarn(&tokens) {
            self.piece.lines.push(format!("change to {yarn}"));
            return;
        }
        if ends_yarn(&tokens) {
            self.piece.lines.push("fasten off".to_owned());
        }
        if says_open(&line_of(&tokens)) {
            self.says_open();
        }
        if !ends_yarn(&tokens) || tokens.len() > 3 {
            self.words(sentence);
        }
    }

    /// The round at hand, or the one that comes, is joined.
    fn says_joined(&mut self) {
        self.piece.joined = true;
        let above = self.piece.lines.len();
        self.piece.first_join.get_or_insert(above);
    }

    /// The last round is not joined, or, where there is none, those that come.
    fn says_open(&mut self) {
        let last = self.piece.lines.iter().rposition(|line| line.starts_with("rnd"));
        let above = last.unwrap_or(self.piece.lines.len());
        self.piece.first_open.get_or_insert(above);
    }

    /// A line without the sentences that say what the maker does beside the stitches.
    fn for_makers(&self, body: &str) -> (String, Vec<String>) {
        let (mut work, mut said) = (String::new(), Vec::new());
        for sentence in sentences(body) {
            let tokens = self.lexicon.read(&sentence);
            let first = tokens.first().map_or("", |token| token.text.as_str());
            let stitches =
                tokens.iter().any(|token| token.text.starts_with('~') || token.text == "ch" || token.text == "rep");
            // `You add 8 dc every row`, `We are working in a spiral, so don't join`.
            let adds = matches!(first, "you" | "this" | "each" | "we") && sentence.to_lowercase().contains(" add")
                || !stitches && sentence.to_lowercase().contains("spiral");
            if !work.is_empty()
                && (ends_yarn(&tokens)
                    || changes_yarn(&tokens).is_some()
                    || cites_rows(&tokens)
                    || slips_to_end(&tokens)
                    || only_tells(&tokens)
                    || adds
                    || FOR_MAKERS.contains(&first)
                        && !stitches
                        && parsed(Rule::left_alone, &line_of(&tokens)).is_none())
            {
                said.push(sentence);
            } else {
                work.push_str(if work.is_empty() { "" } else { " " });
                let (sentence, changed) = changes_behind(&sentence);
                work.push_str(sentence);
                said.extend(changed.filter(|changed| changes_yarn(&self.lexicon.read(changed)).is_some()));
            }
        }
        (work, said)
    }

    /// The sizes that a line is for, where it says so.
    fn only<'t>(&self, body: &'t str) -> (Option<Vec<bool>>, &'t str) {
        match (self.lexicon.concerned.clone(), body.split_once(" only:")) {
            (Some(concerned), Some((_, rest))) => (Some(concerned), rest.trim()),
            (Some(concerned), None) if self.only_for.is_some() => (Some(concerned), body),
            _ => (None, body),
        }
    }

    /// `Rnd 6 (L only): …`, `Row 9 – sizes M and L only: …`: the line without that, and the sizes.
    fn sizes_in_label(&self, text: &str) -> Option<(String, Vec<bool>)> {
        const LONGEST: usize = 60;
        let colon = text.find([':', '.']).filter(|at| *at <= LONGEST)?;
        let said = text.get(..colon)?;
        let Some(only) = said.to_ascii_lowercase().find("only") else { return self.sizes_in_brackets(text, said) };
        let before = said.get(..only)?;
        let open =
            before.rfind(['(', '[']).filter(|open| before.get(*open..).is_some_and(|rest| !rest.contains([')', ']'])));
        let from =
            open.or_else(|| before.rfind(['–', '—'])).or_else(|| before.rfind(" - ")).or_else(|| before.rfind(','))?;
        let inside = said.get(from..only + 4)?.trim_start_matches(['(', '[', '–', '—', ',', ' ', '-']);
        let close = said.get(only + 4..)?.find([')', ']']).map_or(only + 4, |at| only + 5 + at);
        let rest = format!("{}{}", said.get(..from)?.trim_end(), text.get(close..)?);
        label(&self.lexicon.read(&rest))?;
        let chosen = sizes::chosen(inside, &self.head.sizes)?;
        chosen.sizes.contains(&false).then_some((rest, chosen.sizes))
    }

    /// `Rnd 7 (child and adult): …`: brackets behind the number that name some sizes, and nothing else.
    fn sizes_in_brackets(&self, text: &str, said: &str) -> Option<(String, Vec<bool>)> {
        let open = said.rfind('(')?;
        let inside = said.get(open + 1..)?.strip_suffix(')')?;
        let named = |name: &&String| inside.to_lowercase().contains(&name.to_lowercase());
        if inside.contains(|c: char| c.is_ascii_digit()) || !self.head.sizes.iter().any(|name| named(&name)) {
            return None;
        }
        let rest = format!("{}{}", said.get(..open)?.trim_end(), text.get(said.len()..)?);
        label(&self.lexicon.read(&rest))?;
        let chosen = sizes::chosen(&format!("{inside} only"), &self.head.sizes)?;
        chosen.sizes.contains(&false).then_some((rest, chosen.sizes))
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

    /// The lines of the notation for one line; what makes no stitch in it is kept for the maker where the line can't be read with it.
    fn written(&mut self, label: &Label, only: Option<&[bool]>, body: &str) -> Result<Vec<String>> {
        if self.head.sizes.len() < 2 && lists_sizes(&self.lexicon.read(body)) {
            return Err(Unread::new("a list of numbers, and it isn’t said for which sizes"));
        }
        let pending = self.piece.pending.clone();
        let begun = self.piece.written.is_empty().then(|| self.piece.clone());
        let unread = match self.written_whole(label, only, body) {
            Ok(lines) => return Ok(lines),
            Err(unread) => unread,
        };
        let Some((work, said)) = remarks::apart(body, &self.lexicon) else {
            self.piece.pending = pending.clone();
            let aside = self.written_with_strangers(label, only, body, begun.as_ref());
            return aside.or_else(|| self.written_in_part(label, only, body, begun)).ok_or(unread);
        };
        let left = self.piece.pending.take();
        self.piece.pending = pending;
        let failed = begun.map(|begun| std::mem::replace(&mut self.piece, begun));
        match self.written_whole(label, only, &work) {
            Ok(mut lines) => {
                let kept = said.iter().map(|said| {
                    if missed::is_work(said, &self.lexicon, Among::Work) && !only_tells(&self.lexicon.read(said)) {
                        format!("# {}", missed::remark(said))
                    } else {
                        format!("> {}", maker_words(said))
                    }
                });
                lines.extend(kept);
                Ok(lines)
            }
            Err(_) => {
                if let Some(failed) = failed {
                    self.piece = failed;
                }
                self.piece.pending = left;
                self.written_with_strangers(label, only, &work, None).ok_or(unread)
            }
        }
    }

    /// A line without the words that mean nothing in patterns, which is said.
    fn written_with_strangers(
        &mut self,
        label: &Label,
        only: Option<&[bool]>,
        body: &str,
        begun: Option<&Draft>,
    ) -> Option<Vec<String>> {
        let before = self.piece.clone();
        if let Some(begun) = begun {
            self.piece = begun.clone();
        }
        self.leaves_aside = true;
        let lines = self.written_whole(label, only, body).ok();
        self.leaves_aside = false;
        if lines.is_none() {
            self.piece = before;
        }
        lines
    }

    /// A line without its last sentences, where those have no stitch of their own and could not be read: they are marked.
    fn written_in_part(
        &mut self,
        label: &Label,
        only: Option<&[bool]>,
        body: &str,
        begun: Option<Draft>,
    ) -> Option<Vec<String>> {
        let all = sentences(body);
        let works = |sentence: &String| {
            let tokens = self.lexicon.read(sentence);
            tokens.iter().any(|token| token.text.starts_with('~') || matches!(token.text.as_str(), "ch" | "skip" | "*"))
        };
        let kept = all.iter().rposition(works)? + 1;
        let (work, rest) = (all.get(..kept)?.join(" "), all.get(kept..)?.join(" "));
        if rest.is_empty() {
            return None;
        }
        let before = self.piece.clone();
        if let Some(begun) = begun {
            self.piece = begun;
        }
        match self.written_whole(label, only, &work) {
            Ok(mut lines) => {
                let few = rest.split(' ').take(6).collect::<Vec<_>>().join(" ");
                lines.push(format!("# {NOT_READ}{few}”: {rest}"));
                Some(lines)
            }
            Err(_) => {
                self.piece = before;
                None
            }
        }
    }

    fn written_whole(&mut self, label: &Label, only: Option<&[bool]>, body: &str) -> Result<Vec<String>> {
        let words = line_of(&self.lexicon.read(body));
        let words = words.replace(" !", " .").replace(" . . ", " . ").replace(" . , ", " . ");
        let words = usual::told(&words, label.round).unwrap_or(words);
        let words = spoken::without_told(&words).unwrap_or(words);
        let sided = label.round || !label.side.is_empty();
        let words = elided::without_facing(&words).filter(|_| sided).unwrap_or(words);
        let words = elided::slipped_there(&words).unwrap_or(words);
        if let Some(lines) = self.shaped_on(label, &words) {
            return lines;
        }
        if let Some(words) = self.in_blocks(&words) {
            return self.line_of(label, only, &turned_before_total(&total_in_brackets(&words)));
        }
        if let Some(lines) = self.in_yarns_by_turns(label, &words) {
            return Ok(lines);
        }
        let words = self.straight(label, &words).unwrap_or(words);
        let words = slipped_to_group(&words).unwrap_or(words);
        let words = spoken::slipped_in_chain(&words).unwrap_or(words);
        let words = self.in_usual_words(words);
        if elided::slips_alone(&words) {
            return Err(Unread::new("how far the slip stitches go"));
        }
        let on_chain = |start: &String| start.starts_with("ch ") && !start.ends_with("joined");
        let along = self.piece.on_chain || self.piece.start.as_ref().is_some_and(on_chain);
        let words =
            if along && self.piece.written.is_empty() { elided::from_the_hook(&words).unwrap_or(words) } else { words };
        let words = elided::chain_told(&words).unwrap_or(words);
        let below = self.piece.written.last().and_then(|written| elided::plain_in(&written.steps));
        let words = elided::stitch_said(&words, below).unwrap_or(words);
        let words = elided::place_first(&words).unwrap_or(words);
        let words = self.whole_row(label, &words).unwrap_or(words);
        let words = elided::around_said(&words).unwrap_or(words);
        let words = self.shaped_at_each(&words).unwrap_or(words);
        let words = self.shaped_in(&words).unwrap_or(words);
        let words = if label.round { elided::join_said(&words).unwrap_or(words) } else { words };
        let words = elided::repeat_said(&words).unwrap_or(words);
        let words = spoken::times_behind(&words).unwrap_or(words);
        let words = spoken::ended_plainly(&words).unwrap_or(words);
        let words = spoken::chain_on_the_way(&words).unwrap_or(words);
        let words = if self.piece.written.is_empty() { spoken::skipped_first(&words).unwrap_or(words) } else { words };
        let words = self.loop_just_made(&words).unwrap_or(words);
        let mut words = lead_out_of_group(&turned_before_total(&total_in_brackets(&all_in_one(&words))));
        if self.piece.written.is_empty() {
            words = self.begun_in_line(words);
        }
        let words = self.with_turning_chain(&loops_first(&words));
        self.line_without_strangers(label, only, &words)
    }

    /// A line as it stands, or, where that is asked, without the words that mean nothing.
    fn line_without_strangers(&mut self, label: &Label, only: Option<&[bool]>, words: &str) -> Result<Vec<String>> {
        let aside = strangers::left_aside(words).filter(|_| self.leaves_aside);
        let Some((words, left)) = aside else { return self.line_of(label, only, words) };
        let lines = self.line_of(label, only, &words)?;
        let word = if label.round { "round" } else { "row" };
        let number = label.spans.iter().flatten().next().map(|(from, _)| format!(" {from}")).unwrap_or_default();
        let left: Vec<String> = left.iter().map(|said| format!("“{said}”")).collect();
        let said =
            format!("read by choosing: in {word}{number} of {} {} is left aside", self.piece.name, left.join(" and "));
        self.chosen.push(said);
        Ok(lines)
    }

    /// A line in the words that the trade uses most for repeats, shapings, and places.
    fn in_usual_words(&self, words: String) -> String {
        let single = if self.lexicon.terms == Terms::Uk { "dc" } else { "sc" };
        let words = spoken::in_usual_words(&words, single).unwrap_or(words);
        let words = spoken::worked_repeat(&words).unwrap_or(words);
        let words = self.relief(&words).unwrap_or(words);
        let words = spoken::over_stitches(&words).unwrap_or(words);
        let words = spoken::skipped_to_place(&words).unwrap_or(words);
        let words = spoken::chain_after_each(&words).unwrap_or(words);
        let words = spoken::shaped_evenly(&words).unwrap_or(words);
        spoken::side_to_corner(&words).unwrap_or(words)
    }

    /// `As round 2, with FPtr over FPtr and BPtr over BPtr`: begun as that round, each post stitch round its own kind.
    fn relief(&self, words: &str) -> Option<String> {
        let (before, told, behind) = spoken::each_on_its_own(words)?;
        let cited =
            ["as row ", "as rnd ", "rep row ", "rep rnd "].iter().find_map(|begins| before.strip_prefix(begins));
        let Some(cited) = cited else {
            let plain =
                before.split(' ').all(|word| !word.starts_with('~') && !matches!(word, "*" | "[" | "(" | "rep"));
            return plain.then(|| format!("{before} {told} {behind}").trim().to_owned());
        };
        let number = cited.split(' ').next()?.parse::<u32>().ok()?.saturating_add(self.piece.shift);
        let idle =
            cited.split(' ').skip(1).all(|word| matches!(word, "," | "with" | "but" | "working" | "work" | "now"));
        let steps = &self.piece.with_number(0, number).filter(|_| idle)?.steps;
        let own = steps.split(", ").next().filter(|step| step.starts_with("lead ch ") || step.contains(" as "));
        let lead = match (own, self.piece.later_lead.as_ref().unwrap_or(&self.piece.lead)) {
            (Some(own), _) => own.trim_start_matches("lead ").split(" as ").next().map(|chains| format!("{chains} , ")),
            (None, Lead::Plain(chains) | Lead::Counted(chains, _)) if !steps.starts_with("no lead") => {
                Some(format!("ch {chains} , "))
            }
            _ => None,
        };
        Some(format!("{}{told} {behind}", lead.unwrap_or_default()).trim().to_owned())
    }

    /// A row of one stitch, the row above once more, and what is repeated or spread to the end of a row, in other words than the usual ones;
    /// only where the line can't be read as it stands.
    fn whole_row(&self, label: &Label, words: &str) -> Option<String> {
        let below = self.piece.written.last()?;
        if parsed(Rule::line, &turned_before_total(&total_in_brackets(words))).is_some() {
            return None;
        }
        let plain = elided::plain_in(&below.steps);
        whole::whole_said(words, !below.steps.is_empty())
            .or_else(|| whole::above_said(words, label.round))
            .or_else(|| whole::repeated(words))
            .or_else(|| whole::spread(words, plain?))
    }

    /// `Inc in each 4th st`, `dec over each 7th and 8th st`: so many plain ones stand before each, in the stitch of the row below.
    fn shaped_at_each(&self, words: &str) -> Option<String> {
        let below = &self.piece.written.last()?.steps;
        elided::shaped_at_each(words, elided::plain_in(below)?)
    }

    /// `2 dc, inc`: where nothing says that an increase is one of single crochet, it is one of the stitch that the row is worked in.
    fn shaped_in(&self, words: &str) -> Option<String> {
        let below = self.piece.written.last().map(|written| written.steps.as_str());
        let single = if self.lexicon.terms == Terms::Uk { "dc" } else { "sc" };
        let plain = elided::plain_of_line(words).or_else(|| elided::plain_in(below?))?;
        (plain != single && !self.head.shapes_said).then(|| elided::shaped_in(words, plain)).flatten()
    }

    /// `Sc in loop just made` at the beginning of a round is where the last one was closed; on a ring it is the ring.
    fn loop_just_made(&self, words: &str) -> Option<String> {
        let made = ["in loop just made", "in sp just made", "in loop just formed", "in sp just formed"];
        let (before, behind) = made.iter().find_map(|made| words.split_once(made))?;
        let on_ring = self.piece.written.is_empty();
        let chain =
            before.strip_prefix("ch ").and_then(|rest| rest.split_once(" , ")).filter(|(number, _)| is_amount(number));
        let first = chain.map_or(before, |(_, rest)| rest);
        let place = if on_ring { "in ring" } else { "in same sp" };
        (on_ring || !first.contains([',', '(', '[', '*'])).then(|| format!("{before}{place}{behind}"))
    }

    /// The lines of the notation for the words of one line.
    fn line_of(&mut self, label: &Label, only: Option<&[bool]>, words: &str) -> Result<Vec<String>> {
        let line =
            ringtrue_grammar::read::<Prose, Rule>(Rule::line, words).map_err(|fault| unread(words, &fault))?.next();
        let Some(line) = line else { return Err(Unread::new(words)) };
        let parts: Vec<Pair<'_, Rule>> = line.into_inner().collect();
        let said = |rule: Rule| parts.iter().find(|part| part.as_rule() == rule);
        let count =
            said(Rule::count_by_kind).or(said(Rule::count)).map(|count| self.count(count, label)).transpose()?;
        let count = self.counts_of_several(label, count.flatten());
        if parts.iter().filter(|part| part.as_rule() == Rule::rows_said).any(|said| !label.is_so_many(said.as_str())) {
            return Err(Unread::new("how many rows there are"));
        }
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
                Rule::steps | Rule::again_line => {
                    let steps = self.worked(label, part, words, only.is_some())?;
                    let kept = kinds_there(count.clone(), &steps);
                    let mut lines = repeats::labelled(label, &prefix, &steps, kept.as_deref());
                    if let (Some(count), None) = (count, kept) {
                        lines.push(format!("# {}", missed::stopped(&count, &format!("({count})"))));
                    }
                    return Ok(lines);
                }
                _ => {}
            }
        }
        Err(Unread::new(words))
    }

    /// A line that says others again.
    fn said_again(&mut self, label: &Label, part: Pair<'_, Rule>, turns_first: bool) -> Result<Vec<String>> {
        if !turns_first && repeats::cites_unturned(&self.piece, &part) {
            return Err(Unread::new(UNTURNED));
        }
        let longer = match repeats::up_to(&self.piece, label, &part)? {
            Some(longer) => Some(longer),
            None => repeats::so_often(label, &part)?,
        };
        let label = longer.as_ref().unwrap_or(label);
        let lines = repeats::again(&self.piece, &self.head.pieces, label, part)?;
        let lines = self.to_last_block(lines);
        self.piece.open_ended |= lines.iter().any(|line| line.contains(" until ") && !line.contains(" until r"));
        let steps = repeats::steps_again(&self.piece, label);
        let (spans, round) = (label.spans.clone(), label.round);
        let turns = steps.rsplit(", ").take(2).any(|step| step == "turn");
        self.piece.written.push(Written { spans, round, steps, turned: true, turns, missed: false });
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
            apart: self.way.apart,
            // Of a row that is not read it is only known how many stitches it has.
            loosely: self.way.loosely || self.piece.written.last().is_some_and(|below| below.missed),
            chains: self.way.chains.clone(),
            corner: self.piece.corner_space.clone(),
            under: self.piece.written.last().map(|written| written.steps.clone()).unwrap_or_default(),
            group_of: self.piece.written.last().and_then(|written| group_of(&written.steps)),
            ..Teller::default()
        };
        self.piece.turns |= words.starts_with("turn") || words.contains('%') && words.contains(" , turn , ");
        self.piece.takes_in_waiting |= label.round && words.contains("waiting st included");
        let (turned, turns) = turning(words);
        let turned = turned || self.piece.written.last().is_some_and(|below| below.turns);
        let steps = teller.steps(part)?;
        if teller.joins && self.piece.gone_over.is_none() {
            self.says_joined();
        }
        self.piece.corner_space = teller.corner_made.clone().or(teller.corner.clone());
        // Who joins yarn anew and says which side she sees needs no turn.
        let joined = !label.side.is_empty() && steps.split(", ").any(|step| step.starts_with("rejoin"));
        let known = turned || first || only || label.round || joined;
        // Reversed stitches go back along the row, and the next one begins where they end.
        let back_again = self.piece.written.last().is_some_and(|below| below.steps.starts_with("rsc"));
        if self.piece.says_turns && !(known || back_again || steps.starts_with("rsc")) {
            return Err(Unread::new(UNTURNED));
        }
        let steps = in_row_below(steps, label, &teller)?;
        let steps = if first { super::chains::beneath_first_space(&steps).unwrap_or(steps) } else { steps };
        let steps = if first { self.on_those_loops(&steps) } else { steps };
        let steps = ends::corner_last(&steps).unwrap_or(steps);
        let steps = with_rest(&steps).ok_or_else(|| Unread::new("to last"))?;
        let steps = ends::but_what_is_left(&steps);
        let steps = if self.blocks.is_some() { steps.replace("[block] to", "block to") } else { steps };
        let steps = if self.way.gapped { gapped(&steps).unwrap_or(steps) } else { steps };
        let steps = self.opened(&steps, &teller, first);
        let steps = ends::from_this_space(&steps).unwrap_or(steps);
        let steps = if label.round { ends::to_first_corner(&steps).unwrap_or(steps) } else { steps };
        let (spans, round) = (label.spans.clone(), label.round);
        self.piece.written.push(Written { spans, round, steps: steps.clone(), turned, turns, missed: false });
        Ok(steps)
    }

    /// `Sc in each back loop` on a piece that begins on the back loops left free: these are its places already.
    fn on_those_loops(&self, steps: &str) -> String {
        let start = self.piece.start.as_deref().unwrap_or_default();
        let which = [("back loops of ", "blo "), ("front loops of ", "flo ")];
        let which = which.iter().find(|(loops, _)| start.starts_with(loops));
        which.map_or_else(|| steps.to_owned(), |(_, word)| steps.replace(word, ""))
    }

    /// The first row of a piece may say what it starts on: `Ch 21, sc in 2nd ch from hook`, `6 sc in magic ring`. What every row
    /// starts with is then left to be found.
    fn begun_in_line(&mut self, words: String) -> String {
        const MOST_PARTS: usize = 3;
        if self.piece.start.is_some() {
            return self.in_opening(&words).unwrap_or(words);
        }
        if let Some(words) = self.in_opening(&words).or_else(|| self.along_edge(&words)) {
            return words;
        }
        let ends: Vec<usize> =
            [" , ", " . ", " ; ", " : "].iter().flat_map(|sign| words.match_indices(sign)).map(|(at, _)| at).collect();
        let mut ends = ends;
        ends.sort_unstable();
        for at in ends.iter().take(MOST_PARTS).rev() {
            let (begins, rest) = (words.get(..*at).unwrap_or_default(), words.get(at + 3..).unwrap_or_default());
            let closed = !begins.contains(['(', '[', '*']) || begins.contains(')');
            // A chain alone is the start where the first stitch is counted from the hook.
            let alone = !begins.contains("join") && !begins.contains("~sl_st") && begins.contains("ch ");
            if rest.is_empty() || !closed || alone && !rest.contains("from hook") {
                continue;
            }
            if self.start_or_ending(begins) {
                return rest.trim_start_matches("then ").to_owned();
            }
        }
        if words.split(' ').any(|word| word == "ring") {
            self.piece.start = Some("ring".to_owned());
        }
        words
    }

    /// A line with the chain that the line above ends with, and without the one that is for the line below.
    fn with_turning_chain(&mut self, words: &str) -> String {
        let pending = self.piece.pending.take();
        // Where each row says at its beginning that it is turned, a chain at its end is for going back along.
        let own = self.piece.lead != super::told::Lead::None || self.piece.says_turns && !words.ends_with("turn");
        let (words, chain) = if own { (words.to_owned(), None) } else { turning_chain_off(words) };
        // Rows that are said again end as they do.
        let again = words.starts_with("rep ") || words.starts_with("as ");
        self.piece.pending = if again { pending.clone() } else { chain };
        let begins = ["ch ", "turn , ch ", "rep ", "as ", "turn . ch "].iter().any(|begins| words.starts_with(begins));
        match pending.filter(|_| !begins) {
            Some(pending) => format!("{pending} , {words}"),
            None => words,
        }
    }

    /// A line with what it starts with.
    fn opened(&mut self, steps: &str, teller: &Teller<'_>, first: bool) -> String {
        let mut all: Vec<String> = std::mem::take(&mut self.piece.first_steps);
        all.extend(teller.moved_to.as_ref().map(|corner| format!("move to next {corner}")));
        let steps = moved_along(steps);
        // The loop on the hook is the first stitch of a Tunisian row.
        let tunisian = self.piece.way == Some("in Tunisian rows") && !first;
        let steps = steps.strip_prefix("skip 1, ").filter(|_| tunisian).map(str::to_owned).unwrap_or(steps);
        // A flat part of a round leaves the rest of it.
        let flat = std::mem::take(&mut self.piece.flat) && !steps.contains("leave");
        let steps = match steps.strip_suffix(", turn").filter(|_| flat) {
            Some(before) => format!("{before}, leave rest, turn"),
            None => steps,
        };
        let steps = self.led_before_chain(&steps, teller).unwrap_or(steps);
        let (lead, rest): (Vec<&str>, Vec<&str>) = steps.split(", ").partition(|step| step.starts_with("lead ch "));
        // Chains that a row goes back along hold its lead.
        let along = first && self.piece.on_chain || rest.first().is_some_and(|step| step.ends_with("ch from hook"));
        let none = lead.is_empty()
            && !self.head.led_all
            && !self.piece.led_all
            && !teller.led
            && teller.lead != super::told::Lead::None
            && !along;
        let lead = lead.first().map(|lead| (*lead).to_owned()).or(none.then(|| "no lead".to_owned()));
        all.extend(rest.into_iter().map(str::to_owned));
        lead.into_iter().chain(all).collect::<Vec<_>>().join(", ")
    }

    /// `ch 3 as tr, ch 1, …`, where each round begins with a chain that counts and this one goes on with another: neither is left out.
    fn led_before_chain(&self, steps: &str, teller: &Teller<'_>) -> Option<String> {
        let Lead::Counted(chains, stitch) = &teller.lead else { return None };
        let all: Vec<&str> = steps.split(", ").collect();
        let at = all.iter().position(|step| !step.starts_with("move ") && !step.starts_with("rejoin "))?;
        let next = all.get(at)?.trim_start_matches('(').strip_prefix("ch ")?;
        let plain = teller.counts && !steps.contains(" as ") && is_amount(next);
        plain.then(|| {
            let (before, behind) = all.split_at_checked(at).unwrap_or_default();
            let lead = format!("ch {chains} as {stitch}");
            before.iter().copied().chain([lead.as_str()]).chain(behind.iter().copied()).collect::<Vec<_>>().join(", ")
        })
    }

    fn only_prefix(&self, only: &[bool]) -> String {
        let names =
            self.head.sizes.iter().zip(only).filter(|(_, concerned)| **concerned).map(|(name, _)| name.as_str());
        format!("only {}: ", names.collect::<Vec<_>>().join(", "))
    }

    /// The stated count; nothing where it is only that of the last of several rows.
    fn count(&mut self, pair: &Pair<'_, Rule>, label: &Label) -> Result<Option<String>> {
        let mut told: Vec<(String, String)> = Vec::new();
        let mut last = false;
        let teller = Teller::default();
        for part in pair.clone().into_inner().flat_map(Pair::into_inner) {
            match part.as_rule() {
                Rule::counted => {
                    let inner: Vec<Pair<'_, Rule>> = part.into_inner().collect();
                    let number = inner.first().map(amount).unwrap_or_default();
                    let kind = inner.get(1).map(|kind| kind_counted(&teller, kind)).transpose()?.unwrap_or_default();
                    told.push((number, kind));
                }
                Rule::chains_counted => self.counts_chains = true,
                Rule::in_last => last = true,
                _ => {}
            }
        }
        // Of rows that are listed each may have its count; of others the last count is said elsewhere.
        self.piece.counts_last = last && matches!(label.also, super::label::Also::These(_));
        let kept = !last || self.piece.counts_last;
        Ok((kept && !told.is_empty()).then(|| joined(&told, self.head.sizes.len())))
    }
}

/// The steps of a line that says which one it is worked into, or that it is worked behind one.
fn in_row_below(steps: String, label: &Label, teller: &Teller<'_>) -> Result {
    let below = |(from, _): &(u32, u32)| from.checked_sub(1).map(|below| below.to_string());
    match (&teller.into_row, teller.behind_said) {
        (Some(row), true) => Ok(format!("behind {} {row}, {steps}", if label.round { "rnd" } else { "row" })),
        (None, true) => Err(Unread::new("behind which round")),
        (Some(row), false) if label.spans.iter().flatten().any(|span| below(span).as_ref() != Some(row)) => {
            Err(Unread::new(&format!("of round {row}")))
        }
        _ => Ok(steps),
    }
}

/// `Sl st in next st and fasten off`, behind a total.
fn slips_to_end(tokens: &[Token]) -> bool {
    let words = line_of(tokens);
    words.starts_with("~sl_st in ") && [" fasten off", " fo"].iter().any(|end| words.contains(end))
}

/// Whether a name is only one of how a piece begins: `Foundation row`, `To start`.
pub(super) fn begins_so(name: &str) -> bool {
    const BEGINNING: [&str; 15] = [
        "foundation",
        "set-up",
        "set up",
        "setup",
        "start",
        "begin",
        "beginning",
        "to start",
        "to begin",
        "chain",
        "foundation chain",
        "base chain",
        "first",
        "the set-up",
        "the start",
    ];
    let lower = name.to_lowercase();
    BEGINNING.iter().any(|word| lower == *word || lower == format!("{word} row") || lower == format!("{word} round"))
}

/// Whether a line along a chain goes round it, or closes a ring.
fn goes_round(words: &str) -> bool {
    ["other side", "opposite side", "join", "around", "~sl_st in first"].iter().any(|said| words.contains(said))
}

/// `Do not join; place a marker.`, `Working in continuous rounds`: rounds that are not joined.
fn says_open(words: &str) -> bool {
    let has = |all: &[&str]| all.iter().any(|said| words.contains(said));
    let unjoined = has(&["do not join", "don't join", "without joining", "not joined"]);
    let spiral = has(&["in spiral", "spiral rnd", "continuous rnd"]);
    (unjoined || spiral) && !words.contains(|c: char| c.is_ascii_digit()) && !has(&["until", "unless", "yarn"])
}

/// Whether a round ends with being joined: `…; join to top of first cl`, `join.`
fn closes_round(words: &str) -> bool {
    [" , join", " ; join", " . join"].iter().filter_map(|sign| words.rsplit_once(sign)).any(|(_, rest)| {
        let next = rest.trim_start().split(' ').next().unwrap_or_default();
        matches!(next, "" | "." | "," | "to" | "with" | "in" | "(" | "[" | "-" | "–" | "=") || is_amount(next)
    })
}

/// What rows are called in a table whose first column is headed so.
fn column_of_rows(heading: &str) -> Option<&'static str> {
    match heading.to_lowercase().trim_end_matches(['s', '.', '#', ' ']) {
        "row" => Some("Row"),
        "rnd" | "round" | "rd" => Some("Rnd"),
        _ => None,
    }
}

/// What became of a line, of which a part may be a remark.
fn became_of(lines: &[String]) -> Became {
    let in_part = lines.iter().find_map(|line| line.strip_prefix("# ")?.strip_prefix(NOT_READ));
    in_part.map_or(Became::Work, |what| Became::Remark(what.split('”').next().unwrap_or_default().to_owned()))
}

/// `as for @0 to row 52/54`, of `work row 1–52/54 as for @0` and `row 1 to 52 as @0`.
fn rows_as(words: &str) -> Option<String> {
    let rest = words.strip_prefix("work ").or_else(|| words.strip_prefix("rep ")).unwrap_or(words);
    let (rows, piece) = [" as for ", " as ", " of "].iter().find_map(|link| rest.split_once(link))?;
    let (word, span) = rows.trim_end().split_once(' ').filter(|(word, _)| matches!(*word, "row" | "rnd"))?;
    let (from, last) = [" to ", " through ", " – ", " - ", "–", "-"].iter().find_map(|link| span.split_once(link))?;
    let last = last.trim();
    (from.trim() == "1" && is_amount(last) && !piece.contains(['~', ',', '(']))
        .then(|| format!("as for {piece} to {word} {last}"))
}

/// `@0` and `row 50/52`, of `@0 until 50/52 row are complete`, and of `rnd 1–9 of @0`.
fn rows_of<'w>(piece: &'w str, to: &str) -> Option<(&'w str, String)> {
    if let Some((piece, until)) = piece.split_once(" until ") {
        let all: Vec<&str> = until.split(' ').collect();
        let at = all.iter().position(|word| matches!(*word, "row" | "rnd"))?;
        let number = all.get(at.checked_sub(1)?).filter(|number| is_amount(number)).or_else(|| all.get(at + 1))?;
        return is_amount(number).then(|| (piece, format!("{} {number}", all.get(at).copied().unwrap_or("row"))));
    }
    let (rows, piece) = piece.split_once(" of ")?;
    let (word, span) = rows.split_once(' ').filter(|(word, _)| matches!(*word, "row" | "rnd"))?;
    let (from, last) = span.split_once(['–', '-'])?;
    (from == "1" && to.is_empty() && is_amount(last)).then(|| (piece, format!("{word} {last}")))
}

/// `With White:`, `Change to B.`, `Cut MC, join CC.`, `Go back to black and start stuffing.`: the yarn, where no stitch is made besides.
fn in_yarn_alone(tokens: &[Token]) -> Option<String> {
    const SIGNS: [&str; 5] = [".", ":", "!", "—", "–"];
    let plain = |word: &&str| {
        !SIGNS.contains(word) && !matches!(*word, "yarn" | "color" | "colour" | "back" | "now" | "over" | "again")
    };
    let words: Vec<&str> = tokens.iter().map(|token| token.text.as_str()).filter(plain).collect();
    let is_yarn = |word: &str| word.starts_with('%');
    let words = without_when(&words);
    // What the maker does besides, with no stitch in it.
    let end = words
        .iter()
        .position(|word| is_yarn(word))
        .filter(|_| !matches!(words.first(), Some(&("cut" | "break" | "drop"))));
    let besides = end
        .and_then(|end| words.get(end + 1..))
        .filter(|besides| matches!(besides, ["and" | "," | ";", does, ..] if FOR_MAKERS.contains(does)));
    let idle = |besides: &[&str]| {
        !besides.iter().any(|word| {
            word.starts_with(['~', '%', '@', '*', '('])
                || is_amount(word)
                || matches!(*word, "ch" | "row" | "rnd" | "join" | "turn" | "rep" | "in")
        })
    };
    let words = match (end, besides) {
        (Some(end), Some(besides)) if idle(besides) => words.get(..=end)?,
        _ => words.as_slice(),
    };
    let yarn = match words {
        ["with" | "using" | "in", yarn]
        | [yarn]
        | [
            "change" | "switch" | "begin" | "start" | "continue" | "starting" | "go" | "return" | "swap",
            "to" | "with" | "in",
            yarn,
        ] => yarn,
        ["cut" | "break" | "drop", old, rest @ ..] if is_yarn(old) => match rest {
            ["," | "and" | ";", "join" | "attach", "in", yarn]
            | ["," | "and" | ";", "change", "to", yarn]
            | ["," | "and" | ";", "join" | "attach" | "with", yarn] => yarn,
            _ => return None,
        },
        _ => return None,
    };
    // `Change to the other colour.`: which one that is has to be known.
    let named = yarn.strip_prefix('%').filter(|yarn| !matches!(*yarn, "other" | "second" | "new" | "next" | "first"));
    named.map(|yarn| yarn.replace('_', " "))
}

/// `change to %White in last st of rnd 12`, without the words that only say when.
fn without_when<'w>(words: &[&'w str]) -> Vec<&'w str> {
    let when = |word: &&str| {
        matches!(
            *word,
            "in" | "on"
                | "at"
                | "with"
                | "last"
                | "st"
                | "yo"
                | "end"
                | "of"
                | "this"
                | "that"
                | "row"
                | "rnd"
                | "here"
                | "final"
                | "before"
                | "pull"
                | "through"
                | "next"
                | "for"
                | "rem"
                | "rest"
                | ","
                | "as"
                | "you"
                | "finish"
        ) || is_amount(word)
            || word.starts_with('~')
    };
    let last = words.iter().rposition(|word| word.starts_with('%')).map_or(0, |at| at + 1);
    let (before, behind) = words.split_at_checked(last).unwrap_or((words, &[]));
    let said = before.len() > 1 && matches!(behind.first(), Some(&("in" | "on" | "at" | "for" | "as" | "with")));
    let worked =
        behind.windows(2).any(|two| matches!(two, [number, stitch] if is_amount(number) && stitch.starts_with('~')));
    let stitch = behind.first() == Some(&"in") && !behind.contains(&"last") && !behind.contains(&"final");
    if said && !worked && !stitch && behind.iter().all(when) { before.to_vec() } else { words.to_vec() }
}

/// `Using 5 mm hook, make 70 ch.`, `With 4 mm hook and yarn A, ch 33.`: what stands behind the hook, with the yarn.
fn behind_hook(text: &str, tokens: &[Token]) -> Option<String> {
    const MOST_WORDS: usize = 14;
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    if !matches!(word(0), "with" | "using" | "use") {
        return None;
    }
    let comma = tokens.iter().take(MOST_WORDS).position(|token| token.text == ",");
    let verb = tokens.iter().take(MOST_WORDS).position(|token| matches!(token.text.as_str(), "ch" | "make"));
    let (end, from) = match (comma, verb) {
        (Some(comma), verb) if verb.is_none_or(|verb| comma < verb) => (comma, comma + 1),
        (_, Some(verb)) => (verb, verb),
        _ => return None,
    };
    let said = tokens.get(..end)?;
    said.iter().find(|token| matches!(token.text.as_str(), "hook" | "mm"))?;
    let rest = text.get(tokens.get(from)?.start..)?;
    let yarn = said.iter().find_map(|token| token.text.strip_prefix('%'));
    Some(yarn.map_or_else(|| rest.to_owned(), |yarn| format!("With {}, {rest}", yarn.replace('_', " "))))
}

/// Counts of several kinds. As many bare numbers as there are sizes, `18, 24, 30 sts`, are one for each of them.
fn joined(told: &[(String, String)], sizes: usize) -> String {
    let bare = |(number, kind): &(String, String)| kind.is_empty() && !number.contains('/');
    let by_size = sizes > 1 && told.len() == sizes && told.iter().take(sizes - 1).all(bare);
    match told.last().filter(|last| by_size && !last.0.contains('/')) {
        Some((_, kind)) => {
            let numbers: Vec<&str> = told.iter().map(|(number, _)| number.as_str()).collect();
            numbers.join(" / ") + kind
        }
        None => told.iter().map(|(number, kind)| format!("{number}{kind}")).collect::<Vec<_>>().join(" + "),
    }
}

/// `…, join with sl st in first sc, changing to B.`: what is worked, and the change, which is there for the next line.
fn changes_behind(sentence: &str) -> (&str, Option<String>) {
    let Some((work, yarn)) = sentence.rsplit_once(", changing to ") else { return (sentence, None) };
    let yarn = yarn.trim_end_matches('.');
    if yarn.is_empty() || yarn.contains([',', ';', ':', '(', '[', ']', '*']) || yarn.contains(" in ") {
        return (sentence, None);
    }
    (work, Some(format!("Change to {yarn}.")))
}

/// The yarn that a sentence changes to: `Break C, join A.`, `Change to orange in the last st.`
fn changes_yarn(tokens: &[Token]) -> Option<String> {
    let words = line_of(tokens);
    let colour = parsed(Rule::colour_alone, &words)?.into_inner().next()?;
    let yarn = colour.into_inner().filter(|part| part.as_rule() == Rule::yarn).last()?;
    Some(yarn.as_str().trim_start_matches('%').replace('_', " "))
}

/// A block of three chains, the shortest, begins with four.
const LEAST_OF_BLOCK: u32 = 4;

/// What is missing in a row where rows say themselves that they are turned.
const UNTURNED: &str = "whether the work is turned before it";

fn kind_counted(teller: &Teller<'_>, kind: &Pair<'_, Rule>) -> Result {
    let words = kind.as_str().trim();
    if kind.as_rule() == Rule::chain_counted {
        let number: String = words.chars().filter(char::is_ascii_digit).collect();
        return Ok(format!(" ch-{number} sp"));
    }
    if let Some(yarn) = words.strip_prefix("st in %") {
        return Ok(format!(" {}", yarn.replace('_', " ")));
    }
    Ok(teller.noun(kind)?.map(|kind| format!(" {kind}")).unwrap_or_default())
}

/// Reads words by one rule of the grammar.
pub(super) fn parsed(rule: Rule, words: &str) -> Option<Pair<'_, Rule>> {
    ringtrue_grammar::glance::<Prose, Rule>(rule, words).ok()?.next()
}

/// Where reading stopped, in the words of the text as they are spelt for reading.
pub(super) fn unread(words: &str, fault: &pest::error::Error<Rule>) -> Unread {
    let at = match fault.location {
        pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
    };
    // The grammar may stop within a word, as behind `st` of `stem`.
    let at = words.get(..at).and_then(|before| before.rfind(' ')).map_or(0, |space| space + 1).min(at);
    let rest = words.get(at..).unwrap_or_default().trim_start();
    let few: Vec<&str> = rest.split(' ').take(6).collect();
    Unread::new(&few.join(" ").replace(['~', '%', '@'], "").replace('_', " "))
}
