//! Build script: tells the linker where libvosk lies, so that no LD_LIBRARY_PATH is needed at run time.
//!
//! The library is looked for in `BOTHHANDS_VOSK_DIR`, else in `.native/` of the project, where the set-up script puts it.

use std::{env, path::PathBuf};

fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
    println!("cargo:rerun-if-env-changed=BOTHHANDS_VOSK_DIR");
    if env::var_os("CARGO_FEATURE_VOICE").is_none() {
        return;
    }
    let project = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").expect("cargo sets it"));
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
    for path in [folder.to_string_lossy().as_ref(), "$ORIGIN", "$ORIGIN/../lib"] {
        println!("cargo:rustc-link-arg=-Wl,-rpath,{path}");
    }
}
