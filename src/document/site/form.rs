//! A form's words cut into what must hold and what is written in: `Air and wall at least 5 °C. Air: ____ Wall: ____`
//! says the limit, then asks for two figures. A line of four or more `_` is room to write in; the words before it, from
//! the last full stop on, are its label; words behind it that begin small, or signs, are its unit.

use serde::Serialize;

/// A form's words, cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Cut {
    /// What must hold, without the fields.
    pub(super) statement: String,
    pub(super) fields: Vec<Field>,
}

/// Something to write in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(super) struct Field {
    pub(super) label: String,
    pub(super) unit: String,
}

/// Cuts a form's words, already filled. Words without room to write get one field with the label `result`.
pub(super) fn cut(words: &str, result: &str) -> Cut {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut pieces = blanks(&words).into_iter();
    let first = pieces.next().unwrap_or_default();
    let (statement, mut label) = after_last_stop(first);
    let mut fields = Vec::new();
    for piece in pieces {
        let (unit, next) = unit_and_label(piece);
        let said = label.trim().trim_end_matches(':').trim();
        let said = if said.is_empty() { result } else { said };
        fields.push(Field { label: said.to_owned(), unit: unit.to_owned() });
        label = next;
    }
    if fields.is_empty() {
        let field = Field { label: result.to_owned(), unit: String::new() };
        return Cut { statement: words.trim().to_owned(), fields: vec![field] };
    }
    // what stands behind the last blank is no label, so it belongs to what must hold
    let statement = format!("{} {}", statement.trim(), label.trim()).trim().to_owned();
    Cut { statement, fields }
}

/// The same words with room to write in them.
pub(super) fn with_room(words: &str, room: &str) -> String {
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    blanks(&words).join(room)
}

/// The text between rows of four or more `_`.
fn blanks(words: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = words;
    while let Some(at) = rest.find("____") {
        let (before, behind) = rest.split_at_checked(at).unwrap_or((rest, ""));
        found.push(before);
        rest = behind.trim_start_matches('_');
    }
    found.push(rest);
    found
}

/// What stands up to the last full stop before a capital, and what stands behind.
fn after_last_stop(words: &str) -> (&str, &str) {
    let starts = words.match_indices(". ").filter(|(at, _)| {
        let next = words.get(at + 2..).and_then(|rest| rest.chars().next());
        next.is_some_and(char::is_uppercase)
    });
    let trailing = words.trim_end().ends_with('.').then_some(words.len());
    let at = trailing.or_else(|| starts.last().map(|(at, _)| at + 2)).unwrap_or(0);
    words.split_at_checked(at).unwrap_or((words, ""))
}

/// Words behind a blank: the unit up to the next capital, then the next label.
fn unit_and_label(words: &str) -> (&str, &str) {
    let at = words.char_indices().find(|(at, sign)| {
        let before = words.get(..*at).and_then(|before| before.chars().next_back());
        sign.is_uppercase() && before.is_none_or(|before| before == ' ')
    });
    let at = at.map_or(words.len(), |(at, _)| at);
    let (unit, label) = words.split_at_checked(at).unwrap_or((words, ""));
    (unit.trim().trim_end_matches(['.', ',', ';']), label)
}

#[cfg(test)]
mod tests {
    use super::{cut, with_room};

    fn said(words: &str) -> (String, Vec<(String, String)>) {
        let cut = cut(words, "Result");
        (cut.statement, cut.fields.into_iter().map(|field| (field.label, field.unit)).collect())
    }

    fn fields(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(label, unit)| ((*label).to_owned(), (*unit).to_owned())).collect()
    }

    #[test]
    fn a_limit_stands_apart_from_what_is_written_in() {
        assert_eq!(
            said("Air and wall not less than 41 °F (5 °C). Air: ____ Wall: ____"),
            ("Air and wall not less than 41 °F (5 °C).".to_owned(), fields(&[("Air", ""), ("Wall", "")]))
        );
        assert_eq!(
            said("Raked not less than 0.79 in. (20 mm) deep. Depth: ____ mm Width: ____ mm"),
            (
                "Raked not less than 0.79 in. (20 mm) deep.".to_owned(),
                fields(&[("Depth", "mm"), ("Width", "mm")])
            )
        );
    }

    #[test]
    fn a_label_may_hold_its_limit() {
        assert_eq!(
            said("Gauge not more than 300 psi: ____ Flow not more than 4 gpm: ____"),
            (String::new(), fields(&[("Gauge not more than 300 psi", ""), ("Flow not more than 4 gpm", "")]))
        );
    }

    #[test]
    fn room_without_a_label_is_for_the_result() {
        assert_eq!(said("Joints full."), ("Joints full.".to_owned(), fields(&[("Result", "")])));
        assert_eq!(said("Tapped. ____ of 10"), ("Tapped.".to_owned(), fields(&[("Result", "of 10")])));
        assert_eq!(with_room("Mix: ____ Batch: ____", "[ ]"), "Mix: [ ] Batch: [ ]");
    }
}
