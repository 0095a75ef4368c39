//! `ringtrue manual`

use std::io;

use clap::builder::StyledStr;
use clap::{Arg, Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Inline, Roff, bold, italic, roman};

use super::arguments::Arguments;
use super::failure::{Failure, reason};
use super::{Outcome, output};

/// Prints the whole manual as one page in roff, which the program `man` sets.
pub fn run() -> Result<Outcome, Failure> {
    let page = page().map_err(|error| Failure(format!("the manual can't be set: {}", reason(&error))))?;
    output::print(&String::from_utf8_lossy(&page))?;
    Ok(Outcome::Clean)
}

/// One page with every command in it: a page for each would have to be put in place one by one.
fn page() -> io::Result<Vec<u8>> {
    let mut command = Arguments::command();
    command.build();
    let mut page = Vec::new();
    let head = Man::new(command.clone()).manual("Crochet patterns");
    head.render_title(&mut page)?;
    head.render_name_section(&mut page)?;
    head.render_synopsis_section(&mut page)?;
    let mut roff = Roff::new();
    roff.control("SH", ["COMMANDS"]);
    command.get_subcommands().for_each(|command| section(command, &mut roff));
    roff.control("SH", ["NOTES"]);
    for line in text(command.get_after_help()).lines() {
        roff.control("PP", []);
        roff.text([roman(line)]);
    }
    roff.to_writer(&mut page)?;
    Ok(page)
}

/// A command: how it is written, what it does, and what may follow it.
fn section(command: &Command, roff: &mut Roff) {
    roff.control("SS", [format!("ringtrue {}", command.get_name()).as_str()]);
    roff.text([roman(text(command.get_about()))]);
    let shown = |argument: &&Arg| !argument.is_hide_set() && argument.get_id() != "help";
    for argument in command.get_arguments().filter(shown) {
        roff.control("TP", []);
        roff.text(written(argument));
        roff.text([roman(meaning(argument))]);
    }
}

/// `-o, --out PLACE`
fn written(argument: &Arg) -> Vec<Inline> {
    let mut parts = Vec::new();
    if let Some(letter) = argument.get_short() {
        parts.extend([bold(format!("-{letter}")), roman(", ")]);
    }
    if let Some(word) = argument.get_long() {
        parts.push(bold(format!("--{word}")));
    }
    if argument.get_action().takes_values() {
        let gap = if parts.is_empty() { "" } else { " " };
        parts.extend([roman(gap), italic(argument.get_value_names().unwrap_or_default().join(" "))]);
    }
    parts
}

fn meaning(argument: &Arg) -> String {
    let help = text(argument.get_help());
    let known: Vec<String> = argument.get_possible_values().iter().map(|value| value.get_name().to_owned()).collect();
    if argument.get_action().takes_values() && !known.is_empty() {
        format!("{help} ({})", known.join(", "))
    } else {
        help
    }
}

fn text(styled: Option<&StyledStr>) -> String {
    styled.map(ToString::to_string).unwrap_or_default()
}
