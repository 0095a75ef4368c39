//! Where the packages come from that ringtrue is built with, and on what terms.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]
#![expect(clippy::print_stderr, reason = "two versions of a package are reported and are no fault")]

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

use serde_json::Value;
use spdx::{Expression, ParseMode};

/// Licences, by their names in the SPDX list (spdx.org/licenses), that go with the MIT licence of ringtrue and ask for
/// no more than to keep their notice.
const GOOD: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "ISC",
    "MIT",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Ringtrue's own packages.
const OWN: &[&str] =
    &["ringtrue", "ringtrue-command", "ringtrue-desk", "ringtrue-engine", "ringtrue-grammar", "ringtrue-streams"];

/// Packages come from one registry, and from no folder and no repository.
const REGISTRY: &str = "registry+";

/// Every package that is built into ringtrue or needed for its tests, without ringtrue itself.
fn packages() -> Vec<Value> {
    // Those for other systems are only looked at where they were fetched too, as `cargo fetch` does.
    let all = metadata(&[]).or_else(|| metadata(&["--filter-platform", &host()])).unwrap();
    let own = |package: &&Value| OWN.iter().any(|own| package["name"] == *own);
    all.get("packages").and_then(Value::as_array).unwrap().iter().filter(|package| !own(package)).cloned().collect()
}

fn metadata(more: &[&str]) -> Option<Value> {
    let mut command = Command::new(env!("CARGO"));
    command.args(["metadata", "--locked", "--offline", "--format-version", "1"]).args(more);
    let output = command.current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap();
    output.status.success().then(|| serde_json::from_slice(&output.stdout).unwrap())
}

/// The system that cargo builds for here, as `x86_64-unknown-linux-gnu`.
fn host() -> String {
    let output = Command::new(env!("CARGO")).arg("-vV").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    text.lines().find_map(|line| line.strip_prefix("host: ")).unwrap().to_owned()
}

fn may_be_used(licence: &str) -> bool {
    // Some older packages part their licences with a slash.
    let expression = Expression::parse_mode(licence, ParseMode::LAX);
    expression.is_ok_and(|expression| expression.evaluate(|asked| GOOD.contains(&asked.to_string().as_str())))
}

#[test]
fn every_package_may_be_used() {
    let packages = packages();
    assert!(packages.len() > 50, "only {} packages were found", packages.len());
    for package in packages {
        let licence = package["license"].as_str().unwrap_or("no licence");
        assert!(may_be_used(licence), "{} has {licence}", package["name"]);
    }
}

#[test]
fn terms_that_bind_are_refused() {
    for licence in ["MIT", "MIT/Apache-2.0", "MIT OR GPL-3.0-only", "(MIT OR Apache-2.0) AND Unicode-3.0"] {
        assert!(may_be_used(licence), "{licence}");
    }
    for licence in ["GPL-3.0-only", "MIT AND AGPL-3.0-only", "no licence", "Apache-2.0 WITH Classpath-exception-2.0"] {
        assert!(!may_be_used(licence), "{licence}");
    }
}

#[test]
fn every_package_comes_from_the_registry_with_its_checksum() {
    let lock = include_str!("../../Cargo.lock");
    let mut count = 0;
    let own = |package: &&str| OWN.iter().any(|own| package.starts_with(&format!("name = \"{own}\"\n")));
    for package in lock.split("[[package]]\n").skip(1).filter(|package| !own(package)) {
        assert!(
            package.contains(&format!("source = \"{REGISTRY}")) && package.contains("\"\nchecksum = "),
            "{package}"
        );
        count += 1;
    }
    assert!(count > 50, "only {count} packages were found");
    let mut sources = BTreeSet::new();
    for package in packages() {
        let source = package["source"].as_str().unwrap_or_default();
        assert!(source.starts_with(REGISTRY), "{}: {source}", package["name"]);
        sources.insert(source.to_owned());
    }
    assert_eq!(sources.len(), 1, "{sources:?}");
}

/// Only reported: which version others need is theirs to say. See it with `cargo test --test command supply -- --no-capture`.
#[test]
fn packages_in_several_versions_are_reported() {
    let mut versions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages() {
        let [name, version] = ["name", "version"].map(|key| package[key].as_str().unwrap().to_owned());
        versions.entry(name).or_default().insert(version);
    }
    for (name, all) in versions.into_iter().filter(|(_, all)| all.len() > 1) {
        eprintln!("{name} is here in {} versions: {}", all.len(), all.into_iter().collect::<Vec<_>>().join(", "));
    }
}
