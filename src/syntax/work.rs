//! Work lines: the label, the steps, the stated count; and lines done again.

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::places::any_stitch;
use super::reader::{Reader, respelling};
use super::steps::one_number;
use super::stop;
use super::tree::{
    Again, AgainExtent, Amount, Body, Label, LengthFrom, LineKind, Number, Stated, StatedPart, Text, Way, WorkLine,
};
use super::turning;

/// The word that a work line begins with.
#[derive(Debug, Clone, Copy)]
pub(super) struct LabelWord {
    /// Where it stands.
    pub span: Span,
    /// It means a round.
    pub round: bool,
    /// The notation's own spelling, where another one was written.
    pub better: Option<&'static str>,
}

impl Reader<'_> {
    /// A row or round; `rest` is what stands after its first word.
    pub fn work_line(&mut self, word: LabelWord, rest: Span) -> LineKind {
        let before = self.findings.len();
        let (label, after) = self.label(word, rest);
        if let Some(found) = self.yarn_in_label(rest) {
            self.findings.truncate(before);
            self.find(found);
            let (_, count) = self.split_count(rest);
            let stated = count.and_then(|span| self.stated(span));
            return LineKind::Work(WorkLine { label, body: Body::Unread, stated, turning: Vec::new() });
        }
        let (body_span, stated_span) = self.split_count(after);
        let mut stated = stated_span.and_then(|span| self.stated(span));
        let mut body = self.body(body_span, &mut stated);
        let turning = match &mut body {
            Body::Steps(steps) => {
                let late = std::mem::take(&mut self.after_count);
                let last = late.is_empty();
                steps.extend(late);
                self.behind_first(steps);
                let mut turning = turning::take(steps, self.way, word.round);
                // What stands behind the count is said to stand there, and not twice.
                turning.retain(|turning| last || !turning.at_end);
                turning
            }
            Body::Unread | Body::As { .. } => Vec::new(),
        };
        LineKind::Work(WorkLine { label, body, stated, turning })
    }

    // ---- The label

    fn label(&mut self, word: LabelWord, rest: Span) -> (Label, Span) {
        let empty = Label { span: word.span, round: word.round, from: None, to: None, right_side: None };
        let Ok(node) = self.read(Rule::label_line, rest) else {
            return (empty, rest);
        };
        let mut label = empty;
        let end = node.child(Rule::colon).or_else(|| node.child(Rule::label_end_slip));
        label.span.end = end.as_ref().map_or(node.span().end, |end| self.trim_end(word.span.start, end.span().start));
        if let Some(numbers) = node.child(Rule::label_numbers) {
            let mut numbers = numbers.all(Rule::number).map(|n| self.number(&n)).collect::<Vec<_>>().into_iter();
            label.from = numbers.next().flatten();
            label.to = numbers.next().flatten();
        }
        label.right_side = node.child(Rule::side).map(|side| side.has(Rule::k_rs));
        let at = node.span().end.max(label.span.end);
        self.label_spelling(word, &label, &node, rest);
        (label, Span::new(at, rest.end))
    }

    /// The end of a stretch without white space at its end.
    pub fn trim_end(&self, start: usize, end: usize) -> usize {
        start + self.slice(Span::new(start, end)).trim_end().len()
    }

    /// One finding for all that is unusual about a label.
    fn label_spelling(&mut self, word: LabelWord, label: &Label, node: &Node<'_>, rest: Span) {
        let colon = node.child(Rule::colon);
        let missing = colon.is_none();
        let numbered = label.from.is_some();
        let tight = numbered && self.slice(rest).starts_with(|c: char| c.is_ascii_digit());
        let dot = numbered && self.slice(rest).trim_start().starts_with('.');
        let bracket = node.child(Rule::side).is_some_and(|side| side.text().starts_with('('));
        let range = node.child(Rule::label_numbers).is_some_and(|numbers| numbers.has(Rule::range_slip));
        let unusual = word.better.is_some() || tight || dot || bracket || range;
        let message = match (unusual, missing, word.round) {
            (false, false, _) => return,
            (false, true, true) => "a colon stands after the number of a round",
            (false, true, false) => "a colon stands after the number of a row",
            (true, _, true) => "the label of a round has another form",
            (true, _, false) => "the label of a row has another form",
        };
        let end = colon.or_else(|| node.child(Rule::label_end_slip));
        let span = end.map_or(label.span, |end| word.span.to(end.span()));
        let better = self.label_words(word, label);
        self.respell(codes::LABEL, message, span, &better);
    }

    fn label_words(&self, word: LabelWord, label: &Label) -> String {
        let mut out = match (word.round, label.to.is_some()) {
            (true, true) => "rnds",
            (true, false) => "rnd",
            (false, true) => "rows",
            (false, false) => "row",
        }
        .to_owned();
        let number = |n: Number| self.slice(n.span).to_owned();
        if let Some(from) = label.from {
            out = format!("{out} {}", number(from));
        }
        if let Some(to) = label.to {
            out = format!("{out}-{}", number(to));
        }
        match label.right_side {
            Some(true) => out.push_str(" rs"),
            Some(false) => out.push_str(" ws"),
            None => {}
        }
        out.push(':');
        out
    }

    // ---- The steps

    /// Parts the steps from the stated count, at the first `=`.
    fn split_count(&self, span: Span) -> (Span, Option<Span>) {
        match self.slice(span).find('=') {
            Some(at) => (Span::new(span.start, span.start + at), Some(Span::new(span.start + at, span.end))),
            None => (span, None),
        }
    }

    /// The steps of a line; the count that is stated in another style is put into `stated`.
    pub fn body(&mut self, span: Span, stated: &mut Option<Stated>) -> Body {
        let before = self.findings.len();
        // Below a remark that holds the old words the row has only its count, and that remark has said why.
        if std::mem::take(&mut self.kept_open) && self.slice(span).trim().is_empty() {
            return Body::Unread;
        }
        let body = self.try_body(span, stated);
        if body.is_none() && self.findings.len() == before {
            self.find(stop::unread(self.trim(span)));
        }
        body.unwrap_or(Body::Unread)
    }

    fn try_body(&mut self, span: Span, stated: &mut Option<Stated>) -> Option<Body> {
        if self.slice(span).trim().is_empty() {
            let at = self.last_char(span.start);
            self.find(
                Diagnostic::error(codes::EMPTY, "nothing is worked here", at, "what is worked?")
                    .with_help("write the steps after the colon, as `rnd 3: [sc, inc] to end = 18`"),
            );
            return None;
        }
        self.brackets(Rule::work_line, span)?;
        if let Some(found) = self.yarn_beside(span) {
            self.find(found);
            return None;
        }
        let node = match self.read(Rule::work_line, span) {
            Ok(node) => node,
            Err(stop) => {
                let found = self.stopped(&stop, span, Rule::work_line);
                self.find(found);
                return None;
            }
        };
        self.strays(&node, span);
        if let Some(slip) = node.child(Rule::count_slip) {
            if self.sizes_in_brackets(&slip, span) {
                return None;
            }
            let written = self.count_slip(&slip);
            if stated.is_none() {
                *stated = written;
            }
        }
        if let Some(slip) = node.child(Rule::as_slip) {
            return self.said_again(&slip);
        }
        if let Some(same) = node.child(Rule::as_line) {
            let mut numbers = same.all(Rule::number).map(|n| self.number(&n)).collect::<Vec<_>>().into_iter();
            let number = numbers.next()??;
            let piece = self.child_text(&same, Rule::as_piece);
            return Some(Body::As { round: same.has(Rule::k_rnd), number, to: numbers.next().flatten(), piece });
        }
        Some(Body::Steps(self.steps(&node.child(Rule::steps)?)?))
    }

    /// `repeat rnd 4` and `same as rnd 4` for `as rnd 4`.
    fn said_again(&mut self, node: &Node<'_>) -> Option<Body> {
        let round = node.has(Rule::k_rnd);
        let number = self.child_number(node)?;
        let better = format!("as {} {}", if round { "rnd" } else { "row" }, number.value);
        self.respell(codes::SPELLING, "a line is said again with `as`", node.span(), &better);
        Some(Body::As { round, number, to: None, piece: None })
    }

    /// Full stops and commas that nothing follows.
    pub fn strays(&mut self, node: &Node<'_>, line: Span) {
        for stray in node.all(Rule::stray_slip) {
            let span = stray.span();
            let sign = stray.text();
            let last = self.slice(Span::new(span.end, line.end)).trim().is_empty();
            let place = if last { "at the end" } else { "before the stated count" };
            let message = format!("there is no `{sign}` {place}");
            let title = format!("leave out the `{sign}`");
            let found = Diagnostic::error(codes::SPELLING, message, span, "not needed here");
            // Behind a comma that ends the line something may have been left out.
            let fix = if last && sign == "," { Fix::change(title, span, "") } else { Fix::spelling(title, span, "") };
            self.find(found.with_fix(fix));
        }
    }

    // ---- The stated count

    fn stated(&mut self, span: Span) -> Option<Stated> {
        let span = self.trim(span);
        match self.read(Rule::stated_line, span) {
            Ok(node) => {
                self.strays(&node, span);
                let parts = self.stated_parts(&node.child(Rule::stated_parts)?)?;
                let late = node.child(Rule::after_count_slip);
                let end = late.as_ref().map_or(span.end, |late| self.trim_end(span.start, late.span().start));
                if let Some(late) = late {
                    self.behind_count(&late, span.start);
                }
                Some(Stated { span: Span::new(span.start, end), parts })
            }
            Err(stop) => {
                let found = self.stopped(&stop, span, Rule::stated_line);
                self.find(found);
                None
            }
        }
    }

    /// `sc to end = 10, ch 1, turn`: steps behind the count.
    fn behind_count(&mut self, late: &Node<'_>, count: usize) {
        let Some(node) = late.child(Rule::steps) else { return };
        let steps = self.steps(&node);
        let before = self.trim_end(0, count);
        let words = self.words(node.span()).text;
        let edits = vec![(Span::new(before, before), format!(", {words}")), (late.span(), String::new())];
        let message = "the stated count stands at the end of its line";
        let found = Diagnostic::error(codes::COUNT_STYLE, message, node.span(), "stands behind the count")
            .with_fix(respelling("put the count last", edits));
        self.find(found);
        self.after_count = steps.unwrap_or_default();
    }

    pub(super) fn stated_parts(&mut self, node: &Node<'_>) -> Option<Vec<StatedPart>> {
        for slip in node.all(Rule::stated_link).filter_map(|link| link.child(Rule::plus_slip)) {
            self.respell(codes::COUNT_STYLE, "a plus stands between two counts", slip.span(), " +");
        }
        let parts: Vec<_> = node.all(Rule::stated_part).map(|part| self.stated_part(&part)).collect();
        parts.into_iter().collect()
    }

    fn stated_part(&mut self, node: &Node<'_>) -> Option<StatedPart> {
        let kind = match node.child(Rule::kind) {
            Some(kind) => Some(self.kind(&kind)?),
            None => None,
        };
        Some(StatedPart { amount: self.child_amount(node)?, kind })
    }

    /// `(18)`, `[18 sts]` and `- 18` for `= 18`.
    fn count_slip(&mut self, node: &Node<'_>) -> Option<Stated> {
        let list = node.child(Rule::stated_parts)?;
        let before = self.findings.len();
        let mut parts = self.stated_parts(&list)?;
        self.findings.truncate(before);
        let single = matches!(parts.as_slice(), [only] if any_stitch(only.kind.as_ref()));
        if single {
            for part in &mut parts {
                part.kind = None;
            }
        }
        let written: Vec<String> = parts.iter().map(|part| self.part_words(part)).collect();
        let by_size =
            parts.len() > 1 && parts.len() == self.names.sizes && parts.iter().all(|part| part.kind.is_none());
        let better = format!("= {}", written.join(if by_size { " / " } else { " + " }));
        if by_size {
            let terms = parts.iter().flat_map(|part| part.amount.terms.clone()).collect();
            parts = vec![StatedPart { amount: Amount { span: node.span(), terms }, kind: None }];
        }
        let span = node.span();
        self.respell(codes::COUNT_STYLE, "the stated count is written with `=`", span, &better);
        Some(Stated { span, parts })
    }

    /// `sc 9 (19)` in a pattern of two sizes: the second number may be that of the second size, as print gives it, or the
    /// count that the line makes.
    fn sizes_in_brackets(&mut self, slip: &Node<'_>, line: Span) -> bool {
        let Some(list) = slip.child(Rule::stated_parts) else { return false };
        let parts: Vec<String> = list.all(Rule::stated_part).map(|part| self.words(part.span()).text).collect();
        let numbers = parts.iter().all(|part| part.chars().all(|c| c.is_ascii_digit()));
        let before = self.slice(Span::new(line.start, slip.span().start)).trim_end();
        let digits = before.len() - before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        if !numbers || digits == 0 || parts.len() + 1 != self.names.sizes || !slip.text().starts_with(['(', '[']) {
            return false;
        }
        let place = Span::new(line.start + before.len() - digits, slip.span().end);
        let written = self.words(place).text;
        let first = self.slice(Span::new(place.start, place.start + digits));
        let by_size = format!("{first} / {}", parts.join(" / "));
        let mut found = Diagnostic::error(
            codes::TWO_READINGS,
            format!("`{written}` can be read in two ways"),
            place,
            "a number for each size, or the count at the end?",
        )
        .with_help("numbers by size have a `/` between them, and the count that a line makes stands after `=`")
        .with_fix(Fix::change(format!("a number for each size: `{by_size}`"), place, by_size));
        if let [count] = parts.as_slice() {
            let title = format!("the count that it makes: `= {count}`");
            found = found.with_fix(Fix::change(title, slip.span(), format!("= {count}")));
        }
        self.find(found);
        true
    }

    fn part_words(&self, part: &StatedPart) -> String {
        let end = part.kind.as_ref().map_or(part.amount.span, |kind| kind.span);
        self.words(part.amount.span.to(end)).text
    }

    // ---- Lines done again

    /// `again …`.
    pub fn again_line(&mut self, whole: Span, rest: Span) -> Option<LineKind> {
        let (what, count) = self.split_count(rest);
        let stated = count.and_then(|span| self.stated(span));
        let node = self.read_or_stop(Rule::again_line, what)?;
        let span = self.trim(whole);
        let Some(lines) = node.child(Rule::again_what) else {
            return self.again_above(&node, span, stated);
        };
        let mut numbers = lines.all(Rule::number).map(|n| self.number(&n)).collect::<Vec<_>>().into_iter();
        let from = numbers.next()??;
        let to = numbers.next().unwrap_or(Some(from))?;
        let extent = self.again_extent(&node.child(Rule::again_extent)?)?;
        Some(LineKind::Again(Again { span, round: lines.has(Rule::k_rnd), from, to, above: None, extent, stated }))
    }

    /// `again, 4 times`, `again last 2 rows until 18 cm`: what stands above, without its numbers.
    fn again_above(&mut self, node: &Node<'_>, span: Span, stated: Option<Stated>) -> Option<LineKind> {
        let named = node.child(Rule::again_above);
        let how_many = named.as_ref().and_then(|named| named.child(Rule::number));
        let at = how_many.as_ref().map_or(Span::new(span.start, span.start), Node::span);
        let value = match how_many {
            Some(number) => self.number(&number)?.value,
            None => 1,
        };
        let above = Number { span: at, value };
        let round = match &named {
            Some(named) => named.has(Rule::k_rnd),
            None => !self.way.is_some_and(Way::rows),
        };
        let extent = self.again_extent(&node.child(Rule::again_extent)?)?;
        Some(LineKind::Again(Again { span, round, from: above, to: above, above: Some(above), extent, stated }))
    }

    fn again_extent(&mut self, node: &Node<'_>) -> Option<AgainExtent> {
        let how = node.first()?;
        if how.rule() == Rule::until {
            return self.until(&how);
        }
        if how.rule() == Rule::more_slip {
            // They have been worked once where they are written: what is done again is more.
            let better = match self.slice(how.child(Rule::amount)?.span()) {
                "1" => "once".to_owned(),
                times => format!("{times} times"),
            };
            self.respell(
                codes::REPEAT_STYLE,
                "how often lines are done again is written `4 times`",
                how.span(),
                &better,
            );
            return Some(AgainExtent::Times(self.child_amount(&how)?));
        }
        if how.rule() == Rule::word_times {
            let value = if how.has(Rule::k_twice) { 2 } else { 1 };
            return Some(AgainExtent::Times(one_number(how.span(), value)));
        }
        let amount = self.child_amount(&how)?;
        if how.rule() == Rule::by_slip {
            let better = format!("{} times", self.slice(amount.span));
            self.respell(codes::REPEAT_STYLE, "how often is written `4 times`", how.span(), &better);
        }
        Some(AgainExtent::Times(amount))
    }

    fn until(&mut self, node: &Node<'_>) -> Option<AgainExtent> {
        if let Some(line) = node.child(Rule::until_line) {
            return Some(AgainExtent::UntilLine(self.child_amount(&line)?));
        }
        if let Some(stitches) = node.child(Rule::until_stitches) {
            return Some(AgainExtent::UntilStitches(self.child_amount(&stitches)?));
        }
        let length = node.child(Rule::until_length)?;
        let numbers = self.lengths(&length)?;
        let mut unit = self.child_text(&length, Rule::length_unit)?;
        unit.text.make_ascii_lowercase();
        let from = match length.child(Rule::length_from) {
            Some(from) => Some(match from.child(Rule::from_line) {
                Some(line) => LengthFrom::Line(self.child_number(&line)?),
                None => LengthFrom::Named(self.child_text(&from, Rule::opening_name)?),
            }),
            None => None,
        };
        Some(AgainExtent::UntilLength { numbers, unit, from })
    }

    /// Lengths as written, one or one a size.
    pub fn lengths(&mut self, node: &Node<'_>) -> Option<Vec<Text>> {
        let list = node.child(Rule::lengths)?;
        if list.has(Rule::gap_slip) {
            self.gap(list.span());
            return None;
        }
        let numbers: Vec<_> = list.all(Rule::decimal).map(|n| self.node_text(&n)).collect();
        self.check_list(numbers.len(), list.span())?;
        Some(numbers)
    }
}
