//! Owns which circuits of an unknown part are alike, found from their readings alone.
//!
//! Readings are sorted by size. Neighbours closer than [`ALIKE`] belong together: parts that are made alike differ by a few
//! percent, different parts by far more (common practice, no source). A reading that stands alone but near a group of at
//! least [`CROWD`] is more likely an odd member of it than a part of another kind; how likely is said, never hidden: half of
//! the size or double it is the farthest that a fault of a winding is taken for (half of its turns, or as much again in a
//! joint). What is over range or unsteady has no size: it is counted to the only group of at least [`CROWD`], if there is
//! just one, with [`UNSIZED`].

use super::{Contact, Evidence, Measurement, Station};
use crate::{
    profile::{Circuit, Family, FamilyId, Profile, USUAL_CONTACT_OHM, USUAL_TOLERANCE_PERCENT},
    quantity::{Ohms, Reading},
};
use std::borrow::Cow;

/// Two neighbouring readings belong together when the larger is at most this many times the smaller.
pub const ALIKE: f64 = 1.10;
/// A group has to have so many members before a lone reading is taken for an odd one of them.
pub const CROWD: usize = 3;
/// Farther than this factor from the middle of a group a lone reading is a part of its own.
pub const FARTHEST: f64 = 2.5;
/// How sure it is that what has no size belongs to the only crowd (judgement).
pub const UNSIZED: f64 = 0.6;

/// The profile with the families that the readings show, where it leaves them to be found.
pub(super) fn applied<'a>(profile: &'a Profile, evidence: &Evidence) -> Cow<'a, Profile> {
    if !profile.families_from_readings {
        return Cow::Borrowed(profile);
    }
    let leads = evidence.leads.shown().map_or(0.0, |shown| shown.value());
    let size = |circuit: &Circuit| {
        let mut here = evidence.measurements.iter().filter(|one| one.circuit == circuit.id).peekable();
        if here.peek().is_none() {
            return Size::Unread;
        }
        match here.rfind(|one| one.station == Station::Component && one.contact != Contact::Wiggled) {
            Some(Measurement { reading: Reading::Value(shown), .. }) => Size::Ohms(shown.value() - leads),
            _ => Size::None,
        }
    };
    let sizes: Vec<Size> = profile.circuits.iter().map(size).collect();
    let mut found = profile.clone();
    for (number, members) in alike(&sizes).iter().enumerate() {
        let id = FamilyId(format!("found-{}", number + 1));
        let names: Vec<&str> = members.iter().map(|place| profile.circuits[*place].name.as_str()).collect();
        found.families.push(Family {
            id: id.clone(),
            title: names.join(", "),
            tolerance_percent: USUAL_TOLERANCE_PERCENT,
            contact: Ohms::new(USUAL_CONTACT_OHM).expect("it is finite"),
        });
        members.iter().for_each(|place| found.circuits[*place].family = Some(id.clone()));
    }
    Cow::Owned(found)
}

/// What a circuit read, as far as it says where the circuit belongs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// So many ohms, leads off.
    Ohms(f64),
    /// It was read, and has no size: over range, unsteady, nothing at all.
    None,
    /// It was not read: that it has no size says nothing, and it is in no group.
    Unread,
}

/// The circuits that belong together, two or more each, sorted by place: [`group`] with the odd ones counted in.
#[must_use]
pub fn alike(sizes: &[Size]) -> Vec<Vec<usize>> {
    let (places, read): (Vec<usize>, Vec<Option<f64>>) = sizes
        .iter()
        .enumerate()
        .filter_map(|(place, size)| match size {
            Size::Ohms(ohms) => Some((place, Some(*ohms))),
            Size::None => Some((place, None)),
            Size::Unread => None,
        })
        .unzip();
    let members = |group: &Group| {
        let all = group.members.iter().chain(group.odd.iter().map(|one| &one.0));
        let mut members: Vec<usize> = all.map(|at| places[*at]).collect();
        members.sort_unstable();
        members
    };
    group(&read).groups.iter().map(members).collect()
}

/// Circuits that read alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// The members, by their places, in the order given.
    pub members: Vec<usize>,
    /// Those that are counted to it though they read otherwise, with how sure that is (0 to 1).
    pub odd: Vec<(usize, f64)>,
    /// How sure it is that the members belong together: 1 for readings that are the same, 0.5 where the next reading that
    /// does not belong is as near as the members are to each other.
    pub sure: f64,
}

/// How the readings of an unknown part fall together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grouping {
    /// Groups of at least two, by size of their readings.
    pub groups: Vec<Group>,
    /// Circuits that belong to none.
    pub apart: Vec<usize>,
}

/// Groups readings, in ohms. None: over range, unsteady or not taken. Nothing below zero and nothing that is not finite is
/// grouped.
#[must_use]
pub fn group(readings: &[Option<f64>]) -> Grouping {
    let mut sized: Vec<(usize, f64)> = readings
        .iter()
        .enumerate()
        .filter_map(|(place, ohms)| Some((place, ohms.filter(|ohms| ohms.is_finite() && *ohms > 0.0)?)))
        .collect();
    sized.sort_by(|a, b| a.1.total_cmp(&b.1));
    let runs: Vec<&[(usize, f64)]> = sized.chunk_by(|a, b| b.1 <= ALIKE * a.1).collect();
    let mut groups: Vec<(Group, f64)> = Vec::new();
    let mut alone = Vec::new();
    for (at, run) in runs.iter().enumerate() {
        if let [one] = run {
            alone.push(*one);
            continue;
        }
        // The widest step inside against the narrowest step to a neighbour outside.
        let step = |low: f64, high: f64| (high / low).ln();
        let inside = run.windows(2).map(|pair| step(pair[0].1, pair[1].1)).fold(0.0, f64::max);
        let before =
            at.checked_sub(1).and_then(|before| runs[before].last()).map(|last| step(last.1, run[0].1));
        let after =
            runs.get(at + 1).and_then(|after| after.first()).map(|first| step(run[run.len() - 1].1, first.1));
        let outside = before.into_iter().chain(after).fold(f64::INFINITY, f64::min);
        let sure = if outside.is_finite() { outside / (outside + inside) } else { 1.0 };
        let mut members: Vec<usize> = run.iter().map(|one| one.0).collect();
        members.sort_unstable();
        groups.push((Group { members, odd: Vec::new(), sure }, run[run.len() / 2].1));
    }
    let mut apart = Vec::new();
    for (place, ohms) in alone {
        let near = groups
            .iter_mut()
            .filter(|(group, _)| group.members.len() >= CROWD)
            .map(|(group, middle)| ((ohms / *middle).ln().abs(), group))
            .filter(|(distance, _)| *distance <= FARTHEST.ln())
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match near {
            // From surely (as near as members are) down to half (as far as a fault is taken for).
            Some((distance, group)) => group.odd.push((place, 1.0 - 0.5 * distance / FARTHEST.ln())),
            None => apart.push(place),
        }
    }
    let unsized_ones =
        (0..readings.len()).filter(|place| !sized.iter().any(|one| one.0 == *place)).collect::<Vec<_>>();
    let mut crowds: Vec<&mut Group> =
        groups.iter_mut().map(|(group, _)| group).filter(|group| group.members.len() >= CROWD).collect();
    match &mut crowds[..] {
        [only] => only.odd.extend(unsized_ones.into_iter().map(|place| (place, UNSIZED))),
        _ => apart.extend(unsized_ones),
    }
    apart.sort_unstable();
    for (group, _) in &mut groups {
        group.odd.sort_by_key(|one| one.0);
    }
    Grouping { groups: groups.into_iter().map(|(group, _)| group).collect(), apart }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(values: &[f64]) -> Vec<Option<f64>> {
        values.iter().map(|ohms| (*ohms > 0.0).then_some(*ohms)).collect()
    }

    /// An invented block: eight coils of 5.2 ohms, a stronger coil, two sensors.
    #[test]
    fn coils_fall_together_and_sensors_stand_apart() {
        let found = group(&read(&[5.21, 5.18, 5.24, 5.2, 5.19, 5.22, 5.17, 5.2, 24.2, 330.0, 600.0]));
        assert_eq!(found.groups.len(), 1);
        assert_eq!(found.groups[0].members, (0..8).collect::<Vec<_>>());
        assert!(found.groups[0].odd.is_empty() && found.groups[0].sure > 0.9);
        assert_eq!(found.apart, [8, 9, 10]);
    }

    #[test]
    fn an_odd_one_is_counted_to_the_crowd_with_how_sure() {
        let found = group(&read(&[5.21, 5.18, 2.9, 5.2, 5.19, 600.0]));
        assert_eq!(found.groups[0].members, [0, 1, 3, 4]);
        let [(place, sure)] = found.groups[0].odd[..] else { panic!("{found:?}") };
        assert!(place == 2 && sure > 0.5 && sure < 0.8, "{sure}");
        assert_eq!(found.apart, [5]);
    }

    #[test]
    fn what_is_over_range_belongs_to_the_only_crowd_or_to_none() {
        let one = group(&read(&[5.2, 5.1, 5.3, -1.0, 600.0]));
        assert_eq!(one.groups[0].odd, [(3, UNSIZED)]);
        let two = group(&read(&[5.2, 5.1, 5.3, -1.0, 600.0, 601.0, 602.0]));
        assert_eq!((two.groups.len(), &two.apart[..]), (2, &[3][..]));
    }

    #[test]
    fn of_two_that_differ_neither_is_counted_to_the_other() {
        assert_eq!(group(&read(&[5.2, 3.0])).apart, [0, 1]);
    }

    #[test]
    fn what_reads_alike_is_a_group_and_an_odd_one_is_counted_to_the_crowd() {
        let ohms = |all: &[f64]| all.iter().map(|one| Size::Ohms(*one)).collect::<Vec<_>>();
        let mut block = ohms(&[5.2, 5.18, 5.22, 2.9, 5.19, 24.2, 330.0]);
        assert_eq!(alike(&block), [vec![0, 1, 2, 3, 4]]);
        block.push(Size::None);
        block.push(Size::Unread);
        assert_eq!(alike(&block), [vec![0, 1, 2, 3, 4, 7]]);
        assert_eq!(
            alike(&ohms(&[5.2, 3.0])),
            Vec::<Vec<usize>>::new(),
            "of two that differ neither is the other's"
        );
        let two = ohms(&[5.2, 5.1, 5.3, 600.0, 601.0, 602.0]);
        assert_eq!(alike(&two), [vec![0, 1, 2], vec![3, 4, 5]]);
        assert!(alike(&[]).is_empty());
    }

    proptest! {
        #[test]
        fn every_circuit_is_in_one_place_and_scale_does_not_matter(
            values in proptest::collection::vec(proptest::option::of(0.01f64..1e6), 0..30),
            scale in prop_oneof![Just(0.125), Just(4.0), Just(1024.0)],
        ) {
            let found = group(&values);
            let mut places: Vec<usize> = found.apart.clone();
            for group in &found.groups {
                places.extend(&group.members);
                places.extend(group.odd.iter().map(|one| one.0));
                prop_assert!(group.members.len() >= 2);
                prop_assert!((0.0..=1.0).contains(&group.sure));
                prop_assert!(group.odd.iter().all(|one| (0.5..=1.0).contains(&one.1)));
            }
            places.sort_unstable();
            prop_assert_eq!(places, (0..values.len()).collect::<Vec<_>>());
            // Powers of two: scaling is exact, so that no reading crosses a bound by rounding.
            let scaled: Vec<Option<f64>> = values.iter().map(|ohms| ohms.map(|ohms| ohms * scale)).collect();
            let again = group(&scaled);
            prop_assert_eq!(&again.apart, &found.apart);
            prop_assert_eq!(again.groups.len(), found.groups.len());
        }
    }
}
