//! What there is to say of something that may be completed, told when somebody looks at it.

use super::hover::pattern_text;
use super::markup;
use crate::ladder::{Ladder, named};
use crate::lint::Finding;
use crate::notation::Keyword;
use serde::{Deserialize, Serialize};
use std::sync::Arc;
use tower_lsp::ls_types::{CompletionItem, Documentation, Uri};

/// What an item is, so that it can be told what it means.
#[derive(Clone, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Detail {
    /// A statement.
    Statement,
    /// A pattern or a way of seeing, in this text, whose project may have a ladder of its own.
    Pattern(Uri),
    /// A finding.
    Finding,
}

/// The item with its page, if it has one, as a client shows it that takes Markdown, or does not; `ladder` gives that of a text.
pub fn resolve(
    mut item: CompletionItem,
    markdown: bool,
    ladder: impl FnOnce(&Uri) -> Arc<Ladder>,
) -> CompletionItem {
    let detail = item.data.clone().and_then(|data| serde_json::from_value(data).ok());
    let page = match detail {
        Some(Detail::Statement) => Keyword::named(&item.label).map(|keyword| keyword.meaning().to_owned()),
        Some(Detail::Pattern(uri)) => named(&item.label).map(|row| pattern_text(row, &ladder(&uri))),
        Some(Detail::Finding) => Finding::named(&item.label).map(Finding::page),
        None => None,
    };
    let told = |page: String| {
        if markdown {
            Documentation::MarkupContent(markup::shown(page, true))
        } else {
            Documentation::String(markup::plain(&page))
        }
    };
    item.documentation = page.map(told).or(item.documentation);
    item
}
