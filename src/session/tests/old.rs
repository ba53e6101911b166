//! Journals of programs that named no rules keep their meaning: what was taken then is taken now.

use super::*;

impl Dialogue {
    fn old() -> Self {
        let mut dialogue = Self::new();
        dialogue.event(&Event::Started);
        dialogue
    }
}

#[test]
fn a_doubtful_gate_was_confirmed_by_yes_and_a_doubtful_value_by_saying_it_twice() {
    let mut dialogue = Dialogue::old();
    let phrase = dialogue.session.profile.gates[0].confirm.clone();
    let doubtful = |dialogue: &mut Dialogue, phrase: &str| {
        dialogue.hear(Outcome::Doubtful(vec![Utterance::Phrase(phrase.to_owned())]))
    };
    doubtful(&mut dialogue, &phrase);
    dialogue.said("yes");
    assert_eq!(dialogue.state.phase, Phase::Gate(1));
    let phrase = dialogue.session.profile.gates[1].confirm.clone();
    doubtful(&mut dialogue, &phrase);
    doubtful(&mut dialogue, &phrase);
    assert_eq!(dialogue.state.phase, Phase::Gate(2));
    for gate in dialogue.session.profile.gates.clone().into_iter().skip(2) {
        dialogue.said(&gate.confirm);
    }
    dialogue.said("twenty degrees");
    dialogue.said("zero point two zero zero");
    dialogue.doubtful(&["five point three one five", "nine point three one five"]);
    dialogue.doubtful(&["five point three one five", "five point three one"]);
    assert_eq!(dialogue.standing(), ["1 5.315 Ω"]);
    // One answer at the end ended nothing, and typed values were taken as typed.
    dialogue.typed("52");
    assert_eq!(dialogue.standing(), ["1 5.315 Ω", "2 52 Ω"]);
    dialogue.typed("w");
    dialogue.typed("w");
    assert_eq!(dialogue.standing(), ["1 5.315 Ω"]);
}

#[test]
fn high_leads_were_taken_the_second_time() {
    let mut dialogue = Dialogue::old();
    for gate in dialogue.session.profile.gates.clone() {
        dialogue.said(&gate.confirm);
    }
    dialogue.said("twenty degrees");
    dialogue.typed("900");
    dialogue.typed("900");
    assert_eq!(dialogue.state.phase, Phase::Reading(0));
    dialogue.typed("5.3");
    assert!(dialogue.state.ask.is_none());
    // Gone on with by this program, its rules are followed from there on.
    dialogue.event(&OPENED);
    let phrase = dialogue.session.profile.gates[0].confirm.clone();
    dialogue.hear(Outcome::Doubtful(vec![Utterance::Phrase(phrase)]));
    dialogue.said("yes");
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
}

#[test]
fn events_of_old_journals_are_read() {
    for line in [
        r#""started""#,
        r#"{"keyed":{"text":"w","utterance":{"command":{"wrong":null}}}}"#,
        r#"{"heard":{"clip":null,"opinions":[],"outcome":"not-in-grammar","length_ms":1,"level_dbfs":-1.0,"room_dbfs":-2.0,"latency_ms":3}}"#,
    ] {
        let event: Event = serde_json::from_str(line).unwrap();
        if let Event::Heard(hearing) = event {
            assert!(!hearing.marked);
        }
    }
}
