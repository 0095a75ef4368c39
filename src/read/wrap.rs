//! Lines that were broken at the edge of a sheet.

/// A sheet is at least, and at most, so many signs wide.
const WIDTHS: std::ops::RangeInclusive<usize> = 50..=110;
/// So many lines have to be broken before the edge is taken for one.
const LEAST_BROKEN: usize = 6;
/// So many signs may be left free at the edge, where words are set in heavy or slanting type in between.
const FREE: usize = 3;

/// How wide the sheet is whose edge a text was broken at; nothing where lines end of themselves.
pub(super) fn sheet(text: &str) -> Option<usize> {
    let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
    let pairs = || lines.iter().zip(lines.iter().skip(1)).filter(|(above, line)| !above.is_empty() && !line.is_empty());
    let mut lengths: Vec<usize> = pairs().map(|(above, _)| length(above)).collect();
    lengths.sort_unstable();
    // A few lines may be longer than the sheet, such as a heading.
    let width = *lengths.get(lengths.len().checked_sub(1 + lengths.len() / 50)?)?;
    let broken = pairs().filter(|(above, line)| is_full(length(above), line, width)).count();
    (WIDTHS.contains(&width) && broken >= LEAST_BROKEN && broken * 5 >= lengths.len() * 3).then_some(width)
}

/// Whether the first word of a line had no room behind the line above it, which has so many signs.
pub(super) fn is_full(above: usize, line: &str, width: usize) -> bool {
    let first = line.trim_start().split(' ').next().unwrap_or_default();
    above + 1 + length(first) + FREE > width
}

/// How many signs a line has.
pub(super) fn length(line: &str) -> usize {
    line.chars().count()
}

#[cfg(test)]
mod tests {
    use super::{is_full, sheet};

    #[test]
    fn a_sheet_has_an_edge_where_lines_are_broken_at_it() {
        let words = "the tide goes out and the boats lie down on the sand until it comes again ".repeat(12);
        let broken = textwrap_like(&words, 68);
        let width = sheet(&broken).unwrap();
        assert!((60..=68).contains(&width), "{width}");
        assert!(is_full(66, "again", width));
        assert!(!is_full(20, "again", width));
        let rows =
            "Rnd 1: 6 sc in ring.\nRnd 2: Inc in each st around, and join with a sl st to the first st.\n".repeat(8);
        assert_eq!(sheet(&rows), None);
    }

    fn textwrap_like(words: &str, width: usize) -> String {
        let (mut text, mut line) = (String::new(), 0);
        for word in words.split_whitespace() {
            if line + 1 + word.len() > width {
                text.push('\n');
                line = 0;
            } else if line > 0 {
                text.push(' ');
                line += 1;
            }
            text.push_str(word);
            line += word.len();
        }
        text
    }
}
