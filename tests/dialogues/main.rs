//! Dialogues end to end: the program as its user meets it, a synthetic technician who speaks into a virtual microphone, and
//! the recording of a virtual loudspeaker. Each is a small file in `scripts`; `README.md` there explains the form.
//!
//! `cargo test --test dialogues` plays all; `cargo test --test dialogues -- pause` those whose name holds "pause";
//! with `--nocapture` everything that was said is shown. Several are played at once, each with a sound server of its own.

#[cfg(feature = "voice")]
mod listen;
#[cfg(feature = "voice")]
mod play;
#[cfg(feature = "voice")]
mod room;
#[cfg(feature = "voice")]
mod script;
#[cfg(feature = "voice")]
mod stage;

#[cfg(feature = "voice")]
fn main() -> std::process::ExitCode {
    play::all()
}

#[cfg(not(feature = "voice"))]
fn main() {
    println!("dialogues need the feature voice");
}
