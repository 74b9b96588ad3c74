import os
import subprocess
import sys

import pytest
from django.core.exceptions import ImproperlyConfigured

from coop import settings
from tests.house.tree import ROOT


def check(**environment):
    """Starts `manage.py check` with an environment; answers exit code and everything it said."""
    named = {f"CARTON_HOUR_{name}": value for name, value in environment.items()}
    run = subprocess.run(
        [sys.executable, ROOT / "manage.py", "check"], env=os.environ | named, capture_output=True, text=True
    )
    return run.returncode, run.stdout + run.stderr


def test_a_first_start_makes_its_folder_and_a_secret_of_its_own(tmp_path):
    folder = tmp_path / "a" / "b"
    assert check(DATA=str(folder))[0] == 0
    secret = folder / "secret_key"
    assert secret.stat().st_mode & 0o077 == 0
    first = secret.read_text()
    assert len(first) >= 50
    assert check(DATA=str(folder))[0] == 0
    assert secret.read_text() == first


def test_a_folder_that_cannot_be_made_gets_one_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    code, said = check(DATA=str(tmp_path / "file" / "data"))
    assert code == 1
    assert said.count("\n") == 1
    assert "cannot be made" in said
    assert "CARTON_HOUR_DATA" in said


@pytest.mark.parametrize(
    ("name", "value"), [("DEBUG", "1"), ("THREADS", "0"), ("THREADS", "many"), ("DATA", " "), ("HOSTS", "")]
)
def test_a_wrong_value_gets_one_sentence_that_names_it(name, value, tmp_path):
    code, said = check(**{"DATA": str(tmp_path), name: value})
    assert code == 1
    assert said.count("\n") == 1
    assert f"CARTON_HOUR_{name}" in said


def test_a_folder_that_cannot_be_written_to_gets_one_sentence(tmp_path, monkeypatch):
    # The rights of a folder mean nothing to root, so the answer of the system is put in their place.
    monkeypatch.setattr(os, "access", lambda _path, _mode: False)
    with pytest.raises(ImproperlyConfigured, match=r"cannot be written to.*CARTON_HOUR_DATA"):
        settings.writable_folder(tmp_path)


def test_a_secret_that_cannot_be_read_gets_one_sentence(tmp_path):
    (tmp_path / "secret_key").mkdir()
    with pytest.raises(ImproperlyConfigured, match="cannot be read"):
        settings.kept_secret(tmp_path / "secret_key")


def test_compiled_engines_are_kept_apart_for_each_state_of_their_source(monkeypatch, tmp_path):
    folders = []
    for source in ("compiled = 1", "compiled = 2", "compiled = 1"):
        monkeypatch.delenv("NUMBA_CACHE_DIR", raising=False)
        (tmp_path / "kernel.py").write_text(source)
        settings.keep_compiled_engines(tmp_path, tmp_path / "numba")
        folders.append(os.environ["NUMBA_CACHE_DIR"])
    assert folders[0] == folders[2] != folders[1]


def test_an_engine_that_is_not_compiled_leaves_what_is_kept_alone(monkeypatch, tmp_path):
    folders = set()
    for source in ("bill = 1", "bill = 2"):
        monkeypatch.delenv("NUMBA_CACHE_DIR", raising=False)
        (tmp_path / "kernel.py").write_text("compiled = 1")
        (tmp_path / "bill.py").write_text(source)
        settings.keep_compiled_engines(tmp_path, tmp_path / "numba")
        folders.add(os.environ["NUMBA_CACHE_DIR"])
    assert len(folders) == 1


def test_a_folder_for_compiled_engines_that_somebody_named_is_kept(monkeypatch, tmp_path):
    monkeypatch.setenv("NUMBA_CACHE_DIR", "/elsewhere")
    settings.keep_compiled_engines(tmp_path, tmp_path)
    assert os.environ["NUMBA_CACHE_DIR"] == "/elsewhere"


def test_a_list_is_parted_by_commas(monkeypatch):
    monkeypatch.setenv("CARTON_HOUR_HOSTS", "one.example, two.example,")
    assert settings.words("HOSTS", default="") == ["one.example", "two.example"]
