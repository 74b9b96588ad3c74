"""What numba compiles, and what its kept code is named after."""

import ast
import re

from tests.house.tree import ROOT, plant

ENGINES = "coop/engines"
COMPILED = re.compile(r"^@(compiled|numba)\b", re.MULTILINE)


def uncounted(root):
    """Files that compiled code reads but that do not speak of `compiled`: a change there would be missed."""
    texts = {path.stem: path.read_text(encoding="utf-8") for path in (root / ENGINES).glob("*.py")}
    for name, text in texts.items():
        for other in engines_read(text) if COMPILED.search(text) else ():
            if "compiled" not in texts[other]:
                yield f"{name} reads {other}"


def engines_read(text):
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("coop.engines"):
            _, _, name = node.module.partition("coop.engines.")
            yield from [name] if name else [alias.name for alias in node.names]


def test_compiled_engines_read_only_files_that_count_for_what_is_kept_of_them():
    assert list(uncounted(ROOT)) == []


def test_a_file_that_does_not_count_is_found(tmp_path):
    plant(tmp_path, f"{ENGINES}/constants.py", "STEP = 1\n")
    plant(
        tmp_path,
        f"{ENGINES}/kernel.py",
        "from coop.engines.constants import STEP\n\n@compiled\ndef run(): ...\n",
    )
    assert list(uncounted(tmp_path)) == ["kernel reads constants"]


def test_compiled_engines_are_there_to_be_held():
    assert any(COMPILED.search(path.read_text(encoding="utf-8")) for path in (ROOT / ENGINES).glob("*.py"))
