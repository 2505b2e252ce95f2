"""What frames the blocks: title, focus, stated length, equipment, cautions, breaks."""

from __future__ import annotations

from ..mentions import EquipmentMention, Heard, Layout, Quantity
from ..model import Break, Equipment, Place, StatedLength, Text
from .details import thought
from .values import Plain, plain

_SHORTEST_CLASS_S = 300
_SHORTEST_ALONE_S, _LONGEST_CLASS_S = 600, 7200
_LAID_OUT = frozenset({"rounds", "movements", "work", "rest", "sets", "label", "interval", "amrap"})
_OF_ALL = frozenset({"class", "amrap", "cap"})
_LONGEST_FRAME_S = 1200      # a length that is not said of the warm-up or the cool-down itself is none from here on: common practice, no source
_SHORTEST_FRAME_S, _SOON = 180, 30       # "warm-up. Five minutes of that": a length of at least so much, so many words after it began
_QUALIFIERS = (
    ("under", ("just under", "under", "no more than", "at most", "less than", "inside", "within", "not more than", "up to", "max")),
    ("over", ("at least", "just over", "over", "more than")),
    ("exact", ("exactly", "precisely", "bang on", "dead on", "on the dot", "to the minute", "on the nose", "spot on", "to the second")),
    ("about", ("about", "around", "roughly", "or so", "ish", "approximately", "give or take", "near enough")),
)


def stated_length(heard: Heard) -> StatedLength | None:
    """How long the class is said to be; in the welcome before anywhere else, the first of equals."""
    said = [q for q in heard.quantities if q.role == "class" and (q.single or 0) >= _SHORTEST_CLASS_S]
    early = [q for q in said if heard.phase_at(q.first) == "briefing"] or [q for q in said if heard.phase_at(q.first) in ("demo", "warm_up")]
    early = early or _plain_length(heard)
    if not early:
        return None
    chosen = early[0]
    same = [q for q in said if q.value == chosen.value]
    return StatedLength(seconds=chosen.single, qualifier=_qualifier(heard, chosen), sources=[heard.words.source(*q.span) for q in same])


def _plain_length(heard: Heard) -> list[Quantity]:
    """The first long length of the welcome that nothing else explains, before anything is laid out: ``Fifty minutes, and I lock up.``"""
    laid_out = next((q.first for q in heard.quantities if q.role in _LAID_OUT), len(heard.words.tokens))
    return [q for q in heard.quantities if q.role == "bare" and q.kind == "length" and q.first < laid_out
            and heard.phase_at(q.first) == "briefing" and _SHORTEST_ALONE_S <= (q.single or 0) <= _LONGEST_CLASS_S][:1]


def _qualifier(heard: Heard, q: Quantity) -> str:
    tokens = heard.words.tokens
    around = " ".join(t.norm for t in tokens[max(0, q.first - 4) : q.end + 3])
    for name, phrases in _QUALIFIERS:
        if any(f" {p} " in f" {around} " for p in phrases):
            return name
    return "about"


def focus(heard: Heard) -> list[str]:
    """What the class is said to be for, where it is welcomed and announced."""
    wrong = {s.was for s in heard.slips if s.kind == "focus"}
    found: list[str] = []
    for note in heard.notes:
        if note.role.startswith("focus:") and heard.phase_at(note.first) == "briefing":
            name = note.role.split(":")[1]
            quote = heard.words.source(note.first, note.end).quote.lower()
            if name not in found and not any(w in quote for w in wrong):
                found.append(name)
    return found[:2]


def equipment(heard: Heard) -> list[Equipment]:
    """What people are asked to have ready, each thing once."""
    asked: dict[str, list[EquipmentMention]] = {}
    for mention in heard.equipment:
        if mention.asked:
            asked.setdefault(mention.name, []).append(mention)
    out = []
    for name, mentions in asked.items():
        first = mentions[0]
        if first.instead_of in asked and first.instead_of != name:
            continue
        instead = [n for n, ms in asked.items() if ms[0].instead_of == name]
        quantity = next((m.quantity for m in mentions if m.quantity), None)
        out.append(Equipment(name=name, quantity=quantity, optional=all(m.optional for m in mentions), alternatives=instead,
                             sources=[heard.words.source(m.first, m.end) for m in mentions]))
    return out


def cautions(heard: Heard) -> list[Text]:
    return _sentences(heard, "caution")


def _sentences(heard: Heard, role: str) -> list[Text]:
    out, seen = [], -1
    for note in heard.notes:
        if note.role == role and note.first >= seen:
            first, end = thought(heard, note.first, (0, len(heard.words.tokens)))
            source = heard.words.source(first, end)
            out.append(Text(text=" ".join(source.quote.split()), sources=[source]))
            seen = end
    return out


def breaks(heard: Heard, layout: Layout) -> list[Break]:
    """Water and the like, as announced while the class is laid out or under way."""
    out, seen = [], -1
    mains = [s for s in layout.stretches if s.kind == "main"]
    for note in heard.notes:
        if note.role != "break" or note.first < seen or heard.phase_at(note.first) not in ("work", "demo", "briefing"):
            continue
        first, end = thought(heard, note.first, (0, len(heard.words.tokens)))
        source = heard.words.source(first, end)
        block = sum(s.first <= note.first for s in mains)
        rounds = [q.single for q in heard.quantities if q.role in ("round_label", "progress") and first - 12 <= q.first < end + 6 and q.single]
        place = Place(block=block, round=int(rounds[-1])) if block and rounds else None
        out.append(Break(text=" ".join(source.quote.split()), after=place, sources=[source]))
        seen = end
    return out


def frame_length(heard: Heard, kind: str) -> Plain | None:
    """The announced length of the warm-up or the cool-down."""
    said = [q.value for q in heard.quantities if q.role == kind]
    if not said:
        start = next((c.first for c in heard.clauses if c.phase == kind), len(heard.words.tokens))
        lengths = [q for q in heard.quantities if q.kind == "length" and _SHORTEST_FRAME_S <= (q.single or 0) <= _LONGEST_FRAME_S]
        # "time, that's sixteen minutes": what has been done, not what comes
        done = {q.value for q in lengths if q.first < start and (q.role in _OF_ALL or (q.single or 0) >= _SHORTEST_ALONE_S)}
        said = [q.value for q in lengths if 0 <= q.first - start <= _SOON and q.role in ("bare", "class", "work") and q.value not in done]
    return plain(said[0]) if said else None
