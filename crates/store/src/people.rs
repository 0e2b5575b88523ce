//! Who may sign in, and what each may do. Passwords and PINs go in and never come out again.

use std::fmt;
use std::str::FromStr;

use sqlx::{AnyConnection, Row};

use crate::open::committed;
use crate::secret::{fits, slow_hash};
use crate::{Store, StoreError};

/// The shortest password. Length is what makes a password hard to guess; no rule about its letters does.
pub const SHORTEST_PASSWORD: usize = 12;
/// The longest, so that nobody keeps the program busy with one.
const LONGEST_PASSWORD: usize = 256;
/// The longest name: it stands in the log of edits and on sheets.
const LONGEST_NAME: usize = 40;

/// What a person may do. Each may do what the one before may.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Look.
    Viewer,
    /// Look and write.
    Mechanic,
    /// Also let people in, see who looked, hand out and erase what is kept about a person.
    Owner,
}

/// Every role, with its word.
const ROLES: [(Role, &str); 3] = [(Role::Viewer, "viewer"), (Role::Mechanic, "mechanic"), (Role::Owner, "owner")];

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = ROLES.iter().find(|(role, _)| role == self).map_or("", |(_, word)| word);
        f.write_str(word)
    }
}

impl FromStr for Role {
    type Err = PeopleError;

    fn from_str(text: &str) -> Result<Self, PeopleError> {
        let found = ROLES.iter().find(|(_, word)| *word == text);
        found.map(|(role, _)| *role).ok_or_else(|| PeopleError::NoSuchRole(text.to_owned()))
    }
}

/// Somebody who may sign in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// The name as it stands in the log of edits.
    pub name: String,
    /// What the person may do.
    pub role: Role,
    /// Whether a PIN was set, by which the person acts on a bench tablet.
    pub has_pin: bool,
    /// When the person was added.
    pub made_ms: i64,
}

/// A person was not added or changed.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PeopleError {
    /// The name cannot be kept.
    #[error("A name has 1 to {LONGEST_NAME} letters and no invisible ones.")]
    NotAName,
    /// The name is taken.
    #[error("There is a person called {0} already.")]
    Taken(String),
    /// Nobody has this name.
    #[error("There is no person called {0}. `witnessmark people list` names everybody.")]
    Nobody(String),
    /// No role has this name.
    #[error("“{0}” is no role; it is one of: owner, mechanic, viewer.")]
    NoSuchRole(String),
    /// The password is too easy to guess.
    #[error("A password has at least {SHORTEST_PASSWORD} letters, and is not the name. A few words in a row do well.")]
    WeakPassword,
    /// The PIN is none, or one of the first that anybody tries.
    #[error("A PIN has 4 to 8 digits, not all alike and not in a row.")]
    WeakPin,
    /// Without an owner nobody could let anybody in.
    #[error("{0} is the only owner. Make somebody else an owner first.")]
    LastOwner(String),
    /// The store could not do its work.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl From<sqlx::Error> for PeopleError {
    fn from(cause: sqlx::Error) -> Self {
        Self::Store(cause.into())
    }
}

impl Store {
    /// Adds a person. Refuses a name that is taken, whatever its case, and a weak password.
    pub async fn add_person(&self, name: &str, role: Role, password: &str, now_ms: i64) -> Result<(), PeopleError> {
        let name = readable_name(name)?;
        strong(name, password)?;
        let hash = slow_hash(password).await?;
        let mut tx = self.begin_writing().await?;
        let added = sqlx::query(
            "INSERT INTO people (name_key, name, role, password, pin, made_ms) VALUES ($1, $2, $3, $4, NULL, $5) \
             ON CONFLICT (name_key) DO NOTHING",
        )
        .bind(key_of(name))
        .bind(name.to_owned())
        .bind(role.to_string())
        .bind(hash)
        .bind(now_ms)
        .execute(&mut *tx)
        .await?;
        if added.rows_affected() == 0 {
            tx.rollback().await?;
            return Err(PeopleError::Taken(name.to_owned()));
        }
        committed(tx).await?;
        Ok(())
    }

    /// Everybody, by name.
    pub async fn people(&self) -> Result<Vec<Person>, StoreError> {
        let text = "SELECT name, role, pin, made_ms FROM people ORDER BY name_key";
        let rows = self.rows(|| sqlx::query(text)).await?;
        rows.iter().map(person).collect()
    }

    /// Whether anybody is an owner.
    pub async fn has_owner(&self) -> Result<bool, StoreError> {
        Ok(self.people().await?.iter().any(|person| person.role == Role::Owner))
    }

    /// Takes a person away; every browser signed in by that name is signed out. The log of edits keeps the name.
    ///
    /// Refuses the only owner.
    pub async fn remove_person(&self, name: &str) -> Result<(), PeopleError> {
        let key = key_of(name);
        let mut tx = self.begin_writing().await?;
        let outcome = async {
            not_the_last_owner(&mut tx, name).await?;
            sign_out(&mut tx, &key).await?;
            let gone = sqlx::query("DELETE FROM people WHERE name_key = $1").bind(key).execute(&mut *tx).await?;
            if gone.rows_affected() == 0 { Err(PeopleError::Nobody(name.to_owned())) } else { Ok(()) }
        }
        .await;
        match outcome {
            Ok(()) => Ok(committed(tx).await?),
            Err(refusal) => {
                let _ = tx.rollback().await;
                Err(refusal)
            }
        }
    }

    /// Sets a new password; every browser signed in by that name is signed out.
    pub async fn reset_password(&self, name: &str, password: &str) -> Result<(), PeopleError> {
        strong(name, password)?;
        let hash = slow_hash(password).await?;
        self.set("UPDATE people SET password = $2 WHERE name_key = $1", name, Some(hash), true).await
    }

    /// Sets, changes or takes away the PIN by which a person acts on a bench tablet, where the person rests from then on.
    pub async fn set_pin(&self, name: &str, pin: Option<&str>) -> Result<(), PeopleError> {
        let hash = match pin {
            Some(pin) if !is_good_pin(pin) => return Err(PeopleError::WeakPin),
            Some(pin) => Some(slow_hash(pin).await?),
            None => None,
        };
        self.set("UPDATE people SET pin = $2 WHERE name_key = $1", name, hash, false).await
    }

    async fn set(
        &self,
        text: &'static str,
        name: &str,
        hash: Option<String>,
        everywhere: bool,
    ) -> Result<(), PeopleError> {
        let key = key_of(name);
        let mut tx = self.begin_writing().await?;
        let done = sqlx::query(text).bind(key.clone()).bind(hash).execute(&mut *tx).await?;
        if done.rows_affected() == 0 {
            tx.rollback().await?;
            return Err(PeopleError::Nobody(name.to_owned()));
        }
        if everywhere {
            sign_out(&mut tx, &key).await?;
        } else {
            rest(&mut tx, &key).await?;
        }
        committed(tx).await?;
        Ok(())
    }

    /// The person whose name and password these are. An unknown name takes as long as a wrong password.
    pub async fn person_by_password(&self, name: &str, password: &str) -> Result<Option<Person>, StoreError> {
        self.by_secret(
            "SELECT name, role, pin, made_ms, password AS hash FROM people WHERE name_key = $1",
            name,
            password,
        )
        .await
    }

    /// The person whose name and PIN these are.
    pub async fn person_by_pin(&self, name: &str, pin: &str) -> Result<Option<Person>, StoreError> {
        self.by_secret("SELECT name, role, pin, made_ms, pin AS hash FROM people WHERE name_key = $1", name, pin).await
    }

    async fn by_secret(&self, text: &'static str, name: &str, secret: &str) -> Result<Option<Person>, StoreError> {
        // No name and no secret that could not be kept is looked for: the server would refuse its letters.
        let is_askable = !name.contains('\0') && secret.len() <= LONGEST_PASSWORD;
        let rows = if is_askable { self.rows(|| sqlx::query(text).bind(key_of(name))).await? } else { Vec::new() };
        let row = rows.first();
        let hash: Option<String> = match row {
            Some(row) => row.try_get("hash")?,
            None => None,
        };
        let secret = if is_askable { secret } else { "" };
        let fits = fits(secret, hash).await?;
        row.filter(|_| fits).map(person).transpose()
    }
}

fn person(row: &sqlx::any::AnyRow) -> Result<Person, StoreError> {
    let role: String = row.try_get("role")?;
    Ok(Person {
        name: row.try_get("name")?,
        // A word that nobody knows any more gives the least.
        role: role.parse().unwrap_or(Role::Viewer),
        has_pin: row.try_get::<Option<String>, _>("pin")?.is_some(),
        made_ms: row.try_get("made_ms")?,
    })
}

/// The name in the form in which no two people share it.
pub(crate) fn key_of(name: &str) -> String {
    name.trim().to_lowercase()
}

fn readable_name(name: &str) -> Result<&str, PeopleError> {
    let name = name.trim();
    let is_good = !name.is_empty() && name.chars().count() <= LONGEST_NAME && !name.chars().any(char::is_control);
    if is_good { Ok(name) } else { Err(PeopleError::NotAName) }
}

fn strong(name: &str, password: &str) -> Result<(), PeopleError> {
    let long = SHORTEST_PASSWORD <= password.chars().count() && password.len() <= LONGEST_PASSWORD;
    if long && key_of(password) != key_of(name) { Ok(()) } else { Err(PeopleError::WeakPassword) }
}

fn is_good_pin(pin: &str) -> bool {
    let digits: Vec<i16> =
        pin.chars().filter_map(|digit| digit.to_digit(10)).filter_map(|it| it.try_into().ok()).collect();
    let all_digits = digits.len() == pin.chars().count() && 4 <= digits.len() && digits.len() <= 8;
    let step = |by: i16| digits.windows(2).all(|pair| pair[1] - pair[0] == by);
    all_digits && !step(0) && !step(1) && !step(-1)
}

async fn not_the_last_owner(connection: &mut AnyConnection, name: &str) -> Result<(), PeopleError> {
    let owners: Vec<String> = sqlx::query_scalar("SELECT name_key FROM people WHERE role = $1")
        .bind(Role::Owner.to_string())
        .fetch_all(connection)
        .await?;
    match owners.as_slice() {
        [only] if *only == key_of(name) => Err(PeopleError::LastOwner(name.to_owned())),
        _ => Ok(()),
    }
}

/// Ends a person's sessions; a bench tablet on which the person acted rests.
async fn sign_out(connection: &mut AnyConnection, key: &str) -> Result<(), StoreError> {
    sqlx::query("DELETE FROM sessions WHERE kind = 'person' AND person = $1")
        .bind(key.to_owned())
        .execute(&mut *connection)
        .await?;
    rest(connection, key).await
}

/// A bench tablet on which the person acted rests.
async fn rest(connection: &mut AnyConnection, key: &str) -> Result<(), StoreError> {
    sqlx::query("UPDATE sessions SET person = NULL, pin_ms = NULL WHERE kind = 'bench' AND person = $1")
        .bind(key.to_owned())
        .execute(connection)
        .await?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_pins_that_anybody_tries_are_refused() {
        for pin in ["", "123", "1111", "1234", "9876", "12a4", "123456789", "１１１１"] {
            assert!(!is_good_pin(pin), "{pin}");
        }
        for pin in ["2580", "1357", "83017264"] {
            assert!(is_good_pin(pin), "{pin}");
        }
    }

    #[test]
    fn a_name_is_no_password() {
        assert!(strong("Anna Longname", "anna longname").is_err());
        assert!(strong("Anna", "short").is_err());
        assert!(strong("Anna", "a gate of oak").is_ok());
    }

    #[test]
    fn each_role_has_its_word() {
        for (role, word) in ROLES {
            assert_eq!(role.to_string(), word);
            assert!(word.parse::<Role>().is_ok_and(|read| read == role));
        }
        assert!("boss".parse::<Role>().is_err());
    }
}
