//! Browsers that are signed in: a person's own, and bench tablets on which people take turns.
//!
//! A browser holds a token; here only its hash is kept, so whoever reads the data cannot sign in with it. A session ends
//! when nobody used it for a while, when its time is over, or when somebody ends it. The clock is the caller's.

use sqlx::Row;
use sqlx::any::AnyRow;

use crate::open::committed;
use crate::people::key_of;
use crate::secret::{draw_code, draw_token, sha256};
use crate::{Role, Store, StoreError};

const MINUTE_MS: i64 = 60_000;
const HOUR_MS: i64 = 60 * MINUTE_MS;
const DAY_MS: i64 = 24 * HOUR_MS;

/// A person's session ends when unused for a working day, and in any case after a week.
const PERSON_MS: Lives = Lives { idle: 10 * HOUR_MS, whole: 7 * DAY_MS };
/// A tablet at the bench lies there for months, over holidays too.
const BENCH_MS: Lives = Lives { idle: 30 * DAY_MS, whole: 180 * DAY_MS };
/// On a tablet, the one who acts rests after so long without a touch.
pub const ACTING_MS: i64 = 30 * MINUTE_MS;
/// How exactly it is kept when a session was last used: each request would else be a write.
const SEEN_MS: i64 = MINUTE_MS;

/// How long a code for a tablet is good.
pub const CODE_MS: i64 = 5 * MINUTE_MS;
/// A code that seems to be good for longer than this from now was made before the clock was set back, and is over: else it
/// could be guessed at for as long as the clock was ahead. A clock that is merely put right moves by less.
const CODE_AT_MOST_MS: i64 = CODE_MS + MINUTE_MS;
/// How many wrong guesses end every open code.
const CODE_MISSES: i64 = 5;
/// How many codes may be open at a time.
const CODES: i64 = 4;

#[derive(Clone, Copy)]
struct Lives {
    idle: i64,
    whole: i64,
}

/// What a session is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SessionKind {
    /// A person's own browser, signed in by password.
    Person,
    /// A tablet at the bench, let in by a code; people act on it by PIN.
    Bench,
}

/// A browser that is signed in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// By which it can be ended. It is no secret: the browser holds what this is a hash of.
    pub id: String,
    /// What it is.
    pub kind: SessionKind,
    /// Who acts; `None` on a bench tablet that rests.
    pub person: Option<String>,
    /// What the one who acts may do; to look, where nobody does.
    pub role: Role,
    /// What the browser says it is, and from where it came.
    pub about: String,
    /// When it began.
    pub made_ms: i64,
    /// When it was last used, to the minute.
    pub seen_ms: i64,
    pin_ms: Option<i64>,
}

const ONE: &str = "SELECT s.token, s.kind, s.about, s.made_ms, s.seen_ms, s.pin_ms, p.name, p.role \
     FROM sessions s LEFT JOIN people p ON p.name_key = s.person WHERE s.token = $1";
const EACH: &str = "SELECT s.token, s.kind, s.about, s.made_ms, s.seen_ms, s.pin_ms, p.name, p.role \
     FROM sessions s LEFT JOIN people p ON p.name_key = s.person ORDER BY s.seen_ms DESC, s.token";

impl Store {
    /// Signs a person's browser in and gives its token: it is not kept and cannot be asked for again.
    pub async fn begin_session(&self, name: &str, about: &str, now_ms: i64) -> Result<String, StoreError> {
        self.begin("person", Some(key_of(name)), about, now_ms).await
    }

    async fn begin(
        &self,
        kind: &'static str,
        person: Option<String>,
        about: &str,
        now_ms: i64,
    ) -> Result<String, StoreError> {
        let token = draw_token()?;
        let mut tx = self.begin_writing().await?;
        // What is long over is swept out by whoever comes next; so is what a clock that was ahead left, which would come
        // to life again once that time is here.
        sqlx::query(
            "DELETE FROM sessions WHERE made_ms < $1 OR seen_ms < $2 OR (kind = 'person' AND seen_ms < $3) \
             OR made_ms > $4 OR seen_ms > $4",
        )
        .bind(now_ms - BENCH_MS.whole)
        .bind(now_ms - BENCH_MS.idle)
        .bind(now_ms - PERSON_MS.idle)
        .bind(now_ms + DAY_MS)
        .execute(&mut *tx)
        .await?;
        sqlx::query(
            "INSERT INTO sessions (token, kind, person, about, made_ms, seen_ms, pin_ms) \
             VALUES ($1, $2, $3, $4, $5, $5, NULL)",
        )
        .bind(sha256(token.as_bytes()))
        .bind(kind)
        .bind(person)
        .bind(about.replace('\0', ""))
        .bind(now_ms)
        .execute(&mut *tx)
        .await?;
        committed(tx).await?;
        Ok(token)
    }

    /// The session of a token, if it is one and still good; it counts as used.
    pub async fn session(&self, token: &str, now_ms: i64) -> Result<Option<Session>, StoreError> {
        let session = self.session_untouched(token, now_ms).await?;
        if let Some(session) = session.as_ref().filter(|session| session.seen_ms + SEEN_MS <= now_ms) {
            // Where nothing can be written people still look: the session only seems older than it is.
            let _ = self.used(sha256(token.as_bytes()), session, now_ms).await;
        }
        Ok(session)
    }

    /// The same where a page asks by itself and nobody touched it: it does not count as used, so that whoever left a
    /// tablet with an open page rests in the end.
    pub async fn session_untouched(&self, token: &str, now_ms: i64) -> Result<Option<Session>, StoreError> {
        let hash = sha256(token.as_bytes());
        let rows = self.rows(|| sqlx::query(ONE).bind(hash.clone())).await?;
        let Some(mut session) = rows.first().map(session).transpose()?.filter(|session| session.is_good(now_ms)) else {
            return Ok(None);
        };
        let rests = session.kind == SessionKind::Bench
            && session.pin_ms.is_none_or(|at_ms| now_ms < at_ms - SEEN_MS || at_ms + ACTING_MS < now_ms);
        if rests {
            session.person = None;
            session.role = Role::Viewer;
        }
        Ok(Some(session))
    }

    /// Keeps that a session was used.
    async fn used(&self, hash: String, session: &Session, now_ms: i64) -> Result<(), StoreError> {
        let acts = session.person.is_some() && session.kind == SessionKind::Bench;
        let mut tx = self.begin_writing().await?;
        sqlx::query("UPDATE sessions SET seen_ms = $2, pin_ms = $3 WHERE token = $1")
            .bind(hash)
            .bind(now_ms)
            .bind(acts.then_some(now_ms))
            .execute(&mut *tx)
            .await?;
        committed(tx).await
    }

    /// Every session that is still good, the one used last first.
    pub async fn sessions(&self, now_ms: i64) -> Result<Vec<Session>, StoreError> {
        let rows = self.rows(|| sqlx::query(EACH)).await?;
        let all: Result<Vec<Session>, StoreError> = rows.iter().map(session).collect();
        Ok(all?.into_iter().filter(|session| session.is_good(now_ms)).collect())
    }

    /// Ends a session. Says whether there was one.
    pub async fn end_session(&self, id: &str) -> Result<bool, StoreError> {
        let mut tx = self.begin_writing().await?;
        let gone =
            sqlx::query("DELETE FROM sessions WHERE token = $1").bind(id.replace('\0', "")).execute(&mut *tx).await?;
        committed(tx).await?;
        Ok(gone.rows_affected() > 0)
    }

    /// Puts somebody at a bench tablet, or nobody: then it shows everything and writes nothing.
    pub async fn act(&self, session: &Session, name: Option<&str>, now_ms: i64) -> Result<(), StoreError> {
        let mut tx = self.begin_writing().await?;
        sqlx::query("UPDATE sessions SET person = $2, pin_ms = $3, seen_ms = $4 WHERE token = $1 AND kind = 'bench'")
            .bind(session.id.clone())
            .bind(name.map(key_of))
            .bind(name.map(|_| now_ms))
            .bind(now_ms)
            .execute(&mut *tx)
            .await?;
        committed(tx).await?;
        Ok(())
    }

    /// A code by which one tablet is let in within [`CODE_MS`]. `None` where too many are open already.
    pub async fn open_bench_code(&self, made_by: &str, now_ms: i64) -> Result<Option<String>, StoreError> {
        let code = draw_code()?;
        let mut tx = self.begin_writing().await?;
        sqlx::query("DELETE FROM bench_codes WHERE ends_ms <= $1 OR ends_ms > $2")
            .bind(now_ms)
            .bind(now_ms + CODE_AT_MOST_MS)
            .execute(&mut *tx)
            .await?;
        let made = sqlx::query(
            "INSERT INTO bench_codes (code, made_by, ends_ms, misses) \
             SELECT $1, $2, $3, 0 FROM (SELECT count(*) AS open_now FROM bench_codes) c WHERE c.open_now < $4 \
             ON CONFLICT (code) DO NOTHING",
        )
        .bind(sha256(code.as_bytes()))
        .bind(made_by.to_owned())
        .bind(now_ms + CODE_MS)
        .bind(CODES)
        .execute(&mut *tx)
        .await?;
        committed(tx).await?;
        Ok((made.rows_affected() == 1).then_some(code))
    }

    /// Lets a tablet in by its code, which is then used up, and gives its token. A wrong guess counts against every open
    /// code; after a few of them none is good any more.
    pub async fn redeem_bench_code(&self, code: &str, about: &str, now_ms: i64) -> Result<Option<String>, StoreError> {
        let mut tx = self.begin_writing().await?;
        let used = sqlx::query("DELETE FROM bench_codes WHERE code = $1 AND ends_ms > $2 AND ends_ms <= $3")
            .bind(sha256(code.as_bytes()))
            .bind(now_ms)
            .bind(now_ms + CODE_AT_MOST_MS)
            .execute(&mut *tx)
            .await?;
        if used.rows_affected() == 0 {
            sqlx::query("UPDATE bench_codes SET misses = misses + 1").execute(&mut *tx).await?;
            sqlx::query("DELETE FROM bench_codes WHERE misses >= $1").bind(CODE_MISSES).execute(&mut *tx).await?;
            committed(tx).await?;
            return Ok(None);
        }
        committed(tx).await?;
        self.begin("bench", None, about, now_ms).await.map(Some)
    }
}

impl Session {
    /// Whether it has neither been forgotten nor outlived its time. A clock that was set back ends it too, rather than
    /// letting it live for ever.
    fn is_good(&self, now_ms: i64) -> bool {
        let lives = match self.kind {
            SessionKind::Person => PERSON_MS,
            SessionKind::Bench => BENCH_MS,
        };
        let within = |from_ms: i64, long_ms: i64| from_ms - DAY_MS <= now_ms && now_ms < from_ms + long_ms;
        within(self.made_ms, lives.whole) && within(self.seen_ms, lives.idle)
    }
}

fn session(row: &AnyRow) -> Result<Session, StoreError> {
    let kind: String = row.try_get("kind")?;
    let role: Option<String> = row.try_get("role")?;
    Ok(Session {
        id: row.try_get("token")?,
        kind: if kind == "bench" { SessionKind::Bench } else { SessionKind::Person },
        person: row.try_get("name")?,
        role: role.and_then(|word| word.parse().ok()).unwrap_or(Role::Viewer),
        about: row.try_get("about")?,
        made_ms: row.try_get("made_ms")?,
        seen_ms: row.try_get("seen_ms")?,
        pin_ms: row.try_get("pin_ms")?,
    })
}
