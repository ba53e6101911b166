//! Build script: puts the Fluent files of all languages into the program, and tells the linker where libvosk lies, so
//! that no LD_LIBRARY_PATH is needed at run time.
//!
//! The library is looked for in `BOTHHANDS_VOSK_DIR`, else in `.native/` of the project, where the set-up script puts it.

use std::{
    env, fs,
    path::{Path, PathBuf},
};

/// Set when a package is built: then the library is looked for beside the program alone, and no path of this machine is kept.
const RELOCATABLE: &str = "BOTHHANDS_RELOCATABLE";

fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
    println!("cargo:rerun-if-env-changed=BOTHHANDS_VOSK_DIR");
    let project = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").expect("cargo sets it"));
    languages(&project.join("grammars"));
    if env::var_os("CARGO_FEATURE_VOICE").is_none() {
        return;
    }
    let folder = env::var_os("BOTHHANDS_VOSK_DIR").map_or_else(|| project.join(".native"), PathBuf::from);
    let library = folder.join("libvosk.so");
    println!("cargo:rerun-if-changed={}", library.display());
    if !library.is_file() {
        println!(
            "cargo::error=libvosk.so is not in {}: run .setup/prepare, or build without voice: --no-default-features",
            folder.display()
        );
        return;
    }
    println!("cargo:rustc-link-search=native={}", folder.display());
    println!("cargo:rerun-if-env-changed={RELOCATABLE}");
    let built_here = folder.to_string_lossy().into_owned();
    let here = env::var_os(RELOCATABLE).is_none().then_some(built_here);
    let beside = ["$ORIGIN", "$ORIGIN/../lib", "$ORIGIN/../lib/bothhands"].map(str::to_owned);
    for path in here.into_iter().chain(beside) {
        println!("cargo:rustc-link-arg=-Wl,-rpath,{path}");
    }
}

/// Writes a table of all `grammars/*/*.ftl`: a new file or language needs no line of code.
fn languages(grammars: &Path) {
    let sorted = |folder: &Path| {
        println!("cargo:rerun-if-changed={}", folder.display());
        let mut all: Vec<PathBuf> = fs::read_dir(folder)
            .unwrap_or_else(|fault| panic!("{}: {fault}", folder.display()))
            .map(|entry| entry.expect("a folder of the project can be read").path())
            .collect();
        all.sort();
        all
    };
    let name = |path: &Path| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut table = "static LANGUAGES: &[BuiltIn] = &[\n".to_owned();
    for folder in sorted(grammars).into_iter().filter(|path| path.is_dir()) {
        let files: Vec<PathBuf> = sorted(&folder)
            .into_iter()
            .filter(|path| path.extension().is_some_and(|kind| kind == "ftl"))
            .collect();
        if files.is_empty() {
            continue;
        }
        table += &format!("    ({:?}, &[\n", name(&folder));
        for file in files {
            println!("cargo:rerun-if-changed={}", file.display());
            table +=
                &format!("        ({:?}, include_str!({:?})),\n", name(&file), file.display().to_string());
        }
        table += "    ]),\n";
    }
    table += "];\n";
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo sets it")).join("fluent_files.rs");
    fs::write(&out, table).unwrap_or_else(|fault| panic!("{}: {fault}", out.display()));
}
