//! The ladder: patterns in the order in which they are tried, each with its level.

use std::collections::BTreeMap;

use super::{NAMES, NameKind, PatternName};

/// A pattern on the ladder.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Rung {
    /// Its row in [`NAMES`].
    pub name: &'static PatternName,
    /// Its level, from 1.
    pub level: u8,
}

/// The patterns that may be used, cheapest first, each with its level; and what levels are called, where they have
/// names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Ladder {
    rungs: Vec<Rung>,
    level_names: BTreeMap<u8, String>,
}

/// Where the levels of the default ladder begin: each with its first pattern.
const LEVELS: [(u8, &str); 7] = [
    (1, "last open cell"),
    (2, "naked single"),
    (3, "locked candidates"),
    (4, "hidden triple"),
    (5, "single-digit chain"),
    (6, "xy-chain"),
    (7, "branching chain"),
];

impl Default for Ladder {
    /// All patterns in the order of [`NAMES`], on seven levels.
    fn default() -> Ladder {
        let mut level = 0;
        let patterns = NAMES.iter().filter(|row| row.kind == NameKind::Pattern);
        let rungs = patterns.map(|name| {
            if let Some((next, _)) = LEVELS.iter().find(|(_, first)| *first == name.name) {
                level = *next;
            }
            Rung { name, level }
        });
        Ladder { rungs: rungs.collect(), level_names: BTreeMap::new() }
    }
}

impl Ladder {
    /// A ladder of these rungs, cheapest first, with the names of some levels.
    pub fn new(rungs: Vec<Rung>, level_names: BTreeMap<u8, String>) -> Ladder {
        Ladder { rungs, level_names }
    }

    /// The rungs, cheapest first.
    pub fn rungs(&self) -> &[Rung] {
        &self.rungs
    }

    /// The level of the pattern of this name; `None` if the ladder leaves it out.
    pub fn level(&self, name: &str) -> Option<u8> {
        self.rungs.iter().find(|rung| rung.name.name == name).map(|rung| rung.level)
    }

    /// What a level is called, where it has a name.
    pub fn level_name(&self, level: u8) -> Option<&str> {
        self.level_names.get(&level).map(String::as_str)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_default_ladder_has_every_pattern_and_rising_levels() {
        let ladder = Ladder::default();
        let patterns = NAMES.iter().filter(|row| row.kind == NameKind::Pattern).count();
        assert_eq!(ladder.rungs().len(), patterns);
        assert!(ladder.rungs().is_sorted_by_key(|rung| rung.level));
        let level = |name| ladder.level(name);
        assert_eq!(level("last open cell"), Some(1));
        assert_eq!(level("line hidden single"), Some(2));
        assert_eq!(level("naked pair"), Some(3));
        assert_eq!(level("jellyfish"), Some(4));
        assert_eq!(level("w-wing"), Some(5));
        assert_eq!(level("trial"), Some(7));
        assert_eq!(level("crossing"), None);
    }
}
