//! The cookie that holds a browser's token: not for scripts, not for other sites, and not in the clear where there is TLS.

use axum::http::HeaderMap;
use axum::http::header::{COOKIE, HeaderValue};

/// What it is called. Over TLS its name makes browsers insist that it came over TLS, from this host, for all of it.
fn name(secure: bool) -> &'static str {
    if secure { "__Host-witnessmark" } else { "witnessmark" }
}

/// The token a browser sent. Two cookies of our name are none: one of them is somebody's trick.
pub(crate) fn token(headers: &HeaderMap, secure: bool) -> Option<String> {
    let all = headers.get_all(COOKIE).iter().filter_map(|value| value.to_str().ok()).flat_map(|line| line.split(';'));
    let mut ours = all.filter_map(|pair| pair.trim().strip_prefix(name(secure))?.strip_prefix('='));
    let token = ours.next()?;
    let is_token = token.len() == 64 && token.bytes().all(|byte| byte.is_ascii_hexdigit());
    (is_token && ours.next().is_none()).then(|| token.to_owned())
}

/// What makes a browser keep a token.
pub(crate) fn keep(token: &str, secure: bool) -> HeaderValue {
    // The store decides how long it is good; this only has to outlast that.
    line(&format!("{}={token}; Max-Age=15552000", name(secure)), secure)
}

/// What makes a browser forget it.
pub(crate) fn forget(secure: bool) -> HeaderValue {
    line(&format!("{}=; Max-Age=0", name(secure)), secure)
}

fn line(what: &str, secure: bool) -> HeaderValue {
    let end = if secure { "; Secure" } else { "" };
    let text = format!("{what}; Path=/; HttpOnly; SameSite=Strict{end}");
    // Every part of it is ours, in plain letters.
    HeaderValue::from_str(&text).unwrap_or_else(|_| HeaderValue::from_static("witnessmark=; Max-Age=0"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sent(lines: &[&'static str]) -> HeaderMap {
        lines.iter().map(|line| (COOKIE, HeaderValue::from_static(line))).collect()
    }

    const TOKEN: &str = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";

    #[test]
    fn over_tls_the_cookie_is_bound_to_the_host_and_to_tls() {
        let kept = keep(TOKEN, true);
        let kept = kept.to_str().unwrap_or_default();
        for word in ["__Host-witnessmark=", "HttpOnly", "SameSite=Strict", "Secure", "Path=/;"] {
            assert!(kept.contains(word), "{kept}");
        }
        assert!(!keep(TOKEN, false).to_str().unwrap_or_default().contains("Secure"));
    }

    #[test]
    fn a_token_is_read_among_others_and_two_are_none() {
        let cookie = "a=b; witnessmark=00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";
        assert_eq!(token(&sent(&[cookie]), false).as_deref(), Some(TOKEN));
        assert_eq!(token(&sent(&[cookie]), true), None, "a name that anybody may set is not taken over TLS");
        assert_eq!(token(&sent(&[cookie, cookie]), false), None);
        assert_eq!(token(&sent(&["witnessmark=short"]), false), None);
        assert_eq!(token(&sent(&[]), false), None);
    }
}
