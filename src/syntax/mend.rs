//! Small edits that would make a line readable. Each is tried before it is offered.

use crate::diagnostic::{Edit, Fix, Safety, Span};

use super::brackets::{Fault, partner};
use super::grammar::{Rule, reads};
use super::keywords;
use super::reader::Reader;
use super::tree::Body;
use crate::stitch::{Stitches, Terms};

/// Words of the notation inside a line, for "did you mean".
const INNER_WORDS: &[&str] = &[
    "times", "together", "next", "last", "first", "same", "ring", "each", "from", "hook", "skip", "leave", "rest",
    "turn", "turning", "mark", "change", "fasten", "rejoin", "close", "with", "below", "rows", "lead", "none", "other",
    "side", "until", "joined", "edge", "over", "make", "rounds", "spiral", "stitches", "chains", "takes", "makes",
    "weight", "move", "end",
];

/// Words that a step begins with beside the names of stitches.
const FIRST_WORDS: &[&str] = &[
    "ch", "skip", "leave", "turn", "turning", "mark", "change", "fasten", "rejoin", "close", "move", "lead", "no",
    "other", "in", "blo", "flo", "join", "sk",
];

/// Words that the full name of a stitch goes on with.
const NAME_WORDS: &[&str] =
    &["crochet", "double", "treble", "half", "post", "stitch", "decrease", "dec", "increase", "together"];

/// The longest full name of a stitch has so many words before its last one.
const MOST_IN_A_NAME: usize = 4;

/// In longer lines no place for a bracket is looked for, since every place is tried.
const LONGEST_TRIED: usize = 400;

/// The place for a bracket is shown by so many words beside it.
const MOST_WORDS_SHOWN: usize = 2;

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
        // A word that is no stitch and no word of the notation begins no step.
        let steps = rule == Rule::work_line || rule == Rule::steps_line;
        if steps && word.starts_with(char::is_alphabetic) && !self.is_known(word) {
            return None;
        }
        let signs = [(",", "a comma"), (" =", "`=`"), (" to", "`to`")];
        let (sign, name) =
            signs.into_iter().find(|(sign, _)| !word.is_empty() && self.reads_with(rule, line, &[(place, sign)]))?;
        Some(Fix::change(format!("put {name} before it"), place, sign))
    }

    /// `singel crochet`: a full name that is nearly one of the trade's.
    pub fn full_name_fix(&self, rule: Rule, line: Span, span: Span) -> Option<Fix> {
        let word = self.slice(span);
        let of_a_name = NAME_WORDS.iter().any(|known| known.eq_ignore_ascii_case(word));
        if !of_a_name && keywords::nearest(word, NAME_WORDS.iter().copied()).is_none() {
            return None;
        }
        let stitches = Stitches::standard();
        let before = self.slice(Span::new(line.start, span.start));
        let starts: Vec<usize> = before
            .split([',', '[', '(', ';'])
            .next_back()?
            .split_whitespace()
            .rev()
            .take(MOST_IN_A_NAME)
            .scan(before.len(), |at, word| {
                *at = before.get(..*at)?.rfind(word)?;
                Some(line.start + *at)
            })
            .collect();
        starts.into_iter().rev().find_map(|start| {
            let place = Span::new(start, span.end);
            let written = self.slice(place);
            let near = [Terms::Us, Terms::Uk].into_iter().find_map(|terms| stitches.nearest(written, terms));
            let near = near.filter(|near| near.contains(' ') && self.reads_with(rule, line, &[(place, near)]))?;
            Some(Fix::spelling(format!("did you mean `{near}`?"), place, near))
        })
    }

    /// Whether a step can begin with a word.
    pub fn is_known(&self, word: &str) -> bool {
        let stitches = Stitches::standard();
        let small = word.to_lowercase();
        let trade = [Terms::Us, Terms::Uk].into_iter().any(|terms| stitches.find(word, terms).is_some());
        trade || self.names.own_stitches.contains(&small) || FIRST_WORDS.contains(&small.as_str())
    }

    /// Whether steps can be read at all, whatever is to be said of them.
    pub fn reads_as_steps(&self, steps: &str) -> bool {
        reads(Rule::work_line, steps)
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
        good.take(MOST_OFFERED).map(|(span, text)| self.bracket_fix(line, span, text)).collect()
    }

    /// Names the place by the words beside it, so that two places can be told apart.
    fn bracket_fix(&self, line: Span, span: Span, text: String) -> Fix {
        let closes = text == ")" || text == "]" || text == "}";
        let title = if text.is_empty() {
            "take it away".to_owned()
        } else if span.start < span.end {
            format!("`{}` to `{text}`", self.slice(span))
        } else if closes {
            let before = self.slice(Span::new(line.start, span.start));
            let words: Vec<&str> = before.split_whitespace().rev().take(MOST_WORDS_SHOWN).collect();
            format!("put `{text}` after `{}`", words.into_iter().rev().collect::<Vec<_>>().join(" "))
        } else {
            let after = self.slice(Span::new(span.start, line.end));
            let words: Vec<&str> = after.split_whitespace().take(MOST_WORDS_SHOWN).collect();
            format!("put `{text}` before `{}`", words.join(" "))
        };
        Fix { title, edits: vec![Edit { span, text }], safety: Safety::ChangesFabric }
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
        let mut probe = Reader { way: self.way, probing: true, ..Reader::new(steps, steps, self.names.clone()) };
        let body = probe.body(Span::new(0, steps.len()), &mut None);
        body != Body::Unread && probe.findings.is_empty()
    }
}
