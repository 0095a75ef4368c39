//! The command as its user meets it: what she types, what she reads, and how it ends.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]
#![expect(clippy::too_many_lines, reason = "what is seen is shown whole")]

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use insta::assert_snapshot;
use tempfile::TempDir;

/// A pattern that rings true.
const MAT: &str = "pattern Quay Mat
terms US
for home
hook 4 mm
yarn A \"sand\", weight 4, 50 g = 85 m
gauge 17 sts x 18 rows in sc = 10 cm
piece Mat, in joined rounds
lead ch 1
start ring
rnd 1: 6 sc in ring             = 6
rnd 2: [2 sc in next] to end    = 12
fasten off
";

/// A folder of its own, in which the command is run.
struct Folder(TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn with(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        fs::write(self.path(name), content).unwrap();
        self
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    /// The names of everything in the folder and the folders below.
    fn names(&self) -> Vec<String> {
        let mut names = Vec::new();
        collect(self.0.path(), self.0.path(), &mut names);
        names.sort();
        names
    }

    /// The command, in this folder, with nothing of the tester's own terminal settings.
    fn command<S: AsRef<OsStr>>(&self, arguments: &[S]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
        command.args(arguments).current_dir(self.0.path()).stdin(Stdio::null());
        for name in ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE"] {
            command.env_remove(name);
        }
        command
    }

    /// Runs a line as it is typed; words are parted by spaces.
    fn run(&self, line: &str) -> String {
        let words: Vec<&str> = line.split_whitespace().collect();
        shown(line, &self.command(&words).output().unwrap())
    }

    fn run_with_input(&self, line: &str, input: &str) -> String {
        let words: Vec<&str> = line.split_whitespace().collect();
        let mut command = self.command(&words);
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
        shown(line, &child.wait_with_output().unwrap())
    }
}

fn collect(top: &Path, folder: &Path, names: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(top, &path, names);
        } else {
            names.push(path.strip_prefix(top).unwrap().display().to_string());
        }
    }
}

/// A run as it is seen: the line, what was printed, what was told, and the status.
fn shown(line: &str, output: &Output) -> String {
    let mut text = format!("$ ringtrue {line}\n{}", String::from_utf8_lossy(&output.stdout));
    for told in String::from_utf8_lossy(&output.stderr).lines() {
        writeln!(text, "! {told}").unwrap();
    }
    writeln!(text, "status {}", output.status.code().unwrap()).unwrap();
    text
}

fn runs(folder: &Folder, lines: &[&str]) -> String {
    lines.iter().map(|line| folder.run(line)).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_wrong_command_line_gets_one_sentence() {
    let folder = Folder::new().with("mat.rnd", MAT);
    assert_snapshot!(runs(&folder, &[
        "", "mat.rnd", "chekc mat.rnd", "frobnicate", "-x", "check", "page", "tally", "new", "check --all mat.rnd",
        "page mat.rnd other.rnd", "page --darft mat.rnd", "page mat.rnd -o", "page --draft=yes mat.rnd",
        "explain count repeat", "new a b",
                "page mat.rnd --terms fr", "page mat.rnd --terms", "page mat.rnd --size", "check mat.rnd --as xml", "tidy", "fill",
                "fill mat.rnd other.rnd",
    ]), @"
    $ ringtrue 
    ! error: say what to do: `ringtrue check bonnet.rnd` checks a pattern, and `ringtrue --help` lists the rest
    status 2

    $ ringtrue mat.rnd
    ! error: `mat.rnd` is a file, not a command; to check it, write `ringtrue check mat.rnd`
    status 2

    $ ringtrue chekc mat.rnd
    ! error: there is no command `chekc`; did you mean `check`?
    status 2

    $ ringtrue frobnicate
    ! error: there is no command `frobnicate`; `ringtrue --help` lists them
    status 2

    $ ringtrue -x
    ! error: `ringtrue` has no option `-x`; `ringtrue --help` lists what it has
    status 2

    $ ringtrue check
    ! error: name the pattern's file, as in `ringtrue check bonnet.rnd`
    status 2

    $ ringtrue page
    ! error: name the pattern's file, as in `ringtrue page bonnet.rnd`
    status 2

    $ ringtrue tally
    ! error: name the pattern's file, as in `ringtrue tally bonnet.rnd`
    status 2

    $ ringtrue new
    ! error: give the pattern a name, as in `ringtrue new tern-hat`
    status 2

    $ ringtrue check --all mat.rnd
    ! error: `ringtrue check` has no option `--all`; `ringtrue check --help` lists what it has
    status 2

    $ ringtrue page mat.rnd other.rnd
    ! error: `other.rnd` is one too many: `ringtrue page` takes one file at a time
    status 2

    $ ringtrue page --darft mat.rnd
    ! error: `ringtrue page` has no option `--darft`; did you mean `--draft`?
    status 2

    $ ringtrue page mat.rnd -o
    ! error: `-o` needs a folder or a file after it, as in `-o pages`
    status 2

    $ ringtrue page --draft=yes mat.rnd
    ! error: `--draft` stands alone, without `=` and a value
    status 2

    $ ringtrue explain count repeat
    ! error: `repeat` is one too many: `ringtrue explain` takes one word at a time
    status 2

    $ ringtrue new a b
    ! error: `b` is one too many: `ringtrue new` takes one name at a time
    status 2

    $ ringtrue page mat.rnd --terms fr
    ! error: `--terms` is followed by `us` or `uk`, not by `fr`
    status 2

    $ ringtrue page mat.rnd --terms
    ! error: `--terms` needs `us` or `uk` after it
    status 2

    $ ringtrue page mat.rnd --size
    ! error: `--size` needs something after it
    status 2

    $ ringtrue check mat.rnd --as xml
    ! error: `--as` is followed by `text` or `json` or `sarif`, not by `xml`
    status 2

    $ ringtrue tidy
    ! error: name the pattern's file, as in `ringtrue tidy bonnet.rnd`
    status 2

    $ ringtrue fill
    ! error: name the pattern's file, as in `ringtrue fill bonnet.rnd`
    status 2

    $ ringtrue fill mat.rnd other.rnd
    ! error: `other.rnd` is one too many: `ringtrue fill` takes one file at a time
    status 2
    ");
    assert_eq!(folder.names(), ["mat.rnd"]);
}

#[test]
fn an_empty_argument_is_no_file() {
    let folder = Folder::new().with("mat.rnd", MAT);
    let empty = [
        shown("check ''", &folder.command(&["check", ""]).output().unwrap()),
        shown("page mat.rnd -o ''", &folder.command(&["page", "mat.rnd", "-o", ""]).output().unwrap()),
        shown("new ''", &folder.command(&["new", ""]).output().unwrap()),
    ];
    assert_snapshot!(empty.join("\n"), @"
    $ ringtrue check ''
    ! error: one of the names is empty; write it as in `ringtrue check bonnet.rnd`
    status 2

    $ ringtrue page mat.rnd -o ''
    ! error: `-o` needs a folder or a file after it, as in `-o pages`
    status 2

    $ ringtrue new ''
    ! error: one of the names is empty; write it as in `ringtrue check bonnet.rnd`
    status 2
    ");
}

#[test]
fn a_file_that_is_no_pattern_gets_one_sentence() {
    let folder = Folder::new()
        .with("mat.rnd", MAT)
        .with("empty.rnd", "")
        .with("blank.rnd", "\u{feff} \r\n\t\n")
        .with("latin.rnd", b"pattern Mat\nby Ren\xe9e\n")
        .with("utf16.rnd", b"\xff\xfep\0a\0t\0")
        .with("utf16-unmarked.rnd", b"p\0a\0t\0")
        .with("document.docx", b"PK\x03\x04\x14\0")
        .with("letter.rtf", b"{\\rtf1\\ansi pattern Mat}")
        .with("page.pdf", b"%PDF-1.7")
        .with("long.rnd", "# quay\n".repeat(600_000));
    assert_snapshot!(runs(&folder, &[
        "check missing.rnd", "check mat", "tally .", "check empty.rnd", "check blank.rnd", "check latin.rnd",
        "check utf16.rnd", "check utf16-unmarked.rnd", "check document.docx", "check letter.rtf", "check page.pdf",
        "check long.rnd", "check mat.rnd/mat.rnd", "page missing.rnd", "tally missing.rnd",
    ]), @"
    $ ringtrue check missing.rnd
    ! error: there is no file `missing.rnd`
    status 2

    $ ringtrue check mat
    ! error: there is no file `mat`; did you mean `mat.rnd`?
    status 2

    $ ringtrue tally .
    ! error: `.` is a folder; name the files in it, as `./bonnet.rnd`
    status 2

    $ ringtrue check empty.rnd
    ! error: `empty.rnd` is empty; `ringtrue new` writes a pattern to start from
    status 2

    $ ringtrue check blank.rnd
    ! error: `blank.rnd` is empty; `ringtrue new` writes a pattern to start from
    status 2

    $ ringtrue check latin.rnd
    ! error: `latin.rnd` is not UTF-8 text: line 2 has a character in another encoding; save it in UTF-8
    status 2

    $ ringtrue check utf16.rnd
    ! error: `utf16.rnd` is text in UTF-16; save the pattern as plain text in UTF-8
    status 2

    $ ringtrue check utf16-unmarked.rnd
    ! error: `utf16-unmarked.rnd` is not text at all; save the pattern as plain text in UTF-8
    status 2

    $ ringtrue check document.docx
    ! error: `document.docx` is a word processor's document or a zip file; save the pattern as plain text in UTF-8
    status 2

    $ ringtrue check letter.rtf
    ! error: `letter.rtf` is a rich-text document; save the pattern as plain text in UTF-8
    status 2

    $ ringtrue check page.pdf
    ! error: `page.pdf` is a PDF; save the pattern as plain text in UTF-8
    status 2

    $ ringtrue check long.rnd
    ! error: `long.rnd` has more than 4000000 letters; no pattern is that long
    status 2

    $ ringtrue check mat.rnd/mat.rnd
    ! error: `mat.rnd/mat.rnd` can't be read: a part of its path is a file, not a folder
    status 2

    $ ringtrue page missing.rnd
    ! error: there is no file `missing.rnd`
    status 2

    $ ringtrue tally missing.rnd
    ! error: there is no file `missing.rnd`
    status 2
    ");
}

#[test]
fn one_bad_file_does_not_hide_the_others() {
    let folder = Folder::new().with("mat.rnd", MAT).with("short", "");
    assert_snapshot!(folder.run("check missing.rnd mat.rnd short"), @"
    $ ringtrue check missing.rnd mat.rnd short
    mat.rnd rings true
    ! error: there is no file `missing.rnd`
    ! error: `short` is empty; `ringtrue new` writes a pattern to start from
    status 2
    ");
}

#[test]
fn a_folder_is_checked_file_by_file_in_the_order_of_their_names() {
    let folder = Folder::new();
    fs::create_dir_all(folder.path("mats/small")).unwrap();
    fs::create_dir_all(folder.path("empty")).unwrap();
    for number in 0..600 {
        let count = if number == 311 { "= 13" } else { "= 12" };
        fs::write(folder.path(&format!("mats/small/{number:03}.rnd")), MAT.replace("= 12", count)).unwrap();
    }
    fs::write(folder.path("mats/a.rnd"), MAT).unwrap();
    fs::write(folder.path("mats/notes.txt"), "not a pattern").unwrap();

    let told = folder.run("check mats empty");
    let ring_true: Vec<&str> = told.lines().filter_map(|line| line.strip_suffix(" rings true")).collect();
    let numbers = (0..600).filter(|number| *number != 311);
    let expected = numbers.map(|number| format!("mats/small/{number:03}.rnd"));
    assert_eq!(ring_true, std::iter::once("mats/a.rnd".to_owned()).chain(expected).collect::<Vec<_>>());
    assert!(told.contains("error[count]: round 2 makes 12 stitches, not 13"), "{told}");
    assert!(told.contains("there is no pattern in the folder `empty`; pattern files end in .rnd"), "{told}");
    assert_eq!(told, folder.run("check mats empty"), "the same on every run");
}

#[test]
fn a_pattern_can_come_through_standard_input() {
    let folder = Folder::new();
    assert_snapshot!(folder.run_with_input("check -", MAT), @"
    $ ringtrue check -
    standard input rings true
    status 0
    ");
    assert_snapshot!(folder.run_with_input("check -", &MAT.replace("= 12", "= 13")), @"
    $ ringtrue check -
    ! error[count]: round 2 makes 12 stitches, not 13
    !    ┌─ standard input:11:33
    !    │
    ! 11 │ rnd 2: [2 sc in next] to end    = 13
    !    │        ---------------------    ^^^^ stated here
    !    │        │                         
    !    │        makes 12 stitches, over the 6 stitches of round 1
    !    │
    !    = `= 13` to `= 12`: then everything closes
    ! 
    ! 1 error in standard input
    status 1
    ");
    assert_snapshot!(folder.run_with_input("page -", MAT), @"
    $ ringtrue page -
    wrote pattern.md and pattern.html
    read back: the same 18 stitches
    status 0
    ");
    assert_snapshot!(folder.run("check -"), @"
    $ ringtrue check -
    ! error: standard input is empty; `ringtrue new` writes a pattern to start from
    status 2
    ");
    assert_eq!(folder.names(), ["pattern.html", "pattern.md"]);
}

#[test]
fn line_ends_and_a_byte_order_mark_make_no_difference() {
    let folder = Folder::new()
        .with("windows.rnd", MAT.replace('\n', "\r\n"))
        .with("marked.rnd", format!("\u{feff}{MAT}"))
        .with("unended.rnd", MAT.trim_end());
    assert_snapshot!(folder.run("check windows.rnd marked.rnd unended.rnd"), @"
    $ ringtrue check windows.rnd marked.rnd unended.rnd
    windows.rnd rings true
    marked.rnd rings true
    unended.rnd rings true
    status 0
    ");
}

#[test]
fn findings_go_to_standard_error_and_set_the_status() {
    let folder = Folder::new().with("mat.rnd", MAT.replace("= 12", "= 13"));
    assert_snapshot!(folder.run("check mat.rnd"), @"
    $ ringtrue check mat.rnd
    ! error[count]: round 2 makes 12 stitches, not 13
    !    ┌─ mat.rnd:11:33
    !    │
    ! 11 │ rnd 2: [2 sc in next] to end    = 13
    !    │        ---------------------    ^^^^ stated here
    !    │        │                         
    !    │        makes 12 stitches, over the 6 stitches of round 1
    !    │
    !    = `= 13` to `= 12`: then everything closes
    ! 
    ! 1 error in mat.rnd
    status 1
    ");
    assert_snapshot!(folder.run("tally mat.rnd"), @"
    $ ringtrue tally mat.rnd
    Mat
    line   offered  worked  skipped  passed over  left  made  chains  stated  verdict             made by kind
    Rnd 1        1       1        0            0     0     6       0  6       rings true          6 sc
    Rnd 2        6       6        0            0     0    12       0  13      does not ring true  12 sc

    ! 1 error in mat.rnd; `ringtrue check` shows what and where
    status 1
    ");
}

#[test]
fn the_tally_shows_what_each_round_uses_and_makes() {
    let folder = Folder::new().with("mat.rnd", MAT);
    assert_snapshot!(folder.run("tally mat.rnd"), @"
    $ ringtrue tally mat.rnd
    Mat
    line   offered  worked  skipped  passed over  left  made  chains  stated  verdict     made by kind
    Rnd 1        1       1        0            0     0     6       0  6       rings true  6 sc
    Rnd 2        6       6        0            0     0    12       0  12      rings true  12 sc

    status 0
    ");
}

#[test]
fn the_tally_for_other_programs_has_every_row() {
    let net = "pattern Net\nsizes small / large\nterms US\npiece Net, in rows\nlead ch 1\nstart 4 / 6 fsc\n\
        row 1: sc to end = 4 / 6\nonly large: row: sc, [ch 1, skip 1, sc] to last 1, sc = 4 sc + 2 ch-1 sp\n\
        row: as row 1\n";
    let folder = Folder::new().with("net.rnd", net);
    let output = folder.command(&["tally", "net.rnd", "--as", "json"]).output().unwrap();
    let ledger: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(ledger["name"], "net.rnd");
    let sizes = &ledger["pieces"][0]["sizes"];
    let told = |size: usize| -> Vec<(u64, u64, u64)> {
        let rows = sizes[size]["rows"].as_array().unwrap();
        let number = |row: &serde_json::Value, name: &str| row[name].as_u64().unwrap();
        rows.iter().map(|row| (number(row, "number"), number(row, "line"), number(row, "source"))).collect()
    };
    assert_eq!((told(0), told(1)), (vec![(1, 7, 7), (2, 9, 7)], vec![(1, 7, 7), (2, 8, 8), (3, 9, 7)]));
    let row = &sizes[1]["rows"][1];
    let kinds = serde_json::json!([{ "kind": "sc", "count": 4 }, { "kind": "ch-1 sp", "count": 2 }]);
    assert_eq!(row["made"], serde_json::json!({ "stitches": 4, "chains": 2, "row_ends": 0, "by_kind": kinds }));
    assert_eq!((&row["stated"], &row["offered"], &row["skipped"]), (&kinds, &6.into(), &2.into()));
    assert_eq!(sizes[0]["rows"][0]["stated"], serde_json::json!([{ "kind": null, "count": 4 }]));
    assert_eq!(sizes[0]["rows"][1]["stated"], serde_json::json!([]));
}

/// A strip that is as wide as it says, and not as long.
const STRIP: &str = "pattern Strip\nsizes small / large\nterms US\nfits wrist 15 / 18-20 cm\nfits with ease -5 to 2 cm\n\
    finished around 15 / 18 cm\ngauge 16 sts x 20 rows in sc = 10 cm\n\
    finished width 7.5 / 10 cm\nfinished length 2 / 4 cm\npiece Strip, in rows\nlead ch 1\nstart ch 13 / 17\n\
    row 1: sc in 2nd ch from hook, sc to end = 12 / 16\nrow 2: sc to end = 12 / 16\n\
    row 3: lead ch 3 as dc, [ch 1, skip 1, dc] to last 1, dc = 7 / 9 dc + 5 / 7 ch-1 sp\n";

#[test]
fn a_count_that_is_another_one_is_explained() {
    let ball = "pattern Ball\nterms US\npiece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n\
        rnd 2: inc 6 = 12\nrnd 3: sc to end = 12\n";
    let folder = Folder::new().with("ball.rnd", ball).with("strip.rnd", STRIP);
    let said = runs(
        &folder,
        &[
            "count ball.rnd --row 2 --mine 11",
            "count ball.rnd --round 2 --mine 12",
            "count ball.rnd --row 2 --mine 40",
            "count ball.rnd --row 2",
            "count ball.rnd --row two --mine 3",
            "count ball.rnd --row 9 --mine 3",
            "count strip.rnd --row 2 --mine 3",
        ],
    );
    for words in [
        "1. In round 2 an increase was missed",
        "Take round 2 back to that place",
        "12 is what it should be.",
        "It should be 12. No single slip that was tried comes to 40",
        "error: `--mine` is missing, as in `ringtrue count bonnet.rnd --row 8 --mine 47`",
        "error: `--row` needs a whole number after it",
        "error: there is no row or round 9 in that piece",
        "error: say which size it is with `--size`; strip.rnd has small and large",
    ] {
        assert!(said.contains(words), "{words}\n{said}");
    }
}

#[test]
fn the_measures_stand_beside_what_is_stated() {
    let spiral = "pattern Loop\nterms US\nyarn A \"fog\", weight 4\nfinished around 10 cm\npiece Loop, in a spiral\n\
        start ring\nrnd 1: 6 sc in ring = 6\nrnd 2: [inc] to end = 12\n";
    let bare = "pattern Loop\nterms US\npiece Loop, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\n";
    let folder = Folder::new().with("strip.rnd", STRIP).with("loop.rnd", spiral).with("bare.rnd", bare);
    assert_snapshot!(runs(&folder, &[
        "measure strip.rnd", "measure strip.rnd --size Large", "measure strip.rnd --size huge", "measure loop.rnd",
        "measure bare.rnd", "measure",
    ]), @"
    $ ringtrue measure strip.rnd
    Strip, small
    by the gauge of 16 sts x 20 rows in sc = 10 cm, give or take one stitch and one row of it
    line          made   width        give or take  length so far          give or take
    Rows 1-2        12  7.5 cm  3 in        0.5 cm         1.0 cm  1/2 in        0.1 cm
    Row 3     7 + 5 ch  7.5 cm  3 in        0.5 cm         2.0 cm  3/4 in        0.3 cm

    Strip, large
    by the gauge of 16 sts x 20 rows in sc = 10 cm, give or take one stitch and one row of it
    line          made    width        give or take  length so far          give or take
    Rows 1-2        16  10.0 cm  4 in        0.6 cm         1.0 cm  1/2 in        0.1 cm
    Row 3     9 + 7 ch  10.0 cm  4 in        0.6 cm         2.0 cm  3/4 in        0.3 cm

    Finished measurements
    measured  size            stated           made  give or take  verdict               from
    around    small     15 cm (6 in)  7.5 cm (3 in)        0.5 cm  7.5 cm (3 in) less    the 12 stitches of row 1
    around    large     18 cm (7 in)   10 cm (4 in)        0.5 cm  8 cm (3 1/4 in) less  the 16 stitches of row 1
    width     small    7.5 cm (3 in)  7.5 cm (3 in)        0.5 cm  agrees                the 12 stitches of row 1
    width     large     10 cm (4 in)   10 cm (4 in)        0.5 cm  agrees                the 16 stitches of row 1
    length    small    2 cm (3/4 in)  2 cm (3/4 in)        0.5 cm  agrees                3 rows
    length    large  4 cm (1 1/2 in)  2 cm (3/4 in)        0.5 cm  2 cm (3/4 in) less    3 rows

    whom it fits  size          body  finished        ease  wanted
    wrist         small        15 cm     15 cm        0 cm  from 5 cm (2 in) less to 2 cm (3/4 in) more than the body
    wrist         large  18 to 20 cm     18 cm  -2 to 0 cm  from 5 cm (2 in) less to 2 cm (3/4 in) more than the body

    ! 2 warnings in strip.rnd; `ringtrue check` shows what and where
    status 0

    $ ringtrue measure strip.rnd --size Large
    Strip, large
    by the gauge of 16 sts x 20 rows in sc = 10 cm, give or take one stitch and one row of it
    line          made    width        give or take  length so far          give or take
    Rows 1-2        16  10.0 cm  4 in        0.6 cm         1.0 cm  1/2 in        0.1 cm
    Row 3     9 + 7 ch  10.0 cm  4 in        0.6 cm         2.0 cm  3/4 in        0.3 cm

    Finished measurements
    measured  size            stated           made  give or take  verdict               from
    around    large     18 cm (7 in)   10 cm (4 in)        0.5 cm  8 cm (3 1/4 in) less  the 16 stitches of row 1
    width     large     10 cm (4 in)   10 cm (4 in)        0.5 cm  agrees                the 16 stitches of row 1
    length    large  4 cm (1 1/2 in)  2 cm (3/4 in)        0.5 cm  2 cm (3/4 in) less    3 rows

    whom it fits  size          body  finished        ease  wanted
    wrist         large  18 to 20 cm     18 cm  -2 to 0 cm  from 5 cm (2 in) less to 2 cm (3/4 in) more than the body

    ! 2 warnings in strip.rnd; `ringtrue check` shows what and where
    status 0

    $ ringtrue measure strip.rnd --size huge
    ! error: strip.rnd has no size `huge`; it has small and large
    status 2

    $ ringtrue measure loop.rnd
    Loop
    no gauge is given; by what is usual for yarn of weight 4, 11 to 14 US sc in 10 cm (Craft Yarn Council, Standard Yarn Weight System)
    line   made  around            give or take  length so far          give or take
    Rnd 1     6  4.8 cm      2 in        0.7 cm         0.7 cm  1/4 in        0.2 cm
    Rnd 2    12  9.6 cm  3 3/4 in        1.3 cm         1.5 cm  1/2 in        0.3 cm

    Finished measurements
    measured           stated               made  give or take  verdict  from
    around       10 cm (4 in)  9.5 cm (3 3/4 in)        1.5 cm  agrees   the 12 stitches of round 2

    status 0

    $ ringtrue measure bare.rnd
    Loop
    there is nothing to measure it by; add a line such as `gauge 17 sts x 19 rows in sc = 10 cm`

    status 0

    $ ringtrue measure
    ! error: name the pattern's file, as in `ringtrue measure bonnet.rnd`
    status 2
    ");
}

#[test]
fn the_page_goes_where_it_is_sent() {
    let folder = Folder::new().with("quay.mat.rnd", MAT);
    assert_snapshot!(runs(&folder, &[
        "page quay.mat.rnd", "page quay.mat.rnd -o pages", "page quay.mat.rnd -o deep/er/", "page quay.mat.rnd -o one.HTML",
        "page quay.mat.rnd --out pages/two.md",
    ]), @"
    $ ringtrue page quay.mat.rnd
    wrote quay.mat.md and quay.mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page quay.mat.rnd -o pages
    wrote pages/quay.mat.md and pages/quay.mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page quay.mat.rnd -o deep/er/
    wrote deep/er/quay.mat.md and deep/er/quay.mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page quay.mat.rnd -o one.HTML
    wrote one.HTML
    read back: the same 18 stitches
    status 0

    $ ringtrue page quay.mat.rnd --out pages/two.md
    wrote pages/two.md
    read back: the same 18 stitches
    status 0
    ");
    assert_eq!(
        folder.names(),
        [
            "deep/er/quay.mat.html",
            "deep/er/quay.mat.md",
            "one.HTML",
            "pages/quay.mat.html",
            "pages/quay.mat.md",
            "pages/two.md",
            "quay.mat.html",
            "quay.mat.md",
            "quay.mat.rnd",
        ]
    );
    assert_eq!(folder.read("one.HTML"), folder.read("quay.mat.html"));
    assert_eq!(folder.read("pages/two.md"), folder.read("quay.mat.md"));
    assert!(folder.read("quay.mat.html").contains("Quay Mat"));
}

/// A picture stands in the HTML page itself; one that is not there, or is none, is an error of the command.
#[test]
fn a_picture_is_read_from_beside_the_pattern() {
    let png = b"\x89PNG\r\n\x1a\n and the rest";
    let with = |line: &str| MAT.replacen('\n', &format!("\n{line}\n"), 1);
    let folder = Folder::new()
        .with("mat.rnd", with("picture mat.png \"A mat on a step\""))
        .with("mat.png", png)
        .with("gone.rnd", with("picture gone.png \"A mat on a step\""))
        .with("wrong.rnd", with("picture wrong.jpg \"A mat on a step\""))
        .with("wrong.jpg", png);
    assert_snapshot!(runs(&folder, &["page mat.rnd -o pages", "page gone.rnd", "page wrong.rnd"]), @"
    $ ringtrue page mat.rnd -o pages
    wrote pages/mat.md and pages/mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page gone.rnd
    ! error: there is no picture `gone.png`; a picture lies beside its pattern
    status 2

    $ ringtrue page wrong.rnd
    ! error: `wrong.jpg` is not the picture that its ending says
    status 2
    ");
    assert!(folder.read("pages/mat.html").contains("<img src=\"data:image/png;base64,iVBORw0KGgo"));
    assert!(folder.read("pages/mat.md").contains("![A mat on a step](mat.png)"));
    assert!(!folder.names().iter().any(|name| name == "gone.html" || name == "wrong.html"));
}

/// Other programs read the reports alone.
#[test]
fn a_picture_that_is_not_there_stands_in_the_reports() {
    let text = MAT.replacen('\n', "\npicture gone.png \"A mat on a step\"\n", 1);
    let folder = Folder::new().with("gone.rnd", text);
    let json = runs(&folder, &["check gone.rnd --as json"]);
    for wanted in
        ["\"code\": \"picture\"", "\"errors\": 1", "there is no picture `gone.png`", "\"line\": 2", "status 1"]
    {
        assert!(json.contains(wanted), "{wanted}: {json}");
    }
    let sarif = runs(&folder, &["check gone.rnd --as sarif"]);
    for wanted in ["\"ruleId\": \"picture\"", "\"startLine\": 2", "status 1"] {
        assert!(sarif.contains(wanted), "{wanted}: {sarif}");
    }
}

/// Charts stand in the HTML, and beside the Markdown where they are asked for.
#[test]
fn charts_come_with_the_page() {
    let folder = Folder::new().with("mat.rnd", MAT);
    assert_snapshot!(runs(&folder, &["page mat.rnd -o a/", "page mat.rnd -o b/ --chart-files", "page mat.rnd -o c/ --without-charts"]), @"
    $ ringtrue page mat.rnd -o a/
    wrote a/mat.md and a/mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page mat.rnd -o b/ --chart-files
    wrote b/mat.md, b/mat.html and 1 chart
    read back: the same 18 stitches
    status 0

    $ ringtrue page mat.rnd -o c/ --without-charts
    wrote c/mat.md and c/mat.html
    read back: the same 18 stitches
    status 0
    ");
    let has_chart = |file: &str| folder.read(file).contains("<details class=\"chart\"");
    assert!(has_chart("a/mat.html") && has_chart("b/mat.html") && !has_chart("c/mat.html"));
    assert!(!folder.read("a/mat.md").contains("chart") && folder.read("b/mat.md").contains("](mat-chart-1-mat.svg)"));
    assert!(folder.read("b/mat-chart-1-mat.svg").starts_with("<svg "));
}

#[test]
fn a_page_can_be_in_large_print() {
    let folder = Folder::new().with("mat.rnd", MAT);
    assert_snapshot!(runs(&folder, &["page mat.rnd --large-print 18", "page mat.rnd --large-print 20"]), @"
    $ ringtrue page mat.rnd --large-print 18
    wrote mat.md and mat.html
    read back: the same 18 stitches
    status 0

    $ ringtrue page mat.rnd --large-print 20
    ! error: `--large-print` is followed by `18` or `24`, not by `20`
    status 2
    ");
    assert!(folder.read("mat.html").contains("<html lang=\"en-US\" class=\"large\">"));
    assert!(folder.command(&["page", "mat.rnd", "--large-print", "24"]).status().unwrap().success());
    assert!(folder.read("mat.html").contains("class=\"large larger\""));
}

/// What is compared is what is worked; other words for the same are said not to matter.
#[test]
fn two_versions_differ_by_what_is_worked() {
    let old = "pattern Tern Cap\nterms US\nsizes small / large\nversion 1 of 2026-01-10\nyarn A \"oat\"\n\
               piece Crown, in a spiral\nwith A\nstart ring\nrnd 1: 6 sc in ring = 6\n\
               rnd 2: [2 sc in next] to end = 12\nrnd 3: [sc, 2 sc in next] to end = 18\n\
               rnd 4: sc to end = 18\nrnds 5-6: sc to end = 18\nonly large: rnd: sc to end = 18\nfasten off\n\
               piece Ear, in rows\nwith A\nlead ch 1\nstart ch 5\nrow 1: sc in 2nd ch from hook, sc to end = 4\n";
    let new = old
        .replace("version 1 of 2026-01-10", "version 2 of 2026-03-01")
        .replace("[2 sc in next] to end = 12", "[2 sc in next] 6 times = 12")
        .replace("rnd 4: sc to end = 18", "rnd 4: [sc 2, 2 sc in next] to end = 24")
        .replace("rnds 5-6: sc to end = 18", "rnds 5-6: hdc to end = 24")
        .replace("only large: rnd: sc to end = 18", "only large: rnd: [sc2tog] to end = 12")
        .replace("fasten off", "fasten off\ngather")
        .replace("piece Ear", "piece Tail");
    let folder = Folder::new()
        .with("old.rnd", old)
        .with("new.rnd", &new)
        .with("worded.rnd", old.replace("[sc, 2 sc in next] to end", "[sc, (sc, sc) in next] 6 times"))
        .with("faulty.rnd", old.replace("= 12", "= 13"))
        .with("undated.rnd", old.replace("version 1 of 2026-01-10\n", ""));
    let lines = [
        "differ old.rnd new.rnd",
        "differ old.rnd new.rnd --lines --date 2026-03-05",
        "differ old.rnd old.rnd",
        "differ old.rnd worded.rnd",
        "differ old.rnd faulty.rnd",
        "differ old.rnd undated.rnd",
        "differ old.rnd undated.rnd --lines",
        "differ old.rnd new.rnd --date 1.3.2026",
        "differ old.rnd",
    ];
    assert_snapshot!(runs(&folder, &lines), @"
    $ ringtrue differ old.rnd new.rnd
    ## Corrections of 2026-03-01

    * Piece Ear is gone.
    * Crown, Rnds 4–6 make 24 stitches, not 18.
    * Crown, Rnd 7 (size large) makes 12 stitches, not 18.
    * Crown, what is done besides the rows: “Fasten off, leaving a long tail. Thread the tail through the sts of the last rnd, pull tight to close and secure.” in place of “Fasten off.”
    * Piece Tail is new.
    * Crown, Rnd 2 is worded anew; what is worked is the same.
    status 0

    $ ringtrue differ old.rnd new.rnd --lines --date 2026-03-05
    correction 2026-03-05 Piece Ear is gone.
    correction 2026-03-05 Crown, Rnds 4–6 make 24 stitches, not 18.
    correction 2026-03-05 Crown, Rnd 7 (size large) makes 12 stitches, not 18.
    correction 2026-03-05 Crown, what is done besides the rows: “Fasten off, leaving a long tail. Thread the tail through the sts of the last rnd, pull tight to close and secure.” in place of “Fasten off.”
    correction 2026-03-05 Piece Tail is new.
    status 0

    $ ringtrue differ old.rnd old.rnd
    ## Corrections of 2026-01-10

    * Nothing that is worked has changed.
    status 0

    $ ringtrue differ old.rnd worded.rnd
    ## Corrections of 2026-01-10

    * Nothing that is worked has changed.
    * Crown, Rnd 3 is worded anew; what is worked is the same.
    status 0

    $ ringtrue differ old.rnd faulty.rnd
    ! 1 error in faulty.rnd; `ringtrue check` shows what and where
    status 1

    $ ringtrue differ old.rnd undated.rnd
    ## What is different

    * Nothing that is worked has changed.
    status 0

    $ ringtrue differ old.rnd undated.rnd --lines
    ! error: a correction has its day, and the newer version has none; add `--date 2026-03-01`, or write `version 2 of 2026-03-01` in it
    status 2

    $ ringtrue differ old.rnd new.rnd --date 1.3.2026
    ! error: `1.3.2026` is no day; write year, month and day, as in `--date 2026-03-01`
    status 2

    $ ringtrue differ old.rnd
    ! error: name the older version and the newer one, as in `ringtrue differ old.rnd new.rnd`
    status 2
    ");
    // The lines can stand in the pattern, and the page has them.
    let printed = folder.command(&["differ", "old.rnd", "new.rnd", "--lines"]).output().unwrap();
    let corrections = String::from_utf8(printed.stdout).unwrap();
    fs::write(folder.path("new.rnd"), new.replacen("yarn A", &format!("{corrections}yarn A"), 1)).unwrap();
    assert!(folder.command(&["page", "new.rnd"]).status().unwrap().success());
    let page = folder.read("new.md");
    assert_eq!(page.matches("* **2026-03-01:** ").count(), corrections.lines().count(), "{page}");
}

/// A round that is put in or left out moves those below it; they are not told as changed.
#[test]
fn rounds_are_compared_with_what_they_were() {
    let ball = |between: &str| {
        format!(
            "pattern Ball\nterms US\npiece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring\nrnd 2: inc 6\n{between}\
             rnd: dec 6 = 6\ngather 6\n"
        )
    };
    let folder = Folder::new()
        .with("short.rnd", ball("rnd: sc 12\nrnd: hdc 12\n"))
        .with("long.rnd", ball("rnd: [sc, inc] 6 times\nrnd: [sc, dec] 6 times\nrnd: sc 12\nrnd: hdc 12\n"));
    assert_snapshot!(runs(&folder, &["differ short.rnd long.rnd", "differ long.rnd short.rnd"]), @r"
    $ ringtrue differ short.rnd long.rnd
    ## What is different

    * Ball, Rnds 3–4 are new.
    * Ball, Rnds 5–7 were Rnds 3–5 and are worked alike.
    status 0

    $ ringtrue differ long.rnd short.rnd
    ## What is different

    * Ball, Rnds 3–4 of the older version are gone.
    * Ball, Rnds 3–5 were Rnds 5–7 and are worked alike.
    status 0
    ");
}

#[test]
fn a_file_can_be_printed_in_other_terms() {
    let folder = Folder::new()
        .with("mat.rnd", MAT)
        .with("own.rnd", MAT.replace("terms US", "terms US\nstitch dc \"down\": takes 1, makes 1"));
    assert_snapshot!(runs(&folder, &["tidy mat.rnd --terms uk", "tidy own.rnd --terms UK"]), @r#"
    $ ringtrue tidy mat.rnd --terms uk
    pattern  Quay Mat
    terms    UK
    for      home
    hook     4 mm
    yarn     A "sand", weight 4, 50 g = 85 m
    gauge    17 sts x 18 rows in dc = 10 cm
    piece Mat, in joined rounds
    lead ch 1
    start ring
    rnd 1: 6 dc in ring           = 6
    rnd 2: [2 dc in next] to end  = 12
    fasten off
    ! words for the maker, notes, remarks and the names of your own stitches are as they were: read them through
    status 0

    $ ringtrue tidy own.rnd --terms UK
    ! error[other-terms]: in UK terms `sc` is `dc`, which is a stitch of your own here
    !   ┌─ own.rnd:7:27
    !   │
    ! 7 │ gauge 17 sts x 18 rows in sc = 10 cm
    !   │                           ^^ this would become your own stitch
    !   │
    !   = give your own stitch `dc` another name first
    ! 
    ! own.rnd can't be put in other terms as it is
    status 1
    "#);
    assert_eq!(folder.read("mat.rnd"), MAT);
}

#[test]
fn a_page_can_be_read_out_or_be_plain_text() {
    let sizes = MAT.replace("terms US", "sizes small / large\nterms US");
    let folder = Folder::new().with("mat.rnd", MAT).with("sizes.rnd", &sizes);
    let lines = [
        "page mat.rnd --read-aloud --plain",
        "page sizes.rnd --read-aloud",
        "page sizes.rnd --read-aloud --size small -o s.txt",
        "page mat.rnd --left-handed -o left.txt",
        "page mat.rnd --beside German -o german.txt",
        "page mat.rnd --beside welsh",
    ];
    assert_snapshot!(runs(&folder, &lines), @r#"
    $ ringtrue page mat.rnd --read-aloud --plain
    wrote mat.md, mat.html and mat.txt
    status 0

    $ ringtrue page sizes.rnd --read-aloud
    ! error: a page that is read out is for one size; choose it with `--size`, as in `--size "small"`
    status 2

    $ ringtrue page sizes.rnd --read-aloud --size small -o s.txt
    wrote s.txt
    status 0

    $ ringtrue page mat.rnd --left-handed -o left.txt
    wrote left.txt
    read back: the same 18 stitches
    status 0

    $ ringtrue page mat.rnd --beside German -o german.txt
    wrote german.txt
    read back: the same 18 stitches
    status 0

    $ ringtrue page mat.rnd --beside welsh
    ! error: `--beside` is followed by `german` or `french` or `dutch` or `spanish`, not by `welsh`
    status 2
    "#);
    let said = "Round 2. Chain 1. 2 single crochet in each stitch around.";
    assert!(folder.read("mat.txt").contains(said), "{}", folder.read("mat.txt"));
    assert!(folder.read("s.txt").contains(said));
    assert!(folder.read("left.txt").contains("For the left hand: "));
    assert!(folder.read("german.txt").contains("sc: single crochet; feste Masche, fM"));
}

#[test]
fn a_page_can_be_for_one_size_in_other_terms_and_in_full() {
    let sizes = MAT.replace("terms US", "sizes small / large\nterms US");
    let folder = Folder::new().with("mat.rnd", &sizes);
    let command = folder.command(&["page", "mat.rnd", "--size", " Large", "--terms", "UK", "--in-full"]);
    assert!({ command }.status().unwrap().success());
    let page = folder.read("mat.md");
    assert!(page.contains("6 double crochet in ring") && !page.contains("single crochet"), "{page}");
    assert!(page.contains("large") && !page.contains("small"), "{page}");
    assert_snapshot!(folder.run("page mat.rnd --size lagre"), @"
    $ ringtrue page mat.rnd --size lagre
    ! error: mat.rnd has no size `lagre`; it has small and large
    status 2
    ");
    fs::write(folder.path("mat.rnd"), MAT).unwrap();
    assert_snapshot!(folder.run("page mat.rnd --size large"), @"
    $ ringtrue page mat.rnd --size large
    ! error: mat.rnd has no sizes, so none is called `large`
    status 2
    ");
}

#[test]
fn a_report_for_programs_goes_to_standard_output() {
    let folder = Folder::new().with("mat.rnd", MAT).with("slip.rnd", MAT.replace("= 12", "= 13"));
    let json = folder.command(&["check", "mat.rnd", "slip.rnd", "missing.rnd", "--as", "json"]).output().unwrap();
    assert_eq!(json.status.code(), Some(2));
    assert_eq!(String::from_utf8_lossy(&json.stderr), "error: there is no file `missing.rnd`\n");
    let report: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    let files = report["files"].as_array().unwrap();
    assert_eq!(files.len(), 2);
    assert_eq!((&files[0]["name"], &files[0]["errors"]), (&"mat.rnd".into(), &0.into()));
    assert_eq!((&files[1]["name"], &files[1]["errors"]), (&"slip.rnd".into(), &1.into()));

    let sarif = folder.command(&["check", "slip.rnd", "--as", "sarif"]).output().unwrap();
    assert_eq!((sarif.status.code(), sarif.stderr.as_slice()), (Some(1), b"".as_slice()));
    let report: serde_json::Value = serde_json::from_slice(&sarif.stdout).unwrap();
    assert_eq!(report["runs"][0]["results"][0]["ruleId"], "count");
}

/// Of a row of several kinds one alone may have been counted: two chains where three belong.
#[test]
fn a_count_of_one_kind_is_explained() {
    let net = "pattern Net\nterms US\npiece Net, in rows\nlead ch 3 as dc\nstart ch 9\nrow 1: dc in 4th ch from hook, dc to end = 7\n\
        row 2: [ch 1, skip 1, dc] to end = 4 dc + 3 ch-1 sp\nfasten off\n";
    let folder = Folder::new().with("net.rnd", net);
    let counted = |of: &str, mine: &str| {
        let arguments = ["count", "net.rnd", "--row", "2", "--mine", mine, "--of", of];
        folder.command(&arguments).output().unwrap()
    };
    let told = |output: &[u8]| String::from_utf8_lossy(output).into_owned();
    let spaces = told(&counted("ch-1 sp", "2").stdout);
    assert!(spaces.contains("a chain between stitches was left out"), "{spaces}");
    assert_eq!(told(&counted("dc", "4").stdout), "4 is what it should be.\n");
    let none = counted("hdc", "4");
    assert_eq!(none.status.code(), Some(2));
    assert!(told(&none.stderr).contains("has no `hdc`; it has dc and ch-1 sp"), "{}", told(&none.stderr));
}

#[test]
fn tidying_changes_the_layout_and_nothing_else() {
    let untidy = MAT.replace("to end    = 12", "to end = 12").replace("terms US", "terms    US");
    let broken = MAT.replace("fasten off", "fastn off");
    let folder = Folder::new().with("mat.rnd", &untidy).with("broken.rnd", &broken);
    assert_snapshot!(runs(&folder, &["tidy mat.rnd broken.rnd missing.rnd", "tidy mat.rnd", "check mat.rnd"]), @"
    $ ringtrue tidy mat.rnd broken.rnd missing.rnd
    mat.rnd is tidy now
    broken.rnd is tidy now, but for line 12, which was left as it is
    ! error[did-you-mean]: no line begins with `fastn`
    !    ┌─ broken.rnd:12:1
    !    │
    ! 12 │ fastn off
    !    │ ^^^^^ did you mean `fasten`?
    !    │
    !    = `fastn` to `fasten`
    ! 
    ! error: there is no file `missing.rnd`
    status 2

    $ ringtrue tidy mat.rnd
    mat.rnd is tidy already
    status 0

    $ ringtrue check mat.rnd
    mat.rnd rings true
    status 0
    ");
    let tidy = folder.read("mat.rnd");
    assert_eq!(
        tidy.split_whitespace().collect::<Vec<_>>(),
        MAT.split_whitespace().collect::<Vec<_>>(),
        "the words are the same"
    );
    assert_eq!(folder.read("broken.rnd"), tidy.replace("fasten off", "fastn off"));
    assert_eq!(folder.run_with_input("tidy -", &untidy), format!("$ ringtrue tidy -\n{tidy}status 0\n"));
}

#[test]
fn counts_are_filled_in_where_they_are_unsaid() {
    let unsaid = MAT.replace("    = 12", "");
    let folder = Folder::new().with("mat.rnd", &unsaid);
    assert_snapshot!(runs(&folder, &["fill mat.rnd", "fill mat.rnd", "check mat.rnd"]), @"
    $ ringtrue fill mat.rnd
    mat.rnd states 1 count more now
    status 0

    $ ringtrue fill mat.rnd
    mat.rnd leaves no count unsaid that could be filled in
    status 0

    $ ringtrue check mat.rnd
    mat.rnd rings true
    status 0
    ");
    assert_eq!(folder.read("mat.rnd"), MAT);
}

#[test]
fn a_repair_is_shown_and_made_only_when_it_is_asked_for() {
    let slip = MAT.replace("= 12", "= 13");
    let folder = Folder::new().with("mat.rnd", &slip);
    assert_snapshot!(runs(&folder, &["mend mat.rnd", "mend mat.rnd --apply 11z"]), @"
    $ ringtrue mend mat.rnd
    round 2 makes 12 stitches, not 13
      11a  `= 13` to `= 12`: then everything closes
          - rnd 2: [2 sc in next] to end    = 13
          + rnd 2: [2 sc in next] to end    = 12
    to make one of them: `ringtrue mend mat.rnd --apply 11a`
    status 1

    $ ringtrue mend mat.rnd --apply 11z
    ! error: there is no repair `11z`; there is 11a
    status 2
    ");
    assert_eq!(folder.read("mat.rnd"), slip);
    assert_snapshot!(runs(&folder, &["mend mat.rnd --apply 11a", "mend mat.rnd", "check mat.rnd"]), @"
    $ ringtrue mend mat.rnd --apply 11a
    mat.rnd has 1 repair made now
    status 0

    $ ringtrue mend mat.rnd
    there is no repair to offer for mat.rnd
    status 0

    $ ringtrue check mat.rnd
    mat.rnd rings true
    status 0
    ");
    assert_eq!(folder.read("mat.rnd"), MAT);
}

#[test]
fn a_warning_is_put_right_or_answered() {
    let scarf = "pattern Quay Scarf\nby Wren Hollow\nterms US\nhook 4.5 mm\nyarn A \"oat\"\n\
                 gauge 17 sts x 19 rows in sc = 10 cm\n\n\
                 piece Scarf, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n";
    let folder = Folder::new().with("scarf.rnd", scarf);
    assert_snapshot!(runs(&folder, &["mend scarf.rnd", "mend scarf.rnd --apply 11a", "check scarf.rnd"]), @"
    $ ringtrue mend scarf.rnd
    Scarf ends after row 1, and the yarn is not fastened off
      11a  add `fasten off`
          + fasten off
    to make one of them: `ringtrue mend scarf.rnd --apply 11a`
    status 0

    $ ringtrue mend scarf.rnd --apply 11a
    scarf.rnd has 1 repair made now
    ! warning[unsaid]: the head names no finished size
    !   ┌─ scarf.rnd:2:1
    !   │
    ! 2 │ by Wren Hollow
    !   │ ^^^^^^^^^^^^^^ goes out under this name
    !   │
    !   = makers look for it before they begin; add a line such as `finished around 46 cm`
    ! 
    ! 1 warning in scarf.rnd
    status 0

    $ ringtrue check scarf.rnd
    scarf.rnd rings true
    ! warning[unsaid]: the head names no finished size
    !   ┌─ scarf.rnd:2:1
    !   │
    ! 2 │ by Wren Hollow
    !   │ ^^^^^^^^^^^^^^ goes out under this name
    !   │
    !   = makers look for it before they begin; add a line such as `finished around 46 cm`
    ! 
    ! 1 warning in scarf.rnd
    status 1
    ");
    let answered = folder.read("scarf.rnd").replace("\nhook", "\nmeant unsaid because it may be of any length\nhook");
    let folder = Folder::new().with("scarf.rnd", &answered);
    assert_snapshot!(runs(&folder, &["check scarf.rnd"]), @"
    $ ringtrue check scarf.rnd
    scarf.rnd rings true
    status 0
    ");
}

#[test]
fn no_page_is_written_over_something_else() {
    let folder = Folder::new().with("mat.rnd", MAT).with("mat.md", MAT).with("plain", "");
    fs::create_dir(folder.path("mat.html")).unwrap();
    assert_snapshot!(runs(&folder, &[
        "page mat.rnd -o mat.pdf", "page mat.md", "page mat.rnd", "page mat.rnd -o plain", "page mat.rnd -o plain/x.md",
        "page mat.rnd -o missing/x.md",
    ]), @"
    $ ringtrue page mat.rnd -o mat.pdf
    ! error: `mat.pdf` is neither a folder nor a file that ends in .md, .html or .txt
    status 2

    $ ringtrue page mat.md
    ! error: the page would be written over the pattern `mat.md`; choose another place with `-o`
    status 2

    $ ringtrue page mat.rnd
    ! error: `mat.html` is a folder, so no file of that name can be written
    status 2

    $ ringtrue page mat.rnd -o plain
    ! error: `plain` is a file, not a folder
    status 2

    $ ringtrue page mat.rnd -o plain/x.md
    ! error: `plain/x.md` can't be written: a part of its path is a file, not a folder
    status 2

    $ ringtrue page mat.rnd -o missing/x.md
    ! error: `missing/x.md` can't be written: there is no such folder
    status 2
    ");
    assert_eq!(folder.names(), ["mat.md", "mat.rnd", "plain"]);
    assert_eq!(folder.read("mat.md"), MAT);
}

#[test]
fn a_pattern_with_errors_has_no_page_but_a_draft() {
    let folder = Folder::new().with("mat.rnd", MAT.replace("= 12", "= 13")).with("mat.md", "the old page");
    let refused = folder.run("page mat.rnd");
    assert!(
        refused.ends_with("! no page was written; `--draft` writes one in spite of the errors\nstatus 1\n"),
        "{refused}"
    );
    assert_eq!(folder.names(), ["mat.md", "mat.rnd"]);
    assert_eq!(folder.read("mat.md"), "the old page");

    let draft = folder.run("page mat.rnd --draft");
    assert!(draft.starts_with("$ ringtrue page mat.rnd --draft\nwrote mat.md and mat.html\n! error[count]"), "{draft}");
    assert!(draft.ends_with("status 1\n"), "{draft}");
    assert_eq!(folder.names(), ["mat.html", "mat.md", "mat.rnd"]);
}

#[test]
fn a_write_protected_page_stays() {
    let folder = Folder::new().with("mat.rnd", MAT).with("mat.md", "the old page");
    let mut protected = fs::metadata(folder.path("mat.md")).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(folder.path("mat.md"), protected).unwrap();
    assert_snapshot!(folder.run("page mat.rnd"), @"
    $ ringtrue page mat.rnd
    ! error: `mat.md` is write-protected and was left as it is
    status 2
    ");
    assert_eq!(folder.names(), ["mat.md", "mat.rnd"]);
    assert_eq!(folder.read("mat.md"), "the old page");
}

#[test]
fn a_new_pattern_is_clean_and_replaces_nothing() {
    let folder = Folder::new().with("taken.rnd", "mine");
    assert_snapshot!(runs(&folder, &[
        "new tern-hat", "check tern-hat.rnd", "tidy tern-hat.rnd", "new tern-hat", "new tern-hat.rnd", "new taken", "new missing/tern-hat",
    ]), @"
    $ ringtrue new tern-hat
    wrote tern-hat.rnd; `ringtrue check tern-hat.rnd` checks it
    status 0

    $ ringtrue check tern-hat.rnd
    tern-hat.rnd rings true in all 3 sizes
    status 0

    $ ringtrue tidy tern-hat.rnd
    tern-hat.rnd is tidy already
    status 0

    $ ringtrue new tern-hat
    ! error: `tern-hat.rnd` is there already and was left as it is; choose another name
    status 2

    $ ringtrue new tern-hat.rnd
    ! error: `tern-hat.rnd` is there already and was left as it is; choose another name
    status 2

    $ ringtrue new taken
    ! error: `taken.rnd` is there already and was left as it is; choose another name
    status 2

    $ ringtrue new missing/tern-hat
    ! error: `missing/tern-hat.rnd` can't be written: there is no such folder
    status 2
    ");
    assert_eq!(folder.names(), ["taken.rnd", "tern-hat.rnd"]);
    assert_eq!(folder.read("taken.rnd"), "mine");
    assert!(folder.read("tern-hat.rnd").contains("\npattern   Tern Hat\n"));
}

/// What it is to be is said, or told by the name; whatever it is, it is clean and laid out.
#[test]
fn a_new_pattern_is_of_the_kind_that_is_asked_for() {
    for what in ["mat", "hat", "toy", "motif", "shawl", "scarf", "garment"] {
        let folder = Folder::new();
        let lines =
            [format!("new tern-one --for {what}"), "check tern-one.rnd".to_owned(), "tidy tern-one.rnd".to_owned()];
        let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
        let said = runs(&folder, &lines);
        assert!(
            said.contains("tern-one.rnd rings true") && said.contains("tern-one.rnd is tidy already"),
            "{what}: {said}"
        );
        assert!(!said.contains("warning"), "{what}: {said}");
        assert!(
            folder
                .read("tern-one.rnd")
                .lines()
                .any(|line| line.starts_with("pattern ") && line.ends_with("  Tern One"))
        );
    }
    let folder = Folder::new();
    assert_snapshot!(runs(&folder, &["new tern", "new sea-scarf", "new gull --for wig"]), @r"
    $ ringtrue new tern
    wrote tern.rnd, a round mat; `--for` has others: hat, toy, motif, shawl, scarf, garment; `ringtrue check tern.rnd` checks it
    status 0

    $ ringtrue new sea-scarf
    wrote sea-scarf.rnd; `ringtrue check sea-scarf.rnd` checks it
    status 0

    $ ringtrue new gull --for wig
    ! error: `--for` is followed by `mat` or `hat` or `toy` or `motif` or `shawl` or `scarf` or `garment`, not by `wig`
    status 2
    ");
    assert!(folder.read("sea-scarf.rnd").contains("piece Scarf, in rows"));
}

#[test]
fn any_name_makes_a_clean_pattern() {
    for name in ["a#b", "= 18", "> x", "---.", "straße", "v1.2", "rnd 1: sc", "帽子", "a\tb", "#"] {
        let folder = Folder::new();
        let made = folder.command(&["new", "--", name]).output().unwrap();
        assert!(made.status.success(), "{}", shown(name, &made));
        let names = folder.names();
        let checked = folder.command(&["check", "--", &names[0]]).output().unwrap();
        assert!(checked.status.success(), "{}", shown(&names[0], &checked));
    }
}

#[test]
fn every_code_is_explained() {
    let folder = Folder::new();
    let list = folder.run("explain");
    for code in ringtrue::explain::codes() {
        assert!(list.contains(&format!("\n{} ", code.0)), "{} is not in the list", code.0);
        for word in [code.0.to_owned(), format!("error[{}]", code.0), code.0.to_uppercase()] {
            let output = folder.command(&["explain", &word]).output().unwrap();
            let page = ringtrue::explain::explain(code.0).unwrap().trim_end();
            assert_eq!(String::from_utf8(output.stdout).unwrap().trim_end(), page);
            assert!(output.status.success());
        }
    }
}

#[test]
fn an_unknown_code_gets_a_hint() {
    assert_snapshot!(runs(&Folder::new(), &["explain coutn", "explain error[cuont]", "explain zebra"]), @"
    $ ringtrue explain coutn
    ! error: no message is called `coutn`; did you mean `count`?
    status 2

    $ ringtrue explain error[cuont]
    ! error: no message is called `error[cuont]`; did you mean `count`?
    status 2

    $ ringtrue explain zebra
    ! error: no message is called `zebra`; `ringtrue explain` lists them all
    status 2
    ");
}

#[test]
fn colours_are_for_terminals() {
    let folder = Folder::new().with("mat.rnd", MAT.replace("= 12", "= 13"));
    let coloured = |settings: &[(&str, &str)]| {
        let output = folder.command(&["check", "mat.rnd"]).envs(settings.iter().copied()).output().unwrap();
        output.stderr.contains(&0x1b)
    };
    assert!(!coloured(&[]), "a file or pipe gets plain text");
    assert!(coloured(&[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]), "NO_COLOR has the last word");
}

#[test]
fn help_and_version_are_printed() {
    let folder = Folder::new();
    assert_snapshot!(runs(&folder, &["--help", "check --help", "page --help", "tally --help", "measure --help", "tidy --help", "fill --help", "explain --help", "new --help", "manual --help", "completions --help"]), @"
    $ ringtrue --help
    Works a hand-crochet pattern stitch by stitch, proves its counts and writes the page

    Usage: ringtrue <COMMAND>

    Commands:
      check            Work every stitch of every size and say what does not ring true
      page             Write the page for makers, as Markdown and as HTML
      tally            Show what each row or round uses and makes, in every size
      proof            Write a proof for an editor: every line in every size, what it uses, makes and states, on one page
      measure          Show how wide and long each row comes out, and the finished measurements beside what is stated
      count            Say what probably happened when a maker's count is another one, how to see it and how to go on
      tidy             Lay a pattern file out evenly, without changing what it says
      differ           Print what is worked otherwise in a newer version of a pattern, as a note of corrections
      read             Read a pattern in ordinary words, as text or Markdown, into the notation
      fill             Write into a pattern file the counts that it leaves unsaid
      mend             Mend a pattern in a talk at the terminal; in a pipe show its repairs, or make those that are asked for
      stitches         List the stitches that can be written, or tell how one of them is made, as dc3tog
      explain          Explain a message by the word in its brackets, as count; without a word, list them all
      grade            Propose for each size the stitches that come nearest to its finished measurements
      shape            Tell how every round lies and how wide every row is, or draw the outlines of the pieces
      chart            Draw the stitches of the pieces as charts, as SVG
      yarn             Reckon how much yarn every size takes, from at least to at most
      spread           Spread increases (7 into 66) or decreases (7 out of 66) evenly, and print the line
      new              Start a pattern: write NAME.rnd, a small one to change
      language-server  Serve an editor that speaks the Language Server Protocol, on standard input and output
      manual           Print the manual, as a page for the program man
      completions      Print what a shell needs to complete ringtrue's commands and options when Tab is pressed

    Options:
      -h, --help     Print help
      -V, --version  Print version

    Exit status: 0 all is well, 1 there is something to say about a pattern, 2 the command could not do what was asked.
    FILE may be - for standard input, and - after -o is standard output. Colours are left out when NO_COLOR is set or the output is not a terminal.
    status 0

    $ ringtrue check --help
    Work every stitch of every size and say what does not ring true

    Usage: ringtrue check [OPTIONS] <FILES>...

    Arguments:
      <FILES>...  Pattern files, as bonnet.rnd, or folders of them

    Options:
          --as <FORM>  For other programs: a report on standard output, in JSON or in the SARIF standard [possible values: text, json, sarif]
      -h, --help       Print help
    status 0

    $ ringtrue page --help
    Write the page for makers, as Markdown and as HTML

    Usage: ringtrue page [OPTIONS] <FILE>

    Arguments:
      <FILE>  The pattern file, as bonnet.rnd

    Options:
      -o, --out <FOLDER_OR_FILE>    A folder, or one file that ends in .md, .html or .txt
          --draft                   Write the page even if the pattern has errors
          --terms <US_OR_UK>        Stitch names of the page; those of the file unless said [possible values: us, uk]
          --size <NAME>             A page for one size only, by its name
          --in-full                 Full words in place of abbreviations
          --read-aloud              For a machine to read out: full words, no signs, and every row or round a paragraph of its own
          --left-handed             For a maker who holds the hook in her left hand
          --plain                   Also write the page as plain text, NAME.txt
          --beside <LANGUAGE>       Give the names of stitches in another language beside the English ones [possible values: german, french, dutch, spanish]
          --brief                   A short page for makers who know how: measurements, materials, cautions, and the lines with their counts
          --without-charts          Leave the charts of the stitches out of the HTML
          --chart-files             Write the charts of the stitches as SVG files too, for the Markdown to show
          --large-print <18_OR_24>  Large print, with letters of so many points [possible values: 18, 24]
      -h, --help                    Print help
    status 0

    $ ringtrue tally --help
    Show what each row or round uses and makes, in every size

    Usage: ringtrue tally [OPTIONS] <FILE>

    Arguments:
      <FILE>  The pattern file, as bonnet.rnd

    Options:
          --as <FORM>  For other programs: the same in JSON, or the stitches themselves with what each stands on [possible values: text, json, graph]
      -h, --help       Print help
    status 0

    $ ringtrue measure --help
    Show how wide and long each row comes out, and the finished measurements beside what is stated

    Usage: ringtrue measure [OPTIONS] <FILE>

    Arguments:
      <FILE>  The pattern file, as bonnet.rnd

    Options:
          --size <NAME>  One size only, by its name
      -h, --help         Print help
    status 0

    $ ringtrue tidy --help
    Lay a pattern file out evenly, without changing what it says

    Usage: ringtrue tidy [OPTIONS] <FILES>...

    Arguments:
      <FILES>...  Pattern files, as bonnet.rnd

    Options:
          --terms <US_OR_UK>  Print the file in these stitch names instead, and leave it as it is [possible values: us, uk]
      -h, --help              Print help
    status 0

    $ ringtrue fill --help
    Write into a pattern file the counts that it leaves unsaid

    Usage: ringtrue fill <FILE>

    Arguments:
      <FILE>  The pattern file, as bonnet.rnd

    Options:
      -h, --help  Print help
    status 0

    $ ringtrue explain --help
    Explain a message by the word in its brackets, as count; without a word, list them all

    Usage: ringtrue explain [CODE]

    Arguments:
      [CODE]  The word in brackets

    Options:
      -h, --help  Print help
    status 0

    $ ringtrue new --help
    Start a pattern: write NAME.rnd, a small one to change

    Usage: ringtrue new [OPTIONS] <NAME>

    Arguments:
      <NAME>
              The name, as tern-hat

    Options:
          --for <WHAT>
              What it is to be; unless said the name tells it, or it is a mat

              Possible values:
              - mat:     A round mat
              - hat:     A hat in sizes
              - toy:     A toy with ears and eyes
              - motif:   Squares, joined, with a border
              - shawl:   A shawl from its middle
              - scarf:   A scarf in rows
              - garment: A top in sizes

      -h, --help
              Print help (see a summary with '-h')
    status 0

    $ ringtrue manual --help
    Print the manual, as a page for the program man

    Usage: ringtrue manual

    Options:
      -h, --help  Print help
    status 0

    $ ringtrue completions --help
    Print what a shell needs to complete ringtrue's commands and options when Tab is pressed

    Usage: ringtrue completions <SHELL>

    Arguments:
      <SHELL>  The shell [possible values: bash, zsh, fish, powershell]

    Options:
      -h, --help  Print help
    status 0
    ");
    assert!(folder.run("--version").contains(&format!("ringtrue {}\nstatus 0", env!("CARGO_PKG_VERSION"))));
}

/// The first lines of what a command prints; it tells nothing beside that.
fn beginning(folder: &Folder, line: &str, lines: usize) -> String {
    let words: Vec<&str> = line.split_whitespace().collect();
    let output = folder.command(&words).output().unwrap();
    assert_eq!((output.status.code(), output.stderr.len()), (Some(0), 0), "{line}");
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().take(lines).map(|line| format!("{line}\n")).collect()
}

#[test]
fn the_manual_has_every_command_in_it() {
    let folder = Folder::new();
    let first = beginning(&folder, "manual", 22).replace(env!("CARGO_PKG_VERSION"), "VERSION");
    assert_snapshot!(first, @r#"
    .ie \n(.g .ds Aq \(aq
    .el .ds Aq '
    .TH ringtrue 1  "ringtrue VERSION" "Crochet patterns"
    .ie \n(.g .ds Aq \(aq
    .el .ds Aq '
    .SH NAME
    ringtrue \- Works a hand\-crochet pattern stitch by stitch, proves its counts and writes the page
    .ie \n(.g .ds Aq \(aq
    .el .ds Aq '
    .SH SYNOPSIS
    \fBringtrue\fR [\fB\-h\fR|\fB\-\-help\fR] [\fB\-V\fR|\fB\-\-version\fR] <\fIcommand\fR>
    .ie \n(.g .ds Aq \(aq
    .el .ds Aq '
    .SH COMMANDS
    .SS "ringtrue check"
    Work every stitch of every size and say what does not ring true
    .TP
    \fIFILES\fR
    Pattern files, as bonnet.rnd, or folders of them
    .TP
    \fB\-\-as\fR \fIFORM\fR
    For other programs: a report on standard output, in JSON or in the SARIF standard (text, json, sarif)
    "#);
    let manual = folder.run("manual");
    let help = folder.run("--help");
    let listed = help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    let mut commands = 0;
    for command in listed.map(|line| line.split_whitespace().next().unwrap()) {
        assert!(manual.contains(&format!(".SS \"ringtrue {command}\"")), "{command}");
        commands += 1;
    }
    assert!(commands > 10, "{commands}");
    for written in ["\\fB\\-\\-left\\-of\\fR \\fIAMOUNT\\fR", "18, 24", "Exit status: 0 all is well"] {
        assert!(manual.contains(written), "{written}");
    }
    assert!(!manual.contains("possible values"), "said in our own words");
}

#[test]
fn a_shell_is_told_what_to_complete() {
    let folder = Folder::new();
    let shells = ["bash", "zsh", "fish", "powershell"];
    let first: Vec<String> =
        shells.iter().map(|shell| beginning(&folder, &format!("completions {shell}"), 4)).collect();
    assert_snapshot!(first.join("---\n"), @r#"
    _ringtrue() {
        local i cur prev opts cmd
        COMPREPLY=()
        if [[ "${BASH_VERSINFO[0]}" -ge 4 ]]; then
    ---
    #compdef ringtrue

    autoload -U is-at-least

    ---
    # Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
    function __fish_ringtrue_global_optspecs
        string join \n h/help V/version
    end
    ---

    using namespace System.Management.Automation
    using namespace System.Management.Automation.Language
    "#);
    for shell in shells {
        let script = folder.run(&format!("completions {shell}"));
        for word in ["spread", "large-print", "completions"] {
            assert!(script.contains(word), "{shell}: {word}");
        }
    }
    assert_snapshot!(runs(&folder, &["completions", "completions abacus", "completions bash zsh", "manual hat"]), @"
    $ ringtrue completions
    ! error: say for which shell, as in `ringtrue completions bash`
    status 2

    $ ringtrue completions abacus
    ! error: `completions` is followed by `bash` or `zsh` or `fish` or `powershell`, not by `abacus`
    status 2

    $ ringtrue completions bash zsh
    ! error: `zsh` is one too many: `ringtrue completions` takes one shell at a time
    status 2

    $ ringtrue manual hat
    ! error: `hat` is one too many: `ringtrue manual` takes nothing more
    status 2
    ");
}

/// bash itself, where it is: the script runs, and what is begun is completed.
#[cfg(unix)]
#[test]
fn bash_completes_what_is_begun() {
    let folder = Folder::new();
    fs::write(folder.path("script"), folder.command(&["completions", "bash"]).output().unwrap().stdout).unwrap();
    let complete = "source ./script; COMP_WORDS=(ringtrue page --te); COMP_CWORD=2
                    _ringtrue ringtrue --te page; echo \"${COMPREPLY[@]}\"";
    let Ok(output) = Command::new("bash").args(["-c", complete]).current_dir(folder.0.path()).output() else {
        return;
    };
    assert_eq!(String::from_utf8_lossy(&output.stdout), "--terms\n", "{output:?}");
}

#[test]
fn a_closed_pipe_is_no_error() {
    let folder = Folder::new().with("mat.rnd", MAT);
    for words in [
        ["tally", "mat.rnd"],
        ["check", "mat.rnd"],
        ["page", "mat.rnd"],
        ["new", "hat"],
        ["check", "--help"],
        ["completions", "fish"],
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = folder.command(&words).stdout(writer).output().unwrap();
        assert_eq!(
            (output.status.code(), String::from_utf8_lossy(&output.stderr).as_ref()),
            (Some(0), ""),
            "{words:?}"
        );
    }
}

#[cfg(unix)]
mod unix {
    use std::os::unix::fs::PermissionsExt;
    use std::os::unix::process::CommandExt;

    use super::*;

    /// A user without rights, for what the system's own superuser is never refused.
    const NOBODY: u32 = 65_534;

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    /// Runs a line as somebody who may not do everything: as the tester or, should she be the superuser, as nobody.
    fn run_without_rights(folder: &Folder, line: &str) -> String {
        let words: Vec<&str> = line.split_whitespace().collect();
        let secret = folder.path("secret-of-the-test");
        fs::write(&secret, "").unwrap();
        set_mode(&secret, 0o000);
        let superuser = fs::read(&secret).is_ok();
        fs::remove_file(&secret).unwrap();
        if !superuser {
            return shown(line, &folder.command(&words).output().unwrap());
        }
        // Nobody may not even go into the folders where the command was built.
        let programs = tempfile::tempdir().unwrap();
        set_mode(programs.path(), 0o755);
        let program = programs.path().join("ringtrue");
        fs::copy(env!("CARGO_BIN_EXE_ringtrue"), &program).unwrap();
        let mut command = Command::new(&program);
        command.args(&words).current_dir(folder.0.path()).stdin(Stdio::null()).uid(NOBODY).gid(NOBODY);
        loop {
            match command.output() {
                // Another test that starts a process just now has the copy open for a moment.
                Err(error) if error.kind() == std::io::ErrorKind::ExecutableFileBusy => {}
                output => return shown(line, &output.unwrap()),
            }
        }
    }

    #[test]
    fn an_unreadable_file_gets_one_sentence() {
        let folder = Folder::new().with("mat.rnd", MAT);
        set_mode(folder.0.path(), 0o755);
        set_mode(&folder.path("mat.rnd"), 0o000);
        assert_snapshot!(run_without_rights(&folder, "check mat.rnd"), @"
        $ ringtrue check mat.rnd
        ! error: `mat.rnd` can't be read: you have no permission for that
        status 2
        ");
    }

    #[test]
    fn a_read_only_folder_keeps_its_old_page() {
        let folder = Folder::new().with("mat.rnd", MAT);
        let pages = folder.path("pages");
        fs::create_dir(&pages).unwrap();
        fs::write(pages.join("mat.html"), "the old page").unwrap();
        set_mode(&pages.join("mat.html"), 0o666);
        set_mode(&pages, 0o555);
        set_mode(folder.0.path(), 0o755);
        assert_snapshot!(run_without_rights(&folder, "page mat.rnd -o pages/mat.html"), @"
        $ ringtrue page mat.rnd -o pages/mat.html
        ! error: `pages/mat.html` can't be written: you have no permission for that; the file that was there is unchanged
        status 2
        ");
        assert_snapshot!(run_without_rights(&folder, "page mat.rnd -o pages/new/"), @"
        $ ringtrue page mat.rnd -o pages/new/
        ! error: the folder `pages/new/` can't be made: you have no permission for that
        status 2
        ");
        set_mode(&pages, 0o755);
        assert_eq!(folder.names(), ["mat.rnd", "pages/mat.html"]);
        assert_eq!(folder.read("pages/mat.html"), "the old page");
    }

    /// Runs a line with files allowed to have no bytes at all, as on a full disk.
    fn run_without_space(folder: &Folder, line: &str) -> String {
        let script = "trap '' XFSZ; ulimit -f 0; exec \"$0\" \"$@\"";
        let output = Command::new("sh")
            .args(["-c", script, env!("CARGO_BIN_EXE_ringtrue")])
            .args(line.split_whitespace())
            .current_dir(folder.0.path())
            .stdin(Stdio::null())
            .output()
            .unwrap();
        shown(line, &output)
    }

    #[test]
    fn a_full_disk_keeps_the_old_page_whole() {
        let folder = Folder::new().with("mat.rnd", MAT).with("mat.md", "the old page").with("mat.html", "the old page");
        assert_snapshot!(run_without_space(&folder, "page mat.rnd"), @"
        $ ringtrue page mat.rnd
        ! error: `mat.md` can't be written: file too large; the file that was there is unchanged
        status 2
        ");
        assert_snapshot!(run_without_space(&folder, "new hat"), @"
        $ ringtrue new hat
        ! error: `hat.rnd` can't be written: file too large
        status 2
        ");
        assert_eq!(folder.names(), ["mat.html", "mat.md", "mat.rnd"]);
        assert_eq!(folder.read("mat.md"), "the old page");
        assert_eq!(folder.read("mat.html"), "the old page");
    }

    #[test]
    fn a_new_page_can_be_read_by_others_and_an_old_one_keeps_its_rights() {
        let folder = Folder::new().with("mat.rnd", MAT).with("mat.md", "the old page").with("plain", "");
        set_mode(&folder.path("mat.md"), 0o640);
        assert!(folder.run("page mat.rnd").ends_with("status 0\n"));
        assert_eq!(mode(&folder.path("mat.html")), mode(&folder.path("plain")), "as for any new file");
        assert_eq!(mode(&folder.path("mat.md")), 0o640);
        assert_ne!(folder.read("mat.md"), "the old page");
    }

    #[test]
    fn a_link_stays_a_link() {
        let folder = Folder::new().with("mat.rnd", MAT).with("published.html", "the old page");
        std::os::unix::fs::symlink("published.html", folder.path("mat.html")).unwrap();
        assert!(folder.run("page mat.rnd").ends_with("status 0\n"));
        assert!(folder.path("mat.html").is_symlink());
        assert_ne!(folder.read("published.html"), "the old page");
    }

    #[test]
    fn a_file_that_never_ends_is_given_up() {
        assert_snapshot!(runs(&Folder::new(), &["check /dev/zero", "page /dev/null"]), @"
        $ ringtrue check /dev/zero
        ! error: `/dev/zero` has more than 4000000 letters; no pattern is that long
        status 2

        $ ringtrue page /dev/null
        ! error: `/dev/null` is empty; `ringtrue new` writes a pattern to start from
        status 2
        ");
    }

    #[test]
    fn a_result_that_cannot_be_printed_is_an_error() {
        let folder = Folder::new().with("mat.rnd", MAT);
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = folder.command(&["tally", "mat.rnd"]).stdout(full).output().unwrap();
        assert_snapshot!(shown("tally mat.rnd", &output), @"
        $ ringtrue tally mat.rnd
        ! error: the result could not be printed: the disk is full
        status 2
        ");
    }

    #[test]
    fn a_name_in_another_encoding_is_a_name() {
        use std::os::unix::ffi::OsStrExt;
        let folder = Folder::new();
        let name = OsStr::from_bytes(b"m\xe4t\x1b[2J.rnd");
        fs::write(folder.0.path().join(name), MAT).unwrap();
        let output = folder.command(&[OsStr::new("check"), name]).output().unwrap();
        assert_snapshot!(shown("check", &output), @"
        $ ringtrue check
        m�t?[2J.rnd rings true
        status 0
        ");
    }
}
