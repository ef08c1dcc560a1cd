//! What is read back from a picture is what it was made of.

use super::reader::{Texts, pictures};
use super::{press, width};
use gridsetter::board::{Cell, Digit, DigitSet, Grid, Layout, Size};
use gridsetter::draw::{Content, Look, Picture, Stands, figure};
use gridsetter::print::{Block, Page, html, text};
use gridsetter::words::Voice;
use proptest::prelude::*;

/// A picture of a random sheet, of any size that has usual boxes, plain or with more houses.
fn picture() -> impl Strategy<Value = Picture> {
    let sides = prop::sample::select(vec![4_u8, 6, 8, 9, 10, 12, 15, 16, 25]);
    (sides, any::<bool>()).prop_flat_map(|(side, diagonals)| {
        let cells = usize::from(side) * usize::from(side);
        prop::collection::vec((0..7_u8, 1..=side, any::<u32>()), cells).prop_map(move |drawn| {
            let size = Size::new(side).unwrap();
            let plain = Layout::classic(size).unwrap();
            let layout = if diagonals { plain.and_diagonals() } else { plain };
            let mut picture = Picture::new(&layout, &Grid::empty(size), &Grid::empty(size));
            for (cell, (kind, digit, bits)) in size.all_cells().zip(drawn) {
                let digit = Digit::new(digit).unwrap();
                let digits = (DigitSet::from_bits(bits) & size.digits()) | DigitSet::single(digit);
                let content = picture.content_mut(cell);
                match kind {
                    0 => content.stands = Stands::Given(digit),
                    1 => content.stands = Stands::Entered(digit),
                    2 => content.stands = Stands::Known(digit),
                    3 => content.closed = digits,
                    4 => content.open = digits,
                    5 => *content = Content { closed: digits, open: DigitSet::single(digit), ..*content },
                    _ => {}
                }
            }
            picture
        })
    })
}

fn cells(picture: &Picture) -> Vec<(Cell, Content)> {
    picture.layout().size().all_cells().map(|cell| (cell, *picture.content(cell))).collect()
}

/// What a picture should hold of one kind.
fn expected(picture: &Picture, texts: impl Fn(&Content) -> Vec<String>) -> Texts {
    cells(picture)
        .into_iter()
        .flat_map(|(cell, content)| texts(&content).into_iter().map(move |text| (cell, text)))
        .collect()
}

fn check(picture: &Picture, read: &super::reader::Drawn) {
    let stands =
        |is: fn(Stands) -> Option<String>| expected(picture, |it| is(it.stands).into_iter().collect());
    assert_eq!(
        read.givens,
        stands(|it| matches!(it, Stands::Given(_)).then(|| it.digit().unwrap().to_string()))
    );
    assert_eq!(
        read.entries,
        stands(|it| matches!(it, Stands::Entered(_)).then(|| it.digit().unwrap().to_string()))
    );
    assert_eq!(
        read.known,
        stands(|it| matches!(it, Stands::Known(_)).then(|| format!("{}!", it.digit().unwrap())))
    );
    assert_eq!(read.marks, expected(picture, |it| it.closed.iter().map(|digit| digit.to_string()).collect()));
    let open = |it: &Content| (!it.open.is_empty()).then(|| format!("{}?", it.open)).into_iter().collect();
    assert_eq!(read.open, expected(picture, open));
    let size = picture.layout().size();
    let across = usize::from(picture.layout().boxes().unwrap().columns);
    let said: Vec<Vec<String>> = cells(picture)
        .chunks(size.usize())
        .map(|row| row.iter().map(|(_, content)| said(content)).collect())
        .collect();
    for ((line, row), n) in read.words.iter().zip(&said).zip(1..) {
        let boxes: Vec<String> = row.chunks(across).map(|part| part.join(", ")).collect();
        assert_eq!(*line, format!("row {n}: {}", boxes.join("; ")));
    }
    let (given, entered) = (read.givens.len(), read.entries.len());
    let told = match (given, entered) {
        (0, _) | (_, 0) => None,
        _ if entered <= given => Some(("Written in", &read.entries)),
        _ => Some(("Given", &read.givens)),
    };
    let diagonals = picture.layout().diagonals();
    let diagonals = diagonals.then(|| "Each of the two diagonals holds every digit once, too.".to_owned());
    let told = told.map(|(what, texts)| {
        let mut cells: Vec<String> = texts.iter().map(|(cell, _)| cell.to_string()).collect();
        let last = cells.pop().unwrap();
        let before = if cells.is_empty() { String::new() } else { format!("{} and ", cells.join(", ")) };
        format!("{what}: {before}{last}.")
    });
    assert_eq!(read.words[size.usize()..], diagonals.into_iter().chain(told).collect::<Vec<_>>());
}

/// A cell in words.
fn said(content: &Content) -> String {
    let or = |digits: DigitSet| digits.iter().map(|it| it.to_string()).collect::<Vec<_>>().join(" or ");
    match (content.stands, content.closed.is_empty(), content.open.is_empty()) {
        (Stands::Given(digit) | Stands::Entered(digit), ..) => digit.to_string(),
        (Stands::Known(digit), ..) => format!("{digit} known"),
        (Stands::Nothing, true, true) => "blank".to_owned(),
        (Stands::Nothing, false, true) => format!("marked {}", or(content.closed)),
        (Stands::Nothing, true, false) => format!("perhaps {}", or(content.open)),
        (Stands::Nothing, false, false) => {
            format!("marked {} perhaps {}", or(content.closed), or(content.open))
        }
    }
}

/// A cell in plain characters.
fn token(content: &Content, side: u8) -> String {
    let part = if side > 9 { "/" } else { "" };
    let list = |digits: DigitSet| digits.iter().map(|it| it.to_string()).collect::<Vec<_>>().join(part);
    let open = if content.open.is_empty() { String::new() } else { format!("{}?", list(content.open)) };
    match content.stands {
        Stands::Given(digit) | Stands::Entered(digit) => digit.to_string(),
        Stands::Known(digit) => format!("{digit}!"),
        Stands::Nothing if content.closed.is_empty() && content.open.is_empty() => ".".to_owned(),
        Stands::Nothing => list(content.closed) + &open,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn digits_and_marks_come_back(picture in picture()) {
        let labels = Voice::default().labels();
        let file = picture.svg(Look::default(), &width(), &labels);
        let read = pictures(&file);
        prop_assert_eq!(read.len(), 1);
        check(&picture, &read[0]);

        let part = figure(&picture, "it", Look::default(), &width(), &labels, true);
        check(&picture, &pictures(&part)[0]);

        let page = Page { name: "it".into(), heading: vec![], body: vec![Block::Picture(Box::new(picture.clone()))] };
        let whole = html(&[(page.clone(), press(true)), (page.clone(), press(false))]);
        let read = pictures(&whole);
        prop_assert_eq!(read.len(), 2);
        for read in &read {
            check(&picture, read);
        }

        let plain = text(&page, &press(false));
        let side = picture.layout().size().side();
        let tokens: Vec<&str> = plain
            .lines()
            .filter(|line| line.starts_with('|'))
            .flat_map(str::split_whitespace)
            .filter(|token| *token != "|")
            .collect();
        let expected: Vec<String> = cells(&picture).iter().map(|(_, content)| token(content, side)).collect();
        prop_assert_eq!(tokens, expected);
    }
}

#[test]
fn other_signs_are_printed_for_the_digits() {
    let layout = Layout::classic(Size::new(12).unwrap()).unwrap();
    let mut grid = Grid::empty(layout.size());
    for (cell, digit) in layout.size().all_cells().zip(layout.size().digits().iter()) {
        grid.set(cell, Some(digit));
    }
    let signs: Vec<String> = (1..=12).map(|n: u8| n.to_string()).collect();
    let picture = Picture::new(&layout, &grid, &grid).with_signs(signs.clone());
    let file = picture.svg(Look::default(), &width(), &Voice::default().labels());
    let read = &pictures(&file)[0];
    let expected: Texts = layout.size().all_cells().zip(signs).collect();
    assert_eq!(read.givens, expected);
    assert_eq!(read.words[0], "row 1: 1, 2, 3, 4; 5, 6, 7, 8; 9, 10, 11, 12");
}
