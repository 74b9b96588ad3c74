import pytest

from tests.house.docstrings import docstring_faults
from tests.house.tree import ROOT, plant

WHOLE = '''
def steady_heat_gain(*, conductance, outside):
    """Heat that flows into a carton once its walls have settled.

    conductance   (n,)  W/K  UA of the whole carton, > 0
    outside       (n,)  °C   air around it

    Returns (n,) W, positive into the carton.
    Raises ValueError for a conductance that is not positive.
    Source: Fourier's law for a closed surface; any heat-transfer text.
    """
'''


def test_every_public_engine_function_says_what_it_takes_gives_refuses_and_rests_on():
    assert docstring_faults(ROOT) == []


def test_a_whole_docstring_passes(tmp_path):
    plant(tmp_path, "coop/engines/carton.py", WHOLE)
    assert docstring_faults(tmp_path) == []


def test_a_private_function_needs_none(tmp_path):
    plant(tmp_path, "coop/engines/carton.py", "def _step(field):\n    return field\n")
    assert docstring_faults(tmp_path) == []


def test_a_compiled_kernel_needs_one_sentence(tmp_path):
    plant(
        tmp_path,
        "coop/engines/carton.py",
        '@numba.njit(cache=True)\ndef flow(heat):\n    """Moves heat."""\n',
    )
    assert docstring_faults(tmp_path) == []
    plant(tmp_path, "coop/engines/carton.py", "@njit\ndef flow(heat):\n    return heat\n")
    assert docstring_faults(tmp_path) == ["carton.py flow has no docstring"]


@pytest.mark.parametrize(
    ("was", "becomes", "fault"),
    [
        ("    Source: Fourier's law for a closed surface; any heat-transfer text.\n", "", "lacks Source"),
        ("    Raises ValueError for a conductance that is not positive.\n", "", "lacks Raises"),
        ("    Returns (n,) W, positive into the carton.\n", "", "lacks Returns"),
        ("    outside       (n,)  °C   air around it\n", "", "lacks a line for outside"),
        ("outside):", "outside, film):", "lacks a line for film"),
        ("    Returns", "    Source: x.\n    Returns", "another order"),
        (
            "    outside       (n,)  °C   air around it\n\n",
            "\n" * 2 + "    more\n" * 12,
            "lacks a line for outside",
        ),
        ("air around it\n", "air around it\n" + "    more\n" * 9, "not 6 to 14 lines"),
    ],
)
def test_a_docstring_that_lacks_something_is_found(tmp_path, was, becomes, fault):
    assert was in WHOLE
    plant(tmp_path, "coop/engines/carton.py", WHOLE.replace(was, becomes))
    assert any(fault in found for found in docstring_faults(tmp_path))


def test_a_function_without_a_docstring_is_found(tmp_path):
    plant(tmp_path, "coop/engines/carton.py", "def volume(length):\n    return length**3\n")
    assert docstring_faults(tmp_path) == ["carton.py volume has no docstring"]


def test_arguments_after_returns_are_found(tmp_path):
    moved = "    outside       (n,)  °C   air around it\n"
    text = WHOLE.replace(moved, "").replace("    Raises", f"{moved}    Raises")
    plant(tmp_path, "coop/engines/carton.py", text)
    assert docstring_faults(tmp_path) == ["carton.py steady_heat_gain has arguments after Returns"]
