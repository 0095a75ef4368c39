//! What a word of the notation is to an eye that looks for colours.

use serde::{Serialize, Serializer};

/// The class of a word, number or sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// A word that begins a section: `pattern`, `piece`, `grid`.
    Heading,
    /// `rnd 3`, `again rnds 2-3`.
    Label,
    /// A stitch of the trade.
    Stitch,
    /// A stitch of the designer's own.
    OwnStitch,
    /// A number.
    Number,
    /// A word that says where: `in next`, `to end`, `ch-2 sp`.
    Place,
    /// A bracket, comma, colon or other sign.
    Bracket,
    /// The stated count.
    Count,
    /// A yarn.
    Yarn,
    /// A name that the file gives to anything else: a number, a piece, a place, a size, a grid.
    Name,
    /// A word that begins a line of the head, or a setting of a piece.
    Setting,
    /// Any other word of the notation.
    Word,
    /// A remark.
    Remark,
    /// Words for readers, which can be anything.
    Text,
    /// What can't be read.
    Unread,
}

impl Class {
    /// Every class.
    pub const ALL: [Self; 15] = [
        Self::Heading,
        Self::Label,
        Self::Stitch,
        Self::OwnStitch,
        Self::Number,
        Self::Place,
        Self::Bracket,
        Self::Count,
        Self::Yarn,
        Self::Name,
        Self::Setting,
        Self::Word,
        Self::Remark,
        Self::Text,
        Self::Unread,
    ];

    /// What it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Heading => "heading",
            Self::Label => "label",
            Self::Stitch => "stitch",
            Self::OwnStitch => "own-stitch",
            Self::Number => "number",
            Self::Place => "place",
            Self::Bracket => "bracket",
            Self::Count => "count",
            Self::Yarn => "yarn",
            Self::Name => "name",
            Self::Setting => "setting",
            Self::Word => "word",
            Self::Remark => "remark",
            Self::Text => "text",
            Self::Unread => "unread",
        }
    }
}

impl Serialize for Class {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name())
    }
}
