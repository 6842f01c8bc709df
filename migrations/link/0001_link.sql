-- What a kiosk knows of its hub. Beside the journal and not in it: with this file gone the kiosk has lost nothing but
-- its pairing. The file holds the token, so only its owner may read it.

CREATE TABLE hub (
    only        INTEGER PRIMARY KEY CHECK (only = 1),
    address     TEXT NOT NULL,
    fingerprint TEXT,
    token       TEXT NOT NULL
) STRICT;

-- What the hub has named as stored, for the screen while the hub is away. The journal is the outbox, and the hub's own
-- word is asked for at every connection: a hub restored from a backup is sent again what it lost.
CREATE TABLE sent (
    incarnation TEXT PRIMARY KEY,
    stored      INTEGER NOT NULL CHECK (stored >= 0)
) STRICT;

-- Where to go on reading the feed.
CREATE TABLE cursor (
    only  INTEGER PRIMARY KEY CHECK (only = 1),
    after INTEGER NOT NULL CHECK (after >= 0)
) STRICT;

-- Other stations' entries, in the order in which the hub gave them.
CREATE TABLE heard (
    place       INTEGER PRIMARY KEY,
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    seq         INTEGER NOT NULL CHECK (seq >= 1),
    bytes       BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 1048576),
    UNIQUE (station, incarnation, seq)
) STRICT;

CREATE TRIGGER heard_never_changes BEFORE UPDATE ON heard
BEGIN
    SELECT RAISE(ABORT, 'a journal entry never changes');
END;

CREATE TRIGGER heard_never_shrinks BEFORE DELETE ON heard
BEGIN
    SELECT RAISE(ABORT, 'a journal entry is never deleted');
END;
