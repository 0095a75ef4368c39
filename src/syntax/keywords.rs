//! The words that lines begin with, and what to do about words that are nearly those.

use super::tree::Sort;

/// A word that a line can begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Keyword {
    Pattern,
    By,
    About,
    Note,
    Version,
    Notion,
    Picture,
    Caution,
    Correction,
    For,
    Skill,
    Sizes,
    Terms,
    Counts,
    Hook,
    Yarn,
    Gauge,
    Swatch,
    Blocks,
    Finished,
    Fits,
    Set,
    Stitch,
    Piece,
    With,
    Using,
    Lead,
    Stripe,
    Start,
    Round,
    Row,
    Again,
    Fasten,
    Gather,
    Seam,
    Sew,
    Place,
    Pompon,
    Fringe,
    Cord,
    Change,
    Meant,
    Grid,
    Legend,
    Colours,
    Now,
    Surface,
}

impl Keyword {
    /// What its line is about.
    fn sort(self) -> Sort {
        match self {
            Self::Sizes | Self::Terms | Self::Counts => Sort::Ground,
            Self::Set => Sort::Number,
            Self::Stitch | Self::Blocks => Sort::Stitch,
            Self::Yarn => Sort::Yarn,
            Self::Hook => Sort::Hook,
            Self::Gauge => Sort::Gauge,
            Self::Piece => Sort::Piece,
            Self::Grid | Self::Legend => Sort::Grid,
            Self::Lead => Sort::Lead,
            Self::Start => Sort::Start,
            Self::Round | Self::Row | Self::Again | Self::Now => Sort::Rows,
            Self::Pattern
            | Self::By
            | Self::About
            | Self::Note
            | Self::Version
            | Self::Notion
            | Self::Picture
            | Self::Caution
            | Self::Correction
            | Self::For
            | Self::Skill
            | Self::Swatch
            | Self::Finished
            | Self::Fits => Sort::Head,
            Self::With
            | Self::Using
            | Self::Stripe
            | Self::Fasten
            | Self::Gather
            | Self::Seam
            | Self::Sew
            | Self::Place
            | Self::Pompon
            | Self::Fringe
            | Self::Cord
            | Self::Change
            | Self::Colours
            | Self::Surface
            | Self::Meant => Sort::OfPiece,
        }
    }

    /// Whether the line is free text or ends in it.
    fn holds_prose(self) -> bool {
        let prose = [
            Self::Pattern,
            Self::By,
            Self::About,
            Self::Note,
            Self::Version,
            Self::Notion,
            Self::Picture,
            Self::Caution,
            Self::Correction,
            Self::Fits,
            Self::Stitch,
            Self::Meant,
        ];
        prose.contains(&self)
    }

    /// Whether any words can follow, so that they don't bear the keyword out.
    pub fn takes_any_text(self) -> bool {
        let free = [
            Self::Pattern,
            Self::By,
            Self::About,
            Self::Note,
            Self::Version,
            Self::Notion,
            Self::Picture,
            Self::Caution,
            Self::Correction,
            Self::For,
            Self::Skill,
            Self::Sizes,
            Self::Terms,
            Self::Fits,
            Self::Piece,
            Self::With,
            Self::Using,
        ];
        free.contains(&self)
    }
}

/// Every spelling that is the notation's own.
const SPELLINGS: &[(&str, Keyword)] = &[
    ("pattern", Keyword::Pattern),
    ("by", Keyword::By),
    ("about", Keyword::About),
    ("note", Keyword::Note),
    ("version", Keyword::Version),
    ("notion", Keyword::Notion),
    ("picture", Keyword::Picture),
    ("caution", Keyword::Caution),
    ("correction", Keyword::Correction),
    ("for", Keyword::For),
    ("skill", Keyword::Skill),
    ("sizes", Keyword::Sizes),
    ("terms", Keyword::Terms),
    ("counts", Keyword::Counts),
    ("hook", Keyword::Hook),
    ("yarn", Keyword::Yarn),
    ("gauge", Keyword::Gauge),
    ("swatch", Keyword::Swatch),
    ("blocks", Keyword::Blocks),
    ("finished", Keyword::Finished),
    ("fits", Keyword::Fits),
    ("set", Keyword::Set),
    ("stitch", Keyword::Stitch),
    ("piece", Keyword::Piece),
    ("with", Keyword::With),
    ("using", Keyword::Using),
    ("lead", Keyword::Lead),
    ("stripe", Keyword::Stripe),
    ("start", Keyword::Start),
    ("rnd", Keyword::Round),
    ("rnds", Keyword::Round),
    ("row", Keyword::Row),
    ("rows", Keyword::Row),
    ("again", Keyword::Again),
    ("fasten", Keyword::Fasten),
    ("gather", Keyword::Gather),
    ("seam", Keyword::Seam),
    ("sew", Keyword::Sew),
    ("place", Keyword::Place),
    ("pompon", Keyword::Pompon),
    ("pompom", Keyword::Pompon),
    ("fringe", Keyword::Fringe),
    ("cord", Keyword::Cord),
    ("change", Keyword::Change),
    ("meant", Keyword::Meant),
    ("grid", Keyword::Grid),
    ("legend", Keyword::Legend),
    ("colours", Keyword::Colours),
    ("colors", Keyword::Colours),
    ("now", Keyword::Now),
    ("surface", Keyword::Surface),
];

/// Other words for rows and rounds that are met in print, with ours.
const PRINTED_LABELS: &[(&str, &str, Keyword)] = &[
    ("round", "rnd", Keyword::Round),
    ("rounds", "rnds", Keyword::Round),
    ("rd", "rnd", Keyword::Round),
    ("rds", "rnds", Keyword::Round),
    ("rw", "row", Keyword::Row),
];

/// The keyword spelt like this.
pub(super) fn find(word: &str) -> Option<Keyword> {
    SPELLINGS.iter().find(|(spelling, _)| spelling.eq_ignore_ascii_case(word)).map(|(_, keyword)| *keyword)
}

/// The row or round that another word of print stands for, with our word; a bare `r` is neither.
pub(super) fn printed_label(word: &str) -> Option<(&'static str, Keyword)> {
    let row = PRINTED_LABELS.iter().find(|(printed, _, _)| printed.eq_ignore_ascii_case(word))?;
    Some((row.1, row.2))
}

/// What a line may be about that begins with a word, with the beginning of one, or with one that is misspelt.
pub(super) fn sorts(word: &str) -> Vec<Sort> {
    let word = word.to_lowercase();
    if let Some(keyword) = find(&word).or_else(|| printed_label(&word).map(|(_, keyword)| keyword)) {
        return vec![keyword.sort()];
    }
    let begun = SPELLINGS.iter().filter(|(spelling, _)| !word.is_empty() && spelling.starts_with(&word));
    let mut sorts: Vec<Sort> = begun.map(|(_, keyword)| keyword.sort()).collect();
    if "only".starts_with(&word) {
        sorts.push(Sort::Rows);
    }
    if sorts.is_empty() {
        sorts.extend(nearest_keyword(&word).map(|(_, keyword)| keyword.sort()));
    }
    sorts.sort_unstable();
    sorts.dedup();
    sorts
}

/// The keyword that a misspelt word is nearest to, with its right spelling.
pub(super) fn nearest_keyword(word: &str) -> Option<(&'static str, Keyword)> {
    let ours = SPELLINGS.iter().map(|(spelling, _)| *spelling);
    let printed = PRINTED_LABELS.iter().map(|(spelling, _, _)| *spelling);
    let near = nearest(word, ours.chain(printed))?;
    printed_label(near).or_else(|| find(near).map(|keyword| (near, keyword)))
}

/// The one of the words that is nearest to another, if it is near enough to be a slip of the keys.
pub(super) fn nearest(word: &str, words: impl Iterator<Item = &'static str>) -> Option<&'static str> {
    let word = word.to_ascii_lowercase();
    let letters = word.chars().count();
    let allowed = match letters {
        0..=2 => return None,
        3..=4 => 1,
        _ => 2,
    };
    words
        .filter(|w| w.len() > 2)
        .map(|w| (strsim::damerau_levenshtein(&word, w), w))
        .filter(|(distance, w)| *distance > 0 && *distance <= allowed && *distance * 3 <= w.len())
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, w)| w)
}

/// The letters at the beginning of a text.
pub(super) fn first_word(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    text.get(..end).unwrap_or_default()
}

/// Whether an indented line looks so much like a line of its own that it can't be meant to go on with the one above.
pub(super) fn stands_alone(line: &str, above: &str) -> bool {
    let above = above.trim_end();
    if above.ends_with([':', ',']) && first_word(above).eq_ignore_ascii_case("only") {
        return false;
    }
    if begins_row(line) || line.starts_with('|') {
        return true;
    }
    let Some(keyword) = find(first_word(line)) else { return false };
    let Some(open) = find(first_word(above)) else { return false };
    if open.holds_prose() {
        return false;
    }
    if [Keyword::Row, Keyword::Round, Keyword::Again].contains(&open) {
        return [Keyword::Piece, Keyword::Stripe, Keyword::Using, Keyword::Now].contains(&keyword);
    }
    let complete = above.contains(char::is_whitespace) && !above.ends_with([',', '/', '=', ':', '+']);
    let inside = [Keyword::Row, Keyword::Round, Keyword::Hook, Keyword::For, Keyword::By, Keyword::Stitch];
    let seam_start = open == Keyword::Seam && keyword == Keyword::Start;
    complete && !seam_start && !inside.contains(&keyword)
}

/// Where a label such as `rnd 3` begins inside a line.
pub(super) fn label_in(line: &str) -> Option<usize> {
    line.char_indices().map(|(at, _)| at).find(|at| {
        let rest = line.get(*at..).unwrap_or_default();
        let before = line.get(..*at).and_then(|text| text.chars().next_back());
        let word = first_word(rest);
        let number = rest.get(word.len()..).unwrap_or_default().trim_start();
        before == Some(' ')
            && matches!(find(word), Some(Keyword::Row | Keyword::Round))
            && number.starts_with(|c: char| c.is_ascii_digit() || c == ':')
    })
}

/// `rnd 3:`, `Rows 4-6 ws:` and the like.
fn begins_row(line: &str) -> bool {
    let word = first_word(line);
    let known = find(word).or_else(|| printed_label(word).map(|(_, keyword)| keyword));
    if !matches!(known, Some(Keyword::Row | Keyword::Round)) {
        return false;
    }
    let rest = line.get(word.len()..).unwrap_or_default();
    let Some((label, _)) = rest.split_once(':') else {
        return false;
    };
    let label = label.trim();
    label.chars().any(|c| c.is_ascii_digit())
        && label.chars().all(|c| c.is_ascii_digit() || c.is_whitespace() || "-–.()rswRSW".contains(c))
}
