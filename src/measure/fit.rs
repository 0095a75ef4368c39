//! Whom a piece fits: the body, the ease, and the finished measurement between them.

use super::finished::Dimension;
use crate::pattern::model::{Ease, Finished, FitRange, Pattern, Slack};
use crate::standards::{self, Body};
use crate::units::{Fractions, Length};

/// A body in one size, and where its measurement comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Wearer {
    /// What is measured: `head`, `bust`, `foot`.
    pub measure: String,
    /// From, to.
    pub range: FitRange,
    /// The row of a table; nothing when the pattern says it itself.
    pub row: Option<&'static Body>,
}

/// Whom a size is for: what `fits` says of it, and what the chosen table says.
#[must_use]
pub fn wearers(pattern: &Pattern, size: usize) -> Vec<Wearer> {
    let stated = pattern.head.fits.iter().filter_map(|fits| {
        let range = fits.spans.get(size).copied().flatten()?;
        Some(Wearer { measure: fits.what.clone(), range, row: None })
    });
    stated.chain(by_table(pattern, size)).collect()
}

/// What the chosen table says of a size.
#[must_use]
pub fn by_table(pattern: &Pattern, size: usize) -> Option<Wearer> {
    let table = pattern.head.fit_table.as_ref()?;
    let row = standards::of_size(&table.name, pattern.sizes.get(size)?)?;
    Some(Wearer { measure: row.measure.clone(), range: row.range, row: Some(row) })
}

/// What something is worn on, by what is measured: `the head`, else `the body`.
#[must_use]
pub fn part(measure: &str) -> &'static str {
    let worn = [
        ("head", "the head"),
        ("foot", "the foot"),
        ("hand", "the hand"),
        ("palm", "the hand"),
        ("bootie", "the foot"),
    ];
    worn.into_iter().find(|(word, _)| mentions(measure, word)).map_or("the body", |(_, part)| part)
}

/// The ease that is stated, or else the usual one: a hat clings to the head, and a bootie is measured itself. Nothing
/// where it is the designer's to choose.
#[must_use]
pub fn ease_for(pattern: &Pattern, measure: &str) -> Option<Ease> {
    let usual = || match measure {
        _ if mentions(measure, "head") => standards::ease("hat"),
        "bootie" => Some(Ease {
            text: "none".to_owned(),
            low: Some(Slack::Share(0.0)),
            high: Some(Slack::Share(0.0)),
            source: None,
        }),
        _ => None,
    };
    pattern.head.ease.clone().or_else(usual)
}

/// Whether a finished measurement is the one that goes on a part of a body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goes {
    /// It goes on it.
    On,
    /// It is a measurement of that sort, but of something else: round a cuff, where the bust is given.
    OnAnother,
    /// It is of another sort: a length, where a head is given.
    No,
}

/// Whether a finished measurement is the one that goes on this part of a body. What it is measured at says of which part it is,
/// where its name is a word for one; any other part of a garment is none that a bust or a waist could be compared with.
#[must_use]
pub fn goes_on(finished: &Finished, measure: &str) -> Goes {
    let what = finished.what.trim();
    let names_it = Dimension::named(what) != Dimension::Around && mentions(measure, what);
    if names_it || mentions(what, measure) {
        return Goes::On;
    }
    let wanted = match Dimension::named(&finished.what) {
        Dimension::Around => &["head", "bust", "chest", "hand", "palm", "wrist", "waist", "hip", "arm", "neck"][..],
        Dimension::Length | Dimension::Other => &["foot", "bootie"],
        Dimension::Width | Dimension::Diameter => &[],
    };
    if !wanted.iter().any(|part| mentions(measure, part)) {
        return Goes::No;
    }
    let at = finished.at.as_deref().unwrap_or_default();
    let named: Vec<&Part> = PARTS
        .iter()
        .filter(|part| part.words.iter().any(|word| mentions(at, word) || mentions(&finished.what, word)))
        .collect();
    let is_of = |part: &&Part| part.of.iter().any(|of| mentions(measure, of));
    let goes = match named.as_slice() {
        [] => at.is_empty() || WHOLE.iter().any(|part| mentions(measure, part)),
        parts => parts.iter().any(is_of),
    };
    if goes { Goes::On } else { Goes::OnAnother }
}

/// What a garment's part is called, and which parts of a body it goes on.
struct Part {
    words: &'static [&'static str],
    of: &'static [&'static str],
}

/// Common practice, no source.
const PARTS: &[Part] = &[
    Part { words: &["cuff", "cuffs", "wrist", "wristband", "wristlet", "wristlets"], of: &["wrist"] },
    Part { words: &["sleeve", "sleeves", "arm", "armhole"], of: &["arm"] },
    Part { words: &["neck", "neckband", "neckline", "collar"], of: &["neck"] },
    Part { words: &["waist", "waistband"], of: &["waist"] },
    Part { words: &["hip", "hips", "hem", "skirt"], of: &["hip", "hips"] },
    Part { words: &["leg", "legs", "ankle", "calf", "thigh"], of: &["leg", "ankle", "calf", "thigh"] },
    Part { words: &["thumb", "finger", "fingers"], of: &["thumb", "finger"] },
    Part { words: &["palm", "hand"], of: &["hand", "palm"] },
    Part { words: &["head", "hat", "cap", "brim"], of: &["head"] },
    Part { words: &["bust", "chest", "bodice", "yoke", "front", "back"], of: &["bust", "chest"] },
    Part { words: &["body"], of: &["bust", "chest", "head", "hand", "palm"] },
    Part { words: &["foot", "sole"], of: &["foot", "bootie"] },
];

/// Parts of a body that a thing worn there goes round as a whole, whatever its pieces are called.
const WHOLE: &[&str] = &["head", "hand", "palm", "wrist", "neck", "foot", "bootie"];

fn mentions(text: &str, word: &str) -> bool {
    !word.is_empty()
        && text.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|one| one.eq_ignore_ascii_case(word))
}

impl Ease {
    /// In words, of a part of the body: `5 to 10 cm (2 to 4 in) more than the body`, `5 to 10 % less than the head`.
    #[must_use]
    pub fn told(&self, fractions: Fractions, part: &str) -> String {
        let amount = |slack: Slack| match slack {
            Slack::Length(length) => length.abs(),
            Slack::Share(share) => Length::millimetres(share.abs()),
        };
        let below = |slack: Slack| match slack {
            Slack::Length(length) => length.mm() < 0.0,
            Slack::Share(share) => share < 0.0,
        };
        let none = |slack: Slack| amount(slack).mm() <= 0.0;
        let one = |slack: Slack| match slack {
            Slack::Length(length) => length.abs().in_both(fractions),
            Slack::Share(share) => format!("{} %", (share.abs() * 100.0).round()),
        };
        match (self.low, self.high) {
            (None, None) => "any".to_owned(),
            (Some(low), None) => format!("{} or more than {part}", one(low)),
            (None, Some(high)) if none(high) => format!("the size of {part} or less"),
            (None, Some(high)) => format!("at most {} more than {part}", one(high)),
            (Some(low), Some(high)) if none(low) && none(high) => format!("the size of {part}"),
            (Some(low), Some(high)) if none(high) => format!("up to {} less than {part}", one(low)),
            (Some(low), Some(high)) if none(low) => format!("up to {} more than {part}", one(high)),
            (Some(low), Some(high)) if low == high => format!("{} {} than {part}", one(low), more(below(low))),
            (Some(low), Some(high)) if below(low) && !below(high) => {
                format!("from {} less to {} more than {part}", one(low), one(high))
            }
            (Some(low), Some(high)) => {
                let (least, most) = if below(low) { (high, low) } else { (low, high) };
                format!("{} {} than {part}", two(least, most, fractions), more(below(low)))
            }
        }
    }

    /// The finished measurements that suit a body: from, to. An open end is nothing.
    #[must_use]
    pub fn suits(&self, body: FitRange) -> (Option<Length>, Option<Length>) {
        let add = |length: Length, slack: Slack| match slack {
            Slack::Length(more) => length + more,
            Slack::Share(share) => length * (1.0 + share),
        };
        (self.low.map(|slack| add(body.low, slack)), self.high.map(|slack| add(body.high, slack)))
    }
}

fn more(is_less: bool) -> &'static str {
    if is_less { "less" } else { "more" }
}

/// `5 to 10 cm (2 to 4 in)`, without signs.
fn two(least: Slack, most: Slack, fractions: Fractions) -> String {
    match (least, most) {
        (Slack::Length(least), Slack::Length(most)) => {
            let (least, most) = (least.abs(), most.abs());
            let inches = (least.inch_number(fractions), most.in_inches(fractions));
            format!("{} to {} ({} to {})", least.cm_number(), most.in_cm(), inches.0, inches.1)
        }
        (Slack::Share(least), Slack::Share(most)) => {
            format!("{} to {} %", (least.abs() * 100.0).round(), (most.abs() * 100.0).round())
        }
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::{Goes, ease_for, goes_on, part, wearers};
    use crate::pattern::model::Pattern;
    use crate::units::Fractions;

    fn pattern(head: &str) -> Pattern {
        crate::compile(&format!("pattern Cap\nsizes newborn / adult\nterms US\n{head}\n")).pattern
    }

    #[test]
    fn a_hat_may_be_smaller_than_the_head_but_not_larger() {
        let cap = pattern("fits head 34-36 / 54-57 cm\nfinished around 32 / 50 cm");
        let adult = &wearers(&cap, 1)[0];
        let (low, high) = ease_for(&cap, &adult.measure).unwrap().suits(adult.range);
        // 15 per cent less than 54 cm, up to 57 cm.
        assert!((low.unwrap().mm() - 459.0).abs() < 1e-9 && (high.unwrap().mm() - 570.0).abs() < 1e-9);
        assert_eq!(goes_on(&cap.head.finished[0], "head"), Goes::On);
    }

    #[test]
    fn a_measurement_goes_on_the_part_that_it_is_taken_at() {
        let goes = |finished: &str, measure: &str| {
            let vest = pattern(&format!("finished {finished}"));
            goes_on(&vest.head.finished[0], measure)
        };
        assert_eq!(goes("around 90 / 100 cm", "bust"), Goes::On);
        assert_eq!(goes("around 90 / 100 cm at Body", "bust"), Goes::On);
        assert_eq!(goes("bust 90 / 100 cm", "bust"), Goes::On);
        assert_eq!(goes("around 20 / 22 cm at Left Cuff", "bust"), Goes::OnAnother);
        assert_eq!(goes("around 20 / 22 cm at Left Cuff", "wrist"), Goes::On);
        assert_eq!(goes("cuff around 20 / 22 cm", "bust"), Goes::OnAnother);
        assert_eq!(goes("around 60 / 62 cm at Rim of Foam", "bust"), Goes::OnAnother);
        assert_eq!(goes("around 50 / 52 cm at Rim of Foam", "head"), Goes::On);
        assert_eq!(goes("around 8 / 9 cm at Thumb", "hand around the palm"), Goes::OnAnother);
        assert_eq!(goes("length 60 / 62 cm", "bust"), Goes::No);
    }

    #[test]
    fn a_table_says_whom_a_size_is_for() {
        let cap = pattern("fits by table knit heads\nfits with ease -5 to 0 cm");
        let heads: Vec<_> =
            (0..2).flat_map(|size| wearers(&cap, size)).map(|wearer| wearer.range.low.in_cm()).collect();
        assert_eq!(heads, ["35.5 cm", "56 cm"]);
        let (low, high) = ease_for(&cap, "head").unwrap().suits(wearers(&cap, 0)[0].range);
        assert!((low.unwrap().mm() - 305.0).abs() < 1e-9 && (high.unwrap().mm() - 355.0).abs() < 1e-9);
    }

    #[test]
    fn the_ease_of_a_garment_is_the_designers_to_choose() {
        let vest = pattern("fits bust 80-85 / 90-95 cm\nfinished around 90 / 100 cm");
        assert_eq!(ease_for(&vest, "bust"), None);
        let vest = pattern("fits bust 80-85 / 90-95 cm\nfits with ease standard");
        assert_eq!(ease_for(&vest, "bust").unwrap().text, "standard");
    }

    #[test]
    fn ease_is_told_in_words() {
        let told = |ease: &str| {
            pattern(&format!("fits with ease {ease}")).head.ease.unwrap().told(Fractions::Typeset, part("chest"))
        };
        assert_eq!(told("standard"), "5 to 10 cm (2 to 4 in) more than the body");
        assert_eq!(told("very close"), "the size of the body or less");
        assert_eq!(told("oversized"), "15 cm (6 in) or more than the body");
        assert_eq!(told("-10 to -5 %"), "5 to 10 % less than the body");
        assert_eq!(told("-5 to 0 cm"), "up to 5 cm (2 in) less than the body");
        assert_eq!(told("-2 to 2 in"), "from 5 cm (2 in) less to 5 cm (2 in) more than the body");
        assert_eq!(told("5cm"), "5 cm (2 in) more than the body");
        let hat = pattern("fits head 50-54 cm\nfits with ease -10 to -5 %").head.ease.unwrap();
        assert_eq!(hat.told(Fractions::Typeset, part("head")), "5 to 10 % less than the head");
        assert!(pattern("fits with ease some").head.ease.is_none());
    }
}
