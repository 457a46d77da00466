//! Paths of decisions: what is shown, what is counted as left out, and that lines join what they say.

use std::collections::BTreeSet;

use perpend::drawing::chart::{PathBox, RulePath, Sure, rule_path};
use perpend::drawing::{Drawing, Mark};
use proptest::prelude::*;

use super::{faults, name};

fn shown(title: &str, detail: &str, sure: Sure) -> PathBox {
    PathBox { title: title.to_owned(), detail: detail.to_owned(), sure }
}

/// A quay front: five rules refuse, one may.
fn quay() -> RulePath {
    RulePath {
        id: "rule-path-1".to_owned(),
        zones: Some("zone Q1".to_owned()),
        facts: vec![
            shown("built", "1874", Sure::Yes),
            shown("freeze thaw", "yes", Sure::Yes),
            shown("residue after trial", "not yet known", Sure::No),
        ],
        rules: vec![
            shown("solid-old-wall", "refuses 4 options", Sure::Yes),
            shown("closed-film-where-it-freezes", "refuses 3 options", Sure::Yes),
            shown("traces-left-by-removal", "may refuse 3 options", Sure::No),
        ],
        reads: BTreeSet::from([(0, 0), (1, 1), (2, 2), (0, 1)]),
        choice: shown("sol-silicate paint", "for now", Sure::No),
        refused: (5, 9),
        follows: vec![shown("Rain uptake", "rain-driven-wall", Sure::No)],
        undrawn: (0, 0),
    }
}

pub(super) fn samples() -> Vec<(&'static str, Drawing)> {
    let mut long = quay();
    long.facts.extend((0..9).map(|number| shown(&format!("fact {number}"), "yes", Sure::Yes)));
    long.follows = (0..9).map(|number| shown(&format!("Clause {number}"), "rule", Sure::Yes)).collect();
    vec![
        ("rule-path", rule_path(&quay()).unwrap()),
        ("rule-path-long", rule_path(&RulePath { zones: None, refused: (8, 9), ..long }).unwrap()),
    ]
}

#[test]
fn what_is_left_out_of_a_path_is_counted() {
    let all = samples();
    assert_eq!(all[0].1.caption, "Zone Q1: sol-silicate paint; the rules refuse 5 of the 9 options.");
    assert_eq!(
        all[1].1.caption,
        "sol-silicate paint; the rules refuse the 8 other options. Left out here: 4 facts and 1 clause."
    );
    let texts = all[1].1.texts();
    assert_eq!(texts.iter().filter(|(text, _)| text.words.starts_with("Clause ")).count(), 8);
    assert_eq!(rule_path(&RulePath { rules: Vec::new(), ..quay() }), None);
}

#[test]
fn paths_that_no_figure_shows_are_counted() {
    let caption = |undrawn| rule_path(&RulePath { undrawn, ..quay() }).unwrap().caption;
    let bare = "Zone Q1: sol-silicate paint; the rules refuse 5 of the 9 options.";
    assert_eq!(caption((0, 0)), bare);
    let with = |words: &str| format!("{bare} No figure shows {words}.");
    assert_eq!(caption((1, 1)), with("the path of 1 more zone: the tables below hold it"));
    assert_eq!(caption((1, 3)), with("the path of 3 more zones, alike in it: the tables below hold it"));
    assert_eq!(caption((2, 5)), with("the 2 paths of 5 more zones: the tables below hold them"));
}

/// Each rule is joined with the facts that it reads, wherever these stand.
#[test]
fn lines_join_a_rule_with_what_it_reads() {
    let drawing = rule_path(&quay()).unwrap();
    let middle = |words: &str| {
        let texts = drawing.texts();
        let (_, frame) = texts.iter().find(|(text, _)| text.words == words).unwrap();
        f64::midpoint(frame.top, frame.bottom)
    };
    let ends: Vec<(f64, f64)> = drawing
        .marks
        .iter()
        .filter_map(|mark| if let Mark::Lines { lines, .. } = mark { Some(lines) } else { None })
        .flatten()
        .filter(|line| line.len() == 2 && line[0].x.millimetres() < 40.0)
        .map(|line| (line[0].y.millimetres(), line[1].y.millimetres()))
        .collect();
    assert_eq!(ends.len(), quay().reads.len());
    for (fact, rule) in quay().reads {
        let (from, to) = (middle(&quay().facts[fact].title), middle(&quay().rules[rule].title));
        let joined = ends.iter().any(|(start, end)| (start - from).abs() < 3.0 && (end - to).abs() < 3.0);
        assert!(joined, "{fact} and {rule}: {ends:?}");
    }
}

fn any_path() -> impl Strategy<Value = RulePath> {
    let sure = || prop_oneof![Just(Sure::Yes), Just(Sure::No)];
    let one =
        move || (name(), name(), sure()).prop_map(|(title, detail, sure)| PathBox { title, detail, sure });
    let some = move || prop::collection::vec(one(), 0..12);
    let reads = prop::collection::btree_set((0..12usize, 0..12usize), 0..20);
    (
        some(),
        some(),
        some(),
        one(),
        reads,
        (0..20usize, 0..20usize),
        prop::option::of(Just("zones Q1 and Q2")),
    )
        .prop_map(|(facts, rules, follows, choice, reads, refused, zones)| RulePath {
            facts,
            rules,
            follows,
            choice,
            reads,
            refused,
            undrawn: refused,
            zones: zones.map(str::to_owned),
            ..quay()
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn words_of_paths_keep_apart(path in any_path()) {
        if let Some(drawing) = rule_path(&path) {
            prop_assert_eq!(faults(&drawing), Vec::<String>::new());
        }
    }
}
