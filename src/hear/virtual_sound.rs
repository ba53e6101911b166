//! Owns a private sound server without hardware: a loudspeaker that can be recorded and a microphone that can be spoken
//! into; noise, an echo from the one to the other, and plugs that are pulled. The demo and the tests use it; nothing in it
//! knows who listens or speaks.
//!
//! It is a PulseAudio daemon of our own with its own run-time folder. The audio path is the real one: programs started
//! with [`VirtualSound::env`] capture and play as they would with devices. A process cannot change its own environment
//! safely once threads run, so whoever wants to use the devices itself starts itself again with that environment.

mod recording;

pub use recording::Recording;

use super::HearError;
use std::{
    ffi::OsString,
    fs,
    io::Write,
    os::unix::{fs::DirBuilderExt, net::UnixStream},
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
    sync::atomic::{AtomicU32, Ordering},
    time::{Duration, Instant},
};

/// What can be recorded: what the loudspeaker plays.
pub const LOUDSPEAKER: &str = "loudspeaker.monitor";
/// What can be recorded: what the microphone hears.
pub const MICROPHONE: &str = "microphone";
/// Where sound is played that the microphone is to hear.
pub const FEED: &str = "microphone_feed";
/// A device that nobody hears and that hears nothing: what is left while another one is pulled out.
const SPARE: &str = "spare";
/// Rate of recordings.
const RATE: u32 = super::RATE;
/// The module behind the loudspeaker, and what makes it this one.
const LOUDSPEAKER_MODULE: (&str, &str) = ("module-null-sink", "sink_name=loudspeaker");
/// The module behind the microphone, and what makes it this one.
const MICROPHONE_MODULE: (&str, &str) = ("module-remap-source", "source_name=microphone");
/// Longest time for the daemon to come up.
const UP: Duration = Duration::from_secs(10);
/// The daemon ends by itself so many seconds after its last client, should its owner be killed.
const IDLE_S: u32 = 30;

/// The form in which the virtual devices carry sound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Form {
    /// Samples a second.
    pub rate: u32,
    /// Channels.
    pub channels: u8,
    /// PulseAudio's name of the sample format (`s16le`, `float32le`, `s32le`, `u8` ...).
    pub format: &'static str,
}

impl Form {
    fn spec(self) -> String {
        let Self { rate, channels, format } = self;
        format!("rate={rate} channels={channels} format={format}")
    }
}

impl Default for Form {
    fn default() -> Self {
        Self { rate: 48_000, channels: 1, format: "float32le" }
    }
}

/// A running sound server. Dropping it ends everything it started and removes its folder.
#[derive(Debug)]
pub struct VirtualSound {
    folder: PathBuf,
    server: Server,
    form: Form,
}

/// One of the two devices, to be pulled out and put in again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plug {
    /// The microphone.
    Microphone,
    /// The loudspeaker.
    Loudspeaker,
}

/// The daemon, and recorders that always run: they keep the devices warm, so that the first second of a new capture is not
/// lost. All end with it.
#[derive(Debug)]
struct Server {
    daemon: Child,
    keepers: Vec<Child>,
}

impl Server {
    fn start(folder: &Path, form: Form) -> Result<Self, HearError> {
        let place = folder.display();
        let spec = form.spec();
        let script = format!(
            "load-module module-native-protocol-unix auth-anonymous=1 socket={place}/pulse/native\n\
             load-module module-cli-protocol-unix socket={place}/pulse/orders\n\
             load-module module-null-sink sink_name=loudspeaker {spec} sink_properties=device.description=Loudspeaker\n\
             load-module module-null-sink sink_name={FEED} {spec} sink_properties=device.description=MicrophoneFeed\n\
             load-module module-remap-source source_name={MICROPHONE} master={FEED}.monitor {spec} \
             source_properties=device.description=Microphone\n\
             load-module module-null-sink sink_name={SPARE} {spec} sink_properties=device.description=Spare\n\
             set-default-sink loudspeaker\nset-default-source {MICROPHONE}\n"
        );
        let file = folder.join("devices.pa");
        fs::write(&file, script).map_err(|e| fault(format!("{}: {e}", file.display())))?;
        let log = folder.join("daemon.log");
        let out = fs::File::create(&log).map_err(|e| fault(format!("{}: {e}", log.display())))?;
        let mut command = Command::new("pulseaudio");
        command
            .args(["-n", "--daemonize=no", "--use-pid-file=no", "--realtime=no", "--high-priority=no"])
            .arg(format!("--exit-idle-time={IDLE_S}"))
            .arg("-F")
            .arg(&file)
            .envs(env_of(folder))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(out);
        let daemon = command.spawn().map_err(|e| not_there("pulseaudio", &e))?;
        let mut server = Self { daemon, keepers: Vec::new() };
        server.wait_until_up(folder, &log)?;
        for device in [MICROPHONE, LOUDSPEAKER] {
            let keeper = parec(folder, device).stdout(Stdio::null()).spawn();
            server.keepers.push(keeper.map_err(|e| not_there("parec", &e))?);
        }
        Ok(server)
    }

    fn wait_until_up(&mut self, folder: &Path, log: &Path) -> Result<(), HearError> {
        let until = Instant::now() + UP;
        let said = || fs::read_to_string(log).unwrap_or_default().trim().replace('\n', "; ");
        loop {
            let mut pactl = Command::new("pactl");
            pactl
                .args(["get-default-source"])
                .envs(env_of(folder))
                .stdin(Stdio::null())
                .stderr(Stdio::null());
            let answer = pactl.output().map_err(|e| not_there("pactl", &e))?;
            if answer.status.success() && answer.stdout.starts_with(MICROPHONE.as_bytes()) {
                return Ok(());
            }
            if let Ok(Some(status)) = self.daemon.try_wait() {
                return Err(fault(format!("pulseaudio ended at once ({status}): {}", said())));
            }
            if Instant::now() > until {
                return Err(fault(format!(
                    "pulseaudio did not come up within {} s: {}",
                    UP.as_secs(),
                    said()
                )));
            }
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    fn end(&mut self) {
        for child in self.keepers.iter_mut().chain([&mut self.daemon]) {
            let _ = child.kill();
            let _ = child.wait();
        }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        self.end();
    }
}

fn fault(text: impl Into<String>) -> HearError {
    HearError::Virtual(text.into())
}

fn not_there(program: &str, error: &std::io::Error) -> HearError {
    fault(format!(
        "{program} cannot be started ({error}); install the packages pulseaudio and pulseaudio-utils"
    ))
}

impl VirtualSound {
    /// Starts a server with devices as most machines have them (48 kHz, mono).
    ///
    /// # Errors
    /// [`HearError::Virtual`] where the daemon is not installed or does not come up, with what it said.
    pub fn start() -> Result<Self, HearError> {
        Self::start_as(Form::default())
    }

    /// Starts a server whose devices have that form.
    ///
    /// # Errors
    /// As [`VirtualSound::start`].
    pub fn start_as(form: Form) -> Result<Self, HearError> {
        let folder = new_folder()?;
        match Server::start(&folder, form) {
            Ok(server) => Ok(Self { folder, server, form }),
            Err(error) => {
                let _ = fs::remove_dir_all(&folder);
                Err(error)
            }
        }
    }

    /// The environment in which programs use these devices.
    #[must_use]
    pub fn env(&self) -> Vec<(&'static str, OsString)> {
        let mut env = env_of(&self.folder);
        env.push(("PULSE_LATENCY_MSEC", VOICE_LATENCY_MS.to_string().into()));
        env
    }

    /// The folder of this server: run-time files only, gone with it.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Plays a WAV file into the microphone and returns when all of it was heard.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where it cannot be played.
    pub fn speak(&self, wav: &Path) -> Result<(), HearError> {
        let mut paplay = Command::new("paplay");
        paplay.arg(format!("--device={FEED}")).args(["--latency-msec=500", "--"]).arg(wav);
        let done = paplay
            .envs(env_of(&self.folder))
            .stdin(Stdio::null())
            .output()
            .map_err(|e| not_there("paplay", &e))?;
        if done.status.success() {
            return Ok(());
        }
        Err(fault(format!("{}: paplay: {}", wav.display(), String::from_utf8_lossy(&done.stderr).trim())))
    }

    /// Plays 16 kHz mono samples into the microphone and returns when all of them were heard.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where they cannot be played.
    pub fn speak_samples(&self, samples: &[i16]) -> Result<(), HearError> {
        let mut pacat = self.player();
        pacat.stdin(Stdio::piped());
        let mut child = pacat.spawn().map_err(|e| not_there("pacat", &e))?;
        let bytes: Vec<u8> = samples.iter().flat_map(|s| s.to_le_bytes()).collect();
        let written = child.stdin.take().map_or(Ok(()), |mut pipe| pipe.write_all(&bytes));
        let status = child.wait().map_err(|e| fault(format!("pacat: {e}")))?;
        match (written, status.success()) {
            (Ok(()), true) => Ok(()),
            (Err(e), _) => Err(fault(format!("pacat: {e}"))),
            _ => Err(fault(format!("pacat: {status}"))),
        }
    }

    /// Records [`LOUDSPEAKER`] or [`MICROPHONE`] from now on; returns when it runs.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where recording cannot start.
    pub fn record(&self, device: &str) -> Result<Recording, HearError> {
        Recording::start(parec(&self.folder, device), device)
    }

    /// Ends the server now, as if it had died: for tests of what happens then.
    pub fn kill_server(&mut self) {
        let _ = self.server.daemon.kill();
        let _ = self.server.daemon.wait();
    }

    /// Starts the server again after [`VirtualSound::kill_server`], in the same place.
    ///
    /// # Errors
    /// As [`VirtualSound::start`].
    pub fn start_again(&mut self, form: Form) -> Result<(), HearError> {
        self.server.end();
        self.server = Server::start(&self.folder, form)?;
        self.form = form;
        Ok(())
    }

    /// Pulls a device out. What plays to it or records from it is cut off.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where it is not there.
    pub fn unplug(&self, plug: Plug) -> Result<(), HearError> {
        let (module, argument) = plug.module();
        let modules = self.pactl(&["list", "short", "modules"])?;
        let of_it =
            |line: &&str| line.contains(module) && line.split_whitespace().any(|word| word == argument);
        let Some(line) = modules.lines().find(of_it) else {
            return Err(fault(format!("{module} {argument} is not loaded")));
        };
        // What uses it is ended with it: the server would move it to another device without a word.
        let (devices, device, streams, kill) = match plug {
            Plug::Microphone => ("sources", MICROPHONE, "source-outputs", "kill-source-output"),
            Plug::Loudspeaker => ("sinks", "loudspeaker", "sink-inputs", "kill-sink-input"),
        };
        let first = |line: &str, at: usize| line.split('\t').nth(at).map(str::to_owned);
        let devices = self.pactl(&["list", "short", devices])?;
        let it = devices.lines().find(|line| first(line, 1).as_deref() == Some(device));
        let index = it.and_then(|line| first(line, 0));
        let used = || -> Result<Vec<String>, HearError> {
            let streams = self.pactl(&["list", "short", streams])?;
            let on_it = streams.lines().filter(|line| first(line, 1) == index);
            Ok(on_it.filter_map(|line| first(line, 0)).collect())
        };
        let mut orders = UnixStream::connect(self.folder.join("pulse").join("orders"))
            .map_err(|e| fault(format!("orders to the sound server: {e}")))?;
        let until = Instant::now() + UP;
        while let streams = used()?
            && !streams.is_empty()
            && Instant::now() < until
        {
            let order: String = streams.iter().map(|number| format!("{kill} {number}\n")).collect();
            orders
                .write_all(order.as_bytes())
                .map_err(|e| fault(format!("orders to the sound server: {e}")))?;
            std::thread::sleep(Duration::from_millis(20));
        }
        match plug {
            Plug::Microphone => self.pactl(&["set-default-source", &format!("{SPARE}.monitor")])?,
            Plug::Loudspeaker => self.pactl(&["set-default-sink", SPARE])?,
        };
        self.pactl(&["unload-module", line.split_whitespace().next().unwrap_or_default()]).map(drop)
    }

    /// Puts a device in again.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where the server refuses it.
    pub fn plug(&mut self, plug: Plug) -> Result<(), HearError> {
        let (module, argument) = plug.module();
        let spec = self.form.spec();
        let mut order = vec!["load-module", module, argument];
        order.extend(spec.split(' '));
        let master = format!("master={FEED}.monitor");
        let (more, default, device): (&[&str], _, _) = match plug {
            Plug::Microphone => (
                &[&master, "source_properties=device.description=Microphone"],
                ["set-default-source", MICROPHONE],
                MICROPHONE,
            ),
            Plug::Loudspeaker => (
                &["sink_properties=device.description=Loudspeaker"],
                ["set-default-sink", "loudspeaker"],
                LOUDSPEAKER,
            ),
        };
        order.extend(more);
        self.pactl(&order)?;
        self.pactl(&default)?;
        let keeper = parec(&self.folder, device).stdout(Stdio::null()).spawn();
        self.server.keepers.push(keeper.map_err(|e| not_there("parec", &e))?);
        Ok(())
    }

    /// From now on the microphone hears the loudspeaker: so many milliseconds late, louder or softer by so many decibels.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where the server refuses it.
    pub fn echo(&self, late_ms: u32, db: i32) -> Result<(), HearError> {
        let late = format!("latency_msec={late_ms}");
        let from = format!("source={LOUDSPEAKER}");
        let to = format!("sink={FEED}");
        let module = self.pactl(&["load-module", "module-loopback", &from, &to, &late, "adjust_time=0"])?;
        let owner = format!("Owner Module: {}", module.trim());
        let inputs = self.pactl(&["list", "sink-inputs"])?;
        let input = inputs
            .split("Sink Input #")
            .find(|input| input.lines().any(|line| line.trim() == owner))
            .and_then(|input| input.lines().next())
            .ok_or_else(|| fault("the echo does not play"))?;
        // With its sign it is a change, and it begins at 0 dB.
        let volume = format!("{db:+}dB");
        self.pactl(&["set-sink-input-volume", input.trim(), &volume]).map(drop)
    }

    /// Plays 16 kHz mono samples into the microphone again and again, beside whatever is spoken, until it is dropped.
    ///
    /// # Errors
    /// [`HearError::Virtual`] where they cannot be played.
    pub fn noise(&self, samples: &[i16]) -> Result<Noise, HearError> {
        let mut child = self.player().stdin(Stdio::piped()).spawn().map_err(|e| not_there("pacat", &e))?;
        let Some(mut pipe) = child.stdin.take() else { return Err(fault("pacat has no input")) };
        let bytes: Vec<u8> = samples.iter().flat_map(|s| s.to_le_bytes()).collect();
        let thread = std::thread::Builder::new()
            .name("noise".into())
            .spawn(move || while !bytes.is_empty() && pipe.write_all(&bytes).is_ok() {});
        thread.map_err(|e| fault(format!("noise thread: {e}")))?;
        Ok(Noise { child })
    }

    /// A player of 16 kHz mono samples into the microphone.
    fn player(&self) -> Command {
        let mut pacat = Command::new("pacat");
        pacat.arg("--playback").arg(format!("--device={FEED}"));
        pacat.args(["--rate=16000", "--channels=1", "--format=s16le", "--latency-msec=500"]);
        pacat.envs(env_of(&self.folder)).stdout(Stdio::null()).stderr(Stdio::null());
        pacat
    }

    fn pactl(&self, order: &[&str]) -> Result<String, HearError> {
        let mut pactl = Command::new("pactl");
        pactl.args(order).envs(env_of(&self.folder)).stdin(Stdio::null());
        let answer = pactl.output().map_err(|e| not_there("pactl", &e))?;
        if answer.status.success() {
            return Ok(String::from_utf8_lossy(&answer.stdout).into_owned());
        }
        let said = String::from_utf8_lossy(&answer.stderr).trim().to_owned();
        Err(fault(format!("pactl {}: {said}", order.join(" "))))
    }
}

impl Plug {
    fn module(self) -> (&'static str, &'static str) {
        match self {
            Self::Microphone => MICROPHONE_MODULE,
            Self::Loudspeaker => LOUDSPEAKER_MODULE,
        }
    }
}

/// Noise going on. Dropping it ends it.
#[derive(Debug)]
pub struct Noise {
    child: Child,
}

impl Drop for Noise {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Drop for VirtualSound {
    fn drop(&mut self) {
        self.server.end();
        let _ = fs::remove_dir_all(&self.folder);
    }
}

fn parec(folder: &Path, device: &str) -> Command {
    let mut parec = Command::new("parec");
    parec.arg(format!("--device={device}")).arg(format!("--rate={RATE}")).args([
        "--channels=1",
        "--format=s16le",
        "--latency-msec=20",
    ]);
    parec.envs(env_of(folder)).stdin(Stdio::null()).stderr(Stdio::null());
    parec
}

fn env_of(folder: &Path) -> Vec<(&'static str, OsString)> {
    let pulse = folder.join("pulse");
    let mut server = OsString::from("unix:");
    server.push(pulse.join("native"));
    vec![
        ("XDG_RUNTIME_DIR", folder.into()),
        ("PULSE_RUNTIME_PATH", pulse.clone().into()),
        ("PULSE_STATE_PATH", pulse.clone().into()),
        ("PULSE_COOKIE", pulse.join("cookie").into()),
        ("PULSE_SERVER", server),
    ]
}

/// Sound that the voice's player keeps ready, in milliseconds. The speech service asks for 10: on a busy machine the voice then
/// stops for a second in the middle of a word (two busy cores, three voices at once: most lines; with 100 one in sixty).
const VOICE_LATENCY_MS: u32 = 100;

/// A new folder that only this user can enter; short, because socket names are limited to about 100 letters.
fn new_folder() -> Result<PathBuf, HearError> {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let base = std::env::temp_dir();
    for _ in 0..1000 {
        let n = COUNT.fetch_add(1, Ordering::Relaxed);
        let folder = base.join(format!("bothhands-sound-{}-{n}", std::process::id()));
        match fs::DirBuilder::new().mode(0o700).create(&folder) {
            Ok(()) => {
                let pulse = folder.join("pulse");
                fs::DirBuilder::new()
                    .mode(0o700)
                    .create(&pulse)
                    .map_err(|e| fault(format!("{}: {e}", pulse.display())))?;
                return Ok(folder);
            }
            Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(fault(format!("{}: {e}", folder.display()))),
        }
    }
    Err(fault(format!("no free folder name in {}", base.display())))
}
