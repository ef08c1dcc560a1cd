//! What is done for somebody who waits: it can be called off, it tells how far it is if it takes long, and it gives parts of
//! what comes of it where these are wanted.

use super::outbox::{Message, Outbox, put};
use serde_json::json;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use tower_lsp::jsonrpc::Request;
use tower_lsp::ls_types::{NumberOrString, ProgressToken};

/// Who waits for so long is told how far it is.
const LONG: Duration = Duration::from_millis(500);

/// How far it is, is told so often.
const OFTEN: Duration = Duration::from_millis(100);

/// Whom errands are done for. A clone is for the same.
#[derive(Clone)]
pub struct Errands(Arc<Shared>);

struct Shared {
    outbox: Outbox,
    /// The client shows how far something is that it did not ask for.
    shows: AtomicBool,
    last: AtomicU64,
    under_way: Mutex<Vec<(ProgressToken, Arc<Signs>)>>,
}

/// What the client said of an errand.
#[derive(Default)]
struct Signs {
    called_off: Arc<AtomicBool>,
    /// It shows how far it is.
    shown: AtomicBool,
}

/// Something that is done for somebody.
pub struct Errand {
    signs: Arc<Signs>,
    telling: Option<Telling>,
    parts: Option<(Outbox, ProgressToken)>,
}

/// How far something is, and to whom that is told.
struct Telling {
    errands: Errands,
    title: &'static str,
    token: ProgressToken,
    signs: Arc<Signs>,
    /// The client gave the token; otherwise it is asked to take ours.
    given: bool,
    begun: Instant,
    told: Mutex<Told>,
}

#[derive(Default)]
struct Told {
    asked: bool,
    last: Option<Instant>,
}

/// Dropped, it calls the errand off: nobody waits for what comes of it.
pub struct Waiter(Arc<Signs>);

impl Drop for Waiter {
    fn drop(&mut self) {
        self.0.called_off.store(true, Ordering::Relaxed);
    }
}

impl Errands {
    /// For the client at the other end.
    pub fn new(outbox: Outbox) -> Errands {
        let (shows, last, under_way) = (AtomicBool::new(false), AtomicU64::new(0), Mutex::default());
        Errands(Arc::new(Shared { outbox, shows, last, under_way }))
    }

    /// The client shows how far something is that it did not ask for.
    pub fn are_shown(&self) {
        self.0.shows.store(true, Ordering::Relaxed);
    }

    /// Something that the client asked for, with the tokens that it gave: for how far it is, and for parts of what comes.
    pub fn asked(
        &self,
        title: &'static str,
        progress: Option<ProgressToken>,
        parts: Option<ProgressToken>,
    ) -> Errand {
        let signs = Arc::default();
        let telling = progress.map(|token| self.telling(title, token, true, &signs));
        Errand { signs, telling, parts: parts.map(|token| (self.0.outbox.clone(), token)) }
    }

    /// Something that is done unasked.
    pub fn unasked(&self, title: &'static str) -> Errand {
        let signs = Arc::default();
        let telling = self.0.shows.load(Ordering::Relaxed).then(|| {
            let number = self.0.last.fetch_add(1, Ordering::Relaxed);
            self.telling(title, NumberOrString::String(format!("gridsetter/{number}")), false, &signs)
        });
        Errand { signs, telling, parts: None }
    }

    fn telling(&self, title: &'static str, token: ProgressToken, given: bool, signs: &Arc<Signs>) -> Telling {
        if given {
            signs.shown.store(true, Ordering::Relaxed);
        }
        self.under_way().push((token.clone(), Arc::clone(signs)));
        let (errands, signs) = (self.clone(), Arc::clone(signs));
        Telling { errands, title, token, signs, given, begun: Instant::now(), told: Mutex::default() }
    }

    /// The client does not want this any more.
    pub fn call_off(&self, token: &ProgressToken) {
        self.signs_of(token, |signs| signs.called_off.store(true, Ordering::Relaxed));
    }

    /// The client answered whether it shows this.
    pub fn answered(&self, token: &str, shows: bool) {
        let token = NumberOrString::String(token.to_owned());
        self.signs_of(&token, |signs| signs.shown.store(shows, Ordering::Relaxed));
    }

    fn signs_of(&self, token: &ProgressToken, heed: impl Fn(&Signs)) {
        let under_way = self.under_way();
        under_way.iter().filter(|(known, _)| known == token).for_each(|(_, signs)| heed(signs));
    }

    fn under_way(&self) -> std::sync::MutexGuard<'_, Vec<(ProgressToken, Arc<Signs>)>> {
        self.0.under_way.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Errand {
    /// One of which nothing is told, and that nobody calls off.
    pub fn quiet() -> Errand {
        Errand { signs: Arc::default(), telling: None, parts: None }
    }

    /// Who waits for what comes of it.
    pub fn waiter(&self) -> Waiter {
        Waiter(Arc::clone(&self.signs))
    }

    /// Whether nobody wants what comes of it.
    pub fn is_called_off(&self) -> bool {
        self.signs.called_off.load(Ordering::Relaxed)
    }

    /// What says so.
    pub fn sign(&self) -> &Arc<AtomicBool> {
        &self.signs.called_off
    }

    /// So much is done, of so much if that is known. It is told if it takes long already.
    pub fn at(&self, done: usize, of: Option<usize>) {
        let Some(telling) = &self.telling else { return };
        if telling.begun.elapsed() >= LONG {
            telling.tell(done, of);
        }
    }

    /// Whether parts of what comes of it are wanted.
    pub fn gives_parts(&self) -> bool {
        self.parts.is_some()
    }

    /// Whether parts of what comes of it are wanted and can be sent just now.
    pub fn takes_parts(&self) -> bool {
        self.parts.as_ref().is_some_and(|(outbox, _)| outbox.has_room())
    }

    /// Gives a part of what comes of it, however much is waiting for the client.
    pub fn part_at_once(&self, part: &impl Message) {
        if let Some((outbox, token)) = &self.parts {
            outbox.send_at_once(&Progress { token, value: part });
        }
    }

    /// Gives a part of what comes of it; waits itself while too much is waiting for the client.
    pub fn part(&self, part: &impl Message) {
        if let Some((outbox, token)) = &self.parts {
            outbox.send(&Progress { token, value: part });
        }
    }
}

impl Telling {
    fn tell(&self, done: usize, of: Option<usize>) {
        let outbox = &self.errands.0.outbox;
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        if !self.given && !told.asked {
            told.asked = true;
            let NumberOrString::String(id) = &self.token else { return };
            let asked = Request::build("window/workDoneProgress/create").id(id.clone());
            outbox.send_at_once(&asked.params(json!({"token": self.token})).finish());
        }
        let shown = self.signs.shown.load(Ordering::Relaxed);
        if !shown || told.last.is_some_and(|last| last.elapsed() < OFTEN) {
            return;
        }
        let mut value = match of {
            Some(of) => json!({"message": format!("{done} of {of}"), "percentage": done * 100 / of.max(1)}),
            None => json!({"message": done.to_string()}),
        };
        if told.last.is_none() {
            value["kind"] = json!("begin");
            value["title"] = json!(self.title);
            value["cancellable"] = json!(true);
        } else {
            value["kind"] = json!("report");
        }
        told.last = Some(Instant::now());
        outbox.send_at_once(&Progress { token: &self.token, value: &value });
    }
}

impl Drop for Telling {
    fn drop(&mut self) {
        if self.told.get_mut().unwrap_or_else(PoisonError::into_inner).last.is_some() {
            let end = json!({"kind": "end"});
            self.errands.0.outbox.send_at_once(&Progress { token: &self.token, value: &end });
        }
        self.errands.under_way().retain(|(_, signs)| !Arc::ptr_eq(signs, &self.signs));
    }
}

/// What is told of something that is under way, or given of what comes of it.
struct Progress<'a, T> {
    token: &'a ProgressToken,
    value: &'a T,
}

impl<T: Message> Message for Progress<'_, T> {
    fn write(&self, to: &mut Vec<u8>) {
        put(to, r#"{"jsonrpc":"2.0","method":"$/progress","params":{"token":"#, self.token);
        put(to, r#","value":"#, self.value);
        to.extend_from_slice(b"}}");
    }
}

#[cfg(test)]
mod tests {
    use super::super::output::written::Written;
    use super::*;
    use serde_json::Value;

    /// Messages that were sent, by method and kind.
    fn heard(written: &Written) -> Vec<String> {
        let of = |message: Value| {
            let kind = message["params"]["value"]["kind"].as_str().map(|kind| format!(" {kind}"));
            let percentage = &message["params"]["value"]["percentage"];
            let percentage = percentage.as_u64().map(|it| format!(" {it}")).unwrap_or_default();
            format!("{}{}{percentage}", message["method"].as_str().unwrap(), kind.unwrap_or_default())
        };
        written.messages().into_iter().map(of).collect()
    }

    /// As if it had taken long already, and nothing was told for a while.
    fn age(errand: &mut Errand) {
        let telling = errand.telling.as_mut().unwrap();
        telling.begun -= LONG;
        if let Some(last) = &mut telling.told.get_mut().unwrap().last {
            *last -= OFTEN;
        }
    }

    #[test]
    fn what_takes_long_is_told_and_what_does_not_is_not() {
        let written = Written::default();
        let errands = Errands::new(Outbox::new(written.clone(), || {}));
        let mut errand = errands.asked("Looking", Some(NumberOrString::Number(1)), None);
        errand.at(1, Some(4));
        assert_eq!(heard(&written), [""; 0], "it is not long yet");
        age(&mut errand);
        errand.at(2, Some(4));
        errand.at(3, Some(4));
        assert_eq!(heard(&written), ["$/progress begin 50"], "not more often than can be read");
        age(&mut errand);
        errand.at(3, Some(4));
        drop(errand);
        let all = ["$/progress begin 50", "$/progress report 75", "$/progress end"];
        assert_eq!(heard(&written), all);
        drop(errands.asked("Looking", Some(NumberOrString::Number(1)), None));
        assert_eq!(heard(&written), all, "what was not begun has no end");
    }

    #[test]
    fn nobody_is_told_unasked_who_does_not_show_it() {
        let written = Written::default();
        let errands = Errands::new(Outbox::new(written.clone(), || {}));
        errands.unasked("Reading").at(1, Some(4));
        errands.are_shown();
        let mut errand = errands.unasked("Reading");
        age(&mut errand);
        errand.at(1, Some(4));
        assert_eq!(heard(&written), ["window/workDoneProgress/create"], "it is asked, and has not answered");
        errands.answered("gridsetter/0", true);
        errand.at(2, Some(4));
        assert_eq!(heard(&written)[1..], ["$/progress begin 50"]);
        errands.call_off(&NumberOrString::String("gridsetter/0".to_owned()));
        assert!(errand.is_called_off());
        let mut refused = errands.unasked("Reading");
        age(&mut refused);
        refused.at(1, Some(4));
        errands.answered("gridsetter/1", false);
        refused.at(2, Some(4));
        drop(refused);
        assert_eq!(heard(&written)[2..], ["window/workDoneProgress/create"]);
    }

    #[test]
    fn who_waits_no_more_has_called_it_off() {
        let errand = Errand::quiet();
        let waiter = errand.waiter();
        assert!(!errand.is_called_off());
        drop(waiter);
        assert!(errand.is_called_off());
    }
}
