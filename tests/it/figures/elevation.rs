//! Elevations: to scale, their codes in their zones, the small key of what is kept off.

use perpend::drawing::chart::{Elevation, Rectangle, ZonePlace, ZoneState, elevation_key, keep_off_key};
use perpend::drawing::{Drawing, Frame, Mark, Mm, Tone};
use perpend::units::System;
use proptest::prelude::*;

use super::{faults, figure, name, system};

fn rectangle(left: f64, base: f64, width: f64, height: f64) -> Rectangle {
    Rectangle { left, base, width, height }
}

fn zone(code: &str, state: ZoneState, places: &[Rectangle]) -> ZonePlace {
    ZonePlace { code: code.to_owned(), state, places: places.to_vec() }
}

/// A front with a band of bare stone, a stopped gable, a zone too small for its code, and sky beside the gable.
fn front(system: System) -> Elevation {
    let windows = (0..6).map(f64::from).map(|at| rectangle(1.0 + at * 2.2, 1.9, 1.2, 2.1));
    Elevation {
        id: "elevation-1".to_owned(),
        title: "Quay front (W)".to_owned(),
        width: (14.2, "14.2\u{a0}m (46.6\u{a0}ft)".to_owned()),
        height: (9.0, "9\u{a0}m (29.5\u{a0}ft)".to_owned()),
        openings: Some(windows.collect()),
        bare: Some(vec![rectangle(0.0, 4.4, 14.2, 0.3)]),
        zones: vec![
            zone("A1", ZoneState::Coated, &[rectangle(0.0, 0.6, 14.2, 5.4)]),
            zone("A2", ZoneState::Open, &[rectangle(0.0, 0.0, 14.2, 0.6)]),
            zone("B", ZoneState::Bare, &[rectangle(0.0, 6.0, 14.2, 1.2)]),
            zone("C", ZoneState::Stopped(vec![1, 3]), &[rectangle(4.0, 7.2, 6.0, 1.8)]),
        ],
        notes: vec!["Of zone C the elevations show 11 of 20\u{a0}m².".to_owned()],
        system,
    }
}

pub(super) fn samples() -> Vec<(&'static str, Drawing)> {
    let unmeasured = Elevation {
        id: "elevation-2".to_owned(),
        openings: None,
        bare: None,
        notes: Vec::new(),
        zones: vec![zone("D", ZoneState::Coated, &[rectangle(0.0, 0.0, 14.2, 9.0)])],
        ..front(System::UsFirst)
    };
    vec![
        ("elevation", elevation_key(&front(System::SiFirst)).unwrap()),
        ("elevation-unmeasured", elevation_key(&unmeasured).unwrap()),
        ("keep-off", keep_off_key("keep-off-1", &[unmeasured, front(System::SiFirst)]).unwrap()),
    ]
}

/// Marks of one kind with their corners, in mm.
fn areas(drawing: &Drawing, of: Tone) -> Vec<[f64; 4]> {
    let corners = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Area { corners, tone } if *tone == of => Some(corners),
        _ => None,
    });
    let sides = corners.map(|corners| {
        let (from, to) = (corners[0], corners[2]);
        [from.x, from.y, to.x, to.y].map(Mm::millimetres)
    });
    sides.collect()
}

#[test]
fn an_elevation_is_to_scale_and_its_codes_stand_in_their_zones() {
    let elevation = front(System::SiFirst);
    let drawing = elevation_key(&elevation).unwrap();
    assert!(drawing.note.contains("drawn 1 : 150."), "{}", drawing.note);
    let drawn = areas(&drawing, Tone::Tint);
    let windows = elevation.openings.as_ref().unwrap();
    assert_eq!(drawn.len(), windows.len() + 1, "each opening, and the one of the key");
    let foot = drawn[0][3] + windows[0].base * 1000.0 / 150.0;
    for (drawn, window) in drawn.iter().zip(windows) {
        assert!((drawn[2] - drawn[0] - window.width * 1000.0 / 150.0).abs() < 0.02, "{drawn:?}");
        assert!((drawn[3] - drawn[1] - window.height * 1000.0 / 150.0).abs() < 0.02, "{drawn:?}");
    }
    let left = drawn[0][0] - windows[0].left * 1000.0 / 150.0;
    for code in ["A1", "B", "C"] {
        let zone = elevation.zones.iter().find(|zone| zone.code == code).unwrap();
        let texts = drawing.texts();
        let (_, frame) = texts.iter().find(|(text, _)| text.words.starts_with(code)).unwrap();
        let inside = zone.places.iter().any(|place| {
            let (from, to) = (left + place.left * 1000.0 / 150.0, foot - place.base * 1000.0 / 150.0);
            frame.left >= from
                && frame.right <= from + place.width * 1000.0 / 150.0
                && frame.bottom <= to
                && frame.top >= to - place.height * 1000.0 / 150.0
        });
        assert!(inside, "{code}: {frame:?}");
        let on_opening = drawn.iter().take(windows.len()).any(|opening| {
            let [left, top, right, bottom] = *opening;
            frame.overlaps(&Frame { left, top, right, bottom })
        });
        assert!(!on_opening, "{code}");
    }
    let beside = drawing.texts().iter().any(|(text, _)| text.words == "A2 not settled");
    assert!(beside, "a zone too low for its code is named beside the elevation");
    assert_eq!(
        drawing.caption,
        "Quay front (W): no coat on zone B, nor on the hatched place, nor on zone C before its stop is released."
    );
}

#[test]
fn an_elevation_of_nothing_is_not_drawn() {
    let flat = Elevation { width: (0.0, String::new()), ..front(System::SiFirst) };
    assert_eq!(elevation_key(&flat), None);
    let beyond = rectangle(13.9, 0.0, 1.0, 1.0);
    let outside = Elevation { openings: Some(vec![beyond]), ..front(System::SiFirst) };
    assert_eq!(elevation_key(&outside), None);
    let coated = Elevation {
        zones: vec![zone("A1", ZoneState::Coated, &[rectangle(0.0, 0.0, 14.2, 9.0)])],
        bare: Some(Vec::new()),
        ..front(System::SiFirst)
    };
    assert_eq!(keep_off_key("keep-off-1", &[coated]), None);
}

/// Mostly a share of a side, so that most places lie on the elevation.
fn rectangles(most: usize) -> impl Strategy<Value = Vec<(f64, f64, f64, f64)>> {
    let share = || prop_oneof![600 => 0.0..1.0f64, 1 => any::<f64>()];
    prop::collection::vec((share(), share(), share(), share()), 0..most)
}

fn any_elevation() -> impl Strategy<Value = Elevation> {
    let side =
        || (prop_oneof![12 => (-1.0..3.0f64).prop_map(|power| 10f64.powf(power)), 1 => figure()], name());
    let state = prop_oneof![
        Just(ZoneState::Coated),
        Just(ZoneState::Bare),
        Just(ZoneState::Open),
        prop::collection::vec(1..30usize, 1..4).prop_map(ZoneState::Stopped)
    ];
    let code = prop_oneof![6 => "[A-Z][0-9]{0,2}", 1 => "[A-Za-z0-9._-]{1,40}"];
    let zones = prop::collection::vec((code, state, rectangles(4)), 0..9);
    let places = || prop::option::weighted(0.8, rectangles(12));
    (side(), side(), name(), places(), places(), zones, system()).prop_map(
        |(width, height, title, openings, bare, zones, system)| {
            let place = |(x, y, wide, high): &(f64, f64, f64, f64)| {
                rectangle(x * width.0, y * height.0, wide * (1.0 - x) * width.0, high * (1.0 - y) * height.0)
            };
            let all = |places: &Vec<_>| places.iter().map(place).collect::<Vec<_>>();
            let zones = zones.iter().map(|(code, state, places)| zone(code, state.clone(), &all(places)));
            Elevation {
                zones: zones.collect(),
                openings: openings.as_ref().map(all),
                bare: bare.as_ref().map(all),
                title,
                system,
                width: width.clone(),
                height: height.clone(),
                ..front(system)
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn words_of_elevations_keep_apart_whatever_lies_on_them(
        elevations in prop::collection::vec(any_elevation(), 1..6)
    ) {
        let whole = elevations.iter().filter_map(elevation_key);
        for drawing in whole.chain(keep_off_key("keep-off-1", &elevations)) {
            prop_assert_eq!(faults(&drawing), Vec::<String>::new());
        }
    }
}
