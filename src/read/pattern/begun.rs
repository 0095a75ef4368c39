//! How a piece begins, by what a sentence speaks of: where no form of the grammar fits, a ring or one chain is found among its words, and
//! that it was chosen is said.

use super::{Block, Label, Reader, line_of, missed, rounds_said, sentences};
use crate::read::lexicon::{Token, is_amount};

/// What a sentence begins a piece with.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Begun {
    /// `ring`, `ch 4 joined`, `ch 30`.
    start: String,
    /// The first round, where the sentence goes on with it: `ch 1, 8 sc in ring`.
    first: Option<String>,
}

/// What no sentence has that only begins a piece: it goes on with work along the chain, or it explains.
const MORE: [&str; 22] = [
    "hook", "rep", "*", "skip", "each", "row", "rnd", "counts", "count", "=", "is", "are", "means", "if", "times",
    "not", "next", "last", "turn", "or", "picot", "shell",
];

impl Reader<'_> {
    /// `Start with a magic ring, chain 1 and work 8 hdc into it.`, `Begin: 4 ch and close to ring with 1 ss.`
    pub(super) fn begins_by_meaning(&mut self, block: &Block) -> bool {
        if self.piece.start.is_some() || self.piece.like.is_some() || !self.piece.written.is_empty() {
            return false;
        }
        let all = sentences(&block.text);
        let found = all.iter().enumerate().find_map(|(at, said)| Some((at, begun(&self.lexicon.read(said))?)));
        let Some((at, begun)) = found else { return false };
        let begins = |sentence: &&String| begins_other(&self.lexicon.read(sentence));
        if all.iter().enumerate().any(|(other, said)| other != at && begins(&said)) {
            return false;
        }
        let second = self.goes_on.as_ref().is_some_and(|next| {
            next.spans.iter().all(|span| span.is_some_and(|(from, _)| from == 2)) && !next.spans.is_empty()
        });
        // A first round that stands below once more is not this one.
        if begun.first.is_some() && !second && self.goes_on.is_some() {
            return false;
        }
        let said = all.get(at).cloned().unwrap_or_default();
        let why = format!("read by choosing: {} begins with {}, by “{said}”", self.piece.name, begun.start);
        self.chosen.push(why.replace(" joined,", " closed to a ring,"));
        self.piece.on_chain = begun.start != "ring";
        self.piece.start = Some(begun.start);
        let own = |text: &String| Block { text: text.clone(), ..block.clone() };
        let (of_all, others): (Vec<&String>, Vec<&String>) = all
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != at)
            .map(|(_, said)| said)
            .partition(|said| rounds_said(&line_of(&self.lexicon.read(said))).is_some());
        for sentence in of_all {
            self.paragraph(&own(sentence));
        }
        match begun.first {
            Some(first) => {
                let spans = vec![Some((1, 1)); self.lexicon.sizes.max(1)];
                // That it is joined may be said behind it.
                let joins = |said: &&String| said.to_lowercase().starts_with("join");
                let join = if others.iter().any(&joins) { ", join" } else { "" };
                let label = Label { round: true, spans, ..Label::default() };
                self.line(&own(&said), label, &format!("{first}{join}"));
                for sentence in others.into_iter().filter(|said| !joins(said)) {
                    self.paragraph(&own(sentence));
                }
            }
            None => {
                self.told(&own(&said), super::Became::Work);
                for sentence in others {
                    self.paragraph(&own(sentence));
                }
            }
        }
        true
    }
}

/// Whether a sentence begins a piece with other words than what every round begins with.
fn begins_other(tokens: &[Token]) -> bool {
    missed::begins(tokens) && rounds_said(&line_of(tokens)).is_none()
}

/// What a sentence begins a piece with, if it has one chain or one ring, and no other work than stitches into the ring.
fn begun(tokens: &[Token]) -> Option<Begun> {
    let words: Vec<&str> = tokens.iter().map(|token| token.text.as_str()).collect();
    let ring = words.iter().position(|word| matches!(*word, "ring" | "circle"));
    // `ch 4`, `4 ch`: a chain without a number is not known.
    let places: Vec<usize> = (0..words.len()).filter(|at| words.get(*at) == Some(&"ch")).collect();
    let number = |at: usize| words.get(at).copied().filter(|number| is_amount(number));
    let chains: Vec<(usize, &str)> = places
        .iter()
        .map(|at| Some((*at, number(at + 1).or_else(|| number(at.checked_sub(1)?))?)))
        .collect::<Option<_>>()?;
    let stitches: Vec<(usize, &str)> = words
        .iter()
        .enumerate()
        .filter(|(_, word)| word.starts_with('~') && **word != "~sl_st")
        .map(|(at, word)| (at, *word))
        .collect();
    let other = words.iter().any(|word| MORE.contains(word) || word.starts_with('@') || matches!(*word, "[" | "{"));
    if other || words.iter().any(|word| word.starts_with("ch-")) {
        return None;
    }
    let closes = ring.is_some() || words.iter().any(|word| matches!(*word, "~sl_st" | "join" | "close"));
    match (ring, chains.as_slice(), stitches.as_slice()) {
        (None, [(_, number)], []) => {
            let start = format!("ch {}{}", number.replace('/', " / "), if closes { " joined" } else { "" });
            Some(Begun { start, first: None })
        }
        (Some(ring), [(at, number)], []) if *at < ring => {
            Some(Begun { start: format!("ch {number} joined"), first: None })
        }
        (Some(_), [], []) => Some(Begun { start: "ring".to_owned(), first: None }),
        (Some(ring), chains, [(at, stitch)]) if *at > ring || words.get(at + 1) == Some(&"in") => {
            let number = at.checked_sub(1).and_then(|at| words.get(at)).filter(|number| is_amount(number))?;
            let lead = match chains {
                [] => String::new(),
                [(at, lead)] if *at > ring => format!("ch {lead}, "),
                _ => return None,
            };
            let name = stitch.trim_start_matches('~').replace('_', " ");
            Some(Begun { start: "ring".to_owned(), first: Some(format!("{lead}{number} {name} in ring")) })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::begun;
    use crate::read::lexicon::Lexicon;
    use crate::stitch::{Stitches, Terms};

    #[test]
    fn a_piece_begins_with_what_is_spoken_of() {
        let stitches = Stitches::standard();
        let lexicon = Lexicon::new(&stitches, Terms::Us, 1);
        let told = |text: &str| begun(&lexicon.read(text)).map(|begun| (begun.start, begun.first.unwrap_or_default()));
        let some = |start: &str, first: &str| Some((start.to_owned(), first.to_owned()));
        assert_eq!(told("Begin by chaining: ch 4 and close to a ring with 1 sl st."), some("ch 4 joined", ""));
        assert_eq!(
            told("I start with a magic ring, chain 1 and work 8 hdc into it."),
            some("ring", "ch 1, 8 hdc in ring")
        );
        assert_eq!(told("Grab your hook of choice and ch 30 loosely."), None);
        assert_eq!(told("Take the thick yarn and close 4 ch to a ring."), some("ch 4 joined", ""));
        for text in ["Ch 3 counts as dc.", "Ch 4, sl st in each of the next 3 ch.", "Sc around.", "Ch 3, sk 2, ch 3."] {
            assert_eq!(told(text), None, "{text}");
        }
    }
}
