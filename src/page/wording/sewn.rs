//! Edges that are sewn together, and which of the copies of a piece they are of.

use crate::pattern::model::{EdgeSeam, Item, ItemKind, Kind, PartOf, Start};

use super::context::Told;
use super::label;
use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase};
use super::start::{self, Which};

/// `Sew the edge of Front where RS rows end (Rows 9–20) to the edge of Back where RS rows begin (Rows 19–30).`
pub(super) fn seam(told: Told<'_>, (index, item): (usize, &Item), seam: &EdgeSeam) -> Phrase {
    let side = |nth: usize, of: &Start, copy: &'static str| {
        let parts = parts_of(of);
        let edges = parts.iter().enumerate().map(|(part, of)| edge(told, (index, item), (nth, part), of, copy));
        Phrase::list(edges.collect(), ", then ")
    };
    let sizes = told.voice.sizes.iter().filter_map(|size| told.fabric?.sizes.get(*size));
    let mut seams = sizes.flat_map(|size| &size.sewn_rows).filter(|sewn| sewn.item == index);
    let between_copies = seams.any(|sewn| sewn.between_copies);
    let [one, other] = if between_copies {
        ["one ", "the other "]
    } else if seam.one == seam.other {
        two(told.voice, &seam.one, &seam.other)
    } else {
        [&seam.one, &seam.other].map(|side| in_turn(told, item, side))
    };
    let in_each = !between_copies && [one, other] == ["", ""] && copies_of(told.voice, seam) > 1;
    let sewn = sew(in_each).then(side(0, &seam.one, one)).say(" to ").then(side(1, &seam.other, other));
    match &seam.easing {
        Some(easing) => {
            let numbers = told.voice.numbers(easing, &item.sizes);
            sewn.say(", easing in the longer edge, which has ").then(numbers.into()).say(" more.")
        }
        None => match of_other_height(told, index) {
            Some([one, other]) => {
                sewn.say(", the ends of ").then(one.into()).say(" rows along those of ").then(other.into()).say(".")
            }
            None => sewn.say("."),
        },
    }
}

/// How many rows each side of a seam has, where these are not as many since those of one are taller.
fn of_other_height(told: Told<'_>, index: usize) -> Option<[Numbers; 2]> {
    let rows = |size: usize, side: usize| {
        let sewn = told.fabric?.sizes.get(size)?.sewn_rows.iter().find(|sewn| sewn.item == index)?;
        u32::try_from(sewn.sides.get(side)?.iter().map(Vec::len).sum::<usize>()).ok()
    };
    let of_side = |side: usize| -> Option<Vec<(usize, u32)>> {
        told.voice.sizes.iter().map(|size| Some((*size, rows(*size, side)?))).collect()
    };
    let (one, other) = (of_side(0)?, of_side(1)?);
    let of_rows = |side: &[(usize, u32)]| side.iter().all(|(_, rows)| *rows > 0);
    (one != other && of_rows(&one) && of_rows(&other))
        .then(|| [one, other].map(|side| Numbers::new(side.into_iter().map(|(size, rows)| (size, Some(rows))))))
}

/// `Sew `, once or in each copy of a piece.
pub(super) fn sew(in_each: bool) -> Phrase {
    Phrase::of(if in_each { "On each of them, sew " } else { "Sew " })
}

/// How often the piece is made that all edges of a seam are of; once where they are of several.
fn copies_of(voice: &Voice<'_>, seam: &EdgeSeam) -> u32 {
    let mut pieces = Vec::new();
    for side in [&seam.one, &seam.other] {
        side.each_edge(&mut |edge| pieces.push(edge.of_piece()));
    }
    pieces.dedup();
    match pieces.as_slice() {
        [Some(of)] => voice.pattern.pieces.get(*of).map_or(1, |piece| piece.copies),
        _ => 1,
    }
}

fn parts_of(start: &Start) -> &[Start] {
    match start {
        Start::Several(parts) => parts,
        part => std::slice::from_ref(part),
    }
}

/// One part of a side. Row ends are counted from either end by whoever is not told their rows, and so are stitches by whoever is not
/// told where they lie.
fn edge(told: Told<'_>, (index, item): (usize, &Item), at: (usize, usize), part: &Start, copy: &'static str) -> Phrase {
    let voice = told.voice;
    if !matches!(part, Start::Part(..) | Start::Rest(_)) {
        return start::edge_of(voice, part, &of(copy));
    }
    if let Some(edge) = end_of_top(told, item, part, copy) {
        return edge;
    }
    let concerned = |size: usize| item.sizes.get(size).copied().unwrap_or(true);
    let rows = in_rows(told, |size| {
        let sewn = told.fabric?.sizes.get(size).filter(|_| concerned(size))?;
        sewn.sewn_rows.iter().find(|sewn| sewn.item == index)?.sides.get(at.0)?.get(at.1)
    });
    match rows {
        Some(rows) => start::edge_of(voice, whole(part), &of(copy)).say(" (").then(rows).say(")"),
        None => start::edge_of(voice, part, &of(copy)),
    }
}

/// A copy, and nothing of its rows.
pub(super) fn of(copy: &'static str) -> Which {
    Which { copy, rows: None }
}

/// `Rows 19–30`: the rows whose ends a part of the starting edge is; nothing where it is something else.
pub(super) fn start_rows(told: Told<'_>, at: usize, part: &Start) -> Option<Phrase> {
    let is_part = matches!(part, Start::Part(..) | Start::Rest(_));
    let rows = in_rows(told, |size| told.fabric?.sizes.get(size)?.start_rows.get(at));
    rows.filter(|_| is_part && matches!(whole(part), Start::Side(..)))
}

/// The numbers of rows in each size that is shown; nothing where none has any.
fn in_rows<'a>(told: Told<'a>, rows: impl Fn(usize) -> Option<&'a Vec<u32>>) -> Option<Phrase> {
    let sizes = told.voice.sizes.iter().copied();
    let rows: Vec<(usize, Vec<u32>)> = sizes.map(|size| (size, rows(size).cloned().unwrap_or_default())).collect();
    rows.iter().any(|(_, rows)| !rows.is_empty()).then(|| label::of_each(told.voice, false, &rows))
}

/// The edge that a part is of.
pub(super) fn whole(mut of: &Start) -> &Start {
    while let Start::Part(_, _, edge) | Start::Rest(edge) = of {
        of = edge;
    }
    of
}

/// `the last row of Front (the 6 sts where RS rows begin)`: the first or the last stitches of the top of a piece in rows. The first are
/// those at the right, with the right side facing.
fn end_of_top(told: Told<'_>, item: &Item, start: &Start, copy: &'static str) -> Option<Phrase> {
    let voice = told.voice;
    let Start::Part(part, amount, top) = start else { return None };
    let Start::Top(piece) = **top else { return None };
    let end = match part {
        PartOf::First => " rows begin)",
        PartOf::Last => " rows end)",
        PartOf::Middle => return None,
    };
    if start::is_in_rounds(voice, piece) {
        return None;
    }
    let numbers = voice.numbers(amount, &item.sizes);
    let stitches = voice.kind(Kind::AnyStitch, if numbers.is_one() { Amount::One } else { Amount::Many });
    let edge = start::edge_of(voice, top, &of(copy)).say(" (the ").then(numbers.into()).say(" ").then(stitches);
    Some(edge.say(" where ").with(voice.term(Term::RightSide)).say(end))
}

/// One of two copies and the other. Of more of them nothing is said: several edges of one may be named before the next.
pub(super) fn which(nth: usize, of: usize) -> &'static str {
    match (nth, of) {
        (0, 2) => "one ",
        (1, 2) => "the other ",
        _ => "",
    }
}

/// The copies of which two sides are, where an edge of a piece that is made several times is on both of them.
pub(super) fn two(voice: &Voice<'_>, one: &Start, other: &Start) -> [&'static str; 2] {
    let copies =
        |part: &Start| part.of_piece().and_then(|piece| voice.pattern.pieces.get(piece)).map_or(1, |of| of.copies);
    let on_both = parts_of(one).iter().filter(|part| parts_of(other).contains(part));
    match on_both.map(copies).max().unwrap_or(1) {
        0 | 1 => ["", ""],
        2 => ["one ", "the other "],
        _ => ["one ", "another "],
    }
}

/// Which of the copies of its piece each edge of a start is of: the same edge once more is that of the next copy.
pub(super) fn copies(voice: &Voice<'_>, parts: &[Start]) -> Vec<&'static str> {
    let before = |at: usize, part: &Start| parts.iter().take(at).filter(|other| *other == part).count();
    let several = |piece: usize| {
        let of = voice.pattern.pieces.get(piece).map_or(1, |piece| piece.copies);
        let here = |part: &&Start| whole(part).of_piece() == Some(piece);
        let often = parts.iter().filter(here).map(|part| parts.iter().filter(|other| *other == part).count());
        if of == 2 { often.max().unwrap_or(0) } else { 0 }
    };
    // A piece has two edges of row ends, so that both may be meant.
    let copy = |(at, part): (usize, &Start)| {
        if matches!(whole(part), Start::Edge(_)) {
            return "";
        }
        whole(part).of_piece().map_or("", |piece| which(before(at, part), several(piece)))
    };
    parts.iter().enumerate().map(copy).collect()
}

/// Which of the copies of its piece a side of a seam is of, where several lines sew the same edge, one of each copy.
fn in_turn(told: Told<'_>, item: &Item, side: &Start) -> &'static str {
    let pattern = told.voice.pattern;
    let copies = side.of_piece().and_then(|piece| pattern.pieces.get(piece)).map_or(1, |piece| piece.copies);
    if copies < 2 {
        return "";
    }
    let items = pattern.pieces.iter().flat_map(|piece| &piece.items);
    let seams = items.filter_map(|item| match &item.kind {
        ItemKind::SeamEdges(seam) if seam.one == *side || seam.other == *side => Some(item.span),
        _ => None,
    });
    let seams: Vec<_> = seams.collect();
    let nth = seams.iter().position(|span| *span == item.span).unwrap_or(0);
    which(nth, seams.len())
}
