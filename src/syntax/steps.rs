//! The steps of a line: stitches, groups, repeats and all that goes between them.

#![expect(clippy::wildcard_enum_match_arm, reason = "of the rules of a whole grammar, few can stand in one place")]

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::{Reader, respelling, unexpected};
use super::tree::{Amount, Lead, LoopOnly, Number, Step, StepKind, Term, TermValue, Text, Till, Where, Work};
use crate::stitch::{Stitches, Terms};

/// Whether a word is a foundation stitch in either terms.
fn is_foundation(word: &str) -> bool {
    let stitches = Stitches::standard();
    let named = |terms| stitches.get(stitches.find(word, terms)?);
    [Terms::Us, Terms::Uk].into_iter().filter_map(named).any(crate::stitch::Stitch::is_foundation)
}

/// Words after which a number without a space is a count, beside the names of the trade's stitches.
const COUNTED: &[&str] = &["blo", "flo", "skip", "sk", "leave"];

impl Reader<'_> {
    /// Steps that are separated by commas.
    pub fn steps(&mut self, node: &Node<'_>) -> Option<Vec<Step>> {
        self.separators(node);
        let mut steps = Vec::new();
        let mut complete = true;
        for step in node.all(Rule::step) {
            if let Some(join) = step.child(Rule::join_slip) {
                self.join(join.span());
                continue;
            }
            match self.step(&step) {
                Some(step) => steps.push(step),
                None => complete = false,
            }
        }
        complete.then_some(steps)
    }

    /// `join with sl st to first sc`: rounds join by themselves.
    pub fn join(&mut self, span: Span) {
        let before = self.slice(Span::new(0, span.start)).trim_end();
        let start = before.strip_suffix(',').map_or(span.start, str::len);
        let found = Diagnostic::error(codes::SPELLING, "joined rounds join by themselves", span, "not needed here")
            .with_help("say `in joined rounds` on the `piece` line; the page writes the join out")
            .with_fix(Fix::spelling("leave it out", Span::new(start, span.end), ""));
        self.find(found);
    }

    /// `sc 2; inc` and `sc to end. Ch 1`.
    pub fn separators(&mut self, node: &Node<'_>) {
        for slip in node.children().filter(|c| matches!(c.rule(), Rule::semicolon_slip | Rule::full_stop_slip)) {
            self.respell(codes::SPELLING, "a comma stands between two steps", slip.span(), ",");
        }
    }

    /// One step.
    pub fn step(&mut self, node: &Node<'_>) -> Option<Step> {
        let inner = node.first()?;
        Some(Step { span: node.span(), kind: self.step_kind(&inner)? })
    }

    fn step_kind(&mut self, node: &Node<'_>) -> Option<StepKind> {
        match node.rule() {
            Rule::star_slip => self.star(node),
            Rule::repeat => self.repeat(node),
            Rule::round => self.round(node),
            Rule::turning => self.turning(node),
            Rule::chain_as => self.chain_as(node),
            Rule::chain => self.chain(node),
            Rule::skip => self.skip(node),
            Rule::set_aside => self.set_aside(node),
            Rule::work => self.work(node),
            Rule::go => Some(StepKind::Go(self.in_place(&node.first()?)?)),
            Rule::own_lead => self.own_lead(node),
            Rule::leave if node.has(Rule::k_rest) => Some(StepKind::Leave(None)),
            Rule::leave => Some(StepKind::Leave(Some(self.child_amount(node)?))),
            Rule::move_along => self.move_along(node),
            Rule::turn => Some(StepKind::Turn),
            Rule::other_side => Some(StepKind::OtherSide),
            Rule::mark => Some(StepKind::Mark(self.child_text(node, Rule::mark_name)?)),
            Rule::change => {
                self.yarn_word(node);
                Some(StepKind::ChangeTo(self.child_text(node, Rule::yarn_name)?))
            }
            Rule::fasten_off => Some(self.fasten_off(node)),
            Rule::rejoin => self.rejoin(node),
            Rule::close => Some(StepKind::Close { chains: self.child_amount(node)?, stitch: self.child_stitch(node)? }),
            Rule::evenly => self.evenly(node),
            Rule::join_to => self.join_to(node),
            Rule::rep_slip => self.without_brackets(node),
            Rule::colours => self.colours(node),
            Rule::grid_step => self.grid_step(node),
            Rule::through => Some(StepKind::Through {
                loops: if node.has(Rule::front_word) { LoopOnly::Front } else { LoopOnly::Back },
                round: node.has(Rule::k_rnd),
                number: self.child_number(node)?,
            }),
            Rule::behind => Some(StepKind::Behind { round: node.has(Rule::k_rnd), number: self.child_number(node)? }),
            other => unexpected(other),
        }
    }

    fn evenly(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let mut stitches = node.all(Rule::stitch);
        let (special, plain) = (stitches.next()?, stitches.next()?);
        Some(StepKind::Evenly {
            amount: self.child_amount(node)?,
            special: self.stitch_name(&special),
            plain: self.stitch_name(&plain),
            till: self.till(&node.child(Rule::till)?)?,
        })
    }

    fn join_to(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let kind = match node.child(Rule::kind) {
            Some(kind) => Some(self.kind(&kind)?),
            None => None,
        };
        let nth = match node.child(Rule::ordinal) {
            Some(ordinal) => Some(self.number(&ordinal)?),
            None => None,
        };
        Some(StepKind::JoinTo { piece: self.child_text(node, Rule::joined_name)?, nth, kind })
    }

    pub fn child_text(&mut self, node: &Node<'_>, rule: Rule) -> Option<Text> {
        node.child(rule).map(|child| self.node_text(&child))
    }

    // ---- Plain stitches

    fn work(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let mut each = match node.child(Rule::each) {
            Some(each) => Some(self.child_amount(&each)?),
            None => None,
        };
        let stitch = match node.child(Rule::tog_slip) {
            Some(slip) => self.tog(&slip),
            None => self.child_stitch(node)?,
        };
        let below = match node.child(Rule::below) {
            Some(below) => Some(self.child_number(&below)?),
            None => None,
        };
        let loop_only = match node.child(Rule::loop_only) {
            Some(only) if only.has(Rule::k_back) => Some(LoopOnly::Back),
            Some(_) => Some(LoopOnly::Front),
            None => self.loop_after(node, stitch.span),
        };
        let written = node.children().find(|child| is_place(child.rule()));
        let places = match &written {
            Some(place) if self.yarn_of(place).is_some() => {
                let places = self.in_yarn(place, node.span(), each.as_ref(), &stitch)?;
                return Some(StepKind::Work(Work { each, loop_only, stitch, below, places, ambiguous: true }));
            }
            Some(place) if place.rule() == Rule::count_place_slip && each.is_none() => {
                each = Some(self.number_moves(place, stitch.span)?);
                self.place_of(&place.children().last()?)?
            }
            Some(place) => self.place_of(place)?,
            None => Where::Bare,
        };
        let mut work = Work { each, loop_only, stitch, below, places, ambiguous: false };
        self.tight_number(&mut work)?;
        self.number_before(&mut work, node.span());
        Some(StepKind::Work(work))
    }

    /// `6sc` and `sc6`: a space is wanting.
    fn tight_number(&mut self, work: &mut Work) -> Option<()> {
        let span = work.stitch.span;
        let bare = work.places == Where::Bare && !self.in_group && !work.each.as_ref().is_some_and(is_one);
        if let Some(each) = work.each.as_ref().filter(|each| each.span.end == span.start && !bare) {
            self.space_between(each.span.to(span), span.start);
        }
        let name = work.stitch.text.clone();
        let letters = name.trim_end_matches(|c: char| c.is_ascii_digit());
        let tight = letters.len() < name.len()
            && (COUNTED.contains(&letters.to_ascii_lowercase().as_str()) || Stitches::standard().is_counted(letters))
            && !self.names.own_stitches.contains(&name.to_ascii_lowercase());
        if tight && work.places == Where::Bare {
            let digits = Span::new(span.start + letters.len(), span.end);
            let better = format!("{letters} {}", self.slice(digits));
            self.respell(codes::SPELLING, "a space stands between a stitch and its number", span, &better);
            let amount = self.digits_amount(digits)?;
            work.stitch = Text { span: Span::new(span.start, digits.start), text: letters.to_owned() };
            work.places = Where::Count { amount, kind: None, sent: false };
        }
        Some(())
    }

    /// `2sctog` for `sc2tog`.
    fn tog(&mut self, node: &Node<'_>) -> Text {
        let (span, written) = (node.span(), node.text());
        let number: String = written.chars().take_while(char::is_ascii_digit).collect();
        let rest = written.trim_start_matches(|c: char| c.is_ascii_digit() || c == '-');
        let stitch = rest.get(..rest.len().saturating_sub("tog".len())).unwrap_or_default();
        let better = format!("{stitch}{number}tog");
        self.respell(codes::SPELLING, "stitches worked together are named after their stitch", span, &better);
        Text { span, text: better }
    }

    /// `sc 2 in next` for `2 sc in next`.
    fn number_moves(&mut self, node: &Node<'_>, stitch: Span) -> Option<Amount> {
        let amount = self.child_amount(node)?;
        let number = self.slice(amount.span).to_owned();
        let gap = Span::new(self.trim_end(stitch.start, amount.span.start), amount.span.end);
        let edits = vec![(Span::new(stitch.start, stitch.start), format!("{number} ")), (gap, String::new())];
        let message = "how many go into one place is said before the stitch";
        let label = format!("here it is written `{number} {} in …`", self.slice(stitch));
        let fix = respelling(format!("`{number}` before the stitch"), edits);
        self.find(Diagnostic::error(codes::SPELLING, message, stitch.to(amount.span), label).with_fix(fix));
        Some(amount)
    }

    /// `inc, repeat around`: nothing says what is repeated.
    fn without_brackets(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let found = Diagnostic::error(
            codes::REPEAT_STYLE,
            "what is repeated stands in square brackets",
            node.span(),
            "repeat what?",
        )
        .with_help("write `[sc, inc] to end` or `[sc, inc] 6 times`");
        self.find(found);
        None
    }

    /// `6sc`.
    fn space_between(&mut self, span: Span, at: usize) {
        let message = "a space stands between a number and a stitch";
        let found = Diagnostic::error(codes::SPELLING, message, span, "a space is missing here")
            .with_fix(Fix::spelling("put a space between", Span::new(at, at), " "));
        self.find(found);
    }

    /// `sc in back loop only`.
    fn loop_after(&mut self, node: &Node<'_>, stitch: Span) -> Option<LoopOnly> {
        let slip = node.child(Rule::loop_slip)?;
        let back = slip.has(Rule::back_slip) || slip.has(Rule::back_loop_slip);
        let (word, only) = if back { ("blo", LoopOnly::Back) } else { ("flo", LoopOnly::Front) };
        let span = slip.span();
        let start = self.trim_end(stitch.start, span.start);
        let edits = vec![
            (Span::new(stitch.start, stitch.start), format!("{word} ")),
            (Span::new(start, span.end), String::new()),
        ];
        let label = format!("here it is written `{word} sc`");
        let found = Diagnostic::error(codes::SPELLING, "the loop stands before the stitch", span, label)
            .with_fix(respelling(format!("`{word}` before the stitch"), edits));
        self.find(found);
        Some(only)
    }

    /// An amount that is written without a space.
    pub fn digits_amount(&mut self, digits: Span) -> Option<Amount> {
        let node = self.read(Rule::amount, digits).ok()?;
        self.amount(&node)
    }

    /// A number before the stitch asks for a place.
    fn number_before(&mut self, work: &mut Work, span: Span) {
        let Some(each) = &work.each else { return };
        if is_one(each) {
            return self.one_before(work, span);
        }
        let number = self.slice(each.span).to_owned();
        let stitch = work.stitch.text.clone();
        let place = Span::new(each.span.start, span.end);
        if work.places == Where::Bare && !self.in_group && is_foundation(&stitch) {
            // It goes into no place, so that there is only one way to read it.
            let message = "how many foundation stitches there are stands behind them";
            self.respell(codes::SPELLING, message, place, &format!("{stitch} {number}"));
            let amount = work.each.take();
            work.places = amount.map_or(Where::Bare, |amount| Where::Count { amount, kind: None, sent: false });
            return;
        }
        let alone = match &work.loop_only {
            Some(LoopOnly::Back) => format!("blo {stitch}"),
            Some(LoopOnly::Front) => format!("flo {stitch}"),
            None => stitch.clone(),
        };
        let message = format!("`{number} {stitch}` can be read in two ways");
        match &work.places {
            Where::Bare if self.in_group => {}
            Where::Bare => {
                work.ambiguous = true;
                let found = Diagnostic::error(codes::TWO_READINGS, message, place, "all in one place, or one in each?")
                    .with_help("a number before the stitch goes with a place, a number after it counts places")
                    .with_fix(Fix::change(
                        format!("one in each of {number}: `{alone} {number}`"),
                        place,
                        format!("{alone} {number}"),
                    ))
                    .with_fix(Fix::change(
                        format!("{number} in one place: `{number} {alone} in next`"),
                        place,
                        format!("{number} {alone} in next"),
                    ));
                self.find(found);
            }
            Where::Till(_) => {
                let till = self.after(work.stitch.span, span);
                self.in_each(span, &format!("[{number} {alone} in next] {till}"));
            }
            Where::Count { amount, .. } if self.directly_after(work.stitch.span, amount.span) => {
                let times = self.slice(amount.span).to_owned();
                self.in_each(span, &format!("[{number} {alone} in next] {times} times"));
            }
            Where::Count { .. } | Where::Each { .. } | Where::Skipped { .. } | Where::In(_) => {}
        }
    }

    /// `1 sc` is `sc`, whichever way it is read; `1 sc to end` needs no number.
    fn one_before(&mut self, work: &mut Work, span: Span) {
        let after = match &work.places {
            Where::Till(_) => true,
            Where::Count { amount, .. } => self.directly_after(work.stitch.span, amount.span),
            Where::Bare | Where::Each { .. } | Where::Skipped { .. } | Where::In(_) => false,
        };
        let Some(each) = work.each.take_if(|_| after) else { return };
        let rest = self.trim(Span::new(each.span.end, span.end));
        let gap = Span::new(each.span.start, rest.start);
        let label = format!("here it is written `{}`", self.slice(rest));
        let message = "one stitch in each place needs no number before it";
        let found = Diagnostic::error(codes::SPELLING, message, each.span, label).with_fix(Fix::spelling(
            "leave out the `1`",
            gap,
            "",
        ));
        self.find(found);
    }

    fn in_each(&mut self, span: Span, better: &str) {
        self.respell(codes::SPELLING, "a number before the stitch goes with a place", span, better);
    }

    fn after(&self, word: Span, whole: Span) -> String {
        self.words(Span::new(word.end, whole.end)).text
    }

    fn directly_after(&self, word: Span, next: Span) -> bool {
        self.slice(Span::new(word.end, next.start)).trim().is_empty()
    }

    // ---- Chains and such

    fn chain(&mut self, node: &Node<'_>) -> Option<StepKind> {
        if let Some(tight) = node.child(Rule::tight_chain) {
            return Some(StepKind::Chain(self.tight_chain(&tight)?));
        }
        self.chain_word(node);
        if let Some(amount) = node.child(Rule::amount) {
            return Some(StepKind::Chain(self.amount(&amount)?));
        }
        self.one_of_them("a chain says how many", node.span(), "ch 1");
        Some(StepKind::Chain(one_number(node.span(), 1)))
    }

    /// `ch` and `skip` alone mean one; but at the end of a line the number may be still to come.
    fn one_of_them(&mut self, message: &str, span: Span, better: &str) {
        if !self.ends_the_line(span.end) {
            return self.respell(codes::SPELLING, message, span, better);
        }
        let title = format!("`{}` to `{better}`", self.slice(span));
        let found = Diagnostic::error(codes::SPELLING, message, span, "how many?");
        self.find(found.with_fix(Fix::change(title, span, better)));
    }

    /// Whether nothing of the line follows.
    fn ends_the_line(&self, at: usize) -> bool {
        let rest = self.text.get(at..).unwrap_or_default();
        rest.split('\n').next().unwrap_or_default().trim().is_empty()
    }

    /// `ch3` for `ch 3`.
    pub fn tight_chain(&mut self, node: &Node<'_>) -> Option<Amount> {
        let letters = node.text().trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let span = node.span();
        let digits = Span::new(span.start + letters, span.end);
        let better = format!("ch {}", self.slice(digits));
        self.respell(codes::SPELLING, "a chain and its number have a space between them", span, &better);
        self.digits_amount(digits)
    }

    /// `chain` for `ch`.
    pub fn chain_word(&mut self, node: &Node<'_>) {
        if let Some(word) = node.child(Rule::k_chain) {
            self.respell(codes::SPELLING, "the word for chains is `ch`", word.span(), "ch");
        }
    }

    fn chain_as(&mut self, node: &Node<'_>) -> Option<StepKind> {
        self.chain_word(node);
        Some(StepKind::ChainAs { chains: self.child_amount(node)?, stitch: self.child_stitch(node)? })
    }

    fn turning(&mut self, node: &Node<'_>) -> Option<StepKind> {
        self.chain_word(node);
        let space = match node.child(Rule::space) {
            Some(space) => Some(self.child_number(&space)?),
            None => None,
        };
        Some(StepKind::TurningAs { chains: self.child_amount(node)?, stitch: self.child_stitch(node), space })
    }

    fn skip(&mut self, node: &Node<'_>) -> Option<StepKind> {
        if let Some(word) = node.child(Rule::k_sk) {
            self.respell(codes::SPELLING, "the word for passing over is `skip`", word.span(), "skip");
        }
        let Some(what) = node.child(Rule::skip_what) else {
            self.one_of_them("a skip says how many", node.span(), "skip 1");
            return Some(StepKind::Skip { amount: Some(one_number(node.span(), 1)), kind: None });
        };
        let amount = match what.child(Rule::amount) {
            Some(amount) => Some(self.amount(&amount)?),
            None => None,
        };
        let kind = match what.child(Rule::kind) {
            Some(kind) => Some(self.kind(&kind)?),
            None => None,
        };
        Some(StepKind::Skip { amount, kind })
    }

    /// `set aside next 30 as left sleeve`, `set aside rest as …`, `set aside to next ch-2 sp as …`.
    fn set_aside(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let places = if node.has(Rule::aside_rest) {
            Where::Till(Till::End)
        } else if let Some(till) = node.child(Rule::till) {
            Where::Till(self.till(&till)?)
        } else {
            Where::Count { amount: self.child_amount(node)?, kind: None, sent: false }
        };
        Some(StepKind::SetAside { places, name: self.child_text(node, Rule::opening_name)? })
    }

    fn own_lead(&mut self, node: &Node<'_>) -> Option<StepKind> {
        match node.child(Rule::lead_body) {
            Some(body) => Some(StepKind::Lead(self.lead_body(&body)?)),
            None => Some(StepKind::Lead(Lead::None)),
        }
    }

    pub fn lead_body(&mut self, node: &Node<'_>) -> Option<Lead> {
        if node.has(Rule::k_none) {
            return Some(Lead::None);
        }
        self.chain_word(node);
        let written = node.child(Rule::tight_chain).or_else(|| node.child(Rule::turned_slip));
        let chains = match written {
            Some(slip) => self.lead_chain(&slip)?,
            None => self.child_number(node)?,
        };
        Some(Lead::Chain { chains, counts_as: self.child_stitch(node) })
    }

    /// `ch3` and `3 ch` for `ch 3`.
    fn lead_chain(&mut self, node: &Node<'_>) -> Option<Number> {
        let digits: String = node.text().chars().filter(char::is_ascii_digit).collect();
        let span = node.span();
        self.respell(codes::SPELLING, "a chain is written `ch 3`", span, &format!("ch {digits}"));
        Some(Number { span, value: self.number(node)?.value })
    }

    fn move_along(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let along = match node.child(Rule::till_next) {
            Some(next) => Where::Till(Till::Next(self.child_kind(&next)?)),
            None => Where::Count { amount: self.child_amount(node)?, kind: None, sent: false },
        };
        Some(StepKind::Move(along))
    }

    fn fasten_off(&mut self, node: &Node<'_>) -> StepKind {
        if let Some(word) = node.child(Rule::k_fo) {
            self.respell(codes::SPELLING, "the end of a yarn is written out", word.span(), "fasten off");
        }
        StepKind::FastenOff
    }

    /// `change to yarn B`.
    pub fn yarn_word(&mut self, node: &Node<'_>) {
        if let Some(slip) = node.child(Rule::yarn_slip) {
            self.left_out(slip.span(), "a yarn is named by its letter alone");
        }
    }

    /// Notes a word that is left out here, with the space after it.
    pub fn left_out(&mut self, word: Span, message: &str) {
        let rest = self.text.get(word.end..).unwrap_or_default();
        let end = word.end + (rest.len() - rest.trim_start_matches(' ').len());
        let title = format!("leave out `{}`", self.slice(word));
        let found = Diagnostic::error(codes::SPELLING, message, word, "not needed here").with_fix(Fix::spelling(
            title,
            Span::new(word.start, end),
            "",
        ));
        self.find(found);
    }

    fn rejoin(&mut self, node: &Node<'_>) -> Option<StepKind> {
        let yarn = self.child_text(node, Rule::yarn_name);
        let place = self.in_place(&node.child(Rule::in_place)?)?;
        Some(StepKind::Rejoin { yarn, place })
    }
}

/// Whether a number is 1 in every size.
pub(super) fn is_one(amount: &Amount) -> bool {
    matches!(amount.terms.as_slice(), [Term { value: TermValue::Number(1), .. }])
}

/// One number for all sizes.
pub(super) fn one_number(span: Span, value: u64) -> Amount {
    Amount { span, terms: vec![Term { span, value: TermValue::Number(value) }] }
}

/// Whether a rule says where stitches go.
pub(super) fn is_place(rule: Rule) -> bool {
    [
        Rule::till,
        Rule::each_of_slip,
        Rule::each_place,
        Rule::in_count,
        Rule::in_skipped,
        Rule::in_place,
        Rule::count_times_slip,
        Rule::by_slip,
        Rule::count,
        Rule::count_sts_slip,
        Rule::count_place_slip,
    ]
    .contains(&rule)
}
