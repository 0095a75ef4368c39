//! The names that a file gives: where they stand, and giving them anew.

use lsp_types::{
    DocumentHighlight, DocumentHighlightKind, DocumentHighlightParams, GotoDefinitionParams, GotoDefinitionResponse,
    Location, PrepareRenameResponse, ReferenceParams, RenameParams, TextDocumentPositionParams, TextEdit,
    WorkspaceEdit,
};
use ringtrue::view::{Name, Repairs, view};

use super::actions::changes;
use super::document::Document;
use super::messages::Error;

/// Every place of the name that stands there.
pub fn references(document: &Document, params: &ReferenceParams) -> Option<Vec<Location>> {
    let asked = &params.text_document_position;
    let uri = &asked.text_document.uri;
    let (name, _) = name_at(document, document.unit(asked.position))?;
    let given = name.at.iter().filter(|_| params.context.include_declaration);
    let places = given.chain(&name.uses);
    Some(places.map(|place| Location { uri: uri.clone(), range: document.range(*place) }).collect())
}

/// The same, to be shown in the text.
pub fn highlights(document: &Document, params: &DocumentHighlightParams) -> Option<Vec<DocumentHighlight>> {
    let at = document.unit(params.text_document_position_params.position);
    let (name, _) = name_at(document, at)?;
    let marked = |kind| move |place: &(u32, u32)| DocumentHighlight { range: document.range(*place), kind: Some(kind) };
    let given = name.at.iter().map(marked(DocumentHighlightKind::WRITE));
    Some(given.chain(name.uses.iter().map(marked(DocumentHighlightKind::READ))).collect())
}

/// Where the name is given.
pub fn definition(document: &Document, params: &GotoDefinitionParams) -> Option<GotoDefinitionResponse> {
    let asked = &params.text_document_position_params;
    let place = name_at(document, document.unit(asked.position)).and_then(|(name, _)| name.at);
    place.map(|place| {
        let uri = asked.text_document.uri.clone();
        GotoDefinitionResponse::Scalar(Location { uri, range: document.range(place) })
    })
}

/// Whether a name stands there that can be given anew.
pub fn prepare_rename(document: &Document, params: &TextDocumentPositionParams) -> Option<PrepareRenameResponse> {
    let found = name_at(document, document.unit(params.position)).filter(|(name, _)| name.at.is_some());
    found.map(|(name, place)| PrepareRenameResponse::RangeWithPlaceholder {
        range: document.range(place),
        placeholder: name.name.clone(),
    })
}

/// Gives a name anew, wherever it stands, if the pattern is the same work afterwards.
pub fn rename(document: &Document, params: &RenameParams) -> Result<Option<WorkspaceEdit>, Error> {
    let asked = &params.text_document_position;
    let Some((name, _)) = name_at(document, document.unit(asked.position)) else {
        return Err(Error::new(Error::FAILED, "no name of this file stands here"));
    };
    let new = params.new_name.trim();
    let mut places: Vec<(u32, u32)> = name.at.iter().chain(&name.uses).copied().collect();
    places.sort_unstable();
    keeps_the_work(document, name, &places, new)?;
    let edits = places.iter().map(|place| TextEdit { range: document.range(*place), new_text: new.to_owned() });
    Ok(Some(changes(&asked.text_document.uri, edits.collect())))
}

/// The name that stands at a place of the view, and where it does.
fn name_at(document: &Document, at: u32) -> Option<(&Name, (u32, u32))> {
    let here = |place: &&(u32, u32)| place.0 <= at && at <= place.1;
    document.view.names.iter().find_map(|name| Some((name, *name.at.iter().chain(&name.uses).find(here)?)))
}

/// The new name must be read wherever the old one was, be nobody else's, and change nothing of the work.
fn keeps_the_work(document: &Document, name: &Name, places: &[(u32, u32)], new: &str) -> Result<(), Error> {
    let mut text = String::new();
    let mut at = 0;
    for (from, to) in places {
        text.push_str(document.slice((at, *from)));
        text.push_str(new);
        at = *to;
    }
    text.push_str(document.slice((at, u32::MAX)));
    let (old, new_view) = (&document.view, view(&text, Repairs::Left));
    let found = new_view.names.iter().find(|other| other.kind == name.kind && other.name.eq_ignore_ascii_case(new));
    let same =
        found.is_some_and(|found| (found.at.is_some(), found.uses.len()) == (name.at.is_some(), name.uses.len()));
    let counts = |view: &ringtrue::view::View| view.lines.iter().map(|line| line.counts.clone()).collect::<Vec<_>>();
    if same && new_view.errors <= old.errors && counts(old) == counts(&new_view) {
        return Ok(());
    }
    let kind = name.kind.name();
    Err(Error::new(
        Error::FAILED,
        format!("`{new}` can't be the name of this {kind}: it is taken, or would not be read"),
    ))
}
