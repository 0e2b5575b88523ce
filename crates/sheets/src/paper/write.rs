//! Pages into the bytes of a PDF: tagged, outlined, its typeface inside, and the same bytes for the same pages.
//!
//! It is written as PDF/UA-1, and the library refuses what that does not allow: a letter without a code, a picture without
//! words, a document without title and language. No clock is asked: the document's date is the day on the sheet, or none.

use super::face::{Face, Weight};
use super::page::{At, Heading, Ink, Mark, Paper, Pen, Placed, at};
use super::structure::Structure;
use krilla::color::rgb;
use krilla::configure::{Accessibility, Configuration, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::text::Font;
use krilla::{Document, SerializeSettings};
use std::fmt;

/// Points of a printer in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

/// A document ready to be written.
pub(crate) struct Written {
    pub(crate) title: String,
    pub(crate) about: String,
    pub(crate) day: Option<jiff::civil::Date>,
    pub(crate) paper: Paper,
    pub(crate) pages: Vec<Vec<Placed>>,
    pub(crate) headings: Vec<Heading>,
    pub(crate) structure: Structure,
}

/// A sheet could not be written. It is a mistake of the program, and an error all the same: nobody gains from a stopped
/// workshop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unwritten(pub(crate) String);

impl fmt::Display for Unwritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the sheet could not be written: {}", self.0)
    }
}

impl std::error::Error for Unwritten {}

fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

fn point(at: At) -> Point {
    Point::from_xy(points(at.x), points(at.y))
}

/// Writes the document; refuses what would not be a sound one.
pub(crate) fn write(written: Written, face: &Face) -> Result<Vec<u8>, Unwritten> {
    let configuration: Configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| Unwritten(format!("{error:?}")))?;
    let mut document = Document::new_with(SerializeSettings { configuration, ..SerializeSettings::default() });
    let Written { title, about, day, paper, pages, headings, mut structure } = written;
    let (width, height) = paper.size_mm();
    let fonts = Fonts { regular: face.font(Weight::Regular), bold: face.font(Weight::Bold) };
    for marks in &pages {
        let size = PageSettings::from_wh(points(width), points(height))
            .ok_or_else(|| Unwritten("paper without a size".into()))?;
        let mut page = document.start_page_with(size);
        let mut surface = page.surface();
        draw(&mut surface, marks, &fonts, &mut structure);
        surface.finish();
        page.finish();
    }
    let mut outline = Outline::new();
    for heading in headings {
        let place = Point::from_xy(0.0, points((heading.y - 4.0).max(0.0)));
        outline.push_child(OutlineNode::new(heading.text, XyzDestination::new(heading.page, place)));
    }
    document.set_outline(outline);
    document.set_tag_tree(structure.tree());
    let mut metadata =
        Metadata::new().title(title).description(about).language("en".into()).creator("Witness Mark".into());
    if let Some(day) = day {
        metadata = metadata.creation_date(date(day));
    }
    document.set_metadata(metadata);
    document.finish().map_err(|error| Unwritten(format!("{error:?}")))
}

fn date(day: jiff::civil::Date) -> DateTime {
    let small = |number: i8| u8::try_from(number).unwrap_or(1);
    DateTime::new(u16::try_from(day.year()).unwrap_or(0)).month(small(day.month())).day(small(day.day()))
}

struct Fonts {
    regular: Font,
    bold: Font,
}

/// Draws a page: marks that follow each other and belong to one piece are one stretch of it.
fn draw(surface: &mut Surface<'_>, marks: &[Placed], fonts: &Fonts, structure: &mut Structure) {
    let mut rest = marks;
    while let Some(first) = rest.first() {
        let end = rest.iter().position(|placed| placed.piece != first.piece).unwrap_or(rest.len());
        let (stretch, after) = rest.split_at(end);
        let tag = match first.piece {
            None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            Some(_) if stretch.iter().all(|placed| matches!(placed.mark, Mark::Letters { .. })) => {
                ContentTag::Span(SpanTag::empty())
            }
            Some(_) => ContentTag::Other,
        };
        let marks = surface.start_tagged(tag);
        for placed in stretch {
            one(surface, &placed.mark, fonts);
        }
        surface.end_tagged();
        if let Some(piece) = first.piece {
            structure.marks(piece, marks);
        }
        rest = after;
    }
}

fn one(surface: &mut Surface<'_>, mark: &Mark, fonts: &Fonts) {
    match mark {
        Mark::Letters { at, size_pt, ink, letters } => {
            let font = match letters.weight {
                Weight::Regular => fonts.regular.clone(),
                Weight::Bold => fonts.bold.clone(),
            };
            surface.set_fill(Some(fill(*ink)));
            surface.set_stroke(None);
            surface.draw_glyphs(point(*at), &letters.glyphs, font, &letters.text, *size_pt as f32, false);
        }
        Mark::Fill { corners, ink } => {
            shape(surface, corners, true, Some(fill(*ink)), None);
        }
        Mark::Squares { corners, side, ink } => {
            let mut path = PathBuilder::new();
            for corner in corners {
                let (x, y, side) = (points(corner.x), points(corner.y), points(*side));
                path.move_to(x, y);
                path.line_to(x + side, y);
                path.line_to(x + side, y + side);
                path.line_to(x, y + side);
                path.close();
            }
            paint(surface, path.finish(), Some(fill(*ink)), None);
        }
        Mark::Line { points, pen, closed } => shape(surface, points, *closed, None, Some(stroke(*pen))),
        Mark::Photo { corner, width, height, photo } => {
            if let Some(size) = Size::from_wh(points(*width), points(*height)) {
                surface.push_transform(&Transform::from_translate(points(corner.x), points(corner.y)));
                surface.draw_image(photo.clone(), size);
                surface.pop();
            }
        }
        Mark::Circle { centre, radius, fill: filled, pen } => {
            paint(surface, circle(*centre, *radius), filled.map(fill), pen.map(stroke));
        }
    }
}

fn shape(surface: &mut Surface<'_>, corners: &[At], closed: bool, fill: Option<Fill>, stroke: Option<Stroke>) {
    let mut path = PathBuilder::new();
    for (index, corner) in corners.iter().enumerate() {
        let (x, y) = (points(corner.x), points(corner.y));
        if index == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
    }
    if closed {
        path.close();
    }
    paint(surface, path.finish(), fill, stroke);
}

fn paint(surface: &mut Surface<'_>, path: Option<Path>, fill: Option<Fill>, stroke: Option<Stroke>) {
    let Some(path) = path else { return };
    surface.set_fill(fill);
    surface.set_stroke(stroke);
    surface.draw_path(&path);
}

/// A circle of four curves: off by less than three parts in ten thousand of its radius.
fn circle(centre: At, radius: f64) -> Option<Path> {
    const REACH: f64 = 0.552_284_75;
    let (x, y, r, k) = (centre.x, centre.y, radius, radius * REACH);
    let mut path = PathBuilder::new();
    path.move_to(points(x + r), points(y));
    // From the end of one axis to the end of the next, bent towards the corner between them.
    let ends = [at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0), at(0.0, -1.0), at(1.0, 0.0)];
    for pair in ends.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let one = at(from.x * r + to.x * k, from.y * r + to.y * k);
        let two = at(to.x * r + from.x * k, to.y * r + from.y * k);
        path.cubic_to(
            points(x + one.x),
            points(y + one.y),
            points(x + two.x),
            points(y + two.y),
            points(x + to.x * r),
            points(y + to.y * r),
        );
    }
    path.close();
    path.finish()
}

fn fill(ink: Ink) -> Fill {
    let [red, green, blue] = ink.rgb();
    Fill { paint: rgb::Color::new(red, green, blue).into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}

fn stroke(pen: Pen) -> Stroke {
    let [red, green, blue] = pen.ink.rgb();
    Stroke {
        paint: rgb::Color::new(red, green, blue).into(),
        width: points(pen.width),
        line_cap: if pen.round { LineCap::Round } else { LineCap::Butt },
        line_join: LineJoin::Round,
        ..Stroke::default()
    }
}
