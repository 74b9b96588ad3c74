import json
import os
import subprocess
import sys

from django.test import Client

from tests.house.tree import ROOT


def test_the_description_is_served_as_json():
    answer = Client().get("/api/v1/schema/")
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/json"
    assert answer.json()["openapi"].startswith("3.")


def test_serving_without_the_description_does_not_import_what_describes():
    code = (
        "import django, sys; django.setup(); import coop.urls, api.urls;"
        "print([name for name in sys.modules if name.startswith('drf_spectacular')])"
    )
    run = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=os.environ | {"DJANGO_SETTINGS_MODULE": "coop.settings"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(run.stdout.replace("'", '"')) == []
