//! All that can be done with a text, one thing after the other.

use ringtrue::page::{self, Edition, Wording};
use ringtrue::pattern::model::Terms;
use ringtrue::report::{Checked, Report};
use ringtrue::view::{View, about, next};
use ringtrue::{differ, fill, grade, measure, mend, message, proof, shape, tally, terms, tidy, yarn};

/// Does it all; what comes out is not looked at here, only that it comes out.
pub fn everything(text: &str) {
    let compiled = mend::compile_and_mend(text);
    let _ = message::render(&compiled.findings, "fuzz.rnd", text, message::Colour::Plain);
    let checked = Checked { name: "fuzz.rnd", text, findings: &compiled.findings };
    let _ = (Report::json().add(&checked), Report::sarif().add(&checked));
    let _ = page::html(&compiled, &Edition::default());
    let in_full = Edition { words: Wording::InFull, terms: Some(Terms::Uk), size: Some(0), ..Edition::default() };
    let _ = (page::markdown(&compiled, &in_full), page::plain(&compiled, &in_full));
    let _ = (tally::table(&compiled), proof::html(&proof::proof(&compiled, "fuzz.rnd", text)));
    let (pattern, fabric) = (&compiled.pattern, &compiled.fabric);
    let _ = (measure::table::table(pattern, fabric, None), yarn::table(pattern, fabric), shape::table(pattern, fabric));
    let shown = View::of(&compiled, text);
    for (from, to, _) in shown.words.iter().step_by(shown.words.len() / 3 + 1) {
        let _ = (next(text, *from), next(text, *to), about(text, *from));
    }
    let _ = (grade::table(text, &compiled), fill::fill(text, &compiled).fix, mend::offers(text, &compiled));
    let _ =
        (tidy::tidy(text), terms::in_terms(text, Terms::Uk), differ::differ(&compiled, &compiled).lines("2026-03-01"));
}
