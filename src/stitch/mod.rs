//! The trade's stitches: what each takes and makes, how tall it is and what it is called.

mod list;
mod symbol;
mod table;
#[cfg(test)]
mod tests;

pub use symbol::{Form, Hook, Symbol, Touch};

use std::collections::BTreeMap;
use std::iter::successors;
use table::Trade;

pub use list::{listed, told, with_word};

/// Which set of stitch names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Terms {
    /// United States.
    #[default]
    Us,
    /// United Kingdom.
    Uk,
}

/// An entry of [`Stitches`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StitchId(pub u16);

/// A stitch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stitch {
    /// Abbreviation and full name in US terms.
    pub us: Names,
    /// The same in UK terms.
    pub uk: Names,
    /// Places it stands on when it is worked by itself: 1 for most, n for n together, 0 for a picot.
    pub takes: u32,
    /// What it leaves on the edge, in order; empty for a picot.
    pub makes: Vec<Made>,
    /// Height in turning chains.
    pub height: u32,
    /// It is worked round a post, so it needs one.
    pub around_post: bool,
    /// It has a post that others can go round.
    pub has_post: bool,
    /// The stitch that it is when the fabric is seen from its other side, if that is another one.
    pub from_behind: Option<StitchId>,
    /// Its part among the stitches.
    pub sort: Sort,
    /// A number right behind its name says how many are worked: `sc6` for `sc 6`.
    pub counted: bool,
    /// A simpler stitch that it also answers to in `in next sc` and in counts by kind: `sc2tog` answers to `sc`.
    pub answers_to: Option<StitchId>,
    /// How a chart shows it; nothing where it is shown by what it makes, and for one of the designer's own.
    pub symbol: Option<Symbol>,
    /// How it is made, in a sentence or two, where the page should say so. In the trade's stitches `{dc}` stands for US
    /// dc, whatever the terms; [`Stitches::how`] puts the reader's word there.
    pub how: Option<String>,
    /// Defined by the designer.
    pub own: bool,
}

impl Stitch {
    /// Whether it is a foundation stitch of the trade's: chain and stitch in one, standing on nothing.
    #[must_use]
    pub fn is_foundation(&self) -> bool {
        !self.own && self.takes == 0 && matches!(self.makes.as_slice(), [Made::Stitch(_)])
    }
}

/// The part that a stitch plays among others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sort {
    /// The chain.
    Chain,
    /// The slip stitch.
    Slip,
    /// A plain stitch, which others of its height go by.
    Plain,
    /// One that is worked backwards along the edge, without turning.
    Back,
    /// Any other.
    #[default]
    Other,
}

/// What a stitch is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Names {
    /// Abbreviation, as `sc`.
    pub short: String,
    /// Full name, as `single crochet`.
    pub full: String,
}

/// One thing that a stitch leaves on the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// A stitch top of this kind.
    Stitch(StitchId),
    /// So many chains.
    Chains(u32),
}

/// Every stitch that can be worked in a pattern: the trade's, shared by all patterns, and the designer's own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stitches {
    trade: &'static Trade,
    own: Vec<Stitch>,
    own_words: Words,
}

impl Stitches {
    /// Sets what a stitch of the designer's own leaves on the edge.
    pub(crate) fn set_makes(&mut self, id: StitchId, makes: Vec<Made>) {
        let own = usize::from(id.0).checked_sub(self.trade.list.len());
        if let Some(stitch) = own.and_then(|at| self.own.get_mut(at)) {
            stitch.makes = makes;
        }
    }

    /// Sets the stitch as which one of the designer's own counts where none nearer is named.
    pub(crate) fn set_answers_to(&mut self, id: Option<StitchId>, simpler: Option<StitchId>) {
        let own = id.and_then(|id| usize::from(id.0).checked_sub(self.trade.list.len()));
        if let Some(stitch) = own.and_then(|at| self.own.get_mut(at)) {
            stitch.answers_to = simpler;
        }
    }

    /// The trade's stitches.
    #[must_use]
    pub fn standard() -> Self {
        Self { trade: table::trade(), own: Vec::new(), own_words: Words::default() }
    }

    /// The stitch with this abbreviation or full name in these terms; capitals and doubled spaces don't matter.
    /// Numbered forms such as `dc3tog` are found too, and so are other words of the trade for the same stitch.
    #[must_use]
    pub fn find(&self, name: &str, terms: Terms) -> Option<StitchId> {
        let name = tidy(name);
        self.own_words.get(&name, terms).or_else(|| self.trade.words.get(&name, terms))
    }

    /// The stitch with this number, if there is one.
    #[must_use]
    pub fn get(&self, id: StitchId) -> Option<&Stitch> {
        let at = usize::from(id.0);
        self.trade.list.get(at).or_else(|| self.own.get(at.checked_sub(self.trade.list.len())?))
    }

    /// Adds a stitch of the designer's own; it hides an earlier one of the same name. Nothing when there are too many.
    pub fn add(&mut self, stitch: Stitch) -> Option<StitchId> {
        let id = StitchId(u16::try_from(self.trade.list.len() + self.own.len()).ok()?);
        self.own_words.name(&stitch, id);
        self.own.push(stitch);
        Some(id)
    }

    /// Every stitch with its number, the trade's first, those that are hidden included.
    pub fn iter(&self) -> impl Iterator<Item = (StitchId, &Stitch)> {
        (0..=u16::MAX).map(StitchId).zip(self.trade.list.iter().chain(&self.own))
    }

    /// Whether a stitch counts as `wanted`: it is that stitch, or a form of it such as `sc2tog` is of `sc`.
    #[must_use]
    pub fn answers(&self, id: StitchId, wanted: StitchId) -> bool {
        let most = self.trade.list.len() + self.own.len();
        successors(Some(id), |at| self.get(*at)?.answers_to).take(most).any(|at| at == wanted)
    }

    /// The chain.
    #[must_use]
    pub fn chain(&self) -> Option<StitchId> {
        self.first(|stitch| stitch.sort == Sort::Chain)
    }

    /// The slip stitch.
    #[must_use]
    pub fn slip(&self) -> Option<StitchId> {
        self.first(|stitch| stitch.sort == Sort::Slip)
    }

    /// The plain stitch of this height in turning chains: single crochet is 1 high.
    #[must_use]
    pub fn plain(&self, height: u32) -> Option<StitchId> {
        self.first(|stitch| stitch.sort == Sort::Plain && stitch.height == height)
    }

    /// The stitch that so many of this one make when they are worked off together, if the trade has a name for it.
    #[must_use]
    pub fn together(&self, id: StitchId, number: u32) -> Option<StitchId> {
        let single = number > 1 && self.get(id).is_some_and(|stitch| stitch.takes == 1);
        self.first(|stitch| single && stitch.takes == number && stitch.answers_to == Some(id))
    }

    /// The stitch that stands for so many of this one in one place, if the trade has a name for it.
    #[must_use]
    pub fn in_one_place(&self, id: StitchId, number: u32) -> Option<StitchId> {
        self.iter().find(|(several, _)| self.several(*several) == Some((id, number))).map(|(several, _)| several)
    }

    /// The cluster of so many of this one, closed into one stitch in one place.
    #[must_use]
    pub fn cluster(&self, id: StitchId, number: u32) -> Option<StitchId> {
        let name = format!("{}{number}cl", self.get(id)?.us.short);
        self.find(&name, Terms::Us)
    }

    /// What a stitch of the trade stands for when that is several of another in one place, and how many.
    #[must_use]
    pub fn several(&self, id: StitchId) -> Option<(StitchId, u32)> {
        let stitch = self.get(id).filter(|stitch| !stitch.own && stitch.takes == 1)?;
        let [Made::Stitch(part), rest @ ..] = stitch.makes.as_slice() else { return None };
        let alike = !rest.is_empty() && rest.iter().all(|made| *made == Made::Stitch(*part));
        Some((*part, u32::try_from(stitch.makes.len()).ok()?)).filter(|_| alike)
    }

    /// The first of the trade's stitches that is such a one.
    fn first(&self, is: impl Fn(&Stitch) -> bool) -> Option<StitchId> {
        self.iter().find(|(_, stitch)| !stitch.own && is(stitch)).map(|(id, _)| id)
    }

    /// Whether a number right behind this word says how many stitches are worked, in either set of terms.
    #[must_use]
    pub fn is_counted(&self, word: &str) -> bool {
        let short = |terms| {
            self.find(word, terms)
                .and_then(|id| self.get(id))
                .filter(|stitch| stitch.counted && stitch.names(terms).short.eq_ignore_ascii_case(word))
        };
        [Terms::Us, Terms::Uk].into_iter().any(|terms| short(terms).is_some())
    }

    /// The stitch that this word means in the other set of terms, when in these it means another stitch or none.
    /// `dc` in US terms gives the UK `dc`, which is a US `sc`; `ch` gives nothing.
    #[must_use]
    pub fn in_other_terms(&self, name: &str, terms: Terms) -> Option<StitchId> {
        let there = self.find(name, terms.other())?;
        (self.find(name, terms) != Some(there)).then_some(there)
    }

    /// The word in these terms that is spelled most like this one, if one is near enough to be meant.
    #[must_use]
    pub fn nearest(&self, name: &str, terms: Terms) -> Option<String> {
        self.nearest_within(&mut usize::MAX.clone(), name, terms)
    }

    /// The same, comparing no more words than are left; nothing where they are not enough.
    pub(crate) fn nearest_within(&self, left: &mut usize, name: &str, terms: Terms) -> Option<String> {
        let name = tidy(name);
        let allowed = match name.chars().count() {
            0 | 1 => return None,
            2..=4 => 1,
            5..=9 => 2,
            _ => 3,
        };
        let words = self.own_words.of(terms).keys().chain(self.trade.words.of(terms).keys());
        // A word that is longer by more than that is farther off by as much; it need not be compared letter by letter.
        let length = name.chars().count();
        let letters = letters_of(&name);
        let words = words.filter(|word| {
            word.chars().count().abs_diff(length) <= allowed && are_near(&letters, &letters_of(word), allowed)
        });
        let mut near = Vec::new();
        for word in words {
            *left = left.checked_sub(1)?;
            near.push((strsim::damerau_levenshtein(&name, word), self.rank(word, terms), word));
        }
        near.into_iter().filter(|(distance, ..)| *distance <= allowed).min().map(|(.., word)| word.clone())
    }

    /// How a stitch is made, in the words of these terms, where the page should say so.
    #[must_use]
    pub fn how(&self, id: StitchId, terms: Terms) -> Option<String> {
        let stitch = self.get(id)?;
        let how = stitch.how.as_ref()?;
        Some(if stitch.own { how.clone() } else { self.in_words(how, terms) })
    }

    /// Puts the name of a stitch in these terms for every US name in braces.
    fn in_words(&self, text: &str, terms: Terms) -> String {
        let mut parts = text.split('{');
        let mut out = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            let (name, rest) = part.split_once('}').unwrap_or((part, ""));
            let named = self.trade.words.get(name, Terms::Us).and_then(|id| self.get(id));
            out.push_str(named.map_or(name, |stitch| &stitch.names(terms).short));
            out.push_str(rest);
        }
        out
    }

    /// Where a word stands among equally near ones: abbreviations before other words, plain stitches before others.
    fn rank(&self, word: &str, terms: Terms) -> (bool, StitchId) {
        let id = self.find(word, terms).unwrap_or(StitchId(u16::MAX));
        let short = self.get(id).is_some_and(|s| s.names(terms).short == word);
        (!short, id)
    }
}

impl Stitch {
    /// What it is called in these terms.
    #[must_use]
    pub fn names(&self, terms: Terms) -> &Names {
        match terms {
            Terms::Us => &self.us,
            Terms::Uk => &self.uk,
        }
    }
}

impl Terms {
    /// The other set.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Us => Self::Uk,
            Self::Uk => Self::Us,
        }
    }
}

/// What every word means, in both sets of terms.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Words {
    us: BTreeMap<String, StitchId>,
    uk: BTreeMap<String, StitchId>,
}

impl Words {
    fn of(&self, terms: Terms) -> &BTreeMap<String, StitchId> {
        match terms {
            Terms::Us => &self.us,
            Terms::Uk => &self.uk,
        }
    }

    fn get(&self, tidied: &str, terms: Terms) -> Option<StitchId> {
        self.of(terms).get(tidied).copied()
    }

    /// Makes the abbreviation and the full name of a stitch mean it.
    fn name(&mut self, stitch: &Stitch, id: StitchId) {
        for terms in [Terms::Us, Terms::Uk] {
            let names = stitch.names(terms);
            self.put(&names.full, terms, id);
            self.put(&names.short, terms, id);
        }
    }

    /// Makes a word mean a stitch; gives back what it meant before.
    fn put(&mut self, word: &str, terms: Terms, id: StitchId) -> Option<StitchId> {
        let map = match terms {
            Terms::Us => &mut self.us,
            Terms::Uk => &mut self.uk,
        };
        map.insert(tidy(word), id)
    }
}

/// How often each letter is in a word; letters that are none of ours share their places with others.
fn letters_of(word: &str) -> [u8; 32] {
    let mut letters = [0_u8; 32];
    for letter in word.chars() {
        if let Some(count) = usize::try_from(u32::from(letter) % 32).ok().and_then(|place| letters.get_mut(place)) {
            *count = count.saturating_add(1);
        }
    }
    letters
}

/// Whether words with these letters can be so near: a slip puts in one letter at most, and takes one out.
fn are_near(one: &[u8; 32], other: &[u8; 32], allowed: usize) -> bool {
    let more = |one: &[u8; 32], other: &[u8; 32]| -> usize {
        one.iter().zip(other).map(|(one, other)| usize::from(one.saturating_sub(*other))).sum()
    };
    more(one, other).max(more(other, one)) <= allowed
}

/// A word as it is looked up: small letters, single spaces.
fn tidy(word: &str) -> String {
    word.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}
