//! A sentence in typed pieces.

use crate::pattern::model::StitchId;

use super::names::Term;

/// A sentence, or a part of one, as a row of typed pieces.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Phrase(pub Vec<Bit>);

/// One piece of a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bit {
    /// Words of ours.
    Words(String),
    /// Words of the designer's, as they stand.
    Quoted(String),
    /// A word of the trade that has an abbreviation, as it is shown here.
    Term(Term, String),
    /// A stitch, as it is shown here.
    Stitch(StitchId, String),
    /// A number, or one a size.
    Numbers(Numbers),
    /// Pieces that stay side by side on one line, as `ch-3`.
    Tied(Phrase),
    /// Which of several sizes something is for; it goes when one size is picked.
    Several(Phrase),
}

/// A number for each size that is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Numbers(Vec<Number>);

/// The number of one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Number {
    /// The size, by its index.
    pub size: usize,
    /// What is shown; nothing where the size isn't concerned.
    pub text: Option<String>,
}

impl Numbers {
    /// Takes a size and its number for each size that is shown.
    pub fn new<T: ToString>(numbers: impl IntoIterator<Item = (usize, Option<T>)>) -> Self {
        let number = |(size, value): (usize, Option<T>)| Number { size, text: value.map(|v| v.to_string()) };
        Self(numbers.into_iter().map(number).collect())
    }

    /// The one number, if every size that is concerned has the same.
    #[must_use]
    pub fn single(&self) -> Option<&str> {
        let mut numbers = self.0.iter().filter_map(|n| n.text.as_deref());
        let first = numbers.next()?;
        numbers.all(|n| n == first).then_some(first)
    }

    /// Whether it is 1 in every size that is concerned.
    #[must_use]
    pub fn is_one(&self) -> bool {
        self.single() == Some("1")
    }

    /// Whether the same numbers are shown.
    #[must_use]
    pub fn reads_as(&self, other: &Self) -> bool {
        self.plain() == other.plain()
    }

    /// Whether it is 0 in some size.
    #[must_use]
    pub fn has_zero(&self) -> bool {
        self.0.iter().any(|n| n.text.as_deref() == Some("0"))
    }

    /// Whether no size has anything but 0.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.0.iter().all(|n| n.text.as_deref().is_none_or(|t| t == "0"))
    }

    /// The numbers, one a size, in the order that they are shown.
    #[must_use]
    pub fn each(&self) -> &[Number] {
        &self.0
    }

    /// As it is shown: `18 (24, 30)`. Which sizes are concerned is said where not all are.
    #[must_use]
    pub fn plain(&self) -> String {
        if let Some(one) = self.single() {
            return one.to_owned();
        }
        in_brackets(&self.0.iter().filter_map(|number| number.text.as_deref()).collect::<Vec<_>>())
    }
}

/// `18 (24, 30)`: the first, and the others in brackets.
fn in_brackets(texts: &[&str]) -> String {
    match texts.split_first() {
        Some((first, [])) => (*first).to_owned(),
        Some((first, others)) => format!("{first} ({})", others.join(", ")),
        None => String::new(),
    }
}

impl Phrase {
    /// A phrase of our own words.
    pub fn of(words: impl Into<String>) -> Self {
        Self(vec![Bit::Words(words.into())])
    }

    /// A phrase of the designer's words.
    pub fn quoted(words: impl Into<String>) -> Self {
        Self(vec![Bit::Quoted(words.into())])
    }

    /// Adds words of ours.
    #[must_use]
    pub fn say(mut self, words: &str) -> Self {
        match self.0.last_mut() {
            _ if words.is_empty() => {}
            Some(Bit::Words(last)) => last.push_str(words),
            _ => self.0.push(Bit::Words(words.to_owned())),
        }
        self
    }

    /// Adds a piece.
    #[must_use]
    pub fn with(mut self, bit: Bit) -> Self {
        if let Bit::Words(words) = &bit {
            return self.say(words);
        }
        self.0.push(bit);
        self
    }

    /// Adds a phrase.
    #[must_use]
    pub fn then(mut self, phrase: Self) -> Self {
        for bit in phrase.0 {
            self = self.with(bit);
        }
        self
    }

    /// Puts phrases side by side with words between them.
    #[must_use]
    pub fn list(phrases: Vec<Self>, between: &str) -> Self {
        let mut whole = Self::default();
        for (index, phrase) in phrases.into_iter().enumerate() {
            whole = whole.say(if index == 0 { "" } else { between }).then(phrase);
        }
        whole
    }

    /// Puts phrases side by side as `a, b and c`.
    #[must_use]
    pub fn and(mut phrases: Vec<Self>) -> Self {
        let Some(last) = phrases.pop() else { return Self::default() };
        if phrases.is_empty() {
            return last;
        }
        Self::list(phrases, ", ").say(" and ").then(last)
    }

    /// With a capital at the beginning, past opening brackets.
    #[must_use]
    pub fn capitalised(mut self) -> Self {
        let is_bracket =
            |bit: &&mut Bit| if let Bit::Words(text) = bit { after_brackets(text).is_empty() } else { false };
        match self.0.iter_mut().find(|bit| !is_bracket(bit)) {
            Some(Bit::Words(text) | Bit::Term(_, text) | Bit::Stitch(_, text)) => {
                let words = after_brackets(text);
                let brackets = text.strip_suffix(words).unwrap_or_default();
                *text = format!("{brackets}{}", capital(words));
            }
            Some(Bit::Tied(phrase) | Bit::Several(phrase)) => *phrase = std::mem::take(phrase).capitalised(),
            Some(Bit::Quoted(_) | Bit::Numbers(_)) | None => {}
        }
        self
    }

    /// As one piece that is not broken over two lines, unless it has the numbers of several sizes.
    #[must_use]
    pub fn tied(self) -> Self {
        let is_long = |bit: &&Bit| if let Bit::Numbers(numbers) = bit { numbers.single().is_none() } else { false };
        if self.is_empty() || self.bits().iter().any(is_long) { self } else { Self(vec![Bit::Tied(self)]) }
    }

    /// Every piece, those inside others too.
    #[must_use]
    pub fn bits<'p>(&'p self) -> Vec<&'p Bit> {
        let inner = |bit: &'p Bit| match bit {
            Bit::Tied(phrase) | Bit::Several(phrase) => phrase.bits(),
            bit => vec![bit],
        };
        self.0.iter().flat_map(inner).collect()
    }

    /// Whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// As plain text.
    #[must_use]
    pub fn plain(&self) -> String {
        self.0.iter().map(Bit::plain).collect()
    }
}

impl Bit {
    /// As plain text.
    #[must_use]
    pub fn plain(&self) -> String {
        match self {
            Self::Words(text) | Self::Quoted(text) | Self::Term(_, text) | Self::Stitch(_, text) => text.clone(),
            Self::Numbers(numbers) => numbers.plain(),
            Self::Tied(phrase) | Self::Several(phrase) => phrase.plain(),
        }
    }
}

fn after_brackets(text: &str) -> &str {
    text.trim_start_matches(['[', '(', '{'])
}

/// Words of ours for the other hand: left for right and right for left, but for a right side.
#[must_use]
pub fn mirrored(phrase: &Phrase) -> Phrase {
    let turned = |text: &str| {
        let words = text.split(' ').collect::<Vec<_>>();
        let side =
            |at: usize| words.get(at + 1).is_some_and(|next| next.starts_with("side") || next.starts_with("facing"));
        let one = |(at, word): (usize, &&str)| {
            let bare = word.trim_end_matches([',', '.', ';', ')', ':']);
            let sign = word.get(bare.len()..).unwrap_or_default();
            match bare {
                "left" if !side(at) => format!("right{sign}"),
                "right" if !side(at) => format!("left{sign}"),
                _ => (*word).to_owned(),
            }
        };
        words.iter().enumerate().map(one).collect::<Vec<_>>().join(" ")
    };
    let bit = |bit: &Bit| match bit {
        Bit::Words(text) => Bit::Words(turned(text)),
        Bit::Tied(phrase) => Bit::Tied(mirrored(phrase)),
        Bit::Several(phrase) => Bit::Several(mirrored(phrase)),
        other => other.clone(),
    };
    Phrase(phrase.0.iter().map(bit).collect())
}

/// With its first letter as a capital.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
