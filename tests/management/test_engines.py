"""The demo compiles the engines before it says that it runs, once for each state of their source."""

from pathlib import Path

from coop.engines import consolidation_anneal
from coop.management import engines


def test_engines_are_compiled_once_they_have_run(monkeypatch, tmp_path):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "none"))
    assert not engines.are_compiled()
    kept = Path(tmp_path / "some" / "kernel")
    kept.mkdir(parents=True)
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(kept.parent))
    assert not engines.are_compiled()
    (kept / "run.nbc").touch()
    assert engines.are_compiled()


def test_warming_up_runs_every_compiled_engine(monkeypatch):
    called = []
    kernel = engines.departure.kernel
    for name in ("last_hard_waits", "holds_after", "softened_at"):
        real = getattr(kernel, name)
        monkeypatch.setattr(kernel, name, lambda *a, real=real, name=name: called.append(name) or real(*a))
    anneal = consolidation_anneal.anneal
    monkeypatch.setattr(consolidation_anneal, "anneal", lambda *a: called.append("anneal") or anneal(*a))
    engines.warm_up()
    assert [*dict.fromkeys(called)] == ["last_hard_waits", "holds_after", "softened_at", "anneal"]
    assert called.count("softened_at") == 1
