//! Owns the proof of a journal: what can be said of it without believing anybody. The chain itself is proved by reading.

use super::{Entry, JournalError, Past, Protection, Sound, chain, clips, sha256};
use schemars::JsonSchema;
use serde::Serialize;
use std::{fs, io, path::Path};

/// Of a hash that somebody noted, at least so many digits have to be given: fewer could fit by chance. Chosen here.
pub const LEAST_DIGITS: usize = 12;

/// One thing that a look at a journal shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Proof {
    /// Every line is as it was written, and in its place.
    Whole {
        /// How many lines.
        lines: u64,
    },
    /// The lines can be read; a change of them would not show, since an older program began this journal.
    Unprotected {
        /// How many lines.
        lines: u64,
    },
    /// The last line was cut off while it was written. It was never acknowledged.
    Torn {
        /// How many bytes are left of it.
        bytes: u64,
    },
    /// The hash of the last line.
    Mark {
        /// In hexadecimal digits.
        hash: String,
    },
    /// The hash that was noted is that of the last line: nothing was cut off or added since.
    MarkFits,
    /// The hash that was noted is that of an earlier line: up to it all is as it was; lines came after it.
    MarkEarlier {
        /// The line that has it.
        line: u64,
        /// How many came after it.
        since: u64,
    },
    /// No line has the hash that was noted: this is another journal, or lines are missing.
    MarkOther,
    /// The journal is not protected, so that a noted hash says nothing of it.
    MarkUnknown,
    /// All clips of which the journal has a hash are as they were heard.
    Clips {
        /// How many.
        count: u64,
    },
    /// A clip is not there.
    ClipMissing {
        /// The line that names it.
        line: u64,
        /// Its file name.
        clip: String,
    },
    /// A clip is another one than was heard.
    ClipChanged {
        /// The line that names it.
        line: u64,
        /// Its file name.
        clip: String,
    },
    /// Clips were taken away on purpose, and the journal says so.
    ClipsForgotten {
        /// How many.
        count: u64,
    },
    /// Clips are named of which the journal has no hash.
    ClipsUnproved {
        /// How many.
        count: u64,
    },
    /// Profile and meter are those that the fingerprints name.
    FingerprintsFit,
    /// The text of the profile is another one than its fingerprint names.
    ProfileOther,
    /// The text of the meter file is another one than its fingerprint names.
    MeterOther,
    /// What was said back is what came in.
    SaidFits {
        /// How many readings were compared.
        readings: u64,
    },
    /// A reading was said back otherwise than it stands now.
    SaidOther {
        /// The line that it came in with.
        line: u64,
        /// What the journal says now. None: no reading.
        now: Option<String>,
        /// The line as it was said.
        said: String,
    },
    /// This journal was made of what is sound in another one.
    Salvaged {
        /// That one's file name.
        from: String,
        /// How many of its lines are lost.
        lost: u64,
    },
    /// There is a conclusion in it, by this engine.
    Concluded {
        /// The engine's name.
        engine: String,
        /// The engine's version.
        version: u32,
    },
    /// There is no conclusion in it.
    NotConcluded,
}

impl Proof {
    /// Whether it speaks against the journal.
    #[must_use]
    pub fn is_fault(&self) -> bool {
        match self {
            Self::MarkOther
            | Self::MarkUnknown
            | Self::ClipMissing { .. }
            | Self::ClipChanged { .. }
            | Self::ProfileOther
            | Self::MeterOther
            | Self::SaidOther { .. } => true,
            Self::Whole { .. }
            | Self::Unprotected { .. }
            | Self::Torn { .. }
            | Self::Mark { .. }
            | Self::MarkFits
            | Self::MarkEarlier { .. }
            | Self::Clips { .. }
            | Self::ClipsForgotten { .. }
            | Self::ClipsUnproved { .. }
            | Self::FingerprintsFit
            | Self::SaidFits { .. }
            | Self::Salvaged { .. }
            | Self::Concluded { .. }
            | Self::NotConcluded => false,
        }
    }
}

/// What a journal that can be read shows by itself: chain, clips beside it, fingerprints. `noted` is a hash that somebody noted
/// elsewhere, or its first digits.
///
/// # Errors
/// [`JournalError::File`] where journal or clips cannot be read.
pub fn verify(past: &Past, noted: Option<&str>) -> Result<Vec<Proof>, JournalError> {
    let lines = past.lines.len() as u64;
    let mut found = vec![match &past.protection {
        Protection::Chained { .. } => Proof::Whole { lines },
        Protection::None => Proof::Unprotected { lines },
    }];
    found.extend(past.torn.as_ref().map(|torn| Proof::Torn { bytes: torn.bytes.len() as u64 }));
    found.extend(past.protection.last().map(|hash| Proof::Mark { hash: hash.to_owned() }));
    if let Some(noted) = noted {
        found.push(mark(past, &noted.trim().to_lowercase())?);
    }
    for line in &past.lines {
        if let Entry::Salvaged(salvaged) = &line.entry
            && !salvaged.lost.is_empty()
        {
            let (from, lost) = (salvaged.from.clone(), salvaged.lost.len() as u64);
            found.push(Proof::Salvaged { from, lost });
        }
    }
    proofs_of_clips(past, &mut found)?;
    let header = &past.header;
    let fits = |text: &str, fingerprint: &str| sha256(text.as_bytes()) == fingerprint;
    match (
        fits(&header.profile_text, &header.profile_fingerprint),
        fits(&header.meter_text, &header.meter_fingerprint),
    ) {
        (true, true) => found.push(Proof::FingerprintsFit),
        (profile, meter) => {
            found.extend((!profile).then_some(Proof::ProfileOther));
            found.extend((!meter).then_some(Proof::MeterOther));
        }
    }
    found.push(match past.judged() {
        Some((_, judged)) => {
            Proof::Concluded { engine: judged.engine.name.clone(), version: judged.engine.version }
        }
        None => Proof::NotConcluded,
    });
    Ok(found)
}

/// Whether a hash that was noted is one of this journal's.
fn mark(past: &Past, noted: &str) -> Result<Proof, JournalError> {
    let Some(last) = past.protection.last() else { return Ok(Proof::MarkUnknown) };
    if noted.len() < LEAST_DIGITS {
        return Ok(Proof::MarkOther);
    }
    if last.starts_with(noted) {
        return Ok(Proof::MarkFits);
    }
    let bytes = fs::read(&past.path).map_err(|cause| failed("read", &past.path, cause))?;
    let hashes = bytes.split(|byte| *byte == b'\n').map(|line| chain::parts(line).map(|(_, hash)| hash));
    let earlier =
        (1..).zip(hashes).find(|(_, hash)| hash.is_some_and(|hash| hash.starts_with(noted.as_bytes())));
    Ok(match earlier {
        Some((line, _)) => Proof::MarkEarlier { line, since: past.last_seq() - line },
        None => Proof::MarkOther,
    })
}

fn proofs_of_clips(past: &Past, found: &mut Vec<Proof>) -> Result<(), JournalError> {
    let (mut sound, mut gone, mut unproved) = (0, 0, 0);
    for (line, clip, sound_found) in clips(past, false) {
        let (line, clip) = (line.seq, clip.to_owned());
        match sound_found? {
            Sound::Proved(_) => sound += 1,
            Sound::Unproved(_) => unproved += 1,
            Sound::Changed => found.push(Proof::ClipChanged { line, clip }),
            Sound::Missing => found.push(Proof::ClipMissing { line, clip }),
            Sound::Forgotten => gone += 1,
        }
    }
    found.extend((sound > 0).then_some(Proof::Clips { count: sound }));
    found.extend((gone > 0).then_some(Proof::ClipsForgotten { count: gone }));
    found.extend((unproved > 0).then_some(Proof::ClipsUnproved { count: unproved }));
    Ok(())
}

fn failed(doing: &'static str, path: &Path, cause: io::Error) -> JournalError {
    JournalError::File { doing, path: path.to_owned(), cause }
}
