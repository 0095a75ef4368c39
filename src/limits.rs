//! How large a pattern may be. Generous for real work: a king-size blanket passes.

/// The largest number that a count may be.
pub const MOST_COUNT: u32 = 1_000_000;

/// Stitches, chains and spaces that one row or round may hold.
pub const MOST_IN_A_LINE: usize = 1_000_000;

/// Stitches that a pattern may have in all its sizes together. A bed cover of 2.5 by 2.5 m in thread, at 60 stitches and
/// rows to 10 cm, has 2.25 million.
pub const MOST_STITCHES: u64 = 25_000_000;

/// Stitches that are really worked: rows that are alike, and sizes that are, are worked once. They take about a second.
pub const MOST_WORKED: u64 = 8_000_000;

/// Rows or rounds that a piece may have in a size.
pub const MOST_ROWS: u32 = 100_000;

/// How deeply designers' stitches may be made of one another.
pub const MOST_DEPTH: u32 = 32;

/// Passes of repeats that one row or round may make.
pub const MOST_PASSES: u64 = 2_000_000;

/// Bytes that a file may have. A wrap of 400 by 300 stitches with each colour written out has 2.25 million.
pub const MOST_BYTES: usize = 4_000_000;

/// Bytes that a word processor's document may have: most of them are pictures.
pub const MOST_PACKED: usize = 100_000_000;

/// Bytes that a part of such a document may unpack to. The marks around the words are several times as long as the words.
pub const MOST_UNPACKED: usize = 8 * MOST_BYTES;

/// Lines that a file may have; a bed cover with a line for every row has 2,000.
pub const MOST_LINES: usize = 10_000;

/// Bytes that a line may have, together with those that go on with it.
pub const MOST_BYTES_IN_A_LINE: usize = 10_000;

/// How deeply brackets may stand in one another.
pub const MOST_NESTING: usize = 32;

/// Sizes that a pattern may have.
pub const MOST_SIZES: usize = 40;

/// Numbers and signs that may stand side by side in arithmetic.
pub const MOST_IN_A_SUM: usize = 99;

/// What one output may cost: so many stitches of a graph with what they stand on, half as many lines of a table. It takes about a
/// second, and 200 MB.
pub const MOST_SHOWN: u64 = 600_000;

/// Stitches and chains that are recorded for the charts of a page at most, all sizes together: each takes some 150 bytes, and a chart
/// shows no more than a few thousand of them.
pub const MOST_DRAWN_FROM: u64 = 1_000_000;

/// What it may cost to read a page again: so many stitches of two graphs, a fifth as many bytes of the page. It takes some three seconds; a
/// jumper in nine sizes takes a tenth of it.
pub const MOST_READ_BACK: u64 = 3_000_000;

/// Steps, and squares of grids, that a file may have. A wrap of 400 by 300 stitches with each change of colour written out has
/// 240,000.
pub const MOST_STEPS: usize = 250_000;

/// Findings about the spelling of one file; those after are not gathered.
pub const MOST_FINDINGS: usize = 1_000;

/// Names that are compared with one another in a file, to say which one was meant: a hundred slips among a thousand stitches of the
/// designer's own.
pub const MOST_COMPARED: usize = 100_000;

/// Finished measurements that a pattern may state, and lines about whom it fits.
pub const MOST_MEASUREMENTS: usize = 60;
