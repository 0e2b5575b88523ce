//! Carrying over, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Answer, Workshop, key, sample_leaves};

/// The sample, and another frame like it with these fields changed.
async fn two(changed: &[(&str, &str)]) -> (Workshop, String, String) {
    let (workshop, from) = Workshop::with_sample().await;
    let mut leaves = sample_leaves();
    for (path, text) in changed {
        leaves.retain(|(one, _)| one != path);
        leaves.push(((*path).to_owned(), (*text).to_owned()));
    }
    let onto = workshop.make(&leaves).await;
    (workshop, from, onto.to_string())
}

fn row<'a>(page: &'a Answer, number: &str) -> &'a str {
    page.between(&format!("data-number=\"{number}\""), "</tr>")
}

/// The hidden fields of the button.
fn taken(page: &Answer) -> Vec<(String, String)> {
    let form = page.between("id=\"take-title\"", "</form>");
    ["onto", "seen", "seen_onto"]
        .into_iter()
        .map(|name| {
            let value = form.split(&format!("name=\"{name}\" value=\"")).nth(1).unwrap().split('"').next().unwrap();
            (name.to_owned(), value.to_owned())
        })
        .collect()
}

async fn take(workshop: &Workshop, from: &str, fields: &[(String, String)], key: &str) -> Answer {
    let mut all: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    all.push(("key", key));
    workshop.post(&format!("{from}/carry"), &all).await
}

#[tokio::test]
async fn shorter_cranks_on_the_other_bike_raise_its_saddle_and_it_is_said_why() {
    let (workshop, from, onto) = two(&[("parts.crankset.arm_length", "165")]).await;
    let page = workshop.get(&format!("{from}/carry?onto={onto}")).await;
    assert_eq!(page.status, 200);
    let saddle = row(&page, "saddle-height");
    assert!(saddle.contains("kept"), "{saddle}");
    let accounted = page.between("id=\"accounted-title\"", "</section>");
    assert!(accounted.contains("5 mm shorter") && accounted.contains("5 mm up along its own ray"), "{accounted}");
    assert!(page.between("id=\"set-title\"", "</section>").contains("post"), "{}", page.body);
    assert!(page.between("id=\"check-title\"", "</section>").contains("saddle height"), "{}", page.body);
    // Both bikes on one drawing.
    let drawing = page.between("id=\"overlay\"", "</figure>");
    assert!(drawing.contains("<g class=\"a\"><path") && drawing.contains("<g class=\"b\"><path"), "{drawing}");
}

#[tokio::test]
async fn a_frame_far_too_low_says_what_is_lost_and_by_how_much() {
    let (workshop, from, onto) = two(&[("parts.frame.stack", "480")]).await;
    let page = workshop.get(&format!("{from}/carry?onto={onto}")).await;
    let findings = page.between("id=\"carry-findings\"", "</section>");
    assert!(findings.contains("cannot be kept") || findings.contains("bring the hoods near"), "{findings}");
    assert!(findings.contains(" mm"), "{findings}");
}

#[tokio::test]
async fn the_position_is_taken_into_the_other_build_in_one_change_and_once() {
    let (workshop, from, onto) = two(&[("parts.crankset.arm_length", "165")]).await;
    let (build, address) = (format!("/builds/{onto}"), format!("{from}/carry?onto={onto}"));
    let page = workshop.get(&address).await;
    let (fields, key) = (taken(&page), key());
    let answer = take(&workshop, &from, &fields, &key).await;
    assert_eq!((answer.status, answer.headers["location"].as_str()), (303, build.as_str()), "{}", answer.body);
    let extension: f64 = workshop.kept(&build, "settings.post_extension").await.unwrap().parse().unwrap();
    let was: f64 = workshop.kept(&from, "settings.post_extension").await.unwrap().parse().unwrap();
    assert!((extension - was - 5.0).abs() < 3.0 && (extension * 10.0).fract().abs() < 1e-9, "{was} → {extension}");
    // It was asked with the old bike's cranks.
    let fit = workshop.kept(&build, "fit.crank_length").await;
    assert_eq!(fit, workshop.kept(&from, "parts.crankset.arm_length").await);
    // Nothing that the search tried, and nothing beside the position.
    assert_eq!(workshop.kept(&build, "search.bar_roll").await, workshop.kept(&from, "search.bar_roll").await);
    assert_eq!(workshop.kept(&build, "parts.frame.stack").await, workshop.kept(&from, "parts.frame.stack").await);
    // A second tap finds it done.
    assert_eq!(take(&workshop, &from, &fields, &key).await.status, 303);
    assert_eq!(workshop.kept(&build, "settings.post_extension").await.unwrap().parse(), Ok(extension));
    let page = workshop.get(&address).await;
    assert!(
        page.body.contains("It asks for this position and is set so already."),
        "{}",
        page.between("take-title", "</main>")
    );
}

#[tokio::test]
async fn what_was_worked_out_before_somebody_else_wrote_is_not_taken() {
    let (workshop, from, onto) = two(&[("parts.crankset.arm_length", "165")]).await;
    let fields = taken(&workshop.get(&format!("{from}/carry?onto={onto}")).await);
    let before = workshop.kept(&from, "parts.saddle.nose_to_reference").await.unwrap();
    let path = "parts.saddle.nose_to_reference";
    let change = [("path", path), ("before", &before), ("after", "130"), ("key", &key()), ("seen", "1")];
    assert_eq!(workshop.post(&format!("{from}/edit"), &change).await.status, 200);
    let refused = take(&workshop, &from, &fields, &key()).await;
    assert!(refused.status == 422 && refused.body.contains("Look at it again"), "{}", refused.body);
}

#[tokio::test]
async fn without_another_build_the_page_says_so_and_with_one_it_asks_which() {
    let (workshop, build) = Workshop::with_sample().await;
    let alone = workshop.get(&format!("{build}/carry")).await;
    assert!(alone.status == 200 && alone.body.contains("There is no other build to carry it onto."), "{}", alone.body);
    let (workshop, from, onto) = two(&[]).await;
    let page = workshop.get(&format!("{from}/carry")).await;
    assert!(page.body.contains(&format!("<option value=\"{onto}\">")), "{}", page.body);
    assert_eq!(workshop.get(&format!("{from}/carry?onto=7k3m9x2b")).await.status, 404);
    assert!(workshop.get(&from).await.body.contains(&format!("href=\"{from}/carry\"")));
    assert!(workshop.get(&format!("{from}/survey")).await.body.contains(&format!("href=\"{from}/carry\"")));
}

#[tokio::test]
async fn the_same_is_served_as_plain_data() {
    let (workshop, from, onto) = two(&[("parts.crankset.arm_length", "165")]).await;
    let carried = workshop.get(&format!("{from}/carry.json?onto={onto}")).await;
    assert!(carried.status == 200 && carried.body.contains("\"accounted\":[\"The cranks are"), "{}", carried.body);
    let survey = workshop.get(&format!("{from}/survey.json")).await;
    assert!(survey.status == 200 && survey.body.contains("\"in_doubt\":[]"), "{}", survey.body);
    let id = from.trim_start_matches("/builds/");
    let both = workshop.get(&format!("/compare.json?a={id}&b={onto}")).await;
    assert!(both.status == 200 && both.body.contains("\"drawings\":[["), "{}", both.body);
}
