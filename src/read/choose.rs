//! Where a text may mean several things, each is worked, and the one that closes is taken.

use super::Reading;
use super::blocks::{Block, blocks};
use super::head::Head;
use super::label::label;
use super::lexicon::{Lexicon, line_of};
use super::pattern;
use super::told::Lead;
use crate::compiled::{compile, errors};
use crate::stitch::{Stitches, Terms};

/// One way to take what the text leaves open.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Way {
    /// Whether `rep from * 5 times` means five more.
    pub more: bool,
    /// What rows and rounds start with.
    pub lead: Lead,
    /// The stitch names, where the text doesn't say which.
    terms: Option<Terms>,
}

/// Reads a text in the way that closes.
pub(super) fn read(text: &str) -> Reading {
    let (blocks, stitches) = (blocks(text), Stitches::standard());
    let head = Head::of(&blocks, &stitches, None);
    let ways = ways(&blocks, &head, &stitches);
    let mut readings = ways.into_iter().map(|way| {
        let head = Head::of(&blocks, &stitches, way.terms);
        (pattern::read(&blocks, &head, &stitches, &way), way)
    });
    let Some((first, first_way)) = readings.next() else { return Reading::default() };
    let others: Vec<(Reading, Way)> = readings.collect();
    if others.is_empty() {
        return first;
    }
    let faults = |reading: &Reading| {
        let left = reading.instructions.len() - reading.read();
        errors(&compile(&reading.notation).findings).len() + 2 * left
    };
    let mut measured: Vec<(usize, Reading, Way)> = std::iter::once((first, first_way))
        .chain(others)
        .map(|(reading, way)| (faults(&reading), reading, way))
        .collect();
    measured.sort_by_key(|(faults, ..)| *faults);
    let fewest = measured.first().map_or(0, |(faults, ..)| *faults);
    // What every good reading has in common was not chosen.
    let good: Vec<Way> =
        measured.iter().filter(|(faults, ..)| *faults == fewest).map(|(.., way)| way.clone()).collect();
    let all: Vec<Way> = measured.iter().map(|(.., way)| way.clone()).collect();
    let Some((_, mut reading, way)) = measured.into_iter().next() else { return Reading::default() };
    reading.chosen = chosen(&way, &good, &all);
    reading.notation = marked(&reading);
    reading
}

/// The remarks that say what was chosen stand below the title.
fn marked(reading: &Reading) -> String {
    let (title, rest) = reading.notation.split_once('\n').unwrap_or((&reading.notation, ""));
    let remarks: String = reading.chosen.iter().map(|chosen| format!("# {chosen}\n")).collect();
    format!("{title}\n{remarks}{rest}")
}

fn chosen(way: &Way, good: &[Way], all: &[Way]) -> Vec<String> {
    let mut told = Vec::new();
    let mut say = |alike: &dyn Fn(&Way) -> bool, what: String| {
        if all.iter().any(|other| !alike(other)) {
            let closes = good.iter().all(alike);
            let why = if closes { "it is the reading that closes" } else { "other readings close as well" };
            told.push(format!("read by choosing: {what}; {why}"));
        }
    };
    say(
        &|other| other.terms == way.terms,
        format!("stitch names are {} terms", if way.terms == Some(Terms::Uk) { "UK" } else { "US" }),
    );
    let times = if way.more { "so many times more" } else { "so many times in all" };
    say(&|other| other.more == way.more, format!("what is repeated from a star is worked {times}"));
    let lead = match &way.lead {
        Lead::None => "the chain at the beginning of a row is worked into as it stands".to_owned(),
        Lead::Plain(chains) => format!("chain {chains} at the beginning of a row or round counts as nothing"),
        Lead::Counted(chains, stitch) => {
            format!("chain {chains} at the beginning of a row or round counts as a {stitch}")
        }
    };
    say(&|other| other.lead == way.lead, lead);
    told
}

/// What the text leaves open, in every way.
fn ways(blocks: &[Block], head: &Head, stitches: &Stitches) -> Vec<Way> {
    let below = blocks.get(head.instructions..).unwrap_or_default();
    let lexicon = Lexicon::new(stitches, head.terms.unwrap_or(Terms::Us), head.sizes.len().max(1));
    let bodies = below.iter().filter_map(|block| {
        let tokens = lexicon.read(&block.text);
        let ends = label(&tokens)?.ends;
        Some(line_of(&lexicon.read(block.text.get(ends..)?)))
    });
    let bodies: Vec<String> = bodies.collect();
    let terms: &[Option<Terms>] = if head.terms.is_some() { &[None] } else { &[Some(Terms::Us), Some(Terms::Uk)] };
    let counted =
        bodies.iter().any(|body| body.contains("rep from *") && body.contains(" times") && !body.contains("more"));
    let chains = if head.way.is_some() || head.lead != Lead::None { None } else { leading_chain(&bodies) };
    let mut ways = Vec::new();
    for terms in terms {
        for more in if counted { &[false, true][..] } else { &[false] } {
            let names = terms.or(head.terms).unwrap_or(Terms::Us);
            for lead in leads(chains, stitches, names) {
                ways.push(Way { more: *more, lead, terms: *terms });
            }
        }
    }
    ways
}

/// The chain that most rows begin with, where it isn't said what it counts as.
fn leading_chain(bodies: &[String]) -> Option<u32> {
    let chain = |body: &String| {
        let begins = body.strip_prefix("turn , ").unwrap_or(body).strip_prefix("ch ")?;
        let (number, rest) = begins.split_once(' ')?;
        (!rest.starts_with("( counts") && !rest.contains("from hook")).then(|| number.parse::<u32>().ok())?
    };
    let ends = |body: &String| {
        body.split_once(" , turn").and_then(|(before, _)| before.rsplit_once("ch ")?.1.parse::<u32>().ok())
    };
    let numbers: Vec<u32> = bodies.iter().filter_map(|body| chain(body).or_else(|| ends(body))).collect();
    let most = numbers
        .iter()
        .max_by_key(|number| (numbers.iter().filter(|other| other == number).count(), u32::MAX - **number))?;
    (1..=5).contains(most).then_some(*most)
}

fn leads(chains: Option<u32>, stitches: &Stitches, terms: Terms) -> Vec<Lead> {
    let Some(chains) = chains else { return vec![Lead::None] };
    let plain = Lead::Plain(chains.to_string());
    let tall = stitches.plain(chains).and_then(|id| stitches.get(id)).filter(|_| chains > 1);
    let counted = tall.map(|stitch| Lead::Counted(chains.to_string(), stitch.names(terms).short.clone()));
    std::iter::once(plain).chain(counted).chain([Lead::None]).collect()
}
