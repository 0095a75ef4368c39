//! Names that stand in one line with what they name.

use super::pattern::begins_so;

/// So many words a name has at most.
const MOST_WORDS: usize = 6;

/// `Cuff: Ch 9.`, `MOTIF … Ch 6`, `COLLAR—Side (Make 2).... Starting at point, ch 8.`: a name, and what is said behind it.
pub(super) fn named(text: &str) -> Option<(&str, &str)> {
    let (at, sign) =
        [": ", "...", "…"].iter().filter_map(|sign| Some((text.find(sign)?, *sign))).min().or_else(|| {
            // A dash may stand in a sentence, but behind a name in capitals.
            let (at, sign) =
                [" — ", "—", " – ", ". "].iter().filter_map(|sign| Some((text.find(sign)?, *sign))).min()?;
            let known = |name: &&str| is_in_capitals(name) || sign != ". " && begins_so(name);
            text.get(..at).filter(known).map(|_| (at, sign))
        })?;
    let name = text.get(..at)?.trim_end_matches(['.', ' ']);
    let rest = text.get(at + sign.len()..)?.trim_start_matches(['.', '…', ' ', '—']);
    let few = (1..=MOST_WORDS).contains(&name.split(' ').count()) && !name.contains(['.', ';', '*']);
    (few && name.starts_with(char::is_alphabetic) && !rest.is_empty()).then_some((name, rest))
}

fn is_in_capitals(name: &str) -> bool {
    const LEAST: usize = 3;
    name.chars().filter(|c| c.is_uppercase()).count() >= LEAST && !name.chars().any(char::is_lowercase)
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_name_stands_before_many_signs() {
        for (text, name, rest) in [
            ("Cuff: Ch 9.", "Cuff", "Ch 9."),
            ("MOTIF... Starting at center, ch 6.", "MOTIF", "Starting at center, ch 6."),
            ("SAIL—Side (Make 2).... Ch 8.", "SAIL—Side (Make 2)", "Ch 8."),
            ("FIRST BUOY—Ch 4.", "FIRST BUOY", "Ch 4."),
        ] {
            assert_eq!(named(text), Some((name, rest)));
        }
        assert_eq!(named("Sc in each st — and turn."), None);
    }
}
