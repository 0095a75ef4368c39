//! A file in the other stitch names: the same lines, with each name of a stitch exchanged where the notation has one.

use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Span};
use crate::limits;
use crate::pattern;
use crate::stitch::{Stitches, Terms};
use crate::syntax::tokens::trace;
use crate::syntax::tree::{
    Again, Body, Ending, File, GridLine, Header, Kind, KindWhat, Lead, LineKind, Part, Setting, Start, Stated, Step,
    StitchBody, Surface, Text, Trim, TrimKind, WorkLine,
};

/// The message about a name that is taken is one about the other terms.
const OTHER_TERMS: Code = Code("other-terms");

/// The text in these terms. Only what the notation reads as the name of a stitch is changed: words for the maker, notes
/// and remarks stay as they are, and so do the names of the designer's own stitches.
///
/// # Errors
///
/// Gives the findings back when a line can't be read, when the file doesn't say its terms, or when a stitch of the
/// designer's own has the name that one of the trade's would get.
pub fn in_terms(text: &str, terms: Terms) -> Result<String, Vec<Diagnostic>> {
    let text = &*crate::words::with_line_feeds(text);
    if text.len() > limits::MOST_BYTES {
        return Err(crate::syntax::parse(text).1);
    }
    let trace = trace(text);
    let (pattern, findings) = pattern::lower(&trace.file);
    let hinders = |finding: &Diagnostic| ["terms", "unknown-stitch", "other-terms"].contains(&finding.code.0);
    let mut findings: Vec<Diagnostic> = findings.into_iter().filter(hinders).collect();
    findings.splice(0..0, trace.findings);
    if !findings.is_empty() {
        return Err(findings);
    }
    if pattern.terms == terms {
        return Ok(text.to_owned());
    }
    let mut exchange =
        Exchange { text, stitches: &pattern.stitches, to: terms, edits: Vec::new(), findings: Vec::new() };
    exchange.file(&trace.file);
    if exchange.findings.is_empty() {
        let fix = Fix { title: String::new(), edits: exchange.edits, safety: Safety::KeepsFabric };
        Ok(fix.apply(text))
    } else {
        Err(exchange.findings)
    }
}

/// Gathers the edits.
struct Exchange<'t> {
    text: &'t str,
    stitches: &'t Stitches,
    to: Terms,
    edits: Vec<Edit>,
    findings: Vec<Diagnostic>,
}

impl Exchange<'_> {
    fn file(&mut self, file: &File) {
        for line in &file.lines {
            match &line.kind {
                LineKind::Header(header) => self.header(header),
                LineKind::Setting(Setting::Lead(lead)) => self.lead(lead),
                LineKind::Setting(Setting::Now(now)) => now.lead.iter().for_each(|(lead, _)| self.lead(lead)),
                LineKind::Start(start) => self.start(start),
                LineKind::Work(work) => self.work_line(work),
                LineKind::Again(Again { stated, .. }) => self.stated(stated.as_ref()),
                LineKind::Ending(
                    Ending::Trim(Trim { what: TrimKind::Cord { stitch }, .. })
                    | Ending::Surface(Surface { stitch, .. }),
                ) => self.stitch(stitch),
                LineKind::Blank
                | LineKind::Remark
                | LineKind::Words(_)
                | LineKind::Piece(_)
                | LineKind::Setting(Setting::With(_) | Setting::Using(_) | Setting::Stripe(_) | Setting::Colours(_))
                | LineKind::Ending(_)
                | LineKind::Meant(_)
                | LineKind::Bad(_) => {}
            }
        }
    }

    fn header(&mut self, header: &Header) {
        match header {
            Header::Terms(text) => self.put(text.span, word(self.to)),
            Header::Gauge { stitch: Some(stitch), .. } => {
                // A gauge may be in a stitch pattern, which has no other name.
                if self.stitches.find(&stitch.text, self.to.other()).is_some() {
                    self.name(stitch.span, &stitch.text);
                }
            }
            Header::Blocks { stitch, .. }
            | Header::Swatch { stitch, .. }
            | Header::Grid(GridLine { stitch: Some(stitch), .. }) => self.stitch(stitch),
            // A yarn, `open` and `filled` are no stitches, and stay.
            Header::Legend(entries) => entries.iter().for_each(|entry| self.stitch(&entry.what)),
            Header::Stitch(line) => {
                if let StitchBody::Steps(steps) = &line.body {
                    self.steps(steps);
                }
            }
            Header::Pattern(_)
            | Header::By(_)
            | Header::About(_)
            | Header::Note(_)
            | Header::Version(_)
            | Header::Notion(_)
            | Header::Picture { .. }
            | Header::Caution(_)
            | Header::Correction(_)
            | Header::For(_)
            | Header::Skill(_)
            | Header::Sizes(_)
            | Header::Counts { .. }
            | Header::Hook { .. }
            | Header::Yarn { .. }
            | Header::Gauge { stitch: None, .. }
            | Header::Finished { .. }
            | Header::Fits(_)
            | Header::Grid(GridLine { stitch: None, .. })
            | Header::Squares(_)
            | Header::Set { .. } => {}
        }
    }

    fn lead(&mut self, lead: &Lead) {
        match lead {
            Lead::Chain { counts_as: Some(stitch), .. } => self.stitch(stitch),
            Lead::Chain { counts_as: None, .. } | Lead::None => {}
        }
    }

    fn start(&mut self, start: &Start) {
        match start {
            Start::Foundation { stitch, .. } => self.stitch(stitch),
            Start::Part(_, _, whole) | Start::Rest(whole) => self.start(whole),
            Start::Again(start) => self.start(start),
            Start::Through(one, other) => {
                self.start(one);
                self.start(other);
            }
            Start::Several(parts) => parts.iter().for_each(|part| self.start(part)),
            Start::Ring
            | Start::Chain { .. }
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Side(..)
            | Start::Opening(..)
            | Start::Loops { .. }
            | Start::Thing { .. }
            | Start::Around(_) => {}
        }
    }

    fn work_line(&mut self, line: &WorkLine) {
        match &line.body {
            Body::Steps(steps) => self.steps(steps),
            Body::Unread | Body::As { .. } => {}
        }
        self.stated(line.stated.as_ref());
    }

    fn stated(&mut self, stated: Option<&Stated>) {
        for part in stated.into_iter().flat_map(|stated| &stated.parts) {
            self.kind_if(part.kind.as_ref());
        }
    }

    fn steps(&mut self, steps: &[Step]) {
        for step in steps {
            step.kind.each_part(&mut |part| self.part(part));
        }
    }

    fn part(&mut self, part: Part<'_>) {
        match part {
            Part::Steps(steps) => self.steps(steps),
            Part::Stitch(stitch) => self.stitch(stitch),
            Part::Kind(kind) => self.kind(kind),
            Part::Places(places) => places.each_part(&mut |part| self.part(part)),
            Part::Place(place) => self.kind_if(place.kind()),
            Part::Till(till) => self.kind_if(till.kind()),
            Part::Amount(_) => {}
        }
    }

    fn kind_if(&mut self, kind: Option<&Kind>) {
        if let Some(kind) = kind {
            self.kind(kind);
        }
    }

    fn kind(&mut self, kind: &Kind) {
        match &kind.what {
            KindWhat::Stitch(name) => self.name(kind.span, name),
            KindWhat::AnyStitch | KindWhat::Chain | KindWhat::Space(_) | KindWhat::AnySpace => {}
        }
    }

    fn stitch(&mut self, stitch: &Text) {
        self.name(stitch.span, &stitch.text);
    }

    /// Exchanges one name.
    fn name(&mut self, span: Span, name: &str) {
        let from = self.to.other();
        let Some(id) = self.stitches.find(name, from) else { return };
        let Some(stitch) = self.stitches.get(id).filter(|stitch| !stitch.own) else { return };
        let in_full = stitch.names(from).full.eq_ignore_ascii_case(name);
        let names = stitch.names(self.to);
        let better = if in_full { &names.full } else { &names.short };
        let same = self.stitches.find(name, self.to) == Some(id);
        if self.stitches.find(better, self.to) != Some(id) {
            let finding = taken(span, name, better, self.to);
            // One line says it for all of them.
            if self.findings.iter().all(|earlier| earlier.message != finding.message) {
                self.findings.push(finding);
            }
        } else if !same {
            let better = better.clone();
            self.put(span, &better);
        }
    }

    fn put(&mut self, span: Span, better: &str) {
        if self.text.get(span.start..span.end) != Some(better) {
            self.edits.push(Edit { span, text: better.to_owned() });
        }
    }
}

fn word(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "US",
        Terms::Uk => "UK",
    }
}

/// A stitch of the designer's own has the name already.
fn taken(span: Span, name: &str, better: &str, to: Terms) -> Diagnostic {
    let message = format!("in {} terms `{name}` is `{better}`, which is a stitch of your own here", word(to));
    Diagnostic::error(OTHER_TERMS, message, span, "this would become your own stitch")
        .with_help(format!("give your own stitch `{better}` another name first"))
}
