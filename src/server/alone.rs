//! What each section of an open text shows by itself, as far as it is known.

use super::convert::{Encoding, range_in};
use super::sections::Sections;
use super::shown::{Place, Shown};
use crate::book::{Book, Meaning, Spot, Touched};
use crate::ladder::Ladder;
use crate::lint::{Effort, Said, check_alone};
use crate::notation::Section;
use std::ops::Range;
use std::sync::Arc;

/// So many sections that a change touches are looked at before the next message; the others, later.
const MOST_AT_ONCE: usize = 16;

/// What is known of the sections of a text.
pub struct Alone {
    told: Vec<Option<Told>>,
    /// The sections of which there is something to show.
    speaking: Sections,
    /// Those that are not looked at in full yet.
    open: Sections,
    /// Grows whenever something else is shown of them.
    pub edition: u64,
}

/// What there is to say of a section by itself. It holds for its text, and goes with it.
struct Told {
    said: Arc<Said>,
    /// Something is accepted in it for sections that follow.
    accepts_for_others: bool,
    shown: Box<[Shown]>,
}

/// A section that is still to be looked at.
pub struct Pending {
    at: usize,
    section: Arc<Section>,
    meaning: Arc<Meaning>,
    ladder: Arc<Ladder>,
}

impl Pending {
    /// Looks at it, whatever it takes.
    pub fn look(&self) -> Said {
        Said::of(&self.section, &self.meaning, &self.ladder, Effort::Full)
    }
}

impl Alone {
    /// Nothing is known of so many sections yet.
    pub fn unknown(sections: usize) -> Alone {
        let (speaking, open) = (Sections::default(), Sections::all(0..sections));
        Alone { told: (0..sections).map(|_| None).collect(), speaking, open, edition: 0 }
    }

    /// Forgets all that is known: the same sections are looked at again.
    pub fn look_again(&mut self, book: &Book, encoding: Encoding) {
        let sections = self.told.len();
        *self = Alone { edition: self.edition, ..Alone::unknown(sections) };
        self.look_at_once(book, 0..sections, encoding);
    }

    /// Takes up a change of the book, and looks at what it touches.
    pub fn edit(&mut self, book: &Book, touched: &Touched, encoding: Encoding) {
        let gone = self.told.splice(touched.old.clone(), touched.new.clone().map(|_| None));
        let accepting = gone.flatten().any(|told| told.accepts_for_others);
        self.speaking.edit(touched, false);
        self.open.edit(touched, true);
        if accepting || touched.parts_moved {
            self.show_again(book, touched.new.end, encoding);
        }
        self.look_at_once(book, touched.new.clone(), encoding);
    }

    /// Looks at the first of these sections, as far as that takes no time.
    pub fn look_at_once(&mut self, book: &Book, sections: Range<usize>, encoding: Encoding) {
        for at in sections.take(MOST_AT_ONCE) {
            let said = Said::of(&book.tree.sections[at], &book.meanings[at], &book.ladder, Effort::Quick);
            self.tell(book, at, said.shared(), encoding);
        }
    }

    /// Takes up what there is to say of a section.
    fn tell(&mut self, book: &Book, at: usize, said: Arc<Said>, encoding: Encoding) {
        let accepts_for_others = said.accepts_for_others(&book.tree.sections[at]);
        self.open.set(at, !said.is_finished());
        let before = self.told[at].take();
        let accepted = before.as_ref().is_some_and(|before| before.accepts_for_others);
        let shown = before.map(|before| before.shown).unwrap_or_default();
        self.told[at] = Some(Told { said, accepts_for_others, shown });
        self.show(book, at, encoding);
        if accepts_for_others || accepted {
            self.show_again(book, at + 1, encoding);
        }
    }

    /// Decides anew what is shown of a section.
    fn show(&mut self, book: &Book, at: usize, encoding: Encoding) {
        let Some(told) = &self.told[at] else { return };
        // One that is not looked at yet is named, too: else the part before it would reach here.
        let nothing = Said::nothing();
        let said = |at: usize| (at, self.told[at].as_ref().map_or(&nothing, |told| &*told.said));
        let heads = [Some(0), book.part_of(at)].into_iter().flatten().map(said);
        let reports = if told.said.is_empty() {
            Vec::new()
        } else {
            check_alone(book, at, &told.said, &heads.collect::<Vec<_>>())
        };
        let section = &book.tree.sections[at];
        let place = |spot: Spot| Place { file: None, range: range_in(section, spot.span, encoding) };
        let shown: Box<[Shown]> = reports.into_iter().map(|report| Shown::new(report, place)).collect();
        self.speaking.set(at, !shown.is_empty());
        if let Some(told) = &mut self.told[at] {
            let looks_the_same = told.shown.len() == shown.len()
                && told.shown.iter().zip(&shown).all(|(before, now)| before.looks_like(now));
            self.edition += u64::from(!looks_the_same);
            told.shown = shown;
        }
    }

    /// Decides anew what is shown of all sections from here on: what is accepted for them has changed.
    fn show_again(&mut self, book: &Book, from: usize, encoding: Encoding) {
        (from..self.told.len()).for_each(|at| self.show(book, at, encoding));
    }

    /// Sections that are not looked at in full yet, the first `most` of them.
    pub fn pending(&self, book: &Book, most: usize) -> Vec<Pending> {
        let pending = self.open.iter().take(most).map(|at| Pending {
            at,
            section: Arc::clone(&book.tree.sections[at]),
            meaning: Arc::clone(&book.meanings[at]),
            ladder: Arc::clone(&book.ladder),
        });
        pending.collect()
    }

    /// Takes up what was found for a section, if it still stands where it stood and means what it meant.
    pub fn take(&mut self, book: &Book, pending: &Pending, said: Said, encoding: Encoding) {
        let Pending { at, section, meaning, ladder } = pending;
        let same = book.tree.sections.get(*at).is_some_and(|now| Arc::ptr_eq(now, section))
            && Arc::ptr_eq(&book.meanings[*at], meaning)
            && Arc::ptr_eq(&book.ladder, ladder);
        if same {
            self.tell(book, *at, said.shared(), encoding);
        }
    }

    /// What there is to say of each section by itself, once all are looked at.
    pub fn said(&self) -> Option<Vec<Arc<Said>>> {
        self.told.iter().map(|told| told.as_ref().map(|told| Arc::clone(&told.said))).collect()
    }

    /// Whether all its sections are looked at in full.
    pub fn is_looked_at(&self) -> bool {
        self.open.is_empty()
    }

    /// All that is shown, each with the lines before it.
    pub fn shown<'a>(&'a self, book: &'a Book) -> impl Iterator<Item = (&'a Shown, u32)> {
        self.speaking.iter().flat_map(|at| {
            let lines = book.lines_before(at);
            self.told[at].iter().flat_map(|told| &told.shown).map(move |shown| (shown, lines))
        })
    }
}
