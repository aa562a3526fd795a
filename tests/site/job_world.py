"""Devices and tabs made up for a test, around the job's own storage code under Node."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any


class World:
    """Sends one order at a time to ``job_storage.mjs``."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def __call__(self, order: str, **given: Any) -> Any:
        assert self._process.stdin and self._process.stdout
        self._process.stdin.write(f"{json.dumps({'order': order, **given})}\n")
        self._process.stdin.flush()
        answer = json.loads(self._process.stdout.readline())
        assert "failed" not in answer, answer["failed"]
        return answer["answer"]


@contextmanager
def world() -> Iterator[World]:
    """Start Node with a world in it; it ends with the block."""
    node = shutil.which("node")
    assert node, "Node is not installed"
    command = [node, "--experimental-vm-modules", "--no-warnings", str(Path(__file__).with_name("job_storage.mjs"))]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        yield World(process)
        assert process.stdin
        process.stdin.close()
