//! One line read and looked up without the others of its piece, so that many wordings of it are tried in little time.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use super::line_of;
use super::put::{Put, each_list};
use crate::compiled::Compiled;
use crate::diagnostic::{Diagnostic, Edit, Severity, Span};
use crate::pattern;
use crate::pattern::model::{self, ItemKind, PartMut, Pattern, Sized};
use crate::syntax::ReadOnce;
use crate::syntax::tree::{Body, File, Header, Line, LineKind, Part, Place, Step, StepKind, Till, WorkLine};

/// What a line needs of its file: the names and numbers of the head, the pieces above with their starts, and the line.
pub(super) struct Narrow {
    text: String,
    /// The line among those that are kept.
    at: usize,
}

impl Narrow {
    /// Nothing where the line needs other lines of its piece: it names them, or marks that are made in them.
    pub(super) fn of(text: &str, compiled: &Compiled, line: &Line) -> Option<Self> {
        let LineKind::Work(work) = &line.kind else { return None };
        if !matches!(work.body, Body::Steps(_)) || needs_others(&compiled.tree, line) {
            return None;
        }
        let mut kept = String::new();
        let mut lines = 0_usize;
        for other in compiled.tree.lines.iter().take_while(|other| other.span.start <= line.span.start) {
            if other.span != line.span && !keeps(&other.kind) {
                continue;
            }
            kept.push_str(text.get(other.span.start..other.span.end)?);
            kept.push('\n');
            lines += 1;
        }
        Some(Self { text: kept, at: lines.checked_sub(1)? })
    }

    /// Makes ready to read the line in other words.
    pub(super) fn reader(&self) -> ReadOnce<'_> {
        ReadOnce::new(&self.text)
    }

    /// The line in the words that it has, made ready to have another number.
    pub(super) fn numbered(&self, reader: &ReadOnce<'_>, words: &str) -> Option<Numbered> {
        let (pattern, from) = self.read(reader, words)?;
        Some(Numbered { pattern: RefCell::new(pattern), from, words: words.to_owned(), steps: RefCell::default() })
    }

    /// The pattern in which the line is the first of its piece; nothing when it can't be read in these words.
    pub(super) fn worded(&self, reader: &ReadOnce<'_>, words: &str) -> Option<Pattern> {
        self.read(reader, words).map(|(pattern, _)| pattern)
    }

    /// The same, with where the line begins in what was read.
    fn read(&self, reader: &ReadOnce<'_>, words: &str) -> Option<(Pattern, usize)> {
        let (file, findings) = reader.with_lines(&[(self.at, words.to_owned())]);
        let line = file.lines.get(self.at)?.span;
        let (pattern, more) = pattern::lower(&file);
        let inside = |f: &&Diagnostic| f.severity == Severity::Error && within(line, f.primary.span);
        findings.iter().chain(&more).find(inside).is_none().then_some((pattern, line.start))
    }
}

/// A line that was read, in which single numbers are changed, and single steps put in and taken out, without reading it anew.
pub(super) struct Numbered {
    pattern: RefCell<Pattern>,
    /// Where the line begins in what was read.
    from: usize,
    words: String,
    /// Steps that were read by themselves, by their words; nothing where they can't be.
    steps: RefCell<BTreeMap<String, Option<Vec<model::Step>>>>,
}

impl Numbered {
    /// What comes of the pattern when one number has another value; nothing when the edit, in places of the line, is more than
    /// that, or the number is not one of stitches, chains, places or times.
    pub(super) fn with<T>(&self, edit: &Edit, tried: impl FnOnce(&Pattern) -> T) -> Option<T> {
        let value: u32 = edit.text.parse().ok().filter(|value| *value > 0)?;
        let mut pattern = self.pattern.try_borrow_mut().ok()?;
        let before = self.put(&mut pattern, edit, &|_| value)?;
        let came = tried(&pattern);
        self.put(&mut pattern, edit, &|size| before.get(size).copied().unwrap_or_default());
        Some(came)
    }

    /// What comes of the pattern when a step is put in, left out, or several are put in brackets; nothing when the edit, in places of
    /// the line, is anything else, or the steps are such that they mean another thing elsewhere.
    pub(super) fn with_steps<T>(
        &self,
        edit: &Edit,
        (narrow, reader): (&Narrow, &ReadOnce<'_>),
        tried: impl FnOnce(&Pattern) -> T,
    ) -> Option<T> {
        let put_in = Put::of(edit, &self.words)?;
        let read = put_in.words().map_or(Some(Vec::new()), |words| self.by_itself(words, narrow, reader));
        let new = read?;
        let mut pattern = self.pattern.try_borrow_mut().ok()?;
        let item = pattern.pieces.last_mut()?.items.first_mut()?;
        let ItemKind::Work(line) = &mut item.kind else { return None };
        let before = line.steps.clone();
        let span = Span::new(edit.span.start + self.from, edit.span.end + self.from);
        let done = each_list(&mut line.steps, &mut |list| put_in.make(list, span, &new));
        let came = done.then(|| tried(&pattern));
        if let Some(ItemKind::Work(line)) =
            pattern.pieces.last_mut().and_then(|p| p.items.first_mut()).map(|i| &mut i.kind)
        {
            line.steps = before;
        }
        came
    }

    /// Steps in the place of all steps of the line; they are read once.
    fn by_itself(&self, words: &str, narrow: &Narrow, reader: &ReadOnce<'_>) -> Option<Vec<model::Step>> {
        if let Some(known) = self.steps.borrow().get(words) {
            return known.clone();
        }
        self.read_together(&[words], narrow, reader);
        self.steps.borrow().get(words).cloned().flatten()
    }

    /// Reads what some edits put in, all of it in one line, where it is not known yet.
    pub(super) fn read_ahead<'e>(
        &self,
        edits: impl Iterator<Item = &'e Edit>,
        line: Span,
        (narrow, reader): (&Narrow, &ReadOnce<'_>),
    ) {
        let put = edits.filter_map(|edit| {
            let at = |place: usize| place.checked_sub(line.start);
            Put::of(&Edit { span: Span::new(at(edit.span.start)?, at(edit.span.end)?), ..edit.clone() }, &self.words)
        });
        let words: BTreeSet<String> = put.filter_map(|put| put.words().map(str::to_owned)).collect();
        let words: Vec<&str> =
            words.iter().map(String::as_str).filter(|words| !self.steps.borrow().contains_key(*words)).collect();
        self.read_together(&words, narrow, reader);
    }

    /// Reads several steps in one line; those among which one can't be read, by halves.
    fn read_together(&self, all: &[&str], narrow: &Narrow, reader: &ReadOnce<'_>) {
        const BETWEEN: &str = ", ";
        if all.is_empty() {
            return;
        }
        let label = self.words.split_inclusive(':').next().unwrap_or_default();
        let read = narrow.read(reader, &format!("{label} {}", all.join(BETWEEN)));
        if read.is_none() && all.len() > 1 {
            let (some, others) = all.split_at(all.len() / 2);
            self.read_together(some, narrow, reader);
            self.read_together(others, narrow, reader);
            return;
        }
        let (steps, from) = read.and_then(|(pattern, from)| Some((steps_of(pattern)?, from))).unwrap_or_default();
        let mut begin = from + label.len() + 1;
        for words in all {
            let place = Span::new(begin, begin + words.len());
            begin = place.end + BETWEEN.len();
            let inside = |step: &&model::Step| place.start <= step.span.start && step.span.end <= place.end;
            let own: Vec<model::Step> = steps.iter().filter(inside).cloned().collect();
            let known = Some(own).filter(|own| !own.is_empty() && own.iter().all(means_the_same_anywhere));
            self.steps.borrow_mut().insert((*words).to_owned(), known);
        }
    }

    /// Puts values where a number stands; gives back what was there.
    fn put(&self, pattern: &mut Pattern, edit: &Edit, value: &dyn Fn(usize) -> u32) -> Option<Vec<u32>> {
        let Numbered { from, words, .. } = self;
        let mut before = None;
        let mut see = |number: &mut Sized| {
            let (start, end) = (number.span.start.checked_sub(*from)?, number.span.end.checked_sub(*from)?);
            if edit.span.start < start || end < edit.span.end {
                return None;
            }
            let sizes = sizes_of(words.get(start..end)?, edit.span.start - start, edit.span.end - start)?;
            before.get_or_insert_with(|| number.values.clone());
            let values = number.values.iter_mut().enumerate();
            values
                .filter(|(size, _)| sizes == Whose::All || sizes == Whose::Of(*size))
                .for_each(|(size, old)| *old = value(size));
            Some(())
        };
        let item = pattern.pieces.last_mut()?.items.first_mut()?;
        let ItemKind::Work(line) = &mut item.kind else { return None };
        each_number(&mut line.steps, &mut |number| {
            see(number);
        });
        line.stated.iter_mut().flat_map(|stated| &mut stated.parts).for_each(|(number, _)| {
            see(number);
        });
        before
    }
}

/// Whether a step is worked the same wherever it is read.
pub(super) fn means_the_same_anywhere(step: &model::Step) -> bool {
    use model::StepKind::{Chain, Group, Leave, Repeat, Skip, Together, Work};
    match &step.kind {
        Work(_) | Chain(_) | Skip(..) | Leave(_) => true,
        Group(steps, _) | Together(steps, _) => steps.iter().all(means_the_same_anywhere),
        Repeat(repeat) => match &repeat.body {
            model::RepeatBody::Steps(steps, _) => steps.iter().all(means_the_same_anywhere),
            model::RepeatBody::On(_) => false,
        },
        _ => false,
    }
}

/// For whom a number is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Whose {
    /// It stands alone, for every size.
    All,
    /// It stands in a list, for this size.
    Of(usize),
}

/// For whom a number is that stands at a place of a list; nothing where it is a part of a sum.
fn sizes_of(list: &str, start: usize, end: usize) -> Option<Whose> {
    let digits = list.get(start..end)?;
    let (before, behind) = (list.get(..start)?, list.get(end..)?);
    let alone = |side: &str| side.trim().is_empty();
    let ends = (before.rsplit('/').next(), behind.split('/').next());
    let whole = ends.0.is_some_and(alone) && ends.1.is_some_and(alone);
    // A number that isn't written is said to stand where its step does.
    let is_list = list.starts_with(|first: char| first.is_ascii_digit() || first == '{');
    let is_number = is_list && !digits.is_empty() && digits.bytes().all(|digit| digit.is_ascii_digit());
    let whose = || if list.contains('/') { Whose::Of(before.matches('/').count()) } else { Whose::All };
    (whole && is_number).then(whose)
}

/// Shows the numbers of steps that say how many there are of something.
fn each_number(steps: &mut [model::Step], see: &mut dyn FnMut(&mut Sized)) {
    use model::StepKind::{Chain, Group, Leave, Repeat, Skip, Together, Work};
    for step in steps {
        if matches!(step.kind, Work(_) | Chain(_) | Skip(..) | Repeat(_) | Group(..) | Leave(_) | Together(..)) {
            step.kind.each_part_mut(&mut |part| match part {
                PartMut::Amount(number) => see(number),
                PartMut::Steps(steps) => each_number(steps, see),
                _ => {}
            });
        }
    }
}

/// The steps of the line that was read.
fn steps_of(mut pattern: Pattern) -> Option<Vec<model::Step>> {
    match &mut pattern.pieces.last_mut()?.items.first_mut()?.kind {
        ItemKind::Work(line) => Some(std::mem::take(&mut line.steps)),
        _ => None,
    }
}

fn within(line: Span, span: Span) -> bool {
    (line.start..=line.end).contains(&span.start)
}

/// Whether a line has to be read with other lines of its piece.
fn needs_others(tree: &File, line: &Line) -> bool {
    let Some(at) = line_of(tree, line.span) else { return true };
    let mut from = at;
    while from > 0 && !matches!(tree.lines.get(from).map(|l| &l.kind), Some(LineKind::Piece(_))) {
        from -= 1;
    }
    // Turning chains say the lead of their piece.
    let turning = |line: &Line| work(line).is_some_and(|work| !work.turning.is_empty());
    let says_lead = |line: &Line| matches!(&line.kind, LineKind::Piece(piece) if piece.turning_lead.is_some());
    // What a piece begins with of another one can't be taken from lines that aren't kept.
    let begins_as = |line: &Line| matches!(&line.kind, LineKind::Piece(piece) if piece.like.is_some());
    let piece = tree.lines.iter().skip(from + 1).take_while(|l| !matches!(l.kind, LineKind::Piece(_)));
    // What another line goes back to behind the work has to be kept.
    let goes_behind = |line: &Line| match work(line).map(|work| &work.body) {
        Some(Body::Steps(steps)) => {
            matches!(steps.first().map(|step| &step.kind), Some(StepKind::Behind { .. } | StepKind::Through { .. }))
        }
        _ => false,
    };
    let of_piece = |line: &Line| says_lead(line) || begins_as(line);
    let begun_elsewhere = tree.lines.iter().take(at).any(begins_as);
    if begun_elsewhere
        || tree.lines.iter().skip(from).take(1).any(of_piece)
        || piece.clone().any(|line| turning(line) || goes_behind(line))
    {
        return true;
    }
    match work(line).map(|work| &work.body) {
        Some(Body::Steps(steps)) => names_others(steps),
        Some(Body::As { .. } | Body::Unread) | None => true,
    }
}

/// Whether steps go to what other lines have marked or made, or mark it for them.
fn names_others(steps: &[Step]) -> bool {
    let mut names = false;
    for step in steps {
        names |= matches!(step.kind, StepKind::Behind { .. } | StepKind::Through { .. } | StepKind::Mark(_));
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => names |= names_others(steps),
            Part::Place(Place::Mark(_)) | Part::Till(Till::Mark(_)) => names = true,
            Part::Places(places) => {
                places.each_part(&mut |part| {
                    names |= matches!(part, Part::Place(Place::Mark(_)) | Part::Till(Till::Mark(_)));
                });
            }
            _ => {}
        });
    }
    names
}

fn work(line: &Line) -> Option<&WorkLine> {
    match &line.kind {
        LineKind::Work(work) => Some(work),
        _ => None,
    }
}

fn keeps(kind: &LineKind) -> bool {
    match kind {
        LineKind::Header(header) => matches!(
            header,
            Header::Sizes(_)
                | Header::Terms(_)
                | Header::Counts { .. }
                | Header::Set { .. }
                | Header::Stitch(_)
                | Header::Grid(_)
                | Header::Legend(_)
                | Header::Squares(_)
                | Header::Yarn { .. }
        ),
        LineKind::Piece(_) | LineKind::Setting(_) | LineKind::Start(_) => true,
        _ => false,
    }
}
