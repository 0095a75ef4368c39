//! Repairs are looked for beside the typing: after a pause, one document at a time.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::Sender;
use std::thread;
use std::time::{Duration, Instant};

use ringtrue::view::{Repairs, View, view};

use super::Event;

/// So long nothing is typed before repairs are looked for.
const PAUSE: Duration = Duration::from_millis(300);

/// A document that was changed.
pub struct Changed {
    /// Its address.
    pub uri: String,
    /// All of it.
    pub text: String,
}

/// A document whose repairs were looked for.
pub struct Mended {
    /// Its address.
    pub uri: String,
    /// The text that they were looked for in.
    pub text: String,
    /// What is shown of it; nothing where the search failed.
    pub view: Option<View>,
}

/// The documents that wait for it.
pub struct Mending {
    events: Sender<Event>,
    /// By address, the last change of each.
    waiting: BTreeMap<String, Changed>,
    due: Instant,
    /// One is being worked on.
    busy: bool,
}

impl Mending {
    /// Nothing waits yet; what is done is told there.
    pub fn new(events: Sender<Event>) -> Self {
        Self { events, waiting: BTreeMap::new(), due: Instant::now(), busy: false }
    }

    /// A document waits for a pause.
    pub fn wait_for(&mut self, changed: Changed) {
        self.waiting.insert(changed.uri.clone(), changed);
        self.due = Instant::now() + PAUSE;
    }

    /// How long until repairs are to be looked for; nothing where nothing waits, or one is being worked on.
    pub fn due_in(&self) -> Option<Duration> {
        let wanted = !self.busy && !self.waiting.is_empty();
        wanted.then(|| self.due.saturating_duration_since(Instant::now()))
    }

    /// Begins with the first that waits.
    pub fn begin(&mut self) {
        let Some((_, Changed { uri, text })) = self.waiting.pop_first() else { return };
        self.busy = true;
        let events = self.events.clone();
        thread::spawn(move || {
            let view = catch_unwind(AssertUnwindSafe(|| view(&text, Repairs::Tried))).ok();
            // Nobody listens any more where the server has ended.
            let _ = events.send(Event::Mended(Mended { uri, text, view }));
        });
    }

    /// The one that was being worked on is done.
    pub fn is_done(&mut self) {
        self.busy = false;
    }
}
