//! Owns the leads: what the probes show when they are held together, and what is done where that cannot be.

use super::{
    message::{Message, Prepared, Prompt, Question},
    state::{Given, Input, Phase, Prompts, State},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::{Command, Spoken, Utterance},
    quantity::{Reading, Shown},
    verdict::Leads,
};

/// Above this, in ohms, leads and plugs deserve a look before they are believed. Common practice, no source.
const LEADS_HIGH_OHM: f64 = 1.0;
/// Above this, in ohms, it is no reading of leads at all: taken off, it would turn sound parts into shorted ones. Common
/// practice, no source: worn leads with plugs and clips read 2 or 3.
const LEADS_MOST_OHM: f64 = 5.0;

impl Session {
    pub(super) fn leads_prompt(&self, state: &State) -> Message {
        let full = (state.prompts == Prompts::Full).then(|| Prompt::LeadsInFull.into());
        Message::from(Prompt::Leads).then(full)
    }
}

impl Turn<'_> {
    /// Takes what the probes show when held together. A high or moving value is sent back once: leads are worn more often
    /// than parts are broken. One that no leads have is never taken.
    pub(super) fn leads(&mut self, spoken: Spoken) {
        let reading = match self.fit(spoken) {
            Ok(reading) => reading,
            Err(doubt) => return self.doubt(doubt),
        };
        self.state.ask = None;
        let doubted = self.state.preparations.last().is_some_and(|preparation| preparation.leads_doubted);
        let most = if self.state.rules.are_first() { f64::INFINITY } else { LEADS_MOST_OHM };
        match reading {
            Reading::OverRange { .. } | Reading::NotTaken => self.answer_alone(Prepared::LeadsOpen),
            Reading::Unstable { .. } if doubted => self.set_leads(Leads::Unknown, Prepared::LeadsUnknown),
            Reading::Value(shown) if shown.value() <= LEADS_HIGH_OHM => {
                self.set_leads(Leads::Shown(shown), Prepared::LeadsTaken { leads: shown.number });
            }
            Reading::Value(shown) if doubted && shown.value() <= most => {
                self.set_leads(Leads::Shown(shown), Prepared::LeadsHigh { leads: shown.number });
            }
            Reading::Value(_) if doubted => self.answer_alone(Prepared::LeadsRefused { reading }),
            Reading::Unstable { .. } | Reading::Value(_) => {
                if let Some(preparation) = self.state.preparations.last_mut() {
                    preparation.leads_doubted = true;
                }
                self.answer_alone(Prepared::LeadsDoubted { reading });
            }
        }
    }

    pub(super) fn command_at_leads(&mut self, command: &Command) -> bool {
        let skips = *command == Command::Skip;
        if skips {
            self.set_leads(Leads::Unknown, Prepared::LeadsNotMeasured);
        }
        skips
    }

    fn set_leads(&mut self, leads: Leads, answer: Prepared) {
        let given = Given { what: leads, at: self.at, origin: self.origin.clone() };
        if let Some(preparation) = self.state.preparations.last_mut() {
            // Measured once more in between, what was prepared is no younger for it.
            preparation.complete.get_or_insert(given.at);
            if self.state.rules.are_first() {
                preparation.complete = Some(given.at);
            }
            preparation.leads = Some(given);
            preparation.leads_questioned = false;
        }
        self.state.inputs.push(Input::Leads);
        self.advance(0);
        self.answer(answer);
    }

    /// Goes back to the leads from anywhere among the readings. Those stay; they are judged anew with what the leads read then.
    pub(super) fn zero_leads(&mut self) {
        self.state.ask = None;
        match self.state.phase {
            Phase::Reading(place) => self.state.return_to = Some(place),
            Phase::Leads | Phase::AllRead | Phase::Offer { .. } => {}
            _ => return self.prompt_after(super::message::Info::NotYet),
        }
        self.state.phase = Phase::Leads;
        if let Some(preparation) = self.state.preparations.last_mut() {
            preparation.leads_doubted = false;
        }
        self.prompt();
    }

    /// Asks about the leads where a reading comes out at less than they read alone. Tells whether it asked: once for each reading
    /// of the leads.
    pub(super) fn question_leads(&mut self, reading: Reading) -> Option<Question> {
        let preparation = self.state.preparations.last_mut()?;
        let leads = preparation.leads.as_ref()?.what.shown()?;
        let Reading::Value(shown) = reading else { return None };
        let before = std::mem::replace(&mut preparation.leads_questioned, true);
        let asks = !before && !self.state.rules.are_first() && is_less(shown, leads);
        if !asks {
            preparation.leads_questioned = before;
            return None;
        }
        Some(Question::LessThanLeads { leads: leads.number })
    }

    pub(super) fn zero_leads_utterance() -> Utterance {
        Utterance::Command(Command::ZeroLeads)
    }
}

/// Whether a reading is clearly less than the leads alone, or, where those are high, no more than them.
fn is_less(shown: Shown, leads: Shown) -> bool {
    let within = 2.0 * shown.step().max(leads.step());
    let more = shown.value() - leads.value();
    if leads.value() > LEADS_HIGH_OHM { more <= within } else { more < -within }
}
