//! Words to glyphs: kerning, ligatures, and another face for a sign that the first one lacks.

use std::sync::Arc;

use harfrust::{Buffer, ClusterLevel, Direction, Script, ShapeOptions, ShapePlan, ShaperFont, shape};
use indexmap::IndexMap;
use rustc_hash::FxBuildHasher;

use super::Face;

/// One glyph in place. Lengths are thousandths of the type size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Glyph {
    /// The face it comes from, which may differ from the one asked for.
    pub(crate) face: Face,
    /// Its number in that face.
    pub(crate) id: u16,
    /// How far it moves the pen.
    pub(crate) advance: i32,
    /// How far it is drawn right of the pen.
    pub(crate) right: i32,
    /// How far it is drawn over the baseline.
    pub(crate) up: i32,
    /// First byte of the text it stands for.
    pub(crate) from: u32,
    /// One past the last byte; equal to `from` if another glyph stands for the text.
    pub(crate) to: u32,
}

/// A word as glyphs.
#[derive(Debug, Default)]
pub(crate) struct Shaped {
    /// The glyphs, left to right.
    pub(crate) glyphs: Vec<Glyph>,
    /// Sum of their advances.
    pub(crate) width: i32,
    /// Signs that no face holds.
    pub(crate) missing: Vec<char>,
}

/// What is remembered by word. It is only looked up, never walked.
type ByWord<T> = IndexMap<Box<str>, T, FxBuildHasher>;

type Plans = Vec<(Face, Option<Script>, ShapePlan)>;

/// Shapes words and remembers them. One for each document.
pub(crate) struct Shaper {
    fonts: Vec<Option<ShaperFont<'static, 'static>>>,
    plans: Plans,
    buffer: Buffer,
    /// By face.
    words: [ByWord<Arc<Shaped>>; Face::ALL.len()],
    parts: ByWord<Arc<[usize]>>,
    missing: Vec<Missing>,
}

/// A sign that no face holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Missing {
    /// The sign.
    pub(crate) sign: char,
    /// The word it stands in.
    pub(crate) word: String,
}

impl Shaper {
    /// A shaper that has seen no word yet.
    pub(crate) fn new() -> Self {
        Self {
            fonts: Face::ALL.iter().map(|face| face.font().map(ShaperFont::new)).collect(),
            plans: Vec::new(),
            buffer: Buffer::new(),
            words: Default::default(),
            parts: ByWord::default(),
            missing: Vec::new(),
        }
    }

    /// The glyphs of a word in a face.
    pub(crate) fn word(&mut self, face: Face, text: &str) -> Arc<Shaped> {
        let known = self.words.get(face as usize).and_then(|words| words.get(text)).map(Arc::clone);
        let shaped = known.unwrap_or_else(|| {
            let shaped = Arc::new(self.shape(face, text));
            if let Some(words) = self.words.get_mut(face as usize) {
                words.insert(text.into(), Arc::clone(&shaped));
            }
            shaped
        });
        for sign in &shaped.missing {
            let missing = Missing { sign: *sign, word: text.to_owned() };
            if !self.missing.contains(&missing) {
                self.missing.push(missing);
            }
        }
        shaped
    }

    /// Where a word may be parted, found by `points` when it is first asked for.
    pub(crate) fn parts(&mut self, word: &str, points: impl FnOnce(&str) -> Vec<usize>) -> Arc<[usize]> {
        if let Some(known) = self.parts.get(word) {
            return Arc::clone(known);
        }
        let found: Arc<[usize]> = points(word).into();
        self.parts.insert(word.into(), Arc::clone(&found));
        found
    }

    /// The signs that no face holds among the words shaped since this was last asked, each once.
    pub(crate) fn take_missing(&mut self) -> Vec<Missing> {
        std::mem::take(&mut self.missing)
    }

    /// Width of a word space, in thousandths of the size.
    pub(crate) fn space(&mut self, face: Face) -> i32 {
        self.word(face, " ").width
    }

    fn shape(&mut self, face: Face, text: &str) -> Shaped {
        let mut shaped = Shaped::default();
        let mut stretch: Option<(Face, usize)> = None;
        for (at, sign) in text.char_indices() {
            let Some(holder) = holder(face, stretch.map(|(face, _)| face), sign) else {
                shaped.missing.push(sign);
                continue;
            };
            match stretch {
                Some((current, _)) if current == holder => {}
                Some((current, from)) => {
                    self.stretch(current, text, from, at, &mut shaped);
                    stretch = Some((holder, at));
                }
                None => stretch = Some((holder, at)),
            }
        }
        if let Some((current, from)) = stretch {
            self.stretch(current, text, from, text.len(), &mut shaped);
        }
        shaped
    }

    /// Shapes the bytes `from..to`, all of one face, onto the end of `shaped`.
    fn stretch(&mut self, face: Face, text: &str, from: usize, to: usize, shaped: &mut Shaped) {
        let Some(Some(font)) = self.fonts.get(face as usize) else { return };
        let mut buffer = std::mem::take(&mut self.buffer);
        buffer.clear();
        buffer.set_cluster_level(ClusterLevel::MonotoneCharacters);
        for (at, sign) in text.get(from..to).unwrap_or_default().char_indices() {
            if holder(face, Some(face), sign) == Some(face) {
                buffer.push(u32::from(sign), small(from + at));
            }
        }
        buffer.guess_segment_properties();
        if buffer.script().is_none() {
            buffer.set_script(Some(Script::LATIN));
        }
        buffer.set_direction(Direction::LeftToRight);
        let plan = plan(&mut self.plans, face, &buffer);
        let done = shape(font, &mut buffer, ShapeOptions::new().plan(plan));
        if done.is_ok() {
            collect(face, &buffer, small(to), shaped);
        }
        self.buffer = buffer;
    }
}

fn plan<'a>(plans: &'a mut Plans, face: Face, buffer: &Buffer) -> Option<&'a ShapePlan> {
    let script = buffer.script();
    let known = plans.iter().position(|(of, writing, _)| *of == face && *writing == script);
    let at = known.unwrap_or(plans.len());
    if known.is_none() {
        let plan = ShapePlan::new(face.font()?, Direction::LeftToRight, script, None, &[]);
        plans.push((face, script, plan));
    }
    plans.get(at).map(|(_, _, plan)| plan)
}

/// Takes the glyphs out of the buffer; each stands for the text up to the next cluster.
fn collect(face: Face, buffer: &Buffer, end: u32, shaped: &mut Shaped) {
    let glyphs = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
    let mut found: Vec<Glyph> = glyphs
        .map(|(info, position)| Glyph {
            face,
            id: u16::try_from(info.glyph_id).unwrap_or_default(),
            advance: position.x_advance,
            right: position.x_offset,
            up: position.y_offset,
            from: info.cluster,
            to: info.cluster,
        })
        .collect();
    let mut next = end;
    for glyph in found.iter_mut().rev() {
        glyph.to = next;
        next = glyph.from;
    }
    shaped.width += found.iter().map(|glyph| glyph.advance).sum::<i32>();
    shaped.glyphs.append(&mut found);
}

/// The face that sets a sign: for a combining mark the one in use, else the first that holds it.
fn holder(face: Face, current: Option<Face>, sign: char) -> Option<Face> {
    if sign.is_ascii_graphic() || sign == ' ' {
        return Some(face);
    }
    if let Some(current) = current.filter(|current| is_mark(sign) && current.holds(sign)) {
        return Some(current);
    }
    face.chain().iter().copied().find(|face| face.holds(sign))
}

/// Signs that steer line breaking or direction and are never drawn.
pub(crate) fn is_unseen(sign: char) -> bool {
    matches!(u32::from(sign), 0xAD | 0x200B..=0x200F | 0x202A..=0x202E | 0x2060..=0x2064 | 0xFE00..=0xFE0F | 0xFEFF)
}

/// Signs that stand on the one before.
pub(crate) fn is_mark(sign: char) -> bool {
    matches!(u32::from(sign), 0x300..=0x36F)
}

fn small(offset: usize) -> u32 {
    u32::try_from(offset).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::{Face, Shaper};

    fn texts(face: Face, word: &str) -> Vec<&str> {
        let shaped = Shaper::new().word(face, word);
        let text = |glyph: &super::Glyph| word.get(glyph.from as usize..glyph.to as usize).unwrap();
        shaped.glyphs.iter().map(text).collect()
    }

    #[test]
    fn a_ligature_stands_for_all_its_letters() {
        assert_eq!(texts(Face::SerifRegular, "final").concat(), "final");
        assert!(texts(Face::SerifRegular, "final").len() < 5);
    }

    #[test]
    fn a_sign_that_the_serif_lacks_comes_from_another_face() {
        let shaped = Shaper::new().word(Face::SerifRegular, "10\u{207b}\u{b2}");
        assert!(shaped.missing.is_empty());
        assert!(shaped.glyphs.iter().any(|glyph| glyph.face == Face::SansRegular));
        assert!(shaped.glyphs.iter().any(|glyph| glyph.face == Face::SerifRegular));
    }

    #[test]
    fn a_sign_that_no_face_holds_is_reported() {
        assert_eq!(Shaper::new().word(Face::SerifRegular, "wash 😀").missing, ['😀']);
    }

    #[test]
    fn pairs_are_kerned() {
        let mut shaper = Shaper::new();
        let single = shaper.word(Face::SansRegular, "A").width + shaper.word(Face::SansRegular, "V").width;
        assert!(shaper.word(Face::SansRegular, "AV").width < single);
    }
}
