"""Heard this, meant that: what people corrected, and the company's own words that follow from it."""

from __future__ import annotations

from flask import Response

from hatchnote.web.office import bp, office_only, page


@bp.get("/office/corrections")
@office_only
def show_corrections() -> Response:
    return page("office/corrections.html", "corrections")
