//! The one place where sentences are made: pattern and fabric in, phrases in the words of the trade out.

mod again;
mod alike;
mod aloud;
pub mod amounts;
#[cfg(test)]
mod as_worked;
mod begin;
mod chains;
mod context;
mod course;
mod edges;
mod ending;
mod evenly;
mod first_again;
mod grids;
pub mod head;
pub mod label;
pub mod layout;
mod line;
pub mod names;
pub mod notes;
mod opening;
pub mod phrase;
mod placed;
mod places;
mod repeats;
mod runs;
mod sewn;
pub mod special;
pub mod start;
mod steps;
pub mod stripes;
mod tab;
mod teller;
#[cfg(test)]
mod tests;
mod work;
mod yarns;

pub use again::again;
pub use aloud::{aloud, paragraph};
pub use context::Told;
pub use course::{Course, RowTold, WrittenRow, course, told_one_by_one, written_out};
pub use ending::{ending, is_finishing};
pub use evenly::{spreads_once, told_apart};
pub use grids::{colour_work, grid_notes, grid_sides};
pub use line::sentence;
pub use names::{Term, Voice};
pub use phrase::mirrored;
pub use phrase::{Bit, Number, Numbers, Phrase};
