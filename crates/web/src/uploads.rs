//! What comes in from outside: a picture or a document, told by its content, never by its name.
//!
//! A picture is taken apart and written anew, as JPEG, with nothing but its pixels: where it was taken, by which camera,
//! and whatever else was hidden in it stays behind. How large it claims to be is read before it is taken apart, and it is
//! taken apart within a bound of memory, so that a small file that unfolds to a huge picture is refused. A document is kept
//! as it is, and is only ever handed out to be saved, not shown.

use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};
use std::io::Cursor;

/// The most bytes of one file.
pub(crate) const MOST_BYTES: usize = 24 * 1024 * 1024;
/// The longest side of a picture that is taken apart, in pixels: a telephone's best is half of it.
const LONGEST_SIDE: u32 = 16_384;
/// The most pixels of a picture that is taken apart: a telephone's 50 million, with room.
const MOST_PIXELS: u64 = 64_000_000;
/// The most memory taking one apart may need.
const MOST_MEMORY: u64 = 512 * 1024 * 1024;
/// The longest side of a picture that is kept: enough to read a torque wrench's scale off a whole bike.
const KEPT_SIDE: u32 = 3_000;
/// The longest side of a small picture, for a list.
const SMALL_SIDE: u32 = 480;
const QUALITY: u8 = 85;

/// What is to be kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Brought {
    /// `image/jpeg`, `application/pdf` ….
    pub(crate) kind: &'static str,
    /// Its bytes.
    pub(crate) bytes: Vec<u8>,
    /// The small picture; absent for a document.
    pub(crate) small: Option<Vec<u8>>,
}

/// Why something is not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NotTaken {
    Empty,
    TooLarge,
    UnknownKind,
    TooManyPixels { width: u32, height: u32 },
    Broken(String),
}

impl NotTaken {
    /// What to tell the person.
    pub(crate) fn sentence(&self) -> String {
        match self {
            NotTaken::Empty => "Nothing came. Choose a picture or a document.".into(),
            NotTaken::TooLarge => format!("That is more than {} MB. Make it smaller first.", MOST_BYTES / 1_048_576),
            NotTaken::UnknownKind => {
                "By its content this is no picture (JPEG, PNG, WebP) and no document (PDF, plain text). What its name \
                 says does not count."
                    .into()
            }
            NotTaken::TooManyPixels { width, height } => format!(
                "This picture claims to be {width} by {height} pixels; {} million in all and {LONGEST_SIDE} a side are the \
                 most.",
                MOST_PIXELS / 1_000_000
            ),
            NotTaken::Broken(why) => format!("This picture cannot be read: {why}. Nothing was kept."),
        }
    }
}

/// Looks at what came and makes of it what may be kept. It takes a moment and much memory: one at a time.
pub(crate) fn looked_at(bytes: &[u8]) -> Result<Brought, NotTaken> {
    if bytes.is_empty() {
        return Err(NotTaken::Empty);
    }
    if bytes.len() > MOST_BYTES {
        return Err(NotTaken::TooLarge);
    }
    if let Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP)) = image::guess_format(bytes) {
        return picture(bytes, format);
    }
    let document = |kind| Ok(Brought { kind, bytes: bytes.to_vec(), small: None });
    if bytes.starts_with(b"%PDF-") {
        return document("application/pdf");
    }
    let is_text = std::str::from_utf8(bytes)
        .is_ok_and(|text| text.chars().all(|letter| !letter.is_control() || "\t\r\n".contains(letter)));
    if is_text { document("text/plain; charset=utf-8") } else { Err(NotTaken::UnknownKind) }
}

fn picture(bytes: &[u8], format: ImageFormat) -> Result<Brought, NotTaken> {
    let broken = |error: image::ImageError| match error {
        image::ImageError::Limits(_) => NotTaken::Broken("it unfolds to more than this machine has room for".into()),
        other => NotTaken::Broken(other.to_string().trim_end_matches('.').to_owned()),
    };
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST_SIDE);
    limits.max_image_height = Some(LONGEST_SIDE);
    limits.max_alloc = Some(MOST_MEMORY);
    // What it claims to be is in its first bytes; nothing is unfolded for it.
    let (width, height) = ImageReader::with_format(Cursor::new(bytes), format).into_dimensions().map_err(broken)?;
    let pixels = u64::from(width) * u64::from(height);
    if width > LONGEST_SIDE || height > LONGEST_SIDE || pixels > MOST_PIXELS || pixels == 0 {
        return Err(NotTaken::TooManyPixels { width, height });
    }
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(broken)?;
    // The camera lay on its side; once that is put right the picture needs no note about it.
    let orientation = decoder.orientation().map_err(broken)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(broken)?;
    picture.apply_orientation(orientation);
    let written = |side: u32| {
        let fits = picture.width() <= side && picture.height() <= side;
        let sized = if fits { picture.clone() } else { picture.resize(side, side, FilterType::CatmullRom) };
        let mut bytes = Vec::new();
        JpegEncoder::new_with_quality(&mut bytes, QUALITY).encode_image(&on_white(&sized)).map_err(broken)?;
        Ok(bytes)
    };
    Ok(Brought { kind: "image/jpeg", bytes: written(KEPT_SIDE)?, small: Some(written(SMALL_SIDE)?) })
}

/// The longest side of a picture on a sheet: 88 mm wide at 350 dots an inch, and a sheet that can still be mailed.
const PRINTED_SIDE: u32 = 1_200;

/// A picture as it goes on a sheet: as it is kept, and smaller where it has more dots than a printer shows.
pub(crate) fn for_paper(kept: Vec<u8>) -> Result<Vec<u8>, NotTaken> {
    let broken = |error: image::ImageError| NotTaken::Broken(error.to_string().trim_end_matches('.').to_owned());
    let reader = ImageReader::with_format(Cursor::new(&kept), ImageFormat::Jpeg);
    let (width, height) = reader.into_dimensions().map_err(broken)?;
    if width <= PRINTED_SIDE && height <= PRINTED_SIDE {
        return Ok(kept);
    }
    let picture = image::load_from_memory_with_format(&kept, ImageFormat::Jpeg).map_err(broken)?;
    let sized = picture.resize(PRINTED_SIDE, PRINTED_SIDE, FilterType::Triangle);
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY).encode_image(&sized).map_err(broken)?;
    Ok(bytes)
}

/// A picture from anywhere as it goes on a sheet: upright, with nothing in it but its dots.
///
/// # Errors
///
/// A sentence that says why it is not taken.
pub fn picture_for_paper(bytes: &[u8]) -> Result<Vec<u8>, String> {
    let brought = looked_at(bytes).map_err(|why| why.sentence())?;
    if brought.small.is_none() {
        return Err(NotTaken::UnknownKind.sentence());
    }
    for_paper(brought.bytes).map_err(|why| why.sentence())
}

/// The picture without holes: a drawing on glass becomes one on paper.
fn on_white(picture: &DynamicImage) -> DynamicImage {
    if !picture.color().has_alpha() {
        return DynamicImage::ImageRgb8(picture.to_rgb8());
    }
    let mut paper = image::RgbaImage::from_pixel(picture.width(), picture.height(), image::Rgba([255; 4]));
    image::imageops::overlay(&mut paper, &picture.to_rgba8(), 0, 0);
    DynamicImage::ImageRgb8(DynamicImage::ImageRgba8(paper).to_rgb8())
}

#[cfg(test)]
pub(crate) mod tests {
    #![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

    use super::*;

    /// A picture of this size, as a file of this format.
    pub(crate) fn drawn(width: u32, height: u32, format: ImageFormat) -> Vec<u8> {
        let paint = |x: u32, y: u32| image::Rgb([u8::try_from(x % 256).unwrap(), u8::try_from(y % 256).unwrap(), 90]);
        let picture = DynamicImage::ImageRgb8(image::RgbImage::from_fn(width, height, paint));
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, format).unwrap();
        bytes.into_inner()
    }

    /// A JPEG with a note of the camera's: an Exif block that says the camera lay on its side, and where it was.
    pub(crate) fn with_a_place(jpeg: &[u8]) -> Vec<u8> {
        // TIFF, little-endian: one directory with one entry, orientation (0x0112, a SHORT) = 6; then the place, as text.
        let mut exif = b"Exif\0\0II\x2a\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0".to_vec();
        exif.extend(b"47.3769N 8.5417E");
        let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
        [&jpeg[..2], &[0xff, 0xe1], &length, &exif, &jpeg[2..]].concat()
    }

    #[test]
    fn a_picture_is_written_anew_upright_and_without_its_place() {
        let bytes = with_a_place(&drawn(60, 40, ImageFormat::Jpeg));
        assert!(bytes.windows(8).any(|it| it == b"47.3769N"));
        let brought = looked_at(&bytes).unwrap();
        assert_eq!(brought.kind, "image/jpeg");
        for kept in [&brought.bytes, brought.small.as_ref().unwrap()] {
            assert!(!kept.windows(4).any(|it| it == b"Exif" || it == b"47.3"), "the place stays behind");
            let again = image::load_from_memory(kept).unwrap();
            assert_eq!((again.width(), again.height()), (40, 60), "turned upright");
        }
    }

    #[test]
    fn every_format_becomes_a_jpeg_of_bounded_size() {
        for format in [ImageFormat::Png, ImageFormat::WebP, ImageFormat::Jpeg] {
            let brought = looked_at(&drawn(3_200, 100, format)).unwrap();
            let whole = image::load_from_memory(&brought.bytes).unwrap();
            assert_eq!((whole.width(), whole.height()), (3_000, 94), "{format:?}");
            let small = image::load_from_memory(&brought.small.unwrap()).unwrap();
            assert_eq!(small.width(), 480);
        }
    }

    #[test]
    fn what_something_is_its_content_says() {
        assert_eq!(looked_at(b"%PDF-1.7\n...").unwrap().kind, "application/pdf");
        assert_eq!(looked_at("Größe;Preis\r\n".as_bytes()).unwrap().kind, "text/plain; charset=utf-8");
        for bytes in [&b"GIF89a..\0"[..], b"PK\x03\x04", b"\x7fELF", b"MZ\x90\0", b"\xff\xfe", b"<svg>\0"] {
            assert_eq!(looked_at(bytes), Err(NotTaken::UnknownKind), "{bytes:?}");
        }
        // A page is text, and text is never handed out as a page.
        assert_eq!(looked_at(b"<script>alert(1)</script>").unwrap().kind, "text/plain; charset=utf-8");
        assert_eq!(looked_at(b""), Err(NotTaken::Empty));
        assert_eq!(looked_at(&vec![b'a'; MOST_BYTES + 1]), Err(NotTaken::TooLarge));
    }

    #[test]
    fn a_small_file_that_unfolds_to_a_huge_picture_is_refused_before_it_does() {
        let mut png = drawn(1, 1, ImageFormat::Png);
        // The width and height in the file's first block; its checksum is over the block's name and body.
        png[16..20].copy_from_slice(&60_000_u32.to_be_bytes());
        png[20..24].copy_from_slice(&60_000_u32.to_be_bytes());
        let checksum = crc32(&png[12..29]);
        png[29..33].copy_from_slice(&checksum.to_be_bytes());
        assert_eq!(looked_at(&png), Err(NotTaken::TooManyPixels { width: 60_000, height: 60_000 }));
        // Within the sides and beyond the pixels.
        png[16..20].copy_from_slice(&16_000_u32.to_be_bytes());
        png[20..24].copy_from_slice(&16_000_u32.to_be_bytes());
        let checksum = crc32(&png[12..29]);
        png[29..33].copy_from_slice(&checksum.to_be_bytes());
        assert_eq!(looked_at(&png), Err(NotTaken::TooManyPixels { width: 16_000, height: 16_000 }));
    }

    #[test]
    fn a_picture_cut_off_anywhere_is_refused_or_kept_and_never_a_panic() {
        let whole = drawn(40, 30, ImageFormat::Png);
        for end in 0..whole.len() {
            let outcome = looked_at(&whole[..end]);
            // Without the mark at its end it may still be whole.
            assert!(outcome.is_err() || end > whole.len() - 24, "{end}");
        }
        for format in [ImageFormat::Jpeg, ImageFormat::WebP] {
            let whole = drawn(40, 30, format);
            for end in 0..whole.len() {
                let _ = looked_at(&whole[..end]);
            }
            for at in 4..whole.len() {
                let mut spoilt = whole.clone();
                spoilt[at] ^= 0x55;
                let _ = looked_at(&spoilt);
            }
        }
    }

    /// The checksum of PNG's appendix, bit by bit.
    fn crc32(bytes: &[u8]) -> u32 {
        !bytes.iter().fold(!0_u32, |crc, byte| {
            (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { crc >> 1 ^ 0xedb8_8320 } else { crc >> 1 })
        })
    }
}
