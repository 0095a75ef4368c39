//! The slips that are put into patterns, one at a time: every number a little off, every step dropped or doubled, every
//! stitch that is easily taken for another, every space of another length.

use ringtrue::diagnostic::Span;
use ringtrue::syntax;
use ringtrue::syntax::tree::{
    Again, AgainExtent, Amount, Body, Ending, Extent, Header, Kind, KindWhat, Lead, LineKind, Number, Part, Place,
    RepeatBody, Rim, SeamSide, Setting, Start, Stated, Step, StepKind, TermValue, Till, Where, WorkLine,
};

/// A slip that can be made somewhere in a text.
pub struct Slip {
    /// What sort of slip it is, for the table.
    pub kind: &'static str,
    /// What is written otherwise.
    pub span: Span,
    /// What is written there by the slip.
    pub new: String,
    /// Line of the text that it stands in, from 0.
    pub line: usize,
}

/// By how much a number is off, taken in turns: by one more often than by two.
const OFF: [i64; 6] = [1, -1, 2, -1, 1, -2];

/// Every slip, in the order of the text.
pub fn slips(text: &str) -> Vec<Slip> {
    let (tree, _) = syntax::parse(text);
    let mut slips = Slips { text, found: Vec::new(), numbers: 0, line: 0 };
    for line in &tree.lines {
        slips.line = text[..line.span.start].matches('\n').count();
        match &line.kind {
            LineKind::Work(work) => slips.work(work),
            LineKind::Again(again) => slips.again(again),
            LineKind::Start(start) => slips.start(start),
            LineKind::Ending(ending) => slips.ending(ending),
            LineKind::Setting(Setting::Lead(lead)) => slips.lead(lead, line.span),
            LineKind::Header(Header::Set { amount, .. }) => slips.amount("a named number", amount),
            _ => {}
        }
    }
    slips.found
}

struct Slips<'t> {
    text: &'t str,
    found: Vec<Slip>,
    /// How many numbers were met.
    numbers: usize,
    line: usize,
}

impl Slips<'_> {
    fn work(&mut self, work: &WorkLine) {
        for number in work.label.from.iter().chain(&work.label.to) {
            self.number("label", *number);
        }
        match &work.body {
            Body::Steps(steps) => self.steps(steps),
            Body::As { number, to, .. } => [Some(number), to.as_ref()].into_iter().flatten().for_each(|number| {
                self.number("as", *number);
            }),
            Body::Unread => {}
        }
        self.stated(work.stated.as_ref());
    }

    fn stated(&mut self, stated: Option<&Stated>) {
        for part in stated.iter().flat_map(|stated| &stated.parts) {
            self.amount("stated", &part.amount);
            if let Some(kind) = &part.kind {
                self.kind("stated space", kind);
            }
        }
    }

    fn again(&mut self, again: &Again) {
        self.number("again from", again.from);
        if again.to.span != again.from.span {
            self.number("again to", again.to);
        }
        match &again.extent {
            AgainExtent::Times(amount) => self.amount("again times", amount),
            AgainExtent::UntilLine(amount) | AgainExtent::UntilStitches(amount) => self.amount("again until", amount),
            AgainExtent::UntilLength { numbers, .. } => {
                for number in numbers {
                    if let Ok(value) = number.text.parse() {
                        self.number("again until", Number { span: number.span, value });
                    }
                }
            }
        }
        self.stated(again.stated.as_ref());
    }

    fn start(&mut self, start: &Start) {
        match start {
            Start::Chain { chains: amount, .. } | Start::Foundation { count: amount, .. } => {
                self.amount("start", amount);
            }
            Start::Part(_, amount, of) => {
                self.amount("part of an edge", amount);
                self.start(of);
            }
            Start::Several(all) => all.iter().for_each(|start| self.start(start)),
            Start::Again(of) | Start::Rest(of) => self.start(of),
            Start::Opening(_, Rim::Around { corners: Some(amount), .. })
            | Start::Thing { places: Some(amount), .. } => {
                self.amount("places round an edge", amount);
            }
            Start::Through(one, other) => {
                self.start(one);
                self.start(other);
            }
            Start::Ring
            | Start::Edge(_)
            | Start::OtherSide(_)
            | Start::Top(_)
            | Start::Around(_)
            | Start::Side(..)
            | Start::Opening(..)
            | Start::Loops { .. }
            | Start::Thing { places: None, .. } => {}
        }
    }

    fn ending(&mut self, ending: &Ending) {
        let side = |side: &SeamSide| match side {
            SeamSide::Row(amount) | SeamSide::First(amount) | SeamSide::Last(amount) => Some(amount.clone()),
            SeamSide::Start => None,
        };
        let amounts = match ending {
            Ending::Gather(amount) => vec![amount.clone()],
            Ending::Sew { over, .. } => vec![over.clone()],
            Ending::Seam(one, other) => vec![side(one), side(other)],
            _ => Vec::new(),
        };
        amounts.iter().flatten().for_each(|amount| self.amount("ending", amount));
    }

    /// That the lead counts is said, or not.
    fn lead(&mut self, lead: &Lead, span: Span) {
        let Lead::Chain { chains, counts_as } = lead else { return };
        let new = match (counts_as, chains.value) {
            (Some(_), _) => format!("lead ch {}", chains.value),
            (None, 2) => "lead ch 2 as hdc".to_owned(),
            (None, 3) => "lead ch 3 as dc".to_owned(),
            _ => return,
        };
        self.push(
            "lead",
            Span::new(span.start, chains.span.end.max(counts_as.as_ref().map_or(0, |c| c.span.end))),
            new,
        );
    }

    fn steps(&mut self, steps: &[Step]) {
        for (at, step) in steps.iter().enumerate() {
            let from = at.checked_sub(1).map(|before| steps[before].span.end);
            let next = steps.get(at + 1).map(|next| next.span.start);
            match (from, next) {
                (Some(from), _) => self.push("step less", Span::new(from, step.span.end), String::new()),
                (None, Some(next)) => self.push("step less", Span::new(step.span.start, next), String::new()),
                (None, None) => {}
            }
            let twice = format!(", {}", &self.text[step.span.start..step.span.end]);
            self.push("step twice", Span::new(step.span.end, step.span.end), twice);
            self.step(step);
        }
    }

    fn step(&mut self, step: &Step) {
        match &step.kind {
            StepKind::Work(work) => {
                work.each.iter().for_each(|each| self.amount("several in a place", each));
                self.stitch(work.stitch.span);
                work.below.iter().for_each(|below| self.number("rows below", *below));
                self.places("stitches", &work.places);
                return;
            }
            StepKind::Repeat(repeat) => {
                if let RepeatBody::Steps { steps, stop: None } = &repeat.body
                    && let (Some(first), Some(last)) = (steps.first(), steps.last())
                {
                    let inside = self.text[first.span.start..last.span.end].to_owned();
                    self.push("brackets forgotten", step.span, inside);
                }
                if let Extent::Times(amount) = &repeat.extent {
                    self.amount("times", amount);
                }
                if let Extent::Till(till) = &repeat.extent {
                    self.till(till);
                }
                match &repeat.body {
                    RepeatBody::Steps { steps, .. } => self.steps(steps),
                    RepeatBody::On(arms) => arms.iter().for_each(|(_, steps)| self.steps(steps)),
                }
                return;
            }
            StepKind::TurningAs { space: Some(space), .. } => self.number("chains", *space),
            StepKind::JoinTo { nth: Some(nth), .. } => self.number("place", *nth),
            _ => {}
        }
        let name = match &step.kind {
            StepKind::Skip { .. } => "skip",
            StepKind::Leave(_) => "leave",
            StepKind::Move(_) => "move",
            StepKind::Chain(_) | StepKind::ChainAs { .. } | StepKind::TurningAs { .. } | StepKind::Close { .. } => {
                "chains"
            }
            _ => "other number",
        };
        step.kind.each_part(&mut |part| match part {
            Part::Steps(steps) => self.steps(steps),
            Part::Amount(amount) => self.amount(name, amount),
            Part::Stitch(stitch) => self.stitch(stitch.span),
            Part::Kind(kind) => self.kind("space", kind),
            Part::Places(places) => self.places(name, places),
            Part::Place(place) => self.place(place),
            Part::Till(till) => self.till(till),
        });
    }

    fn places(&mut self, name: &'static str, places: &Where) {
        match places {
            Where::Bare => {}
            Where::Count { amount, kind, .. } => {
                self.amount(name, amount);
                if let Some(kind) = kind {
                    self.kind("space", kind);
                }
            }
            Where::Till(till) => self.till(till),
            Where::Skipped { amount, .. } => self.amount(name, amount),
            Where::Each { kind, till } => {
                self.kind("space", kind);
                self.till(till);
            }
            Where::In(place) => self.place(place),
        }
    }

    fn place(&mut self, place: &Place) {
        match place {
            Place::NextOf(kind) => self.kind("space", kind),
            Place::FromHook(number) => self.number("place", *number),
            Place::Nth(number, kind) => {
                self.number("place", *number);
                self.kind("space", kind);
            }
            _ => {}
        }
    }

    fn till(&mut self, till: &Till) {
        match till {
            Till::Last(amount) => self.amount("to last", amount),
            Till::Next(kind) | Till::LastOf(kind) => self.kind("space", kind),
            Till::End | Till::Mark(_) => {}
        }
    }

    /// A space of another length.
    fn kind(&mut self, name: &'static str, kind: &Kind) {
        if let KindWhat::Space(length) = kind.what
            && let Some(other) = self.off(length)
        {
            self.push(name, kind.span, format!("ch-{other} sp"));
        }
    }

    fn amount(&mut self, name: &'static str, amount: &Amount) {
        for term in &amount.terms {
            if let TermValue::Number(value) = term.value {
                self.number(name, Number { span: term.span, value });
            }
        }
        let written = |number: &Number| amount.terms.iter().any(|term| term.span == number.span);
        for number in amount.numbers().into_iter().filter(|number| !written(number)) {
            self.number("arithmetic", number);
        }
    }

    fn number(&mut self, name: &'static str, number: Number) {
        if let Some(other) = self.off(number.value) {
            // How often lines are done again may be said by a word.
            if ["once", "twice"].contains(&&self.text[number.span.start..number.span.end]) {
                return self.push(name, number.span, format!("{other} times"));
            }
            // The ending of `4th` is a part of the number.
            let written = &self.text[number.span.start..number.span.end];
            let ordinal = !written.ends_with(|letter: char| letter.is_ascii_digit());
            let digits = written.trim_end_matches(|letter: char| letter.is_ascii_alphabetic()).len();
            let rest = &self.text[number.span.start + digits..];
            let ending = rest.len() - rest.trim_start_matches(|letter: char| letter.is_ascii_alphabetic()).len();
            let follows = ["st", "nd", "rd", "th"].contains(&&rest[..ending]);
            let (end, new) = if ordinal || follows {
                (number.span.start + digits + ending, ordinal_of(other))
            } else {
                (number.span.end, other.to_string())
            };
            self.push(name, Span::new(number.span.start, end), new);
        }
    }

    /// The number by a little off.
    fn off(&mut self, value: u64) -> Option<u64> {
        let by = OFF[self.numbers % OFF.len()];
        self.numbers += 1;
        let other = i64::try_from(value).unwrap() + by;
        // 0 means to do nothing, which is a step less.
        u64::try_from(other).ok().filter(|other| *other > 0)
    }

    /// Another stitch: one that is easily written for it.
    fn stitch(&mut self, span: Span) {
        let word = &self.text[span.start..span.end];
        let others: &[(&str, &str)] = match word {
            "inc" => &[("increase dropped", "sc"), ("increase and decrease", "dec")],
            "sc2tog" | "dec" | "invdec" => &[("decrease dropped", "sc"), ("increase and decrease", "inc")],
            "dc2tog" => &[("decrease dropped", "dc")],
            "hdc2tog" => &[("decrease dropped", "hdc")],
            "sc" => &[("increase for plain", "inc"), ("decrease for plain", "sc2tog"), ("US for UK", "dc")],
            "dc" => &[("decrease for plain", "dc2tog"), ("US for UK", "tr"), ("UK for US", "sc")],
            "tr" => &[("US for UK", "dtr"), ("UK for US", "dc")],
            "hdc" => &[("decrease for plain", "hdc2tog")],
            _ => &[],
        };
        for (kind, other) in others {
            self.push(kind, span, (*other).to_owned());
        }
        if let Some(at) = word.find(|letter: char| letter.is_ascii_digit())
            && let Some(value) = word[at..=at].parse::<u64>().ok()
        {
            let other = if value > 2 { value - 1 } else { value + 1 };
            self.push("number in a name", Span::new(span.start + at, span.start + at + 1), other.to_string());
        }
    }

    fn push(&mut self, kind: &'static str, span: Span, new: String) {
        if self.text[span.start..span.end] != new {
            self.found.push(Slip { kind, span, new, line: self.line });
        }
    }
}

fn ordinal_of(number: u64) -> String {
    let ending = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{number}{ending}")
}
