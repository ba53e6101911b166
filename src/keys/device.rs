//! Owns the kernel's input devices (Linux, evdev): finding one by name, taking its keys for ourselves, reading them.

use super::{
    follow::{KeySource, KeyStream},
    pedal::KeyEvent,
};
use evdev::{Device, EventSummary, KeyCode};
use std::{
    fs, io,
    path::{Path, PathBuf},
    str::FromStr,
};

/// A device that could be opened, with its path.
type Opened = (PathBuf, Device);

/// Where the kernel lists them.
const FOLDER: &str = "/dev/input";

/// The kernel's number of a key, by its name (`KEY_B`).
#[must_use]
pub fn code(name: &str) -> Option<u16> {
    KeyCode::from_str(name).ok().map(|key| key.code())
}

/// The name of a key, by its number.
#[must_use]
pub fn key_name(code: u16) -> String {
    format!("{:?}", KeyCode::new(code))
}

/// A device, by its path, its name or a part of its name.
#[derive(Debug)]
pub struct Wanted {
    name: String,
}

impl Wanted {
    /// The device of that name.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self { name: name.to_owned() }
    }

    fn find(&self) -> Result<Device, String> {
        if self.name.starts_with('/') {
            return Device::open(&self.name).map_err(|error| told(Path::new(&self.name), &error));
        }
        let wanted = self.name.to_lowercase();
        let (there, refused) = all()?;
        let fits = |(_, device): &Opened| device.name().unwrap_or_default().to_lowercase().contains(&wanted);
        // A device with several functions has several entries: the one with keys is meant.
        let with_keys = |(_, device): &Opened| device.supported_keys().is_some();
        match there.into_iter().find(|device| fits(device) && with_keys(device)) {
            Some((_, device)) => Ok(device),
            None => Err(refused.unwrap_or_else(|| format!("no device is called \"{}\"", self.name))),
        }
    }
}

impl KeySource for Wanted {
    fn open(&mut self) -> Result<Box<dyn KeyStream>, String> {
        let mut device = self.find()?;
        device.grab().map_err(|error| format!("it cannot be taken, another program has it: {error}"))?;
        Ok(Box::new(Taken { device }))
    }
}

/// A device whose keys come here and nowhere else. Dropped, it is given back.
struct Taken {
    device: Device,
}

impl KeyStream for Taken {
    fn read(&mut self) -> Result<Vec<KeyEvent>, String> {
        let events = self.device.fetch_events().map_err(|error| error.to_string())?;
        Ok(events
            .filter_map(|event| match event.destructure() {
                EventSummary::Key(_, key, value) => Some(KeyEvent { code: key.code(), value }),
                _ => None,
            })
            .collect())
    }
}

/// Names and paths of the devices that have keys.
///
/// # Errors
/// In words, when there are none or none may be read.
pub fn names() -> Result<Vec<(PathBuf, String)>, String> {
    let (there, refused) = all()?;
    let named: Vec<(PathBuf, String)> = there
        .into_iter()
        .filter(|(_, device)| device.supported_keys().is_some())
        .map(|(path, device)| (path, device.name().unwrap_or("(no name)").to_owned()))
        .collect();
    match refused {
        Some(why) if named.is_empty() => Err(why),
        _ => Ok(named),
    }
}

/// All devices that can be opened, in the kernel's order, and why one could not.
fn all() -> Result<(Vec<Opened>, Option<String>), String> {
    let listed = match fs::read_dir(FOLDER) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            return Err("this machine has no input devices".into());
        }
        listed => listed.map_err(|error| told(Path::new(FOLDER), &error))?,
    };
    let mut paths: Vec<PathBuf> = listed
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with("event")))
        .collect();
    paths.sort_by_key(|path| (path.as_os_str().len(), path.clone()));
    let mut refused = None;
    let mut there = Vec::new();
    for path in paths {
        match Device::open(&path) {
            Ok(device) => there.push((path, device)),
            Err(error) => refused = Some(told(&path, &error)),
        }
    }
    Ok((there, refused))
}

fn told(path: &Path, error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => {
            format!(
                "{} may not be read: bothhands pedal --rule NAME prints the rule that lets you; or your user has to be in the group `input`",
                path.display()
            )
        }
        _ => format!("{}: {error}", path.display()),
    }
}
