//! The hands a page is given: to look, to work, to own. Only here is the store itself in reach.
//!
//! A page that only looks asks for [`App`], which has no way to write. A page that writes asks for [`Mechanic`], one that
//! lets people in or gives their data away for [`Owner`]; asking is refused where the one who asks may not.

use super::App;
use crate::refusal::Refusal;
use crate::sign_in::Who;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use std::ops::Deref;
use witnessmark_store::{Noted, Owns, PeopleError, Person, Role, Session, Store, StoreError, Works};

/// The hand of somebody who may write.
#[derive(Clone, Debug)]
pub(crate) struct Mechanic(Works);

/// The hand of somebody who may do everything.
#[derive(Clone, Debug)]
pub(crate) struct Owner {
    hand: Owns,
    who: Who,
}

impl Owner {
    /// Who it is.
    pub(crate) fn name(&self) -> &str {
        self.who.name().unwrap_or("this machine")
    }
}

impl Deref for Mechanic {
    type Target = Works;

    fn deref(&self) -> &Works {
        &self.0
    }
}

impl Deref for Owner {
    type Target = Owns;

    fn deref(&self) -> &Owns {
        &self.hand
    }
}

impl FromRequestParts<App> for Mechanic {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Refusal> {
        who(parts).at_least(Role::Mechanic)?;
        Ok(Mechanic(Works::new(app.inner.store.clone())))
    }
}

impl FromRequestParts<App> for Owner {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Refusal> {
        let who = who(parts);
        who.at_least(Role::Owner)?;
        Ok(Owner { hand: Owns::new(app.inner.store.clone()), who })
    }
}

impl FromRequestParts<App> for Who {
    type Rejection = std::convert::Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &App) -> Result<Self, Self::Rejection> {
        Ok(who(parts))
    }
}

/// Whom the doorman let in. Where he did not stand there is nobody.
fn who(parts: &Parts) -> Who {
    parts.extensions.get::<Who>().cloned().unwrap_or(Who::Stranger)
}

/// What the way in needs of the store, and no more.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gate<'a>(&'a Store);

impl App {
    /// The way in.
    pub(crate) fn gate(&self) -> Gate<'_> {
        Gate(&self.inner.store)
    }
}

impl Gate<'_> {
    pub(crate) async fn session(self, token: &str, now_ms: i64) -> Result<Option<Session>, StoreError> {
        self.0.session(token, now_ms).await
    }

    pub(crate) async fn session_untouched(self, token: &str, now_ms: i64) -> Result<Option<Session>, StoreError> {
        self.0.session_untouched(token, now_ms).await
    }

    pub(crate) async fn begin_session(self, name: &str, about: &str, now_ms: i64) -> Result<String, StoreError> {
        self.0.begin_session(name, about, now_ms).await
    }

    pub(crate) async fn end_session(self, id: &str) -> Result<bool, StoreError> {
        self.0.end_session(id).await
    }

    pub(crate) async fn act(self, session: &Session, name: Option<&str>, now_ms: i64) -> Result<(), StoreError> {
        self.0.act(session, name, now_ms).await
    }

    pub(crate) async fn redeem(self, code: &str, about: &str, now_ms: i64) -> Result<Option<String>, StoreError> {
        self.0.redeem_bench_code(code, about, now_ms).await
    }

    pub(crate) async fn by_password(self, name: &str, password: &str) -> Result<Option<Person>, StoreError> {
        self.0.person_by_password(name, password).await
    }

    pub(crate) async fn by_pin(self, name: &str, pin: &str) -> Result<Option<Person>, StoreError> {
        self.0.person_by_pin(name, pin).await
    }

    /// The names of those who may act on a tablet.
    pub(crate) async fn with_pin(self) -> Result<Vec<String>, StoreError> {
        let people = self.0.people().await?;
        Ok(people.into_iter().filter(|person| person.has_pin).map(|person| person.name).collect())
    }

    /// A person's own password, for whoever proved to be that person.
    pub(crate) async fn reset_password(self, proved: &Person, password: &str) -> Result<(), PeopleError> {
        self.0.reset_password(&proved.name, password).await
    }

    /// A person's own PIN.
    pub(crate) async fn set_pin(self, proved: &Person, pin: Option<&str>) -> Result<(), PeopleError> {
        self.0.set_pin(&proved.name, pin).await
    }

    pub(crate) async fn note(self, noted: Noted<'_>) -> Result<(), StoreError> {
        self.0.note(noted).await
    }
}
