//! The wall in numbers as JSON: every figure as two ends in the base of its kind, every lack with its reason. The shape
//! is described in `docs/wall-json.md`; what is there stays, and may only be added to.

use serde_json::{Map, Value, json};

use super::Told;
use crate::physics::condensation::CAVEAT;
use crate::physics::{Comparison, RainLimit, Wetting};
use crate::survey::{Known, YesNoAnswer};
use crate::units::Dimension;
use crate::wall::study::{
    AgainstFace, Candidate, CoatStudy, Conditions, Figure, LayerStudy, Maybe, OldCoatStudy, Over, SumStudy,
    WetInside, ZoneStudy,
};

/// Pretty JSON with a line break at its end.
pub(super) fn json(told: &Told<'_>) -> String {
    let value = json!({
        "wall": 1,
        "job": {"code": told.survey.job.code, "name": told.survey.job.name},
        "rulebook": {"title": told.book.title, "edition": told.book.edition, "sha256": told.book.digest},
        "conditions": conditions(&told.conditions),
        "zones": told.zones.iter().map(|(_, study)| zone(study)).collect::<Vec<_>>(),
        "caveat": {"condensation": CAVEAT, "drying": Comparison::LABEL},
    });
    let mut text = serde_json::to_string_pretty(&value).unwrap_or_default();
    text.push('\n');
    text
}

/// `{"low", "high", "unit"}`, or `{"not-worked-out": reason}`.
fn maybe<T>(value: &Maybe<T>, print: impl Fn(&T) -> Value) -> Value {
    match value {
        Ok(value) => print(value),
        Err(why) => json!({"not-worked-out": why.0}),
    }
}

fn figure(figure: &Figure) -> Value {
    match figure.ends() {
        Some((low, high)) => json!({"low": low, "high": high, "unit": base(figure.dimension)}),
        None => json!({"not-worked-out": "the figure is too large to be written"}),
    }
}

/// The base units of the kinds that a study holds.
fn base(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length | Dimension::AirLayer => "m",
        Dimension::Permeance => "ng/(Pa·s·m²)",
        Dimension::Permeability => "ng/(Pa·s·m)",
        Dimension::Conductivity => "W/(m·K)",
        Dimension::ThermalResistance => "m²·K/W",
        Dimension::Uptake => "kg/(m²·√h)",
        Dimension::RainProduct => "kg/(m·√h)",
        Dimension::MassPerArea => "kg/m²",
        Dimension::VapourFlow => "g/(m²·d)",
        Dimension::Duration => "s",
        Dimension::Pressure => "Pa",
        Dimension::Percent => "%",
        Dimension::Temperature => "°C",
        Dimension::TemperatureStep => "K",
        _ => "1",
    }
}

fn conditions(conditions: &Conditions) -> Value {
    let margins = conditions.margins.iter().map(|margin| {
        json!({
            "air": figure(&margin.air),
            "humidity": maybe(&margin.as_warm, figure),
            "wall-colder-by": figure(&margin.colder),
            "humidity-then": maybe(&margin.if_colder, figure),
        })
    });
    json!({
        "still-air": maybe(&conditions.air, figure),
        "indoor": maybe(&conditions.indoor, |indoor| json!({
            "temperature": figure(&indoor.temperature),
            "humidity": figure(&indoor.humidity),
            "known": indoor.known,
        })),
        "climate": maybe(&conditions.climate, |climate| json!({
            "name": climate.name,
            "source": climate.source,
            "months": climate.months.iter().map(|month| json!({
                "celsius": month.celsius,
                "humidity": month.humidity,
                "pascal": month.pressure,
                "seconds": month.seconds,
            })).collect::<Vec<_>>(),
        })),
        "boundary-sd": maybe(&conditions.boundary, figure),
        "drying-difference": maybe(&conditions.difference, figure),
        "three-kelvin": margins.collect::<Vec<_>>(),
    })
}

fn zone(zone: &ZoneStudy) -> Value {
    json!({
        "code": zone.code,
        "name": zone.name,
        "layers": maybe(&zone.layers, |layers| layers.iter().map(layer).collect()),
        "old-coats": maybe(&zone.coats, |coats| coats.iter().map(old_coat).collect()),
        "kept-sd": maybe(&zone.kept_sd, figure),
        "face": maybe(&zone.face, |face| json!({
            "depth": figure(&face.depth),
            "sd": figure(&face.sd),
            "permeances": face.permeances.iter().map(|named| json!({
                "air": named.air,
                "permeability": figure(&named.permeability),
                "permeance": figure(&named.permeance),
            })).collect::<Vec<_>>(),
        })),
        "ladder": maybe(&zone.ladder, |rungs| rungs.iter().map(|rung| json!({
            "title": rung.title,
            "sd": figure(&rung.sd),
            "sd-so-far": figure(&rung.so_far),
            "permeance": maybe(&rung.permeance, figure),
        })).collect()),
        "condensation": sums(&zone.as_it_stands),
        "coats": zone.candidates.iter().map(candidate).collect::<Vec<_>>(),
        "quoted": zone.quoted,
        "assumptions": zone.assumptions,
    })
}

fn layer(layer: &LayerStudy) -> Value {
    json!({
        "material": layer.title,
        "thickness": maybe(&layer.thickness, figure),
        "known": layer.known.map(Known::word),
        "mu": maybe(&layer.mu, figure),
        "mu-per": layer.mu_from,
        "lambda": maybe(&layer.lambda, figure),
        "lambda-per": layer.lambda_from,
        "uptake": maybe(&layer.uptake, figure),
        "resistance": maybe(&layer.resistance, figure),
        "sd": maybe(&layer.sd, figure),
        "permeance": maybe(&layer.permeance, figure),
    })
}

fn old_coat(coat: &OldCoatStudy) -> Value {
    let kept = match coat.kept {
        YesNoAnswer::Yes => Some("yes"),
        YesNoAnswer::No => Some("no"),
        YesNoAnswer::Unanswered => None,
    };
    json!({"family": coat.title, "layers": coat.layers, "kept": kept, "sd": maybe(&coat.sd, figure)})
}

fn candidate(candidate: &Candidate) -> Value {
    let mut entries = Map::new();
    entries.insert("name".to_owned(), json!(candidate.name));
    entries.insert("title".to_owned(), json!(candidate.title));
    if let Value::Object(more) = maybe(&candidate.coat, coat) {
        entries.extend(more);
    }
    Value::Object(entries)
}

fn coat(coat: &CoatStudy) -> Value {
    json!({
        "sd": figure(&coat.sd),
        "permeance": maybe(&coat.permeance, figure),
        "v": maybe(&coat.vapour_class, |(low, high)| json!([low.name(), high.name()])),
        "w": maybe(&coat.water_class, |(low, high)| json!([low.name(), high.name()])),
        "uptake": maybe(&coat.uptake, figure),
        "total-sd": maybe(&coat.total_sd, figure),
        "share": maybe(&coat.share, figure),
        "against-face": maybe(&coat.against_face, |stands| json!(match stands {
            AgainstFace::MoreOpen => "more-open",
            AgainstFace::Either => "either",
            AgainstFace::Tighter => "tighter",
        })),
        "turns-rain": maybe(&coat.rain.wetting, |wetting| json!(*wetting == Wetting::Repellent)),
        "rain-product": maybe(&coat.rain.product, figure),
        "rain-criteria": coat.rain.criteria.iter().map(|one| json!({
            "name": one.criterion.name,
            "missed-at-best": missed(&one.missed_at_best),
            "missed-at-worst": missed(&one.missed_at_worst),
        })).collect::<Vec<_>>(),
        "condensation": sums(&coat.sums),
        "drying": maybe(&coat.drying, |drying| json!({
            "flow": figure(&drying.flow),
            "a-kilogram": figure(&drying.a_kilogram),
        })),
    })
}

fn missed(limits: &[RainLimit]) -> Value {
    let words = limits.iter().map(|limit| match limit {
        RainLimit::Uptake => "w",
        RainLimit::AirLayer => "sd",
        RainLimit::Product => "w-sd",
    });
    words.collect()
}

fn sums(sums: &[SumStudy]) -> Value {
    let each = sums.iter().map(|sum| {
        let found = maybe(&sum.found, |found| {
            json!({
                "condensed": figure(&found.condensed),
                "increment": figure(&found.increment),
                "left": figure(&found.left),
                "at-film": found.at_film.as_ref().map(figure),
                "cases-left-out": found.wet_inside == WetInside::SomeCases,
                "limit": found.limit.as_ref().map(|(limit, stands)| json!({
                    "value": figure(&Figure::exactly(Dimension::MassPerArea, limit.clone())),
                    "over": match stands {
                        Over::Neither => "neither",
                        Over::AtWorst => "at-worst",
                        Over::Both => "both",
                    },
                })),
            })
        });
        json!({"method": sum.method.title(), "found": found})
    });
    each.collect()
}
