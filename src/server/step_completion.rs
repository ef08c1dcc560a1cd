//! Completion in a walkthrough: the steps that follow, the cells and digits that are open, the reasons that fit.

use super::completion::{is_after_by, patterns};
use super::place::Place;
use super::state::Snapshot;
use super::walk::WalkAt;
use crate::board::{Cell, CellSet, Digit, DigitSet, HouseId};
use crate::book::{Asserted, Assertion, step_claims};
use crate::notation::{Keyword, Span, is_blank, read_cells};
use crate::replay::State;
use crate::words::{Depth, tell};
use tower_lsp::ls_types::{CompletionItem, CompletionItemKind, CompletionTextEdit, Range, TextEdit};

/// The most lines that are offered.
const MOST: usize = 12;

/// The words with which a line of a walk begins that is no step.
const OTHER_LINES: [&str; 6] = [">", "show", "ask", "point", "finish", "allow"];

/// What can stand at a place in a walkthrough behind `before`; `None` where that is no place for a step.
pub fn answer(snapshot: &Snapshot, place: &Place, before: &str) -> Option<Vec<CompletionItem>> {
    let (number, line) = place.line()?;
    let (_, statement) = place.section.statements.iter().enumerate().rfind(|(_, it)| it.line <= number)?;
    let text = before.trim_start_matches(is_blank);
    let first = text.split(is_blank).next().unwrap_or_default();
    let indented = text.len() < before.len();
    if statement.keyword != Some(Keyword::Steps) || !indented || OTHER_LINES.contains(&first) {
        return None;
    }
    let at = WalkAt::of(snapshot, place)?;
    let here = At { snapshot, walk: &at, state: at.before(number as usize) };
    let end = line.span.start as usize + before.len();
    let begin = end - text.len();
    let typed = |typed: &str| snapshot.range(place.at, Span::new(end - typed.len(), end));
    if text.is_empty() {
        return Some(here.steps(typed("")));
    }
    if let Some((claims, reason)) = text.split_once(" by ") {
        let span = Span::new(begin, begin + claims.len());
        let says = step_claims(place.section, span, &at.start.layout).unwrap_or_default();
        return Some(here.reasons(&says, before, typed(reason.trim_start_matches(is_blank))));
    }
    let claim = text.rsplit(',').next().unwrap_or_default();
    let mut words: Vec<&str> = claim.split(is_blank).filter(|word| !word.is_empty()).collect();
    let word = if claim.ends_with(is_blank) { "" } else { words.pop().unwrap_or_default() };
    match words[..] {
        [digits, "of", house, name, "in", ref cells @ ..] => {
            let house = here.house(&format!("{house} {name}"))?;
            Some(here.places(here.digits(digits)?, house, here.cells(cells), typed(word)))
        }
        [ref cells @ .., "="] => Some(here.values(here.cells(cells), typed(word))),
        _ => Some(Vec::new()),
    }
}

/// Whether a line has come to where something is offered also as soon as a blank is typed.
pub fn is_asked_by_a_blank(before: &str) -> bool {
    [" in ", " = ", " by "].iter().any(|word| before.ends_with(word))
}

/// A place in a walkthrough, and what a reader has there.
struct At<'a> {
    snapshot: &'a Snapshot,
    walk: &'a WalkAt<'a>,
    state: State,
}

impl At<'_> {
    /// Whole lines that follow now.
    fn steps(&self, range: Range) -> Vec<CompletionItem> {
        let earlier = self.state.deductions();
        let offers = self.state.offers(&self.walk.ground(), MOST);
        let items = offers.into_iter().map(|(step, line)| {
            let words = tell(&self.walk.voice(), Depth::What, &self.state.known, &step, &earlier);
            (line, Some(words))
        });
        listed(items, CompletionItemKind::EVENT, range)
    }

    /// The reasons that fit, then all names.
    fn reasons(&self, says: &[Asserted], before: &str, range: Range) -> Vec<CompletionItem> {
        let fitting = self.walk.ground().reasons(&self.state, says);
        let items = fitting.into_iter().map(|reason| (reason, Some("it fits".to_owned())));
        let mut items = listed(items, CompletionItemKind::CONSTANT, range);
        if is_after_by(before) {
            let names = patterns(self.snapshot)
                .into_iter()
                .filter(|name| items.iter().all(|it| it.label != name.label));
            let behind = |(name, place): (CompletionItem, u32)| CompletionItem {
                sort_text: Some(format!("~{place:03}")),
                filter_text: Some(name.label.clone()),
                text_edit: Some(edit(range, &name.label)),
                ..name
            };
            items.extend(names.zip(0..).map(behind).collect::<Vec<_>>());
        }
        items
    }

    /// Where a house can have digits, but for the cells that are named already: all of it, also as the house that says the
    /// same, then cell by cell.
    fn places(&self, digits: DigitSet, house: HouseId, named: CellSet, range: Range) -> Vec<CompletionItem> {
        let (known, layout) = (&self.state.known, &self.walk.start.layout);
        let open = (digits & known.missing(house)).iter();
        let open = open.fold(CellSet::EMPTY, |all, digit| all | known.cells(house, digit));
        let mut texts: Vec<String> = Vec::new();
        if named.is_empty() && !open.is_empty() {
            texts.push(open.iter().map(|cell| cell.to_string()).collect::<Vec<_>>().join(" "));
            let others = layout.house_ids().filter(|&id| id != house && open.is_subset(layout.at(id).set()));
            texts.extend(others.map(|id| layout.at(id).name.to_string()));
        }
        if !named.is_empty() || open.len() > 1 {
            texts.extend((open - named).iter().map(|cell| cell.to_string()));
        }
        listed(texts.into_iter().map(|text| (text, None)), CompletionItemKind::VALUE, range)
    }

    /// The digits that fit: of one cell each, those that follow at once before the others; of several, the digits that they
    /// share.
    fn values(&self, cells: CellSet, range: Range) -> Vec<CompletionItem> {
        let ground = self.walk.ground();
        let [cell] = cells.iter().collect::<Vec<_>>()[..] else {
            let shared = self.state.shared(&ground, cells);
            let texts = shared.iter().map(|digits| (digits.to_string(), None));
            return listed(texts, CompletionItemKind::VALUE, range);
        };
        let digits = self.state.known.candidates(cell);
        let reason = |digit: Digit| {
            let says = Assertion::Is { cells, digits: DigitSet::single(digit) };
            let first =
                ground.reasons(&self.state, &[Asserted { span: Span::default(), says }]).into_iter().next();
            (digit.to_string(), first.map(|reason| format!("by {reason}")))
        };
        let mut items: Vec<(String, Option<String>)> = digits.iter().map(reason).collect();
        items.sort_by_key(|(_, reason)| reason.is_none());
        listed(items.into_iter(), CompletionItemKind::VALUE, range)
    }

    fn house(&self, name: &str) -> Option<HouseId> {
        let layout = &self.walk.start.layout;
        layout.house_ids().find(|&id| layout.at(id).name.to_string() == name)
    }

    fn digits(&self, text: &str) -> Option<DigitSet> {
        let all = self.walk.start.layout.size().digits();
        text.chars().map(|c| Digit::from_symbol(c).filter(|&digit| all.contains(digit))).collect()
    }

    /// The cells that these words name; none if they name something else.
    fn cells(&self, words: &[&str]) -> CellSet {
        let text = words.join(" ");
        let side = self.walk.start.layout.size().side();
        let ranges = read_cells(&text, Span::new(0, text.len())).unwrap_or_default();
        let cells = ranges.iter().filter_map(|range| range.cells(&text, side).ok());
        cells.flatten().collect::<Vec<Cell>>().into_iter().collect()
    }
}

/// Items in this order, each a text and what is said beside it.
fn listed(
    texts: impl Iterator<Item = (String, Option<String>)>,
    kind: CompletionItemKind,
    range: Range,
) -> Vec<CompletionItem> {
    let item = |((text, detail), place): ((String, Option<String>), u32)| CompletionItem {
        kind: Some(kind),
        detail,
        sort_text: Some(format!("{place:03}")),
        filter_text: Some(text.clone()),
        text_edit: Some(edit(range, &text)),
        label: text,
        ..CompletionItem::default()
    };
    texts.zip(0..).map(item).collect()
}

fn edit(range: Range, text: &str) -> CompletionTextEdit {
    CompletionTextEdit::Edit(TextEdit { range, new_text: text.to_owned() })
}
