//! The plain words that come before the figures.

use super::Told;
use super::block::Blocks;
use crate::physics::condensation::CAVEAT;
use crate::physics::{Comparison, RainCriterion, Wetting};
use crate::survey::YesNoAnswer;
use crate::units::System;
use crate::wall::study::{
    AgainstFace, Candidate, CoatStudy, Figure, Method, OldCoatStudy, SumFound, SumStudy, WetInside, ZoneStudy,
};

/// What goes with every sum of condensation, as a sentence.
pub(super) fn caveat() -> String {
    format!("This is {CAVEAT}; no result of it is leave to coat.")
}

/// A zone in words.
pub(super) fn zone(told: &Told<'_>, zone: &ZoneStudy, blocks: &mut Blocks) {
    let system = told.survey.job.profile.system;
    blocks.paragraph(format!("{} {}", face(zone, system), old_coats(zone)));
    blocks.paragraph(openness(zone));
    blocks.paragraph(format!("{} {}", condensation(zone, system), caveat()));
    blocks.paragraph(rain(zone));
    for quoted in &zone.quoted {
        blocks.paragraph(quoted.clone());
    }
    for assumption in &zone.assumptions {
        blocks.paragraph(format!("Assumed: {assumption}"));
    }
}

fn face(zone: &ZoneStudy, system: System) -> String {
    match &zone.face {
        Err(why) => format!("How readily the face lets vapour through is not worked out, because {}.", why.0),
        Ok(face) => {
            let (depth, sd) = (face.depth.print(system), face.sd.print(system));
            let through = face.permeances.first().map(|named| named.permeance.print(system));
            let through =
                through.map(|through| format!(" lets through about {through},")).unwrap_or_default();
            format!(
                "The outer {depth} of this wall, paint left out,{through} as much as an air layer of {sd} (sd): it is \
                 the part that must dry through any coat."
            )
        }
    }
}

fn old_coats(zone: &ZoneStudy) -> String {
    match &zone.coats {
        Err(why) => format!("Old coats are not reckoned, because {}.", why.0),
        Ok(coats) if coats.is_empty() => "There is no old coat on it.".to_owned(),
        Ok(coats) => coats.iter().map(old_coat).collect::<Vec<_>>().join(" "),
    }
}

fn old_coat(coat: &OldCoatStudy) -> String {
    let adds = match &coat.sd {
        Ok(sd) => format!("adds sd {}", sd.print(System::SiFirst)),
        Err(why) => format!("adds what is not worked out, because {}", why.0),
    };
    let stays = match coat.kept {
        YesNoAnswer::Yes => "it stays and counts with every coat put over it",
        YesNoAnswer::No => "it comes off and is not counted",
        YesNoAnswer::Unanswered => "whether it stays nobody said, so figures run from without it to with it",
    };
    format!("The old {} {adds}; {stays}.", coat.title)
}

/// Every coat with its figures.
fn coats(zone: &ZoneStudy) -> impl Iterator<Item = (&Candidate, &CoatStudy)> {
    zone.candidates.iter().filter_map(|candidate| Some((candidate, candidate.coat.as_ref().ok()?)))
}

fn openness(zone: &ZoneStudy) -> String {
    let titles = |wanted: AgainstFace| {
        let those = coats(zone).filter(|(_, coat)| coat.against_face == Ok(wanted));
        those.map(|(candidate, _)| candidate.title.as_str()).collect::<Vec<_>>()
    };
    let [open, either, tight] =
        [AgainstFace::MoreOpen, AgainstFace::Either, AgainstFace::Tighter].map(titles);
    if open.is_empty() && either.is_empty() && tight.is_empty() {
        let why = coats(zone).find_map(|(_, coat)| coat.against_face.as_ref().err());
        let why = why.map_or("the book offers no coats", |why| why.0.as_str());
        return format!("Coats are not set against the face, because {why}.");
    }
    let mut words = Vec::new();
    if !open.is_empty() {
        words.push(format!(
            "Of the coats in the book, these stay more open than the face, whatever the product and the masonry within \
             their ranges: {}.",
            open.join(", ")
        ));
    }
    if !either.is_empty() {
        words.push(format!("These do or do not, by the product and the masonry: {}.", either.join(", ")));
    }
    if !tight.is_empty() {
        words.push(format!("These do not: {}.", tight.join(", ")));
    }
    words.push(
        "To be more open than the face is the least that a coat must be, not all that it must be.".to_owned(),
    );
    words.join(" ")
}

fn condensation(zone: &ZoneStudy, system: System) -> String {
    let each = zone.as_it_stands.iter().enumerate().map(|(place, sum)| one_sum(zone, (place, sum), system));
    each.collect::<Vec<_>>().join(" ")
}

fn one_sum(zone: &ZoneStudy, (place, sum): (usize, &SumStudy), system: System) -> String {
    let by = match &sum.method {
        Method::Iso13788(climate) => format!("ISO 13788, month by month ({climate}),"),
        Method::Din4108(edition) => edition.name().to_owned(),
    };
    let found = match &sum.found {
        Ok(found) => found,
        Err(why) => return format!("By {by} condensation is not worked out, because {}.", why.0),
    };
    let season = match sum.method {
        Method::Din4108(_) => "in the winter",
        Method::Iso13788(_) => "at the end of its wettest month",
    };
    let condensed = found.condensed.print(system);
    let mut sentences = vec![format!(
        "By {by} the wall as it stands, without a new coat, holds {condensed} of condensate {season}."
    )];
    let with = coats(zone).filter_map(|(candidate, coat)| {
        Some((candidate.title.as_str(), coat.sums.get(place)?.found.as_ref().ok()?))
    });
    let with: Vec<(&str, &SumFound)> = with.collect();
    sentences.extend(most_added(&with, system));
    sentences.push(left(found, &with));
    if found.wet_inside == WetInside::SomeCases {
        sentences.push(
            "Cases in which the air of the room would condense on the inner face itself are left out: they speak of \
             the room and its heating, and of no coat."
                .to_owned(),
        );
    }
    sentences.join(" ")
}

fn most_added(with: &[(&str, &SumFound)], system: System) -> Option<String> {
    let (title, most) = with.iter().max_by(|one, other| one.1.increment.high.cmp(&other.1.increment.high))?;
    Some(if zero(&most.increment) {
        "No coat of the book adds any.".to_owned()
    } else {
        format!("The coat that adds most is {title}: {} more.", most.increment.print(system))
    })
}

fn left(bare: &SumFound, with: &[(&str, &SumFound)]) -> String {
    let stays: Vec<&str> =
        with.iter().filter(|(_, found)| !zero(&found.left)).map(|(title, _)| *title).collect();
    match (zero(&bare.left), stays.is_empty()) {
        (false, _) => {
            "Even without a coat some stays from year to year at the adverse ends of the ranges.".to_owned()
        }
        (true, true) => "None of it stays into the next year.".to_owned(),
        (true, false) => {
            format!("At the adverse ends some stays into the next year behind {}.", stays.join(", "))
        }
    }
}

fn zero(figure: &Figure) -> bool {
    figure.ends().is_some_and(|(_, high)| high <= 0.0)
}

fn rain(zone: &ZoneStudy) -> String {
    let name = RainCriterion::DIN_4108.name;
    let mut sentences =
        vec!["What a coat that turns rain away lets in, it must let out again between rains.".to_owned()];
    let (some, all) = (past_the_line(zone, AtBest::Within), past_the_line(zone, AtBest::Past));
    if coats(zone).all(|(_, coat)| coat.rain.criteria.is_empty()) {
        let why = coats(zone).find_map(|(_, coat)| coat.rain.product.as_ref().err());
        let why = why.map_or("no coat of the book is meant to turn rain away", |why| why.0.as_str());
        sentences.push(format!("It is not set against the lines on rain, because {why}."));
        return sentences.join(" ");
    }
    if some.is_empty() && all.is_empty() {
        sentences.push(format!(
            "None of the coats worked out here is past a line of {name}, even at its adverse end."
        ));
    }
    if !some.is_empty() {
        sentences.push(format!("Past a line of {name} at the adverse end: {some}."));
    }
    if !all.is_empty() {
        sentences.push(format!("Past a line of {name} at every end: {all}."));
    }
    let absorbent = coats(zone).filter(|(_, coat)| coat.rain.wetting == Ok(Wetting::Absorbent));
    let absorbent: Vec<&str> = absorbent.map(|(candidate, _)| candidate.title.as_str()).collect();
    if !absorbent.is_empty() {
        sentences.push(format!(
            "It does not speak of {}, which take rain in and give it back.",
            absorbent.join(", ")
        ));
    }
    sentences.join(" ")
}

/// Where the best end of a coat past the line stands.
#[derive(Clone, Copy, PartialEq, Eq)]
enum AtBest {
    Within,
    Past,
}

/// The coats past a line of DIN 4108-3 at their adverse end.
fn past_the_line(zone: &ZoneStudy, at_best: AtBest) -> String {
    let those = coats(zone).filter(|(_, coat)| {
        let din = coat.rain.criteria.iter().find(|one| one.criterion == RainCriterion::DIN_4108);
        din.is_some_and(|one| {
            !one.missed_at_worst.is_empty() && (one.missed_at_best.is_empty() == (at_best == AtBest::Within))
        })
    });
    those.map(|(candidate, _)| candidate.title.as_str()).collect::<Vec<_>>().join(", ")
}

/// What holds for the whole job.
pub(super) fn conditions(told: &Told<'_>, blocks: &mut Blocks) {
    let system = told.survey.job.profile.system;
    let conditions = &told.conditions;
    let of = |figure: &crate::wall::study::Maybe<Figure>| match figure {
        Ok(figure) => figure.print(system),
        Err(why) => format!("not known ({})", why.0),
    };
    blocks.paragraph(format!(
        "Ranges: the figures run from the most favourable to the most adverse end of every range of the book and the \
         survey; of condensation every division of the wall into outer and inner layers is tried. Still air: {}.",
        of(&conditions.air)
    ));
    blocks.paragraph(match &conditions.climate {
        Ok(climate) => format!("Months outside: {} ({}).", climate.name, climate.source),
        Err(why) => format!("The year is not worked out month by month, because {}.", why.0),
    });
    blocks.paragraph(match &conditions.indoor {
        Ok(indoor) => format!(
            "Air inside, for the sum by months: {} and {}; {}",
            indoor.temperature.print(system),
            indoor.humidity.print(system),
            indoor.known
        ),
        Err(why) => format!("The air inside is not known, because {}.", why.0),
    });
    blocks.paragraph(match (&conditions.difference, &conditions.boundary) {
        (Ok(difference), Ok(boundary)) => format!(
            "Drying: first stage, the masonry behind the coat still wet, at {} of vapour pressure more in the wall than \
             in the air and {} of still air at the face. It is {}.",
            difference.print(system),
            boundary.print(system),
            Comparison::LABEL
        ),
        (Err(why), _) | (_, Err(why)) => format!("Drying is not compared, because {}.", why.0),
    });
    let kept = conditions.margins.iter().map(|margin| {
        format!(
            "at {}, {} (with the wall {} colder, {})",
            margin.air.print(system),
            of(&margin.as_warm),
            margin.colder.print(system),
            of(&margin.if_colder)
        )
    });
    blocks.paragraph(format!(
        "A wall as warm as the air keeps 3 K (5 °F is a little less) above the dew point only below a humidity of: {}.",
        kept.collect::<Vec<_>>().join("; ")
    ));
}
