"""Facts -> judgement: formulas, limits, cautions, hints, and what is missing, each with its source.

    from hatchnote.trade import judge
    judge(facts, {"RTU-3": Nameplate(volts="460")}, altitude_ft=600)      -> Assessment

machine.py chooses the readings, worked/ computes from them, limits.py compares, triggers.py is the small language of
the rule files (cautions, hints, completeness), judge.py joins them.
"""

from __future__ import annotations

from hatchnote.trade.judge import judge

__all__ = ["judge"]
