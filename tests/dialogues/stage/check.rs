//! What has to be true in the end: what the loudspeaker played, and what stands in the journal.

use super::*;

impl Stage<'_> {
    pub(super) fn samples(&self, segment: &Segment) -> Vec<i16> {
        let samples = self.loudspeaker.as_ref().map(Recording::samples).unwrap_or_default();
        let at = |ms: u64| usize::try_from(ms * 16).unwrap_or(usize::MAX).min(samples.len());
        samples[at(segment.from)..at(segment.to)].to_vec()
    }

    pub(super) fn decode(&self, segment: &Segment) -> String {
        self.ears.decode(&self.samples(segment), std::slice::from_ref(&segment.text))
    }

    pub(super) fn compare(
        &mut self,
        how: &str,
        factor: f64,
        measure: fn(&[i16]) -> f64,
    ) -> Result<(), String> {
        self.quiet()?;
        let Some(now) = self.segments.last() else { return Err("no line was spoken to its end".into()) };
        let alike = |segment: &&Segment| segment.text == now.text && segment.from != now.from;
        let Some(before) = self.segments.iter().rev().find(alike) else {
            return Err("the same line has to be spoken twice, to its end".into());
        };
        let ratio = measure(&self.samples(now)) / measure(&self.samples(before));
        let enough = if factor > 1.0 { ratio >= factor } else { ratio <= factor };
        self.transcript.push(format!("(ratio)  {ratio:.2} times as {how}"));
        if enough { Ok(()) } else { Err(format!("{ratio:.2} times as {how} as before, not {factor}")) }
    }

    /// What the journal tells in the end: nothing was taken that the technician did not say, everything that was spoken
    /// was to be, and what stands is what was read.
    pub(super) fn check(&mut self) -> Result<(), String> {
        if self.script.listens {
            self.compare_spoken()?;
        }
        let past = journal::read(&self.journal).map_err(text)?;
        let grammar = Grammar::builtin("en").map_err(text)?;
        let spoken: Vec<&str> = past
            .lines
            .iter()
            .filter_map(|line| match &line.entry {
                Entry::Spoken { text, .. } => Some(text.as_str()),
                _ => None,
            })
            .collect();
        // What is told of the devices is shown as a notice. The last lines may still be on their way to the screen or to the
        // disk when the program is ended, also when it is killed in the middle.
        let notices: Vec<&str> =
            self.transcript.iter().filter_map(|line| line.strip_prefix("notice   ")).collect();
        let spoken: Vec<&str> = spoken.into_iter().filter(|line| !notices.contains(line)).collect();
        let mut shown = self.spoken.iter();
        let mut missing = 0;
        let mut left = 0;
        for line in &spoken {
            match shown.by_ref().position(|shown| shown == line) {
                Some(passed) => missing += passed,
                None => left += 1,
            }
        }
        if missing > self.kills || left > 3 {
            return Err(format!("the journal says that other lines were spoken: {spoken:#?}"));
        }
        let replayed = live::replay(&past, grammar.clone()).map_err(text)?;
        let mut context = Context::of_profile(&replayed.session.profile);
        context.phrases.extend(["cold", "warm", "hot", "not sure"].map(str::to_owned));
        let mut meant = self.inputs.iter().filter_map(|input| keys::parse(input, &grammar, &context));
        for line in &past.lines {
            if let Entry::Event(Event::Heard(hearing)) = &line.entry
                && let Outcome::Understood(utterance) = &hearing.outcome
                && !meant.any(|meant| meant == *utterance)
            {
                return Err(format!("{utterance:?} was taken, and the technician did not say it then"));
            }
        }
        let stands: Vec<String> = replayed
            .state
            .standing()
            .map(|taken| {
                let task = &replayed.state.plan[taken.task];
                let circuit = &replayed.session.profile.circuits[task.circuit];
                format!("{} {}", circuit.pin, taken.reading)
            })
            .collect();
        if stands == self.stands {
            Ok(())
        } else {
            Err(format!("what stands is {}, not {}", stands.join(", "), self.stands.join(", ")))
        }
    }

    /// Every line that was spoken to its end is compared with its recording.
    pub(super) fn compare_spoken(&self) -> Result<(), String> {
        let lines: Vec<String> = self.segments.iter().map(|segment| segment.text.clone()).collect();
        if lines.is_empty() {
            return Err("no line was spoken to its end".into());
        }
        for segment in &self.segments {
            let samples = self.samples(segment);
            let heard = self.ears.decode(&samples, &lines);
            self.ears.compare(&segment.text, &heard, &lines).map_err(|what| self.kept(&what, &samples))?;
        }
        Ok(())
    }

    /// A complaint about a recording, with the file where it can be heard.
    fn kept(&self, what: &str, samples: &[i16]) -> String {
        let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{}.wav", self.script.name));
        match clips::write_wav(&file, samples) {
            Ok(()) => format!("{what}\n     the recording: {}", file.display()),
            Err(error) => format!("{what}\n     the recording could not be kept: {error}"),
        }
    }
}
