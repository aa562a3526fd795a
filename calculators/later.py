"""Modules that come after the start: what few pages ask for is not in the memory that every page loads."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from importlib.machinery import ModuleSpec
from types import ModuleType


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
