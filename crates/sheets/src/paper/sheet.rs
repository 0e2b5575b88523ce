//! A sheet being laid out: a head on its first page, a foot on every page, and between them blocks from above to below.
//!
//! A block that does not fit goes onto the next page; what belongs together stays together.

use super::face::{Face, Shaped, Weight};
use super::page::{At, Heading, Ink, Mark, Paper, Placed, at, line, pen, rectangle};
use super::structure::{Piece, Role, Structure};
use super::write::{Unwritten, Written, write};
use std::rc::Rc;

/// Blank paper at the left and right edges: room for a thumb, and for a printer that needs some.
pub(crate) const MARGIN: f64 = 15.0;
/// Blank paper at the upper edge.
const TOP: f64 = 13.0;
/// The paper that the foot takes.
const FOOT: f64 = 17.0;
/// A printer's point.
const POINT: f64 = 25.4 / 72.0;

/// Letters of a size, a strength and a colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Type {
    pub(crate) size_pt: f64,
    pub(crate) weight: Weight,
    pub(crate) ink: Ink,
}

const fn letters(size_pt: f64, weight: Weight, ink: Ink) -> Type {
    Type { size_pt, weight, ink }
}

impl Type {
    pub(crate) const NAME: Type = letters(21.0, Weight::Bold, Ink::Black);
    pub(crate) const TITLE: Type = letters(13.0, Weight::Bold, Ink::Black);
    pub(crate) const HEADING: Type = letters(12.0, Weight::Bold, Ink::Black);
    pub(crate) const BODY: Type = letters(9.5, Weight::Regular, Ink::Black);
    pub(crate) const STRONG: Type = letters(9.5, Weight::Bold, Ink::Black);
    pub(crate) const QUIET: Type = letters(8.5, Weight::Regular, Ink::Pencil);
    pub(crate) const SMALL: Type = letters(7.5, Weight::Regular, Ink::Pencil);
    pub(crate) const LARGE: Type = letters(15.0, Weight::Bold, Ink::Black);

    pub(crate) const fn ink(self, ink: Ink) -> Self {
        Type { ink, ..self }
    }

    pub(crate) const fn size(self, size_pt: f64) -> Self {
        Type { size_pt, ..self }
    }

    /// The height of a line.
    pub(crate) fn line(self) -> f64 {
        self.size_pt * POINT * 1.28
    }

    /// From the top of a line down to where its letters stand.
    pub(crate) fn base(self) -> f64 {
        self.size_pt * POINT * 0.97
    }
}

/// Where text stands between its edges.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Align {
    #[default]
    Left,
    Right,
    Middle,
}

/// What stands at the head of a sheet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Head {
    /// What the sheet is: "Bench sheet".
    pub(crate) name: &'static str,
    /// Who signs it.
    pub(crate) workshop: String,
    /// Of which bike it is.
    pub(crate) title: String,
    /// What is said of it: a word and its value each.
    pub(crate) facts: Vec<(&'static str, String)>,
    /// The day it speaks of.
    pub(crate) day: Option<jiff::civil::Date>,
    /// What stands at its foot, before the number of the page.
    pub(crate) foot: String,
}

/// A sheet being laid out.
pub(crate) struct Sheet<'a> {
    pub(crate) face: &'a Face,
    paper: Paper,
    head: Head,
    pages: Vec<Vec<Placed>>,
    y: f64,
    structure: Structure,
    section: Piece,
    headings: Vec<Heading>,
}

impl<'a> Sheet<'a> {
    /// A sheet with its head.
    pub(crate) fn new(face: &'a Face, paper: Paper, head: Head) -> Self {
        let mut sheet = Sheet {
            face,
            paper,
            head,
            pages: vec![Vec::new()],
            y: TOP,
            structure: Structure::new(),
            section: Structure::ROOT,
            headings: Vec::new(),
        };
        sheet.first_head();
        sheet
    }

    /// The width between the margins.
    pub(crate) fn width(&self) -> f64 {
        self.paper.size_mm().0 - 2.0 * MARGIN
    }

    fn lowest(&self) -> f64 {
        self.paper.size_mm().1 - FOOT
    }

    /// Where the next block begins.
    pub(crate) fn y(&self) -> f64 {
        self.y
    }

    pub(crate) fn gap(&mut self, height: f64) {
        self.y += height;
    }

    /// Sees that so much height is left on this page, otherwise begins the next one; says whether it did.
    pub(crate) fn keep(&mut self, height: f64) -> bool {
        if self.y + height <= self.lowest() {
            return false;
        }
        self.next_page();
        true
    }

    /// Whether so much height is left on this page.
    pub(crate) fn fits(&self, height: f64) -> bool {
        self.y + height <= self.lowest()
    }

    pub(crate) fn next_page(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP;
        let words = format!("{} · {}", self.head.name, self.head.title);
        let line_type = Type::QUIET;
        let room = self.width();
        let first = self.face.lines(line_type.weight, &words, em(line_type, room)).into_iter().next();
        if let Some(first) = first {
            self.letters(first, line_type, at(MARGIN, self.y), None);
        }
        self.y += line_type.line() + 1.0;
        self.ornament(line(at(MARGIN, self.y), at(MARGIN + room, self.y), pen(Ink::Line, 0.25)));
        self.y += 4.0;
    }

    /// A new piece of the structure in the section that is open.
    pub(crate) fn piece(&mut self, role: Role) -> Piece {
        self.structure.add(self.section, role)
    }

    /// A new piece inside another.
    pub(crate) fn piece_in(&mut self, parent: Piece, role: Role) -> Piece {
        self.structure.add(parent, role)
    }

    pub(crate) fn place(&mut self, mark: Mark, piece: Option<Piece>) {
        if let Some(page) = self.pages.last_mut() {
            page.push(Placed { mark, piece });
        }
    }

    pub(crate) fn ornament(&mut self, mark: Mark) {
        self.place(mark, None);
    }

    /// One line of letters, its upper left corner here.
    pub(crate) fn letters(&mut self, shaped: Shaped, letters: Type, corner: At, piece: Option<Piece>) {
        let at = at(corner.x, corner.y + letters.base());
        let mark = Mark::Letters { at, size_pt: letters.size_pt, ink: letters.ink, letters: Rc::new(shaped) };
        self.place(mark, piece);
    }

    /// Text in a column, its upper corner here; says how high it is.
    pub(crate) fn text(&mut self, text: &str, letters: Type, column: Column, piece: Option<Piece>) -> f64 {
        let lines = self.face.lines(letters.weight, text, em(letters, column.width));
        let height = lines.len() as f64 * letters.line();
        for (index, shaped) in lines.into_iter().enumerate() {
            let spare = column.width - wide(letters, &shaped);
            let x = match column.align {
                Align::Left => column.corner.x,
                Align::Right => column.corner.x + spare,
                Align::Middle => column.corner.x + spare / 2.0,
            };
            let y = column.corner.y + index as f64 * letters.line();
            self.letters(shaped, letters, at(x, y), piece);
        }
        height
    }

    /// How high a text is in a column.
    pub(crate) fn height_of(&self, text: &str, letters: Type, width: f64) -> f64 {
        self.face.lines(letters.weight, text, em(letters, width)).len() as f64 * letters.line()
    }

    /// A heading, kept together with so much of what follows.
    pub(crate) fn heading(&mut self, text: &str, with: f64) {
        let letters = Type::HEADING;
        self.gap(4.5);
        self.keep(letters.line() + with);
        self.section = self.structure.add(Structure::ROOT, Role::Section);
        let piece = self.piece(Role::Heading(2, text.to_owned()));
        self.headings.push(Heading { page: self.pages.len() - 1, y: self.y, text: text.to_owned() });
        let column = Column::left(at(MARGIN, self.y), self.width());
        self.y += self.text(text, letters, column, Some(piece)) + 1.2;
    }

    /// A paragraph over the whole width.
    pub(crate) fn paragraph(&mut self, text: &str, letters: Type) {
        let piece = self.piece(Role::Paragraph);
        let width = self.width();
        self.keep(self.height_of(text, letters, width).min(letters.line() * 3.0));
        for shaped in self.face.lines(letters.weight, text, em(letters, width)) {
            self.keep(letters.line());
            self.letters(shaped, letters, at(MARGIN, self.y), Some(piece));
            self.y += letters.line();
        }
        self.y += 1.2;
    }

    /// Words in a box with a bar at its left: something to be seen before the rest.
    pub(crate) fn callout(&mut self, bar: Ink, wash: Ink, lines: &[(Type, String)]) {
        const PAD: f64 = 2.0;
        let inside = self.width() - 4.0 - 2.0 * PAD;
        let height: f64 = lines.iter().map(|(letters, text)| self.height_of(text, *letters, inside)).sum();
        self.keep(height + 2.0 * PAD);
        let top = self.y;
        self.ornament(rectangle(at(MARGIN, top), self.width(), height + 2.0 * PAD, wash));
        self.ornament(rectangle(at(MARGIN, top), 1.4, height + 2.0 * PAD, bar));
        let mut y = top + PAD;
        for (letters, text) in lines {
            let piece = self.piece(Role::Paragraph);
            y += self.text(text, *letters, Column::left(at(MARGIN + 2.0 + PAD, y), inside), Some(piece));
        }
        self.y = top + height + 2.0 * PAD + 1.6;
    }

    /// A picture of this height, drawn from its upper left corner, with what it shows in words.
    pub(crate) fn picture(&mut self, height: f64, marks: Vec<Mark>, words: &str) {
        self.keep(height);
        let piece = self.piece(Role::Figure(words.to_owned()));
        let corner = at(MARGIN, self.y);
        for mark in marks {
            self.place(mark.moved(corner), Some(piece));
        }
        self.y += height;
    }

    /// Places to sign: a line each with its words under it, side by side.
    pub(crate) fn signatures(&mut self, who: &[&str]) {
        let letters = Type::QUIET;
        self.keep(17.0 + letters.line());
        self.y += 15.0;
        let step = self.width() / who.len().max(1) as f64;
        for (index, words) in who.iter().enumerate() {
            let x = MARGIN + index as f64 * step;
            self.ornament(line(at(x, self.y), at(x + step - 8.0, self.y), pen(Ink::Black, 0.3)));
            let piece = self.piece(Role::Paragraph);
            self.text(words, letters, Column::left(at(x, self.y + 0.8), step - 8.0), Some(piece));
        }
        self.y += letters.line() + 3.0;
    }

    /// The head of the first page: what it is, of which bike, and what is said of it.
    fn first_head(&mut self) {
        let head = self.head.clone();
        let width = self.width();
        let name = Type::NAME;
        let piece = self.piece(Role::Heading(1, head.name.to_owned()));
        self.headings.push(Heading { page: 0, y: self.y, text: head.name.to_owned() });
        let signed = width * 0.42;
        let high = self.text(head.name, name, Column::left(at(MARGIN, self.y), width - signed), Some(piece));
        let brand = Type::STRONG;
        let lines = self.face.lines(brand.weight, &head.workshop, em(brand, signed - 8.0));
        let widest = lines.iter().map(|shaped| wide(brand, shaped)).fold(0.0, f64::max);
        let x = MARGIN + width - widest;
        for mark in house(at(x - 7.2, self.y + 1.0), 5.0) {
            self.ornament(mark);
        }
        let piece = self.piece(Role::Paragraph);
        let column = Column::left(at(x, self.y + 1.5), widest + 0.1);
        let signed_high = self.text(&head.workshop, brand, column, Some(piece)) + 1.5;
        self.y += high.max(signed_high) + 0.5;
        let piece = self.piece(Role::Paragraph);
        self.y += self.text(&head.title, Type::TITLE, Column::left(at(MARGIN, self.y), width), Some(piece)) + 1.0;
        self.facts(&head.facts);
        self.ornament(line(at(MARGIN, self.y), at(MARGIN + width, self.y), pen(Ink::Black, 0.5)));
        self.y += 4.0;
    }

    /// Words with their values, side by side, in as many rows as they need.
    pub(crate) fn facts(&mut self, facts: &[(&'static str, String)]) {
        const COLUMNS: usize = 4;
        let step = self.width() / COLUMNS as f64;
        for row in facts.chunks(COLUMNS) {
            let height = row.iter().map(|(_, value)| self.height_of(value, Type::BODY, step - 4.0)).fold(0.0, f64::max);
            self.keep(height + Type::SMALL.line());
            for (index, (word, value)) in row.iter().enumerate() {
                let piece = self.piece(Role::Paragraph);
                let corner = at(MARGIN + index as f64 * step, self.y);
                let high = self.text(word, Type::SMALL, Column::left(corner, step - 4.0), Some(piece));
                let corner = at(corner.x, corner.y + high);
                self.text(value, Type::BODY, Column::left(corner, step - 4.0), Some(piece));
            }
            self.y += height + Type::SMALL.line() + 1.4;
        }
        self.y += 0.8;
    }

    /// The finished document.
    pub(crate) fn finish(mut self) -> Result<Vec<u8>, Unwritten> {
        let count = self.pages.len();
        let (width, height) = self.paper.size_mm();
        let letters = Type::SMALL;
        let top = height - FOOT + 5.0;
        for number in 1..=count {
            let paged = self.face.shape(letters.weight, &format!("page {number} of {count}"));
            let x = width - MARGIN - wide(letters, &paged);
            let room = x - MARGIN - 4.0;
            let foot = self.face.lines(letters.weight, &self.head.foot, em(letters, room));
            let mut marks = vec![line(at(MARGIN, top - 1.5), at(width - MARGIN, top - 1.5), pen(Ink::Line, 0.25))];
            let mut say = |shaped: Shaped, x: f64, row: usize| {
                let at = at(x, top + letters.base() + row as f64 * letters.line());
                let (size_pt, ink) = (letters.size_pt, letters.ink);
                marks.push(Mark::Letters { at, size_pt, ink, letters: Rc::new(shaped) });
            };
            foot.into_iter().take(2).enumerate().for_each(|(row, shaped)| say(shaped, MARGIN, row));
            say(paged, x, 0);
            self.pages[number - 1].extend(marks.into_iter().map(|mark| Placed { mark, piece: None }));
        }
        let title = format!("{} · {}", self.head.name, self.head.title);
        let written = Written {
            title,
            about: self.head.foot,
            day: self.head.day,
            paper: self.paper,
            pages: self.pages,
            headings: self.headings,
            structure: self.structure,
        };
        write(written, self.face)
    }
}

/// A column for text: its upper left corner, its width, and where text stands in it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    pub(crate) corner: At,
    pub(crate) width: f64,
    pub(crate) align: Align,
}

impl Column {
    pub(crate) const fn left(corner: At, width: f64) -> Self {
        Column { corner, width, align: Align::Left }
    }
}

/// A width in units of the type size.
pub(crate) fn em(letters: Type, width: f64) -> f64 {
    width / (letters.size_pt * POINT)
}

/// How wide a line of letters is.
pub(crate) fn wide(letters: Type, shaped: &Shaped) -> f64 {
    shaped.width_em * letters.size_pt * POINT
}

/// The house's own sign: a line over two parts, unbroken.
fn house(corner: At, size: f64) -> Vec<Mark> {
    let unit = size / 24.0;
    let place = |x: f64, y: f64| at(corner.x + x * unit, corner.y + y * unit);
    vec![
        rectangle(place(0.0, 1.0), 24.0 * unit, 10.0 * unit, Ink::Band),
        rectangle(place(4.0, 13.0), 20.0 * unit, 10.0 * unit, Ink::Band),
        line(place(15.0, 0.0), place(15.0, 24.0), pen(Ink::Dye, 3.5 * unit)),
    ]
}
