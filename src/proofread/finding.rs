//! What proofreading finds, how much it weighs and who would stumble over it.

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// The set may not be issued.
    BlocksIssue,
    /// The set may be issued once somebody has given a reason.
    NeedsWaiver,
    /// Worth knowing.
    Noted,
}

impl Weight {
    /// Every weight, the heaviest first.
    pub const ALL: [Self; 3] = [Self::BlocksIssue, Self::NeedsWaiver, Self::Noted];

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::BlocksIssue => "blocks issue",
            Self::NeedsWaiver => "needs a waiver",
            Self::Noted => "noted",
        }
    }

    pub(super) fn of(words: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|weight| weight.words() == words)
    }
}

/// Who reads the paper that a finding stands in, and so who would stumble over it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Audience {
    /// Prices the work.
    Bidder,
    /// Accepts or rejects it.
    Inspector,
    /// Does it.
    Crew,
    /// Lives with it.
    Owner,
    /// Answers for it.
    Office,
}

impl Audience {
    /// Everybody, in the order of the list.
    pub const ALL: [Self; 5] = [Self::Bidder, Self::Inspector, Self::Crew, Self::Owner, Self::Office];

    /// The word for the reader.
    pub fn word(self) -> &'static str {
        match self {
            Self::Bidder => "bidder",
            Self::Inspector => "inspector",
            Self::Crew => "crew",
            Self::Owner => "owner",
            Self::Office => "office",
        }
    }

    pub(super) fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|reader| reader.word() == word)
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The check, in plain words.
    pub check: String,
    /// How much it weighs.
    pub weight: Weight,
    /// Whose list it stands in.
    pub reader: Audience,
    /// File stem of the paper.
    pub paper: String,
    /// Where in the paper, as `3.3 F 1`; empty for the paper as a whole.
    pub clause: String,
    /// What the blocks there are called after, where that is known, such as the name of a clause.
    pub name: Option<String>,
    /// The line of the Markdown, where it was read from Markdown.
    pub line: Option<usize>,
    /// What is wrong, with the words concerned.
    pub message: String,
    /// How to mend it.
    pub mend: String,
    /// The waiver that covers it, by its place in the list.
    pub waived: Option<usize>,
}

impl Finding {
    /// Whether the set may not be issued for it.
    pub fn blocks(&self) -> bool {
        self.weight == Weight::BlocksIssue && self.waived.is_none()
    }

    /// Where it stands: `section, 3.3 F 1, line 412`.
    pub fn place(&self) -> String {
        let clause = if self.clause.is_empty() { String::new() } else { format!(", {}", self.clause) };
        let line = self.line.map(|line| format!(", line {line}")).unwrap_or_default();
        format!("{}{clause}{line}", self.paper)
    }
}
