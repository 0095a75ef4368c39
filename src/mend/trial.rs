//! Trying edits: only the lines that they touch are read anew.

use std::cell::{Cell, OnceCell};
use std::collections::BTreeMap;
use std::rc::Rc;

use super::candidates::Candidate;
use super::line_of;
use super::lore::Lore;
use super::narrow::{Narrow, Numbered};
use crate::compiled::{Compiled, compile_tree, work_beside, work_if_borne};
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity, Span};
use crate::fabric::{AfterLine, Bears, Checkpoint, Kept};
use crate::once;
use crate::pattern;
use crate::pattern::model::Pattern;
use crate::syntax::ReadOnce;
use crate::syntax::tree::{File, Line};

/// Stitches that are worked in the trials for all faults together at most.
const MOST_TRIED_IN_ALL: u64 = 2 * super::MOST_STITCHES_TRIED;

/// Reading and looking up a line takes as long as working so many stitches.
const STITCHES_A_LINE: u64 = 300;

/// Looking up what stands in long lines takes as long as working so many stitches a letter, and reading one anew so many.
const STITCHES_A_LETTER: u64 = 3;
const STITCHES_A_LETTER_READ: u64 = 20;

/// Comparing two names takes as long as working so many stitches.
const STITCHES_A_COMPARISON: u64 = 25;

/// A line by itself is read with so many others.
const NARROW_LINES: u64 = 10;

/// A text in which edits are tried.
pub(super) struct Trials<'t> {
    text: &'t str,
    read: ReadOnce<'t>,
    /// What may still be worked: for all faults, and for the one whose repairs are sought.
    left: Cell<u64>,
    left_here: Cell<u64>,
    /// Errors that a repaired text may have before it is worked.
    unworked: Cell<usize>,
    /// Rows of the text as it is and of what was tried.
    kept: Rc<Kept>,
    /// What the lines of the text say, asked for at most once.
    lore: OnceCell<Lore>,
}

/// Where the work stands before a faulty line.
pub(super) struct Before<'n> {
    pub line: Span,
    pub checkpoint: Checkpoint,
    /// The pattern as it is.
    pub pattern: &'n Pattern,
    /// Items of its piece that are faulty.
    pub faulty: Vec<usize>,
    /// The line by itself, if it can be read so.
    pub narrow: Option<(&'n Narrow, ReadOnce<'n>)>,
    /// The same as it is, where single numbers can be changed.
    pub numbered: Option<Numbered>,
}

impl Before<'_> {
    /// Reads what some edits put into the line, before each of them is tried.
    pub(super) fn read_ahead<'c>(&self, candidates: impl Iterator<Item = &'c Candidate>) {
        let (Some((narrow, reader)), Some(numbered)) = (&self.narrow, &self.numbered) else { return };
        let edits = candidates.filter_map(|candidate| match candidate.fix.edits.as_slice() {
            [edit] if self.line.start <= edit.span.start && edit.span.end <= self.line.end => Some(edit),
            _ => None,
        });
        numbered.read_ahead(edits, self.line, (narrow, reader));
    }
}

/// What a repair is borne with: faults that were there before, but for the one that it is to mend.
pub(super) struct Hopes {
    pub bears: Bears,
    /// The first size that has the fault.
    pub first: usize,
}

/// A text after some edits.
pub(super) struct Trial {
    pub compiled: Compiled,
    moved: Vec<Moved>,
}

/// A line that was read anew: where it stands in the text, where behind its end, and the edits in it.
type Moved = (Span, Span, Vec<Edit>);

impl<'t> Trials<'t> {
    /// Makes ready to try edits in a text, which makes this pattern as it is.
    pub(super) fn new(text: &'t str, pattern: &Pattern) -> Self {
        let (left, left_here) = (Cell::new(MOST_TRIED_IN_ALL), Cell::new(0));
        let kept = Rc::new(Kept::among_many(pattern));
        Self {
            text,
            read: ReadOnce::new(text),
            left,
            left_here,
            unworked: Cell::new(usize::MAX),
            kept,
            lore: OnceCell::new(),
        }
    }

    /// What the lines of the text say, by their tree.
    pub(super) fn lore(&self, tree: &File) -> &Lore {
        self.lore.get_or_init(|| Lore::of(self.text, tree))
    }

    /// The rows that were worked so far, for a pattern that differs from this one in a few lines; none if it rests on other
    /// stitches or sizes.
    pub(super) fn kept(&self, pattern: &Pattern) -> Rc<Kept> {
        if self.kept.begin(pattern) { Rc::clone(&self.kept) } else { Rc::default() }
    }

    /// Begins the search for the repairs of another fault, of so many that are left with it.
    pub(super) fn begin(&self, faults: usize) {
        /// Of more faults than these, most take little.
        const MOST_SHARES: u64 = 4;
        let shares = u64::try_from(faults).unwrap_or(MOST_SHARES).clamp(1, MOST_SHARES);
        self.left_here.set(self.left.get() / shares);
        self.unworked.set(usize::MAX);
    }

    /// Keeps back a part of what may still be worked, for the lines that the faulty one stands on; nothing where that is little.
    pub(super) fn keep_back(&self) -> u64 {
        const LITTLE: u64 = super::MOST_STITCHES_TRIED / 3;
        if self.left_here.get() < LITTLE {
            return 0;
        }
        let kept = self.left_here.get() / 5 * 2;
        self.left_here.set(self.left_here.get() - kept);
        kept
    }

    /// Gives back what was kept, as far as it is there.
    pub(super) fn give_back(&self, kept: u64) {
        self.left_here.set((self.left_here.get() + kept).min(self.left.get()));
    }

    /// From here on a text is not worked that has more errors than these already when it is read and looked up.
    pub(super) fn allow(&self, unworked: usize) {
        self.unworked.set(unworked);
    }

    /// Whether what was found in reading and looking up is no more than may be.
    fn may_be_worked(&self, findings: &[Diagnostic]) -> bool {
        if self.unworked.get() == usize::MAX {
            return true;
        }
        let mut found: Vec<Diagnostic> =
            findings.iter().filter(|found| found.severity == Severity::Error).cloned().collect();
        once::merge(&mut found);
        found.len() <= self.unworked.get()
    }

    /// What stands at a place.
    pub(super) fn words(&self, span: Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or_default()
    }

    /// Whether the search has to end.
    pub(super) fn is_spent(&self) -> bool {
        self.left_here.get() == 0
    }

    /// Compiles the text after some edits; nothing when the search has to end.
    pub(super) fn compile(&self, edits: &[Edit]) -> Option<Trial> {
        self.tried(edits, |file, pattern, findings| {
            let kept = self.kept(&pattern);
            let (compiled, worked) = work_beside(&kept, self.left_here.get(), file, pattern, findings);
            self.spend(worked);
            Some(compiled)
        })
    }

    /// The same; but when a line does not ring true after the edits that did before, nothing more is worked.
    pub(super) fn compile_if_borne(&self, edits: &[Edit], hopes: &Hopes) -> Option<Trial> {
        self.tried(edits, |file, pattern, findings| self.work_if_borne(file, pattern, findings, hopes))
    }

    /// Reads the text after some edits, and has it worked; nothing when the search has to end, or it is not worth while.
    fn tried(
        &self,
        edits: &[Edit],
        work: impl FnOnce(File, Pattern, Vec<Diagnostic>) -> Option<Compiled>,
    ) -> Option<Trial> {
        if self.is_spent() {
            return None;
        }
        let Some((moved, file, mut findings)) = self.read(edits) else { return Some(self.compile_whole(edits)) };
        let (pattern, more) = self.lower(&file);
        findings.extend(more);
        if !self.may_be_worked(&findings) {
            return None;
        }
        work(file, pattern, findings).map(|compiled| Trial { compiled, moved })
    }

    /// Looks up what was read; names that had to be compared for it are work as well.
    fn lower(&self, file: &File) -> (Pattern, Vec<Diagnostic>) {
        let (pattern, findings) = pattern::lower(file);
        self.spend(letters(pattern.compared).saturating_mul(STITCHES_A_COMPARISON));
        (pattern, findings)
    }

    fn work_if_borne(
        &self,
        file: File,
        pattern: Pattern,
        findings: Vec<Diagnostic>,
        hopes: &Hopes,
    ) -> Option<Compiled> {
        let kept = self.kept(&pattern);
        let attempt = (&*kept, &hopes.bears, hopes.first);
        let (compiled, worked) = work_if_borne(attempt, self.left_here.get(), file, pattern, findings);
        self.spend(worked);
        compiled
    }

    /// Compiles the text after edits that are not within single lines.
    fn compile_whole(&self, edits: &[Edit]) -> Trial {
        let fix = Fix { title: String::new(), edits: edits.to_vec(), safety: Safety::ChangesFabric };
        let text = fix.apply(self.text);
        let (file, findings) = crate::syntax::parse(&text);
        let (compiled, worked) = compile_tree(self.left_here.get(), file, findings);
        self.spend(worked);
        let whole = (Span::new(0, self.text.len()), Span::new(0, text.len()), fix.edits);
        Trial { compiled, moved: vec![whole] }
    }

    /// The same; but when the line does not ring true after the edits, or another line below doesn't that did before,
    /// nothing more is worked.
    pub(super) fn compile_if_rings(&self, edits: &[Edit], before: &Before<'_>, hopes: &Hopes) -> Option<Trial> {
        if let Some((narrow, reader)) = &before.narrow {
            let unread = self.with_number(edits, before).or_else(|| self.with_steps(edits, before));
            let (after, worked) = match unread {
                Some(tried) => tried,
                None => before.checkpoint.after(&self.worded(narrow, reader, edits, before)?),
            };
            self.spend(worked);
            let (after, kept) = (after?, self.kept(before.pattern));
            let (goes_on, worked) = before.checkpoint.goes_on(&after, before.pattern, &before.faulty, &kept);
            self.spend(worked);
            if !goes_on || self.is_spent() {
                return None;
            }
        }
        let (moved, file, mut findings) = self.read(edits)?;
        let (pattern, more) = self.lower(&file);
        findings.extend(more);
        if !self.may_be_worked(&findings) {
            return None;
        }
        if before.narrow.is_none() {
            let kept = self.kept(&pattern);
            let (holds, worked) = before.checkpoint.holds(&pattern, &before.faulty, &kept);
            self.spend(worked);
            if !holds || self.is_spent() {
                return None;
            }
        }
        self.work_if_borne(file, pattern, findings, hopes).map(|compiled| Trial { compiled, moved })
    }

    /// The line by itself in other words, read anew.
    fn worded(&self, narrow: &Narrow, reader: &ReadOnce<'_>, edits: &[Edit], before: &Before<'_>) -> Option<Pattern> {
        let read = letters(before.line.end.saturating_sub(before.line.start)).saturating_mul(STITCHES_A_LETTER_READ);
        self.spend((STITCHES_A_LINE * NARROW_LINES).saturating_add(read));
        narrow.worded(reader, &edited(self.text, before.line, edits)?)
    }

    /// Where the work stands after the line, if all that the edits change is one number.
    fn with_number(&self, edits: &[Edit], before: &Before<'_>) -> Option<(Option<AfterLine>, u64)> {
        let edit = in_line(edits, before)?;
        before.numbered.as_ref()?.with(&edit, |pattern| before.checkpoint.after(pattern))
    }

    /// The same, if all that they change is whole steps.
    fn with_steps(&self, edits: &[Edit], before: &Before<'_>) -> Option<(Option<AfterLine>, u64)> {
        let (edit, (narrow, reader)) = (in_line(edits, before)?, before.narrow.as_ref()?);
        let tried = |pattern: &Pattern| before.checkpoint.after(pattern);
        before.numbered.as_ref()?.with_steps(&edit, (narrow, reader), tried)
    }

    /// Takes what was worked from what may still be.
    pub(super) fn spend(&self, worked: u64) {
        self.left_here.set(self.left_here.get().saturating_sub(worked));
        self.left.set(self.left.get().saturating_sub(worked));
    }

    fn read(&self, edits: &[Edit]) -> Option<(Vec<Moved>, File, Vec<Diagnostic>)> {
        let mut by_line: BTreeMap<usize, Vec<Edit>> = BTreeMap::new();
        for edit in edits {
            by_line.entry(line_of(self.read.file(), edit.span)?).or_default().push(edit.clone());
        }
        let mut begin = self.text.len();
        let mut changed = Vec::new();
        let mut moved = Vec::new();
        for (at, edits) in by_line {
            let line = self.read.file().lines.get(at)?.span;
            let new = edited(self.text, line, &edits)?;
            // A line more, or one less, is not read by itself.
            if new.is_empty() || edits.iter().any(|edit| edit.text.contains('\n')) {
                return None;
            }
            begin += 1;
            moved.push((line, Span::new(begin, begin + new.len()), edits));
            begin += new.len();
            changed.push((at, new));
        }
        let lines = u64::try_from(self.read.file().lines.len()).unwrap_or(u64::MAX);
        let by_letters = letters(self.text.len()).saturating_mul(STITCHES_A_LETTER);
        let read: usize = changed.iter().map(|(_, line)| line.len()).sum();
        self.spend(lines.saturating_mul(STITCHES_A_LINE).max(by_letters));
        self.spend(letters(read).saturating_mul(STITCHES_A_LETTER_READ));
        let (file, findings) = self.read.with_lines(&changed);
        Some((moved, file, findings))
    }
}

impl Trial {
    /// A line that was read anew, as it stands now, with its words.
    pub(super) fn worded<'w>(&'w self, line: Span, words: &'w str) -> Option<(&'w Line, impl Fn(Span) -> &'w str)> {
        let (_, new, _) = self.moved.iter().find(|(old, ..)| *old == line)?;
        let read =
            self.compiled.tree.lines.iter().find(|read| read.span.start >= new.start && read.span.end <= new.end)?;
        let from = new.start;
        Some((read, move |span: Span| {
            words.get(span.start.saturating_sub(from)..span.end.saturating_sub(from)).unwrap_or_default()
        }))
    }

    /// Where a place stands in the text before the edits.
    pub(super) fn origin(&self, span: Span) -> Span {
        let Some((line, new, edits)) =
            self.moved.iter().find(|(_, new, _)| (new.start..=new.end).contains(&span.start))
        else {
            return span;
        };
        let mut earlier: Vec<&Edit> = edits.iter().collect();
        earlier.sort();
        let shift = |at: usize| line.start + at.saturating_sub(new.start);
        let (mut start, mut end) = (shift(span.start), shift(span.end));
        for edit in earlier {
            let (old, written) = (edit.span.end - edit.span.start, edit.text.len());
            if edit.span.start < start {
                start = (start + old).saturating_sub(written);
                end = (end + old).saturating_sub(written);
            }
        }
        Span::new(start, end)
    }
}

/// The one edit, in places of the line.
fn in_line(edits: &[Edit], before: &Before<'_>) -> Option<Edit> {
    let [edit] = edits else { return None };
    let at = |place: usize| place.checked_sub(before.line.start);
    Some(Edit { span: Span::new(at(edit.span.start)?, at(edit.span.end)?), text: edit.text.clone() })
}

fn letters(bytes: usize) -> u64 {
    u64::try_from(bytes).unwrap_or(u64::MAX)
}

/// A line after its edits.
pub(super) fn edited(text: &str, line: Span, edits: &[Edit]) -> Option<String> {
    let within = |edit: &Edit| Edit {
        span: Span::new(edit.span.start.saturating_sub(line.start), edit.span.end.saturating_sub(line.start)),
        text: edit.text.clone(),
    };
    let fix = Fix { title: String::new(), edits: edits.iter().map(within).collect(), safety: Safety::ChangesFabric };
    Some(fix.apply(text.get(line.start..line.end)?))
}
