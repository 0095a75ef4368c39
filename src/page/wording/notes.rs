//! Notes that the page makes by itself.

use crate::fabric::Fabric;
use crate::measure::width::multiple;
use crate::page::{Language, Wording};
use crate::pattern::model::{ItemKind, Kind, Pattern, Piece, Step, StepKind, Terms, Way};

use super::grids::has_colours;
use super::label::line_word;
use super::names::{Amount, Term, Voice};
use super::phrase::Phrase;
use crate::pattern::model::each_step;

/// How the numbers of several sizes are shown; nothing where one size is.
#[must_use]
pub fn sizes(voice: &Voice<'_>) -> Option<Phrase> {
    let names = voice.sizes.iter().filter_map(|size| voice.pattern.sizes.get(*size));
    let mut names: Vec<Phrase> = names.map(Phrase::quoted).collect();
    if names.len() < 2 {
        return None;
    }
    if voice.words == Wording::Aloud {
        return Some(Phrase::of("Where a number differs by size, each is followed by the name of its size."));
    }
    let first = names.remove(0);
    let told =
        Phrase::of("Numbers are given for size ").then(first).say(", then in brackets for ").then(Phrase::and(names));
    Some(told.say(". Where there is one number, it is for every size."))
}

/// How the numbers of a line that is not for every size are read.
#[must_use]
pub fn some_sizes() -> Phrase {
    Phrase::of(
        "Where a line is for some of the sizes only, it names them, and its numbers are for these, in the same order.",
    )
}

/// What is different for a maker who holds the hook in her left hand. The sentences of the page name no direction, so
/// only what the designer says may have to be turned round. Common practice, no source.
#[must_use]
pub fn left_hand() -> Phrase {
    Phrase::of(
        "For the left hand: work every line as it stands, from left to right. Directions that the page names by itself, and its \
         drawings and charts, are turned round for you already. Each piece comes out as the mirror image of a right-handed \
         maker’s, so where the designer’s own words, names or pictures say left, read right, and where they say right, read \
         left; a right side and a wrong side stay what they are.",
    )
}

/// Where the names in another language come from, and what they are for.
#[must_use]
pub fn beside(language: Language) -> Phrase {
    let name = language.name();
    Phrase::of(format!(
        "{name} names stand behind the English ones where two published lists agree on them. Abbreviations differ from \
         list to list, so go by the word. The instructions are in English."
    ))
}

/// That chains are counted, in a pattern that counts them.
#[must_use]
pub fn counts(voice: &Voice<'_>) -> Option<Phrase> {
    let stitch = voice.kind(Kind::AnyStitch, Amount::One);
    let chain = Phrase::default().with(voice.term(Term::Chain));
    let told = Phrase::of("In the counts each ").then(chain).say(" counts as a ").then(stitch).say(".");
    voice.pattern.counts_chains.then_some(told)
}

/// What a stitch rows below is, in a pattern that has one.
#[must_use]
pub fn rows_below(voice: &Voice<'_>) -> Option<Phrase> {
    let mut rounds: Vec<bool> = Vec::new();
    let mut see = |steps: &[Step], round: bool| {
        each_step(steps, &mut |step| {
            if matches!(&step.kind, StepKind::Work(work) if work.below > 0) {
                rounds.push(round);
            }
        });
    };
    for piece in &voice.pattern.pieces {
        for item in &piece.items {
            if let ItemKind::Work(line) = &item.kind {
                see(&line.steps, line.round);
            }
        }
    }
    voice.pattern.definitions.iter().for_each(|definition| see(&definition.steps, false));
    let round = *rounds.first()? && rounds.iter().all(|round| *round);
    let line = |amount| line_word(voice, round, amount);
    let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
    let told = line(Amount::Many).capitalised().say(" below: the ").then(line(Amount::One)).say(" just worked is 1 ");
    let told = told.then(line(Amount::One)).say(" below, the one before it is 2. Put the hook in the ").then(stitch());
    let told = told.say(" there, draw the loop up to the height of the ").then(line(Amount::One));
    Some(told.say(" you are working, and leave the ").then(stitch()).say(" above it unworked."))
}

/// How a line is worked on the surface of the work, in a pattern that has one. Common practice, no source.
#[must_use]
pub fn surface(voice: &Voice<'_>) -> Option<Phrase> {
    let mut items = voice.pattern.pieces.iter().flat_map(|piece| &piece.items);
    let stitch = items.find_map(|item| match &item.kind {
        ItemKind::Surface(surface) => Some(surface.stitch),
        _ => None,
    })?;
    let one = || voice.kind(Kind::AnyStitch, Amount::One);
    let told = Phrase::of("Surface ")
        .with(voice.stitch(stitch))
        .say(": put the hook through the work from the front at the first ");
    let told = told
        .then(one())
        .say(" and draw up a loop of the yarn that is held behind. For each one put the hook through at the next ");
    Some(told.then(one()).say(", and draw the yarn to the front and through the loop on the hook; work loosely."))
}

/// That the designer's words keep the stitch names of the file, on a page in the other terms.
#[must_use]
pub fn own_words(voice: &Voice<'_>) -> Option<Phrase> {
    let pattern = voice.pattern;
    let mut items = pattern.pieces.iter().flat_map(|piece| &piece.items);
    let has_words = !pattern.head.notes.is_empty()
        || pattern.head.about.is_some()
        || pattern.stitches.iter().any(|(_, stitch)| stitch.own && stitch.how.is_some())
        || items.any(|item| matches!(item.kind, ItemKind::Words(_)));
    (has_words && voice.terms != pattern.terms && names_a_stitch(pattern)).then(|| {
        let told = Phrase::of("The designer’s own words are given as written: stitch names in them are in ");
        told.say(terms(pattern.terms)).say(".")
    })
}

/// Whether the designer's words name a stitch that is called otherwise in the other terms.
fn names_a_stitch(pattern: &Pattern) -> bool {
    let head = &pattern.head;
    let mut texts: Vec<&str> = head.about.as_deref().into_iter().collect();
    texts.extend(head.notes.iter().map(|note| note.text.as_str()));
    texts.extend(
        pattern.stitches.iter().filter(|(_, stitch)| stitch.own).filter_map(|(_, stitch)| stitch.how.as_deref()),
    );
    for item in pattern.pieces.iter().flat_map(|piece| &piece.items) {
        if let ItemKind::Words(words) = &item.kind {
            texts.push(&words.text);
        }
    }
    let texts = texts.join(" \u{b6} ").to_lowercase();
    let words: Vec<&str> = texts.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let stands = |name: &str| {
        let name = name.to_lowercase();
        let wanted: Vec<&str> = name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        !wanted.is_empty() && words.windows(wanted.len()).any(|run| run == wanted)
    };
    let differs =
        pattern.stitches.iter().map(|(_, stitch)| stitch).filter(|stitch| !stitch.own && stitch.us != stitch.uk);
    differs.into_iter().any(|stitch| {
        let names = [&stitch.us, &stitch.uk];
        names.into_iter().any(|names| stands(&names.short) || stands(&names.full))
    })
}

/// How yarns are changed that a line or the stripes change, and what becomes of the one before. Grids say it themselves. Common
/// practice, no source.
#[must_use]
pub fn changes(voice: &Voice<'_>) -> Option<Phrase> {
    let (mut rounds, mut all_tunisian) = (false, true);
    let mut changes = |piece: &Piece| {
        // A line of several colours has its own rule, which is said in its piece.
        if has_colours(piece) {
            return false;
        }
        let mut found = !piece.stripe.is_empty();
        for item in &piece.items {
            match &item.kind {
                ItemKind::ChangeTo(_) => found = true,
                ItemKind::Work(line) => {
                    each_step(&line.steps, &mut |step| found |= matches!(step.kind, StepKind::ChangeTo(_)));
                }
                _ => {}
            }
        }
        all_tunisian &= !found || piece.way == Way::TunisianRows;
        rounds |= found && (0..=piece.items.len()).any(|item| piece.way_at(item) == Way::JoinedRounds);
        found
    };
    // Every piece is looked at: one in joined rounds may stand behind another.
    let found = voice.pattern.pieces.iter().filter(|piece| changes(piece)).count() > 0;
    found.then(|| {
        let stitch = || voice.kind(Kind::AnyStitch, Amount::One);
        let told = Phrase::of(voice.spelt("Colours: change yarn in the last pull-through of the "));
        let told = if all_tunisian {
            told.say("return pass of the row before")
        } else {
            told.then(stitch()).say(" before")
        };
        let told = if rounds {
            let joined = told.say(", at the beginning of a joined ").then(line_word(voice, true, Amount::One));
            joined.say(" in the joining ").with(voice.term(Term::SlipStitch))
        } else {
            told
        };
        told.say(". Carry a yarn that the piece needs again soon, loosely, up the side or the inside; cut one that it doesn’t.")
    })
}

/// `The starting ch is a multiple of 12 plus 3.`, for a single piece where that is so in all sizes; nothing where the designer speaks of
/// a multiple.
#[must_use]
pub fn width(voice: &Voice<'_>, fabric: &Fabric) -> Option<Phrase> {
    let pattern = voice.pattern;
    let [piece] = pattern.pieces.as_slice() else { return None };
    if pattern.head.notes.iter().any(|note| note.text.to_lowercase().contains("multiple")) {
        return None;
    }
    let sizes = fabric.pieces.first()?.sizes.iter().enumerate();
    let mut of_sizes = sizes.map(|(size, worked)| multiple(piece, &worked.rows, size));
    let first = of_sizes.next()??;
    let (multiple, plus) = of_sizes.all(|other| other == Some(first)).then_some(first)?;
    let told = Phrase::of("The starting ").with(voice.term(Term::Chain)).say(&format!(" is a multiple of {multiple}"));
    let told = if plus > 0 { told.say(&format!(" plus {plus}")) } else { told };
    Some(told.say("; for another width keep to that."))
}

/// Which set of stitch names the page is written in.
#[must_use]
pub fn terms(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "US terms",
        Terms::Uk => "UK terms",
    }
}
