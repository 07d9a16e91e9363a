"""How long judging takes: a ticket of 60 readings on three machines, refrigerant states included.

    python -m benchmarks.judge

Prints the first call (files and tables are read then), and the middle and worst of the calls after it. The aim is 20 ms
once loaded. On a busy machine the processor time is the figure to look at.
"""

from __future__ import annotations

import platform
import statistics
import time

from hatchnote.domain import Facts, Finding, Part, Reading, Span, WorkItem

HEARD = Span(0, 1)
CIRCUIT = [
    ("suction-pressure", 118, "[psi]"),
    ("discharge-pressure", 368, "[psi]"),
    ("suction-line-temperature", 52, "[degF]"),
    ("liquid-line-temperature", 98, "[degF]"),
]
MACHINE = [
    ("return-air-temperature", 75, "[degF]"),
    ("supply-air-temperature", 55, "[degF]"),
    ("mixed-air-temperature", 78, "[degF]"),
    ("outdoor-air-temperature", 95, "[degF]"),
    ("humidity", 50, "%"),
    ("control-voltage", 26, "V"),
]
MACHINES = ("RTU-1", "RTU-2", "RTU-3")


def ticket() -> Facts:
    """Sixty readings: two circuits, volts, amps and air on each of three machines, and some work."""
    readings: list[Reading] = []

    def add(tag: str, point: str, value: float, ucum: str, **more: str) -> None:
        readings.append(Reading(f"r{len(readings)}", point, HEARD, "", value, ucum, ucum, tag=tag, **more))  # type: ignore[arg-type]

    for tag in MACHINES:
        for circuit in ("1", "2"):
            for point, value, ucum in CIRCUIT:
                add(tag, point, value, ucum, circuit=circuit)
        for point, value, ucum in MACHINE:
            add(tag, point, value, ucum, **({"position": "return"} if point == "humidity" else {}))
        for legs, volts in (("L1-L2", 478), ("L2-L3", 481), ("L1-L3", 476)):
            add(tag, "voltage", volts, "V", legs=legs)
        for legs, amps in (("L1", 11.2), ("L2", 11.5), ("L3", 10.9)):
            add(tag, "current", amps, "A", legs=legs, component="compressor", number="1")
    work = tuple(
        WorkItem(f"w{n}", verb, "done", HEARD, component, tag=tag)
        for n, (tag, verb, component) in enumerate(
            (t, v, c)
            for t in MACHINES
            for v, c in (
                ("replace", "contactor"),
                ("replace", "filter-drier"),
                ("replace", "supply-fan-belt"),
            )
        )
    )
    findings = tuple(Finding(f"f{n}", "contactor", "burnt", HEARD, tag=t) for n, t in enumerate(MACHINES))
    parts = tuple(
        Part(f"p{n}", "supply-fan-belt", "installed", HEARD, size="BX44", tag=t)
        for n, t in enumerate(MACHINES)
    )
    refrigerants = (("RTU-1", "R-410A"), ("RTU-2", "R-407C"), ("RTU-3", "R-454B"))
    return Facts(tuple(readings), work, parts, findings, tags=MACHINES, refrigerants=refrigerants)


def main() -> None:
    start = time.perf_counter()
    from hatchnote.trade import judge

    loaded = time.perf_counter()
    facts = ticket()
    begun = time.perf_counter()
    judge(facts)
    first = time.perf_counter() - begun
    times = []
    busy = time.process_time()
    for _ in range(100):
        begun = time.perf_counter()
        assessment = judge(facts)
        times.append(time.perf_counter() - begun)
    busy = time.process_time() - busy
    print(f"{platform.machine()}, Python {platform.python_version()}, {len(facts.readings)} readings")
    print(f"import            {1000 * (loaded - start):6.1f} ms")
    print(f"first call        {1000 * first:6.1f} ms")
    print(f"then, middle      {1000 * statistics.median(times):6.1f} ms")
    print(f"then, worst of 100{1000 * max(times):6.1f} ms")
    print(f"processor time    {10 * busy:6.1f} ms a call")
    print(
        f"gives {len(assessment.computed)} values, {len(assessment.cautions)} cautions, {len(assessment.missing)} gaps"
    )


if __name__ == "__main__":
    main()
