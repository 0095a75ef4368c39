//! What is different between two versions of a pattern, by what is worked and not by how it is worded.

use std::collections::BTreeMap;

use crate::Compiled;
use crate::fabric::Row;
use crate::page::wording::{Phrase, Told, Voice, ending, sentence, start};
use crate::page::{Edition, note};
use crate::pattern::model::{ItemKind, Pattern, Piece, Terms};
use crate::words::{count, is_date, list};

/// What is different, in sentences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Differences {
    /// What is worked otherwise, in the order of the pattern: plain sentences with a full stop.
    pub worked: Vec<String>,
    /// Lines that are only worded otherwise, as `Crown, Rnd 4`.
    pub reworded: Vec<String>,
}

/// Compares two versions of a pattern.
#[must_use]
pub fn differ(old: &Compiled, new: &Compiled) -> Differences {
    let mut differences = Differences::default();
    differences.sizes(&old.pattern, &new.pattern);
    let gone = old.pattern.pieces.iter().filter(|piece| find(new, &piece.name).is_none());
    differences.worked.extend(gone.map(|piece| format!("{} is gone.", named(piece))));
    for index in 0..new.pattern.pieces.len() {
        let Some(piece) = new.pattern.pieces.get(index) else { continue };
        match find(old, &piece.name) {
            Some(before) => {
                let terms = new.pattern.terms;
                let (old, new) = (Side { whole: old, piece: before, terms }, Side { whole: new, piece: index, terms });
                Pair { old, new }.tell(&mut differences);
            }
            None => differences.worked.push(format!("{} is new.", named(piece))),
        }
    }
    differences
}

/// The day that a version line names, as `2026-03-01`.
#[must_use]
pub fn day_of(pattern: &Pattern) -> Option<&str> {
    let words = pattern.head.version.as_deref()?.split_whitespace();
    words.map(|word| word.trim_end_matches(['.', ',', ';'])).find(|word| is_date(word))
}

impl Differences {
    /// As a note in Markdown, with its day where one is known.
    #[must_use]
    pub fn markdown(&self, date: Option<&str>) -> String {
        let heading = date.map_or_else(|| "What is different".to_owned(), |date| format!("Corrections of {date}"));
        let heading = Phrase::of(heading);
        let mut told: Vec<Phrase> = self.worked.iter().map(Phrase::quoted).collect();
        if told.is_empty() {
            told.push(Phrase::of("Nothing that is worked has changed."));
        }
        if let Some(reworded) = self.reworded() {
            told.push(Phrase::quoted(reworded));
        }
        note(&heading, &told)
    }

    /// As lines for the head of the pattern, one a sentence.
    #[must_use]
    pub fn lines(&self, date: &str) -> String {
        // A number sign would begin a remark.
        let line = |told: &String| format!("correction {date} {}\n", told.replace('#', "no. "));
        self.worked.iter().map(line).collect()
    }

    /// That some lines say the same in other words.
    fn reworded(&self) -> Option<String> {
        let verb = if self.reworded.len() == 1 { "is" } else { "are" };
        let told = || format!("{} {verb} worded anew; what is worked is the same.", list(&self.reworded));
        (!self.reworded.is_empty()).then(told)
    }

    fn sizes(&mut self, old: &Pattern, new: &Pattern) {
        let missing = |from: &Pattern, there: &Pattern| -> Vec<String> {
            let gone = from.sizes.iter().filter(|size| !size.is_empty() && position(there, size).is_none());
            gone.map(|size| format!("Size {size}")).collect()
        };
        self.worked.extend(missing(old, new).into_iter().map(|size| format!("{size} is gone.")));
        self.worked.extend(missing(new, old).into_iter().map(|size| format!("{size} is new.")));
    }
}

fn find(whole: &Compiled, name: &str) -> Option<usize> {
    whole.pattern.pieces.iter().position(|piece| piece.name.eq_ignore_ascii_case(name))
}

fn position(pattern: &Pattern, size: &str) -> Option<usize> {
    pattern.sizes.iter().position(|other| other.eq_ignore_ascii_case(size))
}

/// `Piece Crown`, or `The piece` for one without a name.
fn named(piece: &Piece) -> String {
    if piece.name.is_empty() { "The piece".to_owned() } else { format!("Piece {}", piece.name) }
}

/// A piece of a version.
#[derive(Clone, Copy)]
struct Side<'a> {
    whole: &'a Compiled,
    piece: usize,
    /// The stitch names that both versions are told in.
    terms: Terms,
}

impl<'a> Side<'a> {
    fn piece(self) -> Option<&'a Piece> {
        self.whole.pattern.pieces.get(self.piece)
    }

    fn rows(self, size: usize) -> &'a [Row] {
        let fabric = self.whole.fabric.pieces.get(self.piece).and_then(|piece| piece.sizes.get(size));
        fabric.map_or(&[], |fabric| fabric.rows.as_slice())
    }

    /// Something about the piece in words, for one size or for all of them.
    fn said<T>(self, size: Option<usize>, say: impl FnOnce(Told<'_>) -> T) -> Option<T> {
        let voice = Voice::new(&self.whole.pattern, &Edition { size, terms: Some(self.terms), ..Edition::default() });
        let pieces = &self.whole.fabric.pieces;
        Some(say(Told {
            voice: &voice,
            piece: self.piece()?,
            fabric: pieces.get(self.piece),
            pieces,
            side: None,
            row: None,
        }))
    }

    fn beginning(self, size: usize) -> String {
        let said = self.said(Some(size), |told| start::start(told).map(|begun| begun.plain()));
        said.flatten().unwrap_or_default()
    }

    /// What is done to the piece after its last row, and between its rows, in sentences.
    fn endings(self, size: usize) -> Vec<String> {
        let said = self.said(Some(size), |told| {
            let items = told.piece.items.iter().enumerate();
            let is_for = |sizes: &[bool]| sizes.get(size).copied().unwrap_or(true);
            let endings = items.filter(|(_, item)| {
                let work = matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_) | ItemKind::Words(_));
                !work && is_for(&item.sizes)
            });
            endings.filter_map(|(index, item)| ending(told, index, item)).map(|told| told.plain()).collect()
        });
        said.unwrap_or_default()
    }

    /// The sentence of the line that a row works.
    fn words(self, row: &Row, size: usize) -> String {
        let said = self.said(Some(size), |told| {
            let item = told.piece.items.get(row.source)?;
            Some(sentence(told, row.source, item, told.line(row.source)?).plain())
        });
        said.flatten().unwrap_or_default()
    }
}

/// A piece in both versions.
#[derive(Clone, Copy)]
struct Pair<'a> {
    old: Side<'a>,
    new: Side<'a>,
}

/// What became of a row or round.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum Change {
    /// It makes another count.
    Count { was: u32, is: u32 },
    /// It is worked otherwise and makes the same count.
    Otherwise,
    /// Only the new version has it.
    New,
    /// Only the old one has it; its number is that of the old one.
    Gone,
    /// It is worked alike and has a number that is greater by so much.
    Moved { by: i64 },
    /// It is worded otherwise; what is worked is the same.
    Reworded,
}

impl<'a> Pair<'a> {
    fn tell(self, differences: &mut Differences) {
        let (Some(before), Some(piece)) = (self.old.piece(), self.new.piece()) else { return };
        let name = if piece.name.is_empty() { String::new() } else { format!("{}, ", piece.name) };
        if before.copies != piece.copies {
            let told = format!("{} is made {}, not {}.", named(piece), times(piece.copies), times(before.copies));
            differences.worked.push(told);
        }
        let sizes = self.sizes();
        self.ends(&sizes, &name, "the beginning", differences, |side, size| vec![side.beginning(size)]);
        let word = if piece.way.rounds() { "Rnd" } else { "Row" };
        for (from, to, change, concerned) in self.changes(&sizes) {
            let line = if from == to { format!("{word} {from}") } else { format!("{word}s {from}–{to}") };
            let line = format!("{name}{line}{}", self.in_sizes(&concerned, &sizes));
            let several = from != to;
            let told = match change {
                Change::Moved { by } => {
                    let was = |number: u32| i64::from(number) - by;
                    let before = if several {
                        format!("{word}s {}–{}", was(from), was(to))
                    } else {
                        format!("{word} {}", was(from))
                    };
                    let were = if several { "were" } else { "was" };
                    differences.worked.push(format!(
                        "{line} {were} {before} and {} alike.",
                        if several { "are worked" } else { "is worked" }
                    ));
                    continue;
                }
                Change::Reworded => {
                    differences.reworded.push(line);
                    continue;
                }
                Change::Count { was, is } => {
                    let verb = if several { "make" } else { "makes" };
                    format!("{line} {verb} {}, not {was}", count(is, "stitch"))
                }
                Change::Otherwise if several => format!("{line} are worked otherwise and make the same counts"),
                Change::Otherwise => format!("{line} is worked otherwise and makes the same count"),
                Change::New => format!("{line} {} new", if several { "are" } else { "is" }),
                Change::Gone => format!("{line} of the older version {} gone", if several { "are" } else { "is" }),
            };
            differences.worked.push(format!("{told}."));
        }
        self.ends(&sizes, &name, "what is done besides the rows", differences, Side::endings);
    }

    /// The sizes that both versions have: the old index and the new one.
    fn sizes(self) -> Vec<(usize, usize)> {
        let sizes = self.new.whole.pattern.sizes.iter().enumerate();
        sizes.filter_map(|(new, name)| Some((position(&self.old.whole.pattern, name)?, new))).collect()
    }

    /// ` (size large)`, where not every size is concerned.
    fn in_sizes(self, concerned: &[usize], all: &[(usize, usize)]) -> String {
        if concerned.len() == all.len() {
            return String::new();
        }
        let names = concerned.iter().filter_map(|size| self.new.whole.pattern.sizes.get(*size));
        let names: Vec<&str> = names.map(String::as_str).collect();
        format!(" (size{} {})", if names.len() == 1 { "" } else { "s" }, list(&names))
    }

    /// What stands before or behind the rows, as it reads in each size.
    fn ends(
        self,
        sizes: &[(usize, usize)],
        name: &str,
        what: &str,
        differences: &mut Differences,
        say: impl Fn(Side<'a>, usize) -> Vec<String>,
    ) {
        let mut changes: BTreeMap<(String, String), Vec<usize>> = BTreeMap::new();
        for &(old, new) in sizes {
            let (was, is) = (say(self.old, old).join(" "), say(self.new, new).join(" "));
            if was != is {
                changes.entry((is, was)).or_default().push(new);
            }
        }
        for ((is, was), concerned) in changes {
            let nothing = |text: String| if text.is_empty() { "nothing".to_owned() } else { format!("“{text}”") };
            let in_sizes = self.in_sizes(&concerned, sizes);
            let told = format!("{name}{what}{in_sizes}: {} in place of {}", nothing(is), nothing(was));
            let stop = if told.ends_with('”') { "" } else { "." };
            differences.worked.push(format!("{}{stop}", crate::page::wording::phrase::capital(&told)));
        }
    }

    /// Rows that changed: the first and the last of a stretch that changed alike, how, and in which sizes.
    fn changes(self, sizes: &[(usize, usize)]) -> Vec<(u32, u32, Change, Vec<usize>)> {
        let mut by_row: BTreeMap<(u32, u32), BTreeMap<Change, Vec<usize>>> = BTreeMap::new();
        for &(old, new) in sizes {
            let (before, after) = (self.old.rows(old), self.new.rows(new));
            for pair in aligned(before, after) {
                // What is gone stands where it would be.
                let place = pair.after.or(pair.next).unwrap_or(after.len());
                let number = numbered(pair.after.or(pair.before).unwrap_or(0));
                if let Some(change) = self.change(pair, old, new) {
                    by_row.entry((numbered(place), number)).or_default().entry(change).or_default().push(new);
                }
            }
        }
        let mut stretches: Vec<(u32, u32, Change, Vec<usize>)> = Vec::new();
        for ((_, number), changes) in by_row {
            for (change, concerned) in changes {
                // A stretch that goes on is among the last ones: there is at most one a size.
                let before = stretches.iter_mut().rev().take(2 * sizes.len()).find(|(_, last, known, sizes)| {
                    last.saturating_add(1) == number && *known == change && *sizes == concerned
                });
                match before {
                    Some((_, last, ..)) => *last = number,
                    None => stretches.push((number, number, change, concerned)),
                }
            }
        }
        stretches
    }

    fn change(self, pair: Aligned, old: usize, new: usize) -> Option<Change> {
        let before = pair.before.and_then(|at| Some((at, self.old.rows(old).get(at)?)));
        let after = pair.after.and_then(|at| Some((at, self.new.rows(new).get(at)?)));
        let ((was_at, before), (at, after)) = match (before, after) {
            (Some(before), Some(after)) => (before, after),
            (None, Some(_)) => return Some(Change::New),
            (Some(_), None) => return Some(Change::Gone),
            (None, None) => return None,
        };
        let (was, is) = (before.ledger.stitches, after.ledger.stitches);
        if was != is {
            return Some(Change::Count { was, is });
        }
        if alike(before) != alike(after) || before.right_side != after.right_side {
            return Some(Change::Otherwise);
        }
        if was_at != at {
            return Some(Change::Moved { by: i64::from(numbered(at)) - i64::from(numbered(was_at)) });
        }
        (self.old.words(before, old) != self.new.words(after, new)).then_some(Change::Reworded)
    }
}

/// A row of the older version and the row of the newer one that it has become, by their places; nothing where there is none.
#[derive(Debug, Clone, Copy)]
struct Aligned {
    before: Option<usize>,
    after: Option<usize>,
    /// The row of the newer version that comes next.
    next: Option<usize>,
}

/// Pairs of rows in the order of working: those that are worked alike stay together, however many were put in or left out
/// above them. What lies between is paired in its order.
fn aligned(before: &[Row], after: &[Row]) -> Vec<Aligned> {
    /// Rows times rows from which a search for those that are alike takes too long; then they are paired in their order.
    const MOST_COMPARED: usize = 4_000_000;
    let (old, new): (Vec<_>, Vec<_>) = (before.iter().map(alike).collect(), after.iter().map(alike).collect());
    let same = old.iter().zip(&new).take_while(|(old, new)| old == new).count();
    let rest = |all: usize| all.saturating_sub(same);
    let stretches = if rest(old.len()).saturating_mul(rest(new.len())) > MOST_COMPARED {
        vec![(0..old.len(), 0..new.len())]
    } else {
        let found = similar::capture_diff_slices(similar::Algorithm::Myers, &old, &new);
        found.iter().map(|stretch| (stretch.old_range(), stretch.new_range())).collect()
    };
    let mut pairs = Vec::new();
    for (old, new) in stretches {
        for at in 0..old.len().max(new.len()) {
            let before = Some(old.start + at).filter(|at| *at < old.end);
            let after = Some(new.start + at).filter(|at| *at < new.end);
            pairs.push(Aligned { before, after, next: Some(new.end) });
        }
    }
    pairs
}

/// What is worked in a row, so that two can be compared.
fn alike(row: &Row) -> (u32, u64, u32) {
    (row.ledger.stitches, row.trail, row.ledger.left)
}

/// The number of a row by its place.
fn numbered(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX).saturating_add(1)
}

fn times(copies: u32) -> String {
    if copies == 1 { "once".to_owned() } else { format!("{copies} times") }
}
