//! Every page, read again, makes the fabric that it was written from.

#![expect(clippy::unwrap_used, clippy::print_stdout, reason = "a test says what it expects by failing")]

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use ringtrue::page::{self, Edition, Letters, Wording};
use ringtrue::pattern::model::Terms;
use ringtrue::read::back::{self, ReadBack};
use ringtrue::{Compiled, compile};

fn patterns() -> Vec<PathBuf> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<PathBuf> = ["samples", "tests/print"]
        .iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "rnd"))
        .collect();
    files.sort();
    files
}

type Page = fn(&Compiled, &Edition) -> ReadBack;

fn editions() -> Vec<(&'static str, Page, Edition)> {
    let usual = Edition::default();
    vec![
        ("Markdown", back::markdown, usual),
        ("plain", back::plain, usual),
        ("in full", back::markdown, Edition { words: Wording::InFull, ..usual }),
        ("US", back::markdown, Edition { terms: Some(Terms::Us), ..usual }),
        ("UK", back::plain, Edition { terms: Some(Terms::Uk), ..usual }),
        ("UK in full", back::plain, Edition { terms: Some(Terms::Uk), words: Wording::InFull, ..usual }),
        ("first size", back::markdown, Edition { size: Some(0), ..usual }),
        ("last size", back::plain, Edition { size: Some(usize::MAX), ..usual }),
    ]
}

fn held(of: &str, chosen: &[&str]) -> Vec<String> {
    let mut wrong = Vec::new();
    for path in patterns().into_iter().filter(|path| path.components().any(|part| part.as_os_str() == of)) {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let compiled = compile(&fs::read_to_string(&path).unwrap());
        for (edition_name, read, edition) in editions().into_iter().filter(|(name, ..)| chosen.contains(name)) {
            let last = compiled.pattern.sizes.len().saturating_sub(1);
            let back = read(&compiled, &Edition { size: edition.size.map(|size| size.min(last)), ..edition });
            if !back.is_same() {
                wrong.push(format!("{name}, {edition_name}: {}", back.told()));
            }
        }
    }
    wrong
}

#[test]
fn the_page_of_every_sample_makes_the_fabric_that_it_was_written_from() {
    let wrong = held("samples", &["Markdown", "plain", "in full", "last size"]);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_page_of_every_printed_pattern_makes_the_fabric_that_it_was_written_from() {
    let wrong = held("print", &["Markdown"]);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// How many pages of all samples and printed patterns are read back the same in each edition in words. None has ever been fewer.
const SEEN: [(&str, usize); 3] = [("plain", 133), ("in full", 132), ("UK", 133)];

#[test]
fn no_edition_is_read_back_less_than_before() {
    let all = editions();
    let large = Edition { letters: Letters::Large, ..Edition::default() };
    let mut same = [0; SEEN.len()];
    for path in patterns() {
        let compiled = compile(&fs::read_to_string(&path).unwrap());
        // Large print has the words of the usual page.
        assert_eq!(page::plain(&compiled, &large), page::plain(&compiled, &Edition::default()));
        for (count, (name, _)) in same.iter_mut().zip(SEEN) {
            let (_, read, edition) = all.iter().find(|(other, ..)| *other == name).unwrap();
            *count += usize::from(read(&compiled, edition).is_same());
        }
    }
    let told: Vec<String> =
        SEEN.iter().zip(same).map(|((name, seen), same)| format!("{name}: {same}, was {seen}")).collect();
    println!("{}", told.join("\n"));
    assert!(SEEN.iter().zip(same).all(|((_, seen), same)| same >= *seen), "{}", told.join("\n"));
}

/// What few patterns have: each page is read back to the same fabric, and says the words that it turns on.
#[test]
fn pages_of_rare_beginnings_and_rounds_are_read_back() {
    let cup = "piece Cup, in rows\nlead ch 1\nstart ch 6\nrow 1: sc in 2nd ch from hook, sc to end = 5\nfasten off\n";
    let joined =
        |way: &str, start: &str, line: &str| format!("{cup}piece Cap, {way}\nlead ch 1\nstart {start}\n{line}\n");
    let cases = [
        (
            joined("in rows", "ch 4 + top of Cup", "row 1: sc to end = 9"),
            "4 new ch (made beforehand, and joined with sl st to the first place of the last row of Cup)",
        ),
        (
            joined("in rows", "top of Cup + ch 4", "row 1: sc to end = 9"),
            "(made beforehand, beginning with a sl st in the last place of the last row of Cup)",
        ),
        (
            joined("in joined rounds", "top of Cup + ch 4", "rnd 1: sc to end = 9"),
            "from a sl st in the last place of the last row of Cup to one in the first place of the last row of Cup",
        ),
        (
            "piece Cup, in joined rounds, turned\nlead ch 1\nstart ring\nrnd 1: 8 sc in ring = 8\nrnd 2: sc 4, turn\nrnd 3: sc 2, \
             turn\nrnd 4: sc to end = 8\n"
                .to_owned(),
            "the waiting sts included, join with sl st in first sc, turn. — 8 sts",
        ),
        (
            "piece Wrap, in rows\nlead ch 3 as dc\nstart ch 8\nrow 1: dc in 4th ch from hook, dc to end = 6\nrow 2: dc in first gap, \
             skip 2, dc in next gap, dc 2 = 5\n"
                .to_owned(),
            "ch 3 (counts as dc), dc in sp between first 2 sts,",
        ),
        (
            "piece Cup, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [flo sc, skip 1, flo sc] 2 times = 4\nfasten off\npiece \
             Foot, in a spiral\nstart back loops of rnd 1 of Cup\nrnd 1: sc to end = 6\n"
                .to_owned(),
            "in the first of the free back loops of Rnd 1 of Cup and work along them",
        ),
    ];
    for (lines, words) in cases {
        let compiled = compile(&format!("pattern Quay work\nterms US\nyarn Sand\n{lines}fasten off\n"));
        assert!(!compiled.has_errors(), "{lines}\n{:?}", compiled.findings);
        let page = page::plain(&compiled, &Edition::default());
        let said = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(words), "{words}\n{page}");
        assert!(back::of_page(&compiled, &Edition::default(), &page).is_same(), "{page}");
    }
}

/// One word of a page changed is another fabric, or a line that can't be read.
#[test]
fn a_page_that_says_other_work_is_not_the_same() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let compiled = compile(&fs::read_to_string(root.join("samples/gannet-beret.rnd")).unwrap());
    let page = ringtrue::page::plain(&compiled, &Edition::default());
    assert!(back::of_page(&compiled, &Edition::default(), &page).is_same());
    let lines: Vec<&str> = page.lines().collect();
    for (at, line) in lines.iter().enumerate().filter(|(_, line)| line.starts_with("Rnd ")) {
        let changed = line.replacen("dc", "hdc", 1);
        if changed == *line {
            continue;
        }
        let text: Vec<&str> =
            lines.iter().enumerate().map(|(other, line)| if other == at { changed.as_str() } else { line }).collect();
        let back = back::of_page(&compiled, &Edition::default(), &text.join("\n"));
        assert!(!back.is_same(), "{changed}");
    }
}

#[test]
#[ignore = "it prints a table"]
fn table() {
    let only = std::env::var("ONLY").unwrap_or_default();
    let show = std::env::var("SHOW").is_ok();
    let mut sums = vec![(0, 0, 0, 0); 8];
    let mut told = String::new();
    for path in patterns() {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        if !name.contains(&only) {
            continue;
        }
        let compiled = compile(&fs::read_to_string(&path).unwrap());
        let mut row = format!("{name:<34}");
        if std::env::var("WHY").is_ok() {
            why(&name, &compiled);
            continue;
        }
        for (at, (_, read, edition)) in editions().into_iter().enumerate() {
            let last = compiled.pattern.sizes.len().saturating_sub(1);
            let edition = Edition { size: edition.size.map(|size| size.min(last)), ..edition };
            let back = read(&compiled, &edition);
            write!(row, " {}/{}{}", back.same, back.rows, if back.is_same() { "=" } else { " " }).unwrap();
            sums[at].0 += back.same;
            sums[at].1 += back.rows;
            sums[at].2 += usize::from(back.is_same());
            sums[at].3 += 1;
            if show && at == std::env::var("AT").map_or(0, |at| at.parse().unwrap()) {
                println!("{}", back.notation);
                for difference in back.differences.iter().take(12) {
                    println!("{difference:?}");
                }
                let (again, text) = (compile(&back.notation), back.notation.clone());
                for finding in again.findings.iter().take(12) {
                    let span = finding.primary.span;
                    println!(
                        "{:?} {:?}: {} — {}",
                        finding.severity,
                        finding.code,
                        finding.message,
                        text.get(span.start..span.end).unwrap_or("?")
                    );
                }
            }
        }
        writeln!(told, "{row}").unwrap();
    }
    println!("{told}{sums:?}");
}

fn why(name: &str, compiled: &Compiled) {
    let (_, read, edition) = editions().remove(std::env::var("AT").map_or(0, |at| at.parse().unwrap()));
    let plain = read as usize == back::plain as *const () as usize;
    let page =
        if plain { ringtrue::page::plain(compiled, &edition) } else { ringtrue::page::markdown(compiled, &edition) };
    let reading = ringtrue::read::read(&page);
    for one in reading.instructions {
        if let ringtrue::read::Became::Remark(what) = one.became {
            println!("UNREAD {name}: {what} | {}", one.words);
        }
    }
    let (again, text) = (compile(&reading.notation), reading.notation.clone());
    for finding in again.findings.iter().filter(|f| format!("{:?}", f.severity) == "Error").take(4) {
        let span = finding.primary.span;
        let line = text.get(..span.start).unwrap_or_default().rfind('\n').map_or(0, |at| at + 1);
        let end = text.get(span.start..).unwrap_or_default().find('\n').map_or(text.len(), |at| at + span.start);
        println!(
            "ERR {name} {:?}: {} — {} || {}",
            finding.code,
            finding.message,
            text.get(span.start..span.end.min(span.start + 60)).unwrap_or("?"),
            text.get(line..end.min(line + 200)).unwrap_or("?")
        );
    }
    let back = back::of_page(compiled, &edition, &page);
    if let Some(first) = back.differences.first() {
        println!("DIFF {name} {}/{} {first:?}", back.same, back.rows);
    }
}

/// A page that would take minutes to be read again is not called proved, and says why.
#[test]
fn a_page_that_is_too_large_is_not_read_again() {
    let rows = "rows 2-4000: sc to end = 400\n";
    let text = format!(
        "pattern Long Groyne Runner\nterms US\npiece Runner, in rows\nlead ch 1\nstart ch 401\nrow 1: sc in 2nd ch from hook, sc to end = 400\n{rows}fasten off\n"
    );
    let back = back::markdown(&ringtrue::compile(&text), &Edition::default());
    assert!(back.too_large && !back.is_same(), "{back:?}");
    assert_eq!(back.told(), "the page is not proved: it is too large to be read back");
    let back = back::markdown(&ringtrue::compile(&text.replace("4000", "40")), &Edition::default());
    assert!(back.is_same(), "{}", back.told());
}

/// Squares of filet in rounds, blocks of a grid from corner to corner, Tunisian rows beside other pieces, reverse stitches and long ones.
#[test]
fn pages_of_grids_and_of_rows_that_go_their_own_way_are_read_back() {
    let strip = "piece Strip, in rows\nwith A\nlead ch 1\nstart ch 6\nrow 1: sc in 2nd ch from hook, sc to end = 5\nfasten off\n\n";
    let filet = "grid Pier, filet\nlegend . = open, x = filled\n|x..x|\n|.xx.|\n|x.x.|\n\n";
    let cuff = |length: u32, line: &str| {
        format!(
            "{filet}piece Cuff, in joined rounds\nwith A\nlead ch 3 as dc\nstart ch {length} joined\nrnd 1: dc to end\nrnds 2-4: {line}\n"
        )
    };
    let cup = "piece Cup, in joined rounds\nwith A\nlead ch 1\nstart ring\nrnd 1: 12 sc in ring = 12\n";
    let cases = [
        (cuff(12, "grid Pier"), "1 filled square without its last dc, join"),
        (cuff(24, "grid Pier to end"), "1 filled square] around, omitting last dc, join"),
        (
            "grid Flag, corner to corner\nlegend x = B, . = A\n|x..x|\n|.xx.|\n|x..x|\n\npiece Flag, in rows\nwith A\nstart ch 6\nrows 1-6: grid Flag\n".to_owned(),
            "slip to first ch-3 sp, a block in it, a block in next ch-3 sp (2 A), sl st in last ch-3 sp",
        ),
        (
            format!("{strip}piece Sole, in Tunisian rows\nwith A\nstart ch 8\nrow 1: tss in 2nd ch from hook, tss to end = 8\nrow 2: tss to end\n"),
            "Skip first st, tss in each rem st across",
        ),
        (format!("{cup}rnd 2: rsc to end = 12\nrnd 3: sc 2, dc, sc to end\n"), "rsc in each st around"),
        (
            format!("{cup}rnd 2: [sc, ch 2, skip 2] to end\nrnd 3: [sc, ch 2, skip next ch-2 sp] to end\nrnd 4: [sc, 2 dc 2 rows below in next ch-2 sp] to end\n"),
            "2 dc in next ch-2 sp 2 rnds below",
        ),
    ];
    for (lines, words) in cases {
        let text = format!("pattern Rare\nterms US\nhook 4 mm\nyarn A \"oat\"\nyarn B \"rust\"\n{lines}");
        let compiled = compile(&text);
        assert!(!compiled.has_errors(), "{text}\n{:?}", compiled.findings);
        let told = page::plain(&compiled, &Edition::default());
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(words), "no “{words}” in:\n{told}");
        let back = back::plain(&compiled, &Edition::default());
        assert!(back.is_same(), "{text}\n{}\n{}", back.told(), back.notation);
    }
}
