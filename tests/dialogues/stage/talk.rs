//! What goes back and forth: the program's lines, and the technician who answers, types, and says again what was not understood.

use super::*;

impl Stage<'_> {
    /// The program's next line of any kind; none when it has ended.
    pub(super) fn line(&mut self, until: Instant) -> Result<Option<Line>, String> {
        let wait = until.saturating_duration_since(Instant::now());
        match self.lines.recv_timeout(wait) {
            Ok(line) => {
                self.transcript.push(format!("{:<9}{}", line.who, line.text));
                Ok(Some(line))
            }
            Err(RecvTimeoutError::Timeout) => Err("nothing came in time".into()),
            Err(RecvTimeoutError::Disconnected) => Ok(None),
        }
    }

    /// Notes a line that was said. Gives it without what is only shown.
    pub(super) fn said_line(&mut self, line: &Line) -> String {
        let said = line.text.split("  [").next().unwrap_or_default().to_owned();
        self.spoken.push(said.clone());
        let now = self.heard_ms();
        let ago = u64::try_from(line.at.elapsed().as_millis()).unwrap_or(u64::MAX);
        self.shown = Some((said.clone(), now.saturating_sub(ago), Instant::now()));
        said
    }

    /// The next line that is said; `None` when the time is over.
    pub(super) fn next_said(&mut self, until: Instant) -> Result<Option<(String, Option<Message>)>, String> {
        loop {
            let line = match self.waiting.pop_front() {
                Some(line) => line,
                None => match self.line(until) {
                    Ok(Some(line)) => line,
                    Ok(None) => return Err("the program has ended".into()),
                    Err(_) => return Ok(None),
                },
            };
            if matches!(line.who.as_str(), "says" | "asks" | "careful" | "result") {
                let said = self.said_line(&line);
                return Ok(Some((said, line.message)));
            }
        }
    }

    /// Waits for the answer; says again what was not understood, as a person would.
    pub(super) fn answered(&mut self, patterns: &[&str]) -> Result<(), String> {
        let mut repeats = 0;
        let mut until = Instant::now() + if self.last_said.is_some() { NO_REACTION } else { LIMIT };
        loop {
            let next = self.next_said(until)?;
            let (said, message) = next.map_or((None, None), |(said, message)| (Some(said), message));
            if let Some(said) = &said
                && patterns.iter().any(|pattern| fits(pattern, said))
            {
                self.last_said = None;
                return Ok(());
            }
            let asked = said.is_none() || message.as_ref().is_some_and(asks);
            match self.last_said.clone() {
                Some(words) if asked && repeats < MOST_REPEATS => {
                    self.quiet()?;
                    // One thing alone is asked, and it is what was said.
                    let right = message.as_ref().is_some_and(|message| asks_for(message, &words));
                    self.say(if right { "yes" } else { &words })?;
                    if right {
                        self.last_said = Some(words);
                    }
                    repeats += 1;
                    self.repeats += 1;
                    until = Instant::now() + NO_REACTION;
                }
                _ => {
                    let said = said.map_or("nothing".into(), |said| format!("\"{said}\""));
                    return Err(format!("said was {said}, not \"{}\"", patterns.join("\" or \"")));
                }
            }
        }
    }

    /// Waits for a notice; says again what brought no reaction, as a person would.
    pub(super) fn noticed(&mut self, words: &str) -> Result<(), String> {
        let end = Instant::now() + LIMIT;
        let mut repeats = 0;
        loop {
            let until = if self.last_said.is_some() { end.min(Instant::now() + NO_REACTION) } else { end };
            let line = match self.line(until) {
                Ok(None) => return Err("the program has ended".into()),
                Ok(line) => line,
                Err(late) if self.last_said.is_none() => return Err(late),
                Err(_) => None,
            };
            match line {
                Some(line) if line.who == "notice" && line.text.contains(words) => {
                    self.last_said = None;
                    return Ok(());
                }
                Some(line) if line.who != "asks" || self.last_said.is_none() => self.waiting.push_back(line),
                line => {
                    if repeats == MOST_REPEATS {
                        return Err(format!("there is no notice of \"{words}\""));
                    }
                    if let Some(asked) = &line {
                        self.said_line(asked);
                    }
                    repeats += 1;
                    self.repeats += 1;
                    let again = self.last_said.clone().unwrap_or_default();
                    self.quiet()?;
                    self.say(&again)?;
                }
            }
        }
    }

    pub(super) fn nothing(&mut self, time: Duration) -> Result<(), String> {
        self.last_said = None;
        match self.next_said(Instant::now() + time)? {
            None => Ok(()),
            Some((said, _)) => Err(format!("nothing should be said, but it was \"{said}\"")),
        }
    }

    pub(super) fn say(&mut self, words: &str) -> Result<(), String> {
        self.transcript.push(format!("(voice)  \"{words}\""));
        self.inputs.push(words.replace(" | ", " "));
        let mut samples = Vec::new();
        for part in words.split(" | ") {
            if !samples.is_empty() {
                samples.extend([0; 16 * 300]);
            }
            let part = room::voice(part, self.folder.path())?;
            let loud = |sample: &i16| sample.unsigned_abs() > 100;
            let (from, to) = (part.iter().position(loud), part.iter().rposition(loud));
            samples.extend(&part[from.unwrap_or(0)..to.map_or(part.len(), |to| to + 1)]);
        }
        self.sound.speak_samples(&samples).map_err(text)
    }

    pub(super) fn type_line(&mut self, line: &str) -> Result<(), String> {
        self.transcript.push(format!("(keys)   \"{line}\""));
        self.inputs.push(line.to_owned());
        self.last_said = None;
        writeln!(self.stdin, "{line}").map_err(text)
    }
}

/// Whether a line asks for the same once more.
fn asks(message: &Message) -> bool {
    message.any(&|one| matches!(one, Message::Question(_) | Message::Info(Info::SayAgain)))
}

/// Whether a line asks whether just these words were said.
fn asks_for(message: &Message, words: &str) -> bool {
    let meant = |one: &Message| matches!(one, Message::Question(Question::Confirm { meant }) if meant.eq_ignore_ascii_case(words));
    message.any(&meant)
}

/// Whether a line is the expected one: exactly, or with `...` for what may stand in front or behind.
fn fits(pattern: &str, line: &str) -> bool {
    match (pattern.strip_prefix("..."), pattern.strip_suffix("...")) {
        (Some(_), Some(_)) if pattern == "..." => true,
        (Some(rest), Some(_)) => line.contains(rest.trim_end_matches("...")),
        (Some(rest), None) => line.ends_with(rest),
        (None, Some(rest)) => line.starts_with(rest),
        (None, None) => line == pattern,
    }
}
