//! What a page may ask.

use serde::Deserialize;

/// A question: `{"do": "view", "text": "…"}`. Places in a text are counted in UTF-16 units, as browsers do.
#[derive(Debug, Deserialize)]
#[serde(tag = "do", rename_all = "snake_case", deny_unknown_fields)]
pub enum Question {
    /// What an editor shows of a text. Without `repairs` none are looked for, which is quicker.
    View { text: String, repairs: bool },
    /// What may come next at a place.
    Next { text: String, at: u32 },
    /// What stands at a place.
    About { text: String, at: u32 },
    /// The page for makers, and whether it says the same work when it is read again.
    Page { text: String, edition: EditionAsked, form: Form },
    /// Counts, measures, yarn and shape, as tables, and the outlines.
    Papers { text: String, size: Option<usize> },
    /// The stitches of a piece in a size, drawn.
    Chart { text: String, piece: usize, size: usize, left_handed: bool },
    /// The proof, as a page.
    Proof { text: String, name: String },
    /// The text laid out evenly.
    Tidy { text: String },
    /// The text with the counts that it leaves unsaid.
    Fill { text: String },
    /// The text in the other stitch names.
    InTerms { text: String, terms: TermsAsked },
    /// The text of a file, whose bytes are in base64: a pattern in the notation, or with `words` one in ordinary words, which may be a
    /// document.
    Open { bytes: String, words: bool },
    /// A maker's count is another one; what probably happened. Where she counted one kind alone its name says which, as `Kinds` has it.
    Count { text: String, piece: usize, row: u32, size: usize, mine: u32, kind: Option<String> },
    /// What can be counted of a row by kind.
    Kinds { text: String, piece: usize, row: u32, size: usize },
    /// What comes out by a maker's own gauge, over 10 cm.
    OwnGauge { text: String, stitches: f64, rows: f64 },
    /// A pattern in ordinary words, read into the notation.
    TakeIn { text: String },
    /// What is worked otherwise in a newer version.
    Differ { old: String, new: String },
    /// A small pattern to start from.
    Starter(StarterAsked),
    /// What each of them offers.
    Starters,
}

/// A small pattern to start from; what is left out stays as it has it.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct StarterAsked {
    /// Which one.
    pub what: String,
    pub title: String,
    /// A name for each of its sizes; nothing for one that isn't wanted.
    pub sizes: Vec<Option<String>>,
    /// In mm.
    pub hook: Option<f64>,
    /// The colour or name of the yarn.
    pub colour: String,
    pub weight: Option<u8>,
    /// What a ball weighs.
    pub grams: Option<f64>,
    /// How long the yarn of a ball is.
    pub metres: Option<f64>,
}

/// Which page is wanted.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct EditionAsked {
    /// Stitch names; those of the text where nothing is said.
    pub terms: Option<TermsAsked>,
    /// One size by its index; all of them where nothing is said.
    pub size: Option<usize>,
    /// How words are written.
    pub words: WordsAsked,
    /// How large the letters are.
    pub letters: LettersAsked,
    /// For makers who hold the hook in the left hand.
    pub left_handed: bool,
    /// Only what makers need who know how.
    pub brief: bool,
    /// Names of stitches in another language beside the English ones.
    pub beside: Option<LanguageAsked>,
}

/// Stitch names.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TermsAsked {
    Us,
    Uk,
}

/// Languages whose names of stitches are known.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LanguageAsked {
    German,
    French,
    Dutch,
    Spanish,
}

/// How words are written.
#[derive(Debug, Default, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WordsAsked {
    #[default]
    Short,
    InFull,
    Aloud,
}

/// How large letters are.
#[derive(Debug, Default, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LettersAsked {
    #[default]
    Usual,
    Large,
    Larger,
}

/// In which form a page is given.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    Html,
    Markdown,
    Plain,
}
