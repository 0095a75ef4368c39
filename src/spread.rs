//! Increases or decreases spread evenly over a row or round: the one rule for it, and the line that it gives.

use std::fmt;

use crate::limits;
use crate::stitch::{Made, Stitch, StitchId, Stitches, Terms};

/// What is to be spread.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    /// How many increases or decreases.
    pub amount: u32,
    /// Which of the two.
    pub change: Change,
    /// How many stitches there are before.
    pub over: u32,
    /// The stitch in between, by its name in `terms`.
    pub stitch: String,
    /// In which stitch names the line is written.
    pub terms: Terms,
    /// Where the first one comes.
    pub beginning: Beginning,
}

/// Whether stitches are added or taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// Each is two stitches in one place.
    Into,
    /// Each is two stitches worked together.
    OutOf,
}

/// Where the first of the spread stitches comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Beginning {
    /// After a whole gap. Round upon round the spread stitches stand above each other, and corners form.
    #[default]
    Stacked,
    /// After half a gap, the other half of which comes last. It falls between the spread stitches of a round that is
    /// stacked, so that no corners form; a row is then alike at both its ends.
    Shifted,
}

/// A line with its count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The steps in the notation.
    pub steps: String,
    /// How many plain stitches come before each of the spread ones.
    pub before_each: Vec<u32>,
    /// How many plain stitches come after the last of them.
    pub after: u32,
    /// How many stitches the line makes.
    pub makes: u32,
}

/// Why there is no such line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// So many stitches are needed, and so many are there.
    TooFew {
        /// Stitches that the spread ones stand on.
        needed: u32,
        /// Stitches that are there.
        over: u32,
    },
    /// More than a row or round may have.
    TooMany,
    /// No stitch of this name.
    Unknown {
        /// The name.
        name: String,
        /// A name that is spelled nearly like it.
        near: Option<String>,
    },
    /// It does not stand in one place and make one stitch.
    NotPlain(String),
    /// Two of it can't be worked together.
    NotTogether(String),
}

/// The line for what is wanted.
///
/// # Errors
/// Says why there is none.
pub fn line(wanted: &Wanted) -> Result<Line, Refusal> {
    if wanted.over > limits::MOST_COUNT || wanted.amount > limits::MOST_COUNT {
        return Err(Refusal::TooMany);
    }
    let (plain, special) = names(wanted)?;
    let (takes, makes) = match wanted.change {
        Change::Into => (1, 2),
        Change::OutOf => (2, 1),
    };
    let needed = wanted.amount.saturating_mul(takes);
    let left = wanted.over.checked_sub(needed).ok_or(Refusal::TooFew { needed, over: wanted.over })?;
    let (before_each, after) = gaps(left, wanted.amount, wanted.beginning);
    let steps = Steps { plain: &plain, special: &special }.write(&before_each, after);
    Ok(Line { steps, before_each, after, makes: left.saturating_add(wanted.amount.saturating_mul(makes)) })
}

/// So many plain stitches before each of `count` spread ones, as equal as whole numbers allow: no two differ by more
/// than one, and together they are all of them.
#[must_use]
pub fn share(plain: u32, count: u32) -> Vec<u32> {
    let up_to = |n: u32| u64::from(n) * u64::from(plain) / u64::from(count.max(1));
    (0..count).map(|n| u32::try_from(up_to(n + 1) - up_to(n)).unwrap_or(0)).collect()
}

/// The plain stitches before each of the spread ones, and after the last.
fn gaps(plain: u32, count: u32, beginning: Beginning) -> (Vec<u32>, u32) {
    let mut gaps = share(plain, count);
    let after = match (gaps.first_mut(), beginning) {
        (None, _) => plain,
        (Some(_), Beginning::Stacked) => 0,
        (Some(first), Beginning::Shifted) => {
            let half = *first / 2;
            *first -= half;
            half
        }
    };
    (gaps, after)
}

/// The names of the plain stitch and of the one that is spread, as the notation writes them.
fn names(wanted: &Wanted) -> Result<(String, String), Refusal> {
    let stitches = Stitches::standard();
    let id = stitches.find(&wanted.stitch, wanted.terms).ok_or_else(|| Refusal::Unknown {
        name: wanted.stitch.clone(),
        near: stitches.nearest(&wanted.stitch, wanted.terms),
    })?;
    let stitch = stitches.get(id).filter(|stitch| stands_alone(stitch, id));
    let plain = stitch.ok_or_else(|| Refusal::NotPlain(wanted.stitch.clone()))?.names(wanted.terms).short.clone();
    let short = |id| stitches.get(id).map(|stitch| stitch.names(wanted.terms).short.clone());
    let special = match wanted.change {
        Change::Into => stitches.in_one_place(id, 2).and_then(short).unwrap_or_else(|| format!("2 {plain} in next")),
        Change::OutOf => {
            let together = stitches.together(id, 2).and_then(short);
            together.ok_or_else(|| Refusal::NotTogether(plain.clone()))?
        }
    };
    Ok((plain, special))
}

fn stands_alone(stitch: &Stitch, id: StitchId) -> bool {
    stitch.takes == 1 && stitch.makes == [Made::Stitch(id)]
}

/// Writes steps; the names are as the notation spells them.
struct Steps<'a> {
    plain: &'a str,
    special: &'a str,
}

impl Steps<'_> {
    /// The whole line. What comes several times in a row is put in brackets.
    fn write(&self, before_each: &[u32], after: u32) -> String {
        let mut parts = Vec::new();
        let mut rest = before_each;
        while !rest.is_empty() {
            let (period, times) = longest_repeat(rest);
            let (once, _) = rest.split_at_checked(period).unwrap_or((rest, &[]));
            parts.push(self.repeated(once, times));
            rest = rest.get(period * times..).unwrap_or_default();
        }
        if after > 0 || parts.is_empty() {
            parts.push(self.plain(after));
        }
        parts.join(", ")
    }

    fn repeated(&self, gaps: &[u32], times: usize) -> String {
        let one_word = !self.special.contains(' ');
        match (gaps, times) {
            ([0], 2..) if one_word => format!("{} {times}", self.special),
            (_, 1) => self.once(gaps),
            _ => format!("[{}] {times} times", self.once(gaps)),
        }
    }

    fn once(&self, gaps: &[u32]) -> String {
        let unit = |gap: &u32| match gap {
            0 => self.special.to_owned(),
            _ => format!("{}, {}", self.plain(*gap), self.special),
        };
        gaps.iter().map(unit).collect::<Vec<_>>().join(", ")
    }

    fn plain(&self, count: u32) -> String {
        if count == 1 { self.plain.to_owned() } else { format!("{} {count}", self.plain) }
    }
}

/// How many entries the repeat has that saves most writing at the beginning of a list, and how often it comes.
pub(crate) fn longest_repeat<T: PartialEq>(gaps: &[T]) -> (usize, usize) {
    const LONGEST: usize = 5;
    let mut best = (1, 1);
    for period in 1..=LONGEST.min(gaps.len()) {
        let alike = gaps.iter().zip(gaps.iter().skip(period)).take_while(|(a, b)| a == b).count();
        let times = alike / period + 1;
        if period * (times - 1) > best.0 * (best.1 - 1) {
            best = (period, times);
        }
    }
    best
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}    = {}", self.steps, self.makes)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { needed, over } => {
                write!(f, "they stand on {needed} stitches, and there are only {over}")
            }
            Self::TooMany => write!(f, "no row or round has more than {} stitches", limits::MOST_COUNT),
            Self::Unknown { name, near: Some(near) } => {
                write!(f, "there is no stitch `{name}`; did you mean `{near}`?")
            }
            Self::Unknown { name, near: None } => write!(f, "there is no stitch `{name}`"),
            Self::NotPlain(name) => {
                write!(f, "`{name}` can't lie between; take a stitch that stands in one place and makes one, as `sc`")
            }
            Self::NotTogether(name) => write!(f, "there is no `{name}2tog`, so {name} can't be decreased here"),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Beginning, Change, Line, Refusal, Wanted, line, share};
    use crate::stitch::Terms;

    fn wanted(amount: u32, change: Change, over: u32, beginning: Beginning) -> Wanted {
        Wanted { amount, change, over, stitch: "sc".to_owned(), terms: Terms::Us, beginning }
    }

    fn steps(amount: u32, change: Change, over: u32, beginning: Beginning) -> String {
        line(&wanted(amount, change, over, beginning)).map_or_else(|r| r.to_string(), |line| line.to_string())
    }

    fn way() -> impl Strategy<Value = (Change, Beginning)> {
        (
            prop_oneof![Just(Change::Into), Just(Change::OutOf)],
            prop_oneof![Just(Beginning::Stacked), Just(Beginning::Shifted)],
        )
    }

    /// Gaps as they are met going round, where the end of the line and its beginning are one gap.
    fn round(line: &Line) -> Vec<u32> {
        let mut gaps = line.before_each.clone();
        if let Some(first) = gaps.first_mut() {
            *first += line.after;
        }
        gaps
    }

    /// The steps, worked in the fabric over a round of so many stitches, find no fault with their count.
    fn closes(line: &Line, over: u32) -> bool {
        let text = format!(
            "pattern Buoy\nterms US\npiece Buoy, in joined rounds\nlead ch 1\nstart {over} fsc\nrnd 1: sc to end = {over}\n\
             rnd 2: {} = {}\n",
            line.steps, line.makes
        );
        crate::compile(&text).findings.is_empty()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn the_total_closes_and_gaps_differ_by_one_at_most((change, beginning) in way(), over in 2_u32..200, part in 0_u32..100) {
            let most = match change { Change::Into => over, Change::OutOf => over / 2 };
            let amount = (most * part / 100).max(1);
            let line = line(&wanted(amount, change, over, beginning)).map_err(|r| TestCaseError::fail(r.to_string()))?;
            let gaps = round(&line);
            let (least, greatest) = (gaps.iter().min().copied(), gaps.iter().max().copied());
            prop_assert!(greatest.zip(least).is_some_and(|(greatest, least)| greatest - least <= 1), "{gaps:?}");
            prop_assert_eq!(line.makes, match change { Change::Into => over + amount, Change::OutOf => over - amount });
            prop_assert!(closes(&line, over), "{line}");
        }

        #[test]
        fn a_shifted_round_is_half_a_gap_off_a_stacked_one(over in 2_u32..200, amount in 1_u32..20) {
            prop_assume!(amount <= over);
            let [stacked, shifted] = [Beginning::Stacked, Beginning::Shifted]
                .map(|beginning| line(&wanted(amount, Change::Into, over, beginning)));
            let (Ok(stacked), Ok(shifted)) = (stacked, shifted) else { return Err(TestCaseError::fail("no line")) };
            prop_assert_eq!(round(&stacked), round(&shifted));
            let first = |line: &Line| line.before_each.first().copied().unwrap_or(0);
            prop_assert_eq!(first(&stacked) - first(&shifted), first(&stacked) / 2);
        }
    }

    /// Rounds 2 to 7 of the stuffed toy BRC0234-030779M (2021-03-18), as its publisher printed them.
    #[test]
    fn rounds_in_print_come_out_as_they_are_printed() {
        assert_eq!(steps(6, Change::Into, 6, Beginning::Stacked), "inc 6    = 12");
        assert_eq!(steps(6, Change::Into, 12, Beginning::Stacked), "[sc, inc] 6 times    = 18");
        assert_eq!(steps(6, Change::Into, 18, Beginning::Stacked), "[sc 2, inc] 6 times    = 24");
        assert_eq!(steps(6, Change::Into, 24, Beginning::Stacked), "[sc 3, inc] 6 times    = 30");
        assert_eq!(steps(6, Change::Into, 30, Beginning::Stacked), "[sc 4, inc] 6 times    = 36");
        assert_eq!(steps(6, Change::Into, 36, Beginning::Stacked), "[sc 5, inc] 6 times    = 42");
    }

    #[test]
    fn remainders_are_spread_too() {
        let line = steps(7, Change::Into, 66, Beginning::Stacked);
        assert_eq!(line, "[sc 8, inc] 2 times, [sc 9, inc, sc 8, inc] 2 times, sc 9, inc    = 73");
        let line = steps(6, Change::Into, 48, Beginning::Shifted);
        assert_eq!(line, "sc 4, inc, [sc 7, inc] 5 times, sc 3    = 54");
        assert_eq!(steps(0, Change::Into, 20, Beginning::Stacked), "sc 20    = 20");
    }

    #[test]
    fn other_stitches_have_their_own_increases() {
        let said = |stitch: &str, terms, change| {
            let wanted = Wanted { stitch: stitch.to_owned(), terms, ..wanted(4, change, 20, Beginning::Stacked) };
            line(&wanted).map_or_else(|r| r.to_string(), |line| line.steps)
        };
        assert_eq!(said("hdc", Terms::Us, Change::Into), "[hdc 4, hdcinc] 4 times");
        assert_eq!(said("dtr", Terms::Us, Change::Into), "[dtr 4, 2 dtr in next] 4 times");
        assert_eq!(said("dc", Terms::Uk, Change::Into), "[dc 4, inc] 4 times");
        assert_eq!(said("tr", Terms::Uk, Change::OutOf), "[tr 3, tr2tog] 4 times");
        assert_eq!(said("shell", Terms::Us, Change::Into).split(';').next(), Some("`shell` can't lie between"));
        assert_eq!(said("hdx", Terms::Us, Change::Into), "there is no stitch `hdx`; did you mean `hdc`?");
    }

    #[test]
    fn more_than_there_is_room_for_is_refused() {
        assert_eq!(
            line(&wanted(7, Change::OutOf, 13, Beginning::Stacked)),
            Err(Refusal::TooFew { needed: 14, over: 13 })
        );
    }

    #[test]
    fn spread_stitches_leave_no_one_out_and_differ_by_one_at_most() {
        for plain in 0..80 {
            for count in 1..20 {
                let shared = share(plain, count);
                assert_eq!(shared.iter().sum::<u32>(), plain);
                let (least, most) = (shared.iter().min(), shared.iter().max());
                assert!(most.zip(least).is_some_and(|(most, least)| most - least <= 1));
            }
        }
    }
}
