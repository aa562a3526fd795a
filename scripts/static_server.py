"""Serve the built site with nothing but Python, and print where it can be opened."""

from __future__ import annotations

import argparse
import functools
import os
import socket
import sys
import threading
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from scripts import watch

ROOT = Path(__file__).resolve().parent.parent
SITE = ROOT / "build" / "site"


COPIES = {"br": ".br", "gzip": ".gz"}
"""By which name a file has its compressed copy beside it (``scripts/pack``), the smallest first."""


class Handler(SimpleHTTPRequestHandler):
    """Static files, revalidated at each visit so that a new build is seen at once; errors only are logged.

    Where a compressed copy stands beside a file, it goes to who takes it.
    """

    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".mjs": "text/javascript",
        ".js": "text/javascript",
        ".wasm": "application/wasm",
        ".whl": "application/zip",
    }

    coding = ""

    def translate_path(self, path: str) -> str:
        """Return the file to send: the compressed copy, where there is one that the browser takes."""
        plain = super().translate_path(path)
        file = Path(plain, "index.html") if path.partition("?")[0].endswith("/") else Path(plain)
        taken = {part.partition(";")[0].strip() for part in self.headers.get("Accept-Encoding", "").split(",")}
        for coding, suffix in COPIES.items():
            if coding in taken and (copy := file.with_name(file.name + suffix)).is_file():
                self.coding = coding
                return str(copy)
        self.coding = ""
        return plain

    def guess_type(self, path: str | os.PathLike[str]) -> str:
        return super().guess_type(str(path).removesuffix(COPIES.get(self.coding, "")))

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-cache")
        if self.coding:
            self.send_header("Content-Encoding", self.coding)
            self.send_header("Vary", "Accept-Encoding")
        super().end_headers()

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        if not str(code).startswith(("2", "3")):
            super().log_request(code, size)


class Unchanging(Handler):
    """For a site that stays as it is while it is served: what was fetched may be kept, and connections stay open."""

    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # or each answer waits 40 ms for the receipt of its own head

    def log_message(self, *message: object) -> None:
        pass

    def send_header(self, keyword: str, value: str) -> None:
        super().send_header(keyword, "max-age=31536000" if keyword == "Cache-Control" else value)


class Server(ThreadingHTTPServer):
    """One that does not mind a reader who leaves in the middle of a file."""

    def handle_error(self, request: object, client_address: object) -> None:
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]


def server(host: str, port: int, directory: Path = SITE, handler: type[Handler] = Handler) -> Server:
    """Return a server for the built site, bound but not yet running; port 0 takes any free one."""
    return Server((host, port), functools.partial(handler, directory=str(directory)))


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
    parser.add_argument("--watch", action="store_true", help="build again on every change")
    given = parser.parse_args()
    host = "0.0.0.0" if given.host else "127.0.0.1"  # noqa: S104 (the reader asked for it)
    try:
        running = server(host, given.port)
        port = running.server_address[1]
    except OSError as error:
        sys.exit(
            f"Port {given.port} cannot be used ({error.strerror}). Take another: scripts/serve --port {given.port + 1}"
        )
    print(f"The bench book is open at http://localhost:{port}/", flush=True)
    if given.host:
        print(f"On the phone:          http://{own_address()}:{port}/", flush=True)
    print("Stop it with Ctrl-C.", flush=True)
    if given.watch:
        threading.Thread(target=watch.rebuild_on_change, daemon=True).start()
    try:
        running.serve_forever()
    except KeyboardInterrupt:
        print()


if __name__ == "__main__":
    main()
