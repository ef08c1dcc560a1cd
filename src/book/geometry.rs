//! Which layout a puzzle has.

use super::board::{check_shape, has_rows, listed, own_size, place, row_span, rows};
use super::meaning::Reader;
use super::values::{line_of, values_of};
use super::{ExtraHouse, Fact, Facts, Fault, FaultKind};
use crate::board::{BoxShape, Layout, LayoutError, MAX_SIDE, RegionFault, Size};
use crate::notation::{Keyword, Span, Statement, is_house_name, is_open, read_cells};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Extra houses that a puzzle can have: more than any board needs, few enough that they are built and searched at once.
const MOST_HOUSES: usize = 100;

/// The layouts that have been built so far: puzzles of one geometry share theirs.
#[derive(Clone, Default, Debug)]
pub struct Layouts(Arc<Mutex<BTreeMap<Geometry, Arc<Layout>>>>);

/// The layouts that have the usual boxes of their size and nothing else: most puzzles of all files share them.
static USUAL: [OnceLock<Arc<Layout>>; MAX_SIDE as usize + 1] =
    [const { OnceLock::new() }; MAX_SIDE as usize + 1];

/// All that a layout is built from.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
struct Geometry {
    size: Size,
    blocks: Blocks,
    diagonals: bool,
    houses: Vec<ExtraHouse>,
}

/// What stands beside rows and columns.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Blocks {
    Boxes(BoxShape),
    /// A letter for each cell.
    Regions(Arc<str>),
}

/// Why a geometry is none: the extra house that is to blame (as an index), or else the boxes or regions.
type Unfit = (Option<usize>, LayoutError);

impl Layouts {
    fn get(&self, geometry: Geometry) -> Result<Arc<Layout>, Unfit> {
        if geometry.is_usual() {
            let usual = &USUAL[geometry.size.usize()];
            return match usual.get() {
                Some(layout) => Ok(Arc::clone(layout)),
                None => geometry.build().map(|layout| Arc::clone(usual.get_or_init(|| Arc::new(layout)))),
            };
        }
        let mut built = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(layout) = built.get(&geometry) {
            return Ok(Arc::clone(layout));
        }
        let layout = Arc::new(geometry.build()?);
        built.insert(geometry, Arc::clone(&layout));
        Ok(layout)
    }
}

impl Geometry {
    /// Whether it has the usual boxes of its size and nothing else.
    fn is_usual(&self) -> bool {
        let boxes = self.size.default_boxes().map(Blocks::Boxes);
        boxes.as_ref() == Some(&self.blocks) && !self.diagonals && self.houses.is_empty()
    }

    fn build(&self) -> Result<Layout, Unfit> {
        let blocks = match &self.blocks {
            Blocks::Boxes(shape) => Layout::with_boxes(self.size, *shape),
            Blocks::Regions(letters) => Layout::with_regions(self.size, &letters.chars().collect::<Vec<_>>()),
        };
        let mut layout = blocks.map_err(|error| (None, error))?;
        if self.diagonals {
            layout = layout.and_diagonals();
        }
        for (at, house) in self.houses.iter().enumerate() {
            layout = layout.and_house(&house.name, house.cells.clone()).map_err(|error| (Some(at), error))?;
        }
        Ok(layout)
    }
}

impl Reader<'_> {
    /// The layout that `facts` and the grids among `statements` (of a puzzle, or of what holds by default) come to. Takes
    /// up the facts that cannot be read before the size is known: regions and extra houses. `None` if anything about it
    /// is broken or unsaid.
    pub(super) fn layout(&mut self, statements: &[Statement], facts: &mut Facts) -> Option<Arc<Layout>> {
        if facts.geometry_broken {
            return None;
        }
        let size = self.size(statements, facts)?;
        facts.fit(size);
        for statement in statements.iter().filter(|it| !it.values.is_empty() || has_rows(self.section, it)) {
            let taken = match statement.keyword {
                Some(Keyword::Regions) => self.regions(statement, size, facts),
                Some(Keyword::House) => self.house(statement, size, facts),
                _ => continue,
            };
            if let Some(faults) = taken.err() {
                facts.geometry_broken = true;
                self.faults.extend(faults);
                if facts.houses.len() >= MOST_HOUSES {
                    break;
                }
            }
        }
        self.check_boxes(size, facts);
        if facts.geometry_broken {
            return None;
        }
        let blocks =
            match (&facts.regions, facts.boxes.as_ref().map(|boxes| boxes.value).or(size.default_boxes())) {
                (Some(regions), _) => Blocks::Regions(Arc::clone(&regions.value)),
                (None, Some(boxes)) => Blocks::Boxes(boxes),
                (None, None) => {
                    let grid = statements.iter().find(|it| is_grid(it) && has_rows(self.section, it))?;
                    let span =
                        facts.size.as_ref().filter(|size| size.own).map_or(grid.word, |size| size.span);
                    self.fault(span, FaultKind::BoxesUnsaid(size.side()));
                    return None;
                }
            };
        let diagonals = facts.diagonals.as_ref().is_some_and(|diagonals| diagonals.value);
        let houses = facts.houses.iter().map(|house| house.value.clone()).collect();
        match self.layouts.get(Geometry { size, blocks, diagonals, houses }) {
            Ok(layout) => Some(layout),
            Err((house, error)) => {
                facts.geometry_broken = true;
                let house = house.and_then(|at| facts.houses.get(at));
                self.unfit(statements, size, house, &error);
                None
            }
        }
    }

    /// The size that is said, or else that of the first grid with as many rows as cells in each, or else that which the
    /// boxes come to, or else nine.
    fn size(&mut self, statements: &[Statement], facts: &Facts) -> Option<Size> {
        let mut grids = statements.iter().filter(|it| is_grid(it) && !it.broken);
        if let Some((grid, row)) = grids.clone().find_map(|it| Some((it, listed(self.section, it)?))) {
            let count = self.section.cells(row).count();
            let size = Size::from_cell_count(count).filter(|size| size.default_boxes().is_some());
            if size.is_none() && !grid.broken {
                self.fault(row_span(self.section, row), FaultKind::ListLength(count));
            }
            return size;
        }
        if let Some(size) = &facts.size {
            return Some(size.value);
        }
        let complete = grids.find_map(|it| Some((it, own_size(self.section, it)?)));
        let usual = Size::new(9);
        let boxes = facts.boxes.as_ref().filter(|boxes| boxes.own).map(|boxes| boxes.value);
        match complete {
            Some((grid, size)) if Some(size) != usual => {
                self.fault(grid.word, FaultKind::SizeUnsaid(size.side()));
                Some(size)
            }
            Some(_) => usual,
            None => boxes.and_then(|boxes| Size::new(boxes.rows.checked_mul(boxes.columns)?)).or(usual),
        }
    }

    /// Takes up the letters of a `regions` block.
    fn regions(&self, statement: &Statement, size: Size, facts: &mut Facts) -> Result<(), Vec<Fault>> {
        if statement.broken {
            facts.geometry_broken = true;
            return Ok(());
        }
        check_shape(self.section, statement, size, false, |row| self.section.cells(row).count())?;
        let mut letters = String::with_capacity(size.cells());
        for (span, symbol) in rows(self.section, statement).flat_map(|row| self.section.symbols(row)) {
            if is_open(symbol) {
                let why = "this cell belongs to no region: each needs a letter".to_owned();
                return Err(vec![Fault { span, kind: FaultKind::RegionsShape(why) }]);
            }
            letters.push(symbol.to_ascii_uppercase());
        }
        if let Some(boxes) = facts.boxes.as_ref().filter(|boxes| boxes.own) {
            let can_be = "left out, because `regions` take the place of boxes".to_owned();
            let kind = FaultKind::ValueUnreadable(Keyword::Boxes, can_be);
            return Err(vec![Fault { span: boxes.span, kind }]);
        }
        if facts.regions.as_ref().is_none_or(|regions| !regions.own) {
            facts.regions =
                Some(Box::new(Fact { value: letters.into(), span: line_of(statement), own: true }));
        }
        Ok(())
    }

    /// Takes up `house NAME CELLS`.
    fn house(&self, statement: &Statement, size: Size, facts: &mut Facts) -> Result<(), Vec<Fault>> {
        let unreadable = |span: Span, why: &str| {
            Err(vec![Fault { span, kind: FaultKind::ConstraintUnreadable(Keyword::House, why.to_owned()) }])
        };
        let (false, [name, rest @ ..]) = (statement.broken, &statement.values[..]) else {
            facts.geometry_broken = true;
            return Ok(());
        };
        let text = self.section.value(*name);
        if !is_house_name(&text) {
            return unreadable(
                name.span,
                "its name must be two small letters or more and figures behind them at most, and no word of claims",
            );
        }
        let (Some(first), Some(last)) = (rest.first(), rest.last()) else {
            return unreadable(line_of(statement), "its cells must follow its name");
        };
        let span = first.span.to(last.span);
        let Some(ranges) = read_cells(&self.section.text, span) else {
            return unreadable(span, "its cells must follow its name, such as `r2c2..r4c4`");
        };
        let mut cells = Vec::with_capacity(size.usize());
        for range in ranges {
            cells.extend(self.cells(&range, size, Keyword::House).map_err(|fault| vec![fault])?);
        }
        let house = ExtraHouse { name: text, cells };
        if facts.houses.len() >= MOST_HOUSES {
            return unreadable(
                line_of(statement),
                "a puzzle can have a hundred extra houses, and has them already",
            );
        }
        if facts.houses.iter().any(|other| other.own && other.value.name == house.name) {
            return Ok(()); // Reading has said already that it stands twice.
        }
        facts.houses.retain(|other| other.value.name != house.name);
        facts.houses.push(Fact { value: house, span: line_of(statement), own: true });
        Ok(())
    }

    /// Boxes that a puzzle says of itself must fit its size.
    fn check_boxes(&mut self, size: Size, facts: &mut Facts) {
        let Some(boxes) = facts.boxes.as_ref().filter(|boxes| boxes.own && !boxes.value.fits(size)) else {
            return;
        };
        let usual = size.default_boxes().map(|shape| format!(", such as `{shape}`")).unwrap_or_default();
        let can_be = format!("rows x columns of one box, which holds {size} cells at size {size}{usual}");
        let kind = FaultKind::ValueUnreadable(Keyword::Boxes, can_be);
        let span = boxes.span;
        facts.geometry_broken = true;
        self.fault(span, kind);
    }

    /// Says why a layout cannot be built, where the puzzle itself is to blame.
    fn unfit(
        &mut self,
        statements: &[Statement],
        size: Size,
        house: Option<&Fact<ExtraHouse>>,
        error: &LayoutError,
    ) {
        if let Some(house) = house.filter(|house| house.own) {
            let kind = FaultKind::ConstraintUnreadable(Keyword::House, error.to_string());
            return self.fault(house.span, kind);
        }
        let Some(regions) = statements.iter().find(|it| it.keyword == Some(Keyword::Regions)) else { return };
        let cut_off = match error {
            LayoutError::Regions(faults) => faults.iter().find_map(|fault| match fault {
                RegionFault::InPieces { .. } => fault.cells().first().copied(),
                RegionFault::CellCount { .. } => None,
            }),
            _ => None,
        };
        let span = cut_off.and_then(|cell| place(self.section, regions, size, cell)).unwrap_or(regions.word);
        self.fault(span, FaultKind::RegionsShape(error.to_string()));
    }

    /// What is printed for the digits, once the size is known: as many signs as the size, and no two alike.
    pub(super) fn symbols(&mut self, statement: &Statement, size: Size) -> Option<Fact<Arc<[String]>>> {
        if statement.broken || statement.values.is_empty() {
            return None;
        }
        let mut signs: Vec<String> =
            statement.values.iter().map(|value| self.section.value(*value)).collect();
        if let [range] = &signs[..] {
            signs = signs_of_range(range).unwrap_or(signs);
        }
        let different: BTreeSet<&String> = signs.iter().collect();
        if signs.len() != size.usize() || different.len() != signs.len() {
            let last = char::from(b'A' + (size.side() - 1));
            let can_be = format!("{size} signs, no two alike, such as `1-{size}` or `A-{last}`");
            let kind = FaultKind::ValueUnreadable(Keyword::Symbols, can_be);
            self.fault(values_of(statement), kind);
            return None;
        }
        Some(Fact { value: signs.into(), span: line_of(statement), own: true })
    }
}

/// The signs of a range such as `1-16` or `A-P`.
fn signs_of_range(range: &str) -> Option<Vec<String>> {
    let (from, to) = range.split_once(['-', '–'])?;
    if let (Ok(from), Ok(to)) = (from.parse::<u16>(), to.parse::<u16>()) {
        let count = usize::from(MAX_SIDE) + 1;
        return Some((from..=to).take(count).map(|number| number.to_string()).collect());
    }
    let (mut from, mut to) = (from.chars(), to.chars());
    match (from.next(), from.next(), to.next(), to.next()) {
        (Some(first), None, Some(last), None) => {
            Some((first..=last).take(usize::from(MAX_SIDE) + 1).map(String::from).collect())
        }
        _ => None,
    }
}

/// Whether the block of a statement is a grid of a puzzle, from which its size can be seen.
fn is_grid(statement: &Statement) -> bool {
    use Keyword::{Givens, Position, Regions, Solution};
    matches!(statement.keyword, Some(Givens | Position | Solution | Regions))
}
