#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

use super::*;
use crate::catalogue::entry;
use std::fmt::Write as _;
use witnessmark_core::catalogue::sample;

fn stems(bytes: &[u8]) -> (Vec<Entry>, Vec<String>) {
    let mut parts = Vec::new();
    let mut says = Vec::new();
    match CsvRows::new("stem.csv", kind("stem").unwrap(), bytes) {
        Err(problems) => says.extend(problems.iter().map(ToString::to_string)),
        Ok(rows) => {
            for row in rows {
                match row {
                    Ok(said) => parts.push(said.incoming.entry),
                    Err(problems) => says.extend(problems.iter().map(ToString::to_string)),
                }
            }
        }
    }
    (parts, says)
}

fn read(bytes: &[u8]) -> Vec<Entry> {
    let (parts, says) = stems(bytes);
    assert_eq!(says, Vec::<String>::new());
    parts
}

#[test]
fn commas_semicolons_tabs_and_a_spoken_separator_are_read_alike() {
    let plain = read(b"id,name,length (mm)\none,Plain stem,110\n");
    assert_eq!(plain[0].number("length_mm"), Some(110.0));
    for other in [
        "id;name;length (mm)\none;Plain stem;110\n",
        "id\tname\tlength (mm)\r\none\tPlain stem\t110\r\n",
        "sep=;\r\nid;name;length (mm)\r\none;Plain stem;110",
        "\"id\";\"name\";\"length (mm)\"\n\"one\";\"Plain stem\";\"110\"\n;;\n",
        "id,,name,length (mm),\none,,Plain stem,110,\n",
    ] {
        assert_eq!(read(other.as_bytes()), plain, "{other}");
    }
}

#[test]
fn a_decimal_comma_is_a_decimal_point() {
    let parts = read("id;length;angle;mass (kg)\none;110,5;−6,5;0,145\n".as_bytes());
    assert_eq!(parts[0].number("length_mm"), Some(110.5));
    assert_eq!(parts[0].number("angle_deg"), Some(-6.5));
    assert_eq!(parts[0].number("mass_g"), Some(145.0));
    assert_eq!(read(b"id,length\none,\"110,5\"\n")[0].number("length_mm"), Some(110.5));
}

#[test]
fn every_common_encoding_is_read() {
    let text = "id;name\none;Große Höhe\n";
    let plain = read(text.as_bytes());
    assert_eq!(plain[0].name(), "Große Höhe");
    let mark = |mark: &[u8], body: Vec<u8>| [mark, &body].concat();
    let windows: Vec<u8> = text.chars().map(|sign| u8::try_from(u32::from(sign)).unwrap()).collect();
    let low_first: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let high_first: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    for bytes in [
        mark(&[0xEF, 0xBB, 0xBF], text.as_bytes().to_vec()),
        mark(&[0xFF, 0xFE], low_first),
        mark(&[0xFE, 0xFF], high_first),
        windows,
    ] {
        assert_eq!(read(&bytes), plain);
    }
}

#[test]
fn a_long_file_in_utf_16_is_read_across_the_pieces_it_comes_in() {
    let mut text = "id;name\n".to_owned();
    for at in 0..20_000 {
        let _ = writeln!(text, "s{at};Große Höhe {at}");
    }
    let bytes: Vec<u8> = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    assert_eq!(read(&bytes), read(text.as_bytes()));
}

#[test]
fn an_origin_stands_beside_its_fact_and_for_the_whole_part() {
    let parts = read(b"id,length from,length,angle,facts from\none,measured here,110,-6,maker's sheet\n");
    let origins: Vec<String> = parts[0].leaves().into_iter().map(|(key, text)| format!("{key}={text}")).collect();
    assert_eq!(origins, ["facts_from=maker's sheet", "length=110", "length.from=measured here", "angle=-6"]);
}

#[test]
fn an_empty_cell_says_nothing_and_a_question_mark_says_not_known() {
    let rows: Vec<_> =
        CsvRows::new("stem.csv", kind("stem").unwrap(), &b"id,length,angle\none,,?\n"[..]).unwrap().collect();
    let said = rows[0].as_ref().unwrap();
    let key = |column: &Column| column.key(said.incoming.entry.kind);
    assert_eq!(said.incoming.not_known.iter().map(key).collect::<Vec<_>>(), ["angle"]);
    assert_eq!(said.incoming.entry.facts().count(), 0);
}

#[test]
fn every_bad_row_is_told_and_the_good_ones_are_read() {
    let (parts, says) = stems(
        b"id,length (mm),angle,material\none,110,-6,carbon\nTwo Two,9 kg,x,steal\nthree,100,0,steel\none,90,0,steel\n",
    );
    assert_eq!(parts.iter().map(|part| part.id.as_str()).collect::<Vec<_>>(), ["one", "three"]);
    let expected = [
        "stem.csv:3:1: id: “Two Two” is no id; at most 40 small letters, figures and hyphens were expected — did you mean “two-two”?",
        "stem.csv:3:2: length (mm): “9 kg” is a mass; a length was expected, such as 35, 35 mm or 3.5 cm",
        "stem.csv:3:3: angle: “x” is not a number; an angle was expected, such as 73.5 or 73.5°",
        "stem.csv:3:4: material: “steal” is none of: carbon, aluminium, steel, titanium, other — did you mean “steel”?",
        "stem.csv:5:1: id: “one” stands on line 2 already",
    ];
    assert_eq!(says, expected);
}

#[test]
fn a_files_name_says_its_kind() {
    for (name, key) in [
        ("stem.csv", "stem"),
        ("parts/stems-2027.csv", "stem"),
        ("Bottom bracket.csv", "bottom_bracket"),
        ("end-plug.de.csv", "end_plug"),
    ] {
        assert_eq!(kind_of_file(name).unwrap().key, key, "{name}");
    }
    let slip = kind_of_file("stm.csv").unwrap_err();
    assert_eq!(slip.nearest.as_deref(), Some("stem"));
}

#[test]
fn what_is_written_reads_back_as_the_same_parts() {
    let mut parts = sample::invented(KINDS.len() * 20);
    for part in &mut parts {
        part.version = 0;
        let odd = entry(part.kind.key, "x", [("name", "=cmd(\"x\"); 'quoted', plain"), ("note", "'-6")]).unwrap().0;
        for (index, leaf) in odd.facts() {
            part.put(index, Some(leaf.clone()));
        }
    }
    for separator in [b',', b';', b'\t'] {
        for kind in KINDS {
            let of_kind: Vec<&Entry> = parts.iter().filter(|part| part.kind == kind).collect();
            let text = write_csv(kind, &of_kind, separator);
            let back: Vec<Entry> = CsvRows::new("x.csv", kind, text.as_bytes())
                .unwrap()
                .map(|row| row.unwrap_or_else(|problems| panic!("{}: {problems:?}", kind.key)).incoming.entry)
                .collect();
            assert_eq!(back.len(), of_kind.len());
            for (back, part) in back.iter().zip(&of_kind) {
                assert_eq!(back, *part);
            }
        }
    }
}

#[test]
fn a_row_without_end_is_refused_before_it_fills_the_memory() {
    struct Endless(u64);
    impl Read for Endless {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            into.fill(b'x');
            self.0 += into.len() as u64;
            assert!(self.0 < 4 * LONGEST_ROW, "goes on reading");
            Ok(into.len())
        }
    }
    let refused = CsvRows::new("stem.csv", kind("stem").unwrap(), Endless(0)).err().unwrap();
    assert!(refused[0].to_string().contains("longer than 1 MB"), "{}", refused[0]);
    let head = &b"id,name\none,\""[..];
    let mut rows = CsvRows::new("stem.csv", kind("stem").unwrap(), head.chain(Endless(0))).unwrap();
    let refused = rows.next().unwrap().unwrap_err();
    assert!(refused[0].to_string().contains("longer than 1 MB"), "{}", refused[0]);
    assert!(rows.next().is_none());
}

#[test]
fn a_million_columns_are_refused() {
    let wide = "a,".repeat(400_000);
    let (_, says) = stems(wide.as_bytes());
    assert!(says[0].contains("400001 cells; 1000 at most"), "{says:?}");
    let (_, says) = stems(",".repeat(2_000_000).as_bytes());
    assert!(says[0].contains("longer than 1 MB"), "{says:?}");
    let (_, says) = stems(format!("id,name\none{}\n", ",".repeat(5_000)).as_bytes());
    assert!(says[0].contains("5001 cells; 1000 at most"), "{says:?}");
}
