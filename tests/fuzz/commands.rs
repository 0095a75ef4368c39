//! The commands that write, one after the other on one text, between edits of whole lines and of single words, as bytes say.

use ringtrue::pattern::model::Terms;
use ringtrue::readback::otherwise;
use ringtrue::{compile, fill, mend, terms, tidy};

/// Edits and commands of one run at most.
const MOST: usize = 12;

/// Takes three bytes for each edit or command: what is done, and where. What a command gives is held against the text that it was
/// given, as the command itself does before it writes.
pub fn commands(text: &str, bytes: &[u8]) {
    let mut text = text.to_owned();
    for step in bytes.chunks_exact(3).take(MOST) {
        let [what, at, other] = [step[0], step[1], step[2]].map(usize::from);
        let made = match what % 10 {
            0..=4 => edited(&text, what % 10, at, other),
            5 => tidied(&text),
            6 => filled(&text),
            7 | 8 => mended(&text, at),
            _ => in_other_terms(&text),
        };
        text = made.unwrap_or(text);
    }
    let _ = mend::compile_and_mend(&text);
}

/// A line taken away, put in another's place, said twice, cut off in the midst, or with its first number raised: what a text may be
/// while somebody edits it.
fn edited(text: &str, what: usize, at: usize, other: usize) -> Option<String> {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let (at, other) = (at.checked_rem(lines.len())?, other.checked_rem(lines.len())?);
    match what {
        0 => drop(lines.remove(at)),
        1 => lines.swap(at, other),
        2 => lines.insert(other, lines[at].clone()),
        3 => lines[at] = lines[at].chars().take(other).collect(),
        _ => {
            let digits = lines[at].find(|c: char| c.is_ascii_digit())?;
            let (before, rest) = lines[at].split_at(digits);
            let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
            let number = rest[..end].parse::<u32>().ok()?.saturating_add(1);
            lines[at] = format!("{before}{number}{}", &rest[end..]);
        }
    }
    Some(lines.join("\n") + "\n")
}

/// Laid out, a text says the same, and laid out once more it stays as it is.
fn tidied(text: &str) -> Option<String> {
    let tidied = tidy::tidy(text).ok()?;
    assert_eq!(otherwise(&compile(text), &compile(&tidied)), None, "laid out, another work:\n{text}\n--\n{tidied}");
    assert_eq!(tidy::tidy(&tidied).as_ref(), Ok(&tidied), "laid out twice:\n{text}");
    Some(tidied)
}

/// With its counts stated a text says the same.
fn filled(text: &str) -> Option<String> {
    let compiled = compile(text);
    let filled = fill::fill(text, &compiled).fix?.apply(text);
    assert_eq!(otherwise(&compiled, &compile(&filled)), None, "filled, another work:\n{text}\n--\n{filled}");
    Some(filled)
}

/// One of the repairs that are offered, made: the text is another one then.
fn mended(text: &str, which: usize) -> Option<String> {
    let offers = mend::offers(text, &mend::compile_and_mend(text));
    let offer = offers.get(which.checked_rem(offers.len())?)?;
    let mended = offer.fix.apply(text);
    assert_ne!(mended, text, "{} changes nothing", offer.name);
    Some(mended)
}

/// In the other terms a text says the same, and back in its own again.
fn in_other_terms(text: &str) -> Option<String> {
    let compiled = compile(text);
    let (own, other) = match compiled.pattern.terms {
        Terms::Us => (Terms::Us, Terms::Uk),
        Terms::Uk => (Terms::Uk, Terms::Us),
    };
    let there = terms::in_terms(text, other).ok()?;
    assert_eq!(otherwise(&compiled, &compile(&there)), None, "in other terms, another work:\n{text}\n--\n{there}");
    let back = terms::in_terms(&there, own).ok()?;
    assert_eq!(otherwise(&compiled, &compile(&back)), None, "there and back, another work:\n{text}\n--\n{back}");
    Some(there)
}
