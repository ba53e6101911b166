//! Dialogues about stored codes and other stations than the part.

use super::*;
use crate::verdict::{Cause, Class, Station};

/// Added to the reference profile: two codes, and where one coil ends in the control unit's plug.
const CODES: &str = "
[[code]]
number = 9906
circuit = \"coil-f\"

[[code]]
number = 3101
circuit = \"pump-speed-sensor\"
";

impl Dialogue {
    fn with_codes(more: &str) -> Self {
        let plain = profile::find("sweeper-valve-block").unwrap().text;
        let text = plain
            .replace("id = \"coil-f\"", "id = \"coil-f\"\ncontrol_pin = 22\ncontrol_against = 23")
            + CODES
            + more;
        let mut dialogue = Self::new();
        let profile = profile::parse("with codes", &text).unwrap();
        dialogue.state = State::new(&profile);
        dialogue.session.profile = Arc::new(profile);
        dialogue
    }

    /// Code 9906 named, prepared, and the whole part read as sound.
    fn all_sound() -> (Self, String) {
        let mut dialogue = Self::with_codes("");
        dialogue.event(&OPENED);
        dialogue.typed("9906");
        dialogue.said("no");
        dialogue.prepare();
        for words in SOUND {
            dialogue.said(words);
        }
        let last = dialogue.said(SOUND[0]);
        (dialogue, last)
    }

    /// Through the gates of the station that was offered.
    fn go_there(&mut self) -> String {
        let mut answer = self.said("yes");
        while let Phase::StationGate { task, gate } = self.state.phase {
            let gates = self.session.station_gates(self.state.plan[task].station, self.state.rules);
            answer = self.said(&gates[gate].confirm);
        }
        answer
    }

    fn judged(&self) -> crate::verdict::Judgement {
        self.session.judge(&self.state).unwrap()
    }
}

#[test]
fn a_stored_code_is_asked_for_once_and_may_be_corrected() {
    let mut dialogue = Dialogue::with_codes("");
    let opening = dialogue.event(&OPENED);
    assert!(opening.ends_with("Did the scan tool show a stored code? Yes or no."), "{opening}");
    assert_eq!(dialogue.said("yes"), "Which number? Or say no.");
    assert!(dialogue.said("four point seven").starts_with("That is not a valid code."));
    assert_eq!(dialogue.typed("3101"), "3101, pump speed sensor. Another one? Its number, or no.");
    assert_eq!(dialogue.said("wrong"), "Taken back. Which number? Or say no.");
    assert_eq!(dialogue.said("nine nine zero six"), "9906, coil F. Another one? Its number, or no.");
    // The same again is not another one; one that the profile does not know is kept, and names nothing.
    dialogue.said("nine nine zero six");
    assert!(dialogue.typed("77").starts_with("77, names no circuit here."));
    assert!(dialogue.said("no").ends_with("Then say: brake set."));
    let codes = dialogue.state.evidence(&dialogue.session.profile).codes;
    assert_eq!(codes.iter().map(|code| code.text.as_str()).collect::<Vec<_>>(), ["9906", "77"]);
    assert_eq!(codes[0].circuit, Some("coil-f".into()));
    assert_eq!(codes[1].circuit, None);
    // Opened again, it is known.
    let again = dialogue.event(&OPENED);
    assert!(again.ends_with("Then say: brake set."), "{again}");
}

/// Once its number is asked for, a code is digits and no amount: in pairs, with repeats, with noughts in front.
#[test]
fn a_code_may_be_said_as_people_say_numbers_of_things() {
    for (words, taken) in [
        ("ninety nine oh six", "9906, coil F"),
        ("oh nine nine zero six", "09906, coil F"),
        ("thirty one oh one", "3101, pump speed sensor"),
        ("double seven", "77, names no circuit here"),
        ("three thousand", "3000, names no circuit here"),
    ] {
        let mut dialogue = Dialogue::with_codes("");
        dialogue.event(&OPENED);
        dialogue.said("yes");
        assert_eq!(dialogue.said(words), format!("{taken}. Another one? Its number, or no."), "{words}");
    }
    let mut dialogue = Dialogue::with_codes("");
    dialogue.event(&OPENED);
    dialogue.said("yes");
    for words in ["one two three four five six seven", "zero"] {
        assert!(dialogue.said(words).starts_with("That is not a valid code."), "{words}");
    }
    // In doubt it is asked, and yes takes it.
    assert_eq!(dialogue.doubtful(&["nine nine zero six"]), "Nine nine zero six?");
    assert!(dialogue.said("yes").starts_with("9906, coil F."));
}

/// Heard in two breaths: the whole number is the code, not its beginning and the whole.
#[test]
fn a_code_that_goes_on_replaces_its_beginning() {
    let mut dialogue = Dialogue::with_codes("");
    dialogue.event(&OPENED);
    dialogue.said("nine nine");
    let whole = dialogue.meaning("nine nine zero six");
    dialogue.event(&Event::Heard(Hearing {
        continues: true,
        marked: false,
        ..match dialogue.log.last().unwrap().1.clone() {
            Event::Heard(hearing) => Hearing { outcome: Outcome::Understood(whole), ..hearing },
            other => panic!("{other:?}"),
        }
    }));
    let codes: Vec<&str> = dialogue.state.codes.iter().map(|code| code.what.text.as_str()).collect();
    assert_eq!(codes, ["9906"]);
    // While paused nothing is taken, and so nothing is taken back.
    dialogue.said("pause");
    let more = dialogue.log.iter().rev().find_map(|(_, event)| match event {
        Event::Heard(hearing) if hearing.continues => Some(hearing.clone()),
        _ => None,
    });
    dialogue.event(&Event::Heard(Hearing {
        outcome: Outcome::Understood(Utterance::Entry("99067".into())),
        ..more.unwrap()
    }));
    assert_eq!(dialogue.state.codes.len(), 1);
}

#[test]
fn without_a_code_everything_goes_as_ever() {
    let mut dialogue = Dialogue::with_codes("");
    dialogue.event(&OPENED);
    assert!(dialogue.said("no").starts_with("No code. "));
    dialogue.prepare();
    for words in SOUND {
        dialogue.said(words);
    }
    assert!(dialogue.said(SOUND[0]).ends_with("All read. Say finish for the conclusion."));
    assert!(dialogue.state.codes_settled && dialogue.state.codes.is_empty());
}

#[test]
fn a_code_at_a_sound_coil_leads_to_the_control_units_plug_and_to_the_wire() {
    let (mut dialogue, offer) = Dialogue::all_sound();
    assert!(offer.ends_with("Next, coil F at the control unit's plug. Go there? Yes or no."), "{offer}");
    let why = dialogue.said("why");
    assert!(why.starts_with("The code names it and it reads sound at the part"), "{why}");
    let first = dialogue.said("yes");
    assert!(first.contains("Reconnect the part. Then say: connector together."), "{first}");
    assert_eq!(dialogue.said("yes"), "Say what was done: connector together.");
    assert!(dialogue.said("no voltage").starts_with("Not that one."));
    dialogue.said("connector together");
    // By keypad: another number than those of the gates before measuring.
    let aside = dialogue.session.aside(&dialogue.state).unwrap();
    let message::Aside::TypeCode { code } = aside else { panic!("{aside:?}") };
    let unplugged = dialogue.typed(&code);
    assert!(unplugged.starts_with("Control unit unplugged. Meter on volts"), "{unplugged}");
    for phrase in ["meter good", "no voltage", "battery read again"] {
        dialogue.said(phrase);
    }
    let beside = dialogue.said("meter on ohms");
    assert_eq!(beside, "Meter on ohms. Control unit's plug, coil A, for comparison.");
    assert_eq!(dialogue.said("five point six five zero"), "5.650. In. Plug pin 22 to plug pin 23, coil F.");
    let mut answer = dialogue.said("over range");
    assert!(answer.starts_with("Over range."), "{answer}");
    // The contact is checked there as at the part: the sound one again, cleaned, once more.
    let mut seen = Vec::new();
    while matches!(dialogue.state.phase, Phase::Reading(_)) && seen.len() < 9 {
        let comparison = answer.contains("for comparison");
        seen.push(answer.clone());
        answer = dialogue.said(if comparison { "five point six five zero" } else { "over range" });
    }
    assert!(
        seen.iter().any(|line| line.contains("Plug pin 22 to plug pin 23 once more, coil F. Clean")),
        "{seen:#?}"
    );
    assert!(seen.iter().all(|line| !line.contains("Pin ")), "everything is asked for at the plug: {seen:#?}");
    let judgement = dialogue.judged();
    assert_eq!(judgement.finding(&"coil-f".into(), Station::Harness).unwrap().class, Class::Open);
    assert_eq!(judgement.conclusion.explanations[0].cause, Cause::Wiring);
    let conclusion = dialogue.said("finish");
    assert!(conclusion.contains("wiring of coil F"), "{conclusion}");
}

#[test]
fn sound_at_both_ends_leads_to_the_case_and_then_to_the_control_side() {
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.go_there();
    dialogue.said("five point six five zero");
    let offer = dialogue.said("five point six four zero");
    assert!(offer.ends_with("Next, coil F at the part, to the case. Go there? Yes or no."), "{offer}");
    assert_eq!(dialogue.go_there(), "Highest range. Pin 6 to the case, coil F.");
    let all = dialogue.said("over range");
    assert!(all.ends_with("All read. Say finish for the conclusion."), "{all}");
    let judgement = dialogue.judged();
    assert_eq!(judgement.conclusion.explanations[0].cause, Cause::ControlOrMechanical);
    // What the session cannot lead through is still named before the control unit is.
    assert!(
        dialogue.words.text(&judgement.next_checks[0].text).contains("feeds and earths under load"),
        "{:#?}",
        judgement.next_checks
    );
}

#[test]
fn a_station_that_is_not_gone_to_is_not_offered_again() {
    let (mut dialogue, _) = Dialogue::all_sound();
    assert_eq!(dialogue.said("no"), "Left out. All read. Say finish for the conclusion.");
    assert_eq!(
        dialogue.said("change pin two to five point three nine five"),
        "5.395. In. All read. Say finish for the conclusion."
    );
    // Gone to and turned back from: noted as not taken, and not asked for again.
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.said("yes");
    assert!(dialogue.said("skip").starts_with("This is never left out."));
    let back = dialogue.said("no");
    assert!(back.starts_with("Left out. "), "{back}");
    assert!(dialogue.standing().iter().filter(|line| line.ends_with("not taken")).count() == 2);
    // Finish is taken as no.
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.said("finish");
    assert_eq!(dialogue.end, Some(End::Concluded));
}

#[test]
fn going_back_to_the_part_is_a_gate_of_its_own() {
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.go_there();
    // A number that was misheard is corrected from anywhere; measuring again is not.
    assert!(dialogue.said("change pin two to five point three nine five").starts_with("5.395. In. "));
    let back = dialogue.said("change pin three");
    assert!(back.contains("Take the connector of the part apart again."), "{back}");
    assert_eq!(dialogue.said("connector unplugged"), "Connector unplugged. Pin 3 to pin 16, coil C.");
    let on = dialogue.said("five point four one zero");
    assert!(on.contains("Then say: connector together."), "and forth again: {on}");
}

#[test]
fn a_confirmed_gate_of_a_station_is_taken_back_by_wrong() {
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.said("yes");
    dialogue.said("connector together");
    let back = dialogue.said("wrong");
    assert!(back.ends_with("Then say: connector together."), "{back}");
    assert!(dialogue.state.station_gates.is_empty());
    dialogue.said("connector together");
    for phrase in
        ["control unit unplugged", "meter good", "no voltage", "battery read again", "meter on ohms"]
    {
        dialogue.said(phrase);
    }
    assert!(matches!(dialogue.state.phase, Phase::Reading(_)));
    let back = dialogue.said("wrong");
    assert!(back.ends_with("Then say: meter on ohms."), "{back}");
    dialogue.said("meter on ohms");
    assert_eq!(dialogue.state.station, Station::Harness);
}

#[test]
fn after_a_break_at_the_plug_everything_is_made_safe_anew_and_the_session_goes_back_there() {
    let (mut dialogue, _) = Dialogue::all_sound();
    dialogue.go_there();
    dialogue.said("five point six five zero");
    let again = dialogue.event(&OPENED);
    assert!(again.contains("Going on. 1 left.") && again.ends_with("Then say: brake set."), "{again}");
    dialogue.prepare();
    assert!(matches!(dialogue.state.phase, Phase::StationGate { gate: 0, .. }));
    for phrase in
        ["connector together", "control unit unplugged", "meter good", "no voltage", "battery read again"]
    {
        dialogue.said(phrase);
    }
    assert_eq!(dialogue.said("meter on ohms"), "Meter on ohms. Plug pin 22 to plug pin 23, coil F.");
    // The journal alone gives the same state.
    let mut state = State::new(&dialogue.session.profile);
    for (at, event) in &dialogue.log {
        let line = serde_json::to_string(event).unwrap();
        dialogue.session.step(&mut state, *at, &serde_json::from_str(&line).unwrap());
    }
    assert_eq!(state, dialogue.state);
}

#[test]
fn the_gates_of_a_profile_go_before_the_programs_own() {
    let gate = "
[[harness_gate]]
id = \"at-the-plug\"
instruction = \"Unplug the control unit behind the seat.\"
confirm = \"seat unplugged\"
";
    let mut dialogue = Dialogue::with_codes(gate);
    dialogue.event(&OPENED);
    dialogue.typed("9906");
    dialogue.said("no");
    dialogue.prepare();
    for words in SOUND {
        dialogue.said(words);
    }
    dialogue.said(SOUND[0]);
    let prompt = dialogue.said("yes");
    assert_eq!(prompt, "Unplug the control unit behind the seat. Then say: seat unplugged.");
    assert!(dialogue.said("seat unplugged").ends_with("coil A, for comparison."));
}

/// As for the gates of profiles: the recogniser knows every word, no phrase means something else, none occurs twice.
#[test]
fn the_programs_own_confirmations_can_be_heard() {
    let words = include_str!("../../../grammars/en/ears/graph/words.txt");
    let known: Vec<&str> = words.lines().filter_map(|line| line.split(' ').next()).collect();
    let dialogue = Dialogue::new();
    for station in [Station::Component, Station::Harness, Station::Case] {
        let gates = dialogue.session.station_gates(station, dialogue.state.rules);
        for (place, gate) in gates.iter().enumerate() {
            assert!(gate.confirm.split(' ').all(|word| known.contains(&word)), "{}", gate.confirm);
            let plain = crate::grammar::Context::default();
            assert!(dialogue.session.grammar.parse(&gate.confirm, &plain).is_none(), "{}", gate.confirm);
            assert!(gates[..place].iter().all(|other| other.confirm != gate.confirm));
        }
    }
}
