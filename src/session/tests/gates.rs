//! Each gate × each way of not confirming it; waiting times; and where the program's own cautions are said.

use super::*;

/// A way of answering a gate that is no confirmation.
type Way = (&'static str, fn(&mut Dialogue) -> String);

/// The phrase of the gate where it stands.
fn confirm(dialogue: &Dialogue) -> String {
    dialogue.session.confirm_here(&dialogue.state).expect("it stands at a gate")
}

/// Another gate's phrase that is listened for here.
fn another(dialogue: &Dialogue) -> String {
    let here = confirm(dialogue);
    let phrases = dialogue.session.context(&dialogue.state).phrases;
    phrases.into_iter().find(|phrase| *phrase != here).unwrap_or_else(|| "stop".to_owned())
}

fn doubted_then(dialogue: &mut Dialogue, answer: fn(&mut Dialogue) -> String) -> String {
    let phrase = confirm(dialogue);
    dialogue.doubtful(&[phrase.as_str()]);
    answer(dialogue)
}

fn marked(dialogue: &mut Dialogue) {
    let utterance = dialogue.meaning(&confirm(dialogue));
    let hearing = dialogue.hearing(Outcome::Understood(utterance));
    dialogue.event(&Event::Heard(Hearing { marked: true, ..hearing }));
}

const WAYS: [Way; 32] = [
    ("yes, said", |d| d.said("yes")),
    ("Enter", |d| d.typed("")),
    ("Enter three times", |d| {
        d.typed("");
        d.typed("");
        d.typed("")
    }),
    ("y", |d| d.typed("y")),
    ("+", |d| d.typed("+")),
    ("next, said", |d| d.said("next")),
    ("skip, said", |d| d.said("skip")),
    ("++", |d| d.typed("++")),
    ("finish, said", |d| d.said("finish")),
    ("finish, then yes", |d| {
        d.said("finish");
        d.said("yes")
    }),
    ("ready again", |d| d.said("ready again")),
    ("back", |d| d.said("back")),
    ("take it", |d| d.said("take it")),
    ("its code, sent by the meter", |d| {
        let code = d.session.code_here(&d.state).unwrap();
        let utterance = keys::parse(&code, &d.session.grammar, &d.session.context(&d.state)).unwrap();
        d.event(&Event::Metered { text: code, utterance })
    }),
    ("repeat", |d| d.said("repeat")),
    ("help", |d| d.said("help")),
    ("status", |d| d.said("status")),
    ("what it was last time", |d| d.said("what was it last time")),
    ("another gate's phrase", |d| d.said(&another(d))),
    ("a reading", |d| d.said("five point three eight five")),
    ("a reading in doubt, then yes", |d| {
        d.doubtful(&["five point three eight five"]);
        d.said("yes")
    }),
    ("its code, said instead of typed", |d| d.said("eleven")),
    ("another code", |d| d.typed("98")),
    ("its code with a point", |d| {
        let code = d.session.code_here(&d.state).unwrap();
        d.typed(&format!("{code}.0"))
    }),
    ("nonsense", |d| d.typed("qwertz")),
    ("over range", |d| d.typed("*")),
    ("its phrase in doubt", |d| doubted_then(d, |_| String::new())),
    ("its phrase in doubt, then yes", |d| doubted_then(d, |d| d.said("yes"))),
    ("its phrase in doubt, then Enter", |d| doubted_then(d, |d| d.typed(""))),
    ("its phrase in doubt four times", |d| {
        for _ in 0..3 {
            doubted_then(d, |_| String::new());
        }
        doubted_then(d, |d| d.said("yes"))
    }),
    ("its phrase nearly clear, then yes", |d| {
        marked(d);
        d.said("yes")
    }),
    ("silence, noise and time", |d| {
        d.hear(Outcome::NoSpeech);
        d.hear(Outcome::NotInGrammar);
        d.now = d.now.checked_add(SignedDuration::from_mins(10)).unwrap();
        d.event(&Event::Tick);
        d.event(&Event::Tick)
    }),
];

/// Tries every way at the gate where it stands; each leaves it where it was.
fn nothing_confirms(dialogue: &Dialogue) {
    let phase = dialogue.state.phase;
    let given = |state: &State| {
        state.preparations.iter().map(|one| one.gates.len()).sum::<usize>() + state.station_gates.len()
    };
    for (way, answer) in WAYS {
        let mut tried = Dialogue {
            words: Words::english(),
            said: Vec::new(),
            session: dialogue.session.clone(),
            state: dialogue.state.clone(),
            now: dialogue.now,
            end: None,
            log: Vec::new(),
        };
        let said = answer(&mut tried);
        assert_eq!(tried.state.phase, phase, "{way} at {phase:?}: {said}");
        assert_eq!(given(&tried.state), given(&dialogue.state), "{way} at {phase:?}: {said}");
        assert_eq!(tried.end, None, "{way} at {phase:?}: {said}");
    }
}

#[test]
fn no_gate_before_measuring_is_confirmed_by_anything_but_its_phrase() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    let mut gates = 0;
    while let Phase::Gate(place) = dialogue.state.phase {
        nothing_confirms(&dialogue);
        gates += 1;
        // One by its phrase, the next by its code: both go on by one.
        let answer = if place % 2 == 0 {
            dialogue.said(&confirm(&dialogue))
        } else {
            let code = dialogue.session.code_here(&dialogue.state).unwrap();
            dialogue.typed(&code)
        };
        assert_ne!(dialogue.state.phase, Phase::Gate(place), "{answer}");
    }
    assert_eq!(gates, dialogue.session.profile.gates.len());
}

#[test]
fn no_gate_of_a_station_is_confirmed_by_anything_but_its_phrase() {
    for station in [crate::verdict::Station::Harness, crate::verdict::Station::Case] {
        let mut dialogue = Dialogue::prepared();
        // As if it had been offered and accepted.
        let task = dialogue.state.plan.len();
        let first = dialogue.state.plan[0];
        dialogue.state.plan.push(Task { station, ..first });
        dialogue.state.phase = Phase::StationGate { task, gate: 0 };
        let all = dialogue.session.station_gates(station, dialogue.state.rules).len();
        for gate in 0..all {
            assert_eq!(dialogue.state.phase, Phase::StationGate { task, gate });
            nothing_confirms(&dialogue);
            dialogue.said(&confirm(&dialogue));
        }
        assert_eq!(dialogue.state.phase, Phase::Reading(task));
    }
}

/// Wherever "no voltage" is stated, the meter is proven before it and after it.
#[test]
fn no_voltage_at_the_plug_stands_between_two_proofs() {
    let dialogue = Dialogue::new();
    let ids = |rules| {
        let gates = dialogue.session.station_gates(crate::verdict::Station::Harness, rules);
        gates.into_iter().map(|gate| gate.id).collect::<Vec<_>>()
    };
    assert_eq!(
        ids(Rules::NOW)[2..],
        ["plug-meter-proven", "plug-dead", "plug-meter-proven-again", "plug-meter-on-ohms"]
    );
    // Journals of before keep the gates of their time.
    assert_eq!(ids(Rules::Second), ["part-connected", "control-unit-unplugged", "plug-dead"]);
}

/// At the gate where five minutes are waited.
fn waiting() -> Dialogue {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    dialogue.said("brake set");
    let prompt = dialogue.said("key off");
    assert!(prompt.contains("I keep the time: 5 minutes."), "{prompt}");
    dialogue
}

#[test]
fn a_waiting_time_is_told_minute_by_minute() {
    let mut dialogue = waiting();
    let since = dialogue.state.waiting.unwrap().since;
    let at = |seconds| since.checked_add(SignedDuration::from_secs(seconds)).unwrap();
    assert!(!dialogue.session.is_minute_due(&dialogue.state, at(59)));
    // Nobody is reminded while the time is kept.
    assert!(!dialogue.session.is_reminder_due(&dialogue.state, at(200), SignedDuration::from_secs(60)));
    let mut told = Vec::new();
    for minute in 1..=5 {
        assert!(dialogue.session.is_minute_due(&dialogue.state, at(minute * 60)));
        dialogue.now = at(minute * 60 - 3);
        told.push(dialogue.event(&Event::Tick));
        assert!(!dialogue.session.is_minute_due(&dialogue.state, at(minute * 60 + 1)));
    }
    let over = "5 minutes are over. Say: five minutes passed.";
    assert_eq!(told, ["4 minutes left.", "3 minutes left.", "2 minutes left.", "1 minute left.", over]);
    assert_eq!(dialogue.state.phase, Phase::Gate(2), "time alone confirms nothing");
    assert!(dialogue.said("five minutes passed").starts_with("Five minutes passed. "));
    assert_eq!(dialogue.state.waiting, None);
}

#[test]
fn a_waiting_time_cut_short_is_by_the_persons_word_and_says_so() {
    let mut dialogue = waiting();
    let cut = dialogue.said("five minutes passed");
    assert!(cut.starts_with("Five minutes passed: by your word, 0 of 5 minutes timed here."), "{cut}");
    // Taken back, it is timed anew.
    dialogue.said("wrong");
    assert_eq!(dialogue.state.waiting.map(|waiting| waiting.told), Some(0));
}

/// How often each of the program's own cautions was said.
fn cautions(dialogue: &Dialogue) -> Vec<(OwnCaution, usize)> {
    use OwnCaution::*;
    [FirstOfAll, NeverOhmmeter, AroundYou, BatteryOff, StoredCharge, Static, MeterAndLeads]
        .map(|one| {
            let is = |line: &Message| *line == Message::OwnCaution(one);
            (one, dialogue.said.iter().filter(|said| said.any(&is)).count())
        })
        .into()
}

#[test]
fn each_caution_is_said_once_where_it_belongs() {
    let mut dialogue = Dialogue::new();
    let opening = dialogue.event(&OPENED);
    assert!(opening.contains("No ohmmeter on airbag"), "{opening}");
    assert!(!opening.contains("Taking a battery off"), "{opening}");
    dialogue.said("brake set");
    dialogue.said("key off");
    let supply = dialogue.said("five minutes passed");
    assert!(supply.contains("timed here. Taking a battery off"), "{supply}");
    dialogue.said("wrong");
    let again = dialogue.said("five minutes passed");
    assert!(!again.contains("Taking a battery off"), "said once: {again}");
    for phrase in ["supply off", "connector unplugged", "meter good", "circuit dead"] {
        dialogue.said(phrase);
    }
    assert!(cautions(&dialogue).iter().all(|(_, count)| *count == 1), "{:?}", cautions(&dialogue));
}

/// A profile whose gates have other names hears all of it at the start, and what it says itself besides.
#[test]
fn without_gates_of_those_names_all_is_said_at_the_start() {
    let text = profile::find("sweeper-valve-block").unwrap().text;
    let text = ["supply-off", "connector-apart", "meter-proven\""]
        .iter()
        .fold(text, |text, id| text.replace(&format!("id = \"{id}"), &format!("id = \"my-{id}")));
    let mut dialogue = Dialogue::new();
    dialogue.session.profile = Arc::new(profile::parse("other names", &text).unwrap());
    let opening = dialogue.event(&OPENED);
    assert!(opening.contains("Taking a battery off"), "{opening}");
    dialogue.prepare();
    assert!(cautions(&dialogue).iter().all(|(_, count)| *count == 1), "{:?}", cautions(&dialogue));
}
