//! The language server: one owner of all texts, a loop of its own for messages, a file a feature.
//!
//! The way of one keystroke: `frame` takes it from the wire, `transport` hands it on in order, `document` changes the text
//! and reads again the section that it touches, looks at that, and puts the findings into the `outbox`. What takes longer,
//! or takes several files, the `worker` looks at when nothing has changed for a moment. What is found belongs to the
//! section's text, and goes with it, so that nothing is ever shown of a text that is no more.

mod actions;
mod completion;
mod convert;
mod definition;
mod document;
#[cfg(test)]
mod faults;
mod features;
mod folding;
mod formatting;
mod frame;
mod highlight;
mod hover;
mod inlay;
mod later;
mod lens;
mod links;
mod log;
mod names;
mod next;
mod outbox;
mod output;
mod place;
mod presence;
mod projects;
mod rename;
mod selection;
mod service;
mod settings;
mod state;
mod step_completion;
mod step_hover;
mod symbols;
mod tokens;
mod transfer;
mod transport;
mod walk;
mod worker;
mod workspace_symbols;

pub use features::{FEATURES, Feature};
pub use log::Log;
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
    let shared = Arc::new(worker::Shared::new(state::State::new(way, outbox.clone()), log.clone()));
    let later = later::Later::default();
    let gone = {
        let log = log.clone();
        move || {
            log.line("the process of the client is gone");
            lost();
        }
    };
    let service = tower_lsp::LspService::new(|client| {
        service::Server::new(shared, client, later.clone(), Box::new(gone))
    });
    log.line("started");
    let ending = transport::run(input, &outbox, service, &later, log);
    outbox.close();
    log.line(&format!("ended: {ending:?}"));
    later.end();
    ending
}
