//! The journal on a real disk: named and locked, cut at every byte, damaged, filled up, resumed.

use bothhands::{
    grammar::{Command, Form, Spoken, SpokenNumber, Utterance},
    journal::{
        self, Ending, Entry, FORMAT, Header, JobDetails, Journal, JournalError, Line, Past, Protection,
        Reader, latest, locate, read, sessions,
    },
    session::{Event, Hearing, Opinion, Outcome},
};
use jiff::{Timestamp, ToSpan};
use std::{fs, io::BufReader, path::Path, process};

fn header() -> Header {
    Header {
        format: FORMAT,
        program: "0.1.0".to_owned(),
        profile: "sweeper-valve-block".to_owned(),
        profile_fingerprint: "ab".repeat(32),
        profile_text: "title = \"Valve block\"\n".to_owned(),
        meter: "pocket".to_owned(),
        meter_fingerprint: "cd".repeat(32),
        meter_text: "title = \"Pocket meter\"\n".to_owned(),
        job: Some("order 7, \u{201c}left\u{201d} side\nsecond line".to_owned()),
        details: JobDetails { order: Some("7".to_owned()), ..JobDetails::default() },
        zone: Some("Europe/Vienna".to_owned()),
        ways: "voice and keys".to_owned(),
        simulated: false,
    }
}

fn start() -> Timestamp {
    "2026-11-25T17:12:00Z".parse().unwrap()
}

/// A bit of everything that a session writes.
fn entries() -> Vec<Entry> {
    let number =
        SpokenNumber { number: "5.20".parse().unwrap(), prefix: None, unit: None, form: Form::Pointed };
    let reading = Utterance::Reading(Spoken::Number(number));
    let opinion = |by: &str| Opinion {
        by: by.to_owned(),
        words: "five point two oh".to_owned(),
        margin: Some(0.1),
        support: Some(0.1),
    };
    let heard = Hearing {
        clip: Some("000003.wav".to_owned()),
        opinions: vec![opinion("phrases"), opinion("words")],
        outcome: Outcome::Understood(reading.clone()),
        words: None,
        doubt: None,
        continues: false,
        marked: false,
        length_ms: 1240,
        level_dbfs: -18.3,
        room_dbfs: -55.12,
        latency_ms: 87,
    };
    let wrong = Utterance::Command(Command::Wrong(Some(Spoken::OverRange)));
    vec![
        Entry::Event(Event::Started),
        Entry::Event(Event::Heard(heard)),
        Entry::Spoken {
            text: "five point two, in. Next: pin 2 against 16 \u{2013} coil B".to_owned(),
            message: None,
        },
        Entry::Event(Event::Keyed { text: "w ol".to_owned(), utterance: Some(wrong) }),
        Entry::Event(Event::Keyed { text: "\t\"{}\\\u{7}".to_owned(), utterance: None }),
        Entry::Event(Event::Tick),
        Entry::Closed { concluded: false },
    ]
}

/// A session with every kind of line in it, closed and unlocked.
fn written(folder: &Path) -> (std::path::PathBuf, Vec<Line>) {
    written_with(folder, &header())
}

/// The same, as a program before there was a chain wrote it.
fn written_before(folder: &Path) -> (std::path::PathBuf, Vec<Line>) {
    written_with(folder, &Header { format: 1, ..header() })
}

fn written_with(folder: &Path, header: &Header) -> (std::path::PathBuf, Vec<Line>) {
    let mut journal = Journal::create_at(folder, start(), header).unwrap();
    let mut lines = vec![Line::new(1, start(), Entry::Opened(Box::new(header.clone())))];
    for (at, entry) in (1i64..).zip(entries()) {
        let at = start() + at.seconds();
        let seq = journal.append(at, entry.clone()).unwrap();
        lines.push(Line::new(seq, at, entry));
    }
    (journal.path().to_owned(), lines)
}

#[test]
fn what_was_written_is_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let (path, lines) = written(folder.path());
    let name = "2026-11-25T171200Z-sweeper-valve-block";
    assert_eq!(path, folder.path().join(name).join(format!("{name}.jsonl")));
    assert!(folder.path().join(name).join("clips").is_dir());
    let past = read(&path).unwrap();
    let last = past.protection.last().expect("it is chained").to_owned();
    let protection = Protection::Chained { last: last.clone() };
    assert_eq!(
        past,
        Past { path: path.clone(), header: header(), lines: lines.clone(), torn: None, protection }
    );
    assert!(fs::read_to_string(&path).unwrap().ends_with(&format!(",\"hash\":\"{last}\"}}\n")));
    let one_by_one = Reader::new(&path, BufReader::new(fs::File::open(&path).unwrap()));
    assert_eq!(one_by_one.collect::<Result<Vec<_>, _>>().unwrap(), lines);
}

#[test]
fn a_second_session_of_the_same_second_gets_a_name_of_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let made: Vec<_> = (0..9)
        .map(|_| Journal::create_at(folder.path(), start(), &header()).unwrap().path().to_owned())
        .collect();
    assert!(made[1].ends_with("2026-11-25T171200Z-sweeper-valve-block-2.jsonl"));
    assert_eq!(sessions(folder.path()).unwrap(), made);
    assert!(matches!(
        Journal::create_at(folder.path(), start(), &header()),
        Err(JournalError::Folder { .. })
    ));
}

#[test]
fn cut_at_every_byte_only_the_lines_before_the_cut_remain() {
    let folder = tempfile::tempdir().unwrap();
    let (path, lines) = written(folder.path());
    let bytes = fs::read(&path).unwrap();
    let cut_path = folder.path().join("cut.jsonl");
    for cut in 0..=bytes.len() {
        fs::write(&cut_path, &bytes[..cut]).unwrap();
        let whole = bytes[..cut].iter().filter(|byte| **byte == b'\n').count();
        let rest = bytes[..cut].iter().rev().take_while(|byte| **byte != b'\n').count();
        match read(&cut_path) {
            Err(JournalError::NoHead { .. }) => assert_eq!(whole, 0, "cut at {cut}"),
            Err(error) => panic!("cut at {cut}: {error}"),
            Ok(past) => {
                assert!(whole > 0);
                assert_eq!(past.lines, lines[..whole], "cut at {cut}");
                assert_eq!(past.torn.as_ref().map_or(0, |torn| torn.bytes.len()), rest, "cut at {cut}");
            }
        }
    }
}

#[test]
fn a_torn_end_is_saved_beside_the_journal_and_writing_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let (path, lines) = written(folder.path());
    let bytes = fs::read(&path).unwrap();
    let ends: Vec<usize> = (0..bytes.len()).filter(|at| bytes[*at] == b'\n').collect();
    // Every place within a line matters alike; each is synced several times, so a part of them is tried.
    for cut in (ends[0] + 1..bytes.len()).step_by(13).chain(ends.iter().copied().skip(1)) {
        fs::write(&path, &bytes[..cut]).unwrap();
        let (mut journal, past) = Journal::reopen(&path).unwrap();
        let whole = past.lines.len();
        if let Some(torn) = &past.torn {
            let side = torn.saved.as_ref().expect("saved");
            assert_eq!(fs::read(side).unwrap(), torn.bytes);
            assert!(bytes[..cut].ends_with(&torn.bytes));
            fs::remove_file(side).unwrap();
        }
        let seq = journal.append(start(), Entry::Event(Event::Started)).unwrap();
        assert_eq!(seq as usize, whole + 1);
        drop(journal);
        let again = read(&path).unwrap();
        assert_eq!(
            (&again.lines[..whole], again.lines.len(), again.torn),
            (&lines[..whole], whole + 1, None)
        );
    }
}

#[test]
fn torn_ends_never_overwrite_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = written(folder.path());
    for piece in ["{\"seq\":9,\"bef", "{\"seq\":9", "\0\0\0\0\0"] {
        let mut bytes = fs::read(&path).unwrap();
        bytes.extend(piece.as_bytes());
        fs::write(&path, bytes).unwrap();
        let (_, past) = Journal::reopen(&path).unwrap();
        assert_eq!(past.torn.unwrap().text(), piece);
    }
    let side = |n: u8| fs::read_to_string(format!("{}.torn-{n}", path.display())).unwrap();
    assert_eq!([side(1), side(2), side(3)], ["{\"seq\":9,\"bef", "{\"seq\":9", "\0\0\0\0\0"]);
    assert!(read(&path).unwrap().torn.is_none());
}

#[test]
fn a_last_line_with_holes_of_zero_bytes_is_torn() {
    let folder = tempfile::tempdir().unwrap();
    let (path, lines) = written_before(folder.path());
    let whole = fs::read(&path).unwrap();
    fs::write(&path, [&whole[..], b"\0\0\0\0\"tick\"}}\n"].concat()).unwrap();
    let past = read(&path).unwrap();
    assert_eq!((past.lines, past.torn.unwrap().offset), (lines, whole.len() as u64));
    // Followed by a line it cannot be the end of a power failure.
    fs::write(&path, [&whole[..], b"\0\0\0\0\"tick\"}}\n{}\n"].concat()).unwrap();
    assert!(matches!(read(&path), Err(JournalError::Line { line: 9, .. })));
}

fn damaged(change: impl FnOnce(&mut Vec<String>)) -> String {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = written_before(folder.path());
    let mut lines: Vec<String> = fs::read_to_string(&path).unwrap().lines().map(str::to_owned).collect();
    change(&mut lines);
    let damaged = folder.path().join("J.jsonl");
    fs::write(&damaged, lines.join("\n") + "\n").unwrap();
    let before = fs::read(&damaged).unwrap();
    let error = read(&damaged).unwrap_err();
    assert_eq!(Journal::reopen(&damaged).unwrap_err().to_string(), error.to_string());
    assert_eq!(fs::read(&damaged).unwrap(), before, "a damaged journal must stay as it is");
    error.to_string().replace(&folder.path().display().to_string(), "")
}

#[test]
fn damage_is_refused_with_file_and_line() {
    insta::assert_snapshot!(damaged(|lines| lines[3].truncate(30)),
        @r#"/J.jsonl, line 4: not a journal line (EOF while parsing a string, character 30). Keep a copy of the file before mending anything"#);
    insta::assert_snapshot!(damaged(|lines| lines[2].clear()),
        @"/J.jsonl, line 3: not a journal line (EOF while parsing a value, character 0). Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| drop(lines.remove(4))),
        @"/J.jsonl, line 5: has number 6, expected 5. Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| { let line = lines[1].clone(); lines.insert(2, line) }),
        @"/J.jsonl, line 3: has number 2, expected 3. Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| lines[4] = lines[0].replace("\"seq\":1,", "\"seq\":5,")),
        @"/J.jsonl, line 5: a second first line. Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| drop(lines.remove(0))),
        @r#"/J.jsonl, line 1: a journal begins with an "opened" line, this does not. Keep a copy of the file before mending anything"#);
    insta::assert_snapshot!(damaged(|lines| lines[1] = lines[1].replace("\"seq\":2", "\"seq\":\"2\"")),
        @r#"/J.jsonl, line 2: not a journal line (invalid type: string "2", expected u64, character 10). Keep a copy of the file before mending anything"#);
    insta::assert_snapshot!(damaged(|lines| lines[1] = lines[1].replace("\"entry\"", "\"mood\":1,\"entry\"")),
        @"/J.jsonl, line 2: not a journal line (unknown field `mood`, expected one of `seq`, `at`, `awaited`, `clip`, `entry`, character 43). Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| lines[0] = lines[0].replace("\"format\":1,", "\"format\":3,\"colour\":\"new\",")),
        @"/J.jsonl has journal format 3, this program reads format 2. Use the newer program that wrote it");
    insta::assert_snapshot!(damaged(|lines| lines[0] = lines[0].replace("\"format\":1,", "\"format\":0,")),
        @"/J.jsonl, line 1: journal format 0 does not exist. Keep a copy of the file before mending anything");
    insta::assert_snapshot!(damaged(|lines| *lines = vec!["# shopping list".to_owned()]),
        @r#"/J.jsonl, line 1: a journal begins with an "opened" line, this does not. Keep a copy of the file before mending anything"#);
}

#[test]
fn bytes_that_are_no_text_are_refused_with_their_line() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = written(folder.path());
    let mut bytes = fs::read(&path).unwrap();
    let third = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').nth(2).unwrap().0;
    bytes[third - 9] = 0xff;
    fs::write(&path, bytes).unwrap();
    assert!(matches!(read(&path), Err(JournalError::Line { line: 3, .. })));
}

#[test]
fn one_journal_has_one_writer_and_any_number_of_readers() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::create_at(folder.path(), start(), &header()).unwrap();
    let error = Journal::reopen(journal.path()).unwrap_err();
    assert!(matches!(error, JournalError::InUse { .. }), "{error}");
    journal.append(start(), Entry::Event(Event::Started)).unwrap();
    assert_eq!(read(journal.path()).unwrap().last_seq(), 2);
    let path = journal.path().to_owned();
    drop(journal);
    assert_eq!(Journal::reopen(&path).unwrap().1.last_seq(), 2);
}

#[test]
fn a_folder_that_cannot_be_written_is_told_before_anything_starts() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("notes.txt");
    fs::write(&file, "mine").unwrap();
    let error = Journal::create(&file.join("sessions"), &header()).unwrap_err().to_string();
    assert!(error.contains("notes.txt") && error.contains("Nothing was started"), "{error}");
    // The kernel's own folder refuses new folders even to root.
    #[cfg(target_os = "linux")]
    assert!(matches!(
        Journal::create(Path::new("/proc/self/x"), &header()),
        Err(JournalError::Folder { .. })
    ));
    let odd = Header { profile: "../../elsewhere".to_owned(), ..header() };
    assert!(matches!(Journal::create(folder.path(), &odd), Err(JournalError::ProfileName(_))));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_journal_deleted_while_in_use_is_noticed() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::create_at(folder.path(), start(), &header()).unwrap();
    fs::remove_file(journal.path()).unwrap();
    let error = journal.append(start(), Entry::Event(Event::Started)).unwrap_err();
    assert!(!error.may_retry());
    assert!(error.to_string().contains("deleted"), "{error}");
}

/// A file-size limit set by the shell makes the system itself write a part of a line and refuse the rest.
#[test]
#[cfg(unix)]
fn the_system_refusing_half_a_line_leaves_the_journal_whole() {
    const ROOM: &str = "BOTHHANDS_TEST_LIMITED";
    let Some(folder) = std::env::var_os(ROOM) else {
        let folder = tempfile::tempdir().unwrap();
        let me = std::env::current_exe().unwrap();
        let script = "trap '' XFSZ; ulimit -f 8; exec \"$@\"";
        let mut child = process::Command::new("sh");
        child.args(["-c", script, "sh"]).arg(me);
        child.args(["--exact", "the_system_refusing_half_a_line_leaves_the_journal_whole"]);
        let output = child.env(ROOM, folder.path()).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stdout));
        let path = sessions(folder.path()).unwrap().remove(0);
        let past = read(&path).unwrap();
        let long = |line: &Line| matches!(&line.entry, Entry::Spoken { text, .. } if text.len() == 1000);
        assert!(past.torn.is_none() && past.lines.iter().filter(|line| long(line)).count() >= 2);
        assert!(matches!(&past.lines.last().unwrap().entry, Entry::Spoken { text, .. } if text == "short"));
        return;
    };
    let mut journal = Journal::create_at(Path::new(&folder), start(), &header()).unwrap();
    let long = || Entry::Spoken { text: "x".repeat(1000), message: None };
    let refused = (0..20).find_map(|_| journal.append(start(), long()).err()).expect("the limit is reached");
    assert!(matches!(refused, JournalError::NotWritten { .. }), "{refused}");
    assert!(refused.may_retry() && journal.append(start(), long()).is_err());
    journal.append(start(), Entry::Spoken { text: "short".to_owned(), message: None }).unwrap();
}

#[test]
fn another_profile_is_refused_and_both_are_named() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = written(folder.path());
    let past = read(&path).unwrap();
    past.require_profile("sweeper-valve-block", &"ab".repeat(32)).unwrap();
    for (id, fingerprint) in [("other-block", "ab".repeat(32)), ("sweeper-valve-block", "ef".repeat(32))] {
        let error = past.require_profile(id, &fingerprint).unwrap_err().to_string();
        for part in ["sweeper-valve-block", "abababababab", id, &fingerprint[..12]] {
            assert!(error.contains(part), "{part} in: {error}");
        }
    }
}

#[test]
fn the_latest_unfinished_session_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let latest = |folder: &Path| latest(folder).unwrap().open.map(|past| past.path);
    assert_eq!(latest(&folder.path().join("none")), None);
    let session = |day: u8, entries: &[Entry]| {
        let at = format!("2026-11-{day:02}T08:00:00Z").parse().unwrap();
        let mut journal = Journal::create_at(folder.path(), at, &header()).unwrap();
        entries.iter().for_each(|entry| assert!(journal.append(at, entry.clone()).is_ok()));
        journal.path().to_owned()
    };
    let started = Entry::Event(Event::Started);
    let bye = Entry::Spoken { text: "bye".to_owned(), message: None };
    let closed = |concluded| Entry::Closed { concluded };
    let broken_off = session(1, std::slice::from_ref(&started));
    session(3, &[started.clone(), closed(true), bye.clone()]);
    assert_eq!(latest(folder.path()), Some(broken_off.clone()));
    let stopped = session(2, &[started.clone(), closed(false), bye]);
    assert_eq!(latest(folder.path()), Some(stopped.clone()));
    assert_eq!(read(&stopped).unwrap().ending(), Ending::Stopped);
    let gone_on = session(4, &[started.clone(), closed(true), started]);
    assert_eq!(latest(folder.path()), Some(gone_on.clone()));
    assert_eq!(read(&gone_on).unwrap().ending(), Ending::BrokenOff);

    assert_eq!(locate(&gone_on).unwrap(), gone_on);
    assert_eq!(locate(gone_on.parent().unwrap()).unwrap(), gone_on);
    assert!(matches!(locate(folder.path()), Err(JournalError::NotOne { found: 0, .. })));

    // Cut off while being made: passed over. Damaged: passed over and told.
    let newest = session(5, &[]);
    fs::write(&newest, "{\"seq\":1,\"at\":\"2026-").unwrap();
    assert_eq!(latest(folder.path()), Some(gone_on.clone()));
    fs::write(&newest, "{\"seq\":1}\n").unwrap();
    let found = journal::latest(folder.path()).unwrap();
    assert_eq!(found.open.unwrap().path, gone_on);
    assert_eq!(found.passed_over.len(), 1);
    assert_eq!(found.passed_over[0].0, newest);
    assert!(matches!(found.passed_over[0].1, JournalError::Line { line: 1, .. }));
}

#[test]
fn the_history_of_a_profile_leaves_out_the_asking_session_and_names_what_it_cannot_read() {
    let folder = tempfile::tempdir().unwrap();
    let session = |day: u8, profile: &str| {
        let at = format!("2026-11-{day:02}T08:00:00Z").parse().unwrap();
        let header = Header { profile: profile.to_owned(), ..header() };
        Journal::create_at(folder.path(), at, &header).unwrap().path().to_owned()
    };
    let first = session(1, "sweeper-valve-block");
    session(2, "other-part");
    let damaged = session(3, "sweeper-valve-block");
    fs::write(&damaged, "{}\n").unwrap();
    let second = session(4, "sweeper-valve-block");
    let mine = session(5, "sweeper-valve-block");
    let found = journal::history(folder.path(), "sweeper-valve-block", Some(&mine)).unwrap();
    let paths: Vec<_> = found.sessions.iter().map(|past| past.path.clone()).collect();
    assert_eq!(paths, [first, second]);
    assert_eq!(found.unreadable.len(), 1);
    assert_eq!(found.unreadable[0].0, damaged);
    assert!(journal::history(&folder.path().join("none"), "x", None).unwrap().sessions.is_empty());
}
