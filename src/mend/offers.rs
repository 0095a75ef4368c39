//! The repairs of a pattern by name, so that one of them can be asked for.

use crate::Compiled;
use crate::diagnostic::{Edit, Fix, Safety, Span};

/// A repair that can be asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// Line of the finding and a letter, as `14a`.
    pub name: String,
    /// What is wrong there.
    pub message: String,
    /// The edit.
    pub fix: Fix,
}

/// Lines that a repair takes away, and those that it puts in their place; either may be none.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Change {
    /// Lines as they are.
    pub old: Vec<String>,
    /// Lines as they will be.
    pub new: Vec<String>,
}

impl Offer {
    /// The lines that the repair changes, before and after, in the order of the text.
    #[must_use]
    pub fn changes(&self, text: &str) -> Vec<Change> {
        let mut edits = self.fix.edits.clone();
        edits.sort();
        let mut stretches: Vec<(Span, Vec<Edit>)> = Vec::new();
        for edit in edits {
            let lines = whole_lines(text, edit.span);
            match stretches.last_mut() {
                Some((last, inside)) if lines.start <= last.end => {
                    *last = last.to(lines);
                    inside.push(edit);
                }
                _ => stretches.push((lines, vec![edit])),
            }
        }
        stretches.into_iter().map(|(lines, edits)| change(text, lines, edits)).collect()
    }
}

/// From the beginning of the first line of a stretch to the end of its last one.
fn whole_lines(text: &str, span: Span) -> Span {
    let start = text.get(..span.start).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let end = text.get(span.end..).and_then(|after| after.find('\n')).map_or(text.len(), |at| span.end + at);
    Span::new(start, end)
}

/// What becomes of some lines; lines at either end that stay are left out.
fn change(text: &str, lines: Span, edits: Vec<Edit>) -> Change {
    let moved = |edit: Edit| Edit {
        span: Span::new(edit.span.start.saturating_sub(lines.start), edit.span.end.saturating_sub(lines.start)),
        text: edit.text,
    };
    let part = text.get(lines.start..lines.end).unwrap_or_default();
    let fix =
        Fix { title: String::new(), edits: edits.into_iter().map(moved).collect(), safety: Safety::ChangesFabric };
    let mut old: Vec<String> = part.lines().map(str::to_owned).collect();
    let mut new: Vec<String> = fix.apply(part).lines().map(str::to_owned).collect();
    let before = old.iter().zip(&new).take_while(|(one, other)| one == other).count();
    old.drain(..before);
    new.drain(..before);
    let after = old.iter().rev().zip(new.iter().rev()).take_while(|(one, other)| one == other).count();
    old.truncate(old.len() - after);
    new.truncate(new.len() - after);
    Change { old, new }
}

/// Every repair that the findings offer, in the order of the text.
#[must_use]
pub fn offers(text: &str, compiled: &Compiled) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    for finding in &compiled.findings {
        let before = text.get(..finding.primary.span.start).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        for fix in &finding.fixes {
            let taken =
                offers.iter().filter(|o| o.name.trim_end_matches(char::is_alphabetic) == line.to_string()).count();
            let letter = u8::try_from(taken).ok().filter(|n| *n < 26).map(|n| char::from(b'a' + n));
            let Some(letter) = letter else { continue };
            offers.push(Offer { name: format!("{line}{letter}"), message: finding.message.clone(), fix: fix.clone() });
        }
    }
    offers
}

#[cfg(test)]
mod tests {
    use super::{Change, Fix, Offer, Span, offers};
    use crate::mend::compile_and_mend;

    const TEXT: &str = "pattern Disc\nterms US\npiece Disc, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 13\n";

    #[test]
    fn repairs_are_named_by_line_and_letter_and_show_what_they_change() {
        let all = offers(TEXT, &compile_and_mend(TEXT));
        assert_eq!(all[0].name, "6a");
        let change =
            Change { old: vec!["rnd 2: inc to end = 13".to_owned()], new: vec!["rnd 2: inc to end = 12".to_owned()] };
        assert_eq!(all[0].changes(TEXT), [change]);
    }

    #[test]
    fn a_line_that_is_added_stands_alone() {
        let text = format!("{}fasten off", TEXT.replace("= 13", "= 12"));
        let at = text.find("\nfasten").map_or(0, |at| at);
        let fix = Fix::change("add a row", Span::new(at, at), "\nrnd 3: sc to end");
        let offer = Offer { name: "6a".to_owned(), message: String::new(), fix };
        assert_eq!(offer.changes(&text), [Change { old: Vec::new(), new: vec!["rnd 3: sc to end".to_owned()] }]);
    }
}
