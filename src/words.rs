//! Small forms of English that messages and pages share: plurals, lists, ordinals.

use std::borrow::Cow;
use std::fmt::Display;

/// What is worn on two hands or two feet, each in the singular (common practice, no source).
pub const WORN_IN_PAIRS: &[&str] = &[
    "boot",
    "bootee",
    "bootie",
    "glove",
    "legwarmer",
    "mitt",
    "mitten",
    "muffatee",
    "shoe",
    "slipper",
    "sock",
    "stocking",
    "wristlet",
];

/// "1 stitch", "2 stitches": a number with the right plural.
#[must_use]
pub fn count(number: impl Display, noun: &str) -> String {
    let number = number.to_string();
    if number == "1" { format!("1 {noun}") } else { format!("{number} {}", plural(noun)) }
}

/// The plural of a noun of the trade.
#[must_use]
pub fn plural(noun: &str) -> String {
    match noun {
        "stitch" => "stitches".to_owned(),
        "foot" => "feet".to_owned(),
        _ if noun.ends_with('s') || noun.ends_with("ch") => format!("{noun}es"),
        _ => format!("{noun}s"),
    }
}

/// "a", "a and b", "a, b and c".
#[must_use]
pub fn list<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// Words as a sentence: with a capital at the beginning and a full stop.
#[must_use]
pub fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().map(|first| first.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}

/// "an sc", "a dc", "a ch-3 sp": a word of the notation with its article, as it is spelled out loud.
#[must_use]
pub fn with_article(word: &str) -> String {
    let mut letters = word.chars().map(|c| c.to_ascii_lowercase());
    let (first, second) = (letters.next().unwrap_or(' '), letters.next().unwrap_or(' '));
    let vowel = |c: char| "aeiou".contains(c);
    // `st` and `shell` are read as words; `sc` and `hdc` letter by letter.
    let spelled = "fhlmnrsx".contains(first) && !vowel(second) && !matches!(second, 't' | 'h' | 'p' | 'l');
    let spelled = spelled || word.starts_with("fp");
    format!("{} {word}", if vowel(first) || spelled { "an" } else { "a" })
}

/// "1st", "2nd", "3rd", "4th".
#[must_use]
pub fn ordinal(number: u32) -> String {
    let ending = match (number % 100, number % 10) {
        (11..=13, _) => "th",
        (_, 1) => "st",
        (_, 2) => "nd",
        (_, 3) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}

/// A text with the line ends of today: a carriage return alone ends a line, as it did of old, and becomes
/// one. The text has as many bytes as before, so that every place stays what it is.
#[must_use]
pub fn with_line_feeds(text: &str) -> Cow<'_, str> {
    let alone = |(at, _): &(usize, &str)| !text.get(at + 1..).is_some_and(|rest| rest.starts_with('\n'));
    if !text.match_indices('\r').any(|found| alone(&found)) {
        return Cow::Borrowed(text);
    }
    let mut letters = text.chars().peekable();
    let mut out = String::with_capacity(text.len());
    while let Some(letter) = letters.next() {
        let ends = letter == '\r' && letters.peek() != Some(&'\n');
        out.push(if ends { '\n' } else { letter });
    }
    Cow::Owned(out)
}

/// "999", "1,000,000": a large number, easy to read.
#[must_use]
pub fn thousands(number: impl Display) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// Whether a text is a day of the calendar, written as `2026-03-01` (ISO 8601).
#[must_use]
pub fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    let number = |part: &str, digits: usize| {
        let right = part.len() == digits && part.chars().all(|c| c.is_ascii_digit());
        if right { part.parse::<u32>().ok() } else { None }
    };
    let (Some(year), Some(month), Some(day)) = (number(year, 4), number(month, 2), number(day, 2)) else {
        return false;
    };
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}

/// Text on one line: runs of white space become one space; what no page may hold is left out.
#[must_use]
pub fn clean(text: &str) -> String {
    text.split_whitespace().map(keep_printable).filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Control characters and Unicode's noncharacters are errors in HTML, so they go.
pub(crate) fn keep_printable(text: &str) -> String {
    let noncharacter = |c: char| matches!(c, '\u{FDD0}'..='\u{FDEF}') || u32::from(c) & 0xFFFE == 0xFFFE;
    text.chars().filter(|c| !c.is_control() && !noncharacter(*c)).collect()
}

#[cfg(test)]
mod tests {
    use super::{clean, count, is_date, list, ordinal, thousands, with_article, with_line_feeds};

    #[test]
    fn a_carriage_return_alone_ends_a_line() {
        assert_eq!(with_line_feeds("one\rtwo"), "one\ntwo");
        assert_eq!(with_line_feeds("one\r\ntwo\rthree\r\r\n"), "one\r\ntwo\nthree\n\r\n");
    }

    #[test]
    fn a_date_is_a_day_of_the_calendar() {
        for date in ["2026-03-01", "2024-02-29", "2000-02-29"] {
            assert!(is_date(date), "{date}");
        }
        for other in ["2026-3-1", "2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "1 March", "2026-03-01-1", ""]
        {
            assert!(!is_date(other), "{other}");
        }
    }

    #[test]
    fn articles_are_as_spoken() {
        let said: Vec<String> =
            ["sc", "hdc", "dc", "st", "shell", "fpdc", "ch-3 sp", "esc"].iter().map(|w| with_article(w)).collect();
        assert_eq!(said, ["an sc", "an hdc", "a dc", "a st", "a shell", "an fpdc", "a ch-3 sp", "an esc"]);
    }

    #[test]
    fn large_numbers_are_grouped() {
        let grouped: Vec<String> = [0, 999, 1000, 20_500, 1_000_000].into_iter().map(thousands).collect();
        assert_eq!(grouped, ["0", "999", "1,000", "20,500", "1,000,000"]);
    }

    #[test]
    fn plurals_and_lists_read_well() {
        assert_eq!(count(1, "stitch"), "1 stitch");
        assert_eq!(count(2, "stitch"), "2 stitches");
        assert_eq!(count(2, "size"), "2 sizes");
        assert_eq!(list(&["a", "b", "c"]), "a, b and c");
    }

    #[test]
    fn ordinals_end_as_spoken() {
        let spoken: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 112].into_iter().map(ordinal).collect();
        assert_eq!(spoken, ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "112th"]);
    }

    #[test]
    fn text_is_cleaned_of_what_no_page_may_hold() {
        assert_eq!(clean("a\u{0}b\u{7}\n c\u{FFFF}"), "ab c");
    }
}
