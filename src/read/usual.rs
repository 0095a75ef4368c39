//! Other words for what every row says: what its chain counts as, that it is turned, and how it is closed.

use super::lexicon::is_amount;

/// A line in the usual words, where it has others.
pub(super) fn told(words: &str, round: bool) -> Option<String> {
    let turned = turned(words);
    let led = uncounted(turned.as_deref().unwrap_or(words)).or(turned);
    let closed = if round { closed(led.as_deref().unwrap_or(words)) } else { None };
    closed.or(led)
}

/// `turn your work . ( 20 )`: nothing else is turned.
fn turned(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let mut told: Vec<&str> = Vec::with_capacity(all.len());
    for (at, word) in all.iter().enumerate() {
        let before = told.last().copied().unwrap_or_default();
        let ends =
            all.get(at + 1).is_none_or(|next| matches!(*next, "." | "," | ";" | "(" | "[" | "{" | "<" | "=" | "–"));
        let own = *word == "work" && (before == "turn" || before == "your") && ends;
        if own {
            if before == "your" && told.len() > 1 && told.get(told.len() - 2) == Some(&"turn") {
                told.pop();
            } else if before != "turn" {
                told.push(word);
            }
        } else {
            told.push(word);
        }
    }
    (told.len() < all.len()).then(|| told.join(" "))
}

/// `ch 2 , not counted , 12 dc`, `ch 2 – does not count as st – , 12 dc`: what stands between commas or dashes behind the chain that a line
/// begins with, as what stands in brackets.
fn uncounted(words: &str) -> Option<String> {
    const MOST_WORDS: usize = 9;
    let all: Vec<&str> = words.split(' ').collect();
    let from = usize::from(all.first() == Some(&"turn")) * 2;
    if all.get(from) != Some(&"ch") || !all.get(from + 1).is_some_and(|number| is_amount(number)) {
        return None;
    }
    let rest = all.get(from + 2..)?;
    let close = match *rest.first()? {
        "," => [",", ";", "."].as_slice(),
        "–" | "-" | "—" => ["–", "-", "—", ","].as_slice(),
        "(" => [")"].as_slice(),
        _ => return None,
    };
    let length = rest.get(1..)?.iter().take(MOST_WORDS).position(|word| close.contains(word))?;
    let inside = rest.get(1..=length)?;
    let has = |what: &[&str]| inside.iter().any(|word| what.contains(word));
    let says = has(&["not", "never", "won't", "isn't", "doesn't", "uncounted"])
        && (has(&["count", "counts", "counted"]) || has(&["st"]) && has(&["is", "isn't"]));
    let plain = |word: &&&str| word.chars().all(|c| c.is_alphabetic() || c == '\'');
    if !says || inside.iter().filter(plain).count() < inside.len() {
        return None;
    }
    let behind = rest.get(length + 2..)?.join(" ");
    let behind = behind.trim_start_matches([' ', ',']);
    let before = all.get(..from + 2)?.join(" ");
    Some(format!("{before} ( does not count ) , {behind}"))
}

/// `finish with ~sl_st in first st`, `end with 1 ~sl_st to top of first ~dc`, `close rnd .`: the round is joined.
fn closed(words: &str) -> Option<String> {
    const VERBS: [&str; 7] = ["finish", "end", "ending", "connect", "close", "closing", "complete"];
    let all: Vec<&str> = words.split(' ').collect();
    let (mut told, mut at, mut any): (Vec<&str>, usize, bool) = (Vec::with_capacity(all.len()), 0, false);
    while let Some(word) = all.get(at) {
        let begins =
            at > 0 && all.get(at - 1).is_some_and(|before| matches!(*before, "," | "." | ";" | "and" | "then"));
        if !begins || !VERBS.contains(word) {
            told.push(word);
            at += 1;
            continue;
        }
        let idle = ["rnd", "with", "by", "it", "off", "1", "this", "ring", "a"];
        let length = all.get(at + 1..)?.iter().take_while(|word| idle.contains(*word)).count();
        let next = all.get(at + 1 + length).copied().unwrap_or_default();
        let behind = all.get(at + 2 + length).copied().unwrap_or_default();
        let place = matches!(behind, "in" | "to" | "" | "." | "," | "(" | "[" | "=" | "–");
        let rnd = all.get(at + 1..at + 1 + length)?.contains(&"rnd");
        if next == "~sl_st" && place {
            told.extend(["join", "with", "~sl_st"]);
            (at, any) = (at + 2 + length, true);
        } else if rnd && matches!(next, "" | "." | "(" | "[" | "=" | "–") {
            told.push("join");
            (at, any) = (at + 1 + length, true);
        } else {
            told.push(word);
            at += 1;
        }
    }
    any.then(|| told.join(" "))
}

#[cfg(test)]
mod tests {
    use super::told;

    #[test]
    fn what_every_row_says_has_many_words() {
        for (words, usual) in [
            ("~sc in each st . turn your work . ( 20 )", "~sc in each st . turn . ( 20 )"),
            ("ch 2 , not counted , 12 ~dc in ring", "ch 2 ( does not count ) , 12 ~dc in ring"),
            ("ch 2 – does not count as st – , ~dc in each st", "ch 2 ( does not count ) , ~dc in each st"),
            ("~dc in each st , finish with a ~sl_st in first st", "~dc in each st , join with ~sl_st in first st"),
            ("~dc in each st , close rnd . ( 20 )", "~dc in each st , join . ( 20 )"),
        ] {
            assert_eq!(told(words, true).as_deref(), Some(usual), "{words}");
        }
        for words in [
            "ch 2 , skip next st , ~dc in next st",
            "ch 3 ( counts as dc ) , not in next st",
            "end with ~dc in last st",
        ] {
            assert_eq!(told(words, true), None, "{words}");
        }
    }
}
