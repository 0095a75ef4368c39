//! What is read from ordinary words: pages read again, and patterns as they are written elsewhere.

#![expect(clippy::disallowed_methods, clippy::disallowed_types, reason = "the tests read the samples")]

mod house;
mod read_back;
