//! How a line begins and ends beside its stitches: the chain for the next one, turning, the loop that it goes through, and the room that
//! its last steps take.

use crate::read::lexicon::is_amount;
use crate::read::places::REST;
use crate::read::told::places_of;

/// A line without the chain for the next one that it ends with, and that chain: `…, ch 1, turn.`
pub(super) fn turning_chain_off(words: &str) -> (String, Option<String>) {
    match with_chain_apart(words) {
        Some((line, chain)) => (line, Some(chain)),
        None => (words.to_owned(), None),
    }
}

fn with_chain_apart(words: &str) -> Option<(String, String)> {
    let all: Vec<&str> = words.split(' ').collect();
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let (at, end) = last_chain(&all)?;
    let mut behind = end;
    while matches!(word(behind), "," | "." | ";" | "and") {
        behind += 1;
    }
    let turns = word(behind) == "turn";
    let rest = all.get(behind + usize::from(turns)..).unwrap_or_default();
    let before = all.get(..at).unwrap_or_default();
    let told = || rest.iter().all(|word| !word.starts_with('~') || rest.contains(&"("));
    if works_on(rest) || !is_whole(before) || !(turns || is_closed(before) && told()) {
        return None;
    }
    let mut kept: Vec<&str> = before.to_vec();
    while kept.last().is_some_and(|last| matches!(*last, "," | ";" | "and" | ".")) {
        kept.pop();
    }
    if kept.is_empty() {
        return None;
    }
    kept.extend(turns.then_some(", turn"));
    kept.extend(rest);
    Some((kept.join(" "), all.get(at..end)?.join(" ")))
}

/// Where the last chain of a line begins, and where it ends with what it counts as. One before it has this one behind it, and is none
/// that the line ends with.
fn last_chain(all: &[&str]) -> Option<(usize, usize)> {
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let at = (1..all.len()).rev().find(|at| word(*at) == "ch" && is_amount(word(at + 1)))?;
    // `Sl st in top of ch 3` names a chain that is there, and `ending with ch 2` is how the last repeat ends.
    let named = [
        "of", "in", "to", "top", "beg", "turning", "starting", "each", "next", "around", "skip", "with", "ending",
        "between",
    ];
    if named.contains(&word(at - 1)) {
        return None;
    }
    let end = at + 2;
    let counts = word(end) == "(" && matches!(word(end + 1), "counts" | "does");
    let close = (end..all.len()).find(|at| counts && word(*at) == ")");
    Some((at, close.map_or(end, |close| close + 1)))
}

/// Whether work stands behind the chain.
fn works_on(rest: &[&str]) -> bool {
    rest.iter().any(|word| {
        matches!(*word, "in" | "ch" | "rep" | "*" | "skip" | "times" | "around" | "across" | "turn" | "fasten" | "join")
    })
}

/// Whether every bracket is closed, and every star repeated.
fn is_whole(before: &[&str]) -> bool {
    let number = |signs: [&str; 3]| before.iter().filter(|word| signs.contains(word)).count();
    let stars = before.iter().filter(|word| **word == "*").count();
    number(["(", "[", "{"]) == number([")", "]", "}"]) && (stars != 1 || before.contains(&"rep"))
}

/// Whether the line is joined or turned before its last chain.
fn is_closed(before: &[&str]) -> bool {
    let signed = before.last().is_some_and(|last| matches!(*last, "," | "." | ";" | "and"));
    let joined = before.iter().any(|word| *word == "join" || *word == "turn");
    let last = before.rsplit(|word| *word == ",").find(|step| !step.is_empty());
    joined && signed || last.is_some_and(|step| step.starts_with(&["~sl_st", "in"]))
}

/// Slip stitches as the way to where a row begins, where the chain behind them is that of every row.
pub(in crate::read) fn along(slips: &str) -> String {
    const LEAD: &str = ", lead ch 1";
    moved_along(&format!("{slips}{LEAD}")).trim_end_matches(LEAD).to_owned()
}

/// A line with its total in brackets, where it stands behind a colon or behind what goes to the end: `2 sc in each st around: 12 sc.`
pub(super) fn total_in_brackets(words: &str) -> String {
    let bare = words.trim_end_matches([' ', '.']);
    // `… to end . 27 st . turn .`.
    if let Some(before) = bare.strip_suffix(" . turn") {
        let told = total_in_brackets(before);
        return if told == before { words.to_owned() } else { format!("{told} . turn .") };
    }
    for sign in [" : ", " ; ", " , ", " . "] {
        let Some((before, total)) = bare.rsplit_once(sign) else { continue };
        let said = ["total", "count", "have", "=", "all"].iter().any(|word| before.ends_with(word));
        if said
            || !is_total(total)
            || before.ends_with("from hook")
            || before.matches('(').count() != before.matches(')').count()
        {
            continue;
        }
        let last = before.rsplit(" , ").next().unwrap_or_default();
        let whole = ["around", "to end", "across", "each st"].iter().any(|end| last.ends_with(end))
            || last.starts_with("join")
            || last.starts_with("~sl_st to ")
            || last.starts_with("~sl_st in first ");
        let ring = last.ends_with("in ring") && last.split(' ').next() == total.split(' ').next();
        let each = last.contains(" in each ~") && !last.contains(" and ");
        let sentence = before.rsplit(" . ").next().unwrap_or_default();
        let goes_to_end =
            [" times", "× ", "rep ", "as ", "leave", "unworked", "to last", "tog", "in last", "to end", "block"];
        let closed = sign == " . " && goes_to_end.iter().any(|said| sentence.contains(said));
        if sign == " : " || whole || ring || each || closed {
            let total = total.split_once(" , ch ").map_or(total, |(first, _)| first);
            return format!("{before} ( {total} )");
        }
    }
    words.to_owned()
}

/// `12 sc`, `6 petals`, `12 sc , 6 ch-2 sp`: a number, and what is counted.
fn is_total(words: &str) -> bool {
    const MOST_WORDS: usize = 4;
    // `25 dc, 25 ch`, in which the chains have come to stand the other way round.
    if let Some((first, chains)) = words.split_once(" , ch ") {
        return is_amount(chains) && first.split(' ').next() == Some(chains) && is_total(first);
    }
    if let Some((first, rest)) = [" and ", " + ", " , "].iter().find_map(|link| words.split_once(link)) {
        return is_total(first) && is_total(rest);
    }
    let all: Vec<&str> = words.split(' ').collect();
    let (Some(number), rest) = (all.first(), all.get(1..).unwrap_or_default()) else { return false };
    let thing = |word: &&str| {
        word.starts_with('~') || word.starts_with("ch-") || word.chars().all(|c| c.is_alphabetic() || c == '-')
    };
    let works = ["in", "times", "more", "each", "around", "to", "of", "ch", "rep", "×", "turn", "row", "rnd", "and"];
    is_amount(number)
        && !rest.is_empty()
        && rest.len() < MOST_WORDS
        && rest.iter().all(thing)
        && !rest.iter().any(|word| works.contains(word))
}

/// `… ( 32 sc ) . turn .`: the total stands behind the turn.
pub(super) fn turned_before_total(words: &str) -> String {
    let bare = words.trim_end_matches([' ', '.']);
    let Some(before) = bare.strip_suffix(" turn").map(|before| before.trim_end_matches([' ', '.', ',', ';'])) else {
        return words.to_owned();
    };
    let close = before.chars().last().filter(|c| matches!(c, ')' | ']'));
    let open = close.map(|close| if close == ')' { " ( " } else { " [ " });
    let Some((steps, total)) = open.and_then(|open| before.rsplit_once(open)) else { return words.to_owned() };
    if !total.starts_with(|c: char| c.is_ascii_digit() || c == '–') {
        return words.to_owned();
    }
    let bracket = if close == Some(')') { '(' } else { '[' };
    format!("{} , turn {bracket} {total}", steps.trim_end_matches([' ', '.', ',', ';']))
}

/// `Sl st across to corner sp, (ch 3, 2 dc, ch 2, 3 dc) in corner sp`: the group goes where the slip stitches lead.
pub(super) fn slipped_to_group(words: &str) -> Option<String> {
    let rest = words.strip_prefix("~sl_st ")?;
    let rest = ["across to ", "over to ", "along to ", "to ", "in "].iter().find_map(|way| rest.strip_prefix(way))?;
    let (place, group) = rest.split_once(" ( ch ")?;
    let place = place.trim_end_matches([' ', ',', '.', ';']);
    let bare = |place: &'_ str| -> String {
        let which = ["next", "first", "that", "this", "same"];
        place.split(' ').filter(|word| !which.contains(word)).collect::<Vec<_>>().join(" ")
    };
    let (inside, behind) = group.split_once(" ) in ")?;
    let (there, end) = behind
        .split_once(" ,")
        .map_or((behind, ""), |(there, _)| (there, behind.get(there.len()..).unwrap_or_default()));
    let there = there.trim_end_matches([' ', '.']);
    let named = place.ends_with(" sp") || place.ends_with("corner");
    (named && !inside.contains('(') && bare(place) == bare(there))
        .then(|| format!("~sl_st in next {} , ( ch {inside} ) in same sp{end}", bare(place)))
}

/// `(Ch 3, 2 dc, ch 2, 3 dc) in same sp` at the beginning of a round: the chain stands before the group, which the hook is in already.
pub(super) fn lead_out_of_group(words: &str) -> String {
    let same = || -> Option<String> {
        let (before, group) = match words.strip_prefix("( ch ") {
            Some(group) => ("", group),
            None => words.split_once(" ( ch ")?,
        };
        // Stitches before it are only places that the hook goes past.
        let words: Vec<&str> = before.split(' ').collect();
        let place = |at: usize| {
            let word = at.checked_sub(1).and_then(|at| words.get(at)).copied().unwrap_or_default();
            is_amount(word) || matches!(word, "next" | "first" | "same" | "last" | "each" | "in")
        };
        let only_there =
            words.iter().enumerate().all(|(at, word)| !word.starts_with('~') || *word == "~sl_st" || place(at));
        let (chains, rest) = group.split_once(' ')?;
        let rest = rest.strip_prefix(", ")?;
        let mut depth = 1_i32;
        let close = rest.split_inclusive(' ').scan(0, |at, word| {
            depth += i32::from(word.trim() == "(") - i32::from(word.trim() == ")");
            let here = *at;
            *at += word.len();
            Some((here, depth))
        });
        let close = close.into_iter().find(|(_, depth)| *depth == 0).map(|(at, _)| at)?;
        let (inside, behind) = (rest.get(..close)?, rest.get(close..)?);
        let placed = behind.starts_with(") in same") || behind.starts_with(") in ring");
        let plain = is_amount(chains) && only_there && !before.contains(" ch ") && !before.contains('*');
        let before = if before.is_empty() { String::new() } else { format!("{before} ") };
        (placed && plain).then(|| format!("{before}ch {chains} , ( {inside}{behind}"))
    };
    same().unwrap_or_else(|| words.to_owned())
}

/// `move to next ch-2 sp, (…) in same, tr to next ch-2 sp, [(…) in next ch-2 sp, tr to next ch-2 sp] 3 times`: behind the last corner the
/// side goes up to the first one, which has been worked into already.
pub(super) fn corner_last(steps: &str) -> Option<String> {
    let (_, behind) = steps.split_once("move to next ")?;
    let (space, _) = behind.split_once(", ")?;
    let (before, repeat) = steps.rsplit_once(", [")?;
    let (inside, times) = repeat.rsplit_once("] ")?;
    let number = times.strip_suffix(" times")?;
    let till = format!(" to next {space}");
    let (group, side) = inside.rsplit_once(", ")?;
    let last = side.strip_suffix(till.as_str()).filter(|_| is_amount(number) && !before.contains('['))?;
    let (before, first) = before.rsplit_once(", ")?;
    (first == side && group.contains(space)).then(|| format!("{before}, [{side}, {group}] {times}, {last} to end"))
}

/// A total without the kinds of which the line has none: `10 shells` of five stitches in one place have no name in its steps.
pub(super) fn kinds_there(count: Option<String>, steps: &str) -> Option<String> {
    const SEVERAL: [&str; 7] = ["shell", "sh", "vst", "cl", "bob", "puff", "pop"];
    let there = |part: &&str| {
        let kind = part.rsplit_once(' ').map_or("", |(_, kind)| kind);
        let named = || steps.split(|c: char| !c.is_alphanumeric() && c != '-').any(|word| word.ends_with(kind));
        // What a round begins with is one of them, though it is written out.
        let begun = steps.contains(" as ") && steps.split(", ").take(4).any(|step| step.ends_with(" in same"));
        !SEVERAL.contains(&kind) || named() && !begun
    };
    let count = count?;
    let kept: Vec<&str> = count.split(" + ").filter(there).collect();
    (!kept.is_empty()).then(|| kept.join(" + "))
}

/// `3 sc in each ch-3 sp around`, behind slip stitches into one of them: that one is the first of them all.
pub(super) fn from_this_space(steps: &str) -> Option<String> {
    let (before, behind) = steps.split_once("move to next ")?;
    let (space, rest) = behind.split_once(", ")?;
    let (first, each) = rest.split_once(" in each ")?;
    let all = space.ends_with(" sp") && !first.contains(',') && each == format!("{space} to end");
    all.then(|| format!("{before}move to next {space}, {first} in same, {rest}"))
}

/// `…, tr to next ch-2 sp, [(2 tr, ch 2, 2 tr) in next ch-2 sp, tr to next ch-2 sp] 3 times`: behind the last corner the next one is that which
/// the round began in, so it goes on to the end.
pub(super) fn to_first_corner(steps: &str) -> Option<String> {
    let (before, repeat) = steps.rsplit_once(", [")?;
    let (inside, times) = repeat.rsplit_once("] ")?;
    let (_, side) = inside.rsplit_once(", ")?;
    let corner = inside.strip_suffix(side)?.strip_suffix(", ")?;
    let (along, place) = side.rsplit_once(" to next ")?;
    let number = times.strip_suffix(" times").filter(|number| number.parse::<u32>().is_ok())?;
    let begins = before.strip_suffix(side)?.strip_suffix(", ")?;
    let moved = begins.starts_with(&format!("move to next {place}"));
    let moved = moved && begins.contains(" in same");
    let plain = !corner.contains(['[', ']', ';']) && corner.contains(&format!("in next {place}"));
    (moved && plain && place.ends_with("sp") && !along.contains(", "))
        .then(|| format!("{begins}, [{side}, {corner}] {number} times, {along} to end"))
}

/// The stitch that a line is made of, where it is one; worked even, it goes on in it.
pub(super) fn only_stitch(steps: &str) -> Option<&str> {
    const WORDS: [&str; 31] = [
        "to", "end", "in", "next", "last", "skip", "lead", "ch", "first", "move", "turn", "leave", "rest", "of", "as",
        "st", "each", "times", "on", "blo", "flo", "same", "rejoin", "evenly", "sl", "sp", "change", "no", "once",
        "twice", "inc",
    ];
    let stitch = |word: &'_ str| -> Option<usize> {
        let name = word.strip_suffix("tog").map_or(word, |name| name.trim_end_matches(|c: char| c.is_ascii_digit()));
        let known = name.is_empty() || WORDS.contains(&name) || matches!(name, "dec" | "invdec");
        (!known && name.starts_with(|c: char| c.is_ascii_lowercase())).then_some(name.len())
    };
    let words = steps.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    let mut names = words.filter_map(|word| word.get(..stitch(word)?));
    let first = names.next()?;
    names.all(|name| name == first).then_some(first)
}

/// Whether a line turns the work before it begins, and whether it ends with turning.
pub(super) fn turning(words: &str) -> (bool, bool) {
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
pub(super) fn moved_along(steps: &str) -> String {
    let all: Vec<&str> = steps.split(", ").collect();
    let slips = all.iter().take_while(|step| step.starts_with("sl st")).count();
    let counts = all.get(slips).is_some_and(|step| {
        step.starts_with("ch ") && step.contains(" as ") || step.starts_with("lead ch ") || step.ends_with(" in same")
    });
    let Some(last) = slips.checked_sub(1).and_then(|at| all.get(at)).filter(|_| counts) else {
        return steps.to_owned();
    };
    let along = match last
        .strip_prefix("sl st in next ")
        .or_else(|| last.strip_prefix("sl st to next "))
        .filter(|place| !place.starts_with(|c: char| c.is_ascii_digit()))
    {
        Some(place) => format!("move to next {place}"),
        None => {
            // A number of its own for each size is one step.
            if let (1, true) = (slips, last.contains(" / ")) {
                let rest = last.trim_start_matches("sl st").trim_start_matches(" in next").trim();
                let numbers: String =
                    rest.chars().take_while(|c| c.is_ascii_digit() || matches!(c, ' ' | '/')).collect();
                let along = format!("move {}", numbers.trim());
                return std::iter::once(along.as_str())
                    .chain(all.into_iter().skip(slips))
                    .collect::<Vec<_>>()
                    .join(", ");
            }
            if all.iter().take(slips).any(|step| step.contains(" / ")) {
                return steps.to_owned();
            }
            let number = |step: &&str| {
                let rest = step.trim_start_matches("sl st").trim_start_matches(" in next").trim();
                rest.split(' ').next().and_then(|number| number.parse::<u32>().ok()).unwrap_or(1)
            };
            format!("move {}", all.iter().take(slips).map(number).sum::<u32>())
        }
    };
    std::iter::once(along.as_str()).chain(all.into_iter().skip(slips)).collect::<Vec<_>>().join(", ")
}

/// Steps in which a repeat goes as far as what follows it leaves room.
pub(super) fn with_rest(steps: &str) -> Option<String> {
    let sign = format!("to last {REST}");
    let Some((before, behind)) = steps.split_once(sign.as_str()) else { return Some(room_left(steps)) };
    if let Some(stopped) = stops_within(before, behind.trim_start_matches(", ")) {
        return Some(stopped);
    }
    // `[block] to last ch-3 sp, sl st in next ch-3 sp`: that one is where the rest begins.
    let first = behind.trim_start_matches(", ").split(", ").find(|step| !step.starts_with("ch "));
    let first = first.and_then(|step| step.rsplit_once(" in next ").or_else(|| step.rsplit_once(" in last ")));
    if let Some((_, kind)) = first.filter(|(_, kind)| kind.starts_with("ch") && kind.ends_with(" sp")) {
        return with_rest(&format!("{before}to last {kind}{behind}"));
    }
    let places = behind
        .trim_start_matches(", ")
        .split(", ")
        .filter(|step| *step != "turn")
        .map(places_of)
        .sum::<Option<u32>>()?;
    with_rest(&format!("{before}to last {places}{behind}"))
}

/// `*A, B, C, D; rep from * to last shell, A, B, C, E`: the last repeat stops behind C, and E is what is left.
fn stops_within(before: &str, behind: &str) -> Option<String> {
    let inside = before.trim_end().strip_suffix(']')?;
    let at = inside.rfind('[')?;
    let (ahead, inside) = (inside.get(..at)?, inside.get(at + 1..)?);
    let body = crate::read::over::top_steps(inside);
    let rest = crate::read::over::top_steps(behind);
    // Places may be named once, and once not.
    let bare = |step: &str| -> String {
        let words = step.split(' ').filter(|word| !matches!(*word, "in" | "next"));
        let kinds = |word: &&str| !matches!(*word, "st" | "dc" | "sc" | "tr" | "hdc" | "htr");
        let mut words = words;
        let first = words.next().unwrap_or_default().to_owned();
        std::iter::once(first).chain(words.filter(kinds).map(str::to_owned)).collect::<Vec<_>>().join(" ")
    };
    let same = body.iter().zip(&rest).take_while(|(one, other)| bare(one) == bare(other)).count();
    let (kept, left) = (body.get(..same)?, body.get(same..)?);
    if same < 2 || left.is_empty() || body.iter().any(|step| step.contains("**")) {
        return None;
    }
    let after = rest.get(same..)?.join(", ");
    // What the last repeat stops before goes into the place that is left.
    let last = after.rsplit_once(" in last").filter(|(_, kind)| kind.split(' ').count() < 3).map(|(one, _)| one);
    let after = match last.filter(|one| !one.contains(',') && left.len() == 1) {
        Some(one) => format!("{one} in next"),
        None => after,
    };
    let after = if after.is_empty() { after } else { format!(", {after}") };
    Some(format!("{ahead}[{}, ** {}] to end{after}", kept.join(", "), left.join(", ")))
}

/// `…; rep from * across, sc in last st`: a repeat to the end leaves room for what follows it.
fn room_left(steps: &str) -> String {
    let Some((before, behind)) = steps.rsplit_once("] to end, ") else { return room_behind_each(steps) };
    let places = behind.split(", ").filter(|step| *step != "turn").map(places_of).sum::<Option<u32>>();
    match places.filter(|places| *places > 0) {
        Some(places) => format!("{before}] to last {places}, {behind}"),
        None => steps.to_owned(),
    }
}

/// `vst in each ch-1 sp to end, dc in lead`: the last place is none of those that are passed over.
fn room_behind_each(steps: &str) -> String {
    let parted = steps.rsplit_once(" sp to end, ").filter(|(before, behind)| {
        before.rsplit(", ").next().is_some_and(|step| step.contains(" in each ch")) && !behind.starts_with("leave")
    });
    let places = parted
        .and_then(|(_, behind)| behind.split(", ").filter(|step| *step != "turn").map(places_of).sum::<Option<u32>>());
    match parted.zip(places.filter(|places| *places > 0)) {
        Some(((before, behind), places)) => format!("{before} sp to last {places}, {behind}"),
        None => steps.to_owned(),
    }
}

/// `hdc to end, leave 4`: what is left is not worked.
pub(super) fn but_what_is_left(steps: &str) -> String {
    let Some((before, left)) = steps.split_once(" to end, leave ") else { return steps.to_owned() };
    let number = left.split(", ").next().unwrap_or_default();
    if !is_amount(&number.replace(" / ", "/")) {
        return steps.to_owned();
    }
    format!("{before} to last {number}, leave {left}")
}

/// A round whose last chain goes over what its repeats leave: `[skip 1, tr, ch 2] to last 1, skip 1`.
pub(in crate::read) fn gapped(steps: &str) -> Option<String> {
    let (line, count) =
        steps.split_once(" = ").map_or((steps, ""), |(line, _)| (line, steps.get(line.len()..).unwrap_or_default()));
    let before = line.strip_suffix("] to end")?;
    let body = before.get(before.rfind('[')? + 1..)?;
    let (first, last) = (body.split(", ").next()?, body.split(", ").last()?);
    let skipped = first.strip_prefix("skip ")?.trim_start_matches("next ");
    let number = skipped.split(' ').next().filter(|number| is_amount(number)).unwrap_or("1");
    (last.starts_with("ch ") && number != "0").then(|| format!("{before}] to last {number}, skip {number}{count}"))
}

/// How many stitches the last group of a row has: 3 of `(3 dc, ch 2, 3 dc) in next ch-2 sp`.
pub(super) fn group_of(steps: &str) -> Option<u32> {
    let (_, group) = steps.rsplit_once('(').or_else(|| steps.split_once('['))?;
    group.split(' ').next()?.parse().ok()
}

/// `…, working in back loop only` holds for the whole line, and so does `in back loop only (sc 4, sc2tog) × 6`.
pub(super) fn loops_first(words: &str) -> String {
    for which in ["back", "front"] {
        let said = format!("{which} loop only ");
        let bare = words.strip_prefix("in ").unwrap_or(words);
        if let Some(rest) = bare.strip_prefix(said.as_str()).filter(|rest| rest.starts_with(['(', '[', '*'])) {
            return format!("working in {which} loop only , {rest}");
        }
    }
    for which in ["back", "front"] {
        for said in [
            format!(" , working in {which} loop only"),
            format!(" , in {which} loop only"),
            format!(" , {which} loop only"),
            format!(" in {which} loop only"),
            format!(" ( in {which} loop only )"),
            format!(" ( {which} loop only )"),
            format!(" . working in {which} loop only"),
        ] {
            if let Some((before, behind)) = words.split_once(said.as_str())
                && (!said.starts_with(" in ") || before.ends_with("around") || before.ends_with("each st"))
                && behind.trim_start().starts_with(['.', '(', '[', '–', '-', '=', '—', '{']) | behind.is_empty()
            {
                return format!("working in {which} loop only , {before}{behind}");
            }
        }
    }
    words.to_owned()
}

/// `Ch 3, dc, ch 1, 2 dc all in same sp`: what stands before `all in` is a group, but for the chain that the line begins with.
pub(super) fn all_in_one(words: &str) -> String {
    const SAID: &str = " all in ";
    let Some(at) = words.find(SAID) else { return words.to_owned() };
    let (before, behind) = (words.get(..at).unwrap_or_default(), words.get(at + SAID.len()..).unwrap_or_default());
    let starts = [" . ", " ; ", " : "].iter().filter_map(|sign| before.rfind(sign).map(|at| at + sign.len()));
    let from = starts.max().unwrap_or(0);
    let (ahead, clause) = (before.get(..from).unwrap_or_default(), before.get(from..).unwrap_or_default());
    let begins = ahead.split(' ').all(|word| !word.starts_with('~') || word == "~sl_st");
    let clause = clause.trim_end_matches([' ', ',']);
    // What its chain counts as may have commas of its own.
    let end = if clause.starts_with("ch ") && clause.split(' ').nth(2) == Some("(") { " ) , " } else { " , " };
    let led = clause.find(end).and_then(|at| Some((clause.get(..at + end.len() - 3)?, clause.get(at + end.len()..)?)));
    let led = led.filter(|(lead, _)| begins && lead.starts_with("ch "));
    let (lead, group) = led.map_or((String::new(), clause), |(lead, group)| (format!("{lead} , "), group));
    if group.is_empty() || clause.contains(" in ") || group.contains(['(', '[', '*', '{']) || !group.contains(" , ") {
        return words.replace(SAID, " in ");
    }
    format!("{ahead}{lead}( {group} ) in {behind}")
}
