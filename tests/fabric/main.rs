//! What is worked: the count of every row in every size, and what is reckoned from it.

mod grading;
mod proof;
mod properties;
mod record;
mod samples;
