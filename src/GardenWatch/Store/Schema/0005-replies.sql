-- Mails that came in and named a message of ours; each is acted on once.
CREATE TABLE reply_mail (
    mail TEXT PRIMARY KEY,              -- its Message-ID, or what stands for one
    fate TEXT NOT NULL CHECK (fate IN ('taken', 'forged', 'crossed', 'old', 'automatic', 'bounced', 'broken')),
    outbox INTEGER REFERENCES outbox (id),
    at TEXT NOT NULL
) STRICT;
CREATE INDEX reply_mail_by_time ON reply_mail (at);

-- How far a mailbox was looked through.
CREATE TABLE reply_folder (
    folder TEXT PRIMARY KEY,
    uid_validity INTEGER NOT NULL,
    next_uid INTEGER NOT NULL
) STRICT;

-- The last mail to each addressee that came back.
CREATE TABLE bounce (
    garden TEXT NOT NULL,
    addressee TEXT NOT NULL COLLATE NOCASE,
    at TEXT NOT NULL,
    for_good INTEGER NOT NULL,
    reason TEXT NOT NULL,
    PRIMARY KEY (garden, addressee)
) STRICT;

-- Who asked for no more messages.
CREATE TABLE stopped (
    garden TEXT NOT NULL,
    addressee TEXT NOT NULL COLLATE NOCASE,
    at TEXT NOT NULL,
    PRIMARY KEY (garden, addressee)
) STRICT;

CREATE INDEX outbox_by_message_id ON outbox (message_id);
