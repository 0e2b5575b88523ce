//! The build's page, asked for over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::pages::ALL;
use crate::testing::Workshop;
use witnessmark_core::number;
use witnessmark_store::CatalogueBy;

#[tokio::test]
async fn every_page_has_a_title_one_heading_and_its_language() {
    let (workshop, build) = Workshop::with_sample().await;
    let by = CatalogueBy { who: "Ada".into(), at_ms: 0, source: "a test".into() };
    crate::bring_parts(&workshop.store, &[("stem.csv", "id,length (mm)\nplain,100\n")], by).await.unwrap();
    let mut seen = 0;
    // A file to take away is no page; files that were sent have a page once there are some, and its tests see it. One's
    // own page and the tablet's are for people who signed in.
    let is_none = |path: &str| {
        ["{file}", "{key}", "{photo}", ".html"].iter().any(|end| path.ends_with(end))
            || ["/me", "/bench/turn"].contains(&path)
    };
    for path in ALL.iter().filter(|path| !is_none(path)) {
        let path = path.replace("/builds/{id}", &build).replace("{number}", "hood-x").replace("{path}", "parts.stem");
        let path = path.replace("{kind}/{part}", "stem/plain").replace("/take", "/take?pick=parts.stem:plain");
        let answer = workshop.get(&path).await;
        // What only takes changes, and the number that the script asks for, are no pages.
        if answer.status == 405 || path.ends_with("/revision") {
            continue;
        }
        seen += 1;
        assert_eq!(answer.status, 200, "{path}");
        let (body, title) = (&answer.body, answer.between("<title>", "</title>"));
        assert!(title.len() > " · Witness Mark".len() && title.ends_with(" · Witness Mark"), "{path}: {title}");
        assert_eq!(body.matches("<h1").count(), 1, "{path}");
        assert!(body.contains(r#"<html lang="en">"#), "{path}");
        assert_eq!(body.matches("<main").count(), 1, "{path}");
    }
    assert!(seen >= 7, "only {seen} pages were seen");
}

#[tokio::test]
async fn no_page_needs_a_script_or_a_style_of_its_own() {
    let (workshop, build) = Workshop::with_sample().await;
    for path in ["/builds", &build, "/checks"] {
        let answer = workshop.get(path).await;
        assert!(answer.headers["content-security-policy"].starts_with("default-src 'self'"));
        assert!(!answer.body.contains("style="), "{path}");
        assert!(!answer.body.contains("<style"), "{path}");
        assert!(!answer.body.contains(" onclick="), "{path}");
        let scripts = answer.body.matches("<script").count();
        assert_eq!(scripts, answer.body.matches("<script defer src=\"/assets/").count(), "{path}");
    }
}

#[tokio::test]
async fn ids_stand_once_on_a_page() {
    let (workshop, build) = Workshop::with_sample().await;
    for path in
        [build.clone(), format!("{build}/number/hood-x"), format!("{build}/part/parts.frame"), format!("{build}/add")]
    {
        let answer = workshop.get(&path).await;
        let mut ids: Vec<&str> =
            answer.body.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        let all = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), all, "{path}");
        for label in answer.body.split("<label for=\"").skip(1).filter_map(|rest| rest.split('"').next()) {
            assert!(ids.contains(&label), "{path}: nothing has the label {label}");
        }
    }
}

#[tokio::test]
async fn whatever_a_finding_is_about_its_link_leads_there() {
    for without in
        ["nothing", "parts.stem", "parts.chain", "parts.tyre.front", "parts.frame", "parts.lever", "settings"]
    {
        let (workshop, build) = Workshop::with_sample_but(without).await;
        let page = workshop.get(&build).await;
        let findings = page.between("<section id=\"findings\"", "</section>");
        let links = findings.split("<p class=\"about\">").skip(1).filter_map(|rest| rest.split("</p>").next());
        let mut seen = 0;
        for way in links.flat_map(|about| about.split("href=\"").skip(1)).filter_map(|rest| rest.split('"').next()) {
            seen += 1;
            match way.strip_prefix('#') {
                Some(id) => {
                    assert!(page.body.contains(&format!("id=\"{id}\"")), "without {without}: nothing is at {way}");
                }
                None => assert_eq!(workshop.get(way).await.status, 200, "without {without}: {way}"),
            }
        }
        assert!(seen > 0 || without == "nothing", "without {without} there is a finding");
    }
}

#[tokio::test]
async fn who_brings_a_part_its_condition_and_its_origins_stand_in_words_and_shapes() {
    let workshop = Workshop::open().await;
    let leaves = [
        ("job.title", "glance"),
        ("parts.fork.supplied_by", "carried over"),
        ("parts.fork.condition", "used, history not known"),
        ("parts.fork.wear", "race worn 0.2 mm"),
        ("parts.fork.facts_from", "assumed"),
        ("parts.fork.length", "370"),
        ("parts.fork.length.from", "measured here"),
        ("parts.stem.length", "110"),
    ];
    let id = workshop.make(&leaves.map(|(path, text)| (path.to_owned(), text.to_owned()))).await;
    let page = workshop.get(&format!("/builds/{id}")).await;
    let fork = page.between("id=\"summary.parts.fork\"", "</summary>");
    for words in ["carried over", "used, history not known", "wear: race worn 0.2 mm", "assumed", "measured here"] {
        let tag = fork.split(words).next().unwrap();
        assert!(fork.contains(words), "{words}: {fork}");
        assert!(
            words.starts_with("wear") || tag.trim_end().ends_with("</svg>"),
            "a shape stands before {words}: {fork}"
        );
    }
    let stem = page.between("id=\"summary.parts.stem\"", "</summary>");
    assert!(stem.contains("who brings it is not said"), "{stem}");
}

#[tokio::test]
async fn the_page_shows_every_number_with_its_three_columns_and_the_sign_in_words() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&build).await;
    for number in number::all() {
        for side in number.sides.each() {
            let id = super::address::of_number(number.id, *side);
            assert!(page.body.contains(&format!("id=\"row.{id}\"")), "{id}");
            assert!(page.body.contains(&format!("data-path=\"asked.{id}.value\"")), "{id}");
            assert!(page.body.contains(&format!("data-path=\"measured.{id}.value\"")), "{id}");
        }
    }
    let row = page.between("id=\"row.steerer-cut\"", "</tr>");
    assert!(row.contains("measured 211.2 mm: in line\""), "{row}");
}

#[tokio::test]
async fn the_drawing_holds_planned_asked_and_measured_with_their_addresses() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&build).await;
    let drawing = page.between("<figure id=\"drawing\">", "</figure>");
    assert!(drawing.contains("data-at=\"parts.frame\""));
    assert!(page.between("<g class=\"asked\">", "</g>").contains("hood-x.right"));
    assert!(page.between("<g class=\"planned\">", "</g>").contains("parts.bar"));
    assert!(page.between("<g class=\"callouts\">", "</figure>").contains("728 mm"), "the saddle's height");
}

#[tokio::test]
async fn a_build_that_is_only_a_title_is_shown_all_the_same() {
    let workshop = Workshop::open().await;
    let id = workshop.make(&[("job.title".into(), "first talk".into())]).await;
    let page = workshop.get(&format!("/builds/{id}")).await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("Nothing to draw yet"));
    assert!(page.body.contains("<b>0</b> of 0 in line"));
}

#[tokio::test]
async fn what_was_typed_is_text_and_never_markup() {
    let workshop = Workshop::open().await;
    let bad = "<script>alert(1)</script>\"'><img src=x>";
    let leaves: Vec<(String, String)> =
        ["job.title", "rider.name", "job.event", "parts.stem.name", "shelf.stem.other.name", "job.note"]
            .map(|path| (path.to_owned(), bad.to_owned()))
            .to_vec();
    let id = workshop.make(&leaves).await;
    for path in [
        "/builds".to_owned(),
        format!("/builds/{id}"),
        format!("/builds/{id}/history"),
        format!("/builds/{id}/part/parts.stem"),
        format!("/builds/{id}/add"),
    ] {
        let page = workshop.get(&path).await;
        assert_eq!(page.status, 200, "{path}");
        assert!(!page.body.contains("<script>alert"), "{path}");
        assert!(!page.body.contains("<img"), "{path}");
        assert!(page.body.contains("&lt;script&gt;alert(1)"), "{path}: the title is shown");
    }
}

#[tokio::test]
async fn a_text_that_cannot_be_read_any_more_is_shown_with_what_is_wrong() {
    let workshop = Workshop::open().await;
    let leaves = [
        ("job.title".to_owned(), "old file".to_owned()),
        ("settings.spacers_under".to_owned(), "some".to_owned()),
        ("settings.no_such_thing".to_owned(), "5".to_owned()),
    ];
    let id = workshop.make(&leaves).await;
    let page = workshop.get(&format!("/builds/{id}")).await;
    let field = page.between("id=\"field.settings.spacers_under\"", "</span>");
    assert!(field.contains("value=\"some\""), "{field}");
    assert!(page.body.contains("This was kept and cannot be read"));
    assert!(page.between("Kept, and not understood", "</section>").contains("no_such_thing"));
}

#[tokio::test]
async fn a_name_that_leads_nowhere_is_said_so() {
    let (workshop, build) = Workshop::with_sample().await;
    for (path, says) in [
        ("/builds/bottom-bracket".to_owned(), "is no build"),
        ("/builds/00000000".to_owned(), "There is no build 00000000."),
        (format!("{build}/number/hood-w"), "names nothing on a bike"),
        (format!("{build}/part/parts.bell"), "names nothing on a bike"),
        (format!("{build}/part/job"), "names nothing on a bike"),
        (format!("{build}/part/parts.tyre.middle"), "names nothing on a bike"),
        ("/nowhere".to_owned(), "There is no such page."),
    ] {
        let answer = workshop.get(&path).await;
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.contains(says), "{path}: {}", answer.body);
        assert!(answer.body.contains("<h1>"), "{path}");
    }
}

#[tokio::test]
async fn the_machine_readable_twin_says_what_the_page_says() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer = workshop.get(&format!("{build}/plan.json")).await;
    assert_eq!(answer.headers["content-type"], "application/json");
    let plan: serde_json::Value = serde_json::from_str(&answer.body).unwrap();
    let numbers = plan["numbers"].as_array().unwrap();
    assert_eq!(numbers.len(), number::all().map(|number| number.sides.each().len()).sum::<usize>());
    let cut = numbers.iter().find(|one| one["id"] == "steerer-cut").unwrap();
    assert_eq!((&cut["measured"], &cut["verdict"], &cut["unit"]), (&211.2.into(), &"in line".into(), &"mm".into()));
    let page = workshop.get(&build).await;
    let summary = &plan["summary"];
    assert!(page.body.contains(&format!("<b>{}</b> of {} in line", summary["in_line"], summary["to_bring_in_line"])));
}

#[tokio::test]
async fn a_browser_that_was_led_here_by_another_name_is_turned_away_with_a_page() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer = workshop.ask("GET", &build, &[("host", "bench.example")], "").await;
    assert_eq!(answer.status, 421);
    assert!(answer.body.contains("does not answer to the name “bench.example”"));
    assert!(!answer.body.contains("sample"), "nothing of the build is told");
    assert_eq!(answer.headers["x-content-type-options"], "nosniff");
}

#[tokio::test]
async fn files_are_kept_by_the_browser_as_long_as_they_are_the_same() {
    let workshop = Workshop::open().await;
    let page = workshop.get("/builds").await;
    let style = page.between("<link rel=\"stylesheet\" href=\"", "\"").to_owned();
    let answer = workshop.get(&style).await;
    assert_eq!(answer.status, 200);
    assert_eq!(answer.headers["content-type"], "text/css; charset=utf-8");
    assert!(answer.headers["cache-control"].contains("immutable"));
    let old = workshop.get("/assets/0000/bench.css").await;
    assert_eq!((old.status, old.headers["cache-control"].as_str()), (200, "no-store"));
    assert_eq!(workshop.get("/assets/0000/../secrets").await.status, 404);
}
