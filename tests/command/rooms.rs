//! The rooms of the source, which are its top-level modules: each uses only rooms that stand below it, as the diagram in
//! `DEVELOPERS.md` has them. Then no two of them lean on each other, however far round.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{read_dir, read_to_string};
use std::path::{Path, PathBuf};

/// What each room uses, and the files that do.
type Uses = BTreeMap<String, BTreeMap<String, BTreeSet<PathBuf>>>;

#[test]
fn every_room_uses_only_rooms_below_it() {
    let (floors, uses) = (floors(&read_to_string("DEVELOPERS.md").unwrap()), uses(Path::new("src")));
    let drawn: Vec<&String> = floors.iter().flatten().collect();
    let mut rooms: Vec<&String> = uses.keys().collect();
    let mut once = drawn.clone();
    once.sort();
    rooms.sort();
    assert_eq!(once, rooms, "the diagram in DEVELOPERS.md has every room of src, once");
    let floor = |room: &str| floors.iter().position(|floor| floor.iter().any(|one| one == room)).unwrap();
    let mut upwards = Vec::new();
    for (room, used) in &uses {
        for (below, files) in used {
            if floor(below) <= floor(room) {
                upwards.push(format!("{room} uses {below}, which does not stand below it: {files:?}"));
            }
        }
    }
    assert!(upwards.is_empty(), "{}", upwards.join("\n"));
}

/// Repairs take many trials: what prints no more than how many errors there are has none sought.
#[test]
fn repairs_are_sought_only_where_they_are_shown() {
    let shows = ["output::show_findings(", "offers("];
    let mut seeking = 0;
    for entry in read_dir("src/command").unwrap() {
        let path = entry.unwrap().path();
        let Ok(text) = read_to_string(&path) else { continue };
        if text.contains("compile_and_mend(") {
            seeking += 1;
            assert!(shows.iter().any(|shown| text.contains(shown)), "{} shows no repair", path.display());
        }
    }
    assert!(seeking > 0);
}

#[test]
fn what_a_room_uses_is_read_out_of_any_way_to_write_it() {
    let names = BTreeMap::from([("compile".to_owned(), "compiled".to_owned())]);
    let text = "use crate::a::{self, b};\nuse crate::{c, d::{E, F}, compile};\n// crate::comment\nfn f() { crate::g::h(); }\n\
                use super::i;\n#[cfg(test)]\nmod tests {\n    use crate::test;\n}\nfn last() { super::super::j() }\n";
    let found = |depth| imports(text, depth, &names).into_iter().collect::<Vec<_>>();
    assert_eq!(found(1), ["a", "c", "compiled", "d", "g", "i"]);
    assert_eq!(found(2), ["a", "c", "compiled", "d", "g", "j"]);
    assert_eq!(found(3), ["a", "c", "compiled", "d", "g"]);
}

#[test]
fn the_diagram_is_read_floor_by_floor() {
    let floors = floors(
        "text\n\n```text\nrooms      what they do\n\n one two │ above\n         │ and more\n three   │ below\n```\n",
    );
    assert_eq!(floors, [vec!["one".to_owned(), "two".to_owned()], vec!["three".to_owned()]]);
}

/// The rooms of the diagram, the highest floor first: what stands left of the line in the block that begins with `rooms`.
fn floors(document: &str) -> Vec<Vec<String>> {
    let (_, block) = document.split_once("```text\nrooms ").unwrap();
    let (block, _) = block.split_once("```").unwrap();
    let rows = block.lines().filter_map(|line| line.split_once('│'));
    let floors = rows.map(|(rooms, _)| rooms.split_whitespace().map(str::to_owned).collect::<Vec<_>>());
    floors.filter(|rooms| !rooms.is_empty()).collect()
}

fn uses(root: &Path) -> Uses {
    let names = names(&read_to_string(root.join("lib.rs")).unwrap());
    let mut uses = Uses::new();
    for file in files(root) {
        let inside = file.strip_prefix(root).unwrap();
        let room = inside.components().next().unwrap().as_os_str().to_str().unwrap().trim_end_matches(".rs").to_owned();
        // The two crates begin here, and what only tests use does not matter.
        if ["lib", "main"].contains(&room.as_str()) || inside.ends_with("tests.rs") {
            continue;
        }
        // `super` leads out of a room's `mod.rs`, or out of its only file, in one step.
        let steps = inside.components().count() - usize::from(inside.ends_with("mod.rs"));
        let used = uses.entry(room.clone()).or_default();
        for below in imports(&read_to_string(&file).unwrap(), steps, &names).into_iter().filter(|below| *below != room)
        {
            used.entry(below).or_default().insert(inside.to_owned());
        }
    }
    // The command is a crate of its own: its `crate` is itself, and it stands on the library.
    uses.insert("command".to_owned(), BTreeMap::new());
    uses
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files.extend(self::files(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files
}

/// The rooms behind the names that `lib.rs` gives out itself: `pub use compiled::{Compiled, compile};`.
fn names(library: &str) -> BTreeMap<String, String> {
    let mut names = BTreeMap::new();
    for line in library.lines() {
        let Some((room, given)) = line.strip_prefix("pub use ").and_then(|line| line.split_once("::")) else {
            continue;
        };
        for name in given.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|name| !name.is_empty()) {
            names.insert(name.to_owned(), room.to_owned());
        }
    }
    names
}

/// The rooms that a file names, so many steps below the root. What stands in its tests is left out.
fn imports(text: &str, steps: usize, names: &BTreeMap<String, String>) -> BTreeSet<String> {
    let text = without_tests(text);
    let text: Vec<&str> = text.lines().map(|line| line.split("//").next().unwrap_or_default()).collect();
    let text = text.join("\n");
    let up = "super::".repeat(steps);
    let mut found = BTreeSet::new();
    for root in ["crate::", up.as_str()] {
        for (at, _) in text.match_indices(root) {
            let before = text.get(..at).unwrap_or_default();
            if before.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == ':') {
                continue;
            }
            found.extend(firsts(text.get(at + root.len()..).unwrap_or_default()));
        }
    }
    // A longer chain of `super` is another root, and is found by itself.
    found.remove("super");
    found.into_iter().map(|name| names.get(&name).cloned().unwrap_or(name)).collect()
}

/// The first part of a path, or of every path in a group: `a` of `a::{b, c}`, `a` and `b` of `{a::x, b}`.
fn firsts(path: &str) -> Vec<String> {
    let word = |text: &str| {
        text.trim().split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or_default().to_owned()
    };
    let Some(group) = path.strip_prefix('{') else { return vec![word(path)] };
    let (mut depth, mut parts) = (0_usize, vec![String::new()]);
    for sign in group.chars() {
        match sign {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => parts.push(String::new()),
            _ if depth == 0 => parts.last_mut().unwrap().push(sign),
            _ => {}
        }
    }
    parts.iter().map(|part| word(part)).filter(|part| !part.is_empty()).collect()
}

/// A text without the modules that are compiled for tests only; such a module ends at a brace in the first column.
fn without_tests(text: &str) -> String {
    let (mut kept, mut inside) = (String::new(), false);
    let mut lines = text.lines().peekable();
    while let Some(line) = lines.next() {
        let next = lines.peek().copied().unwrap_or_default();
        inside = inside || (line == "#[cfg(test)]" && next.starts_with("mod ") && next.ends_with('{'));
        if !inside {
            kept.push_str(line);
            kept.push('\n');
        }
        inside = inside && line != "}";
    }
    kept
}
