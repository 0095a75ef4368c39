//! How large the fabric is: lengths in both systems, gauge, and how wide and long every row comes out.

pub mod finished;
pub mod fit;
pub mod gauge;
pub mod heights;
pub mod repeat;
pub mod table;
pub mod tables;
pub mod units;
