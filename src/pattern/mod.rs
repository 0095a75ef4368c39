//! Tree to pattern: names looked up, numbers known for every size; and the plan, which says what rows a piece has.

pub mod model;
pub mod plan;

mod lower;

pub(crate) use lower::MEASURE;
pub use lower::PICTURE;
pub use lower::{PAGES, lower};
