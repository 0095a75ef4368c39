//! Questions answered by the library. Nothing of a pattern is decided here.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use ringtrue::chart;
use ringtrue::doctor::{self, Asked};
use ringtrue::intake::{self, Refused};
use ringtrue::page::{self, Album, Edition, Hand, Language, Letters, Telling, Wording};
use ringtrue::read::{Became, back};
use ringtrue::shape::{self, Shapes};
use ringtrue::starter::{self, Wishes};
use ringtrue::stitch::Terms;
use ringtrue::view::{self, OwnGauge, Places, Repairs};
use ringtrue::{Compiled, differ, fill, measure, mend, message, proof, read, readback, tally, terms, tidy, yarn};
use serde_json::{Value, json};

use super::questions::{
    EditionAsked, Form, LanguageAsked, LettersAsked, Question, StarterAsked, TermsAsked, WordsAsked,
};

/// Answers a question, both as JSON. What can't be done is said in `refused`, in words for a crocheter.
#[must_use]
pub fn answer(question: &str) -> String {
    let answered = match serde_json::from_str(question) {
        Ok(question) => given(question).unwrap_or_else(|why| json!({ "refused": why })),
        Err(error) => json!({ "refused": format!("the desk asked what its engine does not know: {error}") }),
    };
    answered.to_string()
}

fn given(question: Question) -> Result<Value, String> {
    Ok(match question {
        Question::View { text, repairs } => {
            let repairs = if repairs { Repairs::Tried } else { Repairs::Left };
            json!(view::view(&text, repairs))
        }
        Question::Next { text, at } => json!({ "next": view::next(&text, at) }),
        Question::About { text, at } => json!({ "about": view::about(&text, at) }),
        Question::Page { text, edition, form } => written(&text, &edition, form),
        Question::Papers { text, size } => papers(&text, size),
        Question::Chart { text, piece, size, left_handed } => drawn(&text, piece, size, left_handed)?,
        Question::Proof { text, name } => {
            let compiled = mend::compile_and_mend(&text);
            json!({ "proof": proof::html(&proof::proof(&compiled, &name, &text)) })
        }
        Question::Tidy { text } => tidied(&text)?,
        Question::Fill { text } => filled(&text),
        Question::InTerms { text, terms } => in_terms(&text, terms)?,
        Question::Open { bytes, words } => opened(&bytes, words)?,
        Question::Count { text, piece, row, size, mine, kind } => {
            counted(&text, Asked { piece, row, size, mine, kind: None }, kind.as_deref())?
        }
        Question::Kinds { text, piece, row, size } => {
            let kinds = tally::kinds(&ringtrue::compile(&text), piece, size, row);
            json!({ "kinds": kinds.into_iter().map(|(_, name)| name).collect::<Vec<_>>() })
        }
        Question::OwnGauge { text, stitches, rows } => {
            let told = view::by_own_gauge(&text, OwnGauge { stitches, rows });
            json!({ "told": told.ok_or("the pattern needs a gauge and a finished measurement, and yours must be one that a fabric can have")? })
        }
        Question::TakeIn { text } => taken_in(&text),
        Question::Differ { old, new } => different(&old, &new)?,
        Question::Starter(asked) => json!({ "text": started(&asked)? }),
        Question::Starters => starters(),
    })
}

/// A page is written whether or not the pattern rings true; one with errors says that it is a draft.
fn written(text: &str, asked: &EditionAsked, form: Form) -> Value {
    let compiled = mend::compile_and_mend(text);
    let edition = edition(asked);
    let page = match form {
        Form::Html => {
            let mut album = Album::default();
            album.draw(page::charts(&compiled, &edition));
            page::html_with(&compiled, &edition, &album)
        }
        Form::Markdown => page::markdown(&compiled, &edition),
        Form::Plain => page::plain(&compiled, &edition),
    };
    let proved = !compiled.has_errors() && edition.words != Wording::Aloud;
    let told = if proved { back::markdown(&compiled, &edition).told() } else { String::new() };
    json!({ "page": page, "told": told, "draft": compiled.has_errors() })
}

fn edition(asked: &EditionAsked) -> Edition {
    Edition {
        terms: asked.terms.map(names),
        size: asked.size,
        words: match asked.words {
            WordsAsked::Short => Wording::Abbreviated,
            WordsAsked::InFull => Wording::InFull,
            WordsAsked::Aloud => Wording::Aloud,
        },
        letters: match asked.letters {
            LettersAsked::Usual => Letters::Usual,
            LettersAsked::Large => Letters::Large,
            LettersAsked::Larger => Letters::Larger,
        },
        hand: if asked.left_handed { Hand::Left } else { Hand::Right },
        telling: if asked.brief { Telling::Brief } else { Telling::Whole },
        beside: asked.beside.map(|language| match language {
            LanguageAsked::German => Language::German,
            LanguageAsked::French => Language::French,
            LanguageAsked::Dutch => Language::Dutch,
            LanguageAsked::Spanish => Language::Spanish,
        }),
        ..Edition::default()
    }
}

fn names(terms: TermsAsked) -> Terms {
    match terms {
        TermsAsked::Us => Terms::Us,
        TermsAsked::Uk => Terms::Uk,
    }
}

fn papers(text: &str, size: Option<usize>) -> Value {
    let compiled = ringtrue::compile(text);
    let (pattern, fabric) = (&compiled.pattern, &compiled.fabric);
    let shapes = Shapes::of(pattern, fabric);
    let sizes: Vec<usize> = (0..pattern.sizes.len()).collect();
    let outline = |(index, piece): (usize, &ringtrue::pattern::model::Piece)| {
        let drawing = shapes.drawing(index, &sizes, pattern.terms)?;
        Some(json!({ "name": piece.name, "svg": drawing.svg }))
    };
    json!({
        "counts": tally::table(&compiled),
        "measures": measure::table::table(pattern, fabric, size),
        "yarn": yarn::table(pattern, fabric),
        "shape": shape::table(pattern, fabric),
        "outlines": pattern.pieces.iter().enumerate().filter_map(outline).collect::<Vec<_>>(),
    })
}

fn drawn(text: &str, piece: usize, size: usize, left_handed: bool) -> Result<Value, String> {
    let compiled = ringtrue::compile(text);
    let asked = chart::Asked { piece, size, rows: None, left_handed, terms: None };
    let name = compiled.pattern.pieces.get(piece).map_or("", |piece| piece.name.as_str());
    let name = if name.is_empty() { "the pattern" } else { name };
    let chart = chart::chart(&compiled.pattern, &compiled.fabric, &asked).map_err(|why| why.told(name))?;
    Ok(json!({ "svg": chart.svg, "told": chart.told }))
}

/// Laying out changes nothing of the work; what would is not given.
fn tidied(text: &str) -> Result<Value, String> {
    let tidied = tidy::tidy_what_can_be_read(text);
    if tidied.text != text && readback::otherwise(&ringtrue::compile(text), &ringtrue::compile(&tidied.text)).is_some()
    {
        return Err("the pattern was left as it is; laid out anew, a line would be worked otherwise".to_owned());
    }
    Ok(json!({ "text": tidied.text, "left": tidied.left.len() }))
}

fn filled(text: &str) -> Value {
    let filled = fill::fill(text, &ringtrue::compile(text));
    let stated = filled.fix.as_ref().map_or(0, |fix| fix.edits.len());
    json!({ "text": filled.fix.map_or_else(|| text.to_owned(), |fix| fix.apply(text)), "stated": stated })
}

fn in_terms(text: &str, asked: TermsAsked) -> Result<Value, String> {
    let new = terms::in_terms(text, names(asked)).and_then(|text| tidy::tidy(&text));
    let new = new.map_err(|_| "a pattern is put in other stitch names when every line of it can be read".to_owned())?;
    // It takes the place of the pattern, so it has to be the same work.
    if readback::otherwise(&ringtrue::compile(text), &ringtrue::compile(&new)).is_some() {
        return Err("the pattern was left as it is; in other stitch names, a line would be worked otherwise".to_owned());
    }
    Ok(json!({ "text": new }))
}

fn opened(bytes: &str, words: bool) -> Result<Value, String> {
    let bytes = STANDARD.decode(bytes).map_err(|_| "can't be opened".to_owned())?;
    let taken = if words { intake::words(&bytes) } else { intake::text(&bytes) };
    let taken = taken.map_err(|refused| match refused {
        Refused::Empty => "is empty".to_owned(),
        other => other.to_string(),
    })?;
    Ok(json!({ "text": taken.text }))
}

fn counted(text: &str, mut asked: Asked, kind: Option<&str>) -> Result<Value, String> {
    let compiled = ringtrue::compile(text);
    if let Some(kind) = kind {
        let all = tally::kinds(&compiled, asked.piece, asked.size, asked.row);
        let named =
            all.iter().find(|(_, name)| name == kind).ok_or_else(|| format!("there is no {kind} in that row"))?;
        asked.kind = Some(named.0);
    }
    let likely = doctor::ask(&compiled, &asked).map_err(|why| why.told(&asked))?;
    Ok(json!({ "likely": likely }))
}

/// What could not be read is told with its place, so that it is found in its own words.
fn taken_in(text: &str) -> Value {
    let reading = read::read(text);
    let places = Places::new(text);
    let left = reading.instructions.iter().filter_map(|one| match &one.became {
        Became::Work => None,
        Became::Remark(from) => Some(json!({
            "words": one.words,
            "not_read": from,
            "line": places.line(one.span.start),
            "from": places.utf16(one.span.start),
            "to": places.utf16(one.span.end),
        })),
    });
    let left: Vec<Value> = left.collect();
    let told = if reading.instructions.is_empty() { reading.told(text) } else { reading.told_in_short() };
    json!({
        "text": reading.notation,
        "told": told,
        "chosen": reading.chosen,
        "left": left,
        "read": reading.read(),
        "of": reading.instructions.len(),
    })
}

fn different(old: &str, new: &str) -> Result<Value, String> {
    let whole = |text: &str, which: &str| -> Result<Compiled, String> {
        let compiled = ringtrue::compile(text);
        let summary = message::summary(&compiled.findings, which);
        if compiled.has_errors() { Err(summary.unwrap_or_default()) } else { Ok(compiled) }
    };
    let differences = differ::differ(&whole(old, "the earlier version")?, &whole(new, "the newer version")?);
    Ok(json!({ "note": differences.markdown(None) }))
}

/// A small pattern to start from, as it was asked for.
fn started(asked: &StarterAsked) -> Result<String, String> {
    let wishes = Wishes {
        what: asked.what.clone(),
        title: asked.title.clone(),
        sizes: asked.sizes.clone(),
        hook: asked.hook.filter(|mm| (0.3..=50.0).contains(mm)),
        colour: asked.colour.clone(),
        weight: asked.weight.filter(|weight| *weight <= 7),
        ball: asked.grams.zip(asked.metres).filter(|(g, m)| *g > 0.0 && *m > 0.0),
    };
    let text = starter::begin(&wishes).ok_or_else(|| format!("there is nothing to start a {} from", asked.what))?;
    // What a starter says of the command is nothing for a desk.
    let of_the_command = |line: &&str| line.starts_with('#') && line.contains("ringtrue ");
    Ok(text.split_inclusive('\n').filter(|line| !of_the_command(line)).collect())
}

/// What each pattern to start from has that can be asked for otherwise.
fn starters() -> Value {
    let offer = |what: &str| {
        let offered = starter::offered(what)?;
        Some((what.to_owned(), json!({ "sizes": offered.sizes, "hook": offered.hook, "yarn": offered.yarn })))
    };
    starter::ALL.into_iter().filter_map(offer).collect::<serde_json::Map<_, _>>().into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(question: &Value) -> Value {
        serde_json::from_str(&answer(&question.to_string())).unwrap()
    }

    /// A US single crochet is a UK double crochet: two names of one stitch.
    #[test]
    fn other_stitch_names_are_given_for_the_same_work() {
        for what in ["mat", "hat", "toy", "motif", "shawl", "scarf", "garment"] {
            let us = asked(&json!({ "do": "starter", "what": what, "title": "Tide" }));
            let text = us["text"].as_str().unwrap();
            let named = text.lines().any(|line| line.starts_with("pattern ") && line.ends_with(" Tide"));
            assert!(named && !text.contains("ringtrue "), "{text}");
            let uk = asked(&json!({ "do": "in_terms", "text": text, "terms": "uk" }));
            assert!(uk["text"].as_str().is_some_and(|text| text.contains("UK")), "{what}: {uk}");
        }
    }

    #[test]
    fn what_is_not_known_is_refused_in_words() {
        assert!(asked(&json!({ "do": "sing" }))["refused"].is_string());
        assert!(asked(&json!({ "do": "starter", "what": "boat", "title": "" }))["refused"].is_string());
    }
}
