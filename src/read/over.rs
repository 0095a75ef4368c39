//! What is worked over and over, and what goes into one place, from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::lexicon::is_number;
use super::places::{Target, which_loop};
use super::told::{Result, Teller, Unread, amount, name, nth_from_hook, places_of, texts};

impl Teller<'_> {
    /// `3 x (sc, inc)`.
    pub(super) fn times_before(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
        self.begun = true;
        let steps =
            parts.into_iter().find(|part| part.as_rule() == Rule::steps).ok_or_else(|| Unread::new("a repeat"))?;
        Ok(format!("[{}] {number} times", self.repeated(steps)?))
    }

    /// What stands in brackets, with how often.
    pub(super) fn repeat(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut body, mut extent, mut stops, mut ending) = (String::new(), "once".to_owned(), false, None);
        let mut of_last = false;
        let said = parts
            .iter()
            .any(|part| !matches!(part.as_rule(), Rule::steps | Rule::star_steps | Rule::whole_steps | Rule::arms));
        self.begun = true;
        for part in parts {
            match part.as_rule() {
                Rule::bare_times => {
                    extent = format!("{} times", part.into_inner().map(|number| amount(&number)).collect::<String>());
                }
                Rule::till => extent = self.till(&part)?,
                Rule::ending_so => {
                    of_last = part.as_str().contains("last rep");
                    ending = part.into_inner().next();
                }
                Rule::steps | Rule::star_steps | Rule::whole_steps => body = begins_anew(&self.repeated(part)?),
                Rule::arms => body = self.arms(part)?,
                Rule::extent => extent = self.extent(&part)?,
                Rule::star_more | Rule::star_extent => extent = self.star_extent(part)?,
                Rule::ending_at => stops = true,
                _ => {}
            }
        }
        if stops && !body.contains("** ") {
            return Err(Unread::new("where the last repeat ends"));
        }
        if !said {
            return Err(Unread::new("how often this is repeated"));
        }
        let Some(ending) = ending else { return Ok(format!("[{body}] {extent}")) };
        if of_last && extent == "to end" && ending.as_rule() == Rule::step {
            let before = self.clone();
            let told = ending.clone().into_inner().next().map(|step| self.step(step, false)).transpose()?;
            if let Some(stopped) = told.and_then(|told| in_place_of_last(&body, &told)) {
                return Ok(stopped);
            }
            *self = before;
        }
        self.ending_so(&body, &extent, ending)
    }

    /// `…; rep from * across, ending with sc in last st`: what stands at the end is left over by the repeat.
    pub(super) fn ending_so(&mut self, body: &str, extent: &str, ending: Pair<'_, Rule>) -> Result {
        let words = ending.as_str().to_owned();
        match ending.as_rule() {
            Rule::alike_to_end => return Ok(format!("[{body}] {extent}")),
            Rule::closing_tall => return self.closing_tall(body, extent, ending),
            Rule::omitting => return omitting(body, extent, ending),
            _ => {}
        }
        let step = ending.into_inner().next().ok_or_else(|| Unread::new(&words))?;
        let told = self.step(step, false)?;
        // What only closes the round takes no place of its own.
        if told.is_empty() {
            return Ok(format!("[{body}] {extent}"));
        }
        if let Some(stopped) = stopped_at(body, &told) {
            return Ok(format!("[{stopped}] {extent}"));
        }
        if extent.ends_with(" times") || extent == "twice" {
            return Ok(format!("[{body}] {extent}, {told}"));
        }
        let places = places_of(&told).filter(|_| extent == "to end").ok_or_else(|| Unread::new(&words))?;
        Ok(format!("[{body}] to last {places}, {told}"))
    }

    /// `…, ending with ch 2, dc in first sc`: in a round that is its last space, in a row its last stitch.
    fn closing_tall(&mut self, body: &str, extent: &str, ending: Pair<'_, Rule>) -> Result {
        let words = ending.as_str().to_owned();
        let unread = || Unread::new(&words);
        let (mut chains, mut back) = (String::new(), None);
        for part in ending.into_inner() {
            match part.as_rule() {
                Rule::placed_chain => chains = part.into_inner().map(|number| amount(&number)).collect(),
                _ => back = Some(part),
            }
        }
        let back = back.filter(|_| extent == "to end").ok_or_else(unread)?;
        if self.round {
            let stitch = back.into_inner().find(|part| part.as_rule() == Rule::stitch).ok_or_else(unread)?;
            self.joins = true;
            return Ok(format!("[{body}] to end, close with ch {chains} and {}", name(&stitch)));
        }
        let work = super::pattern::parsed(Rule::work, back.as_str()).ok_or_else(unread)?;
        let told = self.work(work.into_inner().collect())?;
        let places = places_of(&told).ok_or_else(unread)?;
        Ok(format!("[{body}] to last {places}, ch {chains}, {told}"))
    }

    /// `2 tr with ch 2 between in next loop`: each behind the other, and the chain between two.
    pub(super) fn with_between(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        const MOST: usize = 60;
        let (mut number, mut stitch, mut chain, mut place) = (0, String::new(), String::new(), None);
        for part in parts {
            match part.as_rule() {
                Rule::amount => number = part.as_str().trim().parse().unwrap_or(0),
                Rule::stitch if stitch.is_empty() => stitch = name(&part),
                Rule::placed_chain => chain = part.into_inner().map(|chains| amount(&chains)).collect(),
                Rule::whereto => place = Some(self.whereto(part)?),
                _ => {}
            }
        }
        let place = place
            .filter(|_| (2..=MOST).contains(&number))
            .ok_or_else(|| Unread::new("how many with chains between"))?;
        let steps = vec![stitch; number].join(&format!(", ch {chain}, "));
        self.begun = true;
        self.corner_of(&steps);
        Ok(self.passed() + &place.target.group(&steps))
    }

    /// Stitches that cross those just made.
    pub(super) fn crossed(&mut self, parts: &[Pair<'_, Rule>]) -> String {
        let of = |rule: Rule| parts.iter().find(|part| part.as_rule() == rule);
        let stitch = of(Rule::stitch).map(name).unwrap_or_default();
        let number = of(Rule::amount).map(|number| amount(number) + " ").unwrap_or_default();
        let side = if of(Rule::in_front).is_some() { "in front" } else { "behind" };
        self.begun = true;
        format!("{stitch} in {number}skipped {side}")
    }

    /// The whole line up to there, over and over.
    pub(super) fn from_beginning(&mut self, pair: Pair<'_, Rule>) -> Result {
        let opens = self.opening && !self.led && pair.as_rule() == Rule::times_behind;
        let told = self.repeat(pair.into_inner().collect())?;
        Ok(if opens { self.led_before_repeat(&told).unwrap_or(told) } else { told })
    }

    /// `Ch 2, fpdc, bpdc, repeat around`: the chain that the line begins with is none of the repeat, but where it goes over something.
    fn led_before_repeat(&mut self, told: &str) -> Option<String> {
        const TALLEST: u32 = 4;
        let (chain, rest) = told.strip_prefix("[ch ")?.split_once(", ")?;
        let chains = chain.parse::<u32>().ok().filter(|chains| *chains <= TALLEST)?;
        let over = rest.starts_with("skip") || rest.split(", ").next()?.contains(" sp");
        let lead = self.begun_with(chains).unwrap_or_else(|| format!("ch {chains}"));
        (!over).then(|| format!("{lead}, [{rest}"))
    }

    /// `In next sp make dc, ch 3, dc`.
    pub(super) fn group_after(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut place, mut steps, mut aside) = (None, String::new(), None);
        let led = std::mem::replace(&mut self.led, true);
        for part in parts {
            match part.as_rule() {
                Rule::target => place = Some(self.target(part)?),
                Rule::one_place_steps => steps = one_place_steps(part),
                Rule::aside => aside = Some(part),
                _ => {
                    let group = std::mem::replace(&mut self.in_group, true);
                    let told = self.steps(part);
                    self.in_group = group;
                    steps = told?;
                }
            }
        }
        self.led = led;
        self.begun = true;
        self.corner_of(&steps);
        let place = place.ok_or_else(|| Unread::new("a place"))?;
        let there = place.worked("1", "");
        let turning = aside.map(|aside| self.turning_of(aside, Some(&there))).transpose()?.unwrap_or_default();
        if steps.contains(", ") {
            return Ok(self.passed() + &turning + &place.group(&steps));
        }
        let (each, stitch) = steps.split_once(' ').unwrap_or(("1", &steps));
        Ok(self.passed() + &turning + &place.worked(each, stitch))
    }

    pub(super) fn repeated(&mut self, steps: Pair<'_, Rule>) -> Result {
        let (led, group, opening) = (self.led, std::mem::take(&mut self.in_group), self.opening);
        self.led = true;
        let told = self.steps(steps);
        self.in_group = group;
        // A line that begins with a chain of its own has no other one before it.
        self.led = led || (opening && told.as_ref().is_ok_and(|told| told.starts_with("ch ")));
        told
    }

    pub(super) fn star_extent(&mut self, pair: Pair<'_, Rule>) -> Result {
        match pair.into_inner().next() {
            None => Ok("to end".to_owned()),
            Some(part) if part.as_rule() == Rule::more => {
                let number = part.into_inner().next().map_or("1".to_owned(), |number| match number.as_rule() {
                    Rule::twice => "2".to_owned(),
                    _ => amount(&number),
                });
                let all = super::edges::sum(&number, "1").ok_or_else(|| Unread::new(&number))?;
                Ok(format!("{all} times"))
            }
            Some(part) => {
                let extent = self.extent(&part)?;
                let often = if extent == "twice" { "2 times" } else { extent.as_str() };
                match often.strip_suffix(" times").and_then(|number| super::edges::sum(number, "1")) {
                    Some(number) if self.more => Ok(format!("{number} times")),
                    // What stands before is worked once already: `rep from * once` is once more.
                    _ if extent == "once" => Ok("2 times".to_owned()),
                    _ => Ok(extent),
                }
            }
        }
    }

    pub(super) fn extent(&mut self, pair: &Pair<'_, Rule>) -> Result {
        let Some(inner) = pair.clone().into_inner().next() else { return Err(Unread::new(pair.as_str())) };
        match inner.as_rule() {
            Rule::times | Rule::by_sign | Rule::bare_times => Ok(match inner.clone().into_inner().next() {
                Some(number) => format!("{} times", amount(&number)),
                None => inner.as_str().trim().to_owned(),
            }),
            _ => self.till(&inner),
        }
    }

    pub(super) fn arms(&mut self, pair: Pair<'_, Rule>) -> Result {
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

    /// Squares of filet, in the stitch that the rows begin with.
    pub(super) fn filet(&self, parts: &[Pair<'_, Rule>]) -> Result {
        let super::told::Lead::Counted(_, stitch) = &self.lead else { return Err(Unread::new("squares")) };
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
        let is_open = parts.iter().any(|part| part.as_rule() == Rule::open_square);
        let squares = format!("{} {number} times", square(stitch, is_open));
        if parts.iter().any(|part| part.as_rule() == Rule::without_its_last) {
            return without_upright(&squares, stitch).ok_or_else(|| Unread::new("squares"));
        }
        Ok(squares)
    }

    pub(super) fn each_by(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
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
            // Of a space the step has to say that it goes into the whole of it.
            let place = Target::Some("1".to_owned(), Some(kind.clone()).filter(|kind| kind.ends_with(" sp")));
            arms.push(format!("on {kind}: {}", place.worked(&each, &format!("{loops}{stitch}{below}"))));
        }
        self.begun = true;
        Ok(format!("[{}] {till}", arms.join("; ")))
    }

    pub(super) fn inner_steps(&mut self, parts: Vec<Pair<'_, Rule>>, spread: bool) -> Result {
        let group = std::mem::replace(&mut self.in_group, !spread);
        let steps = parts.into_iter().find(|part| part.as_rule() == Rule::steps).ok_or_else(|| Unread::new("a group"));
        let told = steps.and_then(|steps| self.steps(steps));
        self.in_group = group;
        told
    }

    /// `(2 dc, ch 2, 2 dc) in next ch-2 sp`; with times behind it, it is a repeat.
    pub(super) fn group(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let whereto = parts.iter().find(|part| part.as_rule() == Rule::whereto).cloned();
        let extent = parts.iter().find(|part| part.as_rule() == Rule::extent).cloned();
        let bare = parts
            .iter()
            .find(|part| part.as_rule() == Rule::bare_times)
            .map(|part| part.clone().into_inner().map(|number| amount(&number)).collect::<String>());
        let ending = parts
            .iter()
            .find(|part| part.as_rule() == Rule::ending_so)
            .and_then(|part| part.clone().into_inner().next());
        let aside = parts.iter().find(|part| part.as_rule() == Rule::aside).cloned();
        let also: Vec<Pair<'_, Rule>> =
            parts.iter().filter(|part| part.as_rule() == Rule::and_where).cloned().collect();
        let times = group_times(&parts);
        let led = std::mem::replace(&mut self.led, true);
        if extent.is_some() || bare.is_some() {
            self.begun = true;
            let steps = self.inner_steps(parts, true)?;
            self.led = led;
            let extent = match (extent, bare) {
                (Some(extent), _) => self.extent(&extent)?,
                (None, bare) => format!("{} times", bare.unwrap_or_default()),
            };
            return match ending {
                Some(ending) => self.ending_so(&steps, &extent, ending),
                None => Ok(format!("[{steps}] {extent}")),
            };
        }
        let unsaid = self.on_chain && !self.begun && aside.is_none();
        let place = whereto.map(|whereto| self.whereto(whereto)).transpose()?;
        let steps = self.inner_steps(parts, false)?;
        let steps = times.map_or(steps.clone(), |times| format!("[{steps}] {times} times"));
        self.led = led;
        let mut turning = aside.map(|aside| self.turning(aside, place.as_ref())).transpose()?.unwrap_or_default();
        if unsaid
            && let Some(nth) = place
                .as_ref()
                .and_then(|place| Some(place.target.worked("1", "")).filter(|step| nth_from_hook(step).is_some()))
        {
            turning = self.skipped_chains(nth_from_hook(&nth).unwrap_or_default());
        }
        Ok(match place {
            None if self.in_group => format!("({steps})"),
            None => return Err(Unread::new("where a group in brackets goes")),
            Some(place) => {
                self.corner_of(&steps);
                let first = self.passed() + &turning + &place.target.group(&steps);
                self.group_also(first, &steps, also)?
            }
        })
    }

    /// `(2 dc, ch 2, 2 dc) in same sp and in each ch-2 sp around`: the same group in other places as well.
    fn group_also(&mut self, first: String, steps: &str, also: Vec<Pair<'_, Rule>>) -> Result {
        let mut told = vec![first];
        for part in also.into_iter().flat_map(Pair::into_inner) {
            let target = match part.as_rule() {
                Rule::whereto => self.whereto(part)?.target,
                Rule::each_kind => {
                    let till = part.clone().into_inner().find(|part| part.as_rule() == Rule::till);
                    let till = till.map_or_else(|| Ok("to end".to_owned()), |till| self.till(&till))?;
                    let kind = part.into_inner().next().map(|kind| self.noun(&kind)).transpose()?.flatten();
                    kind.map_or_else(|| Target::Till(till.clone()), |kind| Target::Each(kind, till.clone()))
                }
                _ => return Err(Unread::new("where else the group goes")),
            };
            told.push(target.group(steps));
        }
        Ok(told.join(", "))
    }

    /// A group with a chain in its middle makes a corner.
    pub(super) fn corner_of(&mut self, steps: &str) {
        // A chain before all else is what the round begins with.
        let chain = steps
            .split(", ")
            .skip(1)
            .find_map(|step| step.strip_prefix("ch "))
            .filter(|number| number.chars().all(|c| c.is_ascii_digit()));
        if let Some(number) = chain {
            self.corner_made = Some(format!("ch-{number} sp"));
            // Where the rounds below have none, the corners are those that are made here.
            self.corner = self.corner.take().or(self.corner_made.clone());
        }
    }
}

/// How often a group is worked in its place: `(cl, ch 2) twice in each ch-1 sp`.
fn group_times(parts: &[Pair<'_, Rule>]) -> Option<String> {
    let times = parts.iter().find(|part| part.as_rule() == Rule::group_times)?;
    let number = times.clone().into_inner().find(|part| part.as_rule() == Rule::amount);
    Some(number.map_or_else(|| "2".to_owned(), |number| amount(&number)))
}

/// Steps that go into one place: `dc, ch 3, 2 dc`, `(dc, ch 1) twice`.
pub(super) fn one_place_steps(pair: Pair<'_, Rule>) -> String {
    pair.into_inner().map(one_in_place).collect::<Vec<_>>().join(", ")
}

fn one_in_place(one: Pair<'_, Rule>) -> String {
    let (mut number, mut stitch, mut chain, mut times) = (String::new(), String::new(), None, None);
    let mut several = Vec::new();
    for part in one.into_inner() {
        match part.as_rule() {
            Rule::placed_chain => chain = part.into_inner().next().map(|number| amount(&number)),
            Rule::amount => number = amount(&part) + " ",
            Rule::one_in_place => several.push(one_in_place(part)),
            Rule::place_times => {
                times = Some(part.into_inner().next().map_or("2".to_owned(), |number| amount(&number)));
            }
            _ => stitch = name(&part),
        }
    }
    match (chain, times) {
        (_, Some(times)) => format!("[{}] {times} times", several.join(", ")),
        (Some(chains), _) => format!("ch {chains}"),
        (None, _) if number == "1 " => stitch,
        (None, _) => number + &stitch,
    }
}

/// A square of filet, in brackets.
fn square(stitch: &str, is_open: bool) -> String {
    if is_open {
        format!("[ch 2, skip 2, {stitch}]")
    } else {
        format!("[on ch-2 sp: 2 {stitch} in next ch-2 sp, {stitch}; on st: {stitch} 3]")
    }
}

/// Squares of filet without the stitch that the last of them ends with: a round is closed by the one that it begins with.
fn without_upright(squares: &str, stitch: &str) -> Option<String> {
    let of = |is_open: bool| squares.strip_prefix(square(stitch, is_open).as_str()).map(|rest| (is_open, rest));
    let (is_open, rest) = of(true).or_else(|| of(false))?;
    let number = rest.trim().strip_suffix(" times")?.parse::<u32>().ok()?.checked_sub(1)?;
    let last = if is_open {
        "ch 2, skip 2".to_owned()
    } else {
        format!("[on ch-2 sp: 2 {stitch} in next ch-2 sp; on st: {stitch} 2] 1 times")
    };
    Some(if number == 0 { last } else { format!("{} {number} times, {last}", square(stitch, is_open)) })
}

/// `…; rep from * around, omitting last sc`: the last step of the repeat is not worked the last time.
fn omitting(body: &str, extent: &str, ending: Pair<'_, Rule>) -> Result {
    let words = ending.as_str().to_owned();
    let unread = || Unread::new(&words);
    let (mut left, mut several) = (String::new(), false);
    for part in ending.into_inner() {
        match part.as_rule() {
            Rule::placed_chain => {
                left = format!("ch {}", part.into_inner().map(|number| amount(&number)).collect::<String>());
            }
            Rule::stitch => left = name(&part),
            Rule::amount => several = amount(&part) != "1",
            _ => {}
        }
    }
    let steps = top_steps(body);
    let (last, before) = steps.split_last().ok_or_else(unread)?;
    if let Some(kept) = without_upright(last, &left).filter(|_| !several) {
        let all: Vec<String> = before.iter().map(|step| (*step).to_owned()).chain([kept]).collect();
        return Ok(format!("[{}, ** {left}] {extent}", all.join(", ")));
    }
    if let Some((kept, left)) = one_less(last, &left).filter(|_| !several && !body.contains("** ")) {
        return Ok(format!("[{}, {kept}, ** {left}] {extent}", before.join(", ")));
    }
    let same = *last == left || last.strip_prefix(left.as_str()).is_some_and(|rest| rest.starts_with(" in next"));
    if !same || body.contains("** ") || before.is_empty() {
        return Err(unread());
    }
    Ok(format!("[{}, ** {last}] {extent}", before.join(", ")))
}

/// `*Sc in the first stitch, …* repeat around`: in a repeat the first is the next one each time.
fn begins_anew(body: &str) -> String {
    let (first, rest) = body.split_at(body.find(", ").unwrap_or(body.len()));
    let begins = first.strip_suffix(" in first");
    match begins.filter(|stitch| !stitch.contains(['(', '[']) && stitch.split(' ').count() <= 2) {
        Some(stitch) if stitch.starts_with(|c: char| c.is_ascii_digit()) => format!("{stitch} in next{rest}"),
        Some(stitch) => format!("{stitch}{rest}"),
        None => body.to_owned(),
    }
}

/// The last step of a repeat without its last stitch, and that: `tr in next 3 tr` is two and one.
fn one_less(step: &str, left: &str) -> Option<(String, String)> {
    let rest = step.strip_prefix(left)?;
    let (place, kind) = match rest.strip_prefix(" in next ") {
        Some(rest) => rest.split_once(' ').map(|(number, kind)| (number, format!(" in next {{}} {kind}")))?,
        None => (rest.strip_prefix(' ')?, " {}".to_owned()),
    };
    let number = place.parse::<u32>().ok().filter(|number| *number > 1)?;
    let some = |number: u32| format!("{left}{}", kind.replace("{}", &number.to_string()));
    Some((some(number.saturating_sub(1)), some(1)))
}

/// A repeat whose last time ends behind one of its steps, the last such one; nothing where there is none.
fn stopped_at(body: &str, step: &str) -> Option<String> {
    let steps = top_steps(body);
    let last = steps.len().checked_sub(1)?;
    if body.contains("** ") {
        return None;
    }
    if steps.get(last).is_some_and(|one| *one == step) {
        return Some(body.to_owned());
    }
    let at = steps.iter().rposition(|one| *one == step)?;
    let (before, behind) = steps.split_at_checked(at + 1)?;
    Some(format!("{}, ** {}", before.join(", "), behind.join(", ")))
}

/// Steps that stand in no brackets of a line.
pub(super) fn top_steps(line: &str) -> Vec<&str> {
    let (mut steps, mut from, mut depth) = (Vec::new(), 0, 0_u32);
    for (at, c) in line.char_indices() {
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            ',' if depth == 0 => {
                steps.push(line.get(from..at).unwrap_or_default().trim());
                from = at + 1;
            }
            _ => {}
        }
    }
    steps.push(line.get(from..).unwrap_or_default().trim());
    steps
}

/// `*…, 3 sc in next sc; rep from * across, ending last rep with 2 sc in last sc`: those stand in the place of the last step of the repeat.
fn in_place_of_last(body: &str, told: &str) -> Option<String> {
    let steps = top_steps(body);
    let (last, before) = steps.split_last().map(|(last, before)| (*last, before))?;
    let stitch = |step: &str| {
        let word = |word: &&str| word.starts_with(|c: char| c.is_ascii_lowercase()) && !matches!(*word, "blo" | "flo");
        step.split(' ').find(word).map(str::to_owned)
    };
    let single = |step: &str| !step.contains(['(', '[', ',']) && !step.starts_with("ch ") && !step.starts_with("skip ");
    let alike = single(last) && single(told) && stitch(last) == stitch(told) && !body.contains("** ");
    // `…, finish the last repeat with 3 tr instead of 5`: where those would have gone.
    let (named, fewer) = told.split_once(' ').unwrap_or((told, ""));
    let place = last.split_once(&format!(" {named} ")).map(|(_, place)| place).filter(|_| is_number(fewer));
    let told = match place {
        Some(place) => format!("{fewer} {named} {place}"),
        None => told.strip_suffix(" in last").map_or_else(|| told.to_owned(), |told| format!("{told} in next")),
    };
    (alike && !before.is_empty()).then(|| format!("[{}, ** {last}] to end, {told}", before.join(", ")))
}
