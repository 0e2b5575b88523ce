//! The gears' page over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::Workshop;

/// Texts that somebody or something puts into an address, as an address carries them.
pub(crate) const NONSENSE: [&str; 10] = [
    "NaN",
    "inf",
    "-1",
    "0",
    "1e400",
    "99999999999999999999999999",
    "%00",
    "%3Cscript%3Ealert(1)%3C/script%3E",
    "many",
    "%F0%9F%9A%B2%20%E2%80%AE90",
];

#[tokio::test]
async fn every_gear_is_a_stroke_and_a_row_and_says_how_its_way_was_had() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/gears")).await;
    assert_eq!(page.status, 200);
    // The picture is laid twice: along the page and upright.
    let pictures = page.body.split("<figcaption").next().unwrap();
    assert_eq!(pictures.matches("class=\"stroke").count(), 2 * 24);
    assert_eq!(page.body.matches("<th scope=\"row\">").count(), 24);
    assert!(page.body.contains("52 × 11") && page.body.contains("The rear wheel rolls"), "{}", page.body);
    let head = workshop.get(&build).await;
    for other in ["gears", "chain", "wiring"] {
        assert!(head.body.contains(&format!("href=\"{build}/{other}\"")), "{other}");
    }
}

#[tokio::test]
async fn a_cadence_is_looked_at_in_the_address_and_not_written() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/gears?cadence=100")).await;
    assert!(page.body.contains("km/h at 100") && page.body.contains("value=\"100\""), "{}", page.body);
    assert_eq!(workshop.kept(&build, "settings.cadence_per_minute").await, None);
    // One turn of 52 × 11 a hundred times a minute, by hand from the metres in the same row.
    let row = page.body.split("52 × 11</th>").nth(1).unwrap().split("</tr>").next().unwrap();
    let metres: f64 = row.split("<b>").nth(1).unwrap().split('<').next().unwrap().parse().unwrap();
    let kmh: f64 = row.split("data-label=\"km/h\">").nth(1).unwrap().split('<').next().unwrap().parse().unwrap();
    assert!((kmh - metres * 100.0 * 0.06).abs() < 0.1, "{kmh} km/h with {metres} m");
}

#[tokio::test]
async fn nonsense_in_the_address_has_one_message_beside_the_field_and_the_page_stands() {
    let (workshop, build) = Workshop::with_sample().await;
    for text in NONSENSE {
        let page = workshop.get(&format!("{build}/gears?cadence={text}")).await;
        assert_eq!(page.status, 200, "{text}");
        assert_eq!(page.body.matches("role=\"alert\"").count(), 1, "{text}");
        assert!(!page.body.contains("<script>alert"), "{text}");
        assert_eq!(page.body.matches("<th scope=\"row\">").count(), 24, "{text}: the gears stand all the same");
    }
    let kept = workshop.get(&format!("{build}/gears?cadence=many")).await;
    assert!(kept.body.contains("value=\"many\""), "what was typed stays");
    assert_eq!(workshop.get("/builds/7k3m9x2z/gears").await.status, 404);
}

#[tokio::test]
async fn a_junior_sees_the_limit_as_a_line_and_the_gears_beyond_it_crossed_out() {
    let (workshop, build) =
        Workshop::with_sample_where(&[("job.rules", "UCI, road mass start"), ("job.day", "2022-06-01"), ("rider.birth_year", "2005")])
            .await;
    let page = workshop.get(&format!("{build}/gears")).await;
    assert!(page.body.contains("limit 7.93 m junior"), "{}", page.body);
    assert!(page.body.contains("leave alone: over the limit"));
    assert!(page.body.contains("LIMIT 7.93 m in a turn of the crank"));
}

#[tokio::test]
async fn a_bike_without_gears_and_one_without_a_tyre_say_what_they_lack() {
    let (workshop, build) = Workshop::with_sample_but("parts.cassette").await;
    let page = workshop.get(&format!("{build}/gears")).await;
    assert!(page.status == 200 && page.body.contains("No gears yet."), "{}", page.body);
    let (workshop, build) = Workshop::with_sample_but("parts.tyre.rear").await;
    let page = workshop.get(&format!("{build}/gears")).await;
    assert!(page.body.contains("Ratios and steps need no tyre"), "{}", page.body);
    assert!(page.body.contains("turns of the wheel a turn of the pedals"));
}
