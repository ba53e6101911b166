//! Tests of the session as dialogues: typed or heard lines in, spoken lines out.

mod clock;
mod gates;
mod hearing;
mod keys_alone;
mod last_time;
mod leads;
mod old;
mod stations;
mod values;

use super::*;
use crate::{
    grammar::{Grammar, Utterance},
    keys, profile,
    words::Words,
};
use jiff::{SignedDuration, Timestamp};
use std::sync::Arc;

/// Opened by this program.
const OPENED: Event = Event::Opened(Rules::NOW);

/// A session at the reference profile, driven line by line.
struct Dialogue {
    words: Words,
    said: Vec<Message>,
    session: Session,
    state: State,
    now: Timestamp,
    end: Option<End>,
    log: Vec<(Timestamp, Event)>,
}

impl Dialogue {
    fn new() -> Self {
        // Its display can tell the window's limits apart; the common one cannot.
        Self::with_meter("handheld-60000")
    }

    fn with_meter(meter: &str) -> Self {
        let profile = profile::find("sweeper-valve-block").unwrap().value;
        let meter = profile::find_meter(meter).unwrap().value;
        let state = State::new(&profile);
        let session = Session {
            profile: Arc::new(profile),
            meter: Arc::new(meter),
            grammar: Arc::new(Grammar::builtin("en").unwrap()),
            last_time: Arc::default(),
        };
        Self {
            words: Words::english(),
            said: Vec::new(),
            session,
            state,
            now: Timestamp::UNIX_EPOCH,
            end: None,
            log: Vec::new(),
        }
    }

    fn event(&mut self, event: &Event) -> String {
        self.now = self.now.checked_add(SignedDuration::from_secs(3)).unwrap();
        self.log.push((self.now, event.clone()));
        let mut lines = Vec::new();
        for action in self.session.step(&mut self.state, self.now, event) {
            match action {
                Action::Say { message, .. } => {
                    lines.push(self.words.text(&message));
                    self.said.push(message);
                }
                Action::Voice(change) => lines.push(format!("{change:?}")),
                Action::Microphone { push } => lines.push(format!("push to talk {push}")),
                Action::AskMeter => lines.push("asks the meter".into()),
                Action::End(end) => self.end = Some(end),
            }
        }
        lines.join(" | ")
    }

    fn typed(&mut self, line: &str) -> String {
        let utterance = keys::parse(line, &self.session.grammar, &self.session.context(&self.state));
        self.event(&Event::Keyed { text: line.into(), utterance })
    }

    fn hear(&mut self, outcome: Outcome) -> String {
        let hearing = self.hearing(outcome);
        self.event(&Event::Heard(hearing))
    }

    fn hearing(&self, outcome: Outcome) -> Hearing {
        Hearing {
            clip: None,
            opinions: Vec::new(),
            outcome,
            words: None,
            doubt: None,
            continues: false,
            marked: false,
            length_ms: 900,
            level_dbfs: -20.0,
            room_dbfs: -60.0,
            latency_ms: 300,
        }
    }

    fn meaning(&self, words: &str) -> Utterance {
        let context = self.session.context(&self.state);
        self.session
            .grammar
            .parse(words, &context)
            .unwrap_or_else(|| panic!("\"{words}\" may not be said here"))
    }

    fn said(&mut self, words: &str) -> String {
        let utterance = self.meaning(words);
        self.hear(Outcome::Understood(utterance))
    }

    fn doubtful(&mut self, words: &[&str]) -> String {
        let candidates = words.iter().map(|words| self.meaning(words)).collect();
        self.hear(Outcome::Doubtful(candidates))
    }

    /// Through all gates, temperature and leads, by voice.
    fn prepared() -> Self {
        let mut dialogue = Self::new();
        dialogue.event(&OPENED);
        dialogue.prepare();
        dialogue
    }

    fn prepare(&mut self) {
        self.prepare_with("zero point two zero zero");
    }

    fn prepare_with(&mut self, leads: &str) {
        for gate in self.session.profile.gates.clone() {
            self.said(&gate.confirm);
        }
        self.said("twenty degrees");
        self.said(leads);
    }

    fn standing(&self) -> Vec<String> {
        self.state
            .standing()
            .map(|taken| {
                let circuit = &self.session.profile.circuits[self.state.plan[taken.task].circuit];
                format!("{} {}", circuit.pin, taken.reading)
            })
            .collect()
    }
}

/// What a sound part reads at the meter of these tests, with leads of 0.2 Ω.
const SOUND: [&str; 11] = [
    "five point four zero one",
    "five point three nine eight",
    "five point four two zero",
    "five point three eight five",
    "five point four one one",
    "five point three nine zero",
    "five point four zero five",
    "five point four one four",
    "twenty four point three zero one",
    "three hundred and thirty one point two zero",
    "five hundred and ninety nine point five seven",
];

#[test]
fn a_gate_wants_its_own_phrase_not_yes() {
    let mut dialogue = Dialogue::new();
    let opening = dialogue.event(&OPENED);
    assert!(opening.contains("Stop rather than guess."), "{opening}");
    assert!(opening.ends_with("Then say: brake set."), "{opening}");
    assert_eq!(dialogue.said("yes"), "Say what was done: brake set.");
    assert!(dialogue.said("supply off").starts_with("Not that one."));
    assert!(dialogue.said("skip").starts_with("This is never left out."));
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    assert!(dialogue.said("brake set").starts_with("Brake set. "));
    assert_eq!(dialogue.state.phase, Phase::Gate(1));
    // A reading is no confirmation; the code on the screen is one, for a keypad without letters.
    dialogue.said("five point three eight five");
    dialogue.typed("11");
    assert_eq!(dialogue.state.phase, Phase::Gate(1));
    dialogue.typed("22");
    assert_eq!(dialogue.state.phase, Phase::Gate(2));
}

#[test]
fn a_sound_part_is_read_once_and_the_first_circuit_again() {
    let mut dialogue = Dialogue::prepared();
    let answers: Vec<String> = SOUND.iter().map(|words| dialogue.said(words)).collect();
    assert_eq!(answers[0], "5.401. In. Pin 2, coil B.");
    assert_eq!(answers[7], "5.414. In. Pin 9 to pin 10, pressure coil.");
    assert!(answers[10].ends_with("Pin 1 to pin 16 once more, coil A."), "{}", answers[10]);
    assert!(dialogue.said(SOUND[0]).ends_with("All read. Say finish for the conclusion."));
    let conclusion = dialogue.said("finish");
    assert_eq!(dialogue.end, Some(End::Concluded));
    assert!(conclusion.to_lowercase().contains("nothing"), "{conclusion}");
    assert!(conclusion.contains("not prove"), "sound ohms do not prove function: {conclusion}");
}

#[test]
fn a_suspect_coil_is_cleaned_and_read_again_before_it_is_named() {
    let mut dialogue = Dialogue::prepared();
    for (place, words) in SOUND.iter().enumerate() {
        let answer = dialogue.said(if place == 5 { "two point nine one six" } else { words });
        if place == 5 {
            assert!(answer.starts_with("2.916. Out."), "{answer}");
            assert!(answer.ends_with("Pin 7, coil G."), "a true fault does not nag: {answer}");
        }
    }
    let recheck = dialogue.said(SOUND[0]);
    assert!(recheck.contains("coil F. Clean the terminal, probe again."), "{recheck}");
    dialogue.said("two point nine one six");
    while matches!(dialogue.state.phase, Phase::Reading(_)) {
        dialogue.said("two point nine one six");
    }
    let conclusion = dialogue.said("finish");
    assert!(conclusion.starts_with("Coil F failed"), "{conclusion}");
}

#[test]
fn an_open_circuit_needs_a_known_good_one_and_a_clean_terminal() {
    let mut dialogue = Dialogue::prepared();
    for (place, words) in SOUND.iter().enumerate() {
        let answer = dialogue.said(if place == 2 { "over range" } else { words });
        if place == 2 {
            assert!(answer.starts_with("Over range. Pin 4"), "{answer}");
        }
    }
    let mut asked = dialogue.said(SOUND[0]);
    let mut seen = Vec::new();
    while matches!(dialogue.state.phase, Phase::Reading(_)) && seen.len() < 9 {
        let good = asked.contains("Same leads on pin");
        seen.push(asked.clone());
        asked = dialogue.said(if good { SOUND[0] } else { "over range" });
    }
    assert!(seen.iter().filter(|line| line.contains("Pin 3 once more, coil C.")).count() >= 2, "{seen:#?}");
    let conclusion = dialogue.said("finish");
    assert!(conclusion.contains("open at") && conclusion.to_lowercase().contains("coil c"), "{conclusion}");
}

#[test]
fn wrong_takes_back_and_may_replace_at_once() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point nine");
    assert!(dialogue.said("wrong").ends_with("Pin 1 to pin 16, coil A."));
    assert_eq!(dialogue.standing(), Vec::<String>::new());
    dialogue.said("five point nine");
    assert_eq!(dialogue.said("wrong five point three eight five"), "5.385. In. Pin 2, coil B.");
    assert_eq!(dialogue.standing(), ["1 5.385 Ω"]);
    // Nothing that was ever taken is lost.
    assert_eq!(dialogue.state.taken.len(), 3);
    // "Correct" means yes: it never reopens a value.
    assert_eq!(dialogue.said("correct"), "Pin 2, coil B.");
    assert_eq!(dialogue.standing(), ["1 5.385 Ω"]);
}

#[test]
fn change_back_and_skip_come_back_to_where_they_left() {
    let mut dialogue = Dialogue::prepared();
    for _ in 0..4 {
        dialogue.said("five point three eight five");
    }
    assert_eq!(dialogue.said("change pin two to five point three six five"), "5.365. In. Pin 5, coil E.");
    assert_eq!(dialogue.said("change pin three"), "Pin 3, coil C.");
    assert_eq!(dialogue.said("five point three one five"), "5.315. In. Pin 5, coil E.");
    assert!(dialogue.said("change pin sixteen").starts_with("No circuit is measured at pin 16."));
    assert_eq!(dialogue.said("back two"), "Back. Pin 3, coil C.");
    assert_eq!(dialogue.said("five point four one five"), "5.415. In. Pin 5, coil E.");
    assert_eq!(dialogue.said("skip"), "Left out. Pin 6, coil F.");
    assert_eq!(dialogue.standing(), ["1 5.385 Ω", "4 5.385 Ω", "2 5.365 Ω", "3 5.415 Ω", "5 not taken"]);
    assert_eq!(dialogue.said("what was pin two"), "Pin 2, coil B: 5.365. In.");
}

#[test]
fn doubt_asks_one_short_question() {
    let mut dialogue = Dialogue::prepared();
    assert_eq!(
        dialogue.doubtful(&["five point three eight five", "nine point two"]),
        "Five point three eight five, or nine point two?"
    );
    assert_eq!(dialogue.said("yes"), "Say which. Five point three eight five, or nine point two?");
    assert_eq!(dialogue.said("nine point two"), "9.2. Out. Pin 2, coil B.");
    assert_eq!(dialogue.doubtful(&["five point three eight five"]), "Five point three eight five?");
    assert_eq!(dialogue.said("yes"), "5.385. In. Pin 3, coil C.");
    assert_eq!(dialogue.doubtful(&["five point three eight five"]), "Five point three eight five?");
    assert_eq!(dialogue.said("no"), "Say it again. Pin 3, coil C.");
    assert_eq!(dialogue.standing().len(), 2);
}

#[test]
fn an_answer_that_is_not_sure_leaves_its_question_open() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point three eight five");
    dialogue.said("stop");
    assert_eq!(dialogue.doubtful(&["no"]), "Stop now, to go on another time? Yes or no?");
    assert_eq!(dialogue.doubtful(&["no", "zero"]), "Pin 2, coil B.");
    dialogue.said("pause");
    dialogue.said("stop");
    dialogue.doubtful(&["yes"]);
    assert!(dialogue.doubtful(&["yes"]).contains("Enter is yes"));
    assert_eq!(dialogue.said("yes"), "Stopped. It can be resumed.");
}

#[test]
fn a_question_that_was_answered_by_saying_it_again_is_closed() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point three eight five");
    dialogue.said("five point four one five");
    assert_eq!(dialogue.doubtful(&["what was pin one"]), "What was pin one?");
    assert_eq!(dialogue.said("what was pin one"), "Pin 1, coil A: 5.385. In.");
    // "Wrong" is meant for the reading, not for that question.
    assert_eq!(dialogue.said("wrong five point three nine zero"), "5.390. In. Pin 3, coil C.");
    assert_eq!(dialogue.standing(), ["1 5.385 Ω", "2 5.390 Ω"]);
}

#[test]
fn a_temperature_that_was_confirmed_is_not_asked_as_a_reading() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    for gate in dialogue.session.profile.gates.clone() {
        dialogue.said(&gate.confirm);
    }
    assert_eq!(dialogue.doubtful(&["eighteen"]), "Eighteen?");
    assert!(dialogue.said("yes").starts_with("18 °C. Hold the probes together."));
}

#[test]
fn what_the_display_cannot_show_is_asked() {
    let mut dialogue = Dialogue::with_meter("handheld-6000");
    dialogue.event(&OPENED);
    dialogue.prepare_with("zero point two");
    // The display of this meter has a point in every range: digits without one are doubtful, whatever they mean.
    assert_eq!(dialogue.said("five two"), "Five point two, or fifty two point zero?");
    let answer = dialogue.said("five point two");
    assert!(answer.starts_with("5.2. "), "{answer}");
    assert_eq!(dialogue.said("fifteen"), "Fifteen point zero?");
    assert_eq!(dialogue.said("yes"), "15.0. Out. Pin 3, coil C.");
    assert_eq!(dialogue.said("zero"), "Zero point zero, or over range?");
    assert_eq!(dialogue.said("over range"), "Over range. Pin 4, coil D.");
    // Two places are shown in kilohms only.
    assert_eq!(dialogue.said("four point seven two"), "Four point seven two k, or four point seven two meg?");
    assert!(dialogue.said("minus zero point five").contains("voltage"));
    assert!(dialogue.said("five point two volts").contains("not in ohms"));
    assert!(dialogue.said("ninety megohms").contains("more than this meter shows"));
    assert_eq!(dialogue.standing().len(), 3);
}

#[test]
fn leads_that_read_high_are_sent_back_once() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    for gate in dialogue.session.profile.gates.clone() {
        dialogue.said(&gate.confirm);
    }
    assert!(dialogue.said("two hundred degrees").contains("not believed"));
    assert!(dialogue.said("warm").starts_with("Warm. Hold the probes together."));
    assert!(dialogue.said("over range").starts_with("The leads are open"));
    assert!(dialogue.said("two point one").contains("not what sound leads read"));
    assert!(dialogue.said("two point one").starts_with("Leads 2.1. That is high"));
    assert_eq!(dialogue.state.phase, Phase::Reading(0));
    assert!(dialogue.said("wrong").ends_with("What does the meter show?"));
    assert!(dialogue.said("zero point two zero zero").starts_with("Leads 0.200. Pin 1 to pin 16"));
}

#[test]
fn after_thirty_minutes_everything_that_ages_is_taken_anew() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point three eight five");
    dialogue.now = dialogue.now.checked_add(SignedDuration::from_mins(31)).unwrap();
    let answer = dialogue.said("five point three eight five");
    assert!(answer.starts_with("More than 30 minutes have passed."), "{answer}");
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    dialogue.prepare();
    assert_eq!(dialogue.state.phase, Phase::Reading(1));
    assert_eq!(dialogue.standing(), ["1 5.385 Ω"]);
}

#[test]
fn resuming_takes_safety_leads_and_temperature_anew() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point three eight five");
    let answer = dialogue.event(&OPENED);
    assert!(answer.contains("Going on."), "{answer}");
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    dialogue.prepare_with("zero point two one zero");
    assert_eq!(dialogue.said("five point three one five"), "5.315. In. Pin 3, coil C.");
    // Both readings of the leads count.
    let evidence = dialogue.state.evidence(&dialogue.session.profile);
    assert_eq!(evidence.leads.shown().unwrap().to_string(), "0.210 Ω");
    assert_eq!(evidence.further.lead_repeats.len(), 1);
}

#[test]
fn a_pause_hears_nothing_but_resume() {
    let mut dialogue = Dialogue::prepared();
    assert_eq!(dialogue.said("pause"), "Paused. Say back to work to go on.");
    assert_eq!(dialogue.said("five point three eight five"), "");
    assert_eq!(dialogue.doubtful(&["five point three eight five"]), "");
    assert_eq!(dialogue.said("resume"), "Going on. Pin 1 to pin 16, coil A.");
    assert!(dialogue.standing().is_empty());
    // Stopping is followed too, with the answer to its question.
    dialogue.said("pause");
    assert_eq!(dialogue.said("yes"), "");
    assert_eq!(dialogue.said("stop"), "Stop now, to go on another time?");
    assert_eq!(dialogue.said("no"), "Paused. Say back to work to go on.");
    assert_eq!(dialogue.said("where is pin four"), "");
    assert_eq!(dialogue.said("back to work"), "Going on. Pin 1 to pin 16, coil A.");
    // Once in doubt it is talk in the room, twice it is meant.
    dialogue.said("pause");
    assert_eq!(dialogue.doubtful(&["resume", "five point six"]), "");
    assert_eq!(dialogue.doubtful(&["five point six", "resume"]), "");
    assert_eq!(dialogue.doubtful(&["back to work"]), "Going on. Pin 1 to pin 16, coil A.");
    dialogue.said("pause");
    assert_eq!(dialogue.doubtful(&["resume"]), "");
    dialogue.said("stop");
    assert_eq!(dialogue.said("yes"), "Stopped. It can be resumed.");
    assert_eq!(dialogue.end, Some(End::Left));
}

#[test]
fn places_and_the_length_of_lines() {
    let mut dialogue = Dialogue::prepared();
    assert_eq!(dialogue.said("where is pin four"), "Pin 4: top row, fourth from the left.");
    assert_eq!(dialogue.said("where is this pin"), "Pin 1: top row, at the left end.");
    let full = dialogue.said("talk more");
    let place = "Top row, at the left end. What does the meter show?";
    assert_eq!(full, format!("Full lines. Pin 1 to pin 16, coil A. {place}"));
    let full = dialogue.said("five point three eight five");
    assert!(full.starts_with("5.385. In. That is well inside its window. Pin 2, coil B. Top row,"), "{full}");
    assert_eq!(dialogue.said("talk less"), "Short lines. Pin 2, coil B.");
    assert_eq!(dialogue.said("five point four one five"), "5.415. In. Pin 3, coil C.");
}

#[test]
fn one_reminder_and_then_it_waits() {
    let mut dialogue = Dialogue::prepared();
    let after = SignedDuration::from_secs(60);
    let later = dialogue.now.checked_add(SignedDuration::from_secs(61)).unwrap();
    assert!(!dialogue.session.is_reminder_due(&dialogue.state, dialogue.now, after));
    assert!(dialogue.session.is_reminder_due(&dialogue.state, later, after));
    assert_eq!(dialogue.event(&Event::Tick), "Still here. Pin 1 to pin 16, coil A.");
    assert!(!dialogue.session.is_reminder_due(&dialogue.state, later, after));
    assert_eq!(dialogue.event(&Event::Tick), "");
    dialogue.said("pause");
    assert_eq!(dialogue.event(&Event::Tick), "");
}

#[test]
fn ending_early_is_asked_first() {
    let mut dialogue = Dialogue::prepared();
    assert!(dialogue.said("finish").starts_with("Nothing was read yet."));
    dialogue.said("five point three eight five");
    assert_eq!(dialogue.said("stop"), "Stop now, to go on another time?");
    assert_eq!(dialogue.end, None);
    dialogue.said("no");
    assert!(dialogue.said("finish").ends_with("Finish now?"));
    dialogue.said("yes");
    assert_eq!(dialogue.end, Some(End::Concluded));
}

#[test]
fn the_state_is_a_fold_over_its_journalled_events() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said("five point three eight five");
    dialogue.said("wrong five point three one five");
    dialogue.doubtful(&["five point three eight five", "nine point two"]);
    dialogue.typed("*");
    dialogue.event(&Event::Tick);
    let journal: Vec<String> = dialogue.log.iter().map(|line| serde_json::to_string(line).unwrap()).collect();
    let mut state = State::new(&dialogue.session.profile);
    for line in journal {
        let (at, event): (Timestamp, Event) = serde_json::from_str(&line).unwrap();
        dialogue.session.step(&mut state, at, &event);
    }
    assert_eq!(state, dialogue.state);
    assert_eq!(state.standing().count(), 2);
}
