//! What a `gridsetter.toml` says of the files that lie in its folder, or deeper.
//!
//! A table is a struct in a file of its own, and a field of [`Settings`]. Unknown tables, keys and names are refused: a
//! slip of the pen in a setting would else be a setting that silently does nothing.

mod check;
mod ladder;
mod print;
mod problem;
mod project;

use crate::files::canonical;
use crate::ladder::Ladder;
pub use check::Check;
pub use print::Print;
pub use problem::Problem;
pub use project::{Project, Unusable, Way};
use serde::Deserialize;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What a file of settings is called.
pub const FILE_NAME: &str = "gridsetter.toml";

/// All that can be set; each table may be left out.
#[derive(Deserialize, Clone, PartialEq, Eq, Default, Debug)]
#[serde(default, deny_unknown_fields, expecting = "tables")]
pub struct Settings {
    /// `[check]`
    pub check: Check,
    /// `[ladder]`
    #[serde(deserialize_with = "ladder::read")]
    pub ladder: Arc<Ladder>,
    /// `[print]`
    pub print: Print,
}

impl Settings {
    /// Reads the text of a file of settings.
    ///
    /// # Errors
    /// If it is not TOML, or says what cannot be set.
    pub fn read(text: &str) -> Result<Settings, Problem> {
        toml::from_str(text).map_err(|error| Problem::new(text, &error))
    }
}

/// The file of settings that holds for what lies in `folder`: its own, or else that of the nearest folder upward. Links are
/// followed before that.
pub fn nearest(folder: &Path) -> Option<PathBuf> {
    canonical(folder).ancestors().map(|folder| folder.join(FILE_NAME)).find(|file| file.is_file())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lint::Severity;
    use std::fs;

    #[test]
    fn what_is_said_is_read_and_the_rest_is_left_open() {
        let text = "[check]\nonly = ['undecided', 'row-length']\nskip = []\nfail-on = 'info'\n";
        let check = Settings::read(text).unwrap().check;
        assert_eq!(check.only, ["undecided", "row-length"]);
        assert_eq!((check.skip, check.fail_on), (vec![], Some(Severity::Info)));
        for nothing in ["", "# later\n", "[check]\n", "\u{feff}[check]\r\n"] {
            assert_eq!(Settings::read(nothing), Ok(Settings::default()), "{nothing:?}");
        }
    }

    #[test]
    fn what_cannot_be_set_is_said_at_its_place() {
        let cases = [
            ("[chek]\n", "1:2: unknown field `chek`, expected one of `check`, `ladder`, `print`"),
            ("[check]\nskp = []\n", "2:1: unknown field `skp`, expected one of `only`, `skip`, `fail-on`"),
            (
                "[check]\nfail-on = 'never'\n",
                "2:11: unknown variant `never`, expected one of `info`, `warning`, `error`",
            ),
            (
                "[check]\nskip = [\n  'undecided', 'row-lenght',\n]\n",
                "2:8: no finding is called `row-lenght`; did you mean row-length?",
            ),
            (
                "[check]\nskip = ['zebra']\n",
                "2:8: no finding is called `zebra`; `gridsetter explain` lists them",
            ),
            ("[check]\nskip = 'undecided'\n", "2:8: invalid type: string \"undecided\", expected a sequence"),
            ("[check]\n[check]\n", "2:2: duplicate key"),
            ("[check]\nonly = ['\u{fc}ber\n", "2:14: unclosed array, expected `]`"),
            ("[check\n", "1:7: unclosed table, expected `]`"),
            ("check = 4", "1:9: invalid type: integer `4`, expected a table"),
        ];
        let told = cases.map(|(text, _)| Settings::read(text).unwrap_err());
        let told = told.map(|Problem { line, column, what }| format!("{line}:{column}: {what}"));
        assert_eq!(told, cases.map(|(_, expected)| expected.to_owned()));
    }

    #[test]
    fn the_nearest_folder_upward_holds() {
        let top = tempfile::tempdir().unwrap();
        let [outer, inner] = ["a", "a/b/c"].map(|folder| canonical(top.path()).join(folder));
        fs::create_dir_all(&inner).unwrap();
        fs::write(outer.join(FILE_NAME), "").unwrap();
        assert_eq!(nearest(&inner), Some(outer.join(FILE_NAME)));
        fs::write(inner.join(FILE_NAME), "").unwrap();
        assert_eq!(nearest(&inner), Some(inner.join(FILE_NAME)));
        assert_eq!(nearest(&outer), Some(outer.join(FILE_NAME)));
    }
}
