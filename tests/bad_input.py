"""What no careful person types: strings of every kind, the same ones at every run."""

from __future__ import annotations

import random
import sys
import unicodedata
from collections.abc import Callable, Iterator
from functools import cache

SEED = 7_620_041
LONGEST = 100_000

_SPACES = " \t\n\r\v\f\0\u00a0\u2007\u2009\u202f\u3000\u200b\u2060\ufeff\u180e\u2028\u2029\u0085"
_MARKS = ".,'’`´٫٬·_:;/\\-−–—+±~^*=%‰°\"″½⅓⅔¼¾⅛⅜⅝⅞⁄"
_TURNED = "\u200e\u200f\u202a\u202b\u202d\u202e\u202c\u2066\u2067\u2068\u2069\u061c"
_UNITS = (
    *("mm", "cm", "in", '"', "″", "thou", "N·m", "Nm", "lbf·ft", "lb ft", "kgf·m", "cc", "cm³", "l", "°", "%"),
    *("psi", "rpm", "furlong", "mm mm", "mm/in", "mm²", "m m", "µm", "Å", "kN·m/s", "%%", "pm", "e", "E3", "K"),
)
_EMOJI = ("🔧", "👩🏽‍🔧", "🇩🇪", "1️⃣", "⚙️", "🏴󠁧󠁢󠁳󠁣󠁴󠁿", "💥" * 40, "\U0001f9f0\U0001f529")
_MARKUP = (
    '"><img src=x onerror="window.hurt=1">',
    "<script>window.hurt=1</script>",
    "</textarea></form><svg/onload=window.hurt=1>",
    '\'><iframe srcdoc="<script>parent.hurt=1</script>"></iframe>',
    "<b>80</b>",
    "<!-- 80 -->",
    "&lt;80&gt; &#56;&#48; &amp;amp; &nbsp;80",
    "]]><![CDATA[80",
    "{{ 7 * 7 }} {% raw %} {# #}",
    "javascript:window.hurt=1",
    "\" autofocus onfocus='window.hurt=1' x=\"",
    "<bench-question name=torque.wrench></bench-question>",
    "<base href=//example.invalid/><meta http-equiv=refresh content=0>",
)
_OTHER_LANGUAGES = (
    "'; DROP TABLE studs; --",
    "80' OR '1'='1",
    '" UNION SELECT 80, NULL -- ',
    "$(reboot) `reboot` ; reboot | reboot",
    "../../../../etc/passwd",
    "%00%0a%3Cscript%3E",
    "__import__('os').system('true')",
    "{0.__class__} {target!r:>10000} %s%n%(x)s",
    "\\u0038\\u0030 \\x38 \\n \\",
    "=80+1 @SUM(1) +80",
    "NaN nan inf -Infinity None null undefined true [] {}",
    "0x50 0o120 0b1010000 80j 8_0 80L 80f",
    '{"field": "bore"}',
)


def _number(pick: random.Random) -> str:
    """Return a number in the range that fields take, as a person writes it."""
    mark = pick.choice(".,")
    return pick.choice(
        (
            str(pick.randrange(0, 13)),
            str(pick.randrange(0, 500)),
            f"{pick.uniform(0, 2):.3f}".replace(".", mark),
            f"{pick.uniform(0, 200):.1f}".replace(".", mark),
            f"{pick.randrange(1, 20)}/{pick.randrange(0, 17)}",
            f"{pick.randrange(0, 5)} {pick.randrange(1, 16)}/{pick.choice((2, 4, 8, 16, 32))}",
            f"-{pick.uniform(0, 90):.2f}",
        )
    )


def _plausible(pick: random.Random) -> str:
    return _number(pick) + pick.choice(("", "", " ", "\u00a0")) + pick.choice(("", *_UNITS))


def _lists(pick: random.Random) -> str:
    parter = pick.choice((" ", "-", ", ", ",", "; ", " / ", "/", "|", "\n", " – ", ";;", "  "))
    return parter.join(_number(pick) for _ in range(pick.randrange(2, 30)))


def _odd_separators(pick: random.Random) -> str:
    digits = pick.choice(("0123456789", "٠١٢٣٤٥٦٧٨٩", "०१२३४५६७८९", "０１２３４５６７８９", "²³¹⁰⅒①②Ⅷ", "𝟎𝟏𝟐𝟑"))
    return "".join(pick.choice(digits if pick.random() < 0.6 else _MARKS + _SPACES) for _ in range(pick.randrange(30)))


def _exponents(pick: random.Random) -> str:
    sign = pick.choice(("", "+", "-", "−"))
    return f"{sign}{_number(pick)}{pick.choice(('e', 'E', '×10^', '^', '**', 'e+', '·10'))}{sign}{pick.randrange(400)}"


def _fractions(pick: random.Random) -> str:
    parts = [pick.choice((*"½⅓⅔¼¾⅛⅜⅝⅞⁄/", _number(pick), str(pick.randrange(20)), "0", " ")) for _ in range(6)]
    return "".join(parts[: pick.randrange(1, 7)])


def _plus_minus(pick: random.Random) -> str:
    marks = ("±", "+/-", "+-", " ± ", "±±", "± mm ", "(±", "±(")
    return "".join(_plausible(pick) + pick.choice(marks) for _ in range(pick.randrange(1, 5))) + _number(pick)


def _enormous(pick: random.Random) -> str:
    return pick.choice("0123456789") * pick.randrange(20, 400) + pick.choice(("", ".", ",5", "/3", " mm"))


def _units(pick: random.Random) -> str:
    return "".join(pick.choice((*_UNITS, _number(pick), " ", "·", ".")) for _ in range(pick.randrange(1, 8)))


def _turned(pick: random.Random) -> str:
    return "".join(pick.choice((*_TURNED, _number(pick), "mm", "א", "ع")) for _ in range(pick.randrange(1, 10)))


def _emoji(pick: random.Random) -> str:
    return "".join(pick.choice((*_EMOJI, _number(pick))) for _ in range(pick.randrange(1, 6)))


def _nothing(pick: random.Random) -> str:
    return "".join(pick.choice(_SPACES) for _ in range(pick.randrange(12)))


def _half_pairs(pick: random.Random) -> str:
    """Return text with halves of surrogate pairs, alone and reversed, as a broken keyboard may send them."""
    return "".join(
        pick.choice(("\ud83d", "\udd27", "\udfff\ud800", _number(pick))) for _ in range(pick.randrange(1, 6))
    )


def _embedded(of: tuple[str, ...]) -> Callable[[random.Random], str]:
    return lambda pick: pick.choice(("", _plausible(pick))) + pick.choice(of) + pick.choice(("", _plausible(pick)))


@cache
def _by_category() -> dict[str, tuple[str, ...]]:
    """Return up to 200 characters of each of Unicode's categories."""
    found: dict[str, list[str]] = {}
    for character in map(chr, range(sys.maxunicode + 1)):
        found.setdefault(unicodedata.category(character), []).append(character)
    some = {category: random.Random(SEED).sample(of, min(200, len(of))) for category, of in found.items()}  # noqa: S311
    return {category: tuple(of) for category, of in some.items()}


def _of_every_category(pick: random.Random) -> str:
    categories = ("Lu", "Ll", "Lt", "Lm", "Lo", "Mn", "Mc", "Me", "Nd", "Nl", "No", "Pc", "Pd", "Ps", "Pe", "Pi", "Pf")
    more = ("Po", "Sm", "Sc", "Sk", "So", "Zs", "Zl", "Zp", "Cc", "Cf", "Cs", "Co", "Cn")
    letters = (pick.choice(_by_category()[pick.choice((*categories, *more))]) for _ in range(pick.randrange(1, 40)))
    return "".join(letters)


def _mutilated(pick: random.Random) -> str:
    """Return something nearly right, with a few characters put in, taken out or doubled."""
    text = list(pick.choice((_plausible, _lists, _plus_minus))(pick))
    for _ in range(pick.randrange(1, 5)):
        place = pick.randrange(len(text) + 1)
        text[place : place + pick.randrange(3)] = [pick.choice(_MARKS + _SPACES + _TURNED) * pick.randrange(1, 3)]
    return "".join(text)


_KINDS: tuple[Callable[[random.Random], str], ...] = (
    *(_plausible, _lists, _odd_separators, _exponents, _fractions, _plus_minus, _enormous, _units, _turned, _emoji),
    *(_nothing, _half_pairs, _embedded(_MARKUP), _embedded(_OTHER_LANGUAGES), _of_every_category, _mutilated),
)
_ONE_LONG_IN = 50


def bad_strings(count: int, seed: int = SEED) -> Iterator[str]:
    """Yield so many strings of all kinds; one in fifty is repeated up to 100 kB."""
    pick = random.Random(seed)  # noqa: S311 (to be repeated, not to be secret)
    for _ in range(count):
        text = pick.choice(_KINDS)(pick)
        if pick.randrange(_ONE_LONG_IN) == 0:
            length = pick.randrange(1_000, LONGEST + 1)
            text = (pick.choice(("1", "a ", "")) + (text or " ") * length)[: length - 1] + pick.choice(("1", "x"))
        yield text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "surrogatepass")  # as browsers join halves
