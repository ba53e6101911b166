//! Checks that a line is acknowledged only when written and synced, with a storage that fails on demand.

use super::*;
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

fn at() -> Timestamp {
    "2026-11-25T17:12:00Z".parse().unwrap()
}

#[test]
fn a_line_is_synced_before_it_has_a_number() {
    let mut tail = Tail::new(Shaky::default(), 0, 0);
    assert_eq!(tail.append(at(), spoken("pin one")).unwrap(), 1);
    assert_eq!(tail.append(at(), spoken("pin two")).unwrap(), 2);
    assert_eq!(tail.storage.calls, ["write", "sync", "write", "sync"]);
    assert_eq!(tail.storage.bytes.iter().filter(|byte| **byte == b'\n').count(), 2);
}

#[test]
fn a_full_disk_takes_the_pieces_back_and_the_entry_can_be_tried_again() {
    let mut tail = Tail::new(Shaky::default(), 0, 0);
    tail.append(at(), spoken("pin one")).unwrap();
    let whole = tail.storage.bytes.clone();
    for room in whole.len()..whole.len() + 40 {
        tail.storage.room = Some(room);
        assert!(matches!(tail.append(at(), spoken("pin two")), Err(Failure::TakenBack(_))), "{room}");
        assert_eq!(tail.storage.bytes, whole, "{room}");
    }
    tail.storage.room = None;
    assert_eq!(tail.append(at(), spoken("pin two")).unwrap(), 2);
}

#[test]
fn after_an_unconfirmed_sync_nothing_more_is_taken() {
    let mut tail = Tail::new(Shaky::default(), 0, 0);
    tail.append(at(), spoken("pin one")).unwrap();
    let whole = tail.storage.bytes.clone();
    tail.storage.sync_fails = true;
    assert!(matches!(tail.append(at(), spoken("pin two")), Err(Failure::Broken(_))));
    tail.storage.sync_fails = false;
    assert!(matches!(tail.append(at(), spoken("pin two")), Err(Failure::Broken(_))));
    assert_eq!((tail.storage.bytes, tail.last_seq), (whole, 1));
}

#[test]
fn pieces_that_cannot_be_cut_off_break_the_journal() {
    let mut tail = Tail::new(Shaky { room: Some(10), cut_fails: true, ..Shaky::default() }, 0, 0);
    let Err(Failure::Broken(why)) = tail.append(at(), spoken("pin one")) else { panic!("taken") };
    assert!(why.contains("read-only"), "{why}");
    tail.storage.room = None;
    assert!(matches!(tail.append(at(), spoken("pin one")), Err(Failure::Broken(_))));
}

#[test]
fn a_deleted_or_changed_file_is_noticed() {
    let mut tail = Tail::new(Shaky { deleted: true, ..Shaky::default() }, 0, 0);
    assert!(matches!(tail.append(at(), spoken("pin one")), Err(Failure::Broken(_))));
    let mut tail = Tail::new(Shaky::default(), 0, 0);
    tail.append(at(), spoken("pin one")).unwrap();
    tail.storage.bytes.push(b'x');
    assert!(matches!(tail.append(at(), spoken("pin two")), Err(Failure::Broken(_))));
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
    let mut tail = Tail::new(Shaky::default(), 0, 0);
    let refused = tail.append(at(), Entry::Event(Event::Heard(hearing)));
    assert!(matches!(refused, Err(Failure::NotKeepable(_))));
    assert!(tail.storage.calls.is_empty());
    assert_eq!(tail.append(at(), spoken("pin one")).unwrap(), 1);
}
