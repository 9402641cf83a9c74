-- The entry's own id, for good, in every file it is copied to.
ALTER TABLE journal ADD COLUMN entry TEXT;
DROP TRIGGER journal_is_not_rewritten;
UPDATE journal SET entry = lower(hex(randomblob(8))) || '-1';
CREATE TRIGGER journal_is_not_rewritten BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is only added to'); END;
ALTER TABLE journal ADD COLUMN person TEXT;
ALTER TABLE journal ADD COLUMN origin TEXT CHECK (origin IN ('command', 'mail', 'page', 'import'));
ALTER TABLE journal ADD COLUMN bed TEXT;
ALTER TABLE journal ADD COLUMN sowing TEXT;
ALTER TABLE journal ADD COLUMN about TEXT;          -- as it was called then
ALTER TABLE journal ADD COLUMN undoes TEXT;         -- the id of the entry that this one takes back
ALTER TABLE journal ADD COLUMN measure TEXT;
ALTER TABLE journal ADD COLUMN value REAL;          -- °C or mm
ALTER TABLE journal ADD COLUMN depth_m REAL;
ALTER TABLE journal ADD COLUMN modelled REAL;       -- what the model said of it then
ALTER TABLE journal ADD COLUMN clear_and_calm REAL;
ALTER TABLE journal ADD COLUMN grams REAL;
ALTER TABLE journal ADD COLUMN pieces REAL;
ALTER TABLE journal ADD COLUMN pictures TEXT;       -- names of files in pictures/, parted by spaces
CREATE UNIQUE INDEX journal_by_entry ON journal (garden, entry);
CREATE INDEX journal_by_job ON journal (garden, job) WHERE job IS NOT NULL;

-- What came in at once, what was made of it, and whether its sender was told. A source counts once, whatever it says.
CREATE TABLE answer (
    id INTEGER PRIMARY KEY,
    garden TEXT NOT NULL,
    batch TEXT NOT NULL UNIQUE,     -- the ids of its entries begin with it
    source TEXT UNIQUE,             -- a mail's Message-ID
    origin TEXT NOT NULL,
    person TEXT,
    recorded_at TEXT NOT NULL,
    understood TEXT NOT NULL,       -- a sentence a line
    asked TEXT NOT NULL,            -- what was not understood, a sentence a line
    acknowledged_at TEXT
) STRICT;
CREATE INDEX answer_open ON answer (id) WHERE acknowledged_at IS NULL;
