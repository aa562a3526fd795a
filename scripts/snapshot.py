"""Import all that readers ask, take out of the memory what only that needed, and say what is in it.

Runs in the runtime of which the snapshot is taken (``snapshot.mjs``), once, in a namespace that is thrown away.
"""

# mypy: disable-error-code="attr-defined,import-not-found,assignment,arg-type"
# The insides of others that are touched here have no types.

from __future__ import annotations

import gc
import json
import linecache
import os
import random
import re
import sys
import types
import typing
import weakref
import zipimport

OVER = (
    # The runtime's own: its loop, its loader of packages, its way to run source.
    *("asyncio", "_asyncio", "concurrent", "selectors", "select", "socket", "_socket", "subprocess", "signal"),
    *("pyodide.webloop", "pyodide._package_loader", "pyodide.code", "_pyodide._future_helper"),
    *("_pyodide.docs_argspec", "_pyodide.docstring", "ast", "_colorize", "site", "_sitebuiltins", "threading"),
    # Reading from files and archives: a restored memory has none.
    *("zipfile", "shutil", "tempfile", "pathlib", "glob", "ntpath", "bz2", "_bz2", "_compression", "encodings.cp437"),
    *("importlib.abc", "importlib._abc", "importlib.metadata", "importlib.resources", "importlib.util", "pkgutil"),
    *("email", "quopri", "base64", "ipaddress", "urllib.request", "platform", "platformdirs", "locale"),
    # Looking into code, and the keeping of what was parsed.
    *("inspect", "dis", "opcode", "_opcode", "_opcode_metadata", "logging", "pickle", "_pickle", "_compat_pickle"),
    *("typing_extensions", "hmac"),
    # The units are read, the templates are compiled.
    *("flexcache", "flexparser", "pint.delegates.txt_defparser", "pint.delegates.base_defparser"),
    *("jinja2.lexer", "jinja2.parser", "jinja2.nodes", "jinja2.visitor", "jinja2.idtracking", "jinja2.optimizer"),
    *("jinja2.compiler", "jinja2.loaders", "jinja2.bccache", "jinja2._identifier", "encodings.unicode_escape"),
)
"""Modules, with all beneath them, that nothing needs once everything is imported."""


def import_all() -> None:
    """Bring everything into the memory that a page can ask for."""
    import calculators.browser_start  # noqa: F401
    from calculators.bench.markup import environment

    for name in environment.list_templates():  # early: their making takes room that what comes later fills again
        environment.get_template(name)
    gc.collect()
    from calculators.bench.question import questions

    questions()


KEPT = ("jinja2.nodes.EvalContext",)
"""Classes of such modules that are asked for all the same."""
STARTS = ("pyodide.code", "pyodide._package_loader", "pyodide.webloop")
"""Of these, the ones that the runtime imports whenever it starts: they stay, empty."""


def is_over(name: object) -> bool:
    """Tell whether a module of this name is among those that nothing needs any more."""
    return isinstance(name, str) and any(name == each or name.startswith(f"{each}.") for each in OVER)


class Made:
    """What stands where templates are loaded from: all of them are made."""


def close_the_makers() -> None:
    """Let go of what units and templates were made with, where it is held by what was made."""
    import asyncio
    import logging

    from jinja2 import environment as machinery

    from calculators.bench.markup import environment
    from calculators.bench.units import _REGISTRY

    templates = {name: environment.get_template(name) for name in environment.list_templates()}
    for template in templates.values():
        template._uptodate = None
    environment.loader = Made()
    environment.cache = {(weakref.ref(environment.loader), name): each for name, each in templates.items()}
    del machinery.Environment.code_generator_class
    machinery._spontaneous_environments = None
    del _REGISTRY._def_parser
    asyncio._set_running_loop(None)
    asyncio.set_event_loop_policy(None)
    logging._handlerList.clear()


class Place:
    """A path as the runtime reads it from its loader of packages: with ``__str__``, and no text."""

    def __init__(self, path: object) -> None:
        self.path = str(path)

    def __str__(self) -> str:
        return self.path


def run_line(source: str, globals: dict[str, object] | None = None, **_: object) -> object:  # noqa: A002
    """Run statements in one line; the last is an expression, and its value is returned.

    What the runtime runs when it starts is of this kind; its own way parses it into a tree, and looks through that.
    """
    *statements, expression = source.split("; ")
    exec("; ".join(statements), globals)  # noqa: S102 (the runtime's own lines)
    return eval(expression, globals)  # noqa: S307


def simplify_the_start() -> None:
    """Put in what the runtime asks for when it starts, in place of what can do more."""
    from _pyodide import _base
    from pyodide import _package_loader as loader
    from pyodide import code

    places = {name: Place(getattr(loader, name)) for name in ("SITE_PACKAGES", "DSO_DIR")}
    forget()
    vars(loader).update(places, init_loaded_packages=list)  # a list is called, and holds nothing
    for module in (_base, code):
        vars(module).update(eval_code=run_line)


def forget() -> None:
    """Take the modules that are over out of every namespace, and empty their own.

    What JavaScript gave stays: the runtime expects each of its things in its place.
    """
    over = {name: module for name, module in sys.modules.items() if is_over(name)}
    for name in over.keys() - set(STARTS):
        del sys.modules[name]
    for module in over.values():
        space = vars(module)
        built_in = "built-in" in repr(module)
        for name, value in list(space.items()):
            if not built_in and not name.startswith("__") and type(value).__name__ != "JsProxy":
                del space[name]
    for module in list(sys.modules.values()):
        space = vars(module) if isinstance(module, types.ModuleType) else {}
        for name, value in list(space.items()):
            if not name.startswith("__") and of_what_is_over(value):
                del space[name]


def of_what_is_over(value: object) -> bool:
    """Tell whether this is such a module, or what one defines, or of a class that one defines."""
    if isinstance(value, type) and f"{value.__module__}.{value.__qualname__}" in KEPT:
        return False
    if isinstance(value, types.ModuleType):
        return is_over(value.__name__)
    return is_over(value.__module__ if isinstance(value, (type, types.FunctionType)) else type(value).__module__)


OF_READERS_OF_CODE = ("__annotations__", "__firstlineno__", "__static_attributes__")
"""What a class says of itself to people; nothing of ours asks for it once the class is made."""
OF_WRITERS_OF_CODE = ("__repr__", "__setattr__", "__delattr__")
"""What ``dataclasses`` writes into a class to help, or to keep from a mistake, who uses it from a program."""


def trim() -> None:
    """Drop what only people who read and write code have of it."""
    for thing in gc.get_objects():
        if type(thing) is types.FunctionType:
            del thing.__annotations__
            thing.__doc__ = None
        elif isinstance(thing, types.ModuleType):
            thing.__doc__ = None
        elif isinstance(thing, type) and thing.__flags__ & HEAP_TYPE and not thing.__flags__ & IMMUTABLE_TYPE:
            type.__dict__["__doc__"].__set__(thing, None)
            written = OF_WRITERS_OF_CODE if "__dataclass_fields__" in vars(thing) else ()
            for name in (*OF_READERS_OF_CODE, *written):
                if name in vars(thing) and (
                    name not in written or vars(thing)[name].__code__.co_filename == "<string>"
                ):
                    type.__delattr__(thing, name)


OF_LOADERS = ("__loader__", "__spec__", "__cached__", "__file__", "__doc__", "annotations", "TYPE_CHECKING")
"""What a module has of where it is from; only of a package, in which more may be found, something asks for it."""
HOMES = ("__future__", "typing")
"""Where the last two come from: a drawing that is made later imports them anew."""


def trim_modules() -> None:
    """Drop what was needed to load modules."""
    for module in list(sys.modules.values()):
        space = vars(module) if isinstance(module, types.ModuleType) else {}
        for name in OF_LOADERS[: -2 if module.__name__ in HOMES else None]:
            if name in space and "__path__" not in space:
                del space[name]
        if "__path__" in space and space["__spec__"]:
            space["__spec__"].loader = space["__loader__"] = None


def trim_code() -> None:
    """Keep of the lines of code only the first of each function, where the archives did not do so already."""
    made: dict[types.CodeType, types.CodeType] = {}
    for thing in gc.get_objects():
        if type(thing) is types.FunctionType and not thing.__code__.co_linetable.startswith(FIRST_LINE):
            code = thing.__code__
            made[code] = made.get(code) or without_lines(code)
            thing.__code__ = made[code]


FIRST_LINE = b"\xef\x00"
"""As ``lean_code.py`` writes it."""


def without_lines(code: types.CodeType) -> types.CodeType:
    """Return code whose every instruction stands in its first line."""
    inner = (without_lines(each) if isinstance(each, types.CodeType) else each for each in code.co_consts)
    return code.replace(co_linetable=LINES, co_qualname=code.co_name, co_consts=tuple(inner))


LINES = FIRST_LINE * 4000
HEAP_TYPE, IMMUTABLE_TYPE = 1 << 9, 1 << 8
"""Flags of a class (CPython, Include/object.h)."""


LATER = "/later"
ON_THEIR_OWN = ("job", "card", "checks")
"""Of our packages that are no rooms, those whose code comes when it is asked for."""
SELDOM = "seldom"
"""The part of all that stands in other people's modules, and that no usual answer calls."""
AT_HAND = (
    # What the runtime calls when it starts, outside any answer, or where nobody could ask again.
    *("pyodide", "_pyodide", "importlib", "_frozen_importlib", "_frozen_importlib_external", "zipimport", "encodings"),
    *("codecs", "io", "os", "posixpath", "abc", "collections", "traceback", "linecache", "tokenize", "textwrap"),
    *("warnings", "weakref", "_weakrefset", "calculators", "snapshot", "builtins"),
)
"""Modules, with all beneath them, whose code is never put off for being called seldom."""


def put_off(usual: frozenset[str]) -> None:
    """Take the code of what few pages ask for out of its functions, into files by part: a room, or one of these."""
    from calculators import later
    from calculators.bench.question import rooms

    parts = part_of_each_module((*rooms(), *ON_THEIR_OWN))
    found: dict[str, list[types.FunctionType]] = {}
    for thing in gc.get_objects():
        if type(thing) is types.FunctionType:
            seldom = SELDOM if is_seldom(thing, usual) else None
            if part := parts.get(thing.__module__, seldom):
                found.setdefault(part, []).append(thing)
    os.mkdir(LATER)  # noqa: PTH102 (what would do it otherwise is over)
    for part, functions in sorted(found.items()):
        functions.sort(key=lambda each: (each.__module__, each.__qualname__))
        with open(f"{LATER}/{part}.bin", "wb") as file:  # noqa: PTH123
            file.write(later.put_off(part, tuple(functions)))


def is_at_hand(module: str) -> bool:
    """Tell whether a module's code is never put off for being called seldom."""
    return any(module == each or module.startswith(f"{each}.") for each in AT_HAND)


def is_seldom(function: types.FunctionType, usual: frozenset[str]) -> bool:
    """Tell whether a function is of other people's, and no usual answer calls it; nobody has counted, if none does."""
    module = function.__module__
    return bool(usual and module) and not is_at_hand(module) and f"{module}:{function.__qualname__}" not in usual


def part_of_each_module(names: tuple[str, ...]) -> dict[str, str]:
    """Return the part that each module belongs to; a module of formulas, to the only one that works with it."""
    ours = {name: module for name, module in sys.modules.items() if name.startswith("calculators.")}
    parts = {name: name.split(".")[1] for name in ours if name.split(".")[1] in names}
    users: dict[str, set[str]] = {name: set() for name in ours if name.startswith("calculators.formulas.")}
    for name, module in ours.items():
        for value in vars(module).values():
            home = value.__name__ if isinstance(value, types.ModuleType) else getattr(value, "__module__", None)
            if home in users and home != name:
                users[home].add(name)

    def part(name: str) -> str | None:
        if name not in users:
            return parts.get(name)
        found = {part(user) for user in users[name]}
        return found.pop() if len(found) == 1 else None

    return {name: found for name in ours if (found := part(name))}


def tidy() -> None:
    """Empty every store that fills itself again."""
    import encodings

    typing.clear_overloads()
    for clear in typing._cleanups:
        clear()
    encodings._cache.clear()
    linecache.clearcache()
    re.purge()
    random.seed(0)  # seeded anew wherever it is restored
    sys.path_importer_cache.clear()
    zipimport._zip_directory_cache.clear()
    sys._clear_internal_caches()
    for _ in range(3):
        gc.collect()


def modules_in_memory() -> list[str]:
    """Return every module of which something is left: by its own name, a function's or a class's."""
    found = set(sys.modules)
    for thing in gc.get_objects():
        name = thing.__module__ if isinstance(thing, (type, types.FunctionType)) else None
        if name and not name.startswith("namedtuple_"):  # whose __new__ is in no module
            found.add(name)
    return sorted(found)


def make(usual: str) -> str:
    """Do all of this; return as JSON the modules that are left, and the place of an object that the collector keeps.

    ``usual``: the functions of other people's modules that answers call (``usual_functions.txt``).
    """
    import_all()
    close_the_makers()
    trim()
    simplify_the_start()
    trim_modules()
    trim_code()
    tidy()
    made = json.dumps({"modules": modules_in_memory(), "looked_after": id(sys.modules)})
    put_off(frozenset(usual.split()))  # last: what does all of this is mostly called seldom itself
    gc.collect()
    gc.freeze()  # all objects in one chain
    return made
