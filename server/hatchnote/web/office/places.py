"""Sites, the machines on their roofs, and what was measured on each over the years."""

from __future__ import annotations

from typing import Any

from flask import Response, request

from hatchnote.domain import Equipment, Nameplate
from hatchnote.export import wording
from hatchnote.store import history, places, tickets, worklist
from hatchnote.store.database import Row
from hatchnote.web.chart import Dot, plot
from hatchnote.web.context import store
from hatchnote.web.imports import COLUMNS
from hatchnote.web.office import bp, office_only, page

PLOTS_AT_FIRST = 4
MOST_PLOTS = 24
MOST_ROWS = 60
"""Of the table below a plot; the plot shows them all."""
_LATEST_WITH_PHOTOS = 12

PLATE: tuple[tuple[str, str, str], ...] = (
    ("volts", "Volts, as printed", "optional"),
    ("phase", "Phases", "number"),
    ("compressor_rla", "Compressor RLA, A each", "numbers"),
    ("fan_fla", "Supply fan FLA, A", "number"),
    ("condenser_fan_fla", "Condenser fan FLA, A", "number"),
    ("rise_min", "Least temperature rise, °F", "number"),
    ("rise_max", "Greatest temperature rise, °F", "number"),
    ("gas", "Gas: natural or propane", "optional"),
    ("input_btuh", "Input, Btu/h", "number"),
    ("output_btuh", "Output, Btu/h", "number"),
    ("manifold_inwc", "Manifold, in. w.c.", "number"),
    ("inlet_min_inwc", "Least inlet gas pressure, in. w.c.", "number"),
    ("inlet_max_inwc", "Greatest inlet gas pressure, in. w.c.", "number"),
    ("capacitor_uf", "Capacitors, µF each", "numbers"),
    ("capacitor_tolerance_pct", "Capacitor tolerance, %", "number"),
    ("refrigerant", "Refrigerant", "optional"),
    ("charge_lb", "Full charge, lb a circuit", "numbers"),
    ("superheat_target", "Superheat target, °F", "number"),
    ("subcooling_target", "Subcooling target, °F", "number"),
    ("belt", "Belt", "optional"),
    ("filters", "Filters, as printed", "optional"),
    ("max_static_inwc", "Greatest external static, in. w.c.", "number"),
    ("sensor_curve", "Sensor curve: 10K-2, 10K-3 or Pt1000", "optional"),
)
"""Field of the nameplate, what the form calls it, how its text is read."""


@bp.get("/office/sites")
@office_only
def show_sites() -> Response:
    return page("office/sites.html", "sites", sites=places.sites(store()))


@bp.get("/office/sites/<uuid:id>")
@office_only
def show_site(id: Any) -> Response:
    site = places.site(store(), str(id))
    rows, _ = worklist.page(store(), worklist.Wanted(site_id=str(id), limit=30))
    return page(
        "office/site.html", "sites", site=site, machines=places.equipment(store(), str(id)), tickets=rows
    )


@bp.get("/office/equipment/<uuid:site_id>/<tag>")
@office_only
def show_machine(site_id: Any, tag: str) -> Response:
    site = places.site(store(), str(site_id))
    machine = _machine(str(site_id), tag)
    known = history.points(store(), str(site_id), tag)
    wanted = request.args.get("point")
    points = [wanted] if wanted else [p["point"] for p in known if p["n"] > 1][:PLOTS_AT_FIRST]
    plots = [p for point in points for p in _plots(str(site_id), tag, point, machine.nameplate)]
    if not wanted:
        plots = [p for p in plots if p["rows"][0]["basis"] == "measured"]
    rows, _ = worklist.page(store(), worklist.Wanted(site_id=str(site_id), words=f'"{tag}"', limit=30))
    return page(
        "office/machine.html",
        "sites",
        site=site,
        machine=machine,
        plate=[(name, label, kind, _shown(machine.nameplate, name)) for name, label, kind in PLATE],
        points=sorted(p["point"] for p in known),
        point=wanted,
        plots=plots[:MOST_PLOTS],
        most_rows=MOST_ROWS,
        tickets=rows,
        photos=_photos(rows, tag),
    )


@bp.get("/office/import")
@office_only
def show_import() -> Response:
    return page("office/import.html", "sites", columns=COLUMNS)


def _machine(site_id: str, tag: str) -> Equipment:
    """The machine as entered, or a bare one: what was spoken of at a site has a page before anybody enters it."""
    try:
        return places.machine(store(), site_id, tag)
    except LookupError:
        return Equipment(tag)


def _shown(plate: Nameplate, name: str) -> str:
    value = getattr(plate, name)
    if value is None:
        return ""
    if isinstance(value, tuple):
        return ", ".join(wording.number(v).replace(",", "") for v in value)
    return str(value) if isinstance(value, str) else wording.number(float(value)).replace(",", "")


def _plots(site_id: str, tag: str, point: str, plate: Nameplate) -> list[dict[str, Any]]:
    groups: dict[tuple[Any, ...], list[Row]] = {}
    for row in history.readings(store(), site_id, tag, point):
        if row["value"] is not None:
            key = (*(row[k] for k in history.SERIES_KEY), row["ucum"])
            groups.setdefault(key, []).append(row)
    out = []
    for rows in groups.values():
        name = wording.reading_name(rows[0])
        dots = [
            Dot(
                r["date"],
                float(r["value"]),
                wording.MOMENT_NAMES.get(r["moment"], ""),
                bool(r["marked"]),
                r["ticket_id"],
            )
            for r in rows
        ]
        limits = _limits(rows[0], plate)
        out.append(
            {
                "name": name,
                "unit": rows[0]["unit"] or "",
                "rows": rows,
                "svg": plot(name, rows[0]["unit"] or "", dots, limits),
            }
        )
    return out


def _limits(row: Row, plate: Nameplate) -> dict[str, float]:
    """Lines across the plot from the machine's own plate."""
    number = int(row["number"]) - 1 if (row["number"] or "").isdigit() else 0
    if row["point"] == "capacitance" and plate.capacitor_uf and row["basis"] == "measured":
        low = 1 - (plate.capacitor_tolerance_pct or 0) / 100
        rated = plate.capacitor_uf[0]
        return {"rated": rated} if low == 1 else {"rated": rated, "least": rated * low}
    if (
        row["point"] == "current"
        and row["component"] == "compressor"
        and 0 <= number < len(plate.compressor_rla)
    ):
        return {"RLA": plate.compressor_rla[number]}
    lines = {
        "superheat": {"target": plate.superheat_target},
        "subcooling": {"target": plate.subcooling_target},
        "manifold-pressure": {"plate": plate.manifold_inwc},
        "temperature-rise": {"least": plate.rise_min, "greatest": plate.rise_max},
    }.get(row["point"], {})
    return {name: value for name, value in lines.items() if value is not None}


def _photos(rows: list[Row], tag: str) -> list[dict[str, Any]]:
    """The machine's photos in its latest tickets."""
    out = []
    for row in rows[:_LATEST_WITH_PHOTOS]:
        if not row["revision"]:
            continue
        document = tickets.revision(store(), row["id"], row["revision"]).document
        for machine in document["equipment"]:
            if machine["tag"] == tag:
                out += [{**p, "date": row["date"]} for p in machine["photos"] if not p["left_out"]]
    return out
