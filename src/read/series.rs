//! Lines that are counted: whatever stands before the numbers, `Stripe 1:`, `#2`, `On round three,`, what counts up from line to line and
//! has work behind it is a label, and is written as one.

/// Words that rows are called by beside `row` and `round`. Common practice, no source.
const CALLED: [&str; 15] = [
    "stripe", "circle", "step", "course", "layer", "line", "tier", "tour", "lap", "level", "pass", "ridge", "band",
    "ring", "count",
];
/// What may stand before such a word.
const BEFORE: [&str; 9] = ["on", "for", "in", "now", "then", "next", "work", "and", "the"];
/// What is worked.
const WORKED: [&str; 27] = [
    "sc", "dc", "hdc", "htr", "tr", "dtr", "inc", "dec", "ss", "sl", "ch", "chain", "chains", "ring", "mr", "crochet",
    "treble", "trebles", "double", "single", "repeat", "rep", "as", "decrease", "increase", "slip", "same",
];
/// A word before a place that is only spoken of.
const SPOKEN: [&str; 17] = [
    "repeat", "rep", "as", "of", "from", "in", "to", "and", "with", "work", "like", "than", "until", "after", "for",
    "on", "see",
];
const NUMBERS: [&str; 12] =
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// What a line begins with that may be counted.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Counted<'t> {
    /// What stands around the number, the same in all lines of a series.
    form: (String, &'static str),
    /// `Row`, `Rnd` or `R`.
    word: &'static str,
    from: u32,
    to: u32,
    rest: &'t str,
}

/// The series of a text, by the form of its labels.
#[derive(Debug, Default)]
pub(super) struct Series {
    forms: Vec<(String, &'static str)>,
}

impl Series {
    /// Finds what counts up in a text. A line that `is_label` knows is none of it.
    pub fn of<'t>(lines: impl Iterator<Item = &'t str>, is_label: impl Fn(&str) -> bool) -> Self {
        const LEAST: usize = 3;
        let mut found: Vec<((String, &'static str), u32, usize)> = Vec::new();
        for line in lines.map(str::trim).filter(|line| !is_label(line)) {
            let Some(counted) = counted(line).filter(|counted| works(counted.rest)) else { continue };
            match found.iter_mut().find(|(form, ..)| *form == counted.form) {
                Some((_, last, length)) if counted.from == *last + 1 => (*last, *length) = (counted.to, *length + 1),
                None if counted.from <= 2 => found.push((counted.form, counted.to, 1)),
                _ => {}
            }
        }
        Self { forms: found.into_iter().filter(|(.., length)| *length >= LEAST).map(|(form, ..)| form).collect() }
    }

    /// A line with its label as it is known, where it is one of a series.
    pub fn told(&self, line: &str) -> Option<String> {
        let bare = line.trim();
        let counted = counted(bare).filter(|counted| self.forms.contains(&counted.form) && works(counted.rest))?;
        let indent = line.get(..line.len() - line.trim_start().len())?;
        Some(format!("{indent}{}", counted.told()))
    }
}

impl Counted<'_> {
    fn told(&self) -> String {
        let to = if self.to > self.from { format!("-{}", self.to) } else { String::new() };
        let space = if self.word == "R" { "" } else { " " };
        let rest = total_apart(self.rest, self.form.1);
        format!("{}{space}{}{to}: {rest}", self.word, self.from)
    }
}

/// `6 sc in ring | 6`, behind `R1 |`: the same sign stands before the total.
fn total_apart(rest: &str, sign: &str) -> String {
    let parted = (sign.len() > 1 || matches!(sign, "|" | "/" | "→")).then(|| rest.trim_end_matches(['.', ' ', '|']));
    let found = parted.and_then(|rest| rest.rsplit_once(sign));
    match found.map(|(work, total)| (work.trim_end_matches(['.', ' ']), total.trim())) {
        Some((work, total)) if total.starts_with(|c: char| c.is_ascii_digit()) && total.split(' ').count() < 4 => {
            format!("{work} ({total})")
        }
        _ => rest.to_owned(),
    }
}

/// Where a paragraph goes on with the next of a series that it begins with: `R1 6 sc in ring (6) R2 2 sc in each st (12)`.
pub(super) fn starts(text: &str) -> Vec<usize> {
    let Some(first) = counted(text) else { return Vec::new() };
    let (mut all, mut last) = (Vec::new(), first.to);
    for (at, _) in text.match_indices(' ') {
        let before = text.get(..at).unwrap_or_default();
        let Some(next) = text.get(at + 1..).and_then(counted).filter(|next| next.form == first.form) else { continue };
        let ended = before.ends_with(['.', ')', ']', '}', '>', ';', '!']);
        let spoken = before.rsplit(' ').next().is_some_and(|word| SPOKEN.contains(&word.to_lowercase().as_str()));
        let named = !first.form.0.is_empty() && !spoken;
        if next.from == last + 1 && (named || ended && first.form.1 != " ") && works(next.rest) {
            all.push(at + 1);
            last = next.to;
        }
    }
    all
}

/// A part of such a paragraph with its label as it is known.
pub(super) fn part_told(part: &str) -> Option<String> {
    counted(part).filter(|counted| works(counted.rest)).map(|counted| counted.told())
}

fn works(rest: &str) -> bool {
    const FIRST_WORDS: usize = 14;
    let mut words = rest.split(|c: char| !c.is_ascii_alphabetic()).filter(|word| !word.is_empty()).take(FIRST_WORDS);
    words.any(|word| WORKED.contains(&word.to_lowercase().as_str()))
}

/// What a line begins with, if it is something counted.
fn counted(line: &str) -> Option<Counted<'_>> {
    let opened = line.trim_start_matches(['(', '[', '#', '<', '*', '•']).trim_start();
    let open = line.get(..line.len() - opened.len())?.trim();
    let (mut rest, mut words) = (opened, Vec::new());
    while rest.starts_with(char::is_alphabetic) && words.len() < 4 {
        let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
        let word = rest.get(..end)?.to_lowercase();
        if number_word(&word).is_some() {
            break;
        }
        rest = rest.get(end..)?.trim_start_matches(['.', '#', ' ']);
        words.push(word);
    }
    let (called, before) = match words.split_last() {
        Some((called, before)) => (called.as_str(), before),
        None => ("", [].as_slice()),
    };
    let word = match called {
        "row" | "rows" => "Row",
        "round" | "rounds" | "rnd" | "rnds" | "rd" | "rds" => "Rnd",
        "" | "r" => "R",
        called if CALLED.contains(&called.trim_end_matches('s')) => "R",
        _ => return None,
    };
    if !before.iter().all(|word| BEFORE.contains(&word.as_str())) {
        return None;
    }
    let (from, behind) = number(rest)?;
    let (to, behind) = range(behind).filter(|(to, _)| *to > from).unwrap_or((from, behind));
    let (sign, rest) = sign(behind.strip_prefix(['o', 'º', 'ª', '°']).unwrap_or(behind))?;
    // A bare number counts something else.
    if words.is_empty() && open.is_empty() && matches!(sign, " " | "," | "=") {
        return None;
    }
    let form = (format!("{open}{}", words.join(" ").trim_end_matches('s')), sign);
    Some(Counted { form, word, from, to, rest })
}

fn number_word(word: &str) -> Option<u32> {
    NUMBERS.iter().position(|number| *number == word).and_then(|at| u32::try_from(at + 1).ok())
}

fn number(rest: &str) -> Option<(u32, &str)> {
    const MOST_DIGITS: usize = 3;
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    if (1..=MOST_DIGITS).contains(&end) {
        return Some((rest.get(..end)?.parse().ok()?, rest.get(end..)?));
    }
    let end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    Some((number_word(&rest.get(..end)?.to_lowercase())?, rest.get(end..)?))
}

/// `-8`, ` to 8`: to which number it goes.
fn range(behind: &str) -> Option<(u32, &str)> {
    let link =
        [" to ", " thru ", " through ", " – ", " - ", "–", "-"].iter().find_map(|link| behind.strip_prefix(*link))?;
    let end = link.find(|c: char| !c.is_ascii_digit()).unwrap_or(link.len());
    let behind = link.get(end..)?;
    // `3 – 18 sc`: work with a number.
    let signed = behind.is_empty() || behind.starts_with([':', '.', ')', ']', '>', ',', '|', '=', '/']);
    Some((link.get(..end)?.parse().ok()?, behind))
        .filter(|_| signed || behind.starts_with(" –") || behind.starts_with(" -"))
}

/// What parts a label from its work.
fn sign(behind: &str) -> Option<(&'static str, &str)> {
    const SIGNS: [&str; 15] = [" as follows:", ">>", "...", "…", "→", ":", ".", "|", "/", "=", ",", "–", "—", "-", " "];
    let close = behind.strip_prefix([')', ']', '>']).filter(|_| !behind.starts_with(">>"));
    if let Some(behind) = close {
        return Some((")", behind.trim_start_matches([' ', ':', '.', '–', '-', '—'])));
    }
    let trimmed = behind.trim_start();
    let sign = SIGNS
        .into_iter()
        .find(|sign| if sign.starts_with(' ') { behind.starts_with(*sign) } else { trimmed.starts_with(*sign) })?;
    let from = if sign.starts_with(' ') { behind } else { trimmed };
    let rest = from.get(sign.len()..)?.trim_start_matches(['.', ' ', '-', '>']);
    (!rest.is_empty()).then_some((sign, rest))
}

#[cfg(test)]
mod tests {
    use super::{Series, starts};

    fn told(lines: &[&str]) -> Vec<String> {
        let series = Series::of(lines.iter().copied(), |_| false);
        lines.iter().filter_map(|line| series.told(line)).collect()
    }

    #[test]
    fn what_counts_up_is_a_label() {
        let all = ["Stripe 1: 9 dc", "Stripe 2: dc around", "Stripes 3-5: dc around"];
        assert_eq!(told(&all), ["R1: 9 dc", "R2: dc around", "R3-5: dc around"]);
        let all = ["On round one, 6 sc in a ring.", "On round two, inc around.", "On round three, sc around."];
        assert_eq!(told(&all), ["Rnd 1: 6 sc in a ring.", "Rnd 2: inc around.", "Rnd 3: sc around."]);
        let all = ["R1 | 6 sc in ring | 6", "R2 | inc around | 12", "R3 | sc around | 12"];
        assert_eq!(told(&all), ["R1: 6 sc in ring (6)", "R2: inc around (12)", "R3: sc around (12)"]);
    }

    #[test]
    fn what_does_not_count_up_or_works_nothing_is_none() {
        assert!(told(&["Leg 1: 6 sc", "Leg 2: 6 sc", "Leg 3: 6 sc"]).is_empty());
        assert!(told(&["#1 wash it", "#2 dry it", "#3 block it"]).is_empty());
        assert!(told(&["1 sc", "2 sc", "3 sc"]).is_empty());
        assert!(told(&["Step 1: 6 sc", "Step 5: sc", "Step 9: sc"]).is_empty());
    }

    #[test]
    fn a_paragraph_goes_on_with_the_next_number() {
        let text = "R1 6 sc in ring (6) R2 inc around (12) R3 as R2 (24)";
        assert_eq!(starts(text), [20, 39]);
        assert!(starts("Rnd 1: 6 sc, then work as Rnd 2: sc around").is_empty());
    }
}
