//! What is left out in a line because what stands before it says it: the word for a repeat, and the stitch of a further step.

use super::lexicon::is_amount;

/// Stitches that a whole row may be worked in, by their names in both countries.
const PLAIN: [&str; 6] = ["sc", "hdc", "dc", "htr", "tr", "dtr"];

/// `1 sc, inc, around`: how far all that stands before it goes is a part of its own behind it, and nothing says that it is repeated.
pub(super) fn repeat_said(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let at = all
        .iter()
        .enumerate()
        .position(|(at, word)| matches!(*word, "," | ";") && extent(all.get(at + 1..)).is_some())?;
    let (steps, behind) = (all.get(..at)?, all.get(at + 1..)?);
    let length = extent(Some(behind))?;
    let closes = behind.get(length).is_none_or(|next| closes(next));
    let plain = !steps.iter().any(|word| {
        matches!(
            *word,
            "(" | "["
                | "{"
                | "*"
                | "**"
                | "rep"
                | "."
                | "join"
                | "first"
                | "last"
                | "around"
                | "across"
                | "end"
                | "each"
        )
    });
    let stitches =
        steps.split(|word| *word == ",").filter(|step| step.iter().any(|word| word.starts_with('~'))).count();
    (closes && plain && stitches > 1).then(|| format!("{} , rep {}", steps.join(" "), behind.join(" ")))
}

/// How many words say how far something goes.
fn extent(words: Option<&[&str]>) -> Option<usize> {
    match words? {
        ["around" | "across", ..] => Some(1),
        ["to", "end", ..] => Some(2),
        _ => None,
    }
}

pub(super) fn closes(word: &str) -> bool {
    matches!(word, "." | "," | ";" | "(" | "[" | "{" | "<" | "–" | "—" | "-" | "=" | ":")
}

/// `One dc in the next st, two in the next, one in each of the next 8 sts`: the stitch is that of the step before, else the one of the row
/// below.
pub(super) fn stitch_said(words: &str, below: Option<&str>) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let below = below.map(|below| format!("~{below}"));
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let nth = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_digit()) && ["st", "nd", "rd", "th"].iter().any(|end| word.ends_with(end))
    };
    let (mut told, mut any): (Vec<&str>, bool) = (Vec::with_capacity(all.len()), false);
    let mut at = 0;
    while at < all.len() {
        let before = at.checked_sub(1).map_or(",", word);
        told.push(word(at));
        at += 1;
        // `two in the third,`: the next one.
        if word(at - 1) == "in"
            && nth(word(at))
            && matches!(word(at + 1), "," | "." | ";" | ")" | "]")
            && told.iter().any(|word| word.starts_with('~'))
        {
            told.extend(["next", "st"]);
            at += 1;
            any = true;
            continue;
        }
        let begins = matches!(before, "," | ";" | "and" | "then" | "*" | "work" | "working");
        let place = word(at) == "in"
            && (matches!(word(at + 1), "next" | "each" | "last" | "same" | "first")
                || nth(word(at + 1)) && matches!(word(at + 2), "," | "." | ";"))
            && word(at + 2) != "rowend";
        let one = word(at - 1) == "one";
        if !((one || is_amount(word(at - 1))) && begins && place) {
            continue;
        }
        if one {
            told.pop();
            told.push("1");
        }
        // Several stitches of one line may each be meant.
        let stitch = told.iter().rfind(|word| word.starts_with('~') || **word == "ch").copied().or(below.as_deref());
        let stitch =
            stitch.filter(|stitch| stitch.starts_with('~') && !matches!(*stitch, "~sl_st" | "~inc" | "~dec"))?;
        told.push(stitch);
        any = true;
        // `one in each of two,`
        if word(at + 1) == "each"
            && word(at + 2) == "of"
            && is_amount(word(at + 3))
            && matches!(word(at + 4), "," | ";" | ".")
        {
            told.extend(["in", "next", word(at + 3), "st"]);
            at += 4;
        }
    }
    any.then(|| told.join(" "))
}

/// `2 dc in 4th ch from hook. The skipped 3 ch count as a dc.`: what the chain counts as, in a sentence of its own behind it.
pub(super) fn chain_told(words: &str) -> Option<String> {
    const MOST_WORDS: usize = 12;
    let all: Vec<&str> = words.split(' ').collect();
    let stop = all.iter().enumerate().position(|(at, word)| *word == "." && counts_chain(all.get(at + 1..)))?;
    let length =
        all.get(stop + 1..)?.iter().position(|word| matches!(*word, "." | "(" | "[")).unwrap_or(all.len() - stop - 1);
    let (before, said, behind) =
        (all.get(..stop)?, all.get(stop + 1..stop + 1 + length)?, all.get(stop + 1 + length..)?);
    let step = before.rsplit(|word| *word == ",").next()?;
    let along = step.ends_with(&["ch", "from", "hook"]);
    let chain = matches!(step, ["ch", number] | ["turn", "ch", number] if is_amount(number));
    (length <= MOST_WORDS && (along || chain))
        .then(|| format!("{} ( {} ) {}", before.join(" "), said.join(" "), behind.join(" ")).trim_end().to_owned())
}

/// Whether a sentence says what a chain counts as.
fn counts_chain(words: Option<&[&str]>) -> bool {
    let Some(words) = words else { return false };
    let first = words
        .first()
        .is_some_and(|first| matches!(*first, "skipped" | "first" | "unworked" | "this" | "these" | "beg" | "turning"));
    let sentence = words.split(|word| *word == ".").next().unwrap_or_default();
    let counts = sentence.iter().any(|word| matches!(*word, "counts" | "count"));
    first && counts && sentence.iter().take(3).any(|word| matches!(*word, "ch" | "counts" | "does"))
}

/// `Sc in back loop only. (48)`: a row in which one stitch is all that is said goes on with it to the end.
pub(super) fn around_said(words: &str) -> Option<String> {
    let (steps, total) = match words.find(['(', '[', '{', '=', '–', '—']) {
        Some(at) => words.split_at(at),
        None => (words, ""),
    };
    let bare = steps.trim_end_matches([' ', '.', ',', ';']);
    let parts: Vec<&str> = bare.split([',', '.', ';', ':']).map(str::trim).filter(|part| !part.is_empty()).collect();
    let plain = |part: &str| {
        let stitch = part
            .strip_prefix("in back loop only ")
            .or_else(|| part.strip_prefix("in front loop only "))
            .or_else(|| part.strip_suffix(" in back loop only"))
            .or_else(|| part.strip_suffix(" in front loop only"))
            .unwrap_or(part);
        stitch.starts_with('~') && !stitch.contains(' ') && !matches!(stitch, "~sl_st" | "~inc" | "~dec" | "~picot")
    };
    let led = |part: &&str| *part == "turn" || part.strip_prefix("ch ").is_some_and(is_amount);
    let (last, before) = parts.split_last()?;
    let before: Vec<&str> = before.to_vec();
    (plain(last) && before.iter().all(led) && (!total.contains('~') || total.starts_with('(')))
        .then(|| format!("{bare} around {total}").trim_end().to_owned())
}

/// `in each st 2 dc`, `then in next sp 3 dc`: what is worked stands behind its place.
pub(super) fn place_first(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let part = |word: &str| matches!(word, "," | ";" | "." | "(" | "[" | "*" | ":" | "" | "then" | "and" | "work");
    let ends = |at: usize| match word(at) {
        "" | "." | ";" | "(" | "[" | ")" | "]" | "*" | "=" | "–" | "{" | "<" => true,
        "," => matches!(word(at + 1), "join" | "turn" | "~sl_st" | "rep" | "*" | "in" | "then" | "skip"),
        _ => false,
    };
    let (mut told, mut any, mut at): (Vec<&str>, bool, usize) = (Vec::with_capacity(all.len()), false, 0);
    while at < all.len() {
        let begins = word(at) == "in" && at.checked_sub(1).is_none_or(|before| part(word(before)));
        let behind = place_ends(all.get(at + 1..).unwrap_or_default()).filter(|_| begins).map(|length| at + 1 + length);
        let stitch = behind.map(|behind| behind + usize::from(matches!(word(behind), "work" | "make")));
        match (behind, stitch) {
            (Some(behind), Some(stitch))
                if is_amount(word(stitch)) && word(stitch + 1).starts_with('~') && ends(stitch + 2) =>
            {
                if told.last() == Some(&"then") && told.len() == 1 {
                    told.pop();
                }
                told.extend([word(stitch), word(stitch + 1)]);
                told.extend(all.get(at..behind).unwrap_or_default());
                (any, at) = (true, stitch + 2);
            }
            _ => {
                told.push(word(at));
                at += 1;
            }
        }
    }
    any.then(|| told.join(" "))
}

/// How many words name a place: `each st`, `next 2 ~dc`, `same ch-2 sp`.
fn place_ends(words: &[&str]) -> Option<usize> {
    let first = matches!(*words.first()?, "each" | "next" | "same" | "first" | "last");
    let rem = usize::from(words.get(1).is_some_and(|word| matches!(*word, "rem" | "of")));
    let noun =
        |word: &&&str| word.starts_with(['~']) || word.starts_with("ch-") || matches!(**word, "st" | "sp" | "ch");
    let nouns = words.iter().skip(1 + rem).take(2).take_while(noun).count();
    (first && nouns > 0).then_some(1 + rem + nouns)
}

/// `Ch 1, sc around, ss. (68)`: the slip stitch behind a round that begins with a chain closes it.
pub(super) fn join_said(words: &str) -> Option<String> {
    if !words.starts_with("ch ") {
        return None;
    }
    let at = [" , ~sl_st", " . ~sl_st", " ; ~sl_st"].iter().filter_map(|sign| words.rfind(sign)).max()?;
    let (before, behind) = words.split_at_checked(at)?;
    let behind = behind.get(" , ~sl_st".len()..)?.trim_start();
    let closes =
        behind.is_empty() || behind.starts_with(['.', '(', '[', '{', '–', '=', '<']) || behind.starts_with(", turn");
    closes.then(|| format!("{before} , join with ~sl_st {behind}").trim_end().to_owned())
}

/// `With RS facing, join B in any sp`: which side is seen is said of the round, and worked by no stitch.
pub(super) fn without_facing(words: &str) -> Option<String> {
    let rest = words.strip_prefix("with ").unwrap_or(words);
    let rest = rest.strip_prefix("rs facing").or_else(|| rest.strip_prefix("ws facing"))?;
    let rest = rest.strip_prefix(" you").unwrap_or(rest);
    Some(rest.strip_prefix(" ,").or_else(|| rest.strip_prefix(" :")).unwrap_or(rest).trim_start().to_owned())
}

/// `Sl st to corner sp, ch 3, (dc, ch 2, 2 dc) in corner sp`: the place is the one that the slip stitches lead to.
pub(super) fn slipped_there(words: &str) -> Option<String> {
    let rest = words.strip_prefix("~sl_st in ")?;
    let (place, rest) = rest.split_once(" , ch ")?;
    let bare = ["next ", "first ", "same "].iter().find_map(|which| place.strip_prefix(which)).unwrap_or(place);
    let named = bare == "corner sp" || bare == "corner" || bare.starts_with("ch-") && bare.ends_with(" sp");
    let (chains, work) = rest.split_once(" , ")?;
    let again = format!(" in {bare} ");
    let at = work.find(&again)?;
    let first = work.get(..at)?;
    // It is the first place that is named.
    let only = !first.contains(" in ") && !first.contains(['*', '[']) && !first.contains(" ) ,");
    (named && only && !chains.contains(" ~")).then(|| {
        format!(
            "~sl_st in next {bare} , ch {chains} , {first} in same sp {}",
            work.get(at + again.len()..).unwrap_or_default()
        )
    })
}

/// `Ch 40 , join with sl st to form ring ( don't twist )`: a chain that is joined, without what is told besides.
pub(super) fn start_said(words: &str) -> Option<String> {
    let bare = words.trim_end_matches([' ', '.']);
    // Brackets in which nothing is worked.
    let (before, inside) = bare.strip_suffix(" )").and_then(|bare| bare.rsplit_once(" ( "))?;
    // `work 37 ~fsc . ( 37 ~fsc )`: a total that only says the number again.
    let number = |words: &str| words.split(' ').find(|word| is_amount(word)).map(str::to_owned);
    let total = inside.split(' ').count() < 3
        && inside.split(' ').next().is_some_and(is_amount)
        && number(inside) == number(before)
        && !before.contains("in ring");
    if total && (before.contains("~f") || before.starts_with("ch ")) {
        return Some(before.trim_end_matches([' ', '.', ',']).to_owned());
    }
    let idle = !inside.contains(['~', '*', '[', '%'])
        && !inside.split(' ').any(|word| is_amount(word) || matches!(word, "ch" | "join" | "turn" | "counts"));
    (before.starts_with("ch ") && idle).then(|| before.trim_end_matches([' ', '.', ',']).to_owned())
}

/// `Rnd 9: ss.`: whether it is one of them, or one in each stitch, isn't said.
pub(super) fn slips_alone(words: &str) -> bool {
    words.split(" ( ").next().unwrap_or_default().trim_end_matches([' ', '.']) == "~sl_st"
}

/// `Sc in 2nd ch and in each ch` along the chain that a piece begins with: the chains are counted from the hook.
pub(super) fn from_the_hook(words: &str) -> Option<String> {
    const FIRST_WORDS: usize = 6;
    let all: Vec<&str> = words.split(' ').collect();
    let at = all
        .windows(2)
        .take(FIRST_WORDS)
        .position(|two| matches!(two, ["in", "2nd" | "3rd" | "4th" | "5th" | "6th"]))?;
    let plain = all.get(..at)?.iter().all(|word| {
        word.starts_with('~') || is_amount(word) || matches!(*word, "begin" | "beg" | "starting" | "start" | "work")
    });
    let chain = all.get(at + 2) == Some(&"ch") && !matches!(all.get(at + 3), Some(&("from" | "of")));
    (plain && chain).then(|| {
        let begins = all
            .get(..at)
            .unwrap_or_default()
            .iter()
            .map(|word| if matches!(*word, "beg" | "starting" | "start") { "begin" } else { word });
        let begins: Vec<&str> = begins.collect();
        format!(
            "{} in {} ch from hook {}",
            begins.join(" "),
            all.get(at + 1).copied().unwrap_or_default(),
            all.get(at + 3..).unwrap_or_default().join(" ")
        )
        .trim()
        .to_owned()
    })
}

/// The plain stitch of a row: `sc`, of `[sc 2, inc] to end`.
pub(super) fn plain_in(steps: &str) -> Option<&'static str> {
    let words = || steps.split(|c: char| !c.is_alphanumeric());
    let named = PLAIN.iter().find(|plain| words().any(|word| word == **plain));
    named.copied().or_else(|| words().any(|word| matches!(word, "inc" | "dec" | "invdec")).then_some("sc"))
}

/// The one plain stitch of a line beside its shapings.
pub(super) fn plain_of_line(words: &str) -> Option<&'static str> {
    let mut named =
        words.split(' ').filter_map(|word| PLAIN.iter().find(|plain| word.strip_prefix('~') == Some(plain)));
    let first = named.next()?;
    named.all(|other| other == first).then_some(*first)
}

/// `~inc` and `~dec` as what they are of another stitch than single crochet.
pub(super) fn shaped_in(words: &str, plain: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    if !all.iter().any(|word| matches!(*word, "~inc" | "~dec")) {
        return None;
    }
    let word = |at: usize| all.get(at).copied().unwrap_or_default();
    let (mut told, mut at): (Vec<String>, usize) = (Vec::new(), 0);
    while at < all.len() {
        match word(at) {
            "~dec" => told.push(format!("~{plain}2tog")),
            "~inc" => {
                let number = told.last().filter(|number| is_amount(number)).cloned();
                if number.is_some() {
                    told.pop();
                }
                let (times, taken) = match (number, word(at + 1), word(at + 2)) {
                    (Some(number), ..) => (Some(number), 0),
                    (None, "×", number) => (is_amount(number).then(|| number.to_owned()), 2),
                    (None, number, "times") if is_amount(number) => (Some(number.to_owned()), 2),
                    (None, number, _) if is_amount(number) => (Some(number.to_owned()), 1),
                    _ => (None, 0),
                };
                let behind = word(at + 1 + taken);
                told.push(match (times, behind) {
                    (Some(times), _) => format!("2 ~{plain} in each of next {times} st"),
                    (None, "in") => format!("2 ~{plain}"),
                    (None, "around" | "across" | "to") => format!("2 ~{plain} in each st"),
                    (None, _) => format!("2 ~{plain} in next st"),
                });
                at += taken;
            }
            other => told.push(other.to_owned()),
        }
        at += 1;
    }
    Some(told.join(" "))
}

/// `~inc in each 4th st`, `~dec over each 7th and 8th st`, in rows of one plain stitch.
pub(super) fn shaped_at_each(words: &str, plain: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let number = |word: &str| word.trim_end_matches(char::is_alphabetic).parse::<u32>().ok();
    let at = all.windows(3).position(|three| matches!(three, [shape, "in" | "over" | "at", "each"] if shape.ends_with("inc") || shape.ends_with("dec")))?;
    let shape = all.get(at)?;
    let begins = at == 0 || all.get(at - 1) == Some(&",") && all.first() == Some(&"ch");
    let (nth, last, behind) = match all.get(at + 3..)? {
        [nth, "and", next, "st", behind @ ..] => (number(nth)?, number(next)?, behind),
        ["other", "st", behind @ ..] => (2, 2, behind),
        [nth, "st", behind @ ..] if nth.ends_with("th") || nth.ends_with("nd") || nth.ends_with("rd") => {
            (number(nth)?, number(nth)?, behind)
        }
        _ => return None,
    };
    let takes = if shape.ends_with("dec") { 2 } else { 1 };
    let over = last.checked_sub(nth)?.checked_add(1)?;
    // A decrease in every fourth stitch may take it with the one before it, or with the one behind it.
    if !begins || over != takes || nth < 2 {
        return None;
    }
    let behind = behind.strip_prefix(&["around"]).or_else(|| behind.strip_prefix(&["to", "end"])).unwrap_or(behind);
    let before = all.get(..at)?.join(" ");
    Some(
        format!("{before} ( ~{plain} in next {} st , {shape} ) around {}", nth - 1, behind.join(" ")).trim().to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::{
        around_said, chain_told, from_the_hook, join_said, repeat_said, shaped_at_each, shaped_in, slipped_there,
        stitch_said,
    };

    #[test]
    fn what_a_chain_counts_as_may_be_said_behind_it() {
        assert_eq!(
            chain_told("2 ~dc in 4th ch from hook . skipped ch 3 counts as ~dc . turn .").as_deref(),
            Some("2 ~dc in 4th ch from hook ( skipped ch 3 counts as ~dc ) . turn .")
        );
        assert_eq!(chain_told("~dc in next st . this counts as ~dc"), None);
    }

    #[test]
    fn how_far_a_repeat_goes_may_stand_alone() {
        assert_eq!(repeat_said("1 ~sc , ~inc , around ( 18 )").as_deref(), Some("1 ~sc , ~inc , rep around ( 18 )"));
        assert_eq!(repeat_said("~sc , ~dec , to end").as_deref(), Some("~sc , ~dec , rep to end"));
        for words in [
            "~sc , around",
            "~sc in first st , ch 1 , ~sc , around",
            "( ~sc , ~inc ) , around",
            "~sc , ~inc , around ~dc",
        ] {
            assert_eq!(repeat_said(words), None, "{words}");
        }
    }

    #[test]
    fn a_further_step_may_leave_its_stitch_out() {
        assert_eq!(
            stitch_said("1 ~dc in next st , 2 in next , 1 in each of next 8 st", None).as_deref(),
            Some("1 ~dc in next st , 2 ~dc in next , 1 ~dc in each of next 8 st")
        );
        assert_eq!(
            stitch_said("1 in each of 2 , 2 in 3rd , rep around", Some("hdc")).as_deref(),
            Some("1 ~hdc in next 2 st , 2 ~hdc in next st , rep around")
        );
        assert_eq!(stitch_said("~dc in next st , ch 1 , 2 in next st", None), None);
        assert_eq!(stitch_said("2 in next st", None), None);
    }

    #[test]
    fn one_stitch_alone_goes_around() {
        assert_eq!(
            around_said("~sc in back loop only . ( 48 st )").as_deref(),
            Some("~sc in back loop only around ( 48 st )")
        );
        assert_eq!(around_said("ch 1 , ~sc").as_deref(), Some("ch 1 , ~sc around"));
        assert_eq!(around_said("~sc , ~inc ( 18 )"), None);
        assert_eq!(around_said("2 ~sc"), None);
        assert_eq!(around_said("~sl_st"), None);
    }

    #[test]
    fn a_slip_stitch_alone_closes_a_round() {
        assert_eq!(
            join_said("ch 1 , ~dc around , ~sl_st . ( 68 ~dc )").as_deref(),
            Some("ch 1 , ~dc around , join with ~sl_st . ( 68 ~dc )")
        );
        assert_eq!(join_said("~sc around , ~sl_st"), None);
    }

    #[test]
    fn shapings_at_every_so_many_stitches_stand_behind_plain_ones() {
        assert_eq!(
            shaped_at_each("~inc in each 4th st . ( 30 )", "sc").as_deref(),
            Some("( ~sc in next 3 st , ~inc ) around . ( 30 )")
        );
        assert_eq!(
            shaped_at_each("~dec over each 7th and 8th st", "sc").as_deref(),
            Some("( ~sc in next 6 st , ~dec ) around")
        );
        assert_eq!(shaped_at_each("~dec in each 4th st", "sc"), None);
    }

    #[test]
    fn shapings_are_of_the_stitch_of_the_row() {
        assert_eq!(
            shaped_in("[ 1 ~tr , ~inc ] 12 times", "tr").as_deref(),
            Some("[ 1 ~tr , 2 ~tr in next st ] 12 times")
        );
        assert_eq!(shaped_in("~inc 12 times ( 24 )", "tr").as_deref(), Some("2 ~tr in each of next 12 st ( 24 )"));
        assert_eq!(shaped_in("~dec around", "dc").as_deref(), Some("~dc2tog around"));
        assert_eq!(shaped_in("~dc around", "dc"), None);
    }

    #[test]
    fn a_place_is_the_one_that_slip_stitches_lead_to() {
        assert_eq!(
            slipped_there("~sl_st in next corner sp , ch 3 , ( ~dc , ch 2 , 2 ~dc ) in corner sp , ~dc around")
                .as_deref(),
            Some("~sl_st in next corner sp , ch 3 , ( ~dc , ch 2 , 2 ~dc ) in same sp , ~dc around")
        );
        assert_eq!(slipped_there("~sl_st in next ch-2 sp , ch 3 , ~dc in next ~dc , 2 ~dc in ch-2 sp ,"), None);
    }

    #[test]
    fn chains_of_the_first_row_are_counted_from_the_hook() {
        assert_eq!(
            from_the_hook("~sc in 2nd ch and across ( 5 )").as_deref(),
            Some("~sc in 2nd ch from hook and across ( 5 )")
        );
        assert_eq!(
            from_the_hook("starting in 2nd ch , ~sl_st 3").as_deref(),
            Some("begin in 2nd ch from hook , ~sl_st 3")
        );
        assert_eq!(from_the_hook("~sc in 2nd ch from hook"), None);
    }
}
