//! What a maker reads: the page in each of its editions, as text, as Markdown and in a browser.

mod browser;
mod editions;
mod html_valid;
mod markdown;
