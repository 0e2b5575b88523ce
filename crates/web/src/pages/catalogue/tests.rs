//! The catalogue's pages, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;
use crate::{bring_parts, catalogue};
use witnessmark_core::catalogue::sample::invented;
use witnessmark_core::part::KINDS;
use witnessmark_store::{CatalogueBy, CatalogueEdit};

fn by(source: &str) -> CatalogueBy {
    CatalogueBy { who: "Ada".into(), at_ms: 0, source: source.into() }
}

const STEMS: &str = "id,name,length (mm),length from,price,stock\n\
    plain-100,Plain stem 100,100,measured here,72,2\nplain-110,Plain stem 110,110,,72,0\n";

#[tokio::test]
async fn a_part_is_found_by_the_beginning_of_its_words_and_the_list_is_a_piece_of_its_own() {
    let (workshop, build) = Workshop::with_sample().await;
    assert!(workshop.get("/catalogue").await.body.contains("It is empty"));
    bring_parts(&workshop.store, &[("stem.csv", STEMS)], by("first")).await.unwrap();
    let page = workshop.get("/catalogue?q=plai+110").await;
    let found = page.between("id=\"found\"", "</ol>");
    assert!(found.contains("Plain stem 110") && !found.contains("Plain stem 100"), "{found}");
    let piece = workshop.ask("GET", "/catalogue?q=plain", &[("x-pieces", "1")], "").await;
    assert!(piece.body.starts_with("<template><div id=\"found\"") && piece.body.contains("2 parts."), "{}", piece.body);
    let on_build = workshop.ask("GET", &format!("{build}/add?q=plain+100"), &[("x-pieces", "1")], "").await;
    assert!(on_build.body.contains(&format!("{build}/take?pick=parts.stem:plain-100")), "{}", on_build.body);
    assert!(on_build.body.contains("replace the stem") && on_build.body.contains("shelf.stem.plain-100:plain-100"));
    for nonsense in ["q=", "q=%F0%9F%9A%B2%00", "q=%3Cscript%3E", &format!("q={}", "a+".repeat(3_000))] {
        let answer = workshop.get(&format!("/catalogue?{nonsense}")).await;
        assert_eq!(answer.status, 200, "{nonsense}");
        assert!(!answer.body.contains("<script>"), "{nonsense}");
    }
}

#[tokio::test]
async fn one_part_is_shown_with_its_facts_its_versions_and_who_uses_it() {
    let (workshop, _) = Workshop::with_sample().await;
    bring_parts(&workshop.store, &[("stem.csv", STEMS)], by("first.csv")).await.unwrap();
    bring_parts(&workshop.store, &[("stem.csv", "id,price\nplain-100,75\n")], by("second.csv")).await.unwrap();
    let page = workshop.get("/catalogue/part/stem/plain-100").await;
    assert!(page.body.contains("version 2"));
    let row = page.between("<th scope=\"row\">length<br>", "</tr>");
    assert!(row.contains("100 mm") && row.contains("measured here"), "{row}");
    let versions = page.between("id=\"versions-title\"", "</section>");
    assert!(versions.contains("first.csv") && versions.contains("second.csv"), "{versions}");
    assert!(versions.contains("price: <b>72</b> became <b>75</b>"), "{versions}");
    for bad in ["/catalogue/part/stem/none", "/catalogue/part/bell/plain-100", "/catalogue?kind=bell"] {
        assert_eq!(workshop.get(bad).await.status, 404, "{bad}");
    }
    assert!(workshop.get("/catalogue?kind=stem").await.body.contains("Plain stem 110"));
    assert_eq!(workshop.get("/catalogue?kind=stem&from=99999999999").await.status, 200);
}

#[tokio::test]
async fn what_is_taken_away_as_a_file_comes_back_as_the_same_parts() {
    let parts = invented(400);
    let workshop = Workshop::open().await;
    let mut change = workshop.store.change_catalogue(by("invented")).await.unwrap();
    let edits = parts.iter().map(|part| CatalogueEdit {
        part: catalogue::kept(part),
        new_facts: true,
        new_stock: part.stock.is_some(),
    });
    change.write(&edits.collect::<Vec<_>>()).await.unwrap();
    change.commit().await.unwrap();
    let toml = workshop.get("/catalogue/export/parts.toml").await;
    assert_eq!(toml.headers["content-disposition"], "attachment; filename=\"parts.toml\"");
    assert_eq!(bring_parts(&workshop.store, &[("parts.toml", &toml.body)], by("again")).await, Ok(0));
    for kind in KINDS {
        for separator in ["", "?semicolons=yes"] {
            let name = format!("{}.csv", kind.key);
            let table = workshop.get(&format!("/catalogue/export/{name}{separator}")).await;
            assert_eq!(table.headers["content-type"], "text/csv; charset=utf-8");
            assert_eq!(bring_parts(&workshop.store, &[(&name, &table.body)], by("again")).await, Ok(0), "{name}");
        }
        let template = workshop.get(&format!("/catalogue/export/{}-template.csv", kind.key)).await;
        assert!(template.body.starts_with("id,"), "{}", template.body);
    }
    for bad in ["bell.csv", "parts.csv", "stem.toml", "stem", "..%2Fsecret.csv"] {
        assert_eq!(workshop.get(&format!("/catalogue/export/{bad}")).await.status, 404, "{bad}");
    }
}
