"""What scripts/new writes."""

import pytest

from scripts import room_pages
from scripts.new_question import ROOT, write


def test_a_new_question_is_four_files_at_most(tmp_path):
    (tmp_path / "tests/reference/checks").mkdir(parents=True)
    first = [path.relative_to(tmp_path).as_posix() for path in write("rods.ratio", tmp_path)]
    assert first == [
        "calculators/rods/ratio.py",
        "tests/rods/test_ratio.py",
        "calculators/rods/__init__.py",
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


def test_a_room_without_a_page_gets_one_and_one_with_a_page_keeps_it(tmp_path):
    assert "work-it-out/lash.md" not in room_pages.made(ROOT / "docs")
    (tmp_path / "work-it-out").mkdir()
    (tmp_path / "work-it-out/torque.md").write_text("# Torque\n")
    made = room_pages.made(tmp_path)
    assert made["work-it-out/running-in.md"] == "running_in"
    assert "work-it-out/torque.md" not in made
    nav = room_pages.with_rooms([{"Work it out": ["work-it-out/index.md"]}, "x.md"], {"work-it-out/lash.md": "lash"})
    assert nav == [{"Work it out": ["work-it-out/index.md", {"Valve lash": "work-it-out/lash.md"}]}, "x.md"]
