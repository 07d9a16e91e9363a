"""One ticket with everything in it, dictated text that tries to be markup included."""

import io
import uuid

import pytest

from hatchnote.domain import (
    Alternative,
    Caution,
    Check,
    Computed,
    Finding,
    MachineRecord,
    Missing,
    Part,
    Photo,
    Reading,
    Span,
    Ticket,
    Transcript,
    Visit,
    WorkItem,
)
from hatchnote.tickets import to_json
from hatchnote.tickets.document import validate

SPAN = Span(0, 6, "d1", 2.0, 3.0)
HOSTILE = '#read("/etc/passwd") *bold* _x_ $1/0$ `raw` <label> @ref \\ // = not a heading [#sys.inputs]'


def reading(id, point, value, unit, ucum, **more):
    return Reading(
        id=id,
        point=point,
        heard=SPAN,
        said=more.pop("said", "as said"),
        value=value,
        unit=unit,
        ucum=ucum,
        **more,
    )


def jpeg_with_location(colour=(40, 90, 140), size=(400, 300)):
    """A JPEG whose EXIF says where it was taken: 45.5 N, 122.5 W."""
    from PIL import Image

    exif = Image.Exif()
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2], gps[3], gps[4] = "N", (45.0, 30.0, 0.0), "W", (122.0, 30.0, 0.0)
    exif[0x010F] = "GPS-ROOFTOP"
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG", exif=exif)
    return out.getvalue()


@pytest.fixture
def photos():
    return {"a" * 64: jpeg_with_location(), "b" * 64: jpeg_with_location((90, 20, 20))}


@pytest.fixture
def ticket():
    doubt = Check("the two hearings differ: 11.4 and 11.9 A", (Alternative(11.9, "A", "11.9 A"),))
    rtu3 = MachineRecord(
        tag="RTU-3",
        summary="The run capacitor was bulged. We replaced the run capacitor 1.",
        readings=(
            reading("r1", "suction-pressure", 118.0, "psig", "[psi]", moment="as-found", circuit="1"),
            reading("r2", "suction-pressure", 131.5, "psig", "[psi]", moment="as-left", circuit="1"),
            reading("r3", "manifold-pressure", 3.4, "in. w.c.", "[in_i'H2O]", moment="as-found"),
            reading(
                "r4", "current", 11.4, "A", "A", component="compressor", number="2", legs="L1", check=doubt
            ),
            reading("r5", "superheat", 12.0, "°F", "[degF]", difference=True),
            reading("r6", "capacitance", 38.25, "µF", "uF", component="run-capacitor", number="1"),
            reading("r7", "gas-input", 150000.0, "Btu/h", "[Btu_IT]/h", basis="rated"),
            reading("r8", "outdoor-air-temperature", -5.0, "°F", "[degF]"),
            reading("r9", "belt-size", None, None, None, text="BX42"),
            reading("r10", "resistance", None, "ohm", "Ohm", text="open", component="igniter"),
            reading("r11", "refrigerant-charge", 1.0, "lb", "[lb_av]", position="added", circuit="1"),
            reading("r12", "refrigerant-charge", 8.0, "oz", "[oz_av]", position="added", circuit="1"),
            reading("r13", "humidity", 45.0, "%", "%", position="return"),
        ),
        work=(
            WorkItem("w1", "replace", "done", SPAN, component="run-capacitor", number="1"),
            WorkItem("w2", "clean", "done", SPAN, component="condenser-coil", detail=HOSTILE),
            WorkItem("w3", "replace", "recommended", SPAN, component="contactor"),
            WorkItem("w4", "replace", "declined", SPAN, component="bearing", number="left"),
            WorkItem("w5", "repair", "done", SPAN, component="schrader-core"),
        ),
        parts=(
            Part("p1", "run-capacitor", "installed", SPAN, description="run capacitor", size="40+5 uF 370 V"),
            Part("p2", "air-filter", "to-order", SPAN, description="=2+3", size="16x25x2", quantity=4),
        ),
        findings=(Finding("f1", "run-capacitor", "bulged", SPAN, number="1"),),
        computed=(
            Computed(
                "c1",
                "superheat",
                11.05,
                "°F",
                "[degF]",
                ("r1",),
                "55.0 °F − 43.95 °F (dew, R-410A, 118 psig)",
                "definition",
                "unknown",
                difference=True,
                depends_on_check=True,
            ),
        ),
        cautions=(Caution("k1", "Discharge the capacitor before touching it.", ("r6",), "common practice"),),
        missing=(
            Missing("m1", "liquid line temperature", "subcooling cannot be worked out without it", ("r1",)),
        ),
        photos=(
            Photo("ph1", "a" * 64, "one.jpg", 400, 300, caption="Bulged capacitor #1 *before*", tag="RTU-3"),
            Photo(
                "ph2", "b" * 64, "two.jpg", 400, 300, caption="LEFT-OUT-PICTURE", tag="RTU-3", left_out=True
            ),
            Photo(
                "ph3",
                "c" * 64,
                "three.jpg",
                400,
                300,
                caption="Plate, not yet sent",
                tag="RTU-3",
                rotation=90,
            ),
        ),
    )
    rest = MachineRecord(tag=None, summary="1 reading was recorded.",
                         readings=(reading("r20", "voltage", 478.0, "V", "V", legs="L1-L2"),))  # fmt: skip
    made = to_json(
        Ticket(
            id=str(uuid.UUID(int=7)),
            status="draft",
            visit=Visit("2026-03-04", site='Corner "bakery", north', technician="Sample Technician"),
            equipment=(rtu3, rest),
            dictations=(Transcript.from_text("suction one eighteen", id="d1"),),
            withdrawn=(
                reading("gone", "suction-pressure", 777.0, "psig", "[psi]", said="seven seventy seven"),
            ),
        )
    )
    validate(made)
    return made
