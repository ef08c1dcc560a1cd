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
    /// Its page, in Markdown: what it is, an example, how to look for it, its source.
    pub page: &'static str,
}

impl PatternName {
    /// What it is, in one sentence: the first line of its page.
    pub fn summary(&self) -> &'static str {
        self.page.lines().next().unwrap_or_default()
    }
}

/// A row of the table.
const fn row(
    kind: NameKind,
    name: &'static str,
    aliases: &'static [&'static str],
    page: &'static str,
) -> PatternName {
    PatternName { name, kind, aliases, page }
}

use NameKind::{Group, Pattern, Seeing};

/// Every name, patterns in the order of the default ladder, cheapest first.
pub const NAMES: &[PatternName] = &[
    row(Pattern, "last open cell", &["full house"], include_str!("pages/last-open-cell.md")),
    row(Pattern, "box hidden single", &[], include_str!("pages/box-hidden-single.md")),
    row(Pattern, "naked single", &["sole candidate"], include_str!("pages/naked-single.md")),
    row(
        Pattern,
        "line hidden single",
        &["row hidden single", "column hidden single"],
        include_str!("pages/line-hidden-single.md"),
    ),
    row(Group, "hidden single", &[], include_str!("pages/hidden-single.md")),
    row(
        Pattern,
        "locked candidates",
        &["pointing", "pointing pair", "pointing triple", "claiming", "claiming pair", "claiming triple"],
        include_str!("pages/locked-candidates.md"),
    ),
    row(Pattern, "hidden pair", &[], include_str!("pages/hidden-pair.md")),
    row(Pattern, "naked pair", &[], include_str!("pages/naked-pair.md")),
    row(Pattern, "hidden triple", &["hidden triplet"], include_str!("pages/hidden-triple.md")),
    row(Pattern, "naked triple", &["naked triplet"], include_str!("pages/naked-triple.md")),
    row(
        Pattern,
        "hidden quad",
        &["hidden quadruple", "hidden quadruplet"],
        include_str!("pages/hidden-quad.md"),
    ),
    row(Pattern, "naked quad", &["naked quadruple", "naked quadruplet"], include_str!("pages/naked-quad.md")),
    row(Pattern, "hidden set", &["hidden subset"], include_str!("pages/hidden-set.md")),
    row(Pattern, "naked set", &["naked subset"], include_str!("pages/naked-set.md")),
    row(Pattern, "x-wing", &[], include_str!("pages/x-wing.md")),
    row(Pattern, "swordfish", &[], include_str!("pages/swordfish.md")),
    row(Pattern, "jellyfish", &[], include_str!("pages/jellyfish.md")),
    row(Pattern, "single-digit chain", &["x-chain"], include_str!("pages/single-digit-chain.md")),
    row(
        Pattern,
        "finned fish",
        &["finned x-wing", "finned swordfish", "finned jellyfish"],
        include_str!("pages/finned-fish.md"),
    ),
    row(Pattern, "xy-wing", &["y-wing"], include_str!("pages/xy-wing.md")),
    row(Pattern, "xyz-wing", &[], include_str!("pages/xyz-wing.md")),
    row(Pattern, "w-wing", &[], include_str!("pages/w-wing.md")),
    row(Pattern, "unique rectangle", &[], include_str!("pages/unique-rectangle.md")),
    row(Pattern, "unique loop", &[], include_str!("pages/unique-loop.md")),
    row(
        Pattern,
        "last-bivalue trap",
        &["bivalue universal grave"],
        include_str!("pages/last-bivalue-trap.md"),
    ),
    row(Pattern, "xy-chain", &[], include_str!("pages/xy-chain.md")),
    row(
        Pattern,
        "alternating chain",
        &["alternating inference chain"],
        include_str!("pages/alternating-chain.md"),
    ),
    row(Pattern, "grouped chain", &[], include_str!("pages/grouped-chain.md")),
    row(Pattern, "almost locked sets", &[], include_str!("pages/almost-locked-sets.md")),
    row(Pattern, "branching chain", &["forcing chain"], include_str!("pages/branching-chain.md")),
    row(Pattern, "trial", &["trial and error"], include_str!("pages/trial.md")),
    row(Seeing, "crossing", &["cross-hatching"], include_str!("pages/crossing.md")),
    row(Seeing, "counting", &[], include_str!("pages/counting.md")),
    row(Seeing, "third line", &[], include_str!("pages/third-line.md")),
    row(Seeing, "settling", &[], include_str!("pages/settling.md")),
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
