//! What a line uses of its yarn, read from its record.

use super::ledger::{Stretch, Taken};
use super::tape::{Event, Laid};
use crate::stitch::StitchId;

/// What takes yarn, and what happens to the yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Use {
    Stitch(StitchId),
    Chain,
    /// A slip stitch that leaves nothing on the edge: a join, or one of those along which a line begins elsewhere.
    Slip,
    Cut,
    /// Another yarn, by its place among the yarns of the pattern.
    ChangeTo(usize),
    /// One of several colours of the line.
    Colour(usize),
    /// Yarn joined anew; none is the one that was in use.
    Join(Option<usize>),
}

/// What has been used so far, in the order of working. Equal things one after the other are one entry.
#[derive(Debug, Clone, Default)]
pub(super) struct Used(Vec<(Use, u32)>);

impl Used {
    /// What an event of a record uses.
    pub(super) fn follow(&mut self, event: Event) {
        match event {
            Event::Stitch {
                stitch, laid: Laid::Edge | Laid::One | Laid::Hanging | Laid::Loop | Laid::Closing, ..
            } => {
                self.add(Use::Stitch(stitch), 1);
            }
            Event::Chains(chains) | Event::LeadChains(chains) | Event::Lead(chains) => self.add(Use::Chain, chains),
            Event::Slips(slips) => self.add(Use::Slip, slips),
            Event::JoinTo { .. } => self.add(Use::Slip, 1),
            Event::Cut => self.add(Use::Cut, 1),
            Event::ChangeTo(Some(yarn)) => self.add(Use::ChangeTo(usize::from(yarn)), 1),
            Event::Colour(Some(yarn)) => self.add(Use::Colour(usize::from(yarn)), 1),
            Event::Rejoin(yarn) => self.add(Use::Join(yarn.map(usize::from)), 1),
            // A lead consists of its chains.
            Event::Stitch { laid: Laid::Lead | Laid::FirstLead, .. }
            | Event::Step { .. }
            | Event::Leg { .. }
            | Event::Opens(_)
            | Event::Group(_)
            | Event::ThereBefore(_)
            | Event::TakenUp(_)
            | Event::GivenBack(_)
            | Event::Mark(_)
            | Event::Skipped(..)
            | Event::Over { .. }
            | Event::Passed(..)
            | Event::ChangeTo(None)
            | Event::Colour(None)
            | Event::Turn
            | Event::OtherSide
            | Event::Behind(_)
            | Event::Through(..)
            | Event::Fro(_) => {}
        }
    }

    fn add(&mut self, what: Use, count: u32) {
        match self.0.last_mut() {
            _ if count == 0 => {}
            Some((last, so_far)) if *last == what => *so_far = so_far.saturating_add(count),
            Some(_) | None => self.0.push((what, count)),
        }
    }

    /// The same by yarn.
    pub(super) fn stretches(&self) -> Vec<Stretch> {
        let mut all: Vec<Stretch> = Vec::new();
        let mut now = Stretch::default();
        for (what, count) in &self.0 {
            let taken = match what {
                Use::Stitch(id) => {
                    now.add(*id, *count);
                    continue;
                }
                Use::Chain => {
                    now.chains = now.chains.saturating_add(*count);
                    continue;
                }
                Use::Slip => {
                    now.slips = now.slips.saturating_add(*count);
                    continue;
                }
                Use::Cut => {
                    now.cut = true;
                    continue;
                }
                Use::ChangeTo(yarn) => Taken::ChangedTo(*yarn),
                Use::Colour(yarn) => Taken::Colour(*yarn),
                Use::Join(yarn) => Taken::Joined(*yarn),
            };
            let next = Stretch { taken, ..Stretch::default() };
            all.push(std::mem::replace(&mut now, next));
        }
        all.push(now);
        all
    }
}

impl Stretch {
    fn add(&mut self, id: StitchId, count: u32) {
        match self.stitches.iter_mut().find(|(there, _)| *there == id) {
            Some((_, so_far)) => *so_far = so_far.saturating_add(count),
            None => self.stitches.push((id, count)),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::fabric::{Row, Stretch, Taken};
    use crate::stitch::Terms;

    fn rows(piece: &str) -> Vec<Row> {
        let text = format!("pattern Net\nterms US\nyarn A\nyarn B\n{piece}");
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        compiled.fabric.pieces[0].sizes[0].rows.to_vec()
    }

    fn said(stretch: &Stretch) -> String {
        let stitches = crate::stitch::Stitches::standard();
        let name = |id| stitches.get(id).map_or("?", |s| s.names(Terms::Us).short.as_str());
        let named = stretch.stitches.iter().map(|(id, count)| format!("{count} {}", name(*id)));
        let mut parts: Vec<String> = named.collect();
        parts.extend((stretch.chains > 0).then(|| format!("{} ch", stretch.chains)));
        parts.extend((stretch.slips > 0).then(|| format!("{} slips", stretch.slips)));
        parts.extend(stretch.cut.then(|| "cut".to_owned()));
        parts.join(", ")
    }

    fn used(row: &Row) -> Vec<String> {
        row.ledger.used.iter().map(said).collect()
    }

    #[test]
    fn leads_joins_and_picots_are_used_though_no_place_is_left_by_them() {
        let rows = rows(
            "piece Net, in joined rounds\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\n\
             rnd 2: [inc, sc, ch 3, sl st in 3rd ch from hook] to end\n",
        );
        assert_eq!(used(&rows[0]), ["8 sc, 1 ch, 1 slips"]);
        assert_eq!(used(&rows[1]), ["4 inc, 4 sc, 4 sl st, 13 ch, 1 slips"]);
    }

    #[test]
    fn a_starting_chain_is_no_part_of_the_first_row() {
        let rows = rows(
            "piece Net, in rows\nlead ch 3 as dc\nstart ch 20\nrow 1: dc in 4th ch from hook, dc to end = 18\nrow 2: dc to end = 18\n",
        );
        assert_eq!(used(&rows[0]), ["17 dc"]);
        assert_eq!(used(&rows[1]), ["17 dc, 3 ch"]);
    }

    #[test]
    fn a_pass_of_a_repeat_that_does_not_fit_is_not_used() {
        let rows = rows(
            "piece Net, in joined rounds\nstart ring\nrnd 1: [sc in ring, ch 2] 4 times\n\
             rnd 2: [sc, (2 dc, ch 1) in next ch-2 sp] to end\n",
        );
        assert_eq!(used(&rows[1]), ["4 sc, 8 dc, 4 ch, 1 slips"]);
    }

    #[test]
    fn each_yarn_has_its_own_stretch() {
        let rows = rows(
            "piece Net, in rows\nwith A\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc 4, change to B, sc 5 = 10\nfasten off\n\
             row 2: rejoin A in next, sc in same, sc to end = 10\n",
        );
        assert_eq!(used(&rows[0]), ["5 sc", "5 sc"]);
        assert_eq!(rows[0].ledger.used[1].taken, Taken::ChangedTo(1));
        assert_eq!(used(&rows[1]), ["", "10 sc, 1 ch"]);
        assert_eq!(rows[1].ledger.used[1].taken, Taken::Joined(Some(0)));
    }

    #[test]
    fn moving_along_and_closing_with_a_tall_stitch_take_yarn() {
        let rows = rows(
            "piece Net, in joined rounds\nstart ring\nrnd 1: 6 sc in ring\n\
             rnd 2: sc, [ch 5, sc] 5 times, close with ch 2 and dc = 6 sc + 6 ch-5 sp\n\
             rnd 3: move 2, [sc in next ch-5 sp, ch 3] to end\n",
        );
        assert_eq!(used(&rows[1]), ["6 sc, 1 dc, 27 ch"]);
        assert!(rows[2].ledger.used[0].slips >= 3, "{:?}", rows[2].ledger.used);
    }
}
