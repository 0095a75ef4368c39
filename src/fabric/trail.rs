//! What a row or round was made of, in its order, drawn together into one number: two that are worded otherwise and are
//! worked alike have the same.

use super::tape::{Event, Foot, Fro, How, Laid, Place};
use crate::pattern::model::{LoopOnly, Pattern, StitchId};

/// The prime of the FNV hash in 64 bits.
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// The number of a record: a hash of every stitch with its places, after FNV-1a in 64 bits (Fowler, Noll and Vo), so it is
/// the same on every machine; that two different rows share one by chance is as good as impossible.
pub(super) fn of(events: &[Event], feet: &[Foot], pattern: &Pattern) -> u64 {
    let mut trail = Trail::default();
    let mut named = (StitchId(u16::MAX), 0);
    for event in events {
        match *event {
            Event::Stitch { stitch, laid, how, feet: (from, to) } => {
                let name = name(stitch, pattern, &mut named);
                trail.stitch(name, laid_as(laid), how, stretch(feet, from, to));
            }
            Event::Leg { stitch, how, feet: (from, to) } => {
                let name = name(stitch, pattern, &mut named);
                trail.stitch(name, LEG, how, stretch(feet, from, to));
            }
            // One after the other they are as good as all at once.
            Event::Chains(chains) => (0..chains).for_each(|_| trail.word(CHAIN)),
            other => trail.other(other, pattern),
        }
    }
    trail.sum
}

/// What a chain is drawn in as, and a leg of a stitch that several make.
const CHAIN: u64 = 0x6368_6169_6e00;
const LEG: u64 = 6;

fn laid_as(laid: Laid) -> u64 {
    match laid {
        // Along chains just made it is the same stitch.
        Laid::Edge | Laid::Hanging | Laid::Loop => 0,
        Laid::One => 1,
        Laid::Lead | Laid::FirstLead => 2,
        Laid::Closing => 3,
    }
}

fn stretch(feet: &[Foot], from: u32, to: u32) -> &[Foot] {
    let at = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
    feet.get(at(from)..at(to)).unwrap_or_default()
}

/// The number of a stitch's name; the last one is kept. Stitches of the designer's own may have other numbers in another
/// file, so they go by name.
fn name(stitch: StitchId, pattern: &Pattern, last: &mut (StitchId, u64)) -> u64 {
    if last.0 != stitch {
        let mut trail = Trail::default();
        pattern.stitches.get(stitch).map_or("", |stitch| &stitch.us.short).bytes().for_each(|byte| trail.byte(byte));
        *last = (stitch, trail.sum);
    }
    last.1
}

/// The number so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Trail {
    sum: u64,
}

impl Default for Trail {
    fn default() -> Self {
        Self { sum: 0xcbf2_9ce4_8422_2325 }
    }
}

impl Trail {
    fn stitch(&mut self, name: u64, laid: u64, how: How, feet: &[Foot]) {
        self.word(name);
        self.word(laid << 32 | u64::from(how.below) << 8 | how.loops as u64);
        for foot in feet {
            // Which of the chains that hang there is said by their order.
            let at = if foot.place == Place::Made { 0 } else { foot.at };
            self.word(u64::from(at) << 8 | place(foot.place));
        }
    }

    /// Something else that the maker does, as another yarn, and its name.
    fn other(&mut self, event: Event, pattern: &Pattern) {
        let yarn = |at: Option<u16>| at.and_then(|at| pattern.head.yarns.get(usize::from(at)));
        let yarn = |at| yarn(at).map_or("", |yarn| yarn.name.as_str());
        match event {
            Event::LeadChains(chains) | Event::Lead(chains) => self.mark("lead", &chains.to_string()),
            Event::ThereBefore(chains) => self.mark("turning", &chains.to_string()),
            Event::ChangeTo(at) | Event::Colour(at) => self.mark("yarn", yarn(at)),
            Event::Rejoin(at) => self.mark("rejoin", yarn(at)),
            Event::Cut => self.mark("cut", ""),
            Event::Turn => self.mark("turn", ""),
            Event::Fro(Fro::Begins) => self.mark("to and fro", ""),
            Event::Fro(Fro::Turned) => self.mark("fro", ""),
            Event::Fro(Fro::Ends { row_ends }) => self.mark("goes on", if row_ends { "row ends" } else { "" }),
            Event::OtherSide => self.mark("other side", ""),
            Event::JoinTo { piece, .. } => {
                self.mark("join", pattern.pieces.get(usize::from(piece)).map_or("", |piece| &piece.name));
            }
            Event::Through(row, LoopOnly::Front) => self.mark("through front", &row.to_string()),
            Event::Through(row, LoopOnly::Back) => self.mark("through back", &row.to_string()),
            Event::Behind(row) => self.mark("behind", &row.to_string()),
            Event::Stitch { .. }
            | Event::Leg { .. }
            | Event::Chains(_)
            | Event::Step { .. }
            | Event::Opens(_)
            | Event::Group(_)
            | Event::TakenUp(_)
            | Event::GivenBack(_)
            | Event::Slips(_)
            | Event::Mark(_)
            | Event::Skipped(..)
            | Event::Over { .. }
            | Event::Passed(..) => {}
        }
    }

    fn mark(&mut self, what: &str, name: &str) {
        for byte in what.bytes().chain([0]).chain(name.bytes()).chain([0]) {
            self.byte(byte);
        }
    }

    /// Takes eight bytes at once, as there are millions of stitches; turned, so that no bit only ever moves up.
    fn word(&mut self, word: u64) {
        self.sum = (self.sum ^ word).wrapping_mul(PRIME).rotate_left(29);
    }

    fn byte(&mut self, byte: u8) {
        self.sum = (self.sum ^ u64::from(byte)).wrapping_mul(PRIME);
    }
}

fn place(place: Place) -> u64 {
    match place {
        Place::Slot | Place::RowEnd | Place::OtherSide => 1,
        Place::Space => 2,
        Place::Ring => 3,
        Place::Made => 4,
        Place::Lead => 5,
        Place::Ghost => 6,
        Place::Gap => 7,
        Place::Top => 8,
    }
}

#[cfg(test)]
mod tests {
    use super::Trail;

    /// The hash of `foobar` in the published test vectors of FNV-1a is 85944171f73967e8.
    #[test]
    fn the_sum_is_the_published_one() {
        let mut trail = Trail::default();
        "foobar".bytes().for_each(|byte| trail.byte(byte));
        assert_eq!(trail.sum, 0x8594_4171_f739_67e8);
    }

    fn trails(work: &str) -> Vec<u64> {
        let text = format!(
            "pattern X\nterms US\nyarn A \"oat\"\nyarn B \"rye\"\npiece A, in rows\nlead ch 1\nstart ch 7\n{work}\n"
        );
        let compiled = crate::compile(&text);
        assert!(!compiled.has_errors(), "{text}\n{:?}", compiled.findings);
        compiled.fabric.pieces.iter().flat_map(|p| &p.sizes).flat_map(|s| &s.rows).map(|row| row.trail).collect()
    }

    #[test]
    fn what_is_worked_alike_has_one_trail_however_it_is_worded() {
        let first = "row 1: sc in 2nd ch from hook, sc to end\n";
        let with = |line: &str| trails(&format!("{first}row 2: {line}"));
        for (one, other) in [
            ("sc 6", "sc to end"),
            ("sc, sc, sc 4", "sc 6"),
            ("[sc, 2 sc in next] to end", "[sc, (2 sc) in next] 3 times"),
            ("[sc, ch 2, skip 1] to end", "[sc, ch 1, ch 1, skip 1] 3 times"),
            ("blo sc 6", "[blo sc] to end"),
        ] {
            assert_eq!(with(one), with(other), "{one} / {other}");
        }
        for (one, other) in [
            ("[sc, 2 sc in next] to end", "[2 sc in next, sc] to end"),
            ("sc 6", "blo sc 6"),
            ("sc 6", "flo sc 6"),
            ("sc 6", "hdc 6"),
            ("sc 6", "sc 5, leave 1"),
            ("sc2tog, sc 4", "sc 4, sc2tog"),
            ("sc 6", "sc 3, change to B, sc 3"),
        ] {
            assert_ne!(with(one), with(other), "{one} / {other}");
        }
    }
}
