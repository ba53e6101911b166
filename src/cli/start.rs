//! Owns the first screen: looks at microphone, voice and keys, and asks what the command line left open, by key or voice.

use super::{
    common::{self, Devices},
    run,
};
use crate::{
    profile,
    settings::Settings,
    start::{Chosen, Named, Next, Offer, Part, Ready, Start, StartNote},
    words::Words,
};
use crossterm::{
    event::{self, Event, KeyCode, KeyEventKind, KeyModifiers},
    terminal,
};
use miette::IntoDiagnostic;
use std::{
    io::{IsTerminal, Write},
    process::ExitCode,
    sync::Arc,
    time::Duration,
};

/// How long a key is waited for before the ears are looked at again.
const TICK: Duration = Duration::from_millis(50);
/// A question with so many answers or fewer takes one key, without Enter.
const ONE_KEY: u16 = 9;

/// Whether something can be asked: both ends are a terminal.
pub(super) fn can_ask() -> bool {
    std::io::stdin().is_terminal() && std::io::stdout().is_terminal()
}

/// Where nothing can be asked and nothing is named: what there is, and how to name it.
pub(super) fn without_terminal(devices: &Devices) -> miette::Result<()> {
    let settings = devices.settle()?;
    let words = common::words()?;
    for ready in look(&settings).0 {
        out!("{}", words.text(&ready));
    }
    out!("{}", words.text(&StartNote::NoTerminal));
    Ok(())
}

/// Asks what to do and does it.
pub(super) fn run(args: &run::Args) -> miette::Result<ExitCode> {
    let settings = args.devices.settle()?;
    let words = common::words()?;
    let (ready, hears) = look(&settings);
    out!("{}\n", words.text(&StartNote::Headline));
    for line in &ready {
        out!("{}", words.text(line));
    }
    let start = Start::new(offers(), parts(), meters());
    let chosen = Asking::open(start, &settings, Arc::clone(&words), hears)?.lead()?;
    match chosen {
        Chosen::Leave => Ok(ExitCode::SUCCESS),
        Chosen::Session { part, meter } => run::session(args, part, &meter),
        Chosen::Practise => super::practise::run(&super::practise::Args::first_lesson()),
        #[cfg(feature = "voice")]
        Chosen::Demo => super::demo::run(&super::demo::Args::default()),
        #[cfg(feature = "voice")]
        Chosen::SoundCheck => super::sound_check::run(&super::sound_check::Args::usual()),
        Chosen::NewProfile => super::profile::run(&super::profile::Args::questions()),
        // Not offered without sound.
        #[cfg(not(feature = "voice"))]
        Chosen::Demo | Chosen::SoundCheck => Ok(ExitCode::FAILURE),
    }
}

/// Asks what of part and meter the command line did not name. None: the person left.
pub(super) fn rest(
    devices: &Devices,
    part: Option<Part>,
    meter: Option<String>,
) -> miette::Result<Option<(Part, String)>> {
    if let (Some(part), Some(meter)) = (&part, &meter) {
        return Ok(Some((part.clone(), meter.clone())));
    }
    let settings = devices.settle()?;
    let Some(start) = Start::rest(parts(), meters(), part, meter) else { return Ok(None) };
    let (_, hears) = look(&settings);
    match Asking::open(start, &settings, common::words()?, hears)?.lead()? {
        Chosen::Session { part, meter } => Ok(Some((part, meter))),
        _ => Ok(None),
    }
}

fn offers() -> Vec<Offer> {
    let sound = cfg!(feature = "voice");
    let mut offers = vec![
        Offer::Demo,
        Offer::WithProfile,
        Offer::WithoutProfile,
        Offer::Practise,
        Offer::NewProfile,
        Offer::SoundCheck,
    ];
    offers.retain(|offer| sound || !matches!(offer, Offer::Demo | Offer::SoundCheck));
    offers
}

/// The profiles that can be used. A faulty one is told of by `check`.
fn parts() -> Vec<Named> {
    let language = common::language().unwrap_or(crate::words::FIRST_LANGUAGE);
    let title = |id: &str| Some(profile::find(id).ok()?.in_language(language).ok()?.value.title);
    profile::available()
        .into_iter()
        .filter_map(|one| Some(Named { title: title(&one.id)?, id: one.id }))
        .collect()
}

fn meters() -> Vec<Named> {
    let all = profile::available_meters().into_iter();
    all.filter_map(|one| Some(Named { title: profile::find_meter(&one.id).ok()?.value.title, id: one.id }))
        .collect()
}

/// Microphone, voice and keys, a line each; and whether it can be answered by voice.
fn look(settings: &Settings) -> (Vec<Ready>, bool) {
    let device = match (&settings.pedal.value, &settings.keypad.value) {
        (Some(pedal), _) => Some(pedal.device.clone()),
        (None, Some(keypad)) => Some(keypad.device.clone()),
        (None, None) => None,
    };
    let keys = Ready::Keys { device };
    if settings.keys.value {
        return (vec![Ready::KeysAlone, keys], false);
    }
    let (mut lines, hears) = look_at_sound(settings);
    lines.push(keys);
    (lines, hears)
}

#[cfg(feature = "voice")]
fn look_at_sound(settings: &Settings) -> (Vec<Ready>, bool) {
    use crate::hear::{Microphone, ModelFolder};
    let why = |error: &dyn std::fmt::Display| error.to_string();
    let wanted = settings.microphone.value.clone();
    let microphone =
        match (ModelFolder::find(settings.model.value.as_deref()), Microphone::new(wanted.clone()).check()) {
            (Err(error), _) => Ready::NoModel { why: why(&error) },
            (_, Err(error)) => Ready::NoMicrophone { why: why(&error) },
            (Ok(_), Ok(())) => {
                let listed = Microphone::list().unwrap_or_default();
                let default = listed.into_iter().find(|device| device.is_default).map(|device| device.name);
                Ready::Microphone { name: wanted.or(default).unwrap_or_default() }
            }
        };
    let hears = matches!(microphone, Ready::Microphone { .. });
    let voice = match crate::speak::system_voice(
        common::language().unwrap_or(crate::words::FIRST_LANGUAGE),
        0.0,
        None,
    ) {
        Ok(_) => Ready::Voice,
        Err(error) => Ready::NoVoice { why: why(&error) },
    };
    (vec![microphone, voice], hears)
}

#[cfg(not(feature = "voice"))]
fn look_at_sound(_: &Settings) -> (Vec<Ready>, bool) {
    (vec![Ready::NoSoundInBuild], false)
}

/// What the ears made of something said.
#[cfg_attr(not(feature = "voice"), allow(dead_code))]
enum Heard {
    Number(u16),
    Doubtful,
}

/// The questions with terminal, ears and voice.
struct Asking {
    start: Start,
    words: Arc<Words>,
    #[cfg(feature = "voice")]
    sound: Option<sound::Sound>,
}

impl Asking {
    #[cfg_attr(not(feature = "voice"), allow(unused_variables))]
    fn open(start: Start, settings: &Settings, words: Arc<Words>, hears: bool) -> miette::Result<Self> {
        #[cfg(feature = "voice")]
        let sound = if hears { Some(sound::Sound::open(settings, Arc::clone(&words))?) } else { None };
        Ok(Self {
            start,
            words,
            #[cfg(feature = "voice")]
            sound,
        })
    }

    fn lead(mut self) -> miette::Result<Chosen> {
        // For all the questions: keys pressed between two of them come as they are.
        let raw = Raw::start()?;
        loop {
            self.show(&raw);
            loop {
                let Some(number) = self.number(&raw)? else { return Ok(Chosen::Leave) };
                match self.start.answer(number) {
                    Next::Ask => break,
                    Next::Done(chosen) => return Ok(chosen),
                    Next::NoSuchNumber => {
                        let most = self.start.most();
                        raw.line(&self.words.text(&StartNote::NoSuchNumber { most }));
                    }
                }
            }
        }
    }

    fn show(&mut self, raw: &Raw) {
        let question = self.start.question();
        let lines = self.start.lines();
        raw.line(&format!("\n{}", self.words.text(&question)));
        for line in &lines {
            raw.line(&format!("  {}", self.words.text(line)));
        }
        let how = if self.hears() { StartNote::AnswerByKeyOrVoice } else { StartNote::AnswerByKey };
        let also = (self.start.most() > ONE_KEY).then(|| self.words.text(&StartNote::AnswerAndEnter));
        raw.line(&format!("{} {}", self.words.text(&how), also.unwrap_or_default()));
        // A long list is read, not listened to.
        #[cfg(feature = "voice")]
        if let Some(sound) = &mut self.sound {
            let listed = if question == crate::start::StartQuestion::Offer { &lines[..] } else { &[] };
            let all: Vec<String> = listed.iter().map(|line| self.words.spoken(line)).collect();
            sound.say(&format!("{} {}", self.words.spoken(&question), all.join(" ")));
        }
    }

    fn hears(&self) -> bool {
        #[cfg(feature = "voice")]
        return self.sound.is_some();
        #[cfg(not(feature = "voice"))]
        false
    }

    /// The next number by key or voice. None: the person leaves.
    fn number(&mut self, raw: &Raw) -> miette::Result<Option<u16>> {
        let mut typed = String::new();
        loop {
            if let Some(heard) = self.heard() {
                let (note, number) = match heard {
                    Heard::Number(number) => (StartNote::Heard { number }, Some(number)),
                    Heard::Doubtful => (StartNote::HeardInDoubt, None),
                };
                raw.line(&self.words.text(&note));
                if number.is_some() {
                    return Ok(number);
                }
            }
            if !event::poll(TICK).into_diagnostic()? {
                continue;
            }
            let Event::Key(key) = event::read().into_diagnostic()? else { continue };
            if key.kind == KeyEventKind::Release {
                continue;
            }
            self.hush();
            let enter = key.code == KeyCode::Enter || is_line_feed(&key);
            match key.code {
                _ if enter => {}
                KeyCode::Char('c' | 'd') if key.modifiers.contains(KeyModifiers::CONTROL) => return Ok(None),
                KeyCode::Esc | KeyCode::Char('q') => return Ok(None),
                KeyCode::Char(digit) if digit.is_ascii_digit() && typed.len() < 4 => {
                    typed.push(digit);
                    raw.show(&digit.to_string());
                }
                KeyCode::Backspace if typed.pop().is_some() => raw.show("\u{8} \u{8}"),
                _ => continue,
            }
            let whole = enter || self.start.most() <= ONE_KEY;
            if let (true, Ok(number)) = (whole, typed.parse()) {
                raw.line("");
                return Ok(Some(number));
            }
        }
    }

    fn heard(&mut self) -> Option<Heard> {
        #[cfg(feature = "voice")]
        return self.sound.as_mut().and_then(sound::Sound::heard);
        #[cfg(not(feature = "voice"))]
        None
    }

    /// A key stops the voice.
    fn hush(&mut self) {
        #[cfg(feature = "voice")]
        if let Some(sound) = &mut self.sound {
            sound.hush();
        }
    }
}

/// Enter, pressed before the terminal gave its keys as they are.
fn is_line_feed(key: &event::KeyEvent) -> bool {
    key.code == KeyCode::Char('j') && key.modifiers.contains(KeyModifiers::CONTROL)
}

/// The terminal key by key; as it was before when this goes.
struct Raw;

impl Raw {
    fn start() -> miette::Result<Self> {
        terminal::enable_raw_mode().into_diagnostic()?;
        Ok(Self)
    }

    fn line(&self, text: &str) {
        self.show(&format!("{}\r\n", text.replace('\n', "\r\n")));
    }

    #[allow(clippy::unused_self, reason = "only while the terminal is raw")]
    fn show(&self, text: &str) {
        let mut output = std::io::stdout().lock();
        // The terminal may be gone; then no key comes either.
        let _ = write!(output, "{text}").and_then(|()| output.flush());
    }
}

impl Drop for Raw {
    fn drop(&mut self) {
        // Nothing more can be done about a terminal that is gone.
        let _ = terminal::disable_raw_mode();
    }
}

#[cfg(feature = "voice")]
mod sound {
    //! Owns the ears and the voice of the first screen.

    use super::{
        super::{common, ears},
        Heard,
    };
    use crate::{
        grammar::{Context, Grammar, Spoken, SpokenNumber, Utterance},
        hear::{Config, Door, HearEvent, Listener, Microphone, Model, ModelFolder},
        session::Outcome,
        settings::Settings,
        speak::{Silent, Voice, VoiceEvent, spoken_form},
        words::Words,
    };
    use std::sync::Arc;

    pub(super) struct Sound {
        listener: Listener,
        voice: Box<dyn Voice>,
        grammar: Grammar,
        words: Arc<Words>,
        headset: bool,
        /// The line that is being said, by its number.
        saying: Option<u64>,
    }

    impl Sound {
        pub(super) fn open(settings: &Settings, words: Arc<Words>) -> miette::Result<Self> {
            let grammar = common::grammar()?;
            let context = Context::default();
            let (following, within) = (grammar.clone(), context.clone());
            let listener = Listener::start(Config {
                model: Model::load(&ModelFolder::find(settings.model.value.as_deref())?)?,
                phrases: grammar.phrases(&context),
                words: grammar.words(&context),
                parse: ears::parser(&grammar, &context),
                follows: Arc::new(move |words, meant| following.follow(words, meant, &within)),
                clips: None,
                source: Box::new(Microphone::new(settings.microphone.value.clone())),
                caution: ears::caution(settings),
            })?;
            let voice = if settings.silent.value {
                Box::<Silent>::default() as Box<dyn Voice>
            } else {
                common::open_voice(settings)?.0
            };
            Ok(Self { listener, voice, grammar, words, headset: settings.headset.value, saying: None })
        }

        /// Says a line, with the ears shut until it has been said.
        pub(super) fn say(&mut self, text: &str) {
            self.voice.hush();
            self.saying = Some(self.voice.say(&spoken_form(text, &self.grammar, &self.words)));
            if !self.headset {
                self.listener.set_door(Door::OwnVoice);
            }
        }

        pub(super) fn hush(&mut self) {
            if self.saying.take().is_some() {
                self.voice.hush();
                self.listener.set_door(Door::Open);
            }
        }

        /// What was heard since it was asked last.
        pub(super) fn heard(&mut self) -> Option<Heard> {
            while let Ok(event) = self.voice.events().try_recv() {
                if let (VoiceEvent::Quiet { after }, Some(order)) = (event, self.saying)
                    && after >= order
                {
                    self.saying = None;
                    self.listener.set_door(Door::Open);
                }
            }
            while let Ok(event) = self.listener.events().try_recv() {
                let HearEvent::Heard(heard) = event else { continue };
                match &heard.hearing.outcome {
                    Outcome::Understood(Utterance::Reading(Spoken::Number(number))) => {
                        return Some(whole(number).map_or(Heard::Doubtful, Heard::Number));
                    }
                    Outcome::Doubtful(_) => return Some(Heard::Doubtful),
                    _ => {}
                }
            }
            None
        }
    }

    /// A number that was said as such: no point, no prefix, no unit.
    fn whole(number: &SpokenNumber) -> Option<u16> {
        let plain = number.prefix.is_none() && number.unit.is_none() && number.number.places() == 0;
        if plain && !number.number.is_negative() { u16::try_from(number.number.digits()).ok() } else { None }
    }
}
