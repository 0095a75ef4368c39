//! Where a text may mean several things, each is worked, and the one that closes is taken.

use std::collections::{BTreeMap, BTreeSet};

use super::blocks::{Block, blocks, entry};
use super::head::Head;
use super::label::label;
use super::lexicon::{Token, is_number, mistyped};
use super::pattern;
use super::told::{Begins, Chains, Lead};
use super::{Became, Reading};
use crate::compiled::{compile, errors};
use crate::diagnostic::Span;
use crate::stitch::{Stitches, Terms};

/// So many chains of different lengths are tried in several ways.
const MOST_CHAINS: usize = 4;

/// One way to take what the text leaves open.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Way {
    /// Whether `rep from * 5 times` means five more.
    pub more: bool,
    /// What chains at the beginning of rows and rounds are, by their number.
    pub chains: Chains,
    /// Whether `1 dc, ch 3, 1 dc in next loop` goes into several places, and `1 sc, 1 dc in next loop` into one.
    pub apart: bool,
    /// Whether a plain stitch that is named as a place is whatever stitch comes: `fpdc around next dc`, which stands over others too.
    pub loosely: bool,
    /// Whether a round that ends with a chain over skipped stitches leaves those behind its last repeat.
    pub gapped: bool,
    /// Whether bare counts have the chains among their stitches.
    pub counts_chains: bool,
    /// The stitch names, where the text doesn't say which.
    terms: Option<Terms>,
}

const LOOSELY: &str =
    "read by choosing: a stitch that is named as a place is whatever stitch comes there; it is the reading that closes";

const GAPPED: &str = "read by choosing: the last chain of a round goes over the stitches that its repeats leave; it is the reading that closes";

const COUNTED: &str = "read by choosing: counts have the chains among their stitches; it is the reading that closes";

/// One thing that is left open, with what it may be: the likeliest first.
#[derive(Debug)]
enum Open {
    Terms,
    More,
    Apart,
    Chain(u32, Vec<Begins>),
}

/// A reading with its way, and how much of it doesn't close.
struct Tried {
    reading: Reading,
    way: Way,
    faults: usize,
    /// Where the first of it stands.
    first: usize,
}

/// Reads a text in the way that closes, and says what was chosen.
pub(super) fn read(text: &str) -> Reading {
    let mut reading = closing(text);
    let read = reading.instructions.iter().filter(|one| one.became == Became::Work);
    let slips: BTreeMap<String, &str> = read.flat_map(|one| mistyped(&one.words)).collect();
    reading
        .chosen
        .extend(slips.iter().map(|(typed, word)| format!("read by choosing: “{typed}” is taken for “{word}”")));
    if !reading.chosen.is_empty() {
        reading.notation = marked(&reading);
    }
    super::begins::found(reading)
}

/// The reading in which least does not close.
fn closing(text: &str) -> Reading {
    let (blocks, stitches) = (blocks(text), Stitches::standard());
    let text = Text { blocks: &blocks, stitches: &stitches };
    let head = Head::of(&blocks, &stitches, None);
    let (mut way, open) = text.left_open(&head);
    if open.is_empty() {
        let tried = text.further(text.tried(way));
        let loosely = (tried.faults > 0).then(|| text.tried(Way { loosely: true, ..tried.way.clone() }));
        return match loosely.filter(|other| other.faults < tried.faults) {
            Some(mut other) => {
                other.reading.chosen.push(LOOSELY.to_owned());
                other.told()
            }
            None => tried.told(),
        };
    }
    if head.terms.is_none() {
        way.terms = Some(Terms::Us);
    }
    let mut best = text.further(text.tried(way));
    let mut chosen = Vec::new();
    for one in open {
        let others: Vec<Way> = one.others(&best.way, &text);
        // What makes no difference is no choice.
        let (mut alike, mut differs) = (false, false);
        for way in others {
            let other = text.tried(way);
            differs |= other.reading.notation != best.reading.notation;
            if other.closes_more(&best, matches!(one, Open::More)) {
                (best, alike) = (other, false);
            } else {
                alike |= other.faults == best.faults && other.reading.notation != best.reading.notation;
            }
        }
        chosen.extend(differs.then_some((one, alike)));
    }
    let loosely = (best.faults > 0).then(|| text.tried(Way { loosely: true, ..best.way.clone() }));
    let loosely = loosely.filter(|other| other.faults < best.faults);
    let said = loosely.is_some().then(|| LOOSELY.to_owned());
    let mut best = loosely.unwrap_or(best);
    best.reading.chosen.extend(chosen.into_iter().map(|(one, alike)| one.told(&best.way, alike)).chain(said));
    best.told()
}

/// The remarks that say what was chosen stand below the title.
fn marked(reading: &Reading) -> String {
    let (title, rest) = reading.notation.split_once('\n').unwrap_or((&reading.notation, ""));
    let remarks: String = reading.chosen.iter().map(|chosen| format!("# {chosen}\n")).collect();
    format!("{title}\n{remarks}{rest}")
}

impl Tried {
    /// Whether less is left that doesn't close, or as much further down.
    fn closes_more(&self, other: &Self, further_down: bool) -> bool {
        self.faults < other.faults || further_down && self.faults == other.faults && self.first > other.first
    }

    /// The reading, with what was chosen besides.
    fn told(mut self) -> Reading {
        self.reading.chosen.extend(self.way.gapped.then(|| GAPPED.to_owned()));
        self.reading.chosen.extend(self.way.counts_chains.then(|| COUNTED.to_owned()));
        self.reading
    }
}

impl Open {
    /// The other ways to take it.
    fn others(&self, way: &Way, text: &Text<'_>) -> Vec<Way> {
        match self {
            Self::Terms => {
                let terms = Some(Terms::Uk);
                let (other, _) = text.left_open(&Head::of(text.blocks, text.stitches, terms));
                vec![Way { terms, chains: other.chains, ..way.clone() }]
            }
            Self::More => vec![Way { more: !way.more, ..way.clone() }],
            Self::Apart => vec![Way { apart: !way.apart, ..way.clone() }],
            Self::Chain(chains, begins) => {
                let others = begins.iter().filter(|one| way.chains.get(chains) != Some(one));
                let mut ways: Vec<Way> = others
                    .map(|one| {
                        let mut other = way.clone();
                        other.chains.insert(*chains, one.clone());
                        other
                    })
                    .collect();
                // What was first may have been taken in other names.
                ways.retain(|other| other != way);
                ways
            }
        }
    }

    fn told(&self, way: &Way, alike: bool) -> String {
        let what = match self {
            Self::Terms => {
                format!("stitch names are {} terms", if way.terms == Some(Terms::Uk) { "UK" } else { "US" })
            }
            Self::More => {
                let times = if way.more { "so many times more" } else { "so many times in all" };
                format!("what is repeated from a star is worked {times}")
            }
            Self::Apart => {
                let there = if way.apart { "without a chain between them" } else { "with a chain between them" };
                format!("stitches {there} that are named before one place all go there")
            }
            Self::Chain(chains, _) => {
                let begins = format!("chain {chains} at the beginning of a row or round");
                match way.chains.get(chains) {
                    Some(Begins::Stitch(tall, stitch)) if tall == chains => format!("{begins} counts as a {stitch}"),
                    Some(Begins::Stitch(tall, stitch)) => {
                        format!("{begins} counts as a {stitch} and {} more", chains.saturating_sub(*tall))
                    }
                    Some(Begins::Nothing) => format!("{begins} counts as nothing"),
                    Some(Begins::Chain) | None => format!("{begins} is worked into as it stands"),
                }
            }
        };
        let why = if alike { "other readings close as well" } else { "it is the reading that closes" };
        format!("read by choosing: {what}; {why}")
    }
}

struct Text<'t> {
    blocks: &'t [Block],
    stitches: &'t Stitches,
}

impl Text<'_> {
    fn tried(&self, way: Way) -> Tried {
        let head = Head::of(self.blocks, self.stitches, way.terms);
        let reading = pattern::read(self.blocks, &head, self.stitches, &way);
        let left = reading.instructions.len() - reading.read();
        let compiled = compile(&reading.notation);
        let found = errors(&compiled.findings);
        let line = |span: &Span| reading.notation.get(..span.start).map_or(0, |before| before.matches('\n').count());
        let first = found.iter().map(line).min().unwrap_or(usize::MAX);
        Tried { faults: found.len() + 2 * left, reading, way, first }
    }

    /// The same with the last chain of a round over what its repeats leave, and with bare counts that have the chains among them, where
    /// that closes more.
    fn further(&self, mut best: Tried) -> Tried {
        let chained = best.reading.notation.lines().any(|line| pattern::gapped(line).is_some());
        if best.faults > 0 && chained {
            let other = self.tried(Way { gapped: true, ..best.way.clone() });
            best = if other.closes_more(&best, true) { other } else { best };
        }
        let counts =
            best.reading.notation.contains("ch ") && !best.reading.notation.contains("counts stitches and chains");
        if best.faults > 0 && counts {
            let other = self.tried(Way { counts_chains: true, ..best.way.clone() });
            best = if other.closes_more(&best, false) { other } else { best };
        }
        best
    }

    /// What the text leaves open, with the way that takes the likeliest of each.
    fn left_open(&self, head: &Head) -> (Way, Vec<Open>) {
        let bodies = self.bodies(head);
        let terms = head.terms.unwrap_or(Terms::Us);
        let (mut way, mut open) = (Way::default(), Vec::new());
        if head.terms.is_none() {
            open.push(Open::Terms);
        }
        let counted = bodies.iter().any(|body| {
            let rep = body.iter().position(|word| word == "rep");
            rep.is_some_and(|at| {
                let rest = body.get(at..).unwrap_or_default();
                rest.iter().any(|word| word == "*")
                    && rest.iter().any(|word| word == "times")
                    && !rest.iter().any(|word| word == "more")
            })
        });
        if counted {
            open.push(Open::More);
        }
        if bodies.iter().any(|body| runs_into_place(body)) {
            open.push(Open::Apart);
        }
        if head.way.is_some() && !head.loosely || self.says_ways(head) {
            return (way, open);
        }
        way.chains = said(&bodies, self.stitches, terms);
        let mut chains: Vec<u32> = Vec::new();
        for body in &bodies {
            for chain in leading(body) {
                let of_all = match &head.lead {
                    Lead::None => false,
                    Lead::Plain(said) | Lead::Counted(said, _) => *said == chain.to_string(),
                };
                if !of_all && !chains.contains(&chain) && !way.chains.contains_key(&chain) {
                    chains.push(chain);
                }
            }
        }
        for chain in chains {
            let begins = likely(chain, &bodies, self.stitches, terms);
            if let Some(first) = begins.first() {
                way.chains.insert(chain, first.clone());
            }
            let tried = open.iter().filter(|one| matches!(one, Open::Chain(..))).count();
            if begins.len() > 1 && tried < MOST_CHAINS {
                open.push(Open::Chain(chain, begins));
            }
        }
        (way, open)
    }

    /// Whether the text says of its pieces how they are worked and what their rows begin with.
    fn says_ways(&self, head: &Head) -> bool {
        let lexicon = head.lexicon(self.stitches);
        let below = self.blocks.get(head.instructions..).unwrap_or_default();
        below.iter().filter(|block| block.text.starts_with("Worked ") || block.text.starts_with("Ch ")).any(|block| {
            let first = block.text.split_inclusive(". ").next().unwrap_or_default();
            let words = super::lexicon::line_of(&lexicon.read(first.trim()));
            pattern::parsed(ringtrue_grammar::prose::Rule::intro, &words).and_then(super::edges::intro).is_some()
        })
    }

    /// The words of each line that says to do something, and of what stands beside them.
    fn bodies(&self, head: &Head) -> Vec<Vec<String>> {
        let lexicon = head.lexicon(self.stitches);
        let words = |tokens: Vec<Token>| -> Vec<String> { tokens.into_iter().map(|token| token.text).collect() };
        let all = self.blocks.iter().map(|block| {
            let tokens = lexicon.read(&block.text);
            let listed = || entry(&block.text).map(|(.., ends)| ends);
            let ends = label(&tokens).map(|label| label.ends).or_else(listed);
            let body = ends.and_then(|ends| block.text.get(ends..));
            words(body.map_or(tokens, |body| lexicon.read(body)))
        });
        all.collect()
    }
}

/// Whether stitches with numbers stand before one that has a place: `1 dc, ch 3, 1 dc in next loop`.
fn runs_into_place(body: &[String]) -> bool {
    let word = |at: usize| body.get(at).map_or("", String::as_str);
    let stitch = |at: usize| is_number(word(at)) && word(at + 1).starts_with('~');
    let link = |at: usize| usize::from(word(at) == ",") + usize::from(word(at) == "and" || word(at + 1) == "and");
    (0..body.len()).filter(|at| stitch(*at)).any(|at| {
        let mut next = at + 2;
        next += link(next);
        if word(next) == "ch" && is_number(word(next + 1)) {
            next += 2;
            next += link(next);
        }
        next > at + 2 && stitch(next) && word(next + 2) == "in"
    })
}

/// The chains that a line begins with, that it ends with before it is turned, and that it skips before its first stitch.
fn leading(body: &[String]) -> BTreeSet<u32> {
    let word = |at: usize| body.get(at).map_or("", String::as_str);
    let number = |at: usize| word(at).parse::<u32>().ok();
    let mut all = BTreeSet::new();
    // A chain that a piece begins with stands for no stitch.
    if pattern::parsed(ringtrue_grammar::prose::Rule::start, &body.join(" ")).is_some() {
        return all;
    }
    let mut at = 0;
    // What may stand before it: turning, joining, slip stitches.
    while let Some(next) = body.get(at) {
        if next == "ch" && number(at + 1).is_some() {
            break;
        }
        let before = [
            "turn", ",", ";", ".", ":", "ring", "join", "with", "~sl_st", "in", "next", "first", "sp", "st", "to",
            "same", "2", "3", "and", "change",
        ];
        if !before.contains(&next.as_str()) && !next.starts_with(['%', '~']) && !next.starts_with("ch-") {
            break;
        }
        at += 1;
    }
    let says = |at: usize| matches!(word(at), "(" | "[") && matches!(word(at + 1), "counts" | "does");
    if word(at) == "ch" && !says(at + 2) {
        all.extend(number(at + 1));
    }
    for at in 0..body.len() {
        if word(at) == "ch" && word(at + 2) == "," && word(at + 3) == "turn" {
            all.extend(number(at + 1));
        }
        if word(at) == "ch" && word(at + 1) == "from" && !matches!(word(at + 3), "(" | "[") {
            let nth: String = word(at.wrapping_sub(1)).chars().take_while(char::is_ascii_digit).collect();
            all.extend(nth.parse::<u32>().ok().and_then(|nth| nth.checked_sub(1)).filter(|skipped| *skipped > 1));
        }
    }
    all.retain(|chain| (1..=12).contains(chain));
    all
}

/// What the text itself says that chains count as.
fn said(bodies: &[Vec<String>], stitches: &Stitches, terms: Terms) -> Chains {
    let mut told = Chains::new();
    let mut both = BTreeSet::new();
    for body in bodies {
        let word = |at: usize| body.get(at).map_or("", String::as_str);
        for (at, _) in body.iter().enumerate().filter(|(_, word)| *word == "counts" || *word == "does") {
            let Some(chains) = chains_before(body, at) else { continue };
            let says = if word(at) == "does" {
                (word(at + 1) == "not" && word(at + 2) == "count").then_some(Begins::Nothing)
            } else {
                counted(body, at, chains, stitches, terms)
            };
            let Some(says) = says else { continue };
            if told.get(&chains).is_some_and(|other| *other != says) {
                both.insert(chains);
            }
            told.insert(chains, says);
        }
    }
    told.retain(|chains, _| !both.contains(chains));
    told
}

/// The number of the chain that is spoken of before a word.
fn chains_before(body: &[String], at: usize) -> Option<u32> {
    const NEAR: usize = 9;
    let before = body.get(at.saturating_sub(NEAR)..at)?;
    let from = before.iter().rposition(|word| word == ".").map_or(0, |at| at + 1);
    let near = before.get(from..)?;
    for (place, word) in near.iter().enumerate().rev() {
        if let Some(number) = word.strip_prefix("ch-").and_then(|number| number.parse().ok()) {
            return Some(number);
        }
        if word == "ch" {
            let next = near.get(place + 1).and_then(|word| word.parse().ok());
            let nth = place
                .checked_sub(1)
                .and_then(|before| near.get(before))
                .filter(|_| near.get(place + 1).is_some_and(|word| word == "from"));
            let digits = nth.map(|nth| nth.chars().take_while(char::is_ascii_digit).collect::<String>());
            let skipped = digits.and_then(|digits| digits.parse::<u32>().ok()).and_then(|nth| nth.checked_sub(1));
            if let Some(number) = next.or(skipped) {
                return Some(number);
            }
        }
    }
    None
}

/// `counts as first dc`, `counts as dc and ch 1`.
fn counted(body: &[String], at: usize, chains: u32, stitches: &Stitches, terms: Terms) -> Option<Begins> {
    let rest = body.get(at + 1..)?;
    let end = rest.iter().position(|word| matches!(word.as_str(), ")" | "]" | "." | ";")).unwrap_or(rest.len());
    let inside = rest.get(..end)?;
    let name = inside.iter().find_map(|word| word.strip_prefix('~')).map(|name| name.replace('_', " "));
    let space = inside.iter().enumerate().find_map(|(at, word)| {
        let after = (word == "ch").then(|| inside.get(at + 1)).flatten().and_then(|number| number.parse::<u32>().ok());
        after.or_else(|| word.strip_prefix("ch-").and_then(|number| number.parse().ok()))
    });
    let tall = chains.checked_sub(space.unwrap_or(0))?;
    let name = name.or_else(|| Some(stitches.get(stitches.plain(chains)?)?.names(terms).short.clone()))?;
    Some(Begins::Stitch(tall, name))
}

/// What a chain may be that nothing is said of, the likeliest first.
fn likely(chains: u32, bodies: &[Vec<String>], stitches: &Stitches, terms: Terms) -> Vec<Begins> {
    let name = |tall: u32| Some(stitches.get(stitches.plain(tall)?)?.names(terms).short.clone());
    let used = |name: &String| {
        let word = format!("~{}", name.replace(' ', "_"));
        bodies.iter().flatten().any(|other| *other == word)
    };
    let as_stitch = |tall: u32| name(tall).map(|name| Begins::Stitch(tall, name));
    // A chain before a short stitch is a loop rather than a tall stitch.
    let short = name(1).map(|name| format!("~{name}")).unwrap_or_default();
    let looped = bodies.iter().any(|body| {
        let at = body
            .iter()
            .position(|word| word == "ch")
            .filter(|at| body.get(at + 1).and_then(|n| n.parse().ok()) == Some(chains));
        let next = at.and_then(|at| {
            body.get(at + 2..)?
                .iter()
                .find(|word| !matches!(word.as_str(), "," | "turn" | ";" | ".") && !is_number(word))
        });
        next.is_some_and(|next| *next == short || next == "~sl_st")
    });
    match chains {
        1 => vec![Begins::Nothing],
        2 => {
            let tall = name(2).filter(used).map(|name| Begins::Stitch(2, name));
            let taller = name(3).filter(used).map(|name| Begins::Stitch(2, name));
            std::iter::once(Begins::Nothing).chain(tall.or(taller)).collect()
        }
        3 => as_stitch(3).into_iter().chain([Begins::Nothing, Begins::Chain]).collect(),
        4 => {
            let tall = as_stitch(4);
            let spaced = name(3).map(|name| Begins::Stitch(3, name));
            let tr = name(4).is_some_and(|name| used(&name));
            let (first, second) = if tr { (tall, spaced) } else { (spaced, tall) };
            let plain = tr.then_some(Begins::Nothing);
            first.into_iter().chain(second).chain(plain).chain([Begins::Chain]).collect()
        }
        _ => {
            let spaced = as_stitch(3).filter(|_| name(3).is_some_and(|name| used(&name)));
            let taller = as_stitch(4).filter(|_| name(4).is_some_and(|name| used(&name)));
            let shorter = name(2).filter(used).map(|name| Begins::Stitch(2, name));
            let tall = spaced.into_iter().chain(taller).chain(shorter);
            if looped {
                std::iter::once(Begins::Chain).chain(tall).collect()
            } else {
                tall.chain([Begins::Chain]).collect()
            }
        }
    }
}
