//! Findings as text, shown in the pattern they are about.

#![warn(clippy::wildcard_enum_match_arm)] // Everything that there is must be shown.

mod excerpt;

use codespan_reporting::diagnostic as codespan;
use codespan_reporting::term::{self, termcolor};

use excerpt::{Excerpt, Source};

use crate::diagnostic::{Diagnostic, Severity, Span};
use crate::words;

/// Whether the text carries terminal colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colour {
    /// Text only.
    Plain,
    /// ANSI escape sequences.
    Ansi,
}

/// Lines that messages about a file take on the screen, after which no more is begun.
const SCREEN: usize = 80;

/// Letters that a sentence of a message may have; more come only of a name that nobody would read.
const MOST_LETTERS: usize = 600;

/// Renders findings in their order, each followed by an empty line.
///
/// `name` is what the pattern's file is called to the reader, `text` the whole of it: the text that was compiled, as the
/// findings point into it by bytes. Control characters in either are shown as a stand-in, so that a file can't talk to
/// the terminal. Of a line that is too long for a screen, what stands around the marks is shown.
#[must_use]
pub fn render(findings: &[Diagnostic], name: &str, text: &str, colour: Colour) -> String {
    render_up_to(usize::MAX, findings, name, text, colour)
}

/// Renders the first findings, as many as a screen holds, and says how many there are besides.
#[must_use]
pub fn render_screen(findings: &[Diagnostic], name: &str, text: &str, colour: Colour) -> String {
    render_up_to(SCREEN, findings, name, text, colour)
}

fn render_up_to(most: usize, findings: &[Diagnostic], name: &str, text: &str, colour: Colour) -> String {
    let (name, text) = (printable(name), printable(&words::with_line_feeds(text)));
    let source = Source::new(&name, &text);
    let config = term::Config::default();
    let mut out = String::new();
    let mut lines = 0;
    for (done, finding) in findings.iter().enumerate() {
        if lines >= most {
            let more = words::thousands(findings.len() - done);
            out.push_str(&format!("and {more} more, which are not shown; mend these first\n\n"));
            break;
        }
        let one = one(finding, &source, &text, &config, colour);
        lines += one.lines().count();
        out.push_str(&one);
    }
    out
}

fn one(finding: &Diagnostic, source: &Source<'_>, text: &str, config: &term::Config, colour: Colour) -> String {
    let labels = std::iter::once(&finding.primary).chain(&finding.others);
    let marks: Vec<Span> = labels.map(|label| fit(label.span, text)).collect();
    let excerpt = source.around(&marks);
    let marked = to_codespan(finding, source, &excerpt, &marks);
    // Every span was made to fit, so the other is the last resort: the sentence without the source.
    emit(config, &excerpt, &marked, colour).unwrap_or_else(|| format!("{}\n\n", marked.message))
}

/// Says how many findings there are, as `2 errors, 1 warning in bonnet.rnd`; nothing when there are none.
#[must_use]
pub fn summary(findings: &[Diagnostic], name: &str) -> Option<String> {
    numbers(findings).map(|numbers| format!("{numbers} in {}", printable(name)))
}

/// Whether a pattern rings true, in so many sizes: `rings true in both sizes, 1 warning`, or how many errors there are.
#[must_use]
pub fn verdict(findings: &[Diagnostic], sizes: usize) -> String {
    let numbers = numbers(findings);
    if findings.iter().any(|found| found.severity == Severity::Error) {
        return numbers.unwrap_or_default();
    }
    numbers.map_or_else(|| rings_true(sizes), |numbers| format!("{}, {numbers}", rings_true(sizes)))
}

/// `rings true in all 3 sizes`.
#[must_use]
pub fn rings_true(sizes: usize) -> String {
    match sizes {
        0 | 1 => "rings true".to_owned(),
        2 => "rings true in both sizes".to_owned(),
        more => format!("rings true in all {more} sizes"),
    }
}

/// `2 errors, 1 warning`; nothing when there are none.
fn numbers(findings: &[Diagnostic]) -> Option<String> {
    let number = |severity| findings.iter().filter(|f| f.severity == severity).count();
    let parts: Vec<String> = [(number(Severity::Error), "error"), (number(Severity::Warning), "warning")]
        .into_iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, word)| words::count(number, word))
        .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

fn emit(config: &term::Config, file: &Excerpt<'_>, one: &codespan::Diagnostic<()>, colour: Colour) -> Option<String> {
    match colour {
        Colour::Plain => term::emit_into_string(config, file, one).ok(),
        Colour::Ansi => {
            let mut writer = termcolor::Ansi::new(Vec::new());
            term::emit_to_write_style(&mut writer, config, file, one).ok()?;
            String::from_utf8(writer.into_inner()).ok()
        }
    }
}

/// Notes come before help, and help before the fixes: what is known, then what to do.
fn to_codespan(
    finding: &Diagnostic,
    source: &Source<'_>,
    excerpt: &Excerpt<'_>,
    marks: &[Span],
) -> codespan::Diagnostic<()> {
    let severity = match finding.severity {
        Severity::Error => codespan::Severity::Error,
        Severity::Warning => codespan::Severity::Warning,
    };
    let elsewhere = finding.elsewhere(|at| source.line(at));
    let known = finding.notes.iter().chain(&elsewhere);
    let below = known.chain(&finding.help).chain(finding.fixes.iter().map(|fix| &fix.title));
    let primary = (codespan::LabelStyle::Primary, &finding.primary);
    let others = finding.others.iter().map(|other| (codespan::LabelStyle::Secondary, other));
    let labels = std::iter::once(primary).chain(others).zip(marks);
    codespan::Diagnostic::new(severity)
        .with_code(finding.code.0)
        .with_message(sentence(&finding.message))
        .with_labels_iter(labels.map(|((style, label), mark)| {
            let place = excerpt.place(mark.start)..excerpt.place(mark.end);
            codespan::Label::new(style, (), place).with_message(sentence(&label.text))
        }))
        .with_notes_iter(below.map(|line| sentence(line)))
}

/// Words that fit on a screen, and that a terminal doesn't obey.
fn sentence(text: &str) -> String {
    match text.char_indices().nth(MOST_LETTERS) {
        Some((end, _)) => printable(&format!("{}…", text.get(..end).unwrap_or_default())),
        None => printable(text),
    }
}

/// A span that lies in the text, on whole characters, and does not run on over the end of its last line.
fn fit(span: Span, text: &str) -> Span {
    let start = boundary(span.start, text);
    let end = boundary(span.end, text).max(start);
    let inside = text.get(start..end).unwrap_or_default().trim_end_matches(['\n', '\r']);
    Span::new(start, start + inside.len())
}

/// The last place at or before `at` where a character begins or the text ends.
fn boundary(at: usize, text: &str) -> usize {
    (0..=at.min(text.len())).rev().find(|&place| text.is_char_boundary(place)).unwrap_or_default()
}

/// The same text, of the same length in bytes, with a stand-in for every character that a terminal would obey or that
/// would turn the reading direction round.
#[must_use]
pub fn printable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let ends_line = c == '\r' && rest.peek() == Some(&'\n');
        let stays = matches!(c, '\n' | '\t') || ends_line;
        out.push(match c {
            _ if stays => c,
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
            _ if c.is_control() && c.len_utf8() == 1 => '?',
            _ if c.is_control() => '\u{bf}',
            _ => c,
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnostic::{Code, Fix};

    const TEXT: &str = "rnd 1: 6 sc in ring   = 6\nrnd 2: [2 sc in next] to end   = 13\n";

    fn slip() -> Diagnostic {
        Diagnostic::error(Code("count"), "round 2 makes 12 stitches, not 13", Span::new(57, 61), "stated here")
            .with_other(Span::new(33, 54), "6 times, over the 6 stitches of round 1")
            .with_note("in every size")
            .with_help("count the stitches of round 1")
            .with_fix(Fix::change("`= 13` to `= 12` closes round 2", Span::new(57, 61), "= 12"))
    }

    #[test]
    fn shows_the_line_then_facts_then_what_to_do() {
        insta::assert_snapshot!(render(&[slip()], "coaster.rnd", TEXT, Colour::Plain), @r"
        error[count]: round 2 makes 12 stitches, not 13
          ┌─ coaster.rnd:2:32
          │
        2 │ rnd 2: [2 sc in next] to end   = 13
          │        ---------------------   ^^^^ stated here
          │        │                        
          │        6 times, over the 6 stitches of round 1
          │
          = in every size
          = count the stitches of round 1
          = `= 13` to `= 12` closes round 2
        ");
    }

    #[test]
    fn colours_only_when_asked() {
        let plain = render(&[slip()], "coaster.rnd", TEXT, Colour::Plain);
        let ansi = render(&[slip()], "coaster.rnd", TEXT, Colour::Ansi);
        assert!(!plain.contains('\u{1b}'));
        assert!(ansi.contains("\u{1b}[0m"));
        assert_eq!(anstream::adapter::strip_str(&ansi).to_string(), plain);
    }

    #[test]
    fn counts_in_words() {
        let warning = Diagnostic::warning(Code("count"), "", Span::default(), "");
        assert_eq!(summary(&[], "a.rnd"), None);
        assert_eq!(summary(&[slip()], "a.rnd").as_deref(), Some("1 error in a.rnd"));
        let all = [slip(), warning.clone(), slip(), warning.clone()];
        assert_eq!(summary(&all, "a.rnd").as_deref(), Some("2 errors, 2 warnings in a.rnd"));
        assert_eq!(summary(&[warning], "a.rnd").as_deref(), Some("1 warning in a.rnd"));
    }

    #[test]
    fn a_file_cannot_talk_to_the_terminal() {
        let text = "rnd 1: \u{1b}[2J\u{9b}2J\u{202e}sc\rsc";
        let found = Diagnostic::error(Code("line"), "\u{1b}[2J", Span::new(7, 11), "\u{7}");
        let shown = render(&[found], "a\u{1b}.rnd", text, Colour::Plain);
        assert!(shown.chars().all(|c| c == '\n' || !c.is_control()), "{shown:?}");
        assert!(!shown.contains('\u{202e}'));
    }

    #[test]
    fn old_line_ends_are_line_ends() {
        let text = "pattern Disc\rterms US\rpiece Disc, in a spiral\rstart ring\rrnd 1: 6 sc in ring = 7\r";
        let compiled = crate::mend::compile_and_mend(text);
        let shown = render(&compiled.findings, "disc.rnd", text, Colour::Plain);
        assert!(shown.contains("disc.rnd:5:21") && shown.contains("5 │ rnd 1: 6 sc in ring = 7\n"), "{shown}");
        assert_eq!(compiled.findings.len(), 1, "{shown}");
    }

    #[test]
    fn a_long_line_is_cut_around_its_marks() {
        let text = format!("sc\n{}mark é{}\n", "é ".repeat(3_000), " dc".repeat(3_000));
        let at = text.find("mark").map_or(0, |at| at);
        let found = Diagnostic::error(Code("line"), "odd", Span::new(at, at + 4), "here")
            .with_other(Span::new(3, 5), "begins")
            .with_other(Span::new(text.len() - 1, text.len() - 1), "ends");
        let shown = render(&[found], "a.rnd", &text, Colour::Plain);
        assert!(shown.contains("a.rnd:2:6001"), "the column is that of the whole line: {shown}");
        assert!(shown.lines().all(|line| line.chars().count() < 300), "{shown}");
        assert!(shown.contains("é mark é dc dc") && shown.contains("begins") && shown.contains("ends"), "{shown}");
        assert_eq!(shown.matches('…').count(), 2, "{shown}");
    }

    #[test]
    fn more_than_a_screen_is_counted() {
        let many = vec![slip(); 50];
        let shown = render_screen(&many, "coaster.rnd", TEXT, Colour::Plain);
        let count = shown.matches("error[count]").count();
        assert!(shown.lines().count() < 100, "{shown}");
        assert!(shown.ends_with(&format!("and {} more, which are not shown; mend these first\n\n", 50 - count)));
        assert_eq!(render_screen(&many[..2], "a", TEXT, Colour::Plain), render(&many[..2], "a", TEXT, Colour::Plain));
    }

    #[test]
    fn any_span_is_shown() {
        for (start, end) in [(0, 0), (5, 2), (0, 999), (999, 999), (1, 2), (2, 3), (0, 5), (3, 4)] {
            let found = Diagnostic::error(Code("line"), "odd", Span::new(start, end), "here");
            let shown = render(&[found], "a.rnd", "é\u{feff}\r\n", Colour::Plain);
            assert!(shown.starts_with("error[line]: odd\n  ┌─ a.rnd:"), "{start}..{end}: {shown}");
        }
        let found = Diagnostic::error(Code("line"), "odd", Span::new(3, 4), "here");
        assert!(render(&[found], "a.rnd", "", Colour::Plain).contains("a.rnd:1:1"));
    }
}
