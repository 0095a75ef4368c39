//! Pieces and their lines.

use super::super::model::{
    EdgeSeam, Item, ItemKind, Layout, Lead, Line, Piece, SeamSide, Sized, Start, Stated, Step, StepKind, Trim, TrimKind,
};
use super::super::plan::Plan;
use super::rows::Said;
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Fix, Span};
use crate::syntax::tree::{self, Body, Ending, File, Header, LineKind, Setting, Way};
use crate::units::{Length, Unit, number};

/// What the loop on the hook counts as at the beginning of a Tunisian row (common practice, no source).
const FIRST_ON_THE_HOOK: &str = "tss";

impl Lower {
    /// Reads every line that belongs to a piece, in the order of the file.
    pub(super) fn pieces(&mut self, file: &File) {
        let in_place = in_place(&file.lines);
        for (at, line) in file.lines.iter().enumerate() {
            self.activate(line);
            let items = self.pieces.last().map_or(0, |piece| piece.items.len());
            let of_note = |line: &&tree::Line| {
                !matches!(line.kind, LineKind::Blank | LineKind::Remark | LineKind::Meant(_) | LineKind::Words(_))
            };
            match &line.kind {
                LineKind::Bad(unread) => {
                    let next = file.lines.get(at + 1..).unwrap_or_default().iter().find(of_note);
                    self.unread(unread, next.map(|line| &line.kind), line.span);
                }
                _ => self.piece_line(line),
            }
            let is_item = self.pieces.last().map_or(0, |piece| piece.items.len()) > items;
            if !is_item {
                self.pass(line, in_place.get(at) == Some(&true));
            }
        }
        self.active = vec![true; self.size_count()];
        let unread = file.lines.iter().any(|line| matches!(line.kind, LineKind::Bad(_)));
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

    /// Goes past a line that is no item of its piece.
    fn pass(&mut self, line: &tree::Line, in_place: bool) {
        if matches!(line.kind, LineKind::Piece(_)) {
            self.passed = None;
        }
        if in_place {
            let from = self.passed.map_or(line.span.start, |passed| passed.start);
            self.passed = Some(Span::new(from, line.span.end.max(from)));
        }
    }

    fn piece_line(&mut self, line: &tree::Line) {
        let begun = self.pieces.last().is_some_and(|piece| {
            piece.items.iter().any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
        });
        match &line.kind {
            // The other way of working says it itself there.
            LineKind::Setting(Setting::Now(_)) if begun => {}
            LineKind::Setting(_) | LineKind::Start(_) => self.holds_in_every_size(line),
            _ => {}
        }
        match &line.kind {
            LineKind::Piece(piece) => {
                self.piece_sizes.clone_from(&self.active);
                self.new_piece(piece, line.span);
            }
            LineKind::Setting(setting) => self.setting(setting, line.span),
            LineKind::Start(start) => self.start(start, line.span),
            LineKind::Work(work) => self.work_line(work, line.span),
            LineKind::Again(again) => self.again(again, line.span),
            LineKind::Ending(ending) => self.ending(ending, line.span),
            LineKind::Words(words) => self.words(words, line.span),
            LineKind::Header(_) => self.late_header(line.span),
            LineKind::Blank | LineKind::Remark | LineKind::Meant(_) | LineKind::Bad(_) => {}
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
                None if self.size_cut_short(name) => {}
                None => {
                    let known: Vec<String> = self.sizes.iter().map(|s| s.text.clone()).collect();
                    self.unknown("size", name, &known);
                    if matches!(line.kind, LineKind::Work(_) | LineKind::Again(_)) {
                        // In which size it is worked isn't known.
                        self.rows_not_known();
                    }
                }
            }
        }
        if !matches!(line.kind, LineKind::Piece(_)) {
            let both = self.active.iter_mut().zip(&self.piece_sizes);
            both.for_each(|(active, of_piece)| *active &= of_piece);
        }
    }

    /// Asks for a line that says something of the whole pattern or piece not to be kept for some sizes.
    pub(super) fn holds_in_every_size(&mut self, line: &tree::Line) {
        let Some(first) = line.only.first() else { return };
        let message = format!("this holds in every size, and not in {} alone", first.text);
        let help = match &line.kind {
            LineKind::Start(tree::Start::Chain { .. }) => {
                "say it once, with a number for each size, as `start ch 21 / 25`"
            }
            LineKind::Header(Header::Note(_)) => "put it below a piece, as words of that size: `only small: > …`",
            _ => {
                "leave `only` out here; for other work in some sizes begin a piece for them, as `only small: piece Edge, in rows`"
            }
        };
        let finding = Diagnostic::error(codes::EVERY_SIZE, message, line.span, "not for some sizes only");
        self.findings.push(finding.with_help(help));
    }

    /// A size that is named by the beginning of the name that it has further down. It is said once, where it is named.
    fn size_cut_short(&mut self, name: &tree::Text) -> bool {
        let small = name.text.to_lowercase();
        let begins = |size: &&tree::Text| {
            let short = size.text.to_lowercase();
            small.starts_with(&short) && !self.only_names.contains(&short)
        };
        let Some(size) = self.sizes.iter().find(begins) else { return false };
        if self.of_sizes.is_none() {
            let message = format!("a size is called `{}` here, and `{}` further down", size.text, name.text);
            let finding = Diagnostic::error(codes::UNKNOWN_NAME, message, size.span, "a shorter name")
                .with_other(name.span, "a longer one")
                .with_help("call it the same in both places")
                .with_fix(Fix::spelling(format!("`{}` to `{}`", size.text, name.text), size.span, name.text.clone()));
            self.of_sizes = Some(finding);
        }
        true
    }

    fn late_header(&mut self, span: Span) {
        // Where no piece is named, a line above was taken for the beginning of one, which is said there.
        if let Some(piece) = self.pieces.last().filter(|piece| !piece.name.is_empty()) {
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
        let layout = line.layout.as_ref().and_then(|layout| self.layout(layout, line));
        let copies = line.copies.map_or(layout.map_or(1, |layout| layout.copies()), |n| self.number(n));
        if let Some(none) = line.copies.filter(|copies| copies.value == 0) {
            let message = format!("{} is made 0 times", line.name.text);
            let finding = Diagnostic::error(codes::NUMBER_RANGE, message, none.span, "none at all");
            self.findings.push(finding.with_help("say how many there are, or leave the piece out"));
        }
        self.way_unsaid = line.way.is_none() && line.mirror.is_none() && line.like.is_none();
        let mut piece = self.empty_piece(line.name.text.clone(), line.way.unwrap_or(Way::Rows), copies, span);
        if let (Way::TunisianRows, Some(first)) = (piece.way, self.stitches.find(FIRST_ON_THE_HOOK, self.terms)) {
            piece.lead = Lead::Counted(0, first);
        }
        if let Some(lead) = &line.turning_lead {
            piece.lead = self.lead(lead);
        }
        self.push(piece);
        if let Some(other) = &line.mirror {
            self.mirror(other, line);
        } else if let Some((other, to)) = &line.like {
            self.like(other, to.as_ref(), line.way);
        }
        self.keep_to_its_sizes();
        if let Some(piece) = self.pieces.last_mut() {
            piece.flat = line.flat;
            piece.layout = layout;
        }
        // A mirror image is turned as the piece that it is the image of.
        if let Some(turned) = line.turned.filter(|_| line.mirror.is_none()) {
            self.turned(turned);
        }
        if self.way_unsaid {
            let finding =
                Diagnostic::error(codes::WAY, format!("how is {} worked?", line.name.text), line.name.span, "not said");
            self.findings
                .push(finding.with_help("end the line with `, in rows`, `, in joined rounds` or `, in a spiral`"));
            self.half_a_name();
        }
    }

    /// Lines that the present piece takes from another one are for its own sizes.
    fn keep_to_its_sizes(&mut self) {
        if self.piece_sizes.iter().all(|size| *size) {
            return;
        }
        let sizes = &self.piece_sizes;
        let (Some(piece), Some(plans)) = (self.pieces.last_mut(), self.plans.last_mut()) else { return };
        for item in &mut piece.items {
            item.sizes.iter_mut().zip(sizes).for_each(|(size, of_piece)| *size &= of_piece);
        }
        *plans = (0..plans.len()).map(|size| Plan::so_far(piece, size)).collect();
    }

    /// How copies lie side by side: all of it has to be said.
    fn layout(&mut self, layout: &tree::LayoutLine, line: &tree::PieceLine) -> Option<Layout> {
        let name = &line.name;
        let wrong = |message: String, span, label: &str, help: &str| {
            Diagnostic::error(codes::WAY, message, span, label).with_help(help)
        };
        let (Some(span), Some(across), Some(down)) = (layout.span, layout.across, layout.down) else {
            let message = format!("how many copies of {} lie side by side?", name.text);
            let help = "add `in a layout of 5 x 4`: so many across, and so many down";
            self.findings.push(wrong(message, name.span, "not said", help));
            return None;
        };
        let (across, down) = (self.number(across), self.number(down));
        let Some(corners) = layout.corners else {
            let message = format!("which spaces of {} are its corners?", name.text);
            self.findings.push(wrong(message, span, "its corners are not said", "add `corners in ch-3 sp`"));
            return None;
        };
        let (corners, joined) = (self.number(corners), layout.joined.map(|joined| self.number(joined)));
        let laid = Layout { across, down, joined, corners, span };
        if let Some(copies) = line.copies.filter(|copies| u64::from(laid.copies()) != copies.value) {
            let message =
                format!("a layout of {across} x {down} takes {}, and {} are made", laid.copies(), copies.value);
            let help = "leave the number of copies out: the layout says it";
            self.findings.push(wrong(message, copies.span, "another number", help));
        }
        Some(laid)
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

    pub(super) fn empty_piece(&self, name: String, way: Way, copies: u32, span: Span) -> Piece {
        Piece {
            name,
            way,
            copies,
            turned: false,
            flat: None,
            layout: None,
            mirror_of: None,
            borrowed: 0,
            yarn: None,
            using: None,
            lead: Lead::None,
            stripe: Vec::new(),
            colours: None,
            start: Start::Unsaid,
            start_again: false,
            start_span: span,
            items: Vec::new(),
            span,
            unread: Vec::new(),
            in_doubt: false,
        }
    }

    /// The piece that a line belongs to; lines before any piece line make one without a name.
    fn piece(&mut self, span: Span) -> Option<&mut Piece> {
        if self.pieces.is_empty() {
            let finding = Diagnostic::error(codes::NO_PIECE, "no piece has begun yet", span, "belongs to a piece");
            self.findings.push(finding.with_help("write a line such as `piece Crown, in a spiral` above"));
            let piece = self.empty_piece(String::new(), Way::Rows, 1, span);
            self.push(piece);
            self.way_unsaid = true;
        }
        self.pieces.last_mut()
    }

    pub(super) fn push(&mut self, piece: Piece) {
        self.pieces.push(piece);
        self.plans.push(vec![Plan::default(); self.size_count()]);
    }

    fn setting(&mut self, setting: &Setting, span: Span) {
        match setting {
            Setting::With(yarn) => {
                let works = |piece: &Piece| {
                    piece.items.iter().any(|item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_)))
                };
                // One that comes too late is a finding of its own, which asks for the yarn as well.
                let late = self.pieces.last().is_some_and(works) && !self.head.yarns.is_empty();
                let yarn = if late { yarn.text.clone() } else { self.yarn(yarn) };
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
                let works = |item: &Item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_));
                match self.piece(span) {
                    // Below the first row it holds from there on.
                    Some(piece) if piece.items.iter().any(works) => self.item(ItemKind::Using(name), span),
                    Some(piece) => piece.using = Some(name),
                    None => {}
                }
            }
            Setting::Lead(written) => {
                let lead = self.lead(written);
                // A lead that counts as nobody knows what may be of any height, and count or not.
                let stitch = match written {
                    tree::Lead::Chain { counts_as: Some(stitch), .. } => Some(stitch.span),
                    tree::Lead::Chain { counts_as: None, .. } | tree::Lead::None => None,
                };
                let unknown = stitch.is_some_and(|stitch| self.doubt.places.contains(&stitch.start));
                if let Some(piece) = self.piece(span) {
                    piece.lead = lead;
                    piece.in_doubt |= unknown;
                }
            }
            Setting::Stripe(colours) => {
                let stripe = colours.iter().map(|(yarn, rows)| (self.yarn(yarn), self.number(*rows))).collect();
                if let Some(piece) = self.piece(span) {
                    piece.stripe = stripe;
                }
            }
            Setting::Now(now) => self.now(now, span),
            Setting::Colours(work) => {
                if let Some(piece) = self.piece(span) {
                    piece.colours = Some(*work);
                }
            }
        }
    }

    fn start(&mut self, start: &tree::Start, span: Span) {
        let again = matches!(start, tree::Start::Again(_));
        let lowered = self.start_kind(start);
        // One that comes too late is a finding of its own, and does not move the rows above.
        let is_late = |piece: &Piece| {
            let works = |item: &Item| matches!(item.kind, ItemKind::Work(_) | ItemKind::Again(_));
            piece.mirror_of.is_none()
                && piece.start != Start::Unsaid
                && piece.items.iter().skip(piece.borrowed).any(works)
        };
        if let Some(piece) = self.piece(span).filter(|piece| !is_late(piece)) {
            piece.start = lowered;
            piece.start_again = again;
            piece.start_span = span;
        }
    }

    /// A piece by its name; for a start only those above.
    pub(super) fn earlier(&mut self, name: &tree::Text) -> Option<usize> {
        let above = self.nameable();
        let found = self.pieces.iter().take(above).position(|p| p.name.eq_ignore_ascii_case(&name.text));
        if found.is_none() {
            self.not_above(name, above);
        }
        found
    }

    /// How many pieces can be named: those above, and the present one where its own edges may be.
    pub(super) fn nameable(&self) -> usize {
        self.pieces.len().saturating_sub(usize::from(!self.names_present))
    }

    /// A piece above, or the present one.
    pub(super) fn present_or_earlier(&mut self, name: &tree::Text) -> Option<usize> {
        let found = self.pieces.iter().position(|p| p.name.eq_ignore_ascii_case(&name.text));
        if found.is_none() {
            self.not_above(name, self.pieces.len());
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
            begun_in: None,
            stated,
            unread: false,
        };
        match &work.body {
            Body::Steps(steps) => {
                let first = steps.first().map_or(span, |s| s.span);
                let steps_span = steps.last().map_or(first, |s| first.to(s.span));
                let line = Line { steps: self.steps(steps), steps_span, ..line };
                match self.grids_in(&line) {
                    Some(rows) => self.by_grid(&line, &rows, span),
                    None => self.item(ItemKind::Work(line), span),
                }
            }
            Body::Unread => {
                self.unread_rows(line, span);
                // Where nothing follows the label it may go on: `rnds 5-` of `rnds 5-8`.
                if label.to.is_none() && span.end <= label.span.end + 1 {
                    self.rows_not_known();
                }
            }
            Body::As { number, to, piece, .. } => {
                let said = Said { first: *number, last: *to, piece: piece.as_ref(), label, span };
                self.as_lines(&line, said);
            }
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

    /// Looks a stated count up.
    pub(super) fn stated(&mut self, stated: &tree::Stated) -> Stated {
        let parts = self.stated_parts(stated);
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

    /// Whether the piece ends with a `fasten off` that it has of the piece which it is the mirror image of, in every size.
    fn has_just_ended_as_another(&self) -> bool {
        let mirror = self.pieces.last().filter(|piece| piece.mirror_of.is_some());
        let last = mirror.and_then(|piece| piece.items.last());
        last.is_some_and(|item| item.kind == ItemKind::FastenOff && !item.sizes.contains(&false))
    }

    fn ending(&mut self, ending: &Ending, span: Span) {
        let kind = match ending {
            // What a piece is the mirror image of has ended so already.
            Ending::FastenOff if self.has_just_ended_as_another() => return,
            Ending::FastenOff => ItemKind::FastenOff,
            Ending::Gather(amount) => ItemKind::Gather(amount.as_ref().map(|a| self.sized(a))),
            Ending::Seam(one, other) => return self.seam(one, other, span),
            Ending::SeamEdges { one, other, easing } => {
                self.names_present = true;
                let (one, other) = (self.start_kind(one), self.start_kind(other));
                self.names_present = false;
                if [&one, &other].contains(&&Start::Unsaid) {
                    return;
                }
                ItemKind::SeamEdges(EdgeSeam { one, other, easing: easing.as_ref().map(|easing| self.sized(easing)) })
            }
            Ending::ChangeTo(yarn) => ItemKind::ChangeTo(self.yarn(yarn)),
            Ending::Sew { piece, to, over } => {
                let over = over.as_ref().map(|a| self.sized(a));
                let (Some(piece), Some(to)) = (self.present_or_earlier(piece), self.present_or_earlier(to)) else {
                    return;
                };
                ItemKind::Sew { piece, to, over }
            }
            Ending::Trim(trim) => ItemKind::Trim(self.trim(trim, span)),
            Ending::Surface(surface) => match self.surface(surface) {
                Some(surface) => ItemKind::Surface(surface),
                None => return,
            },
            Ending::Place(placing) => match self.placing(placing) {
                Some(placing) => ItemKind::Place(placing),
                None => return,
            },
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
        self.see_list(trim.lengths.len());
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

    pub(super) fn item(&mut self, kind: ItemKind, span: Span) {
        self.item_for(self.active.clone(), kind, span);
    }

    /// A line of the piece for some sizes, which is planned at once, so that lines below can name its rows.
    pub(super) fn item_for(&mut self, sizes: Vec<bool>, mut kind: ItemKind, span: Span) {
        let Some(piece) = self.piece(span) else { return };
        if let ItemKind::Work(line) = &mut kind
            && piece.turned_at(piece.items.len())
            && !line.steps.iter().rev().take(2).any(|step| step.kind == StepKind::Turn)
        {
            let at = line.steps.iter().rposition(|step| step.kind != StepKind::FastenOff).map_or(0, |last| last + 1);
            line.steps.insert(at, Step { span: line.steps_span, kind: StepKind::Turn });
        }
        if let ItemKind::Work(line) = &kind
            && let Some(right) = line.right_side
            && !line.steps.iter().any(|step| matches!(step.kind, StepKind::Rejoin(..)))
        {
            begins_on_the_other_side(piece, right);
        }
        let at = piece.items.len();
        let goes_on_at = piece.goes_on_at(at);
        let above = self.passed.take().unwrap_or(Span::new(span.start, span.start));
        let sizes = sizes.into_iter().zip(&self.piece_sizes).map(|(size, of_piece)| size && *of_piece).collect();
        let item = Item { sizes, kind, span, above, goes_on_at };
        for (size, plan) in self.plans.last_mut().into_iter().flatten().enumerate() {
            plan.add(&item, at, size);
        }
        if let Some(piece) = self.pieces.last_mut() {
            piece.items.push(item);
        }
    }
}

/// Where the first row that says its side comes behind some that say none, it says that of the first row as well: which side of a piece
/// is its right one is the designer's choice.
fn begins_on_the_other_side(piece: &mut Piece, right: bool) {
    if piece.way != Way::Rows || piece.turned {
        return;
    }
    let mut rows = 0_u32;
    // From the last one up, so that a row that says its side is come to first.
    for item in piece.items.iter().rev() {
        match &item.kind {
            ItemKind::Work(_) if item.sizes.contains(&false) => return,
            ItemKind::Work(line) if line.right_side.is_none() && line.same_as.is_none() && !line.round => {
                rows = rows.saturating_add(line.times);
            }
            ItemKind::Work(_) | ItemKind::Again(_) | ItemKind::Now(_) | ItemKind::FastenOff => return,
            _ => {}
        }
    }
    let first = piece.items.iter_mut().find_map(|item| match &mut item.kind {
        ItemKind::Work(line) => Some(line),
        _ => None,
    });
    if let Some(first) = first.filter(|first| first.times == 1 && rows.is_multiple_of(2) != right) {
        first.right_side = Some(false);
    }
}

/// Whether each line stands where it is read: one that is tried in other words stands behind the whole text.
fn in_place(lines: &[tree::Line]) -> Vec<bool> {
    let mut first_below = usize::MAX;
    let below = lines.iter().rev().map(|line| {
        let is_in_place = line.span.start <= first_below;
        first_below = first_below.min(line.span.start);
        is_in_place
    });
    let mut in_place: Vec<bool> = below.collect();
    in_place.reverse();
    in_place
}
