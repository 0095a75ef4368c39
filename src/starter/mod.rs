//! Small patterns to start from, each of which rings true.

mod begin;

pub use begin::{Offered, Wishes, begin, offered};

/// A round mat in two sizes.
pub const MAT: &str = include_str!("mat.rnd");
/// A hat in sizes.
pub const HAT: &str = include_str!("hat.rnd");
/// A toy with ears and eyes.
pub const TOY: &str = include_str!("toy.rnd");
/// Squares, joined, with a border.
pub const MOTIF: &str = include_str!("motif.rnd");
/// A shawl from its middle.
pub const SHAWL: &str = include_str!("shawl.rnd");
/// A scarf in rows.
pub const SCARF: &str = include_str!("scarf.rnd");
/// A top in sizes.
pub const GARMENT: &str = include_str!("garment.rnd");

/// What there is to start from.
pub const ALL: [&str; 7] = ["mat", "hat", "toy", "motif", "shawl", "scarf", "garment"];

/// The pattern to start from for a `mat`, `hat`, `toy`, `motif`, `shawl`, `scarf` or `garment`.
#[must_use]
pub fn starter(what: &str) -> Option<&'static str> {
    Some(match what {
        "mat" => MAT,
        "hat" => HAT,
        "toy" => TOY,
        "motif" => MOTIF,
        "shawl" => SHAWL,
        "scarf" => SCARF,
        "garment" => GARMENT,
        _ => return None,
    })
}

/// A pattern under another title; as it is where the title has no letter or digit. Only those are kept of it, so that no mark of the
/// notation gets in.
#[must_use]
pub fn titled(pattern: &str, title: &str) -> String {
    let words: Vec<&str> = title.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let line = |line: &str| match line.strip_prefix("pattern") {
        Some(old) if !words.is_empty() => {
            let gap: String = old.chars().take_while(|c| *c == ' ').collect();
            format!("pattern{gap}{}\n", words.join(" "))
        }
        _ => line.to_owned(),
    };
    pattern.split_inclusive('\n').map(line).collect()
}
