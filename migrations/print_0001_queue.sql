-- The print queue, in a file of its own beside the journal: it changes many times for one label, it is written by the printer's
-- thread, and nothing in it is the shop's record. Losing it loses at most labels that have not come out.

CREATE TABLE print_job (
    -- The order in which labels were asked for.
    number INTEGER PRIMARY KEY,
    -- The visit that the label is of, and what its code says.
    visit  TEXT NOT NULL,
    code   TEXT NOT NULL,
    -- The job's name, as the printer shows it.
    name   TEXT NOT NULL,
    -- The raster, as a PNG with its resolution.
    raster BLOB NOT NULL,
    -- How far it is. Written before what cannot be taken back is done.
    phase  TEXT NOT NULL CHECK (phase IN ('waiting', 'created', 'sending', 'sent', 'in_doubt', 'printed', 'given_up')),
    -- The printer's own number for the job, from the moment that there is one.
    remote INTEGER,
    -- Whether what came of it stands in the journal, or was seen to be of no use there any more.
    settled INTEGER NOT NULL DEFAULT 0 CHECK (settled IN (0, 1)),
    CHECK ((phase IN ('created', 'sending', 'sent')) = (remote IS NOT NULL))
) STRICT;

-- A visit has one label under way at a time: pressing twice asks for one.
CREATE UNIQUE INDEX print_job_under_way ON print_job (visit)
    WHERE phase IN ('waiting', 'created', 'sending', 'sent');
