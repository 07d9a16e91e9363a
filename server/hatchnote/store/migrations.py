"""The schema, as the ordered steps that lead to it. A step that was released is never edited; add another.

Times are Unix seconds (REAL), days are YYYY-MM-DD, JSON columns are compact UTF-8 text, `body`-like BLOB
columns are zlib-packed JSON.
"""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sqlite_utils import Database as MigratedDatabase
    from sqlite_utils.migrations import Migrations

_ACCOUNTS = """
CREATE TABLE users (
    id TEXT PRIMARY KEY, name TEXT NOT NULL UNIQUE COLLATE NOCASE, full_name TEXT,
    role TEXT NOT NULL CHECK (role IN ('technician', 'office', 'administrator')),
    password TEXT, active INTEGER NOT NULL DEFAULT 1, created_at REAL NOT NULL);
CREATE TABLE sessions (
    token_sha256 TEXT PRIMARY KEY, id TEXT NOT NULL UNIQUE, user_id TEXT NOT NULL REFERENCES users (id),
    csrf TEXT NOT NULL, device TEXT, created_at REAL NOT NULL, seen_at REAL NOT NULL,
    expires_at REAL NOT NULL, ended_at REAL);
CREATE INDEX sessions_user ON sessions (user_id);
CREATE TABLE pairings (
    code_sha256 TEXT PRIMARY KEY, user_id TEXT NOT NULL REFERENCES users (id),
    made_by TEXT NOT NULL REFERENCES users (id), expires_at REAL NOT NULL, claimed_at REAL);
CREATE TABLE sign_in_failures (who TEXT PRIMARY KEY, count INTEGER NOT NULL, until REAL NOT NULL);
"""

_PLACES = """
CREATE TABLE sites (
    id TEXT PRIMARY KEY, name TEXT NOT NULL UNIQUE COLLATE NOCASE, altitude_ft REAL, address TEXT,
    updated_at REAL NOT NULL);
CREATE TABLE equipment (
    site_id TEXT NOT NULL REFERENCES sites (id), tag TEXT NOT NULL COLLATE NOCASE,
    nicknames TEXT NOT NULL DEFAULT '[]', nameplate TEXT NOT NULL DEFAULT '{}', updated_at REAL NOT NULL,
    PRIMARY KEY (site_id, tag)) WITHOUT ROWID;
CREATE TABLE visits (
    id TEXT PRIMARY KEY, site_id TEXT NOT NULL REFERENCES sites (id), date TEXT NOT NULL,
    technician_id TEXT NOT NULL REFERENCES users (id), created_at REAL NOT NULL);
CREATE INDEX visits_day ON visits (date, technician_id);
"""

_TICKETS = """
CREATE TABLE tickets (
    seq INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE REFERENCES visits (id),
    status TEXT NOT NULL DEFAULT 'draft' CHECK (status IN ('draft', 'checked', 'approved', 'returned')),
    revision INTEGER NOT NULL DEFAULT 0, site_id TEXT NOT NULL REFERENCES sites (id), date TEXT NOT NULL,
    technician_id TEXT NOT NULL REFERENCES users (id), note TEXT, digest TEXT, approved_at REAL,
    checks INTEGER NOT NULL DEFAULT 0, missing INTEGER NOT NULL DEFAULT 0,
    machines INTEGER NOT NULL DEFAULT 0, created_at REAL NOT NULL, updated_at REAL NOT NULL);
CREATE INDEX tickets_date ON tickets (date, seq);
CREATE INDEX tickets_status ON tickets (status, date, seq);
CREATE INDEX tickets_site ON tickets (site_id, date, seq);
CREATE INDEX tickets_technician ON tickets (technician_id, date, seq);
CREATE INDEX tickets_checks ON tickets (checks, seq);
CREATE INDEX tickets_missing ON tickets (missing, seq);
CREATE TABLE revisions (
    ticket_id TEXT NOT NULL REFERENCES tickets (id), revision INTEGER NOT NULL, status TEXT NOT NULL,
    at REAL NOT NULL, who TEXT REFERENCES users (id), why TEXT NOT NULL, sha256 TEXT NOT NULL,
    body BLOB NOT NULL, PRIMARY KEY (ticket_id, revision));
CREATE TABLE changes (
    seq INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, ticket_id TEXT NOT NULL REFERENCES tickets (id),
    revision INTEGER NOT NULL, at TEXT NOT NULL, received_at REAL NOT NULL,
    who TEXT REFERENCES users (id), op TEXT NOT NULL, kind TEXT NOT NULL, item TEXT, field TEXT,
    before TEXT, after TEXT, was TEXT);
CREATE INDEX changes_ticket ON changes (ticket_id, seq);
CREATE INDEX changes_corrections ON changes (received_at) WHERE kind = 'reading' AND op = 'set';
CREATE TABLE readings (
    ticket_id TEXT NOT NULL REFERENCES tickets (id), item TEXT NOT NULL, site_id TEXT NOT NULL,
    tag TEXT COLLATE NOCASE, point TEXT NOT NULL, component TEXT, number TEXT, legs TEXT, stage TEXT,
    circuit TEXT, position TEXT, basis TEXT NOT NULL, moment TEXT, value REAL, unit TEXT, ucum TEXT,
    text TEXT, marked INTEGER NOT NULL, date TEXT NOT NULL, PRIMARY KEY (ticket_id, item)) WITHOUT ROWID;
CREATE INDEX readings_machine ON readings (site_id, tag, point, date);
CREATE VIRTUAL TABLE ticket_search USING fts5 (
    words, tags, parts, site, technician, facets, tokenize = "unicode61 remove_diacritics 2 tokenchars '-_'",
    detail = column);
"""

_SOUND = """
CREATE TABLE recordings (
    id TEXT PRIMARY KEY, ticket_id TEXT NOT NULL REFERENCES tickets (id),
    technician_id TEXT NOT NULL REFERENCES users (id), started_at TEXT NOT NULL,
    finished INTEGER NOT NULL DEFAULT 0, settings TEXT NOT NULL DEFAULT '{}',
    marks TEXT NOT NULL DEFAULT '[]', duration_s REAL, sound_sha256 TEXT, sound_mime TEXT,
    words_so_far TEXT NOT NULL DEFAULT '', created_at REAL NOT NULL);
CREATE INDEX recordings_ticket ON recordings (ticket_id, started_at);
CREATE TABLE segments (
    id TEXT PRIMARY KEY, recording_id TEXT NOT NULL REFERENCES recordings (id), seq INTEGER NOT NULL,
    bytes INTEGER, sha256 TEXT, mime TEXT, blob_sha256 TEXT, received_at REAL,
    UNIQUE (recording_id, seq));
CREATE TABLE notes (
    id TEXT PRIMARY KEY, ticket_id TEXT NOT NULL REFERENCES tickets (id),
    user_id TEXT NOT NULL REFERENCES users (id), text TEXT NOT NULL, at TEXT NOT NULL,
    created_at REAL NOT NULL);
CREATE INDEX notes_ticket ON notes (ticket_id);
CREATE TABLE hearings (
    seq INTEGER PRIMARY KEY, source_id TEXT NOT NULL, ticket_id TEXT NOT NULL REFERENCES tickets (id),
    spoken_at TEXT NOT NULL, heard_at REAL NOT NULL, key TEXT NOT NULL, listened_s REAL,
    transcript BLOB NOT NULL, facts BLOB NOT NULL, UNIQUE (source_id, key));
CREATE INDEX hearings_ticket ON hearings (ticket_id, seq);
CREATE TABLE photos (
    id TEXT PRIMARY KEY, ticket_id TEXT NOT NULL REFERENCES tickets (id),
    user_id TEXT NOT NULL REFERENCES users (id), sha256 TEXT NOT NULL, name TEXT NOT NULL,
    mime TEXT NOT NULL, bytes INTEGER NOT NULL, width INTEGER NOT NULL, height INTEGER NOT NULL,
    taken_at TEXT, recording_id TEXT, at_s REAL, caption TEXT, thumb_sha256 TEXT NOT NULL,
    shown_sha256 TEXT, received_at REAL NOT NULL);
CREATE INDEX photos_ticket ON photos (ticket_id);
CREATE TABLE uploads (
    id TEXT PRIMARY KEY, user_id TEXT NOT NULL REFERENCES users (id), kind TEXT NOT NULL, ref TEXT NOT NULL,
    recording_id TEXT, seq INTEGER, sha256 TEXT, length INTEGER, offset INTEGER NOT NULL DEFAULT 0,
    raw_metadata TEXT NOT NULL, metadata TEXT NOT NULL, state TEXT NOT NULL DEFAULT 'open',
    refused TEXT, created_at REAL NOT NULL, expires_at REAL NOT NULL);
CREATE INDEX uploads_ref ON uploads (ref);
CREATE INDEX uploads_recording ON uploads (recording_id) WHERE recording_id IS NOT NULL;
"""

_JOBS = """
CREATE TABLE jobs (
    id TEXT PRIMARY KEY, kind TEXT NOT NULL, ref TEXT NOT NULL, owner TEXT NOT NULL, visit_date TEXT NOT NULL,
    key TEXT NOT NULL, payload TEXT NOT NULL DEFAULT '{}',
    state TEXT NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'running', 'done', 'set-aside')),
    tries INTEGER NOT NULL DEFAULT 0, not_before REAL NOT NULL DEFAULT 0, lease TEXT, lease_until REAL,
    worker TEXT, progress REAL NOT NULL DEFAULT 0, seconds REAL NOT NULL DEFAULT 0, error TEXT,
    created_at REAL NOT NULL, started_at REAL, ended_at REAL, UNIQUE (kind, ref));
CREATE INDEX jobs_open ON jobs (state, owner) WHERE state IN ('waiting', 'running');
CREATE TABLE turns (owner TEXT PRIMARY KEY, at REAL NOT NULL);
CREATE TABLE figures (name TEXT PRIMARY KEY, value REAL NOT NULL);
"""


_WORKLIST = """
CREATE INDEX tickets_status_checks ON tickets (status, checks, seq);
CREATE INDEX tickets_status_missing ON tickets (status, missing, seq);
CREATE INDEX tickets_technician_checks ON tickets (technician_id, checks, seq);
CREATE INDEX tickets_technician_missing ON tickets (technician_id, missing, seq);
CREATE INDEX tickets_technician_status ON tickets (technician_id, status, date, seq);
CREATE INDEX tickets_site_checks ON tickets (site_id, checks, seq);
CREATE INDEX tickets_site_missing ON tickets (site_id, missing, seq);
"""

_TOGETHER = """
CREATE TABLE read_together (
    key TEXT PRIMARY KEY, ticket_id TEXT NOT NULL REFERENCES tickets (id), read_at REAL NOT NULL,
    facts BLOB NOT NULL, followed_by TEXT NOT NULL);
CREATE INDEX changes_taken_back ON changes (after) WHERE op = 'back';
"""

_DAYS = """
UPDATE ticket_search SET facets = facets || ' year_' || substr(date, 1, 4)
    || ' month_' || replace(substr(date, 1, 7), '-', '') || ' day_' || replace(date, '-', '')
    FROM tickets WHERE tickets.seq = ticket_search.rowid;
"""

_LET_GO = """
ALTER TABLE segments ADD COLUMN let_go_at REAL;
"""

_FORMERLY = """
CREATE TABLE former_technicians (
    visit_id TEXT NOT NULL REFERENCES visits (id), user_id TEXT NOT NULL REFERENCES users (id), until REAL NOT NULL,
    PRIMARY KEY (visit_id, user_id)) WITHOUT ROWID;
"""

STEPS: dict[str, str] = {
    "m001_accounts": _ACCOUNTS,
    "m002_places": _PLACES,
    "m003_tickets": _TICKETS,
    "m004_sound": _SOUND,
    "m005_jobs": _JOBS,
    "m006_worklist": _WORKLIST,
    "m007_together": _TOGETHER,
    "m008_days": _DAYS,
    "m009_let_go": _LET_GO,
    "m010_formerly": _FORMERLY,
}
"""Name → statements, in order."""


def applied(connection: sqlite3.Connection) -> list[str]:
    """The steps this file has been through, read without loading anything that writes."""
    try:
        rows = connection.execute(
            "SELECT name FROM _sqlite_migrations WHERE migration_set = 'hatchnote' ORDER BY id"
        ).fetchall()
    except sqlite3.OperationalError:
        return []
    return [row["name"] if isinstance(row, dict) else row[0] for row in rows]


def bring_up_to_date(connection: sqlite3.Connection) -> None:
    """Apply every step that this file does not have yet. Two processes starting at once take turns.

    A file that is up to date is left alone without loading sqlite-utils, which brings numpy with it.
    """
    if applied(connection) == list(STEPS):
        return
    from sqlite_utils import Database as MigratedDatabase

    factory: Any = connection.row_factory
    connection.row_factory = None
    connection.execute("BEGIN IMMEDIATE")
    try:
        migrations().apply(MigratedDatabase(connection, recursive_triggers=False, execute_plugins=False))
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    finally:
        connection.row_factory = factory


def migrations() -> Migrations:
    """The steps as sqlite-utils migrations."""
    from sqlite_utils.migrations import Migrations

    found = Migrations("hatchnote")
    for name, script in STEPS.items():
        found(name=name)(_step(script))
    return found


def _step(script: str) -> Any:
    def run(db: MigratedDatabase) -> None:
        # executescript would commit the migration's own transaction; one by one the statements stay inside it.
        for statement in script.split(";\n"):
            if statement.strip():
                db.execute(statement)

    return run
