//! What a line says to do, from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::places::{Place, Target, mark_name, which_loop};

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
    /// Whether it is only assumed what every line starts with.
    pub assumed: bool,
    /// Whether the line is worked in a ring.
    pub on_ring: bool,
    /// Whether `rep from * 5 times` means five more.
    pub more: bool,
    /// Whether nothing of the line stands before what is read.
    pub opening: bool,
    /// Whether what is told goes into one place that is named behind it.
    pub in_group: bool,
}

impl Teller<'_> {
    /// The steps, one behind the other.
    pub fn steps(&mut self, pair: Pair<'_, Rule>) -> Result {
        let mut told: Vec<String> = Vec::new();
        let mut stop = false;
        let opening = self.opening;
        for part in pair.into_inner() {
            self.opening = opening && told.iter().all(|step| comes_before_lead(step));
            if part.as_rule() == Rule::stop {
                stop = true;
                continue;
            }
            let first = told.iter().all(|step| comes_before_lead(step));
            let Some(inner) = part.into_inner().next() else { continue };
            // Rows turn by themselves, before the chain that they start with or behind it.
            let starts =
                |step: &String| comes_before_lead(step) || step.starts_with("ch ") || step.starts_with("lead ch ");
            if opening && inner.as_rule() == Rule::turn && told.iter().all(starts) {
                continue;
            }
            if inner.as_rule() == Rule::close_tall {
                let closed = Self::close(inner, &mut told);
                told.push(closed);
                continue;
            }
            let step = self.step(inner, first)?;
            if step.is_empty() {
                continue;
            }
            told.push(if std::mem::take(&mut stop) { format!("** {step}") } else { step });
        }
        self.opening = opening;
        Ok(told.join(", "))
    }

    /// Steps that all go into one place, which is named elsewhere.
    pub fn in_one_place(&mut self, steps: Pair<'_, Rule>) -> Result {
        self.in_group = true;
        let told = self.steps(steps)?;
        self.in_group = false;
        let inner = told.strip_prefix('(').and_then(|told| told.strip_suffix(')')).filter(|inner| !inner.contains('('));
        Ok(format!("({}) in next", inner.unwrap_or(&told)))
    }

    fn step(&mut self, pair: Pair<'_, Rule>, first: bool) -> Result {
        let rule = pair.as_rule();
        let parts: Vec<Pair<'_, Rule>> = pair.clone().into_inner().collect();
        match rule {
            Rule::square | Rule::curly | Rule::star_repeat => self.repeat(parts),
            Rule::each_by => self.each_by(parts),
            Rule::together => Ok(format!("({}) together", self.inner_steps(parts, true)?)),
            Rule::group => self.group(parts),
            Rule::set_aside => self.set_aside(parts),
            Rule::leave => Ok(leave(&parts)),
            Rule::turn => Ok(if first { String::new() } else { "turn".to_owned() }),
            Rule::move_along => self.move_along(&parts),
            Rule::other_side => {
                self.on_chain = true;
                Ok("other side".to_owned())
            }
            Rule::mark => Ok(format!("mark {}", mark_name(&parts)?)),
            Rule::colour => Ok(format!("change to {}", yarn(&parts))),
            Rule::fasten_off => Ok("fasten off".to_owned()),
            Rule::join_piece => self.join_piece(parts),
            Rule::rejoin => self.rejoin(&parts),
            Rule::behind => Ok(format!("behind {} {}", self.line_word(), texts(&parts))),
            Rule::working_in => {
                self.loops = which_loop(pair).unwrap_or_default();
                Ok(String::new())
            }
            Rule::go => self.go(parts),
            Rule::evenly => self.evenly(&parts),
            Rule::lead_or_chain => self.chain(parts, first),
            Rule::skip => self.skip(parts),
            Rule::runs => self.runs(parts),
            Rule::work => self.work(parts),
            Rule::with_yarn | Rule::join_round | Rule::begin_same | Rule::nothing => Ok(String::new()),
            _ => Err(Unread::new(pair.as_str())),
        }
    }

    fn line_word(&self) -> &'static str {
        if self.round { "rnd" } else { "row" }
    }

    /// What stands in brackets, with how often.
    fn repeat(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut body, mut extent, mut stops) = (String::new(), "once".to_owned(), false);
        self.begun = true;
        for part in parts {
            match part.as_rule() {
                Rule::steps | Rule::star_steps => body = self.repeated(part)?,
                Rule::arms => body = self.arms(part)?,
                Rule::extent => extent = self.extent(&part)?,
                Rule::star_extent => extent = self.star_extent(part)?,
                Rule::ending_at => stops = true,
                _ => {}
            }
        }
        if stops && !body.contains("** ") {
            return Err(Unread::new("where the last repeat ends"));
        }
        Ok(format!("[{body}] {extent}"))
    }

    fn repeated(&mut self, steps: Pair<'_, Rule>) -> Result {
        let (led, group, opening) = (self.led, std::mem::take(&mut self.in_group), self.opening);
        self.led = true;
        let told = self.steps(steps);
        self.in_group = group;
        // A line that begins with a chain of its own has no other one before it.
        self.led = led || (opening && told.as_ref().is_ok_and(|told| told.starts_with("ch ")));
        told
    }

    fn star_extent(&mut self, pair: Pair<'_, Rule>) -> Result {
        match pair.into_inner().next() {
            None => Ok("to end".to_owned()),
            Some(part) if part.as_rule() == Rule::more => {
                let number = part.into_inner().next().map_or("1".to_owned(), |number| amount(&number));
                let all = super::edges::sum(&number, "1").ok_or_else(|| Unread::new(&number))?;
                Ok(format!("{all} times"))
            }
            Some(part) => {
                let extent = self.extent(&part)?;
                match extent.strip_suffix(" times").and_then(|number| super::edges::sum(number, "1")) {
                    Some(number) if self.more => Ok(format!("{number} times")),
                    _ => Ok(extent),
                }
            }
        }
    }

    fn extent(&mut self, pair: &Pair<'_, Rule>) -> Result {
        let Some(inner) = pair.clone().into_inner().next() else { return Err(Unread::new(pair.as_str())) };
        match inner.as_rule() {
            Rule::times | Rule::by_sign => Ok(match inner.clone().into_inner().next() {
                Some(number) => format!("{} times", amount(&number)),
                None => inner.as_str().trim().to_owned(),
            }),
            _ => self.till(&inner),
        }
    }

    fn arms(&mut self, pair: Pair<'_, Rule>) -> Result {
        let mut arms = Vec::new();
        for arm in pair.into_inner() {
            let mut kind = "st".to_owned();
            for part in arm.into_inner() {
                match part.as_rule() {
                    Rule::kind => kind = self.noun(&part)?.unwrap_or("st".into()),
                    Rule::steps => arms.push(format!("on {kind}: {}", self.steps(part)?)),
                    _ => {}
                }
            }
        }
        Ok(arms.join("; "))
    }

    fn each_by(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut arms, mut till) = (Vec::new(), "to end".to_owned());
        for part in parts {
            if part.as_rule() == Rule::till {
                till = self.till(&part)?;
                continue;
            }
            let (mut each, mut stitch, mut kind, mut loops, mut below) =
                ("1".to_owned(), String::new(), "st".to_owned(), self.loops, String::new());
            for piece in part.into_inner() {
                match piece.as_rule() {
                    Rule::amount => each = amount(&piece),
                    Rule::stitch => stitch = name(&piece),
                    Rule::hook_in => loops = which_loop(piece).unwrap_or(loops),
                    Rule::kind => kind = self.noun(&piece)?.unwrap_or("st".into()),
                    Rule::below => {
                        below =
                            format!(" {} {}s below", texts(&piece.into_inner().collect::<Vec<_>>()), self.line_word());
                    }
                    _ => {}
                }
            }
            let place = Target::Some("1".to_owned(), None);
            arms.push(format!("on {kind}: {}", place.worked(&each, &format!("{loops}{stitch}{below}"))));
        }
        self.begun = true;
        Ok(format!("[{}] {till}", arms.join("; ")))
    }

    fn inner_steps(&mut self, parts: Vec<Pair<'_, Rule>>, spread: bool) -> Result {
        let group = std::mem::replace(&mut self.in_group, !spread);
        let steps = parts.into_iter().find(|part| part.as_rule() == Rule::steps).ok_or_else(|| Unread::new("a group"));
        let told = steps.and_then(|steps| self.steps(steps));
        self.in_group = group;
        told
    }

    /// `(2 dc, ch 2, 2 dc) in next ch-2 sp`; with times behind it, it is a repeat.
    fn group(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let whereto = parts.iter().find(|part| part.as_rule() == Rule::whereto).cloned();
        let extent = parts.iter().find(|part| part.as_rule() == Rule::extent).cloned();
        let aside = parts.iter().find(|part| part.as_rule() == Rule::aside).cloned();
        let led = std::mem::replace(&mut self.led, true);
        if let Some(extent) = extent {
            let steps = self.inner_steps(parts, true)?;
            self.led = led;
            return Ok(format!("[{steps}] {}", self.extent(&extent)?));
        }
        let place = whereto.map(|whereto| self.whereto(whereto)).transpose()?;
        let steps = self.inner_steps(parts, false)?;
        self.led = led;
        let turning = aside.map(|aside| self.turning(aside, place.as_ref())).transpose()?.unwrap_or_default();
        Ok(match place {
            None if self.in_group => format!("({steps})"),
            None => return Err(Unread::new("where a group in brackets goes")),
            Some(place) => turning + &place.target.group(&steps),
        })
    }

    fn set_aside(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
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

    fn move_along(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let Some(part) = parts.first() else { return Err(Unread::new("slip stitches along")) };
        let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
        if part.as_rule() == Rule::along {
            let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
            return Ok(format!("move {}", number.unwrap_or("1".into())));
        }
        let kind = inner.iter().find(|part| part.as_rule() == Rule::kind).map(|kind| self.noun(kind)).transpose()?;
        Ok(format!("move to next {}", kind.flatten().unwrap_or("st".into())))
    }

    fn join_piece(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
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

    fn rejoin(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let yarn = parts.iter().find(|part| part.as_rule() == Rule::yarn).map(|_| format!(" {}", yarn(parts)));
        let mut at = "next".to_owned();
        for part in parts.iter().filter(|part| part.as_rule() == Rule::rejoin_at) {
            for place in part.clone().into_inner() {
                match place.as_rule() {
                    Rule::at_this_corner | Rule::after_corner => {
                        let kind = place.into_inner().next().map(|kind| self.noun(&kind)).transpose()?.flatten();
                        at = kind.map_or_else(|| "next".to_owned(), |kind| format!("next {kind}"));
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
        Ok(format!("rejoin{} in {at}", yarn.unwrap_or_default()))
    }

    fn one_place(&mut self, place: Pair<'_, Rule>) -> Result {
        let Some(target) = place.into_inner().next() else { return Err(Unread::new("a place")) };
        match self.target(target)? {
            Target::In(place) => Ok(place),
            Target::Some(number, None) if number == "1" => Ok("next".to_owned()),
            Target::Some(number, Some(kind)) if number == "1" => Ok(format!("next {kind}")),
            Target::Some(..) | Target::Till(_) | Target::Each(..) => Err(Unread::new("one place")),
        }
    }

    fn go(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let place = parts.into_iter().next().ok_or_else(|| Unread::new("a place"))?;
        Ok(format!("in {}", self.one_place(place)?))
    }

    fn evenly(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
        let stitches: Vec<String> = parts.iter().filter(|part| part.as_rule() == Rule::stitch).map(name).collect();
        let till = parts.iter().find(|part| part.as_rule() == Rule::till).map(|till| self.till(till)).transpose()?;
        let [more, plain] = stitches.as_slice() else { return Err(Unread::new("what is spread evenly")) };
        Ok(format!("{number} {more} evenly in {plain} {}", till.unwrap_or("to end".into())))
    }

    fn chain(&mut self, parts: Vec<Pair<'_, Rule>>, first: bool) -> Result {
        let mut number = "1".to_owned();
        let begins = self.opening && !self.led;
        self.led |= begins;
        let mut lead = None;
        for part in parts {
            match part.as_rule() {
                Rule::amount => number = amount(&part),
                Rule::counts_as => {
                    let inner: Vec<Pair<'_, Rule>> = part.into_inner().collect();
                    let stitch = inner.iter().find(|part| part.as_rule() == Rule::stitch).map(name).unwrap_or_default();
                    let space = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
                    return self.counted(&number, &stitch, space.as_deref(), begins);
                }
                Rule::counts_nothing => lead = Some(format!("lead ch {number}")),
                _ => {}
            }
        }
        if let Some(lead) = lead {
            return Ok(if self.lead == Lead::Plain(number) { String::new() } else { lead });
        }
        if begins && first && self.lead == Lead::Plain(number.clone()) {
            return Ok(String::new());
        }
        let counted = matches!(&self.lead, Lead::Counted(chains, _) if *chains == number);
        if begins && first && self.assumed && counted {
            return Ok(String::new());
        }
        Ok(format!("ch {number}"))
    }

    fn counted(&mut self, all: &str, stitch: &str, space: Option<&str>, begins: bool) -> Result {
        self.begun = true;
        let Some(space) = space else {
            if begins && self.lead == Lead::Counted(all.to_owned(), stitch.to_owned()) {
                return Ok(String::new());
            }
            let own = if begins && self.lead != Lead::None { "lead " } else { "" };
            return Ok(format!("{own}ch {all} as {stitch}"));
        };
        let number = |text: &str| text.parse::<u32>().ok();
        let tall = number(all).zip(number(space)).and_then(|(all, space)| all.checked_sub(space));
        let tall = tall.ok_or_else(|| Unread::new("a chain that counts"))?;
        Ok(format!("ch {tall} as {stitch}, ch {space}"))
    }

    /// `join with tr in first sc (counts as last ch-4 sp)`, with the chain before it.
    fn close(pair: Pair<'_, Rule>, told: &mut Vec<String>) -> String {
        let stitch = pair.into_inner().find(|part| part.as_rule() == Rule::stitch).map(|stitch| name(&stitch));
        let chains = told.last().and_then(|last| last.strip_prefix("ch ")).map(str::to_owned);
        let chains = chains.filter(|chains| chains.chars().all(|c| c.is_ascii_digit()));
        if chains.is_some() {
            told.pop();
        }
        format!("close with ch {} and {}", chains.unwrap_or("0".into()), stitch.unwrap_or_default())
    }

    fn skip(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let target = parts.into_iter().next().ok_or_else(|| Unread::new("what is skipped"))?;
        let inner: Vec<Pair<'_, Rule>> = target.into_inner().collect();
        if let Some(target) = inner.iter().find(|part| part.as_rule() == Rule::target) {
            return self.target(target.clone())?.skipped();
        }
        let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map_or("1".to_owned(), amount);
        let kind = inner.iter().find(|part| part.as_rule() == Rule::kind).map(|kind| self.noun(kind)).transpose()?;
        Target::Some(number, kind.flatten()).skipped()
    }

    fn runs(&mut self, mut parts: Vec<Pair<'_, Rule>>) -> Result {
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

    fn work(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut each, mut stitch, mut loops) = ("1".to_owned(), String::new(), self.loops);
        let (mut told, mut turning): (Vec<String>, String) = (Vec::new(), String::new());
        for part in parts {
            match part.as_rule() {
                Rule::amount => each = amount(&part),
                Rule::stitch => stitch = name(&part),
                Rule::loop_before => loops = which_loop(part).unwrap_or(loops),
                Rule::own_times => {
                    let number = part.into_inner().find_map(|p| match p.as_rule() {
                        Rule::amount => Some(amount(&p)),
                        _ => p.into_inner().next().map(|p| amount(&p)),
                    });
                    told.push(format!("{loops}{stitch} {}", number.unwrap_or_default()));
                }
                Rule::below => {
                    let number = part.into_inner().next().map(|number| number.as_str().to_owned());
                    stitch = format!("{stitch} {} {}s below", number.unwrap_or_default(), self.line_word());
                }
                Rule::extent => told.push(format!("{loops}{stitch} {}", self.extent(&part)?)),
                Rule::whereto => told.push(self.worked(part, &each, &stitch, loops, &mut turning)?),
                Rule::and_where => {
                    for whereto in part.into_inner() {
                        told.push(self.worked(whereto, &each, &stitch, loops, &mut turning)?);
                    }
                }
                Rule::aside => turning = self.turning_of(part, told.last())?,
                _ => {}
            }
        }
        if !told.is_empty() {
            self.begun = true;
            return Ok(turning + &told.join(", "));
        }
        let several = if each == "1" { String::new() } else { format!("{each} ") };
        if self.in_group {
            return Ok(format!("{several}{loops}{stitch}"));
        }
        let on_ring = !std::mem::replace(&mut self.begun, true) && self.on_ring;
        if on_ring {
            return Ok(format!("{several}{loops}{stitch} in ring"));
        }
        Ok(if each == "1" { format!("{loops}{stitch}") } else { format!("{loops}{stitch} {each}") })
    }

    fn worked(
        &mut self,
        whereto: Pair<'_, Rule>,
        each: &str,
        stitch: &str,
        loops: &str,
        _turning: &mut String,
    ) -> Result {
        let place = self.whereto(whereto)?;
        let loops = if place.loop_only.is_empty() { loops } else { place.loop_only };
        if self.in_group && place.target == Target::Some("1".into(), None) {
            let several = if each == "1" { String::new() } else { format!("{each} ") };
            return Ok(format!("{several}{loops}{stitch}{}", place.below));
        }
        Ok(place.target.worked(each, &format!("{loops}{stitch}{}", place.below)))
    }

    fn turning(&self, aside: Pair<'_, Rule>, place: Option<&Place>) -> Result {
        let place = place.map(|place| place.target.worked("1", ""));
        self.turning_of(aside, place.as_ref())
    }

    /// `(skipped ch count as dc)` behind `dc in 4th ch from hook`.
    fn turning_of(&self, aside: Pair<'_, Rule>, told: Option<&String>) -> Result {
        let ordinal = told.and_then(|told| told.split_once(" in ")).map_or("", |(_, place)| place);
        let number: String = ordinal.chars().take_while(char::is_ascii_digit).collect();
        let skipped =
            number.parse::<u32>().ok().and_then(|n| n.checked_sub(1)).ok_or_else(|| Unread::new("skipped chains"))?;
        let Some(inner) = aside.into_inner().next() else { return Ok(String::new()) };
        let rule = inner.as_rule();
        let parts: Vec<Pair<'_, Rule>> = inner.into_inner().collect();
        let stitch = parts.iter().find(|part| part.as_rule() == Rule::stitch).map(name);
        let space = parts.iter().find(|part| part.as_rule() == Rule::space).map(|space| space.as_str().to_owned());
        Ok(match (rule, stitch, space) {
            (Rule::skipped_count, Some(stitch), Some(space)) => format!("turning ch {skipped} as {stitch} + {space}, "),
            (Rule::skipped_count, Some(stitch), None)
                if self.lead == Lead::Counted(skipped.to_string(), stitch.clone()) =>
            {
                String::new()
            }
            (Rule::skipped_count, Some(stitch), None) => format!("turning ch {skipped} as {stitch}, "),
            (Rule::skipped_space, _, Some(space)) => format!("turning ch {skipped} as {space}, "),
            (Rule::skipped_nothing, ..) if self.lead == Lead::None => format!("lead ch {skipped}, "),
            _ => String::new(),
        })
    }
}

/// Whether a step stands before the chain that a line starts with.
fn comes_before_lead(step: &str) -> bool {
    ["change to ", "rejoin ", "move ", "behind ", "fasten off", "skip "].iter().any(|word| step.starts_with(word))
}

fn leave(parts: &[Pair<'_, Rule>]) -> String {
    let Some(part) = parts.first() else { return String::new() };
    match part.as_rule() {
        Rule::rest => "leave rest".to_owned(),
        Rule::last_some => {
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

/// The name of the piece in this.
pub(super) fn piece_name(pair: &Pair<'_, Rule>, pieces: &[String]) -> String {
    let piece = pair.clone().into_inner().flatten().chain([pair.clone()]).find(|part| part.as_rule() == Rule::piece);
    let at = piece.and_then(|piece| piece.as_str().trim_start_matches('@').parse::<usize>().ok());
    at.and_then(|at| pieces.get(at)).cloned().unwrap_or_default()
}

fn texts(parts: &[Pair<'_, Rule>]) -> String {
    parts.first().map(|part| part.as_str().to_owned()).unwrap_or_default()
}
