//! Whether the worked facts that a book declares are such as the program works out.

use super::mistake::WallMistake;
use super::site::{AIR_PERMEABILITY, FACE_DEPTH, Table, taken};
use super::supplied::{NAMES, Supplied};
use super::{coat, neighbour, reading};
use crate::diagnostic::{Diagnostic, nearest};
use crate::rulebook::book::{Book, Catalogue, ColumnId, Fact, FactId, Kind, Origin, Owner, SlotId};
use crate::survey::Pattern;
use crate::units::Dimension;

/// Mistakes in the worked facts of a book: names that the program does not know, owners and kinds that do not fit,
/// words, columns and quantities that are not there.
pub fn check(book: &Book) -> Vec<Diagnostic> {
    let worked = book.facts.iter().filter_map(|fact| match &fact.origin {
        Origin::Worked { per_option_of, formula: None, .. } => Some((fact, *per_option_of)),
        Origin::Worked { .. } | Origin::Asked(_) => None,
    });
    worked
        .flat_map(|(fact, slot)| {
            let mistakes = mistakes(book, fact, slot);
            mistakes.into_iter().map(|mistake| Diagnostic::error(&mistake, fact.place.clone()))
        })
        .collect()
}

fn mistakes(book: &Book, fact: &Fact, slot: Option<SlotId>) -> Vec<WallMistake> {
    let Some(supplied) = Supplied::named(&fact.name, book) else {
        return vec![WallMistake::Unknown { name: fact.name.clone(), mend: mend(book, &fact.name) }];
    };
    let mut found = Vec::new();
    found.extend(owner(fact, supplied, slot));
    found.extend(kind(book, fact, supplied));
    found.extend(
        lacks(book, supplied, slot)
            .into_iter()
            .map(|lacks| WallMistake::Lacks { name: fact.name.clone(), lacks }),
    );
    found
}

/// The nearest name that can be worked out, those made from the book's tables among them.
fn mend(book: &Book, name: &str) -> String {
    let mut known: Vec<String> = NAMES.iter().map(|(name, _)| (*name).to_owned()).collect();
    let columns =
        |table: Table| table.of(book).into_iter().flat_map(|catalogue: &Catalogue| &catalogue.columns);
    for column in columns(Table::Materials) {
        known.extend([format!("substrate-{}", column.name), format!("masonry-{}", column.name)]);
        known.push(format!("{}-neighbour", column.name));
    }
    for (prefix, _) in coat::PREFIXES {
        known.extend(columns(Table::OldCoats).map(|column| format!("{prefix}{}", column.name)));
    }
    known.extend(columns(Table::Neighbours).map(|column| format!("{}-neighbour", column.name)));
    let things = Table::Neighbours.of(book).into_iter().flat_map(|catalogue| &catalogue.options);
    known.extend(things.map(|thing| format!("{}-adjoins", thing.name)));
    known.extend(Pattern::WORDS.iter().map(|(pattern, _)| format!("cracks-{pattern}")));
    for fact in &book.facts {
        known.extend(reading::PREFIXES.iter().map(|(prefix, _)| format!("{prefix}{}", fact.name)));
    }
    match nearest(name, known.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "the reference page of the rule language lists the worked facts".to_owned(),
    }
}

/// What a fact belongs to: the words that say so, and the words of a declaration.
const JOB: (&str, &str) = ("for the job", "of job, …");
const ZONE: (&str, &str) = ("for each zone", "of zone, …");
const OPTION: (&str, &str) = ("for each zone and coating", "of zone and SLOT, …");

fn owner(fact: &Fact, supplied: Supplied, slot: Option<SlotId>) -> Option<WallMistake> {
    let right = match supplied {
        Supplied::PaintDisturbedOnJob | Supplied::NetAreaOnJob | Supplied::PaintedZones => JOB,
        of_option if of_option.is_of_option() => OPTION,
        _ => ZONE,
    };
    let declared = match (fact.owner, slot) {
        (_, Some(_)) => OPTION,
        (Owner::Job, None) => JOB,
        (Owner::Zone, None) => ZONE,
    };
    let of_job_readings = matches!(supplied, Supplied::Reading(..)) && declared == JOB;
    (right != declared && !of_job_readings).then(|| WallMistake::Owner {
        name: fact.name.clone(),
        right: right.0,
        wrong: declared.0,
        declaration: right.1,
    })
}

/// The kind a value has.
enum Wanted {
    /// Exactly this kind, ranges apart.
    Kind(Kind),
    /// At least these words.
    Words(Vec<String>, &'static str),
}

fn kind(book: &Book, fact: &Fact, supplied: Supplied) -> Vec<WallMistake> {
    let name = || fact.name.clone();
    match (wanted(book, supplied), &fact.kind) {
        (None, _) => Vec::new(),
        (Some(Wanted::Words(words, mend)), Kind::OneOf(listed)) => {
            let lost = words.into_iter().filter(|word| !listed.contains(word));
            lost.map(|word| WallMistake::Word { name: name(), word, mend: mend.to_owned() }).collect()
        }
        (Some(Wanted::Kind(right)), declared) if alike(&right, declared) => Vec::new(),
        (Some(Wanted::Kind(right)), declared) => {
            vec![WallMistake::Kind { name: name(), right: in_words(&right), wrong: in_words(declared) }]
        }
        (Some(Wanted::Words(..)), declared) => {
            let right = in_words(&Kind::OneOf(Vec::new()));
            vec![WallMistake::Kind { name: name(), right, wrong: in_words(declared) }]
        }
    }
}

fn wanted(book: &Book, supplied: Supplied) -> Option<Wanted> {
    let measure = |dimension| Some(Wanted::Kind(Kind::Measure { dimension, from: None, to: None }));
    match supplied {
        Supplied::Substrate | Supplied::Masonry => rows(book, Table::Materials, "write `named in materials`"),
        Supplied::OldCoating => old_coats(book),
        Supplied::SubstrateColumn(column) | Supplied::MasonryColumn(column) => {
            of_column(book, Table::Materials, column)
        }
        Supplied::OldCoatingFailing => {
            Some(Wanted::Words(coat::failing_words(), "write `one of none, spots, half, most`"))
        }
        Supplied::SoftestNeighbour => {
            let words = neighbour::hardness_words(book)?.to_vec();
            Some(Wanted::Words(words, "list the words of the column `hardness` of materials"))
        }
        Supplied::KeptSd | Supplied::FaceSd | Supplied::TotalSd => measure(Dimension::AirLayer),
        Supplied::WallThickness | Supplied::WidestCrack(_) => measure(Dimension::Length),
        Supplied::FacePermeance | Supplied::OuterPermeance => measure(Dimension::Permeance),
        Supplied::ShareOfFace => measure(Dimension::Percent),
        Supplied::RainProduct => measure(Dimension::RainProduct),
        Supplied::Condensation(_) => measure(Dimension::MassPerArea),
        Supplied::OuterOverFace => Some(Wanted::Kind(Kind::Number { from: None, to: None })),
        Supplied::NetArea | Supplied::NetAreaOnJob | Supplied::PaintDisturbedOnJob => {
            measure(Dimension::Area)
        }
        Supplied::Reading(_, FactId(fact)) => {
            book.facts.get(fact).map(|fact| Wanted::Kind(fact.kind.clone()))
        }
        Supplied::AnyOldCoat(..)
        | Supplied::Cracks(_)
        | Supplied::Adjoins(_)
        | Supplied::Neighbour(..)
        | Supplied::PaintedZones => Some(Wanted::Kind(Kind::YesNo)),
    }
}

fn rows(book: &Book, table: Table, mend: &'static str) -> Option<Wanted> {
    let catalogue = table.of(book)?;
    Some(Wanted::Words(catalogue.options.iter().map(|row| row.name.clone()).collect(), mend))
}

/// The rows of `old-coats`, and the word for no coat at all.
fn old_coats(book: &Book) -> Option<Wanted> {
    let Wanted::Words(mut words, mend) =
        rows(book, Table::OldCoats, "write `named in old-coats`, with a row `none`")?
    else {
        return None;
    };
    words.push(coat::NONE.to_owned());
    words.dedup();
    Some(Wanted::Words(words, mend))
}

fn of_column(book: &Book, table: Table, column: ColumnId) -> Option<Wanted> {
    Some(match table.column_at(book, column)?.kind.clone() {
        Kind::OneOf(words) => Wanted::Words(words, "list the words of the column"),
        kind => Wanted::Kind(kind),
    })
}

fn alike(one: &Kind, two: &Kind) -> bool {
    match (one, two) {
        (Kind::Measure { dimension: one, .. }, Kind::Measure { dimension: two, .. }) => one == two,
        _ => std::mem::discriminant(one) == std::mem::discriminant(two),
    }
}

fn in_words(kind: &Kind) -> String {
    match kind {
        Kind::YesNo => "yes or no".to_owned(),
        Kind::OneOf(_) => "one of a list of words".to_owned(),
        Kind::Number { .. } => "a number".to_owned(),
        Kind::Measure { dimension, .. } => dimension.phrase().to_owned(),
        Kind::Text => "text".to_owned(),
    }
}

/// Tables, columns and quantities that a calculation needs and the book lacks.
fn lacks(book: &Book, supplied: Supplied, slot: Option<SlotId>) -> Vec<String> {
    let table = |table: Table| table.of(book).is_none().then(|| format!("catalogue `{}`", table.name()));
    let column = |table: Table, name: &str| {
        table.column(book, name).is_none().then(|| format!("column `{name}` in catalogue `{}`", table.name()))
    };
    let quantity =
        |name: &str| taken(book, name).is_none().then(|| format!("`quantity {name} … taken as …`"));
    let of_slot = |name: &str| {
        let catalogue = book.catalogues.get(book.slots.get(slot?.0)?.catalogue.0)?;
        catalogue.column(name).is_none().then(|| format!("column `{name}` in catalogue `{}`", catalogue.name))
    };
    let sd_of_slot = || of_slot("sd");
    let needs = match supplied {
        Supplied::Substrate => vec![table(Table::Materials)],
        Supplied::Masonry | Supplied::MasonryColumn(_) => vec![column(Table::Materials, "role")],
        Supplied::OldCoating => vec![table(Table::OldCoats)],
        Supplied::KeptSd => vec![column(Table::OldCoats, "sd-per-layer")],
        Supplied::SoftestNeighbour => vec![column(Table::Materials, neighbour::HARDNESS)],
        Supplied::FaceSd | Supplied::FacePermeance => vec![
            column(Table::Materials, "mu"),
            column(Table::Materials, "role"),
            quantity(FACE_DEPTH),
            (supplied == Supplied::FacePermeance).then(|| quantity(AIR_PERMEABILITY)).flatten(),
        ],
        Supplied::TotalSd => vec![column(Table::OldCoats, "sd-per-layer"), sd_of_slot()],
        Supplied::OuterPermeance => {
            vec![column(Table::OldCoats, "sd-per-layer"), sd_of_slot(), quantity(AIR_PERMEABILITY)]
        }
        Supplied::RainProduct => vec![
            column(Table::OldCoats, "sd-per-layer"),
            sd_of_slot(),
            of_slot("uptake"),
            of_slot("turns-rain"),
        ],
        Supplied::Condensation(_) => vec![
            column(Table::OldCoats, "sd-per-layer"),
            sd_of_slot(),
            column(Table::Materials, "mu"),
            column(Table::Materials, "lambda"),
        ],
        Supplied::OuterOverFace | Supplied::ShareOfFace => vec![
            column(Table::OldCoats, "sd-per-layer"),
            sd_of_slot(),
            column(Table::Materials, "mu"),
            column(Table::Materials, "role"),
            quantity(FACE_DEPTH),
        ],
        _ => Vec::new(),
    };
    needs.into_iter().flatten().collect()
}
