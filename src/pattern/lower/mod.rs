//! From the tree to the pattern: looks every name up and works every number out for every size.

mod amount;
mod blocks;
mod codes;
mod doubt;
mod grid_lines;
mod grid_rows;
mod grids;
mod head;
mod joins;
mod like;
mod measures;
mod mirror;
mod not_above;
mod now;
mod piece;
mod placing;
mod rows;
mod starts;
mod steps;

pub(crate) use codes::MEASURE;
pub use codes::PAGES;
pub use codes::PICTURE;

use std::collections::{BTreeMap, BTreeSet};

use super::model::{Definition, Doubt, Grid, Head, NamedNumber, Pattern, StitchId, Stitches, Terms};
use super::plan::Plan;
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::limits;
use crate::syntax::tree::{File, Header, LineKind, Sort, Text};
use doubt::Lost;

/// A designer is asked which of so many names is meant at most.
const MOST_ASKED: usize = 3;

/// Looks up what a tree names. Whatever can't be looked up is a finding, and the pattern goes on without it.
#[must_use]
pub fn lower(file: &File) -> (Pattern, Vec<Diagnostic>) {
    let mut lower = Lower::new(file);
    lower.head(file);
    lower.pieces(file);
    lower.joins();
    lower.finish()
}

/// What is known so far.
struct Lower {
    findings: Vec<Diagnostic>,
    sizes: Vec<Text>,
    terms: Terms,
    /// The `terms` line can't be read.
    either_terms: bool,
    stitches: Stitches,
    definitions: Vec<Definition>,
    /// Named numbers: one entry a size.
    names: BTreeMap<String, Vec<i64>>,
    /// The same in the order of the file.
    numbers: Vec<NamedNumber>,
    /// Those whose value can't be worked out, in small letters.
    ill_numbers: BTreeSet<String>,
    /// Those that were asked for, in small letters.
    asked_for: BTreeSet<String>,
    head: Head,
    counts_chains: bool,
    /// Grids, whose rows are from the top to the bottom until all are there.
    grids: Vec<Grid>,
    pieces: Vec<super::model::Piece>,
    /// The names of all pieces of the file, in its order.
    begun: Vec<Text>,
    /// The rows of each piece so far: one plan a size.
    plans: Vec<Vec<Plan>>,
    /// How many lines say another one again, in all pieces.
    said_again: usize,
    /// The present piece does not say how it is worked.
    way_unsaid: bool,
    /// The present piece can be named by what is looked up just now, since its own edges are sewn.
    names_present: bool,
    /// The sizes that the present line is for.
    active: Vec<bool>,
    /// The sizes that the present piece is for.
    piece_sizes: Vec<bool>,
    /// What lines that can't be read may declare.
    lost: Lost,
    /// How many entries each list of sizes has.
    lists: Vec<usize>,
    /// Sizes that `only` names, in small letters.
    only_names: BTreeSet<String>,
    /// What is wrong with the names of the sizes, on which everything rests.
    of_sizes: Option<Diagnostic>,
    /// Where the sizes are named.
    sizes_span: Option<Span>,
    doubt: Doubt,
    /// The lines since the last item, or since the line of the piece.
    passed: Option<Span>,
    /// For each name that no stitch has the one that is spelled most like it.
    near: BTreeMap<String, Option<String>>,
    /// So many names may still be compared for that.
    comparisons_left: usize,
    /// Places of which something was said, and after how many findings.
    said_at: (BTreeSet<Span>, usize),
}

impl Lower {
    /// Reads first what every other line depends on: the sizes and the terms.
    fn new(file: &File) -> Self {
        let mut lower = Self {
            findings: Vec::new(),
            sizes: Vec::new(),
            terms: Terms::Us,
            either_terms: false,
            stitches: Stitches::standard(),
            definitions: Vec::new(),
            names: BTreeMap::new(),
            numbers: Vec::new(),
            ill_numbers: BTreeSet::new(),
            asked_for: BTreeSet::new(),
            head: Head::default(),
            counts_chains: false,
            grids: Vec::new(),
            pieces: Vec::new(),
            begun: not_above::names(file),
            plans: Vec::new(),
            said_again: 0,
            names_present: false,
            way_unsaid: false,
            active: Vec::new(),
            piece_sizes: Vec::new(),
            lost: Lost::of(file),
            lists: Vec::new(),
            only_names: file.lines.iter().flat_map(|line| &line.only).map(|name| name.text.to_lowercase()).collect(),
            of_sizes: None,
            sizes_span: None,
            doubt: Doubt::default(),
            passed: None,
            near: BTreeMap::new(),
            comparisons_left: limits::MOST_COMPARED,
            said_at: (BTreeSet::new(), 0),
        };
        lower.doubt.everything = lower.lost.has(Sort::Ground);
        lower.sizes_and_terms(file);
        lower.active = vec![true; lower.size_count()];
        lower.piece_sizes.clone_from(&lower.active);
        lower
    }

    fn sizes_and_terms(&mut self, file: &File) {
        let mut terms = None;
        for line in &file.lines {
            match &line.kind {
                LineKind::Header(Header::Sizes(sizes)) => {
                    self.sizes.clone_from(sizes);
                    self.sizes_span = Some(line.span);
                }
                LineKind::Header(Header::Terms(text)) => terms = Some(text),
                _ => {}
            }
        }
        match terms {
            Some(text) if text.text.eq_ignore_ascii_case("us") => self.terms = Terms::Us,
            Some(text) if text.text.eq_ignore_ascii_case("uk") => self.terms = Terms::Uk,
            Some(text) => {
                self.findings.push(codes::terms_unknown(text));
                self.either_terms = true;
            }
            None => self.findings.extend(codes::terms_missing(file)),
        }
    }

    /// How many sizes there are; one when the file names none.
    fn size_count(&self) -> usize {
        self.sizes.len().max(1)
    }

    /// The names of some sizes, as in "in 6-12 months and 1-3 years".
    fn size_names(&self, which: &[usize]) -> String {
        let names: Vec<&str> = which.iter().filter_map(|s| self.sizes.get(*s)).map(|t| t.text.as_str()).collect();
        crate::words::list(&names)
    }

    /// Looks a stitch up; an unknown one is a finding and worked as a plain stitch.
    fn stitch(&mut self, name: &str, span: Span) -> StitchId {
        let known = self.stitches.find(name, self.terms);
        if self.may_be_made_otherwise(name, known.is_some(), span) {
            return known.or_else(|| self.stitches.plain(1)).unwrap_or(StitchId(0));
        }
        // Where the terms are none of the two, a word of either is no fault of its own.
        let other = self.stitches.in_other_terms(name, self.terms).filter(|_| self.either_terms);
        if let Some(id) = known.or(other) {
            return id;
        }
        let near = match self.near.get(name) {
            Some(near) => near.clone(),
            // Nobody reads more findings than these.
            None if self.near.len() >= limits::MOST_FINDINGS => None,
            None => {
                let near = self.stitches.nearest_within(&mut self.comparisons_left, name, self.terms);
                self.near.insert(name.to_owned(), near.clone());
                near
            }
        };
        let finding = codes::unknown_stitch(&self.stitches, self.terms, name, near.as_deref(), span);
        if finding.code == codes::UNKNOWN_STITCH {
            self.doubt.places.insert(span.start);
        }
        if self.is_new_at(span) {
            self.findings.push(finding);
        }
        self.stitches.plain(1).unwrap_or(StitchId(0))
    }

    /// Whether nothing was said of a place yet.
    fn is_new_at(&mut self, span: Span) -> bool {
        let since = self.findings.iter().skip(self.said_at.1);
        self.said_at.0.extend(since.map(|finding| finding.primary.span));
        self.said_at.1 = self.findings.len();
        !self.said_at.0.contains(&span)
    }

    /// Reports a name that is nowhere declared, with the nearest one that is.
    fn unknown(&mut self, what: &str, name: &Text, known: &[String]) {
        self.unknown_as(what, name, known, "not declared above");
    }

    fn unknown_as(&mut self, what: &str, name: &Text, known: &[String], label: &str) {
        let sorts: &[Sort] = match what {
            "yarn" => &[Sort::Yarn],
            "number" => &[Sort::Number],
            "piece" => &[Sort::Piece],
            "grid" => &[Sort::Grid],
            "hook or gauge" => &[Sort::Hook, Sort::Gauge],
            _ => &[],
        };
        if sorts.iter().any(|sort| self.may_be_lost(*sort, name.span)) {
            return;
        }
        let near = known
            .iter()
            .map(|k| (strsim::jaro_winkler(&k.to_lowercase(), &name.text.to_lowercase()), k))
            .filter(|(closeness, _)| *closeness > 0.75)
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let mut finding = Diagnostic::error(
            codes::UNKNOWN_NAME,
            format!("there is no {what} called `{}`", name.text),
            name.span,
            label,
        );
        if let Some((_, near)) = near {
            finding = finding.with_help(format!("did you mean `{near}`?")).with_fix(Fix::spelling(
                format!("`{}` to `{near}`", name.text),
                name.span,
                near.clone(),
            ));
        } else if known.is_empty() {
            finding = finding.with_help(format!("no {what} is declared above this line"));
        } else {
            let are = if known.len() == 1 { "is only" } else { "are" };
            finding = finding.with_help(format!("there {are} {}", crate::words::list(known)));
            // Print calls a yarn by what it is for, as `MC`: it is one of those that there are.
            for other in known.iter().filter(|_| what == "yarn" && known.len() <= MOST_ASKED) {
                let title = format!("`{}` to `{other}`", name.text);
                finding = finding.with_fix(Fix::change(title, name.span, other.clone()));
            }
        }
        self.findings.push(finding);
    }

    fn finish(mut self) -> (Pattern, Vec<Diagnostic>) {
        let named = self.sizes_by_lists().or_else(|| self.of_sizes.take());
        self.doubt.everything |= named.is_some();
        for number in &mut self.numbers {
            number.used = self.asked_for.contains(&number.name.to_lowercase());
        }
        let sizes =
            if self.sizes.is_empty() { vec![String::new()] } else { self.sizes.into_iter().map(|t| t.text).collect() };
        let pattern = Pattern {
            head: self.head,
            sizes,
            terms: self.terms,
            counts_chains: self.counts_chains,
            stitches: self.stitches,
            definitions: self.definitions,
            numbers: self.numbers,
            grids: self.grids,
            pieces: self.pieces,
            doubt: self.doubt,
            compared: limits::MOST_COMPARED.saturating_sub(self.comparisons_left),
        };
        let findings = if pattern.doubt.everything { named.into_iter().collect() } else { self.findings };
        (pattern, findings)
    }
}
