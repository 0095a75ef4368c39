//! The parts of a text: headings, paragraphs, entries of lists and rows of tables, each with its place.

use super::series::{self, Series};
use super::wrap;
use crate::diagnostic::Span;

/// A part of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Block {
    /// What it is.
    pub kind: Kind,
    /// Its words in one line, without marks of layout.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// What a part of the text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A heading and its level, from 1.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// An entry of a list.
    Item,
    /// A row of a table, with `|` between its cells.
    TableRow,
}

/// Takes a text apart.
pub(super) fn blocks(text: &str) -> Vec<Block> {
    let led: String = text.split_inclusive('\n').map(|line| led_to(&in_usual_signs(line))).collect();
    let known = |line: &str| has_label(line) || entry(line).is_some() || line.starts_with('|');
    let series = Series::of(led.lines(), known);
    let counted = |line: &str| (!known(line.trim())).then(|| series.told(line)).flatten();
    let led: String = led
        .split_inclusive('\n')
        .map(|line| match counted(line) {
            Some(told) => told + line.get(line.trim_end().len()..).unwrap_or_default(),
            None => line.to_owned(),
        })
        .collect();
    let plain = led.as_str();
    let least = least_moved_in(plain);
    let mut parts = Parts {
        apart: lines_stand_apart(plain, least),
        sheet: wrap::sheet(plain),
        starred: is_starred_list(plain),
        least,
        in_head: true,
        ..Parts::default()
    };
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let bare = line.trim_end_matches(['\n', '\r']);
        let led = led_to(&in_usual_signs(bare));
        parts.line(&counted(&led).unwrap_or(led), Span { start, end: start + bare.len() });
        start += line.len();
    }
    parts.close();
    let closed = |block: Block| match unclosed(&block.text) {
        Some(close) => Block { text: format!("{}{close}", block.text), ..block },
        None => block,
    };
    parts.blocks.into_iter().flat_map(at_labels).map(closed).collect()
}

/// `〔12 tr〕`, `【12】`, `⟨12⟩`, `12 ✕`: brackets and signs of other scripts as those that the trade uses.
fn in_usual_signs(line: &str) -> String {
    let told = other_signs(line);
    super::signs::in_usual_form(&told).unwrap_or(told)
}

/// The same sign by sign.
fn other_signs(line: &str) -> String {
    let usual = |c: char| match c {
        '〔' | '【' | '［' | '「' | '⟦' | '〖' => '[',
        '〕' | '】' | '］' | '」' | '⟧' | '〗' => ']',
        '（' | '❨' => '(',
        '）' | '❩' => ')',
        '｛' => '{',
        '｝' => '}',
        '⟨' | '〈' | '‹' | '《' => '<',
        '⟩' | '〉' | '›' | '》' => '>',
        '✕' | '✖' | '⨯' | '✗' => '×',
        '：' => ':',
        '，' => ',',
        '；' => ';',
        '＝' => '=',
        '＊' | '∗' | '✱' | '✻' => '*',
        '\u{00a0}' | '\u{202f}' | '\u{2009}' => ' ',
        '‐' | '‑' => '-',
        '‒' | '−' => '–',
        other => other,
    };
    line.chars().map(usual).collect()
}

/// `6sc in a magic circle ........ 6`: a total that dots lead to, in brackets.
fn led_to(line: &str) -> String {
    let (plain, starred) = (undecorated(line), unstarred(line));
    if let Some(other) = plain.or(starred) {
        return led_to(&other);
    }
    if let Some(entry) = by_dash(line) {
        return entry;
    }
    let bare = line.trim_end();
    let Some((words, total)) = total_led_to(bare) else { return line.to_owned() };
    let end = line.get(bare.len()..).unwrap_or_default();
    format!("{words} ({total}){end}")
}

/// What closes a total at the end of a line whose bracket was forgotten: `R9. (6 sc, inc) x3 [24`.
fn unclosed(bare: &str) -> Option<char> {
    let at = bare.rfind(['(', '[', '{']).filter(|at| *at > 0)?;
    let (before, total) = (bare.get(..at)?, bare.get(at + 1..)?);
    let close = match bare.get(at..=at)? {
        "(" => ')',
        "[" => ']',
        _ => '}',
    };
    let counted = total.starts_with(|c: char| c.is_ascii_digit())
        && total.split(' ').count() <= 2
        && total.chars().all(|c| c.is_ascii_alphanumeric() || c == ' ');
    let even = before.matches(['(', '[', '{']).count() == before.matches([')', ']', '}']).count();
    (counted && even && before.ends_with(' ')).then_some(close)
}

/// What stands before dots and the total behind them: `… ... 20`, `… 44 and two handles`.
fn total_led_to(bare: &str) -> Option<(&str, &str)> {
    const LEAST_DOTS: usize = 3;
    const LEAST_WORDS: usize = 4;
    const MOST_WORDS: usize = 5;
    let at = bare.rfind(['.', '…']).filter(|at| *at > 0)?;
    let total = bare.get(at..)?.trim_start_matches(['.', '…', ' ']);
    let led = bare.get(..bare.len() - total.len())?.trim_end();
    let words = led.trim_end_matches(['.', '…']);
    let dots = led.get(words.len()..)?;
    if dots.len() < LEAST_DOTS || !total.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let alone = total.chars().all(|c| c.is_ascii_digit());
    let counted = |word: &str| {
        word.chars().all(char::is_alphanumeric)
            && !matches!(word, "in" | "into" | "ch" | "chain" | "turn" | "each" | "times" | "rows" | "rounds")
    };
    let counts = words.split_whitespace().count() >= LEAST_WORDS
        && total.split_whitespace().count() <= MOST_WORDS
        && total.split_whitespace().all(counted);
    (alone || counts).then(|| (words.trim_end(), total))
}

/// `✨ **Rnd 1:** …`: a line without the pictures that it begins with.
fn undecorated(line: &str) -> Option<String> {
    let bare = line.trim_start();
    let picture = |c: char| matches!(c, '\u{2190}'..='\u{21ff}' | '\u{2300}'..='\u{27bf}' | '\u{2b00}'..='\u{2bff}' | '\u{1f000}'..='\u{1faff}' | '\u{fe0f}' | '\u{200d}');
    let rest = bare.trim_start_matches(|c: char| picture(c) || c == ' ');
    let (before, first) = (line.get(..line.len() - bare.len())?, bare.chars().next()?);
    (picture(first) && !rest.is_empty()).then(|| format!("{before}{rest}"))
}

/// `…, turn. *(120 sc)*`: the total at the end without the marks of stress around it.
fn unstarred(line: &str) -> Option<String> {
    let bare = line.trim_end();
    let sign = ["*", "_"]
        .into_iter()
        .find(|sign| bare.ends_with(&format!("){sign}")) || bare.ends_with(&format!("]{sign}")))?;
    let open = bare.rfind(&format!("{sign}(")).or_else(|| bare.rfind(&format!("{sign}[")))?;
    let inside = bare.get(open + 2..bare.len() - 2)?;
    let doubled = open.checked_sub(1).is_some_and(|before| bare.get(before..open) == Some(sign));
    let counts = inside.starts_with(|c: char| c.is_ascii_digit()) && !inside.contains(['*', '(', '[']);
    (counts && !doubled).then(|| {
        format!("{}{}", bare.get(..open).unwrap_or_default(), bare.get(open + 1..bare.len() - 1).unwrap_or_default())
    })
}

/// `3 – 2 dc into every stitch – 12 stitches`, `9 to 14 – 1 dc into every stitch`: an entry by its number, `3. 2 dc …`.
fn by_dash(line: &str) -> Option<String> {
    const WORKED: [&str; 14] =
        ["sc", "dc", "hdc", "htr", "tr", "dtr", "inc", "dec", "sts", "stitch", "stitches", "ring", "mr", "crochet"];
    let bare = line.trim_start();
    let number = |text: &str| text.find(|c: char| !c.is_ascii_digit()).filter(|digits| (1..=3).contains(digits));
    let digits = number(bare)?;
    let (from, rest) = bare.split_at_checked(digits)?;
    let range = |rest: &'_ str| rest.strip_prefix(" to ").or_else(|| rest.strip_prefix(['-', '–'])).map(str::to_owned);
    let ranged = range(rest).filter(|to| to.starts_with(|c: char| c.is_ascii_digit()));
    let rest = ranged.as_ref().map_or_else(|| rest.to_owned(), |to| format!(" to {to}"));
    let rest = rest.as_str();
    let (to, rest) = match rest.strip_prefix(" to ").and_then(|rest| rest.split_at_checked(number(rest)?)) {
        Some((to, rest)) => (format!("-{to}"), rest),
        None => (String::new(), rest),
    };
    let work = [" – ", " — ", " - ", " -- "].iter().find_map(|dash| rest.strip_prefix(dash))?;
    // `9 - 14) sc around`: from one number to another.
    let numbered = work.trim_start_matches(|c: char| c.is_ascii_digit());
    if numbered.len() < work.len() && numbered.starts_with([')', '.', ':']) {
        return None;
    }
    let works = work.split(|c: char| !c.is_alphanumeric()).any(|word| WORKED.contains(&word.to_lowercase().as_str()));
    let before = line.get(..line.len() - bare.len())?;
    works.then(|| format!("{before}{from}{to}. {work}"))
}

/// Print runs rows on in one paragraph, `…, ch 1, turn. 2nd Row: …`; each is a part of its own.
fn at_labels(block: Block) -> Vec<Block> {
    if block.kind != Kind::Paragraph {
        return vec![block];
    }
    let ends =
        [". ", ") ", "] ", "; ", "} "].into_iter().flat_map(|end| block.text.match_indices(end)).map(|(at, _)| at + 2);
    let mut starts: Vec<usize> = ends
        .filter(|at| block.text.get(*at..).is_some_and(|rest| has_plain_label(rest) || has_ordinal_label(rest)))
        .collect();
    let counted = series::starts(&block.text);
    let in_series = counted.len() > 1 && counted.len() > starts.len();
    if in_series {
        starts = counted;
    }
    starts.sort_unstable();
    let mut from = 0;
    let mut parts = Vec::new();
    for to in starts.into_iter().chain([block.text.len()]) {
        let text = block.text.get(from..to).unwrap_or_default().trim().to_owned();
        let text = series::part_told(&text).filter(|_| in_series).unwrap_or(text);
        parts.push(Block { text, ..block.clone() });
        from = to;
    }
    parts
}

/// `Rnd 3:`, `Rows 5–7 (WS):`, with nothing else before the colon.
fn has_plain_label(rest: &str) -> bool {
    // `… for 10 (13) rounds. 32 (36)`: the end of a sentence, and its total.
    if ["rounds. ", "rows. ", "rnds. "].iter().any(|ends| rest.starts_with(ends)) {
        return false;
    }
    let label = rest.split_once(':').map_or("", |(label, _)| label).to_lowercase();
    let plain = |word: &str| {
        let number = word.chars().all(|c| c.is_ascii_digit() || matches!(c, '–' | '-'));
        number || matches!(word, "and" | "(rs)" | "(ws)")
    };
    has_label(rest) && label.split(' ').skip(1).all(plain)
}

/// `2nd Row:`, `3rd Round.`
fn has_ordinal_label(rest: &str) -> bool {
    // `Second round: 2 sc in each. Third round: …`
    const WORDS: [&str; 10] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    let Some((number, rest)) = rest.split_once(' ') else { return false };
    let is_ordinal = |number: &str| {
        WORDS.contains(&number.to_lowercase().as_str())
            || ["st", "nd", "rd", "th"].iter().any(|end| {
                number
                    .to_lowercase()
                    .strip_suffix(end)
                    .is_some_and(|digits| !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit()))
            })
    };
    let ordinal = number.trim_end_matches(',').split(['-', '–']).all(is_ordinal);
    let rest = rest.to_lowercase();
    // `5th to 7th rounds`, `2nd, 3rd and 4th rows`.
    let mut rest = rest.as_str();
    while let Some((to, behind)) = rest.split_once(' ')
        && (is_ordinal(to.trim_end_matches(',')) || matches!(to, "to" | "and" | "-" | "–" | "&"))
    {
        rest = behind;
    }
    let word = ["rounds", "round", "rnds", "rnd", "rows", "row"].iter().find_map(|word| rest.strip_prefix(word));
    let bare = |behind: &'_ str| -> String { behind.trim_start().replace("inclusive", "").replace("incl", "") };
    ordinal && word.is_some_and(|behind| bare(behind).trim_start().starts_with([':', '.', '(']))
}

#[derive(Default)]
struct Parts {
    blocks: Vec<Block>,
    open: Option<Block>,
    /// Whether every line is a part of its own.
    apart: bool,
    /// How far every line is moved in at least.
    least: usize,
    /// How long the line above is.
    length: usize,
    /// The last number of a list.
    counted: usize,
    /// How wide the sheet is at whose edge lines were broken.
    sheet: Option<usize>,
    /// What the rows of a table with columns are called.
    columns: Option<&'static str>,
    /// How many signs the line above has as it stands.
    above: usize,
    /// Whether no row stands above.
    in_head: bool,
    /// Whether rows stand in a list whose entries begin with a star.
    starred: bool,
}

/// 3, of `3. sc around (18)`: an entry of a list, with the number of its round perhaps.
pub(super) fn entry_number(line: &str) -> Option<usize> {
    entry(line).map(|(from, ..)| from)
}

/// The numbers of an entry, and where its words begin: `3. sc around`, `3.-5. sc around`, `3: sc around`.
pub(super) fn entry(line: &str) -> Option<(usize, usize, usize)> {
    const MOST_DIGITS: usize = 3;
    let number = |text: &str| {
        let digits = text.find(|c: char| !c.is_ascii_digit()).filter(|digits| (1..=MOST_DIGITS).contains(digits))?;
        Some((text.get(..digits)?.parse::<usize>().ok()?, digits))
    };
    let (from, digits) = number(line)?;
    let rest = line.get(digits..)?;
    let link = rest.trim_start_matches(['.', ')']).trim_start();
    let further = link
        .strip_prefix(['-', '–'])
        .or_else(|| link.strip_prefix("to "))
        .or_else(|| link.strip_prefix("and "))
        .or_else(|| link.strip_prefix("& "))
        .map(str::trim_start)
        .and_then(|rest| Some((number(rest)?, rest)));
    let (to, rest) = match further {
        Some(((to, digits), further)) if to > from => (to, further.get(digits..)?),
        _ => (from, rest),
    };
    let words = rest.strip_prefix(['.', ')', ':']).filter(|words| words.starts_with(' '))?;
    Some((from, to, line.len() - words.len()))
}

/// A line of so many signs may be broken at the edge of the sheet.
const WIDTH: usize = 56;

/// Whether a line goes on with one that was broken at the edge of the sheet.
fn goes_on(above: &str, length: usize, line: &str) -> bool {
    if ends_yarn(line) {
        return false;
    }
    let ended = above.ends_with(['.', ':', ')', ']', '}', '!', '?']);
    let open = above.ends_with(',') || hangs(above);
    // `[sc in next 2 sts, inc]` is often parted from its `12 times`.
    let how_often =
        line.split(' ').nth(1).is_some_and(|word| matches!(word.trim_end_matches([',', '.']), "times" | "more"));
    length >= WIDTH && !ended && (open || !line.starts_with(char::is_uppercase))
        || length >= WIDTH && (line.starts_with(char::is_lowercase) || how_often && entry_number(line).is_none())
}

/// Whether a line ends with a word that something has to follow.
fn hangs(above: &str) -> bool {
    [" and", " in", " of", " to", " next", " the", " from", " with", " as"].iter().any(|word| above.ends_with(word))
}

/// Whether a line says that the yarn is cut; it is none of the row above.
fn ends_yarn(line: &str) -> bool {
    let lower: String = line.chars().take(12).flat_map(char::to_lowercase).collect();
    ["fasten off", "finish off", "cut yarn", "break yarn"].iter().any(|begins| lower.starts_with(begins))
}

/// Whether a line above the rows is a part of its own: one below a heading, a short line, or a sentence that is done.
fn stands_apart(above: &str, length: usize, line: &str) -> bool {
    const SHORT: usize = 40;
    let ended = above.ends_with(['.', '!', ':', ')']);
    line.starts_with(char::is_uppercase) && !is_bare_label(above) && (length < SHORT || ended)
}

/// `Round 2`: a label whose line stands below it.
fn is_bare_label(above: &str) -> bool {
    const MOST_WORDS: usize = 4;
    let label = |word: &str| {
        matches!(word.to_lowercase().as_str(), "round" | "rnd" | "row" | "rd" | "rounds" | "rows" | "rnds")
    };
    above.split(' ').count() <= MOST_WORDS && above.split(' ').any(label)
}

/// `Rnd 1:`, `Rows 5-6:`: nothing but a label with its colon, whose work stands in the next line.
fn is_label_alone(text: &str) -> bool {
    let bare = text.trim().strip_suffix([':', '.']);
    let number = |word: &str| word.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '–'));
    bare.and_then(|bare| bare.split_once(' ')).is_some_and(|(word, numbers)| {
        let word = word.to_lowercase();
        matches!(word.trim_end_matches('s'), "rnd" | "round" | "row" | "rd") && !numbers.is_empty() && number(numbers)
    })
}

/// `Spout`, `Tail fin`: a name above the work that begins below it.
fn is_bare_name(above: &str) -> bool {
    const MOST_WORDS: usize = 3;
    above.split(' ').count() <= MOST_WORDS
        && !is_bare_label(above)
        && above.starts_with(char::is_uppercase)
        && above.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '\'' | '’'))
}

/// Whether a line begins a piece: `With white, ch 10`, `Ch 5`, `11 ch`.
fn begins_work(line: &str) -> bool {
    let mut words = line.split([' ', ',']).map(str::to_lowercase);
    let first = words.next().unwrap_or_default();
    let chains = |word: &str| matches!(word, "ch" | "chain" | "ch.");
    let number = |word: &str| word.parse::<u32>().is_ok();
    let second = words.next().unwrap_or_default();
    chains(&first) && number(&second)
        || number(&first) && chains(&second)
        || matches!(first.as_str(), "with" | "using")
            && words.take(4).any(|word| chains(&word) || word.ends_with("ch") && number(word.trim_end_matches("ch")))
}

/// Whether `10) sts` ends a list of numbers that was broken at the edge of the sheet, and begins no entry.
fn closes_list(above: &str, line: &str) -> bool {
    let open = above.matches('(').count() > above.matches(')').count();
    open && line.trim_start_matches(|c: char| c.is_ascii_digit()).starts_with(')')
}

impl Parts {
    fn line(&mut self, line: &str, span: Span) {
        let above = std::mem::replace(&mut self.above, wrap::length(line.trim_end()));
        let trimmed = line.trim();
        if trimmed.is_empty() {
            return self.close();
        }
        if let Some(row) = self.row_of_table(line) {
            return self.open_alone(Kind::Paragraph, &row, span);
        }
        let behind_label = self.open.as_ref().is_some_and(|open| is_label_alone(&open.text)) && !has_label(trimmed);
        if behind_label || self.is_broken(above, line) {
            return self.go_on(trimmed, span);
        }
        if let Some(open) = self.open.as_mut().filter(|open| open.kind == Kind::Paragraph)
            && let Some(level) = underline(trimmed, &open.text)
        {
            open.kind = Kind::Heading(level);
            return self.close();
        }
        let hashes = trimmed.chars().take_while(|c| *c == '#').count();
        if (1..=6).contains(&hashes) && trimmed.get(hashes..).is_some_and(|rest| rest.starts_with(' ')) {
            self.open(
                Kind::Heading(u8::try_from(hashes).unwrap_or(6)),
                trimmed.get(hashes..).unwrap_or_default(),
                span,
            );
            return self.close();
        }
        if trimmed.starts_with('|') {
            return self.open_alone(Kind::TableRow, trimmed, span);
        }
        let listed = trimmed.strip_prefix(['-', '–', '•', '·', '●', '▪', '◦']).map(str::trim_start);
        let listed = listed.or_else(|| starred_entry(trimmed).filter(|_| self.starred));
        let listed = listed.filter(|row| has_label(row));
        let is_listed = listed.is_some();
        let trimmed = listed.unwrap_or(trimmed);
        // `1. **Rnd 1:** 6 sc in ring`.
        let trimmed = match trimmed.split_once(' ') {
            Some((number, rest)) if entry_number(trimmed).is_some() && number.len() <= 4 && has_label(rest) => {
                rest.trim_start()
            }
            _ => trimmed,
        };
        if self.is_numbered(trimmed) || (has_label(trimmed) || is_for_sizes(trimmed)) && !self.lies_within(line) {
            self.in_head = false;
            self.open(Kind::Paragraph, trimmed, span);
            self.length = trimmed.chars().count();
            return;
        }
        self.words(if is_listed { trimmed } else { line }, span);
    }

    /// A part that is one line.
    fn open_alone(&mut self, kind: Kind, words: &str, span: Span) {
        self.open(kind, words, span);
        self.close();
    }

    /// Whether a line is the next entry of a list.
    fn is_numbered(&mut self, line: &str) -> bool {
        let numbered = self.is_next(line);
        self.counted = numbered.unwrap_or(self.counted);
        numbered.is_some()
    }

    /// The number of the next entry of a list.
    fn is_next(&self, line: &str) -> Option<usize> {
        let within = self.open.as_ref().is_some_and(|open| closes_list(&open.text, line));
        let (from, to, _) = entry(line).filter(|_| !within)?;
        (from == 1 || from == self.counted + 1).then_some(to)
    }

    /// A line that begins an entry or a paragraph, or goes on with it.
    fn words(&mut self, line: &str, span: Span) {
        let trimmed = line.trim();
        // Within a paragraph a dash is a number that is left out.
        let labelled = has_label(trimmed.trim_start_matches(['-', '–']).trim_start());
        // `… rep from` in one line, and `* around` in the next.
        let repeats =
            self.open.as_ref().is_some_and(|open| open.kind == Kind::Paragraph && open.text.ends_with(" from"));
        let dash = repeats || self.open.is_some() && trimmed.starts_with(['-', '–']) && !labelled;
        if let Some(item) = bullet(trimmed).filter(|_| !dash) {
            return self.open(Kind::Item, item, span);
        }
        // In a list of plain text each entry is moved in by two, and its further lines by more.
        let moved_in = moved_in(line);
        match &self.open {
            Some(open)
                if !(ends_yarn(trimmed)
                    || is_bare_name(&open.text) && begins_work(trimmed)
                    || self.in_head && self.sheet.is_none() && stands_apart(&open.text, self.length, trimmed))
                    && (!self.apart && self.sheet.is_none() || goes_on(&open.text, self.length, trimmed))
                    && (moved_in != self.least
                        || !(has_plain_label(trimmed) || is_for_sizes(trimmed))
                        || self.length >= WIDTH && hangs(&open.text))
                    && (moved_in != 2 || open.kind != Kind::Item) =>
            {
                self.go_on(trimmed, span);
            }
            _ => {
                self.open(if moved_in >= 2 { Kind::Item } else { Kind::Paragraph }, trimmed, span);
                self.length = trimmed.chars().count();
            }
        }
    }

    /// A row of a table whose columns stand apart by tabs: its number, what is worked, and the count.
    fn row_of_table(&mut self, line: &str) -> Option<String> {
        let cells: Vec<&str> = line.split('\t').map(str::trim).filter(|cell| !cell.is_empty()).collect();
        let (first, rest) = cells.split_first().filter(|(_, rest)| !rest.is_empty())?;
        let word = ["round", "rnd", "row"].into_iter().find(|word| first.to_lowercase().trim_end_matches('s') == *word);
        if word.is_some() {
            self.columns = word;
            return None;
        }
        let word = self.columns?;
        let numbers = first.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '–'));
        if !numbers || !first.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let (last, work) = rest.split_last()?;
        let count = last.starts_with(|c: char| c.is_ascii_digit()) && last.split(' ').count() <= 2 && !work.is_empty();
        let (work, count) =
            if count { (work.join(" "), format!(" ({last})")) } else { (rest.join(" "), String::new()) };
        Some(format!("{word} {first}: {work}{count}"))
    }

    /// Whether a line had no room in the one above it.
    fn is_broken(&self, above: usize, line: &str) -> bool {
        let (Some(width), Some(open)) = (self.sheet, &self.open) else { return false };
        let entry = open.kind == Kind::Item && moved_in(line) <= 2 || line.trim().starts_with(['•', '●', '▪', '◦']);
        let ended = open.text.ends_with(['.', ')', ']']);
        let bare = without_emphasis(line.trim(), '=');
        let begins = ended && (has_label(&bare) || self.is_next(&bare).is_some());
        open.kind != Kind::TableRow && wrap::is_full(above, line, width) && !begins && !entry
    }

    /// A line goes on with what is open.
    fn go_on(&mut self, line: &str, span: Span) {
        self.length = line.chars().count();
        let Some(open) = self.open.as_mut() else { return };
        // `ch-3 sp` may be broken behind its hyphen.
        let broken = open.text.ends_with('-') && !open.text.ends_with(" -");
        if !broken {
            open.text.push(' ');
        }
        // Signs of heavy type may be opened in one line and closed in the next.
        let text = format!("{}{line}", open.text);
        open.text = if self.sheet.is_some() {
            unmarked(&text, Place::Within)
        } else {
            open.text.clone() + &unmarked(line, Place::Within)
        };
        open.span.end = span.end;
    }

    /// Whether a line that begins as a row does may only go on with what stands above it.
    fn lies_within(&self, line: &str) -> bool {
        let broken = self.length >= WIDTH && self.open.as_ref().is_some_and(|open| hangs(&open.text));
        !self.apart || moved_in(line) != self.least || broken
    }

    fn open(&mut self, kind: Kind, text: &str, span: Span) {
        self.close();
        self.open = Some(Block { kind, text: unmarked(text.trim(), Place::First), span });
    }

    fn close(&mut self) {
        self.blocks.extend(self.open.take());
    }
}

/// Whether rows stand one below the other without empty lines between them, as in a text that was pasted.
fn lines_stand_apart(text: &str, least: usize) -> bool {
    // What is moved in further than the rest only goes on with what stands above it.
    let own = |line: &str| moved_in(line) == least && (has_label(line) || entry_number(line.trim()).is_some());
    let (mut below_words, mut below_nothing) = (0_usize, 0_usize);
    for (before, line) in text.lines().zip(text.lines().skip(1)).filter(|(_, line)| own(line)) {
        if before.trim().is_empty() {
            below_nothing += 1;
        } else if !closes_list(before, line) {
            below_words += 1;
        }
    }
    // Where empty lines part the rows, a row that is spoken of may come to stand first in a broken line.
    below_words > 1 && below_words >= below_nothing
}

/// Whether most rows of a text are entries of a list that begin with a star each, which repeats nothing then.
fn is_starred_list(text: &str) -> bool {
    const LEAST: usize = 3;
    let rows = text.lines().map(str::trim).filter(|line| has_label(line.trim_start_matches(['*', ' '])));
    let (starred, all) = rows.fold((0, 0), |(starred, all), row| {
        let entry = starred_entry(row).is_some_and(|row| !row.to_lowercase().contains("from *") || row.contains(" *"));
        (starred + usize::from(entry), all + 1)
    });
    starred >= LEAST && starred * 4 >= all * 3
}

/// `Rnd 2: 2 sc in each st`, of `* Rnd 2: 2 sc in each st`.
fn starred_entry(line: &str) -> Option<&str> {
    line.strip_prefix("* ").map(str::trim_start)
}

fn moved_in(line: &str) -> usize {
    line.len() - line.trim_start().len()
}

fn least_moved_in(text: &str) -> usize {
    text.lines().filter(|line| !line.trim().is_empty()).map(moved_in).min().unwrap_or(0)
}

/// `Rnd 3:`, `R3.`, `Row 3 (WS):`, `5th round:`, `Next row:`; the sign behind it tells it from a row that is spoken of.
fn has_label(line: &str) -> bool {
    let written = line.trim_start_matches(['*', ' ', '\t']);
    let line = written.to_lowercase();
    if has_ordinal_label(&line) {
        return true;
    }
    let words = ["rounds", "round", "rnds", "rnd", "rows", "row", "rds", "rd", "r"];
    if let Some((before, _)) = line.split_once(':')
        && before.split(' ').count() <= 3
        && before.split(' ').skip(1).any(|word| matches!(word, "round" | "rnd" | "row" | "rounds" | "rnds" | "rows"))
        && !before.contains(['.', ',', '*'])
    {
        return true;
    }
    let Some(number) = words.iter().find_map(|word| line.strip_prefix(word)) else { return false };
    let number = number.trim_start_matches(['.', '#']).trim_start();
    if !number.starts_with(|c: char| c.is_ascii_digit()) {
        return false;
    }
    // `5`, `5 - 8`, `5, 7 and 9`, `4-r6`.
    let rest = number.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '-' | '–' | '—' | ' ' | 'r'));
    let listed = ["&", ",", "+", "and ", "to ", "through "].iter().any(|link| rest.starts_with(link));
    let close =
        line.starts_with('r') && line.get(1..2).is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()));
    // `Round 1 Work 10 sc`, `Row 4 [sc, inc] to end`: what is only spoken of goes on with small letters.
    let behind = written.get(written.len().saturating_sub(number.len())..).unwrap_or_default();
    let behind = behind.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '-' | '–'));
    let plainly = written.starts_with('R')
        && !close
        && behind
            .strip_prefix(' ')
            .is_some_and(|work| work.starts_with(|c: char| c.is_uppercase() || "[(*".contains(c)));
    let signed = close && number.contains(' ')
        || plainly
        || rest.starts_with([':', '.', ')', '(', '[', '=', '*'])
        || number.contains(" - ")
        || number.contains(" -- ")
        || number.contains(" – ")
        || number.split_once(" — ").is_some_and(|(label, _)| label.chars().all(|c| !c.is_alphabetic()));
    let colon = line.split_once(':').is_some_and(|(label, _)| label.chars().count() < 45 && !label.contains(" as "));
    // `rows 3 to 28 [32, 36]. repeat row 2`.
    let numbers = number.trim_start_matches(|c: char| c.is_ascii_digit() || "-–—&,+[]{}() ".contains(c));
    let numbers = ["to ", "and ", "through "].iter().find_map(|link| numbers.strip_prefix(link)).unwrap_or(numbers);
    let numbers = numbers.trim_start_matches(|c: char| c.is_ascii_digit() || "-–—&,+[]{}() r".contains(c));
    let stop = numbers.strip_prefix('.').is_some_and(|rest| rest.trim_start().starts_with(char::is_alphanumeric));
    // `Rnd 1   1ch, 8dc into the ring`.
    let apart = behind.starts_with("  ");
    signed || apart || listed && (colon || stop)
}

/// `2nd and 3rd sizes only – 6th round:`: the sizes that a row is for stand before its label.
fn is_for_sizes(line: &str) -> bool {
    const MOST_BYTES: usize = 60;
    line.split_once(" only").is_some_and(|(sizes, rest)| {
        let label = rest.trim_start_matches([':', '–', '—', '-', ',', ')', ' ']);
        sizes.len() <= MOST_BYTES && label.len() < rest.len() && !sizes.contains([':', '.', '*']) && has_label(label)
    })
}

/// The level of a heading that is underlined so.
fn underline(line: &str, heading: &str) -> Option<u8> {
    let first = line.chars().next()?;
    let length = line.chars().count();
    let as_long = length == heading.chars().count().min(78);
    let level = match first {
        '=' => 1,
        '-' => 2,
        '.' if as_long => 3,
        _ => return None,
    };
    ((length > 1 || as_long) && line.chars().all(|c| c == first)).then_some(level)
}

fn bullet(line: &str) -> Option<&str> {
    let rest = line.strip_prefix(['*', '•', '·', '◦', '-', '–', '●', '▪'])?;
    let item = rest.strip_prefix([' ', '\t'])?.trim_start();
    // A star may also begin what is repeated, and a dash a number that is left out.
    let worked = line.starts_with('*') && item.to_lowercase().contains("rep from *");
    (!worked).then_some(item)
}

/// Where a line stands in its part of the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Place {
    First,
    Within,
}

/// `**R1** — Ch 4`, `**Size:** 22 cm **Hook:** 4 mm`: words in heavy type that are a label.
fn without_bold(line: &str) -> String {
    let mut told = String::with_capacity(line.len());
    let mut rest = line;
    while let Some((before, after)) = rest.split_once("**") {
        told.push_str(before);
        let inside = after.split_once("**").filter(|(inside, _)| {
            let label = has_label(&format!("{inside}:")) && inside.ends_with(|c: char| c.is_ascii_digit());
            let named = inside.ends_with(':') || super::pattern::begins_so(inside) || label;
            inside.starts_with(char::is_uppercase) && !inside.contains('*') && named
        });
        let Some((inside, behind)) = inside.filter(|_| before.is_empty() || before.ends_with(' ')) else {
            told.push_str("**");
            rest = after;
            continue;
        };
        told.push_str(inside);
        rest = behind;
    }
    told + rest
}

/// `sc around. *32/36/40*`: a total in slanting type behind a line stands in brackets.
fn slanting_total(line: &str) -> String {
    let trimmed = line.trim_end();
    let inside = trimmed.strip_suffix('*').and_then(|before| before.rsplit_once('*'));
    let Some((work, total)) = inside.filter(|(work, total)| !work.ends_with('*') && !total.is_empty()) else {
        return line.to_owned();
    };
    let ended = work.trim_end().ends_with(['.', ')', ']', '!', ';']) && work.ends_with(' ');
    let counts = total.starts_with(|c: char| c.is_ascii_digit())
        && total.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | ',' | '/' | '-' | '+' | '(' | ')' | '&'))
        && !total.contains("rep");
    if ended && counts && !total.contains('(') { format!("{work}({total})") } else { line.to_owned() }
}

/// A line without the marks of Markdown and of old typesetting, with plain spaces.
fn unmarked(line: &str, place: Place) -> String {
    let line =
        line.replace(['\u{a0}', '\t'], " ").replace(['⟨', '〈', '‹', '⟦'], "<").replace(['⟩', '〉', '›', '⟧'], ">");
    let line = without_emphasis(&line, '=');
    let line = without_emphasis(&line, '_');
    let line = slanting_total(&without_bold(&line));
    let mut told = String::with_capacity(line.len());
    let mut rest = line.as_str();
    let (mut bold, mut strong) = (false, false);
    while let Some(c) = rest.chars().next() {
        let after = rest.get(c.len_utf8()..).unwrap_or_default();
        if c == '\\' && after.starts_with(|next: char| next.is_ascii_punctuation()) {
            let escaped = after.chars().next().unwrap_or_default();
            told.push(escaped);
            rest = after.get(escaped.len_utf8()..).unwrap_or_default();
            continue;
        }
        // A count in heavy type: `**(16 sc)**`.
        let closes = bold && told.ends_with([')', ']']) && after.starts_with('*');
        let opens = !bold && c == '*' && (after.starts_with("*(") || after.starts_with("*[")) && after.contains(")**");
        if c == '*' && (opens || closes) {
            bold = opens;
            rest = after.get(1..).unwrap_or_default();
            continue;
        }
        let heavy = place == Place::First && line.starts_with("**") && !strong;
        if c == '*' && after.starts_with('*') && (is_strong(&told, after, place) || heavy && is_label_end(&told, after))
        {
            strong = !told.is_empty();
            rest = after.get(1..).unwrap_or_default();
            continue;
        }
        told.push(c);
        rest = after;
    }
    told
}

/// A line without the signs that stand close around words in heavy or slanting type, as `=2nd ROW=:` in old texts.
fn without_emphasis(line: &str, sign: char) -> String {
    let mut told = String::with_capacity(line.len());
    let mut rest = line;
    while let Some((before, after)) = rest.split_once(sign) {
        told.push_str(before);
        let inside = after.split_once(sign).filter(|(inside, behind)| {
            let close = inside.starts_with(char::is_alphanumeric) && !inside.ends_with(' ');
            let apart = !before.ends_with(char::is_alphanumeric) && !behind.starts_with(char::is_alphanumeric);
            close && apart && inside.chars().any(char::is_alphabetic)
        });
        match inside {
            Some((inside, behind)) => {
                told.push_str(inside);
                rest = behind;
            }
            None => {
                told.push(sign);
                rest = after;
            }
        }
    }
    told + rest
}

/// Whether a label in bold ends here, `**Round 1.** Make …`.
fn is_label_end(before: &str, after: &str) -> bool {
    let behind = after.get(1..).unwrap_or_default();
    before.ends_with(['.', ')', ']']) && behind.starts_with(' ')
}

/// Whether two stars set words in bold: at the beginning of a line, or behind a label.
fn is_strong(before: &str, after: &str, place: Place) -> bool {
    let behind = after.get(1..).unwrap_or_default();
    (before.is_empty() && place == Place::First)
        || (before.ends_with(':') && (behind.is_empty() || behind.starts_with(' ')))
}
