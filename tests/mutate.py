"""Faults put into the code one at a time, to see which of them the tests notice: ``python -m tests.mutate checks|follow [MODULE …]``.

A comparison turned round, a number that is one more, ``and`` for ``or``, a condition that is its opposite, a call's result left out. Each
is tried in a process of its own, on the tests of its room that name the rule, and with ``--whole`` then on all of that room. What rules
share is tried on all of the room at once. Prints what no test noticed and the share of those that one did; what survives is judged in
``tests/survivors.md``. It is slow, and meant for one core at night: ``nice -n 15 python -m tests.mutate checks``. ``--most N`` takes N
faults of each module, spread over it evenly.

All tests of the room run once without a fault. What the stages before the room made of their talks then is remembered, as no fault of the
room can change it, and their files are asked in the order of how long they took: the first that fails ends it.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import copy
import functools
import gc
import importlib
import importlib.abc
import importlib.machinery
import importlib.readers
import io
import os
import resource
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TESTS = {"checks": "tests/checks", "follow": "tests/follow"}
_BEFORE = {"checks": ("read", "hear", "build", "follow", "render", "delivery"), "follow": ("read", "hear", "build", "render", "delivery")}
_STAGES = (("hear", "hear"), ("build", "build_plan"), ("follow", "follow"))
_MOST_S = 120
_TURNED = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.And: ast.Or, ast.Or: ast.And,
}


def faults(tree: ast.Module) -> Iterator[tuple[str, ast.Module]]:
    """``(where and what, the module with it)`` of every fault inside a function; words and docstrings are left alone."""
    inside = {id(n) for f in ast.walk(tree) if isinstance(f, ast.FunctionDef) for n in ast.walk(ast.Module(f.body, []))}
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in inside:
            for what, change in _changes(node):
                made = copy.deepcopy(tree)
                for place, twin in enumerate(ast.walk(made)):
                    if place == number:
                        change(twin)
                        break
                yield f"line {node.lineno}: {what}", ast.fix_missing_locations(made)


def _changes(node: ast.AST) -> Iterator[tuple[str, object]]:
    if isinstance(node, ast.Compare):
        for k, op in enumerate(node.ops):
            if (other := _TURNED.get(type(op))) is not None:
                yield f"{ast.unparse(node)}: {other.__name__}", lambda twin, k=k, other=other: twin.ops.__setitem__(k, other())
    elif isinstance(node, (ast.BinOp, ast.BoolOp)) and (other := _TURNED.get(type(node.op))) is not None:
        yield f"{ast.unparse(node)}: {other.__name__}", lambda twin, other=other: setattr(twin, "op", other())
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        yield f"{node.value}: one more", lambda twin: setattr(twin, "value", twin.value + 1)
    elif isinstance(node, ast.Constant) and type(node.value) is bool:
        yield f"{node.value}: its opposite", lambda twin: setattr(twin, "value", not twin.value)
    elif isinstance(node, (ast.If, ast.IfExp)):
        yield f"if {ast.unparse(node.test)}: not", lambda twin: setattr(twin, "test", ast.UnaryOp(ast.Not(), twin.test))
    elif isinstance(node, ast.Return) and node.value is not None and not isinstance(node.value, ast.Constant):
        yield f"return {ast.unparse(node.value)[:60]}: None", lambda twin: setattr(twin, "value", ast.Constant(None))


class _Faulty(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives one module with its fault in place of what is in its file."""

    def __init__(self, name: str, path: Path, tree: ast.Module) -> None:
        self.name, self.path, self.tree = name, path, tree

    def find_spec(self, name, path, target=None):
        if name != self.name:
            return None
        spec = importlib.machinery.ModuleSpec(name, self, origin=str(self.path), is_package=self.path.stem == "__init__")
        if spec.submodule_search_locations is not None:
            spec.submodule_search_locations.append(str(self.path.parent))
        return spec

    def get_resource_reader(self, name):
        """The data of a room that is a package."""
        return importlib.readers.FileReader(self)

    def exec_module(self, module):
        module.__file__ = str(self.path)
        exec(compile(self.tree, str(self.path), "exec"), module.__dict__)


class _Order:
    """Tells pytest to ask the quick files first, by the seconds that each of them took."""

    def __init__(self) -> None:
        self.took: Counter[str] = Counter()

    def pytest_runtest_logreport(self, report):
        self.took[report.nodeid.partition("::")[0]] += report.duration

    def pytest_collection_modifyitems(self, items):
        items.sort(key=lambda item: self.took[item.nodeid.partition("::")[0]])


def _remembering(stage: Callable) -> Callable:
    """``stage``, which makes the same of a talk, or of the very same objects, only once."""
    known: dict[tuple, tuple] = {}

    @functools.wraps(stage)
    def remembered(*given):
        # a method bound anew is another object each time, and the same one
        key = tuple((g.sha256, g.name) if hasattr(g, "sha256") else id(getattr(g, "__self__", g)) for g in given)
        if key not in known:
            known[key] = stage(*given), given       # held, so that no other object gets its id
        return known[key][0]

    return remembered


def prepare(room: str) -> _Order:
    """Loads all that carries no fault and runs the tests of ``room`` on it. Raises SystemExit where they fail without a fault."""
    import pytest

    importlib.import_module("lexicon").load()
    importlib.import_module("spacy").blank("en")
    for stage in _BEFORE[room]:
        importlib.import_module(f"parser.{stage}")
    for stage, name in _STAGES:
        if stage in _BEFORE[room]:
            module = sys.modules[f"parser.{stage}"]
            setattr(module, name, _remembering(getattr(module, name)))
    kept, order = set(sys.modules), _Order()
    with contextlib.redirect_stdout(io.StringIO()) as said:
        failed = pytest.main(["-x", "-q", "-p", "no:cacheprovider", TESTS[room]], plugins=[order])
    if failed:
        raise SystemExit(f"the tests fail without a fault:\n{said.getvalue()}")
    # the room, all that imports it and the tests are loaded again by each process
    for name in sorted(set(sys.modules) - kept):
        if name.partition(".")[0] in ("parser", "tests"):
            above, _, last = name.rpartition(".")
            sys.modules.pop(name)
            if hasattr(sys.modules.get(above), last):
                delattr(sys.modules[above], last)
    gc.collect()
    gc.freeze()
    return order


def is_noticed(name: str, path: Path, tree: ast.Module, calls: list[list[str]], order: _Order) -> bool:
    """Whether one of the ``calls`` of pytest fails, crashes or takes too long with the fault in place."""
    child = os.fork()
    if child == 0:
        import pytest

        resource.setrlimit(resource.RLIMIT_CPU, (_MOST_S, _MOST_S))
        sys.meta_path.insert(0, _Faulty(name, path, tree))
        code = 1
        with contextlib.suppress(BaseException), contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
            # 5: no test was chosen
            code = int(any(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *call], plugins=[order]) not in (0, 5) for call in calls))
        os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0


def _names_no_rule(path: Path) -> bool:
    return not any(line.startswith("CODE = ") for line in path.read_text(encoding="utf-8").splitlines())


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("room", choices=TESTS)
    parser.add_argument("modules", nargs="*")
    parser.add_argument("--most", type=int, help="faults of each module")
    parser.add_argument("--whole", action="store_true", help="ask all tests of the room")
    asked = parser.parse_args()
    order = prepare(asked.room)
    tried = noticed = 0
    for path in sorted((ROOT / "parser" / asked.room).glob("*.py")):
        if asked.modules and path.stem not in asked.modules:
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found = list(faults(tree))
        found = found[:: max(1, -(-len(found) // asked.most))] if asked.most else found
        whole = [TESTS[asked.room]]
        calls = [whole] if _names_no_rule(path) else [[*whole, "-k", path.stem.replace("_", "-")], *([whole] if asked.whole else [])]
        name = f"parser.{asked.room}" + ("" if path.stem == "__init__" else f".{path.stem}")
        if is_noticed(name, path, tree, calls, order):
            raise SystemExit(f"{path.stem}: the tests fail without a fault")
        survived = [what for what, made in found if not is_noticed(name, path, made, calls, order)]
        tried, noticed = tried + len(found), noticed + len(found) - len(survived)
        print(f"{path.stem}: {len(found) - len(survived)} of {len(found)} noticed", *survived, sep="\n    ", flush=True)
    print(f"{noticed} of {tried} noticed" + (f", {100 * noticed / tried:.0f}%" if tried else ""))


if __name__ == "__main__":
    main()
