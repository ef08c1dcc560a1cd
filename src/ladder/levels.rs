//! What the levels mean: a page that can be printed for readers.

use super::Ladder;
use std::fmt::Write as _;

const HEAD: &str = "\
A puzzle has the level of the hardest pattern that it takes. Whoever knows the patterns of that level and of those below
can go from the givens to the end, step by step; with those below alone, one gets stuck on the way.
";

/// That every puzzle has a level, by a ladder with trial.
const WITH_TRIAL: &str = "
Every puzzle with one solution has a level: trial, carried far enough, finishes whatever the patterns before it do not.
Such a puzzle needs trial, and nothing that trial can do instead. How much is tried on one walk is bounded; where that is
not enough the walk is cut short, and the level is the same.
";

/// That not every puzzle has a level, by another.
const WITHOUT_TRIAL: &str = "
A puzzle that these patterns do not finish has no level.
";

/// The levels of a walk by scanning: what each asks of a reader. They count looks and memory, so no ladder changes them.
const SCANNING: &str = "
## Without pencil marks

Where nothing is written but digits, a level counts what must be looked at and kept in mind for a step, whatever its
pattern:

1. The last open cell of a house. A digit that has one place left in a box, because digits that stand bar the others.
2. A box that one remembered fact closes as well. Counting what a house misses, where that is two or three digits.
   Remembering a pair that is seen by crossing, and settling it.
3. The third line of a band. Counting four digits or more. Remembering a triple that is seen by crossing. A remembered set
   that closes its cells to another digit.
4. Two remembered facts in one step. Larger sets, and triples that are seen by counting.
5. Three remembered facts or more in one step, or four that are kept in mind at once.
";

impl Ladder {
    /// The page about its levels, in Markdown: what a level says of a puzzle, and which patterns are new on each.
    pub fn page(&self) -> String {
        let has_trial = self.rungs().iter().any(|rung| rung.name.name == "trial");
        let mut page = HEAD.to_owned() + if has_trial { WITH_TRIAL } else { WITHOUT_TRIAL };
        for rungs in self.rungs().chunk_by(|one, next| one.level == next.level) {
            let level = rungs[0].level;
            let name = self.level_name(level).map_or_else(String::new, |name| format!(": {name}"));
            let _ = writeln!(page, "\n## Level {level}{name}\n");
            for rung in rungs {
                let _ = writeln!(page, "- **{}**. {}", rung.name.name, rung.name.summary());
            }
        }
        page + SCANNING
    }
}
