//! Every word with its class: by the tree where the line could be read, and by its letters and the tables where not.

use std::collections::BTreeSet;

use super::lexer::{self, Sort};
use super::next::table;
use super::{Class, Shown};
use crate::diagnostic::Span;
use crate::syntax::tree::{Header, Line, LineKind};

/// Words that begin a section.
const HEADINGS: [&str; 3] = ["pattern", "piece", "grid"];

/// Words that begin the label of a row or round.
const LABELS: [&str; 7] = ["rnd", "rnds", "round", "rounds", "row", "rows", "again"];

/// Words that say where.
const PLACES: [&str; 19] = [
    "in", "into", "next", "same", "first", "last", "each", "every", "end", "ring", "gap", "skipped", "st", "sts", "sp",
    "sps", "to", "hook", "front",
];

/// Signs of the notation.
const SIGNS: &str = "()[]{},:;=+-*/|<>\"“”„‘’'×–−.";

pub(super) fn words(shown: Shown<'_>) -> Vec<(u32, u32, Class)> {
    let tables = Tables::of(shown);
    let lines = &shown.compiled.tree.lines;
    lines.iter().flat_map(|line| Painter::new(shown, &tables, line).paint()).collect()
}

/// What words mean where there is no tree to ask.
struct Tables {
    yarns: BTreeSet<String>,
    names: BTreeSet<String>,
}

impl Tables {
    fn of(shown: Shown<'_>) -> Self {
        let pattern = &shown.compiled.pattern;
        let words = |name: &str| name.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>();
        let given = shown.mentions.named().filter(|(_, named)| named.given);
        Self {
            yarns: pattern.head.yarns.iter().map(|yarn| yarn.name.to_lowercase()).collect(),
            names: given.flat_map(|(_, named)| words(&named.name)).collect(),
        }
    }
}

struct Painter<'a> {
    shown: Shown<'a>,
    tables: &'a Tables,
    line: &'a Line,
    out: Vec<(u32, u32, Class)>,
    /// The first word of the line proper is to come.
    begins: bool,
    /// A label is being read that no tree knows.
    in_label: bool,
    /// An `=` was met in a line that no tree knows.
    counts: bool,
}

impl<'a> Painter<'a> {
    fn new(shown: Shown<'a>, tables: &'a Tables, line: &'a Line) -> Self {
        Self { shown, tables, line, out: Vec::new(), begins: true, in_label: false, counts: false }
    }

    fn paint(mut self) -> Vec<(u32, u32, Class)> {
        let whole = self.line.span;
        let mut at = whole.start;
        for mention in self.shown.mentions.within(whole) {
            if mention.span.start >= at && mention.span.end <= whole.end {
                self.between(Span::new(at, mention.span.start));
                self.put(mention.span, mention.class);
                self.begins &= mention.class != Class::Label;
                at = mention.span.end;
            }
        }
        self.between(Span::new(at, whole.end));
        self.out
    }

    /// What stands between the parts that the tree knows.
    fn between(&mut self, span: Span) {
        let text = self.shown.text;
        for (part, sort) in lexer::all(text, span) {
            let class = self.class(part, sort);
            self.put(part, class);
        }
    }

    /// A stretch with its class, a part for each line that it goes over.
    fn put(&mut self, span: Span, class: Class) {
        let mut from = span.start;
        for line in self.shown.slice(span).split_inclusive('\n') {
            let part = self.shown.trim(Span::new(from, from + line.len()));
            from += line.len();
            if part.start < part.end {
                let (from, to) = self.shown.from_to(part);
                self.out.push((from, to, class));
            }
        }
    }

    fn class(&mut self, span: Span, sort: Sort) -> Class {
        let word = self.shown.slice(span).to_lowercase();
        if matches!(self.line.kind, LineKind::Remark) {
            return Class::Remark;
        }
        if std::mem::take(&mut self.begins) {
            return self.first(&word, sort);
        }
        if self.shown.mentions.is_stated(span.start) {
            return Class::Count;
        }
        if self.line.is_unread() { self.by_tables(&word, sort) } else { self.by_letters(&word, sort) }
    }

    /// The word that a line begins with. After `only small:` it is still to come.
    fn first(&mut self, word: &str, sort: Sort) -> Class {
        if sort == Sort::Sign && word == ":" || word == "," {
            self.begins = true;
            return Class::Bracket;
        }
        if word == "only" {
            self.begins = true;
            return Class::Word;
        }
        if word == ">" {
            return Class::Text;
        }
        if HEADINGS.contains(&word) {
            return Class::Heading;
        }
        if LABELS.contains(&word) || sort == Sort::Number {
            self.in_label = self.line.is_unread() || word == "again";
            return Class::Label;
        }
        match &self.line.kind {
            LineKind::Header(Header::Squares(_)) => Class::Bracket,
            LineKind::Header(_) | LineKind::Setting(_) | LineKind::Start(_) | LineKind::Meant(_) => Class::Setting,
            _ if table::begins_setting(word) => Class::Setting,
            _ => self.by_tables(word, sort),
        }
    }

    /// A part of a line that could be read.
    fn by_letters(&mut self, word: &str, sort: Sort) -> Class {
        if std::mem::take(&mut self.in_label) {
            self.in_label = goes_on(word, sort);
            if self.in_label {
                return Class::Label;
            }
        }
        match sort {
            Sort::Number => Class::Number,
            Sort::Sign => Class::Bracket,
            Sort::Word if is_place(word) => Class::Place,
            Sort::Word => Class::Word,
        }
    }

    /// A part of a line that could not.
    fn by_tables(&mut self, word: &str, sort: Sort) -> Class {
        if std::mem::take(&mut self.in_label) {
            self.in_label = goes_on(word, sort);
            if self.in_label {
                return Class::Label;
            }
        }
        match sort {
            Sort::Number | Sort::Sign if self.counts || word == "=" => {
                self.counts = true;
                Class::Count
            }
            Sort::Number => Class::Number,
            Sort::Sign if SIGNS.contains(word) => Class::Bracket,
            Sort::Sign => Class::Unread,
            Sort::Word => self.known(word),
        }
    }

    fn known(&self, word: &str) -> Class {
        let pattern = &self.shown.compiled.pattern;
        let stitch = pattern.stitches.find(word, pattern.terms).and_then(|id| pattern.stitches.get(id));
        if self.tables.yarns.contains(word) {
            return Class::Yarn;
        }
        match stitch {
            Some(stitch) if stitch.own => Class::OwnStitch,
            Some(_) => Class::Stitch,
            None if is_place(word) => Class::Place,
            None if word == "sl" => Class::Stitch,
            None if self.tables.names.contains(word) => Class::Name,
            None if table::knows(word) => Class::Word,
            None => Class::Unread,
        }
    }
}

/// Whether a label goes on: `rnds 3-5 rs`, `again rnds 2-3`.
fn goes_on(word: &str, sort: Sort) -> bool {
    match sort {
        Sort::Number => true,
        Sort::Sign => matches!(word, "-" | "–"),
        Sort::Word => matches!(word, "rs" | "ws") || LABELS.contains(&word),
    }
}

/// `next`, `ch-2`.
fn is_place(word: &str) -> bool {
    let space = |word: &str| word.strip_prefix("ch-").is_some_and(|chains| chains.chars().all(|c| c.is_ascii_digit()));
    PLACES.contains(&word) || space(word)
}
