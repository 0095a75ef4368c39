//! What ends a piece, and what puts pieces together.

use crate::pattern::model::{Item, ItemKind, Kind, Piece, SeamSide, Sized, StitchId, Surface, Trim, TrimKind};
use crate::pattern::plan::Plan;

use super::context::Told;
use super::head;
use super::label;
use super::names::{Amount, Voice};
use super::phrase::Phrase;
use super::placed;
use super::sewn;
use super::start;
use super::yarns;

/// Whether an item belongs to the finishing of the work and not to the piece itself.
#[must_use]
pub fn is_finishing(item: &ItemKind) -> bool {
    match item {
        ItemKind::Seam(..)
        | ItemKind::SeamEdges(_)
        | ItemKind::Sew { .. }
        | ItemKind::Trim(_)
        | ItemKind::Surface(_) => true,
        ItemKind::Work(_)
        | ItemKind::Words(_)
        | ItemKind::Again(_)
        | ItemKind::FastenOff
        | ItemKind::Gather(_)
        | ItemKind::Place(_)
        | ItemKind::ChangeTo(_)
        | ItemKind::Now(_)
        | ItemKind::Using(_) => false,
    }
}

/// The sentence of an item that is no row and no words; nothing for those.
#[must_use]
pub fn ending(told: Told<'_>, index: usize, item: &Item) -> Option<Phrase> {
    let voice = told.voice;
    let sentence = match &item.kind {
        ItemKind::Work(_) | ItemKind::Words(_) | ItemKind::Again(_) => return None,
        ItemKind::FastenOff if needs_tail(told, index) => Phrase::of("Fasten off, leaving a long tail."),
        ItemKind::FastenOff => Phrase::of("Fasten off."),
        ItemKind::ChangeTo(yarn) if yarns::in_hand(told, index) == Some(yarn.as_str()) => return None,
        ItemKind::ChangeTo(_) if is_said_by_row(told, index) => return None,
        ItemKind::ChangeTo(yarn) if is_cut(told, index) => Phrase::of("Join ").then(Phrase::quoted(yarn)).say("."),
        ItemKind::ChangeTo(yarn) => Phrase::of("Change to ").then(Phrase::quoted(yarn)).say("."),
        ItemKind::Using(name) => other_hook(told, name),
        ItemKind::Now(now) => start::goes_on(told, index, now),
        ItemKind::Gather(number) => gather(told, index, item, number.as_ref()),
        ItemKind::Seam(..) => return Some(seam(told, index, item)),
        ItemKind::SeamEdges(seam) => sewn::seam(told, (index, item), seam),
        ItemKind::Sew { piece, to, over } => sew(told, item, (*piece, *to), over.as_ref()),
        ItemKind::Trim(trim) => put_on(told, item, trim),
        ItemKind::Surface(surface) => surface_line(told, item, surface),
        ItemKind::Place(placing) => placed::placed(told, (index, item), placing)?,
    };
    Some(label::only(voice, &item.sizes).then(sentence))
}

/// `Sew Row 1 to Row 32 (36).`, in all sizes that the line of the text is for.
fn seam(told: Told<'_>, index: usize, item: &Item) -> Phrase {
    let sewn = || told.sewn_in_one(index).map(|(_, item)| item);
    let in_size = |size: usize| sewn().find(|item| item.sizes.get(size).copied().unwrap_or(true));
    let sizes: Vec<bool> = (0..told.voice.pattern.sizes.len()).map(|size| in_size(size).is_some()).collect();
    let item = &Item { sizes, ..item.clone() };
    let numbered = |nth: usize| {
        move |size: usize| match (&in_size(size)?.kind, nth) {
            (ItemKind::Seam(SeamSide::Row(number), _), 0) | (ItemKind::Seam(_, SeamSide::Row(number)), 1) => {
                Plan::of(told.piece, size).number_of(*number)
            }
            _ => None,
        }
    };
    let round = told.piece.way.rounds();
    let told_side = |nth: usize, side: &SeamSide| {
        let numbers: Vec<(usize, Vec<u32>)> =
            told.voice.sizes.iter().map(|&size| (size, numbered(nth)(size).into_iter().collect())).collect();
        match side {
            SeamSide::Row(_) if numbers.iter().any(|(_, numbers)| !numbers.is_empty()) => {
                label::of_each(told.voice, round, &numbers)
            }
            side => self::side(told, item, side),
        }
    };
    let ItemKind::Seam(one, other) = &item.kind else { return Phrase::default() };
    let sewn = Phrase::of("Sew ").then(told_side(0, one)).say(" to ").then(told_side(1, other)).say(".");
    label::only(told.voice, &item.sizes).then(sewn)
}

/// `Change to the 3 mm hook.`, or by the gauge where only that is named.
fn other_hook(told: Told<'_>, name: &str) -> Phrase {
    let head = &told.voice.pattern.head;
    let named = |other: &Option<String>| other.as_deref().is_some_and(|other| other.eq_ignore_ascii_case(name));
    let hook = head.hooks.iter().find(|hook| named(&hook.name)).map(super::head::hook_size);
    let gauge = head.gauges.iter().find(|gauge| named(&gauge.name));
    let gauge = gauge.map(|gauge| super::head::gauge_alone(told.voice, gauge));
    let gauge = gauge.map(|gauge| Phrase::of("work from here on to the gauge of ").then(gauge));
    match (hook, gauge) {
        (Some(hook), None) => Phrase::of("Change to the ").then(hook).say("."),
        (Some(hook), Some(gauge)) => Phrase::of("Change to the ").then(hook).say(" and ").then(gauge).say("."),
        (None, gauge) => gauge.unwrap_or_default().capitalised().say("."),
    }
}

/// Whether the yarn of a piece is still needed after it is cut.
fn needs_tail(told: Told<'_>, index: usize) -> bool {
    let after = told.piece.items.get(index.saturating_add(1)..).unwrap_or_default();
    let mut after = after.iter().filter(|item| !matches!(item.kind, ItemKind::Words(_) | ItemKind::Place(_)));
    let next = after.next();
    let sewn_here =
        next.is_some_and(|i| matches!(i.kind, ItemKind::Gather(_) | ItemKind::Seam(..) | ItemKind::SeamEdges(_)));
    // A piece is sewn on after its last line, wherever the text says so.
    let is_last = next.is_none_or(|i| is_finishing(&i.kind));
    sewn_here || (is_last && is_sewn_on(told.voice, told.piece))
}

fn is_sewn_on(voice: &Voice<'_>, piece: &Piece) -> bool {
    let items = voice.pattern.pieces.iter().flat_map(|p| &p.items);
    let mut sewn = items.filter_map(|item| {
        let ItemKind::Sew { piece, .. } = &item.kind else { return None };
        voice.pattern.pieces.get(*piece)
    });
    sewn.any(|sewn| sewn.span == piece.span)
}

/// `Thread the tail through the 6 sts of the last rnd, pull tight to close and secure.`
fn gather(told: Told<'_>, index: usize, item: &Item, number: Option<&Sized>) -> Phrase {
    let voice = told.voice;
    let begin = if is_cut(told, index) {
        "Thread the tail through the "
    } else {
        "Cut the yarn, leaving a long tail. Thread the tail through the "
    };
    let stitches = match number {
        Some(number) => stitches(voice, item, number),
        None => voice.kind(Kind::AnyStitch, Amount::Many),
    };
    Phrase::of(begin).then(stitches).say(" of the last ").then(last_line(told)).say(", pull tight to close and secure.")
}

/// Whether the row before a change of yarn has said it.
fn is_said_by_row(told: Told<'_>, index: usize) -> bool {
    index.checked_sub(1).is_some_and(|row| yarns::changed_behind(told, row).is_some())
}

/// Whether the yarn has been cut right before an item.
fn is_cut(told: Told<'_>, index: usize) -> bool {
    let mut before = told.piece.items.iter().take(index).rev();
    before.find(|item| !matches!(item.kind, ItemKind::Words(_))).is_some_and(|item| item.kind == ItemKind::FastenOff)
}

fn stitches(voice: &Voice<'_>, item: &Item, number: &Sized) -> Phrase {
    let numbers = voice.numbers(number, &item.sizes);
    let amount = if numbers.is_one() { Amount::One } else { Amount::Many };
    Phrase::from(numbers).say(" ").then(voice.kind(Kind::AnyStitch, amount))
}

/// A pompon, a fringe or a cord, and how much yarn each part of it is.
fn put_on(told: Told<'_>, item: &Item, trim: &Trim) -> Phrase {
    let voice = told.voice;
    let length = head::lengths(voice, &trim.lengths, trim.unit, &item.sizes);
    let number = |sized: &Sized| Phrase::from(voice.numbers(sized, &item.sizes));
    let yarn = trim.yarn.as_ref().or(told.piece.yarn.as_ref());
    let yarn = yarn.map_or_else(|| Phrase::of("the yarn"), Phrase::quoted);
    match &trim.what {
        TrimKind::Pompon(wraps) => Phrase::of("For a pompon wrap ").then(yarn).say(" ").then(number(wraps)).say(
            " times round a card or your fingers, ").then(length).say(
            " of yarn to each turn. Tie it tightly round the middle, cut the turns open, trim it round and fasten it on well."),
        TrimKind::Fringe(strands) => Phrase::of("For the fringe cut ").then(number(strands)).say(" strands of ").then(yarn)
            .say(", each ").then(length).say(" long, and knot them into the edge."),
        TrimKind::Cord(stitch) if is_chain(voice, *stitch) => Phrase::of("With ").then(yarn).say(" make a chain ").then(length).say(" long for a cord."),
        TrimKind::Cord(stitch) => Phrase::of("With ").then(yarn).say(" make a cord of ").with(voice.stitch(*stitch)).say(", ").then(length).say(" long."),
    }
}

fn is_chain(voice: &Voice<'_>, stitch: StitchId) -> bool {
    voice.pattern.stitches.get(stitch).is_some_and(|stitch| !stitch.own && stitch.us.short == "ch")
}

/// `With B held behind the work, sl st on its surface through 24 sts of Rnd 12, one through each, beginning at its first st.`
fn surface_line(told: Told<'_>, item: &Item, surface: &Surface) -> Phrase {
    let voice = told.voice;
    let number = |sized: &Sized| Phrase::from(voice.numbers(sized, &item.sizes));
    let yarn = surface.yarn.as_ref().or(told.piece.yarn.as_ref());
    let yarn = yarn.map_or_else(|| Phrase::of("the yarn"), Phrase::quoted);
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let piece = surface.on.and_then(|on| voice.pattern.pieces.get(on)).unwrap_or(told.piece);
    let of =
        if surface.on.is_some() { Phrase::of(" of ").then(Phrase::quoted(&piece.name)) } else { Phrase::default() };
    let begins = match &surface.from {
        Some(from) => Phrase::default().then(stitch()).say(" ").then(number(from)),
        None => Phrase::of("the first ").then(stitch()),
    };
    Phrase::of("Surface line: with the right side facing and ")
        .then(yarn)
        .say(" held behind the work, work ")
        .then(number(&surface.amount))
        .say(" surface ")
        .with(voice.stitch(surface.stitch))
        .say(" through the ")
        .then(voice.kind(Kind::AnyStitch, Amount::Many))
        .say(" of ")
        .then(label::by_number(voice, piece, (surface.round, surface.row), &item.sizes))
        .then(of)
        .say(", one through each, beginning at ")
        .then(begins)
        .say(".")
}

fn last_line(told: Told<'_>) -> Phrase {
    let round = told.piece.way.rounds();
    label::line_word(told.voice, round, Amount::One)
}

fn side(told: Told<'_>, item: &Item, side: &SeamSide) -> Phrase {
    let of_last = |which: &str, number: &Sized| {
        if is_whole(told, item, number) {
            return Phrase::of("the last ").then(last_line(told));
        }
        let stitches = stitches(told.voice, item, number);
        Phrase::of(format!("the {which} ")).then(stitches).say(" of the last ").then(last_line(told))
    };
    match side {
        SeamSide::Row(number) => {
            label::by_number(told.voice, told.piece, (told.piece.way.rounds(), *number), &item.sizes)
        }
        SeamSide::Start => start::starting_edge(told.voice, told.piece),
        SeamSide::First(number) => of_last("first", number),
        SeamSide::Last(number) => of_last("last", number),
    }
}

/// Whether so many stitches are all that the last row has, in every size that is shown.
fn is_whole(told: Told<'_>, item: &Item, number: &Sized) -> bool {
    let concerned = |size: &usize| item.sizes.get(*size).copied().unwrap_or(true);
    let last = |size: usize| told.rows(size).last().map(|row| row.ledger.stitches);
    told.voice.sizes.iter().copied().filter(concerned).all(|size| last(size) == Some(number.get(size)))
}

/// Whether a piece in rounds is sewn on over half the stitches that its last round has: it is flattened, and both layers are caught.
fn is_folded(told: Told<'_>, item: &Item, piece: usize, over: &Sized) -> bool {
    let concerned = |size: &usize| item.sizes.get(*size).copied().unwrap_or(true);
    let last = |size: usize| Some(told.pieces.get(piece)?.sizes.get(size)?.rows.last()?.ledger.stitches);
    let half = |size: usize| last(size).is_some_and(|last| over.get(size).saturating_mul(2) == last && last > 0);
    start::is_in_rounds(told.voice, piece) && told.voice.sizes.iter().copied().filter(concerned).all(half)
}

/// Which copies of a piece a line sews on: all of them, or one, where as many lines of the same sizes sew one each.
fn which_copy(told: Told<'_>, item: &Item, piece: usize) -> &'static str {
    let pieces = &told.voice.pattern.pieces;
    let copies = pieces.get(piece).map_or(1, |piece| piece.copies);
    let lines = pieces.iter().flat_map(|piece| &piece.items).filter(|other| other.sizes == item.sizes);
    // Without a number it isn't said how a piece is sewn on, and one may be sewn to several.
    let sews = |item: &&Item| matches!(item.kind, ItemKind::Sew { piece: sewn, to, over: Some(_) } if sewn == piece && to != piece);
    let spans: Vec<_> = lines.filter(sews).map(|item| item.span).collect();
    let nth = spans.iter().position(|span| *span == item.span);
    match (copies, nth.filter(|_| u32::try_from(spans.len()) == Ok(copies))) {
        (0 | 1, _) => "",
        (2, Some(nth)) => sewn::which(nth, 2),
        (_, Some(_)) => "one ",
        (_, None) => "each ",
    }
}

fn sew(told: Told<'_>, item: &Item, (piece, to): (usize, usize), over: Option<&Sized>) -> Phrase {
    let voice = told.voice;
    let name = |index: usize| voice.pattern.pieces.get(index).map_or("", |p| p.name.as_str());
    if piece == to {
        let together = Phrase::of("Sew the ").then(Phrase::quoted(name(piece))).say(" pieces to one another");
        let over = over.map(|number| Phrase::of(" over ").then(stitches(voice, item, number))).unwrap_or_default();
        return together.then(over).say(".");
    }
    let each = which_copy(told, item, piece);
    let sewn = if over.is_some_and(|over| is_folded(told, item, piece, over)) {
        Phrase::of("Flatten ").say(each).then(Phrase::quoted(name(piece))).say(" and sew it")
    } else {
        Phrase::of("Sew ").say(each).then(Phrase::quoted(name(piece)))
    };
    let sewn = sewn.say(" to ").then(Phrase::quoted(name(to)));
    match over {
        Some(number) => sewn.say(" over ").then(stitches(voice, item, number)).say("."),
        None => sewn.say("."),
    }
}
