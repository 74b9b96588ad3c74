"""The top level, the tests beside the code, the documents and the packages."""

import ast
import re
import tomllib

import pytest

from tests.house.tree import ROOT, files, is_made, plant

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "manage.py",
    "pyproject.toml",
    "coop",
    "api",
    "frontend",
    "tests",
    "fixtures",
    ".ci",
    ".gitignore",
}
LAYERS = ("coop/engines", "coop/models", "coop/selectors", "coop/services", "api")
START = "python3 -m venv .venv && .venv/bin/pip install -e . && .venv/bin/python manage.py demo"
ENVIRONMENT = "python3 -m venv .venv && .venv/bin/pip install -e '.[test]'"
CHECK = f"{ENVIRONMENT} && .venv/bin/pytest -n auto --dist loadfile"


def same_subject(one, other):
    return one == other or one.startswith(f"{other}_") or other.startswith(f"{one}_")


def does_something(path):
    """Whether a module has a function of its own: one that only declares is tried by what uses it."""
    return any(isinstance(node, ast.FunctionDef) for node in ast.walk(ast.parse(path.read_text())))


def untested(root, layer):
    """Modules of a layer beside which no test of the same subject stands, and tests without a module."""
    modules = {path.stem.lstrip("_"): path for path in (root / layer).glob("*.py") if path.stem != "__init__"}
    beside = root / "tests" / layer.removeprefix("coop/")
    tests = {path.stem.removeprefix("test_") for path in beside.glob("test_*.py")}
    alone = [
        name
        for name, path in modules.items()
        if does_something(path) and not any(same_subject(name, test) for test in tests)
    ]
    astray = [f"test_{test}" for test in tests if not any(same_subject(name, test) for name in modules)]
    return sorted(alone + astray)


def unpinned(pyproject):
    """Direct dependencies without an exact version."""
    project = tomllib.loads(pyproject)["project"]
    asked = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    return [line for line in asked if not re.fullmatch(r"[A-Za-z0-9._-]+(\[\w+\])?==[0-9][\w.]*", line)]


def dead_paths(text, root):
    """Paths written in a document between backticks that do not exist."""
    named = re.findall(r"`((?:coop|api|frontend|tests|fixtures|\.ci)/[\w./-]+)`", text)
    return [name for name in named if not (root / name).exists()]


def test_the_top_level_holds_what_the_house_names_and_no_more():
    assert {path.name for path in ROOT.iterdir() if not is_made(path)} == TOP


@pytest.mark.parametrize("layer", LAYERS)
def test_tests_mirror_the_tree(layer):
    assert untested(ROOT, layer) == []


def test_a_module_without_tests_and_a_test_without_a_module_are_found(tmp_path):
    for name in ("coop/engines/fish.py", "coop/engines/carton.py", "tests/engines/test_fish_ice.py"):
        plant(tmp_path, name, "def volume():\n    return 1\n")
    plant(tmp_path, "coop/engines/words.py", "FACES = ('left', 'right')\n")
    assert untested(tmp_path, "coop/engines") == ["carton"]
    plant(tmp_path, "tests/engines/test_kiln.py", "")
    assert untested(tmp_path, "coop/engines") == ["carton", "test_kiln"]


def test_every_direct_dependency_has_an_exact_version():
    assert unpinned((ROOT / "pyproject.toml").read_text()) == []


def test_a_dependency_without_an_exact_version_is_found():
    text = '[project]\ndependencies = ["django>=5.2"]\n[project.optional-dependencies]\ntest = ["ruff"]\n'
    assert unpinned(text) == ["django>=5.2", "ruff"]


@pytest.mark.parametrize("command", [START, CHECK])
def test_the_readme_carries_both_commands_as_they_are(command):
    assert command in (ROOT / "README.md").read_text().splitlines()


def test_the_readme_opens_with_the_whole_job():
    opening = (ROOT / "README.md").read_text().split("\n\n")[1]
    missing = [
        word for word in ("departure", "carton", "hour", "kilogram", "share", "quote") if word not in opening
    ]
    assert missing == []


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_every_path_that_a_document_names_exists(document):
    assert dead_paths((ROOT / document).read_text(), ROOT) == []


def test_a_path_that_does_not_exist_is_found(tmp_path):
    plant(tmp_path, "coop/engines/fish.py", "")
    assert dead_paths("`coop/engines/fish.py` and `coop/engines/fowl.py`", tmp_path) == [
        "coop/engines/fowl.py"
    ]


def test_the_lock_file_of_the_screens_carries_no_download_addresses():
    assert '"resolved"' not in (ROOT / "frontend/package-lock.json").read_text()
    assert "omit-lockfile-registry-resolved=true" in (ROOT / "frontend/.npmrc").read_text()


def test_what_a_start_or_a_tool_makes_is_no_part_of_the_tree(tmp_path):
    for name in (
        ".data/x",
        ".venv/y.py",
        "frontend/dist/z.js",
        "a.egg-info/w",
        "coop/__pycache__/v",
        "coop/u.py",
    ):
        plant(tmp_path, name, "")
    assert [path.name for path in files(tmp_path)] == ["u.py"]
