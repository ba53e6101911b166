//! Owns which checks are worth doing next: those that are expected to take away the most doubt for a minute of work.
//!
//! The doubt is the entropy of what may be wrong (hypothesis and cause, from the posterior). A check has outcomes that
//! each of them makes more or less likely; what it is expected to take away is the mutual information between the two,
//! in bits. The likelihoods are judgement put into numbers (`posterior/MODEL.md`, "checks").

use super::{
    Cause, CheckAction, Class, Hypothesis, NextCheck, NextStep, NextWhy, Saying, SharedPlace, Station,
    analysis::{Analysis, Row, known_good_after, says_nothing},
    causes::{self, CAUSES},
    observed::{Standing, standing},
    single::State,
};
use crate::profile::{Circuit, CircuitId, PinName};

/// Checks that are expected to take away less than this (in bits) are not proposed.
const LEAST: f64 = 0.02;

/// Something that may be so: a hypothesis with one of its causes.
struct Atom<'h> {
    hypothesis: &'h Hypothesis,
    cause: Cause,
    probability: f64,
}

fn atoms<'h>(analysis: &'h Analysis<'_>) -> Vec<Atom<'h>> {
    let mut all = Vec::new();
    for one in analysis.hypotheses.iter().filter(|one| one.probability > 1e-4) {
        let weights = causes::of(analysis, &one.hypothesis);
        let sum: f64 = weights.iter().sum();
        if sum <= 0.0 {
            let cause =
                if one.hypothesis == Hypothesis::Nothing { Cause::NothingFound } else { Cause::Undetermined };
            all.push(Atom { hypothesis: &one.hypothesis, cause, probability: one.probability });
            continue;
        }
        for (cause, weight) in CAUSES.iter().zip(weights).filter(|(_, weight)| *weight > 0.0) {
            all.push(Atom {
                hypothesis: &one.hypothesis,
                cause: *cause,
                probability: one.probability * weight / sum,
            });
        }
    }
    all
}

/// Whether a hypothesis holds a part that fits.
fn has(hypothesis: &Hypothesis, fits: &dyn Fn(&Hypothesis) -> bool) -> bool {
    match hypothesis {
        Hypothesis::Both { all } => all.iter().any(|one| has(one, fits)),
        one => fits(one),
    }
}

/// Whether it blames this circuit itself.
fn blames(hypothesis: &Hypothesis, id: &CircuitId) -> bool {
    has(hypothesis, &|one| match one {
        Hypothesis::Faulty { circuits }
        | Hypothesis::ToCase { circuits, .. }
        | Hypothesis::Wire { circuits }
        | Hypothesis::Slip { circuits } => circuits.contains(id),
        _ => false,
    })
}

fn shared_place(hypothesis: &Hypothesis, pin: &PinName) -> Option<SharedPlace> {
    match hypothesis {
        Hypothesis::SharedOpen { pin: known, at, .. }
        | Hypothesis::SharedResistance { pin: known, at, .. } => (known == pin).then_some(*at),
        Hypothesis::Both { all } => all.iter().find_map(|one| shared_place(one, pin)),
        _ => None,
    }
}

/// Mutual information in bits between what may be wrong and a check's outcome, of two.
fn gain(atoms: &[Atom<'_>], outcome: &dyn Fn(&Atom<'_>) -> f64) -> f64 {
    let entropy =
        |p: f64| if p <= 0.0 || p >= 1.0 { 0.0 } else { -p * p.log2() - (1.0 - p) * (1.0 - p).log2() };
    let sum: f64 = atoms.iter().map(|atom| atom.probability).sum::<f64>().max(1e-12);
    let mean: f64 = atoms.iter().map(|atom| atom.probability * outcome(atom)).sum::<f64>() / sum;
    let left: f64 = atoms.iter().map(|atom| atom.probability * entropy(outcome(atom))).sum::<f64>() / sum;
    (entropy(mean) - left).max(0.0)
}

struct Proposed {
    check: NextCheck,
    /// Gain for effort; what is ranked by.
    rate: f64,
    /// Kept however small the gain: a step of a check that is under way.
    needed: bool,
}

/// Proposals as they are gathered.
#[derive(Default)]
struct List(Vec<Proposed>);

impl List {
    fn add(
        &mut self,
        action: CheckAction,
        at: Option<(&Circuit, Station)>,
        (gain, minutes): (f64, f64),
        needed: bool,
        text: NextStep,
        why: NextWhy,
    ) {
        self.0.push(Proposed {
            check: NextCheck {
                action,
                circuit: at.map(|(circuit, _)| circuit.id.clone()),
                station: at.map(|(_, station)| station),
                text: Saying::Value(text),
                why: Saying::Value(why),
                gain,
            },
            rate: gain / minutes,
            needed,
        });
    }
}

/// All checks that could settle something, best first.
pub(super) fn checks(analysis: &Analysis<'_>) -> Vec<NextCheck> {
    let atoms = atoms(analysis);
    let mut all = List::default();
    for row in &analysis.rows {
        if let State::OverRange { beyond: Some(range), .. } = row.reduced.state
            && says_nothing(row, range)
        {
            all.add(
                CheckAction::ReadAgain,
                Some((row.circuit, row.station)),
                (0.5, 0.5),
                true,
                NextStep::HigherRange { circuit: row.circuit.name.clone() },
                NextWhy::OnlyMore,
            );
            continue;
        }
        if row.class.is_suspect() || row.weighed.undecided {
            suspect(analysis, row, &atoms, &mut all);
        }
    }
    shared(analysis, &atoms, &mut all);
    measuring(analysis, &atoms, &mut all);
    slips(analysis, &atoms, &mut all);
    unread(analysis, &mut all);
    codes(analysis, &mut all);
    let mut all = all.0;
    all.retain(|one| one.needed || one.check.gain >= LEAST);
    // Stable: equal ones stay in profile order.
    all.sort_by(|a, b| b.rate.total_cmp(&a.rate));
    let mut checks: Vec<NextCheck> = Vec::new();
    for one in all {
        let same = |known: &&NextCheck| {
            let place = |check: &NextCheck| (check.action, check.circuit.clone(), check.station);
            place(known) == place(&one.check)
        };
        if !checks.iter().any(|known| same(&known)) {
            checks.push(one.check);
        }
    }
    for text in &analysis.profile.further_checks {
        checks.push(NextCheck {
            action: CheckAction::Other,
            circuit: None,
            station: None,
            text: Saying::Text(text.clone()),
            why: Saying::Value(NextWhy::ByProfile),
            gain: 0.0,
        });
    }
    checks
}

/// Whether a circuit is off together with others by something that they share: then no terminal of its own is to blame.
fn alike(analysis: &Analysis<'_>, row: &Row<'_>) -> bool {
    let together = || {
        let mut others =
            analysis.at(row.station).filter(|other| other.family == row.family && other.taken()).peekable();
        row.family.is_some()
            && others.peek().is_some()
            && others.all(|other| other.class.is_suspect() && other.weighed.own < 0.5)
    };
    row.weighed.own < 0.5
        && (row.weighed.own < 0.3 && row.weighed.off.is_some_and(|off| off >= 0.5) || together())
}

fn suspect(analysis: &Analysis<'_>, row: &Row<'_>, atoms: &[Atom<'_>], all: &mut List) {
    let name = || row.circuit.name.clone();
    let id = &row.circuit.id;
    let circuit = Some((row.circuit, row.station));
    let back = |contact: f64, slip: f64| {
        move |atom: &Atom<'_>| match (blames(atom.hypothesis, id), atom.cause) {
            (true, Cause::Connection) => contact,
            (true, Cause::Measurement) => slip,
            (true, _) => 0.03,
            (false, _) if has(atom.hypothesis, &|one| *one == Hypothesis::Nothing) => 0.10,
            (false, _) => 0.06,
        }
    };
    let clean = (gain(atoms, &back(0.85, 0.75)), 2.0);
    let again = (gain(atoms, &back(0.35, 0.65)), 0.5);
    let at_case = row.station == Station::Case;
    if let State::OverRange { since_cleaned, first, .. } = row.reduced.state
        && !at_case
    {
        let proven = known_good_after(analysis, row.circuit, first);
        if !proven && known_good(analysis, row).is_none() {
            unproven(analysis, row, all);
        }
        if !proven && let Some(good) = known_good(analysis, row) {
            let reads = |atom: &Atom<'_>| {
                if shared_place(atom.hypothesis, &row.circuit.against).is_some()
                    || has(atom.hypothesis, &|one| *one == Hypothesis::LeadsBroken)
                {
                    0.1
                } else {
                    0.97
                }
            };
            all.add(
                CheckAction::ReadKnownGood,
                Some((good, row.station)),
                // Without it no contact check counts: never ranked behind the cleaning.
                (gain(atoms, &reads).max(0.3), 0.5),
                true,
                NextStep::KnownGood { circuit: good.name.clone() },
                NextWhy::LeadsWholeAndOpen { circuit: name() },
            );
        }
        // Where all of a pin are open, no terminal of one circuit is to blame.
        match since_cleaned {
            _ if alike(analysis, row) => {}
            0 => all.add(
                CheckAction::CleanAndReadAgain,
                circuit,
                clean,
                true,
                NextStep::Clean { circuit: name() },
                NextWhy::MayBeContact,
            ),
            1 => all.add(
                CheckAction::ReadAgain,
                circuit,
                again,
                true,
                NextStep::ProbeOnceMore { circuit: name() },
                NextWhy::TwiceIsOpen,
            ),
            _ => {}
        }
    } else if row.reduced.cured && row.reduced.cleaned < 3 && !at_case {
        all.add(
            CheckAction::CleanAndReadAgain,
            circuit,
            (clean.0.max(0.3), clean.1),
            true,
            NextStep::CleanMore { circuit: name() },
            NextWhy::CleaningHelped,
        );
    } else if row.reduced.cleaned == 0 && !alike(analysis, row) {
        all.add(
            CheckAction::CleanAndReadAgain,
            circuit,
            (clean.0.max(0.02), clean.1),
            true,
            NextStep::Clean { circuit: name() },
            NextWhy::ContactReadsLikePart,
        );
    }
    match row.station {
        Station::Harness if analysis.row(row.circuit, Station::Component).is_none() => {
            let off_there = |atom: &Atom<'_>| match (blames(atom.hypothesis, id), atom.cause) {
                (true, Cause::Component) => 0.97,
                (true, Cause::Connection) => 0.3,
                _ => 0.04,
            };
            all.add(
                CheckAction::OtherStation,
                Some((row.circuit, Station::Component)),
                (gain(atoms, &off_there).max(0.05), 10.0),
                true,
                NextStep::AtThePart { circuit: name() },
                NextWhy::PartFromWires,
            );
        }
        Station::Component if row.class == Class::Unstable && row.reduced.cleaned > 0 => all.add(
            CheckAction::Wiggle,
            circuit,
            (again.0.max(0.05), 1.0),
            true,
            NextStep::Wiggle { circuit: name() },
            NextWhy::MovedIsIntermittent,
        ),
        _ => {}
    }
}

/// The circuit best fit to prove the leads: read as a number, not suspect, with the same common pin, of the same family.
fn known_good<'a>(analysis: &Analysis<'a>, row: &Row<'_>) -> Option<&'a Circuit> {
    analysis
        .rows
        .iter()
        .filter(|other| {
            other.circuit.id != row.circuit.id
                && other.station == row.station
                && other.number().is_some()
                && !other.class.is_suspect()
        })
        .min_by_key(|other| {
            (
                other.circuit.against != row.circuit.against,
                other.circuit.family.is_none() || other.circuit.family != row.circuit.family,
            )
        })
        .filter(|other| {
            // On another return it proves nothing of this one, where this one's is shared.
            other.circuit.against == row.circuit.against
                || !analysis
                    .profile
                    .circuits
                    .iter()
                    .any(|one| one.id != row.circuit.id && one.against == row.circuit.against)
        })
        .map(|other| other.circuit)
}

/// Nothing that was read proves leads and common pin: another circuit on that pin does, or the probes held together.
fn unproven(analysis: &Analysis<'_>, row: &Row<'_>, all: &mut List) {
    let other = analysis.rows.iter().find(|other| {
        other.class == Class::NotTaken
            && other.circuit.never_ohmmeter.is_none()
            && other.circuit.against == row.circuit.against
            && other.circuit.id != row.circuit.id
    });
    match other {
        Some(other) => all.add(
            CheckAction::ReadAgain,
            Some((other.circuit, Station::Component)),
            (0.3, 0.5),
            true,
            NextStep::SamePin { circuit: other.circuit.name.clone() },
            NextWhy::LeadsWhole,
        ),
        None => all.add(
            CheckAction::ZeroLeads,
            None,
            (0.3, 0.5),
            true,
            NextStep::ZeroLeads,
            NextWhy::NothingShowsLeads,
        ),
    }
}

/// Circuits that were not read yet.
fn unread(analysis: &Analysis<'_>, all: &mut List) {
    let left = analysis.rows.iter().filter(|row| {
        row.class == Class::NotTaken
            && row.station == Station::Component
            && row.circuit.never_ohmmeter.is_none()
    });
    for row in left.take(3) {
        all.add(
            CheckAction::ReadAgain,
            Some((row.circuit, Station::Component)),
            (0.02, 3.0),
            true,
            NextStep::Read { circuit: row.circuit.name.clone() },
            NextWhy::NotReadYet,
        );
    }
}

/// Readings whose prefix, point or range may be wrong.
fn slips(analysis: &Analysis<'_>, atoms: &[Atom<'_>], all: &mut List) {
    let mut about: Vec<CircuitId> = Vec::new();
    for atom in atoms.iter().filter(|atom| atom.probability >= 0.1) {
        let mut note = |one: &Hypothesis| {
            if let Hypothesis::Slip { circuits } = one {
                about.extend(circuits.iter().take(2).cloned());
            }
        };
        match atom.hypothesis {
            Hypothesis::Both { all } => all.iter().for_each(&mut note),
            one => note(one),
        }
    }
    for circuit in about.iter().filter_map(|id| analysis.profile.circuit(id)).take(2) {
        all.add(
            CheckAction::ReadAgain,
            Some((circuit, Station::Component)),
            (0.6, 0.5),
            true,
            NextStep::SayUnit { circuit: circuit.name.clone() },
            NextWhy::OtherPoint,
        );
    }
}

/// Checks about a pin that circuits share, and about pairs.
fn shared(analysis: &Analysis<'_>, atoms: &[Atom<'_>], all: &mut List) {
    let mut pins: Vec<(PinName, Vec<CircuitId>)> = Vec::new();
    for atom in atoms.iter().filter(|atom| atom.probability > 0.01) {
        let mut note = |one: &Hypothesis| {
            if let Hypothesis::SharedOpen { pin, circuits, .. }
            | Hypothesis::SharedResistance { pin, circuits, .. } = one
                && !pins.iter().any(|(known, _)| known == pin)
            {
                pins.push((pin.clone(), circuits.clone()));
            }
        };
        match atom.hypothesis {
            Hypothesis::Both { all } => all.iter().for_each(&mut note),
            one => note(one),
        }
    }
    for (pin, circuits) in pins {
        let Some(first) = circuits.first().and_then(|id| analysis.profile.circuit(id)) else { continue };
        let back = |atom: &Atom<'_>| match shared_place(atom.hypothesis, &pin) {
            Some(SharedPlace::Clip) => 0.96,
            Some(SharedPlace::Loose) => 0.6,
            Some(SharedPlace::Terminal) => 0.2,
            Some(SharedPlace::Inside) => 0.01,
            None => 0.03,
        };
        all.add(
            CheckAction::ReseatCommon,
            Some((first, Station::Component)),
            (gain(atoms, &back), 0.7),
            true,
            NextStep::Reseat { pin: pin.to_string(), circuit: first.name.clone() },
            NextWhy::CommonPinNotCircuits,
        );
        if let Some(second) = circuits.get(1).and_then(|id| analysis.profile.circuit(id)) {
            let sum = |atom: &Atom<'_>| match shared_place(atom.hypothesis, &pin) {
                Some(_) => 0.96,
                None if has(atom.hypothesis, &|one| *one == Hypothesis::LeadsBroken) => 0.01,
                None if blames(atom.hypothesis, &first.id) || blames(atom.hypothesis, &second.id) => 0.03,
                None => 0.5,
            };
            all.add(
                CheckAction::PinToPin,
                Some((first, Station::Component)),
                (gain(atoms, &sum), 0.7),
                false,
                NextStep::InARow {
                    from: first.pin.to_string(),
                    to: second.pin.to_string(),
                    first: first.name.clone(),
                    second: second.name.clone(),
                },
                NextWhy::SumIsWhole,
            );
        }
    }
    for atom in atoms.iter().filter(|atom| atom.probability > 0.02) {
        let (Hypothesis::Joined { circuits } | Hypothesis::PairContradicts { circuits }) = atom.hypothesis
        else {
            continue;
        };
        let [first, second, ..] = circuits.as_slice() else { continue };
        let (Some(one), Some(other)) = (analysis.profile.circuit(first), analysis.profile.circuit(second))
        else {
            continue;
        };
        let nothing = |atom: &Atom<'_>| match atom.hypothesis {
            Hypothesis::Joined { .. } => 0.97,
            Hypothesis::PairContradicts { .. } if atom.cause == Cause::Connection => 0.7,
            _ => 0.02,
        };
        all.add(
            CheckAction::PinToPin,
            Some((one, Station::Component)),
            (gain(atoms, &nothing).max(0.1), 0.7),
            true,
            NextStep::Between {
                from: one.pin.to_string(),
                to: other.pin.to_string(),
                first: one.name.clone(),
                second: other.name.clone(),
            },
            NextWhy::NothingIsJoined,
        );
    }
}

/// Checks about leads, meter and temperature.
fn measuring(analysis: &Analysis<'_>, atoms: &[Atom<'_>], all: &mut List) {
    let zero = |atom: &Atom<'_>| {
        if has(atom.hypothesis, &|one| matches!(one, Hypothesis::LeadZero { .. } | Hypothesis::LeadsBroken)) {
            0.96
        } else if has(atom.hypothesis, &|one| {
            matches!(one, Hypothesis::AllShorted { .. } | Hypothesis::FamilyOff { .. })
        }) {
            0.15
        } else {
            0.02
        }
    };
    let bits = gain(atoms, &zero);
    let leads = &analysis.leads;
    let negative = analysis.rows.iter().any(|row| {
        row.number().is_some_and(|number| leads.slack == 0.0 && number.value < -number.expanded())
    });
    let unknown = leads.slack > 0.0 && analysis.rows.iter().any(|row| row.number().is_some());
    let moved = leads.count > 1 && leads.spread > 0.2;
    let drift = analysis.rows.iter().any(|row| row.reduced.drift.is_some());
    let sum_of = |fits: &dyn Fn(&Hypothesis) -> bool| -> f64 {
        atoms.iter().filter(|atom| has(atom.hypothesis, fits)).map(|atom| atom.probability).sum()
    };
    let broken = sum_of(&|one| matches!(one, Hypothesis::LeadsBroken));
    let nothing = analysis.rows.iter().filter(|row| row.class == Class::Shorted).count() > 1;
    let touching =
        sum_of(&|one| matches!(one, Hypothesis::AllShorted { .. })).max(if nothing { 1.0 } else { 0.0 });
    let wrong = sum_of(&|one| matches!(one, Hypothesis::LeadZero { .. }));
    let high = leads.off > super::single::LEADS_AT_MOST;
    let (least, why) = if high {
        (0.9, NextWhy::LeadsNeverThat)
    } else if negative {
        (0.8, NextWhy::LessThanNothing)
    } else if moved {
        (0.4, NextWhy::LeadsUnsteady)
    } else if drift {
        (0.5, NextWhy::Moved)
    } else if unknown {
        (0.3, NextWhy::LeadsUnknown)
    } else if broken > 0.1 {
        (0.5, NextWhy::NothingReads)
    } else if touching > 0.2 {
        (0.5, NextWhy::AllNothing)
    } else {
        (0.0, NextWhy::LeadFromCircuits)
    };
    // A zero that is hardly in doubt is not worth being asked about.
    if least > 0.0 || wrong + broken > 0.08 {
        all.add(
            CheckAction::ZeroLeads,
            None,
            (bits.max(least), 0.5),
            least > 0.0,
            if high { NextStep::OtherLeads } else { NextStep::ZeroLeads },
            why,
        );
    }
    let warm = |atom: &Atom<'_>| {
        if has(atom.hypothesis, &|one| matches!(one, Hypothesis::Temperature { .. })) {
            0.95
        } else if has(atom.hypothesis, &|one| matches!(one, Hypothesis::FamilyOff { .. })) {
            0.3
        } else {
            0.05
        }
    };
    let unknown = analysis.evidence.part_temperature.is_none()
        && analysis.rows.iter().any(|row| row.class == Class::NotJudged && row.limits.is_some());
    all.add(
        CheckAction::TakeTemperature,
        None,
        (gain(atoms, &warm).max(if unknown { 0.4 } else { 0.0 }), 2.0),
        unknown,
        NextStep::Temperature,
        if unknown { NextWhy::WindowTooWide } else { NextWhy::LikeTemperature },
    );
}

fn codes(analysis: &Analysis<'_>, all: &mut List) {
    for code in &analysis.evidence.codes {
        let Some(circuit) = code.circuit.as_ref().and_then(|id| analysis.profile.circuit(id)) else {
            continue;
        };
        if circuit.never_ohmmeter.is_some() {
            continue;
        }
        match standing(analysis, Some(&circuit.id)) {
            Standing::NotRead if analysis.row(circuit, Station::Component).is_none_or(|row| !row.taken()) => {
                all.add(
                    CheckAction::ReadAgain,
                    Some((circuit, Station::Component)),
                    (0.8, 0.5),
                    true,
                    NextStep::Read { circuit: circuit.name.clone() },
                    NextWhy::CodeNotRead,
                )
            }
            Standing::Sound if analysis.row(circuit, Station::Harness).is_none() => all.add(
                CheckAction::OtherStation,
                Some((circuit, Station::Harness)),
                (0.55, 8.0),
                true,
                NextStep::ThroughHarness { circuit: circuit.name.clone() },
                NextWhy::CodeWiresNext,
            ),
            Standing::Sound if analysis.row(circuit, Station::Case).is_none() => all.add(
                CheckAction::OtherStation,
                Some((circuit, Station::Case)),
                (0.3, 4.0),
                true,
                NextStep::ToCase { circuit: circuit.name.clone() },
                NextWhy::CaseIsLeft,
            ),
            Standing::Sound => all.add(
                CheckAction::LoadTest,
                Some((circuit, Station::Harness)),
                (0.2, 10.0),
                true,
                NextStep::WiresUnderLoad { circuit: circuit.name.clone() },
                NextWhy::BeforeControlUnit,
            ),
            _ => {}
        }
    }
}
