//! Taking parts, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::bring_parts;
use crate::testing::{Workshop, key};
use witnessmark_store::{By, CatalogueBy, Change};

/// A stem as the sample's, one for a thicker bar, and a front tyre.
const STEMS: &str = "id,name,price,mass (g),stock,material,length (mm),angle,reversible,clamp height (mm),steerer diameter (mm),steerer shape,bar diameter (mm),bar clamp torque (N·m),steerer insertion min (mm),spacer over required,spacer shape\n\
    plain-100,Plain stem 100,72,128,2,aluminium,100,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    thick-110,Thick stem 110,90,140,0,aluminium,110,-6,yes,40,28.6,round,35,5,36,no,round\n";
const TYRES: &str = "id,name,etrto\nquick-30,Quick tyre 30,30-622\n";

fn source(source: &str) -> CatalogueBy {
    CatalogueBy { who: "Ada".into(), at_ms: 0, source: source.into() }
}

async fn shop() -> (Workshop, String) {
    let (workshop, build) = Workshop::with_sample().await;
    bring_parts(&workshop.store, &[("stem.csv", STEMS), ("tyre.csv", TYRES)], source("first")).await.unwrap();
    (workshop, build)
}

/// The form of the page as it would be sent.
async fn form(workshop: &Workshop, build: &str, picks: &[&str]) -> Vec<(String, String)> {
    let query: Vec<String> = picks.iter().map(|pick| format!("pick={pick}")).collect();
    let page = workshop.get(&format!("{build}/take?{}", query.join("&"))).await;
    assert_eq!(page.status, 200, "{}", page.body);
    let hidden = page.body.split("<input type=\"hidden\" name=\"").skip(1);
    let mut fields: Vec<(String, String)> = hidden
        .map(|rest| {
            let (name, rest) = rest.split_once("\" value=\"").unwrap();
            (name.to_owned(), rest.split('"').next().unwrap().to_owned())
        })
        .take_while(|(name, _)| name != "keep")
        .collect();
    fields.push(("supplied_by".into(), "shop".into()));
    fields.push(("condition".into(), "new".into()));
    fields
}

async fn send(workshop: &Workshop, build: &str, fields: &[(String, String)]) -> crate::testing::Answer {
    let fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    workshop.post(&format!("{build}/take"), &fields).await
}

async fn revision(workshop: &Workshop, build: &str) -> i64 {
    let id = build.rsplit('/').next().unwrap().parse().unwrap();
    workshop.store.leaves(&id).await.unwrap().unwrap().revision
}

#[tokio::test]
async fn what_it_changes_is_shown_first_and_then_it_is_one_change() {
    let (workshop, build) = shop().await;
    let before = revision(&workshop, &build).await;
    let page = workshop.get(&format!("{build}/take?pick=parts.stem:plain-100")).await;
    assert!(page.body.contains("Nothing is written yet"));
    let row = page.between("<th scope=\"row\">length</th>", "</tr>");
    assert!(row.contains("110 mm") && row.contains("100 mm"), "{row}");
    assert!(page.body.contains("hood, forward of the bottom bracket"), "numbers that move are named");
    assert_eq!(revision(&workshop, &build).await, before, "looking writes nothing");

    let fields = form(&workshop, &build, &["parts.stem:plain-100"]).await;
    let answer = send(&workshop, &build, &fields).await;
    assert_eq!(
        (answer.status, answer.headers["location"].as_str()),
        (303, format!("{build}#part.parts.stem").as_str())
    );
    for (fact, text) in [
        ("length", "100"),
        ("name", "Plain stem 100"),
        ("catalogue_id", "plain-100"),
        ("catalogue_version", "1"),
        ("supplied_by", "shop"),
        ("condition", "new"),
        ("facts_from", "catalogue"),
    ] {
        let kept = workshop.kept(&build, &format!("parts.stem.{fact}")).await;
        assert_eq!(kept.as_deref(), Some(text), "{fact}");
    }
    assert_eq!(revision(&workshop, &build).await, before + 1);
    // A second tap on the same button.
    let answer = send(&workshop, &build, &fields).await;
    assert_eq!((answer.status, revision(&workshop, &build).await), (303, before + 1));
    workshop.store.verify().await.unwrap();
}

#[tokio::test]
async fn findings_that_come_and_go_are_told_before_it_is_done() {
    let (workshop, build) = shop().await;
    let says = "The bar does not fit the stem";
    let page = workshop.get(&build).await;
    assert!(!page.between("id=\"findings\"", "</section>").contains(says), "the sample is sound");
    let page = workshop.get(&format!("{build}/take?pick=parts.stem:thick-110")).await;
    let comes = page.between("<ol class=\"findings comes\">", "</ol>");
    assert!(comes.contains("fits/bar_in_stem"), "{comes}");
    assert!(page.body.contains("None lies on the shop’s shelf"));
    send(&workshop, &build, &form(&workshop, &build, &["parts.stem:thick-110"]).await).await;
    let page = workshop.get(&build).await;
    assert!(page.between("id=\"findings\"", "</section>").contains("fits/bar_in_stem"));
    let page = workshop.get(&format!("{build}/take?pick=parts.stem:plain-100")).await;
    assert!(page.between("<ol class=\"findings goes\">", "</ol>").contains("fits/bar_in_stem"));
}

#[tokio::test]
async fn who_was_shown_something_else_is_asked_again_and_nothing_is_written() {
    let (workshop, build) = shop().await;
    let fields = form(&workshop, &build, &["parts.stem:plain-100"]).await;
    let change = Change { path: "parts.stem.serial".into(), before: None, after: Some("A 17".into()) };
    let by = By { who: "Bo".into(), at_ms: 0, request_key: key() };
    let id = build.rsplit('/').next().unwrap().parse().unwrap();
    workshop.store.edit(&id, &[change], &by).await.unwrap();
    let answer = send(&workshop, &build, &fields).await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("changed by somebody else after this was shown"), "{}", answer.body);
    assert!(answer.body.contains("A 17"), "what is there now stands in it");
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("110"));

    // The same where the part itself has changed in the catalogue.
    let fields = form(&workshop, &build, &["parts.stem:plain-100"]).await;
    let newer = "id,length (mm)\nplain-100,101\n";
    bring_parts(&workshop.store, &[("stem.csv", newer)], source("second")).await.unwrap();
    let answer = send(&workshop, &build, &fields).await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("101 mm"));
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("110"));
}

#[tokio::test]
async fn another_part_makes_room_whole_and_the_very_part_keeps_what_was_measured_on_it() {
    let (workshop, build) = shop().await;
    let id = build.rsplit('/').next().unwrap().parse().unwrap();
    let set = |path: &str, before: Option<&str>, after: &str| Change {
        path: path.into(),
        before: before.map(str::to_owned),
        after: Some(after.into()),
    };
    let by = By { who: "Bo".into(), at_ms: 0, request_key: key() };
    let changes = [
        set("parts.stem.length", Some("110"), "109.4"),
        set("parts.stem.length.from", None, "measured here"),
        set("parts.stem.serial", None, "A 17"),
    ];
    workshop.store.edit(&id, &changes, &by).await.unwrap();
    let mut fields = form(&workshop, &build, &["parts.stem:plain-100"]).await;
    fields.push(("same".into(), "yes".into()));
    send(&workshop, &build, &fields).await;
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("109.4"));
    assert_eq!(workshop.kept(&build, "parts.stem.serial").await.as_deref(), Some("A 17"));
    assert_eq!(workshop.kept(&build, "parts.stem.catalogue_id").await.as_deref(), Some("plain-100"));

    send(&workshop, &build, &form(&workshop, &build, &["parts.stem:thick-110"]).await).await;
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("110"));
    assert_eq!(workshop.kept(&build, "parts.stem.serial").await, None);
    assert_eq!(workshop.kept(&build, "parts.stem.length.from").await, None);
}

#[tokio::test]
async fn several_parts_are_one_change() {
    let (workshop, build) = shop().await;
    let before = revision(&workshop, &build).await;
    let picks = ["parts.stem:plain-100", "parts.tyre.front:quick-30", "parts.tyre.rear:quick-30"];
    let answer = send(&workshop, &build, &form(&workshop, &build, &picks).await).await;
    assert_eq!((answer.status, answer.headers["location"].as_str()), (303, build.as_str()));
    assert_eq!(revision(&workshop, &build).await, before + 1);
    for place in ["front", "rear"] {
        let kept = workshop.kept(&build, &format!("parts.tyre.{place}.catalogue_id")).await;
        assert_eq!(kept.as_deref(), Some("quick-30"));
    }
}

#[tokio::test]
async fn the_build_is_told_of_newer_facts_which_are_taken_or_kept() {
    let (workshop, build) = shop().await;
    send(&workshop, &build, &form(&workshop, &build, &["parts.stem:plain-100"]).await).await;
    let says = "The catalogue now says otherwise";
    assert!(!workshop.get(&build).await.body.contains(says));
    for (length, keeps) in [("101", false), ("102", true)] {
        let newer = format!("id,length (mm)\nplain-100,{length}\n");
        bring_parts(&workshop.store, &[("stem.csv", newer.as_str())], source(length)).await.unwrap();
        let before = workshop.kept(&build, "parts.stem.length").await;
        let page = workshop.get(&build).await;
        let beside = page.between("id=\"beside.parts.stem\"", "</div>");
        assert!(beside.contains(says) && beside.contains(&format!("→ {length} mm")), "{beside}");
        let page = workshop.get(&format!("{build}/take?pick=parts.stem:plain-100")).await;
        assert!(page.body.contains("Take the new facts") && page.body.contains("Keep the old facts"));
        if keeps {
            let fields = [("keep", "parts.stem"), ("key", &key()), ("who", "Ada")];
            assert_eq!(workshop.post(&format!("{build}/take"), &fields).await.status, 303);
            assert_eq!(workshop.kept(&build, "parts.stem.length").await, before);
        } else {
            send(&workshop, &build, &form(&workshop, &build, &["parts.stem:plain-100"]).await).await;
            assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("101"));
        }
        assert!(!workshop.get(&build).await.body.contains(says), "keeps: {keeps}");
    }
    // What was kept is told again when there is a newer one still.
    bring_parts(&workshop.store, &[("stem.csv", "id,length (mm)\nplain-100,103\n")], source("third")).await.unwrap();
    assert!(workshop.get(&build).await.body.contains(says));
}

#[tokio::test]
async fn a_part_of_the_builds_own_shelf_is_fitted_with_all_its_facts() {
    let (workshop, build) = shop().await;
    send(&workshop, &build, &form(&workshop, &build, &["shelf.stem.spare:plain-100"]).await).await;
    assert_eq!(workshop.kept(&build, "shelf.stem.spare.length").await.as_deref(), Some("100"));
    let page = workshop.get(&build).await;
    assert!(page.body.contains("take?pick=parts.stem:shelf.spare"), "the way from the shelf stands on the page");
    send(&workshop, &build, &form(&workshop, &build, &["parts.stem:shelf.spare"]).await).await;
    assert_eq!(workshop.kept(&build, "parts.stem.length").await.as_deref(), Some("100"));
}

#[tokio::test]
async fn nonsense_is_said_to_be_so() {
    let (workshop, build) = shop().await;
    for (query, status, says) in [
        ("", 422, "No part was chosen"),
        ("pick=stem", 404, "names nothing on a bike"),
        ("pick=parts.stem:no-such", 422, "The catalogue has no stem “no-such”"),
        ("pick=parts.bell:plain-100", 404, "names nothing on a bike"),
        ("pick=parts.tyre.middle:quick-30", 404, "names nothing on a bike"),
        ("pick=parts.stem:shelf.none", 422, "On this build’s shelf lies no stem “none”"),
        ("pick=shelf.stem.a:shelf.b", 404, "names nothing on a bike"),
        ("pick=parts.stem:plain-100&pick=parts.stem:thick-110", 422, "Two parts are to go to one place"),
        ("pick=parts.stem:%3Cscript%3E", 422, "&lt;script&gt;"),
    ] {
        let answer = workshop.get(&format!("{build}/take?{query}")).await;
        assert_eq!(answer.status, status, "{query}: {}", answer.body);
        assert!(answer.body.contains(says), "{query}: {}", answer.body);
    }
    let nowhere = workshop.get("/builds/00000000/take?pick=parts.stem:plain-100").await;
    assert_eq!(nowhere.status, 404);
}
