//! The chain's page over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use super::super::gears::tests::NONSENSE;
use crate::testing::Workshop;

#[tokio::test]
async fn the_sample_says_how_many_links_why_and_where_the_cage_stands_in_every_gear() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/chain")).await;
    assert_eq!(page.status, 200);
    for said in ["<b>110 links</b>", "cut the chain to <b>109</b>", "no fewer than", "no more than", "teeth to take up"]
    {
        assert!(page.body.contains(said), "no «{said}» in\n{}", page.body);
    }
    // Both extremes are drawn, and every gear stands in both tables.
    assert_eq!(page.body.matches("class=\"to-scale chain-drawing\"").count(), 2);
    assert_eq!(page.body.matches("<th scope=\"row\">").count(), 2 * 24);
    assert!(page.body.contains(">short</td>") && page.body.contains(">slack</td>"));
}

#[tokio::test]
async fn another_number_of_links_is_looked_at_and_not_written() {
    let (workshop, build) = Workshop::with_sample().await;
    let page = workshop.get(&format!("{build}/chain?links=104")).await;
    assert!(page.body.contains("<b>104 links</b> as looked at here"), "{}", page.body);
    assert!(page.body.contains("too short by"), "{}", page.body);
    assert_eq!(workshop.kept(&build, "settings.chain_links").await, None);
    let odd = workshop.get(&format!("{build}/chain?links=109")).await;
    assert!(odd.body.contains("an odd number cannot be closed"), "{}", odd.body);
}

#[tokio::test]
async fn nonsense_in_the_address_has_one_message_beside_the_field_and_the_page_stands() {
    let (workshop, build) = Workshop::with_sample().await;
    for text in NONSENSE {
        let page = workshop.get(&format!("{build}/chain?links={text}")).await;
        assert_eq!((page.status, page.body.matches("role=\"alert\"").count()), (200, 1), "{text}");
        assert!(!page.body.contains("<script>alert"), "{text}");
        assert!(page.body.contains("<b>110 links</b>"), "{text}: the chain stands all the same");
    }
}

#[tokio::test]
async fn a_cage_that_nobody_measured_leaves_the_rules_of_thumb_with_their_doubt_and_says_which_facts_to_fill_in() {
    let (workshop, build) = Workshop::with_sample_but("parts.rear_derailleur").await;
    let page = workshop.get(&format!("{build}/chain")).await;
    assert!(
        page.body.contains("by the rules of thumb, as the cage is not known: give or take a pair"),
        "{}",
        page.body
    );
    assert!(
        page.body.contains(&format!(
            "href=\"{build}/part/parts.rear_derailleur#field.parts.rear_derailleur.pivot_to_lower\""
        ))
    );
    assert!(!page.body.contains("chain-drawing"));
}
