"""Devices and tabs made up for a test, around the job's own storage code under Node."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

WORLDS = 50
"""So many are made one after the other in one Node: it keeps of each tab that was ever opened what its modules took."""


class World:
    """Sends one order at a time to ``job_storage.mjs``."""

    def __init__(self) -> None:
        self._made = 0
        self._process = self._started()

    @staticmethod
    def _started() -> subprocess.Popen[str]:
        node = shutil.which("node")
        assert node, "Node is not installed"
        command = [node, "--experimental-vm-modules", "--no-warnings", str(Path(__file__).with_name("job_storage.mjs"))]
        return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def end(self) -> None:
        assert self._process.stdin and self._process.stdout
        self._process.stdin.close()
        self._process.wait()
        self._process.stdout.close()

    def __call__(self, order: str, **given: Any) -> Any:
        if order == "world":
            self._made += 1
            if self._made % WORLDS == 0:
                self.end()
                self._process = self._started()
        assert self._process.stdin and self._process.stdout
        self._process.stdin.write(f"{json.dumps({'order': order, **given})}\n")
        self._process.stdin.flush()
        answer = json.loads(self._process.stdout.readline())
        assert "failed" not in answer, answer["failed"]
        return answer["answer"]


@contextmanager
def world() -> Iterator[World]:
    """Start Node with a world in it; it ends with the block."""
    started = World()
    yield started
    started.end()
