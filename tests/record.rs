//! A record that proves itself, as its user meets it: the mark, `verify`, `salvage`, `resume` past damage, and what was judged then.

mod keyed;

use bothhands::journal::{self, Entry, Line, Proof, read, sha256};
use keyed::{Keyed, PREPARATION, SOUND, bothhands};
use predicates::prelude::*;
use serde_json::Value;
use std::{
    fs,
    path::{Path, PathBuf},
};

/// A whole session by keys, coil F low. Its journal, and what stood on the terminal.
fn session(data: &Path) -> (PathBuf, String) {
    let mut lines: Vec<&str> = PREPARATION.to_vec();
    lines.extend(&SOUND[..5]);
    lines.extend(["2.863"]);
    lines.extend(&SOUND[6..]);
    lines.extend([SOUND[0], "2.863", "f"]);
    let output = bothhands(data)
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
        .args(["--technician", "A. Invented", "--vehicle", "sweeper 3", "--order", "1187"])
        .args(["--part-serial", "P-1", "--meter-serial", "M-2", "--meter-calibrated", "2026-03-31"])
        .write_stdin(lines.join("\n") + "\n")
        .assert()
        .success();
    let shown = String::from_utf8(output.get_output().stdout.clone()).unwrap();
    let path = shown.lines().find_map(|line| line.strip_prefix("Journal: ")).expect("the journal is named");
    (path.into(), shown)
}

fn json(data: &Path, journal: &Path, more: &[&str]) -> Value {
    let output =
        bothhands(data).arg("report").arg(journal).args(["--as", "json"]).args(more).assert().success();
    serde_json::from_slice(&output.get_output().stdout).unwrap()
}

/// Writes a journal anew, every hash worked out again: what somebody does who knows the form.
fn forged(lines: &[Line], to: &Path) {
    let Entry::Opened(header) = &lines[0].entry else { panic!("the head") };
    let mut journal = journal::Journal::create_at(to, lines[0].at, header).unwrap();
    for line in &lines[1..] {
        journal.append_with(line.at, line.entry.clone(), line.awaited.clone(), line.clip.clone()).unwrap();
    }
    let made = journal.path().to_owned();
    drop(journal);
    fs::rename(made, to.join("forged.jsonl")).unwrap();
}

#[test]
fn the_mark_stands_at_the_end_and_proves_the_journal() {
    let data = tempfile::tempdir().unwrap();
    let (path, shown) = session(data.path());
    let mark = shown.lines().find_map(|line| line.strip_prefix("Mark:    ")).expect("the mark").to_owned();
    assert_eq!(Some(mark.as_str()), read(&path).unwrap().protection.last());
    assert_eq!(json(data.path(), &path, &[])["record"]["mark"], mark);
    let verify = |more: &[&str]| bothhands(data.path()).arg("verify").arg(&path).args(more).assert();
    let said = predicate::str::contains("Nothing speaks against")
        .and(predicate::str::contains("readings were said back as they stand"))
        .and(predicate::str::contains("by the engine"));
    verify(&[]).success().stdout(said);
    verify(&["--hash", &mark]).success().stdout(predicate::str::contains("nothing was cut off or added"));
    verify(&["--hash", &mark[..12]]).success();
    verify(&["--hash", &mark[..11]]).failure().stderr(predicate::str::contains("12 to 64"));
    verify(&["--hash", &"0".repeat(64)]).code(1).stdout(predicate::str::contains("NOT AS IT WAS"));
    // Lines cut off at the end show by the mark alone.
    let text = fs::read_to_string(&path).unwrap();
    let cut: Vec<&str> = text.lines().take(30).collect();
    let short = data.path().join("short.jsonl");
    fs::write(&short, cut.join("\n") + "\n").unwrap();
    bothhands(data.path()).arg("verify").arg(&short).assert().success();
    bothhands(data.path()).arg("verify").arg(&short).args(["--hash", &mark]).assert().code(1);
    // Lines that came after a mark was noted are counted.
    let early = read(&short).unwrap().protection.last().unwrap().to_owned();
    let after = text.lines().count() - 30;
    verify(&["--hash", &early]).success().stdout(predicate::str::contains("line 30: up to there"));
    verify(&["--hash", &early]).stdout(predicate::str::contains(format!("{after} lines came after")));
}

#[test]
fn a_changed_digit_shows_and_so_does_one_with_every_hash_made_anew() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let text = fs::read_to_string(&path).unwrap();
    let changed = data.path().join("changed.jsonl");
    fs::write(&changed, text.replacen("\"number\":\"2.863\"", "\"number\":\"5.363\"", 1)).unwrap();
    let told = predicate::str::contains("hash").and(predicate::str::contains("salvage"));
    bothhands(data.path()).arg("verify").arg(&changed).assert().failure().stderr(told);
    bothhands(data.path()).arg("report").arg(&changed).assert().failure();
    // Whoever makes every hash anew is told by what was said to it, and by the mark.
    let mut past = read(&path).unwrap();
    let mark = past.protection.last().unwrap().to_owned();
    for line in &mut past.lines {
        if let Entry::Event(_) = line.entry {
            let value = serde_json::to_string(&line.entry).unwrap().replace("2.863", "5.363");
            line.entry = serde_json::from_str(&value).unwrap();
        }
    }
    forged(&past.lines, data.path());
    let forged = data.path().join("forged.jsonl");
    bothhands(data.path()).arg("verify").arg(&forged).assert().code(1).stdout(
        predicate::str::contains("the journal has 5.363").and(predicate::str::contains("2.863. Out.")),
    );
    bothhands(data.path()).arg("verify").arg(&forged).args(["--hash", &mark]).assert().code(1);
}

#[test]
fn every_event_names_its_circuit_and_the_conclusion_is_kept() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let past = read(&path).unwrap();
    let record = json(data.path(), &path, &[]);
    for taken in record["record"]["readings"].as_array().unwrap() {
        let line = &past.lines[taken["seq"].as_u64().unwrap() as usize - 1];
        let awaited = line.awaited.as_ref().expect("the reading that was waited for");
        assert_eq!(awaited.circuit.as_str(), taken["circuit"].as_str().unwrap());
    }
    let (_, judged) = past.judged().expect("the conclusion");
    assert_eq!(record["record"]["judgement"], judged.judgement);
    assert_eq!(record["record"]["judged"]["basis"], "kept");
    for (key, value) in [
        ("technician", "A. Invented"),
        ("vehicle", "sweeper 3"),
        ("order", "1187"),
        ("part_serial", "P-1"),
        ("meter_serial", "M-2"),
        ("meter_calibrated", "2026-03-31"),
    ] {
        assert_eq!(record["record"]["details"][key], value, "{key}");
    }
    let again = json(data.path(), &path, &["--judge-again"]);
    assert_eq!(again["record"]["again"]["differences"].as_array().unwrap().len(), 0);
}

/// What was judged then is shown, also where it is not what this engine says, and where this program does not know its form.
#[test]
fn the_record_is_what_was_judged_then() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let lines = read(&path).unwrap().lines;
    let with = |name: &str, change: &dyn Fn(&mut Value)| {
        let mut lines = lines.clone();
        for line in &mut lines {
            if let Entry::Judged(judged) = &mut line.entry {
                judged.engine.name = "other".to_owned();
                judged.engine.version = 7;
                change(&mut judged.judgement);
            }
        }
        let folder = data.path().join(name);
        fs::create_dir(&folder).unwrap();
        forged(&lines, &folder);
        folder.join("forged.jsonl")
    };
    let otherwise = with("otherwise", &|judgement| {
        judgement["conclusion"]["headline"] = "Said so then.".into();
        judgement["findings"][0]["class"] = "open".into();
    });
    let report =
        |path: &Path| bothhands(data.path()).arg("report").arg(path).arg("--judge-again").assert().success();
    report(&otherwise).stdout(
        predicate::str::contains("Said so then.")
            .and(predicate::str::contains("engine other, version 7"))
            .and(predicate::str::contains("2 differences"))
            .and(predicate::str::contains("coil-a (component): then open, now within")),
    );
    let unknown = with("unknown", &|judgement| {
        judgement["findings"] = serde_json::json!({"by": "circuit"});
        judgement["conclusion"]["headline"] = serde_json::json!({"failed": {"circuit": "coil-f"}});
    });
    report(&unknown).stdout(
        predicate::str::contains("engine other, version 7: {\"failed\":{\"circuit\":\"coil-f\"}}")
            .and(predicate::str::contains("What stands above is judged now")),
    );
    assert_eq!(json(data.path(), &unknown, &[])["record"]["judged"]["basis"], "other-form");
}

#[test]
fn resume_passes_over_what_is_damaged_and_says_so() {
    let data = tempfile::tempdir().unwrap();
    let mut open = Keyed::start(data.path(), &[]);
    for line in PREPARATION.iter().chain(&SOUND[..2]) {
        open.answer_to(line);
    }
    open.kill();
    // A newer one, with a byte changed in its middle.
    let newer = data.path().join("sessions/2999-01-01T000000Z-sweeper-valve-block");
    fs::create_dir(&newer).unwrap();
    let damaged = newer.join("2999-01-01T000000Z-sweeper-valve-block.jsonl");
    let source = journal::sessions(&data.path().join("sessions")).unwrap().remove(0);
    let mut bytes = fs::read(source).unwrap();
    let at = bytes.len() - 2000;
    bytes[at] ^= 4;
    fs::write(&damaged, bytes).unwrap();
    let resumed = Keyed::resume(data.path());
    assert!(resumed.opening.contains("damaged journal was passed over"), "{}", resumed.opening);
    assert!(resumed.opening.contains("2999-01-01"), "{}", resumed.opening);
    assert!(resumed.opening.contains("10 left"), "{}", resumed.opening);
}

/// A journal that ended between its last word and its closing line is closed, with its conclusion.
#[test]
fn killed_before_the_closing_line_it_is_concluded_by_resume() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let text = fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let judged = lines.iter().position(|line| line.contains("\"entry\":{\"judged\"")).unwrap();
    for end in [judged - 2, judged, judged + 1] {
        fs::write(&path, lines[..end].join("\n") + "\n").unwrap();
        bothhands(data.path())
            .args(["resume", "--keys", "--plain"])
            .assert()
            .success()
            .stdout(predicate::str::contains("Coil F failed"));
        let past = read(&path).unwrap();
        assert_eq!(past.ending(), journal::Ending::Concluded);
        assert!(past.judged().is_some());
    }
}

/// One wrong byte is put right, proved by its hash; what is lost is said; the old file stays as it is; the readings stay where they
/// belong although lines between them are gone.
#[test]
fn salvage_keeps_what_is_sound_and_says_what_is_lost() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let whole = fs::read(&path).unwrap();
    let record = json(data.path(), &path, &[]);
    let starts: Vec<usize> = std::iter::once(0)
        .chain((0..whole.len()).filter(|at| whole[*at] == b'\n').map(|at| at + 1))
        .collect();
    let lines = read(&path).unwrap().lines;
    let reading = |nth: usize| {
        let is_reading = |line: &&Line| line.awaited.is_some() && matches!(line.entry, Entry::Event(_));
        lines.iter().filter(is_reading).nth(nth).unwrap().seq as usize - 1
    };
    let damaged = data.path().join("damaged.jsonl");
    let salvage = |bytes: &[u8]| {
        fs::write(&damaged, bytes).unwrap();
        let to = data.path().join(format!("to-{}", &sha256(bytes)[..8]));
        let rescue = journal::salvage(&damaged, &to).unwrap();
        assert_eq!(fs::read(&damaged).unwrap(), bytes, "the old file is touched");
        rescue
    };
    let readings = |record: &Value| -> Vec<(Value, Value, Value)> {
        let all = record["record"]["readings"].as_array().unwrap();
        all.iter()
            .map(|one| (one["circuit"].clone(), one["reading"].clone(), one["contact"].clone()))
            .collect()
    };
    // One bit in a reading, one in a hash.
    let mut bytes = whole.clone();
    bytes[starts[reading(2)] + 100] ^= 1;
    bytes[starts[reading(4) + 1] - 10] ^= 1;
    let rescue = salvage(&bytes);
    assert_eq!((rescue.lost.len(), rescue.mended.len()), (0, 2), "{rescue:?}");
    let rescued = json(data.path(), &rescue.path, &[]);
    assert_eq!(readings(&rescued), readings(&record));
    assert_eq!(rescued["record"]["judged"]["basis"], "kept");
    // A sector of nothing in the third reading: it is lost, the others stay where they belong.
    let mut bytes = whole.clone();
    let at = starts[reading(2)];
    bytes[at..starts[reading(2) + 1] - 1].fill(b'#');
    let rescue = salvage(&bytes);
    assert_eq!(rescue.lost, [reading(2) as u64 + 1]);
    let rescued = json(data.path(), &rescue.path, &[]);
    let mut wanted = readings(&record);
    wanted.remove(2);
    assert_eq!(readings(&rescued), wanted);
    let past = read(&rescue.path).unwrap();
    let proofs = journal::verify(&past, None).unwrap();
    assert!(proofs.iter().any(|proof| matches!(proof, Proof::Salvaged { lost: 1, .. })), "{proofs:?}");
    // By the command, in words.
    bothhands(data.path()).arg("salvage").arg(&damaged).assert().success().stdout(
        predicate::str::contains(format!("Lost: line {} of the old file", reading(2) + 1))
            .and(predicate::str::contains("The old journal is where it was")),
    );
    // Without its first line nobody knows what was measured.
    let mut bytes = whole;
    bytes[5..200].fill(b'#');
    fs::write(&damaged, bytes).unwrap();
    bothhands(data.path())
        .arg("salvage")
        .arg(&damaged)
        .assert()
        .failure()
        .stderr(predicate::str::contains("no complete first line"));
}

/// Of an older journal nothing proves a line: what comes after a damaged one is not taken.
#[test]
fn of_an_older_journal_the_beginning_is_salvaged() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals/concluded.jsonl");
    let text = fs::read_to_string(&old).unwrap();
    let mut lines: Vec<&str> = text.lines().collect();
    lines[39] = "{\"seq\":40,###";
    let damaged = folder.path().join("damaged.jsonl");
    fs::write(&damaged, lines.join("\n") + "\n").unwrap();
    let rescue = journal::salvage(&damaged, &folder.path().join("to")).unwrap();
    assert_eq!((rescue.kept, rescue.lost.first()), (39, Some(&40)));
    let salvaged = read(&rescue.path).unwrap();
    let before: Vec<Entry> = read(&old).unwrap().lines[1..39].iter().map(|line| line.entry.clone()).collect();
    assert_eq!(salvaged.lines[1..39].iter().map(|line| line.entry.clone()).collect::<Vec<_>>(), before);
}

/// A clip that is changed, missing, or taken away with the journal saying so.
#[test]
fn clips_are_proved_by_their_hash() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = session(folder.path());
    let mut past = read(&path).unwrap();
    let clips = path.parent().unwrap().join("clips");
    let heard = |clip: &str| -> bothhands::session::Event {
        serde_json::from_value(serde_json::json!({"heard": {
            "clip": clip, "opinions": [], "outcome": "no-speech", "length_ms": 100, "level_dbfs": -20.0,
            "room_dbfs": -60.0, "latency_ms": 5,
        }}))
        .unwrap()
    };
    for (name, hash) in
        [("a.wav", Some(sha256(b"sound a"))), ("b.wav", None), ("../c.wav", Some(sha256(b"c")))]
    {
        let mut line = Line::new(0, past.lines[2].at, Entry::Event(heard(name)));
        line.clip = hash;
        past.lines.insert(2, line);
    }
    fs::write(clips.join("a.wav"), "sound a").unwrap();
    let proofs = |past: &journal::Past| journal::verify(past, None).unwrap();
    let found = proofs(&past);
    assert!(found.contains(&Proof::Clips { count: 1 }), "{found:?}");
    assert!(found.contains(&Proof::ClipsUnproved { count: 1 }), "{found:?}");
    let missing = |proof: &Proof| matches!(proof, Proof::ClipMissing { clip, .. } if clip == "../c.wav");
    assert!(found.iter().any(missing), "{found:?}");
    fs::write(clips.join("a.wav"), "sound A").unwrap();
    assert!(proofs(&past).iter().any(|proof| matches!(proof, Proof::ClipChanged { .. })));
    let gone = Entry::Forgotten { clips: vec!["a.wav".to_owned(), "../c.wav".to_owned()] };
    past.lines.push(Line::new(0, past.lines[2].at, gone));
    let found = proofs(&past);
    assert!(found.contains(&Proof::ClipsForgotten { count: 2 }), "{found:?}");
    assert!(!found.iter().any(Proof::is_fault), "{found:?}");
}

/// What a record writes is taken by `judge` again, with the same result.
#[test]
fn tables_and_records_go_round() {
    let data = tempfile::tempdir().unwrap();
    let (path, _) = session(data.path());
    let form = |form: &str| {
        let output = bothhands(data.path()).arg("report").arg(&path).args(["--as", form]).assert().success();
        let file = data.path().join(format!("record.{form}"));
        fs::write(&file, &output.get_output().stdout).unwrap();
        file
    };
    let record = json(data.path(), &path, &[]);
    let judge = |file: &Path, more: &[&str]| -> Value {
        let mut command = bothhands(data.path());
        let output = command
            .args(["judge", "sweeper-valve-block", "--meter", "handheld-60000"])
            .arg(file)
            .args(more)
            .assert()
            .success();
        serde_json::from_slice(&output.get_output().stdout).unwrap()
    };
    assert_eq!(judge(&form("json"), &[]), record["record"]["judgement"]);
    let by_table = judge(&form("csv"), &["--leads", "0.200", "--temperature", "17..23"]);
    assert_eq!(by_table["findings"], record["record"]["judgement"]["findings"]);
    // Every row names job and part, and holds the third opinion's column.
    let table = fs::read_to_string(data.path().join("record.csv")).unwrap();
    let head = table.lines().next().unwrap();
    for column in ["heard_third", "part_serial", "order", "vehicle", "mark"] {
        assert!(head.split(',').any(|name| name == column), "{column}: {head}");
    }
    assert!(table.lines().skip(1).all(|line| line.contains("1187") && line.contains("P-1")), "{table}");
}

/// Sessions are found again, and a part stands beside its last time.
#[test]
fn the_history_finds_and_compares() {
    let data = tempfile::tempdir().unwrap();
    let (first, _) = session(data.path());
    let history = |more: &[&str]| bothhands(data.path()).arg("history").args(more).assert();
    let headline =
        || predicate::str::contains("Coil F failed").and(predicate::str::contains("1 of 1 sessions"));
    history(&["--vehicle", "Sweeper 3"]).success().stdout(headline());
    history(&["invented", "coil"]).success().stdout(headline());
    history(&["--order", "1187", "--concluded", "--rebuild"]).success().stdout(headline());
    history(&["--open"]).success().stdout(predicate::str::contains("0 of 0 sessions"));
    history(&["--since", "2999-01-01"]).success().stdout(predicate::str::contains("0 of 0"));
    let (second, _) = session(data.path());
    let told = predicate::str::contains("The same part the last time")
        .and(predicate::str::contains("coil A (component): 5.2"))
        .and(predicate::str::contains("last time 5.2"));
    history(&["--compare", second.to_str().unwrap()]).success().stdout(told);
    let output = history(&["--as", "json"]).success();
    let listed: Value = serde_json::from_slice(&output.get_output().stdout).unwrap();
    let paths: Vec<&str> =
        listed.as_array().unwrap().iter().map(|one| one["path"].as_str().unwrap()).collect();
    assert_eq!(paths, [second.to_str().unwrap(), first.to_str().unwrap()]);
    // The two are the same part: it teaches once.
    history(&["--learned", "sweeper-valve-block"])
        .success()
        .stdout(predicate::str::contains("learned from 1 part: 5.2"));
    // A damaged journal is told and passed over.
    let mut bytes = fs::read(&first).unwrap();
    bytes[3000] ^= 1;
    fs::write(&first, bytes).unwrap();
    history(&[])
        .success()
        .stdout(predicate::str::contains("1 of 1 sessions"))
        .stderr(predicate::str::contains("Missing in the history"));
}

/// Sound is taken away on purpose: the journal says so, nothing else is lost, and `verify` still proves the rest.
#[test]
fn forgotten_sound_leaves_a_mark() {
    let data = tempfile::tempdir().unwrap();
    let (path, shown) = session(data.path());
    let mark = shown.lines().find_map(|line| line.strip_prefix("Mark:    ")).unwrap().to_owned();
    let before = json(data.path(), &path, &[]);
    let clips = path.parent().unwrap().join("clips");
    fs::write(clips.join("a.wav"), "sound").unwrap();
    let forget = |more: &[&str]| bothhands(data.path()).arg("forget").args(more).assert().success();
    forget(&["--older-than", "1"]).stdout(predicate::str::contains("no sound to take away"));
    forget(&["--customer", "nobody"]).stdout(predicate::str::contains("no sound to take away"));
    forget(&[path.to_str().unwrap()]).stdout(predicate::str::contains("1 sound clips are gone"));
    assert_eq!(fs::read_dir(&clips).unwrap().count(), 0);
    forget(&[path.to_str().unwrap()]).stdout(predicate::str::contains("no sound to take away"));
    let past = read(&path).unwrap();
    assert!(matches!(&past.lines.last().unwrap().entry, Entry::Forgotten { clips } if clips == &["a.wav"]));
    assert_eq!(past.ending(), journal::Ending::Concluded);
    bothhands(data.path())
        .arg("verify")
        .arg(&path)
        .args(["--hash", &mark])
        .assert()
        .success()
        .stdout(predicate::str::contains("1 lines came after it"));
    let after = json(data.path(), &path, &[]);
    assert_eq!(after["record"]["readings"], before["record"]["readings"]);
    assert_eq!(after["record"]["judgement"], before["record"]["judgement"]);
    assert!(after["record"]["notes"].to_string().contains("clips-forgotten"));
}

/// What an earlier session read is asked for in the middle of the next one, and a broken history does not stop it.
#[test]
fn what_it_was_the_last_time_is_answered_in_the_session() {
    let data = tempfile::tempdir().unwrap();
    let ask = |serial: &str| {
        let mut lines: Vec<&str> = PREPARATION.to_vec();
        lines.extend(["l", SOUND[0], "what was it last time", "q", ""]);
        let output = bothhands(data.path())
            .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
            .args(["--part-serial", serial])
            .write_stdin(lines.join("\n") + "\n")
            .assert()
            .success();
        String::from_utf8(output.get_output().stdout.clone()).unwrap()
    };
    let shown = ask("P-1");
    assert!(shown.contains("There is no history yet"), "{shown}");
    session(data.path());
    bothhands(data.path()).arg("history").assert().success();
    let shown = ask("p-1");
    assert!(shown.contains("coil A read 5.401 Ω at this part"), "{shown}");
    assert!(shown.contains("coil B read 5.398 Ω at this part"), "{shown}");
    assert!(ask("P-2").contains("coil A read 5.401 Ω at a part of this kind"), "{shown}");
    fs::write(data.path().join("history.sqlite"), "not a store ".repeat(100)).unwrap();
    let _ = fs::remove_file(data.path().join("history.sqlite-wal"));
    let shown = ask("P-1");
    assert!(shown.contains("The history cannot be used"), "{shown}");
    assert!(shown.contains("coil B"), "the session goes on: {shown}");
}
