//! Words of print in lines that can't be read otherwise: each is put into ours, and the line read again.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::codes;
use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};

/// What print says, and what is written for it. `#` is a number, `$` the end of the line. Ours is never longer, so that every
/// other place in the line stays where it is. The first that fits is taken. All of it is common practice, no source.
const HABITS: &[(&str, &str)] = &[
    // How far.
    ("all the way around", "to end"),
    ("all the way across", "to end"),
    ("all around", "to end"),
    ("all across", "to end"),
    ("in each remaining st", "to end"),
    ("in each remaining stitch", "to end"),
    ("in each of the remaining sts", "to end"),
    ("in all remaining sts", "to end"),
    ("in the remaining sts", "to end"),
    ("in the remaining stitches", "to end"),
    ("in remaining sts", "to end"),
    ("in remaining stitches", "to end"),
    ("in each rem st", "to end"),
    ("in rem sts", "to end"),
    ("in the remaining # sts", "#"),
    ("in remaining # sts", "#"),
    ("in the rem # sts", "#"),
    ("in rem # sts", "#"),
    ("in last # sts", "#"),
    ("in the last # sts", "#"),
    ("until the last # sts", "to last #"),
    ("until last # sts", "to last #"),
    ("until the last", "to last"),
    ("until last", "to last"),
    ("up to the last", "to last"),
    ("to the last", "to last"),
    ("piece measures", ""),
    ("work measures", ""),
    // How often lines are done again.
    ("for # more rnds", "# times"),
    ("for # more rounds", "# times"),
    ("for # more rows", "# times"),
    ("for # rnds", "# times"),
    ("for # rounds", "# times"),
    ("for # rows", "# times"),
    ("# more rnds $", "# times"),
    ("# more rounds $", "# times"),
    ("# more rows $", "# times"),
    // Over how many.
    ("over the next # sts", ""),
    ("over the next # stitches", ""),
    ("over next # sts", ""),
    ("over next # stitches", ""),
    ("over # sts", ""),
    ("st ( s )", "st"),
    ("ch ( s )", "ch"),
    // Into which loop.
    ("blo #", "# blo"),
    ("flo #", "# flo"),
    ("in blo ,", "blo"),
    ("in flo ,", "flo"),
    ("through back loops only", "blo"),
    ("through back loop only", "blo"),
    ("through the back loop", "blo"),
    ("through back loops", "blo"),
    ("through back loop", "blo"),
    ("through front loops only", "flo"),
    ("through front loop only", "flo"),
    ("through the front loop", "flo"),
    ("through front loops", "flo"),
    ("through front loop", "flo"),
    ("tbl", "blo"),
    ("tfl", "flo"),
    // The ring is where the piece starts.
    ("make a magic ring ,", ""),
    ("magic ring ,", ""),
    ("magic circle ,", ""),
    ("mr ,", ""),
    // The count at the end.
    ("= # sts total $", "= #"),
    ("= # st total $", "= #"),
    ("= # total $", "= #"),
    ("( # sts total ) $", "= #"),
    ("( # total ) $", "= #"),
    ("( total # ) $", "= #"),
    ("( # sts in total ) $", "= #"),
    ("( # stitches total ) $", "= #"),
    (", # sts . $", "= #"),
    (". # sts . $", "= #"),
    (", # sts $", "= #"),
    (". # sts $", "= #"),
    (", # stitches $", "= #"),
    (". # stitches $", "= #"),
    (". # sc $", "= #"),
    (". # dc $", "= #"),
    (". # hdc $", "= #"),
    (": # sts $", "= #"),
    (": # $", "=#"),
    ("- > # $", "= #"),
    ("→ # $", "= #"),
    ("→ # sts $", "= #"),
    ("= > # $", "= #"),
    ("< # > $", "= #"),
    ("< # sts > $", "= #"),
    ("{ # } $", "= #"),
    ("{ # sts } $", "= #"),
    // Numbers in words.
    ("first ch from", "1st ch from"),
    ("second ch", "2nd ch"),
    ("third ch", "3rd ch"),
    ("fourth ch", "4th ch"),
    ("fifth ch", "5th ch"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("six", "6"),
    ("seven", "7"),
    ("eight", "8"),
    ("nine", "9"),
    ("ten", "10"),
    ("eleven", "11"),
    ("twelve", "12"),
    ("½", ".5"),
    ("\u{200b}", ""),
    ("\u{200d}", ""),
    ("\u{feff}", ""),
    ("\u{ad}", ""),
    // What joins steps.
    (", and then", ","),
    (", then", ","),
    ("and then", ","),
    (", and", ","),
    ("then", ","),
    ("and", ","),
    ("skip the", "skip"),
    ("sk the", "skip"),
];

/// Words before a `next` that it goes with; after a stitch alone it is left out.
const BEFORE_NEXT: &[&str] = &["in", "into", "to", "skip", "sk", "each", "of", "the", "until"];

/// So much of a line can be the numbers of its label.
const LONGEST_LABEL: usize = 24;

/// A word or sign of a line.
#[derive(Clone, Copy)]
struct Piece<'l> {
    start: usize,
    text: &'l str,
}

/// A line with its words of print in ours.
pub(super) struct Rewritten {
    /// As long as the line was, so that every place in it stays what it was.
    pub line: String,
    edits: Vec<Edit>,
}

/// Puts the words of print of a line into ours; nothing when there are none.
pub(super) fn rewrite(line: &str, begin: usize) -> Option<Rewritten> {
    let pieces = pieces(line);
    let mut out = Rewritten { line: line.to_owned(), edits: Vec::new() };
    let mut at = 0;
    while at < pieces.len() {
        let rest = pieces.get(at..).unwrap_or_default();
        let before = at.checked_sub(1).and_then(|before| pieces.get(before)).map_or("", |piece| piece.text);
        let above = pieces.get(..at).unwrap_or_default();
        let ours = along(line, rest)
            .or_else(|| label(line, rest, before))
            .or_else(|| more(above, rest))
            .or_else(|| legs(rest, before))
            .or_else(|| habit(rest, before).and_then(|habit| in_times(above, rest, habit)));
        match ours {
            Some((taken, ours)) => {
                out.put(rest.get(..taken).unwrap_or_default(), &ours, begin);
                at += taken.max(1);
            }
            None => at += 1,
        }
    }
    (!out.edits.is_empty()).then_some(out)
}

impl Rewritten {
    /// Takes what else is only a matter of spelling in the line along, so that one finding mends it. Gives back the others.
    /// What another finding puts right as well is left to that one.
    pub(super) fn absorb(&mut self, findings: Vec<Diagnostic>, begin: usize) -> Vec<Diagnostic> {
        let spelling = |finding: &Diagnostic| match finding.fixes.as_slice() {
            [fix] if fix.safety == Safety::KeepsFabric && finding.others.is_empty() => fix.edits.clone(),
            _ => Vec::new(),
        };
        let theirs: Vec<Edit> = findings.iter().flat_map(spelling).collect();
        let inside = |own: Span, edit: Span| edit.start <= own.start && own.end <= edit.end;
        self.edits.retain(|own| !theirs.iter().any(|edit| inside(own.span, edit.span)));
        if self.edits.is_empty() {
            return findings;
        }
        let crosses = |own: &Edit, edit: &Edit| edit.span.start < own.span.end && own.span.start < edit.span.end;
        if theirs.iter().any(|edit| self.edits.iter().any(|own| crosses(own, edit))) {
            return self.anew(findings, theirs, begin);
        }
        let mut others = Vec::new();
        for finding in findings {
            let edits = spelling(&finding);
            if edits.is_empty() {
                others.push(finding);
            } else {
                self.edits.extend(edits);
            }
        }
        self.edits.sort();
        others
    }

    /// Where something else is to be spelt otherwise in the words that were put in: the line is written anew.
    fn anew(&mut self, findings: Vec<Diagnostic>, mut theirs: Vec<Edit>, begin: usize) -> Vec<Diagnostic> {
        theirs.sort();
        theirs.dedup();
        let back = |span: Span| Span::new(span.start - begin, span.end - begin);
        let edits = theirs.iter().map(|edit| Edit { span: back(edit.span), text: edit.text.clone() }).collect();
        let line = Fix { title: String::new(), edits, safety: Safety::KeepsFabric }.apply(&self.line);
        let first = self.line.len() - self.line.trim_start().len();
        let span = Span::new(begin + first, begin + self.line.trim_end().len());
        let text = line.split_whitespace().collect::<Vec<_>>().join(" ");
        self.edits = vec![Edit { span, text }];
        let plain = |finding: &Diagnostic| {
            matches!(finding.fixes.as_slice(), [fix] if fix.safety == Safety::KeepsFabric) && finding.others.is_empty()
        };
        findings.into_iter().filter(|finding| !plain(finding)).collect()
    }

    /// One finding for the whole line.
    pub(super) fn finding(&self, line: &str, begin: usize) -> Option<Diagnostic> {
        let first = self.edits.first()?.span;
        let last = self.edits.last()?.span;
        let written = line.get(first.start - begin..last.end - begin).unwrap_or_default().trim();
        let better = Fix { title: String::new(), edits: self.moved(begin), safety: Safety::KeepsFabric }.apply(line);
        let better = better.split_whitespace().collect::<Vec<_>>().join(" ");
        let unseen = written.chars().all(is_unseen);
        let message = if unseen {
            "a sign that can't be seen stands here".to_owned()
        } else if self.edits.len() == 1 {
            format!("`{written}` has another form here")
        } else {
            "some words of this line have another form here".to_owned()
        };
        let finding = Diagnostic::error(codes::SPELLING, message, first, "as print has it");
        let fix = Fix { title: format!("write `{better}`"), edits: self.edits.clone(), safety: Safety::KeepsFabric };
        Some(finding.with_fix(fix))
    }

    fn moved(&self, begin: usize) -> Vec<Edit> {
        let back = |span: Span| Span::new(span.start - begin, span.end - begin);
        self.edits.iter().map(|edit| Edit { span: back(edit.span), text: edit.text.clone() }).collect()
    }

    fn put(&mut self, pieces: &[Piece<'_>], ours: &str, begin: usize) {
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { return };
        let (mut start, mut end) = (first.start, last.start + last.text.len());
        if ours.len() > end - start {
            return;
        }
        let padded = format!("{ours}{:1$}", "", end - start - ours.len());
        self.line.replace_range(start..end, &padded);
        let rest = self.line.get(end..).unwrap_or_default();
        let word = first.text.starts_with(|c: char| c.is_ascii_alphanumeric());
        let nothing_after = rest.is_empty() || rest.starts_with([']', ')', ',', ';', '.', '=']);
        // A blank before it goes with it, but no more than is left of an earlier one.
        if ours.starts_with([',', '=']) || ours.is_empty() && word && nothing_after {
            let before = self.line.get(..start).unwrap_or_default();
            let done = self.edits.last().map_or(0, |edit| edit.span.end - begin);
            start = before.trim_end_matches(' ').len().max(done);
        } else if ours.is_empty() && word {
            end += rest.len() - rest.trim_start_matches(' ').len();
        }
        let text = match ours.strip_prefix('=') {
            Some(count) => format!(" = {}", count.trim()),
            None => ours.to_owned(),
        };
        self.edits.push(Edit { span: Span::new(start + begin, end + begin), text });
    }
}

/// Signs without a width, which come along when text is copied from a page.
fn is_unseen(sign: char) -> bool {
    ['\u{200b}', '\u{200d}', '\u{feff}', '\u{ad}'].contains(&sign)
}

/// The words and signs of a line.
fn pieces(line: &str) -> Vec<Piece<'_>> {
    let mut pieces: Vec<Piece<'_>> = Vec::new();
    let mut at = 0;
    while let Some(sign) = line.get(at..).and_then(|rest| rest.chars().next()) {
        let rest = line.get(at..).unwrap_or_default();
        let inside = |c: char| c.is_alphanumeric() && c.is_ascii() || c == '\'' || c == '’';
        let length = rest.find(|c: char| !inside(c)).unwrap_or(rest.len()).max(sign.len_utf8());
        if !sign.is_whitespace() {
            pieces.push(Piece { start: at, text: rest.get(..length).unwrap_or_default() });
        }
        at += length;
    }
    pieces
}

/// A habit of the table at the beginning of some pieces: how many it takes, and what is written for it.
fn habit(pieces: &[Piece<'_>], before: &str) -> Option<(usize, String)> {
    let (first, second) = (pieces.first()?, pieces.get(1));
    let goes_on = BEFORE_NEXT.iter().any(|word| word.eq_ignore_ascii_case(before));
    let number = |piece: &Piece<'_>| piece.text.starts_with(|c: char| c.is_ascii_digit());
    if first.text.eq_ignore_ascii_case("next") && second.is_some_and(number) && !goes_on && before != ":" {
        return Some((1, String::new()));
    }
    beginning_like(first.text).find_map(|(print, ours)| {
        let mut at = 0;
        let mut said = None;
        for word in print.split(' ') {
            if word == "$" {
                if at != pieces.len() {
                    return None;
                }
                continue;
            }
            let piece = pieces.get(at)?;
            if word == "#" {
                if !piece.text.chars().all(|c| c.is_ascii_digit()) {
                    return None;
                }
                said = Some(piece.text);
            } else if !piece.text.eq_ignore_ascii_case(word) {
                return None;
            }
            at += 1;
        }
        Some((at, ours.replace('#', said.unwrap_or_default())))
    })
}

/// The habits whose first word begins with the letter of this one, or may be any number.
fn beginning_like(word: &str) -> impl Iterator<Item = &'static (&'static str, &'static str)> {
    static BY_LETTER: LazyLock<BTreeMap<u8, Vec<&'static (&'static str, &'static str)>>> = LazyLock::new(|| {
        let mut by_letter: BTreeMap<u8, Vec<_>> = BTreeMap::new();
        for habit in HABITS {
            let letter = habit.0.as_bytes().first().map_or(b'$', u8::to_ascii_lowercase);
            let letters = if letter == b'#' { b'0'..=b'9' } else { letter..=letter };
            letters.for_each(|letter| by_letter.entry(letter).or_default().push(habit));
        }
        by_letter
    });
    let letter = word.as_bytes().first().map(u8::to_ascii_lowercase);
    letter.and_then(|letter| BY_LETTER.get(&letter)).into_iter().flatten().copied()
}

/// `again row 3 twice more`: what stands above has been worked once, so what is done again is more.
fn more(before: &[Piece<'_>], pieces: &[Piece<'_>]) -> Option<(usize, String)> {
    let is = |piece: Option<&Piece<'_>>, words: &[&str]| {
        piece.is_some_and(|piece| words.iter().any(|word| word.eq_ignore_ascii_case(piece.text)))
    };
    let again = is(before.first(), &["again", "rep", "repeat"]);
    let often = pieces.first().filter(|_| is(pieces.first(), &["once", "twice"]))?;
    (again && is(pieces.get(1), &["more"])).then(|| (2, often.text.to_lowercase()))
}

/// `sc2tog over the next 2 sc`: what it is worked over says its name.
fn legs(pieces: &[Piece<'_>], before: &str) -> Option<(usize, String)> {
    let is = |at: usize, word: &str| pieces.get(at).is_some_and(|piece| word.eq_ignore_ascii_case(piece.text));
    if !is(0, "over") {
        return None;
    }
    let mut at = 1 + usize::from(is(1, "the"));
    at += usize::from(is(at, "next"));
    let number: u32 = pieces.get(at)?.text.parse().ok()?;
    let stitch = pieces.get(at + 1)?.text;
    let of_so_many = before.to_ascii_lowercase().ends_with(&format!("{number}tog"));
    let named = stitch.bytes().all(|letter| letter.is_ascii_alphabetic());
    (of_so_many && named).then(|| (at + 2, String::new()))
}

/// So many rows of several that are done again are fewer times all of them; nothing where they don't come out.
fn in_times(before: &[Piece<'_>], pieces: &[Piece<'_>], habit: (usize, String)) -> Option<(usize, String)> {
    let (taken, ours) = habit;
    let is_row =
        |piece: &Piece<'_>| ["rows", "rnds", "rounds"].iter().any(|word| word.eq_ignore_ascii_case(piece.text));
    let says_rows = pieces.get(..taken)?.iter().any(is_row);
    let Some(rows) = ours.strip_suffix(" times").filter(|_| says_rows).and_then(|rows| rows.parse::<u64>().ok()) else {
        return Some((taken, ours));
    };
    let together = rows_named(before);
    rows.is_multiple_of(together).then(|| (taken, format!("{} times", rows / together)))
}

/// How many rows some words name: `rows 2-3`, `last 2 rows`.
fn rows_named(pieces: &[Piece<'_>]) -> u64 {
    let number = |at: usize| pieces.get(at).and_then(|piece| piece.text.parse::<u64>().ok());
    let is = |at: usize, words: &[&str]| {
        pieces.get(at).is_some_and(|piece| words.iter().any(|word| word.eq_ignore_ascii_case(piece.text)))
    };
    let named = (0..pieces.len()).find_map(|at| {
        let to = number(at + 2).filter(|_| is(at + 1, &["-", "–", "to", "and", "&"]));
        let last = number(at + 1).filter(|_| is(at, &["last"]));
        number(at).zip(to).map(|(from, to)| to.saturating_sub(from) + 1).or(last)
    });
    named.unwrap_or(1).max(1)
}

/// `sc in 2nd ch from hook and in each ch across`: the same stitch in each of the others.
fn along(line: &str, pieces: &[Piece<'_>]) -> Option<(usize, String)> {
    let word = |at: usize| pieces.get(at).map_or("", |piece| piece.text);
    let is = |at: usize, words: &[&str]| words.iter().any(|known| known.eq_ignore_ascii_case(word(at)));
    let mut at = usize::from(is(0, &[","]));
    at += usize::from(is(at, &["and"]));
    if at == 0 {
        return None;
    }
    at += usize::from(is(at, &["in"]));
    if !is(at, &["each", "every"]) {
        return None;
    }
    at += 1;
    at += usize::from(is(at, &["remaining"]));
    if !is(at, &["ch", "chain", "st", "stitch"]) {
        return None;
    }
    at += 1;
    let end = if is(at, &["across", "around"]) {
        at + 1
    } else if is(at, &["to"]) && is(at + 1, &["end"]) {
        at + 2
    } else {
        return None;
    };
    let before = line.get(..pieces.first()?.start)?;
    let step = before.rsplit([',', ':']).next()?;
    let (stitch, place) = step.trim().split_once(" in ")?;
    let from_hook = place.trim_end().ends_with("hook");
    (from_hook && !stitch.contains(' ')).then(|| (end, format!(", {} to end", stitch.to_lowercase())))
}

/// `R3-R5:`: the word for rounds is said once.
fn label(line: &str, pieces: &[Piece<'_>], before: &str) -> Option<(usize, String)> {
    let first = pieces.first()?;
    let colon = line.find(':').filter(|at| *at <= LONGEST_LABEL)?;
    let dash = matches!(before, "-" | "–" | "to");
    let letters = first.text.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = first.text.get(letters.len()..)?;
    let word = ["r", "rnd", "rnds", "row", "rows", "round", "rounds"].iter().any(|w| w.eq_ignore_ascii_case(letters));
    (dash && word && first.start < colon).then(|| (1, digits.to_owned()))
}
