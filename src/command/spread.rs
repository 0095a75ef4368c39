//! `ringtrue spread 7 into 66`

use ringtrue::spread::{self, Beginning, Change, Wanted};
use ringtrue::stitch::Terms;

use super::arguments::{SpreadArguments, TermsChoice};
use super::failure::Failure;
use super::{Outcome, output};

/// Prints the line with its count.
pub fn run(asked: &SpreadArguments) -> Result<Outcome, Failure> {
    let (amount, change, over) = understand(&asked.words).ok_or_else(|| {
        Failure("say it as in `ringtrue spread 7 into 66` or `ringtrue spread 7 out of 66`".to_owned())
    })?;
    let terms = asked.terms.map_or(Terms::Us, TermsChoice::terms);
    let single_crochet = match terms {
        Terms::Us => "sc",
        Terms::Uk => "dc",
    };
    let stitch = asked.stitch.clone().unwrap_or_else(|| single_crochet.to_owned());
    let beginning = if asked.shifted { Beginning::Shifted } else { Beginning::Stacked };
    let wanted = Wanted { amount, change, over, stitch, terms, beginning };
    let line = spread::line(&wanted).map_err(|refusal| Failure(refusal.to_string()))?;
    output::print(&format!("{line}\n"))?;
    Ok(Outcome::Clean)
}

/// The numbers of `7 into 66` and `7 out of 66`.
fn understand(words: &[String]) -> Option<(u32, Change, u32)> {
    let words: Vec<String> = words.iter().flat_map(|part| part.split_whitespace()).map(str::to_lowercase).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let (amount, change, over) = match words.as_slice() {
        [amount, "into", over] => (amount, Change::Into, over),
        [amount, "out", "of", over] => (amount, Change::OutOf, over),
        _ => return None,
    };
    Some((amount.parse().ok()?, change, over.parse().ok()?))
}
