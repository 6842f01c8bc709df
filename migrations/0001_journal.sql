-- The journal and what stands beside it. Numbered, and never edited once released.
--
-- The triggers below stop accidents: a slip at a console, a bug of ours. Whoever can write the file can also drop
-- them; what shows that is the signed head, and above all a head kept by another machine.

-- The truth: the exact bytes that were hashed, and nothing that could be read out of them. A second copy of a
-- date or a unit in a column of its own would be a second truth, and the one that is not signed.
-- The limit is far above any event's size; an entry beyond it is a fault of ours and must not fill the disk.
CREATE TABLE journal (
    seq  INTEGER PRIMARY KEY,
    leaf BLOB NOT NULL CHECK (length(leaf) BETWEEN 1 AND 1048576)
) STRICT;

-- Without this guard INSERT OR REPLACE would delete the old row unseen by the DELETE trigger wherever a
-- connection has recursive_triggers off, which is SQLite's default. It also makes gaps impossible.
CREATE TRIGGER journal_grows_by_one BEFORE INSERT ON journal
WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM journal)
BEGIN
    SELECT RAISE(ABORT, 'the journal only grows, by one');
END;

CREATE TRIGGER journal_never_changes BEFORE UPDATE ON journal
BEGIN
    SELECT RAISE(ABORT, 'a journal entry never changes');
END;

CREATE TRIGGER journal_never_shrinks BEFORE DELETE ON journal
BEGIN
    SELECT RAISE(ABORT, 'a journal entry is never deleted');
END;

-- The hash of every complete subtree of the RFC 6962 tree; level 0 are the entries themselves (index = seq - 1).
-- About 90 bytes an entry buy three things: the kiosk starts by reading one row for each binary 1 of the size
-- instead of hashing a million entries; a proof for the hub or for an inspector costs as little; and a changed
-- entry is told by its number even when a thousand were signed at once.
CREATE TABLE node (
    level INTEGER NOT NULL CHECK (level BETWEEN 0 AND 62),
    idx   INTEGER NOT NULL CHECK (idx >= 0),
    hash  BLOB NOT NULL CHECK (length(hash) = 32),
    PRIMARY KEY (level, idx)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER node_is_new BEFORE INSERT ON node
WHEN EXISTS (SELECT 1 FROM node WHERE level = NEW.level AND idx = NEW.idx)
BEGIN
    SELECT RAISE(ABORT, 'a complete subtree never changes');
END;

CREATE TRIGGER node_never_changes BEFORE UPDATE ON node
BEGIN
    SELECT RAISE(ABORT, 'a complete subtree never changes');
END;

CREATE TRIGGER node_never_shrinks BEFORE DELETE ON node
BEGIN
    SELECT RAISE(ABORT, 'a complete subtree is never deleted');
END;

-- Every head that was ever signed, one for each transaction, made inside that transaction. All are kept: between
-- two heads lie only the entries of one transaction, so that verification can name what was altered even when
-- the hashes above were made to fit. Kept is the signature, not the note: the note's text follows from origin,
-- size, root and key, and a head costs about 110 bytes, well below what an entry itself takes.
-- The price: whoever cuts the file can cut back to an older head that is rightly signed. Keeping only the newest
-- would not prevent that, since every old copy of the file holds an older head; a head kept elsewhere does.
CREATE TABLE checkpoint (
    size      INTEGER PRIMARY KEY CHECK (size >= 0),
    root      BLOB NOT NULL CHECK (length(root) = 32),
    signature BLOB NOT NULL CHECK (length(signature) = 64)
) STRICT;

-- A head of any other size than the journal's would vouch for entries that are not there.
CREATE TRIGGER checkpoint_is_of_the_journal BEFORE INSERT ON checkpoint
WHEN NEW.size IS NOT (SELECT coalesce(max(seq), 0) FROM journal)
  OR NEW.size <= (SELECT coalesce(max(size), -1) FROM checkpoint)
BEGIN
    SELECT RAISE(ABORT, 'a head is signed once, for the journal as it is');
END;

CREATE TRIGGER checkpoint_never_changes BEFORE UPDATE ON checkpoint
BEGIN
    SELECT RAISE(ABORT, 'a signed head never changes');
END;

CREATE TRIGGER checkpoint_never_shrinks BEFORE DELETE ON checkpoint
BEGIN
    SELECT RAISE(ABORT, 'a signed head is never deleted');
END;

-- Which log this is. One row: another station, or this one after a restore, is another log with another origin,
-- and names the incarnation that it continues.
CREATE TABLE station (
    only        INTEGER PRIMARY KEY CHECK (only = 1),
    station     TEXT NOT NULL,
    incarnation TEXT NOT NULL,
    parent      TEXT,
    origin      TEXT NOT NULL,
    public_key  BLOB NOT NULL CHECK (length(public_key) = 32)
) STRICT;

CREATE TRIGGER station_is_one BEFORE INSERT ON station
WHEN EXISTS (SELECT 1 FROM station)
BEGIN
    SELECT RAISE(ABORT, 'a log belongs to one station');
END;

CREATE TRIGGER station_never_changes BEFORE UPDATE ON station
BEGIN
    SELECT RAISE(ABORT, 'a log stays with its station');
END;

CREATE TRIGGER station_never_goes BEFORE DELETE ON station
BEGIN
    SELECT RAISE(ABORT, 'a log stays with its station');
END;

-- Which entries belong to which visit, so that an open visit is replayed without reading the journal from its
-- beginning. An index, not a truth: it says nothing that the entry does not say.
CREATE TABLE visit_entry (
    visit TEXT NOT NULL,
    seq   INTEGER NOT NULL REFERENCES journal (seq),
    PRIMARY KEY (visit, seq)
) STRICT, WITHOUT ROWID;

-- Unit cards, open visits and whatever else is worked out from the journal. May be emptied and rebuilt at any
-- time, so its form needs no migration. `seq` is the entry that the text was last worked out from.
CREATE TABLE derived (
    kind TEXT NOT NULL,
    key  TEXT NOT NULL,
    body TEXT NOT NULL,
    seq  INTEGER NOT NULL REFERENCES journal (seq),
    PRIMARY KEY (kind, key)
) STRICT, WITHOUT ROWID;
