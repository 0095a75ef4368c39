//! The chart as SVG.

use std::collections::BTreeMap;
use std::fmt::Write;

use svg::Document;
use svg::node::element::{Circle, Description, Group, Path, Rectangle, Text, Title};

use crate::fabric::{Graph, Node, On, What};
use crate::pattern::model::{Pattern, Start, StitchId, Terms};
use crate::stitch::{Form, Symbol};
use crate::words::{clean, count};

use super::ground::{Ground, Point, Spot};
use super::items::own_feet;
use super::key::{Drawn, Legend};
use super::layout::{Layout, Placed, number};
use super::pen::{WIDTH, box_middle, column, legs, letter_box, loop_arc, shown, strokes, tick};
use super::shorten::{Across, Repeats, Up};
use super::strip::{Twice, Why};
use super::taken::{Taken, label_size};
use super::{Asked, Chart};

/// Colours of rounds or of yarns, which are as different in grey.
const INKS: [&str; 4] = ["#111111", "#8a3b12", "#1f6f9f", "#6f8f1f"];

/// What is shown only because something stands on it.
const PALE: &str = "#b5b5b5";

/// Room around.
const MARGIN: f64 = 30.0;

/// Room for a line of the legend, down and across, where its words are not longer.
const LINE: f64 = 34.0;
const COLUMN: f64 = 330.0;

/// The width of a letter, as most of them have it.
const LETTER: f64 = 6.4;

/// Rounds that are opened by more than this are said to be.
pub(super) const OPENED: f64 = 1.2;

/// Draws what is laid out. `lines` has the item of the piece that says each row.
pub(super) fn draw(
    pattern: &Pattern,
    graph: &Graph,
    laid: &Layout,
    asked: &Asked,
    (lines, repeats): (&BTreeMap<usize, usize>, &Repeats),
) -> Chart {
    let mut sheet = Sheet {
        pattern,
        graph,
        laid,
        asked,
        lines,
        repeats,
        stitches: 0,
        legend: Legend::default(),
        taken: Taken::default(),
        low: (f64::MAX, f64::MAX),
        high: (f64::MIN, f64::MIN),
    };
    let groups = sheet.symbols();
    let numbers = sheet.numbers();
    let told = sheet.told();
    Chart {
        title: sheet.title(),
        svg: sheet.picture(groups, numbers, &told),
        wide: sheet.wide(),
        told,
        stitches: sheet.stitches,
        moves: laid.moves,
    }
}

struct Sheet<'a> {
    pattern: &'a Pattern,
    graph: &'a Graph,
    laid: &'a Layout,
    asked: &'a Asked,
    lines: &'a BTreeMap<usize, usize>,
    repeats: &'a Repeats,
    stitches: usize,
    legend: Legend,
    /// Where something is drawn.
    taken: Taken,
    low: (f64, f64),
    high: (f64, f64),
}

impl Sheet<'_> {
    /// The stitch names that the reader knows.
    fn terms(&self) -> Terms {
        self.asked.terms.unwrap_or(self.pattern.terms)
    }

    fn mirrored(&self) -> f64 {
        if self.asked.left_handed { -1.0 } else { 1.0 }
    }

    /// Where a place is in the picture.
    fn at(&self, spot: Spot) -> Point {
        let point = self.laid.ground.point(spot);
        Point::new(self.mirrored() * point.x * WIDTH, -point.y * WIDTH)
    }

    fn reach(&mut self, point: Point) {
        self.low = (self.low.0.min(point.x - WIDTH / 2.0), self.low.1.min(point.y - WIDTH / 2.0));
        self.high = (self.high.0.max(point.x + WIDTH / 2.0), self.high.1.max(point.y + WIDTH / 2.0));
    }

    fn is_shown(&self, row: usize) -> bool {
        let number = self.graph.rows.get(row).map_or(0, |row| row.number);
        self.asked.rows.as_ref().is_none_or(|rows| rows.contains(&number))
    }

    /// The first row that is shown, by its number.
    fn first(&self) -> u32 {
        self.asked.rows.as_ref().map_or(0, |rows| *rows.start())
    }

    // ---- Stitches

    /// One group for the start and each row, in the order of the work.
    fn symbols(&mut self) -> Vec<Group> {
        let graph = self.graph;
        let several_yarns = {
            let mut yarns = graph.nodes.iter().filter(|node| node.piece == self.asked.piece).map(|node| node.yarn);
            let first = yarns.next();
            yarns.any(|yarn| Some(yarn) != first)
        };
        let mut groups = Vec::from_iter(self.drawn_again());
        let start: Vec<usize> = graph
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, node)| node.piece == self.asked.piece && node.row.is_none())
            .map(|(at, _)| at)
            .collect();
        if self.first() <= 1 {
            groups.push(self.group(start, None, several_yarns));
        }
        let rows = graph.rows.iter().enumerate().filter(|(_, row)| row.piece == self.asked.piece);
        for (at, row) in rows {
            if self.is_shown(at) {
                groups.push(self.group(row.nodes.clone().collect(), Some(at), several_yarns));
            } else if row.number + 1 == self.first() {
                groups.push(self.ground(row.nodes.clone().collect()));
            }
        }
        groups
    }

    fn group(&mut self, nodes: Vec<usize>, row: Option<usize>, by_yarn: bool) -> Group {
        let number = row.and_then(|row| self.graph.rows.get(row)).map_or(0, |row| row.number);
        let ink = |yarn: usize| INKS.get(yarn % INKS.len()).copied().unwrap_or("#111111");
        let of_row = ink(if by_yarn { 0 } else { usize::from(number.is_multiple_of(2) && row.is_some()) });
        let mut group = Group::new().set("stroke", of_row).set("data-row", number).set("data-line", self.line(row));
        for at in nodes {
            let Some(node) = self.graph.nodes.get(at) else { continue };
            let ink = if by_yarn { ink(node.yarn.unwrap_or(0)) } else { of_row };
            if let Some(symbol) = self.symbol(at, node, ink, ink != of_row) {
                self.stitches += 1;
                group = group.add(symbol);
            }
        }
        group
    }

    /// The line that says a row, or where the piece begins, as pages name it.
    fn line(&self, row: Option<usize>) -> String {
        let piece = self.asked.piece + 1;
        match row.and_then(|row| self.lines.get(&row)) {
            Some(item) => format!("p{piece}-l{}", item + 1),
            None => format!("p{piece}-start"),
        }
    }

    /// The row below the first that is shown: only what can be stood on.
    fn ground(&mut self, nodes: Vec<usize>) -> Group {
        let mut legend = std::mem::take(&mut self.legend);
        let mut group = Group::new().set("stroke", PALE).set("class", "below");
        for at in nodes {
            let Some(node) = self.graph.nodes.get(at) else { continue };
            if let Some(symbol) = self.symbol(at, node, PALE, false) {
                group = group.add(symbol);
            }
        }
        std::mem::swap(&mut self.legend, &mut legend);
        group
    }

    /// What is drawn a second time, below everything.
    fn drawn_again(&mut self) -> Option<Group> {
        let laid = self.laid;
        let mut group = Group::new().set("stroke", PALE).set("class", "again");
        let is_shown = |row: Option<usize>| row.map_or(self.first() <= 1, |row| self.is_shown(row));
        let graph = self.graph;
        let shown = |node: usize| graph.nodes.get(node).filter(|node| is_shown(node.row));
        let again: Vec<(&Twice, &Node)> =
            laid.twice.iter().filter_map(|twice| Some((twice, shown(twice.node)?))).collect();
        if again.is_empty() {
            return None;
        }
        for (twice, node) in again {
            if let Some(symbol) = self.symbol_at((twice.node, node), &twice.placed, PALE) {
                group = group.add(symbol.set("data-again", twice.node));
            }
        }
        Some(group)
    }

    fn symbol(&mut self, at: usize, node: &Node, ink: &str, own_ink: bool) -> Option<Group> {
        let placed = self.laid.placed.get(at)?.as_ref()?;
        let mut group = self.symbol_at((at, node), placed, ink)?.set("data-stitch", at).set("data-is", self.name(node));
        if own_ink {
            group = group.set("stroke", ink);
        }
        let on = self.on(at);
        if !on.is_empty() {
            group = group.set("data-on", on);
        }
        Some(group)
    }

    fn symbol_at(&mut self, (at, node): (usize, &Node), placed: &Placed, ink: &str) -> Option<Group> {
        let head = self.at(placed.head);
        let feet: Vec<Point> = placed.feet.iter().map(|spot| self.at(*spot)).collect();
        let standing = own_feet(self.graph, at).len();
        if node.what == What::Ring && !self.ring_is_drawn(at) {
            return Some(Group::new());
        }
        let drawn = self.legend.drawn(self.pattern, self.graph, node, standing)?;
        self.reach(head);
        for foot in &feet {
            self.reach(*foot);
            self.taken.line(*foot, head);
        }
        self.taken.line(head, head);
        let mut group = Group::new();
        let foot = feet.first().copied().unwrap_or(head);
        let mut path = String::new();
        match drawn {
            Drawn::Symbol(symbol, _) => {
                let strokes = strokes(symbol, &feet, head);
                path = strokes.path;
                if strokes.filled {
                    group = group.set("fill", ink);
                }
            }
            Drawn::Column(chains, _) => path = column(foot, head, chains),
            Drawn::OnHook(_) => path = legs(&[foot], head),
            Drawn::Ring => {
                let radius = self.laid.ring * WIDTH;
                self.taken.circle(radius);
                let radius = shown(radius);
                return Some(group.add(Circle::new().set("cx", 0).set("cy", 0).set("r", radius)));
            }
            Drawn::Letter(id) => {
                group = group.add(Path::new().set("d", legs(&feet, head)));
                return Some(self.lettered(group, id, (&feet, head), ink));
            }
            Drawn::Thing => path = tick(head),
            Drawn::Loop(_) | Drawn::InStart => {}
        }
        if let Some(side) = self.legend.loop_of(self.graph, node) {
            path.push_str(&loop_arc(foot, head, side));
        }
        Some(group.add(Path::new().set("d", path)))
    }

    /// A ring of chains that is opened is those chains, unless something goes round them.
    fn ring_is_drawn(&self, ring: usize) -> bool {
        let piece = self.pattern.pieces.get(self.asked.piece);
        let is_chain = piece.is_some_and(|piece| matches!(piece.start, Start::ChainRing(_)));
        let stands = |node: &Node| self.graph.feet(node).iter().any(|foot| foot.node == Some(ring));
        self.laid.ground.is_round() || !is_chain || self.graph.nodes.iter().any(stands)
    }

    /// A letter in a box, over the legs that it stands on.
    fn lettered(&self, group: Group, id: StitchId, (feet, head): (&[Point], Point), ink: &str) -> Group {
        let (x, y, side) = letter_box(feet, head);
        let frame = Rectangle::new().set("x", x).set("y", y).set("width", side.clone()).set("height", side);
        let middle = box_middle(feet, head);
        let letter = text(&self.legend.letter(id), middle.x, middle.y + 4.0).set("fill", ink).set("font-size", "11");
        group.add(frame.set("fill", "#ffffff").set("stroke", ink)).add(letter)
    }

    fn name(&self, node: &Node) -> String {
        let id = match node.what {
            What::Stitch(id) | What::CountedLead(id) | What::Foundation(id) => Some(id),
            What::Chain | What::Lead | What::Base => self.pattern.stitches.chain(),
            What::Slip | What::JoinTo(_) => self.pattern.stitches.slip(),
            What::Ring => return "ring".to_owned(),
            What::Thing => return "place".to_owned(),
        };
        let stitch = id.and_then(|id| self.pattern.stitches.get(id));
        clean(&stitch.map_or_else(String::new, |stitch| stitch.names(self.terms()).short.clone()))
    }

    /// What a node stands on, for those who read the picture: `top 12`.
    fn on(&self, at: usize) -> String {
        let mut on = String::new();
        for foot in own_feet(self.graph, at) {
            let word = match foot.on {
                On::Top => "top",
                On::Lead => "lead",
                On::Space => "space",
                On::Post => "post",
                On::Gap => "gap",
                On::RowEnd => "row-end",
                On::OtherSide => "other-side",
                On::Ring => "ring",
                On::Nowhere => "nowhere",
            };
            let comma = if on.is_empty() { "" } else { ", " };
            let _ = write!(on, "{comma}{word} {}", foot.node.unwrap_or_default());
        }
        on
    }

    // ---- Numbers

    /// The number of each row or round where it begins, with an arrow where the direction is another one than before.
    fn numbers(&mut self) -> Group {
        let mut group = Group::new().set("fill", "#333333").set("stroke", "none").set("font-size", "9");
        for frame in self.frames() {
            group = group.add(frame);
        }
        let mut before = None;
        for begins in &self.laid.begins {
            if !self.is_shown(begins.row) {
                continue;
            }
            let Some(row) = self.graph.rows.get(begins.row) else { continue };
            let has_arrow = before != Some(begins.forwards);
            before = Some(begins.forwards);
            let words = row.number.to_string();
            let at = self.at(begins.spot);
            let point = self.free(at, &words, (has_arrow, begins.forwards));
            self.reach(point);
            let label = text(&words, point.x, point.y + 3.0).set("class", "number");
            group = group.add(haloed(label).set("data-of", row.number));
            if has_arrow {
                let (x, y) = (shown(point.x - at.x), shown(point.y - at.y));
                let arrow = self.arrow(begins.spot, begins.forwards);
                group =
                    group.add(if point == at { arrow } else { arrow.set("transform", format!("translate({x} {y})")) });
            }
        }
        if let Some(chains) = self.chains_of_ring() {
            group = group.add(text(&chains.to_string(), 0.0, 3.0));
        }
        group
    }

    /// Where nothing is drawn, as near as may be to where a number is wanted: of rows and strips before their beginning, round a middle on
    /// any side. It stays where it is wanted when there is no such place.
    fn free(&mut self, wanted: Point, words: &str, (has_arrow, forwards): (bool, bool)) -> Point {
        const STEP: f64 = WIDTH / 3.0;
        const STEPS: usize = 6;
        const TURNS: usize = 8;
        let size = label_size(words, has_arrow);
        let away = self.mirrored() * if forwards { 1.0 } else { -1.0 };
        let is_round = self.laid.ground.is_round();
        let tried = (0..=STEPS).flat_map(|step| (0..if is_round { TURNS } else { 1 }).map(move |turn| (step, turn)));
        let place = |(step, turn): (usize, usize)| {
            let far = number(step) * STEP;
            let (y, x) = (number(turn) * std::f64::consts::TAU / number(TURNS)).sin_cos();
            let (x, y) = if is_round { (x, y) } else { (away, 0.0) };
            Point::new(wanted.x + x * far, wanted.y + y * far)
        };
        let found = tried.map(place).find(|point| self.taken.is_free(*point, size)).unwrap_or(wanted);
        self.taken.box_at(found, size);
        found
    }

    fn arrow(&self, spot: Spot, forwards: bool) -> Path {
        let ground = self.laid.ground;
        let way = if forwards { 1.0 } else { -1.0 };
        let lower = ground.carried(spot, (spot.out - 0.42).max(0.0));
        let step = |along: f64, out: f64| {
            let moved = ground.carried(lower, (lower.out + out).max(0.0));
            self.at(Spot { out: moved.out, along: moved.along + along * way })
        };
        let (tail, head) = (step(-0.35, 0.0), step(0.35, 0.0));
        let (one, two) = (step(0.15, 0.12), step(0.15, -0.12));
        let at = |point: Point| format!("{} {}", shown(point.x), shown(point.y));
        let path = format!("M{}L{}M{}L{}L{}", at(tail), at(head), at(one), at(head), at(two));
        Path::new().set("d", path).set("fill", "none").set("stroke", "#333333").set("class", "arrow")
    }

    /// Broken lines round what repeats, with how often it does where there are several.
    fn frames(&mut self) -> Vec<Group> {
        let repeats = self.repeats;
        let mut lines: Vec<(Vec<Spot>, Option<usize>)> = Vec::new();
        match (repeats.across.as_slice(), &repeats.up) {
            ([], None) => {}
            ([], Some(Up { frame: (low, high), .. })) => lines.push((around(*low, *high), None)),
            ([Across { sides: [one, two], .. }], Some(Up { frame: (low, high), .. })) => {
                let inside = |side: &[Spot]| {
                    let mut inside = side.iter().filter(|spot| spot.out >= low.out && spot.out <= high.out + 0.1);
                    inside.next().or(side.first()).map(|spot| spot.along)
                };
                if let Some((from, to)) = inside(one).zip(inside(two)) {
                    lines.push((around(Spot { along: from, ..*low }, Spot { along: to, ..*high }), None));
                }
            }
            // Round a middle the eye sees what repeats, as long as all of it is there.
            ([across], _) if self.laid.ground.is_round() && across.drawn == across.times => {}
            (all, _) => {
                let times = |across: &Across| Some(across.times).filter(|_| all.len() > 1);
                lines.extend(all.iter().map(|across| (self.line_round(across), times(across))));
            }
        }
        lines.into_iter().map(|(line, times)| self.frame(&line, times)).collect()
    }

    /// The line round a repeat, up one of its sides and down the other.
    fn line_round(&self, across: &Across) -> Vec<Spot> {
        let line = |side: &[Spot]| -> Vec<Spot> {
            let foot = side.first().map(|spot| self.laid.ground.carried(*spot, (spot.out - 1.0).max(0.0)));
            let head = side.last().map(|spot| self.laid.ground.carried(*spot, spot.out + 0.5));
            foot.into_iter().chain(side.iter().copied()).chain(head).collect()
        };
        let [one, two] = &across.sides;
        let (one, mut two) = (line(one), line(two));
        two.reverse();
        one.iter().chain(&two).chain(one.first()).copied().collect()
    }

    fn frame(&mut self, line: &[Spot], times: Option<usize>) -> Group {
        let mut path = String::new();
        let (mut top, mut sides, mut last) = (f64::MAX, (f64::MAX, f64::MIN), None);
        for (at, spot) in line.iter().enumerate() {
            let point = self.at(*spot);
            self.reach(point);
            if let Some(last) = last.replace(point) {
                self.taken.line(last, point);
            }
            (top, sides) = (top.min(point.y), (sides.0.min(point.x), sides.1.max(point.x)));
            let _ = write!(path, "{}{} {}", if at == 0 { 'M' } else { 'L' }, shown(point.x), shown(point.y));
        }
        let frame = Path::new().set("d", path).set("class", "repeat").set("fill", "none").set("stroke", "#333333");
        let group = Group::new().add(frame.set("stroke-width", "0.8").set("stroke-dasharray", "5 3"));
        let Some(times) = times else { return group };
        let point = Point::new(f64::midpoint(sides.0, sides.1), top - 5.0);
        self.reach(point);
        group.add(text(&format!("{times} times"), point.x, point.y).set("class", "times"))
    }

    fn chains_of_ring(&self) -> Option<usize> {
        let piece = self.pattern.pieces.get(self.asked.piece)?;
        let start = self.graph.nodes.iter().filter(|node| node.piece == self.asked.piece && node.row.is_none());
        let chains = start.filter(|node| node.what == What::Base).count();
        let is_there = self.first() <= 1 && self.laid.ground.is_round();
        (is_there && matches!(piece.start, Start::ChainRing(_))).then_some(chains)
    }

    // ---- Words

    fn rows_shown(&self) -> usize {
        let rows = self.graph.rows.iter().enumerate();
        rows.filter(|(at, row)| row.piece == self.asked.piece && self.is_shown(*at)).count()
    }

    fn title(&self) -> String {
        title(self.pattern, self.asked.piece, self.asked.size)
    }

    fn is_round(&self) -> bool {
        self.pattern.pieces.get(self.asked.piece).is_some_and(|piece| piece.way.rounds())
    }

    /// What repeats, and how much of it is drawn.
    fn repeated(&self) -> Vec<String> {
        let drawn = |drawn: usize, times: usize| match drawn {
            _ if drawn == times => String::new(),
            1 => ", and drawn once".to_owned(),
            2 => ", and drawn twice".to_owned(),
            more => format!(", and drawn {more} times"),
        };
        let mut told = Vec::new();
        let across = self.repeats.across.as_slice();
        if across.len() > 1 {
            let each: Vec<String> =
                across.iter().map(|a| format!("{} times{}", a.times, drawn(a.drawn, a.times))).collect();
            told.push(format!("What is framed is worked as often as is written above it: {}.", each.join("; ")));
        } else if let Some(across) = across.first().filter(|a| a.drawn == a.times && self.laid.ground.is_round()) {
            told.push(format!("It repeats {} times round, besides where rounds begin and end.", across.times));
        } else if let Some(across) = across.first() {
            let here = if self.is_round() { "round" } else { "side by side" };
            let besides = if self.is_round() { ", besides where rounds begin and end" } else { "" };
            let drawn = drawn(across.drawn, across.times);
            told.push(format!("What is framed is worked {} times {here}{besides}{drawn}.", across.times));
        }
        if let Some(up) = &self.repeats.up {
            let row = if self.is_round() { "Round" } else { "Row" };
            let rows = match up.rows {
                (one, two) if one == two => format!("{row} {one} is"),
                (one, two) => format!("{row}s {one} to {two} are"),
            };
            let drawn = drawn(up.drawn, up.times);
            told.push(format!("{rows} worked {} times, to {} {}{drawn}.", up.times, row.to_lowercase(), up.until));
        }
        told
    }

    /// What cannot be seen in the picture itself.
    fn remarks(&self) -> Vec<String> {
        let mut remarks = self.repeated();
        if matches!(self.laid.ground, Ground::Strip { .. }) {
            let how = if self.laid.band { "about a wide opening" } else { "and not flat" };
            remarks.push(format!("Worked in the round {how}: drawn as an opened strip. Its two ends meet."));
        }
        if self.laid.ruffles {
            remarks.push("By its counts it ruffles: it is drawn opened out, with room for its stitches.".to_owned());
        } else if self.laid.opened > OPENED && self.laid.ground.is_round() {
            remarks.push(
                "Rounds are drawn further out than they lie, so that there is room for their stitches.".to_owned(),
            );
        }
        if self.laid.behind {
            remarks.push("Rounds that are worked behind others are drawn outside of them.".to_owned());
        }
        let has_twice = |why: Why| self.laid.twice.iter().any(|twice| twice.why == why);
        if has_twice(Why::OtherSide) {
            remarks.push("The chain is worked on both sides: its other side is drawn pale.".to_owned());
        }
        if has_twice(Why::OnePlace) {
            remarks
                .push("All of the first round goes into one chain, which is drawn pale under each stitch.".to_owned());
        }
        if has_twice(Why::EndsMeet) {
            remarks.push(
                "What is pale at an end is the stitch at the other one, which is worked into from here.".to_owned(),
            );
        }
        if self.laid.strange > 0 {
            remarks.push("The lowest line stands on the edge of another piece.".to_owned());
        }
        remarks
    }

    fn told(&self) -> String {
        let row = if self.is_round() { "round" } else { "row" };
        let shown: Vec<_> = self.laid.begins.iter().filter(|begins| self.is_shown(begins.row)).collect();
        let hand = if self.asked.left_handed { ", drawn for the left hand" } else { "" };
        let mut told = format!("{}: {}, seen from the right side{hand}.", self.title(), count(self.rows_shown(), row));
        told.push_str(match (self.laid.ground, self.asked.left_handed) {
            (Ground::Line | Ground::Strip { .. }, _) => " It begins at the bottom.",
            (_, false) => " It begins in the middle and goes round against the clock.",
            (_, true) => " It begins in the middle and goes round with the clock.",
        });
        for remark in self.remarks() {
            let _ = write!(told, " {remark}");
        }
        for begins in shown {
            let Some(row_here) = self.graph.rows.get(begins.row) else { continue };
            let nodes = self.graph.nodes.get(row_here.nodes.clone()).unwrap_or_default();
            let is_stitch = |node: &&Node| node.on_edge && matches!(node.what, What::Stitch(_) | What::CountedLead(_));
            let stitches = nodes.iter().filter(is_stitch).filter(|node| !node.closes_round()).count();
            let chains = nodes.iter().filter(|node| node.on_edge && node.what == What::Chain).count();
            let _ = write!(
                told,
                " {}{} {}: {}",
                row.get(..1).unwrap_or_default().to_uppercase(),
                row.get(1..).unwrap_or_default(),
                row_here.number,
                count(stitches, "stitch")
            );
            if chains > 0 {
                let _ = write!(told, " and {}", count(chains, "chain"));
            }
            told.push('.');
        }
        let legend: Vec<String> =
            self.legend.lines(self.pattern, self.terms()).into_iter().map(|(_, words)| words).collect();
        let _ = write!(told, " Symbols: {}.", legend.join("; "));
        told
    }

    /// How wide the picture is: what is drawn, or a column of the legend.
    fn wide(&self) -> f64 {
        let lines = self.legend.lines(self.pattern, self.terms());
        (self.high.0 - self.low.0 + 2.0 * MARGIN).max(column_of(&lines) + MARGIN)
    }

    fn picture(&self, groups: Vec<Group>, numbers: Group, told: &str) -> String {
        let (left, top) = (self.low.0 - MARGIN, self.low.1 - MARGIN);
        let lines = self.legend.lines(self.pattern, self.terms());
        let (column, wide) = (column_of(&lines), self.wide());
        let columns = number_of_columns(wide, column);
        let below = self.high.1 + MARGIN;
        let remarks = self.remarks();
        let remarks: Vec<String> = remarks.iter().flat_map(|remark| lines_of(remark, wide - 2.0 * MARGIN)).collect();
        let legend_top = below + number(remarks.len()) * 16.0;
        let high = legend_top - top + number(lines.len().div_ceil(columns)) * LINE + MARGIN;
        let mut chart = Group::new().set("class", "stitches").set("fill", "none");
        chart = chart.set("stroke-width", "1.3").set("stroke-linecap", "round");
        for group in groups {
            chart = chart.add(group);
        }
        let mut words = Group::new().set("class", "legend").set("font-size", "12").set("fill", "#111111");
        for (at, remark) in remarks.iter().enumerate() {
            let line =
                Text::new(remark.as_str()).set("x", shown(left + MARGIN)).set("y", shown(below + number(at) * 16.0));
            words = words.add(line.set("class", "remark"));
        }
        for (at, (drawn, meaning)) in lines.iter().enumerate() {
            let x = left + MARGIN + number(at % columns) * column;
            let y = legend_top + number(at / columns) * LINE + LINE / 2.0;
            words = words.add(self.entry(*drawn, meaning, Point::new(x, y)));
        }
        Document::new()
            .set("viewBox", format!("{} {} {} {}", shown(left), shown(top), shown(wide), shown(high)))
            .set("width", shown(wide))
            .set("height", shown(high))
            .set("role", "img")
            .set("font-family", "sans-serif")
            .add(Title::new(self.title()))
            .add(Description::new().add(svg::node::Text::new(told)))
            .add(chart)
            .add(numbers)
            .add(words)
            .to_string()
    }

    /// A symbol beside what it means.
    fn entry(&self, drawn: Drawn, meaning: &str, at: Point) -> Group {
        let (foot, head) = (Point::new(at.x + 10.0, at.y + 14.0), Point::new(at.x + 10.0, at.y - 12.0));
        let middle = foot.towards(head, 0.5);
        let around = [Point::new(middle.x - 1.0, middle.y), Point::new(middle.x + 1.0, middle.y)];
        let words = Text::new(meaning).set("x", shown(at.x + 30.0)).set("y", shown(at.y + 5.0));
        let group = Group::new().set("class", "entry").add(words);
        let mut filled = false;
        let path = match drawn {
            Drawn::Symbol(symbol @ Symbol { form: Form::Oval, .. }, _) => strokes(symbol, &around, middle).path,
            Drawn::Symbol(symbol @ Symbol { form: Form::Dot | Form::Picot(_), .. }, _) => {
                let strokes = strokes(symbol, &[foot], middle);
                filled = strokes.filled;
                strokes.path
            }
            Drawn::Symbol(symbol, together) => {
                let off = |at: usize| (number(at) - (number(together) - 1.0) / 2.0) * 16.0 / number(together);
                let feet: Vec<Point> = (0..together).map(|at| Point::new(foot.x + off(at), foot.y)).collect();
                strokes(symbol, &feet, head).path
            }
            Drawn::Column(chains, _) => column(foot, head, chains),
            Drawn::OnHook(_) => legs(&[foot], head),
            Drawn::Ring => {
                let ring = Circle::new().set("cx", shown(middle.x)).set("cy", shown(middle.y)).set("r", 8);
                return group.add(ring.set("fill", "none").set("stroke", "#111111"));
            }
            Drawn::Letter(id) => {
                let legs = Path::new().set("d", legs(&[foot], head)).set("stroke", "#111111");
                return self.lettered(group.add(legs), id, (&[foot], head), "#111111");
            }
            Drawn::Thing => tick(middle),
            Drawn::Loop(side) => loop_arc(middle, head, side),
            Drawn::InStart => String::new(),
        };
        let fill = if filled { "#111111" } else { "none" };
        group.add(Path::new().set("d", path).set("fill", fill).set("stroke", "#111111").set("stroke-width", "1.3"))
    }
}

/// `Chart of Body, size small`.
fn title(pattern: &Pattern, piece: usize, size: usize) -> String {
    let piece = pattern.pieces.get(piece).map(|piece| piece.name.as_str()).unwrap_or_default();
    let name = if piece.is_empty() { &pattern.head.title } else { piece };
    let size = pattern.sizes.get(size).filter(|size| !size.is_empty());
    let size = size.map(|size| format!(", size {size}")).unwrap_or_default();
    format!("Chart of {}", clean(&format!("{name}{size}")))
}

/// The corners of a frame, all the way round.
fn around(low: Spot, high: Spot) -> Vec<Spot> {
    let corner = |out: f64, along: f64| Spot { out, along };
    vec![low, corner(high.out, low.along), high, corner(low.out, high.along), low]
}

/// A sentence in lines of such a length.
fn lines_of(words: &str, wide: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut().filter(|line| number(line.len() + word.len() + 1) * LETTER < wide) {
            Some(line) => {
                line.push(' ');
                line.push_str(word);
            }
            None => lines.push(word.to_owned()),
        }
    }
    lines
}

/// How wide a column of the legend is.
fn column_of<D>(lines: &[(D, String)]) -> f64 {
    lines.iter().map(|(_, words)| entry_width(words)).fold(COLUMN, f64::max)
}

/// How wide a symbol is with its words.
fn entry_width(words: &str) -> f64 {
    const SYMBOL: f64 = 30.0;
    const BETWEEN: f64 = 20.0;
    SYMBOL + number(words.chars().count()) * LETTER + BETWEEN
}

fn number_of_columns(wide: f64, column: f64) -> usize {
    let mut columns = 1;
    while (number(columns) + 1.0) * column < wide && columns < 4 {
        columns += 1;
    }
    columns
}

fn text(words: &str, x: f64, y: f64) -> Text {
    Text::new(words).set("x", shown(x)).set("y", shown(y)).set("text-anchor", "middle").set("stroke", "none")
}

/// A number that can be read where it lies on something too.
fn haloed(label: Text) -> Text {
    label.set("stroke", "#ffffff").set("stroke-width", "3").set("paint-order", "stroke")
}
