//! Owns patterns over many circuits: shifted families, joined circuits, swapped pins.

use super::{
    Class, Pattern, PatternKind, Station,
    analysis::{Analysis, FamilyHeld, Row},
    meter::trim,
    observed::expected,
    temperature, window,
};

/// From this probability on a family counts as shifted against its window.
const SHIFTED: f64 = 0.9;

/// A family that agrees among itself but not with its window.
pub(super) fn shifted(analysis: &Analysis<'_>, held: &FamilyHeld) -> Option<Pattern> {
    let family = analysis.profile.families.get(held.family)?;
    let (common, prior, shifted) = (held.common?, held.prior?, held.shifted?);
    let off = common - prior.centre;
    if held.sound < 2 || shifted < SHIFTED || off.abs() < 3.0 * prior.standard {
        return None;
    }
    let rows: Vec<&Row<'_>> = analysis
        .at(held.station)
        .filter(|row| {
            row.circuit.family.as_ref() == Some(&family.id) && row.held.is_some_and(|h| !h.split_odd)
        })
        .collect();
    let circuit = rows.first()?.circuit;
    let ratio = common / prior.centre;
    // Another circuit of another value tells an amount from a factor: what does it read against its own window?
    let (mut as_amount, mut as_factor, mut told) = (0.0, 0.0, false);
    for other in analysis.at(held.station).filter(|other| other.circuit.family.as_ref() != Some(&family.id)) {
        let (Some(number), Some(limits)) = (other.number(), other.limits) else { continue };
        let Some(known) = window::prior(other.circuit, &limits, number, 0.0) else { continue };
        let spread = known.standard.hypot(number.random);
        // Amount and factor lead to expect different things there, or it says nothing.
        let same_return = other.circuit.against == circuit.against;
        let amount = known.centre + if same_return { off } else { 0.0 };
        let factor = if other.circuit.kind == circuit.kind { known.centre * ratio } else { known.centre };
        if (amount - factor).abs() < spread {
            continue;
        }
        told = true;
        as_amount += ((number.value - amount) / spread).powi(2);
        as_factor += ((number.value - factor) / spread).powi(2);
    }
    // Where the same family reads as it should at the part, the part is as warm as said: the harness adds an amount.
    let at_part = analysis
        .families
        .iter()
        .find(|other| other.family == held.family && other.station == Station::Component)
        .filter(|other| held.station == Station::Harness && other.sound >= 2);
    let sound_at_part = at_part.is_some_and(|other| other.shifted.is_some_and(|shifted| shifted < 0.5));
    let told = told || sound_at_part;
    let window = circuit.window.as_ref()?;
    let middle = 0.5 * (window.low.get() + window.high.get());
    let implied = temperature::temperature(&circuit.kind, common, Some((middle, window.at.get())));
    let plausible = implied.is_some_and(|t| (-40.0..=150.0).contains(&t));
    let amount = match (sound_at_part, told) {
        (true, _) => true,
        (false, true) => as_amount < as_factor,
        (false, false) => off > 0.0 && !plausible,
    };
    let direction = if off > 0.0 { "more" } else { "less" };
    let heat = match implied {
        Some(t) if plausible => format!("{t:.0} °C would explain it"),
        _ => "no temperature of a vehicle explains it".to_owned(),
    };
    let doubt = if told { "" } else { "; a circuit of another value would tell an amount from a factor" };
    let text = if amount {
        format!(
            "{}: all read about {} Ω {direction} than their window leads to expect: a shared return, feed or lead{doubt}",
            family.title,
            trim(off.abs())
        )
    } else {
        format!(
            "{}: all read about {:.0} % {direction} than their window leads to expect: temperature ({heat}) or the wrong \
             window{doubt}",
            family.title,
            100.0 * (ratio - 1.0).abs()
        )
    };
    Some(Pattern {
        kind: if amount { PatternKind::SharedOffset } else { PatternKind::SharedFactor },
        circuits: rows.iter().map(|row| row.circuit.id.clone()).collect(),
        text,
    })
}

/// Circuits that read what two of them would: side by side (joined) or one after the other (shared return open).
pub(super) fn joined(analysis: &Analysis<'_>) -> Vec<Pattern> {
    let suspects: Vec<(&Row<'_>, f64, f64, f64)> = analysis
        .at(Station::Component)
        .filter(|row| row.class.is_suspect() && row.class != Class::Shorted)
        .filter_map(|row| {
            let number = row.number()?;
            Some((row, number.value, number.random, expected(analysis, row.circuit)?))
        })
        .collect();
    let mut found = Vec::new();
    for (at, (one, a, ua, ea)) in suspects.iter().enumerate() {
        for (other, b, ub, eb) in &suspects[at + 1..] {
            if one.circuit.against != other.circuit.against {
                continue;
            }
            let apart = 3.0 * ua.hypot(*ub);
            let parallel = ea * eb / (ea + eb);
            let close = |value: &f64, target: f64| (value - target).abs() <= apart.max(0.06 * target);
            if (a - b).abs() <= apart.max(0.02 * a) && close(a, parallel) && close(b, parallel) {
                found.push(Pattern {
                    kind: PatternKind::Joined,
                    circuits: vec![one.circuit.id.clone(), other.circuit.id.clone()],
                    text: format!(
                        "{} and {} both read {} Ω, what the two of them have side by side: their pins are joined",
                        one.circuit.name,
                        other.circuit.name,
                        trim(0.5 * (a + b))
                    ),
                });
            }
        }
        // Two in a row: its own way back is open, and what flows returns through a neighbour.
        let sum = 2.0 * ea;
        if one.circuit.family.is_some() && (a - sum).abs() <= (3.0 * ua).max(0.04 * sum) {
            found.push(Pattern {
                kind: PatternKind::Joined,
                circuits: vec![one.circuit.id.clone()],
                text: format!(
                    "{} reads {} Ω, what two like it have in a row: its return may lead through another circuit",
                    one.circuit.name,
                    trim(*a)
                ),
            });
        }
    }
    found
}

/// Two circuits that each read what the other one should.
pub(super) fn swapped(analysis: &Analysis<'_>) -> Vec<Pattern> {
    let off: Vec<&Row<'_>> = analysis
        .at(Station::Component)
        .chain(analysis.at(Station::Harness))
        .filter(|row| {
            matches!(row.class, Class::Outside | Class::UnlikePeers | Class::OutsideDoubtful)
                && row.number().is_some()
                && row.limits.is_some()
        })
        .collect();
    let fits = |row: &Row<'_>, into: &Row<'_>| {
        let (Some(number), Some(limits)) = (row.number(), into.limits) else { return false };
        number.value >= limits.outer.0 - number.expanded()
            && number.value <= limits.outer.1 + number.expanded()
    };
    let mut found = Vec::new();
    for (at, one) in off.iter().enumerate() {
        for other in &off[at + 1..] {
            if one.station == other.station
                && fits(one, other)
                && fits(other, one)
                && !fits(one, one)
                && !fits(other, other)
            {
                found.push(Pattern {
                    kind: PatternKind::Swapped,
                    circuits: vec![one.circuit.id.clone(), other.circuit.id.clone()],
                    text: format!(
                        "{} and {} each read what the other should: their pins are swapped, or the probe was on the \
                         other's pin",
                        one.circuit.name, other.circuit.name
                    ),
                });
            }
        }
    }
    found
}
