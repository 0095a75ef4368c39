//! The names that a file gives, with every place where they stand.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{NameKind, Shown};

/// A name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Name {
    /// As it is given, or as it is first used where it is given nowhere.
    pub name: String,
    /// What it is given to.
    pub kind: NameKind,
    /// Where it is given: from, to. Nothing where it is not.
    pub at: Option<(u32, u32)>,
    /// Where else it stands, in the order of the text.
    pub uses: Vec<(u32, u32)>,
}

/// Names in the order in which they first stand in the text. Capitals don't matter.
pub(super) fn names(shown: Shown<'_>) -> Vec<Name> {
    let mut all: Vec<Name> = Vec::new();
    let mut known: BTreeMap<(NameKind, String), usize> = BTreeMap::new();
    for (span, named) in shown.mentions.named() {
        let at = *known.entry((named.kind, named.name.to_lowercase())).or_insert_with(|| {
            all.push(Name { name: named.name.clone(), kind: named.kind, at: None, uses: Vec::new() });
            all.len() - 1
        });
        let Some(name) = all.get_mut(at) else { continue };
        let place = shown.from_to(span);
        if named.given && name.at.is_none() {
            name.at = Some(place);
            name.name.clone_from(&named.name);
        } else {
            name.uses.push(place);
        }
    }
    all
}
