//! What a row or round was made of, in its order, drawn together into one number: two that are worded otherwise and are
//! worked alike have the same.

use super::hand::Here;
use crate::pattern::model::{LoopOnly, Pattern, StitchId};

/// The prime of the FNV hash in 64 bits.
const PRIME: u64 = 0x0000_0100_0000_01b3;

/// The number so far. It is a hash of every stitch with its place, after FNV-1a in 64 bits (Fowler, Noll and Vo), so it is
/// the same on every machine; that two different rows share one by chance is as good as impossible.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Trail {
    sum: u64,
    /// The loop and the depth of the stitches that are being worked.
    way: (u8, u32),
}

impl Default for Trail {
    fn default() -> Self {
        Self { sum: 0xcbf2_9ce4_8422_2325, way: (0, 0) }
    }
}

impl Trail {
    /// The number of all that went by.
    pub fn sum(self) -> u64 {
        self.sum
    }

    /// From here on stitches are worked in this loop, so many rows below.
    pub fn way(&mut self, loop_only: Option<LoopOnly>, below: u32) {
        let loops = match loop_only {
            None => 0,
            Some(LoopOnly::Back) => 1,
            Some(LoopOnly::Front) => 2,
        };
        self.way = (loops, below);
    }

    /// A stitch in its place. Stitches of the designer's own may have other numbers in another file, so they go by name.
    pub fn stitch(&mut self, pattern: &Pattern, id: StitchId, here: Option<Here>) {
        for part in pattern.stitches.get(id).map_or("", |stitch| &stitch.us.short).as_bytes().chunks(8) {
            self.word(part.iter().fold(0, |word, byte| word << 8 | u64::from(*byte)));
        }
        let (loops, below) = self.way;
        let (kind, at) = match here {
            None => (0, 0),
            Some(Here::Slot(at)) => (1, at),
            Some(Here::Space(at)) => (2, at),
            Some(Here::Ring) => (3, 0),
            Some(Here::Made) => (4, 0),
            Some(Here::Lead) => (5, 0),
            Some(Here::Ghost) => (6, 0),
            Some(Here::Gap) => (7, 0),
        };
        self.word(u64::from(below) << 16 | u64::from(loops) << 8 | kind);
        self.word(u64::try_from(at).unwrap_or(u64::MAX));
    }

    /// So many chains. One after the other they are as good as all at once.
    pub fn chains(&mut self, chains: u32) {
        (0..chains).for_each(|_| self.mark("chain", ""));
    }

    /// Something else that the maker does, as another yarn, and its name.
    pub fn mark(&mut self, what: &str, name: &str) {
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

#[cfg(test)]
mod tests {
    use super::Trail;

    /// The hash of `foobar` in the published test vectors of FNV-1a is 85944171f73967e8.
    #[test]
    fn the_sum_is_the_published_one() {
        let mut trail = Trail::default();
        "foobar".bytes().for_each(|byte| trail.byte(byte));
        assert_eq!(trail.sum(), 0x8594_4171_f739_67e8);
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
