//! Pieces of which it isn't read what they begin on: each edge of the pieces before is tried, and the one on which their rows close is taken
//! and said.

use super::Reading;
use crate::compiled::{compile, errors};

/// So many pieces before one are tried.
const MOST_BEFORE: usize = 3;
/// So many pieces of a text are begun so.
const MOST_PIECES: usize = 8;

/// A reading in which pieces without a beginning have one, where they close on it.
pub(super) fn found(mut reading: Reading) -> Reading {
    for _ in 0..MOST_PIECES {
        let Some(open) = Open::in_text(&reading.notation) else { break };
        let faults = errors(&compile(&reading.notation).findings).len();
        let tried = open.candidates().into_iter().filter_map(|start| {
            let other = open.begun(&reading.notation, &start);
            let found = errors(&compile(&other).findings);
            let line = |at: usize| other.get(..at).map_or(0, |before| before.matches('\n').count());
            let own = found.iter().filter(|span| (open.first..open.end + 1).contains(&line(span.start))).count();
            (own <= open.own_faults(&reading.notation)).then_some((found.len(), start, other))
        });
        let mut tried: Vec<(usize, String, String)> = tried.collect();
        tried.sort_by_key(|(found, ..)| *found);
        let Some((least, start, other)) = tried.first().cloned().filter(|(least, ..)| *least < faults) else { break };
        let alike = tried.iter().filter(|(found, ..)| *found == least).count() > 1;
        let why = if alike { "other readings close as well" } else { "it is the reading that closes" };
        let said = format!("read by choosing: {} begins on {start}; {why}", open.name);
        reading.notation = marked(&open.made_as_often(&other, &start), &said);
        reading.chosen.push(said);
    }
    reading
}

/// The remark that says what was chosen stands below the title.
fn marked(notation: &str, said: &str) -> String {
    let (title, rest) = notation.split_once('\n').unwrap_or((notation, ""));
    format!("{title}\n# {said}\n{rest}")
}

/// A piece without a beginning.
struct Open {
    name: String,
    /// The names of the pieces before it, the nearest first.
    before: Vec<String>,
    /// The line of its first row, counted from 0.
    first: usize,
    /// The line behind its last one.
    end: usize,
}

impl Open {
    /// The first piece without a beginning whose first row states how many stitches it has.
    fn in_text(notation: &str) -> Option<Self> {
        let lines: Vec<&str> = notation.lines().collect();
        let heads: Vec<usize> =
            (0..lines.len()).filter(|at| name_of(lines.get(*at).copied().unwrap_or_default()).is_some()).collect();
        heads.iter().enumerate().find_map(|(place, head)| {
            let end = heads.get(place + 1).copied().unwrap_or(lines.len());
            let own = lines.get(head + 1..end)?;
            let first = own.iter().position(|line| is_row(line))?;
            let begun = own.iter().any(|line| line.starts_with("start ") || line.starts_with("grid "))
                || lines.get(*head)?.contains(", as ");
            let counted = own.get(first)?.contains(" = ") && !own.get(first)?.contains(": = ");
            let before: Vec<String> =
                heads.get(..place)?.iter().rev().filter_map(|at| name_of(lines.get(*at)?)).take(MOST_BEFORE).collect();
            (!begun && counted && !before.is_empty()).then(|| Self {
                name: name_of(lines.get(*head).copied().unwrap_or_default()).unwrap_or_default(),
                before,
                first: head + 1 + first,
                end,
            })
        })
    }

    fn candidates(&self) -> Vec<String> {
        const EDGES: [&str; 6] = ["top of", "edge of", "other side of", "around", "left edge of", "right edge of"];
        self.before.iter().flat_map(|piece| EDGES.iter().map(move |edge| format!("{edge} {piece}"))).collect()
    }

    /// The notation with a beginning above the first row of the piece.
    fn begun(&self, notation: &str, start: &str) -> String {
        let mut lines: Vec<String> = notation.lines().map(str::to_owned).collect();
        lines.insert(self.first.min(lines.len()), format!("start {start}"));
        lines.join("\n") + "\n"
    }

    /// The notation with the piece that it begins on made as often as itself: each copy needs an edge of its own.
    fn made_as_often(&self, notation: &str, start: &str) -> String {
        let of = |line: &str, name: &str| name_of(line).is_some_and(|own| own == name);
        let own = notation.lines().find(|line| of(line, &self.name)).unwrap_or_default();
        let copies = own.split(", ").find(|part| part.starts_with("make ")).map(str::to_owned);
        let told = |line: &str| match &copies {
            Some(copies)
                if start
                    .split(" of ")
                    .nth(1)
                    .or(start.split_once(' ').map(|(_, name)| name))
                    .is_some_and(|name| of(line, name))
                    && !line.contains(", make ") =>
            {
                format!("{line}, {copies}")
            }
            _ => line.to_owned(),
        };
        notation.lines().map(told).collect::<Vec<_>>().join("\n") + "\n"
    }

    /// How many faults its rows have as it stands.
    fn own_faults(&self, notation: &str) -> usize {
        let found = errors(&compile(notation).findings);
        let line = |at: usize| notation.get(..at).map_or(0, |before| before.matches('\n').count());
        found.iter().filter(|span| (self.first..self.end).contains(&line(span.start))).count()
    }
}

/// The name that a line gives to a piece.
fn name_of(line: &str) -> Option<String> {
    let head = line
        .strip_prefix("piece ")
        .or_else(|| line.strip_prefix("only ")?.split_once(": piece ").map(|(_, head)| head))?;
    Some(head.split(", ").next().unwrap_or(head).to_owned())
}

fn is_row(line: &str) -> bool {
    let bare = line.strip_prefix("only ").and_then(|rest| rest.split_once(": ")).map_or(line, |(_, rest)| rest);
    ["rnd", "row", "again"].iter().any(|word| bare.starts_with(word))
}
