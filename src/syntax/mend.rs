//! Small edits that would make a line readable. Each is tried before it is offered.

use crate::diagnostic::{Edit, Fix, Safety, Span};

use super::brackets::{Fault, partner};
use super::grammar::{Rule, reads};
use super::keywords;
use super::reader::Reader;
use super::tree::Body;

/// Words of the notation inside a line, for "did you mean".
const INNER_WORDS: &[&str] = &[
    "times", "together", "next", "last", "first", "same", "ring", "each", "from", "hook", "skip", "leave", "rest",
    "turn", "turning", "mark", "change", "fasten", "rejoin", "close", "with", "below", "rows", "lead", "none", "other",
    "side", "until", "joined", "edge", "over", "make", "rounds", "spiral", "stitches", "chains", "takes", "makes",
    "weight", "move", "end",
];

/// In longer lines no place for a bracket is looked for, since every place is tried.
const LONGEST_TRIED: usize = 400;

/// At most so many places for a bracket are offered.
const MOST_OFFERED: usize = 2;

impl Reader<'_> {
    /// A word of the notation that is nearly the one that can't be read, or a sign before it: whichever makes the
    /// line readable.
    pub fn near_fix(&self, rule: Rule, line: Span, span: Span, word: &str) -> Option<Fix> {
        let near = keywords::nearest(word, INNER_WORDS.iter().copied());
        if let Some(near) = near.filter(|near| self.reads_with(rule, line, &[(span, near)])) {
            return Some(Fix::spelling(format!("did you mean `{near}`?"), span, near));
        }
        let gap = self.trim_end(line.start, span.start);
        let place = Span::new(gap, gap);
        let signs = [(",", "a comma"), (" =", "`=`"), (" to", "`to`")];
        let (sign, name) =
            signs.into_iter().find(|(sign, _)| !word.is_empty() && self.reads_with(rule, line, &[(place, sign)]))?;
        Some(Fix::change(format!("put {name} before it"), place, sign))
    }

    /// Ways to give a bracket its partner.
    pub fn bracket_fixes(&self, rule: Rule, line: Span, fault: Fault) -> Vec<Fix> {
        if self.probing || line.end - line.start > LONGEST_TRIED {
            return Vec::new();
        }
        let at = |place: usize| Span::new(line.start + place, line.start + place + 1);
        let candidates: Vec<(Span, String)> = match fault {
            Fault::Open(place, sort) => {
                let ends = self.word_ends(Span::new(line.start + place + 1, line.end));
                ends.map(|end| (end, partner(sort).to_string())).collect()
            }
            Fault::Closed(place, sort) => {
                let surplus = (at(place), String::new());
                let starts = self.word_starts(Span::new(line.start, line.start + place));
                std::iter::once(surplus).chain(starts.map(|start| (start, partner(sort).to_string()))).collect()
            }
            Fault::Crossed(start, sort, place, other) => {
                vec![(at(place), partner(sort).to_string()), (at(start), partner(other).to_string())]
            }
            Fault::Deep(_) => Vec::new(),
        };
        let good = candidates.into_iter().filter(|(span, text)| self.reads_with(rule, line, &[(*span, text)]));
        good.take(MOST_OFFERED).map(|(span, text)| bracket_fix(span, text)).collect()
    }

    /// Places where a word, a number or a bracket ends.
    fn word_ends(&self, span: Span) -> impl Iterator<Item = Span> + '_ {
        let slice = self.slice(span);
        slice.char_indices().filter_map(move |(at, c)| {
            let end = at + c.len_utf8();
            let next = slice.get(end..).and_then(|rest| rest.chars().next());
            let ends = next.is_none_or(|n| n.is_whitespace() || ",;)]=".contains(n));
            (ends && !c.is_whitespace() && !",;".contains(c)).then(|| Span::new(span.start + end, span.start + end))
        })
    }

    /// Places where a word, a number or a bracket begins.
    fn word_starts(&self, span: Span) -> impl Iterator<Item = Span> + '_ {
        let slice = self.slice(span);
        slice.char_indices().filter_map(move |(at, c)| {
            let last = slice.get(..at).and_then(|before| before.chars().next_back());
            let begins = last.is_none_or(char::is_whitespace) && !c.is_whitespace();
            begins.then(|| Span::new(span.start + at, span.start + at))
        })
    }

    /// Whether a line can be read without a finding after an edit.
    fn reads_with(&self, rule: Rule, line: Span, edits: &[(Span, &str)]) -> bool {
        let mut out = String::new();
        let mut at = line.start;
        for (span, text) in edits {
            out.push_str(self.slice(Span::new(at, span.start)));
            out.push_str(text);
            at = span.end;
        }
        out.push_str(self.slice(Span::new(at, line.end)));
        if rule == Rule::work_line { self.works(&out) } else { reads(rule, &out) }
    }

    /// Whether steps can be read without a finding.
    pub fn works(&self, steps: &str) -> bool {
        let mut probe = Reader {
            text: steps,
            masked: steps,
            findings: Vec::new(),
            way: self.way,
            own_stitches: self.own_stitches.clone(),
            set_names: Vec::new(),
            in_group: false,
            probing: true,
            tokens: None,
        };
        let body = probe.body(Span::new(0, steps.len()), &mut None);
        body != Body::Unread && probe.findings.is_empty()
    }
}

fn bracket_fix(span: Span, text: String) -> Fix {
    let title = if text.is_empty() { "take it away".to_owned() } else { format!("put `{text}` here") };
    Fix { title, edits: vec![Edit { span, text }], safety: Safety::ChangesFabric }
}
