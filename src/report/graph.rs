//! The stitches themselves for other programs, with what each stands on. Its shape is described in `DEVELOPERS.md`.

use serde::ser::SerializeStruct;
use serde::{Serialize, Serializer};

use super::json::FORMAT;
use super::place::Places;
use super::tally::{Each, Lead, LeftOut, closing};
use crate::Compiled;
use crate::fabric::{self, Foot, GraphRow, On, What};
use crate::meter::Meter;
use crate::pattern::model::{ItemKind, LoopOnly, Pattern};

/// The graph of every size, all pieces together, as JSON.
#[must_use]
pub fn graph(compiled: &Compiled, file: &str, text: &str) -> String {
    let (places, meter) = (Places::new(text), Meter::new());
    let (places, meter, pattern) = (&places, &meter, &compiled.pattern);
    let sizes = || {
        let sizes = pattern.sizes.iter().enumerate().take_while(|_| meter.left() > 0);
        sizes.map(|(size, name)| {
            let (graph, whole) = fabric::graph_up_to(meter.left(), pattern, size);
            let nodes = u64::try_from(graph.nodes.len()).unwrap_or(u64::MAX);
            meter.charge(if whole { nodes } else { u64::MAX });
            SizeGraph { name, pattern, places, graph }
        })
    };
    let drawn = Drawn {
        ringtrue: env!("CARGO_PKG_VERSION"),
        format: FORMAT,
        name: file,
        title: &pattern.head.title,
        pieces: pattern.pieces.iter().map(|piece| Piece { name: &piece.name, copies: piece.copies }).collect(),
        sizes: Each(sizes),
        left_out: LeftOut { compiled, meter },
    };
    // Texts and numbers alone can always be written.
    serde_json::to_string(&drawn).unwrap_or_default()
}

#[derive(Serialize)]
struct Drawn<'a, S: Serialize> {
    ringtrue: &'a str,
    format: u32,
    name: &'a str,
    title: &'a str,
    pieces: Vec<Piece<'a>>,
    sizes: S,
    #[serde(skip_serializing_if = "LeftOut::is_nothing")]
    left_out: LeftOut<'a>,
}

#[derive(Serialize)]
struct Piece<'a> {
    name: &'a str,
    copies: u32,
}

/// The graph of a size. What it is made of is put in other words one by one, while it is written.
struct SizeGraph<'a> {
    name: &'a str,
    pattern: &'a Pattern,
    places: &'a Places<'a>,
    graph: fabric::Graph,
}

impl Serialize for SizeGraph<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self { name, pattern, places, graph } = self;
        let rows = || graph.rows.iter().map(|worked| row(pattern, worked, places));
        let nodes = || graph.nodes.iter().map(|one| node(pattern, graph, one, places));
        let mut size = serializer.serialize_struct("SizeGraph", 3)?;
        size.serialize_field("name", name)?;
        size.serialize_field("rows", &Each(rows))?;
        size.serialize_field("nodes", &Each(nodes))?;
        size.end()
    }
}

#[derive(Serialize)]
struct RowGraph {
    piece: usize,
    number: u32,
    source: usize,
    right_side: bool,
    lead: Lead,
    closing: &'static str,
    first: usize,
    count: usize,
}

#[derive(Serialize)]
struct NodeGraph<'a> {
    what: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    stitch: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    to: Option<usize>,
    piece: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    row: Option<usize>,
    line: usize,
    column: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    yarn: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    loops: Option<&'static str>,
    on_edge: bool,
    feet: Vec<FootGraph>,
}

#[derive(Serialize)]
struct FootGraph {
    on: &'static str,
    node: Option<usize>,
    fresh: bool,
}

fn row(pattern: &Pattern, worked: &GraphRow, places: &Places<'_>) -> RowGraph {
    let item = pattern.pieces.get(worked.piece).and_then(|piece| piece.items.get(worked.source));
    let source = match item.map(|item| &item.kind) {
        Some(ItemKind::Work(line)) => line.steps_span.start,
        Some(_) | None => 0,
    };
    RowGraph {
        piece: worked.piece,
        number: worked.number,
        source: places.at(source).line,
        right_side: worked.right_side,
        lead: Lead::of(pattern, worked.lead),
        closing: closing(worked.closing),
        first: worked.nodes.start,
        count: worked.nodes.len(),
    }
}

fn node<'a>(pattern: &'a Pattern, graph: &fabric::Graph, node: &fabric::Node, places: &Places<'_>) -> NodeGraph<'a> {
    let (what, id, to) = match node.what {
        What::Stitch(id) => ("stitch", Some(id), None),
        What::CountedLead(id) => ("counted lead", Some(id), None),
        What::Foundation(id) => ("foundation", Some(id), None),
        What::Chain => ("chain", None, None),
        What::Lead => ("lead", None, None),
        What::Slip => ("slip", None, None),
        What::Base => ("starting chain", None, None),
        What::Thing => ("place", None, None),
        What::Ring => ("ring", None, None),
        What::JoinTo(piece) => ("join", None, Some(piece)),
    };
    let at = places.at(node.step.start);
    NodeGraph {
        what,
        stitch: id.and_then(|id| pattern.stitches.get(id)).map(|s| s.names(pattern.terms).short.as_str()),
        to,
        piece: node.piece,
        row: node.row,
        line: at.line,
        column: at.column,
        yarn: node.yarn.and_then(|yarn| pattern.head.yarns.get(yarn)).map(|yarn| yarn.name.as_str()),
        loops: node.loops.map(|only| match only {
            LoopOnly::Back => "back",
            LoopOnly::Front => "front",
        }),
        on_edge: node.on_edge,
        feet: graph.feet(node).iter().map(foot).collect(),
    }
}

fn foot(foot: &Foot) -> FootGraph {
    let on = match foot.on {
        On::Top => "top",
        On::Lead => "lead",
        On::Space => "space",
        On::Post => "post",
        On::Gap => "gap",
        On::RowEnd => "row end",
        On::OtherSide => "other side",
        On::Ring => "ring",
        On::Nowhere => "nowhere",
    };
    FootGraph { on, node: foot.node, fresh: foot.fresh }
}
