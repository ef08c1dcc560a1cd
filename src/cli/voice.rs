//! In which words steps are told.

use crate::words::{Language, Naming, Register, Voice};
use clap::{Args, ValueEnum};

/// In which words.
#[derive(Args, Debug)]
pub struct VoiceOptions {
    /// Tell it in this language
    #[arg(long, value_enum, value_name = "LANGUAGE", default_value_t = Tongue::English)]
    language: Tongue,
    /// Tell it without the names of patterns, for children and beginners
    #[arg(long)]
    plain: bool,
    /// Call cells by this way of naming them
    #[arg(long, value_enum, value_name = "WAY", default_value_t = Cells::Short)]
    cells: Cells,
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
    pub fn voice(&self) -> Voice {
        Voice {
            language: match self.language {
                Tongue::English => Language::English,
                Tongue::German => Language::German,
            },
            register: if self.plain { Register::Plain } else { Register::Full },
            naming: match self.cells {
                Cells::Short => Naming::Short,
                Cells::Letters => Naming::Letters,
                Cells::Words => Naming::Words,
            },
        }
    }
}
