//! What spoiling promises: the ratio that was asked for, spectra as named, the same seed the same samples, lengths kept.

use super::*;
use dsp::FS;

/// Something like three words: tone bursts with harmonics and pauses between, 2 s.
fn words() -> Vec<f32> {
    (0..32_000)
        .map(|i| {
            let t = i as f32 / 16_000.0;
            let speaking = (0.3..0.6).contains(&t) || (0.75..1.0).contains(&t) || (1.2..1.6).contains(&t);
            let tone: f32 =
                [150.0, 600.0, 1800.0].iter().map(|f| (t * f * std::f32::consts::TAU).sin()).sum();
            if speaking { 0.08 * tone * (1.0 + 0.5 * (t * 25.0).sin()) } else { 0.0 }
        })
        .collect()
}

fn kinds() -> Vec<(&'static str, Noise)> {
    let clip: Arc<[f32]> = words().into();
    let recording: Arc<[f32]> = noise(&Noise::Engine, 1.0, -20.0, 99).into();
    vec![
        ("engine", Noise::Engine),
        ("compressor", Noise::Compressor),
        ("bangs", Noise::Bangs),
        ("babble", Noise::Babble(Arc::from([]))),
        ("babble of clips", Noise::Babble(Arc::from([clip]))),
        ("hum", Noise::Hum),
        ("white", Noise::White),
        ("recorded", Noise::Recorded(recording)),
    ]
}

fn with_noise(kind: &Noise, snr: f32) -> Conditions {
    Conditions { noise: Some((kind.clone(), snr)), ..Conditions::default() }
}

fn db(power: f64) -> f64 {
    10.0 * power.log10()
}

/// Power at each frequency, averaged over pieces of 8192 samples (1.95 Hz a step) under a Hann window.
fn spectrum(sound: &[f32]) -> Vec<f64> {
    let size = 8192;
    let mut sum = vec![0.0; size / 2];
    for piece in sound.chunks_exact(size) {
        let mut values: Vec<(f64, f64)> = piece
            .iter()
            .enumerate()
            .map(|(i, s)| {
                let window = 0.5 - 0.5 * (std::f64::consts::TAU * i as f64 / size as f64).cos();
                (f64::from(*s) * window, 0.0)
            })
            .collect();
        dsp::transform(&mut values, 1.0);
        sum.iter_mut().zip(&values).for_each(|(s, v)| *s += v.0 * v.0 + v.1 * v.1);
    }
    sum
}

/// The share of the power that lies between two frequencies.
fn share(spectrum: &[f64], low: f64, high: f64) -> f64 {
    let step = FS / 8192.0;
    let within: f64 = spectrum
        .iter()
        .enumerate()
        .filter(|(i, _)| (low..high).contains(&(*i as f64 * step)))
        .map(|(_, p)| p)
        .sum();
    within / spectrum.iter().sum::<f64>()
}

#[test]
fn the_ratio_asked_for_is_reached() {
    // So quiet that no noise has to be fitted within full scale.
    let clean: Vec<f32> = words().iter().map(|s| s * 0.05).collect();
    // By hand for this clip: only where it speaks, pauses do not count.
    let speaking: Vec<f64> = clean.iter().filter(|s| **s != 0.0).map(|s| f64::from(*s)).collect();
    for (name, kind) in kinds() {
        for (snr, seed) in [(-5.0, 1), (0.0, 2), (10.0, 3), (20.0, 4)] {
            let spoiled = with_noise(&kind, snr).apply(&clean, seed);
            let left: Vec<f64> =
                spoiled.iter().zip(&clean).map(|(a, b)| f64::from(*a) - f64::from(*b)).collect();
            let got = db(power(&speaking)) - db(power(&left));
            assert!((got - f64::from(snr)).abs() < 0.5, "{name} at {snr}: {got}");
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_samples_and_another_seed_others() {
    let clean = words();
    for (name, kind) in kinds() {
        let conditions = Conditions { reverb_s: Some(0.4), ..with_noise(&kind, 5.0) };
        let first = conditions.apply(&clean, 7);
        assert_eq!(first, conditions.apply(&clean, 7), "{name}");
        assert_ne!(first, conditions.apply(&clean, 8), "{name}");
        assert_eq!(noise(&kind, 0.5, -30.0, 1), noise(&kind, 0.5, -30.0, 1), "{name}");
    }
}

#[test]
fn lengths_are_kept_and_every_sample_is_finite_and_within_full_scale() {
    let talker: Arc<[f32]> = words().into();
    for (name, kind) in kinds() {
        for length in [0, 1, 2, 100, 9000] {
            let clean = &words()[..length];
            let everything = Conditions {
                noise: Some((kind.clone(), -10.0)),
                reverb_s: Some(0.8),
                band: Some((300.0, 3400.0)),
                gain_db: 40.0,
                talker: Some((talker.clone(), 6.0)),
                clip_db: Some(6.0),
            };
            for conditions in [everything.clone(), Conditions { clip_db: None, ..everything }] {
                let spoiled = conditions.apply(clean, 5);
                assert_eq!(spoiled.len(), length, "{name}");
                assert!(spoiled.iter().all(|s| s.is_finite() && s.abs() <= 1.0), "{name} {length}");
            }
        }
    }
    let broken = [f32::NAN, f32::INFINITY, 0.5, -0.5];
    let spoiled = with_noise(&Noise::White, 10.0).apply(&broken, 1);
    assert!(spoiled.iter().all(|s| s.is_finite()));
}

#[test]
fn nothing_asked_changes_nothing() {
    let clean = words();
    assert_eq!(Conditions::default().apply(&clean, 1), clean);
}

#[test]
fn noise_alone_has_its_level_and_is_not_cut() {
    for (name, kind) in kinds() {
        let made = noise(&kind, 2.0, -30.0, 11);
        assert_eq!(made.len(), 32_000);
        let level = db(power(&made.iter().map(|s| f64::from(*s)).collect::<Vec<_>>()));
        assert!((level + 30.0).abs() < 0.1, "{name}: {level}");
        assert!(made.iter().all(|s| s.abs() < 1.0), "{name}");
    }
    assert_eq!(noise(&Noise::Recorded(Arc::from([])), 1.0, -30.0, 1), vec![0.0; 16_000]);
}

#[test]
fn long_noise_does_not_come_round() {
    for (name, kind) in
        kinds().into_iter().filter(|(name, _)| !matches!(*name, "hum" | "babble of clips" | "recorded"))
    {
        // Seconds of one piece, and seconds of pieces with seeds that follow each other.
        let one = noise(&kind, 4.0, -30.0, 21);
        let mut seconds: Vec<Vec<f32>> = one.chunks(16_000).map(<[f32]>::to_vec).collect();
        seconds.extend((22..24).map(|seed| noise(&kind, 1.0, -30.0, seed)));
        for (i, a) in seconds.iter().enumerate() {
            for b in &seconds[i + 1..] {
                let dot = |x: &[f32], y: &[f32]| x.iter().zip(y).map(|(x, y)| f64::from(x * y)).sum::<f64>();
                let alike = dot(a, b) / (dot(a, a) * dot(b, b)).sqrt();
                // A copy has 1; two stretches of the same rhythm have something in common too.
                assert!(alike.abs() < 0.9, "{name}: {alike}");
            }
        }
    }
}

#[test]
fn spectra_are_as_named() {
    let of = |kind: &Noise| spectrum(&noise(kind, 8.0, -30.0, 31));
    // White: as much in every octave-wide step of the same width.
    let white = of(&Noise::White);
    for low in [0.0, 2000.0, 4000.0, 6000.0] {
        let part = share(&white, low, low + 2000.0);
        assert!((part - 0.25).abs() < 0.02, "white from {low}: {part}");
    }
    // Hum: nearly everything within 4 Hz of multiples of 50 or of 60.
    let hum = of(&Noise::Hum);
    let lines = |mains: f64| {
        (1..=40).map(|k| share(&hum, f64::from(k) * mains - 4.0, f64::from(k) * mains + 4.0)).sum::<f64>()
    };
    assert!(lines(50.0).max(lines(60.0)) > 0.98, "{} {}", lines(50.0), lines(60.0));
    assert!(lines(50.0).min(lines(60.0)) < 0.5);
    // Engine: mostly low, but with a clatter that reaches into speech. Compressor: its hiss reaches high.
    let engine = of(&Noise::Engine);
    assert!(share(&engine, 0.0, 500.0) > 0.5, "{}", share(&engine, 0.0, 500.0));
    assert!((0.01..0.4).contains(&share(&engine, 700.0, 4000.0)), "{}", share(&engine, 700.0, 4000.0));
    let compressor = of(&Noise::Compressor);
    assert!(share(&compressor, 2500.0, 8000.0) > 0.02, "{}", share(&compressor, 2500.0, 8000.0));
    assert!(share(&compressor, 0.0, 700.0) > 0.3, "{}", share(&compressor, 0.0, 700.0));
    // Voices: where speech is.
    let babble = of(&Noise::Babble(Arc::from([])));
    assert!(share(&babble, 150.0, 4000.0) > 0.8, "{}", share(&babble, 150.0, 4000.0));
    // Blows: short and strong. The loudest hundredth of the frames carries much of the power.
    let bangs: Vec<f64> = noise(&Noise::Bangs, 8.0, -30.0, 31).iter().map(|s| f64::from(*s)).collect();
    let mut frames: Vec<f64> = bangs.chunks(FRAME).map(power).collect();
    frames.sort_by(|a, b| b.total_cmp(a));
    let (loud, all): (f64, f64) = (frames.iter().take(frames.len() / 20).sum(), frames.iter().sum());
    assert!(loud / all > 0.5, "{}", loud / all);
}

#[test]
fn an_engine_fires_in_rhythm_and_not_like_a_clock() {
    // The envelope repeats with the firing, 22 to 29 times a second, more alike after four firings (a cylinder's turn) than a
    // clockwork's would allow to fade: positive, but below 1.
    let made: Vec<f64> = noise(&Noise::Engine, 8.0, -30.0, 5).iter().map(|s| f64::from(*s)).collect();
    let envelope: Vec<f64> = made.chunks(16).map(power).map(f64::sqrt).collect();
    let mean = envelope.iter().sum::<f64>() / envelope.len() as f64;
    let around: Vec<f64> = envelope.iter().map(|e| e - mean).collect();
    let alike = |lag: usize| {
        let dot: f64 = around.iter().zip(&around[lag..]).map(|(a, b)| a * b).sum();
        dot / around.iter().map(|a| a * a).sum::<f64>()
    };
    // 1 ms a step: the best between 33 and 46 ms.
    let best = (33..=46).map(alike).fold(f64::MIN, f64::max);
    assert!((0.3..0.98).contains(&best), "{best}");
}

#[test]
fn a_room_adds_a_tail_that_falls_by_60_db_in_its_time_and_keeps_the_direct_way() {
    let mut click = vec![0.0_f32; 16_000];
    click[1000] = 0.5;
    let conditions = Conditions { reverb_s: Some(0.5), ..Conditions::default() };
    let heard = conditions.apply(&click, 9);
    assert!((heard[1000] - 0.5).abs() < 1e-6, "the direct way");
    assert!(heard[..1000].iter().all(|s| s.abs() < 1e-9), "nothing before it");
    let tail: Vec<f64> = heard.iter().map(|s| f64::from(*s)).collect();
    // Two stretches 0.2 s apart: 0.2 / 0.5 of 60 dB.
    let early = db(power(&tail[1100..2700]));
    let late = db(power(&tail[1100 + 3200..2700 + 3200]));
    assert!((early - late - 24.0).abs() < 2.0, "{}", early - late);
}

#[test]
fn a_band_keeps_what_is_inside_and_takes_what_is_outside() {
    let band = Conditions { band: Some((300.0, 3400.0)), ..Conditions::default() };
    for (hertz, low, high) in
        [(1000.0, -0.5, 0.5), (100.0, -60.0, -30.0), (6800.0, -80.0, -20.0), (3400.0, -4.0, -2.0)]
    {
        let tone: Vec<f32> =
            (0..16_000).map(|i| 0.5 * (std::f32::consts::TAU * hertz * i as f32 / 16_000.0).sin()).collect();
        let heard: Vec<f64> = band.apply(&tone, 1)[4000..].iter().map(|s| f64::from(*s)).collect();
        let change = db(power(&heard)) - db(0.125);
        assert!((low..high).contains(&change), "{hertz}: {change}");
    }
}

#[test]
fn gain_overdriving_and_another_talker_do_what_they_say() {
    let clean = words();
    let level = |sound: &[f32]| db(power(&sound.iter().map(|s| f64::from(*s)).collect::<Vec<_>>()));
    let quieter = Conditions { gain_db: -20.0, ..Conditions::default() }.apply(&clean, 1);
    assert!((level(&quieter) - level(&clean) + 20.0).abs() < 0.01);
    // Far too loud is set to fit, without distortion: still the same form.
    let loud = Conditions { gain_db: 60.0, ..Conditions::default() }.apply(&clean, 1);
    let ratio = loud[6000] / clean[6000];
    assert!(loud.iter().zip(&clean).all(|(l, c)| (l - c * ratio).abs() < 1e-3));
    let cut = Conditions { clip_db: Some(12.0), ..Conditions::default() }.apply(&clean, 1);
    let at_limit = cut.iter().filter(|s| s.abs() >= 1.0).count();
    assert!(at_limit > 1000, "{at_limit}");
    // The other one, alone: 6 dB below.
    let other: Arc<[f32]> = noise(&Noise::Babble(Arc::from([])), 2.0, -20.0, 3).into();
    let both = Conditions { talker: Some((other.clone(), 6.0)), ..Conditions::default() }.apply(&clean, 1);
    let alone: Vec<f64> = both.iter().zip(&clean).map(|(b, c)| f64::from(b - c)).collect();
    let clean64: Vec<f64> = clean.iter().map(|s| f64::from(*s)).collect();
    let below = db(active_power(&clean64).unwrap()) - db(active_power(&alone).unwrap());
    assert!((below - 6.0).abs() < 1.0, "{below}");
}
