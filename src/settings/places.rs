//! Owns where the program's own files lie: models, grammars, profiles and the demo, wherever it was installed or unpacked.
//!
//! The folders below a place are named as in the source tree: `grammars/en/ears`, `profiles/meters`, `demo`.

use schemars::JsonSchema;
use serde::Serialize;
use std::{
    env, fs,
    path::{Path, PathBuf},
};

/// The folder's name below the usual places.
const NAME: &str = "bothhands";
/// Where the Filesystem Hierarchy keeps data when `XDG_DATA_DIRS` is not set (XDG Base Directory Specification 0.8, from memory).
const DATA_DIRS: &str = "/usr/local/share:/usr/share";

/// What kind of place it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PlaceKind {
    /// The person's own data folder (`XDG_DATA_HOME`).
    Personal,
    /// The folder that the program lies in: an archive unpacked flat.
    Beside,
    /// `../share/bothhands`, seen from the program: installed, or an archive unpacked as it is.
    Share,
    /// The source tree: the program was built in it, or is run from it.
    Source,
    /// A data folder of the system (`XDG_DATA_DIRS`).
    System,
}

/// What comes along in files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OwnFiles {
    /// The speech model.
    Model,
    /// Words and numbers of each language.
    Grammars,
    /// Profiles of parts.
    Profiles,
    /// Profiles of meters.
    Meters,
    /// The demo's scenario and voice.
    Demo,
}

impl OwnFiles {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Model, Self::Grammars, Self::Profiles, Self::Meters, Self::Demo];

    /// The folder below a place.
    #[must_use]
    pub fn below(self) -> &'static str {
        match self {
            Self::Model => "grammars/en/ears",
            Self::Grammars => "grammars",
            Self::Profiles => "profiles",
            Self::Meters => "profiles/meters",
            Self::Demo => "demo",
        }
    }
}

/// Which place has what, for people.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Located {
    /// It is in a folder.
    Found {
        /// What.
        what: OwnFiles,
        /// In which kind of place.
        place: PlaceKind,
        /// The folder.
        path: String,
    },
    /// No folder has it; the texts that are built into the program are used.
    BuiltIn {
        /// What.
        what: OwnFiles,
    },
    /// It is nowhere.
    Missing {
        /// What.
        what: OwnFiles,
        /// The folders that were looked into, joined.
        looked: String,
    },
}

/// A folder to look in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// What it is.
    pub kind: PlaceKind,
    /// The folder; it may not exist.
    pub folder: PathBuf,
}

/// Where to look, the first place first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Places(Vec<Place>);

/// What the places follow from.
struct Surroundings {
    program: Option<PathBuf>,
    working: Option<PathBuf>,
    personal: Option<PathBuf>,
    system: Vec<PathBuf>,
}

impl Places {
    /// The places of this run.
    #[must_use]
    pub fn of_this_run() -> Self {
        let dirs = env::var_os("XDG_DATA_DIRS").filter(|dirs| !dirs.is_empty()).unwrap_or(DATA_DIRS.into());
        Self::of(&Surroundings {
            program: env::current_exe().ok(),
            working: env::current_dir().ok(),
            personal: directories::ProjectDirs::from("", "", NAME).map(|dirs| dirs.data_dir().to_owned()),
            // A relative path in it is to be passed over, says the specification.
            system: env::split_paths(&dirs).filter(|path| path.is_absolute()).collect(),
        })
    }

    /// The person's folder goes first. Then what belongs to this very program, so that an older one that is installed
    /// too never lends its files.
    fn of(around: &Surroundings) -> Self {
        let mut places: Vec<Place> = Vec::new();
        let mut add = |kind, folder: Option<PathBuf>| {
            if let Some(folder) = folder
                && !places.iter().any(|place| place.folder == folder)
            {
                places.push(Place { kind, folder });
            }
        };
        let bin = around.program.as_deref().and_then(Path::parent);
        add(PlaceKind::Personal, around.personal.clone());
        add(PlaceKind::Beside, bin.map(Path::to_owned));
        add(PlaceKind::Share, bin.and_then(Path::parent).map(|prefix| prefix.join("share").join(NAME)));
        add(PlaceKind::Source, bin.and_then(source_tree));
        add(PlaceKind::Source, around.working.as_deref().and_then(source_tree));
        for folder in &around.system {
            add(PlaceKind::System, Some(folder.join(NAME)));
        }
        Self(places)
    }

    /// All places in order, whether they exist or not.
    #[must_use]
    pub fn all(&self) -> &[Place] {
        &self.0
    }

    /// That folder or file in each place, in order, whether it exists or not.
    #[must_use]
    pub fn each(&self, below: &str) -> Vec<PathBuf> {
        self.0.iter().map(|place| place.folder.join(below)).collect()
    }

    /// The first place that has it, with the whole path.
    #[must_use]
    pub fn find(&self, below: &str) -> Option<(PlaceKind, PathBuf)> {
        let mut paths = self.0.iter().map(|place| (place.kind, place.folder.join(below)));
        paths.find(|(_, path)| path.exists())
    }

    /// The places that have it. What has none and is built in is told as that.
    #[must_use]
    pub fn located(&self, what: OwnFiles) -> Vec<Located> {
        let below = what.below();
        let found: Vec<Located> = self
            .0
            .iter()
            .map(|place| (place.kind, place.folder.join(below)))
            .filter(|(_, path)| path.is_dir())
            .map(|(place, path)| Located::Found { what, place, path: path.display().to_string() })
            .collect();
        match what {
            _ if !found.is_empty() => found,
            OwnFiles::Grammars | OwnFiles::Profiles | OwnFiles::Meters => vec![Located::BuiltIn { what }],
            OwnFiles::Model | OwnFiles::Demo => {
                let looked = self.0.iter().map(|place| place.folder.join(below).display().to_string());
                vec![Located::Missing { what, looked: looked.collect::<Vec<_>>().join(", ") }]
            }
        }
    }
}

/// The source tree around a folder: that of this program, not of any other.
fn source_tree(folder: &Path) -> Option<PathBuf> {
    let is_ours = |folder: &&Path| {
        folder.join("grammars").is_dir()
            && fs::read_to_string(folder.join("Cargo.toml"))
                .is_ok_and(|text| text.lines().any(|line| line.trim() == format!("name = \"{NAME}\"")))
    };
    folder.ancestors().find(is_ours).map(Path::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn around(program: &Path, working: &Path) -> Surroundings {
        Surroundings {
            program: Some(program.to_owned()),
            working: Some(working.to_owned()),
            personal: Some("/home/somebody/.local/share/bothhands".into()),
            system: ["/usr/local/share", "/usr/share"].map(PathBuf::from).into(),
        }
    }

    fn tree(root: &Path, name: &str) {
        fs::create_dir_all(root.join("grammars/en")).unwrap();
        fs::create_dir_all(root.join("target/release/deps")).unwrap();
        fs::write(root.join("Cargo.toml"), format!("[package]\nname = \"{name}\"\n")).unwrap();
    }

    #[test]
    fn an_installed_program_looks_at_the_person_then_beside_itself_then_in_the_system() {
        let places = Places::of(&around(Path::new("/usr/bin/bothhands"), Path::new("/")));
        let seen: Vec<_> =
            places.all().iter().map(|place| (place.kind, place.folder.to_str().unwrap())).collect();
        assert_eq!(
            seen,
            [
                (PlaceKind::Personal, "/home/somebody/.local/share/bothhands"),
                (PlaceKind::Beside, "/usr/bin"),
                // Named once, as what it is first.
                (PlaceKind::Share, "/usr/share/bothhands"),
                (PlaceKind::System, "/usr/local/share/bothhands"),
            ]
        );
    }

    #[test]
    fn the_source_tree_is_found_from_what_was_built_in_it_and_from_within_it() {
        let root = tempfile::tempdir().unwrap();
        tree(root.path(), "bothhands");
        for (program, working) in [
            (root.path().join("target/release/bothhands"), PathBuf::from("/")),
            (root.path().join("target/release/deps/test-0123"), PathBuf::from("/")),
            (PathBuf::from("/elsewhere/bin/bothhands"), root.path().join("grammars/en")),
        ] {
            let places = Places::of(&around(&program, &working));
            let found = places.all().iter().find(|place| place.kind == PlaceKind::Source);
            assert_eq!(found.map(|place| place.folder.as_path()), Some(root.path()), "{}", program.display());
        }
    }

    #[test]
    fn another_programs_source_tree_is_passed_over() {
        let root = tempfile::tempdir().unwrap();
        tree(root.path(), "other");
        let places = Places::of(&around(&root.path().join("target/release/bothhands"), root.path()));
        assert!(places.all().iter().all(|place| place.kind != PlaceKind::Source));
    }

    #[test]
    fn the_first_place_that_has_it_is_taken() {
        let root = tempfile::tempdir().unwrap();
        let prefix = root.path();
        fs::create_dir_all(prefix.join("share/bothhands/demo")).unwrap();
        fs::create_dir_all(prefix.join("bin/profiles")).unwrap();
        fs::create_dir_all(prefix.join("share/bothhands/profiles")).unwrap();
        let places = Places::of(&around(&prefix.join("bin/bothhands"), Path::new("/")));
        assert_eq!(places.find("demo"), Some((PlaceKind::Share, prefix.join("share/bothhands/demo"))));
        assert_eq!(places.find("profiles"), Some((PlaceKind::Beside, prefix.join("bin/profiles"))));
        assert_eq!(places.find("grammars/en/ears"), None);
    }

    #[test]
    fn what_lies_where_is_told_and_what_is_missing_too() {
        let root = tempfile::tempdir().unwrap();
        let prefix = root.path();
        fs::create_dir_all(prefix.join("share/bothhands/profiles")).unwrap();
        let places = Places::of(&around(&prefix.join("bin/bothhands"), Path::new("/")));
        let path = prefix.join("share/bothhands/profiles").display().to_string();
        let what = OwnFiles::Profiles;
        let share = Located::Found { what, place: PlaceKind::Share, path };
        assert_eq!(places.located(what), [share]);
        assert_eq!(places.located(OwnFiles::Meters), [Located::BuiltIn { what: OwnFiles::Meters }]);
        let [Located::Missing { looked, .. }] = &places.located(OwnFiles::Demo)[..] else { panic!("none") };
        assert!(looked.contains(prefix.join("share/bothhands/demo").to_str().unwrap()), "{looked}");
    }
}
