//! Figures of safety worked out beforehand, each with the row of `tests/published/safety-rules.csv` that it comes from: what
//! goes in, and what must come out of the trade book.

use perpend::diagnostic::Source;
use perpend::inference::Truth;
use perpend::rulebook::book::Bound;
use perpend::survey;
use perpend::units::{Dimension, Quantity};

use crate::demos::{BOOK, Job, decided};

/// A painted house wall of brick on which nothing is amiss.
const HOUSE: &str = "survey: 1
job:
  code: V-01
  name: Vectors
  issue-date: 2027-03-01
  country: US
  place: elsewhere
  use: dwelling
  homes: 1
  built: 1977
  protection: none
  federal-part: no
  freeze-thaw: no
  salt-air: no
  acid-air: no
  limewash-upkeep: no
  lead-removal-aim: no
  housing-aid: no
  windows-renewed: no
  harsh-method-asked: no
  conductors-near: no
  service-entrance: no
  hot-work: no
  reached-by: scaffold
  scaffold-base: 20 ft
  sheeted: no
  wash-trial: no
  work-height: 30 ft
  salt-scale: wta-masonry
zones:
  - code: V1
    name: Wall
    adjoins: [public-way]
    wall:
      - {material: common-brick, thickness: 300 mm, known: measured}
    coats:
      - {family: acrylic, layers: 2, failing: half, kept: no}
    cracks: []
    size: {width: 18 ft, height: 1 ft}
    openings: []
    not-coated: 0 m2
    way-distance: 100 ft
    coat-asked-for: yes
    wall-kind: solid
    element: wall
    foot-of-wall: no
    rain-exposure: sheltered
    face: sound
    joints: open
    grinding-hours: 0 h
    spalled-units: no
    loose-parts: no
    rusting-steel: no
    out-of-plumb: no
    sagging: no
    suspect-material: none
    wildlife: none
    growth: none
    stain: none
    sealant: none
    room-behind: dry
    acid-washed: no
    bare-wanted: no
    leak: no
    damp-seen: no
    bloom: none
    moisture: {value: 2 %, method: carbide, date: 2027-02-20, known: measured}
    water-drop: soaks-in
    chloride: {value: 0.01 %, method: laboratory, known: measured}
    nitrate: {value: 0.01 %, method: laboratory, known: measured}
    sulfate: {value: 0.01 %, method: laboratory, known: measured}
    lead-test: {value: not-tested, date: 2027-02-11, known: measured}
";

/// The house with words changed; every change must find its words.
fn text(changes: &[(&str, &str)]) -> String {
    let mut text = HOUSE.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "the house no longer says `{from}`");
        text = text.replace(from, to);
    }
    text
}

fn house(changes: &[(&str, &str)]) -> Job {
    decided(text(changes))
}

/// The limit that binds, exactly.
fn binds(job: &Job, quantity: &str, bound: Bound, figure: &str, dimension: Dimension) {
    let id = BOOK.quantities.iter().position(|own| own.name == quantity).unwrap();
    let limits = &job.outcome.zones[0].limits;
    let limit = limits.iter().find(|limit| limit.quantity.0 == id && limit.bound == bound);
    let entry = limit.and_then(|limit| limit.binding()).unwrap_or_else(|| panic!("no limit on `{quantity}`"));
    let wanted = Quantity::parse(figure, dimension).unwrap();
    assert_eq!(entry.value.value(), wanted.value(), "{quantity}: {} for {figure}", entry.value.written());
}

fn certain(job: &Job, clause: &str) -> bool {
    job.clause("V1", clause) == Some(Truth::Yes)
}

#[test]
fn si_02_a_wheel_of_so_many_inches_wants_so_much_air() {
    for (wheel, flow) in [("4.5 in.", "112.5 cfm"), ("5 in.", "125 cfm"), ("7 in.", "175 cfm")] {
        let wheel = format!("grinding-hours: 3 h\n    wheel-size: {wheel}");
        let job = house(&[("grinding-hours: 0 h", &wheel)]);
        assert!(certain(&job, "grinder-vacuum"));
        binds(&job, "tool-vacuum", Bound::AtLeast, flow, Dimension::AirFlow);
    }
}

#[test]
fn si_02_ground_mortar_wants_the_better_mask_past_four_hours() {
    for (hours, factor) in [("3 h", "10"), ("4 h", "10"), ("5 h", "25")] {
        let hours = format!("grinding-hours: {hours}");
        let job = house(&[("grinding-hours: 0 h", &hours)]);
        assert!(certain(&job, "mortar-grinding"));
        binds(&job, "respirator-factor", Bound::AtLeast, factor, Dimension::Number);
    }
}

#[test]
fn el_01_to_el_03_lines_are_kept_off_by_their_voltage_and_the_utilitys_letter() {
    let line = |voltage: &str, letter: &str| {
        let line = format!("conductors-near: yes\n  line-voltage: {voltage}\n{letter}");
        house(&[("conductors-near: no", &line)])
    };
    let (none, no, yes) = ("", "  line-confirmed: no\n", "  line-confirmed: {value: yes, known: measured}\n");
    for letter in [none, no] {
        for (voltage, distance) in [("69 kV", "127.6 in"), ("50 kV", "10 ft"), ("240 V", "10 ft")] {
            let job = line(voltage, letter);
            binds(&job, "conductor-clearance", Bound::AtLeast, distance, Dimension::Length);
        }
    }
    binds(&line("240 V", yes), "conductor-clearance", Bound::AtLeast, "3 ft", Dimension::Length);
    let told = "  line-confirmed: {value: yes, known: told}\n";
    binds(&line("240 V", told), "conductor-clearance", Bound::AtLeast, "10 ft", Dimension::Length);
}

#[test]
fn pu_01_what_stands_between_people_and_the_work_goes_by_height_and_distance() {
    let (cover, barrier, rail) = ("public-way-protection", "public-way-barrier", "public-way-rail");
    for (height, distance, wanted) in [
        ("30 ft", "4 ft", Some(cover)),
        ("30 ft", "7 ft", Some(cover)),
        ("30 ft", "10 ft", Some(barrier)),
        ("30 ft", "16 ft", None),
        ("8 ft", "4 ft", Some(rail)),
        ("8 ft", "5 ft", None),
    ] {
        let (tall, far) = (format!("work-height: {height}"), format!("way-distance: {distance}"));
        let job = house(&[("work-height: 30 ft", &tall), ("way-distance: 100 ft", &far)]);
        for clause in [cover, barrier, rail] {
            assert_eq!(certain(&job, clause), wanted == Some(clause), "{clause} at {height}, {distance} off");
        }
    }
}

#[test]
fn ht_04_a_scaffold_is_tied_past_four_times_its_base() {
    for (height, tied) in [("20 ft", false), ("21 ft", true)] {
        let tall = format!("work-height: {height}");
        let job = house(&[("work-height: 30 ft", &tall), ("scaffold-base: 20 ft", "scaffold-base: 5 ft")]);
        assert_eq!(certain(&job, "scaffold-tie-spacing"), tied, "{height}");
    }
    let narrow = house(&[("scaffold-base: 20 ft", "scaffold-base: 3 ft")]);
    binds(&narrow, "tie-rise", Bound::AtMost, "20 ft", Dimension::Length);
}

#[test]
fn ht_07_a_ladder_stands_a_quarter_of_its_length_out() {
    let ladder = [(
        "reached-by: scaffold\n  scaffold-base: 20 ft\n  sheeted: no",
        "reached-by: ladder\n  ladder-length: 20 ft",
    )];
    binds(&house(&ladder), "ladder-foot", Bound::AtLeast, "5 ft", Dimension::Length);
}

#[test]
fn st_06_a_lean_is_watched_then_acted_on() {
    let leaning = |lean: &str| {
        let lean = format!("out-of-plumb: yes\n    bulge: 0 mm\n    lean: {lean}\n    lean-height: 5 m");
        house(&[("out-of-plumb: no", &lean)])
    };
    let watched = leaning("20 mm");
    assert!(certain(&watched, "watch-lean") && watched.stops("V1").is_empty(), "{:?}", watched.stops("V1"));
    assert_eq!(leaning("50 mm").stops("V1"), ["wall-that-leans"]);
    let straight = leaning("19 mm");
    assert!(!certain(&straight, "watch-lean"));
}

#[test]
fn st_01_to_st_03_cracks_by_their_class() {
    let cracked = |width: &str| {
        let crack = format!(
            "cracks:\n      - {{width: {width}, pattern: map, watched: watched-still}}\n    several-wide-cracks: no"
        );
        house(&[("cracks: []", &crack)])
    };
    for (width, clause, stops) in [
        ("0.1 mm", "hairline-cracks", false),
        ("1 mm", "medium-cracks", false),
        ("5 mm", "wide-cracks", false),
        ("5.1 mm", "engineer-first", true),
        ("26 mm", "engineer-first", true),
    ] {
        let job = cracked(width);
        assert!(certain(&job, clause), "{clause} at {width}");
        assert_eq!(job.stops("V1").contains(&"crack-past-repair-by-filling"), stops, "{width}");
    }
    let several = [(
        "cracks: []",
        "cracks:\n      - {width: 3 mm, pattern: map, watched: watched-still}\n    several-wide-cracks: yes",
    )];
    assert_eq!(house(&several).stops("V1"), ["more-than-one-wide-crack"]);
}

#[test]
fn pb_03_a_small_job_is_let_off_and_a_barred_method_brings_it_back() {
    let scraped = house(&[]);
    assert_eq!(scraped.clause("V1", "lead-renovation-rule"), None, "18 square feet");
    // PB-16: the worker rule has no floor of area.
    assert!(certain(&scraped, "lead-presumed-exposure"));
    let torch = house(&[("harsh-method-asked: no", "harsh-method-asked: yes")]);
    assert!(certain(&torch, "lead-renovation-rule"));
    // PB-04
    assert!(certain(&torch, "lead-barred-methods"));
    assert!(!torch.removal("V1").contains(&"open-flame"), "{:?}", torch.removal("V1"));
    let larger = house(&[("width: 18 ft", "width: 21 ft")]);
    assert!(certain(&larger, "lead-renovation-rule"));
}

#[test]
fn pb_08_a_sheet_hangs_within_ten_feet_of_the_line() {
    for (distance, hangs) in [("9 ft", true), ("10 ft", false)] {
        let far = format!("way-distance: {distance}");
        let job = house(&[("way-distance: 100 ft", &far)]);
        assert_eq!(certain(&job, "lead-vertical-sheet"), hangs, "{distance}");
    }
}

#[test]
fn pu_05_homes_are_counted_by_owner_and_project() {
    let suspect = ("suspect-material: none", "suspect-material: suspect");
    let small = house(&[suspect]);
    assert!(certain(&small, "asbestos-workers") && small.clause("V1", "asbestos-notice").is_none());
    assert!(small.stops("V1").contains(&"material-that-may-hold-asbestos"));
    let found = house(&[("suspect-material: none", "suspect-material: found"), ("homes: 1", "homes: 5")]);
    assert!(certain(&found, "asbestos-notice"));
}

#[test]
fn mas_05_two_thousand_five_hundred_psi_on_soft_brick_is_rejected() {
    let trial = "wash-trial: yes";
    let harsh = "joints: open\n    wash-trial-pressure: {value: 2500 psi, known: measured}\n    wash-trial-flow: {value: 4 gpm, known: measured}\n    wash-trial-distance: {value: 300 mm, known: measured}";
    let soft = ("material: common-brick", "material: soft-brick");
    let written = text(&[("wash-trial: no", trial), ("joints: open", harsh), soft]);
    let (_, told) = survey::read(&Source::new("survey.yaml", written), &BOOK);
    assert!(told.iter().any(|one| one.is_error() && one.message.contains("2500 psi")), "{told:#?}");
    binds(&house(&[soft]), "wash-pressure", Bound::AtMost, "300 psi", Dimension::Pressure);
}
