//! The issue before: the record that lies in the folder of the set, or the one that this record carries on from an
//! earlier run, so that the same survey written again says the same of what changed.

use serde::Deserialize;
use serde_json::Value;

use crate::cli::load::Decided;
use crate::cli::past;
use crate::cli::record::record;
use crate::document::{Compared, Issue};
use crate::inference;
use crate::survey::Survey;
use crate::wall;

/// What a record holds of the issue before.
const BEFORE: &str = "issue-before";

/// The record of the issue before: the one that lies there if its survey has another revision or date, else that which
/// it carries itself.
pub(super) fn before(found: Option<Value>, survey: &Survey) -> Option<Value> {
    let mut found = found?;
    let said = |key: &str| found.pointer(&format!("/survey/{key}")).and_then(Value::as_str);
    let is_same = said("revision") == survey.job.revision.as_deref()
        && said("issue-date") == Some(survey.job.issue_date.as_str());
    let entries = found.as_object_mut()?;
    let carried = entries.shift_remove(BEFORE);
    entries.shift_remove("files");
    if is_same { carried.filter(|carried| !carried.is_null()) } else { Some(found) }
}

/// The record of this issue with that of the one before.
pub(super) fn carrying(mut record: Value, before: Option<Value>) -> Value {
    if let Value::Object(entries) = &mut record {
        entries.insert(BEFORE.to_owned(), before.unwrap_or(Value::Null));
    }
    record
}

/// The issue before beside this one, and its survey decided by the book of now.
pub(super) fn compared(before: &Value, record: &Value, decided: &Decided) -> Option<Compared> {
    let issue = |record: &Value| Issue::deserialize(record).ok();
    let between = by_present_book(before, decided);
    Some(Compared { then: issue(before)?, between: between.as_ref().and_then(issue), now: issue(record)? })
}

fn by_present_book(before: &Value, decided: &Decided) -> Option<Value> {
    let book = &decided.book;
    let survey = past::of_issue(before)?.read(book).ok()?;
    let facts = wall::work(&survey, book);
    let outcome = inference::infer(book, &survey, &facts);
    let then = Decided { book: book.clone(), survey, facts, outcome, remarks: Vec::new() };
    Some(record(&then, ""))
}
