//! The command line, and what to say when it can't be understood.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Args, Parser, Subcommand, ValueEnum};
use ringtrue::stitch::Terms;

use super::failure::{Failure, quoted};
use super::new::What;
use super::output;

/// Works a hand-crochet pattern stitch by stitch, proves its counts and writes the page.
#[derive(Debug, Parser)]
#[command(
    name = "ringtrue",
    version,
    args_override_self = true,
    disable_help_subcommand = true,
    subcommand_value_name = "COMMAND",
    after_help = "Exit status: 0 all is well, 1 there is something to say about a pattern, 2 the command could not do \
                  what was asked.\nFILE may be - for standard input, and - after -o is standard \
                  output. Colours are left out when NO_COLOR is set or the output is not a terminal."
)]
pub struct Arguments {
    #[command(subcommand)]
    todo: Todo,
}

/// What is asked for.
#[derive(Debug, Subcommand)]
pub enum Todo {
    /// Work every stitch of every size and say what does not ring true
    Check {
        /// Pattern files, as bonnet.rnd, or folders of them
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// For other programs: a report on standard output, in JSON or in the SARIF standard
        #[arg(long = "as", value_enum, value_name = "FORM", default_value = "text", hide_default_value = true)]
        form: Form,
    },
    /// Write the page for makers, as Markdown and as HTML
    Page(PageArguments),
    /// Show what each row or round uses and makes, in every size
    Tally {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// For other programs: the same in JSON, or the stitches themselves with what each stands on
        #[arg(long = "as", value_enum, value_name = "FORM", default_value = "text", hide_default_value = true)]
        form: LedgerForm,
    },
    /// Write a proof for an editor: every line in every size, what it uses, makes and states, on one page
    Proof {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// A folder, or a file that ends in .html; beside the pattern unless said
        #[arg(short, long, value_name = "FOLDER_OR_FILE")]
        out: Option<PathBuf>,
    },
    /// Show how wide and long each row comes out, and the finished measurements beside what is stated
    Measure {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// One size only, by its name
        #[arg(long, value_name = "NAME")]
        size: Option<String>,
    },
    /// Say what probably happened when a maker's count is another one, how to see it and how to go on
    Count(CountArguments),
    /// Lay a pattern file out evenly, without changing what it says
    Tidy {
        /// Pattern files, as bonnet.rnd
        #[arg(required = true)]
        files: Vec<PathBuf>,
        /// Print the file in these stitch names instead, and leave it as it is
        #[arg(long, value_enum, value_name = "US_OR_UK", ignore_case = true)]
        terms: Option<TermsChoice>,
    },
    /// Print what is worked otherwise in a newer version of a pattern, as a note of corrections
    Differ {
        /// The older version
        old: PathBuf,
        /// The newer version
        new: PathBuf,
        /// The day of the corrections; that of the newer version line unless said
        #[arg(long, value_name = "DAY")]
        date: Option<String>,
        /// Print them as `correction` lines for the head of the pattern
        #[arg(long)]
        lines: bool,
    },
    /// Read a pattern in ordinary words, as text or Markdown, into the notation
    Read {
        /// The text, as bonnet.txt, or a folder of them for a table of what can be read
        file: PathBuf,
        /// A new file for the pattern, as bonnet.rnd; printed unless said
        #[arg(short, long, value_name = "NEW_FILE")]
        out: Option<PathBuf>,
    },
    /// Write into a pattern file the counts that it leaves unsaid
    Fill {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
    },
    /// Mend a pattern in a talk at the terminal; in a pipe show its repairs, or make those that are asked for
    Mend {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// A repair to make, by its name in the list, as 14a; may be given several times
        #[arg(long, value_name = "NAME")]
        apply: Vec<String>,
    },
    /// List the stitches that can be written, or tell how one of them is made, as dc3tog
    Stitches {
        /// The abbreviation or the name of a stitch
        name: Option<OsString>,
        /// In which stitch names; US unless said
        #[arg(long, value_enum, value_name = "US_OR_UK", ignore_case = true)]
        terms: Option<TermsChoice>,
    },
    /// Explain a message by the word in its brackets, as count; without a word, list them all
    Explain {
        /// The word in brackets
        code: Option<OsString>,
    },
    /// Propose for each size the stitches that come nearest to its finished measurements
    Grade {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
    },
    /// Tell how every round lies and how wide every row is, or draw the outlines of the pieces
    Shape {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// A folder to draw the outlines into, or one file that ends in .svg for a pattern with one outline
        #[arg(short, long, value_name = "FOLDER_OR_FILE")]
        out: Option<PathBuf>,
    },
    /// Draw the stitches of the pieces as charts, as SVG
    Chart(ChartArguments),
    /// Reckon how much yarn every size takes, from at least to at most
    Yarn {
        /// The pattern file, as bonnet.rnd
        file: PathBuf,
        /// Show instead what is left of this much after each row or round, as 50g, 1.75oz, 110m or 120yd
        #[arg(long, value_name = "AMOUNT")]
        left_of: Option<String>,
    },
    /// Spread increases (7 into 66) or decreases (7 out of 66) evenly, and print the line
    Spread(SpreadArguments),
    /// Start a pattern: write NAME.rnd, a small one to change
    New {
        /// The name, as tern-hat
        name: PathBuf,
        /// What it is to be; unless said the name tells it, or it is a mat
        #[arg(long = "for", value_enum, value_name = "WHAT", ignore_case = true)]
        what: Option<What>,
    },
    /// Serve an editor that speaks the Language Server Protocol, on standard input and output
    LanguageServer,
    /// Print the manual, as a page for the program man
    Manual,
    /// Print what a shell needs to complete ringtrue's commands and options when Tab is pressed
    Completions {
        /// The shell
        #[arg(value_enum, value_name = "SHELL", ignore_case = true)]
        shell: ShellChoice,
    },
}

/// What `page` is told.
#[derive(Debug, Args)]
pub struct PageArguments {
    /// The pattern file, as bonnet.rnd
    pub file: PathBuf,
    /// A folder, or one file that ends in .md, .html or .txt
    #[arg(short, long, value_name = "FOLDER_OR_FILE")]
    pub out: Option<PathBuf>,
    /// Write the page even if the pattern has errors
    #[arg(long)]
    pub draft: bool,
    /// Stitch names of the page; those of the file unless said
    #[arg(long, value_enum, value_name = "US_OR_UK", ignore_case = true)]
    pub terms: Option<TermsChoice>,
    /// A page for one size only, by its name
    #[arg(long, value_name = "NAME")]
    pub size: Option<String>,
    /// Full words in place of abbreviations
    #[arg(long)]
    pub in_full: bool,
    /// For a machine to read out: full words, no signs, and every row or round a paragraph of its own
    #[arg(long)]
    pub read_aloud: bool,
    /// For a maker who holds the hook in her left hand
    #[arg(long)]
    pub left_handed: bool,
    /// Also write the page as plain text, NAME.txt
    #[arg(long)]
    pub plain: bool,
    /// Give the names of stitches in another language beside the English ones
    #[arg(long, value_enum, value_name = "LANGUAGE", ignore_case = true)]
    pub beside: Option<LanguageChoice>,
    /// A short page for makers who know how: measurements, materials, cautions, and the lines with their counts
    #[arg(long, conflicts_with = "read_aloud")]
    pub brief: bool,
    /// Leave the charts of the stitches out of the HTML
    #[arg(long)]
    pub without_charts: bool,
    /// Write the charts of the stitches as SVG files too, for the Markdown to show
    #[arg(long, conflicts_with = "without_charts")]
    pub chart_files: bool,
    /// Large print, with letters of so many points
    #[arg(long, value_enum, value_name = "18_OR_24")]
    pub large_print: Option<LargePrint>,
}

/// What `count` is told.
#[derive(Debug, Args)]
pub struct CountArguments {
    /// The pattern file, as bonnet.rnd
    pub file: PathBuf,
    /// The row or round that was counted
    #[arg(long, value_name = "NUMBER", alias = "round")]
    pub row: Option<String>,
    /// How many stitches are there in truth
    #[arg(long, value_name = "NUMBER")]
    pub mine: Option<String>,
    /// What was counted where it was one kind of stitch or space alone, as dc or "ch-2 sp"
    #[arg(long, value_name = "KIND")]
    pub of: Option<String>,
    /// The piece, by its name, where there are several
    #[arg(long, value_name = "NAME")]
    pub piece: Option<String>,
    /// The size that is made, by its name, where there are several
    #[arg(long, value_name = "NAME")]
    pub size: Option<String>,
}

/// What `chart` is told.
#[derive(Debug, Args)]
pub struct ChartArguments {
    /// The pattern file, as bonnet.rnd
    pub file: PathBuf,
    /// A folder, or one file that ends in .svg for a single chart; beside the pattern unless said
    #[arg(short, long, value_name = "FOLDER_OR_FILE")]
    pub out: Option<PathBuf>,
    /// The size to draw, by its name; the first one unless said
    #[arg(long, value_name = "NAME")]
    pub size: Option<String>,
    /// One piece only, by its name
    #[arg(long, value_name = "NAME")]
    pub piece: Option<String>,
    /// Some rows or rounds only, as 1-8
    #[arg(long, value_name = "FROM-TO", alias = "rows")]
    pub rounds: Option<String>,
    /// Stitch names of the legend; those of the file unless said
    #[arg(long, value_enum, value_name = "US_OR_UK", ignore_case = true)]
    pub terms: Option<TermsChoice>,
    /// Draw every stitch of a large chart too, however often the fabric repeats
    #[arg(long)]
    pub whole: bool,
    /// For a maker who holds the hook in her left hand: turned round, but for the numbers
    #[arg(long)]
    pub left_handed: bool,
}

/// Languages whose names of stitches are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LanguageChoice {
    German,
    French,
    Dutch,
    Spanish,
}

/// Sizes of large print, in points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LargePrint {
    #[value(name = "18")]
    Eighteen,
    #[value(name = "24")]
    TwentyFour,
}

/// What `spread` is told.
#[derive(Debug, Args)]
pub struct SpreadArguments {
    /// How many, and into or out of how many stitches: 7 into 66, 7 out of 66
    #[arg(required = true, num_args = 1.., value_name = "WORDS")]
    pub words: Vec<String>,
    /// The stitch that lies between; sc in US terms unless said
    #[arg(long = "in", value_name = "STITCH")]
    pub stitch: Option<String>,
    /// Stitch names of the line; US unless said
    #[arg(long, value_enum, value_name = "US_OR_UK", ignore_case = true)]
    pub terms: Option<TermsChoice>,
    /// Begin with half a gap, so that it falls between those of a line that is not shifted
    #[arg(long)]
    pub shifted: bool,
}

/// What `check` writes: messages for people, a report of our own, or one of the open standard for such reports.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    Text,
    Json,
    Sarif,
}

/// In what form the ledger is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LedgerForm {
    Text,
    Json,
    Graph,
}

/// Shells that complete a command when they are told how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ShellChoice {
    Bash,
    Zsh,
    Fish,
    #[value(name = "powershell")]
    PowerShell,
}

/// Stitch names that can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TermsChoice {
    Us,
    Uk,
}

impl TermsChoice {
    /// The stitch names that are meant.
    pub fn terms(self) -> Terms {
        match self {
            Self::Us => Terms::Us,
            Self::Uk => Terms::Uk,
        }
    }
}

impl Arguments {
    /// Reads the process's arguments; nothing is left to do when they only asked for help, which is then printed.
    pub fn read() -> Result<Option<Todo>, Failure> {
        match Self::try_parse() {
            Ok(arguments) => Ok(Some(arguments.todo)),
            Err(error) if error.use_stderr() => Err(Failure(sentence(&error))),
            Err(help) => {
                output::print(&help.render().ansi().to_string())?;
                Ok(None)
            }
        }
    }
}

/// The parser's complaint as one sentence.
fn sentence(error: &clap::Error) -> String {
    let wrong = text(error, ContextKind::InvalidArg);
    match error.kind() {
        ErrorKind::InvalidSubcommand => no_command(error),
        ErrorKind::UnknownArgument => unknown(&wrong, error),
        ErrorKind::InvalidValue if wrong.starts_with("--out") => {
            "`-o` needs a folder or a file after it, as in `-o pages`".to_owned()
        }
        ErrorKind::InvalidValue if wrong.starts_with("--") || wrong.starts_with("<SHELL>") => choice(&wrong, error),
        ErrorKind::MissingRequiredArgument | ErrorKind::InvalidValue => missing(error),
        ErrorKind::TooManyValues => format!("`{wrong}` stands alone, without `=` and a value"),
        ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            "say what to do: `ringtrue check bonnet.rnd` checks a pattern, and `ringtrue --help` lists the rest"
                .to_owned()
        }
        // The parser knows more complaints than these options can cause.
        _ => first_line(error),
    }
}

fn no_command(error: &clap::Error) -> String {
    let tried = text(error, ContextKind::InvalidSubcommand);
    let near = text(error, ContextKind::SuggestedSubcommand);
    let shown = quoted(Path::new(&tried));
    if is_pattern_name(&tried) {
        let file = shown.trim_matches('`');
        format!("{shown} is a file, not a command; to check it, write `ringtrue check {file}`")
    } else if near.is_empty() {
        format!("there is no command {shown}; `ringtrue --help` lists them")
    } else {
        format!("there is no command {shown}; did you mean `{near}`?")
    }
}

fn unknown(wrong: &str, error: &clap::Error) -> String {
    let asked = asked(error);
    let command = ["ringtrue", &asked].join(" ");
    let command = command.trim_end();
    let near = text(error, ContextKind::SuggestedArg);
    let shown = quoted(Path::new(wrong));
    if !wrong.starts_with('-') {
        format!("{shown} is one too many: `{command}` takes {}", takes(&asked))
    } else if near.is_empty() {
        format!("`{command}` has no option {shown}; `{command} --help` lists what it has")
    } else {
        format!("`{command}` has no option {shown}; did you mean `{near}`?")
    }
}

/// A value that an option does not know, or none.
fn choice(wrong: &str, error: &clap::Error) -> String {
    let option = wrong.split_whitespace().next().unwrap_or(wrong);
    let option = if option == "<SHELL>" { "completions" } else { option };
    let known = match error.get(ContextKind::ValidValue) {
        Some(ContextValue::Strings(all)) if !all.is_empty() => {
            all.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(" or ")
        }
        Some(_) | None => "something".to_owned(),
    };
    match text(error, ContextKind::InvalidValue).as_str() {
        "" => format!("`{option}` needs {known} after it"),
        said => format!("`{option}` is followed by {known}, not by {}", quoted(Path::new(said))),
    }
}

fn takes(command: &str) -> &'static str {
    match command {
        "explain" => "one word at a time",
        "new" => "one name at a time",
        "completions" => "one shell at a time",
        "language-server" | "manual" => "nothing more",
        "differ" => "two files at a time",
        _ => "one file at a time",
    }
}

fn missing(error: &clap::Error) -> String {
    match asked(error).as_str() {
        "differ" => "name the older version and the newer one, as in `ringtrue differ old.rnd new.rnd`".to_owned(),
        "new" => "give the pattern a name, as in `ringtrue new tern-hat`".to_owned(),
        "completions" => "say for which shell, as in `ringtrue completions bash`".to_owned(),
        "spread" => "say how many and over how many stitches, as in `ringtrue spread 7 into 66`".to_owned(),
        // An empty argument comes without the name of the command.
        "" => "one of the names is empty; write it as in `ringtrue check bonnet.rnd`".to_owned(),
        command => format!("name the pattern's file, as in `ringtrue {command} bonnet.rnd`"),
    }
}

fn first_line(error: &clap::Error) -> String {
    let all = error.to_string();
    let line = all.lines().next().unwrap_or_default();
    line.trim_start_matches("error: ").to_owned()
}

/// The subcommand that was being read, from the usage line that goes with the complaint.
fn asked(error: &clap::Error) -> String {
    let usage = text(error, ContextKind::Usage);
    let mut words = usage.split_whitespace().skip_while(|word| *word != "ringtrue").skip(1);
    words.find(|word| !word.starts_with(['[', '<', '-'])).unwrap_or_default().to_owned()
}

fn text(error: &clap::Error, kind: ContextKind) -> String {
    match error.get(kind) {
        Some(ContextValue::Strings(all)) => all.first().cloned().unwrap_or_default(),
        Some(value) => value.to_string(),
        None => String::new(),
    }
}

fn is_pattern_name(word: &str) -> bool {
    Path::new(word).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("rnd"))
}
