//! Lines that say others again: `Rep Row 2`, `Rep Rows 3–5 until there are 211 sts`, `Work as rnds 2–4 of Motif`.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::label::{Label, Span, spans};
use super::piece::Draft;
use super::told::{Result, Unread, amount, piece_name};

/// The notation for a line that says others again.
pub(super) fn again(piece: &Draft, pieces: &[String], label: &Label, pair: Pair<'_, Rule>) -> Result<Vec<String>> {
    let words = pair.as_str().to_owned();
    let (mut of, mut cited, mut until) = (None, Vec::new(), None);
    // The last rows are meant by where they stand.
    let said_last =
        !piece.shifts.is_empty() && pair.clone().into_inner().flatten().any(|part| part.as_rule() == Rule::rows_last);
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::rows => cited = rows(&part, label)?,
            Rule::how_long => until = part.into_inner().next(),
            Rule::of_piece => of = Some(piece_name(&part, pieces)),
            _ => {}
        }
    }
    let unread = || Unread::new(&words);
    let until = until.filter(|_| label.spans.iter().flatten().all(|(from, to)| from == to));
    if cited.len() == 1 && !piece.shifts.is_empty() && of.is_none() {
        cited = vec![cited.first().copied().flatten(); piece.shifts.len()];
    }
    let counted_on = of.is_none() && !said_last;
    for (size, span) in cited.iter_mut().enumerate().filter(|_| counted_on) {
        let Some((from, to)) = span else { continue };
        *from = from.saturating_add(piece.shift_in(size));
        *to = to.saturating_add(piece.shift_in(size));
    }
    let word = if label.round { "rnd" } else { "row" };
    let alike = cited.iter().flatten().next().copied().filter(|first| cited.iter().flatten().all(|span| span == first));
    if let Some(of) = of {
        let from = alike.ok_or_else(unread)?;
        let here = number_of(label);
        return Ok(vec![format!("{word}{}: as {word}{} of {of}", here.unwrap_or_default(), range(from))]);
    }
    let cited: Vec<Span> =
        if cited.len() == 1 { vec![*cited.first().ok_or_else(unread)?; label.spans.len()] } else { cited };
    if let Some(until) = until.filter(|until| matches!(until.as_rule(), Rule::until_stitches | Rule::until_length)) {
        let last = || Some(format!("last {} {word}s", how_many_last(piece, label, &cited)?));
        let numbered = alike.filter(|_| !piece.open_ended).map(|rows| format!("{word}{}", range(rows)));
        let rows = numbered.or_else(last).ok_or_else(unread)?;
        return Ok(vec![format!("again {rows} until {}", so_far(&until)?)]);
    }
    if let Some((from, to)) = alike
        && is_numbered(piece, label, (from, to))
    {
        return direct(label, (from, to), word).ok_or_else(unread);
    }
    last_ones(piece, label, &cited, word).or_else(|| copied(piece, label, &cited)).ok_or_else(unread)
}

/// Whether it says a row again that begins its piece and is not turned before, where rows say themselves that they are.
pub(super) fn cites_unturned(piece: &Draft, pair: &Pair<'_, Rule>) -> bool {
    let Some(first) = piece.written.first().filter(|first| piece.says_turns && !first.round && !first.turned) else {
        return false;
    };
    let inner = || pair.clone().into_inner();
    if inner().any(|part| part.as_rule() == Rule::of_piece) {
        return false;
    }
    let cited: Vec<Span> = inner().filter_map(|part| rows(&part, &Label::default()).ok()).flatten().collect();
    let begins = |(size, (from, _)): (usize, (u32, u32))| {
        let first = first.spans.get(size).or(first.spans.first()).copied().flatten();
        first.is_some_and(|(begins, _)| begins == from)
    };
    cited.into_iter().enumerate().filter_map(|(size, span)| Some((size, span?))).any(begins)
}

/// How far rows are worked again: `until there are 18 sts`, `until piece measures 12 inches`.
fn so_far(until: &Pair<'_, Rule>) -> Result {
    let words = until.as_str();
    if until.as_rule() == Rule::until_stitches {
        let number = until.clone().into_inner().next().map(|number| amount(&number)).unwrap_or_default();
        return Ok(format!("{number} sts"));
    }
    let all: Vec<&str> = words.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let measured = all.windows(2).find_map(|two| {
        let [number, unit] = two else { return None };
        let unit = match *unit {
            "cm" => "cm",
            "in" | "inch" | "inches" | "\"" | "”" => "in",
            _ => return None,
        };
        let each: Option<Vec<f64>> = number.split('/').map(|one| one.parse::<f64>().ok()).collect();
        let each: Vec<String> = each?.iter().map(f64::to_string).collect();
        Some(format!("{} {unit}", each.join(" / ")))
    });
    measured.ok_or_else(|| Unread::new(words))
}

/// The numbers of a line that says how many rows there are to be: `Row 3: Rep Row 2 until there are 60 rows`.
pub(super) fn up_to(piece: &Draft, label: &Label, pair: &Pair<'_, Rule>) -> Result<Option<Label>> {
    let until = pair.clone().into_inner().flatten().find(|part| part.as_rule() == Rule::until_rows);
    let Some(until) = until else { return Ok(None) };
    let words = until.as_str().to_owned();
    let unread = || Unread::new(&words);
    let number = until.into_inner().find(|part| part.as_rule() == Rule::amount).ok_or_else(unread)?;
    let last: Vec<u32> = amount(&number).split(" / ").filter_map(|one| one.parse().ok()).collect();
    let mut label = label.clone();
    for (size, (from, to)) in label.spans.iter_mut().enumerate().filter_map(|(size, span)| Some((size, span.as_mut()?)))
    {
        // Rows that are counted anew below others are so many of their own.
        let others = if piece.shift_in(size) > 1 { piece.shift_in(size) } else { 0 };
        let last = last.get(size).or(last.first()).copied().ok_or_else(unread)?.saturating_add(others);
        *to = if last >= *from { last } else { return Err(unread()) };
    }
    Ok(Some(label))
}

/// `Row 6: Rep Row 5 four more times`: the numbers of a line that says how often; those that it has already must be as many.
pub(super) fn so_often(label: &Label, pair: &Pair<'_, Rule>) -> Result<Option<Label>> {
    let often = pair.clone().into_inner().flatten().find(|part| part.as_rule() == Rule::more_times);
    let cited = pair.clone().into_inner().find(|part| part.as_rule() == Rule::rows);
    let (Some(often), Some(cited)) = (often, cited) else { return Ok(None) };
    let words = often.as_str().to_owned();
    let number = often.into_inner().find(|part| part.as_rule() == Rule::amount).map(|number| amount(&number));
    let once = if words.starts_with("twice") { "2" } else { "1" };
    let times: Vec<u32> =
        number.as_deref().unwrap_or(once).split(" / ").filter_map(|number| number.parse().ok()).collect();
    let cited = rows(&cited, label)?;
    let mut longer = label.clone();
    for (size, span) in longer.spans.iter_mut().enumerate() {
        let (Some((from, to)), Some((first, last))) =
            (span.as_mut(), cited.get(size).or(cited.first()).copied().flatten())
        else {
            continue;
        };
        let times = times.get(size).or(times.first()).copied().unwrap_or(1);
        let all = last.saturating_sub(first).saturating_add(1).saturating_mul(times);
        let end = from.saturating_add(all).saturating_sub(1);
        if *to != *from && *to != end {
            return Err(Unread::new(&words));
        }
        *to = end.max(*from);
    }
    Ok((longer != *label).then_some(longer))
}

/// The last so many rows before a line.
fn last_rows(pair: &Pair<'_, Rule>, label: &Label) -> Option<Vec<Span>> {
    let number =
        pair.clone().into_inner().next().map_or(Some(1), |number| number.as_str().trim().parse::<u32>().ok())?;
    let before = |span: &Span| {
        let Some((from, _)) = span else { return Some(None) };
        Some(Some((from.checked_sub(number).filter(|first| *first > 0)?, from.checked_sub(1)?)))
    };
    label.spans.iter().map(before).collect()
}

/// `Rnd 2`, `Rows 3–5`, `Rows 2 and 3`, one for each size.
fn rows(pair: &Pair<'_, Rule>, label: &Label) -> Result<Vec<Span>> {
    if let Some(last) = pair.clone().into_inner().find(|part| part.as_rule() == Rule::rows_last) {
        return last_rows(&last, label).ok_or_else(|| Unread::new(pair.as_str()));
    }
    let inner: Vec<Pair<'_, Rule>> = pair.clone().into_inner().flat_map(Pair::into_inner).collect();
    let mut numbers: Vec<Vec<Span>> = Vec::new();
    for part in &inner {
        let text = part.as_str().trim();
        let read = match part.as_rule() {
            Rule::ordinal => text.get(..text.len().saturating_sub(2)).and_then(spans),
            _ => spans(text),
        };
        numbers.push(read.ok_or_else(|| Unread::new(text))?);
    }
    let mut numbers = numbers.into_iter();
    let mut all = numbers.next().ok_or_else(|| Unread::new(pair.as_str()))?;
    for more in numbers {
        for (span, more) in all.iter_mut().zip(more) {
            if let (Some(span), Some(more)) = (span.as_mut(), more) {
                span.1 = more.1;
            }
        }
    }
    Ok(all)
}

fn range((from, to): (u32, u32)) -> String {
    if from == to { format!(" {from}") } else { format!("s {from}-{to}") }
}

/// The number of a label that is the same in all its sizes.
fn number_of(label: &Label) -> Option<String> {
    let mut there = label.spans.iter().flatten();
    let first = there.next()?;
    there.all(|span| span == first).then(|| range(*first))
}

/// Whether these numbers are written before their lines, in all sizes that the label is for.
fn is_numbered(piece: &Draft, label: &Label, (from, to): (u32, u32)) -> bool {
    let fixed = |spans: &[Span]| {
        let mut there = spans.iter().flatten();
        let first = there.next();
        there.all(|span| Some(span) == first)
    };
    let sizes = label.spans.iter().enumerate().filter(|(_, span)| span.is_some());
    sizes.map(|(size, _)| size).all(|size| {
        (from..=to).all(|number| piece.with_number(size, number).is_some_and(|written| fixed(&written.spans)))
    })
}

/// How many rows a label has in each size.
fn lengths(label: &Label) -> Vec<u32> {
    label.spans.iter().map(|span| span.map_or(0, |(from, to)| to.saturating_sub(from).saturating_add(1))).collect()
}

fn direct(label: &Label, (from, to): (u32, u32), word: &str) -> Option<Vec<String>> {
    let cited = to.checked_sub(from)?.checked_add(1)?;
    let lengths = lengths(label);
    let rows = range((from, to));
    if lengths.iter().all(|length| *length == cited || *length == 0)
        && let Some(here) = number_of(label)
    {
        return Some(vec![format!("{word}{here}: as {word}{rows}")]);
    }
    if lengths.iter().all(|length| length % cited == 0) {
        let times = list(lengths.iter().map(|length| length / cited));
        return Some(vec![format!("again {word}{rows}, {times} times")]);
    }
    // The last time only a part of them.
    let over: Vec<u32> = lengths.iter().filter(|length| **length > 0).map(|length| length % cited).collect();
    if let Some(more) = over.first().copied().filter(|first| over.iter().all(|other| other == first)) {
        let times = list(lengths.iter().map(|length| length / cited));
        let each = (0..more).filter_map(|at| from.checked_add(at)).map(|row| format!("{word}: as {word} {row}"));
        return Some(std::iter::once(format!("again {word}{rows}, {times} times")).chain(each).collect());
    }
    let last = list(label.spans.iter().map(|span| span.map_or(0, |(_, to)| to)));
    Some(vec![format!("again {word}{rows} until {word} {last}")])
}

/// The rows right above, by how many they are.
fn last_ones(piece: &Draft, label: &Label, cited: &[Span], word: &str) -> Option<Vec<String>> {
    let count = how_many_last(piece, label, cited)?;
    let lengths = lengths(label);
    if !lengths.iter().all(|length| length % count == 0) {
        return None;
    }
    let times = list(lengths.iter().map(|length| length / count));
    Some(vec![if count == 1 {
        format!("again, {times} times")
    } else {
        format!("again last {count} {word}s, {times} times")
    }])
}

/// The same steps written again.
fn copied(piece: &Draft, label: &Label, cited: &[Span]) -> Option<Vec<String>> {
    let concerned: Vec<(usize, (u32, u32))> = label
        .spans
        .iter()
        .zip(cited)
        .enumerate()
        .filter_map(|(size, (here, there))| here.and(*there).map(|there| (size, there)))
        .collect();
    let (_, (first, last)) = *concerned.first()?;
    let length = last.checked_sub(first)?;
    let mut lines = Vec::new();
    for at in 0..=length {
        let mut steps = concerned.iter().map(|(size, (from, to))| {
            (to.checked_sub(*from)? == length).then_some(())?;
            Some(piece.with_number(*size, from.checked_add(at)?)?.steps.as_str())
        });
        let one = steps.next()??;
        steps.all(|other| other == Some(one)).then_some(())?;
        (!one.is_empty()).then_some(())?;
        lines.push(one.to_owned());
    }
    let word = if label.round { "rnd" } else { "row" };
    let cited = length.checked_add(1)?;
    let lengths = lengths(label);
    lengths.iter().all(|length| length % cited == 0).then_some(())?;
    let times: Vec<u32> = lengths.iter().map(|length| (length / cited).saturating_sub(1)).collect();
    let mut written: Vec<String> = lines.iter().map(|steps| format!("{word}: {steps}")).collect();
    if times.iter().any(|times| *times > 0) {
        let above = if cited == 1 { String::new() } else { format!(" last {cited} {word}s") };
        written.push(format!("again{above}, {} times", list(times.into_iter())));
    }
    Some(written)
}

/// The steps that rows said again have, where they all have the same.
pub(super) fn steps_again(piece: &Draft, label: &Label) -> String {
    let _ = label;
    piece.written.last().map(|written| written.steps.clone()).unwrap_or_default()
}

/// A number for each size, or one where they are all alike.
fn list(numbers: impl Iterator<Item = u32> + Clone) -> String {
    let mut others = numbers.clone();
    let first = others.next().unwrap_or(0);
    if others.all(|other| other == first) {
        return first.to_string();
    }
    numbers.map(|number| number.to_string()).collect::<Vec<_>>().join(" / ")
}

/// Lines with the sizes that they are for, and the count behind the last.
pub(super) fn counted(lines: Vec<String>, prefix: &str, count: Option<&str>) -> Vec<String> {
    let last = lines.len().saturating_sub(1);
    let count = count.map(|count| format!(" = {count}")).unwrap_or_default();
    let written = lines.into_iter().enumerate();
    written.map(|(at, line)| format!("{prefix}{line}{}", if at == last { count.as_str() } else { "" })).collect()
}

/// The lines of the notation for a line with steps.
pub(super) fn labelled(label: &Label, prefix: &str, steps: &str, count: Option<&str>) -> Vec<String> {
    let word = if label.round { "rnd" } else { "row" };
    let count = count.map(|count| format!(" = {count}")).unwrap_or_default();
    let side = label.side;
    if let Some(number) = number_of(label).filter(|_| !label.bare) {
        return vec![format!("{prefix}{word}{number}{side}: {steps}{count}")];
    }
    let lengths = lengths(label);
    let several = lengths.iter().any(|length| *length > 1);
    // A total behind several lines is that of the last.
    let changes = ["tog", "inc", "dec", "2 ", "3 ", "leave", "skip"].iter().any(|word| steps.contains(word));
    let first = if several && changes { "" } else { count.as_str() };
    let mut lines = vec![format!("{prefix}{word}{side}: {steps}{first}")];
    if several {
        let times = list(lengths.iter().map(|length| length.saturating_sub(1)));
        lines.push(format!("{prefix}again, {times} times{count}"));
    }
    lines
}

/// How many rows right above a line are cited, where they are the same in all sizes.
fn how_many_last(piece: &Draft, label: &Label, cited: &[Span]) -> Option<u32> {
    let mut count = None;
    for (size, (here, there)) in label.spans.iter().zip(cited).enumerate() {
        let Some((from, _)) = here else { continue };
        let (first, last) = (*there)?;
        let number = last.checked_sub(first)?.checked_add(1)?;
        if last.checked_add(1)? != *from
            || piece.last_number(size) != last
            || count.is_some_and(|count| count != number)
        {
            return None;
        }
        count = Some(number);
    }
    count
}
