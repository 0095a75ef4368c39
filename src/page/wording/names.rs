//! Words of the trade that have an abbreviation, and the voice that says them short or in full.

use crate::page::{Edition, Telling, Wording};
use crate::pattern::model::{Definition, Kind, Pattern, Sized, StitchId, Terms};

use super::phrase::{Bit, Numbers, Phrase};

/// A word of the trade that has an abbreviation and is no stitch of the table.
///
/// Source of the abbreviations: Craft Yarn Council, Crochet Abbreviations Master List.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Term {
    /// At the beginning of a line.
    Beginning,
    /// A chain.
    Chain,
    /// That are left.
    Remaining,
    /// Do again.
    Repeat,
    /// The right side.
    RightSide,
    /// A round.
    Round,
    /// A slip stitch.
    SlipStitch,
    /// A space under chains.
    Space,
    /// A stitch.
    Stitch,
    /// Worked off as one.
    Together,
    /// The wrong side.
    WrongSide,
}

/// One or more of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// One.
    One,
    /// None, or several.
    Many,
}

impl Term {
    /// Abbreviation and full word.
    #[must_use]
    pub fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::Beginning => ("beg", "beginning"),
            Self::Chain => ("ch", "chain"),
            Self::Remaining => ("rem", "remaining"),
            Self::Repeat => ("rep", "repeat"),
            Self::RightSide => ("RS", "right side"),
            Self::Round => ("rnd", "round"),
            Self::SlipStitch => ("sl st", "slip stitch"),
            Self::Space => ("sp", "space"),
            Self::Stitch => ("st", "stitch"),
            Self::Together => ("tog", "together"),
            Self::WrongSide => ("WS", "wrong side"),
        }
    }

    /// The full word for an abbreviation of it, for one or several; any other text is its own.
    #[must_use]
    pub fn full_of(self, text: &str) -> &str {
        let forms = [self.names(), self.plural()];
        let meant = forms.into_iter().find(|(short, _)| short.eq_ignore_ascii_case(text));
        meant.map_or(text, |(_, full)| full)
    }

    /// Abbreviation and full word for several.
    fn plural(self) -> (&'static str, &'static str) {
        match self {
            Self::Chain => ("ch", "chains"),
            Self::Round => ("rnds", "rounds"),
            Self::SlipStitch => ("sl sts", "slip stitches"),
            Self::Space => ("sps", "spaces"),
            Self::Stitch => ("sts", "stitches"),
            Self::Beginning | Self::Remaining | Self::Repeat | Self::RightSide | Self::Together | Self::WrongSide => {
                self.names()
            }
        }
    }
}

/// How things are said in an edition of a pattern.
#[derive(Debug, Clone)]
pub struct Voice<'a> {
    /// The pattern that is told.
    pub pattern: &'a Pattern,
    /// Which stitch names.
    pub terms: Terms,
    /// Short or in full.
    pub words: Wording,
    /// For makers who know how: without turns, joins and chains that count as nothing.
    pub brief: bool,
    /// The sizes that are shown, by index.
    pub sizes: Vec<usize>,
}

impl<'a> Voice<'a> {
    /// The voice of an edition.
    #[must_use]
    pub fn new(pattern: &'a Pattern, edition: &Edition) -> Self {
        let (terms, words, sizes) = (edition.terms_for(pattern), edition.words, edition.sizes_for(pattern));
        Self { pattern, terms, words, brief: edition.telling == Telling::Brief, sizes }
    }

    /// The same voice for some of the sizes.
    #[must_use]
    pub fn for_sizes(&self, sizes: &[usize]) -> Self {
        Self { sizes: sizes.to_vec(), ..self.clone() }
    }

    /// The sizes that are shown, by index and name; empty for a pattern without sizes.
    #[must_use]
    pub fn named_sizes(&self) -> Vec<(usize, String)> {
        let named = self.sizes.iter().filter_map(|&size| Some((size, self.pattern.sizes.get(size)?.clone())));
        named.filter(|(_, name)| !name.is_empty()).collect()
    }

    /// A word of the trade.
    #[must_use]
    pub fn term(&self, term: Term) -> Bit {
        self.terms_of(term, Amount::One)
    }

    /// A word of the trade, for one or several.
    #[must_use]
    pub fn terms_of(&self, term: Term, amount: Amount) -> Bit {
        let (short, full) = match amount {
            Amount::One => term.names(),
            Amount::Many => term.plural(),
        };
        let text = match self.words {
            Wording::Abbreviated => short,
            Wording::InFull | Wording::Aloud => full,
        };
        Bit::Term(term, text.to_owned())
    }

    /// A stitch by its name.
    #[must_use]
    pub fn stitch(&self, id: StitchId) -> Bit {
        let Some(stitch) = self.pattern.stitches.get(id) else { return self.term(Term::Stitch) };
        let names = stitch.names(self.terms);
        let text = match self.words {
            Wording::Abbreviated => &names.short,
            Wording::InFull | Wording::Aloud => &names.full,
        };
        Bit::Stitch(id, text.clone())
    }

    /// Several of a stitch. One that is called by a word has a plural, as `2 blocks`; abbreviations have none.
    #[must_use]
    pub fn stitches(&self, id: StitchId) -> Bit {
        let named = self.stitch(id);
        let (Bit::Stitch(_, text), Some(stitch)) = (&named, self.pattern.stitches.get(id)) else { return named };
        let full = &stitch.names(self.terms).full;
        // `a block of 3 dc` and `a block over mesh` are blocks.
        let words = full.split(' ').take_while(|word| !["of", "over", "with", "in", "into"].contains(word));
        let is_word = words.last() == Some(text.as_str())
            && text.chars().all(|c| c.is_ascii_lowercase())
            && !text.ends_with("crochet");
        let ending = if ["s", "sh", "ch", "x"].iter().any(|end| text.ends_with(end)) { "es" } else { "s" };
        if is_word { Bit::Stitch(id, format!("{text}{ending}")) } else { named }
    }

    /// The steps that a designer's stitch is made of.
    #[must_use]
    pub fn definition(&self, id: StitchId) -> Option<&'a Definition> {
        self.pattern.definitions.iter().rev().find(|d| d.stitch == id)
    }

    /// `ch-2`, as the name of what was made before.
    #[must_use]
    pub fn chain_of(&self, chains: impl Into<Phrase>) -> Phrase {
        let hyphen = if self.words == Wording::Aloud { " " } else { "-" };
        Phrase::default().with(self.term(Term::Chain)).say(hyphen).then(chains.into()).tied()
    }

    /// A kind of place, one or several of it.
    #[must_use]
    pub fn kind(&self, kind: Kind, amount: Amount) -> Phrase {
        match kind {
            Kind::AnyStitch => Phrase::default().with(self.terms_of(Term::Stitch, amount)),
            Kind::Chain => Phrase::default().with(self.terms_of(Term::Chain, amount)),
            Kind::Space(chains) => {
                self.chain_of(chains.to_string()).say(" ").with(self.terms_of(Term::Space, amount)).tied()
            }
            Kind::AnySpace => {
                Phrase::default().with(self.term(Term::Chain)).say(" ").with(self.terms_of(Term::Space, amount))
            }
            Kind::Stitch(id) => Phrase::default().with(self.stitch(id)),
            Kind::Yarn(at) => {
                let yarn = self.pattern.head.yarns.get(at).map_or("", |yarn| yarn.name.as_str());
                self.kind(Kind::AnyStitch, amount).say(" in ").then(Phrase::quoted(yarn))
            }
        }
    }

    /// A number a size, for the sizes that are shown and concerned.
    #[must_use]
    pub fn numbers(&self, sized: &Sized, concerned: &[bool]) -> Numbers {
        let in_size = |size| concerned.get(size).copied().unwrap_or(true);
        Numbers::new(self.sizes.iter().map(|&size| (size, in_size(size).then(|| sized.get(size)))))
    }

    /// Words of ours in the spelling of the page: `color` on one in US terms.
    #[must_use]
    pub fn spelt(&self, words: &str) -> String {
        match self.terms {
            Terms::Us => words.replace("olour", "olor"),
            Terms::Uk => words.to_owned(),
        }
    }

    /// The word for places passed over.
    #[must_use]
    pub fn skipped(&self) -> &'static str {
        match self.terms {
            Terms::Us => "skipped",
            Terms::Uk => "missed",
        }
    }

    /// The word for passing over a place: UK patterns say `miss`.
    /// Source: UK book lists beside the Craft Yarn Council's US and UK terms.
    #[must_use]
    pub fn skip(&self) -> &'static str {
        match self.terms {
            Terms::Us => "skip",
            Terms::Uk => "miss",
        }
    }
}

impl From<String> for Phrase {
    fn from(words: String) -> Self {
        Self::of(words)
    }
}

impl From<Numbers> for Phrase {
    fn from(numbers: Numbers) -> Self {
        Self(vec![Bit::Numbers(numbers)])
    }
}
