"""A card's YAML: what hides a mistake, or costs more than a card is worth, is refused."""

from __future__ import annotations

import math
from typing import Any

import yaml

MOST_NODES = 5_000
"""Keys, values and lists of a file; a card with every fact has 700."""
_MOST_DIGITS = 30


class _CardLoader(yaml.SafeLoader):
    """YAML without aliases, without a key twice, and with numbers that are numbers."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.nodes = 0

    def compose_node(self, parent: Any, index: Any) -> Any:
        event: Any = self.peek_event()  # type: ignore[no-untyped-call]
        self.nodes += 1
        if isinstance(event, yaml.AliasEvent):
            raise _refused(f"*{event.anchor} stands for another place; write the value itself", event.start_mark)
        if self.nodes > MOST_NODES:
            raise _refused(f"it has over {MOST_NODES} entries, which no card has", event.start_mark)
        return super().compose_node(parent, index)

    def construct_mapping(self, node: Any, deep: bool = False) -> Any:
        seen: dict[str, int] = {}
        for key, _ in node.value if isinstance(node, yaml.MappingNode) else ():
            name, line = str(key.value), key.start_mark.line + 1
            if name in seen:
                raise _refused(
                    f"the key {name[:40]} appears twice, first in line {seen[name]}; keep one", key.start_mark
                )
            seen[name] = line
        return super().construct_mapping(node, deep)

    def number(self, node: Any) -> Any:
        if len(node.value) > _MOST_DIGITS:
            raise _refused(f"a number of {len(node.value)} digits is too long to be a fact", node.start_mark)
        whole = node.tag.endswith(":int")
        found = self.construct_yaml_int(node) if whole else self.construct_yaml_float(node)
        if not math.isfinite(found):
            raise _refused(f"{node.value} is not a usable number", node.start_mark)
        return found


def _refused(problem: str, mark: Any) -> yaml.MarkedYAMLError:
    return yaml.MarkedYAMLError(problem=problem, problem_mark=mark)


for _tag in ("int", "float"):
    _CardLoader.add_constructor(f"tag:yaml.org,2002:{_tag}", _CardLoader.number)


def tree(text: str) -> Any:
    r"""Return the tree of a card's text.

    Raises
    ------
    ValueError
        What is wrong, behind the line where it stands: ``, line 4: …``.

    Examples
    --------
    >>> tree("name: Mine\nname: Yours")
    Traceback (most recent call last):
    ValueError: , line 2: the key name appears twice, first in line 1; keep one
    """
    loader = None
    try:
        loader = _CardLoader(text)
        return loader.get_single_data()
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark
        known = type(error) is yaml.MarkedYAMLError
        where = f", line {mark.line + 1}" if mark else ""
        raise ValueError(f"{where}: {'' if known else 'this is not YAML: '}{_line(error.problem or error)}") from None
    except RecursionError:
        raise ValueError(": it is nested deeper than any card") from None
    except (yaml.YAMLError, ValueError, OverflowError) as error:
        raise ValueError(f": this is not YAML: {_line(error)}") from None
    finally:
        if loader:
            loader.dispose()


def _line(said: object) -> str:
    return " ".join(str(said).split())[:200]
