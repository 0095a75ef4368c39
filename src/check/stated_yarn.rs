//! How much yarn the head says is needed: `4 balls`, `12 / 10 / 8 balls`, `500 m in all`.

use super::measured::{Unit, measured};
use super::prose::words;
use crate::pattern::model::{Ball, Yarn};
use crate::units::Unit as Measure;

/// Balls by their other names.
const BALLS: &[&str] = &["ball", "balls", "skein", "skeins", "hank", "hanks"];

/// Words beside an amount that leave it the amount of all the yarn.
const IN_ALL: &[&str] =
    &["in", "all", "total", "altogether", "about", "approx", "approximately", "of", "used", "needed"];

/// An amount that is stated of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stated {
    /// One number, or one a size.
    pub numbers: Vec<f64>,
    /// Its unit; nothing for balls.
    pub(super) unit: Option<Unit>,
    /// It is said to be of all the yarn; a bare `70 m` may be that, or what is in a ball.
    pub of_all: bool,
}

impl Stated {
    /// The number in a size; the last one where there are fewer numbers than sizes makes none.
    pub(crate) fn get(&self, size: usize) -> Option<f64> {
        match self.numbers.as_slice() {
            [one] => Some(*one),
            numbers => numbers.get(size).copied(),
        }
    }
}

/// How many balls are stated of a yarn.
pub(super) fn balls(yarn: &Yarn) -> Option<Stated> {
    yarn.more.iter().find_map(|text| balls_in(text))
}

/// How many balls some words state. Words such as `2 balls for the chair` are left to the reader.
pub(crate) fn balls_in(text: &str) -> Option<Stated> {
    let end = text.find(|c: char| c.is_alphabetic())?;
    let (numbers, rest) = text.split_at_checked(end)?;
    let mut after = words(rest);
    let is_balls = after.next().is_some_and(|word| BALLS.contains(&word.to_lowercase().as_str()));
    let alone = after.next().is_none() || rest.contains('(');
    let numbers = numbers.split(['/', ',']).map(|number| crate::units::number(number.trim()));
    let numbers: Vec<f64> = numbers.collect::<Option<_>>()?;
    (is_balls && alone).then_some(Stated { numbers, unit: None, of_all: true })
}

/// How long or heavy all the yarn is, where that is stated; both, where both are.
pub(super) fn in_all(yarn: &Yarn) -> Vec<Stated> {
    let stated = yarn.more.iter().filter_map(|text| {
        let found = measured(text).into_iter().next()?;
        let before = text.get(..found.start)?;
        let after = text.get(found.end..)?;
        let is = |list: &[&str], word: &str| list.contains(&word.to_lowercase().as_str());
        let outside = || words(before).chain(words(after));
        let of_balls = outside().any(|word| is(BALLS, word));
        let all = outside().any(|word| is(&["all", "total", "altogether"], word));
        let plain = outside().all(|word| is(IN_ALL, word));
        let counted = matches!(found.unit, Unit::Metre | Unit::Yard | Unit::Gram | Unit::Ounce);
        (counted && (all || (plain && !of_balls))).then_some(Stated {
            numbers: found.numbers,
            unit: Some(found.unit),
            of_all: all,
        })
    });
    stated.collect()
}

/// How much yarn the head says is needed in a size, in metres, and as it says so; nothing where it says nothing, or only how
/// heavy it is and not what a ball of it holds.
pub(super) fn needed(yarn: &Yarn, size: usize) -> Option<(f64, String)> {
    let metres = |ball: Ball| ball.length.to(Measure::Metre);
    if let (Some(stated), Some(ball)) = (balls(yarn), yarn.ball_size) {
        let number = stated.get(size)?;
        return Some((number * metres(ball), balls_told(number)));
    }
    let known = yarn.ball_size.is_some();
    in_all(yarn).iter().filter(|stated| stated.of_all || known).find_map(|stated| {
        let (number, unit) = (stated.get(size)?, stated.unit?);
        let amount = number * unit.in_base();
        let metres = match yarn.ball_size {
            Some(ball) if unit.is_mass() => amount / ball.mass.g() * metres(ball),
            _ if unit.is_mass() => return None,
            _ => amount / 100.0,
        };
        Some((metres, format!("{number} {}", unit.short())))
    })
}

/// "1 ball", "2.5 balls".
pub(super) fn balls_told(number: f64) -> String {
    if number <= 1.0 { format!("{number} ball") } else { format!("{number} balls") }
}

#[cfg(test)]
mod tests {
    use super::{Unit, balls, in_all, needed};
    use crate::pattern::model::Yarn;

    fn yarn(more: &str) -> Yarn {
        let text = format!("pattern Quay Mat\nterms US\nyarn A \"oat\", weight 3, 50 g = 85 m, {more}\n");
        crate::compile(&text).pattern.head.yarns[0].clone()
    }

    #[test]
    fn balls_are_read_by_size() {
        let numbers = |more: &str| balls(&yarn(more)).map(|stated| stated.numbers);
        assert_eq!(numbers("4 balls"), Some(vec![4.0]));
        assert_eq!(numbers("12 / 10 / 8 balls"), Some(vec![12.0, 10.0, 8.0]));
        assert_eq!(numbers("1 skein (80 m)"), Some(vec![1.0]));
        assert_eq!(numbers("a few metres"), None);
        assert_eq!(numbers("2 balls for the chair and 3 for the settee"), None);
    }

    #[test]
    fn what_is_stated_in_all_is_read_with_its_unit() {
        let stated = |more: &str| {
            let all = in_all(&yarn(more)).into_iter();
            all.map(|stated| (stated.numbers, stated.unit)).collect::<Vec<_>>()
        };
        assert_eq!(stated("4 balls, 500 m in all"), [(vec![500.0], Some(Unit::Metre))]);
        assert_eq!(stated("about 300 / 350 m"), [(vec![300.0, 350.0], Some(Unit::Metre))]);
        assert_eq!(stated("4 balls (340 m in all)"), [(vec![340.0], Some(Unit::Metre))]);
        assert_eq!(stated("200 g altogether"), [(vec![200.0], Some(Unit::Gram))]);
        assert_eq!(stated("200 g in all, 340 m in all").len(), 2);
        assert_eq!(stated("1 ball"), []);
        assert_eq!(stated("1 ball of 85 m"), []);
        assert_eq!(stated("a strand of 3 m for the ties"), []);
    }

    #[test]
    fn what_is_needed_is_told_in_metres() {
        let metres = |more: &str| needed(&yarn(more), 0).map(|(metres, _)| metres.round());
        assert_eq!(metres("4 balls"), Some(340.0));
        assert_eq!(metres("100 g in all"), Some(170.0));
        assert_eq!(metres("100 yd in all"), Some(91.0));
        assert_eq!(metres("a little"), None);
    }
}
