//! What the parser generator makes of `notation.pest`, and of `prose.pest`, the language of written patterns. It is a package of its
//! own because it changes seldom: it is built beside the library, and only when one of the two changes.
//!
//! `made.rs` and `prose.rs` are kept beside them, so that nobody has to build the generator, and what it needs in C, who only wants
//! the command. `tests/made.rs` holds them against the grammars, and makes them anew.

extern crate alloc;

use alloc::boxed::Box;

pub use made::Rule;
use pest::{Atomicity, ParseResult, ParserState, RuleType};

/// Reads lines by `notation.pest`.
pub struct Notation;

#[allow(clippy::all, clippy::pedantic, reason = "it is made, and read by nobody")]
mod made {
    use super::{Notation, Ways};

    include!("made.rs");
}

/// Reads what is written in patterns by `prose.pest`.
pub struct Prose;

/// What `prose.pest` knows.
pub mod prose {
    pub use made::Rule;

    #[allow(clippy::all, clippy::pedantic, reason = "it is made, and read by nobody")]
    mod made {
        use super::super::{Prose, Ways};

        include!("prose.rs");
    }
}

type State<'i, R> = Box<ParserState<'i, R>>;
/// Reads on from where the text was read to.
type Way<'i, R> = fn(State<'i, R>) -> ParseResult<State<'i, R>>;

/// The ways to put readings together, as pest has them, compiled once each for a grammar. Pest's own are compiled anew for every
/// place where one is used, which is most of what there was to compile.
trait Ways<'i, R: RuleType> {
    fn one_rule(self, rule: R, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn in_sequence(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn if_there(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn repeated(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn looked_ahead(self, is_there: bool, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn undivided(self, atomicity: Atomicity, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
}

impl<'i, R: RuleType> Ways<'i, R> for State<'i, R> {
    #[inline(never)]
    fn one_rule(self, rule: R, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.rule(rule, way)
    }

    #[inline(never)]
    fn in_sequence(self, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.sequence(way)
    }

    #[inline(never)]
    fn if_there(self, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.optional(way)
    }

    #[inline(never)]
    fn repeated(self, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.repeat(way)
    }

    #[inline(never)]
    fn looked_ahead(self, is_there: bool, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.lookahead(is_there, way)
    }

    #[inline(never)]
    fn undivided(self, atomicity: Atomicity, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        self.atomic(atomicity, way)
    }
}
