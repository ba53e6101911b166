//! Owns where profiles and meters are looked for: the person's folder, the project's, and those built in.

use super::{
    faults::{ProfileError, What},
    load::{parse, parse_meter, read},
    model::{Meter, Profile},
    nearest::nearest,
};
use std::path::{Path, PathBuf};

/// A checked value with the text that it was read from (a journal keeps that text).
#[derive(Debug, Clone, PartialEq)]
pub struct Loaded<T> {
    /// The checked value.
    pub value: T,
    /// The text as read.
    pub text: String,
    /// The file; none for one that is built into the program.
    pub path: Option<PathBuf>,
}

/// Something that can be named without a path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Available {
    /// Its identifier.
    pub id: String,
    /// The file; none for one that is built into the program.
    pub path: Option<PathBuf>,
}

/// Finds a profile by its identifier, or by the path of its file (with a folder in it, or ending in `.toml`).
///
/// An identifier is looked for in the person's data folder (`profiles/` below it), then in the project's `profiles/`,
/// then among those built in; the first found is taken, even if it is faulty.
///
/// # Errors
/// [`ProfileError::NotFound`] names what there is and where it was looked for; else as [`super::load`].
pub fn find(name_or_path: &str) -> Result<Loaded<Profile>, ProfileError> {
    Places::usual(What::Profile).find(name_or_path, parse, |profile| &profile.id)
}

/// Finds a meter in the same way as [`find`]; its folder is `profiles/meters`.
///
/// # Errors
/// As [`find`].
pub fn find_meter(name_or_path: &str) -> Result<Loaded<Meter>, ProfileError> {
    Places::usual(What::Meter).find(name_or_path, parse_meter, |meter| &meter.id)
}

/// All profiles that [`find`] finds by identifier, each once, sorted. Not checked: a faulty one is listed too.
#[must_use]
pub fn available() -> Vec<Available> {
    Places::usual(What::Profile).available()
}

/// All meters that [`find_meter`] finds by identifier, each once, sorted. Not checked: a faulty one is listed too.
#[must_use]
pub fn available_meters() -> Vec<Available> {
    Places::usual(What::Meter).available()
}

/// A text that is part of the program.
type BuiltIn = (&'static str, &'static str);

macro_rules! built_in {
    ($folder:literal: $($id:literal),* $(,)?) => {
        [$(($id, include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/", $folder, "/", $id, ".toml")))),*]
    };
}

/// The profiles built in.
static PROFILES: [BuiltIn; 2] = built_in!("profiles": "sweeper-sensor-pack", "sweeper-valve-block");
/// The meters built in.
static METERS: [BuiltIn; 3] =
    built_in!("profiles/meters": "handheld-2000", "handheld-6000", "handheld-60000");

/// Where to look.
struct Places {
    what: What,
    /// Folders, the first one first.
    folders: Vec<PathBuf>,
    built_in: &'static [BuiltIn],
}

impl Places {
    fn usual(what: What) -> Self {
        let (below, built_in): (_, &'static [BuiltIn]) = match what {
            What::Profile => ("profiles", &PROFILES),
            What::Meter => ("profiles/meters", &METERS),
        };
        let personal =
            directories::ProjectDirs::from("", "", "bothhands").map(|dirs| dirs.data_dir().join(below));
        let project = Path::new(env!("CARGO_MANIFEST_DIR")).join(below);
        Self { what, folders: personal.into_iter().chain([project]).collect(), built_in }
    }

    fn find<T>(
        &self,
        asked: &str,
        parse: impl Fn(&str, &str) -> Result<T, ProfileError>,
        id: impl Fn(&T) -> &String,
    ) -> Result<Loaded<T>, ProfileError> {
        let from_file = |path: PathBuf| {
            let text = read(self.what, &path)?;
            let value = parse(&path.display().to_string(), &text)?;
            Ok(Loaded { value, text, path: Some(path) })
        };
        if asked.contains(['/', std::path::MAIN_SEPARATOR]) || asked.ends_with(".toml") {
            return from_file(PathBuf::from(asked));
        }
        let files = self.folders.iter().map(|folder| folder.join(format!("{asked}.toml")));
        if let Some(path) = files.into_iter().find(|path| !asked.is_empty() && path.exists()) {
            let loaded = from_file(path)?;
            // A journal names the profile by its identifier: it has to be the one that was asked for.
            if id(&loaded.value) != asked {
                return Err(ProfileError::OtherId {
                    what: self.what,
                    path: loaded.path.unwrap_or_default(),
                    id: id(&loaded.value).clone(),
                });
            }
            return Ok(loaded);
        }
        if let Some((name, text)) = self.built_in.iter().find(|(name, _)| *name == asked) {
            return Ok(Loaded { value: parse(name, text)?, text: (*text).to_owned(), path: None });
        }
        let known: Vec<String> = self.available().into_iter().map(|available| available.id).collect();
        let nearest = nearest(asked, known.iter().map(String::as_str)).map(str::to_owned);
        let folders = self.folders.iter().map(|folder| folder.display().to_string());
        let looked = folders.chain(["those built in".to_owned()]).collect();
        Err(ProfileError::NotFound { what: self.what, name: asked.to_owned(), known, nearest, looked })
    }

    fn available(&self) -> Vec<Available> {
        let mut all: Vec<Available> = Vec::new();
        for folder in &self.folders {
            // A folder that is not there or cannot be listed has nothing to offer; opening a file in it says why.
            let Ok(entries) = std::fs::read_dir(folder) else { continue };
            for path in entries.flatten().map(|entry| entry.path()) {
                let is_toml = path.extension().is_some_and(|extension| extension == "toml") && path.is_file();
                if let (true, Some(id)) = (is_toml, path.file_stem().and_then(|stem| stem.to_str())) {
                    add(&mut all, Available { id: id.to_owned(), path: Some(path.clone()) });
                }
            }
        }
        for (id, _) in self.built_in {
            add(&mut all, Available { id: (*id).to_owned(), path: None });
        }
        all.sort_by(|a, b| a.id.cmp(&b.id));
        all
    }
}

/// Adds what is not there yet: an earlier place goes before a later one.
fn add(all: &mut Vec<Available>, new: Available) {
    if !all.iter().any(|available| available.id == new.id) {
        all.push(new);
    }
}
