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

/// Whether a finished measurement is the one that goes on this part of a body.
#[must_use]
pub fn goes_on(finished: &Finished, measure: &str) -> bool {
    if mentions(measure, finished.what.trim()) || mentions(&finished.what, measure) {
        return true;
    }
    let wanted = match Dimension::named(&finished.what) {
        Dimension::Around => &["head", "bust", "chest", "hand", "palm", "wrist", "waist", "hip", "arm", "neck"][..],
        Dimension::Length => &["foot", "bootie"],
        Dimension::Width | Dimension::Diameter => &[],
    };
    wanted.iter().any(|part| mentions(measure, part))
}

fn mentions(text: &str, word: &str) -> bool {
    !word.is_empty()
        && text.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|one| one.eq_ignore_ascii_case(word))
}

impl Ease {
    /// In words: `5 to 10 cm (2 to 4 in) more than the body`, `5 to 10 % less than the body`.
    #[must_use]
    pub fn told(&self, fractions: Fractions) -> String {
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
            (Some(low), None) => format!("{} or more than the body", one(low)),
            (None, Some(high)) if none(high) => "the size of the body or less".to_owned(),
            (None, Some(high)) => format!("at most {} more than the body", one(high)),
            (Some(low), Some(high)) if none(low) && none(high) => "the size of the body".to_owned(),
            (Some(low), Some(high)) if none(high) => format!("up to {} less than the body", one(low)),
            (Some(low), Some(high)) if none(low) => format!("up to {} more than the body", one(high)),
            (Some(low), Some(high)) if low == high => format!("{} {} than the body", one(low), more(below(low))),
            (Some(low), Some(high)) if below(low) && !below(high) => {
                format!("from {} less to {} more than the body", one(low), one(high))
            }
            (Some(low), Some(high)) => {
                let (least, most) = if below(low) { (high, low) } else { (low, high) };
                format!("{} {} than the body", two(least, most, fractions), more(below(low)))
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
    use super::{ease_for, goes_on, wearers};
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
        assert!(goes_on(&cap.head.finished[0], "head"));
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
        let told = |ease: &str| pattern(&format!("fits with ease {ease}")).head.ease.unwrap().told(Fractions::Typeset);
        assert_eq!(told("standard"), "5 to 10 cm (2 to 4 in) more than the body");
        assert_eq!(told("very close"), "the size of the body or less");
        assert_eq!(told("oversized"), "15 cm (6 in) or more than the body");
        assert_eq!(told("-10 to -5 %"), "5 to 10 % less than the body");
        assert_eq!(told("-5 to 0 cm"), "up to 5 cm (2 in) less than the body");
        assert_eq!(told("-2 to 2 in"), "from 5 cm (2 in) less to 5 cm (2 in) more than the body");
        assert_eq!(told("5cm"), "5 cm (2 in) more than the body");
        assert!(pattern("fits with ease some").head.ease.is_none());
    }
}
