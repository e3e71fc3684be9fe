"""Panels that do not give up, and what must hold of what they were told."""

import os
import socket
import sys
import threading
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "whole"))
from panels import ack, event  # noqa: E402


class Panel(threading.Thread):
    """Sends one event after another, each as often as it takes until it is acknowledged, by turns to each of the listeners:
    half the panels over TCP. No two events of a panel say the same."""

    def __init__(self, number, where):
        super().__init__(daemon=True)
        self.account = f"77{number}"
        self.over_tcp = number % 2 == 0
        self.where = where  # the listeners' ports, which change
        self.turn = number
        self.count = 0
        self.acknowledged = []
        self.over = threading.Event()

    def attempt(self, what, want):
        """Whether it is acknowledged, on a connection of its own, within a moment."""
        self.turn += 1
        try:
            kind = socket.SOCK_STREAM if self.over_tcp else socket.SOCK_DGRAM
            with socket.socket(socket.AF_INET, kind) as panel:
                panel.settimeout(0.25)
                panel.connect(("127.0.0.1", self.where[self.turn % len(self.where)]))
                panel.send(what)
                return panel.recv(1000) == want
        except OSError:
            time.sleep(0.005)
            return False

    def run(self):
        while not self.over.is_set():
            self.count += 1
            number = self.count % 9999 + 1
            text = f"Nri{self.count // 1000}/BA{self.count % 1000}"
            what = event(number, self.account, text, "SIA-DCS")
            while not self.over.is_set():
                if self.attempt(what, ack(number, self.account)):
                    self.acknowledged.append(f"#{self.account}|{text}")
                    break


def judge(acknowledged, sent, stored):
    """What is wrong with an archive, if these were acknowledged."""
    seen = {}
    for line in stored:
        seen[line["data"]] = seen.get(line["data"], 0) + 1
    wrong = [f"{data} was acknowledged and is not there" for data in acknowledged if data not in seen]
    wrong += [f"{data} is there {count} times" for data, count in seen.items() if count > 1]
    wrong += [] if len(seen) <= sent else [f"{len(seen)} are there and {sent} were sent"]
    return wrong[:10]
