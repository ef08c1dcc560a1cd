//! Links: each id that is named leads to the puzzle or lesson that bears it.

use super::convert::Lines;
use super::names::Mention;
use super::state::Snapshot;
use std::collections::BTreeMap;
use std::str::FromStr as _;
use tower_lsp::ls_types::{DocumentLink, Uri};

/// The links of a text.
pub fn answer(snapshot: &Snapshot) -> Vec<DocumentLink> {
    let mentions = snapshot.mentions(|_| true);
    let (borne, named): (Vec<Mention>, Vec<Mention>) =
        mentions.into_iter().partition(|mention| mention.borne);
    let id = |mention: &Mention| {
        let (_, book) = snapshot.files().nth(mention.file)?;
        Some(book.tree.sections[mention.section].at(mention.span))
    };
    let places = snapshot.locations(&borne);
    let targets: BTreeMap<&str, Option<Uri>> = borne
        .iter()
        .zip(places)
        .filter_map(|(mention, place)| {
            let line = place.range.start.line + 1;
            Some((id(mention)?, Uri::from_str(&format!("{}#L{line}", place.uri.as_str())).ok()))
        })
        .collect();
    let lines = Lines::of(&snapshot.book, snapshot.encoding);
    let link = |mention: &Mention| {
        let target = targets.get(id(mention)?)?.clone();
        let range = lines.range(mention.section, mention.span);
        Some(DocumentLink { range, target, tooltip: None, data: None })
    };
    named.iter().filter(|mention| mention.file == 0).filter_map(link).collect()
}
