"""Which readings are used, when the answer is unknown, and what outranks what."""

import pytest
from trade_facts import facts, finding, named, part, reading, work

from hatchnote.domain import Facts, Nameplate
from hatchnote.errors import BadInput
from hatchnote.trade import judge

PRESSURES = [
    reading("suction-pressure", 130),
    reading("suction-line-temperature", 55),
    reading("discharge-pressure", 400),
    reading("liquid-line-temperature", 105),
]


def test_nothing_said_gives_nothing():
    assert judge(Facts()).computed == ()


def test_superheat_and_subcooling_show_the_numbers_put_in():
    a = judge(facts(*PRESSURES, refrigerant="R-410A"))
    heat, cool = named(a, "superheat"), named(a, "subcooling")
    assert heat.value == pytest.approx(10.05, abs=0.1)
    assert cool.value == pytest.approx(11.44, abs=0.1)
    assert heat.formula == "55 °F − 45.0 °F (dew point of R-410A at 130 psig suction, sea level assumed)"
    assert heat.difference
    assert heat.inputs == (PRESSURES[0].id, PRESSURES[1].id)
    assert "CoolProp 7.2.0" in heat.source
    assert heat.judgement == cool.judgement == "within"


def test_dew_for_superheat_and_bubble_for_subcooling_of_a_blend():
    a = judge(
        facts(
            reading("suction-pressure", 68),
            reading("suction-line-temperature", 55),
            reading("discharge-pressure", 260),
            reading("liquid-line-temperature", 100),
            refrigerant="R-407C",
        )
    )
    assert named(a, "superheat").value == pytest.approx(11.76, abs=0.1)
    assert named(a, "subcooling").value == pytest.approx(9.94, abs=0.1)


def test_altitude_moves_saturation():
    low = named(judge(facts(*PRESSURES, refrigerant="R-410A"), altitude_ft=0), "superheat")
    high = named(judge(facts(*PRESSURES, refrigerant="R-410A"), altitude_ft=5000), "superheat")
    assert high.value - low.value == pytest.approx(1.0, abs=0.15)
    assert "5000 ft" in high.formula


def test_without_a_refrigerant_superheat_is_unknown_and_says_what_is_missing():
    heat = named(judge(facts(*PRESSURES)), "superheat")
    assert heat.value is None
    assert heat.judgement == "unknown"
    assert "missing: refrigerant" in heat.formula


def test_two_refrigerants_are_a_conflict_not_a_choice():
    a = judge(facts(*PRESSURES, refrigerant="R-410A"), {"RTU-1": Nameplate(refrigerant="R-22")})
    heat = named(a, "superheat")
    assert heat.judgement == "unknown"
    assert "R-410A and R-22" in heat.formula


def test_a_refrigerant_without_a_table_is_unknown():
    assert "no table for R-448A" in named(judge(facts(*PRESSURES, refrigerant="R-448A")), "superheat").formula


def test_a_refrigerant_of_no_machine_is_not_spread_over_several():
    two = Facts(readings=(*PRESSURES, reading("voltage", 480, tag="RTU-2")), refrigerants=((None, "R-410A"),))
    one = Facts(readings=tuple(PRESSURES), refrigerants=((None, "R-410A"),))
    assert named(judge(two), "superheat").judgement == "unknown"
    assert named(judge(one), "superheat").judgement == "within"


def test_as_left_goes_before_as_found():
    a = judge(
        facts(
            reading("suction-pressure", 98, moment="as-found"),
            reading("suction-line-temperature", 56, moment="as-found"),
            reading("suction-pressure", 130, moment="as-left"),
            reading("suction-line-temperature", 55, moment="as-left"),
            refrigerant="R-410A",
        )
    )
    assert [c.name for c in a.computed] == ["superheat, as left"]


def test_as_found_and_as_left_are_never_mixed():
    a = judge(
        facts(
            reading("suction-pressure", 98, moment="as-found"),
            reading("suction-line-temperature", 56, moment="as-found"),
            reading("suction-pressure", 118, moment="as-left"),
            refrigerant="R-410A",
        )
    )
    assert named(a, "superheat, as found").value == pytest.approx(25.5, abs=0.1)
    assert named(a, "superheat, as left") is None


def test_circuits_do_not_lend_each_other_readings():
    a = judge(
        facts(
            reading("suction-pressure", 130, circuit="1"),
            reading("suction-line-temperature", 55, circuit="2"),
            refrigerant="R-410A",
        )
    )
    assert named(a, "superheat, circuit 1").judgement == "unknown"
    assert "suction line temperature" in named(a, "superheat, circuit 1").formula
    assert "suction pressure" in named(a, "superheat, circuit 2").formula


def test_machines_do_not_lend_each_other_readings_but_share_outdoor_air():
    f = Facts(
        readings=(
            reading("suction-pressure", 130, tag="RTU-1"),
            reading("suction-line-temperature", 55, tag="RTU-2"),
            reading("discharge-pressure", 400, tag="RTU-1"),
            reading("outdoor-air-temperature", 95, tag=None),
        ),
        refrigerants=(("RTU-1", "R-410A"),),
    )
    a = judge(f)
    assert {c.tag for c in a.computed} == {"RTU-1", "RTU-2"}
    assert named(a, "condensing over ambient").value == pytest.approx(21.4, abs=0.1)
    assert all(c.judgement == "unknown" for c in a.computed if c.name == "superheat")


def test_conflicting_readings_are_unknown_and_both_are_named():
    a = judge(facts(reading("flame-signal", 3.0), reading("flame-signal", 0.4)))
    value = named(a, "flame signal")
    assert value.judgement == "unknown"
    assert "0.4 and 3" in value.formula


def test_the_same_reading_said_twice_is_no_conflict():
    a = judge(facts(reading("flame-signal", 3.0, id="a"), reading("flame-signal", 3.0, id="b")))
    assert named(a, "flame signal").judgement == "within"


def test_a_reading_marked_check_is_never_judged_firmly():
    a = judge(
        facts(
            reading("suction-pressure", 130, check="two hearings differ"),
            reading("suction-line-temperature", 55),
            refrigerant="R-410A",
        )
    )
    heat = named(a, "superheat")
    assert heat.value == pytest.approx(10.05, abs=0.1)
    assert heat.judgement == "unknown"
    assert heat.depends_on_check
    assert "depends on a reading marked to check" in heat.expected


def test_no_judgement_anywhere_from_a_doubtful_reading():
    every = [
        reading("voltage", v, legs=legs, check="unclear")
        for v, legs in ((480, "L1-L2"), (470, "L2-L3"), (490, "L1-L3"))
    ]
    every += [
        reading("capacitance", 39, component="run-capacitor", check="unclear"),
        reading("capacitance", 45, component="run-capacitor", basis="rated"),
        reading("flame-signal", 0.2, check="unclear"),
        reading("control-voltage", 12, check="unclear"),
        reading("co", 300, position="flue", check="unclear"),
        reading("oxygen", 8, position="flue"),
        reading("resistance", 600, component="return-air-sensor", check="unclear"),
        reading("return-air-temperature", 72),
        reading("belt-size", text="A42", basis="rated", check="unclear"),
        reading("belt-size", text="A44"),
    ]
    computed = judge(facts(*every)).computed
    assert len(computed) >= 7
    assert all(c.judgement == "unknown" for c in computed if c.depends_on_check)
    assert sum(c.depends_on_check for c in computed) >= 6


class TestPlate:
    def test_it_outranks_the_common_range(self):
        f = facts(*PRESSURES, refrigerant="R-410A")
        plate = Nameplate(subcooling_target=18)
        assert named(judge(f, {"RTU-1": plate}), "subcooling").judgement == "outside"
        assert "15 to 21 °F (nameplate on file" in named(judge(f, {"RTU-1": plate}), "subcooling").expected

    def test_rise_is_judged_by_the_plate_alone(self):
        f = facts(reading("supply-air-temperature", 118), reading("return-air-temperature", 68))
        assert named(judge(f), "temperature rise").judgement == "unknown"
        assert "rise range from the rating plate" in named(judge(f), "temperature rise").expected
        plate = Nameplate(rise_min=25, rise_max=45)
        assert named(judge(f, {"RTU-1": plate}), "temperature rise").judgement == "outside"

    def test_airflow_needs_the_output_not_the_input(self):
        f = facts(reading("supply-air-temperature", 113), reading("return-air-temperature", 68))
        a = judge(f, {"RTU-1": Nameplate(output_btuh=160000)})
        assert named(a, "airflow from the rise").value == pytest.approx(3292, abs=1)
        b = judge(f, {"RTU-1": Nameplate(input_btuh=200000)})
        assert "output on the plate" in named(b, "airflow from the rise").formula

    def test_dual_voltage_has_one_wide_window(self):
        f = facts(*(reading("voltage", 195, legs=p) for p in ("L1-L2", "L2-L3", "L1-L3")))
        volts = named(judge(f, {"RTU-1": Nameplate(volts="208/230")}), "supply voltage")
        assert volts.judgement == "within"
        assert "187.2 to 253 V" in volts.expected

    def test_gas_decides_the_manifold_range(self):
        f = facts(reading("manifold-pressure", 3.5))
        assert named(judge(f), "manifold pressure").judgement == "unknown"
        assert "depends on the gas" in named(judge(f), "manifold pressure").expected
        assert named(judge(f, {"RTU-1": Nameplate(gas="natural")}), "manifold pressure").judgement == "within"
        assert (
            named(judge(f, {"RTU-1": Nameplate(gas="propane")}), "manifold pressure").judgement == "outside"
        )

    def test_a_manifold_outside_every_gas_is_outside_without_knowing_the_gas(self):
        assert (
            named(judge(facts(reading("manifold-pressure", 6.5))), "manifold pressure").judgement == "outside"
        )

    def test_what_the_technician_read_off_the_plate_counts(self):
        f = facts(
            reading("current", 11.5, component="compressor", number="1"),
            reading("current", 10, component="compressor", basis="rated"),
        )
        amps = named(judge(f), "amps against the plate, compressor 1")
        assert amps.judgement == "outside"
        assert "plate as read by the technician" in amps.formula

    def test_two_plate_values_are_a_conflict(self):
        f = facts(
            reading("current", 11.5, component="compressor"),
            reading("current", 10, component="compressor", basis="rated"),
            reading("current", 14, component="compressor", basis="rated"),
        )
        assert "two values are given" in named(judge(f), "amps against the plate, compressor").formula

    def test_a_plate_read_out_that_differs_from_the_one_on_file_is_pointed_out(self):
        f = facts(
            reading("current", 11.5, component="supply-fan-motor"),
            reading("current", 10, component="supply-fan-motor", basis="rated"),
        )
        a = judge(f, {"RTU-1": Nameplate(fan_fla=14)})
        assert named(a, "amps against the plate, supply fan motor").judgement == "within"
        assert any("the plate on file says 14" in c.text for c in a.cautions)


class TestElectrical:
    def test_three_unnamed_values_are_three_legs(self):
        f = facts(*(reading("voltage", v) for v in (206, 209, 207)))
        assert named(judge(f), "voltage unbalance").value == pytest.approx(0.80, abs=0.01)

    def test_two_values_are_no_unbalance(self):
        f = facts(reading("voltage", 206), reading("voltage", 209))
        assert named(judge(f), "voltage unbalance") is None
        assert named(judge(f), "supply voltage").judgement == "unknown"

    def test_unbalance_by_the_mean_not_the_spread(self):
        legs = ((208, "L1-L2"), (206, "L2-L3"), (199, "L3-L1"))
        value = named(judge(facts(*(reading("voltage", v, legs=p) for v, p in legs))), "voltage unbalance")
        assert value.value == pytest.approx(2.61, abs=0.01)
        assert value.judgement == "outside"

    def test_capacitor_sections_find_their_ratings(self):
        f = facts(
            reading("capacitance", 40, component="run-capacitor", basis="rated"),
            reading("capacitance", 5, component="run-capacitor", basis="rated"),
            reading("capacitance", 34.2, component="run-capacitor", position="compressor"),
            reading("capacitance", 4.9, component="run-capacitor", position="fan"),
        )
        a = judge(f)
        assert named(a, "capacitor deviation, compressor section").value == pytest.approx(-14.5)
        assert named(a, "capacitor deviation, compressor section").judgement == "outside"
        assert named(a, "capacitor deviation, fan section").judgement == "within"

    def test_a_section_that_is_not_named_is_not_guessed(self):
        f = facts(
            reading("capacitance", 40, component="run-capacitor", basis="rated"),
            reading("capacitance", 5, component="run-capacitor", basis="rated"),
            reading("capacitance", 34.2, component="run-capacitor"),
        )
        assert "which section" in named(judge(f), "capacitor deviation").formula

    def test_only_the_maker_judges_a_hermetic_winding(self):
        motor = facts(reading("insulation-resistance", 3, component="supply-fan-motor"))
        hermetic = facts(reading("insulation-resistance", 3, component="compressor"))
        assert judge(motor).computed[0].judgement == "outside"
        assert judge(hermetic).computed[0].judgement == "unknown"
        assert "maker's own limit" in judge(hermetic).computed[0].expected

    def test_windings_in_series(self):
        f = facts(
            *(
                reading("resistance", v, component="compressor", legs=p)
                for v, p in ((1.1, "C-R"), (2.6, "C-S"), (3.7, "R-S"))
            )
        )
        assert named(judge(f), "winding mismatch, compressor").judgement == "within"


class TestSensors:
    def test_curves_that_agree_need_no_type(self):
        f = facts(
            reading("resistance", 11200, component="return-air-sensor"), reading("return-air-temperature", 72)
        )
        sensor = named(judge(f), "sensor against its curve, return air")
        assert sensor.judgement == "within"
        assert "10K-2" in sensor.formula
        assert "10K-3" in sensor.formula

    def test_curves_that_disagree_leave_it_unknown(self):
        f = facts(
            reading("resistance", 21000, component="outdoor-air-sensor"),
            reading("outdoor-air-temperature", 48),
        )
        assert named(judge(f), "sensor against its curve, outdoor air").judgement == "unknown"
        known = {"RTU-1": Nameplate(sensor_curve="10K-2")}
        assert named(judge(f, known), "sensor against its curve, outdoor air").judgement == "within"

    def test_ohms_without_a_temperature_are_unknown(self):
        f = facts(reading("resistance", 11200, component="return-air-sensor"))
        assert (
            "missing: return air temperature"
            in named(judge(f), "sensor against its curve, return air").formula
        )

    def test_kilohms_and_celsius_are_converted(self):
        f = facts(
            reading("resistance", 10.0, ucum="kOhm", component="return-air-sensor"),
            reading("return-air-temperature", 25, ucum="Cel"),
        )
        assert named(judge(f), "sensor against its curve, return air").judgement == "within"


class TestGas:
    def test_flue_gas_without_oxygen_is_unknown(self):
        co = named(judge(facts(reading("co", 60, position="flue"))), "CO air-free")
        assert co.judgement == "unknown"
        assert "missing: oxygen" in co.formula

    def test_plain_air_in_the_probe_is_refused(self):
        f = facts(reading("co", 5, position="flue"), reading("oxygen", 20.9, position="flue"))
        assert "plain air" in named(judge(f), "CO air-free").formula

    def test_ambient_monoxide_never_stands_in_for_flue(self):
        a = judge(facts(reading("co", 12, position="ambient"), reading("oxygen", 8, position="flue")))
        assert named(a, "CO air-free") is None
        assert named(a, "CO in the air").judgement == "outside"

    def test_an_idle_machine_gets_no_split(self):
        f = facts(reading("supply-air-temperature", 72), reading("return-air-temperature", 72))
        assert named(judge(f), "temperature split").judgement == "unknown"

    def test_draft_against_the_mark_on_the_switch(self):
        f = facts(reading("draft", -0.84), reading("draft", 0.65, basis="rated"))
        assert named(judge(f), "draft margin").value == pytest.approx(0.19)


class TestBelts:
    def test_another_belt_than_the_plate_calls_for(self):
        f = facts(reading("belt-size", text="BX46"), reading("belt-size", text="BX44", basis="rated"))
        assert named(judge(f), "belt against the plate").judgement == "outside"

    def test_deflection_is_worked_out_from_the_span_and_never_judged(self):
        f = facts(
            reading("belt-deflection", 0.375),
            reading("pulley-diameter", 4.25, component="motor-pulley"),
            reading("pulley-diameter", 7, component="sheave"),
            part("supply-fan-belt", size="BX44"),
        )
        value = named(judge(f), "belt deflection for the span")
        assert value.value == pytest.approx(0.22, abs=0.005)
        assert value.judgement == "unknown"
        assert "force" in value.expected


def test_stated_superheat_that_the_readings_contradict_is_pointed_out():
    a = judge(facts(*PRESSURES, reading("superheat", 25), refrigerant="R-410A"))
    assert [c.name for c in a.computed if c.name.startswith("superheat")] == ["superheat"]
    assert any(c.id.startswith("C13") and "25" in c.text for c in a.cautions)


def test_stated_superheat_is_judged_where_it_cannot_be_worked_out():
    value = named(judge(facts(reading("superheat", 30))), "superheat")
    assert value.judgement == "outside"
    assert value.formula == "30 °F as said"


def test_a_pressure_off_the_table_is_unknown_with_the_reason():
    f = facts(
        reading("suction-pressure", 2000), reading("suction-line-temperature", 55), refrigerant="R-410A"
    )
    assert "outside the R-410A table" in named(judge(f), "superheat").formula


@pytest.mark.parametrize("unit", ["[psi]", "no-unit"])
@pytest.mark.parametrize("basis", ["measured", "rated"])
def test_a_reading_in_a_unit_of_another_kind_is_pointed_out_and_used_for_nothing(unit, basis):
    for point in (
        "supply-air-temperature",
        "current",
        "capacitance",
        "resistance",
        "refrigerant-charge",
        "speed",
    ):
        odd = reading(point, 50, ucum=unit, basis=basis)
        a = judge(facts(odd, *PRESSURES, refrigerant="R-410A"))
        assert not any(odd.id in c.inputs for c in a.computed)
        assert any(odd.id in c.because and "does not measure this" in c.text for c in a.cautions)


def test_an_impossible_altitude_is_refused():
    with pytest.raises(BadInput, match="altitude"):
        judge(facts(*PRESSURES, refrigerant="R-410A"), altitude_ft=100000)


def test_ids_stay_the_same_when_other_things_are_said():
    few = judge(facts(*PRESSURES, refrigerant="R-410A"))
    more = judge(facts(reading("flame-signal", 3), *PRESSURES, work("clean", "burner"), refrigerant="R-410A"))
    assert named(few, "superheat").id == named(more, "superheat").id
    ids = [c.id for c in more.computed]
    assert len(ids) == len(set(ids))


def test_work_alone_computes_nothing():
    assert judge(facts(work("clean", "condenser-coil"), finding("condenser-coil", "dirty"))).computed == ()
