//! `site.yaml`: which crew sheet says what, how forms are called, what the schedule lists.

use crate::diagnostic::Diagnostic;
use crate::document::data_file::DataFile;
use crate::units::{Dimension, Quantity, System};
use crate::yaml::Node;

/// More steps than these nobody reads on a scaffold.
const STEPS: usize = 9;
/// The cards that a sheet can carry.
const CARDS: [&str; 5] = ["mix", "coverage", "keep-off", "keep-off-key", "dew-point"];

/// Everything that `site.yaml` says.
#[derive(Debug, Clone, Default)]
pub(in crate::document) struct Site {
    /// The crew sheets.
    pub(super) tasks: Vec<Task>,
    pub(super) forms: Vec<FormTitle>,
    /// How often the tests of a sheet can be written down on it.
    pub(super) occasions: usize,
    pub(super) non_conformances: usize,
    /// Who is no independent tester.
    pub(super) own_side: String,
    /// Facts of the state found.
    pub(super) found: Vec<String>,
    /// Words that say that nothing was found.
    pub(super) sound: Vec<String>,
    pub(super) access: Vec<String>,
    /// Stages and kinds of form whose tested clauses are repair.
    pub(super) repair_stages: Vec<String>,
    pub(super) repair_forms: Vec<String>,
    pub(in crate::document) coat: CoatNames,
    /// Columns of the mix card.
    pub(super) mix: Vec<String>,
    pail: Option<(Quantity, Quantity)>,
}

/// A crew sheet.
#[derive(Debug, Clone)]
pub(super) struct Task {
    pub(super) name: String,
    pub(super) title: String,
    /// Stages whose hold points stand here.
    pub(super) stages: Vec<String>,
    /// Topics of rules whose cautions stand here.
    pub(super) cautions: Vec<String>,
    /// Quantities whose limits print large.
    pub(super) limits: Vec<String>,
    pub(super) cards: Vec<String>,
    pub(super) steps: Vec<Step>,
}

/// A step of a crew sheet with what it claims.
#[derive(Debug, Clone)]
pub(super) struct Step {
    pub(super) title: String,
    pub(super) clauses: Vec<String>,
    pub(super) articles: Vec<String>,
    pub(super) stages: Vec<String>,
}

/// How a form is called.
#[derive(Debug, Clone)]
pub(super) struct FormTitle {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) instrument: Option<String>,
}

/// What the coat is called in the book: slot, quantity, two columns.
#[derive(Debug, Clone, Default)]
pub(in crate::document) struct CoatNames {
    pub(in crate::document) slot: String,
    pub(super) number: String,
    pub(super) first: String,
    pub(super) next: String,
}

impl Site {
    /// Reads the file; what is wrong with it goes to `mistakes`.
    pub(in crate::document) fn of(root: &Node, mistakes: &mut Vec<Diagnostic>) -> Self {
        let mut reading = Reading { mistakes };
        let tasks = reading.records(root, "tasks").iter().map(|node| reading.task(node)).collect();
        let forms = reading.records(root, "forms").iter().map(|node| reading.form(node)).collect();
        let repairs = root.get("repairs").unwrap_or(root);
        let coat = root.get("coat").unwrap_or(root);
        let mut coat_name = |key| reading.text(coat, key);
        let coat = CoatNames {
            slot: coat_name("slot"),
            number: coat_name("number"),
            first: coat_name("first"),
            next: coat_name("next"),
        };
        Self {
            tasks,
            forms,
            occasions: reading.number(root, "occasions"),
            non_conformances: reading.number(root, "non-conformances"),
            own_side: reading.text(root, "own-side"),
            found: reading.names(root, "found"),
            sound: reading.names(root, "sound"),
            access: reading.names(root, "access"),
            repair_stages: reading.names(repairs, "stages"),
            repair_forms: reading.names(repairs, "forms"),
            coat,
            mix: reading.names(root, "mix"),
            pail: reading.pail(root),
        }
    }

    /// A pail as it is sold where these units come first.
    pub(super) fn pail(&self, system: System) -> Option<&Quantity> {
        self.pail.as_ref().map(|(us, si)| if system == System::UsFirst { us } else { si })
    }
}

struct Reading<'m> {
    mistakes: &'m mut Vec<Diagnostic>,
}

impl Reading<'_> {
    fn complain(&mut self, node: &Node, words: impl Into<String>) {
        DataFile::Site.complain(node, words, self.mistakes);
    }

    fn text(&mut self, node: &Node, key: &str) -> String {
        if let Some(text) = node.get(key).and_then(Node::as_text) {
            return text.to_owned();
        }
        self.complain(node, format!("there is no `{key}` here, and words are wanted"));
        String::new()
    }

    fn number(&mut self, node: &Node, key: &str) -> usize {
        let text = self.text(node, key);
        match text.parse() {
            Ok(number) if (1..=99).contains(&number) => number,
            _ => {
                self.complain(node, format!("`{key}` is `{text}`, and a number from 1 to 99 is wanted"));
                1
            }
        }
    }

    /// A list of names; none where the key is not there.
    fn names(&mut self, node: &Node, key: &str) -> Vec<String> {
        let Some(found) = node.get(key) else { return Vec::new() };
        let names: Option<Vec<String>> =
            found.as_list().map(|list| list.iter().filter_map(Node::as_text).map(str::to_owned).collect());
        names.unwrap_or_else(|| {
            self.complain(found, format!("`{key}` is {}, and a list of names is wanted", found.what()));
            Vec::new()
        })
    }

    fn records<'n>(&mut self, node: &'n Node, key: &str) -> &'n [Node] {
        if let Some(list) = node.get(key).and_then(Node::as_list) {
            return list;
        }
        self.complain(node, format!("there is no `{key}` here, and a list is wanted"));
        &[]
    }

    fn task(&mut self, node: &Node) -> Task {
        let steps = self.records(node, "steps");
        if steps.len() > STEPS {
            self.complain(
                node,
                format!("a crew sheet has {STEPS} steps at most, and this one {}", steps.len()),
            );
        }
        let cards = self.names(node, "cards");
        for card in cards.iter().filter(|card| !CARDS.contains(&card.as_str())) {
            self.complain(node, format!("`{card}` is no card; those known are `{}`", CARDS.join("`, `")));
        }
        Task {
            name: self.text(node, "name"),
            title: self.text(node, "title"),
            stages: self.names(node, "stages"),
            cautions: self.names(node, "cautions"),
            limits: self.names(node, "limits"),
            cards,
            steps: steps.iter().map(|step| self.step(step)).collect(),
        }
    }

    fn step(&mut self, node: &Node) -> Step {
        Step {
            title: self.text(node, "title"),
            clauses: self.names(node, "clauses"),
            articles: self.names(node, "articles"),
            stages: self.names(node, "stages"),
        }
    }

    fn form(&mut self, node: &Node) -> FormTitle {
        FormTitle {
            name: self.text(node, "name"),
            title: self.text(node, "title"),
            instrument: node.get("instrument").and_then(Node::as_text).map(str::to_owned),
        }
    }

    fn pail(&mut self, root: &Node) -> Option<(Quantity, Quantity)> {
        let node = root.get("pail")?;
        let mut size = |key| {
            let text = self.text(node, key);
            let size = Quantity::parse(&text, Dimension::Volume);
            if size.is_err() {
                self.complain(node, format!("`{text}` is no volume"));
            }
            size.ok()
        };
        size("us-first").zip(size("si-first"))
    }
}
