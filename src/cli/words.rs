//! Small wordings that several commands share.

use super::terminal::Trouble;
use crate::lint::Finding;

/// `1 puzzle`, `2 puzzles`.
pub fn counted(count: usize, thing: &str) -> String {
    if count == 1 { format!("1 {thing}") } else { format!("{count} {thing}s") }
}

/// The finding called `name`.
///
/// # Errors
/// If there is none; the trouble says which names are near.
pub fn finding_named(name: &str) -> Result<&'static Finding, Trouble> {
    Finding::named(name)
        .ok_or_else(|| Trouble::new(name, "no finding has this name", proposal(&Finding::near(name))))
}

/// What to do about a name that is none, by the names that come near.
pub fn proposal(near: &[&str]) -> String {
    match near {
        [] => "`gridsetter explain` lists the names".to_owned(),
        near => format!("did you mean {}?", near.join(" or ")),
    }
}
