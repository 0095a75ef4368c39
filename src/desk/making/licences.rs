//! The licences of everything that is in the file.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use super::engine::Built;

/// Those of the editor's parts; made with its script.
const EDITOR: &str = include_str!("../editor/licences.txt");

/// Every licence text once, with the names of the packages that have it.
pub fn collected(built: &Built) -> Result<String, String> {
    let told = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
        .current_dir(&built.project)
        .args(["metadata", "--format-version", "1", "--locked", "--filter-platform", "wasm32-unknown-unknown"])
        .output()
        .map_err(|error| format!("cargo can't be run: {error}"))?;
    let told: Value = serde_json::from_slice(&told.stdout).map_err(|_| "cargo did not tell its packages".to_owned())?;
    let inside = inside(&told);
    let mut texts: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in told.get("packages").and_then(Value::as_array).into_iter().flatten() {
        let (Some(id), Some(name), Some(manifest)) =
            (package["id"].as_str(), package["name"].as_str(), package["manifest_path"].as_str())
        else {
            continue;
        };
        if !inside.contains(id) || name.starts_with("ringtrue") {
            continue;
        }
        let licence = package["license"].as_str().unwrap_or("see its source");
        let text = text_beside(Path::new(manifest)).unwrap_or_else(|| format!("Licence: {licence}"));
        texts.entry(text).or_default().insert(format!("{name} ({licence})"));
    }
    let own = std::fs::read_to_string(built.project.join("LICENSE")).map_err(|error| format!("LICENSE: {error}"))?;
    let mut all = format!("ringtrue\n\n{own}\n\n{EDITOR}");
    for (text, names) in texts {
        let names: Vec<String> = names.into_iter().collect();
        all.push_str(&format!("\n\n{}\n\n{}", names.join(", "), text.trim()));
    }
    Ok(all)
}

/// The packages that the engine is made of, by what each needs when it runs.
fn inside(told: &Value) -> BTreeSet<String> {
    let nodes: BTreeMap<&str, &Value> = told
        .pointer("/resolve/nodes")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
        .filter_map(|node| Some((node["id"].as_str()?, node)))
        .collect();
    let mut reached = BTreeSet::new();
    let mut open: Vec<&str> = nodes.keys().filter(|id| id.contains("ringtrue-engine")).copied().collect();
    while let Some(id) = open.pop() {
        if !reached.insert(id.to_owned()) {
            continue;
        }
        let Some(node) = nodes.get(id) else { continue };
        for needed in node["deps"].as_array().into_iter().flatten() {
            let kinds = needed["dep_kinds"].as_array();
            if kinds.is_some_and(|kinds| kinds.iter().any(|kind| kind["kind"].is_null())) {
                open.extend(needed["pkg"].as_str());
            }
        }
    }
    reached
}

/// The licence that lies beside a package: the shortest, where it may be chosen.
fn text_beside(manifest: &Path) -> Option<String> {
    let folder = manifest.parent()?;
    let files = std::fs::read_dir(folder).ok()?.filter_map(Result::ok);
    let named = |name: &str| ["license", "licence", "copying"].iter().any(|word| name.to_lowercase().starts_with(word));
    let texts = files.filter(|file| named(&file.file_name().to_string_lossy()));
    let texts = texts.filter_map(|file| std::fs::read_to_string(file.path()).ok());
    texts.filter(|text| text.len() > 200).min_by_key(|text| (text.len(), text.clone()))
}
