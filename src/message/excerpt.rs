//! A pattern's text as messages show it: a line that is too long for a screen is cut around what is marked in it.

use std::borrow::Cow;
use std::ops::Range;

use codespan_reporting::files::{Error, Files, line_starts};

use crate::diagnostic::Span;

/// Letters that a line may have and still be shown whole.
const WHOLE: usize = 200;

/// Letters that are shown on each side of the beginning and the end of a mark.
const AROUND: usize = 45;

/// What stands for all that is cut out.
const CUT: &str = "…";

/// The text around some marks.
#[derive(Debug)]
pub(super) struct Excerpt<'t> {
    name: &'t str,
    text: &'t str,
    /// Where the lines of the text begin.
    lines: &'t [usize],
    shown: Cow<'t, str>,
    /// Where the same lines begin in what is shown.
    shown_lines: Cow<'t, [usize]>,
    /// What is kept, in its order.
    kept: Vec<Kept>,
}

/// A stretch of the text that is shown.
#[derive(Debug, Clone, Copy)]
struct Kept {
    in_text: usize,
    in_shown: usize,
    bytes: usize,
}

/// A text with its lines.
#[derive(Debug)]
pub(super) struct Source<'t> {
    name: &'t str,
    text: &'t str,
    lines: Vec<usize>,
    has_long: bool,
}

impl<'t> Source<'t> {
    pub(super) fn new(name: &'t str, text: &'t str) -> Self {
        let has_long = text.lines().any(is_long);
        Self { name, text, lines: line_starts(text).collect(), has_long }
    }

    /// The number of the line that a place stands in, counted from 1.
    pub(super) fn line(&self, at: usize) -> usize {
        self.lines.partition_point(|start| *start <= at).max(1)
    }

    /// The text around these marks.
    pub(super) fn around(&self, marks: &[Span]) -> Excerpt<'_> {
        let whole = Kept { in_text: 0, in_shown: 0, bytes: self.text.len() };
        let mut excerpt = Excerpt {
            name: self.name,
            text: self.text,
            lines: &self.lines,
            shown: Cow::Borrowed(self.text),
            shown_lines: Cow::Borrowed(&self.lines),
            kept: vec![whole],
        };
        if self.has_long {
            excerpt.cut(marks);
        }
        excerpt
    }
}

/// Bytes are counted first: most lines need no more.
fn is_long(line: &str) -> bool {
    line.len() > WHOLE && line.chars().nth(WHOLE).is_some()
}

impl Excerpt<'_> {
    /// Where a place of the text is to be seen; what is cut out is where the cut is.
    pub(super) fn place(&self, at: usize) -> usize {
        let before = self.kept.partition_point(|kept| kept.in_text <= at).checked_sub(1);
        before
            .and_then(|index| self.kept.get(index))
            .map_or(0, |kept| kept.in_shown + (at - kept.in_text).min(kept.bytes))
    }

    /// The place of the text that is to be seen here.
    fn place_in_text(&self, at: usize) -> usize {
        let before = self.kept.partition_point(|kept| kept.in_shown <= at).checked_sub(1);
        before
            .and_then(|index| self.kept.get(index))
            .map_or(0, |kept| kept.in_text + (at - kept.in_shown).min(kept.bytes))
    }

    fn cut(&mut self, marks: &[Span]) {
        let mut shown = String::new();
        self.kept.clear();
        let mut at = 0;
        for line in self.text.split_inclusive('\n') {
            let bare = line.trim_end_matches(['\n', '\r']);
            let end = at + bare.len();
            let windows =
                if is_long(bare) { windows(self.text, at..end, marks) } else { std::iter::once(at..end).collect() };
            let mut done = at;
            for window in windows {
                if window.start > done {
                    shown.push_str(CUT);
                }
                done = window.end;
                self.keep(window, &mut shown);
            }
            if done < end {
                shown.push_str(CUT);
            }
            at += line.len();
            self.keep(end..at, &mut shown);
        }
        self.shown_lines = Cow::Owned(line_starts(&shown).collect());
        self.shown = Cow::Owned(shown);
    }

    fn keep(&mut self, part: Range<usize>, shown: &mut String) {
        self.kept.push(Kept { in_text: part.start, in_shown: shown.len(), bytes: part.len() });
        shown.push_str(self.text.get(part).unwrap_or_default());
    }
}

/// What is shown of a long line: the surroundings of each end of each mark, or its beginning where nothing is marked.
fn windows(text: &str, line: Range<usize>, marks: &[Span]) -> Vec<Range<usize>> {
    let places = marks.iter().flat_map(|mark| [mark.start, mark.end]);
    let mut places: Vec<usize> = places.filter(|at| (line.start..=line.end).contains(at)).collect();
    places.sort_unstable();
    if places.is_empty() {
        places.push(line.start);
    }
    let mut windows: Vec<Range<usize>> = Vec::new();
    for at in places {
        let before = text.get(line.start..at).unwrap_or_default().char_indices().rev().nth(AROUND);
        let start = before.map_or(line.start, |(from_start, _)| line.start + from_start);
        let after = text.get(at..line.end).unwrap_or_default().char_indices().nth(AROUND);
        let end = after.map_or(line.end, |(further, _)| at + further);
        match windows.last_mut() {
            Some(last) if start <= last.end + CUT.len() => last.end = last.end.max(end),
            _ => windows.push(start..end),
        }
    }
    windows
}

impl<'a> Files<'a> for Excerpt<'_> {
    type FileId = ();
    type Name = &'a str;
    type Source = &'a str;

    fn name(&'a self, (): ()) -> Result<&'a str, Error> {
        Ok(self.name)
    }

    fn source(&'a self, (): ()) -> Result<&'a str, Error> {
        Ok(&self.shown)
    }

    fn line_index(&'a self, (): (), at: usize) -> Result<usize, Error> {
        Ok(self.shown_lines.partition_point(|start| *start <= at).saturating_sub(1))
    }

    /// Columns are those of the whole line.
    fn column_number(&'a self, (): (), line: usize, at: usize) -> Result<usize, Error> {
        let start = self.lines.get(line).copied().unwrap_or_default();
        Ok(self.text.get(start..self.place_in_text(at)).unwrap_or_default().chars().count() + 1)
    }

    fn line_range(&'a self, (): (), line: usize) -> Result<Range<usize>, Error> {
        let max = self.shown_lines.len();
        let start = self.shown_lines.get(line).copied().ok_or(Error::LineTooLarge { given: line, max })?;
        Ok(start..self.shown_lines.get(line + 1).copied().unwrap_or(self.shown.len()))
    }
}
