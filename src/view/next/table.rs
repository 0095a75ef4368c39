//! The words of the notation, and what may come after which, read from tables.

use std::collections::BTreeSet;
use std::sync::LazyLock;

/// A word or form that can be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::view) struct Form {
    pub group: &'static str,
    /// What is written.
    pub write: &'static str,
    /// What it does.
    pub does: &'static str,
}

/// What comes after words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Rule {
    /// The word that the line begins with.
    pub line: &'static str,
    /// The words and signs before.
    pub after: Vec<&'static str>,
    /// Groups, and in capitals what the file or a table names.
    pub comes: Vec<&'static str>,
}

/// The rules that speak of any line or of this one.
pub(super) fn rules(line: &str) -> impl Iterator<Item = &'static Rule> {
    RULES.iter().filter(move |rule| rule.line == "*" || rule.line == line)
}

/// The forms of a group, in the order of the table.
pub(super) fn group(name: &str) -> impl Iterator<Item = &'static Form> {
    FORMS.iter().filter(move |form| form.group == name)
}

/// Whether a line of the head, or a setting of a piece, begins with this word in small letters.
pub(in crate::view) fn begins_setting(word: &str) -> bool {
    ["head", "setting"].iter().any(|of| group(of).any(|form| form.write == word))
}

/// What a word or form of the notation does, by the word alone.
pub(in crate::view) fn does(word: &str) -> Option<&'static Form> {
    FORMS.iter().find(|form| form.group != "other" && form.write.eq_ignore_ascii_case(word))
}

/// Whether a word in small letters stands anywhere in the notation's own forms.
pub(in crate::view) fn knows(word: &str) -> bool {
    WORDS.contains(word)
}

static FORMS: LazyLock<Vec<Form>> = LazyLock::new(|| {
    let rows = rows(include_str!("words.txt"));
    rows.filter_map(|mut cells| {
        Some(Form { group: cells.next()?, write: cells.next()?, does: cells.next().unwrap_or("") })
    })
    .collect()
});

static RULES: LazyLock<Vec<Rule>> = LazyLock::new(|| {
    let words = |cell: &'static str| cell.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>();
    let rule =
        |mut cells: Cells| Some(Rule { line: cells.next()?, after: words(cells.next()?), comes: words(cells.next()?) });
    rows(include_str!("comes.txt")).filter_map(rule).collect()
});

static WORDS: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    FORMS
        .iter()
        .flat_map(|form| form.write.split([' ', ',']))
        .map(str::to_lowercase)
        .filter(|word| !word.is_empty())
        .collect()
});

type Cells = std::iter::Map<std::str::Split<'static, char>, fn(&'static str) -> &'static str>;

fn rows(table: &'static str) -> impl Iterator<Item = Cells> {
    let lines = table.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    lines.map(|line| line.split('|').map(str::trim as fn(&'static str) -> &'static str))
}

#[cfg(test)]
mod tests {
    use super::{FORMS, RULES, group};

    #[test]
    fn every_group_that_comes_is_there_and_every_group_comes() {
        let own = |name: &str| name.chars().all(|letter| letter.is_ascii_uppercase());
        for rule in RULES.iter() {
            assert!(!rule.after.is_empty() && !rule.comes.is_empty(), "{rule:?}");
            for name in &rule.comes {
                assert!(own(name) || group(name).next().is_some(), "{name} of {rule:?}");
            }
        }
        let begin = ["head", "setting", "rows", "other"];
        for form in FORMS.iter().filter(|form| !begin.contains(&form.group)) {
            assert!(RULES.iter().any(|rule| rule.comes.contains(&form.group)), "{form:?}");
            assert!(!form.does.is_empty(), "{form:?}");
        }
    }
}
