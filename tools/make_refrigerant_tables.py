"""Make models/refrigerants/*.csv: saturation pressures from CoolProp 7.2.0, one row a degree Fahrenheit.

    python tools/make_refrigerant_tables.py [FOLDER]

CoolProp (MIT) is pinned because R-454B changed between versions: 8.0.0 reads 1 to 2.5 psi higher than 7.2.0 and
than the pressure-temperature charts in technicians' hands, which follow the older data. It is a tool here, not a
dependency of the program: it takes seconds to load, and its mixture solver fails for R-454B at pressures a hot
roof reaches. Rows the solver cannot give are filled by ln p = a + b/T + c ln T + d T + e T^2 fitted to the rows it
can (`how` says which); the largest misfit on the good rows is printed and written into the file.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

PINNED = "7.2.0"
LOW_F = -70
PA_PER_PSI = 6894.757293168361

# Our name, CoolProp's fluid, highest degree Fahrenheit tabulated (clear of the critical point).
# Blends use the pseudo-pure fluids; their `.mix` twins give the same numbers and fail at ordinary pressures.
FLUIDS = [
    ("R-22", "R22", 190),
    ("R-32", "R32", 160),
    ("R-134a", "R134a", 200),
    ("R-404A", "R404A", 155),
    ("R-407C", "R407C", 175),
    ("R-410A", "R410A", 155),
    ("R-454B", "R454B.mix", 155),
]


def kelvin(f: float) -> float:
    return (f + 459.67) / 1.8


def pressure(fluid: str, f: float, quality: int) -> float | None:
    """Saturation pressure in psia, or None where the solver gives up."""
    from CoolProp.CoolProp import PropsSI

    try:
        p = PropsSI("P", "T", kelvin(f), "Q", quality, fluid) / PA_PER_PSI
    except ValueError:
        return None
    return p if math.isfinite(p) and p > 0 else None


def filled(temps: list[int], pressures: list[float | None]) -> tuple[list[float], list[bool], float]:
    """Pressures without gaps, which rows were fitted, and the fit's largest misfit in percent."""
    import numpy as np

    if all(p is not None for p in pressures):
        return [p for p in pressures if p is not None], [False] * len(temps), 0.0
    kelvins = np.array([kelvin(t) for t in temps])
    terms = np.column_stack([np.ones_like(kelvins), 1 / kelvins, np.log(kelvins), kelvins, kelvins**2])
    scale = np.abs(terms).max(axis=0)
    good = np.array([p is not None for p in pressures])
    ln_p = np.log([p for p in pressures if p is not None])
    coefficients, *_ = np.linalg.lstsq(terms[good] / scale, ln_p, rcond=None)
    fit = terms / scale @ coefficients
    misfit = 100 * float(np.abs(np.expm1(fit[good] - ln_p)).max())
    whole = [p if p is not None else float(math.exp(fit[i])) for i, p in enumerate(pressures)]
    return whole, [bool(not g) for g in good], misfit


def table(name: str, fluid: str, high: int) -> str:
    temps = list(range(LOW_F, high + 1))
    bubble, fit_b, misfit_b = filled(temps, [pressure(fluid, t, 0) for t in temps])
    dew, fit_d, misfit_d = filled(temps, [pressure(fluid, t, 1) for t in temps])
    lines = [
        f"# {name}: saturation pressure, psia; CoolProp {PINNED}, fluid {fluid}; "
        "made by tools/make_refrigerant_tables.py",
        f"# fitted rows: bubble {sum(fit_b)} (misfit {misfit_b:.4f} %), dew {sum(fit_d)} (misfit {misfit_d:.4f} %)",
        "temperature_f,bubble_psia,dew_psia,how",
    ]
    for t, b, d, fb, fd in zip(temps, bubble, dew, fit_b, fit_d, strict=True):
        lines.append(f"{t},{b:.5f},{d:.5f},{'fit' if fb or fd else 'coolprop'}")
    return "\n".join(lines) + "\n"


def main() -> None:
    import CoolProp

    if CoolProp.__version__ != PINNED:
        sys.exit(
            f"CoolProp {CoolProp.__version__} is installed; install CoolProp=={PINNED} and run this again."
        )
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parents[1] / "models" / "refrigerants"
    folder.mkdir(parents=True, exist_ok=True)
    for name, fluid, high in FLUIDS:
        text = table(name, fluid, high)
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
        print(name, text.splitlines()[1][2:])


if __name__ == "__main__":
    main()
