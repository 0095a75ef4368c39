//! Words for the maker.

use super::Sized;

/// Words for the maker, in Markdown, with numbers in them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MakerWords {
    /// The words. [`MakerWords::stand_in`] stands where a number is.
    pub text: String,
    /// The numbers, in order.
    pub numbers: Vec<Sized>,
}

impl MakerWords {
    /// First and last sign of Unicode's private use area, which no text has a use for.
    const STAND_INS: (char, char) = ('\u{E000}', '\u{F8FF}');

    /// The sign that stands for a number in the words; nothing beyond the last one there is.
    #[must_use]
    pub fn stand_in(index: usize) -> Option<char> {
        let (first, last) = Self::STAND_INS;
        let sign = u32::try_from(index).ok().and_then(|index| u32::from(first).checked_add(index));
        sign.and_then(char::from_u32).filter(|sign| *sign <= last)
    }

    /// Which number a sign stands for.
    #[must_use]
    pub fn number_of(sign: char) -> Option<usize> {
        let (first, last) = Self::STAND_INS;
        let is_one = (first..=last).contains(&sign);
        is_one.then(|| u32::from(sign) - u32::from(first)).and_then(|index| usize::try_from(index).ok())
    }
}
