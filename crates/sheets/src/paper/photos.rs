//! Photos on a sheet: two side by side, each with what it shows and who took it when.
//!
//! A photo is never split between two pages and never drawn larger than its own dots carry. One that was chosen and is not
//! at hand, or cannot be read, is said to be missing: a sheet that leaves it out in silence would look complete.

use super::page::{Ink, Mark, at};
use super::sheet::{Column, MARGIN, Sheet, Type};
use super::structure::Role;
use super::{Kind, Photo, Subject};
use crate::words::{capital, count, of_key, said};
use krilla::image::Image;
use witnessmark_core::Build;
use witnessmark_core::build::SheetPhoto;

/// Blank between two photos side by side.
const BETWEEN: f64 = 6.0;
/// A photo is no higher than this: two rows of upright ones stand on a page.
const HIGHEST: f64 = 96.0;
/// A printed dot is no larger than this, mm: 150 to the inch. Fewer look like what they are, and hide what they show.
const LARGEST_DOT: f64 = 25.4 / 150.0;

/// A photo ready to be drawn.
struct Ready<'a> {
    image: Image,
    width: f64,
    height: f64,
    shows: String,
    taken: &'a str,
}

/// The sheets on which photos may stand, each with the key under which the document chooses them.
pub const PHOTO_SHEETS: &[(Kind, &str)] = &[(Kind::Bench, "bench"), (Kind::HandOver, "hand_over")];

/// Whether this photo is chosen for this sheet.
fn is_on(photo: &SheetPhoto, kind: Kind) -> bool {
    let chosen = match kind {
        Kind::Bench => photo.bench.as_ref(),
        Kind::HandOver => photo.hand_over.as_ref(),
        _ => None,
    };
    chosen.is_some_and(|given| given.value)
}

/// The names of the photos that the document puts on this sheet.
pub fn photos_on(build: &Build, kind: Kind) -> Vec<&str> {
    build.photos.iter().filter(|(_, photo)| is_on(photo, kind)).map(|(name, _)| name.as_str()).collect()
}

/// The photos that the document puts on this sheet; nothing at all where it puts none there.
pub(crate) fn stand_on(sheet: &mut Sheet<'_>, subject: &Subject<'_>, kind: Kind) {
    let chosen = |name: &str| subject.build.photos.get(name).filter(|one| is_on(one, kind));
    let wanted = photos_on(subject.build, kind).len();
    if wanted == 0 {
        return;
    }
    let wide = (sheet.width() - BETWEEN) / 2.0;
    let ready: Vec<Ready<'_>> = subject
        .photos
        .iter()
        .filter_map(|photo| ready(photo, said(chosen(photo.name)?.caption.as_ref()), wide))
        .collect();
    let first = ready.chunks(2).next().map_or(0.0, |row| height_of(sheet, row, wide));
    sheet.heading("Photos", first.max(10.0));
    for row in ready.chunks(2) {
        lay_row(sheet, row, wide);
    }
    let missing = wanted.saturating_sub(ready.len());
    if missing > 0 {
        let text =
            format!("{} of those chosen for this sheet is not at hand, or cannot be read.", count(missing, "photo"));
        let text =
            if missing == 1 { text } else { text.replace(" is not at hand, or cannot", " are not at hand, or cannot") };
        sheet.paragraph(&text, Type::STRONG.ink(Ink::Stop));
    }
}

fn ready<'a>(photo: &Photo<'a>, caption: Option<&str>, wide: f64) -> Option<Ready<'a>> {
    let bytes: krilla::Data = photo.picture.to_vec().into();
    let image = if photo.picture.starts_with(b"\x89PNG") {
        Image::from_png(bytes, true).ok()?
    } else {
        Image::from_jpeg(bytes, true).ok()?
    };
    let (across, down) = image.size();
    let (across, down) = (f64::from(across), f64::from(down));
    let dot = (wide / across).min(HIGHEST / down).min(LARGEST_DOT);
    let shows = caption.unwrap_or(photo.shows);
    let shows = if shows.is_empty() { of_key(photo.name) } else { shows.to_owned() };
    Some(Ready { image, width: across * dot, height: down * dot, shows: capital(&shows), taken: photo.taken })
}

/// How high a row is with its captions.
fn height_of(sheet: &Sheet<'_>, row: &[Ready<'_>], wide: f64) -> f64 {
    let each = row.iter().map(|one| {
        let words = sheet.height_of(&one.shows, Type::STRONG, wide) + sheet.height_of(one.taken, Type::SMALL, wide);
        one.height + 1.0 + words
    });
    each.fold(0.0, f64::max) + 4.0
}

/// Photos side by side, their captions under them: all on one page.
fn lay_row(sheet: &mut Sheet<'_>, row: &[Ready<'_>], wide: f64) {
    let height = height_of(sheet, row, wide);
    sheet.keep(height);
    let top = sheet.y();
    for (index, one) in row.iter().enumerate() {
        let x = MARGIN + index as f64 * (wide + BETWEEN);
        let figure = sheet.piece(Role::Figure(format!("Photo: {}", one.shows)));
        let corner = at(x, top);
        let mark = Mark::Photo { corner, width: one.width, height: one.height, photo: one.image.clone() };
        sheet.place(mark, Some(figure));
        let words = sheet.piece(Role::Paragraph);
        let under = top + one.height + 1.0;
        let high = sheet.text(&one.shows, Type::STRONG, Column::left(at(x, under), wide), Some(words));
        sheet.text(one.taken, Type::SMALL, Column::left(at(x, under + high), wide), Some(words));
    }
    sheet.gap(height);
}
