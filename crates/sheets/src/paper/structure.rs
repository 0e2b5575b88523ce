//! What the marks on the pages mean, for whoever has them read aloud: headings, paragraphs, tables, figures with words.

use krilla::tagging::{Identifier, Node, TableHeaderScope, Tag, TagGroup, TagTree};
use std::num::{NonZeroU16, NonZeroU32};

/// What a piece of a sheet is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Role {
    /// A stretch of the sheet with its heading.
    Section,
    /// A heading of this level.
    Heading(u16, String),
    Paragraph,
    Table,
    TableHead,
    TableBody,
    Row,
    /// The head of a column.
    ColumnHead,
    /// The head of a row.
    RowHead,
    /// A cell over so many columns.
    Cell(u32),
    /// A picture, and what it shows in words.
    Figure(String),
}

/// The place of a piece in the structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Piece(usize);

/// The structure of a document, filled in reading order.
#[derive(Debug)]
pub(crate) struct Structure {
    pieces: Vec<(Role, Vec<usize>, Vec<Identifier>)>,
}

impl Structure {
    /// The root alone.
    pub(crate) const ROOT: Piece = Piece(0);

    pub(crate) fn new() -> Self {
        Structure { pieces: vec![(Role::Section, Vec::new(), Vec::new())] }
    }

    /// A new piece, last in its parent.
    pub(crate) fn add(&mut self, parent: Piece, role: Role) -> Piece {
        let at = self.pieces.len();
        self.pieces.push((role, Vec::new(), Vec::new()));
        self.pieces[parent.0].1.push(at);
        Piece(at)
    }

    /// Marks on a page that belong to a piece.
    pub(crate) fn marks(&mut self, piece: Piece, marks: Identifier) {
        self.pieces[piece.0].2.push(marks);
    }

    pub(crate) fn tree(&self) -> TagTree {
        let mut tree = TagTree::new();
        tree.push(Node::Group(self.group(0)));
        tree
    }

    /// A piece with all below it: no deeper than section, table, body, row and cell.
    fn group(&self, at: usize) -> TagGroup {
        let (role, children, marks) = &self.pieces[at];
        let mut group = match role {
            Role::Section => TagGroup::new(Tag::Section),
            Role::Heading(level, title) => {
                TagGroup::new(Tag::Hn(NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN), Some(title.clone())))
            }
            Role::Paragraph => TagGroup::new(Tag::P),
            Role::Table => TagGroup::new(Tag::Table),
            Role::TableHead => TagGroup::new(Tag::THead),
            Role::TableBody => TagGroup::new(Tag::TBody),
            Role::Row => TagGroup::new(Tag::TR),
            Role::ColumnHead => TagGroup::new(Tag::TH(TableHeaderScope::Column)),
            Role::RowHead => TagGroup::new(Tag::TH(TableHeaderScope::Row)),
            Role::Cell(columns) => {
                let span = NonZeroU32::new(*columns).filter(|columns| columns.get() > 1);
                TagGroup::new(Tag::TD.with_col_span(span))
            }
            Role::Figure(words) => TagGroup::new(Tag::Figure(Some(words.clone()))),
        };
        for marks in marks {
            group.push(*marks);
        }
        for child in children {
            group.push(self.group(*child));
        }
        group
    }
}
