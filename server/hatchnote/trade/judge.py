"""Facts in, judgement out: what can be computed, what to mind, what the record lacks."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from hatchnote.domain import Assessment, Facts, Nameplate
from hatchnote.trade.cautions import cautions
from hatchnote.trade.formulas.psychrometrics import atmospheric_pressure
from hatchnote.trade.hints import hints
from hatchnote.trade.machine import machines
from hatchnote.trade.missing import missing
from hatchnote.trade.triggers import Scene
from hatchnote.trade.worked import work


def judge(
    facts: Facts,
    nameplates: Mapping[str | None, Nameplate] | None = None,
    *,
    altitude_ft: float | None = None,
    muted: Collection[str] = (),
) -> Assessment:
    """What follows from the facts of one visit.

    `nameplates` by tag; a plate outranks every other limit. `altitude_ft` of the site: where it is None, sea level is
    assumed and said so. `muted` are caution ids ("C03") not to show. Every value is within, outside or unknown, with
    the numbers put in and the source. Raises BadInput for an altitude that is none, or for a caution that cannot be
    muted.
    """
    if altitude_ft is not None:
        atmospheric_pressure(altitude_ft)  # refuses what is no altitude before anything is judged by it
    scenes = [Scene(m, tuple(work(m))) for m in machines(facts, nameplates or {}, altitude_ft)]
    if not scenes:
        return Assessment()
    return Assessment(
        tuple(c for s in scenes for c in s.computed),
        (*cautions(scenes, muted=muted), *(h for s in scenes for h in hints(s))),
        tuple(gap for s in scenes for gap in missing(s)),
    )
