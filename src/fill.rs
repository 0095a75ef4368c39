//! Writes the counts that a pattern leaves unsaid, and touches nothing else.

use std::collections::BTreeMap;

use crate::diagnostic::{Edit, Fix, Safety, Span};
use crate::fabric::Ledger;
use crate::pattern::model::{ItemKind, Kind, Piece};
use crate::readback;
use crate::syntax::tree::{Line, LineKind};
use crate::{Compiled, compile, limits};

/// Columns between the end of the longest line and the counts, where the piece has no counts yet.
const GAP: usize = 4;

/// The counts that can be stated, and the lines that stay without one.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Filled {
    /// States them, lined up with the counts of each piece. Nothing when there is nothing to fill in.
    pub fix: Option<Fix>,
    /// Lines that state no count afterwards either, in the order of the text.
    pub left: Vec<Left>,
}

/// A line that stays without a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Left {
    /// The line.
    pub span: Span,
    /// Why it stays so.
    pub why: Why,
}

/// Why a line stays without a count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// It does not ring true, or is not worked.
    NotTrue,
    /// One line says several rows, which make different counts.
    Differs,
    /// Tried, it would not hold: the line is worked again and makes another count then.
    NotAlways,
}

/// States a count on every line that states none. What is written so is read back and worked: a count that would not
/// hold wherever its line is worked is left out, and so is one that would change what is worked.
#[must_use]
pub fn fill(text: &str, compiled: &Compiled) -> Filled {
    let mut filled = Filled::default();
    let mut wanted: Vec<(Span, Edit)> = Vec::new();
    for unsaid in unsaid(text, compiled) {
        match count(compiled, unsaid.piece, unsaid.item) {
            Ok(count) => wanted.push((unsaid.line.span, edit(text, unsaid.line, unsaid.column, &count))),
            Err(why) => filled.left.push(Left { span: unsaid.line.span, why }),
        }
    }
    let mut trial =
        Trial { text, compiled, unsaid: wanted.len() + filled.left.len(), kept: Vec::new(), left: Vec::new() };
    trial.add(&wanted);
    filled.left.extend(trial.left);
    filled.left.sort_by_key(|left| left.span);
    let title = "state the counts".to_owned();
    let edits = trial.kept;
    filled.fix = (!edits.is_empty()).then_some(Fix { title, edits, safety: Safety::ChangesFabric });
    filled
}

/// Counts that were tried together, and those that would not hold.
struct Trial<'a> {
    text: &'a str,
    compiled: &'a Compiled,
    /// Lines that state no count in the text as it is.
    unsaid: usize,
    kept: Vec<Edit>,
    left: Vec<Left>,
}

impl Trial<'_> {
    /// Adds as many of these to the kept ones as hold together: all of them, or else what holds of each half.
    fn add(&mut self, wanted: &[(Span, Edit)]) {
        if wanted.is_empty() || self.holds(wanted) {
            self.kept.extend(wanted.iter().map(|(_, edit)| edit.clone()));
        } else if let [(span, _)] = wanted {
            self.left.push(Left { span: *span, why: Why::NotAlways });
        } else {
            let (one, other) = wanted.split_at(wanted.len() / 2);
            self.add(one);
            self.add(other);
        }
    }

    /// Whether the pattern is worked as before with these counts too, and each of them is read as one.
    fn holds(&self, wanted: &[(Span, Edit)]) -> bool {
        let edits: Vec<Edit> = self.kept.iter().chain(wanted.iter().map(|(_, edit)| edit)).cloned().collect();
        let stated = edits.len();
        let text = Fix { title: String::new(), edits, safety: Safety::ChangesFabric }.apply(self.text);
        let after = compile(&text);
        let fits = text.len() <= limits::MOST_BYTES;
        fits && readback::otherwise(self.compiled, &after).is_none()
            && unsaid(&text, &after).len() + stated == self.unsaid
    }
}

/// A line that states no count.
struct Unsaid<'a> {
    line: &'a Line,
    piece: usize,
    /// The last item that the line makes.
    item: usize,
    /// Where its count is to stand.
    column: usize,
}

fn unsaid<'a>(text: &str, compiled: &'a Compiled) -> Vec<Unsaid<'a>> {
    let mut found = Vec::new();
    for (at, piece) in compiled.pattern.pieces.iter().enumerate() {
        // The lines of a mirror image stand in the piece that it mirrors.
        if piece.mirror_of.is_some() {
            continue;
        }
        let lines = lines_of(&compiled.tree.lines, piece);
        let column = column(text, &lines);
        let silent = lines.into_iter().filter(|(_, line)| match &line.kind {
            LineKind::Work(work) => work.stated.is_none(),
            LineKind::Again(again) => again.stated.is_none(),
            _ => false,
        });
        found.extend(silent.map(|(item, line)| Unsaid { line, piece: at, item, column }));
    }
    found
}

/// The lines of a piece that are worked, each with the last item that it makes.
fn lines_of<'a>(lines: &'a [Line], piece: &Piece) -> Vec<(usize, &'a Line)> {
    let mut found: BTreeMap<usize, (usize, &Line)> = BTreeMap::new();
    // Lines that another piece has too stand there.
    for (at, item) in piece.items.iter().enumerate().skip(piece.borrowed) {
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
fn count(compiled: &Compiled, piece: usize, item: usize) -> Result<String, Why> {
    let wanted = compiled.pattern.pieces.get(piece).and_then(|piece| piece.items.get(item)).ok_or(Why::NotTrue)?;
    let sizes = &compiled.fabric.pieces.get(piece).ok_or(Why::NotTrue)?.sizes;
    let mut parts: Vec<(Option<Kind>, Vec<u32>)> = Vec::new();
    for (at, size) in sizes.iter().enumerate() {
        let rows = size.rows.of_item(item);
        let Some(last) = rows.last() else {
            if wanted.sizes.get(at).copied().unwrap_or(true) {
                return Err(Why::NotTrue);
            }
            for (_, counts) in &mut parts {
                counts.push(0);
            }
            continue;
        };
        let again = matches!(wanted.kind, ItemKind::Again(_));
        let alike = again || rows.iter().all(|r| made(&r.ledger, compiled) == made(&last.ledger, compiled));
        if rows.iter().any(|r| !r.true_to_count) {
            return Err(Why::NotTrue);
        }
        if !alike {
            return Err(Why::Differs);
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
    if written.is_empty() { Err(Why::NotTrue) } else { Ok(written.join(" + ")) }
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
    use super::Why;
    use crate::compile;

    fn filled(text: &str) -> String {
        super::fill(text, &compile(text)).fix.map_or(text.to_owned(), |fix| fix.apply(text))
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
    const FLAP: &str = "pattern Flap\nterms US\npiece Left, in rows\nlead ch 1\nstart ch 6\n\
        row 1: sc in 2nd ch from hook, sc to end\nrow 2: sc2tog, sc to end\n";

    #[test]
    fn the_lines_of_a_mirrored_piece_are_stated_once() {
        let text = filled(&format!("{FLAP}piece Right, in rows, mirror of Left\n"));
        assert!(text.contains("\nrow 1: sc in 2nd ch from hook, sc to end    = 5\n"), "{text}");
        assert!(text.contains("\nrow 2: sc2tog, sc to end                    = 4\npiece Right"), "{text}");
        assert!(compile(&text).findings.is_empty(), "{text}");
        assert_eq!(filled(&text), text);
    }

    #[test]
    fn a_count_that_would_not_hold_when_its_line_is_worked_again_is_left_out() {
        // The double crochet of row 1 are not there any more when row 2 is worked for the second time.
        let text = "pattern Net\nterms US\npiece Net, in rows\nlead ch 1\nstart ch 13\n\
            row 1: sc in 2nd ch from hook, [dc, sc] 5 times, sc\n\
            row 2: [on dc: 2 sc in next; on sc: sc] to last 4, sc4tog\nrow 3: sc to end\nagain rows 2-3, 1 times\n";
        let done = super::fill(text, &compile(text));
        let why: Vec<Why> = done.left.iter().map(|left| left.why).collect();
        assert_eq!(why, [Why::NotAlways]);
        let new = done.fix.map_or(text.to_owned(), |fix| fix.apply(text));
        assert!(new.contains("sc4tog\nrow 3: sc to end                                             = 12\n"), "{new}");
        assert!(compile(&new).findings.is_empty(), "{new}");
        assert_eq!(filled(&new), new);
    }

    #[test]
    fn a_line_that_stays_without_a_count_says_why() {
        let text = format!("{FLAP}rows 3-4: sc2tog, sc to end\nrow 5: sc 7\n");
        let why: Vec<Why> = super::fill(&text, &compile(&text)).left.iter().map(|left| left.why).collect();
        assert_eq!(why, [Why::Differs, Why::NotTrue]);
    }
}
