"""The sentences of a Python module that a reader sees: told by where each text stands in its syntax tree."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Callable, Mapping
from string import Formatter

Translate = Callable[[str, int], str]
"""Gives another sentence for one, which stands in this line, with the same places; the same where it knows none."""

WORD = re.compile(r"[A-Za-z]{2}")
SENTENCE = re.compile(r"[A-Za-z]{2}[\w’']*[,;:.)±]* +\S|\S +[(±=≈]*[A-Za-z]{2}|^\W*[A-Z][a-z]+")
"""Two words, or one with a capital: what stands so in the source is a sentence unless its place says otherwise."""

NOT_SHOWN = ("__main__.py", "_text.py", "_checks.py", "_drawing.py", "_questions.py", "threads.py")
"""Files without a word for the pages: the command line and its answers, checks, drawing, what the worker asks,
and the tables of threads, whose words are said by ``_words.word``."""

_MEASURE = re.compile(r"[−-]?[\d.,/]+([- ]\d+)? (mm|cm³|thou|in|lbf·ft|N·m|NPT|bar|MPa|min|h|d)|grade \d")
"""What is typed into a field, a thread's name, a steel's: the same in every language."""

_HIDDEN_NAMES = {"__all__", "PREFIX"}
_PROGRAMMING_ERRORS = {"ValueError", "TypeError", "KeyError", "LookupError", "AssertionError", "RuntimeError"}

_HIDDEN_KEYWORDS = re.compile(
    r"key|card|default|example|reading|instrument|own|unit|units|path|prefix|encoding|media_type|size|"
    r"count|look|anchor|file|name|by|of|dest|choices|like|why|standing"
)
_SHOWN_KEYWORDS = re.compile(r"label|title|help|lead|words|large|formula|given|what|text|each|short|notes|noun")

_SAYING = ("deed",)
"""Functions that return words and no keys."""
_GIVEN_BY = ("quantity", "figures", "plain", "printed", "printed_bare")
"""A name beside one of these is what was put into a formula, and is shown with it."""

_HIDDEN_CALLS = re.compile(
    r"compile|sub|fullmatch|match|search|split|quantity|magnitude_in|number_in|uncertainty_in|unit|"
    r"units_of|get|getattr|hasattr|setattr|__setattr__|removesuffix|removeprefix|startswith|endswith|"
    r"partition|rpartition|strip|rstrip|lstrip|replace|encode|with_name|get_template|fact|fromkeys|"
    r"text_of|typed|fits_inside|UnitRegistry|import_module|read_text|glob_|index|find|count|Attribute|"
    r"read_one|read_with|m_as|symbol_of|uuid5"
)
_HIDDEN_ARGUMENTS: Mapping[str, frozenset[int | str]] = {
    "FieldError": frozenset({0}),
    "Caution": frozenset({0}),
    "Source": frozenset({1}),
    "Block": frozenset({1, 2, 3}),
    "calendar_file": frozenset({0, 1}),
    "arc": frozenset({5}),
    "arrow": frozenset({4}),
    "circle": frozenset({3}),
    "line": frozenset({4}),
    "path": frozenset({1}),
    "rectangle": frozenset({4}),
    "text": frozenset({3, 4}),
    "Unit": frozenset({0, 1, 2, 4, 5}),
    "printed": frozenset({1}),
}
_SHOWN_ARGUMENTS: Mapping[str, frozenset[int]] = {
    "FieldError": frozenset({1}),
    "Caution": frozenset({1}),
    "Source": frozenset({0}),
    "text": frozenset({2}),
    "Unit": frozenset({3}),
    "named": frozenset({1}),
    "read_one": frozenset({3}),
    "read_with": frozenset({3}),
    "reading": frozenset({2}),
    "with_limit": frozenset({3}),
}


class _Shown:
    """How much of what stands at a place is shown: all that has a word, only what looks like a sentence, or nothing."""

    ALL, SENTENCES, NOTHING = "all", "sentences", "nothing"


def python_translated(source: str, translate: Translate, keys: frozenset[str] = frozenset()) -> str:
    r"""Return a Python module with other sentences in it.

    Parameters
    ----------
    source : str
        Of the module.
    translate : callable
        Gets each sentence that is shown, and the line where it stands.
    keys : frozenset of str
        What is compared or looked up somewhere: it may look like a sentence and must stay.

    Examples
    --------
    >>> python_translated('say(label=f"Cylinder {number}", key="bore")', lambda words, line: words.upper())
    Traceback (most recent call last):
    KeyError: 'NUMBER'
    >>> python_translated('say(label=f"Cylinder {number}", key="bore")', lambda words, line: f"{words}!")
    "say(label=f'Cylinder {number}!', key='bore')\n"
    """
    tree = ast.parse(source)

    def put(node: ast.Constant | ast.JoinedStr, message: str) -> None:
        _put(node, translate(message, node.lineno))

    _Rewriter(put, keys).walk(tree)
    return ast.unparse(ast.fix_missing_locations(tree)) + "\n"


class _Rewriter:
    """Walks a module and hands each shown literal, with its message, to ``take``, which may change it in its place."""

    def __init__(self, take: Callable[[ast.Constant | ast.JoinedStr, str], None], keys: frozenset[str]) -> None:
        self._take, self._keys = take, keys
        self._returned = _Shown.SENTENCES

    def walk(self, tree: ast.AST) -> None:
        self._walk(tree, _Shown.SENTENCES)

    def _walk(self, node: ast.AST, shown: str) -> None:
        match node:
            case ast.Constant(value=str(text)):
                self._literal(node, text, shown)
            case ast.JoinedStr(values=parts):
                message = _message(node)
                places = [part for part in parts if isinstance(part, ast.FormattedValue)]
                if shown != _Shown.NOTHING and self._is_shown(message, _Shown.SENTENCES):
                    self._take(node, message)
                    shown = _Shown.ALL
                elif shown == _Shown.SENTENCES and " " in message:
                    shown = _Shown.ALL  # only places with a space between them
                for place in places:
                    self._walk(place.value, shown)
            case ast.Expr(value=ast.Constant()):
                pass  # a docstring
            case ast.Compare():
                self._all(node, _Shown.NOTHING)
            case ast.Assert() | ast.MatchValue() | ast.MatchMapping():
                pass
            case ast.Subscript(value=value):
                self._walk(value, shown)
            case ast.Dict(values=values):
                wanted = _Shown.ALL if shown != _Shown.NOTHING and self._is_of_words(node) else shown
                for value in values:
                    self._walk(value, wanted)
            case ast.IfExp(test=test, body=body, orelse=otherwise):
                self._walk(test, _Shown.NOTHING)
                self._walk(body, shown)
                self._walk(otherwise, shown)
            case ast.Raise(exc=ast.Call(func=ast.Name(id=name))) if name in _PROGRAMMING_ERRORS:
                pass
            case ast.Call():
                self._call(node, shown)
            case ast.Assign(targets=[ast.Name(id=name)]) if name in _HIDDEN_NAMES:
                pass
            case (
                ast.Assign(targets=[ast.Name(id=name)], value=value)
                | ast.AnnAssign(target=ast.Name(id=name), value=value)
            ):
                if value:
                    self._walk(
                        value, _Shown.ALL if name == "given" or name.upper().endswith("WORDS") else _Shown.SENTENCES
                    )
            case ast.arg():
                pass
            case ast.FunctionDef(name=name, args=arguments, body=body):
                self._all(arguments, _Shown.SENTENCES)
                outside, self._returned = self._returned, _Shown.ALL if name in _SAYING else _Shown.SENTENCES
                for statement in body:
                    self._walk(statement, _Shown.SENTENCES)
                self._returned = outside
            case ast.Return(value=ast.expr() as value):
                self._walk(value, self._returned)
            case ast.Tuple(elts=[ast.Constant(value=str()) as name, ast.Call(func=ast.Name(id=made)) as value]) if (
                made in _GIVEN_BY and shown != _Shown.NOTHING
            ):
                self._walk(name, _Shown.ALL)
                self._walk(value, shown)
            case ast.match_case(pattern=_, guard=_, body=body):
                for statement in body:
                    self._walk(statement, _Shown.SENTENCES)
            case ast.comprehension() | ast.GeneratorExp() | ast.ListComp() | ast.Tuple() | ast.List() | ast.Starred():
                self._all(node, shown)
            case ast.BinOp() | ast.BoolOp():
                self._all(node, shown)
            case _:
                self._all(node, _Shown.NOTHING if shown == _Shown.NOTHING else _Shown.SENTENCES)

    def _all(self, node: ast.AST, shown: str) -> None:
        for child in ast.iter_child_nodes(node):
            self._walk(child, shown)

    def _call(self, node: ast.Call, shown: str) -> None:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if isinstance(node.func, ast.Attribute):
            self._walk(node.func.value, _Shown.ALL if name == "join" and shown != _Shown.NOTHING else shown)
        inside = _Shown.NOTHING if _HIDDEN_CALLS.fullmatch(name) or shown == _Shown.NOTHING else _Shown.SENTENCES
        spread = 0  # what a star in front of an argument stands for: in a drawing always x and y
        for at, argument in enumerate(node.args):
            place = at + spread
            spread += isinstance(argument, ast.Starred)
            if place in _HIDDEN_ARGUMENTS.get(name, ()):
                continue
            self._walk(argument, _Shown.ALL if place in _SHOWN_ARGUMENTS.get(name, ()) else inside)
        for keyword in node.keywords:
            if _HIDDEN_KEYWORDS.fullmatch(keyword.arg or ""):
                self._walk(keyword.value, _Shown.NOTHING)
            else:
                self._walk(keyword.value, _Shown.ALL if _SHOWN_KEYWORDS.fullmatch(keyword.arg or "") else inside)

    def _literal(self, node: ast.Constant, text: str, shown: str) -> None:
        if self._is_shown(text, shown):
            self._take(node, text)

    def _is_of_words(self, node: ast.Dict) -> bool:
        """Tell whether a mapping gives words for keys: texts alone, and a sentence or a key's own word among them."""
        keys = [key.value if isinstance(key, ast.Constant) else None for key in node.keys]
        values = [value.value if isinstance(value, ast.Constant) else None for value in node.values]
        return all(isinstance(value, str) for value in values) and any(
            key == value or self._is_shown(str(value), _Shown.SENTENCES)
            for key, value in zip(keys, values, strict=True)
        )

    def _is_shown(self, message: str, shown: str) -> bool:
        bare = re.sub(r"\{\w*\}", "0", message)
        if shown == _Shown.NOTHING or bare.startswith("<") or _MEASURE.fullmatch(bare) or not WORD.search(bare):
            return False
        return shown == _Shown.ALL or (bool(SENTENCE.search(bare)) and message not in self._keys)


def keys_of(source: str) -> frozenset[str]:
    """Return the texts that a module compares, looks up or allows as a ``Literal``.

    Examples
    --------
    >>> sorted(keys_of('{"open it": 1}["on"]; verdict in ("in", "too close")'))
    ['in', 'on', 'open it', 'too close']
    """
    places: list[ast.AST] = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Compare):
            places += [node.left, *node.comparators]
        elif isinstance(node, ast.Dict):
            places += [key for key in node.keys if key]
        elif isinstance(node, ast.Subscript):
            places.append(node.slice)
        elif isinstance(node, ast.MatchValue):
            places.append(node.value)
    found = [part for place in places for part in (place, *ast.iter_child_nodes(place))]
    return frozenset(part.value for part in found if isinstance(part, ast.Constant) and isinstance(part.value, str))


def _message(node: ast.JoinedStr) -> str:
    """Return an f-string as a message: braces of its own doubled, each expression a place with a name."""
    names = iter(_place_names(node))
    return "".join(
        str(part.value).replace("{", "{{").replace("}", "}}")
        if isinstance(part, ast.Constant)
        else f"{{{next(names)}}}"
        for part in node.values
    )


def _place_names(node: ast.JoinedStr) -> list[str]:
    return unlike([_place_name(part.value) for part in node.values if isinstance(part, ast.FormattedValue)])


def _place_name(node: ast.expr) -> str:
    match node:
        case ast.Name(id=name) | ast.Attribute(attr=name):
            return name.strip("_") or "value"
        case ast.Call(func=ast.Attribute(value=value, attr=name)) if name in ("capitalize", "lower", "join"):
            return _place_name(value)
        case ast.Call(func=func, args=args):
            if args and isinstance(args[0], ast.Name | ast.Attribute | ast.Call):
                return _place_name(args[0])
            return _place_name(func)
        case ast.Subscript(value=value):
            return _place_name(value)
        case _:
            return "value"


def _put(node: ast.Constant | ast.JoinedStr, said: str) -> None:
    """Put a translated message into its literal's place; its expressions stay what they are."""
    if isinstance(node, ast.Constant):
        node.value = said
        return
    places = [part for part in node.values if isinstance(part, ast.FormattedValue)]
    by_name = dict(zip(_place_names(node), places, strict=True))
    parts: list[ast.expr] = []
    for text, name, _, _ in Formatter().parse(said):
        if text:
            parts.append(ast.Constant(text))
        if name is not None:
            parts.append(by_name[name])
    node.values = parts


def unlike(wanted: list[str]) -> list[str]:
    """Number the names that come more than once."""
    often, met = Counter(wanted), Counter[str]()
    names = []
    for name in wanted:
        met[name] += 1
        names.append(name if often[name] == 1 else f"{name}_{met[name]}")
    return names
