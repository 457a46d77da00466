//! Words that a firm puts in the place of words of a clause.

use std::sync::Arc;

use super::mistake::LayeringMistake;
use crate::diagnostic::{Diagnostic, Place, Source, nearest};
use crate::rulebook::check;
use crate::rulebook::syntax::ast::{Body, Change, File, Text, Word};

/// The files of the book below with the firm's words in their clauses; what does not fit is told.
pub(super) fn reworded(files: &[Arc<Source>], own: &[File], found: &mut Vec<Diagnostic>) -> Vec<Arc<Source>> {
    let mut files = files.to_vec();
    for file in own {
        for statement in file.statements() {
            let Body::Amend(amendment) = &statement.body else { continue };
            let Change::Clause { clause, reader, from, to } = &amendment.change.value else { continue };
            let change = Rewording { source: &file.source, clause, reader, from, to };
            match change.made(&files) {
                Ok((at, source)) => {
                    if let Some(place) = files.get_mut(at) {
                        *place = source;
                    }
                }
                Err(told) => found.push(*told),
            }
        }
    }
    files
}

struct Rewording<'a> {
    source: &'a Arc<Source>,
    clause: &'a Word,
    reader: &'a Word,
    from: &'a Text,
    to: &'a Text,
}

impl Rewording<'_> {
    /// Which of the files it changes, and the file with the new words.
    fn made(&self, files: &[Arc<Source>]) -> Result<(usize, Arc<Source>), Box<Diagnostic>> {
        let clauses = check::clause_files(files);
        let named = clauses.iter().find(|file| check::stem(&file.name) == self.clause.value);
        let Some(file) = named else {
            return Err(Box::new(self.no_clause(clauses.iter().map(|file| check::stem(&file.name)))));
        };
        let (start, end) = self.wording(file)?;
        let words = file.text.get(start..end).unwrap_or_default();
        let (from, to) = match said(words, &self.from.value).as_slice() {
            [one] => *one,
            several => return Err(Box::new(self.not_once(several.len(), Place::new(file, start, end)))),
        };
        let (before, after) = (file.text.get(..start + from), file.text.get(start + to..));
        let text = [before, Some(self.to.value.as_str()), after].into_iter().flatten().collect::<String>();
        let at = files.iter().position(|known| Arc::ptr_eq(known, file)).unwrap_or(files.len());
        Ok((at, Source::new(file.name.clone(), text)))
    }

    fn no_clause<'n>(&self, known: impl Iterator<Item = &'n str>) -> Diagnostic {
        let name = self.clause.value.clone();
        let help = match nearest(&name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "a firm's own clause is changed where it stands".to_owned(),
        };
        let mistake = LayeringMistake::NoStatement { what: "clause", name, help };
        Diagnostic::error(&mistake, self.clause.span.place(self.source))
    }

    /// Where the words for a reader stand.
    fn wording(&self, file: &Arc<Source>) -> Result<(usize, usize), Box<Diagnostic>> {
        let (mut at, mut start, mut readers) = (0, None, Vec::new());
        for line in file.text.split_inclusive('\n') {
            if let Some(reader) = line.strip_prefix("## ").map(str::trim) {
                if let Some(start) = start {
                    return Ok((start, at));
                }
                readers.push(reader);
                start = (reader == self.reader.value).then_some(at + line.len());
            }
            at += line.len();
        }
        start.map(|start| (start, at)).ok_or_else(|| {
            let mistake = LayeringMistake::NoWords {
                clause: self.clause.value.clone(),
                reader: self.reader.value.clone(),
                help: format!("it has words for {}", readers.join(", ")),
            };
            let told = Diagnostic::error(&mistake, self.reader.span.place(self.source));
            Box::new(told.and(Place::new(file, 0, 0), "the clause"))
        })
    }

    /// The old words stand there more often than once, or not at all.
    fn not_once(&self, count: usize, wording: Place) -> Diagnostic {
        let clause = self.clause.value.clone();
        let mistake = match count {
            0 => LayeringMistake::NotSaid { clause },
            count => LayeringMistake::SaidOften { clause, count },
        };
        Diagnostic::error(&mistake, self.from.span.place(self.source)).and(wording, "its words")
    }
}

/// Where a text says some words, however its lines are broken.
fn said(text: &str, words: &str) -> Vec<(usize, usize)> {
    let (folded, places) = folded(text);
    let all = folded.match_indices(words).filter_map(|(at, words)| {
        let last = (at + words.len()).checked_sub(1)?;
        Some((*places.get(at)?, places.get(last)? + 1))
    });
    all.collect()
}

/// A text with each stretch of space as one space, and for each of its bytes where it stood.
fn folded(text: &str) -> (String, Vec<usize>) {
    let (mut folded, mut places) = (String::new(), Vec::new());
    for (at, sign) in text.char_indices() {
        let sign = if sign.is_ascii_whitespace() { ' ' } else { sign };
        if sign == ' ' && folded.ends_with(' ') {
            continue;
        }
        folded.push(sign);
        places.extend(at..at + sign.len_utf8());
    }
    (folded, places)
}
