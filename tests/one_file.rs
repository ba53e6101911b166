//! The page with the sound inside it, as its user meets it: as many clips as the journal names, and nothing outside of the page.

mod keyed;

use bothhands::{
    journal::{self, Entry, Line, sha256},
    session::{Event, Hearing, Opinion, Outcome},
};
use keyed::{PREPARATION, SOUND, bothhands};
use predicates::prelude::*;
use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

/// A clip of so many samples at 16 kHz, each sounding otherwise.
fn wav(path: &Path, samples: usize) {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 16_000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(path, spec).unwrap();
    (0..samples).for_each(|at| writer.write_sample((at * 37 % 9001) as i16 - 4500).unwrap());
    writer.finalize().unwrap();
}

/// A session by keys, with every typed line turned into a heard one, and a bang in between. `a correction` takes a reading back, so
/// that one clip stands for two things.
fn heard(data: &Path) -> PathBuf {
    let mut lines: Vec<&str> = PREPARATION.to_vec();
    lines.extend(["5.801", "w 5.401"]);
    lines.extend(&SOUND[1..]);
    lines.extend([SOUND[0], "f"]);
    let output = bothhands(data)
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
        .write_stdin(lines.join("\n") + "\n")
        .assert()
        .success();
    let shown = String::from_utf8(output.get_output().stdout.clone()).unwrap();
    let keyed = shown.lines().find_map(|line| line.strip_prefix("Journal: ")).expect("the journal is named");
    let past = journal::read(Path::new(keyed)).unwrap();
    let Entry::Opened(header) = &past.lines[0].entry else { panic!("the head") };
    let mut made = journal::Journal::create_at(&data.join("heard"), past.lines[0].at, header).unwrap();
    let clips = made.clips();
    let mut append = |line: &Line, outcome: Option<Outcome>| {
        let Some(outcome) = outcome else {
            made.append_with(line.at, line.entry.clone(), line.awaited.clone(), None).unwrap();
            return;
        };
        let number = fs::read_dir(&clips).unwrap().count();
        let name = format!("{number:04}.wav");
        wav(&clips.join(&name), 4000 + number * 7);
        let hash = sha256(&fs::read(clips.join(&name)).unwrap());
        let opinion =
            Opinion { by: "phrases".into(), words: "what was said".into(), margin: None, support: None };
        let hearing = Hearing {
            clip: Some(name),
            opinions: vec![opinion],
            outcome,
            words: None,
            doubt: None,
            marked: false,
            continues: false,
            length_ms: 250,
            level_dbfs: -20.0,
            room_dbfs: -60.0,
            latency_ms: 300,
        };
        made.append_with(line.at, Entry::Event(Event::Heard(hearing)), line.awaited.clone(), Some(hash))
            .unwrap();
    };
    for line in &past.lines[1..] {
        match &line.entry {
            Entry::Event(Event::Keyed { utterance: Some(utterance), .. }) => {
                append(line, Some(Outcome::Understood(utterance.clone())));
                if line.seq % 10 == 0 {
                    append(line, Some(Outcome::NoSpeech));
                }
            }
            _ => append(line, None),
        }
    }
    made.path().to_owned()
}

fn page(data: &Path, journal: &Path) -> (String, String) {
    let told = bothhands(data).arg("report").arg(journal).arg("--one-file").assert().success();
    let told = String::from_utf8(told.get_output().stdout.clone()).unwrap();
    let page = fs::read_to_string(journal.parent().unwrap().join("record-with-sound.html")).unwrap();
    (page, told)
}

/// The values of one attribute.
fn values<'a>(page: &'a str, attribute: &str) -> Vec<&'a str> {
    page.split(&format!(" {attribute}=\"")).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

#[test]
fn the_page_holds_every_clip_once_and_refers_to_no_file() {
    let data = tempfile::tempdir().unwrap();
    let journal = heard(data.path());
    let past = journal::read(&journal).unwrap();
    let named: BTreeSet<&str> = past.lines.iter().filter_map(|line| line.entry.clip()).collect();
    assert!(named.len() > 25, "{}", named.len());
    let (page, told) = page(data.path(), &journal);
    // Left for a look (tests/pages).
    fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join("record-with-sound.html"), &page).unwrap();
    assert!(told.contains(&format!("{} clips in it", named.len())), "{told}");
    let sources = values(&page, "src");
    assert_eq!(sources.len(), named.len());
    assert_eq!(sources.iter().collect::<BTreeSet<_>>().len(), named.len(), "each another sound");
    assert!(sources.iter().all(|source| source.starts_with("data:audio/ogg;base64,T2dnUw")), "Ogg pages");
    // What refers to anything stays in the page, and what it refers to is there.
    let ids: BTreeSet<&str> = values(&page, "id").into_iter().collect();
    for way in values(&page, "href") {
        assert!(ids.contains(way.strip_prefix('#').expect("within the page")), "{way}");
    }
    for outward in ["url(", "@import", "clips/", "<script", "<link", "<iframe", "srcset", "poster="] {
        assert!(!page.contains(outward), "{outward}");
    }
    let policy = "default-src 'none'; style-src 'unsafe-inline'; media-src data:; img-src data:";
    assert!(values(&page, "content").contains(&policy));
    // The clip by which a reading was taken back and another given stands once, and is linked where it comes again.
    assert!(page.contains("<a class=\"clip\" href=\"#s"));
    assert!(page.contains("<h2>Other sound</h2>"));
    // Printed it is the same.
    let printed = bothhands(data.path())
        .arg("report")
        .arg(&journal)
        .args(["--one-file", "--as", "html"])
        .assert()
        .success();
    assert_eq!(String::from_utf8_lossy(&printed.get_output().stdout).trim_end(), page.trim_end());
    bothhands(data.path())
        .arg("report")
        .arg(&journal)
        .args(["--one-file", "--as", "csv"])
        .assert()
        .failure()
        .stderr(predicate::str::contains("only the page"));
}

#[test]
fn what_is_missing_changed_damaged_or_taken_away_is_said_in_its_place() {
    let data = tempfile::tempdir().unwrap();
    let journal = heard(data.path());
    let clips = journal.parent().unwrap().join("clips");
    let all = fs::read_dir(&clips).unwrap().count();
    fs::remove_file(clips.join("0010.wav")).unwrap();
    wav(&clips.join("0011.wav"), 999);
    // A clip that the journal has no hash of, and that is no sound.
    let mut past = journal::read(&journal).unwrap();
    let line = past.lines.iter_mut().find(|line| line.entry.clip() == Some("0012.wav")).unwrap();
    line.clip = None;
    fs::write(clips.join("0012.wav"), "RIFF, or not").unwrap();
    let Entry::Opened(header) = &past.lines[0].entry else { panic!("the head") };
    let mut made = journal::Journal::create_at(&data.path().join("again"), past.lines[0].at, header).unwrap();
    for line in &past.lines[1..] {
        made.append_with(line.at, line.entry.clone(), line.awaited.clone(), line.clip.clone()).unwrap();
    }
    for clip in fs::read_dir(&clips).unwrap() {
        let clip = clip.unwrap();
        fs::copy(clip.path(), made.clips().join(clip.file_name())).unwrap();
    }
    let again = made.path().to_owned();
    drop(made);
    let (page, told) = page(data.path(), &again);
    assert_eq!(values(&page, "src").len(), all - 3);
    for why in ["The clip is missing.", "is not the one that was heard", "is damaged and cannot be played"] {
        assert!(page.contains(why), "{why}");
        assert!(told.contains(why), "{told}");
    }
    bothhands(data.path()).args(["forget", again.to_str().unwrap()]).assert().success();
    let (page, _) = self::page(data.path(), &again);
    assert_eq!(values(&page, "src").len(), 0);
    assert!(page.matches("taken away on purpose").count() >= all - 3);
}
