//! The label of a line: `Rnd 16 (17, 20) (WS):`, `2nd Row.`, `R1`.

use super::lexicon::{Token, is_number};

/// Rows or rounds by their numbers, in one size; nothing where there are none.
pub(super) type Span = Option<(u32, u32)>;

/// What stands before the steps of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Label {
    /// Whether it says round.
    pub round: bool,
    /// Its numbers, one for each size, or one for all.
    pub spans: Vec<Span>,
    /// Whether it says neither row nor round, as `R1`.
    pub short: bool,
    /// ` rs` or ` ws`, where it says so.
    pub side: &'static str,
    /// Where the steps begin, in bytes.
    pub ends: usize,
}

/// The label that a text begins with.
pub(super) fn label(tokens: &[Token]) -> Option<Label> {
    let text = |at: usize| tokens.get(at).map(|token| token.text.as_str());
    let word = |at: usize| text(at).filter(|word| matches!(*word, "rnd" | "row"));
    let (round, spans, mut at) = match (word(0), ordinal(text(0)?), short(text(0)?)) {
        (Some(word), ..) => {
            let (spans, at) = listed(tokens, spans(text(1)?)?);
            (word == "rnd", spans, at)
        }
        (None, Some(from), _) => {
            let joined = text(1).is_some_and(|t| matches!(t, "and" | "to" | "&" | "-" | "–"));
            match (joined, text(2).and_then(ordinal), word(1)) {
                (true, Some(to), _) => (word(3)? == "rnd", vec![Some((from, to))], 4),
                (_, _, Some(word)) => (word == "rnd", vec![Some((from, from))], 2),
                _ => return None,
            }
        }
        (None, None, Some(number)) => (true, vec![Some((number, number))], 1),
        _ => return None,
    };
    let mut side = "";
    if let (Some("("), Some(facing), Some(")")) = (text(at), text(at + 1), text(at + 2)) {
        side = match facing {
            "rs" => " rs",
            "ws" => " ws",
            _ => "",
        };
        at += if side.is_empty() { 0 } else { 3 };
    }
    let mut ends = tokens.get(at.checked_sub(1)?)?.end;
    while let Some(sign) =
        tokens.get(at).filter(|token| matches!(token.text.as_str(), ":" | "." | "—" | "–" | "-" | ")"))
    {
        ends = sign.end;
        at += 1;
    }
    let short = word(0).is_none() && word(1).is_none() && word(3).is_none();
    Some(Label { round, spans, short, side, ends })
}

/// `Rows 2 and 3`, `Rows 2, 3`.
fn listed(tokens: &[Token], mut spans: Vec<Span>) -> (Vec<Span>, usize) {
    let mut at = 2;
    while let [Some(span)] = spans.as_mut_slice() {
        let link = tokens.get(at).is_some_and(|token| matches!(token.text.as_str(), "and" | "&" | "to" | ","));
        let next = tokens.get(at + 1).and_then(|token| token.text.parse::<u32>().ok());
        match next.filter(|next| link && *next > span.1) {
            Some(next) => span.1 = next,
            None => break,
        }
        at += 2;
    }
    (spans, at)
}

/// `4–15/16/19`: from the fourth in each size.
pub(super) fn spans(text: &str) -> Option<Vec<Span>> {
    let mut first = None;
    let mut spans = Vec::new();
    let ranges = text.split('/').filter(|one| one.contains(['–', '-']) && *one != "–").count();
    for one in text.split('/') {
        if one == "–" {
            spans.push(None);
            continue;
        }
        let (from, to) = one.split_once(['–', '-']).unwrap_or((one, one));
        let ranged = from != to || one.contains(['–', '-']);
        let (from, to): (u32, u32) = (from.parse().ok()?, to.parse().ok()?);
        let from = match first {
            Some(first) if !ranged && ranges == 1 => first,
            _ => from,
        };
        if ranged && spans.is_empty() {
            first = Some(from);
        }
        spans.push(Some((from, to)));
    }
    Some(spans)
}

fn ordinal(text: &str) -> Option<u32> {
    let digits =
        text.strip_suffix("st").or(text.strip_suffix("nd")).or(text.strip_suffix("rd")).or(text.strip_suffix("th"))?;
    digits.parse().ok()
}

/// `R12`.
fn short(text: &str) -> Option<u32> {
    let number = text.strip_prefix('r')?;
    is_number(number).then(|| number.parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::{Label, label, spans};
    use crate::read::lexicon::Lexicon;
    use crate::stitch::{Stitches, Terms};

    fn read(text: &str, sizes: usize) -> Option<Label> {
        let stitches = Stitches::standard();
        label(&Lexicon::new(&stitches, Terms::Us, sizes).read(text))
    }

    #[test]
    fn labels_are_written_in_many_ways() {
        for (text, from, to) in [
            ("Rnd 3: Sc", 3, 3),
            ("Rounds 5–9: Sc", 5, 9),
            ("2nd Row. Sc", 2, 2),
            ("2nd and 3rd rows: Sc", 2, 3),
            ("Rows 2 and 3: Sc", 2, 3),
            ("R12: Sc", 12, 12),
            ("Row 7 (WS) - Sc", 7, 7),
        ] {
            let label = read(text, 1).unwrap();
            assert_eq!(label.spans, [Some((from, to))], "{text}");
            assert!(text.get(label.ends..).unwrap_or_default().trim_start().starts_with("Sc"), "{text}");
        }
        assert_eq!(read("Sc in next st", 1), None);
    }

    #[test]
    fn each_size_has_numbers_of_its_own() {
        assert_eq!(spans("4–15/16/19"), Some(vec![Some((4, 15)), Some((4, 16)), Some((4, 19))]));
        assert_eq!(spans("–/17/18–19"), Some(vec![None, Some((17, 17)), Some((18, 19))]));
        assert_eq!(spans("62–65/63–66"), Some(vec![Some((62, 65)), Some((63, 66))]));
    }
}
