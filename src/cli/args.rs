//! The command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

/// Writes coating specifications for old masonry walls from a survey and a rulebook.
///
/// It selects usual cautions and prints figures with their source. It is not an engineer, a lead inspector or a
/// lawyer: local code and licensed practice govern, and nothing it leaves unsaid is permitted.
#[derive(Debug, Parser)]
#[command(name = "perpend", version, max_term_width = 100)]
pub(super) struct Command {
    /// What to do.
    #[command(subcommand)]
    pub(super) verb: Verb,
    /// How mistakes and remarks are told on the error stream: drawn for people, or as a JSON list with byte spans.
    #[arg(long, global = true, value_name = "FORM", default_value = "text")]
    pub(super) diagnostics: Telling,
}

/// How something is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub(super) enum Telling {
    /// Words for people.
    Text,
    /// Data.
    Json,
}

/// The verbs.
#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Write the documents of a survey into a folder named after the job.
    Write(Write),
    /// Say why something was decided: an option, clause, rule, limit, fact or zone; without a name, the whole answer.
    Why(Why),
    /// Prove what holds for every survey that can be written: promises, rules that can apply and matter, limits that meet.
    Prove(Prove),
    /// The wall in numbers: vapour, rain, condensation and drying of each zone, with every coat of the book.
    Wall(Wall),
    /// Compare two rulebooks over every survey, and over those that were made.
    Compare(Compare),
    /// Read the papers of a set as a proofreader does, those too that were edited by hand since they were written.
    Proofread(Proofread),
    /// Print a rulebook's files in their canonical form; comments are kept.
    Tidy(Tidy),
}

/// Which book to read.
#[derive(Debug, Args)]
pub(super) struct Rulebook {
    /// Folder of the rulebook; a firm's book is read over the trade book that is built in. Without it, that book alone.
    #[arg(long, value_name = "DIR")]
    pub(super) rulebook: Option<PathBuf>,
}

/// `perpend write`
#[derive(Debug, Args)]
pub(super) struct Write {
    /// The survey, a YAML file.
    #[arg(value_name = "SURVEY")]
    pub(super) survey: PathBuf,
    /// The folder under which the job's own folder is written.
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Which forms of each document to write.
    #[arg(long, value_name = "FORM", value_delimiter = ',', default_values_t = [Form::Md, Form::Pdf, Form::Docx])]
    pub(super) format: Vec<Form>,
    /// Write these documents alone, by file stem, such as section, owner-sheet or reasons; `set` stands for all of the
    /// set, `visit` for those of the first visit: survey-sheet, tests-programme, findings-letter.
    #[arg(long, value_name = "NAME", value_delimiter = ',')]
    pub(super) only: Vec<String>,
    /// Write with this very book or not at all: its digest as papers print it, or the first twelve digits or more.
    #[arg(long, value_name = "DIGEST")]
    pub(super) locked: Option<String>,
    /// Set the files for word processors in the office's own styles: those of this `.docx` that bear the names of ours.
    #[arg(long, value_name = "FILE")]
    pub(super) styles: Option<PathBuf>,
    /// A style of the office that has another name, such as `"Clause level 1=Spec text A"`; may be given several times.
    #[arg(long, value_name = "OURS=THEIRS", requires = "styles")]
    pub(super) style: Vec<String>,
    #[command(flatten)]
    pub(super) rulebook: Rulebook,
}

/// A form a document is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub(super) enum Form {
    /// Markdown.
    Md,
    /// PDF.
    Pdf,
    /// A file for a word processor (Office Open XML).
    Docx,
}

impl std::fmt::Display for Form {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(match self {
            Self::Md => "md",
            Self::Pdf => "pdf",
            Self::Docx => "docx",
        })
    }
}

/// `perpend why`
#[derive(Debug, Args)]
pub(super) struct Why {
    /// The survey, a YAML file.
    #[arg(value_name = "SURVEY")]
    pub(super) survey: PathBuf,
    /// A name, or the first part of one: an option, clause, rule, limit, finding, fact, stop or zone.
    #[arg(value_name = "WHAT")]
    pub(super) what: Option<String>,
    /// Answer for this zone alone.
    #[arg(long, value_name = "CODE")]
    pub(super) zone: Option<String>,
    #[command(flatten)]
    pub(super) rulebook: Rulebook,
}

/// `perpend wall`
#[derive(Debug, Args)]
pub(super) struct Wall {
    /// The survey, a YAML file.
    #[arg(value_name = "SURVEY")]
    pub(super) survey: PathBuf,
    /// Codes of zones; without any, all of them.
    #[arg(value_name = "ZONE")]
    pub(super) zones: Vec<String>,
    /// The form to print.
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub(super) format: Format,
    #[command(flatten)]
    pub(super) rulebook: Rulebook,
}

/// A form that the wall in numbers is printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Plain text.
    Text,
    /// Markdown.
    Md,
    /// JSON, as docs/wall-json.md describes it.
    Json,
    /// One picture: vapour ladder, condensation and drying of each zone.
    Svg,
}

/// `perpend tidy`
#[derive(Debug, Args)]
pub(super) struct Tidy {
    /// A rule file, or a folder of them.
    #[arg(value_name = "RULEBOOK")]
    pub(super) rulebook: PathBuf,
    /// Change nothing; list the files that are not tidy and exit with 1.
    #[arg(long)]
    pub(super) check: bool,
}

/// `perpend prove`
#[derive(Debug, Args)]
pub(super) struct Prove {
    /// Folder of the rulebook; a firm's book is read over the trade book that is built in.
    #[arg(value_name = "RULEBOOK")]
    pub(super) rulebook: PathBuf,
    /// Write each survey that shows something against the book into this folder, for `perpend why`.
    #[arg(long, value_name = "DIR")]
    pub(super) witness: Option<PathBuf>,
    /// How hard to try: as much work as a common machine does in this time, counted and not timed, so that every machine
    /// gives the same answer. What is not settled by then is said to be so.
    #[arg(long, value_name = "TIME", default_value = "30s", value_parser = budget)]
    pub(super) budget: Budget,
    /// Prove nothing; tell which rules these surveys, records, or folders of them exercise.
    #[arg(long, value_name = "SURVEY", num_args = 1..)]
    pub(super) over: Vec<PathBuf>,
    /// Prove nothing; write into this folder surveys that make every rule apply that a survey can, none of which can be
    /// dropped, and `examples.json`, which lists them. Rules that they do not reach are named.
    #[arg(long, value_name = "DIR", conflicts_with = "over")]
    pub(super) examples: Option<PathBuf>,
    /// Write each thing that no survey may show into this folder as a problem in SMT-LIB, for a solver from outside.
    #[arg(long, value_name = "DIR")]
    pub(super) smt: Option<PathBuf>,
    /// Do not count in how many kinds of survey something shows; that is quicker for books with much amiss.
    #[arg(long)]
    pub(super) uncounted: bool,
    /// Words for people, or data.
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub(super) format: Telling,
}

/// `perpend proofread`
#[derive(Debug, Args)]
pub(super) struct Proofread {
    /// The folder of a set; its Markdown files are read.
    #[arg(value_name = "FOLDER")]
    pub(super) folder: PathBuf,
    /// A file of waivers besides those that the set was written with.
    #[arg(long, value_name = "FILE")]
    pub(super) waivers: Vec<PathBuf>,
    /// Words for people, Markdown, or data.
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub(super) format: CompareForm,
}

/// `perpend compare`
#[derive(Debug, Args)]
pub(super) struct Compare {
    /// Folder of the old rulebook, or a revision of one: `rules/trade@v2026.1`.
    #[arg(value_name = "OLD")]
    pub(super) old: PathBuf,
    /// Folder of the new rulebook, or a revision of one.
    #[arg(value_name = "NEW")]
    pub(super) new: PathBuf,
    /// Surveys that were made, records of sets, or folders of them: which come out otherwise, and in what.
    #[arg(value_name = "SURVEY")]
    pub(super) surveys: Vec<PathBuf>,
    /// How hard to try, as for `prove`.
    #[arg(long, value_name = "TIME", default_value = "30s", value_parser = budget)]
    pub(super) budget: Budget,
    /// How many changes to tell with a survey that shows them, cut down and counted; the others are listed.
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    pub(super) witnesses: usize,
    /// Words for people, Markdown, or data.
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub(super) format: CompareForm,
}

/// How a comparison or a list of findings is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub(super) enum CompareForm {
    /// Words.
    Text,
    /// Markdown.
    Md,
    /// JSON.
    Json,
}

/// How hard to try, in seconds of a common machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Budget(pub(super) u64);

/// Reads `30s`, `5min` or a bare number of seconds.
fn budget(text: &str) -> Result<Budget, String> {
    let (digits, scale) = match text {
        _ if text.ends_with("min") => (text.trim_end_matches("min"), 60),
        _ => (text.trim_end_matches('s'), 1),
    };
    let number: u64 = digits.trim().parse().map_err(|_| "write a time such as `30s` or `5min`".to_owned())?;
    Ok(Budget(number.saturating_mul(scale)))
}
