//! Where eyes, limbs, buttons and markers go.

use crate::pattern::model::{Item, Kind, Piece, PlacedRows, Placing, Sized, evenly};

use super::context::Told;
use super::label;
use super::names::Amount;
use super::phrase::{Numbers, Phrase};
use crate::words;

/// `Place 2 eyes between Rnds 12 and 13, 8 sts apart (7 sts between).`
pub(super) fn placed(told: Told<'_>, (index, item): (usize, &Item), placing: &Placing) -> Option<Phrase> {
    let placer = Placer { told, index, item, placing, piece: piece_of(told, placing)? };
    let number = placing.number.as_ref().map(|number| placer.number(number).say(" "));
    let number = number.unwrap_or_else(|| Phrase::of(if has_article(&placing.what) { "" } else { "the " }));
    let what = Phrase::of(if is_sewn_on(&placing.what) { "Sew " } else { "Place " }).then(number);
    let what = what.then(Phrase::quoted(&placing.what));
    let on = placing.on.map(|_| Phrase::of(" on ").then(Phrase::quoted(&placer.piece.name))).unwrap_or_default();
    Some(what.then(on).then(placer.there()).then(placer.apart()).say("."))
}

fn has_article(what: &str) -> bool {
    ["a ", "an ", "the "].iter().any(|article| what.to_lowercase().starts_with(article))
}

/// A button is sewn where it is placed (common practice, no source).
fn is_sewn_on(what: &str) -> bool {
    what.to_lowercase().ends_with("button") || what.to_lowercase().ends_with("buttons")
}

fn piece_of<'a>(told: Told<'a>, placing: &Placing) -> Option<&'a Piece> {
    placing.on.map_or(Some(told.piece), |on| told.voice.pattern.pieces.get(on))
}

#[derive(Clone, Copy)]
struct Placer<'a> {
    told: Told<'a>,
    index: usize,
    item: &'a Item,
    placing: &'a Placing,
    piece: &'a Piece,
}

impl Placer<'_> {
    fn number(self, sized: &Sized) -> Phrase {
        self.told.voice.numbers(sized, &self.item.sizes).into()
    }

    fn is_for(self, size: usize) -> bool {
        self.item.sizes.get(size).copied().unwrap_or(true)
    }

    /// The number that one of the rows that are named has in each size, as its label says it.
    fn row(self, nth: usize) -> Numbers {
        let sizes = self.told.voice.sizes.iter();
        Numbers::new(sizes.map(|&size| (size, self.is_for(size).then(|| self.number_of(nth, size)))))
    }

    /// The same in one size: what was found when the piece was worked; as it is written where it was not.
    fn number_of(self, nth: usize, size: usize) -> u32 {
        let worked = || {
            let placed = &self.told.fabric?.sizes.get(size)?.placed;
            placed.iter().find(|(item, _)| *item == self.index)?.1.get(nth).copied()
        };
        let written = || self.placing.rows.named().get(nth).map_or(0, |number| number.get(size));
        worked().unwrap_or_else(written)
    }

    fn word(self, amount: Amount) -> Phrase {
        label::line_word(self.told.voice, self.placing.round, amount).capitalised().say(" ")
    }

    fn rows(self) -> Phrase {
        let of = |nth: usize| Phrase::from(self.row(nth));
        match &self.placing.rows {
            PlacedRows::Between(..) => {
                let both = of(0).say(" and ").then(of(1));
                Phrase::of(" between ").then(self.word(Amount::Many)).then(both)
            }
            PlacedRows::At(rows) => {
                let amount = if rows.len() == 1 { Amount::One } else { Amount::Many };
                Phrase::of(" in ").then(self.word(amount)).then(Phrase::and((0..rows.len()).map(of).collect()))
            }
            PlacedRows::Evenly(..) => {
                let spread = |size: usize| {
                    let number = self.placing.number.as_ref().map_or(0, |number| number.get(size));
                    let rows = evenly(self.number_of(0, size), self.number_of(1, size), number);
                    words::list(&rows.iter().map(u32::to_string).collect::<Vec<_>>())
                };
                let sizes = self.told.voice.sizes.iter();
                let rows = Numbers::new(sizes.map(|&size| (size, self.is_for(size).then(|| spread(size)))));
                Phrase::of(" evenly: in ").then(self.word(Amount::Many)).then(rows.into())
            }
        }
    }

    /// ` between Rnds 12 and 13`, ` in st 12 of Rnd 13`.
    fn there(self) -> Phrase {
        let one_row = matches!(&self.placing.rows, PlacedRows::At(rows) if rows.len() == 1);
        if !one_row || self.placing.stitches.is_empty() {
            return self.rows().then(self.stitches());
        }
        let stitches: Vec<Phrase> = self.placing.stitches.iter().map(|stitch| self.number(stitch)).collect();
        let amount = if stitches.len() == 1 { Amount::One } else { Amount::Many };
        let stitches = self.told.voice.kind(Kind::AnyStitch, amount).say(" ").then(Phrase::and(stitches));
        let at = Phrase::of(if is_sewn_on(&self.placing.what) { " to " } else { " in " }).then(stitches);
        at.say(" of ").then(self.word(Amount::One)).then(self.row(0).into())
    }

    fn stitches(self) -> Phrase {
        let named: Vec<Phrase> = self.placing.stitches.iter().map(|stitch| self.number(stitch)).collect();
        let Some(amount) = (match named.len() {
            0 => None,
            1 => Some(Amount::One),
            _ => Some(Amount::Many),
        }) else {
            return Phrase::default();
        };
        let stitch = self.told.voice.kind(Kind::AnyStitch, amount).say(" ").then(Phrase::and(named));
        match &self.placing.rows {
            PlacedRows::Between(..) => {
                let row = self.word(Amount::One).then(self.row(0).into());
                Phrase::of(", above ").then(stitch).say(" of ").then(row)
            }
            PlacedRows::At(_) | PlacedRows::Evenly(..) => Phrase::of(", in ").then(stitch),
        }
    }

    /// How far one is from the next, and what lies between, since print uses `apart` for both.
    fn apart(self) -> Phrase {
        let Some(apart) = &self.placing.apart else { return Phrase::default() };
        let between = Sized { values: apart.values.iter().map(|far| far.saturating_sub(1)).collect(), ..apart.clone() };
        let stitches = |sized: &Sized| {
            let numbers = self.told.voice.numbers(sized, &self.item.sizes);
            let amount = if numbers.is_one() { Amount::One } else { Amount::Many };
            Phrase::from(numbers).say(" ").then(self.told.voice.kind(Kind::AnyStitch, amount))
        };
        Phrase::of(", ").then(stitches(apart)).say(" apart (").then(stitches(&between)).say(" between)")
    }
}
