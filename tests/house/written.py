"""What the text of a file gives away: its size, its name, a host, a path of one machine, work put off."""

import ast
import re

from tests.house.tree import files

MOST_LINES, MOST_SCREEN_LINES = 300, 150
CODE = (".py", ".js", ".jsx", ".css")
NAMES_OF_NOTHING = re.compile(r"^(utils?|helpers?|common|misc|lib)$")
# Each pattern is written so that it does not find itself.
HOSTS = re.compile(
    r"p[y]pi\.(org|io)|pythonh[o]sted|registry\.(n[p]mjs|y[a]rnpkg)|n[p]mmirror|deb\.d[e]bian\.org"
    r"|cra[t]es\.io|proxy\.gola[n]g|repo1?\.maven\.apac[h]e"
)
MACHINE = re.compile(r"/wo[r]k/|/fa[r]m/|/t[m]p/[a-z]|/ro[o]t/|/ho[m]e/[a-z]|/Us[e]rs/[A-Za-z]|[C]:\\\\")
PUT_OFF = re.compile(
    r"TO[D]O|FIX[M]E|(#|//|\*)\s*XX[X]\b|NotImplement[e]dError|pytest\.mark\.(sk[i]p|xf[a]il)|\b(it|test|describe)\.sk[i]p\("
)
TOO_WIDE = ("Exception", "BaseException")


def text_files(root):
    for path in files(root):
        content = path.read_bytes()
        if b"\0" not in content:
            yield path, content.decode("utf-8")


def lines_that_match(root, pattern):
    return [
        f"{path.relative_to(root)}:{number} {line.strip()[:80]}"
        for path, text in text_files(root)
        for number, line in enumerate(text.splitlines(), 1)
        if pattern.search(line)
    ]


def too_long(root):
    """Files to split by subject. Migrations are a record, not something to read."""
    found = []
    for path in files(root, *CODE):
        most = MOST_SCREEN_LINES if "screens" in path.parts else MOST_LINES
        lines = len(path.read_text(encoding="utf-8").splitlines())
        if lines > most and "migrations" not in path.parts:
            found.append(f"{path.relative_to(root)} {lines} lines")
    return found


def named_for_nothing(root):
    return [str(path.relative_to(root)) for path in files(root, *CODE) if NAMES_OF_NOTHING.match(path.stem)]


def caught_too_widely(root):
    """`except:` and `except Exception`: they hide the failure that nobody thought of."""
    found = []
    for path in files(root, ".py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ExceptHandler) and (
                node.type is None or getattr(node.type, "id", None) in TOO_WIDE
            ):
                found.append(f"{path.relative_to(root)}:{node.lineno}")
    return found


def busy_inits(root):
    """`__init__.py` files that do more than hand names on."""
    quiet = (ast.Import, ast.ImportFrom, ast.Expr, ast.Assign)
    return [
        str(path.relative_to(root))
        for path in files(root, ".py")
        if path.name == "__init__.py"
        and not all(isinstance(node, quiet) for node in ast.parse(path.read_text(encoding="utf-8")).body)
    ]


def function_lengths(root, *folders):
    """Lines of every function, without its docstring."""
    for folder in folders:
        for path in files(root / folder, ".py"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.FunctionDef):
                    inside = node.body[1:] if ast.get_docstring(node) else node.body
                    yield (inside[-1].end_lineno - inside[0].lineno + 2) if inside else 1
