//! A file laid out evenly.

use lsp_types::{DocumentFormattingParams, TextEdit};
use ringtrue::{readback, tidy};

use super::document::Document;
use super::messages::Error;

/// The edit that lays a document out: the lines from the first that changes to the last. What can't be read stays as it is.
pub fn formatting(document: &Document, _: &DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>, Error> {
    let old = &document.text;
    let tidied = tidy::tidy_what_can_be_read(old).text;
    // What changes the work is a fault of ours, and nothing is changed.
    if readback::otherwise(&ringtrue::compile(old), &ringtrue::compile(&tidied)).is_some() {
        return Err(Error::new(Error::FAILED, "laid out anew, this pattern would be worked otherwise"));
    }
    let new = with_ends_of(old, &tidied);
    Ok(Some(edit(document, &new).into_iter().collect()))
}

/// A text whose lines end as those of another one do.
fn with_ends_of(old: &str, new: &str) -> String {
    let new = new.replace("\r\n", "\n");
    if old.contains("\r\n") {
        new.replace('\n', "\r\n")
    } else if old.contains('\r') && !old.contains('\n') {
        new.replace('\n', "\r")
    } else {
        new
    }
}

/// The whole lines between those that are alike at the beginning and at the end.
fn edit(document: &Document, new: &str) -> Option<TextEdit> {
    let (old, new) = (lines(&document.text), lines(new));
    if old == new {
        return None;
    }
    let first = old.iter().zip(&new).take_while(|(old, new)| old == new).count();
    let (old_rest, new_rest) = (old.get(first..)?, new.get(first..)?);
    let last = old_rest.iter().rev().zip(new_rest.iter().rev()).take_while(|(old, new)| old == new).count();
    let range = document.whole_lines(first, old.len() - last);
    Some(TextEdit { range, new_text: new_rest.get(..new_rest.len() - last)?.concat() })
}

/// The lines of a text, each with its end.
fn lines(text: &str) -> Vec<&str> {
    let ends = if text.contains('\n') { '\n' } else { '\r' };
    text.split_inclusive(ends).collect()
}
