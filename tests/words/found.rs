//! One or two steps of each pattern from level 5 on, as they are found in puzzles, told in every language and register.
//! The pages beside this file are what a reader of proofs should read.

use std::fmt::Write as _;

use gridsetter::board::{Grid, Layout, Size};
use gridsetter::ladder::{Ladder, Pattern};
use gridsetter::reason::{Reasoner, Walk};
use gridsetter::step::{Deduction, Position};
use gridsetter::words::{Language, Voice, tell};

use crate::samples::same;
use crate::{DEPTHS, REGISTERS, check, voices};

/// The lowest level that is told of here.
const LEVEL: u8 = 5;

/// The patterns that are told of here, and the ladders on which each is looked for: all that is cheaper before it, the
/// whole one, or all of lower levels and it.
fn ladders(layout: &Layout) -> impl Iterator<Item = (Pattern, [Vec<Pattern>; 3])> {
    let usual = Ladder::default();
    let all = Reasoner::new(layout, &usual).patterns().to_vec();
    let easy = all.iter().take_while(|pattern| usual.level(pattern.name()) < Some(LEVEL)).count();
    (easy..all.len()).map(move |at| {
        let ladders = [all[..=at].to_vec(), all.clone(), [&all[..easy], &all[at..=at]].concat()];
        (all[at], ladders)
    })
}

/// The first step of a pattern that a reader with these patterns meets in the puzzles, and the first after it that reads
/// more, with what was known before each.
fn first_steps(layout: &Layout, pattern: Pattern, ladder: Vec<Pattern>) -> Vec<(Position, Deduction)> {
    let reasoner = Reasoner::with(layout, ladder);
    let mut found: Vec<(Position, Deduction)> = Vec::new();
    for line in include_str!("found.txt").lines().filter(|line| !line.starts_with('#')) {
        let start = Position::new(layout, &Grid::from_line(line).unwrap()).with_one_solution();
        for (before, step) in Walk::with_marks(&reasoner, start).positions() {
            let reads_more = |(_, first): &(_, Deduction)| step.deduction.bases.len() > first.bases.len();
            if step.deduction.pattern == pattern && found.first().is_none_or(reads_more) {
                found.push((before, step.deduction.clone()));
            }
            if found.len() == 2 {
                return found;
            }
        }
    }
    found
}

/// Two steps of each pattern, or one where there are not two.
fn found() -> Vec<(Position, Deduction)> {
    let layout = Layout::classic(Size::new(9).unwrap()).unwrap();
    let steps = ladders(&layout).flat_map(|(pattern, ladders)| {
        let mut tried = ladders.into_iter().map(|ladder| first_steps(&layout, pattern, ladder));
        tried.find(|found| !found.is_empty()).unwrap_or_else(|| panic!("no {} is found", pattern.name()))
    });
    steps.collect()
}

/// The page of a language.
fn page(language: Language, found: &[(Position, Deduction)]) -> String {
    let mut page = String::new();
    for (before, step) in found {
        let _ = writeln!(page, "## {}", step.pattern.name());
        for register in REGISTERS {
            let voice = Voice { language, register, ..Voice::default() };
            let [place, what, why] = DEPTHS.map(|depth| tell(&voice, depth, before, step, &[]));
            let _ = writeln!(page, "{register:?}\n- {place}\n- {what}\n- {why}");
        }
        page.push('\n');
    }
    page
}

#[test]
fn dear_steps_in_each_language() {
    let found = found();
    for (before, step) in &found {
        for voice in voices() {
            for depth in DEPTHS {
                check(voice, &tell(&voice, depth, before, step, &[]));
            }
        }
    }
    // Read a page that has changed as an editor would before it is kept.
    let page = |language| page(language, &found);
    same(&page(Language::English), include_str!("found.english.md"), "found.english.md");
    same(&page(Language::German), include_str!("found.german.md"), "found.german.md");
}
