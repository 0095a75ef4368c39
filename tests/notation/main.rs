//! What is written: that the notation can be read as its guide says, laid out evenly, and put in the other terms.

#![expect(clippy::disallowed_methods, reason = "the tests read the guide and the samples")]

mod fill;
mod guide;
mod terms;
mod tidy;
