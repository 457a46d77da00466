//! Blocks to the body of the document. Blocks of one clause stand together in a content control that bears the clause's
//! name and a digest of the words we wrote, so that what an office changes is found again.

use std::collections::{BTreeMap, BTreeSet};

use super::kept::OfficeText;
use super::left::Left;
use super::passage::{SAID, Tag, said_as_one, short, stem};
use super::role::Role;
use super::runs::{Dress, field};
use super::section;
use super::targets::{Target, targets};
use super::xml::Xml;
use crate::document::block::{Block, BlockKind, Document, Inline, ProofLine, plain};
use crate::drawing::Drawing;
use crate::render::compose::{FIRST, announces_table};
use crate::render::laid::Laid;
use crate::render::listing::ends_open;

/// Room between two lines of a proof where they run on.
const BETWEEN: &str = "\u{2003}";

/// What writing a body needs and gathers.
pub(crate) struct Body<'a> {
    pub(crate) document: &'a Document,
    pub(crate) laid: &'a Laid,
    pub(crate) targets: BTreeMap<String, Target>,
    pub(crate) xml: Xml,
    /// The words of the passage being written, a line for each paragraph; what fields print is left out.
    pub(crate) said: String,
    /// The same with what fields print.
    pub(crate) shown: String,
    /// The file that lies there and that somebody may have changed.
    pub(crate) left: Option<&'a Left>,
    /// Words of an office that were kept.
    pub(crate) office: Vec<OfficeText>,
    /// Names of the passages written.
    pub(crate) written: BTreeSet<String>,
    /// The drawings met, in order.
    pub(crate) pictures: Vec<&'a Drawing>,
    /// Numbers given to bookmarks, controls and pictures.
    count: u32,
}

/// How words are spread over the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Spread {
    /// From margin to margin.
    Across,
    /// In two columns.
    Columns,
}

impl<'a> Body<'a> {
    /// Writes the body.
    pub(crate) fn of(document: &'a Document, laid: &'a Laid, left: Option<&'a Left>) -> Self {
        let mut body = Self {
            document,
            laid,
            targets: targets(document),
            xml: Xml::piece(),
            said: String::new(),
            shown: String::new(),
            left,
            office: Vec::new(),
            written: BTreeSet::new(),
            pictures: Vec::new(),
            count: 0,
        };
        let end = body.all();
        section::properties(&mut body.xml, document, laid, end);
        body
    }

    /// Everything but the properties of the last section; gives back how that is spread.
    fn all(&mut self) -> Spread {
        let document = self.document;
        self.added("");
        self.front();
        let mut contents = self.laid.has_contents;
        let mut spread = Spread::Across;
        let numbered: Vec<(u32, &Block)> = (FIRST..).zip(&document.blocks).collect();
        let alike = |a: &(u32, &Block), b: &(u32, &Block)| {
            stem(&a.1.id) == stem(&b.1.id)
                && self.spread(a.0) == self.spread(b.0)
                && holds_words(a.1)
                && holds_words(b.1)
        };
        let passages: Vec<Vec<(u32, &Block)>> = numbered.chunk_by(alike).map(<[_]>::to_vec).collect();
        for passage in passages {
            let Some((first, block)) = passage.first().copied() else { continue };
            let wanted = self.spread(first);
            if wanted != spread {
                self.turn(spread);
                spread = wanted;
            }
            if contents && matches!(block.kind, BlockKind::Heading { .. }) {
                // What must be read first, such as a caution, stands before the contents.
                self.contents();
                contents = false;
            }
            if holds_words(block) {
                self.passage(&block.id, |body| {
                    for (number, block) in passage {
                        body.block(number, block);
                    }
                });
            } else {
                self.block(first, block);
            }
        }
        self.homeless();
        spread
    }

    fn spread(&self, block: u32) -> Spread {
        let is_across = self.laid.tokens.is_one_column() || self.laid.across.contains(&block);
        if is_across { Spread::Across } else { Spread::Columns }
    }

    /// Ends a section that is spread like this.
    fn turn(&mut self, spread: Spread) {
        let (document, laid) = (self.document, self.laid);
        self.xml.within("w:p", &[], |xml| {
            xml.within("w:pPr", &[], |xml| {
                xml.value("w:pStyle", &Role::Break.id());
                section::properties(xml, document, laid, spread);
            });
        });
    }

    /// Blocks that are one passage, in their control; or what an office made of them, and these beside it.
    pub(crate) fn passage(&mut self, id: &str, inside: impl FnOnce(&mut Self)) {
        let before = self.pictures.len();
        let outer = std::mem::replace(&mut self.xml, Xml::piece());
        self.said.clear();
        self.shown.clear();
        inside(self);
        let inner = std::mem::replace(&mut self.xml, outer).bytes();
        let (said, shown) = (said_as_one(&self.said), said_as_one(&self.shown));
        self.written.insert(short(id));
        match self.changed(id, &said) {
            None => self.control(id, &said, &inner),
            Some(found) => {
                let pictures = self.pictures.split_off(before);
                self.within_control(id, &said, |body| {
                    body.kept(id, &found, &shown);
                    for drawing in pictures {
                        body.picture(Role::Figure, None, drawing);
                    }
                });
                self.proposal(stem(id), &shown);
            }
        }
        self.added(id);
    }

    /// Something in the control of a passage for which these words were written.
    pub(crate) fn within_control(&mut self, id: &str, written: &str, inside: impl FnOnce(&mut Self)) {
        let outer = std::mem::replace(&mut self.xml, Xml::piece());
        inside(self);
        let inner = std::mem::replace(&mut self.xml, outer).bytes();
        self.control(id, written, &inner);
    }

    fn control(&mut self, id: &str, written: &str, inner: &[u8]) {
        let tag = Tag::of(id, written);
        let (number, mark) = (self.next().to_string(), self.next().to_string());
        self.xml.within("w:sdt", &[], |xml| {
            xml.within("w:sdtPr", &[], |xml| {
                xml.value("w:alias", &tag.name);
                xml.value("w:tag", &tag.to_string());
                xml.value("w:id", &number);
            });
            xml.within("w:sdtContent", &[], |xml| {
                let name = format!("{SAID}{}", tag.digest);
                xml.leaf("w:bookmarkStart", &[("w:id", &mark), ("w:name", &name)]);
                xml.leaf("w:bookmarkEnd", &[("w:id", &mark)]);
                xml.add(inner);
            });
        });
    }

    /// A number that was not given yet.
    pub(crate) fn next(&mut self) -> u32 {
        self.count += 1;
        self.count
    }

    fn block(&mut self, number: u32, block: &'a Block) {
        let id = Some(block.id.as_str());
        let is_revised = self.document.revised.contains(&block.id);
        let dressed = |role: Role| if is_revised { role.revised() } else { role };
        match &block.kind {
            BlockKind::Heading { level, text, .. } => {
                let role = match level {
                    0 | 1 => Role::Part,
                    2 => Role::Article,
                    _ => Role::Run,
                };
                self.paragraph(role, id, text);
            }
            BlockKind::Item { depth, text, .. } => self.text(number, dressed(Role::clause(*depth)), text),
            BlockKind::Bullet { depth, text } => {
                self.text(number, if *depth <= 1 { Role::Point } else { Role::Point2 }, text);
            }
            BlockKind::Paragraph(text) => self.text(number, Role::Text, text),
            BlockKind::Proof(lines) => self.proof(dressed(Role::Proof), lines),
            BlockKind::Caution { word, text } => self.caution(id, word, text),
            BlockKind::Table(table) => self.table(number, id, table),
            BlockKind::Figure(drawing) => self.figure(id, drawing),
            BlockKind::NewPage => self.paragraph(Role::NewPage, id, &[]),
            BlockKind::End(text) => self.paragraph(Role::End, id, &[Inline::Text(text.clone())]),
        }
    }

    /// A block of running text. What it announces, and how it is proved, stay on its page.
    fn text(&mut self, number: u32, role: Role, text: &[Inline]) {
        let at = usize::try_from(number.saturating_sub(FIRST)).unwrap_or(usize::MAX);
        let Some([block, behind @ ..]) = self.document.blocks.get(at..) else { return };
        let is_proved = matches!(behind, [Block { kind: BlockKind::Proof(_), .. }, ..]);
        let bind = is_proved || ends_open(text) || announces_table(block, behind);
        self.bound(role, bind, Some(&block.id), |body| body.runs(text, Dress::PLAIN));
    }

    /// A paragraph in its style, with the bookmark of its block.
    pub(crate) fn paragraph(&mut self, role: Role, id: Option<&str>, text: &[Inline]) {
        self.bound(role, ends_open(text), id, |body| body.runs(text, Dress::PLAIN));
    }

    /// A paragraph that stays with the next one, or not.
    pub(crate) fn bound(&mut self, role: Role, bind: bool, id: Option<&str>, inside: impl FnOnce(&mut Self)) {
        self.xml.open("w:p", &[]);
        self.xml.within("w:pPr", &[], |xml| {
            xml.value("w:pStyle", &role.id());
            if bind {
                xml.leaf("w:keepNext", &[]);
            }
        });
        let bookmark = id.and_then(|id| self.targets.get(id)).map(|target| target.bookmark.clone());
        let number = self.next().to_string();
        if let Some(name) = &bookmark {
            self.xml.leaf("w:bookmarkStart", &[("w:id", &number), ("w:name", name)]);
        }
        inside(self);
        if bookmark.is_some() {
            self.xml.leaf("w:bookmarkEnd", &[("w:id", &number)]);
        }
        self.xml.close("w:p");
        self.said.push('\n');
        self.shown.push('\n');
    }

    /// How a clause is proved: one paragraph under the clause, its keys bold.
    fn proof(&mut self, role: Role, lines: &[ProofLine]) {
        self.bound(role, false, None, |body| {
            for (at, line) in lines.iter().enumerate() {
                if at > 0 {
                    body.run(BETWEEN, Dress::PLAIN);
                }
                body.run(&line.key, Dress::KEY);
                body.run(" ", Dress::PLAIN);
                body.runs(&line.text, Dress::PLAIN);
            }
        });
    }

    /// A ruled box: paragraphs with one border, which stay together.
    fn caution(&mut self, id: Option<&str>, word: &str, text: &[Vec<Inline>]) {
        self.paragraph(Role::CautionWord, id, &[Inline::Text(word.to_owned())]);
        for (at, paragraph) in text.iter().enumerate() {
            let bind = at + 1 < text.len();
            self.bound(Role::Caution, bind, None, |body| body.runs(paragraph, Dress::PLAIN));
        }
        // without it the box would run on into the next one
        self.room(Role::Behind);
    }

    /// Title, second title, title block.
    fn front(&mut self) {
        let document = self.document;
        self.passage("/title", |body| {
            body.paragraph(Role::Title, None, &[Inline::Text(document.title.clone())]);
            if !document.subtitle.is_empty() {
                body.paragraph(Role::Subtitle, None, &[Inline::Text(document.subtitle.clone())]);
            }
        });
        if !document.furniture.title_block.is_empty() {
            self.passage("/title-block", Self::fields);
        }
    }

    /// The contents, a field of which every line names the page of the PDF.
    fn contents(&mut self) {
        let mut lines = Vec::new();
        for block in &self.document.blocks {
            let BlockKind::Heading { level: level @ (1 | 2), number, text } = &block.kind else { continue };
            let Some(target) = self.targets.get(&block.id) else { continue };
            let page = self.laid.anchors.get(&block.id).map_or(0, |spot| spot.page) + 1;
            let role = if *level == 1 { Role::Contents1 } else { Role::Contents2 };
            lines.push((role, target.bookmark.clone(), number.clone(), plain(text), page.to_string()));
        }
        let last = lines.len();
        self.xml.within("w:sdt", &[], |xml| {
            xml.within("w:sdtPr", &[], |xml| {
                xml.within("w:docPartObj", &[], |xml| {
                    xml.value("w:docPartGallery", "Table of Contents");
                    xml.leaf("w:docPartUnique", &[]);
                });
            });
            xml.within("w:sdtContent", &[], |xml| {
                let over = self.document.furniture.contents.as_deref().unwrap_or_default();
                xml.within("w:p", &[], |xml| {
                    xml.within("w:pPr", &[], |xml| xml.value("w:pStyle", &Role::Caption.id()));
                    super::runs::styled(xml, None, over);
                });
                for (at, (role, bookmark, number, title, page)) in (1..).zip(lines) {
                    xml.within("w:p", &[], |xml| {
                        xml.within("w:pPr", &[], |xml| xml.value("w:pStyle", &role.id()));
                        if at == 1 {
                            mark(xml, "begin");
                            xml.within("w:r", &[], |xml| {
                                xml.within("w:instrText", &[("xml:space", "preserve")], |xml| {
                                    xml.words(" TOC \\o \"1-2\" \\h \\z ");
                                });
                            });
                            mark(xml, "separate");
                        }
                        xml.within("w:hyperlink", &[("w:anchor", &bookmark), ("w:history", "1")], |xml| {
                            if let Some(number) = &number {
                                super::runs::styled(xml, None, number);
                                xml.within("w:r", &[], |xml| xml.leaf("w:tab", &[]));
                            }
                            super::runs::styled(xml, None, &title);
                            xml.within("w:r", &[], |xml| xml.leaf("w:tab", &[]));
                            field(xml, &format!(" PAGEREF {bookmark} \\h "), &page, None);
                        });
                        if at == last {
                            mark(xml, "end");
                        }
                    });
                }
            });
        });
    }

    /// Room before a table without a caption, and behind any.
    pub(crate) fn room(&mut self, role: Role) {
        self.xml.within("w:p", &[], |xml| {
            xml.within("w:pPr", &[], |xml| xml.value("w:pStyle", &role.id()));
        });
    }
}

fn mark(xml: &mut Xml, kind: &str) {
    xml.within("w:r", &[], |xml| xml.leaf("w:fldChar", &[("w:fldCharType", kind)]));
}

/// Whether somebody may want other words for it.
fn holds_words(block: &Block) -> bool {
    !matches!(block.kind, BlockKind::NewPage)
}
