//! Work that begins on an edge by its name, through two edges at once, or on something that is not crocheted.

use crate::pattern::model::{ItemKind, Kind, LoopOnly, Side, Start};
use crate::pattern::plan::Plan;

use super::begin;
use super::context::Told;
use super::label;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;
use super::sewn;
use super::start::{self, Which, name};

/// `join A with sl st in the row end at the top of the edge of Front where RS rows end and work down along its row ends`.
pub(super) fn on_edge(told: Told<'_>, on: &Start, join: &Phrase) -> Phrase {
    let voice = told.voice;
    match on {
        Start::Side(piece, side) => {
            let (first, way) = match (side, start::from_behind(told)) {
                (Side::Left, false) | (Side::Right, true) => ("the row end at the top of ", "down"),
                (Side::Right, false) | (Side::Left, true) => ("the row end at the bottom of ", "up"),
            };
            let first = Phrase::of(first).then(side_edge(voice, *piece, *side, ""));
            begin::joined(told, join, first).say(" and work ").say(way).say(" along its row ends")
        }
        Start::Loops(piece, number, loops) => {
            let first = Phrase::of("the first of ").then(edge(voice, on, &Which::default()));
            let along = begin::joined(told, join, first).say(" and work along them");
            lie_behind(told, *piece, *number, *loops).map_or_else(|| along.clone(), |behind| along.clone().then(behind))
        }
        Start::Through(one, other) => {
            let [front, behind] = sewn::two(voice, one, other);
            let held = held_together(told, Start::lie_alike(one, other))
                .then(start::edge_of(voice, one, &sewn::of(front)))
                .say(" in front of ");
            let held = held.then(start::edge_of(voice, other, &sewn::of(behind))).say(", ");
            begin::joined(told, &held.then(join.clone()), Phrase::of("the first place of both"))
                .say(" and work through both layers")
        }
        Start::Thing(Some(places), what) => {
            let first = Phrase::of("the first of ").then(voice.numbers(places, &[]).into()).say(" places on ");
            begin::joined(told, join, first.then(Phrase::quoted(what))).say(" and work along them")
        }
        Start::Thing(None, what) => join.clone().then(Phrase::quoted(what)).say(" and work over it as into a ring"),
        other => begin::joined(told, join, start::edge(voice, other)),
    }
}

/// `hold the edges with WS together, `: which sides of two layers touch, so that their first places lie one on the other.
fn held_together(told: Told<'_>, alike: bool) -> Phrase {
    let right_side = !start::from_behind(told);
    let side = |right: bool| told.voice.term(if right { Term::RightSide } else { Term::WrongSide });
    if alike {
        return Phrase::of("hold the edges together, ").with(side(right_side)).say(" of both facing, ");
    }
    Phrase::of("hold the edges with ").with(side(!right_side)).say(" together, ")
}

/// ` (Row 6, which left them, was worked with WS facing, so they lie at the back)`, where the first line has the other side up than the row
/// that left the loops.
fn lie_behind(told: Told<'_>, piece: usize, number: u32, loops: LoopOnly) -> Option<Phrase> {
    let voice = told.voice;
    let of = voice.pattern.pieces.get(piece)?;
    let mut above: Vec<(usize, Vec<u32>)> = Vec::new();
    let mut side = None;
    for &size in &voice.sizes {
        let number = Plan::of(of, size).number_of(number)?.saturating_add(1);
        let rows = &told.pieces.get(piece)?.sizes.get(size)?.rows;
        let row = rows.iter().find(|row| row.number == number)?;
        if told.rows(size).first()?.right_side == row.right_side {
            return None;
        }
        side = Some(row.right_side);
        above.push((size, vec![number]));
    }
    let term = if side? { Term::RightSide } else { Term::WrongSide };
    let row = label::of_each(voice, of.last_way().rounds(), &above);
    let told = Phrase::of(" (").then(row).say(", which left them, was worked with ").with(voice.term(term));
    let there = if loops == LoopOnly::Front { "at the back)" } else { "in front)" };
    Some(told.say(" facing, so they lie ").say(there))
}

/// `ch 4 from the last rnd of Right Leg and join it with sl st to the last rnd of Left Leg; work along …`, where a chain goes
/// from one piece to another and is worked along on both sides.
pub(super) fn on_bridged(told: Told<'_>, parts: &[Start], join: &Phrase) -> Option<Phrase> {
    let voice = told.voice;
    let at = parts.iter().position(|part| matches!(part, Start::Chain(_)))?;
    let (first, Start::Chain(chains), from) = (parts.first()?, parts.get(at)?, parts.get(at + 1)?) else { return None };
    if !parts.contains(&Start::ChainBack) || at == 0 {
        return None;
    }
    let copies = sewn::copies(voice, parts);
    let of_copy = |part: &Start, copy: &'static str| start::edge_of(voice, part, &sewn::of(copy));
    // The copy that the chain comes from is named first.
    let swapped = copies.get(at.saturating_add(1)).is_some_and(|copy| *copy == "the other ");
    let nth = |at: usize| match copies.get(at).copied().unwrap_or_default() {
        "one " if swapped => "the other ",
        "the other " if swapped => "one ",
        copy => copy,
    };
    let slip = || Phrase::default().with(voice.term(Term::SlipStitch));
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let chain = Phrase::default().with(voice.term(Term::Chain)).say(" ").then(voice.numbers(chains, &[]).into());
    let begun = if goes_on_from(told, from) {
        let before = from.of_piece().map(|of| name(voice, of)).unwrap_or_default();
        Phrase::of("without cutting the yarn of ").then(before).say(", ").then(chain)
    } else {
        let last = join.clone().say(" with ").then(slip()).say(" in the last ").then(stitch()).say(" of ");
        last.then(of_copy(from, nth(at.saturating_add(1)))).say(", ").then(chain)
    };
    let begun = begun.say(" and join it with ").then(slip()).say(" to the first ").then(stitch()).say(" of ");
    let edges = parts.iter().enumerate().map(|(at, part)| match part {
        Start::Chain(chains) => {
            let these = Phrase::of("these ").then(voice.numbers(chains, &[]).into()).say(" ");
            these.then(voice.kind(Kind::Chain, Amount::Many))
        }
        part => of_copy(part, nth(at)),
    });
    let edges = Phrase::and(edges.collect());
    Some(begun.then(of_copy(first, nth(0))).say(". Then work along ").then(edges))
}

/// ` (made beforehand, from a sl st in the last place of the last row of Back to one in the first place of the last row of Front)`: new
/// chains of a start are there before it is worked along, and hang on its neighbours.
pub(super) fn made_beforehand(told: Told<'_>, parts: &[Start], at: usize) -> Option<Phrase> {
    let Start::Chain(_) = parts.get(at)? else { return None };
    let round = told.piece.way.rounds();
    let neighbour = |at: Option<usize>, round_to: Option<&Start>| {
        let beside = at.and_then(|at| parts.get(at)).or(round_to.filter(|_| round));
        beside.map(|edge| start::edge(told.voice, edge))
    };
    let before = neighbour(at.checked_sub(1), parts.last());
    let after = neighbour(at.checked_add(1), parts.first());
    let slip = || Phrase::default().with(told.voice.term(Term::SlipStitch));
    let made = Phrase::of(" (made beforehand, ");
    let told = match (before, after) {
        (Some(before), Some(after)) => {
            let from = made.say("from a ").then(slip()).say(" in the last place of ").then(before);
            from.say(" to one in the first place of ").then(after)
        }
        (None, Some(after)) => made.say("and joined with ").then(slip()).say(" to the first place of ").then(after),
        (Some(before), None) => made.say("beginning with a ").then(slip()).say(" in the last place of ").then(before),
        (None, None) => return None,
    };
    Some(told.say(")"))
}

/// `the edge of Front where RS rows end`: which edge lies on the left depends on the hand that holds the hook.
fn side_edge(voice: &Voice<'_>, piece: usize, side: Side, which: &str) -> Phrase {
    let edge =
        Phrase::of("the edge of ").say(which).then(name(voice, piece)).say(" where ").with(voice.term(Term::RightSide));
    edge.say(if side == Side::Left { " rows end" } else { " rows begin" })
}

/// Whether a chain from one piece to another is made without cutting the yarn of the piece that it comes from.
pub(super) fn is_bridged_from(told: Told<'_>, parts: &[Start], piece: usize) -> bool {
    let bridge = parts.iter().position(|part| matches!(part, Start::Chain(_))).filter(|at| *at > 0);
    let from = bridge.and_then(|at| parts.get(at.saturating_add(1))).filter(|from| **from == Start::Top(piece));
    parts.contains(&Start::ChainBack) && from.is_some_and(|from| goes_on_from(told, from))
}

/// Whether the piece before this one ends with the edge, its yarn uncut and the one that goes on.
fn goes_on_from(told: Told<'_>, edge: &Start) -> bool {
    let pieces = &told.voice.pattern.pieces;
    let here = pieces.iter().position(|piece| piece.span == told.piece.span);
    let Some(before) = here.and_then(|here| here.checked_sub(1)).filter(|before| *edge == Start::Top(*before)) else {
        return false;
    };
    let Some(piece) = pieces.get(before) else { return false };
    let last = piece.items.iter().rev().find(|item| !matches!(item.kind, ItemKind::Words(_)));
    let uncut = last.is_some_and(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)));
    let changed = piece.items.iter().rev().find_map(|item| match &item.kind {
        ItemKind::ChangeTo(yarn) => Some(yarn),
        _ => None,
    });
    let yarn = changed.or(piece.yarn.as_ref());
    uncut && piece.copies <= 1 && (told.piece.yarn.is_none() || told.piece.yarn.as_ref() == yarn)
}

/// Such an edge as one of several.
pub(super) fn edge(voice: &Voice<'_>, start: &Start, told: &Which) -> Phrase {
    match start {
        Start::Side(piece, side) => side_edge(voice, *piece, *side, told.copy),
        Start::Loops(piece, number, loops) => {
            let which = if *loops == LoopOnly::Front { "the free front loops of " } else { "the free back loops of " };
            let Some(of) = voice.pattern.pieces.get(*piece) else { return Phrase::of(which) };
            let line = label::by_number(voice, of, (of.way.rounds(), *number), &[]);
            Phrase::of(which).then(line).say(" of ").say(told.copy).then(name(voice, *piece))
        }
        Start::Through(one, other) => {
            let [front, behind] = sewn::two(voice, one, other);
            let one = start::edge_of(voice, one, &sewn::of(front)).say(" and ");
            one.then(start::edge_of(voice, other, &sewn::of(behind))).say(" together")
        }
        Start::Thing(_, what) => Phrase::quoted(what),
        _ => Phrase::of("the other side of these ").then(voice.kind(Kind::Chain, Amount::Many)),
    }
}
