"""Logs as JSON lines on standard error: time, level, where, what. Nothing secret is ever handed to them."""

from __future__ import annotations

import datetime as dt
import json
import logging
import sys


class JsonLines(logging.Formatter):
    """One record, one line."""

    def format(self, record: logging.LogRecord) -> str:
        at = dt.datetime.fromtimestamp(record.created, dt.UTC).isoformat(timespec="milliseconds")
        line = {
            "at": at.replace("+00:00", "Z"),
            "level": record.levelname.lower(),
            "in": record.name,
            "says": record.getMessage(),
        }
        line.update(getattr(record, "facts", {}))
        if record.exc_info:
            line["trace"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False)


def set_up(level: str) -> None:
    """Send all logs to standard error as JSON lines."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(JsonLines())
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(level.upper())
    for chatty in ("huey", "PIL", "faster_whisper"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
