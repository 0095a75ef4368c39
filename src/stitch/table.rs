//! Reads the table of the trade's stitches.

use super::{Made, Names, Sort, Stitch, StitchId, Terms, Words, symbol};
use std::sync::LazyLock;

/// The trade's stitches, read once.
pub(super) fn trade() -> &'static Trade {
    static TRADE: LazyLock<Trade> = LazyLock::new(|| Trade::read(TABLE).unwrap_or_default());
    &TRADE
}

/// The table; a test reads all of it, so that no row can be lost.
pub(super) const TABLE: &str = include_str!("stitches.txt");

/// The stitches of the table and the words for them.
#[derive(Debug, PartialEq, Eq, Default)]
pub(super) struct Trade {
    pub(super) list: Vec<Stitch>,
    pub(super) words: Words,
}

impl Trade {
    /// Reads a table. The error is the row that could not be read, or that names what another row names.
    pub(super) fn read(table: &str) -> Result<Self, String> {
        let rows: Vec<String> = table
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty() && !line.starts_with('#'))
            .skip(1)
            .flat_map(numbered)
            .collect();
        let mut words = Words::default();
        for (row, id) in rows.iter().zip(0..=u16::MAX) {
            name(&mut words, &cells(row), StitchId(id)).ok_or_else(|| row.clone())?;
        }
        let list = rows.iter().map(|row| stitch(&cells(row), &words).ok_or_else(|| row.clone()));
        Ok(Self { list: list.collect::<Result<_, _>>()?, words })
    }
}

/// The stitch of one row, once every name is known.
fn stitch(cells: &[&str], words: &Words) -> Option<Stitch> {
    let [
        us,
        name,
        uk,
        uk_name,
        takes,
        makes,
        height,
        has_post,
        around_post,
        behind,
        sort,
        number,
        answers_to,
        symbol,
        _,
        _,
        how,
    ] = cells
    else {
        return None;
    };
    Some(Stitch {
        us: names(us, name),
        uk: names(uk, uk_name),
        takes: takes.parse().ok()?,
        makes: made(us, makes, words)?,
        height: height.parse().ok()?,
        around_post: yes(around_post)?,
        has_post: yes(has_post)?,
        from_behind: other(behind, words).ok()?,
        sort: sort_of(sort)?,
        counted: counted(number)?,
        answers_to: other(answers_to, words).ok()?,
        symbol: symbol::read(symbol).ok()?,
        how: (*how != "-").then(|| (*how).to_owned()),
        own: false,
    })
}

/// Another stitch, or a dash for none. The error is a name that is no stitch's.
fn other<'c>(cell: &'c str, words: &Words) -> Result<Option<StitchId>, &'c str> {
    match cell {
        "-" => Ok(None),
        name => words.get(name, Terms::Us).map(Some).ok_or(name),
    }
}

fn sort_of(cell: &str) -> Option<Sort> {
    match cell {
        "chain" => Some(Sort::Chain),
        "slip" => Some(Sort::Slip),
        "plain" => Some(Sort::Plain),
        "back" => Some(Sort::Back),
        "-" => Some(Sort::Other),
        _ => None,
    }
}

fn counted(cell: &str) -> Option<bool> {
    match cell {
        "count" => Some(true),
        "-" => Some(false),
        _ => None,
    }
}

/// Makes every word of a row mean its stitch. Nothing when a cell is missing or a word means another stitch already.
fn name(words: &mut Words, cells: &[&str], id: StitchId) -> Option<()> {
    let [us, name, uk, uk_name, .., others, uk_others, _] = cells else {
        return None;
    };
    for (terms, short, full, others) in [(Terms::Us, us, name, others), (Terms::Uk, uk, uk_name, uk_others)] {
        let others = others.split(',').map(str::trim).filter(|word| *word != "-");
        for word in [*short, *full].into_iter().chain(others) {
            if words.put(word, terms, id).is_some_and(|before| before != id) {
                return None;
            }
        }
    }
    Some(())
}

/// What a stitch leaves on the edge: `dc ch-1 dc`. The name of the row itself may hold a space.
fn made(us: &str, makes: &str, words: &Words) -> Option<Vec<Made>> {
    let one = |word: &str| match word.strip_prefix("ch-") {
        Some(chains) => chains.parse().ok().map(Made::Chains),
        None => words.get(word, Terms::Us).map(Made::Stitch),
    };
    match makes {
        "-" => Some(Vec::new()),
        itself if itself == us => Some(vec![one(us)?]),
        several => several.split(' ').map(one).collect(),
    }
}

/// A row for every number of a row such as `dc{2-6}tog`, with the number in place of the range and of every `{n}`.
fn numbered(row: &str) -> Vec<String> {
    let range = row.split_once('{').and_then(|(_, rest)| rest.split_once('}')).and_then(|(range, _)| {
        let (from, to) = range.split_once('-')?;
        Some((range, from.parse::<u32>().ok()?..=to.parse().ok()?))
    });
    match range {
        Some((range, numbers)) => {
            let marked = row.replace(&format!("{{{range}}}"), "{n}");
            numbers.map(|n| marked.replace("{n}", &n.to_string())).collect()
        }
        None => vec![row.to_owned()],
    }
}

fn cells(row: &str) -> Vec<&str> {
    row.split('|').map(str::trim).collect()
}

fn names(short: &str, full: &str) -> Names {
    Names { short: short.to_owned(), full: full.to_owned() }
}

fn yes(cell: &str) -> Option<bool> {
    match cell {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}
