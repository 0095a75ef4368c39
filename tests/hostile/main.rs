//! What nobody should write: texts at random and patterns beyond every limit, which may break nothing.

mod fuzz_slice;
mod limits;
