"""What a terminal or a pipe can show of our text, and what happens where it takes none."""

from __future__ import annotations

import codecs
import os
import sys
import unicodedata
from io import TextIOWrapper

_SPELLED = {
    "−": "-",
    "–": "-",
    "±": "+/-",
    "·": ".",
    "⋅": ".",
    "×": "x",
    "÷": "/",
    "⁄": "/",
    "∶": ":",
    "μ": "mu",
    "µ": "u",
    "Δ": "Delta ",
    "Σ": "sum ",
    "√": "sqrt",
    "α": "alpha",
    "β": "beta",
    "γ": "gamma",
    "θ": "theta",
    "λ": "lambda",
    "ν": "nu",
    "π": "pi",
    "σ": "sigma",
    "τ": "tau",
    "ψ": "psi",
    "≈": "~",
    "≥": ">=",
    "≤": "<=",
    "→": "->",
    "↑": "^",
    "▶": ">",
    "✓": "yes",
    "✗": "no",
    "′": "'",
    "″": '"',
    "⁻": "^-",
    "‘": "'",
    "’": "'",
    "”": '"',
}
"""Of the signs that we print, those that have no nearest plain letter of their own."""

_NAME = "bench-spelled"


def spelled_out(text: str) -> str:
    """Return a text in ASCII, each sign by what is typed for it.

    Examples
    --------
    >>> spelled_out("34 N·m ± 2, 49.5 cm³, −5 °C, 7°, 60 µm, 1½ in, 10⁶, 10⁻⁶")
    '34 N.m +/- 2, 49.5 cm3, -5 deg C, 7 deg, 60 um, 1 1/2 in, 10^6, 10^-6'
    """
    return "".join(letter if letter.isascii() else _plain(text, at) for at, letter in enumerate(text))


def _plain(text: str, at: int) -> str:
    letter, before, behind = text[at], text[at - 1 : at], text[at + 1 : at + 2]
    if letter == "°":
        return f"{' ' if before.isdigit() else ''}deg{' ' if behind.isalpha() else ''}"
    if letter in _SPELLED:
        return _SPELLED[letter]
    near = unicodedata.normalize("NFKD", letter).replace("⁄", "/").encode("ascii", "ignore").decode("ascii")
    if not near:
        return "?"
    joint = " " if "/" in near else "^"  # 1½ is no 11/2, and 10⁶ no 106
    return f"{joint}{near}" if before.isdigit() and before.isascii() and near[0].isdigit() else near


def _instead(error: UnicodeError) -> tuple[str, int]:
    assert isinstance(error, UnicodeEncodeError)  # noqa: S101 (the handler is for writing alone)
    return "".join(_plain(error.object, at) for at in range(error.start, error.end)), error.end


def open_outputs() -> None:
    """Let both outputs write, of what they cannot show, what comes nearest."""
    codecs.register_error(_NAME, _instead)
    for name in ("stdout", "stderr"):
        output = getattr(sys, name)
        if isinstance(output, TextIOWrapper):
            output.reconfigure(errors=_NAME)


def shows_everything() -> bool:
    """Tell whether standard output takes all of Unicode."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    return codecs.lookup(encoding).name.startswith("utf")


def as_shown(text: str) -> str:
    """Return a text as standard output will show it, so that columns can be laid out."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    codecs.register_error(_NAME, _instead)
    return text if shows_everything() else text.encode(encoding, _NAME).decode(encoding)


def complain(text: str) -> None:
    """Write a line to the error output, if there is one that takes it."""
    if sys.stderr is not None:
        try:
            print(text, file=sys.stderr, flush=True)
        except OSError:
            forget("stderr")


def forget(name: str) -> None:
    """Let an output lead nowhere: Python would complain once more when it ends."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    output = getattr(sys, name)
    try:
        os.dup2(nowhere, output.fileno())
    except (OSError, ValueError, AttributeError):
        setattr(sys, name, None)
    os.close(nowhere)
