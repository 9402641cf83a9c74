-- Members lie with the other pulls, as the kind "ensemble". When they are a fortnight old, this is what stays of them.
CREATE TABLE member_spread (
    place TEXT NOT NULL,
    model TEXT NOT NULL,
    fetched_at TEXT NOT NULL,
    body BLOB NOT NULL,
    PRIMARY KEY (place, model, fetched_at)
) STRICT;

-- One row a year that was asked for. Without a body: the archive does not have it, and why.
CREATE TABLE past_year (
    place TEXT NOT NULL,
    year INTEGER NOT NULL,
    fetched_at TEXT NOT NULL,
    host TEXT NOT NULL,
    refusal TEXT,
    body BLOB,
    PRIMARY KEY (place, year),
    CHECK ((refusal IS NULL) <> (body IS NULL))
) STRICT;

-- What the past years tell, reckoned once so that a morning reads a few kilobytes.
CREATE TABLE climate (
    place TEXT NOT NULL,
    made_at TEXT NOT NULL,
    years INTEGER NOT NULL,
    body BLOB NOT NULL,
    PRIMARY KEY (place, made_at)
) STRICT;

-- As pull_wait is for the forecast: members and past years come from other hosts, and wait for themselves.
CREATE TABLE side_wait (
    place TEXT NOT NULL,
    kind TEXT NOT NULL,
    not_before TEXT NOT NULL,
    failures INTEGER NOT NULL,
    reason TEXT NOT NULL,
    PRIMARY KEY (place, kind)
) STRICT;
