"""The command line: answers on stdout with 0, mistakes one a line on stderr with 2, never a traceback."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from calculators import InputErrors
from calculators.__main__ import main
from calculators._catalogue import catalogue

ROOT = Path(__file__).parents[2]
CARD = str(ROOT / "docs/engines/marram-f4.yml")


def run(capsys, *arguments):
    code = main(list(arguments))
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_list_names_every_calculator_with_its_purpose(capsys):
    code, out, err = run(capsys, "list")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == list(catalogue())
    assert all(found.purpose in out for found in catalogue().values())


@pytest.mark.parametrize("name", catalogue())
def test_describe_tells_every_field_of_every_calculator(capsys, name):
    code, out, err = run(capsys, "describe", name, "--card", CARD)
    assert (code, err) == (0, "")
    for field in catalogue()[name].form.fields:
        assert f"{field.key}: {field.label} (" in out


@pytest.mark.parametrize("name", catalogue())
def test_describe_as_json_gives_what_a_program_needs(capsys, name):
    code, out, _ = run(capsys, "describe", name, "--json")
    data = json.loads(out)
    assert code == 0
    assert (data["name"], data["title"]) == (name, catalogue()[name].title)
    for field in data["fields"]:
        assert {"key", "label", "kind", "units", "limits", "default", "help"} <= field.keys()


def test_run_answers_in_words(capsys):
    code, out, err = run(capsys, "run", "torque-stages", "target=37 Nm", "pattern=4")
    assert (code, err) == (0, "")
    assert out.startswith("Torque stages\n=============\n\nSet the wrench to 12, 25 and 37 N·m")
    assert "37.0 N·m = 27.3 lbf·ft" in out  # NIST SP 811 (2008), B.8


def test_run_as_json_is_unrounded(capsys):
    code, out, _ = run(capsys, "run", "torque-stages", "target=100 N·m", "pattern=4", "--json")
    data = json.loads(out)
    assert code == 0
    assert {"values", "tables", "cautions", "notes"} <= data.keys()
    row = data["tables"][0]["rows"][-1]
    assert row["lbf_ft"] == pytest.approx(73.7562149277, rel=1e-10)  # scipy.constants, lbf · foot
    for value in data["values"]:
        assert {"key", "label", "magnitude", "unit", "uncertainty", "source"} <= value.keys()


def test_run_takes_absent_fields_from_the_card(capsys):
    code, out, _ = run(capsys, "run", "torque-stages", "--card", CARD)
    assert code == 0
    assert "34.0 N·m" in out


def test_options_may_stand_anywhere(capsys):
    code, out, _ = run(capsys, "run", "torque-stages", "target=20", "--json", "pattern=4", "--card", CARD)
    assert (code, json.loads(out)["values"][0]["magnitude"]) == (0, 20)


def test_each_wrong_field_gets_one_line_on_stderr(capsys):
    code, out, err = run(capsys, "run", "torque-stages", "target=", "graduation=1 mm", "passes=99", "boar=1")
    assert (code, out) == (2, "")
    lines = err.splitlines()
    assert len(lines) == 4
    assert lines[0].startswith("There is no field boar")
    assert lines[1:] == [
        "Enter the final torque, in newton metres",
        "Wrench scale step must use a unit of torque, like N·m or lbf·ft",
        "Number of passes must be between 1 and 8",
    ]


def test_wrong_fields_as_json_name_field_and_message(capsys):
    code, out, err = run(capsys, "run", "torque-stages", "target=x", "pattern=4", "--json")
    assert (code, err) == (2, "")
    assert json.loads(out) == {"errors": [{"field": "target", "message": "Final torque must be a number, like 34"}]}


def test_a_word_without_an_equals_sign_is_named(capsys):
    code, out, err = run(capsys, "run", "torque-stages", "37", "target")
    assert (code, out) == (2, "")
    assert err.splitlines() == ["37 must be written field=value", "target must be written field=value"]


@pytest.mark.parametrize("command", ["run", "describe"])
def test_an_unknown_calculator_is_named_with_those_there_are(capsys, command):
    code, out, err = run(capsys, command, "horoscope")
    assert (code, out) == (2, "")
    assert err.startswith("There is no calculator horoscope; there are ")
    assert "torque-stages" in err


def test_a_name_may_be_spelled_with_underscores(capsys):
    assert run(capsys, "describe", "torque_stages")[0] == 0


def test_a_missing_card_is_named(capsys, tmp_path):
    code, out, err = run(capsys, "run", "torque-stages", "--card", str(tmp_path / "none.yml"))
    assert (code, out) == (2, "")
    assert err == f"{tmp_path / 'none.yml'}: there is no such file\n"


def test_each_fault_of_a_card_gets_one_line(capsys, tmp_path):
    path = tmp_path / "mine.yml"
    path.write_text("format: 2\nname: Mine\nabout: One\nlayout: []\n", encoding="utf-8")
    code, _, err = run(capsys, "run", "torque-stages", "--card", str(path))
    assert code == 2
    assert err.splitlines() == [
        f"{path}: format is 2; it must be 1",
        f"{path}: layout is a list; it must be a mapping of keys",
    ]
    code, out, _ = run(capsys, "run", "torque-stages", "--card", str(path), "--json")
    assert [error["field"] for error in json.loads(out)["errors"]] == ["card", "card"]


@pytest.mark.parametrize(
    "arguments",
    [[], ["cook"], ["list", "more"], ["describe"], ["run", "torque-stages", "--colour"], ["list", "--json"]],
)
def test_a_command_that_does_not_exist_ends_with_two(capsys, arguments):
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


def test_what_is_a_bug_is_not_dressed_up_as_a_mistake(monkeypatch):
    # only the input's own errors are told to the reader; anything else must come to light
    monkeypatch.setattr("calculators.__main__.calculator", lambda name: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        main(["describe", "torque-stages"])
    assert not issubclass(ZeroDivisionError, InputErrors)


def test_answers_as_a_program_of_its_own():
    command = [sys.executable, "-m", "calculators", "run", "torque-stages", "target=x", "--card", CARD]
    ended = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", cwd=ROOT, timeout=30, check=False)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr == "Final torque must be a number, like 34\n"


def test_a_reader_that_has_seen_enough_is_no_fault():
    command = [sys.executable, "-m", "calculators", "describe", "torque-stages"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as running:
        running.stdout.close()  # before anything is written
        said = running.stderr.read()
        assert (running.wait(30), said) == (0, b"")
