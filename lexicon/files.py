"""Reads ``lexicon/data/*.toml`` and says what is wrong with it in sentences that tell which file, which entry and what to do."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from .entry import BodyPart, ChainWords, Confusion, EquipmentEntry, ModifierEntry, MovementEntry, SharedWord
from .everyday import Everyday
from .normal import split

FOLDER = Path(__file__).parent / "data"
Row = TypeVar("Row", bound=BaseModel)

_TABLES: dict[str, dict[str, type[BaseModel]]] = {  # file (or the start of its name) -> its tables
    "movements-": {"movement": MovementEntry},
    "modifiers": {"modifier": ModifierEntry},
    "equipment": {"equipment": EquipmentEntry, "shared": SharedWord},
    "body": {"part": BodyPart},
    "confusions": {"word": Confusion},
}


@dataclass(frozen=True)
class Data:
    """Everything that the files hold, in file order. ``origin``: movement id -> file name."""

    movements: tuple[MovementEntry, ...]
    modifiers: tuple[ModifierEntry, ...]
    equipment: tuple[EquipmentEntry, ...]
    shared: tuple[SharedWord, ...]
    parts: tuple[BodyPart, ...]
    confusions: tuple[Confusion, ...]
    everyday: Everyday
    chains: ChainWords
    origin: Mapping[str, str]


def read_data(folder: Path = FOLDER) -> tuple[Data, list[str]]:
    """The data of ``folder`` and its problems, a sentence each. Entries with a problem are left out of the data."""
    rows: dict[str, list[Any]] = {"movement": [], "modifier": [], "equipment": [], "shared": [], "part": [], "word": []}
    origin: dict[str, str] = {}
    problems: list[str] = []
    whole: dict[str, Any] = {"everyday": Everyday(), "chains": ChainWords()}  # files that are one table each
    for path in sorted(folder.glob("*.toml")):
        try:
            content = tomllib.loads(path.read_text(encoding="utf-8"))
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as exc:
            problems.append(f"{path.name}: this is not valid TOML ({exc}). Mend that line; nothing of the file was read.")
            continue
        if path.stem in whole:
            model = type(whole[path.stem])
            try:
                whole[path.stem] = model.model_validate(content)
            except ValidationError as exc:
                problems.extend(f"{path.name}: {sentence}" for sentence in explain(exc, model))
            continue
        tables = next((t for start, t in _TABLES.items() if path.stem.startswith(start)), None)
        if tables is None:
            problems.append(f"{path.name}: no such data file is known. Name it movements-<family>.toml, or take it out of the folder.")
            continue
        for table, entries in content.items():
            if table not in tables or not isinstance(entries, list):
                problems.append(f"{path.name}: “{table}” is not known here. Write each entry under {_listed(f'[[{t}]]' for t in tables)}.")
                continue
            read, bad = read_rows(entries, tables[table], path.name)
            problems.extend(bad)
            rows[table].extend(read)
            for row in read:
                if isinstance(row, MovementEntry):
                    origin.setdefault(row.id, path.name)
                    if origin[row.id] != path.name:
                        problems.append(f"{path.name}, “{row.id}”: this id is also in {origin[row.id]}. Keep one of the two entries.")
    data = Data(
        movements=tuple(rows["movement"]), modifiers=tuple(rows["modifier"]), equipment=tuple(rows["equipment"]),
        shared=tuple(rows["shared"]), parts=tuple(rows["part"]), confusions=tuple(rows["word"]),
        everyday=whole["everyday"], chains=whole["chains"], origin=origin,
    )
    problems.extend(_crossed(data))
    return data, problems


def read_rows(entries: Iterable[Any], model: type[Row], file: str) -> tuple[list[Row], list[str]]:
    """The entries that fit ``model``, and a sentence for everything in the others that does not."""
    good: list[Row] = []
    problems: list[str] = []
    for number, entry in enumerate(entries, start=1):
        try:
            good.append(model.model_validate(entry))
        except ValidationError as exc:
            label = _label(entry, number)
            problems.extend(f"{file}, {label}: {sentence}" for sentence in explain(exc, model))
    return good, problems


def _label(entry: Any, number: int) -> str:
    if isinstance(entry, dict):
        for key in ("name", "id", "heard", "word"):
            if isinstance(entry.get(key), str):
                return f"“{entry[key]}”"
    return f"entry {number}"


_EXAMPLES = {
    "id": '"goblet-squat"', "name": '"goblet squat"', "patterns": '["squat"]', "primary": '["quadriceps", "glutes"]',
    "equipment": '["dumbbell"], or [] for none', "sides": '"both", "alternating" or "each"', "position": '"standing"',
    "impact": '"none", "low" or "high"', "source": '"memory", or the published source', "kind": '"stance"', "means": '"single-arm overhead press"',
    "region": '"upper", "lower" or "trunk"', "sided": "true or false",
}


def explain(error: ValidationError, model: type[BaseModel]) -> list[str]:
    """A sentence for each fault that pydantic found in one entry."""
    sentences = []
    for fault in error.errors():
        field = str(fault["loc"][0]) if fault["loc"] else "entry"
        given = fault.get("input")
        kind = fault["type"]
        if kind == "missing":
            sentences.append(f"`{field}` is missing. Add a line such as {field} = {_EXAMPLES.get(field, '…')}.")
        elif kind == "extra_forbidden":
            sentences.append(f"`{field}` is not a known line. Take it out, or use one of: {', '.join(model.model_fields)}.")
        elif kind == "literal_error":
            sentences.append(f"`{field}` has {given!r}. Use one of {fault['ctx']['expected']}.")
        elif kind == "too_short":
            sentences.append(f"`{field}` is empty. Give at least one, such as {_EXAMPLES.get(field, 'a word')}.")
        elif kind == "value_error":
            sentences.append(f"`{field}` has {given!r}: {fault['ctx']['error']}.")
        else:
            sentences.append(f"`{field}` has {given!r}, which does not fit. Write it like {field} = {_EXAMPLES.get(field, '[…]')}.")
    return sentences


def _crossed(data: Data) -> list[str]:
    """Problems that show only when entries are held against each other."""
    return [*_equipment_problems(data), *_id_problems(data), *_name_problems(data), *_modifier_problems(data)]


def equipment_names(data: Data) -> dict[str, str]:
    """Every name and synonym of a piece of equipment -> the name used on a plan."""
    names: dict[str, str] = {}
    for entry in data.equipment:
        for name in (entry.name, *entry.synonyms):
            names.setdefault(name, entry.name)
    return names


def _equipment_problems(data: Data) -> Iterable[str]:
    owners: dict[tuple[str, ...], str] = {}
    for entry in data.equipment:
        for name in (entry.name, *entry.synonyms):
            owner = owners.setdefault(split(name), entry.name)
            if owner != entry.name:
                yield f"equipment.toml, “{entry.name}”: “{name}” already belongs to “{owner}”. Leave it with one of them."
    known = equipment_names(data)
    for entry in data.equipment:
        for name in entry.needs:
            if name not in known:
                yield f"equipment.toml, “{entry.name}”: `needs` names “{name}”, which is not in the file. Use a name from there, or add it."
    rows: tuple[MovementEntry | ModifierEntry, ...] = (*data.movements, *data.modifiers)
    for row in rows:
        for name in row.equipment:
            if name not in known:
                file = data.origin.get(row.id) if isinstance(row, MovementEntry) else "modifiers.toml"
                yield f"{file}, “{row.name}”: the equipment “{name}” is not in equipment.toml. Use a name from there, or add it."


def _id_problems(data: Data) -> Iterable[str]:
    ids = {entry.id for entry in data.movements}
    for entry in data.movements:
        file = data.origin[entry.id]
        for field in ("easier", "harder"):
            for other in getattr(entry, field):
                if other not in ids:
                    yield f"{file}, “{entry.name}”: `{field}` names “{other}”, but no movement has that id. Mend it, or add that movement."
                elif other == entry.id:
                    yield f"{file}, “{entry.name}”: `{field}` names the movement itself. Take it out."
        if entry.family is not None and entry.family not in ids:
            yield f"{file}, “{entry.name}”: `family` is “{entry.family}”, but no movement has that id. Mend it, or leave the line out."
        own = {split(name) for name in (entry.name, *entry.aliases)}
        for name in entry.everyday:
            if split(name) not in own:
                yield f"{file}, “{entry.name}”: `everyday` holds “{name}”, which is none of its names. Add it to `aliases`, or take it out."
    parents = {entry.id: entry.family for entry in data.movements}
    for entry in data.movements:
        seen: set[str] = set()
        at: str | None = entry.id
        while at is not None and at not in seen:
            seen.add(at)
            at = parents.get(at)
        if at is not None:
            yield f"{data.origin[entry.id]}, “{entry.name}”: its `family` leads back to itself. A family is the more general movement."


def _name_problems(data: Data) -> Iterable[str]:
    owners: dict[tuple[str, ...], MovementEntry] = {}
    for field in ("name", "aliases", "stretched", "misheard"):  # real names first: a mis-hearing must not take one
        for entry in data.movements:
            names = (entry.name,) if field == "name" else getattr(entry, field)
            for name in names:
                key = split(name)
                if not key:
                    yield f"{data.origin[entry.id]}, “{entry.name}”: “{name}” holds no word. Take it out."
                    continue
                owner = owners.setdefault(key, entry)
                if owner.id != entry.id:
                    yield (
                        f"{data.origin[entry.id]}, “{entry.name}”: “{name}” already belongs to “{owner.name}” "
                        f"({data.origin[owner.id]}). Leave it with one of them."
                    )


def _modifier_problems(data: Data) -> Iterable[str]:
    owners: dict[tuple[str, ...], str] = {}
    for entry in data.modifiers:
        for name in (entry.name, *entry.aliases, *entry.after):
            owner = owners.setdefault(split(name), entry.name)
            if owner != entry.name:
                yield f"modifiers.toml, “{entry.name}”: “{name}” already belongs to “{owner}”. Leave it with one of them."


def _listed(names: Iterable[str]) -> str:
    return " or ".join(names)
