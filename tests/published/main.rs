//! What the world outside knows: published counts, multiples, sizes and yards, and patterns from printed books.

#![expect(clippy::disallowed_methods, reason = "the tests read the printed patterns")]

mod counts;
mod flat_circles;
mod measures;
mod multiples;
mod piece;
mod print;
mod yarn;
