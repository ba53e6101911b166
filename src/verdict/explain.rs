//! Owns the figures of one finding, with a derivation that a colleague can follow by hand.

use super::{
    Class, ClassReason, Contact, Derived, Details, Finding, FindingNote, Leads, Likelihood, LimitsAt,
    MemberDiffers, OutlierTest, ReadingUsed, Saying, Station, Step, StepName, WarmthRule, WindowWeighed,
    analysis::{Analysis, Row},
    meter::ohms,
    outliers, peers,
    said::{decimal, figure},
    single::{self, Number, State},
};
use crate::{
    profile::{CircuitKind, Suppression},
    quantity::{Celsius, Interval, Ohms},
};

/// The finding of a row.
pub(super) fn finding(analysis: &Analysis<'_>, row: &Row<'_>, cross_checks: Vec<OutlierTest>) -> Finding {
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

fn details(analysis: &Analysis<'_>, row: &Row<'_>, cross_checks: Vec<OutlierTest>) -> Details {
    let mut notes = Vec::new();
    if row.reduced.unsteady_before {
        notes.push(FindingNote::UnsteadyBefore);
    }
    if row.reduced.cleaning_changed {
        notes.push(FindingNote::CleaningChanged);
    }
    if row.class == Class::LikePeers && row.judged.is_some_and(|judged| judged.never) {
        notes.push(FindingNote::FamilyOnly);
    }
    let number = row.number();
    if let (Some(number), CircuitKind::DataBus) = (number, &row.circuit.kind) {
        notes.extend(bus(number));
    }
    if let (Some(number), Some(supply), true, Station::Component) =
        (number, row.circuit.supply, row.circuit.directly_switched, row.station)
        && number.value > number.expanded()
    {
        notes.push(FindingNote::Draws {
            volts: figure(supply.get()),
            amperes: figure(supply.get() / number.value),
        });
    }
    match &row.circuit.suppression {
        Some(Suppression::Resistor(across))
            if matches!(row.class, Class::Outside | Class::Open) && number.is_some() =>
        {
            notes.push(FindingNote::ResistorAlone { ohms: figure(across.get()) });
        }
        Some(Suppression::Diode) if row.taken() => {
            notes.push(FindingNote::DiodeBothWays);
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
        cross_checks: cross_checks.into_iter().map(Saying::Value).collect(),
        notes: notes.into_iter().map(Saying::Value).collect(),
        fault_probability: super::analysis::fault_probability(row),
    }
}

/// What the resistance between the wires of a data bus says (ISO 11898-2: 120 Ω at each end).
fn bus(number: &Number) -> Option<FindingNote> {
    Some(match number.value {
        v if v < 0.2 * 60.0 => FindingNote::BusJoined,
        v if v < 50.0 => FindingNote::BusMore,
        v if v <= 65.0 => return None,
        v if (100.0..=130.0).contains(&v) => FindingNote::BusOneMissing,
        v if v > 1000.0 => FindingNote::BusBothMissing,
        _ => FindingNote::BusNeither,
    })
}

/// What the textbook tests say of the rows' families, in the order of the rows. They do not decide.
pub(super) fn cross_checks(analysis: &Analysis<'_>) -> Vec<Vec<OutlierTest>> {
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
            said[places[grubbs.at]].push(OutlierTest::Grubbs {
                g: decimal(grubbs.g, 3),
                critical: decimal(grubbs.critical, 3),
                outlier: grubbs.g > grubbs.critical,
            });
        }
        if values.len() >= 8 {
            let found = outliers::generalised_esd(&values, values.len() / 3, 0.05);
            for at in &found {
                said[places[*at]].push(OutlierTest::Esd { outliers: found.len() });
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

fn step(what: StepName, how: Derived) -> Step {
    Step { what: Saying::Value(what), how: Saying::Value(how) }
}

fn derivation(analysis: &Analysis<'_>, row: &Row<'_>) -> Vec<Step> {
    let mut steps = vec![step(StepName::Readings, readings(analysis, row))];
    match &row.reduced.state {
        State::NotTaken => {}
        State::OverRange { beyond: Some(range), .. } if super::analysis::says_nothing(row, *range) => {
            steps.push(step(StepName::Range, Derived::RangeTooLow { ends: figure(*range) }));
        }
        State::OverRange { since_cleaned, first, .. } => {
            let proven = super::analysis::known_good_after(analysis, row.circuit, *first);
            steps.push(step(StepName::ContactCheck, Derived::ContactCheck { over: *since_cleaned, proven }));
        }
        State::Wandering { between, why } => {
            let (low, high) = between.map(|(low, high)| (figure(low), figure(high))).unzip();
            steps.push(step(StepName::Wander, Derived::Wander { why: *why, low, high }));
        }
        State::Number(number) => numbers(analysis, row, number, &mut steps),
    }
    steps.push(step(StepName::Verdict, Derived::Verdict { class: row.class, because: because(row) }));
    steps
}

fn readings(analysis: &Analysis<'_>, row: &Row<'_>) -> Derived {
    let used = row
        .reduced
        .ids
        .iter()
        .filter_map(|id| analysis.evidence.measurements.iter().find(|m| m.id == *id))
        .map(|m| {
            let (id, reading) = (m.id, m.reading);
            match m.contact {
                Contact::Usual => ReadingUsed::Usual { id, reading },
                Contact::Cleaned => ReadingUsed::Cleaned { id, reading },
                Contact::Wiggled => ReadingUsed::Moved { id, reading },
            }
        });
    let readings: Vec<ReadingUsed> = used.collect();
    if readings.is_empty() {
        Derived::NoneTaken
    } else {
        Derived::Readings { station: row.station, readings }
    }
}

fn numbers(analysis: &Analysis<'_>, row: &Row<'_>, number: &Number, steps: &mut Vec<Step>) {
    let mut add = |what: StepName, how: Derived| steps.push(step(what, how));
    if number.count > 1 {
        add(StepName::Mean, Derived::Mean { ohms: figure(number.shown), count: number.count });
    }
    let left = figure(number.value);
    add(
        StepName::LeadsOff,
        match &analysis.evidence.leads {
            Leads::Shown(_) => {
                Derived::LeadsOff { shown: figure(number.shown), leads: figure(number.leads.off), left }
            }
            Leads::Relative => Derived::LeadsRelative { left },
            Leads::Unknown => Derived::LeadsUnknown {
                low: figure(number.value - number.leads.slack),
                high: left,
                most: single::LEADS_AT_MOST,
            },
        },
    );
    let lines = number.budget().into_iter().filter_map(|line| match (line.source, line.how) {
        (Saying::Value(source), Saying::Value(how)) => {
            Some(Derived::Budget { source, ohms: figure(line.standard.get()), how })
        }
        _ => None,
    });
    let all = lines.reduce(|first, then| Derived::Then { first: Box::new(first), then: Box::new(then) });
    if let Some(all) = all {
        add(StepName::StandardUncertainties, all);
    }
    add(
        StepName::Uncertainty,
        Derived::Uncertainty { standard: figure(number.standard()), expanded: figure(number.expanded()) },
    );
    if let (Some(limits), Some(window)) = (&row.limits, &row.circuit.window) {
        let (low, high) = limits.temperatures;
        add(
            StepName::Limits,
            Derived::Limits {
                low: figure(window.low.get()),
                high: figure(window.high.get()),
                at: window.at.get(),
                source: window.source.to_string(),
                low_now: figure(limits.outer.0),
                high_now: figure(limits.outer.1),
                now: if analysis.evidence.part_temperature.is_none() {
                    LimitsAt::Unknown { low, high }
                } else if low == high {
                    LimitsAt::Exactly { celsius: low }
                } else {
                    LimitsAt::Between { low, high }
                },
                rule: rule(&row.circuit.kind),
            },
        );
    }
    if let Some(judged) = &row.judged {
        let stand = judged.stand;
        let conforming = Likelihood::of(judged.conforming);
        add(StepName::AgainstTheWindow, Derived::AgainstTheWindow { stand, conforming });
    }
    if let Some((held, (score, expected))) =
        row.held.and_then(|held| Some((held, held.score.zip(held.expected)?)))
    {
        let stand = held.stand;
        add(StepName::Expectation, expectation(analysis, row, &held, number));
        add(
            StepName::AgainstTheFamily,
            Derived::AgainstTheFamily {
                value: left,
                expected: figure(expected),
                scale: figure(held.scale),
                score: decimal(score, 2),
                limit: decimal(held.limit, 2),
                stand,
            },
        );
    }
}

/// How the expected value and the scale of the score come about.
fn expectation(analysis: &Analysis<'_>, row: &Row<'_>, held: &peers::Held, number: &Number) -> Derived {
    let percent = row
        .family
        .and_then(|place| analysis.profile.families.get(place))
        .map_or(0.0, |family| family.tolerance_percent);
    let (own, mean, of_expected) = (figure(held.own), figure(held.mean), figure(held.of_expected));
    let expected = figure(held.expected.unwrap_or(held.mean));
    Derived::Expectation {
        agreeing: held.agreeing,
        mean,
        window: held.prior.map(|prior| WindowWeighed {
            middle: figure(prior.centre),
            standard: figure(prior.standard),
            expected,
            of_expected,
        }),
        member: if held.wide {
            MemberDiffers::AsSeen { own }
        } else {
            MemberDiffers::ByTolerance { percent, mean, random: figure(number.random), own }
        },
        own,
        of_expected,
        scale: figure(held.scale),
    }
}

fn rule(kind: &CircuitKind) -> WarmthRule {
    match kind {
        CircuitKind::CopperCoil | CircuitKind::Wire => WarmthRule::Copper,
        CircuitKind::Linear { .. } => WarmthRule::Coefficient,
        CircuitKind::Platinum { .. } => WarmthRule::Platinum,
        CircuitKind::Thermistor { .. } => WarmthRule::BEquation,
        CircuitKind::ThermistorTable { .. } => WarmthRule::Table,
        CircuitKind::Resistor | CircuitKind::DataBus => WarmthRule::None,
    }
}

fn because(row: &Row<'_>) -> Option<ClassReason> {
    match row.class {
        Class::NotJudged if row.judged.is_some_and(|judged| judged.unknown_decides) => {
            Some(ClassReason::NotKnownWell)
        }
        Class::NotJudged => Some(ClassReason::NothingYet),
        Class::Shorted => Some(ClassReason::NothingLeft),
        class if class.is_suspect() && row.confirmed => Some(ClassReason::StillSo),
        _ => None,
    }
}
