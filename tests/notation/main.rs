//! What is written: that the notation can be read as its guide says, laid out evenly, and put in the other terms.

mod guide;
mod terms;
mod tidy;
