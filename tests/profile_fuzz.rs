//! Whatever is done to a text, reading it neither panics nor lets something half-valid through.

use bothhands::profile::{self, ProfileError};
use proptest::{collection::vec, prelude::*, sample::Index};

const BASES: [&str; 3] = [
    include_str!("profile_refusals/pump.toml"),
    include_str!("../profiles/sweeper-valve-block.toml"),
    include_str!("../profiles/sweeper-sensor-pack.toml"),
];
const METERS: [&str; 2] =
    [include_str!("profile_refusals/meter.toml"), include_str!("../profiles/meters/handheld-6000.toml")];

/// A change to a text, by place.
#[derive(Debug, Clone)]
enum Change {
    Put(Index, &'static str),
    Drop(Index, u8),
    DropLine(Index),
    RepeatLine(Index, Index),
    SwapNumbers(Index, f64),
}

fn change() -> impl Strategy<Value = Change> {
    let pieces = prop::sample::select(vec![
        "\"",
        "'",
        "[",
        "]",
        "[[",
        "{",
        "}",
        "=",
        ".",
        ",",
        "#",
        "\n",
        "\\",
        "\\u0000",
        "nan",
        "-inf",
        "1e400",
        "99999999999999999999",
        "-",
        "0",
        "true",
        "[circuit]",
        "[[circuit]]\n",
        "kind = {}\n",
        "é",
        "\u{1b}",
        "\u{feff}",
        "\u{2028}",
        "1979-05-27",
        "\"\"\"",
    ]);
    let number = prop_oneof![any::<f64>(), -10.0..10.0, Just(0.0)];
    prop_oneof![
        (any::<Index>(), pieces).prop_map(|(at, piece)| Change::Put(at, piece)),
        (any::<Index>(), 1u8..40).prop_map(|(at, count)| Change::Drop(at, count)),
        any::<Index>().prop_map(Change::DropLine),
        (any::<Index>(), any::<Index>()).prop_map(|(from, to)| Change::RepeatLine(from, to)),
        (any::<Index>(), number).prop_map(|(at, value)| Change::SwapNumbers(at, value)),
    ]
}

fn changed(base: &str, changes: &[Change]) -> String {
    let mut text = base.to_owned();
    for change in changes {
        let mut lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
        let place = |index: &Index| {
            let at = index.index(text.len() + 1);
            (0..=at).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
        };
        text = match change {
            Change::Put(index, piece) => format!("{}{piece}{}", &text[..place(index)], &text[place(index)..]),
            Change::Drop(index, count) => {
                let start = place(index);
                let rest: String = text[start..].chars().skip(usize::from(*count)).collect();
                format!("{}{rest}", &text[..start])
            }
            Change::DropLine(index) if !lines.is_empty() => {
                lines.remove(index.index(lines.len()));
                lines.concat()
            }
            Change::RepeatLine(from, to) if !lines.is_empty() => {
                let line = lines[from.index(lines.len())].clone();
                lines.insert(to.index(lines.len() + 1), line);
                lines.concat()
            }
            Change::SwapNumbers(index, value) => {
                let starts: Vec<usize> = text
                    .match_indices("= ")
                    .map(|(at, _)| at + 2)
                    .filter(|at| number_at(&text, *at) > 0)
                    .collect();
                if starts.is_empty() {
                    text
                } else {
                    let start = starts[index.index(starts.len())];
                    format!("{}{value:?}{}", &text[..start], &text[start + number_at(&text, start)..])
                }
            }
            Change::DropLine(_) | Change::RepeatLine(..) => text,
        };
    }
    text
}

/// How many bytes of a number begin there.
fn number_at(text: &str, at: usize) -> usize {
    text[at..].bytes().take_while(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'_' | b'-')).count()
}

/// A refusal says where and what, and can be shown.
fn refusal_is_whole(error: &ProfileError, text: &str) {
    let faults = error.faults().expect("a text of this size is read").list();
    assert!(!faults.is_empty(), "refused without a fault");
    for fault in faults {
        assert!(fault.line >= 1 && fault.line <= text.lines().count() + 1, "{fault}");
        assert!(!fault.message.is_empty());
    }
    assert!(!error.rendered(80).is_empty());
}

fn profile_is_whole(text: &str) {
    match profile::parse("changed.toml", text) {
        Err(error) => refusal_is_whole(&error, text),
        Ok(part) => {
            let pins: Vec<_> = part.connector.pins.iter().map(|pin| &pin.name).collect();
            for circuit in &part.circuits {
                assert!(pins.contains(&&circuit.pin) && pins.contains(&&circuit.against));
                assert_ne!(circuit.pin, circuit.against);
                assert!(circuit.window.as_ref().is_none_or(|window| window.low < window.high));
                assert!(circuit.never_ohmmeter.is_none() || circuit.window.is_none());
                assert_eq!(circuit.directly_switched, circuit.supply.is_some());
                assert!(circuit.family.as_ref().is_none_or(|id| part.family(id).is_some()));
            }
            for family in &part.families {
                assert!(part.members(&family.id).count() >= 2 && family.tolerance_percent > 0.0);
            }
            assert!(!part.gates.is_empty() && !part.cautions.is_empty());
            assert!(!profile::describe(&part).is_empty());
        }
    }
}

fn meter_is_whole(text: &str) {
    match profile::parse_meter("changed.toml", text) {
        Err(error) => refusal_is_whole(&error, text),
        Ok(meter) => {
            for pair in meter.ranges.windows(2).filter(|pair| pair[0].unit == pair[1].unit) {
                assert!(pair[0].full_scale < pair[1].full_scale && pair[0].resolution <= pair[1].resolution);
            }
            assert!(meter.ranges.iter().all(|range| range.resolution > 0.0 && range.percent >= 0.0));
            assert!(meter.accurate_from < meter.accurate_to);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_damaged_profile_is_whole_or_refused(base in 0..BASES.len(), changes in vec(change(), 0..5)) {
        profile_is_whole(&changed(BASES[base], &changes));
    }

    #[test]
    fn a_damaged_meter_is_whole_or_refused(base in 0..METERS.len(), changes in vec(change(), 0..5)) {
        meter_is_whole(&changed(METERS[base], &changes));
    }

    #[test]
    fn any_text_is_refused_whole(text in "\\PC{0,60}|[a-z\\[\\]{}=\", \n.0-9#-]{0,80}") {
        profile_is_whole(&text);
        meter_is_whole(&text);
    }
}
