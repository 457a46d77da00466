//! All questions put to a book, and what came of each.

use super::circuit::Bit;
use super::count::{count, laws};
use super::prover::{Prover, ask};
use super::question::{self, About, Question};
use super::settle;
use super::solve::Verdict;
use super::witness::{Rest, Witness, of_goals};
use crate::inference::Plan;
use crate::rulebook::book::{Book, FactId};
use crate::wall::Reach;

/// How hard to try, and what the book cannot tell by itself.
#[derive(Clone, Debug)]
pub struct Terms {
    /// Dead ends that the solver may run into, over all questions: a measure that is the same on every machine.
    pub dead_ends: u64,
    /// Facts that something outside the rules reads: answers from which other facts are worked out.
    pub read_elsewhere: Vec<FactId>,
    /// What worked facts can come to, as far as the tables alone tell.
    pub reach: Vec<Reach>,
    /// Whether kinds of survey are counted.
    pub counting: Counting,
}

/// Whether it is counted in how many kinds of survey something shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counting {
    /// For every witness.
    Kinds,
    /// Not at all, to be quick.
    LeftOut,
}

/// What became of one question.
#[derive(Clone, Debug)]
pub enum Standing {
    /// It is as it should be, for every survey.
    Proved,
    /// It is not, and this survey shows it.
    Shown(Box<Witness>),
    /// It is not: no survey does what some survey should.
    NoSurvey,
    /// The budget ran out.
    NotSettled,
    /// The gates found a survey in which the evaluator sees nothing of the sort: a mistake of the prover.
    NotReplayed,
}

impl Standing {
    /// Whether nothing is to be said of it.
    pub fn is_good(&self) -> bool {
        matches!(self, Self::Proved)
    }
}

/// What became of all questions to a book.
#[derive(Clone, Debug)]
pub struct Report {
    /// Each question with its standing.
    pub answers: Vec<(About, Standing)>,
    /// Asked facts that settle nothing, or of which that is not settled.
    pub idle: Vec<(FactId, Standing)>,
    /// How many asked facts were looked at.
    pub facts: usize,
    /// Dead ends left of the budget.
    pub left: u64,
}

impl Report {
    /// How many promises are proved.
    pub fn kept_promises(&self) -> usize {
        let of = |wanted: usize| {
            self.answers.iter().filter(move |(about, _)| {
                matches!(about, About::Broken(promise) | About::Unsure(promise) if *promise == wanted)
            })
        };
        let promises = self.answers.iter().filter_map(|(about, _)| match about {
            About::Broken(promise) => Some(*promise),
            _ => None,
        });
        promises.filter(|promise| of(*promise).all(|(_, standing)| standing.is_good())).count()
    }
}

/// Puts every question to a book.
pub fn prove(book: &Book, terms: &Terms) -> Report {
    let plan = Plan::of(book);
    let mut prover = Prover::of(book, &plan, &terms.reach);
    let questions = question::all(&mut prover);
    let laws = prover.more(|bench| laws(bench, book));
    let mut left = terms.dead_ends;
    let bits: Vec<_> = questions.iter().map(|question| question.bit).collect();
    let verdicts = ask((&prover.circuit, &prover.space), &bits, &mut left);
    let answers = questions
        .iter()
        .zip(verdicts)
        .map(|(question, verdict)| standing(&prover, (&laws, terms.counting), question, verdict));
    let answers: Vec<(About, Standing)> = quieted(answers.collect());
    let asked = settle::asked(book, &terms.read_elsewhere);
    let facts = asked.len();
    let idle = settle::idle(&mut prover, &asked, &mut left);
    Report { answers, idle, facts, left }
}

fn standing(
    prover: &Prover<'_>,
    (laws, counting): (&[Option<Bit>], Counting),
    question: &Question<'_>,
    verdict: Verdict,
) -> (About, Standing) {
    let standing = match (verdict, question.about.is_bad_if_found()) {
        (Verdict::NotSettled, _) => Standing::NotSettled,
        (Verdict::Never, true) | (Verdict::Found(_), false) => Standing::Proved,
        (Verdict::Never, false) => Standing::NoSurvey,
        (Verdict::Found(sheet), true) => {
            let rest =
                if matches!(question.about, About::Unsure(_)) { Rest::Unanswered } else { Rest::Anything };
            let witness = of_goals(prover, (&sheet, question.bit), &question.goals, rest);
            let count = (counting == Counting::Kinds && !matches!(question.about, About::Unsure(_)))
                .then(|| count((&prover.circuit, &prover.space), laws, question.bit));
            witness.map_or(Standing::NotReplayed, |witness| {
                Standing::Shown(Box::new(Witness { count, ..witness }))
            })
        }
    };
    (question.about, standing)
}

/// What follows from another remark is not said again: a rule that never applies never matters, and a promise that is
/// broken is not kept either.
fn quieted(answers: Vec<(About, Standing)>) -> Vec<(About, Standing)> {
    let bad: Vec<About> =
        answers.iter().filter(|(_, standing)| !standing.is_good()).map(|(about, _)| *about).collect();
    let follows = |about: &About| match about {
        About::Matters(rule) => bad.contains(&About::Applies(*rule)),
        About::Unsure(promise) => bad.contains(&About::Broken(*promise)),
        _ => false,
    };
    answers.into_iter().filter(|(about, standing)| standing.is_good() || !follows(about)).collect()
}
