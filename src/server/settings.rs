//! What a client may want otherwise.

use serde::Deserialize;
use serde_json::Value;

/// What a client wants, and what it can do.
#[allow(clippy::struct_excessive_bools, reason = "each is an ability of its own")]
#[derive(Clone, Default, Debug)]
pub struct Settings {
    /// Whether mistakes in a solver's work, which only the solution reveals, are shown.
    pub mistakes: Mistakes,
    /// How hover on a step shows the grid.
    pub hover: GridAs,
    /// The client makes edits that name the version that they are for.
    pub versioned_edits: bool,
    /// The client asks for the edits of an action only when it is chosen.
    pub resolves_edits: bool,
    /// The client shows no Markdown where the pointer rests, or not gladly; before it could say so, all did.
    pub plain_hover: bool,
    /// The client shows Markdown beside what can be written.
    pub markdown_completion: bool,
    /// The client answers when it is asked for settings.
    pub can_be_asked: bool,
    /// The client watches the files that it is asked to watch.
    pub watches_files: bool,
    /// It watches those of any folder that it is told of, too.
    pub watches_anywhere: bool,
}

/// How mistakes in a solver's work are told, where only the solution reveals them.
#[derive(Clone, Copy, PartialEq, Eq, Default, Deserialize, Debug)]
#[serde(rename_all = "lowercase")]
pub enum Mistakes {
    /// As other findings.
    Show,
    /// Only when asked for.
    #[default]
    Ask,
}

/// How a grid is shown.
#[derive(Clone, Copy, PartialEq, Eq, Default, Deserialize, Debug)]
#[serde(rename_all = "lowercase")]
pub enum GridAs {
    /// Its rows, below each other.
    #[default]
    Grid,
    /// In words, a row a line.
    Words,
}

impl Settings {
    /// Takes up what a client says: `{"mistakes": "show", "hover": "words"}`, or the same within `"gridsetter"`. What is not understood is
    /// left as it was.
    pub fn take(&mut self, said: &Value) {
        let ours = said.get("gridsetter").unwrap_or(said);
        if let Some(Ok(mistakes)) = ours.get("mistakes").map(Mistakes::deserialize) {
            self.mistakes = mistakes;
        }
        if let Some(Ok(hover)) = ours.get("hover").map(GridAs::deserialize) {
            self.hover = hover;
        }
    }

    /// Whether what only the solution reveals is shown.
    pub fn spoil(&self) -> bool {
        self.mistakes == Mistakes::Show
    }
}
