//! A grid as a chart: squares with signs, rows numbered where they begin, and the same in words.

use std::collections::BTreeMap;

use svg::Document;
use svg::node::element::{Description, Group, Path, Rectangle, Text, Title};

use crate::pattern::model::{Grid, Pattern, SquareKind, Technique, Terms};
use crate::shape::Drawing;
use crate::words::{clean, count};

use super::signs::{Lines, SIDE, Sign, shown, sign, tint};

/// Room for the numbers of rows on either side.
const ROOM: f64 = 28.0;

/// Room for the legend.
const LEAST: f64 = 280.0;

/// Height of a line of the legend.
const LEGEND: f64 = 20.0;

/// Lines after every so many squares are stronger.
const STRONG: usize = 10;

/// Larger grids are told in words only.
const MOST_SQUARES: usize = 40_000;

/// The colour of lines and signs within the squares.
const INK: &str = "#333333";

/// How a grid is seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seen {
    /// For each of its rows whether it is begun with the right side facing; those behind the last one are.
    pub facing: Vec<bool>,
    /// For a maker who works from left to right: the picture is turned round.
    pub left_handed: bool,
    /// In a piece that is the mirror image of another one, where it is turned round as well.
    pub mirrored: bool,
    /// The stitch names of what is told of it.
    pub terms: Terms,
}

impl Seen {
    fn is_facing(&self, row: usize) -> bool {
        self.facing.get(row).copied().unwrap_or(true)
    }

    /// Whether a row is begun at the right.
    fn from_the_right(&self, row: usize) -> bool {
        self.is_facing(row) != self.left_handed
    }
}

/// Draws a grid. Nothing where there is none, or one with a fault.
#[must_use]
pub fn grid(pattern: &Pattern, index: usize, seen: &Seen) -> Option<Drawing> {
    let grid = pattern.grids.get(index).filter(|grid| !grid.faulty && grid.width() > 0)?;
    let chart = Chart { pattern, grid, seen };
    let told = chart.told();
    let small = grid.width().saturating_mul(grid.rows.len()) <= MOST_SQUARES;
    let svg = if small { chart.picture(&told) } else { String::new() };
    Some(Drawing { svg, told })
}

struct Chart<'a> {
    pattern: &'a Pattern,
    grid: &'a Grid,
    seen: &'a Seen,
}

impl Chart<'_> {
    fn height(&self) -> usize {
        self.grid.rows.len()
    }

    /// Where the left side of a square lies.
    fn x(&self, place: usize) -> f64 {
        let turned = self.seen.left_handed != self.seen.mirrored;
        let place = if turned { self.grid.width().saturating_sub(place + 1) } else { place };
        ROOM + number(place) * SIDE
    }

    /// Where the upper side of a row lies.
    fn y(&self, row: usize) -> f64 {
        LEGEND + number(self.height().saturating_sub(row + 1)) * SIDE
    }

    fn picture(&self, told: &str) -> String {
        let (wide, high) = (number(self.grid.width()) * SIDE, number(self.height()) * SIDE);
        let legend = self.legend();
        let width = (wide + 2.0 * ROOM).max(LEAST);
        let height = high + 2.5 * LEGEND + number(legend.len()) * LEGEND;
        let mut picture = Document::new()
            .set("viewBox", format!("0 0 {} {}", shown(width), shown(height)))
            .set("width", shown(width))
            .set("height", shown(height))
            .set("role", "img")
            .set("font-family", "sans-serif")
            .set("font-size", "10")
            .add(Title::new(format!("Chart {}", clean(&self.grid.name))))
            .add(Description::new().add(svg::node::Text::new(told)))
            .add(self.fills())
            .add(self.lines(wide, high))
            .add(self.signs())
            .add(self.numbers(wide, high));
        for (at, (what, words)) in legend.iter().enumerate() {
            let y = high + (number(at) + 2.75) * LEGEND - 3.0;
            picture = picture.add(self.entry(*what, words, y));
        }
        picture.to_string()
    }

    /// The colours, one stretch for squares that are alike.
    fn fills(&self) -> Group {
        let mut group = Group::new();
        for (row, squares) in self.grid.rows.iter().enumerate() {
            let mut place = 0;
            for alike in squares.squares.chunk_by(|one, other| one == other) {
                let last = place + alike.len() - 1;
                let x = self.x(place).min(self.x(last));
                let what = alike.first().and_then(|at| self.grid.legend.get(*at)).map(|square| &square.what);
                let fill = what.map_or("#ffffff", |what| self.fill(what));
                group = group.add(rectangle(x, self.y(row), number(alike.len()) * SIDE, SIDE).set("fill", fill));
                place += alike.len();
            }
        }
        group
    }

    fn fill(&self, what: &SquareKind) -> &'static str {
        match what {
            SquareKind::Yarn(yarn) | SquareKind::Stitch(_, Some(yarn)) => {
                let at = self.pattern.head.yarns.place_of(yarn);
                tint(at.unwrap_or_default())
            }
            SquareKind::Stitch(_, None) | SquareKind::Open | SquareKind::Filled | SquareKind::Unknown => "#ffffff",
        }
    }

    /// Thin lines between squares, and stronger ones after every tenth, counted from where the first row begins.
    fn lines(&self, wide: f64, high: f64) -> Group {
        let (mut thin, mut strong) = (String::new(), String::new());
        let (left, top) = (ROOM, LEGEND);
        let across = self.grid.width();
        for at in 0..=across {
            let begun = if self.seen.from_the_right(0) { across - at } else { at };
            let path = if begun.is_multiple_of(STRONG) || at == 0 || at == across { &mut strong } else { &mut thin };
            path.push_str(&format!("M{} {}v{}", shown(left + number(at) * SIDE), shown(top), shown(high)));
        }
        for at in 0..=self.height() {
            let from_bottom = self.height() - at;
            let outer = at == 0 || at == self.height();
            let path = if from_bottom.is_multiple_of(STRONG) || outer { &mut strong } else { &mut thin };
            path.push_str(&format!("M{} {}h{}", shown(left), shown(top + number(at) * SIDE), shown(wide)));
        }
        let drawn = |path: String, width: &str| Path::new().set("d", path).set("stroke-width", width);
        Group::new().set("fill", "none").set("stroke", INK).add(drawn(thin, "0.5")).add(drawn(strong, "1.5"))
    }

    fn signs(&self) -> Group {
        let mut paths: BTreeMap<Lines, String> = BTreeMap::new();
        let mut group = Group::new().set("stroke", INK).set("stroke-width", "1").set("fill", "none");
        for (row, squares) in self.grid.rows.iter().enumerate() {
            for (place, square) in squares.squares.iter().enumerate() {
                let (x, y) = (self.x(place), self.y(row));
                if self.is_long(row, place) {
                    paths.entry(Lines::Long).or_default().push_str(&Lines::Long.path(x, y));
                }
                let Some(square) = self.grid.legend.get(*square) else { continue };
                match sign(self.pattern, &square.what, square.sign) {
                    Sign::None => {}
                    Sign::Lines(lines) => paths.entry(lines).or_default().push_str(&lines.path(x, y)),
                    Sign::Letter(letter) => group = group.add(letter_at(letter, x, y)),
                }
            }
        }
        for (lines, path) in paths {
            let fill = if lines.is_filled() { INK } else { "none" };
            group = group.add(Path::new().set("d", path).set("fill", fill));
        }
        group
    }

    /// Whether a square of a mosaic is worked long, over the one below.
    fn is_long(&self, row: usize, place: usize) -> bool {
        let mosaic = matches!(self.grid.technique, Technique::Overlay | Technique::Inset);
        let covered = |row: usize| self.grid.yarn_at(row, place) != self.grid.own_yarn(row);
        mosaic && row.checked_sub(1).is_some_and(covered)
    }

    /// The number of each row at the side where it begins; of diagonals at the edge.
    fn numbers(&self, wide: f64, high: f64) -> Group {
        let mut group = Group::new().set("fill", "currentColor");
        let (left, right, below) = (ROOM - 4.0, ROOM + wide + 4.0, LEGEND + high + 11.0);
        let text = |number: usize, x: f64, y: f64, anchor: &str| {
            Text::new((number + 1).to_string()).set("x", shown(x)).set("y", shown(y)).set("text-anchor", anchor)
        };
        let beside = |at: usize, row: usize, on_the_right: bool| {
            let y = self.y(row) + SIDE - 4.0;
            if on_the_right { text(at, right, y, "start") } else { text(at, left, y, "end") }
        };
        if self.grid.technique != Technique::Corner {
            for row in 0..self.height() {
                group = group.add(beside(row, row, self.seen.from_the_right(row)));
            }
            return group;
        }
        for at in 0..self.grid.worked_rows() {
            let Some((row, place)) = self.grid.diagonal(at).first().copied() else { continue };
            let middle = self.x(place) + SIDE / 2.0;
            group = group.add(match (at.is_multiple_of(2), self.grid.grows(at).0) {
                (true, true) => beside(at, row, !self.seen.left_handed),
                (true, false) => text(at, middle, LEGEND - 4.0, "middle"),
                (false, true) => text(at, middle, below, "middle"),
                (false, false) => beside(at, row, self.seen.left_handed),
            });
        }
        group
    }

    // ---- Words

    /// Each sort of square with what it is, as far as it comes in the grid.
    fn legend(&self) -> Vec<(Option<usize>, String)> {
        let used = |at: usize| self.grid.rows.iter().any(|row| row.squares.contains(&at));
        let squares = self.grid.legend.iter().enumerate().filter(|(at, _)| used(*at));
        let mut legend: Vec<(Option<usize>, String)> =
            squares.map(|(at, square)| (Some(at), self.explained(&square.what))).collect();
        legend.dedup_by(|one, other| one.1 == other.1);
        if matches!(self.grid.technique, Technique::Overlay | Technique::Inset) {
            legend.push((None, "worked long, over the square below".to_owned()));
        }
        legend
    }

    fn explained(&self, what: &SquareKind) -> String {
        let yarn = |name: &str| {
            let yarn = self.pattern.head.yarns.place_of(name).and_then(|at| self.pattern.head.yarns.get(at));
            match yarn.and_then(|yarn| yarn.colour.as_ref()) {
                Some(colour) => format!("{name} (“{colour}”)"),
                None => name.to_owned(),
            }
        };
        match what {
            SquareKind::Yarn(name) => clean(&yarn(name)),
            SquareKind::Stitch(stitch, name) => {
                let stitch = self.pattern.stitches.get(*stitch);
                let full = stitch.map_or_else(String::new, |s| s.names(self.seen.terms).full.clone());
                clean(&name.as_ref().map_or(full.clone(), |name| format!("{full} in {}", yarn(name))))
            }
            SquareKind::Open => "open square".to_owned(),
            SquareKind::Filled => "filled square".to_owned(),
            SquareKind::Unknown => String::new(),
        }
    }

    fn entry(&self, what: Option<usize>, words: &str, y: f64) -> Group {
        let square = what.and_then(|at| self.grid.legend.get(at));
        let fill = square.map_or("#ffffff", |square| self.fill(&square.what));
        let cell =
            rectangle(ROOM, y - 11.0, SIDE, SIDE).set("fill", fill).set("stroke", INK).set("stroke-width", "0.5");
        let text = Text::new(words).set("x", shown(ROOM + SIDE + 6.0)).set("y", shown(y)).set("fill", "currentColor");
        let sign = square.map_or(Sign::Lines(Lines::Long), |square| sign(self.pattern, &square.what, square.sign));
        let group = Group::new().set("font-size", "12").add(cell).add(text);
        match sign {
            Sign::None => group,
            Sign::Letter(letter) => group.add(letter_at(letter, ROOM, y - 11.0)),
            Sign::Lines(lines) => {
                let fill = if lines.is_filled() { INK } else { "none" };
                group.add(Path::new().set("d", lines.path(ROOM, y - 11.0)).set("fill", fill).set("stroke", INK))
            }
        }
    }

    /// The chart in words: each row in the direction in which it is worked.
    fn told(&self) -> String {
        let (wide, high) = (count(self.grid.width(), "square"), count(self.height(), "row"));
        let mut told =
            format!("Chart {}: {wide} wide and {high} high, seen from the right side.", clean(&self.grid.name));
        if self.seen.left_handed {
            told.push_str(" Drawn for the left hand.");
        }
        for row in 0..self.height() {
            // Diagonals are told by the lines; here each row of squares is told alike.
            let diagonal = self.grid.technique == Technique::Corner;
            let from_the_right = if diagonal { !self.seen.left_handed } else { self.seen.from_the_right(row) };
            let side = if from_the_right { "right" } else { "left" };
            let mut places: Vec<usize> = (0..self.grid.width()).collect();
            // Whoever works with the left hand sees the picture turned round, and reads the same squares.
            if diagonal || self.seen.is_facing(row) != self.seen.mirrored {
                places.reverse();
            }
            let what = |place: &usize| self.grid.at(row, *place).map(|square| self.short(&square.what));
            let runs = places.chunk_by(|one, other| what(one) == what(other));
            let runs: Vec<String> =
                runs.map(|run| format!("{} {}", run.len(), run.first().and_then(what).unwrap_or_default())).collect();
            let row_word = if diagonal { "Row of squares" } else { "Row" };
            told.push_str(&format!(" {row_word} {}, from the {side}: {}.", row + 1, runs.join(", ")));
        }
        told
    }

    fn short(&self, what: &SquareKind) -> String {
        match what {
            SquareKind::Yarn(name) => clean(name),
            SquareKind::Stitch(stitch, name) => {
                let stitch = self.pattern.stitches.get(*stitch);
                let short = stitch.map_or_else(String::new, |s| s.names(self.seen.terms).short.clone());
                clean(&name.as_ref().map_or(short.clone(), |name| format!("{short} in {name}")))
            }
            SquareKind::Open => "open".to_owned(),
            SquareKind::Filled => "filled".to_owned(),
            SquareKind::Unknown => String::new(),
        }
    }
}

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Rectangle {
    let corner = Rectangle::new().set("x", shown(x)).set("y", shown(y));
    corner.set("width", shown(width)).set("height", shown(height))
}

fn letter_at(letter: char, x: f64, y: f64) -> Text {
    let text = Text::new(clean(&letter.to_string())).set("x", shown(x + SIDE / 2.0)).set("y", shown(y + SIDE - 4.0));
    text.set("text-anchor", "middle").set("fill", INK).set("stroke", "none")
}

/// A small number of squares as a length.
fn number(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::from(u32::MAX), f64::from)
}
