import pytest

from tests.house.imports import forbidden_imports
from tests.house.purity import impure_calls, writes_in_selectors
from tests.house.tree import ROOT, plant


@pytest.fixture
def tree(tmp_path):
    for folder in ("coop/engines", "coop/models", "coop/selectors", "coop/services", "api"):
        plant(tmp_path, f"{folder}/__init__.py", "")
    return tmp_path


def test_every_arrow_points_down():
    assert forbidden_imports(ROOT) == []


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("coop/errors.py", "import django"),
        ("coop/engines/fish.py", "from django.utils import timezone"),
        ("coop/engines/fish.py", "import coop.models.places"),
        ("coop/engines/fish.py", "from coop.selectors import places"),
        ("coop/engines/fish.py", "from coop import errors"),
        ("coop/engines/fish.py", "import time"),
        ("coop/engines/fish.py", "import os"),
        ("coop/engines/fish.py", "from os import environ"),
        ("coop/engines/fish.py", "from pathlib import Path"),
        ("coop/engines/fish.py", "import urllib.request"),
        ("coop/engines/fish.py", "import random"),
        ("coop/engines/fish.py", "import pandas"),
        ("coop/engines/fish.py", "def ice():\n    import os"),
        ("coop/engines/fish.py", "from ..models import places"),
        ("coop/models/places.py", "from coop.engines import fish"),
        ("coop/models/places.py", "from coop import engines"),
        ("coop/models/places.py", "from coop.selectors.places import places"),
        ("coop/models/places.py", "import rest_framework"),
        ("coop/selectors/places.py", "from coop.services.demo import load_demo"),
        ("coop/selectors/places.py", "from coop import settings"),
        ("coop/selectors/places.py", "import api.places"),
        ("coop/services/demo.py", "from api.errors import answer"),
        ("coop/services/demo.py", "import coop.management.server"),
        ("api/places.py", "from coop.models import Place"),
        ("api/places.py", "from coop import models"),
        ("api/places.py", "import coop.engines.fish"),
        ("api/places.py", "from django.db import models"),
        ("api/places.py", "from django import db"),
        ("api/places.py", "import numpy"),
    ],
)
def test_an_arrow_that_points_up_or_sideways_is_found(tree, file, line):
    plant(tree, file, f"{line}\n")
    assert len(forbidden_imports(tree)) == 1


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("coop/engines/carton.py", "import math\nimport numpy as np\nfrom coop.engines.fish import enthalpy"),
        ("coop/engines/conduction.py", "from os import cpu_count"),
        ("coop/models/places.py", "from django.db import models\nfrom coop.models.members import Member"),
        ("coop/selectors/places.py", "from coop.models import Place\nfrom coop.engines import fish"),
        ("coop/services/demo.py", "from coop import errors, selectors"),
        (
            "api/places.py",
            "from coop.selectors.places import places\nfrom django.urls import path\nimport api",
        ),
        ("coop/admin.py", "from coop.models import Place"),
    ],
)
def test_an_arrow_that_points_down_is_let_through(tree, file, line):
    plant(tree, file, f"{line}\n")
    assert forbidden_imports(tree) == []


def test_engines_read_no_clock_file_or_hidden_state():
    assert impure_calls(ROOT) == []


@pytest.mark.parametrize(
    "line",
    [
        "today = datetime.date.today()",
        "now = datetime.datetime.now()",
        "text = open('figures.csv').read()",
        "print('warm')",
        "draw = np.random.normal()",
        "def count():\n    global seen",
    ],
)
def test_an_engine_that_reads_outside_its_arguments_is_found(tree, line):
    plant(tree, "coop/engines/fish.py", f"{line}\n")
    assert len(impure_calls(tree)) == 1


def test_an_engine_may_use_a_generator_that_it_is_given_a_seed_for(tree):
    plant(tree, "coop/engines/fish.py", "def draw(seed):\n    return np.random.default_rng(seed).normal()\n")
    assert impure_calls(tree) == []


def test_selectors_write_nothing():
    assert writes_in_selectors(ROOT) == []


@pytest.mark.parametrize("line", ["place.save()", "Place.objects.create(code='mp')", "places.delete()"])
def test_a_selector_that_writes_is_found(tree, line):
    plant(tree, "coop/selectors/places.py", f"{line}\n")
    assert len(writes_in_selectors(tree)) == 1
