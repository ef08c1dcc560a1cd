//! In which words steps are told.

use crate::book::{Book, Puzzle};
use crate::print;
use crate::words::{Language, Naming, Register, Signs, Voice};
use clap::{Args, ValueEnum};

/// In which words.
#[derive(Args, Debug)]
pub struct VoiceOptions {
    /// Tell it in this language; English, where nothing else is said
    #[arg(long, value_enum, value_name = "LANGUAGE")]
    language: Option<Tongue>,
    /// Tell it without the names of patterns, for children and beginners
    #[arg(long)]
    plain: bool,
    /// Call cells by this way of naming them; short, where nothing else is said
    #[arg(long, value_enum, value_name = "WAY")]
    cells: Option<Cells>,
}

/// The language.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Tongue {
    /// English
    English,
    /// German
    German,
}

/// How cells are called.
#[derive(ValueEnum, Clone, Copy, PartialEq, Eq, Debug)]
enum Cells {
    /// r4c1
    Short,
    /// D1: rows by letter
    Letters,
    /// "row 4, column 1"
    Words,
}

impl VoiceOptions {
    /// The voice that is meant.
    pub fn voice(&self) -> Voice<'static> {
        self.or(Language::default(), Naming::default())
    }

    /// The voice that is meant, with a puzzle's own signs for digits.
    pub fn voice_for<'a>(&self, puzzle: &'a Puzzle) -> Voice<'a> {
        self.voice().with_signs(Signs(puzzle.facts.signs()))
    }

    /// The voice that is meant; where nothing is said, that of the book.
    pub fn voice_of(&self, book: &Book) -> Voice<'static> {
        let Voice { language, naming, .. } = print::voice_of(book);
        self.or(language, naming)
    }

    fn or(&self, language: Language, naming: Naming) -> Voice<'static> {
        Voice {
            language: match self.language {
                Some(Tongue::English) => Language::English,
                Some(Tongue::German) => Language::German,
                None => language,
            },
            register: if self.plain { Register::Plain } else { Register::Full },
            naming: match self.cells {
                Some(Cells::Short) => Naming::Short,
                Some(Cells::Letters) => Naming::Letters,
                Some(Cells::Words) => Naming::Words,
                None => naming,
            },
            signs: Signs::default(),
        }
    }
}
