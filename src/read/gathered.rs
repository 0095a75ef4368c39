//! Several stitches that are one, that go into one place, or that are spread: from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::places::{Target, which_loop};
use super::told::{Result, Teller, Unread, amount, name};

impl Teller<'_> {
    /// `Sc in each dc` and `each ch-1 sp`: what is met is worked into, a single chain as any other place.
    pub(super) fn also_each(&mut self, before: &str, also: Pair<'_, Rule>, each: &str, stitch: &str) -> Result {
        let (mut kind, mut till) = (None, "to end".to_owned());
        for part in also.into_inner() {
            match part.as_rule() {
                Rule::till => till = self.till(&part)?,
                Rule::stitch => kind = Some(name(&part)),
                Rule::bare_sp => kind = Some("ch sp".to_owned()),
                _ => kind = self.noun(&part)?,
            }
        }
        let kind = kind.ok_or_else(|| Unread::new("and each"))?;
        let step = Target::Each(kind, till).worked(each, stitch);
        self.both_kinds(before, &step).ok_or_else(|| Unread::new("and each"))
    }

    /// Two steps that each go into every place of a kind, as one that goes along both: `sc in each dc to end` and `sc in each ch-1 sp to
    /// end`.
    pub(super) fn both_kinds(&self, before: &str, step: &str) -> Option<String> {
        let (one, rest) = match before.split_once(" in each ") {
            Some(both) => both,
            None => (before.strip_suffix(" to end").filter(|one| !one.contains([',', '[', '(']))?, "st to end"),
        };
        let (two, other) = step.split_once(" in each ")?;
        let kind = |rest: &str| {
            let at = rest.rfind(" to ")?;
            Some((rest.get(..at)?.to_owned(), rest.get(at + 1..)?.to_owned()))
        };
        let ((first, _), (second, till)) = (kind(rest)?, kind(other)?);
        let single = |kind: &str| kind == "ch-1 sp" || kind == "ch sp" && self.chains_are_single();
        let plain = |stitches: &str| !stitches.starts_with(|c: char| c.is_ascii_digit() || c == '(');
        if one == two
            && plain(one)
            && (single(&second) && !first.contains("sp") || single(&first) && !second.contains("sp"))
        {
            return Some(format!("{one} {till}"));
        }
        let arm = |stitches: &str, kind: &str| {
            let place = if kind.ends_with("sp") { format!(" in next {kind}") } else { String::new() };
            let place = if plain(stitches) || !place.is_empty() { place } else { " in next".to_owned() };
            format!("on {kind}: {stitches}{place}")
        };
        Some(format!("[{}; {}] {till}", arm(one, &first), arm(two, &second)))
    }

    /// Whether the row below has single chains only.
    fn chains_are_single(&self) -> bool {
        let mut chains = self.under.split([',', '[', ']', '(', ')']).filter_map(|step| step.trim().strip_prefix("ch "));
        let first = chains.next();
        first == Some("1") && chains.all(|number| number == "1")
    }

    /// `Sc in each dc around, working (sc, ch 2, sc) in each ch-2 sp`.
    pub(super) fn each_but(&mut self, parts: Vec<Pair<'_, Rule>>) -> Result {
        let (mut each, mut stitch, mut kind, mut space) = ("1".to_owned(), String::new(), None, String::new());
        let (mut till, mut group, mut also) = ("to end".to_owned(), String::new(), None);
        for part in parts {
            match part.as_rule() {
                Rule::amount => each = amount(&part),
                Rule::stitch => stitch = name(&part),
                Rule::kind => kind = self.noun(&part)?,
                Rule::but_also => {
                    also = Some(part.as_str().rsplit("each ").next().unwrap_or_default().trim().to_owned());
                }
                Rule::till => till = self.till(&part)?,
                Rule::space => part.as_str().clone_into(&mut space),
                Rule::each_corner => {
                    space = self.corner_there()?;
                }
                Rule::one_kind => part.as_str().trim().replace(" ~", " ").clone_into(&mut group),
                Rule::one_place_steps => group = super::over::one_place_steps(part),
                Rule::steps => {
                    let inside = std::mem::replace(&mut self.in_group, true);
                    let told = self.steps(part);
                    self.in_group = inside;
                    group = told?;
                }
                _ => {}
            }
        }
        self.begun = true;
        self.corner_of(&group);
        let kind = kind.unwrap_or("st".into());
        let several = if each == "1" { stitch.clone() } else { format!("{each} {stitch} in next") };
        let group = if group.contains(", ") { format!("({group})") } else { group };
        let also = also.map(|also| format!("; on {also}: {stitch} in next {also}")).unwrap_or_default();
        Ok(format!("[on {space}: {group} in next {space}; on {kind}: {several}{also}] {till}"))
    }

    /// A step of these sorts.
    pub(super) fn gathered(&mut self, pair: &Pair<'_, Rule>, parts: Vec<Pair<'_, Rule>>) -> Result {
        match pair.as_rule() {
            Rule::to_and_fro => self.small_piece(parts),
            Rule::through_loops => self.through_loops(&parts),
            Rule::held_back => self.held_back(parts),
            Rule::every_nth => self.every_nth(&parts),
            Rule::run_in_place => self.run_in_place(parts),
            Rule::each_but => self.each_but(parts),
            // What closes no round is worked as any other stitch.
            Rule::close_said => {
                let work =
                    super::pattern::parsed(Rule::work, pair.as_str()).ok_or_else(|| Unread::new(pair.as_str()))?;
                self.work(work.into_inner().collect())
            }
            _ => Err(Unread::new(pair.as_str())),
        }
    }

    /// Further places of the same stitches: `… and in next ch-2 sp`, `… and each ch-1 sp`, `… and across`.
    pub(super) fn and_where(
        &mut self,
        part: Pair<'_, Rule>,
        told: &mut Vec<String>,
        (each, stitch, loops): (&str, &str, &str),
    ) -> Result<()> {
        let looped = format!("{loops}{stitch}");
        for also in part.into_inner() {
            let step = match also.as_rule() {
                Rule::each_kind => {
                    let before = told.pop().ok_or_else(|| Unread::new("and each"))?;
                    self.also_each(&before, also, each, &looped)?
                }
                Rule::till => Target::Till(self.till(&also)?).worked(each, &looped),
                _ => {
                    let step = self.worked(also, each, stitch, loops)?;
                    match told.last().and_then(|before| self.both_kinds(before, &step)) {
                        Some(both) => {
                            told.pop();
                            both
                        }
                        None => step,
                    }
                }
            };
            told.push(step);
        }
        Ok(())
    }

    /// Whether what has been told ends with a chain that may be the last of its round.
    pub(super) fn closes(&self, told: &[String]) -> bool {
        // `ch 2, skip 2, dc in first sc`: what the last space goes over may stand between.
        let behind = told.split_last().filter(|(last, _)| last.starts_with("skip ")).map_or(told, |(_, before)| before);
        let chain = behind.last().and_then(|last| last.strip_prefix("ch "));
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
                    last.clone_from(&stitch);
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
