//! A file's bytes as text, whatever the spreadsheet made of it: UTF-8 with or without a mark, UTF-16 with one, or
//! Windows-1252.
//!
//! The mark at the beginning of a file says which it is. Without one it is UTF-8 as long as every row is; a file that has a
//! row which is not, and none that can be nothing else, is Windows-1252 (the bytes are those of western spreadsheets, and
//! ISO 8859-1 is read by it too). A file that is both is refused.

use encoding_rs::{Decoder, DecoderResult, UTF_16BE, UTF_16LE, WINDOWS_1252};
use std::borrow::Cow;
use std::io::{self, Read};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

/// How a file's letters are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, or plain ASCII, which is the same.
    Utf8,
    /// UTF-16, low byte first.
    Utf16Le,
    /// UTF-16, high byte first.
    Utf16Be,
    /// Windows-1252, of which ISO 8859-1 is a part.
    Windows1252,
}

impl Encoding {
    /// As it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Encoding::Utf8 => "UTF-8",
            Encoding::Utf16Le => "UTF-16, low byte first",
            Encoding::Utf16Be => "UTF-16, high byte first",
            Encoding::Windows1252 => "Windows-1252",
        }
    }
}

/// A count that reader and owner share.
pub(super) type Count = Arc<AtomicU64>;

/// Counts the bytes that were read from a file.
pub(super) struct Counted<R> {
    from: R,
    count: Count,
}

impl<R> Counted<R> {
    pub(super) fn new(from: R) -> (Self, Count) {
        let count = Count::default();
        (Counted { from, count: Arc::clone(&count) }, count)
    }
}

impl<R: Read> Read for Counted<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.from.read(into)?;
        self.count.fetch_add(read as u64, Ordering::Relaxed);
        Ok(read)
    }
}

/// The file as bytes of UTF-8, or of Windows-1252 where [`Cells`] finds it to be that.
pub(super) struct Text<R> {
    from: io::Chain<io::Cursor<Vec<u8>>, R>,
    wide: Option<Wide>,
}

/// What is needed to turn UTF-16 into UTF-8.
struct Wide {
    decoder: Decoder,
    raw: Vec<u8>,
    out: Vec<u8>,
    /// How much of `out` was handed on.
    given: usize,
    ended: bool,
}

impl<R: Read> Text<R> {
    /// Looks for the mark.
    pub(super) fn new(mut from: R) -> io::Result<(Self, Encoding)> {
        let mut first = Vec::with_capacity(3);
        from.by_ref().take(3).read_to_end(&mut first)?;
        let (encoding, skipped, decoder) = match first[..] {
            [0xEF, 0xBB, 0xBF] => (Encoding::Utf8, 3, None),
            [0xFF, 0xFE, ..] => (Encoding::Utf16Le, 2, Some(UTF_16LE.new_decoder_without_bom_handling())),
            [0xFE, 0xFF, ..] => (Encoding::Utf16Be, 2, Some(UTF_16BE.new_decoder_without_bom_handling())),
            _ => (Encoding::Utf8, 0, None),
        };
        let wide = decoder.map(|decoder| Wide { decoder, raw: Vec::new(), out: Vec::new(), given: 0, ended: false });
        Ok((Text { from: io::Cursor::new(first.split_off(skipped)).chain(from), wide }, encoding))
    }
}

impl<R: Read> Read for Text<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        const PIECE: usize = 32 * 1024;
        let Some(wide) = &mut self.wide else { return self.from.read(into) };
        while wide.given == wide.out.len() && !wide.ended {
            wide.raw.resize(PIECE, 0);
            let read = self.from.read(&mut wide.raw)?;
            wide.ended = read == 0;
            // Three bytes of UTF-8 for two of UTF-16 are the most there can be; the rest is the decoder's own need.
            wide.out.resize(2 * PIECE + 16, 0);
            let (result, taken, written) =
                wide.decoder.decode_to_utf8_without_replacement(&wide.raw[..read], &mut wide.out, wide.ended);
            if result != DecoderResult::InputEmpty || taken != read {
                return Err(io::Error::new(
                    io::ErrorKind::InvalidData,
                    "the file begins as UTF-16 and holds bytes that are none",
                ));
            }
            wide.out.truncate(written);
            wide.given = 0;
        }
        let read = into.len().min(wide.out.len() - wide.given);
        into[..read].copy_from_slice(&wide.out[wide.given..wide.given + read]);
        wide.given += read;
        Ok(read)
    }
}

/// Stops a reader that finds no end of a row: an unclosed quote or a file without line ends would fill the memory.
pub(super) struct Bounded<R> {
    from: R,
    since: Count,
    most: u64,
}

/// What the bound answers, for its owner to recognise.
pub(super) const TOO_LONG: &str = "row too long";

impl<R> Bounded<R> {
    /// The owner sets the count to 0 after each row.
    pub(super) fn new(from: R, most: u64) -> (Self, Count) {
        let since = Count::default();
        (Bounded { from, since: Arc::clone(&since), most }, since)
    }
}

impl<R: Read> Read for Bounded<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.since.load(Ordering::Relaxed) > self.most {
            return Err(io::Error::new(io::ErrorKind::InvalidData, TOO_LONG));
        }
        let read = self.from.read(into)?;
        self.since.fetch_add(read as u64, Ordering::Relaxed);
        Ok(read)
    }
}

/// Turns cells into text and remembers what the file has shown itself to be.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Cells {
    /// The first row that can only be UTF-8.
    utf8_at: Option<u64>,
    /// The first row that cannot be UTF-8.
    windows_at: Option<u64>,
}

impl Cells {
    /// The text of a cell; refuses a file that is two things at once, with the rows that show it.
    pub(super) fn text<'c>(&mut self, cell: &'c [u8], line: u64) -> Result<Cow<'c, str>, (u64, u64)> {
        let text = if let Ok(text) = std::str::from_utf8(cell) {
            if !text.is_ascii() {
                self.utf8_at.get_or_insert(line);
            }
            Cow::Borrowed(text)
        } else {
            self.windows_at.get_or_insert(line);
            WINDOWS_1252.decode_without_bom_handling(cell).0
        };
        match (self.utf8_at, self.windows_at) {
            (Some(utf8), Some(windows)) => Err((utf8, windows)),
            _ => Ok(text),
        }
    }

    /// Whether the file has shown itself to be Windows-1252.
    pub(super) fn is_windows(self) -> bool {
        self.windows_at.is_some()
    }
}
