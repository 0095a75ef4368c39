//! Names of stitches in other languages, from a table that a crocheter can read.
//!
//! Only names: the sentences of a page are made in English, and a language would need every phrase of them from people
//! who crochet in it.

/// The table; its head says where the words come from.
const TABLE: &str = include_str!("languages.txt");

/// A language besides English.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Language {
    /// German.
    German,
    /// French.
    French,
    /// Dutch.
    Dutch,
    /// Spanish.
    Spanish,
}

/// A word in another language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Foreign {
    /// The language.
    pub language: Language,
    /// The word, with its abbreviation where two lists have the same one: `feste Masche, fM`.
    pub words: String,
}

impl Language {
    /// Its English name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::German => "German",
            Self::French => "French",
            Self::Dutch => "Dutch",
            Self::Spanish => "Spanish",
        }
    }

    /// Its code. Source: ISO 639-1.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::German => "de",
            Self::French => "fr",
            Self::Dutch => "nl",
            Self::Spanish => "es",
        }
    }

    /// Its column of the table.
    fn column(self) -> usize {
        match self {
            Self::German => 1,
            Self::French => 2,
            Self::Dutch => 3,
            Self::Spanish => 4,
        }
    }

    /// What a stitch is called, by its abbreviation in US terms; nothing where two published lists do not have it.
    #[must_use]
    pub fn word(self, short: &str) -> Option<Foreign> {
        let rows = TABLE.lines().filter(|line| !line.starts_with('#'));
        let mut cells = rows.map(|row| row.split('|').map(str::trim));
        let row = cells.find(|cells| cells.clone().next() == Some(short))?;
        let words = row.clone().nth(self.column()).filter(|words| !words.is_empty() && *words != "-")?;
        Some(Foreign { language: self, words: words.to_owned() })
    }
}

#[cfg(test)]
mod tests {
    use super::{Language, TABLE};

    const ALL: [Language; 4] = [Language::German, Language::French, Language::Dutch, Language::Spanish];

    /// Source of the values: the lists named at the head of the table, two for each.
    #[test]
    fn words_are_those_of_the_lists() {
        let word = |language: Language, short| language.word(short).map(|foreign| foreign.words);
        assert_eq!(word(Language::German, "sc").as_deref(), Some("feste Masche, fM"));
        assert_eq!(word(Language::German, "hdc").as_deref(), Some("halbes Stäbchen"));
        assert_eq!(word(Language::French, "sl st").as_deref(), Some("maille coulée, mc"));
        assert_eq!(word(Language::Dutch, "ch").as_deref(), Some("losse, l"));
        assert_eq!(word(Language::Spanish, "dc").as_deref(), Some("punto alto, pa"));
        // Only one list has these.
        assert_eq!(word(Language::French, "dc"), None);
        assert_eq!(word(Language::Dutch, "tr"), None);
        assert_eq!(word(Language::German, "fpdc"), None);
    }

    #[test]
    fn the_table_has_a_cell_for_every_language() {
        let rows: Vec<&str> = TABLE.lines().filter(|line| !line.starts_with('#')).collect();
        assert!(rows.len() >= 7);
        for row in rows {
            assert_eq!(row.split('|').count(), ALL.len() + 1, "{row}");
            assert!(
                ALL.iter().any(|language| language.word(row.split('|').next().unwrap_or("").trim()).is_some()),
                "{row}"
            );
        }
    }
}
