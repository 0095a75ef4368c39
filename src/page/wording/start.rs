//! How a piece is worked and where it begins.

use crate::fabric::LeadWorked;
use crate::pattern::model::{
    ItemKind, Kind, Layout, Lead, Now, Part, PartOf, Piece, Side, Sized, Start, StepKind, StitchId, before_lead,
    each_step,
};
use crate::syntax::tree::Way;
use crate::words::ordinal;

use super::begin;
use super::context::{Told, on_start, starts_with_chain};
use super::edges;
use super::label;
use super::names::{Amount, Term, Voice};
use super::opening;
use super::phrase::{Bit, Phrase};
use super::sewn;
use super::teller::{Noun, Teller};

/// What stitches are called whose loops stay on the hook until the way back (common practice, no source).
const KEPT_ON_THE_HOOK: &[&str] = &["tunisian", "afghan", "tricot"];

/// Chains in a ring from which it is long enough to be twisted by accident.
const MAY_TWIST: u32 = 20;

/// `Make 2.`; nothing for one.
#[must_use]
pub fn copies(piece: &Piece) -> Option<Phrase> {
    (piece.copies > 1).then(|| Phrase::of(format!("Make {}.", piece.copies)))
}

/// `Sizes B and C only.`, of a piece that is not made in all the sizes that are shown.
#[must_use]
pub fn for_sizes(shown: &Voice<'_>, made: &Voice<'_>) -> Option<Phrase> {
    let names: Vec<Phrase> =
        made.sizes.iter().filter_map(|size| shown.pattern.sizes.get(*size)).map(Phrase::quoted).collect();
    let word = if names.len() == 1 { "Size " } else { "Sizes " };
    let said = Phrase::of(word).then(Phrase::and(names)).say(" only.");
    (made.sizes.len() < shown.sizes.len()).then(|| Phrase(vec![Bit::Several(said)]))
}

/// How the rows or rounds of a piece are worked, and what the chain at their beginning means.
#[must_use]
pub fn worked(told: Told<'_>) -> Vec<Phrase> {
    std::iter::once(way(told, 0, "Worked")).chain(lead(told, 0)).collect()
}

/// `Work the last st of a row into the top of the turning ch, where that counts as a st`, for rows that begin with such a chain of their
/// own; of one that goes on as a space the chain is named.
#[must_use]
pub fn own_turning_chains(told: Told<'_>) -> Option<Phrase> {
    let (voice, piece) = (told.voice, told.piece);
    if piece.way_at(0) != Way::Rows || matches!(piece.lead_at(0), Lead::Counted(..)) {
        return None;
    }
    let lines = piece.items.iter().filter_map(|item| match &item.kind {
        ItemKind::Work(line) if !line.round => line.steps.get(before_lead(&line.steps)..),
        _ => None,
    });
    let mut spaces: Vec<(u32, u32)> = Vec::new();
    let mut any = false;
    for steps in lines {
        let Some(StepKind::ChainAs(tall, _)) = steps.first().map(|step| &step.kind) else { continue };
        any = true;
        if let (Some(tall), Some(StepKind::Chain(space))) = (tall.single(), steps.get(1).map(|step| &step.kind))
            && let Some(space) = space.single()
            && !spaces.contains(&(tall, space))
        {
            spaces.push((tall, space));
        }
    }
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let chain = || voice.kind(Kind::Chain, Amount::One);
    let last = Phrase::of("Work the last ").then(stitch()).say(" of a row into the top of the turning ").then(chain());
    let last = last.say(", where that counts as a ").then(stitch());
    let named = spaces.into_iter().map(|(tall, space)| {
        let nth = Phrase::of(format!("the {} ", ordinal(tall))).then(chain()).say(" of a ");
        nth.then(voice.chain_of(tall.saturating_add(space).to_string()))
    });
    let named: Vec<Phrase> = named.collect();
    let last = if named.is_empty() { last } else { last.say(" (").then(Phrase::and(named)).say(")") };
    any.then(|| last.say("."))
}

/// How the work goes on from an item on: in rows or in rounds, and what the chain at their beginning means if it is another one.
pub(super) fn goes_on(told: Told<'_>, index: usize, now: &Now) -> Phrase {
    let voice = told.voice;
    let from = index.saturating_add(1);
    let round = |amount| Phrase::default().with(voice.terms_of(Term::Round, amount));
    let stitch = |amount| voice.kind(Kind::AnyStitch, amount);
    let begun = match (now.way, now.without_turning) {
        (Way::JoinedRounds, true) => Phrase::of("Do not turn after the last row: join it into a ring with ")
            .with(voice.term(Term::SlipStitch))
            .say(" in its first ")
            .then(stitch(Amount::One))
            .say(". "),
        (Way::Spiral, true) => Phrase::of("Do not turn after the last row: the first ")
            .then(stitch(Amount::One))
            .say(" of the next ")
            .then(round(Amount::One))
            .say(" goes into its first ")
            .then(stitch(Amount::One))
            .say(". "),
        _ => Phrase::default(),
    };
    let before = told.piece.way_at(index);
    let on = match (before, now.way) {
        (Way::Spiral | Way::JoinedRounds, Way::Rows) if goes_straight_on(told, from) => {
            Phrase::of(" Go on with the first row without turning.")
        }
        _ => Phrase::default(),
    };
    let said = begun.then(way(told, from, "From here on work")).then(on);
    let lead = now.lead.is_some().then(|| lead(told, from)).flatten();
    lead.into_iter().fold(said, |said, lead| said.say(" ").then(lead))
}

/// Whether the first row from an item on faces the maker as the one before it did.
fn goes_straight_on(told: Told<'_>, from: usize) -> bool {
    let side = |size: usize| {
        let rows = told.rows(size);
        let at = rows.iter().position(|row| row.item >= from)?;
        Some(rows.get(at)?.right_side == rows.get(at.checked_sub(1)?)?.right_side)
    };
    told.voice.sizes.iter().any(|&size| side(size) == Some(true))
}

/// Rows, joined rounds or a spiral, in a sentence, as they are from an item on.
fn way(told: Told<'_>, from: usize, begin: &str) -> Phrase {
    let (voice, piece) = (told.voice, told.piece);
    let worked = |rest: &str| Phrase::of(begin).say(rest);
    let rounds = |amount| Phrase::default().with(voice.terms_of(Term::Round, amount));
    match piece.way_at(from) {
        Way::Rows => worked(" back and forth in rows: turn where a row says so."),
        Way::TunisianRows => worked(
            " in Tunisian crochet on a long hook, without turning: each row has a forward pass, in which every loop stays on the \
             hook, and a return pass: chain 1, then yarn over and draw through 2 loops, over and over until 1 loop is left. A row \
             of slip stitches does not go back.",
        ),
        Way::RowsFromOneSide if comes_back(voice, piece) => worked(
            " in rows that all begin at the same edge: do not turn. Each row goes there and back: on the way back \
             work off the loops that have stayed on the hook.",
        ),
        Way::RowsFromOneSide => worked(
            " in rows that all begin at the same edge: do not turn. Cut the yarn at the end of each row, and join it anew at the \
             beginning of the next.",
        ),
        Way::JoinedRounds if voice.brief => worked(" in joined ")
            .then(rounds(Amount::Many))
            .say(": close each with ")
            .with(voice.term(Term::SlipStitch))
            .say(" where it began, unless it says otherwise or leaves ")
            .then(voice.kind(Kind::AnyStitch, Amount::Many))
            .say(if turns(piece, from) { ", and turn where it says so." } else { "; do not turn." }),
        Way::JoinedRounds => {
            worked(" in joined ").then(rounds(Amount::Many)).say(": close each ").then(rounds(Amount::One)).say(
                if turns(piece, from) {
                    " as it says, and turn where it says so."
                } else {
                    " as it says and do not turn."
                },
            )
        }
        Way::Spiral => worked(" in a spiral: do not join and do not turn. Mark the first ")
            .then(voice.kind(Kind::AnyStitch, Amount::One))
            .say(" of each ")
            .then(rounds(Amount::One))
            .say(" and move the marker up as you go."),
    }
}

/// Whether rows that all begin at the same edge are worked there and back, with loops kept on the hook: a stitch in them is
/// called so.
fn comes_back(voice: &Voice<'_>, piece: &Piece) -> bool {
    let mut called = false;
    let is_called = |stitch: StitchId| {
        let name = voice.pattern.stitches.get(stitch).map(|stitch| stitch.names(voice.terms).full.to_lowercase());
        name.is_some_and(|name| KEPT_ON_THE_HOOK.iter().any(|word| name.contains(word)))
    };
    for item in &piece.items {
        if let ItemKind::Work(line) = &item.kind {
            each_step(&line.steps, &mut |step| {
                step.kind.each_part(&mut |part| called |= matches!(part, Part::Stitch(stitch) if is_called(stitch)));
            });
        }
    }
    called
}

/// Whether a line of joined rounds is turned at its end, from an item on as far as they are worked so.
fn turns(piece: &Piece, from: usize) -> bool {
    let worked = piece.items.iter().skip(from).take_while(|item| !matches!(item.kind, ItemKind::Now(_)));
    worked.into_iter().any(|item| match &item.kind {
        ItemKind::Work(line) => line.steps.iter().any(|step| step.kind == StepKind::Turn),
        _ => false,
    })
}

/// What the chain at the beginning of a line means, from an item on; nothing where no line is worked with it.
fn lead(told: Told<'_>, from: usize) -> Option<Phrase> {
    let (voice, piece) = (told.voice, told.piece);
    let begun = match piece.lead_at(from) {
        Lead::None => return None,
        Lead::Plain(chains) => LeadWorked::Plain(*chains),
        Lead::Counted(chains, stitch) => LeadWorked::Counted(*chains, *stitch),
    };
    let mut rows = voice.sizes.iter().flat_map(|&size| told.rows(size)).peekable();
    if rows.peek().is_some() && !rows.any(|row| row.lead == begun) {
        return None;
    }
    let round = piece.way_at(from).rounds();
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let begins = |chains: u32| {
        let chain = Phrase::default().with(voice.term(Term::Chain)).capitalised().say(&format!(" {chains}")).tied();
        chain.say(" at the beginning of a ").then(label::line_word(voice, round, Amount::One))
    };
    Some(match piece.lead_at(from) {
        Lead::None => return None,
        Lead::Plain(chains) => {
            // Where lines leave it out, somebody has to say that it is made.
            let told = if voice.brief {
                let line = label::line_word(voice, round, Amount::One);
                let begun = Phrase::of("Begin each ").then(line).say(" with ").with(voice.term(Term::Chain));
                begun.say(&format!(" {chains}, unless it says otherwise; this does not count as a ")).then(stitch())
            } else {
                begins(*chains).say(" does not count as a ").then(stitch())
            };
            let told = told.say("; work the first ").then(stitch()).say(" in the ");
            match piece.way_at(from) {
                Way::JoinedRounds => told.say("same place as the joining ").with(voice.term(Term::SlipStitch)).say("."),
                Way::Rows | Way::RowsFromOneSide | Way::TunisianRows | Way::Spiral => {
                    told.say("very first ").then(stitch()).say(" of the row below.")
                }
            }
        }
        Lead::Counted(0, counted) => Phrase::of("The loop on the hook counts as the first ")
            .with(voice.stitch(*counted))
            .say(" of a row: ")
            .say(voice.skip())
            .say(" the first ")
            .then(stitch())
            .say(". Work the last one under both loops at the edge."),
        Lead::Counted(chains, counted) => {
            counts_as(voice, begins(*chains).say(" counts as a ").with(voice.stitch(*counted)), round)
        }
    })
}

/// What a chain that counts means, behind the words that it does.
fn counts_as(voice: &Voice<'_>, told: Phrase, round: bool) -> Phrase {
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let told = told.say(" and stands on the first ").then(stitch());
    if round {
        let told = told.say(": work the next ").then(stitch());
        return told.say(" into the second one, unless told otherwise. Join in its top.");
    }
    let told = told.say(": ").say(voice.skip()).say(" that one, unless told to work into the same ").then(stitch());
    let told = told.say(". Work the last ").then(stitch()).say(" of a row into the top of the turning ");
    told.with(voice.term(Term::Chain)).say(".")
}

/// The sentence that begins a piece: `With A, ch 7.`; nothing when the text doesn't say where it begins.
#[must_use]
pub fn start(told: Told<'_>) -> Option<Phrase> {
    let (voice, piece) = (told.voice, told.piece);
    if piece.start.is_on_something() && begin::joins_itself(told) {
        let later = joined_later(told);
        let later = if piece.start_again { later.then(once_more(told)) } else { later };
        return Some(using(told).then(later).capitalised().say("."));
    }
    let begun = match &piece.start {
        Start::Unsaid => return None,
        Start::Ring => Phrase::of("make an adjustable ring"),
        Start::Chain(chains) => chain(voice, chains),
        Start::ChainRing(chains) => ring(voice, chains),
        Start::Foundation(number, stitch) => {
            let number = voice.numbers(number, &[]);
            let row = Phrase::of("work ").then(number.into()).say(" ").with(voice.stitch(*stitch));
            let row = match chain_below(voice, &piece.start) {
                Some(chain) => row.then(chain),
                None => row,
            };
            if piece.way.rounds() { row.then(into_ring(voice, Kind::AnyStitch)) } else { row }
        }
        Start::Edge(other) => on_edge(told, *other),
        Start::OtherSide(other) => on_other_side(told, *other),
        Start::Top(other) if begin::goes_on(told, *other) => return Some(going_on(told, *other).capitalised()),
        Start::Top(other) => on_top(told, *other),
        Start::Around(other) => on_all_edges(told, *other),
        Start::Several(parts) => on_several(told, parts),
        part @ (Start::Part(..) | Start::Rest(_)) => on_part(told, part),
        Start::Opening(on) => opening::on_opening(told, on, &join(voice, piece)),
        Start::Side(..) | Start::Loops(..) | Start::Through(..) | Start::Thing(..) | Start::ChainBack => {
            edges::on_edge(told, &piece.start, &join(voice, piece))
        }
    };
    let begun = if piece.start_again { begun.then(once_more(told)) } else { begun };
    Some(using(told).then(begun).capitalised().say("."))
}

/// `Do not fasten off.`, at the end of a piece whose yarn the next one, which is told, goes on with.
#[must_use]
pub fn stays_on_the_hook(next: Told<'_>, piece: usize) -> Option<Phrase> {
    let goes_on = match &next.piece.start {
        Start::Top(other) => *other == piece && begin::goes_on(next, piece),
        Start::Several(parts) => edges::is_bridged_from(next, parts, piece),
        _ => false,
    };
    goes_on.then(|| Phrase::of("Do not fasten off."))
}

/// `, in the same sts that have been worked into already`, where an edge is used once more.
fn once_more(told: Told<'_>) -> Phrase {
    let places = part_noun(told.voice, &told.piece.start);
    Phrase::of("; this edge is worked into once more, in the same ").then(places).say(" as before")
}

/// `with RS facing and 4 mm hook, `, `with A, `, as far as the maker has a choice.
fn using(told: Told<'_>) -> Phrase {
    let (voice, piece) = (told.voice, told.piece);
    let mut with: Vec<Phrase> = facing(told).into_iter().collect();
    let hooks = &voice.pattern.head.hooks;
    let named = |name: Option<&str>| hooks.iter().find(|h| h.name.as_deref() == name);
    let hook = named(piece.using.as_deref()).or_else(|| named(None));
    if let Some(hook) = hook.filter(|_| hooks.len() > 1) {
        with.push(super::head::hook_size(hook));
    }
    let joins = piece.start.is_on_something();
    if let Some(yarn) = yarn(piece).filter(|_| !joins) {
        with.push(Phrase::quoted(yarn));
    }
    if with.is_empty() { Phrase::default() } else { Phrase::of("with ").then(Phrase::and(with)).say(", ") }
}

/// `RS facing`, where a piece is worked onto another one: the side that the maker looks at in its first line.
fn facing(told: Told<'_>) -> Option<Phrase> {
    let mut sides = told.voice.sizes.iter().filter_map(|&size| told.rows(size).first()).map(|row| row.right_side);
    let worked = told.piece.start.is_on_something() && !matches!(told.piece.start, Start::Thing(..));
    let side = sides.next().filter(|_| worked)?;
    let term = if side { Term::RightSide } else { Term::WrongSide };
    sides.all(|other| other == side).then(|| Phrase::default().with(told.voice.term(term)).say(" facing"))
}

/// Whether the maker looks at the wrong side in the first line, so that edges are gone along from their other ends.
pub(super) fn from_behind(told: Told<'_>) -> bool {
    told.voice.sizes.iter().find_map(|&size| told.rows(size).first()).is_some_and(|first| !first.right_side)
}

fn yarn(piece: &Piece) -> Option<&str> {
    piece.striped_yarn(1).or(piece.yarn.as_deref())
}

fn chain(voice: &Voice<'_>, chains: &Sized) -> Phrase {
    Phrase::default().with(voice.term(Term::Chain)).say(" ").then(voice.numbers(chains, &[]).into())
}

/// ` along a ch of 22, beginning in the 2nd ch from hook`: a stitch that is no foundation stitch needs a chain to stand on, which has as many
/// chains more as the stitch is tall.
fn chain_below(voice: &Voice<'_>, start: &Start) -> Option<Phrase> {
    let Start::Foundation(number, stitch) = start else { return None };
    let stitch = voice.pattern.stitches.get(*stitch).filter(|stitch| !stitch.own && stitch.takes > 0)?;
    let values = number.values.iter().map(|number| number.saturating_add(stitch.height)).collect();
    let chains = Sized { values, ..number.clone() };
    let chain = || voice.kind(Kind::Chain, Amount::One);
    let along = Phrase::of(" along a ").then(chain()).say(" of ").then(voice.numbers(&chains, &[]).into());
    let first = ordinal(stitch.height.saturating_add(1));
    Some(along.say(&format!(", beginning in the {first} ")).then(chain()).say(" from hook"))
}

fn ring(voice: &Voice<'_>, chains: &Sized) -> Phrase {
    let ring = chain(voice, chains).then(into_ring(voice, Kind::Chain));
    let long = voice.sizes.iter().any(|size| chains.get(*size) >= MAY_TWIST);
    if long { ring.say(", taking care not to twist it") } else { ring }
}

fn into_ring(voice: &Voice<'_>, kind: Kind) -> Phrase {
    let join = Phrase::of(", join with ").with(voice.term(Term::SlipStitch)).say(" in first ");
    join.then(voice.kind(kind, Amount::One)).say(" to form a ring")
}

pub(super) fn name(voice: &Voice<'_>, index: usize) -> Phrase {
    Phrase::quoted(voice.pattern.pieces.get(index).map_or("", |p| p.name.as_str()))
}

/// `join A with sl st in `.
fn join(voice: &Voice<'_>, piece: &Piece) -> Phrase {
    joined_yarn(piece).say(" with ").with(voice.term(Term::SlipStitch)).say(" in ")
}

fn joined_yarn(piece: &Piece) -> Phrase {
    yarn(piece).map_or_else(|| Phrase::of("join yarn"), |yarn| Phrase::of("join ").then(Phrase::quoted(yarn)))
}

/// `Don’t fasten off: go on with A in the last rnd of Top.`
fn going_on(told: Told<'_>, other: usize) -> Phrase {
    let yarn = told.piece.yarn.as_deref().unwrap_or_default();
    let below = told.voice.pattern.pieces.get(other).is_some_and(|p| p.way.rounds());
    let turned = facing(told).filter(|_| turns_the_work(told, other));
    let turned = turned.map(|facing| Phrase::of("turn the work and, with ").then(facing).say(", ")).unwrap_or_default();
    let with = Phrase::of("without cutting the yarn, ").then(turned).say("go on with ");
    let with = with.then(Phrase::quoted(yarn)).say(" along the last ");
    with.then(label::line_word(told.voice, below, Amount::One)).say(" of ").then(name(told.voice, other)).say(".")
}

/// Whether a piece in rounds that goes on from the top of another one begins on the other side of it.
fn turns_the_work(told: Told<'_>, other: usize) -> bool {
    let last = |size: usize| told.pieces.get(other)?.sizes.get(size)?.rows.last().map(|row| row.right_side);
    let first = |size: usize| told.rows(size).first().map(|row| row.right_side);
    let mut sizes = told.voice.sizes.iter().map(|&size| last(size).zip(first(size)));
    told.piece.way.rounds() && sizes.all(|sides| sides.is_some_and(|(last, first)| last != first))
}

/// `work along the last row of Yoke; row 1 says where yarn is joined`.
fn joined_later(told: Told<'_>) -> Phrase {
    let along = match begin::round_layout(told) {
        Some((other, layout)) => {
            let all = all_the_way(told, layout, joined_pieces(told, other, layout));
            all.say(", from ").then(begins_at_corner(told, layout)).say(" on")
        }
        None => Phrase::of("work along ").then(edge(told.voice, &told.piece.start)),
    };
    let along = along.say("; the first ");
    along.then(label::line_word(told.voice, told.piece.way.rounds(), Amount::One)).say(" says where yarn is joined")
}

fn on_edge(told: Told<'_>, other: usize) -> Phrase {
    let join = begin::joined(told, &join(told.voice, told.piece), Phrase::of("the first row end"));
    if is_other_edge(told, other) {
        return join
            .say(" along the other edge of ")
            .then(name(told.voice, other))
            .say(" and work along its row ends there");
    }
    join.say(" of ").then(name(told.voice, other)).say(" and work along its row ends")
}

/// Whether the row ends at one edge of a piece are used by an earlier one, so that this one is worked along the other edge.
fn is_other_edge(told: Told<'_>, other: usize) -> bool {
    let pieces = &told.voice.pattern.pieces;
    let single = |piece: &Piece| piece.copies <= 1 && !piece.start_again;
    let here = pieces.iter().position(|piece| piece.span == told.piece.span).unwrap_or(0);
    let along = |piece: &&Piece| piece.start == Start::Edge(other) && single(piece);
    let before = pieces.iter().take(here).filter(along).count();
    before == 1 && single(told.piece) && pieces.get(other).is_some_and(single)
}

fn on_other_side(told: Told<'_>, other: usize) -> Phrase {
    let voice = told.voice;
    let edge = voice.pattern.pieces.get(other).map(|p| starting_edge(voice, p)).unwrap_or_default();
    let has_chain = voice.pattern.pieces.get(other).is_some_and(starts_with_chain);
    let first = voice.kind(if has_chain { Kind::Chain } else { Kind::AnyStitch }, Amount::One);
    begin::joined(told, &join(voice, told.piece), Phrase::of("the first ").then(first))
        .say(" on the other side of ")
        .then(edge)
        .say(" of ")
        .then(name(voice, other))
        .say(" and work along it")
}

/// `the starting ch`, or `the starting edge`.
pub(super) fn starting_edge(voice: &Voice<'_>, piece: &Piece) -> Phrase {
    if starts_with_chain(piece) {
        Phrase::of("the starting ").with(voice.term(Term::Chain))
    } else {
        Phrase::of("the starting edge")
    }
}

/// `join A with sl st in the first st along the last row of Front and work all the way round it: …`.
fn on_all_edges(told: Told<'_>, other: usize) -> Phrase {
    let voice = told.voice;
    let Some(inner) = voice.pattern.pieces.get(other) else { return Phrase::default() };
    let last = label::line_word(voice, inner.way.rounds(), Amount::One);
    if let Some(layout) = &inner.layout {
        let first = begins_at_corner(told, layout).say(" of ").then(joined_pieces(told, other, layout));
        let joined = begin::joined(told, &join(voice, told.piece), first).say(" and ");
        return joined.then(all_the_way(told, layout, Phrase::of("them")));
    }
    let all = on_top_first(told, other).say(" and work all the way round it");
    // A piece in rounds has no other edge than its last round.
    if inner.way.rounds() {
        return all;
    }
    let all = all.say(": along the last ").then(last);
    all.say(", down one side, along ").then(starting_edge(voice, inner)).say(" and up the other side")
}

/// `work all the way round them, back along the first row first: every side that lies outside, …`, round copies that lie side by side.
fn all_the_way(told: Told<'_>, layout: &Layout, them: Phrase) -> Phrase {
    let first = match (layout.across, layout.down) {
        (1, 1) => "",
        (1, _) => ", along a short side first",
        (_, 1) => ", along a long side first",
        _ => ", back along the first row first",
    };
    let all = Phrase::of("work all the way round ").then(them).say(first);
    let all = all.say(": every side that lies outside, with both corner ");
    all.with(told.voice.term(Term::Space)).say("s where two of them meet")
}

/// `the ch-3 sp at the outer corner of the last piece of the first row`: where the way round copies begins.
fn begins_at_corner(told: Told<'_>, layout: &Layout) -> Phrase {
    let at = match (layout.across, layout.down) {
        (1, _) | (_, 1) => " at a corner",
        _ => " at the outer corner of the last piece of the first row",
    };
    Phrase::of("the ").then(told.voice.kind(Kind::Space(layout.corners), Amount::One)).say(at)
}

fn joined_pieces(told: Told<'_>, other: usize, layout: &Layout) -> Phrase {
    Phrase::of(format!("the {} joined pieces called ", layout.copies())).then(name(told.voice, other))
}

/// `join A with sl st at the beginning and work along the last row of Back, then the row ends of Front`.
fn on_several(told: Told<'_>, parts: &[Start]) -> Phrase {
    if let Some(bridged) = edges::on_bridged(told, parts, &joined_yarn(told.piece)) {
        return bridged;
    }
    let copies = sewn::copies(told.voice, parts);
    let edges = parts.iter().zip(copies).enumerate().map(|(at, (part, copy))| {
        let edge = edge_of(told.voice, part, &Which { copy, rows: sewn::start_rows(told, at, part) });
        let along = Phrase::of(if at == 0 { "along " } else { "" }).then(edge);
        let along = edges::made_beforehand(told, parts, at).into_iter().fold(along, Phrase::then);
        // Which way that is on the body depends on where the piece is begun.
        match (part, from_behind(told)) {
            (Start::Side(_, Side::Left), false) | (Start::Side(_, Side::Right), true) => {
                along.say(" from its last row to its first")
            }
            (Start::Side(..), _) => along.say(" from its first row to its last"),
            _ => along,
        }
    });
    let edges = edges.collect();
    let join = match begin::skipped(told) {
        Some((skipped, next)) => skipped.say(", then ").then(join(told.voice, told.piece)).then(next),
        None => {
            let noun = parts.first().map_or(Noun::Place, |first| on_start(told, first));
            let first = Teller::new(told.voice, &[], false, noun).place_name(Amount::One);
            join(told.voice, told.piece).say("the first ").then(first)
        }
    };
    join.say(" and work ").then(Phrase::list(edges, ", then "))
}

/// `work along the last row of Back (last 12 sts only), joining A with sl st in the first of them`.
fn on_part(told: Told<'_>, part: &Start) -> Phrase {
    let yarn = yarn(told.piece).map_or_else(|| Phrase::of("yarn"), Phrase::quoted);
    let counted = from_the_beginning(told, part);
    let part = counted.as_ref().unwrap_or(part);
    let rows = sewn::start_rows(told, 0, part);
    let along = Phrase::of("work along ").then(edge_of(told.voice, part, &Which { copy: "", rows }));
    let along = along.say(", joining ").then(yarn);
    along.say(" with ").with(told.voice.term(Term::SlipStitch)).say(" in the first of them")
}

/// The first of the last places of a top, counted from its beginning: who has to find them begins there.
fn from_the_beginning(told: Told<'_>, part: &Start) -> Option<Start> {
    let Start::Part(PartOf::First, these, wider) = part else { return None };
    let Start::Part(PartOf::Last, last, top) = wider.as_ref() else { return None };
    let Start::Top(other) = **top else { return None };
    let all = |size: usize| {
        let ledger = &told.pieces.get(other)?.sizes.get(size)?.rows.last()?.ledger;
        (ledger.chains == 0).then_some(ledger.stitches)
    };
    let first = |(size, these): (usize, &u32)| Some(all(size)?.checked_sub(last.get(size))?.saturating_add(*these));
    let values: Vec<u32> = these.values.iter().enumerate().map(first).collect::<Option<_>>()?;
    let first = Start::Part(PartOf::First, Sized { span: these.span, values }, top.clone());
    Some(Start::Part(PartOf::Last, these.clone(), Box::new(first)))
}

/// A start as one of several.
pub(super) fn edge(voice: &Voice<'_>, start: &Start) -> Phrase {
    edge_of(voice, start, &Which::default())
}

/// What is said of an edge beside what it is.
#[derive(Debug, Default, Clone)]
pub(super) struct Which {
    /// The copy of its piece: `the last rnd of one Sleeve`, with `one ` here; nothing where there is one.
    pub copy: &'static str,
    /// The rows whose ends a part of it is.
    pub rows: Option<Phrase>,
}

impl Which {
    fn close(&self, told: Phrase) -> Phrase {
        match &self.rows {
            Some(rows) => told.say(": ").then(rows.clone()).say(")"),
            None => told.say(")"),
        }
    }
}

/// The same, of which copy of its piece and of which rows.
pub(super) fn edge_of(voice: &Voice<'_>, start: &Start, which: &Which) -> Phrase {
    let of = |edge: Phrase, other: &usize| edge.say(" of ").say(which.copy).then(name(voice, *other));
    match start {
        Start::Unsaid | Start::Ring => Phrase::of("the ring"),
        Start::Chain(chains) | Start::ChainRing(chains) => {
            let new = Phrase::from(voice.numbers(chains, &[])).say(" new ");
            new.then(voice.kind(Kind::Chain, Amount::Many))
        }
        Start::Foundation(number, stitch) => {
            Phrase::from(voice.numbers(number, &[])).say(" new ").with(voice.stitch(*stitch))
        }
        Start::Edge(other) => of(Phrase::of("the row ends"), other),
        Start::OtherSide(other) => {
            let inner = voice.pattern.pieces.get(*other).map(|p| starting_edge(voice, p)).unwrap_or_default();
            of(Phrase::of("the other side of ").then(inner), other)
        }
        // A piece in rounds has no other edge than its last round.
        Start::Around(other) if !is_in_rounds(voice, *other) => of(Phrase::of("all edges"), other),
        Start::Top(other) | Start::Around(other) => {
            let round = is_in_rounds(voice, *other);
            of(Phrase::of("the last ").then(label::line_word(voice, round, Amount::One)), other)
        }
        Start::Several(parts) => {
            Phrase::list(parts.iter().map(|part| edge_of(voice, part, which)).collect(), ", then ")
        }
        Start::Part(part_of, amount, of) => part(voice, (*part_of, amount), of, which),
        Start::Rest(of) => {
            let edge = edge_of(voice, of, &Which { rows: None, ..which.clone() });
            which.close(edge.say(" (only the ").then(part_noun(voice, of)).say(" that are still free"))
        }
        Start::Opening(on) => opening::edge(voice, on),
        Start::Side(..) | Start::Loops(..) | Start::Through(..) | Start::Thing(..) | Start::ChainBack => {
            edges::edge(voice, start, which)
        }
    }
}

pub(super) fn is_in_rounds(voice: &Voice<'_>, piece: usize) -> bool {
    voice.pattern.pieces.get(piece).is_some_and(|piece| piece.last_way().rounds())
}

/// `the last row of Back (first 12 sts only)`, `… (last 36 of first 60 sts only)`.
fn part(voice: &Voice<'_>, (which, amount): (PartOf, &Sized), of: &Start, told: &Which) -> Phrase {
    let so_many = |which, amount| {
        let which = match which {
            PartOf::First => "first ",
            PartOf::Last => "last ",
            PartOf::Middle => "middle ",
        };
        Phrase::of(which).then(voice.numbers(amount, &[]).into())
    };
    let noun = |of| Phrase::of(" ").then(part_noun(voice, of));
    // `the last rnd of Bag (only the first 4 of the sts that are still free)`.
    if let Start::Rest(whole) = of {
        let first = edge(voice, whole).say(" (only the ").then(so_many(which, amount)).say(" of the ");
        return first.then(part_noun(voice, whole)).say(" that are still free)");
    }
    let (places, whole) = match of {
        // The last of the first ones come after those before them.
        Start::Part(wider, there, whole) if which == PartOf::Last && *wider == PartOf::First => {
            let before = there.values.iter().zip(&amount.values).map(|(there, these)| there.saturating_sub(*these));
            let before = Sized { span: amount.span, values: before.collect() };
            let skipped = Phrase::of(voice.skip()).say(" ").then(so_many(PartOf::First, &before)).then(noun(whole));
            (skipped.say(", then the next ").then(voice.numbers(amount, &[]).into()), whole.as_ref())
        }
        Start::Part(wider, there, whole) => {
            (so_many(which, amount).say(" of the ").then(so_many(*wider, there)), whole.as_ref())
        }
        _ => (so_many(which, amount), of),
    };
    let edge = edge_of(voice, whole, &Which { rows: None, ..told.clone() });
    told.close(edge.say(" (").then(places).then(noun(whole)).say(" only"))
}

/// What the places of a part of an edge are called.
fn part_noun(voice: &Voice<'_>, of: &Start) -> Phrase {
    match of {
        Start::Top(_) => voice.kind(Kind::AnyStitch, Amount::Many),
        Start::OtherSide(other) if voice.pattern.pieces.get(*other).is_some_and(starts_with_chain) => {
            voice.kind(Kind::Chain, Amount::Many)
        }
        Start::Edge(_) | Start::Side(..) => Phrase::of("row ends"),
        Start::Part(_, _, of) => part_noun(voice, of),
        _ => Phrase::of("places"),
    }
}

/// `Mirror image of Left Front: …`; nothing for a piece of its own.
#[must_use]
pub fn mirror(voice: &Voice<'_>, piece: &Piece) -> Option<Phrase> {
    let other = piece.mirror_of?;
    let told = Phrase::of("The mirror image of ").then(name(voice, other));
    Some(told.say(", written out with right and wrong side exchanged."))
}

fn on_top(told: Told<'_>, other: usize) -> Phrase {
    on_top_first(told, other).say(" and work along it")
}

fn on_top_first(told: Told<'_>, other: usize) -> Phrase {
    let voice = told.voice;
    let round = voice.pattern.pieces.get(other).is_some_and(|p| p.way.rounds());
    let at = Phrase::of("the first ").then(voice.kind(Kind::AnyStitch, Amount::One));
    // The last row may have gone the other way.
    let at =
        begin::joined(told, &join(voice, told.piece), at).say(if round { " of the last " } else { " along the last " });
    at.then(label::line_word(voice, round, Amount::One)).say(" of ").then(name(voice, other))
}
