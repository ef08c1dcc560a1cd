//! In which words a file is printed.

use crate::book::Book;
use crate::notation::Keyword;
use crate::words::{Language, Naming, Voice};

/// The voice that a file asks for by its `language` and `naming`.
pub fn voice_of(book: &Book) -> Voice<'static> {
    let says = |keyword| book.says(keyword).unwrap_or_default();
    let tag = says(Keyword::Language).to_ascii_lowercase();
    let language = if tag.split('-').next() == Some("de") { Language::German } else { Language::English };
    let naming = match says(Keyword::Naming).as_str() {
        "D1" => Naming::Letters,
        "words" => Naming::Words,
        _ => Naming::Short,
    };
    Voice { language, naming, ..Voice::default() }
}
