//! Where eyes, limbs, buttons and markers go.

use crate::fabric::{Row, row_by_number};
use crate::pattern::model::{Item, Kind, Piece, PlacedRows, Placing, Sized, evenly};

use super::context::Told;
use super::label;
use super::names::Amount;
use super::phrase::{Numbers, Phrase};
use crate::words;

/// `Place 2 eyes between Rnds 12 and 13, 8 sts apart (7 sts between).`
pub(super) fn placed(told: Told<'_>, item: &Item, placing: &Placing) -> Option<Phrase> {
    let placer = Placer { told, item, placing, piece: piece_of(told, placing)? };
    let number = placing.number.as_ref().map(|number| placer.number(number).say(" ")).unwrap_or_default();
    let what = Phrase::of("Place ").then(number).then(Phrase::quoted(&placing.what));
    let on = placing.on.map(|_| Phrase::of(" on ").then(Phrase::quoted(&placer.piece.name))).unwrap_or_default();
    Some(what.then(on).then(placer.rows()).then(placer.stitches()).then(placer.apart()).say("."))
}

fn piece_of<'a>(told: Told<'a>, placing: &Placing) -> Option<&'a Piece> {
    placing.on.map_or(Some(told.piece), |on| told.voice.pattern.pieces.get(on))
}

#[derive(Clone, Copy)]
struct Placer<'a> {
    told: Told<'a>,
    item: &'a Item,
    placing: &'a Placing,
    piece: &'a Piece,
}

impl<'a> Placer<'a> {
    fn number(self, sized: &Sized) -> Phrase {
        self.told.voice.numbers(sized, &self.item.sizes).into()
    }

    fn is_for(self, size: usize) -> bool {
        self.item.sizes.get(size).copied().unwrap_or(true)
    }

    /// The number that a row has in each size, as its label says it.
    fn row(self, number: &Sized) -> Numbers {
        let of_size = |size: usize| {
            let row = number.single().and_then(|single| self.worked(size, single));
            row.map_or(number.get(size), |row| row.number)
        };
        let sizes = self.told.voice.sizes.iter();
        Numbers::new(sizes.map(|&size| (size, self.is_for(size).then(|| of_size(size)))))
    }

    fn worked(self, size: usize, number: u32) -> Option<&'a Row> {
        let rows = match self.placing.on {
            None => self.told.rows(size),
            Some(on) => self.told.pieces.get(on)?.sizes.get(size)?.rows.as_slice(),
        };
        row_by_number(self.piece, size, rows, number)
    }

    fn word(self, amount: Amount) -> Phrase {
        label::line_word(self.told.voice, self.placing.round, amount).capitalised().say(" ")
    }

    fn rows(self) -> Phrase {
        let of = |number: &Sized| Phrase::from(self.row(number));
        match &self.placing.rows {
            PlacedRows::Between(one, other) => {
                let both = of(one).say(" and ").then(of(other));
                Phrase::of(" between ").then(self.word(Amount::Many)).then(both)
            }
            PlacedRows::At(rows) => {
                let amount = if rows.len() == 1 { Amount::One } else { Amount::Many };
                Phrase::of(" in ").then(self.word(amount)).then(Phrase::and(rows.iter().map(of).collect()))
            }
            PlacedRows::Evenly(from, to) => {
                let spread = |size: usize| {
                    let row = |number: &Sized| {
                        let single = number.single().and_then(|single| self.worked(size, single));
                        single.map_or(number.get(size), |row| row.number)
                    };
                    let number = self.placing.number.as_ref().map_or(0, |number| number.get(size));
                    words::list(&evenly(row(from), row(to), number).iter().map(u32::to_string).collect::<Vec<_>>())
                };
                let sizes = self.told.voice.sizes.iter();
                let rows = Numbers::new(sizes.map(|&size| (size, self.is_for(size).then(|| spread(size)))));
                Phrase::of(" evenly: in ").then(self.word(Amount::Many)).then(rows.into())
            }
        }
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
            PlacedRows::Between(below, _) => {
                let row = self.word(Amount::One).then(self.row(below).into());
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
