//! Labels and totals that are set with other signs than the usual ones: `R.1:`, `Rnds 5-6 |`, `>> 18`, `/18/`, each brought to one form
//! before a text is taken apart.

/// A line with the usual signs, where it has others.
pub(super) fn in_usual_form(line: &str) -> Option<String> {
    let labelled = usual_label(line);
    let total = usual_total(labelled.as_deref().unwrap_or(line));
    total.or(labelled)
}

/// A number, or two with a dash between them, that a text begins with, and what stands behind.
fn numbers(text: &str) -> Option<(&str, &str)> {
    const MOST: usize = 9;
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '-' | '–'))).unwrap_or(text.len());
    let (number, rest) = text.split_at_checked(end)?;
    let number = number.trim_end_matches(['-', '–']);
    let rest = text.get(number.len()..).unwrap_or(rest);
    let plain = number.len() <= MOST && number.starts_with(|c: char| c.is_ascii_digit());
    plain.then_some((number, rest))
}

fn usual_label(line: &str) -> Option<String> {
    let bare = line.trim_start();
    let before = line.get(..line.len() - bare.len())?;
    // `#5-6 sc around`.
    if let Some((number, rest)) =
        bare.strip_prefix('#').and_then(numbers).filter(|(number, _)| number.contains(['-', '–']))
    {
        return Some(format!("{before}R{number}: {}", rest.trim_start_matches([':', '.', ')', ' '])));
    }
    if let Some(told) = behind_name(bare) {
        return Some(format!("{before}{told}"));
    }
    if let Some(told) = by_ordinal(bare) {
        return Some(format!("{before}{told}"));
    }
    // `R.1:`, `R 5-6:`, `Rnd5-6:`, `Rnds 5-6 |`.
    let words = ["Rounds", "Round", "Rnds", "Rnd", "Rds", "Rd", "Rows", "Row", "R"];
    let lower = bare.to_lowercase();
    let word = words
        .iter()
        .find(|word| lower.starts_with(&word.to_lowercase()))
        .filter(|_| bare.is_ascii() || lower.len() == bare.len())?;
    let rest = bare.get(word.len()..)?;
    let behind = rest.trim_start_matches(['.', ' ', '#']);
    let (number, tail) = numbers(behind)?;
    let gap = rest.get(..rest.len() - behind.len())?;
    let sign = tail.trim_start().chars().next()?;
    let other_sign =
        matches!(sign, '|' | '>' | ';') && tail.trim_start().get(1..).is_some_and(|rest| rest.starts_with(' '));
    let short = *word == "R" && !gap.is_empty() && matches!(sign, ':' | '.' | ')' | '-' | '–');
    let close = *word != "R" && gap.is_empty() && number.contains(['-', '–']);
    if !(other_sign || short || close) {
        return None;
    }
    let tail = if other_sign { format!(":{}", tail.trim_start().get(1..)?) } else { tail.to_owned() };
    let room = if *word == "R" { "" } else { " " };
    Some(format!("{before}{}{room}{number}{tail}", bare.get(..word.len())?))
}

/// `Handle: Round 13: ch 1`: what a later row is for stands before it, and may stand in brackets behind its number.
fn behind_name(bare: &str) -> Option<String> {
    const MOST_WORDS: usize = 3;
    let (name, rest) = bare.split_once(": ")?;
    let plain = name.split(' ').count() <= MOST_WORDS && name.chars().all(|c| c.is_alphabetic() || c == ' ');
    let word = ["Rounds ", "Round ", "Rnds ", "Rnd ", "Rows ", "Row "].iter().find(|word| rest.starts_with(**word))?;
    let (number, tail) = numbers(rest.get(word.len()..)?)?;
    let work = tail.strip_prefix(": ")?;
    // A first row begins what is named.
    let later = number.split(['-', '–']).next()?.parse::<u32>().is_ok_and(|number| number > 1);
    (plain && later).then(|| format!("{word}{number} ({}): {work}", name.to_lowercase()))
}

/// `1st rnd - 6 sc in ring`, `5th to 6th rnds - sc around`: a dash as a colon.
fn by_ordinal(bare: &str) -> Option<String> {
    const FAR: usize = 26;
    let at = [" - ", " – ", " — "].iter().filter_map(|dash| bare.find(dash)).min().filter(|at| *at <= FAR)?;
    let (label, rest) = bare.split_at_checked(at)?;
    let words: Vec<&str> = label.split(' ').collect();
    let (last, ordinals) = words.split_last()?;
    let ordinal = |word: &&str| {
        let digits = word.trim_end_matches(char::is_alphabetic);
        !digits.is_empty() && digits.len() < word.len() && digits.chars().all(|c| c.is_ascii_digit())
            || matches!(*word, "to" | "and" | "&")
    };
    let named = ["rnd", "rnds", "round", "rounds", "row", "rows"].contains(&last.to_lowercase().as_str());
    let rest = rest.trim_start_matches([' ', '-', '–', '—']);
    (named && !ordinals.is_empty() && ordinals.iter().all(ordinal)).then(|| format!("{label}: {rest}"))
}

/// Whether words only count: `18`, `18 sts`.
fn counts(words: &str) -> bool {
    const MOST_WORDS: usize = 3;
    words.starts_with(|c: char| c.is_ascii_digit())
        && words.split(' ').count() <= MOST_WORDS
        && words.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-'))
        && !words
            .split(' ')
            .any(|word| matches!(word, "times" | "more" | "x" | "rows" | "rounds" | "rnds" | "in" | "next"))
}

fn usual_total(line: &str) -> Option<String> {
    const LEAST_WORDS: usize = 3;
    let bare = line.trim_end();
    let end = line.get(bare.len()..)?;
    let whole = |before: &str, total: &str| {
        let before = before.trim_end_matches([' ', ',']);
        (before.split(' ').count() >= LEAST_WORDS && counts(total)).then(|| format!("{before} ({total}){end}"))
    };
    // `(6st)` is no sixth one.
    for close in [')', ']'] {
        let number = bare.strip_suffix(close).and_then(|rest| rest.strip_suffix("st"));
        if let Some(rest) = number.filter(|rest| rest.ends_with(|c: char| c.is_ascii_digit())) {
            let digits = rest.trim_end_matches(|c: char| c.is_ascii_digit());
            if digits.ends_with(['(', '[', ' ']) {
                return Some(format!("{rest} sts{close}{end}"));
            }
        }
    }
    for sign in ['/', '|', '*', '~', '_'] {
        let inside = bare.strip_suffix(sign).and_then(|rest| rest.rsplit_once(sign));
        if let Some((before, total)) = inside.filter(|(before, _)| before.ends_with(' ')) {
            return whole(before, total.trim());
        }
    }
    let signs =
        [" >> ", " // ", " ==> ", " for a total of ", " giving you ", " giving ", " leaving you with ", " to give "];
    let (before, total) = signs.iter().find_map(|sign| bare.rsplit_once(sign))?;
    whole(before, total.trim_end_matches('.').trim())
}

#[cfg(test)]
mod tests {
    use super::in_usual_form;

    #[test]
    fn labels_have_many_signs() {
        for (line, usual) in [
            ("R.1: 6 sc", "R1: 6 sc"),
            ("R 5-6: sc around", "R5-6: sc around"),
            ("Rnd5-6: sc around", "Rnd 5-6: sc around"),
            ("Rnds 5-6 | sc around (24)", "Rnds 5-6: sc around (24)"),
            ("Round 1; 6 sc in ring", "Round 1: 6 sc in ring"),
            ("1st rnd - 6 sc in ring", "1st rnd: 6 sc in ring"),
            ("5th to 6th rnds – sc around", "5th to 6th rnds: sc around"),
            ("#5-6 sc around", "R5-6: sc around"),
            ("Handle: Round 13: Ch 1, sc around", "Round 13 (handle): Ch 1, sc around"),
        ] {
            assert_eq!(in_usual_form(line).as_deref(), Some(usual));
        }
        for line in ["Rnd 5: sc around", "R1: 6 sc", "Row 3 - sc across", "Rosehip red, 50 g", "Rnd 3 = 18"] {
            assert_eq!(in_usual_form(line), None, "{line}");
        }
    }

    #[test]
    fn totals_have_many_signs() {
        for (line, usual) in [
            ("Rnd 3: sc in each st >> 18", "Rnd 3: sc in each st (18)"),
            ("Rnd 3: sc in each st /18 sts/", "Rnd 3: sc in each st (18 sts)"),
            ("Rnd 3: sc in each st *18*", "Rnd 3: sc in each st (18)"),
            ("Rnd 3: sc around, for a total of 18 sts.", "Rnd 3: sc around (18 sts)"),
            ("Rnd 3: sc around (18st)", "Rnd 3: sc around (18 sts)"),
        ] {
            assert_eq!(in_usual_form(line).as_deref(), Some(usual));
        }
        for line in ["Rnd 3: *sc, inc* 6 times", "Rnd 3: *sc, inc*", "Rnd 3: sc in the 1st (18)", "One / two / three"] {
            assert_eq!(in_usual_form(line), None, "{line}");
        }
    }
}
