//! What is compiled is what the generator makes of the notation, and a rule is left untried only where it could not read anything.
#![allow(clippy::disallowed_methods, reason = "tests read and write files")]

mod first_letters;

use std::{env, fs};

use pest::Parser;
use quote::quote;
use ringtrue_grammar::{Notation, Prose, Rule, glance, prose};

const BESIDE: &str = env!("CARGO_MANIFEST_DIR");

/// How pest puts readings together, and how `parser.rs` does, which is compiled once and not at each place.
const WAYS: [(&str, &str); 6] = [
    ("rule", "one_rule"),
    ("sequence", "in_sequence"),
    ("optional", "if_there"),
    ("repeat", "repeated"),
    ("lookahead", "looked_ahead"),
    ("atomic", "undivided"),
];

/// A line for each rule, so that a change of one is seen as that.
fn laid_out(from: &str, made: &str) -> String {
    let mut made = made.replace("# [inline] ", "");
    for (pest, ours) in WAYS {
        made = made.replace(&format!("state . {pest} ("), &format!("state . {ours} ("));
    }
    let made = made.replace("use super :: super :: Rule ;", "use super :: super :: { Rule , Ways } ;");
    let head = format!("// Made of {from} by `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar`.");
    format!("{head}\n{}\n", made.replace(" pub fn ", "\npub fn "))
}

fn is_kept(from: &str, kept: &str, made: &str) {
    let kept = format!("{BESIDE}/{kept}");
    if env::var_os("RINGTRUE_RENEW").is_some() {
        fs::write(&kept, made).unwrap();
    }
    assert!(
        fs::read_to_string(&kept).unwrap() == made,
        "{kept} is not what {from} says; `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar` makes it anew"
    );
}

#[test]
fn what_is_compiled_is_what_the_notation_says() {
    let made = pest_generator::derive_parser(
        quote!(
            #[grammar = "notation.pest"]
            pub struct Notation;
        ),
        false,
    );
    is_kept("notation.pest", "made.rs", &laid_out("notation.pest", &made.to_string()));
    is_kept("notation.pest", "begins/notation.rs", &first_letters::table("notation.pest"));
}

#[test]
fn what_is_compiled_is_what_the_language_of_patterns_says() {
    let made = pest_generator::derive_parser(
        quote!(
            #[grammar = "prose.pest"]
            pub struct Prose;
        ),
        false,
    );
    is_kept("prose.pest", "prose.rs", &laid_out("prose.pest", &made.to_string()));
    is_kept("prose.pest", "begins/prose.rs", &first_letters::table("prose.pest"));
}

/// Rules that are read whole lines by; the others are tried on fewer texts.
fn is_of_a_line(rule: Rule) -> bool {
    format!("{rule:?}").ends_with("_line")
}

/// Whether a rule reads a text the same way, whether or not other rules are left untried by the next letter.
fn is_read_alike(rule: Rule, text: &str) {
    let told = |pairs: Result<_, _>| pairs.ok().map(|pairs| format!("{pairs:?}"));
    let (whole, short) = (told(Notation::parse(rule, text)), told(glance::<Notation, Rule>(rule, text)));
    assert!(whole == short, "`{text}` by {rule:?} is {short:?} and not {whole:?}");
}

/// Lines of patterns, and what stands behind their first word and behind their colon, each a little wrong as well.
fn texts() -> Vec<String> {
    let mut texts = Vec::new();
    let mut turn = 0_usize;
    for folder in ["samples", "samples/faulty", "tests/print", "tests/print/as-printed"] {
        let files = fs::read_dir(format!("{BESIDE}/../{folder}")).unwrap().map(|entry| entry.unwrap().path());
        let mut files: Vec<_> = files.filter(|path| path.extension().is_some_and(|end| end == "rnd")).collect();
        files.sort();
        for line in files.iter().flat_map(|path| lines(&fs::read_to_string(path).unwrap())) {
            let behind = |sign: char| line.split_once(sign).map_or("", |(_, rest)| rest.trim());
            for text in [line.trim(), behind(' '), behind(':')].into_iter().filter(|text| !text.is_empty()) {
                turn += 1;
                texts.push(text.to_owned());
                texts.push(a_little_wrong(text, turn));
            }
        }
    }
    texts
}

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

/// A text with a letter left out, doubled or another one, or cut off, at a place that is another one each time.
fn a_little_wrong(text: &str, turn: usize) -> String {
    let letters: Vec<char> = text.chars().collect();
    let at = turn * 7 % letters.len();
    let (before, behind) = letters.split_at(at);
    let (one, rest) = behind.split_first().unwrap();
    let other = ['s', '(', ']', '3', '“', 'é', ' ', '-', '/', '{'][turn % 10];
    let middle = match turn % 4 {
        0 => vec![],
        1 => vec![*one, *one],
        2 => vec![other],
        _ => return before.iter().collect(),
    };
    before.iter().chain(&middle).chain(rest).collect()
}

#[test]
fn a_rule_is_left_untried_only_where_it_reads_nothing() {
    for (n, text) in texts().iter().enumerate() {
        for (at, rule) in Rule::all_rules().iter().enumerate() {
            if n % 96 == at % 96 || is_of_a_line(*rule) && n % 16 == at % 16 {
                is_read_alike(*rule, text);
            }
        }
    }
}

#[test]
fn the_language_of_patterns_is_read_alike_as_well() {
    let texts = [
        "~sc in 2nd ch from hook , ~sc in next 4 st , turn",
        "( ~dc , ch 2 , ~dc ) in next ch-2 sp , rep from * to end = 12 st",
        "rep row 2 3 more times",
        "~sc in each st to end . 12 st (this makes a crisp edge)",
    ];
    for (turn, text) in texts.iter().flat_map(|text| std::iter::repeat_n(text, text.len())).enumerate() {
        for text in [(*text).to_owned(), a_little_wrong(text, turn)] {
            for rule in prose::Rule::all_rules() {
                let told = |pairs: Result<_, _>| pairs.ok().map(|pairs| format!("{pairs:?}"));
                let (whole, short) =
                    (told(Prose::parse(*rule, &text)), told(glance::<Prose, prose::Rule>(*rule, &text)));
                assert!(whole == short, "`{text}` by {rule:?} is {short:?} and not {whole:?}");
            }
        }
    }
}

#[test]
fn a_word_is_tried_by_its_first_letter() {
    use ringtrue_grammar::Begins;
    let begins = |rule: Rule, letter: char| rule.may_begin(u8::try_from(letter).ok());
    assert!(begins(Rule::k_row, 'r') && begins(Rule::k_row, 'R') && !begins(Rule::k_row, 's'));
    assert!(begins(Rule::amount, '3') && begins(Rule::amount, '{') && !begins(Rule::amount, 'a'));
    assert!(begins(Rule::each_place, 'i') && !begins(Rule::each_place, 'e'));
    assert!(!Rule::k_row.may_begin(None) && Rule::gap_slip.may_begin(None));
}
