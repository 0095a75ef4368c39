//! What is said of the turning chains of a piece, and how they are written instead.

use crate::diagnostic::{Diagnostic, Edit, Fix, Safety, Span};

use super::super::codes;
use super::super::merge;
use super::super::tree::{Body, Lead, Line, LineKind, Place, Setting, Step, StepKind, Where};
use super::{Found, readings, turn_moves};

/// Says it.
pub(super) struct Teller<'a> {
    pub text: &'a str,
    pub lines: &'a [Line],
    pub found: &'a [Found],
    pub first: &'a Found,
    /// The `lead` line of the piece.
    pub lead: Option<(Span, Lead)>,
    /// What its turning chains may stand for.
    pub leads: Vec<Lead>,
}

impl Teller<'_> {
    pub fn finding(&self) -> Diagnostic {
        let mut finding = self.message();
        let places = self.found.iter().skip(1).map(|f| f.turning.span.start);
        let elsewhere: Vec<usize> = places.collect();
        let first = finding.primary.span.start;
        finding.notes.extend(merge::elsewhere(&merge::line_starts(self.text), first, &elsewhere));
        finding.fixes = self.fixes();
        finding
    }

    fn message(&self) -> Diagnostic {
        let span = self.first.turning.span;
        let (row, rows) = self.noun();
        let written = self.written();
        let (message, label) = if self.first.turning.chains.is_none() {
            let at = if self.first.round { "stands at the end of a round" } else { "needs no saying in rows" };
            (format!("a turn {at}"), format!("the turn of the {row} before"))
        } else if self.first.longer {
            (format!("chains that a {row} goes over begin that {row}"), format!("belongs to the next {row}"))
        } else if self.differ() {
            let numbers = self.numbers().into_iter().map(|n| format!("`ch {n}`")).collect::<Vec<_>>();
            let message = format!("the turning chains of this piece are {}", crate::words::list(&numbers));
            (message, self.label())
        } else {
            match &self.lead {
                Some((_, lead)) if self.agrees(lead) => {
                    (format!("`{written}` says again what `{}` says", lead_words(lead)), self.label())
                }
                Some((_, lead)) => {
                    let message = format!("`{written}` and `{}` are two beginnings for one {row}", lead_words(lead));
                    (message, self.label())
                }
                None => {
                    let message = format!("`{written}` is the beginning of a {row}, and this piece has no `lead`");
                    (message, self.label())
                }
            }
        };
        let finding = Diagnostic::error(codes::TURNING_CHAIN, message, span, label);
        let finding = match &self.lead {
            Some((lead, _)) if self.first.turning.chains.is_some() && !self.first.longer => {
                finding.with_other(*lead, format!("how the {rows} begin"))
            }
            _ => finding,
        };
        finding.with_help(self.help())
    }

    fn help(&self) -> &'static str {
        match (self.first.round, self.first.longer, self.first.turning.chains) {
            (_, true, _) => "write them where they are used: as the first step of the row that goes over them",
            _ if self.own_differ() => {
                "say it as `lead` where it stands; a chain that is to be a space to work into is written `no lead, ch 1`, \
                 and one behind a lead that counts `ch 3 as dc, ch 1`"
            }
            (true, _, None) => {
                "write it at the end of the round that is turned, or `turned` on the `piece` line for all of them"
            }
            (true, ..) => {
                "the chain that rounds begin with is said once, in the `lead` line; a turn stands at the end of its round"
            }
            (false, _, None) => "rows turn by themselves, and the page says so",
            (false, ..) => {
                "the chain that rows begin with is said once, in the `lead` line; rows turn by themselves, and the page \
                 writes both out"
            }
        }
    }

    fn label(&self) -> String {
        let (row, _) = self.noun();
        let which = if self.first.turning.at_end { "the next" } else { "this" };
        format!("the lead of {which} {row}")
    }

    fn noun(&self) -> (&'static str, &'static str) {
        if self.first.round { ("round", "rounds") } else { ("row", "rows") }
    }

    fn written(&self) -> String {
        let span = self.first.turning.span;
        let written = self.text.get(span.start..span.end).unwrap_or_default();
        written.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The chains of those that are leads, each number once.
    fn numbers(&self) -> Vec<u64> {
        let leads = self.found.iter().filter(|f| !f.longer);
        let mut numbers: Vec<u64> = leads.filter_map(|f| f.turning.chains).map(|n| n.value).collect();
        numbers.sort_unstable();
        numbers.dedup();
        numbers
    }

    fn differ(&self) -> bool {
        self.numbers().len() > 1
    }

    /// Whether a lead is the one that the turning chains say.
    fn agrees(&self, lead: &Lead) -> bool {
        let said = self.leads.iter().any(|said| match (said, lead) {
            (Lead::Chain { chains, counts_as }, Lead::Chain { chains: other, counts_as: as_other }) => {
                let clash = counts_as.is_some() && !self.is_open();
                let same = counts_as.as_ref().map(|t| &t.text) == as_other.as_ref().map(|t| &t.text);
                chains.value == other.value && (same || !clash)
            }
            (Lead::None, _) | (_, Lead::None) => false,
        });
        said || self.leads.is_empty()
    }

    /// Whether the text leaves open what the chains count as.
    fn is_open(&self) -> bool {
        self.found.iter().all(|f| f.turning.counts_as.is_none())
    }

    /// Whether rows begin with mere chains that are others than the lead of the piece.
    fn own_differ(&self) -> bool {
        let lead = self.lead.as_ref().map(|(_, lead)| chains_of(lead));
        let other = |found: &&Found| found.turning.alone && found.turning.chains.map(|chains| chains.value) != lead;
        self.lead.is_some() && self.found.iter().any(|found| other(&found))
    }

    // ---- Repairs

    fn fixes(&self) -> Vec<Fix> {
        if self.differ() {
            return self.each_its_own().into_iter().collect();
        }
        if self.own_differ() && self.found.iter().all(|found| found.turning.alone) {
            let own = self.leads.iter().filter_map(|lead| self.as_own(lead));
            return self.over_a_space().into_iter().chain(own).chain(self.for_all()).collect();
        }
        let (out, places) = (self.out(), self.left_out());
        let fix = |title: String, edits: Vec<Edit>, safety| Fix { title, edits: [edits, out.clone()].concat(), safety };
        match &self.lead {
            _ if self.leads.is_empty() => vec![fix(self.out_title(&places), Vec::new(), Safety::KeepsFabric)],
            Some((_, lead)) if self.agrees(lead) => vec![fix(places, Vec::new(), Safety::KeepsFabric)],
            Some((_, lead)) => {
                let kept = format!("keep `{}`, and {places}", lead_words(lead));
                let mut fixes = vec![fix(kept, Vec::new(), Safety::ChangesFabric)];
                fixes.extend(self.for_all());
                fixes
            }
            None => {
                let lines = self.leads.iter().map(lead_words);
                let fixes = lines.map(|lead| {
                    let title = format!("say `{lead}` once, and {places}");
                    fix(title, self.new_line(&lead), Safety::ChangesFabric)
                });
                fixes.collect()
            }
        }
    }

    fn left_out(&self) -> String {
        match self.found.len() {
            1 => "leave it out here".to_owned(),
            2 => "leave it out in both places".to_owned(),
            all => format!("leave it out in all {all} places"),
        }
    }

    /// The lead of the whole piece is what its turning chains say.
    fn for_all(&self) -> Vec<Fix> {
        let Some((at, lead)) = &self.lead else { return Vec::new() };
        let fixes = self.leads.iter().map(|said| {
            let (old, new) = (lead_words(lead), lead_words(said));
            let title = format!("`{old}` to `{new}`, and {}", self.left_out());
            Fix {
                title,
                edits: [vec![self.in_lead_line(*at, &new)], self.out()].concat(),
                safety: Safety::ChangesFabric,
            }
        });
        fixes.collect()
    }

    /// The chains that rows begin with are said to be the leads of those rows.
    fn as_own(&self, lead: &Lead) -> Option<Fix> {
        let words = lead_words(lead);
        let places = match self.found.len() {
            1 => "here".to_owned(),
            2 => "in both places".to_owned(),
            all => format!("in all {all} places"),
        };
        let edits = self.found.iter().map(|found| Edit { span: found.turning.span, text: words.clone() }).collect();
        let safety = if self.leads.len() == 1 { Safety::KeepsFabric } else { Safety::ChangesFabric };
        let title = format!("`{}` to `{words}` {places}", self.written());
        self.leads.contains(lead).then_some(Fix { title, edits, safety })
    }

    /// The lead that counts, and chains over a space behind it, where the row goes on into a place that it names: print says both as one
    /// number.
    fn over_a_space(&self) -> Option<Fix> {
        let (_, Lead::Chain { chains: tall, counts_as: Some(stitch) }) = self.lead.as_ref()? else { return None };
        let goes_on = |found: &Found| {
            let steps = found.leads.map(|at| self.own_steps(at)).unwrap_or_default();
            let begins = |step: &&Step| matches!(step.kind, StepKind::Lead(_) | StepKind::Chain(_));
            let next = steps.into_iter().find(|step| !begins(step)).map(|step| &step.kind)?;
            let place = match next {
                StepKind::Work(work) => &work.places,
                StepKind::Group { place, .. } => place,
                StepKind::Skip { .. } => return Some(()),
                _ => return None,
            };
            matches!(place, Where::In(Place::NextOf(_) | Place::Nth(..))).then_some(())
        };
        let edit = |found: &Found| {
            let chains = found.turning.chains.filter(|_| goes_on(found).is_some())?;
            let text = format!("ch {} as {}, ch {}", tall.value, stitch.text, chains.value);
            Some(Edit { span: found.turning.span, text })
        };
        let edits: Vec<Edit> = self.found.iter().map(edit).collect::<Option<_>>()?;
        let title = format!("`{}` to `{}`: a space behind the lead", self.written(), edits.first()?.text);
        Some(Fix { title, edits, safety: Safety::ChangesFabric })
    }

    fn out_title(&self, places: &str) -> String {
        if self.first.longer {
            return format!("put it before the next {}", self.noun().0);
        }
        if turn_moves(self.first) { "put it at the end of the round before".to_owned() } else { places.to_owned() }
    }

    /// A `lead` line right below the piece's own.
    fn new_line(&self, lead: &str) -> Vec<Edit> {
        let edit = self.lines.first().map(|line| {
            // A line that says how the work goes on from there says the lead as well.
            let goes_on = matches!(line.kind, LineKind::Setting(Setting::Now(_)));
            let end = line.remark.filter(|_| goes_on).map_or(line.span.end, |remark| remark.start);
            let written = self.text.get(line.span.start..end).unwrap_or_default().trim_end();
            let at = if goes_on { line.span.start + written.len() } else { end };
            Edit { span: Span::new(at, at), text: if goes_on { format!(", {lead}") } else { format!("\n{lead}") } }
        });
        edit.into_iter().collect()
    }

    /// The words of a `lead` line without the remark behind them.
    fn in_lead_line(&self, line: Span, lead: &str) -> Edit {
        let remark = self.lines.iter().find(|l| l.span == line).and_then(|l| l.remark);
        let end = remark.map_or(line.end, |remark| remark.start);
        let written = self.text.get(line.start..end).unwrap_or_default().trim_end();
        Edit { span: Span::new(line.start, line.start + written.len()), text: lead.to_owned() }
    }

    /// Takes all of them out, and puts what stays where it belongs.
    fn out(&self) -> Vec<Edit> {
        self.found.iter().flat_map(|found| self.out_of(found)).collect()
    }

    fn out_of(&self, found: &Found) -> Vec<Edit> {
        let mut edits = vec![Edit { span: found.turning.cut, text: String::new() }];
        if let (true, Some(chains)) = (found.longer, found.turning.chains) {
            edits.extend(self.before_steps(found.leads, &format!("ch {}, ", chains.value)));
        }
        if turn_moves(found) {
            edits.extend(self.after_steps(found));
        }
        edits
    }

    /// Before the first step of a line that is its own.
    fn before_steps(&self, at: Option<usize>, words: &str) -> Option<Edit> {
        let start = self.own_steps(at?).first()?.span.start;
        Some(Edit { span: Span::new(start, start), text: words.to_owned() })
    }

    /// A turn at the end of the round before, unless it has one.
    fn after_steps(&self, found: &Found) -> Option<Edit> {
        let last = *self.own_steps(found.before?).last()?;
        let end = last.span.end;
        (last.kind != StepKind::Turn).then(|| Edit { span: Span::new(end, end), text: ", turn".to_owned() })
    }

    fn own_steps(&self, at: usize) -> Vec<&Step> {
        let Some(line) = self.lines.get(at) else { return Vec::new() };
        let LineKind::Work(work) = &line.kind else { return Vec::new() };
        let Body::Steps(steps) = &work.body else { return Vec::new() };
        steps.iter().filter(|s| line.span.start <= s.span.start && s.span.end <= line.span.end).collect()
    }

    /// Leads that differ: the piece has the one that it says, or that most of its rows have, and the others say theirs as
    /// their first step. Nothing where a row is not written out.
    fn each_its_own(&self) -> Option<Fix> {
        let plain = self.lead.as_ref().map(|(_, lead)| lead.clone());
        let lead = plain.or_else(|| self.commonest())?;
        let mut edits = Vec::new();
        if self.lead.is_none() {
            edits.extend(self.new_line(&lead_words(&lead)));
        }
        for found in self.found {
            let own = readings(found, self.lines).into_iter().next().filter(|_| !found.longer && found.leads.is_some());
            let own = own.filter(|own| chains_of(own) != chains_of(&lead)).map(|own| lead_words(&own));
            match own {
                Some(own) if found.turning.alone => edits.push(Edit { span: found.turning.span, text: own }),
                Some(own) => {
                    edits.extend(self.out_of(found));
                    edits.push(self.before_steps(found.leads, &format!("{own}, "))?);
                }
                None => edits.extend(self.out_of(found)),
            }
        }
        let title = format!("let each {} say its own lead", self.noun().0);
        Some(Fix { title, edits, safety: Safety::ChangesFabric })
    }

    fn commonest(&self) -> Option<Lead> {
        let leads = || self.found.iter().filter(|f| !f.longer);
        let times = |n: u64| leads().filter(|f| f.turning.chains.is_some_and(|c| c.value == n)).count();
        let most = self.numbers().into_iter().rev().max_by_key(|n| times(*n))?;
        let first = leads().find(|f| f.turning.chains.is_some_and(|c| c.value == most))?;
        readings(first, self.lines).into_iter().next()
    }
}

pub(super) fn chains_of(lead: &Lead) -> u64 {
    match lead {
        Lead::None => 0,
        Lead::Chain { chains, .. } => chains.value,
    }
}

fn lead_words(lead: &Lead) -> String {
    match lead {
        Lead::None => "lead none".to_owned(),
        Lead::Chain { chains, counts_as: None } => format!("lead ch {}", chains.value),
        Lead::Chain { chains, counts_as: Some(stitch) } => format!("lead ch {} as {}", chains.value, stitch.text),
    }
}
