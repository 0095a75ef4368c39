//! Blocks that are worked from corner to corner: each is a few chains and as many stitches, and a row of them is told by their names.

use super::{Head, Reader};
use crate::read::lexicon::{is_number, line_of};

/// The longest row of blocks that is read.
const MOST: usize = 1_000;

/// A block of chains and stitches: `ch 3, 3 dc`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Sort {
    chains: u32,
    stitches: u32,
    stitch: String,
}

impl Sort {
    /// As the head says it.
    pub fn notation(&self) -> String {
        format!("blocks ch {}, {} {}", self.chains, self.stitches, self.stitch.trim_start_matches('~'))
    }
}

impl Reader<'_> {
    /// A line of blocks by their names, where its words make them out of chains and stitches; nothing where they make none.
    pub(super) fn in_blocks(&mut self, words: &str) -> Option<String> {
        if let Some(told) = self.blocks.as_ref().and_then(|sort| row_of_grid(words, sort)) {
            return Some(told);
        }
        self.head.is_diagonal().then_some(())?;
        let all: Vec<&str> = words.split(' ').collect();
        let (mut told, mut at, mut found): (Vec<&str>, usize, Option<Sort>) = (Vec::new(), 0, None);
        while let Some(word) = all.get(at) {
            let rest = all.get(at..).unwrap_or_default();
            let block = new_block(rest).or_else(|| first_block(rest)).or_else(|| block(rest));
            let Some((name, sort, taken)) = block else {
                told.push(word);
                at += 1;
                continue;
            };
            if self.blocks.as_ref().or(found.as_ref()).is_some_and(|known| *known != sort) {
                return None;
            }
            // The very first one stands on the chain that the piece begins with.
            let first = name == "~new-block" && self.piece.start.is_none() && self.piece.written.is_empty();
            if first {
                self.piece.start = Some(format!("ch {}", sort.chains + sort.stitches));
            }
            told.push(if first { "~corner-block" } else { name });
            found = Some(sort);
            at += taken;
        }
        self.blocks = self.blocks.take().or(found);
        self.blocks.as_ref()?;
        told.iter().any(|word| word.ends_with("block")).then(|| {
            told.join(" ")
                .replace("~sl_st in last ch-", "~sl_st in next ch-")
                .replace("~sl_st in ring", "~sl_st in next sp")
        })
    }

    /// Rows that are said again until one block is left: the last of them has no other one to go into.
    pub(super) fn to_last_block(&self, lines: Vec<String>) -> Vec<String> {
        let last = || -> Option<Vec<String>> {
            self.blocks.as_ref()?;
            let [line] = lines.as_slice() else { return None };
            let (row, times) = line.strip_prefix("again ")?.strip_suffix(" times")?.split_once(", ")?;
            let times = times.parse::<u32>().ok().filter(|times| *times > 1)?;
            let cited = self.piece.lines.iter().rev().find(|line| line.starts_with(&format!("{row}: first-block")))?;
            let (steps, count) = cited.split_once(" = ")?;
            let left = count.split(' ').next()?.parse::<u32>().ok()?;
            (steps.contains("to last ch-") && left == times.saturating_add(1)).then(|| {
                let end = steps.rsplit_once("sl st in next ").map_or("", |(_, end)| end);
                vec![
                    format!("again {row}, {} times", times.saturating_sub(1)),
                    format!("row: first-block, sl st in next {end} = 1 block"),
                ]
            })
        };
        last().unwrap_or(lines)
    }

    /// Whether a text only explains how blocks are worked, which their names say as well.
    pub(super) fn explains_blocks(&mut self, text: &str) -> bool {
        const MOST_WORDS: usize = 9;
        if let Some(sort) = text.strip_prefix("New block: ").and_then(|how| self.blocks_of_grid(how)) {
            self.blocks = Some(sort);
            return true;
        }
        let explains = |(name, rest): (&str, &str)| {
            let words: Vec<String> = name.to_lowercase().split(' ').map(str::to_owned).collect();
            let of_blocks = ["block", "tile", "increase", "decrease"];
            let says = words.iter().any(|word| {
                of_blocks.iter().any(|of| word.trim_matches(|c: char| !c.is_alphanumeric()).starts_with(of))
            });
            let work = line_of(&self.lexicon.read(rest));
            says && words.len() <= MOST_WORDS
                && !words.iter().any(|word| word.starts_with("row") && words.len() < 3)
                && work.contains('~')
        };
        self.head.is_diagonal() && text.split_once(": ").is_some_and(explains)
    }
}

impl Reader<'_> {
    /// The blocks of a grid from corner to corner, as a page explains them: `New block: ch 6, dc in 4th ch from hook and in each of next
    /// 2 ch; …. Block in a ch-3 sp: …`.
    fn blocks_of_grid(&self, how: &str) -> Option<Sort> {
        how.contains("Block in a ch").then_some(())?;
        let words = line_of(&self.lexicon.read(how));
        let all: Vec<&str> = words.split(' ').collect();
        new_block(&all).map(|(_, sort, _)| sort)
    }
}

/// A row of such a grid: `turn , new block , block in each of next 2 ch-3 sp ( 2 %B , 1 %A ) , ~sl_st in last ch-3 sp`.
fn row_of_grid(words: &str, sort: &Sort) -> Option<String> {
    let (line, count) = words.split_at(words.find(" .").unwrap_or(words.len()));
    let colours = line.split_once(" ( ").and_then(|(_, rest)| rest.split_once(" )"));
    let line = colours.map_or(line.to_owned(), |(colours, _)| line.replace(&format!(" ( {colours} )"), ""));
    let space = format!("ch-{} sp", sort.chains);
    let corner = format!(
        "{} in {}th ch from hook and in each of next {} ch : first block",
        sort.stitch,
        sort.chains.saturating_add(1),
        sort.stitches.saturating_sub(1)
    );
    let slipped = format!("slip to first {space} , block in ");
    let (mut names, mut rest): (Vec<&str>, &str) = match line.strip_prefix("turn , ").unwrap_or(&line) {
        line if line.starts_with(&corner) => (vec!["~corner-block"], line.get(corner.len()..)?),
        line if line.starts_with("new block") => (vec!["~new-block"], line.get("new block".len()..)?),
        line => (vec!["~first-block"], line.strip_prefix(&slipped)?.trim_start_matches(char::is_alphabetic)),
    };
    if let Some(more) = rest.strip_prefix(" , block in ") {
        let (number, behind) = match more.strip_prefix("each of next ") {
            Some(more) => more.split_once(' ')?,
            None => ("1", more.strip_prefix("next ")?),
        };
        rest = behind.strip_prefix(&space)?;
        names.extend(std::iter::repeat_n("~block", number.parse::<usize>().ok().filter(|number| *number <= MOST)?));
    }
    let ends = match rest.trim() {
        "" => String::new(),
        end => format!(" , {}", end.strip_prefix(", ").filter(|end| *end == format!("~sl_st in last {space}"))?)
            .replace(" in last ", " in next "),
    };
    let count = count.replace(" blocks", " ~block").replace(" block", " ~block");
    let turn = if line.starts_with("turn , ") { "turn , " } else { "" };
    Some(format!("{turn}{}{ends}{count}", in_yarns(&names, colours.map(|(colours, _)| colours))?))
}

/// Blocks, each in its yarn: `2 %B , 1 %A`.
fn in_yarns(names: &[&str], colours: Option<&str>) -> Option<String> {
    let mut told: Vec<String> = Vec::new();
    let mut names = names.iter();
    for run in colours.into_iter().flat_map(|colours| colours.split(" , ")) {
        let (number, yarn) = run.split_once(' ')?;
        told.push(format!("change to {}", yarn.trim_start_matches("in ")));
        for _ in 0..number.parse::<usize>().ok()? {
            told.push((*names.next()?).to_owned());
        }
    }
    let bare = colours.is_none();
    let left: Vec<String> = names.map(|name| (*name).to_owned()).collect();
    (bare || left.is_empty()).then(|| told.into_iter().chain(left).collect::<Vec<_>>().join(" , "))
}

impl Head {
    /// What blocks are called in a text that is worked from corner to corner.
    pub(in crate::read) fn names_of_blocks(&self) -> &'static [&'static str] {
        if self.is_diagonal() { &["block", "tile"] } else { &[] }
    }
}

/// The name of a block, of what it is made, and how many words say it.
type Found = (&'static str, Sort, usize);

/// Words one after the other.
struct Words<'w> {
    all: &'w [&'w str],
    at: usize,
}

impl<'w> Words<'w> {
    fn next(&mut self) -> Option<&'w str> {
        self.at += 1;
        self.all.get(self.at - 1).copied()
    }

    fn is(&mut self, word: &str) -> Option<()> {
        (self.next()? == word).then_some(())
    }

    /// Goes past as many of these as there are.
    fn past(&mut self, words: &[&str]) {
        while self.all.get(self.at).is_some_and(|word| words.contains(word)) {
            self.at += 1;
        }
    }

    fn number(&mut self) -> Option<u32> {
        self.next().filter(|word| is_number(word))?.parse().ok()
    }

    fn stitch(&mut self) -> Option<String> {
        self.next().filter(|word| word.starts_with('~') && *word != "~sl_st").map(str::to_owned)
    }

    /// `ch-3 sp`, `sp`, and of which block it is.
    fn space(&mut self) -> Option<()> {
        self.past(&["next", "first", "last", "same", "that"]);
        let chains = self.next()?;
        if chains != "sp" {
            chains.starts_with("ch").then_some(())?;
            self.past(&["sp"]);
        }
        if self.all.get(self.at) == Some(&"of") {
            self.past(&[
                "of", "next", "first", "prev", "previous", "~block", "~tile", "row", "below", "block", "tile", "same",
                "last",
            ]);
        }
        Some(())
    }
}

/// `ch 6 , ~dc in 4th ch from hook and in each of next 2 ch`.
fn new_block(all: &[&str]) -> Option<Found> {
    let mut words = Words { all, at: 0 };
    words.is("ch")?;
    let chains = words.number()?;
    words.past(&[",", "turn", "and", ".", ";", "1"]);
    let stitch = words.stitch()?;
    words.is("in")?;
    let tall = words.next()?.trim_end_matches(|c: char| c.is_alphabetic()).parse::<u32>().ok()?.checked_sub(1)?;
    for word in ["ch", "from", "hook"] {
        words.is(word)?;
    }
    words.past(&[",", "and", "then", "1"]);
    if words.all.get(words.at) == Some(&stitch.as_str()) {
        words.at += 1;
    }
    words.past(&["in", "each", "of", "next", "last"]);
    let before = words.at;
    let more = words.number().unwrap_or_else(|| {
        words.at = before;
        chains.saturating_sub(tall).saturating_sub(1)
    });
    words.is("ch")?;
    let stitches = more.checked_add(1)?;
    let sort = Sort { chains: tall, stitches, stitch };
    (tall.checked_add(stitches)? == chains).then_some(("~new-block", sort, words.at))
}

/// Whether a row begins with a new block, behind its label: `Row 1: Ch 6, dc in 4th ch from hook and in next 2 ch`.
pub(in crate::read) fn begins_block(words: &str) -> bool {
    let body = words.split_once(" : ").map_or(words, |(_, body)| body);
    let all: Vec<&str> = body.split(' ').collect();
    new_block(&all).is_some()
}

/// `ch 3 , 3 ~dc`.
fn of_what(words: &mut Words<'_>) -> Option<Sort> {
    words.is("ch")?;
    let chains = words.number()?;
    words.past(&[",", "and", "then", "work"]);
    let stitches = words.number()?;
    Some(Sort { chains, stitches, stitch: words.stitch()? })
}

/// `( ~sl_st , ch 3 , 3 ~dc ) in next ch-3 sp`, `~sl_st in next ch-3 sp , ch 3 , 3 ~dc in same sp`.
fn block(all: &[&str]) -> Option<Found> {
    let mut words = Words { all, at: 0 };
    if words.all.first() == Some(&"(") {
        words.at = 1;
        words.is("~sl_st")?;
        words.past(&[",", "and"]);
        let sort = of_what(&mut words)?;
        words.is(")")?;
        words.is("in")?;
        words.space()?;
        return Some(("~block", sort, words.at));
    }
    words.is("~sl_st")?;
    words.past(&["in", "to"]);
    words.space()?;
    words.past(&[",", "and", "then", "."]);
    let sort = of_what(&mut words)?;
    words.is("in")?;
    words.past(&["same"]);
    words.space().or_else(|| words.all.get(words.at.checked_sub(1)?).filter(|word| **word == "st").map(|_| ()))?;
    Some(("~block", sort, words.at))
}

/// `~sl_st in next 3 ~dc and in ch-3 sp , ch 3 , 3 ~dc in same sp`.
fn first_block(all: &[&str]) -> Option<Found> {
    let mut words = Words { all, at: 0 };
    words.is("~sl_st")?;
    words.past(&["in", "each", "of", "first", "next", "across", "over", "along"]);
    let passed = words.number()?;
    words
        .stitch()
        .or_else(|| words.all.get(words.at.checked_sub(1)?).filter(|word| **word == "st").map(|_| String::new()))?;
    words.past(&[",", "and", "~sl_st", "in", "to", "then"]);
    words.space()?;
    words.past(&[",", "and", "then", "."]);
    let sort = of_what(&mut words)?;
    words.is("in")?;
    words.past(&["same"]);
    words.space()?;
    (sort.stitches == passed).then_some(("~first-block", sort, words.at))
}
