//! Words inside paragraphs: runs in character styles, fields, boxes to tick, room to write in.

use super::body::Body;
use super::role::Stress;
use super::targets::Piece;
use super::xml::Xml;
use crate::document::block::{Blank, Inline, Ruled, Strong, Tick, plain};
use crate::render::tokens::Pt;

/// Size of a box to tick: its sign is a little smaller than its size.
pub(crate) const TICK: Pt = 12.0;

/// Width of a space that no line breaks at, in the type of forms: a mean over the faces it may be set in.
const SPACE: Pt = 2.0;

/// How words are dressed by what they stand in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Dress {
    /// How they stand out.
    pub(crate) stress: Option<Stress>,
    /// What strong words of the table around them are like.
    strong: Strong,
}

impl Dress {
    /// Words as their paragraph has them.
    pub(crate) const PLAIN: Self = Self { stress: None, strong: Strong::Level };

    /// What a line of a proof says.
    pub(crate) const KEY: Self = Self { stress: Some(Stress::Strong), strong: Strong::Level };

    /// The dress of the words of a table.
    pub(crate) fn of(strong: Strong) -> Self {
        Self { strong, ..Self::PLAIN }
    }

    fn strong(self) -> Self {
        let stress = match (self.stress, self.strong) {
            (Some(Stress::Code), _) => Stress::Code,
            (_, Strong::Large) => Stress::Figure,
            (Some(Stress::Emphasis | Stress::StrongEmphasis), Strong::Level) => Stress::StrongEmphasis,
            (_, Strong::Level) => Stress::Strong,
        };
        Self { stress: Some(stress), ..self }
    }

    fn emphasis(self) -> Self {
        let stress = match self.stress {
            Some(Stress::Strong | Stress::StrongEmphasis) => Stress::StrongEmphasis,
            Some(other @ (Stress::Code | Stress::Figure)) => other,
            _ => Stress::Emphasis,
        };
        Self { stress: Some(stress), ..self }
    }
}

impl Body<'_> {
    /// The runs of a paragraph.
    pub(crate) fn runs(&mut self, text: &[Inline], dress: Dress) {
        for run in text {
            match run {
                Inline::Text(words) => self.run(words, dress),
                Inline::Strong(inner) => self.runs(inner, dress.strong()),
                Inline::Emphasis(inner) => self.runs(inner, dress.emphasis()),
                Inline::Code(words) => self.run(words, Dress { stress: Some(Stress::Code), ..dress }),
                Inline::Link { target, text } => self.reference(target, text, dress),
                Inline::Break => self.break_line(),
                Inline::Tick(tick) => self.tick(*tick),
                Inline::Blank(blank) => self.blank(*blank),
            }
        }
    }

    /// A run of words.
    pub(crate) fn run(&mut self, words: &str, dress: Dress) {
        if !words.is_empty() {
            self.say(words);
            styled(&mut self.xml, dress.stress, words);
        }
    }

    /// Words that count.
    fn say(&mut self, words: &str) {
        let words = super::xml::spoken(words);
        self.said.push_str(&words);
        self.shown.push_str(&words);
    }

    fn break_line(&mut self) {
        self.say(" ");
        self.xml.within("w:r", &[], |xml| xml.leaf("w:br", &[]));
    }

    /// A reference: its numbers and the title of its target are fields; words alone lead there as a link.
    fn reference(&mut self, target: &str, text: &[Inline], dress: Dress) {
        let Some(target) = self.targets.get(target) else { return self.runs(text, dress) };
        let pieces = target.pieces(&plain(text));
        if let [Piece::Words(_)] = pieces.as_slice() {
            let anchor = target.bookmark.clone();
            self.xml.open("w:hyperlink", &[("w:anchor", &anchor), ("w:history", "1")]);
            self.runs(text, dress);
            self.xml.close("w:hyperlink");
            return;
        }
        for piece in pieces {
            match piece {
                Piece::Words(words) => self.run(&words, dress),
                Piece::Number { bookmark, printed } => {
                    self.field(&format!(" REF {bookmark} \\n \\h "), &printed, dress);
                }
                Piece::Title { bookmark, printed } => {
                    self.field(&format!(" REF {bookmark} \\h "), &printed, dress);
                }
            }
        }
    }

    /// A field with what it prints now. What it prints may change by itself, so it is no word that somebody wrote.
    pub(crate) fn field(&mut self, says: &str, printed: &str, dress: Dress) {
        self.shown.push_str(printed);
        field(&mut self.xml, says, printed, dress.stress);
    }

    /// A box that a click ticks.
    fn tick(&mut self, tick: Tick) {
        self.say(tick.sign());
        let checked = if tick == Tick::Set { "1" } else { "0" };
        let style = Stress::Tick.id();
        self.xml.within("w:sdt", &[], |xml| {
            xml.within("w:sdtPr", &[], |xml| {
                xml.within("w:rPr", &[], |xml| xml.value("w:rStyle", &style));
                xml.within("w14:checkbox", &[], |xml| {
                    xml.leaf("w14:checked", &[("w14:val", checked)]);
                    let font = ("w14:font", "Source Sans 3");
                    xml.leaf("w14:checkedState", &[("w14:val", "2611"), font]);
                    xml.leaf("w14:uncheckedState", &[("w14:val", "2610"), font]);
                });
            });
            xml.within("w:sdtContent", &[], |xml| styled(xml, Some(Stress::Tick), tick.sign()));
        });
    }

    /// Room to write in: spaces that no line breaks at, with a line under them or without.
    fn blank(&mut self, blank: Blank) {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a line is at most 170 mm"
        )]
        let count = (blank.width.points() / SPACE).round().max(1.0) as usize;
        let stress = (blank.line == Ruled::Yes).then_some(Stress::Blank);
        styled(&mut self.xml, stress, &"\u{a0}".repeat(count));
        self.say(" ");
    }
}

/// A run in a character style.
pub(crate) fn styled(xml: &mut Xml, stress: Option<Stress>, words: &str) {
    xml.within("w:r", &[], |xml| {
        dressed(xml, stress);
        xml.within("w:t", &[("xml:space", "preserve")], |xml| xml.words(words));
    });
}

fn dressed(xml: &mut Xml, stress: Option<Stress>) {
    if let Some(stress) = stress {
        xml.within("w:rPr", &[], |xml| xml.value("w:rStyle", &stress.id()));
    }
}

/// A field with what it prints now.
pub(crate) fn field(xml: &mut Xml, says: &str, printed: &str, stress: Option<Stress>) {
    let mark = |xml: &mut Xml, kind: &str| {
        xml.within("w:r", &[], |xml| {
            dressed(xml, stress);
            xml.leaf("w:fldChar", &[("w:fldCharType", kind)]);
        });
    };
    mark(xml, "begin");
    xml.within("w:r", &[], |xml| {
        dressed(xml, stress);
        xml.within("w:instrText", &[("xml:space", "preserve")], |xml| xml.words(says));
    });
    mark(xml, "separate");
    styled(xml, stress, printed);
    mark(xml, "end");
}
