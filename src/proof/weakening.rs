//! What a firm's book lets some survey lose of the trade's: a duty, a refusal, a stop, a tighter limit. Found by holding
//! the books against each other over every survey, never by the form of a change: a finding that is widened weakens
//! whatever is asked for where it does not hold. The book is also laid out without each change in turn, so that each
//! loss is laid at the door of the changes without which it would not be.
//!
//! Where another option is chosen, other duties go with it, and to prefer otherwise is a firm's own business: such losses
//! are listed apart.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;

use super::beside::{Beside, Read, Side, Twofold};
use super::circuit::Bit;
use super::compare::Shown;
use super::count::count;
use super::goal::{Sight, limiting, requiring};
use super::item::{Item, figures, items};
use super::prover::ask;
use super::sheet::Sheet;
use super::solve::Verdict;
use super::tri::Tri;
use super::witness::{Rest, Witness, of_sheet, reduced};
use crate::inference::{Plan, Truth};
use crate::rulebook::book::{Book, OptionId, RuleId, Slot, SlotId};
use crate::wall::{self, Reach};

/// How much is told of each loss.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// That there is one.
    Named,
    /// Each with a survey that was cut down.
    Witnessed,
    /// The first so many with a survey that was cut down and counted; and what goes with another choice.
    Shown(usize),
}

/// Something that some survey loses.
#[derive(Clone, Debug)]
pub struct Weakening {
    /// What.
    pub item: Item,
    /// The changes to blame, by their place in the firm's list: one, or those that each take it away from some survey
    /// where the loss stays though any one of them is left out.
    pub by: Vec<usize>,
    /// A survey that shows it.
    pub shown: Shown,
}

impl Weakening {
    /// Whether a survey shows it.
    pub fn is_shown(&self) -> bool {
        matches!(self.shown, Shown::By(_) | Shown::Also)
    }
}

/// What a firm's book lets surveys lose.
#[derive(Clone, Debug)]
pub struct Weakenings {
    /// What is lost though the same is chosen, by change.
    pub found: Vec<Weakening>,
    /// Changes that let some survey choose otherwise.
    pub moves: Vec<usize>,
    /// Changes of which that is not settled within the budget.
    pub perhaps_moves: Vec<usize>,
    /// What some survey loses only with another choice; found at the greater depth alone.
    pub with_choice: Vec<Item>,
    /// The firm's book without each change that can decide something.
    pub(crate) less: Vec<(usize, Book)>,
}

/// Looks for what a firm's book weakens; nothing if it is no firm's book.
pub fn weakenings(book: &Book, dead_ends: u64, depth: Depth) -> Option<Weakenings> {
    let house = book.house.as_deref()?;
    let changes = house.changes.par_iter().enumerate().filter(|(_, change)| change.kind.decides());
    let less: Vec<(usize, Book)> =
        changes.filter_map(|(change, _)| Some((change, house.without(change)?))).collect();
    let books: Vec<&Book> =
        [&house.below, book].into_iter().chain(less.iter().map(|(_, book)| book)).collect();
    let laid: Vec<(Vec<Reach>, Plan)> =
        books.par_iter().map(|book| (wall::reach(book), Plan::of(book))).collect();
    let (reaches, plans): (Vec<Vec<Reach>>, Vec<Plan>) = laid.into_iter().unzip();
    let sides: Vec<Side<'_>> = books.iter().zip(&reaches).map(|(book, reach)| Side { book, reach }).collect();
    let figures = figures(&house.below);
    let sights: Vec<Sights<'_>> = books.par_iter().map(|book| items(book, &figures)).collect();
    let changes: Vec<usize> = less.iter().map(|(change, _)| *change).collect();
    let beside = Beside::laid(&sides, &plans);
    let mut search = Search { beside, sights: &sights, changes: &changes, left: dead_ends };
    let losses = search.losses();
    let questions = search.questions(&losses);
    let answered = search.answered(questions, depth);
    let (moves, perhaps_moves) = search.moves();
    let with_choice = match depth {
        Depth::Named | Depth::Witnessed => Vec::new(),
        Depth::Shown(_) => search.with_choice(losses, &answered),
    };
    let left = search.left;
    let found = blamed(book, answered, left);
    Some(Weakenings { found, moves, perhaps_moves, with_choice, less })
}

/// An answer that waits for whom to blame.
type Answered = (Item, Blame, Shown);

/// Lays each loss at a door. Where it stays lost whichever one change is left out, the changes are to blame that take it
/// away from some survey alone, over the trade's book; if none does, all of them together.
fn blamed(book: &Book, answered: Vec<Answered>, mut left: u64) -> Vec<Weakening> {
    let shared: Vec<Item> = answered
        .iter()
        .filter(|(_, blame, _)| *blame == Blame::Shared)
        .map(|(item, ..)| item.clone())
        .collect();
    let mut alone = if shared.is_empty() { BTreeMap::new() } else { alone(book, &shared, &mut left) };
    let all = answered.into_iter().map(|(item, blame, shown)| {
        let by = match blame {
            Blame::One(change) => vec![change],
            Blame::Shared => alone.remove(&item).unwrap_or_default(),
        };
        Weakening { item, by, shown }
    });
    let mut found: Vec<Weakening> = all.collect();
    found.sort_by(|one, other| (&one.by, &one.item).cmp(&(&other.by, &other.item)));
    found
}

/// For each of these items the changes that take it away from some survey alone.
fn alone(book: &Book, items_lost: &[Item], left: &mut u64) -> BTreeMap<Item, Vec<usize>> {
    let Some(house) = book.house.as_deref() else { return BTreeMap::new() };
    let changes = house.changes.iter().enumerate().filter(|(_, change)| change.kind.decides());
    let only: Vec<(usize, Book)> =
        changes.filter_map(|(change, _)| Some((change, house.only(change)?))).collect();
    let books: Vec<&Book> = std::iter::once(&house.below).chain(only.iter().map(|(_, book)| book)).collect();
    let reaches: Vec<Vec<Reach>> = books.iter().map(|book| wall::reach(book)).collect();
    let plans: Vec<Plan> = books.iter().map(|book| Plan::of(book)).collect();
    let sides: Vec<Side<'_>> = books.iter().zip(&reaches).map(|(book, reach)| Side { book, reach }).collect();
    let figures = figures(&house.below);
    let sights: Vec<Sights<'_>> = books.iter().map(|book| items(book, &figures)).collect();
    let mut beside = Beside::laid(&sides, &plans);
    let mut found = BTreeMap::new();
    for item in items_lost {
        let old = beside.look(0, sights.first().and_then(|sights| sights.get(item)));
        let bits: Vec<Bit> = (1..books.len())
            .map(|number| {
                let new = beside.look(number, sights.get(number).and_then(|sights| sights.get(item)));
                beside.surer(old, new)
            })
            .collect();
        let verdicts = ask((&beside.circuit, &beside.space), &bits, left);
        let lose = only.iter().zip(&verdicts).filter(|(_, verdict)| matches!(verdict, Verdict::Found(_)));
        let mut by: Vec<usize> = lose.map(|((change, _), _)| *change).collect();
        if by.is_empty() {
            by = only.iter().map(|(change, _)| *change).collect();
        }
        found.insert(item.clone(), by);
    }
    found
}

/// What one book can decide, with where to look for it.
type Sights<'b> = BTreeMap<Item, Sight<'b>>;

/// Something that comes out less surely, as wires.
struct Loss {
    item: Item,
    /// The slots whose choice the rules behind it read.
    slots: BTreeSet<String>,
    /// By the trade's book.
    old: Tri,
    /// Whatever is chosen.
    anyhow: Bit,
    /// Where the same is chosen.
    alike: Twofold,
}

/// Whether some survey loses something, the fault of some changes.
struct Question {
    item: Item,
    blame: Blame,
    slots: BTreeSet<String>,
    wanted: Twofold,
}

/// Without which change it would not be lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Blame {
    /// Without this one.
    One(usize),
    /// It stays lost, whichever one is left out.
    Shared,
}

/// The trade's book, the firm's, and the firm's without each change, laid out beside each other.
struct Search<'a> {
    beside: Beside<'a>,
    sights: &'a [Sights<'a>],
    /// The changes that the books after the second are without.
    changes: &'a [usize],
    left: u64,
}

impl Search<'_> {
    fn sight(&self, number: usize, item: &Item) -> Option<&Sight<'_>> {
        self.sights.get(number).and_then(|sights| sights.get(item))
    }

    fn look(&mut self, number: usize, item: &Item) -> Tri {
        let sights = self.sights;
        self.beside.look(number, sights.get(number).and_then(|sights| sights.get(item)))
    }

    /// What may come out less surely by the firm's book.
    fn losses(&mut self) -> Vec<Loss> {
        let mut losses = Vec::new();
        let sights = self.sights;
        for item in sights.first().into_iter().flat_map(BTreeMap::keys).filter(|item| item.is_duty()) {
            let (old, new) = (self.look(0, item), self.look(1, item));
            let anyhow = self.beside.surer(old, new);
            if anyhow == Bit::FALSE {
                continue;
            }
            let slots = self.slots_read(item);
            let (settled, same) = self.same_choice(&slots);
            let new = self.choosing_alike(new, &slots);
            let gone = self.beside.circuit.and(old.yes, new.no);
            let certain = self.beside.circuit.and(gone, settled);
            let lost = self.beside.surer(old, new);
            let open = self.beside.circuit.and(lost, same);
            let alike = Twofold { certain, open };
            losses.push(Loss { item: item.clone(), slots, old, anyhow, alike });
        }
        losses
    }

    /// For what is lost where the same is chosen: which changes are to blame?
    fn questions(&mut self, losses: &[Loss]) -> Vec<Question> {
        let wanted: Vec<Twofold> = losses.iter().map(|loss| loss.alike).collect();
        let verdicts = self.beside.ask(&wanted, &mut self.left);
        let mut questions = Vec::new();
        for (loss, (verdict, _)) in losses.iter().zip(verdicts) {
            if verdict != Verdict::Never {
                questions.extend(self.of_loss(loss));
            }
        }
        questions.sort_by(|one, other| (one.blame, &one.item).cmp(&(other.blame, &other.item)));
        questions
    }

    fn of_loss(&mut self, loss: &Loss) -> Vec<Question> {
        let Loss { item, slots, old, alike, .. } = loss;
        let Twofold { certain: gone, open: lost } = *alike;
        let (mut all_gone, mut all_lost) = (gone, lost);
        let mut found = Vec::new();
        let question = |blame, wanted| Question { item: item.clone(), blame, slots: slots.clone(), wanted };
        for (number, change) in (2..).zip(self.changes) {
            let without = self.look(number, item);
            let still = self.beside.surer(*old, without);
            let certain = self.beside.circuit.and(gone, without.yes);
            let open = self.beside.circuit.and(lost, !still);
            if open != Bit::FALSE {
                found.push(question(Blame::One(*change), Twofold { certain, open }));
            }
            all_gone = self.beside.circuit.and(all_gone, without.no);
            all_lost = self.beside.circuit.and(all_lost, still);
        }
        if all_lost != Bit::FALSE {
            found.push(question(Blame::Shared, Twofold { certain: all_gone, open: all_lost }));
        }
        found
    }

    /// The slots whose choice the rules behind an item read, in the trade's book or the firm's.
    fn slots_read(&self, item: &Item) -> BTreeSet<String> {
        let mut found = BTreeSet::new();
        for (number, side) in self.beside.sides.iter().enumerate().take(2) {
            let (Some(sight), Some(plan)) = (self.sight(number, item), self.beside.plans.get(number)) else {
                continue;
            };
            let (rules, own) = behind(side.book, plan, sight);
            let read = rules.iter().filter_map(|rule| plan.reads_choice_of.get(rule.0)).flatten();
            let slots = read.chain(&own).filter_map(|slot| side.book.slots.get(slot.0));
            found.extend(slots.map(|slot| slot.name.clone()));
        }
        found
    }

    /// The trade's book and the firm's choose the same: certainly so, and as far as anybody knows.
    fn same_choice(&mut self, slots: &BTreeSet<String>) -> (Bit, Bit) {
        let (mut settled, mut same) = (Bit::TRUE, Bit::TRUE);
        for name in slots {
            for (old, new) in self.chosen_by(name, (0, 1)) {
                let circuit = &mut self.beside.circuit;
                let yes = circuit.and(old.yes, new.yes);
                let no = circuit.and(old.no, new.no);
                let either = circuit.or(yes, no);
                settled = circuit.and(settled, either);
                let unlike = circuit.unlike(old, new);
                same = circuit.and(same, !unlike);
            }
        }
        (settled, same)
    }

    /// A truth of the firm's book with the trade's choice put in the place of the firm's: the same wherever the two are
    /// the same. What differs by the choice alone is then seen to be equal, and no solver need be asked.
    fn choosing_alike(&mut self, new: Tri, slots: &BTreeSet<String>) -> Tri {
        let mut with: Vec<(Bit, Bit)> = Vec::new();
        for (old, new) in slots.iter().flat_map(|slot| self.chosen_by(slot, (0, 1))) {
            for (theirs, ours) in [(old.yes, new.yes), (old.no, new.no)] {
                if !ours.is_constant() {
                    with.push(if ours.is_turned() { (!ours, !theirs) } else { (ours, theirs) });
                }
            }
        }
        match self.beside.circuit.replaced(&[new.yes, new.no], &with).as_slice() {
            [yes, no] => Tri { yes: *yes, no: *no },
            _ => new,
        }
    }

    /// What two books say of each option of a slot: is it chosen.
    fn chosen_by(&self, slot: &str, (one, other): (usize, usize)) -> Vec<(Tri, Tri)> {
        let names: BTreeSet<&str> = [one, other]
            .iter()
            .filter_map(|number| self.beside.sides.get(*number))
            .flat_map(|side| option_names(side.book, slot))
            .collect();
        names
            .iter()
            .map(|option| (self.chosen(one, slot, option), self.chosen(other, slot, option)))
            .collect()
    }

    fn chosen(&self, number: usize, slot: &str, option: &str) -> Tri {
        let found = self.beside.sides.get(number).and_then(|side| {
            let (slot, option) = named(side.book, slot, option)?;
            self.beside.made.get(number)?.slots.get(slot.0)?.chosen.get(option.0).copied()
        });
        found.unwrap_or(Tri::NO)
    }

    fn answered(&mut self, questions: Vec<Question>, depth: Depth) -> Vec<Answered> {
        let wanted: Vec<Twofold> = questions.iter().map(|question| question.wanted).collect();
        let verdicts = self.beside.ask(&wanted, &mut self.left);
        let laws = match depth {
            Depth::Named | Depth::Witnessed => Vec::new(),
            Depth::Shown(_) => self.beside.laws(),
        };
        let (mut found, mut told): (Vec<Answered>, usize) = (Vec::new(), 0);
        for (question, (verdict, rest)) in questions.into_iter().zip(verdicts) {
            let tell = match depth {
                Depth::Named => false,
                Depth::Witnessed => true,
                Depth::Shown(most) => told < most,
            };
            let shown = match verdict {
                Verdict::Never => continue,
                Verdict::NotSettled => Shown::NotSettled,
                Verdict::Found(sheet) if tell => {
                    told += 1;
                    let laws = matches!(depth, Depth::Shown(_)).then_some(laws.as_slice());
                    self.shown(&question, &sheet, laws, rest)
                }
                Verdict::Found(sheet) => {
                    let shows = self.shows(&question, &self.beside.read(&sheet));
                    if shows { Shown::Also } else { Shown::NotReplayed }
                }
            };
            found.push((question.item, question.blame, shown));
        }
        found
    }

    /// A survey that shows a loss, cut down; counted where the laws of surveys are given.
    fn shown(&self, question: &Question, sheet: &Sheet, laws: Option<&[Option<Bit>]>, rest: Rest) -> Shown {
        let laid = (&self.beside.circuit, &self.beside.space);
        let bit = if rest == Rest::Anything { question.wanted.certain } else { question.wanted.open };
        let sheet = reduced(laid.0, laid.1, bit, sheet);
        let mut read = self.beside.read(&sheet);
        if !self.shows(question, &read) || read.len() < 2 {
            return Shown::NotReplayed;
        }
        let new = read.swap_remove(1);
        let books: Vec<&Book> = self.beside.sides.iter().map(|side| side.book).collect();
        let witness = of_sheet(laid.1, &sheet, &books, new.decisions, rest);
        let laws = laws.filter(|_| rest == Rest::Anything);
        let counted = laws.map(|laws| count(laid, laws, bit));
        Shown::By(Box::new(Witness { count: counted, ..witness }))
    }

    /// Whether the evaluator finds the loss: the same is chosen, the trade's book has the item more surely than the
    /// firm's, and a change that is to blame alone brings it back when it is left out.
    fn shows(&self, question: &Question, read: &[Read]) -> bool {
        let seen = |number| self.beside.seen(number, read, self.sight(number, &question.item));
        let kept = |change: usize| {
            let number = self.changes.iter().position(|known| *known == change).map_or(1, |at| at + 2);
            seen(number) >= seen(0)
        };
        let same = question.slots.iter().all(|slot| self.same_seen(slot, read));
        let blamed = match question.blame {
            Blame::One(change) => kept(change),
            Blame::Shared => !self.changes.iter().any(|change| kept(*change)),
        };
        same && seen(1) < seen(0) && blamed
    }

    fn same_seen(&self, slot: &str, read: &[Read]) -> bool {
        let chosen = |number: usize| -> BTreeMap<&str, Truth> {
            let Some((side, read)) = self.beside.sides.get(number).zip(read.get(number)) else {
                return BTreeMap::new();
            };
            let truth = |option| {
                let (slot, option) = named(side.book, slot, option)?;
                read.decisions.chosen.get(slot.0)?.get(option.0).copied()
            };
            let options = option_names(side.book, slot);
            let all = options.filter_map(|option| Some((option, truth(option)?)));
            all.filter(|(_, truth)| truth.is_shown()).collect()
        };
        chosen(0) == chosen(1)
    }

    /// The changes that let some survey choose otherwise, and those of which that is not settled.
    fn moves(&mut self) -> (Vec<usize>, Vec<usize>) {
        let slots: Vec<String> = self.beside.sides.get(1).map_or(Vec::new(), |side| slot_names(side.book));
        let mut bits = Vec::new();
        for number in (2..).take(self.changes.len()) {
            let pairs: Vec<(Tri, Tri)> =
                slots.iter().flat_map(|slot| self.chosen_by(slot, (1, number))).collect();
            let mut any = Bit::FALSE;
            for (with, without) in pairs {
                let unlike = self.beside.circuit.unlike(with, without);
                any = self.beside.circuit.or(any, unlike);
            }
            bits.push(any);
        }
        let verdicts = ask((&self.beside.circuit, &self.beside.space), &bits, &mut self.left);
        let of = |wanted: fn(&Verdict) -> bool| {
            let found = self.changes.iter().zip(&verdicts).filter(|(_, verdict)| wanted(verdict));
            found.map(|(change, _)| *change).collect()
        };
        (
            of(|verdict| matches!(verdict, Verdict::Found(_))),
            of(|verdict| matches!(verdict, Verdict::NotSettled)),
        )
    }

    /// What some survey loses, and was not found to be lost while the same is chosen.
    fn with_choice(&mut self, losses: Vec<Loss>, found: &[Answered]) -> Vec<Item> {
        let known: BTreeSet<&Item> = found.iter().map(|(item, ..)| item).collect();
        let open: Vec<Loss> = losses.into_iter().filter(|loss| !known.contains(&loss.item)).collect();
        let bits: Vec<Bit> = open.iter().map(|loss| loss.anyhow).collect();
        let verdicts = ask((&self.beside.circuit, &self.beside.space), &bits, &mut self.left);
        let all = open.into_iter().zip(verdicts);
        all.filter(|(_, verdict)| matches!(verdict, Verdict::Found(_))).map(|(loss, _)| loss.item).collect()
    }
}

/// The rules behind something that a book decides, and slots whose columns are its figures.
fn behind(book: &Book, plan: &Plan, sight: &Sight<'_>) -> (Vec<RuleId>, Vec<SlotId>) {
    match sight {
        Sight::Rules(rules) => (rules.clone(), Vec::new()),
        Sight::Clause(clause) => (requiring(book, *clause), Vec::new()),
        Sight::Limited(quantity, bound, figure, _) => {
            let limits = limiting(book, *quantity, *bound, figure, None);
            let slots = limits.iter().filter_map(|(_, chosen)| chosen.map(|(slot, _)| slot)).collect();
            (limits.into_iter().map(|(rule, _)| rule).collect(), slots)
        }
        Sight::Refused(slot, _) | Sight::NothingLeft(slot) => {
            let refusals = plan.slots.get(slot.0).map_or(&[][..], |plan| &plan.refusals);
            (refusals.iter().map(|(rule, _)| *rule).collect(), Vec::new())
        }
        Sight::Condition(_) | Sight::Finding(_) | Sight::Circle(_) | Sight::Stopped | Sight::Chosen(..) => {
            (Vec::new(), Vec::new())
        }
    }
}

fn slot_names(book: &Book) -> Vec<String> {
    book.slots.iter().map(|slot| slot.name.clone()).collect()
}

fn slot_called<'b>(book: &'b Book, name: &str) -> Option<(SlotId, &'b Slot)> {
    let found = book.slots.iter().enumerate().find(|(_, slot)| slot.name == name);
    found.map(|(id, slot)| (SlotId(id), slot))
}

fn option_names<'b>(book: &'b Book, slot: &str) -> impl Iterator<Item = &'b str> {
    let catalogue = slot_called(book, slot).and_then(|(_, slot)| book.catalogues.get(slot.catalogue.0));
    catalogue.into_iter().flat_map(|catalogue| catalogue.options.iter().map(|option| option.name.as_str()))
}

fn named(book: &Book, slot: &str, option: &str) -> Option<(SlotId, OptionId)> {
    let (id, slot) = slot_called(book, slot)?;
    Some((id, book.catalogues.get(slot.catalogue.0)?.option(option)?))
}
