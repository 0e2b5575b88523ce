//! What would fit, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::bring_parts;
use crate::testing::Workshop;
use witnessmark_store::CatalogueBy;

const STEMS: &str = "id,name,price,mass (g),stock,material,length (mm),angle,reversible,clamp height (mm),steerer diameter (mm),steerer shape,bar diameter (mm),bar clamp torque (N·m),steerer insertion min (mm),spacer over required,spacer shape\n\
    plain-100,Plain stem 100,72,128,2,aluminium,100,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    cheap-100,Cheap stem 100,12,188,0,aluminium,100,-6,yes,40,28.6,round,31.8,5,36,no,round\n\
    thick-110,Thick stem 110,90,140,1,aluminium,110,-6,yes,40,28.6,round,35,5,36,no,round\n\
    bare-110,Bare stem 110,20,150,1,aluminium,110,-6,yes,40,28.6,round,?,5,36,no,round\n";

async fn shop() -> (Workshop, String) {
    let (workshop, build) = Workshop::with_sample_but("shelf").await;
    let by = CatalogueBy { who: "Ada".into(), at_ms: 0, source: "first".into() };
    bring_parts(&workshop.store, &[("stem.csv", STEMS)], by).await.unwrap();
    (workshop, build)
}

#[tokio::test]
async fn parts_stand_in_three_groups_with_their_reasons() {
    let (workshop, build) = shop().await;
    let page = workshop.get(&format!("{build}/fitting/parts.stem")).await;
    assert!(page.body.contains("<b>2 fit</b>"), "{}", page.between("id=\"found\"", "</p>"));
    assert!(page.body.contains("<b>1 cannot be judged</b>") && page.body.contains("<b>1 do not fit</b>"));
    let fits = page.between("<section class=\"group fits\"", "</section>");
    let (cheap, plain) = (fits.find("Cheap stem 100").unwrap(), fits.find("Plain stem 100").unwrap());
    assert!(cheap < plain, "the cheapest first");
    assert!(fits.contains("72.00") && fits.contains("128 g") && fits.contains("2 here") && fits.contains("none here"));
    let not = page.between("<section class=\"group not\"", "</section>");
    assert!(not.contains("Thick stem 110") && not.contains("fits/bar_in_stem") && not.contains("35 mm"), "{not}");
    let open = page.between("<section class=\"group open\"", "</section>");
    assert!(open.contains("Bare stem 110") && open.contains("bar diameter") && open.contains("Do:"), "{open}");
    assert!(fits.contains("/take?pick=parts.stem:plain-100"), "and each leads to what taking it would change");
}

#[tokio::test]
async fn words_narrow_it_and_the_answer_to_a_letter_is_that_piece_alone() {
    let (workshop, build) = shop().await;
    let address = format!("{build}/fitting/parts.stem");
    let whole = workshop.get(&format!("{address}?q=plain")).await;
    assert!(whole.body.contains("Plain stem 100") && !whole.body.contains("Cheap stem 100"));
    assert!(whole.body.contains("<b>1 fit</b>") && whole.body.contains("3 left aside"));
    let piece = workshop.ask("GET", &format!("{address}?q=plain&sort=mass"), &[("x-pieces", "1")], "").await;
    assert!(piece.body.starts_with("<template><div id=\"found\""), "{}", piece.body);
    let here = workshop.get(&format!("{address}?here=yes")).await;
    assert!(!here.body.contains("Cheap stem 100"), "none lies here");
    let nothing = workshop.get(&format!("{address}?q=%00%FF%F0nosuchword")).await;
    assert_eq!(nothing.status, 200);
    assert!(nothing.body.contains("<b>0 fit</b>"));
}

#[tokio::test]
async fn a_place_without_candidates_and_one_that_is_none_are_said_so() {
    let (workshop, build) = shop().await;
    let page = workshop.get(&format!("{build}/fitting/parts.chain")).await;
    assert!(page.body.contains("No chain is in the catalogue"));
    for bad in ["parts.bell", "shelf.stem.a", "parts.tyre", "parts.tyre.middle", "job", "%22%3E"] {
        let answer = workshop.get(&format!("{build}/fitting/{bad}")).await;
        assert_eq!(answer.status, 404, "{bad}");
        assert!(answer.body.contains("names nothing on a bike"), "{bad}");
    }
}
