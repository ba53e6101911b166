//! Owns the ears of the command line: the listener with the shipped or a given model, set to what may be said.

use super::common::ReadyEars;
use crate::{
    grammar::{Context, Grammar, Utterance},
    hear::{
        Config, Door, Follows, HearEvent, Listener, Microphone, Model, ModelFolder, Parse, accept::Caution,
    },
    live::Ears,
    session::Session,
    settings::Settings,
};
use crossbeam_channel::Receiver;
use std::sync::Arc;

impl Ears for Listener {
    fn listen_for(&mut self, session: &Session, context: &Context) {
        let grammar = &session.grammar;
        self.set_meaning(parser(grammar, context), follower(session, context));
        self.set_phrases(grammar.phrases(context), grammar.words(context));
    }

    fn set_door(&mut self, door: Door) {
        Self::set_door(self, door);
    }

    fn levels(&self) -> Option<crate::hear::Levels> {
        Some(self.level())
    }

    fn events(&self) -> &Receiver<HearEvent> {
        Self::events(self)
    }
}

/// From words to meaning, in a context.
pub(super) fn parser(grammar: &Grammar, context: &Context) -> Parse {
    let (grammar, context) = (grammar.clone(), context.clone());
    Arc::new(move |words: &str| grammar.parse(words, &context))
}

/// What can follow, in a context.
pub(super) fn follower(session: &Session, context: &Context) -> Follows {
    let (session, context) = (session.clone(), context.clone());
    Arc::new(move |words: &str, meant: Option<&Utterance>| session.follow(words, meant, &context))
}

/// How careful the ears are, as the settings say.
pub(super) fn caution(settings: &Settings) -> Caution {
    Caution::of_doubts(settings.mark_from.value.share(), settings.ask_from.value.share())
}

/// Checks model and microphone now; the listener starts when the folder for clips is there.
pub(super) fn prepare(settings: &Settings) -> miette::Result<ReadyEars> {
    let model = Model::load(&ModelFolder::find(settings.model.value.as_deref())?)?;
    let microphone = Microphone::new(settings.microphone.value.clone());
    microphone.check()?;
    let keep_sound = settings.sound.value;
    let caution = caution(settings);
    Ok(Box::new(move |session, state, clips| {
        let context = session.context(state);
        let listener = Listener::start(Config {
            model,
            phrases: session.grammar.phrases(&context),
            words: session.grammar.words(&context),
            parse: parser(&session.grammar, &context),
            follows: follower(session, &context),
            clips: keep_sound.then(|| clips.to_owned()),
            source: Box::new(microphone),
            caution,
        })?;
        Ok(Box::new(listener) as Box<dyn Ears>)
    }))
}
