//! Lists of numbers, one a size, however they are written: `8 (10, 12)`, `8 (10, 12) [14, 16]`, `8 <10> 12`, `8 – 10 – 12`, `8:10:12`.

use super::lexicon::Token;

/// Puts the numbers of several sizes together: `8 (10, 10)` is one number, `8/10/10`. Two numbers are a list by a dash, a colon or a pointed
/// bracket only where the names of the sizes are parted so.
pub(super) fn by_size(tokens: &[Token], sizes: usize, parted_by: &str) -> Vec<Token> {
    let mut together: Vec<Token> = Vec::new();
    let mut at = 0;
    while let Some(rest) = tokens.get(at..).filter(|rest| !rest.is_empty()) {
        let rows = together.last().is_some_and(|before| matches!(before.text.as_str(), "row" | "rnd"));
        let list = pairs_of(rest, sizes).or_else(|| Listed { rest, sizes, parted_by, rows }.list());
        let taken = list.as_ref().map_or(1, |(_, taken)| *taken);
        if let (Some(first), Some(last)) = (rest.first(), rest.get(taken - 1)) {
            let text = list.map_or_else(|| first.text.clone(), |(text, _)| text);
            together.push(Token { text, start: first.start, end: last.end });
        }
        at += taken;
    }
    together
}

/// As many numbers as the first list of a text has; one where it has none.
pub(super) fn longest(tokens: &[Token]) -> usize {
    const MOST: usize = 40;
    let lists = (0..tokens.len()).find_map(|at| {
        let rest = tokens.get(at..)?;
        let rows = at.checked_sub(1).and_then(|at| tokens.get(at));
        let rows = rows.is_some_and(|before| matches!(before.text.as_str(), "row" | "rnd"));
        let all = |sizes: &usize| {
            let list = |parted_by: &str| Listed { rest, sizes: *sizes, parted_by, rows }.list().is_some();
            list("") || list(CLOSE[1])
        };
        (2..=MOST).rev().find(all)
    });
    lists.unwrap_or(1)
}

/// A list of numbers for some sizes as one for all of them, with a dash for the others.
pub(super) fn for_all(list: &str, concerned: &[bool], sizes: usize) -> String {
    let numbers: Vec<&str> = list.split('/').collect();
    let is_list = numbers.iter().all(|one| *one == "–" || one.starts_with(|c: char| c.is_ascii_digit()));
    if sizes < 2 || numbers.len() != sizes || sizes == concerned.len() || !is_list {
        return list.to_owned();
    }
    let mut numbers = numbers.into_iter();
    let all = concerned.iter().map(|is_for| if *is_for { numbers.next().unwrap_or("–") } else { "–" });
    all.collect::<Vec<_>>().join("/")
}

const OPEN: [&str; 4] = ["(", "[", "{", "<"];
const CLOSE: [&str; 4] = [")", "]", "}", ">"];
const DASHES: [&str; 3] = ["–", "-", "—"];

/// Where a list may begin.
struct Listed<'t> {
    rest: &'t [Token],
    sizes: usize,
    parted_by: &'t str,
    /// Whether a row is named right before it: `Rows 5-9`.
    rows: bool,
}

impl Listed<'_> {
    fn text(&self, at: usize) -> &str {
        self.rest.get(at).map_or("", |token| token.text.as_str())
    }

    fn is(&self, at: usize, signs: &[&str]) -> bool {
        signs.contains(&self.text(at))
    }

    /// The list in one word, and how many words it takes.
    fn list(&self) -> Option<(String, usize)> {
        if let Some(each) = self.each_bracketed().or_else(|| self.led_by_bracket()) {
            return Some(each);
        }
        // `R10 [R11, R12]`.
        let ranged = self.text(0).strip_prefix('r').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        let first = if ranged { self.text(0).to_owned() } else { self.number(0)? };
        let dashed = || self.dashed();
        let (list, taken) = self.signed(first).or_else(dashed)?;
        (list.len() == self.sizes).then(|| (list.join("/"), taken))
    }

    /// `[40] (44) {52}`: each number in brackets of its own.
    fn each_bracketed(&self) -> Option<(String, usize)> {
        let number = |size: usize| {
            let one = self.is(3 * size, &OPEN) && self.is(3 * size + 2, &CLOSE);
            self.number(3 * size + 1).filter(|_| one)
        };
        let all: Vec<String> = (0..self.sizes).map_while(number).collect();
        let several = self.sizes > 2 && all.len() == self.sizes && number(self.sizes).is_none();
        let alike = (1..self.sizes).all(|size| self.text(3 * size) == self.text(0));
        (several && !alike).then(|| (all.join("/"), 3 * self.sizes))
    }

    /// `[80] 88 (96, 104)`: the smallest size in brackets of its own before the one that the pattern is written for, where the names of the
    /// sizes stand so.
    fn led_by_bracket(&self) -> Option<(String, usize)> {
        const LED: usize = 3;
        let bracketed = self.is(0, &OPEN) && self.is(2, &CLOSE);
        let led = self.parted_by.trim_start().starts_with(|c: char| CLOSE.contains(&c.to_string().as_str()));
        let first = self.number(1).filter(|_| bracketed && led && self.sizes > 2)?;
        let rest = Listed { rest: self.rest.get(LED..)?, sizes: self.sizes - 1, parted_by: "", rows: self.rows };
        let (list, taken) = rest.list()?;
        Some((format!("{first}/{list}"), taken + LED))
    }

    fn number(&self, at: usize) -> Option<String> {
        let text = self.text(at);
        let plain = text.strip_prefix('r').unwrap_or(text);
        match plain {
            "–" | "-" | "—" => Some("–".to_owned()),
            plain => plain.starts_with(|c: char| c.is_ascii_digit()).then(|| plain.to_owned()),
        }
    }

    /// A list by strokes, bars, colons, spaced dashes and brackets of each sort.
    fn signed(&self, first: String) -> Option<(Vec<String>, usize)> {
        let (mut list, mut at, mut outside) = (vec![first], 1, None);
        while list.len() < self.sizes {
            if let Some((inside, end)) = self.bracketed(at) {
                list.extend(inside);
                at = end;
            } else if let Some(sign) = self.sign(at).filter(|sign| outside.is_none_or(|known| known == *sign)) {
                list.push(self.number(at + 1)?);
                (outside, at) = (Some(sign), at + 2);
            } else if at > 1 && (self.is(at - 1, &[">"]) || self.sizes == 3 && at == 4 && self.is(3, &CLOSE)) {
                // `28 <32> 36`, `28 (32) 36`.
                list.push(self.number(at)?);
                at += 1;
            } else {
                return None;
            }
        }
        let goes_on = outside.is_some() && self.sign(at) == outside && self.number(at + 1).is_some();
        let bare = list.iter().all(|number| number == "–");
        (!goes_on && !bare).then_some((list, at))
    }

    /// `(72, 72, 76)`, and where it ends.
    fn bracketed(&self, at: usize) -> Option<(Vec<String>, usize)> {
        let sort = OPEN.iter().position(|open| *open == self.text(at))?;
        if sort == 3 && self.sizes == 2 && !self.parted_by.contains('<') {
            return None;
        }
        let (mut inside, mut at) = (vec![self.number(at + 1)?], at + 2);
        while !self.is(at, &CLOSE) {
            self.is(at, &[",", ":", ";", "/", "|"]).then_some(())?;
            inside.push(self.number(at + 1)?);
            at += 2;
        }
        Some((inside, at + 1))
    }

    /// What parts two numbers outside of brackets.
    fn sign(&self, at: usize) -> Option<&'static str> {
        let few = self.sizes == 2;
        match self.text(at) {
            "/" => Some("/"),
            "|" => Some("|"),
            // `Rnd 3: 6 sc` is none.
            ":" => {
                let close = |at: usize| Some(self.rest.get(at)?.end == self.rest.get(at + 1)?.start);
                let close = at.checked_sub(1).and_then(close) == Some(true) && close(at) == Some(true);
                (close && (!few || self.parted_by.contains(':')) && !self.rows).then_some(":")
            }
            // `Rows 1 – 52 (54, 56)` are rows from one to another.
            sign if DASHES.contains(&sign) && !self.rows => {
                (!few || self.parted_by.contains(['–', '-', '—'])).then_some("–")
            }
            _ => None,
        }
    }

    /// `60-66-72 (78-84)`: dashes without room around them, three numbers or more.
    fn dashed(&self) -> Option<(Vec<String>, usize)> {
        self.text(0).starts_with(|c: char| c.is_ascii_digit()).then_some(())?;
        let (mut list, mut at, mut depth, mut outside): (Vec<String>, usize, u32, usize) = (Vec::new(), 0, 0, 0);
        while list.len() < self.sizes {
            let text = self.text(at);
            if OPEN.contains(&text) && depth == 0 && !list.is_empty() {
                depth = 1;
            } else if CLOSE.contains(&text) && depth == 1 {
                depth = 0;
            } else if text.starts_with(|c: char| c.is_ascii_digit()) {
                let parts: Vec<&str> = text.split(['-', '–']).collect();
                parts.iter().all(|part| part.starts_with(|c: char| c.is_ascii_digit())).then_some(())?;
                outside += if depth == 0 { parts.len() } else { 0 };
                list.extend(parts.into_iter().map(str::to_owned));
            } else if !(DASHES.contains(&text) && self.number(at + 1).is_some()) {
                return None;
            }
            at += 1;
        }
        if depth == 1 {
            self.is(at, &CLOSE).then_some(())?;
            at += 1;
        }
        // `5-9 (10)` are rows in two sizes.
        let several = outside > 2 || outside == 2 && self.sizes > 2 && !self.rows && at > 2;
        let goes_on = self.is(at, &DASHES) && self.number(at + 1).is_some();
        (several && !goes_on && self.text(0).contains(['-', '–'])).then_some((list, at))
    }
}

/// `44 and 45 (46 and 47)`: the first and the last of two numbers that follow one another, in each size.
fn pairs_of(rest: &[Token], sizes: usize) -> Option<(String, usize)> {
    let text = |at: usize| rest.get(at).map_or("", |token| token.text.as_str());
    let pair = |at: usize| {
        let (from, to): (u32, u32) = (text(at).parse().ok()?, text(at + 2).parse().ok()?);
        (text(at + 1) == "and" && from.checked_add(1) == Some(to)).then(|| format!("{from}–{to}"))
    };
    let mut pairs = vec![pair(0)?];
    (text(3) == "(").then_some(())?;
    let mut at = 4;
    for size in 1..sizes {
        pairs.push(pair(at)?);
        at += 3;
        if size + 1 < sizes {
            (text(at) == ",").then_some(())?;
            at += 1;
        }
    }
    (text(at) == ")").then(|| (pairs.join("/"), at + 1))
}

#[cfg(test)]
mod tests {
    use super::longest;
    use crate::read::lexicon::{Lexicon, line_of};
    use crate::stitch::{Stitches, Terms};

    fn read(text: &str, sizes: usize, parted_by: &str) -> String {
        let stitches = Stitches::standard();
        let mut lexicon = Lexicon::new(&stitches, Terms::Us, sizes);
        parted_by.clone_into(&mut lexicon.parted_by);
        line_of(&lexicon.read(text))
    }

    #[test]
    fn a_list_goes_on_through_all_signs_between_sizes() {
        for (text, sizes, told) in [
            ("Ch 68 (72, 72, 76) [76, 80, 80]", 7, "ch 68/72/72/76/76/80/80"),
            ("Ch 28 <32> 36", 3, "ch 28/32/36"),
            ("Ch 8 [8] {9}", 3, "ch 8/8/9"),
            ("Ch 62 – 68 – 76 – 82", 4, "ch 62/68/76/82"),
            ("Ch 60-66-72 (78-84)", 5, "ch 60/66/72/78/84"),
            ("Ch 60-66-72-78", 4, "ch 60/66/72/78"),
            ("Ch 60:66:72:78", 4, "ch 60/66/72/78"),
            ("Ch 12 | 14 | 16", 3, "ch 12/14/16"),
            ("Ch [40] (44) {52}", 3, "ch 40/44/52"),
            ("Ch 40 (44) 52", 3, "ch 40/44/52"),
            ("Ch 3 (4) [5] {6}", 4, "ch 3/4/5/6"),
            ("Rnds 5-9 (6-10)", 2, "rnd 5-9/6-10"),
            ("Rnds 5-9 (10)", 3, "rnd 5-9 ( 10 )"),
            ("Rnds - (-, 23)", 3, "rnd –/–/23"),
            ("Rnds 6 (7, 8) (36, 42, 48)", 3, "rnd 6/7/8 ( 36 , 42 , 48 )"),
            ("Ch 6 <18>", 2, "ch 6 < 18 >"),
            ("Rnd 3: 6 sc", 2, "rnd 3 : 6 ~sc"),
            ("Ch 4 – 36", 2, "ch 4 – 36"),
            ("sl st – 96 (108) 108", 3, "~sl_st – 96/108/108"),
        ] {
            assert_eq!(read(text, sizes, ""), told, "{text}");
        }
        assert_eq!(read("Ch 6 <18>", 2, "<>"), "ch 6/18");
        assert_eq!(read("Ch 60 – 70", 2, "–"), "ch 60/70");
        assert_eq!(read("Ch 60:70", 2, ":"), "ch 60/70");
    }

    #[test]
    fn how_many_sizes_a_list_has_is_counted() {
        let stitches = Stitches::standard();
        let long = |text: &str| longest(&Lexicon::new(&stitches, Terms::Us, 1).read(text));
        assert_eq!(long("Ch 68 (72, 72, 76) [76, 80, 80]"), 7);
        assert_eq!(long("make 62 – 68 – 76 – 82 – 88 ch."), 5);
        assert_eq!(long("Ch 13 / 15 / 17"), 3);
        assert_eq!(long("Work Rows 1 – 52 (52, 54, 56) as for Back"), 4);
        assert_eq!(long("Sc in next 5 sts (12)."), 1);
        assert_eq!(long("Ch 5."), 1);
    }
}
