//! So many buttons are listed, and another number of buttonholes is worked.

use super::context::Context;
use super::prose::{has, words};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::Row;
use crate::pattern::model::{Extent, ItemKind, Kind, Pattern, Piece, Repeat, RepeatBody, Step, StepKind, Where};
use crate::stitch::StitchId;
use crate::syntax::tree::{Header, LineKind, Text};
use crate::words::count;

pub(super) const CODE: Code = Code("button-count");

/// What the designer calls an opening for a button.
const HOLES: &[&str] = &["buttonhole", "buttonholes", "button hole", "button holes"];

/// Other ways to fasten a button, whose number nothing tells.
const LOOPS: &[&str] = &["loop", "loops", "press stud", "snap", "snaps"];

/// Only openings that the designer calls buttonholes are counted: stitches of her own of that name, and chains over skipped
/// stitches in a line with such words directly above it, or in a piece that is called so or whose words speak of them. Where one
/// of them can't be counted nothing is said.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let Some((listed, buttons)) = listed(context) else { return Vec::new() };
    if LOOPS.iter().any(|word| context.says(word)) {
        return Vec::new();
    }
    let sizes = 0..context.pattern.sizes.len();
    let Some(buttons) = buttons else {
        let holes = sizes.into_iter().find_map(|size| holes(context, size));
        return holes.map(|holes| unnumbered(listed, &holes)).into_iter().collect();
    };
    let off = sizes.filter_map(|size| {
        let wanted = match buttons.as_slice() {
            [one] => *one,
            numbers => *numbers.get(size)?,
        };
        let holes = holes(context, size)?;
        // So many more are no buttonholes, whatever the words are about.
        let likely = holes.number <= wanted.saturating_mul(2).saturating_add(2);
        (wanted > 0 && likely && holes.number != wanted).then_some((size, wanted, holes))
    });
    off.take(1).map(|(size, wanted, holes)| finding(context, size, (listed.span, wanted), &holes)).collect()
}

/// The one line of the notions that lists buttons, and how many: one number, or one a size; nothing where it names none.
fn listed(context: Context<'_>) -> Option<(&Text, Option<Vec<u32>>)> {
    let notions = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Notion(text)) => Some(text),
        _ => None,
    });
    let mut buttons = notions.filter(|text| has(&text.text, "button") || has(&text.text, "buttons"));
    let one = buttons.next()?;
    let alone = buttons.next().is_none();
    let somewhere = one.text.contains(|c: char| c.is_ascii_digit());
    let numbers = numbers(&one.text);
    // A number further on may be theirs or their size.
    (alone && (numbers.is_some() || !somewhere)).then_some((one, numbers))
}

/// The numbers that a text begins with: `3 buttons`, `three small buttons`, `5 / 6 buttons`.
pub(super) fn numbers(text: &str) -> Option<Vec<u32>> {
    const NAMES: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let read = |word: &str| {
        let word = word.to_lowercase();
        let named = NAMES.iter().zip(1..).find(|(name, _)| **name == word).map(|(_, number)| number);
        // `a box of buttons` says nothing of their number.
        named.or_else(|| (word == "a" && has(text, "button")).then_some(1)).or_else(|| word.parse().ok())
    };
    let found: Vec<u32> = words(text).map_while(read).collect();
    let next = words(text).nth(found.len()).unwrap_or_default().to_lowercase();
    // `20 mm button` says how large it is, and not how many there are.
    let is_size = ["mm", "cm", "in", "inch", "inches"].contains(&next.as_str());
    (!found.is_empty() && !is_size).then_some(found)
}

/// Buttonholes that are worked in one size.
struct Holes {
    number: u32,
    /// Where the first of them are.
    at: Span,
}

/// Nothing where there are none, or some can't be counted.
fn holes(context: Context<'_>, size: usize) -> Option<Holes> {
    let mut holes: Option<Holes> = None;
    for (index, piece) in context.pattern.pieces.iter().enumerate() {
        let rows = &context.fabric.pieces.get(index)?.sizes.get(size)?.rows;
        let everywhere = speaks(&piece.name) || has_loose_words(piece);
        for (at, item) in piece.items.iter().enumerate() {
            let ItemKind::Work(line) = &item.kind else { continue };
            let here = is_called_so(piece, at);
            let each = Openings { pattern: context.pattern, size, called: here || everywhere }.of(&line.steps)?;
            let worked = || rows.worked_by(at);
            let own = worked().map(|row| own_holes(context.pattern, row)).fold(0, u32::saturating_add);
            if here && each == 0 && own == 0 {
                return None;
            }
            let each_time = each.checked_mul(u32::try_from(worked().count()).ok()?)?;
            let number = each_time.checked_add(own)?.checked_mul(piece.copies)?;
            if number > 0 {
                let so_far = holes.get_or_insert(Holes { number: 0, at: item.span });
                so_far.number = so_far.number.checked_add(number)?;
            }
        }
    }
    holes
}

/// How many stitches a row has that the designer made of steps and calls a buttonhole.
fn own_holes(pattern: &Pattern, row: &Row) -> u32 {
    let made = row.ledger.made.iter().map(|tally| match tally.kind {
        Kind::Stitch(id) if is_of_steps(pattern, id) && is_hole(pattern, id) => tally.count,
        _ => 0,
    });
    made.fold(0, u32::saturating_add)
}

fn is_of_steps(pattern: &Pattern, stitch: StitchId) -> bool {
    pattern.definitions.iter().any(|definition| definition.stitch == stitch)
}

fn is_hole(pattern: &Pattern, stitch: StitchId) -> bool {
    let own = pattern.stitches.get(stitch).filter(|stitch| stitch.own);
    own.is_some_and(|stitch| speaks(&stitch.us.full) || speaks(&stitch.us.short))
}

/// Whether words about buttonholes stand elsewhere than above the line that they are in.
fn has_loose_words(piece: &Piece) -> bool {
    piece.items.iter().enumerate().any(|(at, item)| {
        let next = piece.items.get(at + 1).map(|next| &next.kind);
        matches!(&item.kind, ItemKind::Words(text) if speaks(&text.text)) && !matches!(next, Some(ItemKind::Work(_)))
    })
}

fn speaks(text: &str) -> bool {
    HOLES.iter().any(|word| has(text, word))
}

/// Whether the words directly above a line speak of buttonholes.
fn is_called_so(piece: &Piece, at: usize) -> bool {
    let above = at.checked_sub(1).and_then(|above| piece.items.get(above));
    above.is_some_and(|item| matches!(&item.kind, ItemKind::Words(text) if speaks(&text.text)))
}

/// Counts the buttonholes of steps.
struct Openings<'a> {
    pattern: &'a Pattern,
    size: usize,
    /// Chains over skipped stitches are buttonholes here.
    called: bool,
}

impl Openings<'_> {
    /// Nothing where they are repeated to an end that is not counted here.
    fn of(&self, steps: &[Step]) -> Option<u32> {
        let mut number: u32 = 0;
        for (at, step) in steps.iter().enumerate() {
            let next = steps.get(at + 1).map(|step| &step.kind);
            let more = match &step.kind {
                StepKind::Chain(_) => u32::from(self.called && matches!(next, Some(StepKind::Skip(..)))),
                StepKind::Skip(..) => u32::from(self.called && matches!(next, Some(StepKind::Chain(_)))),
                // One that is made of steps is counted in the row.
                StepKind::Work(work) if is_of_steps(self.pattern, work.stitch) => 0,
                StepKind::Work(work) if is_hole(self.pattern, work.stitch) => match &work.places {
                    Where::Count(times) => times.get(self.size),
                    Where::In(_) => 1,
                    Where::CountOf(..) | Where::Till(_) | Where::Each(..) | Where::Skipped(..) => return None,
                },
                StepKind::Repeat(repeat) => self.repeated(repeat)?,
                _ => 0,
            };
            number = number.checked_add(more)?;
        }
        Some(number)
    }

    fn repeated(&self, repeat: &Repeat) -> Option<u32> {
        let RepeatBody::Steps(steps, last) = &repeat.body else { return Some(0) };
        let each = self.of(steps)?;
        match &repeat.extent {
            _ if each == 0 => Some(0),
            Extent::Times(times) => {
                let short = last.and_then(|last| steps.get(..last)).map_or(Some(each), |steps| self.of(steps))?;
                each.checked_mul(times.get(self.size))?.checked_sub(each - short)
            }
            Extent::Till(_) => None,
        }
    }
}

/// Buttons, and nobody says how many.
fn unnumbered(listed: &Text, holes: &Holes) -> Diagnostic {
    let message = format!(
        "buttons are listed without their number, and {} worked",
        match holes.number {
            1 => "1 buttonhole is".to_owned(),
            number => format!("{number} buttonholes are"),
        }
    );
    Diagnostic::warning(CODE, message, listed.span, "how many?")
        .with_other(holes.at, "the buttonholes begin here")
        .with_help(format!("say how many, as `notion {}`", count(holes.number, "button")))
}

fn finding(context: Context<'_>, size: usize, (span, buttons): (Span, u32), holes: &Holes) -> Diagnostic {
    let name = context.pattern.sizes.get(size).filter(|size| !size.is_empty());
    let in_size = name.map(|size| format!(" in {size}")).unwrap_or_default();
    let message = format!("{} and {}{in_size}", count(buttons, "button"), count(holes.number, "buttonhole"));
    Diagnostic::warning(CODE, message, span, "listed here")
        .with_other(holes.at, "the buttonholes begin here")
        .with_help(
            "list as many buttons as there are buttonholes, or say in words how the others are fastened, as by a loop",
        )
}
