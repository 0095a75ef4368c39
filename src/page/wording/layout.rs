//! Copies that lie side by side: how the first, those at an edge and those inside are joined.

use crate::fabric::{Joined, LaidOut};
use crate::pattern::model::{Kind, Layout};

use super::context::Told;
use super::names::{Amount, Term};
use super::phrase::{Numbers, Phrase};

/// A number that a layout has in a size.
type What = fn(LaidOut) -> u32;

/// What is said of a layout: a paragraph for all, the first, those at the top and the left edge, and those inside.
#[must_use]
pub fn layout(told: Told<'_>) -> Vec<Phrase> {
    let Some(layout) = &told.piece.layout else { return Vec::new() };
    if told.voice.sizes.iter().all(|size| laid_out(told, *size).is_none()) {
        return Vec::new();
    }
    let of = |what: What| Numbers::new(told.voice.sizes.iter().map(|&size| (size, laid_out(told, size).map(what))));
    match layout.joined {
        Some(chains) => joined(told, layout, chains, &of),
        None => sewn(told, layout, &of),
    }
}

/// What is known of the layout in a size.
fn laid_out(told: Told<'_>, size: usize) -> Option<LaidOut> {
    told.fabric?.sizes.get(size)?.laid_out
}

/// The layout where its copies have six corners.
fn hexagons(told: Told<'_>) -> Option<LaidOut> {
    told.voice.sizes.iter().find_map(|&size| laid_out(told, size).filter(|laid| laid.corners > 4))
}

/// Sewn together when all are done.
fn sewn(told: Told<'_>, layout: &Layout, of: &dyn Fn(What) -> Numbers) -> Vec<Phrase> {
    let voice = told.voice;
    let stitches = |numbers| Phrase::from(numbers).say(" ").then(voice.kind(Kind::AnyStitch, Amount::Many));
    let (top, left) = (of(|laid| laid.sides[0]), of(|laid| laid.sides[1]));
    let along = if top.reads_as(&left) {
        stitches(top).say(" a side")
    } else {
        stitches(top).say(" across and ").then(stitches(left)).say(" down")
    };
    let all =
        arranged(told, layout).say(". Sew each to those beside it, ").then(voice.kind(Kind::AnyStitch, Amount::One));
    let all = all.say(" for ").then(voice.kind(Kind::AnyStitch, Amount::One)).say(": ").then(along);
    vec![all.say(". The corners are the ").then(voice.kind(Kind::Space(layout.corners), Amount::Many)).say(".")]
}

/// `Lay the 20 Square pieces out 5 across and 4 down`.
fn arranged(told: Told<'_>, layout: &Layout) -> Phrase {
    let all = Phrase::of(format!("Lay the {} pieces called ", layout.copies())).then(Phrase::quoted(&told.piece.name));
    let further = if hexagons(told).is_some() && layout.down > 1 {
        ", every second row half a piece further to the right"
    } else {
        ""
    };
    all.say(&format!(" out, {} across and {} down{further}, all with ", layout.across, layout.down))
        .with(told.voice.term(Term::RightSide))
        .say(" up")
}

/// Joined as the last round is worked.
fn joined(told: Told<'_>, layout: &Layout, chains: u32, of: &dyn Fn(What) -> Numbers) -> Vec<Phrase> {
    let voice = told.voice;
    let space = |chains: u32, amount| voice.kind(Kind::Space(chains), amount);
    let last = || Phrase::of("the last ").with(voice.term(Term::Round));
    let all = arranged(told, layout).say(", and join them as ").then(last()).say(" is worked, row by row.");
    let how = |chains: u32| {
        let slip = Phrase::default().with(voice.term(Term::SlipStitch));
        let (before, after) = around_slip(chains);
        let chain = |count: u32| Phrase::default().with(voice.term(Term::Chain)).say(&format!(" {count}"));
        let mut parts = Vec::new();
        parts.extend((before > 0).then(|| chain(before)));
        parts.push(slip.say(" in the ").then(space(chains, Amount::One)).say(" across from it"));
        parts.extend((after > 0).then(|| chain(after)));
        Phrase::list(parts, ", ").say(" in place of ").then(chain(chains))
    };
    let joins = all.say(" Where a side lies beside one that is done: ");
    // Some are joined at their corners alone.
    let joins =
        if chains == layout.corners { joins } else { joins.say("along the side work ").then(how(chains)).say("; ") };
    let joins = joins.say("at both its corners work ").then(how(layout.corners));
    let joins = joins.say(". Where corners meet that are joined already, join to the same place.");
    let first = Phrase::of("The first: work ").then(last()).say(" as it is written.");
    [joins, first].into_iter().chain(others(told, layout, of)).collect()
}

/// Those that are joined: of the top row, of the left column, and inside.
fn others(told: Told<'_>, layout: &Layout, of: &dyn Fn(What) -> Numbers) -> Vec<Phrase> {
    if let Some(laid) = hexagons(told) {
        return beside_sides(told, layout, laid);
    }
    let (across, down) = (layout.across.saturating_sub(1), layout.down.saturating_sub(1));
    let mut told = Vec::new();
    if across > 0 {
        let count = of(|laid| laid.sides[1].saturating_add(2));
        let begin = if across == 1 { "The other one".to_owned() } else { format!("The other {across}") };
        let how = " of the first row: join along the side beside the one before, ";
        told.push(those(&begin, how, count, ", 2 of them at corners."));
    }
    if down > 0 {
        let count = of(|laid| laid.sides[0].saturating_add(2));
        let begin = match down {
            1 => "The other one that begins a row".to_owned(),
            down => format!("The other {down} that begin a row"),
        };
        told.push(those(&begin, ": join along the side beside the row before, ", count, ", 2 of them at corners."));
    }
    if across > 0 && down > 0 {
        let count = of(|laid| laid.sides[0].saturating_add(laid.sides[1]).saturating_add(3));
        let inside = across.saturating_mul(down);
        let begin = if inside == 1 { "The last one".to_owned() } else { format!("The {inside} others") };
        told.push(those(&begin, ": join along both of these sides, ", count, ", 3 of them at corners."));
    }
    told
}

/// Hexagons: by how many sides of theirs lie beside one that is done.
fn beside_sides(told: Told<'_>, layout: &Layout, laid: LaidOut) -> Vec<Phrase> {
    let sort = |(at, joined): (usize, Joined)| {
        let how = match joined.sides {
            1 => " beside one that is done: join along that side, ".to_owned(),
            sides => format!(" beside {sides} that are done: join along those sides, "),
        };
        let begin = match joined.copies {
            1 => "The one that lies".to_owned(),
            copies => format!("The {copies} that lie"),
        };
        let joins = |size: usize| Some(laid_out(told, size)?.joined(layout).get(at)?.joins);
        let count = Numbers::new(told.voice.sizes.iter().map(|&size| (size, joins(size))));
        those(&begin, &how, count, &format!(", {} of them at corners.", joined.sides + 1))
    };
    laid.joined(layout).into_iter().enumerate().filter(|(_, joined)| joined.sides > 0).map(sort).collect()
}

/// `The other 4 of the top row: join along the left side, 5 joins, 2 of them at corners.`
fn those(begin: &str, how: &str, joins: Numbers, end: &str) -> Phrase {
    Phrase::of(format!("{begin}{how}")).then(joins.into()).say(" joins").say(end)
}

/// Chains before and behind the slip stitch that takes the place of the middle of a space (common practice, no source).
fn around_slip(chains: u32) -> (u32, u32) {
    let half = chains / 2;
    (half, half)
}
