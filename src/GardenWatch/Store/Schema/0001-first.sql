-- Instants are text, UTC, always yyyy-mm-ddThh:mm:ss.fffZ: the owner can read them, and they sort as they follow.
-- Local dates are yyyy-mm-dd.
PRAGMA application_id = 1196901192; -- "GWCH"

CREATE TABLE pull (
    id INTEGER PRIMARY KEY,
    place TEXT NOT NULL,
    kind TEXT NOT NULL,
    fetched_at TEXT NOT NULL,
    starts_at TEXT NOT NULL,
    hours INTEGER NOT NULL,
    host TEXT NOT NULL,
    models TEXT NOT NULL,
    body BLOB NOT NULL,             -- last, so that lists of headers never touch its pages
    UNIQUE (place, kind, models, fetched_at)
) STRICT;

CREATE TABLE pull_wait (
    place TEXT PRIMARY KEY,
    not_before TEXT NOT NULL,
    failures INTEGER NOT NULL,
    reason TEXT NOT NULL
) STRICT;

CREATE TABLE place (
    key TEXT PRIMARY KEY,
    latitude REAL NOT NULL,
    longitude REAL NOT NULL,
    elevation REAL NOT NULL,
    zone TEXT NOT NULL,
    found_at TEXT NOT NULL
) STRICT;

CREATE TABLE subject (
    garden TEXT NOT NULL,
    id TEXT NOT NULL,
    kind TEXT NOT NULL,
    descriptor TEXT NOT NULL,
    first_seen TEXT NOT NULL,
    PRIMARY KEY (garden, id)
) STRICT;

CREATE TABLE journal (
    id INTEGER PRIMARY KEY,
    garden TEXT NOT NULL,
    kind TEXT NOT NULL,
    date TEXT NOT NULL,
    recorded_at TEXT NOT NULL,
    job TEXT,
    subject TEXT,
    until TEXT,
    text TEXT,
    source TEXT UNIQUE              -- what brought it (a reply's Message-ID and line), so that it counts once
) STRICT;
CREATE INDEX journal_by_garden ON journal (garden, recorded_at);
CREATE TRIGGER journal_is_not_rewritten BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
CREATE TRIGGER journal_is_not_torn BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;

CREATE TABLE outbox (
    id INTEGER PRIMARY KEY,
    garden TEXT NOT NULL,
    addressee TEXT NOT NULL COLLATE NOCASE,
    kind TEXT NOT NULL,
    occasion TEXT NOT NULL,
    message_id TEXT NOT NULL,
    subject TEXT NOT NULL,
    created_at TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    urgent INTEGER NOT NULL,
    fallback_for INTEGER REFERENCES outbox (id),
    state TEXT NOT NULL CHECK (state IN
        ('pending', 'sending', 'sent', 'refused', 'in doubt', 'expired', 'skipped', 'set aside')),
    tries INTEGER NOT NULL DEFAULT 0,
    doubts INTEGER NOT NULL DEFAULT 0,
    next_try_at TEXT,               -- null: not tried again
    ended_at TEXT,
    last_reply TEXT,
    jobs TEXT NOT NULL,             -- "1=job id" lines: what "done 1" means
    bytes BLOB NOT NULL,
    UNIQUE (garden, addressee, kind, occasion)
) STRICT;
CREATE INDEX outbox_open ON outbox (state) WHERE state IN ('pending', 'sending', 'in doubt');

-- What was done and left no message: an evening look that found nothing, a digest skipped, a backup made.
CREATE TABLE ledger (
    garden TEXT NOT NULL,
    kind TEXT NOT NULL,
    occasion TEXT NOT NULL,
    at TEXT NOT NULL,
    PRIMARY KEY (garden, kind, occasion)
) STRICT;

-- What each message told of a job, or of a sowing's stage (then the standing is the stage's word).
CREATE TABLE last_said (
    id INTEGER PRIMARY KEY,
    garden TEXT NOT NULL,
    about TEXT NOT NULL CHECK (about IN ('job', 'sowing')),
    subject TEXT NOT NULL,
    standing TEXT NOT NULL,
    value REAL,
    said_on TEXT NOT NULL,
    said_at TEXT NOT NULL,
    UNIQUE (garden, about, subject, said_at)
) STRICT;

-- The last text of each plan file that could be used, so that a broken edit does not end the service at its next start.
CREATE TABLE plan_text (
    path TEXT PRIMARY KEY,
    text TEXT NOT NULL,
    taken_at TEXT NOT NULL
) STRICT;

-- Rows stamped by a clock that ran ahead. Kept to be looked at, never obeyed, also when their time comes.
CREATE TABLE set_aside (
    subject TEXT NOT NULL,
    row INTEGER NOT NULL,
    found_at TEXT NOT NULL,
    PRIMARY KEY (subject, row)
) STRICT;
