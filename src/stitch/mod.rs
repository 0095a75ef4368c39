//! The trade's stitches: what each takes and makes, how tall it is and what it is called.

/// Which set of stitch names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Terms {
    /// United States.
    #[default]
    Us,
    /// United Kingdom.
    Uk,
}

/// An entry of [`Stitches`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StitchId(pub u16);

/// A stitch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stitch {
    /// Abbreviation and full name in US terms.
    pub us: Names,
    /// The same in UK terms.
    pub uk: Names,
    /// Places it stands on when it is worked by itself: 1 for most, n for n together, 0 for a picot.
    pub takes: u32,
    /// What it leaves on the edge, in order; empty for a picot.
    pub makes: Vec<Made>,
    /// Height in turning chains.
    pub height: u32,
    /// It is worked round a post, so it needs one.
    pub around_post: bool,
    /// It has a post that others can go round.
    pub has_post: bool,
    /// A simpler stitch that it also answers to in `in next sc` and in counts by kind: `sc2tog` answers to `sc`.
    pub answers_to: Option<StitchId>,
    /// How it is made, in a sentence or two, where the page should say so.
    pub how: Option<String>,
    /// Defined by the designer.
    pub own: bool,
}

/// What a stitch is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Names {
    /// Abbreviation, as `sc`.
    pub short: String,
    /// Full name, as `single crochet`.
    pub full: String,
}

/// One thing that a stitch leaves on the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Made {
    /// A stitch top of this kind.
    Stitch(StitchId),
    /// So many chains.
    Chains(u32),
}

/// Every stitch that can be worked in a pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stitches {
    list: Vec<Stitch>,
}

impl Stitches {
    /// The trade's stitches.
    #[must_use]
    pub fn standard() -> Self {
        Self { list: Vec::new() }
    }

    /// The stitch with this abbreviation or full name in these terms; capitals don't matter. Numbered forms such as
    /// `dc3tog` are found too.
    #[must_use]
    pub fn find(&self, name: &str, terms: Terms) -> Option<StitchId> {
        let name = name.to_ascii_lowercase();
        let hit = self.list.iter().rposition(|s| s.names(terms).short.eq_ignore_ascii_case(&name))?;
        u16::try_from(hit).ok().map(StitchId)
    }

    /// The stitch with this number, if there is one.
    #[must_use]
    pub fn get(&self, id: StitchId) -> Option<&Stitch> {
        self.list.get(usize::from(id.0))
    }

    /// Adds a stitch of the designer's own; it hides one of the same name.
    pub fn add(&mut self, stitch: Stitch) -> Option<StitchId> {
        let id = u16::try_from(self.list.len()).ok()?;
        self.list.push(stitch);
        Some(StitchId(id))
    }
}

impl Stitch {
    /// What it is called in these terms.
    #[must_use]
    pub fn names(&self, terms: Terms) -> &Names {
        match terms {
            Terms::Us => &self.us,
            Terms::Uk => &self.uk,
        }
    }
}
