"""Random questions with Python's answers, which the screens' own tests read: both must say the same.

They are stored in frontend/test/vectors/, and what Python says today is compared with them. They are written
anew with CARTON_HOUR_VECTORS=write pytest tests/selectors/test_reckoning_bill.py tests/test_vectors.py.
"""

import json
import os
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "frontend" / "test" / "vectors"


def stored(name, cases=()):
    """The cases of a file; first writes those that are given, where that was asked for."""
    path = FOLDER / f"{name}.json"
    if cases and os.environ.get("CARTON_HOUR_VECTORS") == "write":
        lines = ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases)
        path.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    return json.loads(path.read_text(encoding="utf-8"))


def plain(cases):
    """The same after a journey through JSON."""
    return json.loads(json.dumps(cases))
