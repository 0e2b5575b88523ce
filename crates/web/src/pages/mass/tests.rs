//! The page of the mass over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;
use witnessmark_core::build::sample::sample;
use witnessmark_core::plan;

#[tokio::test]
async fn every_area_has_its_bar_and_every_part_its_line() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/mass")).await;
    assert_eq!(page.status, 200);
    let mass = plan(&sample()).worked.mass;
    assert_eq!(page.body.matches("<svg class=\"mass-bar\"").count(), mass.areas.len());
    for item in &mass.items {
        assert!(page.body.contains(&format!("/part/{}\"", item.path)), "{} is not on the page", item.path);
    }
    for said in ["ahead of the bottom bracket", "On the scale", "with pedals", "id=\"field.weighing.with_bottles\""] {
        assert!(page.body.contains(said), "no «{said}» in\n{}", page.body);
    }
}

#[tokio::test]
async fn a_scale_that_reads_too_little_names_the_part_that_is_missing() {
    let whole = plan(&sample()).worked.mass;
    let known = whole.items.iter().filter(|item| item.counted).map(|item| (item.mass_g.clone().unwrap(), &item.name));
    let (mass_g, name) = known.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
    let read = format!("{:.0}", whole.sum.unwrap().mass_g + 95.0 - mass_g);
    let (workshop, build) = Workshop::with_sample_where(&[("measured.mass.value", &read)]).await;
    let page = workshop.get(&format!("{build}/mass")).await;
    assert!(page.body.contains("Scale and list do not agree."), "{}", page.body);
    let explanations = page.between("<ul class=\"explanations\">", "</ul>");
    assert!(explanations.contains(name.as_str()), "{explanations}");
}

#[tokio::test]
async fn a_part_without_a_mass_makes_the_sum_unknown_and_is_named() {
    let (workshop, build) = Workshop::with_sample_where(&[("parts.saddle.mass", "")]).await;
    let page = workshop.get(&format!("{build}/mass")).await;
    assert!(page.body.contains("The sum is not known yet."), "{}", page.body);
    assert!(page.body.contains("saddle: mass") && page.body.contains("1 part without a mass"), "{}", page.body);
}
