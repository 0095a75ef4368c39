//! From the tree to the pattern: looks every name up and works every number out for every size.

mod amount;
mod codes;
mod head;
mod joins;
mod measures;
mod mirror;
mod piece;
mod rows;
mod steps;

pub(crate) use codes::MEASURE;
pub use codes::PAGES;

use std::collections::{BTreeMap, BTreeSet};

use super::model::{Definition, Head, NamedNumber, Pattern, StitchId, Stitches, Terms};
use super::plan::Plan;
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::syntax::tree::{File, Header, LineKind, Text};

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
    stitches: Stitches,
    definitions: Vec<Definition>,
    /// Named numbers: one entry a size.
    names: BTreeMap<String, Vec<i64>>,
    /// The same in the order of the file.
    numbers: Vec<NamedNumber>,
    /// Those that were asked for, in small letters.
    asked_for: BTreeSet<String>,
    head: Head,
    counts_chains: bool,
    pieces: Vec<super::model::Piece>,
    /// The rows of each piece so far: one plan a size.
    plans: Vec<Vec<Plan>>,
    /// How many lines say another one again, in all pieces.
    said_again: usize,
    /// The present piece does not say how it is worked.
    way_unsaid: bool,
    /// The sizes that the present line is for.
    active: Vec<bool>,
    /// What is said of each word that is no stitch; the place is that of the use.
    unknown_stitches: BTreeMap<String, Diagnostic>,
    /// The places of the first findings, and how many those are.
    told_of: (usize, BTreeSet<Span>),
}

impl Lower {
    /// Reads first what every other line depends on: the sizes and the terms.
    fn new(file: &File) -> Self {
        let mut lower = Self {
            findings: Vec::new(),
            sizes: Vec::new(),
            terms: Terms::Us,
            stitches: Stitches::standard(),
            definitions: Vec::new(),
            names: BTreeMap::new(),
            numbers: Vec::new(),
            asked_for: BTreeSet::new(),
            head: Head::default(),
            counts_chains: false,
            pieces: Vec::new(),
            plans: Vec::new(),
            said_again: 0,
            way_unsaid: false,
            active: Vec::new(),
            unknown_stitches: BTreeMap::new(),
            told_of: (0, BTreeSet::new()),
        };
        lower.sizes_and_terms(file);
        lower.active = vec![true; lower.size_count()];
        lower
    }

    fn sizes_and_terms(&mut self, file: &File) {
        let mut terms = None;
        for line in &file.lines {
            match &line.kind {
                LineKind::Header(Header::Sizes(sizes)) => self.sizes.clone_from(sizes),
                LineKind::Header(Header::Terms(text)) => terms = Some(text),
                _ => {}
            }
        }
        match terms {
            Some(text) if text.text.eq_ignore_ascii_case("us") => self.terms = Terms::Us,
            Some(text) if text.text.eq_ignore_ascii_case("uk") => self.terms = Terms::Uk,
            Some(text) => self.findings.push(codes::terms_unknown(text)),
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
        if let Some(id) = self.stitches.find(name, self.terms) {
            return id;
        }
        if !self.is_told_of(span) {
            self.unknown_stitch(name, span);
        }
        self.stitches.plain(1).unwrap_or(StitchId(0))
    }

    /// Whether something is said of this very place already.
    fn is_told_of(&mut self, span: Span) -> bool {
        // Only what was found since is looked at.
        let new = self.findings.iter().skip(self.told_of.0).map(|finding| finding.primary.span);
        self.told_of.1.extend(new);
        self.told_of.0 = self.findings.len();
        self.told_of.1.contains(&span)
    }

    /// What a word could be meant for is looked for once, however often it stands in the file.
    fn unknown_stitch(&mut self, name: &str, span: Span) {
        let (stitches, terms) = (&self.stitches, self.terms);
        let first = self
            .unknown_stitches
            .entry(name.to_owned())
            .or_insert_with(|| codes::unknown_stitch(stitches, terms, name, Span::default()));
        let mut finding = first.clone();
        finding.primary.span = span;
        finding.fixes.iter_mut().flat_map(|fix| &mut fix.edits).for_each(|edit| edit.span = span);
        self.findings.push(finding);
    }

    /// Reports a name that is nowhere declared, with the nearest one that is.
    fn unknown(&mut self, what: &str, name: &Text, known: &[String]) {
        self.unknown_as(what, name, known, "not declared above");
    }

    fn unknown_as(&mut self, what: &str, name: &Text, known: &[String], label: &str) {
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
        }
        self.findings.push(finding);
    }

    fn finish(mut self) -> (Pattern, Vec<Diagnostic>) {
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
            pieces: self.pieces,
        };
        (pattern, self.findings)
    }
}
