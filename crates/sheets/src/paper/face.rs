//! The typeface: text into placed letters, and how wide they are.
//!
//! A letter that the typeface lacks is never dropped: its code stands in its place, in brackets, `[U+4E2D]`; for a handful
//! of signs a spelling that everybody reads stands in this file.

use harfrust::{Feature, FontRef, ShapeOptions, ShaperData, Tag, UnicodeBuffer};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::fmt::Write as _;
use std::ops::Range;

static REGULAR: &[u8] = include_bytes!("../../assets/atkinson-hyperlegible-next/regular.ttf");
static BOLD: &[u8] = include_bytes!("../../assets/atkinson-hyperlegible-next/bold.ttf");

/// How strong letters are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
}

/// Signs with a spelling in the letters of the typeface.
const SPELT: &[(char, &str)] = &[
    ('→', "›"),
    ('≤', "at most "),
    ('≥', "at least "),
    ('⌀', "Ø"),
    ('✓', "yes"),
    ('\u{202f}', "\u{a0}"),
    ('\u{2011}', "-"),
    ('\u{ad}', ""),
    ('\u{feff}', ""),
    ('\u{200b}', ""),
];

/// Text as placed letters, lengths in units of the type size.
#[derive(Clone, Debug)]
pub(crate) struct Shaped {
    pub(crate) text: String,
    pub(crate) weight: Weight,
    pub(crate) glyphs: Vec<KrillaGlyph>,
    pub(crate) width_em: f64,
}

/// Both weights, ready to shape and to be put into one document.
pub(crate) struct Face {
    regular: One,
    bold: One,
}

struct One {
    outlines: FontRef<'static>,
    data: ShaperData,
    font: Font,
}

/// The typeface inside the program cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct BrokenFace;

impl Face {
    /// Reads the typeface that lies in the program.
    pub(crate) fn new() -> Result<Self, BrokenFace> {
        let one = |bytes: &'static [u8]| {
            let outlines = FontRef::new(bytes).map_err(|_| BrokenFace)?;
            let font = Font::new(bytes.into(), 0).ok_or(BrokenFace)?;
            Ok(One { data: ShaperData::new(&outlines), outlines, font })
        };
        Ok(Face { regular: one(REGULAR)?, bold: one(BOLD)? })
    }

    pub(crate) fn font(&self, weight: Weight) -> Font {
        self.of(weight).font.clone()
    }

    fn of(&self, weight: Weight) -> &One {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// The text as placed letters, each of them one that the typeface has.
    pub(crate) fn shape(&self, weight: Weight, text: &str) -> Shaped {
        let text = spelt(text);
        let shaped = self.shape_as_is(weight, &text);
        let lacking = lacking(&shaped);
        if lacking.is_empty() { shaped } else { self.shape_as_is(weight, &with_codes(&text, &lacking)) }
    }

    fn shape_as_is(&self, weight: Weight, text: &str) -> Shaped {
        let one = self.of(weight);
        let shaper = one.data.shaper(&one.outlines).build();
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        // Every figure as wide as the next, so that columns line up.
        let features = [Feature::new(Tag::new(b"tnum"), 1, ..)];
        let placed = shaper.shape(buffer, ShapeOptions::new().features(&features));
        let em = f64::from(shaper.units_per_em());
        let clusters: Vec<usize> = placed.glyph_infos().iter().map(|info| info.cluster as usize).collect();
        let mut width_em = 0.0;
        let glyphs = placed
            .glyph_infos()
            .iter()
            .zip(placed.glyph_positions())
            .enumerate()
            .map(|(at, (info, position))| {
                let start = info.cluster as usize;
                let end = clusters[at..].iter().copied().find(|next| *next > start).unwrap_or(text.len());
                width_em += f64::from(position.x_advance) / em;
                let ems = |units: i32| (f64::from(units) / em) as f32;
                KrillaGlyph {
                    glyph_id: GlyphId::new(info.glyph_id),
                    text_range: start..end,
                    x_advance: ems(position.x_advance),
                    x_offset: ems(position.x_offset),
                    y_offset: ems(position.y_offset),
                    y_advance: ems(position.y_advance),
                    location: None,
                }
            })
            .collect();
        Shaped { text: text.to_owned(), weight, glyphs, width_em }
    }

    /// The text in lines no wider than so many ems: broken at spaces, and inside a word only where it is wider than a
    /// whole line.
    pub(crate) fn lines(&self, weight: Weight, text: &str, width_em: f64) -> Vec<Shaped> {
        let mut lines = Vec::new();
        for paragraph in text.split('\n') {
            let whole = self.shape(weight, paragraph.trim());
            if whole.width_em <= width_em {
                lines.push(whole);
                continue;
            }
            lines.extend(breaks(&whole, width_em).into_iter().map(|part| self.shape_as_is(weight, &whole.text[part])));
        }
        lines
    }
}

/// Where a text too wide is broken: the ranges of its lines, spaces at their ends left out.
fn breaks(whole: &Shaped, width_em: f64) -> Vec<Range<usize>> {
    let text = whole.text.as_str();
    let mut lines = Vec::new();
    let (mut start, mut space, mut wide) = (0, None::<usize>, 0.0);
    let mut at = 0;
    while let Some(glyph) = whole.glyphs.get(at) {
        let from = glyph.text_range.start;
        let is_space = text[from..].starts_with(' ');
        let advance = f64::from(glyph.x_advance);
        if is_space {
            space = Some(at);
        } else if wide + advance > width_em && from > start {
            // A line ends at its last space; without one, before this letter.
            let (end, next) = match space {
                Some(space) => (whole.glyphs[space].text_range.start, space + 1),
                None => (from, at),
            };
            lines.push(start..end);
            at = next;
            start = whole.glyphs.get(next).map_or(text.len(), |glyph| glyph.text_range.start);
            (space, wide) = (None, 0.0);
            continue;
        }
        wide += advance;
        at += 1;
    }
    if start < text.len() {
        lines.push(start..text.len());
    }
    lines
}

/// Signs spelt, and every other kind of blank a plain space.
fn spelt(text: &str) -> String {
    let mut spelt = String::with_capacity(text.len());
    for letter in text.chars() {
        match SPELT.iter().find(|(sign, _)| *sign == letter) {
            Some((_, spelling)) => spelt.push_str(spelling),
            None if letter == '\u{a0}' => spelt.push(letter),
            None if letter.is_whitespace() || letter.is_control() => spelt.push(' '),
            None => spelt.push(letter),
        }
    }
    spelt
}

/// The places in the text for which the typeface has no letter.
fn lacking(shaped: &Shaped) -> Vec<Range<usize>> {
    let none = GlyphId::new(0);
    shaped.glyphs.iter().filter(|glyph| glyph.glyph_id == none).map(|glyph| glyph.text_range.clone()).collect()
}

/// The text with the codes of its lacking letters.
fn with_codes(text: &str, lacking: &[Range<usize>]) -> String {
    let mut coded = String::new();
    for (at, letter) in text.char_indices() {
        if lacking.iter().any(|range| range.contains(&at)) {
            // Writing into a string does not fail.
            let _ = write!(coded, "[U+{:04X}]", u32::from(letter));
        } else {
            coded.push(letter);
        }
    }
    coded
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a typeface that cannot be read is to stop the test")]

    use super::*;

    fn lines(text: &str, width_em: f64) -> Vec<String> {
        Face::new().unwrap().lines(Weight::Regular, text, width_em).into_iter().map(|line| line.text).collect()
    }

    #[test]
    fn every_letter_that_a_workshop_in_europe_types_is_in_the_typeface() {
        let text = "Äärni Ørsted Łukasz Žižka Şebnem Őrsi Ğ ß “·” «±» ×÷ − – … ° € £ ½ Čeněk Þór Ērika İ ŵŷ";
        assert_eq!(Face::new().unwrap().shape(Weight::Bold, text).text, text);
    }

    #[test]
    fn a_letter_that_the_typeface_lacks_is_shown_by_its_code() {
        let face = Face::new().unwrap();
        assert_eq!(face.shape(Weight::Regular, "中 fork 🚲").text, "[U+4E2D] fork [U+1F6B2]");
        assert!(lacking(&face.shape(Weight::Regular, "中 fork 🚲")).is_empty());
        assert_eq!(face.shape(Weight::Regular, "a\tb\u{0}c ≥ 3").text, "a b c at least  3");
    }

    #[test]
    fn letters_typed_as_letter_and_accent_are_the_letters_themselves() {
        let face = Face::new().unwrap();
        let (apart, whole) = (face.shape(Weight::Regular, "e\u{301}"), face.shape(Weight::Regular, "é"));
        assert_eq!(apart.glyphs.len(), 1);
        assert_eq!(apart.glyphs[0].glyph_id, whole.glyphs[0].glyph_id);
    }

    #[test]
    fn every_figure_is_as_wide_as_the_next() {
        let face = Face::new().unwrap();
        let widths: Vec<f64> =
            "0123456789".chars().map(|figure| face.shape(Weight::Bold, &figure.to_string()).width_em).collect();
        assert!(widths.windows(2).all(|pair| (pair[0] - pair[1]).abs() < 1e-9), "{widths:?}");
    }

    #[test]
    fn text_is_broken_at_spaces_and_a_word_wider_than_a_line_inside() {
        assert_eq!(lines("hood gap, inside to inside", 8.0), ["hood gap, inside", "to inside"]);
        let long = lines("an Unaussprechlichkeitswort of forty", 5.0);
        assert_eq!(long.concat().replace(' ', ""), "anUnaussprechlichkeitswortofforty");
        assert!(long.len() > 3, "{long:?}");
        assert_eq!(lines("one\ntwo", 20.0), ["one", "two"]);
        assert_eq!(lines("", 5.0), [""]);
    }

    #[test]
    fn no_line_is_wider_than_it_may_be() {
        let face = Face::new().unwrap();
        let text =
            "The post goes 83 mm into the frame; its maker wants at least 90. Donaudampfschifffahrtsgesellschaft.";
        for width in [3.0, 4.5, 7.0, 11.0, 20.0] {
            for line in face.lines(Weight::Regular, text, width) {
                assert!(line.width_em <= width + 0.1, "{} > {width}: {}", line.width_em, line.text);
            }
        }
    }
}
