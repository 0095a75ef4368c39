//! Writes the counts that a pattern leaves unsaid, and touches nothing else.

use std::collections::BTreeMap;

use crate::Compiled;
use crate::diagnostic::{Edit, Fix, Safety, Span};
use crate::fabric::{Ledger, Row};
use crate::pattern::model::{ItemKind, Kind, Piece};
use crate::syntax::tree::{Line, LineKind};

/// Columns between the end of the longest line and the counts, where the piece has no counts yet.
const GAP: usize = 4;

/// The edits that state a count on every line that states none, lined up with the counts of its piece. A line that does
/// not ring true, or whose range makes different counts, is left as it is. Nothing when there is nothing to fill in.
#[must_use]
pub fn fill(text: &str, compiled: &Compiled) -> Option<Fix> {
    let mut edits = Vec::new();
    for (at, piece) in compiled.pattern.pieces.iter().enumerate() {
        let lines = lines_of(&compiled.tree.lines, piece);
        let column = column(text, &lines);
        for (item, line) in &lines {
            let unsaid = match piece.items.get(*item).map(|i| &i.kind) {
                Some(ItemKind::Work(work)) => work.stated.is_none(),
                Some(ItemKind::Again(again)) => again.stated.is_none(),
                _ => false,
            };
            if let Some(count) = unsaid.then(|| count(compiled, at, *item)).flatten() {
                edits.push(edit(text, line, column, &count));
            }
        }
    }
    let title = "state the counts".to_owned();
    (!edits.is_empty()).then_some(Fix { title, edits, safety: Safety::ChangesFabric })
}

/// The lines of a piece that are worked, each with the last item that it makes.
fn lines_of<'a>(lines: &'a [Line], piece: &Piece) -> Vec<(usize, &'a Line)> {
    let mut found: BTreeMap<usize, (usize, &Line)> = BTreeMap::new();
    for (at, item) in piece.items.iter().enumerate() {
        let line =
            lines.iter().find(|l| l.span == item.span && matches!(l.kind, LineKind::Work(_) | LineKind::Again(_)));
        if let Some(line) = line {
            found.insert(line.span.start, (at, line));
        }
    }
    found.into_values().collect()
}

/// The column in which the counts of a piece begin: where most of them stand, or behind its longest line.
fn column(text: &str, lines: &[(usize, &Line)]) -> usize {
    let mut columns: BTreeMap<usize, usize> = BTreeMap::new();
    for (_, line) in lines {
        let stated = match &line.kind {
            LineKind::Work(work) => work.stated.as_ref(),
            LineKind::Again(again) => again.stated.as_ref(),
            _ => None,
        };
        if let Some(stated) = stated {
            *columns.entry(column_of(text, stated.span.start)).or_default() += 1;
        }
    }
    let common = columns.into_iter().max_by_key(|(_, times)| *times).map(|(column, _)| column);
    common.unwrap_or_else(|| lines.iter().map(|(_, line)| column_of(text, end(text, line))).max().unwrap_or(0) + GAP)
}

/// Characters between the beginning of the line of text and a place in it.
fn column_of(text: &str, at: usize) -> usize {
    let before = text.get(..at).unwrap_or_default();
    before.rsplit('\n').next().unwrap_or_default().chars().count()
}

/// Where the work of a line ends: before its remark and the white space there.
fn end(text: &str, line: &Line) -> usize {
    let end = line.remark.map_or(line.span.end, |remark| remark.start);
    let kept = text.get(line.span.start..end).unwrap_or_default().trim_end();
    line.span.start + kept.len()
}

fn edit(text: &str, line: &Line, column: usize, count: &str) -> Edit {
    let end = end(text, line);
    let gap = column.saturating_sub(column_of(text, end)).max(1);
    Edit { span: Span::new(end, end), text: format!("{}= {count}", " ".repeat(gap)) }
}

/// What a line makes, as it is stated: one number, or one a size.
fn count(compiled: &Compiled, piece: usize, item: usize) -> Option<String> {
    let wanted = compiled.pattern.pieces.get(piece)?.items.get(item)?;
    let sizes = &compiled.fabric.pieces.get(piece)?.sizes;
    let mut parts: Vec<(Option<Kind>, Vec<u32>)> = Vec::new();
    for (at, size) in sizes.iter().enumerate() {
        let rows: Vec<&Row> = size.rows.iter().filter(|r| r.item == item).collect();
        let Some(last) = rows.last() else {
            if wanted.sizes.get(at).copied().unwrap_or(true) {
                return None;
            }
            for (_, counts) in &mut parts {
                counts.push(0);
            }
            continue;
        };
        let again = matches!(wanted.kind, ItemKind::Again(_));
        let alike = again || rows.iter().all(|r| made(&r.ledger, compiled) == made(&last.ledger, compiled));
        if !alike || rows.iter().any(|r| !r.true_to_count) {
            return None;
        }
        for (kind, number) in made(&last.ledger, compiled) {
            match parts.iter_mut().find(|(k, _)| *k == kind) {
                Some((_, counts)) => counts.push(number),
                None => parts.push((kind, [vec![0; at], vec![number]].concat())),
            }
        }
        for (_, counts) in &mut parts {
            counts.resize(at + 1, 0);
        }
    }
    let written: Vec<String> = parts.iter().map(|(kind, counts)| part(*kind, counts)).collect();
    (!written.is_empty()).then(|| written.join(" + "))
}

/// Stitches, and spaces by their length where there are some.
fn made(ledger: &Ledger, compiled: &Compiled) -> Vec<(Option<Kind>, u32)> {
    if compiled.pattern.counts_chains {
        return vec![(None, ledger.stitches + ledger.chains)];
    }
    let spaces: Vec<(Option<Kind>, u32)> =
        ledger.made.iter().filter(|t| matches!(t.kind, Kind::Space(_))).map(|t| (Some(t.kind), t.count)).collect();
    if spaces.is_empty() {
        return vec![(None, ledger.stitches)];
    }
    let stitches = (Some(Kind::AnyStitch), ledger.stitches);
    std::iter::once(stitches).filter(|(_, n)| *n > 0).chain(spaces).collect()
}

fn part(kind: Option<Kind>, counts: &[u32]) -> String {
    let same = counts.windows(2).all(|w| w.first() == w.last());
    let numbers: Vec<String> = counts.iter().map(ToString::to_string).collect();
    let numbers = if same { numbers.first().cloned().unwrap_or_default() } else { numbers.join(" / ") };
    match kind {
        Some(Kind::Space(length)) => format!("{numbers} ch-{length} sp"),
        Some(_) => format!("{numbers} sts"),
        None => numbers,
    }
}

#[cfg(test)]
mod tests {
    use crate::compile;

    fn filled(text: &str) -> String {
        super::fill(text, &compile(text)).map_or(text.to_owned(), |fix| fix.apply(text))
    }

    const BALL: &str = "\
pattern Ball
terms US
sizes small / large
piece Ball, in a spiral
start ring
rnd 1: 6 sc in ring         = 6
rnd 2: inc 6
only large: rnd 3: [sc, inc] to end  # one round more
rnd: sc to end
";

    #[test]
    fn counts_are_lined_up_with_those_that_are_there() {
        let text = filled(BALL);
        assert!(text.contains("\nrnd 2: inc 6                = 12\n"), "{text}");
        assert!(text.contains("rnd: sc to end              = 12 / 18\n"), "{text}");
        assert!(text.contains("[sc, inc] to end = 0 / 18  # one round more"), "{text}");
    }

    #[test]
    fn what_was_filled_in_rings_true_and_leaves_nothing_to_fill() {
        let text = filled(BALL);
        assert!(compile(&text).findings.is_empty(), "{text}");
        assert_eq!(filled(&text), text);
    }

    #[test]
    fn spaces_are_stated_by_their_kind() {
        let text =
            filled("pattern P\nterms US\npiece P, in joined rounds\nstart ring\nrnd 1: [3 dc in ring, ch 2] 4 times\n");
        assert!(text.ends_with("[3 dc in ring, ch 2] 4 times    = 12 sts + 4 ch-2 sp\n"), "{text}");
    }
}
