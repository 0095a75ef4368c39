//! What is compiled is what the generator makes of the notation.
#![allow(clippy::disallowed_methods, reason = "tests read and write files")]

use std::{env, fs};

use quote::quote;

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
    let (made, kept) = (laid_out(from, made), format!("{BESIDE}/{kept}"));
    if env::var_os("RINGTRUE_RENEW").is_some() {
        fs::write(&kept, &made).unwrap();
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
    is_kept("notation.pest", "made.rs", &made.to_string());
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
    is_kept("prose.pest", "prose.rs", &made.to_string());
}
