//! What belongs to the place of the cursor: the same id in the text, the same digit in a grid or sheet.

use super::place::{Block, Place};
use super::state::Snapshot;
use crate::board::{Cell, Digit};
use crate::book::Token;
use tower_lsp::ls_types::{DocumentHighlight, DocumentHighlightKind, LinkedEditingRanges, Position, Range};

/// What is highlighted for a place.
pub fn answer(snapshot: &Snapshot, position: Position) -> Option<Vec<DocumentHighlight>> {
    let place = Place::of(snapshot, position);
    if let Some((id, _)) = snapshot.id_at(&place) {
        let of_text = snapshot.mentions_here(|it| it == id).into_iter();
        let highlight = of_text.map(|mention| DocumentHighlight {
            range: snapshot.range(mention.section, mention.span),
            kind: Some(if mention.borne {
                DocumentHighlightKind::WRITE
            } else {
                DocumentHighlightKind::READ
            }),
        });
        return Some(highlight.collect());
    }
    let (block, cell, _) = place.cell()?;
    let digit = stands(block, cell)?;
    let same =
        place.puzzle()?.layout.as_ref()?.size().all_cells().filter(|&at| stands(block, at) == Some(digit));
    let highlight = same.map(|at| DocumentHighlight {
        range: snapshot.range(place.at, block.place(place.section, at)),
        kind: Some(DocumentHighlightKind::TEXT),
    });
    Some(highlight.collect())
}

/// The places of the text in which the id at a place stands, to be changed as one.
pub fn linked(snapshot: &Snapshot, position: Position) -> Option<LinkedEditingRanges> {
    let (id, _) = snapshot.id_at(&Place::of(snapshot, position))?;
    let of_text = snapshot.mentions_here(|it| it == id).into_iter();
    let ranges: Vec<Range> = of_text.map(|mention| snapshot.range(mention.section, mention.span)).collect();
    Some(LinkedEditingRanges { ranges, word_pattern: Some("[^\\s,:{}\"]+".to_owned()) })
}

/// The digit that stands in a cell of a grid or sheet.
fn stands(block: Block, cell: Cell) -> Option<Digit> {
    match block {
        Block::Board(board) => board.grid.get(cell),
        Block::Sheet(sheet) => match sheet.token(cell) {
            Token::Digit(digit) | Token::Known(digit) => Some(digit),
            Token::Empty | Token::Closed(_) | Token::Open(_) => None,
        },
    }
}
