-- What nobody may guess; made once.
CREATE TABLE secret (
    name TEXT PRIMARY KEY,
    body BLOB NOT NULL
) STRICT;

-- How a calendar's entry was last told, so that programs that read it know what changed.
CREATE TABLE calendar_entry (
    garden TEXT NOT NULL,
    key TEXT NOT NULL,
    hours TEXT NOT NULL,
    tentative INTEGER NOT NULL,
    told TEXT NOT NULL,
    sequence INTEGER NOT NULL,
    modified_at TEXT NOT NULL,
    PRIMARY KEY (garden, key)
) STRICT;
