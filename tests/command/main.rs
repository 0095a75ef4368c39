//! What a user types: the command, the files it writes, and what it is made of.

mod killed;
mod planning;
mod readme;
mod rooms;
mod same_everywhere;
mod supply;
mod typed;
