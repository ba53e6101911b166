//! Tests of the gate on made-up frames: a level and a score for each stretch of time.

use super::*;

/// A frame at that level (decibels against full scale); every frame differs in sign pattern only.
fn at(level: f32) -> [f32; FRAME] {
    let amplitude = if level <= SILENCE_DBFS { 0.0 } else { 10_f32.powf(level / 20.0) };
    std::array::from_fn(|i| if i % 2 == 0 { amplitude } else { -amplitude })
}

/// Plays `(milliseconds, level, score)` and gives the stretches that ended, with the count of beginnings.
fn play(gate: &mut Gate, parts: &[(u32, f32, f32)]) -> (Vec<Stretch>, usize) {
    let (mut ended, mut began) = (Vec::new(), 0);
    for (ms, level, score) in parts {
        for _ in 0..ms / FRAME_MS {
            match gate.frame(&at(*level), *score) {
                Step::Began => began += 1,
                Step::Ended(stretch) => ended.push(*stretch),
                Step::Quiet | Step::Going => {}
            }
        }
    }
    (ended, began)
}

const ROOM: (u32, f32, f32) = (1600, -65.0, 0.05);
const PAUSE: (u32, f32, f32) = (800, -65.0, 0.05);

fn gate() -> Gate {
    Gate::new(GateSettings::default())
}

#[test]
fn a_word_is_one_stretch_with_what_came_before() {
    let (ended, began) = play(&mut gate(), &[ROOM, (480, -25.0, 0.9), PAUSE]);
    assert_eq!((ended.len(), began), (1, 1));
    let s = &ended[0];
    assert_eq!(s.refused, None);
    assert!(!s.cuts.any());
    assert_eq!(s.speech_ms, 480);
    assert_eq!(s.silence_ms, 464, "hangover of 450 ms in whole frames");
    assert!((s.level_dbfs + 25.0).abs() < 0.2, "{}", s.level_dbfs);
    assert!((s.room_dbfs + 65.0).abs() < 1.0, "{}", s.room_dbfs);
    // 320 ms before, the word, and the silence after.
    let ms = s.samples.len() / 16;
    assert!((1264..=1264 + 100).contains(&ms), "{ms}");
}

#[test]
fn a_short_pause_does_not_end_it_and_a_changed_hangover_does() {
    let parts = [ROOM, (480, -25.0, 0.9), (320, -65.0, 0.05), (480, -25.0, 0.9), PAUSE];
    assert_eq!(play(&mut gate(), &parts).0.len(), 1);
    let mut short = gate();
    short.set_hangover(250);
    assert_eq!(play(&mut short, &parts).0.len(), 2);
}

#[test]
fn what_is_no_speech() {
    let table = [
        ("loud noise that does not sound like speech", vec![ROOM, (2000, -20.0, 0.1), PAUSE]),
        ("speech-like sound hardly above the room", vec![ROOM, (2000, -62.0, 0.9), PAUSE]),
        ("a click", vec![ROOM, (16, -10.0, 0.9), PAUSE]),
        ("digital silence", vec![(5000, SILENCE_DBFS, 0.0)]),
        (
            "speech-like sound under the floor after digital silence",
            vec![(2000, SILENCE_DBFS, 0.0), (800, -70.0, 0.9)],
        ),
    ];
    for (name, parts) in table {
        let (ended, began) = play(&mut gate(), &parts);
        assert_eq!((ended.len(), began), (0, 0), "{name}");
    }
}

#[test]
fn a_word_after_digital_silence_is_heard() {
    let (ended, _) =
        play(&mut gate(), &[(3000, SILENCE_DBFS, 0.0), (480, -30.0, 0.9), (800, SILENCE_DBFS, 0.0)]);
    assert_eq!(ended.len(), 1);
    assert_eq!(ended[0].refused, None);
}

#[test]
fn a_machine_that_starts_becomes_the_room() {
    let mut g = gate();
    play(&mut g, &[ROOM, (6000, -30.0, 0.1)]);
    assert!((g.room_dbfs() + 30.0).abs() < 4.0, "{}", g.room_dbfs());
    let (ended, _) = play(&mut g, &[(480, -26.0, 0.9), (800, -30.0, 0.1)]);
    assert!(ended.is_empty(), "4 dB above a loud room is not enough");
    let (ended, _) = play(&mut g, &[(480, -15.0, 0.9), (800, -30.0, 0.1)]);
    assert_eq!(ended.len(), 1);
    play(&mut g, &[ROOM]);
    assert!(g.room_dbfs() < -60.0, "and falls again when it stops");
}

#[test]
fn somebody_far_away_is_not_the_person() {
    let mut g = gate();
    let (first, _) = play(&mut g, &[ROOM, (480, -20.0, 0.9), PAUSE]);
    g.learn_voice(first[0].level_dbfs);
    let (far, _) = play(&mut g, &[(480, -42.0, 0.9), PAUSE]);
    assert_eq!(far[0].refused, Some(Refused::Far));
    let (near, _) = play(&mut g, &[(480, -30.0, 0.9), PAUSE]);
    assert_eq!(near[0].refused, None);
}

#[test]
fn talk_without_end_is_cut_once_and_waits_for_a_pause() {
    let (ended, began) = play(&mut gate(), &[ROOM, (15_000, -25.0, 0.9), PAUSE, (480, -25.0, 0.9), PAUSE]);
    assert_eq!((ended.len(), began), (2, 2));
    assert!(ended[0].cuts.too_long);
    assert!(!ended[1].cuts.any());
}

#[test]
fn the_programs_own_voice_is_not_heard() {
    let mut g = gate();
    play(&mut g, &[ROOM]);
    assert_eq!(g.set_door(Door::OwnVoice), None);
    let (during, began) = play(&mut g, &[(2000, -15.0, 0.95)]);
    assert_eq!((during.len(), began), (0, 0));
    g.set_door(Door::Open);
    // A last bit of it within the tail, then quiet.
    let (after, began) = play(&mut g, &[(96, -20.0, 0.9), PAUSE]);
    assert_eq!((after.len(), began), (0, 0));
    assert!((g.room_dbfs() + 65.0).abs() < 2.0, "own voice did not move the room's level: {}", g.room_dbfs());
}

#[test]
fn the_tail_of_the_own_voice_is_not_kept_for_who_presses_to_talk() {
    let mut g = gate();
    play(&mut g, &[ROOM]);
    g.set_door(Door::OwnVoice);
    play(&mut g, &[(800, -15.0, 0.95)]);
    g.set_door(Door::Shut);
    play(&mut g, &[(96, -15.0, 0.95), (192, -65.0, 0.05)]);
    g.set_door(Door::Open);
    let (ended, _) = play(&mut g, &[(480, -25.0, 0.9), PAUSE]);
    assert_eq!((ended.len(), ended[0].cuts), (1, Cuts::default()));
    assert!((ended[0].level_dbfs + 25.0).abs() < 0.2, "nothing of the own voice: {}", ended[0].level_dbfs);
}

#[test]
fn speech_before_the_mute_is_given_out() {
    let mut g = gate();
    play(&mut g, &[ROOM, (480, -25.0, 0.9)]);
    let cut = g.set_door(Door::OwnVoice).unwrap();
    assert!(cut.cuts.end && cut.cuts.any(), "in the middle of a word");
    assert!(cut.samples.len() >= 480 * 16);
    g.set_door(Door::Open);
    play(&mut g, &[PAUSE, (480, -25.0, 0.9), (288, -65.0, 0.05)]);
    let whole = g.set_door(Door::OwnVoice).unwrap();
    assert!(!whole.cuts.any(), "it had fallen silent");
    assert_eq!(g.set_door(Door::OwnVoice), None, "once only");
}

#[test]
fn speech_that_runs_over_the_end_of_the_mute_is_marked() {
    let mut g = gate();
    play(&mut g, &[ROOM]);
    g.set_door(Door::OwnVoice);
    play(&mut g, &[(500, -25.0, 0.9)]);
    g.set_door(Door::Open);
    // What is quiet within a word makes it no beginning.
    let word = [(100, -25.0, 0.9), (96, -50.0, 0.1), (800, -25.0, 0.9), PAUSE];
    let (ended, _) = play(&mut g, &word);
    assert!(ended[0].cuts.start);
    let (ended, _) = play(&mut g, &[(800, -25.0, 0.9), PAUSE]);
    assert!(!ended[0].cuts.any());
}

#[test]
fn speech_that_begins_before_the_own_voice_is_known_to_be_over_is_marked() {
    let (voice, word, quiet) = ((496, -15.0, 0.9), (160, -25.0, 0.9), |ms| (ms, -65.0, 0.05));
    let cut = |deaf: &[(u32, f32, f32)], open: &[(u32, f32, f32)]| {
        let mut g = gate();
        play(&mut g, &[ROOM]);
        g.set_door(Door::OwnVoice);
        play(&mut g, deaf);
        g.set_door(Door::Open);
        let (ended, _) = play(&mut g, open);
        assert_eq!(ended.len(), 1);
        ended[0].cuts.start
    };
    let rest = (480, -25.0, 0.9);
    // In the tail, when it is still deaf: the first word is not heard whole.
    assert!(cut(&[voice, quiet(320)], &[quiet(64), word, (64, -50.0, 0.1), rest, PAUSE]));
    // The first word is over before it listens, and the next comes after a quarter of a second.
    assert!(cut(&[voice, quiet(640), word], &[quiet(240), rest, PAUSE]));
    assert!(cut(&[voice, quiet(640), word, quiet(96)], &[quiet(208), rest, PAUSE]));
    // After a pause it is a beginning, whether the voice was heard or not.
    assert!(!cut(&[voice, quiet(320)], &[quiet(192), rest, PAUSE]));
    assert!(!cut(&[quiet(800)], &[quiet(144), rest, PAUSE]));
}

#[test]
fn who_begins_to_speak_while_pressing_is_heard_whole_and_who_began_long_before_is_marked() {
    let word = [(480, -25.0, 0.9), PAUSE];
    let shut_for = |early_ms: u32| {
        let mut g = gate();
        g.set_door(Door::Shut);
        let (ended, began) = play(&mut g, &[ROOM, (800, -25.0, 0.9), PAUSE, (early_ms, -25.0, 0.9)]);
        assert_eq!((ended.len(), began), (0, 0), "nobody pressed");
        g.set_door(Door::Open);
        play(&mut g, &word).0
    };
    let pressed_late = shut_for(160);
    assert_eq!((pressed_late.len(), pressed_late[0].cuts), (1, Cuts::default()));
    assert!(pressed_late[0].samples.len() >= 640 * 16, "with what was said before");
    assert!(shut_for(640)[0].cuts.start);
}

#[test]
fn the_end_of_the_source_gives_out_what_is_going_on() {
    let mut g = gate();
    play(&mut g, &[ROOM, (480, -25.0, 0.9)]);
    assert!(g.flush().unwrap().cuts.end);
    assert_eq!(g.flush(), None);
}

#[test]
fn a_machine_in_rhythm_does_not_keep_speech_open_and_a_weak_ending_does() {
    // A compressor: strokes at −30 dB that the score takes for half speech, quieter between them.
    let noise: Vec<(u32, f32, f32)> = [(112, -30.0, 0.45), (96, -42.0, 0.35)].repeat(12);
    let mut gate = gate();
    assert_eq!(play(&mut gate, &noise).1, 0, "never enough to begin");
    let (ended, began) = play(&mut gate, &[(480, -12.0, 0.9), (320, -26.0, 0.6)]);
    assert_eq!((ended.len(), began), (0, 1));
    let (ended, _) = play(&mut gate, &noise);
    assert_eq!(ended.len(), 1, "the machine alone is silence");
    assert!(!ended[0].cuts.any());
    // The weak ending counts as speech: silence began after it.
    assert!((784..=912).contains(&ended[0].speech_ms), "{}", ended[0].speech_ms);
}
