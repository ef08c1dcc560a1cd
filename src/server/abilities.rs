//! What a client can do with answers of a kind that not every client takes.

use tower_lsp::ls_types::ClientCapabilities;

/// What a client can do.
#[allow(clippy::struct_excessive_bools, reason = "each is an ability of its own")]
#[derive(Clone, Copy, Default, Debug)]
pub struct Abilities {
    /// It shows actions that cannot be taken, with the reason.
    pub show_disabled: bool,
    /// What is completed may have places to be filled in.
    pub take_snippets: bool,
    /// It asks for the range of a symbol of the workspace when it is chosen.
    pub resolve_symbols: bool,
    /// It shows a file or a page that it is told of.
    pub show_documents: bool,
    /// It asks for lenses again when it is told to.
    pub refresh_lenses: bool,
    /// It asks for hints again when it is told to.
    pub refresh_hints: bool,
    /// It asks for the kinds of words again when it is told to.
    pub refresh_tokens: bool,
}

impl Abilities {
    /// What a client says that it can do.
    pub fn of(client: &ClientCapabilities) -> Abilities {
        let text = client.text_document.as_ref();
        let workspace = client.workspace.as_ref();
        let window = client.window.as_ref();
        let action = text.and_then(|it| it.code_action.as_ref());
        let item = text.and_then(|it| it.completion.as_ref()?.completion_item.as_ref());
        let symbol = workspace.and_then(|it| it.symbol.as_ref()?.resolve_support.as_ref());
        let refresh_lenses = workspace.and_then(|it| it.code_lens.as_ref()?.refresh_support);
        let refresh_hints = workspace.and_then(|it| it.inlay_hint.as_ref()?.refresh_support);
        let refresh_tokens = workspace.and_then(|it| it.semantic_tokens.as_ref()?.refresh_support);
        Abilities {
            show_disabled: action.and_then(|it| it.disabled_support).unwrap_or(false),
            take_snippets: item.and_then(|it| it.snippet_support).unwrap_or(false),
            resolve_symbols: symbol.is_some_and(|it| it.properties.iter().any(|it| it == "location.range")),
            show_documents: window.and_then(|it| it.show_document.as_ref()).is_some_and(|it| it.support),
            refresh_lenses: refresh_lenses.unwrap_or(false),
            refresh_hints: refresh_hints.unwrap_or(false),
            refresh_tokens: refresh_tokens.unwrap_or(false),
        }
    }
}
