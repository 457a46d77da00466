//! Runs of words put together.

use super::block::Inline;

/// Collects runs; words that follow each other become one run.
#[derive(Debug, Default)]
pub(super) struct Runs(Vec<Inline>);

impl Runs {
    pub(super) fn add(&mut self, run: Inline) {
        match (self.0.last_mut(), run) {
            (Some(Inline::Text(before)), Inline::Text(after)) => before.push_str(&after),
            // A box stays with the word behind it.
            (Some(Inline::Tick(_)), Inline::Text(after)) if after.starts_with(' ') => {
                self.0.push(Inline::Text(after.replacen(' ', "\u{a0}", 1)));
            }
            (_, run) => self.0.push(run),
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn finish(self) -> Vec<Inline> {
        self.0
    }
}

/// The runs without spaces at either end. Hard spaces stay.
pub(super) fn trimmed(mut text: Vec<Inline>) -> Vec<Inline> {
    if let Some(Inline::Text(first)) = text.first_mut() {
        *first = first.trim_start_matches(' ').to_owned();
    }
    if let Some(Inline::Text(last)) = text.last_mut() {
        *last = last.trim_end_matches(' ').to_owned();
    }
    text.retain(|run| !matches!(run, Inline::Text(words) if words.is_empty()));
    text
}

/// Every link in the runs, changed.
pub(super) fn change_links(
    text: Vec<Inline>,
    change: &mut impl FnMut(String, Vec<Inline>) -> Vec<Inline>,
) -> Vec<Inline> {
    let mut runs = Runs::default();
    for run in text {
        match run {
            Inline::Strong(inner) => runs.add(Inline::Strong(change_links(inner, change))),
            Inline::Emphasis(inner) => runs.add(Inline::Emphasis(change_links(inner, change))),
            Inline::Link { target, text } => change(target, text).into_iter().for_each(|run| runs.add(run)),
            other => runs.add(other),
        }
    }
    runs.finish()
}
