//! How many of a piece, or of the whole thing, are made, where a sentence says it beside the rows.

use super::Reader;
use crate::read::lexicon::{Token, line_of};
use crate::read::pattern::sentences::{copies_said, sentences};
use crate::read::piece::Draft;

impl Reader<'_> {
    /// How many are made, said behind rows: `Make another one`, `Work a second mitten; they fit either hand.`
    pub(super) fn copied(&mut self, text: &str) -> bool {
        if self.piece.written.is_empty() {
            return false;
        }
        let said = |sentence: &String| {
            let tokens = self.lexicon.read(sentence);
            Some((copies_said(&tokens)?, self.whose(&tokens)?))
        };
        let Some((copies, whose)) = sentences(text).iter().find_map(said) else { return false };
        match whose {
            Whose::Piece if self.piece.copies.is_none() => self.piece.copies = Some(copies),
            Whose::All if self.all_copies.is_none() => self.all_copies = copies.parse().ok(),
            _ => return false,
        }
        self.words_said(text);
        true
    }

    /// `Make the first one, cut the yarn. Make the second one and do not cut the yarn.`: said before the rows of both.
    pub(super) fn made_twice(&mut self, text: &str, tokens: &[Token]) -> bool {
        let words = format!(" {} ", line_of(tokens));
        let twice = ["first", "1st"].iter().any(|one| words.contains(&format!(" make {one} ")))
            && ["second", "2nd"].iter().any(|two| words.contains(&format!(" make {two} ")));
        if !twice || words.contains('~') || self.piece.begun() || self.piece.copies.is_some() {
            return false;
        }
        self.piece.copies = Some("2".to_owned());
        self.words_said(text);
        true
    }

    /// The pieces, each as often as it is made.
    pub(super) fn pieces(&mut self) -> Vec<Draft> {
        let mut all = std::mem::take(&mut self.finished);
        if let Some(copies) = self.all_copies {
            for piece in all.iter_mut().filter(|piece| piece.layout.is_none()) {
                let each = piece.copies.as_ref().and_then(|each| each.parse::<u32>().ok()).unwrap_or(1);
                piece.copies = Some(each.saturating_mul(copies).to_string());
            }
        }
        all
    }

    /// What a sentence says is made again: the piece at hand, or all of it; nothing where that is something else.
    fn whose(&self, tokens: &[Token]) -> Option<Whose> {
        const PLAIN: [&str; 14] = [
            "one",
            "more",
            "same",
            "exactly",
            "alike",
            "identical",
            "matching",
            "to",
            "match",
            "other",
            "piece",
            "in",
            "and",
            "of",
        ];
        let end = tokens.iter().position(|token| matches!(token.text.as_str(), "." | ";" | "," | "!"));
        let clause = tokens.get(..end.unwrap_or(tokens.len())).unwrap_or_default();
        let from = clause.iter().position(|token| matches!(token.text.as_str(), "another" | "second" | "2nd"));
        let Some(from) = from else { return Some(Whose::Piece) };
        let thing = clause.iter().skip(from + 1).find(|token| !PLAIN.contains(&token.text.as_str()));
        let Some(thing) = thing else { return Some(Whose::Piece) };
        let squeezed = |name: &str| name.to_lowercase().replace(' ', "");
        let name = match thing.text.strip_prefix('@').and_then(|at| at.parse::<usize>().ok()) {
            Some(at) => squeezed(self.head.pieces.get(at)?),
            None => thing.text.clone(),
        };
        let stem = name.trim_end_matches('s').trim_end_matches("ie").trim_end_matches('y');
        if squeezed(&self.piece.name).contains(stem) {
            return Some(Whose::Piece);
        }
        let whole = squeezed(&self.head.title).contains(stem);
        whole.then_some(if self.finished.is_empty() { Whose::Piece } else { Whose::All })
    }

    /// Words whose meaning for the work is taken up, so that nothing in them is left to be marked.
    fn words_said(&mut self, text: &str) {
        self.piece.lines.push(format!("> {}", super::maker_words(text)));
    }
}

/// What is made several times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Whose {
    Piece,
    All,
}
