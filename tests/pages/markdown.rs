//! The page as Markdown: what a maker reads, and that a designer's text can't become markup in it.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test says what it expects by failing")]

use std::fs;

use insta::assert_snapshot;
use proptest::prelude::*;
use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};
use ringtrue::page::{Edition, Faults, Wording, html, markdown, plain};
use ringtrue::stitch::Terms;

fn sample(name: &str) -> ringtrue::Compiled {
    ringtrue::compile(&fs::read_to_string(format!("samples/{name}.rnd")).unwrap())
}

#[test]
fn a_pattern_in_three_sizes() {
    assert_snapshot!(markdown(&sample("causeway-cap"), &Edition::default()));
}

#[test]
fn one_size_of_it_in_uk_terms_and_in_full() {
    let edition = Edition { terms: Some(Terms::Uk), size: Some(1), words: Wording::InFull, ..Edition::default() };
    assert_snapshot!(markdown(&sample("causeway-cap"), &edition));
}

/// The designer's words can't be put in other terms, so the page says in which ones they are.
#[test]
fn a_page_in_other_terms_says_which_terms_the_designers_words_keep() {
    let said = "The designer’s own words are given as written: stitch names in them are in US terms.";
    let compiled = sample("ebb-line-shawl");
    let uk = Edition { terms: Some(Terms::Uk), ..Edition::default() };
    assert!(markdown(&compiled, &uk).contains(said));
    assert!(!markdown(&compiled, &Edition::default()).contains("own words"));
    let silent = ringtrue::compile("pattern X\nterms US\npiece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n");
    assert!(!markdown(&silent, &uk).contains("own words"));
}

#[test]
fn a_toy_with_its_cautions() {
    assert_snapshot!(markdown(&sample("pup-seal-ball"), &Edition::default()));
}

#[test]
fn a_draft_says_so_at_the_top_and_at_the_line() {
    let compiled = sample("faulty/one-size-breaks");
    assert_snapshot!(markdown(&compiled, &Edition::default()));
    let hidden = Edition { faults: Faults::Hide, ..Edition::default() };
    let page = markdown(&compiled, &hidden);
    assert!(page.contains("This pattern is a draft: it has 1 fault."), "{page}");
    assert!(!page.contains("Fault:"), "{page}");
}

#[test]
fn the_page_never_calls_a_thing_safe() {
    for entry in fs::read_dir("samples").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "rnd") {
            let text = fs::read_to_string(&path).unwrap();
            let compiled = ringtrue::compile(&text);
            let words = markdown(&compiled, &Edition::default()).to_lowercase();
            let said = words.split(|c: char| !c.is_alphabetic()).any(|word| word == "safe" || word == "safely");
            assert!(!said, "{}", path.display());
        }
    }
}

/// Baby, child and toy have cautions whatever the edition; each leaves the last word to others.
#[test]
fn cautions_are_there_in_every_edition() {
    let pattern = |audience: &str| {
        format!(
            "pattern Tern Bonnet\nterms US\nfor {audience}\nhook 4 mm\nnotion button\nnotion ribbon\n\
             piece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nfasten off\n"
        )
    };
    for (audience, abouts) in [
        ("baby", ["Small parts:", "Cords and ties:", "Hats and sleep:"].as_slice()),
        ("child", &["Small parts:", "Cords and ties:"]),
        ("toy", &["Small parts:", "Cords on a toy:", "Toys:"]),
    ] {
        let compiled = ringtrue::compile(&pattern(audience));
        for edition in [
            Edition::default(),
            Edition {
                terms: Some(Terms::Uk),
                size: Some(0),
                words: Wording::InFull,
                faults: Faults::Hide,
                ..Edition::default()
            },
        ] {
            let page = markdown(&compiled, &edition);
            let (_, cautions) = page.split_once("## Cautions").unwrap();
            for about in abouts {
                assert!(cautions.contains(about), "{audience}: {about}\n{page}");
            }
            let asks = cautions.matches("Follow the rules where you live; ask a qualified person.").count();
            assert_eq!(asks, 1, "{page}");
            assert!(html(&compiled, &edition).contains("id=\"cautions\""));
        }
    }
}

#[test]
fn empty_sections_are_left_out() {
    let page = markdown(
        &ringtrue::compile("pattern X\nterms US\npiece A, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n"),
        &Edition::default(),
    );
    let headings: Vec<&str> = page.lines().filter(|line| line.starts_with('#')).collect();
    assert_eq!(headings, ["# X", "## Abbreviations (US terms)", "## Notes", "## Instructions", "### A"]);
}

/// The order in which the trade puts what a pattern says.
#[test]
fn everything_has_its_place() {
    let text = "pattern Tern Bootie\nby Wren Hollow\nabout Small.\nsizes one / two\nterms US\nfor baby\nskill easy\n\
                hook 4 mm\nyarn A \"oat\", weight 3\ngauge 17 sts x 19 rows in sc = 10 cm\nfits foot 9 / 10 cm\n\
                note Gently.\nversion 2 of 2026-03-01\ncorrection 2026-03-01 Round 1 has *6* stitches.\n\
                caution Sew the strap on twice.\npicture tern.jpg \"The [finished] bootie\"\n\
                stitch lump \"lump\": takes 1, makes 1 > A bump.\n\
                piece Foot, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [lump] to end = 6\n\
                fasten off\nsew Foot to Foot\n";
    let compiled = ringtrue::compile(text);
    let page = markdown(&compiled, &Edition::default());
    let headings: Vec<&str> = page.lines().filter(|line| line.starts_with('#')).collect();
    let wanted = [
        "# Tern Bootie",
        "## Sizes and measurements",
        "## Materials",
        "## Gauge",
        "## Cautions",
        "## Abbreviations (US terms)",
        "## Special stitches",
        "## Notes",
        "## Instructions",
        "### Foot",
        "## Corrections",
    ];
    let without_finishing: Vec<&str> = headings.iter().copied().filter(|h| *h != "## Finishing").collect();
    assert_eq!(without_finishing, wanted, "{page}");
    assert!(page.contains("![The \\[finished\\] bootie](tern.jpg)\n\nBy Wren Hollow"), "{page}");
    assert!(page.contains("**Version:** 2 of 2026-03-01\n"), "{page}");
    assert!(page.ends_with("## Corrections\n\n* **2026-03-01:** Round 1 has *6* stitches.\n"), "{page}");
    let (_, cautions) = page.split_once("## Cautions").unwrap();
    assert!(cautions.contains("Small parts:") && cautions.contains("\nSew the strap on twice.\n"), "{page}");
}

/// Inside a repeat of rows each has its number, the line that it says again, and its count.
#[test]
fn rows_inside_a_repeat_are_counted_one_by_one() {
    let text = "pattern Tern Shawl\nterms US\npiece Wing, in rows\nlead ch 1\nstart ch 5\n\
                row 1: sc in 2nd ch from hook, sc to end = 4\nrow 2: sc to last 1, 2 sc in next = 5\n\
                row 3: 2 sc in next, sc to end = 6\nagain rows 2-3, 3 times = 12\n";
    let page = markdown(&ringtrue::compile(text), &Edition::default());
    let told = "Row 4 as Row 2: 7 sts; Row 5 as Row 3: 8 sts; Row 6 as Row 2: 9 sts; Row 7 as Row 3: 10 sts; \
                Row 8 as Row 2: 11 sts; Row 9 as Row 3: 12 sts.";
    assert!(page.contains(told), "{page}");
}

/// What a reader of Markdown sees of a page: its text, piece by piece.
fn read(markdown: &str) -> String {
    let mut text = String::new();
    for event in Parser::new_ext(markdown, Options::ENABLE_TABLES) {
        match event {
            Event::Text(part) | Event::Code(part) => text.push_str(&part),
            Event::Html(part) | Event::InlineHtml(part) => panic!("markup: {part}"),
            Event::Start(Tag::Link { dest_url, .. }) => assert!(is_allowed(&dest_url), "{dest_url}"),
            Event::Start(Tag::Image { dest_url, .. }) => panic!("picture: {dest_url}"),
            Event::SoftBreak | Event::HardBreak => text.push(' '),
            Event::End(TagEnd::Paragraph | TagEnd::Item | TagEnd::Heading(_) | TagEnd::TableCell) => text.push('\n'),
            _ => {}
        }
    }
    text
}

fn is_allowed(link: &str) -> bool {
    ["http://", "https://", "mailto:", "#"].iter().any(|start| link.to_lowercase().starts_with(start))
}

fn titled(text: &str) -> String {
    format!(
        "pattern {text}\nby {text}\nabout {text}\nterms US\nhook 4 mm\nnotion {text}\npiece {text}, in a spiral\n\
         start ring\nrnd 1: 6 sc in ring = 6\n"
    )
}

#[test]
fn hostile_text_is_shown_as_text() {
    for text in [
        "<script>alert(1)</script>",
        "*a* _b_ **c** `d` [e](javascript:f) ![g](h) <i>j</i> ~~k~~ | l | \\* $m$",
        "- a",
        "+ a",
        "1. a",
        "12) a",
        "--- a",
        "=== a",
        "``` a",
        "~~~ a",
        "> a",
        "&lt; &amp; &#35; &copy;",
        "a\\",
        "!",
        "[a]: b",
    ] {
        let shown = read(&markdown(&ringtrue::compile(&titled(text)), &Edition::default()));
        let times = shown.lines().filter(|line| line.contains(text)).count();
        assert!(times >= 4, "{text} is shown {times} times:\n{shown}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever is in the title, the maker and the words about it, the reader sees exactly that.
    #[test]
    fn any_text_is_shown_as_text(text in "[ -~äß🧶]{1,30}") {
        let compiled = ringtrue::compile(&titled(&text));
        let head = &compiled.pattern.head;
        let page = markdown(&compiled, &Edition::default());
        let shown = read(&page);
        let lines: Vec<&str> = shown.lines().map(str::trim).collect();
        let tidy = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        for text in [Some(head.title.clone()), head.about.clone(), head.by.as_ref().map(|by| format!("By {by}"))] {
            if let Some(text) = text.map(|t| tidy(&t)).filter(|t| !t.is_empty()) {
                prop_assert!(lines.contains(&text.as_str()), "{text}\n{page}");
            }
        }
    }
}

/// Two sizes; a number in words for the maker, in a note, and in words for one size.
const NUMBERS_IN_WORDS: &str = "pattern Tern Mat\nsizes small / large\nterms US\nset cuff = 3 / 4\n\
    note Use a #7 hook, and fold {cuff} rows.\npiece Mat, in rows\nlead ch 1\nstart ch 11\n\
    row 1: sc in 2nd ch from hook, sc to end = 10\n> Fold over *{cuff * 2}* rows, [as shown](#{cuff}), 3 / 4 # or so, 1/2 / 3.\n\
    only large: > Sew on {cuff} pins.\nrow 2: sc to end = 10\n";

#[test]
fn numbers_in_words_for_the_maker_are_those_of_each_size() {
    let compiled = ringtrue::compile(NUMBERS_IN_WORDS);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    for page in [markdown(&compiled, &Edition::default()), plain(&compiled, &Edition::default())] {
        let page = page.replace('\\', "");
        assert!(page.contains("#7 hook") && page.contains("fold 3 (4) rows"), "{page}");
        assert!(page.contains("6 (8)") && page.contains("3 (4) # or so, 1/2 / 3"), "{page}");
        assert!(page.contains("Size large only:") && page.contains("Sew on 4 pins"), "{page}");
        assert!(!page.contains('{') && !page.chars().any(|c| ('\u{E000}'..='\u{F8FF}').contains(&c)), "{page}");
    }
    let large = markdown(&compiled, &Edition { size: Some(1), ..Edition::default() });
    assert!(large.contains("fold 4 rows") && large.contains("Sew on 4 pins"), "{large}");
    let small = markdown(&compiled, &Edition { size: Some(0), ..Edition::default() });
    assert!(small.contains("fold 3 rows") && !small.contains("pins"), "{small}");
}

#[test]
fn the_switch_of_sizes_finds_the_numbers_in_words() {
    let compiled = ringtrue::compile(NUMBERS_IN_WORDS);
    let page = html(&compiled, &Edition::default());
    for number in ["<span data-size=\"0\">6</span>", "<span data-size=\"1\">8</span>"] {
        assert!(page.contains(number), "{page}");
    }
    assert!(page.contains("href=\"#\""), "{page}");
}

#[test]
fn a_steel_hook_with_its_number_alone_says_that_its_width_is_unknown() {
    let text = "pattern Mat\nterms US\nhook steel 7\npiece Mat, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n";
    let compiled = ringtrue::compile(text);
    assert!(compiled.findings.is_empty(), "{:?}", compiled.findings);
    let page = markdown(&compiled, &Edition::default());
    assert!(page.contains("Hook steel 7 (makers of steel hooks differ on its width; go by the gauge)"), "{page}");
}

#[test]
fn seams_to_rows_that_differ_by_size_are_told_for_each_size() {
    let text = "pattern Mat\nsizes small / large\nterms US\nset cuff = 3 / 4\npiece Mat, in rows\nlead ch 1\nstart ch 11\n\
        row 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: sc to end = 10\nagain row 2 until row {cuff}\n\
        seam row 1 to row {cuff}\n";
    let compiled = ringtrue::compile(text);
    assert!(!compiled.has_errors(), "{:?}", compiled.findings);
    let page = markdown(&compiled, &Edition::default());
    assert!(page.contains("Sew Row 1 to Row 3 (4)."), "{page}");
    let large = markdown(&compiled, &Edition { size: Some(1), ..Edition::default() });
    assert!(large.contains("Sew Row 1 to Row 4."), "{large}");
}
