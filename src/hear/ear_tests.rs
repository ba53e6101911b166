//! Tests of one ear with made-up sound and scripted opinions.

use super::*;
use crate::{
    grammar::{Command, Context, Grammar, Utterance},
    hear::recognise::{SECOND, ScriptedRecogniser, WORDS},
};

/// Plays `(milliseconds, level)` to an ear whose opinions say these words, one after the other; anything over −40 dB is speech.
fn play(said: &[&str], parts: &[(usize, f32)]) -> Vec<Hearing> {
    let mut hearings = Vec::new();
    let mut ear = ear(said);
    for (ms, level) in parts {
        let amplitude = 10_f32.powf(level / 20.0);
        let sound: Vec<f32> = (0..ms * 16).map(|i| if i % 2 == 0 { amplitude } else { -amplitude }).collect();
        // As a microphone gives it: 16 ms at a time.
        for piece in sound.chunks(FRAME) {
            ear.hear(piece, &mut |event| {
                if let HearEvent::Heard(heard) = event {
                    hearings.push(heard.hearing);
                }
            });
        }
    }
    hearings
}

fn ear(said: &[&str]) -> Ear {
    let script = |name| {
        Box::new(ScriptedRecogniser::new(name, said.iter().map(|words| Decoded::of(words))))
            as Box<dyn Recogniser>
    };
    let grammar = Arc::new(Grammar::builtin("en").unwrap());
    let (parser, follower) = (grammar.clone(), grammar);
    Ear::new(Parts {
        recognisers: vec![script(PHRASES), script(SECOND), script(WORDS)],
        parse: Arc::new(move |words| parser.parse(words, &Context::default())),
        follows: Arc::new(move |words, meant| follower.follow(words, meant, &Context::default())),
        clips: None,
        gate: GateSettings::default(),
        waits: Waits::default(),
        caution: Caution::default(),
        score: Box::new(|frame| if frame.iter().map(|s| s * s).sum::<f32>() > 0.0256 { 0.9 } else { 0.0 }),
    })
}

const ROOM: (usize, f32) = (1000, -70.0);
const WORD: (usize, f32) = (400, -20.0);

fn words(hearing: &Hearing) -> &str {
    &hearing.opinions[0].words
}

#[test]
fn whole_words_end_early_and_open_ones_later() {
    for (said, silence) in
        [("next", EARLY_MS), ("one point five ohms", EARLY_MS), ("one point five", 700), ("one point", 1500)]
    {
        let heard = play(&[said], &[ROOM, WORD, (2000, -70.0)]);
        assert_eq!(heard.len(), 1, "{said}");
        // From the beginning of the sound: 0.32 s of room, 0.4 s of speech, and the silence waited for.
        let length = heard[0].length_ms;
        assert!((silence + 720..silence + 840).contains(&length), "{said}: {length}");
        assert!(heard[0].latency_ms >= silence, "{said}");
    }
}

#[test]
fn a_pause_within_a_number_does_not_cut_it() {
    // The first trial hears a part, the second one the whole.
    for pause in [300, 600] {
        let heard = play(&["one", "one point five"], &[ROOM, WORD, (pause, -70.0), WORD, (1500, -70.0)]);
        assert_eq!(heard.len(), 1, "{pause}");
        assert_eq!(words(&heard[0]), "one point five");
        assert!(!heard[0].continues);
    }
    let heard = play(&["one point", "one point five"], &[ROOM, WORD, (1400, -70.0), WORD, (1500, -70.0)]);
    assert_eq!(heard.len(), 1, "an unfinished number is waited for longer");
    assert!(heard[0].length_ms > 2000, "the whole sound: {}", heard[0].length_ms);
}

#[test]
fn a_value_that_goes_on_is_heard_again_as_one() {
    // "One" ended after 0.7 s; "point five" comes 1.1 s after it; both together are decoded once more.
    let sound = [ROOM, WORD, (1100, -70.0), WORD, (1500, -70.0)];
    let heard = play(&["twenty", "point five", "twenty point five"], &sound);
    assert_eq!(heard.iter().map(words).collect::<Vec<_>>(), ["twenty", "twenty point five"]);
    assert_eq!(heard.iter().map(|h| h.continues).collect::<Vec<_>>(), [false, true]);
    // A command is no continuation, and whatever comes later is none either.
    let heard = play(&["twenty", "next", "never asked"], &sound);
    assert_eq!(heard[1].outcome, Outcome::Understood(Utterance::Command(Command::Next)));
    let heard = play(&["twenty", "thirty", "never asked"], &[ROOM, WORD, (1700, -70.0), WORD, (1500, -70.0)]);
    assert_eq!((words(&heard[1]), heard[1].continues), ("thirty", false));
}

#[test]
fn what_together_is_no_value_stays_apart() {
    let heard =
        play(&["twenty", "thirty", "twenty ohms thirty"], &[ROOM, WORD, (1100, -70.0), WORD, (1500, -70.0)]);
    assert_eq!(heard.iter().map(words).collect::<Vec<_>>(), ["twenty", "thirty"]);
    assert!(!heard[1].continues);
}

#[test]
fn our_own_voice_in_between_ends_a_value_for_good() {
    let mut ear = ear(&["twenty", "thirty", "never asked"]);
    let mut heard = Vec::new();
    let mut tell = |event| {
        if let HearEvent::Heard(h) = event {
            heard.push(h.hearing);
        }
    };
    let sound = |ms: usize, level: f32| -> Vec<f32> {
        let amplitude = 10_f32.powf(level / 20.0);
        (0..ms * 16).map(|i| if i % 2 == 0 { amplitude } else { -amplitude }).collect()
    };
    for (ms, level, door) in [
        (1000, -70.0, Door::Open),
        (400, -20.0, Door::Open),
        (720, -70.0, Door::Open),
        (100, -20.0, Door::OwnVoice),
        (250, -70.0, Door::Open),
        (400, -20.0, Door::Open),
        (800, -70.0, Door::Open),
    ] {
        ear.set_door(door, &mut tell);
        ear.hear(&sound(ms, level), &mut tell);
    }
    assert_eq!(heard.iter().map(|h| h.continues).collect::<Vec<_>>(), [false, false]);
}

#[test]
fn a_hole_is_asked_and_time_spent_is_counted() {
    let mut ear = ear(&["next"]);
    let mut outcomes = Vec::new();
    let mut tell = |event| {
        if let HearEvent::Heard(h) = event {
            outcomes.push(h.hearing.outcome);
        }
    };
    ear.hear(&vec![0.001; 16_000], &mut tell);
    ear.hear(&[0.1_f32, -0.1].repeat(3200), &mut tell);
    ear.hole();
    ear.hear(&vec![0.001; 16_000], &mut tell);
    assert_eq!(outcomes, [Outcome::Doubtful(vec![Utterance::Command(Command::Next)])]);
    assert!(ear.spent() > Duration::ZERO);
    assert_eq!(ear.now_ms(), 2400);
}

#[test]
fn sound_that_comes_and_goes_is_not_decoded_over_and_over() {
    // Half a minute of a machine that knocks: 160 ms on, 192 ms off, forty times in each stretch of at most 10 s.
    struct Counts(Arc<std::sync::atomic::AtomicUsize>);
    impl Recogniser for Counts {
        fn name(&self) -> &'static str {
            PHRASES
        }
        fn feed(&mut self, samples: &[i16]) {
            self.0.fetch_add(samples.len(), std::sync::atomic::Ordering::Relaxed);
        }
        fn finish(&mut self) -> Decoded {
            Decoded::default()
        }
        fn reset(&mut self) {}
    }
    let fed = Arc::new(std::sync::atomic::AtomicUsize::new(0));
    let mut ear = ear(&[]);
    ear.set_recognisers(vec![Box::new(Counts(fed.clone()))]);
    let knock: Vec<f32> = (0..22 * FRAME)
        .map(|i| if i < 10 * FRAME { 0.1 } else { 0.0003 } * if i % 2 == 0 { 1.0 } else { -1.0 })
        .collect();
    ear.hear(&[0.0003, -0.0003].repeat(8000), &mut |_| {});
    let mut heard = 0;
    for _ in 0..90 {
        for frame in knock.chunks(FRAME) {
            ear.hear(frame, &mut |_| {});
            heard += frame.len();
        }
    }
    let decoded = fed.load(std::sync::atomic::Ordering::Relaxed);
    assert!(decoded > heard / 2, "it was listened to");
    assert!(decoded < 5 * heard, "{decoded} samples decoded of {heard}");
}
