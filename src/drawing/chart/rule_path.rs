//! The path of a decision (R1): what the survey says, the rules that read it, what they leave to choose, and the
//! clauses that follow. What does not fit is counted and said.

use std::collections::BTreeSet;

use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Dash, Drawing, Pen, Thickness};
use crate::drawing::measure::{broken, height_of};
use crate::drawing::number::{capital, listed};
use crate::drawing::sheet::{Place, Said, Sheet, Type, corners, outline};
use crate::drawing::tone::Tone;

/// A decision with what led to it and what follows from it.
#[derive(Debug, Clone, PartialEq)]
pub struct RulePath {
    /// Name of the figure.
    pub id: String,
    /// The zones that it holds for, such as `zone Q1`; `None` for the whole work.
    pub zones: Option<String>,
    /// Facts, those that most rules read first.
    pub facts: Vec<PathBox>,
    /// Rules, those that do most first.
    pub rules: Vec<PathBox>,
    /// Which rule reads which fact, by their places in the lists.
    pub reads: BTreeSet<(usize, usize)>,
    /// What is chosen.
    pub choice: PathBox,
    /// Options refused, and options in all.
    pub refused: (usize, usize),
    /// Clauses that follow from the choice.
    pub follows: Vec<PathBox>,
    /// Groups of zones whose paths no figure shows, and their zones, said by the last figure of a paper.
    pub undrawn: (usize, usize),
}

/// A box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PathBox {
    /// What it is.
    pub title: String,
    /// What is said of it.
    pub detail: String,
    /// Whether it is certain.
    pub sure: Sure,
}

/// Whether something is certain.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sure {
    /// It is.
    Yes,
    /// It rests on what nobody knows yet.
    No,
}

/// The most boxes of a column.
const MOST: usize = 8;
/// Where columns begin and how wide they are: facts, rules, choice, clauses; mm.
const COLUMNS: [(f64, f64); 4] = [(0.0, 38.0), (46.0, 50.5), (103.5, 22.5), (133.0, 38.0)];
const HEADS: [&str; 4] = ["What is known", "Rules that speak", "Chosen", "What follows"];
/// Room of the heads, height of a box and from one to the next; mm.
const HEAD: f64 = 6.0;
const HIGH: f64 = 7.8;
const STEP: f64 = 9.6;
/// Between a box and its words; mm.
const PAD: f64 = 1.2;
/// Most lines of the choice.
const LINES: usize = 5;

const FRAME: Pen = Pen::solid(Thickness::Fine, Tone::Graphite);
const LINK: Pen = Pen::solid(Thickness::Fine, Tone::Rule);

/// The path; `None` where no rule speaks.
pub fn rule_path(path: &RulePath) -> Option<Drawing> {
    if path.rules.is_empty() {
        return None;
    }
    let mut sheet = Sheet::default();
    let (facts, reads) = fewest_crossings(path);
    let [facts, rules, follows] = [&facts, &path.rules, &path.follows].map(|all| shown(all));
    let rows = [facts, rules, follows].iter().map(|all| all.len()).max()?.max(3);
    let bottom = HEAD + STEP * count(rows) - (STEP - HIGH);
    for ((left, _), head) in
        COLUMNS.into_iter().zip(HEADS).filter(|(_, head)| *head != "What follows" || !follows.is_empty())
    {
        sheet.label((left, 2.0), head, Type::QUIET, Anchor::Start);
    }
    let [of_facts, of_rules, of_choice, of_follows] = COLUMNS;
    let middles = |all: &[PathBox]| column(all.len(), bottom);
    let (fact_rows, rule_rows, follow_rows) = (middles(facts), middles(rules), middles(follows));
    let middle = f64::midpoint(HEAD, bottom);
    for (fact, rule) in &reads {
        if let (Some(from), Some(to)) = (fact_rows.get(*fact), rule_rows.get(*rule)) {
            sheet.line(&[(of_facts.0 + of_facts.1, *from), (of_rules.0, *to)], LINK);
        }
    }
    for (from, rule) in rule_rows.iter().zip(rules) {
        sheet.line(&[(of_rules.0 + of_rules.1, *from), (of_choice.0, middle)], link(rule.sure));
    }
    for (to, clause) in follow_rows.iter().zip(follows) {
        sheet.line(&[(of_choice.0 + of_choice.1, middle), (of_follows.0, *to)], link(clause.sure));
    }
    for (all, rows, place) in
        [(facts, &fact_rows, of_facts), (rules, &rule_rows, of_rules), (follows, &follow_rows, of_follows)]
    {
        for (shown, row) in all.iter().zip(rows) {
            put(&mut sheet, shown, place, *row);
        }
    }
    put_choice(&mut sheet, &path.choice, of_choice, middle);
    Some(sheet.finished(FROM_MARGIN, bottom + 0.6, said(path)))
}

fn shown(all: &[PathBox]) -> &[PathBox] {
    all.get(..MOST).unwrap_or(all)
}

/// The facts that are shown, each about as far down as the rules that read it, so that few lines cross; with the pairs
/// of facts and rules.
fn fewest_crossings(path: &RulePath) -> (Vec<PathBox>, Vec<(usize, usize)>) {
    let height = |fact: usize| {
        let rules = path.reads.iter().filter(|(known, rule)| *known == fact && *rule < MOST);
        let (sum, number) = rules.fold((0, 0), |(sum, number), (_, rule)| (sum + rule, number + 1));
        count(sum) / count(number).max(1.0)
    };
    let mut order: Vec<usize> = (0..path.facts.len().min(MOST)).collect();
    order.sort_by(|one, other| height(*one).total_cmp(&height(*other)));
    let place = |fact: &usize| order.iter().position(|known| known == fact);
    let reads = path.reads.iter().filter_map(|(fact, rule)| Some((place(fact)?, *rule)));
    (order.iter().filter_map(|fact| path.facts.get(*fact).cloned()).collect(), reads.collect())
}

/// Middles of so many boxes, around the middle of the figure.
fn column(boxes: usize, bottom: f64) -> Vec<f64> {
    let middle = f64::midpoint(HEAD, bottom);
    (0..boxes).map(|at| middle + STEP * (count(at) - (count(boxes) - 1.0) / 2.0)).collect()
}

fn link(sure: Sure) -> Pen {
    if sure == Sure::Yes { LINK } else { LINK.dashed(Dash::Short) }
}

fn frame(sure: Sure, pen: Pen) -> Pen {
    if sure == Sure::Yes { pen } else { pen.dashed(Dash::Short) }
}

/// A box with its two lines.
fn put(sheet: &mut Sheet, shown: &PathBox, (left, wide): (f64, f64), middle: f64) {
    let (from, to) = ((left, middle - HIGH / 2.0), (left + wide, middle + HIGH / 2.0));
    sheet.area(&corners(from, to), Tone::Paper);
    sheet.line(&outline(from, to), frame(shown.sure, FRAME));
    let lines = [(&shown.title, Type::SMALL), (&shown.detail, Type::QUIET)];
    let lines: Vec<_> = lines.into_iter().filter(|(words, _)| !words.is_empty()).collect();
    let step = height_of(Type::SMALL.size) + 0.5;
    let first = middle - step * (count(lines.len()) - 1.0) / 2.0;
    for (number, (words, kind)) in lines.into_iter().enumerate() {
        one_line(sheet, (left + PAD, first + step * count(number)), words, kind, wide - 2.0 * PAD);
    }
}

fn one_line(sheet: &mut Sheet, at: Place, words: &str, kind: Type, wide: f64) {
    for words in broken(words, kind.size, kind.bold, wide, 1) {
        sheet.label(at, &words, kind, Anchor::Start);
    }
}

/// The box of what is chosen, as high as its words.
fn put_choice(sheet: &mut Sheet, choice: &PathBox, (left, wide): (f64, f64), middle: f64) {
    let room = wide - 2.0 * PAD;
    let title = broken(&choice.title, Type::CHOSEN.size, Type::CHOSEN.bold, room, LINES);
    let detail = broken(&choice.detail, Type::QUIET.size, Type::QUIET.bold, room, 2);
    let lines: Vec<(String, Type)> = title
        .into_iter()
        .map(|words| (words, Type::CHOSEN))
        .chain(detail.into_iter().map(|words| (words, Type::QUIET)))
        .collect();
    let step = height_of(Type::CHOSEN.size) + 0.4;
    let high = step * count(lines.len()) + 2.0 * PAD;
    let (from, to) = ((left, middle - high / 2.0), (left + wide, middle + high / 2.0));
    sheet.area(&corners(from, to), Tone::Paper);
    sheet.line(&outline(from, to), frame(choice.sure, Pen::solid(Thickness::Heavy, Tone::Accent)));
    for (number, (words, kind)) in lines.iter().enumerate() {
        let y = from.1 + PAD + step * (count(number) + 0.5);
        sheet.label((left + PAD, y), words, *kind, Anchor::Start);
    }
}

fn said(path: &RulePath) -> Said {
    let title = cut(&path.choice.title);
    let of_zones = path.zones.as_ref().map(|zones| format!("{}: ", capital(zones))).unwrap_or_default();
    let (refused, options) = path.refused;
    let left = options.saturating_sub(refused);
    let why = match (refused, left) {
        (0, _) => format!("none of the {options} options is refused for certain"),
        (1, 1) => "the rules refuse the other option".to_owned(),
        (_, 1) => format!("the rules refuse the {refused} other options"),
        _ => format!("the rules refuse {refused} of the {options} options"),
    };
    let more = |all: &[PathBox], one: &str, many: &str| match all.len().saturating_sub(MOST) {
        0 => None,
        1 => Some(format!("1 {one}")),
        several => Some(format!("{several} {many}")),
    };
    let lacking: Vec<String> = [
        more(&path.facts, "fact", "facts"),
        more(&path.rules, "rule", "rules"),
        more(&path.follows, "clause", "clauses"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let lacking =
        if lacking.is_empty() { String::new() } else { format!(" Left out here: {}.", listed(&lacking)) };
    let undrawn = match path.undrawn {
        (0, _) => String::new(),
        (1, 1) => " No figure shows the path of 1 more zone: the tables below hold it.".to_owned(),
        (1, zones) => {
            format!(" No figure shows the path of {zones} more zones, alike in it: the tables below hold it.")
        }
        (groups, zones) => {
            format!(" No figure shows the {groups} paths of {zones} more zones: the tables below hold them.")
        }
    };
    let first = |all: &[PathBox]| {
        let titles: Vec<String> = all.iter().take(3).map(|one| cut(&one.title)).collect();
        listed(&titles)
    };
    Said {
        id: path.id.clone(),
        title: "From facts to clauses".to_owned(),
        caption: format!("{of_zones}{title}; {why}.{lacking}{undrawn}"),
        note: "A line joins a rule with what it reads; a broken edge is not certain. The tables below hold every rule and fact."
            .to_owned(),
        alt: alt(&[
            format!("{of_zones}{title}; {why}."),
            format!("Rules that speak first: {}.", first(&path.rules)),
            format!("They read {}.", first(&path.facts)),
        ]),
    }
}

/// A title, cut where it is too long to be listened to.
fn cut(title: &str) -> String {
    const LONGEST: usize = 60;
    let mut signs = title.chars();
    let kept: String = signs.by_ref().take(LONGEST).collect();
    if signs.next().is_some() { format!("{}…", kept.trim_end()) } else { kept }
}
