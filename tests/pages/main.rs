//! What a maker reads: the page in each of its editions, as text, as Markdown and in a browser.

#![expect(
    clippy::disallowed_methods,
    clippy::disallowed_types,
    reason = "the tests read the samples, and start a browser"
)]

mod as_worked;
mod beside;
mod browser;
mod chart_shapes;
mod charts;
mod editions;
mod html_valid;
mod markdown;
mod numbers_read;
mod trade_words;
mod what_hands_do;
mod widths;
mod word_for_word;
