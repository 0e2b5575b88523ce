//! Who asks: nobody needs to say on this machine alone; from elsewhere a person signs in, or acts on a bench tablet by PIN.
//!
//! [`doorman`] stands before every page and turns away whom the page is not for: a stranger everything but the way in, one
//! who may only look every change. It is the second wall; the first is that a page has no hand to write with unless it
//! asks for one (`crate::app::Mechanic`, `crate::app::Owner`).

pub(crate) mod cookie;
pub(crate) mod tries;

use crate::app::App;
use crate::refusal::Refusal;
use crate::words;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::header::{CACHE_CONTROL, HeaderValue, USER_AGENT};
use axum::http::{HeaderMap, Method, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use std::net::{IpAddr, SocketAddr};
use witnessmark_store::{Noted, Role, Session, SessionKind, StoreError};

/// What a stranger may ask for: the way in, and what it looks like.
const OPEN: &[&str] = &["/sign-in", "/bench", crate::assets::WORKER_AT];
/// What is no change of the workshop's data, so that everybody who is signed in may send it.
const OWN_AFFAIRS: &[&str] = &["/sign-out", "/bench/turn", "/me"];

/// With this header a page says that it asks by itself, and that nobody touched it for a while.
const UNTOUCHED: &str = "x-untouched";

/// Who asks.
#[derive(Clone, Debug)]
pub(crate) enum Who {
    /// Whoever sits at this machine; there is no sign-in.
    Here,
    /// Nobody we know.
    Stranger,
    /// A person in a browser of their own, or somebody or nobody at a bench tablet.
    Known(Session),
}

tokio::task_local! {
    /// Who asks for the page that is being made, for its head and for the log of edits.
    static ASKS: Who;
}

/// Who asks for the page that is being made.
pub(crate) fn asks() -> Who {
    ASKS.try_with(Clone::clone).unwrap_or(Who::Here)
}

impl Who {
    /// Does something in which this is who asks.
    pub(crate) fn while_doing<T>(self, work: impl FnOnce() -> T) -> T {
        ASKS.sync_scope(self, work)
    }

    /// What may be done; `None` for a stranger.
    pub(crate) fn role(&self) -> Option<Role> {
        match self {
            Who::Here => Some(Role::Owner),
            Who::Stranger => None,
            // A few digits open the bench, not the people and the ledger.
            Who::Known(session) if session.kind == SessionKind::Bench => Some(session.role.min(Role::Mechanic)),
            Who::Known(session) => Some(session.role),
        }
    }

    /// The name under which an edit is kept, where it is not up to the one who types.
    pub(crate) fn name(&self) -> Option<&str> {
        match self {
            Who::Known(session) => session.person.as_deref(),
            Who::Here | Who::Stranger => None,
        }
    }

    /// For whom a page is made, as a word that is the same as long as it is the same one in the same browser; `None` for
    /// nobody: what is made for nobody is kept by no tablet.
    pub(crate) fn page_of(&self) -> Option<String> {
        match self {
            Who::Here => Some("here".to_owned()),
            Who::Stranger => None,
            Who::Known(session) => Some(format!("{} {}", session.id.get(..16)?, session.person.as_deref()?)),
        }
    }

    /// The session, where there is one.
    pub(crate) fn session(&self) -> Option<&Session> {
        match self {
            Who::Known(session) => Some(session),
            Who::Here | Who::Stranger => None,
        }
    }

    /// Refuses whoever may do less than this.
    pub(crate) fn at_least(&self, role: Role) -> Result<(), Refusal> {
        match self.role() {
            None => Err(Refusal::SignInFirst),
            Some(own) if role <= own => Ok(()),
            Some(_) => Err(Refusal::NotYours(match self {
                Who::Known(session) if session.kind == SessionKind::Bench && session.person.is_none() => {
                    "Nobody is at this tablet. Say who you are, by name and PIN; until then it shows everything and \
                     writes nothing."
                        .into()
                }
                Who::Known(session) if session.kind == SessionKind::Bench && role == Role::Owner => {
                    "That is for an owner, signed in by password on a machine of their own and not on a bench tablet."
                        .into()
                }
                _ if role == Role::Owner => "That is for an owner of the workshop’s data.".into(),
                _ => "You may look and not write. An owner can change that.".into(),
            })),
        }
    }
}

/// Finds out who asks, and turns away whom the page is not for.
pub(crate) async fn doorman(State(app): State<App>, mut request: Request, next: Next) -> Response {
    let who = match who(&app, request.headers()).await {
        Ok(who) => who,
        Err(error) => return Refusal::from(error).into_response(),
    };
    let (method, uri) = (request.method().clone(), request.uri().clone());
    if let Some(away) = turned_away(&who, &method, &uri) {
        return ASKS.scope(who, async { away.into_response() }).await;
    }
    if let (Who::Known(session), Some(what)) = (&who, personal(uri.path())) {
        let name = session.person.clone().unwrap_or_else(|| "a bench tablet".to_owned());
        if let Err(error) = looked(&app, &name, what).await {
            return Refusal::from(error).into_response();
        }
    }
    request.extensions_mut().insert(who.clone());
    let is_known = matches!(who, Who::Known(_));
    let mut response = ASKS.scope(who, next.run(request)).await;
    if is_known && !response.headers().contains_key(CACHE_CONTROL) {
        // What a browser kept would be shown to the next one who sits down at it.
        response.headers_mut().insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    response
}

async fn who(app: &App, headers: &HeaderMap) -> Result<Who, StoreError> {
    if !app.names().signs_in {
        return Ok(Who::Here);
    }
    let Some(token) = cookie::token(headers, app.names().secure) else { return Ok(Who::Stranger) };
    // A page that looks again by itself is no touch of the one who sits before it.
    let session = if headers.contains_key(UNTOUCHED) {
        app.gate().session_untouched(&token, words::now_ms()).await?
    } else {
        app.gate().session(&token, words::now_ms()).await?
    };
    Ok(session.map_or(Who::Stranger, Who::Known))
}

fn turned_away(who: &Who, method: &Method, uri: &Uri) -> Option<Response> {
    let path = uri.path();
    let is_data = path.rsplit_once('.').is_some_and(|(_, ending)| ending == "json");
    let looks = method == Method::GET || method == Method::HEAD;
    if OPEN.contains(&path) || path.starts_with("/assets/") {
        return None;
    }
    match who {
        Who::Stranger if looks && !is_data && !path.ends_with("/revision") => {
            Some(Redirect::to(&format!("/sign-in?to={}", as_query(uri))).into_response())
        }
        Who::Stranger => Some(Refusal::SignInFirst.into_response()),
        _ if looks || OWN_AFFAIRS.contains(&path) => None,
        _ => who.at_least(Role::Mechanic).err().map(IntoResponse::into_response),
    }
}

/// An address within this program as a value in another.
fn as_query(uri: &Uri) -> String {
    let whole = uri.path_and_query().map_or("/", |it| it.as_str());
    whole.bytes().fold(String::new(), |all, byte| {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            all + &char::from(byte).to_string()
        } else {
            all + &format!("%{byte:02X}")
        }
    })
}

/// Where to go after signing in: within this program, whatever was asked for.
pub(crate) fn within(to: &str) -> &str {
    let inside = to.starts_with('/') && !to.starts_with("//") && !to.contains('\\') && !to.contains(char::is_control);
    if inside { to } else { "/builds" }
}

/// What of a person's data an address shows: a build, or the list with every rider's name.
fn personal(path: &str) -> Option<&str> {
    match path.strip_prefix("/builds") {
        Some("" | "/" | ".json") => Some("the list of builds"),
        Some(rest) => rest.strip_prefix('/')?.split('/').next().filter(|id| id.len() == 8),
        None => None,
    }
}

/// Notes down that somebody looked: once an hour for each person and build, or the ledger would be all there is.
async fn looked(app: &App, name: &str, what: &str) -> Result<(), StoreError> {
    let now_ms = words::now_ms();
    if app.names_a_new_look(name, what, now_ms) {
        app.gate().note(Noted { who: name, did: "looked at", what, at_ms: now_ms }).await?;
    }
    Ok(())
}

/// The address a request came from.
pub(crate) fn address(extensions: &axum::http::Extensions) -> Option<IpAddr> {
    extensions.get::<ConnectInfo<SocketAddr>>().map(|info| info.0.ip().to_canonical())
}

/// What a browser says it is, and from where: for the list of sessions.
pub(crate) fn about(headers: &HeaderMap, address: Option<IpAddr>) -> String {
    let said = headers.get(USER_AGENT).and_then(|value| value.to_str().ok()).unwrap_or("a program");
    let said: String = said.chars().filter(|letter| !letter.is_control()).take(120).collect();
    match address {
        Some(address) => format!("{said}, from {address}"),
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_signing_in_nobody_is_led_out_of_this_program() {
        for to in ["//bench.example/", "https://bench.example", "/\\bench.example", "", "builds", "/a\nb"] {
            assert_eq!(within(to), "/builds", "{to}");
        }
        assert_eq!(within("/builds/7k3m9x2a?x=1"), "/builds/7k3m9x2a?x=1");
    }

    #[test]
    fn looking_at_a_build_and_at_the_list_is_looking_at_somebodys_data() {
        assert_eq!(personal("/builds/7k3m9x2a/survey"), Some("7k3m9x2a"));
        assert_eq!(personal("/builds"), Some("the list of builds"));
        assert_eq!(personal("/builds.json"), Some("the list of builds"));
        assert_eq!(personal("/checks"), None);
        assert_eq!(personal("/buildsomething"), None);
    }
}
