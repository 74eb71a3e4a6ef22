"""A server of a mock-up on this computer, which answers with what lies in a folder."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

ROOT = "/redfish/v1"


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The address of a service whose resources are the `index.json` of the folder."""

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"
        disable_nagle_algorithm = True  # a content does not wait until the head has arrived

        def do_GET(self) -> None:
            path = self.path.partition("?")[0].rstrip("/")
            if path == "/redfish":
                return self.answer(json.dumps({"v1": f"{ROOT}/"}).encode())
            if path != ROOT and not path.startswith(f"{ROOT}/"):
                return self.answer(b"{}", 404)
            home = folder / path.removeprefix(ROOT).lstrip("/")
            for name, kind in (("index.json", "json"), ("index.xml", "xml")):
                if (home / name).is_file():
                    return self.answer((home / name).read_bytes(), 200, kind)
            return self.answer(b"{}", 404)

        def answer(self, content: bytes, status: int = 200, kind: str = "json") -> None:
            self.send_response(status)
            self.send_header("Content-Type", f"application/{kind};charset=utf-8")
            self.send_header("OData-Version", "4.0")
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)

        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()
