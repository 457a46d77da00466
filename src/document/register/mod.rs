//! The values of the register: every file of the set with its sum, what each paper is for and which governs, and what
//! changed since the issue before. It is made last, from the bytes of all the others.

mod changes;
mod issue;
mod listed;

use serde::Serialize;

pub use changes::Compared;
pub use issue::Issue;
pub(super) use listed::Order;

use self::changes::Changes;
use super::block::{Document, Standing};
use super::view::View;

/// A file of the set as it was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FileMade {
    /// Its name inside the folder of the set.
    pub name: String,
    /// Its pages, if it has any.
    pub pages: Option<usize>,
    /// SHA-256 over its bytes, 64 hex digits.
    pub sha256: String,
}

/// What the register is made from, besides what all papers share.
#[derive(Debug, Clone, Default)]
pub struct Listing {
    /// Every file of the set but the register itself and the record.
    pub files: Vec<FileMade>,
    /// The issue before this one, if a record of it was found.
    pub compared: Option<Compared>,
    /// Words of an office that papers keep.
    pub office: Vec<OfficeWords>,
}

/// Words that an office wrote into a paper and that are kept there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OfficeWords {
    /// The paper.
    pub paper: String,
    /// The clause, or what else of the paper.
    pub clause: String,
    /// Its words, a line for each paragraph.
    pub kept: String,
    /// The words that would be written now; empty where there are none.
    pub proposed: String,
}

/// What the register prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(super) struct RegisterContext {
    /// The digest of the book, all of it.
    book_digest: String,
    papers: Vec<PaperShown>,
    above: Vec<String>,
    /// Titles of the contract papers, that which governs first.
    governing: Vec<String>,
    within: Vec<String>,
    files: Vec<FileMade>,
    changes: Option<Changes>,
    /// Titles of the papers in which what is new bears a mark.
    marked: Vec<String>,
    office: Vec<OfficeWords>,
}

/// A paper of the set.
#[derive(Debug, Serialize)]
struct PaperShown {
    title: String,
    standing: &'static str,
    /// Its place among the contract papers, counted from one.
    rank: Option<usize>,
    purpose: String,
    readers: String,
    /// Pages of the form that has pages.
    pages: Option<usize>,
    files: Vec<String>,
}

impl RegisterContext {
    pub(super) fn of(view: View<'_>, order: &Order, papers: &[Document], listing: Listing) -> Self {
        let shown = in_order(order, papers, &listing.files);
        let marked = papers.iter().filter(|paper| !paper.revised.is_empty());
        let governing = shown.iter().filter(|paper| paper.rank.is_some());
        Self {
            book_digest: view.book.digest.clone(),
            governing: governing.map(|paper| paper.title.clone()).collect(),
            papers: shown,
            marked: marked.map(|paper| paper.title.clone()).collect(),
            above: order.above.clone(),
            within: order.within.clone(),
            changes: listing.compared.as_ref().map(Changes::of),
            files: listing.files,
            office: listing.office,
        }
    }
}

/// The papers in the order in which they govern, contract papers numbered.
fn in_order(order: &Order, papers: &[Document], files: &[FileMade]) -> Vec<PaperShown> {
    let mut rank = 0;
    let known = order.papers.iter();
    let both = known.filter_map(|said| Some((said, papers.iter().find(|paper| paper.name == said.name)?)));
    let shown = both.map(|(said, paper)| {
        let binds = paper.standing == Standing::Contract;
        rank += usize::from(binds);
        let stem =
            |file: &&FileMade| file.name.rsplit_once('.').map(|(stem, _)| stem) == Some(said.name.as_str());
        let own: Vec<&FileMade> = files.iter().filter(stem).collect();
        PaperShown {
            title: paper.title.clone(),
            standing: paper.standing.words(),
            rank: binds.then_some(rank),
            purpose: said.purpose.clone(),
            readers: said.readers.clone(),
            pages: own.iter().find_map(|file| file.pages),
            files: own.iter().map(|file| file.name.clone()).collect(),
        }
    });
    shown.collect()
}
