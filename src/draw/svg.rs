//! A picture as SVG. Only shapes and text with attributes that SVG 1.1 has: no style sheet, no script, no file beside it.

use super::picture::{Noted, Sight};
use super::thread::Arrow;
use super::{Length, Look, Picture, Ring, Shade, Stands};
use crate::board::{Cell, CellSet, Digit, DigitSet, House, HouseName};
use crate::words::{Labels, Naming};
use std::fmt::{self, Write};

/// The side of a cell; all other lengths are in the same unit.
const CELL: f32 = 40.0;
/// Around the grid.
const MARGIN: f32 = 3.0;
/// Where rows and columns are labelled.
const EDGE: f32 = 17.0;
/// How wide a figure is for a font of size 1, in the widest of the fonts named.
const FIGURE: f32 = 0.64;
/// The size of the font of remembered facts.
const FACT: f32 = 12.0;
/// The size of the font of the names of links.
const LINK: f32 = 10.0;
/// Fonts in which 1 and I differ, as sizes from 18 need both.
const FONTS: &str = "Verdana, 'DejaVu Sans Mono', monospace";

/// How the text alternative is tied to the picture.
#[derive(Clone, Copy)]
pub(super) enum Within<'a> {
    /// A file of its own: the title is the root's first child, which is all that SVG needs.
    File,
    /// A page of HTML, in which this name begins the names of its parts.
    Page(&'a str),
}

/// The text with the signs of XML written out, and what XML cannot hold as U+FFFD.
pub fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\n' => safe.push('\n'),
            '\u{fffe}' | '\u{ffff}' => safe.push('\u{fffd}'),
            c if c.is_control() => safe.push('\u{fffd}'),
            c => safe.push(c),
        }
    }
    safe
}

impl Picture {
    /// The picture as a file of SVG, so wide; its title and its words are the text alternative.
    pub fn svg(&self, look: Look, width: &Length, labels: &Labels) -> String {
        let mut text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned();
        text.push_str(&self.svg_within(look, width, labels, Within::File));
        text
    }

    pub(super) fn svg_within(&self, look: Look, width: &Length, labels: &Labels, within: Within) -> String {
        let mut drawing = Drawing { picture: self, look, text: String::new() };
        drawing.draw(width, labels, within).expect("a String takes all that is written to it");
        drawing.text
    }
}

/// What is being drawn.
struct Drawing<'a> {
    picture: &'a Picture,
    look: Look,
    text: String,
}

/// The left or upper end of the cell in this row or column.
fn edge(at: u8) -> f32 {
    f32::from(at) * CELL
}

/// The middle of a cell.
fn middle(cell: Cell) -> (f32, f32) {
    (edge(cell.col()) + CELL / 2.0, edge(cell.row()) + CELL / 2.0)
}

/// Where the names of the links of a chain stand in a cell: the middle.
fn links_place(cell: Cell) -> (f32, f32) {
    let (x, _) = middle(cell);
    (x, edge(cell.row()) + CELL - 7.5)
}

/// A number with at most one place behind the point.
struct N(f32);

impl fmt::Display for N {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rounded = (self.0 * 10.0).round() / 10.0;
        write!(f, "{}", if rounded == 0.0 { 0.0 } else { rounded })
    }
}

impl Drawing<'_> {
    fn draw(&mut self, width: &Length, labels: &Labels, within: Within) -> fmt::Result {
        let frame = self.picture.shown().fold(None, |frame: Option<[u8; 4]>, cell| {
            let (row, col) = (cell.row(), cell.col());
            Some(frame.map_or([row, col, row, col], |[top, left, bottom, right]| {
                [top.min(row), left.min(col), bottom.max(row), right.max(col)]
            }))
        });
        let [top, left, bottom, right] = frame.unwrap_or_default();
        let before = MARGIN + if self.picture.edges.is_some() { EDGE } else { 0.0 };
        let (x, y) = (edge(left) - before, edge(top) - before);
        let (wide, high) = (edge(right + 1) + MARGIN - x, edge(bottom + 1) + MARGIN - y);
        // Where only a part is drawn, its cells are as large as those of the whole grid would be.
        let whole = edge(self.picture.size().side()) + before + MARGIN;
        self.open(&width.part(wide / whole), labels, within, [x, y, wide, high])?;
        writeln!(
            self.text,
            r##"<rect x="{}" y="{}" width="{}" height="{}" fill="#fff" stroke="none"/>"##,
            N(x),
            N(y),
            N(wide),
            N(high)
        )?;
        self.shaded()?;
        self.diagonals()?;
        self.lines(top..=bottom + 1, left..=right + 1)?;
        self.sights()?;
        self.extra_houses()?;
        self.outlined()?;
        self.rings()?;
        self.arrows()?;
        self.cleared()?;
        self.crosses()?;
        self.digits()?;
        self.small()?;
        if let Some(naming) = self.picture.edges {
            self.edges(naming, [top, left, bottom, right])?;
        }
        self.text.push_str("</svg>\n");
        Ok(())
    }

    /// The root with the text alternative.
    fn open(
        &mut self,
        width: &Length,
        labels: &Labels,
        within: Within,
        [x, y, wide, high]: [f32; 4],
    ) -> fmt::Result {
        let words = escaped(&self.picture.said(labels).join("\n"));
        let title = self.picture.title.as_deref().map(escaped);
        let out = &mut self.text;
        write!(out, r#"<svg xmlns="http://www.w3.org/2000/svg""#)?;
        write!(out, r#" viewBox="{} {} {} {}" width="{width}""#, N(x), N(y), N(wide), N(high))?;
        if let Within::Page(name) = within {
            let title = title.as_ref().map_or_else(String::new, |_| format!(" {name}-title"));
            write!(out, r#" role="img" aria-labelledby="{name}-words{title}""#)?;
        }
        writeln!(out, r##" fill="none" stroke="#000">"##)?;
        let id = |part: &str| match within {
            Within::File => String::new(),
            Within::Page(name) => format!(r#" id="{name}-{part}""#),
        };
        if let Some(title) = title {
            writeln!(out, "<title{}>{title}</title>", id("title"))?;
        }
        writeln!(out, "<desc{}>{words}</desc>", id("words"))
    }

    fn shaded(&mut self) -> fmt::Result {
        let cells: Vec<Cell> = self.picture.shaded.iter().filter(|&cell| self.picture.shows(cell)).collect();
        if cells.is_empty() {
            return Ok(());
        }
        match self.look.shade {
            Shade::Grey => {
                writeln!(self.text, r##"<g class="shaded" fill="#d8d8d8" stroke="none">"##)?;
                for cell in cells {
                    let (x, y) = (edge(cell.col()), edge(cell.row()));
                    writeln!(
                        self.text,
                        r#"<rect x="{}" y="{}" width="{CELL}" height="{CELL}"/>"#,
                        N(x),
                        N(y)
                    )?;
                }
            }
            Shade::Lines => {
                writeln!(self.text, r##"<g class="shaded" stroke="#777" stroke-width="0.9">"##)?;
                for cell in cells {
                    let (x, y) = (edge(cell.col()), edge(cell.row()));
                    write!(self.text, r#"<path d=""#)?;
                    for step in 1..8_u8 {
                        // From the left and lower sides to the upper and right ones.
                        let along = f32::from(step) * CELL / 4.0;
                        let (low, high) = ((along - CELL).max(0.0), along.min(CELL));
                        write!(self.text, "M{} {}L{} {}", N(x + low), N(y + high), N(x + high), N(y + low))?;
                    }
                    writeln!(self.text, r#""/>"#)?;
                }
            }
        }
        writeln!(self.text, "</g>")
    }

    /// A dotted line through the cells of each diagonal that is a house.
    fn diagonals(&mut self) -> fmt::Result {
        if !self.picture.layout.diagonals() {
            return Ok(());
        }
        writeln!(self.text, r#"<g class="diagonals" stroke-width="1.4" stroke-dasharray="1.4 3.6">"#)?;
        for (number, house) in [1, 2]
            .into_iter()
            .filter_map(|number| Some((number, self.picture.layout.house(&HouseName::Diagonal(number))?)))
        {
            write!(self.text, r#"<path d=""#)?;
            for &cell in house.cells.iter().filter(|&&cell| self.picture.shows(cell)) {
                let (left, top) = (edge(cell.col()), edge(cell.row()));
                let (from, to) = if number == 1 { (left, left + CELL) } else { (left + CELL, left) };
                write!(self.text, "M{} {}L{} {}", N(from), N(top), N(to), N(top + CELL))?;
            }
            writeln!(self.text, r#""/>"#)?;
        }
        writeln!(self.text, "</g>")
    }

    /// The thin lines between cells, and the thick ones between boxes or regions and around all.
    fn lines(
        &mut self,
        rows: std::ops::RangeInclusive<u8>,
        cols: std::ops::RangeInclusive<u8>,
    ) -> fmt::Result {
        let (mut thin, mut thick) = (String::new(), String::new());
        let picture = self.picture;
        // Each run of pieces of one kind along a line is drawn as one.
        for row in rows.clone() {
            let kind = |col: u8| {
                let (above, below) =
                    (picture.block(row.checked_sub(1), Some(col)), picture.block(Some(row), Some(col)));
                (above.is_some() || below.is_some()).then_some(above != below)
            };
            runs(cols.clone(), kind, |from, to, wall| {
                let out = if wall { &mut thick } else { &mut thin };
                write!(out, "M{} {}H{}", N(edge(from)), N(edge(row)), N(edge(to)))
            })?;
        }
        for col in cols {
            let kind = |row: u8| {
                let (left, right) =
                    (picture.block(Some(row), col.checked_sub(1)), picture.block(Some(row), Some(col)));
                (left.is_some() || right.is_some()).then_some(left != right)
            };
            runs(rows.clone(), kind, |from, to, wall| {
                let out = if wall { &mut thick } else { &mut thin };
                write!(out, "M{} {}V{}", N(edge(col)), N(edge(from)), N(edge(to)))
            })?;
        }
        for (class, width, path) in [("cells", 0.7, thin), ("blocks", 2.8, thick)] {
            if !path.is_empty() {
                writeln!(
                    self.text,
                    r#"<path class="{class}" stroke-width="{width}" stroke-linecap="square" d="{path}"/>"#
                )?;
            }
        }
        Ok(())
    }

    /// A broken line inside each extra house, each house with dashes and a distance of its own as far as these go.
    fn extra_houses(&mut self) -> fmt::Result {
        let named = |name: &HouseName| matches!(name, HouseName::Named(_));
        let houses: Vec<CellSet> =
            self.picture.layout.houses().iter().filter(|it| named(&it.name)).map(|it| *it.set()).collect();
        for (cells, at) in houses.into_iter().zip((0..4_u8).cycle()) {
            let dashes = ["5 3", "2 2", "8 3 2 3", "1 3"][usize::from(at)];
            self.outline(
                "house",
                cells,
                3.4 + 2.0 * f32::from(at),
                &format!(r#" stroke-width="1.1" stroke-dasharray="{dashes}""#),
            )?;
        }
        Ok(())
    }

    fn outlined(&mut self) -> fmt::Result {
        let houses: Vec<CellSet> =
            self.picture.outlined.iter().map(|&house| *self.picture.layout.at(house).set()).collect();
        for cells in houses {
            self.outline("outline", cells, 3.6, r#" stroke-width="1.8" stroke-linecap="square""#)?;
        }
        Ok(())
    }

    /// A line around cells, so far inside of their borders.
    fn outline(&mut self, class: &str, cells: CellSet, inset: f32, style: &str) -> fmt::Result {
        let picture = self.picture;
        let has = |row: i16, col: i16| {
            let at = |n: i16| u8::try_from(n).ok().filter(|&n| n < picture.size().side());
            at(row).zip(at(col)).is_some_and(|(row, col)| cells.contains(Cell::new(row, col)))
        };
        let mut path = String::new();
        for cell in cells.iter().filter(|&cell| picture.shows(cell)) {
            let (row, col) = (i16::from(cell.row()), i16::from(cell.col()));
            let (left, top) = (edge(cell.col()), edge(cell.row()));
            // How far a piece of the line stops short of the cell's corner: where the line turns inward, goes straight
            // on, or turns outward.
            let short = |beside: bool, beyond: bool| match (beside, beyond) {
                (false, _) => inset,
                (true, false) => 0.0,
                (true, true) => -inset,
            };
            for (step, at) in [(-1, top + inset), (1, top + CELL - inset)] {
                if !has(row + step, col) {
                    let from = left + short(has(row, col - 1), has(row + step, col - 1));
                    let to = left + CELL - short(has(row, col + 1), has(row + step, col + 1));
                    write!(path, "M{} {}H{}", N(from), N(at), N(to))?;
                }
            }
            for (step, at) in [(-1, left + inset), (1, left + CELL - inset)] {
                if !has(row, col + step) {
                    let from = top + short(has(row - 1, col), has(row - 1, col + step));
                    let to = top + CELL - short(has(row + 1, col), has(row + 1, col + step));
                    write!(path, "M{} {}V{}", N(at), N(from), N(to))?;
                }
            }
        }
        if path.is_empty() {
            Ok(())
        } else {
            writeln!(self.text, r#"<path class="{class}"{style} d="{path}"/>"#)
        }
    }

    /// A line from each digit to each cell that it closes: along a row, a column or a diagonal, or else broken.
    fn sights(&mut self) -> fmt::Result {
        let seen: Vec<Sight> = self
            .picture
            .sights
            .iter()
            .copied()
            .filter(|sight| self.picture.shows(sight.from) && self.picture.shows(sight.to))
            .collect();
        if seen.is_empty() {
            return Ok(());
        }
        let on_line = |sight: &Sight| {
            let share = |house: &&House| {
                let line =
                    matches!(house.name, HouseName::Row(_) | HouseName::Column(_) | HouseName::Diagonal(_));
                line && house.set().contains(sight.to)
            };
            self.picture.layout.houses_of(sight.from).any(|house| share(&house))
        };
        writeln!(self.text, r#"<g class="sights" stroke-width="1.3">"#)?;
        for sight in &seen {
            let ((x, y), (to_x, to_y)) = (middle(sight.from), middle(sight.to));
            let dashes = if on_line(sight) { "" } else { r#" stroke-dasharray="4 3""# };
            writeln!(
                self.text,
                r#"<line x1="{}" y1="{}" x2="{}" y2="{}"{dashes}/>"#,
                N(x),
                N(y),
                N(to_x),
                N(to_y)
            )?;
        }
        writeln!(self.text, "</g>")
    }

    /// White below digits and marks where a line or shading would cross them, and a frame around a digit that closes
    /// cells.
    fn cleared(&mut self) -> fmt::Result {
        let picture = self.picture;
        let holders = picture.holders();
        let named = |house: &House| matches!(house.name, HouseName::Named(_) | HouseName::Diagonal(_));
        let lined = !(picture.sights.is_empty() && picture.shaded.is_empty() && picture.ringed.is_empty())
            || picture.thread().is_some()
            || picture.layout.houses().iter().any(named);
        let mut cleared = String::new();
        for cell in picture.shown() {
            let (x, y) = middle(cell);
            if holders.contains(&cell) {
                let frame = r##" stroke="#000" stroke-width="1.3""##;
                patch(&mut cleared, (x, y), (25.0, 28.0), frame)?;
            } else if picture.content(cell).stands != Stands::Nothing {
                if lined {
                    patch(&mut cleared, (x, y), (21.0, 25.0), r#" rx="8""#)?;
                }
            } else if lined {
                for mark in self.places(cell) {
                    patch(&mut cleared, mark.at, (mark.size * 0.8, mark.size), "")?;
                }
                let links = self.links(cell);
                if !links.is_empty() {
                    let wide = (figures(&links) * LINK * 0.7).min(CELL - 8.0);
                    patch(&mut cleared, links_place(cell), (wide, LINK * 0.75), "")?;
                }
            }
        }
        if cleared.is_empty() {
            return Ok(());
        }
        write!(self.text, "<g class=\"cleared\" fill=\"#fff\" stroke=\"none\">\n{cleared}</g>\n")
    }

    fn rings(&mut self) -> fmt::Result {
        let cells: Vec<Cell> = self.picture.ringed.iter().filter(|&cell| self.picture.shows(cell)).collect();
        if cells.is_empty() {
            return Ok(());
        }
        writeln!(self.text, r#"<g class="rings" stroke-width="2.4">"#)?;
        for cell in cells {
            let (x, y) = middle(cell);
            match self.look.ring {
                Ring::Circle => writeln!(self.text, r#"<circle cx="{}" cy="{}" r="16.6"/>"#, N(x), N(y))?,
                Ring::Square => writeln!(
                    self.text,
                    r#"<rect x="{}" y="{}" width="33" height="33" rx="6"/>"#,
                    N(x - 16.5),
                    N(y - 16.5)
                )?,
            }
        }
        writeln!(self.text, "</g>")
    }

    /// What the links of a chain that come to a cell are called.
    fn links(&self, cell: Cell) -> String {
        self.picture.links_at(cell, "\u{2260}").join(" ")
    }

    /// A bent arrow for each link of a chain to one that needs it, and a circle around each candidate that a link comes
    /// to.
    fn arrows(&mut self) -> fmt::Result {
        let arrows = self.picture.arrows();
        if arrows.is_empty() {
            return Ok(());
        }
        let mark = |(cell, digit): (Cell, Digit)| {
            let mark = self.places(cell).into_iter().find(|mark| mark.digit == digit);
            mark.map_or((middle(cell), 8.0), |mark| (mark.at, mark.size))
        };
        let [mut lines, mut heads, mut circles] = [const { String::new() }; 3];
        for Arrow { from, to } in arrows {
            arrow(&mut lines, &mut heads, mark(from), mark(to))?;
        }
        for at in self.picture.on_thread() {
            let ((x, y), size) = mark(at);
            writeln!(circles, r#"<circle cx="{}" cy="{}" r="{}"/>"#, N(x), N(y), N(size * 0.62))?;
        }
        write!(self.text, "<g class=\"arrows\" stroke-width=\"1\">\n{lines}</g>\n")?;
        write!(self.text, "<g class=\"heads\" fill=\"#000\" stroke=\"none\">\n{heads}</g>\n")?;
        write!(self.text, "<g class=\"circles\" fill=\"#fff\" stroke-width=\"0.9\">\n{circles}</g>\n")
    }

    fn crosses(&mut self) -> fmt::Result {
        if !self.picture.crosses() {
            return Ok(());
        }
        writeln!(self.text, r#"<g class="crosses" stroke-width="2.2">"#)?;
        for cell in self.picture.shown().filter(|&cell| !self.picture.content(cell).barred.is_empty()) {
            let (x, y) = middle(cell);
            let [left, right, top, bottom] = [x - 7.0, x + 7.0, y - 7.0, y + 7.0].map(N);
            writeln!(
                self.text,
                r#"<path d="M{left} {top}L{right} {bottom}M{left} {bottom}L{right} {top}"/>"#
            )?;
        }
        writeln!(self.text, "</g>")
    }

    /// The digits of cells, those of each kind together.
    fn digits(&mut self) -> fmt::Result {
        let class_of = |stands: Stands| match stands {
            Stands::Nothing => "",
            Stands::Given(_) => "givens",
            Stands::Entered(_) => "entries",
            Stands::Known(_) => "known",
        };
        for (class, weight) in [("givens", r#" font-weight="bold""#), ("entries", ""), ("known", "")] {
            let picture = self.picture;
            let mut texts = String::new();
            for cell in picture.shown() {
                let stands = picture.content(cell).stands;
                let Some(digit) = stands.digit().filter(|_| class_of(stands) == class) else { continue };
                let (sign, size) = match stands {
                    Stands::Known(_) => (format!("{}!", picture.sign(digit)), 18.0),
                    _ => (picture.sign(digit), 25.0),
                };
                put(&mut texts, middle(cell), fitted(&sign, size, CELL - 8.0), &sign)?;
            }
            self.group(class, weight, &texts)?;
        }
        Ok(())
    }

    /// Marks, what is struck, and remembered facts.
    fn small(&mut self) -> fmt::Result {
        let picture = self.picture;
        let [mut marks, mut open, mut strokes, mut facts, mut frames, mut names] =
            [const { String::new() }; 6];
        for cell in picture.shown() {
            let content = *picture.content(cell);
            for Mark { sign, at: (x, y), size, struck, .. } in self.places(cell) {
                put(&mut marks, (x, y), fitted(&sign, size, size), &sign)?;
                if struck {
                    let reach = size * 0.48;
                    let [left, right, above, below] = [x - reach, x + reach, y - reach, y + reach].map(N);
                    // Falling, as the strokes of 1, 4 and 7 rise.
                    write!(strokes, "M{left} {above}L{right} {below}")?;
                }
            }
            if !content.open.is_empty() {
                let sign = format!("{}?", picture.signs(content.open).join(self.part()));
                let (x, _) = middle(cell);
                put(&mut open, (x, edge(cell.row()) + 8.5), fitted(&sign, 11.0, CELL - 7.0), &sign)?;
            }
            self.facts_of(cell, &picture.noted(cell), &mut facts, &mut frames)?;
            let links = self.links(cell);
            if !links.is_empty() {
                put(&mut names, links_place(cell), fitted(&links, LINK, CELL - 6.0), &links)?;
            }
        }
        self.group("marks", "", &marks)?;
        if !strokes.is_empty() {
            writeln!(self.text, r#"<path class="strokes" stroke-width="1.1" d="{strokes}"/>"#)?;
        }
        self.group("open", r#" font-style="italic""#, &open)?;
        if !frames.is_empty() {
            write!(self.text, "<g class=\"frames\" fill=\"#fff\" stroke-width=\"0.9\">\n{frames}</g>\n")?;
        }
        self.group("facts", "", &facts)?;
        self.group("links", r#" font-weight="bold""#, &names)
    }

    /// The marks of a cell: each digit in a place of its own, or in order where there would be too many places.
    fn places(&self, cell: Cell) -> Vec<Mark> {
        let content = self.picture.content(cell);
        let barred = if self.picture.crosses() { DigitSet::EMPTY } else { content.barred };
        let digits = content.closed | barred;
        let top = if content.open.is_empty() { 3.0 } else { 13.0 };
        let is_noted = !self.picture.noted(cell).is_empty() || !self.links(cell).is_empty();
        let bottom = if is_noted { 14.0 } else { 3.0 };
        let side = self.picture.size().side();
        let fixed = side <= 16;
        let count = if fixed { side } else { u8::try_from(digits.len()).unwrap_or(side).max(9) };
        let across = (1..=count).find(|&n| n * n >= count).unwrap_or(1);
        let down = count.div_ceil(across);
        let (wide, high) = ((CELL - 6.0) / f32::from(across), (CELL - top - bottom) / f32::from(down));
        let size = (wide / FIGURE * 0.72).min(high * 1.02);
        let place = |(digit, nth): (Digit, u8)| {
            let at = if fixed { digit.value() - 1 } else { nth };
            let x = edge(cell.col()) + 3.0 + wide * (f32::from(at % across) + 0.5);
            let y = edge(cell.row()) + top + high * (f32::from(at / across) + 0.5);
            let (sign, struck) = (self.picture.sign(digit), barred.contains(digit));
            Mark { digit, sign, at: (x, y), size, struck }
        };
        digits.iter().zip(0..).map(place).collect()
    }

    /// The facts of a cell side by side at its lower end, each in a frame.
    fn facts_of(&self, cell: Cell, noted: &[Noted], facts: &mut String, frames: &mut String) -> fmt::Result {
        let signs: Vec<String> = noted
            .iter()
            .map(|noted| {
                let not = if noted.none { "\u{2260}" } else { "" };
                format!("{not}{}", self.picture.signs(noted.digits()).join(self.part()))
            })
            .collect();
        let width = |sign: &str| figures(sign) * FIGURE * FACT + 3.0;
        let all: f32 = signs.iter().map(|sign| width(sign) + 1.5).sum();
        let scale = ((CELL - 5.0) / all).min(1.0);
        let mut x = edge(cell.col()) + 3.0;
        let y = edge(cell.row()) + CELL - 9.5;
        for sign in &signs {
            let wide = width(sign) * scale;
            let high = 13.0 * scale.max(0.6);
            writeln!(
                frames,
                r#"<rect x="{}" y="{}" width="{}" height="{}"/>"#,
                N(x),
                N(y - high / 2.0),
                N(wide),
                N(high)
            )?;
            put(facts, (x + wide / 2.0, y), FACT * scale, sign)?;
            x += wide + 1.5 * scale;
        }
        Ok(())
    }

    /// What parts digits that are listed.
    fn part(&self) -> &'static str {
        let long = |sign: &String| sign.chars().count() > 1;
        if self.picture.signs(self.picture.size().digits()).iter().any(long) { " " } else { "" }
    }

    /// Row and column labels at the edges.
    fn edges(&mut self, naming: Naming, [top, left, bottom, right]: [u8; 4]) -> fmt::Result {
        let mut texts = String::new();
        for col in left..=right {
            let at = (edge(col) + CELL / 2.0, edge(top) - MARGIN - 6.5);
            put(&mut texts, at, 11.0, &(col + 1).to_string())?;
        }
        for row in top..=bottom {
            let label = match naming {
                Naming::Letters => char::from(b'A' + row).to_string(),
                Naming::Short | Naming::Words | Naming::Braces => (row + 1).to_string(),
            };
            put(&mut texts, (edge(left) - MARGIN - 7.5, edge(row) + CELL / 2.0), 11.0, &label)?;
        }
        self.group("edges", "", &texts)
    }

    /// Texts of one kind.
    fn group(&mut self, class: &str, style: &str, texts: &str) -> fmt::Result {
        if texts.is_empty() {
            return Ok(());
        }
        writeln!(
            self.text,
            r##"<g class="{class}" font-family="{FONTS}" text-anchor="middle"{style} fill="#000" stroke="none">"##
        )?;
        writeln!(self.text, "{texts}</g>")
    }
}

/// A small digit.
struct Mark {
    digit: Digit,
    sign: String,
    /// Its middle.
    at: (f32, f32),
    /// Of its font.
    size: f32,
    struck: bool,
}

/// A bent arrow from the edge of one mark to that of another, each with its middle and its size.
fn arrow(
    lines: &mut String,
    heads: &mut String,
    ((x, y), size): ((f32, f32), f32),
    ((to_x, to_y), to_size): ((f32, f32), f32),
) -> fmt::Result {
    let (wide, high) = (to_x - x, to_y - y);
    let far = wide.hypot(high).max(1.0);
    // Bent to the left, so that one there and one back part.
    let bend = (far * 0.12).min(9.0);
    let over_x = f32::midpoint(x, to_x) + high / far * bend;
    let over_y = f32::midpoint(y, to_y) - wide / far * bend;
    let toward = |(x, y): (f32, f32), by: f32| {
        let (wide, high) = (over_x - x, over_y - y);
        let far = wide.hypot(high).max(1.0);
        (x + wide / far * by, y + high / far * by)
    };
    let (begin_x, begin_y) = toward((x, y), (size * 0.62).min(far * 0.4));
    let tip = (to_size * 0.66).min(far * 0.4);
    let ((tip_x, tip_y), (back_x, back_y)) = (toward((to_x, to_y), tip), toward((to_x, to_y), tip + 4.5));
    let (aside_x, aside_y) = ((tip_y - back_y) * 0.45, (back_x - tip_x) * 0.45);
    writeln!(
        lines,
        r#"<path d="M{} {}Q{} {} {} {}"/>"#,
        N(begin_x),
        N(begin_y),
        N(over_x),
        N(over_y),
        N(tip_x),
        N(tip_y)
    )?;
    writeln!(
        heads,
        r#"<path d="M{} {}L{} {}L{} {}Z"/>"#,
        N(tip_x),
        N(tip_y),
        N(back_x + aside_x),
        N(back_y + aside_y),
        N(back_x - aside_x),
        N(back_y - aside_y)
    )
}

/// A rectangle with its middle at a place.
fn patch(out: &mut String, (x, y): (f32, f32), (wide, high): (f32, f32), style: &str) -> fmt::Result {
    let (left, top) = (N(x - wide / 2.0), N(y - high / 2.0));
    writeln!(out, r#"<rect x="{left}" y="{top}" width="{}" height="{}"{style}/>"#, N(wide), N(high))
}

/// A text with its middle at a place.
fn put(out: &mut String, (x, y): (f32, f32), size: f32, text: &str) -> fmt::Result {
    // Capitals and figures stand about 0.73 of the font's size above the line on which they stand.
    let base = y + size * 0.365;
    writeln!(out, r#"<text x="{}" y="{}" font-size="{}">{}</text>"#, N(x), N(base), N(size), escaped(text))
}

/// How many characters a text has, as a number to reckon with; at least one.
fn figures(text: &str) -> f32 {
    f32::from(u16::try_from(text.chars().count().max(1)).unwrap_or(u16::MAX))
}

/// The size of a font in which a text is at most so wide: the usual one, if that is small enough.
fn fitted(text: &str, usual: f32, wide: f32) -> f32 {
    usual.min(wide / (figures(text) * FIGURE))
}

/// Calls `draw` with each run of pieces of one kind along a line: where it begins, where it ends, and which kind.
fn runs(
    all: std::ops::RangeInclusive<u8>,
    kind: impl Fn(u8) -> Option<bool>,
    mut draw: impl FnMut(u8, u8, bool) -> fmt::Result,
) -> fmt::Result {
    let pieces: Vec<(u8, Option<bool>)> = all.map(|at| (at, kind(at))).collect();
    for run in pieces.chunk_by(|a, b| a.1 == b.1) {
        if let (Some((from, Some(kind))), Some((to, _))) = (run.first(), run.last()) {
            draw(*from, to + 1, *kind)?;
        }
    }
    Ok(())
}
