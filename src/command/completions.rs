//! `ringtrue completions SHELL`

use clap::CommandFactory;
use clap_complete::{Shell, generate};

use super::arguments::{Arguments, ShellChoice};
use super::failure::Failure;
use super::{Outcome, output};

/// Prints the script by which a shell completes commands, options and the words that may follow them.
pub fn run(shell: ShellChoice) -> Result<Outcome, Failure> {
    let shell = match shell {
        ShellChoice::Bash => Shell::Bash,
        ShellChoice::Zsh => Shell::Zsh,
        ShellChoice::Fish => Shell::Fish,
        ShellChoice::PowerShell => Shell::PowerShell,
    };
    // Printed at the end, because the generator would panic where a pipe is closed.
    let mut script = Vec::new();
    generate(shell, &mut Arguments::command(), "ringtrue", &mut script);
    output::print(&String::from_utf8_lossy(&script))?;
    Ok(Outcome::Clean)
}
