//! How a line begins and ends beside its stitches: the chain for the next one, turning, the loop that it goes through, and the room that
//! its last steps take.

use crate::read::lexicon::is_amount;
use crate::read::places::REST;
use crate::read::told::places_of;

/// A line without the chain for the next one that it ends with, and that chain: `…, ch 1, turn.`
pub(super) fn turning_chain_off(words: &str) -> (String, Option<String>) {
    let all: Vec<&str> = words.split(' ').collect();
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let sign = |at: usize| matches!(word(at), "," | "." | ";" | "and");
    // An earlier chain has this one behind it, and is none that the line ends with.
    let Some(at) = (1..all.len()).rev().find(|at| word(*at) == "ch" && is_amount(word(at + 1))) else {
        return (words.to_owned(), None);
    };
    let mut end = at + 2;
    if word(end) == "(" && matches!(word(end + 1), "counts" | "does") {
        let close = (end..all.len()).find(|at| word(*at) == ")");
        end = close.map_or(end, |close| close + 1);
    }
    let chain = all.get(at..end).unwrap_or_default().join(" ");
    let mut behind = end;
    while sign(behind) {
        behind += 1;
    }
    let turns = word(behind) == "turn";
    let rest = all.get(behind + usize::from(turns)..).unwrap_or_default();
    let before = all.get(..at).unwrap_or_default();
    let closed = before.iter().any(|word| *word == "join" || *word == "turn") && sign(at - 1)
        || before.rsplit(|word| *word == ",").find(|step| !step.is_empty()).is_some_and(|step| {
            step.first() == Some(&"~sl_st") && step.get(1) == Some(&"in")
        });
    let works = rest.iter().any(|word| {
        matches!(*word, "in" | "ch" | "rep" | "*" | "skip" | "times" | "around" | "across" | "turn" | "fasten" | "join")
    });
    let depth = before.iter().filter(|word| matches!(**word, "(" | "[" | "{")).count()
        == before.iter().filter(|word| matches!(**word, ")" | "]" | "}")).count();
    let stars =
        !before.contains(&"*") || before.contains(&"rep") || before.iter().filter(|word| **word == "*").count() > 1;
    // `ending with ch 2` is how the last repeat ends.
    let ends_repeat = matches!(word(at.saturating_sub(1)), "with" | "ending" | "between");
    if works
        || ends_repeat
        || !depth
        || !stars
        || !(turns || closed && rest.iter().all(|word| !word.starts_with('~') || rest.contains(&"(")))
    {
        return (words.to_owned(), None);
    }
    let mut kept: Vec<&str> = before.to_vec();
    while kept.last().is_some_and(|last| matches!(*last, "," | ";" | "and" | ".")) {
        kept.pop();
    }
    if kept.is_empty() {
        return (words.to_owned(), None);
    }
    kept.extend(turns.then_some(", turn"));
    kept.extend(rest);
    (kept.join(" "), Some(chain))
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
    let counts = all
        .get(slips)
        .is_some_and(|step| step.starts_with("ch ") && step.contains(" as ") || step.starts_with("lead ch "));
    let Some(last) = slips.checked_sub(1).and_then(|at| all.get(at)).filter(|_| counts) else {
        return steps.to_owned();
    };
    let along =
        match last.strip_prefix("sl st in next ").filter(|place| !place.starts_with(|c: char| c.is_ascii_digit())) {
            Some(place) => format!("move to next {place}"),
            None => {
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
    let places = behind
        .trim_start_matches(", ")
        .split(", ")
        .filter(|step| *step != "turn")
        .map(places_of)
        .sum::<Option<u32>>()?;
    Some(format!("{before}to last {places}{behind}"))
}

/// `…; rep from * across, sc in last st`: a repeat to the end leaves room for what follows it.
fn room_left(steps: &str) -> String {
    let Some((before, behind)) = steps.rsplit_once("] to end, ") else { return steps.to_owned() };
    let places = behind.split(", ").filter(|step| *step != "turn").map(places_of).sum::<Option<u32>>();
    match places.filter(|places| *places > 0) {
        Some(places) => format!("{before}] to last {places}, {behind}"),
        None => steps.to_owned(),
    }
}

/// How many stitches the last group of a row has: 3 of `(3 dc, ch 2, 3 dc) in next ch-2 sp`.
pub(super) fn group_of(steps: &str) -> Option<u32> {
    let (_, group) = steps.rsplit_once('(').or_else(|| steps.split_once('['))?;
    group.split(' ').next()?.parse().ok()
}

/// `…, working in back loop only` holds for the whole line.
pub(super) fn loops_first(words: &str) -> String {
    for which in ["back", "front"] {
        for said in [
            format!(" , working in {which} loop only"),
            format!(" , in {which} loop only"),
            format!(" ( in {which} loop only )"),
            format!(" ( {which} loop only )"),
            format!(" . working in {which} loop only"),
        ] {
            if let Some((before, behind)) = words.split_once(said.as_str())
                && behind.trim_start().starts_with(['.', '(', '[', '–', '-', '=', '—', '{']) | behind.is_empty()
            {
                return format!("working in {which} loop only , {before}{behind}");
            }
        }
    }
    words.to_owned()
}
