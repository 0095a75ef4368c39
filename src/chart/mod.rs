//! Charts: what is worked, drawn stitch by stitch or square by square. Signs are our own drawings after the published
//! conventions.

mod fabric;
mod grid;
mod signs;

pub use fabric::{Asked, Chart, MOST_STITCHES, NoChart, chart, whole_chart};
pub(crate) use fabric::{Extent, of_graph};
pub use grid::{Seen, grid};
