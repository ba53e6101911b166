-- The history of sessions, version 1. Times are milliseconds since 1970-01-01 UTC; what is not known is NULL.

CREATE TABLE session (
    id INTEGER PRIMARY KEY,
    -- The journal's file, with what tells whether it changed since.
    path TEXT NOT NULL UNIQUE,
    size INTEGER NOT NULL,
    modified INTEGER NOT NULL,
    name TEXT NOT NULL,
    mark TEXT,
    part TEXT NOT NULL,
    title TEXT NOT NULL,
    part_serial TEXT,
    meter TEXT NOT NULL,
    meter_serial TEXT,
    job TEXT,
    technician TEXT,
    customer TEXT,
    vehicle TEXT,
    order_number TEXT,
    begun INTEGER NOT NULL,
    ended INTEGER NOT NULL,
    ending TEXT NOT NULL CHECK (ending IN ('broken-off', 'stopped', 'concluded')),
    simulated INTEGER NOT NULL,
    -- Whether it says something of what sound parts read: concluded, on a real part.
    teaches INTEGER NOT NULL,
    headline TEXT NOT NULL,
    engine TEXT NOT NULL,
    engine_version INTEGER NOT NULL,
    -- What tells one part of a kind from another: its serial number, else the vehicle, else the job, else the session.
    identity TEXT NOT NULL,
    -- All that can be searched for, in lower case.
    searched TEXT NOT NULL
);
CREATE INDEX session_by_time ON session (begun);
CREATE INDEX session_by_part ON session (part, identity, begun);
CREATE INDEX session_by_vehicle ON session (vehicle, begun);
CREATE INDEX session_by_order ON session (order_number, begun);

-- Readings as taken, withdrawn ones included.
CREATE TABLE reading (
    session INTEGER NOT NULL REFERENCES session (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    at INTEGER NOT NULL,
    circuit TEXT NOT NULL,
    station TEXT NOT NULL,
    contact TEXT NOT NULL,
    -- As shown on the display, in words: 5.401 Ω, over range.
    shown TEXT NOT NULL,
    ohms REAL,
    withdrawn INTEGER NOT NULL,
    PRIMARY KEY (session, number)
) WITHOUT ROWID;

-- What each circuit came to, at 20 °C.
CREATE TABLE figure (
    session INTEGER NOT NULL REFERENCES session (id) ON DELETE CASCADE,
    circuit TEXT NOT NULL,
    station TEXT NOT NULL,
    pin TEXT NOT NULL,
    against TEXT NOT NULL,
    kind TEXT NOT NULL,
    ohms REAL NOT NULL,
    sound INTEGER NOT NULL,
    PRIMARY KEY (session, circuit, station)
) WITHOUT ROWID;

-- Journals that cannot be read, so that they are looked at again only when they changed.
CREATE TABLE unreadable (
    path TEXT PRIMARY KEY,
    size INTEGER NOT NULL,
    modified INTEGER NOT NULL,
    why TEXT NOT NULL
) WITHOUT ROWID;
