//! The files that documents are made from besides their templates, and what is wrong with a value of one.

use super::mistake::DocumentMistake;
use crate::diagnostic::Diagnostic;
use crate::yaml::Node;

/// A file that documents are made from.
#[derive(Debug, Clone, Copy)]
pub(super) enum DataFile {
    /// `articles.yaml`, and `words.yaml` beside it.
    Articles,
    /// `drawings.yaml`.
    Drawings,
    /// `register.yaml`.
    Register,
    /// `site.yaml`.
    Site,
    /// `visit.yaml`.
    Visit,
}

impl DataFile {
    /// Tells what is wrong with a value of it.
    pub(super) fn complain(self, at: &Node, words: impl Into<String>, mistakes: &mut Vec<Diagnostic>) {
        let words = words.into();
        let mistake = match self {
            Self::Articles => DocumentMistake::Articles { words },
            Self::Drawings => DocumentMistake::Drawings { words },
            Self::Register => DocumentMistake::Register { words },
            Self::Site => DocumentMistake::Site { words },
            Self::Visit => DocumentMistake::Visit { words },
        };
        mistakes.push(Diagnostic::error(&mistake, at.place.clone()));
    }
}
