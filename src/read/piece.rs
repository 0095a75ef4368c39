//! A piece as it is read, line by line, and how it is written in the notation.

use super::blocks::Block;
use super::label::{Label, Span};
use super::told::Lead;

/// A line of a piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Written {
    /// Its numbers in each size.
    pub spans: Vec<Span>,
    /// Whether it says round.
    pub round: bool,
    /// What it says to do, in the notation.
    pub steps: String,
    /// Whether the work is turned before it.
    pub turned: bool,
    /// Whether it ends with turning.
    pub turns: bool,
    /// Whether it is not read, so that of what it made only the count is known.
    pub missed: bool,
}

/// A piece as far as it is read.
#[derive(Debug, Clone, Default)]
pub(super) struct Draft {
    pub name: String,
    pub way: Option<&'static str>,
    pub turned: bool,
    /// The sizes that it is made in, where these are not all.
    pub only_for: Option<Vec<bool>>,
    /// Whether each row says if it is turned first.
    pub says_turns: bool,
    /// Whether a line says that it turns first.
    pub turns: bool,
    pub copies: Option<String>,
    /// How its copies lie side by side, as the piece line says it.
    pub layout: Option<String>,
    pub lead: Lead,
    /// Whether that holds for the rounds too that don't say it themselves.
    pub led_all: bool,
    /// Another one from where it goes over from rows to rounds, or from rounds to rows.
    pub later_lead: Option<Lead>,
    pub yarn: Option<String>,
    pub stripes: Option<String>,
    pub start: Option<String>,
    /// Whether the first row goes along a starting chain.
    pub on_chain: bool,
    /// The corner that it begins in, where it goes round copies that lie side by side.
    pub corner: Option<String>,
    /// Steps that the first row begins with.
    pub first_steps: Vec<String>,
    /// What has been read of its rows, in their order.
    pub written: Vec<Written>,
    /// Lines of the notation below its start.
    pub lines: Vec<String>,
    /// Whether a round says that it is joined.
    pub joined: bool,
    /// How many lines stood above the first round that says it is joined.
    pub first_join: Option<usize>,
    /// How many stood above the first round that is said not to be.
    pub first_open: Option<usize>,
    /// It begins in an opening that was found for it; where a text says itself round what it begins, its places are those it names.
    pub in_opening: bool,
    /// The piece that it is worked as, with how far.
    pub like: Option<String>,
    /// How many of its lines stand before it goes over to another way.
    pub gone_over: Option<usize>,
    /// By how much its rows have other numbers in the notation: its set-up row is the first one there.
    pub shift: u32,
    /// The same by sizes, where rows are counted anew below as many as each size has.
    pub shifts: Vec<u32>,
    /// Whether the next row goes over a part of the last round, and the others over that part.
    pub flat: bool,
    /// The chain that the last row ends with, for the next one.
    pub pending: Option<String>,
    /// Rows that were said with an earlier one: their number, that of the earlier one, and their count.
    pub waiting: Vec<(u32, u32, Option<String>)>,
    /// The row that is called the pattern row.
    pub pattern_row: Option<u32>,
    /// Whether it isn't known how many rows there are, because they are worked until a measure is reached.
    pub open_ended: bool,
    /// Whether a round that is turned takes in what short ones left waiting.
    pub takes_in_waiting: bool,
    /// Rows that every second one from them on is like.
    pub every_second: Vec<u32>,
    /// A row that is said before its turn: its number and what it says.
    pub said_early: Option<(u32, Label, Block)>,
    /// Counts of the rows that are said with the one at hand.
    pub counts: Vec<String>,
    /// Whether the count at hand is that of the last of several rows.
    pub counts_last: bool,
    /// The kind of space that its corners have.
    pub corner_space: Option<String>,
}

impl Draft {
    /// By how much its rows have other numbers in a size.
    pub fn shift_in(&self, size: usize) -> u32 {
        self.shifts.get(size).copied().unwrap_or(self.shift)
    }

    /// Whether it is said what it starts on, or a row has been read.
    pub fn begun(&self) -> bool {
        self.start.is_some() || !self.written.is_empty()
    }

    /// The last number in a size so far.
    pub fn last_number(&self, size: usize) -> u32 {
        let last = self.written.iter().filter_map(|written| written.spans.get(size).copied().flatten());
        last.map(|(_, to)| to).max().unwrap_or(0)
    }

    /// The line that has a number in a size; the last one, where there are several.
    pub fn with_number(&self, size: usize, number: u32) -> Option<&Written> {
        let has = |written: &&Written| {
            written.spans.get(size).copied().flatten().is_some_and(|(from, to)| (from..=to).contains(&number))
        };
        self.written.iter().rev().find(has)
    }

    /// The yarn that is worked with where it has come to.
    pub fn yarn_at_hand(&self) -> Option<String> {
        let changed = |line: &String| {
            let (_, behind) = line.rsplit_once("change to ").filter(|_| !line.starts_with(['#', '>']))?;
            Some(behind.split([',', ' ', ']', ')']).next().unwrap_or(behind).to_owned())
        };
        // Rows that are said again may change it.
        let again = |line: &&String| line.starts_with("again") || line.contains(": as ") || line.contains(", as ");
        let work = self.lines.iter().filter(|line| !line.starts_with(['#', '>'])).rev();
        let known: Vec<&String> = work.take_while(|line| !again(line)).collect();
        let all = known.len() == self.lines.iter().filter(|line| !line.starts_with(['#', '>'])).count();
        known.into_iter().find_map(changed).or_else(|| self.yarn.clone().filter(|_| all))
    }

    /// Goes over from rows to rounds, or from rounds to rows.
    pub fn goes_on(&mut self, way: &'static str, unturned: &str) {
        self.lines.push(format!("now {way}{unturned}"));
        self.says_turns = false;
        self.gone_over = self.gone_over.or(Some(self.written.len())).filter(|before| *before > 0);
        if way == "in a spiral" {
            self.later_lead = Some(Lead::None);
        }
    }

    /// The side of the first row, where one right after it says its own: they take turns. Further up, parts may be worked apart.
    pub fn says_side(&mut self, number: u32, side: &str) {
        if number > 3 || self.way.is_some_and(|way| way.contains("one side")) {
            return;
        }
        let Some(first) = self.lines.iter_mut().find(|line| line.starts_with("row 1")) else { return };
        let other = if side == " rs" { " ws" } else { " rs" };
        let side = if number % 2 == 1 { side } else { other };
        if let Some(steps) = first.strip_prefix("row 1:").filter(|_| side == " ws") {
            *first = format!("row 1{side}:{steps}");
        }
    }

    /// The chain that every row or round starts with from there on.
    pub fn goes_on_with(&mut self, lead: Lead) {
        if let Some(now) = self.lines.last_mut() {
            match &lead {
                Lead::None => now.push_str(", lead none"),
                Lead::Plain(chains) => *now = format!("{now}, lead ch {chains}"),
                Lead::Counted(chains, stitch) => *now = format!("{now}, lead ch {chains} as {stitch}"),
            }
        }
        self.later_lead = Some(lead);
    }

    /// Whether nothing of it is work so far.
    pub fn is_bare(&self) -> bool {
        self.start.is_none() && self.written.is_empty() && self.lines.iter().all(|line| line.starts_with(['#', '>']))
    }

    /// The lines of the notation.
    pub fn notation(&self) -> Vec<String> {
        let mut lines = Vec::new();
        let first = self.written.get(..self.gone_over.unwrap_or(self.written.len())).unwrap_or_default();
        let rounds = first.iter().any(|written| written.round);
        let seen = match (rounds, self.joined) {
            (false, false) => "in rows",
            (_, true) => "in joined rounds",
            (true, false) => "in a spiral",
        };
        // What is said of all pieces holds for those that it can hold for.
        let fits = |way: &&str| way.contains("row") != rounds || self.written.is_empty();
        let later = self.joined_later();
        let way = self.way.filter(fits).filter(|way| !(*way == "in a spiral" && self.joined)).unwrap_or(seen);
        let way = later.map_or(way, |(_, first, _)| first);
        let like = self.like.as_ref().map(|like| format!(", as {like}")).unwrap_or_default();
        let copies = match (&self.layout, &self.copies) {
            (Some(layout), _) => format!(", {layout}"),
            (None, Some(copies)) => format!(", make {copies}"),
            (None, None) => String::new(),
        };
        let each_turns = way == "in joined rounds" && self.gone_over.is_none() && self.each_round_turns();
        let turned = if self.turned && self.turns || each_turns { ", turned" } else { "" };
        lines.push(format!("piece {}, {way}{copies}{turned}{like}", self.name));
        let yarn = self.yarn.as_ref().filter(|_| self.stripes.is_none());
        lines.extend(yarn.map(|yarn| format!("with {yarn}")));
        lines.extend(self.stripes.as_ref().map(|stripes| format!("stripe {stripes}")));
        let lead = match &self.lead {
            Lead::None => None,
            Lead::Plain(chains) => Some(format!("lead ch {chains}")),
            Lead::Counted(chains, stitch) => Some(format!("lead ch {chains} as {stitch}")),
        };
        // There is none in a spiral.
        lines.extend(lead.clone().filter(|_| way != "in a spiral"));
        lines.extend(self.start.as_ref().map(|start| format!("start {start}")));
        // The turn that belongs to every round stands in the piece line alone.
        let without_turn = |line: &String| if each_turns { self.without_turn(line) } else { line.clone() };
        let body = self.lines.iter().map(without_turn);
        match later {
            None => lines.extend(body),
            Some((at, first, then)) => {
                let led = lead.filter(|_| then != "in a spiral").map(|lead| format!(", {lead}")).unwrap_or_default();
                let now = format!("now {then}{led}");
                let plain = |line: String| {
                    if first == "in a spiral" { line.replace(": no lead, ", ": ") } else { line }
                };
                lines.extend(body.clone().take(at).map(plain));
                lines.push(now);
                lines.extend(body.skip(at));
            }
        }
        lines
    }

    /// Where rounds that are not joined are joined later, or the other way round: how many lines stand before that, how it is worked up to
    /// there, and how from there on.
    fn joined_later(&self) -> Option<(usize, &'static str, &'static str)> {
        let open = self.first_open.or((self.way == Some("in a spiral")).then_some(0))?;
        let joined = self.first_join.filter(|_| self.gone_over.is_none() && self.joined)?;
        let round = |line: &String| line.starts_with("rnd") || line.starts_with("again rnd");
        let between = |from: usize, to: usize| self.lines.get(from..to).is_some_and(|lines| lines.iter().any(round));
        if open < joined && between(open, joined) {
            Some((joined, "in a spiral", "in joined rounds"))
        } else if joined < open && between(joined, open) {
            Some((open, "in joined rounds", "in a spiral"))
        } else {
            None
        }
    }

    /// Whether every round ends with a turn, with its count behind it, and one of them shows that it is the turn of the whole round: it
    /// takes in what short ones left waiting, or has chains before the turn, which are its last space and no turning chain.
    fn each_round_turns(&self) -> bool {
        let mut rounds = self.lines.iter().filter(|line| line.starts_with("rnd"));
        let shown = self.takes_in_waiting || rounds.clone().any(|line| ends_in_chains(line));
        shown && rounds.all(|line| line.contains(", turn = "))
    }

    /// A line of a piece in which every round is turned, without that turn. A short round keeps its own.
    fn without_turn(&self, line: &str) -> String {
        let is_whole = line.contains("to end, turn = ") || ends_in_chains(line) || line.contains(" in ring, turn = ");
        if is_whole || !self.takes_in_waiting { line.replace(", turn = ", " = ") } else { line.to_owned() }
    }
}

/// Whether a line ends with chains before it is turned.
fn ends_in_chains(line: &str) -> bool {
    let before = line.split_once(", turn = ").map_or("", |(before, _)| before);
    before.rsplit(", ").next().is_some_and(|last| last.starts_with("ch "))
}
