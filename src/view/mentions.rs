//! What the words of a pattern name: read from its tree, so that nothing is guessed where a line could be read.

mod steps;

use std::collections::BTreeSet;

use serde::{Serialize, Serializer};

use super::Class;
use crate::compiled::Compiled;
use crate::diagnostic::Span;
use crate::pattern::model::Pattern;
use crate::syntax::tree::{
    Again, AgainExtent, Amount, Body, Ending, File, GridLine, Header, LegendEntry, LengthFrom, Line, LineKind, Meant,
    PieceLine, Setting, Squares, Start, Stated, StitchBody, StitchLine, Sum, TermValue, Text, Words, WorkLine,
};

/// What a name of the file is given to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NameKind {
    /// A size.
    Size,
    /// A number, by a `set` line.
    Number,
    /// A yarn.
    Yarn,
    /// A hook, a gauge, or both of one name.
    Hook,
    /// A stitch of the designer's own.
    Stitch,
    /// A grid.
    Grid,
    /// A piece.
    Piece,
    /// A stitch that was marked.
    Mark,
    /// Stitches that were set aside.
    Opening,
}

impl NameKind {
    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Number => "number",
            Self::Yarn => "yarn",
            Self::Hook => "hook",
            Self::Stitch => "stitch",
            Self::Grid => "grid",
            Self::Piece => "piece",
            Self::Mark => "mark",
            Self::Opening => "opening",
        }
    }
}

impl Serialize for NameKind {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}

/// A stretch of the text whose class is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Mention {
    pub span: Span,
    pub class: Class,
    /// The name that it gives or uses.
    pub name: Option<Named>,
}

/// A name where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    pub kind: NameKind,
    pub name: String,
    /// It is given here, and not only used.
    pub given: bool,
}

/// Everything of a file whose class is known from its tree, in the order of the text.
#[derive(Debug, Clone, Default)]
pub(super) struct Mentions {
    all: Vec<Mention>,
    /// Stated counts, from `=` to the end.
    stated: Vec<Span>,
}

impl Mentions {
    pub fn of(compiled: &Compiled) -> Self {
        let mut collector = Collector::new(&compiled.pattern, &compiled.tree);
        compiled.tree.lines.iter().for_each(|line| collector.line(line));
        let mut mentions = collector.found;
        mentions.all.sort_by_key(|mention| (mention.span.start, std::cmp::Reverse(mention.span.end)));
        mentions.stated.sort_unstable();
        mentions.settle_openings();
        mentions
    }

    /// What is measured from by a name may be an opening as well as a mark; which one is seen where the name is given.
    fn settle_openings(&mut self) {
        let given = |kind| -> BTreeSet<String> {
            let named = self.named().filter(|(_, named)| named.given && named.kind == kind);
            named.map(|(_, named)| named.name.to_lowercase()).collect()
        };
        let (marks, openings) = (given(NameKind::Mark), given(NameKind::Opening));
        for named in self.all.iter_mut().filter_map(|mention| mention.name.as_mut()) {
            let name = named.name.to_lowercase();
            if named.kind == NameKind::Mark && !marks.contains(&name) && openings.contains(&name) {
                named.kind = NameKind::Opening;
            }
        }
    }

    /// Every name.
    pub fn named(&self) -> impl Iterator<Item = (Span, &Named)> {
        self.all.iter().filter_map(|mention| Some((mention.span, mention.name.as_ref()?)))
    }

    /// Where stitches of the trade stand.
    pub fn stitches(&self) -> impl Iterator<Item = Span> {
        self.all.iter().filter(|mention| mention.class == Class::Stitch).map(|mention| mention.span)
    }

    /// What begins in a stretch.
    pub fn within(&self, span: Span) -> &[Mention] {
        let first = self.all.partition_point(|mention| mention.span.start < span.start);
        let rest = self.all.get(first..).unwrap_or_default();
        rest.get(..rest.partition_point(|mention| mention.span.start < span.end)).unwrap_or_default()
    }

    /// Whether a place lies in a stated count.
    pub fn is_stated(&self, at: usize) -> bool {
        let before = self.stated.partition_point(|span| span.start <= at);
        before.checked_sub(1).and_then(|last| self.stated.get(last)).is_some_and(|span| at < span.end)
    }
}

struct Collector<'a> {
    pattern: &'a Pattern,
    found: Mentions,
    /// Names of pieces, in small letters.
    pieces: BTreeSet<String>,
}

impl<'a> Collector<'a> {
    fn new(pattern: &'a Pattern, tree: &File) -> Self {
        let names = tree.lines.iter().filter_map(|line| match &line.kind {
            LineKind::Piece(piece) => Some(piece.name.text.to_lowercase()),
            _ => None,
        });
        Self { pattern, found: Mentions::default(), pieces: names.collect() }
    }

    fn see(&mut self, span: Span, class: Class, name: Option<Named>) {
        if span.start < span.end {
            self.found.all.push(Mention { span, class, name });
        }
    }

    fn name(&mut self, kind: NameKind, text: &Text, given: bool) {
        let class = match kind {
            NameKind::Yarn => Class::Yarn,
            NameKind::Stitch => Class::OwnStitch,
            NameKind::Piece if given => Class::Heading,
            NameKind::Size
            | NameKind::Number
            | NameKind::Hook
            | NameKind::Grid
            | NameKind::Piece
            | NameKind::Mark
            | NameKind::Opening => Class::Name,
        };
        self.see(text.span, class, Some(Named { kind, name: text.text.clone(), given }));
    }

    fn names<'t>(&mut self, kind: NameKind, texts: impl IntoIterator<Item = &'t Text>, given: bool) {
        for text in texts {
            self.name(kind, text, given);
        }
    }

    fn stitches<'t>(&mut self, texts: impl IntoIterator<Item = &'t Text>) {
        for text in texts {
            self.stitch(text);
        }
    }

    fn amounts<'t>(&mut self, amounts: impl IntoIterator<Item = &'t Amount>) {
        for amount in amounts {
            self.amount(amount);
        }
    }

    fn free_all<'t>(&mut self, texts: impl IntoIterator<Item = &'t Text>) {
        for text in texts {
            self.free(text);
        }
    }

    fn free(&mut self, text: &Text) {
        self.see(text.span, Class::Text, None);
    }

    /// Free words with numbers between them.
    fn words(&mut self, words: &Words) {
        let mut from = words.text.span.start;
        for number in &words.numbers {
            self.see(Span::new(from, number.amount.span.start), Class::Text, None);
            self.amount(&number.amount);
            from = number.amount.span.end.max(from);
        }
        self.see(Span::new(from, words.text.span.end), Class::Text, None);
    }

    /// A word that is a stitch, or a yarn where none is called so.
    fn stitch(&mut self, text: &Text) {
        let found = self.pattern.stitches.find(&text.text, self.pattern.terms);
        let own = found.and_then(|id| self.pattern.stitches.get(id)).map(|stitch| stitch.own);
        match own {
            Some(true) => self.name(NameKind::Stitch, text, false),
            Some(false) => self.see(text.span, Class::Stitch, None),
            None if self.pattern.head.yarns.place_of(&text.text).is_some() => self.name(NameKind::Yarn, text, false),
            None => self.see(text.span, Class::Unread, None),
        }
    }

    fn amount(&mut self, amount: &Amount) {
        for term in &amount.terms {
            if let TermValue::Sum(sum) = &term.value {
                self.sum(sum);
            }
        }
    }

    fn sum(&mut self, sum: &Sum) {
        match sum {
            Sum::Number(_) => {}
            Sum::Name(name) => self.name(NameKind::Number, name, false),
            Sum::Of { left, right, .. } => {
                self.sum(left);
                self.sum(right);
            }
        }
    }

    fn stated(&mut self, stated: Option<&Stated>) {
        let Some(stated) = stated else { return };
        self.found.stated.push(stated.span);
        for part in &stated.parts {
            self.amount(&part.amount);
            if let Some(kind) = &part.kind {
                self.kind(kind);
            }
        }
    }

    fn line(&mut self, line: &Line) {
        self.names(NameKind::Size, &line.only, false);
        if let Some(remark) = line.remark {
            self.see(remark, Class::Remark, None);
        }
        match &line.kind {
            LineKind::Blank | LineKind::Remark | LineKind::Bad(_) => {}
            LineKind::Words(words) => self.words(words),
            LineKind::Header(header) => self.header(header),
            LineKind::Piece(piece) => self.piece(piece),
            LineKind::Setting(setting) => self.setting(setting),
            LineKind::Start(start) => self.start(start),
            LineKind::Work(work) => self.work(work),
            LineKind::Again(again) => self.again(again),
            LineKind::Ending(ending) => self.ending(ending),
            LineKind::Meant(Meant { reason, .. }) => self.free(reason),
        }
    }

    fn header(&mut self, header: &Header) {
        match header {
            Header::Pattern(text)
            | Header::By(text)
            | Header::About(text)
            | Header::Version(text)
            | Header::Notion(text)
            | Header::Caution(text)
            | Header::Correction(text) => self.free(text),
            Header::Note(words) => self.words(words),
            Header::Picture { file, words } => {
                self.free(file);
                self.free_all(words);
            }
            Header::For(_) | Header::Skill(_) | Header::Terms(_) | Header::Fits(_) | Header::Counts { .. } => {}
            Header::Sizes(sizes) => self.names(NameKind::Size, sizes, true),
            Header::Hook { name, .. } => self.names(NameKind::Hook, name, true),
            Header::Gauge { name, stitch, .. } => {
                self.names(NameKind::Hook, name, true);
                if let Some(stitch) = stitch {
                    self.free_or_stitch(stitch);
                }
            }
            Header::Yarn { name, colour, more, .. } => {
                self.name(NameKind::Yarn, name, true);
                self.free_all(colour.iter().chain(more));
            }
            Header::Blocks { stitch, .. } => self.stitch(stitch),
            Header::Swatch { yarn, stitch, .. } => {
                self.names(NameKind::Yarn, yarn, false);
                self.stitch(stitch);
            }
            Header::Finished { at, .. } => {
                if let Some(at) = at {
                    self.piece_if_one(at);
                }
            }
            Header::Set { name, amount } => {
                self.name(NameKind::Number, name, true);
                self.amount(amount);
            }
            Header::Stitch(stitch) => self.own_stitch(stitch),
            Header::Grid(grid) => self.grid(grid),
            Header::Legend(entries) => self.legend(entries),
            Header::Squares(squares) => self.squares(squares),
        }
    }

    fn free_or_stitch(&mut self, text: &Text) {
        match self.pattern.stitches.find(&text.text, self.pattern.terms) {
            Some(_) => self.stitch(text),
            None => self.free(text),
        }
    }

    fn own_stitch(&mut self, line: &StitchLine) {
        self.name(NameKind::Stitch, &line.name, true);
        line.full.iter().chain(&line.words).for_each(|text| self.free(text));
        if let StitchBody::Steps(steps) = &line.body {
            self.steps(steps);
        }
    }

    fn grid(&mut self, grid: &GridLine) {
        self.name(NameKind::Grid, &grid.name, true);
        self.stitches(&grid.stitch);
        self.stated(grid.stated.as_ref());
    }

    fn legend(&mut self, entries: &[LegendEntry]) {
        for entry in entries {
            self.entry(entry);
        }
    }

    fn squares(&mut self, squares: &Squares) {
        for sign in &squares.signs {
            self.sign(sign);
        }
        self.stated(squares.stated.as_ref());
    }

    fn entry(&mut self, entry: &LegendEntry) {
        self.see(entry.sign.span, Class::Name, None);
        match entry.what.text.to_lowercase().as_str() {
            "open" | "filled" => {}
            _ if self.pattern.head.yarns.place_of(&entry.what.text).is_some() => {
                self.name(NameKind::Yarn, &entry.what, false);
            }
            _ => self.stitch(&entry.what),
        }
        self.names(NameKind::Yarn, &entry.yarn, false);
    }

    /// A square: by the letter of its yarn, or by a sign of the legend.
    fn sign(&mut self, sign: &Text) {
        match self.pattern.head.yarns.place_of(&sign.text) {
            Some(_) => self.name(NameKind::Yarn, sign, false),
            None => self.see(sign.span, Class::Name, None),
        }
    }

    fn piece(&mut self, piece: &PieceLine) {
        self.name(NameKind::Piece, &piece.name, true);
        self.names(NameKind::Piece, &piece.mirror, false);
        if let Some((other, to)) = &piece.like {
            self.name(NameKind::Piece, other, false);
            self.amounts(to);
        }
    }

    fn setting(&mut self, setting: &Setting) {
        match setting {
            Setting::With(yarn) => self.name(NameKind::Yarn, yarn, false),
            Setting::Using(hook) => self.name(NameKind::Hook, hook, false),
            Setting::Lead(lead) => self.lead(lead),
            Setting::Stripe(stripes) => stripes.iter().for_each(|(yarn, _)| self.name(NameKind::Yarn, yarn, false)),
            Setting::Now(now) => now.lead.iter().for_each(|(lead, _)| self.lead(lead)),
            Setting::Colours(_) => {}
        }
    }

    fn start(&mut self, start: &Start) {
        match start {
            Start::Ring => {}
            Start::Chain { chains, .. } => self.amount(chains),
            Start::Foundation { count, stitch } => {
                self.amount(count);
                self.stitch(stitch);
            }
            Start::Edge(name) | Start::OtherSide(name) | Start::Top(name) | Start::Side(_, name) => {
                self.piece_if_one(name);
            }
            Start::Loops { name, .. } | Start::Around(name) | Start::Opening(name, _) => self.piece_if_one(name),
            Start::Again(of) | Start::Rest(of) => self.start(of),
            Start::Several(parts) => {
                for part in parts {
                    self.start(part);
                }
            }
            Start::Part(_, amount, of) => {
                self.amount(amount);
                self.start(of);
            }
            Start::Through(one, other) => {
                self.start(one);
                self.start(other);
            }
            Start::Thing { places, name } => {
                self.amounts(places);
                self.free(name);
            }
        }
    }

    /// The name of a piece, or of an opening and its piece: `left sleeve of Yoke`. `row 24` is neither.
    fn piece_if_one(&mut self, text: &Text) {
        if self.pieces.contains(&text.text.to_lowercase()) {
            return self.name(NameKind::Piece, text, false);
        }
        // Where the words stand apart by more than a space, their places aren't known.
        if text.span.end.saturating_sub(text.span.start) != text.text.len() {
            return;
        }
        for (at, word) in text.text.match_indices(" of ") {
            let (opening, piece) = (text.text.get(..at), text.text.get(at + word.len()..));
            let (Some(opening), Some(piece)) = (opening, piece) else { continue };
            if self.pieces.contains(&piece.to_lowercase()) {
                let middle = text.span.start + at;
                let of = Text { span: Span::new(middle + word.len(), text.span.end), text: piece.to_owned() };
                let name = Text { span: Span::new(text.span.start, middle), text: opening.to_owned() };
                self.name(NameKind::Opening, &name, false);
                self.name(NameKind::Piece, &of, false);
            }
        }
    }

    fn work(&mut self, work: &WorkLine) {
        self.see(work.label.span, Class::Label, None);
        match &work.body {
            Body::Steps(steps) => self.steps(steps),
            Body::Unread => {}
            Body::As { piece, .. } => self.names(NameKind::Piece, piece, false),
        }
        self.stitches(work.turning.iter().filter_map(|turning| turning.counts_as.as_ref()));
        self.stated(work.stated.as_ref());
    }

    fn again(&mut self, again: &Again) {
        match &again.extent {
            AgainExtent::Times(amount) | AgainExtent::UntilLine(amount) | AgainExtent::UntilStitches(amount) => {
                self.amount(amount);
            }
            AgainExtent::UntilLength { from: Some(LengthFrom::Named(name)), .. } => {
                self.name(NameKind::Mark, name, false);
            }
            AgainExtent::UntilLength { .. } => {}
        }
        self.stated(again.stated.as_ref());
    }

    fn ending(&mut self, ending: &Ending) {
        match ending {
            Ending::FastenOff => {}
            Ending::Gather(amount) => self.amounts(amount),
            Ending::Seam(one, other) => {
                self.seam_side(one);
                self.seam_side(other);
            }
            Ending::SeamEdges { one, other, easing } => {
                self.start(one);
                self.start(other);
                self.amounts(easing);
            }
            Ending::Sew { piece, to, over } => {
                self.name(NameKind::Piece, piece, false);
                self.name(NameKind::Piece, to, false);
                self.amounts(over);
            }
            Ending::ChangeTo(yarn) => self.name(NameKind::Yarn, yarn, false),
            Ending::Trim(trim) => self.trim(trim),
            Ending::Surface(surface) => {
                self.amount(&surface.amount);
                self.stitch(&surface.stitch);
                self.names(NameKind::Piece, &surface.on, false);
                self.amounts(&surface.from);
                self.names(NameKind::Yarn, &surface.yarn, false);
            }
            Ending::Place(placing) => {
                placing.numbers().for_each(|number| self.amount(number));
                if self.pieces.contains(&placing.what.text.to_lowercase()) {
                    self.name(NameKind::Piece, &placing.what, false);
                } else {
                    self.free(&placing.what);
                }
                self.names(NameKind::Piece, &placing.on, false);
            }
        }
    }
}
