//! What no compiler can see in a pattern.

use crate::pattern::model::{ItemKind, Pattern};
use crate::{Compiled, words};

/// A sentence for each thing that an editor has to look at herself.
pub(super) fn sentences(compiled: &Compiled) -> Vec<String> {
    let pattern = &compiled.pattern;
    let mut said = Vec::new();
    let maker = words_for_the_maker(pattern);
    if maker > 0 {
        let places = words::count(maker, "place");
        said.push(format!(
            "Words for the maker stand in {places}. They are printed as they are and nothing in them was worked."
        ));
    }
    let own = own_stitches(pattern);
    if !own.is_empty() {
        let names = words::list(&own.iter().map(String::as_str).collect::<Vec<_>>());
        said.push(format!("How {names} is made is told in words only; the numbers used here are the places it takes and the stitches it makes."));
    }
    if !pattern.head.notes.is_empty() || pattern.head.about.is_some() {
        said.push("The description and the notes were not read for their meaning.".to_owned());
    }
    said.push("Gauge, finished measurements and yarn are the designer’s own or worked out from them; no one has measured them here.".to_owned());
    said.push(
        "Whether the work looks as it should, fits, wears well and is fit for whom it is made is for a person to judge. Nothing here says \
         that it is safe: follow the rules where you live and ask a qualified person."
            .to_owned(),
    );
    said
}

fn words_for_the_maker(pattern: &Pattern) -> usize {
    let items = pattern.pieces.iter().flat_map(|piece| &piece.items);
    items.filter(|item| matches!(item.kind, ItemKind::Words(_))).count()
}

/// The designer's stitches that are one unit, by their names.
fn own_stitches(pattern: &Pattern) -> Vec<String> {
    let made_of_steps = |id| pattern.definitions.iter().any(|definition| definition.stitch == id);
    let own = pattern.stitches.iter().filter(|(id, stitch)| stitch.own && !made_of_steps(*id));
    own.map(|(_, stitch)| stitch.names(pattern.terms).short.clone()).collect()
}
