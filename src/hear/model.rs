//! Owns where the speech model lies and whether its files may be shown to the recogniser.
//!
//! libvosk prints and gives nothing back when most files are missing, ends the whole process when `HCLr.fst` is missing
//! or cut short, and does not notice a missing `Gr.fst`. So every file is checked here first: presence, size, its kind
//! by its first bytes, and the sums in `SHA256SUMS` where the folder has that list (the shipped model does).

use super::HearError;
use crate::settings::places::Places;
use sha2::{Digest, Sha256};
use std::{
    collections::HashSet,
    env, fs,
    path::{Path, PathBuf},
};

/// The sums of the shipped model's files, as `sha256sum` writes them.
const SHIPPED_SUMS: &str = include_str!("../../grammars/en/ears/SHA256SUMS");
/// The sums of the second network's files.
const SECOND_SUMS: &str = include_str!("../../grammars/en/ears-second/SHA256SUMS");
/// What the second network's folder has behind the name of the first one's.
const SECOND: &str = "-second";
/// Where the shipped model lies below a place.
const EARS: &str = "grammars/en/ears";
const SUMS: &str = "SHA256SUMS";

/// A folder with a speech model whose files were checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelFolder {
    path: PathBuf,
    shipped: bool,
    second: Option<PathBuf>,
}

/// Where the files lie: both ways are read by libvosk.
struct Layout {
    acoustic: &'static str,
    features: &'static str,
    graph: &'static str,
}

/// `am/`, `conf/` and `graph/` apart; and the older way with everything in one folder.
const APART: Layout = Layout { acoustic: "am/final.mdl", features: "conf/mfcc.conf", graph: "graph/" };
const FLAT: Layout = Layout { acoustic: "final.mdl", features: "mfcc.conf", graph: "" };

impl ModelFolder {
    /// Finds the model folder and checks its files.
    ///
    /// `named` (from `--model`) goes first, then the environment variable `BOTHHANDS_MODEL`, then `grammars/en/ears` in
    /// the [`Places`] of the program's own files.
    ///
    /// # Errors
    /// [`HearError::NoModel`] with the folders looked into; [`HearError::ModelFile`] naming the file at fault.
    pub fn find(named: Option<&Path>) -> Result<Self, HearError> {
        let variable = env::var_os("BOTHHANDS_MODEL").filter(|v| !v.is_empty()).map(PathBuf::from);
        if let Some(folder) = named.map(Path::to_path_buf).or(variable) {
            return Self::check(&folder);
        }
        Self::find_shipped()
    }

    /// The networks that come with the program.
    fn find_shipped() -> Result<Self, HearError> {
        let looked = Places::of_this_run().each(EARS);
        match looked.iter().find(|p| p.is_dir()) {
            Some(folder) => {
                check_sums(folder, SHIPPED_SUMS)?;
                let mut second = folder.clone().into_os_string();
                second.push(SECOND);
                let second = PathBuf::from(second);
                check_sums(&second, SECOND_SUMS)?;
                Ok(Self { path: folder.clone(), shipped: true, second: Some(second) })
            }
            None => Err(HearError::NoModel { looked }),
        }
    }

    /// Checks a folder that somebody named.
    ///
    /// # Errors
    /// [`HearError::ModelFile`] naming the file at fault.
    pub fn check(folder: &Path) -> Result<Self, HearError> {
        let fault =
            |file: &Path, fault: &str| HearError::ModelFile { file: file.into(), fault: fault.into() };
        if !folder.is_dir() {
            return Err(fault(folder, "there is no such folder"));
        }
        let sums = folder.join(SUMS);
        if sums.is_file() {
            let text = fs::read_to_string(&sums).map_err(|e| fault(&sums, &e.to_string()))?;
            check_sums(folder, &text)?;
        }
        let layout =
            if folder.join(FLAT.acoustic).is_file() && !folder.join("am").is_dir() { FLAT } else { APART };
        if !folder.join("am").exists() && !folder.join(layout.acoustic).exists() {
            return Err(fault(
                folder,
                "this is no model folder of the vosk kind (am/, conf/ and graph/ expected); name the folder that holds them",
            ));
        }
        let graph = |name: &str| folder.join(format!("{}{name}", layout.graph));
        if graph("HCLG.fst").exists() {
            return Err(fault(
                &graph("HCLG.fst"),
                "this model has one fixed graph and cannot be held to the words of this program; take one with HCLr.fst and Gr.fst (the \"small\" ones)",
            ));
        }
        let acoustic = folder.join(layout.acoustic);
        if !starts(&acoustic, 1000)?.starts_with(b"\0B<TransitionModel>") {
            return Err(fault(&acoustic, "not an acoustic model (or damaged); fetch the model again"));
        }
        starts(&folder.join(layout.features), 1)?;
        starts(&graph("disambig_tid.int"), 1)?;
        for name in ["HCLr.fst", "Gr.fst"] {
            check_fst(&graph(name))?;
        }
        // With an i-vector extractor all of its parts are needed.
        if folder.join("ivector").is_dir() {
            for name in [
                "final.ie",
                "final.dubm",
                "final.mat",
                "global_cmvn.stats",
                "online_cmvn.conf",
                "splice.conf",
            ] {
                starts(&folder.join("ivector").join(name), 1)?;
            }
        }
        Ok(Self { path: folder.into(), shipped: false, second: None })
    }

    /// The second network's folder: a shipped model has one, trained apart so that it errs differently.
    #[must_use]
    pub fn second(&self) -> Option<&Path> {
        self.second.as_deref()
    }

    /// The folder.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether this is the pair of networks that comes with the project, found by itself.
    #[must_use]
    pub fn is_shipped(&self) -> bool {
        self.shipped
    }

    /// The words that the model knows, where the folder lists them (the shipped one does; others may keep them inside
    /// `Gr.fst`).
    #[must_use]
    pub fn words(&self) -> Option<HashSet<String>> {
        let text = ["graph/words.txt", "words.txt"]
            .iter()
            .find_map(|f| fs::read_to_string(self.path.join(f)).ok())?;
        Some(text.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect())
    }

    /// The words of these phrases that the model does not know, sorted; empty where the folder does not list its words.
    #[must_use]
    pub fn unknown_words<'a>(&self, phrases: impl IntoIterator<Item = &'a str>) -> Vec<String> {
        let Some(known) = self.words() else { return Vec::new() };
        let unknown: std::collections::BTreeSet<&str> =
            phrases.into_iter().flat_map(str::split_whitespace).filter(|w| !known.contains(*w)).collect();
        unknown.into_iter().map(str::to_owned).collect()
    }
}

/// Every file of the list must be there with that sum.
fn check_sums(folder: &Path, sums: &str) -> Result<(), HearError> {
    for line in sums.lines().filter(|l| !l.trim().is_empty()) {
        let Some((sum, name)) = line.split_once("  ") else {
            return Err(HearError::ModelFile {
                file: folder.join(SUMS),
                fault: format!("the line \"{line}\" is not as sha256sum writes it"),
            });
        };
        let file = folder.join(name);
        let bytes = read(&file)?;
        let found: String = Sha256::digest(&bytes).iter().map(|b| format!("{b:02x}")).collect();
        if found != sum {
            return Err(HearError::ModelFile {
                file,
                fault: format!(
                    "cut short or changed ({} bytes, SHA-256 {found}, expected {sum}); put the model's own file back",
                    bytes.len()
                ),
            });
        }
    }
    Ok(())
}

fn read(file: &Path) -> Result<Vec<u8>, HearError> {
    fs::read(file).map_err(|e| HearError::ModelFile {
        file: file.into(),
        fault: if e.kind() == std::io::ErrorKind::NotFound {
            "missing; fetch the model again".into()
        } else {
            e.to_string()
        },
    })
}

/// The file's bytes, at least so many.
fn starts(file: &Path, at_least: usize) -> Result<Vec<u8>, HearError> {
    let bytes = read(file)?;
    if bytes.len() < at_least {
        return Err(HearError::ModelFile {
            file: file.into(),
            fault: format!("cut short ({} bytes); fetch the model again", bytes.len()),
        });
    }
    Ok(bytes)
}

/// A graph file of OpenFst: known first bytes, and not shorter than its own header says.
fn check_fst(file: &Path) -> Result<(), HearError> {
    let bytes = starts(file, 1)?;
    let fault = |text: String| Err(HearError::ModelFile { file: file.into(), fault: text });
    let Some((kind, needed)) = fst_needs(&bytes) else {
        return fault("not a graph file (or damaged); fetch the model again".into());
    };
    if (bytes.len() as u64) < needed {
        return fault(format!(
            "cut short ({} bytes, at least {needed} expected of its kind, {kind}); fetch the model again",
            bytes.len()
        ));
    }
    Ok(())
}

struct Header {
    kind: String,
    states: u64,
    arcs: u64,
    length: usize,
}

/// The header of an OpenFst file: magic number, kind, arc kind, version, flags, properties, start, count of states, count
/// of arcs (OpenFst, fst.cc, `FstHeader::Write`).
fn header(bytes: &[u8]) -> Option<Header> {
    const MAGIC: u64 = 0x7eb2_fdd6;
    let mut length = 0_usize;
    let mut take = |n: usize| {
        let part = bytes.get(length..length.checked_add(n)?)?;
        length += n;
        Some(part)
    };
    let number = |b: &[u8]| b.iter().rev().fold(0_u64, |n, b| n << 8 | u64::from(*b));
    if number(take(4)?) != MAGIC {
        return None;
    }
    let name = usize::try_from(number(take(4)?)).ok()?;
    let kind = String::from_utf8(take(name)?.to_vec()).ok()?;
    let name = usize::try_from(number(take(4)?)).ok()?;
    take(name)?;
    take(4 + 4 + 8 + 8)?;
    let (states, arcs) = (number(take(8)?), number(take(8)?));
    Some(Header { kind, states, arcs, length })
}

/// Kind and least length of an OpenFst file. Look-ahead kinds hold another file and a table of reachable labels.
fn fst_needs(bytes: &[u8]) -> Option<(String, u64)> {
    let Header { kind, states, arcs, length: mut at } = header(bytes)?;
    if kind.ends_with("lookahead") {
        at += 4; // the magic number of what was added
        let graph = bytes.get(at..)?;
        let inner = usize::try_from(fst_needs(graph)?.1).ok()?;
        let states = header(graph)?.states;
        let reach = graph.get(inner..).and_then(|table| reach_needs(table, states)).unwrap_or(0);
        return Some((kind, (at + inner + reach) as u64));
    }
    // An unset count is written as -1 (a stream that could not be rewound); then nothing can be said.
    if states > u64::from(u32::MAX) || arcs > u64::from(u32::MAX) {
        return Some((kind, at as u64));
    }
    // Bytes a state and an arc in the kinds used here (const-fst.h, vector-fst.h); others are only recognised.
    let needed = match kind.as_str() {
        "const" => at as u64 + states * 20 + arcs * 16,
        "vector" => {
            // Symbol tables before the states (flags 1 and 2) are of no fixed length: then only their presence counts.
            let tables = bytes.get(at - 36).is_some_and(|flags| flags & 3 != 0);
            if tables { at as u64 + states * 12 } else { vector_needs(bytes, at, states) }
        }
        _ => at as u64,
    };
    Some((kind, needed))
}

/// End of the states of a vector graph: each has a weight, a count of arcs, and the arcs.
fn vector_needs(bytes: &[u8], mut at: usize, states: u64) -> u64 {
    for _ in 0..states {
        let arcs = bytes.get(at + 4..at + 12).and_then(|b| b.first_chunk().copied()).map(u64::from_le_bytes);
        match arcs.and_then(|n| usize::try_from(n).ok()).filter(|n| *n < 1 << 32) {
            Some(arcs) => at += 12 + arcs * 16,
            None => return bytes.len() as u64 + 1,
        }
    }
    at as u64
}

/// Length of the table of reachable labels behind a look-ahead graph: five flags, the last label, and for each state its list
/// of intervals (label-reachable.h, interval-set.h). None where the file is of another build than those known.
fn reach_needs(bytes: &[u8], states: u64) -> Option<usize> {
    let number = |at: usize| -> Option<u64> {
        Some(u64::from_le_bytes(bytes.get(at..at + 8)?.first_chunk().copied()?))
    };
    if number(9)? != states {
        return None;
    }
    let mut at = 17;
    for _ in 0..states {
        let Some(intervals) = number(at) else {
            // The file ends inside: any length beyond its end will do.
            return Some(bytes.len() + 1);
        };
        at += 8 + usize::try_from(intervals).ok().filter(|n| *n < 1 << 24)? * 8 + 4;
    }
    Some(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A copy of the shipped model without its list of sums: a model that somebody brings along.
    fn copy() -> tempfile::TempDir {
        let folder = tempfile::tempdir().unwrap();
        for line in SHIPPED_SUMS.lines() {
            let name = line.split_once("  ").unwrap().1;
            let to = folder.path().join(name);
            fs::create_dir_all(to.parent().unwrap()).unwrap();
            fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(EARS).join(name), to).unwrap();
        }
        folder
    }

    fn cut(file: &Path, keep: u64) {
        fs::OpenOptions::new().write(true).open(file).unwrap().set_len(keep).unwrap();
    }

    #[test]
    fn the_shipped_model_is_found_and_whole() {
        let found = ModelFolder::find(None).unwrap();
        assert!(found.is_shipped());
        assert!(found.words().unwrap().contains("ohms"));
        assert_eq!(found.unknown_words(["one point zzyzx", "ohms qwrt"]), ["qwrt", "zzyzx"]);
    }

    #[test]
    fn a_copy_is_accepted_in_both_layouts() {
        let apart = copy();
        assert!(!ModelFolder::check(apart.path()).unwrap().is_shipped());
        let flat = tempfile::tempdir().unwrap();
        for name in
            ["am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst", "graph/Gr.fst", "graph/disambig_tid.int"]
        {
            fs::copy(apart.path().join(name), flat.path().join(name.split_once('/').unwrap().1)).unwrap();
        }
        ModelFolder::check(flat.path()).unwrap();
    }

    #[test]
    fn every_missing_or_cut_file_is_named() {
        for name in
            ["am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst", "graph/Gr.fst", "graph/disambig_tid.int"]
        {
            for keep in [None, Some(0), Some(1)] {
                let folder = copy();
                let file = folder.path().join(name);
                match keep {
                    None => fs::remove_file(&file).unwrap(),
                    Some(n) => cut(&file, n),
                }
                if keep == Some(1) && (name.ends_with(".int") || name.ends_with(".conf")) {
                    continue; // one byte of text can be a whole file
                }
                let error = ModelFolder::check(folder.path()).unwrap_err().to_string();
                assert!(error.contains(name), "{name} {keep:?}: {error}");
            }
        }
    }

    #[test]
    fn graphs_cut_in_the_middle_are_noticed_by_their_own_header() {
        let folder = copy();
        let hclr = fs::read(folder.path().join("graph/HCLr.fst")).unwrap();
        assert_eq!(fst_needs(&hclr).unwrap().1, hclr.len() as u64, "known to the last byte");
        let gr = fs::read(folder.path().join("graph/Gr.fst")).unwrap();
        assert_eq!(fst_needs(&gr).unwrap().1, gr.len() as u64, "known to the last byte");
        for name in ["graph/HCLr.fst", "graph/Gr.fst"] {
            let file = folder.path().join(name);
            let whole = fs::metadata(&file).unwrap().len();
            let bytes = fs::read(&file).unwrap();
            for part in [whole / 2, whole * 3 / 4, whole - 20] {
                cut(&file, part);
                let error = ModelFolder::check(folder.path()).unwrap_err().to_string();
                assert!(error.contains(name) && error.contains("cut short"), "{error}");
                fs::write(&file, &bytes).unwrap();
            }
        }
    }

    #[test]
    fn with_a_list_of_sums_one_changed_byte_is_noticed() {
        let folder = copy();
        fs::write(folder.path().join(SUMS), SHIPPED_SUMS).unwrap();
        ModelFolder::check(folder.path()).unwrap();
        let file = folder.path().join("graph/HCLr.fst");
        let mut bytes = fs::read(&file).unwrap();
        *bytes.last_mut().unwrap() ^= 1;
        fs::write(&file, bytes).unwrap();
        let error = ModelFolder::check(folder.path()).unwrap_err().to_string();
        assert!(error.contains("graph/HCLr.fst") && error.contains("changed"), "{error}");
    }

    #[test]
    fn other_folders_are_refused_with_a_reason() {
        let empty = tempfile::tempdir().unwrap();
        assert!(ModelFolder::check(empty.path()).unwrap_err().to_string().contains("no model folder"));
        assert!(
            ModelFolder::find(Some(&empty.path().join("none")))
                .unwrap_err()
                .to_string()
                .contains("no such folder")
        );
        let fixed = copy();
        fs::write(fixed.path().join("graph/HCLG.fst"), "x").unwrap();
        assert!(ModelFolder::check(fixed.path()).unwrap_err().to_string().contains("fixed graph"));
        let partial = copy();
        fs::create_dir(partial.path().join("ivector")).unwrap();
        assert!(ModelFolder::check(partial.path()).unwrap_err().to_string().contains("ivector/final.ie"));
    }
}
