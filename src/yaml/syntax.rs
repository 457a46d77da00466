//! The parser's mistakes in our words, at the place where they can be mended.

use std::sync::Arc;

use serde_yaml::granit_parser::{ErrorKind, ScanError};

use super::mistake::YamlMistake;
use super::read::MOST_DEPTH;
use crate::diagnostic::{Diagnostic, Place, Source};

/// Turns a mistake of the event parser into one of ours. `at` is where the parser stood, in bytes; `bracket` is
/// the innermost bracket still open there.
pub(super) fn explain(
    error: &ScanError,
    at: usize,
    bracket: Option<&Place>,
    source: &Arc<Source>,
) -> Diagnostic {
    let mistake = in_our_words(error.kind());
    let here = word_at(source, at);
    let line = |at: usize| source.text.get(..at).unwrap_or_default().matches('\n').count();
    if bracket.is_some() && here.text() == "," {
        return Diagnostic::error(&YamlMistake::ExtraComma, here);
    }
    match (&mistake, bracket) {
        (YamlMistake::OpenBracket { .. }, Some(bracket)) => never_closed(bracket),
        (
            YamlMistake::Colon | YamlMistake::NoComma | YamlMistake::NoColon | YamlMistake::Level,
            Some(bracket),
        ) if line(bracket.start) < line(at) => never_closed(bracket).and(here, "what follows no longer fits"),
        (YamlMistake::Tab, _) => Diagnostic::error(&mistake, tab_in_line(source, at).unwrap_or(here)),
        (YamlMistake::Colon, None) => match line_without_colon(source, at) {
            Some(line) => Diagnostic::error(&YamlMistake::NoColon, line),
            None => Diagnostic::error(&mistake, here),
        },
        _ => Diagnostic::error(&mistake, here),
    }
}

fn never_closed(bracket: &Place) -> Diagnostic {
    let open = bracket.text().chars().next().unwrap_or('[');
    Diagnostic::error(&YamlMistake::OpenBracket { open }, bracket.clone())
}

fn in_our_words(kind: &ErrorKind) -> YamlMistake {
    match kind {
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::TabInIndentation
        | ErrorKind::TabInPlainScalar
        | ErrorKind::InvalidBlockEntryWhitespace
        | ErrorKind::InvalidMappingValueWhitespace => YamlMistake::Tab,
        ErrorKind::UnclosedQuotedScalar | ErrorKind::DocumentIndicatorInQuotedScalar => {
            YamlMistake::OpenQuote
        }
        ErrorKind::RecursionLimitExceeded => YamlMistake::TooDeep { most: MOST_DEPTH },
        ErrorKind::UnexpectedCharacter { character: '`' } => {
            YamlMistake::Character { character: "a backtick".to_owned() }
        }
        ErrorKind::UnexpectedCharacter { character } => {
            YamlMistake::Character { character: format!("`{character}`") }
        }
        ErrorKind::PlainScalarStartsWithDashFlowIndicator => {
            YamlMistake::Character { character: "`-`".to_owned() }
        }
        other => bracket(other)
            .or_else(|| line(other))
            .or_else(|| text(other))
            .unwrap_or_else(|| YamlMistake::Syntax { words: other.to_string() }),
    }
}

fn bracket(kind: &ErrorKind) -> Option<YamlMistake> {
    match kind {
        ErrorKind::UnclosedFlowCollection { open } => Some(YamlMistake::OpenBracket { open: *open }),
        ErrorKind::UnexpectedEofFlowSequence => Some(YamlMistake::OpenBracket { open: '[' }),
        ErrorKind::UnexpectedEofFlowMapping | ErrorKind::UnexpectedEofImplicitFlowMapping => {
            Some(YamlMistake::OpenBracket { open: '{' })
        }
        ErrorKind::MisplacedFlowCollectionEnd => {
            Some(YamlMistake::StrayBracket { what: "this closing bracket closes nothing".to_owned() })
        }
        ErrorKind::MismatchedFlowCollectionEnd { open, close } => {
            Some(YamlMistake::StrayBracket { what: format!("the bracket `{open}` is closed by `{close}`") })
        }
        ErrorKind::ExpectedFlowMappingSeparator | ErrorKind::ExpectedFlowSequenceSeparator => {
            Some(YamlMistake::NoComma)
        }
        _ => None,
    }
}

fn line(kind: &ErrorKind) -> Option<YamlMistake> {
    match kind {
        ErrorKind::InvalidIndentation
        | ErrorKind::InvalidBlockScalarIndent
        | ErrorKind::InvalidQuotedScalarIndent
        | ErrorKind::InvalidFlowScalarIndent
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::ExpectedBlockMappingKey => Some(YamlMistake::Level),
        ErrorKind::MappingValueNotAllowed
        | ErrorKind::MappingKeyNotAllowed
        | ErrorKind::InvalidColonPlacement
        | ErrorKind::FlowMappingValueAdjacentCollection => Some(YamlMistake::Colon),
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey | ErrorKind::ExpectedDocumentStart => {
            Some(YamlMistake::NoColon)
        }
        ErrorKind::BlockSequenceEntryNotAllowed | ErrorKind::BlockEntryInFlowCollection => {
            Some(YamlMistake::Dash)
        }
        ErrorKind::DirectiveDisallowed => Some(YamlMistake::Directive),
        _ => None,
    }
}

fn text(kind: &ErrorKind) -> Option<YamlMistake> {
    match kind {
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidLowSurrogateHexEscape
        | ErrorKind::InvalidLowSurrogate
        | ErrorKind::MissingLowSurrogate
        | ErrorKind::UnpairedLowSurrogate
        | ErrorKind::InvalidUnicodeEscape => Some(YamlMistake::Escape),
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => {
            Some(YamlMistake::AfterQuote)
        }
        _ => None,
    }
}

/// The word that starts at a place, or the one character there.
fn word_at(source: &Arc<Source>, at: usize) -> Place {
    let rest = source.text.get(at..).unwrap_or_default();
    let first = rest.chars().next().map_or(0, char::len_utf8);
    let word = rest.find(|c: char| !c.is_alphanumeric()).unwrap_or(rest.len());
    Place::new(source, at, at + word.max(first))
}

/// The first tab of the line or the next one; the parser minds before or after it.
fn tab_in_line(source: &Arc<Source>, at: usize) -> Option<Place> {
    let (start, _) = line_at(source, at)?;
    let rest = source.text.get(start..)?;
    let end = rest.match_indices('\n').nth(1).map_or(rest.len(), |(end, _)| end);
    let tab = start + rest.get(..end)?.find('\t')?;
    Some(Place::new(source, tab, tab + 1))
}

/// If the parser minds the first colon of a line, the line above is at fault when it has none: both were read as one
/// text.
fn line_without_colon(source: &Arc<Source>, at: usize) -> Option<Place> {
    let (start, line) = line_at(source, at)?;
    let first = start + colon(line)?;
    let above = source.text.get(..start)?;
    let end = above.trim_end().len();
    let (from, at_fault) = line_at(source, end)?;
    let blanks = at_fault.len() - at_fault.trim_start().len();
    (first == at && colon(at_fault).is_none()).then(|| Place::new(source, from + blanks, end))
}

/// Where the first colon that ends a name stands.
fn colon(line: &str) -> Option<usize> {
    line.find(": ").or_else(|| line.trim_end().strip_suffix(':').map(str::len))
}

fn line_at(source: &Arc<Source>, at: usize) -> Option<(usize, &str)> {
    let start = source.text.get(..at)?.rfind('\n').map_or(0, |end| end + 1);
    Some((start, source.text.get(start..)?.lines().next().unwrap_or_default()))
}
