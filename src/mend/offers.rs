//! The repairs of a pattern by name, so that one of them can be asked for.

use crate::Compiled;
use crate::diagnostic::Fix;

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

impl Offer {
    /// The lines that the repair changes, before and after.
    #[must_use]
    pub fn changes(&self, text: &str) -> Vec<(String, String)> {
        let after = self.fix.apply(text);
        let lines = text.lines().zip(after.lines());
        lines.filter(|(old, new)| old != new).map(|(old, new)| (old.to_owned(), new.to_owned())).collect()
    }
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
    use super::offers;
    use crate::mend::compile_and_mend;

    const TEXT: &str = "pattern Disc\nterms US\npiece Disc, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc to end = 13\n";

    #[test]
    fn repairs_are_named_by_line_and_letter_and_show_what_they_change() {
        let all = offers(TEXT, &compile_and_mend(TEXT));
        assert_eq!(all[0].name, "6a");
        assert_eq!(all[0].changes(TEXT), [("rnd 2: inc to end = 13".to_owned(), "rnd 2: inc to end = 12".to_owned())]);
    }
}
