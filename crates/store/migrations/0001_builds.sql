-- Builds as leaves, and the log they are folded from.
--
-- Both engines read this text as it stands: BIGINT and TEXT only, no automatic numbers.
-- It is numbered and never edited; a change is the next file.

CREATE TABLE builds (
    id          TEXT NOT NULL PRIMARY KEY,
    copied_from TEXT REFERENCES builds (id)
);

-- One row each time somebody changed a build: who, when, and the key of the request.
CREATE TABLE revisions (
    seq         BIGINT NOT NULL PRIMARY KEY,   -- its place in the whole log: 1, 2, 3 … without a gap
    build_id    TEXT   NOT NULL REFERENCES builds (id),
    revision    BIGINT NOT NULL,               -- its place in the build: 1 made it
    who         TEXT   NOT NULL,
    at_ms       BIGINT NOT NULL,               -- as the caller's clock had it; never used to order
    request_key TEXT   NOT NULL UNIQUE,        -- a second tap finds the first one's row here
    undoes      BIGINT,                        -- the revision of the same build that this one takes back
    UNIQUE (build_id, revision)
);

-- What a revision changed, field by field. An absent text is an absent field.
CREATE TABLE edits (
    build_id    TEXT   NOT NULL,
    revision    BIGINT NOT NULL,
    path        TEXT   NOT NULL,
    text_before TEXT,
    text_after  TEXT,
    PRIMARY KEY (build_id, revision, path),
    FOREIGN KEY (build_id, revision) REFERENCES revisions (build_id, revision)
);

-- The log folded: what each field says now.
CREATE TABLE fields (
    build_id TEXT NOT NULL REFERENCES builds (id),
    path     TEXT NOT NULL,
    text     TEXT NOT NULL,
    PRIMARY KEY (build_id, path)
);
