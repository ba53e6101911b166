//! Owns where profiles and meters are looked for: the person's folder, the program's own, and those built in.

use super::{
    faults::{ProfileError, What},
    load::{parse, parse_meter, read},
    model::{Meter, Profile},
    nearest::nearest,
};
use crate::settings::places;
use std::path::PathBuf;

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

impl Loaded<Profile> {
    /// The same with names, titles and cautions in a language, where the file has them in it.
    ///
    /// # Errors
    /// As [`super::parse_in`]; a file that was read before is refused only for what it has in that language.
    pub fn in_language(self, language: &str) -> Result<Self, ProfileError> {
        let name =
            self.path.as_ref().map_or_else(|| self.value.id.clone(), |path| path.display().to_string());
        Ok(Self { value: super::parse_in(&name, &self.text, language)?, ..self })
    }
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
/// An identifier is looked for in the person's data folder (`profiles/` below it), then in `profiles/` of the program's
/// own [`places`], then among those built in; the first found is taken, even if it is faulty.
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

/// The person's own folder of profiles, where there is one on this system. It need not exist yet.
#[must_use]
pub fn personal_folder() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "bothhands").map(|dirs| dirs.data_dir().join("profiles"))
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
static PROFILES: [BuiltIn; 16] = built_in!("profiles":
    "data-bus", "feed-and-earth", "four-injectors", "glow-plugs", "ignition-coil", "position-sensor", "relay-pair", "starter-solenoid", "stepper-six-wires", "stepper-two-windings", "sweeper-sensor-pack", "sweeper-valve-block", "temperature-sensors", "three-phase-winding", "trailer-lamps", "wheel-speed-sensors"
);
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
        Self { what, folders: places::Places::of_this_run().each(below), built_in }
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::{fs, path::Path};

    const PUMP: &str = include_str!("../../tests/profile_refusals/pump.toml");

    /// A person's folder and the project's, both empty, and nothing built in but the valve block.
    fn places() -> (tempfile::TempDir, Places) {
        let root = tempfile::tempdir().expect("a temporary folder");
        let folders = ["personal", "project"].map(|name| root.path().join(name));
        folders.iter().for_each(|folder| fs::create_dir(folder).expect("it is empty"));
        let at = PROFILES.iter().position(|one| one.0 == "sweeper-valve-block").expect("it is built in");
        (root, Places { what: What::Profile, folders: folders.into(), built_in: &PROFILES[at..=at] })
    }

    fn found(places: &Places, asked: &str) -> Result<Loaded<Profile>, ProfileError> {
        places.find(asked, parse, |profile| &profile.id)
    }

    #[test]
    fn what_is_built_in_is_found_without_any_file() {
        let (_root, places) = places();
        let block = found(&places, "sweeper-valve-block").unwrap();
        assert_eq!((block.value.id.as_str(), block.path), ("sweeper-valve-block", None));
        assert_eq!(block.text, include_str!("../../profiles/sweeper-valve-block.toml"));
    }

    #[test]
    fn everything_built_in_is_in_order_and_called_as_its_file() {
        for (id, text) in PROFILES {
            assert_eq!(parse(id, text).unwrap().id, id);
        }
        for (id, text) in METERS {
            assert_eq!(parse_meter(id, text).unwrap().id, id);
        }
    }

    /// A new file in `profiles/` that is not built in would be missing from an installed program.
    #[test]
    fn every_file_of_the_project_is_built_in() {
        for (below, built_in) in [("profiles", &PROFILES[..]), ("profiles/meters", &METERS[..])] {
            let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(below);
            let files = Places { what: What::Profile, folders: vec![folder], built_in: &[] }.available();
            let files: Vec<_> = files.iter().map(|file| file.id.as_str()).collect();
            assert_eq!(files, built_in.iter().map(|(id, _)| *id).collect::<Vec<_>>());
        }
    }

    #[test]
    fn the_persons_own_file_goes_first_even_if_it_is_faulty() {
        let (_root, places) = places();
        fs::write(places.folders[1].join("pump.toml"), PUMP).unwrap();
        let project = found(&places, "pump").unwrap();
        assert_eq!(project.path, Some(places.folders[1].join("pump.toml")));
        assert_eq!(project.text, PUMP);

        fs::write(places.folders[0].join("pump.toml"), PUMP.replace("title = \"Pump\"", "")).unwrap();
        let error = found(&places, "pump").unwrap_err();
        let list = error.faults().expect("it was read").list();
        assert_eq!(list.iter().map(|fault| fault.key.as_str()).collect::<Vec<_>>(), ["title"]);
        let known: Vec<_> =
            places.available().into_iter().map(|found| (found.id, found.path.is_some())).collect();
        assert_eq!(known, [("pump".to_owned(), true), ("sweeper-valve-block".to_owned(), false)]);
    }

    #[test]
    fn a_path_is_a_path_whatever_the_file_is_called() {
        let (root, places) = places();
        let path = root.path().join("copy of pump.toml");
        fs::write(&path, PUMP).unwrap();
        assert_eq!(found(&places, path.to_str().unwrap()).unwrap().value.id, "pump");
        assert!(matches!(found(&places, "pump.toml"), Err(ProfileError::Unreadable { .. })));
    }

    #[test]
    fn a_file_called_otherwise_than_its_profile_is_refused() {
        let (root, places) = places();
        fs::write(places.folders[0].join("pomp.toml"), PUMP).unwrap();
        let error = found(&places, "pomp").unwrap_err();
        let said = error.to_string().replace(root.path().to_str().unwrap(), "DIR");
        assert_eq!(
            said,
            "the profile in DIR/personal/pomp.toml calls itself \"pump\", not as its file is called"
        );
        assert!(error.rendered(200).contains("rename the file to pump.toml, or change `id` in it"));
    }

    #[test]
    fn what_is_not_there_is_told_with_what_is_there_and_where_it_was_looked_for() {
        let (root, places) = places();
        let refused = |asked| {
            let error = found(&places, asked).unwrap_err();
            error.rendered(400).replace(root.path().to_str().unwrap(), "DIR")
        };
        assert_eq!(
            refused("sweeper-valve-blok"),
            "  × there is no profile \"sweeper-valve-blok\"; there is sweeper-valve-block\n  help: did you mean \
             \"sweeper-valve-block\"? looked in DIR/personal, DIR/project, those built in; a file elsewhere is named \
             by its path, ending in .toml\n"
        );
        assert!(refused("").starts_with("  × there is no profile \"\""));
    }

    #[test]
    fn the_usual_places_hold_the_source_tree_where_it_runs_from_there() {
        let usual = Places::usual(What::Meter);
        let project = Path::new(env!("CARGO_MANIFEST_DIR")).join("profiles/meters");
        assert!(usual.folders.contains(&project), "{:?}", usual.folders);
        assert_eq!(usual.built_in.len(), METERS.len());
    }
}
