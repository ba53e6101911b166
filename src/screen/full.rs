//! Owns the full screen's threads: one draws, one reads keys. The session waits for neither, whatever the terminal does.

use super::{Label, Line, Listening, Look, Picture, Screen, View, Who, draw::draw, terminal};
use crate::{
    keys::{Editor, Input},
    session::{Event, Session, State},
    words::Words,
};
use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, bounded};
use ratatui::{Terminal, backend::CrosstermBackend};
use std::{
    io::{self, Read, stdin, stdout},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
    thread::{self, JoinHandle},
    time::{Duration, Instant},
};

/// How often it is drawn anew without anything new: the size may have changed.
const DRAW_EVERY: Duration = Duration::from_millis(250);
/// How long the last drawing may take at the end.
const LAST_DRAWING: Duration = Duration::from_secs(1);

/// A view that fills the terminal.
pub struct Full {
    words: Arc<Words>,
    shared: Arc<Shared>,
    /// Closed at the end: then the drawing ends.
    wake: Option<Sender<()>>,
    drawing: Option<JoinHandle<()>>,
}

struct Shared {
    picture: Mutex<Picture>,
}

impl Shared {
    /// Nobody leaves a picture half changed: it can be used even after a panic.
    fn picture(&self) -> MutexGuard<'_, Picture> {
        self.picture.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Full {
    /// Takes the terminal and starts. The lines that are typed go into the channel, until the terminal is gone.
    ///
    /// # Errors
    /// Where the terminal cannot be used.
    pub fn start(look: Look, words: Arc<Words>, typed: Sender<Input>) -> io::Result<Self> {
        terminal::take()?;
        let shared = Arc::new(Shared { picture: Mutex::default() });
        // One wake-up that waits is enough, whatever changed: all of the picture is drawn.
        let (wake, woken) = bounded(1);
        let (picture, worded) = (Arc::clone(&shared), Arc::clone(&words));
        let started = thread::Builder::new()
            .name("screen".into())
            .spawn(move || keep_drawing(&picture, &woken, look, &worded))
            .and_then(|drawing| {
                let (shared, wake) = (Arc::clone(&shared), wake.clone());
                // It ends with the program, or with the terminal: a read from it cannot be broken off.
                thread::Builder::new()
                    .name("typing".into())
                    .spawn(move || read_keys(&shared, &wake, &typed))?;
                Ok(drawing)
            });
        match started {
            Ok(drawing) => Ok(Self { words, shared, wake: Some(wake), drawing: Some(drawing) }),
            Err(error) => {
                terminal::give_back();
                Err(error)
            }
        }
    }

    fn change(&self, change: impl FnOnce(&mut Picture)) {
        change(&mut self.shared.picture());
        if let Some(wake) = &self.wake {
            let _ = wake.try_send(());
        }
    }
}

impl Screen for Full {
    fn said(&mut self, line: &Line<'_>) {
        self.change(|picture| picture.said(line.text, line.kind));
    }

    fn came_in(&mut self, event: &Event) {
        self.change(|picture| picture.came_in(event, &self.words));
    }

    fn notice(&mut self, text: &str) {
        self.change(|picture| picture.notice(text));
    }

    fn journal(&mut self, path: &str) {
        // Told again at the end; here it would take the room of the cautions.
        let text = self.words.text(&Label::Journal { path: path.to_owned() });
        self.change(|picture| picture.line(Who::Notice, text));
    }

    fn stands(&mut self, session: &Session, state: &State) {
        let view = View::of(session, state, &self.words);
        self.change(|picture| picture.view = Some(view));
    }

    fn typing(&mut self, text: &str) {
        self.change(|picture| text.clone_into(&mut picture.typing));
    }

    fn listening(&mut self, listening: Listening) {
        if self.shared.picture().listening != listening {
            self.change(|picture| picture.listening = listening);
        }
    }
}

impl Drop for Full {
    fn drop(&mut self) {
        terminal::give_back();
        drop(self.wake.take());
        let until = Instant::now() + LAST_DRAWING;
        if let Some(drawing) = self.drawing.take() {
            while !drawing.is_finished() && Instant::now() < until {
                thread::sleep(Duration::from_millis(5));
            }
        }
    }
}

/// Draws until the terminal is given back or is gone.
fn keep_drawing(shared: &Shared, woken: &Receiver<()>, look: Look, words: &Words) {
    let Ok(mut terminal) = Terminal::new(CrosstermBackend::new(stdout())) else { return };
    loop {
        // The lock is not held while drawing: a terminal that hangs holds up nobody else.
        let picture = shared.picture().clone();
        let Some(_writing) = terminal::writing() else { return };
        if terminal.draw(|frame| draw(frame, &picture, look, words)).is_err() {
            return;
        }
        drop(_writing);
        match woken.recv_timeout(DRAW_EVERY) {
            Ok(()) | Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

/// Reads keys until the terminal is gone. Bytes are read here and not through crossterm's events: those spin without end on
/// a terminal that was closed (0.29).
fn read_keys(shared: &Shared, wake: &Sender<()>, send: &Sender<Input>) {
    let mut editor = Editor::default();
    let mut bytes = [0; 256];
    loop {
        let many = match stdin().lock().read(&mut bytes) {
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Ok(0) | Err(_) => {
                let _ = send.send(Input::Ended);
                return;
            }
            Ok(many) => many,
        };
        for line in editor.take(&bytes[..many]) {
            if send.send(line).is_err() {
                return;
            }
        }
        editor.text().clone_into(&mut shared.picture().typing);
        let _ = wake.try_send(());
    }
}
