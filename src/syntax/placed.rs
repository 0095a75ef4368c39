//! Where eyes, limbs, buttons and markers are placed.

use crate::diagnostic::Span;

use super::grammar::{Node, Rule};
use super::reader::Reader;
use super::tree::{Amount, Ending, LineKind, PlacedRows, Placing};

impl Reader<'_> {
    /// `place 2 eyes between rnds 12 and 13, 8 apart`.
    pub fn place_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::place_line, rest)?;
        self.strays(&node, rest);
        let spot = node.child(Rule::spot)?;
        let rows = spot.first()?;
        let mut numbers = self.amounts(&rows)?.into_iter();
        let placed = if rows.rule() == Rule::spot_between {
            PlacedRows::Between(numbers.next()?, numbers.next()?)
        } else if rows.rule() == Rule::spot_evenly {
            PlacedRows::Evenly(numbers.next()?, numbers.next()?)
        } else {
            PlacedRows::At(numbers.collect())
        };
        let stitches = match spot.child(Rule::spot_stitches) {
            Some(stitches) => self.amounts(&stitches)?,
            None => Vec::new(),
        };
        let number = node.child(Rule::amount).and_then(|amount| self.amount(&amount));
        let apart = node.child(Rule::spot_apart).and_then(|apart| self.child_amount(&apart));
        let what = self.child_text(&node, Rule::placed_name)?;
        let on = self.child_text(&node, Rule::placed_on);
        let round = rows.has(Rule::k_rnd);
        Some(LineKind::Ending(Ending::Place(Placing { number, what, on, rows: placed, round, stitches, apart })))
    }

    /// Whether a line says where, by rows or rounds. Words for the maker begin with `Place` too.
    pub fn names_spot(&self, from: usize, line: Span) -> bool {
        let words = self.slice(Span::new(from, line.end)).to_lowercase();
        let words: Vec<&str> = words.split_whitespace().collect();
        let is_line = |word: &&str| ["rnd", "rnds", "round", "rounds", "row", "rows"].contains(word);
        let leads = |word: &&str| ["in", "at", "between", "from"].contains(word);
        words.windows(3).any(|three| match three {
            [lead, line, number] => {
                leads(lead) && is_line(line) && number.starts_with(|c: char| c.is_ascii_digit() || c == '{')
            }
            _ => false,
        })
    }

    fn amounts(&mut self, node: &Node<'_>) -> Option<Vec<Amount>> {
        let amounts: Vec<_> = node.all(Rule::amount).collect();
        amounts.iter().map(|amount| self.amount(amount)).collect()
    }
}
