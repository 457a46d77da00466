//! What can be wrong with a YAML text.

use miette::Diagnostic;
use thiserror::Error;

/// A text that is not YAML, or that is more YAML than a survey or catalogue can need.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum YamlMistake {
    /// Larger than any survey.
    #[error("the file holds {bytes} bytes; at most {most} are read")]
    #[diagnostic(code(YA001), help("check that this is the file you mean, and split it if it is"))]
    TooLarge {
        /// Size of the text.
        bytes: usize,
        /// The largest that is read.
        most: usize,
    },
    /// A control character, as in a picture or a word-processor file.
    #[error("the file is not plain text: it holds the control character {code}")]
    #[diagnostic(code(YA002), help("save it as plain text in UTF-8"))]
    NotText {
        /// The character, such as `U+0000`.
        code: String,
    },
    /// A tab where blanks set the level.
    #[error("a tab stands where only spaces may")]
    #[diagnostic(code(YA003), help("replace the tab by spaces; two for each level are usual"))]
    Tab,
    /// A quote with no end.
    #[error("a quote is opened here and never closed")]
    #[diagnostic(code(YA004), help("close it with the same quote; double a `'` that belongs to the text"))]
    OpenQuote,
    /// A bracket with no end, or the wrong end.
    #[error("the bracket `{open}` is never closed")]
    #[diagnostic(code(YA005), help("close `[` with `]` and `{{` with `}}`"))]
    OpenBracket {
        /// The bracket.
        open: char,
    },
    /// A closing bracket with nothing to close, or of the wrong shape.
    #[error("{what}")]
    #[diagnostic(code(YA006), help("close `[` with `]` and `{{` with `}}`, and close each bracket once"))]
    StrayBracket {
        /// Which does not fit which.
        what: String,
    },
    /// A line that starts at no level in use.
    #[error("this line does not line up with the lines above it")]
    #[diagnostic(
        code(YA007),
        help("start it below the first letter of the line it belongs beside, with spaces only")
    )]
    Level,
    /// A colon that makes no sense.
    #[error("a name with `:` cannot stand here")]
    #[diagnostic(
        code(YA008),
        help(
            "put a text that holds `: ` in quotes; if this is a line of its own, start it below the first letter of the name above"
        )
    )]
    Colon,
    /// A line in a record without a colon.
    #[error("this line has no colon with a space after it")]
    #[diagnostic(code(YA009), help("write `name: value`, or `name:` with the values on the lines below"))]
    NoColon,
    /// A character that has a meaning of its own.
    #[error("a value cannot start with {character} here")]
    #[diagnostic(code(YA010), help("put the value in quotes"))]
    Character {
        /// The character, in backticks or by its name.
        character: String,
    },
    /// A backslash in double quotes that means nothing.
    #[error("the backslash in this text does not stand for anything")]
    #[diagnostic(code(YA011), help("use single quotes, in which a backslash is a backslash"))]
    Escape,
    /// A text that goes on after its closing quote.
    #[error("the text goes on after its closing quote")]
    #[diagnostic(
        code(YA012),
        help(
            "put the whole text in quotes; inside single quotes a `'` is written twice, inside double quotes `\\\"`"
        )
    )]
    AfterQuote,
    /// `*name` without `&name` before it.
    #[error("`*{name}` stands for something that is not named above")]
    #[diagnostic(code(YA013), help("write the value out, or put a text that starts with `*` in quotes"))]
    UnknownAlias {
        /// The name.
        name: String,
    },
    /// `*name` inside of the value that it names.
    #[error("`{written}` stands inside the value that it stands for")]
    #[diagnostic(code(YA014), help("write the value out"))]
    AliasInItself {
        /// The alias as written.
        written: String,
    },
    /// A name that stands twice.
    #[error("`{name}` stands twice in this record")]
    #[diagnostic(code(YA015), help("keep one of the two"))]
    Twice {
        /// The name.
        name: String,
    },
    /// A name that is not a plain word.
    #[error("{what} cannot be the name of a value")]
    #[diagnostic(code(YA016), help("a name is a word followed by a colon and a space"))]
    NotAName {
        /// What stands there.
        what: &'static str,
    },
    /// `<<`, which takes over another record.
    #[error("`<<` does not take over another record here")]
    #[diagnostic(code(YA017), help("write the values out, so that each can be read where it stands"))]
    Merge,
    /// `!tag`.
    #[error("the tag `{tag}` is not read")]
    #[diagnostic(
        code(YA018),
        help(
            "leave it out; the rulebook says of what kind a value is; put a text that starts with `!` in quotes"
        )
    )]
    Tag {
        /// The tag as written.
        tag: String,
    },
    /// A second document in the file.
    #[error("a second document starts here; one file holds one")]
    #[diagnostic(code(YA019), help("leave out the line `---`, or move what follows to a file of its own"))]
    SecondDocument,
    /// `%YAML` and the like.
    #[error("a line that starts with `%` is not read")]
    #[diagnostic(code(YA020), help("leave the line out, or put a text that starts with `%` in quotes"))]
    Directive,
    /// Lists in lists in lists.
    #[error("this stands more than {most} levels deep")]
    #[diagnostic(code(YA021), help("no survey or catalogue needs that; check the brackets and the spaces"))]
    TooDeep {
        /// The deepest level read.
        most: usize,
    },
    /// Too many values, written or through names that stand for others.
    #[error("the file holds more than {most} {of}, counting again what each `*name` stands for")]
    #[diagnostic(
        code(YA022),
        help("check that this is the file you mean; write out names that stand for names")
    )]
    TooMuch {
        /// The most that is read.
        most: usize,
        /// `values` or `bytes of text`.
        of: &'static str,
    },
    /// Two values in brackets with nothing between.
    #[error("a comma or a closing bracket is missing before this")]
    #[diagnostic(
        code(YA023),
        help("put commas between the values, and quotes round a text that holds a comma or bracket")
    )]
    NoComma,
    /// Anything else that the parser could not follow.
    #[error("this cannot be read as YAML: {words}")]
    #[diagnostic(code(YA024), help("check the quotes, brackets and spaces just before this place"))]
    Syntax {
        /// What the parser was waiting for.
        words: String,
    },
    /// A dash where no list can start.
    #[error("an entry that starts with `- ` cannot stand here")]
    #[diagnostic(
        code(YA025),
        help(
            "put each entry on a line of its own below the name, or write the list in brackets: `[one, two]`"
        )
    )]
    Dash,
    /// Two commas, or one at the start.
    #[error("nothing stands before this comma")]
    #[diagnostic(code(YA026), help("leave the comma out, or write `~` for a value that is not known"))]
    ExtraComma,
}
