//! What a whole job is worked with: still air, air inside, the months outside, the scale on which drying is compared.
//! All of it comes from the survey or from quantities that the book takes; what is taken is named as an assumption.

use num_rational::BigRational;
use num_traits::ToPrimitive;

use super::figure::{Figure, Maybe, Reason, as_written};
use super::model::{Climate, Conditions, Indoor, MarginStudy, MonthStudy};
use super::tables;
use crate::physics::climate::MONTHS;
use crate::physics::condensation::{Air, Month};
use crate::physics::{Margin, Saturation, humidity_for_margin};
use crate::rulebook::book::{Book, Catalogue, CatalogueOption, FactId, Ground, Kind};
use crate::survey::{AnswerValue, Survey};
use crate::units::{Dimension, Quantity};
use crate::wall::site::{AIR_PERMEABILITY, taken};

/// The quantity that names the temperature inside.
const INDOOR_TEMPERATURE: &str = "indoor-temperature";
/// The quantity that names the humidity inside.
const INDOOR_HUMIDITY: &str = "indoor-humidity";
/// The quantity that names the still air at the face.
const BOUNDARY: &str = "air-boundary";
/// The quantity that names the difference at which drying is compared.
const DIFFERENCE: &str = "drying-difference";
/// The fact, and the catalogue, of climates.
const CLIMATE: &str = "climate";
const CLIMATES: &str = "climates";

/// Temperatures for which the 3 K margin is told, °C: the span in which coats go on. Common practice.
const MARGIN_AT: [i32; 4] = [5, 10, 20, 35];
/// How much colder a shaded face may be than the air, K. Common practice.
const COLDER: i32 = 2;

/// The days of a common year's months.
const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
const SECONDS_A_DAY: f64 = 86_400.0;

/// What the sums of a job are worked with.
pub fn conditions(survey: &Survey, book: &Book) -> Conditions {
    let of_book = |name: &str| {
        taken(book, name).map(Figure::from).ok_or_else(|| Reason::new(format!("the book takes no `{name}`")))
    };
    Conditions {
        air: of_book(AIR_PERMEABILITY),
        indoor: indoor(survey, book),
        climate: climate(survey, book),
        boundary: of_book(BOUNDARY),
        difference: of_book(DIFFERENCE),
        margins: MARGIN_AT.into_iter().map(margin).collect(),
    }
}

/// The months of a job's balance, with the name of their climate.
pub(in crate::wall) fn months(climate: &Maybe<Climate>, indoor: &Maybe<Indoor>) -> Maybe<Vec<Month>> {
    let (climate, indoor) = (climate.as_ref().map_err(Clone::clone)?, indoor.as_ref().map_err(Clone::clone)?);
    let ends = indoor.temperature.ends().zip(indoor.humidity.ends());
    let inside = ends.and_then(|((celsius, _), (percent, _))| Air::new(celsius, percent));
    let inside = inside.ok_or_else(|| Reason::new("the air inside lies beyond the range of the sum"))?;
    let month = |month: &MonthStudy| {
        let outside = Air::at_most_saturated(month.celsius, month.pressure)?;
        Some(Month { outside, inside, seconds: month.seconds })
    };
    let months: Option<Vec<Month>> = climate.months.iter().map(month).collect();
    months.ok_or_else(|| Reason::new("a month of the climate lies beyond the range of the sum"))
}

/// The air inside: what the survey says, and for the rest what the book takes.
pub(in crate::wall) fn indoor(survey: &Survey, book: &Book) -> Maybe<Indoor> {
    let said = &survey.job.indoor;
    let mut assumed = Vec::new();
    let mut either = |said: Option<&Quantity>, name: &str, words: &str| {
        if let Some(said) = said {
            return Ok(Figure::from(said));
        }
        let quantity = book.quantities.iter().find(|quantity| quantity.name == name);
        let taken = quantity.and_then(|quantity| quantity.taken_as.as_ref());
        let (value, ground) =
            taken.ok_or_else(|| Reason::new(format!("neither survey nor book names the {words} inside")))?;
        assumed.push(format!("{words} inside taken as {}: {}", as_written(value), because(book, ground)));
        Ok(Figure::from(value))
    };
    let temperature = either(said.temperature.as_ref(), INDOOR_TEMPERATURE, "temperature")?;
    let humidity = either(said.humidity.as_ref(), INDOOR_HUMIDITY, "humidity")?;
    let known = if assumed.is_empty() { "as the survey says".to_owned() } else { assumed.join(" ") };
    Ok(Indoor { temperature, humidity, known })
}

/// A reason with its sources.
fn because(book: &Book, ground: &Ground) -> String {
    let titles = ground.per.iter().filter_map(|citation| book.sources.get(citation.source.0));
    let titles: Vec<String> =
        titles.map(|source| format!("{}, {}", source.title, source.certainty.words())).collect();
    format!("{} ({})", ground.because, titles.join("; "))
}

/// The climate: the weather file beside the survey, or the row of the book that the survey names.
pub(in crate::wall) fn climate(survey: &Survey, book: &Book) -> Maybe<Climate> {
    if let Some(weather) = &survey.job.weather {
        let unread = || Reason::new(format!("the weather file `{}` was not read", weather.file));
        let year = weather.year.as_ref().ok_or_else(unread)?;
        let months = year.months.iter().map(|month| {
            let hours = u32::try_from(month.hours).ok().map(f64::from)?;
            let (celsius, humidity, pressure) = (month.celsius, month.humidity, month.pressure);
            Some(MonthStudy { celsius, humidity, pressure, seconds: hours * 3600.0 })
        });
        let months = months.collect::<Option<Vec<_>>>().ok_or_else(unread)?;
        let source = format!("hourly values of the file `{}`", weather.file);
        return Ok(Climate { name: year.name.clone(), source, months });
    }
    let row = named(survey, book)?;
    let catalogue = book.catalogue_named(CLIMATES);
    let lacks = || Reason::new(format!("the book has no climate `{row}`"));
    let catalogue = catalogue.ok_or_else(lacks)?;
    let row = catalogue.option(&row).and_then(|row| catalogue.options.get(row.0)).ok_or_else(lacks)?;
    of_book(book, catalogue, row)
}

/// The question for the climate, if the book asks it.
pub(in crate::wall) fn fact(book: &Book) -> Option<FactId> {
    book.facts.iter().position(|fact| fact.name == CLIMATE).map(FactId)
}

/// The row that the survey names.
fn named(survey: &Survey, book: &Book) -> Maybe<String> {
    let none = || {
        Reason::new(
            "the survey names no climate; give `climate:` of the job a row of the book's climates, or `weather:` a \
             file beside the survey",
        )
    };
    let fact = fact(book).ok_or_else(none)?;
    let declared = book.facts.get(fact.0).ok_or_else(none)?;
    let answer = survey.job.answers.get(&fact).ok_or_else(none)?;
    let Kind::OneOf(words) = &declared.kind else { return Err(none()) };
    let said = answer.readings.iter().map(|reading| &reading.value);
    let said: Vec<&Vec<usize>> = said
        .filter_map(|value| if let AnswerValue::Words(words) = value { Some(words) } else { None })
        .collect();
    match said.as_slice() {
        [] => Err(none()),
        [one] if one.len() == 1 => one.first().and_then(|word| words.get(*word)).cloned().ok_or_else(none),
        _ => Err(Reason::new("the survey names more than one climate")),
    }
}

fn of_book(book: &Book, catalogue: &Catalogue, row: &CatalogueOption) -> Maybe<Climate> {
    let value = |what: &str, month: &str| {
        let column = format!("{what}-{}", month.to_lowercase());
        let figure = tables::said(catalogue, row, &column)?.figure()?;
        figure.low.to_f64()
    };
    let months = MONTHS.into_iter().zip(DAYS).map(|(month, days)| {
        Some(MonthStudy {
            celsius: value("temperature", month)?,
            humidity: value("humidity", month)?,
            pressure: value("pressure", month)?,
            seconds: days * SECONDS_A_DAY,
        })
    });
    let lacks = || Reason::new(format!("the climate `{}` of the book lacks a month", row.name));
    let months = months.collect::<Option<Vec<_>>>().ok_or_else(lacks)?;
    let source = tables::said(catalogue, row, "temperature-january").map(|said| said.source(book));
    Ok(Climate { name: row.title.clone(), source: source.unwrap_or_default(), months })
}

fn margin(celsius: i32) -> MarginStudy {
    let air = f64::from(celsius);
    let humidity = |surface: f64| {
        humidity_for_margin(air, surface, Margin::ThreeKelvin, Saturation::Iso13788)
            .ok_or_else(super::figure::beyond)
            .and_then(|percent| {
                // Rounded down, so that what is printed keeps the margin.
                let tenths = (percent * 10.0).floor() / 10.0;
                Figure::of_floats(Dimension::Percent, tenths, tenths)
            })
    };
    let whole = |dimension, value: i32| Figure::exactly(dimension, BigRational::from_integer(value.into()));
    MarginStudy {
        air: whole(Dimension::Temperature, celsius),
        as_warm: humidity(air),
        colder: whole(Dimension::TemperatureStep, COLDER),
        if_colder: humidity(air - f64::from(COLDER)),
    }
}
