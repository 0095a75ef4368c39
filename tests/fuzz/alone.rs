//! The long run without a fuzzer beside it: patterns that are there, changed at random, and patterns put together at random. Nothing may
//! panic; what takes long or much memory is kept, to be looked at command by command.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::time::{Duration, Instant};

use super::{assemble, commands, everything};

/// What one run may take of a processor, and of memory in kilobytes, before it is kept.
const LONG: Duration = Duration::from_secs(2);
const LARGE: u64 = 300_000;

/// What was seen.
#[derive(Debug, Default)]
pub struct Seen {
    pub runs: u64,
    pub by_way: [u64; 4],
    pub panics: u64,
    pub long: u64,
    pub large: u64,
    pub busy: Duration,
    pub longest: Duration,
    pub largest: u64,
}

/// Runs for so long, from texts that are there; what is found goes into a folder. The first number decides what is tried.
pub fn run(texts: &[String], first: u64, time: Duration, folder: &Path) -> Seen {
    let mut chance = Chance(first.max(1));
    let mut seen = Seen::default();
    let begun = Instant::now();
    let _ = fs::create_dir_all(folder);
    while begun.elapsed() < time {
        let way = usize::try_from(chance.below(4)).unwrap_or(0);
        let bytes: Vec<u8> = (0..chance.below(400)).map(|_| chance.byte()).collect();
        let text = if way == 0 { assemble::pattern(&bytes) } else { changed(texts, &mut chance) };
        // What ends the whole run stands here.
        let _ = fs::write(folder.join("now.rnd"), &text);
        let _ = fs::write(folder.join("now.bytes"), &bytes);
        let _ = fs::write("/proc/self/clear_refs", "5");
        let before = busy();
        let held = catch_unwind(AssertUnwindSafe(|| match way {
            0 | 1 => everything::everything(&text),
            2 => commands::commands(&text, &bytes[..bytes.len().min(36)]),
            _ => drop(ringtrue::mend::compile_and_mend(&text)),
        }));
        seen.took(way, busy().saturating_sub(before), most_memory());
        let mut why = Vec::new();
        if held.is_err() {
            seen.panics += 1;
            why.push("panic");
        }
        if busy().saturating_sub(before) > LONG {
            seen.long += 1;
            why.push("long");
        }
        if most_memory() > LARGE {
            seen.large += 1;
            why.push("large");
        }
        if !why.is_empty() {
            let name = format!("{}-{way}-{}", seen.runs, why.join("-"));
            let _ = fs::write(folder.join(format!("{name}.rnd")), &text);
            let _ = fs::write(folder.join(format!("{name}.bytes")), &bytes);
        }
        if seen.runs % 50 == 0 {
            let _ = fs::write(folder.join("seen.txt"), format!("{seen:?}\n"));
        }
    }
    let _ = fs::write(folder.join("seen.txt"), format!("{seen:?}\n"));
    seen
}

impl Seen {
    fn took(&mut self, way: usize, time: Duration, memory: u64) {
        self.runs += 1;
        self.by_way[way] += 1;
        self.busy += time;
        self.longest = self.longest.max(time);
        self.largest = self.largest.max(memory);
    }
}

/// A text with some of its lines taken away, swapped, said again, cut, taken from another text, or with another number.
fn changed(texts: &[String], chance: &mut Chance) -> String {
    let mut lines: Vec<String> = chance.one_of(texts).lines().map(str::to_owned).collect();
    for _ in 0..=chance.below(4) {
        if lines.is_empty() {
            break;
        }
        let (at, other) = (chance.place(lines.len()), chance.place(lines.len()));
        match chance.below(8) {
            0 => drop(lines.remove(at)),
            1 => lines.swap(at, other),
            2 => lines.insert(other, lines[at].clone()),
            3 => lines[at] = lines[at].chars().take(other).collect(),
            4 => {
                let from: Vec<&str> = chance.one_of(texts).lines().collect();
                let line = if from.is_empty() { "" } else { from[chance.place(from.len())] };
                lines.insert(at, line.to_owned());
            }
            5 | 6 => lines[at] = with_number(&lines[at], chance),
            _ => lines[at] = with_word(&lines[at], chance),
        }
    }
    lines.join("\n") + "\n"
}

/// One of the numbers of a line becomes another, up to the largest that may be written.
fn with_number(line: &str, chance: &mut Chance) -> String {
    let begins: Vec<usize> = line.match_indices(|c: char| c.is_ascii_digit()).map(|(at, _)| at).collect();
    if begins.is_empty() {
        return line.to_owned();
    }
    let (before, rest) = line.split_at(begins[chance.place(begins.len())]);
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let most = [3, 30, 3_000, 1_000_001][chance.place(4)];
    format!("{before}{}{}", chance.below(most), &rest[end..])
}

/// One of the words of a line goes, is said twice, or becomes one that the notation knows.
fn with_word(line: &str, chance: &mut Chance) -> String {
    const WORDS: [&str; 12] =
        ["sc", "to end", "other side", "ch 5", "[", "]", "2 times", "turn", "= 12", "in same", "skip 3", ","];
    let mut words: Vec<&str> = line.split(' ').collect();
    let at = chance.place(words.len());
    match chance.below(3) {
        0 => drop(words.remove(at)),
        1 => words.insert(at, words[at]),
        _ => words.insert(at, WORDS[chance.place(WORDS.len())]),
    }
    words.join(" ")
}

/// How long this run was busy.
fn busy() -> Duration {
    let read = fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    Duration::from_nanos(read.split(' ').next().and_then(|first| first.parse().ok()).unwrap_or(0))
}

/// The most memory that was held since it was last asked to forget, in kilobytes.
fn most_memory() -> u64 {
    let read = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = read.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()?.parse().ok()).unwrap_or(0)
}

/// Numbers that look like chance and come again.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, most: u64) -> u64 {
        self.next() % most.max(1)
    }

    fn place(&mut self, many: usize) -> usize {
        usize::try_from(self.below(u64::try_from(many).unwrap_or(1))).unwrap_or(0)
    }

    fn byte(&mut self) -> u8 {
        self.next().to_le_bytes()[0]
    }

    fn one_of<'t, T>(&mut self, all: &'t [T]) -> &'t T {
        let at = self.place(all.len());
        &all[at]
    }
}
