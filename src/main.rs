//! The command: reads files, hands their text to the library and writes what comes back.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "inputs and outputs are what the command is for"
)]

mod command;

fn main() -> std::process::ExitCode {
    command::run()
}
