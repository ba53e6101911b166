//! Checks that a line is acknowledged only when written and synced, with a storage that fails on demand.

use super::*;
use crate::journal::FORMAT;
use crate::session::{Event, Hearing, Outcome};

/// Keeps what reached it, in order, and fails where told to.
#[derive(Debug, Default)]
struct Shaky {
    bytes: Vec<u8>,
    calls: Vec<&'static str>,
    room: Option<usize>,
    sync_fails: bool,
    cut_fails: bool,
    deleted: bool,
}

impl Storage for Shaky {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.calls.push("write");
        let fits =
            self.room.map_or(bytes.len(), |room| room.saturating_sub(self.bytes.len()).min(bytes.len()));
        self.bytes.extend(&bytes[..fits]);
        if fits == bytes.len() { Ok(()) } else { Err(io::ErrorKind::StorageFull.into()) }
    }

    fn sync(&mut self) -> io::Result<()> {
        self.calls.push("sync");
        if self.sync_fails { Err(io::Error::other("input/output error")) } else { Ok(()) }
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.calls.push("cut");
        if self.cut_fails {
            return Err(io::Error::other("read-only file system"));
        }
        self.bytes.truncate(usize::try_from(length).unwrap());
        Ok(())
    }

    fn length(&self) -> io::Result<Option<u64>> {
        Ok((!self.deleted).then_some(self.bytes.len() as u64))
    }
}

fn spoken(text: &str) -> Entry {
    Entry::Spoken { text: text.to_owned(), message: None }
}

fn tail(storage: Shaky) -> Tail<Shaky> {
    Tail::new(storage, Place::BEGIN, true)
}

/// The next line.
fn append(tail: &mut Tail<Shaky>, entry: Entry) -> Result<u64, Failure> {
    let line = Line::new(tail.place.seq + 1, at(), entry);
    tail.append(line)
}

fn at() -> Timestamp {
    "2026-11-25T17:12:00Z".parse().unwrap()
}

#[test]
fn a_line_is_synced_before_it_has_a_number() {
    let mut tail = tail(Shaky::default());
    assert_eq!(append(&mut tail, spoken("pin one")).unwrap(), 1);
    assert_eq!(append(&mut tail, spoken("pin two")).unwrap(), 2);
    assert_eq!(tail.storage.calls, ["write", "sync", "write", "sync"]);
    assert_eq!(tail.storage.bytes.iter().filter(|byte| **byte == b'\n').count(), 2);
}

#[test]
fn a_full_disk_takes_the_pieces_back_and_the_entry_can_be_tried_again() {
    let mut tail = tail(Shaky::default());
    append(&mut tail, spoken("pin one")).unwrap();
    let whole = tail.storage.bytes.clone();
    for room in whole.len()..whole.len() + 40 {
        tail.storage.room = Some(room);
        assert!(matches!(append(&mut tail, spoken("pin two")), Err(Failure::TakenBack(_))), "{room}");
        assert_eq!(tail.storage.bytes, whole, "{room}");
    }
    tail.storage.room = None;
    assert_eq!(append(&mut tail, spoken("pin two")).unwrap(), 2);
}

#[test]
fn after_an_unconfirmed_sync_nothing_more_is_taken() {
    let mut tail = tail(Shaky::default());
    append(&mut tail, spoken("pin one")).unwrap();
    let whole = tail.storage.bytes.clone();
    tail.storage.sync_fails = true;
    assert!(matches!(append(&mut tail, spoken("pin two")), Err(Failure::Broken(_))));
    tail.storage.sync_fails = false;
    assert!(matches!(append(&mut tail, spoken("pin two")), Err(Failure::Broken(_))));
    assert_eq!((tail.storage.bytes, tail.place.seq), (whole, 1));
}

#[test]
fn pieces_that_cannot_be_cut_off_break_the_journal() {
    let mut tail = tail(Shaky { room: Some(10), cut_fails: true, ..Shaky::default() });
    let Err(Failure::Broken(why)) = append(&mut tail, spoken("pin one")) else { panic!("taken") };
    assert!(why.contains("read-only"), "{why}");
    tail.storage.room = None;
    assert!(matches!(append(&mut tail, spoken("pin one")), Err(Failure::Broken(_))));
}

#[test]
fn a_deleted_or_changed_file_is_noticed() {
    let mut gone = tail(Shaky { deleted: true, ..Shaky::default() });
    assert!(matches!(append(&mut gone, spoken("pin one")), Err(Failure::Broken(_))));
    let mut tail = tail(Shaky::default());
    append(&mut tail, spoken("pin one")).unwrap();
    tail.storage.bytes.push(b'x');
    assert!(matches!(append(&mut tail, spoken("pin two")), Err(Failure::Broken(_))));
}

#[test]
fn a_level_that_is_no_number_is_refused_before_it_is_written() {
    let hearing = Hearing {
        clip: None,
        opinions: Vec::new(),
        outcome: Outcome::NoSpeech,
        words: None,
        doubt: None,
        continues: false,
        marked: false,
        length_ms: 100,
        level_dbfs: f32::NEG_INFINITY,
        room_dbfs: -60.0,
        latency_ms: 5,
    };
    let mut tail = tail(Shaky::default());
    let refused = append(&mut tail, Entry::Event(Event::Heard(hearing)));
    assert!(matches!(refused, Err(Failure::NotKeepable(_))));
    assert!(tail.storage.calls.is_empty());
    assert_eq!(append(&mut tail, spoken("pin one")).unwrap(), 1);
}

/// Whatever was on its way to the disk when everything stops: before each write and each sync, with any part of what was not synced
/// there or missing. Nothing acknowledged is lost, what is left is called torn and never damaged, and writing goes on behind it.
#[test]
fn stopped_before_each_write_and_sync_nothing_acknowledged_is_lost() {
    let texts =
        |count: usize| (0..count).map(|n| spoken(&format!("pin {n} {}", "ohm ".repeat(n * 61 % 170))));
    let mut stops = 0;
    for lines in 1..=6 {
        let mut tail = tail(Shaky::default());
        let header = Header { format: FORMAT, ..head() };
        append(&mut tail, Entry::Opened(Box::new(header))).unwrap();
        texts(lines - 1).for_each(|entry| assert!(append(&mut tail, entry).is_ok()));
        let synced = tail.storage.bytes.clone();
        append(&mut tail, texts(lines).next_back().unwrap()).unwrap();
        let written = tail.storage.bytes.clone();
        // Stopped before the write, within it, and after it before the sync: any part may be there.
        for end in synced.len()..=written.len() {
            let mut left = vec![written[..end].to_vec()];
            // Any of its sectors may be missing, with the length there already.
            for sector in (0..end).step_by(512).filter(|sector| sector + 512 > synced.len()) {
                let mut holed = written[..end].to_vec();
                holed[sector.max(synced.len())..(sector + 512).min(end)].fill(0);
                left.push(holed);
            }
            for bytes in left {
                stops += 1;
                let past = read_from(Path::new("stopped"), &bytes[..])
                    .unwrap_or_else(|error| panic!("{end}: {error}"));
                assert!(past.lines.len() >= lines, "{end}");
                let offset = past.torn.as_ref().map_or(bytes.len(), |torn| torn.offset as usize);
                assert_eq!(bytes[..offset], written[..offset], "{end}");
                let hash = past.protection.last().map(str::to_owned);
                let place = Place { length: offset as u64, seq: past.last_seq(), hash };
                let storage = Shaky { bytes: bytes[..offset].to_vec(), ..Shaky::default() };
                let mut again = Tail::new(storage, place, true);
                append(&mut again, spoken("gone on")).unwrap();
                let again = read_from(Path::new("again"), &again.storage.bytes[..]).unwrap();
                assert_eq!(again.lines.len(), past.lines.len() + 1);
            }
        }
    }
    assert!(stops > 2000, "{stops}");
}

fn head() -> Header {
    Header {
        format: FORMAT,
        program: String::new(),
        profile: "invented".to_owned(),
        profile_fingerprint: String::new(),
        profile_text: String::new(),
        meter: String::new(),
        meter_fingerprint: String::new(),
        meter_text: String::new(),
        job: None,
        details: crate::journal::JobDetails::default(),
        zone: None,
        ways: String::new(),
        simulated: true,
    }
}
