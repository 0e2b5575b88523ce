-- Who may do what, who is signed in, what was uploaded, and the ledger of who looked and who let whom in.
--
-- Both engines read this text as it stands: BIGINT, TEXT and BYTEA only (SQLite keeps bytes as bytes under any name),
-- no automatic numbers. It is numbered and never edited; a change is the next file.

-- Everybody who may sign in. No password and no PIN is kept, only its Argon2id hash.
CREATE TABLE people (
    name_key TEXT   NOT NULL PRIMARY KEY,      -- the name in small letters: two people never differ by case alone
    name     TEXT   NOT NULL,                  -- as it stands in the log of edits
    role     TEXT   NOT NULL,                  -- owner, mechanic or viewer
    password TEXT   NOT NULL,                  -- hash, with its salt and its cost
    pin      TEXT,                             -- hash; absent where the person has none
    made_ms  BIGINT NOT NULL
);

-- Every browser that is signed in. The token itself is known to that browser alone.
CREATE TABLE sessions (
    token   TEXT   NOT NULL PRIMARY KEY,       -- SHA-256 of the token
    kind    TEXT   NOT NULL,                   -- person, or bench: a tablet on which people take turns
    person  TEXT   REFERENCES people (name_key), -- who acts; nobody on a bench that rests
    about   TEXT   NOT NULL,                   -- what the browser says it is, and from where
    made_ms BIGINT NOT NULL,
    seen_ms BIGINT NOT NULL,
    pin_ms  BIGINT                             -- on a bench: when the one who acts was last seen acting
);

-- Codes by which a tablet is let in once.
CREATE TABLE bench_codes (
    code    TEXT   NOT NULL PRIMARY KEY,       -- SHA-256 of the code
    made_by TEXT   NOT NULL,
    ends_ms BIGINT NOT NULL,
    misses  BIGINT NOT NULL                    -- wrong guesses since it was made
);

-- Who looked at what, who was let in, who took what away. It grows, and nobody rewrites it.
CREATE TABLE ledger (
    seq   BIGINT NOT NULL PRIMARY KEY,
    at_ms BIGINT NOT NULL,
    who   TEXT   NOT NULL,
    did   TEXT   NOT NULL,
    what  TEXT   NOT NULL
);

-- Bytes under the SHA-256 of themselves: the same picture twice is kept once, and no name is ever a path.
CREATE TABLE blobs (
    hash  TEXT   NOT NULL PRIMARY KEY,
    kind  TEXT   NOT NULL,                     -- image/jpeg, application/pdf …, as told by the content
    size  BIGINT NOT NULL,
    bytes BYTEA  NOT NULL
);

-- What a picture or document belongs to.
CREATE TABLE uploads (
    id          TEXT   NOT NULL PRIMARY KEY,
    build_id    TEXT   NOT NULL REFERENCES builds (id),
    place       TEXT   NOT NULL,               -- the number, step or part it shows; empty for the whole bike
    note        TEXT   NOT NULL,
    hash        TEXT   NOT NULL REFERENCES blobs (hash),
    small_hash  TEXT   REFERENCES blobs (hash), -- the small picture; absent for a document
    who         TEXT   NOT NULL,
    at_ms       BIGINT NOT NULL,
    request_key TEXT   NOT NULL UNIQUE         -- a second tap finds the first one's row here
);
