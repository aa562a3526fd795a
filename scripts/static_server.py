"""Serve the built site with nothing but Python, and print where it can be opened."""

from __future__ import annotations

import argparse
import functools
import os
import socket
import sys
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / "build" / "site"


class Handler(SimpleHTTPRequestHandler):
    """Static files, revalidated at each visit so that a new build is seen at once; errors only are logged."""

    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".mjs": "text/javascript",
        ".js": "text/javascript",
        ".wasm": "application/wasm",
        ".whl": "application/zip",
    }

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        if not str(code).startswith(("2", "3")):
            super().log_request(code, size)


def server(host: str, port: int) -> ThreadingHTTPServer:
    """Return a server for the built site, bound but not yet running; port 0 takes any free one."""
    return ThreadingHTTPServer((host, port), functools.partial(Handler, directory=str(SITE)))


def own_address() -> str:
    """Return this machine's address on its network, as the phone would type it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: only asks which way out it would take
            return str(probe.getsockname()[0])
        except OSError:
            return socket.gethostname()


def main() -> None:
    """Serve until interrupted."""
    parser = argparse.ArgumentParser(prog="scripts/serve")
    parser.add_argument("--host", action="store_true", help="open to other devices on the same network")
    parser.add_argument("--port", type=int, default=8000)
    parser.add_argument("--watch", action="store_true", help="rebuild and reload on every change")
    given = parser.parse_args()
    host = "0.0.0.0" if given.host else "127.0.0.1"  # noqa: S104 (the reader asked for it)
    if given.watch:
        os.environ["NO_MKDOCS_2_WARNING"] = "1"
        command = [
            sys.executable,
            "-m",
            "mkdocs",
            "serve",
            "--dev-addr",
            f"{host}:{given.port}",
            "--watch",
            "calculators",
        ]
        os.execv(sys.executable, command)  # noqa: S606
    try:
        running = server(host, given.port)
    except OSError as error:
        sys.exit(
            f"Port {given.port} cannot be used ({error.strerror}). Take another: scripts/serve --port {given.port + 1}"
        )
    print(f"The bench book is open at http://localhost:{given.port}/", flush=True)
    if given.host:
        print(f"On the phone:          http://{own_address()}:{given.port}/", flush=True)
    print("Stop it with Ctrl-C.", flush=True)
    try:
        running.serve_forever()
    except KeyboardInterrupt:
        print()


if __name__ == "__main__":
    main()
