//! The command: reads files, hands their text to the library and writes what comes back.

mod command;

fn main() -> std::process::ExitCode {
    command::run()
}
