//! Reads pictures back with an XML parser and the places of what is drawn; knows nothing of how it came there.

use gridsetter::board::Cell;
use roxmltree::{Document, Node, ParsingOptions};
use std::collections::BTreeSet;

/// The side of a cell in a picture.
const CELL: f32 = 40.0;

/// A text in a cell.
pub type Texts = BTreeSet<(Cell, String)>;

/// What is drawn.
#[derive(Default, PartialEq, Eq, Debug)]
pub struct Drawn {
    pub givens: Texts,
    pub entries: Texts,
    pub known: Texts,
    pub marks: Texts,
    pub open: Texts,
    pub facts: Texts,
    pub crosses: BTreeSet<Cell>,
    pub rings: BTreeSet<Cell>,
    /// Lines from a cell to a cell.
    pub sights: BTreeSet<(Cell, Cell)>,
    /// The names of the links of a chain.
    pub links: Texts,
    /// How many arrows there are.
    pub arrows: usize,
    /// How many houses have a line around them.
    pub outlines: usize,
    /// How many marks are struck.
    pub strokes: usize,
    pub title: Option<String>,
    /// The text alternative, a line each.
    pub words: Vec<String>,
}

/// The file, as XML.
pub fn document(text: &str) -> Document<'_> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// Every picture in a file of SVG or HTML.
pub fn pictures(text: &str) -> Vec<Drawn> {
    document(text)
        .descendants()
        .filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "svg")))
        .map(drawn)
        .collect()
}

fn drawn(svg: Node) -> Drawn {
    let mut drawn = Drawn::default();
    for node in svg.children().filter(Node::is_element) {
        let said = || node.text().unwrap_or_default().to_owned();
        match (node.tag_name().name(), node.attribute("class")) {
            ("title", _) => drawn.title = Some(said()),
            ("desc", _) => drawn.words = said().lines().map(str::to_owned).collect(),
            ("g", Some("givens")) => drawn.givens = texts(node),
            ("g", Some("entries")) => drawn.entries = texts(node),
            ("g", Some("known")) => drawn.known = texts(node),
            ("g", Some("marks")) => drawn.marks = texts(node),
            ("g", Some("open")) => drawn.open = texts(node),
            ("g", Some("facts")) => drawn.facts = texts(node),
            ("g", Some("links")) => drawn.links = texts(node),
            ("g", Some("arrows")) => drawn.arrows = elements(node).count(),
            ("g", Some("crosses")) => {
                drawn.crosses = elements(node).map(|path| middle_of_path(&path)).collect();
            }
            ("g", Some("rings")) => {
                drawn.rings = elements(node).map(|it| cell(number(&it, "cx"), number(&it, "cy"))).collect();
            }
            ("g", Some("sights")) => {
                let ends = |line: Node| {
                    let at = |x, y| cell(number(&line, x), number(&line, y));
                    (at("x1", "y1"), at("x2", "y2"))
                };
                drawn.sights = elements(node).map(ends).collect();
            }
            ("path", Some("outline")) => drawn.outlines += 1,
            ("path", Some("strokes")) => {
                drawn.strokes = node.attribute("d").unwrap_or_default().matches('M').count();
            }
            _ => {}
        }
    }
    drawn
}

fn elements<'a>(node: Node<'a, 'a>) -> impl Iterator<Item = Node<'a, 'a>> {
    node.children().filter(Node::is_element)
}

fn texts(group: Node) -> Texts {
    let text = |node: Node| {
        let size = number(&node, "font-size");
        let at = cell(number(&node, "x"), number(&node, "y") - size * 0.3);
        (at, node.text().unwrap_or_default().to_owned())
    };
    let children: Vec<Node> = group.children().filter(Node::is_element).collect();
    let all: Texts = children.iter().map(|&node| text(node)).collect();
    assert_eq!(all.len(), children.len(), "nothing is drawn twice");
    all
}

fn number(node: &Node, name: &str) -> f32 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("{name} of {node:?}"))
}

/// The middle of the first piece of a path, `Mx yLx y`.
fn middle_of_path(path: &Node) -> Cell {
    let first = path.attribute("d").unwrap().split('M').nth(1).unwrap();
    let numbers: Vec<f32> = first.split([' ', 'L']).map(|number| number.parse().unwrap()).collect();
    cell(f32::midpoint(numbers[0], numbers[2]), f32::midpoint(numbers[1], numbers[3]))
}

fn cell(x: f32, y: f32) -> Cell {
    let at = |along: f32| (0..25_u8).find(|&n| along < (f32::from(n) + 1.0) * CELL).unwrap();
    assert!(x > 0.0 && y > 0.0, "in the grid: {x} {y}");
    Cell::new(at(y), at(x))
}
