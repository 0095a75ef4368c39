//! The whole page as one document, before it is set in Markdown or HTML.

use std::collections::BTreeSet;

use crate::Compiled;
use crate::diagnostic::{Diagnostic, Severity, Span};
use crate::pattern::model::{Correction, ItemKind, MakerWords, Picture, Piece, StitchId, Terms, TrimKind};
use crate::shape::{Drawing, Shapes};

use super::caution::{Caution, WHOM_TO_ASK, cautions};
use super::wording::special::{Special, special, stitches};
use super::wording::{self, Bit, Course, Phrase, Told, Voice, WrittenRow, course, told_one_by_one, written_out};
use super::wording::{head, label, notes, start, stripes};
use super::{Edition, Faults, Foreign, Hand, Language, Telling, Wording, aloud};

/// As many copies of a piece have ticks of their own.
const MOST_COPIES: u32 = 48;

/// A page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// Which stitch names.
    pub terms: Terms,
    /// The title.
    pub title: String,
    /// Who made the pattern.
    pub by: Option<String>,
    /// Pictures of the work; the first stands under the title.
    pub pictures: Vec<Picture>,
    /// What it is.
    pub about: Option<String>,
    /// The sizes that are shown, by index and name; empty for a pattern without sizes.
    pub sizes: Vec<(usize, String)>,
    /// That the pattern is faulty, if it is.
    pub draft: Option<Draft>,
    /// Level and the like, in short.
    pub facts: Vec<Fact>,
    /// Everything else, in the order in which it stands on the page. None is empty.
    pub sections: Vec<Section>,
}

/// What is said at the top of a page that is made from a faulty pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// That it is a draft.
    pub notice: Phrase,
    /// Faults that have no line on the page.
    pub faults: Vec<String>,
}

/// A label and what it says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// The label.
    pub label: Phrase,
    /// What it says.
    pub text: Phrase,
    /// The same in another language, where it is asked for and known.
    pub foreign: Option<Foreign>,
}

/// A part of the page with a heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// A name that stays the same, for links.
    pub id: String,
    /// The heading.
    pub heading: Phrase,
    /// What stands in it.
    pub blocks: Vec<Block>,
    /// Parts with a heading of their own.
    pub parts: Vec<Section>,
    /// How many of it are made, for a piece; else 1.
    pub copies: u32,
    /// The sizes that a piece is made in, by index; nothing for what is no piece.
    pub sizes: Vec<usize>,
}

/// What stands in a section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// A sentence or two.
    Sentence(Phrase),
    /// The designer's words, in Markdown.
    Words(Prose),
    /// Short entries.
    List(Vec<Phrase>),
    /// Abbreviations and what they stand for.
    Names(Vec<Fact>),
    /// Stitches that are explained.
    Stitches(Vec<Special>),
    /// Measurements by size.
    Table(Table),
    /// The lines of a piece.
    Lines(Vec<Entry>),
    /// Cautions.
    Cautions(Vec<Caution>),
    /// The chart of a grid.
    Drawing(Drawing),
    /// The charts of the stitches of a piece, by its index, for pages that have them.
    Charts(usize),
    /// The outline of a piece with the measurements of all sizes, and that of each size by itself.
    Outline(Drawing, Vec<(usize, Drawing)>),
    /// What was wrong in earlier versions.
    Corrections(Vec<Correction>),
}

/// A table whose first column says what its row is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What it is a table of, for those who don't see it.
    pub name: String,
    /// What the columns hold.
    pub head: Vec<Phrase>,
    /// The size of each row, by index; empty for a table whose rows are no sizes.
    pub sizes: Vec<usize>,
    /// The rows.
    pub rows: Vec<Vec<Phrase>>,
}

/// An entry among the lines of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Entry {
    /// Something to work.
    Line(Line),
    /// Words for the maker.
    Words(Words),
}

/// Words of the designer's, in Markdown.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Prose {
    /// The words, with a sign of `MakerWords` where a number stands.
    pub markdown: String,
    /// The numbers.
    pub numbers: Vec<Phrase>,
}

impl Prose {
    /// Words in which no numbers differ by size.
    #[must_use]
    pub fn plain(markdown: impl Into<String>) -> Self {
        Self { markdown: markdown.into(), numbers: Vec::new() }
    }

    fn of(voice: &Voice<'_>, words: &MakerWords, sizes: &[bool]) -> Self {
        let numbers = words.numbers.iter().map(|number| Phrase::from(voice.numbers(number, sizes)));
        Self { markdown: words.text.clone(), numbers: numbers.collect() }
    }

    /// Words of a text with its numbers in their places.
    #[must_use]
    pub fn filled(&self, text: &str) -> String {
        let number = |sign: char| MakerWords::number_of(sign).map(|at| self.numbers.get(at).map(Phrase::plain));
        text.chars().map(|c| number(c).map_or_else(|| c.to_string(), Option::unwrap_or_default)).collect()
    }
}

/// Words for the maker among the lines of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// `Size B only: `, where they are not for every size that is shown.
    pub only: Phrase,
    /// The words.
    pub prose: Prose,
    /// The sizes that they are for, of those that are shown, by index.
    pub sizes: Vec<usize>,
    /// The cautions that are to be read before they are followed, by what they are about.
    pub care: Vec<&'static str>,
}

/// A line to work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// A name that stays the same, for links and marks.
    pub id: String,
    /// `Rnd 3`; nothing before a start or an ending.
    pub label: Option<Phrase>,
    /// What to do.
    pub sentence: Phrase,
    /// The count at its end.
    pub count: Option<Phrase>,
    /// Its rows or rounds, where there are several.
    pub course: Course,
    /// The sizes that it is for, of those that are shown, by index.
    pub sizes: Vec<usize>,
    /// What is wrong with it.
    pub faults: Vec<String>,
    /// The cautions that are to be read before it, by what they are about.
    pub care: Vec<&'static str>,
}

/// Lays a page out.
#[must_use]
pub fn sheet(compiled: &Compiled, edition: &Edition) -> Sheet {
    let voice = Voice::new(&compiled.pattern, edition);
    let voices = voices_of_pieces(&voice);
    let mut layout = Layout::new(compiled, edition, (&voice, &voices));
    let instructions = layout.instructions();
    let finishing = layout.finishing();
    let mut sections = vec![layout.sizes(), layout.materials(), layout.gauge(), cautions_section(compiled)];
    let mut working = vec![layout.notes(&instructions)];
    working.extend([instructions, finishing]);
    let stitches = layout.special_stitches(sections.iter().chain(&working));
    if edition.telling == Telling::Whole {
        sections.push(layout.abbreviations(sections.iter().chain([&stitches]).chain(&working)));
    }
    sections.push(stitches);
    sections.extend(working);
    sections.push(corrections_section(compiled));
    sections.retain(|s| !s.blocks.is_empty() || !s.parts.is_empty());
    let head = &compiled.pattern.head;
    let mut sheet = Sheet {
        terms: voice.terms,
        title: if head.title.is_empty() { "Untitled pattern".to_owned() } else { head.title.clone() },
        by: head.by.clone(),
        pictures: head.pictures.clone(),
        about: head.about.clone(),
        sizes: voice.named_sizes(),
        draft: layout.draft(),
        facts: layout.facts(),
        sections,
    };
    if edition.words == Wording::Aloud {
        aloud::read_out(&voice, &mut sheet);
    }
    sheet
}

/// For each piece the sizes of those shown that it is made in.
fn voices_of_pieces<'a>(voice: &Voice<'a>) -> Vec<Voice<'a>> {
    let of = |piece: &Piece| {
        let sizes: Vec<usize> = voice.sizes.iter().copied().filter(|size| piece.is_made_in(*size)).collect();
        voice.for_sizes(&sizes)
    };
    voice.pattern.pieces.iter().map(of).collect()
}

/// What is needed while a page is laid out.
struct Layout<'a> {
    compiled: &'a Compiled,
    edition: &'a Edition,
    voice: &'a Voice<'a>,
    /// For each piece that of the sizes in which it is made.
    voices: &'a [Voice<'a>],
    shapes: Shapes<'a>,
    /// Pieces that another one is worked onto.
    worked_onto: BTreeSet<usize>,
    /// Faults that have no line yet, with the number of those that have.
    faults: Vec<(Span, &'a Diagnostic)>,
    placed: usize,
    /// Cautions that no step has named yet.
    cautions: Vec<Caution>,
}

impl<'a> Layout<'a> {
    fn new(compiled: &'a Compiled, edition: &'a Edition, (voice, voices): (&'a Voice<'a>, &'a [Voice<'a>])) -> Self {
        let errors = compiled.findings.iter().filter(|f| f.severity == Severity::Error);
        let faults = errors.flat_map(|error| error.places().map(move |place| (place, error))).collect();
        let shapes = Shapes::of(&compiled.pattern, &compiled.fabric);
        let mut worked_onto = BTreeSet::new();
        for piece in &compiled.pattern.pieces {
            piece.start.each_edge(&mut |edge| worked_onto.extend(edge.of_piece()));
        }
        let cautions = cautions(&compiled.pattern);
        Self { compiled, edition, voice, voices, shapes, worked_onto, faults, placed: 0, cautions }
    }

    /// Takes the cautions about a danger that comes with the words of a step, each at the first one.
    fn care(&mut self, step: &str) -> Vec<&'static str> {
        let (here, later) =
            std::mem::take(&mut self.cautions).into_iter().partition(|c: &Caution| c.is_brought_by(step));
        self.cautions = later;
        here.into_iter().map(|caution| caution.about).collect()
    }

    /// Takes the faults that stand in a stretch of the text.
    fn faults_in(&mut self, span: Span) -> Vec<String> {
        let inside = |(place, _): &&(Span, &Diagnostic)| span.start <= place.start && place.end <= span.end;
        let (here, elsewhere) = self.faults.iter().partition::<Vec<_>, _>(|f| inside(f));
        self.faults = elsewhere;
        self.placed += here.len();
        match self.edition.faults {
            Faults::Mark => here.into_iter().map(|(_, fault)| in_words(fault)).collect(),
            Faults::Hide => Vec::new(),
        }
    }

    fn draft(&self) -> Option<Draft> {
        let count = self.faults.len() + self.placed;
        if count == 0 {
            return None;
        }
        let faults = crate::words::count(count, "fault");
        let notice = format!("This pattern is a draft: it has {faults}. Don’t work from it until they are put right.");
        let notice = if count == 1 { notice.replace("they are", "it is") } else { notice };
        let faults = match self.edition.faults {
            Faults::Mark => self.faults.iter().map(|(_, fault)| in_words(fault)).collect(),
            Faults::Hide => Vec::new(),
        };
        Some(Draft { notice: Phrase::of(notice), faults })
    }

    fn facts(&self) -> Vec<Fact> {
        let head = &self.compiled.pattern.head;
        let mut facts = Vec::new();
        let mut fact = |label: &str, text: Phrase| facts.push(Fact { label: Phrase::of(label), text, foreign: None });
        if let Some(skill) = &head.skill {
            fact("Level", Phrase::quoted(wording::phrase::capital(skill)));
        }
        let sizes = &self.compiled.pattern.sizes;
        if let [size] = self.voice.sizes.as_slice()
            && sizes.len() > 1
        {
            fact("Size", Phrase::quoted(sizes.get(*size).map_or("", String::as_str)));
        }
        if let Some(audience) = head.audience {
            fact("For", Phrase::of(head::audience(audience)));
        }
        fact("Stitch names", Phrase::of(notes::terms(self.voice.terms)));
        if let Some(version) = &head.version {
            fact("Version", Phrase::quoted(version));
        }
        facts
    }

    fn sizes(&self) -> Section {
        let pattern = &self.compiled.pattern;
        let fits = pattern.head.fits.iter().map(|fits| head::fits(self.voice, fits));
        let finished = pattern.head.finished.iter().map(|finished| head::finished(self.voice, finished));
        let measures: Vec<head::Measure> = fits.chain(head::by_table(self.voice)).chain(finished).collect();
        let names = self.voice.sizes.iter().filter_map(|s| pattern.sizes.get(*s)).filter(|name| !name.is_empty());
        let names: Vec<Phrase> = names.map(Phrase::quoted).collect();
        let (heading, mut block) = match (names.is_empty(), measures.is_empty()) {
            (true, true) => ("Sizes", Vec::new()),
            (true, false) => {
                ("Measurements", list_block(measures.iter().map(|m| m.sentence(self.voice.terms)).collect()))
            }
            (false, true) => ("Sizes", list_block(names)),
            (false, false) => {
                let table = by_size(self.voice, names, &measures);
                ("Sizes and measurements", vec![Block::Table(table)])
            }
        };
        block.extend(head::fitting(self.voice).into_iter().map(Block::Sentence));
        section("sizes", heading, block)
    }

    fn materials(&self) -> Section {
        let head = &self.compiled.pattern.head;
        let estimate = crate::yarn::estimate(&self.compiled.pattern, &self.compiled.fabric);
        let estimate = estimate.filter(|_| !head.yarns.is_empty());
        let counted =
            |at| estimate.as_ref().is_some_and(|estimate| wording::amounts::counts_balls(self.voice, estimate, at));
        let yarns = head.yarns.iter().enumerate();
        let mut list: Vec<Phrase> = yarns.map(|(at, yarn)| head::yarn(self.voice, yarn, counted(at))).collect();
        list.extend(head.hooks.iter().map(|hook| head::hook(self.voice, hook)));
        list.extend(head.notions.iter().map(|notion| Phrase::quoted(wording::phrase::capital(notion))));
        let mut blocks = list_block(list);
        blocks.extend(estimate.and_then(|estimate| self.amounts(&estimate)).into_iter().flatten());
        section("materials", "Materials", blocks)
    }

    /// How much yarn each size takes. A pattern without a yarn line leaves the choice to the maker.
    fn amounts(&self, estimate: &crate::yarn::Estimate) -> Option<[Block; 2]> {
        let pattern = &self.compiled.pattern;
        let rows = wording::amounts::rows(self.voice, estimate);
        let head = std::iter::once(Phrase::of(if pattern.sizes.len() > 1 { "Size" } else { "Yarn" }));
        let head = head.chain(wording::amounts::names(self.voice, estimate)).collect();
        let table = Table { name: "Yarn by size".to_owned(), head, sizes: table_sizes(self.voice), rows };
        Some([Block::Table(table), Block::Sentence(wording::amounts::basis(self.voice, estimate)?)])
    }

    fn gauge(&self) -> Section {
        let gauges = self.compiled.pattern.head.gauges.iter();
        let list = gauges.map(|gauge| head::gauge(self.voice, gauge)).collect();
        section("gauge", head::gauge_heading(self.voice.terms), list_block(list))
    }

    /// The designer's notes, then those that the page makes itself.
    fn notes(&self, instructions: &Section) -> Section {
        let pattern = &self.compiled.pattern;
        let mut own: Vec<Phrase> = notes::sizes(self.voice).into_iter().collect();
        let aloud = self.voice.words == Wording::Aloud;
        if !aloud && phrases(instructions).iter().any(|p| p.bits().into_iter().any(is_for_some)) {
            own.push(notes::some_sizes());
        }
        own.extend((self.edition.hand == Hand::Left).then(notes::left_hand));
        own.extend(notes::own_words(self.voice));
        own.extend(notes::counts(self.voice));
        own.extend(notes::changes(self.voice));
        own.extend(notes::width(self.voice, &self.compiled.fabric));
        own.extend(notes::rows_below(self.voice));
        own.extend(notes::surface(self.voice));
        if let Some(first) = self.told(0).filter(|_| self.worked_alike()) {
            own.extend(start::worked(first));
        }
        let mut blocks = list_block(own);
        blocks.extend(pattern.head.notes.iter().map(|note| Block::Words(Prose::of(self.voice, note, &[]))));
        section("notes", "Notes", blocks)
    }

    fn instructions(&mut self) -> Section {
        let pattern = &self.compiled.pattern;
        let alike = self.worked_alike();
        let parts: Vec<Section> = (0..pattern.pieces.len()).filter_map(|index| self.piece(index, alike)).collect();
        let mut instructions = section("instructions", "Instructions", Vec::new());
        // A single piece without a name needs no heading of its own.
        match <[Section; 1]>::try_from(parts) {
            Ok([part]) if part.heading.plain().is_empty() => instructions.blocks = part.blocks,
            Ok([part]) => instructions.parts = vec![part],
            Err(parts) => instructions.parts = parts,
        }
        instructions
    }

    /// A piece as it is told; nothing where it is made in none of the sizes that are shown.
    fn told(&self, index: usize) -> Option<Told<'a>> {
        let voice = self.voices.get(index).filter(|voice| !voice.sizes.is_empty())?;
        let piece = self.compiled.pattern.pieces.get(index)?;
        let pieces = &self.compiled.fabric.pieces;
        Some(Told { voice, piece, fabric: pieces.get(index), pieces, side: None, row: None })
    }

    /// Whether all pieces are worked the same way, so that it need be said only once.
    fn worked_alike(&self) -> bool {
        let mut worked =
            (0..self.compiled.pattern.pieces.len()).filter_map(|index| self.told(index)).map(start::worked);
        worked.next().is_none_or(|first| worked.all(|other| other == first))
    }

    /// One piece; how it is worked is said in it unless all are worked alike.
    fn piece(&mut self, index: usize, alike: bool) -> Option<Section> {
        let told = self.told(index)?;
        let (voice, piece) = (told.voice, told.piece);
        let mut intro: Vec<Phrase> = start::for_sizes(self.voice, voice).into_iter().collect();
        intro.extend(start::copies(piece));
        intro.extend(start::mirror(voice, piece));
        if !alike {
            intro.extend(start::worked(told));
        }
        intro.extend(start::own_turning_chains(told));
        intro.extend(stripes::stripe(told));
        let mut blocks: Vec<Block> = Vec::new();
        if !intro.is_empty() {
            blocks.push(Block::Sentence(Phrase::list(intro, " ")));
        }
        blocks.extend(list_block(wording::grid_notes(told, self.edition.hand)));
        blocks.extend(self.outlines(index));
        blocks.extend(self.charts(told));
        let mut entries: Vec<Entry> = self.start(told, index).into_iter().collect();
        let end = self.finishing_from(index);
        entries.extend((0..end).flat_map(|item| self.entries(told, index, item)));
        entries.extend(self.stays_on_the_hook(index));
        if !entries.is_empty() {
            blocks.push(Block::Lines(entries));
        }
        if super::charts::are_shown(self.edition) {
            blocks.push(Block::Charts(index));
        }
        blocks.extend(list_block(wording::layout::layout(told)));
        Some(Section {
            id: format!("piece-{}", index + 1),
            heading: Phrase::quoted(&piece.name),
            blocks,
            parts: Vec::new(),
            copies: piece.copies.min(MOST_COPIES),
            sizes: voice.sizes.clone(),
        })
    }

    /// The outline of a piece with the measurements of all sizes, and that of each size by itself for when one is picked.
    fn outlines(&self, index: usize) -> Vec<Block> {
        if self.edition.telling == Telling::Brief {
            return Vec::new();
        }
        let drawing = |sizes: &[usize]| self.shapes.drawing(index, sizes, self.voice.terms);
        let Some(all) = drawing(&self.voice.sizes) else { return Vec::new() };
        let each = if self.voice.sizes.len() > 1 { self.voice.sizes.as_slice() } else { &[] };
        let each = each.iter().filter_map(|&size| Some((size, drawing(&[size])?))).collect();
        vec![Block::Outline(all, each)]
    }

    /// The charts of the grids that a piece is worked by.
    fn charts(&self, told: Told<'a>) -> Vec<Block> {
        let left_handed = self.edition.hand == Hand::Left;
        let mirrored = told.piece.mirror_of.is_some();
        let grids = wording::grid_sides(told).into_iter();
        let drawn = grids.filter_map(|(grid, facing)| {
            crate::chart::grid(
                &self.compiled.pattern,
                grid,
                &crate::chart::Seen { facing, left_handed, mirrored, terms: self.voice.terms },
            )
        });
        drawn.map(Block::Drawing).collect()
    }

    /// Where a piece begins, with the faults of its own line.
    fn start(&mut self, told: Told<'a>, index: usize) -> Option<Entry> {
        let mut faults = self.faults_in(told.piece.span);
        if told.piece.start_span != told.piece.span {
            faults.extend(self.faults_in(told.piece.start_span));
        }
        let begun = start::start(told);
        if begun.is_none() && faults.is_empty() {
            return None;
        }
        let sentence = begun.unwrap_or_default();
        let id = format!("p{}-start", index + 1);
        let (course, sizes) = (Course::One, told.voice.sizes.clone());
        Some(Entry::Line(Line { id, label: None, sentence, count: None, course, sizes, faults, care: Vec::new() }))
    }

    /// That the yarn is not cut at the end of a piece, where the next one goes on with it.
    fn stays_on_the_hook(&self, index: usize) -> Option<Entry> {
        let sentence = start::stays_on_the_hook(self.told(index.checked_add(1)?)?, index)?;
        let (id, sizes) = (format!("p{}-end", index + 1), self.voice.sizes.clone());
        let (faults, care) = (Vec::new(), Vec::new());
        Some(Entry::Line(Line { id, label: None, sentence, count: None, course: Course::One, sizes, faults, care }))
    }

    /// A line of a piece, or its rows one by one on a page that is read out.
    fn entries(&mut self, told: Told<'a>, piece: usize, index: usize) -> Vec<Entry> {
        if let Some(apart) = self.told_apart(told, piece, index) {
            return apart;
        }
        let Some(entry) = self.entry(told, piece, index) else { return Vec::new() };
        let Entry::Line(line) = entry else { return vec![entry] };
        let rows = match told.piece.items.get(index) {
            Some(item) if told.voice.words == Wording::Aloud || told_one_by_one(told, index, item) => {
                written_out(told, index, item)
            }
            Some(_) | None => Vec::new(),
        };
        if rows.is_empty() {
            return vec![Entry::Line(line)];
        }
        let one = |(at, WrittenRow { row, place, source, side, apart }): (usize, WrittenRow)| {
            let voice = if apart { &told.voice.for_sizes(&row.sizes) } else { told.voice };
            let told = Told { voice, side, row: Some((index, place)), ..told };
            let sentence = told.piece.items.get(source).zip(told.line(source));
            let sentence = sentence.map(|(item, work)| wording::sentence(told, source, item, work));
            Entry::Line(Line {
                id: format!("{}-{}", line.id, at + 1),
                label: Some(row.label),
                sentence: sentence.unwrap_or_else(|| line.sentence.clone()),
                count: row.count,
                course: Course::One,
                sizes: row.sizes,
                faults: if at == 0 { line.faults.clone() } else { Vec::new() },
                care: Vec::new(),
            })
        };
        rows.into_iter().enumerate().map(one).collect()
    }

    /// A line whose stitches are spread so unlike in some sizes that no sentence has the numbers of all: one for each of those.
    fn told_apart(&mut self, told: Told<'a>, piece: usize, index: usize) -> Option<Vec<Entry>> {
        if !wording::spreads_once(told, index) {
            return None;
        }
        let item = told.piece.items.get(index)?;
        let sizes: Vec<usize> =
            told.voice.sizes.iter().filter(|size| told.is_for(index, item, **size)).copied().collect();
        let apart = wording::told_apart(told, (index, 0), &sizes);
        if apart.len() < 2 {
            return None;
        }
        let one = |(at, sizes): (usize, Vec<usize>)| {
            let voice = &self.voice.for_sizes(&sizes);
            let mut entry = self.entry(Told { voice, ..told }, piece, index)?;
            if let Entry::Line(line) = &mut entry {
                let concerned: Vec<bool> =
                    (0..self.compiled.pattern.sizes.len()).map(|size| sizes.contains(&size)).collect();
                line.id = format!("{}-{}", line.id, at + 1);
                line.sentence = label::only(self.voice, &concerned).then(std::mem::take(&mut line.sentence));
            }
            Some(entry)
        };
        Some(apart.into_iter().enumerate().filter_map(one).collect())
    }

    /// A line of a piece; nothing when it is for none of the sizes that are shown.
    fn entry(&mut self, told: Told<'_>, piece: usize, index: usize) -> Option<Entry> {
        let item = told.piece.items.get(index)?;
        let is_for = |size: &&usize| told.is_for(index, item, **size);
        let sizes: Vec<usize> = told.voice.sizes.iter().filter(is_for).copied().collect();
        if sizes.is_empty() || told.is_said_before(index) {
            return None;
        }
        let sentence = match &item.kind {
            ItemKind::Words(words) => {
                let only = label::only(told.voice, &item.sizes);
                let prose = Prose::of(told.voice, words, &item.sizes);
                let care = self.care(&words.text);
                return Some(Entry::Words(Words { only, prose, sizes, care }));
            }
            ItemKind::Work(line) => wording::sentence(told, index, item, line),
            ItemKind::Again(again) => wording::again(told, index, item, again),
            ItemKind::FastenOff
            | ItemKind::Gather(_)
            | ItemKind::Seam(..)
            | ItemKind::SeamEdges(_)
            | ItemKind::Sew { .. }
            | ItemKind::Surface(_)
            | ItemKind::Place(_)
            | ItemKind::ChangeTo(_)
            | ItemKind::Now(_)
            | ItemKind::Using(_)
            | ItemKind::Trim(_) => wording::ending(told, index, item)?,
        };
        let care = match &item.kind {
            ItemKind::Place(_) | ItemKind::Trim(_) => self.care(&sentence.plain()),
            _ => Vec::new(),
        };
        Some(Entry::Line(Line {
            care,
            id: format!("p{}-l{}", piece + 1, index + 1),
            label: label::label(told, index, item),
            sentence,
            count: label::count(told, index, item),
            course: course(told, index, item),
            sizes,
            faults: self.faults_in(item.span),
        }))
    }

    /// Seams and sewing from the ends of the pieces, each piece under its name.
    /// The item from which a piece's lines belong to the finishing. A piece that another one is worked onto is finished
    /// first, where it stands.
    fn finishing_from(&self, index: usize) -> usize {
        let Some(piece) = self.compiled.pattern.pieces.get(index) else { return 0 };
        let all = piece.items.len();
        if self.worked_onto.contains(&index) {
            return all;
        }
        let is_work = |kind: &ItemKind| matches!(kind, ItemKind::Work(_) | ItemKind::Again(_));
        let worked = piece.items.iter().rposition(|item| is_work(&item.kind)).map_or(0, |last| last + 1);
        let ends = piece.items.iter().skip(worked).position(|item| wording::is_finishing(&item.kind));
        ends.map_or(all, |at| worked + at)
    }

    fn finishing(&mut self) -> Section {
        let mut entries = Vec::new();
        for index in 0..self.compiled.pattern.pieces.len() {
            let Some(told) = self.told(index) else { continue };
            let from = self.finishing_from(index);
            let kind = |item: usize| told.piece.items.get(item).map(|item| &item.kind);
            // What is sewn to what names both pieces itself, and a cord belongs to none.
            let names_itself = |item: &usize| matches!(kind(*item), Some(ItemKind::Sew { .. })) || is_cord(kind(*item));
            let named = (from..told.piece.items.len()).find(|item| !names_itself(item));
            for item in from..told.piece.items.len() {
                let mut entry = self.entry(told, index, item);
                if let (Some(Entry::Line(line)), Some(Entry::Line(before))) = (&entry, entries.last_mut())
                    && is_cord(kind(item))
                    && line.sentence == before.sentence
                {
                    before.sentence = std::mem::take(&mut before.sentence).say(" Make 2.");
                    continue;
                }
                if let Some(Entry::Line(line)) = &mut entry
                    && Some(item) == named
                    && !told.piece.name.is_empty()
                    // A single piece needs no name to be told by.
                    && self.compiled.pattern.pieces.len() > 1
                {
                    line.label = Some(Phrase::quoted(&told.piece.name));
                }
                entries.extend(entry);
            }
        }
        let block = (!entries.is_empty()).then_some(Block::Lines(entries));
        section("finishing", "Finishing", block.into_iter().collect())
    }

    fn special_stitches<'s>(&self, sections: impl Iterator<Item = &'s Section>) -> Section {
        let used: BTreeSet<StitchId> =
            sections.flat_map(phrases).flat_map(|p| stitches(p).collect::<Vec<_>>()).collect();
        let mut specials = special(self.voice, &used);
        // Whoever knows how still doesn't know what is the designer's own.
        let is_own = |id| self.compiled.pattern.stitches.get(id).is_some_and(|stitch| stitch.own);
        specials.retain(|special| self.edition.telling == Telling::Whole || is_own(special.stitch));
        if self.edition.hand == Hand::Left {
            for special in &mut specials {
                special.how = wording::mirrored(&special.how);
            }
        }
        let block = (!specials.is_empty()).then_some(Block::Stitches(specials));
        section("stitches", "Special stitches", block.into_iter().collect())
    }

    /// Every abbreviation that stands on the page, in the order of the alphabet; on a page in full words only the names
    /// in another language, where one is asked for.
    fn abbreviations<'s>(&self, sections: impl Iterator<Item = &'s Section>) -> Section {
        let bits = sections.flat_map(phrases).flat_map(Phrase::bits);
        let names: BTreeSet<Name> = bits.filter_map(|bit| self.name(bit)).collect();
        let in_full = self.edition.words != Wording::Abbreviated;
        let mut facts: Vec<Fact> = names.into_iter().map(|name| name.told(self.edition.beside)).collect();
        if in_full {
            facts.retain(|fact| fact.foreign.is_some());
            for fact in &mut facts {
                fact.label = std::mem::take(&mut fact.text);
            }
        }
        if facts.is_empty() {
            return section("abbreviations", "", Vec::new());
        }
        let mut blocks: Vec<Block> =
            self.edition.beside.map(|language| Block::Sentence(notes::beside(language))).into_iter().collect();
        blocks.push(Block::Names(facts));
        let what = if in_full { "Names of stitches" } else { "Abbreviations" };
        section("abbreviations", &format!("{what} ({})", notes::terms(self.voice.terms)), blocks)
    }

    /// The names of what has an abbreviation.
    fn name(&self, bit: &Bit) -> Option<Name> {
        let (short, full, us) = match bit {
            Bit::Term(term, _) => {
                let (short, full) = term.names();
                (short.to_owned(), full.to_owned(), Some(short.to_owned()))
            }
            Bit::Stitch(id, _) => {
                let stitch = self.voice.pattern.stitches.get(*id)?;
                let names = stitch.names(self.voice.terms);
                // A stitch of the designer's own is in no list, whatever it is called.
                (names.short.clone(), names.full.clone(), (!stitch.own).then(|| stitch.us.short.clone()))
            }
            Bit::Words(_) | Bit::Quoted(_) | Bit::Numbers(_) | Bit::Tied(_) | Bit::Several(_) => return None,
        };
        (short != full).then(|| Name { key: short.to_lowercase(), short, full, us })
    }
}

/// What something is called, ordered by its abbreviation.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Name {
    key: String,
    short: String,
    full: String,
    /// The abbreviation in US terms of one of the trade's.
    us: Option<String>,
}

impl Name {
    fn told(self, beside: Option<Language>) -> Fact {
        let foreign = beside.zip(self.us).and_then(|(language, short)| language.word(&short));
        Fact { label: Phrase::quoted(self.short), text: Phrase::quoted(self.full), foreign }
    }
}

/// A fault in a sentence: what is wrong, then the facts beside it, such as the sizes concerned.
fn in_words(fault: &Diagnostic) -> String {
    let parts: Vec<&str> = std::iter::once(&fault.message).chain(&fault.notes).map(String::as_str).collect();
    format!("{}.", wording::phrase::capital(&parts.join("; ")))
}

/// Measurements, with a row for each size, so that no table is wider than a sheet however many sizes there are.
fn by_size(voice: &Voice<'_>, names: Vec<Phrase>, measures: &[head::Measure]) -> Table {
    let cells: Vec<Vec<Phrase>> = measures.iter().map(|measure| measure.cells(voice.terms)).collect();
    let row = |(at, name)| {
        let cells = cells.iter().map(|cells| cells.get(at).cloned().unwrap_or_default());
        std::iter::once(name).chain(cells).collect()
    };
    let head = std::iter::once(Phrase::of("Size")).chain(measures.iter().map(|measure| measure.what.clone())).collect();
    let rows = names.into_iter().enumerate().map(row).collect();
    Table { name: "Measurements by size".to_owned(), head, sizes: table_sizes(voice), rows }
}

/// The sizes of a table's rows, where there are several.
fn table_sizes(voice: &Voice<'_>) -> Vec<usize> {
    if voice.sizes.len() > 1 { voice.sizes.clone() } else { Vec::new() }
}

fn is_cord(kind: Option<&ItemKind>) -> bool {
    matches!(kind, Some(ItemKind::Trim(trim)) if matches!(trim.what, TrimKind::Cord(_)))
}

fn section(id: &str, heading: &str, blocks: Vec<Block>) -> Section {
    Section { id: id.to_owned(), heading: Phrase::of(heading), blocks, parts: Vec::new(), copies: 1, sizes: Vec::new() }
}

fn list_block(list: Vec<Phrase>) -> Vec<Block> {
    if list.is_empty() { Vec::new() } else { vec![Block::List(list)] }
}

fn cautions_section(compiled: &Compiled) -> Section {
    let cautions = cautions(&compiled.pattern);
    let mut blocks = Vec::new();
    if !cautions.is_empty() {
        blocks.extend([Block::Cautions(cautions), Block::Sentence(Phrase::of(WHOM_TO_ASK))]);
    }
    blocks.extend(compiled.pattern.head.cautions.iter().map(|caution| Block::Words(Prose::plain(caution))));
    section("cautions", "Cautions", blocks)
}

/// What was wrong in earlier versions.
fn corrections_section(compiled: &Compiled) -> Section {
    let corrections = &compiled.pattern.head.corrections;
    let block = (!corrections.is_empty()).then(|| Block::Corrections(corrections.clone()));
    section("corrections", "Corrections", block.into_iter().collect())
}

/// Numbers that differ and are not there for every size.
fn is_for_some(bit: &Bit) -> bool {
    match bit {
        Bit::Numbers(numbers) => numbers.single().is_none() && numbers.each().iter().any(|n| n.text.is_none()),
        Bit::Words(_) | Bit::Quoted(_) | Bit::Term(..) | Bit::Stitch(..) | Bit::Tied(_) | Bit::Several(_) => false,
    }
}

/// Every phrase of a section.
fn phrases(section: &Section) -> Vec<&Phrase> {
    let mut all = vec![&section.heading];
    for block in &section.blocks {
        match block {
            Block::Sentence(phrase) => all.push(phrase),
            Block::List(list) => all.extend(list),
            Block::Stitches(list) => all.extend(list.iter().map(|s| &s.how)),
            Block::Table(table) => all.extend(table.head.iter().chain(table.rows.iter().flatten())),
            Block::Lines(entries) => all.extend(entries.iter().flat_map(phrases_of)),
            Block::Words(prose) => all.extend(&prose.numbers),
            Block::Names(_)
            | Block::Cautions(_)
            | Block::Drawing(_)
            | Block::Charts(_)
            | Block::Outline(..)
            | Block::Corrections(_) => {}
        }
    }
    all.extend(section.parts.iter().flat_map(phrases));
    all
}

fn phrases_of(entry: &Entry) -> Vec<&Phrase> {
    match entry {
        Entry::Line(line) => {
            let told = [Some(&line.sentence), line.label.as_ref(), line.count.as_ref()];
            told.into_iter().flatten().chain(line.course.phrases()).collect()
        }
        Entry::Words(words) => std::iter::once(&words.only).chain(&words.prose.numbers).collect(),
    }
}
