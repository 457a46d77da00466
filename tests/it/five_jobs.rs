//! Five more jobs: what a careful practitioner expects of each, written down as decisions.

use std::collections::BTreeSet;

use perpend::inference::Truth;
use perpend::rulebook::book::{Bound, Law};

use crate::demos::{BOOK, Job, decided, job};
use crate::document::sets::jobs;

fn required(job: &Job, zone: &str, clauses: &[&str]) {
    for clause in clauses {
        assert_eq!(job.clause(zone, clause), Some(Truth::Yes), "{clause} in {zone}");
    }
}

fn silent(job: &Job, zone: &str, clauses: &[&str]) {
    for clause in clauses {
        assert_eq!(job.clause(zone, clause), None, "{clause} in {zone}");
    }
}

#[test]
fn the_limestone_of_the_villa_stays_bare_and_its_wing_gets_an_open_coat_under_consent() {
    let villa = job("limestone-villa", &[]);
    assert_eq!(villa.pick("E1"), "leave-bare");
    assert_eq!(villa.chosen("E1", "leave-bare"), Truth::Yes);
    assert_eq!(villa.pick("E2"), "sol-silicate");
    for film in ["acrylic-dispersion", "elastomeric-film", "oil-paint", "silicone-resin-emulsion"] {
        assert_eq!(villa.refused("E2", film), Truth::Yes, "{film}");
    }
    assert_eq!((villa.stops("E1"), villa.stops("E2")), (vec![], vec![]));
    required(&villa, "E2", &["consent-before-work", "no-way-back", "panel-watched", "lead-control-uk"]);
    required(&villa, "E2", &["work-at-height", "primer-solvent", "independent-inspector"]);
    required(&villa, "E1", &["no-acid-on-lime", "lime-mortar", "no-grinder", "metal-stain"]);
    silent(&villa, "E2", &["lead-renovation-rule", "lead-worker-rule", "fall-protection", "silica-dust"]);
    let (pressure, _) = villa.limit("E2", "wash-pressure", Bound::AtMost);
    assert!(pressure.contains("200"), "the limestone beside it sets the jet: {pressure}");
    let without = job("limestone-villa", &[("consent-on-file: {value: yes", "consent-on-file: {value: no")]);
    assert_eq!(without.stops("E2"), ["consent-not-yet-given"]);
}

#[test]
fn the_peeling_hall_is_stripped_by_hand_first_and_its_coat_waits_for_the_trial() {
    let hall = job("block-hall-acrylic", &[]);
    assert_eq!(hall.pick("B1"), "sol-silicate");
    assert_eq!(hall.chosen("B1", "sol-silicate"), Truth::Unknown);
    assert!(hall.asks("residue-after-trial"));
    assert_eq!(hall.removal("B1"), ["hand-tools", "stripper", "water-rinse"]);
    assert_eq!(hall.stops("B1"), Vec::<&str>::new());
    // Somebody asks to grind the film off: barred, and said to whoever asked.
    required(&hall, "B1", &["lead-barred-methods", "lead-higher-bands", "lead-vertical-sheet"]);
    required(&hall, "B1", &["close-storm-drain", "held-wash-water", "lift-tie-off", "sealant-renewed"]);
    required(&hall, "B1", &["no-chlorinated-stripper", "caustic-materials", "coat-before-sealant"]);
    let (solvent, by) = hall.limit("B1", "coating-solvent", Bound::AtMost);
    assert!(solvent.starts_with("50"), "{solvent}");
    assert_eq!(by, "solvent-in-the-ozone-transport-region");
}

#[test]
fn the_foot_of_the_barn_gets_nothing_that_lasts_and_its_nests_are_left_alone() {
    let barn = job("salty-barn", &[]);
    assert!(["sacrificial-lime-finish", "leave-bare"].contains(&barn.pick("S1")), "{}", barn.pick("S1"));
    for coat in ["two-component-silicate", "sol-silicate", "silicone-resin-emulsion", "acrylic-dispersion"] {
        assert_eq!(barn.refused("S1", coat), Truth::Yes, "{coat}");
    }
    required(&barn, "S1", &["desalination", "damp-zone-left-open", "lime-mortar", "ladder-foot"]);
    required(&barn, "S2", &["nests-left-alone", "droppings", "keep-sound-old-coat"]);
    assert_eq!(barn.pick("S2"), "two-component-silicate");
    silent(&barn, "S2", &["desalination", "lead-presumed"]);
    let (pressure, by) = barn.limit("S1", "wash-pressure", Bound::AtMost);
    assert!(pressure.starts_with("100"), "{pressure}");
    assert_eq!(by, "face-sandy-or-worn");
    let (foot, _) = barn.limit("S1", "ladder-foot", Bound::AtLeast);
    assert!(foot.starts_with('4'), "16 ft of ladder stands 4 ft out: {foot}");
}

#[test]
fn the_school_stops_until_a_laboratory_has_seen_its_coating() {
    let school = job("textured-school", &[]);
    assert_eq!(school.stops("A1"), ["material-that-may-hold-asbestos"]);
    required(&school, "A1", &["asbestos-check", "work-withheld", "lead-renovation-rule", "lead-home-papers"]);
    required(&school, "A1", &["local-lead-authority", "lead-vertical-sheet", "public-way-protection"]);
    required(&school, "A1", &["scaffold-tie-spacing", "sheeted-scaffold", "binder-identified"]);
    let clear = job(
        "textured-school",
        &[("suspect-material: suspect", "suspect-material: {value: sampled-clear, known: measured}")],
    );
    assert_eq!(clear.stops("A1"), Vec::<&str>::new());
    let told = job(
        "textured-school",
        &[("suspect-material: suspect", "suspect-material: {value: sampled-clear, known: told}")],
    );
    assert!(told.clause("A1", "asbestos-check").is_some(), "hearsay clears no coating");
    let found = job("textured-school", &[("suspect-material: suspect", "suspect-material: found")]);
    required(&found, "A1", &["asbestos-notice"]);
    assert_eq!(found.stops("A1"), ["material-that-may-hold-asbestos"]);
}

#[test]
fn the_parapet_is_repaired_and_not_coated() {
    let parapet = job("parapet-repair", &[]);
    assert_eq!(parapet.pick("P1"), "leave-bare");
    assert_eq!(parapet.stops("P1"), Vec::<&str>::new(), "no coat waits for the leak; the repair is the work");
    required(
        &parapet,
        "P1",
        &["leaks-first", "rake-joints", "point-joints", "lime-mortar", "mortar-analysis"],
    );
    required(&parapet, "P1", &["scaffold-ties", "sidewalk-shed", "public-way-protection", "hot-work"]);
    required(&parapet, "P1", &["silica-dust", "rooted-plants", "droppings", "repair-instead-of-coating"]);
    silent(&parapet, "P1", &["two-coats", "coating-product", "temperature-at-coating", "coating-solvent"]);
    let (watch, by) = parapet.limit("P1", "fire-watch", Bound::AtLeast);
    assert_eq!((watch.as_str(), by), ("60\u{a0}min", "longer-fire-watch"));
}

#[test]
fn no_clause_cites_the_law_of_another_country() {
    let mut foreign = BTreeSet::new();
    for (_, survey) in jobs() {
        let text = std::fs::read_to_string(survey).unwrap();
        for country in ["US", "UK", "EU", "other"] {
            let mut moved = ["US", "UK"].iter().fold(text.clone(), |text, own| {
                text.replace(&format!("\n  country: {own}\n"), &format!("\n  country: {country}\n"))
            });
            if country != "US" {
                moved = moved.replace("\n  place: new-york-city\n", "\n");
            }
            assert!(moved.contains(&format!("country: {country}")));
            for clause in decided(moved).outcome.zones.iter().flat_map(|zone| &zone.clauses) {
                let clause = &BOOK.clauses[clause.clause.0];
                let sources = clause.cites.iter().map(|cited| &BOOK.sources[cited.source.0]);
                for source in sources.filter(|source| source.law == Law::Binding) {
                    if !source.countries.is_empty() && !source.countries.iter().any(|own| own == country) {
                        foreign.insert(format!("`{}` cites `{}` in {country}", clause.name, source.name));
                    }
                }
            }
        }
    }
    assert_eq!(foreign, BTreeSet::new());
}
