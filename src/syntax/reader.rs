//! What all parts of the reading share: the text, the findings, and the step from a rule to a node.

#![expect(clippy::wildcard_enum_match_arm, reason = "of the rules of a whole grammar, few can stand in one place")]

use std::collections::BTreeSet;
use std::sync::Arc;

use pest::error::{ErrorVariant, InputLocation};

use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Span};
use crate::limits;

use super::brackets;
use super::codes;
use super::grammar::{Node, Notation, Rule};
use super::tokens::{self, Token};
use super::tree::{Amount, Kind, KindWhat, Number, Step, Sum, Term, TermValue, Text, Way};

/// Words of print that the grammar reads like one of ours: the rule, the word, and ours.
const SYNONYMS: &[(Rule, &str, &str)] =
    &[(Rule::k_in, "into", "in"), (Rule::k_each, "every", "each"), (Rule::k_to, "onto", "to")];

/// Reads the parts of a text and gathers the findings.
#[derive(Debug)]
pub(super) struct Reader<'t> {
    /// The text as it was written.
    pub text: &'t str,
    /// The same with all that is not notation blanked out.
    pub masked: &'t str,
    /// What was found so far.
    pub findings: Vec<Diagnostic>,
    /// How the piece in hand is worked, where it was said.
    pub way: Option<Way>,
    /// Names that the file gives.
    pub names: Arc<Names>,
    /// Round brackets are being read that have a place, so that a number before a stitch needs none of its own.
    pub in_group: bool,
    /// An edit is being tried, so that none is looked for.
    pub probing: bool,
    /// Whether the next row stands below a remark that holds its old words.
    pub kept_open: bool,
    /// Steps that stand behind the stated count of the line in hand.
    pub after_count: Vec<Step>,
    /// The words and signs that were read, where they are wanted.
    pub tokens: Option<Vec<Token>>,
}

/// Names that a file gives, gathered before it is read.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    /// The designer's own stitches, in small letters.
    pub own_stitches: BTreeSet<String>,
    /// The yarns, in small letters.
    pub yarns: BTreeSet<String>,
    /// Numbers that `set` names.
    pub numbers: Vec<String>,
    /// Stitches that `mark` names, in small letters.
    pub marks: BTreeSet<String>,
    /// How many sizes there are; 1 when none are named.
    pub sizes: usize,
}

/// Where reading stopped and what could have stood there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stop {
    pub at: usize,
    pub expected: Vec<Rule>,
}

impl<'t> Reader<'t> {
    /// A reader that has found nothing yet.
    pub fn new(text: &'t str, masked: &'t str, names: Arc<Names>) -> Self {
        let findings = Vec::new();
        Self {
            text,
            masked,
            findings,
            way: None,
            names,
            in_group: false,
            probing: false,
            kept_open: false,
            after_count: Vec::new(),
            tokens: None,
        }
    }

    /// The notation of a stretch of the text.
    pub fn slice(&self, span: Span) -> &'t str {
        self.masked.get(span.start..span.end).unwrap_or_default()
    }

    /// A stretch without white space at its ends.
    pub fn trim(&self, span: Span) -> Span {
        let slice = self.slice(span);
        let start = span.start + (slice.len() - slice.trim_start().len());
        Span::new(start, start + slice.trim().len())
    }

    /// The last sign before a place.
    pub fn last_char(&self, end: usize) -> Span {
        let before = self.slice(Span::new(0, end)).trim_end();
        let last = before.chars().next_back().map_or(0, char::len_utf8);
        Span::new(before.len() - last, before.len())
    }

    /// The words of a stretch, with single spaces.
    pub fn words(&self, span: Span) -> Text {
        let span = self.trim(span);
        let text = self.slice(span).split_whitespace().collect::<Vec<_>>().join(" ");
        Text { span, text }
    }

    /// Reads a stretch by a rule.
    pub fn read(&mut self, rule: Rule, span: Span) -> Result<Node<'t>, Stop> {
        let slice = self.slice(span);
        // A parser goes down into each bracket, and would run out of stack in a nest as deep as a line is long.
        if let Some(at) = brackets::too_deep(slice) {
            return Err(Stop { at: span.start + at, expected: Vec::new() });
        }
        match ringtrue_grammar::read::<Notation, Rule>(rule, slice) {
            Ok(mut pairs) => match pairs.next() {
                Some(pair) => {
                    let node = Node::new(pair, span.start);
                    self.synonyms(&node);
                    if let Some(tokens) = &mut self.tokens {
                        tokens::gather(&node, tokens);
                    }
                    Ok(node)
                }
                None => Err(Stop { at: span.start, expected: Vec::new() }),
            },
            Err(error) => {
                let at = match error.location {
                    InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
                };
                let expected = match error.variant {
                    ErrorVariant::ParsingError { positives, .. } => positives,
                    ErrorVariant::CustomError { .. } => Vec::new(),
                };
                let rest = slice.get(at..).unwrap_or_default();
                let blank = rest.len() - rest.trim_start().len();
                Err(Stop { at: span.start + at + blank, expected })
            }
        }
    }

    /// Finds words that print uses for one of ours.
    fn synonyms(&mut self, node: &Node<'_>) {
        let ours = SYNONYMS
            .iter()
            .find(|(rule, printed, _)| *rule == node.rule() && node.text().eq_ignore_ascii_case(printed));
        if let Some((_, _, better)) = ours {
            self.respell(codes::SPELLING, format!("the word is `{better}` here"), node.span(), better);
        }
        for child in node.children() {
            self.synonyms(&child);
        }
    }

    /// Notes a finding, unless there are too many already.
    pub fn find(&mut self, finding: Diagnostic) {
        if self.findings.len() < limits::MOST_FINDINGS {
            self.findings.push(finding);
        }
    }

    /// Notes that something has another spelling here, with the edit that gives it.
    pub fn respell(&mut self, code: Code, message: impl Into<String>, span: Span, better: &str) {
        let old = self.text.get(span.start..span.end).unwrap_or_default();
        let title = if old.is_empty() { format!("add `{}`", better.trim()) } else { format!("`{old}` to `{better}`") };
        self.find(
            Diagnostic::error(code, message, span, format!("here it is written `{}`", better.trim()))
                .with_fix(Fix::spelling(title, span, better)),
        );
    }

    // ---- Words and numbers

    pub fn node_text(&self, node: &Node<'_>) -> Text {
        self.words(node.span())
    }

    /// A number; too large a one is a finding.
    pub fn number(&mut self, node: &Node<'_>) -> Option<Number> {
        let digits: String = node.text().chars().filter(char::is_ascii_digit).collect();
        let value = digits.parse::<u64>().ok().filter(|n| *n <= u64::from(limits::MOST_COUNT));
        if value.is_none() {
            let most = crate::words::thousands(limits::MOST_COUNT);
            self.find(
                Diagnostic::error(codes::NUMBER, "this number is too large", node.span(), "no pattern needs so many")
                    .with_help(format!("numbers go up to {most}")),
            );
        }
        Some(Number { span: node.span(), value: value? })
    }

    pub fn child_number(&mut self, node: &Node<'_>) -> Option<Number> {
        self.number(&node.child(Rule::number)?)
    }

    /// The amount inside a node.
    pub fn child_amount(&mut self, node: &Node<'_>) -> Option<Amount> {
        self.amount(&node.child(Rule::amount)?)
    }

    pub fn amount(&mut self, node: &Node<'_>) -> Option<Amount> {
        let mut terms = Vec::new();
        for child in node.children() {
            if child.rule() == Rule::gap_slip {
                self.gap(node.span());
                return None;
            }
            terms.push(self.term(&child)?);
        }
        self.check_list(terms.len(), node.span())?;
        Some(Amount { span: node.span(), terms })
    }

    /// Notes that a list of sizes lacks a number.
    pub fn gap(&mut self, list: Span) {
        self.find(
            Diagnostic::error(codes::LIST_GAP, "a number is missing in this list", list, "one number a size")
                .with_help("write 0 for a size in which nothing is done"),
        );
    }

    /// Nothing if a list is longer than there can be sizes; says so.
    pub fn check_list(&mut self, entries: usize, list: Span) -> Option<()> {
        if entries <= limits::MOST_SIZES {
            return Some(());
        }
        let message = format!("this list has {entries} entries");
        let most = limits::MOST_SIZES;
        let found = Diagnostic::error(codes::LIST_GAP, message, list, format!("{most} sizes are the most"));
        self.find(found);
        None
    }

    fn term(&mut self, node: &Node<'_>) -> Option<Term> {
        let inner = node.first()?;
        let value = if inner.rule() == Rule::number {
            TermValue::Number(self.number(&inner)?.value)
        } else {
            TermValue::Sum(self.sum(&inner)?)
        };
        Some(Term { span: node.span(), value })
    }

    /// A sum, a product or a single entry: operands with signs between them, joined from the left.
    pub fn sum(&mut self, node: &Node<'_>) -> Option<Sum> {
        if node.rule() == Rule::number {
            return Some(Sum::Number(self.number(node)?));
        }
        if node.rule() == Rule::set_name {
            return Some(Sum::Name(self.node_text(node)));
        }
        if node.children().count() > limits::MOST_IN_A_SUM {
            let most = format!("{} numbers and signs are the most", limits::MOST_IN_A_SUM);
            self.find(
                Diagnostic::error(codes::TOO_LONG, "this arithmetic is too long", node.span(), most)
                    .with_help("give a part of it a name with a `set` line"),
            );
            return None;
        }
        let mut parts = node.children();
        let first = parts.next()?;
        let mut left = self.sum(&first)?;
        let mut span = first.span();
        while let (Some(sign), Some(operand)) = (parts.next(), parts.next()) {
            span = span.to(operand.span());
            let right = Box::new(self.sum(&operand)?);
            left = Sum::Of { sign: plain_sign(sign.text()), left: Box::new(left), right, span };
        }
        Some(left)
    }

    // ---- Kinds of place

    pub fn child_kind(&mut self, node: &Node<'_>) -> Option<Kind> {
        self.kind(&node.child(Rule::kind)?)
    }

    pub fn kind(&mut self, node: &Node<'_>) -> Option<Kind> {
        let inner = node.first()?;
        let span = node.span();
        let what = match inner.rule() {
            Rule::k_st => KindWhat::AnyStitch,
            Rule::k_ch | Rule::k_chain => KindWhat::Chain,
            Rule::any_space => KindWhat::AnySpace,
            Rule::sp_slip => {
                self.respell(codes::SPELLING, "a space is named with its chains", span, "ch sp");
                KindWhat::AnySpace
            }
            Rule::space => KindWhat::Space(self.child_number(&inner)?.value),
            Rule::space_slip => {
                let chains = self.child_number(&inner)?.value;
                self.respell(codes::SPELLING, "a space is written with a hyphen", span, &format!("ch-{chains} sp"));
                KindWhat::Space(chains)
            }
            Rule::stitch => KindWhat::Stitch(self.stitch_name(&inner).text),
            other => return unexpected(other),
        };
        Some(Kind { span, what })
    }

    /// A stitch as written; `sl st` always with one space.
    pub fn stitch_name(&self, node: &Node<'_>) -> Text {
        let span = node.span();
        let text = if node.has(Rule::slip_stitch) {
            "sl st".to_owned()
        } else if node.has(Rule::full_name) {
            full_name(&self.words(span).text)
        } else {
            self.words(span).text
        };
        Text { span, text }
    }

    pub fn child_stitch(&self, node: &Node<'_>) -> Option<Text> {
        node.child(Rule::stitch).map(|stitch| self.stitch_name(&stitch))
    }
}

/// The rule can't come here; the line is then treated as one that can't be read.
pub(super) fn unexpected<T>(_rule: Rule) -> Option<T> {
    None
}

/// Several edits that only change the spelling.
pub(super) fn respelling(title: impl Into<String>, edits: Vec<(Span, String)>) -> Fix {
    let edits = edits.into_iter().map(|(span, text)| Edit { span, text }).collect();
    Fix { title: title.into(), edits, safety: Safety::KeepsFabric }
}

/// A full name as it stands in the table of stitches: one of them, with single spaces.
fn full_name(written: &str) -> String {
    let name = written.to_lowercase().replace('-', " ");
    let one = |word: &str| match word {
        "crochets" => "crochet".to_owned(),
        "trebles" => "treble".to_owned(),
        "stitches" => "stitch".to_owned(),
        word => word.to_owned(),
    };
    name.split_whitespace().map(one).collect::<Vec<_>>().join(" ")
}

fn plain_sign(written: &str) -> char {
    match written {
        "*" | "×" => '*',
        "/" => '/',
        "+" => '+',
        _ => '-',
    }
}
