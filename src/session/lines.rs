//! Owns the wording: prompts, read-backs, answers, the conclusion. Written with digits; speech puts them into words.

use super::{
    flow::Session,
    prepare::gate_code,
    state::{Input, Phase, Purpose, State, Task},
};
use crate::{
    grammar::{Command, Utterance},
    profile::{Circuit, PinName, place_of},
    quantity::Reading,
    verdict::{Class, Contact, Finding, Judgement, Station},
};

impl Session {
    /// What to do now.
    #[must_use]
    pub fn prompt(&self, state: &State) -> String {
        match state.phase {
            Phase::New | Phase::Ended => String::new(),
            Phase::Codes => self.code_prompt(state, false),
            Phase::CodeNumber => self.code_prompt(state, true),
            Phase::Offer { circuit, station } => self.offer_prompt(circuit, station),
            Phase::StationGate { .. } => self.station_gate_prompt(state),
            Phase::Gate(place) => {
                let gate = &self.profile.gates[place];
                format!("{} Then say: {}.", gate.instruction, gate.confirm)
            }
            Phase::Temperature => {
                "Temperature of the part in degrees? Or say cold, warm, hot, or not sure.".to_owned()
            }
            Phase::Leads => {
                let prompt = "Hold the probes together. What does the meter show?";
                self.fuller(state, prompt.to_owned(), || " Say it with its point, as it stands there.".into())
            }
            Phase::Reading(place) => {
                let prompt = self.task_prompt(state, place);
                self.fuller(state, prompt, || self.fuller_task(state, place))
            }
            Phase::AllRead => "All read. Say finish for the conclusion.".to_owned(),
        }
    }

    /// What is shown beside the prompt and not spoken.
    #[must_use]
    pub fn aside(&self, state: &State) -> Option<String> {
        match state.phase {
            Phase::Gate(place) => Some(format!("or type {}", gate_code(place))),
            Phase::StationGate { gate, .. } => Some(format!("or type {}", self.station_gate_code(gate))),
            _ => None,
        }
    }

    fn task_prompt(&self, state: &State, place: usize) -> String {
        let task = state.plan[place];
        let circuit = &self.profile.circuits[task.circuit];
        let before = place.checked_sub(1).map(|before| state.plan[before]);
        // The other probe is named when it moves.
        let came_here = matches!(state.last_input, Some(Input::StationGate { .. }));
        let moves = came_here
            || before.is_none_or(|before| {
                before.station != task.station || self.circuit(&before).against != circuit.against
            });
        let probed = self.probed(&task, moves);
        match (task.purpose, task.contact) {
            (Purpose::Round | Purpose::Elsewhere, _) => format!("{probed}, {}.", circuit.name),
            (Purpose::FirstAgain, _) => format!("{probed} once more, {}.", circuit.name),
            (Purpose::KnownGood, _) if task.station == Station::Component => {
                format!("Same leads on {}, {}.", probed.to_lowercase(), circuit.name)
            }
            (Purpose::KnownGood, _) => format!("{probed}, {}, for comparison.", circuit.name),
            (Purpose::Recheck, Contact::Cleaned) => {
                format!("{probed} once more, {}. Clean the terminal, probe again.", circuit.name)
            }
            (Purpose::Recheck, _) => format!("{probed} once more, {}.", circuit.name),
        }
    }

    /// What was taken for a task, and what it means so far.
    pub(super) fn read_back(&self, state: &State, place: usize) -> String {
        let Some(taken) = state.answer(place) else { return String::new() };
        let reading = short(&taken.reading);
        let judgement = self.judge(state);
        let task = &state.plan[place];
        let class = judgement
            .as_ref()
            .ok()
            .and_then(|judgement| judgement.finding(&self.circuit(task).id, task.station))
            .map_or(Class::NotJudged, |finding| finding.class);
        let word = class.word();
        match taken.reading {
            Reading::NotTaken => "Left out.".to_owned(),
            _ if word.eq_ignore_ascii_case(&reading) => format!("{reading}."),
            _ => {
                let said = format!("{reading}. {}.", capital(word));
                self.fuller(state, said, || format!(" {}", super::fuller::meaning(class)))
            }
        }
    }

    pub(super) fn circuit(&self, task: &Task) -> &Circuit {
        &self.profile.circuits[task.circuit]
    }

    /// Where a pin is on the connector; without a pin, the one that is waited for.
    pub(super) fn where_is(&self, state: &State, pin: Option<&PinName>) -> String {
        let here = state.current().map(|task| &self.circuit(task).pin);
        let Some(pin) = pin.or(here) else { return format!("No pin is asked for. {}", self.prompt(state)) };
        format!("Pin {pin}: {}.", place_of(&self.profile, pin))
    }

    /// The question about candidates.
    pub(super) fn question(&self, candidates: &[Utterance], times: u8) -> String {
        let said: Vec<String> = candidates.iter().map(|candidate| self.meant(candidate)).collect();
        let keys = if times > 2 { " Or use the keys." } else { "" };
        match &said[..] {
            [] => format!("Say it again.{keys}"),
            [one] if times > 1 => format!("{}? Yes or no?{keys}", capital(one)),
            [one] => format!("{}?{keys}", capital(one)),
            [one, two, ..] => format!("{}, or {two}?{keys}", capital(one)),
        }
    }

    /// An utterance as it is put in a question.
    fn meant(&self, utterance: &Utterance) -> String {
        match utterance {
            Utterance::Command(Command::Finish) => "finish now".to_owned(),
            Utterance::Command(Command::Stop) => "stop now, to go on another time".to_owned(),
            other => self.grammar.say_utterance(other),
        }
    }

    /// What may be said now, in one line.
    pub(super) fn may_be_said(&self, state: &State) -> String {
        let now = match state.phase {
            Phase::Gate(place) => format!("Say \"{}\"", self.profile.gates[place].confirm),
            Phase::Temperature => "Say degrees, or cold, warm, hot, not sure".to_owned(),
            Phase::StationGate { .. } => "Say what was done, or no to leave it out".to_owned(),
            Phase::Codes | Phase::Offer { .. } => "Say yes or no".to_owned(),
            Phase::CodeNumber => "Say the number of the code, or no".to_owned(),
            Phase::AllRead => "Say finish, or change and a pin".to_owned(),
            _ => "Say the reading, over range, or unstable".to_owned(),
        };
        format!("{now}. Also: repeat, wrong, back, skip, change pin, status, why, pause, stop.")
    }

    /// How far the session is.
    pub(super) fn status(&self, state: &State) -> String {
        let (read, left) = (state.standing().count(), state.left());
        format!("{read} read, {left} left. {}", self.prompt(state))
    }

    /// Why the last reading got its verdict, short enough to be heard.
    pub(super) fn why(&self, state: &State) -> String {
        let Some(taken) = state.standing().last() else { return "Nothing was read yet.".to_owned() };
        let circuit = self.circuit(&state.plan[taken.task]);
        match self.judge(state) {
            Err(refusal) => refusal.to_string(),
            Ok(judgement) => {
                let finding = judgement.finding(&circuit.id, state.plan[taken.task].station);
                format!("{}: {}", capital(&circuit.name), finding.map_or("not judged.".to_owned(), because))
            }
        }
    }

    /// What was read at a pin.
    pub(super) fn what_was(&self, state: &State, pin: &str) -> String {
        let at_pin = |task: &Task| self.circuit(task).pin.as_str().eq_ignore_ascii_case(pin);
        match state.standing().filter(|taken| at_pin(&state.plan[taken.task])).last() {
            Some(taken) => {
                let name = &self.circuit(&state.plan[taken.task]).name;
                format!("Pin {pin}, {name}: {}", self.read_back(state, taken.task))
            }
            None => format!("Pin {pin} was not read."),
        }
    }

    /// The reading that is furthest off so far.
    pub(super) fn worst(&self, state: &State) -> String {
        let Ok(judgement) = self.judge(state) else { return "Nothing to compare yet.".to_owned() };
        let key = |finding: &&Finding| (finding.class.is_suspect(), finding.peer_score.map_or(0.0, f64::abs));
        let worst = judgement
            .findings
            .iter()
            .filter(|finding| finding.class != Class::NotTaken)
            .max_by(|a, b| key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal));
        match worst.and_then(|finding| Some((finding, self.profile.circuit(&finding.circuit)?))) {
            Some((finding, circuit)) if finding.class.is_suspect() => {
                format!("{} {}", capital(&circuit.name), because(finding))
            }
            Some(_) => "None stands out so far.".to_owned(),
            None => "Nothing was read yet.".to_owned(),
        }
    }

    /// The conclusion as it is spoken: what, why, what else, what next, and the caution that stands on all of them.
    pub(super) fn conclusion(&self, judgement: &Judgement) -> Vec<String> {
        let conclusion = &judgement.conclusion;
        let mut lines = vec![conclusion.headline.clone()];
        if let Some(first) = conclusion.explanations.first() {
            let said = conclusion.headline.to_lowercase();
            // A reason that only says the headline again is not worth being heard twice.
            let new = |text: &str| {
                text.to_lowercase()
                    .split_whitespace()
                    .any(|word| !said.contains(word.trim_end_matches([':', '.', ','])))
            };
            let reasons = first.reasons_for.iter().filter(|reason| new(&reason.text));
            lines.extend(reasons.take(3).map(|reason| capital(&reason.text)));
        }
        lines.extend(conclusion.not_excluded.iter().take(2).map(|text| format!("Not excluded: {text}")));
        lines.extend(judgement.next_checks.first().map(|check| format!("Next: {}", check.text)));
        lines.extend(conclusion.cautions.iter().cloned());
        lines
    }
}

/// The reading as it is said back: the number alone where it is in plain ohms.
fn short(reading: &Reading) -> String {
    match reading {
        Reading::Value(shown) if shown.prefix == crate::quantity::Prefix::One => shown.number.to_string(),
        other => capital(&other.to_string()),
    }
}

/// A finding's numbers in one sentence.
fn because(finding: &Finding) -> String {
    let mut text = finding.class.word().to_owned();
    if let Some(resistance) = finding.resistance {
        text.push_str(&format!(", {} with leads off", ohms(resistance.get())));
    }
    if let Some(limits) = finding.limits {
        text.push_str(&format!(", window {} to {}", number(limits.low.get()), ohms(limits.high.get())));
    }
    if let Some(score) = finding.peer_score {
        text.push_str(&format!(", peer score {score:.1}"));
    }
    text.push('.');
    text
}

fn ohms(value: f64) -> String {
    format!("{} Ω", number(value))
}

fn number(value: f64) -> String {
    if value.abs() < 100.0 { format!("{value:.2}") } else { format!("{value:.0}") }
}

/// The text with a capital first letter.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
