//! One file a check.

use crate::diagnostic::Code;

/// The page of every check's message.
pub const PAGES: &[(Code, &str)] = &[];
