//! Steps told in sentences: a page of samples in every language, and what must hold of every sentence of real walks.

#![allow(clippy::unwrap_used, reason = "in a test a panic is the report")]

mod facts;
mod found;
mod naming;
mod samples;
mod threads;
mod walks;

use gridsetter::words::{Depth, Language, MOST_WORDS, Naming, Register, Voice};

const LANGUAGES: [Language; 2] = [Language::English, Language::German];
const REGISTERS: [Register; 2] = [Register::Full, Register::Plain];
const NAMINGS: [Naming; 3] = [Naming::Short, Naming::Letters, Naming::Words];
const DEPTHS: [Depth; 3] = [Depth::Where, Depth::What, Depth::Why];

/// Every voice there is.
fn voices() -> impl Iterator<Item = Voice<'static>> {
    LANGUAGES.into_iter().flat_map(|language| {
        REGISTERS.into_iter().flat_map(move |register| {
            NAMINGS.into_iter().map(move |naming| Voice { language, register, naming, ..Voice::default() })
        })
    })
}

/// The sentences of a text; symbols and names of cells hold no full stop.
fn sentences(text: &str) -> impl Iterator<Item = &str> {
    text.split_inclusive(". ").map(str::trim_end)
}

/// What must hold of every text in every voice.
fn check(voice: Voice, text: &str) {
    assert!(text.ends_with('.') && !text.contains("  "), "{text}");
    for sentence in sentences(text) {
        let words = sentence.split_whitespace().count();
        assert!((2..=MOST_WORDS).contains(&words), "{words} words: {sentence}");
        assert!(sentence.ends_with('.') && !sentence.contains(" ."), "{sentence}");
        assert!(!sentence.starts_with(char::is_lowercase), "{sentence}");
    }
    if voice.register == Register::Plain {
        for name in PATTERN_NAMES {
            assert!(!text.to_lowercase().contains(name), "{name}: {text}");
        }
    }
}

/// What only those know who know the names of patterns, in lower case.
const PATTERN_NAMES: [&str; 27] = [
    "single",
    "naked",
    "hidden",
    "locked",
    "candidate",
    "pair",
    "triple",
    "quad",
    "x-wing",
    "swordfish",
    "jellyfish",
    "chain",
    "finned",
    "wing",
    "unique",
    "trap",
    "nackt",
    "versteckt",
    "gebunden",
    "kandidat",
    "paar",
    "dreier",
    "vierer",
    "kette",
    "flosse",
    "eindeutig",
    "falle",
];
