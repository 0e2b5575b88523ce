//! Labels for frame, boxes and wheel bags: whose they are, and a code that opens the build's record. A page of them to cut
//! apart, or one for a printer of labels.

use super::face::Face;
use super::page::{At, Heading, Ink, Mark, Paper, Placed, at, line, pen};
use super::picture::letters;
use super::sheet::{Head, Sheet, Type, em};
use super::structure::{Piece, Role, Structure};
use super::write::{Written, write};
use super::{Kind, NoSheet, Subject, head, of_the_bike};
use qrcode::{Color, EcLevel, QrCode};

/// A label's height; two stand side by side.
const HEIGHT: f64 = 56.0;
/// Blank round what is printed on a label.
const PAD: f64 = 4.0;
/// The side of the code with its quiet edge.
const CODE: f64 = 40.0;

pub(super) fn lay_out(subject: &Subject<'_>, face: &Face, paper: Paper) -> Result<Vec<u8>, NoSheet> {
    const WANTED: &str = "a label needs the address of the build’s record: it is what its code says";
    let record = subject.record.ok_or(NoSheet::Wants(WANTED))?;
    let code = QrCode::with_error_correction_level(record.address, EcLevel::M)
        .map_err(|_| NoSheet::Wants("the address of the build’s record is too long for a code"))?;
    let head = Head { facts: of_the_bike(subject.build), ..head(Kind::Label, subject, Vec::new()) };
    if matches!(paper, Paper::Roll { .. }) {
        return of_a_roll(face, paper, &head, record.address, &code);
    }
    let mut sheet = Sheet::new(face, paper, Head { facts: Vec::new(), ..head.clone() });
    let width = sheet.width() / 2.0;
    let label = one(face, &head, record.address, &code, width);
    while sheet.fits(HEIGHT) {
        let mut marks: Vec<Mark> = label.clone();
        marks.extend(label.iter().cloned().map(|mark| mark.moved(at(width, 0.0))));
        let words = format!("Two labels alike: {}, with a code that opens {}", head.title, record.address);
        sheet.picture(HEIGHT, marks, &words);
    }
    Ok(sheet.finish()?)
}

/// A label from its upper left corner.
fn one(face: &Face, head: &Head, address: &str, code: &QrCode, width: f64) -> Vec<Mark> {
    let corners = vec![at(0.0, 0.0), at(width, 0.0), at(width, HEIGHT), at(0.0, HEIGHT)];
    let mut marks = vec![Mark::Line { points: corners, pen: pen(Ink::Line, 0.2), closed: true }];
    marks.push(squares(code, at(PAD, PAD), CODE - 2.0));
    let left = PAD + CODE;
    let room = width - left - PAD;
    let mut y = PAD + 1.0;
    let mut say = |text: &str, type_: Type, most: usize| {
        for shaped in face.lines(type_.weight, text, em(type_, room)).into_iter().take(most) {
            marks.push(letters(shaped, type_, at(left, y + type_.base())));
            y += type_.line();
        }
        y += 0.8;
    };
    say(&head.title, Type::TITLE, 3);
    for (word, value) in head.facts.iter().filter(|(word, _)| *word != "stage") {
        say(&format!("{word}: {value}"), Type::BODY.size(8.5), 2);
    }
    for (x, words) in [(left, "what"), (left + room * 0.62, "of")] {
        let long = if words == "what" { room * 0.56 } else { room * 0.38 };
        let foot = HEIGHT - PAD - 3.6;
        marks.push(line(at(x, foot), at(x + long, foot), pen(Ink::Pencil, 0.25)));
        let shaped = face.shape(Type::SMALL.weight, words);
        marks.push(letters(shaped, Type::SMALL, at(x, foot + Type::SMALL.base() + 0.4)));
    }
    let small = Type::SMALL.size(6.5);
    let under = face.lines(small.weight, address, em(small, CODE - 1.0));
    for (row, shaped) in under.into_iter().take(3).enumerate() {
        marks.push(letters(shaped, small, at(PAD, PAD + CODE - 1.0 + small.base() + row as f64 * small.line())));
    }
    marks
}

/// Blank round what is printed on a label of a roll: as little as its printer leaves blank by itself.
const EDGE: f64 = 2.0;

/// One label of a roll: the code as large as it goes, and beside it (on an upright label below it) whose it is.
fn of_a_roll(face: &Face, paper: Paper, head: &Head, address: &str, code: &QrCode) -> Result<Vec<u8>, NoSheet> {
    let (width, height) = paper.size_mm();
    let beside = width >= height;
    let side = if beside { (height - 2.0 * EDGE).min(width * 0.5) } else { (width - 2.0 * EDGE).min(height * 0.6) };
    let (left, top) = if beside { (EDGE + side + 1.0, EDGE) } else { (EDGE, EDGE + side + 1.0) };
    let (room, foot) = (width - left - EDGE, height - EDGE);
    let mut structure = Structure::new();
    let mut placed = Vec::new();
    let heading = structure.add(Structure::ROOT, Role::Heading(1, head.title.clone()));
    let figure = structure.add(Structure::ROOT, Role::Figure(format!("A code that opens {address}")));
    let words = structure.add(Structure::ROOT, Role::Paragraph);
    placed.push(Placed { mark: squares(code, at(EDGE, EDGE), side), piece: Some(figure) });

    // A larger label has larger letters; below six points nobody reads them.
    let size = (room.min(foot - top) * 0.28).clamp(6.0, 13.0);
    let mut y = top;
    let mut say = |text: &str, letters_of: Type, most: usize, piece: Piece| {
        for shaped in face.lines(letters_of.weight, text, em(letters_of, room)).into_iter().take(most) {
            // A line that would run over the edge is left out whole.
            if y + letters_of.line() <= foot {
                placed.push(Placed {
                    mark: letters(shaped, letters_of, at(left, y + letters_of.base())),
                    piece: Some(piece),
                });
                y += letters_of.line();
            }
        }
    };
    say(&head.title, Type::TITLE.size(size + 1.0), 3, heading);
    for (_, value) in head.facts.iter().filter(|(word, _)| *word != "stage") {
        say(value, Type::BODY.size(size - 1.0), 1, words);
    }
    // Black: a label's printer has one ink, and grey comes out as dots.
    say(address, Type::SMALL.size((size - 2.0).max(5.5)).ink(Ink::Black), 3, words);
    let written = Written {
        title: format!("{} · {}", head.name, head.title),
        about: head.foot.clone(),
        day: head.day,
        paper,
        pages: vec![placed],
        headings: vec![Heading { page: 0, y: 0.0, text: head.title.clone() }],
        structure,
    };
    Ok(write(written, face)?)
}

/// The code in a square of this side, two of its own squares of quiet edge round it, and blank paper beyond.
fn squares(code: &QrCode, corner: At, side: f64) -> Mark {
    const QUIET: f64 = 4.0;
    let count = code.width();
    let side = side / (count as f64 + QUIET);
    let edge = QUIET / 2.0 * side;
    let dark = code.to_colors().into_iter().enumerate().filter(|(_, color)| *color == Color::Dark);
    let corners = dark
        .map(|(index, _)| {
            let (row, column) = (index / count, index % count);
            at(corner.x + edge + column as f64 * side, corner.y + edge + row as f64 * side)
        })
        .collect();
    Mark::Squares { corners, side: side + 0.01, ink: Ink::Black }
}
