//! What is read from ordinary words: pages read again, and patterns as they are written elsewhere.

#![expect(clippy::disallowed_methods, reason = "the tests read the samples")]

mod begun;
mod counted;
mod documents;
mod families;
mod forms;
mod house;
mod lines;
mod lost;
mod read_back;
mod said_again;
mod silent;
mod spellings;
mod styles;
