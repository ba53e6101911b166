//! The chain: no change of a journal passes unseen, a torn end is told from a change, and nothing acknowledged is lost, wherever
//! the writing stops.

use bothhands::{
    grammar::{Form, Spoken, SpokenNumber, Utterance},
    journal::{Entry, FORMAT, Header, JobDetails, Journal, JournalError, Protection, Reader, read},
    session::{Awaited, Event, Purpose},
    verdict::{Contact, Station},
};
use jiff::{Timestamp, ToSpan};
use std::{fs, path::Path};

fn header() -> Header {
    Header {
        format: FORMAT,
        program: "0.1.0".to_owned(),
        profile: "invented-block".to_owned(),
        profile_fingerprint: "ab".repeat(32),
        profile_text: "title = \"Invented block\"\n# grün\n".to_owned(),
        meter: "pocket".to_owned(),
        meter_fingerprint: "cd".repeat(32),
        meter_text: "title = \"Pocket meter\"\n".to_owned(),
        job: None,
        details: JobDetails::default(),
        zone: None,
        ways: "keys".to_owned(),
        simulated: false,
    }
}

fn start() -> Timestamp {
    "2026-11-25T17:12:00Z".parse().unwrap()
}

/// A reading of a circuit, and the line that is said to it.
fn write_reading(journal: &mut Journal, number: i64) {
    let shown = format!("5.{number:03}");
    let spoken =
        SpokenNumber { number: shown.parse().unwrap(), prefix: None, unit: None, form: Form::Pointed };
    let utterance = Some(Utterance::Reading(Spoken::Number(spoken)));
    let awaited = Awaited {
        circuit: format!("coil-{number}").as_str().into(),
        station: Station::Component,
        contact: Contact::Usual,
        purpose: Purpose::Round,
    };
    let at = start() + number.seconds();
    let event = Entry::Event(Event::Keyed { text: shown.clone(), utterance });
    journal.append_with(at, event, Some(awaited.clone()), None).unwrap();
    let message =
        Some(serde_json::json!({"read-back": {"judged": {"reading": {"plain": shown}, "class": "within"}}}));
    let text = format!("{shown}. In.");
    journal.append_with(at, Entry::Spoken { text, message }, Some(awaited), None).unwrap();
}

/// A journal of a few readings, as bytes.
fn bytes(folder: &Path) -> Vec<u8> {
    let mut journal = Journal::create_at(folder, start(), &header()).unwrap();
    journal.append(start(), Entry::Event(Event::Started)).unwrap();
    (1..=5).for_each(|number| write_reading(&mut journal, number));
    journal.append(start(), Entry::Closed { concluded: true }).unwrap();
    fs::read(journal.path()).unwrap()
}

/// Numbers that are the same in every run (SplitMix64, public domain).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }
}

/// Every byte in turn, and ten thousand changes of one to four bytes anywhere: each is refused, named as torn where it cannot be told
/// from that, or (first line cut) a journal without a head. None reads as if nothing had happened.
#[test]
fn no_change_of_bytes_passes_unseen() {
    let folder = tempfile::tempdir().unwrap();
    let whole = bytes(folder.path());
    let path = folder.path().join("changed.jsonl");
    let lines = whole.iter().filter(|byte| **byte == b'\n').count();
    let mut random = Random(7);
    let mut changes: Vec<Vec<u8>> = (0..whole.len())
        .map(|at| {
            let mut changed = whole.clone();
            changed[at] ^= 1 << random.below(8);
            changed
        })
        .collect();
    changes.extend((0..whole.len()).step_by(3).map(|at| {
        let mut changed = whole.clone();
        changed[at] = 0;
        changed
    }));
    changes.extend((0..10_000).map(|_| {
        let mut changed = whole.clone();
        for _ in 0..=random.below(4) {
            let at = random.below(changed.len());
            changed[at] = random.next() as u8;
        }
        changed
    }));
    let (mut refused, mut same, mut silent) = (0, 0, Vec::new());
    for changed in changes {
        if changed == whole {
            same += 1;
            continue;
        }
        let mut reader = Reader::new(&path, &changed[..]);
        match reader.by_ref().collect::<Result<Vec<_>, _>>() {
            Err(_) => refused += 1,
            // Cut off in its first line: nothing of it is read.
            Ok(read) if read.is_empty() => refused += 1,
            Ok(read) => silent.push((read.len(), reader.torn().is_some(), changed)),
        }
    }
    if let Some((read, torn, changed)) = silent.first() {
        let at = changed.iter().zip(&whole).position(|(a, b)| a != b);
        panic!("a change at {at:?} of {} read as {read} of {lines} lines, torn: {torn}", whole.len());
    }
    println!("{refused} changes refused, {same} that changed nothing");
    assert!(refused > 10_000);
}

/// Lines taken out, put twice, exchanged, or taken from another journal.
#[test]
fn lines_moved_about_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let text = String::from_utf8(bytes(folder.path())).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let other = tempfile::tempdir().unwrap();
    let mut journal = Journal::create_at(other.path(), start(), &header()).unwrap();
    journal.append(start(), Entry::Event(Event::Started)).unwrap();
    (2..=6).for_each(|number| write_reading(&mut journal, number));
    let foreign = fs::read_to_string(journal.path()).unwrap();
    let foreign: Vec<&str> = foreign.lines().collect();
    let path = folder.path().join("moved.jsonl");
    let refused = |lines: &[&str]| {
        fs::write(&path, lines.join("\n") + "\n").unwrap();
        assert!(matches!(read(&path), Err(JournalError::Line { .. })), "{}", lines.join("\n"));
    };
    for at in 0..lines.len() - 1 {
        let mut without = lines.clone();
        without.remove(at);
        refused(&without);
        let mut twice = lines.clone();
        twice.insert(at, lines[at]);
        refused(&twice);
        let mut exchanged = lines.clone();
        exchanged.swap(at, at + 1);
        refused(&exchanged);
        if at >= 2 {
            let mut mixed = lines.clone();
            mixed[at] = foreign[at];
            refused(&mixed);
        }
    }
}

/// Lines cut off at the end leave a journal that is whole: only the last hash, noted elsewhere, tells.
#[test]
fn lines_cut_off_are_told_by_the_last_hash_alone() {
    let folder = tempfile::tempdir().unwrap();
    let whole = bytes(folder.path());
    let path = folder.path().join("cut.jsonl");
    fs::write(&path, &whole).unwrap();
    let last = read(&path).unwrap().protection;
    let ends = (0..whole.len()).filter(|at| whole[*at] == b'\n').map(|at| at + 1);
    for end in ends.filter(|end| *end < whole.len()) {
        fs::write(&path, &whole[..end]).unwrap();
        let past = read(&path).unwrap();
        assert!(past.torn.is_none());
        assert_ne!(past.protection, last);
    }
}

/// What a power failure leaves is told from what somebody put there.
#[test]
fn a_torn_end_is_told_from_a_change() {
    let folder = tempfile::tempdir().unwrap();
    let whole = bytes(folder.path());
    let path = folder.path().join("torn.jsonl");
    let start_of_last = whole[..whole.len() - 1].iter().rposition(|byte| *byte == b'\n').unwrap() + 1;
    let torn = |bytes: &[u8]| {
        fs::write(&path, bytes).unwrap();
        read(&path).map(|past| past.torn.is_some())
    };
    // Cut anywhere in the last line.
    for end in start_of_last + 1..whole.len() {
        assert!(torn(&whole[..end]).unwrap(), "{end}");
    }
    // The whole of the last line missing on the disk, its length there already.
    let zeros = vec![0; whole.len() - start_of_last];
    assert!(torn(&[&whole[..start_of_last], &zeros].concat()).unwrap());
    // Changed inside, put behind, or ending otherwise: no power failure does that.
    for end in start_of_last + 8..start_of_last + 60 {
        let mut changed = whole[..end].to_vec();
        changed[start_of_last + 3] = b'x';
        assert!(torn(&changed).is_err(), "{end}");
    }
    for behind in ["x", "{\"seq\":99", "\0x", " "] {
        assert!(torn(&[&whole[..], behind.as_bytes()].concat()).is_err(), "{behind:?}");
    }
}

/// A journal of an older program goes on without a chain, and is called unprotected.
#[test]
fn an_older_journal_is_read_and_gone_on_with_as_before() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.jsonl");
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals/killed.jsonl"), &path).unwrap();
    let before = read(&path).unwrap();
    assert_eq!(before.protection, Protection::None);
    let (mut journal, _) = Journal::reopen(&path).unwrap();
    write_reading(&mut journal, 9);
    assert_eq!(journal.last_hash(), None);
    drop(journal);
    let past = read(&path).unwrap();
    assert_eq!((past.lines.len(), past.protection), (before.lines.len() + 2, Protection::None));
}
