//! Header lines.

use crate::diagnostic::{Diagnostic, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::{Reader, respelling};
use super::tree::{Amount, Header, LineKind, Meant, Measure, StitchBody, StitchLine, Term, TermValue, Text};

impl Reader<'_> {
    /// `sizes A / B / C`.
    pub fn sizes_line(&mut self, rest: Span) -> Option<LineKind> {
        if !self.slice(rest).contains('/') && self.slice(rest).contains(',') {
            return Some(self.sizes_with_commas(rest));
        }
        let names = self.split_names(rest, '/');
        let gaps = names.iter().any(|name| name.text.is_empty());
        if gaps {
            self.find(
                Diagnostic::error(codes::LIST_GAP, "a size has no name", self.trim(rest), "a name between strokes")
                    .with_help("write the names as `sizes small / medium / large`"),
            );
            return None;
        }
        self.check_list(names.len(), self.trim(rest))?;
        Some(LineKind::Header(Header::Sizes(names)))
    }

    /// `sizes small, medium, large`.
    fn sizes_with_commas(&mut self, rest: Span) -> LineKind {
        let names = self.split_names(rest, ',');
        let commas = self.slice(rest).match_indices(',').map(|(at, _)| rest.start + at);
        let edits = commas.map(|at| (Span::new(at, at + 1), " /".to_owned())).collect();
        let label = "here it is written `small / large`";
        let found = Diagnostic::error(codes::SPELLING, "a stroke stands between two sizes", self.trim(rest), label)
            .with_fix(respelling("strokes for commas", edits));
        self.find(found);
        LineKind::Header(Header::Sizes(names))
    }

    /// The names in a stretch, between signs of one sort.
    pub fn split_names(&self, span: Span, sign: char) -> Vec<Text> {
        let mut at = span.start;
        let mut names = Vec::new();
        for part in self.slice(span).split(sign) {
            names.push(self.words(Span::new(at, at + part.len())));
            at += part.len() + sign.len_utf8();
        }
        names
    }

    /// `counts stitches and chains`.
    pub fn counts_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::counts_line, rest)?;
        Some(LineKind::Header(Header::Counts { chains: node.has(Rule::k_chains), span: self.trim(rest) }))
    }

    /// `meant CODE because REASON`.
    pub fn meant_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::meant_line, rest)?;
        let codes = node.all(Rule::code_name).map(|code| self.node_text(&code)).collect();
        let Some(reason) = self.child_text(&node, Rule::reason) else {
            let message = "this line doesn't say why it is meant";
            let found = Diagnostic::error(codes::EMPTY, message, self.trim(rest), "no reason")
                .with_help("go on with `because` and the reason, for whoever reads this after you");
            self.find(found);
            return None;
        };
        Some(LineKind::Meant(Meant { codes, reason }))
    }

    /// `set NAME = …`.
    pub fn set_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::set_line, rest)?;
        let name = self.child_text(&node, Rule::set_name)?;
        if let Some(slip) = node.child(Rule::sum_slip) {
            return self.sum_without_braces(name, slip.span());
        }
        Some(LineKind::Header(Header::Set { name, amount: self.child_amount(&node)? }))
    }

    /// `set brim = rim / 6`.
    fn sum_without_braces(&mut self, name: Text, span: Span) -> Option<LineKind> {
        let better = format!("{{{}}}", self.slice(span));
        self.respell(codes::SPELLING, "arithmetic stands in braces", span, &better);
        let sum = self.read(Rule::sum, span).ok().and_then(|node| self.sum(&node))?;
        let amount = Amount { span, terms: vec![Term { span, value: TermValue::Sum(sum) }] };
        Some(LineKind::Header(Header::Set { name, amount }))
    }

    /// `hook [NAME] 4.5 mm [(G)]`.
    pub fn hook_line(&mut self, rest: Span) -> Option<LineKind> {
        if let Some(hook) = self.printed_hook(rest) {
            return Some(hook);
        }
        let node = self.read_or_stop(Rule::hook_line, rest)?;
        if let Some(slip) = node.child(Rule::hook_bare_slip) {
            return self.bare_hook(slip.span());
        }
        if let Some(steel) = node.child(Rule::steel_hook) {
            return self.steel_hook(&steel);
        }
        let letter = node.child(Rule::hook_letter).and_then(|letter| self.child_text(&letter, Rule::bracketed));
        let name = self.child_text(&node, Rule::word);
        let size = match node.child(Rule::decimal_slip) {
            Some(slip) => self.decimal_comma(&slip),
            None => self.child_text(&node, Rule::decimal)?,
        };
        Some(LineKind::Header(Header::Hook { name, size: Some(size), letter }))
    }

    /// `hook steel 7`, for which makers of hooks give different widths.
    fn steel_hook(&mut self, node: &Node<'_>) -> Option<LineKind> {
        let name = self.child_text(node, Rule::word);
        let number = self.child_text(node, Rule::steel_number)?;
        let letter = Text { span: number.span, text: format!("steel {}", number.text) };
        let mut size = None;
        if let Some(slip) = node.child(Rule::steel_mm_slip) {
            let width = self.child_text(&slip, Rule::decimal)?;
            let named = name.as_ref().map_or(String::new(), |name| format!("{} ", name.text));
            let better = format!("{named}{} mm ({})", width.text, letter.text);
            self.respell(codes::SPELLING, "the width of a hook stands before its number", node.span(), &better);
            size = Some(width);
        }
        Some(LineKind::Header(Header::Hook { name, size, letter: Some(letter) }))
    }

    /// `hook 7`, which may be two very different hooks.
    fn bare_hook(&mut self, span: Span) -> Option<LineKind> {
        let message = "a number alone doesn't say which hook it is";
        let found = Diagnostic::error(codes::READING, message, span, "of how many millimetres?")
            .with_help("give the width of its shaft, as `hook 4.5 mm (7)`; a steel hook may have its number alone, as `hook steel 7`");
        self.find(found);
        None
    }

    /// `4,5 mm`.
    fn decimal_comma(&mut self, node: &Node<'_>) -> Text {
        let better = node.text().replace(',', ".");
        self.respell(codes::SPELLING, "a part of a millimetre stands after a point", node.span(), &better);
        Text { span: node.span(), text: better }
    }

    /// `yarn A "oat", weight 3, 50 g = 110 m`.
    pub fn yarn_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::yarn_line, rest)?;
        let name = self.child_text(&node, Rule::yarn_name)?;
        let colour = self.quoted(&node);
        let (mut weight, mut ball, mut more) = (None, None, Vec::new());
        for part in node.all(Rule::yarn_part).filter_map(|part| part.first()) {
            if part.rule() == Rule::weight && weight.is_none() {
                weight = self.child_text(&part, Rule::weight_value);
            } else if part.rule() == Rule::ball && ball.is_none() {
                let mut measures = part.all(Rule::measure);
                ball = Some((self.measure(&measures.next()?)?, self.measure(&measures.next()?)?));
            } else {
                more.push(self.node_text(&part));
            }
        }
        Some(LineKind::Header(Header::Yarn { name, colour, weight, ball, more }))
    }

    /// What stands between quotation marks.
    fn quoted(&mut self, node: &Node<'_>) -> Option<Text> {
        let quoted = node.child(Rule::quoted)?;
        self.child_text(&quoted, Rule::quoted_text).or_else(|| self.child_text(&quoted, Rule::quoted_single))
    }

    fn measure(&mut self, node: &Node<'_>) -> Option<Measure> {
        let number = self.child_text(node, Rule::decimal)?.text;
        let unit = self.child_text(node, Rule::measure_unit)?.text.to_ascii_lowercase();
        let unit = if unit == "yds" { "yd".to_owned() } else { unit };
        Some(Measure { span: node.span(), number, unit })
    }

    /// `picture FILE "WORDS"`.
    pub fn picture_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::picture_line, rest)?;
        let file = self.child_text(&node, Rule::picture_file)?;
        Some(LineKind::Header(Header::Picture { file, words: self.quoted(&node) }))
    }

    /// `gauge [NAME] 17 sts x 19 rows in sc = 10 cm`.
    pub fn gauge_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::gauge_line, rest)?;
        let mut numbers = node.all(Rule::decimal);
        let stitches = self.node_text(&numbers.next()?);
        let rows = self.node_text(&numbers.next()?);
        let name = self.child_text(&node, Rule::word);
        let stitch = self.child_text(&node, Rule::gauge_stitch);
        let sign = node.child(Rule::by_sign);
        if let Some(slip) = sign.and_then(|sign| sign.child(Rule::by_sign_slip)) {
            self.respell(codes::SPELLING, "an `x` stands between stitches and rows", slip.span(), "x");
        }
        let over = self.measure(&node.child(Rule::measure)?)?;
        Some(LineKind::Header(Header::Gauge { name, stitches, rows, stitch, over }))
    }

    /// `blocks ch 3, 3 dc`.
    pub fn blocks_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::blocks_line, rest)?;
        let mut numbers = node.all(Rule::number);
        let chains = self.number(&numbers.next()?)?;
        let each = self.number(&numbers.next()?)?;
        let stitch = self.child_stitch(&node)?;
        if chains.value == 0 || each.value == 0 {
            let message = "a block has chains at one side and stitches beside them";
            let found = Diagnostic::error(codes::READING, message, rest, "none of one of them");
            self.find(found.with_help("write it as `blocks ch 3, 3 dc`"));
            return None;
        }
        Some(LineKind::Header(Header::Blocks { chains, each, stitch }))
    }

    /// `swatch [YARN] 20 sts x 20 rows in sc = 7.3 g`.
    pub fn swatch_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::swatch_line, rest)?;
        let mut numbers = node.all(Rule::number);
        let stitches = self.number(&numbers.next()?)?;
        let rows = self.number(&numbers.next()?)?;
        let yarn = self.child_text(&node, Rule::yarn_name);
        let stitch = self.child_stitch(&node)?;
        let sign = node.child(Rule::by_sign);
        if let Some(slip) = sign.and_then(|sign| sign.child(Rule::by_sign_slip)) {
            self.respell(codes::SPELLING, "an `x` stands between stitches and rows", slip.span(), "x");
        }
        let took = self.measure_of_yarn(&node.child(Rule::measure_of_yarn)?)?;
        Some(LineKind::Header(Header::Swatch { yarn, stitches, rows, stitch, took }))
    }

    fn measure_of_yarn(&mut self, node: &Node<'_>) -> Option<Measure> {
        let number = self.child_text(node, Rule::decimal)?.text;
        let unit = self.child_text(node, Rule::unit_of_yarn)?.text.to_ascii_lowercase();
        let unit = if unit == "yds" { "yd".to_owned() } else { unit };
        Some(Measure { span: node.span(), number, unit })
    }

    /// `finished around 46 / 50 cm [at PIECE]`.
    pub fn finished_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::finished_line, rest)?;
        let what = self.child_text(&node, Rule::finished_what)?;
        let numbers = self.lengths(&node)?;
        let mut unit = self.child_text(&node, Rule::length_unit)?;
        unit.text.make_ascii_lowercase();
        let at = self.child_text(&node, Rule::rest_of_line);
        Some(LineKind::Header(Header::Finished { what, numbers, unit, at }))
    }

    /// `stitch NAME "full name": BODY [> words]`.
    pub fn stitch_line(&mut self, rest: Span) -> Option<LineKind> {
        let head = self.read_or_stop(Rule::stitch_head, rest)?;
        let name = self.child_text(&head, Rule::word)?;
        let full = self.quoted(&head);
        let (body, words) = self.split_words(Span::new(head.span().end, rest.end));
        if let Some(words) = &words {
            self.without_numbers(words);
        }
        let body = self.trim(body);
        self.brackets(Rule::steps_line, body)?;
        let body = if super::keywords::first_word(self.slice(body)).eq_ignore_ascii_case("takes") {
            let node = self.read_or_stop(Rule::unit_line, body)?;
            let mut numbers = node.all(Rule::number);
            StitchBody::Unit { takes: self.number(&numbers.next()?)?, makes: self.number(&numbers.next()?)? }
        } else {
            let node = self.read_or_stop(Rule::steps_line, body)?;
            self.strays(&node, body);
            StitchBody::Steps(self.steps(&node.child(Rule::steps)?)?)
        };
        Some(LineKind::Header(Header::Stitch(StitchLine { name, full, body, words })))
    }

    /// Parts what is worked from the words after `>`.
    fn split_words(&self, span: Span) -> (Span, Option<Text>) {
        match self.slice(span).find('>') {
            Some(at) => {
                let sign = span.start + at;
                (Span::new(span.start, sign), Some(self.words(Span::new(sign + 1, span.end))))
            }
            None => (span, None),
        }
    }
}
