//! What the heads of two versions say otherwise: materials, gauges, measurements, what is needed, and words.

use crate::pattern::model::{Finished, Gauge, Hook, MakerWords, Pattern, Terms, Yarn};

/// One thing that a head says: what it is called, and its words.
type Entry = (String, String);

/// What is different, in sentences, in the order of the page.
pub(super) fn told(old: &Pattern, new: &Pattern) -> Vec<String> {
    let (was, is) = (&old.head, &new.head);
    let mut told = Vec::new();
    let one = |words: Option<&String>, called: &str| -> Vec<Entry> {
        words.map(|words| (called.to_owned(), words.clone())).into_iter().collect()
    };
    told.extend(renamed(&one(Some(&was.title), "The title"), &one(Some(&is.title), "The title")));
    told.extend(renamed(&one(was.about.as_ref(), "The description"), &one(is.about.as_ref(), "The description")));
    told.extend(renamed(&one(was.skill.as_ref(), "The level"), &one(is.skill.as_ref(), "The level")));
    let each = |pattern: &Pattern| -> Vec<Entry> {
        let head = &pattern.head;
        let yarns = head.yarns.iter().map(|yarn| (format!("Yarn {}", yarn.name), of_yarn(yarn)));
        let hooks = head.hooks.iter().map(|hook| (called("The hook", hook.name.as_deref()), of_hook(hook)));
        let gauges = head.gauges.iter().map(|gauge| {
            let gauge = if old.terms == new.terms { gauge.clone() } else { in_us_terms(pattern, gauge) };
            (gauge_called(&gauge), gauge.to_string())
        });
        let fits = head.fits.iter().map(|fits| (format!("What it fits, {}", fits.what), fits.text.clone()));
        let finished = head.finished.iter().map(|finished| (finished_called(finished), of_finished(finished)));
        yarns.chain(hooks).chain(gauges).chain(fits).chain(finished).collect()
    };
    told.extend(renamed(&each(old), &each(new)));
    told.extend(listed("notion", &was.notions, &is.notions));
    told.extend(listed("caution", &was.cautions, &is.cautions));
    told.extend(listed("note", &notes(&was.notes), &notes(&is.notes)));
    told
}

/// What is called the same and says something else, what is new, and what is gone.
fn renamed(old: &[Entry], new: &[Entry]) -> Vec<String> {
    let find = |there: &[Entry], called: &str| there.iter().position(|(other, _)| other.eq_ignore_ascii_case(called));
    let mut told = Vec::new();
    for (called, is) in new {
        match find(old, called).and_then(|at| old.get(at)) {
            Some((_, was)) if was == is => {}
            Some((_, was)) => told.push(stopped(format!("{called}: “{is}” in place of “{was}”"))),
            None => told.push(stopped(format!("{called} is new: “{is}”"))),
        }
    }
    let gone = old.iter().filter(|(called, _)| find(new, called).is_none());
    told.extend(gone.map(|(called, was)| stopped(format!("{called} is gone: “{was}”"))));
    told
}

/// What is in one list and not in the other, whatever its place there.
fn listed(called: &str, old: &[String], new: &[String]) -> Vec<String> {
    let missing = |from: &[String], there: &[String], what: &str| -> Vec<String> {
        let words = from.iter().filter(|words| !there.contains(words));
        words.map(|words| stopped(format!("A {called} is {what}: “{words}”"))).collect()
    };
    [missing(old, new, "gone"), missing(new, old, "new")].concat()
}

/// A sentence that ends with quoted words has their full stop.
fn stopped(told: String) -> String {
    if told.ends_with(".”") { told } else { format!("{told}.") }
}

fn of_yarn(yarn: &Yarn) -> String {
    let colour = yarn.colour.clone();
    let weight = yarn.weight.as_ref().map(|weight| format!("weight {weight}"));
    let parts = colour.into_iter().chain(weight).chain(yarn.ball.clone()).chain(yarn.more.iter().cloned());
    parts.collect::<Vec<_>>().join(", ")
}

fn of_hook(hook: &Hook) -> String {
    let wide = hook.millimetres.as_ref().map(|mm| format!("{mm} mm"));
    let letter = hook.letter.as_ref().map(|letter| if wide.is_some() { format!("({letter})") } else { letter.clone() });
    wide.into_iter().chain(letter).collect::<Vec<_>>().join(" ")
}

fn of_finished(finished: &Finished) -> String {
    let at = finished.at_row.map(|row| format!(" at row {row}")).unwrap_or_default();
    format!("{} {}{at}", finished.numbers.join(" / "), finished.unit)
}

fn called(what: &str, name: Option<&str>) -> String {
    name.map_or_else(|| what.to_owned(), |name| format!("{what} “{name}”"))
}

/// Versions in other stitch names are compared in those of one side.
fn in_us_terms(pattern: &Pattern, gauge: &Gauge) -> Gauge {
    let stitch = gauge.stitch.as_deref().and_then(|stitch| pattern.stitches.find(stitch.trim(), pattern.terms));
    let name = stitch.and_then(|id| pattern.stitches.get(id)).map(|stitch| stitch.names(Terms::Us).short.clone());
    Gauge { stitch: name.or_else(|| gauge.stitch.clone()), ..gauge.clone() }
}

/// A gauge is known by its name, or by the stitch that it is in.
fn gauge_called(gauge: &Gauge) -> String {
    match (&gauge.name, &gauge.stitch) {
        (Some(name), _) => called("The gauge", Some(name)),
        (None, Some(stitch)) => format!("The gauge in {}", stitch.trim()),
        (None, None) => "The gauge".to_owned(),
    }
}

fn finished_called(finished: &Finished) -> String {
    let at = finished.at.as_ref().map(|at| format!(" at {at}")).unwrap_or_default();
    format!("Finished {}{at}", finished.what)
}

/// Words with their numbers as they are written by size.
fn notes(notes: &[MakerWords]) -> Vec<String> {
    notes.iter().map(words).collect()
}

fn words(words: &MakerWords) -> String {
    let number = |sign: char| {
        let sized = MakerWords::number_of(sign).and_then(|at| words.numbers.get(at));
        sized.map(|sized| sized.values.iter().map(u32::to_string).collect::<Vec<_>>().join(" / "))
    };
    words.text.chars().map(|sign| number(sign).unwrap_or_else(|| sign.to_string())).collect()
}

#[cfg(test)]
mod tests {
    use super::told;

    const OLD: &str = "pattern Cap\nterms US\nhook 4 mm\nyarn A \"slate\", weight 3, 50 g = 110 m, 2 balls\nyarn B \"foam\"\n\
        gauge 17 sts x 18 rows in sc = 10 cm\nfinished around 40 cm at Cap\nnotion stitch marker\nnote Work loosely.\n";

    fn told_of(new: &str) -> Vec<String> {
        told(&crate::compile(OLD).pattern, &crate::compile(new).pattern)
    }

    #[test]
    fn each_thing_of_the_head_is_told_once() {
        assert!(told_of(OLD).is_empty());
        for (from, to, expected) in [
            ("4 mm", "4.5 mm", "The hook: “4.5 mm” in place of “4 mm”."),
            (
                "2 balls",
                "3 balls",
                "Yarn A: “slate, weight 3, 50 g = 110 m, 3 balls” in place of “slate, weight 3, 50 g = 110 m, 2 balls”.",
            ),
            ("yarn B \"foam\"\n", "", "Yarn B is gone: “foam”."),
            (
                "17 sts",
                "18 sts",
                "The gauge in sc: “18 sts x 18 rows in sc = 10 cm” in place of “17 sts x 18 rows in sc = 10 cm”.",
            ),
            ("around 40 cm", "around 42 cm", "Finished around at Cap: “42 cm” in place of “40 cm”."),
            (
                "stitch marker",
                "tapestry needle",
                "A notion is gone: “stitch marker”. A notion is new: “tapestry needle”.",
            ),
            ("Work loosely.", "Work tightly.", "A note is gone: “Work loosely.” A note is new: “Work tightly.”"),
        ] {
            assert_eq!(told_of(&OLD.replace(from, to)).join(" "), expected, "{from}");
        }
    }
}
