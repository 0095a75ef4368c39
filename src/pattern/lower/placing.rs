//! Where something is put on a piece.

use super::super::model::{PlacedRows, Placing, Surface};
use super::{Lower, codes};
use crate::diagnostic::Diagnostic;
use crate::syntax::tree;

impl Lower {
    /// Looks up what a line of surface stitches names; nothing where the piece isn't to be found.
    pub(super) fn surface(&mut self, surface: &tree::Surface) -> Option<Surface> {
        let on = match &surface.on {
            Some(name) => Some(self.present_or_earlier(name)?),
            None => None,
        };
        let stitch = self.stitch(&surface.stitch.text, surface.stitch.span);
        let one = self.stitches.get(stitch).is_none_or(|stitch| stitch.takes == 1 && stitch.makes.len() <= 1);
        if !one {
            let message = format!("`{}` is not one stitch in one place", surface.stitch.text);
            let finding =
                Diagnostic::error(codes::NOT_PLACEABLE, message, surface.stitch.span, "on the face of the fabric");
            self.findings.push(finding.with_help("surface stitches go through one stitch each: `sl st`, `sc`, `dc`"));
            return None;
        }
        let amount = self.sized(&surface.amount);
        let from = surface.from.as_ref().map(|from| self.sized(from));
        let yarn = surface.yarn.as_ref().map(|name| self.yarn(name));
        Some(Surface { amount, stitch, round: surface.round, row: self.number(surface.row), on, from, yarn })
    }

    /// Looks the numbers and the piece of a placing up; nothing where that isn't to be found.
    pub(super) fn placing(&mut self, placing: &tree::Placing) -> Option<Placing> {
        let on = match &placing.on {
            Some(name) => Some(self.present_or_earlier(name)?),
            None => None,
        };
        let rows = match &placing.rows {
            tree::PlacedRows::Between(one, other) => PlacedRows::Between(self.sized(one), self.sized(other)),
            tree::PlacedRows::At(rows) => PlacedRows::At(rows.iter().map(|row| self.sized(row)).collect()),
            tree::PlacedRows::Evenly(from, to) => PlacedRows::Evenly(self.sized(from), self.sized(to)),
        };
        let number = placing.number.as_ref().map(|number| self.sized(number));
        let stitches = placing.stitches.iter().map(|stitch| self.sized(stitch)).collect();
        let apart = placing.apart.as_ref().map(|apart| self.sized(apart));
        Some(Placing { number, what: placing.what.text.clone(), on, rows, round: placing.round, stitches, apart })
    }
}
