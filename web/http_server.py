"""Serves one folder on this machine only: http_server.py PORT FOLDER. Types are those a browser insists on."""
import functools
import http.server
import sys


class Handler(http.server.SimpleHTTPRequestHandler):
    extensions_map = {
        **http.server.SimpleHTTPRequestHandler.extensions_map,
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".webmanifest": "application/manifest+json",
        ".json": "application/json",
    }

    def end_headers(self):
        # Asks again each time, so that a new build is seen; the offline copy keeps its own files.
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format, *args):
        if args and str(args[1:2]) not in ("('200',)", "('304',)"):
            super().log_message(format, *args)


def main():
    port, folder = int(sys.argv[1]), sys.argv[2]
    try:
        server = http.server.ThreadingHTTPServer(("127.0.0.1", port), functools.partial(Handler, directory=folder))
    except OSError as error:
        sys.exit(f"Port {port} cannot be used ({error.strerror}). Choose another: web/serve --port {port + 1}")
    print(f"\nFacetwright is at http://localhost:{port}/  (Ctrl+C ends it)", flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print()


main()
