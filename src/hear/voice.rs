//! Owns libvosk: the loaded model, a recogniser for each grammar, and the speech score of single frames.

use super::{
    HearError, ModelFolder, RATE,
    gate::FRAME,
    recognise::{Decoded, HYPOTHESES, NUMBERS, PHRASES, Recogniser, SECOND, SECOND_NUMBERS, UNKNOWN, WORDS},
};
use std::{
    collections::BTreeSet,
    panic::{AssertUnwindSafe, catch_unwind},
    path::{Path, PathBuf},
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};
use vosk::{CompleteResult, DecodingState};

/// Samples of silence that are put behind a stretch (0.24 s).
const SILENCE_BEHIND: usize = RATE as usize * 24 / 100;

/// A loaded speech model, to be shared: one network, or two that were trained apart.
#[derive(Clone)]
pub struct Model {
    inner: Arc<Mutex<vosk::Model>>,
    second: Option<Arc<Mutex<vosk::Model>>>,
    folder: PathBuf,
}

impl std::fmt::Debug for Model {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Model").field("folder", &self.folder).finish_non_exhaustive()
    }
}

impl Model {
    /// Loads a model whose files were checked.
    ///
    /// # Errors
    /// [`HearError::ModelRefused`] where libvosk cannot load it.
    pub fn load(folder: &ModelFolder) -> Result<Self, HearError> {
        vosk::set_log_level(vosk::LogLevel::Error);
        let load = |path: &Path| {
            let refused = || HearError::ModelRefused(path.into());
            let model = vosk::Model::new(path.to_str().ok_or_else(refused)?).ok_or_else(refused)?;
            Ok(Arc::new(Mutex::new(model)))
        };
        let inner = load(folder.path())?;
        let second = folder.second().map(load).transpose()?;
        Ok(Self { inner, second, folder: folder.path().into() })
    }

    /// Checks that every word of these phrases can be given to the recogniser and is known to the model.
    ///
    /// # Errors
    /// [`HearError::BadPhrase`] for other characters; [`HearError::UnknownWords`] with all words not known.
    pub fn check_words<'a>(&self, phrases: impl IntoIterator<Item = &'a str>) -> Result<(), HearError> {
        let mut words = BTreeSet::new();
        for phrase in phrases {
            let fine = |c: char| c.is_ascii_lowercase() || matches!(c, '\'' | '-' | '.');
            if phrase.is_empty()
                || phrase.split(' ').any(|w| w.is_empty() || !(w == UNKNOWN || w.chars().all(fine)))
            {
                return Err(HearError::BadPhrase(phrase.into()));
            }
            words.extend(phrase.split(' '));
        }
        let mut models: Vec<_> = std::iter::once(&self.inner).chain(&self.second).map(lock).collect();
        let unknown: Vec<String> = words
            .into_iter()
            .filter(|w| models.iter_mut().any(|model| model.find_word(w).is_none()))
            .map(str::to_owned)
            .collect();
        if unknown.is_empty() { Ok(()) } else { Err(HearError::UnknownWords(unknown)) }
    }

    /// The recognisers: the phrases by each network, and the single words with `[unk]` by the last one.
    ///
    /// # Errors
    /// As [`Model::check_words`], and [`HearError::NoRecogniser`].
    pub fn recognisers(
        &self,
        phrases: &[String],
        words: &[String],
    ) -> Result<Vec<Box<dyn Recogniser>>, HearError> {
        self.check_words(phrases.iter().chain(words).map(String::as_str))?;
        let mut words = words.to_vec();
        if !words.iter().any(|w| w == UNKNOWN) {
            words.push(UNKNOWN.into());
        }
        let last = self.second.as_ref().unwrap_or(&self.inner);
        let mut all: Vec<Box<dyn Recogniser>> =
            vec![Box::new(VoskRecogniser::new(&self.inner, PHRASES, phrases.to_vec())?)];
        if let Some(second) = &self.second {
            all.push(Box::new(VoskRecogniser::new(second, SECOND, phrases.to_vec())?));
        }
        all.push(Box::new(VoskRecogniser::new(last, WORDS, words)?));
        Ok(all)
    }

    /// The recognisers for a second look at what would be asked: words of numbers alone, by each network. None of a model that has
    /// one network.
    ///
    /// # Errors
    /// As [`Model::recognisers`].
    pub fn numbers(&self, words: &[String]) -> Result<Vec<Box<dyn Recogniser>>, HearError> {
        let Some(second) = self.second.as_ref().filter(|_| !words.is_empty()) else { return Ok(Vec::new()) };
        self.check_words(words.iter().map(String::as_str))?;
        Ok(vec![
            Box::new(VoskRecogniser::new(&self.inner, NUMBERS, words.to_vec())?),
            Box::new(VoskRecogniser::new(second, SECOND_NUMBERS, words.to_vec())?),
        ])
    }
}

fn lock(model: &Arc<Mutex<vosk::Model>>) -> MutexGuard<'_, vosk::Model> {
    model.lock().unwrap_or_else(PoisonError::into_inner)
}

/// One recogniser of libvosk, kept alive over many stretches of sound.
struct VoskRecogniser {
    model: Arc<Mutex<vosk::Model>>,
    name: &'static str,
    grammar: Vec<String>,
    inner: vosk::Recognizer,
    so_far: Decoded,
    /// Whether it holds sound of a stretch that has not ended.
    fed: bool,
}

impl VoskRecogniser {
    fn new(
        model: &Arc<Mutex<vosk::Model>>,
        name: &'static str,
        grammar: Vec<String>,
    ) -> Result<Self, HearError> {
        let inner = make(model, &grammar).ok_or(HearError::NoRecogniser(name))?;
        Ok(Self { model: model.clone(), name, grammar, inner, so_far: Decoded::default(), fed: false })
    }

    /// The crate panics on results that it cannot parse (a confidence that is no number): such a piece counts as not
    /// understood, and a new recogniser takes over.
    fn guarded(&mut self, call: impl FnOnce(&mut vosk::Recognizer) -> Decoded) -> Decoded {
        let inner = &mut self.inner;
        match catch_unwind(AssertUnwindSafe(|| call(inner))) {
            Ok(decoded) => decoded,
            Err(_) => {
                if let Some(fresh) = make(&self.model, &self.grammar) {
                    self.inner = fresh;
                }
                Decoded::of(UNKNOWN)
            }
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "16000 is exact")]
fn make(model: &Arc<Mutex<vosk::Model>>, grammar: &[String]) -> Option<vosk::Recognizer> {
    let mut inner = vosk::Recognizer::new_with_grammar(&lock(model), RATE as f32, grammar)?;
    inner.set_max_alternatives(HYPOTHESES);
    Some(inner)
}

fn decoded(result: CompleteResult) -> Decoded {
    match result {
        CompleteResult::Single(single) => Decoded::of(single.text.trim()),
        CompleteResult::Multiple(many) => {
            let mut all = many.alternatives.iter().map(|a| (a.text.trim().to_owned(), a.confidence));
            let Some((words, best)) = all.next() else { return Decoded::default() };
            Decoded { words, others: all.map(|(w, confidence)| (w, (best - confidence).max(0.0))).collect() }
        }
    }
}

impl Recogniser for VoskRecogniser {
    fn name(&self) -> &'static str {
        self.name
    }

    fn feed(&mut self, samples: &[i16]) {
        self.fed = true;
        // The model's own rules may end a piece at a pause inside the stretch: it goes on with the next piece.
        if let Ok(DecodingState::Finalized) = self.inner.accept_waveform(samples) {
            let piece = self.guarded(|r| decoded(r.result()));
            self.so_far = std::mem::take(&mut self.so_far).then(piece);
        }
    }

    fn finish(&mut self) -> Decoded {
        // The network looks ahead by a third of a second: without it the last word is lost (33 numbers of AN4 test, ended after
        // 0.16 s of silence: 75.8 % whole as they are, 100 % with 0.2 s added).
        self.feed(&[0; SILENCE_BEHIND]);
        let piece = self.guarded(|r| decoded(r.final_result()));
        self.inner.reset();
        self.fed = false;
        std::mem::take(&mut self.so_far).then(piece)
    }

    fn reset(&mut self) {
        // The library's own reset keeps the third of a second that the network has not decoded yet: it would come out as words in front
        // of the next stretch. Told that its sound has ended, it begins with nothing.
        if std::mem::take(&mut self.fed) {
            self.guarded(|r| decoded(r.final_result()));
        }
        self.inner.reset();
        self.so_far = Decoded::default();
    }
}

/// Scores frames for speech, 0 to 1, with a small network trained for that.
#[derive(Default)]
pub struct SpeechScore(Box<earshot::Detector>);

impl std::fmt::Debug for SpeechScore {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("SpeechScore")
    }
}

impl SpeechScore {
    /// The score of the next frame, which must follow the one before.
    pub fn score(&mut self, frame: &[f32; FRAME]) -> f32 {
        self.0.predict_f32(frame)
    }
}
