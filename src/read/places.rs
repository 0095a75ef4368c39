//! Where a stitch goes, from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::lexicon::is_number;
use super::told::{Result, Teller, Unread, amount};

/// Where stitches go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Target {
    /// The next so many places, of a kind or of any.
    Some(String, Option<String>),
    /// Every place, so far.
    Till(String),
    /// Every place of a kind, so far.
    Each(String, String),
    /// One place.
    In(String),
}

/// Where stitches go, into which loop, and how far below.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Place {
    pub target: Target,
    /// `blo ` or `flo `.
    pub loop_only: &'static str,
    /// ` 2 rows below`.
    pub below: String,
    /// Whether it is said that the hook goes round a post.
    pub around_post: bool,
}

impl Target {
    /// So many stitches there.
    pub fn worked(&self, each: &str, stitch: &str) -> String {
        let several = if each == "1" { String::new() } else { format!("{each} ") };
        let next = format!("{several}{stitch} in next");
        match self {
            Self::Some(number, kind) => {
                let of = kind.as_ref().map(|kind| format!(" {kind}")).unwrap_or_default();
                match (each == "1", number == "1", kind) {
                    (true, true, None) => stitch.to_owned(),
                    (true, false, None) => format!("{stitch} {number}"),
                    (true, false, Some(_)) => format!("{stitch} in next {number}{of}"),
                    (_, true, _) => format!("{next}{of}"),
                    (false, false, _) => format!("[{next}{of}] {number} times"),
                }
            }
            Self::Till(till) if each == "1" => format!("{stitch} {till}"),
            Self::Till(till) => format!("[{next}] {till}"),
            Self::Each(kind, till) => format!("{several}{stitch} in each {kind} {till}"),
            Self::In(place) => format!("{several}{stitch} in {place}"),
        }
    }

    /// A group of stitches there.
    pub fn group(&self, steps: &str) -> String {
        let next = |kind: &Option<String>| {
            let of = kind.as_ref().map(|kind| format!(" {kind}")).unwrap_or_default();
            format!("({steps}) in next{of}")
        };
        match self {
            Self::Some(number, kind) if number == "1" => next(kind),
            Self::Some(number, kind) => format!("[{}] {number} times", next(kind)),
            Self::Till(till) => format!("[{}] {till}", next(&None)),
            Self::Each(kind, till) => format!("({steps}) in each {kind} {till}"),
            Self::In(place) => format!("({steps}) in {place}"),
        }
    }

    /// What is passed over.
    pub fn skipped(&self) -> Result {
        match self {
            Self::Some(number, None) => Ok(format!("skip {number}")),
            Self::Some(number, Some(kind)) if number == "1" => Ok(format!("skip next {kind}")),
            Self::Some(number, Some(kind)) => Ok(format!("skip next {number} {kind}")),
            Self::In(place) if place == "last" || place == "first" => Ok("skip 1".to_owned()),
            Self::In(_) | Self::Till(_) | Self::Each(..) => Err(Unread::new("what is skipped")),
        }
    }
}

impl Teller<'_> {
    /// `in next 4 sts`, `around each dc`, `in back loop only of next st 2 rnds below`.
    pub(super) fn whereto(&mut self, pair: Pair<'_, Rule>) -> Result<Place> {
        let mut place =
            Place { target: Target::Some("1".into(), None), loop_only: "", below: String::new(), around_post: false };
        let mut crossing = None;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::hook_in | Rule::loop_after => {
                    place.around_post |= part.as_str().contains("post");
                    place.loop_only = which_loop(part).unwrap_or(place.loop_only);
                }
                Rule::target => place.target = self.target(part)?,
                Rule::of_row => {
                    let number = part.into_inner().next().map(|number| amount(&number)).unwrap_or_default();
                    if self.into_row.as_ref().is_some_and(|other| *other != number) {
                        return Err(Unread::new("stitches of several rounds"));
                    }
                    self.into_row = Some(number);
                }
                Rule::below => {
                    let number = part.into_inner().next().map(|number| number.as_str().to_owned());
                    place.below = format!(" {} {} below", number.unwrap_or_default(), self.rows_word());
                }
                Rule::crossing => {
                    let front = part.into_inner().any(|side| side.as_rule() == Rule::in_front);
                    crossing = Some(if front { " in front" } else { " behind" });
                }
                _ => {}
            }
        }
        // Where the row below has no such stitch, the one that is named is further down.
        let stitch = |kind: &str| self.under.split(|c: char| !c.is_alphanumeric()).any(|word| word == kind);
        let there = |kind: &String| match kind.strip_suffix(" sp") {
            Some(chains) => self.under.contains(&chains.replace('-', " ")),
            None => stitch(kind),
        };
        if let (false, Target::Some(_, kind)) = (place.below.is_empty() || self.under.is_empty(), &mut place.target)
            && !kind.as_ref().is_none_or(there)
        {
            *kind = None;
        }
        if let (Some(crossing), Target::In(at)) = (crossing, &mut place.target) {
            at.push_str(crossing);
        }
        Ok(place)
    }

    fn rows_word(&self) -> &'static str {
        if self.round { "rnds" } else { "rows" }
    }

    pub(super) fn target(&mut self, pair: Pair<'_, Rule>) -> Result<Target> {
        let Some(inner) = pair.into_inner().next() else { return Err(Unread::new("a place")) };
        let rule = inner.as_rule();
        let words = inner.as_str().to_owned();
        let parts: Vec<Pair<'_, Rule>> = inner.into_inner().collect();
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
        let which = parts.iter().find(|part| part.as_rule() == Rule::which).map(Pair::as_str);
        let begun = std::mem::replace(&mut self.begun, true);
        let corner = self.begins_at.take();
        let is = |place: &str| Ok(Target::In(place.to_owned()));
        match rule {
            Rule::each_till => self.each_till(&parts),
            Rule::each_of_next | Rule::next_some => Ok(Target::Some(number.unwrap_or_default(), self.kind_of(&parts)?)),
            Rule::next_one
                if self.between && words.ends_with(" sp") && !words.contains("ch") && !words.contains("same") =>
            {
                self.between_groups()
            }
            Rule::next_one => {
                let kind = self.kind_of(&parts);
                self.next_one(which, kind, corner, begun)
            }
            Rule::space_of => self.space_of(&parts, &words),
            Rule::began_place => is("first"),
            Rule::gap => is(if words.contains("between first 2 ") { "first gap" } else { "next gap" }),
            Rule::just_made => Ok(Target::In(format!("{} just made", self.kind_of(&parts)?.unwrap_or("st".into())))),
            Rule::between_groups => {
                // The gap is reached past the last stitch of the group.
                self.between = true;
                self.between_groups()
            }
            // The chain's first place, in which an oval began.
            Rule::same_as_first => Ok(Target::Some("1".into(), None)),
            Rule::corner_place => self.corner_place(&words),
            Rule::skipped_each => Ok(Target::In(format!("{} skipped", number.unwrap_or_default()))),
            Rule::skipped_one => is("skipped"),
            Rule::marked_place => Ok(Target::In(mark_name(&parts)?)),
            // Where the chain stands that the line begins with: before anything else, the hook is there.
            Rule::own_top if words.starts_with("same") && !self.beyond && !begun => is("same"),
            Rule::own_top => is("lead"),
            Rule::ring => Ok(self.ring_or_loop(words.trim() == "loop", begun)),
            Rule::from_hook => Ok(Target::In(format!("{} ch from hook", first_text(&parts)))),
            Rule::chain_of => Ok(Target::In(chain_of(&first_text(&parts), self.kind_of(&parts)?))),
            Rule::nth_place => {
                Ok(Target::In(format!("{} {}", first_text(&parts), self.kind_of(&parts)?.unwrap_or("st".into()))))
            }
            Rule::nth_after => {
                let before: u32 = number.as_deref().unwrap_or("1").parse().map_err(|_| Unread::new("a number"))?;
                Ok(Target::In(format!("{} {}", ordinal(before + 1), self.kind_of(&parts)?.unwrap_or("st".into()))))
            }
            Rule::name_one => Ok(Target::Some("1".into(), self.kind_of(&parts)?)),
            _ => Err(Unread::new(&words)),
        }
    }

    /// `next st`, `last dc`, `same st`.
    fn next_one(
        &mut self,
        which: Option<&str>,
        kind: Result<Option<String>>,
        corner: Option<String>,
        begun: bool,
    ) -> Result<Target> {
        let is = |place: &str| Ok(Target::In(place.to_owned()));
        match which {
            // The corner by its name is only worked into; spoken of as a place, the round was moved there.
            None if corner.is_some() && kind.as_ref().is_ok_and(|kind| *kind == corner) => {
                Ok(Target::Some("1".into(), corner))
            }
            None => {
                self.moved_to = corner.or(self.moved_to.take());
                is("same")
            }
            Some("last") => match kind? {
                Some(kind) if kind != "st" => Ok(Target::In(format!("last {kind}"))),
                _ => is("last"),
            },
            Some("rem") => Ok(Target::Till("to end".to_owned())),
            Some("first") if begun => match kind? {
                // The first space is the next one behind stitches; where the line has been in one, it is that at its beginning.
                Some(kind) if !self.in_space && kind.starts_with("ch") && kind.ends_with("sp") => {
                    Ok(Target::Some("1".into(), Some(kind)))
                }
                _ => is("first"),
            },
            Some(_) => Ok(Target::Some("1".into(), kind?)),
        }
    }

    /// `ch-1 sp of next V-st`, `sp of same shell`.
    fn space_of(&self, parts: &[Pair<'_, Rule>], words: &str) -> Result<Target> {
        let space = parts.iter().find(|part| part.as_rule() == Rule::space).map(|space| space.as_str().to_owned());
        if words.contains("last") {
            return Err(Unread::new("the space of the last"));
        }
        Ok(Target::Some("1".into(), Some(space.unwrap_or("ch sp".into()))))
    }

    /// The kind of place that is named last; nothing for whatever comes.
    fn kind_of(&self, parts: &[Pair<'_, Rule>]) -> Result<Option<String>> {
        let kind = parts.iter().rev().find(|part| matches!(part.as_rule(), Rule::noun | Rule::kind));
        kind.map_or(Ok(None), |kind| self.noun(kind))
    }

    /// `next corner`, `each corner`, `same corner`.
    fn corner_place(&self, words: &str) -> Result<Target> {
        let corner = self.corner_there()?;
        Ok(match words.split(' ').next() {
            Some("each") => Target::Each(corner, "to end".to_owned()),
            Some("same") => Target::In("same".to_owned()),
            _ => Target::Some("1".into(), Some(corner)),
        })
    }

    /// The ring; a loop is it only where the line is worked in one. Behind a round that was closed with a tall stitch, the hook is in its last
    /// loop.
    fn ring_or_loop(&self, is_loop: bool, begun: bool) -> Target {
        if is_loop && !begun && self.under.contains("close with ") {
            return Target::In("same".to_owned());
        }
        if is_loop && !self.on_ring {
            return Target::Some("1".into(), Some("ch sp".to_owned()));
        }
        Target::In("ring".to_owned())
    }

    /// The kind of space that corners are: the one that is known, else the only one that the row below has.
    pub(super) fn corner_there(&self) -> Result {
        let chained = self.under.split([',', '[', ']', '(', ')', ';']).map(str::trim);
        let mut chains = chained.filter_map(|step| step.strip_prefix("ch ").filter(|number| is_number(number)));
        let only = chains.next().filter(|first| chains.all(|other| other == *first));
        let only = only.map(|number| format!("ch-{number} sp"));
        self.corner.clone().or(only).ok_or_else(|| Unread::new("the corner"))
    }

    fn between_groups(&mut self) -> Result<Target> {
        let stitches = self.group_of.ok_or_else(|| Unread::new("the space between groups"))?;
        self.passes = stitches.checked_sub(1);
        Ok(Target::In("next gap".to_owned()))
    }

    fn each_till(&mut self, parts: &[Pair<'_, Rule>]) -> Result<Target> {
        let noun =
            parts.iter().find(|part| part.as_rule() == Rule::noun).map(|noun| self.noun(noun)).transpose()?.flatten();
        let till = parts.iter().find(|part| part.as_rule() == Rule::till);
        let till = till.map_or_else(|| Ok("to end".to_owned()), |till| self.till(till))?;
        match noun {
            // What is named is meant, also where more than that remains.
            Some(kind) => Ok(Target::Each(kind, till)),
            _ => Ok(Target::Till(till)),
        }
    }

    /// The kind of a place; nothing for whatever comes.
    pub(super) fn noun(&self, pair: &Pair<'_, Rule>) -> Result<Option<String>> {
        let words = pair.as_str().trim();
        match words {
            "st" | "place" | "rowend" => Ok(None),
            "ch" if self.on_chain => Ok(None),
            "ch" => Ok(Some("ch".to_owned())),
            "sp" | "ch sp" | "loop" | "ch loop" => Ok(Some("ch sp".to_owned())),
            _ if self.loosely && PLAIN.contains(&words.trim_start_matches('~')) => Ok(None),
            _ if words.starts_with("st in") => Err(Unread::new("a stitch by its colour")),
            _ => Ok(Some(words.trim_start_matches('~').replace('_', " "))),
        }
    }

    /// How far.
    pub(super) fn till(&mut self, pair: &Pair<'_, Rule>) -> Result {
        let Some(inner) = pair.clone().into_inner().next() else { return Ok("to end".to_owned()) };
        let parts: Vec<Pair<'_, Rule>> = inner.clone().into_inner().collect();
        match inner.as_rule() {
            Rule::to_last => {
                let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map_or("1".to_owned(), amount);
                let kind = parts
                    .iter()
                    .find(|part| part.as_rule() == Rule::noun)
                    .map(|noun| self.noun(noun))
                    .transpose()?
                    .flatten();
                // How far it is from the last space to the end is said by what follows.
                let several = kind.is_some_and(|kind| {
                    kind.starts_with("ch") && kind.ends_with("sp")
                        || ["shell", "sh", "vst", "v-st", "v", "group", "fan"].contains(&kind.as_str())
                });
                let group = parts.iter().any(|part| part.as_rule() == Rule::group_called);
                if (several || group) && number == "1" {
                    return Ok(format!("to last {REST}"));
                }
                Ok(format!("to last {number}"))
            }
            Rule::to_next if parts.first().is_some_and(|part| part.as_rule() == Rule::the_next_corner) => {
                Ok(format!("to next {}", self.corner_there()?))
            }
            Rule::to_next => {
                let kind = parts.first().map(|kind| self.noun(kind)).transpose()?.flatten();
                Ok(format!("to next {}", kind.unwrap_or("st".into())))
            }
            Rule::to_mark => Ok(format!("to {}", mark_name(&parts)?)),
            Rule::to_corner => Ok("to end".to_owned()),
            Rule::to_turning => Ok("to last 1".to_owned()),
            _ => Err(Unread::new(inner.as_str())),
        }
    }
}

/// Stitches that a text may name where it means whatever stitch comes.
const PLAIN: [&str; 7] = ["sc", "hdc", "dc", "tr", "dtr", "htr", "trtr"];

/// Stands for how many places the steps behind it take.
pub(super) const REST: &str = "?";

pub(super) fn which_loop(pair: Pair<'_, Rule>) -> Option<&'static str> {
    let which = pair.into_inner().find(|part| part.as_rule() == Rule::which_loop)?;
    Some(if which.as_str() == "back" { "blo " } else { "flo " })
}

/// The name of a marked stitch, from “tip”.
pub(super) fn mark_name(parts: &[Pair<'_, Rule>]) -> Result {
    let mark =
        parts.iter().find(|part| part.as_rule() == Rule::marked).ok_or_else(|| Unread::new("a marked stitch"))?;
    Ok(mark.as_str().trim_matches(['“', '”']).to_owned())
}

fn first_text(parts: &[Pair<'_, Rule>]) -> String {
    parts.first().map(|part| part.as_str().to_owned()).unwrap_or_default()
}

fn ordinal(number: u32) -> String {
    let end = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{end}")
}

/// A chain of the next space of a kind, or of the same one.
fn chain_of(number: &str, space: Option<String>) -> String {
    space.map_or_else(|| format!("{number} ch of same sp"), |space| format!("{number} ch of next {space}"))
}
