//! What a check came to, in numbers and in one line.

use super::words::counted;
use crate::lint::{Report, Severity};

/// What a check came to.
#[derive(Default)]
pub struct Sum {
    /// How many files were looked at.
    pub files: usize,
    /// How many puzzles and lessons.
    pub puzzles: usize,
    /// In how many of these something was found.
    pub hit: usize,
    errors: usize,
    warnings: usize,
    infos: usize,
    /// How many findings can be mended without a doubt.
    pub safe: usize,
    /// How many can be mended by a guess only.
    pub unsure: usize,
}

impl Sum {
    /// No findings counted yet.
    pub fn of(files: usize, puzzles: usize, hit: usize) -> Sum {
        Sum { files, puzzles, hit, ..Sum::default() }
    }

    /// Counts a finding.
    pub fn add(&mut self, report: &Report) {
        match report.severity {
            Severity::Error => self.errors += 1,
            Severity::Warning => self.warnings += 1,
            Severity::Info => self.infos += 1,
        }
        if report.fixes.iter().any(|fix| fix.safe) {
            self.safe += 1;
        } else if !report.fixes.is_empty() {
            self.unsure += 1;
        }
    }

    /// `3 findings (2 errors, 1 warning) in 2 of 14 puzzles, 1 file`: what was found, in how many puzzles, and in what all
    /// was looked for.
    pub fn told(&self) -> String {
        format!("{} in {}", self.tally(), self.extent())
    }

    fn tally(&self) -> String {
        let all = self.errors + self.warnings + self.infos;
        if all == 0 {
            return "no findings".to_owned();
        }
        let kinds = [
            (self.errors, counted(self.errors, "error")),
            (self.warnings, counted(self.warnings, "warning")),
            (self.infos, format!("{} info", self.infos)),
        ];
        let kinds: Vec<String> = kinds.into_iter().filter(|(n, _)| *n > 0).map(|(_, words)| words).collect();
        format!("{} ({})", counted(all, "finding"), kinds.join(", "))
    }

    fn extent(&self) -> String {
        let files = counted(self.files, "file");
        match (self.puzzles, self.hit) {
            (0, _) => files,
            (_, 0) => format!("{}, {files}", counted(self.puzzles, "puzzle")),
            (_, hit) => format!("{hit} of {}, {files}", counted(self.puzzles, "puzzle")),
        }
    }
}
