"""Files that a person names: read whole, or refused in one line."""

from __future__ import annotations

import os
import stat
from pathlib import Path

_KINDS = ((stat.S_ISDIR, "a folder"), (stat.S_ISCHR, "a device"), (stat.S_ISBLK, "a device"), (stat.S_ISFIFO, "a pipe"))


class Unreadable(ValueError):
    """A file that cannot be read; the message says why, without its name."""


def content(path: Path, most: int, what: str) -> bytes:
    """Return what a file holds.

    Parameters
    ----------
    most : int
        Bytes of the largest that is opened.
    what : str
        What such a file is, for the sentence on one that is larger: ``"job"``.

    Raises
    ------
    Unreadable
    """
    try:
        found = path.stat()
        for is_one, kind in _KINDS:
            if is_one(found.st_mode):
                raise Unreadable(f"this is {kind}, not a file")
        if found.st_size > most:
            raise Unreadable(f"the file is larger than {_size(most)}, which no {what} is")
        with path.open("rb") as file:
            read = file.read(most + 1)
    except FileNotFoundError:
        raise Unreadable("there is no such file") from None
    except OSError as error:
        raise Unreadable(f"the file cannot be read: {error.strerror or type(error).__name__}") from None
    except ValueError as error:
        if isinstance(error, Unreadable):
            raise
        raise Unreadable("this is not a file name") from None
    if len(read) > most:
        raise Unreadable(f"the file is larger than {_size(most)}, which no {what} is")
    return read


def text_of(read: bytes) -> str:
    """Return the text of a file, which must be UTF-8."""
    try:
        return read.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Unreadable(f"this is not UTF-8 text: byte {error.start + 1} does not fit") from None


def write_whole(path: Path, text: str) -> None:
    """Write a text file, whole or not at all; half of a surrogate pair becomes the sign for what cannot be shown.

    Raises
    ------
    OSError
        It could not be written; what stood there before still stands there.
    """
    written = whole_characters(text).encode("utf-8")
    if path.exists() and not path.is_file():  # a device or a pipe takes what comes
        with path.open("wb") as file:
            file.write(written)
        return
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with beside.open("xb") as file:
            file.write(written)
        beside.replace(path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise


def whole_characters(text: str) -> str:
    r"""Return a text in which halves of surrogate pairs are joined, and a lone one is the replacement character.

    Examples
    --------
    >>> whole_characters("\ud83d\udd27 \ud83d") == "🔧 \ufffd"
    True
    """
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


def _size(most: int) -> str:
    return f"{most // 1_000_000} MB" if most >= 1_000_000 else f"{most // 1_000} kB"
