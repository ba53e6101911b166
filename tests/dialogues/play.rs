//! Chooses the dialogues and plays several at once. They wait most of the time: for a voice to end, for a silence.

use super::{
    listen::Ears,
    script::{self, Script},
    stage::{self, Played},
};
use std::{
    path::{Path, PathBuf},
    process::ExitCode,
    sync::Mutex,
    thread,
    time::Instant,
};

/// How many are played at once: on two cores more than this wait for each other.
const AT_ONCE: usize = 3;
/// Another number at once.
const AT_ONCE_VARIABLE: &str = "DIALOGUES_AT_ONCE";

/// Plays the dialogues that the command line names.
pub fn all() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let named: Vec<&String> = arguments.iter().filter(|argument| !argument.starts_with('-')).collect();
    let has = |flag: &str| arguments.iter().any(|argument| argument == flag);
    let files = files();
    let wanted = |file: &&PathBuf| {
        let name = file.file_stem().unwrap_or_default().to_string_lossy();
        named.is_empty() || named.iter().any(|part| name.contains(part.as_str()))
    };
    let files: Vec<&PathBuf> = files.iter().filter(wanted).collect();
    if has("--list") {
        files.iter().for_each(|file| println!("{}: test", file.file_stem().unwrap_or_default().display()));
        return ExitCode::SUCCESS;
    }
    let scripts: Result<Vec<Script>, String> = files.iter().map(|file| script::read(file)).collect();
    let (scripts, ears) = match (scripts, Ears::new()) {
        (Ok(scripts), Ok(ears)) => (scripts, ears),
        (Err(error), _) | (_, Err(error)) => {
            println!("{error}");
            return ExitCode::FAILURE;
        }
    };
    println!("\nrunning {} dialogues", scripts.len());
    let begun = Instant::now();
    let results = play(&scripts, &ears, has("--nocapture"));
    let failed = results.iter().filter(|played| played.result.is_err()).count();
    let repeats: u32 = results.iter().map(|played| played.repeats).sum();
    let mut hushes: Vec<u64> = results.iter().flat_map(|played| played.hushes.clone()).collect();
    hushes.sort_unstable();
    if let (Some(middle), Some(most)) = (hushes.get(hushes.len() / 2), hushes.last()) {
        println!("\nfrom a key to silence, {} times: median {middle} ms, at most {most} ms", hushes.len());
    }
    println!("said again because it was not understood: {repeats} times");
    println!(
        "\ntest result: {}. {} passed; {failed} failed; 0 ignored; 0 measured; finished in {:.0} s\n",
        if failed == 0 { "ok" } else { "FAILED" },
        results.len() - failed,
        begun.elapsed().as_secs_f64()
    );
    if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/dialogues/scripts");
    let entries = std::fs::read_dir(folder).expect("the scripts are beside this file");
    let mut files: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "txt"))
        .collect();
    files.sort();
    files
}

fn play(scripts: &[Script], ears: &Ears, show: bool) -> Vec<Played> {
    let at_once = std::env::var(AT_ONCE_VARIABLE).ok().and_then(|text| text.parse().ok()).unwrap_or(AT_ONCE);
    let waiting = Mutex::new(scripts.iter());
    let results = Mutex::new(Vec::new());
    thread::scope(|scope| {
        for _ in 0..at_once {
            scope.spawn(|| {
                loop {
                    let Some(script) = waiting.lock().expect("no player panics").next() else { return };
                    let played = one(script, ears, show);
                    results.lock().expect("no player panics").push((script, played));
                }
            });
        }
    });
    // Decoding is dithered and the machine may have been busy: what fails alone as well is broken.
    let results = results.into_inner().expect("no player panics").into_iter();
    results
        .map(|(script, played)| match played.result {
            Ok(()) => played,
            Err(_) => {
                println!("     {} once more, alone", script.name);
                one(script, ears, show)
            }
        })
        .collect()
}

fn one(script: &Script, ears: &Ears, show: bool) -> Played {
    let begun = Instant::now();
    let played = stage::play(script, ears);
    tell(script, &played, begun.elapsed().as_secs_f64(), show);
    played
}

/// One piece of text, so that dialogues that end together do not mix.
fn tell(script: &Script, played: &Played, seconds: f64, show: bool) {
    let mut text = String::new();
    if show || played.result.is_err() {
        text.push_str(&format!("\n---- {} ----\n{}\n", script.name, played.transcript.join("\n")));
    }
    let again = match played.repeats {
        0 => String::new(),
        repeats => format!(", {repeats} said again"),
    };
    let result = match &played.result {
        Ok(()) => "ok".to_owned(),
        Err(error) => format!("FAILED\n     {error}"),
    };
    text.push_str(&format!("test {} ({}; {seconds:.0} s{again}) ... {result}", script.name, script.title));
    println!("{text}");
}
