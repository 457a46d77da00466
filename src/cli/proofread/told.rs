//! Findings in words, in Markdown and as data. Writing to a text in memory cannot fail, so what `write!` returns is let
//! go.

use std::fmt::Write as _;

use miette::Diagnostic as MietteDiagnostic;
use serde_json::{Value, json};
use thiserror::Error;

use crate::cli::args::CompareForm as Form;
use crate::diagnostic::{Diagnostic, Place, Severity};
use crate::proofread::{Audience, Finding, Waiver, Weight};

/// A finding, for those who write a set.
#[derive(Debug, Error, MietteDiagnostic)]
#[error("{place}: {check}: {message}")]
#[diagnostic(code(PF020), help("{mend}; or waive it with a reason, see docs/proofreading.md"))]
struct FoundMistake {
    place: String,
    check: String,
    message: String,
    mend: String,
}

/// A finding as a mistake or remark, at the place of the wording where that is known.
pub(in crate::cli) fn diagnostic(finding: &Finding, place: Option<Place>) -> Diagnostic {
    let mistake = FoundMistake {
        place: finding.place(),
        check: finding.check.clone(),
        message: finding.message.clone(),
        mend: finding.mend.clone(),
    };
    let severity = if finding.blocks() { Severity::Error } else { Severity::Remark };
    Diagnostic { severity, ..Diagnostic::error(&mistake, place) }
}

/// What is to be told.
pub(super) struct Told<'a> {
    /// How many papers were read.
    pub(super) papers: usize,
    pub(super) findings: &'a [Finding],
    pub(super) waivers: &'a [Waiver],
    /// Papers that no profile reads.
    pub(super) others: &'a [&'a str],
}

impl Told<'_> {
    pub(super) fn in_form(&self, form: Form) -> String {
        match form {
            Form::Text => self.text(),
            Form::Md => self.markdown(),
            Form::Json => format!("{:#}\n", self.data()),
        }
    }

    fn open(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|finding| finding.waived.is_none())
    }

    fn of(&self, reader: Audience) -> impl Iterator<Item = &Finding> {
        self.open().filter(move |finding| finding.reader == reader)
    }

    /// Findings that a waiver covers, each with it.
    fn waived(&self) -> impl Iterator<Item = (&Finding, &Waiver)> {
        self.findings.iter().filter_map(|finding| Some((finding, self.waivers.get(finding.waived?)?)))
    }

    fn text(&self) -> String {
        let mut out = String::new();
        for reader in Audience::ALL.into_iter().filter(|reader| self.of(*reader).next().is_some()) {
            let _ = writeln!(out, "For the {}", reader.word());
            for finding in self.of(reader) {
                let _ =
                    writeln!(out, "  {}: {} ({})", finding.place(), finding.check, finding.weight.words());
                let _ = writeln!(out, "    {}\n    to mend it: {}", finding.message, finding.mend);
            }
            out.push('\n');
        }
        if self.waived().next().is_some() {
            out.push_str("Waived\n");
            for (finding, waiver) in self.waived() {
                let _ = writeln!(out, "  {}: {}: {}", finding.place(), finding.check, finding.message);
                let _ = writeln!(out, "    {} ({}, until {})", waiver.reason, waiver.who, waiver.expires);
            }
            out.push('\n');
        }
        for name in self.others {
            let _ = writeln!(out, "{name}.md is no paper of a set and was not read");
        }
        out + &self.sum() + "\n"
    }

    fn sum(&self) -> String {
        let papers = counted(self.papers, "paper", "papers");
        let waived = self.waived().count();
        let waived = if waived == 0 { String::new() } else { format!("; {waived} waived") };
        if self.open().next().is_none() {
            return format!("{papers} read, nothing found{waived}");
        }
        let weights = Weight::ALL.map(|weight| {
            let count = self.open().filter(|finding| finding.weight == weight).count();
            (count, weight)
        });
        let weights = weights.iter().filter(|(count, _)| *count > 0);
        let weights: Vec<String> = weights
            .map(|(count, weight)| match (weight, count) {
                (Weight::BlocksIssue, 2..) => format!("{count} block issue"),
                (Weight::NeedsWaiver, 2..) => format!("{count} need a waiver"),
                _ => format!("{count} {}", weight.words()),
            })
            .collect();
        let found = counted(self.open().count(), "finding", "findings");
        format!("{papers} read, {found}: {}{waived}", weights.join(", "))
    }

    fn markdown(&self) -> String {
        let mut out = format!("# Proofreading\n\n{}.\n", self.sum());
        for reader in Audience::ALL.into_iter().filter(|reader| self.of(*reader).next().is_some()) {
            let _ = write!(out, "\n## For the {}\n\n", reader.word());
            out.push_str("| Where | Check | Weight | What | To mend it |\n| --- | --- | --- | --- | --- |\n");
            for finding in self.of(reader) {
                let cells = [
                    &finding.place(),
                    &format!("`{}`", finding.check),
                    finding.weight.words(),
                    &finding.message,
                    &finding.mend,
                ];
                let _ = writeln!(out, "| {} |", cells.map(in_cell).join(" | "));
            }
        }
        if self.waived().next().is_some() {
            out.push_str("\n## Waived\n\n| Where | Check | What | Reason | Who | Until |\n");
            out.push_str("| --- | --- | --- | --- | --- | --- |\n");
            for (finding, waiver) in self.waived() {
                let cells = [
                    &finding.place(),
                    &format!("`{}`", finding.check),
                    &finding.message,
                    &waiver.reason,
                    &waiver.who,
                    &waiver.expires,
                ];
                let _ = writeln!(out, "| {} |", cells.map(|cell| in_cell(cell)).join(" | "));
            }
        }
        out
    }

    fn data(&self) -> Value {
        let findings = self.findings.iter().map(|finding| {
            json!({
                "check": finding.check,
                "weight": finding.weight.words(),
                "reader": finding.reader.word(),
                "paper": finding.paper,
                "clause": finding.clause,
                "line": finding.line,
                "message": finding.message,
                "mend": finding.mend,
                "waived": finding.waived.and_then(|at| self.waivers.get(at)).map(waiver_as_data),
            })
        });
        json!({
            "papers": self.papers,
            "findings": findings.collect::<Vec<_>>(),
            "waivers": self.waivers.iter().map(waiver_as_data).collect::<Vec<_>>(),
            "not-read": self.others,
        })
    }
}

fn counted(count: usize, one: &str, several: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { several })
}

fn in_cell(words: &str) -> String {
    words.replace('|', "\\|").replace('\n', " ")
}

/// A waiver as records keep it.
pub(super) fn waiver_as_data(waiver: &Waiver) -> Value {
    json!({
        "check": waiver.check,
        "clause": waiver.clause,
        "reason": waiver.reason,
        "who": waiver.who,
        "expires": waiver.expires,
    })
}
