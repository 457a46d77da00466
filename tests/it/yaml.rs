//! YAML into a tree of texts with places.

use perpend::diagnostic::{Diagnostic, Source};
use perpend::yaml::{Node, read};

fn tree(text: &str) -> (Option<Node>, Vec<Diagnostic>) {
    read(&Source::new("survey.yaml", text))
}

#[test]
fn scalars_stay_what_was_written() {
    let (root, mistakes) = tree("a: yes\nb: 012\nc: 0o17\nd: 1.0\ne: 'no'\nf: \"\"\n");
    assert_eq!(mistakes, []);
    let root = root.unwrap();
    let texts: Vec<_> = root.as_map().unwrap().iter().map(|(_, node)| node.as_text().unwrap()).collect();
    assert_eq!(texts, ["yes", "012", "0o17", "1.0", "no", ""]);
}

#[test]
fn nothing_none_and_absent_differ() {
    let (root, _) = tree("a:\nb: ~\nc: null\nd: []\n");
    let root = root.unwrap();
    for name in ["a", "b", "c"] {
        assert!(root.get(name).unwrap().is_empty());
    }
    assert_eq!(root.get("d").unwrap().as_list(), Some(&[][..]));
    assert_eq!(root.get("e"), None);
}

#[test]
fn places_hold_what_they_point_at() {
    let (root, _) = tree("zones:\n  - code: Q1a\n    wall: [a, b]\n  - code: \"Q2\"\n");
    let zones = root.unwrap();
    let zones = zones.get("zones").unwrap();
    assert_eq!(zones.place.text(), "- code: Q1a\n    wall: [a, b]\n  - code: \"Q2\"");
    let first = &zones.as_list().unwrap()[0];
    assert_eq!(first.get("wall").unwrap().place.text(), "[a, b]");
    assert_eq!(first.as_map().unwrap()[1].0.place.line_and_column(), (3, 5));
}
