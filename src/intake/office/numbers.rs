//! Styles and numbered lists of Office Open XML.

use std::collections::BTreeMap;

use crate::intake::xml::{Part, walk};

/// What the paragraph styles of a document mean, by their names there.
#[derive(Debug, Default)]
pub(super) struct Styles {
    headings: BTreeMap<String, usize>,
    lists: BTreeMap<String, (String, usize)>,
}

impl Styles {
    pub fn of(text: &str) -> Self {
        let (mut styles, mut style) = (Self::default(), String::new());
        walk(text, &mut |part| {
            let Part::Opens(name, element) = part else { return };
            let value = || element.attribute("val").unwrap_or_default();
            match name {
                "style" => style = element.attribute("styleId").unwrap_or_default(),
                "name" => {
                    let name = value().to_lowercase();
                    let level = name.strip_prefix("heading ").and_then(|level| level.parse().ok());
                    if let Some(level) = level.or((name == "title").then_some(1)) {
                        styles.headings.insert(style.clone(), level);
                    }
                }
                "numId" => {
                    styles.lists.entry(style.clone()).or_default().0 = value();
                }
                "ilvl" => {
                    styles.lists.entry(style.clone()).or_default().1 = value().parse().unwrap_or(0);
                }
                _ => {}
            }
        });
        styles
    }

    pub fn heading(&self, style: &str) -> Option<usize> {
        self.headings.get(style).copied()
    }

    pub fn list(&self, style: &str) -> Option<(String, usize)> {
        self.lists.get(style).cloned().filter(|(list, _)| !list.is_empty() && list != "0")
    }
}

/// How the entries of a list are numbered on one level.
#[derive(Debug, Clone)]
struct Level {
    start: u32,
    format: String,
    /// `%1.`, with the number of each level in its place.
    text: String,
}

/// How the lists of a document are numbered.
#[derive(Debug, Default)]
pub(super) struct Levels {
    /// By the name of the sort of list and the level.
    sorts: BTreeMap<(String, usize), Level>,
    /// The sort that each list is of.
    lists: BTreeMap<String, String>,
}

impl Levels {
    pub fn of(text: &str) -> Self {
        let mut levels = Self::default();
        let (mut sort, mut list, mut at) = (String::new(), None, 0);
        walk(text, &mut |part| {
            let Part::Opens(name, element) = part else { return };
            let value = || element.attribute("val").unwrap_or_default();
            match name {
                "abstractNum" => sort = element.attribute("abstractNumId").unwrap_or_default(),
                "num" => list = element.attribute("numId"),
                "abstractNumId" => {
                    levels.lists.extend(list.clone().map(|list| (list, value())));
                }
                "lvl" => {
                    at = element.attribute("ilvl").and_then(|level| level.parse().ok()).unwrap_or(0);
                    let level = Level { start: 1, format: String::new(), text: String::new() };
                    levels.sorts.entry((sort.clone(), at)).or_insert(level);
                }
                "start" | "numFmt" | "lvlText" => {
                    let Some(level) = levels.sorts.get_mut(&(sort.clone(), at)) else { return };
                    match name {
                        "start" => level.start = value().parse().unwrap_or(1),
                        "numFmt" => level.format = value(),
                        _ => level.text = value(),
                    }
                }
                _ => {}
            }
        });
        levels
    }

    fn level(&self, list: &str, level: usize) -> Option<&Level> {
        self.sorts.get(&(self.lists.get(list)?.clone(), level))
    }
}

/// Counts the entries of lists.
#[derive(Debug, Default)]
pub(super) struct Counters {
    levels: Levels,
    /// Of each list, the number of its last entry on each level.
    at: BTreeMap<String, Vec<u32>>,
}

impl Counters {
    pub fn new(levels: Levels) -> Self {
        Self { levels, at: BTreeMap::new() }
    }

    /// What stands before the next entry of a list: `3. `, or `- `.
    pub fn next(&mut self, list: &str, level: usize) -> String {
        /// A list has nine levels.
        const MOST_LEVELS: usize = 9;
        let level = level.min(MOST_LEVELS - 1);
        let Some(found) = self.levels.level(list, level).cloned() else { return "- ".to_owned() };
        let numbers = self.at.entry(list.to_owned()).or_default();
        // A level begins anew below each entry of the one above it.
        numbers.truncate(level + 1);
        while numbers.len() < level {
            numbers.push(1);
        }
        match numbers.get_mut(level) {
            Some(number) => *number = number.saturating_add(1),
            None => numbers.push(found.start),
        }
        if matches!(found.format.as_str(), "bullet" | "none" | "") {
            return "- ".to_owned();
        }
        let mut text = found.text;
        for (at, number) in numbers.iter().enumerate() {
            text = text.replace(&format!("%{}", at + 1), &number.to_string());
        }
        format!("{} ", text.trim())
    }
}
