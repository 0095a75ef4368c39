//! What each node is drawn as, and what the legend says of it.

use std::collections::{BTreeMap, BTreeSet};

use crate::fabric::{Graph, GraphRow, LeadWorked, Node, What};
use crate::pattern::model::{LoopOnly, Pattern, StitchId, Terms};
use crate::stitch::{Form, Hook, Symbol};
use crate::words::clean;

/// What something is drawn as; in the order of the legend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Drawn {
    /// A symbol, and over how many places it is worked together.
    Symbol(Symbol, usize),
    /// So many chains one above the other, that count as a stitch.
    Column(u32, StitchId),
    /// The loop that is on the hook already, and counts as a stitch without being worked.
    OnHook(StitchId),
    /// The ring that a piece begins with.
    Ring,
    /// A place of something that is not crocheted.
    Thing,
    /// A letter in a box.
    Letter(StitchId),
    /// An arc at the foot for one loop.
    Loop(Hook),
    /// Nothing of its own: the skipped chains of the start are drawn.
    InStart,
}

/// What the symbols of a chart mean.
#[derive(Debug, Default)]
pub(super) struct Legend {
    entries: BTreeMap<Drawn, BTreeSet<(StitchId, Option<StitchId>)>>,
}

impl Legend {
    /// What a node is drawn as; it is then in the legend.
    pub(super) fn drawn(&mut self, pattern: &Pattern, graph: &Graph, node: &Node, feet: usize) -> Option<Drawn> {
        let row = node.row.and_then(|row| graph.rows.get(row));
        let plain = |form| Some(Drawn::Symbol(Symbol { form, legs: 1, hook: None, touch: None }, 1));
        let (drawn, id) = match node.what {
            What::Chain | What::Lead | What::Base => (plain(Form::Oval)?, pattern.stitches.chain()),
            What::Slip | What::JoinTo(_) => (plain(Form::Dot)?, pattern.stitches.slip()),
            What::Ring => (Drawn::Ring, None),
            What::Thing => (Drawn::Thing, None),
            What::CountedLead(id) => (column(pattern, row, graph.feet(node).is_empty(), id), Some(id)),
            What::Stitch(id) | What::Foundation(id) => {
                let stitch = pattern.stitches.get(id);
                // The chart shows the right side.
                let behind = stitch.and_then(|stitch| stitch.from_behind).filter(|_| !faces(row));
                let seen = behind.unwrap_or(id);
                let symbol = pattern.stitches.get(seen).and_then(|stitch| stitch.symbol);
                let drawn = symbol.map_or(Drawn::Letter(id), |symbol| Drawn::Symbol(symbol, feet.max(1)));
                self.entries.entry(drawn).or_default().insert((seen, behind.map(|_| id)));
                return Some(drawn);
            }
        };
        self.entries.entry(drawn).or_default().extend(id.map(|id| (id, None)));
        Some(drawn)
    }

    /// The side of the loop that a node stands in alone, as the right side shows it.
    pub(super) fn loop_of(&mut self, graph: &Graph, node: &Node) -> Option<Hook> {
        let faces = faces(node.row.and_then(|row| graph.rows.get(row)));
        let side = match (node.loops?, faces) {
            (LoopOnly::Front, true) | (LoopOnly::Back, false) => Hook::Front,
            (LoopOnly::Back, true) | (LoopOnly::Front, false) => Hook::Back,
        };
        self.entries.entry(Drawn::Loop(side)).or_default();
        Some(side)
    }

    /// The letter of a stitch that has no parts to draw: A, B and so on in the order of the pattern.
    pub(super) fn letter(&self, id: StitchId) -> String {
        let before = self.entries.keys().filter(|drawn| matches!(drawn, Drawn::Letter(other) if *other < id)).count();
        let letter = u32::try_from(before % 26).ok().and_then(|at| char::from_u32(u32::from('A') + at));
        letter.map(String::from).unwrap_or_default()
    }

    /// Everything that is used with what it means.
    pub(super) fn lines(&self, pattern: &Pattern, terms: Terms) -> Vec<(Drawn, String)> {
        let entries = self.entries.iter().filter(|(drawn, _)| **drawn != Drawn::InStart);
        entries.map(|(drawn, stitches)| (*drawn, told(pattern, terms, *drawn, stitches))).collect()
    }
}

fn faces(row: Option<&GraphRow>) -> bool {
    row.is_none_or(|row| row.right_side)
}

fn column(pattern: &Pattern, row: Option<&GraphRow>, is_in_start: bool, id: StitchId) -> Drawn {
    match row.map(|row| row.lead) {
        Some(LeadWorked::InStart(_)) if is_in_start => Drawn::InStart,
        Some(LeadWorked::Counted(0, of)) if of == id => Drawn::OnHook(id),
        Some(LeadWorked::Counted(chains, of)) if of == id => Drawn::Column(chains, id),
        _ => Drawn::Column(pattern.stitches.get(id).map_or(1, |stitch| stitch.height.max(1)), id),
    }
}

fn told(pattern: &Pattern, terms: Terms, drawn: Drawn, stitches: &BTreeSet<(StitchId, Option<StitchId>)>) -> String {
    let short = |id: StitchId| pattern.stitches.get(id).map_or_else(String::new, |s| clean(&s.names(terms).short));
    match drawn {
        Drawn::Ring => "ring to begin with".to_owned(),
        Drawn::Thing => "a place of what it is worked on".to_owned(),
        Drawn::Loop(Hook::Front) => "in the front loop only, as seen from the right side".to_owned(),
        Drawn::Loop(Hook::Back) => "in the back loop only, as seen from the right side".to_owned(),
        Drawn::OnHook(id) => format!("the loop on the hook, which counts as {}", short(id)),
        Drawn::Column(chains, id) => format!("ch {chains} that counts as {}", short(id)),
        Drawn::Symbol(..) | Drawn::Letter(_) | Drawn::InStart => {
            let named = |id: StitchId| {
                let names = pattern.stitches.get(id).map(|stitch| stitch.names(terms));
                names.map_or_else(String::new, |names| {
                    let told = if names.short == names.full {
                        names.short.clone()
                    } else {
                        format!("{}: {}", names.short, names.full)
                    };
                    clean(&told)
                })
            };
            let mut all: Vec<String> = stitches.iter().map(|(id, _)| named(*id)).collect();
            all.dedup();
            let worked: Vec<String> = stitches.iter().filter_map(|(_, worked)| *worked).map(short).collect();
            let mut told = all.join(" · ");
            if !worked.is_empty() {
                told.push_str(&format!("; on the wrong side worked as {}", worked.join(", ")));
            }
            told
        }
    }
}
