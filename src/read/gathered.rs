//! Several stitches that are one, that go into one place, or that are spread: from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::places::{Target, which_loop};
use super::told::{Result, Teller, Unread, amount, name};

impl Teller<'_> {
    /// Whether what has been told ends with a chain that may be the last of its round.
    pub(super) fn closes(&self, told: &[String]) -> bool {
        let chain = told.last().and_then(|last| last.strip_prefix("ch "));
        let number = chain.is_some_and(|chains| chains.chars().all(|c| c.is_ascii_digit()));
        self.round && !self.in_group && !self.to_and_fro && number && told.len() > 1
    }

    /// The chain behind a turn of a small piece; nothing where every row starts with it.
    pub(super) fn lead_of_turn(&mut self, chain: Pair<'_, Rule>) -> Result<Option<String>> {
        let (opening, led) = (std::mem::replace(&mut self.opening, true), std::mem::replace(&mut self.led, false));
        let told = self.chain(chain.into_inner().collect(), true);
        (self.opening, self.led) = (opening, led);
        told.map(|told| Some(told).filter(|told| !told.is_empty()))
    }

    /// `Work a small piece to and fro [sc in next 6 sts, turn, …]`.
    pub(super) fn small_piece(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut told, mut row_ends) = (String::new(), "");
        for part in parts {
            match part.as_rule() {
                Rule::steps => {
                    let inside = std::mem::replace(&mut self.to_and_fro, true);
                    let led = std::mem::replace(&mut self.led, true);
                    let steps = self.steps(part);
                    (self.to_and_fro, self.led) = (inside, led);
                    told = steps?;
                }
                Rule::with_row_ends => row_ends = " with row ends",
                _ => {}
            }
        }
        self.begun = true;
        Ok(format!("({told}) to and fro{row_ends}"))
    }

    /// Each stitch of the line goes through a loop that was left free as well.
    pub(super) fn through_loops(&self, parts: &[Pair<'_, Rule>]) -> Result {
        let which = parts.iter().find(|part| part.as_rule() == Rule::which_loop).map(Pair::as_str);
        let number = parts.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
        let (Some(which), Some(number)) = (which, number) else { return Err(Unread::new("free loops")) };
        Ok(format!("through {which} loops of {} {number}", self.line_word()))
    }

    /// `5 tr in next sp, holding back the last loop of each`: one cluster; one in each of several places is worked off together.
    pub(super) fn held_back(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        const MOST: u32 = 6;
        let (mut number, mut stitch, mut target, mut loops) = (1, String::new(), None, self.loops);
        for part in parts {
            match part.as_rule() {
                Rule::amount => number = amount(&part).parse().map_err(|_| Unread::new("a cluster"))?,
                Rule::stitch if target.is_none() => {
                    let name = name(&part);
                    if !stitch.is_empty() && stitch != name {
                        return Err(Unread::new("whose last loop is held back"));
                    }
                    stitch = name;
                }
                Rule::hook_in => loops = which_loop(part).unwrap_or(loops),
                Rule::target => target = Some(self.target(part)?),
                _ => {}
            }
        }
        let target = target.ok_or_else(|| Unread::new("where a cluster goes"))?;
        self.begun = true;
        let passed = self.passed();
        if let (1, Target::Some(places, _)) = (number, &target) {
            let places = places.parse::<u32>().ok().filter(|places| (2..=MOST).contains(places));
            return places
                .map(|places| format!("{passed}{loops}{stitch}{places}tog"))
                .ok_or_else(|| Unread::new("how many are worked off together"));
        }
        let single = !matches!(&target, Target::Some(places, _) if places != "1");
        if !(2..MOST).contains(&number) || !single {
            return Err(Unread::new("a cluster of so many stitches"));
        }
        Ok(passed + &target.worked("1", &format!("{loops}{stitch}{number}cl")))
    }

    /// `Increase in every 3rd sc`: two stand before the one in which two go.
    pub(super) fn every_nth(&mut self, parts: &[Pair<'_, Rule>]) -> Result {
        let unread = || Unread::new("in every so manyth");
        let nth = parts.iter().find(|part| part.as_rule() == Rule::nth_of).ok_or_else(unread)?.as_str().trim();
        let nth: u32 = match nth {
            "other" => 2,
            nth => nth.trim_end_matches(char::is_alphabetic).parse().map_err(|_| unread())?,
        };
        let noun = parts.iter().find(|part| part.as_rule() == Rule::noun).map(|noun| self.noun(noun)).transpose()?;
        let stitch = parts.iter().find(|part| part.as_rule() == Rule::stitch).map(name);
        let plain = stitch.or(noun.flatten()).filter(|plain| !plain.contains(' ')).ok_or_else(unread)?;
        let before = nth.checked_sub(1).filter(|before| *before > 0).ok_or_else(unread)?;
        let till = parts.iter().find(|part| part.as_rule() == Rule::till).map(|till| self.till(till)).transpose()?;
        self.begun = true;
        Ok(format!("[{plain} {before}, 2 {plain} in next] {}", till.unwrap_or("to end".into())))
    }

    /// `1 dc, ch 3, 1 dc in next loop`: all of them go there where there is a chain between them, else each goes into the next place, and
    /// the last one there. The other way is tried where this one does not close.
    pub(super) fn run_in_place(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut run, mut chains) = (Vec::new(), false);
        let (mut last, mut place) = (String::new(), None);
        for part in parts {
            let rule = part.as_rule();
            let inner: Vec<Pair<'_, Rule>> = part.into_inner().collect();
            let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
            let stitch = inner.iter().find(|part| part.as_rule() == Rule::stitch).map(name).unwrap_or_default();
            match rule {
                Rule::placed_chain => {
                    chains = true;
                    run.push((number, "ch".to_owned()));
                }
                Rule::run_one => run.push((number, stitch)),
                _ => {
                    last = stitch.clone();
                    run.push((number, stitch));
                    place = inner.into_iter().find(|part| part.as_rule() == Rule::whereto);
                }
            }
        }
        let place = place.map(|place| self.whereto(place)).transpose()?.ok_or_else(|| Unread::new("a place"))?;
        self.begun = true;
        let passed = self.passed();
        let each = |(number, stitch): &(String, String)| match (number.as_str(), stitch.as_str()) {
            (_, "ch") => format!("ch {number}"),
            ("1", _) => stitch.clone(),
            _ => format!("{number} {stitch}"),
        };
        if chains != self.apart {
            let steps = run.iter().map(each).collect::<Vec<_>>().join(", ");
            self.corner_of(&steps);
            return Ok(passed + &place.target.group(&steps));
        }
        let (number, _) = run.pop().unwrap_or_default();
        let mut told: Vec<String> = run
            .iter()
            .map(|(number, stitch)| match (number.as_str(), stitch.as_str()) {
                ("1", stitch) if stitch != "ch" => stitch.to_owned(),
                (number, stitch) => format!("{stitch} {number}"),
            })
            .collect();
        told.push(place.target.worked(&number, &format!("{}{last}", place.loop_only)));
        Ok(passed + &told.join(", "))
    }
}
