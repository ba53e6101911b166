//! Capture through the real audio path, from virtual devices: forms, a server that dies, no microphone at all.
//!
//! A process cannot change its own environment safely, so each test starts this test program again as a child that
//! listens in the environment of its own sound server and writes what it hears, a line an event.
#![cfg(feature = "voice")]

mod hearing;

use bothhands::hear::{
    self, HearEvent, Listener, Microphone, listener,
    virtual_sound::{Form, LOUDSPEAKER, MICROPHONE, VirtualSound},
};
use hearing::sure_clip;
use std::{
    ffi::OsString,
    io::{BufRead, BufReader, Read, Write},
    process::{Child, Command, Stdio},
    sync::mpsc::{Receiver, channel},
    time::Duration,
};

/// Longest wait for anything: generous, since machines that test are busy.
const LIMIT: Duration = Duration::from_secs(60);

/// Not a test of its own: what the child does. Ends when its input ends.
#[test]
#[ignore = "the child of the other tests"]
fn child_listens() {
    let wanted = std::env::var("TEST_MICROPHONE").ok();
    match Microphone::list() {
        Ok(list) => list.iter().for_each(|d| println!("\nEVENT device {} default={}", d.name, d.is_default)),
        Err(error) => println!("\nEVENT no list: {error}"),
    }
    let config = listener::Config {
        model: hearing::model(),
        phrases: hearing::phrases(),
        words: hearing::words(),
        parse: hearing::parse(),
        follows: hearing::follows(),
        clips: None,
        source: Box::new(Microphone::new(wanted)),
        caution: hear::accept::Caution::default(),
    };
    let listener = match Listener::start(config) {
        Ok(listener) => listener,
        Err(error) => {
            println!("\nEVENT refused: {error}");
            return;
        }
    };
    println!("\nEVENT ready");
    let (ended, end) = channel();
    std::thread::spawn(move || {
        let _ = std::io::stdin().read_to_end(&mut Vec::new());
        let _ = ended.send(());
    });
    while end.try_recv().is_err() {
        match listener.events().recv_timeout(Duration::from_millis(100)) {
            Ok(HearEvent::Heard(h)) => {
                let opinions: Vec<&str> = h.hearing.opinions.iter().map(|o| o.words.as_str()).collect();
                println!("\nEVENT heard {} / {:?}", opinions.join(" / "), h.hearing.outcome);
            }
            Ok(other) => println!("\nEVENT {other:?}"),
            Err(_) => {}
        }
    }
    println!("\nEVENT dropped samples {}", listener.level().dropped);
    drop(listener);
    println!("\nEVENT closed");
}

struct Listening {
    child: Child,
    lines: Receiver<String>,
}

impl Listening {
    fn start(env: Vec<(&'static str, OsString)>) -> Self {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--ignored", "--exact", "child_listens", "--nocapture"])
            .envs(env)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let (sender, lines) = channel();
        std::thread::spawn(move || {
            for line in out.lines().map_while(Result::ok) {
                if let Some(event) = line.strip_prefix("EVENT ")
                    && sender.send(event.to_owned()).is_err()
                {
                    break;
                }
            }
        });
        Self { child, lines }
    }

    /// The next event that begins so; the ones before it are passed over.
    fn wait_for(&self, start: &str) -> String {
        let mut seen = Vec::new();
        loop {
            match self.lines.recv_timeout(LIMIT) {
                Ok(line) if line.starts_with(start) => return line,
                Ok(line) => seen.push(line),
                Err(_) => panic!("no \"{start}\" came; {seen:?}"),
            }
        }
    }

    fn end(mut self) {
        drop(self.child.stdin.take());
        self.wait_for("dropped samples");
        self.wait_for("closed");
        assert!(self.child.wait().unwrap().success());
    }
}

impl Drop for Listening {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Whether the first opinion of such an event is the clip, one word more or less: machines that test are busy, and a
/// sound server may then lose a moment.
fn is_clip(event: &str) -> bool {
    let words = event.trim_start_matches("heard ").split(" / ").next().unwrap_or_default();
    hearing::distance(&sure_clip().words, words) <= 1
}

#[test]
fn a_clip_spoken_into_the_microphone_is_heard_in_any_form() {
    for form in [
        Form::default(),
        Form { rate: 44_100, channels: 2, format: "s16le" },
        Form { rate: 16_000, channels: 1, format: "s32le" },
        Form { rate: 96_000, channels: 2, format: "s24-32le" },
    ] {
        let sound = VirtualSound::start_as(form).unwrap();
        let listening = Listening::start(sound.env());
        assert_eq!(listening.wait_for("device Microphone"), "device Microphone default=true");
        listening.wait_for("ready");
        sound.speak(&sure_clip().file).unwrap();
        let heard = listening.wait_for("heard");
        assert!(is_clip(&heard), "{form:?}: {heard}");
        listening.end();
    }
}

#[test]
fn when_the_sound_server_dies_it_is_told_and_hearing_comes_back() {
    let mut sound = VirtualSound::start().unwrap();
    let listening = Listening::start(sound.env());
    listening.wait_for("ready");
    sound.kill_server();
    listening.wait_for("SourceLost");
    sound.start_again(Form::default()).unwrap();
    listening.wait_for("SourceBack");
    sound.speak(&sure_clip().file).unwrap();
    let heard = listening.wait_for("heard");
    assert!(is_clip(&heard), "{heard}");
    listening.end();
}

#[test]
fn a_microphone_by_name() {
    let sound = VirtualSound::start().unwrap();
    let named = |name: &str| {
        let mut env = sound.env();
        env.push(("TEST_MICROPHONE", name.into()));
        Listening::start(env)
    };
    let listening = named("microphone");
    listening.wait_for("ready");
    listening.end();
    let refused = named("gramophone").wait_for("refused");
    assert!(
        refused.contains("no microphone is called \"gramophone\"") && refused.contains("\"Microphone\""),
        "{refused}"
    );
}

#[test]
fn without_any_microphone_it_says_so_and_does_not_start() {
    // No server to reach, and an ALSA configuration without devices.
    let folder = tempfile::tempdir().unwrap();
    let empty = folder.path().join("empty.conf");
    std::fs::File::create(&empty).unwrap().write_all(b"\n").unwrap();
    let env = vec![
        ("XDG_RUNTIME_DIR", folder.path().into()),
        ("PULSE_RUNTIME_PATH", folder.path().into()),
        ("PULSE_SERVER", format!("unix:{}/none", folder.path().display()).into()),
        ("ALSA_CONFIG_PATH", empty.into()),
        ("HOME", folder.path().into()),
    ];
    let listening = Listening::start(env);
    let list = listening.wait_for("no list");
    assert!(list.contains("no microphone found"), "{list}");
    let refused = listening.wait_for("refused");
    assert!(refused.contains("no microphone found") && refused.contains("--keys"), "{refused}");
}

#[test]
fn what_the_loudspeaker_plays_can_be_recorded() {
    let sound = VirtualSound::start().unwrap();
    let recording = sound.record(LOUDSPEAKER).unwrap();
    let other = sound.record(MICROPHONE).unwrap();
    assert_eq!(recording.quiet_ms(), None);
    // Played to the default device, as a speaking program would.
    let done = Command::new("paplay").arg(&sure_clip().file).envs(sound.env()).status().unwrap();
    assert!(done.success());
    assert!(recording.wait_for_quiet(0, 300, LIMIT));
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("loudspeaker.wav");
    recording.save(&file).unwrap();
    let model = hearing::model();
    let heard = hearing::listen(&model, &file);
    assert!(is_clip(&heard[0].opinions[0].words), "{heard:?}");
    assert!(other.stop().iter().all(|s| s.unsigned_abs() < 100), "the microphone hears nothing of it");
    // And samples into the microphone, seen by its own recording.
    let recording = sound.record(MICROPHONE).unwrap();
    sound.speak_samples(&hear::audio::to_i16(&hear::wav::read(&sure_clip().file).unwrap())).unwrap();
    assert!(recording.wait_for_quiet(0, 300, LIMIT));
    assert!(recording.length_ms() > 1000);
}

#[test]
fn everything_of_a_virtual_device_is_gone_afterwards() {
    let sound = VirtualSound::start().unwrap();
    let folder = sound.folder().to_path_buf();
    assert!(folder.is_dir());
    drop(sound);
    assert!(!folder.exists());
}
