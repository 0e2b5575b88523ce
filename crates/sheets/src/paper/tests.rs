//! Each sheet of a finished bike: the same bytes each time, sound on both papers, and its words found in it by another
//! program.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a sheet that cannot be made is to stop the test")]

use super::*;
use std::collections::BTreeMap;
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::sync::LazyLock;
use witnessmark_core::build::sample::sample;
use witnessmark_core::field::Choice;
use witnessmark_core::number::Area;
use witnessmark_core::part::Supplier;
use witnessmark_core::plan;

const ADDRESS: &str = "http://bench.example:8080/builds/7k3m9x2a";

/// The sample with money, and with names and letters that real workshops type.
fn bike() -> Build {
    let mut build = sample();
    build.job.title = Some("Šárka’s race bike, Größe 54".into());
    build.job.workshop = Some("The bench behind the mill".into());
    build.rider.name = Some("Šárka Ørsted-Łukaszewicz".into());
    build.quote.currency = Some("EUR".into());
    build.quote.tax_percent = Some(19.0.into());
    build.quote.prices_include_tax = Some(true.into());
    let work = build.work.entry("build-up".into()).or_default();
    (work.hours, work.rate) = (Some(10.0.into()), Some(62.5.into()));
    let stem = build.parts.stem.make("");
    stem.name = Some("a stem with a name so long that nobody would ever print it on one line of any order".into());
    (stem.supplied_by, stem.price) = (Some(Supplier::Shop.into()), Some(95.5.into()));
    build
}

fn made(kind: Kind, build: &Build, paper: Paper) -> Vec<u8> {
    let record = Some(Record { address: ADDRESS, revision: Some(41) });
    pdf(kind, &Subject { build, plan: &plan(build), record, photos: &[] }, paper).unwrap()
}

/// Every sheet of the bike on both papers, made once for all tests.
static MADE: LazyLock<BTreeMap<(&'static str, bool), Vec<u8>>> = LazyLock::new(|| {
    let build = bike();
    let both = |kind: &Kind| [Paper::A4, Paper::Letter].map(|paper| (*kind, paper));
    let each = Kind::ALL.iter().flat_map(both);
    each.map(|(kind, paper)| ((kind.word(), paper == Paper::A4), made(kind, &build, paper))).collect()
});

fn on_a4(kind: Kind) -> &'static [u8] {
    &MADE[&(kind.word(), true)]
}

/// What another program makes of a PDF: `pdftotext`, `pdfinfo`, `pdftoppm`. It is to have no complaint.
fn poppler(program: &str, arguments: &[&str], pdf: &[u8]) -> Vec<u8> {
    let piped = || Stdio::piped();
    let started = Command::new(program).args(arguments).stdin(piped()).stdout(piped()).stderr(piped()).spawn();
    let mut child = started.unwrap_or_else(|error| panic!("{program}, of Debian’s poppler-utils: {error}"));
    let mut into = child.stdin.take().unwrap();
    let bytes = pdf.to_vec();
    // Written from aside: it may begin to answer before it has read everything.
    let writing = std::thread::spawn(move || into.write_all(&bytes));
    let output = child.wait_with_output().unwrap();
    writing.join().unwrap().unwrap();
    // Of an entry that the standard has as a truth value it expects another kind; everything else is a complaint.
    const KNOWN: &str = "Suspects object is wrong type (boolean)";
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    let complaints: Vec<&str> = told.lines().filter(|line| !line.contains(KNOWN)).collect();
    assert!(output.status.success() && complaints.is_empty(), "{program}: {complaints:?}");
    output.stdout
}

/// The words on the pages, in lines as they lie there.
fn words_of(pdf: &[u8]) -> String {
    String::from_utf8(poppler("pdftotext", &["-layout", "-", "-"], pdf)).unwrap()
}

/// The words in the order in which they were laid, blanks made one.
fn flowing(pdf: &[u8]) -> String {
    let text = String::from_utf8(poppler("pdftotext", &["-raw", "-", "-"], pdf)).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn holds(kind: Kind, wanted: &[&str]) {
    let text = flowing(on_a4(kind));
    for words in wanted {
        assert!(text.contains(words), "{kind:?}: no “{words}” in\n{text}");
    }
}

#[test]
fn the_same_build_gives_the_same_bytes() {
    for kind in Kind::ALL {
        assert!(made(*kind, &bike(), Paper::A4) == on_a4(*kind), "{kind:?}");
    }
}

#[test]
fn another_program_opens_every_sheet_and_finds_its_title_its_size_and_that_it_can_be_read_aloud() {
    for ((word, is_a4), pdf) in MADE.iter() {
        let told = String::from_utf8(poppler("pdfinfo", &["-"], pdf)).unwrap();
        let size = if *is_a4 { "595.276 x 841.89" } else { "612 x 792" };
        let title = format!("{} · Šárka’s race bike, Größe 54", Kind::from_word(word).unwrap().title());
        for wanted in [title.as_str(), "Tagged:          yes", size] {
            assert!(told.contains(wanted), "{word}: no “{wanted}” in\n{told}");
        }
        assert!(!told.contains("CreationDate") || told.contains("2027"), "the date is the document’s: {told}");
        assert!(pdf.windows(9).any(|bytes| bytes == b"/Lang(en)"), "{word}");
    }
}

#[test]
fn every_sheet_says_whose_bike_it_is_and_which_page_of_how_many() {
    for kind in Kind::ALL {
        let text = words_of(on_a4(*kind));
        let pages: Vec<&str> = text.trim_end_matches('\u{c}').split('\u{c}').collect();
        for (at, page) in pages.iter().enumerate() {
            for wanted in [format!("page {} of {}", at + 1, pages.len()), "Šárka’s race bike, Größe 54".into()] {
                assert!(page.contains(&wanted), "{kind:?}: no “{wanted}” on\n{page}");
            }
        }
    }
}

#[test]
fn the_bench_sheet_has_every_number_of_which_anything_is_known() {
    let build = bike();
    let plan = plan(&build);
    let text = flowing(on_a4(Kind::Bench));
    for one in plan.numbers.each() {
        assert!(text.contains(one.number.name), "{}", one.number.name);
        if let Ok(value) = &one.planned {
            let value = crate::words::with_unit(one.number.kind, *value);
            assert!(text.contains(&value), "{}: no {value}", one.number.name);
        }
    }
    for finding in plan.findings.iter().filter(|finding| finding.severity != witnessmark_core::finding::Severity::Note)
    {
        assert!(text.contains(&finding.action), "{}", finding.action);
    }
}

#[test]
fn the_head_of_a_table_stands_again_on_each_page() {
    let text = words_of(on_a4(Kind::Bench));
    for page in text.trim_end_matches('\u{c}').split('\u{c}').skip(1) {
        let heads = page.matches("planned").count();
        assert!(heads > 0 || !page.contains("in line"), "rows without their head on\n{page}");
    }
}

#[test]
fn the_torque_record_has_every_bolt_with_its_torque() {
    let build = bike();
    let text = flowing(on_a4(Kind::Torque));
    for bolt in &plan(&build).worked.fasteners.list {
        assert!(text.contains(&bolt.name), "{}", bolt.name);
        if let Ok(nm) = bolt.torque_nm() {
            assert!(text.contains(&format!("{} N·m", witnessmark_core::finding::figure(nm, 1))), "{}", bolt.name);
        }
    }
}

#[test]
fn the_quote_adds_up_and_says_how_it_was_rounded() {
    // 10 h at 62.50 with tax: 625.00. The parts: what the document says they cost.
    holds(Kind::Quote, &["10 h at 62.5", "625.00", "rounded to the cent, half a cent up", "holds"]);
    let quoted = quote::Quoted::of(&bike());
    let total = quoted.total().unwrap();
    holds(Kind::Quote, &[&total.gross.to_string(), &format!("tax at 19 % on {}", total.net)]);
}

#[test]
fn the_other_sheets_say_what_they_are_for() {
    holds(
        Kind::Order,
        &["The workshop orders", "a stem with a name so long that nobody would", "on one line of any order"],
    );
    holds(
        Kind::HandOver,
        &["How it is set", "What to watch", "First check of every bolt", "When it is seen again", "the customer, on"],
    );
    holds(Kind::Cockpit, &["Tape", "hood gap", "wound and read by"]);
}

#[test]
fn an_independent_reader_reads_the_address_off_every_label() {
    let grey = poppler("pdftoppm", &["-gray", "-r", "200", "-"], on_a4(Kind::Label));
    let (width, height, pixels) = grey_map(&grey);
    let rows = label_rows(width, pixels);
    assert_eq!(rows.len(), 4, "a page of labels: {height} dots high");
    for (top, high) in rows {
        for left in [0, width / 2] {
            let dot = |x: usize, y: usize| pixels[(top + y) * width + left + x];
            let mut picture = rqrr::PreparedImage::prepare_from_greyscale(width / 2, high, dot);
            let codes = picture.detect_grids();
            assert_eq!(codes.len(), 1, "one code on each label");
            assert_eq!(codes[0].decode().unwrap().1, ADDRESS);
        }
    }
}

#[test]
fn an_independent_reader_reads_the_address_off_a_label_of_a_roll_as_its_printer_prints_it() {
    let build = bike();
    for (width_mm, height_mm) in [(62, 29), (89, 36), (29, 62), (54, 25), (100, 150)] {
        let paper = Paper::Roll { width_mm, height_mm };
        assert_eq!(Paper::from_name(&format!("{width_mm}x{height_mm}")), Some(paper));
        let label = made(Kind::Label, &build, paper);
        let told = String::from_utf8(poppler("pdfinfo", &["-"], &label)).unwrap();
        assert!(told.contains("Pages:           1"), "{told}");
        // 203 dots an inch: what the plainest of these printers has.
        let grey = poppler("pdftoppm", &["-gray", "-r", "203", "-"], &label);
        let (across, down, pixels) = grey_map(&grey);
        assert!(across.abs_diff(usize::from(width_mm) * 203 * 10 / 254) <= 1, "{across} dots for {width_mm} mm");
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(across, down, |x, y| pixels[y * across + x]);
        let codes = picture.detect_grids();
        assert_eq!(codes.len(), 1, "{width_mm}x{height_mm}");
        assert_eq!(codes[0].decode().unwrap().1, ADDRESS, "{width_mm}x{height_mm}");
        assert!(flowing(&label).contains("Šárka’s"), "{width_mm}x{height_mm}");
        // Nothing stands in the edge that such a printer leaves blank.
        let dark = |x: usize, y: usize| pixels[y * across + x] < 250;
        let in_the_edge = (0..down).any(|y| (0..8).any(|x| dark(x, y) || dark(across - 1 - x, y)))
            || (0..across).any(|x| (0..8).any(|y| dark(x, y) || dark(x, down - 1 - y)));
        assert!(!in_the_edge, "{width_mm}x{height_mm}");
    }
}

#[test]
fn a_roll_takes_labels_alone_and_a_label_has_a_size_that_there_is() {
    let build = bike();
    let plan = plan(&build);
    let subject = Subject { build: &build, plan: &plan, record: None, photos: &[] };
    let roll = Paper::Roll { width_mm: 62, height_mm: 29 };
    assert!(matches!(pdf(Kind::Bench, &subject, roll), Err(NoSheet::Wants(_))));
    for name in ["62x", "x29", "62x2", "9999x29", "62*29", "-62x29", "a3", "62x29x1"] {
        assert_eq!(Paper::from_name(name), None, "{name}");
    }
}

/// A photo as the workshop keeps it: so many dots, JPEG.
fn photographed(across: u32, down: u32) -> Vec<u8> {
    let paint = |x: u32, y: u32| image::Rgb([(x * 255 / across) as u8, (y * 255 / down) as u8, 120]);
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_fn(across, down, paint).write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

/// The pictures in a PDF as `pdfimages` lists them: page, width and height in dots, dots an inch.
fn pictures_in(pdf: &[u8]) -> Vec<(u32, u32, u32, u32)> {
    let list = String::from_utf8(poppler("pdfimages", &["-list", "-"], pdf)).unwrap();
    let number = |fields: &[&str], at: usize| fields[at].parse().unwrap();
    list.lines()
        .skip(2)
        .map(|line| line.split_whitespace().collect::<Vec<_>>())
        .map(|fields| (number(&fields, 0), number(&fields, 3), number(&fields, 4), number(&fields, 12)))
        .collect()
}

#[test]
fn the_photos_that_were_chosen_stand_on_their_sheet_whole_and_no_larger_than_their_dots_carry() {
    let mut build = bike();
    let (lying, upright, small) = (photographed(1200, 800), photographed(800, 1200), photographed(200, 150));
    let names = ["a-lying", "b-upright", "c-small", "d-lying", "e-not-here"];
    let taken = "Ben, 2027-03-14";
    let photos: Vec<Photo<'_>> = names
        .iter()
        .zip([&lying, &upright, &small, &lying, &small])
        .map(|(name, picture)| Photo { name, picture, shows: "steerer, cut length: before the saw", taken })
        .collect();
    for name in &names[..4] {
        build.photos.entry((*name).to_owned()).or_default().bench = Some(true.into());
    }
    build.photos.entry("c-small".into()).or_default().caption = Some("the mark on the post".into());
    build.photos.entry("a-lying".into()).or_default().hand_over = Some(true.into());
    build.photos.entry("b-upright".into()).or_default().hand_over = Some(false.into());
    let plan = plan(&build);
    let subject = Subject { build: &build, plan: &plan, record: None, photos: &photos };
    for paper in [Paper::A4, Paper::Letter] {
        let bench = pdf(Kind::Bench, &subject, paper).unwrap();
        let list = pictures_in(&bench);
        let sizes: Vec<(u32, u32)> = list.iter().map(|(_, across, down, _)| (*across, *down)).collect();
        assert_eq!(sizes, [(1200, 800), (800, 1200), (200, 150), (1200, 800)], "as they are, in their order");
        assert!(list.iter().all(|(_, _, _, dots)| 149 <= *dots), "{list:?}");
        assert_eq!(list[2].3, 150, "a small one stays small");
        let text = flowing(&bench);
        for words in ["Photos", "Steerer, cut length: before the saw", taken, "The mark on the post"] {
            assert!(text.contains(words), "no “{words}” in {text}");
        }
        assert!(bench == pdf(Kind::Bench, &subject, paper).unwrap(), "the same bytes");
    }
    let handed = pdf(Kind::HandOver, &subject, Paper::A4).unwrap();
    assert_eq!(pictures_in(&handed).len(), 1);
    assert!(pictures_in(&pdf(Kind::Torque, &subject, Paper::A4).unwrap()).is_empty());

    let many: Vec<Photo<'_>> = photos[..1].to_vec();
    let few = Subject { photos: &many, ..subject };
    let text = flowing(&pdf(Kind::Bench, &few, Paper::A4).unwrap());
    assert!(text.contains("3 photos of those chosen for this sheet are not at hand"), "{text}");
}

#[test]
fn twelve_photos_fill_pages_and_none_is_cut_by_an_edge() {
    let mut build = bike();
    let picture = photographed(900, 900);
    let names: Vec<String> = (0..12).map(|at| format!("photo-{at:02}")).collect();
    let photos: Vec<Photo<'_>> =
        names.iter().map(|name| Photo { name, picture: &picture, shows: "", taken: "Ann" }).collect();
    for name in &names {
        build.photos.entry(name.clone()).or_default().bench = Some(true.into());
    }
    let plan = plan(&build);
    let sheet = pdf(Kind::Bench, &Subject { build: &build, plan: &plan, record: None, photos: &photos }, Paper::Letter)
        .unwrap();
    let list = pictures_in(&sheet);
    assert_eq!(list.len(), 12);
    let text = words_of(&sheet);
    for (at, page) in text.trim_end_matches('\u{c}').split('\u{c}').enumerate() {
        let pictures = list.iter().filter(|(on, ..)| usize::try_from(*on).unwrap() == at + 1).count();
        assert_eq!(page.matches("Photo ").count(), pictures, "each photo has its words on its own page:\n{page}");
        assert!(pictures <= 4, "{pictures} on a page");
    }
}

/// The rows of labels by their cutting lines: where one begins, and how high it is.
fn label_rows(width: usize, pixels: &[u8]) -> Vec<(usize, usize)> {
    let is_line = |row: &[u8]| row.iter().filter(|dot| **dot < 240).count() > width * 3 / 4;
    let lines: Vec<usize> =
        pixels.chunks_exact(width).enumerate().filter(|(_, row)| is_line(row)).map(|(at, _)| at).collect();
    // 56 mm at 200 dots an inch; a line is a dot or two wide.
    let high = 441;
    let begins = |top: &&usize| lines.iter().any(|foot| foot.abs_diff(**top + high) <= 1);
    let mut rows: Vec<(usize, usize)> = lines.iter().filter(begins).map(|top| (*top, high)).collect();
    rows.dedup_by(|later, earlier| later.0 - earlier.0 < 5);
    rows
}

/// A picture in the plain form of the portable grey map: `P5 width height 255`, then a byte a dot.
fn grey_map(bytes: &[u8]) -> (usize, usize, &[u8]) {
    let mut fields = bytes.splitn(4, u8::is_ascii_whitespace);
    assert_eq!(fields.next(), Some(&b"P5"[..]));
    let mut number = || String::from_utf8_lossy(fields.next().unwrap()).parse::<usize>().unwrap();
    let (width, height) = (number(), number());
    let rest = fields.next().unwrap();
    assert!(rest.starts_with(b"255"));
    (width, height, &rest[4..])
}

#[test]
fn an_empty_build_has_every_sheet_too() {
    let build = Build::default();
    for kind in Kind::ALL {
        let text = flowing(&made(*kind, &build, Paper::Letter));
        assert!(text.contains("a build without a title"), "{kind:?}: {text}");
    }
}

#[test]
fn without_the_address_of_its_record_there_is_no_label() {
    let build = bike();
    let without = Subject { build: &build, plan: &plan(&build), record: None, photos: &[] };
    assert!(matches!(pdf(Kind::Label, &without, Paper::A4), Err(NoSheet::Wants(_))));
    let long = "x".repeat(5000);
    let record = Some(Record { address: &long, revision: None });
    assert!(matches!(pdf(Kind::Label, &Subject { record, ..without }, Paper::A4), Err(NoSheet::Wants(_))));
}

#[test]
fn names_that_nobody_foresaw_stand_on_the_sheet_and_break_nothing() {
    let mut build = bike();
    let long = "Donaudampfschifffahrtsgesellschaftskapitänsmütze".repeat(6);
    build.job.title = Some(format!("{long} 中文 🚲 \u{202e}tfel ot thgir {long}").as_str().into());
    build.rider.name = Some("e\u{301}\u{301}\u{301} \u{0} \u{fffe}".into());
    build.job.event = Some("word ".repeat(80).as_str().into());
    for kind in Kind::ALL {
        let text = flowing(&made(*kind, &build, Paper::A4));
        assert!(text.contains("[U+4E2D]"), "{kind:?}");
    }
}

#[test]
fn a_thousand_parts_run_over_many_pages() {
    let mut build = bike();
    for at in 0..1000 {
        let part = build.parts.small_part.make(&format!("bolt-{at}"));
        part.name = Some(format!("bolt number {at}").as_str().into());
        part.supplied_by = Some(Supplier::Shop.into());
    }
    let text = words_of(&made(Kind::Order, &build, Paper::A4));
    assert!((0..1000).all(|at| text.contains(&format!("bolt number {at}"))));
}

#[test]
fn a_files_name_is_one_that_every_system_takes() {
    let mut build = Build::default();
    assert_eq!(file_name(Kind::Bench, &build), "build-bench.pdf");
    for (title, name) in [
        ("Ilka, race bike", "ilka-race-bike-bench.pdf"),
        ("../../etc/passwd", "etc-passwd-bench.pdf"),
        ("a\"b\r\nc", "a-b-c-bench.pdf"),
        ("中文", "build-bench.pdf"),
    ] {
        build.job.title = Some(title.into());
        assert_eq!(file_name(Kind::Bench, &build), name);
    }
}

#[test]
fn every_area_has_a_name_that_leads_back_to_it() {
    assert!(Area::NAMES.iter().all(|name| Area::from_name(name).is_some()));
}
