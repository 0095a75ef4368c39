//! A text with everything that follows from it: tree, pattern, fabric and findings in one value.

use crate::diagnostic::{Diagnostic, Safety, Severity, Span};
use crate::fabric::{self, Bears, Fabric, Kept};
use crate::pattern::model::Pattern;
use crate::{check, limits, once, pattern, syntax};

/// Compiles a pattern. Whatever is written there, a tree, a pattern and its fabric come out, as far as they go.
#[must_use]
pub fn compile(text: &str) -> Compiled {
    let (tree, findings) = syntax::parse(text);
    compile_tree(limits::MOST_STITCHES, tree, findings).0
}

/// Compiles what was read, findings of the reading included, working so many stitches at most; also gives how many.
pub(crate) fn compile_tree(most: u64, tree: syntax::tree::File, mut findings: Vec<Diagnostic>) -> (Compiled, u64) {
    let (pattern, more) = pattern::lower(&tree);
    findings.extend(more);
    work(most, tree, pattern, findings)
}

/// Works a pattern, and adds what is found to what was found in reading it.
pub(crate) fn work(
    most: u64,
    tree: syntax::tree::File,
    pattern: Pattern,
    findings: Vec<Diagnostic>,
) -> (Compiled, u64) {
    work_beside(&Kept::default(), most, tree, pattern, findings)
}

/// The same, with the rows that are kept of patterns that differ in a few lines.
pub(crate) fn work_beside(
    kept: &Kept,
    most: u64,
    tree: syntax::tree::File,
    mut pattern: Pattern,
    mut findings: Vec<Diagnostic>,
) -> (Compiled, u64) {
    let broken = errors(&findings);
    pattern.doubt.places.extend(not_understood(&findings).into_iter().map(|place| place.start));
    let (fabric, worked) = fabric::work_beside(kept, most, &pattern, &broken);
    if !pattern.doubt.everything {
        check::complete(&pattern, &fabric, &mut findings);
    }
    once::merge(&mut findings);
    if !pattern.doubt.everything {
        findings.extend(check::run(&tree, &pattern, &fabric));
    }
    if errors(&findings).is_empty() {
        findings.extend(check::margin(&tree, &pattern, &fabric));
    }
    check::settle(&tree, &mut findings);
    findings.sort_by_key(|f| (f.primary.span, f.code));
    shorten(&mut findings);
    (Compiled { tree, pattern, fabric, findings }, worked)
}

/// The same, where more of it is only wanted if it is worked without a fault that it is not borne with. The size is given
/// that is likeliest to have one.
pub(crate) fn work_if_borne(
    (kept, bears, first): (&Kept, &Bears, usize),
    most: u64,
    tree: syntax::tree::File,
    mut pattern: Pattern,
    findings: Vec<Diagnostic>,
) -> (Option<Compiled>, u64) {
    let doubt = pattern.doubt.clone();
    pattern.doubt.places.extend(not_understood(&findings).into_iter().map(|place| place.start));
    let (borne, tried) = fabric::is_borne((kept, bears), most, &pattern, &errors(&findings), first);
    if !borne || tried >= most {
        return (None, tried);
    }
    pattern.doubt = doubt;
    let (compiled, worked) = work_beside(kept, most - tried, tree, pattern, findings);
    (Some(compiled), tried.saturating_add(worked))
}

/// Nobody reads thousands of findings; the first ones are kept.
fn shorten(findings: &mut Vec<Diagnostic>) {
    if findings.len() <= limits::MOST_FINDINGS {
        return;
    }
    findings.truncate(limits::MOST_FINDINGS);
    if let Some(last) = findings.last_mut() {
        last.notes.push("there is more to be said; mend these first".to_owned());
    }
}

/// Where the errors are.
pub(crate) fn errors(findings: &[Diagnostic]) -> Vec<Span> {
    findings.iter().filter(|f| f.severity == Severity::Error).flat_map(Diagnostic::places).collect()
}

/// Where something is written that no other spelling makes plain.
fn not_understood(findings: &[Diagnostic]) -> Vec<Span> {
    // A word that is nearly one of ours may be no more than the beginning of another.
    let guessed = |finding: &Diagnostic| finding.code == syntax::codes::DID_YOU_MEAN;
    let respelt =
        |finding: &&Diagnostic| !guessed(finding) && finding.fixes.iter().any(|fix| fix.safety == Safety::KeepsFabric);
    let errors = findings.iter().filter(|finding| finding.severity == Severity::Error);
    errors.filter(|finding| !respelt(finding)).map(|finding| finding.primary.span).collect()
}

/// A compiled pattern: what is written, what it makes, and what is to be said about it.
#[derive(Debug, Clone)]
pub struct Compiled {
    /// What is written, line by line.
    pub tree: syntax::tree::File,
    /// The pattern with every name looked up.
    pub pattern: Pattern,
    /// Every stitch of every size, as far as it can be worked.
    pub fabric: Fabric,
    /// Findings, in the order of the text.
    pub findings: Vec<Diagnostic>,
}

impl Compiled {
    /// Whether there is an error among the findings.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Error)
    }
}
