"""What goes on each kind of joint."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered
from calculators.sealing.joints import JOINTS
from calculators.sealing.what_goes_on import SEALED


def answer(joint):
    return answered("sealing.what_goes_on", joint=joint)


def test_every_kind_that_is_planned_is_told_and_drawn():
    assert SEALED.keys() == JOINTS.keys()
    drawn = {answer(joint).drawing.svg for joint in JOINTS}
    assert len(drawn) == len(JOINTS)


@pytest.mark.parametrize("joint", JOINTS)
def test_what_to_mind_is_said_where_it_is_laid(joint):
    name, mind = JOINTS[joint]
    found = answer(joint)
    assert found.says.startswith(name.capitalize())
    assert mind in found.says
    lay = next(step for step in found.steps.stages[0].steps if step.key == "lay")
    assert lay.words == f"{found.headline}. {mind}"


@pytest.mark.parametrize("joint", ["tube", "pipe", "drain", "cooler", "barrel_head"])
def test_a_dry_seal_is_not_warned_of_as_a_sealer_is(joint):
    found = answer(joint)
    assert not any("sealer" in caution.text for caution in found.warnings)
    assert "solvent" not in str(found.steps)
    assert "tag" not in [step.key for step in found.steps.stages[0].steps]


@pytest.mark.parametrize("joint", ["case", "barrel_foot", "stud", "cover"])
def test_a_sealer_is_warned_of_before_it_is_laid(joint):
    told = " ".join(caution.text for caution in answer(joint).warnings)
    assert "catches fire" in told
    assert "chlorinated" in told
    assert "block an oilway" in told
    assert answer(joint).steps.stages[0].steps[-1].key == "tag"


@pytest.mark.parametrize(("joint", "warned"), [("case", True), ("cover", True), ("exhaust", True), ("tube", False)])
def test_old_jointing_is_warned_of_where_there_can_be_any(joint, warned):
    assert any("asbestos" in caution.text for caution in answer(joint).warnings) == warned


def test_an_unknown_joint_is_refused():
    with pytest.raises(InputErrors, match="Joint must be one of: barrel_foot, "):
        answer("roof")


@pytest.mark.parametrize("joint", JOINTS)
def test_the_rags_that_went_in_come_out_before_the_parts_go_together(joint):
    deeds = [step.words for step in answer(joint).steps.stages[0].steps]
    put_in, taken_out = (next(n for n, deed in enumerate(deeds) if deed.startswith(w)) for w in ("Rag in", "Rags out"))
    assert put_in < taken_out < next(n for n, deed in enumerate(deeds) if deed.startswith("Close it"))
