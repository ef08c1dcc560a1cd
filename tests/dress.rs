//! Puzzles in another dress: whatever their files hold, what was true is true afterwards, and the way back is the way back.

#![allow(clippy::unwrap_used, reason = "a text that cannot be read is a failed test")]

use gridsetter::board::{Digit, Size};
use gridsetter::book::{Book, Entry, Puzzle, Workspace};
use gridsetter::edit::{Change, Dress, Tied};
use gridsetter::format::format;
use gridsetter::lint::check;
use gridsetter::sameness::{Transformation, Turn};
use std::fs;

/// The texts of `tests/samples` and of our own collections.
fn texts() -> Vec<(String, String)> {
    let root = env!("CARGO_MANIFEST_DIR");
    let mut all = Vec::new();
    for folder in ["tests/samples", "demo/volume"] {
        let mut files: Vec<_> =
            fs::read_dir(format!("{root}/{folder}")).unwrap().map(|it| it.unwrap().path()).collect();
        files.sort();
        for file in files.into_iter().filter(|file| file.extension().is_some_and(|it| it == "gset")) {
            all.push((file.display().to_string(), fs::read_to_string(&file).unwrap()));
        }
    }
    assert!(all.len() > 14);
    all
}

/// The puzzles of a text that have a layout, by section and entry.
fn puzzles(book: &Book) -> Vec<(usize, usize)> {
    let of_section = |at: usize| {
        let entries = book.meanings[at].entries.iter().enumerate();
        let of_entry = move |(entry, it): (usize, &Entry)| match it {
            Entry::Puzzle(puzzle) if puzzle.layout.is_some() => Some((at, entry)),
            _ => None,
        };
        entries.filter_map(of_entry).collect::<Vec<_>>()
    };
    (0..book.meanings.len()).flat_map(of_section).collect()
}

fn puzzle(book: &Book, (section, entry): (usize, usize)) -> &Puzzle {
    match &book.meanings[section].entries[entry] {
        Entry::Puzzle(puzzle) => puzzle,
        _ => panic!("it was a puzzle"),
    }
}

/// A text with one of its puzzles, what speaks of it, its answers and the lessons that start from it in another dress.
fn dressed(text: &str, place: (usize, usize), how: impl Fn(Size) -> Transformation) -> Result<String, Tied> {
    let book = Book::read("a.gset", text);
    let (own, sections) = (puzzle(&book, place), &book.tree.sections);
    let dress = Dress::of(&sections[place.0], own, how(own.layout.as_ref().unwrap().size()))?;
    let mut changes: Vec<(usize, Change)> =
        dress.puzzle(&sections[place.0], own).into_iter().map(|change| (place.0, change)).collect();
    for (at, (section, meaning)) in sections.iter().zip(&book.meanings).enumerate() {
        let id = own.id.as_ref().map(|id| id.text.as_str());
        for (item, entry) in section.items.iter().zip(&meaning.entries) {
            let speaks_of_it =
                || book.spoken_of(at).is_some_and(|(other, it)| other == place.0 && it.id == own.id);
            let more = match entry {
                Entry::Answer(answer)
                    if id.is_some() && answer.id.as_ref().map(|it| it.text.as_str()) == id =>
                {
                    dress.answer(&book, at, answer)?
                }
                Entry::Puzzle(lesson) if lesson.borrows(section).is_some_and(|(it, _)| Some(it) == id) => {
                    dress.lesson(section, lesson)?
                }
                Entry::Preface | Entry::Part if speaks_of_it() => dress.text(section, item),
                _ => Vec::new(),
            };
            changes.extend(more.into_iter().map(|change| (at, change)));
        }
    }
    let mut new = text.to_owned();
    changes.sort_by_key(|(at, change)| (*at, change.span));
    for (at, change) in changes.into_iter().rev() {
        let begin = book.begin(at);
        let span = change.span.range();
        new.replace_range(begin + span.start..begin + span.end, &change.text);
    }
    Ok(new)
}

/// The names of what is found, in order of the alphabet.
fn found(text: &str) -> Vec<&'static str> {
    let reports = check(&Workspace::new(vec![Book::read("a.gset", text)]));
    let mut names: Vec<&str> = reports.iter().map(|report| report.finding.name).collect();
    names.sort_unstable();
    names
}

#[test]
fn other_names_for_digits_keep_what_is_found_and_go_back() {
    let mut seen = 0;
    for (file, text) in texts() {
        let before = found(&text);
        let book = Book::read("a.gset", &text);
        for place in puzzles(&book) {
            let swap = |size| Transformation::swapping(size, Digit::new(1).unwrap(), Digit::new(3).unwrap());
            let Ok(new) = dressed(&text, place, swap) else { continue };
            assert_eq!(found(&new), before, "{file}, {place:?}\n{new}");
            assert_eq!(dressed(&new, place, swap).as_deref(), Ok(&*text), "{file}, {place:?}");
            // A lesson may be without these digits.
            seen += usize::from(new != text);
        }
    }
    assert!(seen > 20, "{seen} puzzles");
}

/// A text in its one form, less what a turned puzzle has to say of its boxes and says from then on.
fn formatted(text: &str) -> String {
    let text = format(&Book::read("a.gset", text));
    text.lines().filter(|line| !line.starts_with("boxes ")).collect::<Vec<_>>().join("\n")
}

#[test]
fn turns_keep_what_is_found_and_go_back() {
    let ways = [
        (Turn::Right, Turn::Left),
        (Turn::Half, Turn::Half),
        (Turn::Across, Turn::Across),
        (Turn::Diagonal, Turn::Diagonal),
    ];
    let mut seen = 0;
    for (file, text) in texts() {
        let before = found(&text);
        let book = Book::read("a.gset", &text);
        for place in puzzles(&book) {
            for (turn, back) in ways {
                let Ok(new) = dressed(&text, place, |size| turn.of(size)) else { continue };
                assert_eq!(found(&new), before, "{file}, {place:?}, {turn:?}\n{new}");
                let old = dressed(&new, place, |size| back.of(size)).unwrap();
                assert_eq!(formatted(&old), formatted(&text), "{file}, {place:?}, {turn:?}");
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "{seen} turns");
}
