//! What a user types: the command, the files it writes, and what it is made of.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "the tests start the command and look at what it wrote"
)]

mod killed;
mod language_server;
mod lost;
mod planning;
mod read_back;
mod readme;
mod rooms;
mod same_everywhere;
mod supply;
mod typed;
