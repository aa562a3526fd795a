"""What comes after the start: what few pages ask for is not in the memory that every page loads.

Two kinds: modules whose source a page brings along (the drawings), and functions that are there without their code.
The code of a room's functions, or of the job's, is a part of its own. Who calls one of them before its part came
hears which part it is, brings that, and asks again.
"""

from __future__ import annotations

import marshal
import sys
from collections.abc import Mapping, Sequence
from importlib.machinery import ModuleSpec
from types import FunctionType, ModuleType
from typing import Any, NoReturn


class _Later:
    """Finds and makes modules whose source has come."""

    def __init__(self) -> None:
        self._sources: dict[str, str] = {}

    def take(self, sources: Mapping[str, str]) -> None:
        self._sources.update(sources)
        if self not in sys.meta_path:
            sys.meta_path.append(self)  # behind those that find what is installed

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if name not in self._sources:
            return None
        package = any(other.startswith(f"{name}.") for other in self._sources)
        return ModuleSpec(name, self, is_package=package)  # type: ignore[arg-type]

    def create_module(self, spec: ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        code = compile(self._sources[module.__name__], module.__name__, "exec", dont_inherit=True)
        exec(code, module.__dict__)  # noqa: S102 (our own source, as the release has it)


_later = _Later()
take = _later.take
"""Take the sources of modules by their names; each is made when it is first imported."""


class NotHereYet(BaseException):
    """A function was called whose code has not come. No error of ours: nothing but the caller of all may catch it."""

    def __init__(self, part: str) -> None:
        super().__init__(part)
        self.part = part


def _not_here_yet(part: str) -> NoReturn:
    raise NotHereYet(part)


def _early(*_: object, **__: object) -> object:
    who: Any = "who"
    return who("which")


_waiting: dict[str, Sequence[FunctionType]] = {}


def put_off(part: str, functions: Sequence[FunctionType]) -> bytes:
    """Take the code out of functions, and return it as ``come`` takes it."""
    codes = marshal.dumps([function.__code__ for function in functions])
    told = {"who": _not_here_yet, "which": part}  # in the code itself: the functions' modules know neither
    consts = tuple(told.get(each, each) for each in _early.__code__.co_consts)
    early = _early.__code__.replace(co_consts=consts, co_filename=part)
    for function in functions:
        function.__code__ = early.replace(co_freevars=function.__code__.co_freevars) if function.__closure__ else early
    _waiting[part] = functions
    return codes


def come(part: str, codes: bytes) -> None:
    """Give the functions of a part their code; when it comes a second time, they have it."""
    if part not in _waiting:
        return
    pairs = list(zip(_waiting[part], marshal.loads(codes), strict=True))  # noqa: S302 (made above)
    del _waiting[part]
    for function, code in pairs:
        function.__code__ = code
