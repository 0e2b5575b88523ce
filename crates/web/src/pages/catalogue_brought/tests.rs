//! Bringing parts in, over a socket, as a browser sends a form with files.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::bring::MOST_BYTES;
use crate::bring_parts;
use crate::testing::{Answer, Workshop};
use witnessmark_store::CatalogueBy;

/// Sends the form: files by name and content, the pasted text, and what it is said to hold.
async fn send(workshop: &Workshop, files: &[(&str, &str)], text: &str, holds: &str) -> Answer {
    let mut body = String::new();
    let mut field = |about: &str, content: &str| {
        for part in ["--edge\r\ncontent-disposition: form-data; ", about, "\r\n\r\n", content, "\r\n"] {
            body += part;
        }
    };
    for (name, content) in files {
        field(&format!("name=\"file\"; filename=\"{name}\""), content);
    }
    if files.is_empty() {
        field("name=\"file\"; filename=\"\"", "");
    }
    field("name=\"text\"", text);
    field("name=\"holds\"", holds);
    body += "--edge--\r\n";
    workshop.ask("POST", "/catalogue/import", &[("content-type", "multipart/form-data; boundary=edge")], &body).await
}

/// The page that the answer leads to.
async fn shown(workshop: &Workshop, answer: &Answer) -> Answer {
    assert_eq!(answer.status, 303, "{}", answer.body);
    workshop.get(&answer.headers["location"]).await
}

const STEMS: &str =
    "id;name;length (mm);price\nplain-100;Plain stem 100;100;72,00\nplain-110;Plain stem 110;110;72,00\n";

#[tokio::test]
async fn what_would_change_is_shown_before_anything_is_written_and_then_it_is_written_once() {
    let workshop = Workshop::open().await;
    let sent = send(&workshop, &[("stem.csv", STEMS)], "", "").await;
    let page = shown(&workshop, &sent).await;
    assert!(page.body.contains("<b>2</b> new parts") && page.body.contains("Plain stem 110"), "{}", page.body);
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 0, "nothing is written");
    let address = sent.headers["location"].clone();
    let (one, other) =
        tokio::join!(workshop.post(&address, &[("who", "Ada")]), workshop.post(&address, &[("who", "Ada")]));
    assert_eq!((one.status, other.status), (303, 303));
    assert!(workshop.get(&address).await.body.contains("It is in the catalogue"));
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 1, "two taps, one change");
    let versions = workshop.store.catalogue_versions("stem", "plain-100").await.unwrap();
    assert_eq!((versions[0].who.as_str(), versions[0].source.as_str()), ("Ada", "stem.csv"));

    let changed = "id,length (mm),stock\nplain-100,101,3\nplain-110,110,\n";
    let page = shown(&workshop, &send(&workshop, &[], changed, "stem").await).await;
    assert!(page.body.contains("<b>1</b> part with other facts") && page.body.contains("<b>1</b> part as it is"));
    let row = page.between("<th scope=\"row\">length</th>", "</tr>");
    assert!(row.contains("100 mm") && row.contains("101 mm"), "{row}");
    assert!(page.body.contains("not counted becomes <b>3 here</b>"));
    workshop.store.verify().await.unwrap();
}

#[tokio::test]
async fn every_bad_cell_of_every_file_is_told_at_once_with_row_and_column() {
    let workshop = Workshop::open().await;
    let stems = "id,name,length (mm),angle\nok,Fine,100,-6\nBad Id,x,100,-6\nlong,x,long,-6\nsteep,x,9999,steep\nok,again,100,-6\n";
    let bars = "id,reach (mm)\na,far\n";
    let page = shown(&workshop, &send(&workshop, &[("stem.csv", stems), ("bar.csv", bars)], "", "").await).await;
    assert_eq!(page.status, 422);
    assert!(page.body.contains("6 slips"), "{}", page.between("<main", "</main>"));
    let rows: Vec<&str> = page.between("<tbody>", "</tbody>").split("<tr>").skip(1).collect();
    for (row, file, line, column, says) in [
        (0, "stem.csv", 3, "id", "“Bad Id” is no id"),
        (1, "stem.csv", 4, "length (mm)", "long"),
        (2, "stem.csv", 5, "length (mm)", "9999"),
        (3, "stem.csv", 5, "angle", "steep"),
        (4, "stem.csv", 6, "id", "stands on line 2 already"),
        (5, "bar.csv", 2, "reach (mm)", "far"),
    ] {
        let text = rows[row];
        assert!(text.contains(file) && text.contains(&format!(">{line}<")) && text.contains(column), "{text}");
        assert!(text.contains(says), "{text}");
    }
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 0);
}

#[tokio::test]
async fn ten_ways_to_break_an_import_end_in_a_sentence_and_write_nothing() {
    let workshop = Workshop::open().await;
    let wide = format!("id{}\n", ",x".repeat(5_000));
    let long = format!("id,name\nplain,{}\n", "x".repeat(2_000_000));
    for (name, content, holds, says) in [
        ("photo.jpg", "\u{0}\u{1}\u{2}", "", "does not say which kind of part"),
        ("stem.csv", "", "", "the file is empty"),
        ("stem.csv", "id,name\n", "", "headings and no part below"),
        ("stem.csv", "id,colour of the sky\nplain,blue\n", "", "colour of the sky"),
        ("stem.csv", "name\nplain\n", "", "has no heading “id”"),
        ("stem.csv", "id,name\n\"plain,never closed\nplain-2,b\n", "", "a quote that is not closed"),
        ("stem.csv", "id,name\nplain,a\u{0}b\n", "", "U+0000"),
        ("stem.csv", &wide, "", "at most"),
        ("stem.csv", &long, "", "long"),
        ("parts.toml", "[stem.plain\nlength = 1", "", "not TOML"),
        ("parts.toml", "[bell.loud]\nname = \"x\"", "", "no kind of part “bell”"),
        ("stem.csv", "id,length (mm)\nplain,=1+1\n", "", "=1+1"),
        ("stem.csv", "[stem.plain]\nlength = 100\n", "bell", "is no kind of part"),
    ] {
        let sent = send(&workshop, &[(name, content)], "", holds).await;
        let page = if sent.status == 303 { shown(&workshop, &sent).await } else { sent };
        assert_eq!(page.status, 422, "{says}: {}", page.body);
        assert!(
            page.body.to_lowercase().contains(&says.to_lowercase()),
            "{says}: {}",
            page.between("<main", "</main>")
        );
        assert!(page.body.contains("role=\"alert\""), "{says}");
    }
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 0);
    assert_eq!(workshop.store.catalogue(None).await.unwrap(), []);
}

#[tokio::test]
async fn what_is_no_form_of_this_page_is_said_so_and_a_typed_text_stays() {
    let workshop = Workshop::open().await;
    let empty = send(&workshop, &[], "  \n ", "").await;
    assert_eq!(empty.status, 422);
    assert!(empty.body.contains("Nothing was sent"));
    let bell = send(&workshop, &[], "id\n<b>plain</b>\n", "bell").await;
    assert!(bell.body.contains("id\n&lt;b&gt;plain&lt;/b&gt;"), "the text stays in its field");
    let no_kind = shown(&workshop, &send(&workshop, &[], "id\nplain\n", "").await).await;
    assert!(no_kind.body.contains("choose it beside the text"), "{}", no_kind.body);
    for (kind, body) in [
        ("application/json", "{}"),
        ("multipart/form-data; boundary=edge", "--edge\r\ncontent-disposition: form-data; name=\"text\"\r\n\r\nhalf"),
        ("multipart/form-data", "--edge--"),
    ] {
        let answer = workshop.ask("POST", "/catalogue/import", &[("content-type", kind)], body).await;
        assert_eq!(answer.status, 400, "{kind}");
        assert!(answer.body.contains("role=\"alert\""), "{kind}");
    }
    let gone = workshop.get("/catalogue/import/no-such-key").await;
    assert_eq!(gone.status, 422);
    assert!(gone.body.contains("send them again"));
    assert_eq!(workshop.post("/catalogue/import/no-such-key", &[]).await.status, 422);
}

#[tokio::test]
async fn more_than_is_taken_is_answered_with_how_much_that_was() {
    let workshop = Workshop::open().await;
    let large = "x".repeat(MOST_BYTES + 1);
    let answer = send(&workshop, &[("stem.csv", &large)], "", "").await;
    assert_eq!(answer.status, 413);
    assert!(answer.body.contains("65 MB together; 64 MB at most"), "{}", answer.between("<main", "</main>"));
}

#[tokio::test]
async fn a_catalogue_that_moved_meanwhile_is_shown_anew_before_it_is_written() {
    let workshop = Workshop::open().await;
    let sent = send(&workshop, &[("stem.csv", STEMS)], "", "").await;
    let address = sent.headers["location"].clone();
    let by = CatalogueBy { who: "Bo".into(), at_ms: 0, source: "meanwhile".into() };
    bring_parts(&workshop.store, &[("stem.csv", "id,length (mm)\nplain-100,90\n")], by).await.unwrap();
    workshop.post(&address, &[]).await;
    let page = workshop.get(&address).await;
    assert!(page.body.contains("changed the catalogue after this was shown"), "{}", page.between("<main", "</main>"));
    assert!(page.body.contains("<b>1</b> part with other facts"), "and what it would change now");
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 1, "nothing of it is written");
    workshop.post(&address, &[]).await;
    assert!(workshop.get(&address).await.body.contains("It is in the catalogue"), "the second yes is to what is shown");
    assert_eq!(workshop.store.catalogue_seq().await.unwrap(), 2);
}
