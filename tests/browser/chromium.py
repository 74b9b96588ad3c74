"""Where Debian's Chromium is, and what to do where there is none."""

import os
import shutil

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
HOW = "The browser tests need Chromium: `sudo apt-get install chromium`, or name one in CARTON_HOUR_CHROMIUM."
QUIET = ("--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync")


def find_chromium():
    """The program to drive. Without one a person is told how to get it; for the CI it is a failure."""
    named = os.environ.get("CARTON_HOUR_CHROMIUM")
    program = named or next(filter(None, map(shutil.which, NAMES)), None)
    if program:
        return program
    if os.environ.get("CI") == "true":
        pytest.fail(HOW)
    return pytest.skip(HOW)
