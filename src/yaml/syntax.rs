//! The parser's mistakes in our words.

use serde_yaml::granit_parser::ErrorKind;

use super::mistake::YamlMistake;
use super::read::MOST_DEPTH;

/// Turns a mistake of the event parser into one of ours.
pub(super) fn in_our_words(kind: &ErrorKind) -> YamlMistake {
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
        ErrorKind::UnexpectedCharacter { character } => YamlMistake::Character { character: *character },
        ErrorKind::PlainScalarStartsWithDashFlowIndicator => YamlMistake::Character { character: '-' },
        other => bracket(other).or_else(|| line(other)).or_else(|| text(other)).unwrap_or_else(|| {
            let words = other.to_string();
            YamlMistake::Syntax {
                words: words.replace("flow sequence", "list").replace("flow mapping", "record"),
            }
        }),
    }
}

fn bracket(kind: &ErrorKind) -> Option<YamlMistake> {
    match kind {
        ErrorKind::UnclosedFlowCollection { open } => Some(YamlMistake::OpenBracket { open: *open }),
        ErrorKind::UnexpectedEofFlowSequence => Some(YamlMistake::OpenBracket { open: '[' }),
        ErrorKind::UnexpectedEofFlowMapping | ErrorKind::UnexpectedEofImplicitFlowMapping => {
            Some(YamlMistake::OpenBracket { open: '{' })
        }
        ErrorKind::MisplacedFlowCollectionEnd | ErrorKind::MismatchedFlowCollectionEnd { .. } => {
            Some(YamlMistake::StrayBracket)
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
        | ErrorKind::BlockSequenceEntryNotAllowed
        | ErrorKind::ExpectedBlockSequenceEntry => Some(YamlMistake::Level),
        ErrorKind::MappingValueNotAllowed
        | ErrorKind::MappingKeyNotAllowed
        | ErrorKind::InvalidColonPlacement
        | ErrorKind::FlowMappingValueAdjacentCollection => Some(YamlMistake::Colon),
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => Some(YamlMistake::NoColon),
        ErrorKind::ExpectedBlockMappingKey => Some(YamlMistake::Level),
        ErrorKind::DirectiveDisallowed => Some(YamlMistake::Directive),
        ErrorKind::ExpectedDocumentStart => Some(YamlMistake::NoColon),
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
        _ => None,
    }
}
