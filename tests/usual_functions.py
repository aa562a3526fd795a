"""Write down which functions of other people's modules answers call: the rest of their code comes when it is asked for.

    .venv/bin/python -m tests.usual_functions

after a change that calls something new of a library; ``scripts/snapshot.py`` says what becomes of the list. It asks
all that pages ask of the Python that readers start from, built with nothing put off but the code of the rooms.
"""

from __future__ import annotations

import json
import subprocess
import tempfile
from pathlib import Path

from scripts import browser_python, snapshot
from tests.every_message import every_message

LIST = Path(browser_python.__file__).with_name("usual_functions.txt")
RESTORED = Path(__file__).with_name("site") / "restored.mjs"
_LISTEN = """
import sys
heard = sys.monitoring
heard.use_tool_id(heard.PROFILER_ID, "usual")
seen = {}
def note(code, at):
    seen[id(code)] = code
    return heard.DISABLE
heard.register_callback(heard.PROFILER_ID, heard.events.PY_START, note)
heard.set_events(heard.PROFILER_ID, heard.events.PY_START)
__import__("calculators.browser_start").browser_start.start()
"""
_TELL = """
import gc, types
heard.set_events(heard.PROFILER_ID, 0)
gc.unfreeze()
called = {
    f"{each.__module__}:{each.__qualname__}"
    for each in gc.get_objects()
    if type(each) is types.FunctionType and id(each.__code__) in seen and each.__module__
}
"""


def usual_functions() -> list[str]:
    """Return ``module:function`` for each function of others that is called in answers to all that pages ask."""
    space = "vars(__import__('builtins'))"
    asked: list[object] = [{"run": f"exec({_LISTEN!r}, {space})"}, *(message for _, message in every_message())]
    asked += [{"run": f"exec({_TELL!r}, {space})"}, {"run": "' '.join(called)"}]
    with tempfile.TemporaryDirectory() as place:
        messages, answers = Path(place) / "messages.json", Path(place) / "answers.json"
        messages.write_text(json.dumps(asked), encoding="utf-8")
        command = ["node", RESTORED, browser_python.OUTPUT, browser_python.PARTS, messages, answers]
        subprocess.run(command, check=True)
        *_, called = json.loads(answers.read_text(encoding="utf-8"))
    return sorted(name for name in called.split() if not snapshot.is_at_hand(name.partition(":")[0]))


def main() -> None:
    """Write the list."""
    LIST.write_text("", encoding="utf-8")
    browser_python.build()
    LIST.write_text("".join(f"{name}\n" for name in usual_functions()), encoding="utf-8")


if __name__ == "__main__":
    main()
