//! Completion: statements, and the names that can stand at a place.

use super::completion_details::Detail;
use super::place::Place;
use super::snippets;
use super::state::Snapshot;
use super::step_completion::{self, is_asked_by_a_blank};
use crate::book::words_of;
use crate::ladder::NAMES;
use crate::lint::FINDINGS;
use crate::notation::{KEYWORDS, Keyword, is_blank};
use tower_lsp::ls_types::{
    CompletionItem, CompletionItemKind, CompletionList, CompletionParams, CompletionResponse,
    InsertTextFormat,
};

/// The most ids that are offered at once: who looks for one of more types another letter.
const MOST_IDS: usize = 200;

/// What can stand at a place.
pub fn answer(snapshot: &Snapshot, params: &CompletionParams) -> CompletionResponse {
    let items = items(snapshot, params);
    let ids = items.iter().filter(|item| item.kind == Some(CompletionItemKind::REFERENCE)).count();
    if ids < MOST_IDS {
        return CompletionResponse::Array(items);
    }
    CompletionResponse::List(CompletionList { is_incomplete: true, items })
}

fn items(snapshot: &Snapshot, params: &CompletionParams) -> Vec<CompletionItem> {
    let place = Place::of(snapshot, params.text_document_position.position);
    let Some((_, line)) = place.line() else { return statements(snapshot) };
    let text = place.section.at(line.span);
    let before = &text[..text.floor_char_boundary((place.byte.saturating_sub(line.span.start)) as usize)];
    let by = params.context.as_ref().and_then(|context| context.trigger_character.as_deref());
    if by == Some(" ") {
        let asked = is_asked_by_a_blank(before).then(|| step_completion::answer(snapshot, &place, before));
        return asked.flatten().unwrap_or_default();
    }
    if before.chars().all(|c| c.is_ascii_lowercase() || c == '-') {
        return statements(snapshot);
    }
    if before.trim_start_matches(is_blank).starts_with('#') {
        return Vec::new();
    }
    if let Some((_, typed)) = before.rsplit_once('{').filter(|(_, typed)| !typed.contains('}')) {
        return [patterns(snapshot), ids(snapshot, typed)].concat();
    }
    if let Some(items) = step_completion::answer(snapshot, &place, before) {
        return items;
    }
    let mut words = before.split(is_blank).filter(|word| !word.is_empty());
    let first = words.next().unwrap_or_default();
    let indented = before.starts_with(is_blank);
    match Keyword::named(first) {
        Some(Keyword::Allow) if words.count() < 2 => findings(),
        Some(Keyword::From | Keyword::Answer | Keyword::Take | Keyword::Repeats) if !indented => {
            ids(snapshot, before.rsplit(is_blank).next().unwrap_or_default())
        }
        Some(Keyword::Needs | Keyword::Avoids | Keyword::Teaches) if !indented => patterns(snapshot),
        Some(keyword) if !indented => values(keyword),
        _ if indented && is_after_by(before) => patterns(snapshot),
        _ => Vec::new(),
    }
}

/// Whether a line of a walk has come to its reason, and not to the houses and cells of it.
pub fn is_after_by(before: &str) -> bool {
    let reason = before.rsplit_once(" by ").map(|(_, reason)| reason);
    reason.is_some_and(|reason| !reason.contains(" in ") && !reason.contains(" with "))
}

/// The statements, each with the places of its values where the client takes them.
fn statements(snapshot: &Snapshot) -> Vec<CompletionItem> {
    let statement = |keyword: Keyword| {
        let whole = snippets::of(keyword).filter(|_| snapshot.settings.can.take_snippets);
        CompletionItem {
            insert_text_format: whole.is_some().then_some(InsertTextFormat::SNIPPET),
            insert_text: whole,
            ..item(keyword.word(), CompletionItemKind::KEYWORD, Some(Detail::Statement))
        }
    };
    KEYWORDS.iter().map(|shape| statement(shape.keyword)).collect()
}

/// The names of patterns and of ways of seeing.
pub fn patterns(snapshot: &Snapshot) -> Vec<CompletionItem> {
    let detail = Detail::Pattern(snapshot.uri.clone());
    let name = |name| item(name, CompletionItemKind::CONSTANT, Some(detail.clone()));
    NAMES.iter().map(|row| name(row.name)).collect()
}

fn findings() -> Vec<CompletionItem> {
    let finding = |name| item(name, CompletionItemKind::CONSTANT, Some(Detail::Finding));
    FINDINGS.iter().map(|it| finding(it.name)).collect()
}

/// Ids in which what was typed of one stands.
fn ids(snapshot: &Snapshot, typed: &str) -> Vec<CompletionItem> {
    let books = std::iter::once(&snapshot.book).chain(snapshot.others.iter().map(|(_, book)| book));
    let puzzles = books.flat_map(|book| book.puzzles());
    let fitting = puzzles.filter(|puzzle| puzzle.id.as_ref().is_some_and(|id| id.text.contains(typed)));
    let named = fitting.filter_map(|puzzle| Some((&puzzle.id.as_ref()?.text, puzzle.title.join(" "))));
    let titled = |(id, title): (&String, String)| CompletionItem {
        detail: Some(title).filter(|title| !title.is_empty()),
        ..item(id, CompletionItemKind::REFERENCE, None)
    };
    named.take(MOST_IDS).map(titled).collect()
}

/// The words that a statement may have as its value.
fn values(keyword: Keyword) -> Vec<CompletionItem> {
    words_of(keyword).into_iter().map(|word| item(word, CompletionItemKind::VALUE, None)).collect()
}

/// An item; what there is to say of it is told when it is looked at.
fn item(label: &str, kind: CompletionItemKind, detail: Option<Detail>) -> CompletionItem {
    CompletionItem {
        label: label.to_owned(),
        kind: Some(kind),
        data: detail.and_then(|detail| serde_json::to_value(detail).ok()),
        ..CompletionItem::default()
    }
}
