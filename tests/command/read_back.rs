//! A command that writes reads back what it would write, and leaves the file as it is if that is not what was asked for.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::process::{Command, Stdio};

const MAT: &str = "pattern Mat\nterms US\npiece Mat, in rows\nlead ch 1\n";

/// What is printed and told, and the file afterwards.
fn run(arguments: &[&str], text: &str) -> (String, String) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mat.rnd");
    fs::write(&file, text).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
    command.args(arguments).current_dir(folder.path()).stdin(Stdio::null()).env("NO_COLOR", "1");
    let output = command.output().unwrap();
    let said = String::from_utf8([output.stdout, output.stderr].concat()).unwrap();
    (said, fs::read_to_string(&file).unwrap())
}

#[test]
fn counts_of_a_mirrored_piece_are_written_once() {
    let text = format!(
        "{MAT}start ch 6\nrow 1: sc in 2nd ch from hook, sc to end\nrow 2: sc2tog, sc to end\n\
         piece Other, in rows, mirror of Mat\n"
    );
    let (said, once) = run(&["fill", "mat.rnd"], &text);
    assert!(said.contains("mat.rnd states 2 counts more now"), "{said}");
    assert!(once.contains("sc2tog, sc to end                    = 4\npiece Other"), "{once}");
    let (said, twice) = run(&["fill", "mat.rnd"], &once);
    assert!(said.contains("leaves no count unsaid"), "{said}");
    assert_eq!(once, twice);
}

#[test]
fn a_line_that_is_not_filled_in_is_named_with_the_reason() {
    let text = format!(
        "{MAT}start ch 13\nrow 1: sc in 2nd ch from hook, [dc, sc] 5 times, sc\n\
         row 2: [on dc: 2 sc in next; on sc: sc] to last 4, sc4tog\nrow 3: sc to end\nagain rows 2-3, 1 times\n\
         rows 6-7: 2 sc in next, sc to end\n"
    );
    let (said, written) = run(&["fill", "mat.rnd"], &text);
    let reasons = "line 10 of mat.rnd still has no count: the rows or rounds that one line says make different counts\n\
                   line 7 of mat.rnd still has no count: what is worked there is worked again later, and makes another \
                   count then\n";
    assert!(said.ends_with(reasons), "{said}");
    assert_eq!(written.matches(" = ").count(), 3, "{written}");
}

#[test]
fn repairs_that_do_not_go_together_are_not_made() {
    let text = format!("{MAT}start ch 29\nrow 1: sc in 2nd ch from hook, sc to end = 30\nrow 2: sc to end\n");
    let (said, written) = run(&["mend", "mat.rnd", "--apply", "6a", "--apply", "6b"], &text);
    assert!(said.contains("nothing was changed; these repairs don't go together"), "{said}");
    assert_eq!(written, text);
    let (said, written) = run(&["mend", "mat.rnd", "--apply", "6a"], &text);
    assert!(said.contains("mat.rnd has 1 repair made now"), "{said}");
    assert!(written.ends_with("sc to end = 28\nrow 2: sc to end\n"), "{written}");
}
