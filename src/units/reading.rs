//! Reads a number and a unit out of a text, and says what is wrong if it cannot.

use super::dimension::Dimension;
use super::figure::Figure;
use super::mistake::UnitMistake;
use super::unit::Unit;
use crate::diagnostic::nearest;

/// The most characters of a mistaken text that a message shows.
const MOST_SHOWN: usize = 60;

/// What a text says, before it is worked into a quantity.
pub(super) struct Read {
    pub(super) figure: Figure,
    pub(super) unit: &'static Unit,
    /// As written, with single spaces.
    pub(super) written: String,
}

/// Reads a text whose blanks are single spaces.
pub(super) fn read(text: &str, dimension: Dimension) -> Result<Read, UnitMistake> {
    one(text, dimension).map_err(|mistake| range(text, dimension).unwrap_or(mistake))
}

fn one(text: &str, dimension: Dimension) -> Result<Read, UnitMistake> {
    if text.is_empty() {
        return Err(UnitMistake::Empty { wanted: dimension.phrase(), example: example(dimension) });
    }
    let (number, name) = split(text);
    let figure = read_figure(number, text, dimension)?;
    let unit = find_unit(name, text, dimension)?;
    let written = format!("{} {name}", figure.text).trim_end().to_owned();
    Ok(Read { figure, unit, written })
}

/// Cuts a text where the number ends and the unit begins.
fn split(text: &str) -> (&str, &str) {
    let of_number = |c: char| c.is_ascii_digit() || " .,/+-\u{2212}\u{2013}".contains(c);
    let end = text.find(|c| !of_number(c)).unwrap_or(text.len());
    let (number, name) = text.split_at_checked(end).unwrap_or((text, ""));
    let power = name.strip_prefix(['e', 'E']).map(|rest| rest.trim_start_matches(['+', '-']));
    if power.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit())) && !number.ends_with(' ') {
        let signed = name.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
        let tail = name.get(signed..).unwrap_or("").trim_start_matches(|c: char| c.is_ascii_digit());
        return text
            .split_at_checked(text.len() - tail.len())
            .map_or((text, ""), |(n, u)| (n.trim(), u.trim()));
    }
    (number.trim(), name.trim())
}

fn read_figure(number: &str, text: &str, kind: Dimension) -> Result<Figure, UnitMistake> {
    let written = short(text);
    if number.contains(',') {
        return Err(UnitMistake::Comma { mend: without_comma(number, &written), written });
    }
    Figure::read(number).ok_or_else(|| UnitMistake::NotANumber { written, example: example(kind) })
}

/// What a number with a comma can have meant: thousands only if three digits follow each comma.
fn without_comma(number: &str, written: &str) -> String {
    let mut groups = number.split(',');
    let decimal = written.replace(',', ".");
    let first_tells = groups.next().is_some_and(|first| first.contains(|c: char| ('1'..='9').contains(&c)));
    let whole = |group: &str| group.len() == 3 && group.chars().all(|c| c.is_ascii_digit());
    let thousands = first_tells && groups.all(whole);
    match (thousands, number.matches(',').count()) {
        (true, 1) => format!("write `{}` or `{decimal}`, whichever is meant", written.replace(',', "")),
        (true, _) => format!("write `{}`", written.replace(',', "")),
        (false, 1) => format!("write `{decimal}`, with a point"),
        (false, _) => "write one number, without commas".to_owned(),
    }
}

/// Finds two values where one belongs: `3-5 mm`, `3 mm to 5 mm`.
fn range(text: &str, dimension: Dimension) -> Option<UnitMistake> {
    ["..", " to ", "\u{2013}", "-"].iter().find_map(|between| {
        let (low, high) = text.rsplit_once(between)?;
        let high = one(high.trim(), dimension).ok()?;
        let low = low.trim_end_matches('.').trim();
        let bare = Figure::read(low).map(|figure| format!("{} {}", figure.text, high.unit.symbol()));
        let low = bare.unwrap_or_else(|| low.to_owned());
        one(&low, dimension).ok()?;
        Some(UnitMistake::Range { written: short(text), low: low.trim_end().to_owned(), high: high.written })
    })
}

/// What was written, cut short where it is too long for a message.
fn short(text: &str) -> String {
    if text.chars().count() <= MOST_SHOWN {
        return text.to_owned();
    }
    text.chars().take(MOST_SHOWN).chain(['…']).collect()
}

/// The unit of a kind by its name; `text` is what the name was part of.
pub(super) fn find_unit(name: &str, text: &str, dimension: Dimension) -> Result<&'static Unit, UnitMistake> {
    if let Some(unit) = Unit::find(dimension, name) {
        return Ok(unit);
    }
    let wanted = dimension.phrase();
    let mend = || mend(name, dimension);
    if name.is_empty() {
        return Err(UnitMistake::MissingUnit { written: short(text), wanted, units: units(dimension) });
    }
    Err(match Unit::find_any(name) {
        Some(other) => {
            let found = other.dimension.name().replace('-', " ");
            UnitMistake::OtherKind { unit: short(name), found, wanted, mend: mend() }
        }
        None => UnitMistake::UnknownUnit { unit: short(name), wanted, mend: mend() },
    })
}

/// What to write instead: the nearest unit of the kind, or a list of them.
fn mend(name: &str, dimension: Dimension) -> String {
    if dimension == Dimension::Number {
        return "write the number alone".to_owned();
    }
    let several = name.contains(['\'', '"', '′', '″']) || followed_by_number(name);
    if several && Unit::find_any(name).is_none() {
        return format!("write one number and one unit, such as `{}`", example(dimension));
    }
    let known = || Unit::of(dimension).map(Unit::symbol);
    let same_letters = known().find(|unit| unit.eq_ignore_ascii_case(name));
    match same_letters.or_else(|| nearest(name, known())) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("use one of {}", units(dimension)),
    }
}

/// `ft 6 in`: a unit with another number after it.
fn followed_by_number(name: &str) -> bool {
    name.split_whitespace().skip(1).any(|word| word.starts_with(|c: char| c.is_ascii_digit()))
}

fn units(dimension: Dimension) -> String {
    let usual = Unit::of(dimension).filter(|unit| unit.for_worked);
    usual.map(|unit| format!("`{}`", unit.symbol())).collect::<Vec<_>>().join(", ")
}

fn example(dimension: Dimension) -> String {
    let unit = Unit::of(dimension).find(|unit| unit.for_worked).map_or("", Unit::symbol);
    format!("12 {unit}").trim_end().to_owned()
}
