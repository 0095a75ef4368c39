//! Ringtrue works hand-crochet patterns, written as plain text, stitch by stitch.
//!
//! Text -> [`syntax`] (always a tree and findings) -> [`pattern`] per size -> [`fabric`] -> [`check`] -> outputs.
//! The library reads no files, prints nothing and needs no clock or thread.

pub mod chart;
pub mod check;
mod columns;
mod compiled;
pub mod diagnostic;
pub mod differ;
pub mod doctor;
pub mod explain;
pub mod fabric;
pub mod fill;
pub mod gauge;
pub mod grade;
pub mod intake;
pub mod limits;
pub mod measure;
pub mod mend;
pub mod message;
mod meter;
mod once;
pub mod page;
pub mod pattern;
pub mod proof;
pub mod read;
pub mod readback;
pub mod report;
pub mod shape;
pub mod spread;
pub mod standards;
pub mod starter;
pub mod stitch;
pub mod syntax;
pub mod tally;
pub mod terms;
pub mod tidy;
pub mod units;
pub mod view;
pub mod words;
pub mod yarn;

pub use compiled::{Compiled, compile};
