//! Tests of the listening thread with scripted sound and scripted opinions: no device, no model, no waiting.

use super::*;
use crate::session::Outcome;
use crate::{
    grammar::{Command, Follow, Utterance},
    hear::{
        audio::{ScriptedSource, Step as Play},
        recognise::{Decoded, PHRASES, ScriptedRecogniser, WORDS},
    },
};

/// Sound of that length and level; the score below calls anything over −40 dB speech.
fn sound(ms: usize, level_dbfs: f32) -> Play {
    let amplitude = 10_f32.powf(level_dbfs / 20.0);
    Play::Sound((0..ms * 16).map(|i| if i % 2 == 0 { amplitude } else { -amplitude }).collect())
}

const QUIET: f32 = -70.0;

fn parse() -> Parse {
    Arc::new(|words| match words {
        "next" => Some(Utterance::Command(Command::Next)),
        "yes" => Some(Utterance::Command(Command::Yes)),
        _ => None,
    })
}

fn parts(source: ScriptedSource, opinions: &[(&str, &str)]) -> Parts {
    let mut opinions =
        Some(opinions.iter().map(|(a, b)| (Decoded::of(a), Decoded::of(b))).collect::<Vec<_>>());
    Parts {
        source: Box::new(source),
        recognisers: Box::new(move |phrases, _| {
            if phrases.iter().any(|p| p == "bad") {
                return Err(HearError::UnknownWords(vec!["bad".into()]));
            }
            let (a, b): (Vec<_>, Vec<_>) = opinions.take().unwrap_or_default().into_iter().unzip();
            Ok(vec![
                Box::new(ScriptedRecogniser::new(PHRASES, a)) as Box<dyn Recogniser>,
                Box::new(ScriptedRecogniser::new(WORDS, b)),
            ])
        }),
        phrases: vec!["next".into()],
        words: vec!["next".into()],
        parse: parse(),
        follows: Arc::new(|_, _| Follow::Perhaps),
        clips: None,
        gate: GateSettings::default(),
        caution: Caution::default(),
        score: Box::new(|frame| {
            let mean = frame.iter().map(|s| s * s).sum::<f32>() / 256.0;
            if mean > 1e-4 { 0.9 } else { 0.0 }
        }),
    }
}

/// All events until the source ends for good.
fn all(listener: &Listener) -> Vec<HearEvent> {
    let mut events = Vec::new();
    for event in listener.events() {
        let last = event == HearEvent::SourceEnded;
        events.push(event);
        if last {
            break;
        }
    }
    events
}

fn outcomes(events: &[HearEvent]) -> Vec<Outcome> {
    events
        .iter()
        .filter_map(|e| if let HearEvent::Heard(h) = e { Some(h.hearing.outcome.clone()) } else { None })
        .collect()
}

fn understood(command: Command) -> Outcome {
    Outcome::Understood(Utterance::Command(command))
}

#[test]
fn two_words_are_two_hearings_with_their_sound() {
    let source = ScriptedSource::new([
        sound(1000, QUIET),
        sound(400, -20.0),
        sound(800, QUIET),
        sound(400, -20.0),
        sound(800, QUIET),
    ]);
    let listener = Listener::start_with(parts(source, &[("next", "next"), ("yes", "next")])).unwrap();
    let events = all(&listener);
    assert_eq!(
        outcomes(&events),
        [
            understood(Command::Next),
            Outcome::Doubtful(vec![Utterance::Command(Command::Yes), Utterance::Command(Command::Next)])
        ]
    );
    assert_eq!(events.iter().filter(|e| **e == HearEvent::SoundBegan).count(), 2);
    let HearEvent::Heard(heard) = &events[1] else { panic!("{events:?}") };
    assert_eq!(heard.hearing.opinions[0].by, "phrases");
    assert!(heard.hearing.latency_ms >= 700, "the silence counts: {}", heard.hearing.latency_ms);
    assert!((heard.hearing.level_dbfs + 20.0).abs() < 1.0);
    assert!(heard.samples.len() >= 16 * 1100, "{}", heard.samples.len());
    assert_eq!(heard.hearing.length_ms as usize, heard.samples.len() / 16);
}

#[test]
fn silence_and_quiet_sound_give_no_hearing() {
    let source = ScriptedSource::new([
        sound(3000, QUIET),
        sound(500, -62.0),
        sound(1000, QUIET),
        Play::Sound(vec![0.0; 32_000]),
    ]);
    let listener = Listener::start_with(parts(source, &[("next", "next")])).unwrap();
    assert_eq!(all(&listener), [HearEvent::SourceEnded]);
}

#[test]
fn a_word_with_a_hole_is_asked() {
    let source = ScriptedSource::new([
        sound(1000, QUIET),
        sound(300, -20.0),
        Play::Dropped(800),
        sound(300, -20.0),
        sound(800, QUIET),
        sound(400, -20.0),
        sound(800, QUIET),
    ]);
    let listener = Listener::start_with(parts(source, &[("next", "next"), ("yes", "yes")])).unwrap();
    let events = all(&listener);
    assert!(events.contains(&HearEvent::Trouble(Trouble::Dropped(800))));
    assert_eq!(
        outcomes(&events),
        [Outcome::Doubtful(vec![Utterance::Command(Command::Next)]), understood(Command::Yes)]
    );
    assert_eq!(listener.level().dropped, 800);
}

#[test]
fn a_lost_source_is_told_and_opened_again() {
    let source = ScriptedSource::new([
        sound(1000, QUIET),
        sound(400, -20.0),
        Play::Lost("unplugged".into()),
        sound(1000, QUIET),
        sound(400, -20.0),
        sound(800, QUIET),
    ]);
    let listener = Listener::start_with(parts(source, &[("next", "next"), ("yes", "yes")])).unwrap();
    let events = all(&listener);
    let lost = events.iter().position(|e| *e == HearEvent::SourceLost("unplugged".into())).unwrap();
    assert_eq!(events[lost + 1], HearEvent::SourceBack);
    // What was going on is given out, but a part is never taken.
    assert_eq!(
        outcomes(&events),
        [Outcome::Doubtful(vec![Utterance::Command(Command::Next)]), understood(Command::Yes)]
    );
}

#[test]
fn no_sound_for_two_seconds_is_a_lost_source() {
    let source = ScriptedSource::new([
        sound(500, QUIET),
        Play::Nothing(39),
        sound(100, QUIET),
        Play::Nothing(40),
        Play::Lost("never reached".into()),
    ]);
    let listener = Listener::start_with(parts(source, &[])).unwrap();
    assert_eq!(
        all(&listener),
        [
            HearEvent::SourceLost("no sound came for 2 s".into()),
            HearEvent::SourceBack,
            HearEvent::SourceEnded
        ]
    );
}

#[test]
fn what_keeps_it_from_listening_is_told_before_it_starts() {
    let source = ScriptedSource::new([Play::NoOpen("nothing plugged in".into())]);
    let error = Listener::start_with(parts(source, &[])).unwrap_err().to_string();
    assert!(error.contains("no microphone") && error.contains("--keys"), "{error}");
    let mut bad = parts(ScriptedSource::default(), &[]);
    bad.phrases = vec!["bad".into()];
    assert!(Listener::start_with(bad).unwrap_err().to_string().contains("does not know: bad"));
}

#[test]
fn clips_are_kept_and_a_folder_that_vanishes_is_told_but_loses_no_hearing() {
    let folder = tempfile::tempdir().unwrap();
    let script = || ScriptedSource::new([sound(1000, QUIET), sound(400, -20.0), sound(800, QUIET)]);
    let mut p = parts(script(), &[("next", "next")]);
    p.clips = Some(Clips::new(folder.path()).unwrap());
    let events = all(&Listener::start_with(p).unwrap());
    let HearEvent::Heard(heard) = &events[1] else { panic!("{events:?}") };
    let clip = heard.hearing.clip.as_ref().unwrap();
    let read = hound::WavReader::open(folder.path().join(clip)).unwrap();
    assert_eq!(read.len() as usize, heard.samples.len());

    let gone = tempfile::tempdir().unwrap();
    let mut p = parts(script(), &[("next", "next")]);
    p.clips = Some(Clips::new(&gone.path().join("clips")).unwrap());
    drop(gone);
    let events = all(&Listener::start_with(p).unwrap());
    assert!(matches!(events[1], HearEvent::Trouble(Trouble::Clip(_))), "{events:?}");
    assert_eq!(outcomes(&events), [understood(Command::Next)]);
}

#[test]
fn new_phrases_that_cannot_be_used_are_told_and_the_old_ones_stay() {
    // The sender side waits: orders are given before any sound is read only if the source holds; so give them at once
    // and look for both in the events, in any order.
    let source = ScriptedSource::new([Play::Nothing(30), sound(400, -20.0), sound(800, QUIET)]);
    let listener = Listener::start_with(parts(source, &[("next", "next")])).unwrap();
    listener.set_phrases(vec!["bad".into()], vec![]);
    let events = all(&listener);
    assert_eq!(outcomes(&events).len(), 1, "{events:?}");
}

#[test]
fn dropping_it_ends_the_thread_even_when_nobody_reads() {
    let script = (0..400).flat_map(|_| [sound(300, QUIET), sound(200, -20.0), sound(500, QUIET)]);
    let listener = Listener::start_with(parts(ScriptedSource::new(script), &[])).unwrap();
    drop(listener);
}
