//! Owns the names that are given while measuring: "4 = heater".

use super::{message::Info, state::State, step::Session, turn::Turn};
use crate::profile::{CircuitId, PinName};

/// The longest name, in characters: as in a profile.
const LONGEST: usize = 40;

impl Session {
    /// What a circuit is called in this session.
    #[must_use]
    pub fn called(&self, state: &State, circuit: &CircuitId) -> String {
        let place = self.profile.circuits.iter().position(|known| known.id == *circuit);
        let given =
            state.names.iter().rev().find(|(named, _)| Some(*named) == place).map(|(_, name)| name.clone());
        given
            .or_else(|| self.profile.circuit(circuit).map(|circuit| circuit.name.clone()))
            .unwrap_or_default()
    }
}

impl Turn<'_> {
    /// A pin is called so from now on. Only words change: the readings and their order stay.
    pub(super) fn name_pin(&mut self, pin: &PinName, name: &str) {
        let Some(place) = self.session.profile.circuits.iter().position(|circuit| circuit.is_at(pin)) else {
            return self.answer(Info::NoCircuitAt { pin: pin.to_string() });
        };
        let name = name.trim().to_owned();
        let others = self.session.profile.circuits.iter().enumerate().filter(|(at, _)| *at != place);
        let taken = others.into_iter().any(|(_, other)| {
            self.session.called(self.state, &other.id).to_lowercase() == name.to_lowercase()
        });
        let sayable = name.chars().any(char::is_alphanumeric) && !name.chars().any(char::is_control);
        if taken || !sayable || name.chars().count() > LONGEST {
            return self.prompt_after(Info::NameNotTaken { name });
        }
        self.state.names.push((place, name.clone()));
        self.prompt_after(Info::Named { pin: pin.to_string(), name });
    }
}
