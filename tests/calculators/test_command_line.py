"""The command line: answers on stdout with 0, mistakes one a line on stderr with 2, never a traceback."""

import io
import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from calculators import InputErrors
from calculators.__main__ import _program, main
from calculators.bench.question import entries_and_columns, questions
from calculators.bench.terminal import spelled_out
from tests.examples import wide

ROOT = Path(__file__).parents[2]
CARD = str(ROOT / "docs/engines/marram-f4.yml")
KEPT = str(ROOT / "tests/jobs/format-2.json")
TYPED = ("pattern=4", "graduation=1")


def run(capsys, *arguments):
    code = main(list(arguments))
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_list_names_every_question(capsys):
    code, out, err = run(capsys, "list")
    assert (code, err) == (0, "")
    assert [line.split()[0] for line in out.splitlines()] == list(questions())
    assert all(found.asks in out for found in questions().values())


@pytest.mark.parametrize("name", questions())
def test_describe_tells_every_entry_of_every_question(capsys, name):
    code, out, err = run(capsys, "describe", name)
    assert (code, err) == (0, "")
    for entry, _ in entries_and_columns(questions()[name]):
        assert f"{entry.key}: {entry.label} (" in out


@pytest.mark.parametrize("name", questions())
def test_describe_as_json_gives_what_a_program_needs(capsys, name):
    code, out, _ = run(capsys, "describe", name, "--json")
    data = json.loads(out)
    assert code == 0
    assert (data["name"], data["asks"]) == (name, questions()[name].asks)
    for entry in data["entries"]:
        assert {"key", "label", "kind", "units", "low", "high", "why", "usual", "hint"} <= entry.keys()


def test_run_answers_in_words(capsys):
    code, out, err = run(capsys, "run", "torque.wrench", "target=37 Nm", "pattern=4", "graduation=1")
    assert (code, err) == (0, "")
    asks = questions()["torque.wrench"].asks
    assert out.startswith(f"{asks}\n{'=' * len(asks)}\n\n")
    assert "Set the wrench to 12, 25 and 37 N·m" in out
    assert "target: 37 N·m (typed)" in out


def test_run_as_json_is_unrounded_and_says_where_each_entry_comes_from(capsys):
    code, out, _ = run(capsys, "run", "fasteners.convert", "torque=100 N·m", "--json")
    data = json.loads(out)
    assert code == 0
    assert {"values", "tables", "warnings", "notes", "taken", "k", "example"} <= data.keys()
    numbers = [value["magnitude"] for value in data["values"]] + [
        cell for table in data["tables"] for row in table["rows"] for cell in row.values()
    ]
    feet = 73.7562149277  # scipy.constants, lbf · foot
    assert any(isinstance(one, int | float) and one == pytest.approx(feet, rel=1e-10) for one in numbers)
    for value in data["values"]:
        assert {"key", "label", "magnitude", "unit", "uncertainty", "source"} <= value.keys()
    assert data["taken"]["torque"]["origin"] == "typed"


def test_run_takes_absent_entries_from_a_card_of_ones_own(capsys, tmp_path):
    card = tmp_path / "mine.yml"
    card.write_text((ROOT / "docs/engines/marram-f4.yml").read_text(encoding="utf-8").replace("invented", "measured"))
    code, out, _ = run(capsys, "run", "torque.wrench", "graduation=1", "--card", str(card))
    assert code == 0
    assert "target: 34 N·m (card)" in out
    code, _, err = run(capsys, "run", "torque.wrench", "graduation=1", "--card", CARD)
    assert (code, err.splitlines()[0]) == (
        2,
        "Enter the final torque, in newton metres",
    )  # a made-up engine's is no fact


def test_options_may_stand_anywhere(capsys):
    code, out, _ = run(capsys, "run", "torque.wrench", "target=20", "--json", "pattern=4", "graduation=1")
    assert (code, json.loads(out)["taken"]["target"]["text"]) == (0, "20")


def test_a_question_takes_the_entries_of_those_it_rests_on_too(capsys):
    chain = ("bore=80", "stroke=74", "cylinders=1", "fill=49.1 49.2", "deck=0.4", "spacer=0", "burette_error=0.4")
    code, out, err = run(capsys, "run", "compression.ratio", *chain)
    assert (code, err) == (0, "")
    assert "chamber.1: " in out
    assert "(worked out)" in out


def test_each_wrong_entry_gets_one_line_on_stderr(capsys):
    code, out, err = run(capsys, "run", "torque.wrench", "target=", "graduation=1 mm", "passes=99", "boar=1")
    assert (code, out) == (2, "")
    (line,) = err.splitlines()
    assert line.startswith("torque.wrench has no entry boar; it has ")
    code, out, err = run(capsys, "run", "torque.wrench", "target=", "graduation=1 mm", "passes=99")
    assert (code, out) == (2, "")
    assert sorted(err.splitlines()) == [
        "Enter the final torque, in newton metres",
        "Number of passes must be between 1 and 8",
        "Wrench scale step must use a unit of torque, like N·m or lbf·ft",
    ]


def test_wrong_entries_as_json_name_entry_and_message(capsys):
    code, out, err = run(capsys, "run", "torque.wrench", "target=x", "pattern=4", "graduation=1", "--json")
    assert (code, err) == (2, "")
    assert json.loads(out) == {"errors": [{"field": "target", "message": "Final torque must be a number, like 34"}]}


def test_a_word_without_an_equals_sign_is_named(capsys):
    code, out, err = run(capsys, "run", "torque.wrench", "37", "target")
    assert (code, out) == (2, "")
    assert err.splitlines() == ["37 must be written key=value", "target must be written key=value"]


@pytest.mark.parametrize("command", ["run", "describe"])
@pytest.mark.parametrize("name", ["horoscope", "torque.horoscope", "torque_stages", "torque"])
def test_an_unknown_question_is_named_with_those_there_are(capsys, command, name):
    code, out, err = run(capsys, command, name)
    assert (code, out) == (2, "")
    assert err.startswith(f"There is no question {name}; there are ")
    assert "torque.wrench" in err
    assert len(err.splitlines()) == 1


def test_a_missing_card_is_named(capsys, tmp_path):
    code, out, err = run(capsys, "run", "torque.wrench", "--card", str(tmp_path / "none.yml"))
    assert (code, out) == (2, "")
    assert err == f"{tmp_path / 'none.yml'}: there is no such file\n"


def test_each_fault_of_a_card_gets_one_line(capsys, tmp_path):
    path = tmp_path / "mine.yml"
    path.write_text("format: 2\nname: Mine\nabout: One\nlayout: []\n", encoding="utf-8")
    code, _, err = run(capsys, "run", "torque.wrench", "--card", str(path))
    assert code == 2
    assert err.splitlines() == [
        f"{path}: format is 2; it must be 1",
        f"{path}: layout is a list; it must be a mapping of keys",
    ]
    code, out, _ = run(capsys, "run", "torque.wrench", "--card", str(path), "--json")
    assert [error["field"] for error in json.loads(out)["errors"]] == ["card", "card"]


@pytest.mark.parametrize(
    "arguments",
    [[], ["cook"], ["list", "more"], ["describe"], ["run", "torque.wrench", "--colour"], ["list", "--json"]],
)
def test_a_command_that_does_not_exist_ends_with_two(capsys, arguments):
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    assert "Traceback" not in capsys.readouterr().err


def test_what_is_a_bug_is_not_dressed_up_as_a_mistake(monkeypatch):
    # only the input's own errors are told to the reader; anything else must come to light
    monkeypatch.setattr("calculators.__main__.described_text", lambda name: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        main(["describe", "torque.wrench"])
    assert not issubclass(ZeroDivisionError, InputErrors)


def test_answers_as_a_program_of_its_own():
    command = [sys.executable, "-m", "calculators", "run", "torque.wrench", "target=x", "pattern=4", "graduation=1"]
    ended = subprocess.run(
        command, capture_output=True, text=True, encoding="utf-8", cwd=ROOT, timeout=300, check=False
    )
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr == "Final torque must be a number, like 34\n"


def test_a_reader_that_has_seen_enough_is_no_fault():
    command = [sys.executable, "-m", "calculators", "describe", "torque.wrench"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as running:
        running.stdout.close()  # before anything is written
        said = running.stderr.read()
        assert (running.wait(300), said) == (0, b"")


def program(*arguments, redirect="", encoding="utf-8", **environment):
    """Run the command line as a program of its own, through a shell that redirects its outputs."""
    command = " ".join(map(shlex.quote, (sys.executable, "-m", "calculators", *arguments)))
    return subprocess.run(
        ["/bin/sh", "-c", f"{command} {redirect}"],
        capture_output=True,
        cwd=ROOT,
        timeout=600,
        check=False,
        env=os.environ | {"PYTHONIOENCODING": encoding} | environment,
    )


@pytest.fixture
def ended_on(monkeypatch):
    """Run the command line in this process, on outputs of its own; return its end."""

    def run_on(outputs, *arguments):
        with monkeypatch.context() as here:
            for name, output in zip(("stdout", "stderr"), outputs, strict=True):
                here.setattr(sys, name, output)
            here.setattr(sys, "argv", ["calculators", *arguments])
            code = _program()
            for output in outputs:
                if output:
                    output.flush()
        return code

    return run_on


def in_memory(encoding):
    return io.TextIOWrapper(io.BytesIO(), encoding=encoding)


@pytest.fixture
def shown(ended_on):
    """Run the command line in this process, on a terminal of its own; return the end and both outputs' bytes."""

    def run_in(encoding, *arguments):
        outputs = [in_memory(encoding) for _ in range(2)]
        return ended_on(outputs, *arguments), *(output.buffer.getvalue() for output in outputs)

    return run_in


@pytest.mark.parametrize("arguments", [("describe", "torque.wrench"), ("run", "torque.wrench", "target=34 µm")])
def test_in_this_process_it_writes_what_it_writes_as_a_program(shown, arguments):
    done = program(*arguments, encoding="ascii")
    assert shown("ascii", *arguments) == (done.returncode, done.stdout, done.stderr)


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "cp437", "utf-8"])
@pytest.mark.parametrize(
    ("arguments", "in_ascii"),
    [
        (("describe", "torque.wrench"), "units: N.m, lbf.ft"),
        (("run", "torque.wrench", *TYPED, "target=34"), "target: 34 N.m (typed)"),
        (("run", "measuring.even", "cylinders=2", "chamber=49.1 ± 0.2; 49.5"), "+/-"),
        (("run", "fasteners.drill", "thread=M10 × 1.5"), "M10 x 1.5"),
        (("list",), "torque.wrench"),
    ],
)
def test_writes_what_the_terminal_can_show(shown, encoding, arguments, in_ascii):
    code, out, err = shown(encoding, *arguments)
    assert (code, err) == (0, b"")
    text = out.decode(encoding)
    asked = shown("utf-8", *arguments)[1].decode().count("?")
    assert "?" not in text.replace("?", "", asked)
    if encoding == "ascii":
        assert in_ascii in text


def test_data_keep_every_letter_on_any_terminal(shown):
    asked = ("run", "torque.wrench", *TYPED, "target=34", "--json")
    assert json.loads(shown("ascii", *asked)[1]) == json.loads(shown("utf-8", *asked)[1])


def test_an_error_names_what_the_terminal_cannot_show(shown):
    code, _, err = shown("ascii", "run", "torque.wrench", *TYPED, "target=34 µm")
    assert code == 2
    assert b"Final torque must use a unit of torque, like N.m or lbf.ft" in err
    assert b"has no entry \\xb5\\udc" not in program("run", "torque.wrench", "µ=1", encoding="ascii").stderr


def test_columns_stand_in_line_where_signs_are_spelled_out(shown):
    asked = ("run", "springs.shims", "height=32.1; 31.9", "seat_load=180 N", "spring_rate=12")
    plain, spelled = (shown(encoding, *asked)[1].decode() for encoding in ("utf-8", "ascii"))
    for text in (plain, spelled):
        for block in re.findall(r"\n-+\n((?:[ *] .*\n)+)", text):
            heading, *rows = block.splitlines()
            starts = [found.end() for found in re.finditer(r"  +", heading)]
            assert all(row[at - 1 : at] in (" ", "") for at in starts for row in rows), block


OUTPUTS = [
    ("list",),
    ("describe", "torque.wrench"),
    ("run", "torque.wrench", *TYPED, "target=34"),
    ("run", "torque.wrench", *TYPED, "target=34", "--json"),
    ("job", "check", KEPT),
    ("job", "report", KEPT),
]
OF_EACH_KIND = (OUTPUTS[0], OUTPUTS[-1])  # what is printed, and what is written as bytes
AS_PROGRAMS = [
    pytest.param(arguments, id=" ".join(arguments), marks=() if arguments in OF_EACH_KIND else wide)
    for arguments in OUTPUTS
]


def full():
    return Path("/dev/full").open("w", encoding="utf-8")


def unread():
    """Return an output that nobody reads any more."""
    reads, writes = os.pipe()
    os.close(reads)
    return os.fdopen(writes, "w", encoding="utf-8")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("arguments", OUTPUTS, ids=" ".join)
def test_no_answer_is_lost_unseen_where_its_output_takes_none(ended_on, arguments):
    for output, code, said in (
        (full(), 1, "The answer could not be written: No space left on device\n"),
        (None, 1, "The answer could not be written: the output is closed\n"),
        (unread(), 0, ""),
    ):
        errors = in_memory("utf-8")
        assert ended_on((output, errors), *arguments) == code
        assert errors.buffer.getvalue().decode() == said
        if output:
            output.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("arguments", AS_PROGRAMS)
@pytest.mark.parametrize(
    ("redirect", "reason"), [(">/dev/full", "No space left on device"), (">&-", "the output is closed")]
)
def test_an_answer_that_cannot_be_written_is_told_in_one_line(arguments, redirect, reason):
    done = program(*arguments, redirect=redirect)
    assert (done.returncode, done.stderr.decode()) == (1, f"The answer could not be written: {reason}\n")


@pytest.mark.parametrize("redirect", ["2>/dev/full", "2>&-"])
def test_an_error_that_nobody_can_be_told_ends_with_two_and_not_among_the_answers(redirect):
    done = program("run", "torque.wrench", "target=x", redirect=redirect)
    assert (done.returncode, done.stdout, done.stderr) == (2, b"", b"")


@pytest.mark.parametrize("arguments", AS_PROGRAMS)
def test_a_reader_that_stops_early_is_no_fault(arguments):
    done = program(*arguments, redirect="| head -c 1")
    assert done.stderr == b""


def test_an_entry_given_twice_is_named_with_both_texts(capsys):
    code, out, err = run(capsys, "run", "torque.wrench", *TYPED, "target=30", "target=34")
    assert (code, out, err) == (2, "", "target is given twice, as 30 and as 34; give it once\n")
    code, _, err = run(capsys, "run", "compression.ratio", "deck.1=0.4", "deck=0.4; 0.5")
    assert (code, err) == (2, "deck.1 is given twice, by itself and in deck; give it once\n")


def test_more_cells_than_rows_are_refused(capsys):
    code, _, err = run(capsys, "run", "measuring.even", "cylinders=2", "chamber=49.1; 49.5; 48.2")
    assert (code, err) == (2, "Chamber volume must have 2 entries, not 3\n")


def test_what_was_typed_is_told_as_it_was_taken(capsys):
    # NIST SP 811 (2008), B.8: 1 in is 25.4 mm
    arguments = (
        "compression.ratio",
        "bore=80",
        "stroke=74",
        "cylinders=2",
        "chamber=49.1; 48,6",
        "deck=0.016 in; 0.4 mm",
    )
    code, out, _ = run(capsys, "run", *arguments, "spacer=0; 0")
    assert code == 0
    told = out.partition("\nTaken\n")[2].splitlines()[1:]
    assert {"deck.1: 0.016 in (typed)", "deck.2: 0.4 mm (typed)", "chamber.2: 48.6 cm³ (typed)"} <= set(told)
    code, out, _ = run(capsys, "run", *arguments, "spacer=0; 0", "--json")
    assert json.loads(out)["taken"]["chamber.2"]["understood"] == "48.6 cm³ (typed)"


@pytest.mark.parametrize("text", ["10,000", "10,000 r/min"])
def test_a_comma_that_can_part_thousands_is_asked_about(capsys, text):
    code, out, err = run(capsys, "run", "timing.light", f"light_speed={text}")
    assert (code, out) == (2, "")
    assert f"{text} can be 10000 or 10. Type one of them" in err


def report_to(place, *more):
    return main(["job", "report", str(KEPT), *more, "-o", str(place)])


@pytest.mark.parametrize("place", ["", "nowhere/handover.html"])
def test_a_report_that_cannot_be_written_is_told_in_one_line(capsys, tmp_path, place):
    assert report_to(tmp_path / place) == 2
    assert re.fullmatch(
        rf"{re.escape(str(tmp_path / place))}: it cannot be written: [A-Z].*\n", capsys.readouterr().err
    )
    assert not list(tmp_path.iterdir())


def test_a_report_is_written_whole_or_not_at_all(capsys, tmp_path, monkeypatch):
    place = tmp_path / "handover.html"
    place.write_text("before", encoding="utf-8")

    def refused(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refused)
    assert report_to(place) == 2
    assert capsys.readouterr().err == f"{place}: it cannot be written: No space left on device\n"
    assert [(path.name, path.read_text(encoding="utf-8")) for path in tmp_path.iterdir()] == [(place.name, "before")]


def test_half_of_a_surrogate_pair_becomes_the_sign_for_what_cannot_be_shown(capsys, shown, tmp_path):
    data = json.loads(Path(KEPT).read_text(encoding="utf-8"))
    data["jobs"][0]["about"]["name"] = "Van \ud83d and \ud83d\udd27"
    data["jobs"][0]["notes"][0]["text"] = "\udfff loose"
    path = tmp_path / "job.json"
    path.write_text(json.dumps(data), encoding="utf-8")
    place = tmp_path / "handover.html"
    assert main(["job", "report", str(path), "-o", str(place)]) == 0
    assert "\ufffd loose" in place.read_text(encoding="utf-8")
    code, out, err = shown("utf-8", "job", "check", str(path))
    assert (code, err) == (0, b"")
    assert out.startswith(b"0123456789abcdef  Van ")
    assert shown("utf-8", "job", "report", str(path))[1] == place.read_bytes() + b"\n"


def test_a_sheet_on_the_screen_is_the_same_bytes_on_any_terminal(shown):
    on_one = shown("utf-8", "job", "report", KEPT)
    assert on_one[1]
    assert shown("ascii", "job", "report", KEPT) == on_one
    assert program("job", "report", KEPT, encoding="ascii").stdout == on_one[1]


@pytest.mark.parametrize(("place", "kind"), [("", "a folder"), (os.devnull, "a device")])
def test_a_card_that_is_no_file_is_named_as_what_it_is(capsys, tmp_path, place, kind):
    found = str(tmp_path / place)
    assert run(capsys, "run", "torque.wrench", "--card", found)[::2] == (2, f"{found}: this is {kind}, not a file\n")


def test_no_sign_of_ours_is_lost_where_it_is_spelled_out():
    signs = {
        letter
        for path in (ROOT / "calculators").rglob("*")
        if path.suffix in (".py", ".html", ".txt")
        for letter in path.read_text(encoding="utf-8")
        if not letter.isascii()
    }
    lost = {letter for letter in signs if "?" in spelled_out(letter)}
    assert not lost - set("－＋＝＠🔧"), lost
    assert spelled_out("1½ in, ½ in, 10⁶ and 10⁻⁶") == "1 1/2 in, 1/2 in, 10^6 and 10^-6"
