//! What a line has looked over for each kind of place: no stretch is looked at twice.

use std::cell::RefCell;
use std::ops::Range;

use crate::pattern::model::Kind;

/// The stretches that were looked over on one edge, one a kind.
#[derive(Debug, Default)]
pub(super) struct Looked {
    stretches: RefCell<Vec<Stretch>>,
}

/// Places that are not of a kind.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    kind: Kind,
    from: usize,
    to: usize,
    /// The one behind them is.
    ends_in_one: bool,
}

impl Looked {
    /// The first place of a kind in a stretch, and how many places were looked at for it.
    pub(super) fn first(&self, kind: Kind, within: Range<usize>, is: impl Fn(usize) -> bool) -> (Option<usize>, usize) {
        let mut all = self.stretches.take();
        let known = all.iter().position(|stretch| stretch.kind == kind);
        let mut here = known.map_or(Stretch { kind, from: 0, to: 0, ends_in_one: false }, |at| all.swap_remove(at));
        if !(here.from..=here.to).contains(&within.start) {
            (here.from, here.to, here.ends_in_one) = (within.start, within.start, false);
        }
        let from = here.to;
        while !here.ends_in_one && here.to < within.end {
            here.ends_in_one = is(here.to);
            here.to += usize::from(!here.ends_in_one);
        }
        let (looked_at, found) = (here.to - from, here.to);
        let is_there = here.ends_in_one && found < within.end;
        all.push(here);
        self.stretches.replace(all);
        (is_there.then_some(found), looked_at)
    }

    /// The edge is another one.
    pub(super) fn forget(&self) {
        self.stretches.take();
    }
}

#[cfg(test)]
mod tests {
    use super::Looked;
    use crate::pattern::model::Kind;

    #[test]
    fn no_place_is_looked_at_twice() {
        let looked = Looked::default();
        let is = |at: usize| at == 7;
        assert_eq!(looked.first(Kind::Chain, 2..20, is), (Some(7), 5));
        assert_eq!(looked.first(Kind::Chain, 4..20, is), (Some(7), 0));
        assert_eq!(looked.first(Kind::Chain, 5..7, is), (None, 0), "it stands behind the stretch");
        assert_eq!(looked.first(Kind::AnySpace, 2..20, |_| false), (None, 18), "each kind is looked for by itself");
        assert_eq!(looked.first(Kind::Chain, 8..20, is), (None, 12));
        assert_eq!(looked.first(Kind::Chain, 9..22, is), (None, 2), "farther than before");
        assert_eq!(looked.first(Kind::Chain, 0..20, is), (Some(7), 7), "before what was looked over");
        looked.forget();
        assert_eq!(looked.first(Kind::Chain, 2..20, |at| at == 3), (Some(3), 1));
    }
}
