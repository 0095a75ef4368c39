//! Small forms of English that messages and pages share: plurals, lists, ordinals.

use std::fmt::Display;

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

#[cfg(test)]
mod tests {
    use super::{count, list, ordinal, thousands};

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
}
