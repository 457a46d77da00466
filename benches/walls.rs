//! How long the physics of a wall takes, and how many random walls a second are worked out.

#![expect(
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "the figures are written here and lie within their ranges; the trade book is read from its files"
)]

use std::hint::black_box;
use std::path::{Path, PathBuf};

use divan::Bencher;
use divan::counter::ItemsCount;
use mimalloc::MiMalloc;
use num_rational::BigRational;
use perpend::diagnostic::Source;
use perpend::physics::classes::{Edition, VapourClass};
use perpend::physics::condensation::{
    Air, Capillarity, Layer, Month, Section, Slicing, Surfaces, Wall, assess, balance,
    first_coat_that_condenses, indoor_air,
};
use perpend::physics::{StillAir, days_a_kilogram, permeance_from_sd, sd_in_series};
use perpend::rulebook::{self, book::Book};
use perpend::survey;
use perpend::wall::{self, study::study};

/// The allocator of the program.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() {
    divan::main();
}

/// Equivalent air layers of ten candidate coats, in mm, as the reference ranges them from limewash to oil.
const COATS: [i32; 10] = [10, 30, 50, 90, 140, 200, 500, 900, 1500, 3000];

/// A year on a cold coast, as monthly means: temperature in °C and relative humidity in per cent.
const MONTHS: [(f64, f64); 12] = [
    (-1.0, 82.0),
    (-0.5, 80.0),
    (0.8, 78.0),
    (2.9, 79.0),
    (5.6, 82.0),
    (8.7, 85.0),
    (11.2, 87.0),
    (11.8, 86.0),
    (9.3, 83.0),
    (5.2, 79.0),
    (1.9, 80.0),
    (-0.2, 82.0),
];

fn brick_wall() -> Wall {
    let material = |thickness, conductivity, mu| {
        Layer::of_material(thickness, conductivity, mu, Capillarity::Absorbs).expect("a material")
    };
    let layers = vec![material(0.02, 1.0, 15.0), material(0.36, 0.81, 10.0), material(0.015, 0.70, 10.0)];
    Wall::new(layers).expect("a wall")
}

fn months() -> Vec<Month> {
    let month = |(celsius, percent)| {
        let outside = Air::new(celsius, percent)?;
        Some(Month { outside, inside: indoor_air(&outside, 20.0, 810.0)?, seconds: 2_628_000.0 })
    };
    MONTHS.into_iter().map(|mean| month(mean).expect("a month")).collect()
}

/// All that is reckoned of one coat: classes and series in exact numbers, both editions, a year, drying.
fn coat(wall: &Wall, months: &[Month], thousandths: i32) -> Option<f64> {
    let sd = BigRational::new(thousandths.into(), 1000.into());
    let whole = sd_in_series(&[sd.clone(), BigRational::new(405.into(), 100.into())])?;
    black_box((VapourClass::of_sd(&sd)?, permeance_from_sd(&whole, &StillAir::DESIGN)?));
    let sd = f64::from(thousandths) / 1000.0;
    let coated = wall.with_coat(Layer::film(sd)?)?;
    let both = [Edition::Of2001, Edition::Of2018].map(|edition| assess(&coated, edition, Slicing::Thick));
    black_box(&both);
    let section = Section::cut(&coated, Surfaces::SHELTERED, Slicing::Thick);
    let year = balance(&section, months);
    Some(year.left() + days_a_kilogram(sd, 0.01, 500.0)?.figure())
}

/// One zone: the coat at which condensation starts, ten candidates, and the bare wall to compare with. Held to 1 ms.
#[divan::bench]
fn zone_with_ten_coats(bencher: Bencher<'_, '_>) {
    let (wall, months) = (brick_wall(), months());
    bencher.bench(|| {
        let onset = first_coat_that_condenses(black_box(&wall), Edition::Of2018, Slicing::Thick);
        let bare = assess(&wall, Edition::Of2018, Slicing::Thick);
        let coats: Vec<_> = COATS.iter().map(|sd| coat(&wall, &months, *sd)).collect();
        (onset, bare, coats)
    });
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("the trade book is there") {
        let path = entry.expect("a folder entry can be read").path();
        if path.is_dir() { files(&path, found) } else { found.push(path) }
    }
    found.sort();
}

fn trade_book() -> Book {
    let mut paths = Vec::new();
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/trade"), &mut paths);
    let text = |path: &PathBuf| std::fs::read_to_string(path).expect("rule files are text");
    let sources: Vec<_> = paths.iter().map(|path| Source::new(path.to_string_lossy(), text(path))).collect();
    rulebook::read(&sources).0.expect("the trade book is sound")
}

/// A rendered brick wall with no old coat, in a climate of the book.
const ZONE: &str = "
survey: 1
job: {code: B-1, name: Bench, issue-date: 2027-01-01, climate: cold-sea-coast}
zones:
  - code: A
    name: A wall
    coats: []
    wall:
      - {material: lime-render, thickness: 20 mm}
      - {material: common-brick, thickness: 360 mm}
      - {material: lime-plaster, thickness: 15 mm}
";

/// The full study of one zone with the ten coats of the trade book and a monthly balance: every range at both ends, both
/// editions of DIN 4108-3, classes, rain, drying. Held to 1 ms.
#[divan::bench]
fn full_study_of_one_zone_with_ten_coats_and_monthly_balance(bencher: Bencher<'_, '_>) {
    let book = trade_book();
    let survey = survey::read(&Source::new("survey.yaml", ZONE), &book).0.expect("the survey is sound");
    bencher.bench(|| study(black_box(&survey), &book));
}

/// The same zone as the rules see it: every fact of the trade book, sums of condensation included.
#[divan::bench]
fn facts_of_one_zone_with_sums_of_condensation(bencher: Bencher<'_, '_>) {
    let book = trade_book();
    let survey = survey::read(&Source::new("survey.yaml", ZONE), &book).0.expect("the survey is sound");
    bencher.bench(|| wall::work(black_box(&survey), &book));
}

/// Numbers that look random and are the same on every machine: a linear congruence, from 0 to below 1.
fn random(state: &mut u64) -> f64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    f64::from(u32::try_from(*state >> 33).unwrap_or(0)) / f64::from(1_u32 << 31)
}

fn random_walls(count: usize) -> Vec<Wall> {
    let mut state = 1;
    let wall = |number| {
        let layers = 1 + number % 5;
        let mut between = |low: f64, high: f64| low + random(&mut state) * (high - low);
        let layer = |_| {
            let (thickness, conductivity, mu) = (between(0.005, 0.6), between(0.1, 2.5), between(1.0, 150.0));
            Layer::of_material(thickness, conductivity, mu, Capillarity::Absorbs).expect("a material")
        };
        Wall::new((0..layers).map(layer).collect()).expect("a wall")
    };
    (0..count).map(wall).collect()
}

/// Random walls with one coat, in both editions and over a year. Held to 10 000 a second on one core.
#[divan::bench]
fn a_thousand_random_walls(bencher: Bencher<'_, '_>) {
    let (walls, months) = (random_walls(1000), months());
    bencher
        .counter(ItemsCount::new(walls.len()))
        .bench(|| walls.iter().filter_map(|wall| coat(black_box(wall), &months, 140)).sum::<f64>());
}
