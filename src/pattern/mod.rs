//! Tree to pattern: names looked up, numbers known for every size.

pub mod model;

mod lower;

pub(crate) use lower::MEASURE;
pub use lower::{PAGES, lower};
