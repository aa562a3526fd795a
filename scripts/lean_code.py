"""Write archives of compiled Python again with one date, and of the lines of code only the first of each function.

python -I lean_code.py ARCHIVE...
"""

from __future__ import annotations

import marshal
import sys
import zipfile
from types import CodeType

_LONG_AGO = (2020, 1, 1, 0, 0, 0)
_PYC_DATE, _PYC_HEAD = 8, 16  # bytes: magic number and flags; date and size of the source (PEP 552)


def _without_lines(pyc: bytes) -> bytes:
    code = marshal.loads(pyc[_PYC_HEAD:])  # noqa: S302 (made above)
    return (
        pyc[:_PYC_DATE]
        + bytes(4)
        + pyc[_PYC_DATE + 4 : _PYC_HEAD]
        + marshal.dumps(_without_line_table(code, _FIRST_LINE * (_longest(code) // _UNITS_OF_AN_ENTRY + 1)))
    )


_FIRST_LINE, _UNITS_OF_AN_ENTRY = b"\xef\x00", 8
"""An entry of the table of locations: eight code units are no line further (CPython, Objects/locations.md: code 13)."""


def _without_line_table(code: CodeType, first_line: bytes) -> CodeType:
    """Return code whose every instruction stands in its first line: a traceback needs one, and one table serves all."""
    inner = (_without_line_table(each, first_line) if isinstance(each, CodeType) else each for each in code.co_consts)
    return code.replace(co_linetable=first_line, co_qualname=code.co_name, co_consts=tuple(inner))


def _longest(code: CodeType) -> int:
    """Return how many code units the longest piece of code has."""
    return max(len(code.co_code) // 2, *(_longest(each) for each in code.co_consts if isinstance(each, CodeType)), 0)


def main() -> None:
    """Write each archive again."""
    for path in sys.argv[1:]:
        with zipfile.ZipFile(path) as archive:
            members = [(entry.filename, entry.compress_type, archive.read(entry)) for entry in archive.infolist()]
        with zipfile.ZipFile(path, "w") as archive:
            for name, compression, content in members:
                lean = _without_lines(content) if name.endswith(".pyc") else content
                archive.writestr(zipfile.ZipInfo(name, _LONG_AGO), lean, compression)


if __name__ == "__main__":
    main()
