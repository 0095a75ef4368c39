//! What is kept of a line that could not be read: its number and its count, so that the lines below stand on as many stitches as it says.

use ringtrue_grammar::prose::Rule;

use super::{Reader, line_of, parsed};
use crate::read::label::Label;

impl Reader<'_> {
    /// `rnd 5: = 24`, below the old words of a line that could not be read; nothing where the text states no count of stitches alone.
    pub(super) fn place_kept(&mut self, label: &Label, only: Option<&[bool]>, body: &str) -> Option<String> {
        let words = line_of(&self.lexicon.read(body));
        let count = self.stated_in(&words)?;
        let several = count.contains('+') || count.contains("sp") || count.contains("ch");
        let bare: String = count.chars().take_while(|c| c.is_ascii_digit() || matches!(c, '/' | ' ')).collect();
        let numbers = bare.trim();
        if several || numbers.is_empty() || numbers.split('/').any(|number| number.trim() == "0") {
            return None;
        }
        let prefix = only.map(|only| self.only_prefix(only)).unwrap_or_default();
        let word = if label.round { "rnd" } else { "row" };
        let mut there = label.spans.iter().flatten();
        let first = there.next()?;
        let number = match first {
            _ if label.bare || !there.all(|span| span == first) => String::new(),
            (from, to) if from == to => format!(" {from}"),
            (from, to) => format!("s {from}-{to}"),
        };
        Some(format!("{prefix}{word}{number}: = {numbers}"))
    }

    /// The count that words end with: in brackets, behind a dash, or in a sentence of its own.
    fn stated_in(&mut self, words: &str) -> Option<String> {
        let bare = words.trim_end_matches([' ', '.']);
        let bare = bare.strip_suffix(" . turn").unwrap_or(bare).trim_end_matches([' ', '.']);
        for sign in [" ( ", " [ ", " { ", " < ", " – ", " — ", " = ", " - ", " . "] {
            let Some(at) = bare.rfind(sign) else { continue };
            let total = bare.get(at..).unwrap_or_default().trim_start_matches(" . ").trim();
            let counts = self.counts_chains;
            let count = parsed(Rule::total_said, total).and_then(|said| {
                let count = said.into_inner().find(|part| part.as_rule() == Rule::count)?;
                self.count(&count, &Label::default()).ok().flatten()
            });
            self.counts_chains = counts;
            // A number alone in the middle of a row may be one of its own.
            if count.is_some() {
                return count;
            }
        }
        None
    }
}
