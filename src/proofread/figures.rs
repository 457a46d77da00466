//! Units and figures: both systems, in order and in step, in range, with the digits they deserve.

use std::sync::LazyLock;

use regex::bytes::Regex;

use super::found::Found;
use super::paper::{Kind, Passage};
use super::pattern::regex;
use super::reading::Reading;
use super::sentence::sentences;
use super::value::{Figure, Pair};

/// Significant digits that a survey or a wall can bear.
const MOST_DIGITS: usize = 4;
/// How far two figures may stand apart that ought to tally, as a share.
const TALLY: f64 = 0.02;
/// By which share rounding may move a figure, as the printer of units allows.
const ROUNDED: f64 = 0.01;
const HIGHEST_PH: f64 = 14.0;

/// A pH with its figure.
static ACIDITY: LazyLock<Option<Regex>> = LazyLock::new(|| {
    regex(r"pH (?:[a-z]+ ){0,4}(?:than|under|over|of|from|is|at|exactly) (\d+(?:\.\d+)?)").ok()
});

/// Goes through the figures of a paper.
pub(super) fn check(reading: Reading<'_>, found: &mut Found<'_>) {
    let (mut before, mut above) = (None, "");
    for passage in reading.paper.passages.iter().filter(|passage| reading.is_ours(passage)) {
        // What stands under a picture is said of the drawing, which is true to scale or has axes of its own.
        let of_picture = before.replace(&passage.kind) == Some(&Kind::Picture);
        if reading.holds_numbers(passage) {
            continue;
        }
        let text = reading.paper.words(passage);
        if matches!(passage.kind, Kind::Item { depth: 1, .. }) {
            above = text;
        }
        if !text.contains(|sign: char| sign.is_ascii_digit()) {
            continue;
        }
        let figures = reading.rules.units.figures(text);
        let parent = if matches!(passage.kind, Kind::Item { depth: 2.., .. }) { above } else { "" };
        let pairs = reading.rules.units.pairs(text);
        if !matches!(passage.kind, Kind::Picture | Kind::Caption) && !of_picture {
            systems(reading, passage, (&figures, &pairs), found);
        }
        for pair in &pairs {
            in_step(reading, passage, pair, text, found);
        }
        for figure in &figures {
            alone(reading, passage, figure, text, found);
        }
        if let Some(find) = ACIDITY.as_ref().filter(|_| text.contains("pH")) {
            acidity(reading, passage, text, find, found);
        }
        percent(reading, passage, (text, parent), found);
    }
    tally(reading, found);
}

/// Each figure in both systems, the job's own first.
fn systems(
    reading: Reading<'_>,
    passage: &Passage,
    (figures, pairs): (&[Figure<'_>], &[Pair<'_>]),
    found: &mut Found<'_>,
) {
    let text = reading.paper.words(passage);
    let first = reading.profile.units.strip_suffix("-first").unwrap_or_default();
    for pair in pairs {
        if !first.is_empty() && pair.first.unit.system != first {
            let message = format!("“{}” puts the other system first", pair.said);
            found.at(reading, "other-unit-first", passage, message);
        }
    }
    for figure in figures.iter().filter(|figure| figure.unit.system != "both") {
        let paired =
            pairs.iter().any(|pair| pair.first.start == figure.start || pair.second.start == figure.start);
        let before = text.get(..figure.start).unwrap_or_default();
        let after = text.get(figure.end..).unwrap_or_default();
        let is_vapour = |word: &str| before.contains(word) || after.contains(word);
        let caption = caption_of(reading, passage);
        let is_sd = figure.unit.sign == "m"
            && reading
                .rules
                .list("words of vapour resistance")
                .any(|word| is_vapour(word) || caption.is_some_and(|caption| caption.contains(word)));
        let in_step = after.trim_start_matches(|sign: char| sign != '(').starts_with('(') && after.len() < 90;
        if !paired && !is_sd && !in_step {
            let said = text.get(figure.start..figure.end).unwrap_or_default();
            found.at(reading, "one-unit-system", passage, format!("“{said}” stands in one system alone"));
        }
    }
}

/// Both figures of a pair say the same within their rounding.
fn in_step(reading: Reading<'_>, passage: &Passage, pair: &Pair<'_>, text: &str, found: &mut Found<'_>) {
    let line = row_of(reading, passage).unwrap_or_else(|| text.to_owned());
    let is_step = reading.rules.list("words of a difference").any(|word| line.contains(word));
    let minus = text.get(..pair.start).is_some_and(|before| before.ends_with(['−', '-']));
    let same = |low: bool, is_step: bool| {
        let number = |figure: &Figure<'_>| match (low, &figure.high) {
            (false, Some(high)) => high.clone(),
            _ => figure.low.clone(),
        };
        let (a, b) = (number(&pair.first), number(&pair.second));
        let base = |figure: &Figure<'_>, value: f64| {
            let offset = if is_step { 0.0 } else { figure.unit.offset };
            let value = if minus && figure.start == pair.first.start { -value } else { value };
            (value + offset) * figure.unit.factor
        };
        let apart = (base(&pair.first, a.value) - base(&pair.second, b.value)).abs();
        let room = (a.half * pair.first.unit.factor).max(b.half * pair.second.unit.factor);
        // A figure that both systems round may be off by half a digit of each, and a round one by one in a hundred.
        apart <= (room * 2.0).max(ROUNDED * base(&pair.first, a.value).abs())
    };
    let whole = |is_step: bool| same(true, is_step) && same(false, is_step);
    let behind = text.get(pair.start + pair.said.len()..).unwrap_or_default().trim_start();
    let only_step = ["above the dew", "over the dew", "warmer", "above the air"]
        .iter()
        .any(|turn| behind.starts_with(turn));
    let agrees = whole(true) && (is_step || only_step) || whole(false) && !only_step;
    if !agrees {
        found.at(reading, "units-disagree", passage, format!("“{}”: the two are not the same", pair.said));
    }
}

/// A figure by itself: the gap before its unit, its digits, its range.
fn alone(reading: Reading<'_>, passage: &Passage, figure: &Figure<'_>, text: &str, found: &mut Found<'_>) {
    let said = text.get(figure.start..figure.end).unwrap_or_default();
    if figure.gap.is_empty() && figure.unit.sign != "°" {
        found.at(reading, "unit-space", passage, format!("“{said}” has no space before its unit"));
    }
    for number in std::iter::once(&figure.low).chain(&figure.high) {
        let minus = text.get(..figure.start).is_some_and(|before| before.ends_with('−'));
        let value = if minus { -number.value } else { number.value };
        if value < figure.unit.least || value > figure.unit.most {
            found.at(reading, "figure-out-of-range", passage, format!("“{said}” cannot be meant"));
        }
        if number.said.contains('.') && number.digits() > MOST_DIGITS {
            found.at(
                reading,
                "too-many-digits",
                passage,
                format!("“{said}” is told more exactly than it is known"),
            );
        }
    }
}

/// The words of the row that a cell stands in.
fn row_of(reading: Reading<'_>, passage: &Passage) -> Option<String> {
    let Kind::Cell { table, row: Some(row), .. } = passage.kind else { return None };
    Some(reading.paper.tables.get(table)?.rows.get(row)?.join(" "))
}

/// The caption of the table that a cell stands in.
fn caption_of<'r>(reading: Reading<'r>, passage: &Passage) -> Option<&'r str> {
    let Kind::Cell { table, .. } = passage.kind else { return None };
    reading.paper.tables.get(table).map(|table| table.caption.as_str())
}

/// A pH runs from nought to fourteen.
fn acidity(reading: Reading<'_>, passage: &Passage, text: &str, find: &Regex, found: &mut Found<'_>) {
    for number in find.captures_iter(text.as_bytes()).filter_map(|found| found.get(1)) {
        let value = text.get(number.range()).and_then(|said| said.parse::<f64>().ok());
        if value.is_some_and(|value| value > HIGHEST_PH) {
            found.at(reading, "figure-out-of-range", passage, "a pH over 14 cannot be meant");
        }
    }
}

/// Per cent of what.
fn percent(reading: Reading<'_>, passage: &Passage, (text, parent): (&str, &str), found: &mut Found<'_>) {
    if !text.contains('%') || matches!(passage.kind, Kind::Cell { .. } | Kind::Picture | Kind::Caption) {
        return;
    }
    for sentence in sentences(text).into_iter().filter(|sentence| sentence.contains('%')) {
        let lower = format!("{parent} {sentence}").to_lowercase();
        if !reading.rules.list("bases of per cent").any(|basis| lower.contains(basis)) {
            found.at(reading, "percent-of-what", passage, format!("“{sentence}” does not say of what"));
        }
    }
}

/// Volume is area over spread; a sum is the sum of its rows.
fn tally(reading: Reading<'_>, found: &mut Found<'_>) {
    for table in reading.tables_with("litre heads") {
        let columns = (table.column("Net area"), table.column("Spread"), table.column("Volume"));
        let (Some(area), Some(spread), Some(volume)) = columns else { continue };
        for (row, cells) in table.rows.iter().enumerate() {
            let figure = |column: usize, unit: &str| {
                let text = cells.get(column)?;
                let figures = reading.rules.units.figures(text);
                let figure = figures.iter().find(|figure| figure.unit.sign == unit)?;
                let high = figure.high.as_ref().unwrap_or(&figure.low).value;
                Some((figure.low.value, high))
            };
            let all = (figure(area, "m²"), figure(spread, "m²/L"), figure(volume, "L"));
            let (Some(area), Some(spread), Some(litres)) = all else { continue };
            let near = |told: f64, worked: f64| (told - worked).abs() <= TALLY * worked.abs().max(told.abs());
            if (!near(litres.0, area.0 / spread.1) || !near(litres.1, area.1 / spread.0))
                && let Some(passage) = reading.cell(table, row, volume)
            {
                found.at(reading, "figures-do-not-tally", passage, "area over spread is not the volume");
            }
        }
    }
}
