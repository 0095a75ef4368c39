//! The same rounds in many styles: labels, totals, repeats, increases and decreases are read to the same work however they are set.
//! Each style is common practice, no source.

use ringtrue::read::read;

/// How many stitches the rounds below have: counted by hand.
const ROUNDS: [u32; 7] = [6, 12, 18, 24, 24, 24, 18];

/// A ball of seven rounds, with a label for its numbers, a total, and a repeat of steps.
fn ball(
    label: &dyn Fn(u32, u32) -> String,
    total: &dyn Fn(u32) -> String,
    repeat: &dyn Fn(&str) -> String,
    (inc, dec): (&str, &str),
) -> String {
    let rows = [
        (1, 1, "6 sc in magic ring".to_owned(), 6),
        (2, 2, format!("{inc} x 6"), 12),
        (3, 3, repeat(&format!("sc, {inc}")), 18),
        (4, 4, repeat(&format!("2 sc, {inc}")), 24),
        (5, 6, "sc in each st around".to_owned(), 24),
        (7, 7, repeat(&format!("2 sc, {dec}")), 18),
    ];
    let lines = rows.iter().map(|(from, to, work, count)| format!("{}{work}{}\n", label(*from, *to), total(*count)));
    format!("Cork Float\nUS terms. Worked in a spiral.\n\nBall\n{}Fasten off.\n", lines.collect::<String>())
}

fn usual_label(from: u32, to: u32) -> String {
    if from == to { format!("Rnd {from}: ") } else { format!("Rnds {from}-{to}: ") }
}

fn usual_total(count: u32) -> String {
    format!(" ({count})")
}

fn usual_repeat(steps: &str) -> String {
    format!("({steps}) x 6")
}

/// The work is that of the seven rounds, and nothing of the text is marked.
fn holds(text: &str) {
    let notation = read(text).notation;
    assert!(!notation.contains("could not be read"), "{text}\n{notation}");
    let compiled = ringtrue::compile(&notation);
    let errors = compiled.findings.iter().filter(|found| found.severity == ringtrue::diagnostic::Severity::Error);
    assert_eq!(errors.count(), 0, "{text}\n{notation}");
    let table = ringtrue::tally::table(&compiled);
    for count in ROUNDS {
        assert!(table.contains(&count.to_string()), "{text}\n{table}");
    }
    assert!(notation.contains("[sc, inc] 6 times") || notation.contains("[sc, inc] to end"), "{text}\n{notation}");
}

#[test]
fn labels_are_set_in_many_ways() {
    let styles: [&dyn Fn(u32, u32) -> String; 12] = [
        &|from, to| if from == to { format!("R.{from}: ") } else { format!("R.{from}-{to}: ") },
        &|from, to| if from == to { format!("R {from}: ") } else { format!("R {from}-{to}: ") },
        &|from, to| if from == to { format!("Rnd{from}: ") } else { format!("Rnd{from}-{to}: ") },
        &|from, to| if from == to { format!("{from} - ") } else { format!("{from}-{to} - ") },
        &|from, to| if from == to { format!("#{from} ") } else { format!("#{from}-{to} ") },
        &|from, to| if from == to { format!("Rnd {from} | ") } else { format!("Rnds {from}-{to} | ") },
        &|from, to| if from == to { format!("Rnd {from} > ") } else { format!("Rnds {from}-{to} > ") },
        &|from, to| if from == to { format!("Round {from}; ") } else { format!("Rounds {from}-{to}; ") },
        &|from, to| if from == to { format!("Rnd {from}:\n") } else { format!("Rnds {from}-{to}:\n") },
        &|from, to| if from == to { format!("{from}) ") } else { format!("{from}) to {to}) ") },
        &|from, to| if from == to { format!("Round {from} – ") } else { format!("Rounds {from} to {to} – ") },
        &usual_label,
    ];
    for label in styles {
        holds(&ball(label, &usual_total, &usual_repeat, ("inc", "dec")));
    }
}

#[test]
fn totals_are_set_in_many_ways() {
    let styles: [&dyn Fn(u32) -> String; 12] = [
        &|count| format!(" >> {count}"),
        &|count| format!(" // {count}"),
        &|count| format!(" /{count}/"),
        &|count| format!(" |{count}|"),
        &|count| format!(" *{count}*"),
        &|count| format!(" ({count}st)"),
        &|count| format!(" 〔{count} sc〕"),
        &|count| format!(" 【{count}】"),
        &|count| format!(" (you have {count} sts)"),
        &|count| format!(", for a total of {count} sts."),
        &|count| format!(" ({count}"),
        &|count| format!(" [{count} sc"),
    ];
    for total in styles {
        let text = ball(&usual_label, total, &usual_repeat, ("inc", "dec"));
        holds(&text);
        assert!(read(&text).notation.contains("= 24"), "{text}");
    }
}

#[test]
fn repeats_and_shapings_are_said_in_many_ways() {
    let repeats: [&dyn Fn(&str) -> String; 6] = [
        &|steps| format!("Repeat ({steps}) 6 times"),
        &|steps| format!("Repeat [{steps}] around"),
        &|steps| format!("Work ({steps}) 6 times"),
        &|steps| format!("({}) x 6", steps.replace(", ", " + ")),
        &|steps| format!("({steps}) (x6)"),
        &|steps| format!("+{steps}; repeat from + around"),
    ];
    for repeat in repeats {
        holds(&ball(&usual_label, &usual_total, repeat, ("inc", "dec")));
    }
    for shapings in [
        ("incr", "decr"),
        ("inc", "sc next 2 sts together"),
        ("inc", "2tog"),
        ("inc", "work 2 together"),
        ("inc", "sc decrease"),
    ] {
        holds(&ball(&usual_label, &usual_total, &usual_repeat, shapings));
    }
}

/// Of steps without a sign between them it isn't known whether they are one or two.
#[test]
fn what_may_be_two_steps_is_not_chosen() {
    let text = ball(&usual_label, &usual_total, &|steps| format!("({}) x 6", steps.replace(", ", " ")), ("inc", "dec"));
    let compiled = ringtrue::compile(&read(&text).notation);
    assert!(compiled.findings.iter().any(|found| found.severity == ringtrue::diagnostic::Severity::Error));
}
