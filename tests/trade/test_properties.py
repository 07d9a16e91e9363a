"""What must hold for every input."""

import math

from hypothesis import given
from hypothesis import strategies as st

from hatchnote.trade.formulas.air import mixed_air, outdoor_air_share
from hatchnote.trade.formulas.electrical import current_unbalance, voltage_unbalance
from hatchnote.trade.formulas.gas import AIR_HEAT, rise_airflow
from hatchnote.trade.formulas.psychrometrics import relative_humidity, wet_bulb
from hatchnote.trade.formulas.sensors import sensor_resistance, sensor_temperature
from hatchnote.trade.refrigerants import (
    REFRIGERANTS,
    compression_ratio,
    saturation_pressure,
    saturation_temperature,
    subcooling,
    superheat,
)

legs = st.lists(st.floats(1, 700), min_size=3, max_size=3)


@given(legs, st.floats(0.01, 100))
def test_unbalance_is_unchanged_by_scaling(volts, factor):
    scaled = [v * factor for v in volts]
    assert math.isclose(voltage_unbalance(volts), voltage_unbalance(scaled), rel_tol=1e-6, abs_tol=1e-9)


@given(legs, st.permutations([0, 1, 2]))
def test_unbalance_is_unchanged_by_the_order_of_legs(amps, order):
    assert math.isclose(
        current_unbalance(amps), current_unbalance([amps[i] for i in order]), rel_tol=1e-9, abs_tol=1e-9
    )


@given(st.sampled_from(REFRIGERANTS), st.floats(20, 300), st.floats(0.1, 50), st.floats(0, 90))
def test_superheat_falls_and_subcooling_rises_as_pressure_rises(refrigerant, psig, more, line):
    assert superheat(refrigerant, psig + more, line) < superheat(refrigerant, psig, line)
    assert subcooling(refrigerant, psig + more, line) > subcooling(refrigerant, psig, line)


@given(st.sampled_from(REFRIGERANTS), st.floats(-60, 150), st.sampled_from(["bubble", "dew"]))
def test_pressure_and_temperature_are_inverses(refrigerant, fahrenheit, phase):
    psia = saturation_pressure(refrigerant, fahrenheit, phase)
    assert math.isclose(saturation_temperature(refrigerant, psia, phase), fahrenheit, abs_tol=1e-6)


@given(st.sampled_from(REFRIGERANTS), st.floats(20, 400))
def test_dew_is_never_colder_than_bubble(refrigerant, psia):
    dew = saturation_temperature(refrigerant, psia, "dew")
    assert dew >= saturation_temperature(refrigerant, psia, "bubble") - 0.02


@given(st.floats(20000, 800000), st.floats(1, 120), st.floats(0.7, 1))
def test_airflow_times_rise_is_the_output(output, rise, ratio):
    assert math.isclose(rise_airflow(output, rise, ratio) * rise * AIR_HEAT * ratio, output, rel_tol=1e-9)


@given(st.floats(50, 300), st.floats(301, 600))
def test_compression_ratio_is_more_than_one(low, high):
    assert compression_ratio(high, low) > 1


@given(st.floats(40, 100), st.floats(0, 100), st.floats(-20, 120).filter(lambda t: abs(t - 75) >= 10))
def test_outdoor_share_undoes_mixing(return_air, share, outdoor):
    if abs(return_air - outdoor) < 10:
        return
    mixed = mixed_air(outdoor, return_air, share)
    assert math.isclose(outdoor_air_share(return_air, mixed, outdoor), share, abs_tol=1e-6)


@given(st.sampled_from(["10K-2", "10K-3", "Pt1000"]), st.floats(-40, 240))
def test_ohms_and_temperature_are_inverses(curve, fahrenheit):
    back = sensor_temperature(sensor_resistance(fahrenheit, curve), curve)
    assert math.isclose(back, fahrenheit, abs_tol=1e-4)


@given(st.floats(40, 110), st.floats(10, 100))
def test_humidity_and_wet_bulb_are_inverses(dry, humidity):
    assert math.isclose(relative_humidity(dry, wet_bulb(dry, humidity)), humidity, abs_tol=0.5)
