//! `[ladder]`: which patterns may be used, in which order, and on which level.

use crate::ladder::{Ladder, NameKind, PatternName, Rung, named, nearest};
use serde::de::Error;
use serde::{Deserialize, Deserializer};
use std::sync::Arc;

/// How the default ladder is changed. Its parts are read as written and held against each other when all are there.
#[derive(Deserialize)]
#[serde(default, deny_unknown_fields, expecting = "a table")]
#[derive(Default)]
struct Table {
    /// These patterns and no others, cheapest first; the usual ones if there are none here.
    order: Vec<String>,
    /// These patterns are left out.
    without: Vec<String>,
    /// The pattern with which each level begins, level 1 first; the usual ones if there are none here.
    levels: Vec<String>,
    /// What the levels are called, level 1 first.
    names: Vec<String>,
}

/// Reads `[ladder]`.
pub(super) fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Arc<Ladder>, D::Error> {
    Table::deserialize(deserializer)?.ladder().map(Arc::new).map_err(D::Error::custom)
}

impl Table {
    /// The ladder that it comes to, or what is wrong.
    fn ladder(self) -> Result<Ladder, String> {
        let usual = Ladder::default();
        let all = |names: &[String]| names.iter().map(|name| pattern(name)).collect::<Result<Vec<_>, _>>();
        let mut patterns = match &self.order[..] {
            [] => usual.rungs().iter().map(|rung| rung.name).collect(),
            names => all(names)?,
        };
        for name in &self.without {
            let left_out = pattern(name)?;
            patterns.retain(|pattern| *pattern != left_out);
        }
        for (at, pattern) in patterns.iter().enumerate() {
            if patterns[..at].contains(pattern) {
                return Err(format!("`order` names `{}` twice", pattern.name));
            }
        }
        let begins = match &self.levels[..] {
            [] if self.order.is_empty() => beginnings(&usual, &patterns),
            [] => {
                return Err("with `order` say also where each level begins: `levels = [\"…\", …]`".to_owned());
            }
            names => all(names)?,
        };
        let rungs = levelled(&patterns, &begins)?;
        if self.names.len() > begins.len() {
            return Err(format!("`names` names {} levels, and there are {}", self.names.len(), begins.len()));
        }
        Ok(Ladder::new(rungs, (1..).zip(self.names).collect()))
    }
}

/// The pattern of this name.
fn pattern(name: &str) -> Result<&'static PatternName, String> {
    named(name).filter(|row| row.kind == NameKind::Pattern).ok_or_else(|| {
        let advice = match nearest(name) {
            Some(near) if near != name => format!("did you mean `{near}`?"),
            _ => "`gridsetter explain` lists them".to_owned(),
        };
        format!("no pattern of the ladder is called `{name}`; {advice}")
    })
}

/// With which of these patterns the usual levels begin, where each has one.
fn beginnings(usual: &Ladder, patterns: &[&'static PatternName]) -> Vec<&'static PatternName> {
    let level = |pattern: &PatternName| usual.level(pattern.name);
    let first = |at: usize| at == 0 || level(patterns[at - 1]) != level(patterns[at]);
    (0..patterns.len()).filter(|at| first(*at)).map(|at| patterns[at]).collect()
}

/// The patterns with their levels: one more from each pattern on with which a level begins.
fn levelled(patterns: &[&'static PatternName], begins: &[&'static PatternName]) -> Result<Vec<Rung>, String> {
    let place = |begin: &&'static PatternName| {
        let found = patterns.iter().position(|pattern| pattern == begin);
        found.ok_or_else(|| format!("a level begins with `{}`, which the ladder leaves out", begin.name))
    };
    let starts: Vec<usize> = begins.iter().map(place).collect::<Result<_, _>>()?;
    if starts.first().is_some_and(|first| *first != 0) {
        return Err(format!("level 1 begins with the first pattern, `{}`", patterns[0].name));
    }
    if let Some(at) = (1..starts.len()).find(|&at| starts[at] <= starts[at - 1]) {
        return Err(format!(
            "`levels` names `{}` too late: levels begin in the ladder's order",
            begins[at].name
        ));
    }
    if patterns.is_empty() || starts.is_empty() || starts.len() > usize::from(u8::MAX) {
        return Err("a ladder has at least one pattern and one level".to_owned());
    }
    let level = |at: usize| starts.iter().filter(|start| **start <= at).count().to_le_bytes()[0];
    Ok(patterns.iter().enumerate().map(|(at, name)| Rung { name, level: level(at) }).collect())
}

#[cfg(test)]
mod tests {
    use crate::settings::Settings;

    fn levels(text: &str) -> Result<Vec<(&'static str, u8)>, String> {
        let settings = Settings::read(text).map_err(|problem| problem.what)?;
        Ok(settings.ladder.rungs().iter().map(|rung| (rung.name.name, rung.level)).collect())
    }

    #[test]
    fn patterns_are_reordered_left_out_and_set_on_other_levels() {
        let text = "[ladder]\norder = ['naked singles', 'hidden pair', 'x wing']\nlevels = ['naked single', 'x-wing']\nnames = ['Calm', 'Breeze']";
        assert_eq!(levels(text).unwrap(), [("naked single", 1), ("hidden pair", 1), ("x-wing", 2)]);
        let ladder = Settings::read(text).unwrap().ladder;
        assert_eq!((ladder.level_name(2), ladder.level_name(3)), (Some("Breeze"), None));
        let without = levels("[ladder]\nwithout = ['naked single', 'trial']").unwrap();
        assert_eq!(
            without[..3],
            [("last open cell", 1), ("box hidden single", 1), ("line hidden single", 2)]
        );
        assert_eq!(without.last(), Some(&("branching chain", 7)));
    }

    #[test]
    fn what_makes_no_ladder_is_said() {
        for (text, expected) in [
            (
                "order = ['naked singel']",
                "no pattern of the ladder is called `naked singel`; did you mean `naked single`?",
            ),
            (
                "without = ['crossing']",
                "no pattern of the ladder is called `crossing`; `gridsetter explain` lists them",
            ),
            ("order = ['trial', 'trial']\nlevels = ['trial']", "`order` names `trial` twice"),
            ("order = ['trial']", "with `order` say also where each level begins: `levels = [\"…\", …]`"),
            ("levels = ['naked single']", "level 1 begins with the first pattern, `last open cell`"),
            (
                "levels = ['last open cell', 'trial', 'x-wing']",
                "`levels` names `x-wing` too late: levels begin in the ladder's order",
            ),
            (
                "without = ['trial']\nlevels = ['last open cell', 'trial']",
                "a level begins with `trial`, which the ladder leaves out",
            ),
            (
                "order = ['trial']\nlevels = []",
                "with `order` say also where each level begins: `levels = [\"…\", …]`",
            ),
            ("names = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h']", "`names` names 8 levels, and there are 7"),
        ] {
            assert_eq!(levels(&format!("[ladder]\n{text}")), Err(expected.to_owned()), "{text}");
        }
    }
}
