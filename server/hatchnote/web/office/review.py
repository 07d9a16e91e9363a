"""One ticket to review. The page is a frame; `static/office/review` fills it from the API."""

from __future__ import annotations

import tomllib
from functools import cache
from typing import Any

from flask import Response, jsonify

from hatchnote.places import MODELS, data_folder
from hatchnote.store import places, tickets
from hatchnote.web.context import store
from hatchnote.web.office import bp, office_only, page


@bp.get("/office/tickets/<uuid:id>")
@office_only
def show_review(id: Any) -> Response:
    row = tickets.ticket(store(), str(id))
    machines = [e.tag for e in places.equipment(store(), row["site_id"])]
    return page("office/review.html", "worklist", ticket=row, machines=machines)


@bp.get("/office/words.json")
@office_only
def show_words() -> Response:
    """What the forms offer: points with their units, components, verbs, conditions, units."""
    made = jsonify(words())
    made.headers["Cache-Control"] = "private, max-age=300"
    return made


@cache
def words() -> dict[str, Any]:
    """Slugs of the vocabulary in alphabetical order; units in the order of their file, once each."""
    folder = data_folder(MODELS) / "vocabulary"

    def table(name: str) -> dict[str, Any]:
        return tomllib.loads((folder / f"{name}.toml").read_text(encoding="utf-8"))

    points = table("points")
    units: dict[str, str] = {}
    for unit in table("units")["unit"]:
        units.setdefault(unit["ucum"], unit["name"])
    for point in points.values():
        if point.get("ucum"):
            units.setdefault(point["ucum"], point["unit"])
    return {
        "points": [
            {
                "slug": slug,
                "unit": p.get("unit"),
                "ucum": p.get("ucum"),
                "difference": bool(p.get("difference")),
            }
            for slug, p in sorted(points.items())
        ],
        "components": sorted(table("components")),
        "verbs": sorted(table("verbs")),
        "conditions": sorted(table("conditions")),
        "units": [{"ucum": ucum, "unit": name} for ucum, name in units.items()],
    }
