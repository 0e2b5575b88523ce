//! Signing in and who may do what, over a socket.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on should stop")]

use crate::testing::{PASSWORD, Workshop, key};
use witnessmark_store::Role;

/// Pages that everybody may ask for, pages for owners, and posts that are one's own affair.
const OPEN: &[&str] = &["/sign-in", "/bench"];
const OWNERS: &[&str] = &["/people", "/ledger", "/person", "/copies"];
const OWN_AFFAIRS: &[&str] = &["/sign-out", "/bench/turn", "/me"];

/// An address of a page, with a build and plain words in its places.
fn filled(path: &str, build: &str) -> String {
    let path = path.replace("/builds/{id}", build).replace("{number}", "hood-x.left");
    path.split('/').map(|part| if part.starts_with('{') { "stem" } else { part }).collect::<Vec<_>>().join("/")
}

#[tokio::test]
async fn no_page_opens_to_a_stranger_and_none_lets_a_viewer_write() {
    let (workshop, build) = Workshop::with_people().await;
    let vera = workshop.signed_in("Vera").await;
    let before = workshop.store.leaves(&build[8..].parse().unwrap()).await.unwrap().unwrap();
    for path in crate::pages::ALL {
        let address = filled(path, &build);
        let stranger = workshop.get_as("", &address).await;
        let turned_away = stranger.status == 401
            || (stranger.status == 303 && stranger.headers["location"].starts_with("/sign-in?to="));
        assert_eq!(turned_away, !OPEN.contains(path), "a stranger looks at {path}: {}", stranger.status);
        assert!(turned_away || !stranger.body.contains("Sample"), "{path}");

        if !OPEN.contains(path) {
            for method in ["POST", "PUT", "DELETE", "PATCH"] {
                let origin = [("sec-fetch-site", "same-origin")];
                let answer = workshop.ask(method, &address, &origin, "").await;
                assert_eq!(answer.status, 401, "a stranger sends {method} to {path}");
                let headers = [("sec-fetch-site", "same-origin"), ("cookie", vera.as_str())];
                if !OWN_AFFAIRS.contains(path) {
                    let answer = workshop.ask(method, &address, &headers, "").await;
                    assert_eq!(answer.status, 403, "a viewer sends {method} to {path}");
                }
            }
        }
        let viewer = workshop.get_as(&vera, &address).await;
        let is_refused = viewer.status == 403;
        let is_own = ["/me", "/bench/turn"].contains(path);
        assert_eq!(is_refused, OWNERS.contains(path) || *path == "/bench/turn", "a viewer looks at {path}: {is_own}");
        assert!(viewer.status < 500, "{path}: {}", viewer.status);
    }
    for path in ["/builds/{id}/plan.json", "/builds/{id}/survey.json", "/compare.json", "/no-such-page"] {
        let status = workshop.get_as("", &filled(path, &build)).await.status;
        assert!(status == 401 || status == 303, "{path}: {status}");
    }
    let after = workshop.store.leaves(&build[8..].parse().unwrap()).await.unwrap().unwrap();
    assert_eq!(after, before);
}

#[tokio::test]
async fn an_edit_is_kept_under_the_name_of_who_is_signed_in() {
    let (workshop, build) = Workshop::with_people().await;
    let ben = workshop.signed_in("ben").await;
    let fields = [("path", "settings.spacers_under"), ("before", "15"), ("after", "25"), ("key", &key())];
    let answer = workshop.post_as(&ben, &format!("{build}/edit"), &fields).await;
    assert_eq!(answer.status, 200, "{}", answer.body);
    let id = build[8..].parse().unwrap();
    assert_eq!(workshop.store.recent(&id, 1).await.unwrap()[0].who, "Ben");
    let page = workshop.get_as(&ben, &build).await;
    assert!(page.body.contains("<b>Ben</b>, mechanic"), "the head says who it is");
    assert_eq!(page.headers["cache-control"], "no-store");
    let ledger = workshop.store.ledger(Some(&build[8..]), 9).await.unwrap();
    assert_eq!(ledger.iter().filter(|line| line.who == "Ben" && line.did == "looked at").count(), 1, "{ledger:?}");
}

#[tokio::test]
async fn a_wrong_name_and_a_wrong_password_get_the_same_words_and_a_cookie_neither() {
    let (workshop, _) = Workshop::with_people().await;
    let guess = async |name: &str, password: &str| {
        workshop.post_as("", "/sign-in", &[("name", name), ("password", password)]).await
    };
    let wrong = guess("Anna", "a gate of elm").await;
    let nobody = guess("Nobody", "a gate of elm").await;
    assert_eq!((wrong.status, nobody.status), (401, 401));
    assert_eq!(wrong.body.replace("Anna", "X"), nobody.body.replace("Nobody", "X"));
    assert!(!wrong.headers.contains_key("set-cookie"));
    assert!(!wrong.body.contains("elm"), "a password is never shown again");
    for _ in 0..4 {
        assert_eq!(guess("Anna", "a gate of elm").await.status, 401);
    }
    let locked = guess("Anna", PASSWORD).await;
    assert_eq!(locked.status, 429, "the sixth guess waits, were it the right one");
    assert!(locked.body.contains("too many tries"), "{}", locked.body);
    for _ in 0..4 {
        assert_eq!(guess("Nobody", "a gate of elm").await.status, 401);
    }
    assert_eq!(guess("Nobody", "a gate of elm").await.status, 429, "nor does the wait say who there is");
    workshop.signed_in("Ben").await;
}

#[tokio::test]
async fn signing_out_ends_the_session_here_and_not_only_in_the_browser() {
    let (workshop, _) = Workshop::with_people().await;
    let cookie = workshop.signed_in("Anna").await;
    assert_eq!(workshop.get_as(&cookie, "/builds").await.status, 200);
    let out = workshop.post_as(&cookie, "/sign-out", &[]).await;
    assert!(out.headers["set-cookie"].contains("Max-Age=0"));
    assert_eq!(workshop.get_as(&cookie, "/builds").await.status, 303);
    let kept = workshop.post_as("", "/sign-in", &[("name", "Anna"), ("password", PASSWORD)]).await;
    for word in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(kept.headers["set-cookie"].contains(word), "{:?}", kept.headers);
    }
    let to = [("name", "Anna"), ("password", PASSWORD), ("to", "//bench.example")];
    assert_eq!(workshop.post_as("", "/sign-in", &to).await.headers["location"], "/builds");
}

#[tokio::test]
async fn a_change_from_another_site_or_from_nowhere_is_refused_though_the_cookie_is_good() {
    let (workshop, build) = Workshop::with_people().await;
    let ben = workshop.signed_in("Ben").await;
    let kind = ("content-type", "application/x-www-form-urlencoded");
    let body = "path=settings.spacers_under&before=15&after=25&key=k";
    for from in [("origin", "https://bench.example"), ("sec-fetch-site", "cross-site"), ("x-nothing", "said")] {
        let headers = [kind, ("cookie", ben.as_str()), from];
        let answer = workshop.ask("POST", &format!("{build}/edit"), &headers, body).await;
        assert_eq!(answer.status, 403, "{from:?}");
    }
    assert_eq!(workshop.kept(&build, "settings.spacers_under").await.as_deref(), Some("15"));
}

#[tokio::test]
async fn a_tablet_is_let_in_by_a_code_looks_and_writes_once_somebody_gave_a_pin() {
    let (workshop, build) = Workshop::with_people().await;
    let anna = workshop.signed_in("Anna").await;
    let shown = workshop.post_as(&anna, "/people", &[("act", "code")]).await;
    let code = shown.between("<p class=\"code\">", "</p>").to_owned();
    assert_eq!(code.len(), 7, "{code}");
    let refused = workshop.post_as("", "/bench", &[("code", "12")]).await;
    assert_eq!(refused.status, 401);
    let tablet = workshop.post_as("", "/bench", &[("code", &code)]).await;
    assert_eq!((tablet.status, tablet.headers["location"].as_str()), (303, "/bench/turn"));
    let tablet = tablet.cookie();
    assert_eq!(workshop.post_as("", "/bench", &[("code", &code)]).await.status, 401, "a code is good once");

    let edit = async |after: &str, before: &str| {
        let fields = [("path", "settings.spacers_under"), ("before", before), ("after", after), ("key", &key())];
        workshop.post_as(&tablet, &format!("{build}/edit"), &fields).await
    };
    assert_eq!(workshop.get_as(&tablet, &build).await.status, 200);
    let nobody = edit("25", "15").await;
    assert_eq!(nobody.status, 403);
    assert!(nobody.body.contains("Nobody is at this tablet"), "{}", nobody.body);

    let turn = async |name: &str, pin: &str| {
        workshop.post_as(&tablet, "/bench/turn", &[("name", name), ("pin", pin)]).await.status
    };
    assert_eq!(turn("Ben", "8303").await, 401);
    assert_eq!(turn("Anna", "8302").await, 401, "she has no PIN");
    assert_eq!(turn("Ben", "8302").await, 303);
    assert_eq!(edit("25", "15").await.status, 200);
    let id = build[8..].parse().unwrap();
    assert_eq!(workshop.store.recent(&id, 1).await.unwrap()[0].who, "Ben");
    assert_eq!(turn("", "").await, 303);
    assert_eq!(edit("30", "25").await.status, 403, "Ben has left");

    workshop.store.set_pin("Anna", Some("7401")).await.unwrap();
    assert_eq!(turn("Anna", "7401").await, 303);
    assert_eq!(workshop.get_as(&tablet, "/people").await.status, 403, "a PIN opens the bench, not the people");
    for _ in 0..5 {
        assert_eq!(turn("Ben", "0000").await, 401);
    }
    assert_eq!(turn("Ben", "8302").await, 429);
    let sessions = workshop.store.sessions(crate::words::now_ms()).await.unwrap();
    let bench = sessions.iter().find(|session| session.kind == witnessmark_store::SessionKind::Bench).unwrap();
    assert_eq!(workshop.post_as(&anna, "/people", &[("act", "end"), ("session", &bench.id)]).await.status, 200);
    assert_eq!(workshop.get_as(&tablet, &build).await.status, 303, "a tablet that was lost is shut out");
}

/// What waited on a tablet comes while another one is at the bench, or somebody types a colleague's name.
#[tokio::test]
async fn an_entry_is_kept_in_the_name_of_whoever_typed_it_or_not_at_all() {
    let (workshop, build) = Workshop::with_people().await;
    let ben = workshop.signed_in("Ben").await;
    let send = async |who: &str| {
        let fields =
            [("path", "settings.spacers_under"), ("before", "15"), ("after", "25"), ("key", &key()), ("who", who)];
        workshop.post_as(&ben, &format!("{build}/edit"), &fields).await
    };
    let refused = send("Anna").await;
    assert_eq!(refused.status, 403);
    assert!(refused.body.contains("Anna typed this, and Ben is here now. Nothing was written."), "{}", refused.body);
    assert_eq!(workshop.kept(&build, "settings.spacers_under").await.as_deref(), Some("15"));
    assert_eq!(send("Ben").await.status, 200);
    assert_eq!(workshop.kept(&build, "settings.spacers_under").await.as_deref(), Some("25"));
}

/// Whoever said who they are goes on where they were, and nowhere else.
#[tokio::test]
async fn after_a_turn_the_tablet_goes_back_to_the_page_it_came_from() {
    let (workshop, build) = Workshop::with_people().await;
    let code = workshop.store.open_bench_code("Anna", crate::words::now_ms()).await.unwrap().unwrap();
    let tablet = workshop.post_as("", "/bench", &[("code", &code)]).await.cookie();
    let stand = format!("{build}/stand");
    let form = workshop.get_as(&tablet, &format!("/bench/turn?to={stand}")).await;
    assert!(form.body.contains(&format!("name=\"to\" value=\"{stand}\"")), "{}", form.body);
    for (to, leads) in [(stand.as_str(), stand.as_str()), ("//elsewhere.example/", "/builds")] {
        let turn = workshop.post_as(&tablet, "/bench/turn", &[("name", "Ben"), ("pin", "8302"), ("to", to)]).await;
        assert_eq!((turn.status, turn.headers["location"].as_str()), (303, leads));
    }
}

/// Pages say for whom they were made, so that a tablet throws away what it kept for somebody else.
#[tokio::test]
async fn a_page_says_for_whom_it_was_made_and_nothing_where_that_is_nobody() {
    let (workshop, build) = Workshop::with_people().await;
    let of = |page: &crate::testing::Answer| {
        page.body.contains("data-of=").then(|| page.between("data-of=\"", "\"").to_owned())
    };
    assert_eq!(of(&workshop.get("/sign-in").await), None);
    let (ben, vera) = (workshop.signed_in("Ben").await, workshop.signed_in("Vera").await);
    let page = of(&workshop.get_as(&ben, &build).await).unwrap();
    assert!(page.ends_with(" Ben"), "{page}");
    assert_ne!(Some(page), of(&workshop.get_as(&vera, &build).await));
    let code = workshop.store.open_bench_code("Anna", crate::words::now_ms()).await.unwrap().unwrap();
    let tablet = workshop.post_as("", "/bench", &[("code", &code)]).await.cookie();
    assert_eq!(of(&workshop.get_as(&tablet, &build).await), None, "nobody is at the bench");
    workshop.post_as(&tablet, "/bench/turn", &[("name", "Ben"), ("pin", "8302")]).await;
    let page = workshop.get_as(&tablet, &build).await;
    assert!(of(&page).unwrap().ends_with(" Ben") && page.body.contains("data-rests=\"1800000\""));
}

#[tokio::test]
async fn an_owner_adds_people_and_a_person_changes_their_own_password_and_pin() {
    let (workshop, _) = Workshop::with_people().await;
    let anna = workshop.signed_in("Anna").await;
    let add = [("act", "add"), ("name", "Cleo"), ("role", "mechanic"), ("password", "short")];
    let refused = workshop.post_as(&anna, "/people", &add).await;
    assert_eq!(refused.status, 422);
    assert!(
        refused.body.contains("at least 12 letters") && refused.body.contains("value=\"Cleo\""),
        "{}",
        refused.body
    );
    let add = [("act", "add"), ("name", "Cleo"), ("role", "mechanic"), ("password", PASSWORD)];
    assert_eq!(workshop.post_as(&anna, "/people", &add).await.status, 200);
    assert!(workshop.store.people().await.unwrap().iter().any(|it| it.name == "Cleo" && it.role == Role::Mechanic));
    let last = workshop.post_as(&anna, "/people", &[("act", "remove"), ("name", "Anna")]).await;
    assert_eq!(last.status, 422);

    let cleo = workshop.signed_in("Cleo").await;
    let elsewhere = workshop.signed_in("Cleo").await;
    let wrong = workshop.post_as(&cleo, "/me", &[("password", "a gate of elm"), ("pin", "5926")]).await;
    assert_eq!(wrong.status, 401);
    let change = [("password", PASSWORD), ("pin", "5926"), ("new", "a latch of iron")];
    let changed = workshop.post_as(&cleo, "/me", &change).await;
    assert_eq!(changed.status, 200, "{}", changed.body);
    assert_eq!(workshop.get_as(&changed.cookie(), "/me").await.status, 200);
    assert_eq!(workshop.get_as(&elsewhere, "/me").await.status, 303, "the other browser is signed out");
    assert!(workshop.store.person_by_pin("Cleo", "5926").await.unwrap().is_some());
}

#[tokio::test]
async fn on_this_machine_alone_nobody_signs_in() {
    let (workshop, build) = Workshop::with_sample().await;
    assert_eq!(workshop.get(&build).await.status, 200);
    let page = workshop.get("/people").await;
    assert_eq!(page.status, 200);
    assert!(workshop.get("/builds").await.body.contains("id=\"who\""));
    assert!(workshop.get("/sign-in").await.body.contains("nobody needs to sign in"));
}
