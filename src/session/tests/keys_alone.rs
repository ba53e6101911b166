//! Dialogues by keys alone, a numeric keypad included.

use super::*;

#[test]
fn typed_values_are_checked_against_the_display_like_spoken_ones() {
    let mut dialogue = Dialogue::with_meter("handheld-6000");
    dialogue.event(&OPENED);
    dialogue.prepare_with("zero point two");
    assert_eq!(
        dialogue.typed("533"),
        "Fifty three point three, or five hundred and thirty three point zero?"
    );
    assert!(dialogue.typed("5.3").starts_with("5.3. "), "the right value settles it");
    assert_eq!(dialogue.typed("5.329"), "Five point three two nine k, or five point three two nine meg?");
    assert_eq!(dialogue.typed("no"), "Say it again. Pin 2, coil B.");
    assert_eq!(dialogue.typed("5"), "Five point zero?");
    assert!(dialogue.typed("").starts_with("5.0. "));
    assert_eq!(dialogue.standing(), ["1 5.3 Ω", "2 5.0 Ω"]);
    assert!(dialogue.typed("5.2.1").starts_with("\"5.2.1\" is not understood."));
    assert_eq!(dialogue.typed("*"), "Over range. Pin 4, coil D.");
    let mut wide = Dialogue::prepared();
    assert_eq!(wide.typed("5.415"), "5.415. In. Pin 2, coil B.");
    assert_eq!(wide.typed("w 5.41"), "5.41. In. Pin 2, coil B.");
}

/// The meter asks nothing back: what it sends is whole, and no point is lost on the way.
#[test]
fn what_the_meter_sends_goes_the_way_of_a_typed_reading() {
    let mut dialogue = Dialogue::with_meter("handheld-6000");
    dialogue.event(&OPENED);
    dialogue.prepare_with("zero point two");
    let sent = |dialogue: &mut Dialogue, line: &str| {
        let utterance =
            keys::parse(line, &dialogue.session.grammar, &dialogue.session.context(&dialogue.state));
        dialogue.event(&Event::Metered { text: "as sent".into(), utterance: utterance.unwrap() })
    };
    assert_eq!(dialogue.typed("."), "asks the meter");
    assert!(sent(&mut dialogue, "5").starts_with("5. "), "typed it would be asked: five point zero?");
    assert!(sent(&mut dialogue, "5.4").starts_with("5.4. "));
    assert_eq!(sent(&mut dialogue, "*"), "Over range. Pin 4, coil D.");
    assert!(sent(&mut dialogue, "5.4 V").contains("not in ohms"));
    assert!(sent(&mut dialogue, "-5.4").starts_with("Below zero"));
    assert!(dialogue.state.taken.iter().all(|taken| taken.origin == Origin::Meter("as sent".into())));
    assert_eq!(dialogue.standing(), ["1 5 Ω", "2 5.4 Ω", "3 over range"]);
    // Paused, nothing is taken and nothing is asked.
    dialogue.typed("p");
    assert!(dialogue.typed(".").starts_with("Paused."));
    sent(&mut dialogue, "5.4");
    assert_eq!(dialogue.standing().len(), 3);
}

#[test]
fn what_a_display_shows_may_be_typed_as_it_stands() {
    let mut dialogue = Dialogue::prepared();
    for (line, answer) in [
        ("OL", "Over range. "),
        ("o.l", "Over range. "),
        ("5.415 ohm", "5.415. "),
        ("5.415 ohms", "5.415. "),
        ("5.415Ω", "5.415. "),
        ("4.72 kohm", "4.72 kΩ. "),
    ] {
        let said = dialogue.typed(line);
        assert!(said.starts_with(answer), "{line}: {said}");
        dialogue.typed("w");
    }
    assert!(dialogue.typed("5.415 V").contains("not in ohms"));
}

#[test]
fn a_numeric_keypad_is_enough_from_temperature_to_finish() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    for code in ["11", "22", "33", "44", "55", "66", "77", "88", "99"] {
        dialogue.typed(code);
    }
    assert_eq!(dialogue.words.text(&dialogue.session.aside(&dialogue.state).unwrap()), "not sure: type **");
    assert!(dialogue.typed("**").starts_with("Temperature unknown."));
    dialogue.typed("0.200");
    let readings = ["5.401", "5.398", "5.420", "5.385", "5.411", "5.390", "5.405", "5.414", "24.301"];
    for line in readings {
        dialogue.typed(line);
    }
    for line in ["331.20", "599.57"] {
        dialogue.typed(line);
    }
    while let Phase::Reading(_) = dialogue.state.phase {
        dialogue.typed("5.401");
    }
    assert_eq!(dialogue.state.phase, Phase::AllRead);
    // By its pin, where the pad has no letter c.
    assert_eq!(
        dialogue.typed("/2/5.395"),
        "5.395. Like the others. All read. Say finish for the conclusion."
    );
    assert_eq!(dialogue.typed("+"), "All read. Finish now?");
    assert_eq!(dialogue.typed("n"), "All read. Say finish for the conclusion.", "n is no at a question");
    assert_eq!(dialogue.typed(""), "All read. Finish now?");
    assert_eq!(dialogue.end, None, "one Enter out of habit ends nothing");
    dialogue.typed("");
    assert_eq!(dialogue.end, Some(End::Concluded));
}

#[test]
fn each_wrong_takes_back_one_more_and_says_when_there_is_none() {
    let mut dialogue = Dialogue::prepared();
    dialogue.typed("5.401");
    dialogue.typed("5.398");
    assert_eq!(dialogue.typed("w"), "Taken back. Pin 2, coil B.");
    assert_eq!(dialogue.typed("w"), "Taken back. Pin 1 to pin 16, coil A.");
    assert!(dialogue.standing().is_empty());
    assert!(dialogue.typed("w").starts_with("Taken back. Hold the probes together."));
    assert!(dialogue.typed("w").starts_with("Taken back. Temperature of the part"));
    let gates = dialogue.session.profile.gates.len();
    for _ in 0..gates {
        assert!(dialogue.typed("w").starts_with("Taken back."));
    }
    assert!(dialogue.typed("w").starts_with("Nothing more to take back."));
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    // A question that is dropped takes nothing back.
    let mut asked = Dialogue::prepared();
    asked.typed("5.401");
    asked.doubtful(&["five point three eight five"]);
    assert_eq!(asked.typed("w"), "Say it again. Pin 2, coil B.");
    assert_eq!(asked.standing().len(), 1);
}

#[test]
fn wrong_after_a_break_never_leads_past_a_gate() {
    let mut dialogue = Dialogue::prepared();
    dialogue.typed("5.401");
    dialogue.event(&OPENED);
    assert!(dialogue.typed("w").starts_with("Nothing more to take back."));
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    assert_eq!(dialogue.standing(), ["1 5.401 Ω"]);
}
