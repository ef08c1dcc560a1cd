//! What a client can do: what it says of itself when it greets the server.

use tower_lsp::ls_types::{ClientCapabilities, MarkupKind};

/// What a client can do.
#[allow(clippy::struct_excessive_bools, reason = "each is an ability of its own")]
#[derive(Clone, Copy, Default, Debug)]
pub struct Abilities {
    /// It shows actions that cannot be taken, with the reason.
    pub show_disabled: bool,
    /// What is completed may have places to be filled in.
    pub take_snippets: bool,
    /// It shows Markdown beside what can be written.
    pub show_markdown: bool,
    /// It shows no Markdown where the pointer rests, or not gladly; before it could say so, all did.
    pub hover_plainly: bool,
    /// It asks for the range of a symbol of the workspace when it is chosen.
    pub resolve_symbols: bool,
    /// It asks for the edits of an action only when that is chosen.
    pub resolve_edits: bool,
    /// It makes edits that name the version that they are for.
    pub take_versions: bool,
    /// It shows a file or a page that it is told of.
    pub show_documents: bool,
    /// It shows how far something is that it did not ask for.
    pub show_progress: bool,
    /// It asks for findings.
    pub ask_for_findings: bool,
    /// It takes the findings of other texts beside those of the one that it asked for.
    pub take_related: bool,
    /// It asks for findings again when it is told to.
    pub refresh_findings: bool,
    /// It asks for lenses again when it is told to.
    pub refresh_lenses: bool,
    /// It asks for hints again when it is told to.
    pub refresh_hints: bool,
    /// It asks for the kinds of words again when it is told to.
    pub refresh_tokens: bool,
    /// It answers when it is asked for settings.
    pub tell_settings: bool,
    /// It watches the files that it is asked to watch.
    pub watch_files: bool,
    /// It watches those of any folder that it is told of, too.
    pub watch_anywhere: bool,
}

impl Abilities {
    /// What a client says that it can do.
    pub fn of(client: &ClientCapabilities) -> Abilities {
        let text = client.text_document.as_ref();
        let workspace = client.workspace.as_ref();
        let window = client.window.as_ref();
        // The first is what the client likes best.
        let likes_markdown = |formats: &Vec<MarkupKind>| formats.first() == Some(&MarkupKind::Markdown);
        let hover = text.and_then(|it| it.hover.as_ref()?.content_format.as_ref());
        let item = text.and_then(|it| it.completion.as_ref()?.completion_item.as_ref());
        let beside = item.and_then(|it| it.documentation_format.as_ref());
        let action = text.and_then(|it| it.code_action.as_ref());
        let late = action.and_then(|it| it.resolve_support.as_ref());
        let findings = text.and_then(|it| it.diagnostic.as_ref());
        let symbol = workspace.and_then(|it| it.symbol.as_ref()?.resolve_support.as_ref());
        let watch = workspace.and_then(|it| it.did_change_watched_files.as_ref());
        let said = |ability: Option<bool>| ability.unwrap_or(false);
        Abilities {
            show_disabled: said(action.and_then(|it| it.disabled_support)),
            take_snippets: said(item.and_then(|it| it.snippet_support)),
            show_markdown: beside.is_some_and(likes_markdown),
            hover_plainly: hover.is_some_and(|formats| !likes_markdown(formats)),
            resolve_symbols: symbol.is_some_and(|it| it.properties.iter().any(|it| it == "location.range")),
            resolve_edits: late.is_some_and(|it| it.properties.iter().any(|it| it == "edit")),
            take_versions: said(workspace.and_then(|it| it.workspace_edit.as_ref()?.document_changes)),
            show_documents: window.and_then(|it| it.show_document.as_ref()).is_some_and(|it| it.support),
            show_progress: said(window.and_then(|it| it.work_done_progress)),
            ask_for_findings: findings.is_some(),
            take_related: said(findings.and_then(|it| it.related_document_support)),
            refresh_findings: said(workspace.and_then(|it| it.diagnostics.as_ref()?.refresh_support)),
            refresh_lenses: said(workspace.and_then(|it| it.code_lens.as_ref()?.refresh_support)),
            refresh_hints: said(workspace.and_then(|it| it.inlay_hint.as_ref()?.refresh_support)),
            refresh_tokens: said(workspace.and_then(|it| it.semantic_tokens.as_ref()?.refresh_support)),
            tell_settings: said(workspace.and_then(|it| it.configuration)),
            watch_files: said(watch.and_then(|it| it.dynamic_registration)),
            watch_anywhere: said(watch.and_then(|it| it.relative_pattern_support)),
        }
    }
}
