//! Owns the parts whose fault lies in what circuits share, in the way to them, or in the measuring: no single circuit is to be
//! blamed for the readings, or one place explains several.

use super::{
    random::Random,
    worlds::{Measuring, WORLDS, World, members},
};

/// Where one fault shows at several readings or away from the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Structure {
    /// 0.8 to 3 Ω in the common pin; the leads were read again and are as before.
    CommonResistive,
    /// Three circuits joined at their pins.
    ThreeJoined,
    /// The lead zero is 0.7 to 2 Ω too high.
    LeadZeroWrong,
    /// One wire of the harness has 2 to 20 Ω too many; the part itself was read and is sound.
    WireResistive,
    /// Held apart: nothing gets through the common pin; a circuit on other pins reads as it should.
    CommonOpen,
    /// Held apart: two circuits joined at their pins.
    TwoJoined,
    /// Held apart: one circuit's pin lies on the case, and each was read to the case.
    OneToCase,
    /// Held apart: one wire of the harness is open, with the terminal cleaned; the part itself was read and is sound.
    WireOpen,
}

impl Structure {
    /// All of them, those held apart last.
    pub const ALL: [Self; 8] = [
        Self::CommonResistive,
        Self::ThreeJoined,
        Self::LeadZeroWrong,
        Self::WireResistive,
        Self::CommonOpen,
        Self::TwoJoined,
        Self::OneToCase,
        Self::WireOpen,
    ];

    /// Whether it is kept apart.
    #[must_use]
    pub fn held(self) -> bool {
        matches!(self, Self::CommonOpen | Self::TwoJoined | Self::OneToCase | Self::WireOpen)
    }
}

/// Like circuits in each of these parts. One more circuit, alone on pins of its own, is there as well.
pub const SIZE: usize = 8;
/// What the circuit on pins of its own reads at 20 °C, in ohms.
pub const ALONE: f64 = 24.0;
/// Ohms of sound copper between part and control unit.
const COPPER: f64 = 0.2;

/// What was read of such a part, in ohms; infinite: over range.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// The leads held together.
    pub leads: f64,
    /// The same once more, where that was done.
    pub leads_again: Option<f64>,
    /// At the part, in the order of the circuits, the one on pins of its own last.
    pub component: Vec<f64>,
    /// To the case, in the same order; empty: not read.
    pub case: Vec<f64>,
    /// Through the harness: circuit, reading, whether the terminal was cleaned.
    pub harness: Vec<(usize, f64, bool)>,
    /// Circuits that may be named for what they are: joined, to case, or behind the bad wire.
    pub involved: Vec<usize>,
}

/// Makes such a part and measures it.
pub fn read(random: &mut Random, structure: Structure) -> Read {
    let world = World { size: SIZE, ..WORLDS[0] };
    let measuring = Measuring::draw(random, world);
    let own: Vec<f64> = members(random, world).into_iter().map(|ohms| measuring.warm(ohms)).collect();
    let mut places: Vec<usize> = (0..SIZE).collect();
    let mut pick = |count: usize, random: &mut Random| -> Vec<usize> {
        (0..count).map(|_| places.swap_remove(random.below(places.len()))).collect()
    };
    let mut component = own.clone();
    let (mut involved, mut case, mut harness) = (Vec::new(), Vec::new(), Vec::new());
    let mut zero_off = 0.0;
    match structure {
        Structure::CommonResistive => {
            let extra = random.between(0.8, 3.0);
            component.iter_mut().for_each(|ohms| *ohms += extra);
        }
        Structure::CommonOpen => component.fill(f64::INFINITY),
        Structure::ThreeJoined | Structure::TwoJoined => {
            involved = pick(if structure == Structure::TwoJoined { 2 } else { 3 }, random);
            let together = 1.0 / involved.iter().map(|at| 1.0 / own[*at]).sum::<f64>();
            involved.iter().for_each(|at| component[*at] = together);
        }
        Structure::LeadZeroWrong => zero_off = random.between(0.7, 2.0),
        Structure::OneToCase => {
            involved = pick(1, random);
            let path = random.between(0.05, 2.0);
            let through = own[involved[0]] + path;
            case = (0..SIZE).map(|at| if at == involved[0] { path } else { own[at] + through }).collect();
            case.push(f64::INFINITY);
        }
        Structure::WireResistive | Structure::WireOpen => {
            involved = pick(1, random);
            let extra =
                if structure == Structure::WireOpen { f64::INFINITY } else { random.between(2.0, 20.0) };
            harness = (0..SIZE)
                .map(|at| (at, own[at] + COPPER + if at == involved[0] { extra } else { 0.0 }, false))
                .collect();
            harness.push((involved[0], own[involved[0]] + COPPER + extra, true));
            harness.push(((involved[0] + 1) % SIZE, own[(involved[0] + 1) % SIZE] + COPPER, false));
            harness.push((involved[0], own[involved[0]] + COPPER + extra, true));
        }
    }
    component.push(measuring.warm(ALONE));
    let mut show = |ohms: f64| measuring.shown(random, ohms, 0.0);
    let leads = show(zero_off);
    Read {
        leads,
        leads_again: (structure == Structure::CommonResistive).then(|| show(0.0)),
        component: component.into_iter().map(&mut show).collect(),
        case: case.into_iter().map(&mut show).collect(),
        harness: harness.into_iter().map(|(at, ohms, cleaned)| (at, show(ohms), cleaned)).collect(),
        involved,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three of about 5.2 side by side are a third; to the case the others read two in series (network by hand).
    #[test]
    fn networks_read_as_worked_out_by_hand() {
        let mut random = Random::new(2);
        let joined = read(&mut random, Structure::ThreeJoined);
        for at in &joined.involved {
            let ohms = joined.component[*at] - joined.leads;
            assert!((ohms / 1.733 - 1.0).abs() < 0.15, "{ohms}");
        }
        let cased = read(&mut random, Structure::OneToCase);
        for at in (0..SIZE).filter(|at| !cased.involved.contains(at)) {
            assert!(cased.case[at] > 9.0 && cased.case[at] < 14.5, "{:?}", cased.case);
        }
        assert!(cased.case[cased.involved[0]] < 2.5);
        let open = read(&mut random, Structure::CommonOpen);
        assert!(open.component[..SIZE].iter().all(|ohms| ohms.is_infinite()));
        assert!(open.component[SIZE].is_finite());
    }
}
