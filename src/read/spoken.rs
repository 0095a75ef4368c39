//! Lines as they are spoken: a total in a sentence of its own, a repeat that is said behind its steps, and for which sizes something is.

use super::lexicon::is_amount;
use super::pattern::sentences;

/// Words that a sentence begins with which only counts, up to its first number. Common practice, no source.
const COUNTING: [&str; 42] = [
    "you",
    "you'll",
    "we",
    "i",
    "should",
    "will",
    "would",
    "now",
    "have",
    "had",
    "get",
    "there",
    "there's",
    "there'll",
    "are",
    "is",
    "be",
    "that",
    "that's",
    "this",
    "it",
    "it's",
    "makes",
    "gives",
    "leaves",
    "brings",
    "us",
    "which",
    "a",
    "total",
    "of",
    "to",
    "still",
    "again",
    "stitches:",
    "stitch",
    "st",
    "count:",
    "total:",
    "ending",
    "with",
    "up",
];
/// Words that a count has not.
const NO_COUNT: [&str; 16] = [
    "each",
    "between",
    "every",
    "more",
    "times",
    "rows",
    "rounds",
    "rnds",
    "row",
    "round",
    "left",
    "unworked",
    "to",
    "from",
    "before",
    "left over",
];

/// A line with its total in brackets where a sentence of its own says it: `… around. That makes 24.`, `… Still 30!`
pub(super) fn totalled(body: &str) -> Option<String> {
    let all = sentences(body);
    let at = all.iter().skip(1).position(|sentence| counted(sentence).is_some())? + 1;
    let (total, last) = counted(all.get(at)?)?;
    let before = all.get(..at)?.join(" ");
    if before.trim_end_matches(['.', ' ']).ends_with([')', ']', '}', '>']) && closes_total(&before) {
        return None;
    }
    let in_last = if last { " in the last round" } else { "" };
    let behind = all.get(at + 1..)?.join(" ");
    Some(format!("{} ({total}{in_last}). {behind}", before.trim_end_matches(['.', ' ', '!'])).trim_end().to_owned())
}

/// What a sentence counts, and whether it speaks of the last of several rows.
fn counted(sentence: &str) -> Option<(&str, bool)> {
    let bare = sentence.trim().trim_end_matches(['.', '!', ' ', '?']);
    let (begins, last) = at_the_end(bare);
    let mut at = begins;
    let mut any = false;
    loop {
        let rest = bare.get(at..)?;
        let word = rest.split(' ').next()?;
        if word.starts_with(|c: char| c.is_ascii_digit()) {
            break;
        }
        let said = word.to_lowercase().replace('’', "'");
        let said = said.trim_end_matches(',');
        if !(COUNTING.contains(&said) || any && said == ":") {
            return None;
        }
        any = true;
        at += word.len() + 1;
    }
    let rest = bare.get(at..)?;
    (any && is_count(rest)).then_some((rest, last))
}

/// Where a sentence goes on behind `At the end of row 12`, and whether it speaks of the last of several rows so.
fn at_the_end(bare: &str) -> (usize, bool) {
    let lower: String = bare.chars().map(|c| c.to_ascii_lowercase()).collect();
    let begins =
        ["at the end of ", "by the end of ", "at end of ", "after "].iter().find(|begins| lower.starts_with(**begins));
    let Some(begins) = begins else { return (0, false) };
    let mut at = begins.len();
    let (mut row, mut last) = (false, false);
    while let Some(word) = lower.get(at..).and_then(|rest| rest.split(' ').next()).filter(|word| !word.is_empty()) {
        let bare = word.trim_end_matches(',');
        let number = bare.starts_with(|c: char| c.is_ascii_digit());
        let rows = matches!(bare, "row" | "round" | "rnd" | "rd");
        if number && !row || !(number || rows || matches!(bare, "the" | "this" | "last" | "final" | "each" | "every")) {
            break;
        }
        last |= number || matches!(bare, "last" | "final");
        row |= rows;
        at += word.len() + 1;
        if word.ends_with(',') || number {
            break;
        }
    }
    if row { (at, last) } else { (0, false) }
}

fn is_count(rest: &str) -> bool {
    const MOST_WORDS: usize = 16;
    let words = || rest.split([' ', ',']).filter(|word| !word.is_empty());
    rest.starts_with(|c: char| c.is_ascii_digit())
        && words().count() <= MOST_WORDS
        && !words().any(|word| NO_COUNT.contains(&word.to_lowercase().as_str()))
}

/// `… (18)`: whether the last brackets are a total already.
fn closes_total(before: &str) -> bool {
    let inside = before.rsplit(['(', '[', '{', '<']).next().unwrap_or_default();
    inside.trim_start().starts_with(|c: char| c.is_ascii_digit()) && !inside.contains(" in ")
}

/// A text without the brackets that say only that it is for all sizes: `Chain 11 (both sizes).`
pub(super) fn for_all_sizes(text: &str) -> Option<String> {
    const SAID: [&str; 10] = [
        " (both sizes)",
        " (all sizes)",
        " (for both sizes)",
        " (for all sizes)",
        " (same for both sizes)",
        " (same for all sizes)",
        " [both sizes]",
        " [all sizes]",
        " for both sizes",
        " for all sizes",
    ];
    let said = SAID.iter().find(|said| text.contains(**said))?;
    let rest = text.replace(*said, "");
    (!rest.trim_matches(['.', ' ', ':']).is_empty()).then_some(rest)
}

/// `1 dc, 2 dc in next st, six times in all`: all that stands before it is the repeat, but for the chain that the line begins with.
pub(super) fn times_behind(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let at = all.windows(2).position(|two| matches!(two, [number, "times"] if is_amount(number)))?;
    let sign =
        all.get(at.checked_sub(1)?).filter(|sign| matches!(**sign, "," | ";" | "and" | "all" | "-" | "–" | "—"))?;
    let end = if *sign == "all" { at.checked_sub(2)? } else { at - 1 };
    let (steps, behind) = (all.get(..end)?, all.get(at + 2..)?);
    let (whole, behind) = match behind {
        ["in", "all" | "total", rest @ ..] | ["around" | "altogether" | "across", rest @ ..] => (true, rest),
        rest => (*sign == "all", rest),
    };
    let closes =
        behind.first().is_none_or(|next| matches!(*next, "." | "," | ";" | "(" | "[" | "{" | "–" | "—" | "-" | "="));
    let counts = behind.iter().any(|word| is_amount(word));
    let plain = !steps.iter().any(|word| matches!(*word, "(" | "[" | "{" | "*" | "rep" | "." | "join"));
    if !closes || !plain || !(whole || counts) || !steps.iter().any(|word| word.starts_with('~')) {
        return None;
    }
    // The chain that the line begins with.
    let led = usize::from(steps.first() == Some(&"ch") && steps.get(2) == Some(&",")) * 3;
    let (lead, body) = steps.split_at_checked(led)?;
    let body = body.strip_suffix(&[","]).unwrap_or(body);
    let lead = if lead.is_empty() { String::new() } else { lead.join(" ") + " " };
    let times = all.get(at)?;
    let told = format!("{lead}[ {} ] {times} times {}", body.join(" "), behind.join(" "));
    Some(told.trim_end().to_owned())
}

/// `Sl st in next 2 ch, ch 1, sc in same loop`: the slip stitches only bring the hook into the loop.
pub(super) fn slipped_in_chain(words: &str) -> Option<String> {
    let rest = words.strip_prefix("~sl_st in ")?;
    let rest =
        ["next ", "first ", "each of next ", "each of first "].iter().find_map(|which| rest.strip_prefix(which))?;
    let (number, rest) = rest.split_once(" ch ")?;
    let place = rest.split(" in ").nth(1)?;
    let there = ["same loop", "same sp", "same ch-"].iter().any(|same| place.starts_with(same));
    (is_amount(number) && there && rest.starts_with([',', '.', ';'])).then(|| format!("~sl_st in next sp {rest}"))
}

/// `Sc around, working 4 sc into the chain`: the chain is a space that comes on the way.
pub(super) fn chain_on_the_way(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let at = all.windows(3).position(|three| {
        matches!(three, [sign, work, number] if matches!(*sign, "," | ";" | "and") && matches!(*work, "working" | "work" | "making" | "with" | "placing") && is_amount(number))
    })?;
    let (before, behind) = (all.get(..at)?, all.get(at + 2..)?);
    let stitch = before.iter().rfind(|word| word.starts_with('~'))?;
    let whole = before.last().is_some_and(|till| matches!(*till, "around" | "across" | "end"));
    let [number, made, "in" | "across" | "along" | "over", rest @ ..] = behind else { return None };
    let rest = rest.strip_prefix(&["each", "of"]).unwrap_or(rest);
    let rest = rest
        .strip_prefix(&["ch", "sp"])
        .or_else(|| rest.strip_prefix(&["ch"]))
        .or_else(|| rest.strip_prefix(&["thumb", "ch"]))?;
    let ends = rest.first().is_none_or(|next| matches!(*next, "," | "." | ";" | "(" | "[" | "–" | "-" | "="));
    let from = before.iter().rposition(|word| word == stitch)?;
    let led = before.get(..from)?;
    let plain = before
        .get(from + 1..)?
        .iter()
        .all(|word| matches!(*word, "in" | "each" | "st" | "around" | "across" | "to" | "end"));
    (whole && ends && plain && made == stitch).then(|| {
        format!(
            "{} {stitch} to next ch sp , {number} {made} in next ch sp , {stitch} to end {}",
            led.join(" "),
            rest.join(" ")
        )
        .trim()
        .to_owned()
    })
}

/// `Rep row 3, there'll be one more block in each row. (36)`: without what is only told of the rows.
pub(super) fn without_told(words: &str) -> Option<String> {
    let (before, told) = [" , there'll ", " , there will ", " , you'll have ", " , so there "]
        .iter()
        .find_map(|says| words.split_once(says))?;
    let end = [" . ", " ( ", " [ "].iter().filter_map(|sign| told.find(sign)).min()?;
    let works = told.get(..end)?.contains('~') && !told.get(..end)?.contains("~block");
    (!works && words.starts_with("rep ")).then(|| format!("{before}{}", told.get(end..).unwrap_or_default()))
}

/// `1 tr in each tr, ending with 1 tr in top of 3 ch`: where nothing is repeated, it is the next step.
pub(super) fn ended_plainly(words: &str) -> Option<String> {
    let repeats = ["*", "[", "(", "rep ", " times"].iter();
    let (before, behind) =
        [" , ending with ", " , end with ", " , ending "].iter().find_map(|with| words.split_once(with))?;
    let works = behind.starts_with('~') || behind.split(' ').nth(1).is_some_and(|stitch| stitch.starts_with('~'));
    let none = repeats.clone().all(|sign| !before.contains(sign));
    // The one that is named stands in the last place.
    let last = behind.contains(" in top of ") || behind.contains(" in last ");
    let before = before.strip_suffix(" to end").unwrap_or(before);
    let to_last = if last && before.contains(" in each ") { " to last 1 st" } else { "" };
    (works && none).then(|| format!("{before}{to_last} , {behind}"))
}

/// `Miss 1 ch, 1 ss in each of next 6 ch` along the chain that a piece begins with: from the 2nd chain on.
pub(super) fn skipped_first(words: &str) -> Option<String> {
    let rest = words.strip_prefix("skip ")?;
    let rest = rest.strip_prefix("first ").or_else(|| rest.strip_prefix("next ")).unwrap_or(rest);
    let (skipped, rest) = rest.split_once(" , ")?;
    let number = match skipped {
        "ch" => 1,
        skipped => skipped.strip_suffix(" ch")?.parse::<u32>().ok()?,
    };
    let nth = match number.checked_add(1)? {
        2 => "2nd".to_owned(),
        3 => "3rd".to_owned(),
        nth => format!("{nth}th"),
    };
    rest.starts_with(|c: char| c == '~' || c.is_ascii_digit()).then(|| format!("begin in {nth} ch from hook , {rest}"))
}

/// `Tr over tr, ch 3`: old print for a stitch in the next one of those below.
pub(super) fn over_stitches(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let stitch = |at: usize| all.get(at).is_some_and(|word| word.starts_with('~') && *word != "~sl_st");
    let (mut told, mut any) = (Vec::with_capacity(all.len()), false);
    for (at, word) in all.iter().enumerate() {
        let behind = at > 0 && *word == "over" && stitch(at - 1);
        let each = all.get(at + 1) == Some(&"each") && stitch(at + 2);
        if behind && (stitch(at + 1) || each) {
            told.push(if each { "in" } else { "in next" });
            any = true;
        } else {
            told.push(word);
        }
    }
    any.then(|| told.join(" "))
}

/// `fpdc over fpdc and bpdc over bpdc`, `FPtr in each FPtr, BPtr in each BPtr around`: each post stitch goes round its own kind; what stands
/// before that, and behind it.
pub(super) fn each_on_its_own(words: &str) -> Option<(String, String, String)> {
    let all: Vec<&str> = words.split(' ').collect();
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let post = |at: usize| word(at).starts_with("~fp") || word(at).starts_with("~bp");
    let pair = |at: usize| {
        let from = at + usize::from(word(at) == "1");
        let link = (from + 1..from + 6)
            .take_while(|at| {
                matches!(word(*at), "over" | "in" | "around" | "rnd" | "on" | "each" | "next" | "of" | "post")
            })
            .count();
        let same = post(from) && link > 0 && word(from + 1 + link) == word(from);
        same.then(|| (word(from), from + 2 + link))
    };
    let from = (0..all.len()).find(|at| pair(*at).is_some())?;
    let (mut told, mut at): (Vec<String>, usize) = (Vec::new(), from);
    while let Some((stitch, end)) = pair(at) {
        told.push(format!("{stitch} around each {stitch}"));
        at = end;
        let next = at + all.get(at..)?.iter().take_while(|word| matches!(**word, "," | "and")).count();
        if pair(next).is_none() {
            break;
        }
        at = next;
    }
    let far = match (word(at), word(at + 1)) {
        ("around" | "across", _) => 1,
        ("to", "end") => 2,
        _ => 0,
    };
    let closed = matches!(word(at + far), "" | "." | "," | ";" | "(" | "[" | "{" | "–" | "-" | "=");
    (told.len() > 1 && closed).then(|| {
        let before = all.get(..from).unwrap_or_default().join(" ");
        (before, format!("{} around", told.join(" and ")), all.get(at + far..).unwrap_or_default().join(" "))
    })
}

/// `Sc next 2 sts together`, `2tog`, `sc decrease`, `sc twice in next st`, `(sc + inc) x 6`, `+ sc, inc; rep from +`: the same in the usual words.
pub(super) fn in_usual_words(words: &str, plain: &str) -> Option<String> {
    let told = starred(words);
    let all: Vec<&str> = told.split(' ').collect();
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let stitch = |at: usize| word(at).starts_with('~') && word(at) != "~sl_st" && !word(at).ends_with("tog");
    let (mut out, mut at, mut depth): (Vec<String>, usize, u32) = (Vec::with_capacity(all.len()), 0, 0);
    while at < all.len() {
        let before = at.checked_sub(1).map_or("", word);
        depth = match word(at) {
            "(" | "[" | "{" => depth + 1,
            ")" | "]" | "}" => depth.saturating_sub(1),
            _ => depth,
        };
        let from = at + usize::from(stitch(at));
        let next = from + usize::from(word(from) == "next");
        let behind = next + 1 + usize::from(word(next + 1) == "st");
        let few = matches!(word(next), "2" | "3");
        let named = stitch(at) || matches!(before, "," | "(" | "[" | "*" | "{" | "work");
        // A number before it is how often; `sc 2 tog` is the trade's.
        if few && word(behind) == "tog" && named && !(stitch(at) && is_amount(before)) {
            if before == "work" {
                out.pop();
            }
            let stitch = if stitch(at) { word(at).to_owned() } else { format!("~{plain}") };
            out.push(format!("{stitch}{}tog", word(next)));
            at = behind + 1;
        } else if stitch(at) && word(at + 1) == "~dec" && word(at) == format!("~{plain}") && !is_amount(before) {
            at += 1;
        } else if stitch(at)
            && word(at + 1) == "twice"
            && word(at + 2) == "in"
            && matches!(word(at + 3), "next" | "each")
        {
            out.extend(["2".to_owned(), word(at).to_owned()]);
            at += 2;
        } else if matches!(word(at), "+" | "/")
            && depth > 0
            && (stitch(at + 1) || is_amount(word(at + 1)) && stitch(at + 2))
            && steps_in(&all, at)
        {
            out.push(",".to_owned());
            at += 1;
        } else {
            out.push(word(at).to_owned());
            at += 1;
        }
    }
    let told = out.join(" ");
    (told != words).then_some(told)
}

/// `+ sc, inc; rep from +`: a star in place of the sign that repeats begin with.
fn starred(words: &str) -> String {
    let sign = ["+", "†", "‡", "^"].iter().find(|sign| words.contains(&format!("rep from {sign}")));
    sign.map_or_else(
        || words.to_owned(),
        |sign| words.split(' ').map(|word| if word == *sign { "*" } else { word }).collect::<Vec<_>>().join(" "),
    )
}

/// Whether the bracket around a sign holds steps that are repeated.
fn steps_in(all: &[&str], at: usize) -> bool {
    let close = (at..all.len()).find(|at| matches!(all.get(*at), Some(&(")" | "]" | "}"))));
    let next = close.and_then(|close| all.get(close + 1)).copied().unwrap_or_default();
    matches!(next, "×" | "*" | "times" | "around" | "rep" | "to" | "across" | "twice") || is_amount(next)
}

/// `Work (sc, inc) 6 times`: the brackets alone.
pub(super) fn worked_repeat(words: &str) -> Option<String> {
    let at = words.find("work ( ").or_else(|| words.find("work [ "))?;
    let (before, rest) = (words.get(..at)?, words.get(at + "work ".len()..)?);
    let close = rest.find([')', ']'])?;
    let inside = rest.get(2..close).filter(|inside| !inside.contains(['(', '[']))?;
    let behind = rest.get(close + 1..)?.trim_start();
    let next = behind.split(' ').next().unwrap_or_default();
    let repeats = matches!(next, "×" | "around" | "to" | "across" | "twice") || is_amount(next);
    (repeats && inside.contains('~')).then(|| format!("{before}{rest}"))
}

/// `Sc in each st around, decreasing 4 sts evenly`, which comes here as `~sc in each st around , shaping ~dec 4 ,`: so many, spread among them.
pub(super) fn shaped_evenly(words: &str) -> Option<String> {
    let (before, rest) = words.split_once(" , shaping ")?;
    let (shape, rest) = rest.split_once(' ')?;
    let (number, rest) = rest.split_once(" ,")?;
    let (lead, work) = before.rsplit_once(" , ").map_or(("", before), |(lead, work)| (lead, work));
    let stitch = work.split(' ').find(|word| word.starts_with('~'))?;
    let plain =
        ["in each st", "in each st around", "around", "across", "to end", "in each st across", "in each st to end"];
    let all = work.trim_start_matches("1 ").strip_prefix(stitch).is_some_and(|rest| plain.contains(&rest.trim()));
    let lead = if lead.is_empty() { String::new() } else { format!("{lead} , ") };
    (all && is_amount(number)).then(|| format!("{lead}{number} {shape} evenly among {stitch} around ,{rest}"))
}

/// `Sc in each dc along the side, (sc, ch 2, sc) in corner`: the side ends at the corner.
pub(super) fn side_to_corner(words: &str) -> Option<String> {
    let (mut told, mut rest, mut any) = (String::new(), words, false);
    let signs = [
        " along side , ",
        " across side , ",
        " down side , ",
        " up side , ",
        " along edge , ",
        " along side to corner , ",
    ];
    while let Some((at, sign)) = signs.iter().filter_map(|sign| Some((rest.find(sign)?, *sign))).min() {
        let (before, behind) = (rest.get(..at)?, rest.get(at + sign.len()..)?);
        let group = behind.split([';', '*', ']']).next().unwrap_or_default();
        let corner = group.find(" in corner").or_else(|| group.find(" in next corner"));
        let first = corner.is_some_and(|at| !group.get(..at).is_some_and(|before| before.contains(" in ")));
        told.push_str(before);
        told.push_str(if first { " to next corner , " } else { sign });
        any |= first;
        rest = behind;
    }
    any.then(|| told + rest)
}

/// `1 cluster in each st with 2 ch after each one`: the chain stands behind each of them.
pub(super) fn chain_after_each(words: &str) -> Option<String> {
    let (before, rest) = words.split_once(" in each ")?;
    let (place, rest) = [" with ch ", " with ", " and ch "].iter().find_map(|link| rest.split_once(link))?;
    let number = rest.split(' ').next().filter(|number| is_amount(number))?;
    let rest = rest.get(number.len()..)?.trim_start();
    let rest = rest.strip_prefix("ch ").unwrap_or(rest);
    let behind = [
        "after each one",
        "after each",
        "behind each",
        "between each one",
        "between each",
        "between them",
        "in between",
    ]
    .iter()
    .find_map(|said| rest.strip_prefix(said))?;
    let stitch = before.rsplit(" , ").next()?;
    let lead = before.get(..before.len() - stitch.len())?;
    let plain = stitch.trim_start_matches("1 ").starts_with('~') && stitch.split(' ').count() < 3;
    let place = place.trim_end_matches(" around").trim_end_matches(" to end");
    let told = if place == "st" { String::new() } else { format!(" in next {place}") };
    plain.then(|| {
        let behind = behind.strip_prefix(" st").or_else(|| behind.strip_prefix(" around")).unwrap_or(behind);
        format!("{lead}[ {}{told} , ch {number} ] around{behind}", stitch.trim_start_matches("1 "))
    })
}

/// `Skip all sts of the sleeve, dc in next ch-1 sp`: all of them up to that space.
pub(super) fn skipped_to_place(words: &str) -> Option<String> {
    let (before, rest) = ["skip all st of ", "skip st of ", "skip each st of ", "skip all of "]
        .iter()
        .find_map(|skips| words.split_once(skips))?;
    let (part, behind) = rest.split_once(" , ").filter(|(part, _)| part.split(' ').count() < 3)?;
    let name = part.split(' ').next_back().filter(|name| name.chars().all(char::is_alphabetic))?;
    let place =
        behind.split(" in next ").nth(1).filter(|_| behind.starts_with(|c: char| c == '~' || c.is_ascii_digit()))?;
    let sp: Vec<&str> = place.split(' ').take(2).collect();
    let first = !behind.split(" in next ").next()?.contains(" , ");
    let told = match sp.as_slice() {
        [space, "sp"] if space.starts_with("ch-") && first => {
            let next = skipped_to_place(behind).unwrap_or_else(|| behind.to_owned());
            format!("{before}skip all {name} st to next {space} sp , {next}")
        }
        _ => return None,
    };
    Some(told)
}

#[cfg(test)]
mod tests {
    use super::{for_all_sizes, over_stitches, times_behind, totalled};

    #[test]
    fn totals_in_sentences_stand_in_brackets() {
        for (text, told) in [
            ("Sc around. That makes 24.", "Sc around (24)."),
            ("Sc around. Still 30!", "Sc around (30)."),
            ("Inc around. You should have 12 sts. Don't join.", "Inc around (12 sts). Don't join."),
            ("As round 2. At the end of the last round you have 120 htr", "As round 2 (120 htr in the last round)."),
            ("Sc around. You’ll have 18 sts.", "Sc around (18 sts)."),
            ("As row 3. At the end of row 12 there are 25 stitches.", "As row 3 (25 stitches in the last round)."),
            ("Sc around. That leaves us with 20 sts.", "Sc around (20 sts)."),
        ] {
            assert_eq!(totalled(text).as_deref(), Some(told), "{text}");
        }
        for text in ["Sc around (12). You have 12 sts.", "Sc around. You have 3 more rounds to go.", "You have 12 sts."]
        {
            assert_eq!(totalled(text), None, "{text}");
        }
    }

    #[test]
    fn a_repeat_may_be_said_behind_its_steps() {
        let told = times_behind("ch 1 , ~sc , 2 ~sc in next st , 6 times in all – 18 st");
        assert_eq!(told.as_deref(), Some("ch 1 , [ ~sc , 2 ~sc in next st ] 6 times – 18 st"));
        assert_eq!(times_behind("( ~sc , ~inc ) 6 times ( 18 )"), None);
        assert_eq!(times_behind("~sc in next 3 st , 2 times"), None);
    }

    #[test]
    fn a_stitch_over_another_goes_into_it() {
        assert_eq!(over_stitches("~tr over ~dc , ch 3").as_deref(), Some("~tr in next ~dc , ch 3"));
        assert_eq!(over_stitches("~dc over each ~dc").as_deref(), Some("~dc in each ~dc"));
        assert_eq!(over_stitches("~sl_st over ~dc"), None);
    }

    #[test]
    fn what_is_for_all_sizes_needs_no_brackets() {
        assert_eq!(for_all_sizes("Chain 11 (both sizes).").as_deref(), Some("Chain 11."));
        assert_eq!(for_all_sizes("All sizes:"), None);
    }
}
