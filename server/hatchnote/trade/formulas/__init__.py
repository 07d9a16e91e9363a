"""Pure functions of the trade. Each states its units and its source; `hatchnote.trade.amounts.FORMULAS` lists them all.

refrigeration, electrical, gas, air, belts, sensors, psychrometrics: one file a subject.
"""
