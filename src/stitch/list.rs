//! The table of stitches as it is read by people.

use super::{Stitch, StitchId, Stitches, Terms};
use crate::columns::laid_out;
use crate::words;

/// Every stitch of the trade in these terms, one a line: its abbreviation, its name, what the other terms call it, how many
/// places it takes and how tall it is (in turning chains).
#[must_use]
pub fn listed(terms: Terms) -> String {
    let stitches = Stitches::standard();
    let other = match terms {
        Terms::Us => Terms::Uk,
        Terms::Uk => Terms::Us,
    };
    let heading = match other {
        Terms::Us => "in US terms",
        Terms::Uk => "in UK terms",
    };
    let rows = stitches.iter().map(|(_, stitch)| {
        let (here, there) = (stitch.names(terms), stitch.names(other));
        let takes = if stitch.takes == 0 { "-".to_owned() } else { stitch.takes.to_string() };
        vec![here.short.clone(), here.full.clone(), there.short.clone(), takes, stitch.height.to_string()]
    });
    laid_out(&["write", "stitch", heading, "takes", "height"], rows, |column| column < 3)
}

/// What there is to say of a stitch by its abbreviation or its name; nothing where there is none of that name.
#[must_use]
pub fn told(name: &str, terms: Terms) -> Option<String> {
    let stitches = Stitches::standard();
    let id = stitches.find(name, terms)?;
    let stitch = stitches.get(id)?;
    let names = stitch.names(terms);
    let mut lines = vec![format!("{}: {}", names.short, names.full)];
    lines.push(match terms {
        Terms::Us => format!("UK terms: {}, {}", stitch.uk.short, stitch.uk.full),
        Terms::Uk => format!("US terms: {}, {}", stitch.us.short, stitch.us.full),
    });
    lines.push(takes(stitch));
    if stitch.height > 0 {
        lines.push(format!("height: {} at the beginning of a row", words::count(stitch.height, "turning chain")));
    }
    lines.extend(answers_to(&stitches, id, terms));
    lines.extend(stitches.how(id, terms));
    Some(lines.join("\n"))
}

/// The stitches whose abbreviation or name has a word in it.
#[must_use]
pub fn with_word(word: &str, terms: Terms) -> Vec<String> {
    let word = word.to_lowercase();
    let stitches = Stitches::standard();
    let has = |stitch: &&Stitch| {
        let names = stitch.names(terms);
        names.short.to_lowercase().contains(&word) || names.full.to_lowercase().contains(&word)
    };
    let found = stitches.iter().map(|(_, stitch)| stitch).filter(has);
    found.map(|stitch| stitch.names(terms).short.clone()).collect()
}

fn takes(stitch: &Stitch) -> String {
    match stitch.takes {
        0 => "stands on nothing of the row below".to_owned(),
        takes if stitch.around_post => format!("goes round {}", words::count(takes, "post")),
        takes => format!("takes {} of the row below", words::count(takes, "stitch")),
    }
}

fn answers_to(stitches: &Stitches, id: StitchId, terms: Terms) -> Option<String> {
    let simpler = stitches.get(stitches.get(id)?.answers_to?)?;
    Some(format!("counts as {} where a count names no nearer one", simpler.names(terms).short))
}

#[cfg(test)]
mod tests {
    use super::{Terms, listed, told, with_word};

    /// Source: Craft Yarn Council, Standards & Guidelines for Crochet and Knitting, 2018, term differences.
    #[test]
    fn the_same_word_is_another_stitch_in_the_other_terms() {
        assert!(told("dc", Terms::Us).unwrap().starts_with("dc: double crochet\nUK terms: tr, treble crochet"));
        assert!(told("dc", Terms::Uk).unwrap().starts_with("dc: double crochet\nUS terms: sc, single crochet"));
        assert_eq!(told("double crochet", Terms::Us), told("dc", Terms::Us));
        assert_eq!(told("nonesuch", Terms::Us), None);
    }

    #[test]
    fn every_stitch_has_its_line() {
        let all = super::Stitches::standard().iter().count();
        assert_eq!(listed(Terms::Us).lines().count(), all + 1);
        assert!(with_word("shell", Terms::Us).contains(&"shell".to_owned()));
    }
}
