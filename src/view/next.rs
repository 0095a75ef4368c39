//! What may come next at a place.

mod line;
mod sources;
pub(in crate::view) mod table;

use std::collections::BTreeSet;

use serde::Serialize;

use super::{Mentions, Places, Shown};
use crate::compiled::compile;
use crate::words;
use line::Before;
use sources::{Offer, Sources};

/// Words that are offered at most.
const MOST: usize = 100;

/// A word or form that may come next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Next {
    /// What is written, in place of what stands from `from` to `to`.
    pub insert: String,
    /// Where the word in hand begins, in code units of UTF-16.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// What is shown in a list.
    pub shown: String,
    /// How it is made, or what it does.
    pub how: String,
}

/// What may come next at a place, the likeliest first; only what goes with what is typed there already. The place is in code
/// units of UTF-16.
#[must_use]
pub fn next(text: &str, at: u32) -> Vec<Next> {
    let text = &*words::with_line_feeds(text);
    let places = Places::new(text);
    let byte = places.byte(at);
    let compiled = compile(text);
    let mentions = Mentions::of(&compiled);
    let shown = Shown { compiled: &compiled, text, places: &places, mentions: &mentions };
    let Some(before) = Before::of(shown, byte) else { return Vec::new() };
    let sources = Sources { shown, before: &before };
    let mut offers: Vec<Offer> = before.comes(shown).into_iter().flat_map(|name| sources.of(name)).collect();
    offers.retain(|offer| offer.fit(&before.typed).is_some());
    // What begins as what is typed comes before what only has a word that does.
    offers.sort_by_key(|offer| offer.fit(&before.typed));
    let (from, to) = shown.from_to(before.place);
    let mut seen = BTreeSet::new();
    offers.retain(|offer| seen.insert(offer.write.clone()));
    offers.truncate(MOST);
    offers.into_iter().map(|offer| Next { insert: offer.write, from, to, shown: offer.shown, how: offer.how }).collect()
}
