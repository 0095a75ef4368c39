//! Stitches that the page has to explain.

use std::collections::BTreeSet;

use crate::page::Wording;
use crate::pattern::model::{Kind, Place, Step, StepKind, StitchId, Terms, Where};
use crate::stitch::Stitch;

use super::names::{Amount, Voice};
use super::phrase::{Bit, Phrase, capital};
use super::teller::{Inside, Noun, Teller};

/// A stitch that is explained.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Special {
    /// The stitch.
    pub stitch: StitchId,
    /// Full name, with the abbreviation in brackets.
    pub name: Phrase,
    /// How it is worked.
    pub how: Phrase,
    /// How it is made in the designer's words, in Markdown.
    pub words: Option<String>,
}

/// Every stitch among these that has to be explained, with those that the explanations use.
#[must_use]
pub fn special(voice: &Voice<'_>, used: &BTreeSet<StitchId>) -> Vec<Special> {
    let mut told: Vec<Special> = Vec::new();
    let mut waiting: Vec<StitchId> = used.iter().rev().copied().collect();
    let mut seen = BTreeSet::new();
    while let Some(id) = waiting.pop() {
        if !seen.insert(id) {
            continue;
        }
        let Some(special) = explain(voice, id) else { continue };
        waiting.extend(stitches(&special.how));
        told.push(special);
    }
    told.sort_by_key(|special| special.stitch);
    told
}

/// The stitches that a phrase names.
pub fn stitches(phrase: &Phrase) -> impl Iterator<Item = StitchId> + '_ {
    phrase.bits().into_iter().filter_map(|bit| match bit {
        Bit::Stitch(id, _) => Some(*id),
        Bit::Words(_) | Bit::Quoted(_) | Bit::Term(..) | Bit::Numbers(_) | Bit::Tied(_) | Bit::Several(_) => None,
    })
}

fn explain(voice: &Voice<'_>, id: StitchId) -> Option<Special> {
    let stitch = voice.pattern.stitches.get(id)?;
    let names = stitch.names(voice.terms);
    let full = Phrase::quoted(capital(&names.full));
    let alone = names.full == names.short || voice.words == Wording::Aloud;
    let name = if alone { full } else { full.say(" (").then(Phrase::quoted(&names.short)).say(")") };
    let steps = match voice.definition(id) {
        Some(definition) => from_steps(voice, &definition.steps, definition.placeable),
        None if stitch.own => worked_over(voice, stitch),
        None => Phrase::default(),
    };
    match &stitch.how {
        Some(words) if stitch.own => Some(Special { stitch: id, name, how: steps, words: Some(words.clone()) }),
        Some(how) => Some(Special { stitch: id, name, how: in_words(voice, how), words: None }),
        None if steps.is_empty() => None,
        None => Some(Special { stitch: id, name, how: steps, words: None }),
    }
}

/// How many stitches a designer's stitch goes over, and as how many it counts, where it is not one for one.
fn worked_over(voice: &Voice<'_>, stitch: &Stitch) -> Phrase {
    let makes = u32::try_from(stitch.makes.len()).unwrap_or(u32::MAX);
    if (stitch.takes, makes) == (1, 1) {
        return Phrase::default();
    }
    let number = |number: u32| if number == 0 { "no".to_owned() } else { number.to_string() };
    let stitches = |number: u32| voice.kind(Kind::AnyStitch, if number == 1 { Amount::One } else { Amount::Many });
    let over = Phrase::of(format!("Worked over {} ", number(stitch.takes))).then(stitches(stitch.takes));
    over.say(&format!(", counts as {} ", number(makes))).then(stitches(makes)).say(".")
}

/// The steps of a designer's stitch. One that goes into one place is told without it: the line says where.
fn from_steps(voice: &Voice<'_>, steps: &[Step], placeable: bool) -> Phrase {
    let mut teller = Teller::new(voice, &[], false, Noun::Stitch);
    teller.first = "next";
    let goes_in_one = |step: &Step| matches!(step.kind, StepKind::Group(_, Where::In(Place::Next)) | StepKind::Work(_));
    if placeable && steps.iter().all(goes_in_one) {
        teller.inside = Inside::OnePlace;
    }
    let told = Phrase::list(teller.steps(steps), ", ").capitalised();
    if teller.inside == Inside::Line {
        return told.say(".");
    }
    let (stitch, space) =
        (voice.kind(Kind::AnyStitch, Amount::One), Phrase::default().with(voice.term(super::Term::Space)));
    told.say(" in the ").then(stitch).say(" or ").then(space).say(" that is named.")
}

/// The words of the stitch table, with the names of stitches in their place.
fn in_words(voice: &Voice<'_>, how: &str) -> Phrase {
    let mut parts = how.split('{');
    let mut told = Phrase::of(parts.next().unwrap_or_default());
    for part in parts {
        let (name, rest) = part.split_once('}').unwrap_or((part, ""));
        told = match voice.pattern.stitches.find(name, Terms::Us) {
            Some(id) => told.with(voice.stitch(id)),
            None => told.say(name),
        };
        told = told.say(rest);
    }
    told
}
