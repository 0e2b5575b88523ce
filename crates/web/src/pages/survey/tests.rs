//! The survey's page over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

#[path = "../../../tests/browser/taken.rs"]
mod taken;

use crate::testing::{Answer, Workshop, key, sample_leaves};
use taken::TAKEN;

/// Points of an invented bike, mm from the bottom bracket: x forward, y up, z to the drive side.
const POINTS: [(&str, [f64; 3]); 7] = [
    ("bottom bracket", [0.0, 0.0, 0.0]),
    ("rear axle", [-405.0, 70.0, 0.0]),
    ("front axle", [580.0, 70.0, 0.0]),
    ("saddle nose", [-60.0, 708.0, 0.0]),
    ("bar clamp", [475.0, 612.0, 0.0]),
    ("left hood", [565.0, 615.0, -190.0]),
    ("right hood", [565.0, 615.0, 190.0]),
];

fn point(name: &str) -> [f64; 3] {
    POINTS.iter().find(|(one, _)| *one == name).unwrap().1
}

/// A reading as a tape gives it: to the millimetre.
fn reading(name: &str, what: &str, from: &str, to: &str) -> Vec<(String, String)> {
    let (a, b) = (point(from), point(to));
    let value = match what {
        "straight" => a.iter().zip(&b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt(),
        "height over the floor" => b[1] + 270.0,
        "level distance" => b[0] - a[0],
        other => panic!("{other} is not read here"),
    };
    [("what", what.to_owned()), ("from", from.to_owned()), ("to", to.to_owned()), ("value", format!("{value:.0}"))]
        .map(|(key, text)| (format!("survey.{name}.{key}"), text))
        .to_vec()
}

/// The sample with a survey; one reading may be off by some millimetres.
async fn surveyed(slip: Option<(&str, f64)>) -> (Workshop, String) {
    let workshop = Workshop::open().await;
    let mut leaves = sample_leaves();
    leaves.extend(TAKEN.iter().flat_map(|(name, what, from, to)| reading(name, what, from, to)));
    for (path, text) in &mut leaves {
        if let Some((name, by)) = slip
            && *path == format!("survey.{name}.value")
        {
            *text = (text.parse::<f64>().unwrap() + by).to_string();
        }
    }
    let id = workshop.make(&leaves).await;
    (workshop, format!("/builds/{id}"))
}

/// The form beside the drawing, as a browser would send it.
fn guided<'a>(page: &'a Answer, value: &'a str) -> Vec<(&'a str, &'a str)> {
    let form = page.between("class=\"read-next\"", "</form>");
    let hidden = form.split("<input type=\"hidden\"").skip(1);
    let attribute = |input: &'a str, name: &str| {
        input.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next()).unwrap_or_default()
    };
    let mut fields: Vec<(&str, &str)> =
        hidden.map(|input| (attribute(input, " name"), attribute(input, " value"))).collect();
    fields.push(("value", value));
    fields
}

fn of<'a>(fields: &[(&str, &'a str)], name: &str) -> &'a str {
    fields.iter().find(|(one, _)| *one == name).map_or("", |(_, value)| *value)
}

#[tokio::test]
async fn a_build_leads_to_its_survey_and_a_bike_that_nobody_read_begins_with_how_it_stands() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&build).await;
    assert!(page.body.contains(&format!("href=\"{build}/survey\"")));
    let page = workshop.get(&format!("{build}/survey")).await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("Height of the bottom bracket over the floor"), "{}", page.body);
    let fields = guided(&page, "270");
    let added = workshop.post(&format!("{build}/survey"), &fields).await;
    assert_eq!(added.status, 303, "{}", added.body);
    let path = format!("survey.{}.value", of(&fields, "name"));
    assert_eq!(workshop.kept(&build, &path).await.as_deref(), Some("270"));
    // The next one is another.
    let page = workshop.get(&format!("{build}/survey")).await;
    assert!(
        page.body.contains("class=\"read-next\"")
            && !page.between("read-next", "</label>").contains("bottom bracket over")
    );
}

#[tokio::test]
async fn numbers_come_with_their_plus_minus_and_what_cannot_be_had_with_its_reason() {
    let (workshop, build) = surveyed(None).await;
    let page = workshop.get(&format!("{build}/survey")).await;
    let setback = page.between("id=\"s.saddle-setback\"", "</tr>");
    assert!(setback.contains(" mm</td>") && setback.contains("± ") && setback.contains("up to "), "{setback}");
    assert!(page.between("id=\"s.hood-x.left\"", "</li>").contains("nobody read to the left hood"));
    assert!(page.body.contains("<ellipse"), "{}", page.body);
    assert!(page.body.contains("times as large"));
}

#[tokio::test]
async fn a_slip_of_the_hand_is_named_with_what_it_may_have_been() {
    let (workshop, build) = surveyed(Some(("nose-bar", 20.0))).await;
    let page = workshop.get(&format!("{build}/survey")).await;
    let finding = page.between("tape from saddle nose to bar clamp, ", "</li>");
    assert!(finding.contains("does not fit the other readings"), "{finding}");
    assert!(finding.contains(" read for "), "{finding}");
    let row = page.between("id=\"fared.nose-bar\"", "</td>");
    assert!(row.contains("set aside") && row.contains("the others say"), "{row}");
    // Mended in its place, as any field: the finding goes, and the row says so.
    let seen = page.between("data-revision=\"", "\"");
    let slipped = workshop.kept(&build, "survey.nose-bar.value").await.unwrap();
    let right = reading("nose-bar", "straight", "saddle nose", "bar clamp").pop().unwrap().1;
    let fields =
        [("path", "survey.nose-bar.value"), ("before", &slipped), ("after", &right), ("key", &key()), ("seen", seen)];
    let answer = workshop.post(&format!("{build}/edit"), &fields).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert!(!answer.between("id=\"survey-findings\"", "</section>").contains("does not fit"));
    assert!(!answer.between("id=\"fared.nose-bar\"", "</td>").contains("set aside"));
    assert!(answer.body.contains("id=\"survey-drawing\""));
}

#[tokio::test]
async fn the_proposed_reading_is_taken_once_however_often_the_button_is_tapped() {
    let (workshop, build) = surveyed(None).await;
    let page = workshop.get(&format!("{build}/survey")).await;
    // Drawn in the strong colour, with its words beside it.
    assert!(page.between("<g class=\"next\">", "</g>").contains("<path"));
    let fields = guided(&page, "850");
    let (first, second) = (
        workshop.post(&format!("{build}/survey"), &fields).await,
        workshop.post(&format!("{build}/survey"), &fields).await,
    );
    assert_eq!((first.status, second.status), (303, 303), "{}", second.body);
    let page = workshop.get(first.headers["location"].split('#').next().unwrap()).await;
    assert!(page.body.contains("Added."), "{}", page.body);
    assert_eq!(page.body.matches("id=\"words.").count(), TAKEN.len() + 1);
}

#[tokio::test]
async fn after_a_reading_the_ellipse_is_smaller_and_the_old_one_stays_dashed() {
    let (workshop, build) = surveyed(None).await;
    let again: Vec<(String, String)> = reading("again", "straight", "front axle", "bar clamp");
    let value = again[3].1.clone();
    let fields = [
        ("what", "straight"),
        ("from", "front axle"),
        ("to", "bar clamp"),
        ("value", value.as_str()),
        ("name", "bar-front"),
        ("key", &key()),
        ("with", "steel tape"),
        ("plus_minus", "1"),
    ];
    let added = workshop.post(&format!("{build}/survey"), &fields).await;
    assert_eq!(added.status, 303, "{}", added.body);
    let page = workshop.get(&format!("{build}/survey?after=bar-front")).await;
    assert!(page.between("class=\"what-it-did\"", "</div>").contains("bar clamp"), "{}", page.body);
    let long = |part: &str| -> f64 {
        let circle = part.split("<ellipse").find(|one| one.contains("cx=\"47")).unwrap();
        circle.split("rx=\"").nth(1).unwrap().split('"').next().unwrap().parse().unwrap()
    };
    let before = long(page.between("<g class=\"ellipses before\">", "</g>"));
    let now = long(page.between("<g class=\"ellipses\">", "</g>"));
    assert!(now < before * 0.95, "{before} became {now}");
}

#[tokio::test]
async fn a_value_that_cannot_be_read_stays_where_it_was_typed_with_the_reason() {
    let (workshop, build) = surveyed(None).await;
    let page = workshop.get(&format!("{build}/survey")).await;
    let refused = workshop.post(&format!("{build}/survey"), &guided(&page, "half a metre")).await;
    assert_eq!(refused.status, 422);
    let form = refused.between("class=\"read-next\"", "</form>");
    assert!(form.contains("value=\"half a metre\"") && form.contains("role=\"alert\""), "{form}");
}

#[tokio::test]
async fn a_reading_is_taken_out_whole() {
    let (workshop, build) = surveyed(None).await;
    let removed = workshop.post(&format!("{build}/survey"), &[("remove", "nose-bar"), ("key", &key())]).await;
    assert_eq!(removed.status, 303, "{}", removed.body);
    for field in ["what", "from", "to", "value"] {
        assert_eq!(workshop.kept(&build, &format!("survey.nose-bar.{field}")).await, None);
    }
    assert!(!workshop.get(&format!("{build}/survey")).await.body.contains("words.nose-bar"));
}

#[tokio::test]
async fn what_the_survey_gives_is_taken_as_measured_in_one_change_and_a_direct_reading_stays() {
    let (workshop, build) = surveyed(None).await;
    let read = [("path", "measured.saddle-to-bar.value"), ("after", "541"), ("key", &key()), ("seen", "1")];
    assert_eq!(workshop.post(&format!("{build}/edit"), &read).await.status, 200);
    let page = workshop.get(&format!("{build}/survey")).await;
    let form = page.between("id=\"survey-take\"", "</form>");
    assert!(form.contains("1 number that somebody read directly"), "{form}");
    let revision = form.split("name=\"take\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    let key = key();
    let fields = [("take", revision), ("key", &key), ("who", "Mia")];
    for _ in 0..2 {
        let taken = workshop.post(&format!("{build}/survey"), &fields).await;
        assert_eq!(taken.status, 303, "{}", taken.body);
    }
    let kept = |field: &'static str| workshop.kept(&build, field);
    let setback: f64 = kept("measured.saddle-setback.value").await.unwrap().parse().unwrap();
    assert!((setback - 60.0).abs() < 3.0, "{setback}");
    let margin: f64 = kept("measured.saddle-setback.plus_minus").await.unwrap().parse().unwrap();
    assert!((0.5..8.0).contains(&margin), "{margin}");
    assert_eq!(kept("measured.saddle-setback.with").await.as_deref(), Some("survey"));
    assert_eq!(kept("measured.saddle-setback.by").await.as_deref(), Some("Mia"));
    assert!(kept("measured.saddle-setback.on").await.is_some_and(|day| day.starts_with("20")));
    assert!(kept("measured.saddle-setback.note").await.unwrap().contains("slip moves it by up to"));
    assert_eq!(kept("measured.saddle-to-bar.value").await.as_deref(), Some("541"));
    assert_eq!(kept("measured.saddle-to-bar.with").await, None);
    // The build's page shows it in its column; the survey's page has nothing more to give.
    let row = workshop.get(&build).await;
    assert!(row.between("id=\"row.saddle-setback\"", "</tr>").contains(&format!("value=\"{setback}\"")));
    assert!(workshop.get(&format!("{build}/survey")).await.body.contains("holds what this survey gives"));
}

#[tokio::test]
async fn a_survey_that_changed_meanwhile_is_not_taken_over() {
    let (workshop, build) = surveyed(None).await;
    let change =
        [("path", "survey.nose-bar.value"), ("before", "544"), ("after", "545"), ("key", &key()), ("seen", "1")];
    assert_eq!(workshop.post(&format!("{build}/edit"), &change).await.status, 200);
    let refused = workshop.post(&format!("{build}/survey"), &[("take", "1"), ("key", &key())]).await;
    assert!(refused.status == 422 && refused.body.contains("Look at the new ones"), "{}", refused.body);
}
