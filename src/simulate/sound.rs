//! Owns a private sound server without hardware: a loudspeaker and a microphone that exist in memory alone.

use std::{
    ffi::OsString,
    fs, io,
    os::unix::fs::DirBuilderExt,
    path::{Path, PathBuf},
    process::{Command, Stdio},
    thread,
    time::{Duration, Instant},
};

/// How long the server may take to answer.
const READY_WITHIN: Duration = Duration::from_secs(10);

/// A running private sound server. Dropping it ends it and removes its folder.
#[derive(Debug)]
pub struct PrivateSound {
    folder: PathBuf,
}

impl PrivateSound {
    /// Starts the server with a loudspeaker, and a microphone that hears what is played to it.
    ///
    /// # Errors
    /// When PulseAudio is not installed or does not come up.
    pub fn start() -> io::Result<Self> {
        let folder = std::env::temp_dir().join(format!("bothhands-sound-{}", std::process::id()));
        fs::DirBuilder::new().mode(0o700).create(&folder)?;
        let sound = Self { folder };
        let socket = sound.folder.join("native");
        let script = format!(
            "load-module module-native-protocol-unix auth-anonymous=1 socket={}\n\
             load-module module-null-sink sink_name=loudspeaker rate=48000\n\
             load-module module-null-sink sink_name=room rate=48000\n\
             load-module module-remap-source source_name=microphone master=room.monitor\n\
             set-default-sink loudspeaker\n\
             set-default-source microphone\n",
            socket.display()
        );
        let file = sound.folder.join("server.pa");
        fs::write(&file, script)?;
        let status = sound
            .command("pulseaudio")
            .args(["-n", "--daemonize=yes", "--exit-idle-time=-1", "--use-pid-file=yes", "--disallow-exit"])
            .args(["--log-target=null", "-F"])
            .arg(&file)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()?;
        if !status.success() {
            return Err(io::Error::other(format!("pulseaudio ended with {status}")));
        }
        let until = Instant::now() + READY_WITHIN;
        while !sound.answers() {
            if Instant::now() > until {
                return Err(io::Error::other("pulseaudio does not answer"));
            }
            thread::sleep(Duration::from_millis(50));
        }
        Ok(sound)
    }

    fn answers(&self) -> bool {
        let mut ask = self.command("pactl");
        ask.arg("info").stdout(Stdio::null()).stderr(Stdio::null());
        ask.status().is_ok_and(|status| status.success())
    }

    /// A command that hears and plays here instead of on the machine's own devices.
    #[must_use]
    pub fn command(&self, program: impl Into<OsString>) -> Command {
        let mut command = Command::new(program.into());
        command
            .env("XDG_RUNTIME_DIR", &self.folder)
            .env("PULSE_RUNTIME_PATH", &self.folder)
            .env("PULSE_SERVER", format!("unix:{}", self.folder.join("native").display()))
            .env("HOME", &self.folder)
            .env_remove("DISPLAY")
            .env_remove("DBUS_SESSION_BUS_ADDRESS")
            .stdin(Stdio::null());
        command
    }

    /// A command that prints what the loudspeaker plays or the microphone hears.
    #[must_use]
    pub fn recorder(&self, side: Side) -> Command {
        let mut command = self.command("parec");
        let device = match side {
            Side::Loudspeaker => "loudspeaker.monitor",
            Side::Microphone => "room.monitor",
        };
        command.args([
            "--device",
            device,
            "--format=s16le",
            "--rate=16000",
            "--channels=1",
            "--latency-msec=20",
        ]);
        command
    }

    /// Plays a file into the microphone and waits until it has been played.
    ///
    /// # Errors
    /// When it cannot be played.
    pub fn play(&self, file: &Path) -> io::Result<()> {
        let status =
            self.command("paplay").args(["--device=room", "--latency-msec=30"]).arg(file).status()?;
        if status.success() { Ok(()) } else { Err(io::Error::other(format!("paplay ended with {status}"))) }
    }
}

/// A side of the conversation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// What the program says.
    Loudspeaker,
    /// What the program hears.
    Microphone,
}

impl Drop for PrivateSound {
    fn drop(&mut self) {
        // The speech service of this server belongs to it and would stay behind for a while.
        for pid in ["speech-dispatcher/pid/speech-dispatcher.pid", "pid"] {
            if let Ok(number) = fs::read_to_string(self.folder.join(pid)) {
                let _ = Command::new("kill").arg(number.trim()).stderr(Stdio::null()).status();
            }
        }
        let _ = fs::remove_dir_all(&self.folder);
    }
}
