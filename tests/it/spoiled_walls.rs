//! What spoils a wall and what must not: each test is a row of the reference on old masonry, written as a decision.

use perpend::inference::Truth;
use perpend::rulebook::book::Bound;

use crate::demos::{Job, job};

const HALL_FACE: &str = "wall:
      - {material: cement-render, thickness: 20 mm, known: measured}";

/// The hall of 1968, its walls faced with another material and their face as told.
fn hall_of(material: &str, face: &str) -> Job {
    let wall = format!(
        "joints: sound\n    wall:\n      - {{material: {material}, thickness: 100 mm, known: measured}}"
    );
    job("ferrier-lane-hall", &[(HALL_FACE, &wall), ("face: sound", face)])
}

#[test]
fn brick_waits_for_three_per_cent_and_render_for_five() {
    let house = job("watch-house", &[]);
    let (most, by) = house.limit("Q2", "brick-moisture", Bound::AtMost);
    assert_eq!((most.as_str(), by), ("3\u{a0}%", "brick-dry-enough"));
    assert!(house.clause("Q2", "brick-moisture").is_some());
    assert_eq!(house.clause("Q1a", "brick-moisture"), None, "its face is render");
    assert_eq!(house.limit("Q1a", "moisture-content", Bound::AtMost).0, "5\u{a0}%");
}

#[test]
fn a_filled_crack_stands_as_long_as_its_slowest_filler() {
    let still = job("watch-house", &[("watched: watched-moving", "watched: watched-still")]);
    let (least, by) = still.limit("Q2", "repair-cure", Bound::AtLeast);
    assert_eq!((least.as_str(), by), ("28\u{a0}days", "crack-filler-under-a-mineral-coat"));
}

#[test]
fn soft_brick_bears_200_psi_and_hard_brick_600_until_a_trial() {
    let soft = job("tithe-wall", &[]);
    let (most, by) = soft.limit("T1", "wash-pressure", Bound::AtMost);
    assert!(most.contains("200"), "{most}");
    assert_eq!(by, "soft-face-in-reach");
    let hard = hall_of("hard-brick", "face: sound");
    let (most, by) = hard.limit("H1", "wash-pressure", Bound::AtMost);
    assert!(most.contains("600"), "{most}");
    assert_eq!(by, "hard-face-not-tried");
    assert!(hard.limit("H1", "fan-angle", Bound::AtLeast).0.contains("40"));
}

#[test]
fn nothing_mineral_goes_over_a_film_that_stays() {
    let kept = job("block-hall-acrylic", &[("failing: half, kept: no", "failing: none, kept: yes")]);
    for coat in [
        "sol-silicate",
        "dispersion-silicate",
        "two-component-silicate",
        "limewash",
        "sacrificial-lime-finish",
    ] {
        assert!(kept.refused_by("B1", coat).contains(&"old-film-stays-on"), "{coat}");
    }
    assert!(!kept.refused_by("B1", "silicone-resin-emulsion").contains(&"old-film-stays-on"));
    for clause in ["test-adhesion-of-kept-paint", "chalk-and-knife"] {
        assert_eq!(kept.clause("B1", clause), Some(Truth::Yes), "{clause}");
    }
    // A film that stays is proved by tape and knife, not counted as residue.
    assert_eq!(kept.clause("B1", "residue-check"), None);
    assert!(!kept.asks("residue-after-trial"));
    let half = job("block-hall-acrylic", &[("failing: half, kept: no", "failing: half, kept: yes")]);
    assert_eq!(half.clause("B1", "residue-check"), Some(Truth::Yes), "half gone, it comes off");
}

#[test]
fn limewash_that_stays_under_oil_that_comes_off_is_no_film() {
    let villa = job("limestone-villa", &[]);
    for clause in ["test-adhesion-of-kept-paint", "chalk-and-knife", "further-removal-cycle"] {
        assert_ne!(villa.clause("E2", clause), Some(Truth::Yes), "{clause}");
    }
    assert_eq!(villa.clause("E2", "residue-check"), Some(Truth::Yes));
    assert!(villa.refused_by("E2", "sol-silicate").is_empty());
}

#[test]
fn no_acrylic_where_it_freezes() {
    let refused =
        |job: &Job| job.refused_by("H1", "acrylic-dispersion").contains(&"closed-film-where-it-freezes");
    assert!(refused(&job("ferrier-lane-hall", &[])));
    assert!(!refused(&job("ferrier-lane-hall", &[("freeze-thaw: yes", "freeze-thaw: no")])));
}

#[test]
fn limewash_in_the_weather_waits_for_a_plan_to_renew_it() {
    let refused = |job: &Job| job.refused_by("S2", "limewash").contains(&"limewash-out-in-the-weather");
    assert!(refused(&job("salty-barn", &[])));
    let plan = [("freeze-thaw: yes", "freeze-thaw: yes\n  limewash-upkeep: yes")];
    assert!(!refused(&job("salty-barn", &plan)));
    let mild = [("freeze-thaw: yes", "freeze-thaw: no\n  limewash-upkeep: no")];
    assert!(!refused(&job("salty-barn", &mild)));
}

#[test]
fn cast_stone_with_its_face_stays_bare() {
    for face in ["face: sound", "face: weathered"] {
        let stone = hall_of("cast-stone", face);
        assert_eq!(stone.pick("H1"), "leave-bare", "{face}");
        assert!(stone.refused_by("H1", "sol-silicate").contains(&"cast-stone-with-its-face"), "{face}");
    }
    let eroded = hall_of("cast-stone", "face: sandy");
    assert!(!eroded.refused_by("H1", "sol-silicate").contains(&"cast-stone-with-its-face"));
}

#[test]
fn a_bare_wall_is_washed_behind_a_signed_panel_and_not_over_salts_leaks_or_loose_grain() {
    let washing =
        ["cleaning-panel", "water-cleaning", "mist-cleaning", "iron-free-water", "no-wetting-before-frost"];
    let sound = job("tithe-wall", &[]);
    for clause in washing {
        assert_eq!(sound.clause("T1", clause), Some(Truth::Yes), "{clause}");
    }
    for change in
        [("bloom: none", "bloom: once"), ("leak: no", "leak: yes"), ("face: sound", "face: crumbling")]
    {
        let spoiled = job("tithe-wall", &[change]);
        for clause in ["cleaning-panel", "water-cleaning", "mist-cleaning"] {
            assert_eq!(spoiled.clause("T1", clause), None, "{clause} with {}", change.1);
        }
        assert_eq!(spoiled.clause("T1", "dry-cleaning"), Some(Truth::Yes));
    }
}

#[test]
fn a_wall_left_bare_gets_no_primer() {
    let bare = job(
        "tithe-wall",
        &[("face: sound", "face: skin-lost"), ("coat-asked-for: yes", "coat-asked-for: no")],
    );
    assert_eq!(bare.pick("T1"), "leave-bare");
    assert_eq!(bare.clause("T1", "mineral-primer"), None);
    assert_eq!(bare.clause("T1", "skin-lost-watched"), None);
    let coated = job("tithe-wall", &[("face: sound", "face: skin-lost")]);
    assert!(coated.clause("T1", "skin-lost-watched").is_some(), "a year of watching comes first");
}

#[test]
fn no_silicate_primer_goes_on_salts() {
    let salty = job("salty-barn", &[("face: weathered", "face: sandy")]);
    assert_eq!(salty.clause("S1", "mineral-primer"), None, "bloom, salts past the line and splash");
    assert_eq!(salty.clause("S2", "mineral-primer"), Some(Truth::Yes));
}

#[test]
fn a_primer_that_stays_in_protected_stone_is_owned_up_to() {
    let villa = job("limestone-villa", &[("face: sound", "face: sandy")]);
    assert_eq!(villa.clause("E2", "no-way-back"), Some(Truth::Yes));
}

#[test]
fn a_chimney_stands_in_the_rain_wherever_its_wall_stands() {
    let chimney = job(
        "ferrier-lane-hall",
        &[("element: wall", "element: chimney"), ("rain-exposure: moderate", "rain-exposure: sheltered")],
    );
    assert_eq!(chimney.clause("H1", "rain-uptake"), Some(Truth::Yes));
    assert_eq!(chimney.clause("H1", "parapet-examined"), Some(Truth::Yes));
    assert_eq!(chimney.clause("H1", "leaks-first"), None, "nothing leaks");
    let wall = job("ferrier-lane-hall", &[("rain-exposure: moderate", "rain-exposure: sheltered")]);
    assert_eq!(wall.clause("H1", "rain-uptake"), None);
}

#[test]
fn a_wall_rinsed_of_growth_or_of_old_acid_dries_too() {
    for change in [("growth: none", "growth: algae"), ("acid-washed: no", "acid-washed: yes")] {
        let rinsed = job("ferrier-lane-hall", &[change]);
        let (least, _) = rinsed.limit("H1", "drying-time", Bound::AtLeast);
        assert_eq!(least, "3\u{a0}days", "{}", change.1);
    }
}

#[test]
fn limewash_is_brushed_off_dry() {
    assert_eq!(job("salty-barn", &[]).removal("S2"), ["hand-tools"]);
}
