//! Links: each id that is named leads to the puzzle or lesson that bears it.

use super::names::Mention;
use super::state::Snapshot;
use crate::book::Book;
use std::collections::{BTreeMap, BTreeSet};
use std::str::FromStr as _;
use tower_lsp::ls_types::{DocumentLink, Uri};

/// The links of a text.
pub fn answer(snapshot: &Snapshot) -> Vec<DocumentLink> {
    let files: Vec<&Book> = snapshot.files().map(|(_, book)| &**book).collect();
    let id = |mention: &Mention| files[mention.file].tree.sections[mention.section].at(mention.span);
    let named: Vec<Mention> =
        snapshot.mentions_here(|_| true).into_iter().filter(|mention| !mention.borne).collect();
    let wanted: BTreeSet<&str> = named.iter().map(id).collect();
    let borne = snapshot.bearers(|id| wanted.contains(id));
    let places = snapshot.locations(&borne);
    let targets: BTreeMap<&str, Uri> = borne
        .iter()
        .zip(places)
        .filter_map(|(mention, place)| {
            let line = place.range.start.line + 1;
            Some((id(mention), Uri::from_str(&format!("{}#L{line}", place.uri.as_str())).ok()?))
        })
        .collect();
    let link = |mention: &Mention| {
        let target = Some(targets.get(id(mention))?.clone());
        let range = snapshot.range(mention.section, mention.span);
        Some(DocumentLink { range, target, tooltip: None, data: None })
    };
    named.iter().filter_map(link).collect()
}
