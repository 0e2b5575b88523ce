//! Completing a build, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::bring_parts;
use crate::testing::Workshop;
use witnessmark_store::CatalogueBy;

const STEMS: &str = "id,name,price,mass (g),stock,material,length (mm),angle,reversible,clamp height (mm),steerer diameter (mm),steerer shape,bar diameter (mm),bar clamp torque (N·m),steerer insertion min (mm),spacer over required,spacer shape\n\
    plain-100,Plain stem 100,72,128,2,aluminium,100,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    cheap-100,Cheap stem 100,12,188,0,aluminium,100,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    thick-110,Thick stem 110,9,140,1,aluminium,110,-6,yes,40,28.6,round,35,5,36,no,round\n";

/// The sample without its stem.
async fn shop() -> (Workshop, String) {
    let (workshop, build) = Workshop::with_sample_but("parts.stem").await;
    let by = CatalogueBy { who: "Ada".into(), at_ms: 0, source: "first".into() };
    bring_parts(&workshop.store, &[("stem.csv", STEMS)], by).await.unwrap();
    (workshop, build)
}

#[tokio::test]
async fn the_best_list_is_proven_and_led_from_to_what_taking_it_would_change() {
    let (workshop, build) = shop().await;
    let page = workshop.get(&format!("{build}/complete")).await;
    assert!(!page.body.contains("What was found"), "nothing is searched before it is asked for");
    let page = workshop.get(&format!("{build}/complete?go=yes&aim=price&lists=2")).await;
    assert_eq!(page.status, 200);
    assert!(page.body.contains("<b>Proven:</b>"), "{}", page.between("id=\"result\"", "</section>"));
    let best = page.between("id=\"list-1\"", "</section>");
    assert!(best.contains("Cheap stem 100") && best.contains("12.00"), "the thick one does not fit: {best}");
    assert!(best.contains("/take?pick=parts.stem:cheap-100"));
    let mass = workshop.get(&format!("{build}/complete?go=yes&aim=mass&in_stock=yes")).await;
    assert!(mass.between("id=\"list-1\"", "</section>").contains("Plain stem 100"));
}

#[tokio::test]
async fn wishes_that_clash_are_named() {
    let (workshop, build) = shop().await;
    let page = workshop.get(&format!("{build}/complete?go=yes&aim=price&budget=10,50")).await;
    assert!(page.body.contains("No list keeps every wish."), "{}", page.between("id=\"result\"", "</section>"));
    let clash = page.between("<div class=\"clash\"", "</div>");
    assert!(clash.contains("the budget") && clash.contains("No smaller set"), "{clash}");
    // The stem is cheap enough in itself: what stands in the way is the bar, which a budget cannot pay for.
    assert!(clash.contains("stem"), "{clash}");
}

#[tokio::test]
async fn a_limit_that_is_no_amount_is_refused_beside_its_field_and_stays_typed() {
    let (workshop, build) = shop().await;
    for (query, field) in
        [("budget=much", "budget"), ("mass=seven", "mass"), ("budget=-5", "budget"), ("mass=1e999", "mass")]
    {
        let page = workshop.get(&format!("{build}/complete?go=yes&{query}")).await;
        assert_eq!(page.status, 422, "{query}");
        assert!(page.body.contains(&format!("id=\"{field}-note\" role=\"alert\"")), "{query}");
        let typed = query.split('=').nth(1).unwrap();
        assert!(page.body.contains(&format!("value=\"{typed}\"")), "{query}");
        assert!(!page.body.contains("What was found"), "{query}");
    }
    let page = workshop.get(&format!("{build}/complete?go=yes&replace=parts.bell")).await;
    assert_eq!(page.status, 404);
    let page = workshop.get(&format!("{build}/complete?go=yes&lists=9999999999999&aim=beauty")).await;
    assert_eq!(page.status, 200, "what is not among the choices is the usual choice");
}

#[tokio::test]
async fn the_same_question_is_worked_out_once() {
    let (workshop, build) = shop().await;
    let address = format!("{build}/complete?go=yes&aim=price");
    let (one, other) = tokio::join!(workshop.get(&address), workshop.get(&address));
    assert_eq!(one.between("id=\"result\"", "<form"), other.between("id=\"result\"", "<form"));
    assert!(one.body.contains("Cheap stem 100"));
}
