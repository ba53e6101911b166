//! Owns the words and figures of one finding: a derivation that a colleague can follow by hand.

use super::{
    Class, Details, Finding, Leads, Station, Step,
    analysis::{Analysis, Row},
    meter::{ohms, trim},
    outliers, peers,
    single::{self, Number, State, Wander},
    window::Stand,
};
use crate::{
    profile::{CircuitKind, Suppression},
    quantity::{Celsius, Interval, Ohms},
};

/// The finding of a row.
pub(super) fn finding(analysis: &Analysis<'_>, row: &Row<'_>, cross_checks: Vec<String>) -> Finding {
    let number = row.number();
    Finding {
        circuit: row.circuit.id.clone(),
        station: row.station,
        class: row.class,
        confirmed: row.confirmed,
        resistance: number.map(|number| ohms(number.value)),
        uncertainty: number.map(|number| ohms(number.expanded())),
        limits: row.limits.map(|limits| interval(limits.outer)),
        conforming: row.judged.map(|judged| judged.conforming),
        peer_score: row.held.and_then(|held| held.score),
        measurements: row.reduced.ids.clone(),
        derivation: derivation(analysis, row),
        details: details(analysis, row, cross_checks),
    }
}

fn interval((low, high): (f64, f64)) -> Interval<Ohms> {
    Interval { low: ohms(low), high: ohms(high) }
}

fn details(analysis: &Analysis<'_>, row: &Row<'_>, cross_checks: Vec<String>) -> Details {
    let mut notes = Vec::new();
    if row.reduced.unsteady_before {
        notes.push("It was over range or wandering before it read a steady number.".to_owned());
    }
    if row.reduced.cleaning_changed {
        notes.push("The reading changed when the terminal was cleaned.".to_owned());
    }
    if row.class == Class::LikePeers && row.judged.is_some_and(|judged| judged.never) {
        notes.push("This meter cannot tell the window; the circuit was held against its family.".to_owned());
    }
    let number = row.number();
    if let (Some(number), CircuitKind::DataBus) = (number, &row.circuit.kind) {
        notes.extend(bus(number));
    }
    if let (Some(number), Some(supply), true, Station::Component) =
        (number, row.circuit.supply, row.circuit.directly_switched, row.station)
        && number.value > number.expanded()
    {
        notes.push(format!(
            "At {} V it draws {} A (I = V/R, directly switched).",
            trim(supply.get()),
            trim(supply.get() / number.value)
        ));
    }
    match &row.circuit.suppression {
        Some(Suppression::Resistor(across))
            if matches!(row.class, Class::Outside | Class::Open) && number.is_some() =>
        {
            notes.push(format!(
                "It reads what the suppression resistor of {} Ω alone has: the coil is open.",
                trim(across.get())
            ));
        }
        Some(Suppression::Diode) if row.taken() => {
            notes.push(
                "A diode lies across it: read it both ways round, the higher reading is the coil's."
                    .to_owned(),
            );
        }
        _ => {}
    }
    Details {
        budget: number.map(Number::budget).unwrap_or_default(),
        conforming_between: row
            .judged
            .map(|judged| Interval { low: judged.between.0, high: judged.between.1 }),
        peer_limit: row.held.and_then(|held| held.score.map(|_| held.limit)),
        peers_expect: row.held.and_then(|held| held.expected).map(ohms),
        learned_score: super::observed::learned_score(analysis, row).map(|(score, _, _)| score),
        cleaning_changed_it: row.reduced.cleaning_changed,
        temperature: number.and_then(|number| sensed(analysis, row, number)),
        cross_checks,
        notes,
        fault_probability: super::analysis::fault_probability(row),
    }
}

/// What the resistance between the wires of a data bus says (ISO 11898-2: 120 Ω at each end).
fn bus(number: &Number) -> Option<String> {
    let text = match number.value {
        v if v < 0.2 * 60.0 => "The wires of the bus are joined.",
        v if v < 50.0 => "More than two terminators, or something else across the bus.",
        v if v <= 65.0 => return None,
        v if (100.0..=130.0).contains(&v) => {
            "One of the two terminators of the bus is missing, or a wire is open."
        }
        v if v > 1000.0 => "Both terminators of the bus are missing, or its wires are open.",
        _ => "Neither one nor two terminators read that: look for a bad contact on the bus.",
    };
    Some(text.to_owned())
}

/// What the textbook tests say of the rows' families, in the order of the rows. They do not decide.
pub(super) fn cross_checks(analysis: &Analysis<'_>) -> Vec<Vec<String>> {
    let mut said = vec![Vec::new(); analysis.rows.len()];
    for held in &analysis.families {
        let Some(family) = analysis.profile.families.get(held.family) else { continue };
        let (places, values): (Vec<usize>, Vec<f64>) = analysis
            .rows
            .iter()
            .enumerate()
            .filter(|(_, row)| row.station == held.station && row.circuit.family.as_ref() == Some(&family.id))
            .filter_map(|(at, row)| Some((at, row.number()?.value)))
            .unzip();
        if let Some(grubbs) = outliers::grubbs(&values, 0.05) {
            said[places[grubbs.at]].push(format!(
                "Grubbs, two-sided, 5 %: G = {:.3}, critical {:.3}: {}",
                grubbs.g,
                grubbs.critical,
                if grubbs.g > grubbs.critical { "an outlier" } else { "no outlier" }
            ));
        }
        if values.len() >= 8 {
            let found = outliers::generalised_esd(&values, values.len() / 3, 0.05);
            for at in &found {
                said[places[*at]].push(format!("generalised ESD, 5 %: one of {} outliers", found.len()));
            }
        }
    }
    said
}

/// The temperature that a sensor of temperature reads.
fn sensed(_: &Analysis<'_>, row: &Row<'_>, number: &Number) -> Option<Celsius> {
    if row.station == Station::Case {
        return None;
    }
    match &row.circuit.kind {
        kind @ (CircuitKind::Platinum { .. }
        | CircuitKind::Thermistor { .. }
        | CircuitKind::ThermistorTable { .. }) => {
            super::temperature::temperature(kind, number.value, None).and_then(|t| Celsius::new(t).ok())
        }
        _ => None,
    }
}

fn step(what: &str, how: String) -> Step {
    Step { what: what.to_owned(), how }
}

fn derivation(analysis: &Analysis<'_>, row: &Row<'_>) -> Vec<Step> {
    let mut steps = Vec::new();
    steps.push(step("readings", readings(analysis, row)));
    match &row.reduced.state {
        State::NotTaken => {}
        State::OverRange { beyond: Some(range), .. } if super::analysis::says_nothing(row, *range) => {
            steps.push(step(
                "range",
                format!(
                    "it ends at {} Ω, and a sound circuit may read more: a higher one is needed",
                    trim(*range)
                ),
            ));
        }
        State::OverRange { since_cleaned, first, .. } => {
            let good = super::analysis::known_good_after(analysis, row.circuit, *first);
            steps.push(step(
                "contact check",
                format!(
                    "over range {since_cleaned} times since the terminal was cleaned (2 are needed); another circuit \
                     read a number with the same leads afterwards: {}",
                    if good { "yes" } else { "not yet" }
                ),
            ));
        }
        State::Wandering { between, why } => {
            let range = between
                .map_or(String::new(), |(low, high)| format!(" from {} to {} Ω", trim(low), trim(high)));
            steps.push(step("wander", format!("{}{range}", wander(*why))));
        }
        State::Number(number) => numbers(analysis, row, number, &mut steps),
    }
    steps.push(step("verdict", format!("{}{}", row.class.word(), reason(row))));
    steps
}

fn wander(why: Wander) -> &'static str {
    match why {
        Wander::Display => "the display did not settle",
        Wander::Repeats => "repeats lie further apart than twice the contact bound and one step",
        Wander::Moved => "it changed when the wire or connector was moved",
    }
}

fn readings(analysis: &Analysis<'_>, row: &Row<'_>) -> String {
    let all: Vec<String> = row
        .reduced
        .ids
        .iter()
        .filter_map(|id| analysis.evidence.measurements.iter().find(|m| m.id == *id))
        .map(|m| {
            let contact = match m.contact {
                super::Contact::Usual => "",
                super::Contact::Cleaned => " (terminal cleaned)",
                super::Contact::Wiggled => " (moved)",
            };
            format!("#{} {}{contact}", m.id, m.reading)
        })
        .collect();
    if all.is_empty() {
        return "none taken".to_owned();
    }
    format!("{}: {}", single::station_words(row.station), all.join(", "))
}

fn numbers(analysis: &Analysis<'_>, row: &Row<'_>, number: &Number, steps: &mut Vec<Step>) {
    if number.count > 1 {
        steps.push(step("mean", format!("{} Ω from {} readings", trim(number.shown), number.count)));
    }
    steps.push(step(
        "leads off",
        match &analysis.evidence.leads {
            Leads::Shown(_) => {
                format!("{} − {} = {} Ω", trim(number.shown), trim(number.leads.off), trim(number.value))
            }
            Leads::Relative => format!("{} Ω, the meter took them off", trim(number.value)),
            Leads::Unknown => format!(
                "not measured: the circuit has between {} and {} Ω (leads taken for 0 to {} Ω: common practice)",
                trim(number.value - number.leads.slack),
                trim(number.value),
                single::LEADS_AT_MOST
            ),
        },
    ));
    let parts: Vec<String> = number
        .budget()
        .iter()
        .map(|line| format!("{} {} ({})", line.source, trim(line.standard.get()), line.how))
        .collect();
    steps.push(step("standard uncertainties in Ω", parts.join("; ")));
    steps.push(step(
        "uncertainty",
        format!(
            "U = 2 × √(sum of squares) = 2 × {} = {} Ω",
            trim(number.standard()),
            trim(number.expanded())
        ),
    ));
    if let (Some(limits), Some(window)) = (&row.limits, &row.circuit.window) {
        let (low, high) = limits.temperatures;
        let at = if analysis.evidence.part_temperature.is_none() {
            format!("temperature unknown, {low} to {high} °C")
        } else if low == high {
            format!("{low} °C")
        } else {
            format!("{low} to {high} °C")
        };
        steps.push(step(
            "limits",
            format!(
                "{} to {} Ω at {} °C ({}) become {} to {} Ω at {at}{}",
                trim(window.low.get()),
                trim(window.high.get()),
                window.at.get(),
                window.source,
                trim(limits.outer.0),
                trim(limits.outer.1),
                rule(&row.circuit.kind)
            ),
        ));
    }
    if let Some(judged) = &row.judged {
        let stand = match judged.stand {
            Stand::Within => "inside by more than U",
            Stand::WithinDoubtful => "inside, or inside at some possible temperature, but not by more than U",
            Stand::OutsideDoubtful => "outside, but by less than U",
            Stand::Outside => "outside by more than U",
        };
        steps.push(step(
            "against the window",
            format!("{stand}; probability of conformity {}", chance(judged.conforming)),
        ));
    }
    if let Some((held, (score, expected))) =
        row.held.and_then(|held| Some((held, held.score.zip(held.expected)?)))
    {
        let stand = match held.stand {
            peers::Stand::Like => "like the others",
            peers::Stand::Unlike => "unlike the others",
            peers::Stand::Undecided => "they disagree and no majority says which is right",
            peers::Stand::Alone => "no others",
        };
        steps.push(step("what the others lead to expect", expectation(analysis, row, &held, number)));
        steps.push(step(
            "against the family",
            format!(
                "|{} − {}| / {} = {:.2}, limit {:.2}: {stand}",
                trim(number.value),
                trim(expected),
                trim(held.scale),
                score,
                held.limit
            ),
        ));
    }
}

/// How the expected value and the scale of the score come about.
fn expectation(analysis: &Analysis<'_>, row: &Row<'_>, held: &peers::Held, number: &Number) -> String {
    let tolerance = row
        .family
        .and_then(|place| analysis.profile.families.get(place))
        .map_or(0.0, |family| family.tolerance_percent);
    let member = if held.wide {
        format!("the family's own spread, wider than its tolerance: {}", trim(held.own))
    } else {
        format!("√(({tolerance} % × {})²/3 + {}²) = {}", trim(held.mean), trim(number.random), trim(held.own))
    };
    let expected = held.expected.unwrap_or(held.mean);
    let window = held.prior.map_or(String::new(), |prior| {
        format!(
            "; weighed with the window's middle {} ± {} (1/u²): {} ± {}",
            trim(prior.centre),
            trim(prior.standard),
            trim(expected),
            trim(held.of_expected)
        )
    });
    format!(
        "mean of the {} others that agree {} Ω{window}; a sound member differs by u = {member}; together √({}² + {}²) = {}",
        held.agreeing,
        trim(held.mean),
        trim(held.own),
        trim(held.of_expected),
        trim(held.scale)
    )
}

fn rule(kind: &CircuitKind) -> &'static str {
    match kind {
        CircuitKind::CopperCoil | CircuitKind::Wire => ", by (234.5 + t₂)/(234.5 + t₁)",
        CircuitKind::Linear { .. } => ", by its coefficient at 20 °C",
        CircuitKind::Platinum { .. } => ", by IEC 60751",
        CircuitKind::Thermistor { .. } => ", by the B-equation",
        CircuitKind::ThermistorTable { .. } => ", by its table",
        CircuitKind::Resistor | CircuitKind::DataBus => ", no change with temperature",
    }
}

fn reason(row: &Row<'_>) -> String {
    match row.class {
        Class::NotJudged if row.judged.is_some_and(|judged| judged.unknown_decides) => {
            ": temperature or leads are not known well enough to judge it".to_owned()
        }
        Class::NotJudged => ": nothing to judge it by yet".to_owned(),
        Class::Shorted => ": nothing is left with the leads off".to_owned(),
        class if class.is_suspect() && row.confirmed => {
            ", and still so with the terminal cleaned and probed again".to_owned()
        }
        _ => String::new(),
    }
}

/// A probability in words' company: never none and never all, since no reading is that sure.
fn chance(probability: f64) -> String {
    match probability {
        p if p < 0.001 => "under 0.001".to_owned(),
        p if p > 0.999 => "over 0.999".to_owned(),
        p => format!("{p:.3}"),
    }
}
