//! `ringtrue mend FILE [--apply NAME]...`: a talk at the terminal, a list in a pipe.

use std::fs;
use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};

use ringtrue::Compiled;
use ringtrue::diagnostic::{Edit, Fix, Safety, Severity};
use ringtrue::mend::{Offer, compile_and_mend, offers};
use ringtrue::words;

use super::failure::{Failure, quoted, reason};
use super::input::Input;
use super::{Outcome, dialogue, input, output, replace};

/// Makes the repairs of a pattern in a talk at the terminal, shows them as the lines that they change where nobody can
/// answer, or makes those that are asked for.
pub fn run(file: &Path, asked: &[String]) -> Result<Outcome, Failure> {
    let input = input::read(file)?;
    let answered = io::stdin().is_terminal() && io::stdout().is_terminal();
    if asked.is_empty() && answered && file != Path::new("-") {
        return in_a_talk(file, &input);
    }
    let compiled = compile_and_mend(&input.text);
    let offers = offers(&input.text, &compiled);
    if asked.is_empty() {
        output::print(&list(&offers, &input))?;
        return Ok(output::outcome(&compiled));
    }
    let chosen = asked.iter().map(|name| find(name, &offers)).collect::<Result<Vec<_>, _>>()?;
    let all = all_of(&chosen)?;
    let text = all.apply(&input.text);
    let mended = compile_and_mend(&text);
    mends(&compiled, &mended, &chosen, &all)?;
    output::rewrite(file, &input, &text, &format!("has {} made now", words::count(chosen.len(), "repair")))?;
    output::show_findings(&mended, &Input { text, ..input });
    Ok(output::outcome(&mended))
}

/// Talks the pattern through, keeps the old file beside it, and writes the new one.
fn in_a_talk(file: &Path, input: &Input) -> Result<Outcome, Failure> {
    let talked = dialogue::talk(&input.name, &input.text, &mut io::stdin().lock(), &mut io::stdout().lock());
    let done = talked.map_err(|error| Failure(format!("nothing was changed; {}", reason(&error))))?;
    let kept = if done.text == input.text { None } else { Some(keep_old(file, input)?) };
    output::rewrite(file, input, &done.text, &what_was_done(&done, kept.as_deref()))?;
    let mended = compile_and_mend(&done.text);
    output::show_findings(&mended, &Input { text: done.text, name: input.name.clone(), old_ends: input.old_ends });
    Ok(output::outcome(&mended))
}

fn what_was_done(done: &dialogue::Done, kept: Option<&Path>) -> String {
    let mut said = match (done.respelt + done.chosen, kept) {
        (0, _) | (_, None) => "is as it was".to_owned(),
        (made, Some(kept)) => {
            let old = quoted(kept);
            format!(
                "has {} made now ({} of the spelling); the old file is {old}",
                words::count(made, "repair"),
                done.respelt
            )
        }
    };
    if done.skipped > 0 {
        said.push_str(&format!("; {} skipped", done.skipped));
    }
    if done.stopped {
        said.push_str("; the rest was not asked");
    }
    said
}

/// Keeps the file as it is beside itself, under a name that no file has yet. It does not end in .rnd, so that it is no
/// pattern of its folder.
fn keep_old(file: &Path, input: &Input) -> Result<PathBuf, Failure> {
    const MOST: usize = 1000;
    if input::read(file)?.text != input.text {
        let shown = quoted(file);
        return Err(Failure(format!("{shown} was changed while it was being worked; it was left as it is now")));
    }
    let bytes =
        fs::read(file).map_err(|error| Failure(format!("{} can't be read: {}", quoted(file), reason(&error))))?;
    let old = String::from_utf8_lossy(&bytes).into_owned();
    for number in 1..=MOST {
        let mut name = file.file_name().unwrap_or_default().to_owned();
        name.push(if number == 1 { ".old".to_owned() } else { format!(".old-{number}") });
        let beside = file.with_file_name(name);
        // A link that leads nowhere is a name that is taken as well.
        if beside.symlink_metadata().is_err() {
            replace::new_file(&beside, &old)?;
            return Ok(beside);
        }
    }
    Err(Failure(format!("there are {MOST} old versions of {} already; nothing was changed", quoted(file))))
}

fn list(offers: &[Offer], input: &Input) -> String {
    if offers.is_empty() {
        return format!("there is no repair to offer for {}\n", input.name);
    }
    let mut text = String::new();
    let mut message = "";
    for offer in offers {
        if message != offer.message {
            text.push_str(&format!("{}\n", offer.message));
            message = &offer.message;
        }
        text.push_str(&format!("  {}  {}\n", offer.name, offer.fix.title));
        for change in offer.changes(&input.text) {
            change.old.iter().for_each(|line| text.push_str(&format!("      - {line}\n")));
            change.new.iter().for_each(|line| text.push_str(&format!("      + {line}\n")));
        }
    }
    text.push_str(&format!(
        "to make one of them: `ringtrue mend {} --apply {}`\n",
        input.name,
        offers.first().map_or("", |o| &o.name)
    ));
    text
}

fn find<'a>(name: &str, offers: &'a [Offer]) -> Result<&'a Offer, Failure> {
    offers.iter().find(|o| o.name == name).ok_or_else(|| {
        let names: Vec<&str> = offers.iter().map(|o| o.name.as_str()).collect();
        let shown = quoted(Path::new(name));
        Failure(match names.as_slice() {
            [] => format!("there is no repair {shown}; this pattern has none to offer"),
            names => format!("there is no repair {shown}; there is {}", words::list(names)),
        })
    })
}

/// Each repair was tried by itself; several together may undo each other. They are written if what each of them is for
/// is gone, and nothing above them has come instead. What stands below them may have been silent until now.
fn mends(before: &Compiled, after: &Compiled, chosen: &[&Offer], all: &Fix) -> Result<(), Failure> {
    let told = |of: &Compiled, offer: &Offer| of.findings.iter().filter(|f| f.message == offer.message).count();
    if let Some(offer) = chosen.iter().find(|offer| told(after, offer) >= told(before, offer)) {
        let message = &offer.message;
        return Err(Failure(format!("nothing was changed; with that it would still be found that {message}")));
    }
    let errors = |of: &Compiled, end: usize| {
        of.findings.iter().filter(|f| f.severity == Severity::Error && f.primary.span.start <= end).count()
    };
    let end = all.edits.iter().map(|edit| edit.span.end).max().unwrap_or(0);
    let taken: usize = all.edits.iter().map(|edit| edit.span.end - edit.span.start).sum();
    let put: usize = all.edits.iter().map(|edit| edit.text.len()).sum();
    let (was, is) = (errors(before, end), errors(after, (end + put).saturating_sub(taken)));
    match chosen {
        [_] if is > was => {
            Err(Failure("nothing was changed; with that there would be other errors instead".to_owned()))
        }
        [_, _, ..] if is > was || (is == was && is > 0) => Err(Failure(
            "nothing was changed; these repairs don't go together, so make them one after the other".to_owned(),
        )),
        _ => Ok(()),
    }
}

/// All edits together; two that change the same place can't both be made.
fn all_of(chosen: &[&Offer]) -> Result<Fix, Failure> {
    let mut edits: Vec<Edit> = chosen.iter().flat_map(|o| o.fix.edits.clone()).collect();
    edits.sort();
    edits.dedup();
    let overlap = edits.windows(2).any(|two| match two {
        [one, next] => next.span.start < one.span.end || next.span.start == one.span.start,
        _ => false,
    });
    if overlap {
        return Err(Failure("two of these repairs change the same place; make them one after the other".to_owned()));
    }
    Ok(Fix { title: String::new(), edits, safety: Safety::ChangesFabric })
}
