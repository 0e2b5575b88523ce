//! Tables: columns of fixed width and one that takes the rest, rows as high as their tallest cell, a head that is repeated
//! on each page.

use super::page::{Ink, Mark, at, line, pen, rectangle};
use super::sheet::{Align, Column, MARGIN, Sheet, Type};
use super::structure::{Piece, Role};

/// Blank above and below the text of a cell.
const PAD: f64 = 0.9;
/// Blank between columns.
const GUTTER: f64 = 2.4;

/// A column of a table.
#[derive(Clone, Debug)]
pub(crate) struct Head {
    pub(crate) words: String,
    /// Its width; 0 for the one that takes what is left.
    pub(crate) width: f64,
    pub(crate) align: Align,
}

/// A column head.
pub(crate) fn head(words: &str, width: f64, align: Align) -> Head {
    Head { words: words.to_owned(), width, align }
}

/// What stands in a cell.
#[derive(Clone, Debug)]
pub(crate) enum Cell {
    Empty,
    /// Texts one under the other.
    Text(Vec<(Type, String)>),
    /// A picture with what it shows in words.
    Picture {
        width: f64,
        height: f64,
        marks: Vec<Mark>,
        words: String,
    },
    /// A line to write on.
    Write,
    /// A box to tick.
    Tick,
}

/// A cell with one text.
pub(crate) fn said(letters: Type, text: impl Into<String>) -> Cell {
    let text = text.into();
    if text.is_empty() { Cell::Empty } else { Cell::Text(vec![(letters, text)]) }
}

/// A row of a table.
#[derive(Clone, Debug, Default)]
pub(crate) struct Row {
    pub(crate) cells: Vec<Cell>,
    /// The colour behind it.
    pub(crate) wash: Option<Ink>,
    /// A stronger line above it: a sum.
    pub(crate) sum: bool,
    /// Taller than its text: room to write.
    pub(crate) least: f64,
    /// It stays on one page with the row after it.
    pub(crate) with_next: bool,
}

/// A row of these cells.
pub(crate) fn row(cells: Vec<Cell>) -> Row {
    Row { cells, ..Row::default() }
}

/// A table.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    pub(crate) heads: Vec<Head>,
    pub(crate) rows: Vec<Row>,
    /// The letters of its heads.
    pub(crate) head_type: Type,
}

impl Table {
    pub(crate) fn new(heads: Vec<Head>, rows: Vec<Row>) -> Self {
        Table { heads, rows, head_type: Type::SMALL }
    }

    /// Its rows say everything themselves.
    fn has_no_heads(&self) -> bool {
        self.heads.iter().all(|head| head.words.is_empty())
    }
}

/// A column as it came to lie.
#[derive(Clone, Copy, Debug)]
struct Lies {
    x: f64,
    width: f64,
    align: Align,
}

impl Sheet<'_> {
    /// How high a table's head and its first row are: what a heading wants below it.
    pub(crate) fn begins_with(&self, table: &Table) -> f64 {
        let lies = lay(&table.heads, self.width());
        let first: f64 = table.rows.iter().take(2).map(|row| self.row_height(row, &lies)).sum();
        self.head_height(table, &lies) + first
    }

    /// A table, over as many pages as it needs.
    pub(crate) fn table(&mut self, table: &Table) {
        if table.rows.is_empty() {
            return;
        }
        let lies = lay(&table.heads, self.width());
        let piece = self.piece(Role::Table);
        self.keep(self.begins_with(table));
        self.table_head(table, &lies, Some(piece));
        let body = self.piece_in(piece, Role::TableBody);
        for (index, row) in table.rows.iter().enumerate() {
            let height = self.row_height(row, &lies);
            let next = table.rows.get(index + 1).filter(|_| row.with_next);
            let together = height + next.map_or(0.0, |next| self.row_height(next, &lies));
            if self.keep(together) {
                // What was said once is an ornament the second time.
                self.table_head(table, &lies, None);
            }
            self.table_row(row, &lies, height, body);
        }
        let end = at(MARGIN + self.width(), self.y());
        self.ornament(line(at(MARGIN, self.y()), end, pen(Ink::Line, 0.25)));
        self.gap(1.2);
    }

    fn head_height(&self, table: &Table, lies: &[Lies]) -> f64 {
        if table.has_no_heads() {
            return 0.0;
        }
        let highs = table.heads.iter().zip(lies);
        let tallest = highs.map(|(head, lies)| self.height_of(&head.words, table.head_type, lies.width));
        tallest.fold(0.0, f64::max) + PAD
    }

    fn table_head(&mut self, table: &Table, lies: &[Lies], piece: Option<Piece>) {
        if table.has_no_heads() {
            return;
        }
        let height = self.head_height(table, lies);
        let row = piece.map(|piece| {
            let head = self.piece_in(piece, Role::TableHead);
            self.piece_in(head, Role::Row)
        });
        for (head, lies) in table.heads.iter().zip(lies) {
            let cell = row.map(|row| self.piece_in(row, Role::ColumnHead));
            // Heads stand on the line, however many lines they have.
            let y = self.y() + height - PAD - self.height_of(&head.words, table.head_type, lies.width);
            let column = Column { corner: at(lies.x, y), width: lies.width, align: lies.align };
            let words = if head.words.is_empty() { " " } else { &head.words };
            self.text(words, table.head_type, column, cell);
        }
        self.gap(height);
        let end = at(MARGIN + self.width(), self.y());
        self.ornament(line(at(MARGIN, self.y()), end, pen(Ink::Black, 0.35)));
    }

    fn row_height(&self, row: &Row, lies: &[Lies]) -> f64 {
        let spans = row.cells.len() == 1 && lies.len() > 1;
        let width = |index: usize| if spans { self.width() } else { lies.get(index).map_or(0.0, |lies| lies.width) };
        let tallest = row.cells.iter().enumerate().map(|(index, cell)| match cell {
            Cell::Empty | Cell::Tick | Cell::Write => Type::BODY.line(),
            Cell::Text(texts) => texts.iter().map(|(letters, text)| self.height_of(text, *letters, width(index))).sum(),
            Cell::Picture { height, .. } => *height,
        });
        (tallest.fold(0.0, f64::max) + 2.0 * PAD).max(row.least)
    }

    fn table_row(&mut self, row: &Row, lies: &[Lies], height: f64, body: Piece) {
        let top = self.y();
        if let Some(wash) = row.wash {
            self.ornament(rectangle(at(MARGIN, top), self.width(), height, wash));
        }
        let strength = if row.sum { pen(Ink::Black, 0.35) } else { pen(Ink::Line, 0.2) };
        self.ornament(line(at(MARGIN, top), at(MARGIN + self.width(), top), strength));
        let piece = self.piece_in(body, Role::Row);
        let spans = row.cells.len() == 1 && lies.len() > 1;
        for (index, cell) in row.cells.iter().enumerate() {
            let Some(mut place) = lies.get(index).copied() else { break };
            let role = match index {
                _ if spans => Role::Cell(u32::try_from(lies.len()).unwrap_or(1)),
                0 => Role::RowHead,
                _ => Role::Cell(1),
            };
            if spans {
                place = Lies { x: MARGIN, width: self.width(), align: Align::Left };
            }
            let piece = self.piece_in(piece, role);
            self.cell(cell, place, height, piece);
        }
        self.gap(height);
    }

    fn cell(&mut self, cell: &Cell, lies: Lies, height: f64, piece: Piece) {
        let top = self.y() + PAD;
        match cell {
            Cell::Empty => {
                // A blank that is there, so that every row has as many cells as the head.
                self.text(" ", Type::BODY, Column::left(at(lies.x, top), lies.width), Some(piece));
            }
            Cell::Text(texts) => {
                let mut y = top;
                for (letters, text) in texts {
                    let column = Column { corner: at(lies.x, y), width: lies.width, align: lies.align };
                    y += self.text(text, *letters, column, Some(piece));
                }
            }
            Cell::Picture { width, marks, words, .. } => {
                let figure = self.piece_in(piece, Role::Figure(words.clone()));
                let spare = match lies.align {
                    Align::Left => 0.0,
                    Align::Right => lies.width - width,
                    Align::Middle => (lies.width - width) / 2.0,
                };
                for mark in marks {
                    self.place(mark.clone().moved(at(lies.x + spare, top)), Some(figure));
                }
            }
            Cell::Write => {
                let foot = self.y() + height - 1.2;
                self.text(" ", Type::BODY, Column::left(at(lies.x, top), lies.width), Some(piece));
                self.ornament(line(at(lies.x, foot), at(lies.x + lies.width, foot), pen(Ink::Pencil, 0.25)));
            }
            Cell::Tick => {
                self.text(" ", Type::BODY, Column::left(at(lies.x, top), lies.width), Some(piece));
                let side = 3.4;
                let (x, y) = (lies.x + (lies.width - side) / 2.0, self.y() + (height - side) / 2.0);
                let corners = vec![at(x, y), at(x + side, y), at(x + side, y + side), at(x, y + side)];
                self.ornament(Mark::Line { points: corners, pen: pen(Ink::Black, 0.3), closed: true });
            }
        }
    }
}

/// Where each column lies.
fn lay(heads: &[Head], width: f64) -> Vec<Lies> {
    let fixed: f64 = heads.iter().map(|head| head.width).sum();
    let gutters = GUTTER * heads.len().saturating_sub(1) as f64;
    let rest = (width - fixed - gutters).max(10.0);
    let mut x = MARGIN;
    heads
        .iter()
        .map(|head| {
            let width = if head.width > 0.0 { head.width } else { rest };
            let lies = Lies { x, width, align: head.align };
            x += width + GUTTER;
            lies
        })
        .collect()
}
