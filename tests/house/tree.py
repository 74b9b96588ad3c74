"""The files of the project as a repository would hold them: without what a start, a build or a tool makes."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MADE = {"node_modules", "dist", "build", "__pycache__", "venv"}
KEPT_HIDDEN = {".ci", ".gitignore", ".npmrc"}


def is_made(path):
    hidden = path.name.startswith(".") and path.name not in KEPT_HIDDEN
    return hidden or path.name in MADE or path.suffix == ".egg-info"


def files(root, *suffixes):
    """Every file below `root` that belongs to the project, in order; with `suffixes` only those."""
    for path in sorted(root.iterdir()):
        if is_made(path):
            continue
        if path.is_dir():
            yield from files(path, *suffixes)
        elif not suffixes or path.suffix in suffixes:
            yield path


def plant(root, name, text):
    """Writes one file into a tree of a test."""
    path = root / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path
