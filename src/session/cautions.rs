//! Owns the program's own cautions: which there are, and where each is said. A profile adds its own; it never takes one away.
//!
//! Each is said once in a session, and shown. Some belong to a gate, known by its usual name; where a profile has no gate of that
//! name, they are said at the start.

use super::{action::Kind, message::Message, state::Phase, turn::Turn};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A caution of the program. What they say is common practice of the trade, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OwnCaution {
    /// The maker's information, local codes and licensed practice come first.
    FirstOfAll,
    /// Pyrotechnic and high-voltage circuits.
    NeverOhmmeter,
    /// A supported vehicle, hot and moving parts, fuel vapour and battery gas.
    AroundYou,
    /// What taking a battery off does, and what keeps its charge.
    BatteryOff,
    /// Charge in drivers of injectors and lamps.
    StoredCharge,
    /// Static discharge.
    Static,
    /// The meter's category and its leads.
    MeterAndLeads,
    /// The profile has one step of making safe only.
    OneGate,
    /// Power is on again for a check under load.
    PowerIsOn,
}

/// Said at the start of every session.
const AT_START: [OwnCaution; 3] = [OwnCaution::FirstOfAll, OwnCaution::NeverOhmmeter, OwnCaution::AroundYou];

/// Said before the gate of that name.
const AT_GATES: [(&str, &[OwnCaution]); 3] = [
    ("supply-off", &[OwnCaution::BatteryOff]),
    ("connector-apart", &[OwnCaution::StoredCharge, OwnCaution::Static]),
    ("meter-proven", &[OwnCaution::MeterAndLeads]),
];

/// Those that hold wherever values are judged, whoever took them: on the card and beside a judgement.
pub const EVERYWHERE: [OwnCaution; 3] = AT_START;

impl Turn<'_> {
    /// The cautions before anything is done. Gone on with, a session says the first ones again: somebody may have taken over.
    pub(super) fn cautions_at_start(&mut self, again: bool) {
        let gates = &self.session.profile.gates;
        let without_gate = AT_GATES.iter().filter(|(id, _)| gates.iter().skip(1).all(|gate| gate.id != *id));
        let others = without_gate.flat_map(|(_, cautions)| cautions.iter()).filter(|_| !again);
        let few = (gates.len() == 1).then_some(&OwnCaution::OneGate);
        for caution in AT_START.iter().chain(others).chain(few) {
            self.say(Kind::Caution, Message::OwnCaution(*caution));
        }
        for caution in &self.session.profile.cautions {
            self.say(Kind::Caution, Message::Caution(caution.clone()));
        }
    }

    /// The cautions that belong to the gate that comes now, the first time that it comes.
    pub(super) fn cautions_at_gate(&mut self) -> Vec<OwnCaution> {
        let Phase::Gate(place) = self.state.phase else { return Vec::new() };
        let Some(gate) = self.session.profile.gates.get(place) else { return Vec::new() };
        if self.state.preparations.len() > 1 || self.state.cautioned >= place {
            return Vec::new();
        }
        self.state.cautioned = place;
        let here = AT_GATES.iter().filter(|(id, _)| *id == gate.id);
        here.flat_map(|(_, cautions)| cautions.iter().copied()).collect()
    }
}
