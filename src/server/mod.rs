//! The language server: one owner of all texts, a loop of its own for messages, a file a feature.
//!
//! The way of one keystroke: `frame` takes it from the wire, `transport` hands it on in order, `document` changes the text
//! and reads again the section that it touches, looks at that, and puts the findings into the `outbox`. What takes longer,
//! or takes several files, the `worker` looks at when nothing has changed for a moment. What is found belongs to the
//! section's text, and goes with it, so that nothing is ever shown of a text that is no more.
//!
//! Requests go through `service` to the file of their feature; those for findings, which may wait for long and have large
//! answers, go past it (`aside`) to `pull`, and those about a whole text to `whole`. Files that are not open are read beside,
//! in pieces (`folders`).

mod abilities;
mod actions;
mod alone;
mod aside;
mod call;
mod commands;
mod completion;
mod completion_details;
mod convert;
mod deeds;
mod definition;
mod document;
mod dressing;
mod errand;
mod fault;
#[cfg(test)]
mod faults;
mod features;
mod findings;
mod fixes;
mod folders;
mod folding;
mod formatting;
mod frame;
mod hands;
mod highlight;
mod hover;
mod inlay;
mod jobs;
mod later;
mod lens;
mod links;
mod log;
mod markup;
mod names;
mod next;
mod outbox;
mod output;
mod page;
mod place;
mod presence;
mod projects;
mod pull;
mod pull_all;
mod reasons;
mod rename;
mod reply;
mod sections;
mod selection;
mod service;
mod settings;
mod shown;
mod snippets;
mod state;
mod step_completion;
mod step_hover;
mod symbol_range;
mod symbols;
mod together;
mod tokens;
mod trace;
mod transfer;
mod transport;
mod uris;
mod walk;
mod watching;
mod whole;
mod worker;
mod workspace_symbols;

pub use features::{FEATURES, Feature};
pub use log::{Level, Log};
pub use output::Output;
pub use transport::Ending;

use crate::settings::Way;
use std::io::{self, Read};
use std::sync::Arc;

/// Serves the client at the other end of `input` and `output` until it takes its leave; the settings of a file are found in
/// this `way`. Calls `lost` if the client takes no messages any more or its process is gone, which may happen while this
/// waits for the next message.
///
/// # Errors
/// If the system gives no threads to work with.
pub fn serve(
    input: impl Read,
    output: impl Output,
    lost: impl Fn() + Send + Sync + 'static,
    way: Way,
    log: &Log,
) -> io::Result<Ending> {
    let lost = Arc::new(lost);
    let outbox = outbox::Outbox::new(output, {
        let lost = Arc::clone(&lost);
        move || lost()
    });
    fault::report_from_now_on(log.clone(), outbox.clone());
    let later = later::Later::default();
    let errands = errand::Errands::new(outbox.clone());
    let state = state::State::new(way, outbox.clone());
    let shared = worker::Shared::new(state, outbox.clone(), errands.clone(), later.clone(), log.clone());
    let shared = Arc::new(shared);
    let gone = {
        let log = log.clone();
        move || {
            log.note(Level::Info, "the process of the client is gone");
            lost();
        }
    };
    let service = tower_lsp::LspService::new(|client| {
        service::Server::new(Arc::clone(&shared), client, later.clone(), errands.clone(), Box::new(gone))
    });
    log.note(Level::Info, concat!("started: gridsetter ", env!("CARGO_PKG_VERSION")));
    let trace = trace::Trace::new(outbox.clone());
    let session = transport::Session {
        outbox: &outbox,
        aside: Some(aside::Aside::new(shared, errands, later.clone())),
        later: &later,
        observer: call::Observer { log: log.clone(), trace },
    };
    let ending = transport::run(input, service, &session);
    outbox.close();
    log.note(Level::Info, &format!("ended: {ending:?}"));
    later.end();
    ending
}
