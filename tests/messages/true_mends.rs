//! Slips in places of their own sort, each with the repair that gives back what was written before it.
use ringtrue::compile;
use ringtrue::diagnostic::Severity;
use ringtrue::mend::compile_and_mend;

/// Rows that grow by one, until a length.
const WEDGE: &str = "pattern Slipway Wedge\nterms US\ngauge 20 sts x 20 rows in sc = 10 cm\npiece Wedge, in rows\nlead ch 1\n\
                     start ch 11\nrow 1: sc in 2nd ch from hook, sc to end = 10\nrow 2: 2 sc in next, sc to end = 11\n\
                     again row 2 until 10 cm = 29\nrow 21: sc to end = 29\n";

/// The same rows by formula.
const FORMULA: &str = "pattern Slipway Mat\nterms US\nsizes small / large\nset wide = 12 / 18\npiece Mat, in rows\nlead ch 1\nstart ch {wide + 1}\n\
                       row 1: sc in 2nd ch from hook, sc to end = {wide}\n\
                       row 2: [sc {wide / 6 - 1}, 2 sc in next] 6 times = {wide + 6}\n\
                       row 3: sc to end = {wide + 6}\nrow 4: [sc {wide / 6}, 2 sc in next] 6 times = {wide + 12}\n";

/// Whether the text as it was is among the first three repairs of the one error that a slip makes; says what is offered.
fn is_mended(text: &str, old: &str, new: &str) -> Result<(), String> {
    assert!(!compile(text).has_errors(), "{text}");
    assert_eq!(text.matches(old).count(), 1, "{old}");
    let slipped = text.replace(old, new);
    let compiled = compile_and_mend(&slipped);
    let errors: Vec<_> = compiled.findings.iter().filter(|found| found.severity == Severity::Error).collect();
    let [only] = errors.as_slice() else { return Err(format!("{new}: {} errors", errors.len())) };
    let offered: Vec<String> = only.fixes.iter().map(|fix| fix.title.clone()).collect();
    let is_true = only.fixes.iter().any(|fix| fix.apply(&slipped) == text);
    is_true.then_some(()).ok_or_else(|| format!("{new}: {} {offered:?}", only.message))
}

#[test]
fn numbers_are_mended_wherever_they_stand() {
    let slips = [
        (WEDGE, "until 10 cm", "until 9 cm"),
        (WEDGE, "until 10 cm", "until 11 cm"),
        (FORMULA, "{wide / 6 - 1}", "{wide / 6 - 2}"),
        (FORMULA, "{wide / 6}", "{wide / 7}"),
        (FORMULA, "= {wide + 12}", "= {wide + 13}"),
        (FORMULA, "start ch {wide + 1}", "start ch {wide + 2}"),
        (FORMULA, "12 / 18", "12 / 17"),
        (FORMULA, "12 / 18", "13 / 18"),
    ];
    let failures: Vec<String> = slips.iter().filter_map(|(text, old, new)| is_mended(text, old, new).err()).collect();
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// What the rows above and below say of the one between.
#[test]
fn a_row_is_mended_by_those_around_it() {
    let crown = "pattern Slipway Crown\nterms US\npiece Crown, in a spiral\nstart ring\nrnd 1: 8 sc in ring = 8\nrnd 2: [inc] to end = 16\n\
                 rnd 3: [sc, inc] 8 times = 24\nrnd 4: [sc 2, inc] 8 times = 32\nrnd 5: [sc 3, inc] 8 times = 40\nrnd 6: [sc 4, inc] 8 times = 48\n";
    let slips = [
        ("[sc 2, inc] 8 times", "sc 2, inc"),
        ("[sc 3, inc] 8 times", "[sc 3] 8 times"),
        ("[sc 3, inc] 8 times", "[sc 3, sc] 8 times"),
        ("[sc 3, inc] 8 times", "[inc] 8 times"),
        ("[sc 2, inc] 8 times", "[sc 2, inc, inc] 8 times"),
    ];
    let failures: Vec<String> = slips.iter().filter_map(|(old, new)| is_mended(crown, old, new).err()).collect();
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
