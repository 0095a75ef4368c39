//! The engine, compiled for WebAssembly.

use std::env;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::Command;

const WASM: &str = "wasm32-unknown-unknown";

/// What building gave.
pub struct Built {
    /// The engine.
    pub engine: Vec<u8>,
    /// The folder of everything that is made.
    pub target: PathBuf,
    /// The folder of the project.
    pub project: PathBuf,
}

/// Builds the engine.
pub fn built() -> Result<Built, String> {
    let project = project()?;
    let target = env::var_os("CARGO_TARGET_DIR").map_or_else(|| project.join("target"), PathBuf::from);
    let own = env::var_os("RINGTRUE_DESK_RUSTC");
    if own.is_none() && !has_target() {
        return Err(format!(
            "the compiler has no target {WASM}; `rustup target add {WASM}` brings it. Where that can't be done, set \
             RINGTRUE_DESK_RUSTC to a compiler that comes with its library's source"
        ));
    }
    let done = command(&project, &target, own).status().map_err(|error| format!("cargo can't be run: {error}"))?;
    if !done.success() {
        return Err("the engine could not be built".to_owned());
    }
    let file = target.join(WASM).join("desk").join("ringtrue_engine.wasm");
    let engine = std::fs::read(&file).map_err(|error| format!("{} can't be read: {error}", file.display()))?;
    for place in places(&project) {
        if contains(&engine, place.as_encoded_bytes()) {
            return Err(format!("the engine names a folder of this machine: {}", place.display()));
        }
    }
    Ok(Built { engine, target, project })
}

fn command(project: &Path, target: &Path, own: Option<OsString>) -> Command {
    let mut cargo = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(project).args(["build", "--profile", "desk", "-p", "ringtrue-engine", "--lib", "--locked"]);
    cargo.args(["--target", WASM]).arg("--target-dir").arg(target);
    // What compiles this maker is set for it alone.
    for set in ["RUSTC", "RUSTC_WRAPPER", "RUSTC_WORKSPACE_WRAPPER", "RUSTFLAGS", "RUSTUP_TOOLCHAIN"] {
        cargo.env_remove(set);
    }
    let flags: Vec<OsString> = places(project).into_iter().map(renamed).collect();
    cargo.env("CARGO_ENCODED_RUSTFLAGS", flags.join(std::ffi::OsStr::new("\u{1f}")));
    if let Some(own) = own {
        cargo.env("RUSTC", own).env("RUSTC_BOOTSTRAP", "1").arg("-Zbuild-std=std,panic_abort");
        if let Some(linker) = linker() {
            cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER", linker);
        }
    }
    cargo
}

/// Folders whose names must not get into the engine.
fn places(project: &Path) -> Vec<OsString> {
    let home = env::var_os("HOME").map(PathBuf::from);
    let cargo = env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| Some(home.as_ref()?.join(".cargo")));
    // Where one place lies in another, the later one is tried first by the compiler.
    [home, cargo, Some(project.to_owned())]
        .into_iter()
        .flatten()
        .map(PathBuf::into_os_string)
        .filter(|place| place.len() > 1)
        .collect()
}

fn renamed(mut place: OsString) -> OsString {
    let mut flag = OsString::from("--remap-path-prefix=");
    place.push("=there");
    flag.push(place);
    flag
}

fn has_target() -> bool {
    let asked = Command::new("rustc").args(["--print", "target-libdir", "--target", WASM]).output();
    let told = asked.ok().filter(|done| done.status.success()).map(|done| done.stdout);
    told.is_some_and(|place| Path::new(String::from_utf8_lossy(&place).trim()).is_dir())
}

/// The linker that comes with the usual compiler.
fn linker() -> Option<PathBuf> {
    let asked = Command::new("rustc").args(["--print", "target-libdir"]).output().ok()?;
    let linker = Path::new(String::from_utf8_lossy(&asked.stdout).trim()).parent()?.join("bin/rust-lld");
    linker.is_file().then_some(linker)
}

fn project() -> Result<PathBuf, String> {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.ancestors().nth(3).map(Path::to_owned).ok_or_else(|| "the project's folder is not there".to_owned())
}

fn contains(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
