//! A paper as it is proofread: its words in one text, cut into passages that know where they stand. Papers come from
//! blocks or from Markdown, and the same paper comes out the same from both.

use std::ops::Range;

use crate::document::block::{Inline, plain};

/// A paper, taken apart.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Paper {
    /// File stem, such as `section`.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The strip under the head that says what the paper is not fit for; empty when there is none.
    pub strip: String,
    /// Label and value pairs of the title block; an empty value is a blank.
    pub title_block: Vec<(String, String)>,
    /// The foot, which names document, book and templates.
    pub foot: String,
    /// The bodies of all passages, each ended by a line break.
    pub text: String,
    /// The passages in reading order.
    pub passages: Vec<Passage>,
    /// The tables in reading order.
    pub tables: Vec<Table>,
}

/// A run of words that stand together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Passage {
    /// What it is.
    pub kind: Kind,
    /// Its line in the Markdown, from 1; `None` when it was read from blocks.
    pub line: Option<usize>,
    /// Where it stands, as a reader would say it: `3.3 F 1`, or the number of the article.
    pub clause: String,
    /// What the blocks are called after, such as the name of a clause.
    pub name: Option<String>,
    /// The title of the last article or chapter before it.
    pub article: String,
    /// The bold words it opens with.
    pub subject: String,
    /// Zones and marks between the subject and the words, and references behind them.
    pub aside: String,
    /// Its words, as a range of the paper's text.
    pub body: Range<usize>,
}

/// What a passage is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// A heading.
    Heading {
        /// 1 to 3.
        level: u8,
        /// As printed.
        number: String,
    },
    /// A numbered paragraph.
    Item {
        /// From 1.
        depth: u8,
        /// As printed.
        label: String,
    },
    /// A point of a list.
    Bullet,
    /// Plain words.
    Paragraph,
    /// A paragraph of a caution.
    Caution,
    /// Over a table or figure.
    Caption,
    /// A cell of a table.
    Cell {
        /// Which table of the paper.
        table: usize,
        /// Which row of the body; `None` for the head.
        row: Option<usize>,
        /// Which column.
        column: usize,
    },
    /// What stands for a picture where it cannot be seen.
    Picture,
    /// The last line.
    End,
}

/// A table in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Its caption; may be empty.
    pub caption: String,
    /// The article it stands in.
    pub article: String,
    /// The head.
    pub head: Vec<String>,
    /// The body.
    pub rows: Vec<Vec<String>>,
    /// Its first passage.
    pub first: usize,
}

impl Table {
    /// The column under a head that begins with these words.
    pub fn column(&self, head: &str) -> Option<usize> {
        self.head.iter().position(|words| words.starts_with(head))
    }
}

impl Paper {
    /// The words of a passage.
    pub fn words(&self, passage: &Passage) -> &str {
        self.text.get(passage.body.clone()).unwrap_or_default()
    }

    /// The passage that holds a place of the text.
    pub fn at(&self, place: usize) -> Option<&Passage> {
        let after = self.passages.partition_point(|passage| passage.body.end < place);
        self.passages.get(after).filter(|passage| passage.body.start <= place)
    }
}

/// Puts a paper together from its parts, in reading order.
#[derive(Debug, Default)]
pub(super) struct Builder {
    paper: Paper,
    article: String,
    number: String,
    labels: Vec<String>,
    line: Option<usize>,
    name: Option<String>,
    /// What marks a paragraph whose words are new in this issue; none of its words.
    marks: Vec<String>,
}

/// Fields of the title block that an issue is named by.
const NAMES_ISSUE: [&str; 2] = ["Revision", "Date of issue"];

impl Builder {
    pub(super) fn new(name: &str, title: &str) -> Self {
        let paper = Paper { name: name.to_owned(), title: title.to_owned(), ..Paper::default() };
        Self { paper, ..Self::default() }
    }

    /// The rest of what surrounds the words.
    pub(super) fn surround(&mut self, strip: &str, title_block: Vec<(String, String)>, foot: &str) {
        strip.clone_into(&mut self.paper.strip);
        let names = title_block.iter().filter(|(label, _)| NAMES_ISSUE.contains(&label.as_str()));
        self.marks =
            names.filter(|(_, name)| !name.is_empty()).map(|(_, name)| format!(" [{name}]")).collect();
        self.paper.title_block = title_block;
        foot.clone_into(&mut self.paper.foot);
    }

    /// Where the next parts stand.
    pub(super) fn stand_at(&mut self, line: Option<usize>, name: Option<String>) {
        self.line = line;
        self.name = name;
    }

    pub(super) fn finish(self) -> Paper {
        self.paper
    }

    pub(super) fn heading(&mut self, level: u8, number: &str, text: &[Inline]) {
        let words = plain(text);
        let (number, words) = match numbered(&words).filter(|_| number.is_empty()) {
            Some((number, words)) => (number.to_owned(), words.to_owned()),
            None => (number.to_owned(), words),
        };
        self.article.clone_from(&words);
        self.number.clone_from(&number);
        self.labels.clear();
        self.put(Kind::Heading { level, number }, Parts::whole(words));
    }

    pub(super) fn item(&mut self, depth: u8, label: &str, text: &[Inline]) {
        self.labels.truncate(usize::from(depth).saturating_sub(1));
        self.labels.push(label.trim_end_matches(['.', ')']).to_owned());
        self.put(Kind::Item { depth, label: label.to_owned() }, Parts::of(&self.unmarked(text)));
    }

    pub(super) fn bullet(&mut self, text: &[Inline]) {
        self.put(Kind::Bullet, Parts::of(text));
    }

    pub(super) fn paragraph(&mut self, text: &[Inline]) {
        self.labels.clear();
        self.put(Kind::Paragraph, Parts::of(&self.unmarked(text)));
    }

    /// Words without the marks of what is new.
    fn unmarked(&self, text: &[Inline]) -> Vec<Inline> {
        let without =
            |words: &str| self.marks.iter().fold(words.to_owned(), |all, mark| all.replace(mark, ""));
        let run = |run: &Inline| match run {
            Inline::Text(words) => Inline::Text(without(words)),
            other => other.clone(),
        };
        text.iter().map(run).collect()
    }

    pub(super) fn caution(&mut self, word: &str, text: &[Vec<Inline>]) {
        for paragraph in text {
            let parts = Parts { subject: word.to_owned(), ..Parts::whole(plain(&self.unmarked(paragraph))) };
            self.put(Kind::Caution, parts);
        }
    }

    pub(super) fn end(&mut self, words: &str) {
        self.put(Kind::End, Parts::whole(words.to_owned()));
    }

    pub(super) fn figure(&mut self, caption: &str, alt: &str, note: &str) {
        self.labels.clear();
        if !caption.is_empty() {
            self.put(Kind::Caption, Parts::whole(caption.to_owned()));
        }
        self.put(Kind::Picture, Parts::whole(alt.to_owned()));
        if !note.is_empty() {
            self.paragraph(&[Inline::Text(note.to_owned())]);
        }
    }

    /// A table; each row comes with its line.
    pub(super) fn table(
        &mut self,
        caption: &str,
        head: &[Vec<Inline>],
        rows: &[(Option<usize>, Vec<Vec<Inline>>)],
    ) {
        let first = self.paper.passages.len();
        if !caption.is_empty() {
            self.put(Kind::Caption, Parts::whole(caption.to_owned()));
        }
        let table = self.paper.tables.len();
        let words = |row: &[Vec<Inline>]| row.iter().map(|cell| plain(cell)).collect::<Vec<_>>();
        self.paper.tables.push(Table {
            caption: caption.to_owned(),
            article: self.article.clone(),
            head: words(head),
            rows: rows.iter().map(|(_, row)| words(row)).collect(),
            first,
        });
        self.row(table, None, head);
        for (at, (line, row)) in rows.iter().enumerate() {
            if line.is_some() {
                self.line = *line;
            }
            self.row(table, Some(at), row);
        }
    }

    fn row(&mut self, table: usize, row: Option<usize>, cells: &[Vec<Inline>]) {
        for (column, cell) in cells.iter().enumerate() {
            self.put(Kind::Cell { table, row, column }, Parts::whole(plain(cell)));
        }
    }

    fn put(&mut self, kind: Kind, parts: Parts) {
        let start = self.paper.text.len();
        self.paper.text.push_str(&parts.body);
        let body = start..self.paper.text.len();
        self.paper.text.push('\n');
        let clause = std::iter::once(&self.number).chain(&self.labels).filter(|part| !part.is_empty());
        let clause = clause.map(String::as_str).collect::<Vec<_>>().join(" ");
        self.paper.passages.push(Passage {
            kind,
            line: self.line,
            clause,
            name: self.name.clone(),
            article: self.article.clone(),
            subject: parts.subject,
            aside: parts.aside,
            body,
        });
    }
}

/// A paragraph taken apart: `**Subject** (zones). *marks* words *(references)*`.
#[derive(Debug, Default)]
struct Parts {
    subject: String,
    aside: String,
    body: String,
}

impl Parts {
    fn whole(body: String) -> Self {
        Self { body, ..Self::default() }
    }

    fn of(text: &[Inline]) -> Self {
        let mut runs = Vec::new();
        merged(text, &mut runs);
        let (subject, rest) = match runs.as_slice() {
            [Inline::Strong(subject), rest @ ..] => (plain(subject), rest),
            all => (String::new(), all),
        };
        let (rest, behind) = match rest {
            [rest @ .., Inline::Emphasis(last)] if plain(last).starts_with('(') => (rest, plain(last)),
            _ => (rest, String::new()),
        };
        let mut parts = Self { subject: subject.trim_end_matches(['.', ':']).to_owned(), ..Self::default() };
        let mut opening = true;
        for (at, run) in rest.iter().enumerate() {
            match run {
                Inline::Text(words) if at == 0 && !subject.is_empty() => {
                    let (aside, words) = after_subject(words);
                    aside.clone_into(&mut parts.aside);
                    words.clone_into(&mut parts.body);
                }
                Inline::Emphasis(note) if opening && parts.body.trim().is_empty() => {
                    parts.body.clear();
                    parts.note(&plain(note));
                }
                run => parts.body.push_str(&plain(std::slice::from_ref(run))),
            }
            opening &= parts.body.trim().is_empty();
        }
        if !behind.is_empty() {
            parts.note(&behind);
        }
        parts.body = parts.body.trim().to_owned();
        parts
    }

    fn note(&mut self, words: &str) {
        if !self.aside.is_empty() {
            self.aside.push(' ');
        }
        self.aside.push_str(words);
    }
}

/// `PART 1 General`, `1.1 Summary`, `1 Before you start`: the number apart from the words.
fn numbered(words: &str) -> Option<(&str, &str)> {
    let (first, rest) = words.split_once(' ')?;
    let digits = |part: &str| part.chars().all(|sign| sign.is_ascii_digit());
    if first.split('.').all(digits) && !first.starts_with('.') {
        return Some((first, rest));
    }
    let (count, title) = rest.split_once(' ')?;
    let is_part = first.chars().all(|sign| sign.is_ascii_uppercase()) && digits(count);
    let number = words.get(..first.len() + 1 + count.len())?;
    is_part.then_some((number, title))
}

/// The runs as Markdown shows them: a link is its words, a box its sign, and words that meet are one run.
fn merged(text: &[Inline], into: &mut Vec<Inline>) {
    for run in text {
        let words = match run {
            Inline::Link { text, .. } => {
                merged(text, into);
                continue;
            }
            Inline::Text(words) => words.as_str(),
            Inline::Tick(tick) => tick.sign(),
            Inline::Blank(blank) => blank.sign(),
            other => {
                into.push(other.clone());
                continue;
            }
        };
        match into.last_mut() {
            Some(Inline::Text(before)) => before.push_str(words),
            _ => into.push(Inline::Text(words.to_owned())),
        }
    }
}

/// What stands behind a subject: zones in brackets, then the words.
fn after_subject(words: &str) -> (&str, &str) {
    let Some(inner) = words.strip_prefix(" (") else {
        return ("", words.trim_start_matches(['.', ':', ' ']));
    };
    match inner.split_once("). ") {
        Some((zones, rest)) => (zones, rest),
        None => match inner.strip_suffix(").") {
            Some(zones) => (zones, ""),
            None => ("", words),
        },
    }
}
