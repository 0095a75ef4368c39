//! What nobody should write: texts at random and patterns beyond every limit, which may break nothing.

#![expect(clippy::disallowed_methods, reason = "the tests read the saved inputs")]

mod fuzz_slice;
mod limits;
mod long;
mod sequences;
mod slow;
