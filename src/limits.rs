//! Bounds on what is read, so that no file can exhaust the machine. Each is far beyond any pattern that is worked by hand.

/// Longest file, in bytes.
pub const MAX_FILE: usize = 2_000_000;

/// Longest line with its continuation lines, in bytes.
pub const MAX_LINE: usize = 10_000;

/// How deep brackets may stand in brackets.
pub const MAX_NESTING: usize = 32;

/// The largest number that can be written.
pub const MAX_NUMBER: u64 = 1_000_000;

/// The most sizes that a pattern can have.
pub const MAX_SIZES: usize = 40;
