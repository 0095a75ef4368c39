//! What a line says to do, from the words of a pattern into the notation.

use std::collections::BTreeMap;

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::places::{Target, mark_name, which_loop};

/// What could not be read, in the words of the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unread(pub String);

impl Unread {
    pub fn new(what: &str) -> Self {
        Self(what.to_owned())
    }
}

pub(super) type Result<T = String> = std::result::Result<T, Unread>;

/// The chain that every row or round of a piece starts with.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) enum Lead {
    /// None.
    #[default]
    None,
    /// So many chains that count as nothing.
    Plain(String),
    /// So many chains that count as a stitch.
    Counted(String, String),
}

/// Reads the steps of one line.
#[derive(Debug, Clone, Default)]
pub(super) struct Teller<'a> {
    /// What every line of the piece starts with.
    pub lead: Lead,
    /// Whether the line is a round.
    pub round: bool,
    /// Whether it goes along the chain that the piece starts with.
    pub on_chain: bool,
    /// Whether something has been worked.
    pub begun: bool,
    /// Names of pieces.
    pub pieces: &'a [String],
    /// `blo ` or `flo ` for the whole line.
    pub loops: &'static str,
    /// Whether the line has said with which chain it starts.
    pub led: bool,
    /// The corner that the hook stands in before anything is worked.
    pub begins_at: Option<String>,
    /// The corner that the line begins in, where all of it is spoken of as the place where the hook is.
    pub moved_to: Option<String>,
    /// Whether the line is worked in a ring.
    pub on_ring: bool,
    /// Whether `rep from * 5 times` means five more.
    pub more: bool,
    /// Whether nothing of the line stands before what is read.
    pub opening: bool,
    /// Whether what is told goes into one place that is named behind it.
    pub in_group: bool,
    /// How chains at the beginning of a line are taken where the text doesn't say what they count as.
    pub chains: Chains,
    /// The chain from the hook in which the first stitch goes, where that is said before the stitch.
    pub from_hook: Option<String>,
    /// The kind of space that corners have.
    pub corner: Option<String>,
    /// The kind that the line's own corners have.
    pub corner_made: Option<String>,
    /// How many stitches the groups below have.
    pub group_of: Option<u32>,
    /// What is passed over before the next stitch.
    pub passes: Option<u32>,
    /// Whether the line begins with a chain that counts as a stitch.
    pub counts: bool,
    /// The steps of the row below.
    pub under: String,
    /// Whether the line goes between groups.
    pub between: bool,
    /// Whether the line says that it is joined.
    pub joins: bool,
    /// Whether more than the chain that the line begins with stands before what is read.
    pub beyond: bool,
    /// Whether a space below has been worked into before what is read.
    pub in_space: bool,
    /// Whether stitches without a place are taken the other way than is likely: see [`Teller::run_in_place`].
    pub apart: bool,
    /// Whether the line is worked behind what has been made, into a round that its places name.
    pub behind_said: bool,
    /// The round whose stitches it says that it works into.
    pub into_row: Option<String>,
    /// Whether a plain stitch that is named as a place is whatever stitch comes.
    pub loosely: bool,
    /// Whether a small piece is worked to and fro in the line.
    pub to_and_fro: bool,
}

/// How chains at the beginning of lines are taken, by their number.
pub(super) type Chains = BTreeMap<u32, Begins>;

/// What a chain at the beginning of a row or round is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Begins {
    /// It counts as nothing.
    Nothing,
    /// So many of its chains count as a stitch; what is left is a space.
    Stitch(u32, String),
    /// It is worked into as any other.
    Chain,
}

impl Teller<'_> {
    /// The steps, one behind the other.
    pub fn steps(&mut self, pair: Pair<'_, Rule>) -> Result {
        let mut told: Vec<String> = Vec::new();
        let mut stop = false;
        let opening = self.opening;
        for part in pair.into_inner() {
            if matches!(part.as_rule(), Rule::from_beginning | Rule::times_behind) {
                told.push(self.from_beginning(part)?);
                continue;
            }
            self.opening = opening && told.iter().all(|step| comes_before_lead(step));
            if part.as_rule() == Rule::stop {
                stop = true;
                continue;
            }
            let first = told.iter().all(|step| comes_before_lead(step));
            let mut inner = part.into_inner();
            let Some(mut inner_step) = inner.next() else { continue };
            if inner_step.as_rule() == Rule::begun_in {
                self.step(inner_step, first)?;
                let Some(next) = inner.next() else { continue };
                inner_step = next;
            }
            let inner = inner_step;
            if self.told_by_place(&inner, &mut told, opening)? {
                continue;
            }
            let begins =
                |step: &String| comes_before_lead(step) || step.starts_with("ch ") || step.starts_with("lead ");
            self.beyond |= told.iter().any(|step| !begins(step));
            self.in_space |= told.iter().any(|step| step.contains(" sp") && !step.starts_with("ch "));
            let leads = inner.as_rule() == Rule::lead_or_chain;
            let step = self.step(inner, first)?;
            if step.is_empty() {
                // Slip stitches before the chain that every row starts with only bring the hook there.
                if leads && told.iter().all(|step| step.starts_with("sl st")) && !told.is_empty() {
                    told = vec![super::pattern::along(&told.join(", "))];
                }
                continue;
            }
            // What is left at the end of a row is left before the work is turned.
            if step.starts_with("leave ") && told.last().is_some_and(|last| last == "turn") {
                told.insert(told.len() - 1, step);
                continue;
            }
            told.push(if std::mem::take(&mut stop) { format!("** {step}") } else { step });
        }
        self.opening = opening;
        Ok(told.join(", "))
    }

    /// What is told by what stands before it: the turn before a row, a chain that closes a round, and the rows of a small piece. Whether it is
    /// such a step.
    fn told_by_place(&mut self, inner: &Pair<'_, Rule>, told: &mut Vec<String>, opening: bool) -> Result<bool> {
        // Rows turn by themselves, before the chain that they start with or behind it.
        let starts = |step: &String| comes_before_lead(step) || step.starts_with("ch ") || step.starts_with("lead ch ");
        match inner.as_rule() {
            Rule::turn if opening && told.iter().all(starts) => {}
            Rule::close_tall => {
                let closed = Self::close(inner.clone(), told);
                told.push(closed);
            }
            Rule::close_said if self.closes(told) => {
                self.joins = true;
                let closed = Self::close(inner.clone(), told);
                told.push(closed);
            }
            Rule::turn if self.to_and_fro => told.push("turn".to_owned()),
            Rule::lead_or_chain if self.to_and_fro && told.last().is_some_and(|last| last == "turn") => {
                told.extend(self.lead_of_turn(inner.clone())?);
            }
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// `work ch 3 (counts as dc) and dc in next 2 sts tog`: a chain among them is no lead.
    fn together(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let lead = std::mem::replace(&mut self.lead, Lead::None);
        let told = self.inner_steps(parts, true);
        self.lead = lead;
        Ok(format!("({}) together", told?))
    }

    /// Steps that all go into one place, which is named elsewhere.
    pub fn in_one_place(&mut self, steps: Pair<'_, Rule>) -> Result {
        self.in_group = true;
        let told = self.steps(steps)?;
        self.in_group = false;
        let inner = told.strip_prefix('(').and_then(|told| told.strip_suffix(')')).filter(|inner| !inner.contains('('));
        Ok(format!("({}) in next", inner.unwrap_or(&told)))
    }

    pub(super) fn step(&mut self, pair: Pair<'_, Rule>, first: bool) -> Result {
        let rule = pair.as_rule();
        let parts: Vec<Pair<'_, Rule>> = pair.clone().into_inner().collect();
        match rule {
            Rule::square | Rule::curly if parts.iter().any(|part| part.as_rule() == Rule::whereto) => self.group(parts),
            Rule::square | Rule::curly | Rule::star_repeat | Rule::star_pair | Rule::double_star => self.repeat(parts),
            Rule::times_before => self.times_before(parts),
            Rule::begun_in => {
                let nth = parts.first().and_then(|part| part.clone().into_inner().next());
                self.from_hook = nth.map(|nth| nth.as_str().to_owned());
                Ok(String::new())
            }
            Rule::each_by => self.each_by(parts),
            Rule::filet => self.filet(&parts),
            Rule::together => self.together(parts),
            Rule::group => self.group(parts),
            Rule::group_after => self.group_after(parts),
            Rule::with_between => self.with_between(parts),
            Rule::crossed => Ok(self.crossed(&parts)),
            Rule::set_aside => self.set_aside(parts),
            Rule::leave => Ok(leave(&parts)),
            Rule::turn => Ok(if first { String::new() } else { "turn".to_owned() }),
            Rule::move_along => self.move_along(&parts),
            Rule::other_side => {
                self.on_chain = true;
                Ok("other side".to_owned())
            }
            Rule::mark => Ok(format!("mark {}", mark_name(&parts)?)),
            Rule::colour => Ok(format!("change to {}", last_yarn(&parts))),
            Rule::fasten_off => Ok("fasten off".to_owned()),
            Rule::join_piece => self.join_piece(parts),
            Rule::rejoin => self.rejoin(&parts),
            Rule::behind => Ok(self.behind(&parts)),
            Rule::working_in => {
                self.loops = which_loop(pair).unwrap_or_default();
                Ok(String::new())
            }
            Rule::go => self.go(parts),
            Rule::evenly => self.evenly(&parts),
            Rule::lead_or_chain => self.chain(parts, first),
            Rule::skip_along => self.skip_along(&parts),
            Rule::skip => self.skip(parts),
            Rule::runs => self.runs(parts),
            Rule::work => self.work(parts),
            Rule::join_round => self.join_round(&parts, first),
            Rule::with_yarn | Rule::begin_same | Rule::nothing => Ok(String::new()),
            _ => self.gathered(&pair, parts),
        }
    }

    /// Behind the petals, or behind what an earlier round has made.
    fn behind(&mut self, parts: &[Pair<'_, Rule>]) -> String {
        if parts.iter().any(|part| part.as_rule() == Rule::behind_petals) {
            self.behind_said = true;
            // `behind the petals in the back loops of Rnd 2`.
            let petals = parts.first().map(Pair::as_str).unwrap_or_default();
            if petals.contains(" back loop") {
                self.loops = "blo ";
            } else if petals.contains(" front loop") {
                self.loops = "flo ";
            }
            let row = parts
                .first()
                .and_then(|part| part.clone().into_inner().flatten().find(|part| part.as_rule() == Rule::amount));
            self.into_row = row.map(|row| amount(&row)).or(self.into_row.take());
            return String::new();
        }
        format!("behind {} {}", self.line_word(), texts(parts))
    }

    /// A slip stitch closes a round; before anything is worked it only goes to where the round begins.
    pub(super) fn join_round(&mut self, parts: &[Pair<'_, Rule>], first: bool) -> Result {
        let kind = parts
            .iter()
            .find(|part| part.as_rule() == Rule::slip_to_first)
            .and_then(|part| part.clone().into_inner().next());
        if let (true, Some(kind)) = (first && !self.led, kind) {
            let kind = self.noun(&kind)?;
            return Ok(kind.map_or_else(|| "sl st".to_owned(), |kind| format!("sl st in next {kind}")));
        }
        self.joins = true;
        Ok(String::new())
    }

    pub(super) fn line_word(&self) -> &'static str {
        if self.round { "rnd" } else { "row" }
    }

    /// What is passed over before what is told.
    pub(super) fn passed(&mut self) -> String {
        self.passes.take().filter(|passes| *passes > 0).map(|passes| format!("skip {passes}, ")).unwrap_or_default()
    }

    pub(super) fn set_aside(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut places, mut opening) = (String::new(), String::new());
        for part in parts {
            match part.as_rule() {
                Rule::target => {
                    places = match self.target(part)? {
                        Target::Some(number, _) => format!("next {number}"),
                        Target::Till(till) if till == "to end" => "rest".to_owned(),
                        Target::Till(till) | Target::Each(_, till) => till,
                        Target::In(_) => return Err(Unread::new("what is left unworked")),
                    };
                }
                Rule::opening => part.as_str().trim().clone_into(&mut opening),
                _ => {}
            }
        }
        Ok(format!("set aside {places} as {opening}"))
    }

    pub(super) fn move_along(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let Some(part) = parts.first() else { return Err(Unread::new("slip stitches along")) };
        let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
        if part.as_rule() == Rule::along {
            let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
            return Ok(format!("move {}", number.unwrap_or("1".into())));
        }
        let kind = inner.iter().find(|part| part.as_rule() == Rule::kind).map(|kind| self.noun(kind)).transpose()?;
        Ok(format!("move to next {}", kind.flatten().unwrap_or("st".into())))
    }

    pub(super) fn join_piece(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut to, mut at) = (String::new(), String::new());
        for part in parts {
            let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
            match part.as_rule() {
                Rule::in_free => {
                    let nth = inner
                        .iter()
                        .find(|part| part.as_rule() == Rule::ordinal)
                        .map(|nth| format!("{} ", nth.as_str()));
                    let kind = inner
                        .iter()
                        .find(|part| part.as_rule() == Rule::kind)
                        .map(|kind| self.noun(kind))
                        .transpose()?;
                    at = format!(" in {}{}", nth.unwrap_or_default(), kind.flatten().unwrap_or("st".into()));
                }
                _ => to = piece_name(&part, self.pieces),
            }
        }
        Ok(format!("join to {to}{at}"))
    }

    pub(super) fn rejoin(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let yarn = parts.iter().find(|part| part.as_rule() == Rule::yarn).map(|_| format!(" {}", yarn(parts)));
        let (mut at, mut corner) = ("next".to_owned(), false);
        for part in parts.iter().filter(|part| part.as_rule() == Rule::rejoin_at) {
            for place in part.clone().into_inner() {
                match place.as_rule() {
                    Rule::at_this_corner | Rule::after_corner => {
                        let kind = place.into_inner().next().map(|kind| self.noun(&kind)).transpose()?.flatten();
                        at = kind.map_or_else(|| "next".to_owned(), |kind| format!("next {kind}"));
                    }
                    Rule::any_place if place.clone().into_inner().any(|part| part.as_rule() == Rule::at_corner) => {
                        corner = true;
                    }
                    Rule::noun
                        if corner && matches!(place.as_str().trim(), "sp" | "ch sp") && self.corner.is_some() =>
                    {
                        at = format!("next {}", self.corner.clone().unwrap_or_default());
                    }
                    Rule::noun => {
                        at = self.noun(&place)?.map_or_else(|| "next".to_owned(), |kind| format!("next {kind}"));
                    }
                    Rule::place => at = self.one_place(place)?,
                    _ => {}
                }
            }
        }
        self.begun = true;
        self.begins_at = None;
        let standing =
            parts.iter().filter(|part| part.as_rule() == Rule::with_slip).flat_map(|part| part.clone().into_inner());
        let standing = standing.flat_map(Pair::into_inner).find(|part| part.as_rule() == Rule::stitch);
        let standing = standing.map(|stitch| format!(", {} in same", name(&stitch))).unwrap_or_default();
        Ok(format!("rejoin{} in {at}{standing}", yarn.unwrap_or_default()))
    }

    pub(super) fn one_place(&mut self, place: Pair<'_, Rule>) -> Result {
        let Some(target) = place.into_inner().next() else { return Err(Unread::new("a place")) };
        match self.target(target)? {
            Target::In(place) => Ok(place),
            Target::Some(number, None) if number == "1" => Ok("next".to_owned()),
            Target::Some(number, Some(kind)) if number == "1" => Ok(format!("next {kind}")),
            Target::Some(..) | Target::Till(_) | Target::Each(..) => Err(Unread::new("one place")),
        }
    }

    pub(super) fn go(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let place = parts.into_iter().next().ok_or_else(|| Unread::new("a place"))?;
        Ok(format!("in {}", self.one_place(place)?))
    }

    pub(super) fn evenly(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
        let stitches: Vec<String> = parts.iter().filter(|part| part.as_rule() == Rule::stitch).map(name).collect();
        let till = parts.iter().find(|part| part.as_rule() == Rule::till).map(|till| self.till(till)).transpose()?;
        let [more, plain] = stitches.as_slice() else { return Err(Unread::new("what is spread evenly")) };
        Ok(format!("{number} {more} evenly in {plain} {}", till.unwrap_or("to end".into())))
    }

    /// `Skip the sleeve dc to next corner`, `skip all sts to next ch-2 sp`.
    fn skip_along(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let name = parts.iter().find(|part| part.as_rule() == Rule::opening_name).map_or("opening", Pair::as_str);
        let to = parts.iter().find(|part| part.as_rule() == Rule::to_next);
        let inner = to.and_then(|to| to.clone().into_inner().next()).ok_or_else(|| Unread::new("what is skipped"))?;
        let kind =
            if inner.as_rule() == Rule::the_next_corner { Some(self.corner_there()?) } else { self.noun(&inner)? };
        let kind = kind.ok_or_else(|| Unread::new("the corner"))?;
        Ok(format!("set aside to next {kind} as {}", name.trim()))
    }

    pub(super) fn skip(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let opening =
            parts.iter().find(|part| part.as_rule() == Rule::for_opening).and_then(|part| self.opening_of(part));
        let also = parts.iter().filter(|part| part.as_rule() == Rule::skip_also).cloned().collect::<Vec<_>>();
        let target = parts.into_iter().next().ok_or_else(|| Unread::new("what is skipped"))?;
        let mut told = vec![self.skip_one(target, opening.as_deref())?];
        for part in also.into_iter().flat_map(Pair::into_inner) {
            told.push(self.skip_one(part, None)?);
        }
        told.retain(|step| !step.is_empty());
        Ok(told.join(", "))
    }

    /// `thumb`, of `skip next 6 sts for the thumb`, where a piece goes on there.
    fn opening_of(&self, part: &Pair<'_, Rule>) -> Option<String> {
        let last = part.clone().into_inner().last()?;
        let name = match last.as_rule() {
            Rule::piece => piece_name(&last, self.pieces),
            _ => last.as_str().trim().to_owned(),
        };
        let name = name.to_lowercase();
        let name = name.strip_suffix('s').map_or(name.as_str(), |one| one);
        let goes_on = self.pieces.iter().any(|piece| named_for(piece, name));
        goes_on.then(|| name.to_owned())
    }

    fn skip_one(&mut self, target: Pair<'_, Rule>, opening: Option<&str>) -> Result {
        // A chain that counts stands on the first stitch, which is passed over so.
        let words = target.as_str().trim();
        let first = words.strip_prefix("first ").map(|rest| rest.trim_start_matches("1 "));
        let one = first.is_some_and(|noun| noun == "st" || noun.starts_with('~'));
        if self.counts && !self.beyond && (one || words == "same st") {
            return Ok(String::new());
        }
        // `skip first 2 sts`: the chain stands over the first of them.
        let several = first.and_then(|rest| rest.split(' ').next()?.parse::<u32>().ok()).filter(|number| *number > 1);
        if let Some(number) = several.filter(|_| self.counts && !self.beyond) {
            return Ok(format!("skip {}", number.saturating_sub(1)));
        }
        let inner: Vec<Pair<'_, Rule>> = target.into_inner().collect();
        if let Some(target) = inner.iter().find(|part| part.as_rule() == Rule::target) {
            return match (self.target(target.clone())?, opening) {
                (Target::Some(number, _), Some(opening)) => Ok(format!("set aside next {number} as {opening}")),
                (target, _) => target.skipped(),
            };
        }
        let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map_or("1".to_owned(), amount);
        if let Some(opening) = opening {
            return Ok(format!("set aside next {number} as {opening}"));
        }
        let kind = inner.iter().find(|part| part.as_rule() == Rule::kind).map(|kind| self.noun(kind)).transpose()?;
        Target::Some(number, kind.flatten()).skipped()
    }

    pub(super) fn runs(&mut self, mut parts: Vec<Pair<'_, Rule>>) -> Result {
        if let Some(each) = parts.iter().find(|part| part.as_rule() == Rule::runs_each) {
            return self.runs_each(each);
        }
        if let Some(beside) = parts.iter().find(|part| part.as_rule() == Rule::runs_beside) {
            // How many there are in all is the sum of the runs.
            parts = beside.clone().into_inner().filter(|part| part.as_rule() != Rule::target).collect();
        }
        let (mut stitch, mut loops, mut told) = (String::new(), self.loops, Vec::new());
        for part in parts {
            let rule = part.as_rule();
            let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
            match rule {
                Rule::stitch => stitch = name(&part),
                Rule::loop_before | Rule::hook_in => loops = which_loop(part).unwrap_or(loops),
                Rule::first_run | Rule::run => {
                    let colour = yarn(&inner);
                    let mut run = String::new();
                    for piece in inner {
                        match piece.as_rule() {
                            Rule::hook_in => loops = which_loop(piece).unwrap_or(loops),
                            Rule::amount => run = format!("{} {colour}", amount(&piece)),
                            Rule::till => run = format!("{colour} {}", self.till(&piece)?),
                            Rule::target => {
                                run = match self.target(piece)? {
                                    Target::Some(number, None) => format!("{number} {colour}"),
                                    Target::Till(till) => format!("{colour} {till}"),
                                    _ => return Err(Unread::new("stitches in a colour")),
                                }
                            }
                            _ => {}
                        }
                    }
                    told.push(run);
                }
                _ => {}
            }
        }
        Ok(format!("{loops}{stitch} {}", told.join(", ")))
    }

    /// `Black sc 7, white sc 6`: each run says its yarn and its stitch.
    fn runs_each(&self, each: &Pair<'_, Rule>) -> Result {
        let (mut stitch, mut told) = (String::new(), Vec::new());
        for run in each.clone().into_inner() {
            let inner: Vec<Pair<'_, Rule>> = run.into_inner().collect();
            let of = |rule: Rule| inner.iter().find(|part| part.as_rule() == rule);
            let name = of(Rule::stitch).map(name).unwrap_or_default();
            if !stitch.is_empty() && stitch != name {
                return Err(Unread::new("runs of several stitches"));
            }
            stitch = name;
            told.push(format!("{} {}", of(Rule::amount).map(amount).unwrap_or_default(), yarn(&inner)));
        }
        Ok(format!("{}{stitch} {}", self.loops, told.join(", ")))
    }

    pub(super) fn work(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut each, mut stitch, mut loops) = ("1".to_owned(), String::new(), self.loops);
        let (mut told, mut turning): (Vec<String>, String) = (Vec::new(), String::new());
        let first = self.on_chain && !self.begun && !parts.iter().any(|part| part.as_rule() == Rule::aside);
        for part in parts {
            match part.as_rule() {
                Rule::amount => each = amount(&part),
                Rule::stitch => stitch = name(&part),
                Rule::loop_before | Rule::loop_mid => loops = which_loop(part).unwrap_or(loops),
                Rule::own_times | Rule::extent => {
                    let number = self.how_often(part)?;
                    let from_hook = self.from_the_hook(&stitch, loops, &number);
                    told.push(from_hook.unwrap_or(format!("{loops}{stitch} {number}")));
                }
                Rule::amount_in => {
                    for part in part.into_inner() {
                        match part.as_rule() {
                            Rule::amount => each = amount(&part),
                            _ => told.push(self.worked(part, &each, &stitch, loops)?),
                        }
                    }
                }
                Rule::below => {
                    let number = part.into_inner().next().map(|number| number.as_str().to_owned());
                    stitch = format!("{stitch} {} {}s below", number.unwrap_or_default(), self.line_word());
                }
                Rule::whereto => {
                    let step = self.worked(part, &each, &stitch, loops)?;
                    if first && let Some(nth) = nth_from_hook(&step) {
                        turning = self.skipped_chains(nth);
                    }
                    told.push(step);
                }
                Rule::and_where => self.and_where(part, &mut told, (&each, &stitch, loops))?,
                Rule::aside => turning = self.turning_of(part, told.first())?,
                _ => {}
            }
        }
        if !told.is_empty() {
            self.begun = true;
            return Ok(turning + &told.join(", "));
        }
        Ok(self.work_without_place(&each, &stitch, loops))
    }

    /// `Sc around the post`: which way the hook goes round it is only said by the name of the stitch, or where it lies behind the work.
    fn around_post(&self, stitch: &str) -> String {
        const PLAIN: [&str; 7] = ["sc", "hdc", "dc", "htr", "tr", "dtr", "trtr"];
        if !PLAIN.contains(&stitch) {
            return stitch.to_owned();
        }
        if self.behind_said { format!("bp{stitch}") } else { format!("fp{stitch}") }
    }

    /// How often one stitch is worked: `sc 5`, `sc 5 times`, `sc twice`.
    pub(super) fn how_often(&mut self, part: Pair<'_, Rule>) -> Result {
        if part.as_rule() == Rule::extent {
            let extent = self.extent(&part)?;
            return Ok(match extent.as_str() {
                "twice" => "2".to_owned(),
                "once" => "1".to_owned(),
                other => other.strip_suffix(" times").unwrap_or(other).to_owned(),
            });
        }
        let number = part.into_inner().find_map(|part| match part.as_rule() {
            Rule::amount => Some(amount(&part)),
            _ => part.into_inner().next().map(|number| amount(&number)),
        });
        Ok(number.unwrap_or_default())
    }

    /// Stitches of which it is not said where they go.
    pub(super) fn work_without_place(&mut self, each: &str, stitch: &str, loops: &str) -> String {
        let several = if each == "1" { String::new() } else { format!("{each} ") };
        if self.in_group {
            return format!("{several}{loops}{stitch}");
        }
        if let Some(told) = self.from_the_hook(stitch, loops, each) {
            self.begun = true;
            return told;
        }
        self.begun = true;
        // A first round has no other place to go to than the ring.
        if self.on_ring {
            return format!("{several}{loops}{stitch} in ring");
        }
        if each == "1" { format!("{loops}{stitch}") } else { format!("{loops}{stitch} {each}") }
    }

    pub(super) fn worked(&mut self, whereto: Pair<'_, Rule>, each: &str, stitch: &str, loops: &str) -> Result {
        let mut place = self.whereto(whereto)?;
        // `Dec over next 2 sts` is one of them.
        let takes = takes(stitch);
        if let (Target::Some(number, None), true, "1") = (&mut place.target, takes > 1, each) {
            let places = number.parse::<u32>().ok().filter(|places| places.is_multiple_of(takes));
            *number = places.map_or(number.clone(), |places| (places / takes).to_string());
        }
        let loops = if place.loop_only.is_empty() { loops } else { place.loop_only };
        let stitch = &if place.around_post { self.around_post(stitch) } else { stitch.to_owned() };
        if self.from_hook.is_some() {
            let number = match &place.target {
                Target::Some(number, _) if each == "1" => number.clone(),
                Target::Each(_, till) | Target::Till(till) if each == "1" => till.clone(),
                _ => return Err(Unread::new("where the first stitch goes")),
            };
            return self
                .from_the_hook(stitch, loops, &number)
                .ok_or_else(|| Unread::new("where the first stitch goes"));
        }
        let passed = self.passed();
        if self.in_group && place.target == Target::Some("1".into(), None) {
            let several = if each == "1" { String::new() } else { format!("{each} ") };
            return Ok(format!("{several}{loops}{stitch}{}", place.below));
        }
        Ok(passed + &place.target.worked(each, &format!("{loops}{stitch}{}", place.below)))
    }
}

/// `4th`, from `dc in 4th ch from hook`.
pub(super) fn nth_from_hook(step: &str) -> Option<&str> {
    let (_, place) = step.split_once(" in ")?;
    place.strip_suffix(" ch from hook").filter(|nth| !nth.contains(' '))
}

/// How many places a stitch is worked over, by its name.
fn takes(stitch: &str) -> u32 {
    let together = stitch.strip_suffix("tog").and_then(|stitch| stitch.chars().last()?.to_digit(10)).unwrap_or(1);
    if matches!(stitch, "dec" | "invdec") { 2 } else { together }
}

/// How many places a step takes.
pub(super) fn places_of(told: &str) -> Option<u32> {
    let one = told.split(" in ").nth(1).is_some_and(|place| {
        matches!(place, "last" | "lead" | "next" | "first") || place.starts_with("next ch-") || place == "next ch sp"
    });
    if one {
        return Some(1);
    }
    let (stitch, number) = told.split_once(' ').unwrap_or((told, "1"));
    let together = takes(stitch);
    let stitch_alone = stitch.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    let number = number.strip_prefix("in next ").unwrap_or(number).split(' ').next()?.parse::<u32>().ok();
    number
        .filter(|_| stitch_alone && stitch != "ch" && stitch != "skip")
        .and_then(|number| number.checked_mul(together))
}

/// Whether a step stands before the chain that a line starts with.
fn comes_before_lead(step: &str) -> bool {
    ["change to ", "rejoin ", "move ", "behind ", "through ", "fasten off", "skip ", "sl st"]
        .iter()
        .any(|word| step.starts_with(word))
}

fn leave(parts: &[Pair<'_, Rule>]) -> String {
    let Some(part) = parts.first() else { return String::new() };
    match part.as_rule() {
        Rule::rest => "leave rest".to_owned(),
        Rule::last_some | Rule::left_some => {
            let number = part.clone().into_inner().find(|p| p.as_rule() == Rule::amount);
            format!("leave {}", number.map_or("1".to_owned(), |number| amount(&number)))
        }
        _ => "leave 1".to_owned(),
    }
}

/// A number as the notation writes it: `8 / 10 / 0`.
pub(super) fn amount(pair: &Pair<'_, Rule>) -> String {
    let inner = pair.as_str().trim();
    let ones: Vec<&str> = inner.split('/').map(|one| if one == "–" { "0" } else { one }).collect();
    ones.join(" / ")
}

/// The name of a stitch.
pub(super) fn name(pair: &Pair<'_, Rule>) -> String {
    pair.as_str().trim_start_matches('~').replace('_', " ")
}

/// The name of the yarn among these.
pub(super) fn yarn(parts: &[Pair<'_, Rule>]) -> String {
    let yarn = parts.iter().find(|part| part.as_rule() == Rule::yarn);
    yarn.map(|yarn| yarn.as_str().trim_start_matches('%').replace('_', " ")).unwrap_or_default()
}

/// The name of the last yarn among these.
fn last_yarn(parts: &[Pair<'_, Rule>]) -> String {
    let yarn = parts.iter().rfind(|part| part.as_rule() == Rule::yarn);
    yarn.map(|yarn| yarn.as_str().trim_start_matches('%').replace('_', " ")).unwrap_or_default()
}

/// The name of the piece in this.
pub(super) fn piece_name(pair: &Pair<'_, Rule>, pieces: &[String]) -> String {
    let piece = pair.clone().into_inner().flatten().chain([pair.clone()]).find(|part| part.as_rule() == Rule::piece);
    let at = piece.and_then(|piece| piece.as_str().trim_start_matches('@').parse::<usize>().ok());
    at.and_then(|at| pieces.get(at)).cloned().unwrap_or_default()
}

pub(super) fn texts(parts: &[Pair<'_, Rule>]) -> String {
    parts.first().map(|part| part.as_str().to_owned()).unwrap_or_default()
}

/// Whether a piece is called by an opening: `Thumb`, `Sleeves (both alike)`, `Left Sleeve`, of `sleeve`.
pub(super) fn named_for(piece: &str, opening: &str) -> bool {
    let words = piece.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase);
    words.into_iter().any(|word| word == opening || word.strip_suffix('s') == Some(opening))
}
