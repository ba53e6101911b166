//! Owns `practise`: this very program in a second process, by keys, and a bench with an invented part in front of it.
//!
//! The bench hears the session's lines as values, moves the probes as they say, and shows the meter. What is typed goes on to the session,
//! except what is asked of the bench itself. Before the session concludes, the person does.

use super::common;
use crate::{
    grammar::{Context, Spoken, Utterance},
    keys,
    profile::{self, Profile},
    quantity::{Prefix, Shown, Unit},
    screen::{VALUE, VALUES_VARIABLE},
    session::{Message, message::Prompt},
    simulate::{Bench, BenchFault, BenchLine, LESSONS},
    words::Words,
};
use clap::Args as ClapArgs;
use crossbeam_channel::{Receiver, select, unbounded};
use miette::{IntoDiagnostic, miette};
use std::{
    io::{BufRead, BufReader, Read, Write},
    path::PathBuf,
    process::{Command, ExitCode, Stdio},
    thread,
};

/// Options of `practise`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Faults of a circuit: open, shorted, shorted-turns, bad-joint, dirty, leak.\n\
                  Example: bothhands practise --lesson 1\n\
                  Example: bothhands practise sweeper-valve-block --fault coil-c=open --fault coil-f=dirty")]
pub(super) struct Args {
    /// What is on the bench: a profile's name or file; left out: that of the lesson
    #[arg(value_name = "PROFILE")]
    profile: Option<String>,
    /// A lesson, from easy to hard; 0 lists them
    #[arg(long, value_name = "N")]
    lesson: Option<usize>,
    /// A fault that is chosen instead of hidden; several times for several
    #[arg(long, value_name = "CIRCUIT=FAULT", requires = "profile")]
    fault: Vec<String>,
    /// How many hidden faults there are, where no lesson says so
    #[arg(long, value_name = "COUNT", default_value_t = 1)]
    faults: usize,
    /// What is hidden is drawn from this; left out: from the clock
    #[arg(long, value_name = "N")]
    seed: Option<u64>,
    /// The meter, by name or file
    #[arg(long, short, value_name = "NAME|FILE", default_value = "handheld-60000")]
    meter: String,
    /// Where the journal goes, instead of the usual place for data
    #[arg(long, value_name = "DIR", env = "BOTHHANDS_DATA")]
    data: Option<PathBuf>,
}

impl Args {
    /// What the first screen offers.
    pub(super) fn first_lesson() -> Self {
        Self {
            profile: None,
            lesson: Some(1),
            fault: Vec::new(),
            faults: 1,
            seed: None,
            meter: "handheld-60000".to_owned(),
            data: None,
        }
    }
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let words = common::words()?;
    let lesson = match (args.lesson, &args.profile) {
        (Some(0), _) => {
            for (at, lesson) in LESSONS.iter().enumerate() {
                let profile = lesson.profile.to_owned();
                out!("{}", words.text(&BenchLine::Lesson { number: at + 1, about: lesson.about, profile }));
            }
            return Ok(ExitCode::SUCCESS);
        }
        (Some(number), _) => Some(LESSONS.get(number - 1).ok_or_else(|| {
            miette!(help = "bothhands practise --lesson 0 lists them", "there are {} lessons", LESSONS.len())
        })?),
        (None, None) => Some(&LESSONS[0]),
        (None, Some(_)) => None,
    };
    let named = args.profile.as_deref().or(lesson.map(|lesson| lesson.profile)).unwrap_or_default();
    let part = profile::find(named)?.in_language(common::language()?)?.value;
    let meter = profile::find_meter(&args.meter)?.value;
    let seed =
        args.seed.unwrap_or_else(|| u64::try_from(jiff::Timestamp::now().as_millisecond()).unwrap_or(1));
    let faults = if args.fault.is_empty() {
        let kinds = lesson.map_or(&BenchFault::ALL[..], |lesson| lesson.kinds);
        Bench::hidden(&part, kinds, lesson.map_or(args.faults, |lesson| lesson.faults), seed)
    } else {
        args.fault.iter().map(|text| chosen(&part, text)).collect::<miette::Result<Vec<_>>>()?
    };
    let bench = Bench::new(part, meter, faults, seed);
    practise(args, named, bench, &words)
}

/// A fault as it is chosen: `coil-c=open`, or by the pin: `3=open`.
fn chosen(part: &Profile, text: &str) -> miette::Result<(usize, BenchFault)> {
    let (circuit, fault) =
        text.split_once('=').ok_or_else(|| miette!("--fault {text}: write CIRCUIT=FAULT"))?;
    let place = circuit_of(part, circuit).ok_or_else(|| {
        let all: Vec<&str> = part.circuits.iter().map(|circuit| circuit.id.as_str()).collect();
        miette!(
            help = format!("there are {}", all.join(", ")),
            "--fault {text}: there is no circuit \"{circuit}\""
        )
    })?;
    let all: Vec<&str> = BenchFault::ALL.iter().map(|fault| fault.name()).collect();
    let fault = BenchFault::ALL.into_iter().find(|known| known.name() == fault).ok_or_else(|| {
        miette!(
            help = format!("there are {}", all.join(", ")),
            "--fault {text}: there is no fault \"{fault}\""
        )
    })?;
    Ok((place, fault))
}

/// A circuit by identifier, name or pin.
fn circuit_of(part: &Profile, text: &str) -> Option<usize> {
    let text = text.trim();
    part.circuits.iter().position(|circuit| {
        let named = [circuit.id.as_str(), &circuit.name].iter().any(|name| name.eq_ignore_ascii_case(text));
        named || circuit.is_at(&text.into())
    })
}

fn practise(args: &Args, named: &str, mut bench: Bench, words: &Words) -> miette::Result<ExitCode> {
    let mut program = Command::new(std::env::current_exe().into_diagnostic()?);
    program.args(["--profile", named, "--meter", &args.meter, "--keys", "--plain", "--simulated"]);
    program.args(["--language", words.language()]);
    if let Some(data) = &args.data {
        program.arg("--data").arg(data);
    }
    program.env(VALUES_VARIABLE, "1");
    let mut child = program.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().into_diagnostic()?;
    let (Some(to), Some(from)) = (child.stdin.take(), child.stdout.take()) else {
        return Err(miette!("the session has no input or output"));
    };
    let degrees = bench.temperature_c().round() as i64;
    out!("{}", words.text(&BenchLine::Hello { part: bench.profile().title.clone(), degrees }));
    let said = lines_of(from);
    let typed = lines_of(std::io::stdin());
    let mut typed = Some(&typed);
    let mut to = Some(to);
    let grammar = common::grammar()?;
    let context = Context::of_profile(bench.profile());
    let mut all_read = false;
    let mut score = None;
    // Typed lines wait until the session has answered the one before: on a terminal nobody notices, and a script stays in step.
    let mut awaits = false;
    loop {
        let ready = typed.filter(|_| awaits).cloned().unwrap_or_else(crossbeam_channel::never);
        select! {
            recv(said) -> line => {
                let Ok(line) = line else { break };
                match value_of(&line) {
                    None => out!("{line}"),
                    Some(message) => {
                        awaits = true;
                        all_read = matches!(message.last(), Message::Prompt(Prompt::AllRead));
                        if let Some(reading) = bench.follow(&message) {
                            out!("{}", words.text(&BenchLine::Display(reading)));
                        }
                    }
                }
            }
            recv(ready) -> line => {
                let Ok(line) = line else {
                    // Nobody types any more: the session is told so, and ends.
                    typed = None;
                    to = None;
                    continue;
                };
                let answer = match line.trim() {
                    "where" => Some(BenchLine::Probes(bench.probes())),
                    "display" => Some(bench.shown().map_or(BenchLine::NothingShown, BenchLine::Display)),
                    _ => None,
                };
                if let Some(answer) = answer {
                    out!("{}", words.text(&answer));
                    continue;
                }
                let ends = matches!(line.trim(), "f" | "" | "verdict") && all_read && score.is_none();
                if ends {
                    score = Some(verdict(&bench, typed, words)?);
                } else if let Some(Utterance::Reading(spoken)) = keys::parse(&line, &grammar, &context) {
                    bench.typed(shown_of(&spoken));
                }
                awaits = false;
                let sent = if ends { "f" } else { &line };
                if let Some(to) = &mut to {
                    writeln!(to, "{sent}").into_diagnostic()?;
                }
            }
        }
    }
    let status = child.wait().into_diagnostic()?;
    if let Some(condemned) = score {
        out!("\n{}", words.text(&BenchLine::Truth { faults: bench.truth() }));
        out!("{}", words.text(&BenchLine::Score(bench.score(&condemned))));
    }
    Ok(if status.success() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// What the person would replace, by the places of the circuits.
fn verdict(bench: &Bench, typed: Option<&Receiver<String>>, words: &Words) -> miette::Result<Vec<usize>> {
    loop {
        out!("{}", words.text(&BenchLine::YourVerdict));
        let Some(line) = typed.and_then(|typed| typed.recv().ok()) else { return Ok(Vec::new()) };
        let mut places = Vec::new();
        let mut unknown = None;
        for text in line.split([',', ';']).map(str::trim).filter(|text| !text.is_empty()) {
            match circuit_of(bench.profile(), text) {
                Some(place) if !places.contains(&place) => places.push(place),
                Some(_) => {}
                None => unknown = Some(text.to_owned()),
            }
        }
        match unknown {
            None => return Ok(places),
            Some(typed) => out!("{}", words.text(&BenchLine::NoCircuit { typed })),
        }
    }
}

/// A typed reading as a display shows it; none for over range and unsteady.
fn shown_of(spoken: &Spoken) -> Option<Shown> {
    match spoken {
        Spoken::Number(number) => Some(Shown {
            number: number.number,
            prefix: number.prefix.unwrap_or(Prefix::One),
            unit: number.unit.unwrap_or(Unit::Ohm),
        }),
        Spoken::OverRange | Spoken::Unstable => None,
    }
}

fn lines_of(from: impl Read + Send + 'static) -> Receiver<String> {
    let (send, lines) = unbounded();
    thread::spawn(move || {
        for line in BufReader::new(from).lines().map_while(Result::ok) {
            if send.send(line).is_err() {
                return;
            }
        }
    });
    lines
}

/// A line that is a value.
fn value_of(line: &str) -> Option<Message> {
    #[derive(serde::Deserialize)]
    struct Said {
        message: Message,
    }
    serde_json::from_str(line.strip_prefix(VALUE)?).ok().map(|Said { message }| message)
}
