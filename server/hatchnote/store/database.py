"""One SQLite file, opened so that what was acknowledged survives a power cut.

WAL, `synchronous=FULL` (the log is flushed at every commit), foreign keys on. Writers take the write lock
first (BEGIN IMMEDIATE): a deferred transaction that has read may not be able to write any more.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from hatchnote.errors import HatchnoteError, NoRoom

Row = dict[str, Any]
Parameters = Sequence[Any] | Mapping[str, Any]
BUSY_MS = 15_000


class Database:
    """Connections to one file, one a thread. Safe to share between threads, not between processes by fork."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._local = threading.local()
        self._all: list[sqlite3.Connection] = []
        self._lock = threading.Lock()

    @property
    def connection(self) -> sqlite3.Connection:
        """This thread's connection."""
        connection: sqlite3.Connection | None = getattr(self._local, "connection", None)
        if connection is None:
            connection = self._open()
            self._local.connection = connection
            with self._lock:
                self._all.append(connection)
        return connection

    def _open(self) -> sqlite3.Connection:
        try:
            connection = sqlite3.connect(
                self.path, timeout=BUSY_MS / 1000, isolation_level=None, check_same_thread=False
            )
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA foreign_keys = ON")
            connection.execute("PRAGMA temp_store = MEMORY")
        except sqlite3.DatabaseError as error:
            raise HatchnoteError(
                f"The database {self.path} cannot be opened ({error}); restore it from a backup."
            ) from error
        connection.row_factory = _as_dict
        return connection

    def rows(self, sql: str, parameters: Parameters = ()) -> list[Row]:
        """Every row as a dictionary."""
        return self.connection.execute(sql, parameters).fetchall()

    def row(self, sql: str, parameters: Parameters = ()) -> Row | None:
        """The first row, or None."""
        found: Row | None = self.connection.execute(sql, parameters).fetchone()
        return found

    def value(self, sql: str, parameters: Parameters = ()) -> Any:
        """The first column of the first row, or None."""
        found = self.row(sql, parameters)
        return None if found is None else next(iter(found.values()))

    def change(self, sql: str, parameters: Parameters = ()) -> int:
        """Run one writing statement and say how many rows it changed. Guarded updates read this number."""
        with self.write() as connection:
            return connection.execute(sql, parameters).rowcount

    @contextmanager
    def write(self) -> Iterator[sqlite3.Connection]:
        """A transaction that holds the write lock from its first moment. Nested use joins the outer one.

        Raises NoRoom when the disk is full; nothing of the transaction is kept then.
        """
        connection = self.connection
        if connection.in_transaction:
            yield connection
            return
        try:
            connection.execute("BEGIN IMMEDIATE")
            yield connection
            connection.execute("COMMIT")
        except BaseException as error:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
            if is_full(error):
                raise NoRoom("The server's disk is full; nothing was changed, so free some space.") from error
            raise

    def insert(self, table: str, row: Row) -> int:
        """Insert one row; returns its rowid."""
        with self.write() as connection:
            cursor = connection.execute(_insert(table, row), list(row.values()))
            return int(cursor.lastrowid or 0)

    def upsert(self, table: str, row: Row, *, key: Sequence[str]) -> None:
        """Insert the row, or change the columns of the one that has the same key."""
        others = [c for c in row if c not in key]
        action = "UPDATE SET " + ", ".join(f"{c} = excluded.{c}" for c in others) if others else "NOTHING"
        sql = f"{_insert(table, row)} ON CONFLICT ({', '.join(key)}) DO {action}"
        with self.write() as connection:
            connection.execute(sql, list(row.values()))

    def close(self) -> None:
        """Close every thread's connection."""
        with self._lock:
            for connection in self._all:
                connection.close()
            self._all.clear()
        self._local = threading.local()


def is_full(error: BaseException) -> bool:
    """True for SQLite's way of saying that the disk is full."""
    return isinstance(error, sqlite3.OperationalError) and (
        getattr(error, "sqlite_errorname", "") in ("SQLITE_FULL", "SQLITE_IOERR_WRITE")
        or "disk is full" in str(error)
    )


def _insert(table: str, row: Row) -> str:
    return f"INSERT INTO {table} ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})"


def _as_dict(cursor: sqlite3.Cursor, row: tuple[Any, ...]) -> Row:
    return {column[0]: value for column, value in zip(cursor.description, row, strict=True)}
