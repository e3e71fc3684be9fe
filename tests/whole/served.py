"""A bench served for one test, and a client that is not a browser. On loopback, ended by its own process id."""

import http.client
import json
import os
import re
import signal
import socket
import ssl
import subprocess
import time

from program import LINTEL, tap

PATIENCE_S = 60


class Bench:
    """options: of lintel serve. trusts: the certificate that the client trusts, where the bench speaks TLS."""

    def __init__(self, path, options=(), trusts=None):
        environment = dict(os.environ, LC_ALL="C.UTF-8", LINTEL_DATA=os.path.join(tap.SOURCE, "data"))
        self.process = subprocess.Popen([LINTEL, "serve", path, "--port", "0", *options], env=environment, stdout=subprocess.PIPE,
                                        stderr=subprocess.PIPE, text=True)
        self.address = self.process.stdout.readline().strip()
        match = re.fullmatch(r"(https?)://([a-z0-9.-]+|\[[0-9a-f:]+\]):(\d+)/\?key=([0-9a-f]{32})", self.address)
        self.scheme, self.host, self.port, self.key = match.group(1), match.group(2), int(match.group(3)), match.group(4)
        self.origin, self.cookie = f"{self.scheme}://{self.host}:{self.port}", f"lintel-{self.port}={self.key}"
        self.at = self.host.strip("[]") if ":" in self.host else "127.0.0.1"
        self.trust = ssl.create_default_context(cafile=trusts) if trusts else None

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.process.send_signal(signal.SIGTERM)
        self.status = self.process.wait(timeout=PATIENCE_S)
        self.complaints = self.process.stderr.read()

    def ask(self, method, path, body=None, cookie=True, **headers):
        connection = (http.client.HTTPSConnection(self.at, self.port, timeout=PATIENCE_S, context=self.trust) if self.trust else
                      http.client.HTTPConnection(self.at, self.port, timeout=PATIENCE_S))
        sent = {name.replace("_", "-"): value for name, value in headers.items()}
        if cookie:
            sent.setdefault("Cookie", self.cookie)
        connection.request(method, path, body=body, headers=sent)
        answer = connection.getresponse()
        content = answer.read()
        connection.close()
        return answer, content

    def post(self, path, value, **headers):
        sent = {"Content_Type": "application/json", "Origin": self.origin} | headers
        body = value if isinstance(value, (bytes, str)) else json.dumps(value)
        answer, content = self.ask("POST", path, body=body, **{k: v for k, v in sent.items() if v is not None})
        return answer.status, content

    def raw(self, data, wait=5):
        with socket.create_connection(("127.0.0.1", self.port), timeout=wait) as link:
            got = b""
            try:
                link.sendall(data)
                link.shutdown(socket.SHUT_WR)
                while piece := link.recv(65536):
                    got += piece
            except OSError:  # the server hung up first, as it may
                pass
            return got

    def checked(self, wanted=lambda state: True):
        for _ in range(PATIENCE_S * 10):
            state = json.loads(self.ask("GET", "/state")[1])
            if state["report"] and state["report"]["whole"] and state["report"]["number"] == state["number"] and wanted(state):
                return state
            time.sleep(0.1)
        raise TimeoutError("the bench did not come to rest")
