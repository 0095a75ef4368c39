//! What the parser generator makes of `notation.pest`. It is a package of its own because it changes seldom: it is built beside the
//! library, and only when the notation changes.
//!
//! `made.rs` is kept beside the notation, so that nobody has to build the generator, and what it needs in C, who only wants the
//! command. `tests/made.rs` holds it against the notation, and makes it anew.

extern crate alloc;

use alloc::boxed::Box;

pub use made::Rule;
use pest::{Atomicity, ParseResult, ParserState};

/// Reads lines by `notation.pest`.
pub struct Notation;

#[allow(clippy::all, clippy::pedantic, reason = "it is made, and read by nobody")]
mod made {
    use super::{Notation, Ways};

    include!("made.rs");
}

type State<'i> = Box<ParserState<'i, Rule>>;
/// Reads on from where the text was read to.
type Way<'i> = fn(State<'i>) -> ParseResult<State<'i>>;

/// The ways to put readings together, as pest has them, compiled once each. Pest's own are compiled anew for every place where one is
/// used, which is most of what there was to compile.
trait Ways<'i> {
    fn one_rule(self, rule: Rule, way: Way<'i>) -> ParseResult<State<'i>>;
    fn in_sequence(self, way: Way<'i>) -> ParseResult<State<'i>>;
    fn if_there(self, way: Way<'i>) -> ParseResult<State<'i>>;
    fn repeated(self, way: Way<'i>) -> ParseResult<State<'i>>;
    fn looked_ahead(self, is_there: bool, way: Way<'i>) -> ParseResult<State<'i>>;
    fn undivided(self, atomicity: Atomicity, way: Way<'i>) -> ParseResult<State<'i>>;
}

impl<'i> Ways<'i> for State<'i> {
    #[inline(never)]
    fn one_rule(self, rule: Rule, way: Way<'i>) -> ParseResult<State<'i>> {
        self.rule(rule, way)
    }

    #[inline(never)]
    fn in_sequence(self, way: Way<'i>) -> ParseResult<State<'i>> {
        self.sequence(way)
    }

    #[inline(never)]
    fn if_there(self, way: Way<'i>) -> ParseResult<State<'i>> {
        self.optional(way)
    }

    #[inline(never)]
    fn repeated(self, way: Way<'i>) -> ParseResult<State<'i>> {
        self.repeat(way)
    }

    #[inline(never)]
    fn looked_ahead(self, is_there: bool, way: Way<'i>) -> ParseResult<State<'i>> {
        self.lookahead(is_there, way)
    }

    #[inline(never)]
    fn undivided(self, atomicity: Atomicity, way: Way<'i>) -> ParseResult<State<'i>> {
        self.atomic(atomicity, way)
    }
}
