//! What makes a finding the same one at another time: its file, its puzzle, its name and its words, wherever in the file
//! it stands by now.

use crate::lint::Report;
use serde::Deserialize;
use siphasher::sip::SipHasher13;
use std::collections::HashMap;
use std::hash::{Hash, Hasher};

/// Findings, each as often as it occurs.
#[derive(Default)]
pub struct Identities(HashMap<Identity, usize>);

/// Read from, and equal for, what `--format json` writes.
#[derive(Deserialize, PartialEq, Eq, Hash)]
struct Identity {
    file: String,
    puzzle: Option<String>,
    name: String,
    message: String,
}

impl Identity {
    fn of(report: &Report, file: &str) -> Identity {
        Identity {
            file: file.to_owned(),
            puzzle: report.puzzle.clone(),
            name: report.finding.name.to_owned(),
            message: report.message.clone(),
        }
    }
}

impl Identities {
    /// Reads what `--format json` wrote.
    ///
    /// # Errors
    /// The number of the first line that is not a finding, from 1.
    pub fn read(text: &str) -> Result<Identities, usize> {
        let mut all = Identities::default();
        for (number, line) in (1_usize..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty()) {
            let identity = serde_json::from_str(line).map_err(|_| number)?;
            *all.0.entry(identity).or_default() += 1;
        }
        Ok(all)
    }

    /// Takes the finding out, if it is among them: as often as it occurs, and no more.
    pub fn take(&mut self, report: &Report, file: &str) -> bool {
        let left = self.0.get_mut(&Identity::of(report, file)).filter(|left| **left > 0);
        left.map(|left| *left -= 1).is_some()
    }

    /// How many have not been taken.
    pub fn left(&self) -> usize {
        self.0.values().sum()
    }
}

/// How often findings with the same words have come so far: of each about 30 bytes, whatever it says.
#[derive(Default)]
pub struct Marks(HashMap<u64, u32>);

impl Marks {
    /// A short mark of this finding: another one for each that has the same words, and the same ones at each run.
    pub fn next(&mut self, report: &Report, file: &str) -> String {
        // The keys are part of what forges have stored: they never change.
        let mut hasher = SipHasher13::new_with_keys(0, 0);
        let puzzle = report.puzzle.as_deref().unwrap_or_default();
        for part in [file, puzzle, report.finding.name, &report.message] {
            part.hash(&mut hasher);
        }
        let before = self.0.entry(hasher.finish()).or_default();
        hasher.write_u64(u64::from(*before));
        *before += 1;
        format!("{:016x}", hasher.finish())
    }
}
