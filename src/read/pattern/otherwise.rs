//! Rows that are said again in other words than `Repeat row 2`: `Work row 2 again`, `Work 6 more rows in pattern`, `Continue in pattern
//! until …`, `Repeat row 2, working 2 rows each with B and C`; and rows that are called by a letter.

use super::ends::only_stitch;
use super::{Block, Reader, Written};
use crate::read::label::{Label, label};
use crate::read::lexicon::{Token, is_amount, line_of};

/// Rows that a text calls its pattern, by the numbers that it gives them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Pattern {
    from: u32,
    to: u32,
    round: bool,
}

impl Reader<'_> {
    /// A sentence that says rows again, in the words `rep …`; nothing where it says something else.
    pub(super) fn rep_in_other_words(&self, words: &str) -> Option<String> {
        let words = words.trim_end_matches([' ', '.']);
        // `Rep cuff rnd 4 more times`, where the last row is called so.
        if let Some((name, behind)) = self.named_row.as_ref().zip(words.strip_prefix("rep "))
            && let Some((word, rest)) =
                [" rnd ", " row "].iter().find_map(|word| Some((*word, behind.split_once(word)?)))
            && !rest.0.contains(|c: char| c.is_ascii_digit())
        {
            let cited = rest.0.strip_prefix('@').and_then(|at| self.head.pieces.get(at.parse::<usize>().ok()?));
            let cited = cited.map_or_else(|| rest.0.to_owned(), |piece| piece.to_lowercase());
            if name.contains(cited.as_str()) {
                return Some(format!("rep last{word}{}", rest.1));
            }
        }
        let begins = ["then ", "now ", "next ", "continue ", "continuing ", "keep ", "carry on ", "keep on ", "to "];
        let mut rest = words;
        while let Some(behind) = begins.iter().find_map(|begins| rest.strip_prefix(begins)) {
            rest = behind;
        }
        // `Do rows 2 and 3 6 more times`, `Repeat rows 2 and 3 to row 9`, `…, ending after row 9`.
        let done = rest.strip_prefix("do ").filter(|cited| cited.starts_with("row ") || cited.starts_with("rnd "));
        if let Some(cited) = done.filter(|cited| says_how_often(cited)) {
            return Some(format!("rep {cited}"));
        }
        if let Some(up_to) = rest.strip_prefix("rep ").and_then(up_to_row) {
            return Some(format!("rep {up_to}"));
        }
        if rest.starts_with("rep ") && rest != words {
            return Some(rest.to_owned());
        }
        // `Work row 2 again`, `Work rows 2 and 3 a further 6 times`.
        if let Some(cited) =
            rest.strip_prefix("work ").filter(|cited| cited.starts_with("row ") || cited.starts_with("rnd "))
            && !cited.contains('~')
            && !cited.contains(" as ")
        {
            let once = cited.strip_suffix(" again").map(|cited| format!("rep {cited} once more"));
            return once.or_else(|| says_how_often(cited).then(|| format!("rep {cited}")));
        }
        let all: Vec<&str> = rest.split(' ').collect();
        self.rows_like(&all).or_else(|| self.in_pattern(&all))
    }

    /// `Work 4 more rounds as round 6`, `Work 3 more rounds in the same way`.
    fn rows_like(&self, all: &[&str]) -> Option<String> {
        let ["work" | "make", rest @ ..] = all else { return None };
        let (number, word, behind) = so_many(rest)?;
        match behind {
            ["in", "same", "way" | "manner"]
            | ["as", "last", "row" | "rnd"]
            | ["as", "last" | "established" | "before"] => {
                // Of a row that shapes, it isn't known whether it is done again or goes on.
                only_stitch(&self.piece.written.last()?.steps)?;
                Some(format!("rep last {word} for {number} more {word}"))
            }
            ["as", "row" | "rnd", cited] => Some(format!("rep {word} {cited} for {number} more {word}")),
            ["as", cited, "row" | "rnd"] => Some(format!("rep {cited} {word} for {number} more {word}")),
            _ => None,
        }
    }

    /// `Work 6 more rows in pattern`, `Continue in pattern until …`.
    fn in_pattern(&self, all: &[&str]) -> Option<String> {
        let Pattern { from, to, round } = self.forms?;
        let word = if round { "rnd" } else { "row" };
        let rows = if from == to { format!("{word} {from}") } else { format!("{word} {from}-{to}") };
        let all = all.strip_prefix(&["work"]).unwrap_or(all);
        let pattern = |word: &str| matches!(word, "pattern" | "patt" | "established");
        if let Some((number, word, ["in" | "as", named, rest @ ..])) = so_many(all)
            && pattern(named)
            && rest.is_empty()
        {
            return Some(format!("rep {rows} for {number} more {word}"));
        }
        let ["in" | "as", named, rest @ ..] = all else { return None };
        pattern(named).then_some(())?;
        match rest {
            ["until", ..] => Some(format!("rep {rows} {}", rest.join(" "))),
            ["for", rest @ ..] => so_many(rest)
                .filter(|(.., behind)| behind.is_empty())
                .map(|(number, word, _)| format!("rep {rows} for {number} more {word}")),
            _ => None,
        }
    }

    /// `Row 1 forms the pattern.`: which rows are meant from there on.
    pub(super) fn names_pattern(&mut self, label: &Label, body: &str) -> Option<String> {
        let tokens = self.lexicon.read(body);
        let words = line_of(&tokens);
        let first = words.split(' ').next()?;
        let forms = matches!(first, "form" | "forms" | "set" | "sets" | "establish" | "establishes");
        let (said, rest) = words.split_once(" . ").unwrap_or((words.trim_end_matches([' ', '.']), ""));
        let speaks = forms && ["pattern", "patt"].iter().any(|word| said.split(' ').any(|one| one == *word));
        let (from, to) = label.spans.first().copied().flatten().filter(|_| speaks)?;
        let by = self.piece.shift;
        self.forms = Some(Pattern { from: from.saturating_sub(by), to: to.saturating_sub(by), round: label.round });
        if rest.is_empty() {
            return Some(String::new());
        }
        let dot = tokens.iter().find(|token| token.text == ".")?;
        body.get(dot.end..).map(|rest| rest.trim().to_owned())
    }

    /// `Rows 3–10: Rep Row 2, working 2 rows each with B, C, D, and E`: the rows of each yarn.
    pub(super) fn in_yarns_by_turns(&mut self, label: &Label, words: &str) -> Option<Vec<String>> {
        let (again, yarns) = words.split_once(" , working ").or_else(|| words.split_once(" , work "))?;
        let cited = again.strip_prefix("rep ").or_else(|| again.strip_prefix("as "))?;
        let mut all = yarns.split(' ').filter(|word| !matches!(*word, "." | "," | "and" | "or"));
        let rows: u32 = all.next()?.parse().ok().filter(|rows| (1..=60).contains(rows))?;
        matches!(all.next()?, "row" | "rnd").then_some(())?;
        let rest: Vec<&str> = all.skip_while(|word| matches!(*word, "each" | "with" | "in" | "of")).collect();
        let named: Vec<String> =
            rest.iter().map_while(|word| word.strip_prefix('%')).map(|yarn| yarn.replace('_', " ")).collect();
        let times = match rest.get(named.len()..)? {
            [] | ["in", "that" | "this" | "same", "order"] => 1,
            ["in", "that" | "this", "order", number, "times"] | [number, "times"] => number.parse::<u32>().ok()?,
            _ => return None,
        };
        let (from, to) = label.spans.first().copied().flatten()?;
        let alike = label.spans.iter().all(|span| *span == Some((from, to)));
        let each = u32::try_from(named.len()).ok().filter(|each| *each > 0)?;
        let length = to.checked_sub(from)?.checked_add(1)?;
        (alike && rows.checked_mul(each)?.checked_mul(times)? == length).then_some(())?;
        let word = if label.round { "rnd" } else { "row" };
        let (kind, number) = cited.split_once(' ').filter(|(kind, _)| *kind == word)?;
        let cited = number.parse::<u32>().ok()?.checked_add(self.piece.shift)?;
        let steps = self.piece.with_number(0, cited)?.clone();
        let mut lines = Vec::new();
        let mut next = from;
        for yarn in named.iter().cycle().take(usize::try_from(each.checked_mul(times)?).ok()?) {
            let last = next.checked_add(rows)?.checked_sub(1)?;
            let yarn = self.head.yarn_called(yarn).unwrap_or_else(|| yarn.clone());
            lines.push(format!("change to {yarn}"));
            let numbers = if next == last { format!(" {next}") } else { format!("s {next}-{last}") };
            lines.push(format!("{kind}{numbers}: as {kind} {cited}"));
            next = last.checked_add(1)?;
        }
        self.piece.written.push(Written { spans: label.spans.clone(), ..steps });
        Some(lines)
    }

    /// A text in which rows that are called by a letter, `Row A`, have their numbers.
    pub(super) fn with_numbers_for_letters(&mut self, block: &Block) -> Option<Block> {
        let next = self.piece.last_number(0).saturating_add(1).saturating_sub(self.piece.shift);
        let (mut told, mut rest, mut any, mut first) = (String::new(), block.text.as_str(), false, true);
        while let Some((at, end, letters)) = lettered_rows(rest) {
            told.push_str(rest.get(..at)?);
            let begins = first && at == 0 && letters.len() == 1 && signed(rest.get(end..)?);
            if begins && let Some(letter) = letters.first() {
                self.letters.retain(|(known, _)| known != letter);
                self.letters.push((*letter, next));
            }
            let mut said = rest.get(at..end)?.to_owned();
            for letter in &letters {
                let number =
                    self.letters.iter().find(|(known, _)| known == letter).map(|(_, number)| number.to_string());
                let Some(number) = number else { break };
                let place = said.rfind(&format!(" {letter}"))?;
                said.replace_range(place + 1..=place + 1, &number);
                any = true;
            }
            told.push_str(&said);
            rest = rest.get(end..)?;
            first = false;
        }
        told.push_str(rest);
        any.then(|| Block { text: told, ..block.clone() })
    }
}

/// Whether a label ends there.
fn signed(behind: &str) -> bool {
    behind.trim_start().starts_with([':', '.', '(', '–', '—', '-'])
}

/// `Row A`, `Rows A and B`: where it begins and ends, and its letters, the last first.
fn lettered_rows(text: &str) -> Option<(usize, usize, Vec<char>)> {
    const WORDS: [&str; 12] =
        ["Rounds ", "rounds ", "Round ", "round ", "Rows ", "rows ", "Row ", "row ", "Rnds ", "rnds ", "Rnd ", "rnd "];
    let mut found = WORDS
        .iter()
        .flat_map(|word| text.match_indices(word).map(|(at, word)| (at, at + word.len())))
        .filter(|(at, _)| !text.get(..*at).is_some_and(|before| before.ends_with(char::is_alphanumeric)))
        .collect::<Vec<_>>();
    found.sort_unstable();
    found.into_iter().find_map(|(at, behind)| {
        let mut letters = Vec::new();
        let mut end = behind;
        loop {
            let letter = text.get(end..)?.chars().next().filter(char::is_ascii_uppercase)?;
            let next = text.get(end + 1..)?;
            if next.starts_with(char::is_alphanumeric) || next.starts_with('\'') {
                return None;
            }
            letters.insert(0, letter);
            end += 1;
            let link = [" and ", " & ", ", ", " to ", "–", "-"].iter().find(|link| {
                next.strip_prefix(**link).is_some_and(|rest| {
                    rest.starts_with(|c: char| c.is_ascii_uppercase())
                        && !rest.get(1..).is_some_and(|rest| rest.starts_with(char::is_alphanumeric))
                })
            });
            match link {
                Some(link) => end += link.len(),
                None => return Some((at, end, letters)),
            }
        }
    })
}

/// `row 2 and 3 until row 9`, of `row 2 and 3 to row 9` and `row 2 and 3 , ending after row 9`.
fn up_to_row(cited: &str) -> Option<String> {
    let ends = [" , ending after ", " , ending with ", " , end after ", " , finishing after ", " to ", " through "];
    let (rows, last) = ends.iter().find_map(|link| cited.rsplit_once(link))?;
    let (word, number) = last.split_once(' ')?;
    let first = rows.split(' ').next()?;
    let plain = matches!(first, "row" | "rnd")
        && rows.split(' ').skip(1).all(|word| {
            word == "and" || word == "&" || word == first || word.starts_with(|c: char| c.is_ascii_digit())
        });
    let several = rows.contains(" and ") || rows.contains('-') || rows.contains('–');
    (plain && several && word == first && is_amount(number)).then(|| format!("{rows} until {word} {number}"))
}

/// Whether words say how often rows are worked again, or until when.
fn says_how_often(cited: &str) -> bool {
    [" times", " more", " twice", " once", " until ", " again"].iter().any(|said| cited.contains(said))
}

/// `6 more rows`, `another 6 rounds`, `6 rows more`: how many, of what, and what stands behind it.
fn so_many<'w, 'a>(all: &'a [&'w str]) -> Option<(&'w str, &'w str, &'a [&'w str])> {
    let (number, word, behind) = match all {
        ["another" | "further", number, word, behind @ ..]
        | [number, "more" | "further" | "additional", word, behind @ ..]
        | [number, word, "more" | "further", behind @ ..]
        | [number, word, behind @ ..] => (*number, *word, behind),
        _ => return None,
    };
    (is_amount(number) && matches!(word, "row" | "rnd")).then_some((number, word, behind))
}

/// `Edging: Join B to the first stitch of the last row.`: the rows below go on along the last one.
pub(super) fn joins_on(tokens: &[Token]) -> bool {
    let words = line_of(tokens);
    let words = words.trim_end_matches([' ', '.']);
    let Some(rest) = ["join ", "rejoin ", "attach "]
        .iter()
        .find_map(|begins| words.strip_prefix(begins))
        .filter(|_| label(tokens).is_none())
    else {
        return false;
    };
    let yarn = rest.split(' ').next().unwrap_or_default();
    let rest = rest.strip_prefix(yarn).unwrap_or(rest).trim_start();
    let there = rest.strip_prefix("with ~sl_st ").unwrap_or(rest);
    (yarn.starts_with('%') || yarn == "yarn")
        && matches!(
            there,
            "to first st"
                | "in first st"
                | "to first st of last row"
                | "in first st of last row"
                | "to first st of last rnd"
                | "in first st of last rnd"
        )
}

#[cfg(test)]
mod tests {
    use super::{lettered_rows, so_many};

    #[test]
    fn rows_are_called_by_letters() {
        assert_eq!(lettered_rows("Row A: Sc"), Some((0, 5, vec!['A'])));
        assert_eq!(lettered_rows("Repeat Rows A and B 4 times"), Some((7, 19, vec!['B', 'A'])));
        assert_eq!(lettered_rows("Row 3: A"), None);
        assert_eq!(lettered_rows("Rows Across"), None);
    }

    #[test]
    fn so_many_rows_are_said_in_many_ways() {
        for text in ["6 more row", "another 6 row", "6 row more", "6 row"] {
            let all: Vec<&str> = text.split(' ').collect();
            assert_eq!(so_many(&all), Some(("6", "row", [].as_slice())), "{text}");
        }
    }
}
