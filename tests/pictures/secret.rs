//! What is printed without answers holds none, wherever one looks in it.

use super::reader::pictures;
use super::{each_subject, press};
use gridsetter::board::Grid;
use gridsetter::print::{Page, Press, html, text};
use gridsetter::study::Start;

/// All that can be printed of a page.
fn printed(page: &Page, press: &Press) -> Vec<String> {
    let labels = press.voice.labels();
    let mut all =
        vec![page.name.clone(), page.title(), text(page, press), html(&[(page.clone(), press.clone())])];
    all.extend(page.pictures().map(|(picture, _)| picture.svg(press.look, &press.width, &labels)));
    all
}

/// Whether a text tells the solution: in a line, in words, or drawn.
fn tells(text: &str, solution: &Grid, givens: &Grid) -> bool {
    let line = solution.to_string();
    let side = solution.size().usize();
    let symbols = |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>();
    let rows = line.as_bytes().chunks(side);
    let unlike_givens = |row: &&[u8]| !givens.to_string().contains(std::str::from_utf8(row).unwrap());
    let said = |row: &[u8]| {
        let joined: Vec<String> = row.iter().map(|&symbol| char::from(symbol).to_string()).collect();
        text.replace(';', ",").contains(&joined.join(", "))
    };
    symbols(text).contains(&line) || rows.filter(unlike_givens).any(said)
}

#[test]
fn a_page_without_answers_holds_none() {
    let mut count = 0;
    each_subject(|subject| {
        let Ok(Start { solution: Some(solution), givens, .. }) = Start::of(subject.puzzle) else { return };
        count += 1;
        for words in [false, true] {
            let page = subject.page().unwrap();
            for text in printed(&page, &press(words)) {
                assert!(!tells(&text, &solution, &givens), "{text}");
                if text.contains("<svg") {
                    for drawn in pictures(&text) {
                        assert_eq!(drawn.givens.len(), givens.filled());
                        assert!(drawn.entries.is_empty() && drawn.known.is_empty());
                    }
                }
            }
            // The same eyes find it where it is.
            let answer = printed(&subject.answer(&solution).unwrap(), &press(words));
            assert!(answer[2..].iter().all(|text| tells(text, &solution, &givens)));
            assert!(!tells(&answer[0], &solution, &givens) && !tells(&answer[1], &solution, &givens));
        }
    });
    assert!(count > 20, "{count} puzzles have an answer");
}
