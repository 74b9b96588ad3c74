import json
import os
import re
import subprocess
import sys

import pytest

from tests.house.tree import ROOT

OTHERS = {name: value for name, value in os.environ.items() if not name.startswith("CARTON_HOUR_")}
# Drawn for this test and used nowhere else.
SECRET = "kZ3v9QmT7xLr2WbN8sYc4HdJ6fGpA1eUuVoXiRtEqBnMwSaD5z"
PRODUCTION = {"PRODUCTION": "yes", "HOSTS": "fish.example", "SECRET_KEY": SECRET}
EVERYTHING = ("check", "--deploy", "--fail-level", "WARNING")
SHOWN = """
import json
from django.conf import settings
names = ("SECRET_KEY", "SECURE_SSL_REDIRECT", "SECURE_PROXY_SSL_HEADER", "SECURE_HSTS_SECONDS",
         "SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE", "DEBUG", "ALLOWED_HOSTS")
print(json.dumps({name: getattr(settings, name) for name in names}))
print(settings.DATABASES["default"]["ENGINE"])
"""


def manage(*words, **environment):
    """Runs manage.py with these settings and no others; answers exit code and everything it said."""
    named = {f"CARTON_HOUR_{name}": value for name, value in environment.items()}
    command = [sys.executable, "-W", "error", ROOT / "manage.py", *words]
    run = subprocess.run(command, env=OTHERS | named, capture_output=True, text=True)
    return run.returncode, run.stdout + run.stderr


def check(**environment):
    return manage("check", **environment)


def settings_with(**environment):
    """What the settings say in production with these variables, and the engine of its database."""
    code, said = manage("shell", "--no-imports", "-c", SHOWN, **environment)
    assert code == 0, said
    shown, engine = said.strip().splitlines()[-2:]
    return json.loads(shown) | {"engine": engine}


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


def test_the_settings_of_production_leave_nothing_to_complain_of(tmp_path):
    code, said = manage(*EVERYTHING, DATA=str(tmp_path), **PRODUCTION)
    assert (code, "no issues (0 silenced)" in said) == (0, True), said


def test_without_them_there_would_be_much_to_complain_of(tmp_path):
    code, said = manage(*EVERYTHING, DATA=str(tmp_path))
    assert code == 1
    assert {"security.W004", "security.W008", "security.W012", "security.W016"} <= set(
        re.findall(r"security\.W\d+", said)
    )


def lying_open(tmp_path):
    """A secret that lies in the data folder already, as a demonstration leaves it."""
    (tmp_path / "secret_key").write_text(SECRET)
    return {}


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"SECRET_KEY": None}, "SECRET_KEY"),
        ({"SECRET_KEY": ""}, "SECRET_KEY"),
        ({"SECRET_KEY": SECRET[:49]}, "SECRET_KEY"),
        ({"SECRET_KEY": "carton" * 20}, "SECRET_KEY"),
        ({"SECRET_KEY": f"django-insecure-{SECRET}"}, "SECRET_KEY"),
        (lying_open, "SECRET_KEY"),
        ({"HOSTS": None}, "HOSTS"),
        ({"HOSTS": "*"}, "HOSTS"),
        ({"HOSTS": " , "}, "HOSTS"),
        ({"DEBUG": "yes"}, "DEBUG"),
        ({"HSTS_DAYS": "0"}, "HSTS_DAYS"),
    ],
)
def test_production_refuses_to_start_half_open_with_one_sentence(changed, name, tmp_path):
    changed = changed(tmp_path) if callable(changed) else changed
    named = {key: value for key, value in (PRODUCTION | changed).items() if value is not None}
    code, said = check(DATA=str(tmp_path), **named)
    assert code == 1
    assert said.count("\n") == 1
    assert f"CARTON_HOUR_{name}" in said
    assert SECRET[:20] not in said


def test_production_draws_and_keeps_no_secret(tmp_path):
    assert check(DATA=str(tmp_path), **PRODUCTION)[0] == 0
    assert not (tmp_path / "secret_key").exists()


def test_production_is_encrypted_or_not_at_all(tmp_path):
    found = settings_with(DATA=str(tmp_path), HSTS_DAYS="2", **PRODUCTION)
    assert found["SECRET_KEY"] == SECRET
    assert found["ALLOWED_HOSTS"] == ["fish.example"]
    assert found["SECURE_SSL_REDIRECT"]
    assert (found["SESSION_COOKIE_SECURE"], found["CSRF_COOKIE_SECURE"]) == (True, True)
    assert found["SECURE_HSTS_SECONDS"] == 172800
    # Without a proxy of ours anybody could say that she came encrypted.
    assert found["SECURE_PROXY_SSL_HEADER"] is None
    assert found["engine"] == "django.db.backends.sqlite3"


def test_behind_a_proxy_of_ours_its_word_counts(tmp_path):
    found = settings_with(DATA=str(tmp_path), PROXIES="1", **PRODUCTION)
    assert found["SECURE_PROXY_SSL_HEADER"] == ["HTTP_X_FORWARDED_PROTO", "https"]


def test_on_this_machine_nothing_of_that_holds(tmp_path):
    found = settings_with(DATA=str(tmp_path))
    assert not found["SECURE_SSL_REDIRECT"]
    assert found["SECURE_HSTS_SECONDS"] == 0


def test_an_address_of_a_database_replaces_the_one_in_the_data_folder(tmp_path):
    found = settings_with(DATA=str(tmp_path), DATABASE_URL="postgresql://anna@db.example/carton_hour")
    assert found["engine"] == "django.db.backends.postgresql"


def test_every_variable_stands_in_the_table_of_the_developers():
    code = "".join((ROOT / "coop" / name).read_text() for name in ("settings.py", "environment.py"))
    read = set(re.findall(r'\b(?:text|flag|whole|words|version)\("(\w+)"', code))
    table = set(re.findall(r"^\| `CARTON_HOUR_(\w+)` \|", (ROOT / "DEVELOPERS.md").read_text(), re.MULTILINE))
    assert len(read) > 8
    assert table == read
