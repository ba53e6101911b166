//! How a record grows: reading a journal, going on with it and making its record, by the number of readings.
//!
//! `cargo bench --no-default-features --bench record`. Prints one line for each size; times are the best of three, in milliseconds. Parts,
//! readings and journals are invented and lie in a folder that is deleted again.

use bothhands::{
    grammar::Grammar,
    journal::{Entry, FORMAT, Header, JobDetails, Journal, read, sha256},
    keys, live, profile, report,
    session::{End, Event, Rules, Session, State},
};
use jiff::{Timestamp, ToSpan};
use std::{
    fmt::Write as _,
    path::{Path, PathBuf},
    sync::Arc,
    time::Instant,
};

/// How the readings come about.
#[derive(Clone, Copy)]
enum Kind {
    /// Each is of a circuit of its own.
    Circuits,
    /// All are of a part with eleven circuits, one corrected again and again before the last is read.
    Corrections,
    /// The same, corrected when everything was read.
    AtTheEnd,
}

/// An invented part with so many coils against one pin, in families of eight.
fn part(count: usize) -> String {
    let text = profile::unknown(2, Some(1)).unwrap();
    let text = text.split("\n[[circuit]]").next().unwrap().replace("families_from_readings = true\n", "");
    let pins: String = (3..count + 2)
        .map(|at| {
            format!("    {{ pin = {at}, row = {}, column = {} }},\n", (at - 1) / 40 + 1, (at - 1) % 40 + 1)
        })
        .collect();
    let (before, after) = text.rsplit_once("\n]\n").unwrap();
    let mut text = format!("{before}\n{pins}]\n{after}\n");
    for family in 0..count.div_ceil(8) {
        let _ = writeln!(
            text,
            "[[family]]\nid = \"family-{family}\"\ntitle = \"family {family}\"\ntolerance_percent = 3\ncontact_ohm = 0.05"
        );
    }
    for at in 0..count {
        let _ = writeln!(
            text,
            "[[circuit]]\nid = \"coil-{at}\"\nname = \"coil {at}\"\nkind = \"copper-coil\"\npin = {}\nagainst = 1\n\
             family = \"family-{}\"",
            at + 2,
            at / 8
        );
    }
    text
}

fn session(text: &str) -> (Session, Header) {
    let part = profile::parse("bench-part", text).unwrap_or_else(|error| panic!("{error:?}"));
    let meter = profile::find_meter("handheld-60000").unwrap();
    let header = Header {
        format: FORMAT,
        program: "bench".into(),
        profile: part.id.clone(),
        profile_fingerprint: sha256(text.as_bytes()),
        profile_text: text.to_owned(),
        meter: meter.value.id.clone(),
        meter_fingerprint: meter.value.fingerprint.clone(),
        meter_text: meter.text,
        job: None,
        details: JobDetails::default(),
        zone: None,
        ways: "keys".into(),
        simulated: true,
    };
    let (profile, meter) = (Arc::new(part), Arc::new(meter.value));
    let grammar = Arc::new(Grammar::builtin("en").unwrap());
    (Session { profile, meter, grammar, last_time: Arc::default() }, header)
}

/// Writes a journal with so many readings, concluded or not.
fn journal(folder: &Path, kind: Kind, readings: usize, concluded: bool) -> PathBuf {
    let circuits = match kind {
        Kind::Circuits => readings - 1,
        Kind::Corrections | Kind::AtTheEnd => 11,
    };
    let (session, header) = session(&part(circuits));
    let mut journal = Journal::create(folder, &header).unwrap();
    let mut state = State::new(&session.profile);
    let mut at: Timestamp = "2026-11-28T08:00:00Z".parse().unwrap();
    let mut take = |state: &mut State, event: Event| {
        at += 100.milliseconds();
        journal.append_with(at, Entry::Event(event.clone()), session.awaited(state), None).unwrap();
        session.follow_up(state, at, &event);
        let text = String::from("5.401. In. Pin 7, coil G.");
        let message =
            Some(serde_json::json!({"then": {"first": {"read-back": {"judged": {"class": "within"}}}}}));
        journal.append_with(at, Entry::Spoken { text, message }, session.awaited(state), None).unwrap();
    };
    let keyed = |state: &State, line: &str| Event::Keyed {
        text: line.to_owned(),
        utterance: keys::parse(line, &session.grammar, &session.context(state)),
    };
    take(&mut state, Event::Opened(Rules::NOW));
    for gate in 0..session.profile.gates.len() {
        let event = keyed(&state, &format!("{0}{0}", gate + 1));
        take(&mut state, event);
    }
    for line in ["20", "0.200"] {
        let event = keyed(&state, line);
        take(&mut state, event);
    }
    // Each reading is another number, so that the state is another one each time.
    let shown = |n: usize| format!("5.{}", 390 + n * 7 % 20);
    let first = if let Kind::Corrections = kind { 5 } else { circuits + 1 };
    for n in 0..first {
        let event = keyed(&state, &shown(n));
        take(&mut state, event);
    }
    while state.taken.len() < readings {
        let line = format!("w {}", shown(state.taken.len()));
        let event = keyed(&state, &line);
        take(&mut state, event);
    }
    assert_eq!(state.taken.len(), readings, "readings are refused");
    if concluded {
        live::close(&session, &state, &mut journal, End::Concluded).unwrap();
    }
    journal.path().to_owned()
}

/// The best of three, in milliseconds.
fn best<T>(what: impl Fn() -> T) -> f64 {
    let once = |_| {
        let begun = Instant::now();
        std::hint::black_box(what());
        begun.elapsed().as_secs_f64() * 1e3
    };
    (0..3).map(once).fold(f64::INFINITY, f64::min)
}

fn main() {
    // In memory, so that the disk's syncs are not what is measured.
    let shared = Path::new("/dev/shm");
    let folder = if shared.is_dir() { tempfile::tempdir_in(shared) } else { tempfile::tempdir() }.unwrap();
    let grammar = || Grammar::builtin("en").unwrap();
    let words = bothhands::words::Words::english();
    println!(
        "readings  kind                 MB    read  resume  record    json     csv    text    html  verify"
    );
    for (kind, name) in [
        (Kind::Circuits, "circuits"),
        (Kind::Corrections, "corrections"),
        (Kind::AtTheEnd, "corrections at end"),
    ] {
        for readings in [200, 1000, 5000] {
            let concluded = journal(folder.path(), kind, readings, true);
            let open = journal(folder.path(), kind, readings, false);
            let past = read(&concluded).unwrap();
            let open = read(&open).unwrap();
            let record = live::record(&past, grammar()).unwrap();
            let size = std::fs::metadata(&concluded).unwrap().len() as f64 / 1e6;
            println!(
                "{readings:8}  {name:18} {size:4.1} {:7.1} {:7.1} {:7.1} {:7.1} {:7.1} {:7.1} {:7.1} {:7.1}",
                best(|| read(&concluded).unwrap()),
                best(|| live::replay(&open, grammar()).unwrap()),
                best(|| live::record(&past, grammar()).unwrap()),
                best(|| report::json(&record)),
                best(|| report::csv(&record)),
                best(|| report::text(&record, &words)),
                best(|| report::html(&record, &words)),
                best(|| live::verify(&past, grammar(), None).unwrap()),
            );
        }
    }
}
