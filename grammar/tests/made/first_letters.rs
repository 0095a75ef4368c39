//! With what letters a text can begin that a rule reads, by the grammar itself.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use pest_meta::ast::Expr;
use pest_meta::parser::{self, Rule};

/// What a part of the grammar may begin with.
#[derive(Clone, PartialEq, Eq, Default)]
struct Letters {
    /// Letters of ASCII.
    ascii: BTreeSet<u8>,
    /// Any other one.
    other: bool,
    /// It may read nothing, so that what comes behind it is the first.
    nothing: bool,
}

impl Letters {
    fn anything() -> Self {
        Self { ascii: (0..128).collect(), other: true, nothing: false }
    }

    fn or_nothing(self) -> Self {
        Self { nothing: true, ..self }
    }

    fn nothing() -> Self {
        Self::default().or_nothing()
    }

    fn or(mut self, other: &Self) -> Self {
        self.ascii.extend(&other.ascii);
        Self { other: self.other || other.other, nothing: self.nothing || other.nothing, ..self }
    }

    fn of(letter: char) -> Self {
        let ascii = u8::try_from(letter).ok().filter(u8::is_ascii);
        Self { ascii: ascii.into_iter().collect(), other: ascii.is_none(), nothing: false }
    }

    fn row(&self) -> String {
        if self.nothing || *self == Self::anything() {
            return "ANYTHING".to_owned();
        }
        let bits = self.ascii.iter().fold(0_u128, |bits, letter| bits | 1 << letter);
        format!("({bits:#x}, {})", self.other)
    }
}

/// A line for each rule of a grammar, in their order, the end of the text first, as the parser generator has them.
pub fn table(grammar: &str) -> String {
    let text = fs::read_to_string(format!("{}/{grammar}", super::BESIDE)).unwrap();
    let rules = parser::consume_rules(parser::parse(Rule::grammar_rules, &text).unwrap()).unwrap();
    let mut known: BTreeMap<&str, Letters> = rules.iter().map(|rule| (&*rule.name, Letters::default())).collect();
    // A rule may rest on one further down, or on itself: what is known of them grows until nothing is added.
    loop {
        let before = known.clone();
        for rule in &rules {
            let letters = of(&rule.expr, &known);
            known.insert(&rule.name, letters);
        }
        if known == before {
            break;
        }
    }
    let rows = rules.iter().map(|rule| format!("    {}, // {}\n", known[&*rule.name].row(), rule.name));
    let head = format!("// Made of {grammar} by `RINGTRUE_RENEW=1 cargo test -p ringtrue-grammar`.");
    format!("{head}\n[\n    ANYTHING, // EOI\n{}]\n", rows.collect::<String>())
}

fn of(part: &Expr, known: &BTreeMap<&str, Letters>) -> Letters {
    let of = |part: &Expr| of(part, known);
    match part {
        Expr::Str(text) => text.chars().next().map_or_else(Letters::nothing, Letters::of),
        Expr::Insens(text) => text.chars().next().map_or_else(Letters::nothing, |letter| {
            Letters::of(letter.to_ascii_lowercase()).or(&Letters::of(letter.to_ascii_uppercase()))
        }),
        Expr::Ident(name) => known.get(&**name).cloned().unwrap_or_else(|| built_in(name)),
        Expr::Choice(one, other) => of(one).or(&of(other)),
        // White space between two parts is passed over where the first of them reads nothing.
        Expr::Seq(one, other) => match of(one) {
            first if first.nothing => {
                let rest = of(other);
                Letters { nothing: rest.nothing, ..first.or(&rest).or(&Letters::of(' ')) }
            }
            first => first,
        },
        Expr::RepOnce(part) => of(part),
        Expr::Opt(part) | Expr::Rep(part) => of(part).or_nothing(),
        Expr::PosPred(_) | Expr::NegPred(_) => Letters::nothing(),
        _ => Letters::anything().or_nothing(),
    }
}

fn built_in(name: &str) -> Letters {
    match name {
        "ASCII_DIGIT" => Letters { ascii: (b'0'..=b'9').collect(), ..Letters::default() },
        "LETTER" => {
            let ascii = (0..128).filter(u8::is_ascii_alphabetic).collect();
            Letters { ascii, other: true, nothing: false }
        }
        "ANY" => Letters::anything(),
        _ => Letters::anything().or_nothing(),
    }
}
