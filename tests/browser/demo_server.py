"""The demonstration itself as a process of its own, over an empty data folder."""

import os
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# It may first have to build the screens, fetch their packages, and compile the engines.
PATIENCE_S = 300
FIRST_ANSWER = "api/v1/cooperatives/"


def free_port():
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def answers(address):
    try:
        with urllib.request.urlopen(address + FIRST_ANSWER, timeout=5) as answer:
            return answer.status == 200
    # Not there yet, or it hung up while it was starting.
    except OSError:
        return False


def wait_for(address, process, log):
    end = time.monotonic() + PATIENCE_S
    while not answers(address):
        if process.poll() is not None or time.monotonic() > end:
            raise AssertionError(f"the demo does not answer at {address}:\n{log.read_text()}")
        time.sleep(0.2)


@contextmanager
def demo_server(data):
    """The address of `manage.py demo`, with its data in a folder; it ends with the block."""
    data.mkdir(parents=True, exist_ok=True)
    port, log = free_port(), data / "server.log"
    command = [sys.executable, "manage.py", "demo", "--port", str(port)]
    environment = os.environ | {"CARTON_HOUR_DATA": str(data)}
    with (
        log.open("w", encoding="utf-8") as out,
        subprocess.Popen(command, cwd=ROOT, env=environment, stdout=out, stderr=subprocess.STDOUT) as process,
    ):
        try:
            wait_for(f"http://127.0.0.1:{port}/", process, log)
            yield f"http://127.0.0.1:{port}/"
        finally:
            process.terminate()
