//! Lines that can't be read as they stand are read once more, with words of print put into ours.

use crate::diagnostic::{Diagnostic, Span};
use crate::limits;

use super::reader::Reader;
use super::tree::File;
use super::{codes, habits, lines, way_at};

/// Reads the lines again that can't be read, with words of print put into ours.
pub(super) fn with_habits(text: &str, split: &lines::Split, file: &mut File, reader: &mut Reader<'_>) {
    let mut masked = split.masked.clone();
    let mut tried = Vec::new();
    let mut stops: Vec<usize> = stopped(&reader.findings).map(|found| found.primary.span.start).collect();
    stops.sort_unstable();
    let stops_in =
        |span: Span| stops.get(stops.partition_point(|at| *at < span.start)).is_some_and(|at| *at <= span.end);
    for (at, line) in file.lines.iter().enumerate().filter(|(_, line)| line.is_unread() || stops_in(line.span)) {
        let Some(written) = split.masked.get(line.span.start..line.span.end) else { continue };
        if line.span.end - line.span.start > limits::MOST_BYTES_IN_A_LINE {
            continue;
        }
        if let Some(rewritten) = habits::rewrite(written, line.span.start) {
            masked.replace_range(line.span.start..line.span.end, &rewritten.line);
            tried.push((at, rewritten, written));
        }
    }
    for (at, mut rewritten, written) in tried {
        let Some(logical) = split.lines.get(at) else { continue };
        let way = way_at(file, at);
        let mut again = Reader { way, ..Reader::new(text, &masked, reader.names.clone()) };
        let line = again.line(logical);
        if line.is_unread() || stopped(&again.findings).next().is_some() {
            continue;
        }
        let inside = |found: &Diagnostic| (line.span.start..=line.span.end).contains(&found.primary.span.start);
        reader.findings.retain(|found| !inside(found));
        let others = rewritten.absorb(std::mem::take(&mut again.findings), line.span.start);
        for found in rewritten.finding(written, line.span.start).into_iter().chain(others) {
            reader.find(found);
        }
        if let Some(old) = file.lines.get_mut(at) {
            *old = line;
        }
    }
}

/// Findings of lines, or of stated counts, that can't be read to their end.
fn stopped(findings: &[Diagnostic]) -> impl Iterator<Item = &Diagnostic> {
    findings.iter().filter(|found| found.code == codes::READING)
}
