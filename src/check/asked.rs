//! A check: what it is called, how bad its finding is, and when it is asked.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Severity};

/// A check of what was worked: one line of the table of all checks.
#[derive(Debug, Clone, Copy)]
pub struct Check {
    /// The name of its finding; its file and its page are called the same.
    pub code: Code,
    /// How bad its finding is. A warning can be answered by a `meant` line.
    pub severity: Severity,
    /// Its page, in Markdown: what it finds, why, an example, and what to write instead.
    pub page: &'static str,
    pub(super) asked: Asked,
    /// Whether repairs are looked for by trying edits in the fabric.
    pub(super) tried: bool,
}

/// When a check is asked.
#[derive(Debug, Clone, Copy)]
pub(super) enum Asked {
    /// When the fabric has a fault of its kind: it says it in words.
    OfFaults,
    /// Of every pattern.
    Always(Run),
    /// Of a pattern without an error.
    Margin(Run),
    /// When all else has been said.
    Last,
}

/// From the pattern and its fabric to findings.
pub(super) type Run = fn(Context<'_>) -> Vec<Diagnostic>;

impl Check {
    pub(super) const fn fault(code: Code, page: &'static str) -> Self {
        Self { code, severity: Severity::Error, page, asked: Asked::OfFaults, tried: true }
    }

    pub(super) const fn error(code: Code, page: &'static str, run: Run) -> Self {
        Self { code, severity: Severity::Error, page, asked: Asked::Always(run), tried: true }
    }

    pub(super) const fn warning(code: Code, page: &'static str, run: Run) -> Self {
        Self { code, severity: Severity::Warning, page, asked: Asked::Always(run), tried: false }
    }

    pub(super) const fn margin(code: Code, page: &'static str, run: Run) -> Self {
        Self { code, severity: Severity::Warning, page, asked: Asked::Margin(run), tried: false }
    }

    pub(super) const fn last(code: Code, page: &'static str) -> Self {
        Self { code, severity: Severity::Warning, page, asked: Asked::Last, tried: false }
    }

    /// No edit that could be tried would mend it.
    pub(super) const fn untried(self) -> Self {
        Self { tried: false, ..self }
    }

    /// Whether a `meant` line can answer it.
    #[must_use]
    pub fn can_be_meant(&self) -> bool {
        self.severity == Severity::Warning && !matches!(self.asked, Asked::Last)
    }
}
