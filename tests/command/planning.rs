//! The commands that help a designer plan: what she types, what she reads, and how it ends.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::path::Path;
use std::process::{Command, Stdio};

use insta::assert_snapshot;

/// The command as it is typed in the folder of the crate; words are parted by spaces.
fn run(line: &str) -> String {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    command.args(line.split_whitespace()).current_dir(folder).stdin(Stdio::null()).env("NO_COLOR", "1");
    let output = command.output().unwrap();
    let marked = |mark: &str, bytes: &[u8]| -> String {
        String::from_utf8(bytes.to_vec()).unwrap().lines().map(|line| format!("{mark}{line}\n")).collect()
    };
    let status = output.status.code().unwrap();
    format!("$ ringtrue {line}\n{}{}status {status}\n", marked("", &output.stdout), marked("! ", &output.stderr))
}

fn runs(lines: &[&str]) -> String {
    lines.iter().map(|line| run(line)).collect::<Vec<_>>().join("\n")
}

#[test]
fn increases_and_decreases_are_spread() {
    assert_snapshot!(runs(&[
        "spread 7 into 66",
        "spread 7 into 66 --shifted",
        "spread 6 out of 48",
        "spread 5 into 32 --in tr --terms uk",
        "spread",
        "spread 7 by 66",
        "spread 7 into 5",
        "spread 2 out of 66 --in dx",
        "spread 7 into 2000000",
    ]));
}

#[test]
fn yarn_is_a_range_for_every_size_and_piece() {
    assert_snapshot!(runs(&[
        "yarn samples/causeway-cap.rnd",
        "yarn samples/pup-seal-ball.rnd --left-of 25g",
        "yarn samples/turning-tide-cowl.rnd",
        "yarn samples/pup-seal-ball.rnd --left-of lots",
        "yarn",
    ]));
}

#[test]
fn rounds_are_flat_or_cup_or_ruffle_and_rows_have_their_widths() {
    assert_snapshot!(runs(&[
        "shape samples/pup-seal-ball.rnd",
        "shape samples/rockpool-square.rnd",
        "shape samples/net-loft-kerchief.rnd",
        "shape samples/causeway-cap.rnd",
        "shape samples/causeway-cap.rnd -o cap.svg",
        "shape samples/spinnaker-scarf.rnd -o shapes",
        "shape samples/gannet-beret.rnd -o beret.png",
    ]));
}

/// An outline by itself, as it is written and as the page has it.
#[test]
fn an_outline_is_drawn_in_the_colour_of_the_text() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("cowl.svg");
    let status = Command::new(env!("CARGO_BIN_EXE_ringtrue"))
        .args(["shape", "samples/turning-tide-cowl.rnd", "-o"])
        .arg(&target)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap()
        .status;
    assert!(status.success());
    let svg = std::fs::read_to_string(target).unwrap();
    assert!(!svg.contains('#') && svg.contains("currentColor"), "no colour of its own");
    assert_snapshot!(svg);
}

#[test]
fn counts_are_proposed_for_the_finished_measurements() {
    assert_snapshot!(runs(&[
        "grade samples/causeway-cap.rnd",
        "grade samples/longshore-jumper.rnd",
        "grade samples/pup-seal-ball.rnd",
        "grade samples/foam-scarf.rnd",
        "grade samples/faulty/chain-too-short-for-dc.rnd",
        "grade",
    ]));
}
