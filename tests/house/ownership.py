"""Rows of a cooperative are reached through `.of(cooperative)`, or from a row that is owned already."""

import ast

from tests.house.tree import files

LAYERS = ("coop/selectors", "coop/services", "coop/management", "api")
MANAGERS = ("objects", "_default_manager", "_base_manager")
# (file, function) that may take another way, and why.
ALLOWED = {
    ("coop/selectors/phones.py", "token_of"): "who asks is not known before her token is found by its digest",
    ("coop/selectors/calendar_links.py", "calendar_link_behind"): "a secret says whose it is; by its digest",
    ("coop/selectors/quotes.py", "quote_behind"): "a link says whose quote it opens; found by its digest",
    ("coop/services/enrolments.py", "enrol_phone"): "a code says whose it is; it is found by its digest",
    ("coop/selectors/cartons.py", "design_materials"): "prefetched for designs that are owned",
    ("coop/selectors/routes.py", "legs"): "prefetched for routes that are owned",
}


def functions(tree):
    return [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]


def function_around(node, found):
    """The name of the innermost function that a node stands in."""
    around = [one for one in found if one.lineno <= node.lineno <= one.end_lineno]
    return max(around, key=lambda one: one.lineno).name if around else "outside of any function"


def manager_of(node, owned):
    """Whether a node is `Model.objects` of an owned model."""
    return (
        isinstance(node, ast.Attribute)
        and node.attr in MANAGERS
        and (isinstance(node.value, ast.Name | ast.Attribute))
        and (node.value.id if isinstance(node.value, ast.Name) else node.value.attr) in owned
    )


def ways_around(path, owned):
    """(function, line) of each place where rows of an owned model are reached in another way."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    through_of = {
        id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Attribute) and node.attr == "of"
    }
    found = functions(tree)
    for node in ast.walk(tree):
        if manager_of(node, owned) and id(node) not in through_of:
            yield function_around(node, found), node.lineno


def reached_past_the_door(root, owned, allowed=ALLOWED):
    places = [
        (str(path.relative_to(root)), function, line)
        for layer in LAYERS
        if (root / layer).is_dir()
        for path in files(root / layer, ".py")
        for function, line in ways_around(path, owned)
    ]
    return [f"{path}:{line} {function}" for path, function, line in places if (path, function) not in allowed]


def allowed_for_nothing(root, owned, allowed=ALLOWED):
    """Exceptions that nobody needs any more."""
    return [
        (path, function)
        for path, function in allowed
        if function not in {name for name, _ in ways_around(root / path, owned)}
    ]
