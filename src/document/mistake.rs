//! What can be wrong with a wording, a template of a document, or the two together.

use miette::Diagnostic;
use thiserror::Error;

/// A mistake in what documents are made of. Each is the author's to mend, never the surveyor's.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum DocumentMistake {
    /// The template engine cannot read the text.
    #[error("this template cannot be read: {words}")]
    #[diagnostic(
        code(DO001),
        help(
            "check the brackets: `{{{{ name }}}}` prints a value, `{{% if name %}}` … `{{% endif %}}` tests one"
        )
    )]
    Template {
        /// What the engine says.
        words: String,
    },
    /// A value that the template is not given.
    #[error("`{name}` is not a value of this template")]
    #[diagnostic(code(DO002), help("{help}"))]
    UnknownValue {
        /// As written.
        name: String,
        /// How to mend it.
        help: String,
    },
    /// HTML, which neither the PDF nor a reader of the Markdown would show.
    #[error("`{written}` is raw HTML")]
    #[diagnostic(
        code(DO003),
        help("write plain Markdown; put a `\\` before `<` where the sign itself is meant")
    )]
    RawHtml {
        /// As written.
        written: String,
    },
    /// A reference to nothing.
    #[error("`#{target}` is neither a clause nor an article")]
    #[diagnostic(code(DO004), help("{help}"))]
    UnknownTarget {
        /// As written, without the `#`.
        target: String,
        /// How to mend it.
        help: String,
    },
    /// A clause that says where it stands and not what it says there.
    #[error("the clause `{clause}` names {named} and has no wording for it")]
    #[diagnostic(code(DO005), help("add `## {reader}` with the words, or take `{key}:` out"))]
    NoWording {
        /// The clause.
        clause: String,
        /// The article or list, with its name in backticks.
        named: String,
        /// The heading that is missing.
        reader: &'static str,
        /// The key in the front matter.
        key: &'static str,
    },
    /// An article or list that no document has.
    #[error("`{name}` is not {what}")]
    #[diagnostic(code(DO006), help("{help}"))]
    UnknownPlace {
        /// As written.
        name: String,
        /// `an article of the section`, `a list of the owner's sheet`.
        what: &'static str,
        /// How to mend it.
        help: String,
    },
    /// A clause prints a limit that no rule sets.
    #[error("the clause `{clause}` prints the limit `{parameter}`, and no rule limits it in zone `{zone}`")]
    #[diagnostic(
        code(DO007),
        help("let the rule that requires the clause limit the quantity too, or take the parameter out")
    )]
    NoLimit {
        /// The clause.
        clause: String,
        /// The quantity.
        parameter: String,
        /// Code of a zone.
        zone: String,
    },
    /// Something that a wording cannot hold.
    #[error("a wording cannot hold {what}")]
    #[diagnostic(
        code(DO008),
        help("write paragraphs and lists; articles, tables and boxes are the document's own")
    )]
    NotInWording {
        /// With its article.
        what: &'static str,
    },
    /// A link out of the document.
    #[error("`{target}` leads out of the document")]
    #[diagnostic(
        code(DO009),
        help("refer to a clause as `[words](#clause-name)`, and name a standard under `cites:`")
    )]
    LinkAway {
        /// As written.
        target: String,
    },
    /// A document template without its head, or with a line in it that says nothing.
    #[error("{words}")]
    #[diagnostic(
        code(DO010),
        help("start the template with a head: a line `---`, lines such as `title: Coatings`, a line `---`")
    )]
    Head {
        /// What is wrong.
        words: String,
    },
    /// The list of articles cannot be used.
    #[error("{words}")]
    #[diagnostic(
        code(DO011),
        help(
            "write `parts:` and `owner:` as lists of records with `name:` and `title:`, and under each part `articles:` likewise"
        )
    )]
    Articles {
        /// What is wrong.
        words: String,
    },
    /// A template that belongs to the set is not there.
    #[error("the template `{name}` is missing")]
    #[diagnostic(
        code(DO012),
        help("every folder of templates holds `articles.yaml`, `words.yaml` and the template of each paper")
    )]
    NoTemplate {
        /// Its file name.
        name: &'static str,
    },
    /// A list inside a list inside a list.
    #[error("this list lies deeper than paragraphs are numbered")]
    #[diagnostic(code(DO013), help("split the clause, or write the points in one level less"))]
    TooDeep,
    /// A clause referred to that this job does not print.
    #[error("the clause `{clause}` refers to `{target}`, which this document does not print")]
    #[diagnostic(
        code(DO014),
        help("let one rule require both clauses, or word the sentence without the reference")
    )]
    NotPrinted {
        /// The clause.
        clause: String,
        /// The clause or article referred to.
        target: String,
    },
    /// The file with the words of the first visit cannot be used.
    #[error("{words}")]
    #[diagnostic(
        code(DO016),
        help(
            "`visit.yaml` holds `most:`, a whole number, and the lists `seen:` (`fact`, `is`, `say`), `open:` (`fact`, `say`, `why`, `next`) and `stops:` (`rule`, `say`)"
        )
    )]
    Visit {
        /// What is wrong.
        words: String,
    },
    /// Too much of the survey is open for a section.
    #[error(
        "{open} of the {asked} questions that arise are open, more than the {most} that the rulebook allows"
    )]
    #[diagnostic(
        code(DO017),
        help(
            "fill in the survey sheet, make the tests of the programme, and write again; without `--only`, the papers of the first visit are written instead of a section of guesses, and `--only section` writes it all the same"
        )
    )]
    Thin {
        /// Questions that are open.
        open: usize,
        /// Questions that arise.
        asked: usize,
        /// The share that the book allows.
        most: String,
    },
    /// The program filled a template and the text cannot be set.
    #[error("the text made from this template holds `{written}`, which cannot be set")]
    #[diagnostic(code(DO015), help("write headings, paragraphs, lists, tables and quoted boxes only"))]
    CannotSet {
        /// As written.
        written: String,
    },
    /// The file of the register cannot be used.
    #[error("{words}")]
    #[diagnostic(
        code(DO021),
        help(
            "`register.yaml` holds `papers:` (`name`, `for`, `read-by`, each paper once), and the lists of sentences `above:` and `within:`"
        )
    )]
    Register {
        /// What is wrong.
        words: String,
    },
    /// The file of the drawings cannot be used.
    #[error("{words}")]
    #[diagnostic(
        code(DO022),
        help(
            "`drawings.yaml` holds `materials:` (patterns with the materials drawn so) and `signs:` (`clause`, `shape`)"
        )
    )]
    Drawings {
        /// What is wrong.
        words: String,
    },
    /// The file of the papers for the site cannot be used.
    #[error("{words}")]
    #[diagnostic(
        code(DO020),
        help(
            "`site.yaml` holds `tasks:` (crew sheets with their steps), `forms:`, and what the schedule lists"
        )
    )]
    Site {
        /// What is wrong.
        words: String,
    },
}
