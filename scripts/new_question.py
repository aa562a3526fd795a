"""Write the files of a new question: a module, a test, an outside check, and its room."""

from __future__ import annotations

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

MODULE = '''"""{words} (say in one line what this is about)."""

from __future__ import annotations

from calculators.bench import GEOMETRY, Answer, Drawing, Figure, Question, Value, length, number_in, printed, quantity


class {name}(Question):
    """Say where the answer stops to hold."""

    asks = "How far is it from the middle to the rim?"
    tells = "Radius"
    diameter = length("Diameter", 1, 500, why="parts of an engine", example="80 mm", said="diameter {{}}")

    def answer(self) -> Answer:
        radius = quantity(number_in(self.diameter, "mm") / 2, "mm")  # a ± that was typed goes along
        drawing = Drawing(340, 120)
        drawing.circle(170, 60, 50)
        worked = Value(
            key="radius",
            label="Radius",
            quantity=radius,
            units=("mm", "in"),
            formula="diameter ÷ 2",
            source=GEOMETRY,
            given=(("diameter", self.diameter),),
        )
        return Answer(
            headline=printed(radius, "mm"),
            says=f"The radius is {{printed(radius, 'mm')}}.",
            drawing=Figure(key="circle", title="The circle", svg=drawing.svg("A circle of that diameter.")),
            values=(worked,),
        )
'''

TEST = '''"""{words}."""

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered


def test_half_of_the_diameter_and_of_its_limit():
    radius = answered("{room}.{question}", diameter="80 ± 0.2 mm").value("radius").quantity
    assert magnitude_in(radius, "mm") == pytest.approx(40)
    assert uncertainty_in(radius, "mm") == pytest.approx(0.2 / 2 * 2 / 3**0.5)  # limit / √3, k = 2: JCGM 100, 4.3.7


def test_rejects_what_no_part_is():
    with pytest.raises(InputErrors, match="Diameter must be between 1 mm and 500 mm"):
        answered("{room}.{question}", diameter="0.5 mm")
'''

CHECK = """- ours: 'value("{room}.{question}", "radius", "mm", diameter="80 mm")'
  expected: 40
  within: 1.0e-9
  unit: mm
  source: definition
  place: radius and diameter
  known: identity
"""


def write(name: str, root: Path = ROOT) -> list[Path]:
    """Write what a question needs, and return the files that were made or added to.

    Parameters
    ----------
    name : str
        ``room.question``, both lower case with underscores.

    Raises
    ------
    ValueError
        For a name that is none, or that is taken.
    """
    shape = re.fullmatch(r"([a-z][a-z0-9_]*)\.([a-z][a-z0-9_]*)", name)
    if not shape:
        raise ValueError(f"{name} must be written room.question, in lower case")
    room, question = shape.groups()
    words = question.replace("_", " ").capitalize()
    facts = {"room": room, "question": question, "words": words, "title": room.replace("_", " ").capitalize()}
    facts["name"] = "".join(part.capitalize() for part in question.split("_"))
    home = root / "calculators" / room
    module, test = home / f"{question}.py", root / "tests" / room / f"test_{question}.py"
    if module.exists():
        raise ValueError(f"{module.relative_to(root)} is there already")
    made = {module: MODULE, test: TEST}
    if not (home / "__init__.py").exists():
        made[home / "__init__.py"] = '"""Say in one line what this room is about."""\n\nTITLE = "{title}"\n'
    for path, text in made.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text.format(**facts), encoding="utf-8")
    checks = root / "tests" / "reference" / "checks" / f"{room}.yml"
    with checks.open("a", encoding="utf-8") as file:
        file.write(CHECK.format(**facts))
    return [*made, checks]


def main() -> int:
    """Run the command; return 2 with one line where there is nothing to write."""
    if len(sys.argv) != 2:
        print("Usage: scripts/new ROOM.QUESTION", file=sys.stderr)
        return 2
    try:
        written = write(sys.argv[1])
    except ValueError as wrong:
        print(wrong, file=sys.stderr)
        return 2
    for path in written:
        print(path.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
