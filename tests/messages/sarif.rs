//! The report in the SARIF standard, read with types that are made from its published schema (OASIS, SARIF 2.1.0): what the
//! schema requires is there, what it does not know is not, and every value is of its kind.

#![expect(clippy::unwrap_used, reason = "a test says what it expects by failing")]

use std::fs;
use std::path::{Path, PathBuf};

use ringtrue::report::{Checked, Report};
use ringtrue::{Compiled, mend};
use serde_json::Value;
use serde_sarif::sarif::Sarif;

fn compiled(folder: &str) -> Vec<(String, String, Compiled)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "rnd"));
    files.sort();
    let one = |file: PathBuf| {
        let text = fs::read_to_string(&file).unwrap();
        let compiled = mend::compile_and_mend(&text);
        (file.file_name().unwrap().to_string_lossy().into_owned(), text, compiled)
    };
    files.into_iter().map(one).collect()
}

#[test]
fn the_report_of_every_sample_is_of_the_schema() {
    let all: Vec<_> = ["samples", "samples/faulty"].into_iter().flat_map(compiled).collect();
    let mut report = Report::sarif();
    let parts: String = all
        .iter()
        .map(|(name, text, compiled)| report.add(&Checked { name, text, findings: &compiled.findings }))
        .collect();
    let written: Value = serde_json::from_str(&(parts + &report.close())).unwrap();
    let read: Sarif = serde_json::from_value(written.clone()).unwrap();
    assert_eq!(serde_json::to_value(&read).unwrap(), written, "the schema knows all that is written");
    let [run] = read.runs.as_slice() else { panic!("one run") };
    let findings: usize = all.iter().map(|(.., compiled)| compiled.findings.len()).sum();
    assert_eq!(run.results.as_ref().map(Vec::len), Some(findings));
}

#[test]
fn a_report_that_leaves_out_what_is_required_is_not_of_the_schema() {
    let report = Report::sarif().close().replace("\"driver\"", "\"passenger\"");
    assert!(serde_json::from_str::<Sarif>(&report).is_err());
}
