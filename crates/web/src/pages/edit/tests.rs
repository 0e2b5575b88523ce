//! Changing fields over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{Answer, Workshop, key};

const SPACERS: &str = "settings.spacers_under";

/// Sends a change as the page does.
async fn edit(workshop: &Workshop, build: &str, fields: &[(&str, &str)]) -> Answer {
    let key = key();
    let mut all = fields.to_vec();
    if !fields.iter().any(|(name, _)| *name == "key") {
        all.push(("key", &key));
    }
    if !fields.iter().any(|(name, _)| *name == "seen") {
        all.push(("seen", "1"));
    }
    workshop.post(&format!("{build}/edit"), &all).await
}

/// The ids of the pieces in an answer.
fn pieces(answer: &Answer) -> Vec<&str> {
    let templates = answer.body.split("<template>").skip(1);
    templates.filter_map(|piece| piece.split(" id=\"").nth(1)?.split('"').next()).collect()
}

#[tokio::test]
async fn a_change_is_kept_and_the_answer_holds_what_it_changed() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer =
        edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", " 2 cm "), ("who", "Ada")]).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("2 cm"), "as typed, without the blanks around it");
    let field = answer.between("id=\"field.settings.spacers_under\"", "</div>");
    assert!(field.contains("data-before=\"2 cm\"") && field.contains("= 20 mm"), "{field}");
    let pieces = pieces(&answer);
    for id in
        ["head", "drawing", "row.hood-y.left", "row.hood-y.right", "row.bar-y", "row.spacers-under", "told", "revision"]
    {
        assert!(pieces.contains(&id), "{id} of {pieces:?}");
    }
    for id in ["row.crank-length", "row.saddle-height", "row.tyre-width.front"] {
        assert!(!pieces.contains(&id), "{id} did not change");
    }
    assert!(answer.between("id=\"told\"", "</div>").contains("spacers under</b> 2 cm (was 15)"), "{}", answer.body);
    assert!(answer.between("id=\"revision\"", ">").contains("data-revision=\"2\""));
    assert!(!answer.headers.contains_key("x-stale"));
    let history = workshop.get(&format!("{build}/history?path={SPACERS}")).await;
    assert!(history.body.contains("<b>Ada</b>") && history.body.contains("<b>15</b> became <b>2 cm</b>"));
}

#[tokio::test]
async fn a_text_that_is_no_value_is_refused_beside_its_field_and_stays_there() {
    let (workshop, build) = Workshop::with_sample().await;
    for typed in ["plenty", "5 kg", "2 m", "<b>5</b>"] {
        let answer = edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", typed)]).await;
        assert_eq!(answer.status, 422, "{typed}");
        assert_eq!(pieces(&answer), ["field.settings.spacers_under"], "{typed}");
        assert!(answer.body.contains("data-before=\"15\""), "{typed}");
        let shown = typed.replace('<', "&lt;").replace('>', "&gt;");
        assert!(answer.body.contains(&format!("value=\"{shown}\"")), "{typed}: {}", answer.body);
        assert!(answer.body.contains("role=\"alert\"") && answer.body.contains("aria-invalid=\"true\""), "{typed}");
    }
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("15"));
}

#[tokio::test]
async fn who_was_slower_sees_both_texts_and_can_put_theirs_all_the_same() {
    let (workshop, build) = Workshop::with_sample().await;
    edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", "10"), ("who", "Ada")]).await;
    let answer = edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", "20"), ("who", "Ben")]).await;
    assert_eq!(answer.status, 409);
    assert!(answer.body.contains("data-before=\"10\"") && answer.body.contains("value=\"20\""), "{}", answer.body);
    assert!(
        answer.body.contains("Ada put “10” here meanwhile") && answer.body.contains("you typed “20”"),
        "{}",
        answer.body
    );
    for choice in ["data-do=\"theirs\"", "data-do=\"mine\""] {
        assert!(answer.body.contains(choice));
    }
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("10"), "nothing was overwritten");
    let mine = edit(&workshop, &build, &[("path", SPACERS), ("before", "10"), ("after", "20"), ("who", "Ben")]).await;
    assert_eq!(mine.status, 200);
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("20"));
}

#[tokio::test]
async fn the_same_request_again_changes_nothing_twice() {
    let (workshop, build) = Workshop::with_sample().await;
    let change = [("path", SPACERS), ("before", "15"), ("after", "10"), ("who", "Ada"), ("key", "one-tap")];
    assert_eq!(edit(&workshop, &build, &change).await.status, 200);
    let again = edit(&workshop, &build, &change).await;
    assert_eq!(again.status, 200, "the first answer may have been lost on its way");
    assert_eq!(again.headers["x-stale"], "1", "and with it what it changed");
    assert_eq!(workshop.get(&format!("{build}/revision")).await.body, "2");
    let other = [("path", SPACERS), ("before", "10"), ("after", "5"), ("who", "Ada"), ("key", "one-tap")];
    let refused = edit(&workshop, &build, &other).await;
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("was sent before with other content"), "{}", refused.body);
}

#[tokio::test]
async fn a_page_that_missed_a_change_is_told_to_look_again() {
    let (workshop, build) = Workshop::with_sample().await;
    edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", "10")]).await;
    let answer =
        edit(&workshop, &build, &[("path", "settings.bar_roll"), ("before", "0"), ("after", "2"), ("seen", "1")]).await;
    assert_eq!((answer.status, answer.headers["x-stale"].as_str()), (200, "1"));
    let answer =
        edit(&workshop, &build, &[("path", "settings.bar_roll"), ("before", "2"), ("after", "3"), ("seen", "3")]).await;
    assert!(!answer.headers.contains_key("x-stale"));
}

#[tokio::test]
async fn clearing_a_field_makes_it_not_known_and_filling_it_makes_it_known_again() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer = edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", "")]).await;
    assert_eq!(answer.status, 200);
    assert_eq!(workshop.kept(&build, SPACERS).await, None);
    assert!(!answer.between("id=\"field.settings.spacers_under\"", ">").contains("data-before"), "{}", answer.body);
    assert!(answer.between("id=\"told\"", "</div>").contains("not known (was 15)"));
    let answer = edit(&workshop, &build, &[("path", SPACERS), ("after", "15"), ("seen", "2")]).await;
    assert_eq!(answer.status, 200);
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("15"));
}

#[tokio::test]
async fn the_first_fact_of_a_part_puts_it_on_the_bike_and_the_last_one_takes_it_off() {
    let (workshop, build) = Workshop::with_sample_but("parts.chain").await;
    let fact = "parts.chain.mass";
    let answer = edit(&workshop, &build, &[("path", fact), ("after", "250")]).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    let pieces = pieces(&answer);
    assert!(pieces.contains(&"parts-of-transmission") && pieces.contains(&"fact.parts.chain.mass"), "{pieces:?}");
    assert!(workshop.get(&build).await.body.contains("id=\"part.parts.chain\""));
    let answer = edit(&workshop, &build, &[("path", fact), ("before", "250"), ("after", ""), ("seen", "2")]).await;
    assert_eq!(answer.status, 200);
    assert!(!workshop.get(&build).await.body.contains("id=\"part.parts.chain\""));
}

#[tokio::test]
async fn where_a_fact_comes_from_is_kept_beside_it() {
    let (workshop, build) = Workshop::with_sample().await;
    let origin = "parts.stem.length.from";
    let answer = edit(&workshop, &build, &[("path", origin), ("after", "assumed")]).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    assert!(pieces(&answer).contains(&"fact.parts.stem.length"), "the origin is shown with its fact");
    assert!(answer.between("data-path=\"parts.stem.length.from\"", "</select>").contains("selected>assumed"));
    let after = [("path", "parts.stem.length"), ("before", "110"), ("after", "100"), ("seen", "2")];
    assert_eq!(edit(&workshop, &build, &after).await.status, 200);
    assert_eq!(workshop.kept(&build, origin).await.as_deref(), Some("assumed"), "and stays when the fact changes");
}

#[tokio::test]
async fn a_choice_takes_its_words_only_and_a_definition_only_those_in_use() {
    let (workshop, build) = Workshop::with_sample().await;
    let line = "asked.saddle-height.line";
    assert_eq!(
        edit(&workshop, &build, &[("path", line), ("before", "straight"), ("after", "crooked")]).await.status,
        422
    );
    assert_eq!(
        edit(&workshop, &build, &[("path", line), ("before", "straight"), ("after", "vertical")]).await.status,
        200
    );
    let page = workshop.get(&format!("{build}/number/saddle-height")).await;
    let options = page.between("data-path=\"asked.saddle-height.line\"", "</select>");
    assert!(options.contains("<option selected>vertical") && !options.contains("horizontal"), "{options}");
}

#[tokio::test]
async fn a_path_that_leads_nowhere_is_refused_with_what_could_stand_there() {
    let (workshop, build) = Workshop::with_sample().await;
    for path in ["settings.spacers", "", "job", "parts.stem.length.0", "asked.hood-x.up.value", "../../etc"] {
        let answer = edit(&workshop, &build, &[("path", path), ("after", "5")]).await;
        assert_eq!(answer.status, 404, "{path}");
        assert!(answer.body.contains("names nothing on a bike"), "{path}");
    }
}

#[tokio::test]
async fn a_request_that_is_not_whole_is_refused_and_writes_nothing() {
    let (workshop, build) = Workshop::with_sample().await;
    let answer = workshop.post(&format!("{build}/edit"), &[("path", SPACERS)]).await;
    assert_eq!(answer.status, 422);
    let answer = edit(&workshop, &build, &[("path", SPACERS), ("before", "15"), ("after", "10"), ("key", "")]).await;
    assert!(answer.body.contains("does not say which request it is"), "{}", answer.body);
    let answer =
        workshop.ask("POST", &format!("{build}/edit"), &[("content-type", "text/plain")], "path=job.title").await;
    assert_eq!(answer.status, 415);
    let answer = workshop.post("/builds/00000000/edit", &[("path", SPACERS), ("after", "5"), ("key", &key())]).await;
    assert_eq!(answer.status, 404);
    assert_eq!(workshop.get(&format!("{build}/revision")).await.body, "1");
}

#[tokio::test]
async fn a_change_from_another_sites_page_is_refused() {
    let (workshop, build) = Workshop::with_sample().await;
    let body = format!("path={SPACERS}&before=15&after=10&key={}", key());
    let kind = ("content-type", "application/x-www-form-urlencoded");
    for strange in [("origin", "http://bench.example"), ("sec-fetch-site", "cross-site"), ("origin", "null")] {
        let answer = workshop.ask("POST", &format!("{build}/edit"), &[kind, strange], &body).await;
        assert_eq!(answer.status, 403, "{strange:?}");
    }
    assert_eq!(workshop.kept(&build, SPACERS).await.as_deref(), Some("15"));
}

#[tokio::test]
async fn a_page_is_the_same_whether_it_was_changed_piece_by_piece_or_asked_for_anew() {
    let (workshop, build) = Workshop::with_sample().await;
    let changes = [
        ("settings.spacers_under", "15", "10"),
        ("asked.hood-x.left.value", "", "590"),
        ("measured.hood-x.left.value", "", "589"),
        ("parts.stem.length", "110", "120"),
        ("rider.name", "", "Ida"),
    ];
    for (at, (path, before, after)) in changes.into_iter().enumerate() {
        let seen = (at + 1).to_string();
        let mut fields = vec![("path", path), ("after", after), ("seen", seen.as_str())];
        if !before.is_empty() {
            fields.push(("before", before));
        }
        let answer = edit(&workshop, &build, &fields).await;
        assert_eq!(answer.status, 200, "{path}: {}", answer.body);
        let page = workshop.get(&build).await.body;
        for piece in answer.body.split("<template>").skip(1) {
            let piece = piece.split("</template>").next().unwrap();
            // The line that says what was written, the facts of a folded part, and the day that goes along with a reading
            // and stands in its number's fold, are not part of the page.
            let folded = ["id=\"told\"", "id=\"fact.", "id=\"field.measured.hood-x.left.on\""];
            if !folded.iter().any(|id| piece.contains(id)) {
                assert!(page.contains(piece), "{path}: {piece}");
            }
        }
    }
}
