"""The stress of a tightened stud: its ends hold all that frictions and wrench can make of it."""

from hypothesis import example, given
from hypothesis import strategies as st

from calculators.fasteners.tightened_stud import TightenedStud
from calculators.formulas.bolted_joint import combined_stress
from calculators.formulas.threads import FASTENERS, STEELS, clearance_hole, nut_face


@given(
    ends=st.sampled_from([(0.08, 0.16), (0.03, 0.6), (0.2, 0.6)]),
    shares=st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(-0.04, 0.04)),
    name=st.sampled_from(list(FASTENERS)),
)
@example(ends=(0.03, 0.6), shares=(0.2, 1.0, -0.04), name="M10 × 1.5")
def test_the_ends_of_the_stress_hold_every_stress_between(ends, shares, name):
    thread = FASTENERS[name]
    stud = TightenedStud(
        thread=thread, steel=STEELS["8.8"], face=nut_face(thread), hole=clearance_hole(thread), torque=34e3, error=0.04
    )
    in_thread, under_nut = (ends[0] + share * (ends[1] - ends[0]) for share in shares[:2])
    pull = (1 + shares[2]) * stud.torque / stud.arm(in_thread, under_nut)
    least, most = stud.stresses(ends)
    assert least * (1 - 1e-9) <= combined_stress(pull, pull * stud.screw(in_thread), stud.area) <= most * (1 + 1e-9)
