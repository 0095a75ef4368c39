//! The page that a maker works from.

/// Which page.
#[derive(Debug, Default)]
pub struct Edition;

/// Markdown.
#[must_use]
pub fn markdown(compiled: &crate::Compiled, _: &Edition) -> String {
    compiled.pattern.head.title.clone()
}

/// HTML.
#[must_use]
pub fn html(compiled: &crate::Compiled, _: &Edition) -> String {
    compiled.pattern.head.title.clone()
}
