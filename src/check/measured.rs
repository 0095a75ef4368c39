//! Finds measurements in free text: `48 cm`, `19 1/2 in`, `46 / 50 cm`, `7¾"`.

/// A unit of length or mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Unit {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Yard,
    Gram,
    Ounce,
}

impl Unit {
    /// The unit that a word or sign stands for.
    pub(super) fn read(word: &str) -> Option<Self> {
        Some(match word.to_lowercase().as_str() {
            "mm" => Self::Millimetre,
            "cm" => Self::Centimetre,
            "m" | "metres" | "meters" => Self::Metre,
            "in" | "ins" | "inch" | "inches" | "\"" | "″" | "”" => Self::Inch,
            "yd" | "yds" | "yard" | "yards" => Self::Yard,
            "g" | "grams" => Self::Gram,
            "oz" | "ounces" => Self::Ounce,
            _ => return None,
        })
    }

    /// One of it in centimetres or grams: NIST Special Publication 811, appendix B.
    pub(super) fn in_base(self) -> f64 {
        match self {
            Self::Millimetre => 0.1,
            Self::Centimetre | Self::Gram => 1.0,
            Self::Metre => 100.0,
            Self::Inch => 2.54,
            Self::Yard => 91.44,
            Self::Ounce => 28.349_523_125,
        }
    }

    pub(super) fn is_mass(self) -> bool {
        matches!(self, Self::Gram | Self::Ounce)
    }

    pub(super) fn short(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Yard => "yd",
            Self::Gram => "g",
            Self::Ounce => "oz",
        }
    }
}

/// A measurement in a text; several numbers are of several sizes, or the two ends of a range.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Measured {
    pub numbers: Vec<f64>,
    pub unit: Unit,
    /// Where it begins in the text, in bytes.
    pub start: usize,
    /// Where its unit ends.
    pub end: usize,
}

/// Every measurement of a text, in order.
pub(super) fn measured(text: &str) -> Vec<Measured> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = next_number(text, at) {
        match one(text, start) {
            Ok(measured) => {
                at = measured.end;
                found.push(measured);
            }
            Err(end) => at = end,
        }
    }
    found
}

/// Where the next number begins that is not the end of a word.
fn next_number(text: &str, from: usize) -> Option<usize> {
    let mut before = text.get(..from).and_then(|text| text.chars().next_back());
    for (at, c) in text.get(from..)?.char_indices() {
        let in_word = before.is_some_and(|c| c.is_alphanumeric() || c == '.' || c == '-');
        if !in_word && (c.is_ascii_digit() || fraction_sign(c).is_some()) {
            return Some(from + at);
        }
        before = Some(c);
    }
    None
}

/// A list of numbers and its unit; without a unit, where the list ends.
fn one(text: &str, start: usize) -> Result<Measured, usize> {
    let mut numbers = Vec::new();
    let mut at = start;
    while let Some((number, end)) = number(text, at) {
        numbers.push(number);
        at = end;
        let rest = text.get(at..).unwrap_or_default();
        match gap(rest).filter(|gap| number_begins(rest, *gap)) {
            Some(gap) => at += gap,
            None => break,
        }
    }
    let rest = text.get(at..).unwrap_or_default();
    let blank = rest.len() - rest.trim_start_matches(' ').len();
    let word = rest.get(blank..).unwrap_or_default();
    let length = match word.chars().next() {
        Some(c @ ('"' | '″' | '”')) => c.len_utf8(),
        _ => word.find(|c: char| !c.is_alphabetic()).unwrap_or(word.len()),
    };
    match Unit::read(word.get(..length).unwrap_or_default()) {
        Some(unit) => Ok(Measured { numbers, unit, start, end: at + blank + length }),
        None => Err(at.max(start + 1)),
    }
}

/// How long the sign is between two numbers of a list: `/`, `-` or `,`, with spaces.
fn gap(rest: &str) -> Option<usize> {
    let sign = rest.trim_start_matches(' ');
    let after = sign.strip_prefix(['/', '-', '–', ','])?.trim_start_matches(' ');
    Some(rest.len() - after.len())
}

fn number_begins(rest: &str, at: usize) -> bool {
    rest.get(at..)
        .and_then(|rest| rest.chars().next())
        .is_some_and(|c| c.is_ascii_digit() || fraction_sign(c).is_some())
}

/// A number with its fraction: `19`, `19.5`, `19 1/2`, `19½`, `¾`; and where it ends.
fn number(text: &str, start: usize) -> Option<(f64, usize)> {
    let rest = text.get(start..)?;
    if let Some((value, end)) = fraction(rest) {
        return Some((value, start + end));
    }
    let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    let written = rest.get(..digits)?.trim_end_matches('.');
    let whole: f64 = written.parse().ok()?;
    let end = start + written.len();
    let after = text.get(end..).unwrap_or_default();
    let blank = after.len() - after.trim_start_matches([' ', '-']).len();
    match fraction(after.get(blank..).unwrap_or_default()).filter(|_| blank <= 1 && !written.contains('.')) {
        Some((part, length)) => Some((whole + part, end + blank + length)),
        None => Some((whole, end)),
    }
}

/// `1/2` or `½`, and its length. Numbers of two sizes are no fraction: `46/50`.
fn fraction(text: &str) -> Option<(f64, usize)> {
    let first = text.chars().next()?;
    if let Some(value) = fraction_sign(first) {
        return Some((value, first.len_utf8()));
    }
    let (upper, rest) = text.split_at_checked(text.find(|c: char| !c.is_ascii_digit())?)?;
    let rest = rest.strip_prefix('/')?;
    let lower = rest.get(..rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len()))?;
    let (over, under): (u32, u32) = (upper.parse().ok()?, lower.parse().ok()?);
    let usual = matches!(under, 2 | 3 | 4 | 8 | 16) && over > 0 && over < under;
    usual.then(|| (f64::from(over) / f64::from(under), upper.len() + 1 + lower.len()))
}

fn fraction_sign(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{Unit, measured};

    fn read(text: &str) -> Vec<(Vec<f64>, Unit)> {
        measured(text).into_iter().map(|m| (m.numbers, m.unit)).collect()
    }

    #[test]
    fn numbers_and_fractions() {
        assert_eq!(read("48 cm (19 in)"), [(vec![48.0], Unit::Centimetre), (vec![19.0], Unit::Inch)]);
        assert_eq!(
            read("19 1/2 inches, 7¾\" and ½ in"),
            [(vec![19.5], Unit::Inch), (vec![7.75], Unit::Inch), (vec![0.5], Unit::Inch)]
        );
        assert_eq!(read("19.5cm."), [(vec![19.5], Unit::Centimetre)]);
        assert_eq!(read("4-1/2 in"), [(vec![4.5], Unit::Inch)]);
    }

    #[test]
    fn sizes_and_ranges() {
        assert_eq!(read("46/50 cm"), [(vec![46.0, 50.0], Unit::Centimetre)]);
        assert_eq!(read("18 / 19 1/2 in"), [(vec![18.0, 19.5], Unit::Inch)]);
        assert_eq!(read("48-52 cm"), [(vec![48.0, 52.0], Unit::Centimetre)]);
    }

    #[test]
    fn what_is_no_measurement() {
        assert!(read("6 sc in ring, rounds 8 and 9, ch-2 sp").is_empty());
        assert!(read("Yarn 4ply, 2 balls").is_empty());
        assert!(read("").is_empty());
    }
}
