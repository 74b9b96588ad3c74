import pytest

from tests.house import written
from tests.house.tree import ROOT, plant


def test_no_file_is_too_long_to_read():
    assert written.too_long(ROOT) == []


@pytest.mark.parametrize(
    ("name", "lines", "found"),
    [
        ("coop/engines/fish.py", 300, 0),
        ("coop/engines/fish.py", 301, 1),
        ("frontend/src/screens/departures.jsx", 150, 0),
        ("frontend/src/screens/departures.jsx", 151, 1),
        ("frontend/src/store.js", 301, 1),
        ("coop/migrations/0001_everything.py", 900, 0),
        ("frontend/node_modules/x/index.js", 9000, 0),
    ],
)
def test_a_file_that_is_too_long_is_found(tmp_path, name, lines, found):
    plant(tmp_path, name, "x = 1\n" * lines)
    assert len(written.too_long(tmp_path)) == found


def test_no_file_is_named_for_nothing():
    assert written.named_for_nothing(ROOT) == []


def test_a_file_named_for_nothing_is_found(tmp_path):
    plant(tmp_path, "api/utils.py", "")
    plant(tmp_path, "frontend/src/helpers.js", "")
    assert len(written.named_for_nothing(tmp_path)) == 2


@pytest.mark.parametrize("pattern", ["HOSTS", "MACHINE", "PUT_OFF"])
def test_no_file_names_a_registry_or_a_machine_or_puts_work_off(pattern):
    assert written.lines_that_match(ROOT, getattr(written, pattern)) == []


@pytest.mark.parametrize(
    ("pattern", "parts"),
    [
        ("HOSTS", ("resolved https://registry.", "npmjs.org/preact")),
        ("HOSTS", ("index-url = https://py", "pi.org/simple")),
        ("MACHINE", ("/wo", "rk/main/coop")),
        ("MACHINE", ("/ho", "me/anna/carton")),
        ("PUT_OFF", ("# TO", "DO: the rest")),
        ("PUT_OFF", ("@pytest.mark.sk", "ip")),
        ("PUT_OFF", ("it.sk", "ip('later')")),
    ],
)
def test_a_line_that_gives_it_away_is_found(tmp_path, pattern, parts):
    plant(tmp_path, "coop/engines/fish.py", f"{''.join(parts)}\n")
    assert len(written.lines_that_match(tmp_path, getattr(written, pattern))) == 1


def test_no_handler_catches_everything():
    assert written.caught_too_widely(ROOT) == []


@pytest.mark.parametrize("handler", ["except:", "except Exception:", "except BaseException as all:"])
def test_a_handler_that_catches_everything_is_found(tmp_path, handler):
    plant(tmp_path, "api/places.py", f"try:\n    x = 1\n{handler}\n    x = 2\n")
    assert written.caught_too_widely(tmp_path) == ["api/places.py:3"]


def test_packages_only_hand_names_on():
    assert written.busy_inits(ROOT) == []


def test_a_package_that_does_more_is_found(tmp_path):
    plant(tmp_path, "coop/models/__init__.py", "from coop.models.places import Place\n")
    plant(tmp_path, "coop/engines/__init__.py", "def warm():\n    return 1\n")
    assert written.busy_inits(tmp_path) == ["coop/engines/__init__.py"]


def test_half_of_the_functions_are_under_8_lines_and_nine_in_ten_under_30():
    lengths = sorted(written.function_lengths(ROOT, "coop", "api"))
    assert lengths[len(lengths) // 2] < 8
    assert lengths[len(lengths) * 9 // 10] < 30


def test_the_length_of_a_function_leaves_out_its_docstring(tmp_path):
    plant(tmp_path, "coop/one.py", 'def one():\n    """One.\n\n    More.\n    """\n    x = 1\n    return x\n')
    assert list(written.function_lengths(tmp_path, "coop")) == [3]
