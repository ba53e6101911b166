//! The program's voice as the loudspeaker plays it: when it sounds, when it has ended, how fast it stops.

use super::*;

impl Stage<'_> {
    pub(super) fn heard_ms(&self) -> u64 {
        self.loudspeaker.as_ref().map_or(0, Recording::length_ms)
    }

    pub(super) fn quiet_ms(&self) -> Option<u64> {
        self.loudspeaker.as_ref().and_then(Recording::quiet_ms)
    }

    /// Waits until the last line was spoken to its end.
    pub(super) fn quiet(&mut self) -> Result<(), String> {
        let Some((said, from, since)) = self.shown.clone() else { return Ok(()) };
        let until = Instant::now() + LIMIT;
        while Instant::now() < until {
            let (length, quiet) = (self.heard_ms(), self.quiet_ms());
            match quiet {
                // What was cut off by a key may still end after the next line was shown.
                Some(quiet) if length.saturating_sub(quiet) > from + LEAST_MS * said.len() as u64 => {
                    let over = quiet >= QUIET_MS;
                    if over {
                        self.shown = None;
                        let lasted = length.saturating_sub(quiet).saturating_sub(from);
                        self.transcript.push(format!("(sound)  {lasted} ms"));
                        self.segments.push(Segment { text: said, from, to: length });
                        return Ok(());
                    }
                }
                _ if since.elapsed() > UNHEARD => {
                    self.shown = None;
                    return Ok(());
                }
                _ => {}
            }
            thread::sleep(Duration::from_millis(10));
        }
        Err("the voice does not come to an end".into())
    }

    /// Waits until the voice is in the middle of the last line.
    pub(super) fn sounding(&mut self) -> Result<(), String> {
        let Some((said, from, _)) = self.shown.clone() else {
            return Err("nothing is being said that could be interrupted".into());
        };
        let until = Instant::now() + LIMIT;
        let mut since = None;
        while Instant::now() < until {
            let (length, quiet) = (self.heard_ms(), self.quiet_ms());
            match quiet {
                Some(quiet) if quiet < 100 && length.saturating_sub(quiet) > from => {
                    if since.get_or_insert_with(Instant::now).elapsed() > Duration::from_millis(500) {
                        return Ok(());
                    }
                }
                _ => since = None,
            }
            thread::sleep(Duration::from_millis(5));
        }
        Err(format!("\"{said}\" does not sound"))
    }

    /// Types a line while the voice speaks and measures how long it goes on.
    pub(super) fn hush(&mut self, line: &str) -> Result<(), String> {
        self.sounding()?;
        let from = self.heard_ms();
        self.type_line(line)?;
        let until = Instant::now() + LIMIT;
        while self.quiet_ms().is_none_or(|quiet| quiet < 400) {
            if Instant::now() > until {
                return Err("the voice goes on".into());
            }
            thread::sleep(Duration::from_millis(5));
        }
        let last = self.heard_ms().saturating_sub(self.quiet_ms().unwrap_or(0));
        self.hushes.push(last.saturating_sub(from));
        self.shown = None;
        // Far beyond what it ever takes, and far below the rest of any line that is interrupted here.
        if last.saturating_sub(from) > 1000 { Err("the voice went on".into()) } else { Ok(()) }
    }
}
