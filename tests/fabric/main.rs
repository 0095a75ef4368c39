//! What is worked: the count of every row in every size, and what is reckoned from it.

#![expect(clippy::disallowed_methods, reason = "the tests read the samples")]

mod blocks;
mod doctor;
mod goes_over;
mod grading;
mod grids;
mod over_shapes;
mod proof;
mod properties;
mod record;
mod samples;
mod sizes;
mod through;
mod to_and_fro;
