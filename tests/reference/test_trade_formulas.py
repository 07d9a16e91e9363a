"""Every formula against a value from outside this project, its source beside it.

How far a source was checked: "seen" was read in the text named or one that reprints it; "seen second-hand"
in a text that cites it; "from memory" was not looked up; "common practice, no source" is what the trade does.
`test_every_formula_is_checked` fails for a formula that stands in no list here.
"""

# One check a line, its source in the same line.
# ruff: noqa: E501

import math

import pytest

import hatchnote.trade.worked  # noqa: F401  (registers every formula)
from hatchnote.errors import BadInput
from hatchnote.trade.amounts import DELTA_F, FORMULAS, IN_WC, KW, MICRON, PSI, Q, Unit, number

F = FORMULAS

# (formula, arguments, expected, tolerance, source)
CHECKS = [
    # electrical
    ("voltage_unbalance", ([452, 464, 455],), 1.53, 0.005, "worked example in published unit literature, seen second-hand"),
    ("voltage_unbalance", ([460, 467, 450],), 1.96, 0.005, "worked example for NEMA MG 1, seen second-hand"),
    ("voltage_unbalance", ([480, 476, 472],), 0.84, 0.005, "NEMA MG 1 definition; the spread method would give 1.68"),
    ("current_unbalance", ([18.2, 17.4, 19.6],), 6.52, 0.005, "NEMA MG 1 definition applied to amps; common practice"),
    ("voltage_low", (208,), 187.2, 0.05, "NEMA MG 1 12.44.1, seen"),
    ("voltage_high", (230,), 253.0, 0.05, "NEMA MG 1 12.44.1, seen"),
    ("capacitor_deviation", (42.3, 45), -6.0, 1e-9, "tolerance printed on cases, 45 uF 6 % = 42.3 to 47.7; common practice, no source"),
    ("capacitor_under_load", (6.2, 372), 44.21, 0.005, "trade constant 2652 x A / V at 60 Hz: 44.20; common practice, no source"),
    ("load_share", (6.1, 7.0), 87.14, 0.005, "arithmetic; common practice, no source"),
    ("three_phase_power", (460, 12, 0.85), 8.13, 0.005, "root-three relation, handbook arithmetic; common practice, no source"),
    ("three_phase_apparent_power", (208, 30), 10.81, 0.005, "root-three relation, handbook arithmetic; common practice, no source"),
    ("single_phase_power", (230, 10, 0.9), 2.07, 0.0005, "arithmetic; common practice, no source"),
    ("wye_line_volts", (277,), 480.0, 0.5, "nominal 480Y/277 of ANSI C84.1, seen second-hand"),
    ("wye_line_volts", (120,), 208.0, 0.5, "nominal 208Y/120 of ANSI C84.1, seen second-hand"),
    ("transformer_secondary", (208, 240), 20.8, 0.05, "turns ratio; common practice, no source"),
    ("minimum_circuit_ampacity", (19.0, [19.0, 1.5, 1.5, 5.2]), 50.95, 0.005, "NEC 440.33, seen second-hand"),
    ("overcurrent_ceiling", (19.0, [19.0, 1.5, 1.5, 5.2]), 69.95, 0.005, "NEC 440.22, seen second-hand"),
    ("overcurrent_size", (19.0, [19.0, 1.5, 1.5, 5.2]), 60, 0, "NEC 240.6(A) next size down, seen second-hand"),
    ("brake_power", (5, 6.1, 7.0, 460, 460), 4.36, 0.005, "common practice, no source"),
    ("winding_mismatch", (0.6, 2.1, 2.7), 0.0, 1e-9, "series windings; common practice, no source"),
    ("insulation_floor", (460,), 1.46, 1e-9, "IEEE 43 kV + 1, seen second-hand"),
    ("heater_power", (15, 230, 208), 12.27, 0.005, "power goes with volts squared; common practice, no source"),
    # gas
    ("temperature_rise", (118, 68), 50, 1e-9, "definition"),
    ("temperature_split", (55, 74), 19, 1e-9, "definition"),
    ("rise_airflow", (160000, 45), 3292, 0.5, "1.08 of ASHRAE Fundamentals, from memory"),
    ("electric_rise_airflow", (20, 30), 2106, 0.5, "3412.14 Btu/h a kW, NIST SP 811 seen second-hand; 1.08 from memory"),
    ("clocked_input", (2, 30, 1030), 247200, 0.5, "meter clocking as utilities print it; common practice"),
    ("clocked_input", (1, 75, 1035, 3), 149040, 0.5, "meter clocking as utilities print it; common practice"),
    ("clocked_flow", (0.5, 29), 62.07, 0.005, "meter clocking tables; common practice"),
    ("input_share", (206000, 224000), 91.96, 0.005, "arithmetic; common practice, no source"),
    ("manifold_input_ratio", (3.0, 3.5), 0.926, 0.0005, "orifice equation, NFPA 54 annex from memory"),
    ("manifold_input_ratio", (5, 10), 0.707, 0.0005, "orifice equation, NFPA 54 annex from memory"),
    ("co_air_free", (50, 7.0), 75.2, 0.05, "dilution arithmetic, seen second-hand in combustion texts"),
    ("co_air_free", (100, 10.9), 209.0, 0.05, "dilution arithmetic, seen second-hand in combustion texts"),
    ("draft_margin", (-0.84, 0.65), 0.19, 1e-9, "arithmetic; common practice, no source"),
    # air
    ("fan_airflow", (4000, 900, 990), 4400, 0.5, "fan laws, AMCA 201 from memory"),
    ("fan_static", (0.80, 900, 990), 0.968, 0.0005, "fan laws, AMCA 201 from memory"),
    ("fan_power", (2.0, 900, 990), 2.662, 0.0005, "fan laws, AMCA 201 from memory"),
    ("external_static", (0.45, -0.35), 0.80, 1e-9, "definition; common practice"),
    ("outdoor_air_share", (75, 70, 50), 20.0, 1e-9, "mixing equation; common practice"),
    ("outdoor_air_share", (76, 80, 96), 20.0, 1e-9, "mixing equation; common practice"),
    ("mixed_air", (95, 75, 20), 79.0, 1e-9, "mixing equation; common practice"),
    ("sensible_heat", (4000, 25), 108000, 0.5, "1.08 of ASHRAE Fundamentals, from memory"),
    ("total_heat", (4000, 31.447, 22.569), 159804, 20, "4.5 of ASHRAE Fundamentals, from memory"),
    ("duct_velocity", (0.10,), 1266.4, 0.2, "4005 root VP, ASHRAE Fundamentals from memory"),
    ("face_velocity", (4000, 13.89), 288, 0.05, "arithmetic; common practice, no source"),
    ("trap_drop", (-1.5,), 2.5, 1e-9, "published unit literature, seen second-hand"),
    # belts
    ("belt_datum_length", ("BX42",), 43.8, 1e-9, "ANSI/RMA IP-20 datum table, seen second-hand"),
    ("belt_datum_length", ("A42",), 43.3, 1e-9, "ANSI/RMA IP-20 datum table, seen second-hand"),
    ("belt_outside_length", ("3V450",), 45.0, 1e-9, "narrow belts are numbered in tenths (ARPM IP-22, from memory)"),
    ("belt_outside_length", ("A42",), 44.0, 1e-9, "trade practice, no source"),
    ("belt_length", (15, 8, 4), 49.11, 0.005, "handbook belt formula; common practice"),
    ("belt_centres", (49.1067, 8, 4), 15.0, 0.001, "inverse of the handbook belt formula; common practice"),
    ("belt_span", (15, 8, 4), 14.87, 0.005, "handbook belt geometry; common practice"),
    ("belt_deflection", (18.5,), 0.289, 0.0005, "1/64 in. an inch, belt association practice; common practice"),
    ("belt_deflection", (24,), 0.375, 1e-9, "1/64 in. an inch, belt association practice; common practice"),
    ("driven_speed", (1725, 3.7, 6.2), 1029.4, 0.05, "sheave ratio; common practice"),
    ("driven_speed", (1750, 4.0, 8.0), 875, 1e-9, "sheave ratio; common practice"),
    ("belt_slip", (1000, 980), 2.0, 1e-9, "arithmetic; common practice, no source"),
    # sensors: published points of the two 10 kohm curves (common practice, no single source)
    ("thermistor_temperature", (32650, "10K-2"), 32.0, 0.02, "published type II table"),
    ("thermistor_temperature", (3602, "10K-2"), 122.0, 0.02, "published type II table"),
    ("thermistor_temperature", (20000, "10K-2"), 49.82, 0.01, "G28: Steinhart-Hart with published coefficients"),
    ("thermistor_temperature", (29490, "10K-3"), 32.0, 0.02, "published type III table"),
    ("thermistor_temperature", (8000, "10K-3"), 87.11, 0.01, "G29: Steinhart-Hart with published coefficients"),
    ("thermistor_resistance", (77, "10K-2"), 10000, 1, "definition of a 10K sensor"),
    ("thermistor_resistance", (104, "10K-2"), 5323, 10, "published type II table, another maker's"),
    ("thermistor_resistance", (104, "10K-3"), 5593, 1, "published type III table"),
    ("beta_resistance", (122, 3935), 3602, 2, "published type II point, beta of the 25/50 pair"),
    ("beta_temperature", (32650, 3976), 33.26, 0.01, "why one beta is not enough: 1.3 °F off at freezing"),
    ("pt1000_resistance", (32,), 1000.00, 0.005, "IEC 60751"),
    ("pt1000_resistance", (212,), 1385.06, 0.006, "IEC 60751 table, 138.51 ohm for Pt100"),
    ("pt1000_resistance", (-40,), 842.71, 0.005, "IEC 60751 table, 84.27 ohm for Pt100"),
    ("pt1000_resistance", (77,), 1097.35, 0.005, "IEC 60751 table, 109.73 ohm for Pt100"),
    ("pt1000_temperature", (1385.06,), 212.0, 0.01, "IEC 60751"),
    ("pt1000_temperature", (842.71,), -40.0, 0.01, "IEC 60751"),
    ("sensor_deviation", (10500, 10000), 5.0, 1e-9, "arithmetic; common practice, no source"),
    ("loop_value", (12, 0, 500), 250, 1e-9, "4 to 20 mA convention (IEC 60381-1, from memory)"),
    ("ratiometric_value", (2.1, 0, 500), 200, 1e-9, "0.5 to 4.5 V convention; common practice, no source"),
    # psychrometrics
    ("relative_humidity", (80, 67), 51.10, 0.005, "PsychroLib 2.5.0"),
    ("wet_bulb", (75, 50), 62.55, 0.005, "PsychroLib 2.5.0"),
    ("dew_point", (75, 50), 55.12, 0.01, "PsychroLib 2.5.0"),
    ("humidity_ratio", (80, 67), 0.01117, 0.000005, "PsychroLib 2.5.0"),
    ("enthalpy", (80, 67), 31.447, 0.0005, "PsychroLib 2.5.0"),
    ("enthalpy", (55, 54), 22.569, 0.0005, "PsychroLib 2.5.0"),
    ("atmospheric_pressure", (5000,), 12.228, 0.001, "ASHRAE Fundamentals ch. 1 table 1: 12.228 psia"),
    ("atmospheric_pressure", (1000,), 14.173, 0.001, "ASHRAE Fundamentals ch. 1 table 1"),
    ("density_ratio", (5000,), 0.832, 0.0005, "ASHRAE Fundamentals ch. 1 table 1"),
    # refrigeration
    ("target_superheat", (67, 95), 13.0, 1e-9, "fixed-orifice rule; common practice, no source"),
    ("target_superheat", (62, 75), 15.5, 1e-9, "fixed-orifice rule; common practice, no source"),
    ("annual_leak_rate", (12, 60, 120), 60.83, 0.005, "40 CFR 82.152 annualizing method, seen second-hand"),
    ("charge_share", (8, 6.125, 8.25), 22.73, 0.005, "arithmetic; common practice, no source"),
    ("vacuum_rise", (380, 410), 30, 1e-9, "arithmetic; common practice, no source"),
    ("pounds_and_ounces", (8, 12), 8.75, 1e-9, "NIST SP 811: 16 ounces avoirdupois to the pound"),
    ("absolute_pressure", (130,), 144.696, 1e-9, "NIST SP 811 standard atmosphere 14.696 psi"),
    ("absolute_from_vacuum", (10,), 9.784, 0.001, "NIST SP 811 conventional inch of mercury, seen second-hand"),
    # saturation: against CoolProp and published charts in test_saturation.py; here the worked pairs
    ("saturation_temperature", ("R-22", 68 + 14.696, "dew"), 39.61, 0.1, "CoolProp 7.2.0 (G19)"),
    ("saturation_temperature", ("R-410A", 130 + 14.696, "dew"), 44.95, 0.1, "CoolProp 7.2.0 (G20)"),
    ("saturation_temperature", ("R-407C", 68 + 14.696, "bubble"), 32.22, 0.1, "CoolProp 7.2.0 (G21)"),
    ("saturation_temperature", ("R-454B", 118 + 14.696, "dew"), 45.09, 0.1, "CoolProp 7.2.0 (G22)"),
    ("saturation_pressure", ("R-134a", 40, "dew"), 35.0 + 14.696, 0.06, "public P-T chart stating NIST REFPROP"),
    ("superheat", ("R-407C", 68, 55.0), 11.76, 0.1, "CoolProp 7.2.0 dew point (G23); by the bubble point it would be 22.78"),
    ("superheat", ("R-22", 68.5, 52.0), 12.04, 0.1, "CoolProp 7.2.0"),
    ("subcooling", ("R-410A", 400, 105), 11.44, 0.1, "CoolProp 7.2.0 bubble point (G24)"),
    ("subcooling", ("R-454B", 375, 103), 12.97, 0.1, "CoolProp 7.2.0 bubble point"),
    ("condensing_over_ambient", ("R-410A", 400, 95), 21.44, 0.1, "CoolProp 7.2.0 bubble point"),
    ("compression_ratio", (400, 130), 2.866, 0.0005, "definition (absolute pressures); by gauge it would be 3.08"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "arguments", "expected", "tolerance", "source"), CHECKS, ids=lambda v: str(v)[:40]
)
def test_formula_gives_the_value_of_its_source(name, arguments, expected, tolerance, source):
    assert source
    assert F[name](*arguments) == pytest.approx(expected, abs=tolerance)


def test_every_formula_is_checked():
    assert set(F) - {name for name, *_ in CHECKS} == set()


def test_every_formula_names_its_source():
    assert all(f.source.strip() and f.__doc__ for f in F.values())


# NIST SP 811 appendix B factors, seen second-hand (reprinted in open unit libraries)
UNITS = [
    (Q(1, "[psi]"), IN_WC, 27.680, 0.0005),
    (Q(3.5, "[in_i'H2O]"), Unit("Pa"), 871.81, 0.005),
    (Q(500, "um[Hg]"), Unit("Pa"), 66.66, 0.005),
    (Q(10, "[degF]", True), Unit("K", True), 5.556, 0.0005),
    (Q(12000, "[Btu_IT]/h"), KW, 3.516853, 1e-6),
    (Q(14, "[in_i'H2O]"), PSI, 0.5058, 0.00005),
    (Q(1, "[in_i'Hg]"), MICRON, 25400, 0.5),
    (Q(1, "[HP]"), Unit("W"), 745.69987, 1e-4),
    (Q(1, "[cft_i]/min"), Unit("L/s"), 0.471947, 1e-6),
]


@pytest.mark.parametrize(("given", "unit", "expected", "tolerance"), UNITS)
def test_units_convert_by_nist_factors(given, unit, expected, tolerance):
    assert number(given, unit) == pytest.approx(expected, abs=tolerance)


def test_a_difference_of_twenty_fahrenheit_never_loses_thirty_two():
    assert number(Q(20 / 1.8, "Cel", True), DELTA_F) == pytest.approx(20)


def test_co_air_free_refuses_plain_air():
    with pytest.raises(BadInput, match=r"20\.9 %"):
        F["co_air_free"](10, 20.9)


def test_target_superheat_refuses_weather_without_a_target():
    """California Title 24 RA3.2 (2008): no valid charge test under 5 °F."""
    with pytest.raises(BadInput):
        F["target_superheat"](60, 110)


def test_outdoor_share_refuses_air_that_is_too_alike():
    with pytest.raises(BadInput, match="too close"):
        F["outdoor_air_share"](75, 72, 70)


def test_moist_air_follows_the_ashrae_example():
    """ASHRAE Fundamentals ch. 1 example 1 (from memory), read off the chart there: 100 °F dry bulb, 65 °F wet bulb,
    14.696 psia -> W 0.00523 lb/lb, h 29.80 Btu/lb, dew point 40 °F, 13 % humidity."""
    assert F["humidity_ratio"](100, 65) == pytest.approx(0.00523, abs=0.0001)
    assert F["enthalpy"](100, 65) == pytest.approx(29.80, abs=0.1)
    humidity = F["relative_humidity"](100, 65)
    assert humidity == pytest.approx(13, abs=0.5)
    assert F["dew_point"](100, humidity) == pytest.approx(40, abs=0.5)


def test_saturated_air_follows_the_ashrae_table():
    """ASHRAE Fundamentals ch. 1 table 2 (from memory): 0.01108 lb/lb at 60 °F. Its enhancement factor,
    0.4 %, is not in the equations that the field formulas use."""
    assert F["humidity_ratio"](60, 60) == pytest.approx(0.01108, rel=0.005)


def test_steinhart_hart_inverts_itself():
    for curve in ("10K-2", "10K-3"):
        for t in range(-40, 220, 5):
            ohms = F["thermistor_resistance"](t, curve)
            assert math.isclose(F["thermistor_temperature"](ohms, curve), t, abs_tol=1e-6)
