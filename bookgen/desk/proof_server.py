"""The book as it stands and its photo pairs in, pages on this machine's own address out, for nobody else."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib import resources
from pathlib import Path
from urllib.parse import unquote, urlsplit

HOST = "127.0.0.1"
OWN = "/_proof/"
SHIPPED = frozenset({"proof.js", "proof.css", "points.js", "points.css"})
KINDS = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
    ".ics": "text/calendar; charset=utf-8",
    ".pdf": "application/pdf",
    ".txt": "text/plain; charset=utf-8",
}
PUT_IN = '<link rel="stylesheet" href="/_proof/proof.css"><script src="/_proof/proof.js" defer></script></head>'
# The page of points styles what it moves from its script, which needs no leave; nothing else is let in.
POLICY = "default-src 'none'; img-src 'self'; style-src 'self'; script-src 'self'; base-uri 'none'; form-action 'none'"


@dataclass(frozen=True, slots=True)
class PhotoSide:
    """One photo of a pair: its file in the project, its copy's address, its size in pixels, upright."""

    file: str
    source: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class PointPair:
    """A spot found on both photos already, in pixels of the upright photos."""

    what: str
    framed: tuple[int, int]
    finished: tuple[int, int]


@dataclass(frozen=True, slots=True)
class PhotoPair:
    """A framed and a finished photo of one record, and the pairs of points that it has."""

    name: str
    record: str
    framed: PhotoSide
    finished: PhotoSide
    pairs: tuple[PointPair, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """What the proof shows now: *stamp* counts up; *book* is the last good one; *problems* keep a newer one away."""

    stamp: int
    book: Path | None
    problems: tuple[str, ...]
    pairs: tuple[PhotoPair, ...]


def proof_server(shown: Callable[[], Shown], port: int) -> ThreadingHTTPServer:
    """Return a server on 127.0.0.1 that shows what *shown* returns at each request; *port* 0 takes a free one.

    Raises OSError where the port is taken.
    """

    class Handler(BaseHTTPRequestHandler):
        """Answers for the files of the book and for the proof's own pages."""

        def do_GET(self) -> None:
            """Answer one request."""
            if not self._from_here():
                self._answer(HTTPStatus.FORBIDDEN, ".html", b"This proof is for this machine only.")
                return
            path = unquote(urlsplit(self.path).path)
            found = _own(path.removeprefix(OWN), shown()) if path.startswith(OWN) else _of_book(path, shown())
            if found is None:
                self._answer(HTTPStatus.NOT_FOUND, ".html", _waiting(shown()))
            else:
                self._answer(HTTPStatus.OK, *found)

        def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library's own name
            """Say nothing: the terminal is for problems."""

        def _from_here(self) -> bool:
            """Tell whether the browser was sent to this machine by this name; a strange page may use another for it."""
            return self.headers.get("Host", "").rpartition(":")[0] in {HOST, "localhost"}

        def _answer(self, status: HTTPStatus, suffix: str, body: bytes) -> None:
            self.send_response(status)
            self.send_header("Content-Type", KINDS.get(suffix, "application/octet-stream"))
            self.send_header("Content-Length", str(len(body)))
            self.send_header("Cache-Control", "no-store")
            self.send_header("X-Content-Type-Options", "nosniff")
            self.send_header("Cross-Origin-Resource-Policy", "same-origin")
            self.end_headers()
            self.wfile.write(body)

    return ThreadingHTTPServer((HOST, port), Handler)


def _own(name: str, shown: Shown) -> tuple[str, bytes] | None:
    """Return a page or file of the proof itself."""
    if name in SHIPPED:
        return Path(name).suffix, _shipped(name)
    if name == "points":
        head = f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n<title>'
        return ".html", _shipped("points.html").replace(b"<title>", head.encode(), 1)
    if name == "stamp.js":
        count = len(shown.problems)
        words = f"{count} problem{'s' if count > 1 else ''}: the book below is the last good one" if count else ""
        return ".js", f"window.proofStamp({shown.stamp}, {json.dumps(words)});\n".encode()
    if name == "pairs.js":
        return ".js", f"window.proofPairs = {_in_script([asdict(pair) for pair in shown.pairs])};\n".encode()
    if name == "problems":
        return ".txt", ("\n\n".join(shown.problems) or "No problems.").encode()
    return None


def _in_script(data: object) -> str:
    """Return *data* as it may stand in a script: JSON, without the two line ends that older scripts break at."""
    return json.dumps(data).replace("<", "\\u003c")


def _shipped(name: str) -> bytes:
    return resources.files(__package__).joinpath("proof", name).read_bytes()


def _of_book(path: str, shown: Shown) -> tuple[str, bytes] | None:
    """Return a file of the book; None for what is not there, or leads out of it."""
    if shown.book is None or "\0" in path:
        return None
    home = shown.book.resolve()
    file = (home / path.lstrip("/")).resolve()
    file = file / "index.html" if file == home else file
    if not file.is_relative_to(home) or not file.is_file():
        return None
    body = file.read_bytes()
    if file.suffix == ".html":
        body = body.replace(b"</head>", PUT_IN.encode(), 1)
    return file.suffix, body


def _waiting(shown: Shown) -> bytes:
    """Return the page that stands while there is no book, or no such page in it."""
    says = "The book has problems" if shown.problems else "The book has no such page" if shown.book else "Binding"
    return (
        f"<!doctype html><html lang=en><head><title>{says}</title>{PUT_IN}<body><p>{says}.</p></body></html>".encode()
    )
