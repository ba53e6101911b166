//! Owns the families of a part that nobody described, as far as its readings show them: what is judged is the part as known so far.

use super::state::State;
use crate::{
    making::{Size, alike},
    profile::{Circuit, Family, FamilyId, Profile, USUAL_CONTACT_OHM, USUAL_TOLERANCE_PERCENT},
    quantity::{Ohms, Reading},
    verdict::{Contact, Evidence, Station},
};
use std::borrow::Cow;

/// The profile with the names given in this session, and with the families that the readings show where it leaves them to be found.
pub(super) fn known<'a>(state: &State, profile: &'a Profile, evidence: &Evidence) -> Cow<'a, Profile> {
    let named = state.named(profile);
    if !profile.families_from_readings {
        return named;
    }
    let leads = evidence.leads.shown().map_or(0.0, |shown| shown.value());
    let size = |circuit: &Circuit| {
        let here = |one: &&crate::verdict::Measurement| {
            one.circuit == circuit.id && one.station == Station::Component && one.contact != Contact::Wiggled
        };
        match evidence.measurements.iter().rev().find(here).map(|one| one.reading) {
            Some(Reading::Value(shown)) if shown.value() > leads => Size::Ohms(shown.value() - leads),
            Some(Reading::NotTaken) | None => Size::Unread,
            Some(_) => Size::None,
        }
    };
    let sizes: Vec<Size> = named.circuits.iter().map(size).collect();
    let groups = alike(&sizes);
    if groups.is_empty() {
        return named;
    }
    let mut found = named.into_owned();
    let Ok(contact) = Ohms::new(USUAL_CONTACT_OHM) else { return Cow::Owned(found) };
    found.families_from_readings = false;
    for (number, group) in groups.iter().enumerate() {
        let id = FamilyId(format!("found-{}", number + 1));
        let names: Vec<&str> = group.iter().map(|place| found.circuits[*place].name.as_str()).collect();
        let title = names.join(", ");
        found.families.push(Family {
            id: id.clone(),
            title,
            tolerance_percent: USUAL_TOLERANCE_PERCENT,
            contact,
        });
        group.iter().for_each(|place| found.circuits[*place].family = Some(id.clone()));
    }
    Cow::Owned(found)
}
