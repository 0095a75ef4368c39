//! Repairs made in a talk at the terminal: what only changes the spelling at once, the rest one by one.

use std::io::{self, BufRead, Write};

use ringtrue::Compiled;
use ringtrue::diagnostic::{Diagnostic, Edit, Fix, Safety, Severity};
use ringtrue::mend::{Offer, compile_and_mend, offers};
use ringtrue::words;

/// One repair of the spelling can bring another to light; so many times they are looked for.
const MOST_PASSES: usize = 20;

/// What came of a talk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// The pattern after all repairs that were made.
    pub text: String,
    /// How many repairs of the spelling were made at once.
    pub respelt: usize,
    /// The repairs that were chosen.
    pub chosen: usize,
    /// How many findings were skipped.
    pub skipped: usize,
    /// The talk was ended before everything had been asked.
    pub stopped: bool,
}

/// Talks a pattern through: its name in messages, its text, where answers come from and where questions go.
///
/// # Errors
///
/// When an answer can't be read or a question can't be written; nothing is done then.
pub fn talk(name: &str, text: &str, answers: &mut impl BufRead, out: &mut impl Write) -> io::Result<Done> {
    let (text, respelt) = respell(text);
    if respelt > 0 {
        writeln!(out, "{}: {} of the spelling made at once", name, words::count(respelt, "repair"))?;
    }
    let mut done = Done { text, respelt, chosen: 0, skipped: 0, stopped: false };
    let mut seen: Vec<(String, String)> = Vec::new();
    loop {
        let compiled = compile_and_mend(&done.text);
        let offers = offers(&done.text, &compiled);
        let Some((finding, candidates)) = next(&compiled, &offers, &done.text, &seen) else { return Ok(done) };
        let line = line_of(&done.text, finding).to_owned();
        ask(name, finding, &line, &candidates, &done.text, out)?;
        match answer(candidates.len(), answers, out)? {
            Answer::Make(at) => {
                if let Some(offer) = candidates.get(at) {
                    done.text = offer.fix.apply(&done.text);
                    done.chosen += 1;
                }
            }
            Answer::Skip => {
                done.skipped += 1;
                seen.push((finding.message.clone(), line));
            }
            Answer::Stop => {
                done.stopped = true;
                return Ok(done);
            }
        }
    }
}

/// Makes every repair that keeps the fabric, as long as there is one and it leaves no more errors than there were.
fn respell(text: &str) -> (String, usize) {
    let mut text = text.to_owned();
    let mut made = 0;
    for _ in 0..MOST_PASSES {
        let compiled = compile_and_mend(&text);
        let all = spellings(&compiled);
        let whole = apply(&text, &all);
        let (fixes, mended) = if errors(&compile_and_mend(&whole)) < errors(&compiled) {
            (all.len(), whole)
        } else {
            // Together they don't do it: the first one that does.
            let single = all.iter().map(|fix| fix.apply(&text));
            match single.into_iter().find(|one| errors(&compile_and_mend(one)) < errors(&compiled)) {
                Some(one) => (1, one),
                None => break,
            }
        };
        made += fixes;
        text = mended;
    }
    (text, made)
}

/// The one way to spell each finding that has one; those that would get in each other's way are left for the next time.
fn spellings(compiled: &Compiled) -> Vec<Fix> {
    let mut fixes: Vec<Fix> = Vec::new();
    let mut taken: Vec<Edit> = Vec::new();
    for finding in compiled.findings.iter().filter(|finding| finding.severity == Severity::Error) {
        let [fix] = finding.fixes.as_slice() else { continue };
        let touches = |edit: &Edit| {
            taken.iter().any(|other| edit.span.start <= other.span.end && other.span.start <= edit.span.end)
        };
        if fix.safety == Safety::KeepsFabric && !fix.edits.iter().any(touches) {
            taken.extend(fix.edits.iter().cloned());
            fixes.push(fix.clone());
        }
    }
    fixes
}

fn apply(text: &str, fixes: &[Fix]) -> String {
    let edits = fixes.iter().flat_map(|fix| fix.edits.clone()).collect();
    Fix { title: String::new(), edits, safety: Safety::KeepsFabric }.apply(text)
}

fn errors(compiled: &Compiled) -> usize {
    compiled.findings.iter().filter(|finding| finding.severity == Severity::Error).count()
}

/// The next finding that has repairs and was not skipped, with them.
fn next<'a>(
    compiled: &'a Compiled,
    offers: &'a [Offer],
    text: &str,
    seen: &[(String, String)],
) -> Option<(&'a Diagnostic, Vec<&'a Offer>)> {
    compiled.findings.iter().find_map(|finding| {
        let skipped = seen.iter().any(|(message, line)| *message == finding.message && line == line_of(text, finding));
        let candidates: Vec<&Offer> =
            offers.iter().filter(|o| o.message == finding.message && finding.fixes.contains(&o.fix)).collect();
        (!skipped && !candidates.is_empty()).then_some((finding, candidates))
    })
}

/// The line that a finding is in.
fn line_of<'t>(text: &'t str, finding: &Diagnostic) -> &'t str {
    let (before, after) = text.split_at_checked(finding.primary.span.start).unwrap_or((text, ""));
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let end = before.len() + after.find('\n').unwrap_or(after.len());
    text.get(start..end).unwrap_or_default().trim_end()
}

/// Shows a finding with the ways to mend it, numbered.
fn ask(
    name: &str,
    finding: &Diagnostic,
    line: &str,
    candidates: &[&Offer],
    text: &str,
    out: &mut impl Write,
) -> io::Result<()> {
    let before = text.get(..finding.primary.span.start).unwrap_or_default();
    let number = before.matches('\n').count() + 1;
    writeln!(out, "\n{name}, line {number}: {}\n    {}", finding.message, ringtrue::message::printable(line))?;
    for (at, offer) in candidates.iter().enumerate() {
        writeln!(out, "  {}  {}", at + 1, offer.fix.title)?;
        for change in offer.changes(text) {
            for new in change.new {
                writeln!(out, "       {}", ringtrue::message::printable(&new))?;
            }
        }
    }
    Ok(())
}

enum Answer {
    Make(usize),
    Skip,
    Stop,
}

/// An answer; what is none of those that are asked for is asked again. The end of the input ends the talk.
fn answer(candidates: usize, answers: &mut impl BufRead, out: &mut impl Write) -> io::Result<Answer> {
    let numbers = if candidates == 1 { "1".to_owned() } else { format!("1 to {candidates}") };
    loop {
        write!(out, "{numbers} to make it, s to skip, q to stop: ")?;
        out.flush()?;
        let mut line = String::new();
        if answers.read_line(&mut line)? == 0 {
            writeln!(out)?;
            return Ok(Answer::Stop);
        }
        let said = line.trim().to_lowercase();
        match said.as_str() {
            "s" | "skip" => return Ok(Answer::Skip),
            "q" | "quit" | "stop" => return Ok(Answer::Stop),
            other => match other.parse::<usize>().ok().and_then(|n| n.checked_sub(1)).filter(|at| *at < candidates) {
                Some(at) => return Ok(Answer::Make(at)),
                None => writeln!(out, "that is none of the answers")?,
            },
        }
    }
}

#[cfg(test)]
mod tests {

    use super::{Done, talk};

    const MAT: &str = "pattern Mat\nterms US\n\npiece Mat, in a spiral\nstart ring\nrnd 1: 6 sc in MR (6)\n\
        rnd 2: inc around = 12\nrnd 3: [sc, inc] 6 times = 17\nrnd 4: [sc 2, inc] 6 times = 24\n";

    fn talked(text: &str, answers: &str) -> (Done, String) {
        let mut out = Vec::new();
        let done = talk("mat.rnd", text, &mut answers.as_bytes(), &mut out).unwrap();
        (done, String::from_utf8(out).unwrap())
    }

    #[test]
    fn spelling_is_mended_at_once_and_the_rest_is_asked() {
        let (done, said) = talked(MAT, "7\nwhat\n1\n");
        assert!(said.contains("3 repairs of the spelling made at once"), "{said}");
        assert!(said.contains("mat.rnd, line 8: round 3 makes 18 stitches, not 17"), "{said}");
        assert_eq!(said.matches("that is none of the answers").count(), 2, "{said}");
        assert_eq!((done.respelt, done.chosen, done.skipped, done.stopped), (3, 1, 0, false));
        assert!(ringtrue::compile(&done.text).findings.is_empty(), "{}", done.text);
    }

    #[test]
    fn what_is_skipped_stays_and_is_not_asked_again() {
        let (done, said) = talked(MAT, "s\n");
        assert_eq!(said.matches("round 3 makes").count(), 1, "{said}");
        assert_eq!((done.chosen, done.skipped, done.stopped), (0, 1, false));
        assert!(done.text.contains("[sc, inc] 6 times = 17"));
    }

    #[test]
    fn a_talk_can_be_ended_by_a_word_and_by_the_end_of_the_input() {
        for answers in ["q\n", ""] {
            let (done, _) = talked(MAT, answers);
            assert!(done.stopped && done.chosen == 0 && done.respelt == 3);
            assert!(done.text.contains("6 sc in ring = 6"), "{}", done.text);
        }
    }

    #[test]
    fn nothing_is_asked_of_a_pattern_that_rings_true() {
        let whole = MAT.replace("MR (6)", "ring = 6").replace("around", "to end").replace("= 17", "= 18");
        let (done, said) = talked(&whole, "");
        assert_eq!((done.text, said), (whole, String::new()));
    }

    #[test]
    fn an_answer_that_cannot_be_read_ends_it_all() {
        struct Broken;
        impl std::io::Read for Broken {
            fn read(&mut self, _: &mut [u8]) -> std::io::Result<usize> {
                Err(std::io::Error::other("broken"))
            }
        }
        let mut answers = std::io::BufReader::new(Broken);
        assert!(talk("mat.rnd", MAT, &mut answers, &mut Vec::new()).is_err());
    }
}
