//! A step of reasoning, told in sentences: where to look, what is there, what follows.
//!
//! What is said, and of which houses, cells and digits, is chosen here and knows no language. How it is said is the
//! business of a language, one module each: it has a whole sentence for every kind, and no sentence is put together
//! from pieces of others.

mod barred;
mod chains;
mod english;
mod fit;
mod further;
mod german;
mod labels;
mod outline;
mod place;
mod signs;
mod tell;
mod tongue;
mod what;
mod why;
mod writing;

use crate::board::{Cell, Digit};
use crate::step::{Deduction, Method, Position};
pub use chains::{LinkName, Thread, ThreadEnd, ThreadLink, thread};
use english::English;
use german::German;
pub use labels::Labels;
use outline::Line;
pub use outline::{lines, markdown};
pub use signs::Signs;
use tell::Teller;
use tongue::Tongue;

/// The language of the sentences.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// German.
    German,
}

/// For whom the sentences are.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub enum Register {
    /// In the terms of the trade.
    #[default]
    Full,
    /// Without the names of patterns: for children and beginners.
    Plain,
}

/// How cells are called.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub enum Naming {
    /// `r4c1`.
    #[default]
    Short,
    /// `D1`: rows by letter.
    Letters,
    /// "row 4, column 1".
    Words,
    /// `{r4c1}`: for prose that stands in a text of the notation, where what is in braces is checked.
    Braces,
}

/// How much is told.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
pub enum Depth {
    /// Only the place to look at.
    Where,
    /// What is there, and what follows.
    What,
    /// The whole reason.
    Why,
}

/// In which words a step is told.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, Hash)]
pub struct Voice<'a> {
    /// The language.
    pub language: Language,
    /// For whom.
    pub register: Register,
    /// How cells are called.
    pub naming: Naming,
    /// What digits are called.
    pub signs: Signs<'a>,
}

impl<'a> Voice<'a> {
    fn tongue(self) -> Box<dyn Tongue + 'a> {
        let Voice { register, naming, signs, .. } = self;
        match self.language {
            Language::English => Box::new(English { register, naming, signs }),
            Language::German => Box::new(German { register, naming, signs }),
        }
    }

    /// The same, with these signs for the digits.
    #[must_use]
    pub fn with_signs(self, signs: Signs<'_>) -> Voice<'_> {
        let Voice { language, register, naming, .. } = self;
        Voice { language, register, naming, signs }
    }
}

/// The most words that a sentence has.
pub const MOST_WORDS: usize = 25;

/// A step in sentences of at most [`MOST_WORDS`] words, with a blank between them. What [`outline()`] has in lines, this has in
/// one.
///
/// `before`, `step` and `earlier` are as there.
pub fn tell(
    voice: &Voice,
    depth: Depth,
    before: &Position,
    step: &Deduction,
    earlier: &[Deduction],
) -> String {
    let told = told(voice, depth, before, step, earlier);
    told.into_iter().flat_map(|line| line.sentences).collect::<Vec<_>>().join(" ")
}

/// A step in the sentences of [`tell()`], in lines: each case of a trial has its own, with two blanks before it and two more
/// for each case that it stands in; [`lines`] reads them.
///
/// `before` is what the reader knows before the step; under scanning its candidates are those that digits and
/// remembered facts leave. `earlier` are the steps before, of which `earlier[n - 1]` is step `n`.
pub fn outline(
    voice: &Voice,
    depth: Depth,
    before: &Position,
    step: &Deduction,
    earlier: &[Deduction],
) -> String {
    outline::written(&told(voice, depth, before, step, earlier))
}

fn told(
    voice: &Voice,
    depth: Depth,
    before: &Position,
    step: &Deduction,
    earlier: &[Deduction],
) -> Vec<Line> {
    let tongue = voice.tongue();
    let full = voice.register == Register::Full;
    let teller = Teller { tongue: tongue.as_ref(), full, before, step, earlier };
    let is_chain = step.pattern.is_chain();
    let sentences = match depth {
        Depth::Where if is_chain => teller.chain_place(),
        Depth::What if is_chain => teller.chain_what(),
        Depth::Why if is_chain => return teller.chain_why(),
        Depth::Where => teller.place(),
        Depth::What => teller.what(),
        Depth::Why => teller.why(),
    };
    vec![Line::of(sentences)]
}

/// For each digit that an open cell cannot hold, rising, why; none for a cell that holds a digit. `why_not` gives a step
/// that strikes a digit which no digit in sight bars, and what is known before it.
///
/// # Panics
/// If the grid has no such cell.
pub fn candidates_out(
    voice: &Voice,
    position: &Position,
    cell: Cell,
    why_not: impl Fn(Digit) -> Option<(Position, Deduction)>,
) -> Vec<String> {
    if position.grid().get(cell).is_some() {
        return Vec::new();
    }
    let tongue = voice.tongue();
    let layout = position.layout();
    let because = |digit: Digit| {
        let holder = layout.slots(cell).iter().find_map(|slot| {
            let house = layout.at(slot.house);
            let at = house.cells.iter().find(|&&other| position.grid().get(other) == Some(digit))?;
            Some((&house.name, *at))
        });
        match holder {
            Some((house, at)) => tongue.out_by_digit(digit, house, at),
            None => match why_not(digit) {
                Some((before, step)) => {
                    format!("{} {}", tongue.out(digit), tell(voice, Depth::Why, &before, &step, &[]))
                }
                None => tongue.out_earlier(digit),
            },
        }
    };
    let out = layout.size().digits() - position.candidates(cell);
    out.iter().map(because).collect()
}

/// That there is no next step by this way of looking.
pub fn stuck(voice: &Voice, method: Method) -> String {
    voice.tongue().stuck(method)
}
