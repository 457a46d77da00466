//! The head of a filled template: what surrounds the text. Lines of `key: value` between two lines `---`.

use super::block::{Furniture, Standing, Voice};
use super::mistake::DocumentMistake;
use super::numbering::Numbers;

/// What a head says.
#[derive(Debug, Clone)]
pub(super) struct Head {
    pub(super) title: String,
    pub(super) subtitle: String,
    pub(super) language: String,
    pub(super) standing: Standing,
    pub(super) voice: Voice,
    pub(super) numbers: Numbers,
    pub(super) part_word: String,
    pub(super) furniture: Furniture,
}

impl Head {
    fn blank() -> Self {
        Self {
            title: String::new(),
            subtitle: String::new(),
            language: "en".to_owned(),
            standing: Standing::Office,
            voice: Voice::Plain,
            numbers: Numbers::None,
            part_word: String::new(),
            furniture: Furniture::default(),
        }
    }

    fn take(&mut self, key: &str, value: String) -> Result<(), DocumentMistake> {
        match (key, value.as_str()) {
            ("title", _) => self.title = value,
            ("subtitle", _) => self.subtitle = value,
            ("language", _) => self.language = value,
            ("part", _) => self.part_word = value,
            ("head-left", _) => self.furniture.head_left = value,
            ("head-right", _) => self.furniture.head_right = value,
            ("foot-left", _) => self.furniture.foot_left = value,
            ("strip", _) => self.furniture.status_strip = Some(value).filter(|words| !words.is_empty()),
            ("contents", _) => self.furniture.contents = Some(value).filter(|words| !words.is_empty()),
            ("field", _) => self.furniture.title_block.push(field(&value)),
            ("standing", "contract") => self.standing = Standing::Contract,
            ("standing", "information") => self.standing = Standing::Information,
            ("standing", "office") => self.standing = Standing::Office,
            ("voice", "contract") => self.voice = Voice::Contract,
            ("voice", "plain") => self.voice = Voice::Plain,
            ("voice", "sheet") => self.voice = Voice::Sheet,
            ("voice", "site") => self.voice = Voice::Site,
            ("numbers", "parts") => self.numbers = Numbers::Parts,
            ("numbers", "steps") => self.numbers = Numbers::Steps,
            ("numbers", "none") => self.numbers = Numbers::None,
            _ => {
                return Err(DocumentMistake::Head {
                    words: format!("the head of a document has no `{key}: {value}`"),
                });
            }
        }
        Ok(())
    }
}

/// `Label | value`; without a value the field is a blank to write on.
fn field(written: &str) -> (String, Option<String>) {
    let (label, value) = written.split_once('|').unwrap_or((written, ""));
    (label.trim().to_owned(), Some(value.trim().to_owned()).filter(|value| !value.is_empty()))
}

/// Splits a filled template into its head and the rest.
pub(super) fn split(text: &str) -> Result<(Head, &str), DocumentMistake> {
    let missing = || DocumentMistake::Head { words: "this template has no head".to_owned() };
    let rest = text.trim_start().strip_prefix("---\n").ok_or_else(missing)?;
    let (lines, body) = rest.split_once("\n---\n").ok_or_else(missing)?;
    let mut head = Head::blank();
    for line in lines.lines().map(str::trim).filter(|line| !line.is_empty()) {
        let (key, value) = line.split_once(':').ok_or_else(|| DocumentMistake::Head {
            words: format!("`{line}` in the head of a document is not a `key: value` line"),
        })?;
        head.take(key.trim(), unescaped(value.trim()))?;
    }
    Ok((head, body))
}

/// Takes out the backslashes that values were given on their way into the template.
fn unescaped(written: &str) -> String {
    let mut out = String::with_capacity(written.len());
    let mut signs = written.chars().peekable();
    while let Some(sign) = signs.next() {
        match signs.peek() {
            Some(next) if sign == '\\' && next.is_ascii_punctuation() => {}
            _ => out.push(sign),
        }
        if sign == '\\' && signs.peek() == Some(&'\\') {
            out.push('\\');
            signs.next();
        }
    }
    out
}
