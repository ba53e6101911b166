//! Owns what is doubtful about a profile that can be used: too little is made safe by it.

use super::model::{Gate, Profile};
use schemars::JsonSchema;
use serde::Serialize;

/// Something doubtful.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ProfileDoubt {
    /// Before measuring, one gate is all there is.
    OneGate {
        /// Its phrase.
        confirm: String,
    },
    /// A gate states that something is dead, and no gate proves the meter before it and after it.
    DeadUnproven {
        /// Its name.
        gate: String,
    },
}

/// What is doubtful. Gates are known by the usual names: `...dead`, `...meter-proven`, `...meter-proven-again`.
#[must_use]
pub fn doubts(profile: &Profile) -> Vec<ProfileDoubt> {
    let mut doubts = Vec::new();
    if let [only] = &profile.gates[..] {
        doubts.push(ProfileDoubt::OneGate { confirm: only.confirm.clone() });
    }
    for gates in [&profile.gates, &profile.harness_gates, &profile.case_gates] {
        let unproven = |(place, gate): (usize, &Gate)| {
            let proven = |gates: &[Gate], name: &str| gates.iter().any(|gate| gate.id.ends_with(name));
            let both =
                proven(&gates[..place], "meter-proven") && proven(&gates[place..], "meter-proven-again");
            (gate.id.ends_with("dead") && !both).then(|| ProfileDoubt::DeadUnproven { gate: gate.id.clone() })
        };
        doubts.extend(gates.iter().enumerate().filter_map(unproven));
    }
    doubts
}
