"""Addresses of a former edition, ``/calculators/<name>/``: each a tiny page that leads to the room of its questions."""

from __future__ import annotations

import html
import json
from pathlib import Path

from calculators.bench.question import room_title
from calculators.job.former import FORMER

_ROOMS = {name: former.room for name, former in FORMER.items()} | {"measured-chain": "compression"}
_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>Moved: {title}</title>
<link rel="canonical" href="{room}">
<noscript><meta http-equiv="refresh" content="0; url={room}"></noscript>
</head>
<body data-room="{room}" data-calculator="{name}" data-shared="{shared}">
<main><h1>{title}</h1><p>This page has moved: <a href="{room}">{title}</a></p></main>
<script type="module" src="../../assets/{release}/moved.js"></script>
</body>
</html>
"""


def write(site: Path, release: str, policy: str) -> None:
    """Write the pages into a built site.

    Parameters
    ----------
    site : Path
    release : str
        The folder below ``assets/`` in which our scripts stand.
    policy : str
        The policy of a page with nothing inline.
    """
    for name, room in _ROOMS.items():
        shared = dict(FORMER[name].shared) if name in FORMER else {}
        page = site / "calculators" / name / "index.html"
        page.parent.mkdir(parents=True, exist_ok=True)
        text = _PAGE.format(
            policy=html.escape(policy, quote=False),
            title=html.escape(room_title(room)),
            room=f"../../work-it-out/{room.replace('_', '-')}/",
            name=name,
            shared=html.escape(json.dumps(shared, separators=(",", ":"))),
            release=release,
        )
        page.write_text(text, encoding="utf-8")
