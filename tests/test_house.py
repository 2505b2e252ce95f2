"""The house keeps its shape: what stands at the top, and which room may know which."""

import ast
from fnmatch import fnmatch
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "parser", "lexicon", "tests", "samples"}

# Room -> rooms it may import. `kinds`, `model`, `mentions`, `delivery`, `schedule`, `errors` and `clock` are the ground that the rooms stand on.
GROUND = {"kinds", "model", "mentions", "delivery", "schedule", "errors", "clock"}
STAGES = {"read", "hear", "build", "follow", "checks"}
MAY_KNOW = {
    "kinds": set(),
    "model": {"kinds"},
    "errors": set(),
    "clock": set(),
    "mentions": {"model", "lexicon"},  # the lexicon for its types only
    "delivery": {"model", "mentions"},
    "schedule": {"model"},
    "review": {"kinds", "model"},
    "read": {"kinds", "model", "errors", "clock"},
    "hear": GROUND | {"lexicon"},
    "build": GROUND,
    "follow": GROUND,
    "checks": GROUND,
    "explain": GROUND,
    "marks": GROUND,
    "against": {"model"},
    "render": {"kinds", "model", "review", "schedule", "clock"},
    "archive": {"kinds", "model", "review", "errors", "clock"},
    "timings": set(),
    "pipeline": GROUND | STAGES | {"against", "explain", "lexicon", "marks", "timings"},
    "calls": {"model", "errors", "clock"},
    "written": {"model", "errors"},
    "output": {"errors", "render"},
    "vocabulary": {"errors", "lexicon"},
    "shelf": GROUND | {"review", "archive", "render", "checks", "lexicon", "vocabulary"},
    "keeping": GROUND | {"archive", "lexicon", "pipeline", "read", "vocabulary", "written"},
    "cluster": {"errors", "keeping"},
    "progress": {"keeping", "output", "render"},
    "arguments": {"render"},
    "archive_cli": GROUND | {"review", "arguments", "output", "progress", "shelf", "archive", "render"},
    "keeping_cli": GROUND | {"archive_cli", "arguments", "output", "shelf", "cluster", "keeping", "progress", "archive", "render"},
    "cli": GROUND | {"timings", "keeping_cli", "arguments", "calls", "written", "output", "vocabulary", "render", "read", "checks", "pipeline", "lexicon"},
    "__init__": GROUND | {"pipeline", "read", "render", "lexicon"},
}


def rooms_known(path: Path, package: Path) -> set[tuple[str, str]]:
    """``(room, room it imports)`` for one file of ``package``; the lexicon is a room, other packages are none."""
    inside = path.relative_to(package)
    room = inside.parts[0].removesuffix(".py")
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            found |= {(room, other) for other in _named(node, inside)}
        elif isinstance(node, ast.Import):
            found |= {(room, alias.name.split(".")[0]) for alias in node.names if alias.name.split(".")[0] in ("parser", "lexicon")}
    return {(one, other) for one, other in found if one != other}


def _named(node: ast.ImportFrom, inside: Path) -> set[str]:
    module = (node.module or "").split(".") if node.module else []
    if node.level == 0:
        return {module[0]} & {"parser", "lexicon"}
    climbed = list(inside.parts[: len(inside.parts) - node.level])
    target = [*climbed, *module]
    return {target[0]} if target else {alias.name for alias in node.names}


def parser_files() -> list[Path]:
    return sorted((ROOT / "parser").rglob("*.py"))


def test_top_level_is_the_readme_the_guide_and_the_rooms():
    ignored = (ROOT / ".gitignore").read_text().split()
    found = {
        p.name for p in ROOT.iterdir()
        if not p.name.startswith(".") and not any(fnmatch(p.name, pattern.rstrip("/")) for pattern in ignored)
    }
    assert found == TOP


def test_each_room_has_its_line():
    rooms = {p.relative_to(ROOT / "parser").parts[0].removesuffix(".py") for p in parser_files()}
    assert rooms <= set(MAY_KNOW)


@pytest.mark.parametrize("path", parser_files(), ids=lambda p: str(p.relative_to(ROOT)))
def test_imports_go_one_way(path):
    for room, other in rooms_known(path, ROOT / "parser"):
        assert other in MAY_KNOW[room], f"{path.relative_to(ROOT)}: {room} may not know {other}"


@pytest.mark.parametrize("path", sorted((ROOT / "lexicon").rglob("*.py")), ids=lambda p: str(p.relative_to(ROOT)))
def test_the_lexicon_knows_nothing_of_ours(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [node.module or ""] if isinstance(node, ast.ImportFrom) and not node.level else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        # Its own modules are imported with a dot.
        assert not {name.split(".")[0] for name in names} & {"parser", "lexicon"}


def test_the_rules_never_hear_and_the_pages_know_models_only():
    assert not MAY_KNOW["checks"] & {"hear", "lexicon"}
    assert MAY_KNOW["render"] == {"kinds", "model", "review", "schedule", "clock"}
    assert MAY_KNOW["review"] == {"kinds", "model"}


@pytest.mark.parametrize(("file", "line", "edge"), [
    ("checks/work_off.py", "from ..hear import times", ("checks", "hear")),
    ("checks/work_off.py", "from ..hear.times import x", ("checks", "hear")),
    ("checks/work_off.py", "def f():\n    from .. import hear", ("checks", "hear")),
    ("render/page.py", "from ..pipeline import plan", ("render", "pipeline")),
    ("build/blocks.py", "from lexicon import load", ("build", "lexicon")),
    ("build/blocks.py", "import lexicon.match", ("build", "lexicon")),
    ("cli.py", "from parser.model import Plan", ("cli", "parser")),
    ("model.py", "from . import errors", ("model", "errors")),
])
def test_a_wrong_import_is_seen(tmp_path, file, line, edge):
    path = tmp_path / file
    path.parent.mkdir(exist_ok=True)
    path.write_text(line)
    assert rooms_known(path, tmp_path) == {edge}
    assert edge[1] not in MAY_KNOW[edge[0]]


def test_imports_within_a_room_are_free(tmp_path):
    path = tmp_path / "render" / "page.py"
    path.parent.mkdir()
    path.write_text("from . import look\nfrom .look import Look\nfrom ..model import Plan\nimport json\nfrom rich.text import Text")
    assert rooms_known(path, tmp_path) == {("render", "model")}
