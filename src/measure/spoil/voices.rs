//! Owns voices without words: what several people sound like who talk at once, where no recordings are at hand.
//!
//! Each has a pitch, goes from syllable to syllable with other resonances of the mouth, some of them hissed, and takes
//! breath. The ranges of pitch and resonances are those of adult speech (Peterson and Barney 1952, rounded; from memory).

use super::dsp::{Biquad, FS, normal};
use crate::random::Random;

/// Six of them, some nearer than others.
pub(super) fn wordless(length: usize, random: &mut Random) -> Vec<f64> {
    let mut out = vec![0.0; length];
    for _ in 0..6 {
        let near = super::amplitude_of(random.around_zero(3.0));
        let mut voice = Voice::new(random);
        out.iter_mut().for_each(|o| *o += near * voice.next(random));
    }
    out
}

struct Voice {
    /// The usual pitch in Hz, and where in the period it is.
    pitch: f64,
    phase: f64,
    mouth: [Biquad; 3],
    hiss: Biquad,
    /// Samples left of the syllable or pause, and how long it is.
    left: f64,
    whole: f64,
    /// Strength of voice and of hiss in it, and the rise of the pitch over it.
    voiced: f64,
    hissed: f64,
    glide: f64,
}

impl Voice {
    fn new(random: &mut Random) -> Self {
        let mut voice = Self {
            pitch: random.between(90.0, 230.0),
            phase: random.unit(),
            mouth: Default::default(),
            hiss: Biquad::default(),
            left: 0.0,
            whole: 1.0,
            voiced: 0.0,
            hissed: 0.0,
            glide: 0.0,
        };
        voice.syllable(random);
        // Somewhere in it.
        voice.left *= random.unit();
        voice
    }

    /// The next syllable, or a breath (one in eight).
    fn syllable(&mut self, random: &mut Random) {
        let breath = random.unit() < 0.125;
        self.whole = FS * if breath { random.between(0.2, 0.7) } else { random.between(0.1, 0.3) };
        self.left = self.whole;
        let hissed = random.unit() < 0.3;
        self.voiced = if breath || hissed { 0.0 } else { random.between(0.5, 1.0) };
        self.hissed = if breath || !hissed { 0.0 } else { random.between(0.02, 0.06) };
        self.glide = random.around_zero(0.15);
        let resonances = [
            (random.between(270.0, 800.0), 8.0),
            (random.between(850.0, 2300.0), 12.0),
            (random.between(2400.0, 3100.0), 12.0),
        ];
        for (filter, (hertz, q)) in self.mouth.iter_mut().zip(resonances) {
            filter.turn_to(&Biquad::band_pass(hertz, q));
        }
        self.hiss.turn_to(&Biquad::band_pass(random.between(2500.0, 6500.0), 1.5));
    }

    fn next(&mut self, random: &mut Random) -> f64 {
        if self.left <= 0.0 {
            self.syllable(random);
        }
        self.left -= 1.0;
        let gone = 1.0 - self.left / self.whole;
        // Swells and fades within the syllable.
        let swell = (std::f64::consts::PI * gone.clamp(0.0, 1.0)).sin();
        self.phase += self.pitch * (1.0 + self.glide * gone) * (1.0 + 0.01 * normal(random)) / FS;
        let mut push = 0.0;
        if self.phase >= 1.0 {
            self.phase -= 1.0;
            push = 30.0;
        }
        let source = swell * self.voiced * (push + 0.1 * normal(random));
        let [first, second, third] = &mut self.mouth;
        let voice = first.next(source) + 0.5 * second.next(source) + 0.25 * third.next(source);
        voice + self.hiss.next(swell * self.hissed * 10.0 * normal(random))
    }
}
