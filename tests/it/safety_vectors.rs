//! Figures of safety worked out beforehand, each with the row of `tests/published/safety-rules.csv` that it comes from: what
//! goes in, and what must come out of the trade book.

use perpend::diagnostic::Source;
use perpend::inference::Truth;
use perpend::inference::outcome::Mark;
use perpend::rulebook::book::{Bound, EffectKind};
use perpend::rulebook::clause::Reader;
use perpend::survey;
use perpend::units::{Dimension, Quantity};

use crate::demos::{BOOK, Job, decided};
use crate::folders::reworded;

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

/// The house with words changed.
fn house(changes: &[(&str, &str)]) -> Job {
    decided(reworded(HOUSE, changes))
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

/// Who certainly releases the hold point before anything on the wall is covered or scraped.
fn held_by(job: &Job, name: &str) -> Option<&'static str> {
    let certain = job.zone("V1").hold_points.iter().filter(|duty| duty.mark == Mark::Certain);
    let mut effects = certain.flat_map(|duty| &BOOK.rules[duty.cause.rule.0].effects);
    effects.find_map(|effect| match &effect.kind {
        EffectKind::HoldPoint { name: own, before, released_by, .. } if own == name => {
            assert_eq!(BOOK.stages[before.0].name, "protect");
            Some(released_by.as_str())
        }
        _ => None,
    })
}

/// What a clause of the book says to one reader, line by line.
fn lines(clause: &str, reader: Reader) -> Vec<&'static str> {
    let clause = BOOK.clauses.iter().find(|own| own.name == clause).unwrap();
    clause.wording[&reader].text.lines().collect()
}

/// A crack of so many millimetres that was watched and is still.
fn still_crack(width: &str, pattern: &str, and: &str) -> Job {
    let crack =
        format!("cracks:\n      - {{width: {width}, pattern: {pattern}, watched: watched-still}}\n    {and}");
    house(&[("cracks: []", &crack)])
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
    for (distance, hangs) in [("9 ft", true), ("10 ft", true), ("10.1 ft", false)] {
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
    let written = reworded(HOUSE, &[("wash-trial: no", trial), ("joints: open", harsh), soft]);
    let (_, told) = survey::read(&Source::new("survey.yaml", written), &BOOK);
    assert!(told.iter().any(|one| one.is_error() && one.message.contains("2500 psi")), "{told:#?}");
    // The masonry table is stricter on a soft face than the 300 psi of this one.
    binds(&house(&[soft]), "wash-pressure", Bound::AtMost, "200 psi", Dimension::Pressure);
}

#[test]
fn st_03_st_06_st_08_what_may_fall_is_closed_off_and_worked_on_by_nobody() {
    let leaning = |lean: &str| {
        let lean = format!("out-of-plumb: yes\n    bulge: 0 mm\n    lean: {lean}\n    lean-height: 5 m");
        house(&[("out-of-plumb: no", &lean)])
    };
    let cracked = |width| still_crack(width, "map", "several-wide-cracks: no");
    for (what, job, closed) in [
        ("loose", house(&[("loose-parts: no", "loose-parts: yes")]), true),
        ("14.9 mm", cracked("14.9 mm"), false),
        ("15 mm", cracked("15 mm"), true),
        ("26 mm", cracked("26 mm"), true),
        ("1 in 100", leaning("50 mm"), false),
        ("1 in 55", leaning("91 mm"), true),
        ("1 in 50", leaning("100 mm"), true),
    ] {
        assert_eq!(certain(&job, "zone-closed"), closed, "{what}");
        assert_eq!(held_by(&job, "zone-secured"), closed.then_some("engineer"), "{what}");
        assert!(!job.stops("V1").is_empty() && certain(&job, "engineer-first"), "{what}");
        if closed {
            assert_eq!(job.clause("V1", "repair-without-coating"), None, "{what}: no work beside it");
        }
    }
    assert!(certain(&cracked("14.9 mm"), "repair-without-coating"));
}

#[test]
fn st_04_a_crack_of_any_width_through_units_at_a_corner_waits_for_the_engineer() {
    let through = |width, corner: &str| {
        let job = still_crack(width, "through-units", &format!("crack-at-corner: {corner}"));
        (certain(&job, "engineer-first"), job.stops("V1").contains(&"crack-through-units"))
    };
    assert_eq!(through("0.1 mm", "yes"), (true, true));
    assert_eq!(through("0.1 mm", "no"), (false, false));
    assert_eq!(through("2.5 mm", "no"), (true, true));
    let unasked = still_crack("0.1 mm", "through-units", "several-wide-cracks: no");
    assert!(unasked.asks("crack-at-corner"));
    assert_eq!(unasked.clause("V1", "engineer-first"), Some(Truth::Unknown));
}

#[test]
fn pb_15_a_test_under_the_definition_lifts_the_housing_rule_and_nothing_of_the_workers() {
    let tested = |answer: &str| {
        let answer = format!("lead-test: {{value: {answer}, date: 2027-02-11, known: measured}}");
        house(&[
            ("lead-test: {value: not-tested, date: 2027-02-11, known: measured}", &answer),
            ("width: 18 ft", "width: 30 ft"),
            ("housing-aid: no", "housing-aid: yes"),
        ])
    };
    let workers = ["lead-worker-rule", "lead-presumed-exposure", "lead-presumed", "lead-ground-sheet"];
    let housing = ["lead-renovation-rule", "lead-home-papers", "lead-clearance"];
    for (answer, guarded, ruled) in
        [("found", true, true), ("below-definition", true, false), ("clear-all-layers", false, false)]
    {
        let job = tested(answer);
        for clause in workers {
            assert_eq!(certain(&job, clause), guarded, "{clause}, {answer}");
        }
        for clause in housing {
            assert_eq!(certain(&job, clause), ruled, "{clause}, {answer}");
            assert_eq!(job.clause("V1", clause).is_some(), ruled, "{clause}, {answer}");
        }
    }
}

#[test]
fn pb_19_the_limits_of_california_stand_in_place_of_the_federal_ones() {
    for (place, air, action) in
        [("elsewhere", "50", "30"), ("california", "10", "2"), ("south-coast", "10", "2")]
    {
        let job = house(&[("place: elsewhere", &format!("place: {place}"))]);
        binds(&job, "lead-in-air", Bound::AtMost, air, Dimension::Number);
        binds(&job, "lead-action", Bound::AtMost, action, Dimension::Number);
        assert_eq!(certain(&job, "lead-state-california"), place != "elsewhere", "{place}");
    }
}

#[test]
fn el_02_and_el_05_an_insulated_line_of_300_volts_and_a_service_on_the_wall_are_kept_ten_feet_off() {
    let letter = "line-confirmed: {value: yes, known: measured}";
    for (voltage, distance) in
        [("299 V", "3 ft"), ("300 V", "10 ft"), ("10 kV", "10 ft"), ("69 kV", "127.6 in")]
    {
        let line = format!("conductors-near: yes\n  line-voltage: {voltage}\n  {letter}");
        let job = house(&[("conductors-near: no", &line)]);
        binds(&job, "conductor-clearance", Bound::AtLeast, distance, Dimension::Length);
    }
    let service = |more: &str| house(&[("service-entrance: no", &format!("service-entrance: yes{more}"))]);
    let unasked = service("");
    assert!(certain(&unasked, "overhead-conductors") && certain(&unasked, "service-entrance"));
    binds(&unasked, "conductor-clearance", Bound::AtLeast, "10 ft", Dimension::Length);
    let told = service(&format!("\n  line-voltage: 240 V\n  {letter}"));
    binds(&told, "conductor-clearance", Bound::AtLeast, "3 ft", Dimension::Length);
}

#[test]
fn el_05_and_el_09_nobody_but_an_electrician_isolates_and_nobody_wets_a_meter() {
    let entrance = lines("service-entrance", Reader::Section);
    assert!(entrance[0].starts_with("Do not wash, strip, coat, move or cover meter, mast"), "{entrance:?}");
    assert!(
        entrance.iter().all(|line| !line.contains("until")),
        "no report opens them to the crew: {entrance:?}"
    );
    let power = lines("power-for-wet-work", Reader::Section);
    for line in power.iter().filter(|line| line.contains("Isolate")) {
        assert!(line.contains("licensed electrician") && !line.contains("meter"), "{line}");
    }
    assert!(power.iter().any(|line| line.contains("Keep the jet off meters")), "{power:?}");
    // On a wall this thin no water jet is left: the rinse of the stripper alone asks for dead outlets.
    let job = house(&[("thickness: 300 mm", "thickness: 100 mm")]);
    assert!(job.removal("V1").contains(&"stripper") && !job.removal("V1").contains(&"water-rinse"));
    assert!(certain(&job, "power-for-wet-work"));
}

#[test]
fn pb_25_abatement_holds_all_work_until_the_licensed_firm_has_it() {
    let job = house(&[("lead-removal-aim: no", "lead-removal-aim: yes")]);
    assert_eq!(job.stops("V1"), ["lead-hazard-to-be-gone-for-good"]);
    assert!(certain(&job, "work-withheld") && certain(&job, "lead-abatement"));
    assert_eq!(held_by(&job, "abatement-firm"), Some("abatement-supervisor"));
}

#[test]
fn si_05_a_saw_cuts_with_water_alone() {
    for line in
        lines("other-dusty-tools", Reader::Section).into_iter().filter(|line| line.contains("power saw"))
    {
        assert!(line.contains("integrated water") && !line.contains("shroud"), "{line}");
    }
    let crew = lines("other-dusty-tools", Reader::Crew).concat();
    assert!(crew.starts_with("Saw: water on. Hammer:"), "{crew}");
}

#[test]
fn ht_01_edges_are_guarded_from_six_feet_on() {
    for (height, guarded) in [("5.9 ft", false), ("6 ft", true)] {
        let tall = format!("work-height: {height}");
        let job = house(&[("work-height: 30 ft", &tall)]);
        assert_eq!(certain(&job, "fall-protection"), guarded, "{height}");
    }
}

#[test]
fn al_01_whoever_points_in_lime_has_goggles_and_an_eyewash() {
    let bare = |joints: &str| {
        let joints = format!("joints: {joints}");
        let coats = "coats:\n      - {family: acrylic, layers: 2, failing: half, kept: no}";
        let hours = if joints.ends_with("sound") {
            "spalled-units: no"
        } else {
            "grinding-hours: 0 h\n    spalled-units: no"
        };
        house(&[
            (coats, "coats: []"),
            (
                "joints: open\n    grinding-hours: 0 h\n    spalled-units: no",
                &format!("{joints}\n    {hours}"),
            ),
            ("coat-asked-for: yes", "coat-asked-for: no"),
            ("built: 1977", "built: 1900"),
        ])
    };
    let pointed = bare("open");
    assert_eq!(pointed.pick("V1"), "leave-bare");
    assert!(certain(&pointed, "caustic-materials") && certain(&pointed, "no-quicklime"));
    binds(&pointed, "eyewash-distance", Bound::AtMost, "50 ft", Dimension::Length);
    assert!(!certain(&bare("sound"), "caustic-materials"));
}

#[test]
fn ht_06_a_scaffold_over_125_feet_is_designed_though_no_sheet_hangs_on_it() {
    for (height, designed) in [("125 ft", false), ("126 ft", true)] {
        let job = house(&[("work-height: 30 ft", &format!("work-height: {height}"))]);
        assert_eq!(certain(&job, "scaffold-designed"), designed, "{height}");
    }
}

#[test]
fn ch_13_rinsed_biocide_and_the_soap_of_a_bare_wall_are_caught_too() {
    let dry = [
        ("coats:\n      - {family: acrylic, layers: 2, failing: half, kept: no}", "coats: []"),
        ("element: wall", "element: wall\n    block-age: 100 years"),
        ("material: common-brick", "material: concrete-block"),
        ("joints: open\n    grinding-hours: 0 h", "joints: sound"),
    ];
    assert!(!certain(&house(&dry), "catch-wash-water"), "nothing wets this wall before its coat");
    let mut green = dry.to_vec();
    green.push(("growth: none", "growth: algae"));
    assert!(certain(&house(&green), "catch-wash-water"));
    assert!(!certain(&house(&green), "close-storm-drain"));
    green.push(("adjoins: [public-way]", "adjoins: [public-way, storm-drain]"));
    assert!(certain(&house(&green), "close-storm-drain"));
}

#[test]
fn ch_09_no_acid_on_an_old_wall_of_brick_in_lime() {
    for (built, none) in [("1977", false), ("1900", true)] {
        let job = house(&[("built: 1977", &format!("built: {built}"))]);
        assert_eq!(certain(&job, "no-acid-on-lime"), none, "{built}");
        assert_eq!(certain(&job, "no-raw-acid"), !none, "{built}");
    }
}

#[test]
fn st_02_the_cause_of_a_crack_over_a_millimetre_comes_before_its_filling() {
    for (width, asked) in [("1 mm", false), ("1.1 mm", true)] {
        let job = still_crack(width, "map", "several-wide-cracks: no");
        assert_eq!(certain(&job, "crack-cause"), asked, "{width}");
    }
}

#[test]
fn he_04_to_he_07_whoever_asks_for_consent_does_not_release_it() {
    let american = "country: US\n  place: elsewhere\n  use: dwelling\n  homes: 1\n";
    let british = "country: UK\n  lines-in-view: no\n  use: dwelling\n";
    let guarded = |country: &str, protection: &str| {
        let protection = format!("protection: {protection}\n  consent-on-file: no");
        let survey = [(american, country), ("protection: none", protection.as_str())];
        let us_only = [
            "  federal-part: no\n",
            "  lead-removal-aim: no\n",
            "  housing-aid: no\n",
            "  windows-renewed: no\n",
        ];
        let foreign = us_only.map(|line| (line, ""));
        if country == british { house(&[&survey[..], &foreign[..]].concat()) } else { house(&survey) }
    };
    for (country, protection) in [(american, "listed"), (american, "local"), (british, "listed")] {
        let job = guarded(country, protection);
        assert_eq!(held_by(&job, "consent-on-file"), Some("architect"), "{protection}");
        assert!(job.stops("V1").contains(&"consent-not-yet-given"), "{protection}");
    }
    let free = guarded(british, "local");
    assert_eq!(held_by(&free, "consent-on-file"), None, "painting is free there unless a direction binds");
    assert_eq!(held_by(&free, "direction-answered"), Some("architect"));
    assert!(free.stops("V1").contains(&"direction-not-yet-asked-about"));
    assert!(certain(&free, "independent-inspector"));
    let federal = house(&[("federal-part: no", "federal-part: yes")]);
    assert_eq!(held_by(&federal, "federal-review"), Some("architect"));
}
