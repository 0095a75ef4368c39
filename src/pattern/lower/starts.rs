//! Where a piece begins: every edge, opening and number of it looked up.

use super::super::model::{ItemKind, Opening, Piece, Rim, Start, StepKind, each_step};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::syntax::tree::{self, Text};

impl Lower {
    /// Looks up what a piece begins with.
    pub(super) fn start_kind(&mut self, start: &tree::Start) -> Start {
        match start {
            tree::Start::Ring => Start::Ring,
            tree::Start::Chain { chains, joined: false } => Start::Chain(self.sized(chains)),
            tree::Start::Chain { chains, joined: true } => Start::ChainRing(self.sized(chains)),
            tree::Start::Foundation { count, stitch } => {
                Start::Foundation(self.sized(count), self.stitch(&stitch.text, stitch.span))
            }
            tree::Start::Thing { places, name } => {
                Start::Thing(places.as_ref().map(|places| self.sized(places)), name.text.clone())
            }
            tree::Start::Edge(name) => self.earlier(name).map_or(Start::Unsaid, Start::Edge),
            tree::Start::Side(side, name) => self.earlier(name).map_or(Start::Unsaid, |of| Start::Side(of, *side)),
            tree::Start::OtherSide(name) if self.is_own_chain(name) => Start::ChainBack,
            tree::Start::OtherSide(name) => self.earlier(name).map_or(Start::Unsaid, Start::OtherSide),
            tree::Start::Top(name) => self.earlier(name).map_or(Start::Unsaid, Start::Top),
            tree::Start::Around(name) => self.around(name),
            tree::Start::Opening(name, rim) => {
                let rim = match rim {
                    tree::Rim::Around { from, corners } => {
                        Rim::Around { from: *from, corners: corners.as_ref().map(|corners| self.sized(corners)) }
                    }
                    tree::Rim::Stitches => Rim::Stitches,
                    tree::Rim::Chain => Rim::Chain,
                };
                self.opening(name, rim)
            }
            tree::Start::Loops { loops, number, name } => {
                let number = self.number(*number);
                self.earlier(name).map_or(Start::Unsaid, |of| Start::Loops(of, number, *loops))
            }
            tree::Start::Again(start) => self.start_kind(start),
            tree::Start::Several(parts) => self.several(parts),
            tree::Start::Part(which, amount, edge) => {
                Start::Part(*which, self.sized(amount), Box::new(self.start_kind(edge)))
            }
            tree::Start::Rest(edge) => Start::Rest(Box::new(self.start_kind(edge))),
            tree::Start::Through(one, other) => {
                Start::Through(Box::new(self.start_kind(one)), Box::new(self.start_kind(other)))
            }
        }
    }

    /// Several edges one after the other. The other side of a chain comes behind the chain.
    fn several(&mut self, parts: &[tree::Start]) -> Start {
        let lowered: Vec<Start> = parts.iter().map(|part| self.start_kind(part)).collect();
        let chain = lowered.iter().position(|part| matches!(part, Start::Chain(_)));
        let back = lowered.iter().position(|part| *part == Start::ChainBack);
        let span = |at: usize| match parts.get(at) {
            Some(tree::Start::OtherSide(name)) => name.span,
            Some(tree::Start::Chain { chains, .. }) => chains.span,
            Some(_) | None => Span::default(),
        };
        let chains = lowered.iter().filter(|part| matches!(part, Start::Chain(_))).count();
        let backs = lowered.iter().filter(|part| **part == Start::ChainBack).count();
        let wrong = match (chain, back) {
            (None, Some(back)) => Some((span(back), "no chain is made in this start, so it has no other side")),
            (Some(chain), Some(back)) if back < chain => {
                Some((span(back), "the other side of a chain comes behind the chain"))
            }
            _ if backs > 1 => back.map(|back| (span(back), "a chain has one other side")),
            _ if chains > 1 && backs > 0 => back.map(|back| (span(back), "which of the chains is meant?")),
            _ => None,
        };
        if let Some((span, message)) = wrong {
            let finding = Diagnostic::error(codes::UNKNOWN_NAME, message, span, "the other side of which chain?");
            let help =
                "a chain between two pieces is written `ch 4` among the edges, and its other side once, further on";
            self.findings.push(finding.with_help(help));
            return Start::Unsaid;
        }
        Start::Several(lowered)
    }

    /// Whether the other side of the chain of the same start is meant, and not that of a piece.
    fn is_own_chain(&self, name: &Text) -> bool {
        let named = |piece: &Piece| piece.name.eq_ignore_ascii_case(&name.text);
        let chain = ["ch", "chain", "the ch", "the chain"].iter().any(|word| name.text.eq_ignore_ascii_case(word));
        chain && !self.pieces.iter().any(named)
    }

    /// All round a piece, or round an opening where no piece is called so.
    fn around(&mut self, name: &Text) -> Start {
        if self.openings().iter().any(|opening| opening.is_called(&name.text)) && !self.is_piece(name) {
            return self.opening(name, Rim::Around { from: tree::RimFrom::Stitches, corners: None });
        }
        if name.text.contains(" of ") && !self.is_piece(name) {
            return self.opening(name, Rim::Around { from: tree::RimFrom::Stitches, corners: None });
        }
        self.earlier(name).map_or(Start::Unsaid, Start::Around)
    }

    fn is_piece(&self, name: &Text) -> bool {
        self.pieces.iter().take(self.nameable()).any(|piece| piece.name.eq_ignore_ascii_case(&name.text))
    }

    /// An opening of a piece above, as `left sleeve of Yoke`, or by its own name where that says which.
    fn opening(&mut self, name: &Text, rim: Rim) -> Start {
        let all = self.openings();
        let found: Vec<&Named> = all.iter().filter(|opening| opening.is_called(&name.text)).collect();
        if let [one] = found.as_slice() {
            return Start::Opening(Opening { piece: one.piece, name: one.name.clone(), rim });
        }
        let unread = |piece: &Piece| !piece.unread.is_empty() || piece.in_doubt || piece.items.iter().any(is_unread);
        let above = self.nameable();
        if self.pieces.iter().take(above).any(unread) {
            self.doubt.places.insert(name.span.start);
            return Start::Unsaid;
        }
        if found.len() > 1 {
            let message = format!("several pieces have an opening called `{}`", name.text);
            let finding = Diagnostic::error(codes::UNKNOWN_NAME, message, name.span, "which of them?");
            let example = found.first().map(|one| one.full.clone()).unwrap_or_default();
            self.findings.push(finding.with_help(format!("name the piece as well, as `{example}`")));
            return Start::Unsaid;
        }
        if let Some((piece, opening)) = self.in_piece(&name.text) {
            /// From here on a name is taken for a slip of another one, as in [`Lower::unknown_as`].
            const LIKE: f64 = 0.75;
            let is_like = |other: &&Named| strsim::jaro_winkler(&other.name, &opening) > LIKE;
            if !all.iter().filter(|other| other.piece == piece).any(|other| is_like(&other)) {
                // Whether a line of the piece was to set something aside is known when it is worked.
                return Start::Opening(Opening { piece, name: opening, rim });
            }
            if let Some(short) = all.iter().find(|other| other.piece == piece && opening.starts_with(&other.name)) {
                self.opening_cut_short(short, &opening, name);
                return Start::Unsaid;
            }
        }
        let known: Vec<String> = all.into_iter().map(|opening| opening.full).collect();
        if known.is_empty() {
            let message = format!("there is no opening called `{}`", name.text);
            let finding = Diagnostic::error(codes::UNKNOWN_NAME, message, name.span, "nothing is set aside above");
            let help =
                "an opening gets its name where its stitches are set aside, as `set aside next 30 as left sleeve`";
            self.findings.push(finding.with_help(help));
            return Start::Unsaid;
        }
        self.unknown("opening", name, &known);
        Start::Unsaid
    }

    /// The piece above that is named behind `of`, and the name of the opening before it.
    fn in_piece(&self, name: &str) -> Option<(usize, String)> {
        let above = self.nameable();
        name.match_indices(" of ").find_map(|(at, of)| {
            let (opening, piece) = (name.get(..at)?, name.get(at + of.len()..)?);
            let index = self.pieces.iter().take(above).position(|other| other.name.eq_ignore_ascii_case(piece))?;
            Some((index, opening.to_lowercase()))
        })
    }

    /// An opening that is named by the beginning of the name that it has further down. It is said where it is named.
    fn opening_cut_short(&mut self, short: &Named, long: &str, place: &Text) {
        let end = short.span.end;
        let span = Span::new(end.saturating_sub(short.name.len()), end);
        let message = format!("an opening is called `{}` here, and `{long}` further down", short.name);
        let finding = Diagnostic::error(codes::UNKNOWN_NAME, message, span, "a shorter name")
            .with_other(place.span, "a longer one")
            .with_help("call it the same in both places")
            .with_fix(Fix::spelling(format!("`{}` to `{long}`", short.name), span, long.to_owned()));
        self.findings.push(finding);
    }

    /// The openings of the pieces above, each name once a piece.
    fn openings(&self) -> Vec<Named> {
        let above = self.nameable();
        let mut all: Vec<Named> = Vec::new();
        for (index, piece) in self.pieces.iter().take(above).enumerate() {
            for item in &piece.items {
                let ItemKind::Work(line) = &item.kind else { continue };
                each_step(&line.steps, &mut |step| {
                    if let StepKind::SetAside(_, name) = &step.kind
                        && !all.iter().any(|other| other.piece == index && other.name == *name)
                    {
                        let full = format!("{name} of {}", piece.name);
                        all.push(Named { piece: index, name: name.clone(), full, span: step.span });
                    }
                });
            }
        }
        all
    }
}

/// An opening that can be started on.
struct Named {
    piece: usize,
    name: String,
    /// With the piece that it is in.
    full: String,
    /// Where it is set aside.
    span: Span,
}

impl Named {
    fn is_called(&self, name: &str) -> bool {
        let small = name.to_lowercase();
        self.name == small || self.full.to_lowercase() == small
    }
}

fn is_unread(item: &super::super::model::Item) -> bool {
    matches!(&item.kind, ItemKind::Work(line) if line.unread)
}
