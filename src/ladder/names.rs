//! The names of patterns and of ways of seeing: one table, for facts, walks, prose and `explain`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What a name of [`NAMES`] stands for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NameKind {
    /// A pattern of the ladder.
    Pattern,
    /// Several patterns of the ladder under one name.
    Group,
    /// A way of seeing: how a reader comes upon a deduction, whatever pattern it is.
    Seeing,
}

/// A row of [`NAMES`].
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PatternName {
    /// The name that is written.
    pub name: &'static str,
    /// What it stands for.
    pub kind: NameKind,
    /// Other names of the trade, which are read.
    pub aliases: &'static [&'static str],
}

/// A row of the table.
const fn row(kind: NameKind, name: &'static str, aliases: &'static [&'static str]) -> PatternName {
    PatternName { name, kind, aliases }
}

use NameKind::{Group, Pattern, Seeing};

/// Every name, patterns in the order of the default ladder, cheapest first.
pub const NAMES: &[PatternName] = &[
    row(Pattern, "last open cell", &["full house"]),
    row(Pattern, "box hidden single", &[]),
    row(Pattern, "naked single", &["sole candidate"]),
    row(Pattern, "line hidden single", &["row hidden single", "column hidden single"]),
    row(Group, "hidden single", &[]),
    row(
        Pattern,
        "locked candidates",
        &["pointing", "pointing pair", "pointing triple", "claiming", "claiming pair", "claiming triple"],
    ),
    row(Pattern, "hidden pair", &[]),
    row(Pattern, "naked pair", &[]),
    row(Pattern, "hidden triple", &["hidden triplet"]),
    row(Pattern, "naked triple", &["naked triplet"]),
    row(Pattern, "hidden quad", &["hidden quadruple", "hidden quadruplet"]),
    row(Pattern, "naked quad", &["naked quadruple", "naked quadruplet"]),
    row(Pattern, "hidden set", &["hidden subset"]),
    row(Pattern, "naked set", &["naked subset"]),
    row(Pattern, "x-wing", &[]),
    row(Pattern, "swordfish", &[]),
    row(Pattern, "jellyfish", &[]),
    row(Pattern, "single-digit chain", &["x-chain"]),
    row(Pattern, "finned fish", &["finned x-wing", "finned swordfish", "finned jellyfish"]),
    row(Pattern, "xy-wing", &["y-wing"]),
    row(Pattern, "xyz-wing", &[]),
    row(Pattern, "w-wing", &[]),
    row(Pattern, "unique rectangle", &[]),
    row(Pattern, "unique loop", &[]),
    row(Pattern, "last-bivalue trap", &["bivalue universal grave"]),
    row(Pattern, "xy-chain", &[]),
    row(Pattern, "alternating chain", &["alternating inference chain"]),
    row(Pattern, "grouped chain", &[]),
    row(Pattern, "almost locked sets", &[]),
    row(Pattern, "branching chain", &["forcing chain"]),
    row(Pattern, "trial", &["trial and error"]),
    row(Seeing, "crossing", &["cross-hatching"]),
    row(Seeing, "counting", &[]),
    row(Seeing, "third line", &[]),
    row(Seeing, "settling", &[]),
];

/// The characters of a name by which it is told from others: case, blanks, hyphens and a plural's `s` are not.
fn essence(text: &str) -> impl Iterator<Item = char> + Clone {
    let text = text.strip_suffix(['s', 'S']).unwrap_or(text);
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase)
}

/// What `text` names; case, plural and hyphens are ignored.
pub fn named(text: &str) -> Option<&'static PatternName> {
    static ROWS: LazyLock<BTreeMap<String, &PatternName>> = LazyLock::new(|| {
        let names = |row: &'static PatternName| [row.name].into_iter().chain(row.aliases.iter().copied());
        NAMES.iter().flat_map(|row| names(row).map(move |name| (essence(name).collect(), row))).collect()
    });
    ROWS.get(&essence(text).collect::<String>()).copied()
}

/// The name that `text` may be a slip of the pen for: less than half of it differs, and no name is nearer.
pub fn nearest(text: &str) -> Option<&'static str> {
    let text: String = essence(text).collect();
    let letters = text.chars().count();
    let names =
        NAMES.iter().flat_map(|row| row.aliases.iter().chain([&row.name]).map(|name| (row.name, *name)));
    // Of a name half as long too much would differ. A whole file may come as one word: it is not compared.
    let names = names.filter(|(_, name)| letters < name.len() * 2);
    let distance = |name: &str| strsim::osa_distance(&text, &essence(name).collect::<String>());
    let (apart, name) =
        names.map(|(written, name)| (distance(name), written)).min_by_key(|(apart, _)| *apart)?;
    (apart * 2 < letters).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_ignore_case_plural_and_hyphen() {
        let name = |text| named(text).map(|row| row.name);
        for row in NAMES {
            for alias in row.aliases.iter().chain([&row.name]) {
                assert_eq!(name(alias), Some(row.name), "{alias} names its own row, and no other one first");
            }
        }
        for (text, meant) in [
            ("X-wings", "x-wing"),
            ("x wing", "x-wing"),
            ("Hidden Pairs", "hidden pair"),
            ("locked candidate", "locked candidates"),
            ("almost locked set", "almost locked sets"),
            ("pointing", "locked candidates"),
            ("THIRD-LINE", "third line"),
        ] {
            assert_eq!(name(text), Some(meant), "{text}");
        }
        for nothing in ["", "s", "-", "magic", "hidden", "pair"] {
            assert_eq!(name(nothing), None, "{nothing}");
        }
    }

    #[test]
    fn the_nearest_name_is_offered() {
        assert_eq!(nearest("hidden pears"), Some("hidden pair"));
        assert_eq!(nearest("sword fish"), Some("swordfish"));
        assert_eq!(nearest("pointng"), Some("locked candidates"));
        assert_eq!(nearest("magic"), None);
        assert_eq!(nearest(""), None);
    }
}
