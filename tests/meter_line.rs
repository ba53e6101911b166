//! A meter on a line: one is simulated on a pseudo-terminal, and whole sessions are led by keys beside it.
#![cfg(unix)]

mod keyed;

use bothhands::{
    journal::{self, Entry},
    session::Event,
};
use keyed::{Keyed, PREPARATION, SOUND, bothhands};
use rustix::{
    event::{PollFd, PollFlags, Timespec, poll},
    fs::{Mode, OFlags},
    pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt},
};
use std::{
    collections::VecDeque,
    fs,
    os::{fd::OwnedFd, unix::fs::symlink},
    path::{Path, PathBuf},
    sync::{
        Arc, Mutex,
        atomic::{AtomicBool, Ordering},
    },
    thread::{self, JoinHandle},
};

/// The pins that are read, in the order of [`SOUND`].
const PINS: [usize; 11] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 13];

/// What the simulated meter sends.
#[derive(Default)]
struct Display {
    /// Answers to the next questions for a reading.
    next: VecDeque<Vec<u8>>,
    /// The answer to all others; none: silence.
    rest: Option<Vec<u8>>,
}

/// A meter that is plugged in at a path.
struct Simulated {
    path: PathBuf,
    display: Arc<Mutex<Display>>,
    unplugged: Arc<AtomicBool>,
    thread: Option<JoinHandle<()>>,
}

impl Simulated {
    fn plug_in(path: &Path) -> Self {
        let ours = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY | OpenptFlags::CLOEXEC).unwrap();
        grantpt(&ours).unwrap();
        unlockpt(&ours).unwrap();
        let name = ptsname(&ours, Vec::new()).unwrap().into_string().unwrap();
        let _ = fs::remove_file(path);
        symlink(&name, path).unwrap();
        // Held open, so that the line is no dead one before the program opens it.
        let flags = OFlags::RDWR | OFlags::NOCTTY | OFlags::CLOEXEC;
        let held = rustix::fs::open(name.as_str(), flags, Mode::empty()).unwrap();
        let display = Arc::new(Mutex::new(Display::default()));
        let unplugged = Arc::new(AtomicBool::new(false));
        let (theirs, stop) = (Arc::clone(&display), Arc::clone(&unplugged));
        let thread = thread::spawn(move || {
            answer(&ours, &theirs, &stop);
            drop((ours, held));
        });
        Self { path: path.to_owned(), display, unplugged, thread: Some(thread) }
    }

    /// Shows this from now on.
    fn shows(&self, line: &str) {
        self.sends(&[], Some(line.as_bytes()));
    }

    /// Sends the first ones once each, and then the last one for ever.
    fn sends(&self, next: &[&str], rest: Option<&[u8]>) {
        let next = next.iter().map(|line| line.as_bytes().to_vec()).collect();
        *self.display.lock().unwrap() = Display { next, rest: rest.map(<[u8]>::to_vec) };
    }

    fn unplug(mut self) {
        self.stop();
    }

    fn stop(&mut self) {
        self.unplugged.store(true, Ordering::SeqCst);
        if let Some(thread) = self.thread.take() {
            thread.join().unwrap();
        }
        let _ = fs::remove_file(&self.path);
    }
}

impl Drop for Simulated {
    fn drop(&mut self) {
        self.stop();
    }
}

/// Answers line by line until it is unplugged.
fn answer(line: &OwnedFd, display: &Mutex<Display>, unplugged: &AtomicBool) {
    let mut asked = Vec::new();
    while !unplugged.load(Ordering::SeqCst) {
        let mut fds = [PollFd::new(line, PollFlags::IN)];
        let soon = Timespec { tv_sec: 0, tv_nsec: 20_000_000 };
        if poll(&mut fds, Some(&soon)).unwrap() == 0 || !fds[0].revents().contains(PollFlags::IN) {
            continue;
        }
        let mut buffer = [0; 64];
        let count = rustix::io::read(line, &mut buffer).unwrap_or(0);
        asked.extend_from_slice(&buffer[..count]);
        while let Some(end) = asked.iter().position(|byte| *byte == b'\n') {
            let question: Vec<u8> = asked.drain(..=end).collect();
            let sent = match question.trim_ascii() {
                b"READ?" | b"FETC?" => {
                    let mut display = display.lock().unwrap();
                    display.next.pop_front().or_else(|| display.rest.clone())
                }
                b"CONF?" => Some(b"\"RES +6.000000E+01,+1.000000E-03\"".to_vec()),
                b"SYST:ERR?" => Some(b"+0,\"No error\"".to_vec()),
                _ => None,
            };
            if let Some(mut sent) = sent {
                sent.extend_from_slice(b"\r\n");
                rustix::io::write(line, &sent).unwrap();
            }
        }
    }
}

/// A number as a meter sends it: NR3.
fn nr3(shown: &str) -> String {
    let value: f64 = shown.parse().unwrap();
    let exponent = if value == 0.0 { 0 } else { value.abs().log10().floor() as i32 };
    format!("{:+.8}E{exponent:+03}", value / 10f64.powi(exponent))
}

/// The pin that a line asks for.
fn pin(line: &str) -> Option<usize> {
    let line = line.to_lowercase();
    let (_, rest) = line.split_once("pin ")?;
    rest.split(|sign: char| !sign.is_ascii_digit()).next()?.parse().ok()
}

struct Bench {
    data: tempfile::TempDir,
    port: PathBuf,
}

impl Bench {
    fn new() -> Self {
        let data = tempfile::tempdir().unwrap();
        let port = data.path().join("meter");
        Self { data, port }
    }

    fn start(&self, more: &[&str]) -> Keyed {
        let port = self.port.to_str().unwrap();
        let mut args = vec!["--meter-port", port];
        args.extend(more);
        Keyed::start(self.data.path(), &args)
    }
}

/// All readings of a journal: the line and what a meter sent, or none where they were typed.
fn readings(path: &Path) -> Vec<(bool, String)> {
    let past = journal::read(path).unwrap();
    let read = |event: &Event| match event {
        Event::Metered { text, .. } => Some((true, text.clone())),
        Event::Keyed { text, .. } if text.contains(['.', '*']) && text != "." => Some((false, text.clone())),
        _ => None,
    };
    past.lines
        .iter()
        .filter_map(|line| match &line.entry {
            Entry::Event(event) => read(event),
            _ => None,
        })
        .collect()
}

#[test]
fn a_whole_session_is_read_from_the_meter_and_an_unplugged_one_stops_nothing() {
    let bench = Bench::new();
    let mut meter = Simulated::plug_in(&bench.port);
    let mut session = bench.start(&[]);
    // At a gate nothing is taken.
    meter.shows(&nr3("11"));
    assert!(session.answer_to(".").contains("Not yet."));
    for line in &PREPARATION[..PREPARATION.len() - 1] {
        session.answer_to(line);
    }
    meter.shows(&nr3("0.200"));
    let mut said = session.answer_to("take it");
    assert!(said.contains("Leads 0.200. Pin 1"), "{said}");
    let mut from_meter = vec![nr3("0.200")];
    let mut unplugged = false;
    // Pin 6 is open; every pin is asked for as often as the session wants it.
    for _ in 0..30 {
        let Some(pin) = pin(&said) else { break };
        let shown = SOUND[PINS.iter().position(|one| *one == pin).unwrap()];
        let sent = if pin == 6 { "+9.90000000E+37".to_owned() } else { nr3(shown) };
        match pin {
            // The probe slips first.
            3 => meter.sends(
                &["+1.20000000E+00", "+9.90000000E+37", "+5.10000000E+00", "+5.30000000E+00"],
                Some(sent.as_bytes()),
            ),
            5 if !unplugged => {
                meter.unplug();
                unplugged = true;
                let told = session.notice_to(".");
                assert!(told.contains("cannot be used: it was unplugged"), "{told}");
                let told = session.notice_to(".");
                assert!(told.contains("cannot be used: No such file"), "{told}");
                said = session.answer_to(shown);
                meter = Simulated::plug_in(&bench.port);
                continue;
            }
            7 => {
                meter.sends(&[], Some(b"\xff\x00\x1b[2Jz"));
                let told = session.notice_to(".");
                assert!(told.contains("is no reading") && !told.contains('\u{1b}'), "{told:?}");
                meter.shows(&sent);
            }
            _ => meter.shows(&sent),
        }
        said = session.answer_to(".");
        from_meter.push(sent);
    }
    assert!(said.contains("All read."), "{said}");
    let journal = session.journal.clone();
    let end = session.finish();
    assert!(end.contains("Coil F") && end.contains("open"), "{end}");
    let (metered, typed): (Vec<_>, Vec<_>) =
        readings(&journal).into_iter().partition(|(metered, _)| *metered);
    assert_eq!(metered.into_iter().map(|(_, text)| text).collect::<Vec<_>>(), from_meter);
    assert_eq!(typed, [(false, SOUND[4].to_owned())]);
    // What was sent is in the record as the display showed it, and marked.
    let report = |form: &str| {
        let output = bothhands(bench.data.path())
            .args(["report"])
            .arg(&journal)
            .args(["--as", form])
            .assert()
            .success();
        String::from_utf8(output.get_output().stdout.clone()).unwrap()
    };
    let record: serde_json::Value = serde_json::from_str(&report("json")).unwrap();
    let taken = record["record"]["readings"].as_array().unwrap();
    let of = |circuit: &str| taken.iter().find(|one| one["circuit"] == circuit).unwrap().clone();
    assert_eq!(of("coil-c")["reading"]["value"]["number"], SOUND[2]);
    assert_eq!(of("coil-c")["intake"]["way"], "meter");
    assert_eq!(of("coil-e")["intake"]["way"], "keys");
    assert!(of("coil-f")["reading"].get("over-range").is_some());
    assert!(report("html").contains("from the meter <q>+5.42000000E+00</q>"));
    bothhands(bench.data.path()).arg("verify").arg(&journal).assert().success();
}

/// What comes after the person has gone on is nobody's reading, and a silent meter is told.
#[test]
fn a_reading_that_comes_too_late_is_dropped() {
    let bench = Bench::new();
    let meter = Simulated::plug_in(&bench.port);
    let mut session = bench.start(&["--set", "meter_query = \"fetch\"", "--meter-baud", "19200"]);
    for line in PREPARATION {
        session.answer_to(line);
    }
    let wanders = ["+5.1E+00", "+5.9E+00"].repeat(4);
    meter.sends(&wanders, Some(nr3("5.333").as_bytes()));
    session.send(".");
    // The person reads it aloud while the display still wanders.
    assert!(session.answer_to("5.401").contains("Pin 2"));
    let sent = nr3(SOUND[1]);
    meter.shows(&sent);
    let said = session.answer_to(".");
    assert!(said.contains("5.398. In. Pin 3"), "{said}");
    assert_eq!(readings(&session.journal)[1..], [(false, "5.401".to_owned()), (true, sent)]);
    // A meter that falls silent.
    meter.sends(&[], None);
    let told = session.notice_to(".");
    assert!(told.contains("does not answer"), "{told}");
    assert!(session.answer_to("5.420").contains("5.42"));
}

#[test]
fn a_meter_that_is_missing_is_told_and_the_session_begins() {
    let bench = Bench::new();
    fs::write(&bench.port, "no line").unwrap();
    let mut session = bench.start(&[]);
    for line in PREPARATION {
        session.answer_to(line);
    }
    let told = session.notice_to(".");
    assert!(told.contains("it is no serial line"), "{told}");
    assert!(session.answer_to("5.401").contains("5.401. In."));
    session.kill();
    // Without the option its words say how to name one.
    let mut session = Keyed::start(bench.data.path(), &[]);
    for line in PREPARATION {
        session.answer_to(line);
    }
    assert!(session.notice_to("take it").contains("--meter-port"));
    assert!(session.answer_to("5.401").contains("5.401. In."));
}
