"""A ticket as plain text for a terminal: machine by machine, checks first."""

from __future__ import annotations

from hatchnote.domain import Finding, MachineRecord, Part, Reading, Ticket, WorkItem
from hatchnote.tickets.summary import component_name


def show(ticket: Ticket) -> str:
    """The whole ticket as text, one machine a section."""
    visit = ticket.visit
    head = " · ".join(x for x in (visit.site, visit.date, visit.technician, ticket.status) if x)
    told = list(dict.fromkeys(f"Note: {w}" for d in ticket.dictations for w in d.warnings))
    return "\n\n".join([head, *told, *(_machine(m) for m in ticket.equipment)])


def value_text(r: Reading) -> str:
    """ "3.5 in. w.c.", "BX42", "open": what a technician reads."""
    if r.value is None:
        return r.text or "?"
    return f"{r.value:.10g} {r.unit or r.ucum or ''}".rstrip()


def _machine(m: MachineRecord) -> str:
    lines = [m.tag or "No particular machine", f"  {m.summary}"]
    readings = sorted(m.readings, key=lambda r: r.check is None)
    if readings:
        lines.append("  Readings")
        lines += [f"    {_reading(r)}" for r in readings]
    for title, rows in (
        ("Work", [f"{w.verb} {component_name(w.component, w.number)} ({w.state}){_mark(w)}" for w in m.work]),
        ("Parts", [f"{p.quantity:g} × {_part(p)} ({p.use}){_mark(p)}" for p in m.parts]),
        ("Findings", [f"{component_name(f.component, f.number)}: {f.condition}{_mark(f)}" for f in m.findings]),
        ("Worked out", [f"{c.name}: {'unknown' if c.value is None else f'{c.value:.4g} {c.unit}'}"
                        f" ({c.judgement}{', expected ' + c.expected if c.expected else ''})" for c in m.computed]),
        ("Missing", [f"{x.what}: {x.why}" for x in m.missing]),
        ("Take care", [c.text for c in m.cautions]),
        ("Photos", [p.caption or p.name for p in m.photos]),
    ):  # fmt: skip
        if rows:
            lines.append(f"  {title}")
            lines += [f"    {row}" for row in rows]
    return "\n".join(lines)


def _part(p: Part) -> str:
    return " ".join(x for x in (component_name(p.component), p.size) if x)


def _reading(r: Reading) -> str:
    where = " ".join(
        x
        for x in (
            component_name(r.component, r.number) if r.component else None,
            r.point.replace("-", " "),
            r.legs,
            f"circuit {r.circuit}" if r.circuit else None,
            f"{r.stage} fire" if r.stage else None,
            r.position,
            None if r.basis == "measured" else r.basis,
            {"as-found": "found", "as-left": "left"}.get(r.moment or ""),
        )
        if x
    )
    return f"{where}: {value_text(r)}{_mark(r)}"


def _mark(item: Reading | WorkItem | Part | Finding) -> str:
    return f"   CHECK: {item.check.why}" if item.check else ""
