//! Draws diagnostics: the line with the smallest span marked, what is wrong, how to mend it. Colour on a terminal alone.

use std::fmt::Write as _;
use std::io::IsTerminal;

use miette::{GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, Severity as Weight};

use crate::diagnostic::{Diagnostic, Severity};

/// Draws each diagnostic in turn, for the standard error stream.
pub(super) fn draw(diagnostics: &[Diagnostic]) -> String {
    let theme = if std::io::stderr().is_terminal() {
        GraphicalTheme::unicode()
    } else {
        GraphicalTheme::unicode_nocolor()
    };
    let handler = GraphicalReportHandler::new_themed(theme).with_links(false).with_width(100);
    let mut drawn = String::new();
    for diagnostic in diagnostics {
        let report = Report { diagnostic, source: named(diagnostic) };
        if handler.render_report(&mut drawn, &report).is_err() {
            let _ = writeln!(drawn, "{}: {}", diagnostic.code, diagnostic.message);
        }
    }
    drawn
}

fn named(diagnostic: &Diagnostic) -> Option<NamedSource<String>> {
    let place = diagnostic.place.as_ref()?;
    Some(NamedSource::new(&place.source.name, place.source.text.clone()))
}

#[derive(Debug)]
struct Report<'a> {
    diagnostic: &'a Diagnostic,
    source: Option<NamedSource<String>>,
}

impl std::fmt::Display for Report<'_> {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.diagnostic.message)?;
        let here = self.diagnostic.place.as_ref().map(|place| &place.source.name);
        for (place, why) in self.diagnostic.also.iter().filter(|(place, _)| Some(&place.source.name) != here)
        {
            write!(out, "\n{why}: {place}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Report<'_> {}

impl miette::Diagnostic for Report<'_> {
    fn code<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        Some(Box::new(&self.diagnostic.code))
    }

    fn severity(&self) -> Option<Weight> {
        Some(match self.diagnostic.severity {
            Severity::Error => Weight::Error,
            Severity::Remark => Weight::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn std::fmt::Display + 'a>> {
        let help = self.diagnostic.help.as_ref()?;
        Some(Box::new(help))
    }

    fn source_code(&self) -> Option<&dyn miette::SourceCode> {
        self.source.as_ref().map(|source| source as &dyn miette::SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let place = self.diagnostic.place.as_ref()?;
        let own = LabeledSpan::new_primary_with_span(None, place.start..place.end);
        let also =
            self.diagnostic.also.iter().filter(move |(other, _)| other.source.name == place.source.name);
        let also =
            also.map(|(other, why)| LabeledSpan::new_with_span(Some(why.clone()), other.start..other.end));
        Some(Box::new(std::iter::once(own).chain(also)))
    }
}
