"""What scripts/new writes."""

import pytest

from scripts.new_question import write


def test_a_new_question_is_a_module_a_test_a_check_and_for_a_new_room_its_page(tmp_path):
    (tmp_path / "tests/reference/checks").mkdir(parents=True)
    first = [path.relative_to(tmp_path).as_posix() for path in write("rods.ratio", tmp_path)]
    assert first == [
        "calculators/rods/ratio.py",
        "tests/rods/test_ratio.py",
        "calculators/rods/__init__.py",
        "docs/work-it-out/rods.md",
        "tests/reference/checks/rods.yml",
    ]
    assert len(write("rods.big_eye", tmp_path)) == 3
    assert "class BigEye(Question):" in (tmp_path / "calculators/rods/big_eye.py").read_text()
    assert (tmp_path / "tests/reference/checks/rods.yml").read_text().count("- ours:") == 2


@pytest.mark.parametrize(("name", "why"), [("rods", "must be written"), ("Rods.Ratio", "must be written")])
def test_a_name_that_is_none_is_refused(tmp_path, name, why):
    with pytest.raises(ValueError, match=why):
        write(name, tmp_path)


def test_a_name_that_is_taken_is_refused():
    with pytest.raises(ValueError, match="is there already"):
        write("compression.ratio")
