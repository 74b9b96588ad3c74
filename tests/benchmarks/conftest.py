import pytest

from coop.services.demo import load_demo
from tests.benchmarks.figures import machine, shown


@pytest.fixture
def demo(db):
    """The demonstration, freshly loaded."""
    load_demo()


def pytest_terminal_summary(terminalreporter):
    terminalreporter.section(f"figures on {machine()}")
    for line in shown:
        terminalreporter.line(line)
