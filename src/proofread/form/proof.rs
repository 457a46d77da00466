//! The schedule of tests: method, frequency, limit, tester, form and what follows on failure, none left out.

use std::sync::LazyLock;

use regex::bytes::Regex;

use crate::proofread::found::Found;
use crate::proofread::paper::Table;
use crate::proofread::pattern::regex;
use crate::proofread::reading::Reading;

/// What a test is made how often by.
static OFTEN: LazyLock<Option<Regex>> = LazyLock::new(|| {
    let pattern = r"(?i)\b(each|every|daily|once|per|start of|end of|places? (in|on)|\d+ (checks?|reports?|panels?|patches|units|samples?|places?)|\d+ trial|before|after)\b";
    regex(pattern).ok()
});

pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    for table in reading.tables_with("test heads") {
        for row in 0..table.rows.len() {
            test(reading, table, row, found);
        }
    }
}

fn test(reading: Reading<'_>, table: &Table, row: usize, found: &mut Found<'_>) {
    let column = |head: &str| table.column(head).unwrap_or_default();
    let cell = |head: &str| {
        let words = table.rows.get(row).and_then(|cells| cells.get(column(head)));
        words.map(String::as_str).unwrap_or_default().trim()
    };
    let name = cell("Paragraph");
    let mut lack = |head: &str, check: &str, what: &str| {
        if let Some(passage) = reading.cell(table, row, column(head)) {
            found.at(reading, check, passage, format!("the test of {name} names no {what}"));
        }
    };
    let (method, frequency) = cell("Method").rsplit_once("; ").unwrap_or((cell("Method"), ""));
    if method.trim_matches([';', ' ']).is_empty() {
        lack("Method", "test-without-method", "method");
    }
    let often = OFTEN.as_ref().is_some_and(|often| often.is_match(frequency.as_bytes()));
    if !often {
        lack("Method", "test-without-frequency", "frequency");
    }
    if cell("Passes when").is_empty() {
        lack("Passes when", "test-without-limit", "value that passes");
    }
    let (tester, form) = cell("By").rsplit_once(", ").unwrap_or_else(|| {
        let is_form = cell("By").ends_with(|sign: char| sign.is_ascii_digit());
        if is_form { ("", cell("By")) } else { (cell("By"), "") }
    });
    if tester.is_empty() {
        lack("By", "test-without-tester", "tester");
    }
    if form.is_empty() {
        lack("By", "test-without-form", "form");
    }
    if cell("On failure").is_empty() {
        lack("On failure", "test-without-action", "action on failure");
    }
}
