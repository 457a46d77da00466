//! The figures as tables.

use super::Told;
use super::block::{Blocks, Rows};
use super::words::caveat;
use crate::physics::classes::Edition;
use crate::physics::{Comparison, RainLimit};
use crate::units::System;
use crate::wall::study::{
    AgainstFace, CoatStudy, Figure, LayerStudy, Maybe, Method, Over, SumFound, SumStudy, ZoneStudy,
    surely_between,
};

/// Into how many pieces the ranges are cut for the figure that cannot be passed.
const PIECES: usize = 64;

/// What the last column of a condensation table is.
const BOUND: &str = "The enclosing bound holds for every wall and coat within the ranges, by ends rounded outward; it is no \
                     forecast, and may lie far above what any one of them reaches.";

/// The tables of a zone.
pub(super) fn zone(told: &Told<'_>, (index, zone): (usize, &ZoneStudy), blocks: &mut Blocks) {
    let system = told.survey.job.profile.system;
    layers(zone, system, blocks);
    ladder(zone, system, blocks);
    openness(zone, system, blocks);
    rain(zone, system, blocks);
    condensation(told, (index, zone), blocks);
    drying(zone, system, blocks);
}

fn layers(zone: &ZoneStudy, system: System, blocks: &mut Blocks) {
    let layers = match &zone.layers {
        Ok(layers) => layers,
        Err(why) => return blocks.paragraph(format!("No table of layers, because {}.", why.0)),
    };
    let print = |figure: &Figure| figure.print(system);
    let (mut vapour, mut rest) = (Rows::default(), Rows::default());
    for layer in layers {
        let known = layer.known.map_or("not said", |known| known.word());
        let thickness = vapour.cell(&layer.thickness, print);
        let row = vec![
            layer.title.clone(),
            thickness,
            known.to_owned(),
            vapour.cell(&layer.mu, print),
            vapour.cell(&layer.sd, print),
            vapour.cell(&layer.permeance, print),
        ];
        vapour.push(row);
        let row = rest_of(layer, system, &mut rest);
        rest.push(row);
    }
    let head = ["layer, from outside", "thickness", "known", "µ", "sd", "permeance"];
    blocks.table("Layers: vapour", &head, vapour);
    let head = ["layer, from outside", "lambda", "R", "uptake of the bare face (w)", "µ per", "lambda per"];
    blocks.table("Layers: heat and water, and where the figures come from", &head, rest);
}

fn rest_of(layer: &LayerStudy, system: System, rows: &mut Rows) -> Vec<String> {
    let print = |figure: &Figure| figure.print(system);
    vec![
        layer.title.clone(),
        rows.cell(&layer.lambda, print),
        rows.cell(&layer.resistance, print),
        // Only printed: no sum asks for it, and many books will not have it.
        layer.uptake.as_ref().map_or_else(|_| "not known".to_owned(), print),
        layer.mu_from.clone(),
        layer.lambda_from.clone(),
    ]
}

fn ladder(zone: &ZoneStudy, system: System, blocks: &mut Blocks) {
    let rungs = match &zone.ladder {
        Ok(rungs) => rungs,
        Err(why) => return blocks.paragraph(format!("No vapour ladder, because {}.", why.0)),
    };
    let mut rows = Rows::default();
    for rung in rungs {
        let permeance = rows.cell(&rung.permeance, |figure| figure.print(system));
        rows.push(vec![rung.title.clone(), rung.sd.print(system), rung.so_far.print(system), permeance]);
    }
    if let Ok(face) = &zone.face {
        for named in &face.permeances {
            let air = named.permeability.print(system);
            rows.push(vec![
                format!(
                    "of this the outer {}, by still air of {} ({air})",
                    face.depth.print(system),
                    named.air
                ),
                face.sd.print(system),
                String::new(),
                named.permeance.print(system),
            ]);
        }
    }
    let head = ["from inside to outside", "sd", "sd so far", "permeance"];
    blocks.table("Vapour ladder, without a new coat", &head, rows);
}

fn each_coat(zone: &ZoneStudy) -> impl Iterator<Item = (&str, &CoatStudy)> {
    zone.candidates
        .iter()
        .filter_map(|candidate| Some((candidate.title.as_str(), candidate.coat.as_ref().ok()?)))
}

fn openness(zone: &ZoneStudy, system: System, blocks: &mut Blocks) {
    let (mut alone, mut stack) = (Rows::default(), Rows::default());
    let print = |figure: &Figure| figure.print(system);
    for (title, coat) in each_coat(zone) {
        let row = vec![
            title.to_owned(),
            print(&coat.sd),
            alone.cell(&coat.permeance, print),
            alone.cell(&coat.vapour_class, |(low, high)| pair(low.name(), high.name())),
            alone.cell(&coat.water_class, |(low, high)| pair(low.name(), high.name())),
        ];
        alone.push(row);
        let row = vec![
            title.to_owned(),
            stack.cell(&coat.total_sd, print),
            stack.cell(&coat.share, print),
            stack.cell(&coat.against_face, |stands| against(*stands).to_owned()),
        ];
        stack.push(row);
    }
    let head = ["coat", "sd", "permeance", "V", "W"];
    let caption = "Coats alone, with classes V and W of EN 1062-1 (V: a higher number is less open; W: tighter to rain)";
    blocks.table(caption, &head, alone);
    let head = ["coat", "sd outside the masonry", "share of coat and face", "against the face"];
    let caption = "Coats on this wall, old coats that stay counted (a share of 50 % doubles the resistance of the face)";
    blocks.table(caption, &head, stack);
}

fn pair(one: &str, other: &str) -> String {
    if one == other { one.to_owned() } else { format!("{one} to {other}") }
}

fn against(stands: AgainstFace) -> &'static str {
    match stands {
        AgainstFace::MoreOpen => "more open",
        AgainstFace::Either => "more open or not",
        AgainstFace::Tighter => "tighter",
    }
}

fn rain(zone: &ZoneStudy, system: System, blocks: &mut Blocks) {
    let mut rows = Rows::default();
    for (title, coat) in each_coat(zone).filter(|(_, coat)| !coat.rain.criteria.is_empty()) {
        let product = rows.cell(&coat.rain.product, |figure| figure.print(system));
        let uptake = rows.cell(&coat.uptake, |figure| figure.print(system));
        let mut row = vec![title.to_owned(), uptake, product];
        row.extend(coat.rain.criteria.iter().map(|one| {
            let (best, worst) = (missed(&one.missed_at_best), missed(&one.missed_at_worst));
            match (best.as_str(), worst.as_str()) {
                ("", "") => "met at both ends".to_owned(),
                ("", worst) => format!("missed at worst: {worst}"),
                (best, _) => format!("missed at best: {best}"),
            }
        }));
        rows.push(row);
    }
    let criteria = each_coat(zone).find(|(_, coat)| !coat.rain.criteria.is_empty());
    let Some((_, coat)) = criteria else { return };
    let mut head = vec!["coat that turns rain away", "w", "w·sd"];
    head.extend(coat.rain.criteria.iter().map(|one| one.criterion.name));
    blocks.table("Rain: uptake times sd, and the lines for repellent facades", &head, rows);
    let limits = coat.rain.criteria.iter().map(|one| {
        let figure = |dimension, value| Figure::exactly(dimension, value).print(system);
        let criterion = &one.criterion;
        format!(
            "{}: w at most {}, sd at most {}, w·sd at most {} ({})",
            criterion.name,
            figure(crate::units::Dimension::Uptake, criterion.uptake()),
            figure(crate::units::Dimension::AirLayer, criterion.sd()),
            figure(crate::units::Dimension::RainProduct, criterion.product()),
            criterion.source
        )
    });
    blocks.paragraph(format!("{}.", limits.collect::<Vec<_>>().join("; ")));
}

fn missed(limits: &[RainLimit]) -> String {
    let words = limits.iter().map(|limit| match limit {
        RainLimit::Uptake => "w",
        RainLimit::AirLayer => "sd",
        RainLimit::Product => "w·sd",
    });
    words.collect::<Vec<_>>().join(", ")
}

fn condensation(told: &Told<'_>, (index, zone): (usize, &ZoneStudy), blocks: &mut Blocks) {
    let system = told.survey.job.profile.system;
    for (place, standing) in zone.as_it_stands.iter().enumerate() {
        if let Err(why) = &standing.found {
            blocks.paragraph(format!("No table for {}, because {}.", standing.method.title(), why.0));
            continue;
        }
        let mut rows = Rows::default();
        let edition = match &standing.method {
            Method::Din4108(edition) => Some(*edition),
            Method::Iso13788(_) => None,
        };
        let row = sum_row("no new coat".to_owned(), standing, None, (system, &mut rows));
        rows.push(row);
        for candidate in &zone.candidates {
            let Ok(coat) = &candidate.coat else { continue };
            let Some(sum) = coat.sums.get(place) else { continue };
            let surely = edition.map(|edition| surely(told, (index, candidate.option), edition));
            let row = sum_row(candidate.title.clone(), sum, surely, (system, &mut rows));
            rows.push(row);
        }
        let head =
            ["coat", "condenses", "more than without it", "left after the year", "limit", "enclosing bound"];
        let caption = format!("Condensation, {}", standing.method.title());
        let (head, caption) =
            (if edition.is_some() { &head[..] } else { head.get(..4).unwrap_or_default() }, caption);
        blocks.table(&caption, head, rows);
        if edition.is_some() {
            blocks.paragraph(BOUND);
        }
        blocks.paragraph(caveat());
    }
}

fn surely(told: &Told<'_>, of: (usize, crate::rulebook::book::OptionId), edition: Edition) -> Maybe<Figure> {
    surely_between(told.survey, told.book, of, edition, PIECES)
}

fn sum_row(
    title: String,
    sum: &SumStudy,
    surely: Option<Maybe<Figure>>,
    (system, rows): (System, &mut Rows),
) -> Vec<String> {
    let of = |figure: fn(&SumFound) -> &Figure| move |found: &SumFound| figure(found).print(system);
    let mut row = vec![
        title,
        rows.cell(&sum.found, of(|found| &found.condensed)),
        rows.cell(&sum.found, of(|found| &found.increment)),
        rows.cell(&sum.found, of(|found| &found.left)),
    ];
    if matches!(sum.method, Method::Din4108(_)) {
        row.push(rows.cell(&sum.found, |found| limit(found, system)));
        let most = |figure: &Figure| Figure::exactly(figure.dimension, figure.high.clone()).print(system);
        row.push(surely.map_or_else(String::new, |surely| rows.cell(&surely, most)));
    }
    row
}

fn limit(found: &SumFound, system: System) -> String {
    let Some((limit, stands)) = &found.limit else { return String::new() };
    let limit = Figure::exactly(crate::units::Dimension::MassPerArea, limit.clone()).print(system);
    match stands {
        Over::Neither => format!("{limit}: not exceeded"),
        Over::AtWorst => format!("{limit}: exceeded at worst"),
        Over::Both => format!("{limit}: exceeded"),
    }
}

fn drying(zone: &ZoneStudy, system: System, blocks: &mut Blocks) {
    if each_coat(zone).all(|(_, coat)| coat.drying.is_err()) {
        let why = each_coat(zone).find_map(|(_, coat)| coat.drying.as_ref().err());
        return blocks.paragraph(format!(
            "No table of drying, because {}.",
            why.map_or("the book offers no coats", |why| why.0.as_str())
        ));
    }
    let mut rows = Rows::default();
    for (title, coat) in each_coat(zone) {
        let flow = rows.cell(&coat.drying, |drying| drying.flow.print(system));
        let days = rows.cell(&coat.drying, |drying| drying.a_kilogram.print(system));
        rows.push(vec![title.to_owned(), flow, days]);
    }
    let head = ["coat", "passes a day", "days for 1 kg/m²"];
    blocks.table(&format!("Drying, {}", Comparison::LABEL), &head, rows);
}
