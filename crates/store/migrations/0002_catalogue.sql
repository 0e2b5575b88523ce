-- The catalogue: parts kept once, every version of each, how many lie on the shelf, and who changed what.
--
-- Both engines read this text as it stands: BIGINT and TEXT only, no automatic numbers.
-- It is numbered and never edited; a change is the next file.

-- One row for each import or edit of the catalogue.
CREATE TABLE catalogue_changes (
    seq    BIGINT NOT NULL PRIMARY KEY,        -- its place in the catalogue's log: 1, 2, 3 … without a gap
    who    TEXT   NOT NULL,
    at_ms  BIGINT NOT NULL,                    -- as the caller's clock had it; never used to order
    source TEXT   NOT NULL                     -- the file it came from, or where it was typed
);

-- The two logs below folded: what each part is now.
CREATE TABLE catalogue_parts (
    kind    TEXT   NOT NULL,
    part    TEXT   NOT NULL,
    version BIGINT NOT NULL,                   -- its newest version
    stock   BIGINT,                            -- absent where nobody counts
    PRIMARY KEY (kind, part)
);

-- Every version of every part: 1, 2, 3 … without a gap, and none is ever changed.
CREATE TABLE catalogue_versions (
    kind       TEXT   NOT NULL,
    part       TEXT   NOT NULL,
    version    BIGINT NOT NULL,
    change_seq BIGINT NOT NULL REFERENCES catalogue_changes (seq),
    facts      TEXT   NOT NULL,                -- a fact a line: key, tab, text as typed
    PRIMARY KEY (kind, part, version),
    FOREIGN KEY (kind, part) REFERENCES catalogue_parts (kind, part)
);

-- Each time the number on the shelf was said.
CREATE TABLE catalogue_stock (
    kind       TEXT   NOT NULL,
    part       TEXT   NOT NULL,
    change_seq BIGINT NOT NULL REFERENCES catalogue_changes (seq),
    stock      BIGINT,
    PRIMARY KEY (kind, part, change_seq),
    FOREIGN KEY (kind, part) REFERENCES catalogue_parts (kind, part)
);
