//! `ringtrue fill FILE`

use std::path::Path;

use ringtrue::fill::{self, Left, Why};
use ringtrue::words;

use super::failure::Failure;
use super::input::Input;
use super::{Outcome, input, output};

/// Writes the counts that a pattern leaves unsaid on each line that rings true.
pub fn run(file: &Path) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let compiled = ringtrue::compile(&input.text);
    let filled = fill::fill(&input.text, &compiled);
    let (text, done) = match &filled.fix {
        Some(fix) => (fix.apply(&input.text), format!("states {} more now", words::count(fix.edits.len(), "count"))),
        None => (input.text.clone(), "leaves no count unsaid that could be filled in".to_owned()),
    };
    output::show_findings(&compiled, &input);
    output::rewrite(file, &input, &text, &done)?;
    output::tell(&left(&filled.left, &input));
    Ok(output::outcome(&compiled))
}

/// The lines that stay without a count, and why.
fn left(left: &[Left], input: &Input) -> String {
    let whys = [Why::NotTrue, Why::Differs, Why::NotAlways];
    let said = whys.into_iter().filter_map(|why| {
        let lines: Vec<String> =
            left.iter().filter(|left| left.why == why).map(|left| input.line_of(left.span.start).to_string()).collect();
        let (noun, verb) = if lines.len() == 1 { ("line", "has") } else { ("lines", "have") };
        (!lines.is_empty()).then(|| {
            format!("{noun} {} of {} still {verb} no count: {}\n", words::list(&lines), input.name, because(why))
        })
    });
    said.collect()
}

fn because(why: Why) -> &'static str {
    match why {
        Why::NotTrue => "what is worked there does not ring true yet",
        Why::Differs => "the rows or rounds that one line says make different counts",
        Why::NotAlways => "what is worked there is worked again later, and makes another count then",
    }
}
