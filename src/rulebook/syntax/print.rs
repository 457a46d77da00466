//! The one layout of a statement: a head and its lines, each a list of chunks between which a line may break.

use super::ast::{At, Body, CitationWords, Claim, Condition, GroundLines, Span, Text, Word};
use super::print_words::{condition_chunks, quoted};

/// One line of a statement, before it is broken to the width.
pub(crate) struct Line {
    /// The stretch of text it was read from; comments find their line by it.
    pub(crate) span: Span,
    /// What is never broken.
    pub(crate) chunks: Vec<String>,
}

impl Line {
    /// A line from words between which it may break.
    pub(super) fn new(span: Span, words: &str) -> Self {
        Self { span, chunks: words.split(' ').map(str::to_owned).collect() }
    }

    /// Adds one word or figure.
    pub(super) fn word(mut self, word: &str) -> Self {
        self.chunks.push(word.to_owned());
        self
    }

    /// Adds words between which the line may break.
    pub(super) fn words(mut self, words: &str) -> Self {
        self.chunks.extend(words.split(' ').map(str::to_owned));
        self
    }

    /// Adds words in quotes.
    pub(super) fn quoted(mut self, text: &Text) -> Self {
        self.chunks.extend(quoted(&text.value).split(' ').map(str::to_owned));
        self
    }

    /// Adds a list with commas.
    pub(super) fn list<'a>(mut self, words: impl IntoIterator<Item = &'a str>) -> Self {
        let mut words = words.into_iter().peekable();
        while let Some(word) = words.next() {
            let comma = if words.peek().is_some() { "," } else { "" };
            self.chunks.push(format!("{word}{comma}"));
        }
        self
    }

    /// Adds a list of names.
    pub(super) fn names(self, names: &[Word]) -> Self {
        self.list(names.iter().map(|name| name.value.as_str()))
    }

    /// Adds a condition.
    pub(super) fn condition(mut self, condition: &Condition) -> Self {
        condition_chunks(condition, &mut self.chunks);
        self
    }

    /// Puts a comma after the last word.
    pub(super) fn comma(mut self) -> Self {
        if let Some(last) = self.chunks.last_mut() {
            last.push(',');
        }
        self
    }

    /// On one line.
    pub(super) fn joined(&self) -> String {
        self.chunks.join(" ")
    }
}

/// The lines of a statement, its head first, the rest in the order of the language's page.
pub(crate) fn lines(body: &Body) -> Vec<Line> {
    match body {
        Body::Rulebook(head) => vec![head.line()],
        Body::House(head) => vec![head.line()],
        Body::Source(source) => vec![source.line()],
        Body::Stage(stage) => vec![stage.line()],
        Body::Fact(fact) => fact.lines(),
        Body::Worked(worked) => vec![worked.line()],
        Body::Quantity(quantity) => quantity.lines(),
        Body::Slot(slot) => slot.lines(),
        Body::Finding(finding) => {
            let mut lines = vec![head("finding", &finding.name)];
            lines.extend(finding.when.as_ref().map(where_line));
            lines.extend(ground(&finding.ground));
            lines
        }
        Body::Rule(rule) => rule.lines(),
        Body::Promise(promise) => {
            let mut lines = vec![head("promise", &promise.name)];
            lines.extend(promise.when.as_ref().map(where_line));
            lines.push(claim(&promise.claim));
            lines.extend(ground(&promise.ground));
            lines
        }
        Body::Waive(waiver) => {
            let (before, after) = waiver.remark.value.words();
            let line = Line::new(waiver.remark.span, "waive that").word(before).word(&waiver.name.value);
            let mut lines = vec![line.words(after)];
            lines.extend(ground(&waiver.ground));
            lines
        }
        Body::Amend(amendment) => {
            let mut lines = vec![amendment.line()];
            lines.extend(ground(&amendment.ground));
            lines
        }
        Body::Add(addition) => addition.lines(),
        Body::Withdraw(withdrawal) => {
            let mut lines =
                vec![Line::new(withdrawal.rule.span, "withdraw rule").word(&withdrawal.rule.value)];
            lines.extend(ground(&withdrawal.ground));
            lines
        }
    }
}

/// The statement without comments, each line unbroken: what digests are taken over.
pub(crate) fn canonical(body: &Body) -> String {
    let lines: Vec<String> = lines(body).iter().map(Line::joined).collect();
    lines.join("\n  ") + "\n"
}

/// The opening word and the name.
pub(super) fn head(word: &str, name: &Word) -> Line {
    Line::new(name.span, word).word(&name.value)
}

/// `where COND`
pub(super) fn where_line(condition: &At<Condition>) -> Line {
    Line::new(condition.span, "where").condition(&condition.value)
}

/// `only where COND`
pub(super) fn only_where(condition: &At<Condition>) -> Line {
    Line::new(condition.span, "only where").condition(&condition.value)
}

/// `because` and `per`
pub(super) fn ground(ground: &GroundLines) -> Vec<Line> {
    let mut lines = Vec::new();
    if let Some(because) = &ground.because {
        lines.push(Line::new(because.span, "because").quoted(&because.value));
    }
    for per in &ground.per {
        let cited: Vec<String> = per.value.iter().map(citation).collect();
        lines.push(Line::new(per.span, "per").word(&cited.join(" and ")));
    }
    lines
}

/// A source and the place in it; in quotes where it could not stand bare.
pub(crate) fn citation(citation: &CitationWords) -> String {
    match &citation.detail {
        None => citation.source.value.clone(),
        Some(detail) if stands_bare(&detail.value) => format!("{}, {}", citation.source.value, detail.value),
        Some(detail) => format!("{}, {}", citation.source.value, quoted(&detail.value)),
    }
}

/// Whether a detail reads back as it is without quotes.
fn stands_bare(detail: &str) -> bool {
    let joints = ["and", "because", "per", "no", "if"];
    !detail.is_empty()
        && !detail.contains(['"', '\\'])
        && !detail.contains("--")
        && !detail.split(' ').any(|word| joints.contains(&opening(word)))
}

/// The word that the language reads at the head of some signs: `and` of `and'`.
fn opening(word: &str) -> &str {
    word.split(|sign: char| !sign.is_ascii_alphanumeric() && !['-', '_'].contains(&sign))
        .next()
        .unwrap_or(word)
}

fn claim(claim: &At<Claim>) -> Line {
    let line = |words| Line::new(claim.span, words);
    match &claim.value {
        Claim::Required(clause) => line("clause").word(&clause.value).words("is required"),
        Claim::Barred(clause) => line("clause").word(&clause.value).words("is never required"),
        Claim::Refused(slot, option) => line(slot.value.as_str()).word(&option.value).words("is refused"),
        Claim::Limited(quantity, bound, value) => {
            line("limit").word(&quantity.value).words(super::print_words::bound(*bound)).word(&value.value)
        }
        Claim::Stopped => line("a stop stands"),
        Claim::Never(condition) => {
            let mut never = Line { span: claim.span, chunks: Vec::new() }.condition(condition);
            never.chunks.extend(["never".to_owned(), "holds".to_owned()]);
            never
        }
    }
}
