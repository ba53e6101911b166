//! Dialogues about the zero of the leads.

use super::*;

fn at_leads() -> Dialogue {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    for gate in dialogue.session.profile.gates.clone() {
        dialogue.said(&gate.confirm);
    }
    dialogue.said("twenty degrees");
    dialogue
}

#[test]
fn what_no_leads_read_is_never_taken_off() {
    let mut dialogue = at_leads();
    assert!(dialogue.typed("550.00").contains("not what sound leads read"));
    let refused = dialogue.typed("550.00");
    assert!(refused.contains("too much for any leads"), "{refused}");
    assert!(dialogue.typed("550.00").contains("too much for any leads"));
    assert_eq!(dialogue.state.phase, Phase::Leads);
    assert!(dialogue.typed("0.200").starts_with("Leads 0.200. Pin 1 to pin 16"));
}

#[test]
fn a_reading_below_the_leads_questions_the_leads() {
    let mut dialogue = at_leads();
    dialogue.typed("2.000");
    assert!(dialogue.typed("2.000").contains("That is high"));
    let asked = dialogue.typed("1.900");
    assert!(asked.ends_with("The leads alone read 2.000. Zero the leads again? Yes or no."), "{asked}");
    assert!(dialogue.said("yes").starts_with("Hold the probes together."));
    assert_eq!(dialogue.typed("0.200"), "Leads 0.200. Pin 2, coil B.");
    assert_eq!(dialogue.standing(), ["1 1.900 Ω"]);
    let evidence = dialogue.state.evidence(&dialogue.session.profile);
    assert_eq!(evidence.leads.shown().unwrap().to_string(), "0.200 Ω");
    // A shorted coil beside sound leads is a finding, not a question.
    assert!(dialogue.typed("0.201").starts_with("0.201. "));
    assert!(dialogue.state.ask.is_none());
    // Asked once; no keeps them.
    let mut kept = at_leads();
    kept.typed("0.500");
    assert!(kept.typed("0.300").contains("Zero the leads again?"));
    assert_eq!(kept.said("no"), "Pin 2, coil B.");
    assert!(!kept.typed("0.300").contains("Zero the leads"));
}

#[test]
fn the_leads_are_zeroed_again_from_anywhere_among_the_readings() {
    let mut dialogue = Dialogue::prepared();
    dialogue.said(SOUND[0]);
    dialogue.said(SOUND[1]);
    assert!(dialogue.said("zero the leads").starts_with("Hold the probes together."));
    assert_eq!(dialogue.said("zero point two one zero"), "Leads 0.210. Pin 3, coil C.");
    assert_eq!(dialogue.standing().len(), 2);
}
