//! Owns the following of a device: read, lost, found again; its keys become inputs. Where the keys come from is behind
//! [`KeySource`].

use super::{
    Input,
    pedal::{KeyEvent, Role},
};
use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, unbounded};
use std::{
    io, thread,
    time::{Duration, Instant},
};

/// How often a device that is gone is looked for.
const AGAIN: Duration = Duration::from_secs(1);

/// Where keys come from; can be opened again after it was lost.
pub trait KeySource: Send {
    /// Opens it, so that its keys come here and nowhere else.
    ///
    /// # Errors
    /// In words, why it is not there.
    fn open(&mut self) -> Result<Box<dyn KeyStream>, String>;
    /// How long to wait before it is tried again; none: not any more.
    fn again(&self) -> Option<Duration> {
        Some(AGAIN)
    }
}

/// An open source.
pub trait KeyStream {
    /// Waits for keys.
    ///
    /// # Errors
    /// In words, why no more can come.
    fn read(&mut self) -> Result<Vec<KeyEvent>, String>;
}

/// What the reading thread tells.
enum Told {
    Key(KeyEvent, Instant),
    Missing(String),
    Gone(String),
    Back,
}

/// Follows a device on threads of its own for as long as somebody takes its inputs. When the program ends, the kernel closes
/// the device and its keys go where they went before.
///
/// # Errors
/// Where no thread can be started.
pub fn follow(source: Box<dyn KeySource>, role: Role, send: Sender<Input>) -> io::Result<()> {
    let (tell, told) = unbounded();
    thread::Builder::new().name("reading keys".into()).spawn(move || read(source, &tell))?;
    thread::Builder::new().name("taking keys".into()).spawn(move || take(&told, role, &send))?;
    Ok(())
}

fn read(mut source: Box<dyn KeySource>, tell: &Sender<Told>) {
    // A device that is there from the start is not worth a word.
    let mut gone = false;
    loop {
        match source.open() {
            Err(why) => {
                if !gone && tell.send(Told::Missing(why)).is_err() {
                    return;
                }
                gone = true;
            }
            Ok(mut stream) => {
                if gone && tell.send(Told::Back).is_err() {
                    return;
                }
                let why = loop {
                    match stream.read() {
                        Err(why) => break why,
                        Ok(events) => {
                            let at = Instant::now();
                            for event in events {
                                if tell.send(Told::Key(event, at)).is_err() {
                                    return;
                                }
                            }
                        }
                    }
                };
                gone = true;
                if tell.send(Told::Gone(why)).is_err() {
                    return;
                }
            }
        }
        match source.again() {
            Some(wait) => thread::sleep(wait),
            None => return,
        }
    }
}

fn take(told: &Receiver<Told>, mut role: Role, send: &Sender<Input>) {
    let begun = Instant::now();
    let name = role.name();
    loop {
        let next = match role.due() {
            None => told.recv().map_err(|_| RecvTimeoutError::Disconnected),
            Some(due) => told.recv_deadline(begun + due),
        };
        let inputs = match next {
            Ok(Told::Key(event, at)) => role.key(event, at.saturating_duration_since(begun)),
            Ok(Told::Missing(why)) => {
                vec![Input::Notice(format!("The {name} is not there ({why}). It is looked for."))]
            }
            Ok(Told::Gone(why)) => {
                let mut inputs = role.let_go();
                inputs.push(Input::Notice(format!("The {name} is gone ({why}). It is looked for again.")));
                inputs
            }
            Ok(Told::Back) => vec![Input::Notice(format!("The {name} is there."))],
            Err(RecvTimeoutError::Timeout) => role.pass(begun.elapsed()),
            Err(RecvTimeoutError::Disconnected) => return,
        };
        for input in inputs {
            if send.send(input).is_err() {
                return;
            }
        }
    }
}
