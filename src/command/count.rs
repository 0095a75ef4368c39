//! `ringtrue count FILE --row 8 --mine 47 [--of KIND] [--piece NAME] [--size NAME]`

use ringtrue::doctor::{self, Asked, Likely, NoAnswer};
use ringtrue::pattern::model::Kind;
use ringtrue::{Compiled, message, tally, words};

use super::arguments::CountArguments;
use super::failure::Failure;
use super::input::Input;
use super::{Outcome, chart, input, output, page};

/// What is shown at most; what is less likely than that helps nobody.
const MOST_SHOWN: usize = 4;

/// Says what probably happened when a maker's count is another one than the pattern's.
pub fn run(asked: &CountArguments) -> Result<Outcome, Failure> {
    let (row, mine) = (number("--row", asked.row.as_deref())?, number("--mine", asked.mine.as_deref())?);
    let input = input::read(&asked.file)?;
    let compiled = ringtrue::compile(&input.text);
    let piece = match asked.piece.as_deref() {
        Some(name) => chart::piece(name, &compiled, &input)?,
        None => only_piece(&compiled, &input)?,
    };
    let size = match asked.size.as_deref() {
        Some(name) => page::size(name, &compiled, &input)?,
        None => only_size(&compiled, &input)?,
    };
    let kind = asked.of.as_deref().map(|of| kind(of, &tally::kinds(&compiled, piece, size, row), row)).transpose()?;
    let asked = Asked { piece, row, size, mine, kind };
    match doctor::ask(&compiled, &asked) {
        Ok(likely) => output::print(&told(&likely))?,
        Err(why @ (NoAnswer::AsItShouldBe | NoAnswer::NothingFound { .. })) => {
            output::print(&format!("{}\n", words::sentence(&why.told(&asked))))?;
        }
        Err(NoAnswer::Faulty) => {
            let summary = message::summary(&compiled.findings, &input.name).unwrap_or_default();
            output::tell(&format!("{summary}; `ringtrue check` shows what and where\n"));
            return Ok(Outcome::Findings);
        }
        Err(why @ (NoAnswer::NoSuchRow | NoAnswer::TooLarge)) => return Err(Failure(why.told(&asked))),
    }
    Ok(Outcome::Clean)
}

fn told(likely: &[Likely]) -> String {
    let one = |(number, likely): (usize, &Likely)| {
        let Likely { happened, see, go_on, .. } = likely;
        format!("{number}. {happened}\n   {see}\n   {go_on}\n")
    };
    (1..).zip(likely.iter().take(MOST_SHOWN)).map(one).collect::<Vec<_>>().join("\n")
}

/// The kind that was counted, by its name.
fn kind(of: &str, all: &[(Kind, String)], row: u32) -> Result<Kind, Failure> {
    let named = all.iter().find(|(_, name)| name.eq_ignore_ascii_case(of.trim()));
    let told = match all {
        [] => format!("row or round {row} is all of one kind; leave `--of` out"),
        _ => {
            let names: Vec<&str> = all.iter().map(|(_, name)| name.as_str()).collect();
            format!("row or round {row} has no `{}`; it has {}", message::printable(of), words::list(&names))
        }
    };
    named.map(|(kind, _)| *kind).ok_or(Failure(told))
}

fn number(option: &str, said: Option<&str>) -> Result<u32, Failure> {
    let example = "as in `ringtrue count bonnet.rnd --row 8 --mine 47`";
    let Some(said) = said else { return Err(Failure(format!("`{option}` is missing, {example}"))) };
    said.trim().parse().map_err(|_| Failure(format!("`{option}` needs a whole number after it, {example}")))
}

fn only_piece(compiled: &Compiled, input: &Input) -> Result<usize, Failure> {
    let pieces = &compiled.pattern.pieces;
    if pieces.len() < 2 {
        return Ok(0);
    }
    let named: Vec<&str> = pieces.iter().map(|piece| piece.name.as_str()).collect();
    let all = message::printable(&words::list(&named));
    Err(Failure(format!("say which piece it is with `--piece`; {} has {all}", input.name)))
}

fn only_size(compiled: &Compiled, input: &Input) -> Result<usize, Failure> {
    let sizes = &compiled.pattern.sizes;
    if sizes.len() < 2 {
        return Ok(0);
    }
    let named: Vec<&str> = sizes.iter().map(String::as_str).collect();
    let all = message::printable(&words::list(&named));
    Err(Failure(format!("say which size it is with `--size`; {} has {all}", input.name)))
}
