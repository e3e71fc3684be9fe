"""A PostgreSQL server for tests: a cluster of its own in a folder, reached by a socket in it alone, run by somebody who is
not root (who may not run one), stopped and started as wanted, and always ended."""

import contextlib
import glob
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time


def programs():
    """Where the server's programs are, or None."""
    found = sorted(glob.glob("/usr/lib/postgresql/*/bin/initdb"))
    return os.path.dirname(found[-1]) if found else None


def place():
    """In memory where there is room: a test's server need not outlive a power cut, and its syncs cost nothing there."""
    with contextlib.suppress(OSError):
        room = os.statvfs("/dev/shm")
        if room.f_bavail * room.f_frsize > 400e6:
            return "/dev/shm"
    return None


class Server:
    def __init__(self, *settings):
        self.folder = tempfile.mkdtemp(prefix="lintel-server-", dir=place())
        self.user = pwd.getpwnam("postgres") if os.getuid() == 0 else None
        self.settings = settings
        self.process = None
        if self.user is not None:
            os.chown(self.folder, self.user.pw_uid, self.user.pw_gid)
        self.run("initdb", "--pgdata", self.data, "--username", "office", "--auth", "trust", "--no-sync", "--encoding", "UTF8",
                 "--locale", "C")
        self.start()

    @property
    def data(self):
        return os.path.join(self.folder, "data")

    def identity(self):
        return {} if self.user is None else {"user": self.user.pw_uid, "group": self.user.pw_gid, "extra_groups": []}

    def run(self, program, *words):
        subprocess.run([os.path.join(programs(), program), *words], check=True, capture_output=True, text=True, cwd=self.folder,
                       timeout=60, **self.identity())

    def start(self):
        settings = [f"unix_socket_directories={self.folder}", "listen_addresses=", "shared_buffers=16MB", "max_connections=30",
                    "autovacuum=off", "log_min_messages=fatal", *self.settings]
        with open(os.path.join(self.folder, "log"), "a") as log:
            self.process = subprocess.Popen([os.path.join(programs(), "postgres"), "-D", self.data,
                                             *(word for setting in settings for word in ("-c", setting))],
                                            cwd=self.folder, stdout=log, stderr=log, **self.identity())
        end = time.monotonic() + 30
        while self.sql("SELECT 1", check=False) != "1":
            if time.monotonic() > end or self.process.poll() is not None:
                with open(os.path.join(self.folder, "log")) as log:
                    raise RuntimeError("the server does not start: " + log.read())
            time.sleep(0.02)

    def stop(self, how=signal.SIGINT):
        """SIGINT: whoever is connected is turned out; SIGQUIT: as if the power went."""
        self.process.send_signal(how)
        self.process.wait(30)

    def sql(self, text, database="postgres", check=True):
        ran = subprocess.run([os.path.join(programs(), "psql"), "-h", self.folder, "-U", "office", "-d", database, "-AtXqc", text],
                             capture_output=True, text=True, timeout=60, check=False, cwd="/")
        assert not check or ran.returncode == 0, ran.stderr
        return ran.stdout.strip()

    def address(self, database="postgres", more=""):
        return f"postgresql:///{database}?host={self.folder}&user=office{more}"

    def end(self):
        if self.process is not None and self.process.poll() is None:
            self.stop(signal.SIGQUIT)
        shutil.rmtree(self.folder, ignore_errors=True)


class Session:
    """Somebody who is connected, and stays so."""

    def __init__(self, server, database="locked"):
        self.process = subprocess.Popen([os.path.join(programs(), "psql"), "-h", server.folder, "-U", "office", "-d", database,
                                         "-AtXq"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd="/")

    def say(self, text):
        """Says it and waits for the line that it brings."""
        self.process.stdin.write(text + ";\n")
        self.process.stdin.flush()
        return self.process.stdout.readline()

    def end(self):
        self.process.stdin.close()
        self.process.wait(10)
        self.process.stdout.close()


@contextlib.contextmanager
def running(*settings):
    server = Server(*settings)
    try:
        yield server
    finally:
        server.end()
