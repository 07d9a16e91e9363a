"""Figures for Prometheus, read from the database when asked for: workers are other processes."""

from __future__ import annotations

from hatchnote import __version__
from hatchnote.store import Store, health, jobs


def exposition(store: Store) -> tuple[bytes, str]:
    """The text and its content type."""
    from prometheus_client import CollectorRegistry, Gauge, generate_latest
    from prometheus_client.exposition import CONTENT_TYPE_PLAIN_0_0_4

    registry = CollectorRegistry()

    def gauge(name: str, help: str, value: float) -> None:
        Gauge(f"hatchnote_{name}", help, registry=registry).set(value)

    Gauge("hatchnote_build", "The running version", ["version"], registry=registry).labels(__version__).set(1)
    states = Gauge("hatchnote_jobs", "Jobs by state", ["state"], registry=registry)
    counts = jobs.counts(store)
    for state in ("waiting", "running", "done", "set-aside"):
        states.labels(state).set(counts.get(state, 0))
    tickets = Gauge("hatchnote_tickets", "Tickets by status", ["status"], registry=registry)
    for status, n in health.ticket_counts(store).items():
        tickets.labels(status).set(n)
    gauge("sound_waiting_seconds", "Seconds of sound not yet listened to", jobs.seconds_waiting(store))
    gauge(
        "recognition_time_ratio",
        "Seconds of work a second of sound, moving average; 0 before the first",
        jobs.figure(store, "work_s_per_sound_s") or 0.0,
    )
    gauge(
        "checks_per_open_ticket",
        "Mean number of checks in tickets not yet approved",
        health.checks_per_open_ticket(store),
    )
    return generate_latest(registry), CONTENT_TYPE_PLAIN_0_0_4
