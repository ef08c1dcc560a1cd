//! What a client may want otherwise.

use serde::Deserialize;
use serde_json::Value;

/// What a client wants.
#[derive(Clone, Default, Debug)]
pub struct Settings {
    /// Whether mistakes in a solver's work, which only the solution reveals, are shown.
    pub mistakes: Mistakes,
    /// The client makes edits that name the version that they are for.
    pub versioned_edits: bool,
    /// The client asks for the edits of an action only when it is chosen.
    pub resolves_edits: bool,
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

impl Settings {
    /// Takes up what a client says: `{"mistakes": "show"}`, or the same within `"gridsetter"`. What is not understood is
    /// left as it was.
    pub fn take(&mut self, said: &Value) {
        let ours = said.get("gridsetter").unwrap_or(said);
        if let Some(Ok(mistakes)) = ours.get("mistakes").map(Mistakes::deserialize) {
            self.mistakes = mistakes;
        }
    }

    /// Whether what only the solution reveals is shown.
    pub fn spoil(&self) -> bool {
        self.mistakes == Mistakes::Show
    }
}
