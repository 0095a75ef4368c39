//! Words with their classes, as semantic tokens.

use lsp_types::{
    SemanticToken, SemanticTokenType, SemanticTokens, SemanticTokensLegend, SemanticTokensParams, SemanticTokensResult,
};
use ringtrue::view::Class;

use super::document::Document;

/// Every word, each told from the one before it.
pub fn tokens(document: &Document, _: &SemanticTokensParams) -> SemanticTokensResult {
    let (mut line, mut character) = (0, 0);
    let tokens = document.view.words.iter().map(|(from, to, class)| {
        let range = document.range((*from, *to));
        let (start, end) = (range.start, range.end);
        let delta_line = start.line - line;
        let delta_start = if delta_line == 0 { start.character - character } else { start.character };
        (line, character) = (start.line, start.character);
        let token_type = Class::ALL.iter().position(|one| one == class).and_then(|at| u32::try_from(at).ok());
        SemanticToken {
            delta_line,
            delta_start,
            length: end.character - start.character,
            token_type: token_type.unwrap_or_default(),
            token_modifiers_bitset: 0,
        }
    });
    SemanticTokensResult::Tokens(SemanticTokens { result_id: None, data: tokens.collect() })
}

/// The classes in their order, each as the nearest that every editor has a colour for.
pub fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend { token_types: Class::ALL.into_iter().map(kind).collect(), token_modifiers: Vec::new() }
}

fn kind(class: Class) -> SemanticTokenType {
    match class {
        Class::Heading => SemanticTokenType::CLASS,
        Class::Label => SemanticTokenType::TYPE,
        Class::Stitch => SemanticTokenType::FUNCTION,
        Class::OwnStitch => SemanticTokenType::MACRO,
        Class::Number => SemanticTokenType::NUMBER,
        Class::Place => SemanticTokenType::PROPERTY,
        Class::Bracket => SemanticTokenType::OPERATOR,
        Class::Count => SemanticTokenType::ENUM_MEMBER,
        Class::Yarn => SemanticTokenType::PARAMETER,
        Class::Name => SemanticTokenType::VARIABLE,
        Class::Setting => SemanticTokenType::NAMESPACE,
        Class::Word => SemanticTokenType::KEYWORD,
        Class::Remark => SemanticTokenType::COMMENT,
        Class::Text => SemanticTokenType::STRING,
        // No editor has one for what can't be read, which is underlined as an error.
        Class::Unread => SemanticTokenType::new("unread"),
    }
}
