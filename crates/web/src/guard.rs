//! The guard at the door: who may ask, and what a browser is told to refuse.
//!
//! Every page a person has open anywhere can send requests to this machine. So a request must name this machine (a name
//! that somebody else's name server points here is refused: DNS rebinding), and a change must come from one of our own
//! pages (no cross-site posts). A program that is no browser sends neither `Origin` nor `Sec-Fetch-Site` and is let in,
//! unless there is a sign-in: then a change has to say where it comes from.

use crate::app::{App, Names};
use crate::refusal::Refusal;
use axum::extract::{Request, State};
use axum::http::header::{HOST, HeaderName, ORIGIN};
use axum::http::{HeaderMap, HeaderValue, Method};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::IpAddr;

/// What every answer carries. Scripts, styles, pictures and fonts come from here and nowhere else.
const TOLD: &[(&str, &str)] = &[
    (
        "content-security-policy",
        "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

/// Lets a request in or refuses it, and gives the answer its headers.
pub(crate) async fn guard(State(app): State<App>, request: Request, next: Next) -> Response {
    let mut response = match refused(request.method(), request.headers(), app.names()) {
        Some(refusal) => refusal.into_response(),
        None => next.run(request).await,
    };
    for (name, value) in TOLD {
        response.headers_mut().insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    response
}

fn refused(method: &Method, headers: &HeaderMap, names: &Names) -> Option<Refusal> {
    let header = |name: &str| headers.get(name).and_then(|value| value.to_str().ok());
    let host = header(HOST.as_str()).unwrap_or_default();
    if !is_ours(host, names) {
        return Some(Refusal::StrangeName(host.to_owned()));
    }
    if method == Method::GET || method == Method::HEAD {
        return None;
    }
    let site = header("sec-fetch-site");
    let origin = header(ORIGIN.as_str());
    let from_elsewhere = site.is_some_and(|site| site != "same-origin" && site != "none")
        || origin.is_some_and(|origin| !is_same(origin, host, names.secure));
    // Where a cookie opens the door, a request that says nothing of where it comes from is not taken for one of ours.
    let says_nothing = names.signs_in && site.is_none() && origin.is_none();
    (from_elsewhere || says_nothing).then_some(Refusal::FromElsewhere)
}

/// A name of this machine: itself, the address it listens on, or a name it was told about.
fn is_ours(host: &str, names: &Names) -> bool {
    let name = without_port(host).to_ascii_lowercase();
    if name == "localhost" || name.ends_with(".localhost") || names.told.contains(&name) {
        return true;
    }
    let Ok(asked) = name.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>() else { return false };
    // An address is no name, so nobody's name server can have pointed it here.
    asked.is_loopback() || names.address.is_some_and(|ours| ours == asked || ours.is_unspecified())
}

fn without_port(host: &str) -> &str {
    match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|digit| digit.is_ascii_digit()) && !name.ends_with(':') => name,
        _ => host,
    }
}

fn is_same(origin: &str, host: &str, secure: bool) -> bool {
    let https = origin.strip_prefix("https://");
    // Over TLS a page that came in the clear is somebody else's.
    if secure { https == Some(host) } else { https.or_else(|| origin.strip_prefix("http://")) == Some(host) }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a header that cannot be built is to stop the test")]

    use super::*;

    fn verdict(method: &Method, pairs: &[(&'static str, &str)], names: &Names) -> Option<Refusal> {
        let mut headers = HeaderMap::new();
        for (name, value) in pairs {
            headers.insert(HeaderName::from_static(name), HeaderValue::from_str(value).unwrap());
        }
        refused(method, &headers, names)
    }

    #[test]
    fn this_machine_is_known_by_its_loopback_names() {
        for host in ["localhost", "localhost:8080", "127.0.0.1:80", "127.9.9.9", "[::1]:8080", "[::1]", "LocalHost:1"] {
            assert!(verdict(&Method::GET, &[("host", host)], &Names::default()).is_none(), "{host}");
        }
    }

    #[test]
    fn a_name_that_somebody_pointed_here_is_refused() {
        for host in ["", "bench.example", "localhost.example:80", "192.168.1.4:80", "127.0.0.1.example", "::", "[::"] {
            let refusal = verdict(&Method::GET, &[("host", host)], &Names::default());
            assert!(matches!(refusal, Some(Refusal::StrangeName(_))), "{host}");
        }
    }

    #[test]
    fn the_address_it_listens_on_and_the_names_it_was_told_are_its_own() {
        let lan = Names { address: "192.168.1.4".parse().ok(), told: vec!["bench".into()], ..Names::default() };
        for host in ["192.168.1.4:8080", "bench:8080", "localhost"] {
            assert!(verdict(&Method::GET, &[("host", host)], &lan).is_none(), "{host}");
        }
        assert!(verdict(&Method::GET, &[("host", "192.168.1.5")], &lan).is_some());
        let all = Names { address: "0.0.0.0".parse().ok(), told: vec![], ..Names::default() };
        assert!(verdict(&Method::GET, &[("host", "192.168.1.5")], &all).is_none());
        assert!(verdict(&Method::GET, &[("host", "bench.example")], &all).is_some());
    }

    #[test]
    fn where_there_is_a_sign_in_a_change_says_where_it_comes_from() {
        let host = ("host", "localhost:80");
        let names = Names { signs_in: true, ..Names::default() };
        assert!(matches!(verdict(&Method::POST, &[host], &names), Some(Refusal::FromElsewhere)));
        assert!(verdict(&Method::POST, &[host, ("origin", "http://localhost:80")], &names).is_none());
        assert!(verdict(&Method::POST, &[host, ("sec-fetch-site", "same-origin")], &names).is_none());
        let names = Names { signs_in: true, secure: true, ..Names::default() };
        assert!(verdict(&Method::POST, &[host, ("origin", "https://localhost:80")], &names).is_none());
        assert!(verdict(&Method::POST, &[host, ("origin", "http://localhost:80")], &names).is_some());
    }

    #[test]
    fn a_change_comes_from_our_own_pages_or_from_a_program() {
        let host = ("host", "localhost:80");
        let post = |pairs: &[(&'static str, &str)]| verdict(&Method::POST, pairs, &Names::default());
        assert!(post(&[host]).is_none(), "a program");
        assert!(post(&[host, ("origin", "http://localhost:80"), ("sec-fetch-site", "same-origin")]).is_none());
        for pair in [
            ("origin", "http://localhost:81"),
            ("origin", "null"),
            ("origin", "http://bench.example"),
            ("sec-fetch-site", "cross-site"),
            ("sec-fetch-site", "same-site"),
        ] {
            assert!(matches!(post(&[host, pair]), Some(Refusal::FromElsewhere)), "{pair:?}");
            assert!(verdict(&Method::GET, &[host, pair], &Names::default()).is_none(), "looking is free: {pair:?}");
        }
    }
}
