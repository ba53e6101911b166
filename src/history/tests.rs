//! Tests of the store on records made by hand: filled, searched, compared, made anew.

use super::*;
use crate::{grammar::Grammar, journal, live, report::Record, session::LastTime};
use jiff::{Timestamp, ToSpan};
use std::{
    cell::Cell,
    fs,
    path::{Path, PathBuf},
    time::Instant,
};

/// The record of a journal that is kept with the tests.
fn record() -> Record {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals/concluded.jsonl");
    live::record(&journal::read(&path).unwrap(), Grammar::builtin("en").unwrap()).unwrap()
}

/// A folder with a journal for each of these changes of one record; the files themselves hold only a number.
struct Shop {
    folder: tempfile::TempDir,
    records: Vec<Record>,
    made: Cell<usize>,
}

impl Shop {
    fn new(changes: &[&dyn Fn(&mut Record)]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let records: Vec<Record> = changes
            .iter()
            .enumerate()
            .map(|(at, change)| {
                let mut one = record();
                one.session = format!("session-{at}");
                one.begun = "2026-01-01T08:00:00Z".parse::<Timestamp>().unwrap() + (at as i64 * 24).hours();
                change(&mut one);
                one
            })
            .collect();
        let shop = Self { folder, records, made: Cell::new(0) };
        for at in 0..shop.records.len() {
            let path = shop.path(at);
            fs::create_dir(path.parent().unwrap()).unwrap();
            fs::write(path, at.to_string()).unwrap();
        }
        shop
    }

    fn path(&self, at: usize) -> PathBuf {
        self.folder.path().join(format!("session-{at}")).join(format!("session-{at}.jsonl"))
    }

    fn refresh(&self, store: &mut Store) -> Refreshed {
        let record_of = |path: &Path| -> Result<Record, String> {
            self.made.set(self.made.get() + 1);
            let text = fs::read_to_string(path).unwrap();
            let at: usize = text.parse().map_err(|_| format!("{text} is no journal"))?;
            Ok(self.records[at].clone())
        };
        store.refresh(self.folder.path(), &record_of, &crate::words::Words::english()).unwrap()
    }
}

fn names(store: &Store, filter: &Filter) -> Vec<String> {
    store.list(filter).unwrap().0.into_iter().map(|seen| seen.session).collect()
}

#[test]
fn journals_are_read_once_and_again_when_they_change() {
    let shop = Shop::new(&[&|_| {}, &|_| {}, &|_| {}]);
    let mut store = Store::in_memory().unwrap();
    assert_eq!(shop.refresh(&mut store).read, 3);
    assert_eq!(shop.refresh(&mut store), Refreshed::default());
    assert_eq!(shop.made.get(), 3);
    // Changed, damaged, gone.
    fs::write(shop.path(0), "00").unwrap();
    fs::write(shop.path(1), "###").unwrap();
    fs::remove_file(shop.path(2)).unwrap();
    let found = shop.refresh(&mut store);
    assert_eq!((found.read, found.gone, found.unreadable.len()), (1, 1, 1));
    assert_eq!(found.unreadable[0], (shop.path(1), "### is no journal".to_owned()));
    assert_eq!(names(&store, &Filter::default()), ["session-0"]);
    // Told each time, read once.
    let made = shop.made.get();
    assert_eq!(shop.refresh(&mut store).unreadable.len(), 1);
    assert_eq!(shop.made.get(), made);
    fs::write(shop.path(1), "1").unwrap();
    assert_eq!(shop.refresh(&mut store), Refreshed { read: 1, ..Refreshed::default() });
}

#[test]
fn sessions_are_found_by_all_that_is_known_of_them() {
    let shop = Shop::new(&[
        &|one| one.details.vehicle = Some("Sweeper 3".into()),
        &|one| one.details.order = Some("A-1187".into()),
        &|one| one.profile.id = "other-part".into(),
        &|one| one.ending = journal::Ending::Stopped,
        &|one| one.job = Some("50 % of 'a_b' \"x\"; DROP TABLE session".into()),
    ]);
    let mut store = Store::in_memory().unwrap();
    shop.refresh(&mut store);
    let text = |text: &str| names(&store, &Filter { text: vec![text.into()], ..Filter::default() });
    let with = |filter: Filter| names(&store, &filter);
    assert_eq!(with(Filter { vehicle: Some("sweeper 3".into()), ..Filter::default() }), ["session-0"]);
    assert_eq!(with(Filter { order: Some("a-1187".into()), ..Filter::default() }), ["session-1"]);
    assert_eq!(with(Filter { part: Some("other-part".into()), ..Filter::default() }), ["session-2"]);
    assert_eq!(with(Filter { concluded: Some(false), ..Filter::default() }), ["session-3"]);
    assert_eq!(with(Filter { concluded: Some(true), ..Filter::default() }).len(), 4);
    assert_eq!(text("SWEEPER 3"), ["session-0"]);
    for hostile in ["50 %", "'a_b'", "drop table"] {
        assert_eq!(text(hostile), ["session-4"], "{hostile}");
    }
    assert!(text("%").len() == 1 && text("nowhere").is_empty());
    let since = "2026-01-03T00:00:00Z".parse().ok();
    let until = "2026-01-05T00:00:00Z".parse().ok();
    assert_eq!(with(Filter { since, until, ..Filter::default() }), ["session-3", "session-2"]);
    let (two, all) = store.list(&Filter { limit: Some(2), ..Filter::default() }).unwrap();
    assert_eq!((two.len(), all), (2, 5));
    assert_eq!((two[0].session.as_str(), two[0].readings), ("session-4", 13));
}

/// What coil A read, on parts of their own.
fn coil_a(serial: &str, ohms: f64) -> impl Fn(&mut Record) {
    let serial = serial.to_owned();
    move |one: &mut Record| {
        one.details.part_serial = Some(serial.clone());
        one.simulated = false;
        let interval = crate::quantity::Interval::exactly(crate::quantity::Celsius::new(20.0).unwrap());
        one.temperatures[0].interval = Some(interval);
        one.judgement.findings[0].resistance = crate::quantity::Ohms::new(ohms).ok();
    }
}

#[test]
fn a_part_stands_beside_its_last_time_and_the_others() {
    let (a, b, c) = (coil_a("1", 5.0), coil_a("2", 5.2), coil_a("3", 5.7));
    let (a_again, simulated) = (coil_a("1", 5.1), coil_a("4", 9.0));
    let simulated = |one: &mut Record| {
        simulated(one);
        one.simulated = true;
    };
    let now = coil_a("2", 6.0);
    let shop = Shop::new(&[&a, &b, &c, &a_again, &simulated, &now]);
    let mut store = Store::in_memory().unwrap();
    shop.refresh(&mut store);
    let found = store.compare(&shop.records[5]).unwrap();
    assert_eq!(found.identity, "serial 2");
    assert_eq!(found.last.as_ref().unwrap().path, shop.path(1).to_string_lossy());
    let coil = &found.circuits[0];
    assert_eq!((coil.circuit.as_str(), coil.now, coil.last, coil.parts), ("coil-a", 6.0, Some(5.2), 2));
    // The latest of part 1 and part 3: 5.1 and 5.7; this part itself and the simulated one are not among them.
    assert!((coil.median.unwrap() - 5.4).abs() < 1e-9);
    let spread = (2.0 * 0.3f64.powi(2)).sqrt();
    assert!((coil.spread.unwrap() - spread).abs() < 1e-9);
    assert!((coil.off.unwrap() - 0.6 / spread).abs() < 1e-9);
    // The same that the records themselves teach.
    let learned = store.learned(&shop.records[0].profile, None).unwrap();
    for record in &mut shop.records.clone() {
        record.job = record.details.part_serial.clone();
    }
    let records: Vec<Record> = shop
        .records
        .iter()
        .map(|record| Record { job: record.details.part_serial.clone(), ..record.clone() })
        .collect();
    assert_eq!(learned, crate::report::learn(&shop.records[0].profile, &records));
}

#[test]
fn a_newer_store_is_refused_and_can_be_made_anew() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("history.sqlite");
    let store = Store::open(&path).unwrap();
    store.connection.pragma_update(None, "user_version", SCHEMA + 1).unwrap();
    drop(store);
    assert!(matches!(Store::open(&path), Err(HistoryError::Newer { found, .. }) if found == SCHEMA + 1));
    Store::remove(&path).unwrap();
    drop(Store::open(&path).unwrap());
    fs::write(&path, "no store at all, whatever it is called. ".repeat(100)).unwrap();
    assert!(matches!(Store::open(&path), Err(HistoryError::Open { .. })));
    Store::remove(&path).unwrap();
    assert_eq!(Store::open(&path).unwrap().list(&Filter::default()).unwrap().1, 0);
}

/// Growth, on demand: `BOTHHANDS_TEST_HISTORY=1000000 cargo test --lib history -- --nocapture growth` prints how long questions over so
/// many readings take.
#[test]
fn growth_of_questions() {
    let readings: usize =
        std::env::var("BOTHHANDS_TEST_HISTORY").ok().and_then(|count| count.parse().ok()).unwrap_or(2_000);
    let shop = Shop::new(&[&coil_a("1", 5.0)]);
    let mut store = Store::in_memory().unwrap();
    shop.refresh(&mut store);
    let each = shop.records[0].readings.len();
    let copies = readings / each;
    // Sessions like the first one, on twenty kinds of parts.
    store
        .connection
        .execute_batch(&format!(
            "CREATE TEMP TABLE n AS WITH RECURSIVE c(n) AS (SELECT 2 UNION ALL SELECT n + 1 FROM c WHERE n < {copies}) SELECT n FROM c;
             INSERT INTO session SELECT n, path || n, size, modified, name || n, mark,
               part || CASE n % 20 WHEN 0 THEN '' ELSE n % 20 END, title, part_serial, meter, meter_serial, job, technician, customer,
               'vehicle ' || n % 500, 'order ' || n, begun + n * 60000, ended + n * 60000, ending, simulated, teaches, headline, engine,
               engine_version, 'serial ' || n, searched || n FROM session, n WHERE id = 1;
             INSERT INTO reading SELECT n, number, at, circuit, station, contact, shown, ohms + n % 7 * 0.01, withdrawn
               FROM reading, n WHERE session = 1;
             INSERT INTO figure SELECT n, circuit, station, pin, against, kind, ohms + n % 7 * 0.01, sound FROM figure, n
               WHERE session = 1;
             ANALYZE;"
        ))
        .unwrap();
    let count: i64 =
        store.connection.query_row("SELECT count(*) FROM reading", [], |row| row.get(0)).unwrap();
    assert_eq!(count as usize, copies.max(1) * each);
    let timed = |name: &str, what: &dyn Fn() -> usize| {
        let found = what();
        let best = (0..3)
            .map(|_| {
                let begun = Instant::now();
                what();
                begun.elapsed().as_secs_f64() * 1e3
            })
            .fold(f64::INFINITY, f64::min);
        println!("{count:8} readings  {name:24} {best:7.1} ms  ({found} found)");
    };
    let list = |filter: Filter| store.list(&Filter { limit: Some(20), ..filter }).unwrap().1 as usize;
    timed("the latest", &|| list(Filter::default()));
    timed("a part", &|| list(Filter { part: Some("sweeper-valve-block7".into()), ..Filter::default() }));
    timed("a vehicle", &|| list(Filter { vehicle: Some("vehicle 17".into()), ..Filter::default() }));
    timed("a text", &|| list(Filter { text: vec!["order".into(), "coil".into()], ..Filter::default() }));
    timed("beside last time, others", &|| store.compare(&shop.records[0]).unwrap().circuits.len());
}

/// What a session of the reference part that was begun on this day has to know to find its last time.
fn sought<'a>(details: &'a journal::JobDetails, journal: &'a Path, day: &str) -> Sought<'a> {
    let begun = format!("{day}T12:00:00Z").parse().unwrap();
    Sought { part: "sweeper-valve-block", details, job: None, journal, begun, simulated: false }
}

#[test]
fn the_last_time_is_that_of_the_part_else_that_of_its_kind() {
    let serial = |serial: &'static str| {
        move |one: &mut Record| {
            one.details = journal::JobDetails { part_serial: Some(serial.to_owned()), ..Default::default() };
            one.simulated = false;
        }
    };
    let simulated = |one: &mut Record| {
        serial("A")(one);
        one.simulated = true;
    };
    // One a day from the first of January on.
    let shop = Shop::new(&[&serial("A"), &serial("A"), &serial("B"), &simulated, &|one| {
        serial("A")(one);
        one.readings.clear();
    }]);
    let file = shop.folder.path().join("store.sqlite");
    let mut store = Store::open(&file).unwrap();
    assert_eq!(shop.refresh(&mut store).read, 5);
    drop(store);
    let before = fs::read(&file).unwrap();
    let details =
        |serial: &str| journal::JobDetails { part_serial: Some(serial.to_owned()), ..Default::default() };
    let (a, c) = (details(" a "), details("C"));
    let none = Path::new("none");
    let found = |details: &journal::JobDetails, journal: &Path, day: &str| match last_time(
        &file,
        sought(details, journal, day),
    ) {
        LastTime::Session(found) => Some((found.day.to_string(), found.same_part, found.readings)),
        LastTime::FirstTime => None,
        other => panic!("{other:?}"),
    };
    let day = |found: Option<(String, bool, _)>| found.map(|(day, same, _)| (day, same));
    // Neither the simulated one, nor the one that read nothing, nor that of another part.
    assert_eq!(day(found(&a, none, "2026-02-01")), Some(("2026-01-02".to_owned(), true)));
    // Not itself, and none that came later.
    assert_eq!(day(found(&a, &shop.path(1), "2026-02-01")), Some(("2026-01-01".to_owned(), true)));
    assert_eq!(day(found(&a, none, "2026-01-01")), Some(("2026-01-01".to_owned(), true)));
    assert_eq!(day(found(&a, none, "2025-12-31")), None);
    // Unknown by itself: the last of its kind, and not said to be the same.
    assert_eq!(day(found(&c, none, "2026-02-01")), Some(("2026-01-03".to_owned(), false)));
    assert_eq!(day(found(&details(""), none, "2026-02-01")), Some(("2026-01-03".to_owned(), false)));
    let other = Sought { part: "another", ..sought(&a, none, "2026-02-01") };
    assert_eq!(last_time(&file, other), LastTime::FirstTime);
    // What stood at the end, each circuit once.
    let (_, _, readings) = found(&a, none, "2026-02-01").unwrap();
    let mut known = std::collections::HashSet::new();
    for (circuit, station, reading) in &readings {
        assert!(known.insert((circuit.clone(), *station)));
        let standing = |one: &&crate::report::Taken| {
            one.circuit == *circuit && one.station == *station && one.withdrawn.is_none()
        };
        let last = shop.records[1].readings.iter().rev().find(standing).unwrap();
        assert_eq!(reading.to_string(), last.reading.to_string());
    }
    assert!(readings.len() > 10);
    assert_eq!(fs::read(&file).unwrap(), before, "nothing was written");
}

#[test]
fn a_store_that_is_missing_damaged_or_newer_stops_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("store.sqlite");
    let details = journal::JobDetails::default();
    let look = || last_time(&file, sought(&details, Path::new("none"), "2026-02-01"));
    assert_eq!(look(), LastTime::NoHistory);
    assert!(!file.exists(), "looking makes none");
    fs::write(&file, "this is no store at all, and long enough to be looked at as one. ".repeat(40)).unwrap();
    assert!(matches!(look(), LastTime::Trouble(why) if why.contains("not a database")), "{:?}", look());
    fs::write(&file, "").unwrap();
    assert_eq!(look(), LastTime::NoHistory);
    fs::remove_file(&file).unwrap();
    let store = Store::open(&file).unwrap();
    store.connection.pragma_update(None, "user_version", SCHEMA + 1).unwrap();
    drop(store);
    assert!(matches!(look(), LastTime::Trouble(why) if why.contains("version")), "{:?}", look());
    // Its tables lost.
    Store::remove(&file).unwrap();
    let store = Store::open(&file).unwrap();
    store.connection.execute_batch("DROP TABLE reading").unwrap();
    drop(store);
    assert!(matches!(look(), LastTime::Trouble(why) if why.contains("reading")), "{:?}", look());
}
