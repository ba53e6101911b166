//! Owns what further observations amount to: loads, voltage drops, pin-to-pin readings, loops, codes, learned figures.

mod codes;
mod learned;
mod meters;
mod relations;
mod temperatures;
mod wiring;

pub(super) use codes::{Standing, standing};
pub use learned::LEARNED_LIMIT;
pub(super) use learned::learned_score;
pub(super) use relations::expected;
pub use wiring::{DROP_AT_A_JOINT, DROP_OF_A_WIRE};

use super::{Observed, analysis::Analysis};
use crate::profile::CircuitId;

/// All of it.
pub(super) fn observe(analysis: &Analysis<'_>) -> Vec<Observed> {
    let mut all = Vec::new();
    wiring::loads(analysis, &mut all);
    wiring::drops(analysis, &mut all);
    relations::relations(analysis, &mut all);
    wiring::loops(analysis, &mut all);
    codes::codes(analysis, &mut all);
    learned::learned(analysis, &mut all);
    temperatures::temperatures(analysis, &mut all);
    meters::resolution(analysis, &mut all);
    all
}

/// A circuit's name for people.
fn name<'a>(analysis: &Analysis<'a>, id: &CircuitId) -> &'a str {
    analysis.profile.circuit(id).map_or("?", |circuit| circuit.name.as_str())
}
