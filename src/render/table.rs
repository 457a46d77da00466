//! Tables: rules without verticals, a head that comes back on every page, rows that stay whole.

use super::breaking::{Atom, End, Room, atoms};
use super::columns::{Piece, Then, Want, widths};
use super::compose::{Setter, baseline, marks, owner};
use super::flow::{InTable, Keep, RepeatedHead, Row, Span};
use super::hyphen::Hyphens;
use super::laid::{Mark, Owner, Part, Ruling, Run};
use super::line::{Line, lines, lines_of};
use super::mistake::Mistake;
use super::tokens::{
    CAPTION_GAP, CELL_PAD, COLUMN_GAP, Colour, FIGURES, FORM, FORM_SMALL, GAP_SHARE, MARGIN_SIDE, Pt,
    TABLE_AFTER, TICK_LEADING, Type, WEIGHT_HAIR, WEIGHT_TOP, WHOLE_FORM, WHOLE_TABLE, WIDE_TABLE_COLUMNS,
};
use super::words::{Drawn, Words};
use crate::document::block::{Align, Breaks, Inline, Reach, Strong, Table, TextSize, Voice};

/// Left edge, width and alignment of a column.
#[derive(Clone, Copy)]
struct Column {
    x: Pt,
    width: Pt,
    align: Align,
}

/// Where a table stands and how its columns divide it.
struct Grid {
    span: Span,
    x: Pt,
    width: Pt,
    columns: Vec<Column>,
}

/// How wide a table is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Width {
    /// As wide as the text.
    Column,
    /// From margin to margin.
    Wide,
}

/// How the body of a table is set: its type, and the least height of a row.
#[derive(Clone, Copy)]
struct Form {
    text: Type,
    least: Pt,
}

/// The lines of each cell of a row.
type Cells = Vec<Vec<Line>>;

/// The words of a cell and their atoms, as if a line had no end.
struct Cut {
    words: Words,
    atoms: Vec<Atom>,
}

/// A table with its cells cut into atoms: what its columns ask for, and what is set when their widths are known.
pub(crate) struct Prepared {
    head: Vec<Cut>,
    rows: Vec<Vec<Cut>>,
    wants: Vec<Want>,
    reach: Reach,
}

impl Setter<'_> {
    /// A table with its caption.
    pub(crate) fn table(&mut self, block: u32, id: &str, table: &Table) {
        if !self.is_even(id, table) || table.head.is_empty() {
            return;
        }
        let known = self.tables.remove(&block);
        let (beside, prepared) = known.unwrap_or_else(|| (Width::Column, self.prepare(block, table)));
        let width = if self.is_wide(&prepared) { Width::Wide } else { beside };
        let Prepared { head: heads, rows: body, wants, .. } = prepared;
        if width == Width::Wide {
            self.end_rail();
        }
        let grid = self.grid(&wants, table, width);
        let captions = [Said::First, Said::Again];
        let [head, repeated] = captions.map(|said| self.head(block, table, &heads, &grid, said));
        let number = self.flow.heads.len();
        self.flow.heads.push(self.repeated(repeated));
        let mut rows = vec![Row { keep: Keep::WithNext, ..head }];
        let form = Form { text: self.body_text(table), least: table.row.points() };
        for cells in &body {
            let cells = self.cells(cells, &grid);
            let row = body_row(cells, &grid, form);
            rows.push(Row { table: Some(InTable { head: number }), ..row });
        }
        let height: Pt = rows.iter().map(|row| row.height).sum();
        let share = if table.breaks == Breaks::Never { WHOLE_FORM } else { WHOLE_TABLE };
        let whole = if height <= share * self.body_height() { rows.len() } else { 2 };
        keep(&mut rows, whole);
        let widths = grid.columns.iter().map(|column| column.width).collect();
        let (gap, _) = self.gap(grid.columns.len());
        self.rulings.insert(block, Ruling { left: grid.x, widths, gap, whole });
        if let Some(last) = rows.last_mut() {
            last.marks.push(rule(&grid, last.height, WEIGHT_HAIR, Colour::Ink));
            last.height += TABLE_AFTER - self.tokens.space.paragraph;
        }
        let count = rows.len();
        self.push(grid.span, self.tokens.space.apart, block, rows);
        self.rail_beside(count);
    }

    /// A head to repeat; one that would take half a page is not repeated.
    fn repeated(&self, head: Row) -> RepeatedHead {
        if head.height > self.body_height() / 2.0 {
            return RepeatedHead { height: 0.0, marks: Vec::new() };
        }
        RepeatedHead { height: head.height, marks: head.marks }
    }

    /// Whether words of narrow columns may be parted.
    pub(crate) fn hyphens(&self) -> Hyphens {
        let is_english = self.document.language.split('-').next() == Some("en");
        match self.document.style.voice {
            Voice::Contract if is_english => Hyphens::English,
            Voice::Contract | Voice::Plain | Voice::Sheet | Voice::Site => Hyphens::Never,
        }
    }

    fn is_even(&mut self, id: &str, table: &Table) -> bool {
        let columns = table.head.len();
        let uneven = (1..).zip(&table.rows).filter(|(_, cells)| cells.len() != columns);
        let before = self.mistakes.len();
        self.mistakes.extend(uneven.map(|(row, cells)| {
            let cells = cells.len();
            Mistake::UnevenRow { block: id.to_owned(), row, cells, columns }
        }));
        self.mistakes.len() == before
    }

    /// Cuts the cells of a table and asks each column what it wants.
    pub(crate) fn prepare(&mut self, block: u32, table: &Table) -> Prepared {
        let head = self.cut_row(block, 0, &table.head, self.tokens.table_head);
        let text = self.body_text(table);
        let numbered = (1u32..).zip(&table.rows);
        let rows: Vec<Vec<Cut>> = numbered.map(|(at, cells)| self.cut_row(block, at, cells, text)).collect();
        let column =
            |at: usize| head.get(at).into_iter().chain(rows.iter().filter_map(move |row| row.get(at)));
        let wants = (0..head.len()).map(|at| want(column(at))).collect();
        Prepared { head, rows, wants, reach: table.reach }
    }

    /// The type of the body.
    fn body_text(&self, table: &Table) -> Type {
        if table.strong == Strong::Large {
            return FIGURES;
        }
        match table.size {
            TextSize::Small => FORM_SMALL,
            TextSize::Usual if table.is_form() && self.document.style.voice != Voice::Site => FORM,
            TextSize::Usual => self.tokens.table_text,
        }
    }

    fn cut_row(&mut self, block: u32, row: u32, cells: &[Vec<Inline>], kind: Type) -> Vec<Cut> {
        let hyphens = self.hyphens();
        let endless = Room { first: f64::MAX, rest: f64::MAX };
        let cut = |(column, cell): (u32, &Vec<Inline>)| {
            let owner = owner(block, Part::Cell { row, column });
            let words = Words::of(cell, kind, owner, &mut self.links);
            let atoms = atoms(&words, endless, hyphens, &mut self.shaper);
            Cut { words, atoms }
        };
        (0u32..).zip(cells).map(cut).collect()
    }

    /// Whether tables that follow each other are all wide: they are if one must be.
    pub(crate) fn width_of_run(&self, tables: &[Prepared]) -> Width {
        if tables.iter().any(|table| self.is_wide(table)) { Width::Wide } else { Width::Column }
    }

    fn gap(&self, columns: usize) -> (Pt, Pt) {
        let count = u32::try_from(columns.saturating_sub(1)).map_or(0.0, f64::from);
        let gap = COLUMN_GAP.min(GAP_SHARE * self.tokens.full() / count.max(1.0));
        (gap, gap * count)
    }

    fn is_wide(&self, Prepared { wants, reach, .. }: &Prepared) -> bool {
        let (_, gaps) = self.gap(wants.len());
        let natural: Pt = wants.iter().map(|want| want.natural).sum::<Pt>() + gaps;
        let words: Pt = wants.iter().map(|want| want.word).sum::<Pt>() + gaps;
        let measure = self.tokens.measure;
        *reach == Reach::Margins
            || words > measure
            || (natural > measure && wants.len() >= WIDE_TABLE_COLUMNS)
    }

    /// Picks the span and divides it among the columns.
    fn grid(&self, wants: &[Want], table: &Table, width: Width) -> Grid {
        let (gap, gaps) = self.gap(wants.len());
        let (span, x, width) = match (width, self.document.style.voice) {
            (Width::Column, Voice::Contract | Voice::Plain) | (_, Voice::Sheet) => {
                (Span::Columns, 0.0, self.tokens.measure)
            }
            (Width::Wide, Voice::Plain) | (_, Voice::Site) => (Span::Full, 0.0, self.tokens.full()),
            (Width::Wide, Voice::Contract) => {
                (Span::Columns, MARGIN_SIDE - self.tokens.columns.first().unwrap_or(&0.0), self.tokens.full())
            }
        };
        let mut left = x;
        let mut columns = Vec::new();
        for (at, width) in widths(wants, width - gaps).into_iter().enumerate() {
            let align = table.align.get(at).copied().unwrap_or(Align::Left);
            columns.push(Column { x: left, width, align });
            left += width + gap;
        }
        Grid { span, x, width, columns }
    }

    fn cells(&mut self, cells: &[Cut], grid: &Grid) -> Cells {
        let hyphens = self.hyphens();
        let set = grid.columns.iter().zip(cells).map(|(place, Cut { words, atoms })| {
            // A hundredth of a point, so that a cell as wide as its column is not broken by rounding.
            let width = place.width + 0.01;
            let room = Room { first: width, rest: width };
            if atoms.iter().all(|atom| atom.width <= width) {
                lines_of(words, atoms, room, &mut self.shaper)
            } else {
                lines(words, room, hyphens, &mut self.shaper)
            }
        });
        set.collect()
    }

    /// Caption, rules and head row as one row.
    fn head(&mut self, block: u32, table: &Table, heads: &[Cut], grid: &Grid, said: Said) -> Row {
        let mut painted = Vec::new();
        let mut y = self.caption(block, table, grid, said, &mut painted);
        painted.push(rule(grid, y + WEIGHT_TOP / 2.0, WEIGHT_TOP, Colour::Ink));
        y += WEIGHT_TOP + CELL_PAD;
        let cells = self.cells(heads, grid);
        let height = depth(&cells);
        for (column, lines) in grid.columns.iter().zip(cells) {
            // Heads stand on the rule under them.
            let missing = height - small(lines.len());
            let top = y + missing * self.tokens.table_head.leading;
            cell(*column, lines, top, self.tokens.table_head, &mut painted);
        }
        y += height * self.tokens.table_head.leading + CELL_PAD;
        painted.push(rule(grid, y, WEIGHT_HAIR, Colour::Ink));
        if said == Said::Again {
            painted.iter_mut().for_each(disown);
            y += CELL_PAD;
        }
        Row::new(y, painted)
    }

    fn caption(&mut self, block: u32, table: &Table, grid: &Grid, said: Said, out: &mut Vec<Mark>) -> Pt {
        let owner = owner(block, Part::Caption);
        let mut words = Words::of(&table.caption, self.tokens.caption, owner, &mut self.links);
        if said == Said::Again {
            let kind = Type { face: self.tokens.caption.italic, ..self.tokens.caption };
            words.push_plain(" (continued)", kind, owner);
        }
        let mut y = 0.0;
        for line in self.lines(&words, grid.width) {
            out.extend(marks(line, grid.x, y + baseline(self.tokens.caption)));
            y += self.tokens.caption.leading;
        }
        if y > 0.0 { y + CAPTION_GAP } else { y }
    }
}

/// Whether a head is set for the first time.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Said {
    First,
    Again,
}

/// What a column asks for, cell by cell, head first.
fn want<'a>(cells: impl Iterator<Item = &'a Cut>) -> Want {
    let mut want = Want::default();
    for cell in cells {
        widen(&mut want, &cell.atoms);
    }
    want
}

/// Widens what a column asks for by one cell.
fn widen(want: &mut Want, atoms: &[Atom]) {
    let mut cell = Vec::new();
    let (mut line, mut word): (Pt, Pt) = (0.0, 0.0);
    for atom in atoms {
        line += atom.width;
        word += atom.width;
        want.natural = want.natural.max(line);
        want.word = want.word.max(word);
        let hyphen = atom.end.hyphen();
        want.piece = want.piece.max(atom.width + hyphen);
        line = if atom.end == End::Must { 0.0 } else { line + atom.space };
        if !matches!(atom.end, End::Hyphen(_)) {
            let then = if atom.end == End::Must { Then::Feed } else { Then::More };
            cell.push(Piece { width: word, space: atom.space, then });
            word = 0.0;
        }
    }
    if let Some(last) = cell.last_mut() {
        last.then = Then::More;
    }
    want.cells.push(cell);
}

fn disown(mark: &mut Mark) {
    if let Mark::Text { run, .. } = mark {
        run.owner = Owner::Artifact;
    }
}

fn rule(grid: &Grid, y: Pt, weight: Pt, colour: Colour) -> Mark {
    Mark::Rule { x: grid.x, y, width: grid.width, weight, colour }
}

/// A count of lines, to reckon lengths with.
pub(crate) fn small(count: usize) -> Pt {
    u32::try_from(count).map_or(0.0, f64::from)
}

fn depth(cells: &Cells) -> Pt {
    small(cells.iter().map(Vec::len).max().unwrap_or_default().max(1))
}

fn cell(column: Column, lines: Vec<Line>, top: Pt, kind: Type, out: &mut Vec<Mark>) {
    for (at, line) in (0u32..).zip(lines) {
        let x = match column.align {
            Align::Left => column.x,
            Align::Right => column.x + column.width - line.width,
        };
        out.extend(marks(line, x, top + f64::from(at) * kind.leading + baseline(kind)));
    }
}

/// Cells side by side over the hair rule that closes a row.
fn body_row(cells: Cells, grid: &Grid, form: Form) -> Row {
    let mut painted = Vec::new();
    let deep = |lines: &Vec<Line>| small(lines.len().max(1)) * with_boxes(lines, form.text).leading;
    let height = (2.0 * CELL_PAD + cells.iter().map(deep).fold(form.text.leading, Pt::max)).max(form.least);
    for (column, lines) in grid.columns.iter().zip(cells) {
        let text = with_boxes(&lines, form.text);
        cell(*column, lines, CELL_PAD, text, &mut painted);
    }
    if form.least > 0.0 {
        painted.extend(between(grid, height));
        painted.push(rule(grid, height, WEIGHT_HAIR, Colour::Rule));
    } else {
        painted.push(rule(grid, height, WEIGHT_HAIR, Colour::Hairline));
    }
    Row::new(height, painted)
}

/// The type of a cell: with room between its lines for boxes, if it holds some.
fn with_boxes(lines: &[Line], text: Type) -> Type {
    let is_box = |run: &Run| matches!(run.drawn, Some(Drawn::Tick(_)));
    let boxed = lines.iter().flat_map(|line| &line.runs).any(is_box);
    if boxed { Type { leading: text.leading.max(TICK_LEADING), ..text } } else { text }
}

/// Lines between the columns of a form, in the middle of their gaps.
fn between(grid: &Grid, height: Pt) -> impl Iterator<Item = Mark> {
    let pairs = grid.columns.iter().zip(grid.columns.iter().skip(1));
    pairs.map(move |(left, right)| {
        let x = f64::midpoint(left.x + left.width, right.x) - WEIGHT_HAIR / 2.0;
        Mark::Fill { x, y: 0.0, width: WEIGHT_HAIR, height, colour: Colour::Rule }
    })
}

/// Keeps the first rows together, head included, and the last two.
fn keep(rows: &mut [Row], first: usize) {
    let count = rows.len();
    for (at, row) in rows.iter_mut().enumerate() {
        if at + 1 < count && (at < first || at + 2 == count) {
            row.keep = Keep::WithNext;
        }
    }
}
