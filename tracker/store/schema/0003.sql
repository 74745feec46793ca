-- Visits: from the first thing that comes off to the last that is back on. And ways to mend, offered to choose from.

CREATE TABLE visit (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    began_at TEXT NOT NULL,
    ended_at TEXT,
    why TEXT NOT NULL,
    by TEXT NOT NULL
) STRICT;

CREATE INDEX visit_by_card ON visit (card);

ALTER TABLE opened ADD COLUMN visit INTEGER REFERENCES visit (id);

CREATE INDEX opened_by_visit ON opened (visit);

CREATE TABLE way (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    token TEXT NOT NULL UNIQUE,
    version INTEGER NOT NULL CHECK (version > 0),
    card INTEGER NOT NULL REFERENCES card (id),
    name TEXT NOT NULL,
    repairs TEXT NOT NULL CHECK (json_valid(repairs)),
    words TEXT NOT NULL CHECK (json_valid(words)),
    currency TEXT NOT NULL,
    expected_min INTEGER NOT NULL,
    low_min INTEGER NOT NULL,
    high_min INTEGER NOT NULL,
    total_minor INTEGER NOT NULL,
    high_total_minor INTEGER NOT NULL,
    more_minor INTEGER NOT NULL,
    offered_on TEXT NOT NULL,
    chosen_on TEXT,
    chosen_by TEXT NOT NULL,
    estimate INTEGER REFERENCES estimate (id),
    planned TEXT NOT NULL CHECK (json_valid(planned)),
    withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
    by TEXT NOT NULL,
    at TEXT NOT NULL
) STRICT;

CREATE INDEX way_by_card ON way (card);

CREATE INDEX way_by_estimate ON way (estimate);
