//! Owns `sound-check`: listens to the room and to given numbers through the ears of a session, and says what to change.

use super::{
    common::{self, Devices},
    ears,
};
use crate::{
    grammar::{Context, Grammar},
    hear::{
        Config, Door, HearEvent, Listener, Microphone, Model, ModelFolder, Trouble,
        accept::Caution,
        advice::{Advice, Found, Standing, advise},
        sound_check::{Came, Given, SoundCheck},
        tap::Tap,
    },
    keys::Input,
    settings::Scale,
    speak::{Silent, Voice, VoiceEvent, spoken_form},
};
use clap::Args as ClapArgs;
use crossbeam_channel::{Receiver, never, select, unbounded};
use miette::{IntoDiagnostic, miette};
use serde::Serialize;
use std::{
    io::Write,
    path::PathBuf,
    process::ExitCode,
    sync::Arc,
    time::{Duration, Instant},
};

/// Options of `sound-check`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands sound-check --microphone headset\n\
                  Enter goes on to the next number, q and Enter leaves. It fails (exit code 1) when a session \
                  would not do like this.")]
pub(super) struct Args {
    /// How many numbers are to be said
    #[arg(long, value_name = "COUNT", default_value_t = 10, value_parser = clap::value_parser!(u8).range(1..=10))]
    numbers: u8,
    /// Print what was found as JSON; lines for the person go to standard error
    #[arg(long)]
    json: bool,
    /// The microphone, by its name or a part of it
    #[arg(long, value_name = "NAME")]
    microphone: Option<String>,
    /// Show the numbers without speaking them
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    silent: Option<bool>,
    /// Pace of the voice, from -100 (slow) to 100 (fast)
    #[arg(long, value_name = "PACE", allow_negative_numbers = true, value_parser = common::scale)]
    pace: Option<Scale>,
    /// Loudness of the voice, from -100 (quiet) to 100 (full)
    #[arg(long, value_name = "VOLUME", allow_negative_numbers = true, value_parser = common::scale)]
    volume: Option<Scale>,
    /// Folder of a vosk model to listen with, instead of the one that comes along [env: BOTHHANDS_MODEL]
    #[arg(long, value_name = "DIR")]
    model: Option<PathBuf>,
}

impl Args {
    /// As without options.
    pub(super) fn usual() -> Self {
        Self {
            numbers: 10,
            json: false,
            microphone: None,
            silent: None,
            pace: None,
            volume: None,
            model: None,
        }
    }
}

/// How long the room is listened to.
const ROOM: Duration = Duration::from_secs(3);
/// How long a number is waited for.
const PATIENCE: Duration = Duration::from_secs(8);
/// After something else than the number, so long it may still become the number ("four", a pause, "point seven").
const GOES_ON: Duration = Duration::from_millis(1700);
/// Shut at least so long before a number: the ears notice within a twentieth of a second, and what was said before is then no
/// beginning of what is said after.
const SHUT: Duration = Duration::from_millis(200);
const TICK: Duration = Duration::from_millis(50);

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let devices = Devices {
        microphone: args.microphone.clone(),
        silent: args.silent,
        pace: args.pace,
        volume: args.volume,
        model: args.model.clone(),
        ..Devices::default()
    };
    let settings = devices.settle()?;
    let grammar = common::grammar()?;
    let model = Model::load(&ModelFolder::find(settings.model.value.as_deref())?)?;
    let microphone = Microphone::new(settings.microphone.value.clone());
    microphone.check()?;
    let (voice, notice) = if settings.silent.value {
        (Box::<Silent>::default() as Box<dyn Voice>, None)
    } else {
        common::open_voice(&settings)?
    };
    let (tap, source) = Tap::into(Box::new(microphone));
    let listener = Listener::start(config(model, &grammar, source))?;
    let (send, typed) = unbounded();
    common::send_lines(send);
    let check = SoundCheck::new(usize::from(args.numbers), &grammar);
    let words = common::words()?;
    let mut course = Course { check, grammar, words, listener, tap, voice, typed, json: args.json };
    if let Some(notice) = notice {
        course.show("note", &notice);
    }
    let left = matches!(course.whole()?, Typed::Leave);
    let (standing, advice) = advise(&course.check.found());
    course.tell(standing, &advice, left)?;
    let fit = left || standing != Standing::Unfit;
    Ok(if fit { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// The ears as in a session, set to readings.
fn config(model: Model, grammar: &Grammar, source: Box<dyn crate::hear::AudioSource>) -> Config {
    let context = Context::default();
    let (following, within) = (grammar.clone(), context.clone());
    Config {
        model,
        phrases: grammar.phrases(&context),
        words: grammar.words(&context),
        parse: ears::parser(grammar, &context),
        follows: Arc::new(move |words, meant| following.follow(words, meant, &within)),
        clips: None,
        source,
        caution: Caution::default(),
    }
}

/// What was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Typed {
    Nothing,
    /// Enter: on with it.
    On,
    /// Q: enough.
    Leave,
}

/// A sound check with its devices.
struct Course {
    check: SoundCheck,
    grammar: Grammar,
    words: std::sync::Arc<crate::words::Words>,
    listener: Listener,
    tap: Tap,
    voice: Box<dyn Voice>,
    typed: Receiver<Input>,
    json: bool,
}

impl Course {
    fn whole(&mut self) -> miette::Result<Typed> {
        if self.room()? == Typed::Leave {
            return Ok(Typed::Leave);
        }
        while let Some((place, given)) = self.check.now() {
            let (given, count) = (given.clone(), self.check.count());
            if self.number(place, count, &given)? == Typed::Leave {
                return Ok(Typed::Leave);
            }
        }
        Ok(Typed::Nothing)
    }

    /// Listens to the room, twice where somebody spoke the first time.
    fn room(&mut self) -> miette::Result<Typed> {
        for line in ["Be quiet for three seconds.", "That was not quiet. Once more: three seconds."] {
            if self.say("says", line, line)? == Typed::Leave {
                return Ok(Typed::Leave);
            }
            let _ = self.tap.take();
            let until = Instant::now() + ROOM;
            let mut spoke = false;
            while Instant::now() < until {
                match self.next_event(TICK)? {
                    Next::Typed(Typed::Leave) => return Ok(Typed::Leave),
                    Next::Typed(Typed::On) => break,
                    Next::Heard(HearEvent::SoundBegan) => spoke = true,
                    _ => {}
                }
            }
            self.check.room(&self.tap.take());
            if !spoke {
                break;
            }
        }
        Ok(Typed::Nothing)
    }

    /// Asks for one number and listens for it.
    fn number(&mut self, place: usize, count: usize, given: &Given) -> miette::Result<Typed> {
        let shown = format!("Say: {}    ({}; {place} of {count})", given.number, given.words);
        let typed = self.say("says", &shown, &format!("Say: {}.", given.number))?;
        if typed == Typed::Leave {
            return Ok(Typed::Leave);
        }
        let _ = self.tap.take();
        let mut until = Instant::now() + PATIENCE;
        // Speech that goes on is waited for, but not for ever.
        let (last, mut speaking, mut typed) = (until + PATIENCE, false, Typed::Nothing);
        while Instant::now() < last && (speaking || Instant::now() < until) && typed == Typed::Nothing {
            match self.next_event(TICK)? {
                Next::Typed(now) => typed = now,
                Next::Heard(HearEvent::SoundBegan) => speaking = true,
                Next::Heard(HearEvent::Heard(heard)) => {
                    speaking = false;
                    match self.check.heard(&heard.hearing) {
                        Some(Came::Right) => break,
                        Some(_) => until = Instant::now() + GOES_ON,
                        None => {}
                    }
                }
                _ => {}
            }
        }
        if typed == Typed::Leave {
            return Ok(Typed::Leave);
        }
        self.check.next(&self.tap.take());
        if let Some(done) = self.check.numbers().last() {
            let heard = done.heard.as_deref().unwrap_or("nothing");
            let came = match done.came {
                Some(Came::Right) => "right",
                Some(Came::Asked) => "not sure: a session would ask",
                Some(Came::Wrong) => "WRONG",
                Some(Came::Unheard) | None => "not heard",
            };
            self.show("heard", &format!("{heard}  [{came}]"));
        }
        Ok(typed)
    }

    /// Shows and says a line, with the ears shut until it has been said. Something typed cuts it off.
    fn say(&mut self, who: &str, shown: &str, spoken: &str) -> miette::Result<Typed> {
        self.show(who, shown);
        let begun = Instant::now();
        self.listener.set_door(Door::OwnVoice);
        let order = self.voice.say(&spoken_form(spoken, &self.grammar, &self.words));
        let mut typed = Typed::Nothing;
        loop {
            match self.next_event(TICK)? {
                Next::Quiet(after) if after >= order => break,
                Next::VoiceGone => break,
                Next::Typed(now) => {
                    typed = now;
                    self.voice.hush();
                    break;
                }
                _ => {}
            }
        }
        std::thread::sleep(SHUT.saturating_sub(begun.elapsed()));
        self.listener.set_door(Door::Open);
        Ok(typed)
    }

    /// Waits for whatever comes first.
    fn next_event(&mut self, wait: Duration) -> miette::Result<Next> {
        let (ears, voice) = (self.listener.events().clone(), self.voice.events().clone());
        select! {
            recv(ears) -> event => match event {
                Ok(HearEvent::Trouble(Trouble::Dropped(samples))) => self.check.lost(samples),
                Ok(HearEvent::Trouble(trouble)) => self.show("note", &trouble.to_string()),
                Ok(HearEvent::SourceLost(why)) => {
                    return Err(miette!(help = "plug it in and check again", "the microphone is gone: {why}"));
                }
                Ok(event) => return Ok(Next::Heard(event)),
                Err(_) => return Err(miette!("the listening thread ended")),
            },
            recv(voice) -> event => match event {
                Ok(VoiceEvent::Quiet { after }) => return Ok(Next::Quiet(after)),
                Ok(VoiceEvent::Trouble(trouble)) => {
                    let text = self.words.text(&trouble);
                    self.show("note", &text);
                }
                Ok(VoiceEvent::Began(_)) => {}
                Err(_) => return Ok(Next::VoiceGone),
            },
            recv(self.typed) -> line => match line {
                Ok(Input::Line(line)) => {
                    let leave = matches!(line.trim(), "q" | "Q");
                    return Ok(Next::Typed(if leave { Typed::Leave } else { Typed::On }));
                }
                // Nothing more will be typed: it goes on by voice.
                Ok(Input::Ended) | Err(_) => self.typed = never(),
                Ok(_) => {}
            },
            default(wait) => {}
        }
        Ok(Next::Nothing)
    }

    /// A line for the person, who may have the JSON go elsewhere.
    fn show(&self, who: &str, text: &str) {
        if self.json {
            // The terminal may be gone.
            let _ = writeln!(std::io::stderr(), "{who:<9}{text}");
        } else {
            out!("{who:<9}{text}");
        }
    }

    /// What was found and what to change.
    fn tell(&self, standing: Standing, advice: &[Advice], left: bool) -> miette::Result<()> {
        let found = self.check.found();
        if self.json {
            let advice = advice.iter().map(|a| Told { what: *a, text: a.to_string() }).collect();
            let numbers = self.check.numbers().collect();
            let all = Json { standing, left, found, numbers, advice };
            out!("{}", serde_json::to_string_pretty(&all).into_diagnostic()?);
            return Ok(());
        }
        for line in lines(&found) {
            out!("{line}");
        }
        if left {
            out!("\nLeft before the end.");
        } else {
            out!("\n{}", standing.sentence());
        }
        for advice in advice {
            out!("- {advice}");
        }
        Ok(())
    }
}

/// What may come next.
enum Next {
    Nothing,
    Heard(HearEvent),
    Quiet(u64),
    VoiceGone,
    Typed(Typed),
}

/// The figures, a line each.
fn lines(found: &Found) -> Vec<String> {
    let mut lines = vec![format!(
        "\nRoom     {:.0} dB, loudest moment {:.0} dB, hum of the mains {:.0} % of it",
        found.room_dbfs,
        found.room_loudest_dbfs,
        found.hum * 100.0
    )];
    if let (Some(speech), Some(above)) = (found.speech_dbfs, found.above_room_db) {
        lines.push(format!(
            "Speech   {speech:.0} dB, {above:.0} dB above the room, {:.2} % of it cut off at the limit",
            found.clipped * 100.0
        ));
    } else if let Some(level) = found.unheard_dbfs {
        lines.push(format!("Speech   none; the loudest moment was {level:.0} dB"));
    }
    if found.given > 0 {
        lines.push(format!(
            "Numbers  {} of {} right, {} not sure, {} wrong, {} not heard",
            found.right, found.given, found.asked, found.wrong, found.unheard
        ));
    }
    lines.push("(dB against full scale: 0 is the loudest that the microphone can give)".into());
    lines
}

#[derive(Serialize)]
struct Json<'a> {
    standing: Standing,
    left: bool,
    found: Found,
    numbers: Vec<&'a Given>,
    advice: Vec<Told>,
}

#[derive(Serialize)]
struct Told {
    #[serde(flatten)]
    what: Advice,
    text: String,
}
