//! What the server knows, and which part of it answers what.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};

use lsp_types::notification::{
    DidChangeTextDocument, DidCloseTextDocument, DidOpenTextDocument, Exit, Notification, PublishDiagnostics,
};
use lsp_types::request::{
    CodeActionRequest, Completion, DocumentHighlightRequest, DocumentSymbolRequest, FoldingRangeRequest, Formatting,
    GotoDefinition, HoverRequest, Initialize, InlayHintRequest, PrepareRenameRequest, References, Rename, Request,
    SemanticTokensFullRequest, Shutdown,
};
use lsp_types::{
    CodeActionKind, CodeActionOptions, CodeActionProviderCapability, CompletionOptions, HoverProviderCapability,
    InitializeParams, InitializeResult, OneOf, PositionEncodingKind, RenameOptions, SemanticTokensFullOptions,
    SemanticTokensOptions, ServerCapabilities, ServerInfo, TextDocumentSyncCapability, TextDocumentSyncKind, Uri,
};
use ringtrue::view::Units;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use super::document::Document;
use super::mending::{Changed, Mended};
use super::messages::{Error, Received, answer};
use super::{actions, completion, diagnostics, folding, formatting, hints, hover, names, symbols, tokens};

/// How far the talk with the editor has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stage {
    /// `initialize` is to come.
    #[default]
    Begun,
    /// Everything can be asked.
    Open,
    /// `shutdown` was asked; only `exit` is to come.
    ShutDown,
    /// `exit` was said, in its order or not.
    Over {
        /// After a `shutdown`.
        in_order: bool,
    },
}

/// The server, without its streams.
#[derive(Default)]
pub struct Server {
    /// How far the talk has come.
    pub stage: Stage,
    /// Messages that are to be written, in their order.
    pub outgoing: Vec<Value>,
    /// The document that the last message changed.
    pub changed: Option<Changed>,
    units: Units,
    /// By their addresses.
    documents: BTreeMap<String, Document>,
}

impl Server {
    /// Takes a message, and answers it if it is a request.
    pub fn take(&mut self, received: Received) {
        match received {
            Received::Request { id, method, params } => {
                let result = guarded(|| self.request(&method, params));
                self.outgoing.push(answer(&id, result));
            }
            Received::Notification { method, params } => {
                // Nobody is told what is wrong with a notification.
                let _ = guarded(|| self.notification(&method, params));
            }
            Received::Broken(error) => self.outgoing.push(answer(&Value::Null, Err(error))),
            Received::Response => {}
        }
    }

    /// Takes in what the search for repairs found, unless the document has changed since.
    pub fn mended(&mut self, mended: Mended) {
        let Some(view) = mended.view else { return };
        let Some(document) = self.documents.get_mut(&mended.uri) else { return };
        if document.text == mended.text {
            document.view = view;
            self.publish(&mended.uri);
        }
    }

    fn request(&mut self, method: &str, params: Value) -> Result<Value, Error> {
        match (self.stage, method) {
            (Stage::Begun, Initialize::METHOD) => return self.initialize(&read(params)?),
            (Stage::Begun, _) => return Err(Error::new(Error::NOT_INITIALIZED, "`initialize` comes first")),
            (Stage::Open, Shutdown::METHOD) => {
                self.stage = Stage::ShutDown;
                return Ok(Value::Null);
            }
            (Stage::Open, Initialize::METHOD) => {
                return Err(Error::new(Error::INVALID_REQUEST, "`initialize` comes once"));
            }
            (Stage::Open, _) => {}
            (Stage::ShutDown | Stage::Over { .. }, _) => {
                return Err(Error::new(Error::INVALID_REQUEST, "only `exit` comes after `shutdown`"));
            }
        }
        self.on_document(method, params)
    }

    /// What is asked of a document.
    fn on_document(&self, method: &str, params: Value) -> Result<Value, Error> {
        match method {
            CodeActionRequest::METHOD => self.on::<CodeActionRequest, _>(params, actions::actions),
            Completion::METHOD => self.on::<Completion, _>(params, completion::completion),
            HoverRequest::METHOD => self.on::<HoverRequest, _>(params, hover::hover),
            InlayHintRequest::METHOD => self.on::<InlayHintRequest, _>(params, hints::hints),
            Formatting::METHOD => self.try_on::<Formatting>(params, formatting::formatting),
            DocumentSymbolRequest::METHOD => self.on::<DocumentSymbolRequest, _>(params, symbols::symbols),
            FoldingRangeRequest::METHOD => self.on::<FoldingRangeRequest, _>(params, folding::folding),
            SemanticTokensFullRequest::METHOD => self.on::<SemanticTokensFullRequest, _>(params, tokens::tokens),
            References::METHOD => self.on::<References, _>(params, names::references),
            DocumentHighlightRequest::METHOD => self.on::<DocumentHighlightRequest, _>(params, names::highlights),
            GotoDefinition::METHOD => self.on::<GotoDefinition, _>(params, names::definition),
            PrepareRenameRequest::METHOD => self.on::<PrepareRenameRequest, _>(params, names::prepare_rename),
            Rename::METHOD => self.try_on::<Rename>(params, names::rename),
            _ => Err(Error::new(Error::UNKNOWN_METHOD, format!("`{method}` is not known here"))),
        }
    }

    /// Answers with what a document says to the parameters of a request.
    fn on<R: Request, T: Into<R::Result>>(
        &self,
        params: Value,
        with: impl Fn(&Document, &R::Params) -> T,
    ) -> Result<Value, Error> {
        self.try_on::<R>(params, |document, params| Ok(with(document, params).into()))
    }

    /// The same where it may not be able to.
    fn try_on<R: Request>(
        &self,
        params: Value,
        with: impl Fn(&Document, &R::Params) -> Result<R::Result, Error>,
    ) -> Result<Value, Error> {
        let uri = params.pointer("/textDocument/uri").and_then(Value::as_str).unwrap_or_default();
        let open = self.documents.get(uri);
        let open = open.ok_or_else(|| Error::new(Error::INVALID_PARAMS, format!("`{uri}` is not open")))?;
        written(&with(open, &read(params)?)?)
    }

    fn initialize(&mut self, params: &InitializeParams) -> Result<Value, Error> {
        let offered = params.capabilities.general.as_ref().and_then(|general| general.position_encodings.as_deref());
        let bytes = offered.unwrap_or_default().contains(&PositionEncodingKind::UTF8);
        self.units = if bytes { Units::Utf8 } else { Units::Utf16 };
        self.stage = Stage::Open;
        let encoding = if bytes { PositionEncodingKind::UTF8 } else { PositionEncodingKind::UTF16 };
        written(&InitializeResult {
            capabilities: capabilities(encoding),
            server_info: Some(ServerInfo {
                name: "ringtrue".to_owned(),
                version: Some(env!("CARGO_PKG_VERSION").to_owned()),
            }),
        })
    }

    fn notification(&mut self, method: &str, params: Value) -> Result<(), Error> {
        if method == Exit::METHOD {
            self.stage = Stage::Over { in_order: self.stage == Stage::ShutDown };
            return Ok(());
        }
        if self.stage != Stage::Open {
            return Ok(());
        }
        match method {
            DidOpenTextDocument::METHOD => {
                let opened = read::<lsp_types::DidOpenTextDocumentParams>(params)?.text_document;
                self.put(opened.uri.as_str(), opened.text, opened.version);
            }
            DidChangeTextDocument::METHOD => {
                let params: lsp_types::DidChangeTextDocumentParams = read(params)?;
                let uri = params.text_document.uri.as_str();
                if let Some(open) = self.documents.get(uri) {
                    let text = open.changed(params.content_changes);
                    self.put(uri, text, params.text_document.version);
                }
            }
            DidCloseTextDocument::METHOD => {
                let closed = read::<lsp_types::DidCloseTextDocumentParams>(params)?.text_document.uri;
                self.documents.remove(closed.as_str());
                self.publish(closed.as_str());
            }
            _ => {}
        }
        Ok(())
    }

    /// Puts a text in the place of a document, and tells what is found in it.
    fn put(&mut self, uri: &str, text: String, version: i32) {
        self.changed = Some(Changed { uri: uri.to_owned(), text: text.clone() });
        self.documents.insert(uri.to_owned(), Document::new(text, version, self.units));
        self.publish(uri);
    }

    /// Tells the findings of a document; those of one that is closed are taken back.
    fn publish(&mut self, uri: &str) {
        let Ok(address) = uri.parse::<Uri>() else { return };
        let document = self.documents.get(uri);
        let diagnostics = document.map(|document| diagnostics::diagnostics(document, &address)).unwrap_or_default();
        let version = document.map(|document| document.version);
        let params = json!({ "uri": uri, "version": version, "diagnostics": diagnostics });
        self.outgoing.push(json!({ "jsonrpc": "2.0", "method": PublishDiagnostics::METHOD, "params": params }));
    }
}

fn capabilities(encoding: PositionEncodingKind) -> ServerCapabilities {
    let letters = [" ", ",", ":", "[", "(", "{", "="].map(str::to_owned);
    ServerCapabilities {
        position_encoding: Some(encoding),
        text_document_sync: Some(TextDocumentSyncCapability::Kind(TextDocumentSyncKind::INCREMENTAL)),
        code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
            code_action_kinds: Some(vec![CodeActionKind::QUICKFIX]),
            ..CodeActionOptions::default()
        })),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some(letters.to_vec()),
            ..CompletionOptions::default()
        }),
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        inlay_hint_provider: Some(OneOf::Left(true)),
        document_formatting_provider: Some(OneOf::Left(true)),
        document_symbol_provider: Some(OneOf::Left(true)),
        folding_range_provider: Some(true.into()),
        references_provider: Some(OneOf::Left(true)),
        document_highlight_provider: Some(OneOf::Left(true)),
        definition_provider: Some(OneOf::Left(true)),
        rename_provider: Some(OneOf::Right(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: lsp_types::WorkDoneProgressOptions::default(),
        })),
        semantic_tokens_provider: Some(
            SemanticTokensOptions {
                legend: tokens::legend(),
                full: Some(SemanticTokensFullOptions::Bool(true)),
                ..SemanticTokensOptions::default()
            }
            .into(),
        ),
        ..ServerCapabilities::default()
    }
}

/// Does a thing; if a fault of ours breaks it off, that is told and nothing else is lost.
fn guarded<T>(work: impl FnOnce() -> Result<T, Error>) -> Result<T, Error> {
    let fault = |_| Err(Error::new(Error::INTERNAL, "a fault of ringtrue's own; please report it with the pattern"));
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(fault)
}

fn read<T: DeserializeOwned>(params: Value) -> Result<T, Error> {
    serde_json::from_value(params).map_err(|error| Error::new(Error::INVALID_PARAMS, error.to_string()))
}

fn written(result: &impl Serialize) -> Result<Value, Error> {
    serde_json::to_value(result).map_err(|error| Error::new(Error::INTERNAL, error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::{Error, guarded};

    #[test]
    fn a_fault_of_ours_is_an_answer() {
        let told = guarded::<()>(|| panic!("a stitch was dropped"));
        assert_eq!(told.unwrap_err().code, Error::INTERNAL);
        assert_eq!(guarded(|| Ok(4)), Ok(4));
    }
}
