//! How a chart shows a stitch: the column `symbol` of the table.

/// What is drawn for a stitch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Symbol {
    /// What it mainly is.
    pub form: Form,
    /// So many of it in one place, closed into one.
    pub legs: u32,
    /// A hook at the foot, round a post.
    pub hook: Option<Hook>,
    /// What is special about it.
    pub touch: Option<Touch>,
}

/// What a symbol mainly is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// An open oval: a chain.
    Oval,
    /// A filled oval: a slip stitch.
    Dot,
    /// A cross on its foot.
    Cross,
    /// A stem with a bar for a head, and so many strokes across it.
    Stem(u32),
    /// So many ovals in a little ring.
    Picot(u32),
}

/// From which side a hook goes round a post, as it is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hook {
    /// In front of it.
    Front,
    /// Behind it.
    Back,
}

/// What is special about a symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Touch {
    /// Its stems bulge.
    Round,
    /// An oval on its head.
    Ring,
    /// An oval at its foot.
    Chain,
    /// A little ring on its stem.
    Knot,
    /// A wave over it.
    Wave,
    /// A loop that hangs from it.
    Loop,
    /// A tick at its foot, which stands deeper than that of others.
    Long,
}

/// Reads a cell. The error is the word that means nothing.
pub(super) fn read(cell: &str) -> Result<Option<Symbol>, &str> {
    if cell == "-" {
        return Ok(None);
    }
    let mut symbol = Symbol { form: Form::Oval, legs: 1, hook: None, touch: None };
    for word in cell.split(' ') {
        match (word, word.parse::<u32>()) {
            ("oval", _) => symbol.form = Form::Oval,
            ("dot", _) => symbol.form = Form::Dot,
            ("cross", _) => symbol.form = Form::Cross,
            ("stem" | "stems", _) => symbol.form = Form::Stem(0),
            ("picot", _) => symbol.form = Form::Picot(0),
            ("front", _) => symbol.hook = Some(Hook::Front),
            ("back", _) => symbol.hook = Some(Hook::Back),
            ("round", _) => symbol.touch = Some(Touch::Round),
            ("ring", _) => symbol.touch = Some(Touch::Ring),
            ("chain", _) => symbol.touch = Some(Touch::Chain),
            ("knot", _) => symbol.touch = Some(Touch::Knot),
            ("wave", _) => symbol.touch = Some(Touch::Wave),
            ("loop", _) => symbol.touch = Some(Touch::Loop),
            ("long", _) => symbol.touch = Some(Touch::Long),
            (_, Ok(number)) => match &mut symbol.form {
                Form::Stem(of) | Form::Picot(of) => *of = number,
                Form::Oval | Form::Dot | Form::Cross => symbol.legs = number,
            },
            (unknown, Err(_)) => return Err(unknown),
        }
    }
    Ok(Some(symbol))
}
