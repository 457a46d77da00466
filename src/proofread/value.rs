//! Figures with their units in running words, by the table of units.

use std::ops::Range;

use regex::bytes::Regex;

use super::pattern::regex;
use super::rules::Rules;

/// A unit of the table.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub(super) sign: String,
    /// `us`, `si` or `both`.
    pub(super) system: String,
    /// What it measures.
    pub(super) kind: String,
    /// Times this, after the offset is added, it is the base of its kind.
    pub(super) factor: f64,
    pub(super) offset: f64,
    /// Figures outside are slips.
    pub(super) least: f64,
    pub(super) most: f64,
}

/// The table of units.
#[derive(Debug)]
pub(super) struct Units {
    all: Vec<Unit>,
    find: Option<Regex>,
}

/// A figure with its unit.
#[derive(Debug, Clone)]
pub(super) struct Figure<'u> {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) low: Number,
    /// The upper end, where it is a range.
    pub(super) high: Option<Number>,
    pub(super) unit: &'u Unit,
    /// What stands between number and unit.
    pub(super) gap: String,
}

/// A number as written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    pub(super) said: String,
    pub(super) value: f64,
    /// Half of its last digit.
    pub(super) half: f64,
}

/// A figure in one system with the same in the other behind it in brackets.
#[derive(Debug, Clone)]
pub(super) struct Pair<'u> {
    pub(super) start: usize,
    pub(super) said: String,
    pub(super) first: Figure<'u>,
    pub(super) second: Figure<'u>,
}

const NUMBER: &str = r"(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?";

impl Number {
    fn of(said: &str) -> Option<Self> {
        let bare = said.replace(',', "");
        let decimals = bare.split_once('.').map_or(0, |(_, behind)| behind.len());
        let value: f64 = bare.parse().ok()?;
        let last = (0..decimals).fold(1.0, |size, _| size / 10.0);
        Some(Self { said: bare, value, half: last / 2.0 })
    }

    /// Significant digits.
    pub(super) fn digits(&self) -> usize {
        self.said.replace('.', "").trim_start_matches('0').len()
    }
}

impl Units {
    /// Reads lines of the table: sign, system, kind, factor, offset, least, most. A line without figures is `Err`.
    pub(super) fn of(lines: &[Vec<String>]) -> Result<Self, usize> {
        let mut all = Vec::new();
        for (at, line) in lines.iter().enumerate() {
            let [sign, system, kind, figures @ ..] = line.as_slice() else { return Err(at) };
            let figures: Vec<f64> = figures.iter().filter_map(|figure| figure.parse().ok()).collect();
            let [factor, offset, least, most] = figures[..] else { return Err(at) };
            let (sign, system, kind) = (sign.clone(), system.clone(), kind.clone());
            all.push(Unit { sign, system, kind, factor, offset, least, most });
        }
        let mut signs: Vec<String> = all.iter().map(|unit| escaped(&unit.sign)).collect();
        signs.sort_by_key(|sign| std::cmp::Reverse(sign.len()));
        let pattern = format!("({NUMBER})(?:(?: to |–)({NUMBER}))?( |\u{a0}|)({})", signs.join("|"));
        Ok(Self { all, find: regex(&pattern).ok() })
    }

    /// Every figure with a unit.
    pub(super) fn figures(&self, text: &str) -> Vec<Figure<'_>> {
        let Some(find) = &self.find else { return Vec::new() };
        let figure = |found: regex::bytes::Captures<'_>| {
            let part = |at: usize| found.get(at).and_then(|part| text.get(part.range()));
            let (start, end) = found.get(0).map(|whole| (whole.start(), whole.end()))?;
            let sign = part(4)?;
            let before = text.get(..start)?.chars().next_back();
            let after = text.get(end..)?.chars().next();
            let free = |sign: Option<char>| {
                !sign.is_some_and(|sign| sign.is_alphanumeric() || "²³^/·".contains(sign))
            };
            let is_free = free(after) || sign.ends_with('.');
            let opens = !before.is_some_and(|sign| sign.is_alphanumeric() || "-.^/".contains(sign));
            let unit = self
                .all
                .iter()
                .find(|unit| unit.sign.replace(' ', "\u{a0}") == sign.replace(' ', "\u{a0}"))?;
            let high = part(2).and_then(Number::of);
            let gap = part(3).unwrap_or_default().to_owned();
            // `3.3 L` behind a plain space is the number of a paragraph; litres stand behind a hard one.
            let is_paragraph = sign == "L" && gap == " " && part(1)?.contains('.');
            (is_free && opens && !is_paragraph).then_some(Figure {
                start,
                end,
                low: Number::of(part(1)?)?,
                high,
                unit,
                gap,
            })
        };
        find.captures_iter(text.as_bytes()).filter_map(figure).collect()
    }

    /// Figures given in both systems.
    pub(super) fn pairs(&self, text: &str) -> Vec<Pair<'_>> {
        let figures = self.figures(text);
        let pair = |two: &[Figure<'_>]| -> Option<(usize, usize)> {
            let [first, second] = two else { return None };
            let between = text.get(first.end..second.start)?;
            let after = text.get(second.end..)?;
            let closes = after.starts_with(')') || after.starts_with(" per ");
            let opens = between == " ("
                || between == "\u{a0}("
                || between.ends_with(" (") && between.starts_with(" per ");
            (opens && closes && first.unit.kind == second.unit.kind).then_some((first.start, second.end))
        };
        let found = figures.windows(2).filter_map(|two| Some((pair(two)?, two)));
        let made = found.filter_map(|((start, end), two)| {
            let [first, second] = two else { return None };
            let said = format!("{})", text.get(start..end)?);
            Some(Pair { start, said, first: first.clone(), second: second.clone() })
        });
        made.collect()
    }

    /// `N to M unit`, and `not less than N unit … and not more than M unit`: both ends, and the words.
    pub(super) fn ranges(&self, text: &str) -> Vec<(f64, f64, String)> {
        let figures = self.figures(text);
        let own = figures.iter().filter_map(|figure| {
            let high = figure.high.as_ref()?;
            let said = text.get(figure.start..figure.end)?;
            Some((figure.low.value, high.value, said.to_owned()))
        });
        let apart = figures.iter().enumerate().flat_map(|(at, low)| {
            figures.iter().skip(at + 1).take(2).filter_map(move |high| {
                let between = text.get(low.end..high.start)?;
                let joined = between.ends_with(" and not more than ") && between.len() < 40;
                let floor = text.get(..low.start)?.ends_with("not less than ");
                let alike = low.unit.sign == high.unit.sign;
                let said = text.get(low.start..high.end)?;
                (joined && floor && alike).then(|| (low.low.value, high.low.value, said.to_owned()))
            })
        });
        own.chain(apart).collect()
    }
}

/// The figures that may be meant as least, most or exact: nothing before or behind says which. A range says it itself, and
/// the second half of a pair goes by the first.
pub(super) fn without_direction(rules: &Rules, text: &str) -> Vec<Range<usize>> {
    let pairs = rules.units.pairs(text);
    let whole = |figure: &Figure<'_>| {
        let pair =
            pairs.iter().find(|pair| (pair.start..pair.start + pair.said.len()).contains(&figure.start));
        pair.map_or(figure.start..figure.end, |pair| pair.start..pair.start + pair.said.len())
    };
    let is_open = |said: &Range<usize>| {
        let before = text.get(..said.start).unwrap_or_default();
        let after = text.get(said.end..).unwrap_or_default().trim_start_matches([' ', '\u{a0}']);
        !rules.list("directions behind").any(|direction| after.starts_with(direction))
            && !rules.list("directions").any(|direction| ends_with_word(before, direction))
    };
    let figures = rules.units.figures(text);
    let mut open: Vec<Range<usize>> = Vec::new();
    for said in figures.iter().filter(|figure| figure.high.is_none()).map(whole).filter(is_open) {
        if open.last() != Some(&said) {
            open.push(said);
        }
    }
    open
}

fn ends_with_word(text: &str, word: &str) -> bool {
    let text = text.trim_end_matches([' ', '\u{a0}', '(']);
    text.strip_suffix(word).is_some_and(|rest| rest.is_empty() || rest.ends_with([' ', '\u{a0}', ',', '(']))
}

/// Whether a number that opens the text has neither unit nor thing behind it: nothing, a stop, a word that can name
/// neither, or a participle that leans on such a word (`10 pressed to`).
pub(super) fn lacks_unit(rules: &Rules, text: &str) -> bool {
    if rules.units.figures(text).first().is_some_and(|figure| figure.start == 0) {
        return false;
    }
    let is_digit = |sign: char| sign.is_ascii_digit();
    let rest = text.trim_start_matches(is_digit);
    let rest = match rest.strip_prefix([',', '.']) {
        Some(more) if more.starts_with(is_digit) => {
            more.trim_start_matches(|sign: char| is_digit(sign) || ",.".contains(sign))
        }
        _ => rest,
    };
    let next = rest.trim_start_matches([' ', '\u{a0}']);
    let mut words = next.split([' ', '\u{a0}', ',', '.', ';', ')', ':']);
    let mut names_nothing = || rules.lists("words that are no unit", words.next().unwrap_or_default());
    let stops = rest.is_empty() || rest.starts_with(['.', ',', ';', ')', ':']);
    let participle = next.split(' ').next().is_some_and(|word| word.ends_with("ed"));
    stops || names_nothing() || participle && names_nothing()
}

fn escaped(sign: &str) -> String {
    let mut pattern = String::new();
    for part in sign.chars() {
        match part {
            ' ' => pattern.push_str("(?: |\u{a0})"),
            '.' | '(' | ')' | '^' | '+' | '*' | '?' | '[' | ']' | '|' | '\\' | '/' => {
                pattern.push('\\');
                pattern.push(part);
            }
            other => pattern.push(other),
        }
    }
    pattern
}
