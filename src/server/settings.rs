//! What a client may want otherwise.

use super::abilities::Abilities;
use serde::Deserialize;
use serde_json::Value;

/// What a client wants, and what it can do.
#[derive(Clone, Default, Debug)]
pub struct Settings {
    /// Whether mistakes in a solver's work, which only the solution reveals, are shown.
    pub mistakes: Spoiler,
    /// Whether what a row misses is shown at its end.
    pub rows: Shown,
    /// Whether what there is to say of a puzzle or a walkthrough stands above it.
    pub lenses: Shown,
    /// Whether the reason of a step that names none is shown behind it.
    pub reasons: Spoiler,
    /// How hover on a step shows the grid.
    pub hover: GridAs,
    /// What the client can do.
    pub can: Abilities,
}

/// How something is told that only the solution or a reasoner reveals.
#[derive(Clone, Copy, PartialEq, Eq, Default, Deserialize, Debug)]
#[serde(rename_all = "lowercase")]
pub enum Spoiler {
    /// As all else.
    Show,
    /// Only when asked for.
    #[default]
    Ask,
}

/// Whether something is shown that nobody asked for.
#[derive(Clone, Copy, PartialEq, Eq, Default, Deserialize, Debug)]
#[serde(rename_all = "lowercase")]
pub enum Shown {
    /// It is.
    #[default]
    Show,
    /// It is not.
    Hide,
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
    /// Takes up what a client says: `{"mistakes": "show", "hover": "words"}`, or the same within `"gridsetter"`. What is not
    /// understood is left as it was.
    pub fn take(&mut self, said: &Value) {
        fn take<'a, T: Deserialize<'a>>(ours: &'a Value, name: &str, setting: &mut T) {
            if let Some(Ok(said)) = ours.get(name).map(T::deserialize) {
                *setting = said;
            }
        }
        let ours = said.get("gridsetter").unwrap_or(said);
        take(ours, "mistakes", &mut self.mistakes);
        take(ours, "rows", &mut self.rows);
        take(ours, "lenses", &mut self.lenses);
        take(ours, "reasons", &mut self.reasons);
        take(ours, "hover", &mut self.hover);
    }

    /// Whether what only the solution reveals is shown.
    pub fn spoil(&self) -> bool {
        self.mistakes == Spoiler::Show
    }
}
