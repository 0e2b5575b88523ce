//! The list of builds over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Workshop, key};

#[tokio::test]
async fn the_root_leads_to_the_list() {
    let workshop = Workshop::open().await;
    let answer = workshop.get("/").await;
    assert_eq!((answer.status, answer.headers["location"].as_str()), (303, "/builds"));
    assert!(workshop.get("/builds").await.body.contains("No build yet"));
}

#[tokio::test]
async fn a_new_build_begins_with_its_title_and_a_second_tap_makes_no_second_one() {
    let workshop = Workshop::open().await;
    let form = [("title", "  Ida, hill bike "), ("key", &key()), ("who", "Ada")];
    let first = workshop.post("/builds", &form).await;
    assert_eq!(first.status, 303);
    let build = first.headers["location"].clone();
    assert_eq!(workshop.kept(&build, "job.title").await.as_deref(), Some("Ida, hill bike"));
    assert_eq!(workshop.post("/builds", &form).await.headers["location"], build);
    assert_eq!(workshop.store.builds().await.unwrap().len(), 1);
    let list = workshop.get("/builds").await.body;
    assert!(list.contains("Ida, hill bike") && list.contains("changed by Ada"));
}

#[tokio::test]
async fn a_build_without_a_title_is_not_begun_and_the_text_stays() {
    let workshop = Workshop::open().await;
    for title in ["", "   ", &"x".repeat(5_000)] {
        let answer = workshop.post("/builds", &[("title", title), ("key", &key())]).await;
        assert_eq!(answer.status, 422);
        assert!(answer.body.contains("role=\"alert\"") && answer.body.contains(&format!("value=\"{title}\"")));
    }
    assert!(workshop.store.builds().await.unwrap().is_empty());
}

#[tokio::test]
async fn the_list_says_how_each_build_stands() {
    let (workshop, build) = Workshop::with_sample().await;
    let list = workshop.get("/builds").await;
    let one = list.between("<li class=\"build\">", "</li>");
    assert!(one.contains(&format!("href=\"{build}\"")) && one.contains("2027-03-14") && one.contains("finished"));
    assert!(one.contains("in line, ") && one.contains("0 stops"), "{one}");
}

#[tokio::test]
async fn a_copy_takes_everything_but_the_readings_and_goes_back_to_planned() {
    let (workshop, build) = Workshop::with_sample().await;
    let form = [("key", key()), ("who", "Ada".to_owned())];
    let form: Vec<(&str, &str)> = form.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let answer = workshop.post(&format!("{build}/copy"), &form).await;
    assert_eq!(answer.status, 303, "{}", answer.body);
    let copy = &answer.headers["location"];
    assert_ne!(*copy, build);
    assert_eq!(workshop.kept(copy, "job.title").await.as_deref(), Some("sample, copy"));
    assert_eq!(workshop.kept(copy, "job.stage").await.as_deref(), Some("planned"));
    assert_eq!(workshop.kept(copy, "parts.stem.length").await.as_deref(), Some("110"));
    assert_eq!(workshop.kept(copy, "measured.steerer-cut.value").await, None);
    let id = copy.rsplit('/').next().unwrap().parse().unwrap();
    let leaves = workshop.store.leaves(&id).await.unwrap().unwrap().leaves;
    assert!(leaves.keys().all(|path| !path.starts_with("measured.")));
}

/// A workshop with so many builds, numbered from 0.
async fn many(many: usize) -> Workshop {
    let workshop = Workshop::open().await;
    for number in 0..many {
        let leaves = [("job.title", format!("Bike {number}")), ("rider.name", format!("Zoë {}", number % 3))];
        workshop.make(&leaves.map(|(path, text)| (path.to_owned(), text))).await;
    }
    workshop
}

fn titles(body: &str) -> Vec<&str> {
    let heads = body.split("<h2><a href=\"/builds/").skip(1);
    heads.filter_map(|head| head.split('>').nth(1)?.split('<').next()).collect()
}

#[tokio::test]
async fn a_long_list_comes_a_page_at_a_time_and_every_build_is_on_one_page() {
    let workshop = many(45).await;
    let (mut address, mut seen) = ("/builds".to_owned(), Vec::new());
    let counts = loop {
        let page = workshop.get(&address).await;
        assert_eq!(page.status, 200, "{address}");
        assert!(page.body.contains("45 builds, "), "{}", page.body);
        let here: Vec<String> = titles(&page.body).into_iter().map(str::to_owned).collect();
        seen.push(here);
        let Some(rest) = page.body.split("those changed before").next().filter(|rest| rest.len() < page.body.len())
        else {
            break seen.iter().map(Vec::len).collect::<Vec<_>>();
        };
        address = rest.rsplit("href=\"").next().unwrap().split('"').next().unwrap().replace("&amp;", "&");
    };
    assert_eq!(counts, [20, 20, 5]);
    let expected: Vec<String> = (0..45).rev().map(|number| format!("Bike {number}")).collect();
    assert_eq!(seen.concat(), expected);
}

#[tokio::test]
async fn a_build_is_found_by_typing_and_what_was_typed_stays() {
    let workshop = many(45).await;
    let page = workshop.get("/builds?q=ZOE+bike+4+2").await;
    // Each word is looked for in all that a build is called by; the first four in “Bike 4…”, the two in “Zoë 2” or “…2”.
    assert_eq!(titles(&page.body), ["Bike 44", "Bike 42", "Bike 41", "Bike 24", "Bike 14"]);
    assert!(page.body.contains("value=\"ZOE bike 4 2\""), "{}", page.body);
    let none = workshop.get("/builds?q=nobody").await.body;
    assert!(none.contains("No build has all of these words.") && none.contains("value=\"nobody\""), "{none}");
    // The page's script asks for the piece that changes alone.
    let piece = workshop.ask("GET", "/builds?q=bike+17", &[("x-pieces", "1")], "").await.body;
    assert!(piece.starts_with("<template>") && titles(&piece) == ["Bike 17"], "{piece}");
    let next = workshop.get("/builds?q=bike").await.body;
    assert!(next.contains("href=\"/builds?q=bike&amp;before=26\""), "{next}");
}

#[tokio::test]
async fn another_programs_change_is_in_the_list_at_the_next_look() {
    let (workshop, build) = Workshop::with_sample().await;
    assert_eq!(titles(&workshop.get("/builds").await.body), ["sample"]);
    let id = build.rsplit('/').next().unwrap().parse().unwrap();
    let change = witnessmark_store::Change {
        path: "job.title".into(),
        before: Some("sample".into()),
        after: Some("Hill bike".into()),
    };
    let by = witnessmark_store::By { who: "Ben".into(), at_ms: 0, request_key: key() };
    workshop.store.edit(&id, &[change], &by).await.unwrap();
    let page = workshop.get("/builds?q=hill").await.body;
    assert!(titles(&page) == ["Hill bike"] && page.contains("changed by Ben"), "{page}");
}

#[tokio::test]
async fn the_mirror_of_the_list_says_the_same() {
    let workshop = many(22).await;
    let first: serde_json::Value = serde_json::from_str(&workshop.get("/builds.json").await.body).unwrap();
    assert_eq!((first["all"].as_u64(), first["builds"].as_array().unwrap().len()), (Some(22), 20));
    assert_eq!((&first["builds"][0]["title"], &first["builds"][0]["rider"]), (&"Bike 21".into(), &"Zoë 0".into()));
    assert_eq!(first["builds"][0]["summary"]["in_line"], 0, "nothing is known of it, so nothing is in line");
    let rest = workshop.get(&format!("/builds.json?before={}", first["next"])).await.body;
    let rest: serde_json::Value = serde_json::from_str(&rest).unwrap();
    assert_eq!((rest["builds"].as_array().unwrap().len(), rest["next"].is_null()), (2, true));
    let found = workshop.get("/builds.json?q=zoe+bike+13").await.body;
    let found: serde_json::Value = serde_json::from_str(&found).unwrap();
    assert_eq!(found["builds"][0]["title"], "Bike 13");
    assert_eq!(workshop.get("/builds.json?before=yesterday").await.status, 422);
}
