//! What is wrong with a file of settings.

/// Why a file of settings could not be used, and where in it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// From 1.
    pub line: usize,
    /// Unicode characters of the line, from 1.
    pub column: usize,
    /// What is wrong, in one line.
    pub what: String,
}

impl Problem {
    pub(super) fn new(text: &str, error: &toml::de::Error) -> Problem {
        let start = error.span().map_or(0, |span| span.start);
        let before = text.get(..start).unwrap_or(text);
        let last = before.rsplit('\n').next().unwrap_or_default();
        Problem {
            line: before.matches('\n').count() + 1,
            column: last.trim_start_matches('\u{feff}').chars().count() + 1,
            what: error.message().replace('\n', ", "),
        }
    }
}
