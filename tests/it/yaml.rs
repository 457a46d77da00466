//! YAML into a tree of texts with places; what is wrong with a text; what hostile texts meet.

use std::fmt::Write;

use perpend::diagnostic::{Diagnostic, Source};
use perpend::yaml::{Node, Value, read};

fn tree(text: &str) -> (Option<Node>, Vec<Diagnostic>) {
    read(&Source::new("survey.yaml", text))
}

/// The tree with the place of every value, and the mistakes with theirs.
fn told(text: &str) -> String {
    let (root, mistakes) = tree(text);
    let mut out = String::new();
    for mistake in &mistakes {
        let place = mistake.place.as_ref().unwrap();
        writeln!(out, "{} {place} {:?}: {}", mistake.code, place.text(), mistake.message).unwrap();
        writeln!(out, "  help: {}", mistake.help.as_deref().unwrap_or("none")).unwrap();
        for (place, why) in &mistake.also {
            writeln!(out, "  also {place} {:?}: {why}", place.text()).unwrap();
        }
    }
    match root {
        Some(root) => tell(&root, 0, "", &mut out),
        None => out.push_str("no tree\n"),
    }
    out
}

fn tell(node: &Node, level: usize, name: &str, out: &mut String) {
    let (line, column) = node.place.line_and_column();
    write!(out, "{:indent$}{name}{line}:{column} ", "", indent = level * 2).unwrap();
    match &node.value {
        Value::Empty => writeln!(out, "empty {:?}", node.place.text()).unwrap(),
        Value::Text(text) => writeln!(out, "{text:?} from {:?}", node.place.text()).unwrap(),
        Value::List(nodes) => {
            writeln!(out, "list {:?}", node.place.text()).unwrap();
            for node in nodes {
                tell(node, level + 1, "- ", out);
            }
        }
        Value::Map(pairs) => {
            writeln!(out, "record {:?}", node.place.text()).unwrap();
            for (key, node) in pairs {
                tell(node, level + 1, &format!("{} = ", key.name), out);
            }
        }
    }
}

#[test]
#[expect(clippy::disallowed_methods, reason = "the cases are files")]
fn each_case_gives_its_tree_and_its_mistakes() {
    insta::with_settings!({ snapshot_path => "../cases/yaml", prepend_module_to_snapshot => false, omit_expression => true }, {
        insta::glob!("../cases/yaml", "*.yaml", |path| {
            insta::assert_snapshot!("read", told(&std::fs::read_to_string(path).unwrap()));
        });
    });
}
