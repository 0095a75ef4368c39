//! Several words that mean what fewer words say, by the tables `phrases.txt` and `variants.txt`.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use super::lexicon::{Token, is_amount};

const TABLE: &str = include_str!("phrases.txt");
/// The same, where parts of the words may be said in several ways.
const VARIANTS: &str = include_str!("variants.txt");
/// What is put in may be replaced once more, but no more often than so.
const ROUNDS: usize = 3;

/// Words of the table, and what is read for them.
struct Phrase {
    said: Vec<&'static str>,
    meant: Vec<&'static str>,
}

/// The words with what is read for them. Each keeps the place in the text that it had.
pub(super) fn in_few_words(mut tokens: Vec<Token>) -> Vec<Token> {
    for _ in 0..ROUNDS {
        let Some(again) = replaced(&tokens) else { break };
        tokens = again;
    }
    tokens
}

/// Nothing where nothing is replaced.
fn replaced(tokens: &[Token]) -> Option<Vec<Token>> {
    let mut told = Vec::with_capacity(tokens.len());
    let (mut at, mut any) = (0, false);
    while let Some(rest) = tokens.get(at..).filter(|rest| !rest.is_empty()) {
        match rest.first().and_then(|first| found(&first.text, rest)).filter(|phrase| !is_meant(phrase, tokens, at)) {
            Some(phrase) => {
                any = true;
                told.extend(meant(phrase, rest));
                at += phrase.said.len();
            }
            None => {
                told.extend(rest.first().cloned());
                at += 1;
            }
        }
    }
    any.then_some(told)
}

/// Whether the words stand within what would be read for them.
fn is_meant(phrase: &Phrase, tokens: &[Token], at: usize) -> bool {
    let within = phrase.meant.windows(phrase.said.len()).position(|some| some == phrase.said.as_slice());
    let from = within.and_then(|within| at.checked_sub(within));
    let there = from.and_then(|from| tokens.get(from..from + phrase.meant.len()));
    there.is_some_and(|there| phrase.meant.iter().zip(there).all(|(meant, token)| is(meant, &token.text)))
}

fn found(first: &str, rest: &[Token]) -> Option<&'static Phrase> {
    let fits = |phrase: &&Phrase| {
        phrase.said.len() <= rest.len() && phrase.said.iter().zip(rest).all(|(said, token)| is(said, &token.text))
    };
    // What begins with any number, stitch or yarn stands in the table by its sign.
    let sign = match first {
        first if first.starts_with('~') => Some("~"),
        first if first.starts_with('%') => Some("%"),
        first if is_amount(first) => Some("#"),
        first if is("ch-#", first) => Some("ch-#"),
        _ => None,
    };
    [Some(first), sign].into_iter().flatten().find_map(|first| table().get(first)?.iter().find(fits))
}

fn is(said: &str, token: &str) -> bool {
    match said {
        "#" => is_amount(token),
        "~" => token.starts_with('~'),
        "%" => token.starts_with('%'),
        "ch-#" => token.strip_prefix("ch-").is_some_and(is_amount),
        _ => said == token,
    }
}

fn meant(phrase: &Phrase, rest: &[Token]) -> Vec<Token> {
    let (first, last) = (rest.first(), rest.get(phrase.said.len().saturating_sub(1)));
    let (start, end) = (first.map_or(0, |token| token.start), last.map_or(0, |token| token.end));
    let kept = |sign: &str| {
        let at = phrase.said.iter().position(|said| *said == sign)?;
        Some(rest.get(at)?.text.clone())
    };
    phrase
        .meant
        .iter()
        .map(|word| Token { text: kept(word).unwrap_or_else(|| (*word).to_owned()), start, end })
        .collect()
}

/// The phrases by their first word, the longest first.
fn table() -> &'static BTreeMap<&'static str, Vec<Phrase>> {
    static PHRASES: OnceLock<BTreeMap<&'static str, Vec<Phrase>>> = OnceLock::new();
    PHRASES.get_or_init(|| {
        let mut all: BTreeMap<&'static str, Vec<Phrase>> = BTreeMap::new();
        let rows = |table: &'static str| {
            let rows = table.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(" => "));
            rows.flat_map(|(said, meant)| said.split(" | ").map(move |said| (said, meant)))
        };
        let plain = rows(TABLE).map(|(said, meant)| (said.split(' ').collect(), meant));
        let varied = rows(VARIANTS).flat_map(|(said, meant)| variants(said).into_iter().map(move |one| (one, meant)));
        for (said, meant) in plain.chain(varied) {
            // A dash stands for nothing.
            let (said, meant): (Vec<&'static str>, Vec<&'static str>) =
                (said, meant.split(' ').filter(|word| *word != "-").collect());
            // What means itself stands there for those that read the table.
            if let Some(first) = said.first().filter(|_| said != meant) {
                all.entry(first).or_default().push(Phrase { said, meant });
            }
        }
        for phrases in all.values_mut() {
            phrases.sort_by_key(|phrase| std::cmp::Reverse(phrase.said.len()));
        }
        all
    })
}

/// The words in each way in which they may be said: `<up to|until> next <st|>` are four.
fn variants(said: &'static str) -> Vec<Vec<&'static str>> {
    let mut all: Vec<Vec<&'static str>> = vec![Vec::new()];
    let mut rest = said;
    while !rest.is_empty() {
        let (plain, behind) = rest.split_once('<').unwrap_or((rest, ""));
        for words in &mut all {
            words.extend(plain.split_whitespace());
        }
        let Some((ways, behind)) = behind.split_once('>') else { break };
        all = ways
            .split('|')
            .flat_map(|way| {
                all.iter().map(move |words| words.iter().copied().chain(way.split_whitespace()).collect::<Vec<_>>())
            })
            .collect();
        rest = behind;
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::read::lexicon::{Lexicon, line_of};
    use crate::stitch::{Stitches, Terms};

    #[test]
    fn many_words_mean_what_few_do() {
        let stitches = Stitches::standard();
        let lexicon = Lexicon::new(&stitches, Terms::Us, 1);
        for (said, meant) in [
            ("sc in each st to the end of the round", "~sc in each st to end"),
            ("dc across to the last 2 sts", "~dc to last 2 st"),
            ("sc in all 24 sts", "~sc in next 24 st"),
            ("sl st to join", "join with ~sl_st"),
            ("turn your work", ", turn"),
            ("sc across up to the last two stitches", "~sc to last 2 st"),
            ("dc in each st until you come to the ch-2 sp", "~dc in each st to next ch-2 sp"),
            ("skip all sts to the next ch-3 sp, dc in that sp", "skip all st to next ch-3 sp , ~dc in next ch-3 sp"),
        ] {
            assert_eq!(line_of(&lexicon.read(said)), meant, "{said}");
        }
    }
}
