"""Which measured parts are no longer in the engine, as far as the list of parts fitted says so."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

_BARREL, _PISTON, _RING = "barrel", "piston", "ring"
_VALVE, _GUIDE, _SEAT = "valve", "guide", "seat"
PARTS = {
    "wear": (_BARREL,),
    "taper": (_BARREL,),
    "out_of_round": (_BARREL,),
    "straight": (_BARREL,),
    "piston_clearance": (_BARREL, _PISTON),
    "narrow_gap": (_BARREL, _RING),
    "wide_gap": (_BARREL, _RING),
    "side_clearance": (_PISTON, _RING),
    "margin": (_VALVE,),
    "runout": (_VALVE,),
    "width": (_VALVE, _SEAT),
    "rim": (_VALVE, _SEAT),
    "inner": (_VALVE, _SEAT),
    "guide_clearance": (_VALVE, _GUIDE),
    "rock": (_VALVE, _GUIDE),
    "rocked_clearance": (_VALVE, _GUIDE),
    "pushrod": ("pushrod",),
    "bush": ("rocker",),
    "tappet": ("tappet",),
    "hollow": ("tappet",),
    "free": ("spring",),
    "load": ("spring",),
    "flatness": ("head",),
}
"""By the key of a finding: with which of these another part is there than was measured."""
_NOT_IT = re.compile(
    r"\b(?:pistons?(?= (?:ring|pin))|valves?(?= (?:guide|seat|spring|cap|collet|cover|seal|gear))|rockers?(?= cover)"
    r"|heads?(?= (?:gasket|nut|stud|seal))|barrels?(?= (?:gasket|base|shim|spacer|seal|nut|stud))"
    r"|pushrods?(?= tube))\b"
)
"""What a longer name begins with: a piston ring is no piston."""
_NUMBER = re.compile(r"(?<![\w.,×-])\d{1,2}(?![\w-])(?![.,]\d)(?! ?(?:mm|in|thou|cm|l|ml|N|°)\b)")
_SIDES = {"inlet": re.compile(r"\b(?:inlet|intake)\b"), "exhaust": re.compile(r"\bexhaust\b")}


def fitted_since(
    parts: Iterable[Mapping[str, Any]], key: str, name: str, of: int, measured: str
) -> tuple[bool, tuple[str, ...]]:
    """Tell whether another part was fitted after one was measured, and what was that the list gives no place to.

    Parameters
    ----------
    parts : iterable of mapping
        The job's parts fitted, as the schema has them.
    key, name : str
        Of the finding, and the part in it: ``exhaust valve 3``.
    of : int
        How many such parts were measured.
    measured : str
        The instant of its last reading.

    Examples
    --------
    >>> listed = [{"name": "Exhaust valve, cylinder 3", "when": "2026-09-21T09:00:00.000Z"}]
    >>> fitted_since(listed, "margin", "exhaust valve 3", 6, "2026-09-11T09:00:00.000Z")
    (True, ())
    >>> fitted_since([{"name": "Exhaust valve", "when": "2026-09-21"}], "margin", "exhaust valve 3", 6, "2026-09-11")
    (False, ('Exhaust valve',))
    """
    placeless = []
    for part in parts:
        words = _NOT_IT.sub("", str(part.get("name", "")).lower())
        if str(part["when"]) <= measured or not any(_names(word, words) for word in PARTS.get(key, ())):
            continue
        where = f"{words} {str(part.get('note', '')).lower()}"
        at = _is_at(where, name, of, str(part.get("count", "")))
        if at:
            return True, ()
        if at is None:
            placeless.append(str(part["name"]).strip())
    return False, tuple(placeless)


def _names(word: str, words: str) -> bool:
    return bool(re.search(rf"\b{word}s?\b", words))


def _is_at(where: str, name: str, of: int, count: str) -> bool | None:
    """Tell whether what was fitted sits where the measured part did; None where its words leave that open."""
    sides = {side for side, words in _SIDES.items() if words.search(where)}
    own = {side for side in _SIDES if side in name}
    if own and sides and not own & sides:
        return False
    numbers = {int(number) for number in _NUMBER.findall(where)}
    number = name.rpartition(" ")[2]
    if not number.isdigit():
        return True
    if numbers and int(number) not in numbers:
        return False
    if not numbers:
        return True if count.strip().isdigit() and int(count) >= of else None
    return True if not own or sides else None
