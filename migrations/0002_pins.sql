-- What a typed PIN is compared with. A table of its own and no part of the journal: an entry stands for ever and goes to
-- the hub, to witnesses and to inspectors, and a hash of four digits is worth hiding from all of them.
--
-- It is not `derived` either: it cannot be worked out again from the journal, so emptying and rebuilding what is derived
-- must leave it alone. How often somebody was wrong, and whether a badge is locked, does follow from the journal.
--
-- `hash` is a PHC string of argon2id: its parameters and its salt stand in it, so that a later version may hash dearer and
-- still check what an earlier one wrote. The pepper does not stand here; it lies in a file beside this one.
CREATE TABLE pin (
    badge TEXT PRIMARY KEY CHECK (length(badge) BETWEEN 1 AND 64),
    hash  TEXT NOT NULL CHECK (hash LIKE '$argon2id$%' AND length(hash) < 512)
) STRICT, WITHOUT ROWID;
