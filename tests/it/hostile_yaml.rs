//! YAML that means harm or none at all: every text ends in a tree or a clear mistake, soon, and never in a panic.

use std::fmt::Write;
use std::time::{Duration, Instant};

use perpend::diagnostic::{Diagnostic, Source};
use perpend::yaml::{MOST_DEPTH, Node, Value, read};
use proptest::prelude::*;

/// Generous for a slow machine with a debug build; without the limits these texts would take hours.
const SOON: Duration = Duration::from_secs(20);

fn codes(text: &str) -> Vec<String> {
    let start = Instant::now();
    let (tree, mistakes) = read(&Source::new("hostile.yaml", text));
    assert!(start.elapsed() < SOON, "took {:?}", start.elapsed());
    assert!(tree.is_some() || mistakes.iter().any(Diagnostic::is_error), "neither a tree nor a mistake");
    mistakes.into_iter().map(|mistake| mistake.code).collect()
}

#[test]
fn a_hundred_megabytes_are_not_even_looked_at() {
    assert_eq!(codes(&"a: b\n".repeat(20 * 1024 * 1024)), ["YA001"]);
}

#[test]
fn names_that_stand_for_names_without_end_are_refused() {
    let mut text = "a: &a [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for (above, below) in ('a'..='i').zip('b'..='j') {
        writeln!(text, "{below}: &{below} [{}]", vec![format!("*{above}"); 10].join(", ")).unwrap();
    }
    assert_eq!(codes(&text), ["YA022"]);
}

#[test]
fn long_texts_repeated_by_name_are_refused() {
    let text = format!("a: &a {}\nb: [{}]\n", "x".repeat(1_000_000), vec!["*a"; 1000].join(", "));
    assert_eq!(codes(&text), ["YA022"]);
}

#[test]
fn names_that_nest_deeper_and_deeper_are_refused() {
    let mut text = "a0: &a0 [x]\n".to_owned();
    for level in 1..=MOST_DEPTH {
        writeln!(text, "a{level}: &a{level} [*a{}]", level - 1).unwrap();
    }
    assert_eq!(codes(&text), ["YA021"]);
}

#[test]
fn deep_brackets_and_deep_lines_are_refused() {
    assert_eq!(codes(&"[".repeat(100_000)), ["YA021"]);
    assert_eq!(codes(&"{a: ".repeat(100_000)), ["YA021"]);
    assert_eq!(codes(&"- ".repeat(100_000)), ["YA021"]);
    let lines: String =
        (0..200).fold(String::new(), |text, level| format!("{text}{}a:\n", " ".repeat(level)));
    assert_eq!(codes(&lines)[0], "YA021");
}

#[test]
fn depth_up_to_the_limit_is_read() {
    let inside = MOST_DEPTH - 1;
    assert_eq!(codes(&format!("{}x{}", "[".repeat(inside), "]".repeat(inside))), [] as [&str; 0]);
    assert_eq!(codes(&format!("{}x{}", "[".repeat(inside + 1), "]".repeat(inside + 1))), ["YA021"]);
}

#[test]
fn too_many_values_are_refused_and_many_are_read() {
    assert_eq!(codes(&"- a\n".repeat(199_999)), [] as [&str; 0]);
    assert_eq!(codes(&"- a\n".repeat(200_000)), ["YA022"]);
    let names = (0..90_000).fold(String::new(), |mut text, number| {
        writeln!(text, "n{number}: {number}").unwrap();
        text
    });
    assert_eq!(codes(&names), [] as [&str; 0]);
}

#[test]
fn binary_files_are_not_text() {
    for junk in ["\0\0\0", "a: \u{7f}", "%PDF-1.7\n\u{1}\u{2}", "PK\u{3}\u{4}\u{14}\0", "\u{1b}[31mred"] {
        assert_eq!(codes(junk), ["YA002"], "{junk:?}");
    }
    let bytes: Vec<u8> = (0..20_000_u32).map(|n| u8::try_from(n * 7919 % 251).unwrap()).collect();
    assert_eq!(codes(&String::from_utf8_lossy(&bytes)), ["YA002"]);
}

#[test]
fn one_endless_word_is_a_text_and_no_name() {
    let word = "x".repeat(2_000_000);
    assert_eq!(codes(&word), [] as [&str; 0]);
    assert_eq!(codes(&format!("{word}: 1\n")).len(), 1);
    assert_eq!(codes(&format!("'{word}")), ["YA004"]);
}

#[test]
fn ten_thousand_mistakes_are_told_once_each() {
    assert_eq!(codes(&"a: 1\n".repeat(10_000)).len(), 9_999);
    assert!(
        codes(&"a: @\nb: [\n".repeat(10_000)).len() <= 21,
        "breaks in the structure are followed a while only"
    );
}

/// Checks what must hold of every answer.
fn sound(text: &str) -> Result<(), TestCaseError> {
    let (tree, mistakes) = read(&Source::new("any.yaml", text));
    prop_assert!(tree.is_some() || mistakes.iter().any(Diagnostic::is_error));
    for place in mistakes.iter().filter_map(|mistake| mistake.place.as_ref()) {
        prop_assert!(text.is_char_boundary(place.start) && text.is_char_boundary(place.end), "{place:?}");
    }
    tree.map_or(Ok(()), |tree| sound_node(text, &tree))
}

fn sound_node(text: &str, node: &Node) -> Result<(), TestCaseError> {
    let place = &node.place;
    prop_assert!(text.is_char_boundary(place.start) && text.is_char_boundary(place.end), "{place:?}");
    match &node.value {
        Value::Empty | Value::Text(_) => Ok(()),
        Value::List(nodes) => nodes.iter().try_for_each(|node| sound_node(text, node)),
        Value::Map(pairs) => pairs.iter().enumerate().try_for_each(|(at, (key, node))| {
            let again = pairs.iter().skip(at + 1).any(|(other, _)| other.name == key.name);
            prop_assert!(!again, "`{}` stands twice", key.name);
            sound_node(text, node)
        }),
    }
}

const SURVEY: &str = "survey: 1
job: {code: MW-07, built: 1874}
zones:
  - code: Q1a
    wall:
      - {material: lime-render, thickness: 20 mm, known: measured}
      - &stone {material: rubble, thickness: [480 mm, 520 mm]}
    note: >
      soft at the foot
    coats: [{family: 'oil', layers: \"1\"}, *stone]
departures: []
";

/// A tree without places, and how to write it.
#[derive(Debug, Clone)]
enum Plain {
    Empty,
    Text(String),
    List(Vec<Plain>),
    Map(Vec<(String, Plain)>),
}

fn plain() -> impl Strategy<Value = Plain> {
    let leaf = prop_oneof![Just(Plain::Empty), "[ -~µ°é\n\t]{0,12}".prop_map(Plain::Text)];
    leaf.prop_recursive(5, 40, 5, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Plain::List),
            prop::collection::btree_map("[ -~]{0,8}", inner, 0..5)
                .prop_map(|map| { Plain::Map(map.into_iter().filter(|(name, _)| name != "<<").collect()) }),
        ]
    })
}

fn quoted(text: &str) -> String {
    let text = text.replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{}\"", text.replace('\n', "\\n").replace('\t', "\\t"))
}

fn in_brackets(tree: &Plain) -> String {
    match tree {
        Plain::Empty => "~".to_owned(),
        Plain::Text(text) => quoted(text),
        Plain::List(items) => format!("[{}]", items.iter().map(in_brackets).collect::<Vec<_>>().join(", ")),
        Plain::Map(pairs) => {
            let pair = |(name, value): &(String, Plain)| format!("{}: {}", quoted(name), in_brackets(value));
            format!("{{{}}}", pairs.iter().map(pair).collect::<Vec<_>>().join(", "))
        }
    }
}

fn in_lines(tree: &Plain, level: usize) -> String {
    let start = format!("\n{:indent$}", "", indent = level * 2);
    let lines: Vec<_> = match tree {
        Plain::List(items) => {
            items.iter().map(|item| format!("{start}- {}", in_lines(item, level + 1))).collect()
        }
        Plain::Map(pairs) => {
            let pair = |(name, value): &(String, Plain)| {
                format!("{start}{}: {}", quoted(name), in_lines(value, level + 1))
            };
            pairs.iter().map(pair).collect()
        }
        _ => Vec::new(),
    };
    if lines.is_empty() { in_brackets(tree) } else { lines.concat() }
}

fn same(node: &Node, tree: &Plain) -> bool {
    match (&node.value, tree) {
        (Value::Empty, Plain::Empty) => true,
        (Value::Text(text), Plain::Text(expected)) => text == expected,
        (Value::List(nodes), Plain::List(items)) => {
            nodes.len() == items.len() && nodes.iter().zip(items).all(|(node, item)| same(node, item))
        }
        (Value::Map(pairs), Plain::Map(items)) => {
            let pair = |((key, node), (name, item)): (&(perpend::yaml::Key, Node), &(String, Plain))| {
                key.name == *name && same(node, item)
            };
            pairs.len() == items.len() && pairs.iter().zip(items).all(pair)
        }
        _ => false,
    }
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in any::<String>()) {
        sound(&text)?;
    }

    #[test]
    fn any_text_of_yaml_marks_is_read_or_refused(text in "[-a1:,?&*!|>%@`'\"#{}\\[\\] \n\tµ~<]{0,60}") {
        sound(&text)?;
    }

    #[test]
    fn a_survey_with_a_slip_is_read_or_refused(
        at in any::<prop::sample::Index>(),
        gone in 0..4_usize,
        slip in "[-a1:,?&*!|>'\"#{}\\[\\] \n\tµ]{0,3}",
    ) {
        let at = at.index(SURVEY.len());
        let rest = &SURVEY.get((at + gone).min(SURVEY.len())..).unwrap();
        sound(&format!("{}{slip}{rest}", SURVEY.get(..at).unwrap()))?;
    }

    #[test]
    fn what_is_written_in_brackets_or_in_lines_reads_back(tree in plain()) {
        for text in [in_brackets(&tree), in_lines(&tree, 0)] {
            let (root, mistakes) = read(&Source::new("tree.yaml", text.as_str()));
            prop_assert_eq!(&mistakes, &[], "{}", text);
            prop_assert!(same(&root.unwrap(), &tree), "{}", text);
        }
    }
}
