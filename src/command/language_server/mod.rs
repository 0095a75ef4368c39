//! `ringtrue language-server`: the view of a pattern for editors that speak the Language Server Protocol, version 3.17, on the
//! standard streams.

mod actions;
mod completion;
mod diagnostics;
mod document;
mod folding;
mod formatting;
mod hints;
mod hover;
mod mending;
mod messages;
mod names;
mod server;
mod symbols;
mod tokens;

use std::io::{self, Write};
use std::sync::mpsc::{self, Receiver, RecvTimeoutError};
use std::thread;

use super::Outcome;
use super::failure::{Failure, reason};
use mending::{Mended, Mending};
use messages::Received;
use server::{Server, Stage};

/// What happens to the server.
enum Event {
    /// Something was read.
    Received(Received),
    /// Repairs of a document were looked for.
    Mended(Mended),
    /// There is nothing more to read.
    Ended,
}

/// Serves an editor until it says `exit` or goes away. The exit status is what the protocol asks for: 1 where the editor went
/// without a `shutdown`.
pub fn run() -> Result<Outcome, Failure> {
    let (sender, events) = mpsc::channel();
    let reader = sender.clone();
    // The thread waits for input that may never come, so nobody waits for it.
    thread::spawn(move || {
        let mut input = io::stdin().lock();
        while let Some(received) = messages::read(&mut input) {
            if reader.send(Event::Received(received)).is_err() {
                return;
            }
        }
        // Nobody listens any more where the server has ended.
        let _ = reader.send(Event::Ended);
    });
    let mut mending = Mending::new(sender);
    serve(&events, &mut mending, &mut io::stdout().lock())
        .map_err(|error| Failure(format!("the editor can't be answered: {}", reason(&error))))
}

fn serve(events: &Receiver<Event>, mending: &mut Mending, out: &mut impl Write) -> io::Result<Outcome> {
    let mut server = Server::default();
    loop {
        match next(events, mending) {
            Some(Event::Received(received)) => server.take(received),
            Some(Event::Mended(mended)) => {
                mending.is_done();
                server.mended(mended);
            }
            Some(Event::Ended) => return Ok(Outcome::Findings),
            // There was a pause.
            None => mending.begin(),
        }
        for message in server.outgoing.drain(..) {
            messages::write(out, &message)?;
        }
        if let Some(changed) = server.changed.take() {
            mending.wait_for(changed);
        }
        if let Stage::Over { in_order } = server.stage {
            return Ok(if in_order { Outcome::Clean } else { Outcome::Findings });
        }
    }
}

/// The next event; nothing where none came until repairs are to be looked for.
fn next(events: &Receiver<Event>, mending: &Mending) -> Option<Event> {
    let Some(pause) = mending.due_in() else { return Some(events.recv().unwrap_or(Event::Ended)) };
    match events.recv_timeout(pause) {
        Ok(event) => Some(event),
        Err(RecvTimeoutError::Timeout) => None,
        Err(RecvTimeoutError::Disconnected) => Some(Event::Ended),
    }
}
