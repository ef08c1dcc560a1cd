//! Commands: what is asked for and changes no text.

use super::document::Document;
use super::fixes::{SHOW_MISTAKES, mistakes_in_words};
use super::lens::SHOW_PLACE;
use super::next;
use super::page::{self, Pages};
use super::state::Snapshot;
use serde::de::DeserializeOwned;
use serde_json::Value;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::ls_types::{ExecuteCommandParams, Location, Range, ShowDocumentParams, Uri};

/// Every command.
pub const ALL: [&str; 4] = [SHOW_MISTAKES, next::TELL, page::SHOW, SHOW_PLACE];

/// What is asked for.
pub enum Asked {
    /// Something of a text as it is now.
    OfText(Uri, OfText),
    /// What is wrong in the sheets of a text.
    Mistakes(Uri),
    /// A place of a file.
    Place(Location),
}

/// What is asked of a text as it is now.
pub enum OfText {
    /// The next step, in words.
    Next(next::Asked),
    /// Printed pages.
    Page(page::Asked),
}

/// What comes of it.
pub enum Outcome {
    /// Something is said.
    Say(String),
    /// Something is shown: a page beside the editor, or a place of a file.
    Show {
        /// What.
        uri: Uri,
        /// Where in it; of a page, nowhere.
        selection: Option<Range>,
        /// What is said where the client shows nothing.
        otherwise: String,
    },
}

impl Asked {
    /// What a client asks for.
    ///
    /// # Errors
    /// If there is no such command, or what it is about is not told.
    pub fn of(params: ExecuteCommandParams) -> Result<Asked> {
        fn read<T: DeserializeOwned>(value: Value, wanted: &str) -> Result<T> {
            serde_json::from_value(value).map_err(|_| Error::invalid_params(format!("it takes {wanted}")))
        }
        let first = params.arguments.into_iter().next().unwrap_or_default();
        match params.command.as_str() {
            SHOW_MISTAKES => read(first, "the name of a text").map(Asked::Mistakes),
            SHOW_PLACE => read(first, "a place of a file").map(Asked::Place),
            next::TELL => {
                let asked: next::Asked = read(first, "a text, a place in it and a depth")?;
                Ok(Asked::OfText(asked.uri.clone(), OfText::Next(asked)))
            }
            page::SHOW => {
                let asked: page::Asked = read(first, "a text, a place in it and what to show")?;
                Ok(Asked::OfText(asked.uri.clone(), OfText::Page(asked)))
            }
            _ => Err(Error::invalid_params(format!("the commands are {}", ALL.join(", ")))),
        }
    }
}

impl OfText {
    /// What comes of it.
    pub fn look(&self, snapshot: &Snapshot, pages: &Pages) -> Outcome {
        match self {
            OfText::Next(asked) => Outcome::Say(next::tell(snapshot, asked)),
            OfText::Page(asked) => show_page(snapshot, asked, pages).unwrap_or_else(Outcome::Say),
        }
    }
}

/// What is wrong in the sheets of a text; `None` where it is not open.
pub fn mistakes(document: Option<&Document>) -> Option<Outcome> {
    document.map(|document| Outcome::Say(mistakes_in_words(document)))
}

/// A place of a file, to be shown.
pub fn place(place: Location) -> Outcome {
    let otherwise =
        format!("It stands in line {} of {}.", place.range.start.line.saturating_add(1), place.uri.as_str());
    Outcome::Show { uri: place.uri, selection: Some(place.range), otherwise }
}

fn show_page(
    snapshot: &Snapshot,
    asked: &page::Asked,
    pages: &Pages,
) -> std::result::Result<Outcome, String> {
    let printed = page::print(snapshot, asked)?;
    let path = pages.put(&printed).map_err(|why| format!("The page could not be written: {why}."))?;
    let otherwise = format!("The page is in {}.", path.display());
    let uri = Uri::from_file_path(&path).ok_or_else(|| otherwise.clone())?;
    Ok(Outcome::Show { uri, selection: None, otherwise })
}

/// What a client is asked to show.
pub fn shown(uri: Uri, selection: Option<Range>) -> ShowDocumentParams {
    ShowDocumentParams { uri, external: Some(selection.is_none()), take_focus: Some(true), selection }
}
