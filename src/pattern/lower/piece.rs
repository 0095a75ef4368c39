//! Pieces and their lines.

use super::super::model::{
    Again, AgainExtent, Item, ItemKind, Lead, Line, Piece, SeamSide, Sized, Start, Stated, Step, StepKind, Trim,
    TrimKind,
};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::measure::gauge::Scale;
use crate::measure::units::{Length, Unit, number};
use crate::syntax::tree::{self, Body, Ending, File, LineKind, Setting, Way};
use std::ops::Range;

impl Lower {
    /// Reads every line that belongs to a piece, in the order of the file.
    pub(super) fn pieces(&mut self, file: &File) {
        for line in &file.lines {
            self.activate(line);
            self.piece_line(line);
        }
        self.active = vec![true; self.size_count()];
        let unread = file.lines.iter().any(|line| line.kind == LineKind::Bad);
        if self.pieces.is_empty() && self.findings.is_empty() && !unread {
            let end = file.lines.last().map_or(0, |l| l.span.end);
            let finding = Diagnostic::error(
                codes::NO_PIECE,
                "the pattern has no piece",
                Span::new(end, end),
                "nothing is worked",
            );
            self.findings.push(
                finding.with_help("write `piece NAME, in a spiral` (or `in rows`, `in joined rounds`) and its rounds"),
            );
        }
    }

    fn piece_line(&mut self, line: &tree::Line) {
        match &line.kind {
            LineKind::Piece(piece) => self.new_piece(piece, line.span),
            LineKind::Setting(setting) => self.setting(setting, line.span),
            LineKind::Start(start) => self.start(start, line.span),
            LineKind::Work(work) => self.work_line(work, line.span),
            LineKind::Again(again) => self.again(again, line.span),
            LineKind::Ending(ending) => self.ending(ending, line.span),
            LineKind::Words(words) => self.words(words, line.span),
            LineKind::Header(_) => self.late_header(line.span),
            LineKind::Blank | LineKind::Remark | LineKind::Meant(_) | LineKind::Bad => {}
        }
    }

    /// Marks the sizes that a line is for.
    fn activate(&mut self, line: &tree::Line) {
        let count = self.size_count();
        self.active = vec![line.only.is_empty(); count];
        for name in &line.only {
            match self.sizes.iter().position(|s| s.text.eq_ignore_ascii_case(&name.text)) {
                Some(at) => {
                    if let Some(slot) = self.active.get_mut(at) {
                        *slot = true;
                    }
                }
                None => {
                    let known: Vec<String> = self.sizes.iter().map(|s| s.text.clone()).collect();
                    self.unknown("size", name, &known);
                }
            }
        }
    }

    fn late_header(&mut self, span: Span) {
        if let Some(piece) = self.pieces.last() {
            let finding =
                Diagnostic::error(codes::HEADER_LATE, "this line belongs above the first piece", span, "a header line");
            let name = piece.name.clone();
            self.findings.push(finding.with_help(format!("move it up; piece {name} has begun here")));
        }
    }

    fn new_piece(&mut self, line: &tree::PieceLine, span: Span) {
        if let Some(first) = self.pieces.iter().find(|p| p.name.eq_ignore_ascii_case(&line.name.text)) {
            let finding = Diagnostic::error(
                codes::TWICE,
                format!("two pieces are called {}", line.name.text),
                line.name.span,
                "called the same",
            )
            .with_other(first.span, "the first of them");
            self.findings.push(finding.with_help("give each piece a name of its own"));
        }
        let copies = line.copies.map_or(1, |n| self.number(n));
        self.way_unsaid = line.way.is_none() && line.mirror.is_none();
        let mut piece = self.empty_piece(line.name.text.clone(), line.way.unwrap_or(Way::Rows), copies, span);
        if let Some(lead) = &line.turning_lead {
            piece.lead = self.lead(lead);
        }
        self.pieces.push(piece);
        if let Some(other) = &line.mirror {
            self.mirror(other, line.way);
        }
        if let Some(piece) = self.pieces.last_mut() {
            piece.flat = line.flat;
        }
        if let Some(turned) = line.turned {
            self.turned(turned);
        }
        if self.way_unsaid {
            let finding =
                Diagnostic::error(codes::WAY, format!("how is {} worked?", line.name.text), line.name.span, "not said");
            self.findings
                .push(finding.with_help("end the line with `, in rows`, `, in joined rounds` or `, in a spiral`"));
        }
    }

    /// Only joined rounds can be turned as they are joined: rows turn anyway.
    fn turned(&mut self, span: Span) {
        let Some(piece) = self.pieces.last_mut() else { return };
        piece.turned = piece.way == Way::JoinedRounds;
        if !piece.turned && !self.way_unsaid {
            let finding =
                Diagnostic::error(codes::WAY, "only joined rounds are `turned`", span, "nothing to turn here");
            let help = "write `in joined rounds, turned`; rows turn by themselves, and a spiral can't be turned";
            self.findings.push(finding.with_help(help));
        }
    }

    fn empty_piece(&self, name: String, way: Way, copies: u32, span: Span) -> Piece {
        Piece {
            name,
            way,
            copies,
            turned: false,
            flat: None,
            mirror_of: None,
            yarn: None,
            using: None,
            lead: Lead::None,
            stripe: Vec::new(),
            start: Start::Unsaid,
            start_span: span,
            items: Vec::new(),
            span,
        }
    }

    /// The piece that a line belongs to; lines before any piece line make one without a name.
    fn piece(&mut self, span: Span) -> Option<&mut Piece> {
        if self.pieces.is_empty() {
            let finding = Diagnostic::error(codes::NO_PIECE, "no piece has begun yet", span, "belongs to a piece");
            self.findings.push(finding.with_help("write a line such as `piece Crown, in a spiral` above"));
            let piece = self.empty_piece(String::new(), Way::Rows, 1, span);
            self.pieces.push(piece);
            self.way_unsaid = true;
        }
        self.pieces.last_mut()
    }

    fn setting(&mut self, setting: &Setting, span: Span) {
        match setting {
            Setting::With(yarn) => {
                let yarn = self.yarn(yarn);
                if let Some(piece) = self.piece(span) {
                    piece.yarn = Some(yarn);
                }
            }
            Setting::Using(name) => {
                let hooks = self.head.hooks.iter().filter_map(|h| h.name.clone());
                let known: Vec<String> = hooks.chain(self.head.gauges.iter().filter_map(|g| g.name.clone())).collect();
                if !known.iter().any(|k| k.eq_ignore_ascii_case(&name.text)) {
                    self.unknown("hook or gauge", name, &known);
                }
                let name = name.text.clone();
                if let Some(piece) = self.piece(span) {
                    piece.using = Some(name);
                }
            }
            Setting::Lead(lead) => {
                let lead = self.lead(lead);
                if let Some(piece) = self.piece(span) {
                    piece.lead = lead;
                }
            }
            Setting::Stripe(colours) => {
                let stripe = colours.iter().map(|(yarn, rows)| (self.yarn(yarn), self.number(*rows))).collect();
                if let Some(piece) = self.piece(span) {
                    piece.stripe = stripe;
                }
            }
        }
    }

    fn start(&mut self, start: &tree::Start, span: Span) {
        let lowered = self.start_kind(start);
        if let Some(piece) = self.piece(span) {
            piece.start = lowered;
            piece.start_span = span;
        }
    }

    fn start_kind(&mut self, start: &tree::Start) -> Start {
        match start {
            tree::Start::Ring => Start::Ring,
            tree::Start::Chain { chains, joined: false } => Start::Chain(self.sized(chains)),
            tree::Start::Chain { chains, joined: true } => Start::ChainRing(self.sized(chains)),
            tree::Start::Foundation { count, stitch } => {
                Start::Foundation(self.sized(count), self.stitch(&stitch.text, stitch.span))
            }
            tree::Start::Edge(name) => self.earlier(name).map_or(Start::Unsaid, Start::Edge),
            tree::Start::OtherSide(name) => self.earlier(name).map_or(Start::Unsaid, Start::OtherSide),
            tree::Start::Top(name) => self.earlier(name).map_or(Start::Unsaid, Start::Top),
            tree::Start::Around(name) => self.earlier(name).map_or(Start::Unsaid, Start::Around),
            tree::Start::Several(parts) => Start::Several(parts.iter().map(|p| self.start_kind(p)).collect()),
            tree::Start::Part(which, amount, edge) => {
                Start::Part(*which, self.sized(amount), Box::new(self.start_kind(edge)))
            }
        }
    }

    /// A piece by its name; for a start only those above.
    pub(super) fn earlier(&mut self, name: &tree::Text) -> Option<usize> {
        let above = self.pieces.len().saturating_sub(1);
        let found = self.pieces.iter().take(above).position(|p| p.name.eq_ignore_ascii_case(&name.text));
        if found.is_none() {
            let known: Vec<String> = self.pieces.iter().take(above).map(|p| p.name.clone()).collect();
            self.unknown("piece", name, &known);
        }
        found
    }

    /// A piece above, or the present one.
    pub(super) fn present_or_earlier(&mut self, name: &tree::Text) -> Option<usize> {
        let found = self.pieces.iter().position(|p| p.name.eq_ignore_ascii_case(&name.text));
        if found.is_none() {
            let known: Vec<String> = self.pieces.iter().map(|p| p.name.clone()).collect();
            self.unknown("piece", name, &known);
        }
        found
    }

    fn work_line(&mut self, work: &tree::WorkLine, span: Span) {
        let label = &work.label;
        self.way_by_label(label.round, span);
        let (from, times) = self.lines_of(label);
        let stated = work.stated.as_ref().map(|s| self.stated(s));
        let line = Line {
            round: label.round,
            number: from,
            times,
            right_side: label.right_side,
            label_span: label.span,
            steps: Vec::new(),
            steps_span: span,
            same_as: None,
            same_piece: None,
            stated,
        };
        match &work.body {
            Body::Steps(steps) => {
                let first = steps.first().map_or(span, |s| s.span);
                let steps_span = steps.last().map_or(first, |s| first.to(s.span));
                let line = Line { steps: self.steps(steps), steps_span, ..line };
                self.item(ItemKind::Work(line), span);
            }
            Body::Unread => self.item(ItemKind::Work(line), span),
            Body::As { number, to, piece, .. } => self.as_lines(line, (*number, *to), piece.as_ref(), span),
        }
    }

    /// A piece that doesn't say how it is worked is taken as what its first line is called, so that this is said once.
    fn way_by_label(&mut self, round: bool, span: Span) {
        let begun = self.piece(span).is_some();
        if begun
            && std::mem::take(&mut self.way_unsaid)
            && let Some(piece) = self.pieces.last_mut()
        {
            piece.way = if round { Way::JoinedRounds } else { Way::Rows };
        }
    }

    /// The number of the first line that a label is for, and how many there are. A range that runs backwards is taken
    /// the right way round.
    fn lines_of(&mut self, label: &tree::Label) -> (Option<u32>, u32) {
        let Some(first) = label.from else { return (None, 1) };
        let from = self.number(first);
        let Some(last) = label.to else { return (Some(from), 1) };
        let to = self.number(last);
        if to < from {
            self.backwards(first, last);
        }
        (Some(from.min(to)), from.abs_diff(to) + 1)
    }

    fn backwards(&mut self, first: tree::Number, last: tree::Number) {
        let span = first.span.to(last.span);
        let (from, to) = (first.value, last.value);
        let finding = Diagnostic::error(codes::NUMBERING, format!("{from} to {to} runs backwards"), span, "backwards");
        let new = format!("{to}-{from}");
        let fix = Fix::change(format!("`{from}-{to}` to `{new}`"), span, new);
        self.findings.push(finding.with_help("begin with the lower number, or correct one of them").with_fix(fix));
    }

    /// `as rnd 4`, `as rnds 1-5 of Large`: says other lines again. A range of as many lines says them one by one, and
    /// what is stated is for the last of them.
    fn as_lines(
        &mut self,
        line: Line,
        numbers: (tree::Number, Option<tree::Number>),
        piece: Option<&tree::Text>,
        span: Span,
    ) {
        let first = self.number(numbers.0);
        let last = numbers.1.map_or(first, |n| self.number(n));
        if let Some(number) = numbers.1.filter(|_| last < first) {
            return self.backwards(numbers.0, number);
        }
        if last - first >= crate::limits::MOST_ROWS {
            return self.no_such_line(line.round, last, numbers.0.span);
        }
        let source = match piece {
            Some(name) => self.earlier(name),
            None => self.pieces.len().checked_sub(1),
        };
        let Some(source) = source else { return };
        let single = first == last;
        for wanted in first..=last {
            let found = self.pieces.get(source).and_then(|p| line_worked(p, wanted));
            let Some((steps, steps_span)) = found.map(|l| (l.steps.clone(), l.steps_span)) else {
                self.no_such_line(line.round, wanted, numbers.0.span);
                return self.item(ItemKind::Work(line), span);
            };
            let one = Line {
                number: line.number.map(|n| if single { n } else { n + (wanted - first) }),
                times: if single { line.times } else { 1 },
                steps,
                steps_span,
                same_as: Some(wanted),
                same_piece: piece.map(|_| source),
                stated: line.stated.clone().filter(|_| wanted == last),
                ..line.clone()
            };
            self.item(ItemKind::Work(one), span);
        }
    }

    fn no_such_line(&mut self, round: bool, wanted: u32, span: Span) {
        let word = if round { "round" } else { "row" };
        let message = format!("there is no {word} {wanted} to do again");
        let finding = Diagnostic::error(codes::NUMBERING, message, span, "not there");
        self.findings.push(finding.with_help(format!("name a {word} above that is written out")));
    }

    /// Looks a stated count up.
    fn stated(&mut self, stated: &tree::Stated) -> Stated {
        let parts = stated.parts.iter();
        let parts: Vec<_> = parts.map(|p| (self.sized(&p.amount), p.kind.as_ref().map(|k| self.kind(k)))).collect();
        for (at, (amount, kind)) in parts.iter().enumerate() {
            if parts.iter().take(at).any(|(_, earlier)| earlier == kind) {
                let what = if kind.is_some() { "a kind" } else { "the whole" };
                let message = format!("{what} is counted twice in one count");
                let finding = Diagnostic::error(codes::TWICE, message, amount.span, "counted again");
                self.findings.push(finding.with_help("name each kind once"));
            }
        }
        Stated { span: stated.span, parts }
    }

    fn again(&mut self, again: &tree::Again, span: Span) {
        let (from, to) = (self.number(again.from), self.number(again.to));
        for (wanted, at) in [(from, again.from.span), (to, again.to.span)] {
            let there = self.pieces.last().is_some_and(|p| line_by_number(p, wanted).is_some());
            if !there {
                return self.no_such_line(again.round, wanted, at);
            }
        }
        let extent = match &again.extent {
            tree::AgainExtent::Times(amount) => AgainExtent::Times(self.sized(amount)),
            tree::AgainExtent::UntilLine(amount) => AgainExtent::UntilLine(self.sized(amount)),
            tree::AgainExtent::UntilStitches(amount) => AgainExtent::UntilStitches(self.sized(amount)),
            tree::AgainExtent::UntilLength { numbers, unit } => self.until_length(numbers, unit, span),
        };
        let stated = again.stated.as_ref().map(|s| self.stated(s));
        self.item(ItemKind::Again(Again { round: again.round, from, to, extent, stated }), span);
    }

    /// A length, and the gauge that says how many rows it takes.
    fn until_length(&mut self, numbers: &[tree::Text], unit: &tree::Text, span: Span) -> AgainExtent {
        let unit = Unit::named(&unit.text).unwrap_or(Unit::Centimetre);
        let length = |text: &tree::Text| number(&text.text).and_then(|n| Length::of(n, unit)).unwrap_or_default();
        let given: Vec<Length> = numbers.iter().map(length).collect();
        let sizes = self.size_count();
        if given.len() != 1 && given.len() != sizes {
            self.wrong_length("length", given.len(), span);
        }
        let last = given.last().copied().unwrap_or_default();
        let lengths = (0..sizes).map(|s| if given.len() == 1 { last } else { given.get(s).copied().unwrap_or(last) });
        let lengths = lengths.collect();
        let using = self.pieces.last().and_then(|p| p.using.as_deref());
        let scale = Scale::by_swatch(&self.head, &self.stitches, self.terms, using);
        if scale.is_none() {
            let finding = Diagnostic::error(
                codes::NO_GAUGE,
                "how many rows this takes isn't known without a gauge",
                span,
                "a length",
            );
            self.findings.push(
                finding.with_help("add a line such as `gauge 17 sts x 19 rows in sc = 10 cm`, or say how many rows"),
            );
        }
        AgainExtent::UntilLength { lengths, unit, scale }
    }

    fn ending(&mut self, ending: &Ending, span: Span) {
        let kind = match ending {
            Ending::FastenOff => ItemKind::FastenOff,
            Ending::Gather(amount) => ItemKind::Gather(amount.as_ref().map(|a| self.sized(a))),
            Ending::Seam(one, other) => return self.seam(one, other, span),
            Ending::ChangeTo(yarn) => ItemKind::ChangeTo(self.yarn(yarn)),
            Ending::Sew { piece, to, over } => {
                let over = over.as_ref().map(|a| self.sized(a));
                let (Some(piece), Some(to)) = (self.present_or_earlier(piece), self.present_or_earlier(to)) else {
                    return;
                };
                ItemKind::Sew { piece, to, over }
            }
            Ending::Trim(trim) => ItemKind::Trim(self.trim(trim, span)),
        };
        self.item(kind, span);
    }

    fn trim(&mut self, trim: &tree::Trim, span: Span) -> Trim {
        let what = match &trim.what {
            tree::TrimKind::Pompon { wraps } => TrimKind::Pompon(self.sized(wraps)),
            tree::TrimKind::Fringe { strands } => TrimKind::Fringe(self.sized(strands)),
            tree::TrimKind::Cord { stitch } => TrimKind::Cord(self.stitch(&stitch.text, stitch.span)),
        };
        let sizes = self.size_count();
        if trim.lengths.len() != 1 && trim.lengths.len() != sizes {
            self.wrong_length("length", trim.lengths.len(), span);
        }
        let unit = Unit::named(&trim.unit.text).unwrap_or(Unit::Centimetre);
        let read = |text: &tree::Text| number(&text.text).and_then(|number| Length::of(number, unit));
        let given: Vec<Length> = trim.lengths.iter().map(|text| read(text).unwrap_or_default()).collect();
        let last = given.last().copied().unwrap_or_default();
        let of = |size: usize| if given.len() == 1 { last } else { given.get(size).copied().unwrap_or(last) };
        let yarn = trim.yarn.as_ref().map(|name| self.yarn(name));
        Trim { what, lengths: (0..sizes).map(of).collect(), unit, yarn }
    }

    /// A seam. Where its rows differ by size, there is one for the sizes that have the same.
    fn seam(&mut self, one: &tree::SeamSide, other: &tree::SeamSide, span: Span) {
        let rows = [self.seam_rows(one), self.seam_rows(other)];
        let row =
            |side: usize, size: usize| rows.get(side).and_then(Option::as_ref).map(|sized: &Sized| sized.get(size));
        let active = self.active.clone();
        let mut seams: Vec<([Option<u32>; 2], Vec<bool>)> = Vec::new();
        for size in (0..active.len()).filter(|size| active.get(*size) == Some(&true)) {
            let here = [row(0, size), row(1, size)];
            let at = seams.iter().position(|(there, _)| *there == here).unwrap_or_else(|| {
                seams.push((here, vec![false; active.len()]));
                seams.len() - 1
            });
            if let Some(concerned) = seams.get_mut(at).and_then(|(_, sizes)| sizes.get_mut(size)) {
                *concerned = true;
            }
        }
        for ([first, second], sizes) in seams {
            let (one, other) = (self.seam_side(one, first), self.seam_side(other, second));
            self.active = sizes;
            self.item(ItemKind::Seam(one, other), span);
            self.active.clone_from(&active);
        }
    }

    fn seam_rows(&mut self, side: &tree::SeamSide) -> Option<Sized> {
        match side {
            tree::SeamSide::Row(amount) => Some(self.sized(amount)),
            tree::SeamSide::Start | tree::SeamSide::First(_) | tree::SeamSide::Last(_) => None,
        }
    }

    fn seam_side(&mut self, side: &tree::SeamSide, row: Option<u32>) -> SeamSide {
        match side {
            tree::SeamSide::Row(_) => SeamSide::Row(row.unwrap_or_default()),
            tree::SeamSide::Start => SeamSide::Start,
            tree::SeamSide::First(amount) => SeamSide::First(self.sized(amount)),
            tree::SeamSide::Last(amount) => SeamSide::Last(self.sized(amount)),
        }
    }

    /// Words before the first piece are notes.
    fn words(&mut self, words: &tree::Words, span: Span) {
        let words = self.maker_words(words);
        if self.pieces.is_empty() {
            self.head.notes.push(words);
        } else {
            self.item(ItemKind::Words(words), span);
        }
    }

    fn item(&mut self, mut kind: ItemKind, span: Span) {
        let sizes = self.active.clone();
        if let Some(piece) = self.piece(span) {
            if let ItemKind::Work(line) = &mut kind
                && piece.turned
                && !line.steps.iter().rev().take(2).any(|step| step.kind == StepKind::Turn)
            {
                let at =
                    line.steps.iter().rposition(|step| step.kind != StepKind::FastenOff).map_or(0, |last| last + 1);
                line.steps.insert(at, Step { span: line.steps_span, kind: StepKind::Turn });
            }
            piece.items.push(Item { sizes, kind, span });
        }
    }
}

/// The work line that has a number, written or counted on from the line above.
pub(crate) fn line_by_number(piece: &Piece, wanted: u32) -> Option<&Line> {
    numbered(piece).into_iter().find_map(|(numbers, source)| match source {
        Source::Written(line) if numbers.contains(&wanted) => Some(line),
        Source::Written(_) | Source::Again(_) => None,
    })
}

/// The work line whose steps a row or round has, which may be worked `again`.
fn line_worked(piece: &Piece, wanted: u32) -> Option<&Line> {
    let (numbers, source) = numbered(piece).into_iter().find(|(numbers, _)| numbers.contains(&wanted))?;
    match source {
        Source::Written(line) => Some(line),
        Source::Again(again) => {
            let lines = again.to.saturating_sub(again.from) + 1;
            line_by_number(piece, again.from + (wanted - numbers.start) % lines)
        }
    }
}

/// Where a row or round has its steps from.
enum Source<'p> {
    Written(&'p Line),
    Again(&'p Again),
}

/// The numbers that lines stand for. Behind rows that only working finds, nothing is known of those worked again.
fn numbered(piece: &Piece) -> Vec<(Range<u32>, Source<'_>)> {
    let (mut next, mut known) = (1, true);
    let mut all = Vec::new();
    for item in &piece.items {
        match &item.kind {
            ItemKind::Work(line) => {
                let first = line.number.unwrap_or(next);
                known = known || line.number.is_some();
                next = first.saturating_add(line.times);
                all.push((first..next, Source::Written(line)));
            }
            ItemKind::Again(again) => {
                let (first, lines) = (next, again.to.saturating_sub(again.from) + 1);
                next = match &again.extent {
                    AgainExtent::UntilLine(number) => number.get(0).saturating_add(1),
                    AgainExtent::Times(times) => next.saturating_add(lines.saturating_mul(times.get(0))),
                    AgainExtent::UntilLength { .. } | AgainExtent::UntilStitches(_) => {
                        known = false;
                        next
                    }
                };
                if known {
                    all.push((first..next, Source::Again(again)));
                }
            }
            _ => {}
        }
    }
    all
}

#[cfg(test)]
mod tests {
    #[test]
    fn rows_of_an_earlier_piece_may_be_ones_worked_again() {
        let text = "pattern Pair\nterms US\npiece Left, in rows\nlead ch 1\nstart ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\n\
                    row 2: 2 sc in next, sc to end\nrow 3: sc to end\nagain rows 2-3 until row 6\n\
                    piece Right, in rows\nlead ch 1\nstart ch 11\nrows 1-6: as rows 1-6 of Left = 13\n";
        let compiled = crate::compile(text);
        assert!(!compiled.has_errors(), "{:?}", compiled.findings);
        let made = compiled.fabric.pieces.iter().filter_map(|piece| piece.sizes.first());
        let made: Vec<Vec<u32>> = made.map(|s| s.rows.iter().map(|row| row.ledger.stitches).collect()).collect();
        assert_eq!(made, [[10, 11, 11, 12, 12, 13], [10, 11, 11, 12, 12, 13]]);
    }
}
