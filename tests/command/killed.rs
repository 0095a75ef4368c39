//! A command that is killed, at whatever moment, leaves each file as it was or as it should be, and never a part of it.
//!
//! strace (Linux) ends the command at one call to the system after the other, from the moment it begins to write.
#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]
#![expect(clippy::print_stderr, reason = "where strace can't be used the test says so")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};

use tempfile::TempDir;

const KILL: i32 = 9;
const INTERRUPT: i32 = 2;
const TERMINATE: i32 = 15;

/// A pattern with everything to do: it is untidy, it leaves a count unsaid, and one count is wrong.
const UNTIDY: &str = "pattern   Quay Mat
terms US
for home
hook 4 mm
yarn A \"sand\", weight 4, 50 g = 85 m
gauge 17 sts x 18 rows in sc = 10 cm
piece Mat, in joined rounds
lead ch 1
start ring
rnd 1: 6 sc in ring
rnd 2:   [2 sc in next] to end = 12
fasten off
";

/// Files by their names.
type Files = BTreeMap<String, String>;

/// One command, and the files that it finds.
struct Case {
    arguments: Vec<String>,
    before: Files,
}

impl Case {
    fn new(line: &str, files: &[(&str, &str)]) -> Self {
        let before = files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
        Self { arguments: line.split_whitespace().map(str::to_owned).collect(), before }
    }

    fn folder(&self) -> TempDir {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in &self.before {
            fs::write(folder.path().join(name), text).unwrap();
        }
        folder
    }

    fn run(&self, folder: &Path) {
        let status = quiet(Command::new(env!("CARGO_BIN_EXE_ringtrue")).args(&self.arguments), folder);
        assert!(matches!(status.code(), Some(0 | 1)), "{:?} ended with {status}", self.arguments);
    }

    fn run_under_strace(&self, folder: &Path, options: &[&str]) -> ExitStatus {
        let mut command = Command::new("strace");
        command.arg("-f").args(options).arg(env!("CARGO_BIN_EXE_ringtrue")).args(&self.arguments);
        quiet(&mut command, folder)
    }

    /// Every call to the system from the beginning of the writing, as the name of the call and which one of that name it is.
    fn calls_while_writing(&self) -> Vec<(String, usize)> {
        let folder = self.folder();
        let log = tempfile::NamedTempFile::new().unwrap();
        let name = log.path().to_str().unwrap();
        self.run_under_strace(folder.path(), &["-o", name, "-e", "trace=%file,%desc"]);
        calls_in(&fs::read_to_string(log.path()).unwrap())
    }

    fn ended_at(&self, call: &(String, usize), signal: &str) -> (TempDir, ExitStatus) {
        let folder = self.folder();
        let (name, number) = call;
        let what = format!("inject={name}:signal={signal}:when={number}");
        let status =
            self.run_under_strace(folder.path(), &["-o", "/dev/null", "-e", &format!("trace={name}"), "-e", &what]);
        (folder, status)
    }
}

fn quiet(command: &mut Command, folder: &Path) -> ExitStatus {
    command.current_dir(folder).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap()
}

/// A line of strace's is `731 openat(AT_FDCWD, "mat.rnd", O_RDONLY) = 3`. It counts the calls of each thread apart.
fn calls_in(log: &str) -> Vec<(String, usize)> {
    // The file is written under a passing name.
    let first = log.lines().find(|line| line.contains(".ringtrue-")).unwrap();
    let thread = first.split_whitespace().next().unwrap();
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut calls = Vec::new();
    let mut writing = false;
    for line in log.lines().filter(|line| line.split_whitespace().next() == Some(thread)) {
        let Some((name, _)) = line.strip_prefix(thread).unwrap().trim().split_once('(') else {
            continue;
        };
        let count = counts.entry(name).or_default();
        *count += 1;
        writing |= line == first;
        if writing {
            calls.push((name.to_owned(), *count));
        }
    }
    calls
}

/// What is in a folder: the files by their names, and the passing ones that a killed command could not take away.
fn contents(folder: &Path) -> (Files, BTreeSet<String>) {
    let mut files = Files::new();
    let mut passing = BTreeSet::new();
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        if name.starts_with(".ringtrue-") {
            passing.insert(name);
        } else {
            files.insert(name, fs::read_to_string(entry.path()).unwrap());
        }
    }
    (files, passing)
}

/// The cases; each of them changes or makes files when it is left alone.
fn cases() -> Vec<Case> {
    let wrong = UNTIDY.replace("= 12", "= 13");
    let old_page = [("mat.rnd", UNTIDY), ("mat.md", "An older page.\n"), ("mat.html", "<p>An older page.\n")];
    let old_proof = [("mat.rnd", UNTIDY), ("mat-proof.html", "<p>An older proof.\n")];
    vec![
        Case::new("tidy mat.rnd", &[("mat.rnd", UNTIDY)]),
        Case::new("fill mat.rnd", &[("mat.rnd", UNTIDY)]),
        Case::new("mend mat.rnd --apply 11a", &[("mat.rnd", &wrong)]),
        Case::new("page mat.rnd -o .", &old_page),
        Case::new("proof mat.rnd", &old_proof),
    ]
}

/// Whether a command can be watched here.
fn can_be_watched() -> bool {
    let mut command = Command::new("strace");
    command.args(["-f", "-o", "/dev/null", "-e", "trace=write", env!("CARGO_BIN_EXE_ringtrue"), "--version"]);
    let works = command.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|status| status.success());
    assert!(works || std::env::var_os("RINGTRUE_NEEDS_STRACE").is_none(), "strace can't be used here");
    if !works {
        eprintln!("not tested: strace is not here or may not be used");
    }
    works
}

#[test]
fn a_killed_command_leaves_the_old_file_or_the_new_one() {
    if !can_be_watched() {
        return;
    }
    for case in cases() {
        let shown = case.arguments.join(" ");
        let done = case.folder();
        case.run(done.path());
        let (after, passing) = contents(done.path());
        assert!(passing.is_empty() && after != case.before, "{shown}: {passing:?}");

        let mut met = BTreeSet::new();
        for call in case.calls_while_writing() {
            let (folder, status) = case.ended_at(&call, "SIGKILL");
            assert_eq!(status.signal(), Some(KILL), "{shown} was not killed at {call:?}");
            let (found, passing) = contents(folder.path());
            assert_eq!(found.keys().collect::<Vec<_>>(), case.before.keys().collect::<Vec<_>>(), "{shown}, {call:?}");
            for (name, text) in &found {
                let whole = text == &case.before[name] || text == &after[name];
                assert!(whole, "{shown}, killed at {call:?}, leaves {name} as\n{text}");
            }
            met.insert((found == after, !passing.is_empty()));
            // What a killed run leaves behind does not stop the next one, which clears it away.
            if found != after {
                case.run(folder.path());
                let cleared = (after.clone(), BTreeSet::new());
                assert_eq!(contents(folder.path()), cleared, "{shown}, after a kill at {call:?}");
            }
        }
        // It was killed before the first byte, with a part written, and when all was done.
        assert!(met.contains(&(false, false)) && met.contains(&(false, true)), "{shown}: {met:?}");
        assert!(met.contains(&(true, false)), "{shown}: {met:?}");
    }
}

#[test]
fn an_interrupted_command_leaves_the_old_file() {
    if !can_be_watched() {
        return;
    }
    let case = Case::new("tidy mat.rnd", &[("mat.rnd", UNTIDY)]);
    let calls = case.calls_while_writing();
    let write = calls.iter().find(|call| call.0.starts_with("write")).unwrap();
    for (signal, number) in [("SIGINT", INTERRUPT), ("SIGTERM", TERMINATE)] {
        let (folder, status) = case.ended_at(write, signal);
        assert_eq!(status.signal(), Some(number));
        assert_eq!(contents(folder.path()), (case.before.clone(), BTreeSet::new()), "nothing is left lying");
    }
}

#[test]
fn a_file_is_on_the_disk_before_it_takes_the_place_of_another() {
    if !can_be_watched() {
        return;
    }
    for case in cases() {
        let calls = case.calls_while_writing();
        let at = |name: &str| calls.iter().position(|call| call.0.starts_with(name)).unwrap();
        assert!(at("fsync") < at("rename"), "{:?}: {calls:?}", case.arguments);
    }
}
