//! What stands above the instructions: title, sizes, materials, stitches that are explained, and notes.

use std::cell::Cell;

use ringtrue_grammar::prose::Rule;

use super::blocks::{Block, Kind, entry, entry_number};
use super::colours::{self, Striped};
use super::defined;
use super::edges::{self, Intro};
use super::label::label;
use super::lexicon::{Lexicon, Token, is_amount, line_of, own_word, yarn_word};
use super::listed::longest;
use super::missed::{self, Among};
use super::named::named;
use super::pattern::{begins_block, begins_so, copies_said, parsed, sentences};
use super::sizes;
use super::told::{Lead, Teller};
use crate::stitch::{Stitches, Terms};

const HEADINGS: &str = include_str!("headings.txt");

/// A stitch that the text explains.
#[derive(Debug, Clone)]
struct Own {
    short: String,
    full: String,
    how: String,
}

/// What stands above the instructions.
#[derive(Debug, Clone, Default)]
pub(super) struct Head {
    pub title: String,
    pub sizes: Vec<String>,
    /// What stands between the first two of them.
    parted_by: String,
    /// Names of the pieces, in their order.
    pub pieces: Vec<String>,
    /// The number of the block in which the instructions begin.
    pub instructions: usize,
    pub way: Option<&'static str>,
    /// Whether that is only said in a note.
    pub loosely: bool,
    /// Whether each row says if it is turned first.
    pub says_turns: bool,
    pub turned: bool,
    pub lead: Lead,
    /// Whether that holds for the rows too that don't say it themselves.
    pub led_all: bool,
    /// Whether a count has the chains among its stitches.
    pub counts_chains: bool,
    pub terms: Option<Terms>,
    /// Stripes that all of it is worked in, and where that is said; nothing in place of them where they could not be read.
    pub stripes: Option<(Option<String>, Block)>,
    /// What was chosen in reading it, in words.
    pub chosen: Vec<String>,
    /// Work above the pieces that is not read.
    pub missed: Vec<Block>,
    /// Whether it says of which stitch increases and decreases are.
    pub shapes_said: bool,
    /// How often all pieces are made, where the heading of the instructions says it.
    pub copies: Option<String>,
    yarns: Vec<(String, String)>,
    /// Whether its rows are blocks, by how they begin and what they count.
    diagonal: bool,
    /// How many of the lines were looked at for words that say so, and whether one does.
    looked_for_diagonal: Cell<(usize, bool)>,
    own: Vec<Own>,
    /// Names that the text has for stitches of the trade.
    of_the_trade: Vec<(String, String)>,
    /// The stitch that was explained last, by its place among them.
    explained: usize,
    lines: Vec<String>,
}

/// How all pieces are worked, where a sentence says only that: `Work in continuous rounds, don't join.`
fn way_said(words: &str) -> Option<&'static str> {
    if words.contains('~') || words.contains(':') {
        return None;
    }
    let has = |what: &str| words.contains(what);
    let spiral = has("spiral")
        || has("continuous rnd")
        || has("do not join") && has("rnd")
        || has("don't join") && has("rnd")
        || has("without joining");
    let joined = has("joined rnd") || has("join each rnd") || has("join at end of each rnd");
    let rows = has("in row") && !has("rnd");
    match (spiral, joined, rows) {
        (true, false, false) => Some("in a spiral"),
        (false, true, false) if !has("turn") => Some("in joined rounds"),
        _ => None,
    }
}

/// `Each round is joined with a sl st and starts with a ch 1 (not a stitch)`: joined rounds, and what each of them begins with.
pub(super) fn rounds_said(words: &str) -> Option<Lead> {
    let words = format!(" {} ", words.trim_end_matches([' ', '.']));
    let has = |what: &str| words.contains(&format!(" {what} "));
    let each = ["each rnd", "all rnd", "every rnd"].iter().any(|all| has(all));
    let joined = has("join") || has("joined") || has("closed") || (has("end") || has("ends")) && has("~sl_st");
    let other = ["do not join", "don't join", "without joining", "never join", "not joined", "unless", "turn", "*"];
    if !each || !joined || other.iter().any(|said| has(said)) {
        return None;
    }
    let chains: Vec<&str> = words
        .match_indices(" ch ")
        // The top of a chain is only where a round is joined.
        .filter(|(at, _)| !words.get(..*at).is_some_and(|before| before.ends_with(" of")))
        .filter_map(|(at, _)| words.get(at + 4..)?.split(' ').next())
        .filter(|number| is_amount(number))
        .collect();
    // Any other stitch with a number is work.
    let works =
        words.split(' ').collect::<Vec<_>>().windows(2).any(
            |two| matches!(two, [number, stitch] if is_amount(number) && *number != "1" && stitch.starts_with('~')),
        );
    let lead = match chains.as_slice() {
        [] => Lead::None,
        [chain] => {
            let counts = words
                .split(" counts as ")
                .nth(1)
                .and_then(|rest| rest.split(' ').find_map(|word| word.strip_prefix('~')));
            // A tall chain that nothing is said of may count or not.
            let nothing = *chain == "1" || ["not", "doesn't", "isn't", "never", "won't"].iter().any(|said| has(said));
            if counts.is_none() && !nothing {
                return Some(Lead::None);
            }
            counts.map_or_else(
                || Lead::Plain((*chain).to_owned()),
                |stitch| Lead::Counted((*chain).to_owned(), stitch.replace('_', " ")),
            )
        }
        _ => return None,
    };
    (!works).then_some(lead)
}

/// Whether a text says nothing but what chains count as and how rounds are closed. Of a chain that is no stitch it may say as well that the
/// first stitch goes where it stands, as it does anyway.
fn is_explained(text: &str, lexicon: &Lexicon<'_>) -> bool {
    let all: Vec<String> = sentences(text).iter().map(|sentence| line_of(&lexicon.read(sentence))).collect();
    let uncounted = |words: &str| {
        let lead = parsed(Rule::intro, words).and_then(edges::intro);
        matches!(lead, Some(Intro::Lead(Lead::Plain(_)))) || matches!(rounds_said(words), Some(Lead::Plain(_)))
    };
    let plain = all.iter().any(|words| uncounted(words));
    let begins = |words: &str| {
        let rest = words.strip_prefix("work ").or_else(|| words.strip_prefix("always work ")).unwrap_or(words);
        let rest = rest.strip_prefix("first ").unwrap_or_default();
        let same = ["same st as ch", "same st as ~sl_st", "same st as join", "same place", "first st", "base of ch"];
        (rest.starts_with('~') || rest.starts_with("st ")) && same.iter().any(|place| rest.contains(place))
    };
    let whole = line_of(&lexicon.read(text));
    rounds_said(&whole).is_some()
        || parsed(Rule::intro, &whole).is_some()
        || plain && all.iter().all(|words| uncounted(words) || begins(words))
}

/// Whether a row begins with the chain that is spoken of.
fn begin_with(blocks: &[Block], lead: &Lead, lexicon: &Lexicon<'_>) -> bool {
    const FIRST_WORDS: usize = 8;
    let (Lead::Plain(chains) | Lead::Counted(chains, _)) = lead else { return false };
    let begins = |block: &Block| {
        let tokens = lexicon.read(&block.text);
        let from = label(&tokens).map_or(0, |label| tokens.iter().filter(|token| token.start < label.ends).count());
        let first = tokens.get(from..).unwrap_or_default().iter().take(FIRST_WORDS).collect::<Vec<_>>();
        first.windows(2).any(|two| matches!(two, [ch, number] if ch.text == "ch" && number.text == *chains))
    };
    blocks.iter().any(begins)
}

/// The block in which the work begins where no heading says so: the first row or start, with the name of its piece.
fn first_work(blocks: &[Block], stitches: &Stitches) -> usize {
    let first = blocks.iter().position(|block| is_work(block, stitches)).unwrap_or(blocks.len());
    let first = begun_above(blocks, first, stitches);
    // The name of the first piece may have a line or two below it.
    let named = (first.saturating_sub(NEAR)..first).rev().find(|at| {
        let block = blocks.get(*at).filter(|_| *at > 0);
        block.is_some_and(|block| {
            is_heading(block, blocks.get(at + 1..).unwrap_or_default(), stitches) && section(&block.text).is_none()
        })
    });
    named.unwrap_or(first)
}

/// Where a part of the text right above the first row begins the work in words that are not known as a beginning, it is the first of it.
fn begun_above(blocks: &[Block], first: usize, stitches: &Stitches) -> usize {
    let lexicon = Lexicon::new(stitches, Terms::Us, 1);
    let begins = |at: &usize| {
        let block = blocks.get(*at).filter(|block| matches!(block.kind, Kind::Paragraph | Kind::Item));
        block.is_some_and(|block| {
            let mut sentences = sentences(&block.text).into_iter().map(|said| lexicon.read(&said));
            missed::is_work(&block.text, &lexicon, Among::Work)
                && !is_explained(&block.text, &lexicon)
                && !words_of(block, stitches).iter().any(|token| matches!(token.text.as_str(), "=" | "yo" | "gauge"))
                // What is said of every round is of the head.
                && sentences.any(|said| missed::begins(&said) && rounds_said(&line_of(&said)).is_none())
        })
    };
    (first.saturating_sub(NEAR).max(1)..first).find(begins).unwrap_or(first)
}

/// So many parts of the text may stand between the name of a piece and its first row.
const NEAR: usize = 3;

fn is_work(block: &Block, stitches: &Stitches) -> bool {
    let tokens = words_of(block, stitches);
    label(&tokens).is_some()
        || row_of_table(block, stitches).is_some()
        || is_start(&tokens)
        || is_entry(block, &tokens)
        || begins_behind_name(block, stitches)
        || is_as_piece(&tokens)
}

/// The number of a row of a table: 1, of `| 1 | 6 sc in MR | 6 |`.
fn row_of_table(block: &Block, stitches: &Stitches) -> Option<u32> {
    let cells: Vec<&str> = block.text.trim_matches('|').split('|').map(str::trim).collect();
    let (first, rest) = cells.split_first().filter(|_| block.kind == Kind::TableRow)?;
    let number = first.split(['-', '–']).next()?.trim().parse::<u32>().ok()?;
    let lexicon = Lexicon::new(stitches, Terms::Us, 1);
    let works = lexicon.read(rest.first()?).iter().any(|token| token.text.starts_with('~') || token.text == "ring");
    works.then_some(number)
}

/// `Work as for Back.`
fn is_as_piece(tokens: &[Token]) -> bool {
    const MOST_WORDS: usize = 7;
    let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    // `Work exactly as Left Front; the fabric is the same on both sides.`: `as` alone may begin any sentence.
    let told = tokens.first().is_some_and(|first| first.end > first.start + "as".len());
    let clause = tokens.iter().position(|token| matches!(token.text.as_str(), "." | ";" | ",")).filter(|_| told);
    let length = clause.unwrap_or(tokens.len());
    let few = length <= if word(1) == "for" { 2 * MOST_WORDS } else { MOST_WORDS };
    // `Work rows 1–52 as for Back.`
    let rows = word(0) == "work" && matches!(word(1), "row" | "rnd") && tokens.iter().any(|token| token.text == "as");
    (word(0) == "as" || rows)
        && (few || rows && tokens.len() <= 2 * MOST_WORDS)
        && !tokens.iter().any(|token| token.text.starts_with('~'))
}

/// `Cuff: Ch 9.`: the beginning of a piece behind its name.
fn begins_behind_name(block: &Block, stitches: &Stitches) -> bool {
    // A picot has fewer chains.
    const LEAST: u32 = 6;
    let Some((name, rest)) = named(&block.text) else { return false };
    if section(name).is_some() || says_to_do(name) || block.kind == Kind::TableRow {
        return false;
    }
    let tokens = words_of(&Block { text: rest.to_owned(), ..block.clone() }, stitches);
    let words = line_of(&tokens);
    let first = words.split(" . ").next().unwrap_or_default();
    let chains = words
        .split(' ')
        .skip_while(|word| *word != "ch")
        .nth(1)
        .and_then(|number| number.split('/').next()?.parse::<u32>().ok());
    parsed(Rule::start, first).is_some()
        || is_start(&tokens) && words.contains("from hook") && chains.is_some_and(|chains| chains >= LEAST)
        || begins_so(name) && in_ring(first)
}

fn words_of(block: &Block, stitches: &Stitches) -> Vec<Token> {
    // How many sizes there are is not known yet: as many as a list has.
    let plain = Lexicon::new(stitches, Terms::Us, 1);
    let tokens = plain.read(&block.text);
    let sizes = longest(&tokens);
    if sizes < 2 {
        return tokens;
    }
    Lexicon::new(stitches, Terms::Us, sizes).read(&block.text)
}

/// Whether words say how a piece begins, and perhaps go on with its first row.
pub(super) fn is_start(tokens: &[Token]) -> bool {
    let words = line_of(tokens);
    let words = words.strip_prefix("work ").filter(|rest| rest.starts_with("ch ")).map_or(words.clone(), str::to_owned);
    // The yarn may be one whose name isn't known yet.
    // `With %green ch 40`, the yarn known and no comma behind it.
    let known =
        words.strip_prefix("with %").or_else(|| words.strip_prefix("in %")).and_then(|rest| rest.split_once(" ch "));
    let words = known.filter(|(yarn, _)| !yarn.contains(' ')).map_or(words.clone(), |(_, rest)| format!("ch {rest}"));
    let begins = ["with ", "using ", "in "].iter().find_map(|with| words.strip_prefix(with));
    let begins = begins.and_then(|rest| rest.split_once(" , "));
    let begins = begins
        .filter(|(yarn, _)| yarn.split(' ').count() < 4 && !yarn.contains(['~', '(']))
        .map_or(words.as_str(), |(_, rest)| rest);
    let chain = begins.strip_prefix("ch ").and_then(|rest| rest.split(' ').next()).is_some_and(is_amount);
    if in_ring(begins) {
        return true;
    }
    let counts = ["counts as", "does not count", "is not", "never", "not st"].iter().any(|said| words.contains(said));
    parsed(Rule::start, &words).is_some() || chain && !counts
}

/// `6 sc in magic ring (6)`, `Magic ring, 5 dc`: the first round, whether it is labelled or not.
pub(super) fn in_ring(words: &str) -> bool {
    let all: Vec<&str> = words.split(' ').collect();
    let stitches = |at: usize| {
        all.get(at).is_some_and(|number| is_amount(number))
            && all.get(at + 1).is_some_and(|stitch| stitch.starts_with('~'))
    };
    // `Make a ring, work 8 sc in ring`, `start with ring and put 8 sc in it`.
    let begins = ["make", "ring", ",", ".", "and", "work", "start", "with", "then", "begin", "in", "put"];
    let from = all.iter().take_while(|word| begins.contains(word)).count();
    let from = if all.iter().take(from).any(|word| *word == "ring") {
        from
    } else {
        usize::from(all.first() == Some(&"work"))
    };
    stitches(from) && all.get(from + 2..from + 4) == Some(&["in", "ring"])
        || all.first() == Some(&"ring") && matches!(all.get(1), Some(&"," | &":")) && stitches(2)
}

/// `1. 6 sc in magic ring (6)`: the first of a list of rounds.
fn is_entry(block: &Block, tokens: &[Token]) -> bool {
    let said_again =
        ["work as", "as for", "repeat", "same as", "rep "].iter().any(|said| block.text.to_lowercase().contains(said));
    entry_number(&block.text) == Some(1)
        && !explains_chain(&line_of(tokens))
        && (said_again || tokens.iter().any(|token| token.text.starts_with('~') || token.text == "ring"))
}

/// `1) Ch 3 at the beginning of a row counts as a dc.`, `2) “V” means (dc, ch 1, dc).`: an entry of a list of notes.
fn explains_chain(words: &str) -> bool {
    let bare = words.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, ' ' | ')' | '.' | ':'));
    let before = |said: &str| bare.split_once(said).map(|(before, _)| before);
    let told = [" counts as ", " count as ", " means ", " does not count", " does not include", " do not include"];
    let said = told.into_iter().find_map(before).filter(|before| !before.contains(['~', '*', '(', '[', ',', '.']));
    said.is_some() || rounds_said(bare).is_some() || parsed(Rule::intro, bare).is_some()
}

/// Whether a row is the first of its piece.
fn is_first(block: &Block, stitches: &Stitches) -> bool {
    let tokens = words_of(block, stitches);
    match label(&tokens) {
        Some(label) => {
            label.spans.is_empty() && label.set_up || label.spans.iter().flatten().any(|(from, _)| *from <= 1)
        }
        None => {
            row_of_table(block, stitches) == Some(1)
                || is_start(&tokens)
                || is_entry(block, &tokens)
                || begins_behind_name(block, stitches)
                || is_as_piece(&tokens)
        }
    }
}

/// Whether a block is the name of a piece: a heading, or a few words above a row.
pub(super) fn is_heading(block: &Block, below: &[Block], stitches: &Stitches) -> bool {
    if matches!(block.kind, Kind::Heading(_)) {
        return true;
    }
    let text = bare_heading(&block.text);
    let text = if text.ends_with("):") { text.trim_end_matches(':') } else { text };
    let few = block.kind == Kind::Paragraph
        && is_name_long(text)
        && text.starts_with(char::is_alphabetic)
        && !text.ends_with(['.', '!', ',', ';'])
        && !text.contains(". ")
        && !text.split(['(', '[']).next().unwrap_or(text).trim_end_matches(':').contains(':')
        && (!text.trim_end_matches(':').contains(':') || made(text).is_some());
    if !few || is_work(block, stitches) || says_to_do(text) || explains(text, block, stitches) {
        return false;
    }
    let next = below.iter().take(NEAR).position(|next| is_work(next, stitches));
    let Some((at, next)) = next.and_then(|at| Some((at, below.get(at)?))) else { return false };
    // What stands right above a later round is no new piece.
    let named = at == 0
        || below.iter().take(at).all(|between| {
            let words = bare_heading(&between.text).split(' ').count();
            words > 2
                || between.text.ends_with('.')
                || !between.text.starts_with(char::is_uppercase)
                || says_to_do(&between.text)
        });
    is_first(next, stitches) && named
}

/// Whether words are few enough for a name; what stands in brackets behind it may say more.
fn is_name_long(text: &str) -> bool {
    const MOST_WORDS: usize = 6;
    const MOST_IN_ALL: usize = 14;
    let words = |text: &str| text.split(' ').filter(|word| !word.is_empty()).count();
    let name = text.split(['(', '[']).next().unwrap_or(text);
    let bracketed = text.ends_with([')', ']']);
    (1..=MOST_WORDS).contains(&words(text))
        || bracketed && (1..=MOST_WORDS).contains(&words(name)) && words(text) <= MOST_IN_ALL
}

/// `Written in US terms`, `FPtr = front post treble`, `S [M, L]`: what is said of words and sizes, and names no piece.
fn explains(text: &str, block: &Block, stitches: &Stitches) -> bool {
    let lower = text.to_lowercase();
    let bare = Block { text: text.to_owned(), ..block.clone() };
    // `SHELL (make 2)` is a part of a toy.
    let name = text.split(['(', '[']).next().unwrap_or(text);
    let named = made(text).is_some() || name.chars().all(|c| !c.is_lowercase());
    let first =
        words_of(&bare, stitches).first().is_some_and(|token| token.text.len() > 1 && token.text.starts_with('~'));
    first && !named
        || is_stated(&lower)
        || lower.contains("terms")
        || lower.contains("abbrev")
        || text.contains('=')
        || are_letters(text)
        || sizes::are_names(text)
        || missed::is_abbreviation(text, &Lexicon::new(stitches, Terms::Us, 1))
}

/// `HOOK  6.5 mm`, `GAUGE 12 hdc x 9 rows`, `YARN  bulky, 90 m`: what is stated in capitals or not, and names no piece.
fn is_stated(lower: &str) -> bool {
    let (first, rest) = lower.split_once([' ', ':']).unwrap_or((lower, ""));
    // `Color A`: what is worked on in it stands below.
    if matches!(first, "color" | "colour" | "shade") && rest.split(' ').count() == 1 {
        return true;
    }
    matches!(first, "hook" | "gauge" | "tension" | "yarn" | "size" | "sizes")
        && rest.contains(|c: char| c.is_ascii_digit())
        && !rest.trim_start().starts_with(['(', '['])
}

/// `S [M, L]`: sizes by their letters.
fn are_letters(text: &str) -> bool {
    let names = sizes::names(text);
    let letters = |name: &String| name.chars().all(|c| c.is_ascii_digit() || matches!(c, 'X' | 'S' | 'M' | 'L' | '-'));
    !names.is_empty() && names.iter().all(letters) && names.iter().any(|name| name.contains(['S', 'M', 'L']))
}

/// Words that begin what a maker is told to do.
pub(super) fn says_to_do(text: &str) -> bool {
    let first = text.split([' ', ',']).next().unwrap_or_default().to_lowercase();
    TOLD.contains(&first.as_str()) && text.split(' ').count() > 1
}

/// What makers are told to do beside the stitches.
pub(super) const TOLD: [&str; 47] = [
    "in",
    "stuff",
    "sew",
    "fasten",
    "cut",
    "weave",
    "place",
    "insert",
    "add",
    "attach",
    "use",
    "using",
    "with",
    "change",
    "switch",
    "join",
    "work",
    "do",
    "don't",
    "make",
    "begin",
    "start",
    "continue",
    "turn",
    "mark",
    "move",
    "leave",
    "note",
    "finish",
    "break",
    "pull",
    "close",
    "flatten",
    "embroider",
    "block",
    "put",
    "for",
    "from",
    "if",
    "you",
    "stop",
    "remember",
    "keep",
    "tip:",
    "hide",
    "secure",
    "before",
];

/// A heading without what only adorns it: `~ Body ~`, `*** HEAD ***`.
fn bare_heading(text: &str) -> &str {
    text.trim_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '(' | ')' | '.' | '!' | ',' | ';' | ':'))
}

/// Whether a block is no name of a piece: a row, or more than a few words.
fn section_or_row(block: &Block, stitches: &Stitches) -> bool {
    block.text.split(' ').count() > 12 || section(&block.text).is_some() || is_work(block, stitches)
}

/// The name of a piece, and how often it is made: `Ear (make 2)`.
pub(super) fn copies(heading: &str) -> (String, Option<String>) {
    let heading = bare_heading(heading.trim()).trim_end_matches(':');
    let number = made(heading);
    // Beside its name only letters and figures are kept; signs mean something in the notation.
    let name = heading
        .split(['(', '[', ':', '–', '—', '|', ',', '{', '#', '>', '"', '“', '/'])
        .map(str::trim)
        .find(|part| !part.is_empty())
        .unwrap_or("Piece");
    let lower = name.to_lowercase();
    let name = lower
        .find("make ")
        .filter(|at| *at > 1)
        .or_else(|| lower.find(" - "))
        .or_else(|| lower.find(" x2"))
        .and_then(|at| name.get(..at))
        .unwrap_or(name);
    let name: String =
        name.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '\'' | '’' | '&')).collect();
    let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let name = name.trim_matches(|c: char| !c.is_alphanumeric());
    (if name.is_empty() { "Piece".to_owned() } else { name.to_owned() }, number)
}

/// `inc = 2 sc in one stitch`, `dec: single crochet 2 together`: of which stitch a shaping is.
fn says_shapes(text: &str) -> bool {
    const FAR: usize = 50;
    let lower = text.to_lowercase();
    lower.match_indices("inc").chain(lower.match_indices("dec")).any(|(at, _)| {
        let behind: String = lower.get(at..).unwrap_or_default().chars().take(FAR).collect();
        let said = behind.split_once(['=', '–', '-', ':', '(', '—', '|']).map_or("", |(_, said)| said);
        let said = said.split([';', '.', '·', '•', '|']).next().unwrap_or_default();
        let words: Vec<&str> = said.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).collect();
        words.iter().any(|word| matches!(*word, "sc" | "dc" | "hdc" | "tr" | "htr" | "single" | "double" | "treble"))
    })
}

/// `4, 6, 8`: numbers of sizes say not how many are made.
fn is_list(inside: &str) -> bool {
    let mut parts = inside.split([',', ';', '/']).map(str::trim);
    inside.contains([',', ';', '/']) && parts.all(|part| part.starts_with(|c: char| c.is_ascii_digit()))
}

/// `make 2`, `make two`, `x2`, `2x`, `× 2`, `two pieces`.
fn made(heading: &str) -> Option<String> {
    let words: Vec<String> = heading
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric() && c != '×')
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    let number = |word: &str| {
        let said = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
        let at = said.iter().position(|one| *one == word).map(|at| (at + 1).to_string());
        at.or_else(|| word.parse::<u32>().ok().filter(|number| *number > 0).map(|number| number.to_string()))
    };
    // `one in A, one in B`.
    let apart = words.windows(2).filter(|two| matches!(two, [one, link] if one == "one" && link == "in")).count();
    let each = (apart > 1).then(|| apart.to_string());
    // `Paw (2)`.
    let inside = heading.split_once('(').and_then(|(_, rest)| rest.split_once(')')).map(|(inside, _)| inside.trim());
    let inside = inside.filter(|inside| !is_list(inside));
    let inside = inside.map(|inside| inside.split([',', ';']).next().unwrap_or(inside).trim());
    let alone = inside.and_then(|inside| inside.parse::<u32>().ok()).filter(|number| (2..=50).contains(number));
    let said = words.iter().enumerate().find_map(|(at, word)| {
        let next = words.get(at + 1).map(String::as_str);
        let sign = |word: &str| word.strip_prefix(['x', '×']).or(word.strip_suffix(['x', '×'])).and_then(number);
        match (word.as_str(), next) {
            ("make" | "work", Some("a")) => words.get(at + 2).filter(|word| *word == "pair").map(|_| "2".to_owned()),
            ("make" | "work", Some("both")) | ("both", Some("alike" | "the" | "same")) => Some("2".to_owned()),
            ("make" | "work", next) => next.and_then(|next| number(next.trim_end_matches('x'))),
            // `12 x 12` is a size.
            ("x" | "×", next)
                if !at.checked_sub(1).and_then(|at| words.get(at)).is_some_and(|word| is_amount(word)) =>
            {
                next.and_then(number)
            }
            (word, Some("alike" | "pieces" | "pcs" | "times" | "off")) => number(word),
            (word, _) => sign(word),
        }
    });
    said.filter(|number| number != "1" || each.is_none()).or(each).or(alone.map(|number| number.to_string()))
}

/// Whether words stand in a text, with no letter right before or behind them.
fn has_words(text: &str, words: &str) -> bool {
    let apart = |at: usize| {
        // A number may stand close before a stitch: `3htr`.
        let before = text.get(..at).is_some_and(|before| before.ends_with(char::is_alphabetic));
        let behind = text.get(at + words.len()..).is_some_and(|behind| behind.starts_with(char::is_alphanumeric));
        !before && !behind
    };
    text.match_indices(words).any(|(at, _)| apart(at))
}

/// Which stitch names a text must have, because it has a name that the others don't have: `htr` is British, `hdc` American.
fn terms_seen(blocks: &[Block]) -> Option<Terms> {
    let has = |names: &[&str]| {
        blocks.iter().any(|block| {
            let text = block.text.to_lowercase();
            names.iter().any(|name| has_words(&text, name))
        })
    };
    let (us, uk) =
        (has(&["sc", "hdc", "single crochet", "sc2tog"]), has(&["htr", "htr2tog", "half treble", "half trebles"]));
    match (us, uk) {
        (true, false) => Some(Terms::Us),
        (false, true) => Some(Terms::Uk),
        _ => None,
    }
}

/// Whether rows are blocks: one begins with the chain and the stitches of a new one, and counts blocks.
fn are_blocks(below: &[Block], stitches: &Stitches) -> bool {
    let counted =
        |block: &&Block| ["block)", "blocks)", "tile)", "tiles)"].iter().any(|said| block.text.contains(said));
    below.iter().filter(counted).any(|block| begins_block(&line_of(&words_of(block, stitches))))
}

/// The stitch names of a text, with the word by which they are chosen where nothing says them.
fn terms_of(blocks: &[Block], above: &[Block]) -> (Option<Terms>, Option<&'static str>) {
    let said = above.iter().chain(blocks).find_map(|block| terms_said(&block.text)).or_else(|| terms_seen(blocks));
    let said = said.or_else(|| country_alone(above));
    let british = british_word(blocks).filter(|_| said.is_none());
    (said.or(british.map(|_| Terms::Uk)), british)
}

/// A word by which a text is likely to have the British stitch names, where its stitches have names that both know: `miss 1 ch`,
/// `tension`, `treble` without `crochet`.
fn british_word(blocks: &[Block]) -> Option<&'static str> {
    const WORDS: [&str; 7] =
        ["miss", "tension", "tr - treble", "tr = treble", "tr – treble", "tr: treble", "tr treble"];
    let has = |word: &&str| blocks.iter().any(|block| has_words(&block.text.to_lowercase(), word));
    let taller = ["tr", "treble", "trebles"].iter().any(has);
    WORDS.into_iter().find(|word| taller && has(word))
}

/// Which stitch names a text says the pattern has. Where both countries are named so, the first is meant, and the other one explains.
fn terms_said(text: &str) -> Option<Terms> {
    let text = text.to_lowercase();
    let of = |country: &str| if matches!(country, "us" | "american") { Terms::Us } else { Terms::Uk };
    let countries = ["us", "american", "uk", "british", "english (uk)"];
    let said = countries.iter().filter_map(|country| Some((named_terms(&text, country)?, of(country))));
    if let Some((_, terms)) = said.min_by_key(|(at, _)| *at) {
        return Some(terms);
    }
    // `Terms used: UK (dc = US single crochet)`: the first that is named.
    let named = text.split_once("terms used").or(text.split_once("terms:")).map(|(_, rest)| rest);
    let mut words = named.into_iter().flat_map(|rest| rest.split(|c: char| !c.is_alphabetic()));
    if let Some(country) = words.find(|word| matches!(*word, "us" | "uk" | "american" | "british")) {
        return Some(of(country));
    }
    // `(UK)`, or a sentence that says nothing else.
    let alone = |country: &&&str| {
        let sentence = text.split(['.', ';', '|', '\n']).any(|told| told.trim() == **country);
        sentence || text.contains(&format!("({country})"))
    };
    let mut alone = ["us", "uk"].iter().filter(alone);
    if let (Some(country), None) = (alone.next(), alone.next()) {
        return Some(of(country));
    }
    // `UK dc.`; `dc = US sc` explains.
    let by_stitch = ["uk dc", "uk tr", "uk htr"].iter().any(|said| has_words(&text, said)) && !text.contains('=');
    by_stitch.then_some(Terms::Uk)
}

/// The only country that is named above the work, where no hook is said in its sizes by it: `dk, UK words`, `I write American.`
fn country_alone(above: &[Block]) -> Option<Terms> {
    let sentences = above.iter().flat_map(|block| block.text.split(['.', ';', '|', '!']));
    let mut all = sentences.filter_map(|sentence| {
        let words: Vec<&str> = sentence.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        let other = ["hook", "size", "sizes", "needle", "needles", "weight", "shoe", "post"];
        let measured = words.iter().any(|word| other.contains(&word.to_lowercase().as_str()));
        let country = |word: &&str| match *word {
            "US" | "USA" | "American" | "american" => Some(Terms::Us),
            "UK" | "British" | "british" => Some(Terms::Uk),
            _ => None,
        };
        let named: Vec<Terms> = words.iter().filter_map(country).collect();
        let first = named.first().copied().filter(|first| named.iter().all(|other| other == first));
        first.filter(|_| !measured && !sentence.contains('='))
    });
    let first = all.next()?;
    all.all(|other| other == first).then_some(first)
}

/// Where a text says that its stitch names are those of a country.
fn named_terms(text: &str, country: &str) -> Option<usize> {
    const WHAT: [&str; 10] = [
        "terms",
        "terminology",
        "abbreviations",
        "crochet terms",
        "crochet pattern",
        "notation",
        "stitch names",
        "stitches",
        "pattern",
        "conventions",
    ];
    let forms = WHAT.iter().flat_map(|what| {
        [
            format!("{country} {what}"),
            format!("{what} ({country}"),
            format!("{what}: {country}"),
            format!("{what} {country}"),
        ]
    });
    forms.filter(|words| has_words(text, words)).filter_map(|words| text.find(&words)).min()
}

fn title(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, '#' | '>' | '{' | '}')).take(80).collect::<String>().trim().to_owned()
}

/// Which part of a pattern a heading begins.
pub(super) fn section(heading: &str) -> Option<&'static str> {
    let bare = bare_heading(heading);
    // `Abbreviations (US): inc = 2 hdc in one st` is no heading, but what stands below one.
    if bare.split_once(" (").is_some_and(|(_, rest)| !rest.trim_end_matches([':', ' ']).ends_with(')')) {
        return None;
    }
    let heading = bare.split(" (").next().unwrap_or(heading).trim().trim_end_matches(':').to_lowercase();
    let rows = HEADINGS.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(':'));
    rows.filter(|(_, names)| names.split(',').any(|name| name.trim() == heading)).map(|(section, _)| section).next()
}

/// The sizes that stand above the instructions, and what stands between two of them.
fn sizes_said(above: &[Block]) -> (Vec<String>, String) {
    let headed = above.iter().position(|block| section(&block.text) == Some("sizes"));
    let headed = headed.and_then(|at| above.get(at + 1)).filter(|block| block.kind != Kind::TableRow);
    let headed = headed.map(|block| (sizes::names(&block.text), block)).filter(|(names, _)| !names.is_empty());
    let said = |stated: fn(&str) -> Vec<String>| {
        above.iter().map(|block| (stated(&block.text), block)).find(|(names, _)| !names.is_empty())
    };
    let found = headed.or_else(|| said(sizes::stated)).or_else(|| said(sizes::fitted));
    found
        .map(|(names, block)| (sizes::parted_by(&block.text, &names), names))
        .map(|(by, names)| (names, by))
        .unwrap_or_default()
}

impl Head {
    /// Reads what stands above the instructions.
    pub fn of(blocks: &[Block], stitches: &Stitches, terms: Option<Terms>) -> Self {
        let begins =
            |block: &Block| matches!(block.kind, Kind::Heading(_)) && section(&block.text) == Some("instructions");
        let instructions = blocks.iter().position(begins).unwrap_or_else(|| first_work(blocks, stitches));
        let above = blocks.get(..instructions).unwrap_or_default();
        let (terms, british) = terms.map_or_else(|| terms_of(blocks, above), |terms| (Some(terms), None));
        let (sizes, parted_by) = sizes_said(above);
        let mut head = Self { sizes, parted_by, instructions, terms, ..Self::default() };
        head.chosen.extend(
            british.map(|word| {
                format!("read by choosing: stitch names are UK terms, by “{word}”; the text doesn't say so")
            }),
        );
        head.shapes_said = above.iter().any(|block| says_shapes(&block.text));
        head.read_above(above, stitches);
        let mut headings = blocks.iter().filter(|block| section(&block.text) == Some("instructions"));
        head.copies = headings.find_map(|block| copies(&block.text).1);
        if head.sizes.is_empty()
            && let Some(inferred) = sizes::inferred(blocks.iter().map(|block| block.text.as_str()))
        {
            head.sizes = inferred.names;
            head.chosen.push(inferred.why);
        }
        if head.title.is_empty() {
            "Untitled".clone_into(&mut head.title);
        }
        let below = blocks.get(instructions..).unwrap_or_default();
        let headings = below
            .iter()
            .enumerate()
            .filter(|(at, block)| is_heading(block, below.get(at + 1..).unwrap_or_default(), stitches));
        let named =
            headings.filter(|(_, b)| section(&b.text).is_none() && sizes::chosen(&b.text, &head.sizes).is_none());
        head.pieces = named.map(|(_, b)| copies(&b.text).0).collect();
        if head.pieces.is_empty() {
            head.pieces.push(head.title.clone());
        }
        head.made_above(above, stitches);
        for block in below.iter().filter(|block| block.text.contains(" = ")) {
            head.explained_in(&block.text, stitches);
        }
        head.diagonal = are_blocks(below, stitches);
        head.read_notes(stitches, below);
        head.read_stripes(above);
        head.name_yarns(blocks);
        head.name_by_order(blocks);
        head.name_yarns_said(above, below);
        let named = below.iter().filter(|block| !section_or_row(block, stitches));
        head.name_yarns_of_headings(named.filter_map(|block| colours::in_heading(&block.text)));
        head
    }

    /// `Make two the same.`: how often the only piece is made.
    fn made_above(&mut self, above: &[Block], stitches: &Stitches) {
        if self.pieces.len() == 1 && self.copies.is_none() {
            let lexicon = Lexicon::new(stitches, Terms::Us, 1);
            let mut all =
                above.iter().flat_map(|block| sentences(&block.text)).filter(|said| said.starts_with("Make "));
            let told = all.find_map(|said| Some((copies_said(&lexicon.read(&said))?, said)));
            if let Some((copies, said)) = told {
                self.copies = Some(copies);
                // What is taken up is not missed.
                let at = self.missed.iter().position(|block| block.text.contains(&said));
                if let Some(block) = at.map(|at| self.missed.remove(at)) {
                    self.lines.retain(|line| *line != format!("# {}", missed::remark(&block.text)));
                    self.looked_for_diagonal.take();
                    self.lines.push(format!("note {}", block.text.replace(['{', '}'], "")));
                }
            }
        }
    }

    /// What stands above the instructions, part by part.
    fn read_above(&mut self, above: &[Block], stitches: &Stitches) {
        let mut part = "";
        for block in above {
            if let Kind::Heading(_) = block.kind {
                match section(&block.text) {
                    Some(section) => part = section,
                    None if self.title.is_empty() => self.title.clone_from(&block.text),
                    None => self.lines.push(format!("# {}", block.text)),
                }
                continue;
            }
            match section(block.text.trim_end_matches(':')) {
                Some(section) => part = section,
                None if self.title.is_empty() => {
                    self.title = title(&block.text);
                }
                None => self.block(part, block, stitches),
            }
        }
    }

    /// What is said of stripes above the pieces.
    fn read_stripes(&mut self, above: &[Block]) {
        let said = above.iter().find_map(|block| {
            let sentence = block.text.split(". ").find_map(colours::stripes)?;
            Some((sentence, block.clone()))
        });
        let Some((striped, block)) = said else { return };
        let Striped::So(all) = striped else { return self.stripes = Some((None, block)) };
        for (name, _) in &all {
            if self.yarn_called(name).is_none() {
                self.yarns.push((name.clone(), format!("yarn {}", yarn_word(name))));
            }
        }
        let told: Vec<String> = all.iter().map(|(name, rows)| format!("{} {rows}", yarn_word(name))).collect();
        self.stripes = Some((Some(told.join(", ")), block));
    }

    /// Yarns that headings name. Where there is only one, there is nothing to tell apart.
    fn name_yarns_of_headings<'t>(&mut self, names: impl Iterator<Item = &'t str>) {
        let mut new: Vec<&str> = Vec::new();
        for name in names.filter(|name| self.yarn_called(name).is_none()) {
            if !new.iter().any(|known| known.eq_ignore_ascii_case(name)) {
                new.push(name);
            }
        }
        if self.yarns.len() + new.len() > 1 {
            self.yarns.extend(new.into_iter().map(|name| (name.to_owned(), format!("yarn {}", yarn_word(name)))));
        }
    }

    /// Whether the text says that it is worked from corner to corner.
    pub fn is_diagonal(&self) -> bool {
        let says = |text: &str| {
            let lower = text.to_lowercase();
            ["corner to corner", "corner-to-corner", "c2c"].iter().any(|said| lower.contains(said))
        };
        let (looked_at, said) = self.looked_for_diagonal.get();
        let said = said || self.lines.iter().skip(looked_at).any(|line| says(line));
        self.looked_for_diagonal.set((self.lines.len(), said));
        self.diagonal || said || says(&self.title)
    }

    /// Whether there is one yarn at most, and nothing to tell apart.
    pub fn has_one_yarn(&self) -> bool {
        self.yarns.len() < 2
    }

    /// The yarn that is called so, however it is spelt.
    pub fn yarn_called(&self, name: &str) -> Option<String> {
        let same = |known: &&(String, String)| known.0.eq_ignore_ascii_case(name);
        self.yarns.iter().find(same).map(|(known, _)| yarn_word(known))
    }

    fn block(&mut self, part: &str, block: &Block, stitches: &Stitches) {
        let text = self.note_without_number(&block.text, stitches);
        let among = if matches!(part, "" | "notes") { Among::Work } else { Among::Lists };
        let lexicon = Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), self.sizes.len().max(1));
        if !is_explained(text, &lexicon) && missed::is_work(text, &lexicon, among) {
            self.missed.push(block.clone());
            return self.lines.push(format!("# {}", missed::remark(text)));
        }
        self.explained_in(text, stitches);
        if self.sizes.is_empty() && are_letters(text) {
            self.sizes = sizes::names(text);
        }
        let lower = text.to_lowercase();
        match part {
            "sizes"
                if ["gauge", "tension"].iter().any(|what| lower.starts_with(what)) && self.measure(text, stitches) => {}
            "sizes" => self.size(block),
            "materials" | "gauge" if self.measure(text, stitches) => {}
            "materials" => self.material(text),
            "abbreviations" => self.abbreviation(text, stitches),
            "special" => self.special(text),
            "notes" => self.note(text),
            "" if ["gauge", "tension", "hook"].iter().any(|what| lower.contains(what))
                && self.measure(text, stitches) => {}
            "" => self.top(text),
            _ => self.lines.push(format!("# {text}")),
        }
    }

    /// `1) Ch 3 at the beginning of a row counts as a dc.`: a note without the number that it has in its list.
    fn note_without_number<'t>(&self, text: &'t str, stitches: &Stitches) -> &'t str {
        let Some((.., ends)) = entry(text) else { return text };
        let rest = text.get(ends..).unwrap_or(text).trim_start();
        let lexicon = Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), self.sizes.len().max(1));
        if explains_chain(&line_of(&lexicon.read(rest))) { rest } else { text }
    }

    /// What a text says of stitches that it names.
    fn explained_in(&mut self, text: &str, stitches: &Stitches) {
        for (short, meant) in
            defined::other_than_usual(text, &Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), 1))
        {
            match meant {
                defined::Meant::Trade(stitch) => self.of_the_trade.push((short, stitch)),
                defined::Meant::Steps(how, full) if !self.own.iter().any(|own| own.short == short) => {
                    self.own.push(Own { short, full, how });
                }
                defined::Meant::Steps(..) => {}
            }
        }
    }

    fn top(&mut self, text: &str) {
        match text.split_once(": ") {
            Some(("Stitch names" | "Terms" | "Terminology", terms)) => {
                self.terms = Some(if terms.contains("UK") { Terms::Uk } else { Terms::Us });
            }
            Some(("For", whom)) => {
                let words = ["baby", "child", "adult", "toy", "home", "pet"];
                let known = words.iter().find(|word| whom.split(' ').any(|w| w == **word));
                self.lines.push(known.map_or_else(|| format!("# {text}"), |word| format!("for {word}")));
            }
            Some(("Level", level)) => self.lines.push(format!("skill {}", level.to_lowercase())),
            _ => match text.strip_prefix("By ") {
                Some(by) => self.lines.push(format!("by {by}")),
                None => {
                    // Only one line says what it is; the others are notes.
                    let first = !self.lines.iter().any(|line| line.starts_with("about "));
                    let sort = if first { "about" } else { "note" };
                    self.lines.push(format!("{sort} {}", text.replace(['{', '}'], "")));
                }
            },
        }
    }

    fn size(&mut self, block: &Block) {
        let text = block.text.as_str();
        if self.sizes.is_empty() && block.kind != Kind::TableRow && text.contains(['(', '[']) {
            self.sizes = sizes::names(text);
        }
        if block.kind == Kind::TableRow {
            let cells: Vec<&str> = text.trim_matches('|').split('|').map(str::trim).collect();
            let is_rule = |cell: &&str| cell.chars().all(|c| matches!(c, '-' | ':'));
            match cells.first().copied() {
                Some("Size") => return self.sizes.clear(),
                Some(name) if !is_rule(&name) => return self.sizes.push(name.to_owned()),
                _ => return,
            }
        }
        self.lines.push(format!("# {text}"));
    }

    fn material(&mut self, text: &str) {
        let yarn = text.strip_prefix("Yarn ").map(|yarn| {
            // A yarn is called by a letter, mostly; what stands behind it says what it is.
            let letter = yarn.split(' ').next().filter(|word| word.len() == 1 && word.starts_with(char::is_uppercase));
            let end = letter.map_or_else(|| yarn.find([':', '(']).unwrap_or(yarn.len()), str::len);
            (yarn.get(..end).unwrap_or(yarn).trim().to_owned(), yarn.to_owned())
        });
        // `Yarn needle` is no yarn; `Yarn silk (“silk”): weight 0` is one.
        let called = |name: &str| {
            !name.starts_with(char::is_lowercase)
                || name.split(' ').next().is_some_and(colours::is_colour)
                || !name.contains("needle") && text.contains(['“', ':'])
        };
        match yarn.filter(|(name, _)| called(name)) {
            Some((name, _)) if !self.yarns.iter().any(|(known, _)| *known == name) && !name.contains(", ") => {
                let colour = text.split_once('“').and_then(|(_, rest)| rest.split_once('”')).map(|(colour, _)| colour);
                let quoted = colour.map(|colour| format!(" \"{colour}\"")).unwrap_or_default();
                self.yarns.push((name.clone(), format!("yarn {name}{quoted}")));
                self.lines.push(format!("# {text}"));
            }
            _ => self.lines.push(format!("# {text}")),
        }
    }

    /// `5 mm (US H-8) hook`, `16 sts and 8 rows = 10 cm in dc`; whether it is one of these.
    fn measure(&mut self, text: &str, stitches: &Stitches) -> bool {
        let lexicon = Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), 1);
        let words = line_of(&lexicon.read(text)).replace(" to ", " = ").replace(" × ", " and ");
        let read = hook(&words).or_else(|| gauge(&words));
        let known = read.as_ref().is_some_and(|line| {
            let sort = line.split(' ').next().unwrap_or_default();
            self.lines.iter().any(|other| other.starts_with(&format!("{sort} ")))
        });
        match read.filter(|_| !known) {
            Some(line) => self.lines.extend([line, format!("# {text}")]),
            None => return false,
        }
        true
    }

    fn abbreviation(&mut self, text: &str, stitches: &Stitches) {
        let Some((short, full)) = text.split_once(": ") else { return self.lines.push(format!("# {text}")) };
        let lower = short.to_lowercase();
        if ["size", "gauge", "tension", "hook", "yarn", "materials", "note"].iter().any(|word| has_words(&lower, word))
        {
            return self.top(text);
        }
        let known = Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), 1).read(short);
        let is_word = known.len() == 1
            && known.first().is_some_and(|token| token.text.starts_with('~') || token.text != short.to_lowercase());
        let common = ["ch", "st", "sp", "rnd", "rep", "rem", "beg", "skip", "tog", "rs", "ws", "sl st", "row"];
        let common = common.contains(&short.to_lowercase().as_str());
        // `beg: first cluster` names a stitch, though the word means something else elsewhere.
        let means = |text: &str| Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), 1).read(text);
        let other = common
            && known.len() == 1
            && means(full).first().map(|token| &token.text) != known.first().map(|token| &token.text);
        if !is_word && !common || other && known.first().is_some_and(|token| !token.text.starts_with('~')) {
            self.own.push(Own { short: short.to_owned(), full: full.to_owned(), how: String::new() });
        }
    }

    /// `V-stitch (vst): (Dc, ch 1, dc) in the st or sp that is named.`
    fn special(&mut self, text: &str) {
        let Some((name, how)) = text.split_once(':') else { return self.explain_more(text) };
        // `Notes: …` among the stitches is none of them.
        match section(name) {
            Some("notes") => return self.note(how.trim()),
            Some(_) => return self.lines.push(format!("# {text}")),
            None => {}
        }
        // What is said of a stitch may have a colon too.
        if !name.ends_with(')') && name.split(' ').count() > 3 || name.contains(". ") {
            return self.explain_more(text);
        }
        let (full, short) = match name.strip_suffix(')').and_then(|name| name.rsplit_once(" (")) {
            Some((full, short)) => (full, short),
            None => (name, name),
        };
        let own = Own { short: short.to_lowercase(), full: full.to_lowercase(), how: how.trim().to_owned() };
        let at = self.own.iter().position(|known| known.short.eq_ignore_ascii_case(short));
        self.explained = at.unwrap_or(self.own.len());
        match at.and_then(|at| self.own.get_mut(at)) {
            Some(known) => known.how = own.how,
            None => self.own.push(own),
        }
    }

    fn explain_more(&mut self, text: &str) {
        match self.own.get_mut(self.explained) {
            Some(own) => {
                own.how.push(' ');
                own.how.push_str(text);
            }
            None => self.lines.push(format!("# {text}")),
        }
    }

    fn note(&mut self, text: &str) {
        if let Some((first, others)) =
            text.strip_prefix("Numbers are given for size ").and_then(|text| text.split_once(", then in brackets for "))
            && self.sizes.is_empty()
        {
            let others = others.split(". ").next().unwrap_or_default().trim_end_matches('.');
            let (before, last) = others.rsplit_once(" and ").unwrap_or(("", others));
            self.sizes = vec![first.to_owned()];
            self.sizes.extend(before.split(", ").filter(|name| !name.is_empty()).map(str::to_owned));
            self.sizes.push(last.to_owned());
        }
        self.lines.push(format!("note {}", text.replace(['{', '}'], "")));
    }

    /// Notes that say how all pieces are worked.
    fn read_notes(&mut self, stitches: &Stitches, below: &[Block]) {
        let lexicon = self.lexicon(stitches);
        let notes: Vec<String> = self
            .lines
            .iter()
            .filter_map(|line| line.strip_prefix("note ").or(line.strip_prefix("about ")).or(line.strip_prefix("# ")))
            .map(str::to_owned)
            .collect();
        for note in notes {
            for sentence in note.split_inclusive(". ") {
                let sentence = ["Note:", "NOTE:", "Notes:", "Note -", "N.B."]
                    .iter()
                    .find_map(|begins| sentence.trim().strip_prefix(begins))
                    .unwrap_or(sentence);
                let words = line_of(&lexicon.read(sentence.trim()));
                if let Some(lead) = rounds_said(&words) {
                    self.loosely |= self.way.is_none();
                    self.way = self.way.or(Some("in joined rounds"));
                    if self.lead == Lead::None {
                        self.led_all |= lead != Lead::None;
                        self.lead = lead;
                    }
                    continue;
                }
                if let Some(way) = way_said(&words) {
                    self.loosely |= self.way.is_none();
                    self.way = self.way.or(Some(way));
                    continue;
                }
                if words.starts_with("in counts each ch") {
                    self.counts_chains = true;
                }
                match parsed(Rule::intro, &words).and_then(edges::intro) {
                    Some(Intro::Way(_)) if self.way == Some("in Tunisian rows") => {}
                    Some(Intro::Way(way)) => self.way = Some(way),
                    Some(Intro::RowsSayTurns) => {
                        self.way = Some("in rows");
                        self.says_turns = true;
                    }
                    Some(Intro::Turned) => {
                        self.way = Some("in joined rounds");
                        self.turned = true;
                    }
                    // Where no row begins with it, there is nothing that it is said of.
                    Some(Intro::Lead(lead)) if begin_with(below, &lead, &lexicon) => self.lead = lead,
                    _ => {}
                }
            }
        }
    }

    /// Yarns that are called by a letter where they are used, and nowhere else.
    fn name_yarns(&mut self, blocks: &[Block]) {
        let stitches = Stitches::standard();
        let lexicon = Lexicon::new(&stitches, Terms::Us, 1);
        // One such heading alone is rather a piece, as `Rose:`.
        let by_colour = blocks.iter().filter(|block| colours::is_colour(alone(&block.text))).count() > 1;
        let headings: Vec<String> =
            self.pieces.iter().flat_map(|name| name.split(' ').map(str::to_lowercase).collect::<Vec<_>>()).collect();
        for block in blocks {
            let tokens = lexicon.read(&block.text);
            for name in colours::yarns(&block.text, &tokens, &lexicon, &headings) {
                if !self.yarns.iter().any(|(known, _)| *known == name) {
                    let word = yarn_word(&name);
                    let said = if word == name { String::new() } else { format!(" \"{name}\"") };
                    self.yarns.push((name, format!("yarn {word}{said}")));
                }
            }
            // `Red:` stands alone above the rows that are worked in it.
            let alone = alone(&block.text);
            if by_colour
                && colours::is_colour(alone)
                && !self.yarns.iter().any(|(known, _)| known.eq_ignore_ascii_case(alone))
            {
                self.yarns.push((alone.to_owned(), format!("yarn {alone}")));
            }
            self.name_in_turns(&block.text);
            self.name_in_brackets(&block.text, &tokens);
            self.name_behind_label(&block.text, &tokens);
            for three in tokens.windows(3) {
                // `Change to white`; `black sc 7, white sc 6`.
                let [change, to, name] = three else { continue };
                if to.text.starts_with('~') && is_amount(&name.text) && colours::is_colour(&change.text) {
                    let known = self.yarns.iter().any(|(known, _)| *known == change.text);
                    self.yarns.extend((!known).then(|| (change.text.clone(), format!("yarn {}", change.text))));
                }
                // `Change to the other colour`: that names none.
                let other =
                    ["other", "second", "new", "next", "first", "another", "same"].contains(&name.text.as_str());
                let colour = name.text.chars().all(|c| c.is_lowercase() || c == '-') && name.text.len() > 2 && !other;
                if change.text == "change"
                    && to.text == "to"
                    && colour
                    && !lexicon.knows(&name.text)
                    && !self.yarns.iter().any(|(known, _)| *known == name.text)
                {
                    self.yarns.push((name.text.clone(), format!("yarn {}", name.text)));
                }
            }
            for token in tokens {
                let name = token.text.strip_prefix('%').map(|name| name.replace('_', " "));
                let name = name.filter(|name| name.starts_with(char::is_alphabetic));
                if let Some(name) = name.filter(|name| !self.yarns.iter().any(|(known, _)| known == name)) {
                    self.yarns.push((name.clone(), format!("yarn {name}")));
                }
            }
        }
    }

    /// `Yarn: dk, colours M (main) and C (contrast)`, `two colours, I call them Sand and Shell`: names that the head gives to yarns, where
    /// the work goes on in them.
    fn name_yarns_said(&mut self, above: &[Block], below: &[Block]) {
        let speaks = |block: &&Block| {
            let lower = block.text.to_lowercase();
            ["yarn", "colour", "color", "wool", "cotton"]
                .iter()
                .any(|word| has_words(&lower, word) || lower.contains(&format!("{word}s")))
        };
        for (name, said) in above.iter().filter(speaks).flat_map(|block| colours::named_in(&block.text)) {
            let known = self.yarns.iter().any(|(known, _)| *known == name) || self.sizes.contains(&name);
            if !known && below.iter().any(|block| colours::goes_on_in(&block.text, &name)) {
                let said = said.map(|said| format!(" \"{said}\"")).unwrap_or_default();
                self.yarns.push((name.clone(), format!("yarn {}{said}", yarn_word(&name))));
            }
        }
    }

    /// `With 1st colour …`, `Join 2nd colour …`: yarns that are told apart by their order alone.
    fn name_by_order(&mut self, blocks: &[Block]) {
        const ORDER: [&str; 12] =
            ["1st", "2nd", "3rd", "4th", "5th", "6th", "first", "second", "third", "fourth", "fifth", "sixth"];
        let mut found: Vec<String> = Vec::new();
        for block in blocks {
            let words: Vec<&str> =
                block.text.split([' ', ',', '.', ';', ':', '(', ')']).filter(|w| !w.is_empty()).collect();
            for three in words.windows(3) {
                let [before, order, what] = three else { continue };
                let said = ["with", "join", "to", "in", "using", "off", "rejoin", "attach", "cut", "break"];
                let yarn = matches!(what.to_lowercase().as_str(), "colour" | "color" | "shade");
                if yarn && said.contains(&before.to_lowercase().as_str()) && ORDER.contains(order) {
                    found.push(format!("{order} {what}"));
                }
            }
        }
        found.dedup();
        found.sort();
        found.dedup();
        if found.len() > 1 {
            let new = found.into_iter().map(|name| (name.clone(), format!("yarn {} \"{name}\"", yarn_word(&name))));
            self.yarns.extend(new);
        }
    }

    /// `working 2 rows each with B, C, D, and E`: yarns by their letters, one after the other.
    fn name_in_turns(&mut self, text: &str) {
        for (_, list) in
            text.match_indices(" each with ").filter_map(|(at, sign)| Some((at, text.get(at + sign.len()..)?)))
        {
            let letters = list.split([',', ' ', '.']).filter(|word| !matches!(*word, "" | "and"));
            let letters: Vec<&str> = letters.take_while(|word| matches!(word.as_bytes(), [b'A'..=b'H'])).collect();
            for letter in letters.iter().filter(|_| letters.len() > 1) {
                if !self.yarns.iter().any(|(known, _)| known == letter) {
                    self.yarns.push(((*letter).to_owned(), format!("yarn {letter}")));
                }
            }
        }
    }

    /// `Row 3: B. ch 1, sc across`: a yarn by its letter, alone before the steps.
    fn name_behind_label(&mut self, text: &str, tokens: &[Token]) {
        let Some(body) = label(tokens).and_then(|label| text.get(label.ends..)) else { return };
        let letter: String = body.trim_start().chars().take_while(char::is_ascii_uppercase).collect();
        let signed = body.trim_start().get(letter.len()..).is_some_and(|rest| rest.starts_with([':', '.']));
        let known = self.yarns.iter().any(|(known, _)| *known == letter);
        if signed && !known && matches!(letter.as_str(), "A" | "B" | "C" | "D" | "E" | "F" | "MC" | "CC") {
            self.yarns.push((letter.clone(), format!("yarn {letter}")));
        }
    }

    /// `Row 3: (White) ch 1`: a colour alone in brackets, in a row.
    fn name_in_brackets(&mut self, text: &str, tokens: &[Token]) {
        for three in tokens.windows(3).filter(|_| label(tokens).is_some()) {
            let [open, name, close] = three else { continue };
            if (open.text.as_str(), close.text.as_str()) == ("(", ")")
                && colours::is_colour(&name.text)
                && let Some(written) = text.get(name.start..name.end)
                && !self.yarns.iter().any(|(known, _)| known.eq_ignore_ascii_case(written))
            {
                self.yarns.push((written.to_owned(), format!("yarn {written}")));
            }
        }
    }

    /// The words that this text goes by.
    pub fn lexicon<'a>(&self, stitches: &'a Stitches) -> Lexicon<'a> {
        let mut lexicon = Lexicon::new(stitches, self.terms.unwrap_or(Terms::Us), self.sizes.len().max(1));
        lexicon.parted_by.clone_from(&self.parted_by);
        for (name, stitch) in &self.of_the_trade {
            lexicon.add_stitch_of_the_trade(&[name], stitch);
        }
        for name in self.names_of_blocks() {
            lexicon.add_stitch("block", name);
        }
        for own in self.own.iter().filter(|own| !self.names_of_blocks().contains(&own.short.as_str())) {
            match defined::in_the_trade_by((&own.short, &own.full), &own.how, &lexicon) {
                Some(stitch) => lexicon.add_stitch_of_the_trade(&[&own.short, &own.full], &stitch),
                None => lexicon.add_stitch(&own.short, &own.full),
            }
        }
        for (name, _) in &self.yarns {
            lexicon.add_yarn(name);
        }
        for (at, name) in self.pieces.iter().enumerate() {
            lexicon.add_piece(name, at);
        }
        lexicon
    }

    /// The head in the notation.
    pub fn notation(&self, lexicon: &Lexicon<'_>, counts_chains: bool) -> Vec<String> {
        let mut lines = vec![format!("pattern {}", self.title)];
        lines.push(format!("terms {}", if lexicon.terms == Terms::Uk { "UK" } else { "US" }));
        if self.sizes.len() > 1 {
            lines.push(format!("sizes {}", self.sizes.join(" / ")));
        }
        if counts_chains {
            lines.push("counts stitches and chains".to_owned());
        }
        lines.extend(self.yarns.iter().map(|(_, line)| line.clone()));
        lines.extend(in_order(
            self.own
                .iter()
                .filter(|own| !self.names_of_blocks().contains(&own.short.as_str()))
                .filter_map(|own| Some((own.short.clone(), own_stitch(own, lexicon)?))),
        ));
        lines.extend(self.lines.iter().cloned());
        lines
    }
}

/// `hook 5 mm`, from words that name a hook and its width.
fn hook(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let at = all.iter().position(|word| *word == "mm")?;
    let width: f64 = all.get(at.checked_sub(1)?)?.parse().ok()?;
    let named = all.iter().filter(|word| matches!(**word, "hook" | "hooks")).count();
    // Crochet hooks are 0.4 to 25 mm wide (common practice, no source).
    (named == 1 && (0.4..=25.0).contains(&width)).then(|| format!("hook {width} mm"))
}

/// `gauge 16 sts x 8 rows in dc = 10 cm`, from words that have stitches, rows, a length and one stitch.
fn gauge(words: &str) -> Option<String> {
    let all: Vec<&str> = words.split(' ').collect();
    let before = |what: &[&str]| {
        let at = all.iter().position(|word| what.contains(word))?;
        all.get(at.checked_sub(1)?)?.parse::<f64>().ok().filter(|number| *number > 0.0)
    };
    let (across, down) = (before(&["st"])?, before(&["row", "rnd"])?);
    let length = match (before(&["cm"]), before(&["in", "\"", "inch", "inches"])) {
        (Some(cm), _) => format!("{cm} cm"),
        (None, Some(inches)) => format!("{inches} in"),
        (None, None) => return None,
    };
    let mut stitches = all.iter().filter(|word| word.starts_with('~'));
    let stitch = stitches.next()?.trim_start_matches('~').replace('_', " ");
    stitches.next().is_none().then(|| format!("gauge {across} sts x {down} rows in {stitch} = {length}"))
}

/// Stitches in an order in which each is made only of those before it.
fn in_order(stitches: impl Iterator<Item = (String, String)>) -> Vec<String> {
    let mut waiting: Vec<(String, String)> = stitches.collect();
    let mut lines = Vec::new();
    while !waiting.is_empty() {
        let mentions = |line: &str, name: &str| {
            let steps = line.split_once(": ").map_or("", |(_, steps)| steps.split(" > ").next().unwrap_or_default());
            steps.split(|c: char| !c.is_alphanumeric() && c != '-').any(|word| word == name)
        };
        let free = |(short, line): &(String, String)| {
            !waiting.iter().any(|(other, _)| other != short && mentions(line, other))
        };
        let at = waiting.iter().position(free).unwrap_or(0);
        lines.push(waiting.remove(at).1);
    }
    lines
}

/// A stitch of the text's own: of steps, where its words are steps, else one unit that is explained in words.
fn own_stitch(own: &Own, lexicon: &Lexicon<'_>) -> Option<String> {
    let name = if own.full == own.short { String::new() } else { format!(" \"{}\"", own.full) };
    if defined::in_the_trade_by((&own.short, &own.full), &own.how, lexicon).is_some() {
        return None;
    }
    for (steps, said) in definitions(own, lexicon) {
        let words = line_of(&lexicon.read(steps));
        let Some(definition) = parsed(Rule::definition, &words) else { continue };
        let parts: Vec<_> = definition.into_inner().collect();
        let placed = parts.iter().any(|part| part.as_rule() == Rule::named_place);
        let mut teller = Teller { led: true, begun: true, ..Teller::default() };
        if let Some(Ok(steps)) = parts
            .into_iter()
            .find(|part| part.as_rule() == Rule::steps)
            .map(|steps| if placed { teller.in_one_place(steps) } else { teller.steps(steps) })
        {
            // The place that it is worked in is the next one.
            let steps = steps
                .strip_suffix(" in same")
                .filter(|steps| {
                    !steps.contains(", ")
                        || !steps.contains("sl st")
                            && steps.starts_with('(')
                            && steps.find(')') == Some(steps.len() - 1)
                })
                .map_or(steps.clone(), |steps| format!("{steps} in next"));
            let said = if said.is_empty() { String::new() } else { format!(" > {said}") };
            return Some(format!("stitch {}{name}: {steps}{said}", own_word(&own.short)));
        }
    }
    if worked_over(&own.how).is_none() && lexicon.is_of_the_trade(&own.short) {
        return None;
    }
    let (takes, makes, how) = worked_over(&own.how).unwrap_or((1, 1, own.how.as_str()));
    let how = if how.is_empty() { String::new() } else { format!(" > {how}") };
    Some(format!("stitch {}{name}: takes {takes}, makes {makes}{how}", own_word(&own.short)))
}

/// What may be the steps that a stitch is made of: all of its words, or its first sentences where none of the others begins with work.
fn definitions<'o>(own: &'o Own, lexicon: &Lexicon<'_>) -> Vec<(&'o str, &'o str)> {
    let how = own.how.as_str();
    let is_work = |sentence: &str| {
        let words = line_of(&lexicon.read(sentence));
        let first =
            words.split(' ').find(|word| !matches!(*word, "*" | "(" | "[" | "{" | "then" | "and")).unwrap_or_default();
        let commands = ["ch", "skip", "turn", "join", "work", "rep", "yo", "yarn", "insert", "draw", "pull"];
        first.starts_with('~') || first.starts_with(|c: char| c.is_ascii_digit()) || commands.contains(&first)
    };
    let ends = how.match_indices(". ").map(|(at, _)| at + 1);
    let parts = ends.filter_map(|at| Some((how.get(..at)?, how.get(at..)?.trim())));
    let parts = parts.filter(|(_, said)| !said.split(". ").any(is_work));
    std::iter::once((how, "")).chain(parts).collect()
}

/// `Worked over 2 sts, counts as 1 st.`, and what stands behind it.
fn worked_over(how: &str) -> Option<(u32, u32, &str)> {
    let rest = how.strip_prefix("Worked over ")?;
    let (over, rest) = rest.split_once(", counts as ")?;
    let (counts, rest) = rest.split_once('.')?;
    let number = |words: &str| match words.split(' ').next()? {
        "no" => Some(0),
        number => number.parse().ok(),
    };
    Some((number(over)?, number(counts)?, rest.trim()))
}

/// What stands alone before a colon: `Red` of `Red:`.
fn alone(text: &str) -> &str {
    text.trim().strip_suffix(':').unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{Terms, terms_said};

    #[test]
    fn the_country_named_first_is_that_of_the_stitches() {
        for (text, terms) in [
            ("UK terms: dc = US single crochet.", Some(Terms::Uk)),
            ("Terms used: UK (dc = US single crochet)", Some(Terms::Uk)),
            ("cotton cord, 40 m; 4.5 mm hook. UK.", Some(Terms::Uk)),
            ("Written in American terms; for UK terms read dc for sc.", Some(Terms::Us)),
            ("Tension is given in UK sizes.", None),
        ] {
            assert_eq!(terms_said(text), terms, "{text}");
        }
    }
}
