"""What the browser's Python is made of, held against the hashes that the repository names."""

from __future__ import annotations

import gzip
import hashlib
import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from calculators.bench.question import questions
from scripts import browser_python
from tests.every_message import TEXTS, every_message
from tests.examples import IS_WIDE


@pytest.fixture
def workshop(tmp_path, monkeypatch):
    """A copy of the runtime to tamper with, and folders of its own to build into."""
    shutil.copytree(browser_python.RUNTIME, tmp_path / "pyodide")
    monkeypatch.setattr(browser_python, "RUNTIME", tmp_path / "pyodide")
    for name in ("BUILD", "OUTPUT", "PARTS"):
        monkeypatch.setattr(browser_python, name, tmp_path / name.lower())
    return tmp_path


@pytest.mark.parametrize("name", browser_python._RUNTIME_FILES)
def test_a_tampered_runtime_file_stops_the_build_with_its_name(workshop, name):
    path = workshop / "pyodide" / name
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)
    with pytest.raises(browser_python.TamperedError, match=rf"^pyodide/{re.escape(name)} is not the one"):
        browser_python.build()
    assert not (workshop / "output").exists()


def test_a_tampered_package_stops_the_build_with_its_name(workshop, monkeypatch):
    honest = browser_python._package

    def tampered(name):
        files = honest(name)
        return files | {"pint/__init__.py": files["pint/__init__.py"] + b"# more"} if name == "pint" else files

    monkeypatch.setattr(browser_python, "_package", tampered)
    with pytest.raises(browser_python.TamperedError, match=r"^pint is not the one"):
        browser_python.build()


def test_every_file_that_is_not_ours_is_named(site):
    named = {line.split()[1] for line in browser_python.HASHES.read_text().splitlines()}
    lock = json.loads((browser_python.OUTPUT / "pyodide-lock.json").read_text())
    assert {name.lower() for name in named if "/" not in name} == set(lock["packages"]) - {"calculators"}
    assert {name for name in named if "/" in name} == {f"pyodide/{name}" for name in browser_python._RUNTIME_FILES}


IN_MEMORY = """
__future__ __main__ _abc _ast _bisect _blake2 _codecs _collections _collections_abc _contextvars _csv _datetime
_decimal _frozen_importlib _frozen_importlib_external _functools _heapq _imp _io _json _locale _md5 _operator _pyodide
_pyodide._base _pyodide._core_docs _pyodide._importhook _pyodide.jsbind _pyodide_core _random _sha1 _sha2 _sha3
_signal _sre _stat _string _struct _thread _tokenize _typing _warnings _weakref _weakrefset abc array ast
asyncio.events atexit binascii bisect builtins calendar codecs collections collections.abc contextlib contextvars copy
copyreg csv dataclasses datetime decimal encodings encodings.aliases encodings.cp437 encodings.unicode_escape
encodings.utf_8 enum errno flexparser.flexparser fnmatch fractions functools gc genericpath glob hashlib heapq
importlib importlib._abc importlib._bootstrap importlib._bootstrap_external importlib.abc importlib.machinery inspect
interpreters io itertools jinja2 jinja2.async_utils jinja2.defaults jinja2.environment jinja2.exceptions
jinja2.filters jinja2.nodes jinja2.runtime jinja2.tests jinja2.utils json json.decoder json.encoder json.scanner
keyword linecache locale logging markupsafe markupsafe._native marshal math numbers operator os os.path pathlib._abc
pathlib._local pint pint._typing pint.babel_names pint.compat pint.converters pint.delegates
pint.delegates.base_defparser pint.delegates.formatter pint.delegates.formatter._compound_unit_helpers
pint.delegates.formatter._format_helpers pint.delegates.formatter._spec_helpers pint.delegates.formatter._to_register
pint.delegates.formatter.full pint.delegates.formatter.html pint.delegates.formatter.latex
pint.delegates.formatter.plain pint.delegates.formatter.sorting pint.delegates.formatter.typst
pint.delegates.txt_defparser.plain pint.errors pint.facets pint.facets.context pint.facets.context.definitions
pint.facets.context.objects pint.facets.context.registry pint.facets.dask pint.facets.group
pint.facets.group.definitions pint.facets.group.objects pint.facets.group.registry pint.facets.measurement
pint.facets.measurement.objects pint.facets.measurement.registry pint.facets.nonmultiplicative
pint.facets.nonmultiplicative.definitions pint.facets.nonmultiplicative.objects pint.facets.nonmultiplicative.registry
pint.facets.numpy pint.facets.numpy.numpy_func pint.facets.numpy.quantity pint.facets.numpy.registry
pint.facets.numpy.unit pint.facets.plain pint.facets.plain.definitions pint.facets.plain.objects pint.facets.plain.qto
pint.facets.plain.quantity pint.facets.plain.registry pint.facets.plain.unit pint.facets.system
pint.facets.system.definitions pint.facets.system.objects pint.facets.system.registry pint.formatting pint.pint_eval
pint.registry pint.registry_helpers pint.util posix posixpath pyodide pyodide._package_loader pyodide._state
pyodide.code pyodide.common pyodide.ffi pyodide.webloop pyodide_js pyodide_js._api random re re._casefix re._compiler
re._constants re._parser reprlib signal site snapshot stat string struct sys textwrap threading time token tokenize
traceback types typing typing_extensions uncertainties uncertainties.core uncertainties.formatting uncertainties.ops
uncertainties.parsing uncertainties.umath uncertainties.umath_core uncertainties.version urllib urllib.parse uuid
warnings weakref zipimport zlib
"""
"""Modules that are not ours, by name. Of some only a class is left that others descend from."""


def test_only_modules_that_answers_need_are_in_the_memory(site):
    others = {name for name in memory()["modules"] if name.partition(".")[0] != "calculators"}
    assert not others - set(IN_MEMORY.split()), "these crept in: import them where they are used, or see snapshot.py"
    assert not set(IN_MEMORY.split()) - others, "these are gone for good: take them off the list"


def memory() -> dict:
    return json.loads(browser_python.PARTS.read_text())


def restored(tmp_path, messages: list) -> list:
    """Return what the Python that readers start from answers."""
    asked, answers = tmp_path / "messages.json", tmp_path / "answers.json"
    asked.write_text(json.dumps(messages), encoding="utf-8")
    program = Path(__file__).with_name("restored.mjs")
    command = ["node", program, browser_python.OUTPUT, browser_python.PARTS, asked, answers]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return json.loads(answers.read_text(encoding="utf-8"))


VISIT = ("torque.", "lash.blades", "cylinders.", "fits.", "ports.", "springs.", "timing.")
"""What a visit to some rooms asks."""
ONE_IN = 1 if IS_WIDE else 7
"""Of the texts that are typed into all boxes of a question so many are; to another question, others."""


def some_messages() -> dict[str, str]:
    asked = dict(every_message())
    typed = [
        name
        for name in asked
        if name.split(" ")[0] in questions() and name.endswith(tuple(f" {text}" for text in TEXTS))
    ]
    return {name: asked[name] for name in sorted(asked.keys() - {*typed} | {*typed[::ONE_IN]}, key=[*asked].index)}


def test_the_memory_answers_all_that_pages_ask_as_the_sources_do_and_has_room_for_a_visit(site, tmp_path):
    from calculators.browser import _ANSWERS, answer_message

    asked = some_messages()
    visit = [name for name in asked if name.startswith(VISIT)]
    assert len(visit) > 100
    asked = {name: asked[name] for name in (*visit, *(name for name in asked if name not in {*visit}))}
    assert len(asked) > 700
    assert {json.loads(message)["want"] for message in asked.values()} == {*_ANSWERS}
    messages: list[object] = [{"memory": True}, *asked.values(), {"came": True}]
    messages.insert(1 + len(visit), {"memory": True})
    before, *said, came = restored(tmp_path, messages)
    after = said.pop(len(visit))
    assert before == after == 22 * 2**20  # a tenth more than the bare runtime begins with
    answers = dict(zip(asked, said, strict=True))
    checks = json.loads(answers.pop("checks"))["checks"]  # whose last bits are the processor's own
    assert len(checks) > 500 and all(check["agrees"] for check in checks)
    wrong = {
        name: answers[name]
        for name, message in asked.items()
        if name in answers and answers[name] != answer_message(message)
    }
    assert not wrong, f"{len(wrong)} differ, first {next(iter(wrong.items()))}"
    assert "seldom" not in came.split(), "an answer calls something new of a library: run tests.usual_functions"


def test_what_no_usual_answer_calls_comes_when_it_is_called(site, tmp_path):
    asks = "lambda asked: {'rest': f'{Q(7, \"mm\") % Q(2, \"mm\"):~}'}"
    more = f"""(lambda Q, answers: answers.update(rest={asks}))(
        __import__("calculators.bench.units").bench.units._REGISTRY.Quantity,
        __import__("calculators.browser").browser._ANSWERS,
    )"""
    _, answer, came = restored(tmp_path, [{"run": more}, '{"want": "rest"}', {"came": True}])
    assert json.loads(answer) == {"rest": "1 mm"}
    assert came == "seldom"


LETTERS = (
    "hashlib.sha256(repr([(c.lower(), c.upper(), c.title(), c.casefold(), c.isalpha(), c.isdigit(), c.isdecimal(), "
    "c.isnumeric(), c.isspace(), c.isprintable(), c.isidentifier(), c.istitle(), c.isupper(), c.islower()) "
    "for c in map(chr, (*range(0xD800), *range(0xE000, 0x20000)))]).encode()).hexdigest()"
)


def test_letters_of_every_alphabet_are_told_apart(site, tmp_path):
    (said,) = restored(tmp_path, [{"run": f"import hashlib; {LETTERS}"}])
    assert said == eval(LETTERS, {"hashlib": hashlib})  # noqa: S307 (the line above)


def test_a_module_that_the_memory_was_made_without_is_not_found(site, tmp_path):
    tried = ("import unicodedata", "import _codecs_jp", "import _ctypes", "'ä'.encode('shift_jis')")
    said = restored(tmp_path, [{"run": f"{each}; 1"} if "import" in each else {"run": each} for each in tried])
    for answer, error in zip(said, (*["ModuleNotFoundError"] * 3, "LookupError"), strict=True):
        assert error in answer["failed"], answer


def test_what_the_interpreter_itself_does_is_the_same(site, tmp_path):
    (said,) = restored(tmp_path, [{"run": f"import json, math, re, decimal, datetime, random; {WORKED}"}])
    assert said == eval(WORKED, {name: __import__(name) for name in ("json", "math", "re", "decimal", "datetime")})  # noqa: S307


WORKED = (
    "json.dumps([[round(f(x / 7), 12) for x in range(1, 7)] for f in (math.sin, math.exp, math.log, math.atan, "
    "math.gamma, math.erf)] + [re.findall(r'(?i)(\\w+)-(\\d{2,})', 'Bolt-08 NUT-100'), str(decimal.Decimal(2).sqrt()), "
    "datetime.datetime(2026, 11, 24, 8).isoformat(), '%.3e' % 1234.5678, f'{1e22:.3g}', sorted('stud washer'.split()), "
    "'ÄÖ'.casefold(), 'ü'.encode('utf-16').hex(), 10 ** 40 // 7, hex(255), [*map(int, '1 2 3'.split())]], "
    "ensure_ascii=True)"
)


def test_the_code_of_each_room_is_a_part_of_its_own(site):
    from calculators.bench.question import rooms

    parts = memory()["later"]
    assert set(parts) == {*rooms(), "job", "card", "checks", "seldom"}
    for part in (part for name, part in parts.items() if name != "seldom"):
        assert 1_000 < (browser_python.OUTPUT / part["file"]).stat().st_size < 60_000, part


def test_runtime_and_memory_stay_small(site):
    sizes = {name: (browser_python.OUTPUT / name).stat().st_size for name in ("runtime.bin", "snapshot.bin")}
    assert sizes["runtime.bin"] < 1_750_000
    assert sizes["snapshot.bin"] < 1_900_000
    assert memory()["snapshot"]["length"] < 19_500_000, "what stays does not lie together: see close_together.mjs"


COUNTED = """
let made = 0;
WebAssembly.Module = new Proxy(WebAssembly.Module, { construct: (kind, given) => (made += 1, new kind(...given)) });
const { loadPyodide } = await import(process.argv[1]);
await loadPyodide();
process.stdout.write(String(made));
process.exit(0);
"""


def test_a_start_makes_no_wasm_functions_for_graphics(site):
    command = ["node", "--input-type=module", "-e", COUNTED, (browser_python.OUTPUT / "pyodide.mjs").as_uri()]
    made = subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout
    assert int(made) < 10  # as the runtime is published it is more than 260


def test_a_script_that_looks_up_its_functions_another_way_stops_the_build(tmp_path):
    script = tmp_path / "pyodide.asm.js"
    script.write_text("reportUndefinedSymbols=()=>{}")
    with pytest.raises(ValueError, match=r"^pyodide.asm.js does not look up"):
        browser_python._without_graphics(script)


def test_no_long_stretch_of_nothing_is_sent(site):
    sent = gzip.decompress((browser_python.OUTPUT / "snapshot.bin").read_bytes())
    assert bytes(browser_python._PAGE) not in sent


PUT = """
const { filler } = await import(process.argv[1]);
const [whole, kept, gaps] = JSON.parse(process.argv[2]);
const found = [];
for (let size = 1; size <= kept.length; size++) {
  const memory = new Uint8Array(whole.length);
  const put = filler(memory, gaps);
  let at = 0;
  for (let begun = 0; begun < kept.length; begun += size) at = put(Uint8Array.from(kept.slice(begun, begun + size)));
  found.push([...memory, at]);
}
let refused = false;
try { filler(new Uint8Array(3), [])(new Uint8Array(4)); } catch { refused = true; }
process.stdout.write(JSON.stringify([found, refused]));
"""


@pytest.mark.parametrize("end", [b"", b"e"], ids=["a gap at the end", "something at the end"])
def test_however_a_memory_is_cut_on_its_way_each_piece_comes_to_its_place(monkeypatch, end):
    monkeypatch.setattr(browser_python, "_PAGE", 3)
    whole = b"abc\0\0\0\0d\0\0fg\0\0\0" + end
    kept, gaps = browser_python._without_gaps(whole)
    assert (kept, gaps) == (b"abcd\0\0fg" + end, [(3, 7), (12, 15)])
    script = (browser_python.ROOT / "docs/assets/memory.js").as_uri()
    command = ["node", "--input-type=module", "-e", PUT, script, json.dumps([[*whole], [*kept], gaps])]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    assert json.loads(done.stdout) == [[[*whole, len(whole)]] * len(kept), True]


def test_a_traceback_names_file_function_and_its_first_line(site, tmp_path):
    (said,) = restored(tmp_path, [{"run": "import calculators; calculators.quantity('x', 'no unit')"}])
    assert re.search(r'File ".*calculators/bench/units.py", line \d+, in quantity', said["failed"])
