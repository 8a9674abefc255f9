"""Looks through the desktop's source for texts that reach the screen without the catalogue."""

from __future__ import annotations

import ast
import re
import string
from collections.abc import Iterator

# What shows or speaks a text: the function or method, and which of its arguments are texts.
FIRST = (
    "label", "button", "add_line", "set_state", "set_caution", "set_fault", "say", "setText", "setTitle",
    "setPlaceholderText", "setAccessibleName", "setAccessibleDescription", "setWindowTitle", "setToolTip",
    "QLabel", "QPushButton", "QMenu", "QAction", "addAction", "addMenu", "UserProblem",
)  # fmt: skip
FIELDS = (
    "Field",
    "TextField",
    "DateField",
    "TimeField",
    "ChoiceField",
    "OfferField",
    "WordsField",
    "CheckField",
)
SHOWS: dict[str, tuple[int | str, ...]] = {
    **dict.fromkeys(FIRST, (0,)),
    **dict.fromkeys((*FIELDS, "PictureField", "LineField"), (1, "label")),
    "NumberField": ("label",),
    "MarginSection": (0, 1, "lines"),
    "Column": (0,),
    "Group": (0, 2, "title", "caution"),
    "add_list": ("title", "empty", "state"),
    "FormLeaf": ("heading", "action"),
    "Section": (0, 1, "title", "state"),
    "Command": (0, "menu"),
    "set_heading": (0, 1, 2, "title", "subtitle", "corner"),
    "add_fact": (0, 1),
    "add_row": (1, "text"),
    "announce": (1,),
    "Word": (1, "shown"),
    "Fault": (2,),
    "save_as": (1,),
    "open_file": (1, 2),
}
# Whose object name is made of ``name``, which stays as it is in every language, else of the title.
NAMED = frozenset({"Section", "MarginSection"})
SIGNALS = frozenset({"said", "title_changed"})  # what they emit is shown
TRANSLATES = {"_": 1, "_n": 2, "said": 1, "marked": 1}
UNDER_EVERY_FIELD = ("hint", "placeholder", "wanted")
NAMES = frozenset({"Flueleaf", "ft³", "m³"})  # the same in every language
_FILE_PATTERN = re.compile(r"\*\.\w+")


def untranslated(source: str) -> list[str]:
    """Return the texts that are shown as they stand in the source, each with its line."""
    tree = ast.parse(source)
    constants = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    found = {
        (bare.lineno, ast.unparse(bare))
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        for argument in _shown(node)
        for bare in _bare(argument, constants)
    }
    return [f"line {line}: {text}" for line, text in sorted(found)]


def misused(source: str) -> list[str]:
    """Return calls of the translating functions that the catalogue cannot follow, each with its line."""
    calls = [
        node
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TRANSLATES
    ]
    return [f"line {call.lineno}: {fault}" for call in calls for fault in _faults(call)]


def nameless(source: str) -> list[str]:
    """Return the sections that take their object name from their title, each with its line."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return [
        f"line {call.lineno}: {ast.unparse(call)} wants name="
        for call in calls
        if _name(call.func) in NAMED and "name" not in {word.arg for word in call.keywords}
    ]


def values_of(pattern: str) -> set[str]:
    """Return the names in a pattern's braces."""
    return {name for _, name, _, _ in string.Formatter().parse(pattern) if name is not None}


def _faults(call: ast.Call) -> Iterator[str]:
    assert isinstance(call.func, ast.Name)
    name = call.func.id
    texts = call.args[: TRANSLATES[name]]
    if len(texts) < TRANSLATES[name]:
        yield f"{ast.unparse(call)} lacks its text"
    for text in texts:
        if isinstance(text, ast.JoinedStr | ast.BinOp | ast.IfExp):
            yield f"{ast.unparse(text)} is put together before it is looked up"
    literal = [t.value for t in texts if isinstance(t, ast.Constant) and isinstance(t.value, str)]
    given = {word.arg for word in call.keywords}
    if literal and len(literal) < len(texts):
        yield f"{literal[0]!r} stands beside a text that is no literal"
    if name == "marked" or None in given or not literal:
        return
    wanted = set().union(*(values_of(text) for text in literal))
    given |= {"count"} & wanted if name == "_n" else set()
    if wanted != given:
        yield f"{literal[0]!r} wants {sorted(wanted)} and is given {sorted(map(str, given))}"


def _shown(call: ast.Call) -> Iterator[ast.expr]:
    name = _name(call.func)
    if name == "emit" and isinstance(call.func, ast.Attribute) and _name(call.func.value) in SIGNALS:
        yield from call.args
    places = SHOWS.get(name, ())
    yield from (argument for at, argument in enumerate(call.args) if at in places)
    field = name.endswith("Field")
    for word in call.keywords:
        if word.arg in places or (field and word.arg in UNDER_EVERY_FIELD):
            yield word.value


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    return node.attr if isinstance(node, ast.Attribute) else ""


def _bare(node: ast.AST, constants: dict[str, ast.expr]) -> Iterator[ast.expr]:
    """Give the parts of an expression that are words of the source."""
    if isinstance(node, ast.Constant | ast.JoinedStr):
        if _worded(node):
            yield node
    elif isinstance(node, ast.Name) and node.id in constants:
        yield from _bare(constants[node.id], {})
    elif isinstance(node, ast.IfExp):
        yield from _bare(node.body, constants)
        yield from _bare(node.orelse, constants)
    elif isinstance(node, ast.BinOp | ast.BoolOp | ast.Tuple | ast.List):
        for value in ast.iter_child_nodes(node):
            yield from _bare(value, constants)
    elif isinstance(node, ast.GeneratorExp | ast.ListComp):
        yield from _bare(node.elt, constants)
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        yield from _bare(node.func.value, constants)  # "…".format(…), "…".join(…)


def _worded(node: ast.Constant | ast.JoinedStr) -> bool:
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    texts = [part.value for part in parts if isinstance(part, ast.Constant) and isinstance(part.value, str)]
    rest = "".join(_FILE_PATTERN.sub("", text) for text in texts)
    for name in NAMES:
        rest = rest.replace(name, "")
    return any(letter.isalpha() for letter in rest)
