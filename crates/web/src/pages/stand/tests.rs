//! The stand over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Answer, Workshop, key};

/// Records something as the tablet does.
async fn record(workshop: &Workshop, build: &str, fields: &[(&str, &str)]) -> Answer {
    let key = key();
    let mut all = vec![("key", key.as_str()), ("seen", "1"), ("who", "Ines"), ("day", "2027-02-03"), ("page", "stand")];
    all.extend_from_slice(fields);
    workshop.post(&format!("{build}/edit"), &all).await
}

#[tokio::test]
async fn every_step_of_the_bike_is_on_the_page_with_its_number_and_where_it_is_recorded() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/stand")).await;
    assert_eq!(page.status, 200);
    for piece in [
        "id=\"step-cut-steerer\"",
        "id=\"step-set-lever-left\"",
        "id=\"step-set-lever-right\"",
        "id=\"field.steps.cut-steerer.state@cut-steerer\"",
        "id=\"field.measured.lever-from-end.left.value@set-lever-left\"",
        "id=\"field.fasteners.lever-left.applied@set-lever-left\"",
    ] {
        assert!(page.body.contains(piece), "{piece}");
    }
    let mut ids: Vec<&str> = page.body.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all, "no id stands twice");
}

#[tokio::test]
async fn a_reading_is_kept_with_who_took_it_and_on_which_day_in_one_change() {
    let (workshop, build) = Workshop::with_sample().await;
    let path = "measured.hood-gap.value";
    let before = workshop.kept(&build, path).await;
    let mut fields = vec![("path", path), ("after", "351"), ("place", "check-gap")];
    if let Some(before) = &before {
        fields.push(("before", before));
    }
    let answer = record(&workshop, &build, &fields).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert!(answer.body.contains("id=\"step-check-gap\""), "the step shows it");
    assert_eq!(workshop.kept(&build, "measured.hood-gap.by").await.as_deref(), Some("Ines"));
    assert_eq!(workshop.kept(&build, "measured.hood-gap.on").await.as_deref(), Some("2027-02-03"));
    assert!(answer.between("id=\"revision\"", ">").contains("data-revision=\"2\""), "one revision for all three");
}

#[tokio::test]
async fn a_step_behind_a_shut_gate_is_refused_beside_its_button() {
    let (workshop, build) = Workshop::with_sample().await;
    let state = [("path", "steps.cut-steerer.state"), ("after", "done"), ("place", "cut-steerer")];
    let answer = record(&workshop, &build, &state).await;
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("id=\"field.steps.cut-steerer.state@cut-steerer\""), "{}", answer.body);
    assert!(answer.body.contains("The gate before cutting the steerer is not open"), "{}", answer.body);
    let sign = [("path", "steps.cut-steerer.opened_by"), ("after", "Ines"), ("place", "cut-steerer")];
    let shut = record(&workshop, &build, &sign).await;
    assert_eq!(shut.status, 422);
    assert!(shut.body.contains("write the reason for opening it all the same"), "{}", shut.body);
    let reason = [("path", "steps.cut-steerer.opened_against"), ("after", "off-cut of the old fork laid beside it")];
    assert_eq!(record(&workshop, &build, &reason).await.status, 200);
    assert_eq!(record(&workshop, &build, &sign).await.status, 200);
    assert_eq!(workshop.kept(&build, "steps.cut-steerer.opened_on").await.as_deref(), Some("2027-02-03"));
    let done = record(&workshop, &build, &state).await;
    assert_eq!(done.status, 200, "{}", done.body);
    assert!(done.body.contains("opened against a finding") || done.body.contains("something speaks against it"));
    assert_eq!(workshop.kept(&build, "steps.cut-steerer.by").await.as_deref(), Some("Ines"));
}

/// A tablet that lost the answer sends the same entry again, and two tablets may press the same button.
#[tokio::test]
async fn an_entry_sent_twice_is_written_once_and_a_second_tablet_is_told_of_the_first() {
    let (workshop, build) = Workshop::with_sample().await;
    let key = key();
    let entry = |who: &'static str, key: &str, after: &'static str| {
        [
            ("key", key.to_owned()),
            ("path", "steps.weigh-bare.state".to_owned()),
            ("after", after.to_owned()),
            ("who", who.to_owned()),
            ("seen", "1".to_owned()),
            ("place", "weigh-bare".to_owned()),
        ]
    };
    let send = async |fields: [(&str, String); 6]| {
        let fields: Vec<(&str, &str)> = fields.iter().map(|(name, value)| (*name, value.as_str())).collect();
        workshop.post(&format!("{build}/edit"), &fields).await
    };
    assert_eq!(send(entry("Ines", &key, "done")).await.status, 200);
    let again = send(entry("Ines", &key, "done")).await;
    assert_eq!(again.status, 200);
    let history = workshop.get(&format!("{build}/history?path=steps.weigh-bare")).await;
    assert_eq!(history.body.matches("became <b>done</b>").count(), 1, "written once");
    let other = send(entry("Ben", &crate::testing::key(), "open")).await;
    assert_eq!(other.status, 409);
    for said in ["Ines put “done” here meanwhile", "you typed “open”. Nothing was overwritten"] {
        assert!(other.body.contains(said), "{said}: {}", other.body);
    }
}

#[tokio::test]
async fn a_place_that_is_no_word_is_not_echoed() {
    let (workshop, build) = Workshop::with_sample().await;
    let odd = [("path", "steps.weigh-bare.state"), ("after", "sideways"), ("place", "\"><script>")];
    let answer = record(&workshop, &build, &odd).await;
    assert_eq!(answer.status, 422);
    assert!(answer.body.contains("id=\"field.steps.weigh-bare.state\"") && !answer.body.contains("<script>"));
}
