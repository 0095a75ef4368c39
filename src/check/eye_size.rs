//! Safety eyes are listed without their size or number.

use super::context::Context;
use super::measured::measured;
use super::prose::{has, words};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::{Header, LineKind, Text};
use crate::words::list;

pub(super) const CODE: Code = Code("eye-size");

/// Eyes and noses of plastic that are pushed through the fabric and held by a washer.
pub(super) const EYES: &[&str] =
    &["safety eyes", "safety eye", "toy eyes", "plastic eyes", "safety nose", "safety noses"];

/// Words for a number of them.
const NUMBERS: &[&str] = &["a", "one", "two", "three", "four", "six", "eight", "pair", "pairs", "set"];

/// Only a signed pattern is asked.
pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let listed = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Notion(text)) => Some(text),
        _ => None,
    });
    let listed = listed.filter(|text| context.signed() && EYES.iter().any(|eyes| has(&text.text, eyes)));
    listed.filter_map(finding).collect()
}

fn finding(text: &Text) -> Option<Diagnostic> {
    let sized = !measured(&text.text).is_empty();
    let before_unit = |word: &str| word.parse::<u32>().is_ok();
    let numbers = words(&text.text).filter(|word| before_unit(word)).count();
    let counted =
        numbers > usize::from(sized) || words(&text.text).any(|word| NUMBERS.contains(&word.to_lowercase().as_str()));
    let lacks: Vec<&str> = [(!counted, "their number"), (!sized, "their size")]
        .into_iter()
        .filter_map(|(lacks, what)| lacks.then_some(what))
        .collect();
    if lacks.is_empty() {
        return None;
    }
    let message = format!("`{}` leaves out {}", text.text.trim(), list(&lacks));
    Some(
        Diagnostic::warning(CODE, message, text.span, "sold by the millimetre")
            .with_help("say both, as `notion two safety eyes, 9 mm`; whatever they are called they are small parts, so follow the rules where you live"),
    )
}
