//! Which yarn is in the hand when a line begins, so that no change is told that is none, and none ends without a word.

use crate::fabric::{Row, Taken};
use crate::pattern::model::{ItemKind, StepKind, each_step};

use super::context::Told;
use super::phrase::Phrase;
use super::stripes;

/// The yarn in use before the first row of an item, in the sizes that are shown; nothing where it has been cut, or isn't the same in all.
pub(super) fn in_hand(told: Told<'_>, index: usize) -> Option<&str> {
    let yarns = &told.voice.pattern.head.yarns;
    if !told.piece.stripe.is_empty() {
        return None;
    }
    let of_size = |size: usize| {
        let before = told.rows_before(index, size);
        if is_cut(told, before.last(), index) {
            return None;
        }
        let Some(last) = before.last() else { return told.piece.yarn.as_deref() };
        changed_since(told, last.item, index)
            .or_else(|| last.yarn_at_end().and_then(|yarn| yarns.get(yarn)).map(|yarn| yarn.name.as_str()))
    };
    let mut sizes = told.voice.sizes.iter().map(|&size| of_size(size));
    let first = sizes.next()??;
    sizes.all(|other| other == Some(first)).then_some(first)
}

/// `with B`, where the words of a line name its yarn first: another colour of the stripes, or the last one of several.
pub(super) fn beginning(told: Told<'_>, index: usize) -> Option<Phrase> {
    stripes::beginning(told, index).or_else(|| after_colours(told, index))
}

/// `with B`, where a line goes on in the yarn with which a row of several colours has ended, and that is not the one which it began with.
fn after_colours(told: Told<'_>, index: usize) -> Option<Phrase> {
    let goes_on = |row: &Row| {
        let first = row.ledger.used.iter().find(|stretch| !stretch.stitches.is_empty());
        first.is_none_or(|first| first.taken == Taken::GoesOn)
    };
    let ends_otherwise = |row: &Row| {
        let mut colours = row.ledger.used.iter().filter(|stretch| !stretch.stitches.is_empty());
        let first = colours.clone().next().map(|stretch| stretch.taken);
        let last = colours.next_back().map(|stretch| stretch.taken);
        matches!(last, Some(Taken::Colour(_))) && first != last
    };
    let plainly = told.voice.sizes.iter().all(|&size| told.rows_of(index, size).next().is_some_and(goes_on));
    let mixed = told.voice.sizes.iter().any(|&size| told.rows_before(index, size).last().is_some_and(ends_otherwise));
    let yarn = in_hand(told, index).filter(|_| plainly && mixed)?;
    Some(Phrase::of("with ").then(Phrase::quoted(yarn)))
}

/// The yarn that a line of the text behind a single row changes to, in all sizes that have the row: it is taken up in the last pull-through
/// of that row, so that the row says it. Where the rows behind the change are worked again, it stands above them: it comes again with them.
/// Where the words of that row are said again and another yarn follows, they can't say it: it has a line of its own.
pub(super) fn changed_behind(told: Told<'_>, index: usize) -> Option<&str> {
    let item = told.piece.items.get(index)?;
    let next = index.checked_add(1)?;
    let behind = told.piece.items.get(next).filter(|behind| behind.sizes == item.sizes)?;
    let ItemKind::ChangeTo(yarn) = &behind.kind else { return None };
    let single = |size: &usize| told.rows_of(index, *size).nth(1).is_none();
    let said_here = told.line(index).is_some_and(|line| line.same_as.is_none())
        && told.row.is_none()
        && !told.is_said_before(index)
        && told.last_said_with(index) == index
        && told.voice.sizes.iter().all(single);
    let cut = told.rows_of_shown(index).any(|row| row.ledger.used.last().is_some_and(|stretch| stretch.cut));
    let begun_again = told.piece.is_begun_again(next.saturating_add(1));
    let said = said_here && !cut && !begun_again && in_hand(told, next) != Some(yarn.as_str());
    (said && follows_each_time(told, index, yarn)).then_some(yarn)
}

/// Whether a yarn is in use behind each row that says a line again, in this piece or another one.
fn follows_each_time(told: Told<'_>, index: usize, yarn: &str) -> bool {
    let yarns = &told.voice.pattern.head.yarns;
    let follows = |rows: &[Row], row: &Row| {
        let next = usize::try_from(row.number).ok().and_then(|next| rows.get(next));
        let in_use = next.and_then(|next| yarns.get(next.yarn?));
        in_use.is_some_and(|in_use| in_use.name == yarn)
    };
    let again = |size: &usize| {
        told.worked_in(index, *size).filter(|row| row.item != index).all(|row| follows(told.rows(*size), row))
    };
    let pieces = &told.voice.pattern.pieces;
    let here = pieces.iter().position(|piece| std::ptr::eq(piece, told.piece));
    let by_number = pieces.iter().enumerate().all(|(at, piece)| {
        let of_piece = if Some(at) == here { None } else { here };
        piece.items.iter().enumerate().all(|(item, other)| {
            let ItemKind::Work(line) = &other.kind else { return true };
            let Some(same) = line.same_as.as_ref().filter(|same| same.piece == of_piece) else { return true };
            told.voice.sizes.iter().all(|&size| {
                let says_it = same.rows.get(size).copied().flatten().is_some_and(|row| row.source == index);
                let rows = told.pieces.get(at).and_then(|piece| piece.sizes.get(size)).map(|size| &size.rows);
                let last = rows.and_then(|rows| rows.of_item(item).last().filter(|_| says_it).map(|row| (rows, row)));
                last.is_none_or(|(rows, row)| follows(rows, row))
            })
        })
    });
    by_number && told.voice.sizes.iter().all(again)
}

/// The yarn that lines between two items change to.
fn changed_since(told: Told<'_>, from: usize, to: usize) -> Option<&str> {
    let between = told.piece.items.get(from..to).unwrap_or_default();
    between
        .iter()
        .rev()
        .find_map(|item| if let ItemKind::ChangeTo(yarn) = &item.kind { Some(yarn.as_str()) } else { None })
}

fn is_cut(told: Told<'_>, last: Option<&Row>, index: usize) -> bool {
    let by_item = told.piece.items.iter().take(index).rev();
    let mut between = by_item.take_while(|item| !matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)));
    let cut = |item: &crate::pattern::model::Item| matches!(item.kind, ItemKind::FastenOff | ItemKind::Gather(_));
    between.any(cut) || last.is_some_and(|row| row.ledger.used.last().is_some_and(|stretch| stretch.cut))
}

/// `fasten off B`, before another yarn is joined that ends it: nothing further down in the piece takes it up again.
pub(super) fn ended(told: Told<'_>, index: usize, joined: &str) -> Option<Phrase> {
    // Before the first row nothing has been worked with it.
    if told.voice.sizes.iter().any(|&size| told.rows_before(index, size).is_empty()) {
        return None;
    }
    let yarn = in_hand(told, index).filter(|yarn| !yarn.eq_ignore_ascii_case(joined))?;
    let mut again = false;
    let mut first = true;
    for item in told.piece.items.iter().skip(index) {
        match &item.kind {
            ItemKind::Work(line) => {
                again |= line.same_as.is_some();
                each_step(&line.steps, &mut |step| match &step.kind {
                    StepKind::ChangeTo(other) => again |= other.eq_ignore_ascii_case(yarn),
                    StepKind::Rejoin(other, _) if !first => {
                        again |= other.as_ref().is_none_or(|other| other.eq_ignore_ascii_case(yarn));
                    }
                    StepKind::Grid(_) => again = true,
                    _ => {}
                });
            }
            ItemKind::ChangeTo(other) => again |= other.eq_ignore_ascii_case(yarn),
            ItemKind::Again(_) => again = true,
            _ => {}
        }
        first = false;
    }
    (!again).then(|| Phrase::of("fasten off ").then(Phrase::quoted(yarn)))
}
