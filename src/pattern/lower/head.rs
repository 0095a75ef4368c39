//! The head of a pattern.

use super::super::model::{Audience, Definition, StepKind, Where};
use super::super::model::{Correction, Picture, Place, Step, StitchId, each_step};
use super::{Lower, codes};
use crate::diagnostic::{Diagnostic, Span};
use crate::stitch::{Made, Names, Sort, Stitch};
use crate::syntax::tree::{File, Header, LineKind, StitchBody, StitchLine, Text};
use crate::words::is_date;

impl Lower {
    /// Reads every header line, in the order of the file.
    pub(super) fn head(&mut self, file: &File) {
        for line in &file.lines {
            if let LineKind::Header(header) = &line.kind {
                self.holds_in_every_size(line);
                self.header(header, line.span);
            }
        }
        // A swatch may stand before its yarn.
        for line in &file.lines {
            if let LineKind::Header(header @ Header::Swatch { .. }) = &line.kind {
                self.weighed(header, line.span);
            }
        }
        self.read_grids(file);
    }

    fn header(&mut self, header: &Header, span: Span) {
        match header {
            Header::Pattern(text) => self.title(text),
            Header::By(text) => self.head.by = Some(text.text.clone()),
            Header::About(text) => self.head.about = Some(text.text.clone()),
            Header::Note(words) => {
                let note = self.maker_words(words);
                self.head.notes.push(note);
            }
            Header::Version(text) => self.head.version = Some(text.text.clone()),
            Header::Notion(text) => self.head.notions.push(text.text.clone()),
            Header::Picture { file, words } => self.picture(file, words.as_ref(), span),
            Header::Caution(text) => self.head.cautions.push(text.text.clone()),
            Header::Correction(text) => self.correction(text),
            Header::Skill(text) => self.head.skill = Some(text.text.clone()),
            Header::Fits(text) => self.fits(text),
            Header::For(text) => self.audience(text),
            // Sizes and terms are read before everything else, swatches when all yarns are known.
            // Grids name yarns and stitches, which may stand below them.
            Header::Sizes(_)
            | Header::Terms(_)
            | Header::Swatch { .. }
            | Header::Grid(_)
            | Header::Legend(_)
            | Header::Squares(_) => {}
            Header::Counts { chains, .. } => self.counts_chains = *chains,
            Header::Set { name, amount } => self.set(name, amount),
            Header::Stitch(stitch) => self.own_stitch(stitch),
            Header::Blocks { chains, each, stitch } => self.blocks(*chains, *each, stitch, span),
            Header::Hook { .. } | Header::Yarn { .. } | Header::Gauge { .. } | Header::Finished { .. } => {
                self.material(header, span);
            }
        }
    }

    fn title(&mut self, text: &Text) {
        if !self.head.title.is_empty() {
            let finding = Diagnostic::error(codes::TWICE, "the pattern has two titles", text.span, "a second title");
            self.findings.push(finding.with_help("keep one `pattern` line"));
        }
        self.head.title.clone_from(&text.text);
    }

    /// A picture lies beside the pattern and has words for those who don't see it.
    fn picture(&mut self, file: &Text, words: Option<&Text>, span: Span) {
        let Some(words) = words.filter(|words| !words.text.is_empty()) else {
            self.findings.push(codes::picture_without_words(file));
            return;
        };
        match codes::picture_file(file) {
            Some(finding) => self.findings.push(finding),
            None => {
                let picture = Picture { file: file.text.clone(), words: words.text.clone(), span };
                self.head.pictures.push(picture);
            }
        }
    }

    /// A correction begins with its date.
    fn correction(&mut self, text: &Text) {
        let (date, words) = text.text.split_once(' ').unwrap_or((&text.text, ""));
        let date = date.trim_end_matches([':', ',']);
        if is_date(date) && !words.trim().is_empty() {
            let correction = Correction { date: date.to_owned(), words: words.trim().to_owned() };
            self.head.corrections.push(correction);
        } else {
            self.findings.push(codes::correction(text, is_date(date)));
        }
    }

    fn audience(&mut self, text: &Text) {
        const KNOWN: [(&str, Audience); 6] = [
            ("baby", Audience::Baby),
            ("child", Audience::Child),
            ("adult", Audience::Adult),
            ("toy", Audience::Toy),
            ("home", Audience::Home),
            ("pet", Audience::Pet),
        ];
        let found = KNOWN.iter().find(|(name, _)| name.eq_ignore_ascii_case(&text.text));
        self.head.audience = found.map(|(_, audience)| *audience);
        if found.is_none() {
            let names: Vec<String> = KNOWN.iter().map(|(name, _)| (*name).to_owned()).collect();
            self.unknown_as("audience", text, &names, "none of the known ones");
        }
    }

    /// Adds a stitch of the designer's own. One made of steps is worked by its steps.
    pub(super) fn own_stitch(&mut self, line: &StitchLine) {
        if !crate::syntax::can_name_a_stitch(&line.name.text) {
            self.findings.push(codes::taken_name(&line.name));
        }
        let (takes, makes) = match &line.body {
            StitchBody::Unit { takes, makes } => (self.number(*takes), self.number(*makes)),
            StitchBody::Steps(_) => (1, 1),
        };
        let steps = match &line.body {
            StitchBody::Steps(steps) => Some(self.steps(steps)),
            StitchBody::Unit { .. } => None,
        };
        let Some(id) = self.stitches.add(own(line, takes)) else { return };
        if steps.is_none() {
            self.stitches.set_makes(id, vec![Made::Stitch(id); usize::try_from(makes).unwrap_or(0).min(100)]);
        }
        if let Some(steps) = steps {
            self.only_in_a_line(&steps);
            let placeable = is_placeable(&steps);
            self.definitions.push(Definition { stitch: id, steps, placeable, span: line.name.span });
        }
    }

    /// What begins or ends a line is no part of a stitch.
    fn only_in_a_line(&mut self, steps: &[Step]) {
        let mut found = None;
        each_step(steps, &mut |step| {
            let of_a_line = matches!(
                step.kind,
                StepKind::Lead(_)
                    | StepKind::Behind(_)
                    | StepKind::Through(..)
                    | StepKind::FastenOff
                    | StepKind::Rejoin(..)
                    | StepKind::Close(..)
                    | StepKind::Leave(_)
            );
            found = found.or(of_a_line.then_some(step.span));
        });
        let Some(span) = found else { return };
        let message = "a stitch begins and ends no line".to_owned();
        let finding = Diagnostic::error(codes::NOT_PLACEABLE, message, span, "belongs to a line");
        self.findings.push(finding.with_help("leave it out here, and say it in the lines that are worked so"));
    }

    /// The steps of a stitch that is made of steps.
    pub(super) fn definition(&self, id: StitchId) -> Option<&Definition> {
        self.definitions.iter().rev().find(|d| d.stitch == id)
    }
}

fn own(line: &StitchLine, takes: u32) -> Stitch {
    let full = line.full.as_ref().unwrap_or(&line.name).text.clone();
    let names = Names { short: line.name.text.clone(), full };
    Stitch {
        us: names.clone(),
        uk: names,
        takes,
        makes: Vec::new(),
        height: 1,
        around_post: false,
        has_post: true,
        from_behind: None,
        sort: Sort::Other,
        counted: false,
        answers_to: None,
        symbol: None,
        how: line.words.as_ref().map(|t| t.text.clone()),
        own: true,
    }
}

/// A stitch can be sent to a place when it goes into one place only.
fn is_placeable(steps: &[Step]) -> bool {
    match steps {
        [Step { kind: StepKind::Group(_, Where::In(Place::Next)), .. }] => true,
        [Step { kind: StepKind::Work(work), .. }] => {
            matches!(&work.places, Where::In(Place::Next))
                || matches!(&work.places, Where::Count(n) if n.single() == Some(1))
        }
        _ => false,
    }
}
