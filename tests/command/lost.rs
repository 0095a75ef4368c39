//! Nothing is lost: whatever happens to a command while it writes, or beside it, a file is the old one or the new one, nobody's change
//! is gone, and what was left lying is cleared away by the next command.
#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]
#![expect(clippy::print_stderr, reason = "where something can't be tested the test says so")]

use std::fs;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::thread;
use std::time::Duration;

use tempfile::TempDir;

/// A pattern for `tidy` and for `fill`: each of them changes a line of its own.
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

fn ringtrue(folder: &Path, line: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringtrue"));
    command.args(line.split_whitespace()).current_dir(folder);
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

fn run(folder: &Path, line: &str) -> Output {
    ringtrue(folder, line).output().unwrap()
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr)
}

fn folder_with(text: &str) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mat.rnd");
    fs::write(&file, text).unwrap();
    (folder, file)
}

/// The text that a command makes of another when it is left alone.
fn made(line: &str, text: &str) -> String {
    let (folder, file) = folder_with(text);
    assert_eq!(run(folder.path(), line).status.code(), Some(0));
    fs::read_to_string(file).unwrap()
}

fn passing(folder: &Path) -> usize {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.filter(|name| name.starts_with(".ringtrue-")).count()
}

/// Two commands at once: what the one says that it wrote is there, whatever the other did.
fn two_at_once(pairs: u32) {
    let (tidy, fill) = (made("tidy mat.rnd", UNTIDY), made("fill mat.rnd", UNTIDY));
    let both = [made("fill mat.rnd", &tidy), made("tidy mat.rnd", &fill)];
    for _ in 0..pairs {
        let (folder, file) = folder_with(UNTIDY);
        let children = ["tidy mat.rnd", "fill mat.rnd"].map(|line| ringtrue(folder.path(), line).spawn().unwrap());
        let [tidied, filled] = children.map(|child| child.wait_with_output().unwrap());
        let text = fs::read_to_string(file).unwrap();
        let (tidied_too, filled_too) = (tidied.status.success(), filled.status.success());
        let wanted = match (tidied_too, filled_too) {
            (true, true) => both.to_vec(),
            (true, false) => vec![tidy.clone()],
            (false, true) => vec![fill.clone()],
            (false, false) => Vec::new(),
        };
        assert!(wanted.contains(&text), "{}{}and this is there:\n{text}", told(&tidied), told(&filled));
        for (done, output) in [(tidied_too, tidied), (filled_too, filled)] {
            assert!(done || told(&output).contains("was changed while it was being worked"), "{}", told(&output));
        }
        assert_eq!(passing(folder.path()), 0);
    }
}

/// A command that is ended at any moment of its life leaves the old file or the new one, and the next one clears up.
fn ended(runs: u32) {
    let new = made("tidy mat.rnd", UNTIDY);
    for number in 0..runs {
        let (folder, file) = folder_with(UNTIDY);
        let mut child = ringtrue(folder.path(), "tidy mat.rnd").spawn().unwrap();
        thread::sleep(Duration::from_micros(u64::from(number % 100) * 300));
        let signal = if number % 2 == 0 { "-KILL" } else { "-TERM" };
        let _ = Command::new("kill").args([signal, &child.id().to_string()]).stderr(Stdio::null()).status().unwrap();
        child.wait().unwrap();
        let text = fs::read_to_string(&file).unwrap();
        assert!(text == UNTIDY || text == new, "ended after {number}, this is there:\n{text}");
        assert!(signal == "-KILL" || passing(folder.path()) == 0, "a neighbour is left");
        assert_eq!(run(folder.path(), "tidy mat.rnd").status.code(), Some(0));
        assert_eq!(fs::read_to_string(&file).unwrap(), new);
        let left = passing(folder.path());
        assert!(left == 0 || text == new, "the next one writes and clears up");
    }
}

/// A file that is protected, in a folder where everything else may be done.
fn protected(runs: u32) {
    for _ in 0..runs {
        let (folder, file) = folder_with(UNTIDY);
        fs::set_permissions(&file, fs::Permissions::from_mode(0o444)).unwrap();
        let output = run(folder.path(), "tidy mat.rnd");
        assert!(output.status.code() == Some(2) && told(&output).contains("write-protected"), "{output:?}");
        assert_eq!(fs::read_to_string(&file).unwrap(), UNTIDY);
    }
}

/// A small disk of its own, which only the superuser can make.
struct Disk(TempDir);

impl Disk {
    fn new(options: &str) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", options, "none"]).arg(folder.path()).stderr(Stdio::null());
        mount.status().is_ok_and(|status| status.success()).then_some(Self(folder))
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.0.path()).status();
    }
}

/// A disk without room, without room for one more name, or that may only be read, keeps the file that is on it.
fn refused(runs: u32, options: &str, spoil: fn(&Path), why: &str) {
    let Some(disk) = Disk::new(options) else {
        eprintln!("not tested: no disk can be made here");
        return;
    };
    let file = disk.0.path().join("mat.rnd");
    fs::write(&file, UNTIDY).unwrap();
    spoil(disk.0.path());
    for _ in 0..runs {
        let output = run(disk.0.path(), "tidy mat.rnd");
        assert_eq!(output.status.code(), Some(2));
        let wanted = format!("`mat.rnd` can't be written: {why}; the file that was there is unchanged");
        assert!(told(&output).contains(&wanted), "{output:?}");
        assert_eq!((fs::read_to_string(&file).unwrap().as_str(), passing(disk.0.path())), (UNTIDY, 0));
    }
}

fn no_room(folder: &Path) {
    // It stops where no byte more goes in.
    let _ = fs::write(folder.join("stones"), vec![b'o'; 200_000]);
}

fn no_name(folder: &Path) {
    (0..20).for_each(|stone| drop(fs::write(folder.join(format!("stone-{stone}")), "")));
}

fn only_to_be_read(folder: &Path) {
    let mut mount = Command::new("mount");
    assert!(mount.args(["-o", "remount,ro"]).arg(folder).status().unwrap().success());
}

/// So many runs in all, by a fixed share for each thing that can happen.
fn all_of_it(share: u32) {
    two_at_once(15 * share);
    ended(40 * share);
    refused(5 * share, "size=64k", no_room, "the disk is full");
    refused(10 * share, "size=64k,nr_inodes=8", no_name, "the disk is full");
    refused(10 * share, "size=64k", only_to_be_read, "it is on a read-only disk");
    protected(5 * share);
}

#[test]
fn nothing_is_lost() {
    all_of_it(1);
}

/// 1,000 runs, and those that clear up after them: `cargo test --test command -- --ignored`.
#[test]
#[ignore = "takes minutes"]
fn nothing_is_lost_in_a_thousand_runs() {
    all_of_it(10);
}

#[test]
fn what_a_killed_command_left_is_cleared_away_and_nothing_else() {
    let (folder, _) = folder_with(UNTIDY);
    let names = [".ringtrue-a1B2c3", ".ringtrue-notes", ".ringtrue-a1B2c3.rnd", ".a1B2c3"];
    for name in names {
        fs::write(folder.path().join(name), "").unwrap();
    }
    fs::create_dir(folder.path().join(".ringtrue-folder")).unwrap();
    assert_eq!(run(folder.path(), "tidy mat.rnd").status.code(), Some(0));
    let left: Vec<bool> = names.iter().map(|name| folder.path().join(name).exists()).collect();
    assert_eq!(left, [false, true, true, true]);
    assert!(folder.path().join(".ringtrue-folder").is_dir());
}

#[test]
fn an_owner_and_rights_are_kept() {
    const SOMEBODY: u32 = 12_345;
    let (folder, file) = folder_with(UNTIDY);
    fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
    let superuser = std::os::unix::fs::chown(&file, Some(SOMEBODY), Some(SOMEBODY)).is_ok();
    let before = fs::metadata(&file).unwrap();
    for line in ["tidy mat.rnd", "fill mat.rnd"] {
        assert_eq!(run(folder.path(), line).status.code(), Some(0));
        let after = fs::metadata(&file).unwrap();
        let rights = |of: &fs::Metadata| (of.uid(), of.gid(), of.mode());
        assert_eq!(rights(&after), rights(&before), "{line}");
    }
    assert!(!superuser || before.uid() == SOMEBODY);
}

#[test]
fn a_linked_file_is_written_through_its_link() {
    let (folder, file) = folder_with(UNTIDY);
    fs::create_dir(folder.path().join("desk")).unwrap();
    let desk = folder.path().join("desk");
    symlink("../mat.rnd", desk.join("mat.rnd")).unwrap();
    symlink("nowhere.html", desk.join("mat.html")).unwrap();
    assert_eq!(run(&desk, "tidy mat.rnd").status.code(), Some(0));
    assert!(desk.join("mat.rnd").is_symlink());
    assert_eq!(fs::read_to_string(&file).unwrap(), made("tidy mat.rnd", UNTIDY));
    let output = run(&desk, "page mat.rnd");
    assert!(output.status.code() == Some(2) && told(&output).contains("a link that leads nowhere"), "{output:?}");
    assert!(!desk.join("mat.md").exists());
    // Of two names for one file, only the one that was given has the new text, and that is said.
    fs::hard_link(&file, folder.path().join("twin.rnd")).unwrap();
    assert!(told(&run(folder.path(), "fill mat.rnd")).contains("had a second name, a hard link"));
}

#[test]
fn links_in_a_folder_are_followed_to_files_and_told_of_to_folders() {
    let (folder, _) = folder_with(UNTIDY);
    let other = tempfile::tempdir().unwrap();
    fs::write(other.path().join("cap.rnd"), UNTIDY).unwrap();
    symlink(other.path().join("cap.rnd"), folder.path().join("cap.rnd")).unwrap();
    symlink(other.path(), folder.path().join("more")).unwrap();
    symlink("gone.rnd", folder.path().join("lost.rnd")).unwrap();
    let said = told(&run(folder.path(), "check ."));
    for wanted in [
        "./cap.rnd rings true\n",
        "./mat.rnd rings true\n",
        "`./lost.rnd` is a link that leads nowhere\n",
        "`./more` is a link to another folder and was not gone into",
    ] {
        assert!(said.contains(wanted), "{wanted} is not in\n{said}");
    }
}

/// A PNG of so many bytes, as far as anybody looks.
fn png(bytes: usize) -> Vec<u8> {
    let mut png = b"\x89PNG\r\n\x1a\n".to_vec();
    png.resize(bytes, 0);
    png
}

fn with_pictures(names: &[&str]) -> String {
    let lines: String = names.iter().map(|name| format!("picture {name} \"A mat on a step\"\n")).collect();
    UNTIDY.replacen("terms", &format!("{lines}terms"), 1)
}

#[test]
fn pictures_are_ordinary_files_in_the_folder_of_the_pattern() {
    let other = tempfile::tempdir().unwrap();
    fs::write(other.path().join("secret.png"), png(100)).unwrap();
    let (folder, _) = folder_with(&with_pictures(&["mat.png"]));
    let picture = folder.path().join("mat.png");
    let refused = |wanted: &str| {
        for line in ["page mat.rnd -o -", "check mat.rnd"] {
            let output = run(folder.path(), line);
            assert_ne!(output.status.code(), Some(0), "{line}");
            assert!(told(&output).contains(wanted), "{wanted} is not in\n{}", told(&output));
        }
        fs::remove_file(&picture).unwrap();
    };
    symlink(other.path().join("secret.png"), &picture).unwrap();
    refused("the picture `mat.png` is a link that leads out of the pattern's folder");
    // To open it would wait for somebody who writes into it.
    assert!(Command::new("mkfifo").arg(&picture).status().unwrap().success());
    refused("the picture `mat.png` is not an ordinary file");
    symlink("gone.png", &picture).unwrap();
    refused("the picture `mat.png` is a link that leads nowhere");
    fs::write(&picture, png(10_000_001)).unwrap();
    refused("the picture `mat.png` has more than 10 MB; make a smaller copy of it for the page: 1,800 dots across");

    // A link that stays in the folder does.
    fs::create_dir(folder.path().join("all")).unwrap();
    fs::write(folder.path().join("all/step.png"), png(100)).unwrap();
    symlink("all/step.png", &picture).unwrap();
    assert_eq!(run(folder.path(), "check mat.rnd").status.code(), Some(0));
    assert_eq!(run(folder.path(), "page mat.rnd").status.code(), Some(0));
    assert!(fs::read_to_string(folder.path().join("mat.html")).unwrap().contains("data:image/png;base64,iVBORw0KGgo"));
}

#[test]
fn pictures_have_a_total() {
    let (folder, _) = folder_with(&with_pictures(&["a.png", "b.png", "c.png"]));
    fs::write(folder.path().join("a.png"), png(9_000_000)).unwrap();
    fs::write(folder.path().join("b.png"), png(8_950_000)).unwrap();
    fs::write(folder.path().join("c.png"), png(50_000)).unwrap();
    assert_eq!(run(folder.path(), "check mat.rnd").status.code(), Some(0));
    fs::write(folder.path().join("c.png"), png(50_001)).unwrap();
    let wanted = "the 3 pictures together have 18.1 MB, and a page holds 18 MB; the largest: `a.png` (9.0 MB), `b.png` (9.0 MB) and \
                  `c.png` (0.1 MB); make a smaller copy of each";
    for line in ["page mat.rnd", "check mat.rnd"] {
        let output = run(folder.path(), line);
        assert!(output.status.code() != Some(0) && told(&output).contains(wanted), "{}", told(&output));
    }
}

#[test]
fn a_closed_output_is_an_error() {
    let (folder, _) = folder_with(UNTIDY);
    let script = |line: &str, to: &str| {
        let script = format!("exec \"$0\" {line} {to}");
        let mut shell = Command::new("sh");
        shell.args(["-c", &script, env!("CARGO_BIN_EXE_ringtrue")]).current_dir(folder.path()).stdin(Stdio::null());
        shell.output().unwrap()
    };
    for line in ["tally mat.rnd", "check mat.rnd", "page mat.rnd -o -", "proof mat.rnd -o -", "--help", "explain count"]
    {
        for (to, why) in [(">&-", "standard output is closed"), (">/dev/full", "the disk is full")] {
            let output = script(line, to);
            assert_eq!(output.status.code(), Some(2), "{line} {to}: {output:?}");
            assert!(
                told(&output).contains(&format!("the result could not be printed: {why}")),
                "{line} {to}: {output:?}"
            );
        }
        for to in [">/dev/null", "<>/dev/null 1>&0"] {
            assert_eq!(script(line, to).status.code(), Some(0), "{line} {to}");
        }
    }
}

#[test]
fn a_dash_is_standard_output_everywhere() {
    let (folder, file) = folder_with(UNTIDY);
    fs::write(file.with_file_name("cloth.rnd"), include_str!("../../samples/clinker-cloth.rnd")).unwrap();
    for (line, begins) in [
        ("page mat.rnd -o -", "Quay Mat\n"),
        ("proof mat.rnd -o -", "<!DOCTYPE html>"),
        ("shape cloth.rnd -o -", "<svg"),
        ("new -", "# A small pattern"),
    ] {
        let output = run(folder.path(), line);
        assert!(output.status.success() && output.stdout.starts_with(begins.as_bytes()), "{line}: {output:?}");
        assert!(!told(&output).contains("wrote"), "{line}: nothing else is printed");
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2, "and nothing is written");
}

#[test]
fn folders_are_made_alike() {
    let (folder, _) = folder_with(UNTIDY);
    for (line, made) in [("page mat.rnd -o new/", "new/mat.md"), ("proof mat.rnd -o newer/", "newer/mat-proof.html")] {
        assert!(run(folder.path(), line).status.success(), "{line}");
        assert!(folder.path().join(made).is_file(), "{made}");
    }
}

/// Line ends of old are read, and written again as they were.
#[test]
fn a_carriage_return_alone_ends_a_line() {
    let old = |text: &str| text.replace('\n', "\r");
    let (folder, file) = folder_with(&old(UNTIDY));
    assert!(told(&run(folder.path(), "check mat.rnd")).contains("mat.rnd rings true"));
    for line in ["fill mat.rnd", "tidy mat.rnd"] {
        assert!(run(folder.path(), line).status.success(), "{line}");
    }
    let wanted = made("tidy mat.rnd", &made("fill mat.rnd", UNTIDY));
    assert_eq!(fs::read_to_string(&file).unwrap(), old(&wanted));
    fs::write(&file, old(&UNTIDY.replace("= 12", "= 13"))).unwrap();
    assert!(told(&run(folder.path(), "check mat.rnd")).contains("mat.rnd:11:"), "the line is counted");
}

/// A screen is enough for the worst of files, and says how much more there is.
#[test]
fn messages_stay_on_a_screen() {
    let thousand: String = (0..3000).map(|number| format!("zork{number} x\n")).collect();
    let wide = "sc in next, ".repeat(300);
    for (text, wanted) in [
        (format!("{UNTIDY}{thousand}"), "more, which are not shown; mend these first"),
        (UNTIDY.replace("[2 sc", &format!("{wide}xyz in next, {wide}[2 sc")), "… in next"),
        (UNTIDY.replace("[2 sc", &format!("{}[2 sc", "xyz in next, ".repeat(700))), "and in 699 more places"),
        (format!("{UNTIDY}> {}\n", "w".repeat(200_000)), "this line is too long"),
        (format!("{UNTIDY}# {}\n", "w".repeat(200_000)), "this line is too long"),
    ] {
        let (folder, _) = folder_with(&text);
        let said = told(&run(folder.path(), "check mat.rnd"));
        assert!(said.contains(wanted), "{wanted} is not in\n{}", said.get(..2_000).unwrap_or(&said));
        assert!(said.lines().count() < 100, "{} lines", said.lines().count());
        assert!(said.lines().all(|line| line.chars().count() < 250), "a line is too wide for a screen");
    }
}
