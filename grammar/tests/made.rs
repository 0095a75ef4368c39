//! What is compiled is what the generator makes of the notation.
#![allow(clippy::disallowed_methods, reason = "tests read and write files")]

use std::{env, fs};

use quote::quote;

const MADE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/made.rs");

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
fn made() -> String {
    let made = pest_generator::derive_parser(
        quote!(
            #[grammar = "notation.pest"]
            pub struct Notation;
        ),
        false,
    );
    let mut made = made.to_string().replace("# [inline] ", "");
    for (pest, ours) in WAYS {
        made = made.replace(&format!("state . {pest} ("), &format!("state . {ours} ("));
    }
    let made = made.replace("use super :: super :: Rule ;", "use super :: super :: { Rule , Ways } ;");
    let head = "// Made of notation.pest by `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar`.";
    format!("{head}\n{}\n", made.replace(" pub fn ", "\npub fn "))
}

#[test]
fn what_is_compiled_is_what_the_notation_says() {
    let made = made();
    if env::var_os("RINGTRUE_RENEW").is_some() {
        fs::write(MADE, &made).unwrap();
    }
    assert!(
        fs::read_to_string(MADE).unwrap() == made,
        "grammar/made.rs is not what notation.pest says; `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar` makes it anew"
    );
}
