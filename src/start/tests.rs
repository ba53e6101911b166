use super::*;

fn named(ids: &[&str]) -> Vec<Named> {
    ids.iter().map(|id| Named { id: (*id).to_owned(), title: format!("the {id}") }).collect()
}

fn start() -> Start {
    let offers =
        vec![Offer::Demo, Offer::WithProfile, Offer::WithoutProfile, Offer::SoundCheck, Offer::NewProfile];
    Start::new(offers, named(&["block", "pump"]), named(&["small", "large"]))
}

/// Each way through, as the numbers that are pressed.
#[test]
fn numbers_alone_lead_everywhere() {
    let session = |part, meter: &str| Chosen::Session { part, meter: meter.to_owned() };
    let profile = |id: &str| Part::Profile(id.to_owned());
    for (numbers, chosen) in [
        (&[0][..], Chosen::Leave),
        (&[1], Chosen::Demo),
        (&[4], Chosen::SoundCheck),
        (&[5], Chosen::NewProfile),
        (&[2, 2, 1], session(profile("pump"), "small")),
        (&[2, 1, 2], session(profile("block"), "large")),
        (&[3, 12, 12, 1], session(Part::Pins { count: 12, common: Some(12) }, "small")),
        (&[3, 4, 0, 2], session(Part::Pins { count: 4, common: None }, "large")),
        (&[2, 0], Chosen::Leave),
        (&[3, 0], Chosen::Leave),
        (&[2, 1, 0], Chosen::Leave),
    ] {
        let mut start = start();
        let (last, first) = numbers.split_last().unwrap();
        for number in first {
            assert_eq!(start.answer(*number), Next::Ask, "{number} of {numbers:?}");
        }
        assert_eq!(start.answer(*last), Next::Done(chosen), "{numbers:?}");
    }
}

#[test]
fn a_number_that_is_not_there_leaves_the_question() {
    for (before, number) in
        [(&[][..], 6), (&[2], 3), (&[3], 1), (&[3], 1000), (&[3, 4], 5), (&[3, 5], 0), (&[2, 1], 3)]
    {
        let mut start = start();
        for number in before {
            start.answer(*number);
        }
        let question = start.question();
        assert_eq!(start.answer(number), Next::NoSuchNumber, "{before:?} {number}");
        assert_eq!(start.question(), question);
    }
}

#[test]
fn what_the_command_line_named_is_not_asked() {
    let part = Part::Profile("block".to_owned());
    let rest = |part, meter| Start::rest(named(&["block"]), named(&["small"]), part, meter);
    assert!(rest(Some(part.clone()), Some("small".to_owned())).is_none());
    let mut meter = rest(Some(part.clone()), None).unwrap();
    assert_eq!(meter.question(), StartQuestion::Meter);
    let session = Chosen::Session { part, meter: "small".to_owned() };
    assert_eq!(meter.answer(1), Next::Done(session.clone()));
    let mut which = rest(None, Some("small".to_owned())).unwrap();
    assert_eq!(which.question(), StartQuestion::Part);
    assert_eq!(which.answer(1), Next::Done(session));
}

#[test]
fn lines_are_numbered_from_one() {
    let mut start = start();
    assert_eq!(start.lines()[3], StartLine::Offered { number: 4, offer: Offer::SoundCheck });
    start.answer(2);
    assert_eq!(start.lines()[1], StartLine::Named { number: 2, title: "the pump".to_owned() });
    assert_eq!(start.most(), 2);
}
