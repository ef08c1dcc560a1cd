//! Names of files.

use std::collections::BTreeSet;

/// The longest name, in characters: every file system takes one of this length, with an ending.
const LONGEST: usize = 80;

/// Names that some systems keep for devices.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// Gives each page a file name of its own, in one folder.
#[derive(Clone, Default, Debug)]
pub struct Names(BTreeSet<String>);

impl Names {
    /// None given yet.
    pub fn new() -> Names {
        Names::default()
    }

    /// A name for this wish that is safe on every system and was not given before, whether or not capitals count.
    pub fn give(&mut self, wish: &str) -> String {
        let safe = safe(wish);
        let numbered = (2..).map(|n| format!("{safe}-{n}"));
        let name =
            std::iter::once(safe.clone()).chain(numbered).find(|name| !self.0.contains(&name.to_lowercase()));
        let name = name.unwrap_or(safe);
        self.0.insert(name.to_lowercase());
        name
    }
}

/// Letters, figures, hyphens, full stops and underscores; nothing that is a path, hidden, or a device.
fn safe(wish: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() || matches!(c, '-' | '.' | '_') { c } else { '-' };
    let name: String = wish.chars().take(LONGEST).map(plain).collect();
    let name = name.trim_matches(['.', '-']);
    let stem = name.split('.').next().unwrap_or_default().to_lowercase();
    let port = |kind: &str| {
        let number = stem.strip_prefix(kind);
        number.is_some_and(|number| number.chars().count() == 1)
    };
    match name {
        "" => "puzzle".to_owned(),
        name if DEVICES.contains(&stem.as_str()) || port("com") || port("lpt") => format!("puzzle-{name}"),
        name => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_and_each_is_given_once() {
        let mut names = Names::new();
        let mut given = |wish: &str| names.give(wish);
        assert_eq!([given("lk-007"), given("LK-007"), given("lk-007")], ["lk-007", "LK-007-2", "lk-007-3"]);
        assert_eq!(given("../../etc/passwd"), "etc-passwd");
        assert_eq!(given(".hidden"), "hidden");
        assert_eq!([given("con"), given("Com1.x"), given("")], ["puzzle-con", "puzzle-Com1.x", "puzzle"]);
        assert_eq!(given("größe-7"), "größe-7");
        assert_eq!(given(&"x".repeat(300)).len(), LONGEST);
        assert_eq!(given("a\u{202e}b\n"), "a-b");
    }
}
