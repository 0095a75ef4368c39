//! The page as a maker reads it, held against the recorded work.
//!
//! The HTML is read with a small reader of its own, with one size picked or as a page of that size alone, and nothing of what
//! makes the page is asked: labels, counts, repeats and the places that are named are compared with the ledger as JSON, and plain
//! lines are worked once more in numbers only.

#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test says what it expects by failing"
)]

use std::collections::BTreeMap;
use std::fs;

use proptest::prelude::*;
use ringtrue::Compiled;
use ringtrue::page::{Edition, html};
use serde_json::Value;

/// A line of a piece as it stands on the page for one size.
#[derive(Debug, Default)]
struct Line {
    piece: String,
    label: String,
    sentence: String,
    count: String,
    /// The rows told one by one: their label with what they say again, and their count.
    rows: Vec<(String, String)>,
}

/// The lines of a page with one size picked.
fn lines(page: &str, size: usize) -> Vec<Line> {
    let mut reader = Reader { size: size.to_string(), ..Reader::default() };
    let body = page.split_once("<main>").unwrap().1.split_once("</main>").unwrap().0;
    for part in body.split('<').skip(1) {
        let (tag, text) = part.split_once('>').unwrap();
        reader.tag(tag);
        reader.text(text);
    }
    reader.lines
}

#[derive(Default)]
struct Reader {
    size: String,
    /// The open elements: their name, where their text goes, and whether they are shown.
    open: Vec<(String, Goes, bool)>,
    piece: String,
    lines: Vec<Line>,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
enum Goes {
    #[default]
    Nowhere,
    Heading,
    Label,
    Sentence,
    Count,
    Row,
    Made,
}

impl Reader {
    fn tag(&mut self, tag: &str) {
        if let Some(name) = tag.strip_prefix('/') {
            let (closed, ..) = self.open.pop().unwrap();
            assert_eq!(closed, name);
            return;
        }
        let name = tag.split([' ', '/']).next().unwrap();
        if tag.ends_with('/') || ["input", "img", "meta", "br", "hr", "!--"].contains(&name) {
            return;
        }
        let value = |key: &str| tag.split_once(&format!(" {key}=\"")).map(|(_, rest)| rest.split('"').next().unwrap());
        let classes: Vec<&str> = value("class").unwrap_or_default().split(' ').collect();
        let (before, shown) = self.open.last().map_or((Goes::Nowhere, true), |(_, goes, shown)| (*goes, *shown));
        let here = |sizes: &str| sizes.split(' ').any(|one| one == self.size);
        let shown = shown
            && value("data-size").is_none_or(here)
            && value("data-for").is_none_or(here)
            && !classes.contains(&"mark");
        let goes = match name {
            "h3" => {
                self.piece.clear();
                Goes::Heading
            }
            "b" if classes.contains(&"label") => Goes::Label,
            "span" if classes.contains(&"do") => Goes::Sentence,
            "span" if classes.contains(&"count") => Goes::Count,
            "span" if classes.contains(&"dash") => Goes::Nowhere,
            "span" if classes.contains(&"made") => Goes::Made,
            "li" if classes.contains(&"line") && shown => {
                self.lines.push(Line { piece: self.piece.clone(), ..Line::default() });
                Goes::Nowhere
            }
            "ul" | "ol" if classes.contains(&"rows") || self.within_rows() => Goes::Row,
            "li" if before == Goes::Row && shown => {
                self.lines.last_mut().unwrap().rows.push(Default::default());
                Goes::Row
            }
            "details" => Goes::Row,
            "summary" | "p" | "button" | "svg" => Goes::Nowhere,
            _ => before,
        };
        self.open.push((name.to_owned(), goes, shown));
    }

    fn within_rows(&self) -> bool {
        self.open.last().is_some_and(|(name, ..)| name == "details")
    }

    fn text(&mut self, text: &str) {
        let Some((_, goes, true)) = self.open.last() else { return };
        let text = text.replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
        let into = match (goes, self.lines.last_mut()) {
            (Goes::Heading, _) => &mut self.piece,
            (Goes::Label, Some(line)) => &mut line.label,
            (Goes::Sentence, Some(line)) => &mut line.sentence,
            (Goes::Count, Some(line)) => &mut line.count,
            (Goes::Row, Some(Line { rows, .. })) if !rows.is_empty() => &mut rows.last_mut().unwrap().0,
            (Goes::Made, Some(Line { rows, .. })) if !rows.is_empty() => &mut rows.last_mut().unwrap().1,
            _ => return,
        };
        into.push_str(&text);
    }
}

/// The whole numbers of `Rows 3, 5 and 7–9`.
fn numbers(told: &str) -> Vec<u64> {
    let mut found = Vec::new();
    for part in told.split(|c: char| !(c.is_ascii_digit() || c == '–')) {
        let mut ends = part.split('–').filter_map(|number| number.parse::<u64>().ok());
        if let Some(first) = ends.next() {
            found.extend(first..=ends.next().unwrap_or(first));
        }
    }
    found
}

/// A row of the ledger.
#[derive(Debug, Clone)]
struct Worked {
    number: u64,
    source: u64,
    closing: String,
    lead: u64,
    left: u64,
    stitches: u64,
    chains: u64,
    /// Row ends of small pieces within it, which are places as stitches are.
    row_ends: u64,
    made: Vec<(String, u64)>,
    /// Stitches that are part of one of the designer's own: that one, what they are, and how many.
    within: Vec<(String, String, u64)>,
}

impl Worked {
    fn of(row: &Value) -> Self {
        let counted = |list: &Value| {
            let list = list.as_array().unwrap().iter();
            list.map(|one| (one["kind"].as_str().unwrap_or("st").to_owned(), one["count"].as_u64().unwrap())).collect()
        };
        let number = |value: &Value| value.as_u64().unwrap();
        Self {
            number: number(&row["number"]),
            source: number(&row["source"]),
            closing: row["closing"].as_str().unwrap().to_owned(),
            lead: number(&row["lead"]["chains"]),
            left: number(&row["left"]),
            stitches: number(&row["made"]["stitches"]),
            chains: number(&row["made"]["chains"]),
            row_ends: number(&row["made"]["row_ends"]),
            made: counted(&row["made"]["by_kind"]),
            within: Vec::new(),
        }
    }

    /// How many of a kind it made beside the other kinds of the count; nothing for a kind that can't be told by its name alone.
    fn made_beside(&self, kind: &str, kinds: &[String]) -> Option<u64> {
        let inside = self.within.iter().filter(|(own, of, _)| of == kind && own != kind && kinds.contains(own));
        self.made(kind)?.checked_sub(inside.map(|(.., count)| count).sum())
    }

    /// How many of a kind it made.
    fn made(&self, kind: &str) -> Option<u64> {
        let of = |fits: &dyn Fn(&str) -> bool| self.made.iter().filter(|(name, _)| fits(name)).map(|(_, n)| n).sum();
        match kind {
            "st" => Some(self.stitches),
            "ch" => Some(self.chains),
            "ch sp" => Some(of(&|name| name.ends_with(" sp"))),
            _ if kind.ends_with(" sp") => Some(of(&|name| name == kind)),
            // A plain name takes in what is made of it, as `dc` does `fpdc`, unless that has a name on the page as well.
            _ => Some(of(&|name| name == kind)).filter(|_| {
                !self
                    .made
                    .iter()
                    .any(|(name, _)| name != kind && (name.contains(kind) || !name.contains(char::is_alphabetic)))
            }),
        }
    }
}

/// The rows of every piece and size, by the name of the piece.
fn ledger(compiled: &Compiled, text: &str) -> Vec<(String, Vec<Vec<Worked>>)> {
    let told: Value = serde_json::from_str(&ringtrue::report::tally(compiled, "page.rnd", text)).unwrap();
    let pieces = told["pieces"].as_array().unwrap().iter();
    let rows = |size: &Value| size["rows"].as_array().unwrap().iter().map(Worked::of).collect();
    let mut all: Vec<(String, Vec<Vec<Worked>>)> = pieces
        .map(|piece| {
            let sizes = piece["sizes"].as_array().unwrap().iter().map(rows).collect();
            (piece["name"].as_str().unwrap().to_owned(), sizes)
        })
        .collect();
    let pattern = &compiled.pattern;
    let short = |id| pattern.stitches.get(id).unwrap().names(pattern.terms).short.clone();
    for ((_, sizes), fabric) in all.iter_mut().zip(&compiled.fabric.pieces) {
        for (rows, worked) in sizes.iter_mut().zip(&fabric.sizes) {
            for (row, worked) in rows.iter_mut().zip(worked.rows.iter()) {
                let within = worked.ledger.within.iter();
                row.within = within.map(|(own, of, count)| (short(*own), short(*of), u64::from(*count))).collect();
            }
        }
    }
    all
}

/// What was compared, so that a test that compares nothing fails.
#[derive(Debug, Default)]
struct Compared {
    rows: usize,
    counts: usize,
    cited: usize,
    worked_again: usize,
    spaces: usize,
    /// What is not so, each once.
    faults: std::collections::BTreeSet<String>,
}

impl Compared {
    fn holds(&mut self, is_so: bool, fault: impl FnOnce() -> String) {
        if !is_so {
            self.faults.insert(fault());
        }
    }
}

/// Holds the pages of a pattern against its ledger: the one of all sizes with each size picked, and the one of each size.
fn compare(name: &str, text: &str, compared: &mut Compared) {
    let compiled = ringtrue::compile(text);
    let ledger = ledger(&compiled, text);
    let whole = html(&compiled, &Edition::default());
    for size in 0..compiled.pattern.sizes.len() {
        let single = html(&compiled, &Edition { size: Some(size), ..Edition::default() });
        for (page, which) in [(&whole, "picked"), (&single, "alone")] {
            let lines = lines(page, size);
            for (piece, sizes) in &ledger {
                let of_piece = lines.iter().filter(|line| line.piece == *piece || ledger.len() == 1);
                let of_piece: Vec<&Line> = of_piece.filter(|line| !numbers(&line.label).is_empty()).collect();
                let name = format!("{name}, size {size} {which}, {piece}");
                compare_piece(&name, &of_piece, &sizes[size], compared);
            }
        }
    }
}

fn compare_piece(name: &str, lines: &[&Line], rows: &[Worked], compared: &mut Compared) {
    let told: Vec<u64> = lines.iter().flat_map(|line| numbers(&line.label)).collect();
    let there: Vec<u64> = rows.iter().map(|row| row.number).collect();
    compared.holds(told == there, || format!("{name}: rows {told:?} are {there:?}"));
    if told != there {
        return;
    }
    compared.rows += there.len();
    let by_number: BTreeMap<u64, &Worked> = rows.iter().map(|row| (row.number, row)).collect();
    for line in lines {
        let name = format!("{name}, {}: {} — {}", line.label, line.sentence, line.count);
        let of: Vec<&Worked> = numbers(&line.label).iter().map(|number| by_number[number]).collect();
        counts(&name, &line.count, &of, compared);
        cites(&name, &line.sentence, &of, &by_number, compared);
        for (label, count) in &line.rows {
            let name = format!("{name}\n   {label}: {count}");
            let (label, again) = label.split_once(" as ").unwrap_or((label, ""));
            // A row that another size only has is not shown; the label of one that is has one number.
            let shown: Vec<&Worked> = numbers(label).iter().filter_map(|n| by_number.get(n).copied()).collect();
            let in_it = !shown.is_empty() && shown.iter().all(|row| of.iter().any(|o| o.number == row.number));
            compared.holds(in_it, || format!("{name} is no row of the line"));
            counts(&name, count, &shown, compared);
            if !again.contains(" of ") {
                cites(&name, &format!("Rep {again}"), &shown, &by_number, compared);
            }
        }
        named_spaces(&name, &line.sentence, &of, rows, compared);
        plain_line(&name, &line.sentence, &of, rows, compared);
    }
}

/// Every number of a count is what was made.
fn counts(name: &str, told: &str, of: &[&Worked], compared: &mut Compared) {
    let told = told.trim().trim_start_matches(':').trim();
    if told.is_empty() {
        return;
    }
    let (told, only_last) = match told.split_once(" in the last ") {
        Some((told, _)) => (told, true),
        None => (told, false),
    };
    let kinds: Vec<String> =
        told.split(", ").filter_map(|part| Some(one_of(part.split_once(' ')?.1.to_owned()))).collect();
    for part in told.split(", ") {
        let (number, kind) = part.split_once(' ').unwrap_or_else(|| panic!("{name}: {part}"));
        let counts_chains = kind.ends_with("(ch counted)");
        let kind = kind.trim_end_matches(" (ch counted)");
        let kind = kind.strip_suffix("sps").map_or(kind.to_owned(), |rest| format!("{rest}sp"));
        let kind = if kind == "sts" { "st".to_owned() } else { kind };
        let kind = one_of(kind);
        if kind.starts_with("block") || kind.contains(" in ") {
            continue;
        }
        let rows = if only_last { &of[of.len() - 1..] } else { of };
        for row in rows {
            let made = if counts_chains { Some(row.stitches + row.chains) } else { row.made_beside(&kind, &kinds) };
            let Some(made) = made else { continue };
            let is_so = number.parse::<u64>().ok() == Some(made);
            compared.holds(is_so, || format!("{name}: {part} of row {}: {row:?}", row.number));
            if !is_so {
                break;
            }
            compared.counts += 1;
        }
    }
}

/// Lines that are said again are those that were worked, in turn.
fn cites(name: &str, sentence: &str, of: &[&Worked], by_number: &BTreeMap<u64, &Worked>, compared: &mut Compared) {
    let Some((_, rest)) = sentence.split_once("Rep R").or_else(|| sentence.split_once("rep R")) else { return };
    let cited = rest.split([',', '.', '(']).next().unwrap().split(" until ").next().unwrap();
    let cited = cited.split(" once").next().unwrap();
    let cited = if rest.contains(" of ") { Vec::new() } else { numbers(cited) };
    for (at, row) in of.iter().enumerate() {
        let Some(said) = cited.get(at % cited.len().max(1)) else { continue };
        let there = by_number.get(said).unwrap_or_else(|| panic!("{name}: there is no row {said}"));
        let same = there.source == row.source || there.made == row.made && there.lead == row.lead;
        compared.holds(same, || format!("{name}: row {} is not row {said}", row.number));
        if !same {
            break;
        }
        compared.cited += 1;
    }
}

/// A space that a line goes into is there on the row below it.
fn named_spaces(name: &str, sentence: &str, of: &[&Worked], rows: &[Worked], compared: &mut Compared) {
    if ["Working in the sts of", "Join ", "Rep ", "Work as", "skipped", "join with sl st in next", "unworked"]
        .iter()
        .any(|w| sentence.contains(w))
    {
        return;
    }
    for row in of {
        let Some(below) = rows.iter().rev().find(|below| below.number < row.number) else { continue };
        for into in [" in next ch-", " in each ch-", " to next ch-", " in last ch-", "skip next ch-", "miss next ch-"] {
            for rest in sentence.split(into).skip(1) {
                let Some((length, _)) = rest.split_once(' ').filter(|(_, rest)| rest.starts_with("sp")) else {
                    continue;
                };
                let kind = format!("ch-{length} sp");
                let is_there = below.made(&kind).is_some_and(|made| made > 0);
                compared.holds(is_there, || format!("{name}: there is no {kind} below: {below:?}"));
                compared.spaces += 1;
            }
        }
    }
}

/// Works a plain line in numbers: what it makes, from the stitches of the row below. Nothing for a line with other words.
fn plain_line(name: &str, sentence: &str, of: &[&Worked], rows: &[Worked], compared: &mut Compared) {
    for row in of {
        let Some(below) = rows.iter().rev().find(|below| below.number < row.number) else { continue };
        if below.chains > 0 || below.left > 0 || below.closing == "turned short" || row.chains > 0 {
            continue;
        }
        let places = below.stitches + below.row_ends;
        let Some((made, used)) = in_numbers(sentence, places) else { continue };
        let is_so = (made, used) == (row.stitches, places - row.left);
        compared.holds(is_so, || format!("{name}: {made} over {used}, but row {} is {row:?}", row.number));
        compared.worked_again += 1;
    }
}

/// Stitches made and places used by a sentence that has nothing but plain steps, over so many places.
fn in_numbers(sentence: &str, places: u64) -> Option<(u64, u64)> {
    let sentence = sentence.strip_suffix('.')?.to_lowercase();
    let (mut made, mut used) = (0, 0);
    for part in parts(&sentence) {
        let lead = part.strip_prefix("ch ").map(|rest| rest.split(' ').next().and_then(|n| n.parse::<u64>().ok()));
        if part == "turn" || part.starts_with("join with sl st in first ") || part.starts_with("working in ") {
            continue;
        }
        if lead.flatten().is_some() {
            if part.contains("(counts as") {
                return None;
            }
            continue;
        }
        let (m, u) = step(&part, places.checked_sub(used)?)?;
        made += m;
        used += u;
    }
    Some((made, used))
}

/// What is between the commas that stand in no bracket.
fn parts(text: &str) -> Vec<String> {
    let (mut depth, mut all, mut one) = (0, Vec::new(), String::new());
    for c in text.chars() {
        depth += i32::from("[{(".contains(c)) - i32::from("]})".contains(c));
        if c == ',' && depth == 0 {
            all.push(std::mem::take(&mut one).trim().to_owned());
        } else {
            one.push(c);
        }
    }
    all.push(one.trim().to_owned());
    all
}

/// Stitches made and places used by one step where so many places are left.
fn step(part: &str, left: u64) -> Option<(u64, u64)> {
    if let Some(inner) = part.strip_prefix('[') {
        return repeat(inner, left);
    }
    let tog = |words: &str| {
        words.split_once("tog").and_then(|(name, rest)| {
            let legs = name.trim_start_matches(|c: char| c.is_alphabetic()).parse::<u64>().ok()?;
            Some((legs, rest.trim().to_owned()))
        })
    };
    if let Some((legs, rest)) = tog(part) {
        let times = match rest.as_str() {
            "" => 1,
            "around" | "across" => left.is_multiple_of(legs).then(|| left / legs)?,
            _ => rest.strip_suffix(" times")?.parse().ok()?,
        };
        return Some((times, times * legs));
    }
    let words: Vec<&str> = part.split(' ').collect();
    let (many, words) = match words.split_first() {
        Some((number, rest)) if number.parse::<u64>().is_ok() => (number.parse::<u64>().ok()?, rest),
        _ => (1, &words[..]),
    };
    let many = if words.first() == Some(&"inc") { 2 } else { many };
    if !["sc", "hdc", "dc", "tr", "inc"].contains(words.first()?) {
        return None;
    }
    let st = |word: &str| word == "st" || word == "sts";
    let places = match &words[1..] {
        ["in", "next" | "first" | "last", one] if st(one) => 1,
        ["in", "next" | "first" | "last", number, one] if st(one) => number.parse().ok()?,
        ["in", "each", "of", "next" | "first" | "last", number, one] if st(one) => number.parse().ok()?,
        ["in", "each", "st", "around" | "across"] | ["in", "each", "rem", "st", "around" | "across"] => left,
        ["in", "each", "st", "to", "last", "st"] => left.checked_sub(1)?,
        ["in", "each", "st", "to", "last", number, "sts"] => left.checked_sub(number.parse().ok()?)?,
        _ => return None,
    };
    Some((many * places, places))
}

/// The same of a repeat in brackets.
fn repeat(inner: &str, left: u64) -> Option<(u64, u64)> {
    let (inner, how_often) = inner.rsplit_once(']')?;
    let mut once = (0, 0);
    for part in parts(inner) {
        let (made, used) = step(&part, 0)?;
        once = (once.0 + made, once.1 + used);
    }
    let how_often = how_often.trim();
    let times = if let Some(times) = how_often.strip_suffix(" times") {
        times.parse().ok()?
    } else if how_often == "around" || how_often == "across" {
        (once.1 > 0 && left.is_multiple_of(once.1)).then(|| left / once.1)?
    } else {
        let last: u64 = how_often.strip_prefix("to last ")?.split(' ').next()?.parse().unwrap_or(1);
        (once.1 > 0 && (left - last).is_multiple_of(once.1)).then(|| (left - last) / once.1)?
    };
    Some((once.0 * times, once.1 * times))
}

#[test]
fn what_the_page_says_is_what_was_worked() {
    let mut compared = Compared::default();
    for folder in ["samples", "tests/print"] {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|ending| ending == "rnd") {
                compare(&path.display().to_string(), &fs::read_to_string(&path).unwrap(), &mut compared);
            }
        }
    }
    let faults: Vec<&String> = compared.faults.iter().take(20).collect();
    assert!(faults.is_empty(), "{} faults: {faults:#?}", compared.faults.len());
    assert!(compared.rows > 6_000 && compared.counts > 6_000, "{compared:?}");
    assert!(compared.cited > 1_000 && compared.worked_again > 1_500 && compared.spaces > 200, "{compared:?}");
}

/// A round over a number of stitches that differs by size.
#[derive(Debug, Clone)]
enum Round {
    Even,
    Grow,
    Shrink,
    As,
    Again(u8),
    Only(u8),
    Mesh,
}

/// Three sizes of a tube or a strip whose counts are multiples of 12, so that every round closes in each of them.
fn written(in_rounds: bool, multiples: [u64; 3], lines: &[Round]) -> String {
    let (line, lead) = if in_rounds { ("rnd", "") } else { ("row", "lead ch 1\n") };
    let way = if in_rounds { "in a spiral" } else { "in rows" };
    let mut counts = multiples.map(|multiple| multiple * 12);
    let list = |numbers: &[u64; 3]| numbers.map(|number| number.to_string()).join(" / ");
    let mut text = format!(
        "pattern Tern Tube\nsizes small / middling / large\nterms US\nhook 4 mm\nyarn A\n\npiece Tube, {way}\nwith A\n{lead}start {} fsc\n",
        list(&counts)
    );
    let mut same = true;
    text.push_str(&format!("{line}: sc to end\n"));
    for one in lines {
        match one {
            Round::Even => text.push_str(&format!("{line}: sc to end\n")),
            Round::Grow => {
                let each = counts.map(|count| count / 12 - 1);
                counts = counts.map(|count| count + 12);
                text.push_str(&format!("{line}: [sc {}, 2 sc in next] 12 times = {}\n", list(&each), list(&counts)));
            }
            Round::Shrink if counts.iter().all(|count| *count > 24) => {
                let each = counts.map(|count| count / 12 - 2);
                counts = counts.map(|count| count - 12);
                text.push_str(&format!("{line}: [sc {}, sc2tog] 12 times = {}\n", list(&each), list(&counts)));
            }
            Round::As if same => text.push_str(&format!("{line}: as {line} 1\n")),
            Round::Again(times) => {
                let times = [u64::from(times % 4), u64::from(times % 3), u64::from(times % 5 + 1)];
                text.push_str(&format!("{line}: hdc to end\nagain {line} 1, {} times\n", list(&times)));
                same = false;
            }
            Round::Only(which) => {
                let sizes = ["small", "middling", "large", "small, large", "middling, large"];
                text.push_str(&format!("only {}: {line}: dc to end\n", sizes[usize::from(*which) % sizes.len()]));
                same = false;
            }
            Round::Mesh => {
                let half = counts.map(|count| count / 2);
                text.push_str(&format!("{line}: [sc, ch 1, skip 1] to end = {0} sc + {0} ch-1 sp\n", list(&half)));
                // A row comes back to the space first.
                let back = if in_rounds { ["sc", "ch-1 sp"] } else { ["ch-1 sp", "sc"] };
                let [first, second] = back;
                text.push_str(&format!(
                    "{line}: [sc in next {first}, sc in next {second}] to end = {}\n",
                    list(&counts)
                ));
            }
            Round::Shrink | Round::As => {}
        }
    }
    text + "fasten off\n"
}

fn round() -> impl Strategy<Value = Round> {
    prop_oneof![
        Just(Round::Even),
        Just(Round::Grow),
        Just(Round::Shrink),
        Just(Round::As),
        any::<u8>().prop_map(Round::Again),
        any::<u8>().prop_map(Round::Only),
        Just(Round::Mesh),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn the_page_of_any_pattern_says_what_was_worked(
        in_rounds in any::<bool>(),
        multiples in [2u64..6, 2u64..6, 2u64..6],
        lines in prop::collection::vec(round(), 1..12),
    ) {
        let text = written(in_rounds, multiples, &lines);
        let compiled = ringtrue::compile(&text);
        prop_assert!(!compiled.has_errors(), "{text}{:?}", compiled.findings);
        let mut compared = Compared::default();
        compare("generated", &text, &mut compared);
        prop_assert!(compared.faults.is_empty(), "{text}{:#?}", compared.faults);
        prop_assert!(compared.counts > 0);
    }
}

/// `picot`, of `6 picots`: a whole word has its plural.
fn one_of(kind: String) -> String {
    match kind.strip_suffix('s') {
        Some(one) if one.len() > 3 && one.chars().all(char::is_alphabetic) => one.to_owned(),
        _ => kind,
    }
}
