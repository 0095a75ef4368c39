//! Work that begins on an opening: stitches that were left, the chain over them, and the corners between.

use crate::pattern::model::{Kind, Opening, Rim, RimFrom};
use crate::words::ordinal;

use super::context::Told;
use super::names::{Amount, Term, Voice};
use super::phrase::{Numbers, Phrase};
use super::start::name;

/// What an opening has in the sizes that are shown.
struct There {
    stitches: Numbers,
    chains: Numbers,
    /// Of the chain, counted in the direction of work: the number of the one that is its middle, and how many come from there on
    /// and before it.
    middle: Numbers,
    from_middle: Numbers,
    before_middle: Numbers,
    /// There are several openings of the name.
    several: bool,
}

impl There {
    fn of(told: Told<'_>, on: &Opening) -> Self {
        let in_size = |size: usize| {
            let piece = told.pieces.get(on.piece)?.sizes.get(size)?;
            piece.openings.iter().find(|opening| opening.name == on.name)
        };
        let sizes = &told.voice.sizes;
        let numbers = |of: &dyn Fn(u32, u32) -> String| {
            Numbers::new(sizes.iter().map(|&size| (size, in_size(size).map(|there| of(there.stitches, there.chains)))))
        };
        let copies = told.voice.pattern.pieces.get(on.piece).map_or(1, |piece| piece.copies);
        Self {
            stitches: numbers(&|stitches, _| stitches.to_string()),
            chains: numbers(&|_, chains| chains.to_string()),
            middle: numbers(&|_, chains| ordinal(chains / 2 + 1)),
            from_middle: numbers(&|_, chains| (chains - chains / 2).to_string()),
            before_middle: numbers(&|_, chains| (chains / 2).to_string()),
            several: copies > 1 || sizes.iter().filter_map(|&size| in_size(size)).any(|there| there.times > 1),
        }
    }
}

/// `join A with sl st in the first of the 30 sts left for left sleeve of Yoke and work around this opening: …`.
pub(super) fn on_opening(told: Told<'_>, on: &Opening, join: &Phrase) -> Phrase {
    let (voice, there) = (told.voice, There::of(told, on));
    let stitches = || counted(voice, &there.stitches, Kind::AnyStitch);
    let chains = || counted(voice, &there.chains, Kind::Chain);
    let at = |what: Phrase| what.then(of(voice, on, there.several));
    let held = || at(Phrase::of("the ").then(stitches()).say(" left unworked for "));
    let free = || at(Phrase::of("the ").then(chains()).say(", on their free side, over "));
    let (from, corners) = match &on.rim {
        Rim::Stitches => return join.clone().say("the first of ").then(held()).say(" and work along them"),
        Rim::Chain => return join.clone().say("the first of ").then(free()).say(" and work along them"),
        Rim::Around { from, corners } => (*from, corners.as_ref().map(|corners| voice.numbers(corners, &[]))),
    };
    let corner = |which: &str| {
        let numbers = corners.clone().filter(|numbers| !numbers.is_nothing())?;
        let place = if numbers.is_one() { " place" } else { " places" };
        Some(Phrase::from(numbers).say(place).say(" in the side of the ").with(voice.term(Term::Stitch)).say(which))
    };
    let (one, other) = (|| corner(" at the corner"), || corner(" at the other corner"));
    let these = |kind| Phrase::of("these ").then(voice.kind(kind, Amount::Many));
    let the = |counted: Phrase| Phrase::of("the ").then(counted);
    let unbridged = there.chains.is_nothing();
    let (first, ways) = match from {
        RimFrom::Stitches if unbridged => {
            (Phrase::of("the first of ").then(held()), vec![Some(these(Kind::AnyStitch)), one(), other()])
        }
        RimFrom::Stitches => {
            let chain = the(chains()).say(" on their free side");
            (Phrase::of("the first of ").then(held()), vec![Some(these(Kind::AnyStitch)), one(), Some(chain), other()])
        }
        RimFrom::Chain => {
            let left = the(stitches()).say(" left unworked");
            (Phrase::of("the first of ").then(free()), vec![Some(these(Kind::Chain)), one(), Some(left), other()])
        }
        RimFrom::MiddleOfChain => {
            let last = Phrase::of("the last ").then(counted(voice, &there.from_middle, Kind::Chain));
            let left = the(stitches()).say(" left unworked");
            let before = Phrase::of("the first ").then(counted(voice, &there.before_middle, Kind::Chain));
            let ways = vec![Some(last), one(), Some(left), other(), Some(before)];
            (Phrase::of("the ").then(there.middle.clone().into()).say(" of ").then(free()), ways)
        }
    };
    let ways: Vec<Phrase> = ways.into_iter().flatten().collect();
    join.clone().then(first).say(" and work around this opening: along ").then(Phrase::list(ways, ", then "))
}

/// `the left sleeve`: an opening by its name.
pub(super) fn called(name: &str) -> Phrase {
    let article = if name.to_lowercase().starts_with("the ") { "" } else { "the " };
    Phrase::of(article).then(Phrase::quoted(name))
}

/// `the left sleeve of Yoke`, `the thumb of Mitten (another opening for each)`.
fn of(voice: &Voice<'_>, on: &Opening, several: bool) -> Phrase {
    let of = called(&on.name).say(" of ").then(name(voice, on.piece));
    if several { of.say(" (another opening for each)") } else { of }
}

fn counted(voice: &Voice<'_>, numbers: &Numbers, kind: Kind) -> Phrase {
    let amount = if numbers.is_one() { Amount::One } else { Amount::Many };
    Phrase::from(numbers.clone()).say(" ").then(voice.kind(kind, amount))
}

/// An opening as one of several edges.
pub(super) fn edge(voice: &Voice<'_>, on: &Opening) -> Phrase {
    let of = of(voice, on, false);
    match &on.rim {
        Rim::Around { .. } => Phrase::of("the opening left for ").then(of),
        Rim::Stitches => {
            Phrase::of("the ").then(voice.kind(Kind::AnyStitch, Amount::Many)).say(" left unworked for ").then(of)
        }
        Rim::Chain => {
            Phrase::of("the free side of the ").then(voice.kind(Kind::Chain, Amount::Many)).say(" over ").then(of)
        }
    }
}
