//! Tests of the loop's own decisions: when the ears are shut, and that nothing waits for a voice that is quiet already.

use super::*;
use crate::{
    grammar::Grammar,
    journal::{FORMAT, Header, JobDetails},
    profile,
    scpi::{Metered, Port},
    screen::Plain,
    speak::Recording,
};
use crossbeam_channel::{Sender, unbounded};
use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
};

/// Ears that note whether they are shut.
struct Noted {
    shut: Arc<AtomicBool>,
    events: Receiver<HearEvent>,
    _send: Sender<HearEvent>,
}

impl Ears for Noted {
    fn listen_for(&mut self, _: &Session, _: &Context) {}

    fn set_door(&mut self, door: Door) {
        self.shut.store(door != Door::Open, Ordering::SeqCst);
    }

    fn events(&self) -> &Receiver<HearEvent> {
        &self.events
    }
}

/// A session with ears, whether they are shut, and the folder of its journal.
fn live(push: bool, headset: bool, ears: bool) -> (Live, impl Fn() -> bool, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let part = profile::find("sweeper-valve-block").unwrap();
    let meter = profile::find_meter("handheld-6000").unwrap();
    let header = Header {
        format: FORMAT,
        program: "test".into(),
        profile: part.value.id.clone(),
        profile_fingerprint: part.value.fingerprint.clone(),
        profile_text: part.text,
        meter: meter.value.id.clone(),
        meter_fingerprint: meter.value.fingerprint.clone(),
        meter_text: meter.text,
        job: None,
        details: JobDetails::default(),
        zone: None,
        ways: "test".into(),
        simulated: true,
    };
    let shut = Arc::new(AtomicBool::new(false));
    let (send, events) = unbounded();
    let noted = Noted { shut: Arc::clone(&shut), events, _send: send };
    let live = Live {
        state: State::new(&part.value),
        session: Session {
            profile: Arc::new(part.value),
            meter: Arc::new(meter.value),
            grammar: Arc::new(Grammar::builtin("en").unwrap()),
            last_time: Arc::default(),
        },
        journal: Journal::create(folder.path(), &header).unwrap(),
        voice: Box::<Recording>::default(),
        screen: Box::new(Plain::new(Vec::new(), Arc::new(Words::english()))),
        words: Arc::new(Words::english()),
        ears: ears.then(|| Box::new(noted) as Box<dyn Ears>),
        headset,
        meter: None,
        saying: Saying::default(),
        talking: Talking::new(push),
        reminder: None,
        clock: Clock::default(),
    };
    (live, move || shut.load(Ordering::SeqCst), folder)
}

/// What a meter sends for a number that stands still.
fn metered(number: &str) -> Result<Metered, MeterTrouble> {
    use crate::grammar::{Form, Spoken, SpokenNumber};
    let number =
        SpokenNumber { number: number.parse().unwrap(), prefix: None, unit: None, form: Form::Pointed };
    Ok(Metered { text: "sent".into(), spoken: Spoken::Number(number) })
}

#[test]
fn what_the_meter_sends_is_taken_only_where_it_was_asked_for() {
    let (mut live, _, _folder) = live(false, false, false);
    let (requests, asked) = unbounded();
    let (_came, comes) = unbounded();
    live.meter = Some(MeterLine::new(Port::between(requests, comes)));
    live.take(&Event::Opened(Rules::NOW)).unwrap();
    for line in ["11", "22", "33", "44", "55", "66", "77", "88", "99", "20", "0.2"] {
        live.typed(line).unwrap();
    }
    let standing = |live: &Live| live.state.standing().map(|one| one.reading.to_string()).collect::<Vec<_>>();
    // Not asked for.
    live.metered((7, metered("5.1"))).unwrap();
    assert_eq!(standing(&live), [""; 0]);
    // Asked twice, it is one request.
    live.typed(".").unwrap();
    live.typed("take it").unwrap();
    assert_eq!(asked.try_iter().collect::<Vec<_>>(), [1]);
    live.metered((1, metered("5.4"))).unwrap();
    assert_eq!(standing(&live), ["5.4 Ω"]);
    live.metered((1, metered("5.4"))).unwrap();
    assert_eq!(standing(&live).len(), 1, "it comes once");
    // Said in the meantime, taken back, paused: it has no place any more.
    for between in ["5.3", "wrong", "p"] {
        live.typed(".").unwrap();
        let number = asked.try_iter().last().unwrap();
        live.typed(between).unwrap();
        let before = standing(&live);
        live.metered((number, metered("5.9"))).unwrap();
        assert_eq!(standing(&live), before, "{between}");
    }
    live.typed("g").unwrap();
    // What is the matter is told, and the reading is typed.
    live.typed(".").unwrap();
    let number = asked.try_iter().last().unwrap();
    live.metered((number, Err(MeterTrouble::Silent))).unwrap();
    live.typed("5.2").unwrap();
    assert_eq!(standing(&live).last().unwrap(), "5.2 Ω");
}

/// Lets the voice fall silent.
fn quiet(live: &mut Live) {
    while let Ok(event) = live.voice.events().try_recv() {
        live.spoke(event);
    }
}

#[test]
fn open_ears_are_shut_only_while_the_voice_could_be_heard() {
    let (mut live, shut, _folder) = live(false, false, true);
    live.set_ears();
    assert!(!shut());
    live.speak("Pin 4.");
    assert!(shut());
    quiet(&mut live);
    assert!(!shut());
    live.headset = true;
    live.speak("Pin 4.");
    assert!(!shut());
}

#[test]
fn ears_on_being_pressed_open_for_the_pedal_and_the_key() {
    let (mut live, shut, _folder) = live(true, true, true);
    live.set_ears();
    assert!(shut());
    live.talk(|talking| talking.pedal(true, Instant::now()));
    assert!(!shut());
    live.talk(|talking| talking.pedal(false, Instant::now()));
    assert!(!shut(), "the last sound is still heard");
    live.talk(|talking| talking.tick(Instant::now() + Duration::from_secs(1)));
    assert!(shut());
    assert_eq!(live.typed("t").unwrap(), None);
    assert!(!shut());
    live.typed("t").unwrap();
    assert!(shut());
    live.typed("m").unwrap();
    quiet(&mut live);
    assert!(!shut());
    live.typed("m").unwrap();
    quiet(&mut live);
    assert!(shut());
}

#[test]
fn without_a_headset_pressing_to_talk_stops_the_voice_first() {
    let (mut live, shut, _folder) = live(true, false, true);
    live.speak("Pin 4 to pin 16, coil D.");
    live.talk(|talking| talking.pedal(true, Instant::now()));
    assert!(shut(), "it may still sound");
    quiet(&mut live);
    assert!(shut(), "what it said last may still be on its way");
    live.saying.echo_until = Some(Instant::now());
    live.set_ears();
    assert!(!shut());
    assert!(live.saying.lines.is_empty());
}

#[test]
fn input_that_ends_ends_the_session_at_once() {
    let (mut live, _, folder) = live(false, false, false);
    let (send, keys) = unbounded();
    send.send(Input::Line("11".into())).unwrap();
    drop(send);
    let begun = Instant::now();
    assert!(matches!(live.run(&keys), Err(LiveError::InputEnded)));
    assert!(begun.elapsed() < LAST_WORDS / 2, "it waited for a voice that was quiet");
    let journal = crate::journal::latest(folder.path()).unwrap().open.unwrap();
    assert!(journal.lines.len() > 4);
}
