//! One file a check.
