//! What happened, how it is seen and how to go on, in the words of a maker.

use super::Mishap;
use crate::fabric::Row;
use crate::pattern::model::{ItemKind, Piece};
use crate::words::{self, sentence};

/// Rows that are named one by one at most.
const MOST_NAMED: usize = 4;

/// The rows that are spoken of.
pub(super) struct Rows<'s> {
    pub piece: &'s Piece,
    pub worked: &'s [Row],
    /// The row that was counted, by its index.
    pub at: usize,
    /// The one in which the slip most likely lies, by its index.
    pub best: usize,
    /// All in which it may lie, by their numbers, the last one first.
    pub all: &'s [u32],
}

/// What is to be said of one slip.
pub(super) struct Said<'s> {
    pub mishap: Mishap,
    pub times: u32,
    pub places: u32,
    pub should: u32,
    pub mine: u32,
    /// The last place of the row below is a chain that counts as a stitch.
    pub ends_in_lead: bool,
    pub rows: Rows<'s>,
    /// What each row makes from the one with the slip on.
    pub carried: Option<&'s [u32]>,
    /// One increase more, or one decrease, in the next row makes up for it.
    pub mended_next: bool,
}

impl Rows<'_> {
    fn noun(&self) -> &'static str {
        let item = self.worked.get(self.at).and_then(|row| self.piece.items.get(row.item)).map(|item| &item.kind);
        let round = match item {
            Some(ItemKind::Work(line)) => line.round,
            Some(ItemKind::Again(again)) => again.round,
            _ => true,
        };
        if round { "round" } else { "row" }
    }

    /// `round 8`: a row by its index.
    fn called(&self, row: usize) -> String {
        let number = self.worked.get(row).map_or(0, |row| row.number);
        format!("{} {number}", self.noun())
    }

    /// The one below the row with the slip.
    fn below(&self) -> Option<String> {
        self.best.checked_sub(1).map(|below| self.called(below))
    }

    /// "round 6 or 5": the others in which it may lie.
    fn others(&self) -> Option<String> {
        let best = self.worked.get(self.best).map_or(0, |row| row.number);
        let others: Vec<u32> = self.all.iter().copied().filter(|number| *number != best).collect();
        let (noun, last) = (self.noun(), others.last()?);
        let first = others.first()?;
        Some(match others.as_slice() {
            [one] => format!("{noun} {one}"),
            few if few.len() <= MOST_NAMED => {
                let (last, before) = few.split_last()?;
                let before: Vec<String> = before.iter().map(u32::to_string).collect();
                format!("{noun} {} or {last}", before.join(", "))
            }
            _ => format!("one of the {noun}s {last} to {first}"),
        })
    }
}

impl Said<'_> {
    /// What happened, how it is seen, how to go on.
    pub(super) fn sentences(&self) -> (String, String, String) {
        let mut happened = self.happened();
        if let Some(others) = self.rows.others().filter(|_| !self.is_always()) {
            happened = format!("{happened} It may as well have been in {others}: the rows above then carry it on.");
        }
        (happened, self.see(), self.go_on())
    }

    /// Whether it was done in each row from one on.
    fn is_always(&self) -> bool {
        matches!(self.mishap, Mishap::LastMissedAlways | Mishap::LeadWorkedAlways | Mishap::JoinWorkedAlways)
    }

    #[expect(clippy::too_many_lines, reason = "one sentence for each mishap, and none may be left out")]
    fn happened(&self) -> String {
        let (row, noun, times) = (self.rows.called(self.rows.best), self.rows.noun(), self.times);
        let each = |one: &str, several: &str| {
            if times == 1 { format!("In {row} {one}.") } else { format!("In {row}, {times} {several}.") }
        };
        match self.mishap {
            Mishap::LeadMiscounted if self.mine > self.should => {
                format!("The chain at the beginning of {row} was counted as a stitch, and it is none.")
            }
            Mishap::LeadMiscounted => {
                format!("The chain at the beginning of {row} counts as a stitch, and was not counted.")
            }
            Mishap::ChainsMiscounted if self.mine > self.should => {
                format!("The chains of {row} were counted as stitches, and they are none.")
            }
            Mishap::ChainsMiscounted => format!("The chains of {row} count as well, and were left out."),
            Mishap::IncreaseMissed => each(
                "an increase was missed: one stitch too few went into a place that takes several",
                "increases were missed: one stitch too few went into each of these places",
            ),
            Mishap::StitchDoubled => each(
                "one stitch too many went into a place, often the first one, or one beside an increase",
                "places got one stitch too many",
            ),
            Mishap::DecreaseMissed => each(
                "a decrease was missed: its stitches were worked one by one and not together",
                "decreases were missed: their stitches were worked one by one and not together",
            ),
            Mishap::StitchMissed => each(
                "a stitch was passed over, often right after a turn, a join or a break",
                "stitches were passed over",
            ),
            Mishap::LastMissed if self.ends_in_lead => {
                format!(
                    "At the end of {row} nothing was worked into the chain that counts as the first stitch of the {noun} below."
                )
            }
            Mishap::LastMissed => format!("The last stitch of the {noun} below was left out at the end of {row}."),
            Mishap::LastMissedAlways => format!("Since {row} the last stitch was left out at the end of every {noun}."),
            Mishap::LeadWorked => {
                format!("At the end of {row} a stitch was worked into the turning chain, which is no stitch.")
            }
            Mishap::LeadWorkedAlways => {
                format!(
                    "Since {row} a stitch was worked into the turning chain at the end of every {noun}; it is no stitch."
                )
            }
            Mishap::JoinWorked => {
                format!("At the end of {row} a stitch was worked into the slip stitch that closed the round below.")
            }
            Mishap::JoinWorkedAlways => {
                format!(
                    "Since {row} a stitch was worked into the slip stitch that closed the round below, in every {noun}."
                )
            }
            Mishap::SpaceMissed => each("a chain space was passed over", "chain spaces were passed over"),
            Mishap::ChainMissed => {
                each("a chain between stitches was left out", "chains between stitches were left out")
            }
            Mishap::RepeatsFewer => each("a repeat was worked once too few", "repeats were worked once too few"),
            Mishap::RepeatsMore => each("a repeat was worked once too often", "repeats were worked once too often"),
            Mishap::RingShort => format!("The ring of {row} has {} too few.", words::count(times, "stitch")),
            Mishap::RingLong => format!("The ring of {row} has {} too many.", words::count(times, "stitch")),
            Mishap::StartShort => "The starting chain was one chain too short.".to_owned(),
            Mishap::StartLong => "The starting chain was one chain too long.".to_owned(),
        }
    }

    #[expect(clippy::too_many_lines, reason = "one sentence for each mishap, and none may be left out")]
    fn see(&self) -> String {
        let (row, places) = (self.rows.called(self.rows.best), self.places);
        let look = match self.mishap {
            Mishap::LeadMiscounted => {
                return "Count once more from the first stitch, and look whether the chain at the edge is among your stitches.".to_owned();
            }
            Mishap::ChainsMiscounted => return "Count the stitches and the chains between them apart.".to_owned(),
            Mishap::IncreaseMissed => {
                format!(
                    "{row} has {} with more than one stitch in it; find the one that has too few",
                    words::count(places, "place")
                )
            }
            Mishap::StitchDoubled => format!(
                "look along {row}, from its first place on, for stitches that lean together at the foot where one fewer should stand"
            ),
            Mishap::DecreaseMissed => format!(
                "{row} has {}; look for a place where two stitches stand side by side instead",
                words::count(places, "decrease")
            ),
            Mishap::StitchMissed => {
                format!("look along the foot of {row} for a top with no stitch in it and a small gap above")
            }
            Mishap::LastMissed | Mishap::LastMissedAlways => {
                let edge = if self.rows.piece.way.rounds() { "" } else { ", and the edge steps in" };
                format!("look at the end of {row}: the last top is empty{edge}")
            }
            Mishap::LeadWorked | Mishap::LeadWorkedAlways => {
                format!("look at the end of {row}: a stitch stands in the chain, and the edge steps out")
            }
            Mishap::JoinWorked | Mishap::JoinWorkedAlways => {
                format!("look at the join of {row}: the last stitch stands in the small flat slip stitch")
            }
            Mishap::SpaceMissed => format!("{row} works into {}; look for an empty one", words::count(places, "space")),
            Mishap::ChainMissed => {
                format!("look along {row} for stitches that stand close together where a chain should part them")
            }
            Mishap::RepeatsFewer | Mishap::RepeatsMore => format!("count the repeats of {row} against the pattern"),
            Mishap::RingShort | Mishap::RingLong => format!("count the stitches of {row}"),
            Mishap::StartShort | Mishap::StartLong => format!("count {row} and the chains under it"),
        };
        let mut see = sentence(&look);
        if let Some(below) = self.rows.below().filter(|_| !matches!(self.mishap, Mishap::RingShort | Mishap::RingLong))
        {
            let count = self
                .rows
                .best
                .checked_sub(1)
                .and_then(|below| self.rows.worked.get(below))
                .map(|row| row.ledger.stitches);
            let count = count.map_or_else(String::new, |count| format!(" with {}", words::count(count, "stitch")));
            see.push_str(&format!(" If {below} is right{count}, the slip is not below it."));
        }
        if let Some([here, _, ..]) = self.carried {
            see.push_str(&format!(
                " {} then has {} already.",
                sentence(&row).trim_end_matches('.'),
                words::count(*here, "stitch")
            ));
        }
        see
    }

    fn go_on(&self) -> String {
        let (best, at) = (self.rows.called(self.rows.best), self.rows.called(self.rows.at));
        if matches!(self.mishap, Mishap::LeadMiscounted | Mishap::ChainsMiscounted) {
            return format!(
                "Nothing is to be taken back for that: {at} is to have {}, counted so.",
                words::count(self.should, "stitch")
            );
        }
        let back = match self.rows.below() {
            _ if matches!(self.mishap, Mishap::StartShort) => {
                "Begin anew, with as many chains as the pattern says.".to_owned()
            }
            _ if self.rows.best == self.rows.at => format!("Take {at} back to that place and work on from there."),
            Some(_) | None => format!("Take the work back to that place in {best} and work on from there."),
        };
        if !self.mended_next {
            return back;
        }
        let next = self.rows.called(self.rows.at.saturating_add(1));
        let what =
            if self.mine < self.should { "two stitches into one place once" } else { "two stitches together once" };
        format!(
            "{back} Or leave it: work {what} in {next} where it shows least, and {next} has the count that it should; the place \
             below stays as it is."
        )
    }
}
