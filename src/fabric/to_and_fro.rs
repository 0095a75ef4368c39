//! A small piece within a line: turned to and fro on some of its places, and gone on from.

use std::sync::Arc;

use super::cursor::Cursor;
use super::edge::{Edge, Slot, Top, places, reverse};
use super::fault::{FaultKind, Tab};
use super::fold;
use super::hand::{Hand, Outcome, counted, trouble};
use super::ledger::LeadWorked;
use super::tape::{Event, Fro};
use crate::diagnostic::Span;
use crate::pattern::model::{Part, Step, StepKind};

/// Where the line stood when the small piece was turned first.
#[derive(Debug, Clone)]
pub(super) struct Outside {
    now: Cursor,
    edge: Arc<Edge>,
}

impl Hand<'_> {
    /// Works a small piece: its first row on the places of the line, each further one back along the row before.
    pub(super) fn to_and_fro(&mut self, steps: &[Step], row_ends: bool, span: Span) -> Outcome {
        if self.now.fro > 0 {
            return trouble(span, FaultKind::Tab(Tab::Within));
        }
        if self.now.in_place > 0 {
            return trouble(span, FaultKind::Tab(Tab::OnePlace));
        }
        if let Some(turn) = last_turn(steps) {
            return trouble(turn, FaultKind::Tab(Tab::TurnLast));
        }
        if row_ends && self.now.repeats > 0 {
            return trouble(span, FaultKind::Tab(Tab::EndsRepeated));
        }
        self.leave_side();
        self.leave_standing();
        // Chains before it are none of its own.
        self.now.run = 0;
        self.tape.write(Event::Fro(Fro::Begins));
        (self.now.fro, self.now.fro_within) = (1, self.now.repeats);
        self.steps(steps)?;
        if self.now.ghost {
            // What it would have come to isn't known; the line goes on.
            (self.now.fro, self.now.row_begins) = (0, false);
            return Ok(());
        }
        let end = steps.last().filter(|step| step.kind == StepKind::Turn).map_or(span, |step| step.span);
        self.end_of_tab(row_ends, end)
    }

    /// What may not stand in a small piece: what ends a line, begins one, or goes elsewhere.
    pub(super) fn may_stand_in_tab(&self, step: &Step) -> Outcome {
        let may = match &step.kind {
            StepKind::Lead(_) => self.now.row_begins,
            StepKind::SetAside(..)
            | StepKind::Leave(_)
            | StepKind::Move(_)
            | StepKind::OtherSide
            | StepKind::FastenOff
            | StepKind::Rejoin(..)
            | StepKind::Close(..)
            | StepKind::Behind(_)
            | StepKind::Through(..)
            | StepKind::Grid(_)
            | StepKind::JoinTo(..)
            | StepKind::TurningAs(..) => false,
            StepKind::Work(_)
            | StepKind::Group(..)
            | StepKind::Together(..)
            | StepKind::Repeat(_)
            | StepKind::Chain(_)
            | StepKind::ChainAs(..)
            | StepKind::Skip(..)
            | StepKind::Turn
            | StepKind::Mark(_)
            | StepKind::Go(_)
            | StepKind::ChangeTo(_)
            | StepKind::Evenly(_)
            | StepKind::Colours(_)
            | StepKind::ToAndFro(..) => true,
        };
        if may || self.now.ghost { Ok(()) } else { trouble(step.span, FaultKind::Tab(Tab::NoSuchStep)) }
    }

    /// The first step of a row of a small piece: the chain that it turns with, which is no stitch. Gives back whether the
    /// step is that chain itself.
    pub(super) fn begins_row(&mut self, step: &Step) -> Outcome<bool> {
        if matches!(step.kind, StepKind::Repeat(_) | StepKind::ChangeTo(_) | StepKind::Mark(_) | StepKind::Turn) {
            return Ok(false);
        }
        self.now.row_begins = false;
        let (lead, own) = match &step.kind {
            StepKind::Lead(lead) => (super::lead::worked(lead), true),
            StepKind::Chain(chains) => (LeadWorked::Plain(chains.get(self.size)), true),
            StepKind::ChainAs(chains, stitch) => (LeadWorked::Counted(chains.get(self.size), *stitch), true),
            // The rows of a stitch of the designer's own are the same in every piece.
            _ if self.now.depth > 0 => (LeadWorked::None, false),
            _ => (self.piece_lead, false),
        };
        match lead {
            LeadWorked::None | LeadWorked::InStart(_) | LeadWorked::Plain(0) => {}
            LeadWorked::Plain(chains) => {
                let outside = self.now.lead_node;
                self.plain_lead(chains);
                self.now.lead_node = outside;
            }
            LeadWorked::Counted(chains, stitch) => {
                self.tape.write(Event::LeadChains(chains));
                self.counted_lead(stitch, step.span)?;
            }
        }
        Ok(own)
    }

    /// Turns a small piece: the stitches of its last row are what the next one goes along.
    pub(super) fn turn_tab(&mut self, span: Span) -> Outcome {
        if self.now.ghost {
            return Ok(());
        }
        if self.now.repeats > self.now.fro_within {
            return trouble(span, FaultKind::Tab(Tab::TurnRepeated));
        }
        if self.now.in_place > 0 {
            return trouble(span, FaultKind::Tab(Tab::OnePlace));
        }
        self.leave_side();
        self.leave_standing();
        let mut made = self.row_of_tab(span)?;
        if self.now.fro == 1 {
            self.outside = Some(Box::new(Outside { now: self.now, edge: Arc::clone(&self.edge) }));
        }
        self.tape.write(Event::Fro(Fro::Turned));
        self.tape.keep(Arc::clone(&self.edge));
        let laid = self.now.laid.saturating_sub(made.len());
        reverse(&mut made);
        let edge = Edge { slots: made, ..Edge::default() };
        let begun = Cursor::at_the_beginning(&edge, self.now.node);
        self.now = Cursor { laid, fro: self.now.fro.saturating_add(1), row_begins: true, ..self.goes_on(&begun) };
        self.edge = Arc::new(edge);
        Ok(())
    }

    /// The places that the present row of a small piece has made, when it has used those of the row before.
    fn row_of_tab(&self, span: Span) -> Outcome<Vec<Slot>> {
        if self.now.row_begins {
            return trouble(span, FaultKind::Tab(Tab::TurnedTwice));
        }
        let left = self.edge.slots.get(self.now.at..).unwrap_or_default();
        if self.now.fro > 1 && !left.is_empty() {
            return trouble(span, FaultKind::Tab(Tab::Left { row: self.now.fro, left: places(left) }));
        }
        self.look_at(self.tape.events().len());
        let made = fold::tab(self).made;
        if made.is_empty() { trouble(span, FaultKind::Tab(Tab::TurnedTwice)) } else { Ok(made) }
    }

    /// A place to begin, with what is counted through the whole line.
    fn goes_on(&self, place: &Cursor) -> Cursor {
        let now = self.now;
        Cursor {
            laid: now.laid,
            stitches: now.stitches,
            node: now.node,
            groups: now.groups,
            taken: now.taken,
            chances: now.chances,
            feet_from: self.tape.next_foot(),
            here: None,
            stood: false,
            ghost: now.ghost,
            depth: now.depth,
            quiet: now.quiet,
            repeats: now.repeats,
            fro_within: now.fro_within,
            lead: now.lead,
            lead_node: now.lead_node,
            plain_lead: now.plain_lead,
            hook_skip: now.hook_skip,
            widened: now.widened,
            went_round: now.went_round,
            widest_gap: now.widest_gap,
            widest_further_on: now.widest_further_on,
            on_chain: now.on_chain,
            ..*place
        }
    }

    /// The small piece is done on the side on which it began to be gone on from; the line goes on behind its places.
    fn end_of_tab(&mut self, row_ends: bool, span: Span) -> Outcome {
        let rows = self.now.fro;
        self.row_of_tab(span)?;
        let fault = match rows {
            1 => Some(Tab::NoTurn),
            rows if rows % 2 == 0 => Some(Tab::EndsAway { rows }),
            _ => None,
        };
        if let Some(fault) = fault {
            return trouble(span, FaultKind::Tab(fault));
        }
        let Some(outside) = self.outside.clone() else { return Ok(()) };
        let fold::TabRows { ends, .. } = fold::tab(self);
        self.tape.write(Event::Fro(Fro::Ends { row_ends }));
        self.tape.keep(std::mem::replace(&mut self.edge, Arc::clone(&outside.edge)));
        let run = self.now.run;
        let along = Cursor { run, in_last_place: 0, skipped: (0, 0), strip: false, side: 0, ..outside.now };
        self.now = Cursor { fro: 0, row_begins: false, ..self.goes_on(&along) };
        if row_ends {
            self.row_ends_of_tab(&ends);
        }
        Ok(())
    }

    /// The ends of its rows become places: those of the side where the hook is come next, from the top down, and those of the
    /// other side lie before its last row.
    fn row_ends_of_tab(&mut self, ends: &[(u32, u32)]) {
        let down = ends.iter().rev().map(|(_, at_hook)| Slot { node: *at_hook, ..Slot::new(Top::RowEnd) });
        let (at, down): (usize, Vec<Slot>) = (self.now.at, down.collect());
        let count = down.len();
        self.change_edge(|slots| {
            let at = at.min(slots.len());
            drop(slots.splice(at..at, down));
        });
        self.now.limit = self.edge.slots.len();
        self.now.laid += count;
        self.now.account.offered = self.now.account.offered.saturating_add(counted(count));
    }
}

/// A turn that is the last step of a repeat: what comes after it would depend on the pass.
fn last_turn(steps: &[Step]) -> Option<Span> {
    let mut found = None;
    for step in steps {
        step.kind.each_part(&mut |part| {
            if let Part::Steps(within) = part {
                let last = within.last().filter(|step| step.kind == StepKind::Turn).map(|step| step.span);
                found = found.or(last).or_else(|| last_turn(within));
            }
        });
    }
    found
}
