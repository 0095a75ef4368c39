//! With what letter a text can begin that a rule reads.
//!
//! `begins/notation.rs` and `begins/prose.rs` are made of the grammars, as what the parser generator makes is; `tests/made` has how.

use crate::{Rule, prose};

/// Which first letters a rule may have.
pub trait Begins: Copy {
    /// Whether the rule may read a text that begins with this byte; nothing stands for the end of the text.
    fn may_begin(self, byte: Option<u8>) -> bool;
}

/// The letters of ASCII, each a bit, and whether a text may begin with one that is not of them. All of that together stands for a rule
/// that may read nothing at all as well.
type Letters = (u128, bool);

/// What may read anything, or nothing.
const ANYTHING: Letters = (u128::MAX, true);

#[allow(clippy::unreadable_literal, reason = "it is made, and read by nobody")]
const NOTATION: &[Letters] = &include!("begins/notation.rs");
#[allow(clippy::unreadable_literal, reason = "it is made, and read by nobody")]
const PROSE: &[Letters] = &include!("begins/prose.rs");

impl Begins for Rule {
    fn may_begin(self, byte: Option<u8>) -> bool {
        is_among(NOTATION.get(self as usize), byte)
    }
}

impl Begins for prose::Rule {
    fn may_begin(self, byte: Option<u8>) -> bool {
        is_among(PROSE.get(self as usize), byte)
    }
}

fn is_among(letters: Option<&Letters>, byte: Option<u8>) -> bool {
    let Some(letters) = letters else { return true };
    match byte {
        None => *letters == ANYTHING,
        Some(byte) if byte.is_ascii() => letters.0 >> byte & 1 == 1,
        Some(_) => letters.1,
    }
}
