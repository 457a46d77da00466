//! The roles that words play on paper, each a style of the file.

/// A paragraph's role.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Role {
    /// Plain paragraphs.
    Text,
    /// The document's title.
    Title,
    /// Its second title.
    Subtitle,
    /// A part.
    Part,
    /// An article.
    Article,
    /// A head over one or few paragraphs.
    Run,
    /// A numbered paragraph, by depth from 1.
    Clause1,
    /// Below it.
    Clause2,
    /// Below that.
    Clause3,
    /// The deepest.
    Clause4,
    /// How a clause is proved.
    Proof,
    /// A numbered paragraph of the first level whose words are new.
    Revised1,
    /// Below it.
    Revised2,
    /// Below that.
    Revised3,
    /// The deepest.
    Revised4,
    /// How a clause is proved whose words are new.
    RevisedProof,
    /// A point of a list.
    Point,
    /// A point below a point.
    Point2,
    /// The word that opens a caution.
    CautionWord,
    /// The words of a caution.
    Caution,
    /// The caption of a table or a figure.
    Caption,
    /// The same over what reaches into the margin.
    CaptionWide,
    /// A figure.
    Figure,
    /// One that reaches into the margin.
    FigureWide,
    /// What stands under a figure.
    Note,
    /// The same under one that reaches into the margin.
    NoteWide,
    /// Words of a table.
    Cell,
    /// Numbers of a table.
    CellNumber,
    /// Head of a column of words.
    CellHead,
    /// Head of a column of numbers.
    CellHeadNumber,
    /// Words of a form.
    Form,
    /// Words of a form of many questions.
    FormSmall,
    /// Boxes to tick in such a form.
    FormBoxes,
    /// Small words around key figures.
    KeyFigures,
    /// Room before a table without a caption.
    Ahead,
    /// Room behind a table.
    Behind,
    /// Label of the title block.
    FieldLabel,
    /// Value of the title block.
    FieldValue,
    /// Marks words that are proposed beside those of an office.
    ProposedMark,
    /// Such words.
    Proposed,
    /// The last line.
    End,
    /// Running head.
    Head,
    /// Status strip.
    Status,
    /// First line of the foot: standing and page.
    FootStrong,
    /// The foot below it.
    Foot,
    /// Contents: a part.
    Contents1,
    /// Contents: an article.
    Contents2,
    /// Where columns begin or end.
    Break,
    /// The start of a page.
    NewPage,
}

impl Role {
    /// Every role, in the order written.
    pub(crate) const ALL: [Self; 49] = [
        Self::Text,
        Self::Title,
        Self::Subtitle,
        Self::Part,
        Self::Article,
        Self::Run,
        Self::Clause1,
        Self::Clause2,
        Self::Clause3,
        Self::Clause4,
        Self::Proof,
        Self::Revised1,
        Self::Revised2,
        Self::Revised3,
        Self::Revised4,
        Self::RevisedProof,
        Self::Point,
        Self::Point2,
        Self::CautionWord,
        Self::Caution,
        Self::Caption,
        Self::CaptionWide,
        Self::Figure,
        Self::FigureWide,
        Self::Note,
        Self::NoteWide,
        Self::Cell,
        Self::CellNumber,
        Self::CellHead,
        Self::CellHeadNumber,
        Self::Form,
        Self::FormSmall,
        Self::FormBoxes,
        Self::KeyFigures,
        Self::Ahead,
        Self::Behind,
        Self::FieldLabel,
        Self::FieldValue,
        Self::ProposedMark,
        Self::Proposed,
        Self::End,
        Self::Head,
        Self::Status,
        Self::FootStrong,
        Self::Foot,
        Self::Contents1,
        Self::Contents2,
        Self::Break,
        Self::NewPage,
    ];

    /// Its name as people see it. Names in small letters are those of the standard, which programs know by them.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Text => "Body Text",
            Self::Title => "Title",
            Self::Subtitle => "Subtitle",
            Self::Part => "heading 1",
            Self::Article => "heading 2",
            Self::Run => "heading 3",
            Self::Clause1 => "Clause level 1",
            Self::Clause2 => "Clause level 2",
            Self::Clause3 => "Clause level 3",
            Self::Clause4 => "Clause level 4",
            Self::Proof => "Proof",
            Self::Revised1 => "Clause level 1 revised",
            Self::Revised2 => "Clause level 2 revised",
            Self::Revised3 => "Clause level 3 revised",
            Self::Revised4 => "Clause level 4 revised",
            Self::RevisedProof => "Proof revised",
            Self::Point => "List Bullet",
            Self::Point2 => "List Bullet 2",
            Self::CautionWord => "Caution word",
            Self::Caution => "Caution",
            Self::Caption => "caption",
            Self::CaptionWide => "Caption wide",
            Self::Figure => "Figure",
            Self::FigureWide => "Figure wide",
            Self::Note => "Figure note",
            Self::NoteWide => "Figure note wide",
            Self::Cell => "Table text",
            Self::CellNumber => "Table number",
            Self::CellHead => "Table head",
            Self::CellHeadNumber => "Table head number",
            Self::Form => "Form text",
            Self::FormSmall => "Form text small",
            Self::FormBoxes => "Form boxes",
            Self::KeyFigures => "Key figures",
            Self::Ahead => "Ahead of table",
            Self::Behind => "Behind table",
            Self::FieldLabel => "Field label",
            Self::FieldValue => "Field value",
            Self::ProposedMark => "Proposed text mark",
            Self::Proposed => "Proposed text",
            Self::End => "Last line",
            Self::Head => "header",
            Self::Status => "Status strip",
            Self::FootStrong => "Foot line",
            Self::Foot => "footer",
            Self::Contents1 => "toc 1",
            Self::Contents2 => "toc 2",
            Self::Break => "Column break line",
            Self::NewPage => "New page line",
        }
    }

    /// Its id: the name in one word.
    pub(crate) fn id(self) -> String {
        in_one_word(self.name())
    }

    /// The role of a style by its name, however a program writes it.
    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name().eq_ignore_ascii_case(name))
    }

    /// Whether it has a look of its own, and not only a place.
    pub(crate) fn has_look(self) -> bool {
        !matches!(self, Self::Ahead | Self::Behind | Self::Break | Self::NewPage)
    }

    /// Whether what stands in it is written anew each time, whatever somebody made of it.
    pub(crate) fn is_ours_to_say(self) -> bool {
        matches!(
            self,
            Self::ProposedMark
                | Self::Proposed
                | Self::Contents1
                | Self::Contents2
                | Self::Break
                | Self::NewPage
        )
    }

    /// The same with a bar beside it, for words that are new; a role that has none stays as it is.
    pub(crate) fn revised(self) -> Self {
        REVISED.iter().find(|(plain, _)| *plain == self).map_or(self, |(_, revised)| *revised)
    }

    /// The same without that bar.
    pub(crate) fn settled(self) -> Self {
        REVISED.iter().find(|(_, revised)| *revised == self).map_or(self, |(plain, _)| *plain)
    }

    /// The numbered paragraph of a depth.
    pub(crate) fn clause(depth: u8) -> Self {
        match depth {
            0 | 1 => Self::Clause1,
            2 => Self::Clause2,
            3 => Self::Clause3,
            _ => Self::Clause4,
        }
    }
}

/// Roles with what they are where the words are new.
const REVISED: [(Role, Role); 5] = [
    (Role::Clause1, Role::Revised1),
    (Role::Clause2, Role::Revised2),
    (Role::Clause3, Role::Revised3),
    (Role::Clause4, Role::Revised4),
    (Role::Proof, Role::RevisedProof),
];

/// A stretch of words that stands out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stress {
    /// Bold.
    Strong,
    /// Italic.
    Emphasis,
    /// Both.
    StrongEmphasis,
    /// An identifier.
    Code,
    /// A key figure of a sheet.
    Figure,
    /// Room to write in.
    Blank,
    /// A box to tick.
    Tick,
}

impl Stress {
    /// Every one.
    pub(crate) const ALL: [Self; 7] = [
        Self::Strong,
        Self::Emphasis,
        Self::StrongEmphasis,
        Self::Code,
        Self::Figure,
        Self::Blank,
        Self::Tick,
    ];

    /// Its name as people see it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Strong => "Strong",
            Self::Emphasis => "Emphasis",
            Self::StrongEmphasis => "Strong emphasis",
            Self::Code => "Identifier",
            Self::Figure => "Key figure",
            Self::Blank => "Blank to write on",
            Self::Tick => "Box to tick",
        }
    }

    /// The one of a style by its name.
    pub(crate) fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stress| stress.name().eq_ignore_ascii_case(name))
    }

    /// Its id.
    pub(crate) fn id(self) -> String {
        in_one_word(self.name())
    }
}

/// A kind of table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grid {
    /// Read only: rules and no verticals.
    Ruled,
    /// Filled in by hand: lines between the columns.
    Form,
    /// The title block.
    Fields,
}

impl Grid {
    /// Every one.
    pub(crate) const ALL: [Self; 3] = [Self::Ruled, Self::Form, Self::Fields];

    /// Its name as people see it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Ruled => "Ruled table",
            Self::Form => "Form table",
            Self::Fields => "Title block table",
        }
    }

    /// Its id.
    pub(crate) fn id(self) -> String {
        in_one_word(self.name())
    }
}

fn in_one_word(name: &str) -> String {
    let words = name.split(' ').map(|word| {
        let mut signs = word.chars();
        signs.next().map(|first| first.to_uppercase().chain(signs).collect::<String>()).unwrap_or_default()
    });
    words.collect()
}
