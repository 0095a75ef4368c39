//! The label of a line: `Rnd 16 (17, 20) (WS):`, `2nd Row.`, `R1`.

use super::lexicon::Token;

/// Rows or rounds by their numbers, in one size; nothing where there are none.
pub(super) type Span = Option<(u32, u32)>;

/// What stands before the steps of a line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
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
    /// Other lines that it is for.
    pub also: Also,
    /// The yarn that it names.
    pub yarn: Option<String>,
    /// How many lines from the next one on it is for in each size, where it says only that.
    pub next: Vec<u32>,
    /// Whether its number isn't known, because so many rows stand above it as a measure asks for.
    pub bare: bool,
    /// Whether it stands before the first numbered line, as `Foundation row`.
    pub set_up: bool,
}

impl Label {
    /// Whether it is for so many rows in each size as words say: `( 4 rnd )`.
    pub fn is_so_many(&self, words: &str) -> bool {
        let number = words.split(' ').find_map(|word| word.trim_matches(['(', '[']).parse::<u32>().ok());
        let others = if let Also::These(others) = &self.also { others.len() } else { 0 };
        let rows = |(from, to): (u32, u32)| {
            to.saturating_sub(from).saturating_add(1).saturating_add(u32::try_from(others).unwrap_or(u32::MAX))
        };
        self.spans.iter().flatten().all(|span| Some(rows(*span)) == number)
    }
}

/// Lines further down that a label is for as well.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) enum Also {
    /// None.
    #[default]
    None,
    /// Those with these numbers: `Rnds 3, 5 and 7`.
    These(Vec<u32>),
    /// Every second one from it on: `Rnd 3 and all odd rnds`.
    EverySecond,
}

/// So many words may name a row behind its number.
const MOST_WORDS: usize = 3;

/// `R6a: Ch 1, …`, `Row 12b. …`: a row that has a letter behind its number is the next one.
pub(super) fn lettered(text: &str) -> Option<String> {
    let words = ["Round ", "Rnd ", "Rd ", "R", "Row "];
    let rest = words.iter().find_map(|word| Some((*word, text.strip_prefix(word)?)));
    let (word, rest) = rest.filter(|(_, rest)| rest.starts_with(|c: char| c.is_ascii_digit()))?;
    let behind = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    let letter = behind.starts_with(|c: char| matches!(c, 'a'..='f'));
    let work = behind.get(1..).filter(|_| letter)?.strip_prefix([':', '.', ')'])?;
    let word = if word.starts_with("Row") { "row" } else { "rnd" };
    Some(format!("Next {word}:{work}"))
}

/// The label that a text begins with.
pub(super) fn label(tokens: &[Token]) -> Option<Label> {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let found = numbered(tokens).or_else(|| short(tokens)).or_else(|| unnumbered(tokens));
    let (mut label, mut at) = found.or_else(|| behind_piece(tokens))?;
    // `Row 8, from the right: 2 A, 1 B` is said of a chart.
    if text(at) == "," && text(at + 1) == "from" {
        return None;
    }
    // `Rnd 3 and all odd rnds`.
    if text(at) == "and" && matches!(text(at + 1), "all" | "each") {
        let end = (at + 2..at + 7).find(|at| matches!(text(*at), "rnd" | "row"))?;
        (label.also, at) = (Also::EverySecond, end + 1);
    }
    // `Row 2 (and all even rows)`.
    let inner = at + 1 + usize::from(text(at + 1) == "and");
    if matches!(text(at), "(" | "[") && matches!(text(inner), "all" | "each") {
        let end = (inner + 1..inner + 6).find(|at| matches!(text(*at), "rnd" | "row"));
        let close = end.filter(|end| matches!(text(*end + 1), ")" | "]"));
        if let Some(close) = close {
            (label.also, at) = (Also::EverySecond, close + 2);
        }
    }
    at = sided(tokens, at, &mut label);
    label.ends = tokens.get(at.checked_sub(1)?)?.end;
    while let Some(sign) =
        tokens.get(at).filter(|token| matches!(token.text.as_str(), ":" | "." | "—" | "–" | "-" | ")" | "="))
    {
        label.ends = sign.end;
        at += 1;
    }
    if let Some(end) = side_behind(tokens, at, &mut label) {
        label.ends = end;
    }
    // `Row 5: Decrease row: ch 1`.
    let named = (at..at + MOST_WORDS).find(|at| matches!(text(*at), "rnd" | "row") && text(at + 1) == ":");
    let plain = |token: &Token| token.text.chars().all(|c| c.is_alphabetic() || c == '~');
    if let Some(colon) = named.filter(|named| tokens.get(at..*named).is_some_and(|words| words.iter().all(plain)))
        && let Some(sign) = tokens.get(colon + 1)
        && !label.spans.is_empty()
    {
        label.ends = sign.end;
    }
    Some(label)
}

/// `Row 1: (RS) Sc`, `Row 3: (Navy) ch 1`: the side or the yarn behind the sign, and where that ends.
fn side_behind(tokens: &[Token], at: usize, label: &mut Label) -> Option<usize> {
    const MOST_WORDS: usize = 4;
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    if !matches!(text(at), "(" | "[") {
        return None;
    }
    let close = (at + 2..=at + 1 + MOST_WORDS).find(|at| matches!(text(*at), ")" | "]"))?;
    let inside = tokens.get(at + 1..close)?;
    let says = |word: &str| matches!(word, "rs" | "ws" | "with" | "in" | "and" | "," | "facing" | "row" | "rnd");
    if !inside.iter().all(|token| token.text.starts_with('%') || says(&token.text)) {
        return None;
    }
    for token in inside {
        match token.text.as_str() {
            "rs" => label.side = " rs",
            "ws" => label.side = " ws",
            word => {
                if let Some(yarn) = word.strip_prefix('%') {
                    label.yarn = Some(yarn.replace('_', " "));
                }
            }
        }
    }
    let mut end = tokens.get(close)?.end;
    if let Some(sign) = tokens.get(close + 1).filter(|token| matches!(token.text.as_str(), ":" | "." | "–" | "-")) {
        end = sign.end;
    }
    Some(end)
}

/// What stands behind the number: `(RS)`, `(dec rnd)`, `(B)`.
fn sided(tokens: &[Token], mut at: usize, label: &mut Label) -> usize {
    const MOST_WORDS: usize = 9;
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let side = |word: &str| match word {
        "rs" => " rs",
        "ws" => " ws",
        _ => "",
    };
    loop {
        let bare = side(text(at));
        if !bare.is_empty() && matches!(text(at + 1), ":" | "." | "—" | "–" | "-") {
            (label.side, at) = (bare, at + 1);
            continue;
        }
        let close = (at + 1..at + MOST_WORDS).find(|at| matches!(text(*at), ")" | "]"));
        let Some(close) = close.filter(|_| matches!(text(at), "(" | "[")) else { return at };
        let inside = tokens.get(at + 1..close).unwrap_or_default();
        let says_side = inside.iter().find(|token| !side(&token.text).is_empty());
        let works =
            inside.iter().any(|token| token.text.starts_with(['~', '*']) || token.text == "ch" || token.text == ",");
        // `Row 6 (inc row) Ch 1`.
        let named = inside.last().is_some_and(|token| matches!(token.text.as_str(), "row" | "rnd"))
            && !inside.iter().any(|token| token.text.starts_with(|c: char| c.is_ascii_digit()));
        let signed = matches!(text(close + 1), ":" | "." | "—" | "–") || named;
        if let Some(word) = says_side {
            label.side = side(&word.text);
        } else if !signed && (works || inside.iter().any(|token| token.text.starts_with(|c: char| c.is_ascii_digit())))
        {
            return at;
        }
        label.yarn = inside
            .iter()
            .find_map(|token| token.text.strip_prefix('%'))
            .map(|yarn| yarn.replace('_', " "))
            .or(label.yarn.take());
        at = close + 1;
    }
}

/// `Rnd 3`, `Rows 5–9`, `2nd Row`, `5th to 9th rounds`.
fn numbered(tokens: &[Token]) -> Option<(Label, usize)> {
    let text = |at: usize| tokens.get(at).map(|token| token.text.as_str());
    let word = |at: usize| text(at).filter(|word| matches!(*word, "rnd" | "row"));
    if let Some(word) = word(0) {
        let first = if matches!(text(1), Some("." | "#")) { 2 } else { 1 };
        let (spans, also, at) = listed(tokens, spans(text(first)?)?, first + 1);
        return Some((Label { round: word == "rnd", spans, also, ..Label::default() }, at));
    }
    let (from, mut to) = ordinal(text(0)?).map(|one| (one, one)).or_else(|| ordinals(text(0)?))?;
    let (mut others, mut at) = (Vec::new(), 1);
    // `5th to 9th`, `2nd, 3rd and 4th`.
    while let Some(link) = text(at).filter(|link| matches!(*link, "," | "and" | "to" | "-" | "–" | "through" | "thru"))
    {
        let next = if link == "," && text(at + 1) == Some("and") { at + 2 } else { at + 1 };
        let Some(number) = text(next).and_then(ordinal) else { break };
        let follows = number == to.saturating_add(1) && others.is_empty();
        match link {
            "," | "and" if !follows => others.push(number),
            _ => to = number,
        }
        at = next + 1;
    }
    let word = word(at)?;
    let also = if others.is_empty() { Also::None } else { Also::These(others) };
    Some((Label { round: word == "rnd", spans: vec![Some((from, to))], also, ..Label::default() }, at + 1))
}

/// `Brim Rnd 1:`, `Left Front Row 3 (WS):`: the part of the work stands before the number once more.
fn behind_piece(tokens: &[Token]) -> Option<(Label, usize)> {
    const MOST_WORDS: usize = 3;
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let at = (1..=MOST_WORDS).find(|at| matches!(text(*at), "rnd" | "row"))?;
    let plain = |token: &Token| {
        token.text.starts_with('@') || token.text.len() > 2 && token.text.chars().all(|c| c.is_alphabetic() || c == '-')
    };
    let speaks = [
        "rep", "work", "worked", "same", "from", "for", "until", "with", "after", "each", "all", "next", "last",
        "until", "when", "continue", "join", "turn", "and", "the", "end", "over", "through", "than", "see", "note",
    ];
    if !tokens.get(..at)?.iter().all(|token| plain(token) && !speaks.contains(&token.text.as_str())) {
        return None;
    }
    let (label, behind) = numbered(tokens.get(at..)?)?;
    let signed = matches!(text(at + behind), ":" | "." | "–" | "—" | "-")
        || matches!(text(at + behind), "(" | "[")
            && (at + behind..at + behind + 6).any(|at| matches!(text(at), ")" | "]") && text(at + 1) == ":");
    signed.then_some((label, at + behind))
}

/// `R12`, `R4-R6`, `R 3`.
fn short(tokens: &[Token]) -> Option<(Label, usize)> {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let number = |word: &str| word.strip_prefix('r').unwrap_or(word).parse::<u32>().ok();
    let label = |spans: Vec<Span>, also| Label { round: true, short: true, spans, also, ..Label::default() };
    if let Some(range) = text(0).strip_prefix('r').filter(|rest| rest.contains(['-', '–', '/'])) {
        return Some((label(spans(&range.replace('r', ""))?, Also::None), 1));
    }
    let apart = text(0) == "r" && matches!(text(2), ":" | "." | "-" | "–" | "(");
    let from = if apart { number(text(1))? } else { number(text(0).strip_prefix('r')?)? };
    let (spans, also, at) = listed(tokens, vec![Some((from, from))], if apart { 2 } else { 1 });
    Some((label(spans, also), at))
}

/// `Next row:`, `Foundation row:`, `Dec rnd:`; its number is found where it stands.
fn unnumbered(tokens: &[Token]) -> Option<(Label, usize)> {
    const MOST_WORDS: usize = 4;
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    // `Next 5 rounds:`.
    if matches!(text(0), "next" | "last" | "final")
        && matches!(text(2), "rnd" | "row")
        && matches!(text(3), ":" | "." | "–" | "—" | "-")
    {
        let each: Option<Vec<u32>> = text(1).split('/').map(|one| one.parse().ok()).collect();
        let next = each.filter(|each| !each.contains(&0))?;
        return Some((Label { round: text(2) == "rnd", next, ..Label::default() }, 3));
    }
    // `Row A:`.
    if matches!(text(0), "rnd" | "row") && text(1).starts_with('§') {
        return Some((Label { round: text(0) == "rnd", ..Label::default() }, 2));
    }
    let at = (1..=MOST_WORDS).find(|at| matches!(text(*at), "rnd" | "row"))?;
    let set_up = matches!(text(0), "foundation" | "set-up" | "setup" | "set" | "base" | "starting");
    let known = set_up
        || matches!(
            text(0),
            "next"
                | "last"
                | "final"
                | "first"
                | "~inc"
                | "~dec"
                | "inc"
                | "dec"
                | "increase"
                | "decrease"
                | "border"
                | "edging"
                | "ribbing"
                | "joining"
                | "finishing"
        )
        || at <= 2
            && text(at + 1) == ":"
            && text(0).chars().all(char::is_alphabetic)
            && !matches!(text(0), "worked" | "work" | "rep" | "as");
    let signed = (at + 1..at + 9).take_while(|at| !matches!(text(*at), "," | ";" | "*")).any(|at| text(at) == ":")
        || matches!(text(at + 1), "." | "–" | "—" | "-");
    (known && signed).then(|| (Label { round: text(at) == "rnd", set_up, ..Label::default() }, at + 1))
}

/// `Rows 2 and 3`, `Rows 2, 3`, `Rnds 6 - 8`, `Rnds 3, 5 and 7`.
fn listed(tokens: &[Token], mut spans: Vec<Span>, mut at: usize) -> (Vec<Span>, Also, usize) {
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    let number = |at: usize| text(at).strip_prefix('r').unwrap_or(text(at)).parse::<u32>().ok();
    let [Some(span)] = spans.as_mut_slice() else { return (spans, Also::None, at) };
    let mut others = Vec::new();
    loop {
        // A comma may stand before the last `and`.
        let link = if text(at) == "," && text(at + 1) == "and" { at + 1 } else { at };
        let named = if matches!(text(link + 1), "rnd" | "row") { link + 2 } else { link + 1 };
        // `Rnds 6 - 24 (27, 30)`: to another one in each size.
        let to_each = matches!(text(link), "to" | "through" | "thru" | "-" | "–" | "—") && others.is_empty();
        if let Some(each) = spans_to(span.0, text(named)).filter(|_| to_each) {
            return (each, Also::None, named + 1);
        }
        let Some(next) = number(named) else { break };
        let last = others.last().copied().unwrap_or(span.1);
        let behind = matches!(text(named + 1), ":" | "." | "(" | ")" | "[" | "—" | "–" | "-" | "=" | "," | "and" | "");
        match text(link) {
            "to" | "through" | "thru" | "until" if others.is_empty() && next > last => span.1 = next,
            "-" | "–" | "—" if others.is_empty() && next > last && behind => span.1 = next,
            "and" | "," | "+" if next > last && (next == last + 1 && others.is_empty()) => span.1 = next,
            "and" | "," | "+" if next > last && behind => others.push(next),
            _ => break,
        }
        at = named + 1;
    }
    let also = if others.is_empty() { Also::None } else { Also::These(others) };
    (spans, also, at)
}

/// From a row to another one in each size: `24/27/30`.
fn spans_to(from: u32, each: &str) -> Option<Vec<Span>> {
    each.contains('/').then_some(())?;
    let to = |one: &str| Some(Some((from, one.strip_prefix('r').unwrap_or(one).parse::<u32>().ok()?)));
    each.split('/').map(|one| if one == "–" { Some(None) } else { to(one) }).collect()
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

/// `5th-9th`.
fn ordinals(text: &str) -> Option<(u32, u32)> {
    let (from, to) = text.split_once(['-', '–'])?;
    Some((ordinal(from)?, ordinal(to)?))
}

#[cfg(test)]
mod tests {
    use super::{Also, Label, label, spans};
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
            ("Rnds 6 - 8: Sc", 6, 8),
            ("R4-R6: Sc", 4, 6),
            ("5th-9th rounds: Sc", 5, 9),
            ("2nd, 3rd and 4th rows: Sc", 2, 4),
            ("Rnd 4 (dec rnd): Sc", 4, 4),
            ("Rows 3 through 8: Sc", 3, 8),
        ] {
            let label = read(text, 1).unwrap();
            assert_eq!(label.spans, [Some((from, to))], "{text}");
            assert!(text.get(label.ends..).unwrap_or_default().trim_start().starts_with("Sc"), "{text}");
        }
        assert_eq!(read("Sc in next st", 1), None);
        assert_eq!(read("Rnds 3, 5 and 7: Sc", 1).unwrap().also, Also::These(vec![5, 7]));
        assert_eq!(read("Rnd 4 and all even rnds: Sc", 1).unwrap().also, Also::EverySecond);
        assert_eq!(read("Row 2 (and all even rows): Sc", 1).unwrap().also, Also::EverySecond);
        assert_eq!(read("Eighth to eighteenth rounds: Sc", 1).unwrap().spans, [Some((8, 18))]);
        assert_eq!(read("Twenty-first round: Sc", 1).unwrap().spans, [Some((21, 21))]);
        assert!(read("Set-up row: Sc", 1).unwrap().set_up);
    }

    #[test]
    fn each_size_has_numbers_of_its_own() {
        assert_eq!(spans("4–15/16/19"), Some(vec![Some((4, 15)), Some((4, 16)), Some((4, 19))]));
        let all = [Some((6, 24)), Some((6, 27)), Some((6, 30))];
        assert_eq!(read("Rnds 6 - 24 (27, 30): Sc", 3).unwrap().spans, all);
        assert_eq!(read("Rows 6 thru 24 [27, 30] Sc", 3).unwrap().spans, all);
        assert_eq!(read("R6–R24 [R27, R30]: sc", 3).unwrap().spans, all);
        assert_eq!(spans("–/17/18–19"), Some(vec![None, Some((17, 17)), Some((18, 19))]));
        assert_eq!(spans("62–65/63–66"), Some(vec![Some((62, 65)), Some((63, 66))]));
    }
}
