//! Making fixes: the texts with the changes in them.

use super::Fix;
use crate::book::{Spot, Workspace};
use std::collections::BTreeMap;

/// The text of each book of `workspace` once `fixes` are made. Every byte outside their edits is as it was. A fix that
/// touches what an earlier one of them changes is left out whole: check again, and make it then.
pub fn mended(workspace: &Workspace, fixes: &[&Fix<Spot>]) -> Vec<String> {
    let mut edits: BTreeMap<Spot, &str> = BTreeMap::new();
    for fix in fixes {
        if fix.edits.iter().all(|(spot, _)| is_free(&edits, *spot)) {
            edits.extend(fix.edits.iter().map(|(spot, text)| (*spot, text.as_str())));
        }
    }
    let mut texts = vec![String::new(); workspace.books.len()];
    let mut edits = edits.into_iter().peekable();
    for (id, section, _) in workspace.sections() {
        let text = &mut texts[id.book];
        let mut done = 0;
        while let Some((spot, new)) = edits.next_if(|(spot, _)| spot.section == id) {
            let old = spot.span.range();
            text.push_str(&section.text[done..old.start]);
            text.push_str(new);
            done = old.end;
        }
        text.push_str(&section.text[done..]);
    }
    texts
}

/// Whether no edit changes anything at `spot` yet. To insert just before or behind a change is free.
fn is_free(edits: &BTreeMap<Spot, &str>, spot: Spot) -> bool {
    let before = edits.range(..=spot).next_back().map(|(other, _)| *other);
    let after = edits.range(spot..).next().map(|(other, _)| *other);
    before.is_none_or(|b| b != spot && (b.section != spot.section || b.span.end <= spot.span.start))
        && after.is_none_or(|a| a.section != spot.section || spot.span.end <= a.span.start)
}
