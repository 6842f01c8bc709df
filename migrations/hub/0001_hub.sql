-- What the hub keeps. Numbered by itself, apart from the kiosk's journal, and never edited once released.
--
-- The triggers stop accidents, as in the kiosk's file. What shows a change is the station's signed head, which the
-- hub keeps here and the station keeps too.

-- A kiosk that was paired. Its id follows from its key, so the same card is the same station however often it pairs.
-- The token is kept as a hash: a stolen copy of this file lets nobody in.
CREATE TABLE station (
    station    TEXT PRIMARY KEY,
    name       TEXT NOT NULL,
    public_key BLOB NOT NULL CHECK (length(public_key) = 32),
    token_hash BLOB NOT NULL UNIQUE CHECK (length(token_hash) = 32),
    paired_ms  INTEGER NOT NULL,
    revoked_ms INTEGER
) STRICT;

-- Codes that pair a kiosk once. A wrong try is counted against every open code: it does not say which it meant.
CREATE TABLE pairing_code (
    code_hash  BLOB PRIMARY KEY CHECK (length(code_hash) = 32),
    expires_ms INTEGER NOT NULL,
    tries_left INTEGER NOT NULL,
    used_by    TEXT REFERENCES station (station)
) STRICT, WITHOUT ROWID;

-- One journal: a station and its incarnation. `stored` entries are here; the frontier (32 bytes for each 1 in the
-- binary number) is what the tree over them needs to grow. `vouched`, `root` and `note` are the newest signed head
-- that was taken: a witness keeps it before it answers. A head may be ahead of the entries while a backlog comes in.
CREATE TABLE log (
    station      TEXT NOT NULL REFERENCES station (station),
    incarnation  TEXT NOT NULL,
    stored       INTEGER NOT NULL CHECK (stored >= 0),
    frontier     BLOB NOT NULL CHECK (length(frontier) % 32 = 0),
    vouched      INTEGER NOT NULL CHECK (vouched >= stored),
    root         BLOB NOT NULL CHECK (length(root) = 32),
    note         TEXT NOT NULL,
    heard_ms     INTEGER NOT NULL,
    clock_off_ms INTEGER,
    worked_out   INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (station, incarnation)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER log_only_grows BEFORE UPDATE ON log
WHEN NEW.stored < OLD.stored OR NEW.vouched < OLD.vouched
BEGIN
    SELECT RAISE(ABORT, 'a log only grows');
END;

CREATE TRIGGER log_never_goes BEFORE DELETE ON log
BEGIN
    SELECT RAISE(ABORT, 'a log is never forgotten');
END;

-- Every entry of every station, as the exact bytes that the station hashed. `feed` is the order in which readers are
-- given them. One writer at a time makes it the order of commits too, so that no reader's cursor passes an entry that
-- is still being written; a store with several writers must see to that by itself. `held` says why an entry that is
-- in the tree is not passed on: a copy with its reason stands in quarantine.
CREATE TABLE event (
    feed        INTEGER PRIMARY KEY AUTOINCREMENT,
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    seq         INTEGER NOT NULL CHECK (seq >= 1),
    hash        BLOB NOT NULL CHECK (length(hash) = 32),
    bytes       BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 1048576),
    held        INTEGER NOT NULL CHECK (held IN (0, 1)),
    UNIQUE (station, incarnation, seq),
    FOREIGN KEY (station, incarnation) REFERENCES log (station, incarnation) DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE TRIGGER event_grows_by_one BEFORE INSERT ON event
WHEN NEW.seq IS NOT (
    SELECT coalesce(max(seq), 0) + 1 FROM event WHERE station = NEW.station AND incarnation = NEW.incarnation
)
BEGIN
    SELECT RAISE(ABORT, 'a journal only grows, by one');
END;

CREATE TRIGGER event_never_changes BEFORE UPDATE ON event
BEGIN
    SELECT RAISE(ABORT, 'a journal entry never changes');
END;

CREATE TRIGGER event_never_shrinks BEFORE DELETE ON event
BEGIN
    SELECT RAISE(ABORT, 'a journal entry is never deleted');
END;

-- What was offered and not taken, or taken into the tree and not understood, until somebody has looked at it.
CREATE TABLE quarantine (
    id          INTEGER PRIMARY KEY,
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    seq         INTEGER NOT NULL,
    hash        BLOB NOT NULL,
    bytes       BLOB NOT NULL,
    reason      TEXT NOT NULL,
    at_ms       INTEGER NOT NULL,
    UNIQUE (station, incarnation, seq, hash)
) STRICT;

-- What a witness cries out. The same alarm again is counted, not written again: a kiosk keeps trying.
CREATE TABLE alarm (
    id          INTEGER PRIMARY KEY,
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    alarm       TEXT NOT NULL,
    note        TEXT NOT NULL,
    first_ms    INTEGER NOT NULL,
    last_ms     INTEGER NOT NULL,
    times       INTEGER NOT NULL DEFAULT 1,
    UNIQUE (station, incarnation, alarm)
) STRICT;

-- Unit cards, open visits and the rest of what each journal says, worked out by the same code as at the bench. May be
-- emptied and worked out again. `feed` is the entry that changed it last: between stations it is the order.
CREATE TABLE derived (
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    kind        TEXT NOT NULL,
    key         TEXT NOT NULL,
    body        TEXT NOT NULL,
    feed        INTEGER NOT NULL,
    PRIMARY KEY (station, incarnation, kind, key)
) STRICT, WITHOUT ROWID;

CREATE INDEX derived_by_key ON derived (kind, key, feed);
