//! A yarn that print names beside what is worked in it: `(B) sc 6`, `B: sc 6`, `with B, sc 6`, `sc 6 with B`.

use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};

use super::codes;
use super::reader::Reader;

/// Words before the name of a yarn (common practice, no source).
const BEFORE: &[&str] = &["with ", "w/ ", "in ", "using ", "use ", "change to ", "join "];

/// Words behind it.
const BEHIND: &[&str] = &["yarn", "color", "colour"];

/// What print calls a yarn whose colour the maker chooses: the main one, and those beside it (common practice, no source).
const OF_PRINT: &[&str] = &["mc", "cc", "cc1", "cc2", "cc3", "c1", "c2", "c3"];

/// A maker is asked which of so many yarns is meant at most.
const MOST_ASKED: usize = 3;

/// A yarn beside its steps.
struct Found {
    /// What print has there, with the blanks that go with it.
    written: Span,
    /// Where the first step begins that is worked in it.
    step: Span,
    name: String,
}

impl Reader<'_> {
    /// Says how the yarns of a line are written, where it names them in another way and can be read with `change to`.
    pub fn yarn_beside(&self, steps: Span) -> Option<Diagnostic> {
        if self.probing {
            return None;
        }
        let found = self.beside(steps);
        let first = found.first()?;
        let place = self.trim(first.written);
        let unlisted: Vec<&str> =
            found.iter().map(|found| found.name.as_str()).filter(|name| !self.is_yarn(name)).collect();
        let message = format!("`{}` names a yarn, and no step", self.slice(place));
        let said = Diagnostic::error(codes::SPELLING, message, place, format!("is it `change to {}`?", first.name));
        if let Some(name) = unlisted.first() {
            return self.of_print(said, &found, name, steps);
        }
        let fix = self.changes(&found, str::to_owned);
        self.reads_after(&fix, steps).then(|| {
            let mut said = said;
            said.primary.text = format!("here it is written `change to {}`", first.name);
            said.with_fix(Fix { title: self.titled(&fix, steps), ..fix })
        })
    }

    /// `MC` where the yarns have other names: it is one of them, if there are few.
    fn of_print(&self, said: Diagnostic, found: &[Found], name: &str, steps: Span) -> Option<Diagnostic> {
        let listed = self.listed_yarns();
        let of =
            |yarn: &str| self.changes(found, |other| if other == name { yarn.to_owned() } else { other.to_owned() });
        let probe = of(listed.first().map_or("A", String::as_str));
        if !self.reads_after(&probe, steps) {
            return None;
        }
        let help = match listed.as_slice() {
            [] => format!("list it in the head, as `yarn {name} \"its colour\", weight 4`"),
            listed => {
                format!("the yarns are {}: write `change to`, and the one that is meant", crate::words::list(listed))
            }
        };
        let mut said = said.with_help(help);
        "which yarn is it?".clone_into(&mut said.primary.text);
        let fixes = listed.iter().take(MOST_ASKED).map(|yarn| {
            let fix = of(yarn);
            Fix { title: self.titled(&fix, steps), safety: Safety::ChangesFabric, ..fix }
        });
        Some(fixes.fold(said, Diagnostic::with_fix))
    }

    /// `change to B, ` before the steps.
    fn changes(&self, found: &[Found], name: impl Fn(&str) -> String) -> Fix {
        let mut edits: Vec<Edit> = Vec::new();
        for yarn in found {
            let text = format!("change to {}, ", name(&yarn.name));
            if yarn.written == yarn.step {
                edits.push(Edit { span: yarn.written, text });
            } else {
                edits.push(Edit { span: yarn.step, text });
                edits.push(Edit { span: yarn.written, text: String::new() });
            }
        }
        Fix { title: String::new(), edits, safety: Safety::KeepsFabric }
    }

    fn reads_after(&self, fix: &Fix, steps: Span) -> bool {
        self.works(&self.changed(fix, steps))
    }

    fn titled(&self, fix: &Fix, steps: Span) -> String {
        format!("write `{}`", self.changed(fix, steps).split_whitespace().collect::<Vec<_>>().join(" "))
    }

    fn changed(&self, fix: &Fix, steps: Span) -> String {
        let back = |span: Span| Span::new(span.start - steps.start, span.end - steps.start);
        let edits = fix.edits.iter().map(|edit| Edit { span: back(edit.span), text: edit.text.clone() }).collect();
        Fix { title: String::new(), edits, safety: fix.safety }.apply(self.slice(steps))
    }

    /// The yarns that a stretch of steps names beside them.
    fn beside(&self, steps: Span) -> Vec<Found> {
        let mut all = Vec::new();
        let mut at = steps.start;
        for part in self.slice(steps).split([',', '[', ']', ';']) {
            let span = Span::new(at, at + part.len());
            at = span.end + 1;
            all.extend(self.before_step(span).or_else(|| self.behind_step(span)));
        }
        // A yarn with a comma behind it is a part of its own, which ends where the next one begins.
        for found in &mut all {
            let rest = self.slice(Span::new(found.written.end, steps.end));
            let more = rest.len() - rest.trim_start_matches([',', ':', ' ']).len();
            if found.written == found.step && rest.starts_with([',', ':']) {
                found.written.end += more;
                found.step = found.written;
            }
        }
        all
    }

    /// `(B) sc 6`, `B: sc 6`, `with B sc 6`, and each of them alone.
    fn before_step(&self, part: Span) -> Option<Found> {
        let words = self.slice(part);
        let begin = words.len() - words.trim_start().len();
        let rest = words.get(begin..)?;
        let small = rest.to_ascii_lowercase();
        let word = BEFORE.iter().find(|word| small.starts_with(**word));
        let opened = rest.strip_prefix('(');
        let bare = opened.is_none() && word.is_none();
        let from = word.map_or(usize::from(opened.is_some()), |word| word.len());
        let name = yarn_word(rest.get(from..)?)?;
        let mut end = from + name.len();
        let mut behind = rest.get(end..)?;
        if let Some(more) = BEHIND.iter().find(|more| behind.trim_start().to_ascii_lowercase().starts_with(**more)) {
            end += behind.len() - behind.trim_start().len() + more.len();
            behind = rest.get(end..)?;
        }
        if opened.is_some() {
            behind = behind.strip_prefix(')')?;
            end += 1;
        }
        let colon = behind.starts_with(':');
        let change = word.is_some_and(|word| word.starts_with("change"));
        // A letter alone is a yarn only where something sets it off; `in B` is a mark where one is called so.
        let mark = self.names.marks.contains(&name.to_lowercase());
        if !self.names_yarn(name) || bare && !colon && name.len() < 2 || mark && !colon || change && !colon {
            return None;
        }
        let after = behind.trim_start_matches([':', ' ']);
        let cut = end + behind.len() - after.len();
        let start = part.start + begin;
        // `in B` is what a step goes into where one stands before it.
        let written = Span::new(start, start + cut);
        Some(Found { written, step: written, name: name.to_owned() })
    }

    /// `sc 6 with B`.
    fn behind_step(&self, part: Span) -> Option<Found> {
        let words = self.slice(part);
        let at = words.to_ascii_lowercase().rfind(" with ")?;
        let name = yarn_word(words.get(at + " with ".len()..)?)?;
        let end = at + " with ".len() + name.len();
        let alone = words.get(end..)?.trim().is_empty();
        if !alone || !self.names_yarn(name) {
            return None;
        }
        let begin = part.start + words.len() - words.trim_start().len();
        let written = Span::new(part.start + at, part.start + end);
        Some(Found { written, step: Span::new(begin, begin), name: name.to_owned() })
    }

    fn names_yarn(&self, name: &str) -> bool {
        self.is_yarn(name) || OF_PRINT.contains(&name.to_lowercase().as_str()) && !self.is_known(name)
    }

    fn is_yarn(&self, name: &str) -> bool {
        self.names.yarns.contains(&name.to_lowercase())
    }

    /// The yarns of the head as they are written there.
    fn listed_yarns(&self) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for line in self.text.lines() {
            let Some((word, rest)) = line.trim_start().split_once(' ') else { continue };
            let Some(name) = yarn_word(rest.trim_start()).filter(|_| word.eq_ignore_ascii_case("yarn")) else {
                continue;
            };
            if self.is_yarn(name) && !all.iter().any(|known| known == name) {
                all.push(name.to_owned());
            }
        }
        all
    }

    /// `rnd 3 (B):`, the yarn in the label.
    pub fn yarn_in_label(&self, after: Span) -> Option<Diagnostic> {
        let rest = self.slice(after);
        let open = rest.find('(')?;
        let name = yarn_word(rest.get(open + 1..)?)?;
        let end = open + 1 + name.len();
        let tail = rest.get(end..)?.strip_prefix(')')?;
        let number = rest.get(..open)?.trim();
        let plain = !number.is_empty() && number.chars().all(|c| c.is_ascii_digit() || "-– ".contains(c));
        let steps = tail.trim_start().strip_prefix(':')?;
        if !plain || !self.is_yarn(name) {
            return None;
        }
        let from = after.start + rest.get(..open)?.trim_end().len();
        let cut = Span::new(from, after.end - steps.trim_start().len());
        let place = Span::new(after.start + open, after.start + end + 1);
        let better = format!(": change to {name}, ");
        let label = format!("here it is written `change to {name}` as the first step");
        let fix = Fix::spelling(format!("`({name})` to `change to {name}`"), cut, better);
        Some(
            Diagnostic::error(codes::SPELLING, format!("`({name})` names a yarn, and no side"), place, label)
                .with_fix(fix),
        )
    }
}

/// The word that a yarn may be called by.
fn yarn_word(text: &str) -> Option<&str> {
    let end = text.find(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_')).unwrap_or(text.len());
    text.get(..end).filter(|word| !word.is_empty())
}
