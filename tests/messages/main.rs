//! What is said about a pattern: every message, its page, and the repairs that it offers.

mod explain_pages;
mod faulty_samples;
mod fixes;
mod margin;
mod sarif;
mod seeded_faults;
mod ui;
