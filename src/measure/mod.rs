//! How large the fabric is: how wide and long every row comes out, and whom it fits.

pub mod finished;
pub mod fit;
pub mod repeat;
pub mod rows;
pub mod table;
pub mod width;
