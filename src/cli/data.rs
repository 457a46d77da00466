//! Diagnostics as data, for editors and scripts.

use serde_json::{Value, json};

use crate::diagnostic::{Diagnostic, Place, Severity};

/// Diagnostics as a list of records.
pub(super) fn diagnostics(diagnostics: &[Diagnostic]) -> Value {
    diagnostics.iter().map(one).collect()
}

fn one(diagnostic: &Diagnostic) -> Value {
    json!({
        "code": diagnostic.code,
        "severity": match diagnostic.severity {
            Severity::Error => "error",
            Severity::Remark => "remark",
        },
        "message": diagnostic.message,
        "help": diagnostic.help,
        "place": diagnostic.place.as_ref().map(place),
        "also": diagnostic.also.iter().map(|(at, why)| json!({"place": place(at), "why": why})).collect::<Vec<_>>(),
    })
}

/// Lines and columns count from 1, columns in characters; bytes from 0, the end not part of it.
fn place(place: &Place) -> Value {
    let (line, column) = place.line_and_column();
    json!({"file": place.source.name, "line": line, "column": column, "bytes": [place.start, place.end]})
}
