//! A setting or a start that stands below the first row or round of its piece: it is for the whole piece, not from there on.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Edit, Fix, Safety, Span};
use crate::syntax::tree::{Body, ColourWork, Lead, Line, LineKind, PieceLine, Setting};
use crate::words;

pub(super) const CODE: Code = Code("setting-late");

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let mut findings = Vec::new();
    let mut piece = Piece::default();
    for (at, line) in context.tree.lines.iter().enumerate() {
        match &line.kind {
            LineKind::Piece(named) => piece = Piece { named: Some(named), ..Piece::default() },
            LineKind::Bad(unread) if unread.may_begin_a_piece() => piece = Piece::default(),
            LineKind::Work(_) | LineKind::Again(_) => {
                piece.first.get_or_insert(line.span);
            }
            // Another hook may be used from some row on.
            LineKind::Setting(Setting::Using(_)) if piece.first.is_some() => {}
            // That is what it is for.
            LineKind::Setting(Setting::Now(_)) => {}
            LineKind::Setting(_) | LineKind::Start(_) => match piece.first {
                Some(first) => findings.push(finding(context, &piece, first, line, context.tree.lines.get(at + 1..))),
                None => piece.settings.push(&line.kind),
            },
            _ => {}
        }
    }
    findings
}

/// A piece as far as it was read.
#[derive(Default)]
struct Piece<'a> {
    named: Option<&'a PieceLine>,
    /// The settings and the start above its first row or round.
    settings: Vec<&'a LineKind>,
    /// Where its first row or round is written.
    first: Option<Span>,
}

impl Piece<'_> {
    fn name(&self) -> &str {
        self.named.map_or("the piece", |piece| piece.name.text.as_str())
    }

    /// Whether the same was set above already.
    fn has(&self, kind: &LineKind) -> bool {
        let which = |kind: &LineKind| match kind {
            LineKind::Setting(setting) => Some(std::mem::discriminant(setting)),
            _ => None,
        };
        self.settings.iter().any(|earlier| which(earlier) == which(kind))
    }
}

fn finding(context: Context<'_>, piece: &Piece<'_>, first: Span, line: &Line, below: Option<&[Line]>) -> Diagnostic {
    let (word, help) = match &line.kind {
        LineKind::Setting(Setting::With(_)) => ("with", "`with` names the yarn that a piece begins with".to_owned()),
        LineKind::Setting(Setting::Lead(_)) => {
            ("lead", "a row with another lead says it itself, as its first step: `row 5: lead ch 2, …`".to_owned())
        }
        LineKind::Setting(Setting::Stripe(_)) => ("stripe", new_piece(piece, "stripe …")),
        LineKind::Setting(Setting::Colours(_)) => ("colours", new_piece(piece, "colours …")),
        _ => ("start", "a piece has one start: for another begin a new piece".to_owned()),
    };
    let message = format!("`{word}` is for the whole of {}, and its first row or round stands above it", piece.name());
    let finding = Diagnostic::error(CODE, message, line.span, "too late for what is worked already")
        .with_other(first, "the work begins here")
        .with_help(help);
    if let LineKind::Setting(Setting::With(yarn)) = &line.kind
        && let Some(listed) = others(context, &yarn.text)
    {
        return of_print(finding, &yarn.text, line.span, &listed);
    }
    fixes(piece, first, line, below.unwrap_or_default()).into_iter().fold(finding, Diagnostic::with_fix)
}

/// The yarns of the pattern, where none of them is called so.
fn others<'p>(context: Context<'p>, name: &str) -> Option<Vec<&'p str>> {
    let yarns: Vec<&str> = context.pattern.head.yarns.iter().map(|yarn| yarn.name.as_str()).collect();
    (!yarns.is_empty() && !yarns.iter().any(|yarn| yarn.eq_ignore_ascii_case(name))).then_some(yarns)
}

/// `with MC` where the yarns have other names: it is one of them.
fn of_print(finding: Diagnostic, name: &str, line: Span, listed: &[&str]) -> Diagnostic {
    const MOST_ASKED: usize = 3;
    let finding = finding.with_note(format!("no yarn is called `{name}`: there are {}", words::list(listed)));
    listed.iter().take(MOST_ASKED).fold(finding, |finding, yarn| {
        let text = format!("change to {yarn}");
        finding.with_fix(Fix::change(format!("write `{text}`, if that is the one"), line, text))
    })
}

fn new_piece(piece: &Piece<'_>, setting: &str) -> String {
    format!("for the rows from here on begin a new piece, with `{setting}` and `start top of {}`", piece.name())
}

fn fixes(piece: &Piece<'_>, first: Span, line: &Line, below: &[Line]) -> Vec<Fix> {
    let mut fixes = Vec::new();
    match &line.kind {
        LineKind::Setting(Setting::With(yarn)) => {
            let text = format!("change to {}", yarn.text);
            fixes.push(Fix::change(format!("write `{text}`: another yarn from here on"), line.span, text));
        }
        LineKind::Setting(Setting::Lead(lead)) => fixes.extend(in_each_line(lead, line, below)),
        _ => {}
    }
    if !piece.has(&line.kind) {
        fixes.extend(written(&line.kind).map(|text| Fix {
            title: format!("put `{text}` above the first row or round, for the whole piece"),
            edits: vec![
                Edit { span: Span::new(first.start, first.start), text: format!("{text}\n") },
                Edit { span: line.span, text: String::new() },
            ],
            safety: Safety::ChangesFabric,
        }));
    }
    fixes
}

/// The lead said by every line of the piece from here on.
fn in_each_line(lead: &Lead, line: &Line, below: &[Line]) -> Option<Fix> {
    let lead = written_lead(lead);
    let step = if lead == "lead none" { "no lead".to_owned() } else { lead };
    let here = below.iter().take_while(|line| !matches!(line.kind, LineKind::Piece(_)));
    let steps = here.filter_map(|line| match &line.kind {
        LineKind::Work(work) => match &work.body {
            Body::Steps(steps) => steps.first().map(|step| step.span.start),
            _ => None,
        },
        _ => None,
    });
    let mut edits = vec![Edit { span: line.span, text: String::new() }];
    edits.extend(steps.map(|at| Edit { span: Span::new(at, at), text: format!("{step}, ") }));
    let title = format!("write `{step}` in each line from here on");
    (edits.len() > 1).then_some(Fix { title, edits, safety: Safety::ChangesFabric })
}

/// A setting as it is written; a start is not moved.
fn written(kind: &LineKind) -> Option<String> {
    let LineKind::Setting(setting) = kind else { return None };
    Some(match setting {
        Setting::Now(_) => return None,
        Setting::With(yarn) => format!("with {}", yarn.text),
        Setting::Using(name) => format!("using {}", name.text),
        Setting::Lead(lead) => written_lead(lead),
        Setting::Stripe(colours) => {
            let colours: Vec<String> =
                colours.iter().map(|(yarn, lines)| format!("{} {}", yarn.text, lines.value)).collect();
            format!("stripe {}", colours.join(", "))
        }
        Setting::Colours(ColourWork::Carried) => "colours carried".to_owned(),
        Setting::Colours(ColourWork::Stranded) => "colours stranded".to_owned(),
        Setting::Colours(ColourWork::Apart) => "colours apart".to_owned(),
    })
}

fn written_lead(lead: &Lead) -> String {
    match lead {
        Lead::None => "lead none".to_owned(),
        Lead::Chain { chains, counts_as: None } => format!("lead ch {}", chains.value),
        Lead::Chain { chains, counts_as: Some(stitch) } => format!("lead ch {} as {}", chains.value, stitch.text),
    }
}
