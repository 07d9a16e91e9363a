"""Facts in a few words, so that a test reads like a line of a ticket."""

from hatchnote.notes import read_notes


def reading(r):
    """ "RTU-3 compressor 1 current 11.2 A L1 as-found": what applies, in this order."""
    value = r.text if r.text is not None else f"{r.value:.6g}"
    unit = None if r.point in ("belt-size", "filter-size") else r.unit
    basis = None if r.basis == "measured" else r.basis
    circuit = f"circuit-{r.circuit}" if r.circuit else None
    parts = (
        r.tag,
        r.component,
        r.number,
        r.point,
        value,
        unit,
        r.legs,
        r.stage,
        circuit,
        r.position,
        basis,
        r.moment,
    )
    return " ".join(p for p in parts if p)


def work(w):
    count = f"x{w.quantity:g}" if w.quantity else None
    return " ".join(p for p in (w.tag, w.verb, w.component, w.number, count, w.state) if p)


def part(p):
    return " ".join(x for x in (p.tag, f"{p.quantity:g}", p.component, p.size, p.use) if x)


def finding(f):
    return " ".join(x for x in (f.tag, f.component, f.number, f.condition) if x)


def readings_of(text, **more):
    return sorted(reading(r) for r in read_notes(text, **more).readings)


def all_of(text, **more):
    facts = read_notes(text, **more)
    return (
        sorted(map(reading, facts.readings)),
        sorted(map(work, facts.work)),
        sorted(map(part, facts.parts)),
        sorted(map(finding, facts.findings)),
    )
