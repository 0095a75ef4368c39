//! The letter or number of a hook names another size than its millimetres.

use super::context::Context;
use super::table::{number, rows};
use crate::diagnostic::{Code, Diagnostic};
use crate::syntax::tree::{Header, LineKind, Text};
use crate::words;

pub(super) const CODE: Code = Code("hook-letter");

const TABLE: &str = include_str!("hook_sizes.txt");

/// Thinner hooks are numbered by a system of their own, which its makers don't agree on.
const THINNEST: f64 = 2.0;

/// A size of hook.
struct Size {
    millimetres: f64,
    /// `G-6`.
    us: &'static str,
    /// `8`.
    uk: &'static str,
    /// `G`, `6`, and what else it is called.
    names: Vec<&'static str>,
}

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let hooks = context.tree.lines.iter().filter_map(|line| match &line.kind {
        LineKind::Header(Header::Hook { size: Some(size), letter: Some(letter), .. }) => Some((size, letter)),
        _ => None,
    });
    hooks.filter_map(|(size, letter)| finding(size, letter)).collect()
}

fn sizes() -> Vec<Size> {
    let size = |cells: Vec<&'static str>| {
        let [mm, us, uk, also] = cells.as_slice() else { return None };
        let names = us.split(['-', '/']).chain(also.split(',')).map(str::trim).filter(|name| !name.is_empty());
        Some(Size { millimetres: number(mm)?, us, uk, names: names.collect() })
    };
    rows(TABLE).filter_map(size).collect()
}

fn finding(size: &Text, letter: &Text) -> Option<Diagnostic> {
    let millimetres = number(&size.text).filter(|mm| *mm >= THINNEST)?;
    let all = sizes();
    let called: Vec<f64> = all.iter().filter(|s| is_called(s, &letter.text)).map(|s| s.millimetres).collect();
    let here = all.iter().find(|s| (s.millimetres - millimetres).abs() < 0.01);
    if called.is_empty() || called.iter().any(|mm| (mm - millimetres).abs() < 0.01) {
        return None; // Not in the table, or as the table has it.
    }
    let meant: Vec<String> = called.iter().map(|mm| format!("{mm} mm")).collect();
    let message = format!("`{}` is a hook of {}, not of {} mm", letter.text, meant.join(" or "), size.text);
    let finding = Diagnostic::warning(CODE, message, letter.span, format!("{} mm stands beside it", size.text));
    let names = here.map(|s| {
        let us = (s.us != "-").then(|| format!("`{}` in the US", s.us));
        let uk = (s.uk != "-").then(|| format!("`{}` on old UK charts", s.uk));
        us.into_iter().chain(uk).collect::<Vec<_>>()
    });
    Some(match names.filter(|names| !names.is_empty()) {
        Some(names) => {
            finding.with_help(format!("correct one of the two; {} mm is {}", size.text, words::list(&names)))
        }
        None => finding.with_help("correct one of the two; that size has no letter, so its millimetres will do"),
    })
}

/// Whether a size goes by what stands in brackets: by its letters where there are some, else by its number in either system.
fn is_called(size: &Size, written: &str) -> bool {
    let parts: Vec<&str> = written.split([' ', '-', '/', '.']).filter(|part| !part.is_empty()).collect();
    let one_letter = |part: &&&str| part.len() == 1 && part.chars().all(|c| c.is_ascii_alphabetic());
    let mut letters = parts.iter().filter(one_letter).peekable();
    let named = |part: &str| size.names.iter().any(|name| name.eq_ignore_ascii_case(part));
    let british = parts.iter().any(|part| part.eq_ignore_ascii_case("uk"));
    let numbers = parts.iter().filter(|part| part.chars().all(|c| c.is_ascii_digit()));
    match (letters.peek().is_some(), numbers.clone().count()) {
        (true, _) => letters.any(|letter| named(letter)),
        (false, 1) => numbers.into_iter().any(|number| size.uk == *number || (!british && named(number))),
        (false, _) => false, // `10 1/2` and the like.
    }
}

#[cfg(test)]
mod tests {
    use super::{is_called, sizes};

    fn called(written: &str) -> Vec<f64> {
        sizes().iter().filter(|size| is_called(size, written)).map(|size| size.millimetres).collect()
    }

    /// Craft Yarn Council, Standards & Guidelines, Hooks and Needles.
    #[test]
    fn names_of_the_standard() {
        for (name, millimetres) in
            [("E-4", 3.5), ("H-8", 5.0), ("I-9", 5.5), ("J-10", 6.0), ("K-10 1/2", 6.5), ("L-11", 8.0)]
        {
            assert_eq!(called(name), [millimetres], "{name}");
        }
        assert_eq!(called("US 7"), [4.5]);
    }

    #[test]
    fn letters_that_charts_give_to_two_sizes() {
        assert_eq!(called("B-1"), [2.0, 2.25]);
        assert_eq!(called("G/6"), [4.0, 4.25]);
        assert_eq!(called("N"), [9.0, 10.0]);
    }

    #[test]
    fn a_bare_number_may_be_of_either_system() {
        assert_eq!(called("8"), [4.0, 5.0]);
        assert_eq!(called("UK 8"), [4.0]);
        assert!(called("steel").is_empty());
    }

    #[test]
    fn every_row_is_read() {
        let written = super::TABLE.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit())).count();
        assert_eq!(sizes().len(), written);
    }
}
