//! Owns what further observations amount to: loads, voltage drops, pin-to-pin readings, loops, codes, learned figures.

use super::{
    About, Class, Observed, Station,
    analysis::{Analysis, Row},
    meter::{self, trim},
    temperature,
};
use crate::{
    profile::{Circuit, CircuitKind},
    quantity::{Amperes, Reading, Volts},
};

/// The most that one joint may lose where no maker's limit is given, in volts (common practice, no source: 0.1 to 0.2).
pub const DROP_AT_A_JOINT: f64 = 0.2;
/// The most that a wire with its joints may lose where no maker's limit is given, in volts (common practice, no source).
pub const DROP_OF_A_WIRE: f64 = 0.5;
/// A learned reference further away than this many of its standard uncertainties is mentioned.
pub const LEARNED_LIMIT: f64 = 3.0;

/// All of it.
pub(super) fn observe(analysis: &Analysis<'_>) -> Vec<Observed> {
    let mut all = Vec::new();
    loads(analysis, &mut all);
    drops(analysis, &mut all);
    relations(analysis, &mut all);
    loops(analysis, &mut all);
    codes(analysis, &mut all);
    learned(analysis, &mut all);
    temperatures(analysis, &mut all);
    resolution(analysis, &mut all);
    all
}

fn name<'a>(analysis: &Analysis<'a>, id: &crate::profile::CircuitId) -> &'a str {
    analysis.profile.circuit(id).map_or("?", |circuit| circuit.name.as_str())
}

fn loads(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for load in &analysis.evidence.further.loads {
        let lost = load.supply.get() - load.at_load.get();
        let (limit, whose) = match load.limit {
            Some(limit) => (limit.get(), "the maker's limit"),
            None => (DROP_OF_A_WIRE, "common practice, no source"),
        };
        let mut text = format!(
            "wire of {} under load: {} V of {} V are lost on the way, limit {} V ({whose})",
            name(analysis, &load.circuit),
            trim(lost),
            trim(load.supply.get()),
            trim(limit)
        );
        if let Some(current) = load.current.map(Amperes::get) {
            text += &format!(": {} Ω at {} A", trim(lost / current), trim(current));
        }
        all.push(Observed {
            about: About::Load,
            circuits: vec![load.circuit.clone()],
            measurements: vec![load.id],
            sound: Some(lost <= limit),
            text,
        });
    }
}

fn drops(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for drop in &analysis.evidence.further.drops {
        let (limit, whose) = match drop.limit.map(Volts::get) {
            Some(limit) => (limit, "the maker's limit"),
            None => (DROP_AT_A_JOINT, "common practice, no source"),
        };
        let (sound, text) = match &drop.reading {
            Reading::Value(shown) => {
                let lost = shown.value().abs();
                let accuracy = meter::accuracy(analysis.meter, shown, analysis.evidence.meter_temperature);
                let expanded = 2.0 * (accuracy.half / 3f64.sqrt()).hypot(accuracy.step / 12f64.sqrt());
                let sound = if lost + expanded <= limit {
                    Some(true)
                } else if lost - expanded > limit {
                    Some(false)
                } else {
                    None
                };
                let at = drop.current.map_or(String::new(), |current| {
                    format!(", {} Ω at {} A", trim(lost / current.get()), trim(current.get()))
                });
                (sound, format!("loses {} V ± {}{at}", trim(lost), trim(expanded)))
            }
            Reading::Unstable { .. } => (Some(false), "loses a voltage that wanders".to_owned()),
            Reading::OverRange { .. } => (None, "is over range: choose a higher range".to_owned()),
            Reading::NotTaken => (None, "was not measured".to_owned()),
        };
        all.push(Observed {
            about: About::VoltageDrop,
            circuits: drop.circuit.iter().cloned().collect(),
            measurements: vec![drop.id],
            sound,
            text: format!("{} {text}, limit {} V ({whose})", drop.joint, trim(limit)),
        });
    }
}

fn relations(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for relation in &analysis.evidence.further.relations {
        let on = |pin: &crate::profile::PinName| {
            analysis.profile.circuits.iter().find(|circuit| circuit.pin == *pin)
        };
        let (Some(one), Some(other)) = (on(&relation.from), on(&relation.to)) else {
            all.push(plain(
                relation.id,
                &[],
                None,
                format!("pin {} against pin {}: {}", relation.from, relation.to, relation.reading),
            ));
            continue;
        };
        let value = match relation.reading {
            Reading::Value(shown) => Some(shown.value() - analysis.leads.off),
            _ => None,
        };
        let pair = format!("{} to {}", one.name, other.name);
        let circuits = [one, other];
        let expected = |circuit: &Circuit| expected(analysis, circuit);
        let sum = expected(one).zip(expected(other)).map(|(a, b)| a + b);
        let same_return = one.against == other.against;
        let near = |value: f64, sum: f64| (value - sum).abs() <= 0.15 * sum + 0.3;
        let (sound, text) = match (value, sum, same_return) {
            (Some(value), Some(sum), _) if value < 0.1 * sum => {
                (Some(false), format!("{pair} reads {} Ω: joined", trim(value)))
            }
            (Some(value), Some(sum), true) if near(value, sum) => {
                let open = |circuit: &Circuit| {
                    analysis
                        .row(circuit, Station::Component)
                        .is_some_and(|row| super::patterns::is_open(row.class))
                };
                if open(one) && open(other) {
                    (
                        Some(false),
                        format!(
                            "{pair} reads {} Ω, the sum of both, while each is over range against pin {}: that pin or \
                             what it leads to is open, not the circuits",
                            trim(value),
                            one.against
                        ),
                    )
                } else {
                    (
                        Some(true),
                        format!("{pair} reads {} Ω, the sum of both through their return", trim(value)),
                    )
                }
            }
            (Some(value), Some(sum), true) => (
                Some(false),
                format!(
                    "{pair} reads {} Ω, not the sum of both through their return ({} Ω)",
                    trim(value),
                    trim(sum)
                ),
            ),
            (None, _, true) if matches!(relation.reading, Reading::OverRange { .. }) => {
                (Some(false), format!("{pair} is over range though both share pin {}", one.against))
            }
            (None, _, false) if matches!(relation.reading, Reading::OverRange { .. }) => {
                (Some(true), format!("{pair} is over range, as circuits apart from each other are"))
            }
            (Some(value), _, false) => {
                (Some(false), format!("{pair} reads {} Ω though they share no pin: joined", trim(value)))
            }
            _ => (None, format!("{pair}: {}", relation.reading)),
        };
        all.push(plain(relation.id, &circuits, sound, text));
    }
}

fn plain(id: u32, circuits: &[&Circuit], sound: Option<bool>, text: String) -> Observed {
    Observed {
        about: About::Relation,
        circuits: circuits.iter().map(|circuit| circuit.id.clone()).collect(),
        measurements: vec![id],
        sound,
        text,
    }
}

/// What a circuit should read at the part: what its family has in common, else the middle of its window.
pub(super) fn expected(analysis: &Analysis<'_>, circuit: &Circuit) -> Option<f64> {
    let family = circuit.family.as_ref().and_then(|family| {
        let place = analysis.profile.families.iter().position(|known| known.id == *family)?;
        analysis
            .families
            .iter()
            .find(|held| held.family == place && held.station == Station::Component && held.sound >= 2)?
            .common
    });
    family.or_else(|| {
        let limits = super::window::limits(circuit, analysis.temperatures, 0.0)?;
        Some(0.5 * (limits.outer.0 + limits.outer.1))
    })
}

fn loops(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for harness in analysis.at(Station::Harness) {
        let Some(part) = analysis.row(harness.circuit, Station::Component) else { continue };
        let (Some(through), Some(at)) = (harness.number(), part.number()) else { continue };
        let added = through.value - at.value;
        let expanded = 2.0 * through.random.hypot(at.random);
        let mut text =
            format!("the harness of {} adds {} Ω ± {}", harness.circuit.name, trim(added), trim(expanded));
        let sound = harness.circuit.harness.as_ref().map(|wires| {
            let most =
                super::wires::loop_at_most(wires.conductor_mm2, wires.length_m, analysis.temperatures.1)
                    + 2.0 * through.contact_bound;
            text += &format!(
                "; two wires of {} mm² and {} m with their contacts add at most {} Ω (ISO 6722-1)",
                wires.conductor_mm2,
                wires.length_m,
                trim(most)
            );
            added - expanded <= most && added + expanded >= 0.0
        });
        if sound.is_some() && added + expanded < 0.0 {
            text += "; less than nothing cannot be: one of both readings is off";
        }
        all.push(Observed {
            about: About::Loop,
            circuits: vec![harness.circuit.id.clone()],
            measurements: part.reduced.ids.iter().chain(&harness.reduced.ids).copied().collect(),
            sound,
            text,
        });
    }
}

/// How a stored code and the readings go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing {
    /// It names a circuit that reads off.
    Agrees,
    /// It names a circuit that reads sound.
    Sound,
    /// It names a circuit that was not read, or could not be judged.
    NotRead,
    /// It names none of the profile.
    NamesNone,
}

pub(super) fn standing(analysis: &Analysis<'_>, circuit: Option<&crate::profile::CircuitId>) -> Standing {
    let Some(circuit) = circuit else { return Standing::NamesNone };
    let rows: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.circuit.id == *circuit).collect();
    if rows.iter().any(|row| row.class.is_suspect()) {
        Standing::Agrees
    } else if rows.iter().any(|row| !matches!(row.class, Class::NotTaken | Class::NotJudged)) {
        Standing::Sound
    } else {
        Standing::NotRead
    }
}

fn codes(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for code in &analysis.evidence.codes {
        let about = code.circuit.as_ref().map_or("no circuit of this part", |id| name(analysis, id));
        let stand = match standing(analysis, code.circuit.as_ref()) {
            Standing::Agrees => "the readings agree",
            Standing::Sound => "the readings at that circuit are sound so far",
            Standing::NotRead => "it was not read yet, or could not be judged",
            Standing::NamesNone => "it does not say which circuit to look at",
        };
        all.push(Observed {
            about: About::StoredCode,
            circuits: code.circuit.iter().cloned().collect(),
            measurements: Vec::new(),
            sound: None,
            text: format!("the stored code {} names {about} (the circuit, not the part): {stand}", code.text),
        });
    }
}

/// Distance of a row from a learned reference, in standard uncertainties.
pub(super) fn learned_score(analysis: &Analysis<'_>, row: &Row<'_>) -> Option<(f64, f64, u32)> {
    let number = row.number()?;
    let reference = analysis
        .evidence
        .further
        .references
        .iter()
        .find(|reference| reference.circuit == row.circuit.id && reference.station == row.station)?;
    let middle = 0.5 * (analysis.temperatures.0 + analysis.temperatures.1);
    let factor = |t: f64| temperature::factor(&row.circuit.kind, reference.at.get(), t);
    let expected = reference.median.get() * factor(middle);
    let parts = f64::from(reference.parts);
    // From one part alone the spread between parts is not known: a twentieth is taken (own assumption).
    let spread = reference.spread.map_or(0.05 * expected, |spread| spread.get() * factor(middle));
    let warm = reference.median.get()
        * (factor(analysis.temperatures.1) - factor(analysis.temperatures.0)).abs()
        / 12f64.sqrt();
    let uncertainty =
        (spread * spread * (1.0 + 1.0 / parts) + number.standard().powi(2) + warm * warm).sqrt().max(1e-9);
    Some(((number.value - expected).abs() / uncertainty, expected, reference.parts))
}

fn learned(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for row in &analysis.rows {
        let Some((score, expected, parts)) = learned_score(analysis, row) else { continue };
        let Some(number) = row.number() else { continue };
        let far = score > LEARNED_LIMIT;
        all.push(Observed {
            about: About::Learned,
            circuits: vec![row.circuit.id.clone()],
            measurements: row.reduced.ids.clone(),
            sound: None,
            text: format!(
                "learned, not published: {} read about {} Ω on {parts} earlier part{}; {} Ω now is {}",
                row.circuit.name,
                trim(expected),
                if parts == 1 { "" } else { "s" },
                trim(number.value),
                if far {
                    format!("unlike that ({score:.1} standard uncertainties)")
                } else {
                    "like that".into()
                }
            ),
        });
    }
}

fn temperatures(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for held in analysis.families.iter().filter(|held| held.station == Station::Component && held.sound >= 2)
    {
        let (Some(common), Some(family)) = (held.common, analysis.profile.families.get(held.family)) else {
            continue;
        };
        let members: Vec<&Row<'_>> = analysis
            .at(Station::Component)
            .filter(|row| row.circuit.family.as_ref() == Some(&family.id) && row.number().is_some())
            .collect();
        let Some((circuit, window)) =
            members.first().and_then(|row| Some((row.circuit, row.circuit.window.as_ref()?)))
        else {
            continue;
        };
        let shared = members[0].number().map_or(0.0, |number| number.shared);
        let at = |ohms: f64, known: f64| {
            temperature::temperature(&circuit.kind, ohms, Some((known, window.at.get())))
        };
        let middle = 0.5 * (window.low.get() + window.high.get());
        let (Some(likely), Some(low), Some(high)) = (
            at(common, middle),
            at(common - 2.0 * shared, window.high.get()),
            at(common + 2.0 * shared, window.low.get()),
        ) else {
            continue;
        };
        let (low, high) = (low.min(high), low.max(high));
        let said = analysis.evidence.part_temperature;
        let sound = said.map(|said| said.high.get() >= low && said.low.get() <= high);
        all.push(Observed {
            about: About::Temperature,
            circuits: members.iter().map(|row| row.circuit.id.clone()).collect(),
            measurements: members.iter().flat_map(|row| row.reduced.ids.clone()).collect(),
            sound,
            text: format!(
                "{}: {} Ω in common means about {likely:.0} °C, if sound ({low:.0} to {high:.0} °C by the window){}",
                family.title,
                trim(common),
                match sound {
                    Some(false) => "; the temperature said does not go with that",
                    Some(true) => ", as said",
                    None => "",
                }
            ),
        });
    }
    for row in analysis.rows.iter().filter(|row| row.station != Station::Case) {
        let Some(number) = row.number() else { continue };
        if !matches!(
            row.circuit.kind,
            CircuitKind::Platinum { .. }
                | CircuitKind::Thermistor { .. }
                | CircuitKind::ThermistorTable { .. }
        ) {
            continue;
        }
        let text = match temperature::temperature(&row.circuit.kind, number.value, None) {
            Some(t) => format!("{} reads {} Ω: {t:.0} °C by its curve", row.circuit.name, trim(number.value)),
            None => format!(
                "{} reads {} Ω, which its curve has at no temperature from −200 to 850 °C",
                row.circuit.name,
                trim(number.value)
            ),
        };
        all.push(Observed {
            about: About::Temperature,
            circuits: vec![row.circuit.id.clone()],
            measurements: row.reduced.ids.clone(),
            sound: None,
            text,
        });
    }
}

fn resolution(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    let Some(meter) = analysis.meter else { return };
    let mut seen: Vec<(f64, f64)> = Vec::new();
    for circuit in &analysis.profile.circuits {
        let Some(window) = &circuit.window else { continue };
        let limits = (window.low.get(), window.high.get());
        if seen.contains(&limits) {
            continue;
        }
        seen.push(limits);
        let Some(resolves) = meter::resolves(meter, limits.0, limits.1) else { continue };
        if resolves.can_pass {
            continue;
        }
        all.push(Observed {
            about: About::Meter,
            circuits: analysis
                .profile
                .circuits
                .iter()
                .filter(|other| {
                    other.window.as_ref().is_some_and(|w| (w.low.get(), w.high.get()) == limits)
                })
                .map(|other| other.id.clone())
                .collect(),
            measurements: Vec::new(),
            sound: Some(false),
            text: format!(
                "this meter cannot tell the window {} to {} Ω: in its {} Ω range it is sure to ± {} Ω, the window is ± {} \
                 Ω; like circuits can still be held against each other",
                trim(limits.0),
                trim(limits.1),
                trim(resolves.full_scale),
                trim(resolves.expanded),
                trim(resolves.half_width)
            ),
        });
    }
}
