//! A piece that is named and does not stand above: the one that begins there itself, one further down, or none.

use super::{Lower, MOST_ASKED, codes};
use crate::diagnostic::{Diagnostic, Fix};
use crate::syntax::tree::{File, LineKind, Text};
use crate::words;

impl Lower {
    /// Says what a piece is that is named and is none of the first ones, of which there are so many above.
    pub(super) fn not_above(&mut self, name: &Text, above: usize) {
        let known: Vec<String> = self.pieces.iter().take(above).map(|piece| piece.name.clone()).collect();
        let is_it = |other: &str| other.eq_ignore_ascii_case(&name.text);
        let present = self.pieces.get(above..).unwrap_or_default().iter().find(|piece| is_it(&piece.name));
        let finding = if let Some(present) = present {
            let message = format!("{} is the piece that begins here, and none of those above", present.name);
            Diagnostic::error(codes::UNKNOWN_NAME, message, name.span, "the piece itself")
                .with_other(present.span, "it begins here")
        } else if let Some(below) = self.begun.iter().find(|other| is_it(&other.text)) {
            let message = format!("{} comes further down", below.text);
            Diagnostic::error(codes::UNKNOWN_NAME, message, name.span, "not worked yet")
                .with_other(below.span, "it begins here")
        } else {
            return self.piece_of_no_name(name, &known, above);
        };
        let help = match known.as_slice() {
            [] => "put the lines of the piece that is meant above these".to_owned(),
            known => {
                format!("name a piece that stands above (there {}), or put the one that is meant there", are(known))
            }
        };
        let fixes = self.pieces_above(name, above);
        self.findings.push(fixes.into_iter().fold(finding.with_help(help), Diagnostic::with_fix));
    }

    /// A name that no piece of the file has. Where none is like it, it is one of the few that there are.
    fn piece_of_no_name(&mut self, name: &Text, known: &[String], above: usize) {
        let before = self.findings.len();
        self.unknown("piece", name, known);
        let fixes = self.pieces_above(name, above);
        let said = self.findings.get_mut(before..).unwrap_or_default();
        if let Some(finding) = said.iter_mut().find(|finding| finding.fixes.is_empty()) {
            finding.fixes = fixes;
        }
    }

    /// The pieces above for one that is named, the nearest first: it is the likeliest. None where the present one can be named as well,
    /// since its lines name two.
    fn pieces_above(&self, name: &Text, above: usize) -> Vec<Fix> {
        let above = self.pieces.get(..above).filter(|_| above < self.pieces.len()).unwrap_or_default();
        let nearest = above.iter().rev().take(MOST_ASKED).map(|piece| &piece.name);
        nearest.map(|other| Fix::change(format!("`{}` to `{other}`", name.text), name.span, other.clone())).collect()
    }
}

/// The names of the pieces of a file.
pub(super) fn names(file: &File) -> Vec<Text> {
    let pieces = file.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Piece(piece) => Some(piece.name.clone()),
        _ => None,
    });
    pieces.collect()
}

/// "is only Body", "are Body and Yoke".
fn are(known: &[String]) -> String {
    format!("{} {}", if known.len() == 1 { "is only" } else { "are" }, words::list(known))
}
