//! The parts of a file with their rows.

use lsp_types::{DocumentSymbol, DocumentSymbolParams, DocumentSymbolResponse, SymbolKind};
use ringtrue::view::{Line, Part, PartKind};

use super::document::Document;

/// The head with its grids, and the pieces with their rows and rounds.
pub fn symbols(document: &Document, _: &DocumentSymbolParams) -> DocumentSymbolResponse {
    let (grids, parts): (Vec<&Part>, Vec<&Part>) =
        document.view.outline.iter().partition(|part| part.kind == PartKind::Grid);
    let symbols = parts.into_iter().map(|part| {
        let inside = |from: u32, to: u32| part.from <= from && to <= part.to;
        let grids = grids.iter().filter(|grid| inside(grid.from, grid.to)).map(|grid| self::part(document, grid, None));
        let lines = document.view.lines.iter().filter(|line| inside(line.from, line.to));
        let children = grids.chain(lines.map(|line| row(document, line))).collect();
        self::part(document, part, Some(children))
    });
    DocumentSymbolResponse::Nested(symbols.collect())
}

fn part(document: &Document, part: &Part, children: Option<Vec<DocumentSymbol>>) -> DocumentSymbol {
    let (unnamed, kind) = match part.kind {
        PartKind::Head => ("pattern", SymbolKind::MODULE),
        PartKind::Grid => ("grid", SymbolKind::ARRAY),
        PartKind::Piece => ("piece", SymbolKind::CLASS),
    };
    let name = if part.name.is_empty() { unnamed.to_owned() } else { part.name.clone() };
    symbol(document, name, None, kind, (part.from, part.to), children)
}

fn row(document: &Document, line: &Line) -> DocumentSymbol {
    let detail = Some(line.told_in_short()).filter(|told| !told.is_empty());
    symbol(document, line.label.clone(), detail, SymbolKind::METHOD, (line.from, line.to), None)
}

#[expect(deprecated, reason = "the type has a field for editors of old, which must be given")]
fn symbol(
    document: &Document,
    name: String,
    detail: Option<String>,
    kind: SymbolKind,
    place: (u32, u32),
    children: Option<Vec<DocumentSymbol>>,
) -> DocumentSymbol {
    let range = document.range(place);
    DocumentSymbol { name, detail, kind, tags: None, deprecated: None, range, selection_range: range, children }
}
