//! What authors accept: the `allow` statements, and the `allow` lines of walks.

use super::wording::{either, nearest, shown};
use super::{Draft, FINDINGS, Finding};
use crate::notation::{
    CellRange, Keyword, Line, LineKind, Section, Span, Statement, StepLine, is_blank, read_cells,
};

/// One `allow`.
pub(super) struct Allow {
    /// The name of the finding, as written.
    pub name: Span,
    /// The whole line, from `allow` to the last quote.
    pub line: Span,
    /// Only what lies here is accepted.
    pub only: Only,
}

/// Where an [`Allow`] accepts.
pub(super) enum Only {
    Everywhere,
    /// At these cells of a grid or sheet.
    Cells(Vec<CellRange>),
    /// In this line of the walk.
    Line(Span),
}

/// Every `allow` of a section that reads well, each with the item that it stands in; and what is wrong with the others.
pub(super) fn allows(section: &Section) -> (Vec<(usize, Allow)>, Vec<Draft>) {
    let (mut allows, mut drafts) = (Vec::new(), Vec::new());
    for (number, item) in section.items.iter().enumerate() {
        for statement in section.statements_of(item) {
            match statement.keyword {
                Some(Keyword::Allow) if !statement.broken => match of_statement(section, statement) {
                    Ok(allow) => allows.push((number, allow)),
                    Err(draft) => drafts.push(draft),
                },
                Some(Keyword::Steps) => {
                    let lines = of_walk(section, section.block(statement));
                    allows.extend(lines.into_iter().map(|allow| (number, allow)));
                }
                _ => {}
            }
        }
    }
    allows.retain(|(_, allow)| match unknown(section, allow.name) {
        Some(draft) => {
            drafts.push(draft);
            false
        }
        None => true,
    });
    (allows, drafts)
}

/// `allow NAME [at CELLS] "why"`
fn of_statement(section: &Section, statement: &Statement) -> Result<Allow, Draft> {
    let unreadable = |span: Span, why: &str| {
        let message = format!("`allow` cannot be followed by `{}`: {why}", shown(section.at(span)));
        Err(Draft::new(span, message, "write it like `allow not-minimal \"the picture is wanted\"`"))
    };
    let values = &statement.values;
    let [name, between @ .., why] = &**values else {
        return unreadable(statement.word, "a finding's name and the reason why belong after it");
    };
    if name.quoted {
        return unreadable(name.span, "a finding's name stands before the reason");
    }
    if !why.quoted {
        return unreadable(why.span, "the reason why stands last, in quotes");
    }
    let only = match between {
        [] => Only::Everywhere,
        [at, cells @ ..] if section.at(at.span) == "at" && !cells.is_empty() => {
            let place = cells.iter().fold(cells[0].span, |all, cell| all.to(cell.span));
            match read_cells(&section.text, place) {
                Some(cells) => Only::Cells(cells),
                None => return unreadable(place, "cells stand after `at`, such as `r4c1 r6c1`"),
            }
        }
        [first, ..] => {
            return unreadable(first.span, "`at` and cells can stand between the name and the reason");
        }
    };
    Ok(Allow { name: name.span, line: statement.word.to(why.span), only })
}

/// The `allow` lines of a walk, each for the next line that does something.
fn of_walk(section: &Section, block: &[Line]) -> Vec<Allow> {
    let (mut allows, mut next) = (Vec::new(), Span::default());
    for line in block.iter().rev() {
        match section.step(line) {
            Some(&StepLine::Allow(name, why)) => {
                let written = section.at(line.span).trim_start_matches(is_blank);
                let start = line.span.end as usize - written.len();
                let line = Span::new(start, why.end as usize);
                allows.push(Allow { name, line, only: Only::Line(next) });
            }
            Some(StepLine::Say(_)) => {}
            None if line.kind != LineKind::Kept => {}
            _ => next = line.span,
        }
    }
    allows.reverse();
    allows
}

/// What there is to say if no finding is called so.
fn unknown(section: &Section, span: Span) -> Option<Draft> {
    let name = section.at(span);
    if Finding::named(name).is_some() {
        return None;
    }
    let near = nearest(name, FINDINGS.iter().map(|finding| finding.name));
    let message = format!("no finding is called `{}`, so this accepts nothing", shown(name));
    let help = match near[..] {
        [] => "write the name of the finding as it is reported".to_owned(),
        _ => format!("write {}, if that is meant", either(&near)),
    };
    let draft = Draft::new(span, message, help);
    let propose = |draft: Draft, near: &&str| {
        draft.propose(format!("write `{near}`"), vec![(span, (*near).to_owned())])
    };
    Some(near.iter().fold(draft, propose))
}
