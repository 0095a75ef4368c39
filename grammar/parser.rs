//! What the parser generator makes of `notation.pest`, and of `prose.pest`, the language of written patterns. It is a package of its
//! own because it changes seldom: it is built beside the library, and only when one of the two changes.
//!
//! `made.rs` and `prose.rs` are kept beside them, so that nobody has to build the generator, and what it needs in C, who only wants
//! the command. `tests/made` holds them against the grammars, and makes them anew.

extern crate alloc;

mod begins;

use alloc::boxed::Box;
use core::cell::Cell;

pub use begins::Begins;
pub use made::Rule;
use pest::error::Error;
use pest::iterators::Pairs;
use pest::{Atomicity, ParseResult, Parser, ParserState, RuleType};

/// Reads lines by `notation.pest`.
pub struct Notation;

/// Reads a text by a rule as [`Parser::parse`] does, in less time: a rule is not tried where no text that it reads begins with the
/// letter that comes next. What can't be read is read once more with every rule tried, so that the error has them all.
///
/// # Errors
///
/// Where the text can't be read, and which rules could have been there.
pub fn read<'t, P: Parser<R>, R: RuleType>(rule: R, text: &'t str) -> Result<Pairs<'t, R>, Error<R>> {
    glance::<P, R>(rule, text).or_else(|_| P::parse(rule, text))
}

/// The same, with no more in the error than that there is one.
///
/// # Errors
///
/// The text can't be read.
pub fn glance<'t, P: Parser<R>, R: RuleType>(rule: R, text: &'t str) -> Result<Pairs<'t, R>, Error<R>> {
    let _glancing = Glancing::new();
    P::parse(rule, text)
}

std::thread_local! {
    /// Whether rules are left untried by the letter that comes next. The parser generator has no place for it in what its parts hand on.
    static GLANCES: Cell<bool> = const { Cell::new(false) };
}

/// Rules are left untried as long as this is there.
struct Glancing {
    before: bool,
}

impl Glancing {
    fn new() -> Self {
        Self { before: GLANCES.replace(true) }
    }
}

impl Drop for Glancing {
    fn drop(&mut self) {
        GLANCES.set(self.before);
    }
}

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
trait Ways<'i, R: RuleType + Begins> {
    fn one_rule(self, rule: R, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn in_sequence(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn if_there(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn repeated(self, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn looked_ahead(self, is_there: bool, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
    fn undivided(self, atomicity: Atomicity, way: Way<'i, R>) -> ParseResult<State<'i, R>>;
}

impl<'i, R: RuleType + Begins> Ways<'i, R> for State<'i, R> {
    #[inline(never)]
    fn one_rule(self, rule: R, way: Way<'i, R>) -> ParseResult<State<'i, R>> {
        if GLANCES.get() && !rule.may_begin(next_byte(&self)) {
            return Err(self);
        }
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

/// The byte that is read next; nothing at the end.
fn next_byte<R: RuleType>(state: &State<'_, R>) -> Option<u8> {
    let here = state.position();
    here.span(here).get_input().as_bytes().get(here.pos()).copied()
}
