"""The first command of the README, in processes of their own: started, looked at, stopped, started again."""

import json
import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import urllib.error
import urllib.request

import pytest

from tests.house.tree import ROOT

# Screens that count as built, so that no test waits for npm.
START = """
import os, pathlib, sys
os.environ["DJANGO_SETTINGS_MODULE"] = "coop.settings"
from django.conf import settings
settings.FRONTEND = pathlib.Path(sys.argv[1])
settings.SCREENS = settings.FRONTEND / "dist"
import manage
sys.argv = ["manage.py", "demo", *sys.argv[2:]]
manage.main()
"""


@pytest.fixture
def screens(tmp_path):
    folder = tmp_path / "frontend"
    (folder / "dist").mkdir(parents=True)
    (folder / "package-lock.json").write_text("{}")
    for name in ("index.html", "sw.js"):
        (folder / "dist" / name).write_text("<!doctype html><title>Carton Hour</title>")
    return folder


@pytest.fixture
def demo(tmp_path, screens):
    """Starts the demo and answers with the process; what still runs at the end is stopped."""
    running = []

    def start(*words):
        process = subprocess.Popen(
            [sys.executable, "-c", START, screens, *words],
            cwd=ROOT,
            env=os.environ | {"CARTON_HOUR_DATA": str(tmp_path / "data")},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        running.append(process)
        return process

    yield start
    for process in running:
        process.kill()
        process.communicate()


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return str(probe.getsockname()[1])


def greeting(process):
    """Everything it says until it serves."""
    said = ""
    for line in process.stdout:
        said += line
        if "Ctrl-C" in line:
            return said
    raise AssertionError(f"it stopped: {said}{process.stderr.read()}")


def get(port, address):
    try:
        with urllib.request.urlopen(f"http://127.0.0.1:{port}{address}", timeout=20) as answer:
            return answer.status, answer.read().decode()
    except urllib.error.HTTPError as refusal:
        with refusal:
            return refusal.code, refusal.read().decode()


def post(port, address, body):
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}{address}",
        json.dumps(body).encode(),
        {"Content-Type": "application/json"},
    )
    with urllib.request.urlopen(request, timeout=20) as answer:
        return json.load(answer)


def stop(process):
    process.send_signal(signal.SIGINT)
    said, complained = process.communicate(timeout=20)
    return process.returncode, said + complained


def refusal(process):
    """What a start that fails says: nothing but one sentence."""
    said, complained = process.communicate(timeout=60)
    assert process.returncode != 0
    assert "Traceback" not in complained
    assert said + complained.strip() == complained.strip()
    assert complained.count("\n") == 1
    return complained


def test_it_serves_screens_interface_and_tables_and_keeps_what_was_changed(demo, tmp_path):
    port = free_port()
    first = demo("--port", port)
    said = greeting(first)
    assert f"http://127.0.0.1:{port}/" in said
    assert re.search(r"name demo, password \S{12} ", said)
    assert re.search(r"Look as .+ \(member\) or .+ \(packer\) or .+ \(manager\)\.", said)
    name, password = re.search(r"name (\w+), password (\S{12}) \(shown", said.partition("People")[2]).groups()
    signing_in = {"name": name, "password": password, "phone_name": "Office"}
    assert post(port, "/api/v1/sign-in/", signing_in)["me"]["member"]["role"] == "manager"
    assert get(port, "/")[0] == 200
    assert get(port, "/departures/1-20260302-common")[1] == get(port, "/")[1]
    assert get(port, "/gone.png")[0] == 404
    assert get(port, "/admin/login/")[0] == 200
    species = json.loads(get(port, "/api/v1/species/")[1])
    assert species["count"] >= 6
    assert stop(first)[0] == 0

    with sqlite3.connect(tmp_path / "data" / "carton_hour.sqlite3") as tables:
        tables.execute("UPDATE coop_cooperative SET name = 'Changed by hand'")
    tables.close()
    second = demo("--port", port)
    said_again = greeting(second)
    assert "shown at the first start" in said_again
    assert password not in said_again
    cooperatives = json.loads(get(port, "/api/v1/cooperatives/")[1])
    assert [one["name"] for one in cooperatives["results"]] == ["Changed by hand"]
    assert json.loads(get(port, "/api/v1/species/")[1]) == species
    assert stop(second)[0] == 0


def test_a_taken_port_gets_one_sentence(demo):
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert f"Port {port} is taken" in refusal(demo("--port", str(port)))


def test_a_folder_that_cannot_be_made_gets_one_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    environment = os.environ | {"CARTON_HOUR_DATA": str(tmp_path / "file" / "data")}
    start = [sys.executable, ROOT / "manage.py", "demo"]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "text": True}
    with subprocess.Popen(start, env=environment, **pipes) as process:
        assert "cannot be made" in refusal(process)


def test_a_database_that_is_none_gets_one_sentence(demo, tmp_path):
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "carton_hour.sqlite3").write_text("no database")
    assert "not a database" in refusal(demo("--port", free_port()))


def test_production_is_no_place_for_a_demonstration(demo, tmp_path, monkeypatch):
    named = {
        "PRODUCTION": "yes",
        "HOSTS": "fish.example",
        "SECRET_KEY": "kZ3v9QmT7xLr2WbN8sYc4HdJ6fGpA1eU" * 2,
    }
    for name, value in named.items():
        monkeypatch.setenv(f"CARTON_HOUR_{name}", value)
    assert "CARTON_HOUR_PRODUCTION is yes" in refusal(demo("--port", free_port()))
    assert not (tmp_path / "data" / "carton_hour.sqlite3").exists()


def test_screens_that_cannot_be_built_get_one_sentence(demo, screens):
    (screens / "dist/index.html").unlink()
    (screens / "package-lock.json").unlink()
    process = demo("--port", free_port())
    said, complained = process.communicate(timeout=60)
    assert process.returncode == 1
    assert said.startswith("Building the screens")
    assert complained.count("\n") == 1
    assert "package-lock.json" in complained
