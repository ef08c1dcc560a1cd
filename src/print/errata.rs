//! What was wrong in print, listed.

use super::{Block, Page};
use crate::notation::{Item, Keyword, Section};
use crate::words::Voice;

/// A paragraph for each `erratum` of an item: what it is of, where that has a name, since when it is known, and what it is.
pub fn errata(section: &Section, item: &Item, of: &str) -> Vec<Block> {
    let errata =
        section.statements_of(item).iter().filter(|it| it.keyword == Some(Keyword::Erratum) && !it.broken);
    let told = errata.map(|erratum| {
        let (what, date): (Vec<_>, Vec<_>) = erratum.values.iter().partition(|value| value.quoted);
        let texts = |values: Vec<_>| {
            values.into_iter().map(|value| section.value(value)).collect::<Vec<_>>().join(" ")
        };
        let comma = if of.is_empty() { "" } else { ", " };
        Block::Prose(format!("{of}{comma}{}: {}", texts(date), texts(what)))
    });
    told.collect()
}

impl Page {
    /// The page with the errata of a file, unless it has none.
    pub fn of_errata(file: &str, errata: Vec<Block>, voice: Voice) -> Option<Page> {
        let stem = std::path::Path::new(file).file_stem().unwrap_or_default().to_string_lossy();
        let heading = vec![voice.labels().errata().to_owned()];
        (!errata.is_empty()).then(|| Page { name: format!("{stem}-errata"), heading, body: errata })
    }
}
