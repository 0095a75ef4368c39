//! Tree to pattern: names looked up, numbers known for every size.

pub mod model;

mod lower;

pub use lower::{PAGES, lower};
