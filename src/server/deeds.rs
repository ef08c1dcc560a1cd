//! What can be done at a place beside fixes: each with its title and kind, and what it changes.

use super::actions::{Chosen, Deed, action, is_wanted};
use super::dressing;
use super::next::{self, Asked, Much};
use super::page;
use super::place::{Block, Place};
use super::state::Snapshot;
use super::transfer;
use crate::edit::{Change, Marking, make_minimal, mark, write_solution};
use crate::notation::Keyword;
use tower_lsp::ls_types::{
    CodeAction, CodeActionDisabled, CodeActionKind, CodeActionParams, Command, Position, TextEdit, Uri,
};

/// The kind of the action that takes givens out.
const MINIMAL: &str = "refactor.rewrite.minimal";

/// Something that can be done.
pub struct Offer {
    /// What it is called.
    pub title: String,
    /// Its kind.
    pub kind: CodeActionKind,
    /// What is done.
    pub deed: Deed,
    /// Why it cannot be done as things stand; shown by clients that show such actions.
    pub not_now: Option<String>,
}

impl Offer {
    fn new(title: impl Into<String>, kind: impl Into<CodeActionKind>, deed: Deed) -> Offer {
        Offer { title: title.into(), kind: kind.into(), deed, not_now: None }
    }
}

/// What can be done at a place.
pub fn actions(snapshot: &Snapshot, params: &CodeActionParams) -> Vec<CodeAction> {
    let at = params.range.start;
    let place = Place::of(snapshot, at);
    let offered = |offer: Offer| {
        let Offer { title, kind, deed, not_now } = offer;
        let chosen = Chosen { uri: snapshot.uri.clone(), version: snapshot.version, at, deed };
        if let Some(reason) = not_now {
            let disabled = Some(CodeActionDisabled { reason });
            return CodeAction { title, kind: Some(kind), disabled, ..CodeAction::default() };
        }
        action(snapshot, &title, kind, &chosen, || edits(snapshot, &chosen).unwrap_or_default())
    };
    let wanted = |offer: &Offer| {
        let shown = offer.not_now.is_none() || snapshot.settings.can.show_disabled;
        shown
            && is_wanted(params, Some(&offer.kind))
            && (offer.is_quick() || snapshot.settings.can.resolve_edits || params.context.only.is_some())
    };
    let mut actions: Vec<CodeAction> =
        offers(snapshot, &place).into_iter().filter(wanted).map(offered).collect();
    let told = tellings(snapshot, &place, at).into_iter().chain(page::actions(snapshot, &place, at));
    actions.extend(told.filter(|action| is_wanted(params, action.kind.as_ref())));
    actions
}

/// What an action changes.
///
/// # Errors
/// In words, why that cannot be.
pub fn edits(snapshot: &Snapshot, chosen: &Chosen) -> Result<Vec<(Uri, TextEdit)>, String> {
    let place = Place::of(snapshot, chosen.at);
    let puzzle = place.puzzle().ok_or("no puzzle stands here")?;
    let changes: Vec<Change> = match &chosen.deed {
        Deed::Mark(marking) => mark(place.section, puzzle, place.sheet(), *marking),
        Deed::TakeStep => next::take(snapshot, &place)?,
        Deed::WriteSteps => transfer::change(snapshot, &place).into_iter().collect(),
        Deed::FinishWalk => next::finish(snapshot, &place)?,
        Deed::WriteSolution => write_solution(place.section, puzzle),
        Deed::MakeMinimal => {
            let changes =
                make_minimal(place.section, puzzle).map_err(|why| format!("Nothing is taken out: {why}."))?;
            if changes.is_empty() {
                return Err("Nothing is taken out: no given can go without a second solution.".to_owned());
            }
            changes
        }
        Deed::Turn(turn) => return dressing::turned(snapshot, &place, *turn),
        Deed::Name(names) => return dressing::named(snapshot, &place, *names),
        Deed::Fix { .. } | Deed::FixAll | Deed::FillGaps { .. } => Vec::new(),
    };
    let edit =
        |change: Change| TextEdit { range: snapshot.range(place.at, change.span), new_text: change.text };
    Ok(changes.into_iter().map(|change| (snapshot.uri.clone(), edit(change))).collect())
}

impl Offer {
    /// Whether what it changes is known at once. What takes longer is worked out for those who ask for its kind, where the
    /// client cannot wait until it is chosen.
    fn is_quick(&self) -> bool {
        !matches!(self.deed, Deed::FinishWalk | Deed::MakeMinimal)
    }
}

fn offers(snapshot: &Snapshot, place: &Place) -> Vec<Offer> {
    let Some(puzzle) = place.puzzle() else { return Vec::new() };
    let rewrite = CodeActionKind::REFACTOR_REWRITE;
    let keyword = place.statement().and_then(|(_, statement)| statement.keyword);
    let mut offers = Vec::new();
    if next::is_offered(place) {
        offers.push(Offer::new("take the next step", next::KIND, Deed::TakeStep));
        if keyword == Some(Keyword::Steps) {
            offers.push(Offer::new("finish the walkthrough", next::FINISH, Deed::FinishWalk));
        }
    }
    let markings = match place.block() {
        Some(Block::Sheet(_)) => &[Marking::Fill, Marking::Tidy, Marking::Clear][..],
        Some(Block::Board(_)) if puzzle.sheets.is_empty() => &[Marking::Fill],
        _ => &[],
    };
    for &marking in markings {
        let sheet = place.sheet();
        if !mark(place.section, puzzle, sheet, marking).is_empty() {
            let title = match (marking, sheet) {
                (Marking::Fill, Some(_)) => "fill the marks of empty cells",
                (Marking::Fill, None) => "begin a sheet, with marks",
                (Marking::Tidy, _) => "tidy the marks",
                (Marking::Clear, _) => "clear all marks",
            };
            offers.push(Offer::new(title, rewrite.clone(), Deed::Mark(marking)));
        }
    }
    if matches!(keyword, Some(Keyword::Givens | Keyword::Solution | Keyword::Puzzle)) && puzzle.judged() {
        offers.push(Offer::new("write the solution", rewrite.clone(), Deed::WriteSolution));
    }
    if let Some(title) = transfer::title(snapshot, place) {
        offers.push(Offer::new(title, rewrite, Deed::WriteSteps));
    }
    if matches!(keyword, Some(Keyword::Givens | Keyword::Minimal | Keyword::Puzzle)) && puzzle.judged() {
        offers.push(Offer::new("take out what givens can go", MINIMAL, Deed::MakeMinimal));
    }
    offers.extend(dressing::offers(snapshot, place));
    offers
}

/// The ways to be told of the next step, which change nothing.
fn tellings(snapshot: &Snapshot, place: &Place, at: Position) -> Vec<CodeAction> {
    if !next::is_offered(place) {
        return Vec::new();
    }
    let telling = |(title, kind, depth): (&str, &str, Much)| {
        let asked = Asked { uri: snapshot.uri.clone(), at, depth };
        let command = Command {
            title: title.to_owned(),
            command: next::TELL.to_owned(),
            arguments: serde_json::to_value(asked).ok().map(|asked| vec![asked]),
        };
        CodeAction {
            title: title.to_owned(),
            kind: Some(format!("{}.{kind}", next::KIND).into()),
            command: Some(command),
            ..CodeAction::default()
        }
    };
    let depths = [
        ("tell where to look for the next step", "where", Much::Where),
        ("tell what the next step is", "what", Much::What),
    ];
    depths.into_iter().map(telling).collect()
}
