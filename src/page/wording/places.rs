//! Where a stitch goes: `in next 4 sts`, `around each dc`, `in top of turning ch`.

use crate::pattern::model::{Crossing, Kind, LoopOnly, Place, Sized, Till, Where};
use crate::words::ordinal;

use super::label;
use super::names::{Amount, Term};
use super::phrase::{Numbers, Phrase};
use super::teller::{Course, Noun, Position, Teller, noun_of};

/// How the hook goes into a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hook {
    /// Round the post and not under the top.
    pub around_post: bool,
    /// Under one loop only.
    pub loop_only: Option<LoopOnly>,
    /// So many rows below.
    pub below: u32,
    /// More than one stitch, or a group, goes into each place.
    pub several: bool,
}

impl Hook {
    /// The plain way, for one stitch.
    pub const PLAIN: Self = Self { around_post: false, loop_only: None, below: 0, several: false };
    /// The plain way, for several stitches in a place.
    pub const SEVERAL: Self = Self { several: true, ..Self::PLAIN };
}

impl Teller<'_> {
    /// Where something goes, from the preposition on.
    pub fn places(&mut self, places: &Where, hook: Hook) -> Phrase {
        let target = self.target(places, hook);
        self.hook_in(hook).then(target).then(self.rows_below(hook.below))
    }

    /// The places alone.
    pub fn target(&mut self, places: &Where, hook: Hook) -> Phrase {
        match places {
            Where::Count(number) => self.next_places(number, hook),
            Where::CountOf(number, kind) => self.next_of(number, *kind, hook),
            Where::Till(till) => self.each_place(till, hook),
            Where::Each(kind, till) => {
                let rest = self.of_the_rest(*kind, till);
                let each = Phrase::of("each ").then(rest).then(self.voice.kind(*kind, Amount::One));
                self.went_into(noun_of(*kind));
                each.say(" ").then(self.till_beside(till, hook.around_post))
            }
            Where::Skipped(number, crossing) => self.skipped_places(number, *crossing),
            Where::In(place) => self.place(place),
        }
    }

    /// `in`, `around`, `in back loop only of`.
    pub fn hook_in(&self, hook: Hook) -> Phrase {
        let loop_only = if self.whole_loop.is_some() { None } else { hook.loop_only };
        match (hook.around_post, loop_only) {
            (true, _) => Phrase::of("around "),
            (false, None) => Phrase::of("in "),
            (false, Some(LoopOnly::Back)) => Phrase::of("in back loop only of "),
            (false, Some(LoopOnly::Front)) => Phrase::of("in front loop only of "),
        }
    }

    pub fn rows_below(&self, below: u32) -> Phrase {
        if below == 0 {
            return Phrase::default();
        }
        let amount = if below == 1 { Amount::One } else { Amount::Many };
        Phrase::of(format!(" {below} ")).then(label::line_word(self.voice, self.round, amount)).say(" below")
    }

    /// `next st`, `first 4 sts`, `each of next 4 sts`, `last 2 sts`.
    fn next_places(&mut self, number: &Sized, hook: Hook) -> Phrase {
        let numbers = self.number(number);
        let which = self.which(&numbers);
        let (one, many) = (self.place_name(Amount::One), self.place_name(Amount::Many));
        self.went_into(self.noun);
        several(which, numbers, hook, one, many)
    }

    /// The same for places of a kind.
    fn next_of(&mut self, number: &Sized, kind: Kind, hook: Hook) -> Phrase {
        let numbers = self.number(number);
        let (one, many) = (self.voice.kind(kind, Amount::One), self.voice.kind(kind, Amount::Many));
        self.went_into(noun_of(kind));
        if kind == Kind::Chain {
            self.used_along(number.single());
        }
        several("next", numbers, hook, one, many)
    }

    /// `first` for the first places of a line, `last` when as many are left, else `next`.
    pub fn which(&self, numbers: &Numbers) -> &'static str {
        match &self.position {
            Position::First => self.first,
            Position::Last(left) if left.reads_as(numbers) => "last",
            Position::Last(_) | Position::Begun | Position::Further => "next",
        }
    }

    /// `each st around`, `each rem st across`, `each st to last 2 sts`.
    fn each_place(&mut self, till: &Till, hook: Hook) -> Phrase {
        let each = Phrase::of("each ").then(self.of_the_rest(Kind::AnyStitch, till));
        let place = self.place_name(Amount::One);
        self.went_into(self.noun);
        each.then(place).say(" ").then(self.till_beside(till, hook.around_post))
    }

    /// `rem `, where the line goes on to its end over what is left, and stitches of it are done already.
    pub(super) fn of_the_rest(&self, kind: Kind, till: &Till) -> Phrase {
        let some_are_done = matches!(self.position, Position::Further | Position::Last(_));
        // A space is told apart by where the hook is.
        let are_stitches = matches!(kind, Kind::AnyStitch | Kind::Stitch(_) | Kind::Yarn(_));
        if some_are_done && are_stitches && *till == Till::End && !self.moved_on {
            Phrase::default().with(self.voice.term(Term::Remaining)).say(" ")
        } else {
            Phrase::default()
        }
    }

    /// How far. Beside `around each dc` the end of the round is called by its name, so that `around` stands once.
    pub fn till_beside(&mut self, till: &Till, around_post: bool) -> Phrase {
        let ends = matches!(till, Till::End) && self.course == Course::Around;
        if around_post && ends {
            return Phrase::of("to end of ").then(label::line_word(self.voice, self.round, Amount::One));
        }
        self.till(till)
    }

    /// How far, and what is left then.
    pub fn till(&mut self, till: &Till) -> Phrase {
        match till {
            Till::End if self.on_other_side && self.corner_left => Phrase::of("up to ").then(self.corner()),
            Till::End => Phrase::of(self.to_the_end()),
            Till::Last(number) if self.is_nothing(number) => self.till(&Till::End),
            Till::Last(number) => {
                let numbers = self.voice.numbers(number, self.concerned);
                self.zero.before_the_end |= numbers.has_zero();
                self.position = Position::Last(numbers.clone());
                let (one, many) = (self.place_name(Amount::One), self.place_name(Amount::Many));
                Phrase::of("to ").then(several("last", numbers, Hook::PLAIN, one, many))
            }
            Till::Next(kind) => Phrase::of("to next ").then(self.voice.kind(*kind, Amount::One)),
            Till::LastOf(kind) => Phrase::of("to last ").then(self.voice.kind(*kind, Amount::One)),
            Till::Mark(name) => Phrase::of("up to ").then(self.marked(name)),
        }
    }

    /// One place.
    pub fn place(&mut self, place: &Place) -> Phrase {
        match place {
            Place::Next => {
                let which = self.which(&Numbers::new([(0, Some(1))]));
                let one = self.place_name(Amount::One);
                self.went_into(self.noun);
                Phrase::of(format!("{which} ")).then(one)
            }
            Place::NextOf(kind) => {
                let which = if self.begins_at(*kind) { "same " } else { "next " };
                self.went_into(noun_of(*kind));
                if *kind == Kind::Chain {
                    self.used_along(Some(1));
                }
                Phrase::of(which).then(self.voice.kind(*kind, Amount::One))
            }
            Place::Same(_) => {
                let same = self.same_place();
                // What comes then is no longer the first.
                if self.position == Position::First && self.on_counted_lead {
                    self.position = Position::Further;
                }
                let place = Phrase::of("same ").then(self.called(same, Amount::One));
                match self.on_just_made.take().filter(|_| same == Noun::Stitch) {
                    Some(kind) => place.say(" as last ").then(self.voice.kind(kind, Amount::One)),
                    None => place,
                }
            }
            Place::Ring => Phrase::of("ring"),
            Place::First => self.first_of_all(),
            Place::Last => self.named_end("last "),
            Place::FirstOf(kind) => self.end_of_kind("first ", *kind),
            Place::LastOf(kind) => self.end_of_kind("last ", *kind),
            Place::Lead => {
                self.went_into(Noun::Chain);
                self.lead_below.clone()
            }
            Place::FromHook(number) => self.from_hook(*number),
            Place::Nth(number, kind) => self.nth(*number, *kind),
            Place::ChainOf(number, space) => self.chain_of(*number, *space),
            Place::Gap => self.gap(false),
            Place::FirstGap => self.gap(true),
            Place::JustMade(kind) => self.just_made(*kind),
            Place::Skipped => self.skipped_place(),
            Place::Mark(name) => {
                self.went_into(Noun::Stitch);
                self.marked(name)
            }
        }
    }

    /// The first place of the line, by what it is.
    fn first_of_all(&mut self) -> Phrase {
        // A chain that counts stands on it.
        if self.on_counted_lead && self.position == Position::First && self.nest == 0 {
            let same = self.same_place();
            return Phrase::of("same ").then(self.called(same, Amount::One));
        }
        match self.first_place.clone() {
            Some((noun, place)) => {
                self.went_into(noun);
                place
            }
            // The space that a tall stitch closed is no stitch.
            None if self.closed_below => {
                self.went_into(Noun::Space);
                let line = label::line_word(self.voice, self.round, Amount::One);
                Phrase::of("the place where the ").then(line).say(" began")
            }
            None => self.named_end("first "),
        }
    }

    /// `2nd ch from hook`.
    fn from_hook(&mut self, number: u32) -> Phrase {
        self.went_into(Noun::Chain);
        self.position = Position::Begun;
        let chain = self.voice.kind(Kind::Chain, Amount::One);
        Phrase::of(format!("{} ", ordinal(number))).then(chain).say(" from hook")
    }

    /// Whether the line begins in a corner of this kind, and nothing has been worked.
    pub(super) fn begins_at(&self, kind: Kind) -> bool {
        self.corner == Some(kind) && self.position == Position::First && self.nest == 0
    }

    /// `5th st`, or `the st after next 4 sts` when the line has begun.
    fn nth(&mut self, number: u32, kind: Kind) -> Phrase {
        let begun = self.position != Position::First;
        self.went_into(noun_of(kind));
        let one = self.voice.kind(kind, Amount::One);
        match number.saturating_sub(1) {
            0 if begun => Phrase::of("next ").then(one),
            before if begun => {
                let amount = if before == 1 { Amount::One } else { Amount::Many };
                let next = if before == 1 { " after next ".to_owned() } else { format!(" after next {before} ") };
                Phrase::of("the ").then(one).say(&next).then(self.voice.kind(kind, amount))
            }
            _ => Phrase::of(format!("{} ", ordinal(number))).then(one),
        }
    }

    /// `3rd ch of next ch-7 sp`, `5th ch of same sp`.
    fn chain_of(&mut self, number: u32, space: Option<Kind>) -> Phrase {
        self.went_into(Noun::Chain);
        self.position = Position::Begun;
        let chain = self.voice.kind(Kind::Chain, Amount::One);
        let chain = Phrase::of(format!("{} ", ordinal(number))).then(chain);
        match space {
            Some(kind) => chain.say(" of next ").then(self.voice.kind(kind, Amount::One)),
            None => chain.say(" of same ").with(self.voice.term(Term::Space)),
        }
    }

    /// `sp between first 2 sts`, `sp between next 2 sts`: the first of them is gone past. From one gap to another it is `next sp
    /// between sts`, since `next 2` could leave every second one out.
    fn gap(&mut self, first: bool) -> Phrase {
        let begins = first || self.position == Position::First && self.first == "first";
        let in_gap = self.in_gap;
        self.went_into(Noun::Space);
        self.in_gap = true;
        let stitches = self.voice.kind(Kind::AnyStitch, Amount::Many);
        let between = |which: &str| Phrase::of(which).with(self.voice.term(Term::Space)).say(" between ");
        match (begins, in_gap) {
            (true, _) => between("").say("first 2 ").then(stitches),
            (false, true) => between("next ").then(stitches),
            (false, false) => between("").say("next 2 ").then(stitches),
        }
    }

    /// `sc just made`.
    fn just_made(&mut self, kind: Kind) -> Phrase {
        // Nothing of the row below is gone into: `same` is still the place before.
        self.on_just_made = Some(kind);
        self.position = Position::Further;
        self.voice.kind(kind, Amount::One).say(" just made")
    }

    /// `skipped st`, or `first skipped st` where there are several.
    fn skipped_place(&mut self) -> Phrase {
        let kind = self.skipped_space.unwrap_or(Kind::AnyStitch);
        self.went_into(noun_of(kind));
        let (of, before) = self.skipped;
        self.skipped.1 = before.saturating_add(1);
        let skipped = self.voice.skipped();
        let which = match (of, before) {
            (Some(1), _) => format!("{skipped} "),
            (_, 0) => format!("first {skipped} "),
            (_, before) => format!("{} {skipped} ", ordinal(before.saturating_add(1))),
        };
        Phrase::of(which).then(self.voice.kind(kind, Amount::One))
    }

    /// `each of 2 skipped sts, working in front of the sts just made`.
    fn skipped_places(&mut self, number: &Sized, crossing: Option<Crossing>) -> Phrase {
        let all = self.skipped == (number.single(), 0);
        let place = if number.single() == Some(1) {
            self.skipped_place()
        } else {
            self.went_into(Noun::Stitch);
            let before = self.skipped.1;
            self.skipped.1 = before.saturating_add(number.single().unwrap_or_default());
            let which = match (all, before) {
                (true, _) => "each of the ",
                (false, 0) => "each of first ",
                (false, _) => "each of next ",
            };
            let number = self.number(number);
            Phrase::of(which)
                .then(number.into())
                .say(" ")
                .say(self.voice.skipped())
                .say(" ")
                .then(self.voice.kind(Kind::AnyStitch, Amount::Many))
        };
        let made = self.voice.kind(Kind::AnyStitch, Amount::Many);
        match crossing {
            None => place,
            Some(Crossing::Front) => place.say(", working in front of the ").then(made).say(" just made"),
            Some(Crossing::Behind) => place.say(", working behind the ").then(made).say(" just made"),
        }
    }

    fn end_of_kind(&mut self, which: &str, kind: Kind) -> Phrase {
        self.went_into(noun_of(kind));
        Phrase::of(which).then(self.voice.kind(kind, Amount::One))
    }

    fn named_end(&mut self, which: &str) -> Phrase {
        let one = self.place_name(Amount::One);
        self.went_into(self.noun);
        Phrase::of(which).then(one)
    }

    /// `st marked “neck”`.
    fn marked(&self, name: &str) -> Phrase {
        let stitch = self.voice.kind(Kind::AnyStitch, Amount::One);
        Phrase::of("the ").then(stitch).say(" marked “").then(Phrase::quoted(name)).say("”")
    }
}

/// `next st`, `next 4 sts`, or `each of next 4 sts` when several stitches go into each.
fn several(which: &str, numbers: Numbers, hook: Hook, one: Phrase, many: Phrase) -> Phrase {
    if numbers.is_one() {
        return Phrase::of(format!("{which} ")).then(one);
    }
    let each = if hook.several || hook.around_post { "each of " } else { "" };
    Phrase::of(format!("{each}{which} ")).then(numbers.into()).say(" ").then(many)
}
