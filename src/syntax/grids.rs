//! Grids, and steps in several colours.

use crate::diagnostic::{Diagnostic, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::Reader;
use super::steps::one_number;
use super::tree::{
    ColourWork, Extent, GridLine, Header, LegendEntry, LineKind, LoopOnly, Run, Setting, Squares, Stated, StepKind,
    Technique, Where,
};

/// Words closer than this may be a slip for each other.
const NEARLY: f64 = 0.75;

impl Reader<'_> {
    /// `sc 4 A, 3 B`.
    pub fn colours(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let loop_only = node
            .child(Rule::loop_only)
            .map(|only| if only.has(Rule::k_back) { LoopOnly::Back } else { LoopOnly::Front });
        let stitch = self.child_stitch(node)?;
        let runs: Vec<Option<Run>> = node.all(Rule::run).map(|run| self.run(&run)).collect();
        Some(StepKind::Colours { loop_only, stitch, runs: runs.into_iter().collect::<Option<_>>()? })
    }

    fn run(&mut self, node: &Node<'_>) -> Option<Run> {
        let yarn = node.child(Rule::run_yarn).or_else(|| node.child(Rule::run_yarn_to))?;
        let yarn = self.node_text(&yarn);
        if !self.may_be_a_yarn(&yarn.text) {
            let message = format!("`{}` can't be read here", yarn.text);
            let found = Diagnostic::error(codes::READING, message, yarn.span, "reading stopped here");
            self.find(found.with_help("if it is a colour, name it above with a `yarn` line"));
            return None;
        }
        let places = match node.child(Rule::till) {
            Some(till) => Where::Till(self.till(&till)?),
            None => Where::Count { amount: self.child_amount(node)?, kind: None, sent: false },
        };
        Some(Run { span: node.span(), places, yarn })
    }

    /// Whether a word may be meant as a yarn: one of the file's, nearly one of them, or a letter. Others are words of print,
    /// as in `sc all around`.
    fn may_be_a_yarn(&self, word: &str) -> bool {
        let word = word.to_lowercase();
        let near = |yarn: &String| strsim::jaro_winkler(yarn, &word) > NEARLY;
        word.chars().count() == 1 || self.names.yarns.iter().any(near)
    }

    /// `grid Gulls to end`.
    pub fn grid_step(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let name = self.child_text(node, Rule::grid_name)?;
        let Some(written) = node.child(Rule::grid_extent) else { return Some(StepKind::Grid { name, extent: None }) };
        let how = written.first()?;
        let extent = if how.rule() == Rule::till {
            Extent::Till(self.till(&how)?)
        } else if how.rule() == Rule::times {
            Extent::Times(self.child_amount(&how)?)
        } else {
            Extent::Times(one_number(how.span(), if how.has(Rule::k_twice) { 2 } else { 1 }))
        };
        Some(StepKind::Grid { name, extent: Some((extent, written.span())) })
    }

    /// `colours apart`.
    pub fn colours_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::colours_line, rest)?;
        let work = if node.has(Rule::k_stranded) {
            ColourWork::Stranded
        } else if node.has(Rule::k_apart) {
            ColourWork::Apart
        } else {
            ColourWork::Carried
        };
        Some(LineKind::Setting(Setting::Colours(work)))
    }

    /// `grid Gulls, mosaic overlay`.
    pub fn grid_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::grid_line, rest)?;
        let name = self.child_text(&node, Rule::grid_name)?;
        let (mut technique, mut stitch) = (Technique::Plain, None);
        for part in node.all(Rule::grid_part).filter_map(|part| part.first()) {
            if part.rule() == Rule::grid_stitch {
                stitch = self.child_stitch(&part);
            } else if part.rule() == Rule::overlay {
                technique = Technique::Overlay;
            } else if part.rule() == Rule::inset {
                technique = Technique::Inset;
            } else if part.rule() == Rule::filet {
                technique = Technique::Filet;
            } else {
                technique = Technique::Corner;
            }
        }
        let stated = self.of_squares(&node)?;
        Some(LineKind::Header(Header::Grid(GridLine { name, technique, stitch, stated })))
    }

    /// `legend . = A, x = bobble in B`.
    pub fn legend_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::legend_line, rest)?;
        let entries = node.all(Rule::legend_entry).map(|entry| {
            Some(LegendEntry {
                sign: self.child_text(&entry, Rule::sign)?,
                what: self.child_text(&entry, Rule::legend_what)?,
                yarn: self.child_text(&entry, Rule::yarn_name),
            })
        });
        let entries: Vec<Option<LegendEntry>> = entries.collect();
        Some(LineKind::Header(Header::Legend(entries.into_iter().collect::<Option<_>>()?)))
    }

    /// `|..xx..| = 4 A + 2 B`.
    pub fn squares_line(&mut self, line: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::squares_line, line)?;
        let signs: Vec<_> = node.all(Rule::sign).map(|sign| self.node_text(&sign)).collect();
        if signs.is_empty() {
            let found = Diagnostic::error(codes::EMPTY, "this row of a grid has no squares", line, "nothing in it");
            self.find(found.with_help("write a sign for each square between the strokes, as `|AABBAA|`"));
            return None;
        }
        let stated = self.of_squares(&node)?;
        Some(LineKind::Header(Header::Squares(Squares { span: line, signs, stated })))
    }

    /// What is stated of a grid or of a row of it.
    #[expect(clippy::option_option, reason = "nothing is stated, or what is stated can't be read")]
    fn of_squares(&mut self, node: &Node<'_>) -> Option<Option<Stated>> {
        let Some(parts) = node.child(Rule::stated_parts) else { return Some(None) };
        let span = node.child(Rule::equals).map_or(parts.span(), |sign| sign.span().to(parts.span()));
        Some(Some(Stated { span, parts: self.stated_parts(&parts)? }))
    }
}
