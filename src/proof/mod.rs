//! The proof of a pattern: one page that a designer hands to an editor. Every line in every size, what it uses, makes and
//! states, and what only a person can judge.

mod html;
mod judge;

pub use html::html;

use hmac_sha256::Hash;

use crate::Compiled;
use crate::diagnostic::{Severity, Span};
use crate::fabric::Row;
use crate::meter::{Cost, Meter};
use crate::pattern::model::{Item, Pattern, Piece};
use crate::tally;

/// What a proof says of a pattern. It is made of the fabric and says nothing that was not worked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// Title of the pattern.
    pub title: String,
    /// Who made it.
    pub by: Option<String>,
    /// Version and date as the pattern gives them.
    pub version: Option<String>,
    /// The file, as it is called.
    pub file: String,
    /// SHA-256 of the source, in hexadecimal: another text has another one (FIPS 180-4).
    pub hash: String,
    /// The version of ringtrue.
    pub compiler: &'static str,
    /// What it comes to.
    pub verdict: Verdict,
    /// The pieces, in the order of the pattern.
    pub pieces: Vec<PieceProof>,
    /// That lines are left out, since all of them are more than can be read; nothing where all are there.
    pub left_out: Option<String>,
    /// Errors and warnings: line of the file, what they are called, and what they say.
    pub findings: Vec<(usize, &'static str, String)>,
    /// What only a person can judge, a sentence each.
    pub for_a_person: Vec<String>,
}

/// What a proof comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Verdict {
    /// Errors.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
    /// Sizes that were worked.
    pub sizes: usize,
    /// Rows and rounds that were worked, in all sizes.
    pub rows: usize,
    /// Stitches and chains that were worked, in all sizes.
    pub stitches: u64,
    /// Counts stated for a row or round of a size, and found to be so.
    pub confirmed: usize,
    /// Rows and rounds that state nothing.
    pub unstated: usize,
}

/// A piece of a proof.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceProof {
    /// Its name, or the pattern's title when it has none.
    pub name: String,
    /// Its lines, in the order of working.
    pub lines: Vec<LineProof>,
}

/// Rows or rounds that are alike, in one size or in all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineProof {
    /// `Rnd 4` or `Rnds 8-12`.
    pub label: String,
    /// The line of the file that says so.
    pub line: usize,
    /// The size, when not every size is alike; empty for all.
    pub size: String,
    /// Places that were there, and how many of them were worked.
    pub used: String,
    /// What was made.
    pub made: String,
    /// What is stated; empty when nothing is.
    pub stated: String,
    /// Whether it rings true.
    pub verdict: &'static str,
}

/// Makes the proof of a compiled text. The file is called by the name that is given.
#[must_use]
pub fn proof(compiled: &Compiled, file: &str, text: &str) -> Proof {
    let pattern = &compiled.pattern;
    let (lines, meter) = (Lines::new(text), Meter::new());
    let worked = pattern.pieces.iter().zip(&compiled.fabric.pieces);
    let pieces = worked.map(|(piece, worked)| {
        let sizes: Vec<&[Row]> = worked.sizes.iter().map(|size| size.rows.as_slice()).collect();
        PieceProof { name: name(pattern, piece), lines: piece_lines(pattern, piece, &sizes, &lines, &meter) }
    });
    let pieces: Vec<PieceProof> = pieces.collect();
    let finding = |severity: Severity| match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    };
    let findings = compiled.findings.iter();
    Proof {
        title: pattern.head.title.clone(),
        by: pattern.head.by.clone(),
        version: pattern.head.version.clone(),
        file: file.to_owned(),
        hash: Hash::hash(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect(),
        compiler: env!("CARGO_PKG_VERSION"),
        verdict: verdict(compiled),
        pieces,
        left_out: meter.left_out(pattern, &compiled.fabric),
        findings: findings.map(|f| (lines.of(f.primary.span), finding(f.severity), f.message.clone())).collect(),
        for_a_person: judge::sentences(compiled),
    }
}

fn name(pattern: &Pattern, piece: &Piece) -> String {
    let name = if piece.name.is_empty() { &pattern.head.title } else { &piece.name };
    if piece.copies > 1 { format!("{name} (make {})", piece.copies) } else { name.clone() }
}

fn verdict(compiled: &Compiled) -> Verdict {
    let count = |severity: Severity| compiled.findings.iter().filter(|f| f.severity == severity).count();
    let mut verdict = Verdict {
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        sizes: compiled.pattern.sizes.len(),
        ..Verdict::default()
    };
    for (piece, worked) in compiled.pattern.pieces.iter().zip(&compiled.fabric.pieces) {
        for line in worked.sizes.iter().flat_map(|size| tally::lines(piece, &size.rows)) {
            let (row, states) = (line.row, line.states());
            verdict.rows += 1;
            verdict.stitches += u64::from(row.ledger.stitches) + u64::from(row.ledger.chains);
            verdict.confirmed += usize::from(states && row.true_to_count);
            verdict.unstated += usize::from(!states);
        }
    }
    verdict
}

/// The lines of a piece. Where all sizes have the same rows, they stand side by side; else each size has its own lines.
fn piece_lines(pattern: &Pattern, piece: &Piece, sizes: &[&[Row]], lines: &Lines, meter: &Meter) -> Vec<LineProof> {
    let sized = sizes.iter().enumerate();
    let runs: Vec<Vec<Run<'_>>> = sized.map(|(size, rows)| runs(pattern, piece, (size, rows), meter)).collect();
    let Some((first, others)) = runs.split_first() else { return Vec::new() };
    let alike = others.iter().all(|other| {
        other.len() == first.len() && first.iter().zip(other).all(|(one, other)| one.stands_beside(other))
    });
    if alike {
        let beside = (0..first.len()).map(|at| runs.iter().filter_map(|size| size.get(at)).collect::<Vec<_>>());
        return beside.filter_map(|same| line(&same, String::new(), lines)).collect();
    }
    let sized = runs.iter().enumerate().flat_map(|(size, runs)| {
        let size = pattern.sizes.get(size).cloned().unwrap_or_default();
        runs.iter().filter_map(move |run| line(&[run], size.clone(), lines))
    });
    sized.collect()
}

/// Rows or rounds of one size that follow each other and are alike.
#[derive(Debug)]
struct Run<'a> {
    item: &'a Item,
    first: String,
    numbers: (u32, u32),
    used: String,
    made: String,
    stated: String,
    verdict: &'static str,
}

impl Run<'_> {
    fn stands_beside(&self, other: &Self) -> bool {
        self.item.span == other.item.span && self.numbers == other.numbers && self.verdict == other.verdict
    }

    fn goes_on(&self, next: &Self) -> bool {
        self.item.span == next.item.span
            && (&self.used, &self.made, &self.stated, self.verdict)
                == (&next.used, &next.made, &next.stated, next.verdict)
    }
}

/// Rows that are worked alike are put together before anything is written of them.
fn runs<'a>(pattern: &Pattern, piece: &'a Piece, (size, rows): (usize, &'a [Row]), meter: &Meter) -> Vec<Run<'a>> {
    let mut runs: Vec<Run<'a>> = Vec::new();
    let mut before: Option<tally::Line<'a>> = None;
    for line in tally::lines(piece, rows) {
        let (row, Some(item)) = (line.row, line.item) else { continue };
        if let (Some(last), Some(_)) = (runs.last_mut(), before.replace(line).filter(|before| before.is_like(line))) {
            last.numbers.1 = row.number;
            continue;
        }
        let ledger = &row.ledger;
        let run = Run {
            item,
            first: row.label(Some(item)),
            numbers: (row.number, row.number),
            used: format!("{} of {}", ledger.offered.saturating_sub(ledger.left), ledger.offered),
            made: in_order(&tally::by_kind(pattern, &ledger.made)),
            stated: line.stated_in_words(pattern, size),
            verdict: line.verdict(),
        };
        match runs.last_mut() {
            Some(last) if last.goes_on(&run) => last.numbers.1 = row.number,
            _ if !meter.charge_row(Cost::Named) => break,
            _ => runs.push(run),
        }
    }
    runs
}

/// Kinds in an order of their own, so that rounds in which two of them change places are seen to be alike.
fn in_order(kinds: &str) -> String {
    let mut kinds: Vec<&str> = kinds.split(" + ").collect();
    kinds.sort_by_key(|kind| kind.split_once(' ').map_or(*kind, |(_, name)| name));
    kinds.join(" + ")
}

/// One line of the proof for the runs of one size or of all.
fn line(same: &[&Run<'_>], size: String, lines: &Lines) -> Option<LineProof> {
    let first = same.first()?;
    let (from, to) = first.numbers;
    let label = match first.first.split_once(' ') {
        Some((word, _)) if from != to => format!("{word}s {from}-{to}"),
        _ => first.first.clone(),
    };
    Some(LineProof {
        label,
        line: lines.of(first.item.span),
        size,
        used: by_size(same.iter().map(|run| run.used.as_str())),
        made: by_size(same.iter().map(|run| run.made.as_str())),
        stated: by_size(same.iter().map(|run| run.stated.as_str())),
        verdict: first.verdict,
    })
}

/// One text when all sizes have the same, else one a size.
fn by_size<'t>(texts: impl Iterator<Item = &'t str>) -> String {
    let texts: Vec<&str> = texts.collect();
    match texts.split_first() {
        Some((first, others)) if others.iter().all(|other| other == first) => (*first).to_owned(),
        _ => texts.join(" / "),
    }
}

/// Finds lines of the text by their places.
struct Lines(Vec<usize>);

impl Lines {
    fn new(text: &str) -> Self {
        Self(std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect())
    }

    /// Counted from 1.
    fn of(&self, span: Span) -> usize {
        self.0.partition_point(|start| *start <= span.start)
    }
}
