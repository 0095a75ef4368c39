//! What designers slip into that can't be read, or looked up, as it stands: in the form that was meant, where everything
//! closes then.

use super::proofs::closes;
use super::said_otherwise::counted_so;
use super::trial::Trials;
use super::{MOST_OFFERED, in_one_place, line_at, other_words, slice};
use crate::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};
use crate::syntax::tree::Line;

/// What else a place goes on with: a run to its end, or to the last few.
const TILLS: [&str; 2] = [" to end", " to last "];

/// Steps behind a bracket that is closed too early.
const MOST_BEHIND: usize = 3;

/// Numbers that are tried in a list which lacks one.
const MOST_NUMBERS: usize = 60;

/// The finding with the forms that were meant before its other repairs.
pub(super) fn with_forms(text: &str, trials: &Trials<'_>, compiled: &Compiled, finding: &Diagnostic) -> Diagnostic {
    let mut finding = finding.clone();
    let Some(line) = line_at(&compiled.tree, finding.primary.span) else { return finding };
    let forms = match finding.code.0 {
        "reading" => [in_each(text, line), other_words::unread(text, line)].concat(),
        "bracket" => [in_each(text, line), opened_inside(text, line)].concat(),
        "unknown-name" | "way" | "spiral-lead" => other_words::forms(text, compiled, line, &finding),
        "grid-rows" => [said_twice(text, line), other_words::forms(text, compiled, line, &finding)].concat(),
        "no-extent" => [in_each(text, line), closed_too_early(text, line, finding.primary.span)].concat(),
        "size-list" => one_short(text, compiled, finding.primary.span),
        "turning-chain" => counted(text, line),
        "not-placeable" => in_one_place::forms(text, compiled, line, &finding),
        _ => return finding,
    };
    let mut found: Vec<Fix> = Vec::new();
    for fix in forms {
        if found.len() < MOST_OFFERED && closes(trials, compiled, &finding, &fix) {
            found.push(fix);
        }
    }
    // What a name is nearest to is likelier than any other name.
    if finding.code.0 == "unknown-name" {
        finding.fixes.append(&mut found);
    } else {
        found.append(&mut finding.fixes);
        finding.fixes = found;
    }
    let mut seen: Vec<Vec<Edit>> = Vec::new();
    finding.fixes.retain(|fix| {
        let is_new = !seen.contains(&fix.edits);
        seen.push(fix.edits.clone());
        is_new
    });
    finding.fixes.truncate(MOST_OFFERED);
    finding
}

/// A step that stands twice side by side.
fn said_twice(text: &str, line: &Line) -> Vec<Fix> {
    let steps = each_step(text, steps_of(text, line));
    let pairs = steps.iter().zip(steps.iter().skip(1));
    let twice = pairs.filter(|(one, next)| slice(text, **one) == slice(text, **next));
    let without = |(one, next): (&Span, &Span)| {
        let title = format!("leave out the second `{}`", slice(text, *next));
        let edits = vec![Edit { span: Span::new(one.end, next.end), text: String::new() }];
        Fix { title, edits, safety: Safety::ChangesFabric }
    };
    twice.map(without).collect()
}

/// `(dc, [ch 2, dc) in next, dc 2] 5 times` for `[(dc, ch 2, dc) in next, dc 2] 5 times`.
fn opened_inside(text: &str, line: &Line) -> Vec<Fix> {
    const FARTHEST: usize = 4;
    let all = steps_of(text, line);
    let words = slice(text, all);
    let begins = |at: usize| {
        let before = words.get(..at).unwrap_or_default();
        before.is_empty() || before.ends_with(", ")
    };
    let moved = |(open, _): (usize, &str)| -> Vec<Fix> {
        let earlier = (0..open).rev().filter(|at| words.is_char_boundary(*at) && begins(*at));
        let of_one = |to: usize| {
            let between = words.get(to..open).unwrap_or_default();
            let (start, end) = (all.start + to, all.start + open + 1);
            changed(text, Span::new(start, end), format!("[{between}"))
        };
        earlier.take(FARTHEST).map(of_one).collect()
    };
    words.match_indices('[').flat_map(moved).collect()
}

/// The steps of a line, without its label and what it states.
fn steps_of(text: &str, line: &Line) -> Span {
    let words = slice(text, line.span);
    let from = words.find(':').map_or(0, |at| at + 1);
    let rest = words.get(from..).unwrap_or_default();
    let length = rest.find(['=', '#']).unwrap_or(rest.len());
    trimmed(text, Span::new(line.span.start + from, line.span.start + from + length))
}

fn trimmed(text: &str, span: Span) -> Span {
    let words = slice(text, span);
    let start = span.start + (words.len() - words.trim_start().len());
    Span::new(start, start + words.trim().len())
}

/// The steps between commas and brackets, in order.
fn each_step(text: &str, all: Span) -> Vec<Span> {
    let mut steps = Vec::new();
    let mut from = all.start;
    for (at, letter) in slice(text, all).char_indices().chain([(all.end - all.start, ',')]) {
        if ",[]".contains(letter) {
            steps.push(trimmed(text, Span::new(from, all.start + at)));
            from = all.start + at + letter.len_utf8();
        }
    }
    steps.retain(|step| step.start < step.end);
    steps
}

/// `2 sc in each`, which stops short, and `in next sc to end`: one place, and a run.
fn in_each(text: &str, line: &Line) -> Vec<Fix> {
    let all = steps_of(text, line);
    each_step(text, all).into_iter().flat_map(|step| in_each_at(text, all, step)).collect()
}

fn in_each_at(text: &str, all: Span, step: Span) -> Vec<Fix> {
    let words = slice(text, step);
    let behind = Span::new(step.end, all.end);
    let pass = slice(text, behind).trim_start().starts_with(']');
    let brackets = slice(text, all);
    let never_opened = pass && brackets.matches('[').count() < brackets.matches(']').count();
    if let Some(head) = ["in each", "in every"].iter().find_map(|end| words.strip_suffix(end)).map(str::trim_end) {
        let run = format!("{head} in each st to end");
        let repeat = |extent: &str| format!("[{head} in next] {extent}");
        if never_opened {
            let extent = slice(text, behind).trim_start().trim_start_matches(']').trim_start();
            let whole = step.to(trimmed(text, behind));
            return vec![changed(text, whole, repeat(extent)), changed(text, whole, run)];
        }
        let next = changed(text, step, format!("{head} in next"));
        if pass || is_within(slice(text, Span::new(all.start, step.start))) {
            return vec![next];
        }
        return vec![changed(text, step, run), changed(text, step, repeat("to end")), next];
    }
    if let Some((head, kind)) = words.split_once("in each ").filter(|(_, kind)| !kind.contains(" to ")) {
        // A kind by itself goes on to the end, and within brackets it is one.
        let (one, run) = (format!("{head}in next {kind}"), format!("{words} to end"));
        let [one, run] = [one, run].map(|words| changed(text, step, words));
        return if is_within(slice(text, Span::new(all.start, step.start))) { vec![one] } else { vec![run, one] };
    }
    let Some((head, rest)) = words.split_once("in next ").or_else(|| words.split_once("in each ")) else {
        return Vec::new();
    };
    let Some((kind, till)) = TILLS.iter().find_map(|till| {
        let rest = format!(" {rest}");
        rest.find(till).map(|at| {
            (rest.get(..at).unwrap_or_default().trim().to_owned(), rest.get(at..).unwrap_or_default().to_owned())
        })
    }) else {
        return Vec::new();
    };
    let each = if kind.is_empty() { "st" } else { &kind };
    match head.trim_end() {
        "" => vec![changed(text, step, format!("{each} in each {each}{till}"))],
        head => {
            let repeat = format!("[{head} in next {kind}").trim_end().to_owned() + "]" + &till;
            vec![changed(text, step, format!("{head} in each {each}{till}")), changed(text, step, repeat)]
        }
    }
}

/// Whether brackets are open behind some words.
fn is_within(before: &str) -> bool {
    before.matches('[').count() > before.matches(']').count()
}

/// `[sc 2], inc to end` for `[sc 2, inc] to end`.
fn closed_too_early(text: &str, line: &Line, repeat: Span) -> Vec<Fix> {
    let all = steps_of(text, line);
    let open = slice(text, Span::new(all.start, repeat.start)).rfind('[').map_or(repeat.start, |at| all.start + at);
    let repeat = if slice(text, repeat).starts_with('[') { repeat } else { Span::new(open, repeat.end) };
    let Some(close) = slice(text, Span::new(repeat.start, all.end)).find(']').map(|at| repeat.start + at) else {
        return Vec::new();
    };
    let behind = each_step(text, Span::new(close + 1, all.end.max(close + 1)));
    let ends = behind.into_iter().take(MOST_BEHIND).filter_map(|step| {
        let words = slice(text, step);
        let till = TILLS.iter().find_map(|till| words.find(till));
        let times = || {
            let number = words.strip_suffix(" times")?.rfind(' ')?;
            Some(number)
        };
        Some((step, step.start + till.or_else(times)?))
    });
    let moved = |(step, end): (Span, usize)| {
        let held = format!("{}{}", slice(text, Span::new(repeat.start, close)), slice(text, Span::new(close + 1, end)));
        let words = format!("{held}]{}", slice(text, Span::new(end, step.end)));
        changed(text, Span::new(repeat.start, step.end), words)
    };
    ends.map(moved).collect()
}

/// A list in which a number is missing, or one is too much: those that go on evenly first, and then what stands at that place
/// in the other lists, or near it.
fn one_short(text: &str, compiled: &Compiled, list: Span) -> Vec<Fix> {
    let sizes = compiled.pattern.sizes.len();
    let Some(numbers) = numbers_of(slice(text, list)) else { return Vec::new() };
    let written = |numbers: &[u64]| numbers.iter().map(u64::to_string).collect::<Vec<_>>().join(" / ");
    if numbers.len() == sizes + 1 {
        let without = |at: usize| {
            let mut rest = numbers.clone();
            rest.remove(at);
            changed(text, list, written(&rest))
        };
        return (0..numbers.len()).rev().map(without).collect();
    }
    if numbers.len() + 1 != sizes {
        return Vec::new();
    }
    let others: Vec<Vec<u64>> = text.lines().flat_map(lists_in).filter(|other| other.len() == sizes).collect();
    let mut tried: Vec<(u64, Vec<u64>)> = Vec::new();
    for at in (0..sizes).rev() {
        let evenly = goes_on(&numbers, at);
        let near = others
            .iter()
            .filter_map(|other| other.get(at))
            .flat_map(|number| (0..=3).flat_map(move |by| [number.checked_sub(by), number.checked_add(by)]).flatten());
        for (rank, number) in evenly.map(|number| (1, number)).into_iter().chain(near.map(|number| (2, number))) {
            let mut whole = numbers.clone();
            whole.insert(at, number);
            // The list stands elsewhere as well.
            let rank = if others.contains(&whole) { 0 } else { rank };
            if (whole.is_sorted() || whole.iter().rev().is_sorted()) && !tried.iter().any(|(_, known)| *known == whole)
            {
                tried.push((rank, whole));
            }
        }
    }
    tried.sort_by_key(|(rank, _)| *rank);
    tried.iter().take(MOST_NUMBERS).map(|(_, whole)| changed(text, list, written(whole))).collect()
}

/// The number that lies evenly with its neighbours at a place of a list.
fn goes_on(numbers: &[u64], at: usize) -> Option<u64> {
    let number = |at: usize| numbers.get(at).copied();
    match at.checked_sub(1).and_then(number) {
        None => number(0)?.checked_sub(number(1)?.checked_sub(number(0)?)?),
        Some(before) => match number(at) {
            Some(behind) => Some(before.midpoint(behind)),
            None => before.checked_add(before.checked_sub(number(at.checked_sub(2)?)?)?),
        },
    }
}

/// The lists of plain numbers in a line.
fn lists_in(line: &str) -> Vec<Vec<u64>> {
    let numbers = |stretch: &str| numbers_of(stretch.trim());
    let letters = |letter: char| !letter.is_ascii_digit() && letter != '/' && letter != ' ';
    line.split(letters).filter_map(numbers).filter(|list| list.len() > 1).collect()
}

fn numbers_of(list: &str) -> Option<Vec<u64>> {
    list.split('/').map(|number| number.trim().parse().ok()).collect()
}

/// `ch 3 as dc` for the chain that a line begins with, where other lines say so.
fn counted(text: &str, line: &Line) -> Vec<Fix> {
    let all = steps_of(text, line);
    let Some(first) = each_step(text, all).first().copied() else { return Vec::new() };
    let chain = slice(text, first);
    let is_chain = chain.strip_prefix("ch ").is_some_and(|chains| chains.parse::<u32>().is_ok());
    let counted = counted_so(text, chain).filter(|_| is_chain);
    counted.map(|counted| changed(text, first, counted.to_owned())).into_iter().collect()
}

fn changed(text: &str, span: Span, new: String) -> Fix {
    let title = format!("`{}` to `{new}`", slice(text, span));
    Fix { title, edits: vec![Edit { span, text: new }], safety: Safety::ChangesFabric }
}
