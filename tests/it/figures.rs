//! Figures: what each chart draws, and that its words neither touch nor leave it, whatever the data.

use perpend::drawing::chart::{
    CoatStanding, Coats, CondensationProfile, DewPointGrid, DryingCoat, DryingCurve, Face, Gathered, Ladder,
    ProfileCoat, ProfileLayer, Rung, RungKind, check_bar, condensation_profile, crack_card, crack_gauge,
    dew_point_grid, drying_curve, ladder, sketch_grid,
};
use perpend::drawing::{Drawing, Mark, stacked, svg};
use perpend::physics::Bounds;
use perpend::physics::condensation::{Air, Surfaces};
use perpend::units::System;
use proptest::prelude::*;

mod elevation;
mod joint;
mod owner;
mod path;
mod sequence;

fn bounds(low: f64, high: f64) -> Bounds {
    Bounds::between(low, high).unwrap()
}

fn grid(system: System) -> DewPointGrid {
    DewPointGrid {
        id: "dew-point-1".to_owned(),
        zones: None,
        margin: 3.0,
        margin_words: "3\u{a0}°C (5\u{a0}°F)".to_owned(),
        coldest: Some(8.0),
        warmest: Some(25.0),
        coats: Coats::Alike,
        dampest: Some(85.0),
        system,
    }
}

fn rung(title: &str, sd: (f64, f64), kind: RungKind) -> Rung {
    Rung { title: title.to_owned(), sd: bounds(sd.0, sd.1), kind }
}

/// A quay front of rubble with a lime render, under a silicate.
fn quay(kept: &[Rung], new: Rung) -> Ladder {
    let mut rungs = vec![
        rung("lime plaster, 15\u{a0}mm", (0.06, 0.15), RungKind::Wall),
        rung("rubble sandstone, 500\u{a0}mm", (7.5, 20.0), RungKind::Wall),
        rung("lime render, 20\u{a0}mm", (0.12, 0.3), RungKind::Wall),
    ];
    rungs.extend(kept.iter().cloned());
    rungs.push(new);
    Ladder {
        id: "vapour-ladder-1".to_owned(),
        zones: Some("zone Q1".to_owned()),
        rungs,
        face: Face { depth: "90\u{a0}mm (3.5\u{a0}in.)".to_owned(), sd: bounds(1.17, 3.1) },
        limit: Some(0.14),
        air: 200.0,
        system: System::UsFirst,
    }
}

fn open_coat() -> Rung {
    rung("two-component silicate paint", (0.01, 0.05), RungKind::NewCoat)
}

fn layer(title: &str, thickness: f64, conductivity: f64, mu: f64) -> ProfileLayer {
    ProfileLayer { title: title.to_owned(), thickness, conductivity, mu }
}

fn gathered(grams: f64) -> Gathered {
    Gathered { kilograms: grams / 1000.0, words: format!("{grams}\u{a0}g/m²") }
}

fn coat(title: &str, sd: f64, grams: f64, standing: CoatStanding) -> ProfileCoat {
    ProfileCoat { title: title.to_owned(), sd, gathered: gathered(grams), more: gathered(grams), standing }
}

/// Wall A36 of the reference with five coats.
fn brick_wall() -> CondensationProfile {
    CondensationProfile {
        id: "condensation-1".to_owned(),
        zones: Some("zone Q2".to_owned()),
        layers: vec![
            layer("soft brick, 360\u{a0}mm (14.2\u{a0}in.)", 0.36, 0.81, 10.0),
            layer("lime plaster, 15\u{a0}mm (0.6\u{a0}in.)", 0.015, 0.70, 10.0),
        ],
        kept: 0.0,
        gathered: gathered(0.0),
        coats: vec![
            coat("two-component silicate paint", 0.05, 0.0, CoatStanding::Chosen),
            coat("limewash", 0.02, 0.0, CoatStanding::Possible),
            coat("silicone-resin emulsion paint", 0.3, 0.0, CoatStanding::Refused),
            coat("acrylic masonry paint", 0.9, 85.0, CoatStanding::Refused),
            coat("elastomeric coating", 3.0, 239.0, CoatStanding::Refused),
        ],
        surfaces: Surfaces::SHELTERED,
        outside: Air::new(-5.0, 80.0).unwrap(),
        inside: Air::new(20.0, 50.0).unwrap(),
        climate: "DIN 4108-3 winter: −5 °C and 80 % outside, 20 °C and 50 % inside".to_owned(),
    }
}

fn drying() -> DryingCurve {
    let coats = brick_wall().coats.into_iter();
    DryingCurve {
        id: "drying-1".to_owned(),
        zones: None,
        depth: 0.09,
        depth_words: "90\u{a0}mm (3.5\u{a0}in.)".to_owned(),
        mu: 10.0,
        boundary: 0.01,
        coats: coats
            .map(|coat| DryingCoat { title: coat.title, sd: coat.sd, standing: coat.standing })
            .collect(),
    }
}

pub(crate) fn samples() -> Vec<(&'static str, Drawing)> {
    let kept = [rung("old acrylic paint, 2\u{a0}layers", (0.4, 1.8), RungKind::OldCoat)];
    let unlimited = Ladder { limit: None, zones: None, system: System::SiFirst, ..quay(&[], open_coat()) };
    let mut several = quay(&kept, open_coat());
    several.rungs.push(rung("limewash", (0.01, 0.02), RungKind::NewCoat));
    several.rungs.push(rung("elastomeric coating", (0.8, 3.0), RungKind::NewCoat));
    let own = vec![
        ("dew-point-us", dew_point_grid(&grid(System::UsFirst)).unwrap()),
        (
            "dew-point-si",
            dew_point_grid(&DewPointGrid { coats: Coats::Differ, ..grid(System::SiFirst) }).unwrap(),
        ),
        ("ladder-open", ladder(&quay(&[], open_coat())).unwrap()),
        ("ladder-kept-film", ladder(&quay(&kept, open_coat())).unwrap()),
        ("ladder-no-limit", ladder(&unlimited).unwrap()),
        ("ladder-several", ladder(&several).unwrap()),
        ("profile", condensation_profile(&brick_wall()).unwrap()),
        ("drying", drying_curve(&drying()).unwrap()),
        ("crack-gauge", crack_gauge("crack-gauge", &[0.1, 0.2, 0.3, 0.5, 1.0, 2.0, 5.0]).unwrap()),
        ("crack-card", crack_card("crack-card", &[0.2, 0.5, 1.0, 2.0, 3.0]).unwrap()),
        ("check-bar", check_bar("check-bar")),
        ("sketch-grid", sketch_grid("sketch-grid", 20.0)),
    ];
    own.into_iter()
        .chain(elevation::samples())
        .chain(owner::samples())
        .chain(path::samples())
        .chain(joint::samples())
        .chain(sequence::samples())
        .collect()
}

#[test]
fn figures_look_as_they_did() {
    insta::with_settings!({ snapshot_path => "../cases/figures", prepend_module_to_snapshot => false }, {
        for (name, drawing) in samples() {
            insta::assert_snapshot!(name, format!("{}\n\n{}\n\n{}", drawing.caption, drawing.note, svg(&drawing)));
        }
    });
}

/// What is wrong with a drawing: words on each other or over its edge, alternative text of the wrong length.
pub(crate) fn faults(drawing: &Drawing) -> Vec<String> {
    let texts = drawing.texts();
    let (width, height) = (drawing.width.millimetres(), drawing.height.millimetres());
    let mut faults = Vec::new();
    for (place, (text, frame)) in texts.iter().enumerate() {
        if frame.left < -0.05
            || frame.top < -0.05
            || frame.right > width + 0.05
            || frame.bottom > height + 0.05
        {
            faults.push(format!("`{}` leaves the drawing: {frame:?}", text.words));
        }
        let on_it = texts.iter().skip(place + 1).filter(|(_, other)| frame.overlaps(other));
        faults.extend(on_it.map(|(other, _)| format!("`{}` on `{}`", text.words, other.words)));
    }
    let spots = drawing.marks.iter().flat_map(|mark| match mark {
        Mark::Lines { lines, .. } => lines.concat(),
        Mark::Area { corners, .. } => corners.clone(),
        Mark::Text(_) => Vec::new(),
    });
    let out = spots.filter(|spot| {
        let (x, y) = (spot.x.millimetres(), spot.y.millimetres());
        x < -0.05 || y < -0.05 || x > width + 0.05 || y > height + 0.05
    });
    faults.extend(out.map(|spot| format!("a line leaves the drawing at {spot:?}")));
    if !(15..=250).contains(&drawing.alt.chars().count()) {
        faults.push(format!("alternative text: {}", drawing.alt));
    }
    let written = svg(drawing);
    let figures: Vec<&str> = written.split('>').filter(|tag| tag.starts_with("\n<")).collect();
    if written.contains("NaN") || figures.iter().any(|tag| tag.contains("inf")) {
        faults.push("a figure that is no number".to_owned());
    }
    faults
}

#[test]
fn words_of_the_samples_keep_apart() {
    for (name, drawing) in samples() {
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn gauge_and_card_are_true_to_scale_and_say_how_to_see_it() {
    let widths = [0.1, 0.2, 0.3, 0.5, 1.0, 1.5, 2.0];
    let card = crack_card("crack-card", &widths[1..6]).unwrap();
    for (gauge, widths) in
        [(crack_gauge("crack-gauge", &widths).unwrap(), &widths[..]), (card, &widths[1..6])]
    {
        let drawn: Vec<f64> = gauge
            .marks
            .iter()
            .filter_map(|mark| if let Mark::Area { corners, .. } = mark { Some(corners) } else { None })
            .map(|corners| corners[1].x.millimetres() - corners[0].x.millimetres())
            .collect();
        for (drawn, width) in drawn.iter().zip(widths) {
            assert!((drawn - width).abs() < 0.011, "{drawn} for {width}");
        }
        assert_eq!(drawn.len(), widths.len());
        let bar = gauge.marks.iter().find_map(|mark| match mark {
            Mark::Lines { lines, .. } => Some(lines[0][1].x.points() - lines[0][0].x.points()),
            _ => None,
        });
        assert!((bar.unwrap() - 283.46).abs() < 0.01, "100 mm is 283.46 pt: {bar:?}");
        assert!(gauge.note.contains("100 mm") && gauge.note.contains("at full size"));
    }
    for make in [crack_gauge, crack_card] {
        assert!(make("none", &[]).is_none() && make("none", &[0.0, 20.0]).is_none());
        assert!(make("many", &[1.0; 40]).is_none(), "so many stand too close");
    }
}

#[test]
fn drawings_stand_below_each_other_with_their_words() {
    let drawings: Vec<Drawing> = samples().into_iter().map(|(_, drawing)| drawing).collect();
    let whole = stacked("all", "All of them", &drawings).unwrap();
    let wrong: Vec<String> =
        faults(&whole).into_iter().filter(|fault| !fault.starts_with("alternative")).collect();
    assert_eq!(wrong, Vec::<String>::new());
    let close = |words: &str| words.replace(' ', "");
    let words: String = whole.texts().iter().map(|(text, _)| close(&text.words)).collect();
    for drawing in &drawings {
        assert!(words.contains(&close(&drawing.caption)), "{}", drawing.caption);
    }
    assert!(stacked("none", "None", &[]).is_none());
}

/// Every cell that both hold is the published dew point and 3 K, rounded up, but for the 0.02 K that formulae differ.
#[test]
fn the_grid_holds_published_dew_points() {
    let unbounded = DewPointGrid { coldest: None, warmest: None, dampest: None, ..grid(System::SiFirst) };
    let drawing = dew_point_grid(&unbounded).unwrap();
    let words: Vec<&str> = drawing.texts().iter().map(|(text, _)| text.words.as_str()).collect();
    let humidity: Vec<f64> = words.iter().filter_map(|words| words.parse().ok()).take(12).collect();
    let rows: Vec<f64> =
        words.iter().filter_map(|words| words.strip_suffix("\u{a0}°C")?.parse().ok()).collect();
    let shown = words
        .iter()
        .map(|words| words.replace('\u{2212}', "-"))
        .filter_map(|words| words.parse::<f64>().ok());
    let cells: Vec<f64> = shown.skip(humidity.len()).collect();
    assert_eq!(cells.len(), humidity.len() * rows.len());
    let mut compared = 0;
    for line in include_str!("../published/dewpoint-grid.csv").lines().skip(1) {
        let figures: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let row = rows.iter().position(|row| (row - figures[0]).abs() < 1e-9);
        let column = humidity.iter().position(|column| (column - figures[1]).abs() < 1e-9);
        let Some((row, column)) = row.zip(column) else { continue };
        let cell = cells[row * humidity.len() + column];
        let wanted = figures[2] + 3.0;
        assert!(cell >= wanted - 0.03 && cell < wanted + 1.03, "{line}: {cell}");
        compared += 1;
    }
    assert!(compared > 60, "{compared}");
}

/// A name of any length, now and then one that cannot be broken.
fn name() -> impl Strategy<Value = String> {
    let any = prop_oneof![8 => "[a-z]{1,12}( [a-z-]{1,14}){0,5}", 1 => "[A-Z]{0,60}", 1 => "\\PC{0,30}"];
    any.prop_filter("what a figure that is no number would print", |name| !name.contains("NaN"))
}

/// Figures of every size, those that make no sense among them.
fn figure() -> impl Strategy<Value = f64> {
    prop_oneof![
        12 => (-5.0..5.0f64).prop_map(|power| 10f64.powf(power)),
        1 => Just(0.0), 1 => any::<f64>(), 1 => Just(-1.0), 1 => Just(f64::NAN),
    ]
}

fn range() -> impl Strategy<Value = Bounds> {
    (figure(), figure()).prop_filter_map("no bounds", |(one, other)| Bounds::between(one, other))
}

fn standing() -> impl Strategy<Value = CoatStanding> {
    prop_oneof![Just(CoatStanding::Chosen), Just(CoatStanding::Possible), Just(CoatStanding::Refused)]
}

fn system() -> impl Strategy<Value = System> {
    prop_oneof![Just(System::UsFirst), Just(System::SiFirst)]
}

fn maybe(figures: impl Strategy<Value = f64>) -> impl Strategy<Value = Option<f64>> {
    prop::option::weighted(0.8, figures)
}

fn any_grid() -> impl Strategy<Value = DewPointGrid> {
    let degrees = || prop_oneof![9 => -25.0..70.0f64, 1 => any::<f64>()];
    let percent = prop_oneof![9 => 0.0..110.0f64, 1 => any::<f64>()];
    let margin = prop_oneof![9 => 0.0..25.0f64, 1 => any::<f64>()];
    (margin, maybe(degrees()), maybe(degrees()), maybe(percent), system(), prop::option::of(name())).prop_map(
        |(margin, coldest, warmest, dampest, system, zones)| DewPointGrid {
            margin,
            coldest,
            warmest,
            dampest,
            zones,
            ..grid(system)
        },
    )
}

fn any_ladder() -> impl Strategy<Value = Ladder> {
    let kind = prop_oneof![Just(RungKind::Wall), Just(RungKind::OldCoat), Just(RungKind::NewCoat)];
    let rung = (name(), range(), kind).prop_map(|(title, sd, kind)| Rung { title, sd, kind });
    (
        prop::collection::vec(rung, 0..9),
        range(),
        maybe(figure()),
        prop_oneof![100.0..400.0f64, figure()],
        system(),
    )
        .prop_map(|(rungs, face, limit, air, system)| Ladder {
            rungs,
            limit,
            air,
            system,
            face: Face { sd: face, ..quay(&[], open_coat()).face },
            ..quay(&[], open_coat())
        })
}

fn any_profile() -> impl Strategy<Value = CondensationProfile> {
    let layer = (name(), 0.001..1.0f64, 0.02..3.0f64, 1.0..300.0f64);
    let layer = layer.prop_map(|(title, thickness, conductivity, mu)| ProfileLayer {
        title,
        thickness,
        conductivity,
        mu,
    });
    let coat = (name(), figure(), figure(), name(), standing());
    let coat = coat.prop_map(|(title, sd, kilograms, words, standing)| {
        let gathered = Gathered { kilograms, words };
        ProfileCoat { title, sd, more: gathered.clone(), gathered, standing }
    });
    let air =
        || (-40.0..40.0f64, 0.0..100.0f64).prop_map(|(celsius, percent)| Air::new(celsius, percent).unwrap());
    (prop::collection::vec(layer, 0..8), prop::collection::vec(coat, 0..7), air(), air(), figure()).prop_map(
        |(layers, coats, outside, inside, kept)| CondensationProfile {
            kept,
            layers,
            coats,
            outside,
            inside,
            ..brick_wall()
        },
    )
}

fn any_drying() -> impl Strategy<Value = DryingCurve> {
    let coat =
        (name(), figure(), standing()).prop_map(|(title, sd, standing)| DryingCoat { title, sd, standing });
    (prop::collection::vec(coat, 0..7), figure(), figure(), figure())
        .prop_map(|(coats, depth, mu, boundary)| DryingCurve { coats, depth, mu, boundary, ..drying() })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn words_keep_apart_whatever_the_data(
        grid in any_grid(), rungs in any_ladder(), profile in any_profile(), curve in any_drying(),
    ) {
        let drawings = [dew_point_grid(&grid), ladder(&rungs), condensation_profile(&profile), drying_curve(&curve)];
        for drawing in drawings.into_iter().flatten() {
            prop_assert_eq!(faults(&drawing), Vec::<String>::new(), "{:?}", drawing.id);
        }
    }
}
