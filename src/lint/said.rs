//! What there is to say of a section by itself.

use super::allow::{Allow, allows};
use super::{Check, Draft, FINDINGS, Finding, PuzzleScene, Scene, WalkScene};
use crate::book::Meaning;
use crate::ladder::Ladder;
use crate::notation::{ItemKind, Section};
use std::sync::{Arc, LazyLock};

/// How much may be searched for an answer.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Effort {
    /// Only what takes no longer than a keystroke: whether puzzles up to 9x9 have one solution or none, where that turns out
    /// at once, and what follows from it without another search. Changes that take one to propose come later.
    Quick,
    /// Whatever it takes, within the budgets.
    Full,
}

/// What there is to say of a section by itself.
pub struct Said {
    pub(super) drafts: Vec<(&'static Finding, Draft)>,
    /// What its authors accept, each with the item that says so.
    pub(super) allows: Vec<(usize, Allow)>,
    finished: bool,
}

impl Said {
    /// Nothing, and there never will be.
    pub fn nothing() -> Said {
        Said { drafts: Vec::new(), allows: Vec::new(), finished: true }
    }

    /// The same, shared. That nothing is said is said of nearly every section, and takes no room.
    pub fn shared(mut self) -> Arc<Said> {
        static NOTHING: LazyLock<Arc<Said>> = LazyLock::new(|| Arc::new(Said::nothing()));
        if self.finished && self.drafts.is_empty() && self.allows.is_empty() {
            return Arc::clone(&NOTHING);
        }
        self.drafts.shrink_to_fit();
        Arc::new(self)
    }

    /// These drafts of a section, and what its authors accept.
    pub(super) fn these(drafts: Vec<(&'static Finding, Draft)>, section: &Section) -> Said {
        Said { drafts, allows: allows(section).0, finished: true }
    }

    /// Looks at a section; levels and patterns are meant by this ladder.
    pub fn of(section: &Section, meaning: &Meaning, ladder: &Ladder, effort: Effort) -> Said {
        let scene = Scene { section, meaning };
        let scenes: Vec<PuzzleScene> =
            meaning.puzzles().map(|puzzle| PuzzleScene::new(section, puzzle, ladder, effort)).collect();
        let sound = section.faults.is_empty() && meaning.faults.is_empty();
        let ways = if sound { &*LOOKING } else { &*ALONE };
        let mut drafts: Vec<(usize, Draft)> = Vec::new();
        for (at, (_, way)) in ways.iter().enumerate() {
            let mut say = |said: Vec<Draft>| drafts.extend(said.into_iter().map(|draft| (at, draft)));
            match way {
                Check::Syntax(_) | Check::Meaning(_) => say(of_faults(way, &scene)),
                Check::Section(look) => say(look(&scene)),
                Check::Puzzle(look) => scenes.iter().for_each(|scene| say(look(scene))),
                Check::Walk(_) | Check::Workspace(_) | Check::Afterwards | Check::Each(_) => {}
            }
        }
        let mut look_at = |walk: &WalkScene| drafts.extend(of_walk(walk, ways.iter().copied()));
        for scene in &scenes {
            scene.each_walk(&mut look_at);
        }
        drafts.sort_by_key(|(at, _)| *at);
        let drafts = drafts.into_iter().map(|(at, draft)| (ways[at].0, draft)).collect();
        let finished = !scenes.iter().any(PuzzleScene::is_unfinished);
        Said { drafts, allows: allows(section).0, finished }
    }

    /// Whether nothing more can be found, with more effort, in this section alone.
    pub fn is_finished(&self) -> bool {
        self.finished
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.drafts.is_empty()
    }

    /// Whether something is accepted here for sections that follow. `section` is the one that was looked at.
    pub fn accepts_for_others(&self, section: &Section) -> bool {
        let mut kinds = self.allows.iter().map(|(item, _)| section.items[*item].kind);
        kinds.any(ItemKind::is_opening)
    }
}

/// What is said of the faults that reading found; nothing, if that is found in another way.
pub(super) fn of_faults(way: &Check, scene: &Scene) -> Vec<Draft> {
    match way {
        Check::Syntax(word) => scene.section.faults.iter().filter_map(|it| word(scene, it)).collect(),
        Check::Meaning(word) => scene.meaning.faults.iter().filter_map(|it| word(scene, it)).collect(),
        _ => Vec::new(),
    }
}

/// What a walk shows, each with the place in `ways` of the one that finds it.
pub(super) fn of_walk(walk: &WalkScene, ways: impl Iterator<Item = Way>) -> Vec<(usize, Draft)> {
    let found = ways.enumerate().flat_map(|(at, (_, way))| {
        let found = if let Check::Walk(look) = way { look(walk) } else { Vec::new() };
        found.into_iter().map(move |draft| (at, draft))
    });
    found.collect()
}

/// A finding with one of the ways in which it is found.
pub(super) type Way = (&'static Finding, &'static Check);

/// Each finding with each of the ways in which it is found.
pub(super) fn ways() -> impl Iterator<Item = Way> {
    FINDINGS.iter().flat_map(|finding| finding.check.ways().iter().map(|way| (*finding, way)))
}

/// The ways that look at a section by itself, in order: gathered once, since there are many sections.
static ALONE: LazyLock<Vec<Way>> = LazyLock::new(|| {
    let others = |way: &Check| matches!(way, Check::Workspace(_) | Check::Afterwards | Check::Each(_));
    ways().filter(|(_, way)| !others(way)).collect()
});

/// Those of them that find something where reading has found nothing.
static LOOKING: LazyLock<Vec<Way>> = LazyLock::new(|| {
    let words = |way: &Check| matches!(way, Check::Syntax(_) | Check::Meaning(_));
    ALONE.iter().filter(|(_, way)| !words(way)).copied().collect()
});

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Book;
    use std::fs;

    /// What is said at once stays said: more effort adds findings, and changes to propose, and takes nothing back.
    #[test]
    fn what_is_said_at_once_is_said_with_full_effort() {
        let said = |said: &Said| {
            let all = said.drafts.iter().map(|(finding, draft)| {
                (
                    finding.name,
                    draft.span,
                    draft.message.clone(),
                    draft.fixes.iter().map(|it| it.title.clone()).collect::<Vec<_>>(),
                )
            });
            all.collect::<Vec<_>>()
        };
        let (mut finished, mut left_out, mut proposed_later) = (0, 0, 0);
        // Samples are broken in every way that there is a finding for; a digit more breaks what is sound in them.
        let folders = ["demo/volume", "demo/mistakes", "tests/samples"];
        let files = folders.into_iter().flat_map(|folder| fs::read_dir(folder).unwrap());
        let files = files.map(|file| file.unwrap().path());
        let files = files.filter(|file| file.extension().is_some_and(|it| it == "gset"));
        let texts = files.map(|file| fs::read_to_string(file).unwrap());
        for text in
            texts.flat_map(|text| [text.replacen(" . ", " 1 ", 1), text.replace("  1 ", "  2 "), text])
        {
            let book = Book::read("", &text);
            for (section, meaning) in book.tree.sections.iter().zip(&book.meanings) {
                let quick = Said::of(section, meaning, &book.ladder, Effort::Quick);
                let full = Said::of(section, meaning, &book.ladder, Effort::Full);
                let (few, all) = (said(&quick), said(&full));
                if quick.is_finished() {
                    assert_eq!(few, all);
                    finished += 1;
                    continue;
                }
                left_out += 1;
                for (name, span, message, fixes) in few {
                    let same = all.iter().find(|it| (it.0, it.1, &it.2) == (name, span, &message));
                    let (.., fixes_with_time) =
                        same.unwrap_or_else(|| panic!("{name}: {message} in {}", section.text));
                    assert!(fixes.iter().all(|title| fixes_with_time.contains(title)), "{name}: {fixes:?}");
                    proposed_later += usize::from(fixes.len() < fixes_with_time.len());
                }
            }
        }
        assert!(
            finished > 100 && left_out > 20 && proposed_later > 0,
            "{finished} {left_out} {proposed_later}"
        );
    }
}
