"""Take out of the runtime's wasm what a start from the snapshot can never reach: functions, tables, texts.

The file holds CPython with all its built-in modules: codecs of Chinese, Japanese and Korean, the names of all
characters, its own library frozen, the texts of ``help()``. What the browser's Python has not imported by the time
its memory is kept is cut off (``import`` does not find it), and all that only this needed is emptied: what can be
reached is marked from what JavaScript calls, through calls, addresses in code, and addresses in the data.

It is linked as position-independent code (WebAssembly tool conventions, *Dynamic linking*), so each address in
the data is named by one store of ``__wasm_apply_data_relocs``, and none of it is guessed.
"""

from __future__ import annotations

import bisect
import re
import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

MEMORY_BASE = 1024
"""Where the data begins in the memory (Emscripten's choice for a main module)."""
_DATA, _STACK, _TABLE = range(3)
"""The first globals that are imported: where data and table of functions begin, the stack between."""
_EMPTY = b"\x00\x00\x0b"
"""A function without locals: unreachable, end."""
_RELOCATIONS, _CONSTRUCTORS = "__wasm_apply_data_relocs", "__wasm_call_ctors"
_FROZEN = ("_PyImport_FrozenBootstrap", "_PyImport_FrozenStdlib", "_PyImport_FrozenTest")
_MODULES = "PyImport_Inittab"
_SIGNATURE = b"\n--\n\n"
"""Stands in the text of a C function's ``help()`` only (CPython, Tools/clinic)."""
_BEGINNINGS = ("__main_argc_argv", _MODULES)
"""What the memory was made by, however the script calls it."""
_LONG, _SLACK = 16384, 4096
"""Bytes: only a stretch of data so long is emptied, and never its ends. A compiler may name a table by an address that
lies before it (counted from the letter A) or by its end (counted down): a short one could be taken for unused."""


@dataclass(slots=True)
class _Function:
    """What one function refers to."""

    start: int
    end: int
    calls: list[int] = field(default_factory=list)
    numbers: list[int] = field(default_factory=list)
    """Each constant and offset: it may be an address in the data."""
    addresses: list[int] = field(default_factory=list)
    """Those that are one for certain: added to where the memory begins."""
    globals: set[int] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Lean:
    """The wasm without what cannot be reached, and what goes with it."""

    wasm: bytes
    data: int
    """Where its data begins in the file."""
    length: int
    """Of the data."""
    emptied: list[tuple[int, int]]
    """From where to where the data was emptied."""
    cut_off: dict[str, int]
    """The modules that are not found any more: where their entries (name and function) lie in the data."""
    kept: list[int]
    """The entries of those that are."""


class _Wasm:
    """The file, read section by section (WebAssembly core specification 2.0, chapter 5)."""

    def __init__(self, content: bytes) -> None:
        self.content = content
        self.sections: list[tuple[int, int, int]] = []
        at = 8
        while at < len(content):
            kind = content[at]
            length, start = self.unsigned(at + 1)
            self.sections.append((kind, start, start + length))
            at = start + length
        self.imports, self.imported_globals, self.imported_functions = self._imports()
        self.exports = self._exports()
        self.globals = [0] * self.imported_globals + list(self._globals())
        self.table = self._table()
        self.functions = [_Function(start, end) for start, end in self._bodies()]
        for each in self.functions:
            self._read(each)
        start, _ = self.section(11)
        count, at = self.unsigned(start)
        if count != 1 or content[at : at + 3] != bytes((0, 0x23, _DATA)):
            raise ValueError("the data is not one segment at the memory's base")
        self.length, self.data = self.unsigned(at + 4)

    def unsigned(self, at: int) -> tuple[int, int]:
        value = shift = 0
        while True:
            byte = self.content[at]
            at += 1
            value |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                return value, at

    def signed(self, at: int) -> tuple[int, int]:
        value, after = self.unsigned(at)
        bits = 7 * (after - at)
        return (value - (1 << bits) if self.content[after - 1] & 64 else value), after

    def section(self, kind: int) -> tuple[int, int]:
        return next((start, end) for one, start, end in self.sections if one == kind)

    def _name(self, at: int) -> tuple[str, int]:
        length, at = self.unsigned(at)
        return self.content[at : at + length].decode(), at + length

    def _limits(self, at: int) -> int:
        flags = self.content[at]
        _, at = self.unsigned(at + 1)
        return self.unsigned(at)[1] if flags & 1 else at

    def _imports(self) -> tuple[list[tuple[str, str]], int, int]:
        count, at = self.unsigned(self.section(2)[0])
        found, kinds = [], []
        for _ in range(count):
            module, at = self._name(at)
            name, at = self._name(at)
            kind = self.content[at]
            at += 1
            if kind == 0:
                _, at = self.unsigned(at)
            elif kind in (1, 2):
                at = self._limits(at + (kind == 1))
            elif kind == 3:
                at += 2
            else:
                _, at = self.unsigned(at + 1)
            found.append((module, name))
            kinds.append(kind)
        return found, kinds.count(3), kinds.count(0)

    def _exports(self) -> dict[str, tuple[int, int]]:
        count, at = self.unsigned(self.section(7)[0])
        found = {}
        for _ in range(count):
            name, at = self._name(at)
            index, after = self.unsigned(at + 1)
            found[name] = (self.content[at], index)
            at = after
        return found

    def _globals(self) -> Iterator[int]:
        count, at = self.unsigned(self.section(6)[0])
        for _ in range(count):
            value = 0
            operation = self.content[at + 2]
            if operation in (0x41, 0x42):
                value, at = self.signed(at + 3)
            else:
                at += 3 + {0x43: 4, 0x44: 8}.get(operation, 1)
            if self.content[at] != 0x0B:
                raise ValueError("a global that begins with more than a number")
            at += 1
            yield value

    def _table(self) -> list[int]:
        count, at = self.unsigned(self.section(9)[0])
        if count != 1 or self.content[at : at + 4] != bytes((0, 0x23, _TABLE, 0x0B)):
            raise ValueError("the functions are not one segment at the table's base")
        count, at = self.unsigned(at + 4)
        found = []
        for _ in range(count):
            index, at = self.unsigned(at)
            found.append(index)
        return found

    def _bodies(self) -> Iterator[tuple[int, int]]:
        count, at = self.unsigned(self.section(10)[0])
        for _ in range(count):
            length, at = self.unsigned(at)
            yield at, at + length
            at += length

    def _read(self, function: _Function) -> None:
        """Note what a function refers to, instruction by instruction (core specification, 5.4, and its exceptions)."""
        content, unsigned = self.content, self.unsigned
        count, at = unsigned(function.start)
        for _ in range(count):
            _, at = unsigned(at)
            at += 1
        bases: set[int] = set()  # the local variables that hold where the memory begins
        is_base = False  # whether that was the last thing said
        while at < function.end:
            code = content[at]
            at += 1
            was_base, is_base = is_base, False
            if code == 0x41:
                number, at = self.signed(at)
                function.numbers.append(abs(number))  # what is added may be written as taking away less than 0
                if was_base and content[at] in (0x6A, 0x6B):
                    function.addresses.append(abs(number))
            elif code in (0x20, 0x21, 0x22):  # local: get, set, tee
                local, at = unsigned(at)
                if code != 0x20:
                    (bases.add if was_base else bases.discard)(local)
                is_base = local in bases and code != 0x21
            elif 0x28 <= code <= 0x3E:
                _, at = unsigned(at)
                number, at = unsigned(at)
                function.numbers.append(number)
            elif code in (0x10, 0x12, 0xD2):
                index, at = unsigned(at)
                function.calls.append(index)
            elif code in (0x23, 0x24):
                index, at = unsigned(at)
                function.globals.add(index)
                is_base = (code, index) == (0x23, _DATA)
            elif code in _ONE_NUMBER:
                _, at = unsigned(at)
            elif code in _TWO_NUMBERS:
                _, at = unsigned(at)
                _, at = unsigned(at)
            elif code == 0x0E:
                count, at = unsigned(at)
                for _ in range(count + 1):
                    _, at = unsigned(at)
            elif code == 0x1C:
                count, at = unsigned(at)
                at += count
            elif code == 0xFC:
                kind, at = unsigned(at)
                for _ in range(_OF_FC[kind]):
                    _, at = unsigned(at)
            elif code in _SIZES:
                at += _SIZES[code]
            elif code not in _ALONE:
                raise ValueError(f"unknown instruction {code:#x}")


_ALONE = frozenset((0x00, 0x01, 0x05, 0x0A, 0x0B, 0x0F, 0x19, 0x1A, 0x1B, 0xD1, *range(0x45, 0xC5)))
_ONE_NUMBER = frozenset((0x02, 0x03, 0x04, 0x06, 0x07, 0x08, 0x09, 0x0C, 0x0D, 0x18, 0x25, 0x26, 0x42))
_TWO_NUMBERS = frozenset((0x11, 0x13))
_SIZES = {0x3F: 1, 0x40: 1, 0x43: 4, 0x44: 8, 0xD0: 1}
_OF_FC = {**dict.fromkeys(range(8), 0), 8: 2, 9: 1, 10: 2, 11: 1, 12: 2, 13: 1, 14: 2, 15: 1, 16: 1, 17: 1}


def lean(content: bytes, script: str, imported: Iterable[str]) -> Lean:
    """Return the wasm without what cannot be reached.

    Parameters
    ----------
    content
        The wasm file.
    script
        The JavaScript that goes with it: what this names of the wasm is needed.
    imported
        The built-in modules that the memory has, or had while it was made.

    Raises
    ------
    ValueError
        The file is not made as this expects.
    """
    wasm = _Wasm(content)
    reader = _Reach(wasm)
    cut_off, kept = reader.cut_off(frozenset(imported))
    reader.mark(_named_by(script, wasm))
    return _written(wasm, reader, cut_off, kept)


def _relocations(wasm: _Wasm) -> tuple[dict[int, tuple[bool, int]], dict[int, tuple[int, int]]]:
    """Return by place what is stored in the data at start (a function or not, and which or where), and what does it."""
    function = wasm.functions[wasm.exports[_RELOCATIONS][1] - wasm.imported_functions]
    found: dict[int, tuple[bool, int]] = {}
    stores: dict[int, tuple[int, int]] = {}
    waiting: list[tuple[int | None, int]] = []
    _, at = wasm.unsigned(function.start)
    begun = at
    while at < function.end:
        code = wasm.content[at]
        at += 1
        if code == 0x23:
            index, at = wasm.unsigned(at)
            waiting.append((index, 0))
        elif code == 0x41:
            number, at = wasm.signed(at)
            waiting.append((None, number))
        elif code in (0x6A, 0x6B):  # add, take away
            (_, number), (base, more) = waiting.pop(), waiting.pop()
            waiting.append((base, more + number if code == 0x6A else more - number))
        elif code == 0x36:
            _, at = wasm.unsigned(at)
            offset, at = wasm.unsigned(at)
            (of, what), (_, place) = waiting.pop(), waiting.pop()
            if of is not None and of > _TABLE:
                what += wasm.globals[of]
            found[place + offset] = (of == _TABLE, what)
            stores[place + offset] = (begun, at)
            begun = at
        elif code != 0x0B:
            raise ValueError(f"a relocation with instruction {code:#x}")
    return found, stores


def _named_by(script: str, wasm: _Wasm) -> Iterator[str]:
    """Return the exports that the script uses, beyond handing each of them on."""
    handed_on = re.compile(
        r'(?:var _+\w+=)?Module\["\w+"\]=(?:wasmExports\["\w+"\]|-?\d+(?:e\d+)?)|(?<=[,{])\w+:_\w+(?=[,}])'
    )
    words = set(re.findall(r"\w+", handed_on.sub("", script)))
    for name in wasm.exports:
        if name in words or f"_{name}" in words or name in _BEGINNINGS:
            yield name
    for module, name in wasm.imports:
        if module.startswith("GOT."):
            yield name


class _Reach:
    """What is reached from where."""

    def __init__(self, wasm: _Wasm) -> None:
        self.wasm = wasm
        self.places, self.stores = _relocations(wasm)
        self.where = sorted(self.places)
        self.fixed = self.where[0]  # all before is only read
        addresses = {0, wasm.length, self.fixed}
        addresses.update(what for is_function, what in self.places.values() if not is_function)
        relocations = wasm.functions[wasm.exports[_RELOCATIONS][1] - wasm.imported_functions]
        addresses.update(number for each in wasm.functions if each is not relocations for number in each.addresses)
        addresses.update(wasm.globals)
        self.begins = sorted(each for each in addresses if 0 <= each <= wasm.length)
        self.unfollowed: set[int] = set()
        self.functions: set[int] = set()
        self.things: set[int] = set()
        self.names: set[str] = set()

    def cut_off(self, imported: frozenset[str]) -> tuple[dict[str, int], list[int]]:
        """Take the modules that were not imported out of what is followed, with what is frozen and what is told."""
        found, kept = {}, []
        pointer = self._address(_MODULES)
        at = self.places[pointer][1]
        while at in self.places:
            name = self._text(self.places[at][1]).decode()
            if at + 4 not in self.places or name in imported:
                kept.append(at)
            else:
                found[name] = at
                self.unfollowed.add(at + 4)
            at += 8
        for name in _FROZEN:
            self.unfollowed.update(self._within(self.start(self._address(name))))
        for place, (is_function, what) in self.places.items():
            if not is_function and 0 <= what < self.fixed and (_SIGNATURE in self._text(what) or self._tells(place)):
                self.unfollowed.add(place)
        return found, kept

    def _tells(self, place: int) -> bool:
        """Tell whether this is the text of a ``PyMethodDef``: a name, a function, a few flags, and the text."""
        name, function = self.places.get(place - 12), self.places.get(place - 8)
        if not (name and function) or name[0] or not function[0] or place - 4 in self.places:
            return False
        return self._number(place - 4) < 0x400

    def _number(self, at: int) -> int:
        number: int = struct.unpack_from("<I", self.wasm.content, self.wasm.data + at)[0]
        return number

    def _address(self, name: str) -> int:
        return self.wasm.globals[self.wasm.exports[name][1]]

    def _text(self, at: int) -> bytes:
        start = self.wasm.data + at
        return self.wasm.content[start : self.wasm.content.index(0, start)]

    def start(self, address: int) -> int:
        return bisect.bisect_right(self.begins, address) - 1

    def _within(self, thing: int) -> list[int]:
        first, last = (bisect.bisect_left(self.where, self.begins[each]) for each in (thing, thing + 1))
        return self.where[first:last]

    def mark(self, names: Iterable[str]) -> None:
        """Mark all that can be reached from exports of these names."""
        wasm, count = self.wasm, self.wasm.imported_functions
        waiting: list[tuple[bool, int]] = []

        def address(number: int) -> None:
            if 0 <= number < wasm.length:
                thing = self.start(number)
                if thing not in self.things:
                    self.things.add(thing)
                    waiting.append((False, thing))

        def function(index: int) -> None:
            if index >= count and index not in self.functions:
                self.functions.add(index)
                waiting.append((True, index))

        def of_table(number: int) -> None:
            if 0 <= number < len(wasm.table):
                function(wasm.table[number])

        self.names.update(names, (_RELOCATIONS,))
        for name in self.names:
            kind, index = wasm.exports.get(name, (None, 0))
            if kind == 0 and name != _RELOCATIONS:
                function(index)
            elif kind == 3:
                address(wasm.globals[index])
        function(wasm.unsigned(wasm.section(8)[0])[0])  # what runs first
        while waiting:
            is_function, which = waiting.pop()
            if is_function:
                each = wasm.functions[which - count]
                for index in each.calls:
                    function(index)
                for number in each.numbers:
                    address(number)
                    if _TABLE in each.globals:
                        of_table(number)
                for index in each.globals:
                    if index > _TABLE:
                        address(wasm.globals[index])
                        of_table(wasm.globals[index])
            else:
                for place in self._within(which):
                    if place not in self.unfollowed:
                        (of_table if self.places[place][0] else address)(self.places[place][1])

    def stored_first(self) -> list[tuple[int, int]]:
        """Return where in the file stands what the functions need that run before the memory comes: from, to."""
        early = _Reach(self.wasm)
        early.unfollowed = self.unfollowed
        early.mark((_CONSTRUCTORS,))
        return [store for place, store in self.stores.items() if self.start(place) in early.things]

    def emptied(self) -> list[tuple[int, int]]:
        """Return from where to where the data that is only read is not needed."""
        found: list[tuple[int, int]] = []
        for thing in range(len(self.begins) - 1):
            start, end = self.begins[thing], self.begins[thing + 1]
            if end > self.fixed:
                break
            if thing not in self.things:
                if found and found[-1][1] == start:
                    found[-1] = (found[-1][0], end)
                else:
                    found.append((start, end))
        return [(start + _SLACK, end - _SLACK) for start, end in found if end - start >= _LONG]


def _written(wasm: _Wasm, reach: _Reach, cut_off: dict[str, int], kept: list[int]) -> Lean:
    """Write the file with what is reached."""
    emptied = reach.emptied()
    bodies = []
    relocations = wasm.exports[_RELOCATIONS][1]
    for index, each in enumerate(wasm.functions, wasm.imported_functions):
        body = wasm.content[each.start : each.end] if index in reach.functions else _EMPTY
        if index == relocations:  # the memory that comes holds the others
            body = b"".join((b"\0", *(wasm.content[start:end] for start, end in reach.stored_first()), b"\x0b"))
        bodies.append(_unsigned(len(body)) + body)
    code = _unsigned(len(bodies)) + b"".join(bodies)
    exports = [
        _unsigned(len(name.encode())) + name.encode() + bytes((kind,)) + _unsigned(index)
        for name, (kind, index) in wasm.exports.items()
        if name in reach.names or kind in (1, 2, 4)
    ]
    handed_out = _unsigned(len(exports)) + b"".join(exports)
    data = bytearray(wasm.content[wasm.data : wasm.data + wasm.length])
    for start, end in emptied:
        data[start:end] = bytes(end - start)
    written = bytearray(wasm.content[:8])
    place = 0
    for kind, start, end in wasm.sections:
        section = {7: handed_out, 10: code}.get(kind, wasm.content[start:end])
        head = bytes((kind,)) + _unsigned(len(section))
        if kind == 11:
            section = section[: wasm.data - start] + bytes(data)
            place = len(written) + len(head) + wasm.data - start
        written += head + section
    return Lean(bytes(written), place, wasm.length, emptied, cut_off, kept)


def _unsigned(number: int) -> bytes:
    written = bytearray()
    while number > 127:
        written.append(number & 127 | 128)
        number >>= 7
    return bytes((*written, number))
