//! What is said about a pattern: every message, its page, and the repairs that it offers.

#![expect(clippy::disallowed_methods, reason = "the tests read the samples and the pages of messages")]

mod editor;
mod explain_pages;
mod faults_of_each_kind;
mod faulty_samples;
mod fixes;
mod habits;
mod margin;
mod rings_true;
mod sarif;
mod seeded_faults;
mod true_mends;
mod typed_letters;
mod ui;
