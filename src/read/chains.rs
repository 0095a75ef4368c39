//! Chains at the beginning and at the end of a line, and what they count as.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::places::Place;
use super::told::{Begins, Lead, Result, Teller, Unread, amount, name};

impl Teller<'_> {
    pub(super) fn chain(&mut self, parts: Vec<Pair<'_, Rule>>, first: bool) -> Result {
        let mut number = "1".to_owned();
        let begins = self.opening && !self.led;
        self.led |= begins;
        let mut lead = None;

        // `ch 1 instead of 2`: the first number is the one that is worked.
        let worked = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
        number = worked.unwrap_or(number);
        for part in parts {
            match part.as_rule() {
                Rule::counts_as | Rule::counts_bare => {
                    let inner: Vec<Pair<'_, Rule>> = part.into_inner().collect();
                    let stitch = inner.iter().find(|part| part.as_rule() == Rule::stitch).map(name);
                    let stitch = stitch.or_else(|| self.stitch_of(&number)).ok_or_else(|| Unread::new("counts as"))?;
                    let space = inner.iter().find_map(|part| match part.as_rule() {
                        Rule::amount => Some(amount(part)),
                        Rule::space => part.clone().into_inner().next().map(|number| number.as_str().to_owned()),
                        Rule::chain_word => part.as_str().trim().strip_prefix("ch-").map(str::to_owned),
                        Rule::one_chain => Some("1".to_owned()),
                        _ => None,
                    });
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
        if begins && first && matches!(&self.lead, Lead::Counted(chains, _) if *chains == number) {
            self.counts = true;
            self.begun = true;
            return Ok(String::new());
        }
        if begins
            && first
            && !matches!(&self.lead, Lead::Plain(said) | Lead::Counted(said, _) if *said == number)
            && let Some(as_said) = number.parse().ok().and_then(|chains| self.begun_with(chains))
        {
            return Ok(as_said);
        }
        Ok(format!("ch {number}"))
    }

    /// A chain that a line begins with, where the line doesn't say what it counts as.
    pub(super) fn begun_with(&mut self, chains: u32) -> Option<String> {
        match self.chains.get(&chains)? {
            Begins::Nothing => Some(format!("lead ch {chains}")),
            Begins::Chain => None,
            Begins::Stitch(tall, stitch) => {
                let told = match chains.checked_sub(*tall)? {
                    0 if self.lead == Lead::None => format!("ch {tall} as {stitch}"),
                    0 => format!("lead ch {tall} as {stitch}"),
                    space => format!("ch {tall} as {stitch}, ch {space}"),
                };
                self.begun = true;
                self.counts = true;
                Some(told)
            }
        }
    }

    /// The stitch that so many chains stand for.
    pub(super) fn stitch_of(&self, chains: &str) -> Option<String> {
        match self.chains.get(&chains.parse().ok()?)? {
            Begins::Stitch(_, stitch) => Some(stitch.clone()),
            Begins::Nothing | Begins::Chain => None,
        }
    }

    pub(super) fn counted(&mut self, all: &str, stitch: &str, space: Option<&str>, begins: bool) -> Result {
        self.begun = true;
        self.counts |= begins;
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
    pub(super) fn close(pair: Pair<'_, Rule>, told: &mut Vec<String>) -> String {
        let stitch = pair.into_inner().find(|part| part.as_rule() == Rule::stitch).map(|stitch| name(&stitch));
        let over = told.pop_if(|last| last.starts_with("skip "));
        let chains = told.last().and_then(|last| last.strip_prefix("ch ")).map(str::to_owned);
        let chains = chains.filter(|chains| chains.chars().all(|c| c.is_ascii_digit()));
        if chains.is_some() {
            told.pop();
        }
        told.extend(over);
        format!("close with ch {} and {}", chains.unwrap_or("0".into()), stitch.unwrap_or_default())
    }

    /// `Starting in 2nd ch from hook, sc 5`: the first of them goes there.
    pub(super) fn from_the_hook(&mut self, stitch: &str, loops: &str, number: &str) -> Option<String> {
        let nth = self.from_hook.take()?;
        let first = format!("{}{loops}{stitch} in {nth} ch from hook", self.skipped_chains(&nth));
        let rest = match number.parse::<u32>() {
            Ok(number) => {
                number.checked_sub(1).filter(|rest| *rest > 0).map(|rest| format!(", {loops}{stitch} {rest}"))
            }
            Err(_) => Some(format!(", {loops}{stitch} {number}")),
        };
        Some(first + &rest.unwrap_or_default())
    }

    /// What the chains count as that are skipped before the first stitch, where the text doesn't say it.
    pub(super) fn skipped_chains(&self, nth: &str) -> String {
        let digits: String = nth.chars().take_while(char::is_ascii_digit).collect();
        let Some(skipped) = digits.parse::<u32>().ok().and_then(|n| n.checked_sub(1)).filter(|n| *n > 1) else {
            return String::new();
        };
        // Where rows begin with fewer chains that count as nothing, those of the first row may count all the same.
        let other =
            matches!(&self.lead, Lead::Plain(chains) if chains.parse::<u32>().is_ok_and(|chains| chains < skipped));
        if self.lead != Lead::None && !other {
            return String::new();
        }
        match self.chains.get(&skipped) {
            Some(Begins::Stitch(tall, stitch)) if *tall == skipped => format!("turning ch {skipped} as {stitch}, "),
            Some(Begins::Stitch(tall, stitch)) => {
                format!("turning ch {skipped} as {stitch} + ch-{} sp, ", skipped.saturating_sub(*tall))
            }
            Some(Begins::Nothing) => format!("lead ch {skipped}, "),
            Some(Begins::Chain) | None => String::new(),
        }
    }

    pub(super) fn turning(&self, aside: Pair<'_, Rule>, place: Option<&Place>) -> Result {
        let place = place.map(|place| place.target.worked("1", ""));
        self.turning_of(aside, place.as_ref())
    }

    /// `(skipped ch count as dc)` behind `dc in 4th ch from hook`.
    pub(super) fn turning_of(&self, aside: Pair<'_, Rule>, told: Option<&String>) -> Result {
        let ordinal = told.and_then(|told| told.split_once(" in ")).map_or("", |(_, place)| place);
        let number: String = ordinal.chars().take_while(char::is_ascii_digit).collect();
        let skipped =
            number.parse::<u32>().ok().and_then(|n| n.checked_sub(1)).ok_or_else(|| Unread::new("skipped chains"))?;
        let told = aside
            .into_inner()
            .find(|part| matches!(part.as_rule(), Rule::skipped_count | Rule::skipped_space | Rule::skipped_nothing));
        let Some(inner) = told else { return Err(Unread::new("skipped chains")) };
        let rule = inner.as_rule();
        let parts: Vec<Pair<'_, Rule>> = inner.into_inner().collect();
        let stitch = parts.iter().find(|part| part.as_rule() == Rule::stitch).map(name);
        let stitch = stitch.or_else(|| self.stitch_of(&skipped.to_string()));
        let free = parts.iter().find(|part| part.as_rule() == Rule::left_free).map(|free| {
            let number = free.clone().into_inner().next().and_then(|number| number.as_str().trim().parse::<u32>().ok());
            number.unwrap_or(1)
        });
        let counted = free.map_or(Some(skipped), |free| skipped.checked_sub(free)).filter(|counted| *counted > 0);
        let counted = counted.ok_or_else(|| Unread::new("skipped chains"))?;
        let space = parts.iter().find_map(|part| match part.as_rule() {
            Rule::space => Some(part.as_str().to_owned()),
            Rule::skipped_more => Some(format!("ch-{} sp", part.clone().into_inner().next()?.as_str().trim())),
            Rule::chain_word => Some(format!("{} sp", part.as_str().trim())),
            _ => None,
        });
        Ok(match (rule, stitch, space) {
            (Rule::skipped_count, Some(stitch), Some(space)) => format!("turning ch {skipped} as {stitch} + {space}, "),
            (Rule::skipped_count, Some(stitch), None)
                if self.lead == Lead::Counted(counted.to_string(), stitch.clone()) =>
            {
                String::new()
            }
            (Rule::skipped_count, Some(stitch), None) => format!("turning ch {counted} as {stitch}, "),
            (Rule::skipped_space, _, Some(space)) => format!("turning ch {skipped} as {space}, "),
            (Rule::skipped_nothing, ..) if !matches!(self.lead, Lead::Plain(_)) => format!("lead ch {skipped}, "),
            (Rule::skipped_count, None, _) => return Err(Unread::new("skipped chains")),
            _ => String::new(),
        })
    }
}

/// `Turning ch 5 as dc + ch-2 sp, dc in 6th ch from hook, [ch 1, skip 1, dc]`: chains of the foundation lie beneath the first space as
/// beneath the others, so they are none of it.
pub(super) fn beneath_first_space(steps: &str) -> Option<String> {
    let rest = steps.strip_prefix("turning ch ")?;
    let (skipped, rest) = rest.split_once(" as ")?;
    let (stitch, rest) = rest.split_once(" + ch-")?;
    let (space, behind) = rest.split_once(" sp, ")?;
    let (_, repeat) = behind.split_once(" ch from hook, [ch ")?;
    let (chains, repeat) = repeat.split_once(", skip ")?;
    let missed = repeat.split(',').next()?;
    let number = |text: &str| text.trim().parse::<u32>().ok();
    let (skipped, space, chains, missed) = (number(skipped)?, number(space)?, number(chains)?, number(missed)?);
    let rest = skipped.checked_sub(missed).filter(|_| Some(space) == chains.checked_add(missed))?;
    Some(format!("turning ch {rest} as {stitch} + ch-{chains} sp, {behind}"))
}
