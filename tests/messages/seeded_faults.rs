//! Faults that are put into patterns by a fixed rule: where they are found, and whether the true mend is offered.
//!
//! The rule: take the files of `samples` and `tests/print` in the order of their names. For the n-th file go through its
//! work lines that state a count, starting at the (n / 5)-th of them, and make the edit of kind n mod 5 at the first
//! line where it changes something: a number of stitches or repeats one larger, the stated count one larger, a step left out, another
//! stitch, such a number one smaller. (The length
//! of a chain is in no count of stitches, so it is left alone.) An edit under which the pattern still closes is no fault, so the next line is
//! taken. The first forty files that give a fault are used.

#![expect(clippy::unwrap_used, clippy::string_slice, reason = "a test says what it expects by failing")]
#![expect(clippy::print_stdout, reason = "the table of outcomes is shown beside the counts")]
#![expect(clippy::needless_for_each, reason = "each step is gone into where it stands")]

use ringtrue::diagnostic::{Diagnostic, Severity, Span};
use ringtrue::mend::compile_and_mend;
use ringtrue::syntax::tree::{Amount, Body, Extent, LineKind, RepeatBody, Step, StepKind, TermValue, Where, WorkLine};
use ringtrue::{compile, syntax};

const WANTED: usize = 40;

/// One edit in one file.
struct Seed {
    file: String,
    /// Line of the file, from 1.
    line: usize,
    kind: &'static str,
    before: String,
    after: String,
    text: String,
    original: String,
}

/// How a seeded fault came out.
struct Outcome {
    found: bool,
    errors: usize,
    /// Place of the true mend among those offered, from 1.
    rank: Option<usize>,
}

#[test]
fn forty_seeded_faults_are_found_and_mended() {
    let seeds = seeds();
    assert_eq!(seeds.len(), WANTED, "not enough files give a fault");
    let outcomes: Vec<Outcome> = seeds.iter().map(outcome).collect();
    let count = |holds: &dyn Fn(&Outcome) -> bool| outcomes.iter().filter(|o| holds(o)).count();
    let found = count(&|o| o.found);
    let single = count(&|o| o.errors == 1);
    let offered = count(&|o| o.rank.is_some_and(|r| r <= 3));
    let first = count(&|o| o.rank == Some(1));
    let table: Vec<String> = seeds.iter().zip(&outcomes).map(row).collect();
    println!("{}", table.join("\n"));
    println!("found {found}, one error {single}, true mend among three {offered}, first {first} of {WANTED}");
    assert_eq!(found, WANTED, "a seeded fault was not found at its line");
    assert!(single >= 38, "exactly one error in {single}");
    assert!(offered >= 34, "the true mend is among the first three in {offered}");
    assert!(first >= 26, "the true mend is the first in {first}");
}

fn row((seed, outcome): (&Seed, &Outcome)) -> String {
    let rank = outcome.rank.map_or("-".to_owned(), |r| r.to_string());
    let found = if outcome.found { "found" } else { "MISSED" };
    format!(
        "{:<34} {:>4} {:<14} {found:<6} errors {} mend {rank}   {} -> {}",
        seed.file, seed.line, seed.kind, outcome.errors, seed.before, seed.after
    )
}

fn outcome(seed: &Seed) -> Outcome {
    let compiled = compile_and_mend(&seed.text);
    let errors: Vec<&Diagnostic> = compiled.findings.iter().filter(|f| f.severity == Severity::Error).collect();
    let at_line = |f: &&&Diagnostic| line_of(&seed.text, f.primary.span.start) == seed.line;
    let finding = errors.iter().find(at_line);
    let same = |text: &str| squeezed(text) == squeezed(&seed.original);
    let rank = finding.and_then(|f| f.fixes.iter().position(|fix| same(&fix.apply(&seed.text)))).map(|at| at + 1);
    Outcome { found: finding.is_some(), errors: errors.len(), rank }
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn line_of(text: &str, at: usize) -> usize {
    // A finding on a continued line counts for the line that it goes on with.
    let (tree, _) = syntax::parse(text);
    let whole = tree.lines.iter().find(|l| l.span.start <= at && at <= l.span.end);
    let start = whole.map_or(at, |l| l.span.start);
    text[..start].matches('\n').count() + 1
}

fn seeds() -> Vec<Seed> {
    let mut files: Vec<std::path::PathBuf> = ["samples", "tests/print"]
        .iter()
        .flat_map(|folder| std::fs::read_dir(folder).into_iter().flatten())
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "rnd"))
        .collect();
    files.sort();
    files.iter().enumerate().filter_map(|(n, path)| seed(n, path)).take(WANTED).collect()
}

fn seed(n: usize, path: &std::path::Path) -> Option<Seed> {
    let original = std::fs::read_to_string(path).unwrap().replace("\r\n", "\n");
    let (tree, _) = syntax::parse(&original);
    let works = tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Work(work) if work.stated.is_some() && matches!(work.body, Body::Steps(_)) => Some((line, work)),
        _ => None,
    });
    let works: Vec<_> = works.collect();
    let from = (n / 5) % works.len().max(1);
    for (line, work) in works.iter().skip(from).chain(works.iter().take(from)) {
        let edit = match n % 5 {
            0 => number(work, 1),
            1 => stated(work),
            2 => dropped(work),
            3 => swapped(work, &original),
            _ => number(work, -1),
        };
        let Some((kind, span, new)) = edit else { continue };
        let text = format!("{}{new}{}", &original[..span.start], &original[span.end..]);
        let compiled = compile(&text);
        let faulty = compiled.findings.iter().any(|f| f.severity == Severity::Error);
        if faulty {
            return Some(Seed {
                file: path.file_stem().unwrap().to_string_lossy().into_owned(),
                line: line_of(&original, line.span.start),
                kind,
                before: original[span.start..span.end].to_owned(),
                after: new,
                text,
                original,
            });
        }
    }
    None
}

type Edit = (&'static str, Span, String);

fn number(work: &WorkLine, by: i64) -> Option<Edit> {
    let mut spots = Vec::new();
    if let Body::Steps(steps) = &work.body {
        // A number that a later `to end` makes up for is no fault of its line.
        let takes_up = steps.iter().rposition(to_end);
        let counted =
            |at: usize, step: &Step| takes_up.is_none_or(|last| at > last) || !matches!(step.kind, StepKind::Work(_));
        steps.iter().enumerate().filter(|(at, s)| counted(*at, s)).for_each(|(_, s)| numbers(s, &mut spots));
    }
    let (span, value) = spots.into_iter().find(|(_, value)| i64::try_from(*value).unwrap() + by > 0)?;
    let kind = if by > 0 { "number +1" } else { "number -1" };
    Some((kind, span, (i64::try_from(value).unwrap() + by).to_string()))
}

fn to_end(step: &Step) -> bool {
    matches!(&step.kind, StepKind::Work(work) if matches!(work.places, Where::Till(_)))
}

fn stated(work: &WorkLine) -> Option<Edit> {
    let amount = &work.stated.as_ref()?.parts.first()?.amount;
    let (span, value) = written(amount).into_iter().next()?;
    Some(("stated +1", span, (value + 1).to_string()))
}

fn dropped(work: &WorkLine) -> Option<Edit> {
    let Body::Steps(steps) = &work.body else { return None };
    let list = lists(steps).into_iter().find(|l| l.len() > 1)?;
    let (second, first) = (list.get(1)?, list.first()?);
    Some(("step less", Span::new(first.end, second.end), String::new()))
}

fn swapped(work: &WorkLine, text: &str) -> Option<Edit> {
    let Body::Steps(steps) = &work.body else { return None };
    let mut stitches = Vec::new();
    steps.iter().for_each(|s| stitches_of(s, &mut stitches));
    stitches.into_iter().find_map(|span| {
        let new = match &text[span.start..span.end] {
            "inc" | "sc2tog" | "dec" | "invdec" => "sc",
            "dc2tog" => "dc",
            "sc" => "sc2tog",
            "dc" => "dc2tog",
            "hdc" => "hdc2tog",
            _ => return None,
        };
        Some(("other stitch", span, new.to_owned()))
    })
}

fn written(amount: &Amount) -> Vec<(Span, u64)> {
    let numbers = amount.terms.iter().filter_map(|t| match t.value {
        TermValue::Number(value) => Some((t.span, value)),
        TermValue::Sum(_) => None,
    });
    numbers.collect()
}

fn numbers(step: &Step, found: &mut Vec<(Span, u64)>) {
    match &step.kind {
        StepKind::Work(work) => {
            found.extend(work.each.iter().flat_map(written));
            if let Where::Count { amount, .. } = &work.places {
                found.extend(written(amount));
            }
        }
        StepKind::Skip { amount: Some(amount), .. } => found.extend(written(amount)),
        StepKind::Group { steps, .. } => steps.iter().for_each(|s| numbers(s, found)),
        StepKind::Repeat(repeat) => {
            inner(&repeat.body).into_iter().for_each(|s| numbers(s, found));
            if let Extent::Times(amount) = &repeat.extent {
                found.extend(written(amount));
            }
        }
        _ => {}
    }
}

fn stitches_of(step: &Step, found: &mut Vec<Span>) {
    match &step.kind {
        StepKind::Work(work) => found.push(work.stitch.span),
        StepKind::Group { steps, .. } => steps.iter().for_each(|s| stitches_of(s, found)),
        StepKind::Repeat(repeat) => inner(&repeat.body).into_iter().for_each(|s| stitches_of(s, found)),
        _ => {}
    }
}

fn lists(steps: &[Step]) -> Vec<Vec<Span>> {
    let mut found = Vec::new();
    for step in steps {
        match &step.kind {
            StepKind::Repeat(repeat) => {
                if let RepeatBody::Steps { steps, .. } = &repeat.body {
                    found.extend(lists(steps));
                }
            }
            StepKind::Group { steps, .. } => found.extend(lists(steps)),
            _ => {}
        }
    }
    found.push(steps.iter().map(|s| s.span).collect());
    found
}

fn inner(body: &RepeatBody) -> Vec<&Step> {
    match body {
        RepeatBody::Steps { steps, .. } => steps.iter().collect(),
        RepeatBody::On(arms) => arms.iter().flat_map(|(_, steps)| steps).collect(),
    }
}
